/* Sensor codes, and what a controller drives at them: see field.h. */
#include "hubphase/decide/evidence.h"
#include "record/log/field.h"

#include <string.h>

static bool add_code(hp_hand_turn *turn, const char *text)
{
    int code = hp_bench_code_find(text);
    if (code < 0 || turn->count >= HP_TURN_CODES)
        return false;
    turn->code[turn->count++] = code;
    return true;
}

/* "101 100, 110" */
static bool read_code_text(const hp_value *value, hp_hand_turn *turn)
{
    char text[8 * HP_TURN_CODES], code[4];
    if (!hp_yaml_text(value->node, text, sizeof text))
        return false;
    for (const char *at = text + strspn(text, " ,"); *at; at += strspn(at, " ,")) {
        size_t length = strcspn(at, " ,");
        if (length != 3)
            return false;
        memcpy(code, at, 3);
        code[3] = '\0';
        if (!add_code(turn, code))
            return false;
        at += length;
    }
    return turn->count > 0;
}

static bool read_codes(const hp_field *field, const hp_value *value, const hp_labels *labels,
                       void *at)
{
    hp_hand_turn *turn = at;
    turn->count = 0;
    if (hp_yaml_kind_of(value->node) == HP_YAML_TEXT)
        return read_code_text(value, turn) || hp_field_refuse(field, value, labels);
    if (hp_yaml_kind_of(value->node) != HP_YAML_LIST)
        return hp_field_refuse(field, value, labels);
    void *position = NULL;
    struct fy_node *node;
    for (int k = 1; (node = fy_node_sequence_iterate(value->node, &position)) != NULL; k++) {
        char path[HP_FIELD_PATH + 16], text[8];
        snprintf(path, sizeof path, "%s[%d]", value->path, k);
        hp_value item = {
            .problems = value->problems, .path = path, .node = node, .key = value->key};
        if (k > HP_TURN_CODES) {
            hp_problems_add(value->problems, hp_value_place(&item),
                            "%s has more than %d codes, must have at most so many: a new entry can "
                            "take the rest",
                            value->path, HP_TURN_CODES);
            return false;
        }
        bool good = hp_yaml_kind_of(node) == HP_YAML_TEXT && hp_yaml_text(node, text, sizeof text);
        if (!good || !add_code(turn, text)) {
            hp_value_refuse(&item, "three digits 0 or 1 such as \"110\"", "");
            return false;
        }
    }
    return turn->count > 0 || hp_field_refuse(field, value, labels);
}

void hp_field_put_code(FILE *out, int code)
{
    fprintf(out, "\"%d%d%d\"", code >> 2 & 1, code >> 1 & 1, code & 1);
}

static void put_codes(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    const hp_hand_turn *turn = at;
    (void)field;
    (void)labels;
    fputc('[', out);
    for (int k = 0; k < turn->count; k++) {
        fputs(k ? ", " : "", out);
        hp_field_put_code(out, turn->code[k]);
    }
    fputc(']', out);
}

static void expect_codes(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)field;
    (void)labels;
    hp_phrase_add(phrase, "1 to %d codes of three digits 0 or 1 such as 101 100 110",
                  HP_TURN_CODES);
}

const hp_field_kind hp_field_codes = {
    .read = read_codes, .put = put_codes, .expected = expect_codes};

/* ---- one code -------------------------------------------------------------------------------- */

static bool read_code(const hp_field *field, const hp_value *value, const hp_labels *labels,
                      void *at)
{
    int *code = at;
    char text[8];
    bool good = hp_yaml_kind_of(value->node) == HP_YAML_TEXT &&
                hp_yaml_text(value->node, text, sizeof text);
    *code = good ? hp_bench_code_find(text) : -1;
    return *code >= 0 || hp_field_refuse(field, value, labels);
}

static bool code_is_said(const hp_field *field, const void *at)
{
    (void)field;
    return *(const int *)at >= 0;
}

static void put_code(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    (void)field;
    (void)labels;
    hp_field_put_code(out, *(const int *)at);
}

static void expect_code(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)field;
    (void)labels;
    hp_phrase_add(phrase, "three digits 0 or 1 such as \"110\"");
}

const hp_field_kind hp_field_code = {
    .read = read_code, .said = code_is_said, .put = put_code, .expected = expect_code};

/* ---- rows of a table ------------------------------------------------------------------------- */

/* Copies a text without the blanks at its ends. */
static void trim(const char *text, size_t length, char *out, size_t size)
{
    while (length > 0 && *text == ' ') {
        text++;
        length--;
    }
    while (length > 0 && text[length - 1] == ' ')
        length--;
    snprintf(out, size, "%.*s", (int)length, text);
}

/* "blue > yellow" or "off"; a label may itself hold the sign. */
static bool read_row(const char *text, const hp_labels *labels, hp_commutation_row *row)
{
    char high[HP_BENCH_PAIR_SIZE], low[HP_BENCH_PAIR_SIZE];
    if (strcmp(text, "off") == 0) {
        *row = (hp_commutation_row){-1, -1};
        return true;
    }
    for (const char *sign = strchr(text, '>'); sign; sign = strchr(sign + 1, '>')) {
        trim(text, (size_t)(sign - text), high, sizeof high);
        trim(sign + 1, strlen(sign + 1), low, sizeof low);
        row->high = hp_bench_lead_find(labels->controller_output, high);
        row->low = hp_bench_lead_find(labels->controller_output, low);
        if (row->high >= 0 && row->low >= 0 && row->high != row->low)
            return true;
    }
    return false;
}

static bool read_probe_row(const hp_field *field, const hp_field_member *m, const hp_labels *labels,
                           hp_probe *probe)
{
    char text[HP_BENCH_PAIR_SIZE + 4];
    int code = hp_bench_code_find(m->own.name);
    if (code < 0) {
        hp_field_member_refuse(m, "three digits 0 or 1 such as \"100\", for the inputs U V W");
        return false;
    }
    if (probe->read[code])
        return hp_field_member_refuse_twice(m);
    probe->read[code] = true;
    if (hp_yaml_kind_of(m->value.node) == HP_YAML_TEXT &&
        hp_yaml_text(m->value.node, text, sizeof text) && read_row(text, labels, &probe->row[code]))
        return true;
    return hp_field_refuse(field, &m->value, labels);
}

static bool read_rows(const hp_field *field, const hp_value *value, const hp_labels *labels,
                      void *at)
{
    hp_probe *probe = at;
    void *position = NULL;
    hp_field_member m;
    bool filled = hp_field_check_mapping(field, value, labels), good = filled, sound;
    while (filled && hp_field_member_next(value, &position, &m, &sound))
        good = sound && read_probe_row(field, &m, labels, probe) && good;
    return good;
}

static void put_rows(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    const hp_probe *probe = at;
    (void)field;
    char text[HP_BENCH_PAIR_SIZE + 4];
    bool first = true;
    fputc('{', out);
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        hp_commutation_row row = probe->row[code];
        if (!probe->read[code])
            continue;
        fputs(first ? "" : ", ", out);
        hp_field_put_code(out, code);
        fputs(": ", out);
        first = false;
        if (row.high < 0) {
            fputs("off", out);
            continue;
        }
        snprintf(text, sizeof text, "%s > %s", labels->controller_output[row.high],
                 labels->controller_output[row.low]);
        hp_bench_put_scalar(out, text, true);
    }
    fputc('}', out);
}

static void expect_rows(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)field;
    hp_phrase_add(phrase,
                  "codes with the output seen high > the output seen low, or off; outputs: ");
    hp_field_add_leads(labels->controller_output, phrase);
}

const hp_field_kind hp_field_rows = {
    .read = read_rows, .put = put_rows, .expected = expect_rows, .typed = HP_TYPED_BY_NAME};
