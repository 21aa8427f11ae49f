/* Images of a drive: see the header. */
#include "drive_images.h"

hp_drive image_rename_motor(const hp_drive *d, const int name[HP_PHASE_COUNT])
{
    hp_drive renamed = *d;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        renamed.sensors.placement_rad[name[k]] = d->sensors.placement_rad[k];
        renamed.sensors.fault[name[k]] = d->sensors.fault[k];
        renamed.motor.lead_open[name[k]] = d->motor.lead_open[k];
    }
    return renamed;
}

int image_rename_wiring(int number, const int name[HP_PHASE_COUNT])
{
    hp_wiring w = hp_wiring_from_number(number);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        w.sensor[k] = name[w.sensor[k]];
        w.phase[k] = name[w.phase[k]];
    }
    return hp_wiring_number(&w);
}

int image_rename_controller(int number, const int name[HP_PHASE_COUNT])
{
    hp_wiring w = hp_wiring_from_number(number), renamed = w;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        renamed.sensor[k] = w.sensor[name[k]];
        renamed.phase[k] = w.phase[name[k]];
    }
    return hp_wiring_number(&renamed);
}

hp_drive image_mirror(const hp_drive *d)
{
    static const int exchange[HP_PHASE_COUNT] = {HP_U, HP_W, HP_V};
    hp_drive m = image_rename_motor(d, exchange);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        m.sensors.placement_rad[k] = -m.sensors.placement_rad[k];
    for (int n = 0; n <= HP_BACKEMF_HARMONICS; n++)
        m.motor.backemf.cosine[n] = -m.motor.backemf.cosine[n];
    m.motor.cogging_phase_rad = -m.motor.cogging_phase_rad;
    m.stand.load_nm = -m.stand.load_nm;
    return m;
}

hp_drive image_scale(const hp_drive *d, double k)
{
    hp_drive s = *d;
    s.supply.emf_v *= k;
    s.motor.inductance_h /= k;
    s.motor.rotor_inertia_kg_m2 /= k;
    s.motor.cogging_nm *= k;
    s.controller.ramp_per_s *= k;
    s.controller.battery_limit_a *= k;
    s.controller.phase_limit_a *= k;
    s.controller.filter_s /= k;
    s.controller.limiter_per_s *= k;
    s.controller.diode_drop_v *= k;
    s.stand.wheel_inertia_kg_m2 /= k;
    s.stand.load_nm *= k;
    hp_friction *body[] = {&s.stand.rotor, &s.stand.wheel};
    for (int n = 0; n < 2; n++) {
        body[n]->coulomb_nm *= k;
        body[n]->breakaway_nm *= k;
    }
    return s;
}
