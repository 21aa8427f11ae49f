/* Words of the steps that are no readings: see the header. Those of a reading stand with its kind
 * (words.h). */
#include "decide/advise/hypothesis.h"
#include "decide/reading/reading.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "report/words/again_words.h"
#include "report/words/card_parts.h"
#include "report/words/control_words.h"
#include "report/words/guard_words.h"
#include "report/words/words.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

int hp_card_present(const hp_belief *belief)
{
    for (int k = belief->entries - 1; k >= 0; k--) {
        const hp_trial *trial = hp_entry_trial(&belief->entry[k]);
        if (trial)
            return hp_wiring_number(&trial->wiring);
    }
    return 0;
}

/* ---- troubles -------------------------------------------------------------------------------- */

char *hp_trouble_words(const hp_labels *labels, int trouble, char *out, size_t size)
{
    hp_lead_names phases = hp_card_phases(labels);
    hp_lead_names sensors = hp_lead_names_of(labels->motor_sensor, "Hall sensor");
    hp_lead_names inputs = hp_lead_names_of(labels->controller_input, "input");
    int misfit;
    hp_fault fault;
    hp_phrase phrase = hp_phrase_begin(out, size);
    hp_trouble_get(trouble, &misfit, &fault);
    switch (fault.kind) {
    case HP_FAULT_SENSOR_HIGH:
        hp_phrase_add(&phrase, "%s is stuck at 1", sensors.full[fault.which]);
        break;
    case HP_FAULT_SENSOR_LOW:
        hp_phrase_add(&phrase, "%s is stuck at 0", sensors.full[fault.which]);
        break;
    case HP_FAULT_LEAD_OPEN: hp_phrase_add(&phrase, "%s is open", phases.full[fault.which]); break;
    case HP_FAULT_CLUTCH: hp_phrase_add(&phrase, "the one-way clutch slips"); break;
    case HP_FAULT_SILENT: hp_phrase_add(&phrase, "the controller drives nothing"); break;
    case HP_FAULT_CUTTING_OUT:
        hp_phrase_add(&phrase, "the controller or the battery's protection cuts out");
        break;
    case HP_FAULT_LOOSE: hp_phrase_add(&phrase, "some lead makes contact only now and then"); break;
    case HP_FAULT_UNLISTED: hp_phrase_add(&phrase, "something that is not on this list"); break;
    case HP_FAULT_NONE:
    case HP_FAULT_KIND_COUNT: break;
    }
    if (misfit >= HP_MISFIT_INPUT)
        hp_phrase_add(&phrase,
                      "%s%s of the controller hears its lead the wrong way round: it is made for "
                      "60-degree sensors, and the hub's stand at 120",
                      phrase.used > 0 ? ", and " : "", inputs.full[misfit - HP_MISFIT_INPUT]);
    else if (misfit >= 0)
        hp_phrase_add(&phrase, "%s%s reads the wrong way round, as 60-degree sensors do",
                      phrase.used > 0 ? ", and " : "", sensors.full[misfit]);
    if (phrase.used == 0)
        hp_phrase_add(&phrase, "every part is good");
    return out;
}

int hp_misfit_lead(const hp_advice *advice, int misfit)
{
    return misfit < HP_MISFIT_INPUT ? misfit : advice->wiring.sensor[misfit - HP_MISFIT_INPUT];
}

/* NULL where no reading shows it here. */
static const char *proof_words(const hp_reading *proof)
{
    const hp_words *own = proof ? hp_words_of(proof) : NULL;
    return own ? own->proof : NULL;
}

/* How it is mended. */
static void how_to_mend(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    hp_lead_names phases = hp_card_phases(context->labels);
    hp_lead_names sensors = hp_card_sensors(context->labels);
    hp_lead_names inputs = hp_lead_names_of(context->labels->controller_input, "input");
    int misfit;
    hp_fault fault;
    hp_trouble_get(advice->trouble, &misfit, &fault);
    int inverted = hp_misfit_lead(advice, misfit);
    switch (fault.kind) {
    case HP_FAULT_SENSOR_HIGH:
    case HP_FAULT_SENSOR_LOW:
        hp_card_how(words,
                    "Follow %s from the plug to the axle first: a torn lead, a pushed-out pin or a "
                    "missing supply looks like a faulty Hall sensor.",
                    sensors.full[fault.which]);
        hp_card_how(words, "Nothing found? Open the hub and put in a new latching Hall sensor of "
                           "the same kind, the same way round.");
        hp_card_doing(words, HP_DOING_HUB);
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
        hp_card_doing(words, HP_DOING_HUB);
        break;
    case HP_FAULT_SILENT:
        if (!proof_words(advice->proof))
            hp_card_how(words, "In the order of chance: logic or key lead, 5 V supply, throttle "
                               "signal at rest, brake input, pedal sensor or speed switch, Hall "
                               "code, the battery's protection.");
        hp_card_how(words, "All of that as it should be, or gone through already? Then the "
                           "controller itself is dead: put another one in.");
        hp_card_detail(words, "Mended or exchanged for one of the very same kind: log it as "
                              "controller; another kind: other_controller.");
        break;
    case HP_FAULT_CUTTING_OUT:
        hp_card_how(words, "Measure the battery's volts while you switch on. Gone at once: its "
                           "protection, so charge it or try another. They stay: the controller's "
                           "own, so look for a short or for too low a limit.");
        hp_card_doing(words, HP_DOING_BATTERY | HP_DOING_LIVE);
        break;
    case HP_FAULT_LOOSE:
        hp_card_how(words, "Battery off. Pull at every joint and clip, phase leads first, then "
                           "the Hall plug. Clean and tighten what moves; move each lead while a "
                           "meter beeps across it.");
        hp_card_doing(words, HP_DOING_OHMS);
        break;
    case HP_FAULT_UNLISTED:
        hp_card_how(words, "Try a good controller or a good motor in its place, if there is one: "
                           "that tells which of the two it is.");
        break;
    case HP_FAULT_NONE:
    case HP_FAULT_KIND_COUNT: break;
    }
    if (misfit >= HP_MISFIT_INPUT)
        hp_card_how(words,
                    "Hall sensors spaced for 120 degrees do not fit this controller as they are: "
                    "put an inverter (one transistor and two resistors) into %s, which goes to %s "
                    "in wiring %d, or take a controller made for 120 degrees.",
                    sensors.full[inverted], inputs.full[misfit - HP_MISFIT_INPUT], advice->number);
    else if (misfit >= 0)
        hp_card_how(
            words,
            "Hall sensors spaced for 60 degrees do not fit this controller as they are: put an "
            "inverter (one transistor and two resistors) into %s, or take a controller "
            "made for 60 degrees.",
            sensors.full[misfit]);
    if (misfit >= 0)
        hp_card_detail(words, "Which of the two it was stands in the log: an inverter with its "
                              "lead, the other one as another controller.");
}

/* ---- ends without a wiring that runs --------------------------------------------------------- */

static void say_repair(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char trouble[HP_TROUBLE_WORDS], sure[32], joints[HP_JOINT_WORDS];
    hp_trouble_words(context->labels, advice->trouble, trouble, sizeof trouble);
    words->stop = true;
    HP_CARD_SET(words->title, "Stop trying and mend: a part is faulty or does not fit");
    hp_phrase reason = hp_phrase_begin(words->reason, sizeof words->reason);
    hp_card_add_why(context, advice, &reason);
    if (advice->why != HP_WHY_CUTS_OUT)
        hp_phrase_add(&reason, " %s likely: %s.",
                      hp_card_percent(advice->certainty, sure, sizeof sure), trouble);
    if (proof_words(advice->proof))
        hp_card_how(words, "%s", proof_words(advice->proof));
    how_to_mend(context, advice, words);
    hp_card_how(words, "Write into the log what was mended, and ask again.");
    if (advice->number > 0)
        hp_card_detail(words, "No wiring is then likelier than %d: phase leads %s.", advice->number,
                       hp_phase_joint_words(context->labels, &advice->wiring, context->present,
                                            joints, sizeof joints));
    HP_CARD_SET(words->note, "What was mended.");
}

/* chosen: a fault less likely than this is not named on giving up. */
#define WORTH_NAMING 0.1

/* Nothing is wrong: the rest wants power. */
static void say_unpowered(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char sure[32], joints[HP_JOINT_WORDS];
    HP_CARD_SET(words->title, "Stop here until a wiring can be tried under power");
    hp_phrase reason = hp_phrase_begin(words->reason, sizeof words->reason);
    hp_card_add_why(context, advice, &reason);
    hp_phrase_add(&reason, " The likeliest wiring is %d, %s likely correct.", advice->number,
                  hp_card_percent(advice->certainty, sure, sizeof sure));
    hp_card_how(words, "Go on with this log where the motor can be powered.");
    hp_card_how(words, "Try wiring %d there first: phase leads %s.", advice->number,
                hp_phase_joint_words(context->labels, &advice->wiring, context->present, joints,
                                     sizeof joints));
    hp_card_detail(words, "Hall leads %s.",
                   hp_sensor_joint_words(context->labels, &advice->wiring, context->present, joints,
                                         sizeof joints));
}

/* The final check of a machine that is ridden without its Hall sensors. */
static void say_check_unplugged(const hp_card_context *context, const hp_advice *advice,
                                hp_card *words)
{
    char text[160] = "", low[HP_NUMBER_WORDS], high[HP_NUMBER_WORDS], full[HP_ASKED_WORDS];
    if (advice->full_current_a.high > 0.0)
        snprintf(text, sizeof text, " %s to %s A are to be expected; with more do not ride it.",
                 hp_card_number(advice->full_current_a.low, low, sizeof low),
                 hp_card_number(advice->full_current_a.high, high, sizeof high));
    hp_card_how(words,
                "Before it is ridden, the Hall plug out, wheel lifted, battery on behind its fuse: "
                "%s, read battery current and wheel speed, power off.%s Log it as a trial at %s, "
                "with what grew warm or cut out.",
                hp_drive_words_of(context->plan)->up_to_full, text,
                hp_full_words(hp_plan_full(context->plan), full, sizeof full));
    hp_card_doing(words, HP_DOING_STAND | HP_DOING_BATTERY | HP_DOING_THROTTLE);
}

/* What runs prove stays proved; of the rest no run tells more. */
static void say_unsensed(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char sure[32];
    HP_CARD_SET(words->title, "Phase leads and direction are right, the Hall leads are not proved");
    hp_phrase reason = hp_phrase_begin(words->reason, sizeof words->reason);
    hp_card_add_why(context, advice, &reason);
    hp_phrase_add(&reason, " Wiring %d, as likely as any, is %s likely correct.", advice->number,
                  hp_card_percent(advice->certainty, sure, sizeof sure));
    hp_card_how(words, "Where it can be done after all, turn the wheel by hand and read the Hall "
                       "codes, and park the rotor on each phase lead: that tells the order of the "
                       "Hall leads.");
    if (!advice->checked)
        say_check_unplugged(context, advice, words);
    hp_card_how(words,
                "Until they are proved leave the Hall plug out, both halves insulated, and start "
                "gently: it may jerk under load. With the plug in and Hall leads in a wrong order "
                "the motor may stall on the road.");
    HP_CARD_SET(words->note, "On the sheet: runs without Hall sensors, Hall leads not proved.");
}

static void say_give_up(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char trouble[HP_TROUBLE_WORDS], sure[32];
    if (advice->why == HP_WHY_UNPOWERED) {
        say_unpowered(context, advice, words);
        return;
    }
    if (advice->why == HP_WHY_UNSENSED) {
        say_unsensed(context, advice, words);
        return;
    }
    hp_trouble_words(context->labels, advice->trouble > 0 ? advice->trouble : 0, trouble,
                     sizeof trouble);
    words->stop = true;
    HP_CARD_SET(words->title, "Stop here: more of the same would not settle it");
    hp_phrase reason = hp_phrase_begin(words->reason, sizeof words->reason);
    hp_card_add_why(context, advice, &reason);
    if (advice->trouble > 0 && advice->why != HP_WHY_UNLISTED && advice->certainty >= WORTH_NAMING)
        hp_phrase_add(&reason, " The likeliest fault, %s likely: %s.",
                      hp_card_percent(advice->certainty, sure, sizeof sure), trouble);
    if (proof_words(advice->proof))
        hp_card_how(words, "%s", proof_words(advice->proof));
    hp_card_how(words, "Go through the log: is every lead where it says, was every figure read as "
                       "it stands there? One wrong entry is enough to block the way.");
    hp_card_how(words, "Try a good controller or a good motor in its place, if there is one.");
}

void hp_danger_words(const hp_card_context *context, const hp_danger *danger, hp_card *card)
{
    const hp_words *own = hp_words_of(danger->reading);
    memset(card, 0, sizeof *card);
    HP_CARD_SET(card->title, "Stop: %s", danger->reading->title);
    if (own && own->danger)
        own->danger(context, danger, card);
}

static void say_danger(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    const hp_words *own = hp_words_of(advice->danger->reading);
    words->stop = true;
    HP_CARD_SET(words->title, "Stop: %s", advice->danger->reading->title);
    if (own && own->danger)
        own->danger(context, advice->danger, words);
    hp_card_how(words, "Measure again, log it, and ask again.");
    hp_card_caution(words, "Do not go on past this: what follows would do damage.");
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
    HP_CARD_SET(words->reason, "It rules out part of what is left.");
    for (const hp_field *field = reading->fields; field->name && words->hows < HP_CARD_HOWS;
         field++)
        hp_card_how(words, "%s.", field->help);
}

/* chosen: from here on somebody whose wheel runs asks why that is not enough. */
#define NEARLY 0.5

/* Nothing in the log asks for it: it comes because the work would end without it. */
static void say_before_end(const hp_advice *advice, hp_card *words)
{
    const hp_words *own = hp_words_of(advice->reading);
    if (advice->why == HP_WHY_BEFORE_END && own && own->at_the_end)
        HP_CARD_SET(words->reason, "%s", own->at_the_end);
}

/* Why a reading comes though what is joined ran well. */
static void say_not_yet(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char sure[32];
    if (advice->certainty < NEARLY || context->present == 0)
        return;
    hp_phrase reason = hp_phrase_resume(words->reason, sizeof words->reason);
    hp_phrase_add(&reason,
                  " Wiring %d, which is joined, ran well and is %s likely correct. It is called so "
                  "from %.4g %% on, and this tells more than one more run.",
                  context->present, hp_card_percent(advice->certainty, sure, sizeof sure),
                  100.0 * context->plan->sure);
}

const char *hp_card_must(const hp_advice *advice)
{
    if (advice->kind == HP_ADVICE_REPAIR)
        return "It has to be mended before anything else tells more, here or elsewhere. What is "
               "written down so far is kept until then.";
    if (advice->kind == HP_ADVICE_DANGER)
        return "Nothing may follow before this is mended: it would do damage.";
    return NULL;
}

hp_safe hp_card_safety(const hp_advice *advice)
{
    const hp_words *own = advice->kind == HP_ADVICE_READ ? hp_words_of(advice->reading) : NULL;
    return advice->kind == HP_ADVICE_LOOK ? HP_SAFE_HANDS_OFF : own ? own->safety : HP_SAFE_DEAD;
}

/* A run at full throttle that no correct wiring makes stands, whatever is to be done next. */
static void say_failed(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char showed[HP_FAILED_WORDS], text[sizeof words->reason];
    if (!advice->failed.stands || advice->why == HP_WHY_CHECK_FAILED)
        return;
    hp_phrase reason = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&reason, "%s full throttle it %s.", words->stop ? "Do not ride: at" : "At",
                  hp_failed_check_words(&advice->failed, advice->full_most_a,
                                        advice->full_wheel_rad_s, showed, sizeof showed));
    hp_add_failed_step(context, &advice->failed, advice->full_wheel_rad_s, &reason);
    hp_card_reason_first(words, text);
    if (words->stop)
        return;
    char title[sizeof words->title];
    snprintf(title, sizeof title, "%s", words->title);
    hp_phrase p = hp_phrase_begin(words->title, sizeof words->title);
    hp_phrase_add(&p, "Do not ride: %c%s", tolower((unsigned char)title[0]), title + 1);
}

/* Volts that the log has already say why the wheel does not turn. */
static void say_held(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    const hp_commission *list = context->commission;
    if (!list || !list->held.entry || advice->reading != list->held.entry->reading)
        return;
    hp_phrase why = hp_phrase_begin(words->reason, sizeof words->reason);
    HP_CARD_SET(words->title, "Put right what holds the controller off");
    hp_held_words(list, &why);
}

/* Told until something was tried with the new one. */
static void say_exchanged(const hp_card_context *context, hp_card *words)
{
    const hp_commission *list = context->commission;
    const hp_entry *exchanged = list ? list->exchanged : NULL;
    const hp_entry *tried = list ? hp_assess_last_trial(&list->given) : NULL;
    if (!exchanged || tried > exchanged)
        return;
    hp_phrase reason = hp_phrase_resume(words->reason, sizeof words->reason);
    hp_phrase_add(&reason, " ");
    hp_exchanged_words(&reason);
}

/* What was found since the last run comes before another. */
static void say_hinders(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    const hp_commission *list = context->commission;
    bool runs = advice->kind == HP_ADVICE_TRY || advice->kind == HP_ADVICE_LOOK ||
                advice->kind == HP_ADVICE_LEARN;
    char text[sizeof words->reason];
    if (!list || !list->hinders || !runs)
        return;
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_hinders_words(list->hinders, &p);
    hp_card_reason_first(words, text);
    hp_card_caution_at(words, 0, "Before the motor runs: mend what drags or draws, see above.");
}

/* What was read last cannot be: that is why it is asked for once more. */
static bool say_impossible(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    const hp_commission *list = context->commission;
    const hp_reading *reading = advice->kind == HP_ADVICE_READ ? advice->reading : NULL;
    const hp_entry *newest = NULL;
    for (int k = 0; list && k < list->given.entries; k++) {
        const hp_entry *entry = &list->given.entry[k];
        if (newest && hp_entry_outdated(newest, entry))
            newest = NULL;
        newest = entry->reading == reading ? entry : newest;
    }
    if (!reading || !newest || !reading->cannot_be || !reading->cannot_be(hp_entry_said(newest)))
        return false;
    hp_phrase why = hp_phrase_begin(words->reason, sizeof words->reason);
    hp_phrase_add(&why, "Entry %d: ", newest->number);
    hp_words_of(reading)->impossible(context, hp_entry_said(newest), &why);
    return true;
}

/* What smooth runs do not say, or may not. */
static void say_runs_unsensed(const hp_advice *advice, hp_card *words)
{
    bool told = advice->why == HP_WHY_UNSENSED || advice->kind == HP_ADVICE_DANGER;
    const char *text = advice->unsensed == HP_TELL_YES && !told ? hp_unsensed_words
                       : advice->plug == HP_PLUG_UNTRIED        ? hp_plug_untried_words
                                                                : NULL;
    hp_phrase reason = hp_phrase_resume(words->reason, sizeof words->reason);
    if (text)
        hp_phrase_add(&reason, "%s%s", reason.used > 0 ? " " : "", text);
}

/* Told when it is logged, and at an end; the list of steps says it all the while. */
static bool is_newest(const hp_commission *list, const hp_entry *entry)
{
    return entry == &list->given.entry[list->given.entries - 1];
}

/* What is to be measured again, by the list of steps. A reading that does not fit a wheel that runs
 * well is told where the wiring is called correct, or where it is asked for again. */
static void say_again(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    const hp_commission *list = context->commission;
    const hp_entry *contrary = list ? list->contrary : NULL;
    bool ends = advice->kind == HP_ADVICE_DONE || advice->kind == HP_ADVICE_PROBABLY;
    bool read = contrary && advice->kind == HP_ADVICE_READ && advice->reading == contrary->reading;
    bool told = say_impossible(context, advice, words);
    hp_phrase reason = hp_phrase_resume(words->reason, sizeof words->reason);
    if (contrary && !told && (ends || read)) {
        hp_phrase_add(&reason, " ");
        hp_contrary_words(contrary, &reason);
    }
    if (list && list->doubted && advice->kind == HP_ADVICE_DONE)
        hp_phrase_add(&reason,
                      " But the no-load run of entry %d was not as expected: run it once more, and "
                      "read volts, speed and current together.",
                      list->doubted->number);
    if (list && list->growl_entry && ends) {
        hp_phrase_add(&reason, " ");
        hp_growl_words(list->growl_entry, &reason);
    }
    if (list && list->gainsaid && (ends || is_newest(list, list->gainsaid))) {
        hp_phrase_add(&reason, " ");
        hp_gainsaid_words(context, list->gainsaid, &reason);
    }
    if (hp_commission_asks_again(list)) {
        hp_phrase_add(&reason, " ");
        hp_doubt_words(&list->doubt, &reason);
    }
}

/* What a step of commissioning found stops every run, too: whoever asks here has not seen it. */
static void say_stopped(const hp_card_context *context, hp_card *words)
{
    const hp_commission_step *step = &context->commission->step[context->commission->next];
    hp_finding_words found;
    memset(words, 0, sizeof *words);
    words->stop = true;
    words->safety = HP_SAFE_DEAD;
    HP_CARD_SET(words->title, "Stop: first mend what the step \"%s\" found",
                hp_reading_title(step->reading));
    hp_finding_words_make(context, step, &found);
    HP_CARD_SET(words->reason, "Entry %d: %s No %srun under power before that.",
                step->entry->number, found.means, step->reading->full_run ? "other " : "");
    if (found.otherwise[0])
        hp_card_how(words, "%s", found.otherwise);
    hp_card_how(words, "Then measure it again, log it, and ask again.");
    HP_CARD_SET(words->note, "The same step, once it is as it should be.");
}

bool hp_card_is_stopped(const hp_card_context *context, const hp_advice *advice)
{
    bool unpowered = advice->kind == HP_ADVICE_GIVE_UP && advice->why == HP_WHY_UNPOWERED;
    bool runs = unpowered || advice->kind == HP_ADVICE_TRY || advice->kind == HP_ADVICE_LOOK ||
                advice->kind == HP_ADVICE_LEARN || advice->kind == HP_ADVICE_DONE ||
                advice->kind == HP_ADVICE_PROBABLY;
    return runs && context->commission && context->commission->why == HP_COMMISSION_STOPPED;
}

/* What was mended is told as it reads now: the next hands go elsewhere. */
static void say_in_vain(const hp_advice *advice, hp_card *words)
{
    if (advice->in_vain == 0 ||
        (advice->kind != HP_ADVICE_REPAIR && advice->kind != HP_ADVICE_READ))
        return;
    hp_phrase reason = hp_phrase_resume(words->reason, sizeof words->reason);
    if (advice->another)
        hp_phrase_add(
            &reason,
            " The controller of entry %d has driven nothing yet: it is as little known as "
            "the one before, and all its leads were off.",
            advice->in_vain);
    else
        hp_phrase_add(&reason,
                      " Entry %d says that a part was mended, but what was read since is as it was "
                      "before: look at the leads and plugs round it, too, and whether it was that "
                      "part.",
                      advice->in_vain);
}

/* A grip that is only read meanwhile is to turn no wheel. */
static bool wants_pedals(unsigned doings)
{
    return (doings & HP_DOING_PEDALS) ||
           ((doings & HP_DOING_THROTTLE) && !(doings & HP_DOING_LIVE));
}

/* Where the throttle works only while somebody pedals, one person cannot do both. */
static void say_pedalled(const hp_card_context *context, hp_card *words)
{
    int at = 0;
    while (at < words->hows && !wants_pedals(words->doing[at]))
        at++;
    if (at == words->hows || hp_card_controls(context).pedal.mode != HP_PEDAL_GATES)
        return;
    hp_phrase p = hp_phrase_resume(words->how[at], sizeof words->how[at]);
    hp_phrase_add(&p,
                  " The throttle works only while somebody pedals: whenever the wheel is to run, "
                  "a second person turns the pedals forward, clear of chain and spokes.");
}

void hp_card_make(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    memset(words, 0, sizeof *words);
    words->safety = hp_card_safety(advice);
    switch (advice->kind) {
    case HP_ADVICE_READ:
        say_reading(context, advice->reading, advice->lead, words);
        say_before_end(advice, words);
        say_not_yet(context, advice, words);
        say_held(context, advice, words);
        break;
    case HP_ADVICE_TRY: hp_card_say_try(context, advice, words); break;
    case HP_ADVICE_LOOK: hp_card_say_look(context, advice, words); break;
    case HP_ADVICE_LEARN: say_reading(context, hp_advice_entry(advice), -1, words); break;
    case HP_ADVICE_PROBABLY:
    case HP_ADVICE_DONE: hp_card_say_done(context, advice, words); break;
    case HP_ADVICE_REPAIR: say_repair(context, advice, words); break;
    case HP_ADVICE_DANGER: say_danger(context, advice, words); break;
    case HP_ADVICE_GIVE_UP:
    case HP_ADVICE_COUNT: say_give_up(context, advice, words); break;
    }
    hp_card_say_unguarded(context, hp_advice_entry(advice), words);
    say_exchanged(context, words);
    say_hinders(context, advice, words);
    say_failed(context, advice, words);
    say_in_vain(advice, words);
    say_runs_unsensed(advice, words);
    say_again(context, advice, words);
    if (hp_card_is_stopped(context, advice))
        say_stopped(context, words);
    say_pedalled(context, words);
    hp_card_take_care(context, words);
    if (advice->kind == HP_ADVICE_READ && hp_card_is_unproved(context, advice->reading))
        hp_card_say_unproved(words);
}
