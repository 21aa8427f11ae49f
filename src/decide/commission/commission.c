/* The list of steps of commissioning: see the header. */
#include "hubphase/decide/commission.h"

#include "decide/advise/equals.h"
#include "decide/advise/full_check.h"
#include "decide/commission/doubt.h"
#include "decide/commission/fit_machine.h"
#include "decide/commission/guards.h"
#include "decide/commission/mend_notes.h"
#include "decide/commission/own.h"
#include "decide/commission/standing.h"
#include "decide/fit/fit_rules.h"
#include "decide/reading/control_values.h"
#include "decide/reading/reading.h"
#include "decide/reading/running.h"

#include <assert.h>
#include <math.h>
#include <string.h>

hp_stage hp_reading_stage(const hp_reading *reading)
{
    return reading->stage;
}

const char *hp_stage_name(hp_stage stage)
{
    static const char *const name[HP_STAGE_COUNT] = {"wiring", "hub", "controls", "stand", "road"};
    return name[stage];
}

const char *hp_finding_name(hp_finding finding)
{
    static const char *const name[HP_FINDING_COUNT] = {"open", "noted", "good",
                                                       "look", "stop",  "untested"};
    return name[finding];
}

bool hp_finding_wants_mending(hp_finding finding)
{
    return finding == HP_FINDING_LOOK || finding == HP_FINDING_STOP;
}

const char *hp_commission_why_name(hp_commission_why why)
{
    static const char *const name[HP_COMMISSION_WHY_COUNT] = {
        "goes_on", "stopped", "danger", "check",   "wiring",  "fit",
        "look",    "part",    "ready",  "lacking", "left_out"};
    return name[why];
}

const hp_entry *hp_assess_last(const hp_assess_case *given, const hp_reading *reading)
{
    for (int k = given->entries - 1; k >= 0; k--)
        if (given->entry[k].reading == reading)
            return &given->entry[k];
    return NULL;
}

const hp_entry *hp_assess_last_trial(const hp_assess_case *given)
{
    for (int k = given->entries - 1; k >= 0; k--)
        if (hp_entry_trial(&given->entry[k]))
            return &given->entry[k];
    return NULL;
}

const hp_entry *hp_assess_warned(const hp_assess_case *given, int *runs)
{
    int at = hp_warned_at(given->entry, given->entries, runs);
    return at < 0 ? NULL : &given->entry[at];
}

/* ---- whether a wiring runs --------------------------------------------------------------------
 */

/* Of an entry that is a run at full throttle of what is joined, with nothing holding it back, its
 * values; NULL: it is none. */
static const hp_trial *full_trial(const hp_assess_case *given, const hp_entry *entry)
{
    const hp_entry *last = hp_assess_last_trial(given);
    const hp_trial *t = hp_entry_trial(entry);
    return last && t && !entry->typical && hp_trial_is_free(t) &&
                   hp_plan_asks_all(given->plan, t, t->throttle) &&
                   hp_wiring_number(&t->wiring) == hp_wiring_number(&hp_entry_trial(last)->wiring)
               ? t
               : NULL;
}

/* Such a run that felt rough or noisy and drew as little as a right wiring: no wrong one draws so
 * little, so it is a bearing, a brake that rubs, or a sine on a motor made for six steps. */
static bool growls(const hp_commission *list, const hp_entry *entry)
{
    const hp_trial *t = full_trial(&list->given, entry);
    return t && t->motion == HP_MOVED_FORWARD && t->cut_out != HP_TELL_YES &&
           (t->feel == HP_FEEL_ROUGH || t->feel == HP_FEEL_NOISY) &&
           hp_draw_judge(t->battery_a, list->full_most_a, list->full_current_a) == HP_DRAW_FINE;
}

/* What a no-load run says of the wiring that is joined. */
typedef enum ran { RAN_UNSAID, RAN_WELL, RAN_DOUBTED, RAN_ILL } ran;

/* Its current and speed by what the step finds, the way by what was said: a reverse wiring runs as
 * evenly and draws as little. Where no trial speaks for the wiring, all three must have been read.
 */
static ran ran_how(const hp_assess_case *given, const hp_entry *entry, bool alone, bool *way_unsaid)
{
    hp_full_run run;
    int code = 0;
    entry->reading->full_run(hp_entry_said(entry), &run);
    hp_finding finding = entry->reading->assess(given, hp_entry_said(entry), &code);
    if (finding == HP_FINDING_STOP)
        return RAN_ILL;
    if (finding == HP_FINDING_LOOK)
        return RAN_DOUBTED;
    bool told = alone ? !isnan(run.battery_a) && !isnan(run.wheel_rad_s)
                      : hp_full_run_told(given->plan, run.battery_a, run.wheel_rad_s);
    if (finding != HP_FINDING_GOOD || !told)
        return RAN_UNSAID;
    /* The trial of what is joined said the way; backward is a stop. */
    *way_unsaid = run.motion == HP_MOVED_UNSAID;
    return *way_unsaid && alone ? RAN_UNSAID : RAN_WELL;
}

/* The last word of the log on it; a no-load run's, where no trial of the same parts ran well, is
 * kept. */
static bool is_wired(const hp_assess_case *given, hp_commission *list)
{
    bool growled = false;
    int runs;
    assert(given->entry || given->entries == 0);
    if (hp_assess_warned(given, &runs))
        return false;
    for (int k = given->entries - 1; k >= 0; k--) {
        const hp_entry *entry = &given->entry[k];
        const hp_trial *trial = hp_entry_trial(entry);
        bool unsaid = false;
        /* What growls now ran before, but not by a run of before a mend. */
        if (growled && hp_entry_renews(entry) >= HP_RENEWS_PARTS)
            return false;
        if (trial && growls(list, entry)) {
            growled = true;
            continue;
        }
        if (trial)
            return hp_trial_runs_well(trial);
        if (entry->reading->ends_right && entry->reading->ends_right(hp_entry_said(entry)))
            return true;
        if (!entry->reading->full_run || entry->typical)
            continue;
        bool alone = hp_joined_at(given->entry, k) == 0;
        ran how = list->doubted ? RAN_UNSAID : ran_how(given, entry, alone, &unsaid);
        list->way_unsaid = list->way_unsaid || (unsaid && alone);
        if (how == RAN_WELL)
            *(alone ? &list->ran : &list->ran_joined) = entry;
        if (how == RAN_DOUBTED)
            list->doubted = entry;
        else if (how != RAN_UNSAID)
            return how == RAN_WELL;
    }
    return false;
}

/* A run made before anybody logged which wiring is joined is one of the wiring that is logged next,
 * and one made after a trial is that trial's: of the newest trial, where it ran well. */
static const hp_entry *bears_out(const hp_assess_case *given, int *place)
{
    const hp_entry *found = NULL;
    int number = 0;
    for (int k = given->entries - 1; k >= 0; k--) {
        const hp_entry *entry = &given->entry[k];
        const hp_trial *trial = hp_entry_trial(entry);
        bool unsaid = false;
        if (hp_entry_renews(entry) != HP_RENEWS_NOTHING)
            break;
        if (trial && number == 0 && !hp_trial_runs_well(trial))
            return NULL;
        if (trial && number > 0 && hp_wiring_number(&trial->wiring) != number)
            break;
        if (trial && number == 0)
            *place = k;
        number = trial ? hp_wiring_number(&trial->wiring) : number;
        int joined = hp_joined_at(given->entry, k);
        if (!entry->reading->full_run || entry->typical || found ||
            (number > 0 && joined > 0 && joined != number))
            continue;
        ran how = ran_how(given, entry, joined == 0, &unsaid);
        if (how == RAN_ILL || how == RAN_DOUBTED)
            return NULL;
        found = how == RAN_WELL ? entry : NULL;
    }
    return number > 0 ? found : NULL;
}

/* Two wirings that ran well and are no equals cannot both be right: the advice weighs them. Neither
 * counts as found where the other was not tried again since and failed. Without Hall sensors both
 * may run well. */
static void find_against(hp_commission *list)
{
    const hp_assess_case *given = &list->given;
    const hp_entry *last = hp_assess_last_trial(given);
    int learnt = 0;
    if (!last || !given->prior || list->unsensed ||
        hp_learnt_at(given->entry, given->entries, &learnt) >= 0)
        return;
    int number = hp_wiring_number(&hp_entry_trial(last)->wiring);
    bool seen[HP_WIRING_COUNT + 1] = {false};
    for (int k = given->entries - 1; k >= 0; k--) {
        const hp_entry *entry = &given->entry[k];
        const hp_trial *t = hp_entry_trial(entry);
        if (hp_entry_renews(entry) >= HP_RENEWS_PARTS)
            return;
        int other = t ? hp_wiring_number(&t->wiring) : number;
        if (other == number || seen[other])
            continue;
        seen[other] = true;
        if (!hp_trial_runs_well(t))
            continue;
        hp_equals equals = hp_equals_find(number, given->drive, given->person, given->prior,
                                          given->entry, given->entries);
        if (equals.number[0] != other && equals.number[1] != other)
            list->against = entry->number;
        if (list->against)
            return;
    }
}

/* ---- the check at full throttle ---------------------------------------------------------------
 */

static void judge(const void *user, const hp_entry *entry, hp_draw *draw, hp_pace *pace)
{
    entry->reading->judge_run(user, hp_entry_said(entry), draw, pace);
}

/* Runs at full throttle of what is joined, among entries from..to-1. */
static void check_runs(const hp_commission *list, int from, int to, hp_failed_check *failed)
{
    const hp_assess_case *given = &list->given;
    const hp_entry *last = hp_assess_last_trial(given);
    const hp_full_check check = {.plan = given->plan,
                                 .entry = given->entry,
                                 .from = from,
                                 .to = to,
                                 .number =
                                     last ? hp_wiring_number(&hp_entry_trial(last)->wiring) : 0,
                                 .current_a = list->full_current_a,
                                 .wheel_rad_s = list->full_wheel_rad_s,
                                 .most_a = list->full_most_a,
                                 .judge = judge,
                                 .user = given};
    hp_full_check_find(&check, failed);
}

static void find_failed(hp_commission *list)
{
    const hp_assess_case *given = &list->given;
    hp_machine_fit fit;
    hp_machine_fit_foretell(given, &fit);
    hp_no_load_told told = hp_machine_no_load(&fit, given->drive->supply.emf_v);
    list->full_current_a = told.battery_90;
    list->full_most_a = hp_draw_most(told.battery_a, told.battery_90);
    list->full_wheel_rad_s = told.rad_90;
    check_runs(list, 0, given->entries, &list->failed);
}

/* A no-load run may have taken back what a trial showed: that trial itself says nothing for it. */
static void find_borne_out(hp_commission *list)
{
    int place = -1;
    hp_failed_check failed;
    list->bears_out = list->wired ? bears_out(&list->given, &place) : NULL;
    if (!list->bears_out || place < 0)
        return;
    check_runs(list, place, place + 1, &failed);
    list->trial_failed = failed.stands;
}

/* Such a run that was as it ought to be, and whose figures are a check. One gentle run that felt
 * well proves no wiring. */
static bool ran_at_full(const hp_assess_case *given)
{
    for (int k = given->entries - 1; k >= 0; k--) {
        const hp_trial *t = full_trial(given, &given->entry[k]);
        if (hp_entry_renews(&given->entry[k]) >= HP_RENEWS_PARTS)
            return false;
        if (t && hp_trial_runs_well(t) &&
            hp_full_run_told(given->plan, t->battery_a, t->wheel_rad_s))
            return true;
    }
    return false;
}

static bool outside(double value, hp_band band)
{
    return band.high > 0.0 && (value > band.high || value < band.low);
}

/* The newest run of what is joined decides; of a no-load run its step says it. Less current is no
 * fault. */
static void find_odd(hp_commission *list)
{
    const hp_assess_case *given = &list->given;
    for (int k = given->entries - 1; k >= 0; k--) {
        const hp_entry *entry = &given->entry[k];
        const hp_trial *t = full_trial(given, entry);
        if (hp_entry_renews(entry) >= HP_RENEWS_PARTS ||
            (entry->reading->full_run && !entry->typical))
            return;
        if (!t || (isnan(t->battery_a) && isnan(t->wheel_rad_s)))
            continue;
        if (growls(list, entry))
            list->growl_entry = entry->number;
        bool more = list->full_current_a.high > 0.0 && t->battery_a > list->full_current_a.high;
        if (more || outside(t->wheel_rad_s, list->full_wheel_rad_s))
            list->odd_entry = entry->number;
        return;
    }
}

static bool is_contrary(const hp_assess_case *given, const hp_entry *entry)
{
    return !entry->typical && entry->reading->contradicts &&
           entry->reading->contradicts(given, hp_entry_said(entry));
}

/* Of each kind the last counts; a run since says otherwise of it, and so does a mend. Of Hall
 * sensors that the controller runs without no run says anything. */
static void find_contrary(hp_commission *list)
{
    const hp_assess_case *given = &list->given;
    bool ran = false;
    for (int k = given->entries - 1; k >= 0; k--) {
        const hp_entry *entry = &given->entry[k];
        if (hp_entry_renews(entry) >= HP_RENEWS_PARTS)
            return;
        ran = ran || hp_entry_trial(entry) || entry->reading->full_run;
        if (!is_contrary(given, entry) ||
            (ran && !(entry->reading->outlasts_runs && list->unsensed)))
            continue;
        if (!list->contrary && hp_assess_last(given, entry->reading) == entry)
            list->contrary = entry;
        else if (list->contrary && list->contrary->reading == entry->reading)
            list->contrary_again = true;
    }
}

/* Of each kind the last counts, until the motor ran, or a part was mended. */
static void find_hinders(hp_commission *list)
{
    const hp_assess_case *given = &list->given;
    for (int k = given->entries - 1; k >= 0 && !list->hinders; k--) {
        const hp_entry *entry = &given->entry[k];
        const hp_reading *kind = entry->reading;
        if (hp_entry_renews(entry) >= HP_RENEWS_PARTS || hp_entry_trial(entry) || kind->full_run)
            return;
        if (!entry->typical && kind->hinders && hp_assess_last(given, kind) == entry &&
            kind->hinders(given, hp_entry_said(entry)))
            list->hinders = entry;
    }
}

/* The last entry that looked for what holds the controller off, unless the wheel turned since, or
 * something was mended. */
static void find_held(hp_commission *list)
{
    const hp_assess_case *given = &list->given;
    for (int k = given->entries - 1; k >= 0; k--) {
        const hp_entry *entry = &given->entry[k];
        const hp_trial *t = hp_entry_trial(entry);
        if ((t && t->motion != HP_MOVED_STILL && t->motion != HP_MOVED_UNSAID) ||
            (entry->reading->full_run && !entry->typical) ||
            hp_entry_renews(entry) >= HP_RENEWS_PARTS)
            return;
        if (!entry->reading->holds_off || entry->typical ||
            hp_reopened_at(given->entry, given->entries, entry->reading) > k)
            continue;
        hp_held held;
        if (!entry->reading->holds_off(given, hp_entry_said(entry), &held))
            return;
        if (list->held.entry) {
            /* Read twice alike: nobody is asked a third time. */
            if (isnan(held.brake_v) == isnan(list->held.brake_v) &&
                isnan(held.rest_v) == isnan(list->held.rest_v) &&
                isnan(held.battery_v) == isnan(list->held.battery_v) &&
                isnan(held.key_v) == isnan(list->held.key_v))
                list->held.entry = NULL;
            return;
        }
        list->held = held;
        list->held.entry = entry;
    }
}

/* Of a kind the last entry that speaks of it decides. Nothing is reckoned from a count that the
 * scenario gainsays, nor from the scenario's figure against the count: people settle it. */
static void find_gainsaid(hp_commission *list)
{
    const hp_assess_case *given = &list->given;
    for (int kind = 0; hp_readings[kind]; kind++) {
        hp_tell said = HP_TELL_UNSAID;
        for (int k = given->entries - 1; hp_readings[kind]->gainsays && k >= 0; k--) {
            const hp_entry *entry = &given->entry[k];
            if (entry->reading != hp_readings[kind] || said != HP_TELL_UNSAID || entry->typical)
                continue;
            said = entry->reading->gainsays(given->drive, hp_entry_said(entry));
            if (said == HP_TELL_YES && (!list->gainsaid || entry > list->gainsaid))
                list->gainsaid = entry;
        }
    }
}

/* Of all kinds, steps or not. */
static void find_doubt(hp_commission *list)
{
    hp_doubt doubt;
    for (int k = 0; hp_readings[k]; k++)
        if (hp_doubt_find(&list->given, hp_readings[k], &doubt) &&
            (!list->doubt.entry || doubt.entry > list->doubt.entry))
            list->doubt = doubt;
}

/* By the log alone: what the advice reckons from all readings is not known here. */
static void find_plug(hp_commission *list)
{
    const hp_assess_case *given = &list->given;
    const hp_reading *plug = &hp_reading_hall_plug;
    int learnt = 0;
    if (hp_log_places_hall(given->entry, given->entries) ||
        hp_learnt_at(given->entry, given->entries, &learnt) >= 0)
        return;
    if (list->unsensed)
        list->plug_pulled = hp_assess_last(given, plug);
    else if (list->proved && hp_assess_last_trial(given) &&
             hp_log_runs_unsensed(given->entry, given->entries) == HP_TELL_UNSAID)
        list->plug = given->plan->powered && (given->plan->allowed & hp_allow(plug)) &&
                             !hp_left_out_by(given->entry, given->entries, plug)
                         ? HP_PLUG_OWED
                         : HP_PLUG_UNTRIED;
}

/* ---- dangers ----------------------------------------------------------------------------------
 */

static void find_danger(hp_commission *list)
{
    const hp_assess_case *given = &list->given;
    for (int k = given->entries - 1; k >= 0 && !list->danger; k--) {
        list->danger =
            hp_danger_standing(given->entry, given->entries, k, given->plan, given->person);
        list->danger_entry = given->entry[k].number;
    }
}

static void add_fit_stops(hp_commission *list, bool road)
{
    const hp_fit *fit = list->given.fit;
    for (int k = 0; fit && k < HP_FIT_RULE_COUNT; k++)
        if (fit->line[k].state == HP_FIT_STOP && hp_fit_rule_of(fit->line[k].rule)->road == road)
            list->fit_stop[list->fit_stops++] = fit->line[k].rule;
}

/* No run shows it before it does harm. */
static void find_fit(hp_commission *list)
{
    add_fit_stops(list, false);
    list->fit_stops_power = list->fit_stops;
    add_fit_stops(list, true);
}

/* ---- the list ---------------------------------------------------------------------------------
 */

static bool comes_before(const hp_reading *a, const hp_reading *b)
{
    return a->stage != b->stage ? a->stage < b->stage : a->order < b->order;
}

/* All kinds with a stage, in order; of one place the one listed first. */
static void list_steps(hp_commission *list)
{
    for (int k = 0; hp_readings[k] && list->steps < HP_COMMISSION_STEPS; k++) {
        const hp_reading *reading = hp_readings[k];
        int at = list->steps;
        if (reading->stage == HP_STAGE_WIRING)
            continue;
        for (; at > 0 && comes_before(reading, list->step[at - 1].reading); at--)
            list->step[at] = list->step[at - 1];
        list->step[at] = (hp_commission_step){.reading = reading, .stage = reading->stage};
        list->steps++;
    }
}

static void assess(const hp_commission *list, hp_commission_step *step)
{
    const hp_reading *reading = step->reading;
    hp_standing_assess(&list->given, step);
    step->concerns = step->entry || !reading->concerns || reading->concerns(&list->given);
    step->possible =
        list->proved || !reading->needs_run || (list->wired && reading->full_run != NULL);
    step->lacks = step->entry && reading->lacks && reading->lacks(step->said.values);
    step->left_out = hp_left_out_by(list->given.entry, list->given.entries, reading);
    /* Runs with the wheel lifted have codes of their own, and ask for no more than they note. */
    step->part = step->finding == HP_FINDING_NOTED && step->code == HP_STEP_PART &&
                 step->stage != HP_STAGE_STAND && !step->left_out;
}

static bool is_open(const hp_commission_step *step)
{
    return step->concerns && !step->left_out && step->finding == HP_FINDING_NONE;
}

/* What stands in the way of a machine that is ready, of all steps together. */
typedef struct hindrance {
    bool look, waits, left, lacks, part;
} hindrance;

static hindrance hindrance_of(const hp_commission *list)
{
    /* What nobody can measure here keeps nobody waiting: the end says how it is ridden then. */
    const hp_assess_case *given = &list->given;
    const bool placeable =
        list->plug_pulled && hp_hall_can_be_placed(given->entry, given->entries, given->plan);
    hindrance h = {.look = list->odd_entry > 0 || list->growl_entry > 0 || list->contrary ||
                           list->doubt.entry || list->gainsaid || placeable,
                   .part = (list->wired && !list->proved) || list->plug == HP_PLUG_OWED,
                   .left = list->plug == HP_PLUG_UNTRIED || (list->plug_pulled && !placeable)};
    for (int k = 0; k < list->unguarded_count; k++)
        *(list->unguarded[k].left_out ? &h.left : &h.part) = true;
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        h.look = h.look || step->finding == HP_FINDING_LOOK;
        h.lacks = h.lacks || step->lacks;
        h.part = h.part || step->part;
        h.left = h.left || (step->left_out && step->concerns);
        h.waits = h.waits || (is_open(step) && !step->possible);
    }
    return h;
}

/* The first step that stops everything; -1: none does. */
static int stopping_step(const hp_commission *list)
{
    for (int k = 0; k < list->steps; k++)
        if (list->step[k].finding == HP_FINDING_STOP)
            return k;
    return -1;
}

/* The first step that is open and can be done; -1: none. */
static int open_step(const hp_commission *list)
{
    for (int k = 0; k < list->steps; k++)
        if (is_open(&list->step[k]) && list->step[k].possible)
            return k;
    return -1;
}

static void set_next(hp_commission *list)
{
    const hindrance h = hindrance_of(list);
    list->next = stopping_step(list);
    if (list->next >= 0) {
        list->why = HP_COMMISSION_STOPPED;
        return;
    }
    if (list->danger || list->failed.stands) {
        list->why = list->danger ? HP_COMMISSION_DANGER : HP_COMMISSION_CHECK;
        return;
    }
    list->next = open_step(list);
    /* Steps that are done say nothing for a wheel that, by the log's last word, does not run. */
    list->why = list->next >= 0           ? HP_COMMISSION_GOES_ON
                : h.waits || !list->wired ? HP_COMMISSION_WIRING
                : list->fit_stops > 0     ? HP_COMMISSION_FIT
                : h.look                  ? HP_COMMISSION_LOOK
                : h.part                  ? HP_COMMISSION_PART
                : h.left                  ? HP_COMMISSION_LEFT
                : h.lacks                 ? HP_COMMISSION_LACKING
                                          : HP_COMMISSION_READY;
}

void hp_commission_make(const hp_assess_case *given, hp_commission *list)
{
    memset(list, 0, sizeof *list);
    list->given = *given;
    list->given.own = NULL;
    list->unsensed = hp_log_runs_unsensed(given->entry, given->entries) == HP_TELL_YES;
    find_failed(list);
    if (!list->failed.stands)
        find_odd(list);
    find_danger(list);
    find_fit(list);
    hp_guards_find(list);
    find_contrary(list);
    find_doubt(list);
    find_held(list);
    find_hinders(list);
    find_gainsaid(list);
    find_against(list);
    list->wired = is_wired(&list->given, list) && !list->failed.stands && !list->against;
    find_borne_out(list);
    list->proved = list->wired &&
                   (list->ran || list->ran_joined || list->bears_out || ran_at_full(&list->given));
    list->unmetered = list->wired && !list->proved && hp_plan_is_unmetered(list->given.plan);
    find_plug(list);
    hp_own_learn(&list->given, false, &list->own);
    list->given.own = &list->own;
    list_steps(list);
    for (int k = 0; k < list->steps; k++)
        assess(list, &list->step[k]);
    hp_mend_notes_find(list);
    set_next(list);
}

const hp_commission_step *hp_commission_step_of(const hp_commission *list,
                                                const hp_reading *reading)
{
    for (int k = 0; k < list->steps; k++)
        if (list->step[k].reading == reading)
            return &list->step[k];
    return NULL;
}

bool hp_commission_asks_again(const hp_commission *list)
{
    const hp_entry *doubted = list ? list->doubt.entry : NULL;
    const hp_commission_step *step = doubted ? hp_commission_step_of(list, doubted->reading) : NULL;
    return doubted && !(step && step->finding == HP_FINDING_STOP);
}

int hp_commission_left_out(const hp_commission *list)
{
    int count = 0;
    for (int k = 0; k < list->steps; k++)
        count += list->step[k].concerns && list->step[k].left_out;
    return count;
}

int hp_commission_count(const hp_commission *list, int *done)
{
    int count = 0;
    *done = 0;
    for (int k = 0; k < list->steps; k++) {
        count += list->step[k].concerns;
        *done += list->step[k].entry != NULL;
    }
    return count;
}
