/* Words for the probe of the controller: see words.h. */
#include "report/picture/picture_parts.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include "hubphase/base/text.h"
#include "hubphase/decide/evidence.h"

#include <stdio.h>
#include <string.h>

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    hp_lead_names in = hp_lead_names_of(context->labels->controller_input, "input");
    hp_lead_names out = hp_lead_names_of(context->labels->controller_output, "output");
    bool pedals = hp_plan_by_pedals(context->plan);
    (void)lead;
    HP_CARD_SET(words->title, "Ask the controller for its own table");
    HP_CARD_SET(words->reason,
                "With the motor unplugged, the Hall inputs pulled down in turn show which outputs "
                "the controller drives for each code, and whether it is made for 120-degree "
                "sensors or for 60-degree ones.");
    hp_card_how(words,
                "Output leads apart and insulated; in place of the battery a supply set to %.3g V "
                "and limited to 1 A; switch on.",
                context->drive->supply.emf_v);
    hp_card_how(words,
                "Make the code 100 at the inputs %s, %s, %s: left open is 1, joined to the Hall "
                "minus is 0.",
                in.bare[0], in.bare[1], in.bare[2]);
    hp_card_doing(words, HP_DOING_INPUTS | HP_DOING_LIVE);
    hp_card_detail(words, "The controller pulls an open input up, so it reads 1.");
    hp_card_how(words,
                "%s: measure d.c. volts from battery minus to the outputs %s, %s, %s, then %s.",
                pedals ? "Turn the pedals by hand" : "Light throttle", out.bare[0], out.bare[1],
                out.bare[2], pedals ? "pedals still" : "throttle off");
    hp_card_detail(words, "One is high, one near 0 V, the third drifts between.");
    hp_card_how(words, "The same for 110, 010, 011, 001 and 101, then for 000 and 111.");
    hp_card_detail(words, "Some controllers give up after a second or two: %s off and on again.",
                   pedals ? "supply" : "throttle");
    HP_CARD_SET(words->healthy,
                "Six codes, six different pairs of outputs. 000 and 111 drive nothing: made for "
                "120-degree sensors. They drive a pair each, and two other codes nothing: made for "
                "60-degree ones.");
    HP_CARD_SET(words->note, "For each code the output that is high and the one that is low, or "
                             "off: none is driven.");
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

/* Two neighbouring rows tell one table for 120-degree sensors from every other, three one for
 * 60-degree ones. */
static void showing(const hp_card_context *context, const hp_advice *advice, const void *values,
                    hp_showing_words *words)
{
    const hp_probe *probe = values;
    const hp_labels *labels = context->labels;
    hp_phrase label = hp_phrase_begin(words->label, sizeof words->label);
    hp_phrase s = hp_phrase_begin(words->sentence, sizeof words->sentence);
    (void)advice;
    add_rows(labels, probe, probe->read[0] && probe->row[0].high >= 0 ? 3 : 2, &label);
    add_rows(labels, probe, HP_CODE_COUNT, &s);
    hp_phrase_add(&s, ".");
}

/* All the rows: a label has two. */
static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    hp_showing_words words = {.label = ""};
    showing(context, NULL, values, &words);
    size_t length = strlen(words.sentence);
    hp_phrase_add(p, "%s: %.*s", hp_reading_probe.title, length > 0 ? (int)length - 1 : 0,
                  words.sentence);
}

#define ROW_HELP                                                                                   \
    "Two names: the output that is high, then the one that is low, such as \"U V\". \"off\" when " \
    "all are off. Enter alone when you did not try this code."

static const hp_question questions[] = {
    {.field = "rows",
     .which = 4,
     .text = "Inputs at %s: which output is high, which low?",
     .help = ROW_HELP},
    {.field = "rows",
     .which = 6,
     .text = "Inputs at %s: which output is high, which low?",
     .help = ROW_HELP},
    {.field = "rows",
     .which = 2,
     .text = "Inputs at %s: which output is high, which low?",
     .help = ROW_HELP},
    {.field = "rows",
     .which = 3,
     .text = "Inputs at %s: which output is high, which low?",
     .help = ROW_HELP},
    {.field = "rows",
     .which = 1,
     .text = "Inputs at %s: which output is high, which low?",
     .help = ROW_HELP},
    {.field = "rows",
     .which = 5,
     .text = "Inputs at %s: which output is high, which low?",
     .help = ROW_HELP},
    {.field = "rows",
     .which = 0,
     .text = "Inputs at %s: which output is high, which low?",
     .help = ROW_HELP},
    {.field = "rows",
     .which = 7,
     .text = "Inputs at %s: which output is high, which low?",
     .help = ROW_HELP},
    {.text = NULL},
};

/* The codes in the order in which the how-to takes them. */
static void log_options(const hp_card_context *context, const hp_advice *advice, hp_log_line *line)
{
    char code[4];
    (void)context;
    (void)advice;
    for (int k = 0; k < HP_CODE_COUNT; k++)
        hp_log_word(line, "--rows=%s=HIGH>LOW", hp_code_words(probe_order[k], code));
}

/* Longest name of an output that eight rows of the table have room for [bytes]. */
#define OUTPUT_NAME 24

/* "100: blue > green, ...", by the letters of the outputs where a name is too long for it. */
static void write_rows(const hp_probe *probe, const hp_labels *labels, char *out, size_t size)
{
    const char *name[HP_PHASE_COUNT];
    hp_phrase p = hp_phrase_begin(out, size);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        bool fits = strlen(labels->controller_output[k]) <= OUTPUT_NAME;
        name[k] = hp_picture_label(fits ? labels->controller_output[k] : "", k);
    }
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        const hp_commutation_row *row = &probe->row[code];
        bool off = row->high < 0 || row->low < 0;
        if (!probe->read[code])
            continue;
        hp_phrase_add(&p, "%s%d%d%d: %s%s%s", p.used ? ", " : "", code >> 2 & 1, code >> 1 & 1,
                      code & 1, off ? "off" : name[row->high], off ? "" : " > ",
                      off ? "" : name[row->low]);
    }
}

static bool says_rows(const void *values, int unused)
{
    (void)values;
    (void)unused;
    return true;
}

/* The rows that were read off the controller's outputs, by the names of its leads. */
static void keep_settings(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    const hp_labels *labels = source->labels;
    const hp_entry *entry = hp_sheet_last(source, &hp_reading_probe, says_rows, 0);
    if (!entry)
        return;
    hp_sheet_line *line = hp_sheet_add(&sheet->settings, "Commutation table as metered");
    if (!line)
        return;
    write_rows(&entry->probe, labels, line->value, sizeof line->value);
    snprintf(line->from, sizeof line->from, "log entry %d", entry->number);
}

const hp_words hp_words_probe = {
    .reading = &hp_reading_probe,
    .menu = "which outputs it drives, motor unplugged",
    .proof = "Check with the meter: ask the controller for its own table.",
    .safety = HP_SAFE_APART,
    .card = card,
    .at_the_end =
        "Nothing was found that holds the controller off, and it stands all the same. One "
        "that is dead drives none of its outputs, at any code.",
    .showing = showing,
    .entry = entry,
    .questions = questions,
    .log = log_options,
    .keep_settings = keep_settings,
};
