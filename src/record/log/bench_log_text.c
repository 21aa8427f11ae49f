/*
 * The YAML text of a bench log: see bench_log.h.
 *
 * Values are written so that the reader gives back the same entry: numbers to ten digits, codes and
 * what YAML could take for something else in quotes. A value that was not said is left out.
 */
#include "record/log/bench_log_keys.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* Blanks in a row that stay blanks: the reader refuses long runs of them. */
#define BLANKS_PLAIN 8
/* Column of the dashes in a new log. */
#define DASH_COLUMN 3

/* ---- scalars --------------------------------------------------------------------------------- */

/* Words that YAML readers may take for something else than a text. */
static bool is_reserved(const char *text)
{
    static const char *const word[] = {"yes", "no", "true", "false", "on", "off",
                                       "y",   "n",  "null", "nan",   "inf"};
    for (size_t k = 0; k < sizeof word / sizeof word[0]; k++)
        if (strcasecmp(text, word[k]) == 0)
            return true;
    return false;
}

/* Whether a text can stand without quotes: it begins with a letter and holds nothing that YAML
 * gives a meaning. */
static bool is_plain(const char *text, bool flow)
{
    static const char letters[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
    static const char others[] = "0123456789_./+();=-";
    size_t length = strlen(text), blanks = 0;
    if (length == 0 || !strchr(letters, text[0]) || text[length - 1] == ' ' || is_reserved(text))
        return false;
    for (const char *c = text; *c; c++) {
        blanks = *c == ' ' ? blanks + 1 : 0;
        if (blanks > BLANKS_PLAIN ||
            !(*c == ' ' || strchr(letters, *c) || strchr(others, *c) || (*c == ',' && !flow)))
            return false;
    }
    return true;
}

void hp_bench_put_scalar(FILE *out, const char *text, bool flow)
{
    if (is_plain(text, flow)) {
        fputs(text, out);
        return;
    }
    int blanks = 0;
    fputc('"', out);
    for (const unsigned char *c = (const unsigned char *)text; *c; c++) {
        blanks = *c == ' ' ? blanks + 1 : 0;
        /* Line and paragraph separators: some readers take them for line breaks. */
        bool separator = c[0] == 0xE2 && c[1] == 0x80 && (c[2] == 0xA8 || c[2] == 0xA9);
        if (separator) {
            fprintf(out, "\\u202%d", c[2] == 0xA8 ? 8 : 9);
            c += 2;
        } else if (*c == '"' || *c == '\\') {
            fprintf(out, "\\%c", *c);
        } else if (*c == '\n') {
            fputs("\\n", out);
        } else if (*c < 0x20 || *c == 0x7F || blanks > BLANKS_PLAIN) {
            fprintf(out, "\\x%02X", *c);
        } else {
            fputc(*c, out);
        }
    }
    fputc('"', out);
}

static void put_number(FILE *out, double number)
{
    fprintf(out, "%.10g", number);
}

static void put_code(FILE *out, int code)
{
    fprintf(out, "\"%d%d%d\"", code >> 2 & 1, code >> 1 & 1, code & 1);
}

static const char *tell_word(hp_tell tell)
{
    return tell == HP_TELL_YES ? "yes" : "no";
}

/* ---- values ---------------------------------------------------------------------------------- */

static void put_pairs(FILE *out, const hp_labels *labels, const double number[HP_PHASE_COUNT])
{
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
            put_number(out, number[pair]);
        first = false;
    }
    fputc('}', out);
}

static void put_continuity(FILE *out, const hp_labels *labels, const hp_tell open[HP_PHASE_COUNT])
{
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

static void put_codes(FILE *out, const hp_hand_turn *turn)
{
    fputc('[', out);
    for (int k = 0; k < turn->count; k++) {
        fputs(k ? ", " : "", out);
        put_code(out, turn->code[k]);
    }
    fputc(']', out);
}

static void put_rows(FILE *out, const hp_labels *labels, const hp_probe *probe)
{
    char text[HP_BENCH_PAIR_SIZE + 4];
    bool first = true;
    fputc('{', out);
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        hp_commutation_row row = probe->row[code];
        if (!probe->read[code])
            continue;
        fputs(first ? "" : ", ", out);
        put_code(out, code);
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

static void put_pins(FILE *out, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE],
                     const char (*pin)[HP_PLUG_PIN_SIZE])
{
    fputc('{', out);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        fputs(k ? ", " : "", out);
        hp_bench_put_scalar(out, label[k], true);
        fputs(": ", out);
        hp_bench_put_scalar(out, pin[k], true);
    }
    fputc('}', out);
}

/* By leads, unless labels are so odd that they would not be read back: then by number. */
static void put_wiring(FILE *out, const hp_labels *labels, const hp_wiring *wiring)
{
    char text[7 * HP_LABEL_SIZE];
    hp_wiring back;
    const char(*sensor)[HP_LABEL_SIZE] = labels->motor_sensor;
    const char(*phase)[HP_LABEL_SIZE] = labels->motor_lead;
    snprintf(text, sizeof text, "%s, %s, %s / %s, %s, %s", sensor[wiring->sensor[0]],
             sensor[wiring->sensor[1]], sensor[wiring->sensor[2]], phase[wiring->phase[0]],
             phase[wiring->phase[1]], phase[wiring->phase[2]]);
    if (hp_wiring_parse(text, labels, &back, NULL) == HP_OK &&
        hp_wiring_number(&back) == hp_wiring_number(wiring))
        hp_bench_put_scalar(out, text, false);
    else
        fprintf(out, "%d", hp_wiring_number(wiring));
}

static int part_index(const hp_mend *mend)
{
    switch (mend->fault.kind) {
    case HP_FAULT_SENSOR_HIGH: return 0;
    case HP_FAULT_SENSOR_LOW: return 1;
    case HP_FAULT_LEAD_OPEN: return 2;
    case HP_FAULT_CLUTCH: return 3;
    default: return 4;
    }
}

static bool is_all_unsaid(const hp_tell open[HP_PHASE_COUNT])
{
    return open[0] == HP_TELL_UNSAID && open[1] == HP_TELL_UNSAID && open[2] == HP_TELL_UNSAID;
}

/* Whether the entry says something under this key. */
static bool is_said(const hp_bench_key *key, const hp_bench_entry *entry)
{
    const char *field = (const char *)entry + key->offset;
    const hp_entry *e = &entry->entry;
    double number;
    int whole;
    switch (key->type) {
    case HP_BENCH_NUMBER: memcpy(&number, field, sizeof number); return !isnan(number);
    case HP_BENCH_WHOLE:
        memcpy(&whole, field, sizeof whole);
        return e->kind == HP_ENTRY_TRIAL ? e->trial.starts_tried > 0 : whole > 0;
    case HP_BENCH_TELL: memcpy(&whole, field, sizeof whole); return whole != HP_TELL_UNSAID;
    case HP_BENCH_CHOICE: memcpy(&whole, field, sizeof whole); return whole >= key->first;
    case HP_BENCH_CONTINUITY: return !is_all_unsaid(e->pins.open);
    case HP_BENCH_CODE: return e->park.code >= 0;
    case HP_BENCH_PHASE_PINS:
    case HP_BENCH_SENSOR_PINS:
    case HP_BENCH_PIN: return entry->plug.given;
    case HP_BENCH_PART_LEAD:
        return e->mend.fault.kind != HP_FAULT_NONE && e->mend.fault.kind != HP_FAULT_CLUTCH;
    default: return true;
    }
}

static void put_value(FILE *out, const hp_bench_key *key, const hp_bench_entry *entry,
                      const hp_labels *labels)
{
    const char *field = (const char *)entry + key->offset;
    const hp_entry *e = &entry->entry;
    double number;
    int whole;
    switch (key->type) {
    case HP_BENCH_NUMBER:
        memcpy(&number, field, sizeof number);
        put_number(out, number / key->factor);
        break;
    case HP_BENCH_WHOLE:
        memcpy(&whole, field, sizeof whole);
        fprintf(out, "%d", whole);
        break;
    case HP_BENCH_TELL:
        memcpy(&whole, field, sizeof whole);
        fputs(tell_word((hp_tell)whole), out);
        break;
    case HP_BENCH_CHOICE:
        memcpy(&whole, field, sizeof whole);
        fputs(key->words[whole - key->first], out);
        break;
    case HP_BENCH_BACKWARD: fputs(key->words[e->hand_turn.backward ? 1 : 0], out); break;
    case HP_BENCH_PAIRS:
        put_pairs(out, labels, e->kind == HP_ENTRY_SPIN ? e->spin.volts : e->winding.ohm);
        break;
    case HP_BENCH_CONTINUITY: put_continuity(out, labels, e->pins.open); break;
    case HP_BENCH_CODES: put_codes(out, &e->hand_turn); break;
    case HP_BENCH_CODE: put_code(out, e->park.code); break;
    case HP_BENCH_PHASE_LEAD:
        hp_bench_put_scalar(out, labels->motor_lead[e->park.lead], false);
        break;
    case HP_BENCH_WIRING: put_wiring(out, labels, &e->trial.wiring); break;
    case HP_BENCH_ROWS: put_rows(out, labels, &e->probe); break;
    case HP_BENCH_PHASE_PINS:
        put_pins(out, labels->motor_lead, entry->plug.pin + HP_PLUG_PHASE_U);
        break;
    case HP_BENCH_SENSOR_PINS:
        put_pins(out, labels->motor_sensor, entry->plug.pin + HP_PLUG_SENSOR_U);
        break;
    case HP_BENCH_PIN: hp_bench_put_scalar(out, field, false); break;
    case HP_BENCH_PART: fputs(key->words[part_index(&e->mend)], out); break;
    case HP_BENCH_PART_LEAD:
        hp_bench_put_scalar(out,
                            e->mend.fault.kind == HP_FAULT_LEAD_OPEN
                                ? labels->motor_lead[e->mend.fault.which]
                                : labels->motor_sensor[e->mend.fault.which],
                            false);
        break;
    }
}

/* ---- entries and the head -------------------------------------------------------------------- */

void hp_bench_put_entry(FILE *out, const hp_bench_entry *entry, const hp_labels *labels, int column)
{
    const hp_bench_key *keys = hp_bench_keys_of(entry->entry.kind);
    int count = hp_bench_keys_count(entry->entry.kind), said = 0;
    fprintf(out, "%*s- time: %s\n%*s%s:", column - 1, "", entry->time, column + 1, "",
            hp_bench_kind_name(entry->entry.kind));
    for (int k = 0; k < count; k++) {
        if (!is_said(&keys[k], entry))
            continue;
        fprintf(out, "\n%*s%s: ", column + 3, "", keys[k].name);
        put_value(out, &keys[k], entry, labels);
        said++;
    }
    fputs(said ? "\n" : " {}\n", out);
    if (entry->note[0]) {
        fprintf(out, "%*snote: ", column + 1, "");
        hp_bench_put_scalar(out, entry->note, false);
        fputc('\n', out);
    }
}

/* Closes a memory stream; the text, or NULL when something did not fit into memory. */
static char *finish(FILE *out, char **text)
{
    bool bad = ferror(out) != 0;
    if (fclose(out) != 0)
        bad = true;
    if (!bad)
        return *text;
    free(*text);
    return NULL;
}

char *hp_bench_log_entry_text(const hp_bench_entry *entry, const hp_labels *labels)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    if (!out)
        return NULL;
    hp_bench_put_entry(out, entry, labels, DASH_COLUMN);
    return finish(out, &text);
}

static void put_group(FILE *out, const char *name, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE])
{
    fprintf(out, "  %s: [", name);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        fputs(k ? ", " : "", out);
        hp_bench_put_scalar(out, label[k], true);
    }
    fputs("]\n", out);
}

char *hp_bench_log_head_text(const hp_scenario *scenario)
{
    char *text = NULL, name[HP_BENCH_NAME_SIZE];
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    if (!out)
        return NULL;
    fputs(
        "# Bench log: what was measured and tried, in order. Edit it by hand as you like; keys and "
        "units:\n# docs/benchlog.md\nhubphase_log: 1\nscenario: ",
        out);
    hp_bench_put_scalar(out, hp_bench_log_scenario_name(scenario, name, sizeof name), false);
    fputs("\nleads: # in this order stand the digits of codes and the leads of wirings\n", out);
    put_group(out, "motor_phases", scenario->labels.motor_lead);
    put_group(out, "motor_sensors", scenario->labels.motor_sensor);
    put_group(out, "controller_outputs", scenario->labels.controller_output);
    put_group(out, "controller_inputs", scenario->labels.controller_input);
    fputs("entries:\n", out);
    return finish(out, &text);
}
