/* Names of leads and the colours they speak of. */
#include "check.h"

#include "report/picture/lead_tint.h"

#include <stddef.h>

static void words_are_found_anywhere(void **state)
{
    (void)state;
    assert_string_equal(hp_lead_tint("yellow"), "#f2d100");
    assert_string_equal(hp_lead_tint("thick Yellow"), "#f2d100");
    assert_string_equal(hp_lead_tint("green/white"), "#1f9d3f");
    assert_string_equal(hp_lead_tint("GN-YE"), "#1f9d3f");
    assert_string_equal(hp_lead_tint("gray"), hp_lead_tint("grey"));
}

static void other_names_have_none(void **state)
{
    (void)state;
    assert_null(hp_lead_tint(""));
    assert_null(hp_lead_tint("U"));
    assert_null(hp_lead_tint("3"));
    assert_null(hp_lead_tint("bored gn"));
    assert_null(hp_lead_tint("gr\xc3\xbcn"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_are_found_anywhere),
        cmocka_unit_test(other_names_have_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
