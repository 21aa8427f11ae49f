/*
 * Names of leads changed in a bench log: see bench_log.h.
 *
 * Only the lines that name a lead are written anew, by the one writer of entries; all others stay
 * byte for byte, and so do comments. The new text is read before it is handed out: each entry must
 * say what it said, by the new names.
 */
#include "record/log/bench_log_parts.h"
#include "record/scenario/line_ends.h"

#include <stdlib.h>
#include <string.h>

#define BYTE_ORDER_MARK "\xEF\xBB\xBF"

/* Lines of the head that are written anew; 0: there are none. */
typedef struct head_lines {
    int scenario;                 /* the line that names it */
    int leads_first, leads_after; /* the block of leads, and behind it */
} head_lines;

typedef struct renaming {
    const hp_scenario *old, *fresh;
    hp_source source;
    hp_bench_log log;
    hp_bench_text layout;
    head_lines head;
    const char **begin; /* owned; where each line begins, and behind the last the text's end */
    int lines;
} renaming;

/* ---- what stands where ----------------------------------------------------------------------- */

static hp_result find_head(renaming *r, hp_problems *problems, hp_error *err)
{
    void *position = NULL;
    hp_yaml yaml;
    hp_yaml_member m;
    hp_result result = hp_yaml_load(&yaml, &r->source, problems, err);
    bool in_leads = false;
    while (result == HP_OK && hp_yaml_next(yaml.root, (hp_place){1, 1, 1}, &position, &m)) {
        if (in_leads)
            r->head.leads_after = m.place.line;
        in_leads = strcmp(m.name, "leads") == 0;
        if (in_leads)
            r->head.leads_first = m.place.line;
        if (strcmp(m.name, "scenario") == 0)
            r->head.scenario = m.place.line;
    }
    hp_yaml_free(&yaml);
    return result;
}

/* Finds the lines once: a long log has thousands, and each is asked for. */
static hp_result find_lines(renaming *r, hp_error *err)
{
    const char *at = r->source.text, *end = at + r->source.size;
    size_t most = 1; /* each ends in at least a byte but the last */
    for (const char *c = at; c < end; c++)
        most += *c == '\n' || *c == '\r';
    r->begin = malloc((most + 1) * sizeof *r->begin);
    if (!r->begin)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to read the log");
    while (at < end) {
        r->begin[r->lines++] = at;
        at += strcspn(at, "\r\n");
        if (at < end)
            at += hp_line_end_at(at);
    }
    r->begin[r->lines] = end;
    return HP_OK;
}

static hp_result read_old(renaming *r, const char *text, FILE *diagnostics, hp_error *err)
{
    const hp_screen unfilled = {.file = diagnostics};
    hp_problems *problems = calloc(1, sizeof *problems);
    if (!problems)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to read the log");
    hp_result result = hp_source_copy_as(&r->source, text, strlen(text), "the log", "bench log",
                                         "hubphase_log: 1", err);
    if (result == HP_OK)
        result = find_lines(r, err);
    if (result == HP_OK)
        result = hp_bench_log_parse(&r->source, r->old, &r->log, &r->layout, problems, err);
    if (result == HP_OK)
        result = find_head(r, problems, err);
    if (result == HP_FAIL_INPUT && problems->count > 0)
        hp_bench_log_report("the log", problems, &r->source, diagnostics ? &unfilled : NULL, err);
    free(problems);
    if (result == HP_OK && !r->layout.list_last)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "entries must be the log's last key and have its entries line by line, "
                            "each after a dash, so that names can be changed in it");
    for (int k = 0; result == HP_OK && k < r->log.count; k++)
        if (r->log.entry[k].line == 0)
            result =
                hp_error_set(err, HP_FAIL_INPUT,
                             "names cannot be changed in entry %d of the log, since no dash on "
                             "a line of its own begins it: edit the file by hand",
                             k + 1);
    return result;
}

/* ---- the new text ---------------------------------------------------------------------------- */

static const char *start_of(const renaming *r, int line)
{
    return r->begin[line > r->lines ? r->lines : line - 1];
}

static bool is_bare(const renaming *r, int line)
{
    const char *at = start_of(r, line);
    return hp_bench_is_bare(at, strcspn(at, "\r\n"));
}

/* The lines from..until, byte for byte. */
static void put_as_is(FILE *out, const renaming *r, int from, int until)
{
    const char *at = start_of(r, from);
    fwrite(at, 1, (size_t)(start_of(r, until) - at), out);
}

/* The lines from..until, without what they say: comments and gaps stay. */
static void put_bare(FILE *out, const renaming *r, int from, int until)
{
    for (int line = from; line < until; line++)
        if (is_bare(r, line))
            put_as_is(out, r, line, line + 1);
}

/* Whether the leads have other names. */
static bool are_renamed(const hp_labels *a, const hp_labels *b)
{
    int same = 0;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        same += (strcmp(a->motor_lead[k], b->motor_lead[k]) == 0) +
                (strcmp(a->motor_sensor[k], b->motor_sensor[k]) == 0) +
                (strcmp(a->controller_output[k], b->controller_output[k]) == 0) +
                (strcmp(a->controller_input[k], b->controller_input[k]) == 0);
    return same < 4 * HP_PHASE_COUNT;
}

/* Whether an entry is spelled otherwise by the new names; memory that is short is told later. */
static bool is_touched(const renaming *r, const hp_bench_entry *entry)
{
    char *old = hp_bench_log_entry_text(entry, &r->old->labels);
    char *fresh = hp_bench_log_entry_text(entry, &r->fresh->labels);
    bool touched = !old || !fresh || strcmp(old, fresh) != 0;
    free(old);
    free(fresh);
    return touched;
}

/* What is new ends its lines as the log does. Each is false without memory for it. */

static bool put_name(FILE *out, const renaming *r, const char *name)
{
    hp_lines lines;
    if (!hp_lines_begin(&lines))
        return false;
    fputs("scenario: ", lines.file);
    hp_bench_put_scalar(lines.file, name, false);
    fputc('\n', lines.file);
    return hp_lines_finish(&lines, out, r->source.text);
}

static bool put_leads(FILE *out, const renaming *r)
{
    hp_lines lines;
    if (!hp_lines_begin(&lines))
        return false;
    hp_bench_put_leads(lines.file, &r->fresh->labels);
    return hp_lines_finish(&lines, out, r->source.text);
}

static bool put_entry(FILE *out, const renaming *r, const hp_bench_entry *entry)
{
    hp_lines lines;
    if (!hp_lines_begin(&lines))
        return false;
    hp_bench_put_entry(lines.file, entry, &r->fresh->labels, r->layout.column);
    return hp_lines_finish(&lines, out, r->source.text);
}

static bool put_head(FILE *out, const renaming *r, int until)
{
    char name[HP_BENCH_NAME_SIZE], old[HP_BENCH_NAME_SIZE];
    const head_lines *h = &r->head;
    bool good = true;
    hp_bench_log_scenario_name(r->fresh, name, sizeof name);
    hp_bench_log_scenario_name(r->old, old, sizeof old);
    for (int line = 1; good && line < until; line++) {
        if (line == h->leads_first && are_renamed(&r->old->labels, &r->fresh->labels)) {
            good = put_leads(out, r);
            put_bare(out, r, line + 1, h->leads_after);
            line = h->leads_after - 1;
        } else if (line == h->scenario && strcmp(name, old) != 0) {
            good = put_name(out, r, name);
        } else {
            put_as_is(out, r, line, line + 1);
        }
    }
    return good;
}

/* The line behind an entry: comments after its last line belong to the next one. */
static int behind(const renaming *r, int number, int end)
{
    int next = number < r->log.count ? r->log.entry[number].line : end, last = next - 1;
    while (last > r->log.entry[number - 1].line && is_bare(r, last))
        last--;
    return last + 1;
}

/* False: no memory. */
static bool put_all(FILE *out, const renaming *r, bool all)
{
    int end = r->lines + 1, line = r->log.count > 0 ? r->log.entry[0].line : end;
    if (r->source.text > r->source.buffer)
        fputs(BYTE_ORDER_MARK, out);
    bool good = put_head(out, r, line);
    for (int k = 0; good && k < r->log.count; k++) {
        const hp_bench_entry *entry = &r->log.entry[k];
        int next = k + 1 < r->log.count ? entry[1].line : end, after = behind(r, k + 1, end);
        if (all || is_touched(r, entry)) {
            good = put_entry(out, r, entry);
            put_bare(out, r, entry->line + 1, after);
            put_as_is(out, r, after, next);
        } else {
            put_as_is(out, r, entry->line, next);
        }
    }
    return good;
}

/* Whether the new text says by the new names what the old one said. */
static bool is_same(const renaming *r, const char *text)
{
    hp_bench_log log;
    hp_result result = hp_bench_log_read(text, strlen(text), "the log", r->fresh, &log, NULL, NULL);
    bool same = result == HP_OK && log.count == r->log.count;
    for (int k = 0; same && k < log.count; k++) {
        char *one = hp_bench_log_entry_text(&log.entry[k], &r->fresh->labels);
        char *two = hp_bench_log_entry_text(&r->log.entry[k], &r->fresh->labels);
        same = one && two && strcmp(one, two) == 0;
        free(one);
        free(two);
    }
    hp_bench_log_free(&log);
    return same;
}

/* *fresh is for the caller to free on HP_OK, else NULL. */
static hp_result write_new(const renaming *r, bool all, char **fresh, hp_error *err)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    if (!out)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to write the log");
    bool good = put_all(out, r, all) && !ferror(out);
    good = fclose(out) == 0 && good;
    *fresh = good && size <= HP_SCENARIO_BYTES_MAX ? text : NULL;
    if (*fresh)
        return HP_OK;
    free(text);
    if (!good)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to write the log");
    return hp_error_set(err, HP_FAIL_INPUT,
                        "the log is full and left as it was: by the new names it would have %zu "
                        "bytes, must have at most %d; take old comments out of it by hand, or "
                        "begin another log",
                        size, HP_SCENARIO_BYTES_MAX);
}

hp_result hp_bench_log_rename_text(const char *text, const hp_scenario *old,
                                   const hp_scenario *fresh, char **renamed, FILE *diagnostics,
                                   hp_error *err)
{
    renaming r = {.old = old, .fresh = fresh};
    char *made = NULL;
    hp_result result = read_old(&r, text, diagnostics, err);
    /* What names no lead by its name may do so by a letter, which is a name now. */
    for (int all = 0; result == HP_OK && all < 2; all++) {
        result = write_new(&r, all > 0, &made, err);
        if (result != HP_OK || is_same(&r, made))
            break;
        free(made);
        made = NULL;
        if (all > 0)
            result = hp_error_set(err, HP_FAIL_INPUT,
                                  "the log is left as it was: by the new names it would be read as "
                                  "something else");
    }
    if (result == HP_OK)
        *renamed = made;
    free(r.begin);
    hp_bench_log_free(&r.log);
    hp_source_free(&r.source);
    return result;
}
