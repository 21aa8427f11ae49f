/*
 * Machines out of the ordinary, faulty, loaded or with parts switched off: the engine's events and
 * figures against the reference's brute runs.
 */
#include "match.h"

static void stuck_high(hp_drive *d)
{
    d->sensors.fault[HP_V] = HP_SENSOR_STUCK_HIGH;
}
static void stuck_low(hp_drive *d)
{
    d->sensors.fault[HP_W] = HP_SENSOR_STUCK_LOW;
}
static void inverted(hp_drive *d)
{
    d->sensors.fault[HP_U] = HP_SENSOR_INVERTED;
}
static void wrong_spacing(hp_drive *d)
{
    d->sensors.spacing_60 = true;
}
static void open_lead(hp_drive *d)
{
    d->motor.lead_open[HP_W] = true;
}
/* Sensor edges then coincide with corners of the back-EMF. */
static void no_hysteresis(hp_drive *d)
{
    d->sensors.hysteresis_rad = 0.0;
}
static void fourier(hp_drive *d)
{
    hp_backemf shape = {.kind = HP_BACKEMF_FOURIER, .harmonics = 5};
    shape.sine[1] = -1.0;
    shape.sine[3] = -0.12;
    shape.sine[5] = 0.05;
    hp_backemf_normalise(&shape);
    d->motor.backemf = shape;
}
static void low_battery(hp_drive *d)
{
    d->controller.undervoltage_v = d->supply.emf_v - 8.0 * d->supply.resistance_ohm;
}
static void impatient(hp_drive *d)
{
    d->controller.stall_cutout_s = 0.06;
}
static void no_ramp(hp_drive *d)
{
    d->controller.ramp_per_s = 0.0;
}
static void no_limits(hp_drive *d)
{
    d->controller.battery_limit_a = d->controller.phase_limit_a = 0.0;
}
static void hard_limits(hp_drive *d)
{
    d->controller.throttle = 1.0;
    d->controller.battery_limit_a = 3.0;
}
static void sticky(hp_drive *d)
{
    d->stand.rotor.breakaway_nm = 3.0;
}
static void strong_cogging(hp_drive *d)
{
    d->motor.cogging_nm = 1.0;
}
static void loaded(hp_drive *d)
{
    d->stand.load_nm = 1.0;
}
/* Fast enough for currents to flow back through the diodes of undriven leads. */
static void full_throttle(hp_drive *d)
{
    d->controller.throttle = 1.0;
    d->controller.ramp_per_s = 10.0;
    no_limits(d);
}

static void events_of_odd_machines(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        void (*change)(hp_drive *d);
    } odd[] = {
        {"sensor stuck high", stuck_high},
        {"sensor stuck low", stuck_low},
        {"sensor inverted", inverted},
        {"60-degree sensors on a 120-degree table", wrong_spacing},
        {"open lead", open_lead},
        {"no hysteresis", no_hysteresis},
        {"Fourier shape", fourier},
        {"low battery", low_battery},
        {"stall cut-out", impatient},
        {"no ramp", no_ramp},
        {"no limits", no_limits},
        {"hard limits", hard_limits},
        {"high breakaway", sticky},
        {"strong cogging", strong_cogging},
        {"load", loaded},
        {"full throttle", full_throttle},
    };
    static const hp_reference_drive base[] = {HP_DRIVE_DIRECT, HP_DRIVE_SINE};
    static const int wirings[] = {1, 2, 4, 5};
    hp_engine *engine = make_engine();
    hp_run_options o = options_for(0.24, 0.9);
    for (size_t k = 0; k < sizeof odd / sizeof odd[0]; k++) {
        size_t events = 0;
        for (int which = 0; which < 2; which++)
            for (int w = 0; w < 4; w++) {
                hp_drive d = hp_reference_drive_make(base[which]);
                odd[k].change(&d);
                pair p = run_pair(engine, &d, wirings[w], &o);
                check_matched(&p, odd[k].name, wirings[w]);
                check_figures(&p, 5e-4, odd[k].name, wirings[w]);
                events += p.brute.event_count;
                free_pair(&p);
            }
        check_true(events > 40, "%s: %zu events in eight runs", odd[k].name, events);
    }
    hp_engine_free(engine);
}

/* Loads on either side of what friction holds, through the clutch: the wheel may drag the rotor
 * backward with it, or run away from it. */
static void events_of_a_loaded_clutch(void **state)
{
    (void)state;
    static const double load[] = {1.0, -1.0, 0.1, -0.1};
    static const int wirings[] = {1, 2, 4, 5, 9};
    hp_engine *engine = make_engine();
    hp_run_options o = options_for(0.24, 0.9);
    for (int k = 0; k < 4; k++)
        for (int w = 0; w < 5; w++) {
            hp_drive d = hp_reference_drive_make(HP_DRIVE_GEARED);
            d.stand.load_nm = load[k];
            char label[32];
            snprintf(label, sizeof label, "load %g N m", load[k]);
            pair p = run_pair(engine, &d, wirings[w], &o);
            check_matched(&p, label, wirings[w]);
            check_figures(&p, 5e-4, label, wirings[w]);
            free_pair(&p);
        }
    hp_engine_free(engine);
}

/* With the smoothed law nothing sticks; events then are those of the circuit and the clutch. */
static void figures_of_smoothed_friction(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_run_options o = options_for(0.24, 0.9);
    for (int which = 0; which < HP_DRIVE_COUNT; which++)
        for (int wiring = 1; wiring <= 12; wiring++) {
            hp_drive d = hp_reference_drive_make((hp_reference_drive)which);
            d.stand.smooth_rad_s = 0.05;
            pair p = run_pair(engine, &d, wiring, &o);
            size_t sticks = next_of(&p.engine, HP_EVENT_STICK, 0);
            check_int((long long)sticks, (long long)p.engine.event_count);
            check_figures(&p, 5e-4, "smoothed friction", wiring);
            free_pair(&p);
        }
    hp_engine_free(engine);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(events_of_odd_machines),
        cmocka_unit_test(events_of_a_loaded_clutch),
        cmocka_unit_test(figures_of_smoothed_friction),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
