/* Motor: pole pairs, resistance, open lead. See scenario_settle.h. */
#include "record/scenario/scenario_number.h"
#include "record/scenario/scenario_settle.h"

#include <math.h>

/* Time constant of the winding, L / R [s], that a motor can have: those of hubs are some
 * milliseconds. Chosen wide; beyond it a unit was mistaken. */
#define TIME_CONSTANT_LEAST 2e-5
#define TIME_CONSTANT_MOST  0.5

/* A magnet is a pole; two make a pair. */
static void settle_poles(hp_reader *reader)
{
    hp_draft *draft = &reader->draft;
    if (!hp_reader_sound(reader, HP_KEY_MAGNETS) || !hp_reader_sound(reader, HP_KEY_POLE_PAIRS))
        return;
    bool counted = hp_reader_has(reader, HP_KEY_MAGNETS);
    if (counted && draft->magnets % 2 != 0) {
        hp_reader_problem(reader, HP_KEY_MAGNETS,
                          "motor.magnets is %d, must be even: north and south poles alternate",
                          draft->magnets);
        return;
    }
    if (!counted && !hp_reader_require(reader, HP_KEY_POLE_PAIRS,
                                       "a whole number from 1 to 100 (or give motor.magnets)"))
        return;
    if (hp_reader_lacks(reader, HP_KEY_POLE_PAIRS))
        hp_reader_derive(reader, HP_KEY_POLE_PAIRS, 0.5 * draft->magnets,
                         "half of motor.magnets: two poles make a pair");
    else if (!counted)
        hp_reader_derive(reader, HP_KEY_MAGNETS, 2 * draft->drive.motor.pole_pairs,
                         "twice motor.pole_pairs");
    else if (draft->magnets != 2 * draft->drive.motor.pole_pairs)
        hp_reader_problem(reader, HP_KEY_MAGNETS,
                          "motor.magnets is %d, must be twice motor.pole_pairs (%d) or left out",
                          draft->magnets, draft->drive.motor.pole_pairs);
}

/* A figure of a milliohm scale is the slip that makes a winding of hundreds of ohm. */
static void name_milliohm(hp_reader *reader)
{
    char text[64];
    double said;
    hp_value value = hp_reader_value(reader, HP_KEY_RESISTANCE);
    if (reader->reading[HP_KEY_RESISTANCE].state == HP_VALUE_BAD &&
        hp_yaml_kind_of(value.node) == HP_YAML_TEXT &&
        hp_yaml_text(value.node, text, sizeof text) &&
        hp_number_read(text, &said) == HP_NUMBER_FINE && said > HP_LEADS_MOST_OHM)
        hp_problems_amend(reader->problems, hp_key_of(HP_KEY_RESISTANCE)->path,
                          "; no hub's winding has more. If the meter showed milliohm, it is %.4g",
                          1e-3 * said);
}

/* Between two leads two phases lie in series: half of it is one phase, whether the winding is a
 * star or a delta, since the model's star is the equivalent of either. */
static void settle_resistance(hp_reader *reader)
{
    hp_draft *draft = &reader->draft;
    hp_motor_params *motor = &draft->drive.motor;
    name_milliohm(reader);
    if (!hp_reader_require(reader, HP_KEY_RESISTANCE,
                           "a number above 0 and at most 20 (ohm), by a four-wire meter or from "
                           "current and voltage") ||
        !hp_reader_sound(reader, HP_KEY_MEASURED_C))
        return;
    double warmer = 1.0 + motor->copper_per_k * (draft->measured_c - 20.0);
    motor->resistance_ohm = 0.5 * draft->resistance_between_leads / warmer;
    if (!hp_reader_sound(reader, HP_KEY_INDUCTANCE))
        return;
    double constant = motor->inductance_h / motor->resistance_ohm;
    if (constant < TIME_CONSTANT_LEAST || constant > TIME_CONSTANT_MOST)
        hp_reader_problem(reader,
                          hp_reader_has(reader, HP_KEY_INDUCTANCE) ? HP_KEY_INDUCTANCE
                                                                   : HP_KEY_RESISTANCE,
                          "motor.inductance_between_leads_mh (%.6g) over "
                          "motor.resistance_between_leads_ohm (%.6g) makes a time constant of %.3g "
                          "ms, must be from 0.02 to 500 ms: check the units",
                          hp_reader_number(reader, HP_KEY_INDUCTANCE),
                          draft->resistance_between_leads, 1e3 * constant);
}

void hp_settle_motor(hp_reader *reader)
{
    settle_poles(reader);
    settle_resistance(reader);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        reader->draft.drive.motor.lead_open[k] = reader->draft.open_lead == 1 + k;
}
