/* Drive, options, figures and samples as JSON: see the header. */
#include "figures_json.h"

#include <stddef.h>
#include <string.h>

/* The numbers of hp_figures that are doubles. */
#define FIGURE(name)                                                                               \
    {                                                                                              \
#name, offsetof(hp_figures, name)                                                          \
    }
static const struct {
    const char *name;
    size_t offset;
} figure[] = {
    FIGURE(start_angle),     FIGURE(seconds),        FIGURE(window_s),      FIGURE(net_turn),
    FIGURE(window_turn),     FIGURE(swing),          FIGURE(speed),         FIGURE(speed_sd),
    FIGURE(wheel_speed),     FIGURE(torque_mean),    FIGURE(torque_rms),    FIGURE(torque_min),
    FIGURE(torque_max),      FIGURE(torque_able),    FIGURE(wheel_turn),    FIGURE(battery_power),
    FIGURE(battery_current), FIGURE(friction_power), FIGURE(copper_power),  FIGURE(diode_power),
    FIGURE(phase_peak),      FIGURE(phase_rms),      FIGURE(bus_voltage),   FIGURE(duty),
    FIGURE(duty_asked),      FIGURE(lead_mean),      FIGURE(balance_error),
};
#define FIGURE_COUNT (sizeof figure / sizeof figure[0])

json_t *figures_to_json(const hp_figures *figures)
{
    json_t *object = json_object();
    for (size_t k = 0; k < FIGURE_COUNT; k++) {
        double value;
        memcpy(&value, (const char *)figures + figure[k].offset, sizeof value);
        json_object_set_new(object, figure[k].name, json_real(value));
    }
    json_object_set_new(object, "status", json_integer(figures->status));
    json_object_set_new(object, "window_turns", json_integer(figures->window_turns));
    json_object_set_new(object, "window_swings", json_integer(figures->window_swings));
    json_object_set_new(object, "sensor_edges", json_integer(figures->sensor_edges));
    json_object_set_new(object, "at_rest", json_boolean(figures->at_rest));
    json_object_set_new(object, "limited", json_boolean(figures->limited));
    json_object_set_new(object, "events", json_integer(figures->events));
    return object;
}

hp_figures figures_from_json(const json_t *object)
{
    hp_figures figures;
    memset(&figures, 0, sizeof figures);
    for (size_t k = 0; k < FIGURE_COUNT; k++) {
        double value = json_number_value(json_object_get(object, figure[k].name));
        memcpy((char *)&figures + figure[k].offset, &value, sizeof value);
    }
    figures.status = (hp_result)json_integer_value(json_object_get(object, "status"));
    return figures;
}

static json_t *three(const double value[HP_PHASE_COUNT])
{
    return json_pack("[fff]", value[0], value[1], value[2]);
}

static json_t *friction_to_json(const hp_friction *f)
{
    return json_pack("{s:f, s:f, s:f}", "coulomb_nm", f->coulomb_nm, "breakaway_nm",
                     f->breakaway_nm, "viscous_nm_s_rad", f->viscous_nm_s_rad);
}

/* A measured shape: [n, cosine, sine] of each harmonic, scaled to unit amplitude. */
static json_t *harmonics_to_json(const hp_backemf *b)
{
    json_t *list = json_array();
    for (int n = 1; b->kind == HP_BACKEMF_FOURIER && n <= b->harmonics; n++)
        json_array_append_new(
            list, json_pack("[iff]", n, b->scale * b->cosine[n], b->scale * b->sine[n]));
    return list;
}

static json_t *motor_to_json(const hp_motor_params *m)
{
    static const char *const kind[] = {"sinusoidal", "trapezoidal", "fourier"};
    return json_pack("{s:i, s:f, s:f, s:f, s:f, s:f, s:f, s:s, s:f, s:f, s:f, s:i, s:o}",
                     "pole_pairs", m->pole_pairs, "resistance_ohm", m->resistance_ohm, "winding_c",
                     m->winding_c, "copper_per_k", m->copper_per_k, "inductance_h", m->inductance_h,
                     "ke", m->ke, "rotor_inertia_kg_m2", m->rotor_inertia_kg_m2, "backemf",
                     kind[m->backemf.kind], "flat_rad", m->backemf.flat_rad, "cogging_nm",
                     m->cogging_nm, "cogging_phase_rad", m->cogging_phase_rad, "cogging_order",
                     m->cogging_order, "harmonics", harmonics_to_json(&m->backemf));
}

static json_t *controller_to_json(const hp_controller_params *c)
{
    static const char *const pwm[] = {"averaged", "complementary", "one_sided"};
    json_t *table = json_array();
    for (int code = 0; code < HP_CODE_COUNT; code++)
        json_array_append_new(table,
                              json_pack("[ii]", c->table.row[code].high, c->table.row[code].low));
    json_t *object =
        json_pack("{s:f, s:f, s:f, s:f, s:f, s:f, s:f, s:f, s:f}", "duty",
                  c->throttle * c->speed_cap, "ramp_per_s", c->ramp_per_s, "battery_limit_a",
                  c->battery_limit_a, "phase_limit_a", c->phase_limit_a, "filter_s", c->filter_s,
                  "limiter_per_s", c->limiter_per_s, "pwm_hz", c->pwm_hz, "switch_resistance_ohm",
                  c->switch_resistance_ohm, "diode_drop_v", c->diode_drop_v);
    json_object_set_new(object, "table", table);
    json_object_set_new(object, "pwm", json_string(pwm[c->pwm]));
    return object;
}

json_t *drive_to_json(const hp_drive *d)
{
    json_t *stand =
        json_pack("{s:f, s:f, s:f, s:f, s:o, s:o}", "wheel_inertia_kg_m2",
                  d->stand.wheel_inertia_kg_m2, "gear_ratio", d->stand.gear_ratio, "load_nm",
                  d->stand.load_nm, "smooth_rad_s", d->stand.smooth_rad_s, "rotor",
                  friction_to_json(&d->stand.rotor), "wheel", friction_to_json(&d->stand.wheel));
    json_t *sensors =
        json_pack("{s:o, s:f, s:b}", "placement_rad", three(d->sensors.placement_rad),
                  "hysteresis_rad", d->sensors.hysteresis_rad, "spacing_60", d->sensors.spacing_60);
    json_t *supply = json_pack("{s:f, s:f}", "emf_v", d->supply.emf_v, "resistance_ohm",
                               d->supply.resistance_ohm);
    return json_pack("{s:o, s:o, s:o, s:o, s:o}", "motor", motor_to_json(&d->motor), "sensors",
                     sensors, "controller", controller_to_json(&d->controller), "supply", supply,
                     "stand", stand);
}

json_t *options_to_json(const hp_run_options *o)
{
    return json_pack("{s:f, s:f, s:f, s:f}", "seconds", o->seconds, "settle_s", o->settle_s,
                     "start_angle", o->start_angle, "tolerance", o->tolerance);
}

json_t *wave_to_json(const hp_trace *trace)
{
    static const char *const name[] = {"time", "theta", "speed", "i_u", "i_v", "i_w", "torque"};
    json_t *column[7], *object = json_object();
    for (int c = 0; c < 7; c++) {
        column[c] = json_array();
        json_object_set_new(object, name[c], column[c]);
    }
    for (size_t k = 0; k < trace->count; k++) {
        const hp_sample *s = &trace->sample[k];
        const double value[] = {s->time,       s->theta,      s->speed, s->current[0],
                                s->current[1], s->current[2], s->torque};
        for (int c = 0; c < 7; c++)
            json_array_append_new(column[c], json_real(value[c]));
    }
    return object;
}
