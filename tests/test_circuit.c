/*
 * The circuit at one instant, against values worked by hand, and the search for what conducts.
 */
#include "check.h"

#include "base/random.h"
#include "model/circuit.h"

/* Round values, so that every expected number below can be done on paper. */
static hp_circuit_params round_params(void)
{
    return (hp_circuit_params){.emf_v = 40.0,
                               .battery_ohm = 0.1,
                               .winding_ohm = 0.2,
                               .switch_ohm = 0.05,
                               .inductance_h = 1e-3,
                               .diode_drop_v = 1.0};
}

static void driven_pair_by_hand(void **state)
{
    (void)state;
    hp_circuit_params p = round_params();
    const hp_leg leg[] = {HP_LEG_HIGH, HP_LEG_LOW, HP_LEG_FLOAT};
    const double i[] = {10.0, -10.0, 0.0}, e[] = {3.0, -3.0, 1.5};
    hp_circuit c;
    hp_circuit_solve(&p, leg, i, e, 0.5, &c);
    check_close(c.battery_current, 5.0, 1e-12, "0.5 * 10");
    check_close(c.bus_voltage, 39.5, 1e-12, "40 - 0.1 * 5");
    check_close(c.terminal[HP_U], 19.25, 1e-12, "0.5 * 39.5 - 0.05 * 10");
    check_close(c.terminal[HP_V], 0.5, 1e-12, "0 + 0.05 * 10");
    /* Behind winding and back-EMF: 19.25 - 2 - 3 = 14.25 and 0.5 + 2 + 3 = 5.5. */
    check_close(c.star, 9.875, 1e-12, "(14.25 + 5.5) / 2");
    check_close(c.slope[HP_U], 4375.0, 1e-9, "(14.25 - 9.875) / 1 mH");
    check_close(c.slope[HP_V], -4375.0, 1e-9, "the same back");
    check_close(c.slope[HP_W], 0.0, 0.0, "floating");
    check_close(c.terminal[HP_W], 11.375, 1e-12, "star + 1.5");
    check_close(c.copper_power, 50.0, 1e-12, "2 * 0.25 * 10^2");
    check_close(c.diode_power, 0.0, 0.0, "no diode");
}

static void freewheeling_diodes_by_hand(void **state)
{
    (void)state;
    hp_circuit_params p = round_params();
    const hp_leg leg[] = {HP_LEG_HIGH, HP_LEG_LOW, HP_LEG_LOWER};
    const double i[] = {6.0, -10.0, 4.0}, e[] = {0.0, 0.0, 0.0};
    hp_circuit c;
    hp_circuit_solve(&p, leg, i, e, 1.0, &c);
    check_close(c.battery_current, 6.0, 1e-12, "the lower diode takes nothing from the battery");
    check_close(c.bus_voltage, 39.4, 1e-12, "40 - 0.6");
    check_close(c.terminal[HP_W], -1.0, 1e-12, "a drop below battery minus");
    check_close(c.diode_power, 4.0, 1e-12, "1 V * 4 A");
    check_close(c.copper_power, 0.25 * 36.0 + 0.25 * 100.0 + 0.2 * 16.0, 1e-12, "by hand");
    /* 39.4 - 0.3 - 1.2 = 37.9; 0.5 + 2 = 2.5; -1 - 0.8 = -1.8; star 38.6 / 3. */
    check_close(c.star, 38.6 / 3.0, 1e-12, "by hand");
    check_close(c.slope[HP_W], (-1.8 - 38.6 / 3.0) * 1e3, 1e-8, "by hand");

    /* Into the battery through the upper diode. */
    const hp_leg back[] = {HP_LEG_LOW, HP_LEG_UPPER, HP_LEG_FLOAT};
    const double j[] = {8.0, -8.0, 0.0};
    hp_circuit_solve(&p, back, j, e, 0.7, &c);
    check_close(c.battery_current, -8.0, 1e-12, "all of it comes back, whatever the duty");
    check_close(c.bus_voltage, 40.8, 1e-12, "40 + 0.8");
    check_close(c.terminal[HP_V], 41.8, 1e-12, "bus and a drop");
    check_close(c.diode_power, 8.0, 1e-12, "1 V * 8 A");
}

static void nothing_conducts_without_a_path(void **state)
{
    (void)state;
    hp_circuit_params p = round_params();
    const hp_leg leg[] = {HP_LEG_FLOAT, HP_LEG_FLOAT, HP_LEG_BROKEN};
    const double i[] = {0.0, 0.0, 0.0}, e[] = {20.0, -21.0, 5.0};
    hp_circuit c;
    hp_circuit_solve(&p, leg, i, e, 0.5, &c);
    check_true(isnan(c.star), "the star point hangs in the air");
    check_close(c.battery_current, 0.0, 0.0, "nothing");
    check_close(hp_circuit_pair_guard(&p, leg, e, &c), 1.0, 1e-5, "42 less 41, and the slack");
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        check_close(hp_circuit_guard(&p, leg, i, &c, k), 1.0, 0.0, "nobody can change alone");
    const double more[] = {21.0, -21.5, 5.0};
    check_true(hp_circuit_pair_guard(&p, leg, more, &c) < 0.0, "42.5 between the leads conducts");

    const hp_leg none[] = {HP_LEG_BROKEN, HP_LEG_BROKEN, HP_LEG_BROKEN};
    hp_circuit_solve(&p, none, i, e, 0.5, &c);
    check_close(hp_circuit_pair_guard(&p, none, e, &c), 1.0, 0.0, "all broken: never");
}

static void guards_tell_the_distance_to_the_next_change(void **state)
{
    (void)state;
    hp_circuit_params p = round_params();
    const hp_leg leg[] = {HP_LEG_HIGH, HP_LEG_LOW, HP_LEG_FLOAT};
    const double i[] = {0.0, 0.0, 0.0};
    hp_circuit c;
    /* At rest the float stands at half of 20 V: 11 V above the lower diode, 31 V below the upper.
     */
    const double still[] = {0.0, 0.0, 0.0};
    hp_circuit_solve(&p, leg, i, still, 0.5, &c);
    check_close(hp_circuit_guard(&p, leg, i, &c, HP_W), 11.0, 1e-5, "slack of 1e-6");
    /* Its own back-EMF of -14 V takes it past: star (20 + 0) / 2, terminal -4. */
    const double low[] = {0.0, 0.0, -14.0};
    hp_circuit_solve(&p, leg, i, low, 0.5, &c);
    check_close(hp_circuit_guard(&p, leg, i, &c, HP_W), -3.0, 1e-5, "slack of 1e-6");

    const hp_leg diodes[] = {HP_LEG_UPPER, HP_LEG_LOWER, HP_LEG_LOW};
    const double j[] = {-2.0, 3.0, -1.0};
    hp_circuit_solve(&p, diodes, j, still, 0.5, &c);
    check_close(hp_circuit_guard(&p, diodes, j, &c, HP_U), 2.0, 1e-6, "its current");
    check_close(hp_circuit_guard(&p, diodes, j, &c, HP_V), 3.0, 1e-6, "its current");
    check_close(hp_circuit_guard(&p, diodes, j, &c, HP_W), 1.0, 0.0, "a switch holds");
}

static void settling_finds_the_diodes_that_carry_current(void **state)
{
    (void)state;
    hp_circuit_params p = round_params();
    const double still[] = {0.0, 0.0, 0.0};
    /* A lead just switched off goes on through the diode its current asks for. */
    hp_leg leg[] = {HP_LEG_HIGH, HP_LEG_FLOAT, HP_LEG_LOW};
    double i[] = {5.0, 5.0, -10.0};
    check_true(hp_circuit_settle(&p, leg, i, still, 0.5), "settles");
    check_int(leg[HP_V], HP_LEG_LOWER);
    double back[] = {5.0, -15.0, 10.0};
    leg[HP_V] = HP_LEG_FLOAT;
    check_true(hp_circuit_settle(&p, leg, back, still, 0.5), "settles");
    check_int(leg[HP_V], HP_LEG_UPPER);

    /* Without current a float within the rails stays one, beyond them it conducts. */
    double none[] = {0.0, 0.0, 0.0};
    const double beyond[] = {0.0, -14.0, 0.0}, above[] = {0.0, 35.0, 0.0};
    leg[HP_V] = HP_LEG_UPPER;
    check_true(hp_circuit_settle(&p, leg, none, still, 0.5), "settles");
    check_int(leg[HP_V], HP_LEG_FLOAT);
    check_true(hp_circuit_settle(&p, leg, none, beyond, 0.5), "settles");
    check_int(leg[HP_V], HP_LEG_LOWER);
    check_true(hp_circuit_settle(&p, leg, none, above, 0.5), "settles");
    check_int(leg[HP_V], HP_LEG_UPPER);

    /* All off and 45 V between two leads: two diodes, one above and one below. */
    hp_leg off[] = {HP_LEG_FLOAT, HP_LEG_FLOAT, HP_LEG_FLOAT};
    const double fast[] = {22.0, -23.0, 1.0};
    check_true(hp_circuit_settle(&p, off, none, fast, 0.5), "settles");
    check_int(off[HP_U], HP_LEG_UPPER);
    check_int(off[HP_V], HP_LEG_LOWER);
    check_int(off[HP_W], HP_LEG_FLOAT);
}

static void settling_cleans_small_currents(void **state)
{
    (void)state;
    hp_circuit_params p = round_params();
    const double still[] = {0.0, 0.0, 0.0};
    hp_leg leg[] = {HP_LEG_HIGH, HP_LEG_FLOAT, HP_LEG_LOW};
    double i[] = {5.0, 3e-8, -5.0 - 3e-8};
    check_true(hp_circuit_settle(&p, leg, i, still, 0.5), "settles");
    check_close(i[HP_V], 0.0, 0.0, "below the slack");
    check_close(i[HP_U] + i[HP_W], 0.0, 1e-15, "what goes in comes out");
    check_close(i[HP_U], 5.0, 1e-7, "hardly moved");
    hp_leg broken[] = {HP_LEG_BROKEN, HP_LEG_FLOAT, HP_LEG_LOW};
    double j[] = {2.0, -2.0, 0.0};
    hp_circuit_settle(&p, broken, j, still, 0.5);
    check_close(j[HP_U], 0.0, 0.0, "a broken lead carries nothing");
}

/* Whatever the back-EMFs, the state found agrees with itself: floats lie within the rails, a diode
 * without current begins to carry it its own way. */
static void settling_is_consistent_for_any_back_emf(void **state)
{
    (void)state;
    hp_circuit_params p = round_params();
    hp_random random = hp_random_init(7, 1);
    int diodes = 0, floats = 0;
    for (int round = 0; round < 20000; round++) {
        static const hp_leg driven[] = {HP_LEG_HIGH, HP_LEG_LOW, HP_LEG_FLOAT, HP_LEG_BROKEN};
        hp_leg leg[HP_PHASE_COUNT];
        double i[HP_PHASE_COUNT] = {0.0, 0.0, 0.0}, e[HP_PHASE_COUNT];
        double size = hp_random_between(&random, 1.0, 60.0), duty = hp_random_unit(&random);
        for (int k = 0; k < HP_PHASE_COUNT; k++) {
            leg[k] = driven[hp_random_below(&random, 4)];
            e[k] = hp_random_between(&random, -size, size);
        }
        check_true(hp_circuit_settle(&p, leg, i, e, duty), "round %d finds no state", round);
        hp_circuit c;
        hp_circuit_solve(&p, leg, i, e, duty, &c);
        for (int k = 0; k < HP_PHASE_COUNT; k++) {
            check_true(hp_circuit_guard(&p, leg, i, &c, k) > 0.0, "round %d, lead %d", round, k);
            if (leg[k] == HP_LEG_UPPER)
                check_true(c.slope[k] < 0.0, "round %d: the upper diode blocks", round);
            if (leg[k] == HP_LEG_LOWER)
                check_true(c.slope[k] > 0.0, "round %d: the lower diode blocks", round);
            diodes += leg[k] == HP_LEG_UPPER || leg[k] == HP_LEG_LOWER;
            floats += leg[k] == HP_LEG_FLOAT;
        }
        check_true(hp_circuit_pair_guard(&p, leg, e, &c) > 0.0, "round %d, pair", round);
    }
    check_true(diodes > 1000 && floats > 1000, "%d diodes and %d floats seen", diodes, floats);
}

static void parameters_come_from_the_drive(void **state)
{
    (void)state;
    hp_drive d = hp_drive_default();
    d.motor.winding_c = 120.0;
    hp_circuit_params p = hp_circuit_params_of(&d);
    check_relative(p.winding_ohm, d.motor.resistance_ohm * (1.0 + 0.00393 * 100.0), 1e-12,
                   "IEC 60028 coefficient (read in an instrument manual)");
    check_close(p.emf_v, d.supply.emf_v, 0.0, "copied");
    check_close(p.battery_ohm, d.supply.resistance_ohm, 0.0, "copied");
    check_close(p.switch_ohm, d.controller.switch_resistance_ohm, 0.0, "copied");
    check_close(p.inductance_h, d.motor.inductance_h, 0.0, "copied");
    check_close(p.diode_drop_v, d.controller.diode_drop_v, 0.0, "copied");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(driven_pair_by_hand),
        cmocka_unit_test(freewheeling_diodes_by_hand),
        cmocka_unit_test(nothing_conducts_without_a_path),
        cmocka_unit_test(guards_tell_the_distance_to_the_next_change),
        cmocka_unit_test(settling_finds_the_diodes_that_carry_current),
        cmocka_unit_test(settling_cleans_small_currents),
        cmocka_unit_test(settling_is_consistent_for_any_back_emf),
        cmocka_unit_test(parameters_come_from_the_drive),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
