/*
 * Reads one file of a part: see part_read.h and part_text.h.
 *
 * What is looked at first is told first: whether it is a part at all, whether it is whole, whether
 * this library wrote it, whether it is of this spread, which part it is.
 */
#include "record/spread/part_read.h"

#include "base/hash.h"
#include "base/slurp.h"
#include "hubphase/base/files.h"

#include <errno.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* The part 1 of 1 of the largest ensemble has about 80 million. */
#define BYTES_MAX (128 << 20)

hp_result hp_part_refuse(const hp_part_file *s, hp_error *err, const char *format, ...)
{
    char text[400];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    return hp_error_set(err, HP_FAIL_INPUT, "%s %s", s->path, text);
}

/* Moves past `expected` when the text goes on with it. */
static bool take_text(hp_part_file *s, const char *expected)
{
    size_t size = strlen(expected);
    if ((size_t)(s->end - s->at) < size || memcmp(s->at, expected, size) != 0)
        return false;
    s->at += size;
    return true;
}

/* The line that comes next, without its end; *length of it. */
static const char *peek_line(const hp_part_file *s, int *length)
{
    const char *stop = memchr(s->at, '\n', (size_t)(s->end - s->at));
    *length = (int)((stop ? stop : s->end) - s->at);
    return s->at;
}

static void skip_line(hp_part_file *s)
{
    int length;
    peek_line(s, &length);
    s->at += length;
    s->at += s->at < s->end;
}

static bool is_key(const hp_part_file *s)
{
    size_t size = strlen(HP_PART_INDENT);
    return (size_t)(s->end - s->at) >= size && memcmp(s->at, HP_PART_INDENT, size) == 0;
}

/* ---- is it one, is it whole, is it of this spread -------------------------------------------- */

static hp_result check_sum(hp_part_file *s, size_t size, hp_error *err)
{
    char expected[40];
    const size_t sum = strlen("sum \n") + 16;
    s->at = s->text;
    s->end = s->text + size;
    s->unfinished = take_text(s, HP_PART_UNFINISHED);
    s->begins = s->unfinished || take_text(s, HP_PART_HEADING);
    if (size < sum || !s->begins)
        return hp_part_refuse(s, err, "is no part of a spread: spread --part writes one");
    s->end -= sum;
    snprintf(expected, sizeof expected, "sum %016" PRIx64 "\n", hp_hash_bytes(s->text, size - sum));
    if (memcmp(s->end, expected, sum) != 0)
        return hp_part_refuse(
            s, err,
            "is damaged: it is cut short, or something in it was changed; make that part "
            "again, or copy it again");
    return HP_OK;
}

static hp_result check_version(hp_part_file *s, hp_error *err)
{
    char version[80];
    int length;
    if (take_text(s, hp_part_version(version, sizeof version)))
        return HP_OK;
    const char *line = peek_line(s, &length);
    return hp_part_refuse(
        s, err,
        "was written by another version of the program: \"%.*s\" there, \"%.*s\" here; "
        "all parts want the same one",
        length < 60 ? length : 60, line, (int)strlen(version) - 1, version);
}

/* Names the first key of which the file says something else. */
static hp_result refuse_foreign(hp_part_file *s, const hp_part_basis *own, hp_error *err)
{
    hp_part_file here = {.path = s->path, .at = own->keys, .end = own->keys + strlen(own->keys)};
    while (s->at < s->end && !is_key(s))
        skip_line(s);
    for (; is_key(s) && is_key(&here); skip_line(s), skip_line(&here)) {
        int there_length, here_length;
        const char *there = peek_line(s, &there_length), *text = peek_line(&here, &here_length);
        if (there_length == here_length && memcmp(there, text, (size_t)here_length) == 0)
            continue;
        return hp_part_refuse(s, err, "belongs to another spread: \"%.*s\" there, \"%.*s\" here",
                              there_length - 2 < 150 ? there_length - 2 : 150, there + 2,
                              here_length - 2 < 150 ? here_length - 2 : 150, text + 2);
    }
    return hp_part_refuse(
        s, err,
        "belongs to another spread: a figure of its scenario or a setting of its runs "
        "differs in a digit that is not shown");
}

/* ---- which part it is ------------------------------------------------------------------------ */

/* "part 2 of 4\n" */
static bool take_part(hp_part_file *s, hp_part *part)
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

static hp_result take_place(hp_part_file *s, const hp_part_basis *own, hp_error *err)
{
    hp_error cause = hp_error_none();
    while (is_key(s))
        skip_line(s);
    if (!take_part(s, &s->part))
        return hp_part_refuse(s, err, "is damaged: it does not say which part it is");
    if (hp_part_check(&s->part, &own->options->plan, &cause) != HP_OK)
        return hp_part_refuse(s, err, "is damaged: %s", cause.text);
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
static bool take_motor(hp_part_file *s, const hp_spread_table *table, int motor)
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

hp_result hp_part_take_motors(hp_part_file *s, int motors, hp_spread_table *table, hp_error *err)
{
    for (int k = 0; k < motors && !(s->unfinished && s->at == s->end); k++) {
        int motor = table->begin + table->motors;
        if (!take_motor(s, table, motor))
            return hp_part_refuse(s, err, "is damaged at motor %d of the ensemble", motor + 1);
        table->motors++;
    }
    return s->at == s->end ? HP_OK
                           : hp_part_refuse(s, err, "is damaged: it goes on after its last motor");
}

/* ---- a file ---------------------------------------------------------------------------------- */

hp_result hp_part_basis_make(hp_part_basis *own, const hp_scenario *scenario,
                             const hp_spread_options *options, hp_error *err)
{
    size_t size;
    *own = (hp_part_basis){.options = options};
    FILE *basis = open_memstream(&own->basis, &size), *keys = open_memstream(&own->keys, &size);
    bool failed = !basis || !keys;
    if (!failed) {
        hp_part_put_basis(basis, scenario, options);
        hp_part_put_keys(keys, scenario);
        failed = ferror(basis) || ferror(keys);
    }
    failed = (basis && fclose(basis) != 0) || failed;
    failed = (keys && fclose(keys) != 0) || failed;
    return failed ? hp_error_set(err, HP_FAIL_MEMORY, "no memory to read parts") : HP_OK;
}

void hp_part_basis_free(hp_part_basis *own)
{
    free(own->basis);
    free(own->keys);
}

hp_result hp_part_open(hp_part_file *s, const char *path, const hp_part_basis *own, hp_error *err)
{
    size_t size = 0;
    *s = (hp_part_file){.path = path};
    int cause = hp_slurp(path, BYTES_MAX, &s->text, &size);
    if (cause == ENOMEM)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to read %s", path);
    if (cause != 0)
        return hp_error_set(err, HP_FAIL_INPUT, "%s cannot be read: %s", path,
                            hp_file_cause(cause));
    hp_result result = check_sum(s, size, err);
    if (result == HP_OK)
        result = check_version(s, err);
    if (result == HP_OK && !take_text(s, own->basis))
        result = refuse_foreign(s, own, err);
    return result == HP_OK ? take_place(s, own, err) : result;
}

void hp_part_close(hp_part_file *s)
{
    free(s->text);
    s->text = NULL;
}
