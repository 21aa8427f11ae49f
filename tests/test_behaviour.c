/* Behaviour: how many cases there are, and that cases said to be one another's image really are. */
#include "check.h"

#include "decide/advise/behaviour.h"
#include "decide/advise/hypothesis.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/sim/engine.h"

static void counts_of_distinct_cases(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    hp_behaviour_map direct = hp_behaviour_map_of(&drive);
    drive.stand.clutch = true;
    drive.motor.rotor_inertia_kg_m2 = 1e-3;
    hp_behaviour_map clutched = hp_behaviour_map_of(&drive);
    /* Burnside by hand, with turns only: no axis fixed 8 orbits; one axis fixed 36 x 3 / 9 = 12 for
     * each kind; inverted sensor and another fault 36 x 9 / 9 = 36, of which the 12 with a stuck
     * sensor on the inverted lead fall to the plain stuck sensor. Without and with a slipping
     * clutch: 2 x 8 + 2 x 12 inverted; 3 x 12 faults; 24 + 24 + 36 pairs. */
    check_int(clutched.count, 2 * 8 + 2 * 12 + 3 * 12 + 24 + 24 + 36);
    /* The mirror halves them: no case is its own image, since it exchanges even and odd orders. */
    check_int(direct.count, (8 + 12 + 3 * 12 + 24 + 24 + 36) / 2);
    check_true(direct.mirror && !clutched.mirror, "mirror flags");
}

static void every_raw_case_finds_its_own(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    hp_behaviour_map map = hp_behaviour_map_of(&drive);
    for (int raw = 0; raw < HP_BEHAVIOUR_RAW; raw++) {
        hp_behaviour b = hp_behaviour_from_raw(raw);
        check_int(hp_behaviour_raw(&b), raw);
        if (b.fault.kind == HP_FAULT_CLUTCH || !hp_fault_is_simulated(b.fault))
            check_int(map.index[raw], -1);
        else
            check_true(map.index[raw] >= 0 && map.index[raw] < map.count, "case %d of raw %d",
                       map.index[raw], raw);
    }
    for (int k = 0; k < map.count; k++) {
        check_int(map.index[map.raw[k]], k);
        check_true(!map.mirrored[map.raw[k]], "a representative is no image");
    }
}

/* Runs a raw case from an angle. */
static hp_figures run_case(hp_engine *engine, const hp_drive *drive, int raw, double angle)
{
    hp_behaviour b = hp_behaviour_from_raw(raw);
    hp_drive d = hp_behaviour_drive(drive, &b);
    hp_run_options options = hp_run_options_default();
    options.seconds = 0.6;
    options.settle_s = 0.4;
    options.start_angle = angle;
    hp_figures figures;
    hp_engine_run(engine, &d, &b.wiring, &options, NULL, &figures, NULL);
    return figures;
}

/* Images run from rest angles that are images too. Which turn of the axes leads from one to the
 * other is not recorded, so the three possible angles are tried and one of them must fit. */
static void images_run_alike(void **state)
{
    (void)state;
    hp_engine *engine = hp_engine_create(NULL);
    hp_drive drive = hp_drive_default();
    hp_behaviour_map map = hp_behaviour_map_of(&drive);
    int tried = 0;
    for (int raw = 5; raw < HP_BEHAVIOUR_RAW; raw += 53) {
        if (map.index[raw] < 0 || map.raw[map.index[raw]] == raw)
            continue;
        double sign = map.mirrored[raw] ? -1.0 : 1.0, best = INFINITY;
        double angle = 20.0 * HP_DEG;
        hp_figures own = run_case(engine, &drive, raw, angle);
        for (int turn = 0; turn < 3; turn++) {
            double there = sign * angle + turn * HP_PHASE_STEP;
            hp_figures image = run_case(engine, &drive, map.raw[map.index[raw]], there);
            double error = fabs(own.net_turn - sign * image.net_turn) +
                           fabs(own.battery_current - image.battery_current);
            best = fmin(best, error);
        }
        /* Chaotic cases amplify the integrator's error, so the bound is loose against a turn of
         * several radians and currents of several amperes; a wrong image misses by that much. */
        check_close(best, 0.0, 0.05, "raw case against its representative");
        tried++;
    }
    check_true(tried > 20, "only %d cases tried", tried);
    hp_engine_free(engine);
}

/* The machine of a hypothesis as it is built: its own table, its own lead inverted or broken. */
static hp_figures run_built(hp_engine *engine, const hp_drive *drive, const hp_hypothesis *h,
                            const hp_wiring *joined, double angle)
{
    int a[HP_PHASE_COUNT], b[HP_PHASE_COUNT];
    hp_relation_axes(h->relation, a, b);
    hp_drive d = *drive;
    hp_wiring wiring;
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        wiring.sensor[j] = a[joined->sensor[j]];
        wiring.phase[j] = b[joined->phase[j]];
    }
    d.controller.table = hp_table_get(h->table);
    if (h->inverted >= 0)
        d.sensors.fault[a[h->inverted]] = HP_SENSOR_INVERTED;
    if (h->fault.kind == HP_FAULT_SENSOR_HIGH)
        d.sensors.fault[a[h->fault.which]] = HP_SENSOR_STUCK_HIGH;
    if (h->fault.kind == HP_FAULT_SENSOR_LOW)
        d.sensors.fault[a[h->fault.which]] = HP_SENSOR_STUCK_LOW;
    d.motor.lead_open[b[h->fault.which]] = h->fault.kind == HP_FAULT_LEAD_OPEN;
    hp_run_options options = hp_run_options_default();
    options.seconds = 0.6;
    options.settle_s = 0.4;
    options.start_angle = angle;
    hp_figures figures;
    hp_engine_run(engine, &d, &wiring, &options, NULL, &figures, NULL);
    return figures;
}

/* A controller made for 60-degree sensors needs no case of its own: what it does with any hub is
 * what one for 120 degrees does with one lead inverted or none. */
static void a_table_for_60_degrees_is_among_the_cases(void **state)
{
    (void)state;
    hp_engine *engine = hp_engine_create(NULL);
    hp_drive drive = hp_drive_default();
    int met[3] = {0}; /* none inverted; one part of the two does; both, at two inputs */
    for (int k = 0; k < 150; k++) {
        hp_hypothesis h = {.relation = k % 12,
                           .table = HP_TABLES_120 + k * 7 % 36,
                           .inverted = k % 4 - 1,
                           .fault = hp_fault_from_index(k % 3 ? 0 : k / 3 % 10)};
        hp_wiring joined = hp_wiring_from_number(1 + k * 5 % 36);
        hp_behaviour b = hp_behaviour_of(&h, &joined);
        int heard = joined.sensor[hp_table_inverts(h.table)];
        met[h.inverted < 0 ? 1 : h.inverted == heard ? 0 : 2]++;
        hp_figures built = run_built(engine, &drive, &h, &joined, 0.3);
        hp_figures one = run_case(engine, &drive, hp_behaviour_raw(&b), 0.3);
        check_close(built.net_turn, one.net_turn, 1e-9, "the same equations, other names");
        check_close(built.battery_current, one.battery_current, 1e-9, "the same equations");
        check_close(built.torque_mean, one.torque_mean, 1e-9, "the same equations");
    }
    for (int k = 0; k < 3; k++)
        check_true(met[k] > 5, "way %d met %d times", k, met[k]);
    hp_engine_free(engine);
}

static void drive_gets_the_case_and_nothing_else(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    drive.sensors.fault[HP_W] = HP_SENSOR_STUCK_LOW;
    drive.motor.lead_open[HP_U] = true;
    drive.sensors.spacing_60 = true;
    drive.controller.table = hp_table_get(5);
    hp_behaviour b = {.wiring = hp_wiring_from_number(1), .inverted = HP_V, .fault = {0}};
    hp_drive d = hp_behaviour_drive(&drive, &b);
    check_int(d.sensors.fault[HP_V], HP_SENSOR_INVERTED);
    check_int(d.sensors.fault[HP_W], HP_SENSOR_SOUND);
    check_int(d.motor.lead_open[HP_U], 0);
    check_int(d.sensors.spacing_60, 0);
    check_int(hp_table_index(&d.controller.table), 0);
    b.fault = (hp_fault){HP_FAULT_LEAD_OPEN, HP_W};
    d = hp_behaviour_drive(&drive, &b);
    check_int(d.motor.lead_open[HP_W], 1);
}

/* A fault is named by the lead's mark; the case holds its axis. */
static void marks_become_axes(void **state)
{
    (void)state;
    for (int r = 0; r < HP_RELATION_COUNT; r++) {
        int a[3], b[3];
        hp_relation_axes(r, a, b);
        hp_wiring wiring = hp_wiring_from_number(1);
        hp_hypothesis h = {r, 0, 1, {HP_FAULT_LEAD_OPEN, 2}};
        hp_behaviour behaviour = hp_behaviour_of(&h, &wiring);
        check_int(behaviour.inverted, a[1]);
        check_int(behaviour.fault.which, b[2]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(counts_of_distinct_cases),
        cmocka_unit_test(every_raw_case_finds_its_own),
        cmocka_unit_test(images_run_alike),
        cmocka_unit_test(a_table_for_60_degrees_is_among_the_cases),
        cmocka_unit_test(drive_gets_the_case_and_nothing_else),
        cmocka_unit_test(marks_become_axes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
