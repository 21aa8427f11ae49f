/*
 * Distance of the plan from the exact optimum where observations are noisy.
 *
 * Small cases: a log that leaves two or three relations likely, words only, slips of several
 * percent. The optimum over the next actions is found by trying every sequence of actions
 * against every showing (expectimax); the plan's own cost is computed on the same tree. Beyond the
 * horizon both pay what the plan expects. Every test run looks two actions ahead; with the argument
 * "full" it is three, and with a file name after it the figures are written there for
 * docs/advisor.md.
 *
 * Two rules of the game. Nobody looks a third time at what was said twice: slips are independent
 * here, so that a third look would pay, but a person who errs twice in the same way does so again.
 * And an end in doubt pays for what is then still to be done if its wiring is wrong, or the optimum
 * would steer for ends that are cheap and unsure.
 */
#include "check.h"

#include "decide/advise/planner.h"
#include "decide/reading/reading_list.h"
#include "default_table.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#define SHOWINGS 4 /* likeliest showings of an action that are followed */
#define WIRINGS  3 /* likeliest wirings that are tried at each step */

typedef struct game {
    hp_planner *planner;
    const hp_plan_params *params;
} game;

/* Price of a trial before anything is seen. */
static double price(const game *g, const hp_belief *b, int number)
{
    const hp_costs *c = &g->params->costs;
    int present = 0;
    for (int k = 0; k < b->entries; k++)
        if (b->entry[k].reading == &hp_reading_trial)
            present = hp_wiring_number(&b->entry[k].trial.wiring);
    if (present == number)
        return c->look;
    double cost = c->trial;
    hp_wiring from = hp_wiring_from_number(present), to = hp_wiring_from_number(number);
    for (int k = 0; k < 3; k++)
        cost += c->phase_lead * (from.phase[k] != to.phase[k]) +
                c->sensor_pin * (from.sensor[k] != to.sensor[k]);
    return cost;
}

static double risk(const game *g, const hp_trial *t)
{
    if (t->motion == HP_MOVED_STILL || t->motion == HP_MOVED_SHIVER)
        return g->params->costs.risk_stalled;
    return t->feel == HP_FEEL_ROUGH ? g->params->costs.risk_rough : 0.0;
}

static double value(const game *g, const hp_belief *b, int left, bool optimal);

/* Cost of trying a wiring and all after it. */
static double try_wiring(const game *g, const hp_belief *b, int number, int left, bool optimal)
{
    hp_advice advice = {.kind = HP_ADVICE_TRY, .number = number};
    hp_showing showing[HP_SHOWING_MAX];
    int count = hp_plan_showings(g->planner, b, &advice, 0.01, showing);
    count = count < SHOWINGS ? count : SHOWINGS;
    double sum = 0.0, cost = price(g, b, number);
    for (int k = 0; k < count; k++)
        sum += showing[k].probability;
    for (int k = 0; k < count; k++) {
        hp_belief next;
        assert_int_equal(hp_belief_copy(b, &next, NULL), HP_OK);
        assert_int_equal(hp_belief_add(&next, &showing[k].entry, NULL), HP_OK);
        cost += showing[k].probability / sum *
                (risk(g, &showing[k].entry.trial) + value(g, &next, left - 1, optimal));
        hp_belief_free(&next);
    }
    return cost;
}

/* Whether a wiring may not be tried: it is joined, and the last two looks at it said the same. */
static bool seen_enough(const game *g, const hp_belief *b, int number)
{
    return price(g, b, number) <= g->params->costs.look && hp_plan_looked_enough(b, number);
}

/* The likeliest wirings, of equals the cheapest to join, and the one joined now. */
static int candidates(const game *g, const hp_belief *b, int *number)
{
    double right[HP_WIRING_COUNT + 1];
    int count = 0;
    hp_belief_wirings(b, right);
    while (count < WIRINGS) {
        int best = 0;
        for (int n = 1; n <= HP_WIRING_COUNT; n++) {
            bool taken = seen_enough(g, b, n);
            for (int k = 0; k < count; k++)
                taken = taken || fabs(right[n] - right[number[k]]) < 1e-6 * right[n];
            if (taken)
                continue;
            double more = best ? right[n] - right[best] : 1.0;
            if (more > 1e-6 || (more > -1e-6 && price(g, b, n) < price(g, b, best)))
                best = n;
        }
        if (best == 0 || right[best] < 0.01)
            break;
        number[count++] = best;
    }
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        if (price(g, b, n) <= g->params->costs.look && !seen_enough(g, b, n))
            number[count++] = n;
    return count;
}

/* What is still to be done after an end, by the chance that its wiring is wrong. */
static double doubt(const game *g, const hp_belief *b, int number)
{
    hp_outlook o;
    double wrong = 0.0;
    hp_outlook_fill(&o, g->planner, b, number);
    for (int k = 0; k < HP_GROUP_COUNT; k++) {
        if (k < HP_SET_COUNT && hp_set_is_right(g->planner, k, number))
            o.group[k] = 0.0;
        wrong += o.group[k];
    }
    return wrong > 0.0 ? wrong * hp_rest_cost(&o.rest, o.group, 0) : 0.0;
}

static double value(const game *g, const hp_belief *b, int left, bool optimal)
{
    hp_advice advice;
    assert_int_equal(hp_plan_next(g->planner, b, false, &advice, NULL), HP_OK);
    if (advice.kind != HP_ADVICE_TRY && advice.kind != HP_ADVICE_LOOK)
        return doubt(g, b, advice.number);
    if (left == 0)
        return advice.expected_cost;
    double own = try_wiring(g, b, advice.number, left, optimal);
    if (!optimal)
        return own;
    int number[WIRINGS + 2], count = candidates(g, b, number);
    double best = own;
    for (int k = 0; k < count; k++)
        if (number[k] != advice.number)
            best = fmin(best, try_wiring(g, b, number[k], left, optimal));
    return best;
}

static int horizon = 2;
static FILE *rows; /* may be NULL */

static void put_row(double slips, hp_motion motion, hp_feel feel, double plan, double best)
{
    const char *way = motion == HP_MOVED_FORWARD ? "forward" : "backward";
    const char *how = feel == HP_FEEL_SMOOTH ? "smooth" : "rough";
    double excess = 100.0 * (plan / best - 1.0);
    print_message("slips %g, %s %s: plan %.3f min, optimum %.3f min, %.2f %%\n", slips, way, how,
                  plan, best, excess);
    if (rows)
        fprintf(rows, "| %g %% | %s, %s | %.2f | %.2f | %.2f %% |\n", 100.0 * slips, way, how, plan,
                best, fabs(excess));
}

/* One small case: a first trial of wiring 1 that was said to go like this. */
static double excess(double slips, hp_motion motion, hp_feel feel)
{
    hp_likelihood table = default_table();
    hp_person person = slips > 0.0 ? hp_person_slipping(slips) : hp_person_default();
    hp_prior_params prior = hp_prior_plain();
    prior.table_stated = 1.0;
    prior.inverted = prior.sensor_fault = prior.lead_open = 0.0;
    hp_plan_params params = hp_plan_params_default();
    params.allowed = 0;
    params.ammeter = params.tachometer = false;
    params.first_power = HP_FIRST_POWER_NONE;
    game g = {hp_planner_create(&table, &person, &params, NULL), &params};
    hp_belief belief;
    assert_int_equal(hp_belief_create(&table, &person, &prior, &belief, NULL), HP_OK);
    hp_entry e = hp_entry_make(&hp_reading_trial, 1);
    e.trial.throttle = 0.35;
    e.trial.motion = motion;
    e.trial.feel = feel;
    e.trial.starts = e.trial.starts_tried = 6;
    assert_int_equal(hp_belief_add(&belief, &e, NULL), HP_OK);
    double plan = value(&g, &belief, horizon, false), best = value(&g, &belief, horizon, true);
    put_row(slips, motion, feel, plan, best);
    hp_belief_free(&belief);
    hp_planner_free(g.planner);
    hp_likelihood_free(&table);
    return plan / best - 1.0;
}

static void the_plan_is_near_the_optimum(void **state)
{
    (void)state;
    const double slips[] = {0.02, 0.05, 0.10};
    double worst = 0.0;
    for (int k = 0; k < 3; k++) {
        worst = fmax(worst, excess(slips[k], HP_MOVED_BACKWARD, HP_FEEL_ROUGH));
        worst = fmax(worst, excess(slips[k], HP_MOVED_BACKWARD, HP_FEEL_SMOOTH));
        worst = fmax(worst, excess(slips[k], HP_MOVED_FORWARD, HP_FEEL_SMOOTH));
    }
    /* Twice what was found (docs/advisor.md): the look-ahead is an estimate, nothing gives its
     * distance. */
    check_true(worst < 0.01, "the plan costs %.1f %% more than the optimum", 100.0 * worst);
}

int main(int argc, char **argv)
{
    if (argc > 1 && strcmp(argv[1], "full") == 0)
        horizon = 3;
    if (argc > 2) {
        rows = fopen(argv[2], "w");
        if (!rows) {
            perror(argv[2]);
            return 1;
        }
        fputs("| slips | said of the first trial | the plan, min | optimum, min | more |\n"
              "|---|---|---|---|---|\n",
              rows);
    }
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_plan_is_near_the_optimum),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    if (rows && fclose(rows) != 0)
        return 1;
    return failed;
}
