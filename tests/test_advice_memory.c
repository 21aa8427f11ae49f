/*
 * Out of memory in the advice: the k-th allocation of our own code fails, for every k there is.
 * What was given in stays as it was, nothing leaks (the sanitizer build sees that), and the same
 * call succeeds once there is memory again.
 */
#include "failing_memory.h"

#include "decide/advise/advice_standing.h"
#include "decide/advise/plan_tree.h"
#include "decide/reading/reading_list.h"
#include "default_table.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

typedef struct bench {
    hp_likelihood table;
    hp_person person;
    hp_prior_params prior;
    hp_plan_params params;
    hp_planner *planner;
    hp_belief belief;
    hp_entry entry; /* to be added */
    double *weight; /* owned; of the belief as it was */
    int entries;
    hp_advice advice; /* the one that a full memory gives */
    void *made;       /* by the work that succeeded */
} bench;

static hp_entry trial(int number)
{
    hp_entry e = hp_entry_make(&hp_reading_trial, 1);
    e.trial.wiring = hp_wiring_from_number(number);
    e.trial.throttle = 0.35;
    e.trial.motion = HP_MOVED_BACKWARD;
    e.trial.feel = HP_FEEL_ROUGH;
    e.trial.battery_a = 4.0;
    return e;
}

static void add(bench *b, hp_entry entry)
{
    hp_error err = hp_error_none();
    check_true(hp_belief_add(&b->belief, &entry, &err) == HP_OK, "%s", err.text);
}

/* Keeps what the belief is now. */
static void remember(bench *b)
{
    size_t size = (size_t)(b->belief.count * b->belief.members.count) * sizeof *b->weight;
    free(b->weight);
    b->weight = malloc(size);
    assert_non_null(b->weight);
    memcpy(b->weight, b->belief.weight, size);
    b->entries = b->belief.entries;
}

static int set_up(void **state)
{
    hp_error err = hp_error_none();
    bench *b = calloc(1, sizeof *b);
    assert_non_null(b);
    b->table = default_table();
    b->person = hp_person_default();
    b->prior = hp_prior_plain();
    b->params = hp_plan_params_default();
    b->params.allowed = hp_allow(&hp_reading_park) | hp_allow(&hp_reading_hand_turn);
    check_true(hp_belief_create(&b->table, &b->person, &b->prior, &b->belief, &err) == HP_OK, "%s",
               err.text);
    b->planner = hp_planner_create(&b->table, &b->person, &b->params, &err);
    assert_non_null(b->planner);
    add(b, trial(3));
    b->entry = trial(5);
    remember(b);
    *state = b;
    return 0;
}

static int tear_down(void **state)
{
    bench *b = *state;
    hp_planner_free(b->planner);
    hp_belief_free(&b->belief);
    hp_likelihood_free(&b->table);
    free(b->weight);
    free(b);
    return 0;
}

static void check_belief(void *user, bool failed)
{
    (void)failed;
    const bench *b = user;
    size_t size = (size_t)(b->belief.count * b->belief.members.count) * sizeof *b->weight;
    check_int(b->belief.entries, b->entries);
    check_int(memcmp(b->belief.weight, b->weight, size), 0);
}

/* ---- belief ---------------------------------------------------------------------------------- */

static hp_result make_belief(void *user, hp_error *err)
{
    bench *b = user;
    hp_belief belief;
    hp_result result = hp_belief_create(&b->table, &b->person, &b->prior, &belief, err);
    if (result != HP_OK)
        assert_null(belief.weight);
    hp_belief_free(&belief);
    return result;
}

static hp_result add_entry(void *user, hp_error *err)
{
    bench *b = user;
    return hp_belief_add(&b->belief, &b->entry, err);
}

static void check_added(void *user, bool failed)
{
    bench *b = user;
    if (failed)
        check_belief(user, failed);
    else
        check_int(b->belief.entries, b->entries + 1);
}

static hp_result copy_belief(void *user, hp_error *err)
{
    bench *b = user;
    hp_belief copy;
    hp_result result = hp_belief_copy(&b->belief, &copy, err);
    if (result != HP_OK)
        assert_null(copy.weight);
    hp_belief_free(&copy);
    return result;
}

static hp_result look_for_slips(void *user, hp_error *err)
{
    const bench *b = user;
    hp_contradiction c;
    double slip[32];
    return hp_belief_contradiction(&b->belief, &c, slip, err);
}

static void the_belief_without_memory(void **state)
{
    bench *b = *state;
    check_int(fail_every_allocation(make_belief, NULL, b), 7);
    /* The place for entries grows with the first and with the seventeenth. */
    while (b->belief.entries < 16)
        add(b, trial(1 + b->belief.entries));
    remember(b);
    check_int(fail_every_allocation(add_entry, check_added, b), 6);
    remember(b);
    check_int(fail_every_allocation(add_entry, check_added, b), 6);
    remember(b);
    b->entry = hp_entry_make(&hp_reading_mend, 1);
    check_int(fail_every_allocation(add_entry, check_added, b), 0);
    remember(b);
    check_int(fail_every_allocation(copy_belief, check_belief, b),
              11 + 2 * (b->belief.entries - 1));
    /* It stands after it was seen to drive: what came before is weighed anew. */
    remember(b);
    b->entry = trial(1);
    b->entry.trial.motion = HP_MOVED_STILL;
    b->entry.trial.feel = HP_FEEL_UNSAID;
    check_true(fail_every_allocation(add_entry, check_added, b) >= 50, "too few allocations");
    remember(b);
    check_true(fail_every_allocation(look_for_slips, check_belief, b) >= 50, "too few allocations");
}

/* ---- plan ------------------------------------------------------------------------------------ */

static hp_result make_planner(void *user, hp_error *err)
{
    bench *b = user;
    hp_planner *planner = hp_planner_create(&b->table, &b->person, &b->params, err);
    hp_result result = planner ? HP_OK : err->code;
    hp_planner_free(planner);
    return result;
}

/* The planner has met no belief yet, or forgets what a failure left half made. */
static hp_result ask_planner(void *user, hp_error *err)
{
    bench *b = user;
    return hp_plan_next(b->planner, &b->belief, true, &b->advice, err);
}

static void the_plan_without_memory(void **state)
{
    bench *b = *state;
    check_true(fail_every_allocation(make_planner, check_belief, b) >= 5, "too few allocations");
    check_true(fail_every_allocation(ask_planner, check_belief, b) >= 5, "too few allocations");
    /* What failed so often has left no trace in the advice. */
    hp_error err = hp_error_none();
    hp_advice fresh;
    hp_planner *planner = hp_planner_create(&b->table, &b->person, &b->params, &err);
    assert_non_null(planner);
    check_int(hp_plan_next(planner, &b->belief, true, &fresh, &err), HP_OK);
    check_int(fresh.kind, b->advice.kind);
    check_int(fresh.number, b->advice.number);
    check_close(b->advice.expected_cost, fresh.expected_cost, 0.0, "the same bytes");
    hp_showing one[HP_SHOWING_MAX], other[HP_SHOWING_MAX];
    int count = hp_plan_showings(planner, &b->belief, &fresh, 0.01, one);
    check_int(hp_plan_showings(b->planner, &b->belief, &fresh, 0.01, other), count);
    for (int k = 0; k < count; k++)
        check_close(other[k].probability, one[k].probability, 0.0, "the same bytes");
    hp_planner_free(planner);
}

static hp_result grow_tree(void *user, hp_error *err)
{
    bench *b = user;
    hp_plan_tree tree;
    hp_plan_tree_options options = hp_plan_tree_options_default();
    options.least_reached = 0.3;
    options.nodes_max = HP_DRAWS(40, 12); /* the work begins anew for each allocation */
    hp_result result = hp_plan_tree_build(b->planner, &b->belief, &options, &tree, err);
    if (result == HP_OK)
        check_true(tree.count > 5, "a tree of %d", tree.count);
    else
        check_int(tree.count, 0);
    hp_plan_tree_free(&tree);
    return result;
}

static void the_plan_tree_without_memory(void **state)
{
    bench *b = *state;
    long count = fail_every_allocation(grow_tree, check_belief, b);
    check_true(count >= HP_DRAWS(50, 15), "only %ld allocations", count);
}

/* ---- search ---------------------------------------------------------------------------------- */

enum { TRUTHS = 24, ACTIONS = 32 };

/* Coarse answers of many actions: so many sets come up that the search needs more room than it
 * begins with, more than once. */
static hp_result solve(void *user, hp_error *err)
{
    static uint8_t outcome[ACTIONS * TRUTHS];
    static double cost[ACTIONS], weight[TRUTHS];
    double *value = user;
    uint32_t random = 1;
    for (int k = 0; k < ACTIONS * TRUTHS; k++) {
        random = random * 1664525u + 1013904223u;
        outcome[k] = (uint8_t)(random >> 31);
    }
    for (int h = 0; h < TRUTHS; h++) {
        weight[h] = 1.0;
        outcome[h * TRUTHS + h] = HP_SEARCH_GOAL;
    }
    for (int a = 0; a < ACTIONS; a++)
        cost[a] = 1.0 + 0.01 * a;
    hp_search_problem problem = {.hypotheses = TRUTHS,
                                 .actions = ACTIONS,
                                 .places = 1,
                                 .weight = weight,
                                 .outcome = outcome,
                                 .cost = cost};
    hp_search *search = hp_search_create(err);
    hp_result result = search ? hp_search_solve(search, &problem, 0, value, NULL, err) : err->code;
    hp_search_free(search);
    return result;
}

static void the_search_without_memory(void **state)
{
    (void)state;
    double value = 0.0;
    check_true(fail_every_allocation(solve, NULL, &value) >= 4, "the search never grows");
    check_true(value > 1.0 && value < 20.0, "%g", value);
}

/* ---- where things stand ---------------------------------------------------------------------- */

static hp_result fill_standing(void *user, hp_error *err)
{
    const bench *b = user;
    hp_standing standing;
    return hp_standing_fill(&b->belief, 0, &standing, err);
}

static hp_result make_course(void *user, hp_error *err)
{
    const bench *b = user;
    hp_standing_course course;
    hp_result result = hp_standing_course_make(&b->belief, 0.001, &course, err);
    hp_standing_course_free(&course);
    return result;
}

static void where_things_stand_without_memory(void **state)
{
    bench *b = *state;
    check_int(fail_every_allocation(fill_standing, check_belief, b), 1);
    check_int(fail_every_allocation(make_course, check_belief, b), 11);
}

/* ---- the table ------------------------------------------------------------------------------- */

static hp_result read_table(void *user, hp_error *err)
{
    const bench *b = user;
    hp_likelihood table;
    hp_drive drive = hp_drive_default();
    hp_result result =
        hp_likelihood_read(hp_likelihood_default_text, strlen(hp_likelihood_default_text), &drive,
                           &b->table.options, &table, err);
    hp_likelihood_free(&table);
    return result;
}

static hp_result write_table(void *user, hp_error *err)
{
    const bench *b = user;
    FILE *out = open_sum();
    hp_result result = hp_likelihood_write(&b->table, out, err);
    fclose(out);
    return result;
}

static void the_likelihood_table_without_memory(void **state)
{
    bench *b = *state;
    check_true(fail_every_allocation(read_table, NULL, b) >= 4, "too few allocations");
    check_true(fail_every_allocation(write_table, NULL, b) >= 2, "too few allocations");
}

#define WITH(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)

int main(void)
{
    const struct CMUnitTest tests[] = {
        WITH(the_belief_without_memory),         WITH(the_plan_without_memory),
        WITH(the_plan_tree_without_memory),      cmocka_unit_test(the_search_without_memory),
        WITH(where_things_stand_without_memory), WITH(the_likelihood_table_without_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
