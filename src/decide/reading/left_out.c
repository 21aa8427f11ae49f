/*
 * Left out: a step that cannot be done here: one of commissioning, so that the list can come to an
 * end, or one of the way to the wiring, which the advice then does without. An entry of the step
 * itself, later, takes it back.
 */
#include "decide/reading/reading_parts.h"
#include "decide/reading/running.h"

#include <stddef.h>

/* The kinds that have a stage, then those that a plan can do without (tests/test_commission.c holds
 * the lists against each other). */
static const char *const steps[] = {"hub",
                                    "key",
                                    "throttle",
                                    "brake",
                                    "pedal_sensor",
                                    "speed_switch",
                                    "display",
                                    "learn_lead",
                                    "shared_pack",
                                    "idle_draw",
                                    "coast_down",
                                    "no_load",
                                    "sag",
                                    "heating",
                                    "pins",
                                    "sensor_supply",
                                    "hand_turn",
                                    "winding",
                                    "spin",
                                    "park",
                                    "controller_probe",
                                    "controls",
                                    "drag",
                                    "contacts",
                                    "hall_plug",
                                    "learn",
                                    "trial",
                                    NULL};

static const hp_field fields[] = {
    {.name = "step",
     .type = HP_FIELD_CHOICE,
     .required = true,
     .words = steps,
     .first = 1,
     .offset = offsetof(hp_left_out, step),
     .argument = "NAME",
     .help = "Step that cannot be done here; --note says why"},
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

const hp_reading *hp_entry_leaves_out(const hp_entry *entry)
{
    const hp_reading *kind = entry->reading;
    return kind->leaves_out ? kind->leaves_out(hp_entry_said(entry)) : NULL;
}

bool hp_left_out_by(const hp_entry *entry, int count, const hp_reading *step)
{
    for (int k = count - 1; k >= 0 && entry[k].reading != step; k--)
        if (hp_entry_leaves_out(&entry[k]) == step)
            return true;
    return false;
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
