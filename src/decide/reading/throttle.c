/*
 * Throttle: its plug pin by pin, volts at rest and full, and what each lost lead looks like to the
 * controller. A lead that comes off must never look like an open grip.
 */
#include "decide/reading/control_values.h"
#include "decide/reading/reading_parts.h"

#include <math.h>

static const char *const lost_words[] = {"none", "supply", "ground", "signal", "several", NULL};

static const hp_field fields[] = {
    HP_FITTED_FIELD(hp_throttle_reading),
    HP_PLUG_FIELDS(hp_throttle_reading, plug, 2, HP_USUAL_UNSTATED),
    HP_VOLTS_FIELD("throttle_rest_v", hp_throttle_reading, rest_v, HP_USUAL_UNSTATED,
                   "Volts on the throttle's signal lead, grip at rest"),
    HP_VOLTS_FIELD("throttle_full_v", hp_throttle_reading, full_v, {.low = HP_USUAL_FULL_V},
                   "Volts on the throttle's signal lead, grip full"),
    HP_VOLTS_FIELD("supply_off_v", hp_throttle_reading, lost_v[0], HP_USUAL_UNSTATED,
                   "Volts at the controller's signal input with the throttle's supply lead off"),
    HP_VOLTS_FIELD("ground_off_v", hp_throttle_reading, lost_v[1], HP_USUAL_UNSTATED,
                   "Volts at the controller's signal input with the throttle's ground lead off"),
    HP_VOLTS_FIELD("signal_off_v", hp_throttle_reading, lost_v[2], HP_USUAL_UNSTATED,
                   "Volts at the controller's signal input with the throttle's signal lead off"),
    {.name = "turned_with_off",
     .type = HP_FIELD_CHOICE,
     .words = lost_words,
     .first = HP_LOST_NONE,
     .offset = offsetof(hp_throttle_reading, turned),
     .argument = "LEAD",
     .help = "The lead with which off the lifted wheel turned, grip at rest: supply, ground, "
             "signal or several; none: each was tried, and it stayed still"},
    {.name = "runs_on_with_off",
     .type = HP_FIELD_CHOICE,
     .words = lost_words,
     .first = HP_LOST_NONE,
     .offset = offsetof(hp_throttle_reading, runs_on),
     .argument = "LEAD",
     .help =
         "The lead that, coming off while the lifted wheel ran gently, let it run on or faster: "
         "supply, ground, signal or several; none: each was tried, and the drive stopped"},
    HP_TELL_FIELD("springs_back", hp_throttle_reading, springs,
                  "The grip springs back to rest by itself"),
    {.name = NULL},
};

static void make(void *values)
{
    hp_throttle_reading *t = values;
    t->plug = hp_plug_volts_none();
    t->rest_v = t->full_v = t->lost_v[0] = t->lost_v[1] = t->lost_v[2] = (double)NAN;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_throttle_reading *t = values;
    const double volts[] = {t->rest_v, t->full_v, t->lost_v[0], t->lost_v[1], t->lost_v[2]};
    hp_result result = hp_plug_volts_check(&t->plug, err);
    for (size_t k = 0; result == HP_OK && k < sizeof volts / sizeof volts[0]; k++)
        if (!isnan(volts[k]))
            result = hp_check_range(err, "volts of the throttle", volts[k], 0.0, HP_PIN_V_MOST);
    if (result == HP_OK)
        result = hp_check_whole(err, "the lost lead", (int)t->turned, 0, HP_LOST_COUNT - 1);
    if (result == HP_OK)
        result =
            hp_check_whole(err, "the lead that came off", (int)t->runs_on, 0, HP_LOST_COUNT - 1);
    return result;
}

static bool settle(const hp_settling *settling, const void *values)
{
    const hp_throttle_reading *t = values;
    return hp_settle_absent(settling, &hp_reading_throttle, t->fitted == HP_TELL_NO, "fitted", t) &&
           hp_plug_volts_settle(settling, &t->plug);
}

bool hp_throttle_reading_volts(const hp_throttle_reading *t, double *rest_v, double *full_v)
{
    hp_pin_roles roles = hp_plug_volts_roles(&t->plug, HP_PINS_OF_THROTTLE, (double)NAN);
    bool told = roles.why == HP_ROLES_TOLD;
    *rest_v = isnan(t->rest_v) && told ? t->plug.at[0][roles.signal] : t->rest_v;
    *full_v = isnan(t->full_v) && told ? t->plug.at[1][roles.signal] : t->full_v;
    return !isnan(*rest_v) && !isnan(*full_v);
}

/* Duty of a trial is reckoned from it: one whose signal falls does not say. */
static bool throttle_volts(const void *values, double *rest_v, double *full_v)
{
    double rest, full;
    if (!hp_throttle_reading_volts(values, &rest, &full) || full <= rest)
        return false;
    *rest_v = rest;
    *full_v = full;
    return true;
}

/* chosen: what a grip at rest may ask for before the wheel would run off by itself, and what one
 * that is full must ask for at least. */
#define REST_RUNS  0.25
#define FULL_LEAST 0.95
/* chosen: what two readings of the same volts may differ; a grip moves its signal by volts. */
#define STILL_V 0.2

/* Of the signal lead no more than of any pin of the plug, however it was noted. */
static void find_too_high(const hp_throttle_params *input, double volts, hp_finding *worst,
                          int *code)
{
    if (volts > fmax(hp_pins_most_v(HP_PINS_OF_THROTTLE), input->supply_v))
        hp_step_found(worst, code, HP_FINDING_STOP, HP_STEP_PINS_AT + HP_ROLES_TOO_HIGH);
}

static void assess_grip(const hp_throttle_params *input, double rest_v, double full_v,
                        hp_finding *worst, int *code)
{
    bool fault = false;
    double asked = isnan(rest_v) ? 0.0 : hp_throttle_asked(input, rest_v, &fault);
    find_too_high(input, rest_v, worst, code);
    find_too_high(input, full_v, worst, code);
    if (fabs(full_v - rest_v) <= STILL_V)
        hp_step_found(worst, code, HP_FINDING_LOOK, HP_THROTTLE_STILL);
    else if (full_v < rest_v)
        hp_step_found(worst, code, asked > REST_RUNS ? HP_FINDING_STOP : HP_FINDING_LOOK,
                      HP_THROTTLE_FALLS);
    if (fault)
        hp_step_found(worst, code, HP_FINDING_LOOK, HP_THROTTLE_REST_FAULT);
    if (asked > 0.0)
        hp_step_found(worst, code, asked > REST_RUNS ? HP_FINDING_STOP : HP_FINDING_LOOK,
                      HP_THROTTLE_REST_HIGH);
    if (isnan(full_v))
        return;
    asked = hp_throttle_asked(input, full_v, &fault);
    if (fault)
        hp_step_found(worst, code, HP_FINDING_LOOK, HP_THROTTLE_FULL_FAULT);
    else if (asked < FULL_LEAST)
        hp_step_found(worst, code, HP_FINDING_LOOK, HP_THROTTLE_FULL_LOW);
}

/* Volts that look like an open grip are settled by trying: the wheel stood still, or it turned. */
static void assess_lost(const hp_throttle_params *input, const hp_throttle_reading *t,
                        hp_finding *worst, int *code)
{
    if (t->turned > HP_LOST_NONE)
        hp_step_found(worst, code, HP_FINDING_STOP, HP_THROTTLE_LOST_TURNS);
    if (t->runs_on > HP_LOST_NONE)
        hp_step_found(worst, code, HP_FINDING_STOP, HP_THROTTLE_LOST_RUNS);
    for (int k = 0; k < 3; k++)
        find_too_high(input, t->lost_v[k], worst, code);
    for (int k = 0; t->turned == HP_LOST_UNSAID && k < 3; k++)
        if (!isnan(t->lost_v[k]) && hp_throttle_asked(input, t->lost_v[k], NULL) > 0.0)
            hp_step_found(worst, code, HP_FINDING_LOOK, HP_THROTTLE_LOST_ASKS + k);
}

bool hp_throttle_reading_twice(const hp_throttle_reading *t, double pin_v[2])
{
    hp_throttle_reading pins = *t;
    pins.rest_v = pins.full_v = (double)NAN;
    if (!hp_throttle_reading_volts(&pins, &pin_v[0], &pin_v[1]))
        return false;
    pin_v[0] = fabs(pin_v[0] - t->rest_v) > STILL_V ? pin_v[0] : (double)NAN;
    pin_v[1] = fabs(pin_v[1] - t->full_v) > STILL_V ? pin_v[1] : (double)NAN;
    return !isnan(pin_v[0]) || !isnan(pin_v[1]);
}

/* Volts that were noted both for the pin and by themselves are the same volts. Where one of them
 * would let the wheel run off, that counts until they are read again. */
static void assess_twice(const hp_throttle_params *input, const hp_throttle_reading *t,
                         hp_finding *worst, int *code)
{
    double pin_v[2];
    if (!hp_throttle_reading_twice(t, pin_v))
        return;
    double most = fmax(pin_v[0], t->rest_v); /* of a number and NAN the number */
    bool runs = !isnan(pin_v[0]) && hp_throttle_asked(input, most, NULL) > REST_RUNS;
    hp_step_found(worst, code, runs ? HP_FINDING_STOP : HP_FINDING_LOOK, HP_THROTTLE_TWICE);
}

/* What this entry does not say, an earlier one of the same grip may: nobody measures it twice. */
bool hp_throttle_reading_known(const hp_assess_case *given, const hp_throttle_reading *t,
                               double *rest_v, double *full_v)
{
    if (hp_throttle_reading_volts(t, rest_v, full_v) || !isnan(*rest_v) || !isnan(*full_v))
        return !isnan(*rest_v) && !isnan(*full_v);
    int mended = hp_reopened_at(given->entry, given->entries, &hp_reading_throttle);
    for (int k = given->entries - 1; k > mended; k--) {
        const hp_entry *entry = &given->entry[k];
        if (entry->reading->throttle_volts &&
            entry->reading->throttle_volts(hp_entry_said(entry), rest_v, full_v))
            return true;
    }
    return false;
}

static bool concerns(const hp_assess_case *given)
{
    return hp_assess_has(given, HP_CONTROL_PART_THROTTLE);
}

static hp_finding assess(const hp_assess_case *given, const void *values, int *code)
{
    const hp_throttle_reading *t = values;
    const hp_throttle_params input = hp_assess_controls(given).throttle;
    hp_finding worst = HP_FINDING_NONE;
    double rest_v, full_v;
    if (t->fitted == HP_TELL_NO)
        return hp_step_not_fitted(given, HP_CONTROL_PART_THROTTLE, code);
    bool read = hp_throttle_reading_known(given, t, &rest_v, &full_v);
    if (t->springs == HP_TELL_NO)
        hp_step_found(&worst, code, HP_FINDING_STOP, HP_THROTTLE_STICKS);
    assess_lost(&input, t, &worst, code);
    hp_step_found_in_plug(given, &t->plug, HP_PINS_OF_THROTTLE, &worst, code);
    assess_twice(&input, t, &worst, code);
    assess_grip(&input, rest_v, full_v, &worst, code);
    bool all = read && t->springs != HP_TELL_UNSAID && t->turned != HP_LOST_UNSAID;
    return hp_step_end(worst, all, code);
}

const hp_reading hp_reading_throttle = {
    .name = "throttle",
    .title = "throttle",
    .size = sizeof(hp_throttle_reading),
    .fields = fields,
    .make = make,
    .check = check,
    .settle = settle,
    .throttle_volts = throttle_volts,
    .of_controller = HP_CONTROLLER_ANSWERS,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .stage = HP_STAGE_CONTROLS,
    .order = 20,
    .effort = 12.0, /* chosen: three pins twice, three leads off one by one */
    .control = HP_CONTROL_PART_THROTTLE,
    .concerns = concerns,
    .assess = assess,
};
