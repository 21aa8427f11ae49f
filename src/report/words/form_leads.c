/*
 * Questions about the leads of motor and controller: pairs of phase leads, pins of the motor's
 * plug, one lead of three, rows of the controller's table; one at a time, as nobody types a
 * mapping. See form_parts.h.
 */
#include "report/words/form_parts.h"

#include "decide/reading/reading_parts.h"
#include "model/plug.h"

#include <math.h>
#include <string.h>

/* ---- pairs -------------------------------------------------------------------------------------
 */

static int pair_of(const hp_form_part *f)
{
    return hp_bench_pair_order[f->question->which];
}

static void put_pair_text(const hp_form_part *f, hp_form_question *put)
{
    char name[2 * HP_LABEL_SIZE + 8];
    int left_out = pair_of(f);
    snprintf(name, sizeof name, "%s and %s", hp_form_labels(f)->motor_lead[(left_out + 1) % 3],
             hp_form_labels(f)->motor_lead[(left_out + 2) % 3]);
    snprintf(put->text, sizeof put->text, f->question->text, name);
}

/* One pair at least must be there by the last. */
static void put_pair(const hp_form_part *f, hp_form_question *put)
{
    const double *number = hp_form_at(f);
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

static bool take_pair(const hp_form_part *f, const char *answer)
{
    const hp_field one = one_pair(f->field, pair_of(f));
    bool may_be_open = f->field->limits.none;
    if (may_be_open && strcmp(answer, "open") == 0) {
        ((double *)hp_form_at(f))[pair_of(f)] = INFINITY;
        return true;
    }
    if (hp_form_read_number(f, &one, answer))
        return true;
    hp_phrase why = hp_phrase_resume(f->why, f->size);
    hp_phrase_add(&why, "%s", may_be_open ? ", or open" : "");
    return false;
}

static void say_pair(const hp_form_part *f, hp_phrase *p)
{
    hp_form_add_number(((const double *)hp_form_at(f))[pair_of(f)], p);
}

static void put_continuity(const hp_form_part *f, hp_form_question *put)
{
    if (f->question->which != HP_QUESTION_ALL)
        put_pair_text(f, put);
    hp_form_add_yes_no(put);
}

/* One pair, or all at once: a "no" then leaves each open to be asked. */
static bool take_continuity(const hp_form_part *f, const char *answer)
{
    hp_tell *open = hp_form_at(f);
    bool yes = hp_form_is_yes(answer);
    if (f->question->which != HP_QUESTION_ALL)
        open[pair_of(f)] = yes ? HP_TELL_NO : HP_TELL_YES;
    for (int k = 0; f->question->which == HP_QUESTION_ALL && k < HP_PHASE_COUNT; k++)
        open[k] = yes ? HP_TELL_NO : HP_TELL_UNSAID;
    return true;
}

static void say_continuity(const hp_form_part *f, hp_phrase *p)
{
    const hp_tell *open = hp_form_at(f);
    hp_tell tell = HP_TELL_NO; /* of all: one that is open, or not said, is told by itself */
    if (f->question->which != HP_QUESTION_ALL)
        tell = open[pair_of(f)];
    for (int k = 0; f->question->which == HP_QUESTION_ALL && k < HP_PHASE_COUNT; k++)
        if (open[k] != HP_TELL_NO)
            tell = HP_TELL_YES;
    if (tell != HP_TELL_UNSAID)
        hp_phrase_add(p, "%s", hp_form_yes_no[tell == HP_TELL_NO ? 0 : 1].word);
}

/* ---- pins of the plug --------------------------------------------------------------------------
 */

/* With its article where it has one: "the phase lead yellow", "Hall plus". */
static char *the_plug_lead(const hp_labels *labels, int lead, char *out, size_t size)
{
    char name[HP_FORM_NAME];
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "%s%s", lead < HP_PLUG_SUPPLY_PLUS ? "the " : "",
                  hp_plug_lead_name(labels, lead, name, sizeof name));
    return out;
}

static void put_pin(const hp_form_part *f, hp_form_question *put)
{
    char name[HP_FORM_NAME];
    the_plug_lead(hp_form_labels(f), f->question->which, name, sizeof name);
    snprintf(put->text, sizeof put->text, f->question->text, name);
}

static bool take_pin(const hp_form_part *f, const char *answer)
{
    char other[HP_FORM_NAME];
    hp_plug_map *plug = hp_form_at(f);
    hp_field field = *f->field;
    int which = f->question->which;
    field.name = "pin";
    field.type = HP_FIELD_PIN;
    field.first = which;
    if (!hp_form_read(f, &field, answer))
        return false;
    for (int k = which - 1; k >= 0; k--)
        if (hp_plug_same_pin(plug->pin[k], plug->pin[which]))
            return hp_form_refuse(f, "pin %s has %s already, must be another pin", plug->pin[which],
                                  the_plug_lead(hp_form_labels(f), k, other, sizeof other));
    return true;
}

static void say_pin(const hp_form_part *f, hp_phrase *p)
{
    const hp_plug_map *plug = hp_form_at(f);
    if (plug->given)
        hp_phrase_add(p, "%s", plug->pin[f->question->which]);
}

/* ---- leads and rows ----------------------------------------------------------------------------
 */

/* One of three; what stands for no answer is a letter of its axis. */
static void put_three(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], hp_form_question *put)
{
    int usual = -1;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        hp_form_add_choice(put, label[k], label[k]);
        if (put->fallback[0] == hp_phase_letter(k))
            usual = k;
    }
    put->required = usual < 0;
    snprintf(put->fallback, sizeof put->fallback, "%s", usual < 0 ? "" : label[usual]);
}

static bool take_three(const hp_form_part *f, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE],
                       const char *answer, int *lead)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (strcmp(label[k], answer) == 0) {
            *lead = k;
            return true;
        }
    return hp_form_refuse(f, "that is none of the leads");
}

static void put_lead(const hp_form_part *f, hp_form_question *put)
{
    put_three(hp_form_labels(f)->motor_lead, put);
}

static bool take_lead(const hp_form_part *f, const char *answer)
{
    return take_three(f, hp_form_labels(f)->motor_lead, answer, hp_form_at(f));
}

static void say_lead(const hp_form_part *f, hp_phrase *p)
{
    int lead = *(const int *)hp_form_at(f);
    if (lead >= 0 && lead < HP_PHASE_COUNT)
        hp_phrase_add(p, "%s", hp_form_labels(f)->motor_lead[lead]);
}

/* The three leads of which the mended part is one. */
static const char (*part_leads(const hp_form_part *f))[HP_LABEL_SIZE]
{
    const hp_mend *mend = hp_form_at(f);
    return mend->fault.kind == HP_FAULT_LEAD_OPEN ? hp_form_labels(f)->motor_lead
                                                  : hp_form_labels(f)->motor_sensor;
}

static void put_part_lead(const hp_form_part *f, hp_form_question *put)
{
    put_three(part_leads(f), put);
}

static bool take_part_lead(const hp_form_part *f, const char *answer)
{
    hp_mend *mend = hp_form_at(f);
    int lead = mend->inverter - 1;
    if (mend->what != HP_MENDED_INVERSION)
        return take_three(f, part_leads(f), answer, &mend->fault.which);
    bool taken = take_three(f, part_leads(f), answer, &lead);
    mend->inverter = lead + 1;
    return taken;
}

static void say_part_lead(const hp_form_part *f, hp_phrase *p)
{
    const hp_mend *mend = hp_form_at(f);
    if (mend->inverter > 0)
        hp_phrase_add(p, "%s", part_leads(f)[mend->inverter - 1]);
    else if (hp_mend_has_lead(mend))
        hp_phrase_add(p, "%s", part_leads(f)[mend->fault.which]);
}

static void put_row(const hp_form_part *f, hp_form_question *put)
{
    const hp_labels *labels = hp_form_labels(f);
    const hp_probe *probe = hp_form_at(f);
    char code[4], name[HP_FORM_NAME + 100];
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
static bool read_row(const hp_form_part *f, const char *text)
{
    char code[4], typed[HP_FORM_ROW + 24];
    hp_code_words(f->question->which, code);
    for (const char *blank = strchr(text, ' '); blank && !strchr(text, '>');
         blank = strchr(blank + 1, ' ')) {
        snprintf(typed, sizeof typed, "%s=%.*s > %s", code, (int)(blank - text), text, blank + 1);
        if (hp_form_read(f, f->field, typed))
            return true;
    }
    snprintf(typed, sizeof typed, "%s=%s", code, text);
    return hp_form_read(f, f->field, typed);
}

static bool take_row(const hp_form_part *f, const char *answer)
{
    const hp_labels *labels = hp_form_labels(f);
    if (strlen(answer) <= HP_FORM_ROW && read_row(f, answer))
        return true;
    return hp_form_refuse(f, "must be two outputs of %s, %s and %s, or off",
                          labels->controller_output[HP_U], labels->controller_output[HP_V],
                          labels->controller_output[HP_W]);
}

static void say_row(const hp_form_part *f, hp_phrase *p)
{
    const hp_probe *probe = hp_form_at(f);
    const hp_commutation_row *row = &probe->row[f->question->which];
    const hp_labels *labels = hp_form_labels(f);
    if (!probe->read[f->question->which])
        return;
    if (row->high < 0)
        hp_phrase_add(p, "off");
    else
        hp_phrase_add(p, "%s > %s", labels->controller_output[row->high],
                      labels->controller_output[row->low]);
}

/* ---- the types ------------------------------------------------------------------------------- */

const hp_form_type hp_form_pair = {put_pair, take_pair, say_pair};
const hp_form_type hp_form_continuity = {put_continuity, take_continuity, say_continuity};
const hp_form_type hp_form_pin = {put_pin, take_pin, say_pin};
const hp_form_type hp_form_lead = {put_lead, take_lead, say_lead};
const hp_form_type hp_form_part_lead = {put_part_lead, take_part_lead, say_part_lead};
const hp_form_type hp_form_row = {put_row, take_row, say_row};
