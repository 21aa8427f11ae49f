/* Words for the volts under load: see words.h. */
#include "report/words/words.h"
#include "report/words/words_running.h"

#include <math.h>

/* chosen: a load that shows in the volts and that brake or bulbs can take for some seconds. */
#define LOAD_A 8.0

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    const hp_supply_params *supply = &hp_card_own_drive(context)->supply;
    char volts[HP_NUMBER_WORDS], load[HP_NUMBER_WORDS];
    double limit = context->drive->controller.battery_limit_a;
    double amperes = limit > 0.0 ? fmin(LOAD_A, 0.8 * limit) : LOAD_A;
    (void)lead;
    hp_card_number(amperes, load, sizeof load);
    HP_CARD_SET(words->title, "Read the volts under two loads");
    HP_CARD_SET(words->reason, "What the volts lose between two currents is the resistance of "
                               "battery, fuse, plugs and leads together: a bad contact shows here "
                               "before it burns.");
    hp_card_how_to_make_ready(context, words);
    hp_card_how(words, "A voltmeter clipped to the controller's battery leads while all is off, "
                       "meter in the battery's lead. "
                       "Battery on, throttle gently: read amperes and volts of the free wheel.");
    hp_card_doing(words, HP_DOING_BATTERY | HP_DOING_METER | HP_DOING_THROTTLE);
    hp_card_how(words,
                "Full throttle, and brake the wheel by its own brake until about %s A flow: read "
                "both within five seconds, then let go.",
                load);
    hp_card_detail(words, "No brake? Lamps or a heater across the battery behind the fuse do as "
                          "well: 12 V, 55 W headlamp bulbs in a row for the volts, about 4.5 A.");
    hp_card_how(words, "If you can, read the volts at the battery's own terminals at the same "
                       "load.");
    hp_card_doing(words, HP_DOING_LIVE);
    hp_card_how_to_stop(words);
    HP_CARD_SET(words->healthy,
                "About %s V less at %s A than without load; half as much is good, "
                "three times as much is a bad contact or a tired battery.",
                hp_card_number(supply->resistance_ohm * amperes, volts, sizeof volts), load);
    HP_CARD_SET(words->note, "Amperes and volts of both loads; volts at the battery's terminals.");
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_sag *s = values;
    char a[HP_NUMBER_WORDS], b[HP_NUMBER_WORDS], c[HP_NUMBER_WORDS], d[HP_NUMBER_WORDS];
    (void)context;
    hp_phrase_add(p, "volts under load: %s V at %s A, %s V at %s A",
                  hp_card_as_read(s->low_v, a, sizeof a), hp_card_as_read(s->low_a, b, sizeof b),
                  hp_card_as_read(s->high_v, c, sizeof c), hp_card_as_read(s->high_a, d, sizeof d));
    if (!isnan(s->pack_v))
        hp_phrase_add(p, ", %s V then at the battery", hp_card_as_read(s->pack_v, a, sizeof a));
}

/* How the volts that are lost share between battery and what lies behind its terminals. */
static void add_share(const hp_sag *s, char *out, size_t size)
{
    char number[HP_NUMBER_WORDS];
    hp_phrase p = hp_phrase_resume(out, size);
    if (s->pack_v <= s->high_v)
        hp_phrase_add(&p, " Leads, plugs and fuse lose nothing that the meter shows.");
    else if (!isnan(s->pack_v) && s->high_a > 0.0)
        hp_phrase_add(&p, " Leads, plugs and fuse lose %s V of it at %.3g A.",
                      hp_card_number(s->pack_v - s->high_v, number, sizeof number), s->high_a);
}

static void finding(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words)
{
    const hp_sag *s = hp_entry_said(step->entry);
    const hp_own_figure *ohm = &context->commission->own.figure[HP_OWN_SUPPLY_OHM];
    char range[HP_RANGE_WORDS], most[HP_NUMBER_WORDS], lost[HP_RANGE_WORDS], volts[HP_NUMBER_WORDS];
    double limit = context->drive->controller.battery_limit_a;
    hp_card_range(1000.0 * ohm->low, 1000.0 * ohm->high, range, sizeof range);
    hp_card_range(ohm->low * limit, ohm->high * limit, lost, sizeof lost);
    hp_card_number(limit, most, sizeof most);
    if (step->code == HP_SAG_SLIP) {
        hp_card_number(context->drive->supply.emf_v, volts, sizeof volts);
        HP_CARD_SET(words->means,
                    "Check the figures: a battery of %s V that turns this wheel does not give "
                    "these at such currents. A slip of the pen, a decimal point or a unit.",
                    volts);
        HP_CARD_SET(words->otherwise,
                    "Read amperes and volts once more under both loads, and log them again. Until "
                    "then nothing is learnt from this step.");
        return;
    }
    if (!ohm->known)
        return;
    if (limit > 0.0)
        HP_CARD_SET(words->means,
                    "Battery with its leads: %s milliohm. At the controller's limit of "
                    "%s A it loses %s V.",
                    range, most, lost);
    else
        HP_CARD_SET(words->means, "Battery with its leads: %s milliohm.", range);
    add_share(s, words->means, sizeof words->means);
    if (step->code == HP_SAG_FINE)
        return;
    HP_CARD_SET(
        words->otherwise,
        "%sFeel every plug, the fuse holder and the leads after a minute under load, battery "
        "off first: what is warm has the resistance. All cold: the battery is tired, cold or "
        "too small.",
        step->code == HP_SAG_MUCH ? "More than a tenth of the volts: it will cut out on "
                                    "hills. "
                                  : "");
}

static const hp_question questions[] = {
    {.field = "low_a", .text = "Small load: how many amperes?"},
    {.field = "low_v", .text = "How many volts at the controller?"},
    {.field = "high_a", .text = "Large load: how many amperes?"},
    {.field = "high_v", .text = "How many volts at the controller?"},
    {.field = "terminal_v",
     .text = "How many volts at the battery's own terminals then?",
     .fallback = "",
     .shown = "Enter: not read"},
    {.text = NULL},
};

const hp_words hp_words_sag = {
    .reading = &hp_reading_sag,
    .menu = "volts at the controller under two loads",
    .safety = HP_SAFE_DEAD,
    .card = card,
    .entry = entry,
    .finding = finding,
    .questions = questions,
    .log_words = "--low-a=AMPERES --low-v=VOLTS --high-a=AMPERES --high-v=VOLTS --terminal-v=VOLTS",
};
