/* The controls: levels in proportion, lost leads, the speed switch. See scenario_settle.h. */
#include "record/scenario/scenario_settle.h"

#include <math.h>

/* ---- throttle -------------------------------------------------------------------------------- */

/* Levels at the throttle's input, and the field of each. */
typedef struct level {
    hp_key_id key;
    double *volts;
} level;

/* A grip on another supply than the default's has its levels in the same proportion; one whose
 * volts the bench was told has those. */
static void settle_grip(hp_reader *reader, const level *levels, int count)
{
    const hp_controls_params usual = hp_controls_params_default();
    hp_throttle_params *t = &reader->draft.controls.throttle;
    double ratio = t->supply_v / usual.throttle.supply_v;
    const double bench[] = {reader->draft.throttle_rest_v, reader->draft.throttle_full_v};
    static const hp_key_id told[] = {HP_KEY_BENCH_THROTTLE_REST, HP_KEY_BENCH_THROTTLE_FULL};
    for (int k = 0; k < count; k++) {
        if (!hp_reader_lacks(reader, levels[k].key))
            continue;
        if (k < 2 && bench[k] > 0.0 && hp_reader_has(reader, told[k]))
            hp_reader_derive(reader, levels[k].key, bench[k], "%s", hp_key_of(told[k])->path);
        else if (ratio != 1.0)
            hp_reader_derive(reader, levels[k].key, *levels[k].volts * ratio,
                             "of the supply as in the default");
    }
}

static void settle_lost_leads(hp_reader *reader)
{
    hp_throttle_params *t = &reader->draft.controls.throttle, by_theory = *t;
    hp_throttle_lose_leads(&by_theory, (hp_input_pull)reader->draft.throttle_pull);
    const struct {
        hp_key_id key;
        double volts;
        const char *why;
    } row[] = {
        {HP_KEY_LOST_SUPPLY, by_theory.lost_supply_v,
         "nothing drives it: it goes where it is pulled"},
        {HP_KEY_LOST_GROUND, by_theory.lost_ground_v, "the grip lets its supply through"},
        {HP_KEY_LOST_SIGNAL, by_theory.lost_signal_v, "it goes where it is pulled"},
    };
    for (int k = 0; k < 3; k++)
        if (hp_reader_lacks(reader, row[k].key))
            hp_reader_derive(reader, row[k].key, row[k].volts, "%s", row[k].why);
}

/* One level above another; both must be there to be held against each other. */
static void check_above(hp_reader *reader, hp_key_id high, hp_key_id low, bool even)
{
    double a = hp_reader_number(reader, high), b = hp_reader_number(reader, low);
    if (!hp_reader_sound(reader, high) || !hp_reader_sound(reader, low) || a > b ||
        (even && a == b))
        return;
    hp_key_id blamed = hp_reader_has(reader, high) || !hp_reader_has(reader, low) ? high : low;
    const char *relation = blamed == high ? even ? "at least" : "above"
                           : even         ? "at most"
                                          : "below";
    hp_key_id other = blamed == high ? low : high;
    hp_reader_problem(reader, blamed, "%s is %.6g, must be %s %s (%.6g)", hp_key_of(blamed)->path,
                      blamed == high ? a : b, relation, hp_key_of(other)->path,
                      blamed == high ? b : a);
}

static void settle_throttle(hp_reader *reader)
{
    hp_throttle_params *t = &reader->draft.controls.throttle;
    const level levels[] = {
        {HP_KEY_GRIP_REST, &t->rest_v},
        {HP_KEY_GRIP_FULL, &t->full_v},
        {HP_KEY_THROTTLE_STARTS, &t->starts_v},
        {HP_KEY_THROTTLE_ALL, &t->saturates_v},
        {HP_KEY_LOST_SUPPLY, NULL},
        {HP_KEY_LOST_GROUND, NULL},
        {HP_KEY_LOST_SIGNAL, NULL},
        {HP_KEY_FAULT_LOW, NULL},
        {HP_KEY_FAULT_HIGH, NULL},
    };
    if (!hp_reader_sound(reader, HP_KEY_GRIP_SUPPLY))
        return;
    settle_grip(reader, levels, 4);
    settle_lost_leads(reader);
    /* What the bench was told of its rest comes first; what is only usual is nobody's word. */
    if (reader->draft.plan.rest_v == 0.0 && hp_reader_has(reader, HP_KEY_GRIP_REST))
        reader->draft.plan.rest_v = t->rest_v;
    for (size_t k = 0; k < sizeof levels / sizeof levels[0]; k++)
        check_above(reader, HP_KEY_GRIP_SUPPLY, levels[k].key, true);
    check_above(reader, HP_KEY_GRIP_FULL, HP_KEY_GRIP_REST, false);
    check_above(reader, HP_KEY_THROTTLE_ALL, HP_KEY_THROTTLE_STARTS, false);
    if (t->fault_low_v > 0.0)
        check_above(reader, HP_KEY_THROTTLE_STARTS, HP_KEY_FAULT_LOW, false);
    if (t->fault_high_v > 0.0)
        check_above(reader, HP_KEY_FAULT_HIGH, HP_KEY_THROTTLE_ALL, true);
}

/* ---- speed switch ---------------------------------------------------------------------------- */

static void settle_speed(hp_reader *reader)
{
    const hp_draft *draft = &reader->draft;
    hp_speed_params *speed = &reader->draft.controls.speed;
    bool listed = hp_reader_has(reader, HP_KEY_SPEED_STEPS);
    if (!hp_reader_sound(reader, HP_KEY_SPEED_STEPS) || !hp_reader_sound(reader, HP_KEY_SPEED_STEP))
        return;
    if (listed) {
        speed->steps = draft->speed_steps;
        speed->chosen = draft->speed_step;
        for (int k = 0; k < speed->steps; k++)
            speed->cap[k] = 0.01 * draft->speed_step_percent[k];
    }
    reader->reading[HP_KEY_LOST_STEP].idle = !listed;
    if (hp_reader_lacks(reader, HP_KEY_LOST_STEP))
        speed->lost = speed->steps;
    else if (hp_reader_sound(reader, HP_KEY_LOST_STEP) && speed->lost > speed->steps)
        hp_reader_problem(reader, HP_KEY_LOST_STEP,
                          "%s is %d, must be from 1 to %d, the entries of "
                          "controller.speed_steps_percent",
                          hp_key_of(HP_KEY_LOST_STEP)->path, speed->lost, speed->steps);
}

/* Keys that say nothing where nobody states them. */
static void settle_idle(hp_reader *reader, hp_key_id first, hp_key_id last)
{
    for (hp_key_id id = first; id <= last; id++)
        if (hp_reader_lacks(reader, id))
            reader->reading[id].idle = true;
}

/* What asks for power. */
static void settle_driven(hp_reader *reader)
{
    const hp_controls_params *c = &reader->draft.controls;
    if (c->pedal.mode == HP_PEDAL_NONE)
        settle_idle(reader, HP_KEY_PEDAL_MODE + 1, HP_KEY_PEDAL_OFF);
    if (c->throttle.fitted)
        return;
    settle_idle(reader, HP_KEY_GRIP_SUPPLY, HP_KEY_STOPS_LOST);
    if (c->pedal.mode != HP_PEDAL_DRIVES && hp_reader_sound(reader, HP_KEY_GRIP_FITTED) &&
        hp_reader_sound(reader, HP_KEY_PEDAL_MODE))
        hp_reader_problem(reader, HP_KEY_GRIP_FITTED,
                          "%s is no, must be yes where %s is not drives: nothing else asks for "
                          "power",
                          hp_key_of(HP_KEY_GRIP_FITTED)->path, hp_key_of(HP_KEY_PEDAL_MODE)->path);
}

void hp_settle_controls(hp_reader *reader)
{
    settle_throttle(reader);
    settle_speed(reader);
    settle_driven(reader);
}
