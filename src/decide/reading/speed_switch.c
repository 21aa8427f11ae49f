/*
 * Speed switch: its positions against the speed that each ought to give.
 */
#include "decide/advise/full_check.h"
#include "decide/reading/control_values.h"
#include "decide/reading/reading_parts.h"

#include <math.h>

#define SPEED(name_, k_, help_)                                                                    \
    {                                                                                              \
        .name = name_, .type = HP_FIELD_NUMBER, .figure = true,                                    \
        .limits = {.unit = "rpm", .low = 0, .high = HP_WHEEL_RPM_MAX},                             \
        .offset = offsetof(hp_speed_reading, rad_s[k_]), .factor = HP_RPM, .argument = "RPM",      \
        .help = help_                                                                              \
    }

static const hp_field fields[] = {
    HP_FITTED_FIELD(hp_speed_reading),
    HP_PLUG_FIELDS(hp_speed_reading, plug, HP_PINS_STATES, HP_USUAL_INPUT),
    SPEED("first_rpm", 0, "Speed of the free wheel at full throttle, switch in its first position"),
    SPEED("second_rpm", 1,
          "Speed of the free wheel at full throttle, switch in its second position"),
    SPEED("third_rpm", 2, "Speed of the free wheel at full throttle, switch in its third position"),
    SPEED("fourth_rpm", 3,
          "Speed of the free wheel at full throttle, switch in its fourth position"),
    {.name = NULL},
};

static void make(void *values)
{
    hp_speed_reading *s = values;
    s->plug = hp_plug_volts_none();
    for (int k = 0; k < HP_PINS_STATES; k++)
        s->rad_s[k] = (double)NAN;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_speed_reading *s = values;
    hp_result result = hp_plug_volts_check(&s->plug, err);
    for (int k = 0; result == HP_OK && k < HP_PINS_STATES; k++)
        if (!isnan(s->rad_s[k]))
            result = hp_check_range(err, "wheel speed in rad/s", s->rad_s[k], 0.0, 1000.0);
    return result;
}

/* A position that is passed over would be taken for another. */
static bool settle(const hp_settling *settling, const void *values)
{
    static const char *const name[HP_PINS_STATES] = {"first_rpm", "second_rpm", "third_rpm",
                                                     "fourth_rpm"};
    const hp_speed_reading *s = values;
    if (!hp_settle_absent(settling, &hp_reading_speed_switch, s->fitted == HP_TELL_NO, "fitted", s))
        return false;
    for (int k = 1; k < HP_PINS_STATES; k++)
        if (!isnan(s->rad_s[k]) && isnan(s->rad_s[k - 1])) {
            settling->refuse(settling, name[k - 1], name[k],
                             "is missing, must be there before a later position");
            return false;
        }
    return hp_plug_volts_settle(settling, &s->plug);
}

int hp_speed_reading_positions(const hp_speed_reading *s)
{
    int count = 0;
    while (count < HP_PINS_STATES && !isnan(s->rad_s[count]))
        count++;
    return count;
}

/* The scenario's step, where it lists as many as were read; the fastest of them, else, is the
 * motor's full speed. */
double hp_speed_reading_expected(const hp_assess_case *given, const hp_speed_reading *s, int k)
{
    int count = hp_speed_reading_positions(s);
    if (given->controls && given->controls->speed.steps == count)
        return hp_plan_full(given->plan) *
               hp_controls_step_speed(given->controls, given->drive, k + 1);
    return (double)NAN;
}

double hp_speed_reading_full(const hp_assess_case *given)
{
    hp_controls_params whole = hp_controls_params_default();
    return hp_plan_full(given->plan) * hp_controls_step_speed(&whole, given->drive, 1);
}

/* chosen: speeds so near are one speed. */
#define SAME 0.05

static bool near(double a, double b)
{
    return fmin(a, b) > (1.0 - SAME) * fmax(a, b);
}

/* Whether a speed is none of a step that ought to give another; never where that is not known. */
static bool is_off(double rad_s, double expected)
{
    return rad_s < (1.0 - HP_SPEED_SLOWER) * expected || rad_s > (1.0 + HP_SPEED_FASTER) * expected;
}

bool hp_speed_reading_off(const hp_assess_case *given, const hp_speed_reading *s, int k)
{
    return is_off(s->rad_s[k], hp_speed_reading_expected(given, s, k));
}

/* Joined, or read, the other way round: off as they stand, and none off from the last to the first.
 */
static bool is_turned(const hp_assess_case *given, const hp_speed_reading *s, int count)
{
    bool off = false, turned = count > 1;
    for (int k = 0; k < count; k++) {
        off = off || hp_speed_reading_off(given, s, k);
        turned = turned && !is_off(s->rad_s[k], hp_speed_reading_expected(given, s, count - 1 - k));
    }
    return off && turned;
}

bool hp_speed_reading_alike(const hp_assess_case *given, const hp_speed_reading *s, int pair[2])
{
    int count = hp_speed_reading_positions(s);
    for (pair[0] = 0; pair[0] < count; pair[0]++)
        for (pair[1] = pair[0] + 1; pair[1] < count; pair[1]++)
            if (near(s->rad_s[pair[0]], s->rad_s[pair[1]]) &&
                !near(hp_speed_reading_expected(given, s, pair[0]),
                      hp_speed_reading_expected(given, s, pair[1])))
                return true;
    return false;
}

static double fastest(const hp_speed_reading *s, int count, double *slowest)
{
    double most = 0.0;
    *slowest = INFINITY;
    for (int k = 0; k < count; k++) {
        most = fmax(most, s->rad_s[k]);
        *slowest = fmin(*slowest, s->rad_s[k]);
    }
    return most;
}

static void assess_speeds(const hp_assess_case *given, const hp_speed_reading *s, hp_finding *worst,
                          int *code)
{
    int count = hp_speed_reading_positions(s), pair[2];
    double slowest, most = fastest(s, count, &slowest), full = hp_speed_reading_full(given);
    if (count > 0 && !(slowest > 0.0))
        hp_step_found(worst, code, HP_FINDING_LOOK, HP_SPEED_STANDS);
    if (most > (1.0 + HP_SPEED_FASTER) * full)
        hp_step_found(worst, code, HP_FINDING_LOOK, HP_SPEED_FAST);
    if (count > 1 && slowest > (1.0 - SAME) * most)
        hp_step_found(worst, code, HP_FINDING_LOOK, HP_SPEED_SAME);
    if (count > 2 && hp_speed_reading_alike(given, s, pair))
        hp_step_found(worst, code, HP_FINDING_LOOK, HP_SPEED_ALIKE);
    if (is_turned(given, s, count))
        hp_step_found(worst, code, HP_FINDING_LOOK, HP_SPEED_TURNED);
    for (int k = 0; k < count; k++)
        if (hp_speed_reading_off(given, s, k))
            hp_step_found(worst, code, HP_FINDING_LOOK, HP_SPEED_OFF);
    if (count > 1 && most < (1.0 - HP_SPEED_SLOWER) * full)
        hp_step_found(worst, code, HP_FINDING_LOOK, HP_SPEED_NEVER_FULL);
}

static hp_finding assess(const hp_assess_case *given, const void *values, int *code)
{
    const hp_speed_reading *s = values;
    hp_finding worst = HP_FINDING_NONE;
    if (s->fitted == HP_TELL_NO)
        return hp_step_not_fitted(given, HP_CONTROL_PART_SPEED_SWITCH, code);
    hp_step_found_in_plug(given, &s->plug, HP_PINS_OF_SPEED, &worst, code);
    assess_speeds(given, s, &worst, code);
    return hp_step_end(worst, hp_speed_reading_positions(s) > 1, code);
}

const hp_reading hp_reading_speed_switch = {
    .name = "speed_switch",
    .title = "speed switch",
    .size = sizeof(hp_speed_reading),
    .fields = fields,
    .make = make,
    .check = check,
    .settle = settle,
    .of_controller = HP_CONTROLLER_ANSWERS,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .stage = HP_STAGE_CONTROLS,
    .order = 50,
    .effort = 6.0, /* chosen: a run in each position */
    .needs_run = true,
    .control = HP_CONTROL_PART_SPEED_SWITCH,
    .assess = assess,
};
