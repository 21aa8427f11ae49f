/*
 * Forms: see the header. One row a type of field says how a question about it is put, how its
 * answer is taken, and what answer an entry gives.
 *
 * Values are read by the reader of logs itself (hp_bench_typed_read), so that it alone decides what
 * is right; here stands what a question asks for in another way than the log notes it: one pair,
 * one pin, one code at a time, the opposite of what is noted, all pairs at once.
 */
#include "hubphase/report/forms.h"

#include "decide/reading/plug_volts.h"
#include "decide/reading/reading_parts.h"
#include "hubphase/base/text.h"
#include "model/plug.h"
#include "record/log/field.h"
#include "record/scenario/scenario_number.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#define NAME_SIZE 300
#define ROW_MOST  200 /* bytes of a row as it is typed */

const char hp_form_wanted[] = "An answer is wanted here.";

static const hp_choice yes_no[] = {{"yes", "yes"}, {"no", "no"}};

/* What a question is about, and who is told what is wrong with its answer. */
typedef struct form {
    const hp_question_case *given;
    const hp_question *question;
    const hp_field *field; /* NULL: a gate */
    hp_bench_entry *entry;
    char *why;
    size_t size;
} form;

typedef struct form_type {
    void (*put)(const form *f, hp_form_question *put);
    bool (*take)(const form *f, const char *answer);
    void (*said)(const form *f, hp_phrase *p);
} form_type;

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

/* ---- shared ---------------------------------------------------------------------------------- */

static const hp_labels *labels_of(const form *f)
{
    return f->given->labels;
}

static void *at_field(const form *f)
{
    return (char *)hp_entry_values(&f->entry->entry) + f->field->offset;
}

static bool refuse(const form *f, const char *format, ...) __attribute__((format(printf, 2, 3)));

static bool refuse(const form *f, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    vsnprintf(f->why, f->size, format, args);
    va_end(args);
    return false;
}

static bool read_as(const form *f, const hp_field *field, const char *answer)
{
    return hp_bench_typed_read(field, "the answer", answer, labels_of(f), f->entry, f->why,
                               f->size);
}

static void add_choice(hp_form_question *put, const char *word, const char *text)
{
    if (put->choices < HP_FORM_CHOICES)
        put->choice[put->choices++] = (hp_choice){word, text};
}

static void add_yes_no(hp_form_question *put)
{
    for (int k = 0; k < 2; k++)
        add_choice(put, yes_no[k].word, yes_no[k].text);
}

static bool is_yes(const char *answer)
{
    return strcmp(answer, yes_no[0].word) == 0;
}

/* A field whose value is one word or number without quotes is told as the log notes it. */
static void say_noted(const form *f, hp_phrase *p)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = hp_field_is_said(f->field, &f->entry->entry) ? open_memstream(&text, &size) : NULL;
    if (!out)
        return;
    hp_field_put(out, f->field, &f->entry->entry, labels_of(f));
    if (fclose(out) == 0)
        hp_phrase_add(p, "%s", text);
    free(text);
}

static void add_number(double number, hp_phrase *p)
{
    if (isinf(number))
        hp_phrase_add(p, "open");
    else if (!isnan(number))
        hp_phrase_add(p, "%.10g", number);
}

/* ---- typed values ---------------------------------------------------------------------------- */

/* The field with the limits that the answers so far set. */
static hp_field narrowed(const form *f)
{
    hp_field field = *f->field;
    if (f->question->narrow)
        f->question->narrow(hp_entry_said(&f->entry->entry), &field.limits);
    return field;
}

static void put_typed(const form *f, hp_form_question *put)
{
    put->limits = narrowed(f).limits;
}

static bool take_typed(const form *f, const char *answer)
{
    const hp_field field = narrowed(f);
    return read_as(f, &field, answer);
}

/* A number, spelled as a meter or a hand does it: with a comma, with its unit. */
static bool read_number(const form *f, const hp_field *field, const char *answer)
{
    char typed[HP_FORM_ANSWER];
    const char *unit = field->limits.unit ? field->limits.unit : "";
    return read_as(f, field, hp_number_typed(answer, unit, typed, sizeof typed));
}

static bool take_number(const form *f, const char *answer)
{
    const hp_field field = narrowed(f);
    return read_number(f, &field, answer);
}

static void say_code(const form *f, hp_phrase *p)
{
    char digits[4];
    int code = *(const int *)at_field(f);
    if (code >= 0)
        hp_phrase_add(p, "%s", hp_code_words(code, digits));
}

static void say_codes(const form *f, hp_phrase *p)
{
    const hp_hand_turn *turn = at_field(f);
    char digits[4];
    for (int k = 0; k < turn->count; k++)
        hp_phrase_add(p, "%s%s", k ? " " : "", hp_code_words(turn->code[k], digits));
}

static void say_wiring(const form *f, hp_phrase *p)
{
    hp_phrase_add(p, "%d", hp_wiring_number(at_field(f)));
}

/* ---- words ----------------------------------------------------------------------------------- */

static void put_word(const form *f, hp_form_question *put)
{
    const hp_question *q = f->question;
    const hp_choice *choices = q->offered ? q->offered(f->given) : q->choices;
    const char *const *words = f->field->words;
    for (; choices && choices->word; choices++)
        add_choice(put, choices->word, choices->text);
    for (bool bare = put->choices == 0; bare && *words; words++)
        add_choice(put, *words, *words);
}

static bool take_word(const form *f, const char *answer)
{
    return read_as(f, f->field, answer);
}

static void put_tell(const form *f, hp_form_question *put)
{
    (void)f;
    add_yes_no(put);
}

static bool take_tell(const form *f, const char *answer)
{
    bool yes = is_yes(answer) != f->question->inverse;
    return read_as(f, f->field, yes_no[yes ? 0 : 1].word);
}

static void say_tell(const form *f, hp_phrase *p)
{
    hp_tell tell = *(const hp_tell *)at_field(f);
    if (tell != HP_TELL_UNSAID)
        hp_phrase_add(p, "%s", yes_no[(tell == HP_TELL_YES) != f->question->inverse ? 0 : 1].word);
}

/* ---- pairs ----------------------------------------------------------------------------------- */

static int pair_of(const form *f)
{
    return hp_bench_pair_order[f->question->which];
}

static void put_pair_text(const form *f, hp_form_question *put)
{
    char name[2 * HP_LABEL_SIZE + 8];
    int left_out = pair_of(f);
    snprintf(name, sizeof name, "%s and %s", labels_of(f)->motor_lead[(left_out + 1) % 3],
             labels_of(f)->motor_lead[(left_out + 2) % 3]);
    snprintf(put->text, sizeof put->text, f->question->text, name);
}

/* One pair at least must be there by the last. */
static void put_pair(const form *f, hp_form_question *put)
{
    const double *number = at_field(f);
    put_pair_text(f, put);
    put->required = f->question->which == HP_PHASE_COUNT - 1 && isnan(number[0]) &&
                    isnan(number[1]) && isnan(number[2]);
    put->shown = "Enter: not measured";
    put->limits = f->field->limits;
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

static bool take_pair(const form *f, const char *answer)
{
    const hp_field one = one_pair(f->field, pair_of(f));
    bool may_be_open = f->field->limits.none;
    if (may_be_open && strcmp(answer, "open") == 0) {
        ((double *)at_field(f))[pair_of(f)] = INFINITY;
        return true;
    }
    if (read_number(f, &one, answer))
        return true;
    hp_phrase why = hp_phrase_resume(f->why, f->size);
    hp_phrase_add(&why, "%s", may_be_open ? ", or open" : "");
    return false;
}

static void say_pair(const form *f, hp_phrase *p)
{
    add_number(((const double *)at_field(f))[pair_of(f)], p);
}

static void put_continuity(const form *f, hp_form_question *put)
{
    if (f->question->which != HP_QUESTION_ALL)
        put_pair_text(f, put);
    add_yes_no(put);
}

/* One pair, or all at once: a "no" then leaves each open to be asked. */
static bool take_continuity(const form *f, const char *answer)
{
    hp_tell *open = at_field(f);
    bool yes = is_yes(answer);
    if (f->question->which != HP_QUESTION_ALL)
        open[pair_of(f)] = yes ? HP_TELL_NO : HP_TELL_YES;
    for (int k = 0; f->question->which == HP_QUESTION_ALL && k < HP_PHASE_COUNT; k++)
        open[k] = yes ? HP_TELL_NO : HP_TELL_UNSAID;
    return true;
}

static void say_continuity(const form *f, hp_phrase *p)
{
    const hp_tell *open = at_field(f);
    hp_tell tell = HP_TELL_NO; /* of all: one that is open, or not said, is told by itself */
    if (f->question->which != HP_QUESTION_ALL)
        tell = open[pair_of(f)];
    for (int k = 0; f->question->which == HP_QUESTION_ALL && k < HP_PHASE_COUNT; k++)
        if (open[k] != HP_TELL_NO)
            tell = HP_TELL_YES;
    if (tell != HP_TELL_UNSAID)
        hp_phrase_add(p, "%s", yes_no[tell == HP_TELL_NO ? 0 : 1].word);
}

/* ---- pins of the plug ------------------------------------------------------------------------ */

/* With its article where it has one: "the phase lead yellow", "Hall plus". */
static char *the_plug_lead(const hp_labels *labels, int lead, char *out, size_t size)
{
    char name[NAME_SIZE];
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "%s%s", lead < HP_PLUG_SUPPLY_PLUS ? "the " : "",
                  hp_plug_lead_name(labels, lead, name, sizeof name));
    return out;
}

static void put_pin(const form *f, hp_form_question *put)
{
    char name[NAME_SIZE];
    the_plug_lead(labels_of(f), f->question->which, name, sizeof name);
    snprintf(put->text, sizeof put->text, f->question->text, name);
}

static bool take_pin(const form *f, const char *answer)
{
    char other[NAME_SIZE];
    hp_plug_map *plug = at_field(f);
    hp_field field = *f->field;
    int which = f->question->which;
    field.name = "pin";
    field.type = HP_FIELD_PIN;
    field.first = which;
    if (!read_as(f, &field, answer))
        return false;
    for (int k = which - 1; k >= 0; k--)
        if (hp_plug_same_pin(plug->pin[k], plug->pin[which]))
            return refuse(f, "pin %s has %s already, must be another pin", plug->pin[which],
                          the_plug_lead(labels_of(f), k, other, sizeof other));
    return true;
}

static void say_pin(const form *f, hp_phrase *p)
{
    const hp_plug_map *plug = at_field(f);
    if (plug->given)
        hp_phrase_add(p, "%s", plug->pin[f->question->which]);
}

/* ---- leads and rows -------------------------------------------------------------------------- */

/* One of three; what stands for no answer is a letter of its axis. */
static void put_three(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], hp_form_question *put)
{
    int usual = -1;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        add_choice(put, label[k], label[k]);
        if (put->fallback[0] == hp_phase_letter(k))
            usual = k;
    }
    put->required = usual < 0;
    snprintf(put->fallback, sizeof put->fallback, "%s", usual < 0 ? "" : label[usual]);
}

static bool take_three(const form *f, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE],
                       const char *answer, int *lead)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (strcmp(label[k], answer) == 0) {
            *lead = k;
            return true;
        }
    return refuse(f, "that is none of the leads");
}

static void put_lead(const form *f, hp_form_question *put)
{
    put_three(labels_of(f)->motor_lead, put);
}

static bool take_lead(const form *f, const char *answer)
{
    return take_three(f, labels_of(f)->motor_lead, answer, at_field(f));
}

static void say_lead(const form *f, hp_phrase *p)
{
    int lead = *(const int *)at_field(f);
    if (lead >= 0 && lead < HP_PHASE_COUNT)
        hp_phrase_add(p, "%s", labels_of(f)->motor_lead[lead]);
}

/* The three leads of which the mended part is one. */
static const char (*part_leads(const form *f))[HP_LABEL_SIZE]
{
    const hp_mend *mend = at_field(f);
    return mend->fault.kind == HP_FAULT_LEAD_OPEN ? labels_of(f)->motor_lead
                                                  : labels_of(f)->motor_sensor;
}

static void put_part_lead(const form *f, hp_form_question *put)
{
    put_three(part_leads(f), put);
}

static bool take_part_lead(const form *f, const char *answer)
{
    hp_mend *mend = at_field(f);
    return take_three(f, part_leads(f), answer, &mend->fault.which);
}

static void say_part_lead(const form *f, hp_phrase *p)
{
    const hp_mend *mend = at_field(f);
    if (hp_mend_has_lead(mend))
        hp_phrase_add(p, "%s", part_leads(f)[mend->fault.which]);
}

static void put_row(const form *f, hp_form_question *put)
{
    const hp_labels *labels = labels_of(f);
    const hp_probe *probe = at_field(f);
    char code[4], name[NAME_SIZE + 100];
    bool any = false;
    hp_code_words(f->question->which, code);
    snprintf(name, sizeof name, "%s (%.40s: %c, %.40s: %c, %.40s: %c)", code,
             labels->controller_input[HP_U], code[0], labels->controller_input[HP_V], code[1],
             labels->controller_input[HP_W], code[2]);
    snprintf(put->text, sizeof put->text, f->question->text, name);
    for (int k = 0; k < HP_CODE_COUNT; k++)
        any = any || probe->read[k];
    /* One code at least must be there by the last. */
    put->required = f->question->which == HP_CODE_COUNT - 1 && !any;
    put->shown = "Enter: not tried";
}

/* Two names with a blank between become "high > low", at whichever blank that works. */
static bool read_row(const form *f, const char *text)
{
    char code[4], typed[ROW_MOST + 24];
    hp_code_words(f->question->which, code);
    for (const char *blank = strchr(text, ' '); blank && !strchr(text, '>');
         blank = strchr(blank + 1, ' ')) {
        snprintf(typed, sizeof typed, "%s=%.*s > %s", code, (int)(blank - text), text, blank + 1);
        if (read_as(f, f->field, typed))
            return true;
    }
    snprintf(typed, sizeof typed, "%s=%s", code, text);
    return read_as(f, f->field, typed);
}

static bool take_row(const form *f, const char *answer)
{
    const hp_labels *labels = labels_of(f);
    if (strlen(answer) <= ROW_MOST && read_row(f, answer))
        return true;
    return refuse(f, "must be two outputs of %s, %s and %s, or off",
                  labels->controller_output[HP_U], labels->controller_output[HP_V],
                  labels->controller_output[HP_W]);
}

static void say_row(const form *f, hp_phrase *p)
{
    const hp_probe *probe = at_field(f);
    const hp_commutation_row *row = &probe->row[f->question->which];
    const hp_labels *labels = labels_of(f);
    if (!probe->read[f->question->which])
        return;
    if (row->high < 0)
        hp_phrase_add(p, "off");
    else
        hp_phrase_add(p, "%s > %s", labels->controller_output[row->high],
                      labels->controller_output[row->low]);
}

/* ---- pins of a control ----------------------------------------------------------------------- */

static bool is_number(const char *word)
{
    char *end;
    (void)strtod(word, &end);
    return end != word && *end == '\0';
}

/* "red 5.02 5.01": the numbers at the end are volts, what stands before them is the pin. */
static bool take_pin_volts(const form *f, const char *answer)
{
    char typed[ROW_MOST + 8], name[ROW_MOST + 1], expected[NAME_SIZE];
    size_t length = strlen(answer);
    int most = f->field->first > 0 ? f->field->first : 1, count = 0;
    if (length > ROW_MOST || strchr(answer, '='))
        return refuse(f, "must be %s",
                      hp_field_expected(f->field, labels_of(f), expected, sizeof expected));
    snprintf(name, sizeof name, "%s", answer);
    for (char *c = name; *c; c++)
        if (strchr(",;/", *c))
            *c = ' ';
    size_t used = length, volts = length;
    while (count < most) {
        while (used > 0 && name[used - 1] == ' ')
            name[--used] = '\0';
        size_t begin = used;
        while (begin > 0 && name[begin - 1] != ' ')
            begin--;
        if (begin == 0 || !is_number(name + begin))
            break;
        volts = used = begin;
        name[used] = '\0';
        count++;
    }
    while (used > 0 && name[used - 1] == ' ')
        name[--used] = '\0';
    snprintf(typed, sizeof typed, "%s=%s", name, answer + volts);
    return read_as(f, f->field, typed);
}

static void say_pin_volts(const form *f, hp_phrase *p)
{
    const hp_plug_volts *plug = at_field(f);
    int pin = f->question->which;
    bool pulled = f->field->first == 0;
    if (pin == HP_QUESTION_ALL) /* any one: the first that has it */
        for (pin = 0; pin < plug->pins && isnan(plug->off[pin]);)
            pin++;
    if (pin >= plug->pins || (pulled ? isnan(plug->off[pin]) : plug->states[pin] == 0))
        return;
    hp_phrase_add(p, "%s", plug->name[pin]);
    for (int s = 0; !pulled && s < plug->states[pin]; s++)
        hp_phrase_add(p, " %.10g", plug->at[s][pin]);
    if (pulled)
        hp_phrase_add(p, " %.10g", plug->off[pin]);
}

static void put_pin_volts(const form *f, hp_form_question *put)
{
    (void)f;
    put->limits = (hp_limits){.unit = ""};
}

static bool take_minus_pin(const form *f, const char *answer)
{
    return read_as(f, f->field, answer);
}

/* ---- all types ------------------------------------------------------------------------------- */

static const form_type types[HP_FIELD_TYPE_COUNT] = {
    [HP_FIELD_NUMBER] = {put_typed, take_number, say_noted},
    [HP_FIELD_WHOLE] = {put_typed, take_number, say_noted},
    [HP_FIELD_TELL] = {put_tell, take_tell, say_tell},
    [HP_FIELD_CHOICE] = {put_word, take_word, say_noted},
    [HP_FIELD_WAY] = {put_word, take_word, say_noted},
    [HP_FIELD_PAIRS] = {put_pair, take_pair, say_pair},
    [HP_FIELD_CONTINUITY] = {put_continuity, take_continuity, say_continuity},
    [HP_FIELD_CODES] = {put_typed, take_typed, say_codes},
    [HP_FIELD_CODE] = {put_typed, take_typed, say_code},
    [HP_FIELD_LEAD] = {put_lead, take_lead, say_lead},
    [HP_FIELD_WIRING] = {put_typed, take_typed, say_wiring},
    [HP_FIELD_ROWS] = {put_row, take_row, say_row},
    [HP_FIELD_PHASE_PINS] = {put_pin, take_pin, say_pin},
    [HP_FIELD_SENSOR_PINS] = {put_pin, take_pin, say_pin},
    [HP_FIELD_PIN] = {put_pin, take_pin, say_pin},
    [HP_FIELD_PART] = {put_word, take_word, say_noted},
    [HP_FIELD_PART_LEAD] = {put_part_lead, take_part_lead, say_part_lead},
    [HP_FIELD_PIN_VOLTS] = {put_pin_volts, take_pin_volts, say_pin_volts},
    [HP_FIELD_MINUS_PIN] = {put_pin_volts, take_minus_pin, say_noted},
};

static form form_of(const hp_question_case *given, const hp_bench_entry *entry,
                    const hp_question *question)
{
    return (form){.given = given,
                  .question = question,
                  .field =
                      question->field ? hp_field_find(entry->entry.reading, question->field) : NULL,
                  .entry = (hp_bench_entry *)entry};
}

/* What no answer gives. */
static void put_fallback(const form *f, hp_form_question *put)
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
    const form f = form_of(given, &state->entry, question);
    memset(put, 0, sizeof *put);
    put->field = f.field;
    snprintf(put->text, sizeof put->text, "%s", question->text);
    put_fallback(&f, put);
    if (f.field)
        types[f.field->type].put(&f, put);
    else
        add_yes_no(put);
}

/* Whether the answer is the word of a choice. */
static bool is_offered(const form *f, const hp_form_question *put, const char *answer)
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
           refuse(f, "\"%.80s\" is none of the answers, must be %s", answer, words);
}

bool hp_form_take(const hp_question_case *given, hp_form_state *state, const hp_question *question,
                  const char *answer, char *why, size_t size)
{
    hp_form_question put;
    hp_form_state taken = *state;
    form f = form_of(given, &taken.entry, question);
    f.why = why;
    f.size = size;
    hp_form_question_make(given, state, question, &put);
    if (!answer[0] && !put.required)
        return true;
    if (!answer[0])
        return refuse(&f, "an answer is wanted here");
    if (!is_offered(&f, &put, answer))
        return false;
    if (!f.field)
        taken.closed = !is_yes(answer);
    else if (!types[f.field->type].take(&f, answer))
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
    const form f = form_of(given, entry, question);
    hp_phrase p = hp_phrase_begin(out, HP_FORM_ANSWER);
    if (f.field)
        types[f.field->type].said(&f, &p);
    else
        hp_phrase_add(&p, "%s", yes_no[is_open(given, entry, question) ? 0 : 1].word);
    return out;
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
