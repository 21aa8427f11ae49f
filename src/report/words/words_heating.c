/* Words for the heating test: see words.h. */
#include "decide/commission/fit_heat.h"
#include "model/heat.h"
#include "report/words/words.h"
#include "report/words/words_running.h"

#include <math.h>

/* chosen: a rise that the volts show well, and that hurts no varnish; in two minutes. */
#define RISE_K  30.0
#define TIME_S  120.0
#define MOST_A  30.0 /* chosen: what bench supplies give at these volts, at most */
#define LEAST_A 3.0

/* Steady amperes that warm two thirds of the copper so far, some heat going to the hub meanwhile.
 */
static double test_amperes(const hp_card_context *context)
{
    const hp_drive *d = hp_card_own_drive(context);
    const hp_heat_params heat = hp_heat_params_usual(d->stand.gear_ratio);
    double joule = 1.5 * RISE_K * heat.copper_j_per_k * 2.0 / 3.0;
    double amperes = sqrt(joule / TIME_S / (2.0 * d->motor.resistance_ohm));
    return fmin(fmax(round(amperes), LEAST_A), MOST_A);
}

/* What a smaller supply shows: the volts rise with the square of the amperes. */
#define SMALL_LOW_A  5.0
#define SMALL_HIGH_A 10.0

static void say_small_supply(const hp_card_context *context, double amperes, hp_card *words)
{
    double at_most = fmin(SMALL_HIGH_A, amperes), least = SMALL_LOW_A / amperes;
    double percent = 100.0 * RISE_K * hp_card_own_drive(context)->motor.copper_per_k;
    if (SMALL_LOW_A < amperes)
        hp_card_detail(words,
                       "A supply that gives less will do for the resistance: %.2g to %.2g A raise "
                       "the volts by about %.1g to %.2g %% in two minutes. Of the heat that tells "
                       "little.",
                       SMALL_LOW_A, at_most, percent * least * least,
                       percent * (at_most / amperes) * (at_most / amperes));
}

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    const hp_drive *d = hp_card_own_drive(context);
    hp_lead_names phases = hp_card_phases(context->labels);
    double amperes = test_amperes(context), volts = 2.0 * d->motor.resistance_ohm * amperes;
    char pair[HP_PAIR_WORDS], a[HP_NUMBER_WORDS], v[HP_NUMBER_WORDS], end[HP_NUMBER_WORDS];
    (void)lead;
    HP_CARD_SET(words->title, "Warm the winding for two minutes and read its volts");
    HP_CARD_SET(words->reason,
                "Copper gains resistance as it warms: the volts are its thermometer. "
                "They tell the resistance, how fast it heats, and how it gives the "
                "heat to the hub.");
    hp_card_how(words,
                "Motor as cold as the room, nothing joined to it. Bench supply set to about %s A, "
                "which takes about %s V, off, to %s; a voltmeter on the same two leads, close to "
                "the hub.",
                hp_card_number(amperes, a, sizeof a), hp_card_number(volts, v, sizeof v),
                hp_card_pair(&phases, 2, pair, sizeof pair));
    hp_card_detail(words, "The rotor jerks to a place and stays there: hold the wheel first.");
    say_small_supply(context, amperes, words);
    if (context->plan->first_power == HP_FIRST_POWER_LAMP ||
        context->plan->first_power == HP_FIRST_POWER_NONE)
        hp_card_detail(words, "No bench supply? Leave this step out, and say so in the log: the "
                              "others do without it.");
    hp_card_how(words, "Supply on: read amperes and volts within three seconds, start the clock.");
    hp_card_doing(words, HP_DOING_HEATING);
    hp_card_how(words, "Volts again after 30, 60 and 120 s, three decimals if the meter has them; "
                       "then off.");
    hp_card_how(words, "After 30 s and 120 s of rest: supply on for three seconds, read the volts, "
                       "off.");
    hp_card_how(words, "Feel the hub. Battery stays away until it is cold.");
    HP_CARD_SET(words->healthy,
                "%s V at the start, rising by about a tenth, falling back by half and more in two "
                "minutes.",
                hp_card_number(volts, end, sizeof end));
    HP_CARD_SET(words->note, "Amperes; temperature of the room; volts with their moments.");
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_heating *h = values;
    char a[HP_NUMBER_WORDS], b[HP_NUMBER_WORDS];
    (void)context;
    hp_phrase_add(p, "heating: %s A", hp_card_as_read(h->amperes, a, sizeof a));
    if (!isnan(h->winding_c))
        hp_phrase_add(p, " at %s C", hp_card_as_read(h->winding_c, b, sizeof b));
    hp_phrase_add(p, ",");
    hp_phrase_add(p, " %s V at the start", hp_card_as_read(h->start_v, a, sizeof a));
    for (int k = 0; k < HP_HEATING_MARKS; k++)
        if (!isnan(h->mark_s[k]))
            hp_phrase_add(p, ", %s V after %s s", hp_card_as_read(h->mark_v[k], a, sizeof a),
                          hp_card_as_read(h->mark_s[k], b, sizeof b));
    if (!isnan(h->off_s))
        hp_phrase_add(p, "; off after %s s", hp_card_as_read(h->off_s, a, sizeof a));
    for (int k = 0; k < HP_HEATING_RESTS; k++)
        if (!isnan(h->rest_s[k]))
            hp_phrase_add(p, ", %s V after %s s of rest",
                          hp_card_as_read(h->rest_v[k], a, sizeof a),
                          hp_card_as_read(h->rest_s[k], b, sizeof b));
}

/* Which reading cannot be, and that it is left out of what is learnt. */
static void say_doubted(const hp_assess_case *given, const hp_heating *h, hp_finding_words *words)
{
    static const char why[] = "warm copper needs more volts for the same amperes, a tenth more for "
                              "each 25 degrees, and resting copper less and less";
    char seconds[HP_NUMBER_WORDS], read[HP_NUMBER_WORDS];
    hp_heating clean;
    hp_heating_doubt doubt = hp_heating_sift(given, h, &clean);
    int k = doubt.mark > 0 ? doubt.mark - 1 : doubt.rest - 1;
    if (doubt.start)
        HP_CARD_SET(
            words->means,
            "Check the figure: %s V at the start do not fit the volts after it; %s. Nothing "
            "is learnt from this test.",
            hp_card_as_read(h->start_v, read, sizeof read), why);
    else if (doubt.whole)
        HP_CARD_SET(words->means,
                    "Check the figures: these volts and amperes are no winding's of this motor, "
                    "and %s. Nothing is learnt from this test.",
                    why);
    else
        HP_CARD_SET(
            words->means,
            "Check the figure: %s V after %s s%s do not fit the readings beside them; %s. "
            "That reading is left out of what is learnt.",
            hp_card_as_read(doubt.mark > 0 ? h->mark_v[k] : h->rest_v[k], read, sizeof read),
            hp_card_as_read(doubt.mark > 0 ? h->mark_s[k] : h->rest_s[k], seconds, sizeof seconds),
            doubt.mark > 0 ? "" : " of rest", why);
}

static void finding(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words)
{
    const hp_commission *list = context->commission;
    const hp_heating *h = hp_entry_said(step->entry);
    const hp_own_figure *ohm = &list->own.figure[HP_OWN_WINDING_OHM];
    const hp_own_figure *time = &list->own.figure[HP_OWN_WINDING_S];
    char range[HP_RANGE_WORDS], reached[HP_NUMBER_WORDS], seconds[HP_RANGE_WORDS];
    if (step->code == HP_HEATING_MISREAD) {
        say_doubted(&list->given, h, words);
        HP_CARD_SET(words->otherwise,
                    "Check the decimal point and the order of the volts, and that the current held "
                    "steady. Let the motor cool to the room, then measure again.");
        return;
    }
    hp_phrase p = hp_phrase_begin(words->means, sizeof words->means);
    double hot = hp_heating_reached_c(&list->given, h);
    hp_phrase_add(&p, "%s ohm between two leads at 20 C",
                  hp_card_range(ohm->low, ohm->high, range, sizeof range));
    if (!isnan(hot))
        hp_phrase_add(&p, "; the winding came to %s C",
                      hp_card_number(round(hot), reached, sizeof reached));
    if (time->known)
        hp_phrase_add(&p, "; it gives its heat to the hub with a time of %s s",
                      hp_card_range(time->low, time->high, seconds, sizeof seconds));
    hp_phrase_add(&p, ".");
    switch (step->code) {
    case HP_HEATING_FINE: return;
    case HP_HEATING_NO_TIME:
        hp_phrase_add(&p, " How fast it heats these readings do not tell: it takes a larger "
                          "current, volts after 30, 60 and 120 s, and after some rest.");
        return;
    case HP_HEATING_HOT:
        HP_CARD_SET(words->otherwise, "Hotter than varnish and Hall sensors bear for long: stop "
                                      "sooner, or take less current. Let it cool for an hour.");
        return;
    case HP_HEATING_LESS:
        HP_CARD_SET(words->otherwise,
                    "Less than the scenario states: shorted turns, or another winding. Compare the "
                    "three pairs; alike means another winding, so correct the scenario.");
        return;
    case HP_HEATING_MORE:
        HP_CARD_SET(words->otherwise,
                    "More than the scenario states: a thin or torn lead, a bad clip, or another "
                    "winding. Clip the voltmeter closer to the hub and compare the three pairs.");
        return;
    default:
        HP_CARD_SET(words->otherwise, "The volts hardly rose, so nothing can be said of the heat: "
                                      "take more current, or wait longer.");
        return;
    }
}

#define NOT_READ .fallback = "", .shown = "Enter: not read"

static bool has_first(const hp_question_case *c, const void *values)
{
    (void)c;
    return !isnan(((const hp_heating *)values)->mark_s[0]);
}

static bool has_second(const hp_question_case *c, const void *values)
{
    (void)c;
    return !isnan(((const hp_heating *)values)->mark_s[1]);
}

static bool has_third(const hp_question_case *c, const void *values)
{
    (void)c;
    return !isnan(((const hp_heating *)values)->mark_s[2]);
}

static bool has_rest(const hp_question_case *c, const void *values)
{
    (void)c;
    return !isnan(((const hp_heating *)values)->rest_s[1]);
}

static const hp_question questions[] = {
    {.field = "heating_a", .text = "How many amperes, steady?"},
    {.field = "winding_c",
     .text = "How warm was the motor before, in degrees C?",
     .fallback = "",
     .shown = "Enter: not known"},
    {.field = "start_v", .text = "How many volts as soon as the current flowed?"},
    {.field = "heated_1_s", .text = "First look: after how many seconds?", NOT_READ},
    {.field = "heated_1_v", .text = "How many volts then?", .wanted = has_first},
    {.field = "heated_2_s",
     .text = "Second look: after how many seconds?",
     NOT_READ,
     .wanted = has_first},
    {.field = "heated_2_v", .text = "How many volts then?", .wanted = has_second},
    {.field = "heated_3_s",
     .text = "Third look: after how many seconds?",
     NOT_READ,
     .wanted = has_second},
    {.field = "heated_3_v", .text = "How many volts then?", .wanted = has_third},
    {.text = "Did you read it again after some rest?", .fallback = "no"},
    {.field = "heating_s", .text = "After how many seconds did you switch the current off?"},
    {.field = "rested_1_s", .text = "First look after that: after how many seconds of rest?"},
    {.field = "rested_1_v", .text = "How many volts then?"},
    {.field = "rested_2_s", .text = "A second one: after how many seconds of rest?", NOT_READ},
    {.field = "rested_2_v", .text = "How many volts then?", .wanted = has_rest},
    {.text = NULL},
};

const hp_words hp_words_heating = {
    .reading = &hp_reading_heating,
    .menu = "two minutes of direct current: resistance and heat of the winding",
    .safety = HP_SAFE_APART,
    .card = card,
    .entry = entry,
    .finding = finding,
    .questions = questions,
    .log_words =
        "--heating-a=AMPERES --winding-c=DEGREES --start-v=VOLTS --heated-1-s=30 "
        "--heated-1-v=VOLTS --heated-2-s=60 --heated-2-v=VOLTS --heated-3-s=120 --heated-3-v=VOLTS "
        "--heating-s=120 --rested-1-s=30 --rested-1-v=VOLTS --rested-2-s=120 --rested-2-v=VOLTS",
};
