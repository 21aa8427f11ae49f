/* An entry of a bench log in words: see bench_log.h. What was measured comes from
 * report/words/card.h; here stands what only the log knows: time, note. */
#include "hubphase/record/bench_log.h"

#include "hubphase/base/text.h"
#include "hubphase/decide/evidence.h"
#include "report/words/words.h"

#include <string.h>

static void print_part(const hp_screen *out, const char *title, const char *text)
{
    char clean[2 * HP_BENCH_NOTE_SIZE];
    hp_text_fill(out, title, 7, hp_text_clean(text, clean, sizeof clean));
}

void hp_bench_entry_print(const hp_bench_entry *entry, const hp_scenario *scenario,
                          const hp_screen *out)
{
    hp_card_context context = {.drive = &scenario->drive,
                               .labels = &scenario->labels,
                               .plan = &scenario->bench.plan,
                               .present = 0};
    char title[16], words[HP_ENTRY_WORDS], details[HP_PLUG_LEAD_COUNT * (HP_LABEL_SIZE + 48)];
    const hp_words *own = hp_words_of(entry->entry.reading);
    hp_phrase more = hp_phrase_begin(details, sizeof details);
    snprintf(title, sizeof title, "%4d.", entry->entry.number);
    print_part(out, title, hp_entry_words(&context, &entry->entry, words, sizeof words));
    if (own && own->details)
        own->details(&context, entry->entry.values, &more);
    if (details[0])
        print_part(out, "", details);
    print_part(out, "", entry->time);
    if (entry->entry.typical)
        print_part(out, "", "typical figures, not measured");
    if (entry->note[0])
        print_part(out, "", entry->note);
}
