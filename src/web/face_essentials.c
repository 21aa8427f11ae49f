/* The empty tool: which keys of a scenario are asked for first, and the scenario that they make.
 * See face_parts.h. */
#include "record/scenario/scenario_keys.h"
#include "web/face_parts.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* What is asked for, in order. */
typedef struct essential {
    hp_key_id key;
    const char *label;
    const char *hint;   /* how it is found, or what to take meanwhile; NULL: the default's reason */
    const char *preset; /* what the form states unless it is changed; NULL: the default */
} essential;

/* Those that are rare are folded: a title says what they are for. */
static const struct {
    const char *group;
    bool rare;
    essential field[7];
} essentials[] = {
    {"The machine",
     false,
     {{HP_KEY_NAME, "What it is called", NULL, NULL},
      {HP_KEY_MAGNETS, "Magnets on the rotor",
       "Counted with the side cover off. Not known yet: 46 is common in direct-drive hubs.", NULL},
      {HP_KEY_RESISTANCE, "Resistance between two phase leads",
       "Too small for a plain meter. Motor unplugged: 5 A from a bench supply through two leads "
       "for a "
       "moment; volts divided by 5. Not known yet: 0.2.",
       NULL},
      {HP_KEY_NO_LOAD_RPM, "Wheel speed at full throttle, lifted",
       "From the label or the papers. Not known yet: about 215 fits a 36 V hub for 25 km/h in a "
       "26 to 28 inch wheel.",
       NULL},
      {HP_KEY_NO_LOAD_V, "Battery volts at that speed", "On most labels beside the speed.", NULL}}},
    {"Battery and controller",
     false,
     {{HP_KEY_BATTERY_V, "Battery", NULL, NULL},
      {HP_KEY_BATTERY_LIMIT, "Battery current limit of the controller", NULL, NULL}}},
    {"Colours or names of the motor's leads",
     false,
     {{HP_KEY_MOTOR_PHASE_U, "Phase lead, first", NULL, NULL},
      {HP_KEY_MOTOR_PHASE_V, "Phase lead, second", NULL, NULL},
      {HP_KEY_MOTOR_PHASE_W, "Phase lead, third", NULL, NULL},
      {HP_KEY_MOTOR_SENSOR_U, "Hall lead, first", NULL, NULL},
      {HP_KEY_MOTOR_SENSOR_V, "Hall lead, second", NULL, NULL},
      {HP_KEY_MOTOR_SENSOR_W, "Hall lead, third", NULL, NULL}}},
    {"Colours or names at the controller",
     false,
     {{HP_KEY_OUTPUT_U, "Output, first", NULL, NULL},
      {HP_KEY_OUTPUT_V, "Output, second", NULL, NULL},
      {HP_KEY_OUTPUT_W, "Output, third", NULL, NULL},
      {HP_KEY_INPUT_U, "Hall input, first", NULL, NULL},
      {HP_KEY_INPUT_V, "Hall input, second", NULL, NULL},
      {HP_KEY_INPUT_W, "Hall input, third", NULL, NULL}}},
    {"What is at hand",
     false,
     {{HP_KEY_LEADS_KNOWN, "Papers say which lead is U, V and W",
       "No: the bench finds it out. Yes: the leads stand above in the order U, V, W.", "no"},
      {HP_KEY_BENCH_FIRST_POWER, "What can limit the current of a first trial", NULL, NULL},
      {HP_KEY_BENCH_AMMETER, "A meter in the battery lead", NULL, NULL},
      {HP_KEY_BENCH_TACHOMETER, "A way to count the wheel's turns", NULL, NULL}}},
    {"A hub with gears inside",
     true,
     {{HP_KEY_GEAR, "Turns of the rotor for one of the wheel", NULL, NULL},
      {HP_KEY_CLUTCH, "One-way clutch in the hub", NULL, NULL}}},
    {"Throttle and inductance",
     true,
     {{HP_KEY_THROTTLE, "Throttle for trials", NULL, NULL},
      {HP_KEY_INDUCTANCE, "Inductance between two phase leads", NULL, NULL}}},
};

/* The least that a scenario must hold, for its defaults. Chosen: any motor will do. */
#define ANY_MOTOR                                                                                  \
    "motor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: "             \
    "{speed_rpm: 215, volts: 36}}\n"
static const char least[] = "hubphase: 1\n" ANY_MOTOR;
/* To look around with. */
static const char example[] = "hubphase: 1\nname: An example\n" ANY_MOTOR;

static const char *kind_word(hp_key_kind kind)
{
    return kind == HP_KEY_IS_NUMBER   ? "number"
           : kind == HP_KEY_IS_WHOLE  ? "whole"
           : kind == HP_KEY_IS_FLAG   ? "yes_no"
           : kind == HP_KEY_IS_CHOICE ? "choice"
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

static json_t *field_object(hp_web_answer *a, const essential *field, hp_scenario *defaults)
{
    const hp_key *key = hp_key_of(field->key);
    const hp_parameter *usual = hp_parameters_find(&defaults->parameters, key->path);
    bool given = usual && usual->origin != HP_ORIGIN_FILE;
    json_t *object = json_object();
    hp_json_set(&a->json, object, "key", hp_json_text(key->path));
    hp_json_set(&a->json, object, "label", hp_json_text(field->label));
    hp_json_set(&a->json, object, "type", hp_json_text(kind_word(key->kind)));
    hp_json_set(&a->json, object, "unit", hp_json_text(key->limits.unit ? key->limits.unit : ""));
    hp_json_set(&a->json, object, "min", hp_json_number(key->limits.low));
    hp_json_set(&a->json, object, "max", hp_json_number(key->limits.high));
    hp_json_set(&a->json, object, "above", json_boolean(key->limits.above));
    hp_json_set(&a->json, object, "none", json_boolean(key->limits.none));
    hp_json_set(&a->json, object, "required", json_boolean(usual && !given));
    hp_json_set(&a->json, object, "default", given ? hp_json_text(usual->value) : json_null());
    /* That a lead is called by its axis is seen from the name itself. */
    bool explained = given && key->kind != HP_KEY_IS_LABEL;
    hp_json_set(&a->json, object, "why", explained ? hp_json_text(usual->why) : json_null());
    hp_json_set(&a->json, object, "hint", field->hint ? hp_json_text(field->hint) : json_null());
    hp_json_set(&a->json, object, "preset",
                field->preset ? hp_json_text(field->preset) : json_null());
    hp_json_set(&a->json, object, "choices", words_of(a, key));
    return object;
}

hp_result hp_web_essentials(hp_web *web, hp_web_answer *a)
{
    hp_scenario defaults;
    json_t *groups = json_array();
    (void)web;
    hp_result result = hp_scenario_read(least, strlen(least), "defaults", &defaults, NULL, &a->err);
    for (size_t k = 0; result == HP_OK && k < sizeof essentials / sizeof essentials[0]; k++) {
        json_t *object = json_object(), *fields = json_array();
        const size_t most = sizeof essentials[k].field / sizeof essentials[k].field[0];
        for (size_t j = 0; j < most && essentials[k].field[j].label; j++)
            hp_json_append(&a->json, fields, field_object(a, &essentials[k].field[j], &defaults));
        hp_json_set(&a->json, object, "title", hp_json_text(essentials[k].group));
        hp_json_set(&a->json, object, "rare", json_boolean(essentials[k].rare));
        hp_json_set(&a->json, object, "fields", fields);
        hp_json_append(&a->json, groups, object);
    }
    hp_web_set(a, "groups", groups);
    hp_web_set_text(a, "example", example);
    hp_scenario_free(&defaults);
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
