/*
 * Volts at the pins of one control's plug, as entries of several kinds note them, and what they
 * tell: roles of the pins, by decide/commission/pin_roles.h.
 */
#ifndef HUBPHASE_SRC_DECIDE_READING_PLUG_VOLTS_H
#define HUBPHASE_SRC_DECIDE_READING_PLUG_VOLTS_H

#include "decide/commission/pin_roles.h"
#include "decide/reading/reading.h"

#define HP_PIN_NAME 28 /* bytes of a pin's colour or place, with the zero */

/* Pins in the order in which they were noted. All zero but the volts, which are NAN: nothing said.
 */
typedef struct hp_plug_volts {
    int pins;
    char name[HP_PINS_MOST][HP_PIN_NAME];
    int states[HP_PINS_MOST];                /* how many volts a pin has, at rest first */
    double at[HP_PINS_STATES][HP_PINS_MOST]; /* [V] */
    double off[HP_PINS_MOST];                /* [V] plug pulled; NAN: not said */
    int minus;                               /* 1 + the pin that beeps to battery minus; -1: none
                                                does; 0: not said */
} hp_plug_volts;

hp_plug_volts hp_plug_volts_none(void);
/* The pin of this name, made where it is not there; -1: there are HP_PINS_MOST others. */
int hp_plug_volts_pin(hp_plug_volts *plug, const char *name);
/* Whether any volts were noted with the control joined. */
bool hp_plug_volts_said(const hp_plug_volts *plug);
/* HP_FAIL_INPUT, naming the pin, when volts are out of range. */
hp_result hp_plug_volts_check(const hp_plug_volts *plug, hp_error *err);
/* For `settle`: every pin has volts, all as many. */
bool hp_plug_volts_settle(const hp_settling *settling, const hp_plug_volts *plug);
/* What they tell; HP_ROLES_UNMEASURED where nothing was noted. */
hp_pin_roles hp_plug_volts_roles(const hp_plug_volts *plug, hp_pins_of control, double battery_v);

#define HP_PIN_V_MOST 200.0 /* [V] either way; no hub machine has more */

#define HP_USUAL_UNSTATED                                                                          \
    {                                                                                              \
        .high = 0                                                                                  \
    }
/* chosen: inputs of switches are pulled up to 5 V, at most to 12 V, and a meter is off; what the
 * battery feeds has no more than a full one of the next size up. */
#define HP_INPUT_V_MOST 20.0
#define HP_USUAL_INPUT                                                                             \
    {                                                                                              \
        .high = HP_INPUT_V_MOST                                                                    \
    }
#define HP_USUAL_BRAKE                                                                             \
    {                                                                                              \
        .brake = HP_INPUT_V_MOST                                                                   \
    }
#define HP_BATTERY_SHARE 1.5 /* of the battery's stated volts; chosen */
#define HP_USUAL_BATTERY                                                                           \
    {                                                                                              \
        .battery = HP_BATTERY_SHARE                                                                \
    }
#define HP_USUAL_FULL_V 1.0 /* [V] chosen: less than a third of what an open grip gives */

/* The fields of a kind whose values have `plug`: `pins` with up to `states` volts each,
 * `pulled_v`, `minus_pin`; `usual`: volts that such pins have, as {.high = 20}. */
#define HP_PLUG_FIELDS(type_, plug_, states_, usual_)                                              \
    {.name = "pins",                                                                               \
     .type = HP_FIELD_PIN_VOLTS,                                                                   \
     .limits = {.unit = "V", .low = -HP_PIN_V_MOST, .high = HP_PIN_V_MOST},                        \
     .usual = usual_,                                                                              \
     .offset = offsetof(type_, plug_),                                                             \
     .first = (states_),                                                                           \
     .argument = "PIN=VOLTS",                                                                      \
     .help =                                                                                       \
         "Volts of a pin of the part's plug against battery minus, joined, at rest and pressed "   \
         "or in each position: red=5.02/5.01"},                                                    \
        {.name = "pulled_v",                                                                       \
         .type = HP_FIELD_PIN_VOLTS,                                                               \
         .limits = {.unit = "V", .low = -HP_PIN_V_MOST, .high = HP_PIN_V_MOST},                    \
         .usual = usual_,                                                                          \
         .offset = offsetof(type_, plug_),                                                         \
         .first = 0,                                                                               \
         .argument = "PIN=VOLTS",                                                                  \
         .help = "Volts of a pin at the controller's half, the plug pulled"},                      \
    {                                                                                              \
        .name = "minus_pin", .type = HP_FIELD_MINUS_PIN, .offset = offsetof(type_, plug_),         \
        .argument = "PIN",                                                                         \
        .help = "The pin that beeps to battery minus, all dead and unplugged, or none"             \
    }

#endif
