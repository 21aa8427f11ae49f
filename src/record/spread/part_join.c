/* Joins the parts of a spread: see hubphase/record/spread_part.h and part_read.h. */
#include "record/spread/part_read.h"

#include <stdlib.h>
#include <string.h>

/* What the files gave so far. */
typedef struct joiner {
    const hp_spread_options *options;
    hp_part_basis own;
    hp_spread_table *table;
    int of;             /* parts; 0 before the first */
    const char *first;  /* borrowed; the file that says so */
    const char **given; /* owned; [number - 1] the file that gave a part; NULL: none yet */
} joiner;

static hp_result take_place(joiner *j, const hp_part_file *file, hp_error *err)
{
    const hp_part *part = &file->part;
    if (j->of == 0) {
        j->given = calloc((size_t)part->of, sizeof *j->given);
        if (!j->given)
            return hp_error_set(err, HP_FAIL_MEMORY, "no memory to join parts");
        j->of = part->of;
        j->first = file->path;
    }
    if (part->of != j->of)
        return hp_part_refuse(file, err,
                              "is part %d of %d, but %s is one of %d: all must be cut "
                              "alike",
                              part->number, part->of, j->first, j->of);
    if (j->given[part->number - 1])
        return hp_part_refuse(file, err, "is part %d of %d once more: %s is that part, too",
                              part->number, part->of, j->given[part->number - 1]);
    j->given[part->number - 1] = file->path;
    return HP_OK;
}

/* Its motors into their places of the whole. */
static hp_result take_motors(joiner *j, hp_part_file *file, hp_error *err)
{
    int begin, motors;
    hp_part_motors(&file->part, &j->options->plan, &begin, &motors);
    j->table->motors = begin;
    hp_result result = hp_part_take_motors(file, motors, j->table, err);
    int done = j->table->motors - begin;
    if (result != HP_OK || done == motors)
        return result;
    return hp_part_refuse(file, err,
                          "was stopped after %d of the %d motors of part %d of %d: the same spread "
                          "--part %d/%d -o %s goes on with it",
                          done, motors, file->part.number, file->part.of, file->part.number,
                          file->part.of, file->path);
}

static hp_result read_file(joiner *j, const char *path, hp_error *err)
{
    hp_part_file file;
    hp_result result = hp_part_open(&file, path, &j->own, err);
    if (result == HP_OK)
        result = take_place(j, &file, err);
    if (result == HP_OK)
        result = take_motors(j, &file, err);
    hp_part_close(&file);
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

static hp_result read_all(joiner *j, const char *const *path, int paths, hp_error *err)
{
    hp_result result = HP_OK;
    for (int k = 0; result == HP_OK && k < paths; k++)
        result = read_file(j, path[k], err);
    return result == HP_OK ? check_complete(j, err) : result;
}

hp_result hp_parts_join(const hp_scenario *scenario, const hp_spread_options *options,
                        const char *const *path, int paths, hp_spread *spread, hp_error *err)
{
    hp_spread_table table;
    joiner j = {.options = options, .table = &table};
    memset(spread, 0, sizeof *spread);
    if (paths < 1)
        return hp_error_set(err, HP_FAIL_INPUT, "there is no part to be joined");
    hp_result result = hp_spread_check(&scenario->drive, options, err);
    if (result == HP_OK)
        result = hp_spread_table_make(&table, &scenario->drive, 0, options->plan.motors, err);
    if (result != HP_OK)
        return result;
    result = hp_part_basis_make(&j.own, scenario, options, err);
    if (result == HP_OK)
        result = read_all(&j, path, paths, err);
    table.motors = options->plan.motors;
    if (result == HP_OK)
        result = hp_spread_from_table(options, &table, spread, err);
    hp_spread_table_free(&table);
    hp_part_basis_free(&j.own);
    free(j.given);
    return result;
}
