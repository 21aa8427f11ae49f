/*
 * Commissioning on a wiring sheet: what each step's last entry says, what it found, why one was
 * left out, and which steps are still to be done; nothing where the log says nothing of any. And
 * the figures that the readings tell of the machine.
 */
#include "decide/reading/control_values.h"
#include "decide/reading/reading.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/card.h"
#include "report/words/words.h"

#include <stdio.h>
#include <string.h>

/* The words of an entry begin with what it is of; on the sheet that stands beside them. */
static const char *behind_title(const char *words)
{
    const char *colon = strstr(words, ": ");
    return colon ? colon + 2 : words;
}

static void add_step(const hp_card_context *context, const hp_commission_step *step,
                     hp_wiring_sheet *sheet)
{
    char noted[HP_ENTRY_WORDS];
    hp_finding_words found;
    hp_sheet_line *line = hp_sheet_add_titled(&sheet->steps, hp_reading_title(step->reading));
    if (!line)
        return;
    hp_entry_words(context, step->entry, noted, sizeof noted);
    hp_phrase p = hp_phrase_begin(line->value, sizeof line->value);
    hp_phrase_add(&p, "%s", behind_title(noted));
    /* Of what is only noted too: it says what was not tried. */
    if (step->finding != HP_FINDING_GOOD && hp_finding_words_make(context, step, &found))
        hp_phrase_add(&p, ". %s", found.means);
    const hp_words *own = step->lacks ? hp_words_of(step->reading) : NULL;
    if (own && own->without)
        hp_phrase_add(&p, " It is without %s.", own->without);
    snprintf(line->from, sizeof line->from, "log entry %d: %s", step->entry->number,
             hp_finding_name(step->finding));
}

/* A part that the machine does not have and does not lack: nothing was found. */
static bool is_absent(const hp_commission_step *step)
{
    return step->entry && !step->entry->typical && step->code == HP_STEP_NOT_FITTED &&
           step->finding == HP_FINDING_NOTED && !step->lacks;
}

static int count_absent(const hp_commission *list)
{
    int count = 0;
    for (int k = 0; k < list->steps; k++)
        count += is_absent(&list->step[k]);
    return count;
}

/* The next item of a line of several, which begins with the first; false: there is no room. */
static bool add_item(const char *what, const hp_reading *step, hp_sheet_line **line, hp_phrase *p,
                     hp_wiring_sheet *sheet)
{
    if (*line)
        hp_phrase_add(p, ", ");
    else if ((*line = hp_sheet_add(&sheet->steps, "%s", what)) != NULL)
        *p = hp_phrase_begin((*line)->value, sizeof(*line)->value);
    else
        return false;
    hp_phrase_add(p, "%s", hp_reading_title(step));
    return true;
}

/* They share a line, where there are several. */
static void add_absent(const hp_commission *list, hp_wiring_sheet *sheet)
{
    hp_sheet_line *line = NULL;
    hp_phrase p;
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        if (!is_absent(step) || !add_item("Not there", step->reading, &line, &p, sheet))
            continue;
        if (!line->from[0])
            snprintf(line->from, sizeof line->from, "log: %s", hp_finding_name(step->finding));
        hp_phrase_add(&p, " (entry %d)", step->entry->number);
    }
}

/* Nobody has looked, and why not. */
static void add_left_out(const hp_reading *step, hp_wiring_sheet *sheet)
{
    const hp_commission_case *work = sheet->source.work;
    const hp_bench_entry *left = work ? hp_commission_case_left_out(work, step) : NULL;
    hp_sheet_line *line = hp_sheet_add_titled(&sheet->steps, hp_reading_title(step));
    if (!line)
        return;
    hp_phrase p = hp_phrase_begin(line->value, sizeof line->value);
    hp_phrase_add(&p, "left out%s%s", left && left->note[0] ? ": " : "; no reason is noted",
                  left ? left->note : "");
    if (p.cut)
        memcpy(line->value + sizeof line->value - 4, "...", 4);
    if (left)
        snprintf(line->from, sizeof line->from, "log entry %d", left->entry.number);
}

/* The steps that nobody has come to, in one line; before them what power would harm and nobody has
 * looked for. */
static void add_undone(const hp_commission *list, hp_wiring_sheet *sheet)
{
    static const char undone[] = "Not done yet";
    hp_sheet_line *line = NULL;
    hp_phrase p;
    for (int k = 0; k < list->unguarded_count; k++) {
        const hp_unguarded *u = &list->unguarded[k];
        if (u->left_out || !add_item(undone, u->reading, &line, &p, sheet))
            continue;
        if (u->mend)
            hp_phrase_add(&p, " (entry %d was before a mend)", u->other);
    }
    if (list->plug == HP_PLUG_OWED)
        add_item(undone, &hp_reading_hall_plug, &line, &p, sheet);
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        if (step->entry || !step->concerns || step->left_out ||
            !add_item(undone, step->reading, &line, &p, sheet))
            continue;
        if (step->other_failed)
            hp_phrase_add(&p, " (entry %d was before the failed run of entry %d)", step->other,
                          step->other_failed);
        else if (step->other && !step->other_wiring)
            hp_phrase_add(&p, " (entry %d was before a mend)", step->other);
        else if (step->other)
            hp_phrase_add(&p, " (entry %d was of wiring %d, not of %d)", step->other,
                          step->other_wiring, step->joined);
    }
}

void hp_sheet_fill_figures(hp_wiring_sheet *sheet)
{
    const hp_card_context *context = sheet->source.steps;
    if (!context || !context->commission)
        return;
    const hp_own_figure *figure = context->commission->own.figure;
    for (int k = 0; k < HP_OWN_COUNT; k++) {
        hp_sheet_line *line =
            figure[k].known ? hp_sheet_add_titled(&sheet->figures, hp_own_title((hp_own_kind)k))
                            : NULL;
        if (!line)
            continue;
        hp_own_words(&figure[k], (hp_own_kind)k, line->value, sizeof line->value);
        snprintf(line->from, sizeof line->from, "up to entry %d", figure[k].entry);
    }
}

void hp_sheet_fill_steps(hp_wiring_sheet *sheet)
{
    const hp_card_context *context = sheet->source.steps;
    if (!context || !context->commission)
        return;
    const hp_commission *list = context->commission;
    bool begun = false, several = count_absent(list) > 1;
    for (int k = 0; k < list->unguarded_count; k++)
        if (list->unguarded[k].left_out)
            add_left_out(list->unguarded[k].reading, sheet);
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        begun = begun || step->other;
        /* Typical figures never count as found. */
        if (step->entry && !step->entry->typical && !(several && is_absent(step)))
            add_step(context, step, sheet);
        else if (step->left_out && step->concerns)
            add_left_out(step->reading, sheet);
    }
    if (several)
        add_absent(list, sheet);
    if (begun || sheet->steps.count > 0)
        add_undone(list, sheet);
}
