/* One entry of a bench log: which keys are there, what is missing, what several say together. See
 * bench_log_parts.h. */
#include "hubphase/decide/evidence.h"
#include "record/log/bench_log_parts.h"

#include <string.h>

#define PATH_SIZE     (HP_YAML_NAME + 64)
#define EXPECTED_SIZE 480

hp_bench_entry hp_bench_entry_make(const hp_reading *reading)
{
    hp_bench_entry entry;
    memset(&entry, 0, sizeof entry);
    entry.entry = hp_entry_make(reading, 0);
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

/* What the mapping of an entry says of each field of its kind. */
typedef struct found {
    struct fy_node *node[HP_FIELDS_MAX]; /* NULL: the key is not there */
    hp_place place[HP_FIELDS_MAX];
    bool given[HP_FIELDS_MAX];
} found;

/* ---- which keys are there -------------------------------------------------------------------- */

/* The first kind with a field of this name, or NULL. */
static const hp_reading *elsewhere(const char *name)
{
    for (int k = 0; hp_readings[k]; k++)
        if (hp_field_find(hp_readings[k], name))
            return hp_readings[k];
    return NULL;
}

static void refuse_unknown(const hp_entry_reader *reading, const hp_reading *kind, const char *name,
                           hp_place place)
{
    char path[PATH_SIZE], list[EXPECTED_SIZE];
    const char *word[HP_FIELDS_MAX];
    const hp_reading *other = elsewhere(name);
    hp_phrase phrase = hp_phrase_begin(list, sizeof list);
    int count = hp_fields_count(kind);
    for (int k = 0; k < count; k++) {
        hp_phrase_comma(&phrase);
        hp_phrase_add(&phrase, "%s", kind->fields[k].name);
        word[k] = kind->fields[k].name;
    }
    const char *nearest = hp_bench_nearest(name, word, count);
    hp_bench_key_path(reading, name, path, sizeof path);
    if (nearest)
        hp_problems_add(reading->problems, place, "%s is not known, did you mean %s?", path,
                        nearest);
    else if (other)
        hp_problems_add(reading->problems, place,
                        "%s is not known here, it belongs to %s; %s has the keys %s", path,
                        other->name, kind->name, list);
    else
        hp_problems_add(reading->problems, place, "%s is not known, must be one of %s", path, list);
}

static bool find_key(const hp_entry_reader *reading, const hp_reading *kind,
                     const hp_yaml_member *m, found *f)
{
    char path[PATH_SIZE];
    if (m->name[0] == '\0') {
        hp_problems_add(reading->problems, m->place, "a key of %s is no plain word, must be one",
                        kind->name);
        return false;
    }
    const hp_field *field = m->whole ? hp_field_find(kind, m->name) : NULL;
    if (!field) {
        refuse_unknown(reading, kind, m->name, m->place);
        return false;
    }
    int index = (int)(field - kind->fields);
    if (f->given[index]) {
        hp_problems_add(reading->problems, m->place,
                        "%s is given a second time, must be there once: the first is in line %d",
                        hp_bench_key_path(reading, m->name, path, sizeof path),
                        f->place[index].line);
        return false;
    }
    f->node[index] = m->value;
    f->place[index] = m->place;
    f->given[index] = true;
    return true;
}

/* ---- what several keys say ------------------------------------------------------------------- */

/* What a kind needs to say what is wrong with its values together. */
typedef struct settling {
    hp_settling own; /* first: a pointer to it is one to all */
    const hp_entry_reader *reading;
    const hp_reading *kind;
    const found *found; /* NULL: not from a mapping */
    hp_place place;
} settling;

static void refuse(const hp_settling *own, const char *field, const char *beside, const char *text)
{
    const settling *s = (const settling *)own;
    char path[PATH_SIZE];
    hp_place place = s->place;
    if (s->found && beside) {
        int index = (int)(hp_field_find(s->kind, beside) - s->kind->fields);
        if (s->found->given[index])
            place = s->found->place[index];
    }
    hp_problems_add(s->reading->problems, place, "%s %s",
                    hp_bench_key_path(s->reading, field, path, sizeof path), text);
}

static char *name_of(const hp_settling *own, const char *field, char *out, size_t size)
{
    return hp_bench_key_path(((const settling *)own)->reading, field, out, size);
}

/* The check of evidence itself, without its own count of entries. */
static bool check_evidence(const hp_entry_reader *reading, hp_place place, const hp_entry *entry)
{
    hp_error err = hp_error_none();
    if (!entry->reading->check || entry->reading->check(entry->values, &err) == HP_OK)
        return true;
    if (reading->prefix)
        hp_problems_add(reading->problems, place, "%.*s: %s", (int)strlen(reading->prefix) - 1,
                        reading->prefix, err.text);
    else
        hp_problems_add(reading->problems, place, "%s", err.text);
    return false;
}

/* Whether a step of commissioning was noted without anything found in it; `there`: or with nothing
 * but that what it looks at is there. */
static bool says_nothing(const hp_entry *entry, bool there)
{
    if (hp_reading_stage(entry->reading) == HP_STAGE_WIRING)
        return false;
    for (const hp_field *field = entry->reading->fields; field->name; field++) {
        const unsigned char *at = entry->values + field->offset;
        bool yes = there && field->presence && *(const hp_tell *)(const void *)at == HP_TELL_YES;
        if (!yes && hp_field_is_said(field, entry))
            return false;
    }
    return true;
}

bool hp_bench_says_nothing(const hp_entry *entry)
{
    return says_nothing(entry, true);
}

/* "says nothing, must have at least one of fitted, pins, ...", with keys or options. */
static void refuse_empty(const hp_entry_reader *reading, hp_place place, const hp_reading *kind)
{
    char path[PATH_SIZE] = "", names[EXPECTED_SIZE];
    hp_phrase p = hp_phrase_begin(names, sizeof names);
    for (const hp_field *field = kind->fields; field->name; field++) {
        hp_phrase_comma(&p);
        hp_phrase_add(&p, "%s",
                      reading->prefix ? field->name
                                      : hp_bench_key_path(reading, field->name, path, sizeof path));
    }
    if (reading->prefix)
        snprintf(path, sizeof path, "%.*s", (int)strlen(reading->prefix) - 1, reading->prefix);
    hp_problems_add(reading->problems, place,
                    "%s says nothing of what was found, must have at least one of %s",
                    reading->prefix ? path : kind->name, names);
}

static bool settle(const hp_entry_reader *reading, hp_place place, const found *f,
                   const hp_entry *entry)
{
    const settling s = {.own = {.labels = reading->labels,
                                .given = f ? f->given : NULL,
                                .refuse = refuse,
                                .name = name_of},
                        .reading = reading,
                        .kind = entry->reading,
                        .found = f,
                        .place = place};
    if (says_nothing(entry, false)) {
        refuse_empty(reading, place, entry->reading);
        return false;
    }
    if (entry->reading->settle && !entry->reading->settle(&s.own, entry->values))
        return false;
    return check_evidence(reading, place, entry);
}

bool hp_bench_values_settle(const hp_entry_reader *reading, hp_place place,
                            const hp_bench_entry *entry)
{
    return settle(reading, place, NULL, &entry->entry);
}

/* ---- an entry's values ----------------------------------------------------------------------- */

static bool read_found(const hp_entry_reader *reading, hp_place place, const found *f,
                       hp_bench_entry *entry)
{
    char path[PATH_SIZE], expected[EXPECTED_SIZE];
    const hp_field *fields = entry->entry.reading->fields;
    bool good = true;
    for (int k = 0; fields[k].name; k++) {
        hp_bench_key_path(reading, fields[k].name, path, sizeof path);
        hp_value value = {
            .problems = reading->problems, .path = path, .node = f->node[k], .key = f->place[k]};
        if (f->given[k]) {
            good = hp_field_read(&fields[k], &value, reading->labels, &entry->entry) && good;
        } else if (fields[k].required) {
            hp_problems_add(
                reading->problems, place, "%s is missing, must be %s", path,
                hp_field_expected(&fields[k], reading->labels, expected, sizeof expected));
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
    hp_yaml_member m;
    bool good = true;
    memset(&f, 0, sizeof f);
    while (hp_yaml_next(mapping, place, &position, &m))
        good = find_key(reading, entry->entry.reading, &m, &f) && good;
    good = read_found(reading, place, &f, entry) && good;
    return good && settle(reading, place, &f, &entry->entry);
}
