/* How long the next step may be: see the header. */
#include "sim/step_length.h"

#include <math.h>

/* Ends of steps in multiples of the time foreseen: in which a lead would change, of the first after
 * an event; to a boundary of angle; to the end of a diode's current. And the shortest first step
 * [s]. */
#define LEAD_STEP_FACTOR  1.1
#define ANGLE_STEP_FACTOR 1.02
#define DIODE_STEP_FACTOR 1.02
#define FIRST_STEP_MIN    1e-10
/* [rad electrical] A step may end beyond a boundary of angle that is nearer than this. chosen: far
 * above rounding, far below the least error of an angle. */
#define BOUNDARY_NEAR 1e-10

/* A step stops where a current passes zero if the rate's jump there, over a step as long as the
 * error allows, comes to so many tolerances. chosen: below, the error test refuses no step. */
#define KINK_TOLERANCES 1e5

/* Time in which a current will pass zero, where the rate of the phase filter, which follows the
 * currents' magnitudes, has a kink. INFINITY: no such kink that would have a step refused, or none
 * but nearer than would matter. With real edges a diode's current may end in each period, which is
 * an event: a step that goes a little beyond finds it, one that stops there may lie just before. */
static double kink_time(const hp_run *r)
{
    const hp_step_end *now = r->engine->step.end;
    if (r->m->phase_share == 0.0)
        return INFINITY;
    double least = INFINITY, h = r->step_hint;
    double bearable = r->engine->tolerance * r->m->drive->controller.filter_s;
    bool edges = r->next_pwm < (double)INFINITY;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        double i = now->y[HP_Y_CURRENT + k], rate = now->slope[HP_Y_CURRENT + k];
        bool falls = i * rate < 0.0, is_near = i * i <= bearable * fabs(rate);
        if (!falls || is_near || fabs(rate) * h * h <= KINK_TOLERANCES * bearable)
            continue;
        bool diode = r->m->leg[k] == HP_LEG_UPPER || r->m->leg[k] == HP_LEG_LOWER;
        least = hp_lesser(least, -i / rate * (edges && diode ? DIODE_STEP_FACTOR : 1.0));
    }
    return least;
}

/* When the rotor will reach the next boundary of angle; INFINITY also where it is as good as there:
 * one that creeps to rest at a boundary (cogging holds it at a corner of the back-EMF) would come
 * nearer in ever smaller steps. */
static double boundary_time(const hp_step_end *now)
{
    double foreseen = hp_dip_time(&now->guards, HP_GUARD_FORWARD, HP_GUARD_BACKWARD);
    bool there = foreseen * fabs(now->slope[HP_Y_THETA]) < BOUNDARY_NEAR;
    return there ? (double)INFINITY : foreseen;
}

double hp_step_length_aim(const hp_run *r)
{
    double foreseen = boundary_time(r->engine->step.end);
    foreseen = hp_lesser(ANGLE_STEP_FACTOR * foreseen, kink_time(r));
    foreseen = foreseen > FIRST_STEP_MIN ? foreseen : FIRST_STEP_MIN;
    return hp_lesser(hp_run_next_stop(r), r->t + foreseen);
}

/* The tail of a diode may last microseconds; a step that ran a hundred times past it would describe
 * a circuit that is no more, and be read near its beginning only. */
double hp_step_length_first(const hp_run *r)
{
    const hp_dip *now = &r->engine->step.end->guards;
    double foreseen = LEAD_STEP_FACTOR * hp_dip_time(now, HP_GUARD_LEAD, HP_GUARD_PAIR - 1);
    double length = hp_lesser(r->step_hint, foreseen);
    return length > FIRST_STEP_MIN ? length : FIRST_STEP_MIN;
}

void hp_step_length_keep(hp_run *r, bool cut)
{
    const hp_engine *e = r->engine;
    /* The error of a step that ran over an event is that of a circuit that is no more. */
    bool edges = r->next_pwm < (double)INFINITY;
    if (edges && r->found && e->step_wanted < r->step_hint)
        return;
    if (!cut || !e->step_bounded || e->step_wanted > r->step_hint)
        r->step_hint = e->step_wanted;
}
