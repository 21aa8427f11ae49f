/*
 * What keeps a plan safe and makes it end: dangers offered and heeded, prices of what may happen,
 * a final check that does not pass what is far off, readings that are not asked for without end.
 */
#include "check.h"
#include "decide/advise/hypothesis.h"
#include "decide/reading/running.h"
#include "entry_kind.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "plan_bench.h"

/* What the plan says once this entry stands in the log too. */
static hp_advice after(const bench *b, const hp_entry *entry)
{
    bench copy = *b;
    hp_error err = hp_error_none();
    check_true(hp_belief_copy(&b->belief, &copy.belief, &err) == HP_OK, "%s", err.text);
    add(&copy, *entry);
    hp_advice advice = next(&copy);
    hp_belief_free(&copy.belief);
    return advice;
}

/* ---- dangers --------------------------------------------------------------------------------- */

/* Counts the dangers to which the showings of the advised check lead; asks that their
 * probabilities add up to one, and that every one passes the check of entries. */
static void find_dangers(const bench *b, const hp_advice *advice, int found[DANGER_COUNT])
{
    hp_showing showing[HP_SHOWING_MAX];
    int count = hp_plan_showings(b->planner, &b->belief, advice, 0.02, showing);
    double sum = 0.0;
    for (int k = 0; k < DANGER_COUNT; k++)
        found[k] = 0;
    for (int k = 0; k < count; k++) {
        check_true(showing[k].probability > 0.0, "showing %d has %g", k, showing[k].probability);
        sum += showing[k].probability;
        hp_advice then = after(b, &showing[k].entry);
        check_int(then.kind == HP_ADVICE_DANGER, then.danger != NULL);
        found[danger_of(then.danger)]++;
    }
    /* What is less likely than 0.02 is left out. */
    check_true(sum > 0.9 && sum < 1.0 + 1e-9, "%d showings with %g", count, sum);
}

/* A check for danger offers each danger that it is there to find as an answer, once, however rare:
 * who finds no volts at all must find a button for it. */
static void every_danger_of_a_check_is_offered(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    int found[DANGER_COUNT];
    open_bench(&b);
    hp_advice advice = next(&b);
    check_true(advice.reading == &hp_reading_pins, "another reading");
    find_dangers(&b, &advice, found);
    check_int(found[DANGER_SHELL], 1);
    check_int(found[DANGER_CROSSED], 1);
    check_true(found[DANGER_NONE] > 0, "good pins are not offered");
    hp_entry pins = hp_entry_make(&hp_reading_pins, 0);
    pins.pins.shell = pins.pins.crossed = HP_TELL_NO;
    add(&b, pins);
    advice = next(&b);
    check_true(advice.reading == &hp_reading_supply, "another reading");
    find_dangers(&b, &advice, found);
    check_int(found[DANGER_SENSOR_VOLTS], 1);
    check_int(found[DANGER_SENSOR_SUPPLY], 1);
    check_int(found[DANGER_NONE], 1);
    close_bench(&b);
}

/* Three sound phases have three like pairs. What an open lead leaves, or a meter's zero, is no
 * danger of this sort; a pair of its own volts or ohms is. */
static void unlike_pairs_are_a_danger(void **state)
{
    (void)state;
    const hp_plan_params plan = hp_plan_params_default();
    const hp_person person = hp_person_default();
    static const struct {
        double ohm[HP_PHASE_COUNT], leads;
        hp_tell tell;
    } ohms[] = {
        {{0.28, 0.28, 0.05}, 0.0, HP_TELL_YES},   {{0.28, 0.05, 0.05}, 0.0, HP_TELL_YES},
        {{0.28, 0.27, 0.29}, 0.0, HP_TELL_NO},    {{0.28, 0.28, 0.15}, 0.0, HP_TELL_NO},
        {{0.2, 0.2, 0.11}, 0.0, HP_TELL_NO},      {{0.5, 0.5, 0.3}, 0.2, HP_TELL_YES},
        {{0.19, 0.19, 0.02}, 0.0, HP_TELL_YES},   {{0.08, 0.09, 0.0}, 0.0, HP_TELL_NO},
        {{0.7, 0.7, 0.3}, 0.2, HP_TELL_YES},      {{INFINITY, INFINITY, 0.3}, 0, HP_TELL_UNSAID},
        {{0.28, NAN, 0.05}, 0.0, HP_TELL_UNSAID}, {{0.9, 0.9, 0.3}, 0.0, HP_TELL_YES},
        {{0.9, 0.35, 0.3}, 0.0, HP_TELL_YES}};
    for (size_t k = 0; k < sizeof ohms / sizeof ohms[0]; k++) {
        hp_entry e = hp_entry_make(&hp_reading_winding, 1);
        memcpy(e.winding.ohm, ohms[k].ohm, sizeof e.winding.ohm);
        e.winding.leads_ohm = ohms[k].leads;
        bool found = hp_entry_danger(&e, &plan, &person) == &hp_danger_winding;
        check_true(found == (ohms[k].tell == HP_TELL_YES), "ohms %zu: %d", k, found);
    }
    static const struct {
        double volts[HP_PHASE_COUNT];
        bool danger;
    } volts[] = {{{8.8, 8.8, 1.5}, true},  {{8.8, 8.8, 0.0}, true},  {{8.8, 7.9, 9.4}, false},
                 {{8.8, 0.0, 0.0}, false}, {{0.3, 0.3, 0.0}, false}, {{8.8, 4.0, 4.1}, true}};
    for (size_t k = 0; k < sizeof volts / sizeof volts[0]; k++) {
        hp_entry e = hp_entry_make(&hp_reading_spin, 1);
        memcpy(e.spin.volts, volts[k].volts, sizeof e.spin.volts);
        check_true((hp_entry_danger(&e, &plan, &person) == &hp_danger_backemf) == volts[k].danger,
                   "volts %zu", k);
    }
    /* It stands until all three are read alike. */
    hp_entry log[3] = {hp_entry_make(&hp_reading_winding, 1),
                       hp_entry_make(&hp_reading_hand_turn, 2),
                       hp_entry_make(&hp_reading_winding, 3)};
    memcpy(log[0].winding.ohm, ohms[0].ohm, sizeof ohms[0].ohm);
    memcpy(log[2].winding.ohm, ohms[10].ohm, sizeof ohms[10].ohm);
    check_true(hp_danger_standing(log, 3, 0, &plan, &person) == &hp_danger_winding,
               "two pairs take nothing back");
    memcpy(log[2].winding.ohm, ohms[2].ohm, sizeof ohms[2].ohm);
    check_true(!hp_danger_standing(log, 3, 0, &plan, &person), "read alike");
}

/* A machine that drives unasked runs away on the road: no run, and no verdict, before that is
 * found. */
static void a_wheel_that_turns_with_the_throttle_closed_is_a_danger(void **state)
{
    (void)state;
    const hp_plan_params plan = hp_plan_params_default();
    const hp_person person = hp_person_default();
    static const struct {
        double throttle;
        hp_motion motion;
        double rad_s;
        hp_tell tell;
    } cases[] = {
        {0.0, HP_MOVED_FORWARD, NAN, HP_TELL_YES},   {0.0, HP_MOVED_BACKWARD, NAN, HP_TELL_YES},
        {0.0, HP_MOVED_SHIVER, NAN, HP_TELL_YES},    {0.0, HP_MOVED_STILL, NAN, HP_TELL_NO},
        {0.0, HP_MOVED_UNSAID, NAN, HP_TELL_UNSAID}, {0.0, HP_MOVED_UNSAID, 17.0, HP_TELL_YES},
        {0.01, HP_MOVED_FORWARD, NAN, HP_TELL_YES},  {0.02, HP_MOVED_FORWARD, NAN, HP_TELL_UNSAID}};
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        hp_entry log[2] = {hp_entry_make(&hp_reading_trial, 1),
                           hp_entry_make(&hp_reading_trial, 2)};
        log[0].trial.throttle = cases[k].throttle;
        log[0].trial.motion = cases[k].motion;
        log[0].trial.wheel_rad_s = cases[k].rad_s;
        check_true((hp_entry_danger(&log[0], &plan, &person) == &hp_danger_runaway) ==
                       (cases[k].tell == HP_TELL_YES),
                   "case %zu", k);
        check_int(hp_entry_trial(&log[0]) == NULL, cases[k].throttle < 0.02);
        /* It stands until just that is looked at again. */
        log[1].trial.throttle = 0.35;
        log[1].trial.motion = HP_MOVED_STILL;
        check_true((hp_danger_standing(log, 2, 0, &plan, &person) != NULL) ==
                       (cases[k].tell == HP_TELL_YES),
                   "case %zu, an open throttle takes nothing back", k);
        log[1].trial.throttle = 0.0;
        check_true(!hp_danger_standing(log, 2, 0, &plan, &person), "case %zu, still", k);
    }
}

/* Whatever the hand meant: by the volts at rest that were read before, else by those stated. */
static void a_wheel_that_runs_at_the_volts_of_rest_is_a_runaway(void **state)
{
    (void)state;
    hp_plan_params plan = hp_plan_params_default();
    const hp_person person = hp_person_default();
    static const struct {
        double stated_v, read_v, signal_v;
        bool danger;
    } cases[] = {{0.0, 0.86, 0.86, true}, {0.0, 0.86, 0.90, true}, {0.0, 0.86, 0.95, false},
                 {0.0, 0.86, NAN, false}, {0.0, 0.0, 0.86, false}, {0.86, 0.0, 0.86, true},
                 {0.86, 1.2, 1.18, true}, {1.2, 0.86, 1.18, false}};
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        hp_entry log[2] = {hp_entry_make(&hp_reading_controls, 1),
                           hp_entry_make(&hp_reading_trial, 2)};
        if (cases[k].read_v > 0.0) {
            log[0].controls.rest_v = cases[k].read_v;
            log[0].controls.full_v = 4.0;
        }
        plan.rest_v = cases[k].stated_v;
        log[1].trial.throttle = 0.35;
        log[1].trial.motion = HP_MOVED_FORWARD;
        log[1].trial.signal_v = cases[k].signal_v;
        check_true((hp_danger_standing(log, 2, 1, &plan, &person) == &hp_danger_runaway) ==
                       cases[k].danger,
                   "case %zu", k);
    }
}

/* Where any voltage is said to do, none is too low. */
static void no_supply_is_no_danger_where_none_is_needed(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    int found[DANGER_COUNT];
    b.params.sensor_v_min = 0.0;
    b.params.allowed = hp_allow(&hp_reading_supply);
    open_bench(&b);
    hp_advice advice = next(&b);
    check_true(advice.reading == &hp_reading_supply, "another reading");
    find_dangers(&b, &advice, found);
    check_int(found[DANGER_SENSOR_VOLTS], 1);
    check_int(found[DANGER_SENSOR_SUPPLY], 0);
    close_bench(&b);
}

/* The limits themselves are fine, a hair beyond them is not; reversed tips too. */
static void the_limits_of_the_sensor_supply(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    open_bench(&b);
    const double low = b.params.sensor_v_min, high = b.params.sensor_v_max;
    const struct {
        double volts;
        const hp_danger *danger;
    } cases[] = {
        {low, NULL},
        {high, NULL},
        {low - 0.01, &hp_danger_sensor_supply},
        {0.0, &hp_danger_sensor_supply},
        {-5.0, &hp_danger_sensor_supply},
        {high + 0.01, &hp_danger_sensor_volts},
    };
    check_true(low > 0.0 && high > low, "limits %g and %g V", low, high);
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        hp_entry e = hp_entry_make(&hp_reading_supply, 0);
        e.supply.volts = cases[k].volts;
        hp_advice then = after(&b, &e);
        check_true(then.danger == cases[k].danger, "%g V: danger %s", cases[k].volts,
                   then.danger ? then.danger->name : "none");
        /* The same supply, noted by the list of what keeps a controller silent. */
        for (int found = HP_FOUND_KEY; cases[k].volts >= 0.0 && found < HP_FOUND_COUNT; found++) {
            e = hp_entry_make(&hp_reading_controls, 0);
            hp_controls *c = hp_entry_values(&e);
            c->found = (hp_found)found;
            c->supply_v = cases[k].volts;
            bool mended = found == HP_FOUND_SUPPLY && cases[k].danger == &hp_danger_sensor_supply;
            then = after(&b, &e);
            check_true(then.danger == (mended ? NULL : cases[k].danger), "%g V, found %d: %s",
                       cases[k].volts, found, then.danger ? then.danger->name : "none");
            c->supply_v = (double)NAN;
            check_true(!after(&b, &e).danger, "found %d: volts that nobody read", found);
        }
    }
    close_bench(&b);
}

/* ---- prices ---------------------------------------------------------------------------------- */

/* Twelve relations, trials alone, nobody slips: what is still to be paid. */
static double cost_of(double risk_rough, double risk_stalled)
{
    bench b = make(hp_person_sharp());
    b.prior.table_stated = 1.0;
    b.prior.inverted = b.prior.sensor_fault = b.prior.lead_open = 0.0;
    b.params.allowed = 0;
    b.params.ammeter = b.params.tachometer = false;
    b.params.costs.risk_rough = risk_rough;
    b.params.costs.risk_stalled = risk_stalled;
    open_bench(&b);
    double cost = next(&b).expected_cost;
    close_bench(&b);
    return cost;
}

/* Of the twelve relations six make the first wiring stall, four make it rough (the geometry is in
 * test_advice_theory.c): so much of a dearer stall, or of a dearer rough run, is paid in the first
 * trial alone, each for itself. Nothing else may change with so small a difference. */
static void stalled_and_rough_trials_have_their_own_price(void **state)
{
    (void)state;
    const double more = 0.01;
    double base = cost_of(4.0, 10.0);
    double stalled = (cost_of(4.0, 10.0 + more) - base) / more;
    double rough = (cost_of(4.0 + more, 10.0) - base) / more;
    /* At most three trials after it can be rough or stall. */
    check_true(stalled >= 6.0 / 12.0 - 0.02 && stalled < 2.0, "stalls paid: %g", stalled);
    check_true(rough >= 4.0 / 12.0 - 0.02 && rough < 2.0, "rough runs paid: %g", rough);
}

/* Who fears a stalled motor above all measures first, whatever measuring costs. */
static void a_feared_stall_is_measured_away(void **state)
{
    (void)state;
    for (int feared = 0; feared < 2; feared++) {
        bench b = make(hp_person_default());
        b.params.allowed = hp_allow(&hp_reading_park) | hp_allow(&hp_reading_hand_turn);
        b.params.costs.reading[hp_reading_index(&hp_reading_hand_turn)] =
            b.params.costs.reading[hp_reading_index(&hp_reading_park)] = 60.0;
        b.params.costs.risk_stalled = feared ? 1000.0 : 10.0;
        open_bench(&b);
        check_int(next(&b).kind, feared ? HP_ADVICE_READ : HP_ADVICE_TRY);
        close_bench(&b);
    }
}

/* ---- the final check ------------------------------------------------------------------------- */

static hp_entry smooth_run(double amps, double wheel_rad_s)
{
    hp_entry e = hp_entry_make(&hp_reading_trial, 0);
    e.trial.wiring = hp_wiring_from_number(1);
    e.trial.throttle = 0.35;
    e.trial.motion = HP_MOVED_FORWARD;
    e.trial.feel = HP_FEEL_SMOOTH;
    e.trial.starts = e.trial.starts_tried = 6;
    e.trial.battery_a = amps;
    e.trial.wheel_rad_s = wheel_rad_s;
    return e;
}

/* However often the wiring ran as it should: a wheel that was read last at half or at twice its
 * speed, or at many times the current, is read again before the work is called done. Inside a
 * quarter beyond the band, and up to twice the current, it is done. */
static void nothing_far_off_passes_the_final_check(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    b.params.allowed = 0;
    open_bench(&b);
    for (int k = 0; k < 6; k++)
        add(&b, smooth_run(0.1, 8.2));
    hp_advice done = next(&b);
    check_int(done.kind, HP_ADVICE_DONE);
    hp_band speed = done.wheel_rad_s, current = done.current_a;
    const struct {
        double amps, wheel_rad_s;
        bool passes;
    } last[] = {{0.1, 0.99 * speed.low, true},        {0.1, 0.75 * speed.low, false},
                {0.1, 0.4 * speed.low, false},        {0.1, 1.01 * speed.high, true},
                {0.1, 1.3 * speed.high, false},       {0.1, 2.0 * speed.high, false},
                {1.5 * current.high, 8.2, true},      {2.5 * current.high, 8.2, false},
                {20.0 * current.high, 8.2, false},    {0.1, (double)NAN, true},
                {(double)NAN, 0.4 * speed.low, false}};
    for (size_t k = 0; k < sizeof last / sizeof last[0]; k++) {
        hp_entry e = smooth_run(last[k].amps, last[k].wheel_rad_s);
        hp_advice then = after(&b, &e);
        check_true((then.kind == HP_ADVICE_DONE) == last[k].passes,
                   "%g A and %g rad/s, bands to %g A, %g to %g rad/s: advice %d", last[k].amps,
                   last[k].wheel_rad_s, current.high, speed.low, speed.high, (int)then.kind);
        if (!last[k].passes)
            check_true(then.kind == HP_ADVICE_LOOK && then.number == 1, "advice %d of wiring %d",
                       (int)then.kind, then.number);
    }
    /* Full throttle burns what grew warm, and a plug that cut it out: found, and run gently again.
     */
    hp_entry warned = smooth_run(0.1, 8.2);
    for (int k = 0; k < 2; k++) {
        warned.trial.warm = k == 0 ? HP_TELL_YES : HP_TELL_NO;
        warned.trial.cut_out = k == 1 ? HP_TELL_YES : HP_TELL_NO;
        hp_advice then = after(&b, &warned);
        check_true(then.kind == HP_ADVICE_LOOK && then.number == 1 && then.certainty > 0.5 &&
                       then.moved_phase == 0 && then.moved_sensor == 0,
                   "warned %d: advice %d of wiring %d", k, (int)then.kind, then.number);
    }
    /* The words of the last trial count as much as its figures. */
    hp_entry e = smooth_run(0.1, 8.2);
    e.trial.feel = HP_FEEL_ROUGH;
    check_true(after(&b, &e).kind != HP_ADVICE_DONE, "done after a rough run");
    e = smooth_run(0.1, 8.2);
    e.trial.motion = HP_MOVED_BACKWARD;
    check_true(after(&b, &e).kind != HP_ADVICE_DONE, "done after a run backward");
    close_bench(&b);
}

/* Without any meter the work ends where a run of half a minute was felt: never with a wiring that
 * is called correct, and not before somebody said that nothing grew warm or cut out. */
static void without_a_meter_it_ends_as_far_as_it_can_be_told(void **state)
{
    (void)state;
    for (int meter = 0; meter < 2; meter++) {
        bench b = make(hp_person_default());
        b.params.allowed = 0;
        b.params.first_power = HP_FIRST_POWER_LAMP;
        b.params.ammeter = meter;
        b.params.tachometer = false;
        open_bench(&b);
        hp_entry lamp = smooth_run((double)NAN, (double)NAN);
        lamp.trial.feed = HP_FEED_LAMP;
        lamp.trial.limit_reached = HP_TELL_NO;
        lamp.trial.warm = lamp.trial.cut_out = HP_TELL_NO;
        add(&b, lamp);
        add(&b, lamp);
        hp_advice end = next(&b);
        check_true(end.kind == (meter ? HP_ADVICE_DONE : HP_ADVICE_PROBABLY) &&
                       end.why == (meter ? HP_WHY_LIMIT : HP_WHY_UNMETERED) && end.felt == 0,
                   "behind the lamp: %d, %d, %d", (int)end.kind, (int)end.why, end.felt);
        hp_entry run = smooth_run((double)NAN, (double)NAN);
        run.trial.warm = run.trial.cut_out = HP_TELL_NO;
        hp_entry unsaid = run, slow = run, kept = run, other = run;
        unsaid.trial.warm = HP_TELL_UNSAID;
        kept.trial.cut_out = HP_TELL_UNSAID;
        slow.trial.throttle = 0.2;
        other.trial.wiring = hp_wiring_from_number(2);
        other.trial.motion = HP_MOVED_BACKWARD;
        end = after(&b, &run);
        check_true(end.number == 1 && end.felt == (meter ? 0 : 3), "felt %d", end.felt);
        check_true(end.kind == (meter ? HP_ADVICE_DONE : HP_ADVICE_PROBABLY), "felt: %d",
                   (int)end.kind);
        check_true(after(&b, &unsaid).felt == 0, "nobody said whether it grew warm");
        check_true(after(&b, &kept).felt == 0, "nobody said whether it cut out");
        check_true(after(&b, &slow).felt == 0, "at little throttle");
        check_true(after(&b, &other).felt == 0, "another wiring");
        run.trial.warm = HP_TELL_YES;
        check_true(after(&b, &run).kind == HP_ADVICE_LOOK, "it grew warm");
        run.trial.warm = HP_TELL_NO;
        /* The meter was borrowed. */
        double usual_rad_s;
        run.trial.throttle = 1.0;
        check_true(hp_member_smooth(&b.belief.members, 0, 1.0, &run.trial.battery_a, &usual_rad_s),
                   "none");
        end = after(&b, &run);
        check_true(end.kind == HP_ADVICE_DONE && end.checked, "read: %d, %d", (int)end.kind,
                   end.checked);
        close_bench(&b);
    }
}

/* What a planner is told to hold runs at full throttle against is its only limit for them. */
static void a_run_has_one_limit_whoever_is_asked(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    b.params.allowed = 0;
    open_bench(&b);
    for (int k = 0; k < 3; k++)
        add(&b, smooth_run(0.1, 8.2));
    double usual_a, usual_rad_s;
    check_true(hp_member_smooth(&b.belief.members, 0, 1.0, &usual_a, &usual_rad_s), "no member");
    hp_entry full = smooth_run(usual_a, usual_rad_s);
    full.trial.throttle = 1.0;
    check_true(after(&b, &full).checked, "by the ensemble");
    const hp_full_limits limits = {
        {0.5 * usual_a, 2.0 * usual_a}, {1.2 * usual_rad_s, 1.5 * usual_rad_s}, 3.0 * usual_a};
    hp_planner_hold_against(b.planner, &limits);
    hp_advice end = after(&b, &full);
    check_true(end.full_from == HP_BANDS_PARTS && !end.checked && !end.failed.stands,
               "a little too slow: %d, %d", (int)end.full_from, end.checked);
    check_close(end.full_most_a, limits.most_a, 0.0, "as given");
    full.trial.wheel_rad_s = 1.01 * limits.wheel_rad_s.low / HP_FAR_SPEED;
    check_true(!after(&b, &full).failed.stands, "not far");
    full.trial.wheel_rad_s = 0.99 * limits.wheel_rad_s.low / HP_FAR_SPEED;
    check_true(after(&b, &full).failed.entry[HP_CHECK_SLOW] == 4, "far too slow");
    close_bench(&b);
}

/* A run at full throttle that drew too much is told, with what it drew, and stands: good runs at
 * the gentle throttle do not make up for it, nor does one at full throttle without a meter, nor a
 * lesser one that is still above the band; one inside the band does. A mend begins anew. */
static void a_failed_full_throttle_check_stands_until_a_good_one(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    b.params.allowed = 0;
    open_bench(&b);
    for (int k = 0; k < 3; k++)
        add(&b, smooth_run(0.1, 8.2));
    hp_advice done = next(&b);
    check_int(done.kind, HP_ADVICE_DONE);
    double usual_a, usual_rad_s, most = done.full_current_a.high;
    check_true(hp_member_smooth(&b.belief.members, 0, 1.0, &usual_a, &usual_rad_s), "no member");
    hp_entry full = smooth_run(3.0 * most, usual_rad_s);
    full.trial.throttle = 1.0;
    add(&b, full);
    hp_advice failed = next(&b);
    check_int(failed.kind, HP_ADVICE_PROBABLY);
    check_int(failed.why, HP_WHY_CHECK_FAILED);
    check_int(failed.number, 1);
    check_int(failed.failed.entry[HP_CHECK_CURRENT], 4);
    check_close(failed.failed.battery_a, 3.0 * most, 0.0, "as read");
    add(&b, smooth_run(0.1, 8.2));
    add(&b, smooth_run(0.1, 8.2));
    check_int(next(&b).why, HP_WHY_CHECK_FAILED);
    full.trial.battery_a = (double)NAN;
    add(&b, full);
    check_int(next(&b).why, HP_WHY_CHECK_FAILED);
    check_int(next(&b).failed.entry[HP_CHECK_CURRENT], 4);
    full.trial.battery_a = 1.5 * next(&b).full_most_a;
    add(&b, full);
    check_int(next(&b).why, HP_WHY_CHECK_FAILED);
    check_int(next(&b).failed.entry[HP_CHECK_CURRENT], 8);
    full.trial.battery_a = usual_a;
    hp_advice good = after(&b, &full);
    check_int(good.kind, HP_ADVICE_DONE);
    check_true(good.checked, "not checked");
    check_true(!good.failed.stands, "none failed");
    /* What felt rough and drew little is no wrong wiring, and no final check. */
    full.trial.feel = HP_FEEL_NOISY;
    hp_advice noisy = after(&b, &full);
    check_int(noisy.kind, HP_ADVICE_DONE);
    check_true(!noisy.checked, "it was noisy");
    full.trial.feel = HP_FEEL_ROUGH;
    check_true(!after(&b, &full).checked, "it was rough");
    hp_entry mend = hp_entry_make(&hp_reading_mend, 0);
    check_true(after(&b, &mend).why != HP_WHY_CHECK_FAILED, "a run of before the mend counts");
    close_bench(&b);
}

/* Not the current alone: a speed far off, a rough wheel whose current nobody read, warm leads, a
 * cut-out stand as well, each until a run at full throttle says otherwise of that very thing. */
static void every_sign_at_full_throttle_stands_until_it_is_taken_back(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    b.params.allowed = 0;
    open_bench(&b);
    for (int k = 0; k < 3; k++)
        add(&b, smooth_run(0.1, 8.2));
    double usual_a, usual_rad_s;
    check_true(hp_member_smooth(&b.belief.members, 0, 1.0, &usual_a, &usual_rad_s), "no member");
    hp_entry good = smooth_run(usual_a, usual_rad_s);
    good.trial.throttle = 1.0;
    good.trial.warm = good.trial.cut_out = HP_TELL_NO;
    hp_entry bad[5] = {good, good, good, good, good};
    static const hp_check_sign sign[] = {HP_CHECK_FAST, HP_CHECK_SLOW, HP_CHECK_ROUGH,
                                         HP_CHECK_WARM, HP_CHECK_CUT_OUT};
    bad[0].trial.wheel_rad_s = 1.9 * usual_rad_s;
    bad[1].trial.wheel_rad_s = 0.5 * usual_rad_s;
    bad[2].trial.feel = HP_FEEL_ROUGH;
    bad[2].trial.battery_a = (double)NAN;
    bad[3].trial.warm = HP_TELL_YES;
    bad[4].trial.cut_out = HP_TELL_YES;
    for (size_t k = 0; k < sizeof bad / sizeof bad[0]; k++) {
        add(&b, bad[k]);
        add(&b, smooth_run(0.1, 8.2));
        add(&b, smooth_run(0.1, 8.2));
        hp_advice failed = next(&b);
        check_true(failed.why == HP_WHY_CHECK_FAILED, "sign %d: why %d", (int)sign[k],
                   (int)failed.why);
        for (int s = 0; s < HP_CHECK_COUNT; s++)
            check_true((failed.failed.entry[s] > 0) == (s == (int)sign[k]), "%s stands at %s",
                       hp_check_sign_name((hp_check_sign)s), hp_check_sign_name(sign[k]));
        add(&b, good);
        check_true(next(&b).kind == HP_ADVICE_DONE, "sign %d stays", (int)sign[k]);
    }
    /* One that only growls draws no more than a good one. */
    hp_entry growls = good;
    growls.trial.feel = HP_FEEL_ROUGH;
    add(&b, growls);
    check_true(!next(&b).failed.stands, "a small current says that it only growls");
    close_bench(&b);
}

static hp_entry no_load_run(double amps, double wheel_rad_s, double volts)
{
    hp_entry e = hp_entry_make(&hp_reading_no_load, 0);
    hp_no_load *n = (hp_no_load *)hp_entry_values(&e);
    n->full = (hp_steady){.rad_s = wheel_rad_s, .battery_a = amps, .volts = volts};
    return e;
}

static double correct(const bench *b, int number)
{
    double right[HP_WIRING_COUNT + 1];
    hp_belief_wirings(&b->belief, right);
    return right[number];
}

/* A no-load run says of the wiring that is joined what a trial of it at full throttle would: the
 * same, whichever of the two notes it, and both together what two looks at one run say. */
static void a_no_load_run_is_weighed_as_a_trial_of_what_is_joined(void **state)
{
    (void)state;
    static const struct {
        double amps; /* of what such a machine draws */
        bool lowers;
    } row[] = {{1.0, false}, {55.0, true}};
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        bench b = make(hp_person_default());
        b.prior = hp_prior_default();
        open_bench(&b);
        double amps, rad_s, volts = b.table.nominal.supply.emf_v;
        check_true(hp_member_smooth(&b.belief.members, 0, 1.0, &amps, &rad_s), "no member");
        add(&b, smooth_run(0.1, 8.2));
        double before = correct(&b, 1);
        hp_entry run = no_load_run(row[k].amps * amps, rad_s, volts), trial = smooth_run(0, 0);
        trial.trial = (hp_trial){.wiring = trial.trial.wiring,
                                 .throttle = 1.0,
                                 .battery_a = row[k].amps * amps,
                                 .wheel_rad_s = rad_s,
                                 .limit_a = (double)NAN,
                                 .signal_v = (double)NAN};
        hp_error err = hp_error_none();
        bench other = b;
        check_int(hp_belief_copy(&b.belief, &other.belief, &err), HP_OK);
        add(&b, run);
        add(&other, trial);
        double once = correct(&b, 1);
        check_close(once, correct(&other, 1), 1e-12, "a trial says the same");
        check_true((once < before) == row[k].lowers, "%g A: %g before, %g after",
                   row[k].amps * amps, before, once);
        /* Half the volts, half the speed: the same machine. */
        bench half = b;
        check_int(hp_belief_copy(&b.belief, &half.belief, &err), HP_OK);
        add(&half, no_load_run(row[k].amps * amps, 0.5 * rad_s, 0.5 * volts));
        add(&b, trial);
        check_close(correct(&half, 1), correct(&b, 1), 0.01, "speed goes with the volts");
        /* The other of the two after the one is a second look, as a trial after a trial. */
        add(&other, trial);
        check_close(correct(&b, 1), correct(&other, 1), 1e-12, "counted as two runs");
        /* A brake that drags, shorted turns, a slip of the pen: the wiring may be correct yet. */
        check_true(correct(&b, 1) > 0.2, "ruled out: %g", correct(&b, 1));
        hp_belief_free(&other.belief);
        hp_belief_free(&half.belief);
        close_bench(&b);
    }
}

/* Drag that takes three times the usual current leaves the wiring correct. */
static void a_dragging_brake_stays_possible_in_a_no_load_run(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    b.prior = hp_prior_default();
    open_bench(&b);
    double amps, rad_s;
    check_true(hp_member_smooth(&b.belief.members, 0, 1.0, &amps, &rad_s), "no member");
    add(&b, smooth_run(0.3, 8.2));
    add(&b, smooth_run(0.3, 8.2));
    double before = correct(&b, 1);
    add(&b, no_load_run(3.0 * amps, 0.97 * rad_s, b.table.nominal.supply.emf_v));
    check_true(correct(&b, 1) > 0.9 * before, "%g, then %g", before, correct(&b, 1));
    close_bench(&b);
}

/* Where the last trial did not run, or something was mended since, nobody knows what was joined. */
static void a_no_load_run_of_an_unknown_wiring_is_not_weighed(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    open_bench(&b);
    hp_entry run = no_load_run(9.0, 20.0, 36.0);
    double before = correct(&b, 1);
    add(&b, run);
    check_close(correct(&b, 1), before, 0.0, "no trial at all");
    hp_entry rough = smooth_run(5.0, 8.2);
    rough.trial.feel = HP_FEEL_ROUGH;
    add(&b, rough);
    before = correct(&b, 1);
    add(&b, run);
    check_close(correct(&b, 1), before, 0.0, "after a rough trial");
    close_bench(&b);
}

/* Continuity and Hall supply keep the first power safe; a wheel that runs well is past that. */
static void no_beeper_is_asked_for_once_a_wheel_runs(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    open_bench(&b);
    check_true(next(&b).reading == &hp_reading_pins, "first of all");
    hp_entry rough = smooth_run(5.0, 8.2);
    rough.trial.feel = HP_FEEL_ROUGH;
    add(&b, rough);
    check_true(next(&b).reading == &hp_reading_pins, "a rough one runs on anything");
    hp_entry mend = hp_entry_make(&hp_reading_mend, 0);
    add(&b, mend);
    add(&b, smooth_run(0.1, 8.2));
    check_true(next(&b).reading != &hp_reading_pins, "it runs");
    close_bench(&b);
}

static double loose(const bench *b)
{
    double troubles[HP_TROUBLE_COUNT];
    hp_belief_troubles(&b->belief, troubles);
    return troubles[hp_trouble_index(-1, (hp_fault){HP_FAULT_LOOSE, 0})];
}

/* Two pairs that beep join all three leads: it is taken once more, and not for ever. */
static void a_pair_that_cannot_be_silent_is_tried_once_more(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    b.prior.loose = 0.015;
    open_bench(&b);
    double before = loose(&b);
    hp_entry pins = hp_entry_make(&hp_reading_pins, 0);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        pins.pins.open[k] = k == 1 ? HP_TELL_YES : HP_TELL_NO;
    add(&b, pins);
    check_true(next(&b).reading == &hp_reading_pins, "it cannot be");
    check_true(loose(&b) > 3.0 * before, "%g after %g", loose(&b), before);
    hp_entry good = hp_entry_make(&hp_reading_pins, 0);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        good.pins.open[k] = HP_TELL_NO;
    bench other = make(hp_person_default());
    open_bench(&other);
    add(&other, pins);
    add(&other, good);
    check_true(next(&other).reading != &hp_reading_pins, "it beeps now");
    close_bench(&other);
    add(&b, pins);
    check_true(next(&b).reading != &hp_reading_pins, "asked for for ever");
    check_true(loose(&b) > 0.1, "%g", loose(&b));
    pins.pins.open[2] = HP_TELL_YES; /* one lead is torn: that can be */
    bench torn = make(hp_person_default());
    open_bench(&torn);
    add(&torn, pins);
    check_true(next(&torn).reading != &hp_reading_pins, "a torn lead is no slip");
    close_bench(&torn);
    close_bench(&b);
}

/* What feeds the Hall sensors of another controller nobody has measured, whatever ran before. */
static void the_hall_supply_of_another_controller_is_measured_first(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    open_bench(&b);
    add(&b, hp_entry_make(&hp_reading_pins, 0));
    hp_entry supply = hp_entry_make(&hp_reading_supply, 0);
    supply.supply.volts = 5.0;
    add(&b, supply);
    add(&b, smooth_run(0.1, 8.2));
    check_true(next(&b).reading != &hp_reading_supply, "it runs");
    hp_entry mend = hp_entry_make(&hp_reading_mend, 0);
    mend.mend.fault = (hp_fault){HP_FAULT_LEAD_OPEN, 0};
    add(&b, mend);
    check_true(next(&b).reading != &hp_reading_supply, "the same controller");
    add(&b, hp_entry_make(&hp_reading_pins, 0));
    mend.mend.fault = (hp_fault){HP_FAULT_SILENT, 0};
    add(&b, mend);
    check_true(next(&b).reading == &hp_reading_supply, "another controller");
    add(&b, supply);
    check_true(next(&b).reading != &hp_reading_supply, "it is measured");
    close_bench(&b);
}

/* Whoever solders in the cable at the axle may leave a lead on the shell, or on another. */
static void a_mended_lead_is_tried_against_the_others_first(void **state)
{
    (void)state;
    static const hp_mend mends[] = {
        {.fault = {HP_FAULT_SENSOR_HIGH, 0}},
        {.fault = {HP_FAULT_SENSOR_LOW, 2}},
        {.fault = {HP_FAULT_LEAD_OPEN, 1}},
        {.what = HP_MENDED_INVERSION},
    };
    for (size_t k = 0; k < 2 * sizeof mends / sizeof mends[0]; k++) {
        bench b = make(hp_person_default());
        hp_entry pins = hp_entry_make(&hp_reading_pins, 0);
        hp_entry mend = hp_entry_make(&hp_reading_mend, 0);
        hp_entry supply = hp_entry_make(&hp_reading_supply, 0);
        bool can = k % 2 == 0;
        if (!can)
            hp_plan_leave_out(&b.params, &hp_reading_pins);
        open_bench(&b);
        supply.supply.volts = 5.0;
        add(&b, pins);
        add(&b, supply);
        add(&b, smooth_run(0.1, 8.2));
        mend.mend = mends[k / 2];
        add(&b, mend);
        check_int(next(&b).reading == &hp_reading_pins, can);
        add(&b, pins);
        check_true(next(&b).reading != &hp_reading_pins, "mend %zu: it was taken", k);
        close_bench(&b);
    }
}

/* ---- what is shown --------------------------------------------------------------------------- */

/* A wiring tried before shows its speed, its current and its count again: what a further look may
 * show are other words, once each, not the same words with every figure there could be. */
static void a_further_look_shows_other_words_only(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    b.params.allowed = 0;
    open_bench(&b);
    hp_advice advice = next(&b);
    check_int(advice.kind, HP_ADVICE_TRY);
    int rows[2] = {0, 0}, words[2] = {0, 0};
    for (int again = 0; again < 2; again++) {
        hp_showing showing[HP_SHOWING_MAX];
        int count = hp_plan_showings(b.planner, &b.belief, &advice, 1e-4, showing);
        for (int k = 0; k < count; k++) {
            const hp_trial *t = &showing[k].entry.trial;
            bool said = false;
            for (int j = 0; j < k; j++) {
                const hp_trial *other = &showing[j].entry.trial;
                /* Smooth at a large current is another thing than smooth at a small one. */
                said = said || (other->motion == t->motion && other->feel == t->feel &&
                                (t->feel != HP_FEEL_SMOOTH || other->battery_a == t->battery_a));
            }
            rows[again]++;
            words[again] += !said;
        }
        hp_entry e = smooth_run((double)NAN, (double)NAN);
        e.trial.wiring = advice.wiring;
        e.trial.motion = HP_MOVED_BACKWARD;
        e.trial.feel = HP_FEEL_ROUGH;
        add(&b, e);
        advice.kind = HP_ADVICE_LOOK;
    }
    check_true(rows[0] > words[0], "%d rows, %d words at first", rows[0], words[0]);
    check_int(rows[1], words[1]);
    close_bench(&b);
}

/* Rough wirings draw at least five times what smooth ones do (docs/verdicts.md), so a rough run is
 * shown with a large current, and one that is called smooth is too: as often as a person says
 * smooth for rough. Told apart by the current they never hide among the smooth ones. */
static void a_false_smooth_is_shown_by_its_current(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    b.params.allowed = 0;
    b.params.first_power = HP_FIRST_POWER_NONE;
    b.prior.inverted = b.prior.sensor_fault = b.prior.lead_open = 0.0;
    b.prior.table_stated = 1.0;
    open_bench(&b);
    hp_advice advice = next(&b);
    check_int(advice.kind, HP_ADVICE_TRY);
    hp_showing showing[HP_SHOWING_MAX];
    int count = hp_plan_showings(b.planner, &b.belief, &advice, 0.0, showing);
    double rough = 0.0, smooth_large = 0.0, middle = hp_band_middle(advice.current_a);
    for (int k = 0; k < count; k++) {
        const hp_trial *t = &showing[k].entry.trial;
        if (t->motion != HP_MOVED_FORWARD)
            continue;
        rough += t->feel == HP_FEEL_ROUGH ? showing[k].probability : 0.0;
        if (t->feel == HP_FEEL_SMOOTH && t->battery_a > HP_CURRENT_SMALL * middle)
            smooth_large += showing[k].probability;
        check_true(t->feel != HP_FEEL_ROUGH || t->battery_a > HP_CURRENT_SMALL * middle,
                   "a rough run is shown with %g A", t->battery_a);
    }
    /* One is right, one reverse, four are rough, of which two run forward. */
    check_true(rough > 1.0 / 12.0, "rough with %g", rough);
    check_true(smooth_large > 0.02 * rough && smooth_large < 0.2 * rough, "%g rough, %g beside it",
               rough, smooth_large);
    close_bench(&b);
}

/* A part is proved by the reading that shows it by itself: an open lead by ohms, a slipping clutch
 * by volts that are not there, whatever is wrong with a sensor by its codes. */
static void each_trouble_has_its_proof(void **state)
{
    (void)state;
    for (int inverted = -1; inverted < HP_PHASE_COUNT; inverted++)
        for (int f = 0; f < HP_FAULT_COUNT; f++) {
            hp_fault fault = hp_fault_from_index(f);
            const hp_reading *proof =
                fault.kind == HP_FAULT_UNLISTED    ? NULL /* nobody knows what it is */
                : fault.kind == HP_FAULT_LEAD_OPEN ? &hp_reading_winding
                : fault.kind == HP_FAULT_LOOSE     ? &hp_reading_contacts
                : fault.kind == HP_FAULT_CLUTCH    ? &hp_reading_spin
                : fault.kind == HP_FAULT_SILENT || fault.kind == HP_FAULT_CUTTING_OUT
                    ? &hp_reading_controls
                    : &hp_reading_hand_turn;
            check_true(hp_plan_proof(hp_trouble_index(inverted, fault)) == proof, "another proof");
        }
}

/* ---- an end ---------------------------------------------------------------------------------- */

/* Answers that contradict one another for ever, as from a loose plug: the codes of a hand turn and
 * of a park by turns. */
static hp_entry contrary(const hp_advice *advice, int step)
{
    static const int rising[] = {4, 6, 2, 3, 1, 5, 4}, falling[] = {4, 5, 1, 3, 2, 6, 4};
    static const int single[] = {4, 2, 1, 6, 3, 5};
    hp_entry e = hp_entry_make(advice->reading, 0);
    switch (kind_of(advice->reading)) {
    case KIND_HAND_TURN:
        e.hand_turn.count = 7;
        memcpy(e.hand_turn.code, step % 2 ? rising : falling, sizeof rising);
        e.hand_turn.edges = 1 + step; /* no two are alike */
        break;
    case KIND_PARK:
        e.park.lead = advice->lead;
        e.park.code = single[step % 6];
        break;
    case KIND_PINS:
        for (int k = 0; k < 3; k++)
            e.pins.open[k] = (step + k) % 3 ? HP_TELL_YES : HP_TELL_NO; /* one lead is torn */
        break;
    case KIND_SUPPLY: e.supply.volts = 5.0; break;
    case KIND_WINDING: e.winding.ohm[step % 3] = step % 2 ? 0.2 : (double)INFINITY; break;
    case KIND_SPIN:
        e.spin.volts[step % 3] = step % 2 ? 0.0 : 9.0;
        e.spin.wheel_rad_s = 10.0;
        break;
    default: break;
    }
    return e;
}

/* The same reading is asked for three times at most, however cheap, and however little the answers
 * agree; then wirings are tried, and in the end the plan gives up. */
static void readings_are_not_asked_for_without_end(void **state)
{
    (void)state;
    bench b = make(hp_person_slipping(0.2));
    b.params.costs.reading[hp_reading_index(&hp_reading_hand_turn)] =
        b.params.costs.reading[hp_reading_index(&hp_reading_park)] =
            b.params.costs.reading[hp_reading_index(&hp_reading_pins)] = 0.01;
    b.params.costs.reading[hp_reading_index(&hp_reading_winding)] =
        b.params.costs.reading[hp_reading_index(&hp_reading_spin)] = 0.01;
    open_bench(&b);
    int asked[KIND_COUNT][4] = {{0}}, steps = 0;
    hp_advice advice = next(&b);
    for (; advice.kind <= HP_ADVICE_LOOK && steps < 60; advice = next(&b), steps++) {
        if (advice.kind == HP_ADVICE_READ) {
            int times = ++asked[kind_of(advice.reading)][advice.lead + 1];
            check_true(times <= 3, "%s of lead %d for the %dth time",
                       hp_reading_name(advice.reading), advice.lead, times);
            add(&b, contrary(&advice, steps));
            continue;
        }
        hp_entry e = smooth_run((double)NAN, (double)NAN);
        e.trial.wiring = advice.wiring;
        e.trial.motion = steps % 2 ? HP_MOVED_SHIVER : HP_MOVED_BACKWARD;
        e.trial.feel = HP_FEEL_UNSAID;
        e.trial.starts = steps % 2 ? 0 : 6;
        add(&b, e);
    }
    check_true(steps < 60, "no end after %d steps", steps);
    check_true(asked[KIND_HAND_TURN][0] == 3, "%d hand turns asked for: the test shows nothing",
               asked[KIND_HAND_TURN][0]);
    close_bench(&b);
}

/* What a reading said twice, byte for byte, it is not asked a third time. */
static void a_reading_that_said_the_same_twice_is_enough(void **state)
{
    (void)state;
    bench b = make(hp_person_slipping(0.2));
    b.params.costs.reading[hp_reading_index(&hp_reading_hand_turn)] = 0.01;
    b.params.allowed = hp_allow(&hp_reading_hand_turn);
    open_bench(&b);
    hp_advice advice = next(&b);
    int turns = 0;
    for (; advice.kind == HP_ADVICE_READ && turns < 9; advice = next(&b), turns++) {
        hp_entry e = hp_entry_make(&hp_reading_hand_turn, 0);
        e.hand_turn.count = 3;
        e.hand_turn.code[0] = 4;
        e.hand_turn.code[1] = 6;
        e.hand_turn.code[2] = 5;
        add(&b, e);
    }
    check_int(turns, 2);
    close_bench(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(unlike_pairs_are_a_danger),
        cmocka_unit_test(a_wheel_that_turns_with_the_throttle_closed_is_a_danger),
        cmocka_unit_test(a_wheel_that_runs_at_the_volts_of_rest_is_a_runaway),
        cmocka_unit_test(every_danger_of_a_check_is_offered),
        cmocka_unit_test(no_supply_is_no_danger_where_none_is_needed),
        cmocka_unit_test(the_limits_of_the_sensor_supply),
        cmocka_unit_test(stalled_and_rough_trials_have_their_own_price),
        cmocka_unit_test(a_feared_stall_is_measured_away),
        cmocka_unit_test(nothing_far_off_passes_the_final_check),
        cmocka_unit_test(every_sign_at_full_throttle_stands_until_it_is_taken_back),
        cmocka_unit_test(a_no_load_run_is_weighed_as_a_trial_of_what_is_joined),
        cmocka_unit_test(a_dragging_brake_stays_possible_in_a_no_load_run),
        cmocka_unit_test(a_no_load_run_of_an_unknown_wiring_is_not_weighed),
        cmocka_unit_test(no_beeper_is_asked_for_once_a_wheel_runs),
        cmocka_unit_test(a_pair_that_cannot_be_silent_is_tried_once_more),
        cmocka_unit_test(the_hall_supply_of_another_controller_is_measured_first),
        cmocka_unit_test(a_mended_lead_is_tried_against_the_others_first),
        cmocka_unit_test(a_failed_full_throttle_check_stands_until_a_good_one),
        cmocka_unit_test(a_further_look_shows_other_words_only),
        cmocka_unit_test(without_a_meter_it_ends_as_far_as_it_can_be_told),
        cmocka_unit_test(a_run_has_one_limit_whoever_is_asked),
        cmocka_unit_test(a_false_smooth_is_shown_by_its_current),
        cmocka_unit_test(each_trouble_has_its_proof),
        cmocka_unit_test(readings_are_not_asked_for_without_end),
        cmocka_unit_test(a_reading_that_said_the_same_twice_is_enough),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
