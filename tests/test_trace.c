/* Traces: growth, sampling at even times, events in order, and what a lack of memory does. */
#include "runs.h"

#include "reference_drives.h"
#include "sim/trace.h"

/* Under the address sanitizer an absurd request must fail like everywhere else, not abort. */
const char *__asan_default_options(void);
const char *__asan_default_options(void)
{
    return "allocator_may_return_null=1";
}

/* Says that an array is full and so large that the next growth is refused. */
#define FULL ((size_t)1 << 47)

static void growth_keeps_what_was_there(void **state)
{
    (void)state;
    hp_trace trace = hp_trace_init(0.0, 1.0, 0.1);
    check_int((long long)trace.count, 0);
    for (int k = 0; k < 1000; k++) {
        hp_sample sample = {.time = k, .code = k % 8};
        check_int(hp_trace_add_sample(&trace, &sample), HP_OK);
        check_int(hp_trace_add_event(&trace, 2.0 * k, HP_EVENT_DIODE, k % 3), HP_OK);
    }
    check_int((long long)trace.count, 1000);
    check_int((long long)trace.event_count, 1000);
    for (int k = 0; k < 1000; k++) {
        check_close(trace.sample[k].time, k, 0.0, "stored");
        check_int(trace.sample[k].code, k % 8);
        check_close(trace.event[k].time, 2.0 * k, 0.0, "stored");
        check_int(trace.event[k].which, k % 3);
    }
    hp_trace_free(&trace);
    check_true(trace.sample == NULL && trace.event == NULL && trace.count == 0, "empty again");
    hp_trace_free(&trace); /* once more does no harm */
}

static void reserved_room_is_not_moved(void **state)
{
    (void)state;
    hp_trace trace = hp_trace_init(0.0, 1.0, 0.1);
    hp_error err = hp_error_none();
    check_int(hp_trace_reserve(&trace, 5000, 700, &err), HP_OK);
    const hp_sample *samples = trace.sample;
    const hp_event *events = trace.event;
    for (int k = 0; k < 5000; k++)
        check_int(hp_trace_add_sample(&trace, &(hp_sample){.time = k}), HP_OK);
    for (int k = 0; k < 700; k++)
        check_int(hp_trace_add_event(&trace, k, HP_EVENT_PWM, 0), HP_OK);
    check_true(trace.sample == samples && trace.event == events, "the arrays moved");
    hp_trace_free(&trace);
}

static void too_much_room_is_refused(void **state)
{
    (void)state;
    const size_t wishes[] = {FULL, SIZE_MAX / sizeof(hp_sample), SIZE_MAX / 2, SIZE_MAX};
    for (size_t k = 0; k < sizeof wishes / sizeof wishes[0]; k++) {
        hp_trace trace = hp_trace_init(0.0, 1.0, 0.1);
        hp_error err = hp_error_none();
        check_int(hp_trace_reserve(&trace, wishes[k], 1, &err), HP_FAIL_MEMORY);
        check_text_contains(err.text, "no memory for a trace");
        check_int(hp_trace_reserve(&trace, 1, wishes[k], NULL), HP_FAIL_MEMORY);
        hp_trace_free(&trace);
    }
}

static void samples_stand_at_even_times(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    hp_run_options o = run_for(0.3, 0.4);
    hp_trace trace = hp_trace_init(0.1, 0.2, 1e-4);
    run_wiring(engine, &d, 4, &o, &trace);
    check_int((long long)trace.count, 1001);
    check_int((long long)trace.event_count, 0);
    for (size_t k = 0; k < trace.count; k++) {
        const hp_sample *s = &trace.sample[k];
        check_close(s->time, 0.1 + 1e-4 * (double)k, 1e-12, "rounding");
        check_close(s->current[0] + s->current[1] + s->current[2], 0.0, 1e-6,
                    "no neutral is brought out; slack of the diodes");
        int high = 0, low = 0;
        for (int x = 0; x < HP_PHASE_COUNT; x++) {
            high += s->drive[x] > 0;
            low += s->drive[x] < 0;
        }
        check_true(high == 1 && low == 1, "one lead high and one low at %g s", s->time);
        double power = 0.0;
        for (int x = 0; x < HP_PHASE_COUNT; x++)
            power += s->backemf[x] * s->current[x];
        check_close(power, s->torque * s->speed, 1e-9 * (1.0 + fabs(power)),
                    "rounding: sum of e i is torque times speed");
    }
    hp_trace_free(&trace);

    /* An interval of 0 asks for every step; both ends of the run are there. */
    hp_trace steps = hp_trace_init(0.0, 1.0, 0.0);
    hp_figures f = run_wiring(engine, &d, 4, &o, &steps);
    check_true(steps.count >= (size_t)f.steps, "%zu samples of %ld steps", steps.count, f.steps);
    check_close(steps.sample[0].time, 0.0, 0.0, "the start");
    check_close(steps.sample[steps.count - 1].time, 0.3, 0.0, "the end");
    for (size_t k = 1; k < steps.count; k++)
        check_true(steps.sample[k].time >= steps.sample[k - 1].time, "time runs forward");
    hp_trace_free(&steps);
    hp_engine_free(engine);
}

/* A sample between steps is as good as one at a step end. */
static void samples_between_steps_lie_on_the_same_curve(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_reference_drive_make(HP_DRIVE_SINE);
    hp_run_options o = run_for(0.1, 0.4), bounded = o;
    o.tolerance = bounded.tolerance = 1e-10;
    bounded.max_step_s = 2e-6;
    for (int number = 1; number <= 5; number++) {
        hp_trace sparse = full_trace(0.1, 37e-6), dense = full_trace(0.1, 37e-6);
        run_wiring(engine, &d, number, &o, &sparse);
        run_wiring(engine, &d, number, &bounded, &dense);
        check_int((long long)sparse.count, (long long)dense.count);
        for (size_t k = 0; k < sparse.count; k++)
            for (int x = 0; x < HP_PHASE_COUNT; x++)
                check_close(sparse.sample[k].current[x], dense.sample[k].current[x], 2e-4,
                            "an interpolant of fourth order over steps of 50 us");
        hp_trace_free(&sparse);
        hp_trace_free(&dense);
    }
    hp_engine_free(engine);
}

static void events_come_in_order_and_alternate(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_reference_drive_make(HP_DRIVE_GEARED);
    hp_run_options o = run_for(0.5, 0.4);
    hp_trace trace = event_trace();
    hp_figures f = run_wiring(engine, &d, 1, &o, &trace);
    check_true(trace.event_count > 100, "%zu events", trace.event_count);
    check_int(f.events, (long long)trace.event_count);
    int engaged = -1, code = -1;
    for (size_t k = 0; k < trace.event_count; k++) {
        const hp_event *e = &trace.event[k];
        check_true(k == 0 || e->time >= trace.event[k - 1].time, "time runs forward");
        check_true(e->time >= 0.0 && e->time <= 0.5, "inside the run");
        if (e->kind == HP_EVENT_CLUTCH) {
            check_true(e->which != engaged, "a clutch cannot do the same twice");
            engaged = e->which;
        }
        if (e->kind == HP_EVENT_SENSOR) {
            int change = code ^ e->which;
            check_true(code < 0 || (change & (change - 1)) == 0, "one sensor at a time");
            code = e->which;
        }
    }
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

static void lack_of_memory_ends_a_run_and_spares_the_engine(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    hp_run_options o = run_for(0.2, 0.4);
    hp_wiring w = hp_wiring_from_number(1);
    hp_figures before, f, after;
    run_into(engine, &d, 1, &o, NULL, &before);
    /* At the first sample of all; at the first sample wanted; at the first event. */
    const struct {
        double from, until;
        bool samples_full, events_full;
    } cases[] = {{0.0, 1.0, true, false}, {0.1, 1.0, true, false}, {2.0, 3.0, false, true}};
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        hp_trace trace = hp_trace_init(cases[k].from, cases[k].until, 1e-3);
        trace.keep_events = 1;
        if (cases[k].samples_full)
            trace.count = trace.capacity = FULL;
        if (cases[k].events_full)
            trace.event_count = trace.event_capacity = FULL;
        hp_error err = hp_error_none();
        check_int(hp_engine_run(engine, &d, &w, &o, &trace, &f, &err), HP_FAIL_MEMORY);
        check_int(f.status, HP_FAIL_MEMORY);
        check_text_contains(f.reason, "no memory for the trace");
        check_text_contains(err.text, "no memory for the trace");
        if (cases[k].samples_full)
            check_true(trace.sample == NULL, "nothing was stored");
        hp_trace_free(&trace);
    }
    run_into(engine, &d, 1, &o, NULL, &after);
    check_int(memcmp(&before, &after, sizeof before), 0);
    hp_engine_free(engine);
}

static void every_kind_of_event_has_a_name_of_its_own(void **state)
{
    (void)state;
    for (int k = 0; k < HP_EVENT_KIND_COUNT; k++) {
        check_true(strcmp(hp_event_name((hp_event_kind)k), "unknown") != 0, "kind %d", k);
        for (int j = 0; j < k; j++)
            check_true(strcmp(hp_event_name((hp_event_kind)k), hp_event_name((hp_event_kind)j)),
                       "kinds %d and %d", j, k);
    }
    assert_string_equal(hp_event_name(HP_EVENT_KIND_COUNT), "unknown");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(growth_keeps_what_was_there),
        cmocka_unit_test(reserved_room_is_not_moved),
        cmocka_unit_test(too_much_room_is_refused),
        cmocka_unit_test(samples_stand_at_even_times),
        cmocka_unit_test(samples_between_steps_lie_on_the_same_curve),
        cmocka_unit_test(events_come_in_order_and_alternate),
        cmocka_unit_test(lack_of_memory_ends_a_run_and_spares_the_engine),
        cmocka_unit_test(every_kind_of_event_has_a_name_of_its_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
