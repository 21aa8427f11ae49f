/* Why the list of commissioning is where it is, in sentences: see case_words.h. */
#include "hubphase/report/case_words.h"

#include "decide/reading/reading.h"
#include "report/words/again_words.h"
#include "report/words/card_parts.h"
#include "report/words/control_words.h"
#include "report/words/drive_words.h"
#include "report/words/fit_words.h"
#include "report/words/guard_words.h"
#include "report/words/words.h"
#include "report/words/words_running.h"

#include <ctype.h>

/* What words of a reading or a danger are told of: nothing of the plug, and no wiring joined. */
static hp_card_context context_of(const hp_commission *list)
{
    return (hp_card_context){.drive = list->given.drive,
                             .labels = list->given.labels,
                             .plan = list->given.plan,
                             .commission = list};
}

/* Whether an open step needs a wheel that runs. */
static bool waits_for_wiring(const hp_commission *list)
{
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        if (step->concerns && !step->possible && !step->left_out && !step->entry)
            return true;
    }
    return false;
}

/* What power would harm, where nobody has looked for it: what must come before the first ride, and
 * what could not be looked for. */
static void add_unguarded(const hp_commission *list, hp_phrase *p)
{
    char text[400];
    hp_phrase words = hp_phrase_begin(text, sizeof text);
    if (hp_unguarded_words(list, false, &words)) {
        text[0] = (char)toupper((unsigned char)text[0]);
        hp_phrase_add(p, " %s: do that, and log it, before the first ride.", text);
    }
    words = hp_phrase_begin(text, sizeof text);
    if (hp_unguarded_words(list, true, &words))
        hp_phrase_add(p, " Mind that %s.", text);
}

/* The steps of which not all was tried, after one another; and what nobody looked at. */
static void add_part(const hp_commission *list, hp_phrase *p)
{
    bool left = false, part = false;
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        left = left || (step->left_out && step->concerns);
        if (step->part)
            hp_phrase_add(p, "%s%s", part ? ", " : ", but not all was measured or tried of ",
                          hp_reading_title(step->reading));
        part = part || step->part;
    }
    hp_phrase_add(p, ".");
    if (part)
        hp_phrase_add(p,
                      " What is missing stands at each, under \"Not all was\": try it before the "
                      "first ride.");
    if (left)
        hp_phrase_add(p, " What is marked \"left out\" nobody has looked at.");
}

/* No step is open: they are done or left out. */
static const char *all_done(const hp_commission *list)
{
    int done;
    (void)hp_commission_count(list, &done);
    return hp_commission_left_out(list) == 0 ? "every step is done"
           : done > 0                        ? "every step that can be done here is done"
                                             : "every step was left out";
}

/* Where some steps were left out, or all of them. */
static void add_left(const hp_commission *list, hp_phrase *p)
{
    const char *all = all_done(list);
    int done;
    (void)hp_commission_count(list, &done);
    hp_phrase_add(p, "%c%s%s", toupper((unsigned char)all[0]), all + 1,
                  done > 0 ? ", and nothing was found. What is marked \"left out\" nobody has "
                             "looked at."
                           : ": nobody has looked at what they are about.");
}

/* What is not there and would stop the drive in need, a sentence each. */
static void add_lacking(const hp_commission *list, const char *begin, hp_phrase *p)
{
    bool first = true;
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        const hp_words *own = step->lacks ? hp_words_of(step->reading) : NULL;
        if (!own || !own->without)
            continue;
        hp_phrase_add(p, "%s%s.", first ? begin : " And without ", own->without);
        first = false;
    }
}

static bool is_mended_since(const hp_commission_step *step)
{
    return step->other && !step->other_wiring && !step->other_failed;
}

/* "Open again, since a part was mended after them: key (entry 14), ..."; of one step nothing. */
static bool add_mended_since(const hp_commission *list, hp_phrase *p)
{
    int count = 0;
    for (int k = 0; k < list->steps; k++)
        count += is_mended_since(&list->step[k]);
    if (count < 2)
        return false;
    hp_phrase_add(p, "%sOpen again, since a part was mended after them:", p->used > 0 ? " " : "");
    for (int k = 0, told = 0; k < list->steps; k++)
        if (is_mended_since(&list->step[k]))
            hp_phrase_add(p, "%s %s (entry %d)", told++ ? "," : "",
                          hp_reading_title(list->step[k].reading), list->step[k].other);
    hp_phrase_add(p, ".");
    return true;
}

/* "The no-load run is open again: ...", a sentence for each such step. */
static void add_open_again(const hp_commission *list, hp_phrase *p)
{
    bool told = add_mended_since(list, p);
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        if (!step->other || (told && is_mended_since(step)))
            continue;
        hp_phrase_add(p, "%sThe %s is open again: entry %d was made ", p->used > 0 ? " " : "",
                      hp_reading_title(step->reading), step->other);
        if (step->other_wiring)
            hp_phrase_add(p, "with wiring %d, and wiring %d was joined since.", step->other_wiring,
                          step->joined);
        else if (step->other_failed)
            hp_phrase_add(p, "before the wheel did not turn as it ought to in entry %d.",
                          step->other_failed);
        else
            hp_phrase_add(p, "before a part was mended.");
    }
}

/* What a mend leaves to be done that no open step asks for. */
static void add_mend_notes(const hp_commission *list, hp_phrase *p)
{
    int count = 0;
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        if (!step->may_be_old)
            continue;
        if (count++ == 0)
            hp_phrase_add(p,
                          "%sEntry %d does not say which part was mended. Was it one that these "
                          "steps look at, do them once more: ",
                          p->used > 0 ? " " : "", list->unnamed->number);
        hp_phrase_add(p, "%s%s (entry %d)", count > 1 ? ", " : "", hp_reading_title(step->reading),
                      step->entry->number);
    }
    if (count)
        hp_phrase_add(p, ".");
    if (list->battery)
        hp_phrase_add(p,
                      "%sThe battery of entry %d is another one: state its volts, cells and "
                      "amperes, and see whether it goes with the other parts, before it is joined.",
                      p->used > 0 ? " " : "", list->battery->number);
    if (list->exchanged) {
        hp_phrase_add(p, "%sThe controller of entry %d is another one. ", p->used > 0 ? " " : "",
                      list->exchanged->number);
        hp_exchanged_words(p);
    }
}

/* What grew warm or cut out in the newest run, if nothing was mended since. */
static void add_warning(const hp_commission *list, hp_phrase *p)
{
    int runs;
    const hp_entry *last = hp_assess_warned(&list->given, &runs);
    if (!last)
        return;
    hp_phrase_add(p, " ");
    hp_warning_words(last, p);
}

static void add_growl(const hp_commission *list, hp_phrase *p)
{
    if (list->growl_entry == 0)
        return;
    hp_phrase_add(p, " ");
    hp_growl_words(list->growl_entry, p);
}

/* "full throttle", or what the pedals give where there is no throttle. */
static const char *asked_of(const hp_commission *list, char asked[HP_ASKED_WORDS])
{
    return hp_full_words(hp_plan_full(list->given.plan), asked, HP_ASKED_WORDS);
}

/* A wiring that is taken for right by gentle runs alone. */
static void add_unproved(const hp_commission *list, hp_phrase *p)
{
    char asked[HP_ASKED_WORDS];
    if (!list->wired || list->proved)
        return;
    hp_phrase_add(p, " ");
    if (list->unmetered)
        hp_unmetered_words(list, p);
    else
        hp_phrase_add(p,
                      "No run at %s has borne out the wiring: make the final check that the advice "
                      "ends with, before it is ridden.",
                      asked_of(list, asked));
}

/* A run at full throttle that is neither as it ought to be nor a failure. */
static void add_odd(const hp_commission *list, hp_phrase *p)
{
    char amperes[HP_RANGE_WORDS], speed[HP_RANGE_WORDS], asked[HP_ASKED_WORDS];
    const hp_band a = list->full_current_a, w = list->full_wheel_rad_s;
    add_growl(list, p);
    if (list->odd_entry)
        hp_phrase_add(p,
                      " The run at %s in entry %d was not as expected, %s A and %s rev/min: feel "
                      "what drags, and run it once more.",
                      asked_of(list, asked), list->odd_entry,
                      hp_card_range(a.low, a.high, amperes, sizeof amperes),
                      hp_card_range(w.low / HP_RPM, w.high / HP_RPM, speed, sizeof speed));
}

/* What the scenario states otherwise: one of the two is wrong, whatever else is to be done. */
static void add_gainsaid(const hp_commission *list, hp_phrase *p)
{
    const hp_card_context context = context_of(list);
    if (!list->gainsaid)
        return;
    hp_phrase_add(p, "%s", p->used > 0 ? " " : "");
    hp_gainsaid_words(&context, list->gainsaid, p);
}

/* What the runs of this machine do not say, or may not. */
static void add_unsensed(const hp_commission *list, hp_phrase *p)
{
    static const char *const untold[] = {[HP_PLUG_SETTLED] = NULL,
                                         [HP_PLUG_OWED] = hp_plug_owed_words,
                                         [HP_PLUG_UNTRIED] = hp_plug_untried_words};
    const char *words = list->unsensed ? hp_unsensed_words : untold[list->plug];
    if (words)
        hp_phrase_add(p, "%s%s", p->used > 0 ? " " : "", words);
    if (list->plug_pulled)
        hp_phrase_add(p, " %s", hp_plug_out_words);
    if (list->plug_pulled && list->why == HP_COMMISSION_LEFT)
        hp_phrase_add(p, " Start gently: it may jerk under load.");
}

/* What is to be measured again and is marked at no step. */
static void add_again(const hp_commission *list, hp_phrase *p)
{
    if (list->contrary) {
        hp_phrase_add(p, " ");
        hp_contrary_words(list->contrary, p);
    }
    add_gainsaid(list, p);
    if (list->doubt.entry && hp_reading_stage(list->doubt.entry->reading) == HP_STAGE_WIRING) {
        hp_phrase_add(p, " ");
        hp_doubt_words(&list->doubt, p);
    }
}

/* "fit says stop for Battery and controller (battery full 67 V, controller takes 63 V)". */
static void add_fit(const hp_commission *list, int from, int to, const char *begin, hp_phrase *p)
{
    char figures[300];
    for (int k = from; k < to; k++) {
        const hp_fit_line *line = &list->given.fit->line[list->fit_stop[k]];
        const hp_fit_rule_words *w = hp_fit_words_of(line->rule);
        hp_phrase_add(p, "%s%s%s%s%s", k > from ? "; " : begin, w->title, line->figures ? " (" : "",
                      hp_fit_figures_text(line, figures, sizeof figures), line->figures ? ")" : "");
    }
}

/* Whatever comes next: it is known now. */
void hp_fit_beside_words(const hp_commission *list, hp_phrase *p)
{
    if (list->fit_stops_power == 0)
        return;
    add_fit(list, 0, list->fit_stops_power,
            p->used > 0 ? " Fit says stop: " : "Fit says stop: ", p);
    hp_phrase_add(p, ". Put that right before the battery is joined.");
}

/* What no lifted wheel meets. */
static void add_fit_of_road(const hp_commission *list, hp_phrase *p)
{
    if (list->fit_stops == list->fit_stops_power)
        return;
    add_fit(list, list->fit_stops_power, list->fit_stops,
            p->used > 0 ? " Of the ride fit says stop: " : "Of the ride fit says stop: ", p);
    hp_phrase_add(p, ".");
}

/* Beside what some steps found: what no step says. */
static void add_what_stays(const hp_commission *list, hp_phrase *p)
{
    add_unproved(list, p);
    add_mend_notes(list, p);
    add_odd(list, p);
    add_again(list, p);
    add_unsensed(list, p);
    add_unguarded(list, p);
    add_lacking(list, " It is without ", p);
}

/* What no step measures. */
#define OTHER_CHECKS                                                                               \
    "Look at the two other checks before a ride: whether the parts go together (fit: battery, "    \
    "fuse, "                                                                                       \
    "leads, axle, heat), and what comes of a lead or lever that fails (controls)."

char *hp_commission_why_words(const hp_commission *list, char *out, size_t size)
{
    const hp_card_context context = context_of(list);
    char asked[HP_ASKED_WORDS];
    hp_phrase p = hp_phrase_begin(out, size);
    switch (list->why) {
    case HP_COMMISSION_GOES_ON:
        add_open_again(list, &p);
        add_mend_notes(list, &p);
        add_gainsaid(list, &p);
        hp_fit_beside_words(list, &p);
        add_unsensed(list, &p);
        break;
    case HP_COMMISSION_STOPPED:
        hp_phrase_add(&p,
                      "Stop: mend what the step \"%s\" found, then measure it again. No other step "
                      "before that.",
                      hp_reading_title(list->step[list->next].reading));
        break;
    case HP_COMMISSION_DANGER: {
        hp_card card;
        hp_danger_words(&context, list->danger, &card);
        hp_phrase_add(&p, "%s (entry %d). %s No step before it is mended and measured again.",
                      card.title, list->danger_entry, card.reason);
        break;
    }
    case HP_COMMISSION_CHECK: {
        char showed[HP_FAILED_WORDS];
        hp_phrase_add(&p, "Do not ride, and do no other step: at %s it %s.", asked_of(list, asked),
                      hp_failed_check_words(&list->failed, list->full_most_a,
                                            list->full_wheel_rad_s, showed, sizeof showed));
        hp_add_failed_step(&context, &list->failed, list->full_wheel_rad_s, &p);
        hp_phrase_add(
            &p,
            " %s The advice says how to go on. A mend of what did it takes this back, or a run at "
            "%s that says otherwise of that very thing: log with it whether anything grew warm or "
            "cut out.",
            hp_failed_cause_words(&list->failed), asked);
        break;
    }
    case HP_COMMISSION_WIRING:
        if (list->way_unsaid && !waits_for_wiring(list)) {
            hp_phrase_add(&p, "Not ready: the log does not say which way the wheel turned. Look, "
                              "and log the no-load run once more with it, or a trial.");
            break;
        }
        if (list->against) {
            hp_phrase_add(
                &p,
                "Find the wiring first: another one than the one joined ran well in entry "
                "%d, and they cannot both be correct. The advice says how.",
                list->against);
            break;
        }
        if (list->unmetered) {
            hp_phrase_add(&p, "What is left runs the motor, and one gentle run proves no wiring. ");
            hp_unmetered_words(list, &p);
        } else if (list->wired)
            hp_phrase_add(&p,
                          "What is left runs the motor, and one gentle run proves no wiring: "
                          "first the run at %s that the advice ends with, logged as a trial or as "
                          "the no-load run.",
                          asked_of(list, asked));
        else
            hp_phrase_add(&p, "%s find the wiring first. The advice says how.",
                          waits_for_wiring(list)
                              ? "What is left needs a wheel that runs:"
                              : "Not ready: the log does not end with a wheel that runs smoothly "
                                "forward;");
        add_mend_notes(list, &p);
        add_warning(list, &p);
        add_growl(list, &p);
        hp_fit_beside_words(list, &p);
        add_unsensed(list, &p);
        break;
    case HP_COMMISSION_FIT:
        hp_phrase_add(&p, "Do not ride: %s, but the parts do not go together", all_done(list));
        add_fit(list, 0, list->fit_stops, ". Fit says stop: ", &p);
        hp_phrase_add(&p,
                      ". The check of the parts (fit) says what to do. What is marked \"look\" or "
                      "\"left out\" stays so.");
        add_what_stays(list, &p);
        break;
    case HP_COMMISSION_LOOK:
        hp_phrase_add(&p,
                      "Not ready: %s, and what is marked \"look\" wants mending, or measuring "
                      "again, before the machine is ridden.",
                      all_done(list));
        add_what_stays(list, &p);
        hp_phrase_add(&p, " " OTHER_CHECKS);
        break;
    case HP_COMMISSION_PART:
        hp_phrase_add(&p, "Not ready yet: nothing was found");
        add_part(list, &p);
        add_unproved(list, &p);
        add_unsensed(list, &p);
        add_mend_notes(list, &p);
        add_unguarded(list, &p);
        add_lacking(list, " The machine is without ", &p);
        break;
    case HP_COMMISSION_READY:
        hp_phrase_add(&p, "Every step is done, and nothing was found in them that speaks against a "
                          "first ride.");
        add_unsensed(list, &p);
        hp_phrase_add(&p, " " OTHER_CHECKS);
        add_mend_notes(list, &p);
        break;
    case HP_COMMISSION_LACKING:
        hp_phrase_add(&p, "Every step is done, and nothing was found. ");
        add_lacking(list, "Ready, but without ", &p);
        add_unsensed(list, &p);
        add_mend_notes(list, &p);
        hp_phrase_add(&p, " " OTHER_CHECKS);
        break;
    case HP_COMMISSION_LEFT:
        add_left(list, &p);
        add_unsensed(list, &p);
        add_mend_notes(list, &p);
        add_unguarded(list, &p);
        add_lacking(list, " The machine is without ", &p);
        hp_phrase_add(&p, " " OTHER_CHECKS);
        break;
    case HP_COMMISSION_WHY_COUNT: break;
    }
    return out;
}

void hp_add_left_out(const hp_commission *list, hp_phrase *p)
{
    int left = hp_commission_left_out(list);
    if (left > 0)
        hp_phrase_add(p, ", %d left out", left);
}

char *hp_commission_after_words(const hp_commission *list, char *out, size_t size)
{
    int done, count = hp_commission_count(list, &done);
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "%d of %d steps of commissioning are done", done, count);
    hp_add_left_out(list, &p);
    if (list->next >= 0) {
        const hp_reading *next = list->step[list->next].reading;
        const char *menu = hp_reading_menu(next);
        hp_phrase_add(&p, "; next %s: %s", hp_reading_name(next), menu ? menu : next->title);
    }
    hp_phrase_add(&p, ".");
    hp_fit_beside_words(list, &p);
    add_fit_of_road(list, &p);
    return out;
}
