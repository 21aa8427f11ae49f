/*
 * The list of steps of commissioning: order, what waits, what stops, how it ends; its words; and
 * the scenario's own text with numbers changed in it.
 */
#include "check.h"
#include "decide/advise/full_check.h"
#include "decide/commission/fit_machine.h"
#include "decide/commission/own.h"
#include "decide/reading/control_values.h"
#include "decide/reading/machine_values.h"
#include "decide/reading/reading.h"
#include "decide/reading/running.h"
#include "hubphase/report/case_words.h"
#include "record/case/case_parts.h"
#include "record/scenario/scenario_rewrite.h"
#include "report/words/again_words.h"
#include "report/words/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define ENTRIES 40

typedef struct room {
    hp_drive drive;
    hp_labels labels;
    hp_plan_params plan;
    hp_person person;
    const hp_harness *harness;
    const hp_controls_params *controls; /* NULL: the scenario says nothing of them */
    const hp_fit *fit;                  /* NULL: not reckoned */
    const hp_pack_params *pack;         /* NULL: not known */
    hp_pack_known pack_known;
    bool inertia_stated;
    hp_entry entry[ENTRIES];
    int entries;
    hp_commission list;
} room;

static void furnish(room *r)
{
    memset(r, 0, sizeof *r);
    r->drive = hp_drive_default();
    r->labels = hp_labels_default();
    r->plan = hp_plan_params_default();
    r->person = hp_person_default();
}

static void *add(room *r, const hp_reading *kind)
{
    r->entry[r->entries] = hp_entry_make(kind, r->entries + 1);
    if (kind == &hp_reading_trial)
        r->entry[r->entries].trial.throttle = 0.35;
    return hp_entry_values(&r->entry[r->entries++]);
}

static void make(room *r)
{
    const hp_assess_case given = {.drive = &r->drive,
                                  .labels = &r->labels,
                                  .plan = &r->plan,
                                  .person = &r->person,
                                  .harness = r->harness,
                                  .controls = r->controls,
                                  .controls_stated = r->controls != NULL,
                                  .fit = r->fit,
                                  .pack = r->pack,
                                  .pack_known = r->pack_known,
                                  .inertia_stated = r->inertia_stated,
                                  .entry = r->entry,
                                  .entries = r->entries};
    hp_commission_make(&given, &r->list);
}

static void run_smoothly(room *r)
{
    hp_trial *t = add(r, &hp_reading_trial);
    t->wiring = hp_wiring_from_number(1);
    t->motion = HP_MOVED_FORWARD;
    t->feel = HP_FEEL_SMOOTH;
}

/* The same at full throttle, with its current: one gentle run proves no wiring. */
static void run_at_full(room *r)
{
    run_smoothly(r);
    hp_trial *t = &r->entry[r->entries - 1].trial;
    t->throttle = 1.0;
    t->battery_a = 0.2;
}

static const hp_commission_step *step(const room *r, const hp_reading *kind)
{
    return hp_commission_step_of(&r->list, kind);
}

static void good_idle(room *r)
{
    ((hp_idle_draw *)add(r, &hp_reading_idle_draw))->idle_a = 0.04;
}

static void leave_out(room *r, const hp_reading *kind)
{
    ((hp_left_out *)add(r, &hp_reading_left_out))->step = hp_left_out_number(kind);
}

static void the_list_holds_every_step_in_order(void **state)
{
    (void)state;
    room r;
    int steps = 0;
    furnish(&r);
    make(&r);
    for (int k = 0; hp_readings[k]; k++)
        steps += hp_reading_stage(hp_readings[k]) != HP_STAGE_WIRING;
    check_int(r.list.steps, steps);
    for (int k = 1; k < r.list.steps; k++) {
        const hp_reading *a = r.list.step[k - 1].reading, *b = r.list.step[k].reading;
        check_true(a->stage < b->stage || (a->stage == b->stage && a->order < b->order),
                   "%s stands before %s", a->name, b->name);
    }
}

/* Whoever adds a step adds its name to what can be left out. */
static void every_step_can_be_left_out(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    make(&r);
    for (int k = 0; k < r.list.steps; k++) {
        hp_left_out values = {hp_left_out_number(r.list.step[k].reading)};
        check_true(values.step > 0, "%s is no name of left_out", r.list.step[k].reading->name);
        check_true(hp_left_out_step(&values) == r.list.step[k].reading, "another step");
    }
    /* So can what a plan can do without, and nothing else. */
    for (int k = 0; hp_readings[k]; k++) {
        hp_plan_params plan = hp_plan_params_default();
        bool can = hp_reading_stage(hp_readings[k]) != HP_STAGE_WIRING ||
                   hp_plan_leave_out(&plan, hp_readings[k]);
        check_true((hp_left_out_number(hp_readings[k]) > 0) == can, "%s",
                   hp_reading_name(hp_readings[k]));
    }
}

static void runs_wait_for_a_wiring_that_runs(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    for (int k = 0; k < 2; k++) {
        make(&r);
        check_true(r.list.wired == (k == 1), "wired %d", r.list.wired);
        check_true(step(&r, &hp_reading_no_load)->possible == (k == 1), "no_load");
        check_true(step(&r, &hp_reading_idle_draw)->possible, "idle_draw");
        run_smoothly(&r);
    }
    /* A later word that it runs rough takes it back. */
    hp_trial *t = add(&r, &hp_reading_trial);
    t->wiring = hp_wiring_from_number(2);
    t->motion = HP_MOVED_FORWARD;
    t->feel = HP_FEEL_ROUGH;
    make(&r);
    check_true(!r.list.wired, "wired by an earlier trial");
}

static void a_held_supply_is_no_wiring_that_runs(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    run_smoothly(&r);
    ((hp_trial *)hp_entry_values(&r.entry[0]))->limit_reached = HP_TELL_YES;
    make(&r);
    check_true(!r.list.wired, "at its limit");
}

/* The runs speak for the Hall leads. */
static void need_the_plug(room *r)
{
    ((hp_hall_plug *)add(r, &hp_reading_hall_plug))->turns = HP_TELL_NO;
}

static void leave_the_others_out(room *r)
{
    need_the_plug(r);
    for (int k = 0; hp_readings[k]; k++)
        if (hp_readings[k]->stage != HP_STAGE_WIRING && hp_readings[k] != &hp_reading_idle_draw)
            leave_out(r, hp_readings[k]);
}

static void it_ends_with_a_reason(void **state)
{
    (void)state;
    room r;
    char words[400];
    furnish(&r);
    run_at_full(&r);
    make(&r);
    check_int(r.list.why, HP_COMMISSION_GOES_ON);
    leave_the_others_out(&r);
    make(&r);
    check_int(r.list.why, HP_COMMISSION_GOES_ON);
    check_true(r.list.step[r.list.next].reading == &hp_reading_idle_draw, "another is next");
    good_idle(&r);
    make(&r);
    check_int(r.list.next, -1);
    check_int(r.list.why, HP_COMMISSION_PART); /* what power would harm nobody has looked for */
    leave_out(&r, &hp_reading_pins);
    leave_out(&r, &hp_reading_supply);
    make(&r);
    check_int(r.list.why, HP_COMMISSION_LEFT);
    check_true(hp_commission_why_words(&r.list, words, sizeof words)[0] != '\0', "no words");
    ((hp_idle_draw *)add(&r, &hp_reading_idle_draw))->idle_a = 3.0;
    make(&r);
    check_int(r.list.why, HP_COMMISSION_LOOK);
    check_int(step(&r, &hp_reading_idle_draw)->finding, HP_FINDING_LOOK);
}

/* A run at full throttle that drew too much, grew warm or felt rough takes the wiring back and
 * leads to no further step, until a good one or a mend; gentle runs do not make up for it. */
static void a_failed_check_at_full_throttle_leads_nowhere(void **state)
{
    (void)state;
    static const char *const said[3] = {"drew 9 A in entry 2", "grew warm in entry 2",
                                        "felt rough in entry 2"};
    for (int k = 0; k < 3; k++) {
        room r;
        char words[800];
        furnish(&r);
        run_smoothly(&r);
        run_smoothly(&r);
        hp_trial *full = &r.entry[1].trial;
        full->throttle = 1.0;
        full->battery_a = k == 0 ? 9.0 : (double)NAN;
        full->warm = k == 1 ? HP_TELL_YES : HP_TELL_UNSAID;
        full->feel = k == 2 ? HP_FEEL_ROUGH : HP_FEEL_SMOOTH;
        run_smoothly(&r);
        make(&r);
        check_int(r.list.why, HP_COMMISSION_CHECK);
        check_int(r.list.next, -1);
        check_true(!r.list.wired && r.list.failed.stands, "passed over");
        check_true(!step(&r, &hp_reading_no_load)->possible, "runs wait");
        check_text_contains(hp_commission_why_words(&r.list, words, sizeof words), said[k]);
        run_smoothly(&r);
        r.entry[3].trial.throttle = 1.0;
        r.entry[3].trial.battery_a = 0.3;
        r.entry[3].trial.warm = HP_TELL_NO;
        make(&r);
        check_true(r.list.wired && r.list.why == HP_COMMISSION_GOES_ON, "a good run takes it back");
        r.entries = 3;
        add(&r, &hp_reading_mend);
        run_smoothly(&r);
        make(&r);
        check_true(r.list.wired, "mended");
    }
}

static hp_no_load *good_run(room *r, int turning)
{
    hp_no_load *n = add(r, &hp_reading_no_load);
    const hp_fit_choice choice = {.trusts = true};
    hp_machine_fit fit;
    make(r);
    hp_machine_fit_make(&r->list.given, &choice, &fit);
    hp_no_load_told told = hp_machine_no_load(&fit, r->drive.supply.emf_v);
    n->full = (hp_steady){told.rad_s, told.battery_a, r->drive.supply.emf_v};
    n->turning = turning;
    return n;
}

/* Who has no trial but a run at full throttle that was as it ought to be, forward, has a wiring
 * that runs. Which way it turned must be said: a reverse wiring runs the same. */
static void a_good_forward_run_without_a_trial_is_a_wiring_that_runs(void **state)
{
    (void)state;
    room r;
    char words[400];
    furnish(&r);
    good_run(&r, HP_TURNING_FORWARD);
    make(&r);
    check_true(r.list.wired && r.list.ran == &r.entry[0], "not taken");
    r.entries = 0;
    good_run(&r, HP_TURNING_UNSAID);
    for (int k = 0; hp_readings[k]; k++)
        if (hp_readings[k]->stage != HP_STAGE_WIRING && hp_readings[k] != &hp_reading_no_load)
            leave_out(&r, hp_readings[k]);
    make(&r);
    check_true(!r.list.wired && r.list.way_unsaid && !r.list.ran, "nobody saw it turn");
    check_int(r.list.why, HP_COMMISSION_WIRING);
    check_text_contains(hp_commission_why_words(&r.list, words, sizeof words), "which way");
    r.entries = 0;
    good_run(&r, HP_TURNING_BACKWARD);
    make(&r);
    check_true(!r.list.wired, "backward");
    check_int(r.list.why, HP_COMMISSION_STOPPED);
    check_int(step(&r, &hp_reading_no_load)->code, HP_NO_LOAD_BACKWARD);
    check_true(r.list.failed.stands, "it stands");
    check_int(r.list.failed.entry[HP_CHECK_TURNED], 1);
    check_int(r.list.failed.entry[HP_CHECK_CURRENT], 0);
    r.entries = 0;
    good_run(&r, HP_TURNING_FORWARD)->full.battery_a = 15.0;
    make(&r);
    check_true(!r.list.wired && r.list.failed.stands && !r.list.ran, "so much current");
    /* After a trial that runs, a run says nothing new of who is joined; after a rough one it does.
     */
    r.entries = 0;
    run_smoothly(&r);
    good_run(&r, HP_TURNING_UNSAID);
    make(&r);
    check_true(r.list.wired && !r.list.ran && !r.list.way_unsaid, "the trial says it");
    r.entry[0].trial.feel = HP_FEEL_ROUGH;
    make(&r);
    check_true(!r.list.wired && r.list.way_unsaid, "a rough trial does not");
    r.entries = 0;
    run_smoothly(&r);
    good_run(&r, HP_TURNING_FORWARD);
    make(&r);
    check_true(r.list.ran_joined == &r.entry[1] && !r.list.ran, "it is that of the trial's wiring");
}

static hp_trial *run_number(room *r, int number, double battery_a)
{
    run_smoothly(r);
    hp_trial *t = &r->entry[r->entries - 1].trial;
    t->wiring = hp_wiring_from_number(number);
    t->battery_a = battery_a;
    return t;
}

/* What a run showed is of the wiring that it was made with. */
static void a_run_of_another_wiring_is_open_again(void **state)
{
    (void)state;
    room r;
    char words[HP_COMMISSION_WHY_WORDS];
    furnish(&r);
    run_number(&r, 1, 0.3);
    hp_no_load *run = good_run(&r, HP_TURNING_FORWARD);
    make(&r);
    check_int(step(&r, &hp_reading_no_load)->finding, HP_FINDING_GOOD);
    run_number(&r, 1, 0.3);
    make(&r);
    check_int(step(&r, &hp_reading_no_load)->finding, HP_FINDING_GOOD);
    run_number(&r, 12, 0.3);
    make(&r);
    const hp_commission_step *open = step(&r, &hp_reading_no_load);
    check_int(open->finding, HP_FINDING_NONE);
    check_true(!open->entry && open->possible, "it can be run anew");
    check_int(open->other, 2);
    check_int(open->other_wiring, 1);
    check_int(open->joined, 12);
    check_int(r.list.why, HP_COMMISSION_GOES_ON);
    check_text_contains(hp_commission_why_words(&r.list, words, sizeof words),
                        "The no-load run is open again: entry 2 was made with wiring 1, and wiring "
                        "12 was joined since.");
    /* So is one that found a stop: it tells of that wiring. */
    run->full.battery_a = 15.0;
    make(&r);
    check_int(step(&r, &hp_reading_no_load)->finding, HP_FINDING_NONE);
    /* A run of this one closes it; so does a return to that one. */
    run->full.battery_a = 0.4;
    good_run(&r, HP_TURNING_FORWARD);
    make(&r);
    check_int(step(&r, &hp_reading_no_load)->finding, HP_FINDING_GOOD);
    check_int(step(&r, &hp_reading_no_load)->other, 0);
    r.entries--;
    run_number(&r, 1, 0.3);
    make(&r);
    check_int(step(&r, &hp_reading_no_load)->entry->number, 2);
    /* A mend leaves nothing of a run. */
    add(&r, &hp_reading_mend);
    make(&r);
    open = step(&r, &hp_reading_no_load);
    check_true(!open->entry && open->other == 2 && open->other_wiring == 0, "before the mend");
    check_text_contains(
        hp_commission_why_words(&r.list, words, sizeof words),
        "The no-load run is open again: entry 2 was made before a part was mended.");
    /* The same wiring that turned the wheel no more, and does again: its run is of before. */
    r.entries = 0;
    run_number(&r, 1, 0.3);
    good_run(&r, HP_TURNING_FORWARD);
    hp_trial *later = run_number(&r, 1, 0.05);
    later->motion = HP_MOVED_STILL;
    run_number(&r, 1, 0.3);
    make(&r);
    open = step(&r, &hp_reading_no_load);
    check_true(!open->entry && open->other == 2 && open->other_failed == 3, "before it failed");
    check_int(open->other_wiring, 0);
    check_text_contains(hp_commission_why_words(&r.list, words, sizeof words),
                        "The no-load run is open again: entry 2 was made before the wheel did not "
                        "turn as it ought to in entry 3.");
    later->motion = HP_MOVED_UNSAID;
    make(&r);
    check_int(step(&r, &hp_reading_no_load)->entry->number, 2);
    later->motion = HP_MOVED_STILL;
    later->wiring = hp_wiring_from_number(12);
    make(&r);
    check_int(step(&r, &hp_reading_no_load)->entry->number, 2);
    /* What held the controller off was put right: that is a mend, too. */
    r.entries = 2;
    ((hp_controls *)add(&r, &hp_reading_controls))->found = HP_FOUND_BRAKE;
    make(&r);
    open = step(&r, &hp_reading_no_load);
    check_true(!open->entry && open->other == 2 && !open->other_failed, "before it was put right");
    /* Nobody knows of which wiring a run is that was made before one that ran ill. */
    r.entries = 0;
    good_run(&r, HP_TURNING_FORWARD);
    run_number(&r, 1, 0.3)->feel = HP_FEEL_ROUGH;
    run_number(&r, 12, 0.3);
    make(&r);
    check_int(step(&r, &hp_reading_no_load)->other, 0);
    check_true(step(&r, &hp_reading_no_load)->entry != NULL, "it stands");
}

/* A danger that a reading shows stops the list as it stops the advice; of each kind the latest
 * reading decides. */
static void a_danger_of_a_reading_stops_every_step(void **state)
{
    (void)state;
    room r;
    char words[HP_COMMISSION_WHY_WORDS];
    furnish(&r);
    run_smoothly(&r);
    add(&r, &hp_reading_supply);
    r.entry[1].supply.volts = 50.0;
    make(&r);
    check_int(r.list.why, HP_COMMISSION_DANGER);
    check_true(r.list.danger == &hp_danger_sensor_volts && r.list.danger_entry == 2, "which");
    check_int(r.list.next, -1);
    check_text_contains(hp_commission_why_words(&r.list, words, sizeof words),
                        "Stop: the Hall supply is too high (entry 2).");
    add(&r, &hp_reading_supply);
    r.entry[2].supply.volts = 5.0;
    make(&r);
    check_int(r.list.why, HP_COMMISSION_GOES_ON);
}

/* What is logged as a trial because a no-load run was good is what that run was of; not so where
 * another wiring was joined then, the trial ran ill, a part was mended or a run drew too much. */
static void a_good_run_bears_out_the_trial_that_is_logged_after_it(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    good_run(&r, HP_TURNING_FORWARD);
    make(&r);
    check_true(r.list.ran && !r.list.bears_out, "no trial yet");
    run_number(&r, 1, 0.3);
    make(&r);
    check_true(r.list.wired && r.list.bears_out == &r.entry[0], "before its trial");
    hp_trial *second = run_number(&r, 1, 0.3);
    make(&r);
    check_true(r.list.bears_out == &r.entry[0], "before two of them");
    second->wiring = hp_wiring_from_number(2);
    make(&r);
    check_true(!r.list.bears_out, "it was wiring 1's");
    r.entries = 2;
    r.entry[1].trial.feel = HP_FEEL_ROUGH;
    make(&r);
    check_true(!r.list.bears_out, "a rough trial");
    r.entry[1].trial.feel = HP_FEEL_SMOOTH;
    good_run(&r, HP_TURNING_FORWARD)->full.battery_a = 15.0;
    make(&r);
    check_true(!r.list.bears_out, "so much current");
    r.entries = 1;
    add(&r, &hp_reading_mend);
    run_number(&r, 1, 0.3);
    make(&r);
    check_true(!r.list.bears_out, "mended since");
    good_run(&r, HP_TURNING_FORWARD);
    make(&r);
    check_true(r.list.bears_out == &r.entry[3], "after its trial");
    r.entries = 0;
    good_run(&r, HP_TURNING_UNSAID);
    run_number(&r, 1, 0.3);
    make(&r);
    check_true(!r.list.bears_out, "nobody saw it turn");
}

static void no_other_run_bears_out_a_trial(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    good_run(&r, HP_TURNING_FORWARD);
    r.entry[0].typical = true;
    run_number(&r, 1, 0.3);
    make(&r);
    check_true(r.list.wired && !r.list.bears_out, "typical figures were measured by nobody");
    r.entry[0].typical = false;
    make(&r);
    check_true(r.list.bears_out == &r.entry[0], "measured ones bear it out");
    r.entries = 1;
    good_run(&r, HP_TURNING_FORWARD)->full.battery_a = 15.0;
    run_number(&r, 1, 0.3);
    make(&r);
    check_true(r.list.wired && !r.list.bears_out, "the newer of two runs drew too much");
    r.entries = 0;
    run_number(&r, 2, 0.3);
    good_run(&r, HP_TURNING_FORWARD);
    run_number(&r, 1, 0.3);
    make(&r);
    check_true(r.list.wired && !r.list.bears_out, "it was wiring 2's");
    r.entries = 2;
    run_number(&r, 2, 0.3)->feel = HP_FEEL_ROUGH;
    make(&r);
    check_true(!r.list.wired && !r.list.bears_out, "the newest trial ran ill");
    r.entries = 0;
    run_number(&r, 2, 0.3);
    run_number(&r, 3, 0.3)->feel = HP_FEEL_ROUGH;
    good_run(&r, HP_TURNING_FORWARD);
    make(&r);
    check_true(r.list.wired && !r.list.bears_out, "nor does it bear out an older one");
}

/* Joined is what the newest trial says, where it ran forward and was not rough; a mend parts leads.
 */
static void what_is_joined_is_what_ran_last_since_a_mend(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    run_number(&r, 4, 0.3);
    hp_trial *last = run_number(&r, 7, 0.3);
    good_idle(&r);
    check_int(hp_joined_at(r.entry, 0), 0);
    check_int(hp_joined_at(r.entry, 1), 4);
    check_int(hp_joined_at(r.entry, r.entries), 7);
    last->feel = HP_FEEL_UNSAID;
    check_int(hp_joined_at(r.entry, r.entries), 7);
    last->feel = HP_FEEL_ROUGH;
    check_int(hp_joined_at(r.entry, r.entries), 0);
    last->feel = HP_FEEL_SMOOTH;
    last->motion = HP_MOVED_BACKWARD;
    check_int(hp_joined_at(r.entry, r.entries), 0);
    last->motion = HP_MOVED_FORWARD;
    add(&r, &hp_reading_mend);
    check_int(hp_joined_at(r.entry, r.entries), 0);
    run_number(&r, 9, 0.3);
    check_int(hp_joined_at(r.entry, r.entries), 9);
}

static void mend(room *r, hp_fault_kind kind)
{
    ((hp_mend *)add(r, &hp_reading_mend))->fault = (hp_fault){kind, 0};
}

static hp_brake_reading *good_brake(room *r)
{
    hp_brake_reading *b = add(r, &hp_reading_brake);
    for (int k = 0; k < 2; k++) {
        b->stops[k] = HP_TELL_YES;
        b->stop_s[k] = 0.2;
    }
    return b;
}

/* Nobody knows of another controller, or of a mended one, whether it heeds the lever, what it takes
 * a lost lead for, what it draws. A mended lead leaves all that as it was, and no controller makes
 * a pedal sensor. What had to be mended stays until it is measured again. */
static void exchange(room *r, hp_mended what)
{
    *(hp_mend *)add(r, &hp_reading_mend) = (hp_mend){.what = what};
}

static void what_another_controller_answered_is_open_again(void **state)
{
    static const hp_reading *const answered[] = {&hp_reading_brake, &hp_reading_idle_draw,
                                                 &hp_reading_learn_lead};
    (void)state;
    for (int part = 0; part < 2; part++) {
        room r;
        furnish(&r);
        run_smoothly(&r);
        good_brake(&r);
        good_idle(&r);
        ((hp_learn_lead_reading *)add(&r, &hp_reading_learn_lead))->fitted = HP_TELL_NO;
        ((hp_pedal_reading *)add(&r, &hp_reading_pedal_sensor))->fitted = HP_TELL_NO;
        mend(&r, part ? HP_FAULT_SILENT : HP_FAULT_LEAD_OPEN);
        make(&r);
        for (int k = 0; k < 3; k++) {
            const hp_commission_step *s = step(&r, answered[k]);
            check_true((s->entry == NULL) == (part == 1), "%s, part %d", s->reading->name, part);
            check_int(s->other, part ? k + 2 : 0);
        }
        check_true(step(&r, &hp_reading_pedal_sensor)->entry != NULL, "no pedal sensor");
    }
    room r;
    furnish(&r);
    good_brake(&r)->stops[1] = HP_TELL_NO;
    make(&r);
    check_int(step(&r, &hp_reading_brake)->finding, HP_FINDING_STOP);
    mend(&r, HP_FAULT_SILENT);
    make(&r);
    /* A stop that stayed would forbid the run in which the levers are tried again. */
    check_true(step(&r, &hp_reading_brake)->entry == NULL, "open");
    check_int(step(&r, &hp_reading_brake)->other, 1);
    hp_brake_reading *b = add(&r, &hp_reading_brake);
    b->stops[0] = HP_TELL_YES;
    b->stop_s[0] = 0.2;
    make(&r);
    check_true(step(&r, &hp_reading_brake)->part, "one lever");
    b = add(&r, &hp_reading_brake);
    b->stops[1] = HP_TELL_YES;
    make(&r);
    /* Nothing is wrong any more, but what the old one answered does not make it good. */
    check_int(step(&r, &hp_reading_brake)->finding, HP_FINDING_NOTED);
    check_true(step(&r, &hp_reading_brake)->part, "not all of it");
    good_brake(&r);
    make(&r);
    check_int(step(&r, &hp_reading_brake)->finding, HP_FINDING_GOOD);
    check_int(step(&r, &hp_reading_brake)->other, 0);
}

/* What lost leads do is the controller's: another one opens the step again, whatever the old one
 * did, and so does another grip; what takes no power stays until it was measured again. */
static void a_stop_of_a_powered_step_opens_with_its_mend(void **state)
{
    (void)state;
    static const hp_mended what[] = {HP_MENDED_CONTROLLER, HP_MENDED_THROTTLE, HP_MENDED_KEY};
    for (int k = 0; k < 3; k++) {
        room r;
        furnish(&r);
        run_smoothly(&r);
        hp_throttle_reading *t = add(&r, &hp_reading_throttle);
        t->turned = HP_LOST_NONE;
        t->runs_on = HP_LOST_GROUND;
        make(&r);
        check_int(r.list.why, HP_COMMISSION_STOPPED);
        exchange(&r, what[k]);
        make(&r);
        check_int(r.list.why == HP_COMMISSION_STOPPED, k == 2);
        check_int(step(&r, &hp_reading_throttle)->entry == NULL, k != 2);
    }
    room r;
    furnish(&r);
    ((hp_hub_reading *)add(&r, &hp_reading_hub))->clutch = HP_CLUTCH_SLIPS;
    make(&r);
    check_int(step(&r, &hp_reading_hub)->finding, HP_FINDING_STOP);
    mend(&r, HP_FAULT_CLUTCH);
    make(&r);
    check_int(step(&r, &hp_reading_hub)->finding, HP_FINDING_STOP);
}

static hp_pins *clear_pins(room *r)
{
    hp_pins *pins = add(r, &hp_reading_pins);
    pins->shell = pins->crossed = HP_TELL_NO;
    return pins;
}

static void good_supply(room *r)
{
    ((hp_supply_reading *)add(r, &hp_reading_supply))->volts = 5.0;
}

/* The new sensor's leads may touch what they should not, the hub was opened for it; another battery
 * sags as it does. A lead that was made fast is the same lead. */
static void what_is_of_a_mended_part_is_open_again(void **state)
{
    (void)state;
    static const struct {
        hp_fault_kind part;
        bool pins, hub, pack;
    } cases[] = {
        {HP_FAULT_SENSOR_LOW, true, true, false}, {HP_FAULT_LEAD_OPEN, true, false, false},
        {HP_FAULT_CLUTCH, false, true, false},    {HP_FAULT_CUTTING_OUT, false, false, true},
        {HP_FAULT_SILENT, false, false, true},    {HP_FAULT_LOOSE, false, false, false}};
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        room r;
        furnish(&r);
        clear_pins(&r);
        good_supply(&r);
        ((hp_hub_reading *)add(&r, &hp_reading_hub))->cover_nm = 4.0;
        ((hp_shared_pack_reading *)add(&r, &hp_reading_shared_pack))->shared = HP_TELL_YES;
        mend(&r, cases[k].part);
        make(&r);
        int pins = 0;
        for (int n = 0; n < r.list.unguarded_count; n++)
            pins += r.list.unguarded[n].reading == &hp_reading_pins;
        check_int(pins, cases[k].pins);
        check_int(step(&r, &hp_reading_hub)->other, cases[k].hub ? 3 : 0);
        check_int(step(&r, &hp_reading_shared_pack)->other, cases[k].pack ? 4 : 0);
    }
}

static void good_sag(room *r)
{
    *(hp_sag *)add(r, &hp_reading_sag) = (hp_sag){1.0, 36.0, 10.0, 35.0, NAN};
}

/* What was read of the grip, lever, switch, sensor or battery that was there before is not read of
 * the new one: not good, not learnt. What has nothing to do with it stays. */
static void a_new_part_is_measured_as_the_old_one_was(void **state)
{
    (void)state;
    static const struct {
        hp_mended what;
        const hp_reading *step;
    } cases[] = {{HP_MENDED_KEY, &hp_reading_key},
                 {HP_MENDED_THROTTLE, &hp_reading_throttle},
                 {HP_MENDED_BRAKE_LEFT, &hp_reading_brake},
                 {HP_MENDED_BRAKE_RIGHT, &hp_reading_brake},
                 {HP_MENDED_PEDAL_SENSOR, &hp_reading_pedal_sensor},
                 {HP_MENDED_SPEED_SWITCH, &hp_reading_speed_switch},
                 {HP_MENDED_BATTERY, &hp_reading_sag}};
    static const hp_reading *const steps[] = {&hp_reading_key,          &hp_reading_throttle,
                                              &hp_reading_brake,        &hp_reading_pedal_sensor,
                                              &hp_reading_speed_switch, &hp_reading_sag};
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        room r;
        furnish(&r);
        run_smoothly(&r);
        ((hp_key_reading *)add(&r, &hp_reading_key))->stops = HP_TELL_YES;
        ((hp_throttle_reading *)add(&r, &hp_reading_throttle))->springs = HP_TELL_YES;
        /* A lever without a switch got one. */
        ((hp_brake_reading *)add(&r, &hp_reading_brake))->fitted = HP_TELL_NO;
        ((hp_pedal_reading *)add(&r, &hp_reading_pedal_sensor))->fitted = HP_TELL_NO;
        ((hp_speed_reading *)add(&r, &hp_reading_speed_switch))->fitted = HP_TELL_NO;
        good_sag(&r);
        make(&r);
        check_true(r.list.own.figure[HP_OWN_SUPPLY_OHM].known, "learnt");
        exchange(&r, cases[k].what);
        make(&r);
        for (size_t n = 0; n < sizeof steps / sizeof steps[0]; n++)
            check_true((step(&r, steps[n])->entry == NULL) == (steps[n] == cases[k].step),
                       "case %zu, %s", k, steps[n]->name);
        check_true(step(&r, cases[k].step)->other > 0, "case %zu: why", k);
        bool battery = cases[k].what == HP_MENDED_BATTERY;
        check_true(r.list.own.figure[HP_OWN_SUPPLY_OHM].known == !battery, "case %zu", k);
        check_true((r.list.battery != NULL) == battery, "case %zu", k);
        for (int e = 0; e < 7; e++)
            check_true(hp_entry_outdated(&r.entry[e], &r.entry[7]) ==
                           (r.entry[e].reading == cases[k].step ||
                            (e == 0 && hp_entry_renews(&r.entry[7]) != HP_RENEWS_NOTHING)),
                       "case %zu, entry %d", k, e + 1);
        /* Measured again, it is of the new one. */
        if (battery)
            good_sag(&r);
        make(&r);
        check_true(!r.list.battery, "case %zu: measured", k);
    }
}

/* Grip volts of an earlier entry count for a throttle, but not for another one. */
static void volts_of_the_old_grip_are_not_of_the_new_one(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    run_smoothly(&r);
    hp_controls *c = add(&r, &hp_reading_controls);
    c->found = HP_FOUND_NOTHING;
    c->rest_v = 0.8;
    c->full_v = 4.2;
    hp_throttle_reading *t = add(&r, &hp_reading_throttle);
    t->springs = HP_TELL_YES;
    t->turned = HP_LOST_NONE;
    make(&r);
    check_int(step(&r, &hp_reading_throttle)->finding, HP_FINDING_GOOD);
    exchange(&r, HP_MENDED_THROTTLE);
    r.entry[r.entries] = r.entry[2];
    r.entry[r.entries].number = r.entries + 1;
    r.entries++;
    make(&r);
    check_int(step(&r, &hp_reading_throttle)->finding, HP_FINDING_NOTED);
}

/* A lever that held the controller off and was exchanged holds it off no more. */
static void what_held_it_off_and_was_exchanged_is_over(void **state)
{
    (void)state;
    room r;
    hp_controls_params controls = hp_controls_params_default();
    controls.brake.expects = HP_SWITCH_NORMALLY_OPEN;
    furnish(&r);
    r.controls = &controls;
    hp_controls *c = add(&r, &hp_reading_controls);
    c->found = HP_FOUND_NOTHING;
    c->brake_v = 0.1;
    make(&r);
    check_true(r.list.held.entry != NULL, "held");
    exchange(&r, HP_MENDED_BRAKE_LEFT);
    make(&r);
    check_true(!r.list.held.entry, "another lever");
    /* It may have been the cause of a controller that drives nothing. */
    hp_hypothesis silent = {.fault = {HP_FAULT_SILENT, 0}};
    hp_hypothesis open = {.fault = {HP_FAULT_LEAD_OPEN, 1}};
    hp_reading_mend.change(hp_entry_said(&r.entry[1]), &silent);
    hp_reading_mend.change(hp_entry_said(&r.entry[1]), &open);
    check_int(silent.fault.kind, HP_FAULT_NONE);
    check_int(open.fault.kind, HP_FAULT_LEAD_OPEN);
}

/* Of a mend without a part nobody knows which readings are of the old one. */
static void a_mend_that_names_no_part_says_what_it_may_be_of(void **state)
{
    (void)state;
    room r;
    char words[HP_COMMISSION_WHY_WORDS];
    furnish(&r);
    run_smoothly(&r);
    good_brake(&r);
    good_idle(&r);
    ((hp_pedal_reading *)add(&r, &hp_reading_pedal_sensor))->fitted = HP_TELL_NO;
    mend(&r, HP_FAULT_UNLISTED);
    make(&r);
    check_true(r.list.unnamed == &r.entry[4], "named");
    check_text_contains(hp_commission_why_words(&r.list, words, sizeof words),
                        "Entry 5 does not say which part was mended. Was it one that these steps "
                        "look at, do them once more: brake (entry 2), idle draw (entry 3).");
    good_brake(&r);
    good_idle(&r);
    make(&r);
    check_true(!strstr(hp_commission_why_words(&r.list, words, sizeof words), "Entry 5"), "done");
}

static void park_on(room *r, int lead)
{
    hp_park *park = add(r, &hp_reading_park);
    park->lead = lead;
    park->code = 1;
}

/* Of Hall leads that nothing but runs speaks for the list says so, and is not ready over it. */
static void hall_leads_that_runs_alone_speak_for_are_open(void **state)
{
    (void)state;
    room r;
    char words[HP_COMMISSION_WHY_WORDS];
    furnish(&r);
    run_smoothly(&r);
    make(&r);
    check_int(r.list.plug, HP_PLUG_SETTLED); /* the final check comes first */
    run_at_full(&r);
    for (int k = 0; hp_readings[k]; k++)
        if (hp_reading_stage(hp_readings[k]) != HP_STAGE_WIRING)
            leave_out(&r, hp_readings[k]);
    clear_pins(&r);
    good_supply(&r);
    make(&r);
    check_int(r.list.plug, HP_PLUG_OWED);
    check_int(r.list.why, HP_COMMISSION_PART);
    check_text_contains(hp_commission_why_words(&r.list, words, sizeof words),
                        "Nobody has pulled the Hall plug yet");
    int entries = r.entries;
    leave_out(&r, &hp_reading_hall_plug);
    make(&r);
    check_int(r.list.plug, HP_PLUG_UNTRIED);
    check_int(r.list.why, HP_COMMISSION_LEFT);
    check_text_contains(hp_commission_why_words(&r.list, words, sizeof words),
                        "Nobody has tried whether this controller also runs");
    r.entries = entries;
    r.plan.allowed &= ~hp_allow(&hp_reading_hall_plug);
    make(&r);
    check_int(r.list.plug, HP_PLUG_UNTRIED);
    r.plan.allowed |= hp_allow(&hp_reading_hall_plug);
    make(&r);
    check_int(r.list.plug, HP_PLUG_OWED);
    r.plan.powered = false;
    make(&r);
    check_int(r.list.plug, HP_PLUG_UNTRIED);
    r.plan.powered = true;
    ((hp_hall_plug *)add(&r, &hp_reading_hall_plug))->turns = HP_TELL_YES;
    make(&r);
    check_int(r.list.plug, HP_PLUG_SETTLED);
    check_true(r.list.plug_pulled == &r.entry[entries], "the entry that says so");
    check_int(r.list.why, HP_COMMISSION_LOOK);
    check_text_contains(hp_commission_why_words(&r.list, words, sizeof words),
                        "leave the Hall plug out");
    check_text_contains(words, "Not ready: every step was left out, and what is marked");
    check_true(!strstr(words, "Start gently"), "it is not to be ridden yet");
    /* Where none of the readings that tell it can be taken, nobody waits for them: left out
     * all of them in the log, or some of them by the scenario. */
    const int pulled = r.entries;
    leave_out(&r, &hp_reading_park);
    make(&r);
    check_int(r.list.why, HP_COMMISSION_LOOK);
    leave_out(&r, &hp_reading_hand_turn);
    make(&r);
    check_true(r.list.plug_pulled == &r.entry[entries], "still not proved");
    check_int(r.list.why, HP_COMMISSION_LEFT);
    hp_commission_why_words(&r.list, words, sizeof words);
    check_text_contains(words, "Every step was left out: nobody has looked");
    check_text_contains(words, "both halves insulated. Start gently");
    r.entries--;
    r.plan.allowed &= ~hp_allow(&hp_reading_hand_turn);
    make(&r);
    check_int(r.list.why, HP_COMMISSION_LEFT);
    r.plan.allowed |= hp_allow(&hp_reading_hand_turn);
    r.entries = pulled;
    /* Two parks say where they belong, one does not. */
    park_on(&r, 0);
    make(&r);
    check_true(r.list.plug_pulled != NULL, "one park");
    park_on(&r, 0);
    make(&r);
    check_true(r.list.plug_pulled != NULL, "the same once more");
    park_on(&r, 2);
    make(&r);
    check_true(!r.list.plug_pulled, "two parks");
    check_int(r.list.why, HP_COMMISSION_LEFT);
    /* So do one and the codes of a turn; two codes have no sense yet. */
    r.entries -= 2;
    hp_hand_turn *turn = add(&r, &hp_reading_hand_turn);
    turn->count = 2;
    turn->code[0] = 1;
    turn->code[1] = 3;
    make(&r);
    check_true(r.list.plug_pulled != NULL, "a park and two codes");
    turn->count = 3;
    turn->code[2] = 2;
    make(&r);
    check_true(!r.list.plug_pulled, "a park and a turn");
}

/* What power would harm and nobody looked for is asked for, and is no ready; a danger that no entry
 * speaks of was not looked for, whatever else that entry holds. */
static void what_power_would_harm_is_not_passed_over(void **state)
{
    (void)state;
    room r;
    char words[HP_COMMISSION_WHY_WORDS];
    furnish(&r);
    run_at_full(&r);
    leave_the_others_out(&r);
    good_idle(&r);
    make(&r);
    check_int(r.list.unguarded_count, 2);
    check_int(r.list.why, HP_COMMISSION_PART);
    check_text_contains(hp_commission_why_words(&r.list, words, sizeof words),
                        "Nobody has tried the leads against shell and Hall leads, and nobody has "
                        "measured the Hall supply: do that, and log it, before the first ride.");
    hp_pins *pins = add(&r, &hp_reading_pins);
    pins->shell = HP_TELL_NO;
    good_supply(&r);
    make(&r);
    check_int(r.list.unguarded_count, 1);
    check_true(r.list.unguarded[0].reading == &hp_reading_pins, "the Hall leads were not tried");
    pins->crossed = HP_TELL_NO;
    make(&r);
    check_int(r.list.unguarded_count, 0);
    check_int(r.list.why, HP_COMMISSION_LEFT);
    /* That it cannot be done takes nothing of it away. */
    r.entries -= 2;
    leave_out(&r, &hp_reading_pins);
    leave_out(&r, &hp_reading_supply);
    make(&r);
    check_int(r.list.why, HP_COMMISSION_LEFT);
    check_text_contains(hp_commission_why_words(&r.list, words, sizeof words),
                        "Mind that nobody has tried the leads against shell and Hall leads, and "
                        "nobody has measured the Hall supply.");
}

/* The one question has one answer, by whichever entry; another controller has its own. */
static void the_hall_supply_counts_until_the_controller_is_another(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    clear_pins(&r);
    ((hp_controls *)add(&r, &hp_reading_controls))->supply_v = 5.0;
    make(&r);
    check_int(r.list.unguarded_count, 0);
    r.entries = 1;
    good_supply(&r);
    run_smoothly(&r);
    mend(&r, HP_FAULT_SILENT);
    make(&r);
    check_int(r.list.unguarded_count, 1);
    check_true(r.list.unguarded[0].reading == &hp_reading_supply, "another");
    check_int(r.list.unguarded[0].other, 2);
    check_int(r.list.unguarded[0].mend, 4);
    check_true(!r.list.unguarded[0].ran, "that was the old one");
    run_smoothly(&r);
    make(&r);
    check_true(r.list.unguarded_count == 1 && r.list.unguarded[0].ran, "the new one ran");
    good_supply(&r);
    make(&r);
    check_int(r.list.unguarded_count, 0);
}

/* Before the action that joins the motor, with how one finds out; not once a wheel has run so. */
static void a_run_says_first_what_nobody_has_measured(void **state)
{
    (void)state;
    static hp_card card;
    static const char *const caution[2] = {"Leads not tried against shell and Hall leads",
                                           "Hall plug stays out until its volts are known"};
    for (int ran = 0; ran < 2; ran++) {
        room r;
        furnish(&r);
        leave_out(&r, &hp_reading_pins);
        leave_out(&r, &hp_reading_supply);
        if (ran)
            run_smoothly(&r);
        make(&r);
        const hp_card_context context = {
            .drive = &r.drive, .labels = &r.labels, .plan = &r.plan, .commission = &r.list};
        const hp_advice advice = {.kind = HP_ADVICE_TRY,
                                  .lead = -1,
                                  .wiring = hp_wiring_from_number(1),
                                  .number = 1,
                                  .certainty = 0.1};
        hp_card_make(&context, &advice, &card);
        check_true((strstr(card.reason, "measured the Hall supply: that comes before action 1") !=
                    NULL) == !ran,
                   "%s", card.reason);
        for (int k = 0; k < 2; k++) {
            bool told = false;
            for (int c = 0; c < card.cautions; c++) {
                bool own = strstr(card.caution[c], caution[k]) != NULL;
                check_true(!own || card.caution_at[c] == 0, "not at the plug");
                check_true(!own || strlen(card.caution[c]) <= 80, "more than a line");
                told = told || own;
            }
            check_true(told == !ran, "%s, ran %d", caution[k], ran);
        }
        bool how = false, live = false;
        for (int d = 0; d < card.details; d++)
            how = how || (card.detail_at[d] == 0 && strstr(card.detail[d], "No meter?"));
        for (int c = 0; c < card.cautions; c++)
            live = live || (card.caution_of[c] == HP_HAZARD_LIVE_BOARD && card.caution_at[c] == 0);
        check_true(how == !ran && live == !ran, "how one finds out");
    }
}

/* Whatever the step is called: what joins the battery to the controller, or drives the motor, is
 * power. What finds out before power is not asked for itself, and a shared pack is measured at its
 * own plug. */
static void every_card_that_brings_power_says_what_nobody_has_measured(void **state)
{
    (void)state;
    static hp_card card;
    room r;
    furnish(&r);
    make(&r);
    const hp_card_context context = {
        .drive = &r.drive, .labels = &r.labels, .plan = &r.plan, .commission = &r.list};
    int told = 0;
    for (int k = 0; hp_readings[k]; k++) {
        const hp_advice advice = {
            .kind = HP_ADVICE_READ, .reading = hp_readings[k], .lead = -1, .certainty = 0.1};
        int power = -1;
        hp_card_make(&context, &advice, &card);
        for (int at = card.hows - 1; at >= 0; at--)
            if (card.doing[at] & (HP_DOING_BATTERY | HP_DOING_THROTTLE | HP_DOING_SELF_START))
                power = at;
        if (power < 0 || hp_readings[k]->guards || hp_readings[k] == &hp_reading_shared_pack)
            continue;
        told++;
        bool first = strstr(card.reason, "Nobody has tried the leads against shell and Hall leads, "
                                         "and nobody has measured the Hall supply: that comes "
                                         "before action ") == card.reason;
        check_true(first, "%s: %s", hp_reading_name(hp_readings[k]), card.reason);
        bool caution[2] = {false};
        for (int c = 0; c < card.cautions; c++)
            for (int n = 0; n < 2; n++)
                caution[n] =
                    caution[n] ||
                    (strstr(card.caution[c], n ? "Hall plug stays out until" : "Leads not tried") &&
                     card.caution_at[c] <= power);
        check_true(caution[0] && caution[1], "%s", hp_reading_name(hp_readings[k]));
    }
    check_true(told >= 12, "%d cards bring power", told);
}

/* Whoever tries wiring after wiring on such a controller looks for the fault in the wrong place. */
static void a_trial_says_that_the_controller_never_drives(void **state)
{
    (void)state;
    enum { FINE, BRAKE, FAULT, OPEN, PEDALS, REST, AWAY, UNSTATED, CASES };
    static const char *const said[CASES] = {
        [BRAKE] = "takes its brake input for a pulled lever with the lever let go",
        [FAULT] = "takes the full throttle for a broken one",
        [OPEN] = "never sees the throttle let go",
        [PEDALS] = "never sees the pedals turn forward",
        [REST] = "sees nothing asked for by a full throttle",
        [AWAY] = "drives as soon as it is on"};
    static hp_card card;
    for (int k = 0; k < CASES; k++) {
        room r;
        furnish(&r);
        hp_controls_params c = hp_controls_params_default();
        if (k == BRAKE || k == UNSTATED)
            c.brake.fitted = HP_SWITCH_NORMALLY_CLOSED;
        if (k == FAULT)
            c.throttle.fault_high_v = c.throttle.full_v - 0.1;
        if (k == OPEN || k == AWAY)
            c.throttle.rest_v = c.throttle.starts_v + 0.3;
        c.throttle.refuses_open = k != AWAY;
        if (k == PEDALS)
            c.pedal = (hp_pedal_params){
                .mode = HP_PEDAL_GATES, .high_share = 0.3, .forward = HP_PEDAL_MOSTLY_HIGH};
        if (k == REST)
            c.throttle.full_v = c.throttle.starts_v - 0.01;
        r.controls = k == UNSTATED ? NULL : &c;
        make(&r);
        const hp_card_context context = {
            .drive = &r.drive, .labels = &r.labels, .plan = &r.plan, .commission = &r.list};
        const hp_advice advice = {
            .kind = HP_ADVICE_TRY, .lead = -1, .wiring = hp_wiring_from_number(1), .number = 1};
        hp_card_make(&context, &advice, &card);
        check_true((strstr(card.reason, "As the scenario states it this controller") != NULL) ==
                       (said[k] != NULL),
                   "case %d: %s", k, card.reason);
        if (said[k])
            check_text_contains(card.reason, said[k]);
    }
}

/* No step finds what only the labels tell: a battery that kills the controller is no ready. */
static void a_stop_of_the_fit_is_an_end_of_its_own(void **state)
{
    (void)state;
    static hp_fit fit;
    room r;
    char words[HP_COMMISSION_WHY_WORDS];
    furnish(&r);
    fit.line[HP_FIT_CONTROLLER_VOLTS] = (hp_fit_line){
        .rule = HP_FIT_CONTROLLER_VOLTS,
        .state = HP_FIT_LOOK,
        .figure = {{HP_FIT_FULL_V, 67.2, 67.2, 67.2}, {HP_FIT_MOST_V, 63.0, 63.0, 63.0}},
        .figures = 2};
    r.fit = &fit;
    run_at_full(&r);
    for (int stops = 0; stops < 2; stops++) {
        fit.line[HP_FIT_CONTROLLER_VOLTS].state = stops ? HP_FIT_STOP : HP_FIT_LOOK;
        r.entries = 1;
        make(&r);
        check_int(r.list.why, HP_COMMISSION_GOES_ON);
        check_true((strstr(hp_commission_why_words(&r.list, words, sizeof words),
                           "Fit says stop: Battery and controller (battery full 67.2 V, "
                           "controller takes 63 V). Put that right before the battery is "
                           "joined.") != NULL) == stops,
                   "%s", words);
        check_true((strstr(hp_commission_after_words(&r.list, words, sizeof words),
                           "Fit says stop: Battery and controller") != NULL) == stops,
                   "%s", words);
        leave_the_others_out(&r);
        good_idle(&r);
        clear_pins(&r);
        good_supply(&r);
        make(&r);
        check_int(r.list.why, stops ? HP_COMMISSION_FIT : HP_COMMISSION_LEFT);
        if (stops)
            check_text_contains(
                hp_commission_why_words(&r.list, words, sizeof words),
                "Do not ride: every step that can be done here is done, but the parts do not go "
                "together. Fit says stop: Battery and controller (battery full");
    }
    check_text_contains(hp_commission_why_name(HP_COMMISSION_FIT), "fit");
    /* It comes before what is only to be looked at, and behind what no step may pass. */
    ((hp_hand_turn *)add(&r, &hp_reading_hand_turn))->edges = 7;
    make(&r);
    check_int(r.list.why, HP_COMMISSION_FIT);
    ((hp_supply_reading *)add(&r, &hp_reading_supply))->volts = 48.0;
    make(&r);
    check_int(r.list.why, HP_COMMISSION_DANGER);
}

/* Told behind the first power it is told too late; what only a hill meets no stand can mend. */
static void a_stop_of_the_fit_stands_on_each_card_that_brings_power(void **state)
{
    (void)state;
    static hp_fit fit;
    static hp_card card;
    room r;
    char words[HP_COMMISSION_WHY_WORDS];
    furnish(&r);
    memset(&fit, 0, sizeof fit);
    for (int k = 0; k < HP_FIT_RULE_COUNT; k++)
        fit.line[k].rule = (hp_fit_rule_id)k;
    r.fit = &fit;
    make(&r);
    const hp_card_context context = {
        .drive = &r.drive, .labels = &r.labels, .plan = &r.plan, .commission = &r.list};
    const hp_reading *const powered[] = {&hp_reading_supply,   &hp_reading_probe,
                                         &hp_reading_no_load,  &hp_reading_brake,
                                         &hp_reading_throttle, &hp_reading_learn};
    const hp_reading *const dead[] = {&hp_reading_pins, &hp_reading_winding, &hp_reading_hub,
                                      &hp_reading_hand_turn, &hp_reading_learn_lead};
    static const hp_advice_kind kinds[] = {HP_ADVICE_TRY, HP_ADVICE_LOOK, HP_ADVICE_DONE,
                                           HP_ADVICE_PROBABLY};
    for (int stop = 0; stop < 3; stop++) {
        fit.line[HP_FIT_CONTROLLER_VOLTS].state = stop == 1 ? HP_FIT_STOP : HP_FIT_OK;
        fit.line[HP_FIT_DOWNHILL].state = stop == 2 ? HP_FIT_STOP : HP_FIT_OK;
        make(&r);
        check_int(r.list.fit_stops, stop > 0);
        check_int(r.list.fit_stops_power, stop == 1);
        for (size_t k = 0; k < sizeof powered / sizeof powered[0]; k++) {
            const hp_advice read = {.kind = HP_ADVICE_READ, .lead = -1, .reading = powered[k]};
            hp_card_make(&context, &read, &card);
            check_true((strstr(card.safe, "Fit says stop: Battery and controller. Put that right "
                                          "before the battery is joined.") != NULL) == (stop == 1),
                       "%s: %s", hp_reading_name(powered[k]), card.safe);
            check_true(stop == 1 || !strstr(card.safe, "says stop"), "%s", card.safe);
        }
        for (size_t k = 0; k < sizeof dead / sizeof dead[0]; k++) {
            const hp_advice read = {.kind = HP_ADVICE_READ, .lead = 0, .reading = dead[k]};
            hp_card_make(&context, &read, &card);
            check_true(!strstr(card.safe, "says stop"), "%s: %s", hp_reading_name(dead[k]),
                       card.safe);
        }
        for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++) {
            const hp_advice run = {
                .kind = kinds[k], .lead = -1, .wiring = hp_wiring_from_number(1), .number = 1};
            hp_card_make(&context, &run, &card);
            check_true((strstr(card.safe, "Fit says stop") != NULL) == (stop == 1), "kind %zu: %s",
                       k, card.safe);
        }
        hp_commission_after_words(&r.list, words, sizeof words);
        check_true((strstr(words, "Of the ride fit says stop: Down the hill.") != NULL) ==
                       (stop == 2),
                   "%s", words);
    }
}

/* A battery that is full takes no charge: the first pull of the lever tells it too late. */
static void the_levers_of_a_motor_that_brakes_have_their_caution(void **state)
{
    (void)state;
    static hp_card card;
    room r;
    furnish(&r);
    make(&r);
    const hp_card_context context = {
        .drive = &r.drive, .labels = &r.labels, .plan = &r.plan, .commission = &r.list};
    const hp_advice read = {.kind = HP_ADVICE_READ, .lead = -1, .reading = &hp_reading_brake};
    for (int brakes = 0; brakes < 2; brakes++) {
        bool told = false;
        r.plan.regenerates = brakes;
        hp_card_make(&context, &read, &card);
        for (int k = 0; k < card.cautions; k++)
            told = told || strstr(card.caution[k], "never with a full battery");
        check_int(told, brakes);
    }
}

/* Whoever says that each controller bears the full battery has not read this one's label. */
static void a_yes_that_the_scenario_gainsays_is_a_stop(void **state)
{
    (void)state;
    static hp_fit fit;
    static const hp_fit_state states[] = {HP_FIT_OK, HP_FIT_LOOK, HP_FIT_STOP, HP_FIT_UNKNOWN};
    for (size_t k = 0; k < sizeof states / sizeof states[0]; k++) {
        room r;
        furnish(&r);
        r.fit = k ? &fit : NULL;
        fit.line[HP_FIT_CONTROLLER_VOLTS].state = states[k];
        hp_shared_pack_reading *p = add(&r, &hp_reading_shared_pack);
        p->shared = p->same_full = p->same_plus = p->same_plug = p->same_cut_off = p->fuses =
            HP_TELL_YES;
        make(&r);
        const hp_commission_step *s = step(&r, &hp_reading_shared_pack);
        check_int(s->finding, states[k] == HP_FIT_STOP ? HP_FINDING_STOP : HP_FINDING_GOOD);
        if (s->finding == HP_FINDING_STOP) {
            hp_finding_words words;
            const hp_card_context context = {
                .drive = &r.drive, .labels = &r.labels, .plan = &r.plan, .commission = &r.list};
            check_true(hp_finding_words_make(&context, s, &words), "no words");
            check_text_contains(words.means, "this controller does not bear the full battery");
        }
    }
}

/* Told that it is only the wrong way round, one would turn plus and minus. */
static void the_amount_of_the_hall_supply_is_judged_first(void **state)
{
    (void)state;
    static const struct {
        double volts;
        const hp_danger *danger;
        const char *said; /* NULL: nothing */
    } cases[] = {{-48.0, &hp_danger_sensor_volts,
                  "too high, and the wrong way round (entry 1). More than 24 V destroys the Hall "
                  "sensors the "
                  "moment they are joined, either way round. This pin may carry the battery's "
                  "voltage, for a "
                  "lamp or a display. It is 48 V the wrong way round, the battery's own volts."},
                 {48.0, &hp_danger_sensor_volts, "It is 48 V, the battery's own volts."},
                 {30.0, &hp_danger_sensor_volts, "It is 30 V. No step"},
                 {-5.0, &hp_danger_sensor_supply, "too low, or the wrong way round"},
                 {24.0, NULL, NULL},
                 {5.0, NULL, NULL}};
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        room r;
        char words[HP_COMMISSION_WHY_WORDS];
        furnish(&r);
        r.drive.supply.emf_v = 48.0;
        ((hp_supply_reading *)add(&r, &hp_reading_supply))->volts = cases[k].volts;
        make(&r);
        check_true(r.list.danger == cases[k].danger, "%g V", cases[k].volts);
        if (cases[k].said)
            check_text_contains(hp_commission_why_words(&r.list, words, sizeof words),
                                cases[k].said);
    }
}

/* Whether the card of a try says this in its reason. */
static bool card_says(const room *r, const char *text)
{
    hp_card card;
    const hp_card_context context = {
        .drive = &r->drive, .labels = &r->labels, .plan = &r->plan, .commission = &r->list};
    const hp_advice advice = {
        .kind = HP_ADVICE_TRY, .number = 1, .wiring = hp_wiring_from_number(1), .lead = -1};
    hp_card_make(&context, &advice, &card);
    return strstr(card.reason, text) != NULL;
}

/* One of the two is wrong, and nobody but people can tell which: neither is reckoned with. */
static void a_count_that_the_scenario_gainsays_is_told(void **state)
{
    (void)state;
    static const struct {
        double gear;
        int edges;
        bool against;
    } cases[] = {{1.0, 46, false},  {1.0, 45, true},  {1.0, 30, true},
                 {4.4, 202, false}, {4.4, 200, true}, {1.0, 0, false}};
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        room r;
        char words[HP_COMMISSION_WHY_WORDS];
        furnish(&r);
        r.drive.motor.pole_pairs = 23;
        r.drive.stand.gear_ratio = cases[k].gear;
        run_at_full(&r);
        leave_the_others_out(&r);
        good_idle(&r);
        clear_pins(&r);
        good_supply(&r);
        hp_hand_turn *t = add(&r, &hp_reading_hand_turn);
        t->code[0] = 5;
        t->count = 1;
        t->edges = cases[k].edges;
        make(&r);
        check_true((r.list.gainsaid != NULL) == cases[k].against, "%d changes", cases[k].edges);
        check_int(r.list.why, cases[k].against ? HP_COMMISSION_LOOK : HP_COMMISSION_LEFT);
        hp_commission_why_words(&r.list, words, sizeof words);
        check_true((strstr(words, "count again, or correct the scenario") != NULL) ==
                       cases[k].against,
                   "%s", words);
        /* On a card when it was logged, and not on those of other steps for ever. */
        check_true(card_says(&r, "count again") == cases[k].against, "the newest entry");
        /* A later count decides; a turn without one says nothing of it. */
        t = add(&r, &hp_reading_hand_turn);
        t->count = 1;
        make(&r);
        check_true((r.list.gainsaid != NULL) == cases[k].against, "no count");
        check_true(!card_says(&r, "count again"), "it was told");
        t->edges = (int)lround(46.0 * cases[k].gear);
        make(&r);
        check_true(!r.list.gainsaid, "counted again");
    }
}

static void coast_down(room *r)
{
    hp_coast_down *c = add(r, &hp_reading_coast_down);
    c->from_rad_s = 215.0 * HP_RPM;
    c->stop_s = 4.0;
    c->rim_kg = 1.3;
    c->rim_m = 0.29;
    for (int k = 0; k < HP_COAST_MARKS; k++) {
        c->mark_s[k] = k + 1.0;
        c->mark_rad_s[k] = (160.0 - 55.0 * k) * HP_RPM;
    }
}

/* Full throttle burns what grew warm in a gentle run, and a plug that cut it out. */
static void a_run_that_warns_is_no_wheel_that_runs_well(void **state)
{
    (void)state;
    enum { WELL, WARM, CUT_OUT, HELD, SINCE, UNSAID, CASES };
    static const char *const said[CASES] = {
        [WARM] = "In entry 1 something grew warm: battery off",
        [CUT_OUT] = "In entry 1 it was cut out: battery off, tug each lead and plug",
        [UNSAID] = "Only a trial that says nothing grew warm takes this back, or a mend of a part "
                   "that can have grown warm.",
        [HELD] = NULL};
    for (int k = 0; k < CASES; k++) {
        room r;
        char words[HP_COMMISSION_WHY_WORDS];
        furnish(&r);
        run_smoothly(&r);
        hp_trial *t = &r.entry[0].trial;
        t->warm = k == WARM || k == SINCE || k == UNSAID ? HP_TELL_YES : HP_TELL_NO;
        t->cut_out = k == CUT_OUT || k == HELD ? HP_TELL_YES : HP_TELL_NO;
        if (k == HELD) {
            t->feed = HP_FEED_LAMP;
            t->limit_reached = HP_TELL_YES;
        }
        if (k == SINCE || k == UNSAID)
            run_smoothly(&r);
        if (k == SINCE)
            r.entry[1].trial.warm = HP_TELL_NO;
        leave_the_others_out(&r);
        good_idle(&r);
        make(&r);
        check_true(r.list.wired == (k == WELL || k == SINCE), "case %d: wired", k);
        hp_commission_why_words(&r.list, words, sizeof words);
        if (said[k]) {
            check_int(r.list.why, HP_COMMISSION_WIRING);
            check_text_contains(words, said[k]);
        } else {
            check_true(!strstr(words, "battery off"), "case %d: %s", k, words);
        }
    }
}

/* A no-load run says nothing of what grew warm, as no run at full throttle does that does not speak
 * of it; that it went on forward says that nothing cuts out. */
static void a_no_load_run_takes_back_a_cut_out_and_no_warmth(void **state)
{
    (void)state;
    for (int k = 0; k < 4; k++) {
        room r;
        int runs;
        furnish(&r);
        run_smoothly(&r);
        r.entry[0].trial.warm = k & 1 ? HP_TELL_YES : HP_TELL_NO;
        r.entry[0].trial.cut_out = HP_TELL_YES;
        hp_no_load *n = good_run(&r, k & 2 ? HP_TURNING_FORWARD : HP_TURNING_UNSAID);
        n->turning = k & 2 ? HP_TURNING_FORWARD : HP_TURNING_UNSAID;
        make(&r);
        check_true(r.list.wired == (k == 2), "case %d: wired", k);
        check_true((hp_assess_warned(&r.list.given, &runs) == NULL) == (k == 2), "case %d", k);
    }
}

/* Where an ammeter is at hand, the speed alone proves no wiring, logged as a trial or as the
 * no-load run; where there is none, what can be read does, and where nothing can be, nothing does.
 */
static void the_speed_alone_proves_a_wiring_where_no_ammeter_is(void **state)
{
    (void)state;
    enum { NEITHER, TACHOMETER, BOTH, METERS };
    for (int k = 0; k < 2 * METERS; k++) {
        room r;
        char words[HP_COMMISSION_WHY_WORDS];
        int meters = k / 2;
        furnish(&r);
        r.plan.ammeter = meters == BOTH;
        r.plan.tachometer = meters != NEITHER;
        run_smoothly(&r);
        hp_no_load *n = good_run(&r, HP_TURNING_FORWARD);
        n->full.battery_a = (double)NAN;
        if (k % 2) {
            double rad_s = n->full.rad_s;
            r.entries = 1;
            run_smoothly(&r);
            r.entry[1].trial.throttle = 1.0;
            r.entry[1].trial.wheel_rad_s = rad_s;
        }
        make(&r);
        check_true(r.list.wired && r.list.proved == (meters != BOTH), "case %d: proved %d", k,
                   r.list.proved);
        check_true(!r.list.unmetered, "case %d: something is read", k);
        r.entries = 1;
        make(&r);
        check_true(!r.list.proved && r.list.unmetered == (meters == NEITHER), "case %d: felt", k);
        leave_the_others_out(&r);
        good_idle(&r);
        for (int s = 0; s < r.list.steps; s++)
            if (r.list.step[s].reading->needs_run)
                leave_out(&r, r.list.step[s].reading);
        make(&r);
        check_int(r.list.why, HP_COMMISSION_PART);
        hp_commission_why_words(&r.list, words, sizeof words);
        check_text_contains(words, meters == NEITHER ? "no meter is here to read it"
                                                     : "No run at full throttle has borne out");
        /* A figure in the log says that there was a meter. */
        if (meters == NEITHER) {
            r.entry[0].trial.battery_a = 0.1;
            make(&r);
            check_text_contains(hp_commission_why_words(&r.list, words, sizeof words),
                                "though entry 1 holds amperes");
            r.entry[0].trial.battery_a = (double)NAN;
        }
    }
}

static double most_told(room *r, double *usual)
{
    hp_machine_fit fit;
    make(r);
    hp_machine_fit_foretell(&r->list.given, &fit);
    hp_no_load_told told = hp_machine_no_load(&fit, r->drive.supply.emf_v);
    *usual = told.battery_a;
    return told.battery_90.high;
}

/* A gentle run bounds drag and idle draw. What drags draws as much in one: it excuses nothing. */
static void gentle_runs_narrow_what_full_throttle_may_draw(void **state)
{
    (void)state;
    enum { WELL, MUCH, SLIPPED, OTHER, MENDED, ROUGH, LIMITED, UNTIMED, CASES };
    room r;
    double usual, narrow = 0.0;
    furnish(&r);
    /* A lamp of an ampere, whatever the wheel draws: not a factor on both. */
    double wide = most_told(&r, &usual);
    check_true(wide > 2.0 * usual && wide < usual + 1.5, "%g A, %g A", usual, wide);
    for (int k = 0; k < CASES; k++) {
        r.entries = 0;
        for (int n = 0; n < 2; n++) {
            double amperes = k == MUCH ? 20.0 * usual : k == SLIPPED ? 0.02 * usual : 0.35 * usual;
            hp_trial *t = run_number(&r, k == OTHER ? 2 : 1, amperes);
            t->throttle = 0.3;
            t->feel = k == ROUGH ? HP_FEEL_ROUGH : HP_FEEL_SMOOTH;
            t->feed = k == LIMITED ? HP_FEED_LAMP : t->feed;
            t->limit_reached = HP_TELL_UNSAID;
            if (k != UNTIMED)
                t->wheel_rad_s = 0.3 * hp_drive_ideal_speed(&r.drive) / r.drive.stand.gear_ratio;
        }
        if (k == MENDED)
            mend(&r, HP_FAULT_SENSOR_LOW);
        run_smoothly(&r);
        double now, most = most_told(&r, &now);
        bool narrower = k == WELL || k == UNTIMED;
        check_true((most < 0.8 * wide) == narrower, "case %d: %g A, without %g A", k, most, wide);
        check_true(narrower || (most == wide && now == usual), "case %d: %g A", k, most);
        if (k == WELL)
            narrow = most;
    }
    /* The same amperes, in a trial and in the run, before and after. */
    double amperes = fmax(1.1 * narrow, 3.1 * usual);
    for (int gentle = 0; gentle < 2; gentle++) {
        r.entries = 0;
        hp_trial *t = run_number(&r, 1, gentle ? 0.35 * usual : (double)NAN);
        t->throttle = 0.3;
        good_run(&r, HP_TURNING_FORWARD)->full.battery_a = amperes;
        make(&r);
        check_true((step(&r, &hp_reading_no_load)->finding == HP_FINDING_STOP) == gentle,
                   "%g A, gentle run %d", amperes, gentle);
        r.entries--;
        run_number(&r, 1, amperes)->throttle = 1.0;
        make(&r);
        check_true(r.list.failed.stands == gentle, "%g A, trial, %d", amperes, gentle);
    }
}

/* The same amperes are a stop in a trial and in a no-load run, or in neither. What a coast-down's
 * narrow band leaves out is none, until it is so much that a right wiring never draws it; and it
 * takes no earlier stop back. */
static void trials_and_runs_are_held_against_one_limit(void **state)
{
    (void)state;
    room r;
    hp_machine_fit fit;
    int stops = 0, between = 0, count = 60;
    furnish(&r);
    r.drive.stand.clutch = false;
    coast_down(&r);
    good_idle(&r);
    make(&r);
    hp_machine_fit_foretell(&r.list.given, &fit);
    hp_no_load_told told = hp_machine_no_load(&fit, r.drive.supply.emf_v);
    for (int k = 1; k <= count; k++) {
        double amperes = (0.1 * k - 0.05) * told.battery_a;
        r.entries = 2;
        run_number(&r, 1, amperes)->throttle = 1.0;
        make(&r);
        bool trial = r.list.failed.stands;
        check_true(r.list.wired != trial, "%g A: wired", amperes);
        r.entries = 2;
        good_run(&r, HP_TURNING_FORWARD)->full.battery_a = amperes;
        make(&r);
        bool run = step(&r, &hp_reading_no_load)->finding == HP_FINDING_STOP;
        check_true(trial == run, "%g A: trial %d, run %d", amperes, trial, run);
        stops += run;
        between += !run && amperes > told.battery_90.high;
        if (run || amperes < told.battery_90.high)
            continue;
        check_int(step(&r, &hp_reading_no_load)->finding, HP_FINDING_LOOK);
        r.entries = 2;
        run_number(&r, 1, amperes)->throttle = 1.0;
        make(&r);
        check_true(r.list.odd_entry == 3 && !r.list.failed.stands, "%g A: a look", amperes);
        r.entries = 2;
        run_number(&r, 1, 20.0 * told.battery_a)->throttle = 1.0;
        run_number(&r, 1, amperes)->throttle = 1.0;
        make(&r);
        check_true(r.list.failed.stands && r.list.full_most_a > amperes, "%g A takes it back",
                   amperes);
    }
    check_true(between >= 5 && stops >= count / 3, "%d between, %d stops", between, stops);
}

/* Whether a part of the scenario's harness is that control is data of it, never its name. */
static void what_the_log_denies_and_the_harness_lists_is_named(void **state)
{
    (void)state;
    room r;
    hp_harness harness;
    memset(&harness, 0, sizeof harness);
    furnish(&r);
    r.harness = &harness;
    ((hp_brake_reading *)add(&r, &hp_reading_brake))->fitted = HP_TELL_NO;
    ((hp_key_reading *)add(&r, &hp_reading_key))->fitted = HP_TELL_NO;
    harness.parts = 2;
    snprintf(harness.part[0].name, sizeof harness.part[0].name, "key switch");
    snprintf(harness.part[1].name, sizeof harness.part[1].name, "levers");
    harness.part[1].control = HP_CONTROL_PART_BRAKE;
    make(&r);
    check_int(step(&r, &hp_reading_brake)->finding, HP_FINDING_LOOK);
    check_int(step(&r, &hp_reading_key)->finding, HP_FINDING_NOTED);
    const hp_card_context context = {
        .drive = &r.drive, .labels = &r.labels, .plan = &r.plan, .commission = &r.list};
    hp_finding_words words;
    check_true(hp_finding_words_make(&context, step(&r, &hp_reading_brake), &words), "no words");
    check_text_contains(words.means, "yet the scenario's harness lists one: levers");
}

static void good_heating(room *r)
{
    hp_heating *h = add(r, &hp_reading_heating);
    double volts = 10.0 * 2.0 * r->drive.motor.resistance_ohm;
    h->amperes = 10.0;
    h->winding_c = 20.0;
    h->start_v = volts;
    for (int k = 0; k < HP_HEATING_MARKS; k++) {
        h->mark_s[k] = 30.0 * (1 << k);
        h->mark_v[k] = volts * (1.0 + 0.08 * (1.0 - exp(-h->mark_s[k] / 60.0)));
    }
}

/* A machine without a brake cut-off is not called ready without a word. */
static void no_brake_cut_off_is_said_at_every_end(void **state)
{
    (void)state;
    static const hp_commission_why ends[3] = {HP_COMMISSION_PART, HP_COMMISSION_LEFT,
                                              HP_COMMISSION_LOOK};
    for (int k = 0; k < 3; k++) {
        room r;
        char words[HP_COMMISSION_WHY_WORDS];
        furnish(&r);
        run_at_full(&r);
        make(&r);
        r.entries = 1;
        ((hp_brake_reading *)add(&r, &hp_reading_brake))->fitted = HP_TELL_NO;
        good_idle(&r);
        if (k == 2)
            ((hp_idle_draw *)hp_entry_values(&r.entry[r.entries - 1]))->idle_a = 3.0;
        need_the_plug(&r);
        leave_out(&r, &hp_reading_pins);
        leave_out(&r, &hp_reading_supply);
        for (int n = 0; hp_readings[n]; n++) {
            const hp_reading *kind = hp_readings[n];
            if (kind->stage == HP_STAGE_WIRING || kind == &hp_reading_brake ||
                kind == &hp_reading_idle_draw)
                continue;
            if (k == 1)
                leave_out(&r, kind);
            else if (kind == &hp_reading_heating)
                good_heating(&r);
            else
                add(&r, kind);
        }
        make(&r);
        if (k != 1)
            for (int n = 0; n < r.list.steps; n++)
                if (r.list.step[n].reading != &hp_reading_brake &&
                    r.list.step[n].reading != &hp_reading_idle_draw)
                    check_true(r.list.step[n].entry &&
                                   (k == 2 || r.list.step[n].finding != HP_FINDING_LOOK),
                               "%s", r.list.step[n].reading->name);
        check_text_contains(hp_commission_why_words(&r.list, words, sizeof words),
                            "without a brake cut-off");
        check_int(r.list.why, ends[k]);
        /* An entry of which nothing was read is no step done. */
        if (k == 0)
            check_text_contains(words, "not all was measured or tried of hub");
    }
}

/* Steps done or left out do not make a wheel ready that, by the log's last word, does not run. */
static void no_end_is_ready_without_a_wiring_that_runs(void **state)
{
    (void)state;
    room r;
    char waits[400], done[400];
    furnish(&r);
    good_idle(&r);
    leave_the_others_out(&r);
    leave_out(&r, &hp_reading_pins);
    leave_out(&r, &hp_reading_supply);
    make(&r);
    check_int(r.list.next, -1);
    check_int(r.list.why, HP_COMMISSION_WIRING);
    hp_commission_why_words(&r.list, done, sizeof done);
    run_at_full(&r);
    make(&r);
    check_int(r.list.why, HP_COMMISSION_PART); /* the plug was pulled at a wheel that did not run */
    need_the_plug(&r);
    make(&r);
    check_int(r.list.why, HP_COMMISSION_LEFT);
    run_smoothly(&r);
    ((hp_trial *)hp_entry_values(&r.entry[r.entries - 1]))->motion = HP_MOVED_BACKWARD;
    make(&r);
    check_int(r.list.why, HP_COMMISSION_WIRING);
    /* A step that waits is told in other words. */
    r.entries = 0;
    good_idle(&r);
    leave_the_others_out(&r);
    ((hp_left_out *)hp_entry_values(&r.entry[r.entries - 1]))->step =
        hp_left_out_number(&hp_reading_idle_draw);
    make(&r);
    check_int(r.list.why, r.list.next < 0 ? HP_COMMISSION_WIRING : HP_COMMISSION_GOES_ON);
    hp_commission_why_words(&r.list, waits, sizeof waits);
    check_true(strcmp(waits, done) != 0, "the same words: %s", waits);
}

/* What was found stays until a later entry speaks of that very thing, or of a part that is not
 * there; a run is measured as a whole. */
static void a_partial_look_takes_nothing_back_that_it_does_not_speak_of(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    hp_hub_reading *h = add(&r, &hp_reading_hub);
    h->inside = HP_INSIDE_WET;
    h->cover_nm = 4.0;
    h = add(&r, &hp_reading_hub);
    h->bearings = HP_BEARINGS_FREE;
    make(&r);
    check_int(step(&r, &hp_reading_hub)->finding, HP_FINDING_STOP);
    check_int(step(&r, &hp_reading_hub)->entry->number, 2);
    const hp_hub_reading *both = hp_entry_said(step(&r, &hp_reading_hub)->entry);
    check_int(both->bearings, HP_BEARINGS_FREE);
    check_true(both->cover_nm == 4.0, "screws at %g N m", both->cover_nm);
    h = add(&r, &hp_reading_hub);
    h->inside = HP_INSIDE_DRY;
    make(&r);
    check_int(step(&r, &hp_reading_hub)->finding, HP_FINDING_NOTED);

    ((hp_brake_reading *)add(&r, &hp_reading_brake))->stops[0] = HP_TELL_NO;
    hp_brake_reading *b = add(&r, &hp_reading_brake);
    hp_plug_volts_pin(&b->plug, "red");
    make(&r);
    check_int(step(&r, &hp_reading_brake)->finding, HP_FINDING_STOP);
    ((hp_brake_reading *)add(&r, &hp_reading_brake))->fitted = HP_TELL_NO;
    make(&r);
    check_int(step(&r, &hp_reading_brake)->finding, HP_FINDING_NOTED);
    ((hp_brake_reading *)add(&r, &hp_reading_brake))->stops[1] = HP_TELL_YES;
    make(&r);
    b = (hp_brake_reading *)hp_entry_said(step(&r, &hp_reading_brake)->entry);
    check_int(b->fitted, HP_TELL_UNSAID);
    check_int(b->stops[0], HP_TELL_UNSAID);

    hp_idle_draw *i = add(&r, &hp_reading_idle_draw);
    i->idle_a = 3.0;
    i->off_a = 0.5;
    good_idle(&r);
    make(&r);
    check_int(step(&r, &hp_reading_idle_draw)->finding, HP_FINDING_GOOD);
}

/* The last entry of a kind counts; one that was left out comes back with an entry. */
static void an_entry_takes_a_left_out_step_back(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    leave_out(&r, &hp_reading_idle_draw);
    make(&r);
    check_true(step(&r, &hp_reading_idle_draw)->left_out, "not left out");
    good_idle(&r);
    make(&r);
    check_true(!step(&r, &hp_reading_idle_draw)->left_out, "still left out");
    check_int(step(&r, &hp_reading_idle_draw)->entry->number, 2);
    leave_out(&r, &hp_reading_idle_draw);
    make(&r);
    check_true(step(&r, &hp_reading_idle_draw)->left_out, "left out again");
}

static void too_much_current_stops_it(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    run_smoothly(&r);
    hp_no_load *n = add(&r, &hp_reading_no_load);
    n->full = (hp_steady){22.0, 12.0, 36.0};
    make(&r);
    check_int(step(&r, &hp_reading_no_load)->finding, HP_FINDING_STOP);
    check_int(r.list.why, HP_COMMISSION_STOPPED);
    check_true(r.list.step[r.list.next].reading == &hp_reading_no_load, "another is next");
}

/* A run of a machine's own figures at 36 V, with its current, speed and volts times so much. */
static hp_finding run_times(room *r, double ampere, double speed, double volt, int *code)
{
    hp_machine_fit fit;
    furnish(r);
    run_smoothly(r);
    make(r);
    hp_machine_fit_foretell(&r->list.given, &fit);
    hp_no_load_told told = hp_machine_no_load(&fit, 36.0);
    hp_no_load *n = add(r, &hp_reading_no_load);
    n->full = (hp_steady){speed * told.rad_s, ampere * told.battery_a, volt * 36.0};
    make(r);
    *code = step(r, &hp_reading_no_load)->code;
    return step(r, &hp_reading_no_load)->finding;
}

/* A run far too fast or slow is one verdict, whether it was logged as a trial or as the no-load
 * run.
 */
static void a_far_speed_fails_in_either_entry(void **state)
{
    (void)state;
    static const double times[] = {1.0, 2.0, 0.5};
    for (int k = 0; k < 6; k++) {
        room r;
        furnish(&r);
        run_smoothly(&r);
        run_smoothly(&r);
        hp_no_load *n = good_run(&r, HP_TURNING_FORWARD);
        const hp_steady usual = n->full;
        n->full.rad_s *= times[k / 2];
        if (k % 2) {
            r.entries = 2;
            run_smoothly(&r);
            hp_trial *t = &r.entry[2].trial;
            t->throttle = 1.0;
            t->battery_a = usual.battery_a;
            t->wheel_rad_s = times[k / 2] * usual.rad_s;
        }
        make(&r);
        check_true(r.list.failed.stands == (k >= 2), "case %d", k);
        check_int(r.list.failed.entry[HP_CHECK_FAST], k / 2 == 1 ? 3 : 0);
        check_int(r.list.failed.entry[HP_CHECK_SLOW], k / 2 == 2 ? 3 : 0);
        check_true(r.list.wired == (k < 2), "case %d: wired", k);
        check_true(k < 2 || r.list.why == (k % 2 ? HP_COMMISSION_CHECK : HP_COMMISSION_STOPPED),
                   "case %d: why %d", k, (int)r.list.why);
    }
}

/* No controller runs below its cut-off, and no battery gives what it does not have. */
static void volts_that_cannot_be_are_to_be_checked(void **state)
{
    (void)state;
    hp_pack_params pack = {.full_v = 42.0, .empty_v = 30.0};
    static const struct {
        double cut_off_v, volts;
        bool counted;
        int code;
    } cases[] = {{0, 36, false, HP_NO_LOAD_FINE},   {35, 34, false, HP_NO_LOAD_FINE},
                 {40, 36, false, HP_NO_LOAD_VOLTS}, {0, 25, false, HP_NO_LOAD_FINE},
                 {0, 25, true, HP_NO_LOAD_VOLTS},   {0, 29, true, HP_NO_LOAD_FINE},
                 {0, 43, true, HP_NO_LOAD_FINE},    {0, 50, true, HP_NO_LOAD_VOLTS}};
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        room r;
        furnish(&r);
        r.pack = &pack;
        r.pack_known = cases[k].counted ? HP_PACK_COUNTED : HP_PACK_GUESSED;
        r.drive.controller.undervoltage_v = cases[k].cut_off_v;
        run_smoothly(&r);
        hp_no_load *n = good_run(&r, HP_TURNING_FORWARD);
        n->full.rad_s *= cases[k].volts / n->full.volts;
        n->full.volts = cases[k].volts;
        make(&r);
        const hp_commission_step *s = step(&r, &hp_reading_no_load);
        check_true(s->code == cases[k].code, "case %zu: %d", k, s->code);
        check_true((s->finding == HP_FINDING_GOOD) == (cases[k].code == HP_NO_LOAD_FINE), "%zu", k);
    }
}

static const hp_finding_words *run_words(const room *r)
{
    static hp_finding_words words;
    const hp_card_context context = {
        .drive = &r->drive, .labels = &r->labels, .plan = &r->plan, .commission = &r->list};
    memset(&words, 0, sizeof words);
    check_true(hp_finding_words_make(&context, step(r, &hp_reading_no_load), &words), "no words");
    return &words;
}

/* No empty battery and no bad contact gives more than a full one does. */
static void volts_are_told_by_the_side_on_which_they_are_off(void **state)
{
    (void)state;
    hp_pack_params pack = {.full_v = 42.0, .empty_v = 30.0};
    for (int above = 0; above < 2; above++) {
        room r;
        furnish(&r);
        r.pack = &pack;
        r.pack_known = HP_PACK_COUNTED;
        run_smoothly(&r);
        hp_no_load *n = good_run(&r, HP_TURNING_FORWARD);
        double volts = above ? 48.0 : 25.0;
        n->full.rad_s *= volts / n->full.volts;
        n->full.volts = volts;
        make(&r);
        const hp_finding_words *words = run_words(&r);
        check_text_contains(words->means,
                            above ? "another battery than the scenario says" : "an empty battery");
        check_true((strstr(words->otherwise, "plugs and fuse holder") == NULL) == above, "%s",
                   words->otherwise);
    }
}

/* Of a figure that nobody read nothing is said. */
static void what_was_not_read_was_not_as_it_ought_to_be(void **state)
{
    (void)state;
    for (int k = 0; k < 3; k++) {
        room r;
        furnish(&r);
        run_smoothly(&r);
        hp_no_load *n = good_run(&r, HP_TURNING_FORWARD);
        if (k == 1)
            n->full.battery_a = (double)NAN;
        if (k == 2)
            n->full.rad_s = (double)NAN;
        make(&r);
        const hp_finding_words *words = run_words(&r);
        check_true((strstr(words->means, " A") != NULL) == (k != 1), "%s", words->means);
        check_true((strstr(words->means, " rev/min") != NULL) == (k != 2), "%s", words->means);
        check_text_contains(words->means, "As it ought to be: ");
    }
}

/* As the same figures in a trial: nothing is to be mended, and the run that clears it is not
 * forbidden. */
static void a_slow_run_that_the_switch_explains_is_the_switch(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    controls.speed = (hp_speed_params){.cap = {0.5, 0.75, 1.0}, .steps = 3, .chosen = 3};
    for (int k = 0; k < 3; k++) {
        room r;
        char words[HP_COMMISSION_WHY_WORDS];
        furnish(&r);
        r.controls = k == 1 ? NULL : &controls;
        run_smoothly(&r);
        good_run(&r, HP_TURNING_FORWARD)->full.rad_s *= k == 2 ? 0.62 : 0.5;
        make(&r);
        const hp_commission_step *s = step(&r, &hp_reading_no_load);
        check_int(s->code, k ? HP_NO_LOAD_SLOW : HP_NO_LOAD_SWITCH);
        check_int(s->finding, k ? HP_FINDING_STOP : HP_FINDING_LOOK);
        check_int(r.list.why, k ? HP_COMMISSION_STOPPED : HP_COMMISSION_CHECK);
        check_true(r.list.own.figure[HP_OWN_SPEED_PER_V].known == (k > 0), "case %d: learnt", k);
        if (k)
            continue;
        check_text_contains(run_words(&r)->means, "gives that speed in its first position");
        check_text_contains(run_words(&r)->otherwise, "speed switch in its fastest position");
        check_text_contains(hp_commission_why_words(&r.list, words, sizeof words),
                            "gives that speed in its first position");
    }
}

/* A decimal point that slipped is no figure of the machine, and a wrong wiring's current none of
 * its drag, whether it was coasted down or not. */
static void what_cannot_be_is_to_be_checked_and_teaches_nothing(void **state)
{
    (void)state;
    static const struct {
        double ampere, speed, volt;
        hp_finding finding;
        int code;
        bool learns;
    } cases[] = {
        {1, 1, 1, HP_FINDING_GOOD, HP_NO_LOAD_FINE, true},
        {1, 1, 0.1, HP_FINDING_LOOK, HP_NO_LOAD_SLIP, false},
        {1, 10, 1, HP_FINDING_LOOK, HP_NO_LOAD_SLIP, false},
        {1, 0.1, 1, HP_FINDING_LOOK, HP_NO_LOAD_SLIP, false},
        {0.1, 1, 1, HP_FINDING_GOOD, HP_NO_LOAD_FINE, true}, /* the drag may be that small */
        {0.01, 1, 1, HP_FINDING_LOOK, HP_NO_LOAD_SLIP, false},
        {1, 0.85, 1, HP_FINDING_LOOK, HP_NO_LOAD_SLOW, true},
        {1, 1.2, 1, HP_FINDING_LOOK, HP_NO_LOAD_FAST, true},
        {1, 0.5, 1, HP_FINDING_STOP, HP_NO_LOAD_SLOW, true},
        {1, 2, 1, HP_FINDING_STOP, HP_NO_LOAD_FAST, true},
        {1000, 1, 1, HP_FINDING_STOP, HP_NO_LOAD_ROUGH, false},
    };
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        room r;
        int code;
        hp_finding finding = run_times(&r, cases[k].ampere, cases[k].speed, cases[k].volt, &code);
        check_true(finding == cases[k].finding && code == cases[k].code, "case %zu: %d, %d", k,
                   (int)finding, code);
        check_true(r.list.own.figure[HP_OWN_DRAG_NM].known == cases[k].learns, "case %zu: drag", k);
        check_true(r.list.own.figure[HP_OWN_SPEED_PER_V].known == cases[k].learns,
                   "case %zu: speed per volt", k);
    }
}

/* Half throttle is held against what drag makes of the speed there, whatever full throttle was. */
static void half_throttle_that_cannot_be_is_to_be_checked(void **state)
{
    (void)state;
    static const struct {
        double ampere, speed, volt;
        int code;
    } cases[] = {
        {1, 1, 1, HP_NO_LOAD_FINE},    {1.5, 1, 1, HP_NO_LOAD_FINE}, {0.5, 1, 1, HP_NO_LOAD_FINE},
        {5, 1, 1, HP_NO_LOAD_HALF},    {1, 1, 0.1, HP_NO_LOAD_HALF}, {1, 1, 10, HP_NO_LOAD_HALF},
        {12, NAN, 1, HP_NO_LOAD_HALF}, {1, NAN, 1, HP_NO_LOAD_FINE}, {NAN, 1, NAN, HP_NO_LOAD_FINE},
    };
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        room r;
        hp_machine_fit fit;
        furnish(&r);
        r.drive.stand.rotor.coulomb_nm = 0.4;
        run_smoothly(&r);
        make(&r);
        hp_machine_fit_foretell(&r.list.given, &fit);
        hp_no_load_told told = hp_machine_no_load(&fit, 36.0);
        double half = 0.5 * told.rad_s;
        hp_no_load *n = add(&r, &hp_reading_no_load);
        n->full = (hp_steady){told.rad_s, told.battery_a, 36.0};
        n->half = (hp_steady){cases[k].speed * half,
                              cases[k].ampere * hp_machine_part(&fit, 36.0, half).battery_a,
                              cases[k].volt * 36.2};
        make(&r);
        const hp_commission_step *s = step(&r, &hp_reading_no_load);
        check_true(s->code == cases[k].code, "case %zu: %d", k, s->code);
        bool fine = cases[k].code == HP_NO_LOAD_FINE;
        check_true((s->finding == HP_FINDING_GOOD) == fine, "case %zu: finding", k);
        check_true(r.list.own.figure[HP_OWN_DRAG_NM].known == fine, "case %zu: drag", k);
        check_true(r.list.own.figure[HP_OWN_SPEED_PER_V].known == fine, "case %zu: volts", k);
    }
}

/* A wheel that coasts as the scenario states, the seconds times so much, before the run that its
 * drag makes. A figure of it that cannot be judges no other step. */
static void a_coast_down_in_doubt_judges_no_other_step(void **state)
{
    (void)state;
    static const struct {
        double seconds, amperes; /* amperes: over what is expected without a coast-down */
        int code, run;
        bool learns;
    } cases[] = {
        {1, 1, HP_COAST_FINE, HP_NO_LOAD_FINE, true},
        {100, 1, HP_COAST_FREE, HP_NO_LOAD_FINE, true},
        {0.01, 1, HP_COAST_HELD, HP_NO_LOAD_FINE, true},
        {0.01, 12, HP_COAST_HELD, HP_NO_LOAD_ROUGH, false}, /* no drag explains it */
    };
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        room r;
        hp_machine_fit fit;
        furnish(&r);
        r.drive.stand.rotor.coulomb_nm = 0.4;
        run_smoothly(&r);
        make(&r);
        hp_machine_fit_foretell(&r.list.given, &fit);
        hp_no_load_told told = hp_machine_no_load(&fit, r.drive.supply.emf_v);
        hp_coast_down *c = add(&r, &hp_reading_coast_down);
        c->from_rad_s = told.rad_s;
        c->stop_s = 1.0;
        hp_coast_drag drag = hp_coast_down_drag(&r.list.given, c);
        c->stop_s = cases[k].seconds * drag.read / drag.stated;
        hp_no_load *n = add(&r, &hp_reading_no_load);
        n->turning = HP_TURNING_FORWARD;
        n->full = (hp_steady){told.rad_s, cases[k].amperes * told.battery_a, r.drive.supply.emf_v};
        make(&r);
        check_int(step(&r, &hp_reading_coast_down)->code, cases[k].code);
        check_int(step(&r, &hp_reading_no_load)->code, cases[k].run);
        bool doubted = cases[k].code != HP_COAST_FINE;
        check_true(r.list.own.figure[HP_OWN_INERTIA].known == !doubted, "case %zu: inertia", k);
        check_true(r.list.own.figure[HP_OWN_NO_LOAD_RPM].known == cases[k].learns,
                   "case %zu: learnt from the run", k);
    }
}

/* What the card says is what is held against it; and an earlier one of the same wheel. */
static void a_coast_down_is_held_against_its_card_and_the_one_before(void **state)
{
    (void)state;
    static const struct {
        double before, seconds; /* over what is expected; before 0: none */
        bool stated;
        int code;
    } cases[] = {
        {0.0, 0.55, true, HP_COAST_FINE},  {0.0, 0.45, true, HP_COAST_DRAGS},
        {0.0, 1.9, true, HP_COAST_FINE},   {0.0, 4.0, true, HP_COAST_FINE},
        {0.0, 0.45, false, HP_COAST_FINE}, {0.0, 0.3, false, HP_COAST_DRAGS},
        {0.0, 2.2, false, HP_COAST_FINE},  {0.0, 6.0, false, HP_COAST_FINE},
        {1.9, 0.6, true, HP_COAST_SOONER}, {1.6, 0.6, true, HP_COAST_FINE},
        {100.0, 0.6, true, HP_COAST_FINE}, /* that one was none */
    };
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        room r;
        furnish(&r);
        r.inertia_stated = cases[k].stated;
        for (int n = cases[k].before > 0.0 ? 0 : 1; n < 2; n++) {
            hp_coast_down *c = add(&r, &hp_reading_coast_down);
            c->from_rad_s = 200.0 * HP_RPM;
            c->stop_s = 1.0;
            make(&r);
            hp_coast_drag drag = hp_coast_down_drag(&r.list.given, c);
            c->stop_s = (n ? cases[k].seconds : cases[k].before) * drag.read / drag.stated;
        }
        make(&r);
        const hp_commission_step *s = step(&r, &hp_reading_coast_down);
        check_true(s->code == cases[k].code, "case %zu: code %d", k, s->code);
        check_int(s->finding, s->code == HP_COAST_FINE ? HP_FINDING_GOOD : HP_FINDING_LOOK);
    }
}

/* Grease and air slow in proportion to the speed, a shoe that rubs all the way: nothing between the
 * two falls to a ninth in a second, and then rolls on for three. Such moments teach nothing. */
static void moments_that_contradict_one_another_are_the_doubt(void **state)
{
    (void)state;
    static const struct {
        double mark_s, mark_rpm, stop_s;
        bool bent;
    } cases[] = {
        {1.0, 120.0, 3.9, false}, {2.0, 74.0, 3.9, false}, {1.0, 60.0, 3.9, false},
        {1.0, 20.0, 3.9, true},   {3.0, 160.0, 3.9, true}, {3.8, 3.0, 3.9, false},
    };
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        room r;
        furnish(&r);
        hp_coast_down *c = add(&r, &hp_reading_coast_down);
        c->from_rad_s = 172.0 * HP_RPM;
        c->stop_s = cases[k].stop_s;
        c->mark_s[0] = cases[k].mark_s;
        c->mark_rad_s[0] = cases[k].mark_rpm * HP_RPM;
        make(&r);
        bool bent = step(&r, &hp_reading_coast_down)->code == HP_COAST_BENT;
        check_true(bent == cases[k].bent, "case %zu", k);
        check_true(!bent || !r.list.own.figure[HP_OWN_INERTIA].known, "case %zu: learnt", k);
        /* One that can be, before it, stands. */
        hp_coast_down good = *c;
        r.entries = 0;
        hp_coast_down *first = add(&r, &hp_reading_coast_down);
        first->from_rad_s = good.from_rad_s;
        first->stop_s = 3.9;
        *(hp_coast_down *)add(&r, &hp_reading_coast_down) = good;
        make(&r);
        if (bent)
            check_int(r.list.own.figure[HP_OWN_INERTIA].entry, 1);
    }
}

/* A reading after the last run that such a wheel cannot give, or that drags on it, is a look; a run
 * or a mend since, and a later reading of its kind, take it back. */
static void what_does_not_fit_a_wheel_that_runs_is_a_look(void **state)
{
    (void)state;
    static const hp_winding windings[] = {{.ohm = {0.21, 0.20, 0.22}},
                                          {.ohm = {NAN, 0.20, NAN}},
                                          {.ohm = {0.21, 0.05, 0.21}},
                                          {.ohm = {0.21, INFINITY, INFINITY}}};
    static const bool odd[] = {false, false, true, true};
    room r;
    for (size_t k = 0; k < sizeof odd / sizeof odd[0]; k++) {
        furnish(&r);
        run_smoothly(&r);
        hp_winding *w = add(&r, &hp_reading_winding);
        memcpy(w->ohm, windings[k].ohm, sizeof w->ohm);
        make(&r);
        check_true((r.list.contrary != NULL) == odd[k], "winding %zu", k);
    }
    check_int(r.list.contrary->number, 2);
    run_smoothly(&r);
    make(&r);
    check_true(!r.list.contrary, "a run since");
    for (int turned = 0; turned < 3; turned++) {
        furnish(&r);
        run_smoothly(&r);
        hp_hand_turn *t = add(&r, &hp_reading_hand_turn);
        *t = (hp_hand_turn){.code = {5, turned == 1 ? 7 : 4, turned == 2 ? 0 : 6}, .count = 3};
        make(&r);
        check_true((r.list.contrary != NULL) == (turned > 0), "codes %d", turned);
    }
    r.drive.sensors.spacing_60 = true;
    make(&r);
    check_true(!r.list.contrary, "60-degree sensors show 000");
    furnish(&r);
    run_smoothly(&r);
    ((hp_drag *)add(&r, &hp_reading_drag))->rubs = HP_TELL_YES;
    for (int k = 0; k < r.list.steps; k++)
        leave_out(&r, r.list.step[k].reading);
    make(&r);
    check_true(r.list.contrary && r.list.contrary->number == 2, "rubs");
    ((hp_drag *)add(&r, &hp_reading_drag))->rubs = HP_TELL_NO;
    make(&r);
    check_true(!r.list.contrary, "it does not rub any more");
    furnish(&r);
    run_smoothly(&r);
    ((hp_pins *)add(&r, &hp_reading_pins))->open[1] = HP_TELL_YES;
    make(&r);
    check_true(r.list.contrary != NULL, "an open pair");
}

/* A controller that runs without its Hall sensors runs smoothly with a torn Hall lead, too, and
 * with the Hall leads in any order. */
static void no_smooth_run_answers_for_hall_sensors_that_nothing_uses(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    *(hp_hand_turn *)add(&r, &hp_reading_hand_turn) = (hp_hand_turn){.code = {5, 7, 6}, .count = 3};
    ((hp_pins *)add(&r, &hp_reading_pins))->open[1] = HP_TELL_YES;
    run_smoothly(&r);
    run_smoothly(&r);
    make(&r);
    check_true(!r.list.contrary, "a controller that needs them, as far as is known");
    hp_hall_plug *plug = add(&r, &hp_reading_hall_plug);
    plug->turns = HP_TELL_NO;
    make(&r);
    check_true(!r.list.contrary && !r.list.unsensed, "it needs them, and ran");
    plug->turns = HP_TELL_YES;
    make(&r);
    check_true(r.list.unsensed && r.list.contrary && r.list.contrary->number == 1,
               "it runs without them");
    *(hp_hand_turn *)add(&r, &hp_reading_hand_turn) = (hp_hand_turn){.code = {5, 4, 6}, .count = 3};
    make(&r);
    check_true(!r.list.contrary, "read again");
}

/* A second reading that says the same since that run is none to be asked for again. */
static void a_contrary_reading_is_known_to_be_the_second(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    ((hp_drag *)add(&r, &hp_reading_drag))->rubs = HP_TELL_YES;
    run_smoothly(&r);
    ((hp_pins *)add(&r, &hp_reading_pins))->open[1] = HP_TELL_YES;
    ((hp_drag *)add(&r, &hp_reading_drag))->rubs = HP_TELL_YES;
    make(&r);
    check_int(r.list.contrary->number, 4);
    check_true(!r.list.contrary_again, "the one before the run is no second");
    ((hp_drag *)add(&r, &hp_reading_drag))->rubs = HP_TELL_YES;
    make(&r);
    check_int(r.list.contrary->number, 5);
    check_true(r.list.contrary_again, "it said so twice");
}

static hp_idle_draw *add_idle(room *r, double idle_a)
{
    hp_idle_draw *d = add(r, &hp_reading_idle_draw);
    d->idle_a = idle_a;
    d->off_a = 0.0;
    return d;
}

/* What no machine gives is read again before anything is made of it; read twice alike it counts as
 * found, and still nothing is learnt from it. */
static void a_figure_that_cannot_be_is_read_again(void **state)
{
    (void)state;
    const struct {
        double first, second; /* NAN: not read */
        bool doubted, learnt;
    } cases[] = {{40.0, NAN, true, false},  {40.0, 45.0, false, false}, {40.0, 60.0, true, false},
                 {40.0, 0.04, false, true}, {2.9, NAN, false, true},    {0.04, 3.1, true, false}};
    room r;
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        furnish(&r);
        add_idle(&r, cases[k].first);
        if (!isnan(cases[k].second))
            add_idle(&r, cases[k].second);
        make(&r);
        const hp_commission_step *s = step(&r, &hp_reading_idle_draw);
        check_true((s->doubt.entry != NULL) == cases[k].doubted, "case %zu: doubted", k);
        check_true((r.list.doubt.entry != NULL) == cases[k].doubted, "case %zu: told", k);
        check_true(!cases[k].doubted || s->finding == HP_FINDING_LOOK, "case %zu: a look", k);
        check_true(r.list.own.figure[HP_OWN_IDLE_A].known == cases[k].learnt, "case %zu: learnt",
                   k);
    }
    furnish(&r);
    add_idle(&r, 40.0);
    r.entry[0].typical = true;
    make(&r);
    check_true(!r.list.doubt.entry, "nobody read it");
}

/* Volts of pins and of what hangs on the battery, by what the battery has; of a look noted bit by
 * bit the volts that stand; a stop is no mere look. */
static void volts_that_cannot_be_are_read_again(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    r.drive.supply.emf_v = 48.0;
    ((hp_key_reading *)add(&r, &hp_reading_key))->on_v = 71.0;
    make(&r);
    check_true(!r.list.doubt.entry, "71 V of 48");
    ((hp_key_reading *)add(&r, &hp_reading_key))->on_v = 73.0;
    make(&r);
    check_true(step(&r, &hp_reading_key)->doubt.entry != NULL, "73 V of 48");
    furnish(&r);
    hp_brake_reading *b = add(&r, &hp_reading_brake);
    b->plug.pins = 2;
    b->plug.states[0] = b->plug.states[1] = 2;
    b->plug.at[0][0] = -37.0;
    b->plug.at[1][0] = b->plug.at[0][1] = b->plug.at[1][1] = 0.0;
    ((hp_brake_reading *)add(&r, &hp_reading_brake))->stops[0] = HP_TELL_YES;
    make(&r);
    check_true(step(&r, &hp_reading_brake)->doubt.entry == &r.entry[0], "37 V at a brake pin");
    ((hp_brake_reading *)add(&r, &hp_reading_brake))->stops[1] = HP_TELL_NO;
    make(&r);
    check_int(step(&r, &hp_reading_brake)->finding, HP_FINDING_STOP);
    furnish(&r);
    b = add(&r, &hp_reading_brake);
    hp_plug_volts_pin(&b->plug, "red");
    b->plug.off[0] = 37.0;
    make(&r);
    check_text_contains(r.list.doubt.figure[0].field->name, "pulled_v");
}

static void note_volts(hp_plug_volts *plug, double at_rest, double pressed)
{
    plug->pins = 2;
    for (int pin = 0; pin < 2; pin++) {
        plug->states[pin] = 2;
        plug->at[0][pin] = pin ? at_rest : 38.9;
        plug->at[1][pin] = pin ? pressed : 38.9;
    }
}

/* Battery volts at the input of a switch are no usual ones because they were read twice, unless the
 * scenario says that the controller is made for a switch to plus. Of a speed switch none can. */
static void battery_volts_at_a_switch_stand_however_often_read(void **state)
{
    (void)state;
    room r;
    hp_finding_words words;
    furnish(&r);
    const hp_card_context context = {
        .drive = &r.drive, .labels = &r.labels, .plan = &r.plan, .commission = &r.list};
    for (int times = 1; times <= 3; times++) {
        note_volts(&((hp_brake_reading *)add(&r, &hp_reading_brake))->plug, 0.0, 38.9);
        note_volts(&((hp_speed_reading *)add(&r, &hp_reading_speed_switch))->plug, 0.0, 38.9);
        make(&r);
        const hp_commission_step *brake = step(&r, &hp_reading_brake);
        check_int(brake->finding, HP_FINDING_STOP);
        check_int(step(&r, &hp_reading_speed_switch)->finding, HP_FINDING_LOOK);
        check_true(hp_finding_words_make(&context, brake, &words), "no words");
        check_text_contains(words.means, "Battery volts on a pin of a switch");
    }
    hp_controls_params controls = hp_controls_params_default();
    r.controls = &controls;
    make(&r);
    check_int(step(&r, &hp_reading_brake)->finding, HP_FINDING_STOP);
    controls.brake.joins = controls.brake.expects_at = HP_LEVEL_VOLTS;
    r.entries = 1;
    make(&r);
    check_true(step(&r, &hp_reading_brake)->finding < HP_FINDING_LOOK, "made for them");
    check_true(!r.list.doubt.entry, "made for them");
    /* With its plug pulled, and below minus, too. */
    controls.brake.joins = controls.brake.expects_at = HP_LEVEL_GROUND;
    hp_plug_volts *plug = &((hp_brake_reading *)add(&r, &hp_reading_brake))->plug;
    note_volts(plug, 4.9, 0.0);
    plug->at[0][0] = plug->at[1][0] = 0.0;
    make(&r);
    check_true(step(&r, &hp_reading_brake)->finding < HP_FINDING_LOOK, "a good one");
    plug->off[1] = -37.0;
    make(&r);
    check_int(step(&r, &hp_reading_brake)->finding, HP_FINDING_STOP);
}

/* Who measures again measures all of it at once: each figure is told, one that comes back once. */
static void every_figure_that_cannot_be_is_told(void **state)
{
    (void)state;
    room r;
    char text[600];
    furnish(&r);
    hp_pedal_reading *p = add(&r, &hp_reading_pedal_sensor);
    p->mean_v[0] = 31.0;
    p->mean_v[1] = 47.0;
    make(&r);
    check_int(r.list.doubt.figures, 2);
    hp_phrase words = hp_phrase_begin(text, sizeof text);
    hp_doubt_words(&r.list.doubt, &words);
    check_text_contains(text, "31 V, and such parts give 20 V at most; 47 V, and such parts give");
    p = add(&r, &hp_reading_pedal_sensor);
    p->mean_v[0] = 31.0; /* it came back */
    p->mean_v[1] = 2.0;
    make(&r);
    check_int(r.list.doubt.figures, 0);
    hp_plug_volts *plug = &((hp_brake_reading *)add(&r, &hp_reading_brake))->plug;
    plug->pins = HP_PINS_MOST;
    for (int pin = 0; pin < HP_PINS_MOST; pin++) {
        plug->states[pin] = 2;
        plug->at[0][pin] = 30.0 + pin;
        plug->at[1][pin] = 30.0;
    }
    make(&r);
    check_int(r.list.doubt.figures, HP_PINS_MOST);
    words = hp_phrase_begin(text, sizeof text);
    hp_doubt_words(&r.list.doubt, &words);
    check_text_contains(text,
                        "30 V, 31 V, 32 V, 33 V, and such parts give 20 V at most; and 2 more");
}

/* What felt rough at full throttle and drew little is no wrong wiring, and no good end either. */
static void a_run_that_growls_is_a_look_and_no_lost_wiring(void **state)
{
    (void)state;
    for (int feel = HP_FEEL_SMOOTH; feel <= HP_FEEL_NOISY; feel++) {
        room r;
        char words[HP_COMMISSION_WHY_WORDS];
        furnish(&r);
        run_smoothly(&r);
        run_smoothly(&r);
        hp_trial *t = &r.entry[1].trial;
        t->throttle = 1.0;
        make(&r);
        t->battery_a = 0.5 * (r.list.full_current_a.low + r.list.full_current_a.high);
        t->feel = (hp_feel)feel;
        make(&r);
        check_true(r.list.wired, "feel %d", feel);
        check_int(r.list.growl_entry, feel == HP_FEEL_SMOOTH ? 0 : 2);
        check_true(r.list.proved == (feel == HP_FEEL_SMOOTH), "feel %d proves", feel);
        r.list.why = HP_COMMISSION_LOOK;
        hp_commission_why_words(&r.list, words, sizeof words);
        check_true((strstr(words, "entry 2 felt rough or noisy") != NULL) ==
                       (feel != HP_FEEL_SMOOTH),
                   "%s", words);
        /* The run before a mend says nothing for what growls since. */
        r.entry[2] = r.entry[1];
        r.entries = 1;
        mend(&r, HP_FAULT_SENSOR_LOW);
        r.entries = 3;
        make(&r);
        check_true(r.list.wired == (feel == HP_FEEL_SMOOTH), "feel %d, mended", feel);
        r.entry[1] = r.entry[2];
        r.entries = 2;
        t->battery_a = 3.0 * r.list.full_most_a;
        make(&r);
        check_true(!r.list.wired, "feel %d draws too much", feel);
        check_int(r.list.growl_entry, 0);
    }
}

/* The volts that keep it off were read, and the entry says "nothing": nobody needs to guess. */
static void volts_that_hold_the_controller_off_are_named(void **state)
{
    static const struct {
        double brake_v, rest_v;
        hp_brake_switch expects;
        hp_level at;
        bool stated, brake, throttle;
    } rows[] = {
        {0.03, 0.8, HP_SWITCH_NORMALLY_OPEN, HP_LEVEL_GROUND, true, true, false},
        {4.9, 0.8, HP_SWITCH_NORMALLY_OPEN, HP_LEVEL_GROUND, true, false, false},
        {4.9, 0.8, HP_SWITCH_NORMALLY_CLOSED, HP_LEVEL_GROUND, true, true, false},
        {0.03, 0.8, HP_SWITCH_NORMALLY_CLOSED, HP_LEVEL_GROUND, true, false, false},
        {4.9, 0.8, HP_SWITCH_NORMALLY_OPEN, HP_LEVEL_VOLTS, true, true, false},
        {1.8, 0.8, HP_SWITCH_NORMALLY_OPEN, HP_LEVEL_GROUND, true, false, false},
        {0.03, 0.8, HP_SWITCH_NORMALLY_OPEN, HP_LEVEL_GROUND, false, false, false},
        {4.9, 1.12, HP_SWITCH_NORMALLY_OPEN, HP_LEVEL_GROUND, false, false, true},
        {0.03, 1.12, HP_SWITCH_NORMALLY_OPEN, HP_LEVEL_GROUND, true, true, true},
    };
    (void)state;
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        room r;
        hp_controls_params controls = hp_controls_params_default();
        furnish(&r);
        controls.brake.expects = rows[k].expects;
        controls.brake.expects_at = rows[k].at;
        r.controls = rows[k].stated ? &controls : NULL;
        hp_controls *c = add(&r, &hp_reading_controls);
        c->brake_v = rows[k].brake_v;
        c->rest_v = rows[k].rest_v;
        c->found = HP_FOUND_NOTHING;
        make(&r);
        check_true((r.list.held.entry != NULL) == (rows[k].brake || rows[k].throttle), "row %zu",
                   k);
        check_true(!r.list.held.entry || isnan(r.list.held.brake_v) != rows[k].brake, "row %zu", k);
        check_true(!r.list.held.entry || isnan(r.list.held.rest_v) != rows[k].throttle, "row %zu",
                   k);
        c->found = HP_FOUND_BRAKE;
        make(&r);
        check_true(!r.list.held.entry, "row %zu: it is mended", k);
        c->found = HP_FOUND_NOTHING;
        run_smoothly(&r);
        make(&r);
        check_true(!r.list.held.entry, "row %zu: it ran since", k);
    }
}

/* Volts that wake no controller are named the same way; those of a fault that was mended are past.
 */
static void volts_that_wake_no_controller_are_named(void **state)
{
    static const struct {
        double battery, key, undervoltage_v;
        bool flat, asleep;
    } rows[] = {{1.0, 1.0, 0.0, false, false}, {0.5, 1.0, 0.0, true, false},
                {1.0, 0.05, 0.0, false, true}, {0.3, 0.05, 0.0, true, true},
                {0.8, 1.0, 0.85, true, false}, {NAN, NAN, 0.0, false, false}};
    (void)state;
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        room r;
        char words[600];
        hp_phrase p = hp_phrase_begin(words, sizeof words);
        furnish(&r);
        double volts = r.drive.supply.emf_v;
        r.drive.controller.undervoltage_v = rows[k].undervoltage_v * volts;
        hp_controls *c = add(&r, &hp_reading_controls);
        c->battery_v = rows[k].battery * volts;
        c->key_v = rows[k].key * volts;
        c->found = HP_FOUND_NOTHING;
        make(&r);
        check_true((r.list.held.entry != NULL) == (rows[k].flat || rows[k].asleep), "row %zu", k);
        if (r.list.held.entry) {
            hp_held_words(&r.list, &p);
            check_true((strstr(words, "reach the controller's battery leads") != NULL) ==
                           rows[k].flat,
                       "%s", words);
            check_true((strstr(words, "too few to wake it") != NULL) == rows[k].asleep, "%s",
                       words);
        }
        c->found = HP_FOUND_KEY;
        make(&r);
        check_true(!r.list.held.entry, "row %zu: it is mended", k);
    }
}

/* What rubs, or draws amperes at rest, comes before the motor runs again. */
static void what_drags_comes_before_the_next_run(void **state)
{
    static const struct {
        double idle_a;
        hp_tell rubs;
        bool hinders;
    } rows[] = {{NAN, HP_TELL_NO, false},
                {0.4, HP_TELL_UNSAID, false},
                {2.0, HP_TELL_NO, true},
                {0.1, HP_TELL_YES, true}};
    (void)state;
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        room r;
        hp_card card;
        furnish(&r);
        hp_drag *d = add(&r, &hp_reading_drag);
        d->idle_a = rows[k].idle_a;
        d->rubs = rows[k].rubs;
        make(&r);
        check_true((r.list.hinders == &r.entry[0]) == rows[k].hinders, "row %zu", k);
        const hp_card_context context = {
            .drive = &r.drive, .labels = &r.labels, .plan = &r.plan, .commission = &r.list};
        const hp_advice advice = {
            .kind = HP_ADVICE_TRY, .number = 1, .wiring = hp_wiring_from_number(1), .lead = -1};
        hp_card_make(&context, &advice, &card);
        check_true((strncmp(card.reason, "Entry 1 (drag): ", 16) == 0) == rows[k].hinders, "%s",
                   card.reason);
        d = add(&r, &hp_reading_drag);
        d->rubs = HP_TELL_NO;
        make(&r);
        check_true(!r.list.hinders, "row %zu: read anew", k);
        r.entries = 1;
        run_smoothly(&r);
        make(&r);
        check_true(!r.list.hinders, "row %zu: it ran since", k);
    }
}

/* A supply that limits shows its amperes itself: that is no meter in the battery's lead. */
static void amperes_of_a_limited_run_are_no_meter_at_hand(void **state)
{
    static const struct {
        hp_feed feed;
        bool meter;
    } rows[] = {{HP_FEED_BATTERY, true}, {HP_FEED_BENCH_SUPPLY, false}, {HP_FEED_LAMP, false}};
    (void)state;
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        room r;
        char words[600];
        hp_phrase p = hp_phrase_begin(words, sizeof words);
        furnish(&r);
        run_smoothly(&r);
        r.entry[0].trial.battery_a = 0.2;
        r.entry[0].trial.feed = rows[k].feed;
        make(&r);
        hp_unmetered_words(&r.list, &p);
        check_true((strstr(words, "is that meter at hand") != NULL) == rows[k].meter, "%s", words);
    }
}

/* Amperes far beyond the controller's limit are a point or a unit; where it has none, beyond 300.
 */
static void amperes_that_no_controller_lets_through_are_read_again(void **state)
{
    static const struct {
        double limit_a, battery_a;
        bool doubted;
    } rows[] = {{20.0, 59.0, false}, {20.0, 130.0, true}, {0.0, 130.0, false}, {0.0, 310.0, true}};
    (void)state;
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        room r;
        furnish(&r);
        r.drive.controller.battery_limit_a = rows[k].limit_a;
        run_smoothly(&r);
        r.entry[0].trial.battery_a = rows[k].battery_a;
        make(&r);
        check_true((r.list.doubt.entry != NULL) == rows[k].doubted, "row %zu", k);
    }
}

static hp_trial *run_at(room *r, int number, double throttle, double battery_a)
{
    run_smoothly(r);
    hp_trial *t = &r->entry[r->entries - 1].trial;
    t->wiring = hp_wiring_from_number(number);
    t->throttle = throttle;
    t->battery_a = battery_a;
    return t;
}

/* One gentle run that felt well proves no wiring: what runs the motor waits for full throttle, but
 * for the run that is the proof. */
static void powered_steps_wait_for_full_throttle(void **state)
{
    (void)state;
    const struct {
        int number[2];
        double throttle[2], battery_a[2];
        bool no_ammeter, mended, proved;
    } cases[] = {
        {{1, 1}, {0.35, 0.35}, {0.2, 0.2}, false, false, false},
        {{1, 1}, {0.35, 1.0}, {0.2, 0.4}, false, false, true},
        {{1, 1}, {1.0, 0.35}, {0.4, 0.2}, false, false, true},
        {{1, 1}, {0.35, 1.0}, {0.2, NAN}, false, false, false},
        {{1, 1}, {0.35, 1.0}, {NAN, NAN}, true, false, false}, /* nor its speed */
        {{1, 22}, {1.0, 0.35}, {0.4, 0.2}, false, false, false},
        {{1, 1}, {1.0, 0.35}, {0.4, 0.2}, false, true, false},
    };
    room r;
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        furnish(&r);
        r.plan.ammeter = !cases[k].no_ammeter;
        run_at(&r, cases[k].number[0], cases[k].throttle[0], cases[k].battery_a[0]);
        if (cases[k].mended)
            ((hp_mend *)add(&r, &hp_reading_mend))->fault.kind = HP_FAULT_UNLISTED;
        run_at(&r, cases[k].number[1], cases[k].throttle[1], cases[k].battery_a[1]);
        make(&r);
        check_true(r.list.wired && r.list.proved == cases[k].proved, "case %zu", k);
        check_true(step(&r, &hp_reading_coast_down)->possible == cases[k].proved, "case %zu", k);
        check_true(step(&r, &hp_reading_no_load)->possible, "case %zu: the proof itself", k);
    }
    /* Which way the wheel turned the trial said. */
    furnish(&r);
    run_at(&r, 1, 0.35, 0.2);
    good_run(&r, HP_TURNING_UNSAID);
    make(&r);
    check_true(r.list.proved, "a no-load run of what is joined");
    furnish(&r);
    run_at(&r, 1, 1.0, 0.4)->feed = HP_FEED_BENCH_SUPPLY;
    make(&r);
    check_true(!r.list.proved, "a limit that may have held it");
    furnish(&r);
    run_at(&r, 1, 1.0, 0.4);
    r.entry[0].typical = true;
    make(&r);
    check_true(!r.list.proved, "figures that nobody read");
}

/* The list ends with a look by it, and says which entry. */
static void a_contrary_reading_keeps_a_list_from_being_ready(void **state)
{
    (void)state;
    room r;
    char text[1000];
    for (int rubs = 0; rubs < 2; rubs++) {
        furnish(&r);
        make(&r);
        for (int k = 0; k < r.list.steps; k++)
            leave_out(&r, r.list.step[k].reading);
        leave_out(&r, &hp_reading_pins);
        leave_out(&r, &hp_reading_supply);
        run_at_full(&r);
        need_the_plug(&r);
        ((hp_drag *)add(&r, &hp_reading_drag))->rubs = rubs ? HP_TELL_YES : HP_TELL_NO;
        make(&r);
        check_int(r.list.why, rubs ? HP_COMMISSION_LOOK : HP_COMMISSION_LEFT);
    }
    hp_commission_why_words(&r.list, text, sizeof text);
    snprintf(text + strlen(text), sizeof text - strlen(text), "|");
    check_text_contains(text, "does not fit a wheel that runs well");
}

/* A no-load run in doubt bears nothing out, nor does an older one in its place; a trial that failed
 * at full throttle says nothing for a run that was good since. */
static void a_run_in_doubt_bears_nothing_out(void **state)
{
    (void)state;
    for (int doubt = 0; doubt < 2; doubt++) {
        room r;
        hp_machine_fit fit;
        furnish(&r);
        make(&r);
        hp_machine_fit_foretell(&r.list.given, &fit);
        hp_no_load_told told = hp_machine_no_load(&fit, r.drive.supply.emf_v);
        run_smoothly(&r);
        for (int k = 0; k < 2; k++) {
            hp_no_load *n = add(&r, &hp_reading_no_load);
            n->turning = HP_TURNING_FORWARD;
            n->full = (hp_steady){k && doubt ? 0.1 * told.rad_s : told.rad_s, told.battery_a,
                                  r.drive.supply.emf_v};
        }
        make(&r);
        check_true(r.list.wired, "%d: wired", doubt);
        check_true((r.list.bears_out != NULL) == !doubt, "%d: bears out", doubt);
        check_true((r.list.doubted != NULL) == doubt, "%d: doubted", doubt);
        if (doubt)
            continue;
        check_true(!r.list.trial_failed, "a good trial");
        hp_trial *t = hp_entry_values(&r.entry[0]);
        t->throttle = 1.0;
        t->battery_a = 2.0 * r.list.full_most_a;
        make(&r);
        check_true(r.list.bears_out && r.list.trial_failed, "a trial that failed");
    }
}

/* Of 36 V at a limit of 15 A: a slip is nearer to ten times than to once, or loses at the limit all
 * that there is, or more. */
static void volts_under_load_that_cannot_be_teach_nothing(void **state)
{
    (void)state;
    static const struct {
        hp_sag said;
        hp_finding finding;
        int code;
    } cases[] = {
        {{2, 37.2, 10, 36.5, NAN}, HP_FINDING_GOOD, HP_SAG_FINE},
        {{2, 37.2, 10, 35, 36}, HP_FINDING_LOOK, HP_SAG_MUCH},
        {{2, 37.2, 10, 3.65, NAN}, HP_FINDING_LOOK, HP_SAG_SLIP}, /* 36.5 */
        {{2, 37.2, 10, 11.3, NAN}, HP_FINDING_LOOK, HP_SAG_SLIP},
        {{2, 12.2, 10, 11.5, NAN}, HP_FINDING_GOOD, HP_SAG_FINE}, /* another battery */
        {{2, 120, 10, 119.5, NAN}, HP_FINDING_LOOK, HP_SAG_SLIP},
        {{2, 37.2, 10, 36.5, 120}, HP_FINDING_LOOK, HP_SAG_SLIP},
        {{2, 37.2, 3, 34.6, NAN}, HP_FINDING_LOOK, HP_SAG_SLIP},   /* 39 of 36 V at 15 A */
        {{2, 37.2, 3, 36.5, NAN}, HP_FINDING_LOOK, HP_SAG_MUCH},   /* 10.5 of them */
        {{2, 37.2, 3, 36.3, NAN}, HP_FINDING_LOOK, HP_SAG_SLIP},   /* 13.5: cut off at each start */
        {{2, 37.2, 10, 27.2, NAN}, HP_FINDING_LOOK, HP_SAG_SLIP},  /* 37.2 */
        {{2, 37.2, 10, 36.5, 36.4}, HP_FINDING_GOOD, HP_SAG_FINE}, /* within the digits */
        {{2, 37.2, 10, 36.5, 36.2}, HP_FINDING_LOOK, HP_SAG_SLIP}, /* leads that give volts */
        {{2, 37.2, 10, 36.5, 37.3}, HP_FINDING_GOOD, HP_SAG_FINE}, /* all of it the leads' */
        {{2, 37.2, 10, 35.3, 37.0}, HP_FINDING_LOOK, HP_SAG_MORE},
        {{2, 37.2, 10, 35.1, 37.0}, HP_FINDING_STOP, HP_SAG_CONTACT}, /* 1.9 of 36 V */
        {{2, 37.2, 10, 29.0, 36.5}, HP_FINDING_STOP, HP_SAG_CONTACT}, /* 75 W in a plug */
        {{2, 37.2, 10, 3.65, 36.5}, HP_FINDING_LOOK, HP_SAG_SLIP},    /* 36.5 */
        {{2, 37.2, 10, 36.5, 38.0}, HP_FINDING_LOOK, HP_SAG_SLIP}, /* a battery that gives more */
        {{2, 37.2, 95, 30, NAN}, HP_FINDING_LOOK, HP_SAG_SLIP},    /* 9.5 A */
        {{2, 37.2, 40, 35, NAN}, HP_FINDING_GOOD, HP_SAG_FINE},    /* a heater across it */
        /* Digits of 0.19 V are 1.8 of 36 V at 15 A where the loads are 1.55 A apart. */
        {{2, 37.2, 2.4, 37.18, NAN}, HP_FINDING_LOOK, HP_SAG_ALIKE},
        {{2, 37.2, 2.1, 37.1, NAN}, HP_FINDING_LOOK, HP_SAG_ALIKE}, /* 15 V, all within digits */
        {{2, 37.2, 2.1, 36.5, NAN}, HP_FINDING_LOOK, HP_SAG_SLIP},  /* and these are not */
        {{2, 37.2, 2.1, 37.1, 120}, HP_FINDING_LOOK, HP_SAG_SLIP},
        {{2, 37.2, 2.4, 34.9, 37.1}, HP_FINDING_STOP, HP_SAG_CONTACT},
        {{2, 37.2, 3.5, 37.1, NAN}, HP_FINDING_LOOK, HP_SAG_ALIKE},
        {{2, 37.2, 3.6, 37.1, NAN}, HP_FINDING_GOOD, HP_SAG_FINE},
        {{15, 37.2, 20, 36.8, NAN}, HP_FINDING_GOOD, HP_SAG_FINE},
        {{16, 37.2, 17.8, 37.0, NAN}, HP_FINDING_LOOK, HP_SAG_ALIKE},
    };
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        room r;
        furnish(&r);
        r.drive.supply.emf_v = 36.0;
        r.drive.supply.resistance_ohm = 0.1;
        r.drive.controller.battery_limit_a = 15.0;
        run_smoothly(&r);
        *(hp_sag *)add(&r, &hp_reading_sag) = cases[k].said;
        make(&r);
        const hp_commission_step *s = step(&r, &hp_reading_sag);
        check_true(s->finding == cases[k].finding && s->code == cases[k].code, "case %zu: %d, %d",
                   k, (int)s->finding, s->code);
        check_true(s->code == HP_SAG_CONTACT ||
                       r.list.own.figure[HP_OWN_SUPPLY_OHM].known ==
                           (s->code != HP_SAG_SLIP && s->code != HP_SAG_ALIKE),
                   "case %zu: learnt", k);
    }
}

/* What the leads as stated lose burns in no contact. */
static void leads_as_stated_are_no_contact(void **state)
{
    (void)state;
    static hp_fit fit;
    hp_fit_line *line = &fit.line[HP_FIT_BATTERY_LEADS];
    for (int k = 0; k < 3; k++) {
        room r;
        furnish(&r);
        r.drive.supply.emf_v = 36.0;
        r.drive.supply.resistance_ohm = 0.1;
        r.drive.controller.battery_limit_a = 15.0;
        r.fit = &fit;
        line->figures = k ? 2 : 0;
        line->figure[0] = (hp_fit_figure){.what = HP_FIT_BATTERY_A, .value = 15.0};
        line->figure[1] = (hp_fit_figure){.what = HP_FIT_DROP_V, .value = k == 1 ? 1.2 : 0.06};
        run_smoothly(&r);
        *(hp_sag *)add(&r, &hp_reading_sag) = (hp_sag){2, 37.2, 10, 35.1, 37.0};
        make(&r);
        check_true((step(&r, &hp_reading_sag)->code == HP_SAG_CONTACT) == (k != 1), "case %d", k);
    }
}

/* A geared hub whose scenario has a clutch, and a look that found none: one of the two is wrong. */
static void a_clutch_that_only_the_scenario_has_is_looked_at(void **state)
{
    (void)state;
    for (int stated = 0; stated < 2; stated++) {
        room r;
        furnish(&r);
        r.drive.stand.clutch = stated;
        hp_hub_reading *h = add(&r, &hp_reading_hub);
        *h = (hp_hub_reading){
            HP_PRICKS_NONE, HP_BEARINGS_FREE, HP_INSIDE_DRY, HP_COVERS_TORQUED, 5.0,
            HP_CABLE_GOOD,  HP_CLUTCH_NONE};
        make(&r);
        const hp_commission_step *s = step(&r, &hp_reading_hub);
        check_int(s->finding, stated ? HP_FINDING_LOOK : HP_FINDING_GOOD);
        check_int(s->code, stated ? HP_HUB_CLUTCHLESS : HP_STEP_FINE);
    }
}

/* A figure's band holds the only reading that it comes from, however unusual, as far as it can be;
 * nothing at all is a meter that is not in the lead. */
static void an_idle_draw_is_what_was_read(void **state)
{
    (void)state;
    static const double read[] = {0.05, 0.4, 1.0, 2.9};
    room r;
    for (size_t k = 0; k < sizeof read / sizeof read[0]; k++) {
        furnish(&r);
        ((hp_idle_draw *)add(&r, &hp_reading_idle_draw))->idle_a = read[k];
        make(&r);
        hp_own_figure idle = r.list.own.figure[HP_OWN_IDLE_A];
        check_true(idle.low < read[k] && read[k] < idle.high, "%g A: %g to %g", read[k], idle.low,
                   idle.high);
        check_close(idle.value, read[k], 0.02 * read[k], "chosen: a wide prior hardly pulls");
    }
    furnish(&r);
    ((hp_idle_draw *)add(&r, &hp_reading_idle_draw))->idle_a = 0.0;
    make(&r);
    check_int(step(&r, &hp_reading_idle_draw)->code, HP_IDLE_ZERO);
    check_int(step(&r, &hp_reading_idle_draw)->finding, HP_FINDING_LOOK);
}

/* What the meter shows of nothing is nobody's fault. */
static void an_idle_draw_within_the_zero_of_its_meter_tells_nothing(void **state)
{
    (void)state;
    static const struct {
        double zero, idle, off;
        int code;
    } cases[] = {
        {0.1, 0.2, 0.1, HP_IDLE_METER}, {0.01, 0.2, 0.0, HP_IDLE_LOAD},
        {0.01, 0.1, 0.1, HP_IDLE_OFF},  {0.1, 0.4, 0.1, HP_IDLE_LOAD},
        {0.1, 0.1, 0.3, HP_IDLE_OFF},   {0.1, 0.1, 0.01, HP_IDLE_FINE},
    };
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        room r;
        furnish(&r);
        r.person.current_zero_a = cases[k].zero;
        hp_idle_draw *d = add(&r, &hp_reading_idle_draw);
        d->idle_a = cases[k].idle;
        d->off_a = cases[k].off;
        make(&r);
        check_true(step(&r, &hp_reading_idle_draw)->code == cases[k].code, "case %zu: %d", k,
                   step(&r, &hp_reading_idle_draw)->code);
    }
}

/* Which way it ran is kept: nothing that drags turns a wheel backward. */
static void a_full_run_backward_is_told_apart(void **state)
{
    (void)state;
    static const hp_motion motions[] = {HP_MOVED_BACKWARD, HP_MOVED_HUM};
    for (size_t k = 0; k < sizeof motions / sizeof motions[0]; k++) {
        room r;
        furnish(&r);
        hp_trial *t = run_number(&r, 1, 0.2);
        t->throttle = 1.0;
        t->motion = motions[k];
        make(&r);
        check_true(r.list.failed.entry[HP_CHECK_TURNED] == 1, "case %zu: no sign", k);
        check_int(r.list.failed.backward, k == 0);
    }
}

/* A typical figure is nobody's reading: nothing is learnt from it. */
static void typical_figures_teach_nothing(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    good_idle(&r);
    make(&r);
    check_true(r.list.own.figure[HP_OWN_IDLE_A].known, "not learnt");
    r.entry[0].typical = true;
    make(&r);
    check_true(!r.list.own.figure[HP_OWN_IDLE_A].known, "learnt from a typical figure");
}

static const char machine[] = "hubphase: 1\n"
                              "motor: {magnets: 46, resistance_between_leads_ohm: 0.2, "
                              "no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}\n";
static const char known[] = "hubphase_log: 1\nscenario: x\nentries:\n"
                            "  - time: 2026-11-29T10:00:00+00:00\n    no_load: {full_v: 37, "
                            "full_speed_rpm: 180, full_a: 0.4}\n";

/* An end's bands become the machine's own once a run is logged; those of a step do not. */
static void an_end_expects_what_the_machine_shows(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    hp_scenario scenario;
    struct hp_case c;
    memset(&c, 0, sizeof c);
    check_int(hp_scenario_read(machine, strlen(machine), "x.yaml", &scenario, stderr, &err), HP_OK);
    check_int(
        hp_bench_log_read(known, strlen(known), "x.bench.yaml", &scenario, &c.log, stderr, &err),
        HP_OK);
    c.scenario = &scenario;
    c.commissioning = hp_commission_case_create(&scenario, &c.log, &err);
    const hp_band before = {0.1, 5.0};
    hp_advice end = {.kind = HP_ADVICE_DONE, .full_current_a = before, .full_most_a = 20.0};
    hp_advice read = {.kind = HP_ADVICE_READ, .full_current_a = before};
    const hp_commission *list = hp_commission_case_list(c.commissioning);
    hp_case_use_own(&c, list, &end);
    hp_case_use_own(&c, list, &read);
    check_true(end.full_current_a.low > 0.2 && end.full_current_a.low < 0.4, "from %g A",
               end.full_current_a.low);
    check_true(end.full_current_a.high > 0.4 && end.full_current_a.high < 0.8, "to %g A",
               end.full_current_a.high);
    check_true(end.full_most_a > end.full_current_a.high && end.full_most_a < 2.0, "at most %g A",
               end.full_most_a);
    check_true(end.full_wheel_rad_s.high < 200.0 * HP_RPM, "faster than it is");
    check_true(read.full_current_a.high == before.high, "of a step");
    hp_commission_case_free(c.commissioning);
    hp_bench_log_free(&c.log);
    hp_scenario_free(&scenario);
}

/* ---- the scenario's own text ------------------------------------------------------------------
 */

static char *rewritten(const char *text, const char *key, const char *value)
{
    const hp_rewriting change = {key, value, "why"};
    char *out = NULL;
    hp_error err = hp_error_none();
    check_true(hp_scenario_rewrite(text, "x.yaml", &change, 1, &out, &err) == HP_OK, "%s",
               err.text);
    return out;
}

static void check_rewritten(const char *text, const char *key, const char *expected)
{
    char *out = rewritten(text, key, "9");
    assert_string_equal(out, expected);
    free(out);
}

static void a_number_is_changed_where_it_stands(void **state)
{
    (void)state;
    check_rewritten("a: 1 # one\nb:\n  c: 2   # two\n", "b.c",
                    "a: 1 # one\nb:\n  # why  # two\n  c: 9\n");
    check_rewritten("b: {c: 2, d: 3} # both\n", "b.d", "# why  # both\nb: {c: 2, d: 9}\n");
    check_rewritten("b: {gr\xc3\xbc\xc3\x9f: 2, d: 3}\n", "b.d",
                    "# why\nb: {gr\xc3\xbc\xc3\x9f: 2, d: 9}\n");
    check_rewritten("\xef\xbb\xbf"
                    "a: 1\n",
                    "a", "# why\na: 9\n");
}

/* What is said of the old number stays with it; no other `#` is taken for a remark. */
static void a_remark_goes_up_with_the_old_number(void **state)
{
    (void)state;
    check_rewritten("b: {c: 2, d: \"x #1\"}  # it's # both\n", "b.c",
                    "# why  # it's # both\nb: {c: 9, d: \"x #1\"}\n");
    check_rewritten("b: {c: 2, d: 'x #1'}\n", "b.c", "# why\nb: {c: 9, d: 'x #1'}\n");
    check_rewritten("b: {c: 2, d: x#1}\n", "b.c", "# why\nb: {c: 9, d: x#1}\n");
    check_rewritten("# why  # first\na: 2\t#second", "a", "# why  # first\n# why  #second\na: 9");
    check_rewritten("a: 2  \nb: 3 # b\n", "a", "# why\na: 9  \nb: 3 # b\n");
    check_rewritten("a: 2 #\n", "a", "# why  #\na: 9\n");
    check_rewritten("b: {c: 2, # of c\n  d: 3} # of d\n", "b.c",
                    "# why  # of c\nb: {c: 9,\n  d: 3} # of d\n");
}

static void a_key_is_added_where_it_belongs(void **state)
{
    (void)state;
    check_rewritten("b:\n    c: 2\nd: 3\n", "b.e", "b:\n    # why\n    e: 9\n    c: 2\nd: 3\n");
    check_rewritten("b:\n  c: 2\n", "b.e.f", "b:\n  e:\n    # why\n    f: 9\n  c: 2\n");
    check_rewritten("b: {c: 2}\n", "b.e", "# why\nb: {e: 9, c: 2}\n");
    check_rewritten("b: {c: 2}\n", "b.d.e", "# why\nb: {d: {e: 9}, c: 2}\n");
    check_rewritten("a: 1", "b.c", "a: 1\n\nb:\n  # why\n  c: 9\n");
    check_rewritten("b:\na: 1\n", "b.c", "b:\n  # why\n  c: 9\na: 1\n");
}

static void what_cannot_be_changed_is_named(void **state)
{
    (void)state;
    const hp_rewriting quoted = {"a", "9", "why"}, list = {"b", "9", "why"};
    const char text[] = "a: \"1\"\nb: [1, x]\nc: {f: 1}\n";
    const hp_rewriting *const change[] = {&quoted, &list};
    for (int k = 0; k < 2; k++) {
        char *out = NULL;
        hp_error err = hp_error_none();
        check_int(hp_scenario_rewrite(text, "x.yaml", change[k], 1, &out, &err), HP_FAIL_INPUT);
        check_true(strstr(err.text, change[k]->key) != NULL, "%s", err.text);
        check_true(out == NULL, "a text");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_list_holds_every_step_in_order),
        cmocka_unit_test(every_step_can_be_left_out),
        cmocka_unit_test(runs_wait_for_a_wiring_that_runs),
        cmocka_unit_test(a_held_supply_is_no_wiring_that_runs),
        cmocka_unit_test(it_ends_with_a_reason),
        cmocka_unit_test(a_failed_check_at_full_throttle_leads_nowhere),
        cmocka_unit_test(a_good_forward_run_without_a_trial_is_a_wiring_that_runs),
        cmocka_unit_test(a_run_of_another_wiring_is_open_again),
        cmocka_unit_test(a_danger_of_a_reading_stops_every_step),
        cmocka_unit_test(a_good_run_bears_out_the_trial_that_is_logged_after_it),
        cmocka_unit_test(no_other_run_bears_out_a_trial),
        cmocka_unit_test(what_is_joined_is_what_ran_last_since_a_mend),
        cmocka_unit_test(what_another_controller_answered_is_open_again),
        cmocka_unit_test(a_stop_of_a_powered_step_opens_with_its_mend),
        cmocka_unit_test(battery_volts_at_a_switch_stand_however_often_read),
        cmocka_unit_test(every_figure_that_cannot_be_is_told),
        cmocka_unit_test(a_run_that_growls_is_a_look_and_no_lost_wiring),
        cmocka_unit_test(volts_that_hold_the_controller_off_are_named),
        cmocka_unit_test(volts_that_wake_no_controller_are_named),
        cmocka_unit_test(what_drags_comes_before_the_next_run),
        cmocka_unit_test(amperes_of_a_limited_run_are_no_meter_at_hand),
        cmocka_unit_test(amperes_that_no_controller_lets_through_are_read_again),
        cmocka_unit_test(what_is_of_a_mended_part_is_open_again),
        cmocka_unit_test(a_new_part_is_measured_as_the_old_one_was),
        cmocka_unit_test(volts_of_the_old_grip_are_not_of_the_new_one),
        cmocka_unit_test(what_held_it_off_and_was_exchanged_is_over),
        cmocka_unit_test(a_mend_that_names_no_part_says_what_it_may_be_of),
        cmocka_unit_test(what_power_would_harm_is_not_passed_over),
        cmocka_unit_test(hall_leads_that_runs_alone_speak_for_are_open),
        cmocka_unit_test(the_hall_supply_counts_until_the_controller_is_another),
        cmocka_unit_test(a_run_says_first_what_nobody_has_measured),
        cmocka_unit_test(a_trial_says_that_the_controller_never_drives),
        cmocka_unit_test(a_stop_of_the_fit_is_an_end_of_its_own),
        cmocka_unit_test(a_stop_of_the_fit_stands_on_each_card_that_brings_power),
        cmocka_unit_test(the_levers_of_a_motor_that_brakes_have_their_caution),
        cmocka_unit_test(a_yes_that_the_scenario_gainsays_is_a_stop),
        cmocka_unit_test(every_card_that_brings_power_says_what_nobody_has_measured),
        cmocka_unit_test(the_amount_of_the_hall_supply_is_judged_first),
        cmocka_unit_test(a_count_that_the_scenario_gainsays_is_told),
        cmocka_unit_test(a_run_that_warns_is_no_wheel_that_runs_well),
        cmocka_unit_test(a_no_load_run_takes_back_a_cut_out_and_no_warmth),
        cmocka_unit_test(the_speed_alone_proves_a_wiring_where_no_ammeter_is),
        cmocka_unit_test(gentle_runs_narrow_what_full_throttle_may_draw),
        cmocka_unit_test(trials_and_runs_are_held_against_one_limit),
        cmocka_unit_test(what_the_log_denies_and_the_harness_lists_is_named),
        cmocka_unit_test(no_brake_cut_off_is_said_at_every_end),
        cmocka_unit_test(no_end_is_ready_without_a_wiring_that_runs),
        cmocka_unit_test(a_partial_look_takes_nothing_back_that_it_does_not_speak_of),
        cmocka_unit_test(an_entry_takes_a_left_out_step_back),
        cmocka_unit_test(too_much_current_stops_it),
        cmocka_unit_test(what_does_not_fit_a_wheel_that_runs_is_a_look),
        cmocka_unit_test(no_smooth_run_answers_for_hall_sensors_that_nothing_uses),
        cmocka_unit_test(a_contrary_reading_is_known_to_be_the_second),
        cmocka_unit_test(a_figure_that_cannot_be_is_read_again),
        cmocka_unit_test(volts_that_cannot_be_are_read_again),
        cmocka_unit_test(powered_steps_wait_for_full_throttle),
        cmocka_unit_test(a_contrary_reading_keeps_a_list_from_being_ready),
        cmocka_unit_test(a_run_in_doubt_bears_nothing_out),
        cmocka_unit_test(half_throttle_that_cannot_be_is_to_be_checked),
        cmocka_unit_test(a_coast_down_in_doubt_judges_no_other_step),
        cmocka_unit_test(a_coast_down_is_held_against_its_card_and_the_one_before),
        cmocka_unit_test(moments_that_contradict_one_another_are_the_doubt),
        cmocka_unit_test(what_cannot_be_is_to_be_checked_and_teaches_nothing),
        cmocka_unit_test(a_far_speed_fails_in_either_entry),
        cmocka_unit_test(volts_that_cannot_be_are_to_be_checked),
        cmocka_unit_test(volts_are_told_by_the_side_on_which_they_are_off),
        cmocka_unit_test(what_was_not_read_was_not_as_it_ought_to_be),
        cmocka_unit_test(a_slow_run_that_the_switch_explains_is_the_switch),
        cmocka_unit_test(volts_under_load_that_cannot_be_teach_nothing),
        cmocka_unit_test(leads_as_stated_are_no_contact),
        cmocka_unit_test(a_clutch_that_only_the_scenario_has_is_looked_at),
        cmocka_unit_test(an_idle_draw_is_what_was_read),
        cmocka_unit_test(an_idle_draw_within_the_zero_of_its_meter_tells_nothing),
        cmocka_unit_test(a_full_run_backward_is_told_apart),
        cmocka_unit_test(typical_figures_teach_nothing),
        cmocka_unit_test(an_end_expects_what_the_machine_shows),
        cmocka_unit_test(a_number_is_changed_where_it_stands),
        cmocka_unit_test(a_remark_goes_up_with_the_old_number),
        cmocka_unit_test(a_key_is_added_where_it_belongs),
        cmocka_unit_test(what_cannot_be_changed_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
