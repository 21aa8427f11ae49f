/*
 * What forbids to ride, for the head of a wiring sheet: steps of commissioning that found a stop,
 * dangers that a reading of the log shows, and runs at full throttle that no right wiring makes.
 * Whoever opens the hub next reads these before anything else.
 */
#include "decide/advise/full_check.h"
#include "decide/reading/reading.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/card_parts.h"
#include "report/words/control_words.h"
#include "report/words/fit_words.h"
#include "report/words/words.h"

#include <stdio.h>
#include <string.h>

const char hp_sheet_stops_title[] = "Do not ride before this is mended and measured again.";

static hp_sheet_line *add_line(hp_wiring_sheet *sheet, const hp_reading *reading, int entry)
{
    hp_sheet_line *line = hp_sheet_add_titled(&sheet->stops, hp_reading_title(reading));
    if (line)
        snprintf(line->from, sizeof line->from, "log entry %d", entry);
    return line;
}

/* ---- steps ----------------------------------------------------------------------------------- */

static const hp_commission *list_of(const hp_sheet_source *source)
{
    return source->steps ? source->steps->commission : NULL;
}

static void add_steps(hp_wiring_sheet *sheet)
{
    const hp_commission *list = list_of(&sheet->source);
    for (int k = 0; list && k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        hp_finding_words found;
        if (step->finding != HP_FINDING_STOP)
            continue;
        hp_sheet_line *line = add_line(sheet, step->reading, step->entry->number);
        if (line && hp_finding_words_make(sheet->source.steps, step, &found))
            snprintf(line->value, sizeof line->value, "%s", found.means);
    }
}

/* ---- parts that do not go together ----------------------------------------------------------- */

static void add_fit(hp_wiring_sheet *sheet)
{
    const hp_commission *list = list_of(&sheet->source);
    for (int k = 0; list && k < list->fit_stops; k++) {
        const hp_fit_line *of = &list->given.fit->line[list->fit_stop[k]];
        hp_sheet_line *line = hp_sheet_add(&sheet->stops, "%s", hp_fit_words_of(of->rule)->title);
        char figures[300], advice[600];
        if (!line)
            return;
        hp_fit_figures_text(of, figures, sizeof figures);
        hp_fit_advice_text(list->given.fit, of, list->given.labels, NULL, advice, sizeof advice);
        hp_phrase p = hp_phrase_begin(line->value, sizeof line->value);
        hp_phrase_add(&p, "%s. %s", figures, advice);
        snprintf(line->from, sizeof line->from, "fit");
    }
}

/* ---- dangers --------------------------------------------------------------------------------- */

static void add_danger(hp_wiring_sheet *sheet, const hp_entry *entry, const hp_danger *danger)
{
    hp_sheet_line *line = add_line(sheet, entry->reading, entry->number);
    hp_card card;
    if (!line)
        return;
    hp_danger_words(sheet->source.steps, danger, &card);
    hp_phrase p = hp_phrase_begin(line->value, sizeof line->value);
    hp_phrase_add(&p, "%s. %s", card.title, card.reason);
}

static void add_dangers(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    for (int k = 0; source->steps && k < source->entries; k++) {
        const hp_danger *danger = hp_danger_standing(source->entry, source->entries, k,
                                                     source->steps->plan, source->person);
        if (danger)
            add_danger(sheet, &source->entry[k], danger);
    }
}

/* ---- runs at full throttle ------------------------------------------------------------------- */

bool hp_sheet_failed_check(const hp_sheet_source *source, hp_sheet_failed *failed)
{
    const hp_advice *advice = source->advice;
    const hp_commission *list = list_of(source);
    memset(failed, 0, sizeof *failed);
    if (advice && advice->failed.stands)
        *failed =
            (hp_sheet_failed){&advice->failed, advice->full_most_a, advice->full_wheel_rad_s, 0, 0};
    else if (list && list->failed.stands)
        *failed = (hp_sheet_failed){&list->failed, list->full_most_a, list->full_wheel_rad_s, 0, 0};
    if (!failed->signs)
        return false;
    failed->entry = hp_failed_check_entry(failed->signs);
    for (int k = 0; k < source->entries; k++) {
        const hp_trial *trial = hp_entry_trial(&source->entry[k]);
        if (source->entry[k].number == failed->entry)
            failed->wiring =
                trial ? hp_wiring_number(&trial->wiring) : hp_joined_at(source->entry, k);
    }
    return true;
}

/* A step that stops says it itself, of the same run. */
static bool is_said(const hp_wiring_sheet *sheet, int entry)
{
    const hp_commission *list = list_of(&sheet->source);
    for (int k = 0; list && k < list->steps; k++)
        if (list->step[k].finding == HP_FINDING_STOP && list->step[k].entry->number == entry)
            return true;
    return false;
}

static void add_failed(hp_wiring_sheet *sheet)
{
    hp_sheet_failed failed;
    char showed[HP_FAILED_WORDS];
    if (!hp_sheet_failed_check(&sheet->source, &failed) || is_said(sheet, failed.entry))
        return;
    hp_sheet_line *line = hp_sheet_add(&sheet->stops, "Run at full throttle");
    if (!line)
        return;
    hp_phrase p = hp_phrase_begin(line->value, sizeof line->value);
    hp_failed_check_words(failed.signs, failed.most_a, failed.wheel_rad_s, showed, sizeof showed);
    if (failed.wiring)
        hp_phrase_add(&p, "With wiring %d it %s.", failed.wiring, showed);
    else
        hp_phrase_add(&p, "As it was joined it %s.", showed);
    hp_add_failed_step(&(hp_card_context){.commission = list_of(&sheet->source)}, failed.signs,
                       failed.wheel_rad_s, &p);
    snprintf(line->from, sizeof line->from, "log entry %d", failed.entry);
}

void hp_sheet_fill_stops(hp_wiring_sheet *sheet)
{
    add_failed(sheet);
    add_dangers(sheet);
    add_steps(sheet);
    add_fit(sheet);
}
