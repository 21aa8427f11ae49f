/* Words of the steps that are no readings: see the header. Those of a reading stand with its kind
 * (words.h). */
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char caution_stalled[] =
    "A wheel that does not turn takes full current and its winding heats: throttle off within two "
    "seconds.";
static const char caution_hot[] = "Stop when a lead, the hub or the controller grows warm.";

int hp_card_present(const hp_belief *belief)
{
    for (int k = belief->entries - 1; k >= 0; k--)
        if (belief->entry[k].reading == &hp_reading_trial)
            return hp_wiring_number(&belief->entry[k].trial.wiring);
    return 0;
}

/* ---- troubles -------------------------------------------------------------------------------- */

char *hp_trouble_words(const hp_labels *labels, int trouble, char *out, size_t size)
{
    hp_lead_names phases = hp_card_phases(labels);
    hp_lead_names sensors = hp_lead_names_of(labels->motor_sensor, "sensor");
    int inverted;
    hp_fault fault;
    hp_phrase phrase = hp_phrase_begin(out, size);
    hp_trouble_get(trouble, &inverted, &fault);
    switch (fault.kind) {
    case HP_FAULT_SENSOR_HIGH:
        hp_phrase_add(&phrase, "%s is stuck at 1", sensors.full[fault.which]);
        break;
    case HP_FAULT_SENSOR_LOW:
        hp_phrase_add(&phrase, "%s is stuck at 0", sensors.full[fault.which]);
        break;
    case HP_FAULT_LEAD_OPEN: hp_phrase_add(&phrase, "%s is open", phases.full[fault.which]); break;
    case HP_FAULT_CLUTCH: hp_phrase_add(&phrase, "the one-way clutch slips"); break;
    case HP_FAULT_NONE:
    case HP_FAULT_KIND_COUNT: break;
    }
    if (inverted >= 0)
        hp_phrase_add(&phrase, "%s%s reads the wrong way round, as 60-degree sensors do",
                      phrase.used > 0 ? ", and " : "", sensors.full[inverted]);
    if (phrase.used == 0)
        hp_phrase_add(&phrase, "nothing is broken");
    return out;
}

/* How it is put right. */
static void how_to_mend(const hp_card_context *context, int trouble, hp_card *words)
{
    hp_lead_names phases = hp_card_phases(context->labels);
    hp_lead_names sensors = hp_card_sensors(context->labels);
    int inverted;
    hp_fault fault;
    hp_trouble_get(trouble, &inverted, &fault);
    switch (fault.kind) {
    case HP_FAULT_SENSOR_HIGH:
    case HP_FAULT_SENSOR_LOW:
        hp_card_how(words,
                    "Follow %s from the plug to the axle first: a torn lead, a pushed-out pin or a "
                    "missing supply looks like a dead sensor. Else open the hub and put in a new "
                    "latching sensor of the same kind, the same way round.",
                    sensors.full[fault.which]);
        break;
    case HP_FAULT_LEAD_OPEN:
        hp_card_how(words,
                    "Follow %s from the plug to where it enters the axle: that is where leads "
                    "tear. Join and insulate it anew, thick enough for the current.",
                    phases.full[fault.which]);
        break;
    case HP_FAULT_CLUTCH:
        hp_card_how(words, "Open the hub: rollers or pawls of the clutch are worn, stuck or dry. "
                           "Clean, or replace it.");
        break;
    case HP_FAULT_NONE:
    case HP_FAULT_KIND_COUNT: break;
    }
    if (inverted >= 0)
        hp_card_how(words,
                    "Sensors spaced for 60 degrees do not fit this controller as they are: put an "
                    "inverter (one transistor and two resistors) into %s, or take a controller "
                    "made for 60 degrees.",
                    sensors.full[inverted]);
}

static const char *proof_words(const hp_reading *proof)
{
    const hp_words *own = proof ? hp_words_of(proof) : NULL;
    return own && own->proof ? own->proof : hp_words_hand_turn.proof;
}

/* ---- trials ---------------------------------------------------------------------------------- */

static void how_to_join(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char joints[HP_JOINT_WORDS];
    hp_card_how(words, "Battery off, capacitors discharged: measure under 1 V at the controller's "
                       "battery leads.");
    hp_card_how(words, "Motor phase leads: %s.",
                hp_phase_joint_words(context->labels, &advice->wiring, context->present, joints,
                                     sizeof joints));
    hp_card_how(words, "Motor sensor leads: %s.",
                hp_sensor_joint_words(context->labels, &advice->wiring, context->present, joints,
                                      sizeof joints));
}

static void how_to_run(const hp_card_context *context, hp_card *words)
{
    const hp_plan_params *plan = context->plan;
    hp_card_how(words,
                "Wheel lifted, clear of hands. Power on, throttle slowly up to %.3g %%. If it does "
                "not turn, throttle off within two seconds.",
                100.0 * plan->throttle);
    if (plan->starts > 1)
        hp_card_how(words,
                    "Start it from %d places of the wheel, turned on a finger's breadth by hand "
                    "with the throttle off. Count from how many it starts: a dead sensor or lead "
                    "shows only at some.",
                    plan->starts);
    if (plan->ammeter || plan->tachometer)
        hp_card_how(words, "While it turns steadily read %s.",
                    !plan->tachometer ? "the battery current"
                    : !plan->ammeter  ? "the wheel's speed"
                                      : "the battery current and the wheel's speed");
    hp_card_how(words, "Throttle off, power off.");
}

static void caution_of_trial(hp_card *words)
{
    hp_card_caution(words, hp_caution_unplugged);
    hp_card_caution(words, hp_caution_lifted);
    hp_card_caution(words, hp_caution_limited);
    hp_card_caution(words, caution_stalled);
    hp_card_caution(words, caution_hot);
    hp_card_caution(words, hp_caution_local);
}

static void note_of_trial(const hp_card_context *context, hp_card *words)
{
    const hp_plan_params *plan = context->plan;
    hp_phrase note = hp_phrase_begin(words->note, sizeof words->note);
    hp_phrase_add(&note,
                  "Forward, backward, both ways, %sshivering or still; smooth, rough or noisy",
                  context->drive->stand.clutch ? "humming, " : "");
    if (plan->starts > 1)
        hp_phrase_add(&note, "; from how many of the %d places it started", plan->starts);
    if (plan->ammeter)
        hp_phrase_add(&note, "; amperes from the battery");
    if (plan->tachometer)
        hp_phrase_add(&note, "; rev/min of the wheel");
    hp_phrase_add(&note, "; whether the controller cut out; whether anything grew warm.");
}

static void healthy_trial(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char bands[240];
    hp_card_bands(context, advice, bands, sizeof bands);
    HP_CARD_SET(words->healthy,
                "If this wiring is right: forward and smooth, started from every place%s%s.",
                bands[0] ? "; " : "", bands);
}

/* "83 %"; never a certainty that is none. */
static char *percent(double probability, char *out, size_t size)
{
    double value = 100.0 * probability;
    if (value > 99.0 && value < 100.0)
        snprintf(out, size, "%.1f %%", fmin(floor(10.0 * value) / 10.0, 99.9));
    else
        snprintf(out, size, "%.0f %%", value);
    return out;
}

static void say_try(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char sure[32];
    HP_CARD_SET(words->title, "Join wiring %d and try it under power", advice->number);
    hp_phrase reason = hp_phrase_begin(words->reason, sizeof words->reason);
    hp_phrase_add(&reason, "It is right with a probability of %s",
                  percent(advice->certainty, sure, sizeof sure));
    if (context->present > 0)
        hp_phrase_add(&reason,
                      "; from the wiring joined now, %d phase lead%s and %d sensor pin%s move",
                      advice->moved_phase, advice->moved_phase == 1 ? "" : "s",
                      advice->moved_sensor, advice->moved_sensor == 1 ? "" : "s");
    hp_phrase_add(&reason, advice->certainty >= 0.5
                               ? ", and nothing safer would tell more for the trouble."
                               : ", and what it shows parts the cases that are left better than "
                                 "anything else for the trouble.");
    how_to_join(context, advice, words);
    how_to_run(context, words);
    caution_of_trial(words);
    healthy_trial(context, advice, words);
    note_of_trial(context, words);
}

static void say_look(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char sure[32];
    HP_CARD_SET(words->title, "Run wiring %d once more and look again", advice->number);
    HP_CARD_SET(words->reason,
                "Nothing has to be moved, and a second look settles whether a word or a figure was "
                "a slip. As the log stands, this wiring is right with a probability of %s.",
                percent(advice->certainty, sure, sizeof sure));
    how_to_run(context, words);
    caution_of_trial(words);
    healthy_trial(context, advice, words);
    note_of_trial(context, words);
}

/* ---- ends ------------------------------------------------------------------------------------ */

static void say_done(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char sure[32], bands[240], joints[HP_JOINT_WORDS];
    hp_card_bands(context, advice, bands, sizeof bands);
    if (advice->number > 0) {
        HP_CARD_SET(words->title, "Wiring %d is right: make the final check", advice->number);
        HP_CARD_SET(words->reason,
                    "The log makes it right with a probability of %s. Current and speed without "
                    "load expose a \"smooth\" that was none.",
                    percent(advice->certainty, sure, sizeof sure));
        hp_card_how(
            words, "It joins the motor's phase leads %s;",
            hp_phase_joint_words(context->labels, &advice->wiring, 0, joints, sizeof joints));
        hp_card_how(
            words, "and its sensor leads %s.",
            hp_sensor_joint_words(context->labels, &advice->wiring, 0, joints, sizeof joints));
    } else {
        HP_CARD_SET(words->title, "The controller has learnt the wiring: make the final check");
        HP_CARD_SET(words->reason, "Current and speed without load expose a \"smooth\" that was "
                                   "none.");
    }
    hp_card_how(words,
                "Wheel lifted, throttle at %.3g %%: read battery current and wheel speed when they "
                "have settled.",
                100.0 * context->plan->throttle);
    hp_card_how(words, "Outside the band, do not ride it: measure again, log it, and ask again.");
    hp_card_how(words, "Inside it: battery off, insulate and seal every joint, write the sheet for "
                       "the machine. The fuse at the pack stays in.");
    hp_card_caution(words, hp_caution_lifted);
    hp_card_caution(words, hp_caution_unplugged);
    hp_card_caution(words, "A wheel that turns freely and even faster can still be wired wrong; "
                           "the current tells.");
    hp_card_caution(words, hp_caution_local);
    if (bands[0])
        HP_CARD_SET(words->healthy, "Without load: %s.", bands);
    HP_CARD_SET(words->note, "Current and speed, on the sheet that stays with the machine.");
}

static void say_repair(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char trouble[HP_TROUBLE_WORDS], sure[32], joints[HP_JOINT_WORDS];
    hp_trouble_words(context->labels, advice->trouble, trouble, sizeof trouble);
    words->stop = true;
    HP_CARD_SET(words->title, "Stop trying and mend: a part is broken or does not fit");
    HP_CARD_SET(words->reason,
                "No wiring can be right as things are. With a probability of %s: %s.",
                percent(advice->certainty, sure, sizeof sure), trouble);
    hp_card_how(words, "%s", proof_words(advice->proof));
    how_to_mend(context, advice->trouble, words);
    hp_card_how(words, "Write into the log what was mended, and ask again.");
    if (advice->number > 0)
        hp_card_how(words, "No wiring is then likelier than %d: phase leads %s.", advice->number,
                    hp_phase_joint_words(context->labels, &advice->wiring, context->present, joints,
                                         sizeof joints));
    hp_card_caution(words, hp_caution_unplugged);
    hp_card_caution(words, "An open hub has strong magnets: fingers, and steel chips.");
    hp_card_caution(words, hp_caution_local);
    HP_CARD_SET(words->note, "What was mended.");
}

static void say_give_up(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char trouble[HP_TROUBLE_WORDS], sure[32];
    hp_trouble_words(context->labels, advice->trouble > 0 ? advice->trouble : 0, trouble,
                     sizeof trouble);
    words->stop = true;
    HP_CARD_SET(words->title, "Stop here: more of the same would not settle it");
    if (advice->trouble > 0)
        HP_CARD_SET(words->reason,
                    "Nothing that is left to try would tell enough for its trouble. The likeliest "
                    "fault, with a probability of %s: %s.",
                    percent(advice->certainty, sure, sizeof sure), trouble);
    else
        HP_CARD_SET(words->reason,
                    "Nothing that is left to try would tell enough for its trouble.");
    hp_card_how(words,
                "If nothing ever moved, first look at what keeps a controller silent: key or "
                "lock lead, brake cut-off, throttle signal, fuse.");
    hp_card_how(words, "%s", proof_words(advice->proof));
    hp_card_how(words, "Go through the log: is every lead where it says, was every figure read as "
                       "it stands there? One wrong entry is enough to block the way.");
    hp_card_how(words, "Try a sound controller or a sound motor in its place, if there is one.");
    hp_card_caution(words, hp_caution_unplugged);
    hp_card_caution(words, caution_hot);
    hp_card_caution(words, hp_caution_local);
}

static void say_danger(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    const hp_words *own = hp_words_of(advice->danger->reading);
    words->stop = true;
    HP_CARD_SET(words->title, "Stop: %s", advice->danger->reading->title);
    if (own && own->danger)
        own->danger(context, advice->danger, words);
    hp_card_how(words, "Take the reading again, log it, and ask again.");
    hp_card_caution(words, hp_caution_unplugged);
    hp_card_caution(words, "Do not go on past this: what follows would do damage.");
    hp_card_caution(words, hp_caution_local);
    HP_CARD_SET(words->note, "The same reading, once it is as it should be.");
}

/* How a kind of entry is come by. */
static void say_reading(const hp_card_context *context, const hp_reading *reading, int lead,
                        hp_card *words)
{
    const hp_words *own = hp_words_of(reading);
    if (own && own->card) {
        own->card(context, lead, words);
        return;
    }
    /* Nobody has put it into words yet. */
    HP_CARD_SET(words->title, "Take this reading: %s", reading->title);
    HP_CARD_SET(words->reason, "It parts the cases that are left.");
    for (const hp_field *field = reading->fields; field->name && words->hows < HP_CARD_HOWS;
         field++)
        hp_card_how(words, "%s.", field->help);
    hp_card_caution(words, hp_caution_unplugged);
    hp_card_caution(words, hp_caution_local);
}

void hp_card_make(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    memset(words, 0, sizeof *words);
    switch (advice->kind) {
    case HP_ADVICE_READ: say_reading(context, advice->reading, advice->lead, words); break;
    case HP_ADVICE_TRY: say_try(context, advice, words); break;
    case HP_ADVICE_LOOK: say_look(context, advice, words); break;
    case HP_ADVICE_LEARN: say_reading(context, &hp_reading_learn, -1, words); break;
    case HP_ADVICE_DONE: say_done(context, advice, words); break;
    case HP_ADVICE_REPAIR: say_repair(context, advice, words); break;
    case HP_ADVICE_DANGER: say_danger(context, advice, words); break;
    case HP_ADVICE_GIVE_UP:
    case HP_ADVICE_COUNT: say_give_up(context, advice, words); break;
    }
}
