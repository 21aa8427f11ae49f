/*
 * A case of the hidden bench: its family, the scenario that the person can write, one advice as
 * `hubphase next --json` says it, what the person does then, and how the end is judged.
 */
#ifndef HUBPHASE_TESTS_BENCH_CASE_H
#define HUBPHASE_TESTS_BENCH_CASE_H

#include "bench_person.h"

#include <jansson.h>

/* ---- families -------------------------------------------------------------------------------- */

typedef struct family {
    char name[96];
    unsigned out;
    int readings; /* 0: trials alone, 1: readings, 2: every other case */
    bool gate;
} family;

#define FAMILIES_MAX 80

/* One nuisance at a time, the first `alone` of them, and two. Returns how many. */
int families_list(family list[FAMILIES_MAX], int *alone);

/* Whether the person of this case takes readings. */
bool family_reads(const family *f, int index);

/* What the person knows of the machine; false: it could not be written. */
bool scenario_write(FILE *file, unsigned out, bool readings);

/* ---- an advice ------------------------------------------------------------------------------- */

typedef struct answer {
    char kind[16], title[160], reason[512], fault[24], danger[32];
    person_step step;
    double certainty;
    int trouble_lead;
    bool inverted; /* the trouble is a sensor that reads the wrong way round */
} answer;

/* Of an object with the members `advice` and `expected` of `hubphase next --json`. */
answer answer_read(const json_t *root);
bool answer_is(const answer *a, const char *kind);

/* ---- what comes of it ------------------------------------------------------------------------ */

typedef enum ending {
    END_RIGHT,      /* done, and it is */
    END_PROBABLY,   /* said to be probably right, and it is */
    END_FALSE_DONE, /* done, and it is not */
    END_FALSE_PROBABLY,
    END_PART,       /* a sound part is called broken */
    END_GAVE_UP,    /* without naming a sound part */
    END_GAVE_UP_ON, /* named a sound part on the way out */
    END_STOPPED,    /* a danger that is not there */
    END_NONE,       /* goes on and on, or asks for what cannot be done */
    END_COUNT
} ending;

typedef struct outcome {
    ending end;
    bool named;  /* what was wrong was named, or found by a reading that was advised */
    bool showed; /* ... and could be */
    bool reason; /* the end says why */
    bool tried, first_right, to_equal;
    int powered, readings;
} outcome;

/* Does the step at the machine and writes one entry of the log; false when the person cannot do
 * what is asked, or nothing is left to do. `plain`: see person_try. */
bool answer_do(person *p, const answer *a, bool plain, outcome *o, FILE *out);

/* Of an advice after which nothing was done. */
ending answer_judge(const person *p, const answer *a);

#endif
