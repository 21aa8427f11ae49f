/* Words for a step that cannot be done here: see words.h. */
#include "decide/reading/running.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

static const char *name_of(const hp_left_out *l)
{
    const hp_reading *step = hp_left_out_step(l);
    return step ? hp_reading_title(step) : "?";
}

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    (void)context;
    (void)lead;
    HP_CARD_SET(words->title, "Leave a step out");
    HP_CARD_SET(words->reason,
                "What cannot be done here is said, not guessed: the advice then does "
                "without it, and the sheet shows that nobody looked.");
    hp_card_how(words, "Say which step, and in the note why: no bench supply, no scales.");
    HP_CARD_SET(words->note, "The step's name. An entry of the step itself takes it back.");
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    (void)context;
    hp_phrase_add(p, "left out: the step \"%s\" cannot be done here", name_of(values));
}

static const hp_question questions[] = {
    {.field = "step", .text = "Which step cannot be done here?"},
    {.text = NULL},
};

const hp_words hp_words_left_out = {
    .reading = &hp_reading_left_out,
    .menu = "a step that cannot be done here",
    .card = card,
    .entry = entry,
    .questions = questions,
};
