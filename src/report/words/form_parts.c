/* What the files of the forms share: see the header. */
#include "report/words/form_parts.h"

#include "record/scenario/scenario_number.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

const hp_choice hp_form_yes_no[2] = {{"yes", "yes"}, {"no", "no"}};

const hp_labels *hp_form_labels(const hp_form_part *f)
{
    return f->given->labels;
}

void *hp_form_at(const hp_form_part *f)
{
    return (char *)hp_entry_values(&f->entry->entry) + f->field->offset;
}

bool hp_form_refuse(const hp_form_part *f, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    vsnprintf(f->why, f->size, format, args);
    va_end(args);
    return false;
}

bool hp_form_read(const hp_form_part *f, const hp_field *field, const char *answer)
{
    return hp_bench_typed_read(field, "the answer", answer, hp_form_labels(f), f->entry, f->why,
                               f->size);
}

bool hp_form_read_number(const hp_form_part *f, const hp_field *field, const char *answer)
{
    char typed[HP_FORM_ANSWER];
    const char *unit = field->limits.unit ? field->limits.unit : "";
    return hp_form_read(f, field, hp_number_typed(answer, unit, typed, sizeof typed));
}

void hp_form_add_choice(hp_form_question *put, const char *word, const char *text)
{
    if (put->choices < HP_FORM_CHOICES)
        put->choice[put->choices++] = (hp_choice){word, text};
}

void hp_form_add_yes_no(hp_form_question *put)
{
    for (int k = 0; k < 2; k++)
        hp_form_add_choice(put, hp_form_yes_no[k].word, hp_form_yes_no[k].text);
}

bool hp_form_is_yes(const char *answer)
{
    return strcmp(answer, hp_form_yes_no[0].word) == 0;
}

void hp_form_say_noted(const hp_form_part *f, hp_phrase *p)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = hp_field_is_said(f->field, &f->entry->entry) ? open_memstream(&text, &size) : NULL;
    if (!out)
        return;
    hp_field_put(out, f->field, &f->entry->entry, hp_form_labels(f));
    if (fclose(out) == 0)
        hp_phrase_add(p, "%s", text);
    free(text);
}

void hp_form_add_number(double number, hp_phrase *p)
{
    if (isinf(number))
        hp_phrase_add(p, "open");
    else if (!isnan(number))
        hp_phrase_add(p, "%.10g", number);
}
