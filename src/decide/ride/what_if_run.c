/*
 * What can be wrong with the controls, simulated: see hubphase/decide/what_if.h.
 *
 * A case asks what comes of one action. That can be seen only where nothing else decides it: a
 * drive that the brake input holds off is off with the key on and off, with the throttle whole and
 * broken. So the reason just before, and the reason that keeps it off all through, must be those of
 * the case; any other belongs to the part that holds the drive off. The same course is then run
 * with that part put right.
 */
#include "decide/ride/what_if_case.h"

#include <assert.h>
#include <math.h>
#include <string.h>

const char *hp_hold_name(hp_hold hold)
{
    static const char *const name[HP_HOLD_COUNT] = {
        "nothing", "brake", "throttle fault", "throttle open", "throttle rest", "pedals", "motor"};
    return (int)hold >= 0 && hold < HP_HOLD_COUNT ? name[hold] : "unknown";
}

/* ---- what holds the drive off ---------------------------------------------------------------- */

/* Of one that drives: nothing. */
static hp_hold part_of(hp_control_reason reason)
{
    static const hp_hold part[HP_CONTROL_REASON_COUNT] = {
        [HP_CONTROL_BRAKE] = HP_HOLD_BRAKE,        [HP_CONTROL_FAULT] = HP_HOLD_THROTTLE_FAULT,
        [HP_CONTROL_OPEN] = HP_HOLD_THROTTLE_OPEN, [HP_CONTROL_REST] = HP_HOLD_THROTTLE_REST,
        [HP_CONTROL_PEDALS] = HP_HOLD_PEDALS,
    };
    return part[reason];
}

static bool holds(unsigned set, hp_control_reason reason)
{
    return set & 1u << reason;
}

/* The action before which nothing is amiss yet. */
static int premise_of(const hp_what_if_case *row, const hp_what_if_plan *plan)
{
    return plan->focus - (row->off != HP_CONTROL_LEAD_COUNT);
}

/* Where pedalling asks for the power, nothing asked for is what a sensor is like that sees none. */
static hp_control_reason said(const hp_what_if_case *row, const hp_what_if_plan *plan,
                              hp_control_reason reason)
{
    const hp_controls_params *c = &plan->controls;
    bool asks = !c->throttle.fitted || (row->by_pedals && c->pedal.mode == HP_PEDAL_DRIVES);
    return asks && reason == HP_CONTROL_REST ? HP_CONTROL_PEDALS : reason;
}

/* The reasons before the first thing amiss, and at the end. */
static void find_reasons(const hp_what_if_case *row, const hp_what_if_plan *plan,
                         hp_control_reason *before, hp_control_reason *after)
{
    hp_control_demand demand[HP_DEMANDS_MAX];
    int count = hp_course_demands(&plan->course, &plan->controls, demand), first = 0;
    while (demand[first].action < premise_of(row, plan))
        first++;
    while (count > first + 1 && demand[count - 1].time >= plan->seconds)
        count--;
    *before = said(row, plan, demand[first - 1].reason);
    *after = said(row, plan, demand[count - 1].reason);
}

/* Whether a sensor on the other side of its ring would be seen. */
static bool other_side_drives(const hp_what_if_case *row, const hp_what_if_plan *plan)
{
    hp_what_if_plan other = *plan;
    hp_control_reason before, after;
    other.controls.pedal.high_share = 1.0 - plan->controls.pedal.high_share;
    find_reasons(row, &other, &before, &after);
    return after == HP_CONTROL_DRIVES;
}

static hp_hold held_by_controls(const hp_what_if_case *row, const hp_what_if_plan *plan)
{
    hp_control_reason before, after;
    find_reasons(row, plan, &before, &after);
    if (before == HP_CONTROL_DRIVES || !holds(row->before, before))
        return part_of(before);
    if (!holds(row->after, after))
        return part_of(after);
    /* A sensor that is seen on neither side says nothing of the side. */
    return after == HP_CONTROL_PEDALS && !other_side_drives(row, plan) ? HP_HOLD_PEDALS
                                                                       : HP_HOLD_NOTHING;
}

static bool off_before(const hp_moment *m)
{
    return m->outcome == HP_OUTCOME_STAYS_OFF || m->outcome == HP_OUTCOME_STARTS;
}

/* chosen: what is asked to drive and turns more slowly than this share of its loss-free speed
 * stands, shivers or has only begun to. A rough wiring is above half of it. */
#define TURNS_SHARE 0.2

static bool stood(const hp_course_run *run, const hp_moment *m)
{
    return m->reason_before == HP_CONTROL_DRIVES &&
           fabs(m->wheel_before) < TURNS_SHARE * m->duty_before * run->full_rad_s;
}

/* It was asked to drive, and there was no current, or the wheel did not run for all of it. */
static bool motor_holds(const hp_what_if_case *row, const hp_what_if_plan *plan,
                        const hp_course_run *run)
{
    const hp_moment *premise = &run->moment[premise_of(row, plan)], *m = &run->moment[plan->focus];
    return stood(run, premise) ||
           (premise->reason_before == HP_CONTROL_DRIVES && off_before(premise)) ||
           (m->reason == HP_CONTROL_DRIVES && m->outcome == HP_OUTCOME_STAYS_OFF);
}

/* ---- put right ------------------------------------------------------------------------------- */

/* The controller stays as it is, so that it answers a lost lead as it would; the grip becomes one
 * that asks for nothing, half and all where it is let go, half open and open. */
static void put_grip_right(hp_throttle_params *t)
{
    t->rest_v = t->starts_v;
    t->full_v = t->saturates_v;
}

/* A sensor on the side that the controller looks for, with pulses enough for it at one turn a
 * second. */
static void put_pedals_right(hp_pedal_params *p)
{
    const hp_pedal_params usual = hp_controls_params_default().pedal;
    double more = fmax(p->high_share, 1.0 - p->high_share);
    if (more == 0.5)
        more = usual.high_share;
    p->high_share = p->forward == HP_PEDAL_MOSTLY_HIGH ? more : 1.0 - more;
    if (p->pulses_per_turn < p->start_pulses)
        p->pulses_per_turn = p->start_pulses;
    if (p->pulses_per_turn * p->off_s < 2.0)
        p->pulses_per_turn = (int)fmin(ceil(2.0 / p->off_s), 100.0);
    if (p->assist == 0.0)
        p->assist = usual.assist;
}

static void put_right(hp_hold hold, hp_controls_params *c)
{
    switch (hold) {
    case HP_HOLD_BRAKE:
        c->brake.fitted = c->brake.expects;
        c->brake.joins = c->brake.expects_at;
        break;
    case HP_HOLD_THROTTLE_FAULT:
    case HP_HOLD_THROTTLE_OPEN:
    case HP_HOLD_THROTTLE_REST: put_grip_right(&c->throttle); break;
    case HP_HOLD_PEDALS: put_pedals_right(&c->pedal); break;
    case HP_HOLD_NOTHING:
    case HP_HOLD_MOTOR:
    case HP_HOLD_COUNT: break;
    }
}

/* One part after the other; false: something holds it off all the same. */
static bool put_all_right(hp_what_if what, const hp_controls_params *stated, hp_what_if_plan *plan,
                          unsigned *set)
{
    const hp_what_if_case *row = hp_what_if_case_of(what);
    hp_controls_params controls = *stated;
    hp_hold hold = held_by_controls(row, plan);
    for (*set = 0; hold != HP_HOLD_NOTHING; hold = held_by_controls(row, plan)) {
        if (*set & 1u << hold)
            return false;
        *set |= 1u << hold;
        put_right(hold, &controls);
        *plan = hp_what_if_plan_make(what, &controls);
    }
    return true;
}

/* ---- findings -------------------------------------------------------------------------------- */

hp_finding hp_what_if_finding(const hp_what_if_result *result)
{
    const hp_what_if_case *row = hp_what_if_case_of(result->what);
    unsigned outcome = 1u << result->moment.outcome;
    return result->hold != HP_HOLD_NOTHING                      ? HP_FINDING_UNTESTED
           : row->good & outcome                                ? HP_FINDING_GOOD
           : row->look & outcome                                ? HP_FINDING_LOOK
           : result->lacks                                      ? HP_FINDING_LOOK
           : row->suppose && !hp_what_if_drives_already(result) ? HP_FINDING_LOOK
                                                                : HP_FINDING_STOP;
}

hp_what_if_result hp_what_if_once_right(const hp_what_if_result *result)
{
    assert(result->put_right);
    return (hp_what_if_result){
        .what = result->what, .moment = result->right, .lacks = result->lacks};
}

bool hp_what_if_drives_already(const hp_what_if_result *result)
{
    unsigned off = hp_what_if_case_of(result->what)->before;
    return off && !holds(off, HP_CONTROL_DRIVES) && !off_before(&result->moment);
}

/* ---- runs ------------------------------------------------------------------------------------ */

/* The run with all put right takes the place of the one as stated where it shows what is asked. */
static hp_result run_once_right(const hp_drive *drive, const hp_wiring *wiring,
                                const hp_controls_params *controls, hp_what_if_plan plan,
                                hp_what_if_result *result, hp_course_run *shown, hp_error *err)
{
    hp_course_run run;
    unsigned set;
    if (!put_all_right(result->what, controls, &plan, &set) || !set)
        return HP_OK;
    hp_result done =
        hp_course_run_make(drive, wiring, &plan.controls, &plan.course, plan.seconds, &run, err);
    if (done != HP_OK)
        return done;
    if (!motor_holds(hp_what_if_case_of(result->what), &plan, &run)) {
        result->put_right = set;
        result->right = run.moment[plan.focus];
        hp_course_run stated = *shown;
        *shown = run;
        run = stated;
    }
    hp_course_run_free(&run);
    return HP_OK;
}

hp_result hp_what_if_run(const hp_drive *drive, const hp_wiring *wiring,
                         const hp_controls_params *controls, hp_what_if what,
                         hp_what_if_result *result, hp_course_run *run, hp_error *err)
{
    const hp_what_if_case *row = hp_what_if_case_of(what);
    hp_what_if_plan plan = hp_what_if_plan_make(what, controls);
    hp_course_run own, *kept = run ? run : &own;
    hp_result done =
        hp_course_run_make(drive, wiring, &plan.controls, &plan.course, plan.seconds, kept, err);
    if (done != HP_OK)
        return hp_error_context(err, done, "%s", hp_what_if_name(what));
    *result = (hp_what_if_result){.what = what,
                                  .moment = kept->moment[plan.focus],
                                  .hold = held_by_controls(row, &plan),
                                  .lacks = row->lacks && row->lacks(controls)};
    if (result->hold == HP_HOLD_NOTHING && motor_holds(row, &plan, kept))
        result->hold = HP_HOLD_MOTOR;
    else if (result->hold != HP_HOLD_NOTHING)
        done = run_once_right(drive, wiring, controls, plan, result, kept, err);
    if (!run || done != HP_OK)
        hp_course_run_free(kept);
    return done == HP_OK ? HP_OK : hp_error_context(err, done, "%s", hp_what_if_name(what));
}

hp_result hp_what_if_run_all(const hp_drive *drive, const hp_wiring *wiring,
                             const hp_controls_params *controls,
                             hp_what_if_result result[HP_WHAT_IF_COUNT], int *count, hp_error *err)
{
    *count = 0;
    for (hp_what_if what = 0; what < HP_WHAT_IF_COUNT; what++) {
        if (!hp_what_if_applies(what, controls))
            continue;
        hp_result done = hp_what_if_run(drive, wiring, controls, what, &result[*count], NULL, err);
        if (done != HP_OK)
            return done;
        (*count)++;
    }
    return HP_OK;
}
