/*
 * Fit: see the header. Survey, then three crews of runs: curves, meetings with the road, the ride;
 * then the rules.
 */
#include "hubphase/decide/fit.h"

#include "decide/fit/fit_rules.h"
#include "decide/fit/loaded_machine.h"
#include "model/heat.h"
#include "model/road.h"
#include "sim/pool.h"

#include <math.h>
#include <string.h>

const char *hp_fit_state_name(hp_fit_state state)
{
    static const char *const name[HP_FIT_STATE_COUNT] = {"ok", "look", "stop", "not known"};
    return name[state];
}

hp_fit_state hp_fit_worst(const hp_fit *fit)
{
    hp_fit_state worst = HP_FIT_OK;
    for (int k = 0; k < HP_FIT_RULE_COUNT; k++) {
        hp_fit_state state = fit->line[k].state;
        if (state == HP_FIT_UNKNOWN)
            state = HP_FIT_LOOK;
        if (state > worst)
            worst = state;
    }
    return worst;
}

/* ---- which wiring ---------------------------------------------------------------------------- */

static int leads_moved(int a, int b)
{
    hp_wiring x = hp_wiring_from_number(a), y = hp_wiring_from_number(b);
    int moved = 0;
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        moved += (x.sensor[j] != y.sensor[j]) + (x.phase[j] != y.phase[j]);
    return moved;
}

/* By the survey's verdicts alone: the first correct wiring, and the reverse one nearest to it. */
static void find_wirings(const hp_survey *survey, hp_fit *fit)
{
    for (int n = HP_WIRING_COUNT; n >= 1; n--)
        if (survey->judgement[n - 1].verdict == HP_VERDICT_CORRECT)
            fit->correct = n;
    for (int n = 1; fit->correct && n <= HP_WIRING_COUNT; n++) {
        if (survey->judgement[n - 1].verdict != HP_VERDICT_REVERSE)
            continue;
        int moved = leads_moved(fit->correct, n);
        if (!fit->reverse || moved < fit->moved) {
            fit->reverse = n;
            fit->moved = moved;
        }
    }
}

/* ---- runs ------------------------------------------------------------------------------------ */

/* What the crews share; each task writes its own slot. */
typedef struct work {
    const hp_fit_given *given;
    hp_fit *fit;
    hp_wiring wiring;
    hp_drive ridden[HP_FIT_CHARGE_COUNT];
    hp_fit_meeting stretch[HP_RIDE_MAX];
    int done_before, total; /* of the progress that is shown */
} work;

/* The ride ends at the later of the pack's and the controller's own end. */
static double emf_of(const hp_fit_given *given, hp_fit_charge charge)
{
    const hp_pack_params *pack = &given->vehicle->pack;
    double empty = fmax(pack->empty_v, given->drive->controller.undervoltage_v);
    empty = fmin(empty, pack->full_v);
    double middle = pack->in_series * hp_cell_volts_of(pack->cell).middle;
    switch (charge) {
    case HP_FIT_CHARGE_FULL: return pack->full_v;
    case HP_FIT_CHARGE_EMPTY: return empty;
    default: return fmin(fmax(middle, empty), pack->full_v);
    }
}

static void curve_task(void *user, hp_engine *engine, int task)
{
    work *w = user;
    int charge = task / HP_FIT_POINTS, k = task % HP_FIT_POINTS;
    hp_fit_curve *curve = &w->fit->curve[charge];
    const hp_drive *ridden = &w->ridden[charge];
    double torque = hp_fit_torque_of(k, w->fit->torque_most_nm);
    curve->point[k] = hp_fit_point_run(engine, ridden, &w->wiring, torque);
    double dc = hp_fit_dc_speed(ridden, torque);
    curve->dc_rad_s[k] = dc > 0.0 ? dc : (double)NAN;
}

/* Meetings, in this order: level and hill for each charge, the slopes, the stretches of the ride;
 * then the cruise. */
static hp_fit_meeting *meeting_of(work *w, int task, hp_fit_charge *charge, double *slope)
{
    const hp_vehicle *vehicle = w->given->vehicle;
    *charge = HP_FIT_CHARGE_MIDDLE;
    if (task < 2 * HP_FIT_CHARGE_COUNT) {
        *charge = (hp_fit_charge)(task / 2);
        *slope = task % 2 ? vehicle->hill : 0.0;
        return task % 2 ? &w->fit->hill[*charge] : &w->fit->level[*charge];
    }
    task -= 2 * HP_FIT_CHARGE_COUNT;
    if (task < HP_FIT_SLOPES) {
        *slope = 0.02 * task;
        return &w->fit->slope[task];
    }
    task -= HP_FIT_SLOPES;
    *slope = 0.01 * vehicle->ride[task].percent;
    return &w->stretch[task];
}

static int meetings_of(const hp_vehicle *vehicle)
{
    return 2 * HP_FIT_CHARGE_COUNT + HP_FIT_SLOPES + vehicle->stretches;
}

static hp_heat_loss loss_of(const hp_fit_given *given, const hp_fit_point *p)
{
    return (hp_heat_loss){.copper_w = p->copper_w,
                          .copper_per_k = given->drive->motor.copper_per_k,
                          .hub_w = p->hub_w};
}

/* A warming that is `scale` times what is thought reaches the limit when the thought one reaches
 * this. */
static double limit_for(const hp_vehicle *vehicle, double scale)
{
    double air = vehicle->heat.air_c;
    return scale > 0.0 ? air + (vehicle->ratings.winding_most_c - air) / scale : INFINITY;
}

static double time_to_limit(const hp_fit_given *given, const hp_fit_point *p, double scale)
{
    const hp_heat_params *heat = &given->vehicle->heat;
    hp_heat_loss loss = loss_of(given, p);
    double limit = limit_for(given->vehicle, scale);
    return isfinite(limit) ? hp_heat_time_to(heat, &loss, hp_heat_cold(heat), limit) : INFINITY;
}

static void meet_task(void *user, hp_engine *engine, int task)
{
    work *w = user;
    const hp_vehicle *vehicle = w->given->vehicle;
    hp_fit_charge charge;
    double slope;
    if (task == meetings_of(vehicle)) {
        w->fit->cruises =
            hp_fit_cruise(engine, &w->ridden[HP_FIT_CHARGE_MIDDLE], &w->wiring, vehicle,
                          vehicle->cruise_m_s, &w->fit->cruise_throttle, &w->fit->cruise);
        return;
    }
    hp_fit_meeting *m = meeting_of(w, task, &charge, &slope);
    *m =
        hp_fit_meet(engine, &w->ridden[charge], &w->wiring, &w->fit->curve[charge], vehicle, slope);
    if (!m->meets)
        return;
    m->limit_s = time_to_limit(w->given, &m->point, 1.0);
    m->limit_low_s = time_to_limit(w->given, &m->point, 1.0 + vehicle->heat_unsure);
    m->limit_high_s = time_to_limit(w->given, &m->point, 1.0 - vehicle->heat_unsure);
}

/* ---- what follows from the curves ------------------------------------------------------------ */

/* Whether the winding stays below its limit for ever where the curve meets this slope. */
static bool lasts(const work *w, double slope)
{
    const hp_vehicle *vehicle = w->given->vehicle;
    const hp_fit_curve *curve = &w->fit->curve[HP_FIT_CHARGE_MIDDLE];
    double torque = hp_fit_meeting_torque(curve, vehicle, slope, 1.0);
    if (isnan(torque))
        return false;
    hp_fit_point p = hp_fit_between(curve, torque);
    hp_heat_loss loss = loss_of(w->given, &p);
    hp_heat_state end;
    return hp_heat_steady(&vehicle->heat, &loss, &end) &&
           end.copper_c <= vehicle->ratings.winding_most_c;
}

static bool climbs(const work *w, double slope)
{
    return !isnan(
        hp_fit_meeting_torque(&w->fit->curve[HP_FIT_CHARGE_MIDDLE], w->given->vehicle, slope, 1.0));
}

/* The steepest slope up to 40 % for which it holds; 0 where it does not on the level, -1 then. */
static double steepest(const work *w, bool (*holds)(const work *, double))
{
    double low = 0.0, high = 0.4;
    if (!holds(w, 0.0))
        return -1.0;
    if (holds(w, high))
        return high;
    for (int k = 0; k < 24; k++) {
        double middle = 0.5 * (low + high);
        *(holds(w, middle) ? &low : &high) = middle;
    }
    return low;
}

/* ---- the ride -------------------------------------------------------------------------------- */

static double banded(const hp_vehicle *vehicle, double copper_c, double scale)
{
    return vehicle->heat.air_c + scale * (copper_c - vehicle->heat.air_c);
}

static void note(hp_fit_course *c, const hp_vehicle *vehicle, double metres, hp_heat_state s,
                 double percent)
{
    int k = c->count++;
    c->metres[k] = metres;
    c->copper_c[k] = s.copper_c;
    c->hub_c[k] = s.hub_c;
    c->low_c[k] = banded(vehicle, s.copper_c, 1.0 - vehicle->heat_unsure);
    c->high_c[k] = banded(vehicle, s.copper_c, 1.0 + vehicle->heat_unsure);
    c->percent[k] = percent;
    if (k == 0 || s.copper_c > c->hottest_c) {
        c->hottest_c = s.copper_c;
        c->hottest_low_c = c->low_c[k];
        c->hottest_high_c = c->high_c[k];
    }
}

/* Where the road pushes, the throttle is let go and the brakes hold the cruising speed. */
static void loss_and_speed(const work *w, int stretch, hp_heat_loss *loss, double *speed)
{
    const hp_vehicle *vehicle = w->given->vehicle;
    const hp_fit_meeting *m = &w->stretch[stretch];
    bool pushed = m->point.torque_nm <= 0.0;
    *loss = pushed ? (hp_heat_loss){0} : loss_of(w->given, &m->point);
    *speed = pushed ? vehicle->cruise_m_s : m->speed;
}

/* Even steps along the way, at least one a stretch; ends before a stretch that is too steep. */
static void ride(const work *w)
{
    const hp_vehicle *vehicle = w->given->vehicle;
    hp_fit_course *c = &w->fit->course;
    double whole = 0.0, metres = 0.0;
    hp_heat_state s = hp_heat_cold(&vehicle->heat);
    for (int k = 0; k < vehicle->stretches; k++)
        whole += vehicle->ride[k].metres;
    note(c, vehicle, 0.0, s, vehicle->ride[0].percent);
    for (int k = 0; k < vehicle->stretches; k++) {
        if (!w->stretch[k].meets) {
            c->stuck = k + 1;
            return;
        }
        const hp_stretch *stretch = &vehicle->ride[k];
        int steps = 1 + (int)((HP_FIT_COURSE - 1 - HP_RIDE_MAX) * stretch->metres / whole);
        hp_heat_loss loss;
        double speed;
        loss_and_speed(w, k, &loss, &speed);
        double seconds = stretch->metres / speed;
        hp_heat_state from = s;
        for (int n = 1; n <= steps; n++) {
            s = hp_heat_after(&vehicle->heat, &loss, from, seconds * n / steps);
            note(c, vehicle, metres + stretch->metres * n / steps, s, stretch->percent);
        }
        metres += stretch->metres;
        c->seconds += seconds;
    }
}

/* ---- all of it ------------------------------------------------------------------------------- */

static int show(void *user, int done, int total)
{
    work *w = user;
    (void)total;
    const hp_survey_options *survey = &w->given->survey;
    return survey->progress ? survey->progress(survey->user, w->done_before + done, w->total) : 0;
}

static hp_result crew(work *w, int count, hp_task task, hp_error *err)
{
    hp_result result = hp_pool_run(count, w->given->survey.jobs, task, w, show, w, err);
    w->done_before += count;
    return result;
}

static hp_result survey(work *w, hp_error *err)
{
    hp_survey_options options = w->given->survey;
    hp_survey survey;
    options.progress = show;
    options.user = w;
    hp_result result = hp_survey_run(w->given->drive, &options, &survey, err);
    if (result != HP_OK)
        return result;
    find_wirings(&survey, w->fit);
    hp_survey_free(&survey);
    w->done_before = HP_WIRING_COUNT * options.starts;
    return HP_OK;
}

static void prepare(work *w)
{
    const double all = w->fit->full = w->given->full > 0.0 ? w->given->full : 1.0;
    for (int k = 0; k < HP_FIT_CHARGE_COUNT; k++) {
        double emf = emf_of(w->given, (hp_fit_charge)k);
        w->ridden[k] = hp_fit_ridden(w->given->drive, emf, all);
        w->fit->curve[k].emf_v = emf;
    }
    const hp_drive *full = &w->ridden[HP_FIT_CHARGE_FULL];
    w->fit->stalled_battery_a = hp_drive_stalled_battery_a(full, all);
    w->fit->stalled_phase_a = hp_fit_stalled_phase(full, all);
    w->fit->torque_most_nm =
        w->fit->stalled_phase_a * hp_fit_constant_peak(full) * full->stand.gear_ratio;
}

static hp_result run_loads(work *w, hp_error *err)
{
    w->wiring = hp_wiring_from_number(w->fit->correct);
    hp_result result = crew(w, HP_FIT_CHARGE_COUNT * HP_FIT_POINTS, curve_task, err);
    if (result == HP_OK)
        result = crew(w, meetings_of(w->given->vehicle) + 1, meet_task, err);
    if (result != HP_OK)
        return result;
    w->fit->steepest = steepest(w, climbs);
    w->fit->lasting_slope = steepest(w, lasts);
    ride(w);
    return HP_OK;
}

hp_result hp_fit_stated(const hp_fit_given *given, hp_fit *fit, hp_error *err)
{
    work w = {.given = given, .fit = fit};
    memset(fit, 0, sizeof *fit);
    hp_result result = hp_vehicle_check(given->vehicle, err);
    if (result != HP_OK)
        return result;
    prepare(&w);
    hp_fit_rules_apply(given, fit);
    return HP_OK;
}

hp_result hp_fit_run(const hp_fit_given *given, hp_fit *fit, hp_error *err)
{
    memset(fit, 0, sizeof *fit);
    hp_result result = hp_vehicle_check(given->vehicle, err);
    if (result == HP_OK)
        result = hp_survey_options_check(&given->survey, err);
    if (result == HP_OK && !(given->drive->controller.throttle > 0.0))
        result = hp_error_set(err, HP_FAIL_INPUT,
                              "the throttle is 0 %%, must be above it: which wiring is correct is "
                              "found at this throttle, before it is loaded at full throttle");
    if (result != HP_OK)
        return result;
    work w = {.given = given, .fit = fit};
    w.total = HP_WIRING_COUNT * given->survey.starts + HP_FIT_CHARGE_COUNT * HP_FIT_POINTS +
              meetings_of(given->vehicle) + 1;
    result = survey(&w, err);
    if (result != HP_OK)
        return result;
    prepare(&w);
    if (fit->correct)
        result = run_loads(&w, err);
    if (result == HP_OK)
        hp_fit_rules_apply(given, fit);
    return result;
}
