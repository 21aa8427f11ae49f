/*
 * Controls: volts at everything that must be right before a controller drives, in the order of
 * chance, and what was found wrong and put right. The commonest first event at a bench is a
 * controller that drives nothing.
 */
#include "decide/advise/hypothesis.h"
#include "decide/practise/hidden.h"
#include "decide/reading/control_values.h"
#include "decide/reading/mend_parts.h"
#include "decide/reading/reading_parts.h"
#include "hubphase/decide/evidence.h"

#include <math.h>

static const char *const found_words[] = {"key",        "supply",          "throttle",
                                          "brake",      "pedal_or_switch", "sensor_code",
                                          "protection", "nothing",         NULL};

#define VOLTS(name_, field_, high_, usual_, help_)                                                 \
    HP_USUAL_FIELD(name_, hp_controls, field_, "V", high_, usual_, "VOLTS", help_)

static const hp_field fields[] = {
    {.name = "found",
     .type = HP_FIELD_CHOICE,
     .required = true,
     .words = found_words,
     .first = HP_FOUND_KEY,
     .offset = offsetof(hp_controls, found),
     .argument = "WHAT",
     .help = "What was wrong and is mended: key, supply, throttle, brake, pedal_or_switch, "
             "sensor_code or protection; nothing: all was as it should be"},
    VOLTS("battery_v", battery_v, 200, HP_USUAL_BATTERY, "Volts at the controller's battery leads"),
    VOLTS("key_v", key_v, 200, HP_USUAL_BATTERY, "Volts at the logic or key lead"),
    VOLTS("throttle_supply_v", supply_v, 60, HP_USUAL_UNSTATED,
          "Volts that feed throttle and Hall sensors"),
    VOLTS("throttle_rest_v", rest_v, 60, HP_USUAL_INPUT,
          "Volts on the throttle's signal lead, grip at rest"),
    VOLTS("throttle_full_v", full_v, 60, {.low = HP_USUAL_FULL_V},
          "Volts on the throttle's signal lead, grip full"),
    VOLTS("brake_v", brake_v, 200, HP_USUAL_BRAKE, "Volts at the brake input, levers released"),
    {.name = NULL},
};

static void make(void *values)
{
    hp_controls *c = values;
    c->battery_v = c->key_v = c->supply_v = c->rest_v = c->full_v = c->brake_v = NAN;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_controls *c = values;
    const double volts[] = {c->battery_v, c->key_v, c->supply_v, c->rest_v, c->full_v, c->brake_v};
    for (size_t k = 0; k < sizeof volts / sizeof volts[0]; k++)
        if (!isnan(volts[k]) && !(volts[k] >= 0.0 && volts[k] <= 200.0))
            return hp_error_set(err, HP_FAIL_INPUT, "%g V at the controller, must be 0 to 200",
                                volts[k]);
    if (c->full_v <= c->rest_v)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "the throttle gives %g V at full grip, must be more than at rest (%g)",
                            c->full_v, c->rest_v);
    return hp_check_whole(err, "what was found", (int)c->found, 0, HP_FOUND_COUNT - 1);
}

/* chosen: how the causes share what goes wrong, in the order of chance. */
static const double shares[HP_FOUND_COUNT] = {
    [HP_FOUND_KEY] = 0.28,       [HP_FOUND_SUPPLY] = 0.10, [HP_FOUND_THROTTLE] = 0.18,
    [HP_FOUND_BRAKE] = 0.15,     [HP_FOUND_PEDAL] = 0.10,  [HP_FOUND_CODE] = 0.05,
    [HP_FOUND_PROTECTION] = 0.09};
/* chosen: nothing is found although the controller is silent, and something although it is not. */
#define MISSED   0.05
#define MISTAKEN 0.03

static double weigh(const hp_reading_case *c, const void *values)
{
    hp_found found = ((const hp_controls *)values)->found;
    bool silent = c->hypothesis->fault.kind == HP_FAULT_SILENT;
    if (found == HP_FOUND_UNSAID)
        return 1.0;
    if (found == HP_FOUND_NOTHING)
        return silent ? MISSED : 1.0 - MISTAKEN;
    return silent ? shares[found] : MISTAKEN * shares[found] / (1.0 - MISSED);
}

/* The commonest cause, or nothing. */
static void typical(const hp_reading_case *c, void *values)
{
    bool silent = c->hypothesis && c->hypothesis->fault.kind == HP_FAULT_SILENT;
    ((hp_controls *)values)->found = silent ? HP_FOUND_KEY : HP_FOUND_NOTHING;
}

/* What was found is put right. */
static void change(const void *values, hp_hypothesis *h)
{
    hp_found found = ((const hp_controls *)values)->found;
    if (found != HP_FOUND_NOTHING && found != HP_FOUND_UNSAID && h->fault.kind == HP_FAULT_SILENT)
        h->fault = (hp_fault){HP_FAULT_NONE, 0};
}

/* What was found is such a part, and gave the signs that a mend of it takes back; the volts for
 * throttle and sensors fail as a loose lead of them does. */
static bool cures(const void *values, hp_check_sign sign)
{
    static const unsigned part[HP_FOUND_COUNT] = {[HP_FOUND_KEY] = 1u << HP_MEND_key,
                                                  [HP_FOUND_SUPPLY] = 1u << HP_MEND_loose_lead,
                                                  [HP_FOUND_THROTTLE] = 1u << HP_MEND_throttle,
                                                  [HP_FOUND_BRAKE] = 1u << HP_MEND_brake_left,
                                                  [HP_FOUND_PEDAL] = 1u << HP_MEND_pedal_sensor |
                                                                     1u << HP_MEND_speed_switch,
                                                  [HP_FOUND_CODE] = 1u << HP_MEND_loose_lead,
                                                  [HP_FOUND_PROTECTION] = 1u << HP_MEND_protection};
    unsigned parts = part[((const hp_controls *)values)->found], cured = 0;
    for (int k = 0; k < HP_MEND_PARTS; k++)
        cured |= parts & 1u << k ? hp_mend_parts[k].cures : 0;
    return cured & 1u << sign;
}

/* What feeds the throttle feeds the Hall sensors, too. A supply that was dead and is mended is
 * none: one that was too high was no fault that is mended here. */
static hp_tell danger(const void *values, const hp_danger *danger, const hp_plan_params *plan,
                      const hp_person *person)
{
    const hp_controls *c = values;
    (void)person;
    if (danger == &hp_danger_sensor_supply && c->found == HP_FOUND_SUPPLY)
        return HP_TELL_NO;
    return hp_sensor_volts_danger(c->supply_v, danger, plan);
}

static bool throttle_volts(const void *values, double *rest_v, double *full_v)
{
    const hp_controls *c = values;
    if (isnan(c->rest_v) || isnan(c->full_v))
        return false;
    *rest_v = c->rest_v;
    *full_v = c->full_v;
    return true;
}

/* chosen: a contact that is closed to ground, or open to plus, leaves its input below the one; one
 * that is open to ground, or closed to plus, above the other. Between them nobody can say. */
#define INPUT_LOW_V  1.0
#define INPUT_HIGH_V 2.6

/* Whether the controller takes its brake input for a pulled lever. Of a controller that nobody has
 * stated both levels may be right. */
static bool brake_holds(const hp_assess_case *given, double volts)
{
    const hp_brake_params brake = hp_assess_controls(given).brake;
    bool low = volts <= INPUT_LOW_V, high = volts >= INPUT_HIGH_V;
    bool closed = brake.expects_at == HP_LEVEL_GROUND ? low : high;
    if (!given->controls_stated || !(low || high))
        return false;
    return brake.expects == HP_SWITCH_NORMALLY_OPEN ? closed : !closed;
}

/* chosen: a pack that is discharged has about seven tenths of its full volts left. */
#define BATTERY_SHARE_LEAST 0.7
/* chosen: no controller is woken by less. */
#define KEY_V_LEAST 5.0

static double too_few(double volts, double least)
{
    return volts < least ? volts : (double)NAN;
}

static bool holds_off(const hp_assess_case *given, const void *values, hp_held *held)
{
    const hp_controls *c = values;
    const hp_throttle_params throttle = hp_assess_controls(given).throttle;
    if (c->found != HP_FOUND_NOTHING)
        return false;
    bool open = !isnan(c->rest_v) && throttle.refuses_open &&
                hp_throttle_asked(&throttle, c->rest_v, NULL) > 0.0;
    held->fault = false;
    if (!isnan(c->rest_v))
        hp_throttle_asked(&throttle, c->rest_v, &held->fault);
    held->brake_v = brake_holds(given, c->brake_v) ? c->brake_v : (double)NAN;
    held->rest_v = open || held->fault ? c->rest_v : (double)NAN;
    held->battery_v = too_few(c->battery_v, fmax(given->drive->controller.undervoltage_v,
                                                 BATTERY_SHARE_LEAST * given->drive->supply.emf_v));
    held->key_v = too_few(c->key_v, KEY_V_LEAST);
    return !isnan(held->brake_v) || !isnan(held->rest_v) || !isnan(held->battery_v) ||
           !isnan(held->key_v);
}

/* The points of the list; the first that is wrong is put right. */
static hp_result see(hp_seen *seen, void *values, hp_error *err)
{
    bool wrong = seen->fault == HP_PRACTICE_SILENT || seen->fault == HP_PRACTICE_CUTTING_OUT;
    (void)err;
    ((hp_controls *)values)->found = wrong ? seen->machine->cause : HP_FOUND_NOTHING;
    return HP_OK;
}

const hp_reading hp_reading_controls = {
    .name = "controls",
    .title = "controls",
    .size = sizeof(hp_controls),
    .fields = fields,
    .make = make,
    .check = check,
    .minutes = 6.0, /* chosen: seven points with the meter, the controller live */
    .demand = HP_DEMAND_CUT_OUTS | HP_DEMAND_SILENCE,
    .rank = 8,
    .proves = HP_PROVES(HP_FAULT_SILENT) | HP_PROVES(HP_FAULT_CUTTING_OUT),
    .shows_faults = true,
    .typical = typical,
    .weigh = weigh,
    .change = change,
    .cures = cures,
    .speaks_of = hp_sensor_volts_dangers,
    .danger = danger,
    .throttle_volts = throttle_volts,
    .holds_off = holds_off,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .see = see,
};
