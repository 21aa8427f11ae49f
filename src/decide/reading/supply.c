/*
 * Sensor supply: volts at the controller's sensor supply pins before the sensors are joined to
 * them. It tells nothing of the wirings, but what it may find would kill the sensors.
 */
#include "decide/advise/plan.h"
#include "decide/practise/hidden.h"
#include "decide/reading/reading_parts.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#include <math.h>

const hp_danger hp_danger_sensor_volts = {"sensor_supply_high", &hp_reading_supply};
const hp_danger hp_danger_sensor_supply = {"sensor_supply_low", &hp_reading_supply};

static const hp_field fields[] = {
    {.name = "supply_v",
     .type = HP_FIELD_NUMBER,
     .required = true,
     .figure = true,
     .limits = {.unit = "V", .low = -200, .high = 200},
     .offset = offsetof(hp_supply_reading, volts),
     .factor = 1,
     .argument = "VOLTS",
     .help = "Volts at the controller's Hall supply pins, Hall sensors not joined"},
    {.name = NULL},
};

static hp_result check(const void *values, hp_error *err)
{
    const hp_supply_reading *supply = values;
    return hp_check_range(err, "Hall supply in V", supply->volts, -200.0, 200.0);
}

static void typical(const hp_reading_case *c, void *values)
{
    hp_supply_reading *supply = values;
    /* 5 V and 12 V are usual. */
    supply->volts = fmin(fmax(5.0, c->plan->sensor_v_min), hp_plan_sensor_stop_v(c->plan));
}

static int dangers(const hp_reading_case *c, hp_entry *entry)
{
    entry[0] = entry[1] = hp_entry_make(&hp_reading_supply, 0);
    entry[0].supply.volts = fmax(c->table->nominal.supply.emf_v, 1.5 * c->plan->sensor_v_max);
    entry[1].supply.volts = 0.0;
    return c->plan->sensor_v_min > 0.0 ? 2 : 1;
}

const hp_danger *const hp_sensor_volts_dangers[] = {&hp_danger_sensor_volts,
                                                    &hp_danger_sensor_supply, NULL};

hp_tell hp_sensor_volts_danger(double volts, const hp_danger *danger, const hp_plan_params *plan)
{
    if (isnan(volts))
        return HP_TELL_UNSAID;
    /* Too much the wrong way round is too much, and the wrong way round, too. */
    bool found = danger == &hp_danger_sensor_volts ? fabs(volts) > hp_plan_sensor_stop_v(plan)
                                                   : volts < plan->sensor_v_min;
    return found ? HP_TELL_YES : HP_TELL_NO;
}

static hp_tell danger(const void *values, const hp_danger *danger, const hp_plan_params *plan,
                      const hp_person *person)
{
    (void)person;
    return hp_sensor_volts_danger(((const hp_supply_reading *)values)->volts, danger, plan);
}

static hp_result see(hp_seen *seen, void *values, hp_error *err)
{
    const double usual = 5.0; /* chosen: 5 V is commonest */
    const hp_plan_params *plan = &seen->machine->stated.plan;
    double volts = seen->fault == HP_PRACTICE_HALL_SUPPLY
                       ? seen->drive.supply.emf_v
                       : fmin(fmax(usual, plan->sensor_v_min), hp_plan_sensor_stop_v(plan) - 0.1);
    (void)err;
    ((hp_supply_reading *)values)->volts = hp_seen_metered(seen, volts, 0.003, 0.0, 0.01);
    return HP_OK;
}

const hp_reading hp_reading_supply = {
    .name = "sensor_supply",
    .title = "Hall supply",
    .size = sizeof(hp_supply_reading),
    .fields = fields,
    .check = check,
    .minutes = 1.0, /* chosen: two points */
    .first = true,
    .of_controller = HP_CONTROLLER_OWNS,
    .rank = 7,
    .typical = typical,
    .dangers = dangers,
    .speaks_of = hp_sensor_volts_dangers,
    .danger = danger,
    .guards = HP_POWER_HALL,
    .see = see,
};
