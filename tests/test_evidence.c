/* Entries of the bench log: what sensors show, and what is refused. */
#include "check.h"
#include "entry_kind.h"

#include "decide/advise/hypothesis.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/model/motor.h"
#include "model/sensors.h"

/* Codes by marks agree with the simulator's own sensors, axis for axis, all around the turn. */
static void marked_codes_agree_with_the_sensors(void **state)
{
    (void)state;
    for (int r = 0; r < HP_RELATION_COUNT; r++) {
        for (int inverted = -1; inverted < 3; inverted++) {
            for (int f = 0; f < 7; f++) {
                hp_hypothesis h = {r, 0, inverted, hp_fault_from_index(f)};
                int axis[3], lead_axis[3];
                hp_relation_axes(r, axis, lead_axis);
                hp_sensors_params sensors = hp_sensors_params_default();
                if (inverted >= 0)
                    sensors.fault[axis[inverted]] = HP_SENSOR_INVERTED;
                if (h.fault.kind == HP_FAULT_SENSOR_HIGH)
                    sensors.fault[axis[h.fault.which]] = HP_SENSOR_STUCK_HIGH;
                if (h.fault.kind == HP_FAULT_SENSOR_LOW)
                    sensors.fault[axis[h.fault.which]] = HP_SENSOR_STUCK_LOW;
                for (int degree = 7; degree < 360; degree += 31) {
                    double theta = degree * HP_DEG;
                    int bit[3];
                    for (int s = 0; s < 3; s++)
                        bit[s] = hp_sensor_output(&sensors, axis[s],
                                                  hp_sensor_inside(&sensors, axis[s], theta));
                    check_int(hp_marked_code(&h, theta), hp_code(bit[0], bit[1], bit[2]));
                }
            }
        }
    }
}

/* 120 degrees: 000 and 111 never show. 60 degrees, middle sensor inverted: they do, and 010 and 101
 * do not (MC33035 datasheet, title and 60/120-degree phasing read, table from memory). */
static void rings_of_both_spacings(void **state)
{
    (void)state;
    int code[6];
    hp_hypothesis h = {0, 0, -1, {HP_FAULT_NONE, 0}};
    check_int(hp_marked_ring(&h, code), 6);
    const int ring_120[] = {4, 6, 2, 3, 1, 5};
    for (int k = 0; k < 6; k++)
        check_int(code[k], ring_120[k]);
    h.inverted = 1;
    check_int(hp_marked_ring(&h, code), 6);
    const int ring_60[] = {6, 4, 0, 1, 3, 7};
    for (int k = 0; k < 6; k++)
        check_int(code[k], ring_60[k]);
    h.fault = (hp_fault){HP_FAULT_SENSOR_HIGH, 0};
    check_int(hp_marked_ring(&h, code), 4);
    h.fault = (hp_fault){HP_FAULT_CLUTCH, 0};
    check_int(hp_marked_ring(&h, code), 1);
}

static void refused(const hp_entry *entry, const char *text)
{
    hp_error err = hp_error_none();
    assert_int_equal(hp_entry_check(entry, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, text);
}

static void new_entries_pass_and_bad_ones_are_named(void **state)
{
    (void)state;
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        hp_entry entry = hp_entry_make(kind_reading(kind), kind + 1);
        if (kind == KIND_HAND_TURN)
            entry.hand_turn.count = 1;
        if (kind == KIND_SPIN)
            entry.spin.wheel_rad_s = 1.0;
        assert_int_equal(hp_entry_check(&entry, NULL), HP_OK);
    }
    hp_entry e = hp_entry_make(&hp_reading_trial, 3);
    e.trial.throttle = 1.5;
    refused(&e, "entry 3 (trial): throttle is 1.5, must be 0 to 1");
    e = hp_entry_make(&hp_reading_trial, 3);
    e.trial.motion = HP_MOVED_STILL;
    e.trial.starts = 2;
    e.trial.starts_tried = 5;
    refused(&e, "did not turn, yet started from 2");
    e.trial.motion = HP_MOVED_FORWARD;
    e.trial.starts = 0;
    refused(&e, "started from none of 5");
    e.trial.starts = 6;
    refused(&e, "starts is 6");
    e = hp_entry_make(&hp_reading_trial, 3);
    e.trial.motion = HP_MOVED_SHIVER;
    e.trial.wheel_rad_s = 2.0;
    refused(&e, "did not turn, yet the wheel has a speed");
    e.trial.motion = HP_MOVED_BACKWARD;
    e.trial.wheel_rad_s = 0.0;
    refused(&e, "it turned, yet the wheel's speed is 0");
    e.trial.motion = HP_MOVED_HUM;
    assert_int_equal(hp_entry_check(&e, NULL), HP_OK);
    e = hp_entry_make(&hp_reading_trial, 4);
    e.trial.battery_a = -1.0;
    refused(&e, "battery current in A is -1");
    e.trial.battery_a = NAN;
    e.trial.wiring.sensor[0] = e.trial.wiring.sensor[1];
    refused(&e, "each lead once");
    e = hp_entry_make(&hp_reading_hand_turn, 5);
    refused(&e, "entry 5 (hand turn): number of codes is 0");
    e.hand_turn.count = 2;
    e.hand_turn.code[1] = 8;
    refused(&e, "code is 8");
    e = hp_entry_make(&hp_reading_spin, 6);
    refused(&e, "wheel speed is 0");
    e = hp_entry_make(&hp_reading_winding, 7);
    e.winding.ohm[2] = -0.1;
    refused(&e, "resistance is -0.1 ohm");
    e.winding.ohm[2] = 0.1;
    e.winding.leads_ohm = 0.3;
    refused(&e, "resistance is 0.1 ohm with the test leads, must be at least their own 0.3 ohm");
    e = hp_entry_make(&hp_reading_probe, 8);
    e.probe.read[3] = true;
    e.probe.row[3] = (hp_commutation_row){1, 1};
    refused(&e, "code 3 drives outputs 1 and 1");
    e = hp_entry_make(&hp_reading_park, 9);
    e.park.code = 9;
    refused(&e, "code is 9");
    e = hp_entry_make(&hp_reading_supply, 10);
    e.supply.volts = NAN;
    refused(&e, "Hall supply in V is nan");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(marked_codes_agree_with_the_sensors),
        cmocka_unit_test(rings_of_both_spacings),
        cmocka_unit_test(new_entries_pass_and_bad_ones_are_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
