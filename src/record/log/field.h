/*
 * The types of values in a bench log: one descriptor a type says how it is read, written, told and
 * what is expected. The reader, the writer, the options of `hubphase log` and the questions of
 * `hubphase bench` all go by it.
 */
#ifndef HUBPHASE_SRC_RECORD_LOG_FIELD_H
#define HUBPHASE_SRC_RECORD_LOG_FIELD_H

#include "decide/reading/reading.h"
#include "hubphase/base/text.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/record/bench_log.h"
#include "record/scenario/scenario_value.h"

#include <stdio.h>

/* How a type of value is dealt with. `at` is where the entry holds it: its values + field->offset.
 */
typedef struct hp_field_kind {
    /* Reads a value; false, a problem added, when it is not what it must be. */
    bool (*read)(const hp_field *field, const hp_value *value, const hp_labels *labels, void *at);
    /* Whether the entry says something here; NULL: always. */
    bool (*said)(const hp_field *field, const void *at);
    /* Writes what is said as YAML, on the same line. */
    void (*put)(FILE *out, const hp_field *field, const void *at, const hp_labels *labels);
    /* What the value must be, in words: added to a text. */
    void (*expected)(const hp_field *field, const hp_labels *labels, hp_phrase *phrase);
    /* Whether it is typed as NAME=VALUE, once for each pair, lead or code. */
    enum { HP_TYPED_ALONE, HP_TYPED_EITHER, HP_TYPED_BY_NAME } typed;
} hp_field_kind;

const hp_field_kind *hp_field_kind_of(hp_field_type type);

/* The same for a field of an entry. */
bool hp_field_read(const hp_field *field, const hp_value *value, const hp_labels *labels,
                   hp_entry *entry);
bool hp_field_is_said(const hp_field *field, const hp_entry *entry);
/* Takes over what an entry of the same kind says, as the log would note it: bench_log_answer.c. */
void hp_field_copy(const hp_field *field, const hp_entry *from, const hp_labels *labels,
                   hp_bench_entry *to);
void hp_field_put(FILE *out, const hp_field *field, const hp_entry *entry, const hp_labels *labels);
char *hp_field_expected(const hp_field *field, const hp_labels *labels, char *out, size_t size);
/* Whether this text is typed as NAME=VALUE. */
bool hp_field_is_mapping(const hp_field *field, const char *text);

/* ---- leads, pairs, codes --------------------------------------------------------------------- */

/* The lead with this label, or else this axis letter, in any case; -1. */
int hp_bench_lead_find(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], const char *text);
/* The pair that two leads joined by '-', '/' or a blank name, in any order; -1. */
int hp_bench_pair_find(const hp_labels *labels, const char *text);
/* "yellow-green". Returns out. */
char *hp_bench_pair_name(const hp_labels *labels, int pair, char *out, size_t size);
#define HP_BENCH_PAIR_SIZE (2 * HP_LABEL_SIZE + 2)
/* Three digits 0 or 1 to a code; -1. */
int hp_bench_code_find(const char *text);

/* ---- for the sources of the types ------------------------------------------------------------ */

extern const hp_field_kind hp_field_number, hp_field_whole;
extern const hp_field_kind hp_field_tell, hp_field_choice, hp_field_way;
extern const hp_field_kind hp_field_pairs, hp_field_continuity;
extern const hp_field_kind hp_field_codes, hp_field_code, hp_field_rows;
extern const hp_field_kind hp_field_lead, hp_field_wiring;
extern const hp_field_kind hp_field_phase_pins, hp_field_sensor_pins, hp_field_pin;
extern const hp_field_kind hp_field_part, hp_field_part_lead;
extern const hp_field_kind hp_field_pin_volts, hp_field_minus_pin;

#define HP_FIELD_PATH 192

/* One `name: value` of a mapping that is a value, such as a pair of `resistance_ohm`. Points into
 * itself: never copied. */
typedef struct hp_field_member {
    hp_yaml_member own;
    char path[HP_FIELD_PATH + HP_YAML_NAME];
    hp_value value; /* its path is `path` */
} hp_field_member;

/* The next member; false at the end. *good turns false, a problem added, when its name is no
 * text. */
bool hp_field_member_next(const hp_value *mapping, void **position, hp_field_member *m, bool *good);
/* Adds "PATH is not known, must be EXPECTED". */
void hp_field_member_refuse(const hp_field_member *m, const char *expected);
/* Adds that it is given a second time; returns false. */
bool hp_field_member_refuse_twice(const hp_field_member *m);
/* Adds that the value is not what it must be; returns false. */
bool hp_field_refuse(const hp_field *field, const hp_value *value, const hp_labels *labels);
/* Whether the value is a mapping with something in it; else a problem is added. */
bool hp_field_check_mapping(const hp_field *field, const hp_value *value, const hp_labels *labels);

/* Reads one of three leads; `what` as in "one of this motor's phase leads". */
bool hp_field_read_lead(const hp_value *value, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE],
                        const char *what, int *lead);
/* "yellow, green or blue", and the pairs likewise, added to a text. */
void hp_field_add_leads(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], hp_phrase *phrase);
void hp_field_add_pairs(const hp_labels *labels, hp_phrase *phrase);
void hp_field_add_words(const char *const *words, hp_phrase *phrase);
void hp_field_add_number(const hp_limits *limits, hp_phrase *phrase);

/* Writes a text as a YAML scalar, in quotes when it needs them. `flow`: inside brackets. */
void hp_bench_put_scalar(FILE *out, const char *text, bool flow);
void hp_field_put_number(FILE *out, double number);
void hp_field_put_code(FILE *out, int code);

#endif
