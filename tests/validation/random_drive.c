/* Random machines: see the header. Every range is a chosen one, wide around what is sold. */
#include "random_drive.h"

#include "base/random.h"

#include <math.h>
#include <string.h>

/* Evenly in the logarithm. */
static double spread(hp_random *r, double low, double high)
{
    return low * pow(high / low, hp_random_unit(r));
}

static bool chance(hp_random *r, double share)
{
    return hp_random_unit(r) < share;
}

static hp_backemf random_shape(hp_random *r)
{
    double kind = hp_random_unit(r);
    if (kind < 0.35)
        return hp_backemf_sinusoidal();
    if (kind < 0.8)
        return hp_backemf_trapezoidal(hp_random_between(r, 80.0, 150.0) * HP_DEG);
    /* A sine with some third and fifth, as magnets narrower than their pole give. */
    hp_backemf shape = hp_backemf_sinusoidal();
    shape.kind = HP_BACKEMF_FOURIER;
    shape.harmonics = 5;
    shape.sine[3] = hp_random_between(r, -0.2, 0.1);
    shape.sine[5] = hp_random_between(r, -0.05, 0.05);
    shape.cosine[5] = hp_random_between(r, -0.03, 0.03);
    hp_backemf_normalise(&shape);
    return shape;
}

static void random_motor(hp_random *r, bool geared, hp_drive *d)
{
    hp_motor_params *m = &d->motor;
    m->pole_pairs = geared ? 4 + (int)hp_random_below(r, 13) : 10 + (int)hp_random_below(r, 21);
    m->backemf = random_shape(r);
    d->supply.emf_v = 12.0 * (1 + (int)hp_random_below(r, 6)) * hp_random_between(r, 0.9, 1.15);
    d->supply.resistance_ohm = spread(r, 0.02, 0.3);
    /* No-load speed of the wheel at full voltage, then of the rotor. */
    double wheel_rpm = spread(r, 120.0, 500.0);
    d->stand.gear_ratio = geared ? hp_random_between(r, 3.5, 6.0) : 1.0;
    m->ke = d->supply.emf_v / (2.0 * wheel_rpm * HP_RPM * d->stand.gear_ratio);
    /* Stall current of 40 to 300 A at full voltage, electrical time constant 0.5 to 4 ms. */
    m->resistance_ohm = 0.5 * d->supply.emf_v / spread(r, 40.0, 300.0);
    m->inductance_h = m->resistance_ohm * spread(r, 0.5e-3, 4e-3);
    m->winding_c = hp_random_between(r, -10.0, 110.0);
    double kt = 2.0 * m->ke;
    m->cogging_nm = chance(r, 0.7) ? kt * spread(r, 0.01, 0.3) : 0.0;
    m->cogging_phase_rad = hp_random_between(r, -HP_PI, HP_PI);
    /* Friction as no-load current of 0.05 to 1.5 A. */
    double dry = kt * spread(r, 0.05, 1.5);
    d->stand.rotor = (hp_friction){dry, dry * hp_random_between(r, 1.0, 1.6),
                                   0.3 * dry / (d->supply.emf_v / kt)};
    d->stand.wheel_inertia_kg_m2 = spread(r, 0.02, 0.2);
    if (!geared)
        return;
    m->rotor_inertia_kg_m2 = spread(r, 5e-4, 4e-3);
    d->stand.clutch = chance(r, 0.7);
    double on_wheel = 0.2 * dry * d->stand.gear_ratio;
    d->stand.wheel = (hp_friction){on_wheel, on_wheel * 1.3, 0.0};
}

static void random_sensors(hp_random *r, hp_sensors_params *s)
{
    double together = hp_random_between(r, -6.0, 6.0);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        s->placement_rad[k] = (together + hp_random_between(r, -3.0, 3.0)) * HP_DEG;
    s->hysteresis_rad = spread(r, 0.3, 6.0) * HP_DEG;
}

static void random_controller(hp_random *r, hp_controller_params *c)
{
    c->throttle = hp_random_between(r, 0.2, 1.0);
    c->ramp_per_s = chance(r, 0.3) ? 0.0 : spread(r, 1.0, 20.0);
    c->battery_limit_a = chance(r, 0.2) ? 0.0 : spread(r, 5.0, 30.0);
    c->phase_limit_a = chance(r, 0.3) ? 0.0 : spread(r, 15.0, 80.0);
    c->filter_s = spread(r, 2e-3, 2e-2);
    c->limiter_per_s = spread(r, 3.0, 30.0);
    c->stall_cutout_s = 0.0;
    c->switch_resistance_ohm = spread(r, 1e-3, 2e-2);
    c->diode_drop_v = hp_random_between(r, 0.5, 1.2);
}

static void random_fault(hp_random *r, hp_drive *d)
{
    int phase = (int)hp_random_below(r, HP_PHASE_COUNT);
    switch (hp_random_below(r, 4)) {
    case 0: d->sensors.fault[phase] = HP_SENSOR_STUCK_HIGH; break;
    case 1: d->sensors.fault[phase] = HP_SENSOR_STUCK_LOW; break;
    case 2: d->sensors.fault[phase] = HP_SENSOR_INVERTED; break;
    default: d->motor.lead_open[phase] = true; break;
    }
}

random_case random_case_make(uint64_t seed)
{
    hp_random random = hp_random_init(seed, 77), *r = &random;
    random_case c = {.seed = seed, .drive = hp_drive_default()};
    random_motor(r, chance(r, 0.35), &c.drive);
    random_sensors(r, &c.drive.sensors);
    random_controller(r, &c.drive.controller);
    if (chance(r, 0.1))
        random_fault(r, &c.drive);
    c.wiring = 1 + (int)hp_random_below(r, HP_WIRING_COUNT);
    c.angle = hp_random_between(r, 0.0, HP_TWO_PI);
    return c;
}

/* ---- scenario -------------------------------------------------------------------------------- */

static const char *const fault_name[] = {"sound", "stuck_high", "stuck_low", "inverted"};

static void write_motor(const hp_drive *d, FILE *f)
{
    const hp_motor_params *m = &d->motor;
    const hp_backemf *b = &m->backemf;
    fprintf(f, "motor:\n  pole_pairs: %d\n", m->pole_pairs);
    fprintf(f, "  resistance_between_leads_ohm: %.17g\n", 2.0 * m->resistance_ohm);
    fprintf(f, "  inductance_between_leads_mh: %.17g\n", 2e3 * m->inductance_h);
    /* Torque per ampere at the wheel: ke times the mean over its sector of the line shape. */
    double mean = hp_drive_duty(d) * d->supply.emf_v / (m->ke * hp_drive_ideal_speed(d));
    fprintf(f, "  torque_constant_nm_per_a: %.17g\n", mean * m->ke * d->stand.gear_ratio);
    fprintf(f, "  winding_temperature_c: %.17g\n", m->winding_c);
    fprintf(f, "  cogging_peak_nm: %.17g\n", m->cogging_nm);
    fprintf(f, "  cogging_periods_per_electrical_turn: %d\n", m->cogging_order);
    fprintf(f, "  cogging_phase_deg: %.17g\n", m->cogging_phase_rad / HP_DEG);
    fprintf(f, "  rotor_inertia_kg_m2: %.17g\n", m->rotor_inertia_kg_m2);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (m->lead_open[k])
            fprintf(f, "  open_lead: %c\n", hp_phase_letter(k));
    if (b->kind == HP_BACKEMF_SINUSOIDAL) {
        fprintf(f, "  backemf: {shape: sinusoidal}\n");
    } else if (b->kind == HP_BACKEMF_TRAPEZOIDAL) {
        fprintf(f, "  backemf: {shape: trapezoidal, flat_width_deg: %.17g}\n",
                b->flat_rad / HP_DEG);
    } else {
        fprintf(f, "  backemf:\n    shape: fourier\n    harmonics:\n");
        for (int n = 1; n <= b->harmonics; n++)
            if (b->cosine[n] != 0.0 || b->sine[n] != 0.0)
                fprintf(f, "      - {n: %d, cosine: %.17g, sine: %.17g}\n", n, b->cosine[n],
                        b->sine[n]);
    }
}

static void write_sensors(const hp_sensors_params *s, FILE *f)
{
    const double *p = s->placement_rad;
    fprintf(f, "sensors:\n  placement_error_deg: {U: %.17g, V: %.17g, W: %.17g}\n", p[0] / HP_DEG,
            p[1] / HP_DEG, p[2] / HP_DEG);
    fprintf(f, "  hysteresis_deg: %.17g\n", s->hysteresis_rad / HP_DEG);
    fprintf(f, "  faults: {U: %s, V: %s, W: %s}\n", fault_name[s->fault[HP_U]],
            fault_name[s->fault[HP_V]], fault_name[s->fault[HP_W]]);
}

/* A value that may be off. */
static void write_or_none(const char *key, double value, FILE *f)
{
    if (value > 0.0)
        fprintf(f, "  %s: %.17g\n", key, value);
    else
        fprintf(f, "  %s: none\n", key);
}

static void write_controller(const hp_controller_params *c, FILE *f)
{
    fprintf(f, "controller:\n  throttle_percent: %.17g\n", 100.0 * c->throttle);
    write_or_none("ramp_percent_per_s", 100.0 * c->ramp_per_s, f);
    write_or_none("battery_current_limit_a", c->battery_limit_a, f);
    write_or_none("phase_current_limit_a", c->phase_limit_a, f);
    write_or_none("stall_cutout_s", c->stall_cutout_s, f);
    fprintf(f, "  current_filter_ms: %.17g\n  limiter_per_s: %.17g\n", 1e3 * c->filter_s,
            c->limiter_per_s);
    fprintf(f, "  switch_resistance_mohm: %.17g\n  diode_drop_v: %.17g\n",
            1e3 * c->switch_resistance_ohm, c->diode_drop_v);
}

static void write_stand(const hp_drive *d, FILE *f)
{
    const hp_stand_params *s = &d->stand;
    fprintf(f, "supply: {battery_v: %.17g, resistance_mohm: %.17g}\n", d->supply.emf_v,
            1e3 * d->supply.resistance_ohm);
    fprintf(f, "stand:\n  wheel_inertia_kg_m2: %.17g\n  gear_ratio: %.17g\n  clutch: %s\n",
            s->wheel_inertia_kg_m2, s->gear_ratio, s->clutch ? "yes" : "no");
    for (int k = 0; k < 2; k++) {
        const hp_friction *body = k == 0 ? &s->rotor : &s->wheel;
        fprintf(f, "  %s: {friction_nm: %.17g, breakaway_nm: %.17g, viscous_nm_s_per_rad: %.17g}\n",
                k == 0 ? "rotor" : "wheel", body->coulomb_nm, body->breakaway_nm,
                body->viscous_nm_s_rad);
    }
    fprintf(f, "  load_nm: %.17g\n", s->load_nm);
}

void random_case_write(const random_case *c, const hp_run_options *options, const char *why,
                       FILE *file)
{
    fprintf(file, "# Random machine of seed %llu: %s\n", (unsigned long long)c->seed, why);
    fprintf(file, "# hubphase spin FILE --wiring %d --from-angle %.17g\n", c->wiring,
            c->angle / HP_DEG);
    fprintf(file, "hubphase: 1\nname: random machine %llu\n", (unsigned long long)c->seed);
    write_motor(&c->drive, file);
    write_sensors(&c->drive.sensors, file);
    write_controller(&c->drive.controller, file);
    write_stand(&c->drive, file);
    fprintf(file, "run: {seconds: %.17g, settle_seconds: %.17g, tolerance: %.17g}\n",
            options->seconds, options->settle_s, options->tolerance);
}
