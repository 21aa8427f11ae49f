/*
 * Out of memory in plan on paper, sheet and the advice's JSON: the k-th allocation of our own code,
 * or of jansson for it, fails, for every k there is. The failure is told, what was given in stays
 * as it was, and nothing leaks (the sanitizer build sees that). Cairo and PLplot keep the real
 * functions.
 */
#include "failing_memory.h"

#include "decide/reading/reading_list.h"
#include "default_table.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "report/paper/plan_list.h"
#include "report/picture/pen.h"
#include "report/sheet/sheet_html.h"
#include "report/sheet/sheet_pdf.h"
#include "report/words/advice_report.h"

typedef struct bench {
    hp_drive drive;
    hp_labels labels;
    hp_parameters parameters;
    hp_likelihood table;
    hp_person person;
    hp_plan_params params;
    hp_belief belief;
    hp_planner *planner;
    hp_report_case subject;
    hp_card_context words;
    hp_error err;
} bench;

static void open_bench(bench *b)
{
    hp_prior_params prior = hp_prior_default();
    memset(b, 0, sizeof *b);
    b->drive = hp_drive_default();
    b->labels = hp_labels_default();
    b->person = hp_person_default();
    b->params = hp_plan_params_default();
    b->params.throttle = 0.35;
    b->table = default_table();
    check_int(hp_belief_create(&b->table, &b->person, &prior, &b->belief, &b->err), HP_OK);
    b->planner = hp_planner_create(&b->table, &b->person, &b->params, &b->err);
    assert_non_null(b->planner);
    b->subject = (hp_report_case){
        .file = "a/b.yaml", .drive = &b->drive, .labels = &b->labels, .parameters = &b->parameters};
    b->words = (hp_card_context){.drive = &b->drive, .labels = &b->labels, .plan = &b->params};
}

static void close_bench(bench *b)
{
    hp_planner_free(b->planner);
    hp_belief_free(&b->belief);
    hp_likelihood_free(&b->table);
}

/* ---- the plan on paper ----------------------------------------------------------------------- */

static hp_result write_list(void *user, hp_error *err)
{
    FILE *out = open_sum();
    hp_result result = hp_plan_list_put(user, out, err);
    fclose(out);
    return result;
}

static void the_plan_on_paper_without_memory(void **state)
{
    (void)state;
    bench b;
    hp_plan_tree tree;
    hp_plan_tree_options options = hp_plan_tree_options_default();
    open_bench(&b);
    options.nodes_max = 14;
    check_int(hp_plan_tree_build(b.planner, &b.belief, &options, &tree, &b.err), HP_OK);
    check_true(tree.count > 3, "a tree of %d", tree.count);
    hp_plan_list list = {.subject = b.subject, .words = b.words, .tree = &tree};
    long count = fail_every_allocation(write_list, NULL, &list);
    check_true(count > 500, "only %ld allocations", count);
    hp_plan_tree_free(&tree);
    close_bench(&b);
}

/* ---- JSON of the advice ---------------------------------------------------------------------- */

static hp_result write_json(void *user, hp_error *err)
{
    FILE *out = open_sum();
    hp_result result = hp_advice_json_write(user, out, err);
    fclose(out);
    return result;
}

static void the_json_of_an_advice_without_memory(void **state)
{
    (void)state;
    bench b;
    hp_advice advice;
    hp_standing standing;
    hp_standing_course course;
    static hp_showing showing[HP_SHOWING_MAX];
    double slip[1] = {0.2};
    hp_entry e = hp_entry_make(&hp_reading_pins, 1);
    open_bench(&b);
    check_int(hp_belief_add(&b.belief, &e, &b.err), HP_OK);
    check_int(hp_plan_next(b.planner, &b.belief, true, &advice, &b.err), HP_OK);
    check_int(hp_standing_fill(&b.belief, 0, &standing, &b.err), HP_OK);
    check_int(hp_standing_course_make(&b.belief, 0.02, &course, &b.err), HP_OK);
    hp_advice_report report = {.subject = &b.subject,
                               .context = &b.words,
                               .belief = &b.belief,
                               .advice = &advice,
                               .standing = &standing,
                               .log_file = "b.bench.yaml",
                               .log_line = "hubphase\0log\0",
                               .slip = slip,
                               .showing = showing,
                               .showings =
                                   hp_plan_showings(b.planner, &b.belief, &advice, 0.1, showing),
                               .course = &course};
    long count = fail_every_allocation(write_json, NULL, &report);
    check_true(count > 500, "only %ld allocations", count);
    hp_standing_course_free(&course);
    close_bench(&b);
}

/* ---- pictures -------------------------------------------------------------------------------- */

/* Every kind of stroke, and curves enough to make the path grow. */
static void paint_strokes(const hp_canvas *canvas, const void *data)
{
    hp_axes axes = {.box = {0.0, 0.0, 100.0, 100.0}, .x_max = 100.0, .y_max = 1.0};
    hp_type type = {14.0, HP_INK_BLACK, HP_ALIGN_LEFT, false};
    double x[100], y[100];
    (void)data;
    for (int k = 0; k < 100; k++) {
        x[k] = k;
        y[k] = k % 2;
    }
    hp_pen_fill(canvas, axes.box, HP_INK_PALE);
    hp_pen_text(canvas, 10.0, 10.0, type, "words");
    for (int dash = 0; dash < HP_DASH_COUNT; dash++)
        hp_pen_curve(canvas, &axes, x, y, 100, HP_INK_BLUE, 1.0, (hp_dash)dash);
    hp_pen_line(canvas, 0.0, 0.0, 100.0, 100.0, HP_INK_BLACK, 2.0);
}

static hp_result render_svg(void *user, hp_error *err)
{
    hp_paper page = {.width = 100.0, .height = 100.0, .title = "strokes"};
    char *bytes = NULL;
    size_t size = 0;
    (void)user;
    hp_result result =
        hp_canvas_render(HP_PICTURE_SVG, &page, paint_strokes, NULL, &bytes, &size, err);
    FILE *out = open_sum();
    if (result == HP_OK)
        fwrite(bytes, 1, size, out);
    fclose(out);
    check_true(result == HP_OK || !bytes, "bytes of a picture that failed");
    free(bytes);
    return result;
}

static void a_picture_without_memory(void **state)
{
    (void)state;
    long count = fail_every_allocation(render_svg, NULL, NULL);
    check_true(count >= 6, "only %ld allocations", count); /* its text, the path, four curves */
}

/* ---- sheet ----------------------------------------------------------------------------------- */

static hp_result write_html(void *user, hp_error *err)
{
    FILE *out = open_sum();
    hp_result result = hp_sheet_html_write(user, out, err);
    fclose(out);
    return result;
}

static hp_result render_pdf(void *user, hp_error *err)
{
    char *bytes = NULL;
    size_t size = 0;
    hp_result result = hp_sheet_pdf_render(user, &bytes, &size, err);
    FILE *out = open_sum();
    if (result == HP_OK)
        fwrite(bytes, 1, size, out);
    fclose(out);
    free(bytes);
    return result;
}

static void the_sheet_without_memory(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    hp_labels labels = hp_labels_default();
    hp_parameters parameters = {0};
    hp_person person = hp_person_default();
    hp_prior_params prior = hp_prior_default();
    static hp_harness harness;
    static hp_wiring_sheet sheet;
    static hp_sheet_plug plug;
    hp_entry e = hp_entry_make(&hp_reading_trial, 1);
    e.trial.motion = HP_MOVED_FORWARD;
    e.trial.feel = HP_FEEL_SMOOTH;
    snprintf(plug.name, sizeof plug.name, "motor");
    hp_sheet_plug_add(&plug, "1", "phase U");
    hp_sheet_plug_arrange(&plug);
    hp_sheet_source source = {.drive = &drive,
                              .labels = &labels,
                              .harness = &harness,
                              .parameters = &parameters,
                              .log = "b.bench.yaml",
                              .entry = &e,
                              .entries = 1,
                              .plug = &plug,
                              .plugs = 1,
                              .person = &person,
                              .prior = &prior};
    hp_wiring_sheet_make(&source, &sheet);
    long count = fail_every_allocation(write_html, NULL, &sheet);
    check_true(count >= 6, "only %ld allocations", count); /* three pictures: text and path */
    count = fail_every_allocation(render_pdf, NULL, &sheet);
    check_true(count >= 2, "only %ld allocations", count); /* the bytes, as they grow */
}

int main(void)
{
    fail_in_json();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_plan_on_paper_without_memory),
        cmocka_unit_test(the_json_of_an_advice_without_memory),
        cmocka_unit_test(a_picture_without_memory),
        cmocka_unit_test(the_sheet_without_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
