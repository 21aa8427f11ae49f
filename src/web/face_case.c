/* What is open: scenario, log, table. See face_parts.h. */
#include "decide/reading/running.h"
#include "hubphase/base/text.h"
#include "hubphase/report/pictures.h"
#include "record/case/case_parts.h"
#include "record/log/bench_log_parts.h"
#include "report/picture/lead_tint.h"
#include "report/words/case_card.h"
#include "web/face_parts.h"

#include <stdlib.h>
#include <string.h>

#define USUAL_NAME "machine.yaml" /* of a scenario that has none */

void hp_web_case_free(hp_web_case *c)
{
    if (!c)
        return;
    hp_case_free(c->bench);
    hp_bench_log_free(&c->entries);
    hp_scenario_free(&c->scenario);
    free(c->name);
    free(c->text);
    free(c->log);
    free(c->log_name);
    free(c->table);
    free(c);
}

void hp_web_forget_report(hp_web *web)
{
    hp_case_report_free(web->report);
    web->report = NULL;
}

void hp_web_forget(hp_web *web)
{
    hp_web_forget_report(web);
    hp_web_forget_survey(web);
    hp_web_forget_spread(web);
}

void hp_web_forget_survey(hp_web *web)
{
    hp_survey_free(&web->survey);
    hp_scenario_free(&web->changed);
    memset(&web->survey, 0, sizeof web->survey);
    free(web->surveyed);
    web->surveyed = NULL;
}

hp_result hp_web_want_open(hp_web *web, hp_web_answer *a, bool bench)
{
    if (!web->c)
        return hp_error_set(&a->err, HP_FAIL_INPUT, "no case is open");
    if (bench && web->c->no_advice[0])
        return hp_error_set(&a->err, HP_FAIL_INPUT, "%s", web->c->no_advice);
    if (bench && !web->c->bench)
        return hp_error_set(&a->err, HP_FAIL_INPUT, "the case's table is not there yet");
    return HP_OK;
}

/* ---- opening --------------------------------------------------------------------------------- */

static hp_result copy(char **to, const char *text, hp_error *err)
{
    *to = text ? strdup(text) : NULL;
    return text && !*to ? hp_error_set(err, HP_FAIL_MEMORY, "no memory for a case") : HP_OK;
}

/* A log of nothing is the head of one. */
static hp_result log_text(const hp_web_case *c, char **text, hp_error *err)
{
    *text = c->log ? strdup(c->log) : hp_bench_log_head_text(&c->scenario);
    return *text ? HP_OK : hp_error_set(err, HP_FAIL_MEMORY, "no memory for a log");
}

static hp_result read_entries(hp_web_case *c, hp_web_answer *a)
{
    char path[HP_BENCH_PATH_SIZE];
    const hp_problem_ear ear = hp_web_ear(a);
    hp_result result = hp_bench_log_path(c->name, NULL, path, sizeof path, &a->err);
    if (result != HP_OK || !c->log)
        return result;
    return hp_bench_log_read_heard(c->log, strlen(c->log), c->log_name ? c->log_name : path,
                                   &c->scenario, &c->entries, &ear, &a->err);
}

/* The case with its table, where that is there or may be built. */
static hp_result open_bench(hp_web_case *c, bool build, const hp_web *web, hp_error *err)
{
    char *text = NULL;
    hp_case_options options = hp_case_options_default();
    hp_result result = log_text(c, &text, err);
    options.log_text = text;
    options.table = c->table;
    options.ready_only = !build;
    options.progress = web->progress;
    options.progress_user = web->user;
    if (result == HP_OK) {
        c->bench = hp_case_create(&c->scenario, &options, err);
        result = c->bench ? HP_OK : err->code;
    }
    free(text);
    /* The log was read before: what is wrong is that no advice can be given for the scenario. */
    if (result == HP_FAIL_INPUT)
        snprintf(c->no_advice, sizeof c->no_advice, "%s", err->text);
    if (result == HP_FAIL_INPUT || (result == HP_FAIL_CANCELLED && !build)) {
        *err = hp_error_none();
        return HP_OK;
    }
    return result;
}

/* Reads everything; on failure what was read is freed. */
static hp_result load(hp_web_case *c, const hp_web *web, hp_web_answer *a)
{
    const hp_problem_ear ear = hp_web_ear(a);
    hp_result result = hp_scenario_read_changed(c->text, strlen(c->text), c->name, NULL, 0,
                                                &c->scenario, &ear, &a->err);
    if (result == HP_OK)
        result = read_entries(c, a);
    if (result == HP_OK)
        result = open_bench(c, false, web, &a->err);
    return result;
}

/* ---- telling --------------------------------------------------------------------------------- */

static json_t *leads(hp_web_answer *a, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE])
{
    json_t *array = json_array();
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        const char axis[] = {hp_phase_letter(k), '\0'}, *tint = hp_lead_tint(label[k]);
        json_t *object = json_object();
        hp_json_set(&a->json, object, "axis", hp_json_text(axis));
        hp_json_set(&a->json, object, "label", hp_json_text(label[k]));
        hp_json_set(&a->json, object, "tint", tint ? hp_json_text(tint) : json_null());
        hp_json_append(&a->json, array, object);
    }
    return array;
}

static json_t *machine(hp_web_answer *a, const hp_scenario *s)
{
    json_t *object = json_object(), *lead = json_object();
    const hp_drive *d = &s->drive;
    hp_json_set(&a->json, lead, "phase", leads(a, s->labels.motor_lead));
    hp_json_set(&a->json, lead, "sensor", leads(a, s->labels.motor_sensor));
    hp_json_set(&a->json, lead, "output", leads(a, s->labels.controller_output));
    hp_json_set(&a->json, lead, "input", leads(a, s->labels.controller_input));
    hp_json_set(&a->json, object, "name", hp_json_text(s->labels.machine));
    hp_json_set(&a->json, object, "motor", hp_json_text(s->labels.motor));
    hp_json_set(&a->json, object, "controller", hp_json_text(s->labels.controller));
    hp_json_set(&a->json, object, "about", s->about ? hp_json_text(s->about) : json_null());
    hp_json_set(&a->json, object, "leads", lead);
    hp_json_set(&a->json, object, "leads_known", json_boolean(s->labels.axes_known));
    hp_json_set(&a->json, object, "throttle_percent",
                hp_json_number(100.0 * d->controller.throttle));
    hp_json_set(&a->json, object, "battery_v", hp_json_number(d->supply.emf_v));
    hp_json_set(&a->json, object, "pole_pairs", json_integer(d->motor.pole_pairs));
    hp_json_set(&a->json, object, "gear_ratio", hp_json_number(d->stand.gear_ratio));
    hp_json_set(&a->json, object, "clutch", json_boolean(d->stand.clutch));
    return object;
}

/* `of`: what alone reckons with them; NULL: the simulation. */
static void add_parameters(hp_web_answer *a, json_t *array, const hp_parameters *list,
                           const char *of)
{
    for (size_t k = 0; k < list->count; k++) {
        const hp_parameter *p = &list->item[k];
        json_t *object = json_object();
        hp_json_set(&a->json, object, "key", hp_json_text(p->key));
        hp_json_set(&a->json, object, "value", hp_json_text(p->value));
        hp_json_set(&a->json, object, "number", hp_json_number(p->number));
        hp_json_set(&a->json, object, "origin", hp_json_text(hp_origin_name(p->origin)));
        hp_json_set(&a->json, object, "line", json_integer(p->line));
        hp_json_set(&a->json, object, "why", hp_json_text(p->why));
        hp_json_set(&a->json, object, "of", of ? hp_json_text(of) : json_null());
        hp_json_append(&a->json, array, object);
    }
}

static json_t *parameters(hp_web_answer *a, const hp_scenario *s)
{
    json_t *array = json_array();
    add_parameters(a, array, &s->parameters, NULL);
    add_parameters(a, array, &s->controls_parameters, "controls");
    add_parameters(a, array, &s->fit_parameters, "fit");
    return array;
}

const hp_plan_params *hp_web_plan(const hp_web_case *c)
{
    return c->bench ? hp_case_plan(c->bench) : &c->scenario.bench.plan;
}

/* What the words of entries need, without a case. */
static hp_card_context bare_context(const hp_web_case *c)
{
    return (hp_card_context){.drive = &c->scenario.drive,
                             .labels = &c->scenario.labels,
                             .plan = hp_web_plan(c),
                             .plug = hp_bench_log_plug(&c->entries)};
}

/* What an entry leaves out, while nothing later takes it back; NULL: nothing. */
static const hp_reading *leaves_out(const hp_bench_log *log, int at)
{
    const hp_reading *left = hp_entry_leaves_out(&log->entry[at].entry);
    for (int k = at + 1; left && k < log->count; k++)
        if (log->entry[k].entry.reading == left ||
            hp_entry_leaves_out(&log->entry[k].entry) == left)
            left = NULL;
    return left;
}

static json_t *entry_object(hp_web_answer *a, const hp_web_case *c, int at)
{
    const hp_bench_entry *e = &c->entries.entry[at];
    const hp_reading *left = leaves_out(&c->entries, at);
    char words[HP_ENTRY_WORDS];
    const hp_card_context context = bare_context(c);
    const hp_question_case given = {
        .drive = &c->scenario.drive, .labels = &c->scenario.labels, .plan = hp_web_plan(c)};
    json_t *object = json_object();
    hp_json_set(&a->json, object, "number", json_integer(e->entry.number));
    hp_json_set(&a->json, object, "kind", hp_json_text(hp_reading_name(e->entry.reading)));
    hp_json_set(&a->json, object, "title", hp_json_text(hp_reading_title(e->entry.reading)));
    hp_json_set(&a->json, object, "words",
                hp_json_text(hp_entry_words(&context, &e->entry, words, sizeof words)));
    hp_json_set(&a->json, object, "time", hp_json_text(e->time));
    hp_json_set(&a->json, object, "note", hp_json_text(e->note));
    hp_json_set(&a->json, object, "typical", json_boolean(e->entry.typical));
    hp_json_set(&a->json, object, "leaves_out",
                left ? hp_json_text(hp_reading_name(left)) : json_null());
    hp_json_set(&a->json, object, "values", hp_web_values(a, &given, e));
    return object;
}

void hp_web_set_log(hp_web *web, hp_web_answer *a)
{
    char path[HP_BENCH_PATH_SIZE];
    json_t *array = json_array();
    hp_result result = hp_bench_log_path(web->c->name, NULL, path, sizeof path, NULL);
    for (int k = 0; k < web->c->entries.count; k++)
        hp_json_append(&a->json, array, entry_object(a, web->c, k));
    hp_web_set_text(a, "log", web->c->log);
    hp_web_set_text(a, "log_name", result == HP_OK ? path : "");
    hp_web_set(a, "entries", array);
}

static hp_result set_table(hp_web *web, hp_web_answer *a)
{
    static const char *const origin[] = {"shipped", "given", "built"};
    char key[HP_TABLE_KEY];
    hp_result result = hp_case_table_key(&web->c->scenario, key, &a->err);
    if (result == HP_OK)
        hp_web_set_text(a, "key", key);
    hp_web_set_text(a, "table",
                    web->c->no_advice[0] ? "none"
                    : web->c->bench      ? origin[hp_case_table(web->c->bench)]
                                         : "wanted");
    hp_web_set_text(a, "no_advice", web->c->no_advice[0] ? web->c->no_advice : NULL);
    return result;
}

/* What makes it slow to simulate, a line each; null where nothing does. */
static hp_result set_slow(hp_web_answer *a, const hp_scenario *scenario)
{
    hp_web_stream out = {.text = NULL};
    hp_web_set_text(a, "slow", NULL);
    if (!hp_scenario_is_slow(scenario))
        return HP_OK;
    hp_result result = hp_web_stream_begin(&out, &a->err);
    if (result == HP_OK)
        hp_scenario_tell_slow(scenario, out.file);
    return hp_web_stream_tell(&out, "slow", result, a);
}

static hp_result set_case(hp_web *web, hp_web_answer *a)
{
    hp_result result = set_slow(a, &web->c->scenario);
    if (result != HP_OK)
        return result;
    hp_web_set_text(a, "name", web->c->name);
    hp_web_set(a, "machine", machine(a, &web->c->scenario));
    hp_web_set(a, "parameters", parameters(a, &web->c->scenario));
    hp_web_set_log(web, a);
    return set_table(web, a);
}

/* ---- requests -------------------------------------------------------------------------------- */

/* What the request opens, copied. */
static hp_result take_case(hp_web_case *c, hp_web_answer *a)
{
    const char *name = NULL, *text = NULL, *log = NULL, *log_name = NULL, *table = NULL;
    bool good = hp_web_take_text(a, "name", &name);
    good = hp_web_want_text(a, "scenario", &text) && good;
    good = hp_web_take_text(a, "log", &log) && good;
    good = hp_web_take_text(a, "log_name", &log_name) && good;
    good = hp_web_take_text(a, "table", &table) && good;
    if (!good)
        return HP_FAIL_INPUT;
    hp_result result = copy(&c->name, name && name[0] ? name : USUAL_NAME, &a->err);
    if (result == HP_OK)
        result = copy(&c->text, text, &a->err);
    if (result == HP_OK)
        result = copy(&c->log, log, &a->err);
    if (result == HP_OK && log_name && log_name[0])
        result = copy(&c->log_name, log_name, &a->err);
    if (result == HP_OK)
        result = copy(&c->table, table, &a->err);
    return result;
}

/* What was open stays open when that fails. */
hp_result hp_web_open(hp_web *web, hp_web_answer *a)
{
    hp_web_case *c = calloc(1, sizeof *c);
    if (!c)
        return hp_error_set(&a->err, HP_FAIL_MEMORY, "no memory for a case");
    hp_result result = take_case(c, a);
    if (result == HP_OK)
        result = load(c, web, a);
    if (result != HP_OK) {
        hp_web_case_free(c);
        return result;
    }
    hp_web_forget(web);
    hp_web_forget_lesson(web);
    hp_web_case_free(web->c);
    web->c = c;
    /* From now on the log is the case's own. */
    free(c->log_name);
    c->log_name = NULL;
    return set_case(web, a);
}

/* Whether a text says that it is a scenario or a log. */
hp_result hp_web_sort(hp_web *web, hp_web_answer *a)
{
    static const char *const name[] = {
        [HP_FILE_OTHER] = NULL, [HP_FILE_SCENARIO] = "scenario", [HP_FILE_LOG] = "log"};
    const char *text;
    hp_file_sort sort;
    (void)web;
    if (!hp_web_want_text(a, "text", &text))
        return HP_FAIL_INPUT;
    hp_result result = hp_file_sort_find(text, strlen(text), &sort, &a->err);
    if (result == HP_OK)
        hp_web_set_text(a, "sort", name[sort]);
    return result;
}

/* The open log for a scenario that calls leads, or the machine, otherwise. */
hp_result hp_web_rename(hp_web *web, hp_web_answer *a)
{
    const char *text;
    char *renamed = NULL;
    hp_scenario fresh;
    const hp_problem_ear ear = hp_web_ear(a);
    memset(&fresh, 0, sizeof fresh);
    hp_result result = hp_web_want_open(web, a, false);
    if (result == HP_OK && !hp_web_want_text(a, "scenario", &text))
        result = HP_FAIL_INPUT;
    if (result == HP_OK)
        result = hp_scenario_read_changed(text, strlen(text), web->c->name, NULL, 0, &fresh, &ear,
                                          &a->err);
    if (result == HP_OK && web->c->log)
        result = hp_bench_log_rename_text(web->c->log, &web->c->scenario, &fresh, &renamed, NULL,
                                          &a->err);
    if (result == HP_OK)
        hp_web_set_text(a, "log", renamed);
    hp_scenario_free(&fresh);
    free(renamed);
    return result;
}

/* Builds the table, unless it is there. */
hp_result hp_web_table(hp_web *web, hp_web_answer *a)
{
    hp_web_stream text;
    hp_result result = hp_web_want_open(web, a, false);
    if (result == HP_OK && !web->c->bench && !web->c->no_advice[0])
        result = open_bench(web->c, true, web, &a->err);
    if (result == HP_OK)
        result = hp_web_want_open(web, a, true);
    if (result != HP_OK)
        return result;
    result = hp_web_stream_begin(&text, &a->err);
    if (result == HP_OK)
        result = hp_case_table_write(web->c->bench, text.file, &a->err);
    result = hp_web_stream_tell(&text, "text", result, a);
    return result == HP_OK ? set_table(web, a) : result;
}

hp_result hp_web_take_log(hp_web *web, hp_web_answer *a, char *log)
{
    char *old = web->c->log;
    hp_bench_log entries = web->c->entries;
    web->c->log = log;
    memset(&web->c->entries, 0, sizeof web->c->entries);
    hp_result result = read_entries(web->c, a);
    if (result == HP_OK) {
        hp_web_forget_report(web);
        result = hp_case_reload_text(web->c->bench, log, &a->err);
    }
    if (result == HP_OK) {
        hp_bench_log_free(&entries);
        free(old);
        hp_web_set_log(web, a);
        return HP_OK;
    }
    hp_bench_log_free(&web->c->entries);
    web->c->entries = entries;
    web->c->log = old;
    free(log);
    log = NULL;
    if (log_text(web->c, &log, NULL) == HP_OK)
        hp_case_reload_text(web->c->bench, log, NULL);
    free(log);
    return result;
}

static json_t *kinds(hp_web_answer *a)
{
    json_t *array = json_array();
    for (int k = 0; hp_readings[k]; k++) {
        const char *menu = hp_reading_menu(hp_readings[k]);
        json_t *object = json_object();
        hp_json_set(&a->json, object, "kind", hp_json_text(hp_reading_name(hp_readings[k])));
        hp_json_set(&a->json, object, "title", hp_json_text(hp_reading_title(hp_readings[k])));
        hp_json_set(&a->json, object, "menu", menu ? hp_json_text(menu) : json_null());
        hp_json_append(&a->json, array, object);
    }
    return array;
}

static json_t *pictures(hp_web_answer *a)
{
    static const struct {
        unsigned bit;
        const char *word;
    } needs[] = {
        {HP_NEEDS_SURVEY, "survey"}, {HP_NEEDS_SPREAD, "spread"},     {HP_NEEDS_NUMBER, "wiring"},
        {HP_NEEDS_TRACE, "trace"},   {HP_NEEDS_EXAMPLES, "examples"}, {HP_NEEDS_STEP, "step"},
        {HP_NEEDS_PLUG, "plug"},     {HP_NEEDS_FIT, "fit"},           {HP_NEEDS_COURSE, "course"}};
    json_t *array = json_array();
    for (int k = 0; k < hp_picture_count; k++) {
        json_t *object = json_object(), *list = json_array();
        for (size_t j = 0; j < sizeof needs / sizeof needs[0]; j++)
            if (hp_pictures[k]->needs & needs[j].bit)
                hp_json_append(&a->json, list, hp_json_text(needs[j].word));
        hp_json_set(&a->json, object, "name", hp_json_text(hp_pictures[k]->name));
        hp_json_set(&a->json, object, "question", hp_json_text(hp_pictures[k]->question));
        hp_json_set(&a->json, object, "needs", list);
        hp_json_append(&a->json, array, object);
    }
    return array;
}

hp_result hp_web_about(hp_web *web, hp_web_answer *a)
{
    json_t *shapes = json_array();
    (void)web;
    for (int k = 0; k < HP_SHAPE_COUNT; k++)
        hp_json_append(&a->json, shapes, hp_json_text(hp_shape_name((hp_shape)k)));
    hp_web_set_text(a, "version", hp_version());
    hp_web_set_text(a, "cautions", hp_cautions_text());
    hp_web_set(a, "kinds", kinds(a));
    hp_web_set(a, "pictures", pictures(a));
    hp_web_set(a, "shapes", shapes);
    return HP_OK;
}
