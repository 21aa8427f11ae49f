/* Words of the ends that name a wiring, and why the work ends: see card.h. */
#include "decide/advise/full_check.h"
#include "decide/reading/reading.h"
#include "report/words/again_words.h"
#include "report/words/card_parts.h"
#include "report/words/control_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void hp_card_add_why(const hp_card_context *context, const hp_advice *advice, hp_phrase *reason)
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
    case HP_WHY_UNMETERED:
        hp_phrase_add(reason, "It ran forward and drew little, as a correct wiring does at little "
                              "throttle.");
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
        const char *step = hp_failed_step(context, &advice->failed, advice->full_wheel_rad_s);
        hp_failed_check_words(&advice->failed, advice->full_most_a, advice->full_wheel_rad_s,
                              showed, sizeof showed);
        if (step) {
            hp_phrase_add(reason,
                          "At full throttle it %s. Its speed switch gives that speed in the %s "
                          "position: most likely it stood there, or a lead of it is off. If it "
                          "stays slow in the right position, a lead is on the wrong place, a part "
                          "is faulty, or something drags.",
                          showed, step);
            break;
        }
        hp_phrase_add(reason, "At full throttle it %s. %s No gentle run makes up for that.", showed,
                      hp_failed_cause_words(&advice->failed));
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
        hp_phrase_add(reason,
                      "The controller's own learning ended well, but nothing shows what "
                      "the motor draws%s.",
                      advice->number > 0 ? ""
                                         : ", and the log does not say which leads are joined");
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
                              "doubt: a figure of it is not as expected; its step in the list "
                              "of commissioning says which. Run it once more; a slip is gone "
                              "then, and what stays wants a cause.");
        break;
    case HP_WHY_RAN_SOME_WAY:
        hp_phrase_add(reason, "The no-load run had the speed and the current of a wiring that runs "
                              "smoothly. Nobody noted which way the wheel turned: a reverse wiring "
                              "runs the same, backward.");
        break;
    case HP_WHY_CONTRARY:
        hp_phrase_add(reason, "It ran forward and drew little current, but a reading made since "
                              "does not fit that. Find out which of the two is wrong, or mend what "
                              "the reading found; then run it once more.");
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
    case HP_WHY_UNSENSED:
        hp_phrase_add(reason,
                      "%s Their order comes from readings at the hub, and none that can be taken "
                      "here is left.",
                      hp_unsensed_words);
        break;
    case HP_WHY_UNPOWERED:
        hp_phrase_add(reason,
                      "No wiring can be tried here, and nothing that can be measured here is "
                      "worth its effort any more.");
        break;
    case HP_WHY_PART: hp_phrase_add(reason, "No wiring can be correct as things are."); break;
    case HP_WHY_BEFORE_END:
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

/* Whether a run that is felt is all that can be had here, and nobody has made it. */
static bool is_to_be_felt(const hp_plan_params *plan, const hp_advice *advice)
{
    return hp_plan_is_unmetered(plan) && advice->felt == 0 &&
           (advice->why == HP_WHY_UNMETERED || advice->why == HP_WHY_LEARNT);
}

/* A wiring that nothing has shown the current of, and no meter here that could. */
static void how_to_find_current(const hp_card_context *context, const hp_advice *advice,
                                hp_card *words)
{
    char limit[HP_NUMBER_WORDS], position[HP_STEP_WORDS];
    hp_card_how(
        words,
        "Find out what it draws at %.3g %% throttle%s: borrow a meter for the battery lead, "
        "or run it behind a limit of about %s A and see whether it leaves it.",
        100.0 * context->plan->throttle, hp_card_speed_step(context, position, sizeof position),
        hp_card_number(advice->limit_a, limit, sizeof limit));
    hp_card_doing(words, HP_DOING_BATTERY | HP_DOING_THROTTLE);
    hp_card_detail(words, "Run it for half a minute, too, and feel whether hub, leads or "
                          "controller grow warm. They must not.");
}

/* A lead or sensor that is faulty now and then shows at some places only. */
static const char *start_from_all(const hp_plan_params *plan, char *out, size_t size)
{
    snprintf(out, size, "%s", "");
    if (plan->starts > 1)
        snprintf(out, size, ", then start it from %d start positions in all", plan->starts);
    return out;
}

/* "throttle at 35 %". */
static char *how_far(const hp_plan_params *plan, char *out, size_t size)
{
    if (hp_plan_by_pedals(plan))
        snprintf(out, size, "%s", hp_drive_words_of(plan)->gently);
    else
        snprintf(out, size, "throttle at %.3g %%", 100.0 * plan->throttle);
    return out;
}

static void how_to_check(const hp_card_context *context, bool full, hp_card *words)
{
    char all[64];
    start_from_all(context->plan, all, sizeof all);
    const char *read = what_to_read(context->plan);
    char position[HP_STEP_WORDS], at[120];
    hp_card_speed_step(context, position, sizeof position);
    if (read && full) {
        hp_card_how(words, "Battery on behind its fuse, %s%s: read %s when it has settled%s.",
                    hp_drive_words_of(context->plan)->up_to_full, position, read, all);
        if (hp_plan_by_pedals(context->plan))
            hp_card_detail(words,
                           "It goes to the pedals' %.3g %% at once: all that this machine can be "
                           "asked for, and so its final check.",
                           100.0 * context->plan->assist);
        else
            hp_card_detail(words, "At full throttle the hand cannot be out.");
    } else if (read)
        hp_card_how(words, "Battery on behind its fuse, %s%s: read %s when it has settled%s.",
                    how_far(context->plan, at, sizeof at), position, read, all);
    else
        hp_card_how(words,
                    "Battery on behind its fuse, %s%s: run it for half a minute and feel whether "
                    "hub, leads or controller grow warm, or it cuts out. Neither may be%s.",
                    how_far(context->plan, at, sizeof at), position, all);
    hp_card_doing(words, HP_DOING_BATTERY | HP_DOING_THROTTLE);
}

/* The check was made: nothing is left but to close it up. */
static void say_checked(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char bands[240];
    hp_card_full_bands(context->plan, advice, bands, sizeof bands);
    hp_card_how(words, "Battery off, insulate and seal every joint, write the sheet for the "
                       "machine; the fuse at the battery stays in.");
    HP_CARD_SET(words->healthy, "Without load: %s.", bands);
    HP_CARD_SET(words->note, "What you read, on the sheet that stays with the machine.");
}

/* The band is where nine in ten right machines lie; what fails is above it, often far. */
static char *say_most(const hp_advice *advice, char *out, size_t size)
{
    char high[HP_NUMBER_WORDS], most[HP_NUMBER_WORDS];
    hp_card_number(advice->full_most_a, most, sizeof most);
    hp_card_number(advice->full_current_a.high, high, sizeof high);
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "Above %s A do not ride it", most);
    if (strcmp(high, most) != 0)
        hp_phrase_add(&p, "; between %s and %s A measure again, log it, and ask again", high, most);
    hp_phrase_add(&p, ".");
    return out;
}

/* What the bands mean for whoever reads them. */
static void say_bands(const hp_plan_params *plan, const hp_advice *advice, bool full,
                      hp_card *words)
{
    char bands[240], most[160];
    bool some_way = advice->why == HP_WHY_RAN_SOME_WAY;
    hp_card_context context = {.plan = plan};
    if (full)
        hp_card_full_bands(plan, advice, bands, sizeof bands);
    else
        hp_card_bands(&context, advice, bands, sizeof bands);
    if (!bands[0])
        return;
    hp_phrase p = hp_phrase_begin(words->healthy, sizeof words->healthy);
    hp_phrase_add(&p, "Without load: %s.", bands);
    if (plan->ammeter)
        hp_phrase_add(&p, " %s Less current is no fault.",
                      full ? say_most(advice, most, sizeof most)
                           : "Above that do not ride it: measure again, log it, and ask again.");
    else
        hp_phrase_add(&p, " Outside of that do not ride it: measure again, log it, and ask again.");
    hp_phrase_add(&p, "%s", some_way ? " The wheel turns forward." : "");
}

static void say_check(const hp_card_context *here, const hp_advice *advice, hp_card *words)
{
    /* What is left to be told wants a meter that is borrowed for it. */
    hp_plan_params plan = *here->plan;
    hp_card_context borrowed = *here, *context = &borrowed;
    plan.ammeter = plan.ammeter || advice->felt > 0;
    context->plan = &plan;
    const char *read = what_to_read(&plan);
    bool felt = is_to_be_felt(here->plan, advice);
    bool probably = advice->kind == HP_ADVICE_PROBABLY && advice->why != HP_WHY_UNMETERED && !felt;
    bool full = hp_card_full_check(&plan, advice);
    hp_card_how_to_make_ready(context, words);
    if (probably && !plan.ammeter && !full)
        how_to_find_current(context, advice, words);
    else
        how_to_check(context, full, words);
    hp_card_how_to_stop(context, words);
    say_bands(&plan, advice, full, words);
    if (advice->why != HP_WHY_CHECK_FAILED)
        hp_card_how(
            words, "%s",
            !words->healthy[0] ? "Battery off. Log it, and ask again; seal nothing yet."
            : advice->plug == HP_PLUG_OWED
                ? "Was it as below? Battery off; seal nothing yet. Log it: the Hall plug is "
                  "pulled next, to see whether the motor still turns."
                : "Was it as below? Battery off, insulate and seal every joint; the fuse "
                  "at the battery stays in.");
    if (felt)
        HP_CARD_SET(words->healthy, "Hub, leads and controller stay cool, and nothing cuts out.");
    bool count = plan.starts > 1;
    if (advice->why == HP_WHY_CHECK_FAILED)
        HP_CARD_SET(words->note,
                    "What you read, as a trial at %.3g %% throttle%s, and whether anything "
                    "grew warm or cut out: only what speaks of that very thing takes it "
                    "back.",
                    100.0 * hp_plan_full(&plan),
                    count ? ", from how many start positions it started" : "");
    else
        HP_CARD_SET(words->note, "%s%shether anything grew warm, and whether it cut out.",
                    read && count ? "What you read; from how many start positions it started; "
                    : read        ? "What you read; "
                    : count       ? "From how many start positions it started; "
                                  : "",
                    read || count ? "w" : "W");
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
    if (advice->number > 0 || advice->why == HP_WHY_CHECK_FAILED)
        return;
    hp_card_how(words, "Write down which Hall lead and which phase lead goes where, as they are "
                       "joined now; log the run below as a trial of that wiring.");
}

/* Nothing runs again before somebody has looked. */
static void how_to_find_why(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char position[HP_STEP_WORDS];
    if (hp_failed_step(context, &advice->failed, advice->full_wheel_rad_s)) {
        hp_card_how(words,
                    "Battery off%s, its plug well in; the wheel must turn freely by hand, and no "
                    "brake, tyre or lead may rub.",
                    hp_card_speed_step(context, position, sizeof position));
        return;
    }
    if (hp_failed_only(&advice->failed, HP_CHECK_STARTS)) {
        hp_card_how(words,
                    "Battery off, phase leads off: read the three pairs once more while another "
                    "hand bends the cable at the axle and at each plug. No reading may jump; so "
                    "with a turn by hand, the Hall supply on: no code may be missing.");
        hp_card_doing(words, HP_DOING_OHMS | HP_DOING_TURN | HP_DOING_HALL_POWER);
        return;
    }
    hp_card_how(words,
                "Battery off. Find out what it was first: %s, the three pairs of phase leads must "
                "read the same ohms.",
                advice->failed.entry[HP_CHECK_FAST] > 0
                    ? "the battery's volts and the label on the motor must be what the scenario "
                      "says"
                    : "the wheel must turn freely by hand, no brake, tyre or lead may rub, hub, "
                      "leads and controller must be cold again");
    hp_card_doing(words, HP_DOING_OHMS);
}

/* Whether a trial of the wiring noted what it draws. */
static bool current_was_read(const hp_commission *list, int number)
{
    for (int k = 0; k < list->given.entries; k++) {
        const hp_trial *t = hp_entry_trial(&list->given.entry[k]);
        if (t && hp_wiring_number(&t->wiring) == number && !isnan(t->battery_a))
            return true;
    }
    return false;
}

/* What would make an end surer than probable, of what was not read yet and can be; else what holds
 * it back. */
static void add_what_raises(const hp_card_context *context, const hp_advice *advice,
                            hp_phrase *reason)
{
    const hp_commission *list = context->commission;
    const hp_plan_params *plan = context->plan;
    const char *between = " What would make it surer: ";
    if (!list || advice->why == HP_WHY_CHECK_FAILED || advice->why == HP_WHY_CONTRARY ||
        advice->why == HP_WHY_RUN_DOUBTED)
        return;
    if (plan->ammeter && !current_was_read(list, advice->number)) {
        hp_phrase_add(reason, "%sthe battery current of a run", between);
        between = ", ";
    }
    if (advice->why == HP_WHY_UNMETERED || advice->felt > 0) {
        hp_phrase_add(reason, " ");
        hp_unmetered_words(list, reason);
        return;
    }
    /* What is joined is right as it is: no reading of the parts tells more of it. */
    if (advice->why == HP_WHY_LEARNT) {
        if (is_to_be_felt(plan, advice))
            hp_phrase_add(reason,
                          "%san entry of a run that says whether anything grew warm or cut "
                          "out",
                          between);
        else if (between[0] != ',')
            hp_phrase_add(reason, "%sa run with its battery current read", between);
        hp_phrase_add(reason, "; log it, and ask again.");
        return;
    }
    for (int k = 0; hp_readings[k]; k++) {
        const hp_reading *reading = hp_readings[k];
        if (!reading->settles || !(plan->allowed & hp_allow(reading)) ||
            hp_assess_last(&list->given, reading))
            continue;
        hp_phrase_add(reason, "%s%s", between, hp_reading_title(reading));
        between = ", ";
    }
    hp_phrase_add(reason, "%s",
                  between[0] == ',' ? "; log it, and ask again."
                                    : " Nothing that can be read here would make it surer: what "
                                      "holds it back are entries that do not fit one another.");
}

/* With a place for the wiring's number. */
static const char *numbered_title(const hp_card_context *context, const hp_advice *advice)
{
    if (advice->why == HP_WHY_CHECK_FAILED && advice->failed.entry[HP_CHECK_CURRENT] > 0)
        return "Do not ride wiring %d: it draws too much at full throttle";
    if (advice->why == HP_WHY_CHECK_FAILED && hp_failed_only(&advice->failed, HP_CHECK_STARTS))
        return "Do not ride wiring %d: it does not start from every place";
    if (advice->why == HP_WHY_CHECK_FAILED)
        return hp_failed_step(context, &advice->failed, advice->full_wheel_rad_s)
                   ? "Do not ride wiring %d yet: look at the speed switch, and run it again"
                   : "Do not ride wiring %d: at full throttle it runs as no correct one does";
    if (advice->why == HP_WHY_RAN)
        return "Wiring %d is probably correct: its no-load run says so";
    if (advice->why == HP_WHY_CONTRARY)
        return "Wiring %d is probably correct, but one reading does not fit it";
    if (advice->why == HP_WHY_RUN_DOUBTED)
        return "Wiring %d: its last no-load run is in doubt, run it once more";
    if (advice->why == HP_WHY_LEARNT && is_to_be_felt(context->plan, advice))
        return "Wiring %d, as the controller learnt it, is probably correct: run it for half a "
               "minute, and feel it";
    if (advice->why == HP_WHY_LEARNT && advice->felt == 0)
        return "Wiring %d, as the controller learnt it, is probably correct: check what it draws";
    if (advice->felt > 0)
        return "Wiring %d runs well, as far as it can be told without a meter";
    if (advice->why == HP_WHY_UNMETERED)
        return "Wiring %d is probably correct: run it for half a minute, and feel it";
    if (advice->kind == HP_ADVICE_PROBABLY)
        return "Wiring %d is probably correct: check what it draws";
    return advice->checked ? "Wiring %d is correct, and the final check says so"
                           : "Wiring %d is correct: make the final check";
}

void hp_card_say_done(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    char sure[32];
    bool probably = advice->kind == HP_ADVICE_PROBABLY;
    hp_phrase reason = hp_phrase_begin(words->reason, sizeof words->reason);
    if (advice->number > 0) {
        HP_CARD_SET(words->title, numbered_title(context, advice), advice->number);
        hp_card_add_why(context, advice, &reason);
        if (advice->why == HP_WHY_CHECK_FAILED)
            how_to_find_why(context, advice, words);
        if (advice->unread > 0 && !advice->checked)
            hp_phrase_add(&reason,
                          " Entry %d was a run at full throttle, but nobody read what it drew: "
                          "read the amperes, too.",
                          advice->unread);
        if (advice->why == HP_WHY_RAN && context->commission && context->commission->odd_entry)
            hp_phrase_add(&reason, " But the run at full throttle in entry %d was not as expected.",
                          context->commission->odd_entry);
        hp_phrase_add(&reason,
                      " %s likely correct. A wheel that turns freely, even faster, can still be "
                      "wired wrong: what it draws shows it.%s",
                      hp_card_percent(advice->certainty, sure, sizeof sure),
                      context->plan->ammeter || advice->checked || advice->felt > 0 ||
                              advice->why == HP_WHY_UNMETERED
                          ? ""
                          : " No ammeter here? A display of watts in the battery's lead will do: "
                            "watts divided by volts are amperes.");
        if (probably)
            add_what_raises(context, advice, &reason);
        if (advice->learnt > 0) {
            hp_phrase_add(&reason, " ");
            hp_learnt_words(advice->learnt, &reason);
        }
        hp_card_how_to_join(context, &advice->wiring, 0, words);
    } else {
        HP_CARD_SET(words->title, "%s", unnumbered_title(advice));
        hp_card_add_why(context, advice, &reason);
        if (advice->why == HP_WHY_CHECK_FAILED)
            how_to_find_why(context, advice, words);
        how_to_log_joined(advice, words);
    }
    if (advice->checked)
        say_checked(context, advice, words);
    else
        say_check(context, advice, words);
}
