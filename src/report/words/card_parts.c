/* Pieces of step words: see the header. */
#include "report/words/card_parts.h"

#include "hubphase/base/text.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

const char hp_caution_unplugged[] =
    "Battery off and taken out, capacitors discharged, before any lead is moved or touched.";
const char hp_caution_lifted[] =
    "Wheel lifted, machine held fast; hands, hair, sleeves and cables well away from it.";
const char hp_caution_sensor_volts[] =
    "Pack voltage kills a sensor at once: nothing but the sensor supply may touch the thin leads.";
const char hp_caution_bites[] =
    "A turned motor is a generator: at speed its phase leads can be felt, and shorted they brake "
    "hard.";
const char hp_caution_limited[] =
    "First power from a current-limited supply, or through a fuse at the pack.";
const char hp_caution_local[] = "Local rules and licensed people come first.";

void hp_card_how(hp_card *words, const char *format, ...)
{
    assert(words->hows < HP_CARD_HOWS);
    hp_phrase phrase = hp_phrase_begin(words->how[words->hows], sizeof words->how[0]);
    va_list args;
    va_start(args, format);
    hp_phrase_add_list(&phrase, format, args);
    va_end(args);
    words->hows++;
}

void hp_card_caution(hp_card *words, const char *text)
{
    assert(words->cautions < HP_CARD_CAUTIONS);
    HP_CARD_SET(words->caution[words->cautions], "%s", text);
    words->cautions++;
}

/* ---- names ----------------------------------------------------------------------------------- */

hp_lead_names hp_lead_names_of(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], const char *what)
{
    hp_lead_names names;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        char bare[HP_LABEL_SIZE];
        hp_text_clean(label[k], bare, sizeof bare);
        if (bare[0] == '\0')
            snprintf(bare, sizeof bare, "%c", hp_phase_letter(k));
        memcpy(names.bare[k], bare, sizeof bare);
        /* A letter or a number stands after its noun, a colour before it. */
        if (hp_text_columns(bare) <= 2)
            snprintf(names.full[k], sizeof names.full[k], "%s %s", what, bare);
        else
            snprintf(names.full[k], sizeof names.full[k], "the %s %s", bare, what);
    }
    return names;
}

hp_lead_names hp_card_phases(const hp_labels *labels)
{
    return hp_lead_names_of(labels->motor_lead, "phase lead");
}

hp_lead_names hp_card_sensors(const hp_labels *labels)
{
    return hp_lead_names_of(labels->motor_sensor, "sensor lead");
}

char *hp_card_pair(const hp_lead_names *names, int pair, char *out, size_t size)
{
    snprintf(out, size, "%s and %s", names->bare[(pair + 1) % HP_PHASE_COUNT],
             names->bare[(pair + 2) % HP_PHASE_COUNT]);
    return out;
}

static char *joints(const char motor[HP_PHASE_COUNT][HP_LABEL_SIZE],
                    const char controller[HP_PHASE_COUNT][HP_LABEL_SIZE], const char *what,
                    const int order[HP_PHASE_COUNT], const int *before, char *out, size_t size)
{
    hp_lead_names from = hp_lead_names_of(motor, ""), to = hp_lead_names_of(controller, "");
    hp_phrase phrase = hp_phrase_begin(out, size);
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        hp_phrase_comma(&phrase);
        hp_phrase_add(&phrase, "%s to %s %s%s", from.bare[order[j]], what, to.bare[j],
                      before && before[j] != order[j] ? " (moves)" : "");
    }
    return out;
}

char *hp_phase_joint_words(const hp_labels *labels, const hp_wiring *wiring, int present, char *out,
                           size_t size)
{
    hp_wiring before = hp_wiring_from_number(present > 0 ? present : 1);
    return joints(labels->motor_lead, labels->controller_output, "output", wiring->phase,
                  present > 0 ? before.phase : NULL, out, size);
}

char *hp_sensor_joint_words(const hp_labels *labels, const hp_wiring *wiring, int present,
                            char *out, size_t size)
{
    hp_wiring before = hp_wiring_from_number(present > 0 ? present : 1);
    return joints(labels->motor_sensor, labels->controller_input, "input", wiring->sensor,
                  present > 0 ? before.sensor : NULL, out, size);
}

char *hp_code_words(int code, char *out)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        out[k] = (char)('0' + (code >> (2 - k) & 1));
    out[HP_PHASE_COUNT] = '\0';
    return out;
}

/* ---- words of entries ------------------------------------------------------------------------ */

const char *hp_card_feel(hp_feel feel)
{
    static const char *const word[HP_FEEL_COUNT] = {"", "smooth", "rough", "noisy"};
    return (int)feel >= 0 && feel < HP_FEEL_COUNT ? word[feel] : "";
}

void hp_card_codes(const hp_hand_turn *t, bool whole, hp_phrase *phrase)
{
    char code[4];
    int count = t->count;
    if (!whole && count > 1 && t->code[count - 1] == t->code[0])
        count--;
    for (int k = 0; k < count; k++)
        hp_phrase_add(phrase, "%s%s", k ? " " : "", hp_code_words(t->code[k], code));
}

/* ---- numbers --------------------------------------------------------------------------------- */

char *hp_card_number(double value, char *out, size_t size)
{
    double magnitude = fabs(value);
    int digits = magnitude >= 9.95 ? 0 : magnitude >= 0.995 ? 1 : magnitude >= 0.00995 ? 2 : 3;
    snprintf(out, size, "%.*f", digits, value);
    if (strchr(out, '.')) {
        size_t length = strlen(out);
        while (out[length - 1] == '0')
            out[--length] = '\0';
        if (out[length - 1] == '.')
            out[length - 1] = '\0';
    }
    return out;
}

char *hp_card_rpm(double rad_s, char *out, size_t size)
{
    return hp_card_number(rad_s / HP_RPM, out, size);
}

char *hp_card_bands(const hp_card_context *context, const hp_advice *advice, char *out, size_t size)
{
    char low[HP_NUMBER_WORDS], high[HP_NUMBER_WORDS];
    hp_phrase phrase = hp_phrase_begin(out, size);
    if (!(advice->current_a.high > 0.0) || !(advice->wheel_rad_s.high > 0.0))
        return out;
    hp_phrase_add(&phrase, "battery current %s to %s A, ",
                  hp_card_number(advice->current_a.low, low, sizeof low),
                  hp_card_number(advice->current_a.high, high, sizeof high));
    hp_phrase_add(&phrase, "wheel %s to %s rev/min, at %.3g %% throttle",
                  hp_card_rpm(advice->wheel_rad_s.low, low, sizeof low),
                  hp_card_rpm(advice->wheel_rad_s.high, high, sizeof high),
                  100.0 * context->plan->throttle);
    return out;
}

/* A number as it was read. */
char *hp_card_as_read(double value, char *out, size_t size)
{
    snprintf(out, size, "%.5g", value);
    return out;
}

char *hp_card_rpm_as_read(double rad_s, char *out, size_t size)
{
    return hp_card_as_read(rad_s / HP_RPM, out, size);
}

/* ---- codes and pairs ------------------------------------------------------------------------- */

void hp_card_how_to_read_code(const hp_lead_names *sensors, hp_card *words)
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

const int hp_card_pair_order[HP_PHASE_COUNT] = {HP_W, HP_U, HP_V};

void hp_showing_pairs(const hp_labels *labels, const bool open[HP_PHASE_COUNT], const char *alike,
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
