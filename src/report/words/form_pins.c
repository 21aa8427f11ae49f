/*
 * Questions about the pins of a control's plug: colour and volts of one pin at a time. See
 * form_parts.h.
 */
#include "report/words/form_parts.h"

#include "decide/reading/plug_volts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool is_number(const char *word)
{
    char *end;
    (void)strtod(word, &end);
    return end != word && *end == '\0';
}

/* "red 5.02 5.01": the numbers at the end are volts, what stands before them is the pin. */
static bool take_pin_volts(const hp_form_part *f, const char *answer)
{
    char typed[HP_FORM_ROW + 8], name[HP_FORM_ROW + 1], expected[HP_FORM_NAME];
    size_t length = strlen(answer);
    int most = f->field->first > 0 ? f->field->first : 1, count = 0;
    if (length > HP_FORM_ROW || strchr(answer, '='))
        return hp_form_refuse(
            f, "must be %s",
            hp_field_expected(f->field, hp_form_labels(f), expected, sizeof expected));
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
    return hp_form_read(f, f->field, typed);
}

static void say_pin_volts(const hp_form_part *f, hp_phrase *p)
{
    const hp_plug_volts *plug = hp_form_at(f);
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

static void put_pin_volts(const hp_form_part *f, hp_form_question *put)
{
    (void)f;
    put->limits = (hp_limits){.unit = ""};
}

static bool take_minus_pin(const hp_form_part *f, const char *answer)
{
    return hp_form_read(f, f->field, answer);
}

const hp_form_type hp_form_pin_volts = {put_pin_volts, take_pin_volts, say_pin_volts};
const hp_form_type hp_form_minus_pin = {put_pin_volts, take_minus_pin, hp_form_say_noted};
