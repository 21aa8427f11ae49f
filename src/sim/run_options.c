/* Options of a run, and the rest angles of a survey: see hubphase/sim/engine.h. */
#include "hubphase/sim/engine.h"

#include <math.h>

/* Shortest bound on the step that a caller may ask for [s]. */
#define MAX_STEP_LEAST 1e-8
/* Golden section, and the first rest angle: chosen so that no early angle of the sequence stands
 * within a degree of an ideal sensor edge. */
#define GOLDEN           0.61803398874989484820
#define REST_ANGLE_FIRST (17.0 * HP_DEG)

/* max_steps: chosen: about two minutes of work; an hour of a usual machine takes 16 million. */
hp_run_options hp_run_options_default(void)
{
    return (hp_run_options){
        .seconds = 2.0,
        .settle_s = 1.2,
        .tolerance = 1e-7,
        .max_events = 100000,
        .max_steps = 50000000,
    };
}

static hp_result check_demands(const hp_run_options *o, hp_error *err)
{
    if (o->demands < 0 || o->demands > HP_DEMANDS_MAX || (o->demands > 0 && !o->demand))
        return hp_error_set(err, HP_FAIL_INPUT, "run.demands is %d, must be 0 to %d, with a list",
                            o->demands, HP_DEMANDS_MAX);
    for (int k = 0; k < o->demands; k++) {
        const hp_control_demand *d = &o->demand[k];
        if (!(k == 0 ? d->time == 0.0 : d->time >= d[-1].time && isfinite(d->time)))
            return hp_error_set(err, HP_FAIL_INPUT, "run.demand %d is at %g s, must be %s", k + 1,
                                d->time, k == 0 ? "at 0" : "no sooner than the one before it");
        if (!(d->duty >= 0.0 && d->duty <= 1.0))
            return hp_error_set(err, HP_FAIL_INPUT, "run.demand %d is a duty of %g, must be 0 to 1",
                                k + 1, d->duty);
    }
    return HP_OK;
}

hp_result hp_run_options_check(const hp_run_options *o, hp_error *err)
{
    if (!(o->seconds > 0.0 && o->seconds <= 3600.0))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "run.seconds is %g, must be above 0 and at most 3600", o->seconds);
    if (!(o->settle_s >= 0.0 && o->settle_s < o->seconds))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "run.settle_seconds is %g, must be at least 0 and below seconds (%g)",
                            o->settle_s, o->seconds);
    if (!isfinite(o->start_angle))
        return hp_error_set(err, HP_FAIL_INPUT, "run.start_angle is not a finite number");
    if (!(fabs(o->start_speed) <= 1e5))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "run.start_speed is %g rad/s, must lie within +-100000",
                            o->start_speed);
    if (!(o->start_duty >= 0.0 && o->start_duty <= 1.0))
        return hp_error_set(err, HP_FAIL_INPUT, "run.start_duty is %g, must be 0 to 1",
                            o->start_duty);
    if (!(o->tolerance >= 1e-12 && o->tolerance <= 1e-2))
        return hp_error_set(err, HP_FAIL_INPUT, "run.tolerance is %g, must be 1e-12 to 1e-2",
                            o->tolerance);
    if (!(o->max_step_s == 0.0 || (o->max_step_s >= MAX_STEP_LEAST && isfinite(o->max_step_s))))
        return hp_error_set(err, HP_FAIL_INPUT, "run.max_step_s is %g, must be 0 or at least %g",
                            o->max_step_s, MAX_STEP_LEAST);
    if (o->max_events < 1)
        return hp_error_set(err, HP_FAIL_INPUT, "run.max_events is %ld, must be at least 1",
                            o->max_events);
    if (o->max_steps < 1)
        return hp_error_set(err, HP_FAIL_INPUT, "run.max_steps is %ld, must be at least 1",
                            o->max_steps);
    if (!(o->calm_share >= 0.0 && o->calm_share <= 0.1))
        return hp_error_set(err, HP_FAIL_INPUT, "run.calm_share is %g, must be 0 to 0.1",
                            o->calm_share);
    return check_demands(o, err);
}

double hp_rest_angle(int k)
{
    double turns = (double)k * GOLDEN;
    return hp_angle_wrap(REST_ANGLE_FIRST + HP_TWO_PI * (turns - floor(turns)));
}
