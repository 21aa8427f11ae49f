/* One item of a bench log's list: time, note, whether its figures were
 * measured, and one kind with its values. See bench_log_parts.h.
 */
#include "hubphase/decide/evidence.h"
#include "record/log/bench_log_parts.h"

#include <string.h>

#define PATH_SIZE  (HP_YAML_NAME + 48)
#define KNOWN_SIZE 400

/* What the keys of one item of the list are. */
typedef struct item {
    char path[40]; /* "entries[3]" */
    hp_place place;
    hp_value time, note, figures, values; /* node NULL and key.line 0: not there */
    const hp_reading *kind;               /* NULL: not there */
    bool good;
} item;

/* Keys beside the kind. */
static const char *const beside[] = {"time", "note", "figures"};
#define BESIDE ((int)(sizeof beside / sizeof beside[0]))

static void list_kinds(char *out, size_t size)
{
    hp_phrase phrase = hp_phrase_begin(out, size);
    for (int k = 0; hp_readings[k]; k++) {
        hp_phrase_comma(&phrase);
        hp_phrase_add(&phrase, "%s", hp_readings[k]->name);
    }
}

static void refuse_item_key(hp_problems *problems, item *it, const hp_yaml_member *m)
{
    const char *word[HP_READINGS_MAX + BESIDE];
    char known[KNOWN_SIZE];
    int count = 0;
    for (; count < BESIDE; count++)
        word[count] = beside[count];
    for (int k = 0; hp_readings[k]; k++)
        word[count++] = hp_readings[k]->name;
    const char *nearest = hp_bench_nearest(m->name, word, count);
    it->good = false;
    list_kinds(known, sizeof known);
    if (nearest)
        hp_problems_add(problems, m->place, "%s.%s is not known, did you mean %s?", it->path,
                        m->name, nearest);
    else
        hp_problems_add(problems, m->place,
                        "%s.%s is not known, must be time, note, figures or one of %s", it->path,
                        m->name, known);
}

/* Notes a key in its slot; false, a problem added, when it stands there already. */
static bool take(hp_problems *problems, item *it, hp_value *slot, const hp_yaml_member *m)
{
    if (slot->key.line > 0) {
        hp_problems_add(problems, m->place,
                        "%s.%s is given a second time, must be there once: the first is in line %d",
                        it->path, m->name, slot->key.line);
        it->good = false;
        return false;
    }
    slot->problems = problems;
    slot->node = m->value;
    slot->key = m->place;
    return true;
}

/* The kind that a key names, spelled just so; NULL: none. */
static const hp_reading *kind_of(const char *name)
{
    for (int k = 0; hp_readings[k]; k++)
        if (strcmp(name, hp_readings[k]->name) == 0)
            return hp_readings[k];
    return NULL;
}

static void find_item_key(hp_problems *problems, item *it, const hp_yaml_member *m)
{
    hp_value *slot[BESIDE] = {&it->time, &it->note, &it->figures};
    const hp_reading *kind = kind_of(m->name);
    if (m->name[0] == '\0') {
        hp_problems_add(problems, m->place, "a key of %s is no plain word, must be one", it->path);
        it->good = false;
        return;
    }
    for (int k = 0; k < BESIDE; k++)
        if (strcmp(m->name, beside[k]) == 0) {
            take(problems, it, slot[k], m);
            return;
        }
    if (!kind) {
        refuse_item_key(problems, it, m);
    } else if (it->kind && it->kind != kind) {
        hp_problems_add(problems, m->place, "%s has %s beside %s, must have one: write two entries",
                        it->path, m->name, it->kind->name);
        it->good = false;
    } else if (take(problems, it, &it->values, m)) {
        it->kind = kind;
    }
}

static bool read_time(const item *it, hp_bench_entry *entry)
{
    static const char expected[] =
        "a time with its offset from UTC such as 2026-11-25T10:40:00+01:00";
    char path[PATH_SIZE];
    hp_value value = it->time;
    snprintf(path, sizeof path, "%s.time", it->path);
    value.path = path;
    bool good = hp_yaml_kind_of(value.node) == HP_YAML_TEXT &&
                hp_yaml_text(value.node, entry->time, sizeof entry->time) &&
                hp_bench_log_time_check(entry->time);
    if (!good)
        hp_value_refuse(&value, expected, "");
    return good;
}

static bool read_note(const item *it, hp_bench_entry *entry)
{
    char path[PATH_SIZE];
    hp_value value = it->note;
    snprintf(path, sizeof path, "%s.note", it->path);
    value.path = path;
    if (value.key.line == 0 || hp_yaml_kind_of(value.node) == HP_YAML_NOTHING)
        return true;
    if (!hp_value_text(&value, entry->note, sizeof entry->note))
        return false;
    size_t length = strlen(entry->note);
    while (length > 0 && entry->note[length - 1] == '\n')
        entry->note[--length] = '\0';
    return true;
}

/* What the page for the bench wrote into a note before entries had `figures`. */
static const char old_typical_note[] =
    "By a button: the figures are typical of the answer, not measured.";

/* Whether the figures were measured. In an old log the note said that they were not: here, and only
 * here, it is turned into what it meant. */
static bool read_figures(const item *it, hp_bench_entry *entry)
{
    char path[PATH_SIZE];
    int index = 0;
    hp_value value = it->figures;
    if (value.key.line == 0) {
        if (strcmp(entry->note, old_typical_note) == 0) {
            entry->entry.typical = true;
            entry->note[0] = '\0';
        }
        return true;
    }
    snprintf(path, sizeof path, "%s.figures", it->path);
    value.path = path;
    if (!hp_value_choice(&value, hp_bench_figures_words, &index))
        return false;
    entry->entry.typical = index == 1;
    return true;
}

static bool read_values(hp_problems *problems, const hp_labels *labels, const item *it,
                        hp_bench_entry *entry)
{
    char prefix[PATH_SIZE + 2], path[PATH_SIZE], expected[480];
    hp_value value = it->values;
    snprintf(path, sizeof path, "%s.%s", it->path, it->kind->name);
    snprintf(prefix, sizeof prefix, "%s.", path);
    value.path = path;
    if (hp_yaml_kind_of(value.node) != HP_YAML_MAPPING) {
        hp_phrase phrase = hp_phrase_begin(expected, sizeof expected);
        hp_phrase_add(&phrase, "a mapping with some of the keys ");
        for (const hp_field *field = it->kind->fields; field->name; field++)
            hp_phrase_add(&phrase, "%s%s", field == it->kind->fields ? "" : ", ", field->name);
        hp_value_refuse(&value, expected, "");
        return false;
    }
    hp_entry_reader reading = {.problems = problems, .labels = labels, .prefix = prefix};
    return hp_bench_values_read(&reading, value.key, value.node, entry);
}

bool hp_bench_item_read(hp_problems *problems, const hp_labels *labels, int number, hp_place list,
                        struct fy_node *node, hp_bench_entry *entry)
{
    char known[KNOWN_SIZE];
    void *position = NULL;
    hp_yaml_member m;
    item it = {.good = true, .place = hp_yaml_place(node)};
    snprintf(it.path, sizeof it.path, "entries[%d]", number);
    if (it.place.line == 0)
        it.place = list;
    list_kinds(known, sizeof known);
    if (hp_yaml_kind_of(node) != HP_YAML_MAPPING) {
        hp_value value = {.problems = problems, .path = it.path, .node = node, .key = list};
        hp_value_refuse(&value, "a mapping with a time and what was measured or tried", "");
        return false;
    }
    while (hp_yaml_next(node, it.place, &position, &m))
        find_item_key(problems, &it, &m);
    if (!it.kind) {
        if (it.good)
            hp_problems_add(problems, it.place, "%s does not say what it is, must have one of %s",
                            it.path, known);
        return false;
    }
    *entry = hp_bench_entry_make(it.kind);
    entry->entry.number = number;
    entry->line = it.place.line;
    if (it.time.key.line == 0)
        hp_problems_add(problems, it.place,
                        "%s.time is missing, must be a time such as 2026-11-25T10:40:00+01:00",
                        it.path);
    bool good = it.good && it.time.key.line > 0;
    good = (it.time.key.line > 0 && read_time(&it, entry)) && good;
    good = read_note(&it, entry) && good;
    good = read_figures(&it, entry) && good;
    return read_values(problems, labels, &it, entry) && good;
}

/* The plug that an entry notes; NULL: its kind notes none. */
static const hp_plug_map *plug_of(const hp_entry *entry)
{
    for (const hp_field *field = hp_fields_of(entry->reading); field->name; field++)
        if (field->type == HP_FIELD_PHASE_PINS)
            return (const hp_plug_map *)(entry->values + field->offset);
    return NULL;
}

const hp_plug_map *hp_bench_log_plug(const hp_bench_log *log)
{
    for (int k = log->count - 1; k >= 0; k--) {
        const hp_plug_map *plug = plug_of(&log->entry[k].entry);
        if (plug && plug->given)
            return plug;
    }
    return NULL;
}
