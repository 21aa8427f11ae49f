/*
 * Settings of a wiring sheet: see sheet_lists.h.
 *
 * A default of the simulation is no setting of this controller, so only what the scenario or the
 * command line says counts.
 */
#include "report/sheet/sheet_lists.h"

#include "report/picture/picture_parts.h"

#include <stdio.h>
#include <string.h>

#define NOT_STATED "not stated"

/* What a key says, or the empty line. */
static void add_setting(hp_wiring_sheet *sheet, const char *key, const char *what, const char *unit)
{
    hp_sheet_line *line = hp_sheet_add(&sheet->settings, "%s", what);
    const hp_parameter *p = hp_parameters_find(sheet->source.parameters, key);
    if (!line)
        return;
    if (!p || (p->origin != HP_ORIGIN_FILE && p->origin != HP_ORIGIN_OPTION)) {
        snprintf(line->from, sizeof line->from, NOT_STATED);
        return;
    }
    bool bare = strcmp(p->value, "none") == 0 || !unit[0];
    snprintf(line->value, sizeof line->value, "%s%s%s", p->value, bare ? "" : " ",
             bare ? "" : unit);
    if (p->origin == HP_ORIGIN_FILE)
        snprintf(line->from, sizeof line->from, "scenario, line %d", p->line);
    else
        snprintf(line->from, sizeof line->from, "command line");
}

/* Longest name of an output that eight rows of the table have room for [bytes]. */
#define OUTPUT_NAME 24

/* "100: blue > green, ...", by the letters of the outputs where a name is too long for it. */
static void write_rows(const hp_probe *probe, const hp_labels *labels, char *out, size_t size)
{
    const char *name[HP_PHASE_COUNT];
    size_t used = 0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        bool fits = strlen(labels->controller_output[k]) <= OUTPUT_NAME;
        name[k] = hp_picture_label(fits ? labels->controller_output[k] : "", k);
    }
    for (int code = 0; code < HP_CODE_COUNT && used < size; code++) {
        const hp_commutation_row *row = &probe->row[code];
        bool off = row->high < 0 || row->low < 0;
        if (!probe->read[code])
            continue;
        used +=
            (size_t)snprintf(out + used, size - used, "%s%d%d%d: %s%s%s", used ? ", " : "",
                             code >> 2 & 1, code >> 1 & 1, code & 1, off ? "off" : name[row->high],
                             off ? "" : " > ", off ? "" : name[row->low]);
    }
}

/* The rows that were read off the controller's outputs, by the names of its leads. */
static void add_probed_table(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    const hp_labels *labels = source->labels;
    const hp_entry *entry = NULL;
    for (int k = 0; k < source->entries; k++)
        if (source->entry[k].kind == HP_ENTRY_PROBE)
            entry = &source->entry[k];
    if (!entry)
        return;
    hp_sheet_line *line = hp_sheet_add(&sheet->settings, "Commutation table as metered");
    if (!line)
        return;
    write_rows(&entry->probe, labels, line->value, sizeof line->value);
    snprintf(line->from, sizeof line->from, "log entry %d", entry->number);
}

void hp_sheet_fill_settings(hp_wiring_sheet *sheet)
{
    add_setting(sheet, "controller.throttle_percent", "Throttle for trials", "%");
    add_setting(sheet, "controller.speed_steps_percent", "Throttle caps of the speed switch", "%");
    add_setting(sheet, "controller.speed_step", "Speed step in use", "");
    add_setting(sheet, "controller.battery_current_limit_a", "Battery current limit", "A");
    add_setting(sheet, "controller.phase_current_limit_a", "Phase current limit", "A");
    add_setting(sheet, "controller.undervoltage_v", "Under-voltage cut-out", "V");
    add_setting(sheet, "controller.stall_cutout_s", "Stall cut-out after", "s");
    add_setting(sheet, "controller.ramp_percent_per_s", "Soft start, throttle rises by", "%/s");
    add_setting(sheet, "controller.table", "Commutation table", "");
    add_probed_table(sheet);
    add_setting(sheet, "supply.battery_v", "Battery voltage without load", "V");
}
