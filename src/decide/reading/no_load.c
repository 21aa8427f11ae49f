/*
 * No-load run: speed and battery current with the wheel lifted, at full throttle and at about half.
 * Held against what volts, drag and idle draw make of it.
 */
#include "decide/advise/full_check.h"
#include "decide/commission/fit_machine.h"
#include "decide/reading/control_values.h"
#include "decide/reading/reading_parts.h"
#include "decide/reading/running.h"

#include <math.h>

static const char *const turning_words[] = {"forward", "backward", NULL};

static const hp_field fields[] = {
    {.name = "full_v",
     .type = HP_FIELD_NUMBER,
     .required = true,
     .figure = true,
     .limits = {.unit = "V", .low = 0, .high = 200, .above = true},
     .offset = offsetof(hp_no_load, full.volts),
     .factor = 1,
     .argument = "VOLTS",
     .help = "Volts at the controller's battery leads, full throttle, wheel lifted"},
    {.name = "full_speed_rpm",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "rpm", .low = 0, .high = HP_WHEEL_RPM_MAX, .above = true},
     .offset = offsetof(hp_no_load, full.rad_s),
     .factor = HP_RPM,
     .argument = "RPM",
     .help = "Speed of the wheel then"},
    {.name = "full_a",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "A", .low = 0, .high = 1000},
     .offset = offsetof(hp_no_load, full.battery_a),
     .factor = 1,
     .argument = "AMPERES",
     .help = "Battery current then, with the idle draw in it"},
    {.name = "half_v",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "V", .low = 0, .high = 200, .above = true},
     .offset = offsetof(hp_no_load, half.volts),
     .factor = 1,
     .argument = "VOLTS",
     .help = "The same three at about half throttle: volts"},
    {.name = "half_speed_rpm",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "rpm", .low = 0, .high = HP_WHEEL_RPM_MAX, .above = true},
     .offset = offsetof(hp_no_load, half.rad_s),
     .factor = HP_RPM,
     .argument = "RPM",
     .help = "Speed of the wheel at about half throttle"},
    {.name = "half_a",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "A", .low = 0, .high = 1000},
     .offset = offsetof(hp_no_load, half.battery_a),
     .factor = 1,
     .argument = "AMPERES",
     .help = "Battery current at about half throttle"},
    {.name = "turned",
     .type = HP_FIELD_CHOICE,
     .words = turning_words,
     .first = HP_TURNING_FORWARD,
     .offset = offsetof(hp_no_load, turning),
     .argument = "WAY",
     .help = "Which way the wheel turned: forward or backward"},
    {.name = NULL},
};

static void make(void *values)
{
    hp_no_load *n = values;
    n->full = n->half = (hp_steady){NAN, NAN, NAN};
}

static hp_result check_steady(const hp_steady *s, const char *where, hp_error *err)
{
    hp_result result = HP_OK;
    if (!isnan(s->volts))
        result = hp_check_range(err, where, s->volts, 1e-3, 200.0);
    if (result == HP_OK && !isnan(s->battery_a))
        result = hp_check_range(err, "battery current in A", s->battery_a, 0.0, 1000.0);
    if (result == HP_OK && !isnan(s->rad_s))
        result = hp_check_range(err, "wheel speed in rad/s", s->rad_s, 1e-3, 1000.0);
    return result;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_no_load *n = values;
    if (isnan(n->full.rad_s) && isnan(n->full.battery_a))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "full_speed_rpm and full_a are both missing, one must be there");
    hp_result result = check_steady(&n->full, "volts at full throttle", err);
    return result == HP_OK ? check_steady(&n->half, "volts at half throttle", err) : result;
}

static bool settle(const hp_settling *settling, const void *values)
{
    const hp_no_load *n = values;
    if (isnan(n->full.rad_s) && isnan(n->full.battery_a)) {
        settling->refuse(settling, "full_a", "full_v",
                         "is missing, and so is the speed: one of the two must be there");
        return false;
    }
    return hp_settle_both(settling, "half_a", !isnan(n->half.battery_a), "half_v",
                          !isnan(n->half.volts)) &&
           hp_settle_order(settling, "half_speed_rpm", n->half.rad_s / HP_RPM, "full_speed_rpm",
                           n->full.rad_s / HP_RPM);
}

static bool slipped(double read, double told)
{
    return read > HP_SLIP * told || read < told / HP_SLIP;
}

/* Of the current only what is too little: too much is what a wrong wiring draws. */
static bool has_slipped(const hp_no_load *n, const hp_no_load_told *told)
{
    return slipped(n->full.rad_s, told->rad_s) ||
           n->full.battery_a < fmin(told->battery_90.low, told->battery_a / HP_SLIP);
}

/* chosen: drag at half the speed takes about half the battery current; ripple at part duty adds to
 * it, but never this many times what full throttle drew. */
#define HALF_MOST 1.5

/* The battery's volts differ by what it sags, and no right wheel draws more at half throttle than
 * its drag makes of the speed there (where that was not read, of the full one), nor more than at
 * full throttle. What a wrong wiring draws it draws at full throttle, too: a half that contradicts
 * a full run is a slip, or a wheel that runs unevenly. */
static bool half_in_doubt(const hp_machine_fit *fit, const hp_no_load *n, double full_rad_s)
{
    const hp_steady *half = &n->half;
    if (slipped(half->volts, n->full.volts))
        return true;
    if (isnan(half->battery_a))
        return false;
    if (half->battery_a > HALF_MOST * n->full.battery_a + fit->meter.ampere_zero)
        return true;
    double speed = isnan(half->rad_s) ? full_rad_s : half->rad_s;
    hp_part_told told = hp_machine_part(fit, n->full.volts, speed);
    return hp_draw_judge(half->battery_a, hp_draw_most(told.battery_a, told.battery_90),
                         told.battery_90) == HP_DRAW_TOO_MUCH;
}

/* chosen: of the controller's cut-off and of what the battery gives empty and full, by so much a
 * meter may be out, and what a run without load takes away. */
#define VOLTS_WITHIN 0.05

/* Volts with which the controller does not run, or that the battery does not give. */
static bool volts_in_doubt(const hp_assess_case *given, double volts)
{
    const hp_pack_params *pack = given->pack;
    return volts < (1.0 - VOLTS_WITHIN) * given->drive->controller.undervoltage_v ||
           (pack && given->pack_known != HP_PACK_GUESSED &&
            (volts < (1.0 - VOLTS_WITHIN) * pack->empty_v ||
             volts > (1.0 + VOLTS_WITHIN) * pack->full_v));
}

/* A run beside what was to be expected of it. */
typedef struct expected {
    hp_machine_fit fit;
    hp_no_load_told told;
    hp_draw draw;
} expected;

/* Without this run: what coasted, and what the scenario says, tell of the drag. */
static void expect(const hp_assess_case *given, const hp_no_load *n, expected *e)
{
    hp_machine_fit_foretell(given, &e->fit);
    e->told = hp_machine_no_load(&e->fit, n->full.volts);
    double most_a = hp_draw_most(e->told.battery_a, e->told.battery_90);
    e->draw = hp_draw_judge(n->full.battery_a, most_a, e->told.battery_90);
}

static hp_finding find(const hp_assess_case *given, const hp_no_load *n, const expected *e,
                       int *code)
{
    const hp_no_load_told told = e->told;
    const hp_speed_params speed = hp_assess_controls(given).speed;
    *code = HP_NO_LOAD_FINE;
    if (n->turning == HP_TURNING_BACKWARD) {
        *code = HP_NO_LOAD_BACKWARD;
        return HP_FINDING_STOP;
    }
    if (e->draw == HP_DRAW_TOO_MUCH) {
        *code = HP_NO_LOAD_ROUGH;
        return HP_FINDING_STOP;
    }
    if (has_slipped(n, &told))
        *code = HP_NO_LOAD_SLIP;
    else if (volts_in_doubt(given, n->full.volts))
        *code = HP_NO_LOAD_VOLTS;
    else if (half_in_doubt(&e->fit, n, told.rad_s))
        *code = HP_NO_LOAD_HALF;
    else if (n->full.battery_a > told.battery_90.high)
        *code = HP_NO_LOAD_MORE;
    else if (n->full.rad_s > told.rad_90.high)
        *code = HP_NO_LOAD_FAST;
    else if (n->full.rad_s < told.rad_90.low)
        *code = HP_NO_LOAD_SLOW;
    /* Nothing is to be mended but where the switch stands. */
    if (*code == HP_NO_LOAD_SLOW && hp_slower_step(n->full.rad_s, told.rad_90, &speed) > 0)
        *code = HP_NO_LOAD_SWITCH;
    if ((*code == HP_NO_LOAD_FAST || *code == HP_NO_LOAD_SLOW) &&
        hp_pace_judge(n->full.rad_s, told.rad_90) != HP_PACE_FINE)
        return HP_FINDING_STOP; /* as far off as no right wiring of these parts */
    return *code == HP_NO_LOAD_FINE ? HP_FINDING_GOOD : HP_FINDING_LOOK;
}

static hp_finding assess(const hp_assess_case *given, const void *values, int *code)
{
    expected e;
    expect(given, values, &e);
    return find(given, values, &e, code);
}

/* What is in doubt for another reason says nothing. */
static void judge_run(const hp_assess_case *given, const void *values, hp_draw *draw, hp_pace *pace)
{
    const hp_no_load *n = values;
    expected e;
    int code;
    expect(given, n, &e);
    hp_finding finding = find(given, n, &e, &code);
    *draw = e.draw == HP_DRAW_FINE && finding != HP_FINDING_GOOD ? HP_DRAW_UNSAID : e.draw;
    *pace = code == HP_NO_LOAD_SLIP || code == HP_NO_LOAD_VOLTS || code == HP_NO_LOAD_HALF
                ? HP_PACE_UNSAID
                : hp_pace_judge(n->full.rad_s, e.told.rad_90);
}

static void full_run(const void *values, hp_full_run *run)
{
    const hp_no_load *n = values;
    *run = (hp_full_run){.motion = n->turning == HP_TURNING_FORWARD    ? HP_MOVED_FORWARD
                                   : n->turning == HP_TURNING_BACKWARD ? HP_MOVED_BACKWARD
                                                                       : HP_MOVED_UNSAID,
                         .battery_a = n->full.battery_a,
                         .wheel_rad_s = n->full.rad_s,
                         .volts = n->full.volts};
}

const hp_reading hp_reading_no_load = {
    .name = "no_load",
    .title = "no-load run",
    .size = sizeof(hp_no_load),
    .fields = fields,
    .make = make,
    .check = check,
    .settle = settle,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .stage = HP_STAGE_STAND,
    .order = 30,
    .effort = 5.0, /* chosen: two runs of half a minute, three figures each */
    .needs_run = true,
    .full_run = full_run,
    .judge_run = judge_run,
    .assess = assess,
};
