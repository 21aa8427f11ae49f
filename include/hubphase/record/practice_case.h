/*
 * Practice case: a scenario, a hidden machine drawn for it, and two logs of the same evening: the
 * learner's, and the advice's own on the same machine.
 *
 *     hp_practice_case *c = hp_practice_case_create(&scenario, HP_PRACTICE_SOUND, seed, &options,
 *                                                   NULL, &err);
 *     hp_entry question = hp_practice_ask(hp_reading_find("hand_turn"), -1);
 *     hp_practice_case_take(c, &question, &err);   ... the path has a step more, the log an entry
 *     hp_practice_case_end(c, &answer, &err);      ... both paths are whole
 *
 * Each log is an ordinary one: `hubphase next` makes of it what it made here.
 */
#ifndef HUBPHASE_RECORD_PRACTICE_CASE_H
#define HUBPHASE_RECORD_PRACTICE_CASE_H

#include "hubphase/base/result.h"
#include "hubphase/decide/practise.h"
#include "hubphase/record/case.h"
#include "hubphase/record/scenario.h"

HP_API_BEGIN

typedef struct hp_practice_case hp_practice_case;

typedef enum hp_practice_who {
    HP_PRACTICE_LEARNER,
    HP_PRACTICE_ADVICE,
    HP_PRACTICE_WHO
} hp_practice_who;

/* One thing that was asked of the machine; or an entry that was there at the start. */
typedef struct hp_practice_step {
    hp_bench_entry entry; /* as it was logged */
    int number;           /* its place on the path, kept when others go; 0: it was taken out */
    bool given;           /* it was there at the start, and cost nothing */
    double minutes;
    hp_practice_risk risk[HP_PRACTICE_RISKS];
    int risks;
    int left; /* wirings that could still be right after it, once what is broken is mended, by what
                 the level says and nobody slipping */
    bool broken; /* no wiring is right before that: by the same, and as sure as the advice must be
                    to call a part broken */
} hp_practice_step;

#define HP_PRACTICE_STEPS_MAX 100

typedef struct hp_practice_path {
    hp_practice_step *step; /* owned by the case */
    int steps;              /* with those that were given */
    int asked;              /* without them */
    double minutes;
    int trials; /* powered */
    int risks;  /* taken ... */
    int met;    /* ... and gone wrong */
    int hints;
    bool ended;
    hp_practice_answer answer;
    hp_practice_end end;
} hp_practice_path;

/* A danger that was met costs so much more: new parts, and the time to put them in [min]. Chosen.
 */
#define HP_PRACTICE_MET_MINUTES 60.0
/* A wiring counts as left while it is at least so likely. Equals are equally likely, so of a stated
 * table always whole threes are left. */
#define HP_PRACTICE_LEFT 0.02

/* Draws the machine and opens the case; of the options what concerns the log does not count. The
 * scenario stays borrowed. `time`, in the form of a log: of entries until hp_practice_case_at says
 * otherwise; NULL: when each is written. NULL on failure: as hp_practice_create and hp_case_create.
 */
hp_practice_case *hp_practice_case_create(const hp_scenario *scenario, hp_practice_level level,
                                          uint64_t seed, const hp_case_options *options,
                                          const char *time, hp_error *err);
void hp_practice_case_free(hp_practice_case *c);
/* The time of the entries from now on, copied; NULL: when each is written. */
void hp_practice_case_at(hp_practice_case *c, const char *time);

/* Borrowed. The bench is the case of the learner's log. */
const hp_practice *hp_practice_case_machine(const hp_practice_case *c);
const hp_scenario *hp_practice_case_scenario(const hp_practice_case *c);
hp_case *hp_practice_case_bench(hp_practice_case *c);
const hp_practice_path *hp_practice_case_path(const hp_practice_case *c, hp_practice_who who);
const char *hp_practice_case_log(const hp_practice_case *c, hp_practice_who who);

/* Whether a danger that was hidden at the start is still there at the end of this path. */
bool hp_practice_case_in_danger(const hp_practice_case *c, hp_practice_who who);

/* What the advice would limit a first trial to [A], for hp_practice_ask_trial; 0: it has no figure.
 */
double hp_practice_case_limit(const hp_practice_case *c);
/* What the advice would do now; counted. */
hp_result hp_practice_case_hint(hp_practice_case *c, hp_advice *advice, hp_error *err);
/* Asks, and writes what was seen into the learner's log. HP_FAIL_INPUT when the evening has ended,
 * when the log is full, or when nothing is shown of this kind; nothing has changed then. */
hp_result hp_practice_case_take(hp_practice_case *c, const hp_entry *question, hp_error *err);
/* Takes an entry out of the learner's log; the others keep their numbers. HP_FAIL_INPUT when there
 * is none of this number. */
hp_result hp_practice_case_drop(hp_practice_case *c, int number, hp_error *err);
/* Ends the learner's path with an answer and runs the advice's own. HP_CLAIM_SLIP names the entry
 * by its number in the log as it was at the start. HP_FAIL_INPUT for an answer that cannot be one.
 */
hp_result hp_practice_case_end(hp_practice_case *c, const hp_practice_answer *answer,
                               hp_error *err);

/* Lets hp_practice_case_bench hold the log of this path until something else is done. */
hp_result hp_practice_case_show(hp_practice_case *c, hp_practice_who who, hp_error *err);
/* The same of the log as it was right after step `index`, counted from 0. */
hp_result hp_practice_case_show_then(hp_practice_case *c, hp_practice_who who, int index,
                                     hp_error *err);

/* ---- machines that come with the program ----------------------------------------------------- */

/* The text of a scenario of our own for this level, and the name of its file; static storage. */
const char *hp_practice_scenario_text(hp_practice_level level);
const char *hp_practice_scenario_name(hp_practice_level level);

HP_API_END

#endif
