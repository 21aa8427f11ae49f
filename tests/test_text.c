/*
 * Text in columns: what a terminal must not see.
 */
#include "hubphase/base/text.h"

#include "check.h"

static void check_clean(const char *text, const char *expected)
{
    char out[100];
    assert_string_equal(hp_text_clean(text, out, sizeof out), expected);
}

static void controls_become_question_marks(void **state)
{
    (void)state;
    check_clean("a\033[31mb\r\n\tc\x7f", "a?[31mb???c?");
    check_clean("C1 \xc2\x9b and NEL \xc2\x85", "C1 ? and NEL ?");
    check_clean("lines \xe2\x80\xa8\xe2\x80\xa9.", "lines ??.");
}

/* All twelve of Unicode's property Bidi_Control. */
static void marks_that_turn_the_writing_are_controls(void **state)
{
    (void)state;
    static const unsigned marks[] = {0x061C, 0x200E, 0x200F, 0x202A, 0x202B, 0x202C,
                                     0x202D, 0x202E, 0x2066, 0x2067, 0x2068, 0x2069};
    for (size_t k = 0; k < sizeof marks / sizeof marks[0]; k++)
        check_true(hp_text_is_control(marks[k]), "U+%04X", marks[k]);
    check_clean("x\xd8\x9cx\xe2\x80\x8ex\xe2\x80\x8fx\xe2\x80\xaex\xe2\x81\xa9x", "x?x?x?x?x?x");
}

static void letters_stay_as_they_are(void **state)
{
    (void)state;
    /* Neighbours of the marks, among them the joiner that some scripts cannot do without. */
    static const unsigned letters[] = {0x061B, 0x061D, 0x200C, 0x200D, 0x2010, 0x2027,
                                       0x202F, 0x2065, 0x206A, 0xA0,   ' ',    '~'};
    for (size_t k = 0; k < sizeof letters / sizeof letters[0]; k++)
        check_true(!hp_text_is_control(letters[k]), "U+%04X", letters[k]);
    check_clean("t\xc3\xbcr \xd8\xb9\xd8\xb1\xd8\xa8\xd9\x8a",
                "t\xc3\xbcr \xd8\xb9\xd8\xb1\xd8\xa8\xd9\x8a");
}

static void what_is_not_utf8_becomes_question_marks(void **state)
{
    (void)state;
    check_clean("\xff\xc3 x", "?? x");
    check_clean("\xed\xa0\x80", "???"); /* a surrogate */
}

static void a_cut_is_at_the_end_of_a_character(void **state)
{
    (void)state;
    char out[4];
    assert_string_equal(hp_text_clean("ab\xc3\xbc", out, sizeof out), "ab");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(controls_become_question_marks),
        cmocka_unit_test(marks_that_turn_the_writing_are_controls),
        cmocka_unit_test(letters_stay_as_they_are),
        cmocka_unit_test(what_is_not_utf8_becomes_question_marks),
        cmocka_unit_test(a_cut_is_at_the_end_of_a_character),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
