/*
 * A likelihood table as text: see decide/advise/likelihood.h. A heading, the basis, the number of
 * cases, one line a level and case, a check sum.
 */
#include "decide/advise/likelihood_parts.h"

#include "base/hash.h"
#include "model/drive_text.h"

#include <stdlib.h>
#include <string.h>

static void put_options(FILE *out, const hp_likelihood_options *o)
{
    const hp_variation_params *v = &o->variation;
    double variation[] = {v->resistance_ratio,  v->inductance_ratio, v->ke_ratio,
                          v->flat_rad,          v->friction_ratio,   v->breakaway_ratio,
                          v->viscous_ratio,     v->inertia_ratio,    v->common_rad,
                          v->individual_rad,    v->hysteresis_ratio, v->cogging_ratio,
                          v->cogging_phase_rad, v->battery_ratio,    v->battery_ohm_ratio,
                          v->winding_k,         v->limit_ratio};
    hp_put_numbers(out, "variation", variation, (int)(sizeof variation / sizeof variation[0]));
    fprintf(out, "seed %llu\nmotors %d\nstarts %d\n", (unsigned long long)o->seed, o->motors,
            o->starts);
    hp_put_numbers(out, "levels", o->level, o->levels);
    double run[] = {
        o->run.seconds,   o->run.settle_s,   o->run.start_speed,        o->run.start_duty,
        o->run.tolerance, o->run.max_step_s, (double)o->run.max_events, o->run.calm_share};
    hp_put_numbers(out, "run", run, (int)(sizeof run / sizeof run[0]));
}

char *hp_likelihood_basis(const hp_drive *nominal, const hp_likelihood_options *options)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    if (!out)
        return NULL;
    hp_drive sound = hp_likelihood_sound(nominal);
    hp_drive_put_sound(out, &sound);
    put_options(out, options);
    bool failed = ferror(out) != 0;
    if (fclose(out) != 0 || failed) {
        free(text);
        return NULL;
    }
    return text;
}

/* Digits of one record: eight counts and the cut-outs, one each; three grid numbers, four each. */
#define RECORD_DIGITS (HP_SIGHT_COUNT + 1 + 3 * 4)
#define HEADING       "hubphase likelihood 1\n"

static void put_record(FILE *out, const hp_record *r)
{
    for (int k = 0; k < HP_SIGHT_COUNT; k++)
        fprintf(out, "%x", (unsigned)r->sight[k]);
    fprintf(out, "%x%04x%04x%04x", (unsigned)r->cut_out, (unsigned)r->wheel_speed,
            (unsigned)r->current_turning, (unsigned)r->current_standing);
}

static void put_body(FILE *out, const hp_likelihood *l)
{
    fprintf(out, "%s%s", HEADING, l->basis);
    fprintf(out, "cases %d\n", l->map.count);
    for (int k = 0; k < hp_likelihood_count(l); k++) {
        put_record(out, &l->record[k]);
        if ((k + 1) % l->options.motors == 0)
            fputc('\n', out);
    }
}

hp_result hp_likelihood_write(const hp_likelihood *likelihood, FILE *out, hp_error *err)
{
    char *text = NULL;
    size_t size = 0;
    FILE *body = open_memstream(&text, &size);
    if (!body)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a likelihood table");
    put_body(body, likelihood);
    bool failed = ferror(body) != 0;
    if (fclose(body) != 0 || failed) {
        free(text);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a likelihood table");
    }
    fwrite(text, 1, size, out);
    fprintf(out, "sum %016llx\n", (unsigned long long)hp_hash_bytes(text, size));
    free(text);
    if (ferror(out))
        return hp_error_set(err, HP_FAIL_IO, "a likelihood table could not be written");
    return HP_OK;
}

/* Value of `digits` hexadecimal digits at *at, which moves on; -1 when one is not such a digit. */
static long take_hex(const char **at, int digits)
{
    long value = 0;
    for (int k = 0; k < digits; k++) {
        char c = *(*at)++;
        int digit = c >= '0' && c <= '9' ? c - '0' : c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1;
        if (digit < 0)
            return -1;
        value = 16 * value + digit;
    }
    return value;
}

static bool take_record(const char **at, int starts, hp_record *r)
{
    long sum = 0, number[3];
    for (int k = 0; k < HP_SIGHT_COUNT; k++) {
        long count = take_hex(at, 1);
        if (count < 0)
            return false;
        r->sight[k] = (uint8_t)count;
        sum += count;
    }
    long cut_out = take_hex(at, 1);
    for (int k = 0; k < 3; k++)
        number[k] = take_hex(at, 4);
    if (sum > starts || cut_out < 0 || cut_out > sum || number[0] < 0 || number[1] < 0 ||
        number[2] < 0)
        return false;
    r->cut_out = (uint8_t)cut_out;
    r->wheel_speed = (uint16_t)number[0];
    r->current_turning = (uint16_t)number[1];
    r->current_standing = (uint16_t)number[2];
    return true;
}

/* Moves past `expected` when the text goes on with it. */
static bool take_text(const char **at, const char *end, const char *expected)
{
    size_t size = strlen(expected);
    if ((size_t)(end - *at) < size || memcmp(*at, expected, size) != 0)
        return false;
    *at += size;
    return true;
}

static bool take_records(const char **at, const char *end, hp_likelihood *l)
{
    int motors = l->options.motors;
    size_t needed =
        (size_t)(hp_likelihood_count(l) / motors) * (size_t)(motors * RECORD_DIGITS + 1);
    if ((size_t)(end - *at) < needed)
        return false;
    for (int k = 0; k < hp_likelihood_count(l); k++) {
        if (!take_record(at, l->options.starts, &l->record[k]))
            return false;
        if ((k + 1) % motors == 0 && *(*at)++ != '\n')
            return false;
    }
    return true;
}

/* NULL when all is well, else what is wrong. */
static const char *take_all(const char *text, size_t size, hp_likelihood *l)
{
    const char *at = text, *end = text + size;
    char line[64];
    if (!take_text(&at, end, HEADING))
        return "it does not begin as one";
    if (!take_text(&at, end, l->basis))
        return "it was computed from something else";
    snprintf(line, sizeof line, "cases %d\n", l->map.count);
    if (!take_text(&at, end, line) || !take_records(&at, end, l))
        return "a record is damaged";
    snprintf(line, sizeof line, "sum %016llx\n",
             (unsigned long long)hp_hash_bytes(text, (size_t)(at - text)));
    if (!take_text(&at, end, line) || at != end)
        return "its check sum is wrong";
    return NULL;
}

hp_result hp_likelihood_read(const char *text, size_t size, const hp_drive *nominal,
                             const hp_likelihood_options *options, hp_likelihood *likelihood,
                             hp_error *err)
{
    hp_result result = hp_likelihood_prepare(nominal, options, likelihood, err);
    if (result != HP_OK)
        return result;
    const char *wrong = take_all(text, size, likelihood);
    if (wrong) {
        hp_likelihood_free(likelihood);
        return hp_error_set(err, HP_FAIL_INPUT, "not a likelihood table to be used: %s", wrong);
    }
    return HP_OK;
}
