/* Words for the winding: see words.h. */
#include "hubphase/decide/evidence.h"
#include "report/picture/picture_parts.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include <math.h>
#include <stdio.h>

static double between_leads_ohm(const hp_drive *drive)
{
    return 2.0 * drive->motor.resistance_ohm;
}

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    hp_lead_names phases = hp_card_phases(context->labels);
    char a[HP_PAIR_WORDS], b[HP_PAIR_WORDS], c[HP_PAIR_WORDS], ohm[HP_NUMBER_WORDS];
    char volts[HP_NUMBER_WORDS];
    double between = between_leads_ohm(context->drive);
    (void)lead;
    HP_CARD_SET(words->title, "Measure the winding: three pairs of phase leads");
    HP_CARD_SET(words->reason, "A lead that is open or half torn shows here, and no wiring can be "
                               "correct with one.");
    hp_card_how(words,
                "Motor cold, wheel held still: a bench supply, limited to 5 A and a few volts, "
                "through %s for a second or two.",
                hp_card_pair(&phases, 2, a, sizeof a));
    hp_card_doing(words, HP_DOING_WINDING);
    hp_card_detail(words, "Why a supply: a hand meter cannot tell tenths of an ohm.");
    hp_card_how(words,
                "Read the volts at the motor's own leads and divide them by the amperes (here "
                "about %s V).",
                hp_card_number(5.0 * between, volts, sizeof volts));
    hp_card_how(words, "No bench supply? A hand meter on its lowest ohms range, tips held together "
                       "first.");
    hp_card_doing(words, HP_DOING_OHMS);
    hp_card_detail(words, "Write down what it shows with the tips together: it comes off the other "
                          "figures.");
    hp_card_how(words, "The same for %s, and for %s.", hp_card_pair(&phases, 0, b, sizeof b),
                hp_card_pair(&phases, 1, c, sizeof c));
    HP_CARD_SET(words->healthy, "Three values alike within a tenth, about %s ohm at 20 C.",
                hp_card_number(between, ohm, sizeof ohm));
    HP_CARD_SET(words->note, "Ohms of the three pairs (or \"open\"), ohms of the tips alone, and "
                             "how warm the motor is.");
}

static void showing(const hp_card_context *context, const hp_advice *advice, const void *values,
                    hp_showing_words *words)
{
    const hp_winding *w = values;
    bool open[HP_PHASE_COUNT];
    (void)advice;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        open[k] = isinf(w->ohm[k]) != 0;
    hp_showing_pairs(context->labels, open, "alike", "no current", words);
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_winding *w = values;
    hp_lead_names phases = hp_card_phases(context->labels);
    char pair[HP_PAIR_WORDS], number[HP_NUMBER_WORDS];
    hp_phrase_add(p, "winding: ");
    for (int at = 0, n = 0; at < HP_PHASE_COUNT; at++) {
        int k = hp_card_pair_order[at];
        if (isnan(w->ohm[k]))
            continue;
        hp_phrase_add(p, "%s%s ", n++ ? ", " : "", hp_card_pair(&phases, k, pair, sizeof pair));
        if (isinf(w->ohm[k]))
            hp_phrase_add(p, "open");
        else
            hp_phrase_add(p, "%s ohm", hp_card_as_read(w->ohm[k], number, sizeof number));
    }
    if (w->leads_ohm > 0.0)
        hp_phrase_add(p, " (tips %s ohm)", hp_card_as_read(w->leads_ohm, number, sizeof number));
}

#define PAIR_HELP "A number alone, with a decimal point. Enter alone when you did not measure it."

static const hp_question questions[] = {
    {.field = "resistance_ohm",
     .which = 0,
     .text = "Ohms between %s? \"open\" when the meter shows nothing.",
     .help = PAIR_HELP},
    {.field = "resistance_ohm", .which = 1, .text = "Ohms between %s?", .help = PAIR_HELP},
    {.field = "resistance_ohm", .which = 2, .text = "Ohms between %s?", .help = PAIR_HELP},
    {.field = "test_leads_ohm",
     .text = "What does the meter show with its tips held together, in ohms?",
     .help = "It is taken off the other readings. 0 when the meter was zeroed.",
     .fallback = "0"},
    {.field = "winding_c",
     .text = "How warm is the motor, in degrees C?",
     .help = "Copper has more ohms when it is warm. The workshop's temperature when it stood long.",
     .fallback = "20"},
    {.text = NULL},
};

static void log_options(const hp_card_context *context, const hp_advice *advice, hp_log_line *line)
{
    (void)advice;
    hp_log_pairs(line, context->labels, "resistance-ohm", "OHMS");
}

static bool says_ohm(const void *values, int pair)
{
    return !isnan(((const hp_winding *)values)->ohm[pair]);
}

static void add_resistance(hp_wiring_sheet *sheet, int pair)
{
    char name[2 * HP_LABEL_SIZE + 8], taken_off[60] = "";
    const hp_sheet_source *source = &sheet->source;
    const hp_entry *entry = hp_sheet_last(source, &hp_reading_winding, says_ohm, pair);
    hp_sheet_line *line = hp_sheet_add(&sheet->readings, "Resistance %s",
                                       hp_sheet_pair(source->labels, pair, name, sizeof name));
    if (!entry) {
        hp_sheet_set(source, line, NULL, " ");
        return;
    }
    const hp_winding *w = &entry->winding;
    if (isinf(w->ohm[pair])) {
        hp_sheet_set(source, line, entry, "open");
        return;
    }
    if (w->leads_ohm > 0.0)
        snprintf(taken_off, sizeof taken_off, " (less %.4g of the meter leads)", w->leads_ohm);
    hp_sheet_set(source, line, entry, "%.4g ohm at %.4g \u00b0C%s",
                 fmax(w->ohm[pair] - w->leads_ohm, 0.0), w->copper_c, taken_off);
}

static void keep(hp_wiring_sheet *sheet)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        add_resistance(sheet, hp_card_pair_order[k]);
    hp_sheet_add_stated(sheet, "motor.resistance_between_leads_ohm",
                        "Resistance of any pair, stated", "ohm", "motor.resistance_measured_at_c",
                        "\u00b0C");
}

static void danger(const hp_card_context *context, const hp_danger *danger, hp_card *words)
{
    (void)context, (void)danger;
    hp_card_say_unlike("ohms",
                       "Measure all three once more, the tips pressed on bare copper and changed "
                       "over: the low pair must stay the low one.",
                       words);
}

const hp_words hp_words_winding = {
    .reading = &hp_reading_winding,
    .menu = "ohms between the phase leads",
    .proof = "Check with the meter: measure the winding, all three pairs.",
    .safety = HP_SAFE_APART,
    .card = card,
    .showing = showing,
    .entry = entry,
    .questions = questions,
    .danger = danger,
    .log = log_options,
    .sheet_place = 2,
    .keep = keep,
};
