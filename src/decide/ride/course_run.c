/* One course, simulated: see hubphase/decide/what_if.h. */
#include "hubphase/decide/what_if.h"

#include <math.h>
#include <string.h>

/* Faster or slower by this share is told: chosen, more than speed readings scatter by. */
#define OTHER_SPEED 0.1

const char *hp_outcome_name(hp_outcome outcome)
{
    static const char *const name[HP_OUTCOME_COUNT] = {"stays off", "starts", "stops",
                                                       "goes on",   "faster", "slower"};
    return (int)outcome >= 0 && outcome < HP_OUTCOME_COUNT ? name[outcome] : "unknown";
}

static hp_outcome outcome_of(bool before, bool after, double wheel_before, double wheel_after)
{
    if (!before || !after)
        return before ? HP_OUTCOME_STOPS : after ? HP_OUTCOME_STARTS : HP_OUTCOME_STAYS_OFF;
    double more = fabs(wheel_after) - fabs(wheel_before), least = OTHER_SPEED * fabs(wheel_before);
    return more > least    ? HP_OUTCOME_FASTER
           : more < -least ? HP_OUTCOME_SLOWER
                           : HP_OUTCOME_GOES_ON;
}

static bool carries(const hp_response *response)
{
    return response->no_current_s == (double)INFINITY;
}

/* The stretches from one action to the next: `first` is that of the action, `last` the one that
 * ends with the next. */
static hp_moment moment_of(const hp_course_run *run, int action, int first, int last)
{
    const hp_response *r = run->trace.response;
    hp_moment m = {.action = run->course.action[action],
                   .reason_before = run->demand[first - 1].reason,
                   .reason = run->demand[last].reason,
                   .duty_before = run->demand[first - 1].duty,
                   .duty_after = run->demand[last].duty,
                   .wheel_before = r[first].wheel_speed,
                   .wheel_after = r[last].end_wheel_speed,
                   .acts_s = INFINITY,
                   .no_torque_s = INFINITY,
                   .standstill_s = INFINITY};
    double from = m.action.time;
    m.outcome =
        outcome_of(carries(&r[first - 1]), carries(&r[last]), m.wheel_before, m.wheel_after);
    for (int k = first; k <= last; k++)
        if (run->demand[k].duty != run->demand[k - 1].duty)
            m.acts_s = run->demand[k].time - from;
    /* A stretch that ends without current: since when, perhaps since before its own beginning. */
    for (int k = last; k >= first && !carries(&r[k]); k--)
        m.no_torque_s = r[k].no_current_s - from;
    for (int k = last; k >= first && r[k].standstill_s < (double)INFINITY; k--)
        m.standstill_s = r[k].standstill_s - from;
    return m;
}

static void take_moments(hp_course_run *run)
{
    int count = (int)run->trace.response_count;
    for (int first = 1; first < count; first++) {
        int action = run->demand[first].action, last = first;
        bool own = run->moments <= action; /* the demand at the action's own time */
        while (last + 1 < count && run->demand[last + 1].action <= action)
            last++;
        if (own)
            run->moment[run->moments++] = moment_of(run, action, first, last);
    }
}

hp_result hp_course_run_make(const hp_drive *drive, const hp_wiring *wiring,
                             const hp_controls_params *controls, const hp_course *course,
                             double seconds, hp_course_run *run, hp_error *err)
{
    memset(run, 0, sizeof *run);
    run->course = *course;
    run->controls = *controls;
    run->seconds = seconds;
    hp_drive full = *drive;
    full.controller.throttle = full.controller.speed_cap = 1.0;
    run->full_rad_s = hp_drive_ideal_speed(&full) / full.stand.gear_ratio;
    run->demands = hp_course_demands(course, controls, run->demand);
    while (run->demands > 0 && run->demand[run->demands - 1].time >= seconds)
        run->demands--;
    hp_run_options options = hp_run_options_default();
    options.seconds = seconds;
    options.settle_s = 0.5 * seconds;
    options.start_angle = hp_rest_angle(0);
    options.demand = run->demand;
    options.demands = run->demands;
    run->trace = hp_trace_init(0.0, seconds, seconds / HP_COURSE_SAMPLES);
    hp_result result = hp_run_options_check(&options, err);
    hp_engine *engine = result == HP_OK ? hp_engine_create(err) : NULL;
    if (result == HP_OK && !engine)
        return HP_FAIL_MEMORY;
    if (result == HP_OK)
        result = hp_engine_run(engine, drive, wiring, &options, &run->trace, &run->figures, err);
    hp_engine_free(engine);
    if (result == HP_OK)
        take_moments(run);
    else
        hp_course_run_free(run);
    return result;
}

void hp_course_run_free(hp_course_run *run)
{
    hp_trace_free(&run->trace);
    memset(run, 0, sizeof *run);
}
