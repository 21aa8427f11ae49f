/*
 * Key: the key switch, and the logic or key lead that wakes the controller.
 */
#include "decide/reading/control_values.h"
#include "decide/reading/reading_parts.h"

#include <math.h>

static const hp_field fields[] = {
    HP_FITTED_FIELD(hp_key_reading),
    HP_PLUG_FIELDS(hp_key_reading, plug, 2, HP_USUAL_BATTERY),
    HP_VOLTS_FIELD("off_v", hp_key_reading, off_v, HP_USUAL_BATTERY,
                   "Volts at the logic lead, key off"),
    HP_VOLTS_FIELD("on_v", hp_key_reading, on_v, HP_USUAL_BATTERY,
                   "Volts with the part switched on"),
    HP_TELL_FIELD("stops", hp_key_reading, stops,
                  "Turned off while the wheel runs it stops the drive"),
    {.name = NULL},
};

static void make(void *values)
{
    hp_key_reading *k = values;
    k->plug = hp_plug_volts_none();
    k->off_v = k->on_v = (double)NAN;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_key_reading *k = values;
    hp_result result = hp_plug_volts_check(&k->plug, err);
    if (result == HP_OK && !isnan(k->off_v))
        result = hp_check_range(err, "volts with the key off", k->off_v, 0.0, HP_PIN_V_MOST);
    if (result == HP_OK && !isnan(k->on_v))
        result = hp_check_range(err, "volts with the key on", k->on_v, 0.0, HP_PIN_V_MOST);
    return result;
}

static bool settle(const hp_settling *settling, const void *values)
{
    const hp_key_reading *k = values;
    return hp_settle_absent(settling, &hp_reading_key, k->fitted == HP_TELL_NO, "fitted", k) &&
           hp_plug_volts_settle(settling, &k->plug);
}

void hp_key_reading_volts(const hp_key_reading *k, double volts[3])
{
    hp_pin_roles roles = hp_plug_volts_roles(&k->plug, HP_PINS_OF_KEY, (double)NAN);
    bool told = roles.why == HP_ROLES_TOLD;
    volts[0] = isnan(k->off_v) && told ? k->plug.at[0][roles.signal] : k->off_v;
    volts[1] = isnan(k->on_v) && told ? k->plug.at[1][roles.signal] : k->on_v;
    volts[2] = told && roles.plus >= 0 ? k->plug.at[1][roles.plus] : (double)NAN;
}

/* chosen: a contact and a thin lead lose some tenths of a volt; more is a bad contact, or not
 * battery plus. The battery's own volts, where nobody read them, may be a tenth lower than stated
 * full, or more. */
#define DROP_MOST_V  1.0
#define STATED_SHARE 0.75
#define OFF_MOST_V   5.0 /* chosen: capacitors that still fall are above it for some seconds */

static hp_finding assess(const hp_assess_case *given, const void *values, int *code)
{
    const hp_key_reading *k = values;
    hp_finding worst = HP_FINDING_NONE;
    double volts[3];
    if (k->fitted == HP_TELL_NO)
        return hp_step_not_fitted(given, HP_CONTROL_PART_KEY, code);
    hp_key_reading_volts(k, volts);
    double least =
        isnan(volts[2]) ? STATED_SHARE * given->drive->supply.emf_v : volts[2] - DROP_MOST_V;
    if (k->stops == HP_TELL_NO)
        hp_step_found(&worst, code, HP_FINDING_STOP, HP_KEY_RUNS_ON);
    hp_step_found_in_plug(given, &k->plug, HP_PINS_OF_KEY, &worst, code);
    if (volts[0] > volts[1])
        hp_step_found(&worst, code, HP_FINDING_LOOK, HP_KEY_SWAPPED);
    if (volts[0] > OFF_MOST_V)
        hp_step_found(&worst, code, HP_FINDING_LOOK, HP_KEY_STAYS);
    if (volts[1] < least)
        hp_step_found(&worst, code, HP_FINDING_LOOK, HP_KEY_DROPS);
    bool all = !isnan(volts[0]) && !isnan(volts[1]) && k->stops != HP_TELL_UNSAID;
    return hp_step_end(worst, all, code);
}

static bool lacks(const void *values)
{
    return ((const hp_key_reading *)values)->fitted == HP_TELL_NO;
}

const hp_reading hp_reading_key = {
    .name = "key",
    .title = "key",
    .size = sizeof(hp_key_reading),
    .fields = fields,
    .make = make,
    .check = check,
    .settle = settle,
    .of_controller = HP_CONTROLLER_ANSWERS,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .stage = HP_STAGE_CONTROLS,
    .order = 10,
    .effort = 4.0, /* chosen: two pins, two positions, one run */
    .control = HP_CONTROL_PART_KEY,
    .lacks = lacks,
    .assess = assess,
};
