/* Words of practice, sentence by sentence: see hubphase/report/case_words.h. */
#include "hubphase/report/case_words.h"

#include "decide/advise/nuisance.h"
#include "record/case/case_parts.h"
#include "report/words/advice_report.h"
#include "report/words/card_parts.h"
#include "report/words/case_card.h"
#include "report/words/words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *hp_practice_level_words(hp_practice_level level)
{
    switch (level) {
    case HP_PRACTICE_SOUND: return "Every part is good. Find a wiring that runs smoothly forward.";
    case HP_PRACTICE_FAULT:
        return "One part is faulty, or something touches or carries volts that must not. Find out "
               "what.";
    case HP_PRACTICE_SLIP:
        return "Every part is good. Somebody began before you and left a log, and one of its "
               "entries is wrong. Find out which.";
    case HP_PRACTICE_CLUTCH:
        return "A geared hub behind a one-way clutch; the clutch may slip. Find a wiring that runs "
               "smoothly forward, or say that the clutch slips.";
    case HP_PRACTICE_LEVELS: break;
    }
    return "";
}

char *hp_practice_counts_words(const hp_practice_case *c, char *out)
{
    const hp_practice *machine = hp_practice_case_machine(c);
    bool table = hp_practice_case_scenario(c)->bench.prior.table >= 0;
    bool slips = hp_practice_level_of(machine) == HP_PRACTICE_SLIP;
    hp_phrase p = hp_phrase_begin(out, HP_PRACTICE_WORDS);
    hp_phrase_add(&p, "How many wirings are left is counted as if you knew that the level is as "
                      "said");
    if (table)
        hp_phrase_add(&p, "%s that the controller's table is as stated", slips ? " and" : ",");
    if (!slips)
        hp_phrase_add(&p, " and that no reading is a slip");
    hp_phrase_add(&p, ". The advice does not know it: it works as at a bench, and is less sure.");
    return out;
}

/* ---- what may be wrong ----------------------------------------------------------------------- */

/* What it is, with a place for the lead where it is a matter of one; the same of no lead in
 * particular; what happens to who meets it with power on. */
static const struct {
    const char *of_lead, *of_any, *met;
} faults[HP_PRACTICE_FAULTS] = {
    [HP_PRACTICE_HALL_STUCK] = {"%s is stuck", "a Hall sensor is stuck: its lead never changes",
                                NULL},
    [HP_PRACTICE_HALL_INVERTED] = {"%s reads the wrong way round, as 60-degree sensors do",
                                   "a Hall sensor reads the wrong way round, as 60-degree sensors "
                                   "do",
                                   NULL},
    [HP_PRACTICE_PHASE_OPEN] = {"%s is broken", "a phase lead is broken", NULL},
    [HP_PRACTICE_SILENT] = {NULL, "something keeps the controller from driving", NULL},
    [HP_PRACTICE_CUTTING_OUT] = {NULL, "the battery's protection cuts out in every run", NULL},
    [HP_PRACTICE_LOOSE] = {NULL, "a lead makes contact only now and then", NULL},
    [HP_PRACTICE_CLUTCH_SLIPS] = {NULL, "the one-way clutch slips", NULL},
    [HP_PRACTICE_HALL_SUPPLY] = {NULL, "the Hall supply pins carry battery voltage",
                                 "A small pop: the Hall supply pins carried battery voltage, and "
                                 "all three Hall sensors were gone. New ones are in, and the pins "
                                 "now give what they should; that took an hour."},
    [HP_PRACTICE_ON_SHELL] = {NULL, "a lead touches the shell",
                              "A bang: a lead touched the shell, and the fuse went. The lead is "
                              "freed and a new fuse is in; that took an hour."},
    [HP_PRACTICE_PHASE_ON_HALL] = {NULL, "a phase lead touches a Hall lead",
                                   "A small pop: a phase lead touched a Hall lead, and that Hall "
                                   "sensor was gone. A new one is in and the lead is freed; that "
                                   "took an hour."},
};

char *hp_practice_fault_words(const hp_labels *labels, hp_practice_fault fault, int lead, char *out)
{
    int side = hp_practice_fault_side(fault);
    if (fault >= HP_PRACTICE_FAULTS)
        snprintf(out, HP_PRACTICE_WORDS, "every part is good");
    else if (side < 0 || lead < 0)
        snprintf(out, HP_PRACTICE_WORDS, "%s", faults[fault].of_any);
    else {
        hp_lead_names names = side == HP_PLUG_PHASE_U
                                  ? hp_card_phases(labels)
                                  : hp_lead_names_of(labels->motor_sensor, "Hall sensor");
        snprintf(out, HP_PRACTICE_WORDS, faults[fault].of_lead, names.full[lead]);
    }
    return out;
}

static const char *cause_words(hp_found cause)
{
    switch (cause) {
    case HP_FOUND_KEY: return "the key lead had no volts";
    case HP_FOUND_SUPPLY: return "the supply of throttle and Hall sensors was missing";
    case HP_FOUND_THROTTLE: return "the throttle was not at rest when it was switched on";
    case HP_FOUND_BRAKE: return "the brake input was active";
    case HP_FOUND_PEDAL: return "it stood in pedal mode";
    case HP_FOUND_CODE: return "the Hall code was none";
    case HP_FOUND_PROTECTION: return "the battery's protection tripped";
    case HP_FOUND_UNSAID:
    case HP_FOUND_NOTHING:
    case HP_FOUND_COUNT: break;
    }
    return "";
}

char *hp_practice_code_words(const hp_labels *labels, char *out)
{
    const hp_lead_names names = hp_card_sensors(labels);
    snprintf(out, HP_PRACTICE_WORDS, "Hall codes are read in the order %s, %s, %s.", names.bare[0],
             names.bare[1], names.bare[2]);
    return out;
}

/* ---- a step ---------------------------------------------------------------------------------- */

char *hp_practice_feed_words(const hp_practice_case *c, hp_practice_feed feed, char *out)
{
    const hp_wiring any = hp_wiring_from_number(1);
    const hp_practice *machine = hp_practice_case_machine(c);
    const hp_entry question = hp_practice_ask_trial(machine, &any, feed, hp_practice_case_limit(c));
    const hp_trial *t = &question.trial;
    double percent = 100.0 * t->throttle;
    switch (feed) {
    case HP_PRACTICE_LIMITED:
        if (t->feed == HP_FEED_LAMP)
            snprintf(out, HP_PRACTICE_WORDS,
                     "through a lamp that limits the current, %.3g %% "
                     "throttle",
                     percent);
        else
            snprintf(out, HP_PRACTICE_WORDS, "bench supply set to %.3g A, %.3g %% throttle",
                     t->limit_a, percent);
        break;
    case HP_PRACTICE_BATTERY:
        snprintf(out, HP_PRACTICE_WORDS, "the battery, %.3g %% throttle", percent);
        break;
    case HP_PRACTICE_FULL: snprintf(out, HP_PRACTICE_WORDS, "the battery, full throttle"); break;
    case HP_PRACTICE_FEEDS: out[0] = '\0'; break;
    }
    return out;
}

static char *entry_words(hp_practice_case *c, const hp_entry *entry, char *out)
{
    const hp_card_context context = hp_case_card_context(hp_practice_case_bench(c));
    return hp_entry_words(&context, entry, out, HP_PRACTICE_WORDS);
}

/* chosen: within two deviations a meter is nearly always; of less than twice that a reader must not
 * make a ratio. */
#define METER_OFF   2.0
#define METER_SMALL 2.0

/* What was read, and how far a small figure can be trusted. */
static char *seen_words(hp_practice_case *c, const hp_entry *entry, char *out)
{
    const hp_trial *t = hp_entry_trial(entry);
    double off = METER_OFF * hp_practice_case_scenario(c)->bench.person.current_zero_a;
    entry_words(c, entry, out);
    if (t && t->battery_a < METER_SMALL * off) {
        hp_phrase p = hp_phrase_resume(out, HP_PRACTICE_WORDS);
        hp_phrase_add(&p, "; the ammeter may be %.2g A off", off);
    }
    return out;
}

char *hp_practice_step_words(hp_practice_case *c, const hp_practice_step *step, char *out)
{
    return seen_words(c, &step->entry.entry, out);
}

char *hp_practice_step_name(hp_practice_case *c, const hp_practice_step *step, char *out)
{
    const hp_entry *e = &step->entry.entry;
    const hp_trial *t = hp_entry_trial(e);
    const hp_lead_names names = hp_card_phases(&hp_practice_case_scenario(c)->labels);
    if (t)
        snprintf(out, HP_PRACTICE_WORDS, "wiring %d, %s%s", hp_wiring_number(&t->wiring),
                 t->feed == HP_FEED_BENCH_SUPPLY ? "bench supply"
                 : t->feed == HP_FEED_LAMP       ? "lamp"
                                                 : "battery",
                 t->throttle >= HP_FULL_THROTTLE ? ", full throttle" : "");
    else if (e->reading->lead)
        snprintf(out, HP_PRACTICE_WORDS, "%s on %s", e->reading->title,
                 names.bare[e->reading->lead(e->values)]);
    else
        snprintf(out, HP_PRACTICE_WORDS, "%s", e->reading->title);
    return out;
}

static void unlimited_words(const hp_entry *shown, const hp_practice_risk *risk, char *out)
{
    hp_phrase p = hp_phrase_begin(out, HP_PRACTICE_WORDS);
    hp_phrase_add(&p, risk->kind == HP_RISK_FULL
                          ? "Full throttle, and nobody had seen this wiring run well. "
                          : "First power on this wiring came straight from the battery. ");
    if (!risk->met) {
        hp_phrase_add(&p, "This time nothing came of it.");
        return;
    }
    hp_phrase_add(&p, "Nothing held the current");
    if (!isnan(shown->trial.battery_a))
        hp_phrase_add(&p, ": %.1f A from the battery, and more in the winding",
                      shown->trial.battery_a);
    hp_phrase_add(&p, ". Left on, winding and controller overheat fast.");
}

char *hp_practice_risk_words(hp_practice_case *c, const hp_practice_step *step, int index,
                             char *out)
{
    const hp_practice_risk *risk = &step->risk[index];
    const hp_practice_truth truth = hp_practice_tell(hp_practice_case_machine(c));
    const hp_words *words = risk->check ? hp_words_of(risk->check) : NULL;
    out[0] = '\0';
    if (risk->kind != HP_RISK_UNCHECKED)
        unlimited_words(&step->entry.entry, risk, out);
    else if (risk->met && truth.fault < HP_PRACTICE_FAULTS && faults[truth.fault].met)
        snprintf(out, HP_PRACTICE_WORDS, "%s", faults[truth.fault].met);
    else if (words && words->unchecked)
        snprintf(out, HP_PRACTICE_WORDS, "%s", words->unchecked);
    return out;
}

char *hp_practice_left_words(const hp_practice_step *step, char *out)
{
    hp_phrase p = hp_phrase_begin(out, HP_PRACTICE_WORDS);
    if (step->broken)
        hp_phrase_add(&p, "Once what is faulty is mended, ");
    if (step->left == HP_WIRING_COUNT)
        hp_phrase_add(&p, "%s 36 wirings can still be correct.", step->broken ? "all" : "All");
    else
        hp_phrase_add(&p, "%d of the 36 wirings can still be correct.", step->left);
    return out;
}

/* ---- what each step told --------------------------------------------------------------------- */

/* What the last entry told that the bench holds, while the advice stood where it stands after it:
 * so the end says of a step what was said when it was taken. */
static hp_result told_newest(hp_practice_case *c, char *out, hp_error *err)
{
    hp_case *bench = hp_practice_case_bench(c);
    const hp_belief *counted = hp_practice_case_counted(c);
    const hp_card_context context = hp_case_card_context(bench);
    hp_standing_course course;
    hp_advice advice;
    out[0] = '\0';
    hp_result result = hp_case_advise(bench, false, &advice, err);
    if (result == HP_OK)
        result = hp_standing_course_make(counted, 1.0, &course, err);
    if (result != HP_OK)
        return result;
    const hp_advice_report report = {
        .context = &context, .belief = counted, .advice = &advice, .course = &course};
    hp_advice_meant(&report, counted->entries, out, HP_PRACTICE_WORDS);
    hp_standing_course_free(&course);
    return HP_OK;
}

hp_result hp_practice_told(hp_practice_case *c, hp_practice_who who,
                           char (*told)[HP_PRACTICE_WORDS], hp_error *err)
{
    const hp_practice_path *path = hp_practice_case_path(c, who);
    hp_result result = HP_OK;
    for (int k = 0; k < path->steps && result == HP_OK; k++) {
        result = hp_practice_case_show_then(c, who, k, err);
        if (result == HP_OK)
            result = told_newest(c, told[k], err);
        hp_phrase p = hp_phrase_resume(told[k], HP_PRACTICE_WORDS);
        if (path->step[k].number == 0)
            hp_phrase_add(&p, " You took it out of the log.");
    }
    return result == HP_OK ? hp_practice_case_show(c, who, err) : result;
}

char *hp_practice_told_last(hp_practice_case *c, char *out)
{
    const hp_practice_path *path = hp_practice_case_path(c, HP_PRACTICE_LEARNER);
    bool there = path->steps > 0 && path->step[path->steps - 1].number > 0;
    out[0] = '\0';
    if (there)
        told_newest(c, out, NULL);
    return out;
}

/* ---- the end --------------------------------------------------------------------------------- */

const char *hp_practice_end_word(hp_practice_end end)
{
    switch (end) {
    case HP_END_RIGHT: return "right";
    case HP_END_MISSED_FAULT:
    case HP_END_MISSED_SLIP:
    case HP_END_OTHER_LEAD: return "half right";
    case HP_END_WRONG: break;
    }
    return "wrong";
}

char *hp_practice_answer_words(const hp_practice_case *c, hp_practice_who who, char *out)
{
    const hp_practice_answer *a = &hp_practice_case_path(c, who)->answer;
    const hp_labels *labels = &hp_practice_case_scenario(c)->labels;
    switch (a->claim) {
    case HP_CLAIM_WIRING:
        snprintf(out, HP_PRACTICE_WORDS, "wiring %d is correct", a->number);
        break;
    case HP_CLAIM_FAULT: hp_practice_fault_words(labels, a->fault, a->lead, out); break;
    case HP_CLAIM_SLIP: snprintf(out, HP_PRACTICE_WORDS, "entry %d is wrong", a->number + 1); break;
    case HP_CLAIM_NOTHING: snprintf(out, HP_PRACTICE_WORDS, "not found"); break;
    }
    return out;
}

/* "wirings 2, 24 and 27 run smoothly forward". */
static void add_wirings(hp_phrase *p, const hp_practice_truth *truth)
{
    hp_phrase_add(p, "wirings %d, %d and %d run smoothly forward", truth->right[0], truth->right[1],
                  truth->right[2]);
}

static void add_fault(hp_phrase *p, const hp_labels *labels, const hp_practice_truth *truth)
{
    char fault[HP_PRACTICE_WORDS];
    hp_phrase_add(p, "%s", hp_practice_fault_words(labels, truth->fault, truth->lead, fault));
    if (truth->fault == HP_PRACTICE_HALL_STUCK)
        hp_phrase_add(p, " at %d", truth->high);
    if (truth->fault == HP_PRACTICE_SILENT)
        hp_phrase_add(p, " (%s)", cause_words(truth->cause));
}

char *hp_practice_truth_words(hp_practice_case *c, char *out)
{
    char said[HP_PRACTICE_WORDS], seen[HP_PRACTICE_WORDS];
    const hp_practice *machine = hp_practice_case_machine(c);
    const hp_practice_truth truth = hp_practice_tell(machine);
    int slipped = hp_practice_slipped(machine);
    hp_phrase p = hp_phrase_begin(out, HP_PRACTICE_WORDS);
    if (truth.fault < HP_PRACTICE_FAULTS) {
        hp_phrase_add(&p, "Hidden was this: ");
        add_fault(&p, &hp_practice_case_scenario(c)->labels, &truth);
        hp_phrase_add(&p, ". Once that is mended, ");
    } else {
        hp_phrase_add(&p, "Every part is good: ");
    }
    add_wirings(&p, &truth);
    hp_phrase_add(&p, ".");
    if (slipped < 0)
        return out;
    hp_phrase_add(&p, " Entry %d was wrong. It said: %s. There was this to see: %s.", slipped + 1,
                  entry_words(c, hp_practice_given_entry(machine, slipped), said),
                  entry_words(c, hp_practice_true_entry(machine), seen));
    return out;
}

/* What the wrong wiring does, as the machine would have shown it; none is tried that would destroy
 * something. */
static void add_shown(hp_practice_case *c, hp_practice_who who, hp_phrase *p)
{
    const hp_practice_path *path = hp_practice_case_path(c, who);
    char shown[HP_PRACTICE_WORDS];
    const hp_practice *machine = hp_practice_case_machine(c);
    const hp_wiring wiring = hp_wiring_from_number(path->answer.number);
    const hp_practice_look none = {NULL, 0};
    if (hp_practice_case_in_danger(c, who)) {
        hp_phrase_add(p, " It is not tried: %s, and power would destroy something.",
                      faults[hp_practice_tell(machine).fault].of_any);
        return;
    }
    hp_entry question =
        hp_practice_ask_trial(machine, &wiring, HP_PRACTICE_LIMITED, hp_practice_case_limit(c));
    if (hp_practice_see(machine, &none, &question, NULL) == HP_OK)
        hp_phrase_add(p, " Tried gently, it shows this: %s.", seen_words(c, &question, shown));
}

static void add_right(const hp_practice_path *path, const hp_practice_truth *truth, int slipped,
                      hp_phrase *p)
{
    if (path->answer.claim == HP_CLAIM_WIRING && truth->fault < HP_PRACTICE_FAULTS)
        hp_phrase_add(p, " What was wrong with the machine was found and mended on the way.");
    if (path->answer.claim == HP_CLAIM_WIRING && slipped >= 0)
        hp_phrase_add(p, " The wrong entry, number %d, had been taken out.", slipped + 1);
}

char *hp_practice_end_words(hp_practice_case *c, hp_practice_who who, char *out)
{
    char answer[HP_PRACTICE_WORDS];
    const hp_practice_path *path = hp_practice_case_path(c, who);
    const hp_practice *machine = hp_practice_case_machine(c);
    const hp_practice_truth truth = hp_practice_tell(machine);
    int slipped = hp_practice_slipped(machine);
    hp_phrase p = hp_phrase_begin(out, HP_PRACTICE_WORDS);
    hp_practice_answer_words(c, who, answer);
    if (path->answer.claim == HP_CLAIM_NOTHING) {
        hp_phrase_add(&p, "No answer was given.");
        return out;
    }
    switch (path->end) {
    case HP_END_RIGHT:
        hp_phrase_add(&p, "Right: %s.", answer);
        add_right(path, &truth, slipped, &p);
        break;
    case HP_END_MISSED_FAULT:
        hp_phrase_add(&p, "Half right: wiring %d is correct, but not all parts are good: ",
                      path->answer.number);
        add_fault(&p, &hp_practice_case_scenario(c)->labels, &truth);
        hp_phrase_add(&p, ".");
        break;
    case HP_END_MISSED_SLIP:
        hp_phrase_add(&p,
                      "Half right: wiring %d is correct, but entry %d of the log is wrong and "
                      "still in it.",
                      path->answer.number, slipped + 1);
        break;
    case HP_END_OTHER_LEAD:
        hp_phrase_add(&p, "Half right: that is the fault, but on another lead.");
        break;
    case HP_END_WRONG:
        hp_phrase_add(&p, "Wrong: it is not so that %s.", answer);
        if (path->answer.claim == HP_CLAIM_WIRING)
            add_shown(c, who, &p);
        break;
    }
    return out;
}
