/*
 * Idle draw: battery current with all switched on and the wheel at rest. What a no-load current
 * holds beside the motor's, and what empties a battery in the shed.
 */
#include "decide/reading/reading_parts.h"
#include "decide/reading/running.h"

#include <math.h>

static const hp_field fields[] = {
    {.name = "idle_a",
     .type = HP_FIELD_NUMBER,
     .required = true,
     .figure = true,
     .limits = {.unit = "A", .low = 0, .high = 1000},
     .usual = {.high = HP_IDLE_USUAL_A},
     .offset = offsetof(hp_idle_draw, idle_a),
     .factor = 1,
     .argument = "AMPERES",
     .help = "Battery current with all switched on, throttle at zero and the wheel at rest"},
    {.name = "off_a",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "A", .low = 0, .high = 1000},
     .usual = {.high = HP_IDLE_USUAL_A},
     .offset = offsetof(hp_idle_draw, off_a),
     .factor = 1,
     .argument = "AMPERES",
     .help = "The same with the key off"},
    {.name = "load_on",
     .type = HP_FIELD_TELL,
     .offset = offsetof(hp_idle_draw, load_on),
     .argument = "YES-OR-NO",
     .help = "Lamp or display was on while it was read"},
    {.name = NULL},
};

static void make(void *values)
{
    hp_idle_draw *d = values;
    d->idle_a = d->off_a = NAN;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_idle_draw *d = values;
    hp_result result = hp_check_range(err, "idle current in A", d->idle_a, 0.0, 1000.0);
    if (result == HP_OK && !isnan(d->off_a))
        result = hp_check_range(err, "current with the key off in A", d->off_a, 0.0, 1000.0);
    return result;
}

/* chosen: a controller, its sensors and a throttle draw some hundredths of an ampere; with a lamp
 * or a display about an ampere at most. */
#define IDLE_BARE_A 0.15
#define IDLE_LOAD_A 1.0
/* chosen: 0.02 A empties a battery of 10 A h in three weeks. */
#define OFF_MOST_A 0.02

/* Whether it is too much, and no more so than this meter shows of nothing at all. */
static bool is_of_meter(double amperes, double most_a, double zero_a)
{
    return amperes > most_a && amperes - zero_a <= most_a;
}

static hp_finding assess(const hp_assess_case *given, const void *values, int *code)
{
    const hp_idle_draw *d = values;
    bool load = d->load_on == HP_TELL_YES;
    double zero_a = given->person->current_zero_a, most_a = load ? IDLE_LOAD_A : IDLE_BARE_A;
    bool off = d->off_a > OFF_MOST_A, much = d->idle_a > most_a;
    bool off_unsure = is_of_meter(d->off_a, OFF_MOST_A, zero_a);
    bool much_unsure = is_of_meter(d->idle_a, most_a, zero_a);
    *code = off_unsure || much_unsure ? HP_IDLE_METER : HP_IDLE_FINE;
    if (off && !off_unsure)
        *code = HP_IDLE_OFF;
    if (much && !much_unsure)
        *code = load ? HP_IDLE_MUCH : HP_IDLE_LOAD;
    /* No controller that is on draws nothing. */
    if (*code == HP_IDLE_FINE && d->idle_a == 0.0)
        *code = HP_IDLE_ZERO;
    return *code == HP_IDLE_FINE ? HP_FINDING_GOOD : HP_FINDING_LOOK;
}

const hp_reading hp_reading_idle_draw = {
    .name = "idle_draw",
    .title = "idle draw",
    .size = sizeof(hp_idle_draw),
    .fields = fields,
    .make = make,
    .check = check,
    .of_controller = HP_CONTROLLER_OWNS,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .stage = HP_STAGE_STAND,
    .order = 10,
    .effort = 3.0, /* chosen: a meter in the battery lead, one look */
    .assess = assess,
};
