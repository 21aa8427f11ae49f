/*
 * Reads the parts of a spread and joins them: see hubphase/record/spread_part.h and part_text.h.
 *
 * What is looked at first is told first: whether it is a part at all, whether it is whole, whether
 * this library wrote it, whether it is of this spread, which part it is.
 */
#include "record/spread/part_text.h"

#include "base/hash.h"
#include "base/slurp.h"
#include "hubphase/base/files.h"

#include <errno.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* The part 1 of 1 of the largest ensemble has about 80 million. */
#define BYTES_MAX (128 << 20)

/* What all files are held against, and what they gave so far. */
typedef struct joiner {
    const hp_scenario *scenario;
    const hp_spread_options *options;
    hp_spread_table *table;
    char *basis;        /* owned; of this spread */
    char *keys;         /* owned; likewise */
    int of;             /* parts; 0 before the first */
    const char *first;  /* borrowed; the file that says so */
    const char **given; /* owned; [number - 1] the file that gave a part; NULL: none yet */
} joiner;

/* A file while it is read. */
typedef struct source {
    const char *path; /* borrowed */
    const char *at;   /* what comes next */
    const char *end;  /* the last line's beginning */
} source;

static hp_result refuse(const source *s, hp_error *err, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static hp_result refuse(const source *s, hp_error *err, const char *format, ...)
{
    char text[400];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    return hp_error_set(err, HP_FAIL_INPUT, "%s %s", s->path, text);
}

/* Moves past `expected` when the text goes on with it. */
static bool take_text(source *s, const char *expected)
{
    size_t size = strlen(expected);
    if ((size_t)(s->end - s->at) < size || memcmp(s->at, expected, size) != 0)
        return false;
    s->at += size;
    return true;
}

/* The line that comes next, without its end; *length of it. */
static const char *peek_line(const source *s, int *length)
{
    const char *stop = memchr(s->at, '\n', (size_t)(s->end - s->at));
    *length = (int)((stop ? stop : s->end) - s->at);
    return s->at;
}

static void skip_line(source *s)
{
    int length;
    peek_line(s, &length);
    s->at += length;
    s->at += s->at < s->end;
}

static bool is_key(const source *s)
{
    size_t size = strlen(HP_PART_INDENT);
    return (size_t)(s->end - s->at) >= size && memcmp(s->at, HP_PART_INDENT, size) == 0;
}

/* ---- is it one, is it whole, is it of this spread -------------------------------------------- */

static hp_result check_sum(source *s, const char *text, size_t size, hp_error *err)
{
    char expected[40];
    const size_t sum = strlen("sum \n") + 16;
    if (size < sum || memcmp(text, HP_PART_HEADING, strlen(HP_PART_HEADING)) != 0)
        return refuse(s, err, "is no part of a spread: spread --part writes one");
    s->end = text + (size - sum);
    snprintf(expected, sizeof expected, "sum %016" PRIx64 "\n", hp_hash_bytes(text, size - sum));
    if (memcmp(s->end, expected, sum) != 0)
        return refuse(s, err,
                      "is damaged: it is cut short, or something in it was changed; make that part "
                      "again, or copy it again");
    return HP_OK;
}

static hp_result check_version(source *s, hp_error *err)
{
    char version[80];
    int length;
    if (take_text(s, hp_part_version(version, sizeof version)))
        return HP_OK;
    const char *line = peek_line(s, &length);
    return refuse(s, err,
                  "was written by another version of the program: \"%.*s\" there, \"%.*s\" here; "
                  "all parts want the same one",
                  length < 60 ? length : 60, line, (int)strlen(version) - 1, version);
}

/* Names the first key of which the file says something else. */
static hp_result refuse_foreign(source *s, const joiner *j, hp_error *err)
{
    source here = {.path = s->path, .at = j->keys, .end = j->keys + strlen(j->keys)};
    while (s->at < s->end && !is_key(s))
        skip_line(s);
    for (; is_key(s) && is_key(&here); skip_line(s), skip_line(&here)) {
        int there_length, here_length;
        const char *there = peek_line(s, &there_length), *own = peek_line(&here, &here_length);
        if (there_length == here_length && memcmp(there, own, (size_t)here_length) == 0)
            continue;
        return refuse(s, err, "belongs to another spread: \"%.*s\" there, \"%.*s\" here",
                      there_length - 2 < 150 ? there_length - 2 : 150, there + 2,
                      here_length - 2 < 150 ? here_length - 2 : 150, own + 2);
    }
    return refuse(s, err,
                  "belongs to another spread: a figure of its scenario or a setting of its runs "
                  "differs in a digit that is not shown");
}

/* ---- which part it is ------------------------------------------------------------------------ */

/* "part 2 of 4\n" */
static bool take_part(source *s, hp_part *part)
{
    char line[64];
    int length;
    const char *text = peek_line(s, &length);
    if (length >= (int)sizeof line ||
        sscanf(text, "part %9d of %9d", &part->number, &part->of) != 2)
        return false;
    snprintf(line, sizeof line, "part %d of %d\n", part->number, part->of);
    return take_text(s, line);
}

static hp_result take_place(source *s, joiner *j, hp_part *part, hp_error *err)
{
    hp_error cause = hp_error_none();
    while (is_key(s))
        skip_line(s);
    if (!take_part(s, part))
        return refuse(s, err, "is damaged: it does not say which part it is");
    if (hp_part_check(part, &j->options->plan, &cause) != HP_OK)
        return refuse(s, err, "is damaged: %s", cause.text);
    if (j->of == 0) {
        j->given = calloc((size_t)part->of, sizeof *j->given);
        if (!j->given)
            return hp_error_set(err, HP_FAIL_MEMORY, "no memory to join parts");
        j->of = part->of;
        j->first = s->path;
    }
    if (part->of != j->of)
        return refuse(s, err, "is part %d of %d, but %s is one of %d: all must be cut alike",
                      part->number, part->of, j->first, j->of);
    if (j->given[part->number - 1])
        return refuse(s, err, "is part %d of %d once more: %s is that part, too", part->number,
                      part->of, j->given[part->number - 1]);
    j->given[part->number - 1] = s->path;
    return HP_OK;
}

/* ---- cells ----------------------------------------------------------------------------------- */

/* Value of `digits` hexadecimal digits at *at, which moves on; false when one is none. */
static bool take_hex(const char **at, int digits, uint64_t *value)
{
    *value = 0;
    for (int k = 0; k < digits; k++) {
        char c = *(*at)++;
        int digit = c >= '0' && c <= '9' ? c - '0' : c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1;
        if (digit < 0)
            return false;
        *value = 16 * *value + (uint64_t)digit;
    }
    return true;
}

static bool take_double(const char **at, double *value)
{
    uint64_t bits;
    bool taken = take_hex(at, 16, &bits);
    memcpy(value, &bits, sizeof bits);
    return taken;
}

static bool take_cell(const char *at, hp_spread_cell *cell)
{
    unsigned char *const byte[HP_PART_BYTES] = {&cell->verdict,         &cell->direction,
                                                &cell->rotor_direction, &cell->kind,
                                                &cell->threshold,       &cell->kind_threshold};
    static const unsigned count[HP_PART_BYTES] = {HP_VERDICT_COUNT,   HP_DIRECTION_COUNT,
                                                  HP_DIRECTION_COUNT, HP_KIND_COUNT,
                                                  HP_THRESHOLD_COUNT, HP_THRESHOLD_COUNT};
    for (int k = 0; k < HP_PART_BYTES; k++) {
        uint64_t value;
        if (!take_hex(&at, 2, &value) || value >= count[k])
            return false;
        *byte[k] = (unsigned char)value;
    }
    for (int k = 0; k < HP_SPREAD_FIGURE_COUNT; k++)
        if (!take_double(&at, &cell->figure[k]))
            return false;
    cell->done = 1;
    return take_double(&at, &cell->kind_log_ratio) && *at == '\n';
}

/* The cells of one motor, those of wirings alike lent. */
static bool take_motor(source *s, const hp_spread_table *table, int motor)
{
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        hp_spread_cell *cell = hp_spread_cell_at(table, motor, number);
        int first = table->first[number - 1];
        if (first != number) {
            *cell = *hp_spread_cell_at(table, motor, first);
            continue;
        }
        if (s->end - s->at < HP_PART_CELL_DIGITS + 1 || !take_cell(s->at, cell))
            return false;
        s->at += HP_PART_CELL_DIGITS + 1;
    }
    return true;
}

static hp_result take_motors(source *s, const joiner *j, const hp_part *part, hp_error *err)
{
    int begin, motors;
    hp_part_motors(part, &j->options->plan, &begin, &motors);
    for (int motor = begin; motor < begin + motors; motor++)
        if (!take_motor(s, j->table, motor))
            return refuse(s, err, "is damaged at motor %d of the ensemble", motor + 1);
    return s->at == s->end ? HP_OK : refuse(s, err, "is damaged: it goes on after its last motor");
}

/* ---- all files ------------------------------------------------------------------------------- */

static hp_result take_file(joiner *j, const char *path, const char *text, size_t size,
                           hp_error *err)
{
    source s = {.path = path, .at = text};
    hp_part part = {0, 0};
    hp_result result = check_sum(&s, text, size, err);
    if (result != HP_OK)
        return result;
    s.at += strlen(HP_PART_HEADING);
    result = check_version(&s, err);
    if (result == HP_OK && !take_text(&s, j->basis))
        result = refuse_foreign(&s, j, err);
    if (result == HP_OK)
        result = take_place(&s, j, &part, err);
    return result == HP_OK ? take_motors(&s, j, &part, err) : result;
}

static hp_result read_file(joiner *j, const char *path, hp_error *err)
{
    char *text = NULL;
    size_t size = 0;
    int cause = hp_slurp(path, BYTES_MAX, &text, &size);
    if (cause == ENOMEM)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to read %s", path);
    if (cause != 0)
        return hp_error_set(err, HP_FAIL_INPUT, "%s cannot be read: %s", path,
                            hp_file_cause(cause));
    hp_result result = take_file(j, path, text, size, err);
    free(text);
    return result;
}

static hp_result check_complete(const joiner *j, hp_error *err)
{
    char list[200];
    int missing = 0;
    hp_phrase p = hp_phrase_begin(list, sizeof list);
    for (int k = 0; k < j->of; k++) {
        if (j->given[k])
            continue;
        hp_phrase_comma(&p);
        hp_phrase_add(&p, "%d", k + 1);
        missing++;
    }
    if (missing == 0)
        return HP_OK;
    return hp_error_set(err, HP_FAIL_INPUT, "part%s %s%s of %d %s missing", missing == 1 ? "" : "s",
                        list, p.cut ? " ..." : "", j->of, missing == 1 ? "is" : "are");
}

/* What this spread's own part would say, as owned texts. */
static hp_result make_own(joiner *j, hp_error *err)
{
    size_t size;
    FILE *basis = open_memstream(&j->basis, &size), *keys = open_memstream(&j->keys, &size);
    bool failed = !basis || !keys;
    if (!failed) {
        hp_part_put_basis(basis, j->scenario, j->options);
        hp_part_put_keys(keys, j->scenario);
        failed = ferror(basis) || ferror(keys);
    }
    failed = (basis && fclose(basis) != 0) || failed;
    failed = (keys && fclose(keys) != 0) || failed;
    return failed ? hp_error_set(err, HP_FAIL_MEMORY, "no memory to join parts") : HP_OK;
}

static hp_result read_all(joiner *j, const char *const *path, int paths, hp_error *err)
{
    hp_result result = make_own(j, err);
    for (int k = 0; result == HP_OK && k < paths; k++)
        result = read_file(j, path[k], err);
    return result == HP_OK ? check_complete(j, err) : result;
}

hp_result hp_parts_join(const hp_scenario *scenario, const hp_spread_options *options,
                        const char *const *path, int paths, hp_spread *spread, hp_error *err)
{
    hp_spread_table table;
    joiner j = {.scenario = scenario, .options = options, .table = &table};
    memset(spread, 0, sizeof *spread);
    if (paths < 1)
        return hp_error_set(err, HP_FAIL_INPUT, "there is no part to be joined");
    hp_result result = hp_spread_check(&scenario->drive, options, err);
    if (result == HP_OK)
        result = hp_spread_table_make(&table, &scenario->drive, 0, options->plan.motors, err);
    if (result != HP_OK)
        return result;
    result = read_all(&j, path, paths, err);
    table.motors = options->plan.motors;
    if (result == HP_OK)
        result = hp_spread_from_table(options, &table, spread, err);
    hp_spread_table_free(&table);
    free(j.basis);
    free(j.keys);
    free(j.given);
    return result;
}
