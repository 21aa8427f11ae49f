/*
 * Learn: the controller was told to learn the wiring by itself.
 */
#include "decide/practise/hidden.h"
#include "decide/reading/reading_parts.h"
#include "hubphase/decide/evidence.h"

/* chosen: how often a controller's own learning ends well, with sound parts and with a fault. */
#define LEARN_SOUND  0.9
#define LEARN_BROKEN 0.05

static const hp_field fields[] = {
    {.name = "worked",
     .type = HP_FIELD_TELL,
     .required = true,
     .offset = offsetof(hp_learn, worked),
     .argument = "YES-OR-NO",
     .help = "Learning ended with a wheel that runs forward smoothly"},
    {.name = NULL},
};

static double weigh(const hp_reading_case *c, const void *values)
{
    const hp_learn *learn = values;
    if (learn->worked == HP_TELL_UNSAID)
        return 1.0;
    double works = c->hypothesis->fault.kind == HP_FAULT_NONE ? LEARN_SOUND : LEARN_BROKEN;
    return learn->worked == HP_TELL_YES ? works : 1.0 - works;
}

static bool ends_right(const void *values)
{
    return ((const hp_learn *)values)->worked == HP_TELL_YES;
}

/* What learns by itself finds every wiring of good parts. */
static hp_result see(hp_seen *seen, void *values, hp_error *err)
{
    (void)err;
    ((hp_learn *)values)->worked = seen->fault == HP_PRACTICE_NO_FAULT ? HP_TELL_YES : HP_TELL_NO;
    return HP_OK;
}

const hp_reading hp_reading_learn = {
    .name = "learn",
    .title = "learn",
    .size = sizeof(hp_learn),
    .fields = fields,
    .advised_as = HP_ADVICE_LEARN,
    .weigh = weigh,
    .ends_right = ends_right,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .see = see,
};
