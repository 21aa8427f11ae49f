/* Words for parking the rotor: see words.h. */
#include "hubphase/decide/evidence.h"
#include "report/picture/picture_parts.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include <stdio.h>

static const char *bulb_words(int bulbs)
{
    static const char *const words[] = {
        "a 12 V, 21 W car bulb", "two 12 V, 21 W car bulbs side by side",
        "three 12 V, 21 W car bulbs side by side", "four 12 V, 21 W car bulbs side by side"};
    return words[bulbs - 1];
}

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    hp_lead_names phases = hp_card_phases(context->labels);
    hp_lead_names sensors = hp_card_sensors(context->labels);
    char others[HP_PAIR_WORDS];
    int plus = lead >= 0 ? lead : 0;
    hp_card_pair(&phases, plus, others, sizeof others);
    double bulb_a;
    int bulbs = hp_drive_park_bulbs(context->drive, &bulb_a);
    HP_CARD_SET(words->title, "Park the rotor on %s", phases.full[plus]);
    HP_CARD_SET(
        words->reason,
        "A small current pulls the rotor to a known position, and the code there shows which "
        "Hall lead belongs to %s.",
        phases.full[plus]);
    hp_card_how_to_read_code(context, &sensors, words);
    hp_card_how(words,
                "Bench supply, still off, set to %.2g A and %.0f V: %s to plus; %s, tied together, "
                "to minus.",
                hp_drive_park_current(context->drive), hp_drive_park_volts(context->drive),
                phases.bare[plus], others);
    hp_card_doing(words, HP_DOING_WINDING);
    hp_card_detail(words,
                   "No bench supply? A 12 V battery with a 10 A fuse at its plus, and %s in "
                   "series: about %.2g A. The bulb lights: current flows.",
                   bulb_words(bulbs), bulb_a);
    hp_card_detail(words, "Tie both to minus: with two leads only, the rotor would stop on the "
                          "very edge of a sensor and its figure could be either.");
    hp_card_how(words, "Lift the wheel, switch the supply on and nudge the wheel both ways: it "
                       "must come back to the same position.");
    hp_card_detail(
        words, "The rotor moves a little and holds.%s",
        context->drive->stand.clutch ? " Behind the clutch you may only feel it backward." : "");
    hp_card_how(words, "Read the code in the order %s, %s, %s, then supply off.", sensors.bare[0],
                sensors.bare[1], sensors.bare[2]);
    HP_CARD_SET(words->healthy,
                "The supply sits at its current limit. With 120-degree Hall sensors "
                "exactly one of the three figures differs from the other two: the "
                "partner of this phase lead. With 60-degree ones, one lead reads the other way "
                "round.");
    HP_CARD_SET(words->note,
                "The code, three figures in the order %s %s %s; or that no current "
                "flowed.",
                sensors.bare[0], sensors.bare[1], sensors.bare[2]);
}

static void showing(const hp_card_context *context, const hp_advice *advice, const void *values,
                    hp_showing_words *words)
{
    const hp_park *park = values;
    const hp_labels *labels = context->labels;
    hp_lead_names sensors = hp_card_sensors(labels), phases = hp_card_phases(labels);
    char code[4];
    (void)advice;
    if (park->no_current == HP_TELL_YES || park->code < 0) {
        HP_CARD_SET(words->label, "no current flows");
        HP_CARD_SET(words->sentence,
                    "No current flows and the rotor does not hold: %s is open, or a "
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

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_park *park = values;
    hp_lead_names phases = hp_card_phases(context->labels);
    char code[4];
    hp_phrase_add(p, "park on %s: ", phases.bare[park->lead]);
    if (park->no_current == HP_TELL_YES)
        hp_phrase_add(p, "no current");
    else if (park->code >= 0)
        hp_phrase_add(p, "code %s", hp_code_words(park->code, code));
    else
        hp_phrase_add(p, "no code read");
}

static const char *usual_lead(const hp_question_case *c, const void *values, char *out, size_t size)
{
    const hp_advice *advice = c->advice;
    (void)values;
    if (!advice || advice->kind != HP_ADVICE_READ || advice->lead < 0)
        return NULL;
    snprintf(out, size, "%c", hp_phase_letter(advice->lead));
    return out;
}

/* Without current the rotor stops anywhere, and a code says nothing. */
static const char *usual_code(const hp_question_case *c, const void *values, char *out, size_t size)
{
    (void)c;
    (void)out;
    (void)size;
    return ((const hp_park *)values)->no_current == HP_TELL_YES ? "" : NULL;
}

static const hp_question questions[] = {
    {.field = "plus_lead",
     .text = "Which phase lead is at plus?",
     .help = "The other two are together at minus.",
     .usual = usual_lead},
    {.field = "no_current",
     .text = "Did a current flow?",
     .help = "The supply shows it, or the bulb lights. None although the leads are joined: a lead "
             "is broken.",
     .fallback = "yes",
     .inverse = true},
    {.field = "code",
     .text = "Which code do the Hall sensors show where the rotor holds?",
     .help = "Three digits in the order of the Hall leads, such as 110.",
     .usual = usual_code,
     .shown = "Enter: not read"},
    {.text = NULL},
};

static void log_options(const hp_card_context *context, const hp_advice *advice, hp_log_line *line)
{
    int lead = advice->lead >= 0 ? advice->lead : 0;
    hp_log_word(line, "--plus-lead=%s", context->labels->motor_lead[lead]);
    hp_log_word(line, "--code=CODE");
}

static bool says_code(const void *values, int lead)
{
    const hp_park *park = values;
    return park->lead == lead && park->code >= 0;
}

static void keep(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        const hp_entry *found = hp_sheet_last(source, &hp_reading_park, says_code, k);
        if (!found)
            continue;
        hp_sheet_line *line =
            hp_sheet_add(&sheet->readings, "Rotor parked, %s to plus, the others to minus",
                         hp_picture_label(source->labels->motor_lead[k], k));
        hp_sheet_set(source, line, found, "Hall code %d%d%d", found->park.code >> 2 & 1,
                     found->park.code >> 1 & 1, found->park.code & 1);
    }
}

const hp_words hp_words_park = {
    .reading = &hp_reading_park,
    .menu = "where a current holds the rotor",
    .safety = HP_SAFE_APART,
    .card = card,
    .showing = showing,
    .entry = entry,
    .questions = questions,
    .log = log_options,
    .sheet_place = 6,
    .keep = keep,
};
