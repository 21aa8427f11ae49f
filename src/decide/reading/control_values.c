/* What the readings of the controls share: see the header. */
#include "decide/reading/control_values.h"

#include "decide/reading/reading.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

hp_controls_params hp_assess_controls(const hp_assess_case *given)
{
    return given->controls ? *given->controls : hp_controls_params_default();
}

void hp_step_found(hp_finding *worst, int *code, hp_finding finding, int of)
{
    if (finding <= *worst)
        return;
    *worst = finding;
    *code = of;
}

bool hp_brake_takes_battery(const hp_assess_case *given)
{
    return given->controls && given->controls_stated &&
           given->controls->brake.expects_at == HP_LEVEL_VOLTS;
}

double hp_step_pins_most_v(const hp_assess_case *given, hp_pins_of control)
{
    bool input = control == HP_PINS_OF_SPEED ||
                 (control == HP_PINS_OF_BRAKE && !hp_brake_takes_battery(given));
    return input ? HP_INPUT_V_MOST : hp_pins_most_v(control);
}

/* The most that any pin has, either way. */
static double most_of(const hp_plug_volts *plug)
{
    double most = 0.0;
    for (int pin = 0; pin < plug->pins; pin++) {
        most = fmax(most, fabs(plug->off[pin])); /* of NAN and a number the number */
        for (int s = 0; s < plug->states[pin]; s++)
            most = fmax(most, fabs(plug->at[s][pin]));
    }
    return most;
}

/* Battery volts where a switch's input bears 5 or 12 V, read once or often, kill the controller as
 * soon as the switch joins them to it. No scenario can say that those of a speed switch are right.
 */
static void find_battery(const hp_assess_case *given, const hp_plug_volts *plug, hp_pins_of control,
                         hp_finding *worst, int *code)
{
    bool sure = control == HP_PINS_OF_BRAKE;
    if ((sure || control == HP_PINS_OF_SPEED) &&
        most_of(plug) > hp_step_pins_most_v(given, control))
        hp_step_found(worst, code, sure ? HP_FINDING_STOP : HP_FINDING_LOOK,
                      HP_STEP_PINS_AT + HP_ROLES_TOO_HIGH);
}

void hp_step_found_in_plug(const hp_assess_case *given, const hp_plug_volts *plug,
                           hp_pins_of control, hp_finding *worst, int *code)
{
    if (!hp_plug_volts_said(plug))
        return;
    find_battery(given, plug, control, worst, code);
    hp_pin_roles roles = hp_plug_volts_roles(plug, control, given->drive->supply.emf_v);
    if (roles.why == HP_ROLES_TOLD)
        return;
    hp_step_found(worst, code, roles.why == HP_ROLES_TOO_HIGH ? HP_FINDING_STOP : HP_FINDING_LOOK,
                  HP_STEP_PINS_AT + (int)roles.why);
}

hp_finding hp_step_end(hp_finding worst, bool all, int *code)
{
    hp_step_found(&worst, code, all ? HP_FINDING_GOOD : HP_FINDING_NOTED,
                  all ? HP_STEP_FINE : HP_STEP_PART);
    return worst;
}

const hp_harness_part *hp_step_listed(const hp_assess_case *given, hp_control_part control)
{
    const hp_harness *harness = given->harness;
    for (int k = 0; harness && control != HP_CONTROL_PART_NONE && k < harness->parts; k++)
        if (harness->part[k].control == control)
            return &harness->part[k];
    return NULL;
}

/* Of the controls that a scenario can say are not there. */
static bool is_stated(const hp_controls_params *c, hp_control_part control)
{
    return control == HP_CONTROL_PART_KEY            ? c->key
           : control == HP_CONTROL_PART_THROTTLE     ? c->throttle.fitted
           : control == HP_CONTROL_PART_BRAKE        ? c->brake.fitted != HP_SWITCH_NONE
           : control == HP_CONTROL_PART_PEDAL_SENSOR ? c->pedal.mode != HP_PEDAL_NONE
                                                     : true;
}

bool hp_assess_has(const hp_assess_case *given, hp_control_part control)
{
    for (int k = given->entries - 1; k >= 0; k--) {
        const hp_reading *reading = given->entry[k].reading;
        const hp_field *fitted =
            reading->control == control ? hp_field_find(reading, "fitted") : NULL;
        const unsigned char *said = hp_entry_said(&given->entry[k]);
        /* What notes anything of it has it. */
        if (fitted)
            return *(const hp_tell *)(const void *)(said + fitted->offset) != HP_TELL_NO;
    }
    const hp_controls_params controls = hp_assess_controls(given);
    return is_stated(&controls, control);
}

double hp_assess_assist(const hp_assess_case *given)
{
    const hp_pedal_params pedal = hp_assess_controls(given).pedal;
    bool pedals =
        pedal.mode == HP_PEDAL_DRIVES && hp_assess_has(given, HP_CONTROL_PART_PEDAL_SENSOR);
    return pedals && !hp_assess_has(given, HP_CONTROL_PART_THROTTLE) ? pedal.assist : 0.0;
}

hp_finding hp_step_not_fitted(const hp_assess_case *given, hp_control_part control, int *code)
{
    bool listed = hp_step_listed(given, control) != NULL;
    *code = listed ? HP_STEP_YET_LISTED : HP_STEP_NOT_FITTED;
    return listed ? HP_FINDING_LOOK : HP_FINDING_NOTED;
}

static bool is_said(const hp_field *field, const unsigned char *values, const unsigned char *unsaid)
{
    size_t at = field->offset;
    switch (field->type) {
    case HP_FIELD_NUMBER: return !isnan(*(const double *)(const void *)(values + at));
    case HP_FIELD_PIN_VOLTS: return ((const hp_plug_volts *)(const void *)(values + at))->pins > 0;
    case HP_FIELD_MINUS_PIN: return ((const hp_plug_volts *)(const void *)(values + at))->minus;
    default: return memcmp(values + at, unsaid + at, sizeof(int)) != 0;
    }
}

/* What the field says that there is none by: "no", or its choice. */
static const char *absent_word(const hp_reading *kind, const char *by, const void *values)
{
    for (const hp_field *f = kind->fields; f->name; f++)
        if (strcmp(f->name, by) == 0 && f->type == HP_FIELD_CHOICE) {
            int said = *(const int *)(const void *)((const unsigned char *)values + f->offset);
            return said >= f->first ? f->words[said - f->first] : "no";
        }
    return "no";
}

bool hp_settle_absent(const hp_settling *settling, const hp_reading *kind, bool absent,
                      const char *by, const void *values)
{
    char name[80], text[160];
    hp_entry unsaid = hp_entry_make(kind, 1);
    for (const hp_field *f = kind->fields; absent && f->name; f++)
        if (strcmp(f->name, by) != 0 && is_said(f, values, unsaid.values)) {
            snprintf(text, sizeof text, "is given, though %s is %s: leave one of the two out",
                     settling->name(settling, by, name, sizeof name),
                     absent_word(kind, by, values));
            settling->refuse(settling, f->name, f->name, text);
            return false;
        }
    return true;
}

hp_control_reason hp_assess_never_drives(const hp_assess_case *given)
{
    if (!given->controls || !given->controls_stated)
        return HP_CONTROL_DRIVES;
    hp_controls_state state = hp_controls_state_rest(given->controls);
    state.grip = 1.0;
    state.crank_turns_s = 1.0;
    state.pedalled = hp_pedal_says_forward(&given->controls->pedal, &state);
    return hp_controls_demand(given->controls, &state).reason;
}

bool hp_assess_drives_at_rest(const hp_assess_case *given)
{
    if (!given->controls || !given->controls_stated)
        return false;
    hp_controls_state state = hp_controls_state_rest(given->controls);
    return hp_controls_demand(given->controls, &state).reason == HP_CONTROL_DRIVES;
}
