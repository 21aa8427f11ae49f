/*
 * Learn lead: two ends that tell a controller to learn the wiring by itself when they are joined.
 * Joined by chance they make a wheel start at the next key on.
 */
#include "decide/reading/control_values.h"
#include "decide/reading/reading_parts.h"

static const hp_field fields[] = {
    HP_FITTED_FIELD(hp_learn_lead_reading),
    HP_TELL_FIELD("parted", hp_learn_lead_reading, parted, "Its two ends are apart"),
    HP_TELL_FIELD("insulated", hp_learn_lead_reading, insulated, "Each end is insulated by itself"),
    {.name = NULL},
};

static bool settle(const hp_settling *settling, const void *values)
{
    const hp_learn_lead_reading *l = values;
    return hp_settle_absent(settling, &hp_reading_learn_lead, l->fitted == HP_TELL_NO, "fitted", l);
}

static hp_finding assess(const hp_assess_case *given, const void *values, int *code)
{
    const hp_learn_lead_reading *l = values;
    hp_finding worst = HP_FINDING_NONE;
    if (l->fitted == HP_TELL_NO)
        return hp_step_not_fitted(given, HP_CONTROL_PART_LEARN_LEAD, code);
    if (l->parted == HP_TELL_NO)
        hp_step_found(&worst, code, HP_FINDING_STOP, HP_LEARN_LEAD_JOINED);
    if (l->insulated == HP_TELL_NO)
        hp_step_found(&worst, code, HP_FINDING_LOOK, HP_LEARN_LEAD_BARE);
    bool all = l->parted != HP_TELL_UNSAID && l->insulated != HP_TELL_UNSAID;
    return hp_step_end(worst, all, code);
}

const hp_reading hp_reading_learn_lead = {
    .name = "learn_lead",
    .title = "learn lead",
    .size = sizeof(hp_learn_lead_reading),
    .fields = fields,
    .settle = settle,
    .of_controller = HP_CONTROLLER_OWNS,
    .stage = HP_STAGE_CONTROLS,
    .order = 70,
    .effort = 1.0, /* chosen: a look */
    .control = HP_CONTROL_PART_LEARN_LEAD,
    .assess = assess,
};
