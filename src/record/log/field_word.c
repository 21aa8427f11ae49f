/* Values that are a word of a few: see field.h. */
#include "hubphase/decide/evidence.h"
#include "record/log/field.h"

#include <string.h>

/* ---- yes or no ------------------------------------------------------------------------------- */

static bool read_tell(const hp_field *field, const hp_value *value, const hp_labels *labels,
                      void *at)
{
    bool flag = false;
    (void)field;
    (void)labels;
    if (!hp_value_flag(value, &flag))
        return false;
    hp_tell tell = flag ? HP_TELL_YES : HP_TELL_NO;
    memcpy(at, &tell, sizeof tell);
    return true;
}

static bool tell_is_said(const hp_field *field, const void *at)
{
    (void)field;
    return *(const hp_tell *)at != HP_TELL_UNSAID;
}

static void put_tell(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    (void)field;
    (void)labels;
    fputs(*(const hp_tell *)at == HP_TELL_YES ? "yes" : "no", out);
}

static void expect_tell(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)field;
    (void)labels;
    hp_phrase_add(phrase, "yes or no");
}

const hp_field_kind hp_field_tell = {
    .read = read_tell, .said = tell_is_said, .put = put_tell, .expected = expect_tell};

/* ---- words ----------------------------------------------------------------------------------- */

static bool read_choice(const hp_field *field, const hp_value *value, const hp_labels *labels,
                        void *at)
{
    int index = 0;
    (void)labels;
    if (!hp_value_choice(value, field->words, &index))
        return false;
    index += field->first;
    memcpy(at, &index, sizeof index);
    return true;
}

static bool choice_is_said(const hp_field *field, const void *at)
{
    int number;
    memcpy(&number, at, sizeof number);
    return number >= field->first;
}

static void put_choice(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    int number;
    (void)labels;
    memcpy(&number, at, sizeof number);
    fputs(field->words[number - field->first], out);
}

static void expect_word(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)labels;
    hp_field_add_words(field->words, phrase);
}

const hp_field_kind hp_field_choice = {
    .read = read_choice, .said = choice_is_said, .put = put_choice, .expected = expect_word};

static bool read_way(const hp_field *field, const hp_value *value, const hp_labels *labels,
                     void *at)
{
    int index = 0;
    (void)labels;
    if (!hp_value_choice(value, field->words, &index))
        return false;
    *(bool *)at = index == 1;
    return true;
}

static void put_way(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    (void)labels;
    fputs(field->words[*(const bool *)at ? 1 : 0], out);
}

const hp_field_kind hp_field_way = {.read = read_way, .put = put_way, .expected = expect_word};
