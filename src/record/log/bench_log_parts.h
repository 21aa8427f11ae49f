/*
 * What the sources of the bench log share: entries from YAML, from typed text, and as YAML text.
 *
 * What an entry notes stands in the descriptor of its kind (decide/reading/reading.h); how a value
 * is read and written, in the descriptor of its type (field.h). An option is the field's name with
 * dashes: `battery_a` is --battery-a.
 */
#ifndef HUBPHASE_SRC_RECORD_LOG_BENCH_LOG_PARTS_H
#define HUBPHASE_SRC_RECORD_LOG_BENCH_LOG_PARTS_H

#include "hubphase/record/bench_log.h"
#include "record/log/field.h"

/* The word of a list that was most likely meant, or NULL. */
const char *hp_bench_nearest(const char *name, const char *const *words, int count);

/* ---- reading values: bench_log_value.c ------------------------------------------------------- */

/* What the values of one entry are read for. */
typedef struct hp_entry_reader {
    hp_problems *problems;
    const hp_labels *labels;
    const char *prefix; /* "entries[3].trial."; NULL: keys are options, "--battery-a" */
} hp_entry_reader;

/* Reads a mapping of keys into an entry whose kind is set; adds what is wrong. `place` is where the
 * entry stands. False when something was wrong. */
bool hp_bench_values_read(const hp_entry_reader *reading, hp_place place, struct fy_node *mapping,
                          hp_bench_entry *entry);
/* What no single value can tell. `reading` and `place` as above. */
bool hp_bench_values_settle(const hp_entry_reader *reading, hp_place place,
                            const hp_bench_entry *entry);
/* The path of a key in messages. Returns out. */
char *hp_bench_key_path(const hp_entry_reader *reading, const char *name, char *out, size_t size);

/* Reads item `number` of the list; `list` is where the list stands. False when something was wrong;
 * the entry is then of no use. */
bool hp_bench_item_read(hp_problems *problems, const hp_labels *labels, int number, hp_place list,
                        struct fy_node *node, hp_bench_entry *entry);

/* ---- values that were typed: bench_log_answer.c ---------------------------------------------- */

/* Writes a typed value as YAML. */
void hp_bench_put_typed(FILE *out, const char *text);
/* Writes NAME=VALUE as an indented member of a mapping; false when there is no equals sign. */
bool hp_bench_put_member(FILE *out, const char *text);
/* Loads YAML written so. Free yaml in any case. */
hp_result hp_bench_typed_load(hp_yaml *yaml, const char *text, size_t size, hp_problems *problems,
                              hp_error *err);

/* ---- a log from bytes: bench_log_read.c ------------------------------------------------------ */

/* A log as it was read, with what adding to it takes. */
typedef struct hp_bench_text {
    bool list_last; /* `entries` is the last key and no list in brackets */
    int column;     /* of the dashes, from 1; 0: not known */
} hp_bench_text;

/* Reads the bytes of a source. HP_FAIL_INPUT when there are problems. */
hp_result hp_bench_log_parse(const hp_source *source, const hp_scenario *scenario,
                             hp_bench_log *log, hp_bench_text *text, hp_problems *problems,
                             hp_error *err);
/* As hp_bench_log_read; `ear` (may be NULL) is told of every problem. */
hp_result hp_bench_log_read_heard(const char *text, size_t size, const char *name,
                                  const hp_scenario *scenario, hp_bench_log *log,
                                  const hp_problem_ear *ear, hp_error *err);
/* Reads the file into a source; *there is false, and nothing to free, when there is none. */
hp_result hp_bench_log_fetch(const char *path, hp_source *source, bool *there, hp_error *err);
/* Prints the problems and sets the summary "PATH has 2 problems". */
hp_result hp_bench_log_report(const char *path, hp_problems *problems, const hp_source *source,
                              const hp_screen *diagnostics, hp_error *err);

/* ---- what a file is: file_sort.c ------------------------------------------------------------- */

typedef enum hp_file_sort { HP_FILE_OTHER, HP_FILE_SCENARIO, HP_FILE_LOG } hp_file_sort;

/* By the first key, as the readers see it; HP_FILE_OTHER, too, for what no reader takes. Fails only
 * where memory is short or a library fails. */
hp_result hp_file_sort_find(const char *text, size_t size, hp_file_sort *sort, hp_error *err);

/* ---- YAML text: bench_log_text.c ------------------------------------------------------------- */

/* Writes an entry with its dash in this column (from 1). */
void hp_bench_put_entry(FILE *out, const hp_bench_entry *entry, const hp_labels *labels,
                        int column);
/* Writes the head's block of leads. */
void hp_bench_put_leads(FILE *out, const hp_labels *labels);
/* Whether a line says nothing: a comment, or blank. */
bool hp_bench_is_bare(const char *at, size_t length);

#endif
