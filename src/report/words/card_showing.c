/* Words of what a step may show: see report/words/card.h. */
#include "report/words/card_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* What the plan expects of the right wiring; NAN where nothing is known. */
typedef struct expected {
    double amperes;
    double wheel_rad_s;
} expected;

static expected expect(const hp_advice *advice)
{
    expected e = {NAN, NAN};
    if (advice->current_a.high > 0.0)
        e.amperes = hp_band_middle(advice->current_a);
    if (advice->wheel_rad_s.high > 0.0)
        e.wheel_rad_s = hp_band_middle(advice->wheel_rad_s);
    return e;
}

static bool turned(const hp_trial *t)
{
    return t->motion == HP_MOVED_FORWARD || t->motion == HP_MOVED_BACKWARD ||
           t->motion == HP_MOVED_BOTH || t->motion == HP_MOVED_HUM;
}

/* ---- trials ---------------------------------------------------------------------------------- */

static void label_trial(const hp_trial *t, const expected *e, hp_phrase *label)
{
    static const char *const brief[HP_MOVED_COUNT] = {
        "not said",     "forward",      "backward", "both ways", "hub hums, wheel stays",
        "only shivers", "does not move"};
    bool large = t->battery_a > HP_CURRENT_SMALL * e->amperes;
    hp_phrase_add(label, "%s", brief[t->motion]);
    if (t->feel != HP_FEEL_UNSAID)
        hp_phrase_add(label, ", %s", hp_card_feel(t->feel));
    if (t->feel == HP_FEEL_ROUGH && t->wheel_rad_s > 0.0 && e->wheel_rad_s > 0.0)
        hp_phrase_add(label, ", %s",
                      t->wheel_rad_s < HP_SPEED_EVEN_LOW * e->wheel_rad_s    ? "slow"
                      : t->wheel_rad_s > HP_SPEED_EVEN_HIGH * e->wheel_rad_s ? "fast"
                                                                             : "usual speed");
    if (t->battery_a >= 0.0 && e->amperes > 0.0)
        hp_phrase_add(label, ", %s current", large ? "large" : "small");
    if (turned(t) && t->starts < t->starts_tried)
        hp_phrase_add(label, ", from some places only");
}

static void say_current(const hp_trial *t, const expected *e, hp_phrase *s)
{
    char limit[HP_NUMBER_WORDS];
    if (!(t->battery_a >= 0.0) || !(e->amperes > 0.0))
        return;
    hp_card_number(HP_CURRENT_SMALL * e->amperes, limit, sizeof limit);
    if (t->battery_a > HP_CURRENT_SMALL * e->amperes)
        hp_phrase_add(s, " The battery gives more than about %s A.", limit);
    else
        hp_phrase_add(s, " The battery gives less than about %s A.", limit);
}

static void say_speed(const hp_trial *t, const expected *e, hp_phrase *s)
{
    char low[HP_NUMBER_WORDS], high[HP_NUMBER_WORDS];
    if (t->feel != HP_FEEL_ROUGH || !(t->wheel_rad_s > 0.0) || !(e->wheel_rad_s > 0.0))
        return;
    hp_card_rpm(HP_SPEED_EVEN_LOW * e->wheel_rad_s, low, sizeof low);
    hp_card_rpm(HP_SPEED_EVEN_HIGH * e->wheel_rad_s, high, sizeof high);
    if (t->wheel_rad_s < HP_SPEED_EVEN_LOW * e->wheel_rad_s)
        hp_phrase_add(s, " The wheel turns slower than about %s rev/min.", low);
    else if (t->wheel_rad_s > HP_SPEED_EVEN_HIGH * e->wheel_rad_s)
        hp_phrase_add(s, " The wheel turns faster than about %s rev/min.", high);
    else
        hp_phrase_add(s, " The wheel turns at about %s to %s rev/min.", low, high);
}

static void sentence_trial(const hp_trial *t, const expected *e, hp_phrase *s)
{
    switch (t->motion) {
    case HP_MOVED_FORWARD: hp_phrase_add(s, "The wheel turns forward"); break;
    case HP_MOVED_BACKWARD: hp_phrase_add(s, "The wheel turns backward"); break;
    case HP_MOVED_BOTH:
        hp_phrase_add(s, "The wheel turns forward from some places and backward from others");
        break;
    case HP_MOVED_HUM:
        hp_phrase_add(s, "The rotor is heard to turn inside the hub, the wheel stays");
        break;
    case HP_MOVED_SHIVER:
        hp_phrase_add(s, "The wheel only shivers to and fro, or jerks and locks, without going "
                         "round");
        break;
    case HP_MOVED_STILL: hp_phrase_add(s, "The wheel does not move at all"); break;
    case HP_MOVED_UNSAID:
    case HP_MOVED_COUNT: hp_phrase_add(s, "Nothing was said of the wheel"); break;
    }
    if (t->feel == HP_FEEL_SMOOTH)
        hp_phrase_add(s, ", evenly and quietly");
    else if (t->feel == HP_FEEL_ROUGH)
        hp_phrase_add(s, ", but roughly: it growls, shakes or strains");
    else if (t->feel == HP_FEEL_NOISY)
        hp_phrase_add(s, ", with a noise that you cannot place");
    hp_phrase_add(s, ".");
    say_current(t, e, s);
    say_speed(t, e, s);
    if (turned(t) && t->starts < t->starts_tried)
        hp_phrase_add(s, " From some places of the wheel it does not start.");
    else if (turned(t) && t->starts_tried > 1)
        hp_phrase_add(s, " It starts from every place.");
}

/* ---- readings -------------------------------------------------------------------------------- */

static void say_hand_turn(const hp_labels *labels, const hp_hand_turn *t, hp_showing_words *words)
{
    hp_lead_names sensors = hp_card_sensors(labels);
    hp_phrase label = hp_phrase_begin(words->label, sizeof words->label);
    hp_phrase s = hp_phrase_begin(words->sentence, sizeof words->sentence);
    if (t->count == 1) {
        char code[4];
        hp_phrase_add(&label, "always %s", hp_code_words(t->code[0], code));
        hp_phrase_add(&s, "The code stays %s however the wheel is turned", code);
    } else {
        hp_card_codes(t, false, &label);
        hp_phrase_add(&s, "The codes follow one another in the order ");
        hp_card_codes(t, false, &s);
        hp_phrase_add(&s, " and again from the start, wherever you began");
    }
    hp_phrase_add(&s, ". Figures in the order %s, %s, %s.", sensors.bare[0], sensors.bare[1],
                  sensors.bare[2]);
}

static void say_park(const hp_labels *labels, const hp_park *park, hp_showing_words *words)
{
    hp_lead_names sensors = hp_card_sensors(labels), phases = hp_card_phases(labels);
    char code[4];
    if (park->no_current == HP_TELL_YES || park->code < 0) {
        HP_CARD_SET(words->label, "no current flows");
        HP_CARD_SET(words->sentence,
                    "The supply shows no current and the rotor does not hold: %s is open, or a "
                    "clip does not touch.",
                    phases.full[park->lead]);
        return;
    }
    hp_code_words(park->code, code);
    HP_CARD_SET(words->label, "code %s", code);
    hp_phrase s = hp_phrase_begin(words->sentence, sizeof words->sentence);
    hp_phrase_add(&s, "%s reads %c, %s %c, %s %c", sensors.bare[0], code[0], sensors.bare[1],
                  code[1], sensors.bare[2], code[2]);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        int a = (k + 1) % HP_PHASE_COUNT, b = (k + 2) % HP_PHASE_COUNT;
        if (code[a] == code[b] && code[k] != code[a])
            hp_phrase_add(&s, ": %s alone differs", sensors.bare[k]);
    }
    if (code[0] == code[1] && code[1] == code[2])
        hp_phrase_add(&s, ": all three alike");
    hp_phrase_add(&s, ".");
}

/* Pairs for which `open` holds: all but those of one lead is that lead's doing. */
static void say_pairs(const hp_labels *labels, const bool open[HP_PHASE_COUNT], const char *alike,
                      const char *nothing, hp_showing_words *words)
{
    hp_lead_names phases = hp_card_phases(labels);
    char pair[HP_PAIR_WORDS];
    int count = open[0] + open[1] + open[2];
    if (count == 0) {
        HP_CARD_SET(words->label, "all three pairs %s", alike);
        HP_CARD_SET(words->sentence, "All three pairs of phase leads are %s.", alike);
        return;
    }
    if (count == HP_PHASE_COUNT) {
        HP_CARD_SET(words->label, "%s at any pair", nothing);
        HP_CARD_SET(words->sentence, "There is %s at any pair of phase leads.", nothing);
        return;
    }
    hp_phrase list = hp_phrase_begin(words->label, sizeof words->label);
    hp_phrase_add(&list, "%s:", nothing);
    for (int k = 0, n = 0; k < HP_PHASE_COUNT; k++)
        if (open[k])
            hp_phrase_add(&list, "%s %s", n++ ? "," : "",
                          hp_card_pair(&phases, k, pair, sizeof pair));
    hp_phrase s = hp_phrase_begin(words->sentence, sizeof words->sentence);
    hp_phrase_add(&s, "There is %s", words->label);
    for (int k = 0; count == 2 && k < HP_PHASE_COUNT; k++)
        if (!open[k])
            hp_phrase_add(&s, "; that is %s by itself", phases.full[k]);
    hp_phrase_add(&s, ".");
}

static void say_pins(const hp_labels *labels, const hp_pins *pins, hp_showing_words *words)
{
    bool open[HP_PHASE_COUNT];
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        open[k] = pins->open[k] == HP_TELL_YES;
    say_pairs(labels, open, "joined", "no continuity", words);
    if (pins->shell == HP_TELL_YES) {
        HP_CARD_SET(words->label, "a lead touches the axle or the shell");
        HP_CARD_SET(words->sentence, "The meter beeps from some lead to the axle or to the bare "
                                     "metal of the shell.");
    }
    if (pins->crossed == HP_TELL_YES) {
        HP_CARD_SET(words->label, "a phase lead touches a sensor lead");
        HP_CARD_SET(words->sentence, "The meter beeps from a thick phase lead to a thin sensor "
                                     "lead.");
    }
}

static void say_winding(const hp_labels *labels, const hp_winding *w, hp_showing_words *words)
{
    bool open[HP_PHASE_COUNT];
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        open[k] = isinf(w->ohm[k]) != 0;
    say_pairs(labels, open, "alike", "no current", words);
}

static void say_spin(const hp_labels *labels, const hp_spin *spin, hp_showing_words *words)
{
    bool open[HP_PHASE_COUNT];
    double most = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        most = fmax(most, spin->volts[k]);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        open[k] = !(spin->volts[k] > 0.1 * most);
    say_pairs(labels, open, "alike", "no voltage", words);
}

/* The rows of a probed table in the order in which the codes are tried; 000 and 111 last. */
static const int probe_order[HP_CODE_COUNT] = {4, 6, 2, 3, 1, 5, 0, 7};

static void add_rows(const hp_labels *labels, const hp_probe *probe, int rows, hp_phrase *phrase)
{
    hp_lead_names out = hp_lead_names_of(labels->controller_output, "output");
    char code[4];
    for (int k = 0, n = 0; k < HP_CODE_COUNT && n < rows; k++) {
        const hp_commutation_row *row = &probe->row[probe_order[k]];
        if (!probe->read[probe_order[k]])
            continue;
        hp_phrase_add(phrase, "%s%s ", n++ ? "; " : "", hp_code_words(probe_order[k], code));
        if (row->high >= 0 && row->low >= 0)
            hp_phrase_add(phrase, "%s high, %s low", out.bare[row->high], out.bare[row->low]);
        else
            hp_phrase_add(phrase, "none");
    }
}

/* Two neighbouring rows tell one true six-step table from every other. */
static void say_probe(const hp_labels *labels, const hp_probe *probe, hp_showing_words *words)
{
    hp_phrase label = hp_phrase_begin(words->label, sizeof words->label);
    hp_phrase s = hp_phrase_begin(words->sentence, sizeof words->sentence);
    add_rows(labels, probe, 2, &label);
    add_rows(labels, probe, HP_CODE_COUNT, &s);
    hp_phrase_add(&s, ".");
}

static void say_supply(const hp_plan_params *plan, double volts, hp_showing_words *words)
{
    if (volts > plan->sensor_v_max) {
        HP_CARD_SET(words->label, "more than %.3g V", plan->sensor_v_max);
        HP_CARD_SET(words->sentence,
                    "The sensor supply shows more than %.3g V: it would destroy the sensors.",
                    plan->sensor_v_max);
        return;
    }
    if (volts < plan->sensor_v_min) {
        HP_CARD_SET(words->label, "less than %.3g V, or reversed", plan->sensor_v_min);
        HP_CARD_SET(words->sentence,
                    "The sensor supply shows less than %.3g V, nothing, or a minus sign.",
                    plan->sensor_v_min);
        return;
    }
    HP_CARD_SET(words->label, "%.3g to %.3g V", plan->sensor_v_min, plan->sensor_v_max);
    HP_CARD_SET(words->sentence,
                "The sensor supply is between %.3g and %.3g V, plus where plus should be.",
                plan->sensor_v_min, plan->sensor_v_max);
}

void hp_showing_words_make(const hp_card_context *context, const hp_advice *advice,
                           const hp_entry *entry, hp_showing_words *words)
{
    memset(words, 0, sizeof *words);
    expected e = expect(advice);
    hp_phrase label = hp_phrase_begin(words->label, sizeof words->label);
    hp_phrase s = hp_phrase_begin(words->sentence, sizeof words->sentence);
    switch (entry->kind) {
    case HP_ENTRY_PINS: say_pins(context->labels, &entry->pins, words); break;
    case HP_ENTRY_SUPPLY: say_supply(context->plan, entry->supply.volts, words); break;
    case HP_ENTRY_HAND_TURN: say_hand_turn(context->labels, &entry->hand_turn, words); break;
    case HP_ENTRY_WINDING: say_winding(context->labels, &entry->winding, words); break;
    case HP_ENTRY_SPIN: say_spin(context->labels, &entry->spin, words); break;
    case HP_ENTRY_PARK: say_park(context->labels, &entry->park, words); break;
    case HP_ENTRY_PROBE: say_probe(context->labels, &entry->probe, words); break;
    case HP_ENTRY_TRIAL:
        label_trial(&entry->trial, &e, &label);
        sentence_trial(&entry->trial, &e, &s);
        break;
    case HP_ENTRY_LEARN: {
        bool worked = entry->learn.worked == HP_TELL_YES;
        hp_phrase_add(&label, worked ? "it worked" : "it did not work");
        hp_phrase_add(&s, worked ? "It ended with a wheel that runs forward and smoothly."
                                 : "It did not end with a wheel that runs forward and smoothly.");
        break;
    }
    case HP_ENTRY_MEND:
    case HP_ENTRY_KIND_COUNT:
        hp_phrase_add(&label, "%s", hp_entry_name(entry->kind));
        hp_phrase_add(&s, "%s.", hp_entry_name(entry->kind));
        break;
    }
}
