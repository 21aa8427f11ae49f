/*
 * Plan: see the header. What comes before any arithmetic, what ends the work, and the decision
 * between them; the arithmetic itself stands in plan_judge.c and plan_rest.c.
 */
#include "decide/advise/planner.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* chosen: when something is broken and the best action saves less than a twentieth of its price,
 * nothing that would tell is left. */
#define WORTH_MIN 0.05
/* Differences smaller than this are rounding. */
#define SLACK 1e-6

/* ---- life ------------------------------------------------------------------------------------ */

hp_planner *hp_planner_create(const hp_likelihood *table, const hp_person *person,
                              const hp_plan_params *params, hp_error *err)
{
    if (hp_plan_params_check(params, err) != HP_OK || hp_person_check(person, err) != HP_OK)
        return NULL;
    hp_planner *p = calloc(1, sizeof *p);
    if (!p) {
        hp_error_set(err, HP_FAIL_MEMORY, "no memory for a plan");
        return NULL;
    }
    p->table = table;
    p->person = person;
    p->params = *params;
    if (p->params.throttle == 0.0)
        p->params.throttle = table->nominal.controller.throttle;
    p->level = hp_likelihood_level(table, p->params.throttle);
    p->search = hp_search_create(err);
    if (!p->search || hp_planner_fill_symbols(p, err) != HP_OK) {
        hp_planner_free(p);
        return NULL;
    }
    return p;
}

const hp_plan_params *hp_planner_params(const hp_planner *planner)
{
    return &planner->params;
}

/* ---- the log so far -------------------------------------------------------------------------- */

static int count_kind(const hp_belief *b, const hp_reading *kind)
{
    int count = 0;
    for (int k = 0; k < b->entries; k++)
        count += b->entry[k].reading == kind;
    return count;
}

/* The wiring joined last, by the log; 0: none. */
int hp_plan_present(const hp_belief *b)
{
    for (int k = b->entries - 1; k >= 0; k--)
        if (b->entry[k].reading == &hp_reading_trial)
            return hp_wiring_number(&b->entry[k].trial.wiring);
    return 0;
}

/* Whether the last trial was said to run forward and not roughly. */
static bool last_ran_well(const hp_belief *b)
{
    for (int k = b->entries - 1; k >= 0; k--) {
        const hp_trial *t = &b->entry[k].trial;
        if (b->entry[k].reading == &hp_reading_trial)
            return t->motion == HP_MOVED_FORWARD && t->feel != HP_FEEL_ROUGH;
    }
    return false;
}

/* Whether learning has the last word: a trial after it, such as the final check, is weighed as any
 * other. */
static bool learnt(const hp_belief *b)
{
    for (int k = b->entries - 1; k >= 0; k--) {
        if (b->entry[k].reading == &hp_reading_trial)
            return false;
        if (b->entry[k].reading == &hp_reading_learn)
            return b->entry[k].learn.worked == HP_TELL_YES;
    }
    return false;
}

/* Far outside the bands that a right wiring should keep. At the gentle throttle rough wirings draw
 * at least four times the band's upper end (tests/test_plan_check.c): twice is the middle between,
 * on a logarithmic scale. Speeds tell less; chosen: a quarter beyond the band. */
#define FAR_CURRENT 2.0
#define FAR_SPEED   1.25

/* Whether the figures read last do not fit a right wiring, by a misreading or because something has
 * come loose: not done before they are read again. */
static bool last_read_far_out(const hp_planner *p, const hp_belief *b, const hp_advice *advice)
{
    const hp_trial *t = NULL;
    for (int k = b->entries - 1; k >= 0 && !t; k--)
        if (b->entry[k].reading == &hp_reading_trial)
            t = &b->entry[k].trial;
    /* The bands are those of the throttle at which trials are advised. */
    if (!t || !(fabs(t->throttle - p->params.throttle) < 0.1 * p->params.throttle))
        return false;
    const hp_band *current = &advice->current_a, *speed = &advice->wheel_rad_s;
    return t->battery_a > FAR_CURRENT * current->high || t->wheel_rad_s > FAR_SPEED * speed->high ||
           t->wheel_rad_s < speed->low / FAR_SPEED;
}

/* The latest reading of a kind decides: whoever mended it reads again. */
static const hp_danger *danger_of(const hp_planner *p, const hp_belief *b)
{
    unsigned seen = 0;
    for (int k = b->entries - 1; k >= 0; k--) {
        const hp_entry *e = &b->entry[k];
        if (!e->reading->danger || (seen & hp_allow(e->reading)))
            continue;
        seen |= hp_allow(e->reading);
        const hp_danger *danger = e->reading->danger(e->values, &p->params);
        if (danger)
            return danger;
    }
    return NULL;
}

/* ---- what the advice says beside ------------------------------------------------------------- */

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

static void add_bands(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    weighed current[HP_LIKELIHOOD_MOTORS], speed[HP_LIKELIHOOD_MOTORS];
    double weight[HP_LIKELIHOOD_MOTORS];
    hp_behaviour sound = {.wiring = hp_wiring_from_number(1), .inverted = -1};
    int smooth = p->table->map.index[hp_behaviour_raw(&sound)], count = 0;
    hp_belief_motors(b, weight);
    for (int m = 0; m < b->motors; m++) {
        const hp_record *r = hp_likelihood_record(p->table, p->level, smooth, m);
        if (r->current_turning == 0 || r->wheel_speed == 0)
            continue;
        current[count] = (weighed){hp_grid_value(r->current_turning), weight[m]};
        speed[count++] = (weighed){hp_grid_value(r->wheel_speed), weight[m]};
    }
    if (count == 0)
        return;
    advice->current_a =
        band_of(current, count, hypot(HP_KERNEL_CURRENT, p->person->current_relative),
                p->person->current_zero_a);
    advice->wheel_rad_s =
        band_of(speed, count, hypot(HP_KERNEL_SPEED, p->person->speed_relative), 0.0);
}

const hp_reading *hp_plan_proof(int trouble)
{
    int inverted;
    hp_fault fault;
    hp_trouble_get(trouble, &inverted, &fault);
    for (int k = 0; hp_readings[k]; k++)
        if (hp_readings[k]->proves & HP_PROVES(fault.kind))
            return hp_readings[k];
    return &hp_reading_hand_turn;
}

static void set_wiring(hp_advice *advice, int number)
{
    advice->number = number;
    if (number > 0)
        advice->wiring = hp_wiring_from_number(number);
}

/* Of equally likely wirings the one that moves least. */
static int likeliest_wiring(const hp_planner *p, const double *probability, int present)
{
    int best = 1;
    for (int n = 2; n <= HP_WIRING_COUNT; n++) {
        double more = probability[n] - probability[best];
        if (more > 1e-3 || (more > -1e-3 && hp_plan_trial_cost(p, present, n) <
                                                hp_plan_trial_cost(p, present, best) - SLACK))
            best = n;
    }
    return best;
}

/* ---- the decision ---------------------------------------------------------------------------- */

static void advise_reading(hp_advice *advice, const hp_reading *reading)
{
    advice->kind = HP_ADVICE_READ;
    advice->reading = reading;
    advice->lead = -1;
}

/* What comes before any arithmetic; true when it decides. */
static bool come_first(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    advice->danger = danger_of(p, b);
    if (advice->danger) {
        advice->kind = HP_ADVICE_DANGER;
        return true;
    }
    /* Safe and quick, and they keep the next steps safe. */
    for (int k = 0; hp_readings[k]; k++) {
        const hp_reading *reading = hp_readings[k];
        if (reading->first && (p->params.allowed & hp_allow(reading)) &&
            count_kind(b, reading) == 0) {
            advise_reading(advice, reading);
            return true;
        }
    }
    if (p->params.learns && count_kind(b, &hp_reading_learn) == 0) {
        advice->kind = HP_ADVICE_LEARN;
        return true;
    }
    if (learnt(b)) {
        advice->kind = HP_ADVICE_DONE;
        /* "It worked" is one look: forward, and smooth. The final check is what makes it sure. */
        advice->certainty = (1.0 - p->person->wrong_direction) * (1.0 - p->person->rough_as_smooth);
        return true;
    }
    return false;
}

/* What is likeliest to be broken: *trouble, and the probability that it is, whatever else is. */
static double likeliest_trouble(const hp_belief *b, int *trouble)
{
    double probability[HP_TROUBLE_COUNT], part[HP_PART_COUNT] = {0};
    int which = 0;
    hp_belief_troubles(b, probability);
    for (int k = 0; k < HP_TROUBLE_COUNT; k++)
        part[hp_part_of(k)] += probability[k];
    double broken = hp_part_likeliest(part, &which);
    *trouble = -1;
    for (int k = 1; k < HP_TROUBLE_COUNT; k++)
        if (hp_part_of(k) == which && (*trouble < 0 || probability[k] > probability[*trouble]))
            *trouble = k;
    return broken;
}

static void give_up(const hp_planner *p, hp_advice *advice, double broken, const double *right,
                    int present)
{
    advice->kind = HP_ADVICE_GIVE_UP;
    advice->certainty = broken;
    advice->proof = hp_plan_proof(advice->trouble);
    set_wiring(advice, likeliest_wiring(p, right, present));
}

/* Whether the log ends the work; true when it does. */
static bool come_last(const hp_planner *p, const hp_belief *b, int present, hp_advice *advice)
{
    double right[HP_WIRING_COUNT + 1], mended[HP_WIRING_COUNT + 1];
    hp_belief_wirings(b, right);
    hp_belief_wirings_mended(b, mended);
    double broken = likeliest_trouble(b, &advice->trouble);
    if (present > 0 && last_ran_well(b) && right[present] >= p->params.sure &&
        !last_read_far_out(p, b, advice)) {
        advice->kind = HP_ADVICE_DONE;
        advice->certainty = right[present];
        set_wiring(advice, present);
        return true;
    }
    if (broken >= p->params.sure_broken) {
        advice->kind = HP_ADVICE_REPAIR;
        advice->certainty = broken;
        advice->proof = hp_plan_proof(advice->trouble);
        set_wiring(advice, likeliest_wiring(p, mended, present));
        return true;
    }
    if (count_kind(b, &hp_reading_trial) >= p->params.trials_max) {
        give_up(p, advice, broken, right, present);
        return true;
    }
    return false;
}

static void advise(hp_planner *p, const hp_belief *b, int present, hp_advice *advice)
{
    double right[HP_WIRING_COUNT + 1];
    hp_outlook o;
    hp_outlook_fill(&o, p, b, present);
    hp_belief_wirings(b, right);
    double worth_of_best = hp_outlook_choose(&o, advice), sound = 0.0;
    for (int k = 0; k < HP_SET_COUNT; k++)
        sound += o.group[k];
    if (worth_of_best < WORTH_MIN && sound < 0.5) {
        double broken = likeliest_trouble(b, &advice->trouble);
        give_up(p, advice, broken, right, present);
        return;
    }
    advice->expected_trials = hp_rest_sharp(&o.rest, o.group, true);
    if (advice->kind == HP_ADVICE_READ)
        return;
    set_wiring(advice, advice->number);
    advice->certainty = right[advice->number];
    hp_planner_moves(present, advice->number, &advice->moved_phase, &advice->moved_sensor);
}

hp_result hp_plan_next(hp_planner *planner, const hp_belief *belief, bool thorough,
                       hp_advice *advice, hp_error *err)
{
    memset(advice, 0, sizeof *advice);
    advice->lead = -1;
    advice->contradiction.slipped = advice->contradiction.other = -1;
    hp_result result = hp_planner_meet(planner, belief, err);
    if (result != HP_OK)
        return result;
    if (thorough)
        result = hp_belief_contradiction(belief, &advice->contradiction, NULL, err);
    if (result != HP_OK)
        return result;
    int present = hp_plan_present(belief);
    add_bands(planner, belief, advice);
    if (!come_first(planner, belief, advice) && !come_last(planner, belief, present, advice))
        advise(planner, belief, present, advice);
    return HP_OK;
}

const hp_reading *hp_advice_entry(const hp_advice *advice)
{
    switch (advice->kind) {
    case HP_ADVICE_READ: return advice->reading;
    case HP_ADVICE_TRY:
    case HP_ADVICE_LOOK:
    case HP_ADVICE_DONE: return &hp_reading_trial;
    case HP_ADVICE_LEARN: return &hp_reading_learn;
    case HP_ADVICE_REPAIR: return &hp_reading_mend;
    case HP_ADVICE_DANGER: return advice->danger->reading;
    case HP_ADVICE_GIVE_UP:
    case HP_ADVICE_COUNT: break;
    }
    return NULL;
}
