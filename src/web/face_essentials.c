/* The empty tool: which keys of a scenario are asked for first, and the scenario that they make.
 * See face_parts.h. */
#include "record/scenario/parameters.h"
#include "web/essential_list.h"
#include "web/face_parts.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* The least that a scenario must hold, for its defaults. Chosen: any motor will do. */
#define ANY_MOTOR                                                                                  \
    "motor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: "             \
    "{speed_rpm: 215, volts: 36}}\n"
static const char least[] = "hubphase: 1\n" ANY_MOTOR;
/* The same with what some keys ask for that have no meaning without it. */
static const char fuller[] = "hubphase: 1\n" ANY_MOTOR "controls: {pedal: {mode: gates}}\n"
                             "controller: {speed_steps_percent: [50, 100]}\n";
/* To look around with. */
static const char example[] = "hubphase: 1\nname: An example\n" ANY_MOTOR;

static const char *kind_word(hp_key_kind kind)
{
    return kind == HP_KEY_IS_NUMBER    ? "number"
           : kind == HP_KEY_IS_WHOLE   ? "whole"
           : kind == HP_KEY_IS_FLAG    ? "yes_no"
           : kind == HP_KEY_IS_CHOICE  ? "choice"
           : kind == HP_KEY_IS_SPECIAL ? "list"
                                       : "text";
}

static json_t *words_of(hp_web_answer *a, const hp_key *key)
{
    static const char *const flags[] = {"yes", "no", NULL};
    json_t *array = json_array();
    const char *const *word = key->kind == HP_KEY_IS_FLAG ? flags : key->words;
    for (; word && *word; word++)
        hp_json_append(&a->json, array, hp_json_text(*word));
    return array;
}

/* The same words as a fitter says them. */
static json_t *said_of(hp_web_answer *a, const hp_key *key)
{
    json_t *array = json_array();
    const char *const *word = key->kind == HP_KEY_IS_CHOICE ? key->words : NULL;
    for (; word && *word; word++)
        hp_json_append(&a->json, array, hp_json_text(hp_web_choice_said(*word)));
    return array;
}

static json_t *field_object(hp_web_answer *a, const hp_web_essential *field,
                            const hp_scenario *defaults, const hp_scenario *more)
{
    const hp_key *key = hp_key_of(field->key);
    const hp_parameter *usual = hp_scenario_parameter(defaults, key->path);
    if (!usual)
        usual = hp_scenario_parameter(more, key->path);
    bool given = usual && usual->origin != HP_ORIGIN_FILE;
    /* What follows from other fields is usual of no machine but the one that they describe. */
    bool common = given && !hp_key_follows(field->key);
    json_t *object = json_object();
    hp_json_set(&a->json, object, "key", hp_json_text(key->path));
    hp_json_set(&a->json, object, "label", hp_json_text(field->label));
    hp_json_set(&a->json, object, "type", hp_json_text(kind_word(key->kind)));
    hp_json_set(&a->json, object, "unit", hp_json_text(key->limits.unit ? key->limits.unit : ""));
    hp_json_set(&a->json, object, "min", hp_json_number(key->limits.low));
    hp_json_set(&a->json, object, "max", hp_json_number(key->limits.high));
    hp_json_set(&a->json, object, "above", json_boolean(key->limits.above));
    hp_json_set(&a->json, object, "none", json_boolean(key->limits.none));
    /* What only the fit reckons with, and has no figure for, is not known; elsewhere there is none.
     */
    hp_json_set(&a->json, object, "unknown",
                json_boolean(key->limits.none && field->key >= HP_KEY_FIT));
    hp_json_set(&a->json, object, "required", json_boolean(usual && !given));
    hp_json_set(&a->json, object, "default", common ? hp_json_text(usual->value) : json_null());
    /* That a lead is called by its axis is seen from the name itself. */
    bool explained = common && key->kind != HP_KEY_IS_LABEL;
    hp_json_set(&a->json, object, "why", explained ? hp_json_text(usual->why) : json_null());
    hp_json_set(&a->json, object, "hint", field->hint ? hp_json_text(field->hint) : json_null());
    hp_json_set(&a->json, object, "preset",
                field->preset ? hp_json_text(field->preset) : json_null());
    hp_json_set(&a->json, object, "choices", words_of(a, key));
    hp_json_set(&a->json, object, "said", said_of(a, key));
    return object;
}

hp_result hp_web_essentials(hp_web *web, hp_web_answer *a)
{
    hp_scenario defaults, more;
    json_t *groups = json_array();
    (void)web;
    hp_result result = hp_scenario_read(least, strlen(least), "defaults", &defaults, NULL, &a->err);
    memset(&more, 0, sizeof more);
    if (result == HP_OK)
        result = hp_scenario_read(fuller, strlen(fuller), "defaults", &more, NULL, &a->err);
    for (int k = 0; result == HP_OK && k < hp_web_essentials_groups; k++) {
        const hp_web_essential_group *group = &hp_web_essentials_list[k];
        json_t *object = json_object(), *fields = json_array();
        for (int j = 0; j < HP_WEB_ESSENTIALS_MAX && group->field[j].label; j++)
            hp_json_append(&a->json, fields, field_object(a, &group->field[j], &defaults, &more));
        hp_json_set(&a->json, object, "title", hp_json_text(group->title));
        hp_json_set(&a->json, object, "rare", json_boolean(group->rare));
        hp_json_set(&a->json, object, "of", group->of ? hp_json_text(group->of) : json_null());
        hp_json_set(&a->json, object, "fields", fields);
        hp_json_append(&a->json, groups, object);
    }
    hp_web_set(a, "groups", groups);
    hp_web_set_text(a, "example", example);
    hp_scenario_free(&defaults);
    hp_scenario_free(&more);
    return result;
}

/* The open case's scenario with keys stated otherwise, or no longer: the text alone. */
hp_result hp_web_amend(hp_web *web, hp_web_answer *a)
{
    hp_scenario_change *value = NULL;
    const hp_problem_ear ear = hp_web_ear(a);
    char *text = NULL;
    int count = 0;
    hp_result result = hp_web_want_open(web, a, false);
    if (result != HP_OK)
        return result;
    if (!hp_web_take_stated(a, "values", &value, &count))
        return HP_FAIL_INPUT;
    result = hp_scenario_amend(web->c->text, web->c->name, value, count, &text, &ear, &a->err);
    if (result == HP_OK)
        hp_web_set_text(a, "scenario", text);
    free(value);
    free(text);
    return result;
}

hp_result hp_web_compose(hp_web *web, hp_web_answer *a)
{
    hp_scenario scenario;
    hp_scenario_change *value = NULL;
    const hp_problem_ear ear = hp_web_ear(a);
    const char *name = "machine.yaml";
    char *text = NULL;
    int count = 0;
    (void)web;
    memset(&scenario, 0, sizeof scenario);
    if (!hp_web_take_stated(a, "values", &value, &count) || !hp_web_take_text(a, "name", &name)) {
        free(value);
        return HP_FAIL_INPUT;
    }
    /* A field that was left empty is not stated. */
    int kept = 0;
    for (int k = 0; k < count; k++)
        if (value[k].text[0] || value[k].list)
            value[kept++] = value[k];
    hp_result result = hp_scenario_compose(value, kept, &text, &ear, &a->err);
    free(value);
    if (result == HP_OK)
        result =
            hp_scenario_read_changed(text, strlen(text), name, NULL, 0, &scenario, &ear, &a->err);
    if (result == HP_OK)
        hp_web_set_text(a, "scenario", text);
    hp_scenario_free(&scenario);
    free(text);
    return result;
}
