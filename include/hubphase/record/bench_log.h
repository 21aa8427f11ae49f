/*
 * The bench log: what was measured and tried on one machine, in order.
 *
 * A YAML file that stands beside its scenario: `barrow.yaml` -> `barrow.bench.yaml`. People may
 * edit it by hand; the program only ever adds to it. Keys, units and ranges: docs/benchlog.md.
 *
 * Leads are named by the scenario's colours or by U V W. A file that is not there is an empty log.
 */
#ifndef HUBPHASE_RECORD_BENCH_LOG_H
#define HUBPHASE_RECORD_BENCH_LOG_H

#include "hubphase/base/result.h"
#include "hubphase/base/text.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/record/scenario.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

HP_API_BEGIN

#define HP_BENCH_PATH_SIZE 1088
#define HP_BENCH_NAME_SIZE 128
#define HP_BENCH_TIME_SIZE 40
#define HP_BENCH_NOTE_SIZE 1024

typedef struct hp_bench_entry {
    hp_entry entry;                /* entry.number: place in the file, from 1 */
    char time[HP_BENCH_TIME_SIZE]; /* ISO 8601, local with its offset from UTC */
    char note[HP_BENCH_NOTE_SIZE]; /* free text; empty: none */
    int line; /* of the file, where the entry's dash stands; 0: not from a file, or not found */
} hp_bench_entry;

typedef struct hp_bench_log {
    char path[HP_BENCH_PATH_SIZE];
    bool exists;           /* the file is there */
    hp_bench_entry *entry; /* owned; in the order of the file; each passes hp_entry_check */
    int count;
    uint64_t print; /* of the file's bytes: tells that they are no longer those that were read */
} hp_bench_log;

/* An entry of this kind with everything unsaid, not numbered. */
hp_bench_entry hp_bench_entry_make(const hp_reading *reading);

/* Where the log of a scenario file is: `chosen` when it is not NULL, else beside the scenario.
 * HP_FAIL_INPUT when the name is too long. */
hp_result hp_bench_log_path(const char *scenario_path, const char *chosen, char *out, size_t size,
                            hp_error *err);
/* The same of a scenario that was read: the log beside it, and where there is none but one that its
 * figures were learnt from, that one. */
hp_result hp_bench_log_path_of(const hp_scenario *scenario, const char *chosen, char *out,
                               size_t size, hp_error *err);
/* The log that the figures were learnt from, found from the scenario's folder; false: none were, or
 * its name is too long. */
bool hp_bench_log_learnt_path(const hp_scenario *scenario, char *out, size_t size);
/* Whether the figures of the scenario were learnt from this log: it is that file, or begins with
 * the same entries. */
bool hp_bench_log_is_learnt(const hp_bench_log *log, const hp_scenario *scenario);
/* What the first entries of a log hold, in short; out[HP_BENCH_PRINT]. HP_FAIL_MEMORY. */
#define HP_BENCH_PRINT 17
hp_result hp_bench_log_print_of(const hp_bench_log *log, int entries, const hp_labels *labels,
                                char *out, hp_error *err);
/* What the log calls its scenario: its name, what the log that it was learnt from calls it, or its
 * file's name without folder and ending. */
char *hp_bench_log_scenario_name(const hp_scenario *scenario, char *out, size_t size);

/* Reads and checks. On trouble every problem is written to `diagnostics` (may be NULL) in the form
 * that scenarios use, the log is left empty, and HP_FAIL_INPUT, HP_FAIL_IO or HP_FAIL_MEMORY comes
 * back with a summary in err. Free with hp_bench_log_free, which is safe on a zeroed one. */
hp_result hp_bench_log_load(const char *path, const hp_scenario *scenario, hp_bench_log *log,
                            FILE *diagnostics, hp_error *err);
/* The same with problems filled to the columns of a screen; 0 columns: not filled. */
hp_result hp_bench_log_load_on(const char *path, const hp_scenario *scenario, hp_bench_log *log,
                               const hp_screen *diagnostics, hp_error *err);
/* The same from `size` bytes in memory; `name` stands for the file's in messages. */
hp_result hp_bench_log_read(const char *text, size_t size, const char *name,
                            const hp_scenario *scenario, hp_bench_log *log, FILE *diagnostics,
                            hp_error *err);
void hp_bench_log_free(hp_bench_log *log);

/* The YAML text of one entry exactly as it is appended, each line ended, indented as in a new log.
 * The time is written as it stands, so it may be a placeholder. Owned by the caller; NULL when
 * there is no memory. */
char *hp_bench_log_entry_text(const hp_bench_entry *entry, const hp_labels *labels);
/* The head of a new log, up to and with the line `entries:`. Owned by the caller; NULL when there
 * is no memory. */
char *hp_bench_log_head_text(const hp_scenario *scenario);

/* The time now in the form of the log. */
char *hp_bench_log_now(char *out, size_t size);
/* Whether a text is a time in the form of the log: 2026-11-25T10:40:00+01:00; seconds may be left
 * out, Z stands for +00:00. */
bool hp_bench_log_time_check(const char *text);

/* ---- changes to the file: bench_log_append.c ------------------------------------------------- */

/* Adds an entry at the end; makes the file when it is not there. HP_OK means that it is on the
 * disk. On any failure the file is as it was: HP_FAIL_INPUT (problems go to `diagnostics`, may be
 * NULL) when the log cannot be read or has no place for an entry at its end, HP_FAIL_IO when it
 * cannot be written. */
hp_result hp_bench_log_append(const char *path, const hp_scenario *scenario, hp_bench_entry *entry,
                              FILE *diagnostics, hp_error *err);

/* The same in memory: `text`, terminated, is the log so far (NULL: there is none); *longer, for the
 * caller to free and set on HP_OK only, is the log with the entry, byte for byte as the file would
 * be. */
hp_result hp_bench_log_append_text(const char *text, const hp_scenario *scenario,
                                   hp_bench_entry *entry, char **longer, FILE *diagnostics,
                                   hp_error *err);

/* Takes the last entry back: its lines become comments. `taken` (may be NULL) gets the entry.
 * HP_FAIL_INPUT when there is none. */
hp_result hp_bench_log_undo(const char *path, const hp_scenario *scenario, hp_bench_entry *taken,
                            FILE *diagnostics, hp_error *err);

/* Whether the file is no longer what was read: another program or an editor was at it, or it cannot
 * be read any more. */
bool hp_bench_log_changed(const hp_bench_log *log);

/* Puts an entry in the place of entry `number`, or takes that entry out: its lines stay where they
 * are as comments. As for hp_bench_log_append; HP_FAIL_INPUT also when the file is no longer what
 * `seen` was read from, so that nobody changes an entry that they have not seen. */
hp_result hp_bench_log_replace(const hp_bench_log *seen, int number, const hp_scenario *scenario,
                               hp_bench_entry *entry, FILE *diagnostics, hp_error *err);
hp_result hp_bench_log_remove(const hp_bench_log *seen, int number, const hp_scenario *scenario,
                              FILE *diagnostics, hp_error *err);

/* The same in memory, as hp_bench_log_append_text; `time`, in the form of the log, is written as
 * when it was changed (NULL: now). */
hp_result hp_bench_log_replace_text(const char *text, int number, const hp_scenario *scenario,
                                    hp_bench_entry *entry, const char *time, char **changed,
                                    FILE *diagnostics, hp_error *err);
hp_result hp_bench_log_remove_text(const char *text, int number, const hp_scenario *scenario,
                                   const char *time, char **changed, FILE *diagnostics,
                                   hp_error *err);

/* A log's text for a scenario in which leads, or the machine, have other names: what names them is
 * written anew, all else stays as it is, notes and comments too. *renamed is for the caller to
 * free, set on HP_OK only. HP_FAIL_INPUT when the log does not fit the old scenario, or would be
 * read as something else under the new one. */
hp_result hp_bench_log_rename_text(const char *text, const hp_scenario *old,
                                   const hp_scenario *fresh, char **renamed, FILE *diagnostics,
                                   hp_error *err);

/* What sits where in the motor's plug, from the last entry that says; NULL: none does. Borrowed. */
const hp_plug_map *hp_bench_log_plug(const hp_bench_log *log);

/* ---- words: bench_log_words.c ---------------------------------------------------------------- */

/* Prints an entry in words, numbered: what it says, the pins of a plug, time, note. Text from files
 * is made safe for a terminal. */
void hp_bench_entry_print(const hp_bench_entry *entry, const hp_scenario *scenario,
                          const hp_screen *out);

/* ---- entries from what a person types: options, answers -------------------------------------- */

/* The reader of logs itself decides what is right, so that its messages are the same everywhere.
 * Pairs of phase leads, leads and codes are written as in a log: docs/benchlog.md. */

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

/* Whether an entry of a step of commissioning notes nothing, or no more than that there is such a
 * part: nobody has looked yet. */
bool hp_bench_says_nothing(const hp_entry *entry);

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
