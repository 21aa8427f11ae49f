/*
 * What the files of step words share: sentences put together piece by piece, names of leads,
 * numbers rounded as people say them.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_CARD_PARTS_H
#define HUBPHASE_SRC_REPORT_WORDS_CARD_PARTS_H

#include "hubphase/base/text.h"
#include "hubphase/decide/evidence.h"
#include "report/words/card.h"
#include "report/words/drive_words.h"

/* Adds one action to the how-to; asserts that there is room. */
void hp_card_how(hp_card *words, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* Says what the hands do in the how-to added last: bits of hp_doing. The cautions follow. */
void hp_card_doing(hp_card *words, unsigned doings);
/* What helps with the how-to added last: it may be folded, so nothing that can hurt stands in it
 * alone. */
void hp_card_detail(hp_card *words, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* A caution of this card alone, at the how-to added last; what several cards share is a hazard. */
void hp_card_caution(hp_card *words, const char *text);
/* The same two at a how-to, from 0. */
void hp_card_caution_at(hp_card *words, int at, const char *text);
void hp_card_detail_at(hp_card *words, int at, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
/* The safety of a card whose how-to is whole: what makes it safe now, and the cautions of what is
 * done, each once, in the order of the how-to. */
void hp_card_take_care(const hp_card_context *context, hp_card *words);
/* Whether the motor runs in a reading while trials alone, and no run at full throttle, speak for
 * the wiring: the list of commissioning does not weigh which of the 36 it is. */
bool hp_card_is_unproved(const hp_card_context *context, const hp_reading *reading);
/* Adds to what makes it safe that the wiring is to be proved first. After hp_card_take_care. */
void hp_card_say_unproved(hp_card *words);
/* Puts a sentence before the reason that the card has. */
void hp_card_reason_first(hp_card *words, const char *text);
#define HP_CARD_SET(field, ...) (void)snprintf((field), sizeof(field), __VA_ARGS__)

/* ---- powered trials (card_trial.c) ---- */

/* Actions that cards share; joints that differ from those of wiring `present` (0: none) say so. */
void hp_card_how_to_join(const hp_card_context *context, const hp_wiring *wiring, int present,
                         hp_card *words);
/* Where the leads sit in the plug, in either half, where that is known: details. */
void hp_card_detail_plug(const hp_card_context *context, hp_card *words);
void hp_card_how_to_make_ready(const hp_card_context *context, hp_card *words);
void hp_card_how_to_stop(const hp_card_context *context, hp_card *words);
/* Whole cards: of the wiring that is advised, of one more run, of a wiring that nobody advised. */
void hp_card_say_try(const hp_card_context *context, const hp_advice *advice, hp_card *words);
void hp_card_say_look(const hp_card_context *context, const hp_advice *advice, hp_card *words);
void hp_card_say_own_trial(const hp_card_context *context, int lead, hp_card *words);

/* ---- ends (card_end.c) ---- */

/* Why the work ends, one sentence. */
void hp_card_add_why(const hp_card_context *context, const hp_advice *advice, hp_phrase *reason);
/* The whole card of an end that names a wiring, or what is joined. */
void hp_card_say_done(const hp_card_context *context, const hp_advice *advice, hp_card *words);

/* ---- names and numbers ---- */

/* A lead's name; three of a side are made at once. */
typedef struct hp_lead_names {
    char bare[HP_PHASE_COUNT][HP_LABEL_SIZE];      /* "blue", "U" */
    char full[HP_PHASE_COUNT][HP_LABEL_SIZE + 32]; /* "the blue phase lead", "phase lead U" */
} hp_lead_names;

/* `what`: "phase lead", "Hall lead", "output", "input". */
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
/* The same with three figures, however small it is: of what was fitted. */
char *hp_card_figures(double value, char *out, size_t size);

/* "83 %"; never a certainty that is none. */
char *hp_card_percent(double probability, char *out, size_t size);

/* What battery current and speed should be if the wiring is correct, of what can be read here;
 * empty when neither is known. */
char *hp_card_bands(const hp_card_context *context, const hp_advice *advice, char *out,
                    size_t size);

/* Whether the final check is made at full throttle: something shows what the wiring draws, or it
 * failed there, and there is a meter to read; or all that can be told without one was told. */
bool hp_card_full_check(const hp_plan_params *plan, const hp_advice *advice);
/* Whether the advised step runs the wheel while a step of commissioning says stop: that comes
 * first.
 */
bool hp_card_is_stopped(const hp_card_context *context, const hp_advice *advice);
/* The title and the reason of a danger that a reading shows, on an empty card. */
void hp_danger_words(const hp_card_context *context, const hp_danger *danger, hp_card *card);

#define HP_FAILED_WORDS 640
/* "drew 4.8 A in entry 7, which is above ...; it grew warm in entry 8": behind "At full throttle
 * it". Returns out. */
char *hp_failed_check_words(const hp_failed_check *failed, double most_a, hp_band speed, char *out,
                            size_t size);
/* Of a wheel that is too fast for its volts. */
#define HP_FAST_CAUSES                                                                             \
    "fewer turns or weaker magnets than the scenario says (another motor), or a current that "     \
    "leads the rotor"
/* What does that, by its signs, in a sentence; static storage. */
const char *hp_failed_cause_words(const hp_failed_check *failed);
/* Of a wheel that does not start from every place, and all else is well: no wiring and no drag does
 * that, a lead or Hall sensor does. */
#define HP_STARTS_CAUSE                                                                            \
    "What is wired correctly and good starts from all: a phase lead, Hall lead or Hall sensor "    \
    "makes contact only now and then, often inside the cable or the axle, where no stick finds "   \
    "it."
/* What bands of one run come from, "by this machine's own readings"; static storage. */
const char *hp_card_bands_from(hp_bands_from from);
/* The bands at full throttle, wheel lifted, once the work is done, and what they come from: of what
 * can be read here; the current where that is nothing, since the meter for it is to be borrowed. */
char *hp_card_full_bands(const hp_plan_params *plan, const hp_advice *advice, char *out,
                         size_t size);

/* "smooth"; empty when nothing was said. */
const char *hp_card_feel(hp_feel feel);
/* The codes of a hand turn in a row; unless `whole` the last is left out where the row begins again
 * with it. */
void hp_card_codes(const hp_hand_turn *turn, bool whole, hp_phrase *phrase);

/* How many cells in series feed the Hall sensors, whose supply must not be below `least_v`. */
typedef struct hp_hall_cells {
    int alkaline;
    int rechargeable;
} hp_hall_cells;
hp_hall_cells hp_card_hall_cells(double least_v);

/* How a sensor code is read, and in which order it is written. */
void hp_card_how_to_read_code(const hp_card_context *context, const hp_lead_names *sensors,
                              hp_card *words);

/* A number as it was read; a wheel's speed in rev/min likewise. Return out. */
char *hp_card_as_read(double value, char *out, size_t size);
char *hp_card_rpm_as_read(double rad_s, char *out, size_t size);

/* Pairs in the order in which they are asked for; each goes by the lead that is not in it. */
extern const int hp_card_pair_order[HP_PHASE_COUNT];
/* A showing of pairs of which those with `open` set show nothing: all but those of one lead is that
 * lead's doing. `alike`: what the others are; `nothing`: what the open ones lack. */
void hp_showing_pairs(const hp_labels *labels, const bool open[HP_PHASE_COUNT], const char *alike,
                      const char *nothing, hp_showing_words *words);

/* The stop for pairs of phase leads of unlike "ohms" or "volts at one speed"; `again`: how they are
 * read once more. */
void hp_card_say_unlike(const char *figures, const char *again, hp_card *words);

#endif
