/*
 * What the simulation says: all 36, why one does what it does, one run in slow motion; with keys of
 * the scenario stated otherwise where the request says so. See face_parts.h.
 */
#include "base/elementary.h"
#include "base/sine.h"
#include "hubphase/base/text.h"
#include "hubphase/report/tables.h"
#include "report/words/explain.h"
#include "web/face_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define POINTS_USUAL 720
#define POINTS_MOST  20000

/* ---- the survey ------------------------------------------------------------------------------ */

/* What a survey is made of, as text. */
static char *basis_of(const hp_web_answer *a)
{
    json_t *pair = json_pack("[O?, O?]", json_object_get(a->request, "changes"),
                             json_object_get(a->request, "starts"));
    char *text = pair ? json_dumps(pair, JSON_COMPACT | JSON_SORT_KEYS) : NULL;
    json_decref(pair);
    return text;
}

hp_result hp_web_read_changed(hp_web *web, hp_web_answer *a, hp_scenario *scenario)
{
    hp_scenario_change *change = NULL;
    int count = 0;
    const hp_problem_ear ear = hp_web_ear(a);
    if (!hp_web_take_stated(a, "changes", &change, &count))
        return HP_FAIL_INPUT;
    hp_result result = hp_scenario_read_changed(web->c->text, strlen(web->c->text), web->c->name,
                                                change, count, scenario, &ear, &a->err);
    free(change);
    return result;
}

/* The lesson's, where it shows the very machine that is asked for: as the scenario states it. */
static const hp_survey *made_already(const hp_web *web, const hp_web_answer *a,
                                     const hp_scenario *scenario)
{
    const hp_lesson *lesson = web->lesson;
    bool as_stated = json_object_size(json_object_get(a->request, "changes")) == 0;
    return lesson && as_stated && !lesson->mended && lesson->survey.starts == scenario->starts
               ? &lesson->survey
               : NULL;
}

static hp_result run_survey(hp_web *web, hp_web_answer *a, hp_scenario *scenario)
{
    int starts = scenario->starts;
    if (!hp_web_take_whole(a, "starts", 1, HP_SURVEY_STARTS_MAX, &starts))
        return HP_FAIL_INPUT;
    scenario->starts = starts;
    const hp_survey *made = made_already(web, a, scenario);
    if (made)
        return hp_survey_copy(made, &web->survey, &a->err);
    hp_survey_options options = hp_scenario_survey_options(scenario);
    options.progress = web->progress;
    options.user = web->user;
    return hp_survey_run(&scenario->drive, &options, &web->survey, &a->err);
}

hp_result hp_web_surveyed(hp_web *web, hp_web_answer *a)
{
    hp_scenario scenario;
    memset(&scenario, 0, sizeof scenario);
    hp_result result = hp_web_want_open(web, a, false);
    if (result != HP_OK)
        return result;
    char *basis = basis_of(a);
    if (!basis)
        return hp_error_set(&a->err, HP_FAIL_MEMORY, "no memory for a survey");
    if (web->surveyed && strcmp(web->surveyed, basis) == 0) {
        free(basis);
        return HP_OK;
    }
    result = hp_web_read_changed(web, a, &scenario);
    if (result == HP_OK) {
        hp_web_forget_survey(web);
        result = run_survey(web, a, &scenario);
    }
    if (result != HP_OK) {
        hp_scenario_free(&scenario);
        free(basis);
        return result;
    }
    web->changed = scenario;
    web->surveyed = basis;
    return HP_OK;
}

static json_t *rows(hp_web_answer *a, const hp_report_row *row)
{
    json_t *array = json_array();
    for (int k = 0; k < HP_WIRING_COUNT; k++) {
        json_t *object = json_object();
        hp_json_set(&a->json, object, "number", json_integer(row[k].number));
        hp_json_set(&a->json, object, "verdict", hp_json_text(hp_verdict_name(row[k].verdict)));
        hp_json_set(&a->json, object, "direction",
                    hp_json_text(hp_direction_name(row[k].direction)));
        hp_json_set(&a->json, object, "kind", hp_json_text(hp_rough_kind_name(row[k].kind)));
        hp_json_set(&a->json, object, "words", hp_json_text(row[k].reason));
        hp_json_append(&a->json, array, object);
    }
    return array;
}

hp_result hp_web_survey(hp_web *web, hp_web_answer *a)
{
    hp_web_stream json = {.text = NULL}, text = {.text = NULL};
    hp_report_row row[HP_WIRING_COUNT];
    int columns;
    if (!hp_web_take_columns(a, &columns))
        return HP_FAIL_INPUT;
    hp_result result = hp_web_surveyed(web, a);
    if (result != HP_OK)
        return result;
    hp_report_case subject = hp_report_case_of(&web->changed);
    hp_report_rows_make(&web->survey, row);
    result = hp_web_stream_begin(&json, &a->err);
    if (result == HP_OK)
        result = hp_survey_json_write(&subject, row, HP_WIRING_COUNT, json.file, &a->err);
    result = hp_web_stream_tell_json(&json, result, a);
    if (result == HP_OK)
        result = hp_web_stream_begin(&text, &a->err);
    if (result == HP_OK) {
        const hp_screen screen = {.file = text.file, .columns = columns, .page = true};
        hp_survey_print(&subject, &web->survey, &screen);
    }
    result = hp_web_stream_tell(&text, "text", result, a);
    if (result == HP_OK)
        hp_web_set(a, "rows", rows(a, row));
    return result;
}

/* ---- one wiring ------------------------------------------------------------------------------ */

hp_result hp_web_want_wiring(hp_web *web, hp_web_answer *a, hp_wiring *wiring)
{
    const json_t *value = json_object_get(a->request, "wiring");
    char number[24];
    hp_error err = hp_error_none();
    const char *text = json_string_value(value);
    if (json_is_integer(value)) {
        snprintf(number, sizeof number, "%lld", (long long)json_integer_value(value));
        text = number;
    }
    if (!text)
        return hp_web_problem(a, "wiring",
                              "wiring is missing, must be a number from 1 to 36 or six leads");
    if (hp_wiring_parse(text, &web->c->scenario.labels, wiring, &err) != HP_OK)
        return hp_web_problem(a, "wiring", "%s", err.text);
    return HP_OK;
}

hp_result hp_web_explain(hp_web *web, hp_web_answer *a)
{
    hp_wiring wiring;
    hp_web_stream text = {.text = NULL};
    int columns;
    hp_result result = hp_web_want_open(web, a, false);
    if (result == HP_OK && !hp_web_take_columns(a, &columns))
        result = HP_FAIL_INPUT;
    if (result == HP_OK)
        result = hp_web_want_wiring(web, a, &wiring);
    if (result == HP_OK)
        result = hp_web_surveyed(web, a);
    if (result == HP_OK)
        result = hp_web_stream_begin(&text, &a->err);
    if (result != HP_OK)
        return result;
    int number = hp_wiring_number(&wiring);
    const hp_judgement *judgement = &web->survey.judgement[number - 1];
    hp_report_case subject = hp_report_case_of(&web->changed);
    const hp_screen screen = {.file = text.file, .columns = columns, .page = true};
    hp_explain_print(&subject, &wiring, &web->survey, &screen);
    result = hp_web_stream_end(&text, &a->err);
    char *sentences = malloc(HP_EXPLAIN_WORDS);
    if (result == HP_OK && sentences) {
        hp_web_set(a, "number", json_integer(number));
        hp_web_set_text(a, "verdict", hp_verdict_name(judgement->verdict));
        hp_web_set_text(a, "text", text.text);
        hp_web_set_text(
            a, "sentences",
            hp_explain_sentences(&subject, &wiring, &web->survey, sentences, HP_EXPLAIN_WORDS));
    }
    if (!sentences)
        result = hp_error_set(&a->err, HP_FAIL_MEMORY, "no memory for an explanation");
    free(sentences);
    hp_web_stream_free(&text);
    return result;
}

/* ---- one run in slow motion ------------------------------------------------------------------ */

/* Direction of the field [deg electrical] from what is driven; null where nothing is, or where it
 * does not turn out as a pair. */
static json_t *field_angle(const hp_sample *s)
{
    double x = 0.0, y = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        x += s->drive[k] * hp_cosine(hp_phase_axis(k));
        y += s->drive[k] * hp_sine(hp_phase_axis(k));
    }
    return x * x + y * y < 0.25 ? json_null()
                                : hp_json_number(hp_angle_wrap(hp_direction_of(y, x)) / HP_DEG);
}

typedef struct columns {
    json_t *time, *angle, *wheel, *field, *torque, *battery, *code;
    json_t *current[HP_PHASE_COUNT], *driven[HP_PHASE_COUNT];
} columns;

static void add_sample(hp_web_answer *a, const columns *c, const hp_sample *s)
{
    hp_json *json = &a->json;
    hp_json_append(json, c->time, hp_json_number(s->time));
    hp_json_append(json, c->angle, hp_json_number(s->theta / HP_DEG));
    hp_json_append(json, c->wheel, hp_json_number(s->wheel_speed / HP_RPM));
    hp_json_append(json, c->field, field_angle(s));
    hp_json_append(json, c->torque, hp_json_number(s->torque));
    hp_json_append(json, c->battery, hp_json_number(s->battery_current));
    hp_json_append(json, c->code, json_integer(s->code));
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        hp_json_append(json, c->current[k], hp_json_number(s->current[k]));
        hp_json_append(json, c->driven[k], json_integer(s->drive[k]));
    }
}

static json_t *three(hp_web_answer *a, json_t *const array[HP_PHASE_COUNT])
{
    json_t *object = json_array();
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        hp_json_append(&a->json, object, array[k]);
    return object;
}

static void set_samples(hp_web_answer *a, const hp_trace *trace)
{
    columns c = {json_array(), json_array(), json_array(), json_array(), json_array(),
                 json_array(), json_array(), {NULL},       {NULL}};
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        c.current[k] = json_array();
        c.driven[k] = json_array();
    }
    for (size_t k = 0; k < trace->count; k++)
        add_sample(a, &c, &trace->sample[k]);
    hp_web_set(a, "time_s", c.time);
    hp_web_set(a, "angle_deg", c.angle);
    hp_web_set(a, "wheel_rpm", c.wheel);
    hp_web_set(a, "field_deg", c.field);
    hp_web_set(a, "torque_nm", c.torque);
    hp_web_set(a, "battery_a", c.battery);
    hp_web_set(a, "code", c.code);
    hp_web_set(a, "current_a", three(a, c.current));
    hp_web_set(a, "driven", three(a, c.driven));
}

/* Runs once to see which stretch shows something, unless the request says, then with a trace. A run
 * that breaks off is told with what it did until then. */
static hp_result run_traced(const hp_scenario *s, const hp_wiring *wiring,
                            const hp_run_options *run, double from, double until, int points,
                            hp_trace *trace, hp_figures *figures, hp_error *err)
{
    hp_engine *engine = hp_engine_create(err);
    hp_result result = engine ? HP_OK : HP_FAIL_MEMORY;
    if (result == HP_OK && !(until > from))
        result = hp_engine_run(engine, &s->drive, wiring, run, NULL, figures, err);
    if (result == HP_OK && !(until > from))
        hp_wave_window(run, s->drive.motor.pole_pairs, figures, &from, &until);
    if (result == HP_OK) {
        *trace = hp_trace_init(from, until, (until - from) / points);
        result = hp_engine_run(engine, &s->drive, wiring, run, trace, figures, err);
    }
    hp_engine_free(engine);
    return result;
}

hp_result hp_web_trace(hp_web *web, hp_web_answer *a)
{
    hp_wiring wiring;
    hp_scenario scenario;
    hp_trace trace = {.count = 0};
    hp_figures figures;
    double degrees = hp_rest_angle(0) / HP_DEG, from = 0.0, until = 0.0;
    int points = POINTS_USUAL;
    memset(&scenario, 0, sizeof scenario);
    memset(&figures, 0, sizeof figures);
    hp_result result = hp_web_want_open(web, a, false);
    if (result == HP_OK)
        result = hp_web_want_wiring(web, a, &wiring);
    if (result == HP_OK)
        result = hp_web_read_changed(web, a, &scenario);
    if (result != HP_OK)
        return result;
    hp_run_options run = scenario.run;
    bool good = hp_web_take_number(a, "start_deg", -360.0, 360.0, &degrees);
    good = hp_web_take_number(a, "from_s", 0.0, run.seconds, &from) && good;
    good = hp_web_take_number(a, "until_s", 0.0, run.seconds, &until) && good;
    good = hp_web_take_whole(a, "points", 2, POINTS_MOST, &points) && good;
    run.start_angle = hp_angle_wrap(degrees * HP_DEG);
    result =
        good ? run_traced(&scenario, &wiring, &run, from, until, points, &trace, &figures, &a->err)
             : HP_FAIL_INPUT;
    if (result == HP_OK) {
        hp_thresholds limits = hp_thresholds_default();
        hp_judgement judgement = hp_verdict_judge(&figures, 1, &limits);
        hp_report_row row = hp_report_row_make(hp_wiring_number(&wiring), &judgement);
        set_samples(a, &trace);
        hp_web_set(a, "number", json_integer(row.number));
        hp_web_set(a, "start_deg", hp_json_number(run.start_angle / HP_DEG));
        hp_web_set(a, "pole_pairs", json_integer(scenario.drive.motor.pole_pairs));
        hp_web_set(a, "wheel_speed_rpm", hp_json_number(row.wheel_speed_rpm));
        hp_web_set(a, "battery_current_a", hp_json_number(row.battery_current_a));
        hp_web_set(a, "torque_mean_nm", hp_json_number(row.torque_mean_nm));
        hp_web_set(a, "phase_peak_a", hp_json_number(row.phase_peak_a));
    }
    hp_trace_free(&trace);
    hp_scenario_free(&scenario);
    return result;
}
