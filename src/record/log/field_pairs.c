/* Values for each pair of phase leads: see field.h. */
#include "hubphase/decide/evidence.h"
#include "record/log/field.h"

#include <math.h>
#include <string.h>

#define EXPECTED_SIZE 480

/* The pair that a member names, each once; -1 with a problem added. */
static int pair_of(const hp_field_member *m, const hp_labels *labels, bool seen[HP_PHASE_COUNT])
{
    char expected[EXPECTED_SIZE];
    int pair = hp_bench_pair_find(labels, m->own.name);
    if (pair < 0) {
        hp_phrase phrase = hp_phrase_begin(expected, sizeof expected);
        hp_field_add_pairs(labels, &phrase);
        hp_field_member_refuse(m, expected);
        return -1;
    }
    if (seen[pair]) {
        hp_field_member_refuse_twice(m);
        return -1;
    }
    seen[pair] = true;
    return pair;
}

static bool read_pair_number(const hp_field *field, const hp_field_member *m, double *number)
{
    char text[8], expected[120];
    hp_limits limits = field->limits;
    bool open = limits.none;
    limits.none = false;
    if (open && hp_yaml_kind_of(m->value.node) == HP_YAML_TEXT &&
        hp_yaml_text(m->value.node, text, sizeof text)) {
        if (strcmp(text, "open") == 0) {
            *number = INFINITY;
            return true;
        }
        if (text[0] >= 'a' && text[0] <= 'z') {
            snprintf(expected, sizeof expected, "a number from %.10g to %.10g (%s), or open",
                     limits.low, limits.high, limits.unit);
            hp_value_refuse(&m->value, expected, "");
            return false;
        }
    }
    return hp_value_number(&m->value, &limits, number);
}

static bool read_pairs(const hp_field *field, const hp_value *value, const hp_labels *labels,
                       void *at)
{
    double *number = at;
    void *position = NULL;
    hp_field_member m;
    bool filled = hp_field_check_mapping(field, value, labels), good = filled;
    bool sound, seen[HP_PHASE_COUNT] = {false};
    while (filled && hp_field_member_next(value, &position, &m, &sound)) {
        int pair = sound ? pair_of(&m, labels, seen) : -1;
        double read = 0.0;
        if (pair < 0 || !read_pair_number(field, &m, &read))
            good = false;
        else
            number[pair] = read;
    }
    return good;
}

static void put_pairs(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    const double *number = at;
    (void)field;
    char name[HP_BENCH_PAIR_SIZE];
    bool first = true;
    fputc('{', out);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        int pair = hp_bench_pair_order[k];
        if (isnan(number[pair]))
            continue;
        fputs(first ? "" : ", ", out);
        hp_bench_put_scalar(out, hp_bench_pair_name(labels, pair, name, sizeof name), true);
        fputs(": ", out);
        if (isinf(number[pair]))
            fputs("open", out);
        else
            hp_field_put_number(out, number[pair]);
        first = false;
    }
    fputc('}', out);
}

static void expect_pairs(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    hp_field_add_number(&field->limits, phrase);
    hp_phrase_add(phrase, "%s for each pair measured: ", field->limits.none ? ", or open," : "");
    hp_field_add_pairs(labels, phrase);
}

const hp_field_kind hp_field_pairs = {
    .read = read_pairs, .put = put_pairs, .expected = expect_pairs, .typed = HP_TYPED_BY_NAME};

/* ---- continuity ------------------------------------------------------------------------------ */

static bool read_continuity(const hp_field *field, const hp_value *value, const hp_labels *labels,
                            void *at)
{
    hp_tell *open = at;
    void *position = NULL;
    hp_field_member m;
    bool flag = false, sound, seen[HP_PHASE_COUNT] = {false};
    if (hp_yaml_kind_of(value->node) == HP_YAML_TEXT) {
        if (!hp_value_flag(value, &flag))
            return false;
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            open[k] = flag ? HP_TELL_NO : HP_TELL_YES;
        return true;
    }
    bool filled = hp_field_check_mapping(field, value, labels), good = filled;
    while (filled && hp_field_member_next(value, &position, &m, &sound)) {
        int pair = sound ? pair_of(&m, labels, seen) : -1;
        if (pair < 0 || !hp_value_flag(&m.value, &flag))
            good = false;
        else
            open[pair] = flag ? HP_TELL_NO : HP_TELL_YES;
    }
    return good;
}

static bool continuity_is_said(const hp_field *field, const void *at)
{
    const hp_tell *open = at;
    (void)field;
    return open[0] != HP_TELL_UNSAID || open[1] != HP_TELL_UNSAID || open[2] != HP_TELL_UNSAID;
}

static void put_continuity(FILE *out, const hp_field *field, const void *at,
                           const hp_labels *labels)
{
    const hp_tell *open = at;
    (void)field;
    char name[HP_BENCH_PAIR_SIZE];
    bool first = true;
    fputc('{', out);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        int pair = hp_bench_pair_order[k];
        if (open[pair] == HP_TELL_UNSAID)
            continue;
        fputs(first ? "" : ", ", out);
        hp_bench_put_scalar(out, hp_bench_pair_name(labels, pair, name, sizeof name), true);
        fprintf(out, ": %s", open[pair] == HP_TELL_YES ? "no" : "yes");
        first = false;
    }
    fputc('}', out);
}

static void expect_continuity(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)field;
    hp_phrase_add(phrase, "yes or no, for all pairs or for each: ");
    hp_field_add_pairs(labels, phrase);
}

const hp_field_kind hp_field_continuity = {.read = read_continuity,
                                           .said = continuity_is_said,
                                           .put = put_continuity,
                                           .expected = expect_continuity,
                                           .typed = HP_TYPED_EITHER};
