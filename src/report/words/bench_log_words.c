/* An entry of a bench log in words: see bench_log.h. What was measured comes from
 * report/words/card.h; here stand what only the log knows: time, pins, note. */
#include "hubphase/record/bench_log.h"

#include "hubphase/base/text.h"
#include "report/words/card.h"

#include <string.h>

/* "pin 1 phase yellow, pin 2 ..." */
static void plug_words(const hp_plug_map *plug, const hp_labels *labels, char *out, size_t size)
{
    size_t used = 0;
    out[0] = '\0';
    for (int k = 0; k < HP_PLUG_LEAD_COUNT && used < size; k++) {
        bool phase = k < HP_PLUG_SENSOR_U, sensor = !phase && k < HP_PLUG_SUPPLY_PLUS;
        const char *lead = phase                      ? labels->motor_lead[k]
                           : sensor                   ? labels->motor_sensor[k - HP_PLUG_SENSOR_U]
                           : k == HP_PLUG_SUPPLY_PLUS ? "sensor plus"
                                                      : "sensor minus";
        used +=
            (size_t)snprintf(out + used, size - used, "%spin %s %s%s", k ? ", " : "", plug->pin[k],
                             phase    ? "phase "
                             : sensor ? "sensor "
                                      : "",
                             lead);
    }
}

static void print_part(FILE *out, const char *title, const char *text)
{
    char clean[2 * HP_BENCH_NOTE_SIZE];
    hp_text_fill(out, title, 7, hp_text_clean(text, clean, sizeof clean));
}

void hp_bench_entry_print(const hp_bench_entry *entry, const hp_scenario *scenario, FILE *out)
{
    hp_card_context context = {.drive = &scenario->drive,
                               .labels = &scenario->labels,
                               .plan = &scenario->bench.plan,
                               .present = 0};
    char title[16], words[HP_ENTRY_WORDS], plug[HP_PLUG_LEAD_COUNT * (HP_LABEL_SIZE + 48)];
    snprintf(title, sizeof title, "%4d.", entry->entry.number);
    print_part(out, title, hp_entry_words(&context, &entry->entry, words, sizeof words));
    if (entry->plug.given) {
        plug_words(&entry->plug, &scenario->labels, plug, sizeof plug);
        print_part(out, "", plug);
    }
    print_part(out, "", entry->time);
    if (entry->note[0])
        print_part(out, "", entry->note);
}
