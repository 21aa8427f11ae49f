/* Names of leads and the colours they speak of. */
#include "check.h"

#include "hubphase/report/lead_colour.h"

#include <stddef.h>

static void words_are_found_anywhere(void **state)
{
    (void)state;
    assert_string_equal(hp_lead_colour("yellow"), "#f2d100");
    assert_string_equal(hp_lead_colour("thick Yellow"), "#f2d100");
    assert_string_equal(hp_lead_colour("green/white"), "#1f9d3f");
    assert_string_equal(hp_lead_colour("GN-YE"), "#1f9d3f");
    assert_string_equal(hp_lead_colour("gray"), hp_lead_colour("grey"));
}

static void other_names_have_none(void **state)
{
    (void)state;
    assert_null(hp_lead_colour(""));
    assert_null(hp_lead_colour("U"));
    assert_null(hp_lead_colour("3"));
    assert_null(hp_lead_colour("bored gn"));
    assert_null(hp_lead_colour("gr\xc3\xbcn"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_are_found_anywhere),
        cmocka_unit_test(other_names_have_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
