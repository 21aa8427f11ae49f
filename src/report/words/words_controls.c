/* Words for the check of a silent controller: see words.h. */
#include "hubphase/decide/commission.h"
#include "hubphase/decide/evidence.h"
#include "report/words/control_words.h"

#include <math.h>
#include <stdio.h>

/* What its brake input shows, by what the controller is made for. */
static void say_brake(const hp_card_context *context, hp_card *words)
{
    const hp_assess_case *given = context->commission ? &context->commission->given : NULL;
    const hp_brake_params *made =
        given && given->controls && given->controls_stated ? &given->controls->brake : NULL;
    if (!made || made->expects == HP_SWITCH_NORMALLY_OPEN)
        hp_card_detail(words, "Brake input: the same volts with the lever released as with its "
                              "plug pulled. If not, pull the brake plug and try again.");
    else
        hp_card_detail(words,
                       "Brake input: %s with the lever released, %s with it pulled. With its plug "
                       "pulled this controller holds the motor off.",
                       made->expects_at == HP_LEVEL_GROUND ? "about 0 V" : "its plus",
                       made->expects_at == HP_LEVEL_GROUND ? "about 5 V" : "about 0 V");
}

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    const hp_throttle_params grip = hp_card_controls(context).throttle;
    bool pedals = hp_plan_by_pedals(context->plan);
    /* Leads were joined: a plug that was left out is the likeliest of all. */
    bool first = hp_card_brake_plug_holds(context);
    (void)lead;
    HP_CARD_SET(words->title, "Check what holds the controller off, or cuts it out");
    HP_CARD_SET(words->reason,
                "A stalled motor draws amperes; one that does not turn and draws next "
                "to nothing is not driven at all, and one that is cut out while it runs is "
                "driven no longer. These are the causes, the commonest first. Stop at "
                "the first that is wrong.");
    hp_card_how(words, "Lift the wheel, hold the machine fast.");
    hp_card_doing(words, HP_DOING_STAND);
    hp_card_how(words, "Battery on; meter on d.c. volts, black tip on the controller's battery "
                       "minus.");
    hp_card_doing(words, HP_DOING_BATTERY);
    hp_card_caution(words, "It may start by itself once the cause is gone: clear of the wheel.");
    hp_card_caution(words, "Battery off whenever a plug is pulled or put in.");
    hp_card_how(words,
                "Red tip, in this order: %slogic or key lead, %s, %spedal sensor and speed "
                "switch, Hall leads.",
                first ? "brake input, " : "",
                pedals ? "the controls' supply" : "throttle supply, throttle signal",
                first ? "" : "brake input, ");
    hp_card_doing(words, HP_DOING_LIVE);
    if (first)
        say_brake(context, words);
    hp_card_detail(
        words,
        "Logic or key lead (thin, often beside battery plus): battery volts, about "
        "%.3g V. Nothing there: a blown fuse (volts before it, none behind), key switch, or the "
        "lead is not joined.",
        context->drive->supply.emf_v);
    hp_card_detail(words,
                   "%s, supply: 4.5 to 5 V. Nothing there: pull the Hall plug; if it comes back, a "
                   "Hall sensor or its lead shorts it.",
                   pedals ? "Pedal sensor's plug" : "Throttle plug");
    if (!pedals)
        hp_card_detail(
            words,
            "Throttle signal: about %.3g V at rest, about %.3g V at full grip. Above %.3g V "
            "at rest many controllers refuse to start.",
            grip.rest_v, grip.full_v, grip.starts_v);
    if (!first)
        say_brake(context, words);
    if (pedals || hp_card_controls(context).pedal.mode == HP_PEDAL_GATES)
        hp_card_detail(words,
                       "Pedal sensor: its signal changes between about 0 V and about 5 V while the "
                       "crank is turned. Leave its plug in: without it this %s. Speed switch: pull "
                       "its plug and try again.",
                       pedals ? "machine never drives" : "throttle never works");
    else
        hp_card_detail(words, "Pedal sensor and speed switch: pull both plugs and try again.");
    hp_card_detail(words, "Hall leads against minus: each 0 or about 5 V, never all three alike. "
                          "All alike: Hall supply, or 60-degree sensors.");
    hp_card_how(words, "Try to start%s, and read the battery's volts at the controller meanwhile.",
                pedals ? " by the pedals" : "");
    hp_card_doing(words, HP_DOING_THROTTLE);
    hp_card_detail(words, "Gone at once: the battery's protection has switched off. Charge it, or "
                          "take it off its leads for a minute.");
    hp_card_how(words, "Battery off; mend what was wrong, and write down what it was.");
    hp_phrase healthy = hp_phrase_begin(words->healthy, sizeof words->healthy);
    hp_phrase_add(&healthy, "Battery and logic lead about %.3g V, %s supply 4.5 to 5 V",
                  context->drive->supply.emf_v, pedals ? "pedal sensor's" : "throttle");
    if (pedals)
        hp_phrase_add(&healthy, ".");
    else
        hp_phrase_add(&healthy, ", throttle signal about %.3g V at rest and %.3g V at full grip.",
                      grip.rest_v, grip.full_v);
    HP_CARD_SET(words->note, "What was wrong, or that nothing was%s.",
                pedals ? ""
                       : "; the throttle's volts at rest and at full grip, which later tell the "
                         "true throttle");
}

static const char *found_words(hp_found found)
{
    static const char *const word[HP_FOUND_COUNT] = {
        "not said",        "logic or key lead",  "5 V supply",
        "throttle signal", "brake input",        "pedal sensor or speed switch",
        "Hall code",       "battery protection", "nothing wrong"};
    return (int)found >= 0 && found < HP_FOUND_COUNT ? word[found] : word[0];
}

static void showing(const hp_card_context *context, const hp_advice *advice, const void *values,
                    hp_showing_words *words)
{
    hp_found found = ((const hp_controls *)values)->found;
    (void)context;
    (void)advice;
    HP_CARD_SET(words->label, "%s", found_words(found));
    if (found == HP_FOUND_NOTHING || found == HP_FOUND_UNSAID)
        HP_CARD_SET(words->sentence, "Everything is as it should be.");
    else
        HP_CARD_SET(words->sentence, "It was this, and it is mended: %s.", found_words(found));
}

static void add_volts(hp_phrase *p, const char *what, double volts)
{
    char number[HP_NUMBER_WORDS];
    if (!isnan(volts))
        hp_phrase_add(p, ", %s %s V", what, hp_card_as_read(volts, number, sizeof number));
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_controls *c = values;
    (void)context;
    hp_phrase_add(p, "controls: %s", found_words(c->found));
    add_volts(p, "battery", c->battery_v);
    add_volts(p, "key", c->key_v);
    add_volts(p, "throttle supply", c->supply_v);
    add_volts(p, "throttle at rest", c->rest_v);
    add_volts(p, "full", c->full_v);
    add_volts(p, "brake", c->brake_v);
}

static const hp_choice found[] = {
    {"key", "key: no volts at the logic or key lead"},
    {"supply", "supply: no 5 V for throttle and Hall sensors"},
    {"throttle", "throttle: its signal not at rest, or dead"},
    {"brake", "brake: the brake input was active"},
    {"pedal_or_switch", "pedal_or_switch: pedal sensor or speed switch"},
    {"sensor_code", "sensor_code: all three Hall sensors alike"},
    {"protection", "protection: the battery's protection had switched off"},
    {"nothing", "nothing: everything was as it should be"},
    {NULL, NULL},
};

static const hp_question questions[] = {
    {.field = "found", .text = "What was wrong, and is mended?", .choices = found},
    {.field = "throttle_rest_v",
     .text = "How many volts has the throttle's signal lead at rest?",
     .fallback = "",
     .shown = "Enter: not read"},
    {.field = "throttle_full_v",
     .text = "And at full grip?",
     .fallback = "",
     .shown = "Enter: not read"},
    {.text = NULL},
};

const hp_words hp_words_controls = {
    .reading = &hp_reading_controls,
    .menu = "what keeps the controller silent",
    .proof = "Measure what lets it drive, in this order: logic or key lead, 5 V supply, throttle "
             "signal at rest, brake input, pedal sensor and speed switch, Hall code, the "
             "battery's protection.",
    .card = card,
    .showing = showing,
    .entry = entry,
    .questions = questions,
    .log_words = "--found=WHAT --throttle-rest-v=VOLTS --throttle-full-v=VOLTS",
};
