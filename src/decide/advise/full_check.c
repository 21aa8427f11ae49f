/* The check at full throttle: see the header. */
#include "decide/advise/full_check.h"

#include "decide/reading/reading.h"
#include "decide/reading/running.h"

#include <math.h>

/* A run at full throttle with nothing holding it back, as far as its entry tells. */
typedef struct run {
    hp_motion motion;
    hp_feel feel;
    hp_tell warm, cut_out;
    int starts, starts_tried;      /* tried 0: not counted */
    double battery_a, wheel_rad_s; /* NAN: not read */
    hp_draw draw;
    hp_pace pace;
    int entry;
} run;

static bool is_mend(const hp_entry *entry)
{
    return hp_entry_renews(entry) != HP_RENEWS_NOTHING;
}

static bool ran(const hp_trial *t)
{
    return t->motion == HP_MOVED_FORWARD && t->feel != HP_FEEL_ROUGH;
}

int hp_joined_at(const hp_entry *entry, int place)
{
    for (int k = place - 1; k >= 0 && !is_mend(&entry[k]); k--) {
        const hp_trial *t = hp_entry_trial(&entry[k]);
        if (!t)
            continue;
        return ran(t) ? hp_wiring_number(&t->wiring) : 0;
    }
    return 0;
}

int hp_run_wiring(const hp_entry *entry, int entries, int place)
{
    for (int k = 0; k < place; k++)
        if (hp_entry_trial(&entry[k]))
            return hp_joined_at(entry, place);
    for (int k = place + 1; k < entries && !is_mend(&entry[k]); k++) {
        const hp_trial *t = hp_entry_trial(&entry[k]);
        if (t)
            return ran(t) ? hp_wiring_number(&t->wiring) : 0;
    }
    return 0;
}

void hp_plan_drive_by(hp_plan_params *plan, double assist)
{
    if (assist > 0.0)
        plan->assist = plan->throttle = assist;
}

bool hp_plan_by_pedals(const hp_plan_params *plan)
{
    return plan && plan->assist > 0.0;
}

double hp_plan_full(const hp_plan_params *plan)
{
    return hp_plan_by_pedals(plan) ? plan->assist : 1.0;
}

/* chosen: a run that asked for this much more was made by a borrowed grip, and is none of theirs.
 */
#define BEYOND_PEDALS 1.05

bool hp_plan_asks_all(const hp_plan_params *plan, const hp_trial *trial, double throttle)
{
    bool pedals = hp_plan_by_pedals(plan);
    return throttle >= HP_FULL_THROTTLE * hp_plan_full(plan) &&
           !(pedals && hp_feed_limits(trial->feed)) &&
           !(pedals && throttle > BEYOND_PEDALS * plan->assist);
}

static double throttle_of(const hp_full_check *c, const hp_trial *t)
{
    return c->members ? hp_members_true_trial(c->members, t).throttle : t->throttle;
}

double hp_draw_most(double expected_a, hp_band current_a)
{
    return fmax(current_a.high, HP_CURRENT_SMALL * expected_a);
}

hp_draw hp_draw_judge(double battery_a, double most_a, hp_band current_a)
{
    if (isnan(battery_a) || !(current_a.high > 0.0))
        return HP_DRAW_UNSAID;
    return battery_a > fmax(most_a, current_a.high) ? HP_DRAW_TOO_MUCH
           : battery_a > current_a.high             ? HP_DRAW_UNSAID
                                                    : HP_DRAW_FINE;
}

hp_pace hp_pace_judge(double wheel_rad_s, hp_band band)
{
    if (!(wheel_rad_s > 0.0) || !(band.high > 0.0))
        return HP_PACE_UNSAID;
    return wheel_rad_s > HP_FAR_SPEED * band.high  ? HP_PACE_FAST
           : wheel_rad_s < band.low / HP_FAR_SPEED ? HP_PACE_SLOW
                                                   : HP_PACE_FINE;
}

static hp_draw draw_of(const hp_full_check *c, double battery_a)
{
    return hp_draw_judge(battery_a, c->most_a, c->current_a);
}

static bool take_trial(const hp_full_check *c, const hp_trial *t, run *r)
{
    if (hp_wiring_number(&t->wiring) != c->number || !hp_trial_is_free(t) ||
        !hp_plan_asks_all(c->plan, t, throttle_of(c, t)))
        return false;
    *r = (run){.motion = t->motion,
               .feel = t->feel,
               .warm = t->warm,
               .cut_out = t->cut_out,
               .starts = t->starts,
               .starts_tried = t->starts_tried,
               .battery_a = t->battery_a,
               .wheel_rad_s = t->wheel_rad_s,
               .draw = draw_of(c, t->battery_a),
               .pace = hp_pace_judge(t->wheel_rad_s, c->wheel_rad_s)};
    /* What goes off and on draws less than it takes while it is on, and is slower. */
    if (t->cut_out == HP_TELL_YES) {
        r->draw = r->draw == HP_DRAW_FINE ? HP_DRAW_UNSAID : r->draw;
        r->pace = HP_PACE_UNSAID;
    }
    return true;
}

/* Its own step judges its current and speed, by what its volts, drag and idle draw are. */
static bool take_other(const hp_full_check *c, int place, run *r)
{
    const hp_entry *entry = &c->entry[place];
    hp_full_run full;
    if (!entry->reading->full_run || hp_joined_at(c->entry, place) != c->number)
        return false;
    entry->reading->full_run(hp_entry_said(entry), &full);
    *r = (run){.motion = full.motion, .battery_a = full.battery_a, .wheel_rad_s = full.wheel_rad_s};
    if (entry->typical)
        return true;
    /* It has no word of its own for what went on. */
    r->cut_out = full.motion == HP_MOVED_FORWARD ? HP_TELL_NO : HP_TELL_UNSAID;
    if (c->judge)
        c->judge(c->user, entry, &r->draw, &r->pace);
    else if (draw_of(c, full.battery_a) == HP_DRAW_FINE)
        r->draw = HP_DRAW_FINE;
    return true;
}

bool hp_full_run_told(const hp_plan_params *plan, double battery_a, double wheel_rad_s)
{
    return !isnan(battery_a) || (!plan->ammeter && !isnan(wheel_rad_s));
}

bool hp_plan_is_unmetered(const hp_plan_params *plan)
{
    return !plan->ammeter && !plan->tachometer;
}

/* chosen: a hand's throttle is as said within a tenth. */
#define THROTTLE_WITHIN 0.9

int hp_felt_run(const hp_entry *entry, int entries, int number, double throttle)
{
    int k = entries - 1;
    while (k >= 0 && !hp_entry_trial(&entry[k]) && !is_mend(&entry[k]))
        k--;
    const hp_trial *t = k >= 0 ? hp_entry_trial(&entry[k]) : NULL;
    bool felt = t && !entry[k].typical && hp_wiring_number(&t->wiring) == number &&
                !hp_feed_limits(t->feed) && t->throttle >= THROTTLE_WITHIN * throttle &&
                hp_trial_runs_well(t) && t->warm == HP_TELL_NO && t->cut_out == HP_TELL_NO;
    return felt ? entry[k].number : 0;
}

bool hp_last_count_missed(const hp_entry *entry, int entries, int number)
{
    for (int k = entries - 1; k >= 0 && !hp_entry_cures(&entry[k], HP_CHECK_STARTS); k--) {
        const hp_trial *t = hp_entry_trial(&entry[k]);
        if (t && t->starts_tried > 0 && hp_wiring_number(&t->wiring) == number &&
            hp_trial_is_free(t))
            return t->starts < t->starts_tried;
    }
    return false;
}

/* -1: it gives the sign; +1: it says otherwise; 0: it says nothing of it. */
static int sign_of(bool said, bool gives)
{
    return !said ? 0 : gives ? -1 : 1;
}

static int says(const run *r, hp_check_sign sign)
{
    switch (sign) {
    case HP_CHECK_CURRENT: return sign_of(r->draw != HP_DRAW_UNSAID, r->draw != HP_DRAW_FINE);
    case HP_CHECK_FAST: return sign_of(r->pace != HP_PACE_UNSAID, r->pace == HP_PACE_FAST);
    case HP_CHECK_SLOW: return sign_of(r->pace != HP_PACE_UNSAID, r->pace == HP_PACE_SLOW);
    case HP_CHECK_ROUGH:
        /* A rough wiring draws ten times as much: what growls at a small current is a bearing, or a
         * sine on a motor made for six steps. */
        return sign_of(r->feel != HP_FEEL_UNSAID,
                       r->feel == HP_FEEL_ROUGH && r->draw != HP_DRAW_FINE);
    case HP_CHECK_WARM: return sign_of(r->warm != HP_TELL_UNSAID, r->warm == HP_TELL_YES);
    case HP_CHECK_CUT_OUT: return sign_of(r->cut_out != HP_TELL_UNSAID, r->cut_out == HP_TELL_YES);
    case HP_CHECK_TURNED:
        return sign_of(r->motion != HP_MOVED_UNSAID, r->motion != HP_MOVED_FORWARD);
    case HP_CHECK_STARTS:
        return sign_of(r->motion == HP_MOVED_FORWARD && r->starts_tried > 0,
                       r->starts < r->starts_tried);
    case HP_CHECK_COUNT: break;
    }
    return 0;
}

void hp_full_check_find(const hp_full_check *c, hp_failed_check *failed)
{
    bool decided[HP_CHECK_COUNT] = {false};
    *failed = (hp_failed_check){.battery_a = (double)NAN, .wheel_rad_s = (double)NAN};
    for (int k = c->to - 1; k >= c->from; k--) {
        const hp_trial *trial = hp_entry_trial(&c->entry[k]);
        run r;
        for (int s = 0; s < HP_CHECK_COUNT; s++)
            decided[s] = decided[s] || hp_entry_cures(&c->entry[k], (hp_check_sign)s);
        if (trial ? !take_trial(c, trial, &r) : !take_other(c, k, &r))
            continue;
        for (int s = 0; s < HP_CHECK_COUNT; s++) {
            int said = decided[s] ? 0 : says(&r, (hp_check_sign)s);
            decided[s] = decided[s] || said != 0;
            if (said >= 0)
                continue;
            failed->stands = true;
            failed->entry[s] = c->entry[k].number;
            if (s == HP_CHECK_TURNED)
                failed->backward = r.motion == HP_MOVED_BACKWARD;
            if (s == HP_CHECK_STARTS) {
                failed->starts = r.starts;
                failed->starts_tried = r.starts_tried;
            }
            if (s == HP_CHECK_CURRENT)
                failed->battery_a = r.battery_a;
            if (s == HP_CHECK_FAST || s == HP_CHECK_SLOW)
                failed->wheel_rad_s = r.wheel_rad_s;
        }
    }
}

/* Without load the speed goes with the duty: the band of a position is that of the chosen one, in
 * the proportion of the two. */
int hp_slower_step(double wheel_rad_s, hp_band full_rad_s, const hp_speed_params *speed)
{
    for (int k = 0; k < speed->steps; k++) {
        double share = speed->cap[k] / speed->cap[speed->chosen - 1];
        if (k + 1 != speed->chosen && wheel_rad_s >= share * full_rad_s.low &&
            wheel_rad_s <= share * full_rad_s.high)
            return k + 1;
    }
    return 0;
}

bool hp_failed_only(const hp_failed_check *failed, hp_check_sign sign)
{
    for (int s = 0; s < HP_CHECK_COUNT; s++)
        if ((failed->entry[s] > 0) != (s == (int)sign))
            return false;
    return true;
}

int hp_failed_check_step(const hp_failed_check *failed, hp_band full_rad_s,
                         const hp_speed_params *speed)
{
    return hp_failed_only(failed, HP_CHECK_SLOW)
               ? hp_slower_step(failed->wheel_rad_s, full_rad_s, speed)
               : 0;
}

int hp_failed_check_entry(const hp_failed_check *failed)
{
    int newest = 0;
    for (int s = 0; s < HP_CHECK_COUNT; s++)
        newest = failed->entry[s] > newest ? failed->entry[s] : newest;
    return newest;
}

const char *hp_bands_from_name(hp_bands_from from)
{
    static const char *const name[HP_BANDS_FROM_COUNT] = {"motors", "parts", "machine"};
    return name[from];
}

const char *hp_check_sign_name(hp_check_sign sign)
{
    static const char *const name[HP_CHECK_COUNT] = {"current", "fast",    "slow",   "rough",
                                                     "warm",    "cut_out", "turned", "starts"};
    return name[sign];
}
