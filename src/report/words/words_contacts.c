/* Words for the search for a loose contact: see words.h. */
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include <stdio.h>

/* Nothing runs yet: the leads are wagged with the meter at them. */
static void card_at_rest(const hp_card_context *context, hp_card *words)
{
    hp_lead_names phases = hp_card_phases(context->labels);
    hp_lead_names sensors = hp_card_sensors(context->labels);
    char a[HP_PAIR_WORDS], b[HP_PAIR_WORDS], c[HP_PAIR_WORDS];
    HP_CARD_SET(words->reason, "Looks at the same lead differ: now it is joined, now it is not. A "
                               "lead that makes contact only now and then does that.");
    hp_card_how(words,
                "Motor unplugged, meter on continuity: hold the tips on %s, then on %s and on %s, "
                "and wag each lead all along, plug to axle.",
                hp_card_pair(&phases, 2, a, sizeof a), hp_card_pair(&phases, 0, b, sizeof b),
                hp_card_pair(&phases, 1, c, sizeof c));
    hp_card_doing(words, HP_DOING_OHMS);
    hp_card_detail(words, "The beep falters, or begins, at one of them: that is the one. Where it "
                          "goes into the axle it breaks most often.");
    hp_card_how_to_read_code(context, &sensors, words);
    hp_card_how(words, "Wheel held still, wag the thin Hall leads one by one: a level that jumps "
                       "names its lead.");
    hp_card_how(words, "Mend it, and write down which kind of lead it was.");
    HP_CARD_SET(words->healthy, "Every pair beeps on, and no level jumps, whatever is wagged.");
}

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    (void)lead;
    HP_CARD_SET(words->title, "Look for a lead that makes contact only now and then");
    HP_CARD_SET(words->note, "Whether a phase lead, a Hall lead or a supply lead was loose, or "
                             "nothing.");
    if (context->present == 0) {
        card_at_rest(context, words);
        return;
    }
    HP_CARD_SET(words->reason,
                "A start that failed, two looks that differ, a run that broke off: no wiring does "
                "that, a lead that makes contact only now and then does.");
    hp_card_how(words, "Lift the wheel, hold the machine fast.");
    hp_card_doing(words, HP_DOING_STAND);
    hp_card_how(
        words,
        "Let the wheel run gently, if it does, from the bench supply or behind the lamp of the "
        "trial.");
    hp_card_doing(words, HP_DOING_BATTERY | HP_DOING_THROTTLE);
    hp_card_how(words, "With an insulated stick push each plug and each lead to and fro, close to "
                       "its pin or bolt; touch nothing bare.");
    hp_card_caution(words, "The wheel may start or stop by itself: hands and sleeves clear of it.");
    hp_card_detail(words, "Hall plug, phase leads, battery leads. It stumbles, stops or runs on at "
                          "one of them: that is the one.");
    hp_card_how(words, "%s, battery off, then tug each lead once.",
                hp_drive_words_of(context->plan)->off);
    hp_card_doing(words, HP_DOING_STOP);
    hp_card_detail(words, "A pin that slides back in its plug, a bolt that turns or a wire broken "
                          "inside its sleeve is loose, too.");
    hp_card_how(words, "Mend it, and write down which kind of lead it was.");
    HP_CARD_SET(words->healthy, "The wheel runs on evenly whatever is pushed, and no lead gives.");
}

static const char *loose_words(hp_contact loose)
{
    static const char *const word[HP_CONTACT_COUNT] = {"not said", "a phase lead", "a Hall lead",
                                                       "a supply lead", "nothing loose"};
    return (int)loose >= 0 && loose < HP_CONTACT_COUNT ? word[loose] : word[0];
}

static void showing(const hp_card_context *context, const hp_advice *advice, const void *values,
                    hp_showing_words *words)
{
    hp_contact loose = ((const hp_contacts *)values)->loose;
    (void)context;
    (void)advice;
    HP_CARD_SET(words->label, "%s", loose_words(loose));
    if (loose == HP_CONTACT_NOTHING || loose == HP_CONTACT_UNSAID)
        HP_CARD_SET(words->sentence, "Every lead and plug holds.");
    else
        HP_CARD_SET(words->sentence, "It was loose, and it is mended: %s.", loose_words(loose));
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_contacts *c = values;
    (void)context;
    hp_phrase_add(p, "contacts: %s", loose_words(c->loose));
}

static const hp_choice loose[] = {
    {"phase_lead", "phase_lead: a thick lead to the motor, its bolt or bullet"},
    {"hall_lead", "hall_lead: one of the thin leads, or its pin in the plug"},
    {"supply_lead", "supply_lead: battery, Hall supply or ground"},
    {"nothing", "nothing: all of them held"},
    {NULL, NULL},
};

static const hp_question questions[] = {
    {.field = "loose", .text = "What was loose, and is mended?", .choices = loose},
    {.text = NULL},
};

const hp_words hp_words_contacts = {
    .reading = &hp_reading_contacts,
    .menu = "whether a lead makes contact only now and then",
    .proof = "Push each plug and lead to and fro while the wheel runs gently behind a limit, then "
             "tug each with the battery off.",
    .card = card,
    .at_the_end =
        "Nothing else is left to ask before this ends. A lead that makes contact only now and "
        "then can look like a broken part, and a tug at each takes a few minutes.",
    .showing = showing,
    .entry = entry,
    .questions = questions,
    .log_words = "--loose=WHAT",
};
