/*
 * Benches that are not as the ensemble supposes, one by one: a lamp behind the meter, a brake that
 * drags, a hand that gives too little, a supply with a limit, a controller that drives nothing, a
 * sine drive, people without meters. Each is followed to its end, every answer true.
 *
 * What wheels do is taken from the ensemble's records and then bent by hand; benches whose
 * simulator shares nothing with this one: tests/hidden_bench.
 */
#include "check.h"
#include "decide/advise/hypothesis.h"
#include "decide/reading/reading_list.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "plan_bench.h"

#define MOTOR 5 /* of the ensemble: any will do */

/* How a bench departs from what is taken for granted, and what is said at its end. */
typedef struct odd_bench {
    double smooth_speed; /* of a smooth wheel, over the record's */
    double rough_speed;  /* of a rough one */
    double idle_a;       /* drawn beside the motor */
    double smooth_a;     /* drawn by a smooth wheel; 0: as the record */
    double supply_a;     /* what the supply is set to; 0: as advised; below 0: no supply */
    bool meters, readings;
    bool silent; /* until it is looked into */
    bool sine;   /* rough wirings feel smooth */
    bool growls; /* smooth ones feel rough */
    int table;   /* of the controller */
    bool table_unknown;
} odd_bench;

static const odd_bench usual = {
    .smooth_speed = 1.0, .rough_speed = 1.0, .meters = true, .readings = true};

typedef struct ending {
    hp_advice advice;
    bool right; /* the wiring that it speaks of */
    int trials, controls, drag;
    int first_smooth; /* wiring that ran forward and smoothly first; 0: none */
    int joined_after; /* wirings joined after it */
    int third_looks;
} ending;

static hp_entry run_wiring(const bench *b, const odd_bench *odd, const hp_hypothesis *truth,
                           const hp_advice *advice)
{
    static const hp_motion motion[] = {HP_MOVED_FORWARD,  HP_MOVED_FORWARD, HP_MOVED_BACKWARD,
                                       HP_MOVED_BACKWARD, HP_MOVED_HUM,     HP_MOVED_HUM,
                                       HP_MOVED_SHIVER,   HP_MOVED_STILL};
    hp_behaviour behaviour = hp_behaviour_of(truth, &advice->wiring);
    int raw = hp_behaviour_raw(&behaviour), at = b->table.map.index[raw], best = 0;
    const hp_record *r = hp_likelihood_record(&b->table, 0, at, MOTOR);
    for (int s = 1; s < HP_SIGHT_COUNT; s++)
        if (r->sight[s] > r->sight[best])
            best = s;
    hp_entry e = hp_entry_make(&hp_reading_trial, 0);
    hp_trial *t = &e.trial;
    bool turns = hp_sight_turns((hp_sight)best) && !odd->silent;
    bool smooth = hp_sight_smooth((hp_sight)best);
    t->wiring = advice->wiring;
    t->throttle = b->table.nominal.controller.throttle;
    t->starts_tried = b->params.starts;
    t->starts = turns ? b->params.starts : 0;
    t->motion = odd->silent ? HP_MOVED_STILL : motion[best];
    if (b->table.map.mirrored[raw] && turns && best < 4)
        t->motion = best < 2 ? HP_MOVED_BACKWARD : HP_MOVED_FORWARD;
    if (turns)
        t->feel = (smooth ? !odd->growls : odd->sine) ? HP_FEEL_SMOOTH : HP_FEEL_ROUGH;
    double pace = smooth ? odd->smooth_speed : odd->rough_speed;
    double amps = hp_grid_value(turns ? r->current_turning : r->current_standing) * pace;
    if (smooth && odd->smooth_a > 0.0)
        amps = odd->smooth_a;
    amps = (odd->silent ? 0.02 : amps) + odd->idle_a;
    double speed = hp_grid_value(r->wheel_speed) * pace;
    if (advice->limited && odd->supply_a >= 0.0) {
        t->feed = HP_FEED_BENCH_SUPPLY;
        t->limit_a = odd->supply_a > 0.0 ? odd->supply_a : advice->limit_a;
        t->limit_reached = amps > t->limit_a ? HP_TELL_YES : HP_TELL_NO;
        if (amps > t->limit_a) { /* it runs slower, and the meter shows the limit */
            speed *= sqrt(t->limit_a / amps);
            amps = t->limit_a;
        }
    }
    if (odd->meters) {
        t->battery_a = round(100.0 * amps) / 100.0;
        t->wheel_rad_s = turns ? speed : (double)NAN;
    }
    return e;
}

static hp_entry read_bench(const bench *b, odd_bench *odd, const hp_hypothesis *truth,
                           const hp_advice *advice)
{
    hp_entry e = typical_entry(b, truth, MOTOR, advice);
    if (advice->reading == &hp_reading_controls) {
        e.controls.found = odd->silent ? HP_FOUND_BRAKE : HP_FOUND_NOTHING;
        odd->silent = false;
    }
    if (advice->reading == &hp_reading_drag)
        e.drag.other_load = odd->idle_a > 0.05 ? HP_TELL_YES : HP_TELL_NO;
    return e;
}

static void note_trial(ending *end, const hp_entry *e, const hp_advice *advice)
{
    end->trials++;
    if (end->first_smooth > 0 && advice->kind == HP_ADVICE_TRY)
        end->joined_after++;
    if (end->first_smooth == 0 && e->trial.motion == HP_MOVED_FORWARD &&
        e->trial.feel == HP_FEEL_SMOOTH)
        end->first_smooth = advice->number;
}

/* Follows the advice to its end. */
static ending follow(odd_bench odd, int relation)
{
    ending end = {.trials = 0};
    hp_hypothesis truth = {relation, odd.table, -1, {HP_FAULT_NONE, 0}};
    bench b = make(hp_person_default());
    b.prior = hp_prior_default();
    if (odd.table_unknown)
        b.prior.table = -1;
    b.params.ammeter = b.params.tachometer = odd.meters;
    if (odd.supply_a < 0.0)
        b.params.first_power = HP_FIRST_POWER_NONE;
    if (!odd.readings)
        b.params.allowed = hp_allow(&hp_reading_controls) | hp_allow(&hp_reading_drag);
    open_bench(&b);
    for (int step = 0; step < 40; step++) {
        end.advice = next(&b);
        if (end.advice.kind == HP_ADVICE_READ) {
            end.controls += end.advice.reading == &hp_reading_controls;
            end.drag += end.advice.reading == &hp_reading_drag;
            add(&b, read_bench(&b, &odd, &truth, &end.advice));
        } else if (end.advice.kind <= HP_ADVICE_LOOK) {
            hp_entry e = run_wiring(&b, &odd, &truth, &end.advice);
            note_trial(&end, &e, &end.advice);
            add(&b, e);
        } else {
            break;
        }
    }
    end.right =
        end.advice.number > 0 && hp_wiring_is_right(relation, odd.table, &end.advice.wiring);
    close_bench(&b);
    return end;
}

/* Readings that only the log gives a reason for. */
static unsigned asked_on_demand(void)
{
    return hp_allow(&hp_reading_controls) | hp_allow(&hp_reading_drag) |
           hp_allow(&hp_reading_contacts);
}

static const int relations[] = {0, 1, 3, 5, 8};
#define RELATIONS ((int)(sizeof relations / sizeof relations[0]))

/* Done, or without a meter as far as that can be told. */
static bool is_done(const hp_advice *advice)
{
    return advice->kind == HP_ADVICE_DONE ||
           (advice->kind == HP_ADVICE_PROBABLY && advice->why == HP_WHY_UNMETERED);
}

/* Every relation ends done and right, in so many powered trials at most. */
static void check_done(const char *what, odd_bench odd, int trials_most)
{
    for (int k = 0; k < RELATIONS; k++) {
        ending end = follow(odd, relations[k]);
        check_true(is_done(&end.advice) && end.right,
                   "%s, relation %d: ends with %d at wiring %d (%s)", what, relations[k],
                   (int)end.advice.kind, end.advice.number, end.right ? "right" : "wrong");
        check_true(end.trials <= trials_most, "%s, relation %d: %d powered trials", what,
                   relations[k], end.trials);
        check_true(end.advice.why == HP_WHY_CURRENT || end.advice.why == HP_WHY_LIMIT ||
                       end.advice.why == HP_WHY_UNMETERED,
                   "%s: done for reason %d", what, (int)end.advice.why);
    }
}

static void a_right_wiring_that_draws_more_than_expected_is_done(void **state)
{
    (void)state;
    const double amps[] = {0.2, 0.45, 0.8};
    for (int k = 0; k < HP_DRAWS(3, 1); k++)
        for (int readings = 0; readings < 2; readings++)
            for (int supply = -1; supply < 1; supply++) {
                odd_bench odd = usual;
                odd.smooth_a = amps[k];
                odd.readings = readings;
                odd.supply_a = supply;
                check_done("a lamp or a brake", odd, 6);
            }
}

/* Too little current is no alarm, whatever the band says. */
static void a_right_wiring_that_draws_less_than_expected_is_done(void **state)
{
    (void)state;
    const double amps[] = {0.01, 0.03};
    for (int k = 0; k < HP_DRAWS(2, 1); k++)
        for (int supply = -1; supply < 1; supply++) {
            odd_bench odd = usual;
            odd.smooth_a = amps[k];
            odd.readings = false;
            odd.supply_a = supply;
            check_done("an easy wheel", odd, 6);
        }
}

static void a_fast_right_wiring_is_not_left_for_a_rough_one(void **state)
{
    (void)state;
    odd_bench odd = usual;
    odd.smooth_speed = 1.47; /* 115 rev/min for 78 */
    odd.smooth_a = 0.30;
    odd.readings = false;
    odd.supply_a = -1.0;
    check_done("115 rev/min at 0.30 A", odd, 6);
    odd.smooth_speed = 1.8;
    odd.smooth_a = 0.0;
    check_done("a current that pauses", odd, 6);
}

static void a_hand_that_gives_too_little_misleads_nobody(void **state)
{
    (void)state;
    odd_bench odd = usual;
    odd.smooth_speed = odd.rough_speed = 25.0 / 35.0;
    odd.supply_a = -1.0;
    for (int readings = 0; readings < 2; readings++) {
        odd.readings = readings;
        check_done("25 % for 35 %", odd, 6);
    }
}

static void read_throttle(bench *b)
{
    hp_entry controls = hp_entry_make(&hp_reading_controls, 0);
    controls.controls.found = HP_FOUND_NOTHING;
    controls.controls.rest_v = 0.8;
    controls.controls.full_v = 4.0;
    add(b, controls);
}

enum { VOLTS_NEVER, VOLTS_FIRST, VOLTS_BETWEEN, VOLTS_LAST };

/* Band of speed at the advised throttle after two runs that the hand made at 25 % for 35 %, and
 * after what the volts of the throttle's signal mean was read, at some time. */
static hp_band band_after(int volts)
{
    bench b = make(hp_person_default());
    b.prior = hp_prior_default();
    b.params.first_power = HP_FIRST_POWER_NONE;
    open_bench(&b);
    const hp_record *r = hp_likelihood_record(&b.table, 0, hp_smooth_case(&b.table), MOTOR);
    for (int k = 0; k < 2; k++) {
        hp_entry e = hp_entry_make(&hp_reading_trial, 0);
        if (volts == VOLTS_FIRST + k)
            read_throttle(&b);
        e.trial.throttle = 0.35;
        e.trial.motion = HP_MOVED_FORWARD;
        e.trial.feel = HP_FEEL_SMOOTH;
        e.trial.starts = e.trial.starts_tried = 6;
        e.trial.battery_a = 25.0 / 35.0 * hp_grid_value(r->current_turning);
        e.trial.wheel_rad_s = 25.0 / 35.0 * hp_grid_value(r->wheel_speed);
        if (volts != VOLTS_NEVER)
            e.trial.signal_v = 0.8 + 0.25 * 3.2;
        add(&b, e);
    }
    if (volts == VOLTS_LAST)
        read_throttle(&b);
    hp_band band = next(&b).wheel_rad_s;
    double usual_speed = hp_grid_value(r->wheel_speed);
    close_bench(&b);
    return (hp_band){band.low / usual_speed, band.high / usual_speed};
}

/* By the volts of its signal a throttle of 25 % is one of 25 %, whatever the hand says: what is to
 * be expected at 35 % stays where it was, and is known better. Whether they are read before the
 * runs or after them is all the same. */
static void the_volts_of_the_throttle_correct_the_hand(void **state)
{
    (void)state;
    hp_band hand = band_after(VOLTS_NEVER), first = band_after(VOLTS_FIRST);
    check_true(sqrt(hand.low * hand.high) < 0.87, "the hand's is a smaller duty: %g to %g",
               hand.low, hand.high);
    check_close(sqrt(first.low * first.high), 1.0, 0.12, "one kernel and the hand's own scatter");
    for (int volts = VOLTS_BETWEEN; volts <= VOLTS_LAST; volts++) {
        hp_band later = band_after(volts);
        check_close(later.low, first.low, 1e-9, "the order of the entries");
        check_close(later.high, first.high, 1e-9, "the order of the entries");
    }
}

/* The same twice is no contradiction, whatever it is that comes back. */
static void looks_that_agree_contradict_nothing(void **state)
{
    (void)state;
    static const hp_feed feed[] = {HP_FEED_BATTERY, HP_FEED_BENCH_SUPPLY};
    for (int limited = 0; limited < 2; limited++) {
        bench b = make(hp_person_default());
        b.prior = hp_prior_default();
        open_bench(&b);
        hp_error err = hp_error_none();
        hp_advice advice;
        for (int k = 0; k < 2; k++) {
            hp_entry e = hp_entry_make(&hp_reading_trial, k + 1);
            e.trial.throttle = 0.35;
            e.trial.motion = HP_MOVED_FORWARD;
            e.trial.feel = HP_FEEL_SMOOTH;
            e.trial.starts = e.trial.starts_tried = 6;
            e.trial.battery_a = 0.11;
            e.trial.wheel_rad_s = 76.0 * HP_RPM;
            e.trial.feed = k == 0 ? feed[limited] : HP_FEED_BATTERY;
            if (hp_feed_limits(e.trial.feed))
                e.trial.limit_reached = HP_TELL_NO;
            add(&b, e);
        }
        assert_int_equal(hp_plan_next(b.planner, &b.belief, true, &advice, &err), HP_OK);
        check_true(!advice.contradiction.found, "entry %d is called a slip, %g",
                   advice.contradiction.slipped + 1, advice.contradiction.probability);
        close_bench(&b);
    }
}

static bool without_ammeter;

/* A run at full throttle that shows this many times the usual current, after two gentle ones. */
static hp_advice after_full_throttle(double times, double throttle, hp_feed feed, hp_tell reached)
{
    bench b = make(hp_person_default());
    b.prior = hp_prior_default();
    b.params.first_power = HP_FIRST_POWER_NONE;
    b.params.allowed = 0;
    b.params.ammeter = !without_ammeter;
    open_bench(&b);
    double usual_a = 0.0, usual_rad_s = 0.0;
    const double at[] = {0.35, 0.35, throttle};
    for (int k = 0; k < 3; k++) {
        hp_entry e = hp_entry_make(&hp_reading_trial, k + 1);
        hp_member_smooth(&b.belief.members, 16 * MOTOR, at[k], &usual_a, &usual_rad_s);
        e.trial.throttle = at[k];
        e.trial.motion = HP_MOVED_FORWARD;
        e.trial.feel = HP_FEEL_SMOOTH;
        e.trial.starts = e.trial.starts_tried = 6;
        e.trial.battery_a = (k == 2 ? times : 1.0) * usual_a;
        e.trial.wheel_rad_s = usual_rad_s;
        if (k == 2 && hp_feed_limits(feed)) {
            e.trial.feed = feed;
            e.trial.limit_reached = reached;
        }
        add(&b, e);
    }
    hp_advice advice = next(&b);
    close_bench(&b);
    return advice;
}

/* The final check at full throttle counts once it was made there, on the battery, and showed no
 * more than it should; less is no fault. */
static void the_final_check_is_seen(void **state)
{
    (void)state;
    hp_advice a = after_full_throttle(1.0, 1.0, HP_FEED_BATTERY, HP_TELL_UNSAID);
    check_true(a.kind == HP_ADVICE_DONE && a.checked, "as usual: %d, %d", (int)a.kind, a.checked);
    check_true(a.full_current_a.high > a.current_a.high, "more current than gently");
    a = after_full_throttle(0.6, 1.0, HP_FEED_BATTERY, HP_TELL_UNSAID);
    check_true(a.kind == HP_ADVICE_DONE && a.checked, "less: %d, %d", (int)a.kind, a.checked);
    a = after_full_throttle(1.0, 0.35, HP_FEED_BATTERY, HP_TELL_UNSAID);
    check_true(a.kind == HP_ADVICE_DONE && !a.checked, "a gentle run: %d, %d", (int)a.kind,
               a.checked);
    /* Held at a limit, or nobody said that it was not; below it is as good as a battery. */
    a = after_full_throttle(1.0, 1.0, HP_FEED_BENCH_SUPPLY, HP_TELL_YES);
    check_true(!a.checked, "held at a limit");
    a = after_full_throttle(1.0, 1.0, HP_FEED_BENCH_SUPPLY, HP_TELL_UNSAID);
    check_true(a.kind == HP_ADVICE_DONE && !a.checked, "perhaps at its limit: %d, %d", (int)a.kind,
               a.checked);
    a = after_full_throttle(1.0, 1.0, HP_FEED_BENCH_SUPPLY, HP_TELL_NO);
    check_true(a.kind == HP_ADVICE_DONE && a.checked, "below its limit: %d, %d", (int)a.kind,
               a.checked);
    /* Above the band, as one right machine in twenty is: neither passed nor condemned. */
    a = after_full_throttle(2.2, 1.0, HP_FEED_BATTERY, HP_TELL_UNSAID);
    check_true(a.kind == HP_ADVICE_DONE && !a.failed.stands && !a.checked,
               "above the band: %d, %d, %d", (int)a.kind, (int)a.why, a.checked);
    a = after_full_throttle(4.5, 1.0, HP_FEED_BATTERY, HP_TELL_UNSAID);
    check_true(a.kind == HP_ADVICE_PROBABLY && a.why == HP_WHY_CHECK_FAILED && !a.checked,
               "above the limit: %d, %d, %d", (int)a.kind, (int)a.why, a.checked);
    /* Its speed alone is no check where what it draws can be read. */
    a = after_full_throttle((double)NAN, 1.0, HP_FEED_BATTERY, HP_TELL_UNSAID);
    check_true(a.kind == HP_ADVICE_DONE && !a.checked, "its speed alone: %d, %d", (int)a.kind,
               a.checked);
    check_int(a.unread, 3);
    without_ammeter = true; /* the one that was borrowed is gone */
    a = after_full_throttle((double)NAN, 1.0, HP_FEED_BATTERY, HP_TELL_UNSAID);
    without_ammeter = false;
    check_true(a.kind == HP_ADVICE_DONE && a.checked && a.unread == 0, "no meter: %d, %d",
               (int)a.kind, a.checked);
    /* Far out: no gentle look is asked for that could pass over it. */
    a = after_full_throttle(20.0, 1.0, HP_FEED_BATTERY, HP_TELL_UNSAID);
    check_true(a.why == HP_WHY_CHECK_FAILED, "20 times: %d", (int)a.kind);
}

static void figures_of_a_limited_run_are_not_compared_with_a_battery(void **state)
{
    (void)state;
    odd_bench odd = usual;
    odd.readings = false;
    for (odd.supply_a = 1.0; odd.supply_a < 2.5; odd.supply_a += 1.0)
        check_done("a supply set to its limit", odd, 6);
}

static void a_limit_tells_what_no_meter_does(void **state)
{
    (void)state;
    odd_bench odd = usual;
    odd.meters = odd.readings = false;
    check_done("no meters, a limit", odd, 6);
    odd.sine = true;
    check_done("a sine drive, no meters, a limit", odd, 6);
}

/* Driven by a sine the correct wheel growls each time, and others feel silky: what they draw tells,
 * by a meter or a limit. */
static void a_correct_wheel_that_growls_is_found(void **state)
{
    (void)state;
    for (int meters = 0; meters < 2; meters++)
        for (int k = 0; k < RELATIONS; k++) {
            odd_bench odd = usual;
            odd.meters = meters;
            odd.readings = false;
            odd.sine = odd.growls = true;
            ending end = follow(odd, relations[k]);
            check_true(end.advice.kind == HP_ADVICE_DONE || end.advice.kind == HP_ADVICE_PROBABLY,
                       "meters %d, relation %d: ends with %d", meters, relations[k],
                       (int)end.advice.kind);
            check_true(end.right, "ends at wiring %d", end.advice.number);
            check_true(end.trials <= 7, "%d powered trials", end.trials);
        }
}

/* As long as it growls the limit stays: it is all that shows what it draws. */
static void what_growls_is_tried_behind_its_limit_again(void **state)
{
    (void)state;
    for (int feel = HP_FEEL_SMOOTH; feel <= HP_FEEL_ROUGH; feel++) {
        bench b = make(hp_person_default());
        b.prior = hp_prior_default();
        b.params.ammeter = b.params.tachometer = false;
        b.params.allowed = 0;
        open_bench(&b);
        hp_entry e = hp_entry_make(&hp_reading_trial, 0);
        e.trial.throttle = 0.35;
        e.trial.motion = HP_MOVED_FORWARD;
        e.trial.feel = (hp_feel)feel;
        e.trial.starts = e.trial.starts_tried = 6;
        e.trial.feed = HP_FEED_LAMP;
        e.trial.limit_reached = HP_TELL_NO;
        add(&b, e);
        hp_advice advice = next(&b);
        check_int(advice.kind, HP_ADVICE_LOOK);
        check_int(advice.limited, feel == HP_FEEL_ROUGH);
        close_bench(&b);
    }
}

/* A supply of 1 A is all there is: the correct wheel runs at its limit each time. Nothing else is
 * tried, and none of its equals; it is not called done either. */
static void what_never_leaves_its_limit_is_probably_correct(void **state)
{
    (void)state;
    bench b = make(hp_person_default());
    b.prior = hp_prior_default();
    b.params.allowed = asked_on_demand();
    open_bench(&b);
    hp_entry e = hp_entry_make(&hp_reading_trial, 0);
    e.trial.throttle = 0.35;
    e.trial.motion = HP_MOVED_FORWARD;
    e.trial.feel = HP_FEEL_SMOOTH;
    e.trial.starts = e.trial.starts_tried = 6;
    e.trial.feed = HP_FEED_BENCH_SUPPLY;
    e.trial.limit_a = 1.0;
    e.trial.limit_reached = HP_TELL_YES;
    for (int look = 0; look < 2; look++) {
        e.trial.battery_a = 0.65 + 0.02 * look;
        e.trial.wheel_rad_s = (64.0 + look) * HP_RPM;
        add(&b, e);
        if (look == 0)
            check_int(next(&b).kind, HP_ADVICE_LOOK);
    }
    hp_advice advice = next(&b);
    check_int(advice.kind, HP_ADVICE_PROBABLY);
    check_int(advice.why, HP_WHY_HELD);
    check_int(advice.number, 1);
    close_bench(&b);
}

/* Driven by a sine behind a limit whatever is wired wrong stands, and takes its limit: no part is
 * broken for that. */
static void what_stands_at_its_limit_condemns_no_part(void **state)
{
    static const int stands[] = {1, 31, 34};
    (void)state;
    bench b = make(hp_person_default());
    b.prior = hp_prior_default();
    b.params.allowed = asked_on_demand();
    open_bench(&b);
    hp_entry e = hp_entry_make(&hp_reading_trial, 0);
    e.trial.throttle = 0.35;
    e.trial.starts_tried = 6;
    e.trial.feed = HP_FEED_BENCH_SUPPLY;
    e.trial.limit_a = 1.8;
    for (int k = 0; k < 5; k++) {
        bool smooth = k > 2;
        e.trial.wiring = hp_wiring_from_number(smooth ? 35 : stands[k]);
        e.trial.motion = smooth ? HP_MOVED_FORWARD : HP_MOVED_SHIVER;
        e.trial.feel = smooth ? HP_FEEL_SMOOTH : HP_FEEL_UNSAID;
        e.trial.starts = smooth ? 6 : 0;
        e.trial.battery_a = smooth ? 0.6 : 1.78;
        e.trial.wheel_rad_s = smooth ? 66.0 * HP_RPM : (double)NAN;
        e.trial.limit_reached = smooth ? HP_TELL_NO : HP_TELL_YES;
        add(&b, e);
    }
    hp_advice advice = next(&b);
    check_true(advice.kind == HP_ADVICE_DONE || advice.kind == HP_ADVICE_PROBABLY, "%d",
               (int)advice.kind);
    check_int(advice.number, 35);
    close_bench(&b);
}

static void nothing_is_done_by_words_alone(void **state)
{
    (void)state;
    odd_bench odd = usual;
    odd.meters = odd.readings = false;
    odd.supply_a = -1.0;
    for (int sine = 0; sine < 2; sine++)
        for (int k = 0; k < RELATIONS; k++) {
            odd.sine = sine;
            ending end = follow(odd, relations[k]);
            check_true(end.advice.kind == HP_ADVICE_PROBABLY, "ends with %d", (int)end.advice.kind);
            check_true(sine || end.right, "probably a wrong wiring, %d", end.advice.number);
        }
}

static void a_silent_controller_is_looked_into_at_once(void **state)
{
    (void)state;
    for (int meters = 0; meters < 2; meters++)
        for (int k = 0; k < RELATIONS; k++) {
            odd_bench odd = usual;
            odd.silent = true;
            odd.meters = meters;
            odd.readings = false;
            ending end = follow(odd, relations[k]);
            check_int(end.controls, 1);
            check_true(is_done(&end.advice) && end.right, "ends with %d", (int)end.advice.kind);
        }
}

static void nothing_moves_to_an_equal_of_a_smooth_wiring(void **state)
{
    (void)state;
    for (int supply = -1; supply < 1; supply++)
        for (int meters = 0; meters < 2; meters++) {
            odd_bench odd = usual;
            odd.readings = false;
            odd.supply_a = supply;
            odd.meters = meters;
            ending end = follow(odd, 0);
            check_int(end.first_smooth, 1);
            check_int(end.joined_after, 0);
            check_int(end.advice.number, 1);
        }
}

/* A log in which somebody left a wiring that ran well: back to it, and to none of its equals,
 * though fewer leads move for one. */
static void a_wiring_that_ran_well_is_gone_back_to(void **state)
{
    static const struct {
        int relation, good, left_for, looks;
    } log[] = {{10, 35, 25, 2}, {8, 32, 11, 2}};
    (void)state;
    for (int k = 0; k < (int)(sizeof log / sizeof *log); k++) {
        odd_bench odd = usual;
        odd.meters = odd.readings = false;
        hp_hypothesis truth = {log[k].relation, 0, -1, {HP_FAULT_NONE, 0}};
        bench b = make(hp_person_default());
        b.prior = hp_prior_default();
        b.params.ammeter = b.params.tachometer = false;
        b.params.first_power = HP_FIRST_POWER_NONE;
        b.params.allowed = hp_allow(&hp_reading_controls) | hp_allow(&hp_reading_drag);
        open_bench(&b);
        hp_advice joined = {.wiring = hp_wiring_from_number(log[k].good)};
        for (int look = 0; look < log[k].looks; look++)
            add(&b, run_wiring(&b, &odd, &truth, &joined));
        check_int(b.belief.entry[0].trial.motion, HP_MOVED_FORWARD);
        check_int(b.belief.entry[0].trial.feel, HP_FEEL_SMOOTH);
        joined.wiring = hp_wiring_from_number(log[k].left_for);
        add(&b, run_wiring(&b, &odd, &truth, &joined));
        check_true(b.belief.entry[log[k].looks].trial.motion != HP_MOVED_FORWARD, "it runs too");
        hp_advice advice = next(&b);
        check_int(advice.kind, HP_ADVICE_TRY);
        check_int(advice.number, log[k].good);
        close_bench(&b);
    }
}

/* The same after one look at it between two others: a kind of trial is not lost because its
 * cheapest wiring is an equal of the one that ran well. */
static void what_only_an_equal_is_cheaper_than_is_not_lost(void **state)
{
    static const struct {
        int relation, first, good, last;
        bool meters;
    } log[] = {{0, 9, 1, 23, false},
               {0, 10, 1, 28, false},
               {0, 23, 1, 16, false},
               {1, 26, 24, 34, true},
               {1, 31, 24, 26, true}};
    (void)state;
    for (int k = 0; k < (int)(sizeof log / sizeof *log); k++) {
        odd_bench odd = usual;
        odd.meters = log[k].meters;
        hp_hypothesis truth = {log[k].relation, 0, -1, {HP_FAULT_NONE, 0}};
        bench b = make(hp_person_default());
        b.prior = hp_prior_default();
        b.params.ammeter = b.params.tachometer = log[k].meters;
        b.params.first_power = HP_FIRST_POWER_NONE;
        b.params.allowed = hp_allow(&hp_reading_controls) | hp_allow(&hp_reading_drag);
        open_bench(&b);
        const int tried[] = {log[k].first, log[k].good, log[k].last};
        for (int i = 0; i < 3; i++) {
            hp_advice joined = {.wiring = hp_wiring_from_number(tried[i])};
            add(&b, run_wiring(&b, &odd, &truth, &joined));
        }
        hp_advice advice = next(&b);
        check_true(advice.kind == HP_ADVICE_TRY && advice.number == log[k].good,
                   "after %d, %d, %d: kind %d, wiring %d", tried[0], tried[1], tried[2],
                   (int)advice.kind, advice.number);
        close_bench(&b);
    }
}

static void a_figure_that_comes_back_condemns_no_good_part(void **state)
{
    (void)state;
    for (int k = 0; k < RELATIONS; k++) {
        odd_bench odd = usual;
        odd.smooth_a = 2.2;
        odd.supply_a = -1.0;
        ending end = follow(odd, relations[k]);
        check_true(end.advice.kind != HP_ADVICE_REPAIR, "a good part is named");
        check_true(end.trials <= 8, "%d powered trials", end.trials);
        check_true(end.advice.why != HP_WHY_GOES_ON, "an end without a reason");
    }
}

static void another_table_is_found(void **state)
{
    (void)state;
    odd_bench odd = usual;
    odd.table = 3;
    odd.table_unknown = true;
    check_done("another table, readings", odd, 2);
    odd.readings = false;
    check_done("another table, trials alone", odd, 6);
}

/* What edges add is reckoned: a stated kind of PWM asks for no table of its own. */
static void every_kind_of_pwm_has_the_same_table(void **state)
{
    (void)state;
    hp_drive averaged = hp_drive_default(), edges = averaged;
    hp_likelihood_options options = hp_likelihood_options_default();
    char *text = hp_likelihood_basis(&averaged, &options);
    for (int pwm = HP_PWM_COMPLEMENTARY; pwm <= HP_PWM_ONE_SIDED; pwm++) {
        edges.controller.pwm = (hp_pwm_kind)pwm;
        char *other = hp_likelihood_basis(&edges, &options);
        assert_string_equal(text, other);
        free(other);
    }
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_right_wiring_that_draws_more_than_expected_is_done),
        cmocka_unit_test(a_right_wiring_that_draws_less_than_expected_is_done),
        cmocka_unit_test(a_fast_right_wiring_is_not_left_for_a_rough_one),
        cmocka_unit_test(a_hand_that_gives_too_little_misleads_nobody),
        cmocka_unit_test(the_volts_of_the_throttle_correct_the_hand),
        cmocka_unit_test(looks_that_agree_contradict_nothing),
        cmocka_unit_test(the_final_check_is_seen),
        cmocka_unit_test(figures_of_a_limited_run_are_not_compared_with_a_battery),
        cmocka_unit_test(a_limit_tells_what_no_meter_does),
        cmocka_unit_test(a_correct_wheel_that_growls_is_found),
        cmocka_unit_test(what_growls_is_tried_behind_its_limit_again),
        cmocka_unit_test(what_never_leaves_its_limit_is_probably_correct),
        cmocka_unit_test(what_stands_at_its_limit_condemns_no_part),
        cmocka_unit_test(nothing_is_done_by_words_alone),
        cmocka_unit_test(a_silent_controller_is_looked_into_at_once),
        cmocka_unit_test(nothing_moves_to_an_equal_of_a_smooth_wiring),
        cmocka_unit_test(a_wiring_that_ran_well_is_gone_back_to),
        cmocka_unit_test(what_only_an_equal_is_cheaper_than_is_not_lost),
        cmocka_unit_test(a_figure_that_comes_back_condemns_no_good_part),
        cmocka_unit_test(another_table_is_found),
        cmocka_unit_test(every_kind_of_pwm_has_the_same_table),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
