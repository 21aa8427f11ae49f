/*
 * Pins: continuity of the leads, everything unplugged, and which pin of the plug has which lead.
 *
 * A torn lead shows as a pair without continuity. Two findings are dangers: a lead on axle or
 * shell, and a phase lead on a sensor lead.
 */
#include "decide/practise/hidden.h"
#include "decide/reading/reading_parts.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "model/plug.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const hp_danger hp_danger_shell = {"lead_on_shell", &hp_reading_pins};
const hp_danger hp_danger_crossed = {"phase_on_sensor", &hp_reading_pins};

static const char *const halves[] = {"motor", "controller", NULL};

static const hp_field fields[] = {
    {.name = "continuity",
     .type = HP_FIELD_CONTINUITY,
     .offset = offsetof(hp_pins, open),
     .argument = "PAIR=YES-OR-NO",
     .help = "Continuity of a pair of phase leads; yes or no alone counts for all three"},
    {.name = "touches_shell",
     .type = HP_FIELD_TELL,
     .offset = offsetof(hp_pins, shell),
     .argument = "YES-OR-NO",
     .help = "Some lead has continuity to axle or shell"},
    {.name = "phase_touches_sensor",
     .type = HP_FIELD_TELL,
     .offset = offsetof(hp_pins, crossed),
     .argument = "YES-OR-NO",
     .help = "Some phase lead has continuity to a Hall lead"},
    {.name = "phase_pins",
     .type = HP_FIELD_PHASE_PINS,
     .offset = offsetof(hp_pins, plug),
     .first = HP_PLUG_PHASE_U,
     .argument = "LEAD=PIN",
     .help = "Plug pin of a phase lead: its place, such as \"3 o'clock outer\" or \"row 1 column "
             "2\", or its name"},
    {.name = "sensor_pins",
     .type = HP_FIELD_SENSOR_PINS,
     .offset = offsetof(hp_pins, plug),
     .first = HP_PLUG_SENSOR_U,
     .argument = "LEAD=PIN",
     .help = "Plug pin of a Hall lead"},
    {.name = "supply_plus_pin",
     .type = HP_FIELD_PIN,
     .offset = offsetof(hp_pins, plug),
     .first = HP_PLUG_SUPPLY_PLUS,
     .argument = "PIN",
     .help = "Plug pin of Hall plus"},
    {.name = "supply_minus_pin",
     .type = HP_FIELD_PIN,
     .offset = offsetof(hp_pins, plug),
     .first = HP_PLUG_SUPPLY_MINUS,
     .argument = "PIN",
     .help = "Plug pin of Hall minus"},
    {.name = "half_seen",
     .type = HP_FIELD_CHOICE,
     .offset = offsetof(hp_pins, plug) + offsetof(hp_plug_map, half),
     .words = halves,
     .first = HP_HALF_MOTOR,
     .argument = "HALF",
     .help = "Which half of the plug the places of the pins were seen on: motor or controller"},
    {.name = "plug_columns",
     .type = HP_FIELD_WHOLE,
     .limits = {.unit = "", .low = 1, .high = HP_PLUG_COLUMNS_MAX, .whole = true},
     .offset = offsetof(hp_pins, plug) + offsetof(hp_plug_map, columns),
     .argument = "N",
     .help = "Columns of a plug with rows and columns"},
    {.name = NULL},
};

/* ---- the plug -------------------------------------------------------------------------------- */

/* The field that says the pin of a lead. */
static const char *const plug_field[HP_PLUG_LEAD_COUNT] = {
    "phase_pins",  "phase_pins",  "phase_pins",      "sensor_pins",
    "sensor_pins", "sensor_pins", "supply_plus_pin", "supply_minus_pin"};

char *hp_plug_lead_name(const hp_labels *labels, int lead, char *out, size_t size)
{
    if (lead < HP_PLUG_SENSOR_U)
        snprintf(out, size, "phase lead %s", labels->motor_lead[lead]);
    else if (lead < HP_PLUG_SUPPLY_PLUS)
        snprintf(out, size, "Hall lead %s", labels->motor_sensor[lead - HP_PLUG_SENSOR_U]);
    else
        snprintf(out, size, "%s", lead == HP_PLUG_SUPPLY_PLUS ? "Hall plus" : "Hall minus");
    return out;
}

bool hp_plug_has_places(const hp_plug_map *plug)
{
    bool any = false;
    for (int k = 0; plug->given && k < HP_PLUG_LEAD_COUNT; k++)
        any = any || hp_pin_place_read(plug->pin[k]).kind != HP_PLACE_NONE;
    return any;
}

int hp_plug_columns(const hp_plug_map *plug)
{
    int columns = 0;
    for (int k = 0; plug->given && k < HP_PLUG_LEAD_COUNT; k++) {
        hp_pin_place place = hp_pin_place_read(plug->pin[k]);
        if (place.kind == HP_PLACE_GRID && place.column > columns)
            columns = place.column;
    }
    return columns > 0 && plug->columns > columns ? plug->columns : columns;
}

bool hp_plug_same_pin(const char *a, const char *b)
{
    hp_pin_place first = hp_pin_place_read(a), second = hp_pin_place_read(b);
    if (first.kind == HP_PLACE_NONE || second.kind == HP_PLACE_NONE)
        return strcmp(a, b) == 0;
    return hp_pin_place_same(&first, &second);
}

/* Places that cannot be in the face they were seen in. */
static bool settle_places(const hp_settling *settling, const hp_plug_map *plug)
{
    char text[160];
    if (!hp_plug_has_places(plug))
        return true;
    if (plug->half == HP_HALF_UNSAID) {
        settling->refuse(settling, "half_seen", NULL,
                         "is not said, must be motor or controller: the face of the one half of a "
                         "plug is the mirror image of the other");
        return false;
    }
    int needed = 0, stated = plug->columns;
    hp_plug_map bare = *plug;
    bare.columns = 0;
    needed = hp_plug_columns(&bare);
    if (stated > 0 && stated < needed) {
        snprintf(text, sizeof text, "is %d, must be at least %d: a pin sits in that column", stated,
                 needed);
        settling->refuse(settling, "plug_columns", NULL, text);
        return false;
    }
    return true;
}

/* Every lead one pin, no pin twice. */
static bool settle(const hp_settling *settling, const void *values)
{
    const hp_plug_map *plug = &((const hp_pins *)values)->plug;
    char text[3 * HP_LABEL_SIZE + 160], name[HP_LABEL_SIZE + 16], other[HP_LABEL_SIZE + 16];
    bool good = settle_places(settling, plug);
    for (int k = 0; plug->given && k < HP_PLUG_LEAD_COUNT; k++) {
        hp_plug_lead_name(settling->labels, k, name, sizeof name);
        if (plug->pin[k][0] == '\0') {
            snprintf(text, sizeof text, "says no pin for %s, must name one pin for every lead",
                     name);
            settling->refuse(settling, plug_field[k], NULL, text);
            good = false;
        }
        for (int j = 0; j < k && plug->pin[k][0]; j++)
            if (plug->pin[j][0] && hp_plug_same_pin(plug->pin[j], plug->pin[k])) {
                snprintf(text, sizeof text,
                         "gives pin %s to %s, which has %s already: no pin twice", plug->pin[k],
                         name, hp_plug_lead_name(settling->labels, j, other, sizeof other));
                settling->refuse(settling, plug_field[k], NULL, text);
                good = false;
            }
    }
    return good;
}

/* ---- for the advice -------------------------------------------------------------------------- */

int hp_pins_impossible_pair(const hp_pins *pins)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (pins->open[k] == HP_TELL_YES && pins->open[(k + 1) % HP_PHASE_COUNT] == HP_TELL_NO &&
            pins->open[(k + 2) % HP_PHASE_COUNT] == HP_TELL_NO)
            return k;
    return -1;
}

static bool cannot_be(const void *values)
{
    return hp_pins_impossible_pair(values) >= 0;
}

static double weigh(const hp_reading_case *c, const void *values)
{
    const hp_pins *pins = values;
    double weight = 1.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (pins->open[k] == HP_TELL_UNSAID)
            continue;
        bool open = pins->open[k] == HP_TELL_YES;
        bool loose = c->loose == k || c->loose == (k + 1) % HP_PHASE_COUNT;
        double silent = fmax(loose ? HP_LOOSE_OPEN : 0.0, c->person->pair_misread);
        if (hp_pair_open(c->hypothesis, k))
            weight *= open ? 1.0 - c->person->pair_misread : c->person->pair_misread;
        else
            weight *= open ? silent : 1.0 - silent;
    }
    return weight;
}

static void typical(const hp_reading_case *c, void *values)
{
    hp_pins *pins = values;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        pins->open[k] = hp_pair_open(c->hypothesis, k) ? HP_TELL_YES : HP_TELL_NO;
}

static int dangers(const hp_reading_case *c, hp_entry *entry)
{
    (void)c;
    for (int e = 0; e < 2; e++) {
        entry[e] = hp_entry_make(&hp_reading_pins, 0);
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            entry[e].pins.open[k] = HP_TELL_NO;
    }
    entry[0].pins.shell = HP_TELL_YES;
    entry[1].pins.crossed = HP_TELL_YES;
    return 2;
}

static const hp_danger *const pin_dangers[] = {&hp_danger_shell, &hp_danger_crossed, NULL};

static hp_tell danger(const void *values, const hp_danger *danger, const hp_plan_params *plan,
                      const hp_person *person)
{
    const hp_pins *pins = values;
    (void)plan, (void)person;
    return danger == &hp_danger_shell ? pins->shell : pins->crossed;
}

static hp_result see(hp_seen *seen, void *values, hp_error *err)
{
    hp_pins *pins = values;
    (void)err;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        pins->open[k] = hp_seen_pair_open(seen, k) ? HP_TELL_YES : HP_TELL_NO;
    pins->shell = seen->fault == HP_PRACTICE_ON_SHELL ? HP_TELL_YES : HP_TELL_NO;
    pins->crossed = seen->fault == HP_PRACTICE_PHASE_ON_HALL ? HP_TELL_YES : HP_TELL_NO;
    return HP_OK;
}

/* A motor with an open lead does not run. */
static bool contradicts(const hp_assess_case *given, const void *values)
{
    const hp_pins *pins = values;
    (void)given;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (pins->open[k] == HP_TELL_YES)
            return true;
    return false;
}

const hp_reading hp_reading_pins = {
    .name = "pins",
    .title = "pins",
    .size = sizeof(hp_pins),
    .fields = fields,
    .settle = settle,
    .minutes = 4.0, /* chosen: nine leads, a meter that beeps */
    .first = true,
    .rank = 3,
    .looks = HP_LOOKS_MANY,
    .shows_faults = true,
    .typical = typical,
    .dangers = dangers,
    .speaks_of = pin_dangers,
    .danger = danger,
    .contradicts = contradicts,
    .cannot_be = cannot_be,
    .weigh = weigh,
    .guards = HP_POWER_LEADS,
    .see = see,
};
