/* Words for the learn lead: see words.h. */
#include "report/words/control_words.h"

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    (void)context;
    (void)lead;
    HP_CARD_SET(words->title, "See that the learn lead is parted and insulated");
    HP_CARD_SET(words->reason, "Its two ends, joined, make the controller turn the wheel by itself "
                               "and learn anew, the next time it is switched on.");
    hp_card_how(words, "Find two ends of one colour that lead nowhere else, often with a plug of "
                       "their own.");
    hp_card_how(words, "Part them, and slip a sleeve over each end by itself.");
    HP_CARD_SET(words->healthy, "Two ends, apart, no bare copper.");
    HP_CARD_SET(words->note, "Whether there is such a lead, whether it is parted, whether each end "
                             "is insulated.");
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_learn_lead_reading *l = values;
    (void)context;
    hp_phrase_add(p, "learn lead:");
    hp_add_tell(p, "there", "none", l->fitted);
    hp_add_tell(p, "parted", "joined", l->parted);
    hp_add_tell(p, "insulated", "not insulated", l->insulated);
}

static void finding(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words)
{
    if (hp_finding_shared(context, step, "learn lead", "whether it is parted and insulated", words))
        return;
    if (step->code == HP_LEARN_LEAD_JOINED) {
        HP_CARD_SET(words->means,
                    "It is joined: the next time it is switched on the wheel may start by itself.");
        HP_CARD_SET(words->otherwise, "Battery off, part the two ends, insulate each.");
    } else {
        HP_CARD_SET(words->means, "A bare end can touch the other, or the frame.");
        HP_CARD_SET(words->otherwise, "A sleeve over each end by itself.");
    }
}

static bool there(const hp_question_case *c, const void *values)
{
    (void)c;
    return ((const hp_learn_lead_reading *)values)->fitted != HP_TELL_NO;
}

static const hp_question questions[] = {
    {.field = "fitted", .text = "Has the controller a learn lead?", .fallback = "no"},
    {.field = "parted",
     .text = "Are its two ends apart?",
     .fallback = "",
     .shown = "Enter: not seen",
     .wanted = there},
    {.field = "insulated",
     .text = "Is each end insulated by itself?",
     .fallback = "",
     .shown = "Enter: not seen",
     .wanted = there},
    {.text = NULL},
};

const hp_words hp_words_learn_lead = {
    .reading = &hp_reading_learn_lead,
    .menu = "learn lead parted and insulated",
    .safety = HP_SAFE_DEAD,
    .card = card,
    .entry = entry,
    .finding = finding,
    .questions = questions,
    .log_words = "--fitted=YES-OR-NO --parted=YES-OR-NO --insulated=YES-OR-NO",
};
