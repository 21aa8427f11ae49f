/*
 * What the words of the controls share: the pins of a plug, how they are measured so that nothing
 * can be harmed, and the findings that every kind of control has.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_CONTROL_WORDS_H
#define HUBPHASE_SRC_REPORT_WORDS_CONTROL_WORDS_H

#include "decide/reading/control_values.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

/* The controls of the machine as the scenario states them, or the usual ones. */
hp_controls_params hp_card_controls(const hp_card_context *context);
/* Whether the controller takes a brake plug that is pulled for a pulled lever, as stated. */
bool hp_card_brake_plug_holds(const hp_card_context *context);
/* ", speed switch in its fastest position", in which the runs are reckoned; empty where there is
 * one speed only. Returns out. */
#define HP_STEP_WORDS 64
char *hp_card_speed_step(const hp_card_context *context, char *out, size_t size);
/* The position of the speed switch that gives the speed of a run that failed for being slow and for
 * nothing else: "first"; NULL: none. Static storage. */
const char *hp_failed_step(const hp_card_context *context, const hp_failed_check *failed,
                           hp_band full_rad_s);
/* The position that gives this speed at full grip, where it is not the one that the runs are
 * reckoned in: "first"; NULL: none. Static storage. */
const char *hp_slow_step(const hp_card_context *context, double wheel_rad_s, hp_band full_rad_s);
/* Adds " The speed switch gives that speed in its first position: look there first.", if one does.
 */
void hp_add_failed_step(const hp_card_context *context, const hp_failed_check *failed,
                        hp_band full_rad_s, hp_phrase *p);

/* Adds ", red supply, black ground, ..." and of which sort the switch is, or why volts do not tell;
 * nothing where none were noted. */
void hp_add_pins(const hp_card_context *context, const hp_plug_volts *plug, hp_pins_of control,
                 hp_phrase *p);
/* A comma and a blank before one more thing, a blank alone behind the colon of the title. */
void hp_add_item(hp_phrase *p, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* Adds ", what 4.1 V" where it was read. */
void hp_add_volts(hp_phrase *p, const char *what, double volts);
/* Adds ", said" with yes or no, where it was said. */
void hp_add_tell(hp_phrase *p, const char *yes, const char *no, hp_tell tell);

/* The options of a plug's pins, for hp_log_words. */
#define HP_LOG_PLUG "--pins=PIN=VOLTS/VOLTS --pulled-v=PIN=VOLTS --minus-pin=PIN"

/* The most that a pin of such a plug may have here, for the next; 0: the battery's are usual. */
double hp_card_pins_most_v(const hp_card_context *context, hp_pins_of control);
/* The first actions of a card: which pin is ground, all dead; volts with the plug pulled, no pin
 * above `most_v` (0: battery volts are usual here); then joined, in each state. `plug`: "throttle
 * plug"; `states`: "grip at rest, then full". */
void hp_card_how_to_measure_pins(const hp_card_context *context, const char *plug,
                                 const char *states, double most_v, unsigned doings,
                                 hp_card *words);

/* Findings that every kind of control has; false: it is one of the kind's own. `missing`: what is
 * still to be measured for a whole finding. */
bool hp_finding_shared(const hp_card_context *context, const hp_commission_step *step,
                       const char *what, const char *missing, hp_finding_words *words);

/* One of several things that a look finds, by its bit in a finding's code. */
typedef struct hp_fault_words {
    int code;
    const char *means, *otherwise; /* no capital, no full stop */
} hp_fault_words;
/* All that are set, one after another, each with what to do about it. */
void hp_finding_faults(int code, const hp_fault_words *fault, int count, hp_finding_words *words);

/* A condition of questions behind pins, of values of a type: the part is `there` (a function of the
 * file), and so many of its plug's pins are noted. */
#define HP_PINS_WANTED(type_, name_, count_)                                                       \
    static bool name_(const hp_question_case *c, const void *values)                               \
    {                                                                                              \
        return there(c, values) && ((const type_ *)values)->plug.pins >= (count_);                 \
    }

/* Questions for the pins: `states_` as in "at rest and at full grip", `example_` an answer. */
#define HP_PIN_QUESTION(which_, first_, wanted_)                                                   \
    {                                                                                              \
        .field = "pins", .which = (which_), .text = first_, .fallback = "",                        \
        .shown = "Enter: no more pins", .wanted = wanted_, .help = hp_pin_help                     \
    }
#define HP_PLUG_GATE(text_, wanted_)                                                               \
    {                                                                                              \
        .text = text_, .fallback = "no", .wanted = wanted_,                                        \
        .help = "Worth it when nobody knows which lead is which. A line for each pin."             \
    }
#define HP_MINUS_QUESTION(wanted_)                                                                 \
    {                                                                                              \
        .field = "minus_pin", .fallback = "", .shown = "Enter: not tried", .wanted = wanted_,      \
        .text = "Which of these pins beeps to battery minus, all dead and unplugged (or none)?",   \
        .help = "Continuity, battery away, capacitors discharged, the plug pulled."                \
    }

extern const char hp_pin_help[];

/* What a machine without a brake cut-off wants, behind "a brake cut-off: ". */
/* Whether the machine has no key switch; false where no list of steps is made. */
bool hp_card_keyless(const hp_card_context *context);
/* What to do where no ammeter is at hand, as a detail of the action; nothing where there is one. */
void hp_card_no_ammeter(const hp_card_context *context, const char *otherwise, hp_card *words);

#define HP_WITHOUT_CUT_OFF                                                                         \
    "whoever pulls the brake works against the motor until the drive is let go. Try on the stand " \
    "that it then stops by itself, and keep a switch or a plug that breaks the battery's current " \
    "within reach"

#endif
