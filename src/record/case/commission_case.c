/* Scenario and log to the list of steps of commissioning: see the header. */
#include "hubphase/record/case.h"

#include "decide/advise/full_check.h"
#include "decide/reading/control_values.h"
#include "decide/reading/running.h"
#include "record/scenario/parameters.h"

#include <stdlib.h>

/* Holds pointers into itself: never copied. */
struct hp_commission_case {
    const hp_scenario *scenario; /* borrowed */
    const hp_bench_log *log;     /* borrowed */
    hp_plan_params plan;         /* the scenario's, its throttle filled in */
    hp_fit fit;                  /* of the scenario as it is now, own figures and all */
    hp_commission list;
    hp_entry entry[]; /* of the log */
};

/* Whether the scenario itself says something of the controls. */
static bool states_controls(const hp_scenario *scenario)
{
    const hp_parameters *list = &scenario->controls_parameters;
    for (size_t k = 0; k < list->count; k++)
        if (hp_parameter_is_stated(&list->item[k]))
            return true;
    return false;
}

static hp_pack_known pack_known(const hp_scenario *scenario)
{
    return hp_scenario_states(scenario, "pack.full_v")      ? HP_PACK_STATED
           : hp_scenario_states(scenario, "pack.in_series") ? HP_PACK_COUNTED
                                                            : HP_PACK_GUESSED;
}

const hp_scenario *hp_commission_scenario(const hp_scenario *scenario, const hp_bench_log *log)
{
    return scenario->base && hp_bench_log_is_learnt(log, scenario) ? scenario->base : scenario;
}

const hp_scenario *hp_compare_scenario(const hp_scenario *scenario, const hp_bench_log *then,
                                       const hp_bench_log *now)
{
    const hp_scenario *base = hp_commission_scenario(scenario, then);
    return base == scenario ? hp_commission_scenario(scenario, now) : base;
}

hp_commission_case *hp_commission_case_create(const hp_scenario *scenario, const hp_bench_log *log,
                                              hp_error *err)
{
    size_t count = (size_t)log->count;
    hp_commission_case *c = calloc(1, sizeof *c + count * sizeof c->entry[0]);
    if (!c) {
        hp_error_set(err, HP_FAIL_MEMORY, "no memory for the commissioning");
        return NULL;
    }
    c->scenario = scenario;
    c->log = log;
    const hp_fit_given fit = hp_scenario_fit_given(scenario);
    if (hp_fit_stated(&fit, &c->fit, err) != HP_OK) {
        free(c);
        return NULL;
    }
    scenario = hp_commission_scenario(scenario, log);
    c->plan = scenario->bench.plan;
    if (c->plan.throttle == 0.0)
        c->plan.throttle = scenario->drive.controller.throttle;
    for (size_t k = 0; k < count; k++)
        c->entry[k] = log->entry[k].entry;
    const hp_assess_case given = {.drive = &scenario->drive,
                                  .labels = &scenario->labels,
                                  .harness = &scenario->harness,
                                  .controls = &scenario->controls,
                                  .controls_stated = states_controls(scenario),
                                  .plan = &c->plan,
                                  .person = &scenario->bench.person,
                                  .prior = &scenario->bench.prior,
                                  .entry = c->entry,
                                  .entries = log->count,
                                  .pack = &scenario->vehicle.pack,
                                  .pack_known = pack_known(scenario),
                                  .fit = &c->fit,
                                  .inertia_stated =
                                      hp_scenario_states(scenario, "stand.wheel_inertia_kg_m2")};
    hp_plan_drive_by(&c->plan, hp_assess_assist(&given));
    hp_commission_make(&given, &c->list);
    return c;
}

void hp_commission_case_free(hp_commission_case *c)
{
    free(c);
}

const hp_commission *hp_commission_case_list(const hp_commission_case *c)
{
    return &c->list;
}

const hp_bench_entry *hp_commission_case_left_out(const hp_commission_case *c,
                                                  const hp_reading *step)
{
    bool left_out = hp_left_out_by(c->entry, c->log->count, step);
    for (int k = c->log->count - 1; left_out && k >= 0; k--) {
        if (hp_entry_leaves_out(&c->entry[k]) == step)
            return &c->log->entry[k];
    }
    return NULL;
}

const hp_scenario *hp_commission_case_scenario(const hp_commission_case *c)
{
    return c->scenario;
}

const hp_bench_log *hp_commission_case_log(const hp_commission_case *c)
{
    return c->log;
}
