/* Sensors: where edges stand, which way they move, what faults show. */
#include "field_limits.h"

#include "hubphase/model/controller.h"
#include "hubphase/model/motor.h"
#include "model/sensors.h"

#define ROUNDING 1e-13 /* a few operations on angles below ten */

static int code_at(const hp_sensors_params *sensors, double theta)
{
    int bit[HP_PHASE_COUNT];
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        bit[k] = hp_sensor_output(sensors, k, hp_sensor_inside(sensors, k, theta));
    return hp_code(bit[HP_U], bit[HP_V], bit[HP_W]);
}

/* 60-degree sectors about 0, 60, ... 300 degrees, edges at 30, 90, ... (model). */
static void ideal_code_steps_every_sixty_degrees(void **state)
{
    (void)state;
    static const int code[HP_SECTOR_COUNT] = {4, 6, 2, 3, 1, 5}; /* 100 110 010 011 001 101 */
    hp_sensors_params sensors = hp_sensors_params_default();
    for (int k = -720; k < 720; k++) {
        double degrees = k + 0.25;
        int sector = (int)floor((degrees + 30.0) / 60.0);
        check_int(code_at(&sensors, degrees * HP_DEG), code[(sector + 24) % 6]);
    }
}

/* 60-degree placement: the middle sensor inverted; visits 000 and 111, never 101 and 010 (title and
 * phasing of the MC33035 datasheet: read; its table: memory), one bit at a time. */
static void sixty_degree_code_visits_000_and_111(void **state)
{
    (void)state;
    hp_sensors_params sensors = hp_sensors_params_default();
    sensors.spacing_60 = true;
    bool seen[HP_CODE_COUNT] = {false};
    int before = code_at(&sensors, -0.25 * HP_DEG);
    for (int k = 0; k < 720; k++) {
        int code = code_at(&sensors, (0.5 * k + 0.25) * HP_DEG);
        check_true(__builtin_popcount((unsigned)(code ^ before)) <= 1, "%d after %d", code, before);
        seen[code] = true;
        before = code;
    }
    for (int code = 0; code < HP_CODE_COUNT; code++)
        check_int(seen[code], code != hp_code(1, 0, 1) && code != hp_code(0, 1, 0));
}

/* Whatever the set and its errors of place: 1 on the sensor's own side, 0 on the other. */
static void a_sensor_reads_one_while_north_is_within_a_quarter_turn_of_its_place(void **state)
{
    (void)state;
    for (int sixty = 0; sixty < 2; sixty++)
        for (int error = -30; error <= 30; error += 6) {
            hp_sensors_params sensors = hp_sensors_params_default();
            sensors.spacing_60 = sixty;
            for (int phase = 0; phase < HP_PHASE_COUNT; phase++) {
                sensors.placement_rad[phase] = (phase == HP_W ? -error : error) * HP_DEG;
                double place = hp_sensor_place(&sensors, phase);
                check_true(place >= 0.0 && place < HP_TWO_PI, "%g", place);
                for (int degrees = -90; degrees < 450; degrees++) {
                    double theta = (degrees + 0.5) * HP_DEG;
                    int near = cos(theta - place) > 0.0;
                    int bit =
                        hp_sensor_output(&sensors, phase, hp_sensor_inside(&sensors, phase, theta));
                    check_true(bit == near, "%c %s, %d off, at %d", hp_phase_letter(phase),
                               sixty ? "60" : "120", error, degrees);
                }
            }
        }
    /* A set of 60-degree sensors sits within 120 degrees. */
    hp_sensors_params set = hp_sensors_params_default();
    set.spacing_60 = true;
    check_close(hp_sensor_place(&set, HP_U) / HP_DEG, 0.0, 1e-9, "sums of a few angles");
    check_close(hp_sensor_place(&set, HP_V) / HP_DEG, 300.0, 1e-9, "sums of a few angles");
    check_close(hp_sensor_place(&set, HP_W) / HP_DEG, 240.0, 1e-9, "sums of a few angles");
}

static void a_placement_error_moves_both_edges_along(void **state)
{
    (void)state;
    for (int phase = 0; phase < HP_PHASE_COUNT; phase++) {
        for (int error = -30; error <= 30; error += 5) {
            hp_sensors_params sensors = hp_sensors_params_default();
            sensors.placement_rad[phase] = error * HP_DEG;
            double enter = (120.0 * phase + error - 90.0) * HP_DEG, leave = enter + HP_PI;
            double nudge = 0.01 * HP_DEG;
            assert_false(hp_sensor_inside(&sensors, phase, enter - nudge));
            assert_true(hp_sensor_inside(&sensors, phase, enter + nudge));
            assert_true(hp_sensor_inside(&sensors, phase, leave - nudge));
            assert_false(hp_sensor_inside(&sensors, phase, leave + nudge));
        }
    }
}

/* Enters at 90 - h, leaves at 90 + h, whichever way the rotor turns (header). */
static void hysteresis_delays_every_toggle(void **state)
{
    (void)state;
    for (int phase = 0; phase < HP_PHASE_COUNT; phase++) {
        for (int degrees = 0; degrees <= 20; degrees += 4) {
            hp_sensors_params sensors = hp_sensors_params_default();
            double h = sensors.hysteresis_rad = degrees * HP_DEG;
            sensors.placement_rad[phase] = 7.0 * HP_DEG;
            double centre = hp_phase_axis(phase) + 7.0 * HP_DEG, quarter = 0.5 * HP_PI;
            for (int turn = -3; turn <= 3; turn++) {
                double here = centre + turn * HP_TWO_PI, far = here + HP_PI;
                for (int way = -1; way <= 1; way += 2) {
                    check_close(hp_sensor_distance(&sensors, phase, true, here, way), quarter + h,
                                ROUNDING, "rounding");
                    check_close(hp_sensor_distance(&sensors, phase, false, far, way), quarter + h,
                                ROUNDING, "rounding");
                    /* Just inside of where it went in, turning back: twice the hysteresis. */
                    double entered = here - way * (quarter - h);
                    check_close(hp_sensor_distance(&sensors, phase, true, entered, -way), 2.0 * h,
                                ROUNDING, "rounding");
                    double left = here + way * (quarter + h);
                    check_close(hp_sensor_distance(&sensors, phase, false, left, -way), 2.0 * h,
                                ROUNDING, "rounding");
                }
            }
        }
    }
}

/* Without hysteresis a rotor that turns back on an edge meets it at distance 0, not a turn away,
 * however the angle of the edge was rounded. */
static void a_rotor_on_an_edge_is_not_a_turn_away_from_it(void **state)
{
    (void)state;
    hp_sensors_params sensors = hp_sensors_params_default();
    sensors.hysteresis_rad = 0.0;
    for (int phase = 0; phase < HP_PHASE_COUNT; phase++) {
        for (int k = -2000; k <= 2000; k++) {
            double placement = 0.013 * (k % 30) * HP_DEG;
            sensors.placement_rad[phase] = placement;
            double enter = hp_phase_axis(phase) + placement - 0.5 * HP_PI + k * HP_TWO_PI;
            check_close(hp_sensor_distance(&sensors, phase, true, enter, -1), 0.0, 2e-11,
                        "rounding of an angle of two thousand turns");
            check_close(hp_sensor_distance(&sensors, phase, false, enter + HP_PI, -1), 0.0, 2e-11,
                        "rounding of an angle of two thousand turns");
            check_close(hp_sensor_distance(&sensors, phase, false, enter, 1), 0.0, 2e-11,
                        "rounding of an angle of two thousand turns");
        }
    }
}

/* Walking from toggle to toggle, a turn either way has six of them, 60 degrees apart. */
static void a_turn_has_six_edges(void **state)
{
    (void)state;
    for (int way = -1; way <= 1; way += 2) {
        hp_sensors_params sensors = hp_sensors_params_default();
        bool inside[HP_PHASE_COUNT];
        double theta = 0.0;
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            inside[k] = hp_sensor_inside(&sensors, k, theta);
        for (int edge = 0; edge < 18; edge++) {
            double nearest = INFINITY;
            int which = -1;
            for (int k = 0; k < HP_PHASE_COUNT; k++) {
                double d = hp_sensor_distance(&sensors, k, inside[k], theta, way);
                if (d < nearest) {
                    nearest = d;
                    which = k;
                }
            }
            /* Every toggle comes the hysteresis late along the way, so that the steps are even. */
            double expected = edge == 0 ? 30.0 * HP_DEG + sensors.hysteresis_rad : 60.0 * HP_DEG;
            check_close(nearest, expected, ROUNDING, "rounding");
            theta += way * nearest;
            inside[which] = !inside[which];
        }
    }
}

static void faults_show_at_the_output(void **state)
{
    (void)state;
    for (int phase = 0; phase < HP_PHASE_COUNT; phase++) {
        for (int spacing = 0; spacing < 2; spacing++) {
            hp_sensors_params sensors = hp_sensors_params_default();
            sensors.spacing_60 = spacing;
            for (int inside = 0; inside < 2; inside++) {
                int plain = spacing && phase == HP_V ? !inside : inside;
                sensors.no_supply = false;
                sensors.fault[phase] = HP_SENSOR_SOUND;
                check_int(hp_sensor_output(&sensors, phase, inside), plain);
                sensors.fault[phase] = HP_SENSOR_INVERTED;
                check_int(hp_sensor_output(&sensors, phase, inside), !plain);
                sensors.fault[phase] = HP_SENSOR_STUCK_HIGH;
                check_int(hp_sensor_output(&sensors, phase, inside), 1);
                sensors.fault[phase] = HP_SENSOR_STUCK_LOW;
                check_int(hp_sensor_output(&sensors, phase, inside), 0);
                /* Without supply nothing pulls the line down, not even a shorted output stage
                 * that needs the supply to do so (model). */
                sensors.no_supply = true;
                for (int fault = 0; fault < HP_SENSOR_FAULT_COUNT; fault++) {
                    sensors.fault[phase] = (hp_sensor_fault)fault;
                    check_int(hp_sensor_output(&sensors, phase, inside), 1);
                }
            }
        }
    }
}

static hp_result check(const void *params, hp_error *err)
{
    return hp_sensors_params_check(params, err);
}

static void limits_are_kept(void **state)
{
    (void)state;
    hp_sensors_params sensors = hp_sensors_params_default();
    check_accepted(hp_sensors_params_check(&sensors, &refusal));
    double most = 30.0 * HP_DEG, over = 30.1 * HP_DEG;
    const field_limit field[] = {
        {"error_deg of U", offsetof(hp_sensors_params, placement_rad[HP_U]), -most, most, -over,
         over},
        {"error_deg of V", offsetof(hp_sensors_params, placement_rad[HP_V]), -most, most, -over,
         over},
        {"error_deg of W", offsetof(hp_sensors_params, placement_rad[HP_W]), -most, most, -over,
         over},
        {"sensors.hysteresis_deg", offsetof(hp_sensors_params, hysteresis_rad), 0.0, 20.0 * HP_DEG,
         -1e-9, 20.1 * HP_DEG},
    };
    check_field_limits(&sensors, sizeof sensors, check, field, sizeof field / sizeof field[0]);
    for (int phase = 0; phase < HP_PHASE_COUNT; phase++) {
        sensors = hp_sensors_params_default();
        sensors.fault[phase] = HP_SENSOR_FAULT_COUNT;
        check_refused(hp_sensors_params_check(&sensors, &refusal), "sensors.fault");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ideal_code_steps_every_sixty_degrees),
        cmocka_unit_test(sixty_degree_code_visits_000_and_111),
        cmocka_unit_test(a_sensor_reads_one_while_north_is_within_a_quarter_turn_of_its_place),
        cmocka_unit_test(a_placement_error_moves_both_edges_along),
        cmocka_unit_test(hysteresis_delays_every_toggle),
        cmocka_unit_test(a_rotor_on_an_edge_is_not_a_turn_away_from_it),
        cmocka_unit_test(a_turn_has_six_edges),
        cmocka_unit_test(faults_show_at_the_output),
        cmocka_unit_test(limits_are_kept),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
