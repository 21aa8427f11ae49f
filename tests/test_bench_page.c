/* The page for the bench: its plan is the tree, whole and once; what fails is told. */
#include "check.h"

#include "decide/judge/alike.h"
#include "hubphase/decide/assumptions.h"
#include "report/page/bench_page.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

/* A small page of the default drive. */
typedef struct sample {
    hp_drive drive;
    hp_labels labels;
    hp_parameters parameters;
    hp_likelihood table;
    hp_person person;
    hp_belief belief;
    hp_planner *planner;
    hp_plan_tree tree;
    hp_survey survey;
    int first[HP_WIRING_COUNT];
    hp_bench_page_pictures pictures[HP_WIRING_COUNT];
    int texts_left; /* that entry_text gives before memory runs out; -1: for ever */
    hp_bench_page page;
} sample;

/* Says what matters of an entry, so that two that differ have two texts. */
static char *entry_text(void *user, const hp_entry *entry)
{
    sample *s = user;
    char text[HP_ENTRY_WORDS], *copy = NULL;
    if (s->texts_left == 0)
        return NULL;
    s->texts_left -= s->texts_left > 0;
    hp_entry_words(&s->page.words, entry, text, sizeof text);
    copy = malloc(strlen(text) + 40);
    assert_non_null(copy);
    sprintf(copy, "%s: %s\n", HP_BENCH_PAGE_TIME, text);
    return copy;
}

static void simulate(sample *s, hp_error *err)
{
    hp_survey_options options = hp_survey_options_default();
    options.starts = 1;
    options.run.seconds = 0.3;
    options.run.settle_s = 0.2;
    assert_int_equal(hp_survey_run(&s->drive, &options, &s->survey, err), HP_OK);
    hp_alike_numbers(&s->drive.controller.table, s->first);
}

static void plan(sample *s, hp_error *err)
{
    hp_likelihood_options likelihood = hp_likelihood_options_default();
    hp_plan_params params = hp_plan_params_default();
    hp_prior_params prior = hp_prior_default();
    hp_plan_tree_options tree = hp_plan_tree_options_default();
    const char *text = hp_likelihood_default_text;
    assert_int_equal(hp_likelihood_read(text, strlen(text), &s->drive, &likelihood, &s->table, err),
                     HP_OK);
    assert_int_equal(hp_belief_create(&s->table, &s->person, &prior, &s->belief, err), HP_OK);
    s->planner = hp_planner_create(&s->table, &s->person, &params, err);
    assert_non_null(s->planner);
    tree.least_reached = 0.03;
    assert_int_equal(hp_plan_tree_build(s->planner, &s->belief, &tree, &s->tree, err), HP_OK);
    assert_true(s->tree.count > 30);
}

static int set_up(void **state)
{
    sample *s = calloc(1, sizeof *s);
    hp_error err = hp_error_none();
    assert_non_null(s);
    s->drive = hp_drive_default();
    s->labels = hp_labels_default();
    s->person = hp_person_default();
    s->texts_left = -1;
    simulate(s, &err);
    plan(s, &err);
    s->page = (hp_bench_page){
        .subject = {.file = "a/b.yaml",
                    .drive = &s->drive,
                    .labels = &s->labels,
                    .parameters = &s->parameters},
        .words = {.drive = &s->drive, .labels = &s->labels, .plan = hp_planner_params(s->planner)},
        .tree = &s->tree,
        .log = {.text = "log\n",
                .name = "b.bench.yaml",
                .add = "add",
                .ask = "ask",
                .entry_text = entry_text,
                .user = s},
        .survey = &s->survey,
        .first = s->first,
        .pictures = s->pictures,
    };
    *state = s;
    return 0;
}

static int tear_down(void **state)
{
    sample *s = *state;
    hp_plan_tree_free(&s->tree);
    hp_planner_free(s->planner);
    hp_belief_free(&s->belief);
    hp_likelihood_free(&s->table);
    hp_survey_free(&s->survey);
    free(s);
    return 0;
}

static char *write_page(sample *s)
{
    char *text = NULL;
    size_t size = 0;
    hp_error err = hp_error_none();
    FILE *out = open_memstream(&text, &size);
    assert_non_null(out);
    assert_int_equal(hp_bench_page_write(&s->page, out, &err), HP_OK);
    assert_int_equal(fclose(out), 0);
    return text;
}

/* The JSON of a page. */
static json_t *plan_of(const char *html)
{
    const char *open = "<script type=\"application/json\" id=\"plan\">";
    const char *from = strstr(html, open);
    assert_non_null(from);
    from += strlen(open);
    const char *until = strstr(from, "</script>");
    assert_non_null(until);
    json_t *root = json_loadb(from, (size_t)(until - from), 0, NULL);
    assert_non_null(root);
    return root;
}

static size_t number_at(const json_t *array, size_t k)
{
    return (size_t)json_integer_value(json_array_get(array, k));
}

static const char *text_at(const json_t *root, size_t k)
{
    return json_string_value(json_array_get(json_object_get(root, "texts"), k));
}

/* Step and node, and all that follows them, say the same. `joined` as in hp_card_context. */
static int compare(const sample *s, const json_t *root, size_t step, int node, int joined)
{
    const hp_plan_node *n = &s->tree.node[node];
    const json_t *at = json_array_get(json_object_get(root, "steps"), step);
    const json_t *words = json_array_get(json_object_get(root, "words"), number_at(at, 1));
    const json_t *answers = json_array_get(at, 6);
    hp_card_context context = s->page.words;
    hp_card wanted;
    context.present = joined;
    hp_card_make(&context, &n->advice, &wanted);
    assert_string_equal(text_at(root, number_at(words, 0)), wanted.title);
    assert_string_equal(text_at(root, number_at(at, 2)), wanted.reason);
    assert_string_equal(text_at(root, number_at(words, 3)), wanted.safe);
    assert_int_equal(json_array_size(json_array_get(words, 4)), wanted.hows);
    assert_string_equal(text_at(root, number_at(json_array_get(words, 4), 0)), wanted.how[0]);
    assert_int_equal(json_array_size(json_array_get(words, 5)), wanted.hows + 1);
    size_t told[HP_CARD_HOWS + 1] = {0};
    for (int k = 0; k < wanted.cautions; k++) {
        const json_t *here = json_array_get(json_array_get(words, 5), (size_t)wanted.caution_at[k]);
        assert_string_equal(text_at(root, number_at(here, told[wanted.caution_at[k]]++)),
                            wanted.caution[k]);
    }
    assert_int_equal(json_array_size(json_array_get(words, 6)), wanted.hows);
    memset(told, 0, sizeof told);
    for (int k = 0; k < wanted.details; k++) {
        const json_t *here = json_array_get(json_array_get(words, 6), (size_t)wanted.detail_at[k]);
        assert_string_equal(text_at(root, number_at(here, told[wanted.detail_at[k]]++)),
                            wanted.detail[k]);
    }
    assert_int_equal(number_at(at, 5), n->cut);
    assert_int_equal(json_array_size(answers), 2 * n->branches);
    bool tried = n->advice.kind == HP_ADVICE_TRY || n->advice.kind == HP_ADVICE_LOOK;
    int seen = 1;
    for (int k = 0; k < n->branches; k++) {
        hp_showing_words showing;
        hp_showing_words_make(&context, &n->advice, &n->branch[k].showing.entry, &showing);
        size_t found = 0;
        int matches = 0;
        char *log = entry_text((void *)s, &n->branch[k].showing.entry);
        for (size_t j = 0; j < json_array_size(answers); j += 2) {
            const json_t *answer =
                json_array_get(json_object_get(root, "answers"), number_at(answers, j));
            if (strcmp(text_at(root, number_at(answer, 0)), showing.label) != 0 ||
                strcmp(text_at(root, number_at(answer, 2)), log) != 0)
                continue;
            matches++;
            found = number_at(answers, j + 1);
        }
        free(log);
        assert_int_equal(matches, 1);
        seen += compare(s, root, found, n->branch[k].node, tried ? n->advice.number : joined);
    }
    return seen;
}

static void the_plan_says_what_the_tree_says(void **state)
{
    sample *s = *state;
    char *html = write_page(s);
    json_t *root = plan_of(html);
    assert_int_equal(compare(s, root, 0, 0, 0), s->tree.count);
    assert_true(json_array_size(json_object_get(root, "steps")) <= (size_t)s->tree.count);
    json_decref(root);
    free(html);
}

static void nothing_is_held_twice(void **state)
{
    sample *s = *state;
    static const char *const pool[] = {"texts", "words", "answers", "steps"};
    char *html = write_page(s);
    json_t *root = plan_of(html);
    for (size_t p = 0; p < sizeof pool / sizeof pool[0]; p++) {
        const json_t *list = json_object_get(root, pool[p]);
        for (size_t k = 0; k < json_array_size(list); k++)
            for (size_t j = 0; j < k; j++)
                assert_false(json_equal(json_array_get(list, k), json_array_get(list, j)));
    }
    json_decref(root);
    free(html);
}

static void the_same_input_gives_the_same_bytes(void **state)
{
    sample *s = *state;
    char *one = write_page(s), *two = write_page(s);
    assert_string_equal(one, two);
    free(one);
    free(two);
}

static void an_entry_without_memory_is_told(void **state)
{
    sample *s = *state;
    for (int left = 0; left < 40; left += 13) {
        char *text = NULL;
        size_t size = 0;
        hp_error err = hp_error_none();
        FILE *out = open_memstream(&text, &size);
        s->texts_left = left;
        assert_int_equal(hp_bench_page_write(&s->page, out, &err), HP_FAIL_MEMORY);
        fclose(out);
        assert_int_equal(size, 0); /* nothing was begun */
        free(text);
    }
    s->texts_left = -1;
}

static void a_full_disk_is_told(void **state)
{
    sample *s = *state;
    hp_error err = hp_error_none();
    FILE *out = fopen("/dev/full", "w");
    if (!out)
        skip();
    assert_int_equal(hp_bench_page_write(&s->page, out, &err), HP_FAIL_IO);
    fclose(out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_plan_says_what_the_tree_says),
        cmocka_unit_test(nothing_is_held_twice),
        cmocka_unit_test(the_same_input_gives_the_same_bytes),
        cmocka_unit_test(an_entry_without_memory_is_told),
        cmocka_unit_test(a_full_disk_is_told),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
