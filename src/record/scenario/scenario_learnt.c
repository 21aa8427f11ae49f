/* What a scenario was before its figures were learnt: see the header. */
#include "record/scenario/scenario_learnt.h"

#include <string.h>

/* The entries of a list, a line each; false: it is none of bare values. */
static bool read_list(struct fy_node *list, char *out, size_t size)
{
    char text[32];
    void *position = NULL;
    struct fy_node *item;
    hp_phrase p = hp_phrase_begin(out, size);
    while ((item = fy_node_sequence_iterate(list, &position)) != NULL) {
        if (hp_yaml_kind_of(item) != HP_YAML_TEXT || !hp_yaml_text(item, text, sizeof text))
            return false;
        hp_phrase_add(&p, "%s%s", p.used ? "\n" : "", text);
    }
    return p.used > 0 && !p.cut;
}

/* Only what a figure can be: no section, and none of this one. */
static bool can_be_learnt(hp_key_id id)
{
    return id < HP_KEY_COUNT && hp_key_of(id)->kind != HP_KEY_IS_SECTION &&
           (id < HP_KEY_LEARNT || id > HP_KEY_LEARNT_BEFORE);
}

static void read_key(hp_reader *reader, const hp_yaml_member *m, hp_before *before)
{
    hp_key_id id = m->whole ? hp_key_of_path(m->name) : HP_KEY_COUNT;
    if (!can_be_learnt(id) || before->count == HP_LEARNT_KEYS) {
        hp_problems_add(reader->problems, m->place,
                        before->count == HP_LEARNT_KEYS
                            ? "learnt_from.before: %.80s is one key too many, must be left out"
                            : "learnt_from.before: %.80s is no key that can be learnt, must be the "
                              "whole path of one such as stand.rotor.friction_nm",
                        m->name);
        return;
    }
    char *room = before->room[before->count];
    hp_scenario_change *key = &before->key[before->count];
    key->key = hp_key_of(id)->path;
    key->list = hp_yaml_kind_of(m->value) == HP_YAML_LIST;
    bool good = key->list ? read_list(m->value, room, sizeof before->room[0])
                          : hp_yaml_kind_of(m->value) == HP_YAML_TEXT &&
                                hp_yaml_text(m->value, room, sizeof before->room[0]);
    key->text = strcmp(room, HP_LEARNT_NOT_STATED) == 0 ? NULL : room;
    if (good)
        before->count++;
    else
        hp_problems_add(
            reader->problems, m->place,
            "learnt_from.before: %s must be a value or a list of values, or " HP_LEARNT_NOT_STATED,
            key->key);
}

void hp_learnt_read(hp_reader *reader, hp_before *before)
{
    void *position = NULL;
    hp_yaml_member m;
    before->count = 0;
    if (hp_reader_lacks(reader, HP_KEY_LEARNT))
        return;
    bool whole = hp_reader_require(reader, HP_KEY_LEARNT_LOG, "the bench log's file");
    whole = hp_reader_require(reader, HP_KEY_LEARNT_ENTRIES, "the number of its entries") && whole;
    if (!hp_reader_require(reader, HP_KEY_LEARNT_BEFORE, "the keys as they were before") || !whole)
        return;
    hp_value value = hp_reader_value(reader, HP_KEY_LEARNT_BEFORE);
    if (hp_yaml_kind_of(value.node) != HP_YAML_MAPPING) {
        hp_value_refuse(&value, "a mapping of keys and what they were before", "");
        reader->reading[HP_KEY_LEARNT_BEFORE].state = HP_VALUE_BAD;
        return;
    }
    while (hp_yaml_next(value.node, value.key, &position, &m))
        read_key(reader, &m, before);
}
