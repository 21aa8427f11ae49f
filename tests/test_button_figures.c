/*
 * Figures behind a button: what the page logs for "backward, rough, large current" stands for what
 * motors of the ensemble show, so that nobody who presses the button that is true is contradicted.
 *
 * Each motor of the ensemble in turn is the hidden one, with a relation of its own; the person
 * looks at what it does and presses the nearest button, until the work ends.
 */
#include "check.h"
#include "plan_bench.h"

#define MOTORS 24 /* of the shipped table */

/* What a wiring of the hidden machine shows. */
typedef struct seen {
    hp_motion motion;
    bool smooth, some; /* some: not from every start position */
    double amps, wheel_rad_s;
} seen;

static seen look(const bench *b, int relation, int motor, const hp_wiring *wiring)
{
    static const hp_motion motion[] = {HP_MOVED_FORWARD,  HP_MOVED_FORWARD, HP_MOVED_BACKWARD,
                                       HP_MOVED_BACKWARD, HP_MOVED_HUM,     HP_MOVED_HUM,
                                       HP_MOVED_SHIVER,   HP_MOVED_STILL};
    hp_hypothesis truth = {relation, 0, -1, {HP_FAULT_NONE, 0}};
    hp_behaviour behaviour = hp_behaviour_of(&truth, wiring);
    int raw = hp_behaviour_raw(&behaviour), best = 0, turning = 0;
    const hp_record *r = hp_likelihood_record(&b->table, 0, b->table.map.index[raw], motor);
    for (int s = 0; s < HP_SIGHT_COUNT; s++) {
        best = r->sight[s] > r->sight[best] ? s : best;
        turning += hp_sight_turns((hp_sight)s) ? r->sight[s] : 0;
    }
    bool turns = hp_sight_turns((hp_sight)best);
    seen s = {.motion = motion[best],
              .smooth = hp_sight_smooth((hp_sight)best),
              .some = turning < b->table.options.starts,
              .amps = hp_grid_value(turns ? r->current_turning : r->current_standing),
              .wheel_rad_s = hp_grid_value(r->wheel_speed)};
    if (b->table.map.mirrored[raw] && best < 4)
        s.motion = best < 2 ? HP_MOVED_BACKWARD : HP_MOVED_FORWARD;
    return s;
}

static bool turned(const hp_trial *t)
{
    return t->motion == HP_MOVED_FORWARD || t->motion == HP_MOVED_BACKWARD ||
           t->motion == HP_MOVED_BOTH;
}

/* How far a button is from what was seen; what its words say weighs more than its figures. */
static double apart(const hp_trial *t, const seen *s, double small_a)
{
    double sum = t->motion == s->motion ? 0.0 : 1000.0;
    if (!turned(t))
        return sum;
    sum += (t->feel == HP_FEEL_SMOOTH) == s->smooth ? 0.0 : 100.0;
    sum += (t->starts < t->starts_tried) == s->some ? 0.0 : 10.0;
    if (t->limit_reached != HP_TELL_UNSAID)
        sum += (t->limit_reached == HP_TELL_YES) == (s->amps > t->limit_a) ? 0.0 : 30.0;
    if (!isnan(t->battery_a))
        sum += (t->battery_a > small_a) == (s->amps > small_a) ? 0.0 : 30.0;
    if (!isnan(t->wheel_rad_s))
        sum += fabs(log(t->wheel_rad_s / s->wheel_rad_s));
    return sum;
}

/* Least and most that the records of this sight, either way round, show of a figure at a bench.
 */
static hp_band met(const bench *b, bool smooth, bool speed)
{
    hp_band band = {INFINITY, 0.0};
    for (int c = 0; c < b->table.map.count; c++) {
        for (int m = 0; m < b->table.options.motors; m++) {
            const hp_record *r = hp_likelihood_record(&b->table, 0, c, m);
            int shown = smooth
                            ? r->sight[HP_SIGHT_FORWARD_SMOOTH] + r->sight[HP_SIGHT_BACKWARD_SMOOTH]
                            : r->sight[HP_SIGHT_FORWARD_ROUGH] + r->sight[HP_SIGHT_BACKWARD_ROUGH];
            double value = hp_grid_value(speed ? r->wheel_speed : r->current_turning);
            if (shown == 0 || isnan(value))
                continue;
            band.low = fmin(band.low, value);
            band.high = fmax(band.high, value);
        }
    }
    /* A lamp behind the meter, a brake that drags: what benches make of a smooth run. */
    for (int m = 0; smooth && m < b->belief.members.count; m++) {
        double amps, rad_s;
        if (!hp_member_smooth(&b->belief.members, m, b->table.nominal.controller.throttle, &amps,
                              &rad_s))
            continue;
        band.low = fmin(band.low, speed ? rad_s : amps);
        band.high = fmax(band.high, speed ? rad_s : amps);
    }
    return band;
}

/* "Smooth, large current" is a rough run that feels smooth, or a smooth one with a lamp. */
static void check_met(const bench *b, const hp_trial *t, const char *what, double value, bool speed)
{
    hp_band smooth = met(b, true, speed), rough = met(b, false, speed);
    bool fits = value >= rough.low && value <= rough.high;
    if (t->feel == HP_FEEL_SMOOTH)
        fits = fits || (value >= smooth.low && value <= smooth.high);
    check_true(isnan(value) || fits, "a button logs %s of %g, motors show %g to %g", what, value,
               rough.low, rough.high);
}

/* The nearest button. */
static hp_entry press(const bench *b, const hp_advice *advice, const seen *s)
{
    hp_showing showing[HP_SHOWING_MAX];
    int count = hp_plan_showings(b->planner, &b->belief, advice, 1e-4, showing), best = 0;
    double small_a = HP_CURRENT_SMALL * hp_band_middle(advice->current_a), least = INFINITY;
    check_true(count > 0, "no button");
    for (int k = 0; k < count; k++) {
        const hp_trial *t = &showing[k].entry.trial;
        check_met(b, t, "a current", t->battery_a, false);
        check_met(b, t, "a speed", t->wheel_rad_s, true);
        if (apart(t, s, small_a) < least) {
            least = apart(t, s, small_a);
            best = k;
        }
    }
    hp_entry_mark_typical(&showing[best].entry);
    return showing[best].entry;
}

typedef struct outcome {
    int cases, contradicted, rough, right, trials;
} outcome;

static void follow(hp_first_power first_power, int relation, int motor, outcome *o)
{
    hp_error err = hp_error_none();
    hp_advice advice;
    bench b = make(hp_person_default());
    b.prior = hp_prior_default();
    b.params.first_power = first_power;
    b.params.allowed = 0;
    open_bench(&b);
    bool contradicted = false;
    for (int step = 0; step < 12; step++) {
        assert_int_equal(hp_plan_next(b.planner, &b.belief, true, &advice, &err), HP_OK);
        contradicted = contradicted || advice.contradiction.found;
        if (advice.kind != HP_ADVICE_TRY && advice.kind != HP_ADVICE_LOOK)
            break;
        const seen s = look(&b, relation, motor, &advice.wiring);
        hp_entry entry = press(&b, &advice, &s);
        o->rough += entry.trial.feel == HP_FEEL_ROUGH && entry.typical;
        o->trials++;
        add(&b, entry);
    }
    o->cases++;
    o->contradicted += contradicted;
    o->right += (advice.kind == HP_ADVICE_DONE || advice.kind == HP_ADVICE_PROBABLY) &&
                advice.number > 0 && hp_wiring_is_right(relation, 0, &advice.wiring);
    close_bench(&b);
}

static void a_button_logs_what_motors_show(void **state)
{
    (void)state;
    static const hp_first_power fed[] = {HP_FIRST_POWER_NONE, HP_FIRST_POWER_ANY};
    for (int k = 0; k < 2; k++) {
        outcome o = {0};
        for (int m = 0; m < MOTORS; m++)
            follow(fed[k], m % HP_RELATION_COUNT, m, &o);
        print_message("%s: %d of %d contradicted, %d right, %d rough answers with figures, "
                      "%.2f trials a case\n",
                      k ? "behind a limit" : "on the battery", o.contradicted, o.cases, o.right,
                      o.rough, (double)o.trials / o.cases);
        check_int(o.contradicted, 0);
        check_int(o.right, o.cases);
        check_true(k == 1 || o.rough >= MOTORS / 2, "%d rough answers with figures", o.rough);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_button_logs_what_motors_show)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
