/*
 * Words of a powered trial: one that is advised, one more run, one of a person's own choice.
 *
 * Five actions: join, make ready, power, read, stop. What may be folded stands in their details.
 */
#include "decide/reading/control_values.h"
#include "decide/reading/weigh.h"
#include "report/words/again_words.h"
#include "report/words/card_parts.h"
#include "report/words/control_words.h"
#include "report/words/words.h"

#include <math.h>
#include <stdio.h>

/* ---- actions that other cards share ---------------------------------------------------------- */

void hp_card_how_to_join(const hp_card_context *context, const hp_wiring *wiring, int present,
                         hp_card *words)
{
    char phases[HP_JOINT_WORDS], sensors[HP_JOINT_WORDS];
    hp_card_how(words, "Join the phase leads: %s; the Hall leads: %s.",
                hp_phase_joint_words(context->labels, wiring, present, phases, sizeof phases),
                hp_sensor_joint_words(context->labels, wiring, present, sensors, sizeof sensors));
    hp_card_doing(words, HP_DOING_JOIN);
    hp_card_detail_plug(context, words);
}

void hp_card_how_to_make_ready(const hp_card_context *context, hp_card *words)
{
    bool meter = context->plan->ammeter;
    hp_card_how(words, "Lift the wheel, hold the machine fast, %s%s%s.",
                hp_drive_words_of(context->plan)->at_rest,
                hp_card_brake_plug_holds(context) ? ", brake plug in" : "",
                meter ? ", a meter for current in the battery's plus lead" : "");
    hp_card_doing(words, HP_DOING_STAND | (meter ? HP_DOING_METER : 0u));
    if (meter)
        hp_card_detail(words,
                       "A power meter%s. Put it in while all is off, before the capacitors are "
                       "charged.",
                       hp_hand_meter_bears(context->drive, context->plan->throttle, NULL)
                           ? ", a clamp or an ammeter"
                           : " or a clamp");
}

void hp_card_how_to_stop(const hp_card_context *context, hp_card *words)
{
    hp_card_how(words, "%s, let the wheel run out, power off.",
                hp_drive_words_of(context->plan)->off);
    hp_card_doing(words, HP_DOING_STOP);
}

/* ---- power ----------------------------------------------------------------------------------- */

static void add_lamps(const hp_card_context *context, double amps, hp_phrase *p)
{
    char power[HP_NUMBER_WORDS];
    double volts = context->drive->supply.emf_v;
    hp_phrase_add(p,
                  "filament lamps in the battery's plus lead: %.3g V together, about %s W, and a "
                  "diode across them, its cathode to the battery",
                  volts, hp_card_number(hp_lamp_watts(volts, amps), power, sizeof power));
}

/* What a speed step gives at full grip may stand for a throttle as far as figures are held against
 * each other. */
static bool step_will_do(const hp_plan_params *plan)
{
    double step = plan->lowest_step;
    return step > 0.0 && fabs(log(step / plan->throttle)) < log(HP_LEVEL_WITHIN);
}

/* "35 %", and what tells it: volts on the signal lead, or a speed step at full grip. */
static void add_throttle(const hp_card_context *context, const hp_advice *advice, hp_phrase *p)
{
    const hp_plan_params *plan = context->plan;
    char position[HP_STEP_WORDS];
    hp_phrase_add(p, "%.3g %%", 100.0 * plan->throttle);
    if (advice->signal_v <= 0.0 && step_will_do(plan)) {
        hp_phrase_add(p, " (speed switch at its lowest step, full grip: counts as %.3g %%)",
                      100.0 * plan->lowest_step);
        return;
    }
    if (advice->signal_v > 0.0)
        hp_phrase_add(p, " (%.2f V on its signal lead against minus)", advice->signal_v);
    hp_phrase_add(p, "%s", hp_card_speed_step(context, position, sizeof position));
}

/* The hand's share is often out by a third. */
static void detail_throttle(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    const hp_plan_params *plan = context->plan;
    const hp_throttle_params grip = hp_card_controls(context).throttle;
    if (hp_plan_by_pedals(plan)) {
        hp_card_detail(words,
                       "There is no throttle: the pedals ask for their %.3g %% at once, and for "
                       "no less. The pedal sensor, and brake levers that this controller waits "
                       "for, are joined first, or it drives nothing.",
                       100.0 * plan->assist);
        hp_card_detail(words, "It drives on for a moment when the pedals stop: the battery's "
                              "switch is what stops it at once.");
        return;
    }
    if (advice->signal_v > 0.0 || step_will_do(plan))
        return;
    hp_card_detail(words,
                   "A hand is easily a third out: a meter on the throttle's signal lead, clipped "
                   "on while all is off, tells. Read it at rest (about %.3g V) and full (about "
                   "%.3g V), and set %.3g %% of the way between.",
                   grip.rest_v, grip.full_v, 100.0 * plan->throttle);
}

/* chosen: a filament lamp of the battery's voltage passes its limit cold many times over and hot
 * once; cold it has about a tenth of its hot resistance (common practice). */
static void how_to_power(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    const hp_plan_params *plan = context->plan;
    double limit_a = advice->limited ? advice->limit_a : 0.0;
    char limit[HP_NUMBER_WORDS], lamps[240], throttle[200];
    hp_phrase p = hp_phrase_begin(lamps, sizeof lamps);
    hp_phrase t = hp_phrase_begin(throttle, sizeof throttle);
    if (hp_plan_by_pedals(plan)) {
        hp_phrase_add(&t, "%s", hp_drive_words_of(plan)->gently);
    } else {
        hp_phrase_add(&t, "throttle slowly up to ");
        add_throttle(context, advice, &t);
    }
    if (limit_a > 0.0)
        add_lamps(context, limit_a, &p);
    if (!(limit_a > 0.0))
        hp_card_how(words, "Battery on, behind its fuse, then %s.", throttle);
    else if (plan->first_power == HP_FIRST_POWER_LAMP)
        hp_card_how(words, "Battery on, behind its fuse and filament lamps, then %s.", throttle);
    else
        hp_card_how(
            words, "Power on from a bench supply set to %.3g V and limited to %s A, then %s.",
            context->drive->supply.emf_v, hp_card_number(limit_a, limit, sizeof limit), throttle);
    hp_card_doing(words, HP_DOING_BATTERY | HP_DOING_THROTTLE);
    detail_throttle(context, advice, words);
    if (limit_a > 0.0 && plan->first_power != HP_FIRST_POWER_LAMP)
        hp_card_detail(words,
                       "A bench supply takes no current back: a wheel that brakes can pump it up "
                       "to about %.0f V.",
                       hp_drive_pumped_v(context->drive, plan->throttle));
    if (!(limit_a > 0.0) || plan->first_power == HP_FIRST_POWER_BENCH_SUPPLY)
        return;
    if (plan->first_power == HP_FIRST_POWER_LAMP)
        hp_card_detail(words, "The lamps: %s.", lamps);
    else
        hp_card_detail(words, "No bench supply? The battery behind its fuse, and %s.", lamps);
}

/* ---- what is read ---------------------------------------------------------------------------- */

static void how_to_read(const hp_card_context *context, bool limited, hp_card *words)
{
    const hp_plan_params *plan = context->plan;
    bool meters = plan->ammeter || plan->tachometer;
    char how[300];
    hp_phrase p = hp_phrase_begin(how, sizeof how);
    if (limited)
        hp_phrase_add(&p, "%s",
                      plan->first_power == HP_FIRST_POWER_LAMP
                          ? "see whether the lamps stay bright or go dark"
                          : "see whether the supply stays at its limit");
    if (meters)
        hp_phrase_add(&p, "%sread %s", p.used > 0 ? ", " : "",
                      !plan->tachometer ? "the battery current"
                      : !plan->ammeter  ? "the wheel's speed"
                                        : "battery current and wheel speed");
    if (plan->starts > 1)
        hp_phrase_add(&p, "%sstart it from %d start positions in all", p.used > 0 ? ", then " : "",
                      plan->starts);
    if (p.used == 0)
        hp_phrase_add(&p, "watch and listen");
    hp_card_how(words, "Once it has run up, or does not turn: %s.", how);
    if (limited)
        hp_card_detail(words, "%s",
                       plan->first_power == HP_FIRST_POWER_LAMP
                           ? "With a wiring that is correct the lamps go dark once the wheel is up "
                             "to speed; with a wrong one they stay bright. Dark though the wheel "
                             "does not turn: no current flows."
                           : "A wiring that is correct leaves the limit, and a lamp goes dark; a "
                             "wrong one stays at it, and a lamp stays bright.");
    if (plan->starts > 1) {
        hp_card_doing(words, HP_DOING_TURN_JOINED);
        hp_card_detail(words,
                       "Between two starts: %s, wheel at rest, then turn it on a finger's breadth "
                       "by hand%s. Count from how many it starts: a faulty "
                       "sensor or lead shows only at some.",
                       hp_plan_by_pedals(plan) ? "pedals still, power off" : "throttle off",
                       context->drive->stand.clutch
                           ? ", backward: forward the clutch lets it overrun, and the rotor stays"
                           : "");
    }
}

static void how_to_run(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    hp_card_how_to_make_ready(context, words);
    how_to_power(context, advice, words);
    how_to_read(context, advice->limited, words);
    hp_card_how_to_stop(context, words);
}

static void note_of_trial(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    const hp_plan_params *plan = context->plan;
    hp_phrase note = hp_phrase_begin(words->note, sizeof words->note);
    hp_phrase_add(
        &note,
        "Whether it turned forward, backward or both ways, %sshivered or did not move; smooth, "
        "rough or noisy",
        context->drive->stand.clutch ? "hummed, " : "");
    if (plan->starts > 1)
        hp_phrase_add(&note, "; from how many of the %d start positions it started", plan->starts);
    if (plan->ammeter)
        hp_phrase_add(&note, "; amperes from the battery");
    if (plan->tachometer)
        hp_phrase_add(&note, "; rev/min of the wheel");
    if (advice->limited)
        hp_phrase_add(&note, "%s",
                      plan->first_power == HP_FIRST_POWER_LAMP
                          ? "; that lamps limited it, and whether they stayed bright "
                            "(limit reached: yes) or went dark (no)"
                          : "; what fed it, and whether it stayed at the limit");
    hp_phrase_add(&note, "; whether the controller cut out; whether anything grew warm.");
}

static void healthy_trial(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char bands[240];
    hp_card_bands(context, advice, bands, sizeof bands);
    HP_CARD_SET(
        words->healthy,
        "If this wiring is correct: forward and smooth, started from every start position%s%s.",
        bands[0] ? "; " : "", bands);
}

/* ---- the cards ------------------------------------------------------------------------------- */

/* What `controls' would show of this machine, before somebody looks for it in the wiring; nothing
 * where it drives, or nobody stated how. */
static void say_controls(const hp_card_context *context, hp_card *words)
{
    static const char *const held[HP_CONTROL_REASON_COUNT] = {
        [HP_CONTROL_BRAKE] = "takes its brake input for a pulled lever with the lever let go",
        [HP_CONTROL_FAULT] = "takes the full throttle for a broken one",
        [HP_CONTROL_OPEN] = "never sees the throttle let go",
        [HP_CONTROL_PEDALS] = "never sees the pedals turn forward",
        [HP_CONTROL_REST] = "sees nothing asked for by a full throttle"};
    const hp_assess_case *given = context->commission ? &context->commission->given : NULL;
    bool starts = given && hp_assess_drives_at_rest(given);
    const char *why = given && !starts ? held[hp_assess_never_drives(given)] : NULL;
    char text[sizeof words->reason];
    if (!starts && !why)
        return;
    snprintf(text, sizeof text,
             "As the scenario states it this controller %s%s. Mend that, or correct the scenario, "
             "before the try; the check of the controls shows it.",
             why ? "never drives, in any wiring: it "
                 : "drives as soon as it is on, the throttle let go",
             why ? why : "");
    hp_card_reason_first(words, text);
    hp_card_caution_at(words, 0,
                       why ? "As stated this controller never drives: see why, above."
                           : "As stated the wheel starts as soon as the battery is on.");
}

/* What the last run of this wiring left warm, or cut out, comes before its next. */
static void say_warning(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    const hp_commission *list = context->commission;
    int runs = 0;
    const hp_entry *last = list ? hp_assess_warned(&list->given, &runs) : NULL;
    if (!last || hp_wiring_number(&hp_entry_trial(last)->wiring) != advice->number)
        return;
    hp_phrase p = hp_phrase_begin(words->reason, sizeof words->reason);
    HP_CARD_SET(words->title, "Find what %s, then run wiring %d gently once more",
                hp_entry_trial(last)->warm == HP_TELL_YES ? "grew warm" : "cut out",
                advice->number);
    hp_warning_words(last, &p);
    if (runs > 1)
        hp_phrase_add(&p,
                      " That was the run number %d like it: another tells nothing new before the "
                      "cause is found. Log what you mended.",
                      runs);
    words->safety = HP_SAFE_DEAD;
}

/* Without Hall sensors it is no guess: what last ran forward is what is ridden. */
static void say_forward_again(const hp_advice *advice, hp_card *words)
{
    HP_CARD_SET(words->title, "Join wiring %d again: its phase leads run the motor forward",
                advice->number);
    HP_CARD_SET(words->reason,
                "This controller runs without Hall sensors, so that the phase leads alone decide "
                "which way it turns: with those of wiring %d forward, as they are joined now it "
                "does not. Of the Hall leads no run says anything.",
                advice->number);
}

void hp_card_say_try(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char sure[32];
    int joined = advice->fresh_controller ? 0 : context->present;
    HP_CARD_SET(words->title, "Join wiring %d and try it under power", advice->number);
    hp_phrase reason = hp_phrase_begin(words->reason, sizeof words->reason);
    hp_phrase_add(&reason, "%s likely correct.",
                  hp_card_percent(advice->certainty, sure, sizeof sure));
    if (advice->fresh_controller)
        hp_phrase_add(&reason, " The controller was mended or exchanged: its leads were off, and "
                               "nobody has seen it run since.");
    if (joined > 0)
        hp_phrase_add(&reason,
                      " From the wiring joined now %d phase lead%s and %d Hall lead%s move.",
                      advice->moved_phase, advice->moved_phase == 1 ? "" : "s",
                      advice->moved_sensor, advice->moved_sensor == 1 ? "" : "s");
    if (advice->why == HP_WHY_UNSENSED)
        say_forward_again(advice, words);
    else
        hp_phrase_add(&reason, "%s",
                      advice->certainty >= 0.5
                          ? " No safer check is worth the effort."
                          : " Whatever it does rules out more, for the effort, than any other "
                            "step.");
    hp_card_how_to_join(context, &advice->wiring, joined, words);
    how_to_run(context, advice, words);
    say_warning(context, advice, words);
    say_controls(context, words);
    healthy_trial(context, advice, words);
    note_of_trial(context, advice, words);
}

void hp_card_say_look(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char sure[32];
    HP_CARD_SET(words->title, "Run wiring %d once more", advice->number);
    HP_CARD_SET(words->reason,
                "Nothing has to be moved, and a second run shows whether a word or a figure in the "
                "log was a slip. As the log stands, this wiring is %s likely correct.",
                hp_card_percent(advice->certainty, sure, sizeof sure));
    how_to_run(context, advice, words);
    say_warning(context, advice, words);
    say_controls(context, words);
    healthy_trial(context, advice, words);
    note_of_trial(context, advice, words);
}

void hp_card_say_own_trial(const hp_card_context *context, int lead, hp_card *words)
{
    const hp_advice unknown = {.kind = HP_ADVICE_TRY, .lead = -1};
    (void)lead;
    HP_CARD_SET(words->title, "Try a wiring of your own choice under power");
    HP_CARD_SET(words->reason, "What it does rules out other wirings, too, whether it was advised "
                               "or not.");
    hp_card_how(words, "Join the three phase leads and the three Hall leads as you want to try "
                       "them, and write down which goes where.");
    hp_card_doing(words, HP_DOING_JOIN);
    hp_card_detail_plug(context, words);
    how_to_run(context, &unknown, words);
    say_controls(context, words);
    note_of_trial(context, &unknown, words);
}
