/*
 * Left out: a step of commissioning that cannot be done here, so that the list can come to an end.
 * An entry of the step itself, later, takes it back.
 */
#include "decide/reading/reading_parts.h"
#include "decide/reading/running.h"

#include <stddef.h>

/* The kinds that have a stage (tests/test_commission.c holds the two lists against each other). */
static const char *const steps[] = {"hub",          "key",          "throttle",   "brake",
                                    "pedal_sensor", "speed_switch", "display",    "learn_lead",
                                    "shared_pack",  "idle_draw",    "coast_down", "no_load",
                                    "sag",          "heating",      NULL};

static const hp_field fields[] = {
    {.name = "step",
     .type = HP_FIELD_CHOICE,
     .required = true,
     .words = steps,
     .first = 1,
     .offset = offsetof(hp_left_out, step),
     .argument = "NAME",
     .help = "The step of commissioning that cannot be done here; --note says why"},
    {.name = NULL},
};

static hp_result check(const void *values, hp_error *err)
{
    const hp_left_out *l = values;
    return hp_check_whole(err, "the step left out", l->step, 1,
                          (int)(sizeof steps / sizeof steps[0]) - 1);
}

const hp_reading *hp_left_out_step(const hp_left_out *left_out)
{
    return hp_reading_find(steps[left_out->step - 1]);
}

int hp_left_out_number(const hp_reading *step)
{
    for (int k = 0; steps[k]; k++)
        if (hp_reading_find(steps[k]) == step)
            return k + 1;
    return 0;
}

static const hp_reading *leaves_out(const void *values)
{
    return hp_left_out_step(values);
}

const hp_reading hp_reading_left_out = {
    .name = "left_out",
    .title = "left out",
    .size = sizeof(hp_left_out),
    .fields = fields,
    .check = check,
    .leaves_out = leaves_out,
};
