/*
 * A family of hidden cases, and what the advice makes of one of them.
 *
 * A case is one hidden motor, controller and person (hidden.h). The advice is followed until it
 * says that it is done, names a broken part, or gives up. A part named rightly is mended, and the
 * work goes on; a part named wrongly ends the case.
 */
#ifndef HUBPHASE_TESTS_TRIALS_FAMILY_H
#define HUBPHASE_TESTS_TRIALS_FAMILY_H

#include "hidden.h"
#include "hubphase/decide/assumptions.h"

/* What the advice takes for granted about the person and the parts. */
typedef enum family_model {
    FAMILY_SHARP,   /* nobody slips; nothing is broken, the table is as stated */
    FAMILY_DEFAULT, /* the default person and prior */
} family_model;

/* What must hold, in shares of the cases. */
typedef struct family_aim {
    double right_min;      /* the right wiring is reached */
    double false_done_max; /* "done" is said of a wrong wiring or broken parts */
    double named_min;      /* of the cases with something broken: it is named */
    double trials_max;     /* wirings tried, mean */
    int worst_max;         /* most wirings tried; 0: no aim */
} family_aim;

typedef struct family {
    const char *name;
    family_model model;
    hidden_person person;
    bool readings; /* allowed; else trials alone */
    bool inverted; /* one sensor is, as 60-degree sensors are on a 120-degree controller */
    bool broken;   /* one sensor stuck or one phase lead open */
    family_aim aim;
    double scatter; /* of the hidden motors, in the widths of the ensemble */
} family;

extern const family families[];
extern const int family_count;

typedef enum family_end {
    FAMILY_RIGHT,
    FAMILY_FALSE_DONE,
    FAMILY_FALSE_PART, /* a sound part was called broken, or the wrong one */
    FAMILY_GAVE_UP,
    FAMILY_END_COUNT
} family_end;

typedef struct family_case {
    family_end end;
    bool named; /* what was broken was named */
    int trials; /* wirings joined and tried */
    int looks;  /* tried again with nothing moved */
    int readings;
    int leads;        /* phase leads and sensor pins moved */
    double certainty; /* said with the end */
} family_case;

/* What the advice works with in a family. */
typedef struct family_setup {
    const family *family;
    const hp_likelihood *table;
    hp_person person;
    hp_prior_params prior;
    hp_plan_params params;
} family_setup;

family_setup family_setup_of(const family *family, const hp_likelihood *table);
/* The hidden case with this number. */
hidden family_hidden(const family_setup *setup, uint64_t seed, int index, hp_engine *engine);

/* Follows the advice in one case. `start`, `first`: the belief and the advice before any entry, the
 * same for all. */
family_case family_run(hp_planner *planner, const hp_belief *start, const hp_advice *first,
                       hidden *hidden);
/* Whether an advice to repair names what is broken. */
bool family_names(const hidden *hidden, const hp_advice *advice);
/* The person mends what was named; the entry for the log. */
hp_entry family_mend(hidden *hidden);
/* Whether the wiring as joined is right and nothing is broken. */
bool family_right(const hidden *hidden);

#endif
