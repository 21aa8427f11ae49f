/*
 * Controls: volts at everything that must be right before a controller drives, in the order of
 * chance, and what was found wrong and put right. The commonest first event at a bench is a
 * controller that drives nothing.
 */
#include "decide/reading/reading_parts.h"

#include <math.h>

static const char *const found_words[] = {"key",        "supply",          "throttle",
                                          "brake",      "pedal_or_switch", "sensor_code",
                                          "protection", "nothing",         NULL};

#define VOLTS(name_, field_, high_, help_)                                                         \
    {                                                                                              \
        .name = name_, .type = HP_FIELD_NUMBER, .figure = true,                                    \
        .limits = {.unit = "V", .low = 0, .high = high_}, .offset = offsetof(hp_controls, field_), \
        .factor = 1, .argument = "VOLTS", .help = help_                                            \
    }

static const hp_field fields[] = {
    {.name = "found",
     .type = HP_FIELD_CHOICE,
     .required = true,
     .words = found_words,
     .first = HP_FOUND_KEY,
     .offset = offsetof(hp_controls, found),
     .argument = "WHAT",
     .help = "What was wrong and is put right: key, supply, throttle, brake, pedal_or_switch, "
             "sensor_code or protection; nothing: all was as it should be"},
    VOLTS("battery_v", battery_v, 200, "Volts at the controller's battery leads"),
    VOLTS("key_v", key_v, 200, "Volts at the logic or key lead"),
    VOLTS("throttle_supply_v", supply_v, 60, "Volts that feed throttle and sensors"),
    VOLTS("throttle_rest_v", rest_v, 60, "Volts on the throttle's signal lead, grip at rest"),
    VOLTS("throttle_full_v", full_v, 60, "Volts on the throttle's signal lead, grip full"),
    VOLTS("brake_v", brake_v, 200, "Volts at the brake input, levers released"),
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

/* What it finds when nothing is wrong. */
static void typical(const hp_reading_case *c, void *values)
{
    (void)c;
    ((hp_controls *)values)->found = HP_FOUND_NOTHING;
}

const hp_reading hp_reading_controls = {
    .name = "controls",
    .title = "controls",
    .size = sizeof(hp_controls),
    .fields = fields,
    .make = make,
    .check = check,
    .typical = typical,
};
