/*
 * Questions whose answers are typed as the log notes them, and those of which one is chosen: see
 * form_parts.h.
 */
#include "report/words/form_parts.h"

/* ---- typed values ---------------------------------------------------------------------------- */

/* The field with the limits that the answers so far set. */
static hp_field narrowed(const hp_form_part *f)
{
    hp_field field = *f->field;
    if (f->question->narrow)
        f->question->narrow(hp_entry_said(&f->entry->entry), &field.limits);
    return field;
}

static void put_typed(const hp_form_part *f, hp_form_question *put)
{
    put->limits = narrowed(f).limits;
}

static bool take_typed(const hp_form_part *f, const char *answer)
{
    const hp_field field = narrowed(f);
    return hp_form_read(f, &field, answer);
}

static bool take_number(const hp_form_part *f, const char *answer)
{
    const hp_field field = narrowed(f);
    return hp_form_read_number(f, &field, answer);
}

static void say_code(const hp_form_part *f, hp_phrase *p)
{
    char digits[4];
    int code = *(const int *)hp_form_at(f);
    if (code >= 0)
        hp_phrase_add(p, "%s", hp_code_words(code, digits));
}

static void say_codes(const hp_form_part *f, hp_phrase *p)
{
    const hp_hand_turn *turn = hp_form_at(f);
    char digits[4];
    for (int k = 0; k < turn->count; k++)
        hp_phrase_add(p, "%s%s", k ? " " : "", hp_code_words(turn->code[k], digits));
}

static void say_wiring(const hp_form_part *f, hp_phrase *p)
{
    hp_phrase_add(p, "%d", hp_wiring_number(hp_form_at(f)));
}

/* ---- words ----------------------------------------------------------------------------------- */

/* A step that is left out is told by what it is, as where kinds are chosen; other words stand for
 * themselves. */
static const char *bare_text(const hp_form_part *f, const char *word)
{
    const hp_reading *step = f->field == hp_reading_left_out.fields ? hp_reading_find(word) : NULL;
    const char *menu = step ? hp_reading_menu(step) : NULL;
    return menu ? menu : step ? hp_reading_title(step) : word;
}

static void put_word(const hp_form_part *f, hp_form_question *put)
{
    const hp_question *q = f->question;
    const hp_choice *choices = q->offered ? q->offered(f->given) : q->choices;
    const char *const *words = f->field->words;
    for (; choices && choices->word; choices++)
        hp_form_add_choice(put, choices->word, choices->text);
    for (bool bare = put->choices == 0; bare && *words; words++)
        hp_form_add_choice(put, *words, bare_text(f, *words));
}

static bool take_word(const hp_form_part *f, const char *answer)
{
    return hp_form_read(f, f->field, answer);
}

static void put_tell(const hp_form_part *f, hp_form_question *put)
{
    (void)f;
    hp_form_add_yes_no(put);
}

static bool take_tell(const hp_form_part *f, const char *answer)
{
    bool yes = hp_form_is_yes(answer) != f->question->inverse;
    return hp_form_read(f, f->field, hp_form_yes_no[yes ? 0 : 1].word);
}

static void say_tell(const hp_form_part *f, hp_phrase *p)
{
    hp_tell tell = *(const hp_tell *)hp_form_at(f);
    if (tell != HP_TELL_UNSAID)
        hp_phrase_add(p, "%s",
                      hp_form_yes_no[(tell == HP_TELL_YES) != f->question->inverse ? 0 : 1].word);
}

/* ---- the types ------------------------------------------------------------------------------- */

const hp_form_type hp_form_number = {put_typed, take_number, hp_form_say_noted};
const hp_form_type hp_form_code = {put_typed, take_typed, say_code};
const hp_form_type hp_form_codes = {put_typed, take_typed, say_codes};
const hp_form_type hp_form_wiring = {put_typed, take_typed, say_wiring};
const hp_form_type hp_form_word = {put_word, take_word, hp_form_say_noted};
const hp_form_type hp_form_tell = {put_tell, take_tell, say_tell};
