/* Words of an entry of the log: see report/words/card.h. */
#include "report/words/card_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char *motion_word(hp_motion motion)
{
    static const char *const word[HP_MOVED_COUNT] = {
        "not said",
        "forward",
        "backward",
        "forward from some places, backward from others",
        "the hub hums, the wheel stays",
        "shivers to and fro",
        "does not move"};
    return (int)motion >= 0 && motion < HP_MOVED_COUNT ? word[motion] : word[0];
}

/* A number as it was read. */
static char *as_read(double value, char *out, size_t size)
{
    snprintf(out, size, "%.5g", value);
    return out;
}

static char *rpm_as_read(double rad_s, char *out, size_t size)
{
    return as_read(rad_s / HP_RPM, out, size);
}

static void entry_trial(const hp_trial *t, hp_phrase *p)
{
    char number[HP_NUMBER_WORDS];
    hp_phrase_add(p, "wiring %d at %.3g %%: %s", hp_wiring_number(&t->wiring), 100.0 * t->throttle,
                  motion_word(t->motion));
    if (t->feel != HP_FEEL_UNSAID)
        hp_phrase_add(p, ", %s", hp_card_feel(t->feel));
    if (t->starts_tried > 0)
        hp_phrase_add(p, ", started from %d of %d", t->starts, t->starts_tried);
    if (!isnan(t->battery_a))
        hp_phrase_add(p, ", %s A", as_read(t->battery_a, number, sizeof number));
    if (!isnan(t->wheel_rad_s))
        hp_phrase_add(p, ", %s rev/min", rpm_as_read(t->wheel_rad_s, number, sizeof number));
    if (t->cut_out == HP_TELL_YES)
        hp_phrase_add(p, ", cut out");
    if (t->warm == HP_TELL_YES)
        hp_phrase_add(p, ", grew warm");
}

/* Pairs in the order in which they are asked for; each goes by the lead that is not in it. */
static const int pair_order[HP_PHASE_COUNT] = {HP_W, HP_U, HP_V};

static void entry_winding(const hp_labels *labels, const hp_winding *w, hp_phrase *p)
{
    hp_lead_names phases = hp_card_phases(labels);
    char pair[HP_PAIR_WORDS], number[HP_NUMBER_WORDS];
    hp_phrase_add(p, "winding: ");
    for (int at = 0, n = 0; at < HP_PHASE_COUNT; at++) {
        int k = pair_order[at];
        if (isnan(w->ohm[k]))
            continue;
        hp_phrase_add(p, "%s%s ", n++ ? ", " : "", hp_card_pair(&phases, k, pair, sizeof pair));
        if (isinf(w->ohm[k]))
            hp_phrase_add(p, "open");
        else
            hp_phrase_add(p, "%s ohm", as_read(w->ohm[k], number, sizeof number));
    }
    if (w->leads_ohm > 0.0)
        hp_phrase_add(p, " (tips %s ohm)", as_read(w->leads_ohm, number, sizeof number));
}

static void entry_spin(const hp_labels *labels, const hp_spin *s, hp_phrase *p)
{
    static const char *const kind[HP_VOLT_KIND_COUNT] = {"rms", "a.c., plain meter", "peak"};
    hp_lead_names phases = hp_card_phases(labels);
    char pair[HP_PAIR_WORDS], number[HP_NUMBER_WORDS];
    hp_phrase_add(p, "spin at %s rev/min: ", rpm_as_read(s->wheel_rad_s, number, sizeof number));
    for (int at = 0, n = 0; at < HP_PHASE_COUNT; at++) {
        int k = pair_order[at];
        if (isnan(s->volts[k]))
            continue;
        hp_phrase_add(p, "%s%s %s V", n++ ? ", " : "", hp_card_pair(&phases, k, pair, sizeof pair),
                      as_read(s->volts[k], number, sizeof number));
    }
    hp_phrase_add(p, " %s", kind[(int)s->kind >= 0 && s->kind < HP_VOLT_KIND_COUNT ? s->kind : 0]);
}

static void entry_pins(const hp_card_context *context, const hp_entry *entry, hp_phrase *p)
{
    hp_showing_words words;
    hp_advice nothing = {.kind = HP_ADVICE_READ};
    hp_showing_words_make(context, &nothing, entry, &words);
    hp_phrase_add(p, "pins: %s", words.label);
    if (entry->pins.shell == HP_TELL_NO && entry->pins.crossed == HP_TELL_NO)
        hp_phrase_add(p, ", no lead touches what it must not");
}

/* All the rows: a label has two. */
static void entry_probe(const hp_card_context *context, const hp_entry *entry, hp_phrase *p)
{
    hp_showing_words words;
    hp_advice nothing = {.kind = HP_ADVICE_READ};
    hp_showing_words_make(context, &nothing, entry, &words);
    size_t length = strlen(words.sentence);
    hp_phrase_add(p, "%s: %.*s", hp_entry_name(entry->kind), length > 0 ? (int)length - 1 : 0,
                  words.sentence);
}

/* What stands for itself once the showing's label is known. */
static void entry_by_label(const hp_card_context *context, const hp_entry *entry, hp_phrase *p)
{
    hp_showing_words words;
    hp_advice nothing = {.kind = HP_ADVICE_READ};
    hp_showing_words_make(context, &nothing, entry, &words);
    hp_phrase_add(p, "%s: %s", hp_entry_name(entry->kind), words.label);
}

static void entry_mend(const hp_labels *labels, const hp_mend *mend, hp_phrase *p)
{
    hp_lead_names phases = hp_card_phases(labels);
    hp_lead_names sensors = hp_lead_names_of(labels->motor_sensor, "sensor");
    hp_phrase_add(p, "mended: ");
    switch (mend->fault.kind) {
    case HP_FAULT_SENSOR_HIGH:
    case HP_FAULT_SENSOR_LOW: hp_phrase_add(p, "%s", sensors.full[mend->fault.which]); break;
    case HP_FAULT_LEAD_OPEN: hp_phrase_add(p, "%s", phases.full[mend->fault.which]); break;
    case HP_FAULT_CLUTCH: hp_phrase_add(p, "the clutch"); break;
    case HP_FAULT_NONE:
    case HP_FAULT_KIND_COUNT:
        hp_phrase_add(p, mend->inversion ? "the level of a sensor lead" : "nothing");
        break;
    }
}

char *hp_entry_words(const hp_card_context *context, const hp_entry *entry, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    char number[HP_NUMBER_WORDS];
    const hp_labels *labels = context->labels;
    switch (entry->kind) {
    case HP_ENTRY_TRIAL: entry_trial(&entry->trial, &p); break;
    case HP_ENTRY_WINDING: entry_winding(labels, &entry->winding, &p); break;
    case HP_ENTRY_SPIN: entry_spin(labels, &entry->spin, &p); break;
    case HP_ENTRY_SUPPLY:
        hp_phrase_add(&p, "sensor supply: %s V",
                      as_read(entry->supply.volts, number, sizeof number));
        break;
    case HP_ENTRY_PARK: {
        hp_lead_names phases = hp_card_phases(labels);
        char code[4];
        hp_phrase_add(&p, "park on %s: ", phases.bare[entry->park.lead]);
        if (entry->park.no_current == HP_TELL_YES)
            hp_phrase_add(&p, "no current");
        else if (entry->park.code >= 0)
            hp_phrase_add(&p, "code %s", hp_code_words(entry->park.code, code));
        else
            hp_phrase_add(&p, "no code read");
        break;
    }
    case HP_ENTRY_HAND_TURN:
        hp_phrase_add(&p, "hand turn%s: ", entry->hand_turn.backward ? " backward" : "");
        hp_card_codes(&entry->hand_turn, true, &p);
        if (entry->hand_turn.edges > 0)
            hp_phrase_add(&p, "; %d changes a turn of the wheel", entry->hand_turn.edges);
        break;
    case HP_ENTRY_PINS: entry_pins(context, entry, &p); break;
    case HP_ENTRY_PROBE: entry_probe(context, entry, &p); break;
    case HP_ENTRY_MEND: entry_mend(labels, &entry->mend, &p); break;
    default: entry_by_label(context, entry, &p); break;
    }
    return out;
}
