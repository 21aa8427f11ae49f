/* What the controller makes of the controls at one moment: every lead, every sort of switch. */
#include "field_limits.h"

#include "hubphase/model/ride_controls.h"

static void default_is_accepted(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    check_accepted(hp_controls_params_check(&controls, &refusal));
}

static hp_result check(const void *params, hp_error *err)
{
    return hp_controls_params_check(params, err);
}

#define FIELD(name, least, most, below, above)                                                     \
    {                                                                                              \
        "controls." #name, offsetof(hp_controls_params, name), least, most, below, above           \
    }

static void limits_are_kept(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    const field_limit field[] = {
        FIELD(throttle.supply_v, 5.0, 60.0, 0.0, 61.0),
        FIELD(throttle.rest_v, 0.0, 4.19, -1e-9, 5.1),
        FIELD(throttle.full_v, 0.81, 5.0, 0.8, 5.1),
        FIELD(throttle.starts_v, 0.0, 3.99, -1e-9, 5.1),
        FIELD(throttle.saturates_v, 1.01, 5.0, 1.0, 5.1),
        FIELD(throttle.fault_low_v, 0.0, 0.99, -1e-9, 1.0),
        FIELD(throttle.fault_high_v, 4.0, 5.0, 3.99, 5.1),
        FIELD(throttle.lost_supply_v, 0.0, 5.0, -1e-9, 5.1),
        FIELD(throttle.lost_ground_v, 0.0, 5.0, -1e-9, 5.1),
        FIELD(throttle.lost_signal_v, 0.0, 5.0, -1e-9, 5.1),
        FIELD(brake.delay_s, 0.0, 1.0, -1e-9, 1.1),
        FIELD(pedal.high_share, 1e-6, 1.0 - 1e-6, 0.0, 1.0),
        FIELD(pedal.assist, 0.0, 1.0, -1e-9, 1.0 + 1e-9),
        FIELD(pedal.off_s, 1e-3, 10.0, 0.0, 10.1),
        FIELD(speed.cap[0], 1e-3, 1.0, 0.0, 1.1),
    };
    for (size_t k = 0; k < sizeof field / sizeof field[0]; k++) {
        field_limit one = field[k];
        if (one.offset == offsetof(hp_controls_params, speed.cap[0]))
            one.text = "controls.speed.cap";
        check_field_limits(&controls, sizeof controls, check, &one, 1);
    }
}

static void counts_and_sorts_are_kept(void **state)
{
    (void)state;
    const hp_controls_params good = hp_controls_params_default();
#define REFUSED(field, value_, text)                                                               \
    do {                                                                                           \
        hp_controls_params bad = good;                                                             \
        bad.field = value_;                                                                        \
        check_refused(hp_controls_params_check(&bad, &refusal), text);                             \
    } while (0)
    REFUSED(brake.fitted, (hp_brake_switch)-1, "brake.fitted");
    REFUSED(brake.fitted, HP_SWITCH_COUNT, "brake.fitted");
    REFUSED(brake.expects, HP_SWITCH_NONE, "brake.expects");
    REFUSED(brake.joins, HP_LEVEL_COUNT, "brake.joins");
    REFUSED(brake.expects_at, HP_LEVEL_COUNT, "brake.expects_at");
    REFUSED(pedal.mode, HP_PEDAL_MODE_COUNT, "pedal.mode");
    REFUSED(pedal.forward, HP_PEDAL_SENSE_COUNT, "pedal.forward");
    REFUSED(pedal.pulses_per_turn, 0, "pedal.pulses_per_turn");
    REFUSED(pedal.pulses_per_turn, 101, "pedal.pulses_per_turn");
    REFUSED(pedal.start_pulses, 0, "pedal.start_pulses");
    REFUSED(pedal.start_pulses, 101, "pedal.start_pulses");
    REFUSED(speed.steps, 0, "speed.steps");
    REFUSED(speed.steps, 9, "speed.steps");
    REFUSED(speed.chosen, 0, "speed.chosen");
    REFUSED(speed.chosen, 2, "speed.chosen");
    REFUSED(speed.lost, 0, "speed.lost");
    REFUSED(speed.lost, 2, "speed.lost");
#undef REFUSED
}

/* 0.8 to 4.2 V, dead below 1.0 and full above 4.0: half way is 2.5 V, and half. */
static void the_throttle_has_dead_bands_and_a_straight_line_between(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    hp_controls_state now = hp_controls_state_rest(&controls);
    const double rows[][3] = {{0.0, 0.8, 0.0},          {0.2 / 3.4, 1.0, 0.0}, {0.5, 2.5, 0.5},
                              {0.25, 1.65, 0.65 / 3.0}, {3.2 / 3.4, 4.0, 1.0}, {1.0, 4.2, 1.0}};
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        now.grip = rows[k][0];
        double volts = hp_throttle_volts(&controls.throttle, &now);
        check_close(volts, rows[k][1], 1e-12, "rounding");
        check_close(hp_throttle_asked(&controls.throttle, volts, NULL), rows[k][2], 1e-12,
                    "rounding");
    }
}

static void outside_its_fault_levels_the_throttle_is_refused(void **state)
{
    (void)state;
    hp_throttle_params throttle = hp_controls_params_default().throttle;
    throttle.fault_low_v = 0.4;
    throttle.fault_high_v = 4.6;
    const struct {
        double volts;
        bool fault;
        double asked;
    } row[] = {{0.0, true, 0.0},  {0.39, true, 0.0}, {0.4, false, 0.0},
               {4.6, false, 1.0}, {4.61, true, 0.0}, {5.0, true, 0.0}};
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        bool fault;
        check_close(hp_throttle_asked(&throttle, row[k].volts, &fault), row[k].asked, 1e-12,
                    "rounding");
        check_int(fault, row[k].fault);
    }
    throttle.fault_low_v = throttle.fault_high_v = 0.0;
    bool fault;
    hp_throttle_asked(&throttle, 0.0, &fault);
    check_int(fault, false);
    check_close(hp_throttle_asked(&throttle, 5.0, &fault), 1.0, 0.0, "full");
    check_int(fault, false);
}

/* Grip at rest: what each lead off asks for, by pull and fault level. */
static void a_lost_lead_means_full_throttle_only_where_the_volts_say_so(void **state)
{
    (void)state;
    const struct {
        hp_input_pull pull;
        double fault_high;
        hp_control_lead lead;
        hp_control_reason reason;
    } row[] = {
        {HP_INPUT_PULL_DOWN, 0.0, HP_CONTROL_LEAD_THROTTLE_SUPPLY, HP_CONTROL_REST},
        {HP_INPUT_PULL_DOWN, 0.0, HP_CONTROL_LEAD_THROTTLE_SIGNAL, HP_CONTROL_REST},
        {HP_INPUT_PULL_DOWN, 0.0, HP_CONTROL_LEAD_THROTTLE_GROUND, HP_CONTROL_DRIVES},
        {HP_INPUT_PULL_DOWN, 4.6, HP_CONTROL_LEAD_THROTTLE_GROUND, HP_CONTROL_FAULT},
        {HP_INPUT_PULL_UP, 0.0, HP_CONTROL_LEAD_THROTTLE_SUPPLY, HP_CONTROL_DRIVES},
        {HP_INPUT_PULL_UP, 0.0, HP_CONTROL_LEAD_THROTTLE_SIGNAL, HP_CONTROL_DRIVES},
        {HP_INPUT_PULL_UP, 4.6, HP_CONTROL_LEAD_THROTTLE_SIGNAL, HP_CONTROL_FAULT},
    };
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        hp_controls_params controls = hp_controls_params_default();
        hp_throttle_lose_leads(&controls.throttle, row[k].pull);
        controls.throttle.fault_high_v = row[k].fault_high;
        hp_controls_state now = hp_controls_state_rest(&controls);
        now.off[row[k].lead] = true;
        hp_control_demand demand = hp_controls_demand(&controls, &now);
        check_int(demand.reason, row[k].reason);
        check_close(demand.duty, row[k].reason == HP_CONTROL_DRIVES ? 1.0 : 0.0, 0.0,
                    "all or none");
    }
}

/* Tried on the machine: whatever the volts, and with the grip open or let go. */
static void a_lost_lead_that_was_seen_to_stop_it_is_a_fault(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.throttle.stops_lost = true;
    for (int lead = HP_CONTROL_LEAD_THROTTLE_SUPPLY; lead <= HP_CONTROL_LEAD_THROTTLE_SIGNAL;
         lead++) {
        hp_controls_state now = hp_controls_state_rest(&controls);
        now.off[lead] = true;
        check_int(hp_controls_demand(&controls, &now).reason, HP_CONTROL_FAULT);
        now.grip = 0.5;
        check_int(hp_controls_demand(&controls, &now).reason, HP_CONTROL_FAULT);
        now.off[lead] = false;
        now.off[HP_CONTROL_LEAD_BRAKE] = true;
        check_int(hp_controls_demand(&controls, &now).reason, HP_CONTROL_DRIVES);
    }
}

/* Nothing but the pedals asks for power, and no lead of a throttle can be lost. */
static void without_a_throttle_the_pedals_alone_drive(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.throttle.fitted = false;
    check_int(hp_controls_params_check(&controls, NULL), HP_FAIL_INPUT);
    controls.pedal.mode = HP_PEDAL_GATES;
    check_int(hp_controls_params_check(&controls, NULL), HP_FAIL_INPUT);
    controls.pedal.mode = HP_PEDAL_DRIVES;
    check_int(hp_controls_params_check(&controls, NULL), HP_OK);
    controls.throttle.stops_lost = true;
    hp_controls_state now = hp_controls_state_rest(&controls);
    now.grip = 1.0;
    now.off[HP_CONTROL_LEAD_THROTTLE_GROUND] = true;
    check_int(hp_controls_demand(&controls, &now).reason, HP_CONTROL_REST);
    now.pedalled = true;
    check_close(hp_controls_demand(&controls, &now).duty, 0.6, 1e-12, "the assistance");
}

/* The switch that the lever has, what it joins, what the controller is made for: all of them. */
static void a_brake_switch_of_the_other_sort_is_always_or_never_pulled(void **state)
{
    (void)state;
    enum { O = HP_SWITCH_NORMALLY_OPEN, C = HP_SWITCH_NORMALLY_CLOSED, N = HP_SWITCH_NONE };
    enum { G = HP_LEVEL_GROUND, V = HP_LEVEL_VOLTS };
    /* Pulled as seen: lever let go, lever pulled, lever pulled with the lead off. */
    const int row[][7] = {
        {O, G, O, G, 0, 1, 0}, {O, G, O, V, 0, 0, 0}, {O, G, C, G, 1, 0, 1}, {O, G, C, V, 1, 1, 1},
        {O, V, O, G, 0, 0, 0}, {O, V, O, V, 0, 1, 0}, {O, V, C, G, 1, 1, 1}, {O, V, C, V, 1, 0, 1},
        {C, G, O, G, 1, 0, 0}, {C, G, O, V, 0, 0, 0}, {C, G, C, G, 0, 1, 1}, {C, G, C, V, 1, 1, 1},
        {C, V, O, G, 0, 0, 0}, {C, V, O, V, 1, 0, 0}, {C, V, C, G, 1, 1, 1}, {C, V, C, V, 0, 1, 1},
        {N, G, O, G, 0, 0, 0}, {N, G, C, G, 1, 1, 1}, {N, V, O, V, 0, 0, 0}, {N, V, C, V, 1, 1, 1},
    };
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        hp_controls_params controls = hp_controls_params_default();
        controls.brake.fitted = (hp_brake_switch)row[k][0];
        controls.brake.joins = (hp_level)row[k][1];
        controls.brake.expects = (hp_brake_switch)row[k][2];
        controls.brake.expects_at = (hp_level)row[k][3];
        hp_controls_state now = hp_controls_state_rest(&controls);
        check_int(hp_brake_says_pulled(&controls.brake, &now), row[k][4]);
        check_int(now.cut_seen, row[k][4]);
        check_int(hp_controls_demand(&controls, &now).reason,
                  row[k][4] ? HP_CONTROL_BRAKE : HP_CONTROL_REST);
        now.lever = true;
        check_int(hp_brake_says_pulled(&controls.brake, &now), row[k][5]);
        now.off[HP_CONTROL_LEAD_BRAKE] = true;
        check_int(hp_brake_says_pulled(&controls.brake, &now), row[k][6]);
    }
}

static void pedals_are_forward_where_the_pulses_are_as_the_controller_has_them(void **state)
{
    (void)state;
    const struct {
        double high;
        hp_pedal_sense forward;
        int ahead, back; /* taken for forward when turned so */
    } row[] = {
        {0.6, HP_PEDAL_MOSTLY_HIGH, 1, 0}, {0.4, HP_PEDAL_MOSTLY_HIGH, 0, 1},
        {0.6, HP_PEDAL_MOSTLY_LOW, 0, 1},  {0.4, HP_PEDAL_MOSTLY_LOW, 1, 0},
        {0.5, HP_PEDAL_MOSTLY_HIGH, 0, 0}, {0.5, HP_PEDAL_MOSTLY_LOW, 0, 0},
        {0.5, HP_PEDAL_ANY, 1, 1},         {0.6, HP_PEDAL_ANY, 1, 1},
    };
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        hp_controls_params controls = hp_controls_params_default();
        controls.pedal.mode = HP_PEDAL_GATES;
        controls.pedal.high_share = row[k].high;
        controls.pedal.forward = row[k].forward;
        hp_controls_state now = hp_controls_state_rest(&controls);
        check_int(hp_pedal_says_forward(&controls.pedal, &now), 0);
        now.crank_turns_s = 1.0;
        check_int(hp_pedal_says_forward(&controls.pedal, &now), row[k].ahead);
        now.crank_turns_s = -1.0;
        check_int(hp_pedal_says_forward(&controls.pedal, &now), row[k].back);
        now.off[HP_CONTROL_LEAD_PEDAL] = true;
        check_int(hp_pedal_says_forward(&controls.pedal, &now), 0);
        now.off[HP_CONTROL_LEAD_PEDAL] = false;
        controls.pedal.mode = HP_PEDAL_NONE;
        check_int(hp_pedal_says_forward(&controls.pedal, &now), 0);
    }
}

static void pedals_gate_the_throttle_or_drive_beside_it(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.pedal.mode = HP_PEDAL_GATES;
    hp_controls_state now = hp_controls_state_rest(&controls);
    now.grip = 0.5;
    check_int(hp_controls_demand(&controls, &now).reason, HP_CONTROL_PEDALS);
    now.pedalled = true;
    check_close(hp_controls_demand(&controls, &now).duty, 0.5, 1e-12, "rounding");
    now.grip = 0.0;
    check_int(hp_controls_demand(&controls, &now).reason, HP_CONTROL_REST);

    controls.pedal.mode = HP_PEDAL_DRIVES;
    check_close(hp_controls_demand(&controls, &now).duty, 0.6, 1e-12, "the assistance");
    now.grip = 0.5;
    check_close(hp_controls_demand(&controls, &now).duty, 0.6, 1e-12, "the more counts");
    now.grip = 1.0;
    check_close(hp_controls_demand(&controls, &now).duty, 1.0, 1e-12, "the more counts");
    now.pedalled = false;
    now.grip = 0.5;
    check_close(hp_controls_demand(&controls, &now).duty, 0.5, 1e-12, "the throttle alone");
}

static void an_open_grip_is_refused_until_it_has_been_at_rest(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    hp_controls_state now = hp_controls_state_rest(&controls);
    check_int(now.ready, true);
    now.key = false;
    hp_controls_remember(&controls, &now);
    check_int(hp_controls_demand(&controls, &now).reason, HP_CONTROL_KEY);
    now.grip = 0.5;
    now.key = true;
    hp_controls_remember(&controls, &now);
    check_int(hp_controls_demand(&controls, &now).reason, HP_CONTROL_OPEN);
    now.grip = 0.0;
    hp_controls_remember(&controls, &now);
    now.grip = 0.5;
    hp_controls_remember(&controls, &now);
    check_int(hp_controls_demand(&controls, &now).reason, HP_CONTROL_DRIVES);

    controls.throttle.refuses_open = false;
    now.key = false;
    hp_controls_remember(&controls, &now);
    now.key = true;
    hp_controls_remember(&controls, &now);
    check_int(hp_controls_demand(&controls, &now).reason, HP_CONTROL_DRIVES);
}

/* A fault that goes while the grip is open must not drive off by itself. */
static void after_a_fault_the_grip_must_be_seen_at_rest(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.throttle.fault_high_v = 4.6;
    hp_controls_state now = hp_controls_state_rest(&controls);
    now.grip = 0.5;
    now.off[HP_CONTROL_LEAD_THROTTLE_GROUND] = true;
    hp_controls_remember(&controls, &now);
    check_int(hp_controls_demand(&controls, &now).reason, HP_CONTROL_FAULT);
    now.off[HP_CONTROL_LEAD_THROTTLE_GROUND] = false;
    hp_controls_remember(&controls, &now);
    check_int(hp_controls_demand(&controls, &now).reason, HP_CONTROL_OPEN);
}

/* The brake comes before the throttle's fault, the key before all. */
static void the_reason_is_the_first_that_holds(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.throttle.fault_high_v = 4.6;
    hp_controls_state now = hp_controls_state_rest(&controls);
    now.off[HP_CONTROL_LEAD_THROTTLE_GROUND] = true;
    now.cut_seen = true;
    check_int(hp_controls_demand(&controls, &now).reason, HP_CONTROL_BRAKE);
    now.key = false;
    check_int(hp_controls_demand(&controls, &now).reason, HP_CONTROL_KEY);
}

/* 2/3 of the steps' duty is 2/3 of the speed; the wheel turns slower than the rotor by the gear. */
static void each_position_of_the_speed_switch_has_its_cap_and_its_speed(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.speed = (hp_speed_params){.cap = {0.4, 0.8}, .steps = 2, .chosen = 1, .lost = 2};
    hp_controls_state now = hp_controls_state_rest(&controls);
    now.grip = 0.5;
    check_close(hp_controls_demand(&controls, &now).duty, 0.2, 1e-12, "rounding");
    check_close(hp_controls_demand(&controls, &now).throttle, 0.5, 1e-12, "rounding");
    now.speed_step = 2;
    check_close(hp_controls_demand(&controls, &now).duty, 0.4, 1e-12, "rounding");
    now.speed_step = 1;
    now.off[HP_CONTROL_LEAD_SPEED] = true;
    check_close(hp_controls_demand(&controls, &now).duty, 0.4, 1e-12, "rounding");

    hp_drive drive = hp_drive_default();
    drive.stand.gear_ratio = 5.0;
    /* A trapezoid's flat of 120 degrees: V / (2 ke) at full duty. */
    double full = drive.supply.emf_v / (2.0 * drive.motor.ke) / 5.0;
    check_relative(hp_controls_step_speed(&controls, &drive, 1), 0.4 * full, 1e-12, "rounding");
    check_relative(hp_controls_step_speed(&controls, &drive, 2), 0.8 * full, 1e-12, "rounding");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(default_is_accepted),
        cmocka_unit_test(limits_are_kept),
        cmocka_unit_test(counts_and_sorts_are_kept),
        cmocka_unit_test(the_throttle_has_dead_bands_and_a_straight_line_between),
        cmocka_unit_test(outside_its_fault_levels_the_throttle_is_refused),
        cmocka_unit_test(a_lost_lead_means_full_throttle_only_where_the_volts_say_so),
        cmocka_unit_test(a_lost_lead_that_was_seen_to_stop_it_is_a_fault),
        cmocka_unit_test(without_a_throttle_the_pedals_alone_drive),
        cmocka_unit_test(a_brake_switch_of_the_other_sort_is_always_or_never_pulled),
        cmocka_unit_test(pedals_are_forward_where_the_pulses_are_as_the_controller_has_them),
        cmocka_unit_test(pedals_gate_the_throttle_or_drive_beside_it),
        cmocka_unit_test(an_open_grip_is_refused_until_it_has_been_at_rest),
        cmocka_unit_test(after_a_fault_the_grip_must_be_seen_at_rest),
        cmocka_unit_test(the_reason_is_the_first_that_holds),
        cmocka_unit_test(each_position_of_the_speed_switch_has_its_cap_and_its_speed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
