/* Values of one entry of a bench log: see bench_log_keys.h. */
#include "record/log/bench_log_member.h"

#include <string.h>

#define PATH_SIZE     HP_BENCH_VALUE_PATH
#define EXPECTED_SIZE 480
#define WIRING_SIZE   640

/* ---- pairs ----------------------------------------------------------------------------------- */

/* The pair that a member names, each once; -1 with a problem added. */
static int pair_of(const hp_bench_member *m, const hp_labels *labels, bool seen[HP_PHASE_COUNT])
{
    char expected[EXPECTED_SIZE], name[HP_BENCH_PAIR_SIZE];
    int pair = hp_bench_pair_find(labels, m->name);
    if (pair < 0) {
        expected[0] = '\0';
        for (int k = 0; k < HP_PHASE_COUNT; k++) {
            size_t used = strlen(expected);
            snprintf(expected + used, sizeof expected - used, "%s%s",
                     k == 2 ? " or "
                     : k    ? ", "
                            : "",
                     hp_bench_pair_name(labels, hp_bench_pair_order[k], name, sizeof name));
        }
        hp_bench_member_refuse(m, expected);
        return -1;
    }
    if (seen[pair]) {
        hp_bench_member_refuse_twice(m);
        return -1;
    }
    seen[pair] = true;
    return pair;
}

static bool read_pair_number(const hp_bench_key *key, const hp_bench_member *m, double *number)
{
    char text[8], expected[120];
    hp_limits limits = key->limits;
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

static bool read_pairs(const hp_bench_key *key, const hp_value *value, const hp_labels *labels,
                       double number[HP_PHASE_COUNT])
{
    void *position = NULL;
    hp_bench_member m;
    bool filled = hp_bench_mapping_check(key, value, labels), good = filled;
    bool sound, seen[HP_PHASE_COUNT] = {false};
    while (filled && hp_bench_member_next(value, &position, &m, &sound)) {
        int pair = sound ? pair_of(&m, labels, seen) : -1;
        double read = 0.0;
        if (pair < 0 || !read_pair_number(key, &m, &read))
            good = false;
        else
            number[pair] = read;
    }
    return good;
}

static bool read_continuity(const hp_bench_key *key, const hp_value *value, const hp_labels *labels,
                            hp_tell open[HP_PHASE_COUNT])
{
    void *position = NULL;
    hp_bench_member m;
    bool flag = false, sound, seen[HP_PHASE_COUNT] = {false};
    if (hp_yaml_kind_of(value->node) == HP_YAML_TEXT) {
        if (!hp_value_flag(value, &flag))
            return false;
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            open[k] = flag ? HP_TELL_NO : HP_TELL_YES;
        return true;
    }
    bool filled = hp_bench_mapping_check(key, value, labels), good = filled;
    while (filled && hp_bench_member_next(value, &position, &m, &sound)) {
        int pair = sound ? pair_of(&m, labels, seen) : -1;
        if (pair < 0 || !hp_value_flag(&m.value, &flag))
            good = false;
        else
            open[pair] = flag ? HP_TELL_NO : HP_TELL_YES;
    }
    return good;
}

/* ---- codes ----------------------------------------------------------------------------------- */

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

static bool read_codes(const hp_bench_key *key, const hp_value *value, const hp_labels *labels,
                       hp_hand_turn *turn)
{
    turn->count = 0;
    if (hp_yaml_kind_of(value->node) == HP_YAML_TEXT)
        return read_code_text(value, turn) || hp_bench_value_refuse(key, value, labels);
    if (hp_yaml_kind_of(value->node) != HP_YAML_LIST)
        return hp_bench_value_refuse(key, value, labels);
    void *position = NULL;
    struct fy_node *node;
    for (int k = 1; (node = fy_node_sequence_iterate(value->node, &position)) != NULL; k++) {
        char path[PATH_SIZE + 16], text[8];
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
    return turn->count > 0 || hp_bench_value_refuse(key, value, labels);
}

static bool read_code(const hp_bench_key *key, const hp_value *value, const hp_labels *labels,
                      int *code)
{
    char text[8];
    bool good = hp_yaml_kind_of(value->node) == HP_YAML_TEXT &&
                hp_yaml_text(value->node, text, sizeof text);
    *code = good ? hp_bench_code_find(text) : -1;
    return *code >= 0 || hp_bench_value_refuse(key, value, labels);
}

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

static bool read_probe_row(const hp_bench_key *key, const hp_bench_member *m,
                           const hp_labels *labels, hp_probe *probe)
{
    char text[HP_BENCH_PAIR_SIZE + 4];
    int code = hp_bench_code_find(m->name);
    if (code < 0) {
        hp_bench_member_refuse(m, "three digits 0 or 1 such as \"100\", for the inputs U V W");
        return false;
    }
    if (probe->read[code])
        return hp_bench_member_refuse_twice(m);
    probe->read[code] = true;
    if (hp_yaml_kind_of(m->value.node) == HP_YAML_TEXT &&
        hp_yaml_text(m->value.node, text, sizeof text) && read_row(text, labels, &probe->row[code]))
        return true;
    return hp_bench_value_refuse(key, &m->value, labels);
}

static bool read_rows(const hp_bench_key *key, const hp_value *value, const hp_labels *labels,
                      hp_probe *probe)
{
    void *position = NULL;
    hp_bench_member m;
    bool filled = hp_bench_mapping_check(key, value, labels), good = filled, sound;
    while (filled && hp_bench_member_next(value, &position, &m, &sound))
        good = sound && read_probe_row(key, &m, labels, probe) && good;
    return good;
}

/* ---- leads, pins, wirings -------------------------------------------------------------------- */

static bool read_lead(const hp_value *value, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE],
                      const char *what, int *lead)
{
    char text[HP_LABEL_SIZE], expected[EXPECTED_SIZE];
    bool good = hp_yaml_kind_of(value->node) == HP_YAML_TEXT &&
                hp_yaml_text(value->node, text, sizeof text);
    *lead = good ? hp_bench_lead_find(label, text) : -1;
    if (*lead >= 0)
        return true;
    snprintf(expected, sizeof expected, "one of this motor's %s leads: %s, %s or %s", what,
             label[HP_U], label[HP_V], label[HP_W]);
    hp_value_refuse(value, expected, "");
    return false;
}

/* The lead that a member names, each once; -1 with a problem added. */
static int pin_lead(const hp_bench_member *m, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE],
                    bool seen[HP_PHASE_COUNT])
{
    char expected[EXPECTED_SIZE];
    int lead = hp_bench_lead_find(label, m->name);
    if (lead < 0) {
        snprintf(expected, sizeof expected, "%s, %s or %s", label[HP_U], label[HP_V], label[HP_W]);
        hp_bench_member_refuse(m, expected);
        return -1;
    }
    if (seen[lead]) {
        hp_bench_member_refuse_twice(m);
        return -1;
    }
    seen[lead] = true;
    return lead;
}

static bool read_pins(const hp_bench_key *key, const hp_value *value, const hp_labels *labels,
                      const char label[HP_PHASE_COUNT][HP_LABEL_SIZE],
                      char (*pin)[HP_PLUG_PIN_SIZE])
{
    void *position = NULL;
    hp_bench_member m;
    bool filled = hp_bench_mapping_check(key, value, labels), good = filled;
    bool sound, seen[HP_PHASE_COUNT] = {false};
    while (filled && hp_bench_member_next(value, &position, &m, &sound)) {
        int lead = sound ? pin_lead(&m, label, seen) : -1;
        if (lead < 0 || !hp_value_line(&m.value, pin[lead], HP_PLUG_PIN_SIZE))
            good = false;
    }
    return good;
}

static bool read_wiring(const hp_bench_key *key, const hp_value *value, const hp_labels *labels,
                        hp_wiring *wiring)
{
    char text[WIRING_SIZE];
    hp_error err = hp_error_none();
    if (hp_yaml_kind_of(value->node) != HP_YAML_TEXT ||
        !hp_yaml_text(value->node, text, sizeof text))
        return hp_bench_value_refuse(key, value, labels);
    if (hp_wiring_parse(text, labels, wiring, &err) == HP_OK)
        return true;
    hp_problems_add(value->problems, hp_value_place(value), "%s: %s", value->path, err.text);
    return false;
}

static bool read_part(const hp_value *value, const hp_bench_key *key, hp_mend *mend)
{
    static const hp_fault_kind kind[] = {HP_FAULT_SENSOR_HIGH, HP_FAULT_SENSOR_LOW,
                                         HP_FAULT_LEAD_OPEN, HP_FAULT_CLUTCH, HP_FAULT_NONE};
    int index;
    if (!hp_value_choice(value, key->words, &index))
        return false;
    mend->fault.kind = kind[index];
    mend->inversion = kind[index] == HP_FAULT_NONE;
    return true;
}

static bool read_part_lead(const hp_value *value, const hp_labels *labels, hp_mend *mend)
{
    switch (mend->fault.kind) {
    case HP_FAULT_SENSOR_HIGH:
    case HP_FAULT_SENSOR_LOW:
        return read_lead(value, labels->motor_sensor, "sensor", &mend->fault.which);
    case HP_FAULT_LEAD_OPEN:
        return read_lead(value, labels->motor_lead, "phase", &mend->fault.which);
    default:
        if (mend->fault.kind == HP_FAULT_NONE && !mend->inversion)
            return false; /* the part's own problem says enough */
        hp_problems_add(value->problems, value->key,
                        "%s is given, but this part has no lead: leave it out", value->path);
        return false;
    }
}

/* ---- one key --------------------------------------------------------------------------------- */

static bool read_number(const hp_bench_key *key, const hp_value *value, void *field)
{
    double number = 0.0;
    if (!hp_value_number(value, &key->limits, &number))
        return false;
    if (key->type == HP_BENCH_WHOLE) {
        int whole = (int)number;
        memcpy(field, &whole, sizeof whole);
    } else {
        number *= key->factor;
        memcpy(field, &number, sizeof number);
    }
    return true;
}

static bool read_word(const hp_bench_key *key, const hp_value *value, void *field)
{
    int index = 0;
    bool flag = false;
    bool good = key->type == HP_BENCH_TELL ? hp_value_flag(value, &flag)
                                           : hp_value_choice(value, key->words, &index);
    if (!good)
        return false;
    if (key->type == HP_BENCH_BACKWARD) {
        flag = index == 1;
        memcpy(field, &flag, sizeof flag);
        return true;
    }
    int number =
        key->type == HP_BENCH_TELL ? (flag ? HP_TELL_YES : HP_TELL_NO) : index + key->first;
    memcpy(field, &number, sizeof number);
    return true;
}

bool hp_bench_key_read(const hp_bench_key *key, const hp_value *value, const hp_labels *labels,
                       hp_bench_entry *entry)
{
    void *field = (char *)entry + key->offset;
    hp_entry *e = &entry->entry;
    char *pin = field;
    switch (key->type) {
    case HP_BENCH_NUMBER:
    case HP_BENCH_WHOLE: return read_number(key, value, field);
    case HP_BENCH_TELL:
    case HP_BENCH_CHOICE:
    case HP_BENCH_BACKWARD: return read_word(key, value, field);
    case HP_BENCH_PAIRS: return read_pairs(key, value, labels, field);
    case HP_BENCH_CONTINUITY: return read_continuity(key, value, labels, e->pins.open);
    case HP_BENCH_CODES: return read_codes(key, value, labels, &e->hand_turn);
    case HP_BENCH_CODE: return read_code(key, value, labels, &e->park.code);
    case HP_BENCH_PHASE_LEAD: return read_lead(value, labels->motor_lead, "phase", &e->park.lead);
    case HP_BENCH_WIRING: return read_wiring(key, value, labels, &e->trial.wiring);
    case HP_BENCH_ROWS: return read_rows(key, value, labels, &e->probe);
    case HP_BENCH_PHASE_PINS:
        entry->plug.given = true;
        return read_pins(key, value, labels, labels->motor_lead, entry->plug.pin + HP_PLUG_PHASE_U);
    case HP_BENCH_SENSOR_PINS:
        entry->plug.given = true;
        return read_pins(key, value, labels, labels->motor_sensor,
                         entry->plug.pin + HP_PLUG_SENSOR_U);
    case HP_BENCH_PIN: entry->plug.given = true; return hp_value_line(value, pin, HP_PLUG_PIN_SIZE);
    case HP_BENCH_PART: return read_part(value, key, &e->mend);
    case HP_BENCH_PART_LEAD: return read_part_lead(value, labels, &e->mend);
    }
    return false;
}
