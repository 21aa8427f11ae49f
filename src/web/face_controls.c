/*
 * What grip, brake, pedals and lost leads make the machine do: all cases, one of them, a course of
 * somebody's own; with its picture. See face_parts.h.
 */
#include "hubphase/report/pictures.h"
#include "hubphase/report/tables.h"
#include "web/face_parts.h"

#include <string.h>

/* What is asked for. */
typedef struct asked {
    const hp_scenario *scenario; /* with the request's changes; borrowed */
    hp_wiring wiring;
    bool single;
    hp_what_if what; /* of a single one: HP_WHAT_IF_COUNT: a course of somebody's own */
    hp_what_if_plan plan;
    hp_shape shape;
    int columns;
} asked;

static hp_result take_wiring(hp_web *web, hp_web_answer *a, asked *ask)
{
    /* Where nobody knows which lead is which, a number names no wiring: the correct one is meant.
     */
    bool given = json_object_get(a->request, "wiring") != NULL;
    int number = hp_survey_first_correct(&web->survey);
    if (given && (ask->scenario->labels.axes_known || number == 0))
        return hp_web_want_wiring(web, a, &ask->wiring);
    if (number == 0)
        return hp_web_problem(a, "wiring", "no wiring of this machine is correct: name one");
    ask->wiring = hp_wiring_from_number(number);
    return HP_OK;
}

static hp_result take_plan(hp_web_answer *a, asked *ask)
{
    const char *name = NULL, *course = NULL;
    double seconds = 0.0;
    hp_error err = hp_error_none();
    const hp_controls_params *controls = &ask->scenario->controls;
    bool good = hp_web_take_text(a, "case", &name);
    good = hp_web_take_text(a, "course", &course) && good;
    good = hp_web_take_shape(a, &ask->shape) && good;
    good = hp_web_take_number(a, "seconds", 0.01, HP_COURSE_SECONDS_MAX, &seconds) && good;
    good = hp_web_take_columns(a, &ask->columns) && good;
    if (!good)
        return HP_FAIL_INPUT;
    if (name && course)
        return hp_web_problem(a, "course", "only one of case and course can be shown");
    ask->single = name || course;
    ask->what = HP_WHAT_IF_COUNT;
    if (name && hp_what_if_plan_find(name, controls, &ask->what, &ask->plan, &err) != HP_OK)
        return hp_web_problem(a, "case", "%s", err.text);
    if (course && hp_course_plan_parse(course, controls, seconds, &ask->plan, &err) != HP_OK)
        return hp_web_problem(a, "course", "%s", err.text);
    return HP_OK;
}

/* ---- answers --------------------------------------------------------------------------------- */

static hp_result tell_all(hp_web_answer *a, const asked *ask, hp_web_stream *json,
                          hp_web_stream *text)
{
    hp_what_if_result result[HP_WHAT_IF_COUNT];
    const hp_scenario *s = ask->scenario;
    const hp_screen screen = {.file = text->file, .columns = ask->columns, .page = true};
    hp_report_case subject = hp_report_case_of(s);
    hp_drive drive = s->drive;
    int count;
    drive.controller.pwm = HP_PWM_AVERAGED;
    hp_result done =
        hp_what_if_run_all(&drive, &ask->wiring, &s->controls, result, &count, &a->err);
    if (done != HP_OK)
        return done;
    hp_what_if_print(&subject, &ask->wiring, &s->controls, result, count, &screen);
    return hp_what_if_json_write(&subject, &s->controls_parameters, &ask->wiring, &s->controls,
                                 result, count, json->file, &a->err);
}

static hp_result draw(hp_web_answer *a, const asked *ask, const hp_course_run *run,
                      const hp_what_if_result *about)
{
    const hp_picture_subject subject = {.drive = &ask->scenario->drive,
                                        .labels = &ask->scenario->labels,
                                        .thresholds = hp_thresholds_default(),
                                        .number = hp_wiring_number(&ask->wiring),
                                        .course = run,
                                        .controls = &ask->scenario->controls,
                                        .what_if = about};
    return hp_web_draw(hp_picture_find("course"), &subject, ask->shape, a);
}

static hp_result tell_one(hp_web_answer *a, const asked *ask, hp_web_stream *json,
                          hp_web_stream *text)
{
    hp_course_run run;
    const hp_scenario *s = ask->scenario;
    const hp_screen screen = {.file = text->file, .columns = ask->columns, .page = true};
    hp_report_case subject = hp_report_case_of(s);
    hp_what_if_result about;
    const hp_what_if_result *shown = ask->what < HP_WHAT_IF_COUNT ? &about : NULL;
    hp_result result =
        shown ? hp_what_if_run(&s->drive, &ask->wiring, &s->controls, ask->what, &about, &run,
                               &a->err)
              : hp_course_run_make(&s->drive, &ask->wiring, &s->controls, &ask->plan.course,
                                   ask->plan.seconds, &run, &a->err);
    if (result != HP_OK)
        return result;
    hp_course_print(&subject, &ask->wiring, &s->controls, &run, shown, &screen);
    result = hp_course_json_write(&subject, &s->controls_parameters, &ask->wiring, &s->controls,
                                  &run, shown, json->file, &a->err);
    if (result == HP_OK)
        result = draw(a, ask, &run, shown);
    hp_course_run_free(&run);
    return result;
}

hp_result hp_web_controls(hp_web *web, hp_web_answer *a)
{
    asked ask = {.shape = HP_SHAPE_PHONE};
    hp_web_stream json = {.text = NULL}, text = {.text = NULL};
    hp_result result = hp_web_surveyed(web, a);
    if (result != HP_OK)
        return result;
    ask.scenario = &web->changed;
    result = take_plan(a, &ask);
    if (result == HP_OK)
        result = take_wiring(web, a, &ask);
    if (result == HP_OK)
        result = hp_web_stream_begin(&json, &a->err);
    if (result == HP_OK)
        result = hp_web_stream_begin(&text, &a->err);
    if (result == HP_OK)
        result = ask.single ? tell_one(a, &ask, &json, &text) : tell_all(a, &ask, &json, &text);
    result = hp_web_stream_tell_json(&json, result, a);
    return hp_web_stream_tell(&text, "text", result, a);
}
