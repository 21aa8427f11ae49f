/* Costs and limits of a plan, with their reasons: see decide/advise/plan.h. */
#include "decide/advise/plan.h"
#include "decide/reading/running.h"
#include "hubphase/decide/assumptions.h"

#include <assert.h>
#include <limits.h>
#include <stddef.h>

hp_costs hp_costs_default(void)
{
    hp_costs costs = {
        .trial = 6.0,         /* chosen: lift, connect, switch on from several places, switch off */
        .look = 2.0,          /* chosen: switch on once more */
        .phase_lead = 1.5,    /* chosen: a bolt or a bullet connector */
        .sensor_pin = 3.0,    /* chosen: a pin pushed out of a small plug with a pick */
        .learn = 2.0,         /* chosen: join a lead, wait, part it */
        .risk_rough = 4.0,    /* chosen: several times the battery current of a smooth run */
        .risk_stalled = 10.0, /* chosen: full phase current in a winding that does not turn */
        .bit = 5.0,           /* chosen: about one reading a bit */
    };
    for (int k = 0; k < HP_READINGS_MAX && hp_readings[k]; k++)
        costs.reading[k] = hp_readings[k]->minutes;
    return costs;
}

static_assert(HP_READINGS_MAX <= sizeof(unsigned) * CHAR_BIT, "a bit for each reading");

unsigned hp_allow(const hp_reading *reading)
{
    int index = hp_reading_index(reading); /* -1 of NULL, too */
    assert(index < HP_READINGS_MAX);
    return index < 0 ? 0u : 1u << index;
}

unsigned hp_allow_readings(void)
{
    unsigned all = 0;
    for (int k = 0; hp_readings[k]; k++)
        if (hp_reading_is_advised(hp_readings[k]))
            all |= hp_allow(hp_readings[k]);
    return all;
}

bool hp_plan_leave_out(hp_plan_params *params, const hp_reading *kind)
{
    if (kind->advised_as == HP_ADVICE_TRY)
        params->powered = false;
    else if (kind->advised_as == HP_ADVICE_LEARN)
        params->learns = false;
    else if (hp_allow(kind) & hp_allow_readings())
        params->allowed &= ~hp_allow(kind);
    else
        return false;
    return true;
}

bool hp_advice_can_be_left_out(const hp_advice *advice)
{
    hp_plan_params plan = hp_plan_params_default();
    const hp_reading *kind = hp_advice_entry(advice);
    bool goes_on = advice->kind == HP_ADVICE_READ || advice->kind == HP_ADVICE_TRY ||
                   advice->kind == HP_ADVICE_LOOK || advice->kind == HP_ADVICE_LEARN;
    return goes_on && kind && hp_left_out_number(kind) > 0 && hp_plan_leave_out(&plan, kind);
}

void hp_plan_heed(hp_plan_params *params, const hp_entry *entry, int count)
{
    for (int k = 0; hp_readings[k]; k++)
        if (hp_left_out_by(entry, count, hp_readings[k]))
            hp_plan_leave_out(params, hp_readings[k]);
}

hp_plan_params hp_plan_params_default(void)
{
    return (hp_plan_params){
        .costs = hp_costs_default(),
        .allowed = hp_allow_readings(),
        .ammeter = true,
        .tachometer = true,
        .first_power = HP_FIRST_POWER_ANY,
        .powered = true,
        .learns = false,
        .starts = 6,         /* chosen: a case dead from two angles in five passes one time in 20 */
        .throttle = 0.0,     /* the drive's */
        .assist = 0.0,       /* a throttle */
        .lowest_step = 0.0,  /* no speed switch */
        .sure = 0.9975,      /* chosen: one false end in four hundred; two looks that agree */
        .sure_broken = 0.95, /* chosen: a part is proved by a reading before it is replaced */
        .sensor_v_max = 24.0, /* Honeywell SS41 datasheet, 4.5 to 24 V (read) */
        .sensor_own_v = 0.0,  /* a battery of more volts */
        .sensor_v_min = 3.8,  /* Honeywell SS400 series datasheet, 3.8 to 30 V (read) */
        .trials_max = 8,      /* chosen: twice the worst of any sharp plan */
    };
}

double hp_plan_sensor_stop_v(const hp_plan_params *plan)
{
    return plan->sensor_own_v > 0.0 ? fmin(plan->sensor_own_v, plan->sensor_v_max)
                                    : plan->sensor_v_max;
}

static hp_result check_cost(const char *name, double value, hp_error *err)
{
    if (value > 0.0 && value <= 1e6)
        return HP_OK;
    return hp_error_set(err, HP_FAIL_INPUT, "cost.%s is %g min, must be above 0 and at most 1e6",
                        name, value);
}

static hp_result check_costs(const hp_costs *c, hp_error *err)
{
    const struct {
        const char *name;
        double value;
    } cost[] = {{"trial", c->trial},
                {"look", c->look},
                {"phase_lead", c->phase_lead},
                {"sensor_pin", c->sensor_pin},
                {"learn", c->learn},
                {"risk_rough", c->risk_rough},
                {"risk_stalled", c->risk_stalled},
                {"bit", c->bit}};
    hp_result result = HP_OK;
    for (size_t k = 0; result == HP_OK && k < sizeof cost / sizeof cost[0]; k++)
        result = check_cost(cost[k].name, cost[k].value, err);
    for (int k = 0; result == HP_OK && hp_readings[k]; k++)
        if (hp_reading_is_advised(hp_readings[k]))
            result = check_cost(hp_readings[k]->name, c->reading[k], err);
    return result;
}

hp_result hp_plan_params_check(const hp_plan_params *p, hp_error *err)
{
    hp_result result = check_costs(&p->costs, err);
    if (result != HP_OK)
        return result;
    if (p->starts < 1 || p->starts > 10)
        return hp_error_set(err, HP_FAIL_INPUT, "plan.starts is %d, must be 1 to 10", p->starts);
    if (!(p->throttle >= 0.0 && p->throttle <= 1.0))
        return hp_error_set(err, HP_FAIL_INPUT, "plan.throttle is %g, must be 0 to 1", p->throttle);
    if (!(p->assist >= 0.0 && p->assist <= 1.0))
        return hp_error_set(err, HP_FAIL_INPUT, "plan.assist is %g, must be 0 to 1", p->assist);
    if (!(p->lowest_step >= 0.0 && p->lowest_step <= 1.0))
        return hp_error_set(err, HP_FAIL_INPUT, "plan.lowest_step is %g, must be 0 to 1",
                            p->lowest_step);
    if (!(p->sure >= 0.5 && p->sure < 1.0))
        return hp_error_set(err, HP_FAIL_INPUT, "plan.sure is %g, must be at least 0.5 and below 1",
                            p->sure);
    if (!(p->sure_broken >= 0.5 && p->sure_broken < 1.0))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "plan.sure_broken is %g, must be at least 0.5 and below 1",
                            p->sure_broken);
    if (p->trials_max < 1 || p->trials_max > 1000)
        return hp_error_set(err, HP_FAIL_INPUT, "plan.trials_max is %d, must be 1 to 1000",
                            p->trials_max);
    return HP_OK;
}
