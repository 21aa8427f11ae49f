/* Words of the steps that are no readings: see the header. Those of a reading stand with its kind
 * (words.h). */
#include "decide/advise/hypothesis.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include <math.h>
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
    case HP_FAULT_SILENT: hp_phrase_add(&phrase, "the controller drives nothing"); break;
    case HP_FAULT_CUTTING_OUT:
        hp_phrase_add(&phrase, "the controller or the battery's protection cuts out");
        break;
    case HP_FAULT_LOOSE: hp_phrase_add(&phrase, "some lead makes contact only now and then"); break;
    case HP_FAULT_UNLISTED: hp_phrase_add(&phrase, "something that is not on this list"); break;
    case HP_FAULT_NONE:
    case HP_FAULT_KIND_COUNT: break;
    }
    if (inverted >= 0)
        hp_phrase_add(&phrase, "%s%s reads the wrong way round, as 60-degree sensors do",
                      phrase.used > 0 ? ", and " : "", sensors.full[inverted]);
    if (phrase.used == 0)
        hp_phrase_add(&phrase, "every part is good");
    return out;
}

/* How it is mended. */
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
        hp_card_how(words, "In the order of chance: logic or key lead, 5 V supply, throttle "
                           "signal at rest, brake input, pedal sensor or speed switch, Hall "
                           "code, the battery's protection.");
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
    if (inverted >= 0)
        hp_card_how(
            words,
            "Hall sensors spaced for 60 degrees do not fit this controller as they are: put an "
            "inverter (one transistor and two resistors) into %s, or take a controller "
            "made for 60 degrees.",
            sensors.full[inverted]);
}

/* NULL where no reading shows it here. */
static const char *proof_words(const hp_reading *proof)
{
    const hp_words *own = proof ? hp_words_of(proof) : NULL;
    return own ? own->proof : NULL;
}

/* ---- ends ------------------------------------------------------------------------------------ */

/* Why the work ends, one sentence. */
static void add_why(const hp_card_context *context, const hp_advice *advice, hp_phrase *reason)
{
    switch (advice->why) {
    case HP_WHY_CURRENT:
        hp_phrase_add(reason, "It ran forward and drew little current, as only a "
                              "wiring that is correct does.");
        break;
    case HP_WHY_LIMIT:
        hp_phrase_add(reason, "It ran forward and left the supply's limit, as only a "
                              "wiring that is correct does.");
        break;
    case HP_WHY_WORDS_ALONE:
        hp_phrase_add(reason, "It ran forward and smoothly, but nothing shows what it draws, and a "
                              "wrong wiring can feel smooth.");
        break;
    case HP_WHY_SAME_FIGURES:
        hp_phrase_add(reason, "It ran forward and smoothly, but a figure outside its band came "
                              "back the same: it belongs to these parts, and nothing here says "
                              "why.");
        break;
    case HP_WHY_CHECK_FAILED: {
        char showed[HP_FAILED_WORDS];
        hp_phrase_add(reason,
                      "At full throttle it %s: a lead is on the wrong place, a part is faulty "
                      "(shorted turns, a Hall sensor), or something drags (a brake, a bearing). No "
                      "gentle run makes up for that.",
                      hp_failed_check_words(&advice->failed, advice->full_most_a,
                                            advice->full_wheel_rad_s, showed, sizeof showed));
        break;
    }
    case HP_WHY_HELD:
        hp_phrase_add(reason, "It ran forward and smoothly, but the supply stayed at its limit, "
                              "where a wrong wiring can look the same: it needs a supply that "
                              "gives more.");
        break;
    case HP_WHY_LOOKED_ENOUGH:
        hp_phrase_add(reason, "It ran forward and drew little current, twice the same, but not as "
                              "such a machine usually does; hardly any other wiring can be "
                              "correct.");
        break;
    case HP_WHY_LEARNT:
        hp_phrase_add(reason, "The controller's own learning ended well, but nothing shows what "
                              "the motor draws.");
        break;
    case HP_WHY_RAN:
        hp_phrase_add(reason, "The no-load run turned the wheel forward, at the speed and with the "
                              "current of a correct wiring: no other wiring needs to be looked "
                              "for.");
        hp_phrase_add(reason, "%s",
                      advice->number > 0
                          ? (context->commission && context->commission->trial_failed
                                 ? " Its trial at full throttle failed, and does not count."
                                 : " A trial of this wiring ran smoothly, too.")
                          : " The log does not say which leads are joined.");
        break;
    case HP_WHY_RUN_DOUBTED:
        hp_phrase_add(reason, "The trial of this wiring ran well, but the last no-load run is in "
                              "doubt: a figure of it is not as expected, and `hubphase "
                              "commission' says which. Run it once more; a slip is gone then, and "
                              "what stays wants a cause.");
        break;
    case HP_WHY_RAN_SOME_WAY:
        hp_phrase_add(reason, "The no-load run had the speed and the current of a wiring that runs "
                              "smoothly. Nobody noted which way the wheel turned: a reverse wiring "
                              "runs the same, backward.");
        break;
    case HP_WHY_CUTS_OUT:
        hp_phrase_add(reason, "It cuts out each time, whatever is joined: the battery's "
                              "protection, its volts under load, or a contact that does not "
                              "last. No wiring shows until that is mended.");
        break;
    case HP_WHY_TRIALS:
        hp_phrase_add(reason, "That was as many powered trials as are reasonable.");
        break;
    case HP_WHY_NOTHING_LEFT:
        hp_phrase_add(reason, "No step that is left is worth its effort.");
        break;
    case HP_WHY_UNLISTED:
        hp_phrase_add(reason, "No wiring and no fault that is listed here explains the log.");
        break;
    case HP_WHY_UNPOWERED:
        hp_phrase_add(reason,
                      "No wiring can be tried here, and nothing that can be measured here is "
                      "worth its effort any more.");
        break;
    case HP_WHY_PART: hp_phrase_add(reason, "No wiring can be correct as things are."); break;
    case HP_WHY_GOES_ON:
    case HP_WHY_COUNT: break;
    }
}

/* What the final check reads, by what can be read here; NULL: nothing. */
static const char *what_to_read(const hp_plan_params *plan)
{
    if (plan->ammeter && plan->tachometer)
        return "battery current and wheel speed";
    return plan->ammeter ? "the battery current" : plan->tachometer ? "the wheel's speed" : NULL;
}

/* A wiring that nothing has shown the current of, and no meter here that could. */
static void how_to_find_current(const hp_card_context *context, const hp_advice *advice,
                                hp_card *words)
{
    char limit[HP_NUMBER_WORDS];
    hp_card_how(words,
                "Find out what it draws at %.3g %% throttle: borrow a meter for the battery lead, "
                "or run it behind a limit of about %s A and see whether it leaves it.",
                100.0 * context->plan->throttle,
                hp_card_number(advice->limit_a, limit, sizeof limit));
    hp_card_doing(words, HP_DOING_BATTERY | HP_DOING_THROTTLE);
    hp_card_detail(words, "Run it for half a minute, too, and feel whether hub, leads or "
                          "controller grow warm. They must not.");
}

static void how_to_check(const hp_card_context *context, bool full, hp_card *words)
{
    const char *read = what_to_read(context->plan);
    double percent = 100.0 * context->plan->throttle;
    if (read && full) {
        hp_card_how(words,
                    "Battery on behind its fuse, throttle slowly up to full: read %s when it has "
                    "settled.",
                    read);
        hp_card_detail(words, "At full throttle the hand cannot be out.");
    } else if (read)
        hp_card_how(words,
                    "Battery on behind its fuse, throttle at %.3g %%: read %s when it has settled.",
                    percent, read);
    else
        hp_card_how(words,
                    "Battery on behind its fuse, throttle at %.3g %%: run it for half a minute and "
                    "feel whether hub, leads or controller grow warm; they must not.",
                    percent);
    hp_card_doing(words, HP_DOING_BATTERY | HP_DOING_THROTTLE);
}

/* The check was made: nothing is left but to close it up. */
static void say_checked(const hp_advice *advice, hp_card *words)
{
    char bands[240];
    hp_card_full_bands(advice, bands, sizeof bands);
    hp_card_how(words, "Battery off, insulate and seal every joint, write the sheet for the "
                       "machine; the fuse at the battery stays in.");
    HP_CARD_SET(words->healthy, "Without load: %s.", bands);
    HP_CARD_SET(words->note, "What you read, on the sheet that stays with the machine.");
}

/* The band is where nine in ten right machines lie; what fails is far above it. */
static char *say_most(const hp_advice *advice, char *out, size_t size)
{
    char high[HP_NUMBER_WORDS], most[HP_NUMBER_WORDS];
    snprintf(out, size,
             "Above %s A do not ride it; between %s and %s A measure again, log it, and ask again.",
             hp_card_number(advice->full_most_a, most, sizeof most),
             hp_card_number(advice->full_current_a.high, high, sizeof high), most);
    return out;
}

static void say_check(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char bands[240], most[160];
    const char *read = what_to_read(context->plan);
    bool probably = advice->kind == HP_ADVICE_PROBABLY;
    bool some_way = advice->why == HP_WHY_RAN_SOME_WAY;
    bool full = hp_card_full_check(context->plan, advice);
    if (full)
        hp_card_full_bands(advice, bands, sizeof bands);
    else
        hp_card_bands(context, advice, bands, sizeof bands);
    hp_card_how_to_make_ready(context, words);
    if (probably && !context->plan->ammeter && !full)
        how_to_find_current(context, advice, words);
    else
        how_to_check(context, full, words);
    hp_card_how_to_stop(words);
    if (advice->why != HP_WHY_CHECK_FAILED)
        hp_card_how(words,
                    "Was it as below? Battery off, insulate and seal every joint; the fuse at "
                    "the battery stays in.");
    if (bands[0])
        HP_CARD_SET(words->healthy, "Without load: %s. %s Less current is no fault.%s", bands,
                    full ? say_most(advice, most, sizeof most)
                         : "Above that do not ride it: measure again, log it, and ask again.",
                    some_way ? " The wheel turns forward." : "");
    if (advice->why == HP_WHY_CHECK_FAILED)
        HP_CARD_SET(words->note,
                    "What you read, as a trial at 100 %% throttle, and whether anything "
                    "grew warm or cut out: only what speaks of that very thing takes it "
                    "back.");
    else
        HP_CARD_SET(words->note, "%s on the sheet that stays with the machine.",
                    read ? "What you read," : "That nothing grew warm,");
}

/* Of an end whose wiring has no number. */
static const char *unnumbered_title(const hp_advice *advice)
{
    switch (advice->why) {
    case HP_WHY_CHECK_FAILED:
        return "Do not ride: at full throttle it runs as no correct wiring does";
    case HP_WHY_RAN: return "What is joined is probably correct: log it as a trial";
    case HP_WHY_RAN_SOME_WAY: return "What is joined runs smoothly: log which way the wheel turns";
    default: return "The controller has learnt the wiring: make the final check";
    }
}

/* Nothing is to be joined anew: what there is gets its entry. */
static void how_to_log_joined(const hp_advice *advice, hp_card *words)
{
    if (advice->number > 0 || (advice->why != HP_WHY_RAN && advice->why != HP_WHY_RAN_SOME_WAY))
        return;
    hp_card_how(words, "Write down which Hall lead and which phase lead goes where, as they are "
                       "joined now; log the run below as a trial of that wiring.");
}

/* Nothing runs again before somebody has looked. */
static void how_to_find_why(hp_card *words)
{
    hp_card_how(words,
                "Battery off. Find out what it was first: the wheel must turn freely by hand, no "
                "brake, tyre or lead may rub, hub, leads and controller must be cold again, "
                "the three pairs of phase leads must read the same ohms.");
    hp_card_doing(words, HP_DOING_OHMS);
}

static void say_done(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char sure[32];
    bool probably = advice->kind == HP_ADVICE_PROBABLY;
    hp_phrase reason = hp_phrase_begin(words->reason, sizeof words->reason);
    if (advice->number > 0) {
        HP_CARD_SET(words->title,
                    advice->why == HP_WHY_CHECK_FAILED
                        ? (advice->failed.entry[HP_CHECK_CURRENT] > 0
                               ? "Do not ride wiring %d: it draws too much at full throttle"
                               : "Do not ride wiring %d: at full throttle it runs as no correct "
                                 "one does")
                    : advice->why == HP_WHY_RAN
                        ? "Wiring %d is probably correct: its no-load run says so"
                    : advice->why == HP_WHY_RUN_DOUBTED
                        ? "Wiring %d: its last no-load run is in doubt, run it once more"
                    : probably        ? "Wiring %d is probably correct: check what it draws"
                    : advice->checked ? "Wiring %d is correct, and the final check says so"
                                      : "Wiring %d is correct: make the final check",
                    advice->number);
        add_why(context, advice, &reason);
        if (advice->why == HP_WHY_CHECK_FAILED)
            how_to_find_why(words);
        if (advice->why == HP_WHY_RAN && context->commission && context->commission->odd_entry)
            hp_phrase_add(&reason, " But the run at full throttle in entry %d was not as expected.",
                          context->commission->odd_entry);
        hp_phrase_add(&reason,
                      " %s likely correct. A wheel that turns freely, even faster, can still be "
                      "wired wrong: what it draws shows it.",
                      hp_card_percent(advice->certainty, sure, sizeof sure));
        hp_card_how_to_join(context, &advice->wiring, 0, words);
    } else {
        HP_CARD_SET(words->title, "%s", unnumbered_title(advice));
        add_why(context, advice, &reason);
        if (advice->why == HP_WHY_CHECK_FAILED)
            how_to_find_why(words);
        how_to_log_joined(advice, words);
    }
    if (advice->checked)
        say_checked(advice, words);
    else
        say_check(context, advice, words);
}

static void say_repair(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char trouble[HP_TROUBLE_WORDS], sure[32], joints[HP_JOINT_WORDS];
    hp_trouble_words(context->labels, advice->trouble, trouble, sizeof trouble);
    words->stop = true;
    HP_CARD_SET(words->title, "Stop trying and mend: a part is faulty or does not fit");
    hp_phrase reason = hp_phrase_begin(words->reason, sizeof words->reason);
    add_why(context, advice, &reason);
    if (advice->why != HP_WHY_CUTS_OUT)
        hp_phrase_add(&reason, " %s likely: %s.",
                      hp_card_percent(advice->certainty, sure, sizeof sure), trouble);
    if (proof_words(advice->proof))
        hp_card_how(words, "%s", proof_words(advice->proof));
    how_to_mend(context, advice->trouble, words);
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
    add_why(context, advice, &reason);
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

static void say_give_up(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char trouble[HP_TROUBLE_WORDS], sure[32];
    if (advice->why == HP_WHY_UNPOWERED) {
        say_unpowered(context, advice, words);
        return;
    }
    hp_trouble_words(context->labels, advice->trouble > 0 ? advice->trouble : 0, trouble,
                     sizeof trouble);
    words->stop = true;
    HP_CARD_SET(words->title, "Stop here: more of the same would not settle it");
    hp_phrase reason = hp_phrase_begin(words->reason, sizeof words->reason);
    add_why(context, advice, &reason);
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
static void say_failed(const hp_advice *advice, hp_card *words)
{
    char showed[HP_FAILED_WORDS], before[sizeof words->reason];
    if (!advice->failed.stands || advice->why == HP_WHY_CHECK_FAILED)
        return;
    snprintf(before, sizeof before, "%s", words->reason);
    hp_phrase reason = hp_phrase_begin(words->reason, sizeof words->reason);
    hp_phrase_add(&reason, "Do not ride: at full throttle it %s. %s",
                  hp_failed_check_words(&advice->failed, advice->full_most_a,
                                        advice->full_wheel_rad_s, showed, sizeof showed),
                  before);
}

/* What a step of commissioning found stops every run, too: whoever asks here has not seen it. */
static void say_stopped(const hp_card_context *context, hp_card *words)
{
    const hp_commission_step *step = &context->commission->step[context->commission->next];
    hp_finding_words found;
    memset(words, 0, sizeof *words);
    words->stop = true;
    words->safety = HP_SAFE_DEAD;
    HP_CARD_SET(words->title, "Stop: first mend what the step %s found",
                hp_reading_name(step->reading));
    hp_finding_words_make(context, step, &found);
    HP_CARD_SET(words->reason, "Entry %d: %s No run under power before that.", step->entry->number,
                found.means);
    if (found.otherwise[0])
        hp_card_how(words, "%s", found.otherwise);
    hp_card_how(words, "Then measure it again, log it, and ask again.");
    HP_CARD_SET(words->note, "The same step, once it is as it should be.");
}

bool hp_card_is_stopped(const hp_card_context *context, const hp_advice *advice)
{
    bool runs = advice->kind == HP_ADVICE_TRY || advice->kind == HP_ADVICE_LOOK ||
                advice->kind == HP_ADVICE_LEARN || advice->kind == HP_ADVICE_DONE ||
                advice->kind == HP_ADVICE_PROBABLY;
    return runs && context->commission && context->commission->why == HP_COMMISSION_STOPPED;
}

void hp_card_make(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    memset(words, 0, sizeof *words);
    words->safety = hp_card_safety(advice);
    switch (advice->kind) {
    case HP_ADVICE_READ: say_reading(context, advice->reading, advice->lead, words); break;
    case HP_ADVICE_TRY: hp_card_say_try(context, advice, words); break;
    case HP_ADVICE_LOOK: hp_card_say_look(context, advice, words); break;
    case HP_ADVICE_LEARN: say_reading(context, hp_advice_entry(advice), -1, words); break;
    case HP_ADVICE_PROBABLY:
    case HP_ADVICE_DONE: say_done(context, advice, words); break;
    case HP_ADVICE_REPAIR: say_repair(context, advice, words); break;
    case HP_ADVICE_DANGER: say_danger(context, advice, words); break;
    case HP_ADVICE_GIVE_UP:
    case HP_ADVICE_COUNT: say_give_up(context, advice, words); break;
    }
    say_failed(advice, words);
    if (hp_card_is_stopped(context, advice))
        say_stopped(context, words);
    hp_card_take_care(context, words);
    if (advice->kind == HP_ADVICE_READ && hp_card_is_unproved(context, advice->reading))
        hp_card_say_unproved(words);
}
