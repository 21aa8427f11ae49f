/*
 * Commissioning on a wiring sheet: what each step's last entry says, what it found, and which steps
 * are still to be done. Nothing where none was done.
 */
#include "decide/reading/reading.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/card.h"
#include "report/words/words.h"

#include <ctype.h>
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
    hp_sheet_line *line = hp_sheet_add(&sheet->steps, "%s", hp_reading_title(step->reading));
    if (!line)
        return;
    line->what[0] = (char)toupper((unsigned char)line->what[0]);
    hp_entry_words(context, step->entry, noted, sizeof noted);
    hp_phrase p = hp_phrase_begin(line->value, sizeof line->value);
    hp_phrase_add(&p, "%s", behind_title(noted));
    if (step->finding >= HP_FINDING_LOOK && hp_finding_words_make(context, step, &found))
        hp_phrase_add(&p, ". %s", found.means);
    snprintf(line->from, sizeof line->from, "log entry %d: %s", step->entry->number,
             hp_finding_name(step->finding));
}

/* The steps without an entry, those that were left out or the others, in one line. */
static void add_undone(const hp_commission *list, bool left_out, const char *what,
                       hp_wiring_sheet *sheet)
{
    hp_sheet_line *line = NULL;
    hp_phrase p;
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        if (step->entry || !step->concerns || step->left_out != left_out)
            continue;
        if (line)
            hp_phrase_add(&p, ", %s", hp_reading_title(step->reading));
        else if ((line = hp_sheet_add(&sheet->steps, "%s", what)) != NULL) {
            p = hp_phrase_begin(line->value, sizeof line->value);
            hp_phrase_add(&p, "%s", hp_reading_title(step->reading));
        } else
            return;
    }
}

void hp_sheet_fill_steps(hp_wiring_sheet *sheet)
{
    const hp_card_context *context = sheet->source.steps;
    if (!context || !context->commission)
        return;
    const hp_commission *list = context->commission;
    for (int k = 0; k < list->steps; k++)
        /* Typical figures never count as found. */
        if (list->step[k].entry && !list->step[k].entry->typical)
            add_step(context, &list->step[k], sheet);
    if (sheet->steps.count == 0)
        return;
    add_undone(list, true, "Left out", sheet);
    add_undone(list, false, "Not done yet", sheet);
}
