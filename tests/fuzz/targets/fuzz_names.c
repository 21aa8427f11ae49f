/* What a person types in few words: wirings, times, courses, values of a kind, names of kinds. */
#include "fuzz.h"

#include "decide/reading/reading.h"

static void try_wiring(const char *text)
{
    hp_wiring wiring;
    hp_error err = hp_error_none();
    hp_result result = hp_wiring_parse(text, &fuzz_scenario()->labels, &wiring, &err);
    promise(result == HP_OK || (result == HP_FAIL_INPUT && err.text[0]));
    if (result == HP_OK)
        promise(hp_wiring_number(&wiring) >= 1 && hp_wiring_number(&wiring) <= HP_WIRING_COUNT);
}

static void try_course(const char *text)
{
    hp_what_if_plan plan;
    hp_error err = hp_error_none();
    hp_result result = hp_course_plan_parse(text, &fuzz_scenario()->controls, 0.0, &plan, &err);
    promise(result == HP_OK || (result == HP_FAIL_INPUT && err.text[0]));
}

/* As a value of one kind's fields. */
static void try_value(const char *text, const hp_reading *reading)
{
    char why[400];
    for (const hp_field *field = reading->fields; field && field->name; field++) {
        hp_bench_entry entry = hp_bench_entry_make(reading);
        why[0] = '\0';
        bool read = hp_bench_typed_read(field, "value", text, &fuzz_scenario()->labels, &entry, why,
                                        sizeof why);
        promise(read || why[0]);
    }
}

static void try_text(const char *text, size_t size)
{
    char clean[64], *word = malloc(HP_SHELL_WORD_SIZE(size));
    promise(word != NULL);
    hp_shell_word(text, word, HP_SHELL_WORD_SIZE(size));
    for (const char *at = word; *at; at++)
        promise(at[0] >= ' ' || (at[0] & 0x80) || at[0] == '\n');
    hp_text_clean(text, clean, sizeof clean);
    promise(hp_text_columns(clean) >= 0);
    hp_screen out = hp_screen_plain(fuzz_nowhere());
    hp_text_fill(&out, "title", 12, text);
    free(word);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    /* The last byte chooses the kind, so that a text keeps its beginning. */
    int kind = size > 0 ? data[size - 1] % hp_readings_count() : 0;
    char *text = fuzz_text(data, size > 0 ? size - 1 : 0);
    size -= size > 0;
    try_wiring(text);
    try_course(text);
    try_value(text, hp_readings[kind]);
    try_text(text, size);
    (void)hp_bench_log_time_check(text);
    (void)hp_reading_nearest(text);
    free(text);
    return 0;
}
