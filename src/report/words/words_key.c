/* Words for key and logic lead: see words.h. */
#include "report/words/control_words.h"

#include <math.h>

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    double battery_v = context->drive->supply.emf_v;
    (void)lead;
    HP_CARD_SET(words->title, "Check the key switch and the logic lead");
    HP_CARD_SET(words->reason, "The logic lead wakes the controller. A bad contact in it cuts the "
                               "drive out on the road; one that never falls leaves it awake.");
    hp_card_how_to_measure_pins(context, "key's plug", "key off, then key on", 0.0, 0, words);
    hp_card_detail(words, "After key off wait ten seconds: the capacitors hold the lead up.");
    hp_card_how(words, "Let the lifted wheel run gently, then turn the key off: the drive must "
                       "stop.");
    hp_card_doing(words, HP_DOING_THROTTLE | HP_DOING_STOP);
    hp_card_how(words, "Battery off.");
    HP_CARD_SET(words->healthy,
                "One pin at battery volts, about %.3g V, all the time; the logic lead 0 V with the "
                "key off, within 1 V of the battery with the key on. Turned off, the drive stops.",
                battery_v);
    HP_CARD_SET(words->note, "Volts of the logic lead with the key off and on; whether turning it "
                             "off stops the drive. No key: that there is none.");
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_key_reading *k = values;
    hp_phrase_add(p, "key:");
    if (k->fitted == HP_TELL_NO) {
        hp_phrase_add(p, " none");
        return;
    }
    hp_add_volts(p, "logic lead off", k->off_v);
    hp_add_volts(p, "on", k->on_v);
    hp_add_tell(p, "off stops the drive", "off does not stop the drive", k->stops);
    hp_add_pins(context, &k->plug, HP_PINS_OF_KEY, p);
}

static void finding(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words)
{
    if (hp_finding_shared(context, step, "key",
                          "volts with key off and on, and whether off stops the drive", words))
        return;
    switch (step->code) {
    case HP_KEY_STAYS:
        HP_CARD_SET(words->means, "The logic lead keeps its volts with the key off.");
        HP_CARD_SET(words->otherwise, "Wait ten seconds and read again. If it stays, the key does "
                                      "not break it: look where battery plus reaches it besides.");
        return;
    case HP_KEY_SWAPPED:
        HP_CARD_SET(words->means, "The logic lead has more volts with the key off than on.");
        HP_CARD_SET(words->otherwise, "Off and on were swapped when they were written down, or the "
                                      "lead is another one: read it again in both positions.");
        return;
    case HP_KEY_DROPS:
        HP_CARD_SET(words->means, "The logic lead is more than 1 V below the battery with the key "
                                  "on: a bad contact, or it is not fed by battery plus.");
        HP_CARD_SET(words->otherwise, "Read both pins of the key under power: what is lost between "
                                      "them is lost in the key. Clean it, or fit another.");
        return;
    default:
        HP_CARD_SET(words->means, "The drive goes on with the key off.");
        HP_CARD_SET(words->otherwise, "Do not ride it. The controller is fed past the key: find "
                                      "the lead, and have the battery's own switch within reach.");
        return;
    }
}

static bool there(const hp_question_case *c, const void *values)
{
    (void)c;
    return ((const hp_key_reading *)values)->fitted != HP_TELL_NO;
}

HP_PINS_WANTED(hp_key_reading, one_pin, 1)

static const hp_question questions[] = {
    {.field = "fitted", .text = "Is there a key switch or logic lead?", .fallback = "yes"},
    {.field = "off_v",
     .text = "How many volts has the logic lead with the key off?",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = there},
    {.field = "on_v",
     .text = "And with the key on?",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = there},
    {.field = "stops",
     .text = "Turned off while the lifted wheel runs: does the drive stop?",
     .fallback = "",
     .shown = "Enter: not tried",
     .wanted = there},
    HP_PLUG_GATE("Note the volts of each pin of its plug, too?", there),
    HP_PIN_QUESTION(0, "First pin: colour, volts with key off, volts with key on?", there),
    HP_PIN_QUESTION(1, "Second pin?", one_pin),
    HP_MINUS_QUESTION(one_pin),
    {.text = NULL},
};

const hp_words hp_words_key = {
    .reading = &hp_reading_key,
    .menu = "key switch and logic lead",
    .safety = HP_SAFE_DEAD,
    .card = card,
    .entry = entry,
    .finding = finding,
    .without =
        "a key switch: nothing but the battery's own plug or switch takes the power off. Keep "
        "one that breaks the battery's current within reach of whoever drives it",
    .questions = questions,
    .log_words = "--fitted=YES-OR-NO --off-v=VOLTS --on-v=VOLTS --stops=YES-OR-NO " HP_LOG_PLUG,
};
