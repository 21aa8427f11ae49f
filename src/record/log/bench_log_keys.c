/* The keys of a bench log's entries: see the header. */
#include "record/log/bench_log_keys.h"

#include "record/scenario/scenario_keys.h"

#include <stddef.h>
#include <string.h>
#include <strings.h>

/* Fastest wheel that evidence takes: 1000 rad/s. */
#define RPM_MAX 9549.0

static const char *const turn_words[] = {"forward", "backward", NULL};
static const char *const meter_words[] = {"rms", "average", "peak", NULL};
static const char *const motion_words[] = {"forward", "backward", "both", "hum",
                                           "shiver",  "still",    NULL};
static const char *const feel_words[] = {"smooth", "rough", "noisy", NULL};
static const char *const part_words[] = {
    "sensor_stuck_high", "sensor_stuck_low", "phase_lead_open", "clutch", "inverted_sensor", NULL};

#define AT(field) offsetof(hp_bench_entry, field)

const hp_bench_key hp_bench_keys[] = {
    {.kind = HP_ENTRY_PINS,
     .name = "continuity",
     .type = HP_BENCH_CONTINUITY,
     .offset = AT(entry.pins.open),
     .argument = "PAIR=YES-OR-NO",
     .help = "Continuity of a pair of phase leads; yes or no alone counts for all three"},
    {.kind = HP_ENTRY_PINS,
     .name = "touches_shell",
     .type = HP_BENCH_TELL,
     .offset = AT(entry.pins.shell),
     .argument = "YES-OR-NO",
     .help = "Some lead has continuity to axle or shell"},
    {.kind = HP_ENTRY_PINS,
     .name = "phase_touches_sensor",
     .type = HP_BENCH_TELL,
     .offset = AT(entry.pins.crossed),
     .argument = "YES-OR-NO",
     .help = "Some phase lead has continuity to a sensor lead"},
    {.kind = HP_ENTRY_PINS,
     .name = "phase_pins",
     .type = HP_BENCH_PHASE_PINS,
     .offset = AT(plug.pin[HP_PLUG_PHASE_U]),
     .argument = "LEAD=PIN",
     .help = "Plug pin of a phase lead"},
    {.kind = HP_ENTRY_PINS,
     .name = "sensor_pins",
     .type = HP_BENCH_SENSOR_PINS,
     .offset = AT(plug.pin[HP_PLUG_SENSOR_U]),
     .argument = "LEAD=PIN",
     .help = "Plug pin of a sensor lead"},
    {.kind = HP_ENTRY_PINS,
     .name = "supply_plus_pin",
     .type = HP_BENCH_PIN,
     .offset = AT(plug.pin[HP_PLUG_SUPPLY_PLUS]),
     .argument = "PIN",
     .help = "Plug pin of the sensors' plus"},
    {.kind = HP_ENTRY_PINS,
     .name = "supply_minus_pin",
     .type = HP_BENCH_PIN,
     .offset = AT(plug.pin[HP_PLUG_SUPPLY_MINUS]),
     .argument = "PIN",
     .help = "Plug pin of the sensors' minus"},

    {.kind = HP_ENTRY_SUPPLY,
     .name = "supply_v",
     .type = HP_BENCH_NUMBER,
     .required = true,
     .limits = {.unit = "V", .low = -200, .high = 200},
     .offset = AT(entry.supply.volts),
     .factor = 1,
     .argument = "VOLTS",
     .help = "Volts at the controller's sensor supply pins, sensors not joined"},

    {.kind = HP_ENTRY_HAND_TURN,
     .name = "codes",
     .type = HP_BENCH_CODES,
     .required = true,
     .offset = AT(entry.hand_turn),
     .argument = "CODES",
     .help = "Sensor codes in the order seen, such as 101,100,110"},
    {.kind = HP_ENTRY_HAND_TURN,
     .name = "direction",
     .type = HP_BENCH_BACKWARD,
     .words = turn_words,
     .offset = AT(entry.hand_turn.backward),
     .argument = "WAY",
     .help = "The wheel was turned forward (when not given) or backward"},
    {.kind = HP_ENTRY_HAND_TURN,
     .name = "edges_per_wheel_turn",
     .type = HP_BENCH_WHOLE,
     .limits = {.unit = "", .low = 1, .high = 100000, .whole = true},
     .offset = AT(entry.hand_turn.edges),
     .argument = "N",
     .help = "Changes of one sensor counted over one turn of the wheel"},

    {.kind = HP_ENTRY_WINDING,
     .name = "resistance_ohm",
     .type = HP_BENCH_PAIRS,
     .required = true,
     .limits = {.unit = "ohm", .low = 0, .high = 1e6, .none = true},
     .offset = AT(entry.winding.ohm),
     .argument = "PAIR=OHMS",
     .help = "Resistance of a pair of phase leads, or open"},
    {.kind = HP_ENTRY_WINDING,
     .name = "test_leads_ohm",
     .type = HP_BENCH_NUMBER,
     .limits = {.unit = "ohm", .low = 0, .high = 100},
     .offset = AT(entry.winding.leads_ohm),
     .factor = 1,
     .argument = "OHMS",
     .help = "What the meter shows with its leads held together (0 when not given)"},
    {.kind = HP_ENTRY_WINDING,
     .name = "winding_c",
     .type = HP_BENCH_NUMBER,
     .limits = {.unit = "degrees C", .low = -40, .high = 200},
     .offset = AT(entry.winding.copper_c),
     .factor = 1,
     .argument = "DEGREES",
     .help = "Temperature of the winding in degrees C (20 when not given)"},

    {.kind = HP_ENTRY_SPIN,
     .name = "voltage_v",
     .type = HP_BENCH_PAIRS,
     .required = true,
     .limits = {.unit = "V", .low = 0, .high = 1000},
     .offset = AT(entry.spin.volts),
     .argument = "PAIR=VOLTS",
     .help = "Volts between a pair of phase leads"},
    {.kind = HP_ENTRY_SPIN,
     .name = "wheel_speed_rpm",
     .type = HP_BENCH_NUMBER,
     .required = true,
     .limits = {.unit = "rpm", .low = 0, .high = RPM_MAX, .above = true},
     .offset = AT(entry.spin.wheel_rad_s),
     .factor = HP_RPM,
     .argument = "RPM",
     .help = "Speed of the wheel"},
    {.kind = HP_ENTRY_SPIN,
     .name = "meter",
     .type = HP_BENCH_CHOICE,
     .required = true,
     .words = meter_words,
     .first = HP_VOLT_RMS,
     .offset = AT(entry.spin.kind),
     .argument = "KIND",
     .help = "The meter shows true rms (rms), the a.c. average (average) or the peak (peak)"},

    {.kind = HP_ENTRY_PARK,
     .name = "plus_lead",
     .type = HP_BENCH_PHASE_LEAD,
     .required = true,
     .offset = AT(entry.park.lead),
     .argument = "LEAD",
     .help = "Phase lead at plus of the current-limited supply, the other two at minus"},
    {.kind = HP_ENTRY_PARK,
     .name = "code",
     .type = HP_BENCH_CODE,
     .offset = AT(entry.park.code),
     .argument = "CODE",
     .help = "Sensor code where the rotor rests, such as 110"},
    {.kind = HP_ENTRY_PARK,
     .name = "no_current",
     .type = HP_BENCH_TELL,
     .offset = AT(entry.park.no_current),
     .argument = "YES-OR-NO",
     .help = "The supply showed no current"},

    {.kind = HP_ENTRY_PROBE,
     .name = "rows",
     .type = HP_BENCH_ROWS,
     .required = true,
     .offset = AT(entry.probe),
     .argument = "CODE=HIGH>LOW",
     .help = "Outputs seen high and low at a code of the inputs, or CODE=off"},

    {.kind = HP_ENTRY_TRIAL,
     .name = "wiring",
     .type = HP_BENCH_WIRING,
     .required = true,
     .offset = AT(entry.trial.wiring),
     .argument = "W",
     .help = "Wiring that was joined: its number 1 to 36, or \"sensor leads / phase leads\""},
    {.kind = HP_ENTRY_TRIAL,
     .name = "throttle_percent",
     .type = HP_BENCH_NUMBER,
     .required = true,
     .limits = {.unit = "%", .low = 0, .high = 100},
     .offset = AT(entry.trial.throttle),
     .factor = 0.01,
     .argument = "PERCENT",
     .help = "Throttle, 0 to 100 (the scenario's when not given)"},
    {.kind = HP_ENTRY_TRIAL,
     .name = "motion",
     .type = HP_BENCH_CHOICE,
     .words = motion_words,
     .first = HP_MOVED_FORWARD,
     .offset = AT(entry.trial.motion),
     .argument = "MOTION",
     .help = "forward, backward, both (from some places forward, from others backward), hum (the "
             "hub hums, the wheel stays), shiver or still"},
    {.kind = HP_ENTRY_TRIAL,
     .name = "feel",
     .type = HP_BENCH_CHOICE,
     .words = feel_words,
     .first = HP_FEEL_SMOOTH,
     .offset = AT(entry.trial.feel),
     .argument = "FEEL",
     .help = "smooth, rough or noisy"},
    {.kind = HP_ENTRY_TRIAL,
     .name = "starts",
     .type = HP_BENCH_WHOLE,
     .limits = {.unit = "", .low = 0, .high = 100, .whole = true},
     .offset = AT(entry.trial.starts),
     .argument = "N",
     .help = "Rest places from which it started"},
    {.kind = HP_ENTRY_TRIAL,
     .name = "starts_tried",
     .type = HP_BENCH_WHOLE,
     .limits = {.unit = "", .low = 1, .high = 100, .whole = true},
     .offset = AT(entry.trial.starts_tried),
     .argument = "N",
     .help = "Rest places that were tried"},
    {.kind = HP_ENTRY_TRIAL,
     .name = "battery_a",
     .type = HP_BENCH_NUMBER,
     .limits = {.unit = "A", .low = 0, .high = 1000},
     .offset = AT(entry.trial.battery_a),
     .factor = 1,
     .argument = "AMPERES",
     .help = "Battery current"},
    {.kind = HP_ENTRY_TRIAL,
     .name = "wheel_speed_rpm",
     .type = HP_BENCH_NUMBER,
     .limits = {.unit = "rpm", .low = 0, .high = RPM_MAX},
     .offset = AT(entry.trial.wheel_rad_s),
     .factor = HP_RPM,
     .argument = "RPM",
     .help = "Speed of the wheel"},
    {.kind = HP_ENTRY_TRIAL,
     .name = "cut_out",
     .type = HP_BENCH_TELL,
     .offset = AT(entry.trial.cut_out),
     .argument = "YES-OR-NO",
     .help = "The controller cut out"},
    {.kind = HP_ENTRY_TRIAL,
     .name = "warm",
     .type = HP_BENCH_TELL,
     .offset = AT(entry.trial.warm),
     .argument = "YES-OR-NO",
     .help = "Winding or leads grew warm"},

    {.kind = HP_ENTRY_LEARN,
     .name = "worked",
     .type = HP_BENCH_TELL,
     .required = true,
     .offset = AT(entry.learn.worked),
     .argument = "YES-OR-NO",
     .help = "Learning ended with a wheel that runs forward smoothly"},

    {.kind = HP_ENTRY_MEND,
     .name = "part",
     .type = HP_BENCH_PART,
     .required = true,
     .words = part_words,
     .offset = AT(entry.mend),
     .argument = "PART",
     .help = "What was mended: sensor_stuck_high, sensor_stuck_low, phase_lead_open, clutch or "
             "inverted_sensor"},
    {.kind = HP_ENTRY_MEND,
     .name = "lead",
     .type = HP_BENCH_PART_LEAD,
     .offset = AT(entry.mend.fault.which),
     .argument = "LEAD",
     .help = "The sensor lead or phase lead of the mended part"},
    {.kind = HP_ENTRY_KIND_COUNT, .name = NULL},
};

const hp_bench_key *hp_bench_keys_of(hp_entry_kind kind)
{
    const hp_bench_key *key = hp_bench_keys;
    while (key->name && key->kind != kind)
        key++;
    return key;
}

int hp_bench_keys_count(hp_entry_kind kind)
{
    int count = 0;
    for (const hp_bench_key *key = hp_bench_keys_of(kind); key->name && key->kind == kind; key++)
        count++;
    return count;
}

const hp_bench_key *hp_bench_key_find(hp_entry_kind kind, const char *name)
{
    for (const hp_bench_key *key = hp_bench_keys; key->name; key++)
        if (key->kind == kind && strcmp(key->name, name) == 0)
            return key;
    return NULL;
}

const char *hp_bench_kind_name(hp_entry_kind kind)
{
    static const char *const name[HP_ENTRY_KIND_COUNT] = {
        "pins", "sensor_supply",    "hand_turn", "winding", "spin",
        "park", "controller_probe", "trial",     "learn",   "mend"};
    return (int)kind >= 0 && kind < HP_ENTRY_KIND_COUNT ? name[kind] : "unknown";
}

hp_entry_kind hp_bench_kind_find(const char *name)
{
    for (hp_entry_kind kind = 0; kind < HP_ENTRY_KIND_COUNT; kind++) {
        const char *own = hp_bench_kind_name(kind);
        size_t k = 0;
        while (own[k] && (own[k] == name[k] || (own[k] == '_' && name[k] && strchr("- ", name[k]))))
            k++;
        if (!own[k] && !name[k])
            return kind;
    }
    return HP_ENTRY_KIND_COUNT;
}

const char *hp_bench_nearest(const char *name, const char *const *words, int count)
{
    /* A misspelling differs in a third of its letters at most. */
    int best = (int)(strlen(name) / 3) + 1;
    const char *nearest = NULL;
    for (int k = 0; k < count; k++) {
        int distance = hp_key_distance(name, words[k]);
        if (distance < best) {
            best = distance;
            nearest = words[k];
        }
    }
    return nearest;
}
