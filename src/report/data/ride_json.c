/* Controls as JSON: see hubphase/report/tables.h; docs/json.md is its contract. */
#include "hubphase/report/tables.h"

#include "report/data/json_tree.h"
#include "report/words/ride_text.h"

#include <math.h>
#include <string.h>

static void set_action(hp_json *b, json_t *object, const hp_action *action)
{
    bool lead = action->kind == HP_ACTION_LEAD_OFF || action->kind == HP_ACTION_LEAD_ON;
    hp_json_set(b, object, "time_s", hp_json_number(action->time));
    hp_json_set(b, object, "action", hp_json_text(hp_action_name(action->kind)));
    hp_json_set(b, object, "value",
                lead ? hp_json_text(hp_control_lead_name((hp_control_lead)action->value))
                     : hp_json_number(action->value));
}

static json_t *moment_object(hp_json *b, const hp_moment *m)
{
    char words[HP_RIDE_WORDS];
    json_t *object = json_object();
    set_action(b, object, &m->action);
    hp_json_set(b, object, "outcome", hp_json_text(hp_outcome_name(m->outcome)));
    hp_json_set(b, object, "reason", hp_json_text(hp_control_reason_name(m->reason)));
    hp_json_set(b, object, "duty_before", hp_json_number(m->duty_before));
    hp_json_set(b, object, "duty_after", hp_json_number(m->duty_after));
    hp_json_set(b, object, "wheel_rpm_before", hp_json_number(m->wheel_before / HP_RPM));
    hp_json_set(b, object, "wheel_rpm_after", hp_json_number(m->wheel_after / HP_RPM));
    hp_json_set(b, object, "acts_s", hp_json_number(m->acts_s));
    hp_json_set(b, object, "no_torque_s", hp_json_number(m->no_torque_s));
    hp_json_set(b, object, "standstill_s", hp_json_number(m->standstill_s));
    hp_json_set(b, object, "words", hp_json_text(hp_moment_words(m, words, sizeof words)));
    return object;
}

/* The same case with all put right that holds the drive off; null where there is none. */
static json_t *once_right(hp_json *b, const hp_what_if_result *result)
{
    if (!result->put_right)
        return json_null();
    char words[HP_RIDE_WORDS];
    hp_what_if_result right = hp_what_if_once_right(result);
    const char *remedy = hp_what_if_remedy(&right);
    json_t *object = moment_object(b, &right.moment), *parts = json_array();
    for (hp_hold hold = HP_HOLD_NOTHING; hold < HP_HOLD_COUNT; hold++)
        if (result->put_right & 1u << hold)
            hp_json_append(b, parts, hp_json_text(hp_hold_name(hold)));
    hp_json_set(b, object, "put_right", parts);
    hp_json_set(b, object, "finding", hp_json_text(hp_finding_name(hp_what_if_finding(&right))));
    hp_json_set(b, object, "words", hp_json_text(hp_what_if_words(&right, words, sizeof words)));
    hp_json_set(b, object, "remedy", remedy[0] ? hp_json_text(remedy) : json_null());
    return object;
}

/* Sets what is told of the case; `words` takes the place of its moment's. */
static void set_what_if(hp_json *b, json_t *object, const hp_controls_params *stated,
                        const hp_what_if_result *result)
{
    char title[HP_RIDE_WORDS], words[HP_RIDE_WORDS];
    hp_finding finding = hp_what_if_finding(result);
    const char *remedy = hp_what_if_remedy(result), *held = hp_hold_name(result->hold);
    bool told = result->hold == HP_HOLD_NOTHING;
    hp_json_set(b, object, "name", hp_json_text(hp_what_if_name(result->what)));
    hp_json_set(b, object, "title",
                hp_json_text(hp_what_if_title(result->what, stated, title, sizeof title)));
    hp_json_set(b, object, "supposed", json_boolean(hp_what_if_supposes(result->what)));
    hp_json_set(b, object, "finding", hp_json_text(hp_finding_name(finding)));
    hp_json_set(b, object, "words", hp_json_text(hp_what_if_words(result, words, sizeof words)));
    hp_json_set(b, object, "remedy", remedy[0] ? hp_json_text(remedy) : json_null());
    hp_json_set(b, object, "held_by", told ? json_null() : hp_json_text(held));
    hp_json_set(b, object, "once_right", once_right(b, result));
}

static json_t *begin(hp_json *b, const hp_report_case *subject, const hp_parameters *parameters,
                     const hp_wiring *wiring)
{
    json_t *root = json_object();
    hp_json_set(b, root, "scenario", hp_json_scenario(b, subject));
    hp_json_set(b, root, "parameters", hp_json_parameters(b, parameters));
    hp_json_set(b, root, "wiring",
                subject->labels->axes_known ? json_integer(hp_wiring_number(wiring)) : json_null());
    return root;
}

hp_result hp_what_if_json_write(const hp_report_case *subject, const hp_parameters *parameters,
                                const hp_wiring *wiring, const hp_controls_params *controls,
                                const hp_what_if_result *result, int count, FILE *out,
                                hp_error *err)
{
    hp_json b = {false};
    json_t *root = begin(&b, subject, parameters, wiring), *list = json_array();
    for (int k = 0; k < count; k++) {
        json_t *object = moment_object(&b, &result[k].moment);
        set_what_if(&b, object, controls, &result[k]);
        hp_json_append(&b, list, object);
    }
    hp_json_set(&b, root, "what_if", list);
    return hp_json_finish(&b, root, out, err);
}

static json_t *demands_array(hp_json *b, const hp_course_run *run)
{
    json_t *array = json_array();
    for (int k = 0; k < run->demands; k++) {
        const hp_control_demand *demand = &run->demand[k];
        json_t *object = json_object();
        hp_json_set(b, object, "time_s", hp_json_number(demand->time));
        hp_json_set(b, object, "throttle", hp_json_number(demand->throttle));
        hp_json_set(b, object, "duty", hp_json_number(demand->duty));
        hp_json_set(b, object, "reason", hp_json_text(hp_control_reason_name(demand->reason)));
        hp_json_append(b, array, object);
    }
    return array;
}

static json_t *samples_array(hp_json *b, const hp_trace *trace)
{
    json_t *array = json_array();
    for (size_t k = 0; k < trace->count; k++) {
        const hp_sample *s = &trace->sample[k];
        json_t *object = json_object();
        hp_json_set(b, object, "time_s", hp_json_number(s->time));
        hp_json_set(b, object, "duty", hp_json_number(s->duty));
        hp_json_set(b, object, "torque_nm", hp_json_number(s->torque));
        hp_json_set(b, object, "wheel_rpm", hp_json_number(s->wheel_speed / HP_RPM));
        hp_json_set(b, object, "battery_current_a", hp_json_number(s->battery_current));
        hp_json_append(b, array, object);
    }
    return array;
}

hp_result hp_course_json_write(const hp_report_case *subject, const hp_parameters *parameters,
                               const hp_wiring *wiring, const hp_controls_params *stated,
                               const hp_course_run *run, const hp_what_if_result *about, FILE *out,
                               hp_error *err)
{
    hp_json b = {false};
    json_t *root = begin(&b, subject, parameters, wiring), *moments = json_array();
    json_t *what = json_object();
    if (about) {
        char title[HP_RIDE_WORDS];
        set_what_if(&b, what, stated, about);
        hp_json_set(&b, what, "shown",
                    hp_json_text(hp_what_if_shown_title(about, stated, title, sizeof title)));
    }
    for (int k = 0; k < run->moments; k++)
        hp_json_append(&b, moments, moment_object(&b, &run->moment[k]));
    hp_json_set(&b, root, "what_if", what);
    hp_json_set(&b, root, "seconds", hp_json_number(run->seconds));
    hp_json_set(&b, root, "moments", moments);
    hp_json_set(&b, root, "demands", demands_array(&b, run));
    hp_json_set(&b, root, "samples", samples_array(&b, &run->trace));
    return hp_json_finish(&b, root, out, err);
}
