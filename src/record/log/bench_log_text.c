/*
 * The YAML text of a bench log: see bench_log.h.
 *
 * Values are written so that the reader gives back the same entry: numbers to ten digits, codes and
 * what YAML could take for something else in quotes. A value that was not said is left out.
 */
#include "record/log/bench_log_parts.h"

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

/* ---- entries and the head -------------------------------------------------------------------- */

void hp_bench_put_entry(FILE *out, const hp_bench_entry *entry, const hp_labels *labels, int column)
{
    const hp_entry *said = &entry->entry;
    int count = 0;
    fprintf(out, "%*s- time: %s\n%*s%s:", column - 1, "", entry->time, column + 1, "",
            said->reading->name);
    for (const hp_field *field = said->reading->fields; field->name; field++) {
        if (!hp_field_is_said(field, said))
            continue;
        fprintf(out, "\n%*s%s: ", column + 3, "", field->name);
        hp_field_put(out, field, said, labels);
        count++;
    }
    fputs(count > 0 ? "\n" : " {}\n", out);
    if (said->typical)
        fprintf(out, "%*sfigures: typical\n", column + 1, "");
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

void hp_bench_put_leads(FILE *out, const hp_labels *labels)
{
    fputs("leads: # in this order stand the digits of codes and the leads of wirings\n", out);
    put_group(out, "motor_phases", labels->motor_lead);
    put_group(out, "motor_sensors", labels->motor_sensor);
    put_group(out, "controller_outputs", labels->controller_output);
    put_group(out, "controller_inputs", labels->controller_input);
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
    fputc('\n', out);
    hp_bench_put_leads(out, &scenario->labels);
    fputs("entries:\n", out);
    return finish(out, &text);
}
