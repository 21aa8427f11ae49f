/* The list of rules, and what they share: see the header. */
#include "decide/fit/fit_rules.h"

#include <assert.h>
#include <math.h>

/* A wiring that is correct, and why there is none. */
#define WIRING (HP_FIT_LACKS_CORRECT | HP_FIT_LACKS_SOUND)

static bool has_no_fuse(const hp_fit_given *given)
{
    return !given->vehicle->fuse.fitted;
}

/* One that does not hold the controller's limit is too small for any leads. */
static bool fuse_is_too_small(const hp_fit_given *given)
{
    double rated = given->vehicle->fuse.rated_a;
    return has_no_fuse(given) || (rated > 0.0 && rated <= given->drive->controller.battery_limit_a);
}

static const hp_fit_rule rules[HP_FIT_RULE_COUNT] = {
    [HP_FIT_CONTROLLER_VOLTS] = {HP_FIT_LACKS_CONTROLLER_V, .reckon = hp_fit_controller_volts},
    [HP_FIT_CUT_OFF] = {0, .reckon = hp_fit_cut_off},
    [HP_FIT_SENSOR_SUPPLY] = {HP_FIT_LACKS_SENSOR_V, .reckon = hp_fit_sensor_supply},
    [HP_FIT_PACK_CURRENT] = {HP_FIT_LACKS_PACK_LIMIT, .reckon = hp_fit_pack_current},
    [HP_FIT_FUSE_RATING] = {HP_FIT_LACKS_FUSE | HP_FIT_LACKS_BATTERY_LEAD,
                            .reckon = hp_fit_fuse_rating, .settled = fuse_is_too_small},
    [HP_FIT_FUSE_BREAKING] = {HP_FIT_LACKS_FUSE_BREAKING | HP_FIT_LACKS_FUSE_V,
                              .reckon = hp_fit_fuse_breaking, .settled = has_no_fuse},
    [HP_FIT_BATTERY_CONNECTOR] = {HP_FIT_LACKS_BATTERY_PLUG, .reckon = hp_fit_battery_connector},
    [HP_FIT_BATTERY_LEADS] = {HP_FIT_LACKS_BATTERY_LEAD, .reckon = hp_fit_battery_leads},
    [HP_FIT_PHASE_CURRENT] = {WIRING, .reckon = hp_fit_phase_current},
    [HP_FIT_PHASE_CONNECTOR] = {HP_FIT_LACKS_PHASE_PLUG | WIRING, .reckon = hp_fit_phase_connector},
    [HP_FIT_PHASE_LEADS] = {HP_FIT_LACKS_PHASE_LEAD | WIRING, .reckon = hp_fit_phase_leads},
    [HP_FIT_LEVEL] = {WIRING, .reckon = hp_fit_level, .road = true},
    [HP_FIT_HILL] = {WIRING, .reckon = hp_fit_hill, .road = true},
    [HP_FIT_RANGE] = {HP_FIT_LACKS_CAPACITY | WIRING, .reckon = hp_fit_range, .road = true},
    [HP_FIT_RIDE_HEAT] = {WIRING, .reckon = hp_fit_ride_heat, .road = true},
    [HP_FIT_HILL_HEAT] = {WIRING, .reckon = hp_fit_hill_heat, .road = true},
    [HP_FIT_STALL_HEAT] = {0, .reckon = hp_fit_stall_heat},
    [HP_FIT_AXLE] = {HP_FIT_LACKS_AXLE | HP_FIT_LACKS_FLATS | HP_FIT_LACKS_ENGAGED,
                     .reckon = hp_fit_axle},
    [HP_FIT_MOUNTING] = {WIRING, .reckon = hp_fit_mounting},
    [HP_FIT_DOWNHILL] = {0, .reckon = hp_fit_downhill, .road = true},
    [HP_FIT_MOTOR_BRAKING] = {0, .reckon = hp_fit_motor_braking, .road = true},
    [HP_FIT_LAW] = {WIRING, .reckon = hp_fit_law},
};

const hp_fit_rule *hp_fit_rule_of(hp_fit_rule_id id)
{
    return &rules[id];
}

/* What is not stated, as a set. A torque arm makes the axle's measures needless. */
static unsigned lacks(const hp_fit_given *given, const hp_fit *fit)
{
    const hp_vehicle *v = given->vehicle;
    const hp_ratings *r = &v->ratings;
    bool battery_lead = v->battery_lead.area_mm2 > 0.0, phase_lead = v->phase_lead.area_mm2 > 0.0;
    const bool known[HP_FIT_LACKS_BITS] = {
        r->controller_most_v > 0.0,
        r->sensor_supply_v > 0.0,
        v->pack.limit_a > 0.0,
        v->fuse.rated_a > 0.0,
        v->fuse.breaking_a > 0.0,
        v->fuse.rated_v > 0.0,
        r->battery_connector_a > 0.0,
        battery_lead,
        r->phase_connector_a > 0.0,
        phase_lead,
        v->pack.capacity_ah > 0.0,
        v->axle.torque_arm || v->axle.diameter_mm > 0.0,
        v->axle.torque_arm || v->axle.flats_mm > 0.0,
        v->axle.torque_arm || v->axle.engaged_mm > 0.0,
        fit->correct > 0,
        fit->correct > 0 || hp_drive_is_sound(given->drive),
    };
    unsigned set = 0;
    for (int k = 0; k < HP_FIT_LACKS_BITS; k++)
        set |= known[k] ? 0u : 1u << k;
    return set;
}

void hp_fit_rules_apply(const hp_fit_given *given, hp_fit *fit)
{
    unsigned missing = lacks(given, fit);
    fit->pack_guessed = given->pack_guessed;
    for (int k = 0; k < HP_FIT_RULE_COUNT; k++) {
        hp_fit_line *line = &fit->line[k];
        bool settled = rules[k].settled && rules[k].settled(given);
        *line = (hp_fit_line){.rule = (hp_fit_rule_id)k,
                              .missing = settled ? 0 : missing & rules[k].needs};
        if (line->missing)
            line->state = HP_FIT_UNKNOWN;
        else
            rules[k].reckon(given, fit, line);
    }
}

void hp_fit_add_band(hp_fit_line *line, hp_fit_what what, double value, double low, double high)
{
    assert(line->figures < HP_FIT_FIGURES);
    line->figure[line->figures++] = (hp_fit_figure){what, value, low, high};
}

void hp_fit_add(hp_fit_line *line, hp_fit_what what, double value)
{
    hp_fit_add_band(line, what, value, value, value);
}

void hp_fit_find(hp_fit_line *line, hp_fit_state state, int code)
{
    if (line->code != 0 && line->state >= state)
        return;
    line->state = state;
    line->code = code;
}

double hp_fit_battery_most(const hp_fit_given *given, const hp_fit *fit)
{
    double most = given->drive->controller.battery_limit_a;
    if (most > 0.0)
        return most;
    most = fit->stalled_battery_a;
    for (int k = 0; k < HP_FIT_POINTS; k++)
        if (fit->curve[HP_FIT_CHARGE_FULL].point[k].runs)
            most = fmax(most, fit->curve[HP_FIT_CHARGE_FULL].point[k].battery_a);
    return most;
}

const hp_fit_meeting *hp_fit_hardest(const hp_fit *fit)
{
    if (fit->hill[HP_FIT_CHARGE_MIDDLE].meets)
        return &fit->hill[HP_FIT_CHARGE_MIDDLE];
    for (int k = HP_FIT_SLOPES - 1; k > 0; k--)
        if (fit->slope[k].meets)
            return &fit->slope[k];
    return &fit->level[HP_FIT_CHARGE_MIDDLE];
}
