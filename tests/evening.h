/*
 * An evening of practice for tests: the machines that the program brings, drawn by a seed.
 */
#ifndef HUBPHASE_TESTS_EVENING_H
#define HUBPHASE_TESTS_EVENING_H

#include "check.h"

#include "decide/practise/hidden.h"
#include "hubphase/record/practice_case.h"

#include <string.h>

static inline hp_scenario load(hp_practice_level level)
{
    hp_scenario s;
    hp_error err = hp_error_none();
    const char *text = hp_practice_scenario_text(level);
    hp_result result =
        hp_scenario_read(text, strlen(text), hp_practice_scenario_name(level), &s, stderr, &err);
    check_true(result == HP_OK, "%s", err.text);
    return s;
}

static inline hp_practice_stated stated_of(const hp_scenario *s)
{
    return (hp_practice_stated){s->drive, s->bench.prior, s->bench.person, s->bench.plan};
}

static inline hp_practice *machine(const hp_scenario *s, hp_practice_level level, uint64_t seed)
{
    hp_error err = hp_error_none();
    const hp_practice_stated stated = stated_of(s);
    hp_practice *p = hp_practice_create(&stated, level, seed, &err);
    check_true(p != NULL, "%s", err.text);
    return p;
}

static inline hp_practice_case *evening(const hp_scenario *s, hp_practice_level level,
                                        uint64_t seed)
{
    hp_error err = hp_error_none();
    const hp_case_options options = hp_case_options_default();
    hp_practice_case *c = hp_practice_case_create(s, level, seed, &options, NULL, &err);
    check_true(c != NULL, "%s", err.text);
    return c;
}

static inline hp_practice_step *take(hp_practice_case *c, hp_entry question)
{
    hp_error err = hp_error_none();
    hp_result result = hp_practice_case_take(c, &question, &err);
    const hp_practice_path *path = hp_practice_case_path(c, HP_PRACTICE_LEARNER);
    check_true(result == HP_OK, "%s", err.text);
    return &path->step[path->steps - 1];
}

static inline hp_practice_step *take_kind(hp_practice_case *c, const char *name, int lead)
{
    return take(c, hp_practice_ask(hp_reading_find(name), lead));
}

static inline hp_practice_step *take_trial(hp_practice_case *c, int number)
{
    const hp_wiring wiring = hp_wiring_from_number(number);
    return take(c, hp_practice_ask_trial(hp_practice_case_machine(c), &wiring, HP_PRACTICE_LIMITED,
                                         hp_practice_case_limit(c)));
}

static inline uint64_t seed_with(const hp_scenario *s, hp_practice_level level,
                                 hp_practice_fault fault)
{
    for (uint64_t seed = 1; seed <= 400; seed++) {
        hp_practice *p = machine(s, level, seed);
        bool found = p->fault == fault;
        hp_practice_free(p);
        if (found)
            return seed;
    }
    fail_msg("no seed to 400 draws fault %d", fault);
    return 0;
}

#endif
