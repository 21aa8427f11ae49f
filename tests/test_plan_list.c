/* The plan as a numbered list: its steps are the tree, whole and once; what fails is told. */
#include "check.h"

#include "decide/reading/reading.h"
#include "hubphase/decide/assumptions.h"
#include "report/paper/list_steps.h"

#include <stdlib.h>
#include <string.h>

/* A small list of the default drive. */
typedef struct sample {
    hp_drive drive;
    hp_labels labels;
    hp_parameters parameters;
    hp_likelihood table;
    hp_person person;
    hp_belief belief;
    hp_planner *planner;
    hp_plan_tree tree;
    hp_plan_list list;
} sample;

/* `allowed`: the readings that can be taken. */
static void plan(sample *s, unsigned allowed, hp_error *err)
{
    hp_likelihood_options likelihood = hp_likelihood_options_default();
    hp_plan_params params = hp_plan_params_default();
    hp_prior_params prior = hp_prior_default();
    hp_plan_tree_options tree = hp_plan_tree_options_default();
    params.allowed = allowed;
    const char *text = hp_likelihood_default_text;
    assert_int_equal(hp_likelihood_read(text, strlen(text), &s->drive, &likelihood, &s->table, err),
                     HP_OK);
    assert_int_equal(hp_belief_create(&s->table, &s->person, &prior, &s->belief, err), HP_OK);
    s->planner = hp_planner_create(&s->table, &s->person, &params, err);
    assert_non_null(s->planner);
    tree.least_reached = 0.02;
    assert_int_equal(hp_plan_tree_build(s->planner, &s->belief, &tree, &s->tree, err), HP_OK);
    assert_true(s->tree.count > 30);
}

static int set_up_with(void **state, unsigned allowed)
{
    sample *s = calloc(1, sizeof *s);
    hp_error err = hp_error_none();
    assert_non_null(s);
    s->drive = hp_drive_default();
    s->labels = hp_labels_default();
    s->person = hp_person_default();
    plan(s, allowed, &err);
    s->list = (hp_plan_list){
        .subject = {.file = "a/b.yaml",
                    .drive = &s->drive,
                    .labels = &s->labels,
                    .parameters = &s->parameters},
        .words = {.drive = &s->drive, .labels = &s->labels, .plan = hp_planner_params(s->planner)},
        .tree = &s->tree,
    };
    *state = s;
    return 0;
}

static int set_up(void **state)
{
    return set_up_with(state, hp_plan_params_default().allowed);
}

/* Nothing can be measured: one wiring is tried after the other. */
static int set_up_trials(void **state)
{
    return set_up_with(state, 0);
}

/* Nor can it, but the Hall plug can be pulled once one runs. */
static int set_up_plug(void **state)
{
    return set_up_with(state, hp_allow(&hp_reading_hall_plug));
}

static int tear_down(void **state)
{
    sample *s = *state;
    hp_plan_tree_free(&s->tree);
    hp_planner_free(s->planner);
    hp_belief_free(&s->belief);
    hp_likelihood_free(&s->table);
    free(s);
    return 0;
}

static char *write_list(sample *s)
{
    char *text = NULL;
    size_t size = 0;
    hp_error err = hp_error_none();
    FILE *out = open_memstream(&text, &size);
    assert_non_null(out);
    assert_int_equal(hp_plan_list_put(&s->list, out, &err), HP_OK);
    assert_int_equal(fclose(out), 0);
    return text;
}

/* What the step holds beside a how-to is what the card has there, in its order. */
static void check_beside(const char *(*found)(const hp_list_steps *, const hp_list_step *, size_t,
                                              size_t),
                         const hp_list_steps *steps, const hp_list_step *step, int hows,
                         const char *(*wanted)(const hp_card *card, int k, int *at), int count,
                         const hp_card *card)
{
    size_t told[HP_CARD_HOWS + 1] = {0};
    for (int k = 0; k < count; k++) {
        int at;
        const char *text = wanted(card, k, &at);
        assert_string_equal(found(steps, step, (size_t)at, told[at]++), text);
    }
    for (int at = 0; at <= hows; at++)
        assert_null(found(steps, step, (size_t)at, told[at]));
}

static const char *caution(const hp_card *card, int k, int *at)
{
    *at = card->caution_at[k];
    return card->caution[k];
}

static const char *detail(const hp_card *card, int k, int *at)
{
    *at = card->detail_at[k];
    return card->detail[k];
}

/* Step and node, and all that follows them, say the same. `joined` as in hp_card_context. Returns
 * how many nodes there are. */
static int compare(const sample *s, const hp_list_steps *steps, int step, int node, int joined)
{
    const hp_plan_node *n = &s->tree.node[node];
    const hp_list_step *at = &steps->step[step];
    hp_card_context context = s->list.words;
    hp_card wanted;
    context.present = joined;
    hp_card_make(&context, &n->advice, &wanted);
    assert_string_equal(hp_list_text(steps, at->title), wanted.title);
    assert_string_equal(hp_list_text(steps, at->reason), wanted.reason);
    assert_string_equal(hp_list_text(steps, at->healthy), wanted.healthy);
    assert_string_equal(hp_list_safe(steps, at), wanted.safe);
    for (int k = 0; k < wanted.hows; k++)
        assert_string_equal(hp_list_how(steps, at, (size_t)k), wanted.how[k]);
    assert_null(hp_list_how(steps, at, (size_t)wanted.hows));
    check_beside(hp_list_caution, steps, at, wanted.hows, caution, wanted.cautions, &wanted);
    check_beside(hp_list_detail, steps, at, wanted.hows, detail, wanted.details, &wanted);
    assert_int_equal(at->kind, n->advice.kind);
    assert_int_equal(at->cut, n->cut);
    assert_int_equal(at->answers, n->branches);
    bool tried = n->advice.kind == HP_ADVICE_TRY || n->advice.kind == HP_ADVICE_LOOK;
    int seen = 1;
    for (int k = 0; k < n->branches; k++) {
        const hp_entry *entry = &n->branch[k].showing.entry;
        hp_showing_words showing;
        int found = -1;
        hp_showing_words_make(&context, &n->advice, entry, &showing);
        /* Two showings of a trial may have one label: what follows tells them apart. */
        hp_card next;
        hp_card_context later = s->list.words;
        later.present = tried ? n->advice.number : joined;
        hp_card_make(&later, &s->tree.node[n->branch[k].node].advice, &next);
        for (int j = 0; j < at->answers && found < 0; j++)
            if (strcmp(hp_list_text(steps, at->answer[j].label), showing.label) == 0 &&
                strcmp(hp_list_text(steps, steps->step[at->answer[j].to].title), next.title) == 0 &&
                strcmp(hp_list_text(steps, steps->step[at->answer[j].to].reason), next.reason) == 0)
                found = at->answer[j].to;
        assert_true(found >= 0);
        seen += compare(s, steps, found, n->branch[k].node, later.present);
    }
    return seen;
}

static void the_steps_say_what_the_tree_says(void **state)
{
    sample *s = *state;
    hp_list_steps steps;
    hp_error err = hp_error_none();
    assert_int_equal(hp_list_steps_make(&s->list, &steps, &err), HP_OK);
    assert_int_equal(compare(s, &steps, 0, 0, 0), s->tree.count);
    assert_true(steps.count < s->tree.count);
    hp_list_steps_free(&steps);
}

/* Paper asks nobody: the Hall plug stands with the check behind which it is pulled, made safe first
 * and with what both answers mean. */
static void the_hall_plug_is_pulled_as_safely_as_by_its_own_card(void **state)
{
    sample *s = *state;
    hp_list_steps steps;
    hp_error err = hp_error_none();
    int owed = 0, told = 0;
    assert_int_equal(hp_list_steps_make(&s->list, &steps, &err), HP_OK);
    for (int k = 0; k < s->tree.count; k++)
        owed += s->tree.node[k].advice.plug == HP_PLUG_OWED;
    assert_true(owed > 0);
    for (int k = 0; k < steps.count; k++) {
        const char *at =
            strstr(hp_list_text(&steps, steps.step[k].healthy), "Last, battery off, under 1 V");
        if (!at)
            continue;
        told++;
        check_text_contains(at, "pull the Hall plug");
        check_text_contains(at, "throttle gently, one second: the motor is not to turn");
        check_text_contains(at, "the Hall leads are not proved.");
    }
    assert_true(told > 0);
    hp_list_steps_free(&steps);
}

static int tries(const hp_list_steps *steps, const hp_list_step *step, const char *word)
{
    int count = 0;
    for (size_t k = 0; hp_list_how(steps, step, k); k++)
        count += step->joins && strstr(hp_list_how(steps, step, k), word) != NULL;
    return count;
}

/* From one trial to the next: which leads move, from the wiring that is joined by then. */
static void a_trial_after_a_trial_says_which_leads_move(void **state)
{
    sample *s = *state;
    hp_list_steps steps;
    hp_error err = hp_error_none();
    int moves = 0;
    assert_int_equal(hp_list_steps_make(&s->list, &steps, &err), HP_OK);
    assert_true(steps.step[0].joins);
    check_int(tries(&steps, &steps.step[0], "(moves)"), 0);
    for (int k = 1; k < steps.count; k++)
        moves += tries(&steps, &steps.step[k], "(moves)") > 0;
    assert_true(moves > 2);
    assert_int_equal(compare(s, &steps, 0, 0, 0), s->tree.count);
    hp_list_steps_free(&steps);
}

/* How likely it is to come to one end or another: to each once. */
static void the_ends_are_as_likely_as_in_the_tree(void **state)
{
    sample *s = *state;
    hp_list_steps steps;
    hp_error err = hp_error_none();
    double tree = 0.0, list = 0.0;
    assert_int_equal(hp_list_steps_make(&s->list, &steps, &err), HP_OK);
    for (int k = 0; k < s->tree.count; k++)
        tree += s->tree.node[k].branches == 0 ? s->tree.node[k].reached : 0.0;
    for (int k = 0; k < steps.count; k++)
        list += steps.step[k].answers == 0 ? steps.step[k].reached : 0.0;
    check_close(list, tree, 1e-12, "ends"); /* the same terms in another order */
    for (int k = 2; k < steps.count; k++)
        assert_true(steps.step[k - 1].reached >= steps.step[k].reached);
    hp_list_steps_free(&steps);
}

static bool same_step(const hp_list_step *a, const hp_list_step *b)
{
    bool same = a->kind == b->kind && a->wiring == b->wiring && a->cut == b->cut &&
                a->words == b->words && a->reason == b->reason && a->answers == b->answers;
    for (int k = 0; same && k < a->answers; k++)
        same = a->answer[k].label == b->answer[k].label && a->answer[k].to == b->answer[k].to;
    return same;
}

static void nothing_is_held_twice(void **state)
{
    sample *s = *state;
    hp_list_steps steps;
    hp_error err = hp_error_none();
    assert_int_equal(hp_list_steps_make(&s->list, &steps, &err), HP_OK);
    const json_t *const pool[] = {steps.texts.list, steps.words.list};
    for (size_t p = 0; p < sizeof pool / sizeof pool[0]; p++)
        for (size_t k = 0; k < json_array_size(pool[p]); k++)
            for (size_t j = 0; j < k; j++)
                assert_false(json_equal(json_array_get(pool[p], k), json_array_get(pool[p], j)));
    for (int k = 0; k < steps.count; k++)
        for (int j = 0; j < k; j++)
            assert_false(same_step(&steps.step[k], &steps.step[j]));
    hp_list_steps_free(&steps);
}

/* Each number that a line sends to is that of a step, and every step but the first is sent to. */
static void every_number_leads_to_a_step(void **state)
{
    sample *s = *state;
    char *html = write_list(s), text[60];
    int count = 0;
    for (;; count++) {
        snprintf(text, sizeof text, "<li id=\"flow-%d\">", count + 1);
        if (!strstr(html, text))
            break;
        snprintf(text, sizeof text, "<a href=\"#flow-%d\">%d</a>", count + 1, count + 1);
        assert_true(count == 0 || strstr(html, text));
    }
    assert_true(count > 5);
    for (const char *at = html; (at = strstr(at, "href=\"#flow-")); at++)
        assert_in_range(atoi(at + strlen("href=\"#flow-")), 1, count);
    free(html);
}

/* Two pages hold only so much: what helps with an action, and what an end says, stand once. */
static void what_is_said_again_is_told_once(void **state)
{
    sample *s = *state;
    char *html = write_list(s);
    int helps = 0, ends = 0;
    for (char *at = html; (at = strstr(at, "<small>")); helps++) {
        char *end = strstr(at, "</small>");
        assert_non_null(end);
        *end = '\0';
        check_true(strstr(end + 1, at) == NULL, "told again: %s", at);
        *end = '<';
        at = end;
    }
    check_true(helps > 3, "%d details", helps);
    for (const char *at = html; (at = strstr(at, "<li>as at ")); at++) {
        char first[40];
        int number = atoi(at + strlen("<li>as at "));
        if (number == 0)
            continue;
        ends++;
        snprintf(first, sizeof first, "<li id=\"flow-%d\">", number);
        const char *there = strstr(html, first);
        assert_true(there && there < at);
        assert_true(strstr(there, "<li>Without load") < strstr(there, "</ul>"));
    }
    check_true(ends > 3, "%d ends", ends);
    free(html);
}

/* How many times a text stands before `end`. */
static int times(const char *text, const char *what, const char *end)
{
    int count = 0;
    while ((text = strstr(text, what)) && text < end) {
        count++;
        text++;
    }
    return count;
}

/* Answers as at an earlier number lead on as many ways as there, and that number has them in full.
 */
static void answers_that_stand_in_full_elsewhere_part_as_there(void **state)
{
    sample *s = *state;
    static const char as_at[] = "<li>as at <a href=\"#flow-", link[] = "<a href=";
    char *html = write_list(s), first[40];
    int rows = 0;
    for (const char *at = html; (at = strstr(at, as_at)); at++, rows++) {
        snprintf(first, sizeof first, "<li id=\"flow-%d\">", atoi(at + strlen(as_at)));
        const char *there = strstr(html, first);
        assert_true(there && there < at);
        const char *end = strstr(there, "</ul>");
        assert_int_equal(times(there, as_at, end), 0);
        /* One link more: to the number itself. */
        check_int(times(at, link, strstr(at, "</ul>")), times(there, link, end) + 1);
    }
    check_true(rows > 3, "%d rows", rows);
    free(html);
}

/* It runs and fetches nothing. */
static void it_needs_nothing_beside_it(void **state)
{
    sample *s = *state;
    static const char *const none[] = {"<script", " src=", "url(", "@import", "http:", "https:"};
    char *html = write_list(s);
    assert_non_null(strstr(html, "default-src 'none'; style-src 'sha256-"));
    for (size_t k = 0; k < sizeof none / sizeof none[0]; k++)
        assert_null(strstr(html, none[k]));
    free(html);
}

static void the_same_input_gives_the_same_bytes(void **state)
{
    sample *s = *state;
    char *one = write_list(s), *two = write_list(s);
    assert_string_equal(one, two);
    free(one);
    free(two);
}

static void a_full_disk_is_told(void **state)
{
    sample *s = *state;
    hp_error err = hp_error_none();
    FILE *out = fopen("/dev/full", "w");
    if (!out)
        skip();
    assert_int_equal(hp_plan_list_put(&s->list, out, &err), HP_FAIL_IO);
    fclose(out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_steps_say_what_the_tree_says),
        cmocka_unit_test(the_ends_are_as_likely_as_in_the_tree),
        cmocka_unit_test(nothing_is_held_twice),
        cmocka_unit_test(every_number_leads_to_a_step),
        cmocka_unit_test(what_is_said_again_is_told_once),
        cmocka_unit_test(answers_that_stand_in_full_elsewhere_part_as_there),
        cmocka_unit_test(it_needs_nothing_beside_it),
        cmocka_unit_test(the_same_input_gives_the_same_bytes),
        cmocka_unit_test(a_full_disk_is_told),
    };
    const struct CMUnitTest trials[] = {
        cmocka_unit_test(a_trial_after_a_trial_says_which_leads_move),
    };
    const struct CMUnitTest plug[] = {
        cmocka_unit_test(the_hall_plug_is_pulled_as_safely_as_by_its_own_card),
    };
    int failed = cmocka_run_group_tests(tests, set_up, tear_down);
    failed += cmocka_run_group_tests(plug, set_up_plug, tear_down);
    return failed + cmocka_run_group_tests(trials, set_up_trials, tear_down);
}
