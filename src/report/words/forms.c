/*
 * Forms: see the header. A descriptor a type of field says how a question about it is put, how its
 * answer is taken, and what answer an entry gives (form_parts.h); here they are listed and walked.
 *
 * Values are read by the reader of logs itself (hp_bench_typed_read), so that it alone decides what
 * is right; here stands what a question asks for in another way than the log notes it: one pair,
 * one pin, one code at a time, the opposite of what is noted, all pairs at once.
 */
#include "report/words/form_parts.h"

#include <string.h>

const char hp_form_wanted[] = "Please give an answer.";

hp_form_state hp_form_begin(const hp_reading *kind)
{
    return (hp_form_state){.entry = hp_bench_entry_make(kind)};
}

bool hp_form_wants(const hp_question_case *given, const hp_form_state *state,
                   const hp_question *question)
{
    if (state->closed && question->field)
        return false;
    return !question->wanted || question->wanted(given, hp_entry_said(&state->entry.entry));
}

/* ---- all types ------------------------------------------------------------------------------- */

static const hp_form_type *const types[HP_FIELD_TYPE_COUNT] = {
    [HP_FIELD_NUMBER] = &hp_form_number,
    [HP_FIELD_WHOLE] = &hp_form_number,
    [HP_FIELD_TELL] = &hp_form_tell,
    [HP_FIELD_CHOICE] = &hp_form_word,
    [HP_FIELD_WAY] = &hp_form_word,
    [HP_FIELD_PAIRS] = &hp_form_pair,
    [HP_FIELD_CONTINUITY] = &hp_form_continuity,
    [HP_FIELD_CODES] = &hp_form_codes,
    [HP_FIELD_CODE] = &hp_form_code,
    [HP_FIELD_LEAD] = &hp_form_lead,
    [HP_FIELD_WIRING] = &hp_form_wiring,
    [HP_FIELD_ROWS] = &hp_form_row,
    [HP_FIELD_PHASE_PINS] = &hp_form_pin,
    [HP_FIELD_SENSOR_PINS] = &hp_form_pin,
    [HP_FIELD_PIN] = &hp_form_pin,
    [HP_FIELD_PART] = &hp_form_word,
    [HP_FIELD_PART_LEAD] = &hp_form_part_lead,
    [HP_FIELD_PIN_VOLTS] = &hp_form_pin_volts,
    [HP_FIELD_MINUS_PIN] = &hp_form_minus_pin,
};

static hp_form_part part_of(const hp_question_case *given, const hp_bench_entry *entry,
                            const hp_question *question)
{
    return (hp_form_part){
        .given = given,
        .question = question,
        .field = question->field ? hp_field_find(entry->entry.reading, question->field) : NULL,
        .entry = (hp_bench_entry *)entry};
}

/* What no answer gives. */
static void put_fallback(const hp_form_part *f, hp_form_question *put)
{
    const hp_question *q = f->question;
    char out[sizeof put->fallback] = "";
    const char *usual = q->usual
                            ? q->usual(f->given, hp_entry_said(&f->entry->entry), out, sizeof out)
                            : q->fallback;
    put->required = usual == NULL;
    snprintf(put->fallback, sizeof put->fallback, "%s", usual ? usual : "");
    /* That nothing is written down; what is usual here is shown as it is. */
    put->shown = q->usual && put->fallback[0] ? NULL : q->shown;
}

void hp_form_question_make(const hp_question_case *given, const hp_form_state *state,
                           const hp_question *question, hp_form_question *put)
{
    const hp_form_part f = part_of(given, &state->entry, question);
    memset(put, 0, sizeof *put);
    put->field = f.field;
    snprintf(put->text, sizeof put->text, "%s", question->text);
    put_fallback(&f, put);
    if (f.field)
        types[f.field->type]->put(&f, put);
    else
        hp_form_add_yes_no(put);
}

/* Whether the answer is the word of a choice. */
static bool is_offered(const hp_form_part *f, const hp_form_question *put, const char *answer)
{
    char words[HP_FORM_WHY];
    hp_phrase p = hp_phrase_begin(words, sizeof words);
    for (int k = 0; k < put->choices; k++) {
        if (strcmp(put->choice[k].word, answer) == 0)
            return true;
        hp_phrase_add(&p, "%s%s",
                      k == 0                  ? ""
                      : k == put->choices - 1 ? " or "
                                              : ", ",
                      put->choice[k].word);
    }
    return put->choices == 0 ||
           hp_form_refuse(f, "\"%.80s\" is none of the answers, must be %s", answer, words);
}

bool hp_form_take(const hp_question_case *given, hp_form_state *state, const hp_question *question,
                  const char *answer, char *why, size_t size)
{
    hp_form_question put;
    hp_form_state taken = *state;
    hp_form_part f = part_of(given, &taken.entry, question);
    f.why = why;
    f.size = size;
    hp_form_question_make(given, state, question, &put);
    if (!answer[0] && !put.required)
        return true;
    if (!answer[0])
        return hp_form_refuse(&f, "an answer is missing");
    if (!is_offered(&f, &put, answer))
        return false;
    if (!f.field)
        taken.closed = !hp_form_is_yes(answer);
    else if (!types[f.field->type]->take(&f, answer))
        return false;
    *state = taken;
    return true;
}

/* A gate is open where something behind it, up to the next, is said. */
static bool is_open(const hp_question_case *given, const hp_bench_entry *entry,
                    const hp_question *gate)
{
    char out[HP_FORM_ANSWER];
    for (const hp_question *q = gate + 1; q->text && q->field; q++)
        if (hp_form_said(given, entry, q, out)[0])
            return true;
    return false;
}

char *hp_form_said(const hp_question_case *given, const hp_bench_entry *entry,
                   const hp_question *question, char *out)
{
    const hp_form_part f = part_of(given, entry, question);
    hp_phrase p = hp_phrase_begin(out, HP_FORM_ANSWER);
    if (f.field)
        types[f.field->type]->said(&f, &p);
    else
        hp_phrase_add(&p, "%s", hp_form_yes_no[is_open(given, entry, question) ? 0 : 1].word);
    return out;
}

/* Whether an entry's own answers lead to a question of its form. */
static bool leads_to(const hp_question_case *given, const hp_bench_entry *entry,
                     const hp_question *question)
{
    char why[HP_FORM_WHY], said[HP_FORM_ANSWER];
    hp_form_state state = hp_form_begin(entry->entry.reading);
    const hp_question *q = hp_questions_of(entry->entry.reading);
    for (; q != question; q++)
        if (hp_form_wants(given, &state, q))
            hp_form_take(given, &state, q, hp_form_said(given, entry, q, said), why, sizeof why);
    return hp_form_wants(given, &state, q);
}

bool hp_form_left_out(const hp_question_case *given, const hp_bench_entry *entry,
                      const hp_question *question)
{
    char said[HP_FORM_ANSWER];
    return !hp_form_said(given, entry, question, said)[0] && leads_to(given, entry, question);
}

/* Whether a question about this field is asked on the way that the entry's answers take. */
static bool is_asked(const hp_question_case *given, const hp_bench_entry *entry,
                     const hp_field *field)
{
    for (const hp_question *q = hp_questions_of(entry->entry.reading); q && q->text; q++)
        if (q->field && strcmp(q->field, field->name) == 0 && leads_to(given, entry, q))
            return true;
    return false;
}

/* Takes a value over unless the new answers leave no room for it: a wheel that did not turn after
 * all has no speed. */
static void keep_fitting(const hp_field *field, const hp_labels *labels,
                         const hp_bench_entry *before, hp_bench_entry *entry)
{
    const hp_reading *kind = entry->entry.reading;
    const hp_bench_entry without = *entry;
    hp_error err = hp_error_none();
    hp_field_copy(field, &before->entry, labels, entry);
    if (kind->check && kind->check(entry->entry.values, &err) != HP_OK &&
        kind->check(without.entry.values, &err) == HP_OK)
        *entry = without;
}

void hp_form_keep(const hp_question_case *given, const hp_bench_entry *before,
                  hp_bench_entry *entry)
{
    const hp_bench_entry answered = *entry;
    for (const hp_field *field = before->entry.reading->fields; field->name; field++)
        if (hp_field_is_said(field, &before->entry) && !hp_field_is_said(field, &answered.entry) &&
            !is_asked(given, before, field) && !is_asked(given, &answered, field))
            keep_fitting(field, given->labels, before, entry);
}

/* Which pair, code or lead a question asks for; nothing where its field has one value. */
static void add_which(hp_field_type type, int which, hp_phrase *p)
{
    char code[4];
    bool pairs = type == HP_FIELD_PAIRS || type == HP_FIELD_CONTINUITY;
    if (pairs && which == HP_QUESTION_ALL) {
        hp_phrase_add(p, ".all");
    } else if (pairs) {
        int left_out = hp_bench_pair_order[which];
        hp_phrase_add(p, ".%c-%c", hp_phase_letter((left_out + 1) % 3),
                      hp_phase_letter((left_out + 2) % 3));
    } else if (type == HP_FIELD_ROWS) {
        hp_phrase_add(p, ".%s", hp_code_words(which, code));
    } else if (type == HP_FIELD_PHASE_PINS || type == HP_FIELD_SENSOR_PINS) {
        hp_phrase_add(p, ".%c", hp_phase_letter(which % HP_PHASE_COUNT));
    } else if (type == HP_FIELD_PIN_VOLTS && which != HP_QUESTION_ALL) {
        hp_phrase_add(p, ".%d", which + 1);
    }
}

char *hp_form_key(const hp_reading *kind, const hp_question *question, char *out)
{
    hp_phrase p = hp_phrase_begin(out, HP_FORM_KEY);
    if (!question->field) {
        hp_phrase_add(&p, "gate.%d", (int)(question - hp_questions_of(kind)));
        return out;
    }
    hp_phrase_add(&p, "%s", question->field);
    add_which(hp_field_find(kind, question->field)->type, question->which, &p);
    return out;
}
