/* A course of the controls: which demand follows from when on. */
#include "field_limits.h"

#include "hubphase/model/course.h"

typedef struct expected {
    double time, duty;
    hp_control_reason reason;
    int action;
} expected;

static void check_demands(const hp_controls_params *controls, const hp_course *course,
                          const expected *row, int rows)
{
    hp_control_demand demand[HP_DEMANDS_MAX];
    check_accepted(hp_controls_params_check(controls, &refusal));
    check_accepted(hp_course_check(course, controls, &refusal));
    check_int(hp_course_demands(course, controls, demand), rows);
    for (int k = 0; k < rows; k++) {
        check_close(demand[k].time, row[k].time, 1e-12, "rounding");
        check_close(demand[k].duty, row[k].duty, 1e-12, "rounding");
        check_int(demand[k].reason, row[k].reason);
        check_int(demand[k].action, row[k].action);
    }
}

#define CHECK_DEMANDS(controls, course, ...)                                                       \
    do {                                                                                           \
        const expected row_[] = {__VA_ARGS__};                                                     \
        check_demands(controls, course, row_, (int)(sizeof row_ / sizeof row_[0]));                \
    } while (0)

static void the_brake_is_acted_on_after_its_delay(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.brake.delay_s = 0.02;
    hp_course course = {.action = {{0.2, HP_ACTION_GRIP, 0.5},
                                   {1.0, HP_ACTION_LEVER, 1},
                                   {2.0, HP_ACTION_LEVER, 0}},
                        .count = 3};
    CHECK_DEMANDS(&controls, &course, {0.0, 0.0, HP_CONTROL_REST, -1},
                  {0.2, 0.5, HP_CONTROL_DRIVES, 0}, {1.0, 0.5, HP_CONTROL_DRIVES, 1},
                  {1.02, 0.0, HP_CONTROL_BRAKE, 1}, {2.0, 0.0, HP_CONTROL_BRAKE, 2},
                  {2.02, 0.5, HP_CONTROL_DRIVES, 2});
    controls.brake.delay_s = 0.0;
    CHECK_DEMANDS(&controls, &course, {0.0, 0.0, HP_CONTROL_REST, -1},
                  {0.2, 0.5, HP_CONTROL_DRIVES, 0}, {1.0, 0.0, HP_CONTROL_BRAKE, 1},
                  {2.0, 0.5, HP_CONTROL_DRIVES, 2});
}

static void a_touch_of_the_lever_shorter_than_the_delay_is_not_seen(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.brake.delay_s = 0.02;
    hp_course course = {.action = {{0.2, HP_ACTION_GRIP, 1.0},
                                   {1.0, HP_ACTION_LEVER, 1},
                                   {1.01, HP_ACTION_LEVER, 0}},
                        .count = 3};
    CHECK_DEMANDS(&controls, &course, {0.0, 0.0, HP_CONTROL_REST, -1},
                  {0.2, 1.0, HP_CONTROL_DRIVES, 0}, {1.0, 1.0, HP_CONTROL_DRIVES, 1},
                  {1.01, 1.0, HP_CONTROL_DRIVES, 2});
}

/* Another action within the delay does not put it off. */
static void the_delay_runs_from_the_lever_whatever_else_happens(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.brake.delay_s = 0.02;
    hp_course course = {.action = {{0.2, HP_ACTION_GRIP, 1.0},
                                   {1.0, HP_ACTION_LEVER, 1},
                                   {1.01, HP_ACTION_GRIP, 0.5}},
                        .count = 3};
    CHECK_DEMANDS(&controls, &course, {0.0, 0.0, HP_CONTROL_REST, -1},
                  {0.2, 1.0, HP_CONTROL_DRIVES, 0}, {1.0, 1.0, HP_CONTROL_DRIVES, 1},
                  {1.01, 0.5, HP_CONTROL_DRIVES, 2}, {1.02, 0.0, HP_CONTROL_BRAKE, 1});
}

/* 12 pulses a turn at one turn a second: a pulse every 1/12 s. Three of them until it drives; half
 * a second after the last before 2.1 s, which is at 1 + 13/12 s, it stops. */
static void pedals_drive_after_their_pulses_and_stop_after_their_time(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.pedal.mode = HP_PEDAL_DRIVES;
    hp_course course = {.action = {{1.0, HP_ACTION_PEDALS, 1.0}, {2.1, HP_ACTION_PEDALS, 0.0}},
                        .count = 2};
    CHECK_DEMANDS(&controls, &course, {0.0, 0.0, HP_CONTROL_REST, -1},
                  {1.0, 0.0, HP_CONTROL_REST, 0}, {1.25, 0.6, HP_CONTROL_DRIVES, 0},
                  {2.1, 0.6, HP_CONTROL_DRIVES, 1},
                  {1.0 + 13.0 / 12.0 + 0.5, 0.0, HP_CONTROL_REST, 1});
}

/* The first pulse that is of the wrong sense ends it. */
static void pedals_turned_back_stop_within_a_pulse(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.pedal.mode = HP_PEDAL_GATES;
    hp_course course = {.action = {{0.5, HP_ACTION_GRIP, 1.0},
                                   {1.0, HP_ACTION_PEDALS, 1.0},
                                   {2.0, HP_ACTION_PEDALS, -1.0}},
                        .count = 3};
    CHECK_DEMANDS(&controls, &course, {0.0, 0.0, HP_CONTROL_REST, -1},
                  {0.5, 0.0, HP_CONTROL_PEDALS, 0}, {1.0, 0.0, HP_CONTROL_PEDALS, 1},
                  {1.25, 1.0, HP_CONTROL_DRIVES, 1}, {2.0, 1.0, HP_CONTROL_DRIVES, 2},
                  {2.0 + 1.0 / 12.0, 0.0, HP_CONTROL_PEDALS, 2});
}

static void a_pedal_sensor_mounted_the_other_way_round_never_drives(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.pedal.mode = HP_PEDAL_DRIVES;
    controls.pedal.high_share = 0.4;
    hp_course course = {.action = {{1.0, HP_ACTION_PEDALS, 1.0}, {2.0, HP_ACTION_PEDALS, -1.0}},
                        .count = 2};
    CHECK_DEMANDS(&controls, &course, {0.0, 0.0, HP_CONTROL_REST, -1},
                  {1.0, 0.0, HP_CONTROL_REST, 0}, {2.0, 0.0, HP_CONTROL_REST, 1},
                  {2.25, 0.6, HP_CONTROL_DRIVES, 1});
}

/* 0.1 turns a second: a pulse every 10/12 s, further apart than the half second. */
static void pedals_turned_too_slowly_never_drive(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.pedal.mode = HP_PEDAL_DRIVES;
    hp_course course = {.action = {{1.0, HP_ACTION_PEDALS, 0.1}}, .count = 1};
    CHECK_DEMANDS(&controls, &course, {0.0, 0.0, HP_CONTROL_REST, -1},
                  {1.0, 0.0, HP_CONTROL_REST, 0});
}

/* Faster or slower, the pulses go on counting: two at 1 turn/s, the third at 0.5 turns/s. */
static void a_change_of_pace_keeps_the_pulses_counted(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.pedal.mode = HP_PEDAL_DRIVES;
    hp_course course = {.action = {{1.0, HP_ACTION_PEDALS, 1.0}, {1.2, HP_ACTION_PEDALS, 0.5}},
                        .count = 2};
    CHECK_DEMANDS(&controls, &course, {0.0, 0.0, HP_CONTROL_REST, -1},
                  {1.0, 0.0, HP_CONTROL_REST, 0}, {1.2, 0.0, HP_CONTROL_REST, 1},
                  {1.2 + 1.0 / 6.0, 0.6, HP_CONTROL_DRIVES, 1});
    /* A pause within the time-out changes nothing; then the last pulse before it counts. */
    course = (hp_course){.action = {{1.0, HP_ACTION_PEDALS, 1.0},
                                    {2.0, HP_ACTION_PEDALS, 0.0},
                                    {2.2, HP_ACTION_PEDALS, 1.0}},
                         .count = 3};
    CHECK_DEMANDS(&controls, &course, {0.0, 0.0, HP_CONTROL_REST, -1},
                  {1.0, 0.0, HP_CONTROL_REST, 0}, {1.25, 0.6, HP_CONTROL_DRIVES, 0},
                  {2.0, 0.6, HP_CONTROL_DRIVES, 1}, {2.2, 0.6, HP_CONTROL_DRIVES, 2});
}

/* 0.05 turns a second: the next pulse would come 1.67 s on, later than the half second. */
static void a_pace_too_slow_stops_after_the_last_pulse(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.pedal.mode = HP_PEDAL_DRIVES;
    hp_course course = {.action = {{1.0, HP_ACTION_PEDALS, 1.0}, {2.05, HP_ACTION_PEDALS, 0.05}},
                        .count = 2};
    CHECK_DEMANDS(&controls, &course, {0.0, 0.0, HP_CONTROL_REST, -1},
                  {1.0, 0.0, HP_CONTROL_REST, 0}, {1.25, 0.6, HP_CONTROL_DRIVES, 0},
                  {2.05, 0.6, HP_CONTROL_DRIVES, 1}, {2.5, 0.0, HP_CONTROL_REST, 1});
}

static void a_pedal_lead_that_comes_off_stops_and_one_joined_again_starts(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.pedal.mode = HP_PEDAL_DRIVES;
    hp_course course = {.action = {{1.0, HP_ACTION_PEDALS, 1.0},
                                   {2.05, HP_ACTION_LEAD_OFF, HP_CONTROL_LEAD_PEDAL},
                                   {3.0, HP_ACTION_LEAD_ON, HP_CONTROL_LEAD_PEDAL}},
                        .count = 3};
    CHECK_DEMANDS(&controls, &course, {0.0, 0.0, HP_CONTROL_REST, -1},
                  {1.0, 0.0, HP_CONTROL_REST, 0}, {1.25, 0.6, HP_CONTROL_DRIVES, 0},
                  {2.05, 0.6, HP_CONTROL_DRIVES, 1}, {2.5, 0.0, HP_CONTROL_REST, 1},
                  {3.0, 0.0, HP_CONTROL_REST, 2}, {3.25, 0.6, HP_CONTROL_DRIVES, 2});
}

static void the_key_cuts_at_once_and_an_open_grip_must_come_to_rest(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    hp_course course = {.action = {{0.2, HP_ACTION_GRIP, 0.5},
                                   {1.0, HP_ACTION_KEY, 0},
                                   {1.5, HP_ACTION_KEY, 1},
                                   {2.0, HP_ACTION_GRIP, 0.0},
                                   {2.5, HP_ACTION_GRIP, 0.5}},
                        .count = 5};
    CHECK_DEMANDS(&controls, &course, {0.0, 0.0, HP_CONTROL_REST, -1},
                  {0.2, 0.5, HP_CONTROL_DRIVES, 0}, {1.0, 0.0, HP_CONTROL_KEY, 1},
                  {1.5, 0.0, HP_CONTROL_OPEN, 2}, {2.0, 0.0, HP_CONTROL_REST, 3},
                  {2.5, 0.5, HP_CONTROL_DRIVES, 4});
}

static void a_course_is_checked(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    const struct {
        hp_action action;
        const char *text;
    } row[] = {
        {{-0.1, HP_ACTION_KEY, 1}, "action 2 is at -0.1 s"},
        {{0.4, HP_ACTION_KEY, 1}, "action 2 is at 0.4 s"},
        {{3601, HP_ACTION_KEY, 1}, "action 2 is at 3601 s"},
        {{NAN, HP_ACTION_KEY, 1}, "action 2 is at nan s"},
        {{1, HP_ACTION_KEY, 0.5}, "action 2 has the value 0.5"},
        {{1, HP_ACTION_LEVER, 2}, "action 2 has the value 2"},
        {{1, HP_ACTION_GRIP, 1.1}, "action 2 has the value 1.1"},
        {{1, HP_ACTION_GRIP, -0.1}, "action 2 has the value -0.1"},
        {{1, HP_ACTION_PEDALS, 5.1}, "action 2 has the value 5.1"},
        {{1, HP_ACTION_SPEED, 2}, "action 2 has the value 2"},
        {{1, HP_ACTION_SPEED, 0}, "action 2 has the value 0"},
        {{1, HP_ACTION_LEAD_OFF, HP_CONTROL_LEAD_COUNT}, "action 2 has the value 6"},
        {{1, HP_ACTION_LEAD_ON, -1}, "action 2 has the value -1"},
        {{1, HP_ACTION_KIND_COUNT, 0}, "action 2 is of kind 7"},
    };
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        hp_course course = {.action = {{0.5, HP_ACTION_GRIP, 0.5}, row[k].action}, .count = 2};
        check_refused(hp_course_check(&course, &controls, &refusal), row[k].text);
    }
    hp_course course = {.count = HP_ACTIONS_MAX + 1};
    check_refused(hp_course_check(&course, &controls, &refusal), "33 actions");
}

/* As many changes as a course can lead to. */
static void the_longest_course_fits(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    hp_control_demand demand[HP_DEMANDS_MAX];
    controls.pedal.mode = HP_PEDAL_DRIVES;
    hp_course course = {.count = HP_ACTIONS_MAX};
    for (int k = 0; k < HP_ACTIONS_MAX; k++)
        course.action[k] = (hp_action){k, HP_ACTION_PEDALS, k % 2 ? 0.0 : 1.0};
    check_accepted(hp_course_check(&course, &controls, &refusal));
    check_int(hp_course_demands(&course, &controls, demand), 1 + 2 * HP_ACTIONS_MAX);
    for (int k = 0; k < HP_ACTIONS_MAX; k++)
        course.action[k] = (hp_action){k, HP_ACTION_LEVER, k % 2 ? 0.0 : 1.0};
    check_int(hp_course_demands(&course, &controls, demand), 1 + 2 * HP_ACTIONS_MAX);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_brake_is_acted_on_after_its_delay),
        cmocka_unit_test(a_touch_of_the_lever_shorter_than_the_delay_is_not_seen),
        cmocka_unit_test(the_delay_runs_from_the_lever_whatever_else_happens),
        cmocka_unit_test(pedals_drive_after_their_pulses_and_stop_after_their_time),
        cmocka_unit_test(pedals_turned_back_stop_within_a_pulse),
        cmocka_unit_test(a_pedal_sensor_mounted_the_other_way_round_never_drives),
        cmocka_unit_test(pedals_turned_too_slowly_never_drive),
        cmocka_unit_test(a_change_of_pace_keeps_the_pulses_counted),
        cmocka_unit_test(a_pace_too_slow_stops_after_the_last_pulse),
        cmocka_unit_test(a_pedal_lead_that_comes_off_stops_and_one_joined_again_starts),
        cmocka_unit_test(the_key_cuts_at_once_and_an_open_grip_must_come_to_rest),
        cmocka_unit_test(a_course_is_checked),
        cmocka_unit_test(the_longest_course_fits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
