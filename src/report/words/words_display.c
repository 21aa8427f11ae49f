/* Words for the lead of a lamp or a display: see words.h. */
#include "report/words/control_words.h"

#include <math.h>

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    (void)lead;
    HP_CARD_SET(words->title, "Check the lead of lamp or display before anything hangs on it");
    HP_CARD_SET(words->reason, "Some controllers give battery volts there, some 5, 6 or 12 V: a "
                               "lamp of the wrong sort is gone at once.");
    hp_card_how(words, "Read the volts on the label of lamp or display.");
    hp_card_how_to_measure_pins(context, "lamp's or display's plug", "switched off, then on", 0.0,
                                0, words);
    hp_card_detail(words, "Leave data leads of a display alone: only its own controller talks to "
                          "it.");
    hp_card_how(words, "Battery off, and note whether it lit, or showed what it should.");
    HP_CARD_SET(words->healthy,
                "Ground 0 V; between the two leads of a lamp what its label says, within a tenth. "
                "A display has one pin at the battery's volts, about %.3g V.",
                context->drive->supply.emf_v);
    HP_CARD_SET(words->note, "What hangs there, its label's volts, the volts when it is switched "
                             "on, whether it works.");
}

static const char *sort_words(hp_display_sort sort)
{
    static const char *const word[HP_DISPLAY_COUNT] = {"lamp or display", "none", "lamp", "display",
                                                       "other load"};
    return (int)sort >= 0 && sort < HP_DISPLAY_COUNT ? word[sort] : word[0];
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_display_reading *d = values;
    hp_phrase_add(p, "lamp or display:");
    if (d->sort == HP_DISPLAY_UNSAID && d->fitted == HP_TELL_NO)
        hp_add_item(p, "%s", sort_words(HP_DISPLAY_NONE));
    if (d->sort != HP_DISPLAY_UNSAID)
        hp_add_item(p, "%s", sort_words(d->sort));
    hp_add_volts(p, "on", d->on_v);
    hp_add_volts(p, "made for", d->rated_v);
    hp_add_tell(p, "works", "does not work", d->works);
    hp_add_pins(context, &d->plug, HP_PINS_OF_LAMP, p);
}

static void finding(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words)
{
    if (hp_finding_shared(context, step, "lamp or display",
                          "its label's volts, those when it is on, and whether it works", words))
        return;
    switch (step->code) {
    case HP_DISPLAY_HIGH:
        HP_CARD_SET(words->means, "The lead gives more volts than the label allows.");
        HP_CARD_SET(words->otherwise, "Take it off at once. Fit a lamp for these volts, or a "
                                      "converter with a fuse of its own.");
        return;
    case HP_DISPLAY_LOW:
        HP_CARD_SET(words->means, "The lead gives much less than the label asks for.");
        HP_CARD_SET(words->otherwise, "Read it without the lamp: if it then rises, the lead cannot "
                                      "feed that lamp. Fit a smaller one.");
        return;
    default:
        HP_CARD_SET(words->means, "It does not work.");
        HP_CARD_SET(words->otherwise,
                    "Try it on a bench supply of its own volts, with a fuse; then "
                    "its lead on continuity, dead and unplugged.");
        return;
    }
}

static bool there(const hp_question_case *c, const void *values)
{
    (void)c;
    return ((const hp_display_reading *)values)->sort != HP_DISPLAY_NONE;
}

HP_PINS_WANTED(hp_display_reading, one_pin, 1)
HP_PINS_WANTED(hp_display_reading, two_pins, 2)
HP_PINS_WANTED(hp_display_reading, three_pins, 3)
HP_PINS_WANTED(hp_display_reading, four_pins, 4)

static const hp_choice sorts[] = {
    {"none", "none: nothing hangs there, or there is no such lead"},
    {"lamp", "lamp: one or more lamps"},
    {"display", "display: a display with its buttons"},
    {"other", "other: a horn, a charger for a phone"},
    {NULL, NULL},
};

static const hp_question questions[] = {
    {.field = "what",
     .text = "What hangs on the lamp or display lead?",
     .choices = sorts,
     .fallback = "none"},
    {.field = "rated_v",
     .text = "How many volts is it made for, by its label?",
     .fallback = "",
     .shown = "Enter: no label",
     .wanted = there},
    {.field = "on_v",
     .text = "How many volts does the lead give when it is switched on?",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = there},
    {.field = "works",
     .text = "Does it light, or show what it should?",
     .fallback = "",
     .shown = "Enter: not tried",
     .wanted = there},
    HP_PLUG_GATE("Note the volts of each pin of its plug, too?", there),
    HP_PIN_QUESTION(0, "First pin: colour, volts switched off, volts switched on?", there),
    HP_PIN_QUESTION(1, "Second pin?", one_pin),
    HP_PIN_QUESTION(2, "Third pin?", two_pins),
    HP_PIN_QUESTION(3, "Fourth pin?", three_pins),
    HP_PIN_QUESTION(4, "Fifth pin?", four_pins),
    HP_MINUS_QUESTION(two_pins),
    {.text = NULL},
};

const hp_words hp_words_display = {
    .reading = &hp_reading_display,
    .menu = "volts for lamp or display",
    .safety = HP_SAFE_DEAD,
    .card = card,
    .entry = entry,
    .finding = finding,
    .questions = questions,
    .log_words = "--fitted=YES-OR-NO --what=WHAT --rated-v=VOLTS --on-v=VOLTS "
                 "--works=YES-OR-NO " HP_LOG_PLUG,
};
