/* Result codes and error text: nothing is lost, nothing overflows. */
#include "check.h"

#include "hubphase/base/result.h"

static void every_code_has_its_own_name(void **state)
{
    (void)state;
    for (int a = HP_OK; a >= HP_FAIL_SLOW; a--) {
        check_true(strlen(hp_result_name((hp_result)a)) > 0, "code %d", a);
        for (int b = a - 1; b >= HP_FAIL_SLOW; b--)
            assert_string_not_equal(hp_result_name((hp_result)a), hp_result_name((hp_result)b));
        assert_string_not_equal(hp_result_name((hp_result)a), "unknown result");
    }
    assert_string_equal(hp_result_name((hp_result)1), "unknown result");
    assert_string_equal(hp_result_name((hp_result)(HP_FAIL_SLOW - 1)), "unknown result");
}

static void a_new_error_is_empty(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    check_int(err.code, HP_OK);
    assert_string_equal(err.text, "");
}

static void setting_returns_the_code_with_or_without_an_error(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    check_int(hp_error_set(&err, HP_FAIL_STEP, "step %d at %s", 7, "1.5 s"), HP_FAIL_STEP);
    check_int(err.code, HP_FAIL_STEP);
    assert_string_equal(err.text, "step 7 at 1.5 s");
    check_int(hp_error_set(NULL, HP_FAIL_MEMORY, "lost"), HP_FAIL_MEMORY);
    check_int(hp_error_context(NULL, HP_FAIL_IO, "lost"), HP_FAIL_IO);
}

/* Context stands in front, outermost first, and neither code nor cause changes on the way up. */
static void context_keeps_the_cause(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    hp_error_set(&err, HP_FAIL_INPUT, "value 100%% wrong");
    check_int(hp_error_context(&err, HP_FAIL_STEP, "row %d", 3), HP_FAIL_INPUT);
    check_int(hp_error_context(&err, HP_FAIL_STEP, "table"), HP_FAIL_INPUT);
    check_int(err.code, HP_FAIL_INPUT);
    assert_string_equal(err.text, "table: row 3: value 100% wrong");
}

/* Who fails and forgets to say why has failed all the same. */
static void context_of_a_silent_failure_is_one(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    check_int(hp_error_context(&err, HP_FAIL_INPUT, "cr.yaml"), HP_FAIL_INPUT);
    check_int(err.code, HP_FAIL_INPUT);
    assert_string_equal(err.text, "cr.yaml");
}

/* A text too long for its room ends in three dots; one that just fits does not. */
static void long_texts_are_cut_visibly(void **state)
{
    (void)state;
    char longest[HP_ERROR_TEXT_SIZE + 1];
    memset(longest, 'x', sizeof longest);
    longest[HP_ERROR_TEXT_SIZE] = '\0';
    hp_error err;
    hp_error_set(&err, HP_FAIL_INPUT, "%s", longest);
    check_int((long long)strlen(err.text), HP_ERROR_TEXT_SIZE - 1);
    assert_string_equal(err.text + HP_ERROR_TEXT_SIZE - 4, "...");

    longest[HP_ERROR_TEXT_SIZE - 1] = '\0';
    hp_error_set(&err, HP_FAIL_INPUT, "%s", longest);
    assert_string_equal(err.text, longest);

    hp_error_context(&err, HP_FAIL_INPUT, "front");
    check_int((long long)strlen(err.text), HP_ERROR_TEXT_SIZE - 1);
    check_int(strncmp(err.text, "front: xxx", 10), 0);
    assert_string_equal(err.text + HP_ERROR_TEXT_SIZE - 4, "...");

    /* The context alone may fill the room, with and without space for the colon. */
    for (int length = HP_ERROR_TEXT_SIZE - 4; length < HP_ERROR_TEXT_SIZE + 1; length++) {
        memset(longest, 'y', sizeof longest);
        longest[length] = '\0';
        hp_error_set(&err, HP_FAIL_INPUT, "cause");
        hp_error_context(&err, HP_FAIL_INPUT, "%s", longest);
        check_int((long long)strlen(err.text), HP_ERROR_TEXT_SIZE - 1);
        assert_string_equal(err.text + HP_ERROR_TEXT_SIZE - 4, "...");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_code_has_its_own_name),
        cmocka_unit_test(a_new_error_is_empty),
        cmocka_unit_test(setting_returns_the_code_with_or_without_an_error),
        cmocka_unit_test(context_keeps_the_cause),
        cmocka_unit_test(context_of_a_silent_failure_is_one),
        cmocka_unit_test(long_texts_are_cut_visibly),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
