/*
 * What was found broken and mended, on a wiring sheet: a joint that was mended once is where the
 * next person looks first. Each entry that changed the machine, with its day and its note.
 */
#include "decide/reading/mend_parts.h"
#include "decide/reading/reading.h"
#include "hubphase/base/text.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/again_words.h"
#include "report/words/card.h"

#include <stdio.h>

#define DAY 10 /* characters of "2026-11-30" */

/* A trial or a learning changes nothing of the machine. */
static bool is_mend(const hp_entry *entry)
{
    return !entry->typical && !entry->reading->ends_right && !hp_entry_trial(entry) &&
           hp_entry_renews(entry) != HP_RENEWS_NOTHING;
}

static void add_mend(const hp_sheet_source *source, const hp_bench_entry *entry,
                     hp_wiring_sheet *sheet)
{
    char said[HP_ENTRY_WORDS], note[HP_BENCH_NOTE_SIZE];
    hp_sheet_line *line =
        hp_sheet_add(&sheet->mends, "%.*s", DAY, entry->time[0] ? entry->time : "no date");
    if (!line)
        return;
    hp_entry_words(source->steps, &entry->entry, said, sizeof said);
    hp_phrase p = hp_phrase_begin(line->value, sizeof line->value);
    hp_phrase_add(&p, "%s%s%s", said, entry->note[0] ? ". Noted: " : "",
                  hp_text_clean(entry->note, note, sizeof note));
    if (hp_entry_renews(&entry->entry) == HP_RENEWS_EXCHANGED) {
        hp_phrase_add(&p, ". ");
        hp_exchanged_words(&p);
    }
    if (p.cut)
        snprintf(line->value + sizeof line->value - 4, 4, "...");
    snprintf(line->from, sizeof line->from, "log entry %d", entry->entry.number);
}

void hp_sheet_fill_mends(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    const hp_bench_log *log = source->work ? hp_commission_case_log(source->work) : NULL;
    int mends = 0;
    for (int k = 0; source->steps && log && k < log->count; k++)
        mends += is_mend(&log->entry[k].entry);
    /* Where there is no room for all, the older ones go. */
    for (int k = 0; source->steps && log && k < log->count; k++)
        if (is_mend(&log->entry[k].entry) && mends-- <= HP_SHEET_LINES)
            add_mend(source, &log->entry[k], sheet);
}
