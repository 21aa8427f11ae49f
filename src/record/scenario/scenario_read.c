/* From a document to a filled draft: see the header. */
#include "record/scenario/scenario_read.h"

#include "hubphase/base/text.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static void *field(hp_reader *reader, hp_key_id id)
{
    return (char *)&reader->draft + hp_key_of(id)->offset;
}

/* The section that holds a key, or HP_KEY_COUNT for the top. */
static hp_key_id section_of(hp_key_id id)
{
    for (hp_key_id section = 0; section < HP_KEY_COUNT; section++)
        if (hp_key_of(section)->kind == HP_KEY_IS_SECTION &&
            hp_key_is_in(id, hp_key_of(section)->path))
            return section;
    return HP_KEY_COUNT;
}

hp_value hp_reader_value(const hp_reader *reader, hp_key_id id)
{
    return (hp_value){.problems = reader->problems,
                      .path = hp_key_of(id)->path,
                      .node = reader->reading[id].value,
                      .key = reader->reading[id].place,
                      .nowhere = reader->reading[id].changed};
}

hp_place hp_reader_place(const hp_reader *reader, hp_key_id id)
{
    for (; id != HP_KEY_COUNT; id = section_of(id)) {
        if (reader->reading[id].changed)
            break;
        if (reader->reading[id].place.line == 0)
            continue;
        hp_value value = hp_reader_value(reader, id);
        return hp_key_of(id)->kind == HP_KEY_IS_SECTION ? value.key : hp_value_place(&value);
    }
    return (hp_place){0, 0, 1};
}

void hp_reader_problem(hp_reader *reader, hp_key_id id, const char *format, ...)
{
    char text[640];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    hp_problems_add_key(reader->problems, hp_reader_place(reader, id), hp_key_of(id)->path, "%s",
                        text);
    reader->reading[id].state = HP_VALUE_BAD;
}

bool hp_reader_require(hp_reader *reader, hp_key_id id, const char *expected)
{
    if (!hp_reader_lacks(reader, id))
        return hp_reader_has(reader, id);
    hp_key_id section = section_of(id);
    if (section != HP_KEY_COUNT && !hp_reader_sound(reader, section)) {
        reader->reading[id].state = HP_VALUE_BAD; /* the section's problem says enough */
        return false;
    }
    hp_reader_problem(reader, id, "%s is missing, must be %s", hp_key_of(id)->path, expected);
    return false;
}

double hp_reader_number(const hp_reader *reader, hp_key_id id)
{
    return hp_draft_number(&reader->draft, id);
}

static void set_number(hp_reader *reader, hp_key_id id, double number)
{
    const hp_key *key = hp_key_of(id);
    if (key->kind == HP_KEY_IS_NUMBER) {
        double scaled = number * key->factor;
        memcpy(field(reader, id), &scaled, sizeof scaled);
    } else {
        int whole = (int)number;
        memcpy(field(reader, id), &whole, sizeof whole);
    }
}

void hp_reader_derive(hp_reader *reader, hp_key_id id, double number, const char *format, ...)
{
    hp_key_found *reading = &reader->reading[id];
    assert(hp_key_follows(id));
    set_number(reader, id, number);
    reading->derived = true;
    va_list args;
    va_start(args, format);
    vsnprintf(reading->why, sizeof reading->why, format, args);
    va_end(args);
}

/* A label that began or ended with a blank, a comma or a slash could not be told from what stands
 * between labels on the command line. */
static bool read_label(const hp_value *value, char *out, size_t size)
{
    static const char between[] = " ,/";
    char text[HP_LABEL_SIZE];
    if (!hp_value_line(value, text, sizeof text))
        return false;
    if (strchr(between, text[0]) || strchr(between, text[strlen(text) - 1])) {
        hp_value_refuse(value, "a text in one line of 1 to 63 bytes",
                        ": without a blank, a comma or a slash at its ends");
        return false;
    }
    snprintf(out, size, "%s", text);
    return true;
}

/* Reads a value that the table alone can read; false when it was wrong. */
static bool read_value(hp_reader *reader, hp_key_id id)
{
    const hp_key *key = hp_key_of(id);
    hp_value value = hp_reader_value(reader, id);
    void *at = field(reader, id);
    double number = 0.0;
    switch (key->kind) {
    case HP_KEY_IS_NUMBER:
    case HP_KEY_IS_WHOLE:
        if (!hp_value_number(&value, &key->limits, &number))
            return false;
        set_number(reader, id, number);
        return true;
    case HP_KEY_IS_FLAG: return hp_value_flag(&value, at);
    case HP_KEY_IS_CHOICE: return hp_value_choice(&value, key->words, at);
    case HP_KEY_IS_LINE: return hp_value_line(&value, at, key->size);
    case HP_KEY_IS_LABEL: return read_label(&value, at, key->size);
    case HP_KEY_IS_SECTION:
    case HP_KEY_IS_SPECIAL: break;
    }
    return true;
}

/* "a, b, c": the keys of a section. */
static void list_keys(const char *section, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    for (hp_key_id id = 0; id < HP_KEY_COUNT; id++)
        if (hp_key_is_in(id, section))
            hp_phrase_add(&p, "%s%s", p.used ? ", " : "", hp_key_name(id));
}

static void refuse_unknown(hp_reader *reader, const char *section, const char *name, hp_place place)
{
    char path[HP_YAML_NAME + 96], known[480];
    if (reader->problems->count >= HP_PROBLEMS_SHOWN) {
        reader->problems->count++; /* no search for what nobody will see */
        return;
    }
    snprintf(path, sizeof path, "%s%s%s", section, section[0] ? "." : "", name);
    hp_key_id nearest = hp_key_nearest(section, name);
    hp_key_id elsewhere = hp_key_elsewhere(section, name);
    if (elsewhere != HP_KEY_COUNT && name[1]) {
        hp_problems_add(reader->problems, place, "%s is not known here, did you mean %s?", path,
                        hp_key_of(elsewhere)->path);
    } else if (nearest != HP_KEY_COUNT) {
        hp_problems_add(reader->problems, place, "%s is not known, did you mean %s?", path,
                        hp_key_name(nearest));
    } else {
        list_keys(section, known, sizeof known);
        hp_problems_add(reader->problems, place, "%s is not known, must be one of %s", path, known);
    }
}

static void read_section(hp_reader *reader, hp_key_id section, struct fy_node *mapping);

/* A key whose value is a mapping of further keys. */
static void enter_section(hp_reader *reader, hp_key_id id)
{
    struct fy_node *node = reader->reading[id].value;
    if (hp_yaml_kind_of(node) == HP_YAML_MAPPING) {
        read_section(reader, id, node);
        return;
    }
    char known[480], expected[560];
    list_keys(hp_key_of(id)->path, known, sizeof known);
    snprintf(expected, sizeof expected, "a mapping with some of the keys %s", known);
    hp_value value = hp_reader_value(reader, id);
    hp_value_refuse(&value, expected, "");
    reader->reading[id].state = HP_VALUE_BAD;
}

/* One line of the file. `section` is "" at the top; `holder` is its key's place. */
static void read_member(hp_reader *reader, const char *section, const hp_yaml_member *m)
{
    if (m->name[0] == '\0') {
        hp_problems_add(reader->problems, m->place, "a key%s%s is no plain word, must be one",
                        section[0] ? " of " : "", section);
        return;
    }
    hp_key_id id = m->whole ? hp_key_find(section, m->name) : HP_KEY_COUNT;
    if (id == HP_KEY_COUNT) {
        refuse_unknown(reader, section, m->name, m->place);
        return;
    }
    hp_key_found *reading = &reader->reading[id];
    if (reading->place.line > 0) {
        hp_problems_add(reader->problems, m->place,
                        "%s is given a second time, must be there once: the first is in line %d",
                        hp_key_of(id)->path, reading->place.line);
        return;
    }
    reading->place = m->place;
    reading->value = m->value;
    reading->state = HP_VALUE_GOOD;
    if (hp_key_of(id)->kind == HP_KEY_IS_SECTION)
        enter_section(reader, id);
    else if (!read_value(reader, id))
        reading->state = HP_VALUE_BAD;
}

/* HP_KEY_COUNT is the top. */
static void read_section(hp_reader *reader, hp_key_id section, struct fy_node *mapping)
{
    void *position = NULL;
    hp_yaml_member m;
    bool top = section == HP_KEY_COUNT;
    const char *path = top ? "" : hp_key_of(section)->path;
    hp_place holder = top ? (hp_place){0, 0, 1} : reader->reading[section].place;
    while (hp_yaml_next(mapping, holder, &position, &m))
        read_member(reader, path, &m);
}

bool hp_reader_read(hp_reader *reader, struct fy_node *root)
{
    if (hp_yaml_kind_of(root) == HP_YAML_MAPPING) {
        read_section(reader, HP_KEY_COUNT, root);
        return true;
    }
    hp_value whole = {
        .problems = reader->problems, .path = "the file", .node = root, .key = {1, 1, 1}};
    hp_value_refuse(&whole, "a mapping of keys that begins with `hubphase: 1`", "");
    return false;
}

/* ---- what is stated in place of the file ----------------------------------------------------- */

/* The section is there as soon as something in it is. */
static void open_sections(hp_reader *reader, hp_key_id id)
{
    for (id = section_of(id); id != HP_KEY_COUNT; id = section_of(id))
        if (hp_reader_lacks(reader, id))
            reader->reading[id].state = HP_VALUE_GOOD;
}

static void change_key(hp_reader *reader, const hp_yaml_member *m)
{
    hp_key_id id = hp_key_of_path(m->name);
    if (id == HP_KEY_COUNT || hp_key_of(id)->kind == HP_KEY_IS_SECTION) {
        hp_problems_add_key(reader->problems, (hp_place){0, 0, 1}, m->name,
                            "%s is no key of a scenario", m->name);
        return;
    }
    hp_key_found *reading = &reader->reading[id];
    *reading = (hp_key_found){
        .state = HP_VALUE_GOOD, .value = m->value, .place = m->place, .changed = true};
    open_sections(reader, id);
    if (!read_value(reader, id))
        reading->state = HP_VALUE_BAD;
}

void hp_reader_forget(hp_reader *reader, hp_key_id id)
{
    const hp_key *key = hp_key_of(id);
    const hp_draft usual = hp_draft_default();
    const size_t size = key->kind == HP_KEY_IS_NUMBER ? sizeof(double)
                        : key->kind == HP_KEY_IS_WHOLE || key->kind == HP_KEY_IS_CHOICE
                            ? sizeof(int)
                        : key->kind == HP_KEY_IS_FLAG ? sizeof(bool)
                                                      : key->size;
    reader->reading[id] = (hp_key_found){.state = HP_VALUE_ABSENT};
    memcpy(field(reader, id), (const char *)&usual + key->offset, size);
}

void hp_reader_change(hp_reader *reader, struct fy_node *changes)
{
    void *position = NULL;
    hp_yaml_member m;
    while (hp_yaml_next(changes, (hp_place){0, 0, 1}, &position, &m))
        change_key(reader, &m);
}
