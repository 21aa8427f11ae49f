/*
 * What the files of step words share: sentences put together piece by piece, names of leads,
 * numbers rounded as people say them.
 */
#ifndef HUBPHASE_SRC_REPORT_STEP_WORDS_PARTS_H
#define HUBPHASE_SRC_REPORT_STEP_WORDS_PARTS_H

#include "report/words/step_words.h"

/* Text put together piece by piece into a caller's buffer; what does not fit is cut at the end of a
 * character. */
typedef struct hp_phrase {
    char *out;
    size_t size;
    size_t used;
} hp_phrase;

hp_phrase hp_phrase_begin(char *out, size_t size);
void hp_phrase_add(hp_phrase *phrase, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
/* Adds ", " unless the phrase is empty. */
void hp_phrase_comma(hp_phrase *phrase);

/* Adds one line to the how-to or the cautions; asserts that there is room. */
void hp_step_how(hp_step_words *words, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
void hp_step_caution(hp_step_words *words, const char *text);
#define HP_STEP_SET(field, ...) (void)snprintf((field), sizeof(field), __VA_ARGS__)

/* A lead's name; three of a side are made at once. */
typedef struct hp_step_names {
    char bare[HP_PHASE_COUNT][HP_LABEL_SIZE];      /* "blue", "U" */
    char full[HP_PHASE_COUNT][HP_LABEL_SIZE + 32]; /* "the blue phase lead", "phase lead U" */
} hp_step_names;

/* `what`: "phase lead", "sensor lead", "output", "input". */
hp_step_names hp_step_names_of(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], const char *what);
hp_step_names hp_step_phases(const hp_labels *labels);
hp_step_names hp_step_sensors(const hp_labels *labels);

/* "yellow and green", of a pair named by the lead that it leaves out. */
char *hp_step_pair(const hp_step_names *names, int pair, char *out, size_t size);
#define HP_PAIR_WORDS (2 * HP_LABEL_SIZE + 8)

/* A number as people say what to expect, two figures where it is small; a wheel's speed in rev/min
 * likewise. Return out. */
char *hp_step_rpm(double rad_s, char *out, size_t size);
char *hp_step_number(double value, char *out, size_t size);
#define HP_NUMBER_WORDS 24

/* What battery current and speed should be if the wiring is right; empty when neither is known. */
char *hp_step_bands(const hp_step_context *context, const hp_advice *advice, char *out,
                    size_t size);

/* "smooth"; empty when nothing was said. */
const char *hp_step_feel(hp_feel feel);
/* The codes of a hand turn in a row; unless `whole` the last is left out where the row begins again
 * with it. */
void hp_step_codes(const hp_hand_turn *turn, bool whole, hp_phrase *phrase);

/* The words of a reading. */
void hp_step_reading(const hp_step_context *context, hp_entry_kind kind, int lead,
                     hp_step_words *words);

/* Cautions that several steps share. */
extern const char hp_caution_unplugged[];
extern const char hp_caution_lifted[];
extern const char hp_caution_local[];

#endif
