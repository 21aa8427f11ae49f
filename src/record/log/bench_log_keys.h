/*
 * The keys of a bench log's entries: one table that says for each its kind of entry, type, unit,
 * range and field. The reader, the writer, the options of `hubphase log` and the questions of
 * `hubphase bench` all go by it.
 *
 * An option is the key with dashes: `battery_a` is --battery-a.
 */
#ifndef HUBPHASE_SRC_RECORD_LOG_BENCH_LOG_KEYS_H
#define HUBPHASE_SRC_RECORD_LOG_BENCH_LOG_KEYS_H

#include "hubphase/record/bench_log.h"
#include "record/scenario/scenario_value.h"

typedef enum hp_bench_type {
    HP_BENCH_NUMBER,
    HP_BENCH_WHOLE,
    HP_BENCH_TELL,       /* yes or no, unsaid when the key is not there */
    HP_BENCH_CHOICE,     /* a word, an int: the index plus `first` */
    HP_BENCH_BACKWARD,   /* forward or backward, a bool */
    HP_BENCH_PAIRS,      /* pair -> number, or `open` where the table allows it */
    HP_BENCH_CONTINUITY, /* pair -> yes or no; or one yes or no for all */
    HP_BENCH_CODES,
    HP_BENCH_CODE,
    HP_BENCH_PHASE_LEAD, /* one of the motor's phase leads */
    HP_BENCH_WIRING,
    HP_BENCH_ROWS,        /* code -> high > low, or off */
    HP_BENCH_PHASE_PINS,  /* phase lead -> pin */
    HP_BENCH_SENSOR_PINS, /* sensor lead -> pin */
    HP_BENCH_PIN,         /* a pin's name */
    HP_BENCH_PART,        /* what was mended */
    HP_BENCH_PART_LEAD    /* which of its leads */
} hp_bench_type;

typedef struct hp_bench_key {
    hp_entry_kind kind;
    const char *name; /* "battery_a" */
    hp_bench_type type;
    bool required;
    hp_limits limits;         /* numbers; limits.none: the word `open` is allowed, too */
    size_t offset;            /* of the field in hp_bench_entry */
    double factor;            /* field = number as written * factor */
    const char *const *words; /* choices, NULL-ended */
    int first;                /* value of the first word */
    const char *argument;     /* of the option, such as "AMPERES" */
    const char *help;         /* of the option */
} hp_bench_key;

#define HP_BENCH_KEYS_MAX 12 /* of one kind */

/* All keys, those of one kind together; ended by a row without a name. */
extern const hp_bench_key hp_bench_keys[];

/* The first key of a kind; the following rows belong to it while their kind is the same. */
const hp_bench_key *hp_bench_keys_of(hp_entry_kind kind);
int hp_bench_keys_count(hp_entry_kind kind);
/* The row of a kind with this name, or NULL. */
const hp_bench_key *hp_bench_key_find(hp_entry_kind kind, const char *name);

/* Kinds as the log spells them: "hand_turn". */
const char *hp_bench_kind_name(hp_entry_kind kind);
/* The kind of this name ('-' and ' ' count as '_'), or HP_ENTRY_KIND_COUNT. */
hp_entry_kind hp_bench_kind_find(const char *name);

/* What the value of a key must be, in words. Returns out. */
char *hp_bench_key_expected(const hp_bench_key *key, const hp_labels *labels, char *out,
                            size_t size);

/* The word of a list that was most likely meant, or NULL. */
const char *hp_bench_nearest(const char *name, const char *const *words, int count);

/* ---- leads, pairs, codes --------------------------------------------------------------------- */

/* The lead with this label, or else this axis letter, in any case; -1. */
int hp_bench_lead_find(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], const char *text);
/* The pair that two leads joined by '-', '/' or a blank name, in any order; -1. */
int hp_bench_pair_find(const hp_labels *labels, const char *text);
/* "yellow-green". Returns out. */
char *hp_bench_pair_name(const hp_labels *labels, int pair, char *out, size_t size);
#define HP_BENCH_PAIR_SIZE (2 * HP_LABEL_SIZE + 2)
/* The pairs in the order in which people name them: U-V, V-W, W-U. */
extern const int hp_bench_pair_order[HP_PHASE_COUNT];
/* Three digits 0 or 1 to a code; -1. */
int hp_bench_code_find(const char *text);

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
/* Reads one value. */
bool hp_bench_key_read(const hp_bench_key *key, const hp_value *value, const hp_labels *labels,
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

/* Whether a value is typed as NAME=VALUE, once for each pair, lead or code. */
bool hp_bench_is_mapping(const hp_bench_key *key, const char *text);
/* Writes a typed value as YAML. */
void hp_bench_put_typed(FILE *out, const char *text);
/* Writes NAME=VALUE as an indented member of a mapping; false when there is no equals sign. */
bool hp_bench_put_member(FILE *out, const char *text);
/* Loads YAML written so. Free yaml in any case. */
hp_result hp_bench_typed_load(hp_yaml *yaml, const char *text, size_t size, hp_problems *problems,
                              hp_error *err);
/* Reads one typed value into an entry. On failure false, the entry is as it was, and why[size] says
 * what was expected; `path` is what the value is called there. */
bool hp_bench_typed_read(const hp_bench_key *key, const char *path, const char *text,
                         const hp_labels *labels, hp_bench_entry *entry, char *why, size_t size);

/* ---- a log from bytes: bench_log_read.c ------------------------------------------------------ */

/* A log as it was read, with what adding to it takes. */
typedef struct hp_bench_text {
    bool list_last; /* `entries` is the last key and no list in brackets */
    int last_line;  /* where the last entry's dash stands; 0: no entry, or not found */
    int column;     /* of the dashes, from 1; 0: not known */
} hp_bench_text;

/* Reads the bytes of a source. HP_FAIL_INPUT when there are problems. */
hp_result hp_bench_log_parse(const hp_source *source, const hp_scenario *scenario,
                             hp_bench_log *log, hp_bench_text *text, hp_problems *problems,
                             hp_error *err);
/* Reads the file into a source; *there is false, and nothing to free, when there is none. */
hp_result hp_bench_log_fetch(const char *path, hp_source *source, bool *there, hp_error *err);
/* Prints the problems and sets the summary "PATH has 2 problems". */
hp_result hp_bench_log_report(const char *path, hp_problems *problems, const hp_source *source,
                              FILE *diagnostics, hp_error *err);

/* ---- YAML text: bench_log_text.c ------------------------------------------------------------- */

/* Writes a text as a YAML scalar, in quotes when it needs them. `flow`: inside brackets. */
void hp_bench_put_scalar(FILE *out, const char *text, bool flow);
/* Writes an entry with its dash in this column (from 1). */
void hp_bench_put_entry(FILE *out, const hp_bench_entry *entry, const hp_labels *labels,
                        int column);

#endif
