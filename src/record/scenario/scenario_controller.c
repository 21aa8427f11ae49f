/* Sensors and controller: table, speed steps, cut-off voltage. See scenario_settle.h. */
#include "record/scenario/scenario_number.h"
#include "record/scenario/scenario_settle.h"

#include <string.h>

void hp_settle_sensors(hp_reader *reader)
{
    hp_sensors_params *sensors = &reader->draft.drive.sensors;
    sensors->spacing_60 = reader->draft.spacing == 1;
    sensors->no_supply = !reader->draft.powered;
}

/* "110" to a code; -1 for anything else. */
static int code_of(const char *text)
{
    if (strlen(text) != 3 || strspn(text, "01") != 3)
        return -1;
    return hp_code(text[0] - '0', text[1] - '0', text[2] - '0');
}

/* "V>W", blanks allowed, or "off". */
static bool read_row_text(const char *text, hp_commutation_row *row)
{
    static const char letters[] = "UVW";
    char packed[8];
    size_t used = 0;
    for (; *text && used < sizeof packed - 1; text++)
        if (*text != ' ')
            packed[used++] = *text;
    packed[used] = '\0';
    if (strcmp(packed, "off") == 0) {
        *row = (hp_commutation_row){-1, -1};
        return true;
    }
    if (used != 3 || packed[1] != '>' || !strchr(letters, packed[0]) || !strchr(letters, packed[2]))
        return false;
    row->high = (int)(strchr(letters, packed[0]) - letters);
    row->low = (int)(strchr(letters, packed[2]) - letters);
    return true;
}

static bool read_row(const hp_value *table, const hp_yaml_member *m, hp_commutation_table *out,
                     bool seen[HP_CODE_COUNT])
{
    char text[32] = "", path[HP_YAML_NAME + 64];
    int code = m->whole ? code_of(m->name) : -1;
    hp_place place = m->place;
    struct fy_node *node = m->value;
    snprintf(path, sizeof path, "%s.%s", table->path, m->name);
    if (code < 0) {
        hp_problems_add(table->problems, place,
                        "%s is no Hall code, must be three digits 0 or 1 such as 100, for the "
                        "inputs U V W",
                        path);
        return false;
    }
    if (seen[code]) {
        hp_problems_add(table->problems, place, "%s is given a second time, must be there once",
                        path);
        return false;
    }
    seen[code] = true;
    hp_value value = {.problems = table->problems, .path = path, .node = node, .key = place};
    if (hp_yaml_kind_of(node) == HP_YAML_TEXT && hp_yaml_text(node, text, sizeof text) &&
        read_row_text(text, &out->row[code]))
        return true;
    hp_value_refuse(&value, "a pair of outputs, high > low, such as V>W, or off", "");
    return false;
}

static void settle_table(hp_reader *reader)
{
    hp_value value = hp_reader_value(reader, HP_KEY_TABLE);
    hp_commutation_table *table = &reader->draft.drive.controller.table;
    hp_error err = hp_error_none();
    if (!hp_reader_has(reader, HP_KEY_TABLE))
        return;
    if (hp_yaml_kind_of(value.node) != HP_YAML_MAPPING) {
        if (!hp_value_choice(&value, hp_table_names, &reader->draft.table_name))
            reader->reading[HP_KEY_TABLE].state = HP_VALUE_BAD;
        else
            *table = reader->draft.table_name == 0 ? hp_commutation_table_120()
                                                   : hp_commutation_table_60();
        return;
    }
    void *position = NULL;
    hp_yaml_member m;
    bool seen[HP_CODE_COUNT] = {false}, good = true;
    reader->draft.table_named = false;
    *table = hp_commutation_table_empty();
    while (hp_yaml_next(value.node, value.key, &position, &m))
        good = read_row(&value, &m, table, seen) && good;
    if (!good)
        reader->reading[HP_KEY_TABLE].state = HP_VALUE_BAD;
    else if (hp_commutation_table_check(table, &err) != HP_OK)
        hp_reader_problem(reader, HP_KEY_TABLE, "controller.table is no six-step table: %s",
                          err.text);
}

/* The list; false when it was wrong. */
static bool read_steps(hp_reader *reader)
{
    static const hp_limits limits = {.unit = "%", .low = 0, .high = 100, .above = true};
    hp_draft *draft = &reader->draft;
    hp_value list = hp_reader_value(reader, HP_KEY_SPEED_STEPS);
    char expected[80];
    snprintf(expected, sizeof expected, "a list of 1 to %d percentages such as [40, 70, 100]",
             HP_SPEED_STEPS_MAX);
    void *position = NULL;
    struct fy_node *node;
    bool good = hp_yaml_kind_of(list.node) == HP_YAML_LIST;
    int count = 0;
    if (good)
        while ((node = fy_node_sequence_iterate(list.node, &position)) != NULL) {
            char path[64];
            snprintf(path, sizeof path, "%s[%d]", list.path, ++count);
            hp_value item = {.problems = list.problems,
                             .path = path,
                             .node = node,
                             .key = list.key,
                             .nowhere = list.nowhere,
                             .listed = true};
            double percent = 0.0;
            if (count > HP_SPEED_STEPS_MAX)
                break;
            good = hp_value_number(&item, &limits, &percent) && good;
            draft->speed_step_percent[count - 1] = percent;
        }
    draft->speed_steps = count < HP_SPEED_STEPS_MAX ? count : HP_SPEED_STEPS_MAX; /* those held */
    if (hp_yaml_kind_of(list.node) != HP_YAML_LIST || count < 1) {
        char text[64], hint[160] = "";
        if (hp_yaml_kind_of(list.node) == HP_YAML_TEXT &&
            hp_yaml_text(list.node, text, sizeof text))
            hp_number_list_hint(text, &limits, hint, sizeof hint);
        hp_value_refuse(&list, expected, hint);
        return false;
    }
    if (count > HP_SPEED_STEPS_MAX) {
        hp_problems_add(list.problems, list.nowhere ? (hp_place){0, 0, 1} : list.key,
                        "%s has more than %d entries, must be %s", list.path, HP_SPEED_STEPS_MAX,
                        expected);
        return false;
    }
    return good;
}

static void settle_steps(hp_reader *reader)
{
    hp_draft *draft = &reader->draft;
    if (!hp_reader_has(reader, HP_KEY_SPEED_STEPS)) {
        reader->reading[HP_KEY_SPEED_STEP].idle = true;
        if (hp_reader_has(reader, HP_KEY_SPEED_STEP))
            hp_reader_problem(reader, HP_KEY_SPEED_STEP,
                              "controller.speed_step is %d, but controller.speed_steps_percent is "
                              "missing, must be the list it counts in",
                              draft->speed_step);
        return;
    }
    if (!read_steps(reader)) {
        reader->reading[HP_KEY_SPEED_STEPS].state = HP_VALUE_BAD;
        return;
    }
    if (hp_reader_lacks(reader, HP_KEY_SPEED_STEP))
        draft->speed_step = draft->speed_steps;
    if (!hp_reader_sound(reader, HP_KEY_SPEED_STEP))
        return;
    if (draft->speed_step > draft->speed_steps)
        hp_reader_problem(reader, HP_KEY_SPEED_STEP,
                          "controller.speed_step is %d, must be from 1 to %d, the entries of "
                          "controller.speed_steps_percent",
                          draft->speed_step, draft->speed_steps);
    else
        draft->drive.controller.speed_cap = 0.01 * draft->speed_step_percent[draft->speed_step - 1];
}

void hp_settle_controller(hp_reader *reader)
{
    const hp_drive *drive = &reader->draft.drive;
    settle_table(reader);
    settle_steps(reader);
    if (hp_reader_has(reader, HP_KEY_UNDERVOLTAGE) && hp_reader_sound(reader, HP_KEY_BATTERY_V) &&
        drive->controller.undervoltage_v >= drive->supply.emf_v)
        hp_reader_problem(reader, HP_KEY_UNDERVOLTAGE,
                          "controller.undervoltage_v is %.6g, must be below supply.battery_v "
                          "(%.6g): it would never run",
                          drive->controller.undervoltage_v, drive->supply.emf_v);
}
