/*
 * Symmetries of the drive, which hold whatever the parameters: relabelling, rotating, mirroring.
 *
 * A wiring is (h, p): controller input j listens to motor sensor h(j), output j feeds motor lead
 * p(j). With r a rotation of U V W and m the exchange of V and W:
 * - (h r, p r): inputs and outputs of the controller are renamed together. The usual table is its
 *   own image under a rotation, so nothing at all changes.
 * - (r h, r p): motor leads and sensors are renamed together: the same motor with its rotor 120
 *   degrees on.
 * - (m h, m p): the same motor seen in a mirror: angles and speeds change sign.
 */
#include "runs.h"

#include "reference_drives.h"

/* Mirrored and rotated runs differ by rounding, which step control at a tolerance of 1e-10 turns
 * into differences of that order a step; a rough rotor passes an unstable place every turn and has
 * grown them to 1e-8 of its angle after half a second (test_engine: errors at 1e-10). An edge that
 * comes 1e-7 s sooner shows as 3 mA in a current that rises at 30 A/ms. */
#define SAME        1e-4
#define SAME_REASON "an edge 1e-7 s sooner, see above"

/* (left of h, left of p) for a renaming of the motor's side. */
static int rename_motor(int number, const int name[HP_PHASE_COUNT])
{
    hp_wiring w = hp_wiring_from_number(number);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        w.sensor[k] = name[w.sensor[k]];
        w.phase[k] = name[w.phase[k]];
    }
    return hp_wiring_number(&w);
}

static int rename_controller(int number, const int name[HP_PHASE_COUNT])
{
    hp_wiring w = hp_wiring_from_number(number), renamed = w;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        renamed.sensor[k] = w.sensor[name[k]];
        renamed.phase[k] = w.phase[name[k]];
    }
    return hp_wiring_number(&renamed);
}

static const int rotation[HP_PHASE_COUNT] = {HP_V, HP_W, HP_U};
static const int mirror[HP_PHASE_COUNT] = {HP_U, HP_W, HP_V};

/* Runs `image` of a drive and the drive itself, and compares them sample by sample. Lead X of the
 * drive is lead name[X] of its image; sign is -1 for a mirror image. */
static void check_image(hp_engine *engine, const hp_drive *image, const hp_run_options *image_run,
                        const hp_drive *drive, const hp_run_options *run, int number,
                        const int name[HP_PHASE_COUNT], double sign)
{
    hp_trace a = full_trace(run->seconds, 1e-3), b = full_trace(run->seconds, 1e-3);
    hp_figures f = run_wiring(engine, image, rename_motor(number, name), image_run, &a);
    hp_figures g = run_wiring(engine, drive, number, run, &b);
    check_int((long long)a.count, (long long)b.count);
    for (size_t k = 0; k < a.count; k++) {
        const hp_sample *x = &a.sample[k], *y = &b.sample[k];
        double off[] = {(x->speed - sign * y->speed) / 20.0, (x->torque - sign * y->torque) / 50.0,
                        x->duty - y->duty, (x->battery_current - y->battery_current) / 20.0,
                        (x->theta - a.sample[0].theta - sign * (y->theta - b.sample[0].theta)) /
                            (1.0 + fabs(y->theta))};
        for (size_t n = 0; n < sizeof off / sizeof off[0]; n++)
            check_true(fabs(off[n]) <= SAME, "wiring %d at %g s: quantity %zu is off by %g (%s)",
                       number, x->time, n, off[n], SAME_REASON);
        for (int lead = 0; lead < HP_PHASE_COUNT; lead++)
            check_true(fabs(x->current[name[lead]] - y->current[lead]) <= SAME * 50.0,
                       "wiring %d at %g s: lead %d carries %.12g and %.12g (%s)", number, x->time,
                       lead, x->current[name[lead]], y->current[lead], SAME_REASON);
    }
    check_int((long long)a.event_count, (long long)b.event_count);
    check_int(f.at_rest, g.at_rest);
    check_int(f.sensor_edges, g.sensor_edges);
    hp_trace_free(&a);
    hp_trace_free(&b);
}

static hp_run_options careful_run(double angle)
{
    hp_run_options o = run_for(0.4, angle);
    o.tolerance = 1e-10;
    return o;
}

static void renaming_the_controller_changes_nothing(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_reference_drive_make(HP_DRIVE_SINE); /* sensors misplaced one by one */
    for (int number = 1; number <= HP_WIRING_COUNT; number += 5) {
        hp_run_options o = run_for(0.4, 1.1);
        hp_figures first, second;
        run_into(engine, &d, number, &o, NULL, &first);
        run_into(engine, &d, rename_controller(number, rotation), &o, NULL, &second);
        check_int(memcmp(&first, &second, sizeof first), 0);
    }
    hp_engine_free(engine);
}

/* Misplacement would have to go round with the names, so this drive has none. */
static void rotated_motor_runs_alike_from_rotated_rest_angles(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        check_true(rename_motor(number, rotation) != number, "a rotation leaves no wiring alone");
        hp_run_options o = careful_run(0.7), turned = careful_run(0.7 + HP_PHASE_STEP);
        check_image(engine, &d, &turned, &d, &o, number, rotation, 1.0);
    }
    hp_engine_free(engine);
}

static void mirrored_motor_runs_backward(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_reference_drive_make(HP_DRIVE_SINE), image = d;
    image.sensors.placement_rad[HP_U] = -d.sensors.placement_rad[HP_U];
    image.sensors.placement_rad[HP_V] = -d.sensors.placement_rad[HP_W];
    image.sensors.placement_rad[HP_W] = -d.sensors.placement_rad[HP_V];
    image.motor.cogging_phase_rad = -d.motor.cogging_phase_rad;
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        hp_run_options o = careful_run(0.7), other = careful_run(-0.7);
        check_image(engine, &image, &other, &d, &o, number, mirror, -1.0);
    }
    hp_engine_free(engine);
}

/* A 60-degree motor on a controller made for it is a 120-degree motor on the usual one; only the
 * codes differ. */
static void sixty_degree_pair_equals_the_usual_pair(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive usual = hp_reference_drive_make(HP_DRIVE_DIRECT), sixty = usual;
    sixty.sensors.spacing_60 = true;
    sixty.controller.table = hp_commutation_table_60();
    /* The inverted sensor must meet the input that expects it: orders that leave V in place. */
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        hp_wiring w = hp_wiring_from_number(number);
        if (w.sensor[HP_V] != HP_V)
            continue;
        hp_run_options o = run_for(0.4, 0.7);
        hp_figures a, b;
        run_into(engine, &usual, number, &o, NULL, &a);
        run_into(engine, &sixty, number, &o, NULL, &b);
        check_int(memcmp(&a, &b, sizeof a), 0);
    }
    hp_engine_free(engine);
}

/* Whole turns of the rest angle are nothing. */
static void rest_angle_counts_modulo_a_turn(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    static const int same[HP_PHASE_COUNT] = {HP_U, HP_V, HP_W};
    const int turns[] = {-3, 1, 40};
    for (size_t k = 0; k < sizeof turns / sizeof turns[0]; k++) {
        hp_run_options o = careful_run(0.7), other = careful_run(0.7 + turns[k] * HP_TWO_PI);
        check_image(engine, &d, &other, &d, &o, 4, same, 1.0);
    }
    hp_engine_free(engine);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(renaming_the_controller_changes_nothing),
        cmocka_unit_test(rotated_motor_runs_alike_from_rotated_rest_angles),
        cmocka_unit_test(mirrored_motor_runs_backward),
        cmocka_unit_test(sixty_degree_pair_equals_the_usual_pair),
        cmocka_unit_test(rest_angle_counts_modulo_a_turn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
