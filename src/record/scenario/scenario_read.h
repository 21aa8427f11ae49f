/*
 * From a document to a filled draft: which keys are there, what each says, what is missing.
 *
 * Reading goes on after a problem, so that all come out in one go; a key that was wrong is BAD and
 * whatever depends on it stays quiet.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_READ_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_READ_H

#include "hubphase/record/scenario.h"
#include "record/scenario/scenario_keys.h"

typedef enum hp_value_state { HP_VALUE_ABSENT, HP_VALUE_GOOD, HP_VALUE_BAD } hp_value_state;

/* What the file says of one key. */
typedef struct hp_key_found {
    hp_value_state state;
    struct fy_node *value; /* borrowed; NULL unless the key is there */
    hp_place place;        /* of the key; line 0 unless it is there */
    bool idle;             /* has no meaning beside the other keys: not listed */
    bool derived;          /* worked out from other keys */
    bool changed;          /* stated in place of the file */
    char why[192];         /* how */
} hp_key_found;

typedef struct hp_reader {
    hp_draft draft;
    hp_key_found reading[HP_KEY_COUNT];
    hp_problems *problems; /* borrowed */
} hp_reader;

/* Finds every key of the document, reads those that the table alone can read into the draft, and
 * adds what is wrong with keys and values. False when the document has no keys at all. */
bool hp_reader_read(hp_reader *reader, struct fy_node *root);

/* Lays values over those of the document: a mapping of whole paths. Problems have no place. */
void hp_reader_change(hp_reader *reader, struct fy_node *changes);
/* As if the document did not give the key: a word, a number or what has a reader of its own. */
void hp_reader_forget(hp_reader *reader, hp_key_id id);

static inline bool hp_reader_has(const hp_reader *reader, hp_key_id id)
{
    return reader->reading[id].state == HP_VALUE_GOOD;
}
static inline bool hp_reader_lacks(const hp_reader *reader, hp_key_id id)
{
    return reader->reading[id].state == HP_VALUE_ABSENT;
}
static inline bool hp_reader_sound(const hp_reader *reader, hp_key_id id)
{
    return reader->reading[id].state != HP_VALUE_BAD;
}

/* Where to point when speaking of a key: its value, else itself, else its section. */
hp_place hp_reader_place(const hp_reader *reader, hp_key_id id);
/* Adds a problem there and marks the key BAD. */
void hp_reader_problem(hp_reader *reader, hp_key_id id, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
/* Whether the key was read; adds "PATH is missing, must be EXPECTED" at its section when it is not
 * there. */
bool hp_reader_require(hp_reader *reader, hp_key_id id, const char *expected);
/* The value of a key, for the calls of scenario_value.h. */
hp_value hp_reader_value(const hp_reader *reader, hp_key_id id);

/* Fields of the draft in the unit of the key. */
double hp_reader_number(const hp_reader *reader, hp_key_id id);
/* Sets the field of a number that the file does not give, and says how it was worked out. */
void hp_reader_derive(hp_reader *reader, hp_key_id id, double number, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

#endif
