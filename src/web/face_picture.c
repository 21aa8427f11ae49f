/* Pictures, the wiring sheet and the plan on paper. See face_parts.h. */
#include "hubphase/report/documents.h"
#include "hubphase/report/pictures.h"
#include "web/face_parts.h"

#include <stdlib.h>
#include <string.h>

#define ALT_SIZE 400

/* What the picture is about: the survey of the request's changes where it needs one. */
static hp_result fill_subject(hp_web *web, hp_web_answer *a, const hp_picture *picture,
                              bool advised, hp_example example[HP_EXAMPLE_COUNT],
                              hp_picture_subject *subject)
{
    hp_wiring wiring;
    bool simulated = picture->needs & (HP_NEEDS_SURVEY | HP_NEEDS_TRACE | HP_NEEDS_EXAMPLES);
    hp_result result = simulated ? hp_web_surveyed(web, a) : HP_OK;
    const hp_scenario *scenario = simulated ? &web->changed : &web->c->scenario;
    *subject = (hp_picture_subject){.drive = &scenario->drive,
                                    .labels = &scenario->labels,
                                    .thresholds = hp_thresholds_default(),
                                    .harness = &scenario->harness,
                                    .survey = simulated ? &web->survey : NULL,
                                    .plan = hp_web_plan(web->c),
                                    .plug = hp_bench_log_plug(&web->c->entries)};
    if (result == HP_OK && !advised &&
        (json_object_get(a->request, "wiring") ||
         (picture->needs & (HP_NEEDS_NUMBER | HP_NEEDS_TRACE))))
        result = hp_web_want_wiring(web, a, &wiring);
    else
        return result;
    if (result == HP_OK)
        subject->number = hp_wiring_number(&wiring);
    if (result == HP_OK && simulated) {
        subject->judgement = &web->survey.judgement[subject->number - 1];
        hp_survey_options options = hp_scenario_survey_options(&web->changed);
        if (picture->needs & (HP_NEEDS_EXAMPLES | HP_NEEDS_TRACE))
            result = hp_examples_run(&web->changed.drive, &options.run, &web->survey,
                                     subject->number, example, &a->err);
        subject->example = example;
    }
    return result;
}

/* The trace of the wiring's own example. */
static void fill_trace(hp_picture_subject *subject)
{
    for (int k = 0; subject->example && k < HP_EXAMPLE_COUNT; k++)
        if (subject->example[k].number == subject->number && subject->example[k].trace.count > 0) {
            subject->trace = &subject->example[k].trace;
            subject->start_angle = subject->example[k].judgement.mean.start_angle;
        }
}

static hp_result fill_step(hp_web *web, hp_web_answer *a, hp_picture_subject *subject)
{
    hp_result result = hp_web_want_open(web, a, true);
    const hp_case_report *report = result == HP_OK ? hp_web_report(web, a) : NULL;
    if (result == HP_OK && !report)
        result = a->err.code;
    if (result != HP_OK)
        return result;
    subject->advice = hp_case_report_advice(report);
    if (subject->number == 0)
        subject->number = subject->advice->number;
    return HP_OK;
}

/* One picture as an element of the page; NULL on failure. */
static json_t *picture_object(hp_web_answer *a, const hp_picture *picture,
                              const hp_picture_subject *subject, hp_shape shape)
{
    char *bytes = NULL;
    size_t size = 0;
    const hp_picture_target to = {
        .format = HP_PICTURE_SVG, .shape = shape, .bytes = &bytes, .size = &size, .inset = true};
    if (hp_picture_make(picture, subject, &to, &a->err) != HP_OK)
        return NULL;
    json_t *object = json_object();
    hp_json_set(&a->json, object, "name", hp_json_text(picture->name));
    hp_json_set(&a->json, object, "svg", json_stringn(bytes, size));
    hp_json_set(&a->json, object, "alt", hp_json_text(picture->question));
    free(bytes);
    return object;
}

hp_result hp_web_set_pictures(hp_web_answer *a, unsigned maker, const hp_picture_subject *subject,
                              hp_shape shape)
{
    json_t *array = json_array();
    hp_result result = HP_OK;
    for (int k = 0; k < hp_picture_count && result == HP_OK; k++) {
        if (!(hp_pictures[k]->makers & maker) || !hp_picture_can(hp_pictures[k], subject))
            continue;
        json_t *object = picture_object(a, hp_pictures[k], subject, shape);
        if (object)
            hp_json_append(&a->json, array, object);
        else
            result = a->err.code;
    }
    hp_web_set(a, "pictures", array);
    return result;
}

hp_result hp_web_draw(const hp_picture *picture, const hp_picture_subject *subject, hp_shape shape,
                      hp_web_answer *a)
{
    char *bytes = NULL, *text, alt[ALT_SIZE];
    size_t size = 0;
    const hp_picture_target to = {
        .format = HP_PICTURE_SVG, .shape = shape, .bytes = &bytes, .size = &size, .inset = true};
    hp_result result = hp_picture_make(picture, subject, &to, &a->err);
    text = result == HP_OK ? malloc(size + 1) : NULL;
    if (result == HP_OK && !text)
        result = hp_error_set(&a->err, HP_FAIL_MEMORY, "no memory for a picture");
    if (result == HP_OK) {
        memcpy(text, bytes, size);
        text[size] = '\0';
        snprintf(alt, sizeof alt, "%s", picture->question);
        hp_web_set_text(a, "svg", text);
        hp_web_set_text(a, "alt", alt);
    }
    free(text);
    free(bytes);
    return result;
}

hp_result hp_web_picture(hp_web *web, hp_web_answer *a)
{
    const char *name, *word = NULL;
    bool advised = false; /* the wiring of the step, told as the advice has it */
    hp_shape shape = HP_SHAPE_PHONE;
    hp_error err = hp_error_none();
    hp_picture_subject subject;
    hp_example example[HP_EXAMPLE_COUNT] = {0};
    hp_result result = hp_web_want_open(web, a, false);
    if (result != HP_OK)
        return result;
    bool good = hp_web_want_text(a, "name", &name);
    good = hp_web_take_flag(a, "advised", &advised) && good;
    if (!hp_web_take_text(a, "shape", &word) || !good)
        return HP_FAIL_INPUT;
    const hp_picture *picture = hp_picture_find(name);
    if (!picture)
        return hp_web_problem(a, "name", "\"%.80s\" is no picture", name);
    if (picture->needs & HP_NEEDS_FIT)
        return hp_web_problem(a, "name", "%s comes with the request fit", name);
    if (picture->needs & HP_NEEDS_SPREAD)
        return hp_web_problem(a, "name", "%s shows a spread, which is not made here", name);
    if (picture->needs & HP_NEEDS_COURSE)
        return hp_web_problem(a, "name", "%s shows a course of the controls: ask for controls",
                              name);
    if (word && hp_shape_parse(word, &shape, &err) != HP_OK)
        return hp_web_problem(a, "shape", "%s", err.text);
    result = fill_subject(web, a, picture, advised, example, &subject);
    fill_trace(&subject);
    if (result == HP_OK && (advised || (picture->needs & HP_NEEDS_STEP)))
        result = fill_step(web, a, &subject);
    if (result == HP_OK && advised && subject.number == 0)
        result = hp_web_problem(a, "advised", "this step names no wiring");
    if (result == HP_OK)
        result = hp_web_draw(picture, &subject, shape, a);
    hp_examples_free(example);
    return result;
}

hp_result hp_web_sheet(hp_web *web, hp_web_answer *a)
{
    hp_web_stream html = {.text = NULL};
    hp_sheet_options options = hp_sheet_options_default();
    hp_wiring wiring;
    hp_result result = hp_web_want_open(web, a, false);
    if (result == HP_OK && json_object_get(a->request, "wiring"))
        result = hp_web_want_wiring(web, a, &wiring);
    if (result == HP_OK && json_object_get(a->request, "wiring"))
        options.wiring = hp_wiring_number(&wiring);
    if (result == HP_OK && !hp_web_take_text(a, "date", &options.date))
        result = HP_FAIL_INPUT;
    /* Before its table is there, a case has no advice: then no run is judged. */
    if (result == HP_OK && web->c->bench) {
        const hp_case_report *report = hp_web_report(web, a);
        if (report)
            options.advice = hp_case_report_advice(report);
        else
            result = a->err.code;
    }
    if (result == HP_OK)
        result = hp_web_stream_begin(&html, &a->err);
    if (result == HP_OK)
        result = hp_sheet_write(&web->c->scenario, &web->c->entries, &options, html.file, &a->err);
    return hp_web_stream_tell(&html, "html", result, a);
}

hp_result hp_web_paper(hp_web *web, hp_web_answer *a)
{
    hp_web_stream html = {.text = NULL};
    hp_result result = hp_web_want_open(web, a, true);
    if (result == HP_OK)
        result = hp_web_stream_begin(&html, &a->err);
    if (result == HP_OK)
        result = hp_plan_list_write(web->c->bench, web->progress, web->user, html.file, &a->err);
    return hp_web_stream_tell(&html, "html", result, a);
}
