/*
 * Hall plug: what ran smoothly once more, with the Hall plug pulled. Most controllers then drive
 * nothing. One that runs without sensors runs on, and no smooth run of it says anything of the Hall
 * leads: neither of their order, nor whether one of them is torn.
 */
#include "decide/reading/reading_parts.h"
#include "hubphase/decide/evidence.h"

static const hp_field fields[] = {
    {.name = "turns",
     .type = HP_FIELD_TELL,
     .required = true,
     .offset = offsetof(hp_hall_plug, turns),
     .argument = "YES-OR-NO",
     .help = "With the Hall plug pulled the wheel still turns; no: it stays still or twitches"},
    {.name = NULL},
};

static hp_result check(const void *values, hp_error *err)
{
    const hp_hall_plug *h = values;
    return hp_check_whole(err, "whether it turns", (int)h->turns, 0, HP_TELL_YES);
}

/* chosen: one controller in ten runs without its sensors. */
#define UNSENSED 0.1

/* Most need their sensors. */
static void typical(const hp_reading_case *c, void *values)
{
    (void)c;
    ((hp_hall_plug *)values)->turns = HP_TELL_NO;
}

static hp_tell runs_unsensed(const void *values)
{
    return ((const hp_hall_plug *)values)->turns;
}

/* It weighs nothing by itself: it says what the runs are worth (hp_belief.unsensed). No machine
 * that is hidden for practice runs without its sensors, so that nobody looks for it there. */
const hp_reading hp_reading_hall_plug = {
    .name = "hall_plug",
    .title = "run with the Hall plug pulled",
    .size = sizeof(hp_hall_plug),
    .fields = fields,
    .check = check,
    .minutes = 3.0, /* chosen: battery off, wait for the capacitors, a plug, a second's run */
    .demand = HP_DEMAND_RUNS,
    .rank = 11,
    .of_controller = HP_CONTROLLER_OWNS,
    .typical = typical,
    .seldom = UNSENSED,
    .runs_unsensed = runs_unsensed,
    /* The plug goes in again, and what is joined runs on. */
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
};
