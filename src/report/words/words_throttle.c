/* Words for the throttle: see words.h. */
#include "report/words/control_words.h"

#include <math.h>
#include <stdio.h>

static const char *const lead_words[3] = {"supply", "ground", "signal"};

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    const hp_throttle_params t = hp_card_controls(context).throttle;
    char asks[HP_NUMBER_WORDS], all[HP_NUMBER_WORDS];
    (void)lead;
    HP_CARD_SET(words->title,
                "Check the throttle, and what each of its leads does when it is lost");
    HP_CARD_SET(words->reason, "A throttle whose ground lead comes off can look wide open to the "
                               "controller. Better the lifted wheel shows it than the road.");
    hp_card_how_to_measure_pins(context, "throttle plug", "grip at rest, then full",
                                hp_pins_most_v(HP_PINS_OF_THROTTLE), HP_DOING_THROTTLE, words);
    hp_card_detail(words, "Signal volts tell the duty later: (volts - rest) / (full - rest).");
    hp_card_how(words, "Battery off, one lead of the throttle taken out of its plug and insulated, "
                       "battery on, "
                       "hands off the grip: read the controller's signal input, and see whether "
                       "the wheel turns; so with supply, ground and signal lead.");
    hp_card_doing(words, HP_DOING_SELF_START | HP_DOING_STOP | HP_DOING_PEDALS);
    hp_card_caution(words, "It may run at full speed at once: one hand on the battery's switch.");
    hp_card_how(words,
                "Battery off, all leads back, battery on: open the grip halfway, let go, and "
                "see that it springs back and the wheel runs out.");
    hp_card_doing(words, HP_DOING_THROTTLE | HP_DOING_STOP);
    hp_card_detail(words, "Controllers that refuse an open grip at the key may still run on when a "
                          "lead comes off on the road. To try it: a joint of that lead that can be "
                          "pulled by its insulation, wheel lifted and running gently, the other "
                          "hand on the battery's switch; one lead after another.");
    HP_CARD_SET(words->healthy,
                "Supply about 5 V, ground 0 V, signal about %.2g V at rest and %.2g V full. The "
                "controller does nothing up to %s V, full from %s V. With any lead off "
                "the wheel stays still.",
                t.rest_v, t.full_v, hp_card_number(t.starts_v, asks, sizeof asks),
                hp_card_number(t.saturates_v, all, sizeof all));
    HP_CARD_SET(words->note, "Signal volts at rest, full, and with each lead off; with which lead "
                             "off the wheel turned, or none; whether the grip springs back.");
}

/* `does`: "turns", "runs on"; `none`: what it does with none. */
static void add_lost(hp_lost_lead lost, const char *does, const char *none, hp_phrase *p)
{
    switch (lost) {
    case HP_LOST_NONE: hp_add_item(p, "%s", none); return;
    case HP_LOST_SUPPLY:
    case HP_LOST_GROUND:
    case HP_LOST_SIGNAL:
        hp_add_item(p, "%s with its %s lead off", does, lead_words[lost - HP_LOST_SUPPLY]);
        return;
    case HP_LOST_SEVERAL: hp_add_item(p, "%s with several of its leads off", does); return;
    case HP_LOST_UNSAID:
    case HP_LOST_COUNT: return;
    }
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_throttle_reading *t = values;
    char what[32];
    hp_phrase_add(p, "throttle:");
    if (t->fitted == HP_TELL_NO) {
        hp_phrase_add(p, " none");
        return;
    }
    hp_add_volts(p, "signal at rest", t->rest_v);
    hp_add_volts(p, "full", t->full_v);
    for (int k = 0; k < 3; k++) {
        snprintf(what, sizeof what, "%s off", lead_words[k]);
        hp_add_volts(p, what, t->lost_v[k]);
    }
    add_lost(t->turned, "turns", "still with each lead off", p);
    add_lost(t->runs_on, "runs on", "stops with each lead that comes off", p);
    hp_add_tell(p, "springs back", "does not spring back", t->springs);
    hp_add_pins(context, &t->plug, HP_PINS_OF_THROTTLE, p);
}

static void find_lost(int lead, hp_finding_words *words)
{
    HP_CARD_SET(words->means, "With its %s lead off the signal looks like an open grip.",
                lead_words[lead]);
    HP_CARD_SET(words->otherwise,
                "Try it with the wheel lifted: that lead off, battery on, hands off the grip. If "
                "the wheel turns, do not ride it.");
}

static void say_missing(const hp_card_context *context, const hp_throttle_reading *t, char *out,
                        size_t size)
{
    double rest_v, full_v;
    hp_phrase p = hp_phrase_begin(out, size);
    bool read = context->commission &&
                hp_throttle_reading_known(&context->commission->given, t, &rest_v, &full_v);
    const struct {
        bool missing;
        const char *what;
    } part[] = {{!read, "signal at rest and full"},
                {t->turned == HP_LOST_UNSAID, "the wheel with each lead off"},
                {t->springs == HP_TELL_UNSAID, "whether the grip springs back"}};
    const char *between = "";
    for (size_t k = 0; k < sizeof part / sizeof part[0]; k++)
        if (part[k].missing) {
            hp_phrase_add(&p, "%s%s", between, part[k].what);
            between = ", ";
        }
}

/* Both volts of each that differ: one of the two slipped. */
static void find_twice(const hp_throttle_reading *t, hp_finding_words *words)
{
    const double noted[2] = {t->rest_v, t->full_v};
    static const char *const where[2] = {"at rest", "at full grip"};
    double pin_v[2];
    char pin[HP_NUMBER_WORDS], lead[HP_NUMBER_WORDS];
    hp_phrase p = hp_phrase_begin(words->means, sizeof words->means);
    hp_phrase_add(&p, "Signal lead and its pin are one lead, and were noted with different volts:");
    hp_throttle_reading_twice(t, pin_v);
    for (int k = 0; k < 2; k++)
        if (!isnan(pin_v[k]))
            hp_add_item(&p, "%s %s V and %s V", where[k],
                        hp_card_as_read(noted[k], lead, sizeof lead),
                        hp_card_as_read(pin_v[k], pin, sizeof pin));
    hp_phrase_add(&p, ".");
}

/* Somebody opened one: runs that the log has of a machine without a throttle. */
static void add_runs(const hp_assess_case *given, hp_finding_words *words)
{
    hp_phrase p = hp_phrase_resume(words->means, sizeof words->means);
    int count = 0;
    /* Pedals made them. */
    for (int k = 0; !hp_plan_by_pedals(given->plan) && k < given->entries; k++) {
        const hp_trial *trial = hp_entry_trial(&given->entry[k]);
        if (!trial || trial->motion == HP_MOVED_STILL || trial->motion == HP_MOVED_UNSAID)
            continue;
        hp_phrase_add(&p, "%s %d", count++ ? "," : " Yet the log has runs with one: entry",
                      given->entry[k].number);
    }
    if (count > 0)
        hp_phrase_add(&p,
                      ". A grip that was only borrowed for the bench is none of it; else one of "
                      "the two is wrong.");
}

static void finding(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words)
{
    const hp_throttle_params t = hp_card_controls(context).throttle;
    char missing[HP_ENTRY_WORDS];
    say_missing(context, hp_entry_said(step->entry), missing, sizeof missing);
    if (hp_finding_shared(context, step, "throttle", missing, words)) {
        if (step->code == HP_STEP_NOT_FITTED)
            add_runs(&context->commission->given, words);
        return;
    }
    switch (step->code) {
    case HP_THROTTLE_REST_HIGH:
        HP_CARD_SET(words->means,
                    "At rest the signal is above %.3g V: the controller refuses to start, or the "
                    "wheel runs by itself.",
                    t.starts_v);
        HP_CARD_SET(words->otherwise, "Free the grip and its cable. If the volts stay, its magnet "
                                      "has moved or its ground is bad: fit another.");
        return;
    case HP_THROTTLE_REST_FAULT:
        HP_CARD_SET(words->means, "At rest the signal lies where the controller takes the throttle "
                                  "for broken.");
        HP_CARD_SET(words->otherwise,
                    "Check supply and ground at the plug, then try another grip.");
        return;
    case HP_THROTTLE_FULL_LOW:
        HP_CARD_SET(words->means,
                    "At full grip the signal stays below %.3g V: full speed is never "
                    "asked for.",
                    t.saturates_v);
        HP_CARD_SET(words->otherwise, "Check that the grip opens all the way, and its supply volts "
                                      "under load; or live with less speed.");
        return;
    case HP_THROTTLE_FULL_FAULT:
        HP_CARD_SET(words->means, "At full grip the signal lies where the controller takes the "
                                  "throttle for broken, and cuts out.");
        HP_CARD_SET(words->otherwise, "Another grip, with less volts when full.");
        return;
    case HP_THROTTLE_STILL:
        HP_CARD_SET(words->means, "The signal does not move when the grip is opened.");
        HP_CARD_SET(words->otherwise,
                    "Check the grip's 5 V and its ground at the plug, then its signal lead on "
                    "continuity, dead and unplugged. All whole: the grip is dead, fit another.");
        return;
    case HP_THROTTLE_TWICE:
        find_twice(hp_entry_said(step->entry), words);
        HP_CARD_SET(words->otherwise, "Do not ride it before the signal was read once more, at "
                                      "rest and at full grip.");
        return;
    case HP_THROTTLE_FALLS:
        HP_CARD_SET(words->means, "The signal falls when the grip is opened.");
        HP_CARD_SET(words->otherwise,
                    "Rest and full were swapped when they were written down, or supply and ground "
                    "of the grip are: read again, then compare it with its label. Until then do "
                    "not ride it: such a grip can ask for full speed at rest.");
        return;
    case HP_THROTTLE_LOST_TURNS:
        HP_CARD_SET(words->means, "The wheel turns by itself when a lead of the throttle comes "
                                  "off.");
        HP_CARD_SET(words->otherwise,
                    "Do not ride it. A resistor of 10 kilohm from the controller's signal input to "
                    "ground helps against a lost signal lead alone; against a lost ground a "
                    "controller that knows a throttle fault. Then try all three again.");
        return;
    case HP_THROTTLE_LOST_RUNS:
        HP_CARD_SET(words->means,
                    "The wheel runs on when a lead of the throttle comes off while it "
                    "runs.");
        HP_CARD_SET(words->otherwise,
                    "Do not ride it. No plug that latches and no tied cable clears this: only a "
                    "controller that stops on a throttle fault does. Fit one, log it as another "
                    "controller, then try all three leads again.");
        return;
    case HP_THROTTLE_STICKS:
        HP_CARD_SET(words->means, "The grip does not spring back by itself.");
        HP_CARD_SET(words->otherwise, "Do not ride it. Clean it and fit its spring; a grip that "
                                      "still sticks goes into the bin.");
        return;
    default: find_lost(step->code - HP_THROTTLE_LOST_ASKS, words); return;
    }
}

static bool there(const hp_question_case *c, const void *values)
{
    (void)c;
    return ((const hp_throttle_reading *)values)->fitted != HP_TELL_NO;
}

HP_PINS_WANTED(hp_throttle_reading, one_pin, 1)
HP_PINS_WANTED(hp_throttle_reading, two_pins, 2)

/* Asked for where nobody said yet whether it turned. */
static bool untried(const hp_question_case *c, const void *values)
{
    return there(c, values) && ((const hp_throttle_reading *)values)->turned == HP_LOST_UNSAID;
}

static const hp_choice turned[] = {
    {"none", "none: I tried all three, and it stayed still"},
    {"supply", "supply: with the supply lead off"},
    {"ground", "ground: with the ground lead off"},
    {"signal", "signal: with the signal lead off"},
    {"several", "several: with more than one of them"},
    {NULL, NULL},
};

static const hp_choice ran_on[] = {
    {"none", "none: I tried all three, and the drive stopped"},
    {"supply", "supply: as the supply lead came off"},
    {"ground", "ground: as the ground lead came off"},
    {"signal", "signal: as the signal lead came off"},
    {"several", "several: with more than one of them"},
    {NULL, NULL},
};

static const hp_question questions[] = {
    {.field = "fitted", .text = "Is there a throttle?", .fallback = "yes"},
    {.field = "throttle_rest_v",
     .text = "How many volts has its signal lead at rest?",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = there},
    {.field = "throttle_full_v",
     .text = "And at full grip?",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = there},
    {.field = "turned_with_off",
     .text = "With which of its leads off does the lifted wheel turn, hands off the grip?",
     .choices = turned,
     .fallback = "",
     .shown = "Enter: not tried",
     .wanted = there},
    {.field = "supply_off_v",
     .text = "Volts at the controller's signal input with the supply lead off?",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = untried},
    {.field = "ground_off_v",
     .text = "With the ground lead off?",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = untried},
    {.field = "signal_off_v",
     .text = "With the signal lead off?",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = untried},
    {.field = "runs_on_with_off",
     .text = "Did you pull a lead while the wheel ran gently, and with which did it run on?",
     .choices = ran_on,
     .fallback = "",
     .shown = "Enter: not tried",
     .wanted = there},
    {.field = "springs_back",
     .text = "Does the grip spring back by itself?",
     .fallback = "",
     .shown = "Enter: not tried",
     .wanted = there},
    HP_PLUG_GATE("Note the volts of each pin of its plug, too?", there),
    HP_PIN_QUESTION(0, "First pin: colour, volts at rest, volts at full grip?", there),
    HP_PIN_QUESTION(1, "Second pin?", one_pin),
    HP_PIN_QUESTION(2, "Third pin?", two_pins),
    HP_MINUS_QUESTION(two_pins),
    {.text = NULL},
};

const hp_words hp_words_throttle = {
    .reading = &hp_reading_throttle,
    .menu = "throttle at rest, full, and with a lead off",
    .safety = HP_SAFE_DEAD,
    .card = card,
    .entry = entry,
    .finding = finding,
    .questions = questions,
    .log_words =
        "--fitted=YES-OR-NO --throttle-rest-v=VOLTS --throttle-full-v=VOLTS "
        "--supply-off-v=VOLTS --ground-off-v=VOLTS --signal-off-v=VOLTS "
        "--turned-with-off=LEAD --runs-on-with-off=LEAD --springs-back=YES-OR-NO " HP_LOG_PLUG,
};
