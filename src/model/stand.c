/* Supply and stand: see the header. */
#include "model/stand.h"

#include "hubphase/model/drive.h"

#include <math.h>

hp_supply_params hp_supply_params_default(void)
{
    /* chosen: a 36 V pack somewhat above half charge; 0.08 ohm for pack, fuse and leads. */
    return (hp_supply_params){.emf_v = 37.0, .resistance_ohm = 0.08};
}

hp_result hp_supply_params_check(const hp_supply_params *supply, hp_error *err)
{
    if (!(supply->emf_v > 0.0 && supply->emf_v <= 200.0))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "supply.battery_v is %g, must be above 0 and at most 200",
                            supply->emf_v);
    if (!(supply->resistance_ohm >= 0.0 && supply->resistance_ohm <= 100.0))
        return hp_error_set(err, HP_FAIL_INPUT, "supply.resistance_ohm is %g, must be 0 to 100",
                            supply->resistance_ohm);
    return HP_OK;
}

hp_stand_params hp_stand_params_default(void)
{
    return (hp_stand_params){
        .wheel_inertia_kg_m2 = 0.12, /* chosen: a 26-inch rim with tyre, about 1.2 kg at 0.31 m */
        .gear_ratio = 1.0,           /* chosen: direct drive */
        /* chosen: bearings, seals and iron loss of a direct-drive hub turned by hand. */
        .rotor = {.coulomb_nm = 0.35, .breakaway_nm = 0.5, .viscous_nm_s_rad = 0.005},
        .wheel = {0.0, 0.0, 0.0}, /* chosen: direct drive, all of it counted with the rotor */
        .load_nm = 0.0,           /* chosen: nothing rubs on a lifted wheel */
        .smooth_rad_s = 0.0,      /* chosen: true sticking */
    };
}

/* chosen, no source: what the wheel's own bearings and seal take of it. Without a clutch nobody can
 * tell it from the rotor's; behind one it is what stops a wheel that overruns. */
#define OWN_OF_WHEEL_NM 0.05

/* A hub's bearings, seals and tyre do not know how the wheel is driven: the torque that turns it is
 * taken as that of a direct-drive hub. Through a gear a rotor feels a torque divided by the ratio,
 * and one that grows with speed by its square (power is the same on both sides). What the gear adds
 * is left out, as is what a small rotor's iron takes less (chosen, no source). */
void hp_stand_usual_friction(hp_stand_params *stand)
{
    const hp_friction hub = hp_stand_params_default().rotor;
    double g = stand->gear_ratio, own = stand->clutch ? OWN_OF_WHEEL_NM : 0.0;
    double break_of = hub.breakaway_nm / hub.coulomb_nm;
    stand->wheel = (hp_friction){.coulomb_nm = own, .breakaway_nm = own * break_of};
    stand->rotor.coulomb_nm = (hub.coulomb_nm - own) / g;
    stand->rotor.breakaway_nm = stand->rotor.coulomb_nm * break_of;
    stand->rotor.viscous_nm_s_rad = hub.viscous_nm_s_rad / (g * g);
}

static hp_result check_friction(const hp_friction *f, const char *body, hp_error *err)
{
    if (!(f->coulomb_nm >= 0.0 && f->coulomb_nm <= 1000.0))
        return hp_error_set(err, HP_FAIL_INPUT, "stand.%s friction is %g N m, must be 0 to 1000",
                            body, f->coulomb_nm);
    if (!(f->breakaway_nm >= f->coulomb_nm && f->breakaway_nm <= 1000.0))
        return hp_error_set(
            err, HP_FAIL_INPUT,
            "stand.%s breakaway is %g N m, must be at least the friction (%g) and at "
            "most 1000",
            body, f->breakaway_nm, f->coulomb_nm);
    if (!(f->viscous_nm_s_rad >= 0.0 && f->viscous_nm_s_rad <= 100.0))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "stand.%s viscous friction is %g N m s/rad, must be 0 to 100", body,
                            f->viscous_nm_s_rad);
    return HP_OK;
}

hp_result hp_stand_params_check(const hp_stand_params *stand, hp_error *err)
{
    if (!(stand->wheel_inertia_kg_m2 > 0.0 && stand->wheel_inertia_kg_m2 <= 1000.0))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "stand.wheel_inertia_kg_m2 is %g, must be above 0 and at most 1000",
                            stand->wheel_inertia_kg_m2);
    if (!(stand->gear_ratio >= 1.0 && stand->gear_ratio <= 100.0))
        return hp_error_set(err, HP_FAIL_INPUT, "stand.gear_ratio is %g, must be 1 to 100",
                            stand->gear_ratio);
    if (!(fabs(stand->load_nm) <= 1000.0))
        return hp_error_set(err, HP_FAIL_INPUT, "stand.load_nm is %g, must be -1000 to 1000",
                            stand->load_nm);
    if (!(stand->smooth_rad_s >= 0.0 && stand->smooth_rad_s <= 1000.0))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "stand.smooth_friction_rad_s is %g, must be 0 to 1000",
                            stand->smooth_rad_s);
    hp_result result = check_friction(&stand->rotor, "rotor", err);
    return result == HP_OK ? check_friction(&stand->wheel, "wheel", err) : result;
}

double hp_stand_inertia(const hp_stand_params *stand, double rotor_inertia_kg_m2)
{
    return rotor_inertia_kg_m2 +
           stand->wheel_inertia_kg_m2 / (stand->gear_ratio * stand->gear_ratio);
}

hp_friction hp_stand_friction(const hp_stand_params *stand)
{
    double g = stand->gear_ratio;
    return (hp_friction){
        .coulomb_nm = stand->rotor.coulomb_nm + stand->wheel.coulomb_nm / g,
        .breakaway_nm = stand->rotor.breakaway_nm + stand->wheel.breakaway_nm / g,
        .viscous_nm_s_rad = stand->rotor.viscous_nm_s_rad + stand->wheel.viscous_nm_s_rad / (g * g),
    };
}
