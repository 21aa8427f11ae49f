/* The controls round the controller: see the header. */
#include "hubphase/model/ride_controls.h"

#include <math.h>
#include <stddef.h>

/* ---- parameters ------------------------------------------------------------------------------ */

hp_controls_params hp_controls_params_default(void)
{
    hp_controls_params controls = {
        .key = true, /* common practice */
        .throttle =
            {
                .fitted = true,  /* common practice */
                .supply_v = 5.0, /* common practice: a Hall grip on 5 V ... */
                .rest_v = 0.8,   /* ... gives 0.8 to 4.2 V */
                .full_v = 4.2,
                .starts_v = 1.0,    /* chosen: a dead band as wide as grips differ */
                .saturates_v = 4.0, /* chosen: the same above */
                .fault_low_v = 0.0, /* chosen: no label says whether it looks: the worse is taken */
                .fault_high_v = 0.0,  /* chosen: likewise */
                .refuses_open = true, /* common practice */
                .stops_lost = false,  /* nobody has tried: the volts decide */
            },
        .brake =
            {
                .fitted = HP_SWITCH_NORMALLY_OPEN, /* common practice: two leads, closed to ... */
                .joins = HP_LEVEL_GROUND,          /* ... ground by the lever */
                .expects = HP_SWITCH_NORMALLY_OPEN,
                .expects_at = HP_LEVEL_GROUND,
                .delay_s = 0.01, /* chosen: a contact that bounces is waited for */
            },
        .pedal =
            {
                .mode = HP_PEDAL_NONE, /* chosen: the throttle alone */
                .pulses_per_turn = 12, /* common practice: a ring of twelve magnets */
                .high_share = 0.6,     /* chosen: sensors that tell the sense are not even */
                .forward = HP_PEDAL_MOSTLY_HIGH, /* chosen: the sensor that fits it */
                .assist = 0.6,                   /* chosen: more than half */
                .start_pulses = 3,               /* chosen: a quarter of a turn */
                .off_s = 0.5,                    /* chosen: slow pedalling still counts */
            },
        .speed = {.cap = {1.0}, .steps = 1, .chosen = 1, .lost = 1}, /* chosen: no switch */
    };
    /* Common practice: a resistor to ground, so that a lead cut off asks for nothing. */
    hp_throttle_lose_leads(&controls.throttle, HP_INPUT_PULL_DOWN);
    return controls;
}

void hp_throttle_lose_leads(hp_throttle_params *t, hp_input_pull pull)
{
    t->lost_signal_v = pull == HP_INPUT_PULL_UP ? t->supply_v : 0.0;
    t->lost_supply_v = t->lost_signal_v;
    t->lost_ground_v = t->supply_v;
}

static hp_result refuse(hp_error *err, const char *field, double value, const char *expected)
{
    return hp_error_set(err, HP_FAIL_INPUT, "controls.%s is %g, must be %s", field, value,
                        expected);
}

static hp_result check_throttle(const hp_throttle_params *t, hp_error *err)
{
    if (!(t->supply_v > 0.0 && t->supply_v <= 60.0))
        return refuse(err, "throttle.supply_v", t->supply_v, "above 0 and at most 60");
    const struct {
        const char *field;
        double volts;
    } level[] = {
        {"throttle.rest_v", t->rest_v},
        {"throttle.full_v", t->full_v},
        {"throttle.starts_v", t->starts_v},
        {"throttle.saturates_v", t->saturates_v},
        {"throttle.fault_low_v", t->fault_low_v},
        {"throttle.fault_high_v", t->fault_high_v},
        {"throttle.lost_supply_v", t->lost_supply_v},
        {"throttle.lost_ground_v", t->lost_ground_v},
        {"throttle.lost_signal_v", t->lost_signal_v},
    };
    for (size_t k = 0; k < sizeof level / sizeof level[0]; k++)
        if (!(level[k].volts >= 0.0 && level[k].volts <= t->supply_v))
            return refuse(err, level[k].field, level[k].volts, "0 to the grip's supply");
    if (!(t->full_v > t->rest_v))
        return refuse(err, "throttle.full_v", t->full_v, "above the volts at rest");
    if (!(t->saturates_v > t->starts_v))
        return refuse(err, "throttle.saturates_v", t->saturates_v,
                      "above the volts at which it starts");
    if (t->fault_low_v > 0.0 && !(t->fault_low_v < t->starts_v))
        return refuse(err, "throttle.fault_low_v", t->fault_low_v,
                      "below the volts at which it starts");
    if (t->fault_high_v > 0.0 && !(t->fault_high_v >= t->saturates_v))
        return refuse(err, "throttle.fault_high_v", t->fault_high_v,
                      "at least the volts at which it asks for all");
    return HP_OK;
}

static hp_result check_brake(const hp_brake_params *b, hp_error *err)
{
    if ((int)b->fitted < 0 || b->fitted >= HP_SWITCH_COUNT)
        return refuse(err, "brake.fitted", b->fitted, "a known sort of switch");
    if (b->expects != HP_SWITCH_NORMALLY_OPEN && b->expects != HP_SWITCH_NORMALLY_CLOSED)
        return refuse(err, "brake.expects", b->expects, "normally open or normally closed");
    if ((int)b->joins < 0 || b->joins >= HP_LEVEL_COUNT)
        return refuse(err, "brake.joins", b->joins, "ground or volts");
    if ((int)b->expects_at < 0 || b->expects_at >= HP_LEVEL_COUNT)
        return refuse(err, "brake.expects_at", b->expects_at, "ground or volts");
    if (!(b->delay_s >= 0.0 && b->delay_s <= 1.0))
        return refuse(err, "brake.delay_s", b->delay_s, "0 to 1");
    return HP_OK;
}

static hp_result check_pedal(const hp_pedal_params *p, hp_error *err)
{
    if ((int)p->mode < 0 || p->mode >= HP_PEDAL_MODE_COUNT)
        return refuse(err, "pedal.mode", p->mode, "a known one");
    if ((int)p->forward < 0 || p->forward >= HP_PEDAL_SENSE_COUNT)
        return refuse(err, "pedal.forward", p->forward, "a known sense");
    if (p->pulses_per_turn < 1 || p->pulses_per_turn > 100)
        return refuse(err, "pedal.pulses_per_turn", p->pulses_per_turn, "1 to 100");
    if (!(p->high_share > 0.0 && p->high_share < 1.0))
        return refuse(err, "pedal.high_share", p->high_share, "above 0 and below 1");
    if (!(p->assist >= 0.0 && p->assist <= 1.0))
        return refuse(err, "pedal.assist", p->assist, "0 to 1");
    if (p->start_pulses < 1 || p->start_pulses > 100)
        return refuse(err, "pedal.start_pulses", p->start_pulses, "1 to 100");
    if (!(p->off_s > 0.0 && p->off_s <= 10.0))
        return refuse(err, "pedal.off_s", p->off_s, "above 0 and at most 10");
    return HP_OK;
}

static hp_result check_speed(const hp_speed_params *s, hp_error *err)
{
    if (s->steps < 1 || s->steps > HP_SPEED_STEPS_MAX)
        return refuse(err, "speed.steps", s->steps, "1 to 8");
    for (int k = 0; k < s->steps; k++)
        if (!(s->cap[k] > 0.0 && s->cap[k] <= 1.0))
            return refuse(err, "speed.cap", s->cap[k], "above 0 and at most 1");
    if (s->chosen < 1 || s->chosen > s->steps)
        return refuse(err, "speed.chosen", s->chosen, "one of the positions");
    if (s->lost < 1 || s->lost > s->steps)
        return refuse(err, "speed.lost", s->lost, "one of the positions");
    return HP_OK;
}

hp_result hp_controls_params_check(const hp_controls_params *controls, hp_error *err)
{
    hp_result result = check_throttle(&controls->throttle, err);
    if (result == HP_OK)
        result = check_brake(&controls->brake, err);
    if (result == HP_OK)
        result = check_pedal(&controls->pedal, err);
    if (result == HP_OK)
        result = check_speed(&controls->speed, err);
    if (result == HP_OK && !controls->throttle.fitted && controls->pedal.mode != HP_PEDAL_DRIVES)
        result = refuse(err, "throttle.fitted", 0.0, "1 where pedalling does not drive");
    return result;
}

/* ---- names ----------------------------------------------------------------------------------- */

const char *hp_control_lead_name(hp_control_lead lead)
{
    static const char *const name[HP_CONTROL_LEAD_COUNT] = {
        "throttle_supply", "throttle_ground", "throttle_signal", "brake", "pedal", "speed"};
    return (int)lead >= 0 && lead < HP_CONTROL_LEAD_COUNT ? name[lead] : "unknown";
}

const char *hp_control_reason_name(hp_control_reason reason)
{
    static const char *const name[HP_CONTROL_REASON_COUNT] = {
        "drives", "key", "brake", "fault", "open grip", "pedals", "rest"};
    return (int)reason >= 0 && reason < HP_CONTROL_REASON_COUNT ? name[reason] : "unknown";
}

/* ---- state ----------------------------------------------------------------------------------- */

double hp_throttle_volts(const hp_throttle_params *t, const hp_controls_state *state)
{
    if (state->off[HP_CONTROL_LEAD_THROTTLE_SIGNAL])
        return t->lost_signal_v;
    if (state->off[HP_CONTROL_LEAD_THROTTLE_SUPPLY])
        return t->lost_supply_v;
    if (state->off[HP_CONTROL_LEAD_THROTTLE_GROUND])
        return t->lost_ground_v;
    return t->rest_v + state->grip * (t->full_v - t->rest_v);
}

double hp_throttle_asked(const hp_throttle_params *t, double volts, bool *fault)
{
    bool broken = (t->fault_low_v > 0.0 && volts < t->fault_low_v) ||
                  (t->fault_high_v > 0.0 && volts > t->fault_high_v);
    if (fault)
        *fault = broken;
    if (broken)
        return 0.0;
    return fmin(fmax((volts - t->starts_v) / (t->saturates_v - t->starts_v), 0.0), 1.0);
}

bool hp_brake_says_pulled(const hp_brake_params *b, const hp_controls_state *state)
{
    bool closed = b->fitted == HP_SWITCH_NORMALLY_OPEN     ? state->lever
                  : b->fitted == HP_SWITCH_NORMALLY_CLOSED ? !state->lever
                                                           : false;
    bool joined = closed && !state->off[HP_CONTROL_LEAD_BRAKE];
    /* Joined to the level that the input is pulled to anyway, a switch changes nothing. */
    bool taken_closed = joined && b->joins == b->expects_at;
    return b->expects == HP_SWITCH_NORMALLY_OPEN ? taken_closed : !taken_closed;
}

bool hp_pedal_says_forward(const hp_pedal_params *p, const hp_controls_state *state)
{
    if (p->mode == HP_PEDAL_NONE || state->off[HP_CONTROL_LEAD_PEDAL] ||
        state->crank_turns_s == 0.0)
        return false;
    double high = state->crank_turns_s > 0.0 ? p->high_share : 1.0 - p->high_share;
    switch (p->forward) {
    case HP_PEDAL_MOSTLY_HIGH: return high > 0.5;
    case HP_PEDAL_MOSTLY_LOW: return high < 0.5;
    default: return true;
    }
}

hp_controls_state hp_controls_state_rest(const hp_controls_params *controls)
{
    hp_controls_state state = {.key = true, .speed_step = controls->speed.chosen};
    state.cut_seen = hp_brake_says_pulled(&controls->brake, &state);
    hp_controls_remember(controls, &state);
    return state;
}

/* What the throttle asks for; *fault: the controller takes it for broken. */
static double throttle_asks(const hp_throttle_params *t, const hp_controls_state *state,
                            bool *fault)
{
    *fault = t->fitted && t->stops_lost &&
             (state->off[HP_CONTROL_LEAD_THROTTLE_SUPPLY] ||
              state->off[HP_CONTROL_LEAD_THROTTLE_GROUND] ||
              state->off[HP_CONTROL_LEAD_THROTTLE_SIGNAL]);
    return t->fitted && !*fault ? hp_throttle_asked(t, hp_throttle_volts(t, state), fault) : 0.0;
}

void hp_controls_remember(const hp_controls_params *controls, hp_controls_state *state)
{
    bool fault;
    double asked = throttle_asks(&controls->throttle, state, &fault);
    if (!controls->throttle.refuses_open)
        state->ready = true;
    else if (!state->key || fault)
        state->ready = false;
    else
        state->ready = state->ready || asked == 0.0;
}

static hp_control_demand off(hp_control_reason reason)
{
    return (hp_control_demand){.reason = reason, .action = -1};
}

hp_control_demand hp_controls_demand(const hp_controls_params *controls,
                                     const hp_controls_state *state)
{
    const hp_pedal_params *pedal = &controls->pedal;
    const hp_speed_params *speed = &controls->speed;
    bool fault;
    double asked = throttle_asks(&controls->throttle, state, &fault);
    if (!state->key)
        return off(HP_CONTROL_KEY);
    if (state->cut_seen)
        return off(HP_CONTROL_BRAKE);
    if (fault)
        return off(HP_CONTROL_FAULT);
    if (asked > 0.0 && !state->ready)
        return off(HP_CONTROL_OPEN);
    if (pedal->mode == HP_PEDAL_GATES && asked > 0.0 && !state->pedalled)
        return off(HP_CONTROL_PEDALS);
    if (pedal->mode == HP_PEDAL_DRIVES && state->pedalled)
        asked = fmax(asked, pedal->assist);
    if (!(asked > 0.0))
        return off(HP_CONTROL_REST);
    int step = state->off[HP_CONTROL_LEAD_SPEED] ? speed->lost : state->speed_step;
    return (hp_control_demand){.throttle = asked,
                               .duty = asked * speed->cap[step - 1],
                               .reason = HP_CONTROL_DRIVES,
                               .action = -1};
}

double hp_controls_step_speed(const hp_controls_params *controls, const hp_drive *drive, int step)
{
    hp_drive full = *drive;
    full.controller.throttle = 1.0;
    full.controller.speed_cap = controls->speed.cap[step - 1];
    return hp_drive_ideal_speed(&full) / drive->stand.gear_ratio;
}
