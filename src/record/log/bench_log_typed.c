/* Whole entries from typed values: see hubphase/record/bench_log.h. */
#include "hubphase/base/text.h"
#include "record/log/bench_log_parts.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#define OPTION_SIZE   64
#define SHOWN_COLUMNS 40 /* of what was typed, in a mistake */
#define LINE_SIZE     1200

char *hp_field_option(const hp_field *field, char *out, size_t size)
{
    snprintf(out, size, "%s", field->name);
    for (char *c = out; *c; c++)
        if (*c == '_')
            *c = '-';
    return out;
}

/* Who is told of mistakes, and how many there were. */
typedef struct listener {
    hp_mistake tell; /* may be NULL */
    void *user;
    int count;
} listener;

static void tell(listener *l, const char *format, ...) __attribute__((format(printf, 2, 3)));

static void tell(listener *l, const char *format, ...)
{
    char text[LINE_SIZE];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    l->count++;
    if (l->tell)
        l->tell(l->user, text);
}

static void tell_problems(listener *l, const hp_problems *problems)
{
    for (int k = 0; k < problems->count && k < HP_PROBLEMS_SHOWN; k++)
        tell(l, "%s", problems->item[k].text);
}

bool hp_bench_entry_fits(const hp_bench_entry *entry, const hp_labels *labels, const char *prefix,
                         hp_mistake mistake, void *user)
{
    listener l = {.tell = mistake, .user = user};
    hp_problems *problems = calloc(1, sizeof *problems);
    if (!problems)
        return true;
    hp_entry_reader reading = {.problems = problems, .labels = labels, .prefix = prefix};
    bool fits = hp_bench_values_settle(&reading, (hp_place){1, 1, 1}, entry);
    tell_problems(&l, problems);
    free(problems);
    return fits;
}

/* Where the next NAME=VALUE of a list of them begins: behind a comma between two pieces that both
 * have a sign, since a value may hold a comma. NULL: this is the last. */
static const char *next_member(const char *text)
{
    const char *sign = strchr(text, '=');
    for (const char *comma = sign ? strchr(sign, ',') : NULL; comma; comma = strchr(comma + 1, ','))
        if (comma[1 + strcspn(comma + 1, ",=")] == '=')
            return comma + 1;
    return NULL;
}

/* Writes NAME=VALUE, or several of them behind commas. False, the mistake told. */
static bool put_members(FILE *out, const hp_field *field, const char *option, const char *text,
                        listener *l)
{
    char one[LINE_SIZE], shown[4 * SHOWN_COLUMNS];
    for (const char *next; text; text = next) {
        next = next_member(text);
        text += strspn(text, " ");
        int length = (int)(next ? next - 1 - text : (ptrdiff_t)strlen(text));
        snprintf(one, sizeof one, "%.*s", length, text);
        if (length < (int)sizeof one && hp_bench_put_member(out, one))
            continue;
        tell(l, "--%s is \"%s\", must be %s", option,
             hp_text_clip(one, SHOWN_COLUMNS, shown, sizeof shown), field->argument);
        return false;
    }
    return true;
}

/* Writes what was typed for one field as YAML; false, the mistake told, when it does not fit. *seen
 * is how many values there were. */
static bool put_field(FILE *out, const hp_field *field, const hp_typed_value *value, int count,
                      listener *l, int *seen)
{
    char option[OPTION_SIZE];
    hp_field_option(field, option, sizeof option);
    *seen = 0;
    for (int k = 0; k < count; k++) {
        const char *text = value[k].text;
        bool mapping = hp_field_is_mapping(field, text);
        if (strcmp(value[k].field->name, field->name) != 0)
            continue;
        if ((*seen)++ > 0 && !mapping) {
            tell(l, "--%s is given twice, must be given once", option);
            return false;
        }
        if (*seen == 1)
            fprintf(out, mapping ? "%s:\n" : "%s: ", field->name);
        if (!mapping) {
            hp_bench_put_typed(out, text);
            fputc('\n', out);
        } else if (!put_members(out, field, option, text, l)) {
            return false;
        }
    }
    return true;
}

static bool put_values(FILE *out, const hp_reading *kind, const hp_typed_value *value, int count,
                       const hp_scenario *scenario, listener *l)
{
    int seen;
    for (const hp_field *field = kind->fields; field->name; field++) {
        if (!put_field(out, field, value, count, l, &seen))
            return false;
        if (seen == 0 && field->from_throttle)
            fprintf(out, "%s: %.10g\n", field->name, 100.0 * scenario->drive.controller.throttle);
    }
    return true;
}

/* Reads the values as a log's reader does; problems name options. */
static hp_result read_values(const char *text, size_t size, const hp_labels *labels, listener *l,
                             hp_bench_entry *entry, hp_error *err)
{
    hp_yaml yaml;
    hp_problems *problems = calloc(1, sizeof *problems);
    if (!problems)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for an entry");
    hp_entry_reader reading = {.problems = problems, .labels = labels, .prefix = NULL};
    hp_result result = hp_bench_typed_load(&yaml, text, size, problems, err);
    if (result == HP_OK)
        hp_bench_values_read(&reading, (hp_place){1, 1, 1}, yaml.root, entry);
    if (problems->count > 0)
        result = HP_FAIL_INPUT;
    tell_problems(l, problems);
    hp_yaml_free(&yaml);
    free(problems);
    return result;
}

hp_result hp_bench_entry_type(const hp_reading *kind, const hp_typed_value *value, int count,
                              const hp_scenario *scenario, hp_mistake mistake, void *user,
                              hp_bench_entry *entry, hp_error *err)
{
    listener l = {.tell = mistake, .user = user};
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    if (!out)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for an entry");
    *entry = hp_bench_entry_make(kind);
    hp_result result = put_values(out, kind, value, count, scenario, &l) ? HP_OK : HP_FAIL_INPUT;
    if (fclose(out) != 0)
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for an entry");
    if (result == HP_OK)
        result = read_values(text, size, &scenario->labels, &l, entry, err);
    free(text);
    if (l.count > 0)
        return hp_error_set(err, HP_FAIL_INPUT, "what was typed has %d mistake%s", l.count,
                            l.count == 1 ? "" : "s");
    return result;
}
