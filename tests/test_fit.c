/*
 * The machine under load: energy, the d.c. line where it holds, where machine and road meet, the
 * same bytes for any number of threads.
 */
#include "check.h"

#include "decide/fit/loaded_machine.h"
#include "model/heat.h"
#include "model/road.h"

static hp_fit_given given_of(const hp_drive *drive, const hp_vehicle *vehicle, int jobs)
{
    hp_fit_given given = {.drive = drive,
                          .vehicle = vehicle,
                          .survey = hp_survey_options_default(),
                          .sensor_least_v = 3.8,
                          .sensor_most_v = 24.0};
    given.survey.starts = 2;
    given.survey.jobs = jobs;
    return given;
}

/* The default machine, run once for the tests below. */
static hp_drive drive;
static hp_vehicle vehicle;
static hp_fit fit;

static int make(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    drive = hp_drive_default();
    drive.motor.winding_c = 45.0; /* losses are told as if at 20 C */
    drive.controller.undervoltage_v = 31.0;
    vehicle = hp_vehicle_default();
    hp_fit_given given = given_of(&drive, &vehicle, 2);
    return hp_fit_run(&given, &fit, &err) == HP_OK ? 0 : -1;
}

static void any_number_of_threads_gives_the_same_bytes(void **state)
{
    (void)state;
    static hp_fit again;
    hp_error err = hp_error_none();
    hp_fit_given given = given_of(&drive, &vehicle, 1);
    check_int(hp_fit_run(&given, &again, &err), HP_OK);
    for (int k = 0; k < HP_FIT_RULE_COUNT; k++)
        for (int n = 0; n < fit.line[k].figures; n++)
            check_true(again.line[k].figure[n].high == fit.line[k].figure[n].high,
                       "line %d, figure %d", k, n);
    for (int c = 0; c < HP_FIT_CHARGE_COUNT; c++)
        for (int k = 0; k < HP_FIT_POINTS; k++) {
            const hp_fit_point *a = &again.curve[c].point[k], *b = &fit.curve[c].point[k];
            check_close(a->wheel_rad_s, b->wheel_rad_s, 0.0, "same bytes");
            check_close(a->phase_rms_a, b->phase_rms_a, 0.0, "same bytes");
            check_close(a->copper_w, b->copper_w, 0.0, "same bytes");
        }
}

/* What is stated alone decides the lines that need no wiring, as the whole fit does. */
static void lines_that_need_no_run_are_the_same_without_one(void **state)
{
    (void)state;
    static hp_fit stated;
    hp_error err = hp_error_none();
    hp_drive limited = drive;
    hp_vehicle own = vehicle;
    limited.controller.battery_limit_a = 15.0;
    own.ratings.controller_most_v = own.pack.full_v - 1.0;
    hp_fit_given given = given_of(&limited, &own, 1);
    check_int(hp_fit_stated(&given, &stated, &err), HP_OK);
    check_int(stated.line[HP_FIT_CONTROLLER_VOLTS].state, HP_FIT_STOP);
    check_int(stated.line[HP_FIT_LEVEL].state, HP_FIT_UNKNOWN);
    check_true(stated.line[HP_FIT_CUT_OFF].state == fit.line[HP_FIT_CUT_OFF].state &&
                   stated.line[HP_FIT_STALL_HEAT].state == fit.line[HP_FIT_STALL_HEAT].state,
               "another state");
    own.wheel_m = -1.0;
    check_int(hp_fit_stated(&given, &stated, &err), HP_FAIL_INPUT);
}

/* Battery power is that of the wheel, the winding with the switches, and friction: no inertia is
 * left once it runs steadily. */
static void energy_is_kept_at_every_load(void **state)
{
    (void)state;
    double hot = hp_motor_resistance(&drive.motor);
    double with_switches = (hot + drive.controller.switch_resistance_ohm) / hot;
    int runs = 0;
    for (int c = 0; c < HP_FIT_CHARGE_COUNT; c++)
        for (int k = 0; k < HP_FIT_POINTS; k++) {
            const hp_fit_point *p = &fit.curve[c].point[k];
            if (!p->runs)
                continue;
            runs++;
            double warm = 1.0 + drive.motor.copper_per_k * (45.0 - 20.0);
            double out = p->wheel_w + p->hub_w + p->copper_w * warm * with_switches;
            check_close(p->battery_w, out, 0.01 * p->battery_w + 0.2,
                        "settled to a ten-thousandth; freewheeling diodes take the rest");
        }
    check_true(runs > 60, "%d of 72 run", runs);
}

/* Below the limits the simulated speed lies a little below the d.c. line (commutation takes some),
 * never above; near no load they meet. */
static void the_dc_line_is_met_at_small_loads(void **state)
{
    (void)state;
    for (int c = 0; c < HP_FIT_CHARGE_COUNT; c++) {
        const hp_fit_curve *curve = &fit.curve[c];
        check_relative(curve->point[0].wheel_rad_s, curve->dc_rad_s[0], 0.005, "almost no current");
        for (int k = 0; k < HP_FIT_POINTS && curve->point[k].runs; k++) {
            check_true(curve->point[k].wheel_rad_s < 1.001 * curve->dc_rad_s[k],
                       "point %d is faster than the d.c. line", k);
            if (!curve->point[k].limited)
                check_relative(curve->point[k].wheel_rad_s, curve->dc_rad_s[k], 0.08,
                               "L di/dt at every hand-over, which the line leaves out");
        }
    }
}

static void speed_falls_and_current_rises_with_the_load(void **state)
{
    (void)state;
    for (int c = 0; c < HP_FIT_CHARGE_COUNT; c++) {
        const hp_fit_point *p = fit.curve[c].point;
        for (int k = 1; k < HP_FIT_POINTS && p[k].runs; k++) {
            check_true(p[k].wheel_rad_s < p[k - 1].wheel_rad_s, "slower at %d", k);
            check_true(p[k].phase_rms_a > p[k - 1].phase_rms_a, "more current at %d", k);
            check_true(p[k].battery_a < 1.02 * drive.controller.battery_limit_a, "limited at %d",
                       k);
        }
        check_true(fit.curve[c].emf_v < (c ? fit.curve[c - 1].emf_v : 43.0), "charge falls");
    }
}

/* At the meeting the wheel gives what the road asks. */
static void machine_and_road_meet(void **state)
{
    (void)state;
    double r = vehicle.wheel_m / HP_TWO_PI;
    const hp_fit_meeting *all[] = {&fit.level[0], &fit.level[1], &fit.level[2], &fit.hill[0],
                                   &fit.hill[1],  &fit.hill[2],  &fit.slope[3]};
    for (int k = 0; k < 7; k++) {
        assert_true(all[k]->meets);
        double asked = r * hp_road_force_at(&vehicle.road, all[k]->speed, all[k]->slope).total;
        check_relative(all[k]->point.torque_nm, asked, 2e-3, "regula falsi to a thousandth");
        check_true(all[k]->slow < all[k]->speed && all[k]->speed < all[k]->quick, "its band");
    }
    check_true(fit.hill[0].speed < fit.level[0].speed, "a hill is slower");
    check_close(fit.slope[3].speed, fit.hill[1].speed, 0.0, "6 % both, the same run");
    check_true(fit.steepest > fit.lasting_slope && fit.lasting_slope > 0.0, "%g, %g", fit.steepest,
               fit.lasting_slope);
    /* Just below and above the steepest. */
    const hp_fit_curve *curve = &fit.curve[HP_FIT_CHARGE_MIDDLE];
    assert_true(!isnan(hp_fit_meeting_torque(curve, &vehicle, fit.steepest - 0.001, 1.0)));
    assert_true(isnan(hp_fit_meeting_torque(curve, &vehicle, fit.steepest + 0.001, 1.0)));
}

/* A wheel that runs at the cruising speed against the road's torque. */
static void the_cruise_is_at_its_speed(void **state)
{
    (void)state;
    assert_true(fit.cruises);
    double r = vehicle.wheel_m / HP_TWO_PI;
    check_relative(fit.cruise.wheel_rad_s * r, vehicle.cruise_m_s, 2e-3, "to a thousandth");
    check_relative(fit.cruise.torque_nm,
                   r * hp_road_force_at(&vehicle.road, vehicle.cruise_m_s, 0.0).total, 1e-12,
                   "rounding");
    check_true(fit.cruise.battery_a < fit.level[HP_FIT_CHARGE_MIDDLE].point.battery_a,
               "less power");
}

/* What is asked for is all that there is: slower on the level, no more torque than the limiters
 * give; a cruise above it is not made. */
static void pedals_that_give_a_part_are_its_full_throttle(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    hp_fit part;
    hp_fit_given given = given_of(&drive, &vehicle, 2);
    check_close(fit.full, 1.0, 0.0, "nobody said otherwise");
    given.full = 0.5;
    check_true(hp_fit_run(&given, &part, &err) == HP_OK, "%s", err.text);
    check_close(part.full, 0.5, 0.0, "as given");
    check_int(part.correct, fit.correct);
    double free_all = fit.curve[0].point[0].wheel_rad_s,
           free_half = part.curve[0].point[0].wheel_rad_s;
    check_relative(free_half, 0.5 * free_all, 0.1, "a free wheel turns as fast as its duty");
    check_true(part.level[1].meets && part.level[1].speed < 0.75 * fit.level[1].speed, "%g of %g",
               part.level[1].speed, fit.level[1].speed);
    check_true(!part.cruises || part.cruise_throttle <= 0.5, "%g", part.cruise_throttle);
    hp_fit stated;
    check_int(hp_fit_stated(&given, &stated, &err), HP_OK);
    check_true(stated.stalled_battery_a <= fit.stalled_battery_a, "no more is asked for");
}

/* The ride is what the closed form makes of its stretches, one after the other. */
static void the_ride_is_its_stretches(void **state)
{
    (void)state;
    const hp_fit_course *c = &fit.course;
    check_int(c->stuck, 0);
    check_relative(c->metres[c->count - 1], 4500.0, 1e-12, "all of it");
    const hp_fit_meeting *level = &fit.level[HP_FIT_CHARGE_MIDDLE];
    const hp_fit_meeting *hill = &fit.hill[HP_FIT_CHARGE_MIDDLE];
    hp_heat_state s = hp_heat_cold(&vehicle.heat);
    double seconds = 0.0;
    for (int k = 0; k < 3; k++) {
        const hp_fit_meeting *m = k == 1 ? hill : level;
        hp_heat_loss loss = {m->point.copper_w, drive.motor.copper_per_k, m->point.hub_w};
        double t = vehicle.ride[k].metres / m->speed;
        s = hp_heat_after(&vehicle.heat, &loss, s, t);
        seconds += t;
        if (k == 1)
            check_relative(c->hottest_c, s.copper_c, 1e-9, "hottest at the top");
    }
    check_relative(c->copper_c[c->count - 1], s.copper_c, 1e-9, "rounding");
    check_relative(c->seconds, seconds, 1e-12, "rounding");
    check_relative(c->hottest_high_c - 20.0, 1.3 * (c->hottest_c - 20.0), 1e-9, "the band");
}

/* A heavier machine on a steeper hill overheats, is stopped, or does not climb. */
static void a_hopeless_hill_is_told(void **state)
{
    (void)state;
    static hp_fit heavy;
    hp_error err = hp_error_none();
    hp_vehicle loaded = vehicle;
    loaded.road.mass_kg = 400.0;
    loaded.hill = 0.12;
    loaded.ride[1].percent = 12.0;
    hp_fit_given given = given_of(&drive, &loaded, 2);
    check_int(hp_fit_run(&given, &heavy, &err), HP_OK);
    assert_false(heavy.hill[0].meets);
    check_int(heavy.line[HP_FIT_HILL].state, HP_FIT_STOP);
    check_int(heavy.course.stuck, 2);
    check_int(heavy.line[HP_FIT_RIDE_HEAT].state, HP_FIT_STOP);
    check_int(hp_fit_worst(&heavy), HP_FIT_STOP);
}

/* The textbook's line: volts are back-EMF and what the current of torque and friction loses. */
static void the_dc_line_balances_volts(void **state)
{
    (void)state;
    hp_drive ridden = hp_fit_ridden(&drive, 40.0, 1.0);
    ridden.stand.gear_ratio = 3.0;
    ridden.stand.rotor.viscous_nm_s_rad = 0.05;
    double wheel = hp_fit_dc_speed(&ridden, 30.0), rotor = 3.0 * wheel, k = 2.0 * drive.motor.ke;
    double current = (30.0 / 3.0 + 0.35 + 0.05 * rotor) / k;
    double ohm = 2.0 * (hp_motor_resistance(&drive.motor) + 0.004) + ridden.supply.resistance_ohm;
    check_relative(k * rotor + current * ohm, 40.0, 1e-12, "rounding");
}

/* The ride ends at the later of the battery's and the controller's end; of the reverse wirings the
 * nearest is taken: two phase leads and two Hall leads change places. */
static void the_survey_gives_the_wirings_and_the_end_of_the_ride(void **state)
{
    (void)state;
    check_close(fit.curve[HP_FIT_CHARGE_EMPTY].emf_v, 31.0, 0.0, "the controller's");
    check_close(fit.curve[HP_FIT_CHARGE_MIDDLE].emf_v, 37.0, 1e-12, "ten cells");
    check_close(fit.curve[HP_FIT_CHARGE_FULL].emf_v, 42.0, 1e-12, "ten cells");
    check_int(fit.correct, 1);
    check_int(fit.moved, 4);
}

/* Where the road pushes no current flows, and the brakes hold the cruising speed. */
static void downhill_the_winding_stays_cold(void **state)
{
    (void)state;
    static hp_fit down;
    hp_error err = hp_error_none();
    hp_vehicle hill = vehicle;
    hill.ride[0] = (hp_stretch){1000.0, -6.0};
    hill.stretches = 1;
    hp_fit_given given = given_of(&drive, &hill, 2);
    check_int(hp_fit_run(&given, &down, &err), HP_OK);
    check_relative(down.course.seconds, 1000.0 / hill.cruise_m_s, 1e-12, "rounding");
    check_close(down.course.hottest_c, 20.0, 1e-9, "as warm as the air");
}

/* Behind a gear the wheel's torque is the rotor's times the ratio: the same rotor, geared, turns a
 * wheel slower and stronger. */
static void a_gear_trades_speed_for_torque(void **state)
{
    (void)state;
    hp_engine *engine = hp_engine_create(NULL);
    assert_non_null(engine);
    hp_drive geared = hp_fit_ridden(&drive, 37.0, 1.0), direct = geared;
    direct.stand.rotor = direct.stand.wheel = (hp_friction){0};
    geared.stand = direct.stand;
    geared.stand.gear_ratio = 5.0;
    hp_wiring wiring = hp_wiring_from_number(fit.correct);
    hp_fit_point one = hp_fit_point_run(engine, &direct, &wiring, 4.0);
    hp_fit_point five = hp_fit_point_run(engine, &geared, &wiring, 20.0);
    check_relative(five.wheel_rad_s, one.wheel_rad_s / 5.0, 1e-3, "no friction, the same rotor");
    check_relative(five.battery_w, one.battery_w, 2e-3, "the same power");
    hp_engine_free(engine);
}

static void a_vehicle_that_cannot_be_is_refused(void **state)
{
    (void)state;
    static hp_fit none;
    hp_error err = hp_error_none();
    hp_vehicle wrong = vehicle;
    hp_fit_given given = given_of(&drive, &wrong, 1);
    wrong.hill = 0.9;
    check_int(hp_fit_run(&given, &none, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "vehicle.hill_percent is 90");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(any_number_of_threads_gives_the_same_bytes),
        cmocka_unit_test(lines_that_need_no_run_are_the_same_without_one),
        cmocka_unit_test(energy_is_kept_at_every_load),
        cmocka_unit_test(the_dc_line_is_met_at_small_loads),
        cmocka_unit_test(speed_falls_and_current_rises_with_the_load),
        cmocka_unit_test(machine_and_road_meet),
        cmocka_unit_test(the_cruise_is_at_its_speed),
        cmocka_unit_test(pedals_that_give_a_part_are_its_full_throttle),
        cmocka_unit_test(the_ride_is_its_stretches),
        cmocka_unit_test(a_hopeless_hill_is_told),
        cmocka_unit_test(the_dc_line_balances_volts),
        cmocka_unit_test(the_survey_gives_the_wirings_and_the_end_of_the_ride),
        cmocka_unit_test(downhill_the_winding_stays_cold),
        cmocka_unit_test(a_gear_trades_speed_for_torque),
        cmocka_unit_test(a_vehicle_that_cannot_be_is_refused),
    };
    return cmocka_run_group_tests(tests, make, NULL);
}
