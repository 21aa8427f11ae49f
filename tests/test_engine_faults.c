/*
 * Faults of sensors and leads: what the controller then sees, and what comes of it.
 */
#include "runs.h"

#include "hubphase/model/controller.h"

#define STARTS 12

/* In how many of the rest angles a wiring turns, and the figures of the last that does. */
static int count_starts(hp_engine *engine, const hp_drive *d, int number, hp_figures *turning)
{
    int starts = 0;
    for (int k = 0; k < STARTS; k++) {
        hp_run_options o = run_for(1.2, hp_rest_angle(k));
        hp_figures f = run_wiring(engine, d, number, &o, NULL);
        if (fabs(f.window_turn) > HP_TWO_PI) {
            starts++;
            *turning = f;
        }
    }
    return starts;
}

/* Codes that a run visits, as a set of bits. */
static unsigned codes_seen(hp_engine *engine, const hp_drive *d, int number)
{
    hp_run_options o = run_for(0.8, 0.3);
    hp_trace trace = hp_trace_init(0.0, o.seconds, 0.0);
    run_wiring(engine, d, number, &o, &trace);
    unsigned seen = 0;
    for (size_t k = 0; k < trace.count; k++)
        seen |= 1u << trace.sample[k].code;
    hp_trace_free(&trace);
    return seen;
}

static void sound_sensors_show_six_codes_and_never_000_or_111(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    check_int(codes_seen(engine, &d, 1), 0x7e);
    hp_engine_free(engine);
}

/* V always 1: only codes with that bit, 010 011 110 111. */
static void stuck_sensor_shows_four_codes_at_most(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    d.sensors.fault[HP_V] = HP_SENSOR_STUCK_HIGH;
    unsigned high = (1u << 2) | (1u << 3) | (1u << 6) | (1u << 7);
    check_int(codes_seen(engine, &d, 1) & ~high, 0);
    d.sensors.fault[HP_V] = HP_SENSOR_STUCK_LOW;
    check_int(codes_seen(engine, &d, 1) & high, 0);
    hp_engine_free(engine);
}

/* The classic trap: in the right wiring a motor with one stuck sensor turns at full speed from most
 * rest angles, is dead from the others, and draws several times the current. */
static void stuck_sensor_runs_but_not_from_everywhere(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive sound = hp_drive_default(), d = sound;
    d.sensors.fault[HP_V] = HP_SENSOR_STUCK_HIGH;
    hp_figures healthy, sick;
    check_int(count_starts(engine, &sound, 1, &healthy), STARTS);
    int starts = count_starts(engine, &d, 1, &sick);
    check_true(starts > 0 && starts < STARTS, "starts from %d of %d", starts, STARTS);
    check_relative(sick.speed, healthy.speed, 0.15, "at about full speed: outside prototypes");
    check_true(sick.battery_current > 3.0 * healthy.battery_current, "%g A after %g A",
               sick.battery_current, healthy.battery_current);
    hp_engine_free(engine);
}

/* Nothing sinks the pull-ups: 111, which the table lacks, so every leg stays off. */
static void sensors_without_supply_leave_every_leg_off(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    d.sensors.no_supply = true;
    d.controller.stall_cutout_s = 0.0;
    check_int(codes_seen(engine, &d, 1), 1 << 7);
    hp_run_options o = run_for(0.5, 0.3);
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        hp_figures f = run_wiring(engine, &d, number, &o, NULL);
        check_close(f.net_turn, 0.0, 0.0, "at rest");
        check_close(f.phase_peak, 0.0, 0.0, "no current");
        check_close(f.battery_current, 0.0, 0.0, "no current");
        check_int(f.sensor_edges, 0);
    }
    hp_engine_free(engine);
}

/* An inverted sensor is what 60-degree placement does to sensor V. */
static void inverted_middle_sensor_is_sixty_degree_placement(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive inverted = hp_drive_default(), sixty = inverted;
    inverted.sensors.fault[HP_V] = HP_SENSOR_INVERTED;
    sixty.sensors.spacing_60 = true;
    hp_run_options o = run_for(0.5, 1.3);
    for (int number = 1; number <= HP_WIRING_COUNT; number += 3) {
        hp_figures a, b;
        run_into(engine, &inverted, number, &o, NULL, &a);
        run_into(engine, &sixty, number, &o, NULL, &b);
        check_int(memcmp(&a, &b, sizeof a), 0);
    }
    hp_engine_free(engine);
}

/* 60-degree sensors at a 120-degree controller: the codes 000 and 111 switch all off, two others
 * are never seen, and no wiring runs smoothly from every rest angle. */
static void sixty_degree_sensors_confuse_the_usual_table(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    d.sensors.spacing_60 = true;
    hp_run_options o = run_for(0.8, 0.3);
    o.start_speed = 20.0; /* whoever turns sees them all */
    d.controller.throttle = 0.0;
    hp_trace trace = event_trace();
    run_wiring(engine, &d, 1, &o, &trace);
    unsigned seen = 0;
    for (size_t k = 0; k < trace.event_count; k++)
        if (trace.event[k].kind == HP_EVENT_SENSOR)
            seen |= 1u << trace.event[k].which;
    hp_trace_free(&trace);
    /* 120-degree codes 100 110 010 011 001 101 with V inverted: 110 100 000 001 011 111. */
    check_int(seen, (1 << 6) | (1 << 4) | (1 << 0) | (1 << 1) | (1 << 3) | (1 << 7));

    d = hp_drive_default();
    d.sensors.spacing_60 = true;
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        int starts = 0;
        double worst = 0.0;
        for (int k = 0; k < 6; k++) {
            hp_run_options rest = run_for(0.8, hp_rest_angle(k));
            hp_figures f = run_wiring(engine, &d, number, &rest, NULL);
            starts += fabs(f.window_turn) > HP_TWO_PI;
            worst = fmax(worst, hp_figures_excess(&f));
        }
        check_true(starts < 6 || worst > 2.0, "wiring %d runs as if nothing were wrong", number);
    }
    hp_engine_free(engine);
}

/* With one lead open there is current in four sectors of six at most, between the other two leads,
 * and the open lead carries none. */
static void open_lead_carries_nothing_and_leaves_dead_angles(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    d.motor.lead_open[HP_W] = true;
    hp_figures turning;
    int starts = count_starts(engine, &d, 1, &turning);
    check_true(starts > 0 && starts < STARTS, "starts from %d of %d", starts, STARTS);

    hp_run_options o = run_for(0.5, 0.3);
    hp_trace trace = hp_trace_init(0.0, o.seconds, 1e-4);
    run_wiring(engine, &d, 1, &o, &trace);
    for (size_t k = 0; k < trace.count; k++) {
        const hp_sample *s = &trace.sample[k];
        check_close(s->current[HP_W], 0.0, 0.0, "an open lead");
        check_close(s->current[HP_U] + s->current[HP_V], 0.0, 1e-9, "what goes in comes out");
    }
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

static void two_open_leads_leave_a_dead_motor(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    d.motor.lead_open[HP_U] = d.motor.lead_open[HP_V] = true;
    hp_run_options o = run_for(0.5, 0.3);
    for (int number = 1; number <= HP_WIRING_COUNT; number += 5) {
        hp_figures f = run_wiring(engine, &d, number, &o, NULL);
        check_close(f.net_turn, 0.0, 0.0, "at rest");
        check_close(f.phase_peak, 0.0, 0.0, "no current");
    }
    hp_engine_free(engine);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sound_sensors_show_six_codes_and_never_000_or_111),
        cmocka_unit_test(stuck_sensor_shows_four_codes_at_most),
        cmocka_unit_test(stuck_sensor_runs_but_not_from_everywhere),
        cmocka_unit_test(sensors_without_supply_leave_every_leg_off),
        cmocka_unit_test(inverted_middle_sensor_is_sixty_degree_placement),
        cmocka_unit_test(sixty_degree_sensors_confuse_the_usual_table),
        cmocka_unit_test(open_lead_carries_nothing_and_leaves_dead_angles),
        cmocka_unit_test(two_open_leads_leave_a_dead_motor),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
