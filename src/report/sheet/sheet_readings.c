/*
 * Readings of a wiring sheet: see sheet_lists.h.
 *
 * Of several readings of the same thing the last one counts, since a part may have been mended in
 * between; a reading older than the last mend says so.
 */
#include "report/sheet/sheet_lists.h"

#include "decide/reading/reading.h"
#include "hubphase/decide/evidence.h"
#include "report/picture/picture_parts.h"
#include "report/words/words.h"

#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define NOT_MEASURED "not measured"

hp_sheet_line *hp_sheet_add(hp_sheet_list *list, const char *format, ...)
{
    if (list->count == HP_SHEET_LINES)
        return NULL;
    hp_sheet_line *line = &list->line[list->count++];
    memset(line, 0, sizeof *line);
    va_list args;
    va_start(args, format);
    vsnprintf(line->what, sizeof line->what, format, args);
    va_end(args);
    return line;
}

hp_sheet_line *hp_sheet_add_titled(hp_sheet_list *list, const char *title)
{
    hp_sheet_line *line = hp_sheet_add(list, "%s", title);
    if (line)
        line->what[0] = (char)toupper((unsigned char)line->what[0]);
    return line;
}

void hp_sheet_set(const hp_sheet_source *source, hp_sheet_line *line, const hp_entry *entry,
                  const char *format, ...)
{
    if (!line)
        return;
    if (!entry) {
        snprintf(line->from, sizeof line->from, NOT_MEASURED);
        return;
    }
    va_list args;
    va_start(args, format);
    vsnprintf(line->value, sizeof line->value, format, args);
    va_end(args);
    const hp_entry *mend = NULL;
    for (const hp_entry *later = entry + 1; later < source->entry + source->entries; later++)
        if (hp_entry_outdated(entry, later))
            mend = later;
    if (mend)
        snprintf(line->from, sizeof line->from, "log entry %d, before the mend of entry %d",
                 entry->number, mend->number);
    else
        snprintf(line->from, sizeof line->from, "log entry %d", entry->number);
}

/* A figure that was learnt from readings is none that somebody stated; it stands among the
 * machine's own. */
static bool is_learnt(const hp_wiring_sheet *sheet, const hp_parameter *parameter)
{
    const hp_commission_case *work = sheet->source.work;
    hp_scenario *base = work ? hp_commission_case_scenario(work)->base : NULL;
    if (!base)
        return false;
    const hp_parameter *before = hp_parameters_find(&base->parameters, parameter->key);
    return !before || strcmp(before->value, parameter->value) != 0;
}

/* What the scenario itself states stands below the log's own reading. */
void hp_sheet_add_stated(hp_wiring_sheet *sheet, const char *key, const char *what,
                         const char *unit, const char *at_key, const char *at_unit)
{
    hp_parameters *parameters = sheet->source.parameters;
    const hp_parameter *p = hp_parameters_find(parameters, key);
    const hp_parameter *at = at_key ? hp_parameters_find(parameters, at_key) : NULL;
    if (!p || p->origin != HP_ORIGIN_FILE || is_learnt(sheet, p))
        return;
    hp_sheet_line *line = hp_sheet_add(&sheet->readings, "%s", what);
    if (!line)
        return;
    if (at && at->origin == HP_ORIGIN_FILE)
        snprintf(line->value, sizeof line->value, "%s %s at %s %s", p->value, unit, at->value,
                 at_unit);
    else
        snprintf(line->value, sizeof line->value, "%s%s%s", p->value, unit[0] ? " " : "", unit);
    snprintf(line->from, sizeof line->from, "scenario, line %d", p->line);
}

/* The two leads of pair k, which is named by the lead that it leaves out. */
const char *hp_sheet_pair(const hp_labels *labels, int pair, char *out, size_t size)
{
    int a = (pair + 1) % HP_PHASE_COUNT, b = (pair + 2) % HP_PHASE_COUNT;
    snprintf(out, size, "%s-%s", hp_picture_label(labels->motor_lead[a], a),
             hp_picture_label(labels->motor_lead[b], b));
    return out;
}

const hp_entry *hp_sheet_last(const hp_sheet_source *source, const hp_reading *reading,
                              hp_sheet_says says, int index)
{
    for (int k = source->entries - 1; k >= 0; k--) {
        if (source->entry[k].reading != reading)
            continue;
        hp_entry found = hp_entry_as_found(&source->entry[k]);
        if (says(found.values, index))
            return &source->entry[k];
    }
    return NULL;
}

/* The kind whose lines come next after those at `place`, or NULL; of two at one place the one
 * listed first. */
static const hp_words *next_kept(const hp_words *last)
{
    const hp_words *best = NULL;
    bool passed = !last;
    for (int k = 0; hp_words_list[k]; k++) {
        const hp_words *w = hp_words_list[k];
        bool later = !last || w->sheet_place > last->sheet_place ||
                     (w->sheet_place == last->sheet_place && passed && w != last);
        passed = passed || w == last;
        if (w->keep && later && (!best || w->sheet_place < best->sheet_place))
            best = w;
    }
    return best;
}

void hp_sheet_fill_readings(hp_wiring_sheet *sheet)
{
    for (const hp_words *w = next_kept(NULL); w; w = next_kept(w))
        w->keep(sheet);
}
