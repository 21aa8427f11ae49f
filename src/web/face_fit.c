/*
 * Whether the parts go together, and what the machine does on the road; with keys of the scenario
 * stated otherwise where the request says so. See face_parts.h.
 */
#include "hubphase/decide/fit.h"
#include "hubphase/report/pictures.h"
#include "hubphase/report/tables.h"
#include "report/words/fit_words.h"
#include "web/essential_list.h"
#include "web/face_parts.h"

#include <stdlib.h>
#include <string.h>

#define WORDS 700

/* What a fit is made of and drawn as. */
typedef struct request {
    hp_scenario scenario;
    hp_fit *fit; /* owned */
    hp_shape shape;
    int columns;
} request;

static hp_result take(hp_web *web, hp_web_answer *a, request *r)
{
    int starts = 0;
    bool good = hp_web_take_columns(a, &r->columns);
    good = hp_web_take_shape(a, &r->shape) && good;
    good = hp_web_take_whole(a, "starts", 1, HP_SURVEY_STARTS_MAX, &starts) && good;
    hp_result result = good ? hp_web_read_changed(web, a, &r->scenario) : HP_FAIL_INPUT;
    if (result == HP_OK && starts > 0)
        r->scenario.starts = starts;
    return result;
}

static hp_result reckon(hp_web *web, hp_web_answer *a, request *r)
{
    const hp_scenario *scenario = &r->scenario;
    hp_fit_given given = hp_scenario_fit_given(scenario);
    given.survey.progress = web->progress;
    given.survey.user = web->user;
    r->fit = malloc(sizeof *r->fit);
    if (!r->fit)
        return hp_error_set(&a->err, HP_FAIL_MEMORY, "no memory for a fit");
    return hp_fit_run(&given, r->fit, &a->err);
}

/* A gap as the form calls it: nobody at the page has seen a key. */
static const char *form_name(int bit)
{
    const char *key = hp_fit_lack_key(bit);
    const hp_web_essential *field = key ? hp_web_essential_find(key) : NULL;
    return field ? field->label : key;
}

/* The keys that would make a line known, as the form calls them. */
static json_t *lacks(hp_web_answer *a, const hp_fit_line *line)
{
    json_t *array = json_array();
    for (int bit = 0; bit < HP_FIT_LACKS_BITS; bit++) {
        const char *key = line->missing & (1u << bit) ? hp_fit_lack_key(bit) : NULL;
        const hp_web_essential *field = key ? hp_web_essential_find(key) : NULL;
        json_t *object = field ? json_object() : NULL;
        if (!object)
            continue;
        hp_json_set(&a->json, object, "key", hp_json_text(key));
        hp_json_set(&a->json, object, "label", hp_json_text(field->label));
        hp_json_append(&a->json, array, object);
    }
    return array;
}

static json_t *lines(hp_web_answer *a, const request *r)
{
    json_t *array = json_array();
    for (int k = 0; k < HP_FIT_RULE_COUNT; k++) {
        const hp_fit_line *line = &r->fit->line[k];
        const hp_fit_rule_words *words = hp_fit_words_of(line->rule);
        json_t *object = json_object();
        char text[WORDS];
        hp_json_set(&a->json, object, "rule", hp_json_text(words->name));
        hp_json_set(&a->json, object, "state", hp_json_text(hp_fit_state_name(line->state)));
        hp_json_set(&a->json, object, "title", hp_json_text(words->title));
        hp_json_set(&a->json, object, "figures",
                    hp_json_text(hp_fit_figures_text(line, text, sizeof text)));
        hp_json_set(&a->json, object, "advice",
                    hp_json_text(hp_fit_advice_text(r->fit, line, &r->scenario.labels, form_name,
                                                    text, sizeof text)));
        hp_json_set(&a->json, object, "reason", hp_json_text(words->rule));
        hp_json_set(&a->json, object, "lacks", lacks(a, line));
        hp_json_append(&a->json, array, object);
    }
    return array;
}

static hp_result set_reports(hp_web_answer *a, const request *r)
{
    hp_web_stream json = {.text = NULL}, text = {.text = NULL};
    hp_report_case subject = hp_report_case_of(&r->scenario);
    hp_result result = hp_web_stream_begin(&json, &a->err);
    if (result == HP_OK)
        result =
            hp_fit_json_write(&subject, &r->scenario.fit_parameters, r->fit, json.file, &a->err);
    result = hp_web_stream_tell_json(&json, result, a);
    if (result == HP_OK)
        result = hp_web_stream_begin(&text, &a->err);
    if (result == HP_OK) {
        const hp_screen screen = {.file = text.file, .columns = r->columns, .page = true};
        hp_fit_print(&subject, &r->scenario.vehicle, r->fit, &screen);
    }
    return hp_web_stream_tell(&text, "text", result, a);
}

hp_result hp_web_fit(hp_web *web, hp_web_answer *a)
{
    request r = {.shape = HP_SHAPE_PHONE};
    hp_result result = hp_web_want_open(web, a, false);
    if (result == HP_OK)
        result = take(web, a, &r);
    if (result == HP_OK)
        result = reckon(web, a, &r);
    if (result == HP_OK)
        result = set_reports(a, &r);
    if (result == HP_OK) {
        char text[WORDS];
        hp_web_set_text(a, "summary", hp_fit_summary_text(r.fit, text, sizeof text));
        hp_web_set_text(a, "worst", hp_fit_state_name(hp_fit_worst(r.fit)));
        hp_web_set(a, "lines", lines(a, &r));
        const hp_picture_subject subject = {.drive = &r.scenario.drive,
                                            .labels = &r.scenario.labels,
                                            .thresholds = hp_thresholds_default(),
                                            .fit = r.fit,
                                            .vehicle = &r.scenario.vehicle};
        result = hp_web_set_pictures(a, HP_MAKER_FIT, &subject, r.shape);
    }
    free(r.fit);
    hp_scenario_free(&r.scenario);
    return result;
}
