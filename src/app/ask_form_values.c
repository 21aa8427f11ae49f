/* How a question is put and its answer taken, by the type of its field: see ask_form_parts.h. */
#include "app/ask_form_parts.h"

#include <math.h>
#include <string.h>
#include <strings.h>

#define TEXT_SIZE  400
#define NAME_SIZE  300
#define WHY_SIZE   720
#define WORDS_MAX  16
#define USUAL_SIZE 64

static const hp_choice yes_no[] = {{"yes", "yes"}, {"no", "no"}};

static const hp_labels *labels_of(const hp_form *form)
{
    return form->given.labels;
}

static void *values_of(hp_form *form)
{
    return hp_entry_values(&form->state.entry.entry);
}

static const hp_field *field_of(const hp_form *form, const hp_question *question)
{
    return hp_field_find(form->state.entry.entry.reading, question->field);
}

/* What Enter alone gives, as for hp_ask_text. */
static const char *usual_of(hp_form *form, const hp_question *q, char *out, size_t size)
{
    return q->usual ? q->usual(&form->given, values_of(form), out, size) : q->fallback;
}

/* ---- typed values ---------------------------------------------------------------------------- */

/* Asks until the answer reads as the field wants it. An answer left out leaves the entry alone. */
static hp_answer ask_field(hp_form *form, const hp_field *field, const hp_question *q,
                           const char *text)
{
    char why[WHY_SIZE], usual[USUAL_SIZE];
    const char *fallback = usual_of(form, q, usual, sizeof usual);
    for (;;) {
        hp_answer answer = hp_ask_text(form->ask, text, q->help, fallback, q->shown);
        if (answer != HP_ANSWER_GIVEN || form->ask->text[0] == '\0')
            return answer;
        if (hp_bench_typed_read(field, "the answer", form->ask->text, labels_of(form),
                                &form->state.entry, why, sizeof why))
            return HP_ANSWER_GIVEN;
        hp_ask_say(form->ask, "No: %s.", why);
    }
}

static hp_answer ask_typed(hp_form *form, const hp_question *q)
{
    hp_field field = *field_of(form, q);
    if (q->narrow)
        q->narrow(values_of(form), &field.limits);
    return ask_field(form, &field, q, q->text);
}

/* ---- words ----------------------------------------------------------------------------------- */

static int count_of(const hp_choice *choices)
{
    int count = 0;
    while (choices[count].word)
        count++;
    return count;
}

/* The default's index for hp_ask_choice. */
static int usual_index(const hp_choice *choices, int count, const char *usual)
{
    if (!usual)
        return -1;
    for (int k = 0; k < count; k++)
        if (strcmp(choices[k].word, usual) == 0)
            return k;
    return count; /* "": may be left out */
}

/* A word that the field knows. */
static void take_word(hp_form *form, const hp_question *q, const char *word)
{
    char why[WHY_SIZE];
    hp_bench_typed_read(field_of(form, q), q->field, word, labels_of(form), &form->state.entry, why,
                        sizeof why);
}

static hp_answer ask_word(hp_form *form, const hp_question *q)
{
    hp_choice bare[WORDS_MAX + 1] = {{NULL, NULL}};
    const hp_choice *choices = q->offered ? q->offered(&form->given) : q->choices;
    const char *const *words = field_of(form, q)->words;
    char usual[USUAL_SIZE];
    int index = 0;
    for (int k = 0; !choices && words[k] && k < WORDS_MAX; k++)
        bare[k] = (hp_choice){words[k], words[k]};
    if (!choices)
        choices = bare;
    int count = count_of(choices);
    hp_answer answer =
        hp_ask_choice(form->ask, q->text, q->help, choices, count,
                      usual_index(choices, count, usual_of(form, q, usual, sizeof usual)), &index);
    if (answer == HP_ANSWER_GIVEN && index >= 0)
        take_word(form, q, choices[index].word);
    return answer;
}

static hp_answer ask_yes_no(hp_form *form, const hp_question *q, const char *text, int *index)
{
    char usual[USUAL_SIZE];
    return hp_ask_choice(form->ask, text, q->help, yes_no, 2,
                         usual_index(yes_no, 2, usual_of(form, q, usual, sizeof usual)), index);
}

static hp_answer ask_tell(hp_form *form, const hp_question *q)
{
    int index = 0;
    hp_answer answer = ask_yes_no(form, q, q->text, &index);
    if (answer == HP_ANSWER_GIVEN && index >= 0)
        take_word(form, q, yes_no[q->inverse ? 1 - index : index].word);
    return answer;
}

/* Whether what follows is to be asked at all. */
static hp_answer ask_gate(hp_form *form, const hp_question *q)
{
    int index = 0;
    hp_answer answer = ask_yes_no(form, q, q->text, &index);
    form->state.closed = answer != HP_ANSWER_GIVEN || index != 0;
    return answer;
}

/* ---- pairs ----------------------------------------------------------------------------------- */

static char *pair_text(const hp_form *form, const hp_question *q, char *out, size_t size)
{
    char name[2 * HP_LABEL_SIZE + 8];
    int left_out = hp_bench_pair_order[q->which];
    snprintf(name, sizeof name, "%s and %s", labels_of(form)->motor_lead[(left_out + 1) % 3],
             labels_of(form)->motor_lead[(left_out + 2) % 3]);
    snprintf(out, size, q->text, name);
    return out;
}

/* The same limits, for the number of one pair. */
static hp_field one_pair(const hp_field *field, int pair)
{
    hp_field one = *field;
    one.type = HP_FIELD_NUMBER;
    one.limits.none = false;
    one.factor = 1.0;
    one.offset = field->offset + (size_t)pair * sizeof(double);
    return one;
}

static hp_answer ask_pair(hp_form *form, const hp_question *q)
{
    const hp_field *field = field_of(form, q);
    char text[TEXT_SIZE], why[WHY_SIZE];
    int pair = hp_bench_pair_order[q->which];
    hp_field one = one_pair(field, pair);
    double *number = (double *)((char *)values_of(form) + field->offset);
    /* One pair at least must be there. */
    bool last =
        q->which == HP_PHASE_COUNT - 1 && isnan(number[0]) && isnan(number[1]) && isnan(number[2]);
    pair_text(form, q, text, sizeof text);
    for (;;) {
        hp_answer answer =
            hp_ask_text(form->ask, text, q->help, last ? NULL : "", "Enter: not measured");
        if (answer != HP_ANSWER_GIVEN || form->ask->text[0] == '\0')
            return answer;
        if (field->limits.none && strcmp(form->ask->text, "open") == 0) {
            number[pair] = INFINITY;
            return HP_ANSWER_GIVEN;
        }
        if (hp_bench_typed_read(&one, "the answer", form->ask->text, labels_of(form),
                                &form->state.entry, why, sizeof why))
            return HP_ANSWER_GIVEN;
        hp_ask_say(form->ask, "No: %s%s.", why, field->limits.none ? ", or open" : "");
    }
}

/* One pair, or all at once: a "no" then leaves each open to be asked. */
static hp_answer ask_continuity(hp_form *form, const hp_question *q)
{
    char text[TEXT_SIZE];
    int index = 0;
    hp_tell *open = (hp_tell *)((char *)values_of(form) + field_of(form, q)->offset);
    bool all = q->which == HP_QUESTION_ALL;
    hp_answer answer =
        ask_yes_no(form, q, all ? q->text : pair_text(form, q, text, sizeof text), &index);
    if (answer != HP_ANSWER_GIVEN)
        return answer;
    if (!all)
        open[hp_bench_pair_order[q->which]] = index == 0 ? HP_TELL_NO : HP_TELL_YES;
    for (int k = 0; all && k < HP_PHASE_COUNT; k++)
        open[k] = index == 0 ? HP_TELL_NO : HP_TELL_UNSAID;
    return answer;
}

/* ---- pins of the plug ------------------------------------------------------------------------ */

static char *plug_lead_name(const hp_labels *labels, int lead, char *out, size_t size)
{
    if (lead < HP_PLUG_SENSOR_U)
        snprintf(out, size, "the phase lead %s", labels->motor_lead[lead]);
    else if (lead < HP_PLUG_SUPPLY_PLUS)
        snprintf(out, size, "the Hall lead %s", labels->motor_sensor[lead - HP_PLUG_SENSOR_U]);
    else
        snprintf(out, size, "Hall %s", lead == HP_PLUG_SUPPLY_PLUS ? "plus" : "minus");
    return out;
}

static hp_answer ask_pin(hp_form *form, const hp_question *q)
{
    char text[TEXT_SIZE], name[NAME_SIZE], other[NAME_SIZE];
    hp_field field = *field_of(form, q);
    field.name = "pin";
    field.type = HP_FIELD_PIN;
    field.first = q->which;
    hp_plug_map *plug = (hp_plug_map *)((char *)values_of(form) + field.offset);
    plug_lead_name(labels_of(form), q->which, name, sizeof name);
    snprintf(text, sizeof text, q->text, name);
    for (;;) {
        int twice = -1;
        hp_answer answer = ask_field(form, &field, q, text);
        if (answer != HP_ANSWER_GIVEN)
            return answer;
        for (int k = 0; k < q->which; k++)
            if (hp_plug_same_pin(plug->pin[k], plug->pin[q->which]))
                twice = k;
        if (twice < 0)
            return HP_ANSWER_GIVEN;
        hp_ask_say(form->ask, "No: pin %s has %s already, must be another pin.",
                   plug->pin[q->which],
                   plug_lead_name(labels_of(form), twice, other, sizeof other));
        plug->pin[q->which][0] = '\0';
    }
}

/* ---- leads and rows -------------------------------------------------------------------------- */

/* The default's index: a lead by its letter. */
static int usual_lead(const char *usual)
{
    for (int k = 0; usual && k < HP_PHASE_COUNT; k++)
        if (usual[0] == hp_phase_letter(k))
            return k;
    return -1;
}

/* One of three leads by digit, label or letter. */
static hp_answer ask_three(hp_form *form, const hp_question *q,
                           const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], int *lead)
{
    hp_choice choices[HP_PHASE_COUNT];
    char out[USUAL_SIZE];
    int usual = usual_lead(usual_of(form, q, out, sizeof out));
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        choices[k] = (hp_choice){label[k], label[k]};
    return hp_ask_choice(form->ask, q->text, q->help, choices, HP_PHASE_COUNT, usual, lead);
}

static hp_answer ask_lead(hp_form *form, const hp_question *q)
{
    int *lead = (int *)((char *)values_of(form) + field_of(form, q)->offset);
    return ask_three(form, q, labels_of(form)->motor_lead, lead);
}

static hp_answer ask_part_lead(hp_form *form, const hp_question *q)
{
    const hp_labels *labels = labels_of(form);
    hp_mend *mend = (hp_mend *)((char *)values_of(form) + field_of(form, q)->offset);
    return ask_three(
        form, q, mend->fault.kind == HP_FAULT_LEAD_OPEN ? labels->motor_lead : labels->motor_sensor,
        &mend->fault.which);
}

/* Two names with a blank between become "high > low", at whichever blank that works. */
static bool read_row(const hp_form *form, const hp_field *field, const char *code, const char *text,
                     hp_bench_entry *entry, char *why, size_t size)
{
    char typed[HP_ASK_TEXT_SIZE + 16];
    if (strlen(text) > 200) {
        snprintf(why, size, "that is too long");
        return false;
    }
    for (const char *blank = strchr(text, ' '); blank && !strchr(text, '>');
         blank = strchr(blank + 1, ' ')) {
        snprintf(typed, sizeof typed, "%s=%.*s > %s", code, (int)(blank - text), text, blank + 1);
        if (hp_bench_typed_read(field, "the answer", typed, labels_of(form), entry, why, size))
            return true;
    }
    snprintf(typed, sizeof typed, "%s=%s", code, text);
    return hp_bench_typed_read(field, "the answer", typed, labels_of(form), entry, why, size);
}

static hp_answer ask_row(hp_form *form, const hp_question *q)
{
    const hp_labels *labels = labels_of(form);
    const hp_field *field = field_of(form, q);
    const hp_probe *probe = (const hp_probe *)((char *)values_of(form) + field->offset);
    char text[TEXT_SIZE], code[4], name[NAME_SIZE + 100], why[WHY_SIZE];
    bool any = false;
    hp_code_words(q->which, code);
    snprintf(name, sizeof name, "%s (%.40s: %c, %.40s: %c, %.40s: %c)", code,
             labels->controller_input[HP_U], code[0], labels->controller_input[HP_V], code[1],
             labels->controller_input[HP_W], code[2]);
    snprintf(text, sizeof text, q->text, name);
    for (int k = 0; k < HP_CODE_COUNT; k++)
        any = any || probe->read[k];
    /* One code at least must be there by the last. */
    const char *fallback = q->which == HP_CODE_COUNT - 1 && !any ? NULL : "";
    for (;;) {
        hp_answer answer = hp_ask_text(form->ask, text, q->help, fallback, "Enter: not tried");
        if (answer != HP_ANSWER_GIVEN || form->ask->text[0] == '\0' ||
            read_row(form, field, code, form->ask->text, &form->state.entry, why, sizeof why))
            return answer;
        hp_ask_say(form->ask, "No: must be two outputs of %s, %s and %s, or off.",
                   labels->controller_output[HP_U], labels->controller_output[HP_V],
                   labels->controller_output[HP_W]);
    }
}

/* ---- all types ------------------------------------------------------------------------------- */

hp_answer hp_form_put(hp_form *form, const hp_question *question)
{
    static hp_answer (*const ask[HP_FIELD_TYPE_COUNT])(hp_form *, const hp_question *) = {
        [HP_FIELD_NUMBER] = ask_typed,
        [HP_FIELD_WHOLE] = ask_typed,
        [HP_FIELD_TELL] = ask_tell,
        [HP_FIELD_CHOICE] = ask_word,
        [HP_FIELD_WAY] = ask_word,
        [HP_FIELD_PAIRS] = ask_pair,
        [HP_FIELD_CONTINUITY] = ask_continuity,
        [HP_FIELD_CODES] = ask_typed,
        [HP_FIELD_CODE] = ask_typed,
        [HP_FIELD_LEAD] = ask_lead,
        [HP_FIELD_WIRING] = ask_typed,
        [HP_FIELD_ROWS] = ask_row,
        [HP_FIELD_PHASE_PINS] = ask_pin,
        [HP_FIELD_SENSOR_PINS] = ask_pin,
        [HP_FIELD_PIN] = ask_pin,
        [HP_FIELD_PART] = ask_word,
        [HP_FIELD_PART_LEAD] = ask_part_lead,
    };
    if (!question->field)
        return ask_gate(form, question);
    return ask[field_of(form, question)->type](form, question);
}
