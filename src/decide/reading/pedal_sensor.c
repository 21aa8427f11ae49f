/*
 * Pedal sensor: pulses a turn, and from how long its signal is high in each which way it takes for
 * forward.
 *
 * A ring whose magnets are wider than its gaps is high for another share of each pulse when it is
 * turned the other way round. A meter on d.c. volts shows the mean of the signal while somebody
 * pedals evenly: share = (mean - low) / (high - low).
 */
#include "decide/reading/control_values.h"
#include "decide/reading/reading_parts.h"

#include <math.h>

static const char *const drives_words[] = {"forward", "backward", "both", "neither", NULL};

static const hp_field fields[] = {
    HP_FITTED_FIELD(hp_pedal_reading),
    HP_PLUG_FIELDS(hp_pedal_reading, plug, 2, HP_USUAL_UNSTATED),
    {.name = "pulses",
     .type = HP_FIELD_WHOLE,
     .limits = {.unit = "", .low = 1, .high = 100, .whole = true},
     .offset = offsetof(hp_pedal_reading, pulses),
     .argument = "N",
     .help = "Pulses of one turn of the crank"},
    HP_VOLTS_FIELD("forward_mean_v", hp_pedal_reading, mean_v[0], HP_USUAL_INPUT,
                   "Mean volts on its signal while pedalled evenly forward"),
    HP_VOLTS_FIELD("backward_mean_v", hp_pedal_reading, mean_v[1], HP_USUAL_INPUT,
                   "Mean volts on its signal while pedalled evenly backward"),
    {.name = "drives",
     .type = HP_FIELD_CHOICE,
     .words = drives_words,
     .first = HP_PEDAL_DRIVES_FORWARD,
     .offset = offsetof(hp_pedal_reading, drives),
     .argument = "WAY",
     .help = "Which way of pedalling drives the lifted wheel: forward, backward, both or neither"},
    HP_NUMBER_FIELD("runs_on_s", hp_pedal_reading, stop_s, "s", 60, "SECONDS",
                    "Seconds from the last turn of the pedals until the motor no longer drives"),
    {.name = NULL},
};

static void make(void *values)
{
    hp_pedal_reading *p = values;
    p->plug = hp_plug_volts_none();
    p->mean_v[0] = p->mean_v[1] = p->stop_s = (double)NAN;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_pedal_reading *p = values;
    hp_result result = hp_plug_volts_check(&p->plug, err);
    if (result == HP_OK)
        result = hp_check_whole(err, "pulses of a turn", p->pulses, 0, 100);
    for (int k = 0; result == HP_OK && k < 2; k++)
        if (!isnan(p->mean_v[k]))
            result = hp_check_range(err, "mean volts", p->mean_v[k], 0.0, HP_PIN_V_MOST);
    if (result == HP_OK && !isnan(p->stop_s))
        result = hp_check_range(err, "running on in s", p->stop_s, 0.0, 60.0);
    if (result == HP_OK)
        result =
            hp_check_whole(err, "which way drives", (int)p->drives, 0, HP_PEDAL_DRIVES_COUNT - 1);
    return result;
}

static bool settle(const hp_settling *settling, const void *values)
{
    const hp_pedal_reading *p = values;
    return hp_settle_absent(settling, &hp_reading_pedal_sensor, p->fitted == HP_TELL_NO, "fitted",
                            p) &&
           hp_plug_volts_settle(settling, &p->plug);
}

double hp_pedal_reading_high(const hp_pedal_reading *p, int way)
{
    hp_pin_roles roles = hp_plug_volts_roles(&p->plug, HP_PINS_OF_PEDAL, (double)NAN);
    if (roles.why != HP_ROLES_TOLD || isnan(p->mean_v[way]))
        return (double)NAN;
    double a = p->plug.at[0][roles.signal], b = p->plug.at[1][roles.signal];
    double share = (p->mean_v[way] - fmin(a, b)) / fabs(b - a);
    return fmin(fmax(share, 0.0), 1.0);
}

#define RUNS_ON_S 1.5 /* chosen: with the hand that stops a watch */
/* chosen: at 16 km/h it goes twenty metres on without a foot that asks for it. */
#define RUNS_AWAY_S 5.0

bool hp_pedal_reading_runs_on(const hp_pedal_reading *p)
{
    return p->stop_s > RUNS_ON_S;
}

static void assess_sense(const hp_assess_case *given, const hp_pedal_reading *p, hp_finding *worst,
                         int *code)
{
    double high = hp_pedal_reading_high(p, 0), back = hp_pedal_reading_high(p, 1);
    if (isnan(high) && !isnan(back))
        high = 1.0 - back;
    if (p->drives != HP_PEDAL_DRIVES_UNSAID || isnan(high))
        return;
    if (fabs(high - 0.5) < HP_PEDAL_EVEN_WITHIN)
        hp_step_found(worst, code, HP_FINDING_LOOK, HP_PEDAL_EVEN);
    if (!given->controls || !given->controls_stated ||
        given->controls->pedal.mode == HP_PEDAL_NONE ||
        given->controls->pedal.forward == HP_PEDAL_ANY)
        return;
    if ((high > 0.5) != (given->controls->pedal.forward == HP_PEDAL_MOSTLY_HIGH))
        hp_step_found(worst, code, HP_FINDING_LOOK, HP_PEDAL_OTHER_SENSE);
}

static hp_finding assess(const hp_assess_case *given, const void *values, int *code)
{
    const hp_pedal_reading *p = values;
    hp_finding worst = HP_FINDING_NONE;
    if (p->fitted == HP_TELL_NO)
        return hp_step_not_fitted(given, HP_CONTROL_PART_PEDAL_SENSOR, code);
    if (p->drives == HP_PEDAL_DRIVES_BACKWARD)
        hp_step_found(&worst, code, HP_FINDING_STOP, HP_PEDAL_BACKWARD);
    hp_step_found_in_plug(given, &p->plug, HP_PINS_OF_PEDAL, &worst, code);
    if (p->drives == HP_PEDAL_DRIVES_BOTH)
        hp_step_found(&worst, code, HP_FINDING_LOOK, HP_PEDAL_BOTH);
    if (p->drives == HP_PEDAL_DRIVES_NEITHER)
        hp_step_found(&worst, code, HP_FINDING_LOOK, HP_PEDAL_NEITHER);
    if (hp_pedal_reading_runs_on(p))
        hp_step_found(&worst, code, HP_FINDING_LOOK, HP_PEDAL_RUNS_ON);
    assess_sense(given, p, &worst, code);
    if (p->stop_s > RUNS_AWAY_S)
        worst = HP_FINDING_STOP;
    bool all = p->drives != HP_PEDAL_DRIVES_UNSAID && !isnan(p->stop_s);
    return hp_step_end(worst, all, code);
}

const hp_reading hp_reading_pedal_sensor = {
    .name = "pedal_sensor",
    .title = "pedal sensor",
    .size = sizeof(hp_pedal_reading),
    .fields = fields,
    .make = make,
    .check = check,
    .settle = settle,
    .of_controller = HP_CONTROLLER_ANSWERS,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .stage = HP_STAGE_CONTROLS,
    .order = 40,
    .effort = 8.0, /* chosen: three pins, a turn of the crank, a run */
    .needs_run = true,
    .control = HP_CONTROL_PART_PEDAL_SENSOR,
    .assess = assess,
};
