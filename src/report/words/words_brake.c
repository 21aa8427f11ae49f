/* Words for the brake cut-off: see words.h. */
#include "report/words/control_words.h"

#include <math.h>

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    const hp_brake_params b = hp_card_controls(context).brake;
    (void)lead;
    HP_CARD_SET(words->title, "Check that each brake lever stops the drive");
    HP_CARD_SET(words->reason, "A switch of the other sort holds the controller off for good, or "
                               "never stops it.");
    hp_card_how_to_measure_pins(context, "brake plug", "lever released, then pulled",
                                hp_card_pins_most_v(context, HP_PINS_OF_BRAKE), 0, words);
    hp_card_detail(words, "Battery volts belong into an input only where the controller's label "
                          "says so: a 5 V input dies of them.");
    hp_card_how(words,
                "Let the lifted wheel run%s, pull one lever and time how long the motor drives on; "
                "then the other lever.",
                hp_plan_by_pedals(context->plan)
                    ? ", one at the pedals and one at lever and battery switch"
                    : " gently");
    hp_card_doing(words, HP_DOING_THROTTLE | HP_DOING_STOP | HP_DOING_LEVER);
    hp_card_detail(words,
                   "Hear the motor go quiet, or see the current fall; the wheel runs out on "
                   "its own. %s before the lever is let go.",
                   hp_plan_by_pedals(context->plan) ? "Stop the pedals" : "Release the grip");
    hp_card_how(words,
                "Battery off, brake plug pulled, battery on: %s, then battery off and plug "
                "in.",
                hp_drive_words_of(context->plan)->again);
    hp_card_doing(words, HP_DOING_THROTTLE);
    hp_card_detail(words, "A normally open switch leaves the drive on with its plug off: then "
                          "nothing tells you of a torn lead, so try the levers before each ride.");
    HP_CARD_SET(words->healthy,
                "Each lever stops the drive within half a second, about %.2g s by a watch in the "
                "hand. The switch %s to %s when its lever is pulled.",
                HP_BRAKE_SLOW_S,
                b.expects == HP_SWITCH_NORMALLY_CLOSED ? "opens from its contact" : "closes",
                b.expects_at == HP_LEVEL_VOLTS ? "plus" : "ground");
    HP_CARD_SET(words->note, "For each lever: whether it stops the drive, and in how many seconds; "
                             "whether there is one only. "
                             "No cut-off: that there is none.");
}

static void add_lever(hp_phrase *p, const char *name, hp_tell stops, double seconds)
{
    char number[HP_NUMBER_WORDS];
    if (stops == HP_TELL_UNSAID && isnan(seconds))
        return;
    hp_add_item(p, "%s lever %s", name,
                stops == HP_TELL_NO ? "does not stop the drive" : "stops the drive");
    if (!isnan(seconds))
        hp_phrase_add(p, " in %s s", hp_card_as_read(seconds, number, sizeof number));
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_brake_reading *b = values;
    hp_phrase_add(p, "brake:");
    if (b->fitted == HP_TELL_NO) {
        hp_phrase_add(p, " no cut-off");
        return;
    }
    add_lever(p, "left", b->stops[0], b->stop_s[0]);
    add_lever(p, "right", b->stops[1], b->stop_s[1]);
    hp_add_tell(p, "one lever only", "two levers", b->single);
    hp_add_tell(p, "drives with the plug pulled", "off with the plug pulled", b->unplugged);
    hp_add_pins(context, &b->plug, HP_PINS_OF_BRAKE, p);
}

/* What a lever still owes. */
static void say_missing(const hp_brake_reading *b, char *out, size_t size)
{
    static const char *const name[2] = {"left", "right"};
    hp_phrase p = hp_phrase_begin(out, size);
    bool tried[2] = {hp_brake_reading_tried(b, 0), hp_brake_reading_tried(b, 1)};
    bool single = b->single == HP_TELL_YES;
    if (!tried[0] && !tried[1]) {
        hp_phrase_add(&p, "whether %s lever stops the drive, and how soon",
                      single ? "the" : "each");
        return;
    }
    const char *between = "";
    for (int k = 0; k < 2; k++) {
        if (tried[k] ? !isnan(b->stop_s[k]) : single)
            continue;
        hp_phrase_add(&p, "%s%s the %s lever stops the drive", between,
                      tried[k] ? "how soon" : "whether", name[k]);
        between = ", ";
    }
    if (tried[0] != tried[1] && !single)
        hp_phrase_add(&p, ". Is there one lever only, log that");
}

static void finding(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words)
{
    char missing[HP_ENTRY_WORDS];
    say_missing(hp_entry_said(step->entry), missing, sizeof missing);
    if (hp_finding_shared(context, step, "brake cut-off", missing, words))
        return;
    switch (step->code) {
    case HP_BRAKE_DEAD:
        HP_CARD_SET(words->means, "A lever does not stop the drive.");
        HP_CARD_SET(words->otherwise,
                    "Do not ride it. Read the brake input with the lever released and pulled: no "
                    "change is a broken lead or switch, a change that the controller does not heed "
                    "is a switch of the other sort, or another input.");
        return;
    case HP_BRAKE_SLOW:
        HP_CARD_SET(words->means,
                    "The drive goes on for longer than %.2g s by the watch after the lever is "
                    "pulled.",
                    HP_BRAKE_SLOW_S);
        HP_CARD_SET(words->otherwise, "Set the switch so that it works at the first touch of the "
                                      "lever, and time it again.");
        return;
    case HP_BRAKE_CLOSED_DRIVES:
        HP_CARD_SET(words->means, "Its pins say normally closed, yet the motor drives with the "
                                  "plug pulled: both cannot be.");
        HP_CARD_SET(words->otherwise,
                    "Read the pins again, lever released first, then pulled; then try it once more "
                    "with the plug pulled. If it still drives, it was not the brake plug, or the "
                    "controller does not heed that input.");
        return;
    case HP_BRAKE_OPEN_STOPS:
        HP_CARD_SET(words->means, "Its pins say normally open, yet the motor does not drive with "
                                  "the plug pulled: both cannot be.");
        HP_CARD_SET(words->otherwise,
                    "Read the pins again, lever released first, then pulled; then try it once more "
                    "with the plug pulled, key off and on before. If it still stands, another "
                    "lead came off with that plug.");
        return;
    default:
        HP_CARD_SET(words->means, "The switch is of another sort than the controller is made for, "
                                  "as the scenario has it.");
        HP_CARD_SET(words->otherwise, "Try whether each lever stops the drive, wheel lifted. If "
                                      "not, fit a switch of that sort, or correct "
                                      "controls.brake in the scenario.");
        return;
    }
}

static bool there(const hp_question_case *c, const void *values)
{
    (void)c;
    return ((const hp_brake_reading *)values)->fitted != HP_TELL_NO;
}

static bool left_stops(const hp_question_case *c, const void *values)
{
    return there(c, values) && ((const hp_brake_reading *)values)->stops[0] == HP_TELL_YES;
}

static bool has_other(const hp_question_case *c, const void *values)
{
    const hp_brake_reading *b = values;
    return there(c, values) && !(b->single == HP_TELL_YES && hp_brake_reading_tried(b, 0));
}

static bool right_stops(const hp_question_case *c, const void *values)
{
    return there(c, values) && ((const hp_brake_reading *)values)->stops[1] == HP_TELL_YES;
}

HP_PINS_WANTED(hp_brake_reading, one_pin, 1)
HP_PINS_WANTED(hp_brake_reading, two_pins, 2)
HP_PINS_WANTED(hp_brake_reading, three_pins, 3)

static const hp_question questions[] = {
    {.field = "fitted", .text = "Has some brake lever a cut-off switch?", .fallback = "yes"},
    {.field = "one_lever",
     .text = "Is there one lever only?",
     .fallback = "",
     .shown = "Enter: two, or not said",
     .wanted = there},
    {.field = "left_stops",
     .text = "Does the left lever stop the drive?",
     .fallback = "",
     .shown = "Enter: not tried, or no such lever",
     .wanted = there},
    {.field = "left_stop_s",
     .text = "After how many seconds?",
     .fallback = "",
     .shown = "Enter: not timed",
     .wanted = left_stops},
    {.field = "right_stops",
     .text = "Does the right lever stop the drive?",
     .fallback = "",
     .shown = "Enter: not tried, or no such lever",
     .wanted = has_other},
    {.field = "right_stop_s",
     .text = "After how many seconds?",
     .fallback = "",
     .shown = "Enter: not timed",
     .wanted = right_stops},
    {.field = "unplugged_drives",
     .text = "With the brake plug pulled, does the motor drive?",
     .fallback = "",
     .shown = "Enter: not tried",
     .wanted = there},
    HP_PLUG_GATE("Note the volts of each pin of its plug, too?", there),
    HP_PIN_QUESTION(0, "First pin: colour, volts with the lever released, volts pulled?", there),
    HP_PIN_QUESTION(1, "Second pin?", one_pin),
    HP_PIN_QUESTION(2, "Third pin?", two_pins),
    {.field = "pulled_v",
     .which = HP_QUESTION_ALL,
     .text = "The pin that changes: its colour, and its volts with the plug pulled?",
     .help = "Of three pins this tells whether the switch closes to ground or to plus.",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = three_pins},
    HP_MINUS_QUESTION(two_pins),
    {.text = NULL},
};

const hp_words hp_words_brake = {
    .reading = &hp_reading_brake,
    .menu = "brake levers that stop the drive",
    .safety = HP_SAFE_DEAD,
    .card = card,
    .entry = entry,
    .finding = finding,
    .without = "a brake cut-off: " HP_WITHOUT_CUT_OFF,
    .questions = questions,
    .log_words =
        "--fitted=YES-OR-NO --left-stops=YES-OR-NO --left-stop-s=SECONDS --right-stops=YES-OR-NO "
        "--right-stop-s=SECONDS --one-lever=YES-OR-NO --unplugged-drives=YES-OR-NO " HP_LOG_PLUG,
};
