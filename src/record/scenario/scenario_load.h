/*
 * A scenario read with some of its keys stated otherwise, and its problems one by one: for who
 * shows each beside the field that it is about.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_LOAD_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_LOAD_H

#include "hubphase/record/scenario.h"
#include "record/scenario/scenario_problem.h"

/* A key's whole path and its value as it is typed; both borrowed. */
typedef struct hp_scenario_change {
    const char *key;
    const char *text;
} hp_scenario_change;

/* As hp_scenario_read; the keys of change[changes] are what is stated there, whatever the text says
 * of them: one word or number each, no list. `ear` (may be NULL) is told of every problem; one of a
 * changed key stands in line 0. */
hp_result hp_scenario_read_changed(const char *text, size_t size, const char *name,
                                   const hp_scenario_change *change, int changes,
                                   hp_scenario *scenario, const hp_problem_ear *ear, hp_error *err);

/* The text of a new scenario that states these keys and no others, in the order of
 * docs/scenario.md. *text is for the caller to free, set on HP_OK only. HP_FAIL_INPUT, `ear` told,
 * when a key is none, or one that takes more than a word or number; HP_FAIL_MEMORY. What is stated
 * is not checked: the text is read for that. */
hp_result hp_scenario_compose(const hp_scenario_change *value, int count, char **text,
                              const hp_problem_ear *ear, hp_error *err);

#endif
