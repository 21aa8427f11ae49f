/* What the types of values share: members of mappings, lists of words. See field.h. */
#include "record/log/field.h"

#include <stdio.h>

#define EXPECTED_SIZE 480

bool hp_field_member_next(const hp_value *mapping, void **position, hp_field_member *m, bool *good)
{
    if (!hp_yaml_next(mapping->node, mapping->key, position, &m->own))
        return false;
    *good = m->own.whole;
    if (!*good)
        hp_problems_add(mapping->problems, m->own.place,
                        "a key of %s is no plain word, must be one", mapping->path);
    snprintf(m->path, sizeof m->path, "%s.%s", mapping->path, m->own.name);
    m->value = (hp_value){
        .problems = mapping->problems, .path = m->path, .node = m->own.value, .key = m->own.place};
    return true;
}

void hp_field_member_refuse(const hp_field_member *m, const char *expected)
{
    hp_problems_add(m->value.problems, m->value.key, "%s is not known, must be %s", m->path,
                    expected);
}

bool hp_field_member_refuse_twice(const hp_field_member *m)
{
    hp_problems_add(m->value.problems, m->value.key,
                    "%s is given a second time, must be there once", m->path);
    return false;
}

bool hp_field_refuse(const hp_field *field, const hp_value *value, const hp_labels *labels)
{
    char expected[EXPECTED_SIZE];
    hp_value_refuse(value, hp_field_expected(field, labels, expected, sizeof expected), "");
    return false;
}

bool hp_field_check_mapping(const hp_field *field, const hp_value *value, const hp_labels *labels)
{
    if (hp_yaml_kind_of(value->node) == HP_YAML_MAPPING &&
        fy_node_mapping_item_count(value->node) > 0)
        return true;
    return hp_field_refuse(field, value, labels);
}

/* ---- lists ----------------------------------------------------------------------------------- */

/* ", ", " or " or nothing, before item k of `count`. */
static const char *between(int k, int count)
{
    return k == 0 ? "" : k == count - 1 ? " or " : ", ";
}

void hp_field_add_leads(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], hp_phrase *phrase)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        hp_phrase_add(phrase, "%s%s", between(k, HP_PHASE_COUNT), label[k]);
}

void hp_field_add_pairs(const hp_labels *labels, hp_phrase *phrase)
{
    char name[HP_BENCH_PAIR_SIZE];
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        hp_phrase_add(phrase, "%s%s", between(k, HP_PHASE_COUNT),
                      hp_bench_pair_name(labels, hp_bench_pair_order[k], name, sizeof name));
}

void hp_field_add_words(const char *const *words, hp_phrase *phrase)
{
    int count = 0;
    while (words[count])
        count++;
    for (int k = 0; k < count; k++)
        hp_phrase_add(phrase, "%s%s", between(k, count), words[k]);
}

void hp_field_add_number(const hp_limits *limits, hp_phrase *phrase)
{
    hp_phrase_add(phrase, "%s %s %.10g %s %.10g", limits->whole ? "a whole number" : "a number",
                  limits->above ? "above" : "from", limits->low,
                  limits->above ? "and at most" : "to", limits->high);
    if (limits->unit[0])
        hp_phrase_add(phrase, " (%s)", limits->unit);
}
