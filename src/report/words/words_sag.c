/* Words for the volts under load: see words.h. */
#include "report/words/control_words.h"
#include "report/words/words_running.h"

#include <math.h>

/* chosen: a load that shows in the volts and that brake or bulbs can take for some seconds. */
#define LOAD_A 8.0

/* What a brake lever does to the drive, as far as log and scenario say. */
typedef enum lever { LEVER_UNKNOWN, LEVER_FREE, LEVER_CUTS } lever;

static const hp_brake_reading *brake_read(const hp_card_context *context)
{
    const hp_commission_step *step =
        context->commission ? hp_commission_step_of(context->commission, &hp_reading_brake) : NULL;
    return step && step->entry ? hp_entry_said(step->entry) : NULL;
}

static lever lever_of(const hp_card_context *context)
{
    const hp_brake_reading *read = brake_read(context);
    hp_brake_switch fitted = hp_card_controls(context).brake.fitted;
    if (read && read->fitted == HP_TELL_NO)
        return LEVER_FREE;
    if (read && (read->stops[0] == HP_TELL_YES || read->stops[1] == HP_TELL_YES))
        return LEVER_CUTS;
    if (fitted == HP_SWITCH_NONE)
        return LEVER_FREE;
    return fitted == HP_SWITCH_NORMALLY_CLOSED ||
                   (context->commission &&
                    hp_step_listed(&context->commission->given, HP_CONTROL_PART_BRAKE))
               ? LEVER_CUTS
               : LEVER_UNKNOWN;
}

/* chosen: a 12 V headlamp bulb of the trade, 55 W. */
#define BULB_V 12.0
#define BULB_A 4.5

/* On the controller's own leads, so that what the leads lose is in it. */
static void detail_lamps(const hp_card_context *context, const char *begin, double amperes,
                         hp_card *words)
{
    int bulbs = (int)fmax(1.0, round(context->drive->supply.emf_v / BULB_V));
    int rows = (int)fmax(1.0, round(amperes / BULB_A));
    hp_card_detail(words,
                   "%samps or a heater on the controller's battery leads, behind fuse and meter, "
                   "%s: 12 V, 55 W headlamp bulbs, %d in a row, draw about %.3g A%s.",
                   begin, hp_drive_words_of(context->plan)->at_rest, bulbs, BULB_A,
                   rows > 1 ? "; rows side by side add up" : "");
    hp_card_caution(words, "Bulbs and heater burn: on stone or metal, joined with battery off.");
}

/* A lever with a switch takes away the very current that is to be read. */
static void detail_past_lever(const hp_card_context *context, hp_card *words)
{
    const hp_brake_reading *read = brake_read(context);
    bool closed = hp_card_controls(context).brake.expects == HP_SWITCH_NORMALLY_CLOSED;
    hp_tell drives = read ? read->unplugged : HP_TELL_UNSAID;
    hp_card_detail(words,
                   "Or let the brake drag with its lever let go: battery off, screw out the "
                   "cable's adjuster at the brake until the wheel turns stiffly by hand, run it "
                   "%s; screw it back afterwards, and try that the brake brakes and its wheel "
                   "turns freely.",
                   hp_plan_by_pedals(context->plan) ? "by the pedals" : "at full throttle");
    hp_card_caution(words, "No hand on brake or cable while the wheel turns; it gets hot, too.");
    if (drives == HP_TELL_NO || (drives == HP_TELL_UNSAID && closed))
        hp_card_detail(words, "Pulling the brake plug does not help: without it this controller "
                              "holds the motor off.");
    else
        hp_card_detail(words,
                       "Or pull the brake plug, battery off%s: then the lever brakes and no longer "
                       "stops the drive. Plug it in again, and try that each lever does.",
                       drives == HP_TELL_YES ? "" : ", if the switch is a normally open one");
}

static void how_to_load(const hp_card_context *context, double amperes, hp_card *words)
{
    char load[HP_NUMBER_WORDS];
    const char *full = hp_plan_by_pedals(context->plan) ? "One turns the pedals, another holds the "
                                                          "battery's switch"
                                                        : "Full throttle";
    hp_card_number(amperes, load, sizeof load);
    switch (lever_of(context)) {
    case LEVER_FREE:
        hp_card_how(
            words,
            "%s, and brake the wheel by its own brake until about %s A flow: read both within "
            "five seconds, then let go.",
            full, load);
        detail_lamps(context, "No brake? L", amperes, words);
        return;
    case LEVER_CUTS:
        hp_card_how(words,
                    "Pulling a brake lever stops the drive here, so load it with lamps, or with "
                    "the brake but not its lever, until about %s A flow: read both within five "
                    "seconds, then take the load off.",
                    load);
        break;
    case LEVER_UNKNOWN:
        hp_card_how(words,
                    "%s, and brake the wheel by its own brake until about %s A flow, or as told "
                    "below where the lever stops the drive: read both within five seconds, then "
                    "let go.",
                    full, load);
        break;
    }
    detail_lamps(context, "L", amperes, words);
    detail_past_lever(context, words);
}

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
    hp_card_how(words,
                "A voltmeter clipped to the controller's battery leads while all is off, "
                "meter in the battery's lead. "
                "Battery on, %s: read amperes and volts of the free wheel.",
                hp_drive_words_of(context->plan)->gently);
    hp_card_doing(words, HP_DOING_BATTERY | HP_DOING_METER | HP_DOING_THROTTLE);
    hp_card_no_ammeter(context, "leave this step out, and log that (left_out)", words);
    how_to_load(context, amperes, words);
    hp_card_how(words, "If you can, read the volts at the battery's own terminals at the same "
                       "load.");
    hp_card_doing(words, HP_DOING_LIVE);
    hp_card_how_to_stop(context, words);
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
    if (step->code == HP_SAG_CONTACT) {
        const double leads_v = hp_sag_leads_v(&context->commission->given, s->high_a);
        hp_phrase p = hp_phrase_begin(words->means, sizeof words->means);
        hp_phrase_add(&p, "Leads, plugs and fuse lose %s V at %s A, that is %s W of heat in them: ",
                      hp_card_number(s->pack_v - s->high_v, volts, sizeof volts),
                      hp_card_as_read(s->high_a, lost, sizeof lost),
                      hp_card_number((s->pack_v - s->high_v) * s->high_a, most, sizeof most));
        if (leads_v > 0.0)
            hp_phrase_add(&p,
                          "the leads as stated lose %s V of it, the rest is a contact that "
                          "burns.",
                          hp_card_number(leads_v, volts, sizeof volts));
        else
            hp_phrase_add(&p, "a contact that burns, or leads that are far too thin or long.");
        HP_CARD_SET(words->otherwise,
                    "Do not load it again. Battery off: feel each plug, the fuse holder, the "
                    "switch and the leads, look for brown plastic and dull pins, and renew what "
                    "is warm. Only then read the volts under two loads once more.");
        return;
    }
    if (step->code == HP_SAG_SLIP) {
        hp_card_number(context->drive->supply.emf_v, volts, sizeof volts);
        HP_CARD_SET(words->means,
                    "Check the figures: a battery of %s V in order does not give these at such "
                    "currents. A slip of the pen, a decimal point or a unit, a contact that "
                    "burns, or a battery that is worn out, empty or ice-cold.",
                    volts);
        HP_CARD_SET(words->otherwise,
                    "Battery off, and feel every plug and the fuse holder first. All cold: read "
                    "amperes and volts once more under both loads, the battery's own terminals, "
                    "too, and log them again. The same once more: charge it, let it warm up, and "
                    "if that does not help it is at its end. Until then nothing is learnt from "
                    "this step.");
        return;
    }
    if (step->code == HP_SAG_ALIKE) {
        HP_CARD_SET(words->means,
                    "The two loads are too alike, %s A and %s A: what a meter is out by between "
                    "two looks hides what battery and leads lose.",
                    hp_card_as_read(s->low_a, volts, sizeof volts),
                    hp_card_as_read(s->high_a, most, sizeof most));
        HP_CARD_SET(words->otherwise,
                    "Read amperes and volts once more, of the free wheel and of a load that is "
                    "many times larger, and log them again. Until then nothing is learnt from this "
                    "step.");
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
