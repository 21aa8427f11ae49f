/* The bench: chances of troubles, the person, the plan. See scenario_settle.h. */
#include "hubphase/decide/assumptions.h"
#include "record/scenario/scenario_settle.h"

#include <math.h>

/* The slips of a person that go with bench.slip_percent. Left out: how loosely people use the word
 * "noisy", and entries that belong to another motor. */
static void scale_slips(hp_person *person, double factor)
{
    double *slip[] = {
        &person->wrong_direction, &person->rough_as_smooth, &person->smooth_as_rough,
        &person->missed_motion,   &person->shiver_as_still, &person->still_as_shiver,
        &person->miscounted,      &person->wrong_wiring,    &person->cut_out_missed,
        &person->code_misread,    &person->turned_back,     &person->code_skipped,
        &person->wrong_lead,      &person->pair_misread,    &person->row_misread,
        &person->value_misread,
    };
    for (size_t k = 0; k < sizeof slip / sizeof slip[0]; k++)
        *slip[k] = fmin(*slip[k] * factor, 0.5);
}

/* chosen: how often a controller of which six_step_60 is only guessed is one for a 60-degree hub.
 */
#define SET_AS_GUESSED 0.9

static void settle_prior(hp_reader *reader)
{
    hp_draft *draft = &reader->draft;
    draft->prior.has_clutch = draft->drive.stand.clutch;
    if (!draft->prior.has_clutch && hp_reader_lacks(reader, HP_KEY_BENCH_CLUTCH))
        reader->reading[HP_KEY_BENCH_CLUTCH].idle = true;
    int table = hp_table_index(&draft->drive.controller.table);
    bool made_for_60 = hp_table_inverts(table) >= 0;
    /* Whoever writes that the sensors stand at 60 degrees has a reason to think so. */
    if (hp_reader_lacks(reader, HP_KEY_BENCH_60) && hp_reader_has(reader, HP_KEY_SPACING) &&
        draft->spacing == 1)
        hp_reader_derive(reader, HP_KEY_BENCH_60, 90.0, "chosen: sensors.spacing_deg says 60");
    else if (hp_reader_lacks(reader, HP_KEY_BENCH_60) && hp_reader_lacks(reader, HP_KEY_SPACING) &&
             made_for_60)
        hp_reader_derive(reader, HP_KEY_BENCH_60, 90.0,
                         "chosen: controller.table is one for 60 degrees, and a set comes as one");
    /* A controller from elsewhere marks its leads as it likes. */
    if (draft->table_known && hp_reader_lacks(reader, HP_KEY_BENCH_TABLE_WRONG) &&
        hp_reader_lacks(reader, HP_KEY_TABLE))
        hp_reader_derive(reader, HP_KEY_BENCH_TABLE_WRONG, 15.0,
                         "chosen: nothing says which table the controller has");
    if (!draft->table_known && hp_reader_lacks(reader, HP_KEY_BENCH_TABLE_WRONG))
        reader->reading[HP_KEY_BENCH_TABLE_WRONG].idle = true;
    draft->prior.table_stated = 1.0 - draft->table_wrong;
    draft->prior.table = draft->table_known ? table : -1;
    /* A table that is only a guess still says for which sensors it is. */
    if (!draft->table_known || hp_reader_lacks(reader, HP_KEY_TABLE))
        draft->prior.matched = made_for_60 ? SET_AS_GUESSED : HP_MATCHED_UNSTATED;
}

/* What is said of the controller is known; what is not keeps its chance. The averaged way is how it
 * is simulated, and says nothing of how it is built. */
static void settle_nuisance(hp_draft *draft)
{
    hp_nuisance_params *nuisance = &draft->prior.nuisance;
    if (draft->drive.controller.pwm != HP_PWM_AVERAGED)
        nuisance->one_sided = draft->drive.controller.pwm == HP_PWM_ONE_SIDED ? 1.0 : 0.0;
    if (draft->drive_kind < 2)
        nuisance->sine = draft->drive_kind == 1 ? 1.0 : 0.0;
}

/* The throttle's signal is known by two figures, or not at all. */
static void settle_throttle(hp_reader *reader)
{
    const hp_draft *draft = &reader->draft;
    hp_nuisance_params *nuisance = &reader->draft.prior.nuisance;
    double rest = draft->throttle_rest_v, full = draft->throttle_full_v;
    if (!hp_reader_sound(reader, HP_KEY_BENCH_THROTTLE_REST) ||
        !hp_reader_sound(reader, HP_KEY_BENCH_THROTTLE_FULL) || (rest == 0.0 && full == 0.0))
        return;
    if (rest == 0.0 || full == 0.0) {
        bool lacks_rest = rest == 0.0;
        hp_reader_problem(
            reader, lacks_rest ? HP_KEY_BENCH_THROTTLE_FULL : HP_KEY_BENCH_THROTTLE_REST,
            "%s is given without %s, must be both: one says nothing without the other",
            hp_key_of(lacks_rest ? HP_KEY_BENCH_THROTTLE_FULL : HP_KEY_BENCH_THROTTLE_REST)->path,
            hp_key_of(lacks_rest ? HP_KEY_BENCH_THROTTLE_REST : HP_KEY_BENCH_THROTTLE_FULL)->path);
    } else if (!(full > rest)) {
        hp_reader_problem(reader, HP_KEY_BENCH_THROTTLE_FULL,
                          "bench.throttle_full_v is %.6g, must be above bench.throttle_rest_v "
                          "(%.6g)",
                          full, rest);
    } else {
        nuisance->throttle_rest_v = rest;
        reader->draft.plan.rest_v = rest;
        nuisance->throttle_full_v = full;
    }
}

/* What the lowest speed step gives at full grip, as a throttle of the step that is chosen. */
static double lowest_step(const hp_draft *draft)
{
    double least = draft->speed_step_percent[0];
    for (int k = 1; k < draft->speed_steps; k++)
        least = fmin(least, draft->speed_step_percent[k]);
    return fmin(1.0, 0.01 * least / draft->drive.controller.speed_cap);
}

static void settle_plan(hp_reader *reader)
{
    hp_plan_params *plan = &reader->draft.plan;
    if (hp_reader_lacks(reader, HP_KEY_BENCH_THROTTLE) &&
        hp_reader_sound(reader, HP_KEY_THROTTLE) && reader->draft.drive.controller.throttle > 0.0)
        hp_reader_derive(reader, HP_KEY_BENCH_THROTTLE, hp_reader_number(reader, HP_KEY_THROTTLE),
                         "%s", hp_key_of(HP_KEY_BENCH_THROTTLE)->why);
    plan->cell = reader->draft.vehicle.pack.cell;
    plan->unfused = !reader->draft.vehicle.fuse.fitted;
    plan->regenerates =
        reader->draft.vehicle.ratings.regenerates && !reader->draft.drive.stand.clutch;
    if (reader->draft.speed_steps > 1)
        plan->lowest_step = lowest_step(&reader->draft);
    for (int k = 0; k < HP_SLOT_COUNT; k++) {
        const hp_reading *reading = hp_slot_reading((hp_reading_slot)k);
        if (!reader->draft.reads[k])
            plan->allowed &= ~hp_allow(reading);
        int index = hp_reading_index(reading);
        if (index >= 0)
            plan->costs.reading[index] = reader->draft.minutes[k];
    }
    if (hp_reader_sound(reader, HP_KEY_BENCH_SUPPLY_LEAST) &&
        hp_reader_sound(reader, HP_KEY_BENCH_SUPPLY_MOST) &&
        !(plan->sensor_v_min < plan->sensor_v_max))
        hp_reader_problem(
            reader,
            hp_reader_has(reader, HP_KEY_BENCH_SUPPLY_MOST) ? HP_KEY_BENCH_SUPPLY_MOST
                                                            : HP_KEY_BENCH_SUPPLY_LEAST,
            "bench.sensor_supply_most_v is %.6g, must be above bench.sensor_supply_least_v (%.6g)",
            plan->sensor_v_max, plan->sensor_v_min);
}

void hp_settle_bench(hp_reader *reader)
{
    settle_prior(reader);
    settle_nuisance(&reader->draft);
    settle_throttle(reader);
    settle_plan(reader);
    scale_slips(&reader->draft.person, reader->draft.slip / HP_BENCH_SLIP);
}
