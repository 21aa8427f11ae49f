/*
 * Reading a bench log: see bench_log.h.
 *
 * The way of a file is that of a scenario: bytes (scenario_source), document (scenario_yaml), items
 * of the list (bench_log_item), their keys (bench_log_entry), values (field.h); all
 * problems come out in one go.
 */
#include "base/hash.h"
#include "record/log/bench_log_parts.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

typedef struct read_log {
    const hp_source *source;
    const hp_scenario *scenario;
    hp_problems *problems;
} read_log;

/* ---- the head -------------------------------------------------------------------------------- */

enum { HEAD_FORMAT, HEAD_SCENARIO, HEAD_LEADS, HEAD_ENTRIES, HEAD_COUNT };

static const char *const head_name[HEAD_COUNT] = {"hubphase_log", "scenario", "leads", "entries"};

static void check_format(const hp_value *value)
{
    static const hp_limits one = {.unit = "", .low = 1, .high = 1, .whole = true};
    double number;
    if (value->key.line == 0)
        hp_problems_add(value->problems, (hp_place){0, 0, 1},
                        "hubphase_log is missing, must be there as `hubphase_log: 1`, the format's "
                        "number");
    else
        hp_value_number(value, &one, &number);
}

static void check_scenario(const read_log *r, const hp_value *value)
{
    char name[HP_BENCH_NAME_SIZE], text[HP_BENCH_NAME_SIZE];
    hp_bench_log_scenario_name(r->scenario, name, sizeof name);
    if (value->key.line == 0)
        hp_problems_add(value->problems, (hp_place){0, 0, 1},
                        "scenario is missing, must be the scenario's name, \"%s\"", name);
    else if (hp_value_line(value, text, sizeof text) && strcmp(text, name) != 0)
        hp_problems_add(value->problems, hp_value_place(value),
                        "scenario is \"%s\", must be \"%s\": this log belongs to another machine; "
                        "if only the name was changed, change it here too",
                        text, name);
}

/* A list of three labels, the same and in the same order as in the scenario: codes and wirings were
 * written down in this order. */
static void check_leads(const hp_value *group, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE])
{
    char expected[4 * HP_LABEL_SIZE + 80], text[HP_LABEL_SIZE];
    void *position = NULL;
    struct fy_node *node;
    bool same = hp_yaml_kind_of(group->node) == HP_YAML_LIST &&
                fy_node_sequence_item_count(group->node) == HP_PHASE_COUNT;
    for (int k = 0; same && (node = fy_node_sequence_iterate(group->node, &position)) != NULL; k++)
        same = hp_yaml_kind_of(node) == HP_YAML_TEXT && hp_yaml_text(node, text, sizeof text) &&
               strcmp(text, label[k]) == 0;
    if (same)
        return;
    snprintf(expected, sizeof expected, "[%s, %s, %s]", label[HP_U], label[HP_V], label[HP_W]);
    hp_problems_add(group->problems, group->key,
                    "%s differs from the scenario's leads, must be %s: what the log says was "
                    "written down for other leads",
                    group->path, expected);
}

static void check_lead_groups(const read_log *r, const hp_value *value)
{
    static const char *const name[] = {"motor_phases", "motor_sensors", "controller_outputs",
                                       "controller_inputs"};
    const hp_labels *labels = &r->scenario->labels;
    const char(*label[])[HP_LABEL_SIZE] = {labels->motor_lead, labels->motor_sensor,
                                           labels->controller_output, labels->controller_input};
    void *position = NULL;
    hp_yaml_member m;
    if (value->key.line == 0)
        return;
    if (hp_yaml_kind_of(value->node) != HP_YAML_MAPPING) {
        hp_value_refuse(value,
                        "a mapping with some of the keys motor_phases, motor_sensors, "
                        "controller_outputs, controller_inputs",
                        "");
        return;
    }
    while (hp_yaml_next(value->node, value->key, &position, &m)) {
        char path[HP_YAML_NAME + 16];
        int group = 0;
        while (group < 4 && strcmp(m.name, name[group]) != 0)
            group++;
        snprintf(path, sizeof path, "leads.%s", m.name);
        hp_value list = {.problems = r->problems, .path = path, .node = m.value, .key = m.place};
        if (group < 4)
            check_leads(&list, label[group]);
        else
            hp_problems_add(r->problems, list.key,
                            "%s is not known, must be motor_phases, motor_sensors, "
                            "controller_outputs or controller_inputs",
                            path);
    }
}

static void refuse_head_key(const read_log *r, const char *name, hp_place place)
{
    const char *nearest = hp_bench_nearest(name, head_name, HEAD_COUNT);
    if (nearest)
        hp_problems_add(r->problems, place, "%s is not known, did you mean %s?", name, nearest);
    else
        hp_problems_add(r->problems, place,
                        "%s is not known, must be one of hubphase_log, scenario, leads, entries",
                        name);
}

static void find_head(const read_log *r, struct fy_node *root, hp_value head[HEAD_COUNT])
{
    void *position = NULL;
    hp_yaml_member m;
    while (hp_yaml_next(root, (hp_place){1, 1, 1}, &position, &m)) {
        int k = 0;
        while (k < HEAD_COUNT && strcmp(m.name, head_name[k]) != 0)
            k++;
        if (strcmp(m.name, "hubphase") == 0) {
            hp_problems_add(r->problems, m.place,
                            "this is a scenario, must be a bench log, which begins with "
                            "`hubphase_log: 1`");
            return; /* its other keys would only be refused one by one */
        }
        if (k == HEAD_COUNT)
            refuse_head_key(r, m.name, m.place);
        else if (head[k].key.line > 0)
            hp_problems_add(r->problems, m.place,
                            "%s is given a second time, must be there once: the first is in line "
                            "%d",
                            m.name, head[k].key.line);
        else
            head[k] = (hp_value){
                .problems = r->problems, .path = head_name[k], .node = m.value, .key = m.place};
    }
}

/* ---- the list -------------------------------------------------------------------------------- */

/* Where the dash before a place stands: only blanks, line breaks and a brace between. Line 0: not
 * found. */
static hp_place dash_before(const hp_source *source, hp_place place)
{
    size_t length;
    const char *line = hp_source_line(source, place.line, &length), *at = line;
    for (int k = 1; k < place.column && *at; k++) {
        at++;
        while (((unsigned char)*at & 0xC0) == 0x80)
            at++;
    }
    while (at > source->text && strchr(" \t\r\n{", at[-1])) {
        at--;
        if (*at == '\n' || (*at == '\r' && at[1] != '\n'))
            place.line--;
    }
    if (at == source->text || at[-1] != '-')
        return (hp_place){0, 0, 1};
    const char *dash = at - 1, *start = dash;
    while (start > source->text && start[-1] != '\n' && start[-1] != '\r')
        start--;
    place.column = 1;
    for (; start < dash && place.column > 0; start++)
        place.column = *start == ' ' ? place.column + 1 : -1;
    return place.column > 0 ? place : (hp_place){0, 0, 1};
}

static hp_result read_list(const read_log *r, const hp_value *list, hp_bench_log *log,
                           hp_bench_text *text, hp_error *err)
{
    void *position = NULL;
    struct fy_node *node;
    if (list->key.line > 0 && hp_yaml_kind_of(list->node) == HP_YAML_NOTHING)
        return HP_OK;
    if (list->key.line == 0 || hp_yaml_kind_of(list->node) != HP_YAML_LIST) {
        if (list->key.line > 0)
            hp_value_refuse(list, "a list of readings and trials, one a dash", "");
        else
            hp_problems_add(r->problems, (hp_place){0, 0, 1},
                            "entries is missing, must be a list of readings and trials");
        return HP_OK;
    }
    int count = fy_node_sequence_item_count(list->node);
    log->entry = calloc((size_t)count + 1, sizeof *log->entry);
    if (!log->entry)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a log of %d entries", count);
    while ((node = fy_node_sequence_iterate(list->node, &position)) != NULL) {
        hp_place dash = dash_before(r->source, hp_yaml_place(node));
        hp_bench_entry *entry = &log->entry[log->count];
        hp_bench_item_read(r->problems, &r->scenario->labels, log->count + 1, list->key, node,
                           entry); /* what is wrong stands in the problems */
        entry->line = dash.line;
        if (dash.line > 0)
            text->column = dash.column;
        log->count++;
    }
    return HP_OK;
}

/* Whether `entries` comes last and is written line by line, so that one more can follow it. */
static bool is_list_last(struct fy_node *root, const hp_value *list)
{
    void *position = NULL;
    struct fy_node *last = NULL;
    hp_yaml_member m;
    while (hp_yaml_next(root, (hp_place){1, 1, 1}, &position, &m))
        last = m.value;
    bool flow =
        fy_node_get_style(root) == FYNS_FLOW ||
        (hp_yaml_kind_of(list->node) == HP_YAML_LIST && fy_node_get_style(list->node) == FYNS_FLOW);
    return list->key.line > 0 && last == list->node && !flow;
}

static hp_result read_root(const read_log *r, struct fy_node *root, hp_bench_log *log,
                           hp_bench_text *text, hp_error *err)
{
    hp_value head[HEAD_COUNT];
    memset(head, 0, sizeof head);
    for (int k = 0; k < HEAD_COUNT; k++) {
        head[k].problems = r->problems;
        head[k].path = head_name[k];
    }
    if (hp_yaml_kind_of(root) != HP_YAML_MAPPING) {
        hp_value whole = {
            .problems = r->problems, .path = "the file", .node = root, .key = {1, 1, 1}};
        hp_value_refuse(&whole, "a mapping of keys that begins with `hubphase_log: 1`", "");
        return HP_OK;
    }
    find_head(r, root, head);
    if (hp_yaml_kind_of(root) == HP_YAML_MAPPING && r->problems->count > 0 &&
        head[HEAD_FORMAT].key.line == 0 && head[HEAD_ENTRIES].key.line == 0)
        return HP_OK; /* some other file: its own keys say enough */
    check_format(&head[HEAD_FORMAT]);
    check_scenario(r, &head[HEAD_SCENARIO]);
    check_lead_groups(r, &head[HEAD_LEADS]);
    text->list_last = is_list_last(root, &head[HEAD_ENTRIES]);
    return read_list(r, &head[HEAD_ENTRIES], log, text, err);
}

/* ---- files ----------------------------------------------------------------------------------- */

hp_result hp_bench_log_parse(const hp_source *source, const hp_scenario *scenario,
                             hp_bench_log *log, hp_bench_text *text, hp_problems *problems,
                             hp_error *err)
{
    hp_place place;
    char what[120];
    hp_yaml yaml;
    read_log r = {.source = source, .scenario = scenario, .problems = problems};
    memset(text, 0, sizeof *text);
    if (!hp_source_clean(source, &place, what, sizeof what)) {
        hp_problems_add(problems, place, "%s", what);
        return HP_FAIL_INPUT;
    }
    hp_result result = hp_yaml_load(&yaml, source, problems, err);
    if (result == HP_OK)
        result = read_root(&r, yaml.root, log, text, err);
    hp_yaml_free(&yaml);
    return result == HP_OK && problems->count > 0 ? HP_FAIL_INPUT : result;
}

hp_result hp_bench_log_fetch(const char *path, hp_source *source, bool *there, hp_error *err)
{
    struct stat found;
    memset(source, 0, sizeof *source);
    *there = false;
    bool known = stat(path, &found) == 0;
    if (!known && errno == ENOENT) {
        if (lstat(path, &found) == 0)
            return hp_error_set(err, HP_FAIL_IO, "%s is a link to a file that is not there", path);
        return HP_OK;
    }
    /* A pipe would be waited for, and nothing can be added to it. */
    if (known && !S_ISREG(found.st_mode) && !S_ISDIR(found.st_mode))
        return hp_error_set(err, HP_FAIL_IO,
                            "%s is a pipe or a device, must be a plain file for a bench log", path);
    hp_result result = hp_source_read_as(source, path, "bench log", "hubphase_log: 1", err);
    *there = result == HP_OK;
    return result;
}

hp_result hp_bench_log_report(const char *path, hp_problems *problems, const hp_source *source,
                              const hp_screen *diagnostics, hp_error *err)
{
    int count = problems->count;
    if (diagnostics)
        hp_problems_print(problems, source, diagnostics);
    return hp_error_set(err, HP_FAIL_INPUT, "%s has %d problem%s", path, count,
                        count == 1 ? "" : "s");
}

/* Reads a file where `bytes` is NULL. */
static hp_result load_from(const char *bytes, size_t size, const char *path,
                           const hp_scenario *scenario, hp_bench_log *log,
                           const hp_screen *diagnostics, const hp_problem_ear *ear, hp_error *err)
{
    hp_source source;
    hp_bench_text text;
    memset(log, 0, sizeof *log);
    if (strlen(path) >= sizeof log->path)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "the name of the bench log has %zu bytes, must "
                            "have at most %zu",
                            strlen(path), sizeof log->path - 1);
    hp_problems *problems = calloc(1, sizeof *problems);
    if (!problems)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to read %s", path);
    log->exists = bytes != NULL;
    hp_result result =
        bytes ? hp_source_copy_as(&source, bytes, size, path, "bench log", "hubphase_log: 1", err)
              : hp_bench_log_fetch(path, &source, &log->exists, err);
    if (result == HP_OK && log->exists)
        result = hp_bench_log_parse(&source, scenario, log, &text, problems, err);
    log->print = hp_hash_bytes(source.text ? source.text : "", source.size);
    if (result == HP_FAIL_INPUT && problems->count > 0) {
        hp_bench_log_report(path, problems, &source, diagnostics, err);
        if (ear)
            hp_problems_tell(problems, &source, ear);
    }
    hp_source_free(&source);
    free(problems);
    if (result != HP_OK)
        hp_bench_log_free(log);
    else
        snprintf(log->path, sizeof log->path, "%s", path);
    return result;
}

hp_result hp_bench_log_load_on(const char *path, const hp_scenario *scenario, hp_bench_log *log,
                               const hp_screen *diagnostics, hp_error *err)
{
    return load_from(NULL, 0, path, scenario, log, diagnostics, NULL, err);
}

hp_result hp_bench_log_load(const char *path, const hp_scenario *scenario, hp_bench_log *log,
                            FILE *diagnostics, hp_error *err)
{
    const hp_screen unfilled = {.file = diagnostics};
    return load_from(NULL, 0, path, scenario, log, diagnostics ? &unfilled : NULL, NULL, err);
}

hp_result hp_bench_log_read(const char *text, size_t size, const char *name,
                            const hp_scenario *scenario, hp_bench_log *log, FILE *diagnostics,
                            hp_error *err)
{
    const hp_screen unfilled = {.file = diagnostics};
    return load_from(text, size, name, scenario, log, diagnostics ? &unfilled : NULL, NULL, err);
}

hp_result hp_bench_log_read_heard(const char *text, size_t size, const char *name,
                                  const hp_scenario *scenario, hp_bench_log *log,
                                  const hp_problem_ear *ear, hp_error *err)
{
    return load_from(text, size, name, scenario, log, NULL, ear, err);
}

bool hp_bench_log_changed(const hp_bench_log *log)
{
    hp_source source;
    bool there;
    if (hp_bench_log_fetch(log->path, &source, &there, NULL) != HP_OK)
        return true;
    bool changed =
        there != log->exists || (there && hp_hash_bytes(source.text, source.size) != log->print);
    hp_source_free(&source);
    return changed;
}

void hp_bench_log_free(hp_bench_log *log)
{
    free(log->entry);
    memset(log, 0, sizeof *log);
}
