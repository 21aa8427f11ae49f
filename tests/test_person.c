/* The model of the person: checks, and the three ready-made ones. */
#include "check.h"

#include "hubphase/decide/assumptions.h"

static void ready_made_persons_pass_the_check(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    hp_person person = hp_person_default();
    check_true(hp_person_check(&person, &err) == HP_OK, "%s", err.text);
    person = hp_person_sharp();
    check_true(hp_person_check(&person, &err) == HP_OK, "%s", err.text);
    person = hp_person_slipping(0.05);
    check_true(hp_person_check(&person, &err) == HP_OK, "%s", err.text);
    check_close(person.rough_as_smooth, 0.05, 0.0, "exact");
    check_close(person.value_misread, 0.05, 0.0, "exact");
}

/* A slip that cannot happen would let one entry lock the advice for good. */
static void impossible_slips_are_refused(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    hp_person person = hp_person_default();
    person.wrong_direction = 0.0;
    assert_int_equal(hp_person_check(&person, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "person.wrong_direction is 0, must be above 0");
    person = hp_person_default();
    person.row_misread = 0.7;
    assert_int_equal(hp_person_check(&person, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "person.row_misread is 0.7");
    person = hp_person_default();
    person.ohm_zero = NAN;
    assert_int_equal(hp_person_check(&person, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "person.ohm_zero");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ready_made_persons_pass_the_check),
        cmocka_unit_test(impossible_slips_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
