/*
 * What the files of the forms share: a question as it is about one field, and what each type of
 * field makes of it.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_FORM_PARTS_H
#define HUBPHASE_SRC_REPORT_WORDS_FORM_PARTS_H

#include "hubphase/base/text.h"
#include "hubphase/report/forms.h"
#include "record/log/field.h"

#define HP_FORM_NAME 300 /* bytes of names, joined for one question */
#define HP_FORM_ROW  200 /* bytes of a row as it is typed */

/* What a question is about, and who is told what is wrong with its answer. */
typedef struct hp_form_part {
    const hp_question_case *given;
    const hp_question *question;
    const hp_field *field; /* NULL: a gate */
    hp_bench_entry *entry;
    char *why;
    size_t size;
} hp_form_part;

/* How a question about a type of field is put, how its answer is taken, and what answer an entry
 * gives. */
typedef struct hp_form_type {
    void (*put)(const hp_form_part *f, hp_form_question *put);
    bool (*take)(const hp_form_part *f, const char *answer);
    void (*said)(const hp_form_part *f, hp_phrase *p);
} hp_form_type;

/* Values that are typed, and words that are chosen: form_typed.c. */
extern const hp_form_type hp_form_number, hp_form_word, hp_form_tell;
extern const hp_form_type hp_form_code, hp_form_codes, hp_form_wiring;
/* Pairs, leads and pins of the motor, rows of the controller's table: form_leads.c. */
extern const hp_form_type hp_form_pair, hp_form_continuity, hp_form_pin;
extern const hp_form_type hp_form_lead, hp_form_part_lead, hp_form_row;
/* Pins of a control's plug with their volts: form_pins.c. */
extern const hp_form_type hp_form_pin_volts, hp_form_minus_pin;

extern const hp_choice hp_form_yes_no[2]; /* yes, then no */

const hp_labels *hp_form_labels(const hp_form_part *f);
/* The value of its field in the entry. */
void *hp_form_at(const hp_form_part *f);
/* Tells why an answer is not taken; false. */
bool hp_form_refuse(const hp_form_part *f, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
/* Takes an answer as the reader of logs does; false: it is not one, which is told. */
bool hp_form_read(const hp_form_part *f, const hp_field *field, const char *answer);
/* The same of a number spelled as a meter or a hand does it: with a comma, with its unit. */
bool hp_form_read_number(const hp_form_part *f, const hp_field *field, const char *answer);
void hp_form_add_choice(hp_form_question *put, const char *word, const char *text);
void hp_form_add_yes_no(hp_form_question *put);
bool hp_form_is_yes(const char *answer);
/* A field whose value is one word or number without quotes is told as the log notes it. */
void hp_form_say_noted(const hp_form_part *f, hp_phrase *p);
/* "open" of what is infinite, nothing of NAN. */
void hp_form_add_number(double number, hp_phrase *p);

#endif
