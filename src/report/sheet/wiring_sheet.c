/*
 * The wiring sheet's content: see the header.
 *
 * Which wirings are equal follows from the controller's table alone. Let the working wiring join
 * the motor's axes in the same even order on both sides (hypothesis.c); turning that order by a
 * common 120 degrees keeps it even and the same on both sides. For each wiring and table just one
 * of the 12 relations of a motor's leads makes it right, and the three wirings right for that
 * relation are equals. How surely the table is known is worked out in decide/advise/equals.c.
 */
#include "report/sheet/wiring_sheet.h"

#include "decide/reading/reading.h"
#include "hubphase/base/text.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "report/picture/picture_parts.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/again_words.h"
#include "report/words/card_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *const hp_sheet_usual_parts[] = {
    "Throttle",   "Pedal sensor", "Brake cut-offs", "Speed switch",
    "Key switch", "Battery",      "Battery fuse",   NULL};

const char hp_sheet_readings_note[] =
    "To tell a later fault by comparison. A dotted line was not measured: fill it in by hand. The "
    "three pairs should be alike; copper gains about 0.4 % of its resistance per kelvin. Speeds "
    "are the wheel's; "
    "no-load means lifted.";

const char hp_sheet_settings_note[] =
    "As the scenario states them; a dotted line was not stated, whatever the simulation assumed.";

const char hp_sheet_figures_note[] =
    "Learnt from all readings of the log together; in brackets what holds 90 times of 100.";
const char hp_sheet_steps_note[] = "Steps from joined leads to the first ride, from the bench log. "
                                   "What is marked look or stop was "
                                   "not in order when it was read last; noted: nothing was "
                                   "found, but it was not all tried, or nothing follows from it.";

const char hp_sheet_mends_note[] = "From the bench log. What was mended once may come loose again: "
                                   "look there first.";

/* The table as it was metered last; NULL: it was not. */
static const hp_entry *probe_of(const hp_sheet_source *source)
{
    for (int k = source->entries - 1; k >= 0; k--)
        if (source->entry[k].reading->by_table)
            return &source->entry[k];
    return NULL;
}

/* Whether this wiring ran at full throttle as no right one does, and nothing took it back; fills
 * `failed`. */
static bool fails(const hp_sheet_source *source, int number, hp_sheet_failed *failed)
{
    return hp_sheet_failed_check(source, failed) && failed->wiring == number;
}

/* The entry by which the controller learnt this wiring by itself, or what is joined (0); NULL: it
 * did not, or a run at full throttle says otherwise. */
static const hp_entry *learnt_of(const hp_sheet_source *source, int number)
{
    hp_sheet_failed failed;
    int of = 0, at = hp_learnt_at(source->entry, source->entries, &of);
    return at >= 0 && of == number && !fails(source, number, &failed) ? &source->entry[at] : NULL;
}

/* Both parts are made for 60-degree sensors. */
static bool is_alone(const hp_wiring_sheet *sheet)
{
    return sheet->equals.probability >= HP_EQUALS_KNOWN && sheet->equals.number[0] == 0;
}

const char *hp_sheet_equals_note(const hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    bool stated = sheet->equals.table == hp_table_index(&source->drive->controller.table);
    if (!sheet->wiring[0].number)
        return "Once the correct wiring is known, two more are its equals: all three Hall leads "
               "and all three "
               "phase leads moved on by one, each set in the sense that suits the "
               "controller's table.";
    if (learnt_of(source, sheet->wiring[0].number))
        return "The two equal wirings are not given: the controller learnt this order by itself, "
               "and its table with it. Another controller has to learn anew.";
    if (is_alone(sheet))
        return "Hub and controller are both made for 60-degree sensors: then this wiring has no "
               "equals. Every other wiring runs backward, runs rough, or does not turn.";
    if (!sheet->wiring[1].number)
        return "The two equal wirings are not given: they follow from the controller's table, and "
               "scenario and log do not tell it surely enough. Meter it, and state it in the "
               "scenario.";
    const hp_parameter *table = hp_parameters_find(source->parameters, "controller.table");
    bool by_default = table && table->origin == HP_ORIGIN_DEFAULT;
    if (probe_of(source) && (by_default || !stated))
        return "The equals follow from the controller's table as metered: they should run exactly "
               "alike. Every other wiring runs backward, runs rough, or does not turn.";
    if (!stated)
        return "The equals follow from what the log shows of leads and table, not from the table "
               "of the scenario, which does not fit it: try an equal gently before you trust it.";
    if (by_default)
        return "The scenario does not state the controller's table. If it is the usual six-step "
               "one, the "
               "equals should run exactly alike, and every other wiring backward, rough, or not "
               "at "
               "all: try an equal gently before you trust it.";
    return "The equals follow from the controller's table in the scenario: they should run exactly "
           "alike. Every other wiring runs backward, runs rough, or does not turn.";
}

char *hp_sheet_lead(const char *label, const char *side, int phase, char *out, size_t size)
{
    char letter[2] = {hp_phase_letter(phase), '\0'};
    if (label[0] == '\0' || strcmp(label, letter) == 0)
        snprintf(out, size, "%s %s", side, letter);
    else
        snprintf(out, size, "%s (%s %s)", label, side, letter);
    return out;
}

/* The no-load run that has the log's last word on this wiring, where it was good. */
static const hp_entry *good_run(const hp_sheet_source *source, int number)
{
    int of = 0;
    const hp_entry *run = hp_sheet_good_run(source, &of);
    return of == number ? run : NULL;
}

bool hp_sheet_is_good(const hp_wiring_sheet *sheet)
{
    return sheet->wiring[0].proved && !sheet->contradicted && sheet->stops.count == 0;
}

static void say_of(const hp_sheet_source *source, hp_sheet_wiring *wiring)
{
    const hp_entry *good = hp_sheet_working_trial(source, wiring->number);
    const hp_entry *last = hp_sheet_last_trial(source, wiring->number);
    const hp_entry *run = good_run(source, wiring->number);
    hp_sheet_failed failed;
    bool failing = fails(source, wiring->number, &failed);
    wiring->ran = ((good && good == last) || run) && !failing;
    wiring->proved = wiring->ran && hp_sheet_end_of(source, wiring->number) == HP_SHEET_CORRECT;
    wiring->probable = wiring->ran && hp_sheet_end_of(source, wiring->number) == HP_SHEET_PROBABLE;
    if (failing)
        snprintf(wiring->said, sizeof wiring->said, "failed at full throttle, log entry %d",
                 failed.entry);
    else if (run && (!good || good != last))
        snprintf(wiring->said, sizeof wiring->said,
                 "turned forward in the no-load run, log entry %d", run->number);
    else if (last && good != last && hp_sheet_trial_failed(source, last))
        snprintf(wiring->said, sizeof wiring->said, "failed at full throttle, log entry %d",
                 last->number);
    else if (wiring->ran)
        snprintf(wiring->said, sizeof wiring->said, "ran smoothly forward, log entry %d",
                 good->number);
    else if (good && last)
        snprintf(wiring->said, sizeof wiring->said,
                 "ran smoothly forward, log entry %d, but not in entry %d", good->number,
                 last->number);
    else if (last)
        snprintf(wiring->said, sizeof wiring->said, "did not run smoothly forward, log entry %d",
                 last->number);
    else
        snprintf(wiring->said, sizeof wiring->said, "not tried");
    hp_phrase p = hp_phrase_resume(wiring->said, sizeof wiring->said);
    if (wiring->ran && hp_sheet_check_is_open(source, wiring->number))
        hp_phrase_add(&p, "; final check open");
}

char *hp_sheet_wiring_title(const hp_wiring_sheet *sheet, int n, char *out, size_t size)
{
    const hp_sheet_wiring *wiring = &sheet->wiring[n];
    const char *first = !wiring->number || wiring->proved ? "correct"
                        : wiring->probable                ? "probably correct"
                                                          : "not proved";
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "%s", n ? "equal" : first);
    if (wiring->number)
        hp_phrase_add(&p, ": wiring %d", wiring->number);
    return out;
}

/* Only what is known gets onto the sheet: a wrong equal stalls at several amperes. */
static void find_equals(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    if (learnt_of(source, sheet->wiring[0].number))
        return;
    sheet->equals = hp_equals_find(sheet->wiring[0].number, source->drive, source->person,
                                   source->prior, source->entry, source->entries);
    for (int k = 0; k < 2 && sheet->equals.probability >= HP_EQUALS_KNOWN; k++)
        sheet->wiring[1 + k].number = sheet->equals.number[k];
}

static void say_unknown(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    const hp_entry *learnt = learnt_of(source, 0), *run = good_run(source, 0);
    char *out = sheet->standing;
    size_t size = sizeof sheet->standing;
    static const char open[] =
        "Which wiring is correct is not known yet: the joins below are left open "
        "to fill in by hand.";
    if (!source->log)
        snprintf(out, size, "There is no bench log. %s", open);
    else if (source->entries == 0)
        snprintf(out, size, "The bench log %s holds no entries. %s", source->log, open);
    else if (run)
        snprintf(out, size,
                 "No trial says which wiring runs, but the no-load run in entry %d of %s turned "
                 "forward at the speed and current of a correct wiring: what is joined is probably "
                 "correct. Log it as a trial, or fill in the joins below by hand as they are.",
                 run->number, source->log);
    else if (learnt)
        snprintf(out, size,
                 "The controller found a wiring by itself (%s, entry %d), but the log does not say "
                 "which leads were joined: fill in the joins below by hand as they are.",
                 source->log, learnt->number);
    else if (source->entries == 1)
        snprintf(out, size, "The one entry of %s is not a trial that ran smoothly forward. %s",
                 source->log, open);
    else
        snprintf(out, size, "None of the %d entries of %s is a trial that ran smoothly forward. %s",
                 source->entries, source->log, open);
}

/* chosen: so sure of another wiring that the sheet names it. */
#define NEARLY_SURE 0.9

/* Why a wiring that ran is not called correct. */
static void add_doubt(const hp_sheet_source *source, int number, hp_phrase *p)
{
    const hp_advice *advice = source->advice;
    char sure[32];
    bool tries = advice && (advice->kind == HP_ADVICE_TRY || advice->kind == HP_ADVICE_LOOK);
    bool nearly = tries && advice->certainty >= NEARLY_SURE;
    if (nearly)
        hp_card_percent(advice->certainty, sure, sizeof sure);
    if (!advice)
        hp_phrase_add(p, ", but is not proved yet: the advice was not asked.");
    else if (nearly && advice->number != number)
        hp_phrase_add(p,
                      ", but is not proved: by all that the log says wiring %d is correct, %s "
                      "likely. The advice says how to go on.",
                      advice->number, sure);
    else if (nearly && hp_sheet_joined(source) != number)
        hp_phrase_add(p,
                      ", and is %s likely correct; but wiring %d was joined since. Join wiring %d "
                      "again and run it.",
                      sure, hp_sheet_joined(source), number);
    else
        hp_phrase_add(p, ", but is not proved yet: the advice says what to do.");
}

/* Of a wiring whose last run was good: how sure it is that it is the correct one. */
static void say_ran(const hp_sheet_source *source, int number, const hp_entry *run, char *out,
                    size_t size)
{
    hp_sheet_end end = hp_sheet_end_of(source, number);
    const hp_entry *last = hp_sheet_last_trial(source, number);
    hp_phrase p = hp_phrase_begin(out, size);
    const char *is = end == HP_SHEET_CORRECT    ? "is correct: it "
                     : end == HP_SHEET_PROBABLE ? "is probably correct: it "
                                                : "";
    hp_phrase_add(&p, "Wiring %d %s", number, is);
    if (hp_entry_trial(run))
        hp_phrase_add(&p, "ran smoothly forward in entry %d of %s", run->number, source->log);
    else
        hp_phrase_add(&p,
                      "turned forward in the no-load run of entry %d of %s, at the speed and "
                      "current of a correct wiring",
                      run->number, source->log);
    if (end == HP_SHEET_OPEN)
        add_doubt(source, number, &p);
    else if (hp_sheet_is_unmetered(source, number)) {
        hp_phrase_add(&p, ", as far as that can be told without a meter. ");
        hp_unmetered_words(source->steps ? source->steps->commission : NULL, &p);
    } else if (end == HP_SHEET_PROBABLE)
        hp_phrase_add(&p, ", but is not proved yet: the advice says what to check.");
    else
        hp_phrase_add(&p, ".");
    if (!hp_entry_trial(run) && last && hp_sheet_trial_failed(source, last))
        hp_phrase_add(&p, " Its trial in entry %d failed at full throttle and does not count.",
                      last->number);
}

static void say_known(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    int number = sheet->wiring[0].number;
    const hp_entry *good = hp_sheet_working_trial(source, number);
    const hp_entry *last = hp_sheet_last_trial(source, number);
    const hp_entry *run = good_run(source, number), *other = good_run(source, 0);
    const bool failed = last && good != last && hp_sheet_trial_failed(source, last);
    hp_sheet_failed at_full;
    char *out = sheet->standing;
    size_t size = sizeof sheet->standing;
    if (fails(source, number, &at_full))
        snprintf(out, size,
                 "Wiring %d is not proved: at full throttle it did what no correct wiring does, "
                 "see above. The log is %s.",
                 number, source->log);
    else if ((good && good == last) || run)
        say_ran(source, number, good && good == last ? good : run, out, size);
    else if (failed)
        snprintf(out, size,
                 "Wiring %d is not proved: its trial in entry %d of %s failed at full throttle, "
                 "and no good run was logged since: try it again before you trust this sheet.",
                 number, last->number, source->log);
    else if (good && last)
        snprintf(
            out, size,
            "Wiring %d ran smoothly forward in entry %d of %s, but not when it was tried again "
            "in entry %d: try it once more before you trust this sheet.",
            number, good->number, source->log, last->number);
    else if (last)
        snprintf(out, size,
                 "Wiring %d is not proved: it was named by hand, but in entry %d of %s it did not "
                 "run smoothly "
                 "forward: try it again before you trust this sheet.",
                 number, last->number, source->log);
    else if (other)
        snprintf(out, size,
                 "Wiring %d is not proved: it was named by hand. The no-load run in entry %d of %s "
                 "was good, but the log does not say which wiring it was made with.",
                 number, other->number, source->log);
    else
        snprintf(out, size,
                 "Wiring %d is not proved: it was named by hand, and no bench log says how it ran.",
                 number);
}

/* Whoever moves leads by this sheet, or fits another controller, has to know. */
static void say_learnt(hp_wiring_sheet *sheet)
{
    const hp_entry *learnt = learnt_of(&sheet->source, sheet->wiring[0].number);
    hp_phrase p = hp_phrase_resume(sheet->standing, sizeof sheet->standing);
    if (!learnt)
        return;
    hp_phrase_add(&p, " ");
    hp_learnt_words(learnt->number, &p);
}

/* The last smooth forward trial of a wiring that is no equal of the one named: they cannot both be
 * right. */
static void say_contradiction(hp_wiring_sheet *sheet)
{
    const hp_entry *trial = hp_sheet_working_trial(&sheet->source, 0);
    if (!trial || !sheet->wiring[1].number)
        return;
    int number = hp_wiring_number(&trial->trial.wiring);
    for (int k = 0; k < HP_SHEET_WIRINGS; k++)
        if (sheet->wiring[k].number == number)
            return;
    sheet->contradicted = true;
    hp_phrase p = hp_phrase_resume(sheet->standing, sizeof sheet->standing);
    hp_phrase_add(
        &p,
        " But entry %d of the log says that wiring %d ran smoothly forward, which is no equal "
        "of it: one of the two is wrong, or the controller's table is not the one stated.",
        trial->number, number);
}

/* A reading since the last run that speaks against it, as the advice and the list of steps heed it.
 */
static void say_contrary(hp_wiring_sheet *sheet)
{
    const hp_card_context *steps = sheet->source.steps;
    const hp_commission *list = steps ? steps->commission : NULL;
    if (!list || !list->contrary)
        return;
    hp_phrase p = hp_phrase_resume(sheet->standing, sizeof sheet->standing);
    hp_phrase_add(&p, " ");
    hp_contrary_words(list->contrary, &p);
}

/* Whether readings at the hub tell the order of the Hall leads of the wiring that is named. */
static bool is_told_by_readings(const hp_sheet_source *source)
{
    const hp_advice *advice = source->advice;
    bool told = false;
    for (int k = 0; k < source->entries; k++)
        told = told || (source->entry[k].reading->settles && !source->entry[k].reading->by_table);
    return told && advice && (advice->kind == HP_ADVICE_DONE || advice->kind == HP_ADVICE_PROBABLY);
}

/* What smooth runs do not prove, or may not. */
static void say_unsensed(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    const hp_advice *advice = source->advice;
    hp_phrase p = hp_phrase_resume(sheet->standing, sizeof sheet->standing);
    if (hp_log_runs_unsensed(source->entry, source->entries) == HP_TELL_YES)
        hp_phrase_add(&p, " %s %s", hp_unsensed_words,
                      is_told_by_readings(source)
                          ? "What is said of the Hall leads comes from readings at the hub."
                          : hp_plug_out_words);
    else if (advice && advice->plug == HP_PLUG_UNTRIED)
        hp_phrase_add(&p, " %s", hp_plug_untried_words);
}

static void find_wirings(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    int number = source->wiring ? source->wiring : hp_sheet_log_wiring(source);
    sheet->wiring[0].number = number;
    if (number == 0) {
        say_unknown(sheet);
        return;
    }
    say_known(sheet);
    say_learnt(sheet);
    find_equals(sheet);
    say_contradiction(sheet);
    say_contrary(sheet);
    say_unsensed(sheet);
    for (int k = 0; k < HP_SHEET_WIRINGS; k++)
        if (sheet->wiring[k].number)
            say_of(source, &sheet->wiring[k]);
}

void hp_wiring_sheet_make(const hp_sheet_source *source, hp_wiring_sheet *sheet)
{
    const char *machine = source->labels->machine;
    memset(sheet, 0, sizeof *sheet);
    sheet->source = *source;
    snprintf(sheet->title, sizeof sheet->title, "Wiring sheet%s%s", machine[0] ? ": " : "",
             machine);
    find_wirings(sheet);
    hp_sheet_fill_stops(sheet);
    hp_sheet_fill_readings(sheet);
    hp_sheet_fill_settings(sheet);
    hp_sheet_fill_figures(sheet);
    hp_sheet_fill_steps(sheet);
    hp_sheet_fill_mends(sheet);
}
