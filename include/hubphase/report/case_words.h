/*
 * What is said at the bench: the advice of a case in words, the step alone or with all that stands
 * behind it, and as JSON; the questions for an entry; the cautions.
 */
#ifndef HUBPHASE_REPORT_CASE_WORDS_H
#define HUBPHASE_REPORT_CASE_WORDS_H

#include "hubphase/base/result.h"
#include "hubphase/base/text.h"
#include "hubphase/record/case.h"
#include "hubphase/record/practice_case.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

HP_API_BEGIN

/* Text is for a terminal of 80 columns; `colour` only makes the title bold. */

/* A step: title, what makes it safe now, reason, how-to with its cautions, what to expect and to
 * write down, details of the how-to; entries of the log that contradict one another. `advice` comes
 * from hp_case_next. */
void hp_step_print(const hp_case *c, const hp_advice *advice, const hp_screen *out);
/* Its title and its reason alone; entries that contradict one another. */
#define HP_HINT_WORDS 2600
void hp_hint_words(const hp_case *c, const hp_advice *advice, char title[HP_HINT_WORDS],
                   char reason[HP_HINT_WORDS], char again[HP_HINT_WORDS]);
void hp_hint_print(const hp_case *c, const hp_advice *advice, const hp_screen *out);
/* How-to and cautions of a kind of entry that was not advised. */
void hp_how_to_print(const hp_case *c, const hp_reading *kind, const hp_screen *out);

/* The step of commissioning whose finding forbids the run that is advised: it is what is to be
 * measured and written down next. NULL: nothing does. */
const hp_reading *hp_step_stopped(const hp_case *c, const hp_advice *advice);

/* The command that logs a step, with places left for what was seen: the words `begin` (NULL-ended),
 * then kind and options, "park", "--plus-lead=blue", "--code=CODE". Each word is terminated, and an
 * empty one stands at the end; what does not fit whole is left out. Empty when the step leaves
 * nothing to write down. Returns out. */
char *hp_step_log_line(const hp_case *c, const hp_advice *advice, const char *const *begin,
                       char *out, size_t size);

/* ---- where things stand ---------------------------------------------------------------------- */

typedef struct hp_case_report_options {
    bool json; /* an object with the fields of docs/json.md, else text */
    bool why;  /* with the hypotheses left, and how each entry moved them */
} hp_case_report_options;

typedef struct hp_case_report hp_case_report;

/* Reckons the next step, which wirings can still be right, what may be broken. The case stays
 * borrowed and must not be read again meanwhile. NULL and err (HP_FAIL_MEMORY) on failure. */
hp_case_report *hp_case_report_create(hp_case *c, const hp_case_report_options *options,
                                      hp_error *err);
void hp_case_report_free(hp_case_report *report);

/* The step; borrowed. */
const hp_advice *hp_case_report_advice(const hp_case_report *report);

/* Writes the report as its options say. `log_line`: the command that logs the step, as words each
 * terminated and an empty one at the end; NULL: none is named. JSON: HP_FAIL_MEMORY, or HP_FAIL_IO
 * when `out` cannot be written; of text the stream itself says so. */
hp_result hp_case_report_write(const hp_case_report *report, const char *log_line,
                               const hp_screen *out, hp_error *err);
/* Writes it as text, whatever its options say. */
void hp_case_report_print(const hp_case_report *report, const char *log_line, const hp_screen *out);
/* What entry `number`, by its place in the log, told, in one or two sentences; empty for a report
 * without `why`. Returns out. */
char *hp_case_report_meant(const hp_case_report *report, int number, char *out, size_t size);
/* The same as a count of yes-or-no questions that it answered. */
char *hp_case_report_counted(const hp_case_report *report, int number, char *out, size_t size);

/* ---- commissioning: what each step found, and the step to do now ------------------------------
 */

/* The command that logs a kind of step, with places left for what was read: as hp_step_log_line. */
char *hp_commission_log_line(const hp_commission_case *c, const hp_reading *kind,
                             const char *const *begin, char *out, size_t size);

/* Where a scenario holds figures that were learnt from a log, what that means for this one; else
 * empty. Returns out. */
#define HP_SOURCE_WORDS 2400
char *hp_commission_source_words(const hp_commission_case *c, char *out, size_t size);

/* The whole list, what was found, and the card of the next step with the words of `log_line` (NULL:
 * none). Of a step `kind` that was asked for: where it stands, what it found, its card. */
void hp_commission_print(const hp_commission_case *c, const hp_reading *kind, const char *log_line,
                         const hp_screen *out);
/* The same as JSON (docs/json.md). HP_FAIL_MEMORY, or HP_FAIL_IO when `out` cannot be written. */
hp_result hp_commission_json_write(const hp_commission_case *c, const hp_reading *kind,
                                   const char *log_line, FILE *out, hp_error *err);
/* What changed of a machine between two logs, and what that may come from; the same as JSON.
 * same_meters: somebody says that both were read with the same meters. HP_FAIL_MEMORY, or
 * HP_FAIL_IO when `out` cannot be written. */
hp_result hp_compare_print(const hp_commission_case *then, const hp_commission_case *now,
                           bool same_meters, const hp_screen *out, hp_error *err);
hp_result hp_compare_json_write(const hp_commission_case *then, const hp_commission_case *now,
                                bool same_meters, FILE *out, hp_error *err);
/* The card of one step alone. */
void hp_commission_step_print(const hp_commission_case *c, const hp_reading *kind,
                              const hp_screen *out);
/* What the last entry of a step found, and what to do about it; empty where it is only noted.
 * Returns out. */
#define HP_FOUND_WORDS 1280
char *hp_commission_found_words(const hp_commission_case *c, const hp_reading *kind, char *out,
                                size_t size);
/* The same behind good, look or stop; nothing where it is only noted. */
void hp_commission_finding_print(const hp_commission_case *c, const hp_reading *kind,
                                 const hp_screen *out);
/* How far it is, and which step is next, in a sentence. Returns out. */
char *hp_commission_after_words(const hp_commission *list, char *out, size_t size);
#define HP_COMMISSION_WHY_WORDS 2400
/* Why the list is where it is, in a sentence or more. Returns out. */
char *hp_commission_why_words(const hp_commission *list, char *out, size_t size);

/* ---- questions for one entry, asked one by one ----------------------------------------------- */

/* Words only. How a question is put follows from the type of its field. */

/* One of several answers. */
typedef struct hp_choice {
    const char *word; /* may be typed instead of its digit */
    const char *text; /* shown */
} hp_choice;

/* What questions depend on; all borrowed. */
typedef struct hp_question_case {
    const hp_drive *drive;
    const hp_labels *labels;
    const hp_plan_params *plan;
    const hp_advice *advice; /* what was advised, where the entry fits it; else NULL */
} hp_question_case;

#define HP_QUESTION_ALL (-1) /* all pairs at once */

typedef struct hp_question hp_question;
struct hp_question {
    const char *field; /* of the kind; NULL: a gate: whether what follows is to be asked at all */
    int which;         /* pair (as people count them), pin or code of the field */
    const char *text;  /* the question; %s: the name of pair, pin or code */
    const char *noun;  /* what stands before the answer in a list: "throttle"; NULL: nothing */
    const char *help;
    const char *fallback;     /* what Enter alone gives; "": it may be left out; NULL: neither */
    const char *shown;        /* how that is shown; NULL: as it is */
    const hp_choice *choices; /* texts for words of the field; ended by one without a word */
    bool inverse;             /* asks for the opposite of what the log notes */
    /* Each may be NULL; `values` are those of the entry so far. */
    bool (*wanted)(const hp_question_case *c, const void *values);
    /* In place of `fallback`; may write into out. */
    const char *(*usual)(const hp_question_case *c, const void *values, char *out, size_t size);
    /* In place of `choices`. */
    const hp_choice *(*offered)(const hp_question_case *c);
    /* Limits that the answers so far set. */
    void (*narrow)(const void *values, hp_limits *limits);
};

/* The questions of a kind, ended by one without a text; NULL when there are none. */
const hp_question *hp_questions_of(const hp_reading *kind);
/* What stands behind a kind's name where it is offered: "codes while the wheel is turned by hand";
 * NULL when there are no words for it. */
const char *hp_reading_menu(const hp_reading *kind);
/* A sensor code as it is written down: "110". out holds at least 4 bytes. Returns out. */
char *hp_code_words(int code, char *out);

/* ---- practice -------------------------------------------------------------------------------- */

#define HP_PRACTICE_WORDS 1600

/* What is hidden at this level, and what to find: two or three short sentences; static storage. */
const char *hp_practice_level_words(hp_practice_level level);
/* By what the wirings that are left are counted, and that the advice is not told so. Returns
 * out[HP_PRACTICE_WORDS]. */
char *hp_practice_counts_words(const hp_practice_case *c, char *out);
/* "the grey Hall sensor is stuck"; of no lead in particular: "a Hall sensor is stuck". Returns
 * out[HP_PRACTICE_WORDS], as all below. */
char *hp_practice_fault_words(const hp_labels *labels, hp_practice_fault fault, int lead,
                              char *out);
/* How codes are read here: "Codes are read in the order white, grey, brown." */
char *hp_practice_code_words(const hp_labels *labels, char *out);
/* How a wiring is fed, for a choice: "limited: bench supply, 2 A, gentle throttle". */
char *hp_practice_feed_words(const hp_practice_case *c, hp_practice_feed feed, char *out);
/* A step in one line: "park on blue: code 110". */
char *hp_practice_step_words(hp_practice_case *c, const hp_practice_step *step, char *out);
/* The same without what it showed: "park on blue", "wiring 12, bench supply". */
char *hp_practice_step_name(hp_practice_case *c, const hp_practice_step *step, char *out);
/* What came of a risk that it took. */
char *hp_practice_risk_words(hp_practice_case *c, const hp_practice_step *step, int risk,
                             char *out);
/* How many wirings it left: "It leaves 12 wirings." */
char *hp_practice_left_words(const hp_practice_step *step, char *out);
/* What the newest step of the learner's path told, by what the level says; the bench must hold the
 * learner's log. */
char *hp_practice_told_last(hp_practice_case *c, char *out);
/* The same of every step of a path, as it was told when it was taken,
 * told[steps][HP_PRACTICE_WORDS]. HP_FAIL_MEMORY. */
hp_result hp_practice_told(hp_practice_case *c, hp_practice_who who,
                           char (*told)[HP_PRACTICE_WORDS], hp_error *err);
/* "wiring 12 is correct": what was said at the end. */
char *hp_practice_answer_words(const hp_practice_case *c, hp_practice_who who, char *out);
/* Right or wrong, in a word or two: "right", "half right", "wrong"; static storage. */
const char *hp_practice_end_word(hp_practice_end end);
/* The same in sentences, with why. */
char *hp_practice_end_words(hp_practice_case *c, hp_practice_who who, char *out);
/* What was hidden. */
char *hp_practice_truth_words(hp_practice_case *c, char *out);
/* The end: right or wrong, what was hidden, both paths beside one another, what each step told.
 * HP_FAIL_MEMORY. */
hp_result hp_practice_print(hp_practice_case *c, const hp_screen *out, hp_error *err);
/* The learner's path so far, a line each. */
void hp_practice_path_print(hp_practice_case *c, hp_practice_who who, const hp_screen *out);

/* ---- cautions -------------------------------------------------------------------------------- */

/* They stand wherever somebody is about to join leads or turn a wheel. All of them are common
 * practice; local rules and licensed people come first. */

/* The cautions as one paragraph; static storage. */
const char *hp_cautions_text(void);
/* The same under the title "Cautions", filled to the width of a terminal. */
void hp_cautions_print(const hp_screen *out);

HP_API_END

#endif
