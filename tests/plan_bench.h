/* A bench for tests of the plan: the shipped table, a person, a belief and a planner over them. */
#ifndef HUBPHASE_TESTS_PLAN_BENCH_H
#define HUBPHASE_TESTS_PLAN_BENCH_H

#include "check.h"

#include "decide/advise/plan.h"
#include "default_table.h"
#include "hubphase/decide/assumptions.h"

typedef struct bench {
    hp_likelihood table;
    hp_person person;
    hp_prior_params prior;
    hp_plan_params params;
    hp_planner *planner;
    hp_belief belief;
} bench;

/* Borrows nothing yet: the prior, the parameters may be changed before it is opened. */
static inline bench make(hp_person person)
{
    return (bench){.table = default_table(),
                   .person = person,
                   .prior = hp_prior_plain(),
                   .params = hp_plan_params_default()};
}

/* What is opened borrows from the bench, which must stay where it is. */
static inline void open_bench(bench *b)
{
    hp_error err = hp_error_none();
    b->planner = hp_planner_create(&b->table, &b->person, &b->params, &err);
    check_true(b->planner != NULL, "%s", err.text);
    check_true(hp_belief_create(&b->table, &b->person, &b->prior, &b->belief, &err) == HP_OK, "%s",
               err.text);
}

static inline void close_bench(bench *b)
{
    hp_planner_free(b->planner);
    hp_belief_free(&b->belief);
    hp_likelihood_free(&b->table);
}

/* What the plan says now. */
static inline hp_advice next(const bench *b)
{
    hp_advice advice;
    hp_error err = hp_error_none();
    check_true(hp_plan_next(b->planner, &b->belief, false, &advice, &err) == HP_OK, "%s", err.text);
    return advice;
}

/* Adds an entry as the next of the log. */
static inline void add(bench *b, hp_entry entry)
{
    hp_error err = hp_error_none();
    entry.number = b->belief.entries + 1;
    check_true(hp_belief_add(&b->belief, &entry, &err) == HP_OK, "%s", err.text);
}

/* What the reading or action of an advice typically gives under a hypothesis, with one of the
 * motors. */
static inline hp_entry typical_entry(const bench *b, const hp_hypothesis *truth, int motor,
                                     const hp_advice *advice)
{
    const hp_reading *kind = hp_advice_entry(advice);
    hp_entry e = hp_entry_make(kind, 0);
    const hp_reading_case given = {.table = &b->table,
                                   .person = &b->person,
                                   .plan = &b->params,
                                   .hypothesis = truth,
                                   .motor = motor,
                                   .lead = advice->lead};
    kind->typical(&given, e.values);
    return e;
}

#endif
