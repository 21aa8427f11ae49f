/* Commissioning as text: see the header. */
#include "hubphase/report/case_words.h"

#include "decide/reading/reading.h"
#include "report/words/advice_report.h"
#include "report/words/again_words.h"
#include "report/words/card_parts.h"
#include "report/words/case_card.h"
#include "report/words/words.h"
#include "report/words/words_running.h"

#include <string.h>

#define INDENT 25 /* columns of state and name */

static const char *const stage_title[HP_STAGE_COUNT] = {
    [HP_STAGE_WIRING] = "Wiring",
    [HP_STAGE_HUB] = "The hub",
    [HP_STAGE_CONTROLS] = "Controls, pin by pin",
    [HP_STAGE_STAND] = "Runs with the wheel lifted",
    [HP_STAGE_ROAD] = "Before the first ride",
};

hp_card_context hp_commission_card_context(const hp_commission_case *c)
{
    const hp_commission *list = hp_commission_case_list(c);
    hp_card_context context = {.drive = list->given.drive,
                               .labels = list->given.labels,
                               .plan = list->given.plan,
                               .plug = hp_bench_log_plug(hp_commission_case_log(c)),
                               .commission = list};
    for (int k = list->given.entries - 1; k >= 0 && context.present == 0; k--) {
        const hp_trial *trial = hp_entry_trial(&list->given.entry[k]);
        if (trial)
            context.present = hp_wiring_number(&trial->wiring);
    }
    return context;
}

char *hp_commission_log_line(const hp_commission_case *c, const hp_reading *kind,
                             const char *const *begin, char *out, size_t size)
{
    hp_card_context context = hp_commission_card_context(c);
    hp_log_line line = {.out = out, .size = size};
    out[0] = '\0';
    for (; *begin; begin++)
        hp_log_word(&line, "%s", *begin);
    hp_log_options(&context, NULL, kind, &line);
    return out;
}

char *hp_commission_source_words(const hp_commission_case *c, char *out, size_t size)
{
    const hp_scenario *scenario = hp_commission_case_scenario(c);
    const hp_bench_log *log = hp_commission_case_log(c);
    char name[sizeof scenario->learnt.log];
    hp_phrase p = hp_phrase_begin(out, size);
    hp_text_clean(scenario->learnt.log, name, sizeof name);
    if (!name[0])
        return out;
    if (hp_bench_log_is_learnt(log, scenario))
        hp_phrase_add(&p,
                      "The scenario's figures were learnt from this log, %s, up to entry %d: its "
                      "readings are held against what the scenario said before, so that none "
                      "counts twice.",
                      name, scenario->learnt.entries);
    else
        hp_phrase_add(&p,
                      "The scenario's figures were learnt from another log, %s, up to entry %d: "
                      "%s.",
                      name, scenario->learnt.entries,
                      log->exists
                          ? "its steps do not count here"
                          : "it is not there any more. Put it beside the scenario again, or say "
                            "which file it is; without it no step counts");
    return out;
}

/* ---- the list ---------------------------------------------------------------------------------
 */

/* " (entry 12: no bench supply)": who left it out, and why; false: nobody did. */
static bool add_left_out(const hp_commission_case *c, const hp_reading *reading, hp_phrase *p)
{
    const hp_bench_entry *left = hp_commission_case_left_out(c, reading);
    char note[HP_BENCH_NOTE_SIZE];
    if (left && left->note[0])
        hp_phrase_add(p, " (entry %d: %s)", left->entry.number,
                      hp_text_clean(left->note, note, sizeof note));
    else if (left)
        hp_phrase_add(p, " (entry %d, which does not say why)", left->entry.number);
    return left != NULL;
}

/* "(entry 12)", "(entry 12: no bench supply)", "(once a wiring runs)"; else nothing. */
static void add_standing(const hp_commission_case *c, const hp_commission_step *step, hp_phrase *p)
{
    if (add_left_out(c, step->reading, p))
        return;
    if (step->entry)
        hp_phrase_add(p, " (entry %d)", step->entry->number);
    else if (step->other_wiring)
        hp_phrase_add(p, " (again: entry %d was of wiring %d)", step->other, step->other_wiring);
    else if (step->other_failed)
        hp_phrase_add(p, " (again: entry %d was before the failed run of entry %d)", step->other,
                      step->other_failed);
    else if (step->other)
        hp_phrase_add(p, " (again: entry %d was before a mend)", step->other);
    else if (!step->possible)
        hp_phrase_add(p, hp_commission_case_list(c)->wired
                             ? " (once full throttle proves the wiring)"
                             : " (once a wiring runs)");
}

/* `marked`: the step whose card follows; NULL: none does. */
static void print_step(const hp_commission_case *c, int index, const hp_reading *marked,
                       const hp_screen *out)
{
    const hp_commission_step *step = &hp_commission_case_list(c)->step[index];
    const char *menu = hp_reading_menu(step->reading);
    char title[80], text[HP_BENCH_NOTE_SIZE + 400];
    const char *state = !step->concerns  ? "none here"
                        : step->left_out ? "left out"
                                         : hp_finding_name(step->finding);
    snprintf(title, sizeof title, "%s %-9s %s", step->reading == marked ? ">" : " ", state,
             hp_reading_name(step->reading));
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "%s", menu ? menu : hp_reading_title(step->reading));
    add_standing(c, step, &p);
    hp_text_fill(out, title, INDENT, text);
}

/* What power would harm and nobody has looked for: no step, but to be done all the same. */
static void print_unguarded(const hp_commission_case *c, const hp_screen *out)
{
    const hp_commission *list = hp_commission_case_list(c);
    for (int k = 0; k < list->unguarded_count; k++) {
        const hp_unguarded *u = &list->unguarded[k];
        char title[80], text[HP_BENCH_NOTE_SIZE + 400];
        const char *menu = hp_reading_menu(u->reading);
        snprintf(title, sizeof title, "  %-9s %s", u->left_out ? "left out" : "open",
                 hp_reading_name(u->reading));
        hp_phrase p = hp_phrase_begin(text, sizeof text);
        hp_phrase_add(&p, "%s", menu ? menu : hp_reading_title(u->reading));
        if (!add_left_out(c, u->reading, &p) && u->mend)
            hp_phrase_add(&p, " (again: entry %d was before a mend)", u->other);
        if (k == 0)
            hp_text_fill(out, "", 0, stage_title[HP_STAGE_WIRING]);
        hp_text_fill(out, title, INDENT + 1, text); /* "sensor_supply" is that long */
    }
}

/* Whether the Hall leads are proved, where nothing but runs says so. */
static void print_plug(const hp_commission_case *c, const hp_screen *out)
{
    const hp_commission *list = hp_commission_case_list(c);
    const hp_reading *plug = &hp_reading_hall_plug;
    char title[80], text[HP_BENCH_NOTE_SIZE + 400];
    if (!list->plug_pulled && list->plug == HP_PLUG_SETTLED)
        return;
    const hp_assess_case *given = &list->given;
    const bool look =
        list->plug_pulled && hp_hall_can_be_placed(given->entry, given->entries, given->plan);
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    snprintf(title, sizeof title, "  %-9s %s",
             look                         ? hp_finding_name(HP_FINDING_LOOK)
             : list->plug == HP_PLUG_OWED ? hp_finding_name(HP_FINDING_NONE)
                                          : "left out",
             hp_reading_name(plug));
    hp_phrase_add(&p, "%s", hp_reading_menu(plug));
    if (list->plug_pulled)
        hp_phrase_add(&p, " (entry %d%s)", list->plug_pulled->number,
                      look ? ""
                           : ": it does, and what would tell the order of the Hall leads cannot be "
                             "measured here");
    else if (list->plug == HP_PLUG_UNTRIED && !add_left_out(c, plug, &p))
        hp_phrase_add(&p, " (the scenario says that it cannot be tried here)");
    if (list->unguarded_count == 0)
        hp_text_fill(out, "", 0, stage_title[HP_STAGE_WIRING]);
    hp_text_fill(out, title, INDENT, text);
}

static void print_list(const hp_commission_case *c, const hp_reading *marked, const hp_screen *out)
{
    const hp_commission *list = hp_commission_case_list(c);
    hp_stage stage = HP_STAGE_WIRING;
    print_unguarded(c, out);
    print_plug(c, out);
    for (int k = 0; k < list->steps; k++) {
        if (list->step[k].stage != stage)
            hp_text_fill(out, "", 0, stage_title[list->step[k].stage]);
        stage = list->step[k].stage;
        print_step(c, k, marked, out);
    }
}

/* ---- what was found ---------------------------------------------------------------------------
 */

bool hp_finding_words_make(const hp_card_context *context, const hp_commission_step *step,
                           hp_finding_words *words)
{
    const hp_words *own = hp_words_of(step->reading);
    memset(words, 0, sizeof *words);
    if (!step->entry || !own || !own->finding)
        return false;
    own->finding(context, step, words);
    if (step->doubt.entry && step->finding != HP_FINDING_STOP)
        hp_doubt_finding(&step->doubt, words);
    return words->means[0] != '\0';
}

/* `only`: of one step; NULL: of all. */
static void print_findings(const hp_card_context *context, const hp_reading *only,
                           const hp_screen *out)
{
    const hp_commission *list = context->commission;
    bool first = true;
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        hp_finding_words words;
        char title[80], text[HP_ENTRY_WORDS];
        if ((only && step->reading != only) || !hp_finding_words_make(context, step, &words))
            continue;
        if (first)
            fputs("\nWhat was found\n", out->file);
        first = false;
        snprintf(title, sizeof title, "  %-9s %s", hp_finding_name(step->finding),
                 hp_reading_name(step->reading));
        hp_text_fill(out, title, INDENT, hp_entry_words(context, step->entry, text, sizeof text));
        hp_text_fill(out, "", INDENT, words.means);
        if (words.otherwise[0])
            hp_text_fill(out, "", INDENT, words.otherwise);
    }
}

/* ---- own figures ------------------------------------------------------------------------------
 */

char *hp_own_words(const hp_own_figure *figure, hp_own_kind kind, char *out, size_t size)
{
    char value[HP_NUMBER_WORDS], low[HP_NUMBER_WORDS], high[HP_NUMBER_WORDS];
    snprintf(out, size, "%s %s (%s to %s)", hp_card_figures(figure->value, value, sizeof value),
             hp_own_unit(kind), hp_card_figures(figure->low, low, sizeof low),
             hp_card_figures(figure->high, high, sizeof high));
    return out;
}

#define OWN_INDENT 32

static void print_own(const hp_own *own, bool used, const hp_screen *out)
{
    bool first = true;
    for (int k = 0; k < HP_OWN_COUNT; k++) {
        char text[160], title[80];
        if (!own->figure[k].known)
            continue;
        if (first) {
            fputc('\n', out->file);
            hp_text_fill(out, "", 0,
                         "Figures of this machine, from its readings; in brackets what holds 90 "
                         "times of 100");
        }
        first = false;
        snprintf(title, sizeof title, "  %s", hp_own_title((hp_own_kind)k));
        hp_text_fill(out, title, OWN_INDENT,
                     hp_own_words(&own->figure[k], (hp_own_kind)k, text, sizeof text));
    }
    if (!first && !used)
        hp_text_fill(out, "", 0,
                     out->page ? "Checks, Then and now, makes a scenario with them, by which the "
                                 "other checks then reckon."
                               : "With --write NEW.yaml they go into a scenario, with which `fit' "
                                 "and `controls' then reckon.");
}

/* ---- the whole --------------------------------------------------------------------------------
 */

static void print_card(const hp_card_context *context, const hp_reading *kind, const char *log_line,
                       const hp_screen *out)
{
    const hp_commission *list = context->commission;
    const hp_advice advice = {.kind = HP_ADVICE_READ, .reading = kind, .lead = -1};
    hp_card words;
    char asked[120];
    hp_card_make(context, &advice, &words);
    words.chosen = list->next < 0 || list->step[list->next].reading != kind;
    hp_card_print(&words, out);
    if (log_line && !out->page) {
        hp_command_print("To log it", log_line, out);
        snprintf(asked, sizeof asked, "`hubphase bench' asks for it: other, then %s.",
                 hp_reading_name(kind));
        hp_text_fill(out, "", HP_CARD_INDENT, asked);
    }
    hp_card_print_details(&words, out);
}

char *hp_commission_found_words(const hp_commission_case *c, const hp_reading *kind, char *out,
                                size_t size)
{
    const hp_card_context context = hp_commission_card_context(c);
    const hp_commission_step *step = hp_commission_step_of(context.commission, kind);
    hp_finding_words words;
    out[0] = '\0';
    if (step && hp_finding_words_make(&context, step, &words))
        snprintf(out, size, "%s%s%s", words.means, words.otherwise[0] ? " " : "", words.otherwise);
    return out;
}

void hp_commission_finding_print(const hp_commission_case *c, const hp_reading *kind,
                                 const hp_screen *out)
{
    const hp_commission_step *step = hp_commission_step_of(hp_commission_case_list(c), kind);
    char text[HP_FOUND_WORDS];
    hp_commission_found_words(c, kind, text, sizeof text);
    if (step && text[0])
        hp_text_fill(out, hp_finding_name(step->finding), HP_CARD_INDENT, text);
}

void hp_commission_step_print(const hp_commission_case *c, const hp_reading *kind,
                              const hp_screen *out)
{
    const hp_card_context context = hp_commission_card_context(c);
    print_card(&context, kind, NULL, out);
}

/* How far it is, and where its figures come from. */
static void print_head(const hp_commission_case *c, const hp_screen *out)
{
    const hp_commission *list = hp_commission_case_list(c);
    char text[400], source[HP_SOURCE_WORDS], machine[sizeof list->given.labels->machine];
    int done, count = hp_commission_count(list, &done);
    hp_text_clean(list->given.labels->machine, machine, sizeof machine);
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "Commissioning%s%s: %d of %d steps done", machine[0] ? " of " : "", machine,
                  done, count);
    hp_add_left_out(list, &p);
    hp_text_fill(out, "", 0, text);
    if (hp_commission_source_words(c, source, sizeof source)[0])
        hp_text_fill(out, "", 0, source);
    fputc('\n', out->file);
}

/* Whether it goes on with the wiring, of which this list says nothing. */
static bool asks_for_advice(const hp_commission *list)
{
    const hp_commission_why why = list->why;
    return why == HP_COMMISSION_CHECK || why == HP_COMMISSION_WIRING ||
           (why == HP_COMMISSION_STOPPED && list->step[list->next].reading->full_run);
}

/* All steps, or the one that was asked for. */
static void print_standing(const hp_commission_case *c, const hp_card_context *context,
                           const hp_reading *asked, const hp_screen *out)
{
    const hp_commission *list = context->commission;
    const hp_reading *next = list->next >= 0 ? list->step[list->next].reading : NULL;
    char why[HP_COMMISSION_WHY_WORDS];
    for (int k = 0; asked && k < list->steps; k++)
        if (list->step[k].reading == asked)
            print_step(c, k, asked, out);
    if (!asked)
        print_list(c, next, out);
    print_findings(context, asked, out);
    if (asked)
        return;
    print_own(&list->own,
              hp_bench_log_is_learnt(hp_commission_case_log(c), hp_commission_case_scenario(c)),
              out);
    hp_commission_why_words(list, why, sizeof why);
    if (why[0]) {
        fputc('\n', out->file);
        hp_text_fill(out, "", 0, why);
    }
    if (asks_for_advice(list) && !out->page)
        hp_text_fill(out, "", 0, "The advice: `hubphase next'.");
}

void hp_commission_print(const hp_commission_case *c, const hp_reading *kind, const char *log_line,
                         const hp_screen *out)
{
    const hp_commission *list = hp_commission_case_list(c);
    hp_card_context context = hp_commission_card_context(c);
    print_head(c, out);
    print_standing(c, &context, kind, out);
    if (!kind && list->next >= 0)
        kind = list->step[list->next].reading;
    if (!kind)
        return;
    fputc('\n', out->file);
    print_card(&context, kind, log_line, out);
}
