/* Words for the no-load run: see words.h. */
#include "report/words/card_parts.h"
#include "report/words/control_words.h"
#include "report/words/drive_words.h"
#include "report/words/words.h"
#include "report/words/words_running.h"

#include <math.h>

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    double volts = context->drive->supply.emf_v;
    hp_no_load_told told = hp_card_no_load(context, volts);
    char amperes[HP_RANGE_WORDS], speed[HP_RANGE_WORDS], at[HP_NUMBER_WORDS];
    bool pedals = hp_plan_by_pedals(context->plan);
    (void)lead;
    HP_CARD_SET(words->title, "Run it without load: %s",
                pedals ? "all that the pedals give" : "full throttle, then half");
    HP_CARD_SET(words->reason, "Speed and current together say whether wiring, magnets, bearings "
                               "and winding are what they should be.");
    hp_card_how_to_make_ready(context, words);
    hp_card_how(words,
                "Battery on, %s, highest speed step. When it has settled see which way the wheel "
                "turns, and read %s volts at the controller's battery leads.",
                hp_drive_words_of(context->plan)->up_to_full,
                context->plan->ammeter ? "three things: wheel speed, battery current,"
                                       : "two things: wheel speed, and");
    hp_card_doing(words, HP_DOING_BATTERY | HP_DOING_METER | HP_DOING_THROTTLE);
    hp_card_detail(words,
                   "Speed by a speedometer, a tachometer, or a mark on the tyre in a phone's "
                   "film: turns counted over ten seconds, times six.");
    hp_card_no_ammeter(context, "read speed and volts alone", words);
    if (!pedals) {
        hp_card_how(words, "Throttle back to about half, wait, read the same %s.",
                    context->plan->ammeter ? "three" : "two");
        hp_card_detail(words,
                       "How much exactly does not matter: drag at another speed is what tells.");
    }
    hp_card_how_to_stop(context, words);
    HP_CARD_SET(
        words->healthy, "%s at %s V: %s rev/min and %s A (%s). Less current is no fault.",
        pedals ? "By the pedals" : "Full throttle", hp_card_number(volts, at, sizeof at),
        hp_card_range(told.rad_90.low / HP_RPM, told.rad_90.high / HP_RPM, speed, sizeof speed),
        hp_card_range(told.battery_90.low, told.battery_90.high, amperes, sizeof amperes),
        hp_card_bands_from(HP_BANDS_PARTS));
    HP_CARD_SET(words->note, "Which way it turned; speed, current and volts%s.",
                pedals ? ": what the log calls full throttle; no half"
                       : ", at full and at half throttle");
}

static void add_steady(hp_phrase *p, const char *where, const hp_steady *s)
{
    char number[HP_NUMBER_WORDS];
    if (isnan(s->rad_s) && isnan(s->battery_a) && isnan(s->volts))
        return;
    hp_phrase_add(p, "%s", where);
    if (!isnan(s->rad_s))
        hp_phrase_add(p, " %s rev/min", hp_card_rpm_as_read(s->rad_s, number, sizeof number));
    if (!isnan(s->battery_a))
        hp_phrase_add(p, " %s A", hp_card_as_read(s->battery_a, number, sizeof number));
    if (!isnan(s->volts))
        hp_phrase_add(p, " at %s V", hp_card_as_read(s->volts, number, sizeof number));
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_no_load *n = values;
    (void)context;
    hp_phrase_add(p, "no-load run%s:",
                  n->turning == HP_TURNING_FORWARD    ? " forward"
                  : n->turning == HP_TURNING_BACKWARD ? " backward"
                                                      : "");
    add_steady(p, " full throttle", &n->full);
    add_steady(p, ", half", &n->half);
}

static void say_half(const hp_card_context *context, const hp_no_load *n, hp_finding_words *words)
{
    char amperes[HP_RANGE_WORDS], volts[HP_NUMBER_WORDS];
    hp_phrase p = hp_phrase_begin(words->means, sizeof words->means);
    hp_part_told told = hp_card_part(context, n->full.volts, n->half.rad_s);
    hp_phrase_add(&p, "Check the figures of half throttle: about %s V",
                  hp_card_as_read(n->full.volts, volts, sizeof volts));
    if (!isnan(told.battery_a))
        hp_phrase_add(
            &p, " and %s A",
            hp_card_range(told.battery_90.low, told.battery_90.high, amperes, sizeof amperes));
    hp_phrase_add(&p, " were to be expected there, and never more current than at full throttle.");
    HP_CARD_SET(words->otherwise,
                "Read speed, current and volts once more, at full throttle and at half, and log "
                "them again. Until then nothing is learnt from this run. If the current stays, the "
                "wheel runs unevenly: feel for a phase lead or Hall sensor that makes contact "
                "badly.");
}

static void say_volts(const hp_card_context *context, const hp_no_load *n, hp_finding_words *words)
{
    const hp_assess_case *given = &context->commission->given;
    const hp_pack_params *pack = given->pack_known == HP_PACK_GUESSED ? NULL : given->pack;
    double cut_off = given->drive->controller.undervoltage_v;
    char volts[HP_NUMBER_WORDS], range[HP_RANGE_WORDS];
    hp_phrase p = hp_phrase_begin(words->means, sizeof words->means);
    hp_phrase_add(&p, "Check the volts: %s V", hp_card_as_read(n->full.volts, volts, sizeof volts));
    if (n->full.volts < cut_off)
        hp_phrase_add(&p, ", and below %s V this controller cuts off",
                      hp_card_number(cut_off, volts, sizeof volts));
    if (pack)
        hp_phrase_add(&p, ", and this battery gives %s V",
                      hp_card_range(pack->empty_v, pack->full_v, range, sizeof range));
    if (pack && n->full.volts > pack->full_v) {
        hp_phrase_add(&p, ". A slip, another battery than the scenario says, or a meter that is "
                          "out.");
        HP_CARD_SET(words->otherwise,
                    "Read the battery's label, and its volts with nothing switched on. Then read "
                    "volts, speed and current once more, and log them again. Until then nothing is "
                    "learnt from this run.");
        return;
    }
    hp_phrase_add(&p, ". A slip, an empty battery, or a bad contact on the way.");
    HP_CARD_SET(words->otherwise,
                "Feel plugs and fuse holder, battery off. Then read volts, speed and current once "
                "more, and log them again. Until then nothing is learnt from this run.");
}

static void say_switch(const hp_card_context *context, const hp_no_load *n,
                       const hp_no_load_told *told, hp_finding_words *words)
{
    char position[HP_STEP_WORDS], speed[HP_RANGE_WORDS];
    HP_CARD_SET(
        words->means,
        "Slower than these volts should turn it (%s rev/min), and its speed switch gives "
        "that speed in its %s position: most likely it stood there, or a lead of it is "
        "off.",
        hp_card_range(told->rad_90.low / HP_RPM, told->rad_90.high / HP_RPM, speed, sizeof speed),
        hp_slow_step(context, n->full.rad_s, told->rad_90));
    HP_CARD_SET(words->otherwise,
                "Battery off%s, its plug well in; run it once more, and log it. If it stays slow "
                "there, feel what drags.",
                hp_card_speed_step(context, position, sizeof position));
}

/* Of a run that is far off: no gentle run makes up for it. */
static const char *no_ride(const hp_commission_step *step)
{
    return step->finding == HP_FINDING_STOP ? "Do not ride it. " : "";
}

static void finding(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words)
{
    const hp_no_load *n = hp_entry_said(step->entry);
    hp_no_load_told told = hp_card_no_load(context, n->full.volts);
    char amperes[HP_RANGE_WORDS], speed[HP_RANGE_WORDS], volts[HP_NUMBER_WORDS];
    hp_phrase p;
    hp_card_range(told.battery_90.low, told.battery_90.high, amperes, sizeof amperes);
    hp_card_range(told.rad_90.low / HP_RPM, told.rad_90.high / HP_RPM, speed, sizeof speed);
    switch (step->code) {
    case HP_NO_LOAD_FINE:
        /* Less current is no fault. */
        HP_CARD_SET(words->means, "As it ought to be: ");
        p = hp_phrase_resume(words->means, sizeof words->means);
        if (!isnan(n->full.battery_a))
            hp_phrase_add(&p, "%s%s A%s", n->full.battery_a < told.battery_90.low ? "up to " : "",
                          n->full.battery_a < told.battery_90.low
                              ? hp_card_number(told.battery_90.high, volts, sizeof volts)
                              : amperes,
                          isnan(n->full.rad_s) ? "" : " and ");
        if (!isnan(n->full.rad_s))
            hp_phrase_add(&p, "%s rev/min", speed);
        hp_phrase_add(&p, " were to be expected.");
        return;
    case HP_NO_LOAD_MORE:
        HP_CARD_SET(words->means,
                    "More current than its drag and its idle draw explain (%s A): something takes "
                    "power only while it runs.",
                    amperes);
        HP_CARD_SET(
            words->otherwise,
            "Coast it down and measure the idle draw, if that was not done. Then feel for a "
            "brake or seal that warms, and for one phase lead or Hall sensor that makes "
            "contact badly; shorted turns warm the hub within a minute.");
        return;
    case HP_NO_LOAD_ROUGH:
        HP_CARD_SET(words->means,
                    "So much current draws only a wrong wiring, a stuck Hall sensor, a shorted "
                    "winding or a brake that drags: %s A were to be expected.",
                    amperes);
        HP_CARD_SET(words->otherwise,
                    "Do not ride it. Turn the wheel by hand, battery off. Where it drags, find out "
                    "why and run it again. Where it turns freely, go back to the wiring: "
                    "the advice takes it from there, this run with it.");
        return;
    case HP_NO_LOAD_BACKWARD:
        HP_CARD_SET(words->means, "The wheel turned backward: the wiring is a reverse one.");
        HP_CARD_SET(words->otherwise, "Log this run as a trial of the wiring that is joined: "
                                      "the advice then says which leads to exchange.");
        return;
    case HP_NO_LOAD_SLIP:
        HP_CARD_SET(words->means,
                    "Check the figures: %s rev/min and %s A were to be expected at %s V, and a "
                    "figure far off these is a slip of the pen, a decimal point or a unit.",
                    speed, amperes, hp_card_as_read(n->full.volts, volts, sizeof volts));
        HP_CARD_SET(words->otherwise,
                    "Read speed, current and volts once more, at full throttle, and log them "
                    "again. Until then nothing is learnt from this run.");
        return;
    case HP_NO_LOAD_VOLTS: say_volts(context, n, words); return;
    case HP_NO_LOAD_HALF: say_half(context, n, words); return;
    case HP_NO_LOAD_SWITCH: say_switch(context, n, &told, words); return;
    case HP_NO_LOAD_FAST:
        HP_CARD_SET(words->means,
                    "Faster than these volts should turn it (%s rev/min): " HP_FAST_CAUSES ".",
                    speed);
        HP_CARD_SET(words->otherwise,
                    "%sMeasure the speed once more. If it stays, the scenario's "
                    "no-load speed is another motor's: write down what you measured.",
                    no_ride(step));
        return;
    default:
        HP_CARD_SET(words->means,
                    "Slower than these volts should turn it: %s rev/min were to be "
                    "expected.",
                    speed);
        HP_CARD_SET(words->otherwise,
                    "%sIs the grip fully open, the speed switch on its highest step, the "
                    "throttle's signal near its top, and does nothing drag? If so, the scenario's "
                    "no-load speed is another motor's.",
                    no_ride(step));
        return;
    }
}

static const hp_choice ways[] = {
    {"forward", "forward: as the machine is ridden"}, {"backward", "backward"}, {NULL, NULL}};

#define NOT_READ .fallback = "", .shown = "Enter: not read"

static const hp_question questions[] = {
    {.field = "turned",
     .text = "Which way did the wheel turn?",
     .choices = ways,
     .fallback = "",
     .shown = "Enter: nobody looked"},
    {.field = "full_speed_rpm", .text = "Full throttle: how many turns a minute?", NOT_READ},
    {.field = "full_a", .text = "How many amperes does the battery give?", NOT_READ},
    {.field = "full_v", .text = "How many volts at the controller meanwhile?"},
    {.text = "Did you read the same at half throttle?", .fallback = "yes"},
    {.field = "half_speed_rpm", .text = "Half throttle: how many turns a minute?"},
    {.field = "half_a", .text = "How many amperes?"},
    {.field = "half_v", .text = "How many volts?"},
    {.text = NULL},
};

const hp_words hp_words_no_load = {
    .reading = &hp_reading_no_load,
    .menu = "speed and current with the wheel lifted, full and half throttle",
    .safety = HP_SAFE_DEAD,
    .card = card,
    .entry = entry,
    .finding = finding,
    .questions = questions,
    .log_words = "--turned=WAY --full-speed-rpm=RPM --full-a=AMPERES --full-v=VOLTS "
                 "--half-speed-rpm=RPM --half-a=AMPERES --half-v=VOLTS",
};
