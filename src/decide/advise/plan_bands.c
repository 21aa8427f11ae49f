/* Bands of current and speed in which a right wiring lies, and whether the figures read last do. */
#include "decide/advise/full_check.h"
#include "decide/advise/plan_parts.h"

#include <math.h>
#include <stdlib.h>

typedef struct weighed {
    double value;
    double weight;
} weighed;

static int by_value(const void *a, const void *b)
{
    double x = ((const weighed *)a)->value, y = ((const weighed *)b)->value;
    return (x > y) - (x < y);
}

/* Band of a figure over the motors, widened by the ensemble's coarseness and the meter. */
static hp_band band_of(weighed *item, int count, double relative, double zero)
{
    qsort(item, (size_t)count, sizeof *item, by_value);
    double sum = 0.0, low = item[0].value, high = item[count - 1].value;
    for (int k = 0; k < count; k++) {
        if (sum < 0.05)
            low = item[k].value;
        sum += item[k].weight;
        if (sum >= 0.95) {
            high = item[k].value;
            break;
        }
    }
    /* 1.64 standard deviations leave five percent on either side. */
    double below = 1.64 * hypot(relative * low, zero), above = 1.64 * hypot(relative * high, zero);
    return (hp_band){fmax(0.0, low - below), high + above};
}

/* Most members of a belief. */
#define MEMBERS_MAX (HP_LIKELIHOOD_MOTORS * HP_NUISANCE_DRAWS)

static void bands_at(const hp_planner *p, const hp_belief *b, double throttle, hp_band *current_a,
                     hp_band *wheel_rad_s)
{
    weighed current[MEMBERS_MAX], speed[MEMBERS_MAX];
    double weight[MEMBERS_MAX];
    int count = 0;
    hp_belief_members(b, weight);
    for (int m = 0; m < b->members.count; m++) {
        double amps, rad_s;
        if (!hp_member_smooth(&b->members, m, throttle, &amps, &rad_s))
            continue;
        current[count] = (weighed){amps, weight[m]};
        speed[count++] = (weighed){rad_s, weight[m]};
    }
    if (count == 0)
        return;
    *current_a = band_of(current, count, hypot(HP_KERNEL_CURRENT, p->person->current_relative),
                         p->person->current_zero_a);
    *wheel_rad_s = band_of(speed, count, hypot(HP_KERNEL_SPEED, p->person->speed_relative), 0.0);
}

static double throttle_of(const hp_belief *b, const hp_trial *t)
{
    return hp_members_true_trial(&b->members, t).throttle;
}

static void full_bands(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    if (p->limits.current_a.high > 0.0) {
        advice->full_current_a = p->limits.current_a;
        advice->full_wheel_rad_s = p->limits.wheel_rad_s;
        advice->full_most_a = p->limits.most_a;
        advice->full_from = HP_BANDS_PARTS;
        return;
    }
    bands_at(p, b, hp_plan_full(&p->params), &advice->full_current_a, &advice->full_wheel_rad_s);
    advice->full_most_a =
        hp_draw_most(hp_band_middle(advice->full_current_a), advice->full_current_a);
}

/* Those of the throttle of trials; and of full throttle when the last run was made at it. */
void hp_plan_bands(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    const hp_trial *last = hp_plan_last_trial(b, b->entries, 0);
    bands_at(p, b, p->params.throttle, &advice->current_a, &advice->wheel_rad_s);
    if (last && hp_plan_asks_all(&p->params, last, throttle_of(b, last)))
        full_bands(p, b, advice);
}

/* Signs of which a gentle look at the same wiring must not pass over, either; the others are what
 * such a look is for. */
static bool is_grave(const hp_failed_check *failed)
{
    static const hp_check_sign grave[] = {HP_CHECK_CURRENT, HP_CHECK_FAST, HP_CHECK_SLOW,
                                          HP_CHECK_ROUGH,   HP_CHECK_WARM, HP_CHECK_STARTS};
    for (size_t k = 0; k < sizeof grave / sizeof grave[0]; k++)
        if (failed->entry[grave[k]] > 0)
            return true;
    return false;
}

void hp_plan_fail_check(hp_advice *advice, int present)
{
    bool ends = hp_advice_ends_riding(advice);
    bool looks = advice->kind == HP_ADVICE_TRY || advice->kind == HP_ADVICE_LOOK;
    if (advice->number != present || !(ends || (looks && is_grave(&advice->failed))))
        return;
    advice->kind = HP_ADVICE_PROBABLY;
    advice->why = HP_WHY_CHECK_FAILED;
    advice->checked = false;
    advice->learnt = 0;
    advice->moved_phase = advice->moved_sensor = 0;
    advice->limited = false;
    advice->signal_v = advice->expected_cost = advice->expected_trials = 0.0;
}

void hp_plan_heed_check(const hp_planner *p, const hp_belief *b, int present, hp_advice *advice)
{
    hp_full_check check = {.plan = &p->params,
                           .entry = b->entry,
                           .to = b->entries,
                           .number = present,
                           .members = &b->members};
    if (present == 0)
        return;
    full_bands(p, b, advice);
    check.current_a = advice->full_current_a;
    check.wheel_rad_s = advice->full_wheel_rad_s;
    check.most_a = advice->full_most_a;
    hp_full_check_find(&check, &advice->failed);
    if (advice->failed.stands)
        hp_plan_fail_check(advice, present);
}

static int last_trial_number(const hp_belief *b)
{
    int k = b->entries - 1;
    while (k > 0 && !hp_entry_trial(&b->entry[k]))
        k--;
    return b->entry[k].number;
}

/* Of the wiring of this number, and not rough. */
static bool is_free_at_full(const hp_plan_params *plan, const hp_belief *b, const hp_trial *t,
                            int number)
{
    return t && hp_wiring_number(&t->wiring) == number && hp_trial_is_free(t) &&
           hp_plan_asks_all(plan, t, throttle_of(b, t)) && t->feel != HP_FEEL_ROUGH &&
           t->feel != HP_FEEL_NOISY;
}

/* Whether the newest trial is the final check, and was as it ought to be. */
static void check_full_run(const hp_planner *p, const hp_belief *b, const hp_trial *t,
                           hp_advice *advice)
{
    const hp_band *current = &advice->full_current_a, *speed = &advice->full_wheel_rad_s;
    bool full = is_free_at_full(&p->params, b, t, advice->number);
    bool told = full && hp_full_run_told(&p->params, t->battery_a, t->wheel_rad_s);
    /* Too little current is no fault. */
    advice->checked = told && !(t->battery_a > current->high) && !(t->wheel_rad_s > speed->high) &&
                      !(t->wheel_rad_s < speed->low) &&
                      !hp_last_count_missed(b->entry, b->entries, advice->number);
    if (full && !told && p->params.ammeter)
        advice->unread = last_trial_number(b);
}

void hp_plan_final_check(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    const hp_trial *t = hp_plan_last_trial(b, b->entries, 0);
    full_bands(p, b, advice);
    advice->limit_a = isnan(b->members.limit_a) ? 0.0 : b->members.limit_a;
    if (advice->kind != HP_ADVICE_PROBABLY)
        check_full_run(p, b, t, advice);
    if (!hp_plan_is_unmetered(&p->params) || advice->checked || advice->why == HP_WHY_CHECK_FAILED)
        return;
    advice->felt = hp_felt_run(b->entry, b->entries, advice->number, p->params.throttle);
    if (advice->kind == HP_ADVICE_DONE) {
        advice->kind = HP_ADVICE_PROBABLY;
        advice->why = HP_WHY_UNMETERED;
    }
}

/* Far outside the bands that a right wiring should keep. At the gentle throttle rough wirings draw
 * at least four times the band's upper end (tests/test_plan_check.c): twice is the middle between,
 * on a logarithmic scale. Speeds tell less; chosen: a quarter beyond the band. */
#define FAR_CURRENT 2.0

/* Whether the figures read last do not fit a right wiring, by a misreading or because something has
 * come loose: not done before they are read again. */
bool hp_plan_far_out(const hp_planner *p, const hp_belief *b, const hp_advice *advice)
{
    const hp_trial *t = hp_plan_last_trial(b, b->entries, 0);
    /* The bands are those of the throttle at which trials are advised, or of full throttle, and of
     * a supply that gives what is asked of it. Too little current is never an alarm. */
    if (!t || !hp_trial_is_free(t))
        return false;
    double throttle = throttle_of(b, t);
    bool gentle = fabs(throttle - p->params.throttle) < 0.1 * p->params.throttle;
    if (!gentle && !hp_plan_asks_all(&p->params, t, throttle))
        return false;
    const hp_band *current = gentle ? &advice->current_a : &advice->full_current_a;
    const hp_band *speed = gentle ? &advice->wheel_rad_s : &advice->full_wheel_rad_s;
    return t->battery_a > FAR_CURRENT * current->high ||
           t->wheel_rad_s > HP_FAR_SPEED * speed->high ||
           t->wheel_rad_s < speed->low / HP_FAR_SPEED;
}
