/* Volts at the pins of a control's plug: see the header. */
#include "decide/reading/plug_volts.h"

#include "decide/reading/reading_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

hp_plug_volts hp_plug_volts_none(void)
{
    hp_plug_volts plug;
    memset(&plug, 0, sizeof plug);
    for (int pin = 0; pin < HP_PINS_MOST; pin++) {
        plug.off[pin] = (double)NAN;
        for (int s = 0; s < HP_PINS_STATES; s++)
            plug.at[s][pin] = (double)NAN;
    }
    return plug;
}

int hp_plug_volts_pin(hp_plug_volts *plug, const char *name)
{
    for (int pin = 0; pin < plug->pins; pin++)
        if (strcmp(plug->name[pin], name) == 0)
            return pin;
    if (plug->pins == HP_PINS_MOST)
        return -1;
    snprintf(plug->name[plug->pins], HP_PIN_NAME, "%s", name);
    return plug->pins++;
}

bool hp_plug_volts_said(const hp_plug_volts *plug)
{
    for (int pin = 0; pin < plug->pins; pin++)
        if (plug->states[pin] > 0)
            return true;
    return false;
}

hp_result hp_plug_volts_check(const hp_plug_volts *plug, hp_error *err)
{
    hp_result result = hp_check_whole(err, "number of pins", plug->pins, 0, HP_PINS_MOST);
    for (int pin = 0; result == HP_OK && pin < plug->pins; pin++) {
        result = hp_check_whole(err, "number of volts", plug->states[pin], 0, HP_PINS_STATES);
        for (int s = 0; result == HP_OK && s < plug->states[pin]; s++)
            result = hp_check_range(err, "volts of a pin", plug->at[s][pin], -HP_PIN_V_MOST,
                                    HP_PIN_V_MOST);
        if (result == HP_OK && !isnan(plug->off[pin]))
            result = hp_check_range(err, "volts of a pin", plug->off[pin], -HP_PIN_V_MOST,
                                    HP_PIN_V_MOST);
    }
    return result;
}

bool hp_plug_volts_settle(const hp_settling *settling, const hp_plug_volts *plug)
{
    char text[HP_PIN_NAME + 160];
    for (int pin = 0; pin < plug->pins; pin++) {
        const char *beside = !isnan(plug->off[pin]) ? "pulled_v" : "minus_pin";
        if (plug->states[pin] == 0) {
            snprintf(text, sizeof text,
                     "says nothing of pin %s, must have the volts of every pin that is named",
                     plug->name[pin]);
            settling->refuse(settling, "pins", beside, text);
            return false;
        }
        if (plug->states[pin] < 2 || plug->states[pin] != plug->states[0]) {
            snprintf(text, sizeof text,
                     "gives %d volts for pin %s, must give as many for each: at rest, and pressed",
                     plug->states[pin], plug->name[pin]);
            settling->refuse(settling, "pins", NULL, text);
            return false;
        }
    }
    return true;
}

hp_pin_roles hp_plug_volts_roles(const hp_plug_volts *plug, hp_pins_of control, double battery_v)
{
    hp_pin_volts volts = hp_pin_volts_none();
    volts.pins = plug->pins;
    volts.states = plug->pins > 0 ? plug->states[0] : 0;
    volts.battery_v = battery_v;
    memcpy(volts.at, plug->at, sizeof volts.at);
    memcpy(volts.off, plug->off, sizeof volts.off);
    for (int pin = 0; plug->minus != 0 && pin < plug->pins; pin++)
        volts.minus[pin] = plug->minus == pin + 1 ? HP_TELL_YES : HP_TELL_NO;
    return hp_pin_roles_find(control, &volts);
}
