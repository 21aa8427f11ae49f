/*
 * Entries from what a person types: options of a command, answers to questions.
 *
 * The reader of logs itself decides what is right, so that its messages are the same everywhere.
 * Pairs of phase leads, leads and codes are written as in a log: docs/benchlog.md.
 */
#ifndef HUBPHASE_RECORD_TYPED_H
#define HUBPHASE_RECORD_TYPED_H

#include "hubphase/base/api.h"
#include "hubphase/decide/fields.h"
#include "hubphase/record/bench_log.h"
#include "hubphase/record/scenario.h"

#include <stdbool.h>
#include <stddef.h>

HP_API_BEGIN

/* The pairs in the order in which people name them: U-V, V-W, W-U. */
extern const int hp_bench_pair_order[HP_PHASE_COUNT];

/* Words for where the figures of an entry come from: measured, then typical; NULL-ended. */
extern const char *const hp_bench_figures_words[];

/* The kind that was most likely meant by a misspelt name, or NULL. */
const hp_reading *hp_reading_nearest(const char *name);

/* Is told of each mistake: one line without its break. */
typedef void (*hp_mistake)(void *user, const char *text);

/* Reads one typed value into an entry. On failure false, the entry is as it was, and why[size] says
 * what was expected; `path` is what the value is called there. */
bool hp_bench_typed_read(const hp_field *field, const char *path, const char *text,
                         const hp_labels *labels, hp_bench_entry *entry, char *why, size_t size);

/* Whether the values of an entry fit together; what does not is told with `prefix` before the names
 * of fields. True when memory is short: the log checks it once more. */
bool hp_bench_entry_fits(const hp_bench_entry *entry, const hp_labels *labels, const char *prefix,
                         hp_mistake tell, void *user);

/* A value of a field as it is typed behind its option; NAME=VALUE, once for each, where the field
 * is one of pairs, leads or codes. */
typedef struct hp_typed_value {
    const hp_field *field; /* of the entry's kind, or one of the same name */
    const char *text;      /* borrowed */
} hp_typed_value;

/* An entry of this kind from typed values; the scenario's throttle stands where none is given.
 * Mistakes are told by option: "--battery-a is "many", must be ...". HP_FAIL_INPUT when there was
 * one, HP_FAIL_MEMORY. Neither time nor note is set. */
hp_result hp_bench_entry_type(const hp_reading *kind, const hp_typed_value *value, int count,
                              const hp_scenario *scenario, hp_mistake tell, void *user,
                              hp_bench_entry *entry, hp_error *err);

/* The option of a field: its name with dashes, "battery-a". Returns out. */
char *hp_field_option(const hp_field *field, char *out, size_t size);

HP_API_END

#endif
