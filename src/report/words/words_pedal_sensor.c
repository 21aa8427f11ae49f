/* Words for the pedal sensor: see words.h. */
#include "report/words/control_words.h"

#include <math.h>

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    const hp_pedal_params p = hp_card_controls(context).pedal;
    (void)lead;
    HP_CARD_SET(words->title, "Check the pedal sensor: pulses, and which way it takes for forward");
    HP_CARD_SET(words->reason, "A sensor turned round drives the machine when it is pushed back, "
                               "and stays silent when it is pedalled.");
    hp_card_how_to_measure_pins(context, "pedal sensor's plug",
                                "the crank turned slowly by hand, signal high, then signal low",
                                hp_pins_most_v(HP_PINS_OF_PEDAL), 0, words);
    hp_card_detail(words, "Count how often the signal goes high in one turn of the crank.");
    hp_card_detail(words, "Way: pedal evenly by hand, forward, then backward, and read the mean "
                          "d.c. volts. High for (mean - low) / (high - low) of each pulse.");
    if (p.mode == HP_PEDAL_GATES)
        hp_card_how(words, "Lifted wheel, throttle held a little open: turn the crank forward, "
                           "then backward, and see which way the motor drives.");
    else
        hp_card_how(words,
                    "Lifted wheel%s: turn the crank forward, then backward, and see which way the "
                    "motor drives.",
                    hp_plan_by_pedals(context->plan) ? ", one hand on the battery's switch"
                                                     : ", hands off the throttle");
    hp_card_doing(words, HP_DOING_SELF_START);
    hp_card_how(words,
                "Pedal forward, stop%s, time how long the motor drives on; then battery off.",
                p.mode == HP_PEDAL_GATES ? " with the throttle still open" : "");
    hp_card_doing(words, HP_DOING_STOP);
    HP_CARD_SET(words->healthy,
                "Supply about 5 V, ground 0 V, signal near 0 and near 5 V in turn%s. The motor "
                "drives forward only, and stops within a second of the pedals.",
                p.mode == HP_PEDAL_NONE || p.forward == HP_PEDAL_ANY ? ""
                : p.forward == HP_PEDAL_MOSTLY_HIGH ? ", high for more than half of each pulse"
                                                    : ", high for less than half of each pulse");
    HP_CARD_SET(words->note, "Pulses of one turn; which way drives; how long it drives on. No "
                             "pedals: that there is no sensor.");
}

static void add_mean(const hp_pedal_reading *r, int way, const char *what, hp_phrase *p)
{
    char number[HP_NUMBER_WORDS];
    double high = hp_pedal_reading_high(r, way);
    if (isnan(r->mean_v[way]))
        return;
    hp_add_item(p, "%s mean %s V", what, hp_card_as_read(r->mean_v[way], number, sizeof number));
    if (!isnan(high))
        hp_phrase_add(p, " (high for %.0f %%)", 100.0 * high);
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    static const char *const drives[HP_PEDAL_DRIVES_COUNT] = {
        NULL, "drives forward", "drives backward", "drives both ways", "drives neither way"};
    const hp_pedal_reading *r = values;
    char number[HP_NUMBER_WORDS];
    hp_phrase_add(p, "pedal sensor:");
    if (r->fitted == HP_TELL_NO) {
        hp_phrase_add(p, " none");
        return;
    }
    if (r->pulses > 0)
        hp_add_item(p, "%d pulses a turn", r->pulses);
    if (r->drives != HP_PEDAL_DRIVES_UNSAID)
        hp_add_item(p, "%s", drives[r->drives]);
    if (!isnan(r->stop_s))
        hp_add_item(p, "drives on for %s s", hp_card_as_read(r->stop_s, number, sizeof number));
    add_mean(r, 0, "forward", p);
    add_mean(r, 1, "backward", p);
    hp_add_pins(context, &r->plug, HP_PINS_OF_PEDAL, p);
}

#define RUNS_ON_MEND                                                                               \
    "More pulses a turn stop it sooner; brake levers with a cut-off are needed with it."

/* How long it drives on is not hidden behind which way does. */
static void add_runs_on(const hp_commission_step *step, hp_finding_words *words)
{
    const hp_pedal_reading *r = hp_entry_said(step->entry);
    char number[HP_NUMBER_WORDS];
    hp_phrase p = hp_phrase_resume(words->means, sizeof words->means);
    if (step->code != HP_PEDAL_RUNS_ON && hp_pedal_reading_runs_on(r))
        hp_phrase_add(&p, " And it drives on for %s s, which is too long.",
                      hp_card_as_read(r->stop_s, number, sizeof number));
    p = hp_phrase_resume(words->otherwise, sizeof words->otherwise);
    if (step->code != HP_PEDAL_RUNS_ON && hp_pedal_reading_runs_on(r))
        hp_phrase_add(&p, "%s " RUNS_ON_MEND,
                      step->finding == HP_FINDING_STOP ? " Do not ride it before it stops sooner."
                                                       : "");
}

static void pedal_finding(const hp_card_context *context, const hp_commission_step *step,
                          hp_finding_words *words)
{
    char number[HP_NUMBER_WORDS];
    if (hp_finding_shared(context, step, "pedal sensor",
                          "which way drives, and how long it drives on", words))
        return;
    switch (step->code) {
    case HP_PEDAL_BACKWARD:
        HP_CARD_SET(words->means, "It drives when the pedals turn backward.");
        HP_CARD_SET(words->otherwise,
                    "Do not ride it. Turn the magnet ring over, or fit the sensor "
                    "from the other side of it, and try again.");
        return;
    case HP_PEDAL_BOTH:
        HP_CARD_SET(words->means, "It drives whichever way the pedals turn.");
        HP_CARD_SET(words->otherwise, "Ring or controller cannot tell the way. A ring whose pulses "
                                      "are longer high than low can; until then mind that a "
                                      "machine pushed back may drive.");
        return;
    case HP_PEDAL_NEITHER:
        HP_CARD_SET(words->means, "It drives neither way.");
        HP_CARD_SET(words->otherwise, "See that the signal changes as the crank turns: the sensor "
                                      "some 2 to 3 mm from the magnets. If it does, the controller "
                                      "waits for another sense: turn the ring over.");
        return;
    case HP_PEDAL_RUNS_ON:
        HP_CARD_SET(words->means,
                    "It drives on for %s s when the pedals stop; more than a second and a half is "
                    "too long.",
                    hp_card_as_read(((const hp_pedal_reading *)hp_entry_said(step->entry))->stop_s,
                                    number, sizeof number));
        HP_CARD_SET(words->otherwise, "%s" RUNS_ON_MEND,
                    step->finding == HP_FINDING_STOP ? "Do not ride it. " : "");
        return;
    case HP_PEDAL_EVEN:
        HP_CARD_SET(words->means, "Its signal is as long high as low: it cannot tell forward from "
                                  "backward.");
        HP_CARD_SET(words->otherwise, "Try which way drives, wheel lifted.");
        return;
    default:
        HP_CARD_SET(words->means, "Pedalled forward it gives what the controller takes for "
                                  "backward, as the scenario has it.");
        HP_CARD_SET(words->otherwise, "Turn the magnet ring over, or correct controls.pedal in the "
                                      "scenario; then try which way drives, wheel lifted.");
        return;
    }
}

static void finding(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words)
{
    pedal_finding(context, step, words);
    add_runs_on(step, words);
}

static bool there(const hp_question_case *c, const void *values)
{
    (void)c;
    return ((const hp_pedal_reading *)values)->fitted != HP_TELL_NO;
}

HP_PINS_WANTED(hp_pedal_reading, one_pin, 1)
HP_PINS_WANTED(hp_pedal_reading, two_pins, 2)

static const hp_choice drives[] = {
    {"forward", "forward: only when pedalled forward"},
    {"backward", "backward: only when pedalled backward"},
    {"both", "both: whichever way"},
    {"neither", "neither: it never drives"},
    {NULL, NULL},
};

static const hp_question questions[] = {
    {.field = "fitted", .text = "Is there a pedal sensor?", .fallback = "yes"},
    {.field = "pulses",
     .text = "How many pulses has one turn of the crank?",
     .fallback = "",
     .shown = "Enter: not counted",
     .wanted = there},
    {.field = "drives",
     .text = "Which way of pedalling drives the lifted wheel?",
     .choices = drives,
     .fallback = "",
     .shown = "Enter: not tried",
     .wanted = there},
    {.field = "runs_on_s",
     .text = "For how many seconds does it drive on when the pedals stop?",
     .fallback = "",
     .shown = "Enter: not timed",
     .wanted = there},
    HP_PLUG_GATE("Note the volts of each pin of its plug, too?", there),
    HP_PIN_QUESTION(0, "First pin: colour, volts where the signal is high, volts where it is low?",
                    there),
    HP_PIN_QUESTION(1, "Second pin?", one_pin),
    HP_PIN_QUESTION(2, "Third pin?", two_pins),
    HP_MINUS_QUESTION(two_pins),
    {.field = "forward_mean_v",
     .text = "Mean volts on the signal while pedalled evenly forward?",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = two_pins},
    {.field = "backward_mean_v",
     .text = "And backward?",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = two_pins},
    {.text = NULL},
};

const hp_words hp_words_pedal_sensor = {
    .reading = &hp_reading_pedal_sensor,
    .menu = "pedal sensor, and which way it takes for forward",
    .safety = HP_SAFE_DEAD,
    .card = card,
    .entry = entry,
    .finding = finding,
    .questions = questions,
    .log_words = "--fitted=YES-OR-NO --pulses=N --drives=WAY --runs-on-s=SECONDS "
                 "--forward-mean-v=VOLTS --backward-mean-v=VOLTS " HP_LOG_PLUG,
};
