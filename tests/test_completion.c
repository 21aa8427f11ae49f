/*
 * What bash offers behind an option of `log' is what the option takes: each kind's fields are held
 * against docs/hubphase.bash-completion, whose lists are written by hand.
 */
#include "check.h"

#include "decide/reading/reading.h"
#include "hubphase/base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DOCS HP_SCENARIO_DIR "/../docs/"

static const char *text_of(const char *path)
{
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    static char text[131072];
    size_t length = fread(text, 1, sizeof text - 1, file);
    fclose(file);
    check_true(length > 0 && length < sizeof text - 1, "%zu bytes", length);
    text[length] = '\0';
    return text;
}

/* Where the words stand that it offers behind an option, ended by a quotation mark; NULL: it has
 * no list. An arm is "--one | --other)", its list follows. */
static const char *offered(const char *text, const char *option)
{
    size_t length = strlen(option);
    for (const char *at = strstr(text, option); at; at = strstr(at + 1, option)) {
        const char *end = strchr(at, '\n'), *list = strstr(at, "-W \"");
        bool whole = at[-1] == ' ' && (at[length] == ')' || at[length] == ' ');
        const char *line = at;
        while (line > text && line[-1] != '\n')
            line--;
        bool arm = strncmp(line + strspn(line, " "), "--", 2) == 0;
        if (whole && arm && end && list)
            return list + 4;
    }
    return NULL;
}

static bool holds(const char *list, const char *word)
{
    size_t length = strlen(word);
    for (const char *at = list; *at && *at != '"';) {
        size_t next = strcspn(at, " \"");
        if (next == length && strncmp(at, word, length) == 0)
            return true;
        at += next + (at[next] == ' ');
    }
    return false;
}

static void option_of(const hp_field *field, char *out, size_t size)
{
    snprintf(out, size, "--%s", field->name);
    for (char *at = out; *at; at++)
        *at = *at == '_' ? '-' : *at;
}

static void each_word_of_a_value_is_offered(void **state)
{
    (void)state;
    static const char *const yes_no[] = {"yes", "no", NULL};
    const char *text = text_of(DOCS "hubphase.bash-completion");
    for (int k = 0; hp_readings[k]; k++)
        for (const hp_field *f = hp_readings[k]->fields; f->name; f++) {
            bool tell = f->type == HP_FIELD_TELL;
            char option[80];
            option_of(f, option, sizeof option);
            const char *list = tell || f->words ? offered(text, option) : NULL;
            if (!tell && !f->words)
                continue;
            check_true(list != NULL, "nothing is offered behind %s (%s)", option,
                       hp_readings[k]->name);
            /* Lists that the program prints itself are asked for when they are needed. */
            if (!list || strncmp(list, "$(", 2) == 0)
                continue;
            for (const char *const *w = tell ? yes_no : f->words; *w; w++)
                check_true(holds(list, *w), "%s of %s is not offered behind %s", *w,
                           hp_readings[k]->name, option);
        }
}

/* A word that no value takes any more. */
static void nothing_else_is_offered_behind_part(void **state)
{
    (void)state;
    const hp_field *part = hp_field_find(&hp_reading_mend, "part");
    const char *list = offered(text_of(DOCS "hubphase.bash-completion"), "--part");
    assert_non_null(list);
    int count = 0, words = 1;
    while (part->words[count])
        count++;
    for (const char *at = list; *at && *at != '"'; at++)
        words += *at == ' ';
    check_int(words, count);
}

/* By the option, one after the other. */
static void the_manual_names_each_part_that_can_be_mended(void **state)
{
    (void)state;
    const hp_field *part = hp_field_find(&hp_reading_mend, "part");
    const char *at = strstr(text_of(DOCS "hubphase.1"), part->words[0]);
    assert_non_null(at);
    char line[1024];
    snprintf(line, sizeof line, "%.*s", (int)strcspn(at, "\n"), at);
    for (int k = 0; part->words[k]; k++)
        check_text_contains(line, part->words[k]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_word_of_a_value_is_offered),
        cmocka_unit_test(nothing_else_is_offered_behind_part),
        cmocka_unit_test(the_manual_names_each_part_that_can_be_mended),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
