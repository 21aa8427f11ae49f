/* Words for a run with the Hall plug pulled: see words.h. */
#include "report/words/card_parts.h"
#include "report/words/words.h"

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    (void)lead;
    HP_CARD_SET(words->title, "Pull the Hall plug, and see whether the motor still turns");
    HP_CARD_SET(words->reason,
                "Some controllers run without Hall sensors. They run smoothly with the Hall leads "
                "in any order, or torn: a run then says nothing of them.");
    hp_card_how(words, "Lift the wheel, hold the machine fast, %s.",
                hp_drive_words_of(context->plan)->at_rest);
    hp_card_doing(words, HP_DOING_STAND);
    hp_card_how(words, "Battery off, under 1 V at the controller: pull the Hall plug and keep both "
                       "halves clear of all metal; the phase leads stay as they are.");
    hp_card_detail(words, "Hall and phase leads in one plug? Then part the Hall leads, their plus "
                          "as well, behind it or at the controller.");
    if (hp_plan_by_pedals(context->plan))
        hp_card_how(words,
                    "Battery on behind its fuse, %s, for one second of drive: does the motor turn "
                    "the wheel?",
                    hp_drive_words_of(context->plan)->gently);
    else
        hp_card_how(words,
                    "Battery on behind its fuse, throttle at %.3g %% for one second: does the "
                    "wheel turn?",
                    100.0 * context->plan->throttle);
    hp_card_doing(words, HP_DOING_BATTERY | HP_DOING_THROTTLE);
    hp_card_detail(words, "Once more if it only jerked: a controller without sensors often needs "
                          "two or three tries to get going.");
    hp_card_how_to_stop(context, words);
    hp_card_how(words, "Battery unplugged, under 1 V at the controller: put the Hall plug in "
                       "again.");
    HP_CARD_SET(words->healthy,
                "With most controllers the wheel stays still, shivers or twitches once%s. The "
                "runs with the plug in then speak for the Hall leads, too.",
                context->drive->stand.clutch ? ", and the hub may hum" : "");
    HP_CARD_SET(words->note, "Whether the wheel turned. If you cannot try it, say so: you will not "
                             "be asked again.");
}

static const char *turns_words(hp_tell turns)
{
    return turns == HP_TELL_YES  ? "the wheel still turns"
           : turns == HP_TELL_NO ? "the wheel does not turn"
                                 : "not said";
}

static void showing(const hp_card_context *context, const hp_advice *advice, const void *values,
                    hp_showing_words *words)
{
    hp_tell turns = ((const hp_hall_plug *)values)->turns;
    (void)context;
    (void)advice;
    HP_CARD_SET(words->label, "%s", turns_words(turns));
    HP_CARD_SET(words->sentence, "%s",
                turns == HP_TELL_YES ? "The controller runs without Hall sensors: no smooth run "
                                       "says anything of them."
                                     : "The controller needs its Hall sensors.");
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    (void)context;
    hp_phrase_add(p, "Hall plug pulled: %s", turns_words(((const hp_hall_plug *)values)->turns));
}

static const hp_question questions[] = {
    {.field = "turns", .text = "Does the wheel still turn with the Hall plug pulled?"},
    {.text = NULL},
};

const hp_words hp_words_hall_plug = {
    .reading = &hp_reading_hall_plug,
    .menu = "whether the motor runs with the Hall plug pulled",
    .card = card,
    .at_the_end =
        "Nothing but smooth runs says that the Hall leads are right. Some controllers run without "
        "Hall sensors: smoothly, with the Hall leads in any order, or torn. One second with the "
        "plug pulled tells whether this one does.",
    .showing = showing,
    .entry = entry,
    .questions = questions,
    .log_words = "--turns=YES-OR-NO",
};
