/*
 * Brake: of which sort the cut-off switch is, and whether each lever stops the drive, how soon.
 */
#include "decide/reading/control_values.h"
#include "decide/reading/reading_parts.h"

#include <math.h>

static const hp_field fields[] = {
    HP_FITTED_FIELD(hp_brake_reading),
    HP_PLUG_FIELDS(hp_brake_reading, plug, 2, HP_USUAL_BRAKE),
    HP_TELL_FIELD("left_stops", hp_brake_reading, stops[0], "The left lever stops the drive"),
    HP_NUMBER_FIELD("left_stop_s", hp_brake_reading, stop_s[0], "s", 60, "SECONDS",
                    "Seconds from the left lever until the motor no longer drives"),
    HP_TELL_FIELD("right_stops", hp_brake_reading, stops[1], "The right lever stops the drive"),
    HP_NUMBER_FIELD("right_stop_s", hp_brake_reading, stop_s[1], "s", 60, "SECONDS",
                    "Seconds from the right lever until the motor no longer drives"),
    HP_TELL_FIELD("one_lever", hp_brake_reading, single, "There is one brake lever only"),
    HP_TELL_FIELD("unplugged_drives", hp_brake_reading, unplugged,
                  "With the brake plug pulled the motor drives"),
    {.name = NULL},
};

static void make(void *values)
{
    hp_brake_reading *b = values;
    b->plug = hp_plug_volts_none();
    b->stop_s[0] = b->stop_s[1] = (double)NAN;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_brake_reading *b = values;
    hp_result result = hp_plug_volts_check(&b->plug, err);
    for (int k = 0; result == HP_OK && k < 2; k++)
        if (!isnan(b->stop_s[k]))
            result =
                hp_check_range(err, "time until the drive stops in s", b->stop_s[k], 0.0, 60.0);
    return result;
}

bool hp_brake_reading_tried(const hp_brake_reading *b, int lever)
{
    return b->stops[lever] != HP_TELL_UNSAID || !isnan(b->stop_s[lever]);
}

/* A lever that does not stop the drive has no time. */
static bool settle(const hp_settling *settling, const void *values)
{
    static const char *const time[2] = {"left_stop_s", "right_stop_s"};
    const hp_brake_reading *b = values;
    if (!hp_settle_absent(settling, &hp_reading_brake, b->fitted == HP_TELL_NO, "fitted", b))
        return false;
    for (int k = 0; k < 2; k++)
        if (b->stops[k] == HP_TELL_NO && !isnan(b->stop_s[k])) {
            settling->refuse(settling, time[k], time[k],
                             "is a time, must not be there: that lever does not stop the drive");
            return false;
        }
    if (b->single == HP_TELL_YES && hp_brake_reading_tried(b, 0) && hp_brake_reading_tried(b, 1)) {
        settling->refuse(settling, "one_lever", "one_lever",
                         "is yes, must be no or left out: both levers were tried");
        return false;
    }
    return hp_plug_volts_settle(settling, &b->plug);
}

/* A lever that no longer stops the drive has no time any more; one that was timed stops it. */
static void gives_way(void *values, const void *later)
{
    hp_brake_reading *b = values;
    const hp_brake_reading *l = later;
    for (int k = 0; k < 2; k++)
        if (l->stops[k] == HP_TELL_NO)
            b->stop_s[k] = (double)NAN;
        else if (!isnan(l->stop_s[k]) && b->stops[k] == HP_TELL_NO)
            b->stops[k] = HP_TELL_YES;
}

/* chosen: the wheel must be off before a rider thinks that it is not. */
#define TOO_SLOW_S 2.0

static void assess_lever(const hp_brake_reading *b, int lever, hp_finding *worst, int *code)
{
    if (b->stops[lever] == HP_TELL_NO)
        hp_step_found(worst, code, HP_FINDING_STOP, HP_BRAKE_DEAD);
    if (b->stop_s[lever] > HP_BRAKE_SLOW_S)
        hp_step_found(worst, code,
                      b->stop_s[lever] > TOO_SLOW_S ? HP_FINDING_STOP : HP_FINDING_LOOK,
                      HP_BRAKE_SLOW);
}

/* Whether the switch is of another sort than the controller is made for, as the scenario has it. */
static bool is_other_sort(const hp_assess_case *given, const hp_brake_reading *b)
{
    hp_pin_roles roles =
        hp_plug_volts_roles(&b->plug, HP_PINS_OF_BRAKE, given->drive->supply.emf_v);
    bool single = roles.sort == HP_PINS_NORMALLY_OPEN || roles.sort == HP_PINS_NORMALLY_CLOSED;
    if (!given->controls || !given->controls_stated || roles.why != HP_ROLES_TOLD || !single)
        return false;
    const hp_brake_params *made = &given->controls->brake;
    bool open = made->expects == HP_SWITCH_NORMALLY_OPEN;
    return open != (roles.sort == HP_PINS_NORMALLY_OPEN) ||
           (made->expects_at == HP_LEVEL_VOLTS) != roles.to_plus;
}

/* A pulled plug is to the controller what an open switch is: with a normally closed one the lever
 * pulled, with a normally open one the lever let go. */
static void assess_unplugged(const hp_assess_case *given, const hp_brake_reading *b,
                             hp_finding *worst, int *code)
{
    hp_pin_roles roles =
        hp_plug_volts_roles(&b->plug, HP_PINS_OF_BRAKE, given->drive->supply.emf_v);
    if (roles.why != HP_ROLES_TOLD)
        return;
    if (roles.sort == HP_PINS_NORMALLY_CLOSED && b->unplugged == HP_TELL_YES)
        hp_step_found(worst, code, HP_FINDING_LOOK, HP_BRAKE_CLOSED_DRIVES);
    if (roles.sort == HP_PINS_NORMALLY_OPEN && b->unplugged == HP_TELL_NO)
        hp_step_found(worst, code, HP_FINDING_LOOK, HP_BRAKE_OPEN_STOPS);
}

static hp_finding assess(const hp_assess_case *given, const void *values, int *code)
{
    const hp_brake_reading *b = values;
    hp_finding worst = HP_FINDING_NONE;
    bool tried = hp_brake_reading_tried(b, 0) || hp_brake_reading_tried(b, 1);
    int timed = !isnan(b->stop_s[0]) + !isnan(b->stop_s[1]);
    bool all = timed == (b->single == HP_TELL_YES ? 1 : 2);
    if (b->fitted == HP_TELL_NO)
        return hp_step_not_fitted(given, HP_CONTROL_PART_BRAKE, code);
    assess_lever(b, 0, &worst, code);
    assess_lever(b, 1, &worst, code);
    hp_step_found_in_plug(given, &b->plug, HP_PINS_OF_BRAKE, &worst, code);
    assess_unplugged(given, b, &worst, code);
    /* What was tried counts more than what the scenario says. */
    if (!tried && is_other_sort(given, b))
        hp_step_found(&worst, code, HP_FINDING_LOOK, HP_BRAKE_OTHER_SORT);
    return hp_step_end(worst, all, code);
}

static bool lacks(const void *values)
{
    return ((const hp_brake_reading *)values)->fitted == HP_TELL_NO;
}

const hp_reading hp_reading_brake = {
    .name = "brake",
    .title = "brake",
    .size = sizeof(hp_brake_reading),
    .fields = fields,
    .make = make,
    .check = check,
    .settle = settle,
    .of_controller = HP_CONTROLLER_ANSWERS,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .stage = HP_STAGE_CONTROLS,
    .order = 30,
    .effort = 8.0, /* chosen: a few pins, two levers, a watch */
    .needs_run = true,
    .lacks = lacks,
    .gives_way = gives_way,
    .control = HP_CONTROL_PART_BRAKE,
    .assess = assess,
};
