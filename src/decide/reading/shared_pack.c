/*
 * Shared pack: one battery pack that several vehicles take. What suits one must suit each.
 */
#include "decide/reading/machine_values.h"
#include "decide/reading/reading_parts.h"

static const hp_field fields[] = {
    {.name = "shared",
     .type = HP_FIELD_TELL,
     .presence = true,
     .offset = offsetof(hp_shared_pack_reading, shared),
     .argument = "YES-OR-NO",
     .help = "Whether the battery serves other vehicles, too"},
    {.name = "vehicles",
     .type = HP_FIELD_WHOLE,
     .limits = {.unit = "", .low = 2, .high = 100, .whole = true},
     .offset = offsetof(hp_shared_pack_reading, vehicles),
     .argument = "N",
     .help = "How many vehicles take it"},
    HP_TELL_FIELD("same_polarity", hp_shared_pack_reading, same_plus,
                  "Plus is the same pin of the plug on each, measured"),
    HP_TELL_FIELD("same_plug", hp_shared_pack_reading, same_plug,
                  "Each has the same plug, without an adapter"),
    HP_TELL_FIELD("full_fits", hp_shared_pack_reading, same_full,
                  "Each controller bears the volts of the full battery"),
    HP_TELL_FIELD("cut_off_fits", hp_shared_pack_reading, same_cut_off,
                  "Each controller cuts off before the battery is empty"),
    HP_TELL_FIELD("fuse_on_each", hp_shared_pack_reading, fuses,
                  "Each has a fuse of its own near the battery's plus"),
    {.name = NULL},
};

static hp_result check(const void *values, hp_error *err)
{
    const hp_shared_pack_reading *p = values;
    return p->vehicles == 0 ? HP_OK
                            : hp_check_whole(err, "number of vehicles", p->vehicles, 2, 100);
}

static bool settle(const hp_settling *settling, const void *values)
{
    const hp_shared_pack_reading *p = values;
    return hp_settle_absent(settling, &hp_reading_shared_pack, p->shared == HP_TELL_NO, "shared",
                            p);
}

/* By the scenario this machine's own controller does not bear the full battery. */
static bool is_too_much(const hp_assess_case *given)
{
    return given->fit && given->fit->line[HP_FIT_CONTROLLER_VOLTS].state == HP_FIT_STOP;
}

static hp_finding assess(const hp_assess_case *given, const void *values, int *code)
{
    const hp_shared_pack_reading *p = values;
    const hp_machine_fault fault[] = {
        {p->same_plus == HP_TELL_NO, HP_PACK_PLUS, HP_FINDING_STOP},
        {p->same_plug == HP_TELL_NO, HP_PACK_PLUG, HP_FINDING_LOOK},
        {p->same_full == HP_TELL_NO, HP_PACK_FULL, HP_FINDING_STOP},
        {p->same_full == HP_TELL_YES && is_too_much(given), HP_PACK_GAINSAID, HP_FINDING_STOP},
        {p->same_cut_off == HP_TELL_NO, HP_PACK_CUT_OFF, HP_FINDING_LOOK},
        {p->fuses == HP_TELL_NO, HP_PACK_FUSE, HP_FINDING_STOP},
    };
    if (p->shared == HP_TELL_NO)
        return hp_step_not_fitted(given, HP_CONTROL_PART_NONE, code);
    bool all = p->same_plus && p->same_plug && p->same_full && p->same_cut_off && p->fuses;
    return hp_machine_faults(fault, (int)(sizeof fault / sizeof fault[0]), all, code);
}

const hp_reading hp_reading_shared_pack = {
    .name = "shared_pack",
    .title = "shared pack",
    .size = sizeof(hp_shared_pack_reading),
    .fields = fields,
    .check = check,
    .settle = settle,
    .stage = HP_STAGE_ROAD,
    .order = 10,
    .effort = 4.0, /* chosen: a meter on each plug, a look at each label */
    .assess = assess,
};
