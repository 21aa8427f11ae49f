/*
 * Phrases: whole characters whatever the room.
 */
#include "hubphase/base/text.h"

#include "check.h"

static void pieces_stand_behind_one_another(void **state)
{
    (void)state;
    char out[40];
    hp_phrase p = hp_phrase_begin(out, sizeof out);
    hp_phrase_comma(&p);
    hp_phrase_add(&p, "%d", 1);
    hp_phrase_comma(&p);
    hp_phrase_add(&p, "%s", "two");
    assert_string_equal(out, "1, two");
    check_int((long long)p.used, 6);
    check_true(!p.cut, "all of it fitted");
    hp_phrase more = hp_phrase_resume(out, sizeof out);
    hp_phrase_add(&more, "!");
    assert_string_equal(out, "1, two!");
}

static void a_cut_leaves_whole_characters_and_is_told(void **state)
{
    (void)state;
    char out[6];
    hp_phrase p = hp_phrase_begin(out, sizeof out);
    hp_phrase_add(&p, "abcde");
    check_true(!p.cut, "it just fits");
    p = hp_phrase_begin(out, sizeof out);
    hp_phrase_add(&p, "abcd\xc3\xbc");
    assert_string_equal(out, "abcd");
    check_true(p.cut, "the last letter did not fit");
    hp_phrase_add(&p, "more than there is room for");
    check_int((long long)strlen(out), 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pieces_stand_behind_one_another),
        cmocka_unit_test(a_cut_leaves_whole_characters_and_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
