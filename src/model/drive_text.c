/* A drive as text: see the header. */
#include "model/drive_text.h"

void hp_put_numbers(FILE *out, const char *name, const double *value, int count)
{
    fprintf(out, "%s", name);
    for (int k = 0; k < count; k++)
        fprintf(out, " %.17g", value[k]);
    fputc('\n', out);
}

void hp_put_number(FILE *out, const char *name, double value)
{
    hp_put_numbers(out, name, &value, 1);
}

static void put_friction(FILE *out, const char *name, const hp_friction *f)
{
    double value[] = {f->coulomb_nm, f->breakaway_nm, f->viscous_nm_s_rad};
    hp_put_numbers(out, name, value, 3);
}

static void put_motor(FILE *out, const hp_motor_params *m)
{
    double value[] = {m->pole_pairs,    m->resistance_ohm,   m->inductance_h,        m->ke,
                      m->winding_c,     m->copper_per_k,     m->rotor_inertia_kg_m2, m->cogging_nm,
                      m->cogging_order, m->cogging_phase_rad};
    hp_put_numbers(out, "motor", value, (int)(sizeof value / sizeof value[0]));
    const hp_backemf *b = &m->backemf;
    hp_put_number(out, "backemf", (double)b->kind);
    if (b->kind == HP_BACKEMF_TRAPEZOIDAL)
        hp_put_number(out, "flat", b->flat_rad);
    if (b->kind == HP_BACKEMF_FOURIER) {
        hp_put_numbers(out, "cosine", &b->cosine[1], b->harmonics);
        hp_put_numbers(out, "sine", &b->sine[1], b->harmonics);
        hp_put_number(out, "scale", b->scale);
    }
}

void hp_drive_put_sound(FILE *out, const hp_drive *d)
{
    put_motor(out, &d->motor);
    hp_put_numbers(out, "placement", d->sensors.placement_rad, HP_PHASE_COUNT);
    hp_put_number(out, "hysteresis", d->sensors.hysteresis_rad);
    const hp_controller_params *c = &d->controller;
    double controller[] = {c->throttle,
                           c->speed_cap,
                           c->ramp_per_s,
                           c->battery_limit_a,
                           c->phase_limit_a,
                           c->filter_s,
                           c->limiter_per_s,
                           c->stall_cutout_s,
                           c->undervoltage_v,
                           c->pwm_hz,
                           c->switch_resistance_ohm,
                           c->diode_drop_v,
                           (double)c->pwm};
    hp_put_numbers(out, "controller", controller, (int)(sizeof controller / sizeof controller[0]));
    double supply[] = {d->supply.emf_v, d->supply.resistance_ohm};
    hp_put_numbers(out, "supply", supply, 2);
    double stand[] = {d->stand.wheel_inertia_kg_m2, d->stand.gear_ratio, (double)d->stand.clutch,
                      d->stand.load_nm, d->stand.smooth_rad_s};
    hp_put_numbers(out, "stand", stand, (int)(sizeof stand / sizeof stand[0]));
    put_friction(out, "rotor", &d->stand.rotor);
    put_friction(out, "wheel", &d->stand.wheel);
}

/* What a sound drive leaves out. */
void hp_drive_put(FILE *out, const hp_drive *d)
{
    double faults[HP_PHASE_COUNT + 2], table[2 * HP_CODE_COUNT];
    double open[HP_PHASE_COUNT];
    hp_drive_put_sound(out, d);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        faults[k] = (double)d->sensors.fault[k];
        open[k] = (double)d->motor.lead_open[k];
    }
    faults[HP_PHASE_COUNT] = (double)d->sensors.spacing_60;
    faults[HP_PHASE_COUNT + 1] = (double)d->sensors.no_supply;
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        table[2 * code] = d->controller.table.row[code].high;
        table[2 * code + 1] = d->controller.table.row[code].low;
    }
    hp_put_numbers(out, "sensors", faults, HP_PHASE_COUNT + 2);
    hp_put_numbers(out, "open", open, HP_PHASE_COUNT);
    hp_put_numbers(out, "table", table, 2 * HP_CODE_COUNT);
}
