/* Words for the idle draw: see words.h. */
#include "decide/reading/running.h"
#include "report/words/control_words.h"

#include <math.h>

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    bool key = !hp_card_keyless(context);
    (void)lead;
    HP_CARD_SET(words->title, "Measure what the machine draws while it does nothing");
    HP_CARD_SET(words->reason,
                "The no-load current holds this much that is not the motor's, and "
                "so much empties the battery when %s.",
                key ? "the key is left on" : "it stays plugged in");
    hp_card_how(words, "Lift the wheel, hold the machine fast, meter in the battery's plus lead.");
    hp_card_doing(words, HP_DOING_STAND | HP_DOING_METER);
    hp_card_no_ammeter(context, "leave this step out, and log that (left_out)", words);
    hp_card_how(words,
                "Battery on, %slamp and display off, %s, wheel at rest: read the current after ten "
                "seconds.",
                key ? "key on, " : "", hp_drive_words_of(context->plan)->at_rest);
    hp_card_doing(words, HP_DOING_BATTERY);
    hp_card_detail(words, "The first seconds charge the controller's capacitors.");
    if (key)
        hp_card_how(words, "Key off: read it once more.");
    else
        hp_card_how(words, "There is no key: where a display or a switch turns it off, do so and "
                           "read it once more.");
    hp_card_how(words, "Battery off.");
    HP_CARD_SET(words->healthy, "0.02 to 0.15 A %s on; nothing, or less than 0.02 A, %s off.",
                key ? "with the key" : "while it is", key ? "with the key" : "while it is");
    HP_CARD_SET(words->note, "%s; whether a lamp or a display stayed on.",
                key ? "Both currents" : "The current, and the one turned off where it can be");
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_idle_draw *d = values;
    char number[HP_NUMBER_WORDS];
    (void)context;
    hp_phrase_add(p, "idle draw: %s A", hp_card_as_read(d->idle_a, number, sizeof number));
    if (!isnan(d->off_a))
        hp_phrase_add(p, ", %s A switched off", hp_card_as_read(d->off_a, number, sizeof number));
    if (d->load_on != HP_TELL_UNSAID)
        hp_phrase_add(p, ", lamp or display %s", d->load_on == HP_TELL_YES ? "on" : "off");
}

static void finding(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words)
{
    bool key = !hp_card_keyless(context);
    switch (step->code) {
    case HP_IDLE_FINE:
        HP_CARD_SET(words->means, "Controller, Hall sensors and throttle draw what is usual.");
        return;
    case HP_IDLE_LOAD:
        HP_CARD_SET(words->means, "That is more than controller, Hall sensors and throttle draw.");
        HP_CARD_SET(words->otherwise,
                    "Unplug lamp, display, regulator, throttle and Hall plug one after another, "
                    "battery off each time: whose going brings it down draws it.");
        return;
    case HP_IDLE_MUCH:
        HP_CARD_SET(words->means, "That is more than lamp and display together usually draw.");
        HP_CARD_SET(words->otherwise, "Switch them off one after another and read again.");
        return;
    case HP_IDLE_ZERO:
        HP_CARD_SET(words->means, "Nothing at all: a controller that is on draws some hundredths "
                                  "of an ampere at least.");
        HP_CARD_SET(words->otherwise,
                    "Is it on, and is all of the battery's current led through the meter, in its "
                    "10 A socket? Then a meter with a finer digit; a clamp does not show so "
                    "little.");
        return;
    case HP_IDLE_METER:
        HP_CARD_SET(words->means, "Too little for this meter: it shows as much of nothing at all.");
        HP_CARD_SET(words->otherwise,
                    "Read it with a meter of a finer digit in the battery's lead; or, where there "
                    "is none, note 0 for what is off, and what the meter shows less its own zero "
                    "for what is on.");
        return;
    default:
        HP_CARD_SET(words->means,
                    "Something draws current with the %s off, and empties the battery in the shed.",
                    key ? "key" : "machine");
        HP_CARD_SET(words->otherwise,
                    "Follow what is joined ahead of the %s; until it is found, unplug the battery "
                    "after each use.%s",
                    key ? "key" : "switch or display that turns it off",
                    key ? "" : " If only the plug turns it off, leave that figure out.");
        return;
    }
}

static const hp_question questions[] = {
    {.field = "idle_a", .text = "How many amperes, key on, throttle at zero, wheel at rest?"},
    {.field = "off_a",
     .text = "How many with the key off?",
     .fallback = "",
     .shown = "Enter: not read"},
    {.field = "load_on",
     .text = "Was a lamp or a display on meanwhile?",
     .fallback = "no",
     .shown = "no"},
    {.text = NULL},
};

const hp_words hp_words_idle_draw = {
    .reading = &hp_reading_idle_draw,
    .menu = "what the machine draws while it does nothing",
    .safety = HP_SAFE_DEAD,
    .card = card,
    .entry = entry,
    .finding = finding,
    .questions = questions,
    .log_words = "--idle-a=AMPERES --off-a=AMPERES --load-on=YES-OR-NO",
};
