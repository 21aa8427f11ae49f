/* One item of a bench log's list: time, note, and one kind with its values. See bench_log_keys.h.
 */
#include "record/log/bench_log_keys.h"

#include <string.h>

#define PATH_SIZE 160

/* What the keys of one item of the list are. */
typedef struct item {
    char path[40]; /* "entries[3]" */
    hp_place place;
    hp_value time, note, values; /* node NULL and key.line 0: not there */
    hp_entry_kind kind;          /* HP_ENTRY_KIND_COUNT: not there */
    bool good;
} item;

static void list_kinds(char *out, size_t size)
{
    out[0] = '\0';
    for (hp_entry_kind kind = 0; kind < HP_ENTRY_KIND_COUNT; kind++) {
        size_t used = strlen(out);
        snprintf(out + used, size - used, "%s%s", kind ? ", " : "", hp_bench_kind_name(kind));
    }
}

static void refuse_item_key(hp_problems *problems, item *it, const char *name, hp_place place)
{
    const char *word[HP_ENTRY_KIND_COUNT + 2] = {"time", "note"};
    char known[160];
    for (int kind = 0; kind < HP_ENTRY_KIND_COUNT; kind++)
        word[kind + 2] = hp_bench_kind_name((hp_entry_kind)kind);
    const char *nearest = hp_bench_nearest(name, word, HP_ENTRY_KIND_COUNT + 2);
    it->good = false;
    list_kinds(known, sizeof known);
    if (nearest)
        hp_problems_add(problems, place, "%s.%s is not known, did you mean %s?", it->path, name,
                        nearest);
    else
        hp_problems_add(problems, place, "%s.%s is not known, must be time, note or one of %s",
                        it->path, name, known);
}

/* Notes a key in its slot; false, a problem added, when it stands there already. */
static bool take(hp_problems *problems, item *it, hp_value *slot, const char *name, hp_place place,
                 struct fy_node *node)
{
    if (slot->key.line > 0) {
        hp_problems_add(problems, place,
                        "%s.%s is given a second time, must be there once: the first is in line %d",
                        it->path, name, slot->key.line);
        it->good = false;
        return false;
    }
    slot->problems = problems;
    slot->node = node;
    slot->key = place;
    return true;
}

static void find_item_key(hp_problems *problems, item *it, struct fy_node_pair *pair)
{
    char name[64] = "";
    struct fy_node *key = fy_node_pair_key(pair), *node = fy_node_pair_value(pair);
    hp_place place = hp_yaml_place(key);
    if (place.line == 0)
        place = it->place;
    if (hp_yaml_kind_of(key) != HP_YAML_TEXT || (hp_yaml_text(key, name, sizeof name), !name[0])) {
        hp_problems_add(problems, place, "a key of %s is no plain word, must be one", it->path);
        it->good = false;
        return;
    }
    hp_entry_kind kind = HP_ENTRY_KIND_COUNT;
    for (hp_entry_kind k = 0; k < HP_ENTRY_KIND_COUNT; k++)
        if (strcmp(name, hp_bench_kind_name(k)) == 0)
            kind = k;
    if (strcmp(name, "time") == 0) {
        take(problems, it, &it->time, name, place, node);
    } else if (strcmp(name, "note") == 0) {
        take(problems, it, &it->note, name, place, node);
    } else if (kind == HP_ENTRY_KIND_COUNT) {
        refuse_item_key(problems, it, name, place);
    } else if (it->kind != HP_ENTRY_KIND_COUNT && it->kind != kind) {
        hp_problems_add(problems, place, "%s has %s beside %s, must have one: write two entries",
                        it->path, name, hp_bench_kind_name(it->kind));
        it->good = false;
    } else if (take(problems, it, &it->values, name, place, node)) {
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

static bool read_values(hp_problems *problems, const hp_labels *labels, const item *it,
                        hp_bench_entry *entry)
{
    char prefix[PATH_SIZE + 2], path[PATH_SIZE], expected[480] = "a mapping with some of the keys ";
    const hp_bench_key *keys = hp_bench_keys_of(it->kind);
    hp_value value = it->values;
    snprintf(path, sizeof path, "%s.%s", it->path, hp_bench_kind_name(it->kind));
    snprintf(prefix, sizeof prefix, "%s.", path);
    value.path = path;
    if (hp_yaml_kind_of(value.node) != HP_YAML_MAPPING) {
        for (int k = 0; k < hp_bench_keys_count(it->kind); k++) {
            size_t used = strlen(expected);
            snprintf(expected + used, sizeof expected - used, "%s%s", k ? ", " : "", keys[k].name);
        }
        hp_value_refuse(&value, expected, "");
        return false;
    }
    hp_entry_reader reading = {.problems = problems, .labels = labels, .prefix = prefix};
    return hp_bench_values_read(&reading, value.key, value.node, entry);
}

bool hp_bench_item_read(hp_problems *problems, const hp_labels *labels, int number, hp_place list,
                        struct fy_node *node, hp_bench_entry *entry)
{
    char known[160];
    void *position = NULL;
    struct fy_node_pair *pair;
    item it = {.kind = HP_ENTRY_KIND_COUNT, .good = true, .place = hp_yaml_place(node)};
    snprintf(it.path, sizeof it.path, "entries[%d]", number);
    if (it.place.line == 0)
        it.place = list;
    list_kinds(known, sizeof known);
    if (hp_yaml_kind_of(node) != HP_YAML_MAPPING) {
        hp_value value = {.problems = problems, .path = it.path, .node = node, .key = list};
        hp_value_refuse(&value, "a mapping with a time and what was measured or tried", "");
        return false;
    }
    while ((pair = fy_node_mapping_iterate(node, &position)) != NULL)
        find_item_key(problems, &it, pair);
    if (it.kind == HP_ENTRY_KIND_COUNT) {
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
    return read_values(problems, labels, &it, entry) && good;
}
