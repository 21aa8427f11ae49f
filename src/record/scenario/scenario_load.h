/*
 * A scenario read with some of its keys stated otherwise, and its problems one by one: for who
 * shows each beside the field that it is about.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_LOAD_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_LOAD_H

#include "hubphase/record/scenario.h"
#include "record/scenario/scenario_problem.h"

/* Bytes of one entry of a list that is stated, with its end. */
#define HP_STATED_ENTRY 256

/* A key's whole path and its value as it is typed; both borrowed. */
typedef struct hp_scenario_change {
    const char *key;
    const char *text; /* NULL: as if it were not stated */
    bool list;        /* its lines are the entries of a list */
} hp_scenario_change;

/* As hp_scenario_read; the keys of change[changes] are what is stated there, whatever the text says
 * of them: a word or number, or a list of these. `ear` (may be NULL) is told of every problem; one
 * of a changed key stands in line 0. */
hp_result hp_scenario_read_changed(const char *text, size_t size, const char *name,
                                   const hp_scenario_change *change, int changes,
                                   hp_scenario *scenario, const hp_problem_ear *ear, hp_error *err);

/* The text of a new scenario that states these keys and no others, in the order of
 * docs/scenario.md. *text is for the caller to free, set on HP_OK only. HP_FAIL_INPUT, `ear` told,
 * when a key is none, or one that takes more than a word, number or list; HP_FAIL_MEMORY. What is
 * stated is not checked: the text is read for that. */
hp_result hp_scenario_compose(const hp_scenario_change *value, int count, char **text,
                              const hp_problem_ear *ear, hp_error *err);

/* Whether the key is one that can be stated so; `ear` (may be NULL) is told where it is not. */
bool hp_scenario_can_state(const hp_scenario_change *value, const hp_problem_ear *ear);

/* The text of a scenario with these keys stated otherwise and all else as it was: comments, order,
 * blanks, byte for byte. A key that is not there is added to its section, and that, where it is
 * missing, at the end; one with an empty text is stated no longer: its line becomes a remark.
 * *changed is for the caller to free, set on HP_OK only, and reads without problems. HP_FAIL_INPUT,
 * `ear` told, where it would not, or where a key stands in a way that cannot be changed (a block of
 * text, remarks amid a list); HP_FAIL_MEMORY. */
hp_result hp_scenario_amend(const char *text, const char *name, const hp_scenario_change *change,
                            int count, char **changed, const hp_problem_ear *ear, hp_error *err);

/* What is stated as it is written: of a number that was typed into a form with a comma, or its unit
 * behind it, the number alone; it then stands in room. */
hp_scenario_change hp_scenario_plain(const hp_scenario_change *value, char room[HP_STATED_ENTRY]);

/* Writes what is stated behind its key: a word in its line, entries of a list in lines of their
 * own, `indent` spaces in. */
void hp_scenario_put_stated(FILE *out, const hp_scenario_change *value, int indent);

#endif
