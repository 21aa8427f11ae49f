/* Words for the speed switch: see words.h. */
#include "hubphase/decide/assumptions.h"
#include "report/words/control_words.h"

#include <math.h>

static const char *const position_words[HP_PINS_STATES] = {"first", "second", "third", "fourth"};

/* What each position ought to give, or full speed where nobody stated the steps. */
static void say_expected(const hp_card_context *context, hp_card *words)
{
    const hp_controls_params c = hp_card_controls(context);
    const double all = hp_plan_full(context->plan);
    char number[HP_NUMBER_WORDS], asked[HP_ASKED_WORDS];
    hp_phrase p = hp_phrase_begin(words->healthy, sizeof words->healthy);
    if (c.speed.steps < 2) {
        hp_phrase_add(
            &p,
            "Another speed in each position; in the fastest about %s rev/min at %s, wheel free.",
            hp_card_rpm(all * hp_controls_step_speed(&c, context->drive, 1), number, sizeof number),
            hp_full_words(all, asked, sizeof asked));
        return;
    }
    hp_phrase_add(&p, "At %s, wheel free, in rev/min:", hp_full_words(all, asked, sizeof asked));
    for (int k = 0; k < c.speed.steps && k < HP_PINS_STATES; k++)
        hp_phrase_add(&p, "%s %s about %s", k ? "," : "", position_words[k],
                      hp_card_rpm(all * hp_controls_step_speed(&c, context->drive, k + 1), number,
                                  sizeof number));
    hp_phrase_add(&p, ". A few percent less is usual.");
}

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    (void)lead;
    HP_CARD_SET(words->title, "Check the speed switch in each position");
    HP_CARD_SET(words->reason, "A switch joined to the wrong input does nothing, or leaves the "
                               "machine in its slowest step for good.");
    hp_card_how_to_measure_pins(context, "speed switch's plug", "in each position in turn",
                                hp_card_pins_most_v(context, HP_PINS_OF_SPEED), 0, words);
    hp_card_detail(words, "No battery volts into it by hand: most of these inputs bear 5 V.");
    hp_card_how(words,
                "First position, lifted wheel, %s until it no longer gains: read its speed; %s, "
                "next position, again.",
                hp_plan_by_pedals(context->plan) ? hp_drive_words_of(context->plan)->up_to_full
                                                 : "full throttle",
                hp_plan_by_pedals(context->plan) ? "pedals still" : "throttle off");
    hp_card_doing(words, HP_DOING_THROTTLE | HP_DOING_STOP);
    hp_card_how(words, "Battery off.");
    say_expected(context, words);
    HP_CARD_SET(words->note,
                "The speed in each position, in order. No switch: that there is none.");
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_speed_reading *s = values;
    char number[HP_NUMBER_WORDS];
    hp_phrase_add(p, "speed switch:");
    if (s->fitted == HP_TELL_NO) {
        hp_phrase_add(p, " none");
        return;
    }
    int count = hp_speed_reading_positions(s);
    for (int k = 0; k < count; k++)
        hp_add_item(p, "%s %s", position_words[k],
                    hp_card_rpm_as_read(s->rad_s[k], number, sizeof number));
    if (count)
        hp_phrase_add(p, " rev/min");
    hp_add_pins(context, &s->plug, HP_PINS_OF_SPEED, p);
}

/* "87 where about 125 was to be expected". */
static void add_expected(const hp_card_context *context, const hp_speed_reading *s, int k,
                         hp_phrase *p)
{
    char number[HP_NUMBER_WORDS], expected[HP_NUMBER_WORDS];
    hp_phrase_add(p, "%s where about %s was to be expected",
                  hp_card_rpm_as_read(s->rad_s[k], number, sizeof number),
                  hp_card_rpm(hp_speed_reading_expected(&context->commission->given, s, k),
                              expected, sizeof expected));
}

/* The positions whose speed is not what it ought to be. */
static void find_off(const hp_card_context *context, const hp_commission_step *step,
                     hp_finding_words *words)
{
    const hp_speed_reading *s = hp_entry_said(step->entry);
    const char *between = ":";
    hp_phrase p = hp_phrase_begin(words->means, sizeof words->means);
    hp_phrase_add(&p, "A position gives another speed than it ought to");
    for (int k = 0; k < hp_speed_reading_positions(s); k++)
        if (hp_speed_reading_off(&context->commission->given, s, k)) {
            hp_phrase_add(&p, "%s %s ", between, position_words[k]);
            add_expected(context, s, k, &p);
            between = ",";
        }
    hp_phrase_add(&p, ".");
}

/* Two positions that are one to the controller, and which of them is not as it ought to be. */
static void find_alike(const hp_card_context *context, const hp_commission_step *step,
                       hp_finding_words *words)
{
    const hp_speed_reading *s = hp_entry_said(step->entry);
    const hp_assess_case *given = &context->commission->given;
    int pair[2];
    hp_phrase p = hp_phrase_begin(words->means, sizeof words->means);
    hp_speed_reading_alike(given, s, pair);
    hp_phrase_add(&p, "The %s and the %s position give the same speed", position_words[pair[0]],
                  position_words[pair[1]]);
    for (int k = 0; k < 2; k++)
        if (hp_speed_reading_off(given, s, pair[k])) {
            hp_phrase_add(&p, ", the %s ", position_words[pair[k]]);
            add_expected(context, s, pair[k], &p);
        }
    hp_phrase_add(&p, ".");
    HP_CARD_SET(words->otherwise,
                "A lead or contact of the switch is off: look there first. Read its pins in both "
                "positions, then its leads on continuity, dead and unplugged.");
}

/* The fastest position, against what full throttle gives. */
static void find_fast(const hp_card_context *context, const hp_commission_step *step,
                      hp_finding_words *words)
{
    const hp_speed_reading *s = hp_entry_said(step->entry);
    char number[HP_NUMBER_WORDS], full[HP_NUMBER_WORDS];
    int fastest = 0;
    for (int k = 1; k < hp_speed_reading_positions(s); k++)
        if (s->rad_s[k] > s->rad_s[fastest])
            fastest = k;
    HP_CARD_SET(words->means,
                "The %s position was read at %s rev/min. Full throttle gives about %s on this "
                "battery.",
                position_words[fastest],
                hp_card_rpm_as_read(s->rad_s[fastest], number, sizeof number),
                hp_card_rpm(hp_speed_reading_full(&context->commission->given), full, sizeof full));
    HP_CARD_SET(words->otherwise,
                "Measure that speed again. If it stays, the battery has more volts or the motor "
                "more speed per volt than the scenario states.");
}

static void finding(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words)
{
    if (hp_finding_shared(context, step, "speed switch", "the speed in two positions at least",
                          words))
        return;
    switch (step->code) {
    case HP_SPEED_SAME:
        HP_CARD_SET(words->means, "Every position gives the same speed: the switch does nothing.");
        HP_CARD_SET(words->otherwise, "Read its pins in each position. No change: the switch or a "
                                      "lead is broken; a change: it is on another input.");
        return;
    case HP_SPEED_ALIKE: find_alike(context, step, words); return;
    case HP_SPEED_FAST: find_fast(context, step, words); return;
    case HP_SPEED_TURNED:
        HP_CARD_SET(words->means,
                    "The positions give the stated speeds from the last to the first: "
                    "the switch is joined the other way round, or its positions were "
                    "counted so.");
        HP_CARD_SET(words->otherwise,
                    "Until it is mended the first position is the fast one: "
                    "mark it. Change the leads of its two outer contacts, battery "
                    "off, and read the speeds again.");
        return;
    case HP_SPEED_STANDS:
        HP_CARD_SET(words->means, "The wheel does not turn in one position.");
        HP_CARD_SET(words->otherwise, "If that position is not marked as off: read the switch's "
                                      "pins in it, then its leads on continuity, dead and "
                                      "unplugged.");
        return;
    case HP_SPEED_NEVER_FULL:
        HP_CARD_SET(words->means, "No position gives the motor's full speed.");
        HP_CARD_SET(words->otherwise, "The fastest step may be capped on purpose; else throttle "
                                      "volts at full grip, or a switch lead that is off.");
        return;
    default:
        find_off(context, step, words);
        HP_CARD_SET(words->otherwise, "Check that the positions were read in order, then the duty "
                                      "of each in controller.speed_steps_percent of the "
                                      "scenario.");
        return;
    }
}

static bool there(const hp_question_case *c, const void *values)
{
    (void)c;
    return ((const hp_speed_reading *)values)->fitted != HP_TELL_NO;
}

static bool has_speeds(const void *values, int count)
{
    return hp_speed_reading_positions(values) >= count;
}

static bool second(const hp_question_case *c, const void *values)
{
    return there(c, values) && has_speeds(values, 1);
}

static bool third(const hp_question_case *c, const void *values)
{
    return there(c, values) && has_speeds(values, 2);
}

static bool fourth(const hp_question_case *c, const void *values)
{
    return there(c, values) && has_speeds(values, 3);
}

HP_PINS_WANTED(hp_speed_reading, one_pin, 1)
HP_PINS_WANTED(hp_speed_reading, two_pins, 2)
HP_PINS_WANTED(hp_speed_reading, three_pins, 3)

static const hp_question questions[] = {
    {.field = "fitted", .text = "Is there a speed switch?", .fallback = "yes"},
    {.field = "first_rpm",
     .text = "Speed of the free wheel at full throttle, in rev/min, in the first position?",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = there},
    {.field = "second_rpm",
     .text = "In the second?",
     .fallback = "",
     .shown = "Enter: there is none, or not read",
     .wanted = second},
    {.field = "third_rpm",
     .text = "In the third?",
     .fallback = "",
     .shown = "Enter: there is none",
     .wanted = third},
    {.field = "fourth_rpm",
     .text = "In the fourth?",
     .fallback = "",
     .shown = "Enter: there is none",
     .wanted = fourth},
    HP_PLUG_GATE("Note the volts of each pin of its plug, too?", there),
    HP_PIN_QUESTION(0, "First pin: colour, then its volts in each position?", there),
    HP_PIN_QUESTION(1, "Second pin?", one_pin),
    HP_PIN_QUESTION(2, "Third pin?", two_pins),
    HP_PIN_QUESTION(3, "Fourth pin?", three_pins),
    HP_MINUS_QUESTION(two_pins),
    {.text = NULL},
};

static void log_options(const hp_card_context *context, const hp_advice *advice, hp_log_line *line)
{
    (void)advice;
    hp_log_word(line, "--fitted=YES-OR-NO");
    /* Three where nobody said how many there are. */
    int steps = hp_card_controls(context).speed.steps;
    for (int k = 0; k < (steps > 1 ? steps : 3) && k < HP_PINS_STATES; k++)
        hp_log_word(line, "--%s-rpm=RPM", position_words[k]);
    hp_log_words(line, HP_LOG_PLUG);
}

const hp_words hp_words_speed_switch = {
    .reading = &hp_reading_speed_switch,
    .menu = "speed in each position of the switch",
    .safety = HP_SAFE_DEAD,
    .card = card,
    .entry = entry,
    .finding = finding,
    .questions = questions,
    .log = log_options,
};
