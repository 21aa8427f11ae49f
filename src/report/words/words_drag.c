/* Words for what drags and what else draws current: see words.h. */
#include "hubphase/decide/evidence.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include <math.h>
#include <stdio.h>

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    (void)lead;
    HP_CARD_SET(words->title, "Check what drags, and what else draws current");
    HP_CARD_SET(words->reason, "The figure came back the same, so it is a fact about the parts: "
                               "either the wheel drags, or something else draws its current "
                               "through the meter.");
    hp_card_how(words, "Lift the wheel, hold the machine fast, turn the wheel by hand once round: "
                       "does a brake, a seal or a cable rub?");
    hp_card_doing(words, HP_DOING_STAND | HP_DOING_TURN_JOINED);
    if (context->plan->ammeter) {
        hp_card_how(words,
                    "Ammeter joined, battery on, %s, wheel at rest: read the battery current.",
                    hp_drive_words_of(context->plan)->at_rest);
        hp_card_doing(words, HP_DOING_METER);
        hp_card_detail(words, "That much is lamp, display or regulator.");
    } else {
        hp_card_how(words,
                    "Battery on: look for a lamp, a display or a regulator that is fed through "
                    "the same lead.");
    }
    hp_card_doing(words, HP_DOING_BATTERY);
    if (context->plan->tachometer) {
        hp_card_how(words,
                    "Let it run up%s and read its speed, then %s: count the seconds until the "
                    "wheel stops, then battery off.",
                    hp_plan_by_pedals(context->plan) ? " by the pedals" : " gently",
                    hp_plan_by_pedals(context->plan) ? "pedals still" : "throttle to zero");
        hp_card_doing(words, HP_DOING_THROTTLE | HP_DOING_STOP);
    }
    HP_CARD_SET(words->healthy, "%s; a free hub runs on for several seconds.",
                context->plan->ammeter ? "Under 0.05 A with nothing else joined"
                                       : "Nothing else joined");
    HP_CARD_SET(words->note, "%sWhether something rubs; whether something else draws current.",
                context->plan->ammeter ? "The amperes with the wheel at rest. " : "");
}

static bool finds_nothing(const hp_drag *d)
{
    return d->rubs == HP_TELL_NO && d->other_load == HP_TELL_NO;
}

static void showing(const hp_card_context *context, const hp_advice *advice, const void *values,
                    hp_showing_words *words)
{
    const hp_drag *d = values;
    bool rubs = d->rubs == HP_TELL_YES, draws = d->other_load == HP_TELL_YES;
    (void)context;
    (void)advice;
    HP_CARD_SET(words->label, "%s",
                finds_nothing(d) ? "neither"
                : rubs && draws  ? "it drags, and something else draws current"
                : rubs           ? "the wheel drags"
                                 : "something else draws current");
    HP_CARD_SET(words->sentence, "%s",
                finds_nothing(d) ? "The wheel turns freely, and nothing else draws current."
                : rubs && draws ? "The wheel drags, and a lamp, display or regulator draws current."
                : rubs          ? "The wheel drags when it is turned by hand."
                                : "A lamp, display or regulator draws its current, too.");
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_drag *d = values;
    char number[HP_NUMBER_WORDS], seconds[HP_NUMBER_WORDS];
    (void)context;
    hp_phrase_add(p, "drag:");
    if (!isnan(d->idle_a))
        hp_phrase_add(p, " %s A with the wheel at rest,",
                      hp_card_as_read(d->idle_a, number, sizeof number));
    if (!isnan(d->coast_s))
        hp_phrase_add(p, " runs on for %s s from %s rev/min,",
                      hp_card_as_read(d->coast_s, seconds, sizeof seconds),
                      hp_card_rpm_as_read(d->coast_rad_s, number, sizeof number));
    hp_phrase_add(p, " %s, %s",
                  d->rubs == HP_TELL_YES  ? "it drags"
                  : d->rubs == HP_TELL_NO ? "it turns freely"
                                          : "dragging not said",
                  d->other_load == HP_TELL_YES  ? "something else draws current"
                  : d->other_load == HP_TELL_NO ? "nothing else draws current"
                                                : "other loads not said");
}

static bool reads_current(const hp_question_case *c, const void *values)
{
    (void)values;
    return c->plan->ammeter;
}

/* A coast-down says nothing without the speed that it began at. */
static bool reads_speed(const hp_question_case *c, const void *values)
{
    (void)values;
    return c->plan->tachometer;
}

static bool has_coasted(const hp_question_case *c, const void *values)
{
    (void)c;
    return !isnan(((const hp_drag *)values)->coast_s);
}

static const hp_question questions[] = {
    {.field = "idle_a",
     .text = "How many amperes does the battery give, wheel at rest, throttle at zero?",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = reads_current},
    {.field = "rubs", .text = "Does something drag when you turn the wheel by hand?"},
    {.field = "other_load",
     .text = "Does a lamp, a display or a regulator draw its current through the meter too?"},
    {.field = "coast_s",
     .text = "How many seconds does the wheel run on until it stops?",
     .fallback = "",
     .shown = "Enter: not counted",
     .wanted = reads_speed},
    {.field = "coast_from_rpm", .text = "From how many turns a minute?", .wanted = has_coasted},
    {.text = NULL},
};

static void hinders(const void *values, hp_phrase *p)
{
    const hp_drag *d = values;
    char amperes[HP_NUMBER_WORDS];
    if (d->rubs == HP_TELL_YES)
        hp_phrase_add(p, "something rubs: free it until the wheel turns freely by hand, before the "
                         "motor runs again.");
    else
        hp_phrase_add(p,
                      "%s A flow with the wheel at rest: find what draws them, or a short, before "
                      "the motor runs again.",
                      hp_card_as_read(d->idle_a, amperes, sizeof amperes));
    hp_phrase_add(p, " Then log it anew.");
}

static void log_options(const hp_card_context *context, const hp_advice *advice, hp_log_line *line)
{
    (void)advice;
    if (context->plan->ammeter)
        hp_log_word(line, "--idle-a=AMPERES");
    hp_log_word(line, "--rubs=YES-OR-NO");
    hp_log_word(line, "--other-load=YES-OR-NO");
}

const hp_words hp_words_drag = {
    .reading = &hp_reading_drag,
    .menu = "what drags, and what else draws current",
    .card = card,
    .showing = showing,
    .entry = entry,
    .questions = questions,
    .hinders = hinders,
    .log = log_options,
};
