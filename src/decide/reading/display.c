/*
 * Display: the lead of a lamp or a display, and whether it gives what they are made for.
 */
#include "decide/reading/control_values.h"
#include "decide/reading/reading_parts.h"

#include <math.h>

static const char *const sort_words[] = {"none", "lamp", "display", "other", NULL};

static const hp_field fields[] = {
    HP_FITTED_FIELD(hp_display_reading),
    {.name = "what",
     .type = HP_FIELD_CHOICE,
     .words = sort_words,
     .first = HP_DISPLAY_NONE,
     .offset = offsetof(hp_display_reading, sort),
     .argument = "WHAT",
     .help = "What hangs on the lead: none, lamp, display or other"},
    HP_PLUG_FIELDS(hp_display_reading, plug, 2, HP_USUAL_BATTERY),
    HP_VOLTS_FIELD("on_v", hp_display_reading, on_v, HP_USUAL_BATTERY,
                   "Volts with the part switched on"),
    HP_VOLTS_FIELD("rated_v", hp_display_reading, rated_v, HP_USUAL_BATTERY,
                   "Volts that lamp or display is made for, by its label"),
    HP_TELL_FIELD("works", hp_display_reading, works, "It lights, or shows what it should"),
    {.name = NULL},
};

static void make(void *values)
{
    hp_display_reading *d = values;
    d->plug = hp_plug_volts_none();
    d->on_v = d->rated_v = (double)NAN;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_display_reading *d = values;
    hp_result result = hp_plug_volts_check(&d->plug, err);
    if (result == HP_OK && !isnan(d->on_v))
        result = hp_check_range(err, "volts when switched on", d->on_v, 0.0, HP_PIN_V_MOST);
    if (result == HP_OK && !isnan(d->rated_v))
        result = hp_check_range(err, "volts of the label", d->rated_v, 0.0, HP_PIN_V_MOST);
    if (result == HP_OK)
        result = hp_check_whole(err, "what hangs on it", (int)d->sort, 0, HP_DISPLAY_COUNT - 1);
    return result;
}

static bool settle(const hp_settling *settling, const void *values)
{
    const hp_display_reading *d = values;
    const char *by = d->fitted == HP_TELL_NO ? "fitted" : "what";
    bool none = d->sort == HP_DISPLAY_NONE;
    hp_display_reading rest = *d;
    if (none && d->fitted == HP_TELL_NO) /* the same said twice */
        rest.sort = HP_DISPLAY_UNSAID;
    return hp_settle_absent(settling, &hp_reading_display, none || d->fitted == HP_TELL_NO, by,
                            &rest) &&
           hp_plug_volts_settle(settling, &d->plug);
}

/* chosen: a filament lamp lives a fifth as long on a sixth more volts; under four fifths it hardly
 * lights. */
#define HIGH 1.15
#define LOW  0.8

/* Volts across the load when it is switched on: as read, or between the only two pins, the second
 * time that they were read; NAN: not told. */
static double volts_on(const hp_display_reading *d)
{
    const hp_plug_volts *plug = &d->plug;
    if (!isnan(d->on_v) || plug->pins != 2 || plug->states[0] < 2 || plug->states[1] < 2)
        return d->on_v;
    return fabs(plug->at[1][0] - plug->at[1][1]);
}

static hp_finding assess(const hp_assess_case *given, const void *values, int *code)
{
    const hp_display_reading *d = values;
    hp_finding worst = HP_FINDING_NONE;
    if (d->sort == HP_DISPLAY_NONE || d->fitted == HP_TELL_NO)
        return hp_step_not_fitted(given, HP_CONTROL_PART_DISPLAY, code);
    double on_v = volts_on(d);
    if (on_v > HIGH * d->rated_v)
        hp_step_found(&worst, code, HP_FINDING_STOP, HP_DISPLAY_HIGH);
    hp_step_found_in_plug(given, &d->plug, HP_PINS_OF_LAMP, &worst, code);
    if (on_v < LOW * d->rated_v)
        hp_step_found(&worst, code, HP_FINDING_LOOK, HP_DISPLAY_LOW);
    if (d->works == HP_TELL_NO)
        hp_step_found(&worst, code, HP_FINDING_LOOK, HP_DISPLAY_DARK);
    bool all = !isnan(on_v) && !isnan(d->rated_v) && d->works != HP_TELL_UNSAID;
    return hp_step_end(worst, all, code);
}

const hp_reading hp_reading_display = {
    .name = "display",
    .title = "lamp or display",
    .size = sizeof(hp_display_reading),
    .fields = fields,
    .make = make,
    .check = check,
    .settle = settle,
    .of_controller = HP_CONTROLLER_ANSWERS,
    .stage = HP_STAGE_CONTROLS,
    .order = 60,
    .effort = 4.0, /* chosen: two pins, a switch */
    .control = HP_CONTROL_PART_DISPLAY,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .assess = assess,
};
