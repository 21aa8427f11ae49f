/* Members of the mappings in a bench log's values: see the header. */
#include "record/log/bench_log_member.h"

#define EXPECTED_SIZE 480

bool hp_bench_member_next(const hp_value *mapping, void **position, hp_bench_member *m, bool *good)
{
    struct fy_node_pair *pair = fy_node_mapping_iterate(mapping->node, position);
    if (!pair)
        return false;
    struct fy_node *key = fy_node_pair_key(pair);
    hp_place place = hp_yaml_place(key);
    if (place.line == 0)
        place = mapping->key;
    *good = hp_yaml_kind_of(key) == HP_YAML_TEXT && hp_yaml_text(key, m->name, sizeof m->name);
    if (!*good)
        hp_problems_add(mapping->problems, place, "a key of %s is no plain word, must be one",
                        mapping->path);
    snprintf(m->path, sizeof m->path, "%s.%s", mapping->path, m->name);
    m->value = (hp_value){.problems = mapping->problems,
                          .path = m->path,
                          .node = fy_node_pair_value(pair),
                          .key = place};
    return true;
}

void hp_bench_member_refuse(const hp_bench_member *m, const char *expected)
{
    hp_problems_add(m->value.problems, m->value.key, "%s is not known, must be %s", m->path,
                    expected);
}

bool hp_bench_member_refuse_twice(const hp_bench_member *m)
{
    hp_problems_add(m->value.problems, m->value.key,
                    "%s is given a second time, must be there once", m->path);
    return false;
}

bool hp_bench_value_refuse(const hp_bench_key *key, const hp_value *value, const hp_labels *labels)
{
    char expected[EXPECTED_SIZE];
    hp_value_refuse(value, hp_bench_key_expected(key, labels, expected, sizeof expected), "");
    return false;
}

bool hp_bench_mapping_check(const hp_bench_key *key, const hp_value *value, const hp_labels *labels)
{
    if (hp_yaml_kind_of(value->node) == HP_YAML_MAPPING &&
        fy_node_mapping_item_count(value->node) > 0)
        return true;
    return hp_bench_value_refuse(key, value, labels);
}
