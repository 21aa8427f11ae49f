/* Words for the learning of the controller: see words.h. */
#include "hubphase/decide/evidence.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include <stdio.h>

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    (void)lead;
    HP_CARD_SET(words->title, "Let the controller learn the wiring by itself");
    HP_CARD_SET(words->reason, "It has a lead for that. It finds the order of Hall leads and phase "
                               "leads in a minute, and spares the trials.");
    hp_card_how(words, "Join the three phase leads and the three Hall leads to the controller in "
                       "any order, and Hall plus and minus.");
    hp_card_doing(words, HP_DOING_JOIN);
    hp_card_how(words, "Lift the wheel, free to turn, hold the machine fast, %s.",
                hp_drive_words_of(context->plan)->at_rest);
    hp_card_doing(words, HP_DOING_STAND);
    hp_card_how(words, "Join the learn lead, then battery on: the wheel jerks, then turns by "
                       "itself.");
    hp_card_doing(words, HP_DOING_BATTERY | HP_DOING_SELF_START);
    hp_card_detail(words, "The learn lead is joined as its maker says: usually two ends of one "
                          "lead, joined together.");
    hp_card_how(words, "When it turns smoothly for some seconds, part the learn lead.");
    hp_card_doing(words, HP_DOING_THROTTLE);
    hp_card_detail(words, "If it turns backward, join and part it once more: most then change "
                          "direction.");
    hp_card_how(words, "Battery off; insulate the learn lead; battery on, and %s.",
                hp_plan_by_pedals(context->plan) ? hp_drive_words_of(context->plan)->gently
                                                 : "try the throttle gently");
    hp_card_doing(words, HP_DOING_STOP);
    HP_CARD_SET(words->healthy, "It ends with a wheel that runs forward and smoothly%s.",
                context->plan->ammeter ? ", at little current" : "");
    HP_CARD_SET(words->note, "Whether it ended with a wheel that runs forward and smoothly.");
}

static void showing(const hp_card_context *context, const hp_advice *advice, const void *values,
                    hp_showing_words *words)
{
    bool worked = ((const hp_learn *)values)->worked == HP_TELL_YES;
    (void)context;
    (void)advice;
    HP_CARD_SET(words->label, "%s", worked ? "it worked" : "it did not work");
    HP_CARD_SET(words->sentence, "%s",
                worked ? "It ended with a wheel that runs forward and smoothly."
                       : "It did not end with a wheel that runs forward and smoothly.");
}

static const hp_question questions[] = {
    {.field = "worked", .text = "Did it end with a wheel that runs forward and smoothly?"},
    {.text = NULL},
};

const hp_words hp_words_learn = {
    .reading = &hp_reading_learn,
    .menu = "the controller was told to learn by itself",
    .card = card,
    .showing = showing,
    .questions = questions,
};
