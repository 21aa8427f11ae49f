/*
 * Settings of a wiring sheet: see sheet_lists.h.
 *
 * A default of the simulation is no setting of this controller, so only what the scenario or the
 * command line says counts.
 */
#include "report/sheet/sheet_lists.h"

#include "record/scenario/parameters.h"
#include "report/words/words.h"

#include <stdio.h>
#include <string.h>

#define NOT_STATED "not stated"

/* A value that the file spells for the program, as people say it. */
static const char *said(const char *value)
{
    static const char *const table[][2] = {
        {"six_step_120", "six steps, Hall sensors at 120 degrees"},
        {"six_step_60", "six steps, Hall sensors at 60 degrees"},
    };
    for (size_t k = 0; k < sizeof table / sizeof table[0]; k++)
        if (strcmp(value, table[k][0]) == 0)
            return table[k][1];
    return value;
}

/* What a key says, or the empty line. */
static void add_setting(hp_wiring_sheet *sheet, const char *key, const char *what, const char *unit)
{
    hp_sheet_line *line = hp_sheet_add(&sheet->settings, "%s", what);
    const hp_parameter *p = hp_parameters_find(sheet->source.parameters, key);
    if (!line)
        return;
    if (!p || !hp_parameter_is_stated(p)) {
        snprintf(line->from, sizeof line->from, NOT_STATED);
        return;
    }
    bool bare = strcmp(p->value, "none") == 0 || !unit[0];
    snprintf(line->value, sizeof line->value, "%s%s%s", said(p->value), bare ? "" : " ",
             bare ? "" : unit);
    if (p->origin == HP_ORIGIN_FILE)
        snprintf(line->from, sizeof line->from, "scenario, line %d", p->line);
    else
        snprintf(line->from, sizeof line->from, "command line");
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
    for (int k = 0; hp_words_list[k]; k++)
        if (hp_words_list[k]->keep_settings)
            hp_words_list[k]->keep_settings(sheet);
    add_setting(sheet, "supply.battery_v", "Battery voltage without load", "V");
}
