/* Wheel sizes as tyres are marked. */
#include "check.h"

#include "model/wheel_size.h"

/* Circumferences as makers of speedometers print them, bead seats of ISO 5775-1 (read). A tyre that
 * is as high as wide is a rule of thumb: it must agree within 0.8 %. */
static void published_circumferences_are_met(void **state)
{
    (void)state;
    static const struct {
        const char *marking;
        double mm;
    } printed[] = {{"23-622", 2096}, {"28-622", 2136}, {"32-622", 2155}, {"38-622", 2180}};
    for (int k = 0; k < 4; k++) {
        hp_wheel_size size;
        assert_true(hp_wheel_size_read(printed[k].marking, &size));
        check_relative(1e3 * hp_wheel_size_turn(size), printed[k].mm, 0.008,
                       "stated in the list of sources");
    }
}

static void markings_are_read(void **state)
{
    (void)state;
    static const int bead[] = {622, 584, 559, 406};
    for (int k = 0; k < 4; k++) {
        char text[20];
        hp_wheel_size size;
        snprintf(text, sizeof text, " 47-%d ", bead[k]);
        assert_true(hp_wheel_size_read(text, &size));
        check_int(size.width_mm, 47);
        check_int(size.bead_seat_mm, bead[k]);
    }
}

static void what_is_no_marking_is_refused(void **state)
{
    (void)state;
    static const char *const wrong[] = {"",        "26",     "26 x 1.75", "47",     "47-",
                                        "47-559x", "559-47", "47-559-1",  "17-559", "121-559",
                                        "47-89",   "47-701", "-47-559"};
    hp_wheel_size size = {1, 2};
    for (size_t k = 0; k < sizeof wrong / sizeof wrong[0]; k++)
        check_true(!hp_wheel_size_read(wrong[k], &size), "\"%s\"", wrong[k]);
    check_int(size.width_mm, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_circumferences_are_met),
        cmocka_unit_test(markings_are_read),
        cmocka_unit_test(what_is_no_marking_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
