/* A course as a person writes it: see hubphase/record/scenario.h. */
#include "hubphase/record/scenario.h"

#include "record/scenario/scenario_number.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define WORD_SIZE 80
/* What is looked at after the last action of a course, where nobody says how long. */
#define AFTER_S 4.0

/* "grip=50@0.3" in its parts. */
typedef struct action_text {
    char whole[WORD_SIZE], what[WORD_SIZE], value[WORD_SIZE], time[WORD_SIZE];
} action_text;

static hp_result refuse(hp_error *err, const action_text *text, const char *expected)
{
    return hp_error_set(err, HP_FAIL_INPUT, "\"%s\" must be %s", text->whole, expected);
}

static bool take_number(const char *text, double *number)
{
    return hp_number_read(text, number) == HP_NUMBER_FINE;
}

static bool take_word(const char *text, const char *yes, const char *no, double *value)
{
    *value = strcmp(text, yes) == 0;
    return *value != 0.0 || strcmp(text, no) == 0;
}

static hp_result take_lead(const action_text *text, double *value, hp_error *err)
{
    char names[400];
    hp_phrase p = hp_phrase_begin(names, sizeof names);
    for (int k = 0; k < HP_CONTROL_LEAD_COUNT; k++) {
        const char *name = hp_control_lead_name((hp_control_lead)k);
        *value = k;
        if (strcmp(text->value, name) == 0)
            return HP_OK;
        hp_phrase_comma(&p);
        hp_phrase_add(&p, "%s", name);
    }
    return hp_error_set(err, HP_FAIL_INPUT, "\"%s\" names no lead, must name one of %s",
                        text->whole, names);
}

/* Refuses an action of a part that this machine does not have. */
static hp_result take_there(const action_text *text, const hp_action *action,
                            const hp_controls_params *controls, hp_error *err)
{
    bool lead = action->kind == HP_ACTION_LEAD_OFF || action->kind == HP_ACTION_LEAD_ON;
    bool throttle = action->kind == HP_ACTION_GRIP ||
                    (lead && action->value <= (double)HP_CONTROL_LEAD_THROTTLE_SIGNAL);
    if (throttle && !controls->throttle.fitted)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "\"%s\" is of a throttle, and controls.throttle.fitted is no",
                            text->whole);
    if (action->kind == HP_ACTION_KEY && !controls->key)
        return hp_error_set(err, HP_FAIL_INPUT, "\"%s\" is of a key, and controls.key.fitted is no",
                            text->whole);
    return HP_OK;
}

static hp_result take_value(const action_text *text, hp_action *action, hp_error *err)
{
    double number;
    switch (action->kind) {
    case HP_ACTION_KEY:
        if (!take_word(text->value, "on", "off", &action->value))
            return refuse(err, text, "key=on@SECONDS or key=off@SECONDS");
        return HP_OK;
    case HP_ACTION_LEVER:
        if (!take_word(text->value, "pulled", "released", &action->value))
            return refuse(err, text, "brake=pulled@SECONDS or brake=released@SECONDS");
        return HP_OK;
    case HP_ACTION_GRIP:
        if (!take_number(text->value, &number) || !(number >= 0.0 && number <= 100.0))
            return refuse(err, text, "grip=PERCENT@SECONDS with 0 to 100 percent");
        action->value = 0.01 * number;
        return HP_OK;
    case HP_ACTION_PEDALS:
        if (!take_number(text->value, &number) || !(fabs(number) <= 300.0))
            return refuse(err, text,
                          "pedals=RPM@SECONDS with -300 to 300 turns a minute, backward below 0");
        action->value = number / 60.0;
        return HP_OK;
    case HP_ACTION_SPEED:
        if (!take_number(text->value, &number) || number != floor(number))
            return refuse(err, text, "speed=STEP@SECONDS with a step counted from 1");
        action->value = number;
        return HP_OK;
    case HP_ACTION_LEAD_OFF:
    case HP_ACTION_LEAD_ON: return take_lead(text, &action->value, err);
    case HP_ACTION_KIND_COUNT: break;
    }
    return refuse(err, text, "an action");
}

/* Cuts "WHAT=VALUE@SECONDS" apart. */
static bool cut(action_text *text)
{
    const char *equals = strchr(text->whole, '='), *at = strrchr(text->whole, '@');
    if (!equals || !at || at < equals)
        return false;
    snprintf(text->what, sizeof text->what, "%.*s", (int)(equals - text->whole), text->whole);
    snprintf(text->value, sizeof text->value, "%.*s", (int)(at - equals - 1), equals + 1);
    snprintf(text->time, sizeof text->time, "%s", at + 1);
    return true;
}

static hp_result take_action(action_text *text, hp_action *action, hp_error *err)
{
    if (!cut(text))
        return refuse(err, text, "WHAT=VALUE@SECONDS, such as grip=50@0.3");
    int kind = 0;
    while (kind < HP_ACTION_KIND_COUNT &&
           strcmp(text->what, hp_action_name((hp_action_kind)kind)) != 0)
        kind++;
    if (kind == HP_ACTION_KIND_COUNT)
        return refuse(err, text, "key, grip, brake, pedals, speed, off or on, =VALUE@SECONDS");
    action->kind = (hp_action_kind)kind;
    if (!take_number(text->time, &action->time) || !(action->time >= 0.0 && action->time <= 3600.0))
        return refuse(err, text, "at 0 to 3600 seconds");
    return take_value(text, action, err);
}

/* By time; what is at one time stays in the order written. */
static void insert(hp_course *course, hp_action action)
{
    int k = course->count++;
    for (; k > 0 && course->action[k - 1].time > action.time; k--)
        course->action[k] = course->action[k - 1];
    course->action[k] = action;
}

hp_result hp_course_parse(const char *text, const hp_controls_params *controls, hp_course *course,
                          hp_error *err)
{
    static const char between[] = ", \t\n";
    while (*(text += strspn(text, between))) {
        action_text part = {.whole = ""};
        hp_action action = {0};
        size_t length = strcspn(text, between);
        if (length >= sizeof part.whole)
            return hp_error_set(err, HP_FAIL_INPUT,
                                "an action has %zu characters, must be WHAT=VALUE@SECONDS", length);
        snprintf(part.whole, sizeof part.whole, "%.*s", (int)length, text);
        text += length;
        if (course->count == HP_ACTIONS_MAX)
            return hp_error_set(err, HP_FAIL_INPUT, "\"%s\" is one too many, at most %d actions",
                                part.whole, HP_ACTIONS_MAX);
        hp_result result = take_action(&part, &action, err);
        if (result == HP_OK)
            result = take_there(&part, &action, controls, err);
        if (result != HP_OK)
            return result;
        if (action.kind == HP_ACTION_SPEED &&
            !(action.value >= 1.0 && action.value <= controls->speed.steps))
            return hp_error_set(err, HP_FAIL_INPUT,
                                "\"%s\" must be a step from 1 to %d: "
                                "controller.speed_steps_percent lists them",
                                part.whole, controls->speed.steps);
        insert(course, action);
    }
    return HP_OK;
}

hp_result hp_course_plan_parse(const char *text, const hp_controls_params *controls, double seconds,
                               hp_what_if_plan *plan, hp_error *err)
{
    *plan = (hp_what_if_plan){.controls = *controls};
    hp_course *course = &plan->course;
    hp_result result = hp_course_parse(text, controls, course, err);
    if (result == HP_OK)
        result = hp_course_check(course, controls, err);
    if (result != HP_OK)
        return result;
    if (course->count == 0)
        return hp_error_set(err, HP_FAIL_INPUT, "\"%.80s\" must hold an action such as grip=50@0.3",
                            text);
    double last = course->action[course->count - 1].time;
    plan->seconds = seconds > 0.0 ? seconds : last + AFTER_S;
    if (last >= plan->seconds)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "\"%.80s\" acts at %g s, must act before the end, at %g s", text, last,
                            plan->seconds);
    return HP_OK;
}
