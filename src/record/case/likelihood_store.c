/* The likelihood table of a scenario: see the header. */
#include "record/case/likelihood_store.h"

#include "base/hash.h"
#include "base/slurp.h"
#include "hubphase/base/files.h"

#include <errno.h>
#include <inttypes.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define BYTES_MAX (16 << 20) /* a table of the largest ensemble has a few */
#define PATH_SIZE 1024
/* Two ways to work out the same number differ by less. */
#define ROUNDING 1e-12

static void remark(const hp_case_options *options, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

static void remark(const hp_case_options *options, const char *format, ...)
{
    char text[2400];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    if (options->remark)
        options->remark(options->remark_user, text);
}

hp_likelihood_options hp_likelihood_store_options(const hp_scenario *scenario)
{
    hp_likelihood_options options = hp_likelihood_options_default();
    double nominal = scenario->drive.controller.throttle, trials = scenario->bench.plan.throttle;
    options.variation = scenario->spread.variation;
    options.run.seconds = scenario->run.seconds;
    options.run.settle_s = scenario->run.settle_s;
    /* The same throttle written twice must give the same table. */
    bool apart = nominal > 0.0 && trials > 0.0 && fabs(trials / nominal - 1.0) > ROUNDING;
    for (int k = 0; apart && k < options.levels; k++)
        options.level[k] *= trials / nominal;
    return options;
}

/* ---- the cache's place ----------------------------------------------------------------------- */

char *hp_likelihood_store_key(uint64_t key, char *out)
{
    snprintf(out, HP_TABLE_KEY, "%08" PRIx32 "-%016" PRIx64,
             (uint32_t)hp_hash(hp_likelihood_default_text), key);
    return out;
}

hp_result hp_likelihood_store_path(const char *cache, uint64_t key, char *out, size_t size,
                                   hp_error *err)
{
    char name[HP_TABLE_KEY];
    int length =
        snprintf(out, size, "%s/likelihood-%s.txt", cache, hp_likelihood_store_key(key, name));
    return length < 0 || (size_t)length >= size
               ? hp_error_set(err, HP_FAIL_IO, "the name of the cache file is too long")
               : HP_OK;
}

/* Makes the cache folder and the one that it lies in; what cannot be made shows when the file is
 * opened. */
static void make_folders(const char *cache)
{
    char outer[PATH_SIZE];
    snprintf(outer, sizeof outer, "%s", cache);
    char *slash = strrchr(outer, '/');
    if (slash && slash > outer) {
        *slash = '\0';
        mkdir(outer, (mode_t)0700);
    }
    mkdir(cache, (mode_t)0700);
}

/* ---- reading and keeping --------------------------------------------------------------------- */

static bool read_kept(const char *path, const hp_scenario *scenario,
                      const hp_likelihood_options *content, const hp_case_options *options,
                      hp_likelihood *table)
{
    size_t size = 0;
    hp_error err = hp_error_none();
    char *text = NULL;
    if (hp_slurp(path, BYTES_MAX, &text, &size) != 0)
        return false;
    hp_result result = hp_likelihood_read(text, size, &scenario->drive, content, table, &err);
    free(text);
    if (result != HP_OK)
        remark(options, "%s is not used and is made anew: %s", path, err.text);
    return result == HP_OK;
}

/* One that was kept elsewhere, and handed in. */
static bool read_given(const hp_scenario *scenario, const hp_likelihood_options *content,
                       const hp_case_options *options, hp_likelihood *table)
{
    hp_error err = hp_error_none();
    if (!options->table)
        return false;
    hp_result result = hp_likelihood_read(options->table, strlen(options->table), &scenario->drive,
                                          content, table, &err);
    if (result != HP_OK)
        remark(options, "the table is not used and is made anew: %s", err.text);
    return result == HP_OK;
}

static void keep(const char *path, const hp_case_options *options, const hp_likelihood *table)
{
    hp_file file;
    hp_error err = hp_error_none();
    make_folders(options->cache);
    int cause = hp_file_open(&file, path, false);
    if (!cause && hp_likelihood_write(table, file.file, &err) != HP_OK)
        cause = ferror(file.file) && errno ? errno : EIO;
    if (!cause)
        cause = hp_file_commit(&file);
    hp_file_discard(&file);
    if (cause)
        remark(options, "%s cannot be written: %s; this is simulated again the next time", path,
               hp_file_cause(cause));
}

/* ---- building -------------------------------------------------------------------------------- */

static hp_result build(const hp_scenario *scenario, const hp_likelihood_options *content,
                       const hp_case_options *options, hp_likelihood *table, hp_error *err)
{
    hp_likelihood_options working = *content;
    working.jobs = options->jobs;
    working.progress = options->progress;
    working.user = options->progress_user;
    working.run.stop = scenario->run.stop;
    working.run.stop_user = scenario->run.stop_user;
    remark(options, "simulating what such motors show in every case, once for this scenario");
    return hp_likelihood_build(&scenario->drive, &working, table, err);
}

/* Whether two texts say the same, numbers compared as numbers. */
static bool alike(const char *a, const char *b)
{
    while (*a && *b) {
        char *after_a, *after_b;
        double x = strtod(a, &after_a), y = strtod(b, &after_b);
        bool number = after_a > a && after_b > b;
        if (number && !(fabs(x - y) <= ROUNDING * fabs(x)))
            return false;
        if (!number && *a != *b)
            return false;
        a = number ? after_a : a + 1;
        b = number ? after_b : b + 1;
    }
    return *a == *b;
}

/* Reads the shipped table when it is that of this drive; false when it is another's. True too, with
 * the failure in *result, where memory is short. */
static bool read_shipped(const char *basis, hp_likelihood *table, hp_error *err, hp_result *result)
{
    hp_drive drive = hp_drive_default();
    hp_likelihood_options options = hp_likelihood_options_default();
    char *shipped = hp_likelihood_basis(&drive, &options);
    if (!shipped) {
        *result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for a likelihood table");
        return true; /* nothing is simulated for want of a text */
    }
    bool same = alike(shipped, basis);
    free(shipped);
    if (same)
        *result = hp_likelihood_read(hp_likelihood_default_text, strlen(hp_likelihood_default_text),
                                     &drive, &options, table, err);
    return same;
}

static hp_result get(const hp_scenario *scenario, const hp_likelihood_options *content,
                     const char *basis, const hp_case_options *options, hp_likelihood *table,
                     hp_table_origin *origin, hp_error *err)
{
    char path[PATH_SIZE];
    hp_error no_place = hp_error_none();
    *origin = HP_TABLE_SHIPPED;
    hp_result result = HP_OK;
    if (read_shipped(basis, table, err, &result))
        return result;
    bool place = options->cache && hp_likelihood_store_path(options->cache, hp_hash(basis), path,
                                                            sizeof path, &no_place) == HP_OK;
    *origin = HP_TABLE_KEPT;
    if (read_given(scenario, content, options, table))
        return HP_OK;
    if (place && read_kept(path, scenario, content, options, table))
        return HP_OK;
    *origin = HP_TABLE_BUILT;
    if (options->ready_only)
        return hp_error_set(err, HP_FAIL_CANCELLED, "the table of this scenario is not built yet");
    result = build(scenario, content, options, table, err);
    if (result == HP_OK && place)
        keep(path, options, table);
    else if (result == HP_OK && options->cache)
        remark(options, "%s; this is simulated again the next time", no_place.text);
    return result;
}

hp_result hp_likelihood_store_get(const hp_scenario *scenario, const hp_case_options *options,
                                  hp_likelihood *table, hp_table_origin *origin, hp_error *err)
{
    hp_likelihood_options content = hp_likelihood_store_options(scenario);
    memset(table, 0, sizeof *table);
    char *basis = hp_likelihood_basis(&scenario->drive, &content);
    if (!basis)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a likelihood table");
    hp_result result = get(scenario, &content, basis, options, table, origin, err);
    free(basis);
    return result;
}

hp_result hp_likelihood_store_name(const hp_scenario *scenario, char *out, hp_error *err)
{
    hp_likelihood_options content = hp_likelihood_store_options(scenario);
    char *basis = hp_likelihood_basis(&scenario->drive, &content);
    if (!basis)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a likelihood table");
    hp_likelihood_store_key(hp_hash(basis), out);
    free(basis);
    return HP_OK;
}
