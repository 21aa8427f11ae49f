/* One entry of a bench log: which keys are there, what is missing, what several say together. See
 * bench_log_keys.h. */
#include "record/log/bench_log_keys.h"

#include <string.h>

#define PATH_SIZE     192
#define EXPECTED_SIZE 480

hp_bench_entry hp_bench_entry_make(hp_entry_kind kind)
{
    hp_bench_entry entry;
    memset(&entry, 0, sizeof entry);
    entry.entry = hp_entry_make(kind, 0);
    return entry;
}

char *hp_bench_key_path(const hp_entry_reader *reading, const char *name, char *out, size_t size)
{
    snprintf(out, size, "%s%s", reading->prefix ? reading->prefix : "--", name);
    for (char *c = out; !reading->prefix && *c; c++)
        if (*c == '_')
            *c = '-';
    return out;
}

/* What the mapping of an entry says of each key of its kind. */
typedef struct found {
    struct fy_node *node[HP_BENCH_KEYS_MAX]; /* NULL: the key is not there */
    hp_place place[HP_BENCH_KEYS_MAX];
} found;

/* ---- which keys are there -------------------------------------------------------------------- */

/* Another kind's key of this name, or NULL. */
static const hp_bench_key *elsewhere(const char *name)
{
    const hp_bench_key *key = hp_bench_keys;
    while (key->name && strcmp(key->name, name) != 0)
        key++;
    return key->name ? key : NULL;
}

static void refuse_unknown(const hp_entry_reader *reading, hp_entry_kind kind, const char *name,
                           hp_place place)
{
    char path[PATH_SIZE], list[EXPECTED_SIZE] = "";
    const char *word[HP_BENCH_KEYS_MAX];
    const hp_bench_key *keys = hp_bench_keys_of(kind), *other = elsewhere(name);
    int count = hp_bench_keys_count(kind);
    for (int k = 0; k < count; k++) {
        size_t used = strlen(list);
        snprintf(list + used, sizeof list - used, "%s%s", k ? ", " : "", keys[k].name);
        word[k] = keys[k].name;
    }
    const char *nearest = hp_bench_nearest(name, word, count);
    hp_bench_key_path(reading, name, path, sizeof path);
    if (nearest)
        hp_problems_add(reading->problems, place, "%s is not known, did you mean %s?", path,
                        nearest);
    else if (other)
        hp_problems_add(reading->problems, place,
                        "%s is not known here, it belongs to %s; %s has the keys %s", path,
                        hp_bench_kind_name(other->kind), hp_bench_kind_name(kind), list);
    else
        hp_problems_add(reading->problems, place, "%s is not known, must be one of %s", path, list);
}

static bool find_key(const hp_entry_reader *reading, hp_entry_kind kind, hp_place holder,
                     struct fy_node_pair *pair, found *f)
{
    char name[64] = "", path[PATH_SIZE];
    struct fy_node *node = fy_node_pair_key(pair);
    hp_place place = hp_yaml_place(node);
    if (place.line == 0)
        place = holder;
    bool text = hp_yaml_kind_of(node) == HP_YAML_TEXT;
    bool whole = text && hp_yaml_text(node, name, sizeof name);
    if (!text || name[0] == '\0') {
        hp_problems_add(reading->problems, place, "a key of %s is no plain word, must be one",
                        hp_bench_kind_name(kind));
        return false;
    }
    const hp_bench_key *key = whole ? hp_bench_key_find(kind, name) : NULL;
    if (!key) {
        refuse_unknown(reading, kind, name, place);
        return false;
    }
    int index = (int)(key - hp_bench_keys_of(kind));
    if (f->place[index].line > 0) {
        hp_problems_add(reading->problems, place,
                        "%s is given a second time, must be there once: the first is in line %d",
                        hp_bench_key_path(reading, name, path, sizeof path), f->place[index].line);
        return false;
    }
    f->node[index] = fy_node_pair_value(pair);
    f->place[index] = place;
    return true;
}

/* ---- what several keys say ------------------------------------------------------------------- */

static const char *const plug_part[HP_PLUG_LEAD_COUNT] = {
    "phase_pins",  "phase_pins",  "phase_pins",      "sensor_pins",
    "sensor_pins", "sensor_pins", "supply_plus_pin", "supply_minus_pin"};

/* "phase lead yellow", "supply plus" */
static char *plug_name(const hp_labels *labels, int lead, char *out, size_t size)
{
    if (lead < HP_PLUG_SENSOR_U)
        snprintf(out, size, "phase lead %s", labels->motor_lead[lead]);
    else if (lead < HP_PLUG_SUPPLY_PLUS)
        snprintf(out, size, "sensor lead %s", labels->motor_sensor[lead - HP_PLUG_SENSOR_U]);
    else
        snprintf(out, size, "%s", lead == HP_PLUG_SUPPLY_PLUS ? "sensor plus" : "sensor minus");
    return out;
}

/* Every lead one pin, no pin twice. */
static bool settle_plug(const hp_entry_reader *reading, hp_place place, const hp_plug_map *plug)
{
    char path[PATH_SIZE], name[HP_LABEL_SIZE + 16], other[HP_LABEL_SIZE + 16];
    bool good = true;
    for (int k = 0; plug->given && k < HP_PLUG_LEAD_COUNT; k++) {
        hp_bench_key_path(reading, plug_part[k], path, sizeof path);
        plug_name(reading->labels, k, name, sizeof name);
        if (plug->pin[k][0] == '\0') {
            hp_problems_add(reading->problems, place,
                            "%s says no pin for %s, must name one pin for every lead", path, name);
            good = false;
        }
        for (int j = 0; j < k && plug->pin[k][0]; j++)
            if (strcmp(plug->pin[j], plug->pin[k]) == 0) {
                hp_problems_add(reading->problems, place,
                                "%s gives pin %s to %s, which has %s already: no pin twice", path,
                                plug->pin[k], name,
                                plug_name(reading->labels, j, other, sizeof other));
                good = false;
            }
    }
    return good;
}

static bool settle_part(const hp_entry_reader *reading, hp_place place, const hp_mend *mend,
                        bool lead_given)
{
    char path[PATH_SIZE];
    hp_fault_kind kind = mend->fault.kind;
    if (lead_given || kind == HP_FAULT_NONE || kind == HP_FAULT_CLUTCH)
        return true;
    hp_problems_add(reading->problems, place, "%s is missing, must be the mended %s lead",
                    hp_bench_key_path(reading, "lead", path, sizeof path),
                    kind == HP_FAULT_LEAD_OPEN ? "phase" : "sensor");
    return false;
}

static bool settle_starts(const hp_entry_reader *reading, hp_place place, const hp_trial *trial,
                          bool starts_given)
{
    char path[PATH_SIZE], other[PATH_SIZE];
    bool tried = trial->starts_tried > 0;
    if (tried == starts_given)
        return true;
    hp_bench_key_path(reading, tried ? "starts" : "starts_tried", path, sizeof path);
    hp_bench_key_path(reading, tried ? "starts_tried" : "starts", other, sizeof other);
    hp_problems_add(reading->problems, place, "%s is missing, must be there beside %s", path,
                    other);
    return false;
}

/* The check of evidence itself, without its own count of entries. */
static bool check_evidence(const hp_entry_reader *reading, hp_place place, const hp_entry *entry)
{
    char start[64];
    hp_error err = hp_error_none();
    if (hp_entry_check(entry, &err) == HP_OK)
        return true;
    int length =
        snprintf(start, sizeof start, "entry %d (%s): ", entry->number, hp_entry_name(entry->kind));
    const char *text = err.text;
    if (strncmp(text, start, (size_t)length) == 0)
        text += length;
    if (reading->prefix)
        hp_problems_add(reading->problems, place, "%.*s: %s", (int)strlen(reading->prefix) - 1,
                        reading->prefix, text);
    else
        hp_problems_add(reading->problems, place, "%s", text);
    return false;
}

static bool is_there(const found *f, hp_entry_kind kind, const char *name)
{
    const hp_bench_key *key = hp_bench_key_find(kind, name);
    return key && f->place[key - hp_bench_keys_of(kind)].line > 0;
}

static hp_place place_of(const found *f, hp_entry_kind kind, const char *name, hp_place otherwise)
{
    return is_there(f, kind, name)
               ? f->place[hp_bench_key_find(kind, name) - hp_bench_keys_of(kind)]
               : otherwise;
}

bool hp_bench_values_settle(const hp_entry_reader *reading, hp_place place,
                            const hp_bench_entry *entry)
{
    return settle_plug(reading, place, &entry->plug) &&
           check_evidence(reading, place, &entry->entry);
}

static bool settle(const hp_entry_reader *reading, hp_place place, const found *f,
                   const hp_bench_entry *entry)
{
    hp_entry_kind kind = entry->entry.kind;
    if (kind == HP_ENTRY_MEND && !settle_part(reading, place_of(f, kind, "part", place),
                                              &entry->entry.mend, is_there(f, kind, "lead")))
        return false;
    if (kind == HP_ENTRY_TRIAL && !settle_starts(reading, place_of(f, kind, "starts", place),
                                                 &entry->entry.trial, is_there(f, kind, "starts")))
        return false;
    return hp_bench_values_settle(reading, place, entry);
}

/* ---- an entry's values ----------------------------------------------------------------------- */

static bool read_found(const hp_entry_reader *reading, hp_place place, const found *f,
                       hp_bench_entry *entry)
{
    char path[PATH_SIZE], expected[EXPECTED_SIZE];
    const hp_bench_key *keys = hp_bench_keys_of(entry->entry.kind);
    int count = hp_bench_keys_count(entry->entry.kind);
    bool good = true;
    for (int k = 0; k < count; k++) {
        hp_bench_key_path(reading, keys[k].name, path, sizeof path);
        hp_value value = {
            .problems = reading->problems, .path = path, .node = f->node[k], .key = f->place[k]};
        if (f->place[k].line > 0) {
            good = hp_bench_key_read(&keys[k], &value, reading->labels, entry) && good;
        } else if (keys[k].required) {
            hp_problems_add(
                reading->problems, place, "%s is missing, must be %s", path,
                hp_bench_key_expected(&keys[k], reading->labels, expected, sizeof expected));
            good = false;
        }
    }
    return good;
}

bool hp_bench_values_read(const hp_entry_reader *reading, hp_place place, struct fy_node *mapping,
                          hp_bench_entry *entry)
{
    found f;
    void *position = NULL;
    struct fy_node_pair *pair;
    bool good = true;
    memset(&f, 0, sizeof f);
    while (mapping && (pair = fy_node_mapping_iterate(mapping, &position)) != NULL)
        good = find_key(reading, entry->entry.kind, place, pair, &f) && good;
    good = read_found(reading, place, &f, entry) && good;
    return good && settle(reading, place, &f, entry);
}
