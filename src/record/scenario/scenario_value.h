/*
 * Single values of a scenario: a node of the document read as a number, a flag, a word of a list,
 * or a text. What does not fit becomes a problem that says path, value and what was expected.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_VALUE_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_VALUE_H

#include "hubphase/decide/readings.h"
#include "record/scenario/scenario_problem.h"
#include "record/scenario/scenario_yaml.h"

/* A value, and how to speak of it. */
typedef struct hp_value {
    hp_problems *problems;
    const char *path;     /* "supply.battery_v" */
    struct fy_node *node; /* borrowed */
    hp_place key;         /* where to point when the value has no place of its own */
    bool nowhere;         /* it does not stand in the file */
    bool listed;          /* it is one of a list: several without commas are several of them */
} hp_value;

/* The value's place, or its key's. */
hp_place hp_value_place(const hp_value *value);

/* Adds "PATH is VALUE, must be EXPECTED" and the hint. */
void hp_value_refuse(const hp_value *value, const char *expected, const char *hint);

/* Each returns false, a problem added, when the value is not what it must be. */
bool hp_value_number(const hp_value *value, const hp_limits *limits, double *number);
bool hp_value_flag(const hp_value *value, bool *flag);
/* One word of a NULL-ended list; its index. */
bool hp_value_choice(const hp_value *value, const char *const *words, int *index);
/* A text of at most size - 1 bytes without line breaks. */
bool hp_value_line(const hp_value *value, char *out, size_t size);
/* A text of several lines, at most size - 1 bytes. */
bool hp_value_text(const hp_value *value, char *out, size_t size);

#endif
