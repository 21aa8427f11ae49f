/* Words of the readings that are taken before a wiring is tried: see report/words/card.h.
 * The how-tos are common practice. */
#include "report/words/card_parts.h"

#include <math.h>
#include <stdio.h>

#define READING_RPM 60.0 /* one turn of the wheel a second: easy to count with a watch */

static const char caution_sensor_volts[] =
    "Pack voltage kills a sensor at once: nothing but the sensor supply may touch the thin leads.";
static const char caution_bites[] =
    "A turned motor is a generator: at speed its phase leads can be felt, and shorted they brake "
    "hard.";

/* ---- what the scenario promises -------------------------------------------------------------- */

/* Between two leads at a wheel speed: rms and peak. */
static void spin_volts(const hp_drive *drive, double wheel_rad_s, double *rms, double *peak)
{
    const int points = 360;
    double squares = 0.0, highest = 0.0;
    for (int k = 0; k < points; k++) {
        double x = HP_TWO_PI * (k + 0.5) / points;
        double v = hp_backemf_value(&drive->motor.backemf, x) -
                   hp_backemf_value(&drive->motor.backemf, x - HP_PHASE_STEP);
        highest = fmax(highest, fabs(v));
        squares += v * v / points;
    }
    double per_unit = drive->motor.ke * wheel_rad_s * drive->stand.gear_ratio;
    *rms = sqrt(squares) * per_unit;
    *peak = highest * per_unit;
}

/* Current that parks the rotor within about 15 electrical degrees of its place: the pull of one
 * lead against two is 1.5 ke i sin(angle), and friction and detent must give way to it. Rounded up
 * to half an ampere; chosen: from 1 A, which any supply shows, to 5 A, which warms a winding
 * slowly. */
double hp_card_park_current(const hp_drive *drive)
{
    double against = drive->stand.rotor.breakaway_nm + drive->motor.cogging_nm +
                     drive->stand.wheel.breakaway_nm / drive->stand.gear_ratio;
    double amperes = against / (1.5 * drive->motor.ke * sin(15.0 * HP_DEG));
    return fmin(fmax(ceil(2.0 * amperes) / 2.0, 1.0), 5.0);
}

/* Volts that drive this current through one lead against two, with something to spare for tips and
 * a warm winding, in whole volts. Chosen: from 3 V, as low as any supply goes, to 30 V, as high as
 * most do. */
double hp_card_park_volts(const hp_drive *drive)
{
    double path_ohm = 1.5 * hp_motor_resistance(&drive->motor);
    return fmin(fmax(3.0, ceil(1.2 * hp_card_park_current(drive) * path_ohm)), 30.0);
}

static double between_leads_ohm(const hp_drive *drive)
{
    return 2.0 * drive->motor.resistance_ohm;
}

/* Turns of the rotor, electrical, in one turn of the wheel. */
static double electrical_turns(const hp_drive *drive)
{
    return drive->motor.pole_pairs * drive->stand.gear_ratio;
}

/* ---- pieces ---------------------------------------------------------------------------------- */

/* How a code is read; the order in which it is written. */
static void how_to_read_code(const hp_lead_names *sensors, hp_card *words)
{
    hp_card_how(words,
                "Give the sensors their own supply and nothing else: 5 V between plus and minus of "
                "the sensor plug, from the controller's own pins or from three AA cells. Without "
                "the controller, put a resistor of 1 to 10 kilohm from each sensor lead to plus.");
    hp_card_how(words,
                "Meter on d.c. volts, 20 V range, black tip on the sensors' minus. A lead near 0 V "
                "is 0, a lead near the supply is 1. Read them always in the order %s, %s, %s: "
                "three figures, that is one code.",
                sensors->bare[0], sensors->bare[1], sensors->bare[2]);
}

static void say_pins(const hp_card_context *context, hp_card *words)
{
    hp_lead_names phases = hp_card_phases(context->labels);
    char a[HP_PAIR_WORDS], b[HP_PAIR_WORDS], c[HP_PAIR_WORDS];
    HP_CARD_SET(words->title, "Find out with a beeper which pin goes to which lead");
    HP_CARD_SET(words->reason, "It is safe and quick, and it shows a torn lead, or one that "
                               "touches where it must not, before anything is switched on.");
    hp_card_how(words, "Battery away. Unplug the motor from the controller, every plug.");
    hp_card_how(words, "Meter on continuity, the range that beeps. Keep the wheel still.");
    hp_card_how(words, "From each pin of the motor's plugs find the one lead it goes to, and write "
                       "down its colour. Two pins on one lead, or none, is a fault.");
    hp_card_how(words, "The thick phase leads, pair by pair: %s, %s, %s. Every pair must beep.",
                hp_card_pair(&phases, 2, a, sizeof a), hp_card_pair(&phases, 0, b, sizeof b),
                hp_card_pair(&phases, 1, c, sizeof c));
    hp_card_how(words, "Every lead against the axle and the bare metal of the shell: no beep.");
    hp_card_how(words, "Every phase lead against every thin sensor lead: no beep.");
    hp_card_caution(words, hp_caution_unplugged);
    hp_card_caution(words, "A meter on ohms or continuity never goes on anything live.");
    hp_card_caution(words, hp_caution_local);
    HP_CARD_SET(words->healthy, "All three phase pairs beep alike. Nothing beeps to the axle or "
                                "the shell, and no phase lead to a sensor lead.");
    HP_CARD_SET(words->note, "The pairs that do not beep, if any; whether some lead beeps to the "
                             "axle or shell; whether a phase lead beeps to a sensor lead.");
}

static void say_supply(const hp_card_context *context, hp_card *words)
{
    const hp_plan_params *plan = context->plan;
    HP_CARD_SET(words->title, "Measure the sensor supply before the sensors are joined to it");
    HP_CARD_SET(words->reason, "Some controllers put pack voltage on a pin that looks like the "
                               "sensor supply, and it kills the sensors the moment they are "
                               "plugged in.");
    hp_card_how(words, "Unplug the motor: sensor plug and phase leads. Insulate the ends of the "
                       "phase leads, and those of the controller.");
    hp_card_how(words, "Meter on d.c. volts, a range above the pack's voltage (200 V fits all).");
    hp_card_how(words, "Battery on. Measure at the controller's sensor plug between plus and minus "
                       "(often red and black). Touch one pin at a time; tips must not bridge two.");
    hp_card_how(words,
                "Measure each signal pin against minus too: none may show more than the supply "
                "pins do. If one does, write that voltage down instead.");
    hp_card_how(words, "Battery off again.");
    hp_card_caution(words, "The controller is live. One hand, one pin, nothing loose near it.");
    hp_card_caution(words, caution_sensor_volts);
    hp_card_caution(words, hp_caution_local);
    HP_CARD_SET(words->healthy,
                "Usually 4.5 to 5 V, with some controllers 12 V. From %.3g to %.3g V the sensors "
                "work; above %.3g V they die.",
                plan->sensor_v_min, plan->sensor_v_max, plan->sensor_v_max);
    HP_CARD_SET(words->note, "The volts; a minus sign when the tips had to be swapped.");
}

static void say_hand_turn(const hp_card_context *context, hp_card *words)
{
    const hp_drive *drive = context->drive;
    hp_lead_names sensors = hp_card_sensors(context->labels);
    const char *way = drive->stand.clutch ? "backward" : "forward";
    double turns = electrical_turns(drive);
    HP_CARD_SET(words->title, "Turn the wheel by hand and read the sensor codes");
    HP_CARD_SET(words->reason, "The order of the codes shows how the sensor leads follow one "
                               "another, a dead sensor, and 60-degree sensors, all without power "
                               "at the motor.");
    hp_card_how(words, "Wheel lifted. Phase leads unplugged and kept apart from one another: where "
                       "two touch, the motor brakes.");
    how_to_read_code(&sensors, words);
    hp_card_how(words,
                "Turn the wheel slowly %s%s and write the code down each time it changes, until "
                "the row begins again: seven codes at least. All six pass within %.2g degrees of "
                "the wheel, so move it by fingertip.",
                way,
                drive->stand.clutch ? " (forward, the one-way clutch would leave the rotor behind)"
                                    : "",
                360.0 / turns);
    hp_card_how(words, "If you have the patience: count how often one lead changes in one whole "
                       "turn of the wheel. It tells the number of pole pairs.");
    hp_card_caution(words, caution_sensor_volts);
    hp_card_caution(words, caution_bites);
    hp_card_caution(words, hp_caution_lifted);
    hp_card_caution(words, hp_caution_local);
    HP_CARD_SET(words->healthy,
                "Six codes in a fixed order, one figure changing at a time. 120-degree sensors "
                "never show 000 or 111; 60-degree ones show both. One lead changes %.0f times in a "
                "turn of the wheel, if the scenario is right.",
                2.0 * turns);
    HP_CARD_SET(words->note,
                "The codes in order, figures in the order %s %s %s; which way you turned; the "
                "count, if you took it.",
                sensors.bare[0], sensors.bare[1], sensors.bare[2]);
}

static void say_winding(const hp_card_context *context, hp_card *words)
{
    hp_lead_names phases = hp_card_phases(context->labels);
    char a[HP_PAIR_WORDS], b[HP_PAIR_WORDS], c[HP_PAIR_WORDS], ohm[HP_NUMBER_WORDS];
    char volts[HP_NUMBER_WORDS];
    double between = between_leads_ohm(context->drive);
    HP_CARD_SET(words->title, "Measure the winding: three pairs of phase leads");
    HP_CARD_SET(words->reason, "A lead that is open or half torn shows here, and no wiring can be "
                               "right with one.");
    hp_card_how(words, "Battery away, phase leads unplugged, wheel still, motor cold.");
    hp_card_how(words,
                "The good way, since a hand meter cannot tell tenths of an ohm: a bench supply "
                "limited to 5 A and a few volts, through %s for a second or two. Read the volts at "
                "the motor's own leads and divide by the amperes (here about %s V).",
                hp_card_pair(&phases, 2, a, sizeof a),
                hp_card_number(5.0 * between, volts, sizeof volts));
    hp_card_how(words, "With a hand meter: lowest ohms range, tips held together first; write that "
                       "figure down, it comes off the others.");
    hp_card_how(words, "The same for %s, and for %s.", hp_card_pair(&phases, 0, b, sizeof b),
                hp_card_pair(&phases, 1, c, sizeof c));
    hp_card_caution(words, hp_caution_unplugged);
    hp_card_caution(words, "Current warms the winding, and a long test burns it: seconds, not "
                           "minutes. The rotor may jerk.");
    hp_card_caution(words, hp_caution_local);
    HP_CARD_SET(words->healthy, "Three values alike within a tenth, about %s ohm at 20 C.",
                hp_card_number(between, ohm, sizeof ohm));
    HP_CARD_SET(words->note, "Ohms of the three pairs (or \"open\"), ohms of the tips alone, and "
                             "how warm the motor is.");
}

static void say_spin(const hp_card_context *context, hp_card *words)
{
    const hp_drive *drive = context->drive;
    hp_lead_names phases = hp_card_phases(context->labels);
    char a[HP_PAIR_WORDS], b[HP_PAIR_WORDS], c[HP_PAIR_WORDS];
    char rms_text[HP_NUMBER_WORDS], peak_text[HP_NUMBER_WORDS];
    double rms, peak;
    spin_volts(drive, READING_RPM * HP_RPM, &rms, &peak);
    HP_CARD_SET(words->title, "Spin the wheel and measure the volts that the motor makes");
    HP_CARD_SET(words->reason,
                "It shows an open lead%s, and it gives the speed and current that "
                "the right wiring must have.",
                drive->stand.clutch ? ", a slipping clutch" : "");
    hp_card_how(words, "Wheel lifted. Phase leads unplugged from the controller, ends apart.");
    hp_card_how(words, "Meter on a.c. volts, 20 V range (200 V with a fast drill), between %s.",
                hp_card_pair(&phases, 2, a, sizeof a));
    hp_card_how(words,
                "Turn the wheel %s at a steady speed that you know: one turn a second by a watch "
                "is 60 rev/min, or a drill with a rubber drum and a tachometer.",
                drive->stand.clutch ? "backward (forward, the clutch lets go)" : "either way");
    hp_card_how(words, "The same speed again for %s, and for %s.",
                hp_card_pair(&phases, 0, b, sizeof b), hp_card_pair(&phases, 1, c, sizeof c));
    hp_card_caution(words, caution_bites);
    hp_card_caution(words, hp_caution_lifted);
    hp_card_caution(words, hp_caution_local);
    HP_CARD_SET(words->healthy,
                "Three pairs alike; at 60 rev/min of the wheel about %s V rms, %s V peak.",
                hp_card_number(rms, rms_text, sizeof rms_text),
                hp_card_number(peak, peak_text, sizeof peak_text));
    HP_CARD_SET(words->note, "Volts of the three pairs, the speed, and the kind of meter: true "
                             "rms, plain a.c., or peak (a scope).");
}

static void say_park(const hp_card_context *context, int lead, hp_card *words)
{
    hp_lead_names phases = hp_card_phases(context->labels);
    hp_lead_names sensors = hp_card_sensors(context->labels);
    char others[HP_PAIR_WORDS];
    int plus = lead >= 0 ? lead : 0;
    hp_card_pair(&phases, plus, others, sizeof others);
    HP_CARD_SET(words->title, "Park the rotor on %s", phases.full[plus]);
    HP_CARD_SET(words->reason,
                "A small current pulls the rotor to a known place, and the code there shows which "
                "sensor lead belongs to %s.",
                phases.full[plus]);
    hp_card_how(words, "Motor unplugged from the controller's outputs. Wheel lifted.");
    how_to_read_code(&sensors, words);
    hp_card_how(words,
                "Bench supply, off: limit the current to %.2g A and turn the volts down to "
                "%.0f V.",
                hp_card_park_current(context->drive), hp_card_park_volts(context->drive));
    hp_card_how(words,
                "%s to plus; %s, tied together, to minus. Tie both: with two leads only, the rotor "
                "would rest right on the edge of a sensor and its figure could be either.",
                phases.bare[plus], others);
    hp_card_how(words,
                "Supply on. The rotor moves a little and holds. Nudge it both ways: it must come "
                "back to the same place.%s",
                context->drive->stand.clutch ? " (Behind the clutch you may only feel it backward.)"
                                             : "");
    hp_card_how(words, "Read the code in the order %s, %s, %s. Supply off.", sensors.bare[0],
                sensors.bare[1], sensors.bare[2]);
    hp_card_caution(words,
                    "Only a current-limited supply, never the pack: a standing winding takes "
                    "all it is given and heats.");
    hp_card_caution(words, "A few seconds are enough. Stop when a lead or the hub grows warm.");
    hp_card_caution(words, caution_sensor_volts);
    hp_card_caution(words, hp_caution_local);
    HP_CARD_SET(words->healthy, "The supply sits at its current limit. With 120-degree sensors "
                                "exactly one of the three figures differs from the other two: the "
                                "partner of this phase lead.");
    HP_CARD_SET(words->note,
                "The code, three figures in the order %s %s %s; or that no current "
                "flowed.",
                sensors.bare[0], sensors.bare[1], sensors.bare[2]);
}

static void say_probe(const hp_card_context *context, hp_card *words)
{
    hp_lead_names in = hp_lead_names_of(context->labels->controller_input, "input");
    hp_lead_names out = hp_lead_names_of(context->labels->controller_output, "output");
    HP_CARD_SET(words->title, "Ask the controller for its own table");
    HP_CARD_SET(words->reason, "With the motor unplugged, the sensor inputs pulled down in turn "
                               "show which outputs the controller drives for each code.");
    hp_card_how(words, "Motor unplugged altogether, the output leads apart and insulated.");
    hp_card_how(words,
                "A current-limited supply in place of the pack, set to the pack's volts; 1 A is "
                "plenty. Switch on.");
    hp_card_how(words,
                "Inputs %s, %s, %s: one left open reads 1 (the controller pulls it up), one joined "
                "to the sensors' minus reads 0. Make the code 100.",
                in.bare[0], in.bare[1], in.bare[2]);
    hp_card_how(words,
                "Light throttle. Meter on d.c. volts, black tip on battery minus: outputs %s, %s, "
                "%s. One is high, one near 0 V, the third drifts between. Throttle off.",
                out.bare[0], out.bare[1], out.bare[2]);
    hp_card_how(words, "The same for 110, 010, 011, 001 and 101. Some controllers give up after a "
                       "second or two: throttle off and on again.");
    hp_card_caution(words, "The controller is live: tips must not bridge two outputs, nor an "
                           "output and an input.");
    hp_card_caution(words, "Joining an input to anything but the sensors' minus can kill it.");
    hp_card_caution(words, hp_caution_unplugged);
    hp_card_caution(words, hp_caution_local);
    HP_CARD_SET(words->healthy, "Six codes, six different pairs of outputs; from one code to the "
                                "next one output changes. 000 and 111 drive nothing.");
    HP_CARD_SET(words->note, "For each code the output that is high and the one that is low, or "
                             "that none is driven.");
}

void hp_card_reading(const hp_card_context *context, hp_entry_kind kind, int lead, hp_card *words)
{
    switch (kind) {
    case HP_ENTRY_PINS: say_pins(context, words); break;
    case HP_ENTRY_SUPPLY: say_supply(context, words); break;
    case HP_ENTRY_HAND_TURN: say_hand_turn(context, words); break;
    case HP_ENTRY_WINDING: say_winding(context, words); break;
    case HP_ENTRY_SPIN: say_spin(context, words); break;
    case HP_ENTRY_PARK: say_park(context, lead, words); break;
    case HP_ENTRY_PROBE: say_probe(context, words); break;
    case HP_ENTRY_TRIAL:
    case HP_ENTRY_LEARN:
    case HP_ENTRY_MEND:
    case HP_ENTRY_KIND_COUNT: break;
    }
}
