/*
 * Words for a kind of entry (decide/reading/reading.h): how it is taken, what it may show, how it
 * is told, asked, logged, and what of it the wiring sheet keeps. One descriptor a kind, each in a
 * source of its own; `hp_words_list` lists them.
 *
 * A kind without a descriptor is told by its bare name.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_WORDS_H
#define HUBPHASE_SRC_REPORT_WORDS_WORDS_H

#include "decide/reading/reading_list.h"
#include "hubphase/base/text.h"
#include "hubphase/decide/commission.h"
#include "hubphase/report/case_words.h"
#include "report/sheet/wiring_sheet.h"
#include "report/words/card.h"

/* The words of a command line, each ended by a zero byte, one more behind the last. The last that
 * fits whole ends the line, so that none is cut. */
typedef struct hp_log_line {
    char *out; /* borrowed */
    size_t size;
    size_t used;
} hp_log_line;

void hp_log_word(hp_log_line *line, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* Each of several words with one space between them. */
void hp_log_words(hp_log_line *line, const char *words);
/* "--option=red-white=WHAT" for each pair of phase leads. */
void hp_log_pairs(hp_log_line *line, const hp_labels *labels, const char *option, const char *what);

/* What a step of commissioning found. */
typedef struct hp_finding_words {
    char means[600];     /* never empty */
    char otherwise[600]; /* what to do about it; empty where there is nothing to do */
} hp_finding_words;

typedef struct hp_words {
    const hp_reading *reading;
    const char *menu;  /* behind its name: "codes while the wheel is turned by hand" */
    const char *proof; /* how it proves a suspicion, a sentence; NULL: it is never asked for that */
    const char *unchecked; /* in practice: power came before it and nothing happened; NULL: it
                              guards against no power */
    /* Of a reading that finds what power would harm, where the log has none: what has not been
     * done, "nobody has measured the Hall supply"; the caution of the action; doings and details of
     * how one finds out before it, at how-to `at` of a card. NULL: it guards against no power. */
    const char *unguarded;
    /* Of an entry that hinders a run: what to do before the motor runs again; NULL: no such kind.
     */
    void (*hinders)(const void *values, hp_phrase *phrase);
    const char *guard_caution;
    void (*guard)(const hp_card_context *context, int at, hp_card *words);
    hp_safe safety; /* what makes it safe before a hand goes near the leads */
    /* How it is taken (for a lead, or -1); NULL: the general cautions are all there is to say. */
    void (*card)(const hp_card_context *context, int lead, hp_card *words);
    const char *at_the_end; /* why it is asked for where the work would end otherwise, and the log
                               gives no other reason; NULL: it never is */
    /* What one thing that it may show looks like; NULL: its name. */
    void (*showing)(const hp_card_context *context, const hp_advice *advice, const void *values,
                    hp_showing_words *words);
    /* An entry in one line; NULL: name and label of the showing. */
    void (*entry)(const hp_card_context *context, const void *values, hp_phrase *phrase);
    /* A second line of it; leaves the phrase empty where there is nothing. NULL: never. */
    void (*details)(const hp_card_context *context, const void *values, hp_phrase *phrase);
    /* What of it cannot be, whatever is broken, as a sentence; leaves the phrase empty where all
     * can. NULL: never. */
    void (*impossible)(const hp_card_context *context, const void *values, hp_phrase *phrase);
    /* What of it the scenario states otherwise, and what to do, a sentence: of an entry that
     * gainsays it (decide/reading/reading.h). NULL: never. */
    void (*gainsaid)(const hp_card_context *context, const void *values, hp_phrase *phrase);
    /* Title, reason and how-to when it found a danger. */
    void (*danger)(const hp_card_context *context, const hp_danger *danger, hp_card *words);
    /* Of a step of commissioning: what its entry found. NULL: it is only noted. */
    void (*finding)(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words);
    const hp_question *questions; /* ended by one without a text */
    /* Options of the command that logs it, "--found=WHAT --throttle-rest-v=VOLTS"; NULL: as `log`
     * writes them, or with neither --NAME=ARGUMENT for each required field. */
    const char *log_words;
    void (*log)(const hp_card_context *context, const hp_advice *advice, hp_log_line *line);
    int sheet_place;                               /* on the wiring sheet the lower comes first */
    void (*keep)(hp_wiring_sheet *sheet);          /* adds its readings; NULL: none */
    void (*keep_settings)(hp_wiring_sheet *sheet); /* adds settings; NULL: none */
    /* "a brake cut-off: ...", behind "Ready, but without"; NULL: nothing that it could lack. */
    const char *without;
} hp_words;

/* One row a kind, NULL-ended, in a source of its own, so that a program can link one of its own. */
extern const hp_words *const hp_words_list[];

/* NULL when there are none. */
const hp_words *hp_words_of(const hp_reading *reading);
/* Fills in what a step found; false where there is nothing to say. */
bool hp_finding_words_make(const hp_card_context *context, const hp_commission_step *step,
                           hp_finding_words *words);
/* "0.41 N m (0.36 to 0.47)". Returns out. */
char *hp_own_words(const hp_own_figure *figure, hp_own_kind kind, char *out, size_t size);
/* Adds the options that log a reading. */
void hp_log_options(const hp_card_context *context, const hp_advice *advice,
                    const hp_reading *reading, hp_log_line *line);

#define HP_WORDS_NAMED(kind) extern const hp_words hp_words_##kind;
HP_READING_KINDS(HP_WORDS_NAMED)
#undef HP_WORDS_NAMED

#endif
