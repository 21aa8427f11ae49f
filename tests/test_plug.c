/* Places of pins in a plug: words that read back, and the mirror image in the other half. */
#include "check.h"

#include "model/plug.h"

#include <string.h>

/* Every place that can be noted. */
static int all_places(hp_pin_place *place, int most)
{
    int count = 0;
    for (int angle = 0; angle < 360; angle++)
        for (int ring = 0; ring < HP_RING_CENTRE && count < most; ring++)
            place[count++] =
                (hp_pin_place){.kind = HP_PLACE_ROUND, .angle_deg = angle, .ring = (hp_ring)ring};
    place[count++] = (hp_pin_place){.kind = HP_PLACE_ROUND, .ring = HP_RING_CENTRE};
    for (int row = 1; row <= HP_PLUG_ROWS_MAX; row++)
        for (int column = 1; column <= HP_PLUG_COLUMNS_MAX && count < most; column++)
            place[count++] = (hp_pin_place){.kind = HP_PLACE_GRID, .row = row, .column = column};
    return count;
}

#define PLACES_MOST 900

static void words_of_a_place_read_back_as_the_place(void **state)
{
    (void)state;
    static hp_pin_place place[PLACES_MOST];
    int count = all_places(place, PLACES_MOST);
    check_int(count, 2 * 360 + 1 + HP_PLUG_ROWS_MAX * HP_PLUG_COLUMNS_MAX);
    for (int k = 0; k < count; k++) {
        char words[HP_PLACE_WORDS];
        hp_pin_place back = hp_pin_place_read(hp_pin_place_words(&place[k], words));
        check_true(hp_pin_place_same(&back, &place[k]), "\"%s\" reads back", words);
        check_true(strlen(words) + 1 < HP_PLACE_WORDS, "\"%s\" is whole", words);
    }
}

/* No two places share their words, and the mirror keeps them apart. */
static void places_stay_apart_in_either_half(void **state)
{
    (void)state;
    static hp_pin_place place[PLACES_MOST];
    int count = all_places(place, PLACES_MOST);
    for (int k = 0; k < count; k++)
        for (int j = 0; j < k; j++) {
            hp_pin_place a = hp_pin_place_mirror(&place[k], HP_PLUG_COLUMNS_MAX);
            hp_pin_place b = hp_pin_place_mirror(&place[j], HP_PLUG_COLUMNS_MAX);
            if (hp_pin_place_same(&a, &b) || hp_pin_place_same(&place[k], &place[j]))
                fail_msg("places %d and %d are one", k, j);
        }
}

static void mirrored_twice_is_the_same_place(void **state)
{
    (void)state;
    static hp_pin_place place[PLACES_MOST];
    int count = all_places(place, PLACES_MOST);
    for (int columns = 1; columns <= HP_PLUG_COLUMNS_MAX; columns++)
        for (int k = 0; k < count; k++) {
            if (place[k].column > columns)
                continue;
            hp_pin_place once = hp_pin_place_mirror(&place[k], columns);
            hp_pin_place twice = hp_pin_place_mirror(&once, columns);
            check_true(hp_pin_place_same(&twice, &place[k]), "place %d of %d columns", k, columns);
            check_true(once.column >= 0 && once.column <= columns, "column %d", once.column);
            check_true(once.ring == place[k].ring && once.row == place[k].row, "ring and row stay");
        }
}

/* By hand: what is right of the key mark in one face is left of it in the other; top and bottom,
 * ring, row and the column in the middle stay. */
static void the_other_face_changes_left_and_right_only(void **state)
{
    (void)state;
    static const struct {
        const char *seen;
        int columns;
        const char *other;
    } pair[] = {{"12 o'clock", 0, "12 o'clock outer"},
                {"6 o'clock", 0, "6 o'clock outer"},
                {"3 o'clock inner", 0, "9 o'clock inner"},
                {"1 o'clock", 0, "11 o'clock outer"},
                {"4:30 o'clock", 0, "7:30 o'clock outer"},
                {"100 degrees", 0, "260 degrees outer"},
                {"centre", 0, "centre"},
                {"row 2 column 1", 4, "row 2 column 4"},
                {"r1 c2", 3, "row 1 column 2"},
                {"r1 c3", 4, "row 1 column 2"}};
    for (size_t k = 0; k < sizeof pair / sizeof pair[0]; k++) {
        char words[HP_PLACE_WORDS];
        hp_pin_place seen = hp_pin_place_read(pair[k].seen);
        hp_pin_place other = hp_pin_place_mirror(&seen, pair[k].columns);
        assert_string_equal(hp_pin_place_words(&other, words), pair[k].other);
    }
}

static void a_place_may_be_written_in_several_ways(void **state)
{
    (void)state;
    static const char *const three[] = {
        "3 o'clock",        "3 O'CLOCK outer",     "3h",
        "3 h, outer",       "90 degrees",          "90deg outer ring",
        "3:00 o'clock",     "3 oclock outside",    " 3  o'clock ",
        "90\302\260 outer", "3 o\342\200\231clock"};
    hp_pin_place first = hp_pin_place_read(three[0]);
    check_int(first.kind, HP_PLACE_ROUND);
    check_int(first.angle_deg, 90);
    for (size_t k = 0; k < sizeof three / sizeof three[0]; k++) {
        hp_pin_place place = hp_pin_place_read(three[k]);
        check_true(hp_pin_place_same(&place, &first), "%s", three[k]);
    }
    check_int(hp_pin_place_read("1.5 o'clock").angle_deg, 45);
    check_int(hp_pin_place_read("12h").angle_deg, 0);
    check_int(hp_pin_place_read("0h").angle_deg, 0);
    check_int(hp_pin_place_read("360 degrees").angle_deg, 0);
    check_int(hp_pin_place_read("Row 2, Column 3").column, 3);
    check_int(hp_pin_place_read("r2c3").row, 2);
}

/* What is moulded beside a pin stays a name, and so does what is nearly a place. */
static void names_are_no_places(void **state)
{
    (void)state;
    static const char *const name[] = {"3",
                                       "B",
                                       "B2",
                                       "12",
                                       "",
                                       "outer",
                                       "o'clock",
                                       "13h",
                                       "361 degrees",
                                       "3 o'clock or so",
                                       "row 1",
                                       "row 0 column 1",
                                       "r13 c1",
                                       "r1 c13",
                                       "row 1 row 2",
                                       "1:61 o'clock",
                                       "1:31 o'clock",
                                       "1.25h",
                                       "-3 h",
                                       "3 4 h",
                                       "bullet a",
                                       "3 inner",
                                       "999999999999h",
                                       "centre inner",
                                       "row 1 column 2 outer",
                                       "a b c d e f g h"};
    for (size_t k = 0; k < sizeof name / sizeof name[0]; k++)
        check_true(hp_pin_place_read(name[k]).kind == HP_PLACE_NONE, "\"%s\" is a name", name[k]);
    hp_pin_place none = hp_pin_place_read("B2");
    char words[HP_PLACE_WORDS] = "x";
    assert_string_equal(hp_pin_place_words(&none, words), "");
}

/* A slip in a place is not taken for a name; what has nothing of a place is one. */
static void a_place_with_a_slip_is_no_name(void **state)
{
    (void)state;
    static const char *const broken[] = {
        "14 o'clock",  "3 o'clock or so", "row 1",          "outer",        "3 inner",
        "361 degrees", "r1 column 13",    "row 0 column 1", "centre inner", "1 2 3 4 5 row 6 7"};
    static const char *const good[] = {"3",         "B2",     "bullet a",       "thick red",
                                       "3 o'clock", "centre", "row 1 column 2", "arrow",
                                       "13h",       ""};
    for (size_t k = 0; k < sizeof broken / sizeof broken[0]; k++)
        check_true(hp_pin_place_is_broken(broken[k]), "\"%s\" has a slip", broken[k]);
    for (size_t k = 0; k < sizeof good / sizeof good[0]; k++)
        check_true(!hp_pin_place_is_broken(good[k]), "\"%s\" is a place or a name", good[k]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_of_a_place_read_back_as_the_place),
        cmocka_unit_test(places_stay_apart_in_either_half),
        cmocka_unit_test(mirrored_twice_is_the_same_place),
        cmocka_unit_test(the_other_face_changes_left_and_right_only),
        cmocka_unit_test(a_place_may_be_written_in_several_ways),
        cmocka_unit_test(names_are_no_places),
        cmocka_unit_test(a_place_with_a_slip_is_no_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
