/*
 * What the files of step words share: sentences put together piece by piece, names of leads,
 * numbers rounded as people say them.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_CARD_PARTS_H
#define HUBPHASE_SRC_REPORT_WORDS_CARD_PARTS_H

#include "hubphase/base/phrase.h"
#include "report/words/card.h"

/* Adds one line to the how-to or the cautions; asserts that there is room. */
void hp_card_how(hp_card *words, const char *format, ...) __attribute__((format(printf, 2, 3)));
void hp_card_caution(hp_card *words, const char *text);
#define HP_CARD_SET(field, ...) (void)snprintf((field), sizeof(field), __VA_ARGS__)

/* A lead's name; three of a side are made at once. */
typedef struct hp_lead_names {
    char bare[HP_PHASE_COUNT][HP_LABEL_SIZE];      /* "blue", "U" */
    char full[HP_PHASE_COUNT][HP_LABEL_SIZE + 32]; /* "the blue phase lead", "phase lead U" */
} hp_lead_names;

/* `what`: "phase lead", "sensor lead", "output", "input". */
hp_lead_names hp_lead_names_of(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], const char *what);
hp_lead_names hp_card_phases(const hp_labels *labels);
hp_lead_names hp_card_sensors(const hp_labels *labels);

/* "yellow and green", of a pair named by the lead that it leaves out. */
char *hp_card_pair(const hp_lead_names *names, int pair, char *out, size_t size);
#define HP_PAIR_WORDS (2 * HP_LABEL_SIZE + 8)

/* A number as people say what to expect, two figures where it is small; a wheel's speed in rev/min
 * likewise. Return out. */
char *hp_card_rpm(double rad_s, char *out, size_t size);
char *hp_card_number(double value, char *out, size_t size);
#define HP_NUMBER_WORDS 24

/* What battery current and speed should be if the wiring is right; empty when neither is known. */
char *hp_card_bands(const hp_card_context *context, const hp_advice *advice, char *out,
                    size_t size);

/* "smooth"; empty when nothing was said. */
const char *hp_card_feel(hp_feel feel);
/* The codes of a hand turn in a row; unless `whole` the last is left out where the row begins again
 * with it. */
void hp_card_codes(const hp_hand_turn *turn, bool whole, hp_phrase *phrase);

/* The words of a reading. */
void hp_card_reading(const hp_card_context *context, hp_entry_kind kind, int lead, hp_card *words);

/* What a supply is set to for parking the rotor [A], [V]. */
double hp_card_park_current(const hp_drive *drive);
double hp_card_park_volts(const hp_drive *drive);

/* Cautions that several steps share. */
extern const char hp_caution_unplugged[];
extern const char hp_caution_lifted[];
extern const char hp_caution_local[];

#endif
