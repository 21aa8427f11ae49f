/*
 * The club evening: its scenes, told of the open case. Simulated once; then only told anew, of
 * another pair or another fault. See face_parts.h.
 */
#include "report/lesson/lesson_json.h"
#include "web/face_parts.h"

#include <stdlib.h>

void hp_web_forget_lesson(hp_web *web)
{
    hp_lesson_free(web->lesson);
    free(web->lesson);
    web->lesson = NULL;
}

static hp_result make(hp_web *web, hp_web_answer *a)
{
    hp_survey_options options = hp_scenario_survey_options(&web->c->scenario);
    options.progress = web->progress;
    options.user = web->user;
    if (web->lesson)
        return HP_OK;
    hp_lesson *lesson = calloc(1, sizeof *lesson);
    if (!lesson)
        return hp_error_set(&a->err, HP_FAIL_MEMORY, "no memory for a lesson");
    hp_result result = hp_lesson_make(&web->c->scenario.drive, &options, lesson, &a->err);
    if (result == HP_OK)
        web->lesson = lesson;
    else
        free(lesson);
    return result;
}

hp_result hp_web_lesson(hp_web *web, hp_web_answer *a)
{
    hp_scene_case c = {.fault = -1};
    hp_result result = hp_web_want_open(web, a, false);
    if (result != HP_OK)
        return result;
    bool good = hp_web_take_whole(a, "left", 1, HP_WIRING_COUNT, &c.pair[0]);
    good = hp_web_take_whole(a, "right", 1, HP_WIRING_COUNT, &c.pair[1]) && good;
    good = hp_web_take_whole(a, "fault", 0, HP_LESSON_FAULT_COUNT - 1, &c.fault) && good;
    result = good ? make(web, a) : HP_FAIL_INPUT;
    if (result != HP_OK)
        return result;
    c.lesson = web->lesson;
    c.fault = c.fault < 0 ? (int)hp_lesson_usual_fault(web->lesson) : c.fault;
    c.labels = &web->c->scenario.labels;
    c.costs = &web->c->scenario.bench.plan.costs;
    hp_lesson_json_set(&a->json, a->object, &c);
    return HP_OK;
}
