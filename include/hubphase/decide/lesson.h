/*
 * What a club evening on commutation shows of one machine: which of its 36 wirings stands for what,
 * and the figures that are told of them. All of it is simulated or counted; nothing is typed.
 *
 * The evening wants a machine that can run. Where the scenario states a fault, scenes are made of
 * the same machine mended, and the fault is one of those that are shown.
 */
#ifndef HUBPHASE_DECIDE_LESSON_H
#define HUBPHASE_DECIDE_LESSON_H

#include "hubphase/base/result.h"
#include "hubphase/decide/survey.h"
#include "hubphase/model/drive.h"

#include <stdbool.h>

HP_API_BEGIN

/* ---- how the 36 fall into groups ------------------------------------------------------------- */

/* Told from the orders alone, as people at a table can count it, held against one wiring that runs
 * correctly. Exchanging two leads of a side turns the order of that side round; moving all three on
 * by one place does not. */
typedef enum hp_lesson_kind {
    HP_LESSON_MATCHED, /* both sides in the same order and place: a correct one or its mirror image
                        */
    HP_LESSON_SHIFTED, /* in the same order, one side a place further than the other */
    HP_LESSON_CROSSED, /* the order of one side alone is turned round */
    HP_LESSON_KIND_COUNT
} hp_lesson_kind;

const char *hp_lesson_kind_name(hp_lesson_kind kind); /* "matched", "shifted", "crossed" */

#define HP_LESSON_GROUPS 12

/* Where a wiring stands among the 36. */
typedef struct hp_lesson_place {
    hp_lesson_kind kind;
    bool sensors_turned; /* the order of the Hall leads is turned round, against the correct one */
    bool phases_turned;  /* ... of the phase leads */
    int shift; /* 0: no shift; SHIFTED 1 or 2: places; CROSSED 0..2: one of three pairs of leads */
    int group; /* 0..11, in the order of their lowest numbers; the three of a group differ by a
                  common turn of all axes alone, so they do the same */
} hp_lesson_place;

/* Of a wiring 1..36 against a reference 1..36 (asserted). `group` is 0. */
hp_lesson_place hp_lesson_place_of(int number, int reference);

/* ---- one wiring, as geometry has it ---------------------------------------------------------- */

/* Over one forward turn of the rotor, from table, sensors and joints alone. */
typedef struct hp_lesson_pull {
    double lead_least;  /* [rad electrical] field ahead of the rotor; -pi..pi */
    double lead_most;   /* ... >= lead_least */
    double torque_mean; /* per ampere, 1 being the most that two leads can give; forward positive */
    double torque_least;
    double torque_most;
    double off; /* [rad electrical] of the turn with nothing driven */
} hp_lesson_pull;

hp_lesson_pull hp_lesson_pull_of(const hp_drive *drive, int number);

/* ---- faults ---------------------------------------------------------------------------------- */

typedef enum hp_lesson_fault_kind {
    HP_LESSON_SENSOR_DEAD, /* one Hall sensor pulls its lead down no more: it reads 1 all round */
    HP_LESSON_LEAD_OPEN,   /* one phase lead carries nothing */
    HP_LESSON_OTHER_CODE,  /* 60-degree sensors on a 120-degree table, or the other way round */
    HP_LESSON_FAULT_COUNT
} hp_lesson_fault_kind;

/* A correct wiring of the same machine with one thing wrong. */
typedef struct hp_lesson_fault {
    hp_lesson_fault_kind kind;
    int lead;       /* hp_phase of the sensor or phase lead; of OTHER_CODE: V, the middle one */
    bool own;       /* the scenario states this very fault */
    hp_drive drive; /* the machine with it */
    hp_judgement judgement; /* of the correct wiring, joined to it */
    int codes;              /* stretches of one code in a forward turn, as the controller sees it */
    int code[HP_CODE_COUNT];
    int missing; /* how many of these its table does not drive */
} hp_lesson_fault;

/* ---- tries ----------------------------------------------------------------------------------- */

/* Readings that tell something about the order of leads, where nothing is said wrongly. */
#define HP_LESSON_HAND_TURN                                                                        \
    1u                        /* codes while the wheel is turned forward: order of the Hall leads */
#define HP_LESSON_SPIN     2u /* voltages while it is turned: order of the phase leads */
#define HP_LESSON_PARK     4u /* current through one lead: which Hall lead stands beside it */
#define HP_LESSON_PARK_TWO 8u /* the same with another lead after it */

#define HP_LESSON_TRIES_MAX 8

/* Powered tries until a correct wiring is joined, with the best plan there is, over all ways in
 * which leads can sit on their axes, each as likely as another. A try shows direction, and whether
 * it ran smoothly, roughly or stalled. */
typedef struct hp_lesson_tries {
    unsigned readings; /* HP_LESSON_..., taken first; 0: none */
    double mean;
    int most;
} hp_lesson_tries;

/* ---- the whole ------------------------------------------------------------------------------- */

/* What a limit on the supply makes of a wiring: means over its start positions. */
typedef struct hp_lesson_limit {
    double wheel_rad_s;
    double battery_a;
    bool reached; /* the current stands at the limit */
} hp_lesson_limit;

typedef struct hp_lesson {
    hp_drive stated; /* as the scenario has it */
    hp_drive drive;  /* the same with every fault mended: what the scenes are made of */
    bool mended;     /* they differ */
    hp_survey_options options;
    hp_survey survey;                       /* owned; of `drive` */
    hp_lesson_place place[HP_WIRING_COUNT]; /* [number - 1] */
    int group[HP_LESSON_GROUPS];            /* lowest number of each */

    /* Wirings that scenes show, 1..36; 0: this machine has none like it. */
    int correct; /* the lowest that was judged correct */
    int reverse;
    int crossed; /* `correct` with two phase leads exchanged: one that stalls, where one does */
    int shifted; /* `correct` with the phase leads a place on: one that turns, where one does */
    int trap;    /* rough, and yet it turns the wheel forward from every start position, about as
                    fast as a correct one or faster: of those the one that turns fastest */

    /* The trap, and how it is found. */
    double limit_a; /* for a supply: three times what `correct` draws */
    hp_lesson_limit limited_correct;
    hp_lesson_limit limited_trap; /* where there is a trap */
    int wrong;                    /* wirings judged neither correct nor reverse nor undecided */
    int found_by_current;         /* of these: draw more than three times what `correct` draws */
    int found_by_starts;          /* ... do not start from every position */
    int found_by_eye;             /* ... do not turn the wheel forward */

    hp_lesson_fault fault[HP_LESSON_FAULT_COUNT];

    double tries_at_random;                     /* none twice; mean */
    hp_lesson_tries tries[HP_LESSON_TRIES_MAX]; /* first: without readings */
    int tries_count;
    unsigned best_reading; /* the one that by itself saves most tries */
} hp_lesson;

/* Simulates all that the evening shows. HP_FAIL_INPUT when a value is out of range, or when not one
 * wiring of the (mended) machine is judged correct, since then nothing can be shown;
 * HP_FAIL_CANCELLED, HP_FAIL_MEMORY. The same bytes for any number of jobs. Free with
 * hp_lesson_free. */
hp_result hp_lesson_make(const hp_drive *drive, const hp_survey_options *options, hp_lesson *lesson,
                         hp_error *err);
void hp_lesson_free(hp_lesson *lesson);

/* The fault that is shown unless another is asked for: the scenario's own, where it has one. */
hp_lesson_fault_kind hp_lesson_usual_fault(const hp_lesson *lesson);

/* Whether the wheel turns as fast as that of a correct wiring, or nearly: from this share of its
 * speed. Chosen: below it people see that it is slow. */
#define HP_LESSON_FAST_SHARE 0.85

HP_API_END

#endif
