/*
 * Worked examples in print, run through the engine as d.c. machines: under ideal commutation a
 * motor with flat back-EMF is one, with Ke = Kt = 2 ke and resistance 2 R.
 *
 * Each row also goes to docs/validation.md, through tests/validation/record.h.
 */
#include "runs.h"

#include "validation/record.h"

static const record_source mit = {"MIT, Understanding D.C. Motor Characteristics", "read"};
static const record_source scilab = {
    "Scilab Textbook Companion folder 1892, ch. 4 (the book is unidentified)", "read"};
static const record_source textbook = {"d.c. machine, textbook", "derived"};
static const record_source kuphaldt = {
    "T. R. Kuphaldt, Lessons In Electric Circuits I, Physics of Conductors and Insulators", "read"};
static const record_source iec60028 = {"IEC 60028, as read in an instrument manual", "second-hand"};

#define HAND_OVERS "hand-overs take L/R, a few times 1e-4 of a sector"

/* A d.c. machine of this no-load speed [rad/s] and stall torque [N m] at 24 V. */
static hp_drive machine(double no_load, double stall)
{
    hp_drive d = bare_drive();
    double volts = 24.0, ke = volts / no_load;
    d.motor.pole_pairs = 1;
    d.motor.winding_c = 20.0;
    d.motor.backemf = hp_backemf_trapezoidal(120.0 * HP_DEG);
    d.motor.ke = 0.5 * ke;
    d.motor.resistance_ohm = 0.5 * ke * volts / stall;
    /* A sector lasts pi / 3 / speed; the winding settles in a two-thousandth of that. */
    d.motor.inductance_h = d.motor.resistance_ohm * 5e-4 / no_load;
    d.sensors.hysteresis_rad = 0.0;
    d.controller.switch_resistance_ohm = 0.0;
    d.controller.diode_drop_v = 0.0;
    d.supply = (hp_supply_params){.emf_v = volts, .resistance_ohm = 0.0};
    d.stand.rotor = (hp_friction){0.0, 0.0, 0.0};
    /* A mechanical time constant of three radians of turning. */
    d.stand.wheel_inertia_kg_m2 = 3.0 / no_load * stall / no_load;
    return d;
}

/* Steady state under a load: eight time constants, and some turns to measure. */
static hp_figures loaded(hp_drive d, double no_load, double load)
{
    hp_engine *engine = make_engine();
    hp_run_options o = run_for(60.0 / no_load, 10.0 * HP_DEG);
    o.tolerance = 1e-7;
    d.stand.load_nm = load;
    hp_figures f = run_wiring(engine, &d, 1, &o, NULL);
    hp_engine_free(engine);
    check_true(f.window_turns >= 1, "%d turns", f.window_turns);
    return f;
}

static double useful(const hp_figures *f, double load)
{
    return f->speed * load;
}

static void most_power_at_half_speed(void **state)
{
    (void)state;
    static const struct {
        double rpm, stall;              /* given */
        double half_rpm, half_nm, watt; /* printed; 0: not printed */
        double nm_unit;                 /* last place printed */
    } row[] = {
        {600.0, 0.325, 300.0, 0.163, 5.105, 5.5e-4},
        {3750.0, 0.0722, 0.0, 0.0, 7.088, 0.0},
        {92.0, 1.6, 0.0, 0.0, 3.854, 0.0},
    };
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        double no_load = row[k].rpm * HP_RPM, half = 0.5 * row[k].stall;
        hp_drive d = machine(no_load, row[k].stall);
        hp_figures f = loaded(d, no_load, half);
        char name[128];
        snprintf(name, sizeof name, "power at half the stall torque, %g rev/min and %g N m",
                 row[k].rpm, row[k].stall);
        check_recorded(name, "W", useful(&f, half), row[k].watt, 1e-3 * row[k].watt, HAND_OVERS,
                       mit);
        if (row[k].half_rpm > 0.0) {
            check_recorded("speed there", "rev/min", f.speed / HP_RPM, row[k].half_rpm,
                           1e-3 * row[k].half_rpm, HAND_OVERS, mit);
            check_recorded("torque there", "N m", f.torque_mean, row[k].half_nm, row[k].nm_unit,
                           "three decimals printed, of 0.1625", mit);
        }
        /* Parabola: 4 t (1 - t) of it at a share t of the stall torque, 0.99 at 0.45 and 0.55. */
        for (int side = -1; side <= 1; side += 2) {
            double load = (0.5 + 0.05 * side) * row[k].stall;
            hp_figures beside = loaded(d, no_load, load);
            check_close(useful(&beside, load) / useful(&f, half), 0.99, 1e-3, HAND_OVERS);
        }
    }
}

/* ke 0.12, 48 V, 0.15 ohm a phase, 2 V over the devices at stall. Switches are resistances here, so
 * the 2 V are taken off the supply. */
static void stall_and_no_load(void **state)
{
    (void)state;
    double no_load = 48.0 / 0.12;
    hp_drive d = machine(no_load, 0.12 * 48.0 / 0.30);
    d.motor.ke = 0.06;
    d.motor.resistance_ohm = 0.15;
    d.supply.emf_v = 48.0;
    d.motor.inductance_h = 0.15 * 5e-4 / no_load;
    d.stand.wheel_inertia_kg_m2 = 3.0 / no_load * 19.2 / no_load;
    hp_figures running = loaded(d, no_load, 0.0);
    check_recorded("no-load speed", "rev/min", running.speed / HP_RPM, 3819.7, 3819.7e-3,
                   HAND_OVERS, scilab);
    d.supply.emf_v = 46.0;
    hold_rotor(&d);
    hp_engine *engine = make_engine();
    hp_run_options o = run_for(1e-3, 0.0);
    hp_figures stalled = run_wiring(engine, &d, 1, &o, NULL);
    hp_engine_free(engine);
    check_recorded("stall current", "A", stalled.phase_peak, 153.33, 5e-3, "two decimals printed",
                   scilab);
    check_recorded("stall torque", "N m", stalled.torque_mean, 18.40, 5e-3, "two decimals printed",
                   scilab);
}

/* eta = T w / (V I) with I = I0 + T / Kt is greatest at I = sqrt(I0 Is): (1 - sqrt(I0 / Is))^2. */
static void greatest_efficiency(void **state)
{
    (void)state;
    double no_load = 100.0, stall = 2.0, friction = 0.08;
    hp_drive d = machine(no_load, stall);
    d.stand.rotor = (hp_friction){friction, friction, 0.0};
    double share = sqrt(friction / stall), best = (1.0 - share) * (1.0 - share), value[3];
    for (int k = 0; k < 3; k++) {
        double load = stall * share * (0.8 + 0.2 * k) - friction;
        hp_figures f = loaded(d, no_load, load);
        value[k] = useful(&f, load) / f.battery_power;
    }
    check_recorded("greatest efficiency, I0 = 4 % of the stall current", "", value[1], best, 1e-3,
                   HAND_OVERS, textbook);
    check_true(value[0] < value[1] && value[2] < value[1], "%g %g %g", value[0], value[1],
               value[2]);
}

/* ---- copper ---------------------------------------------------------------------------------- */

static double copper(double ohm, double per_k, double celsius)
{
    hp_motor_params motor = hp_motor_params_default();
    motor.resistance_ohm = ohm;
    motor.copper_per_k = per_k;
    motor.winding_c = celsius;
    return hp_motor_resistance(&motor);
}

static void copper_follows_temperature(void **state)
{
    (void)state;
    check_recorded("15 ohm of copper at 35 C, 0.004041 per K", "ohm", copper(15.0, 0.004041, 35.0),
                   15.909, 5e-4, "three decimals printed", kuphaldt);
    hp_motor_params motor = hp_motor_params_default();
    check_recorded("default temperature coefficient of copper", "1/K", motor.copper_per_k, 0.00393,
                   0.0, "exact", iec60028);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(most_power_at_half_speed),
        cmocka_unit_test(stall_and_no_load),
        cmocka_unit_test(greatest_efficiency),
        cmocka_unit_test(copper_follows_temperature),
    };
    record_section("worked_examples");
    return cmocka_run_group_tests(tests, NULL, NULL);
}
