/* Writes one part of a spread: see hubphase/record/spread_part.h and part_text.h. */
#include "record/spread/part_read.h"

#include "base/hash.h"
#include "decide/advise/likelihood.h"
#include "decide/judge/ensemble.h"
#include "model/drive_text.h"

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

hp_result hp_part_check(const hp_part *part, const hp_spread_plan *plan, hp_error *err)
{
    if (part->of < 1 || part->of > plan->motors)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "a spread of %d motors cannot be done in %d parts, must be 1 to %d",
                            plan->motors, part->of, plan->motors);
    if (part->number < 1 || part->number > part->of)
        return hp_error_set(err, HP_FAIL_INPUT, "there is no part %d of %d, must be 1 to %d",
                            part->number, part->of, part->of);
    return HP_OK;
}

void hp_part_motors(const hp_part *part, const hp_spread_plan *plan, int *begin, int *motors)
{
    long long all = plan->motors;
    *begin = (int)(all * (part->number - 1) / part->of);
    *motors = (int)(all * part->number / part->of) - *begin;
}

char *hp_part_version(char *out, size_t size)
{
    snprintf(out, size, "version " HP_VERSION " %08" PRIx32 "\n",
             (uint32_t)hp_hash(hp_likelihood_default_text));
    return out;
}

void hp_part_put_basis(FILE *out, const hp_scenario *scenario, const hp_spread_options *options)
{
    const hp_spread_plan *plan = &options->plan;
    const hp_run_options *run = &options->survey.run;
    const hp_thresholds *limit = &options->survey.thresholds;
    double width[HP_VARY_COUNT];
    for (int vary = 0; vary < HP_VARY_COUNT; vary++)
        width[vary] = hp_vary_width(&plan->variation, (hp_vary)vary);
    double runs[] = {run->seconds,   run->settle_s,   run->start_speed,        run->start_duty,
                     run->tolerance, run->max_step_s, (double)run->max_events, run->calm_share};
    double limits[] = {limit->turn_min,  limit->turn_rate_min, limit->starts_min,
                       limit->waste_max, limit->speed_sd_max,  limit->apparent_max,
                       limit->late_max,  limit->early_min,     limit->alternation_max};
    hp_drive_put(out, &scenario->drive);
    hp_put_numbers(out, "variation", width, HP_VARY_COUNT);
    hp_put_number(out, "rest", plan->rest_rad);
    fprintf(out, "seed %" PRIu64 "\nmotors %d\nstarts %d\n", plan->seed, plan->motors,
            options->survey.starts);
    hp_put_numbers(out, "run", runs, (int)(sizeof runs / sizeof runs[0]));
    hp_put_numbers(out, "limits", limits, (int)(sizeof limits / sizeof limits[0]));
}

/* Whether anything that a part holds follows from this key. */
static bool is_reckoned_with(const char *key)
{
    static const char *const section[] = {"motor.", "sensors.", "controller.", "supply.",
                                          "stand.", "run.",     "spread."};
    if (strcmp(key, "motor.name") == 0 || strcmp(key, "controller.name") == 0)
        return false;
    for (size_t k = 0; k < sizeof section / sizeof section[0]; k++)
        if (strncmp(key, section[k], strlen(section[k])) == 0)
            return true;
    return false;
}

/* Texts come from a file that anybody wrote: each stays on its line. */
void hp_part_put_keys(FILE *out, const hp_scenario *scenario)
{
    char text[sizeof scenario->parameters.item->value];
    for (size_t k = 0; k < scenario->parameters.count; k++) {
        const hp_parameter *p = &scenario->parameters.item[k];
        if (!is_reckoned_with(p->key))
            continue;
        fprintf(out, HP_PART_INDENT "%s ", p->key);
        if (isnan(p->number))
            fprintf(out, "%s\n", hp_text_clean(p->value, text, sizeof text));
        else
            fprintf(out, "%.10g\n", p->number);
    }
}

/* ---- cells ----------------------------------------------------------------------------------- */

static void put_double(FILE *out, double value)
{
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    fprintf(out, "%016" PRIx64, bits);
}

/* What only the comparison of a motor's wirings needs is left out: it is done. */
static void put_cell(FILE *out, const hp_spread_cell *cell)
{
    const unsigned char byte[HP_PART_BYTES] = {cell->verdict,         cell->direction,
                                               cell->rotor_direction, cell->kind,
                                               cell->threshold,       cell->kind_threshold};
    for (int k = 0; k < HP_PART_BYTES; k++)
        fprintf(out, "%02x", byte[k]);
    for (int k = 0; k < HP_SPREAD_FIGURE_COUNT; k++)
        put_double(out, cell->figure[k]);
    put_double(out, cell->kind_log_ratio);
    fputc('\n', out);
}

static void put_cells(FILE *out, const hp_spread_table *table)
{
    for (int motor = table->begin; motor < table->begin + table->motors; motor++)
        for (int number = 1; number <= HP_WIRING_COUNT; number++)
            if (table->first[number - 1] == number)
                put_cell(out, hp_spread_cell_at(table, motor, number));
}

/* The whole but the check sum; NULL without memory. */
static char *make_text(const hp_scenario *scenario, const hp_spread_options *options,
                       const hp_part *part, const hp_spread_table *table, size_t *size)
{
    char *text = NULL, version[80];
    FILE *out = open_memstream(&text, size);
    if (!out)
        return NULL;
    fprintf(out, "%s%s", table->motors < table->of ? HP_PART_UNFINISHED : HP_PART_HEADING,
            hp_part_version(version, sizeof version));
    hp_part_put_basis(out, scenario, options);
    hp_part_put_keys(out, scenario);
    fprintf(out, "part %d of %d\n", part->number, part->of);
    put_cells(out, table);
    bool failed = ferror(out) != 0;
    if (fclose(out) != 0 || failed) {
        free(text);
        return NULL;
    }
    return text;
}

static hp_result write_text(const char *text, size_t size, FILE *out, hp_error *err)
{
    fwrite(text, 1, size, out);
    fprintf(out, "sum %016" PRIx64 "\n", hp_hash_bytes(text, size));
    return ferror(out) ? hp_error_set(err, HP_FAIL_IO, "the part could not be written") : HP_OK;
}

/* ---- going on -------------------------------------------------------------------------------- */

static hp_result take_motors(hp_part_file *file, const hp_part *part, hp_spread_table *table,
                             hp_error *err)
{
    if (file->part.number != part->number || file->part.of != part->of)
        return hp_part_refuse(file, err, "is part %d of %d", file->part.number, file->part.of);
    return hp_part_take_motors(file, table->of, table, err);
}

/* The motors that this part has already, into the table: some of them where it was stopped, or all.
 * A file that is no part is nothing to go on from; a part of something else is not to be lost. */
static hp_result take_earlier(const hp_part_basis *own, const hp_part *part, const char *path,
                              hp_spread_table *table, hp_error *err)
{
    hp_part_file file;
    hp_error cause = hp_error_none();
    hp_result result = hp_part_open(&file, path, own, &cause);
    if (result == HP_OK)
        result = take_motors(&file, part, table, &cause);
    hp_part_close(&file);
    if (result == HP_FAIL_MEMORY)
        return hp_error_set(err, result, "%s", cause.text);
    if (result == HP_OK || !file.begins)
        return HP_OK;
    return hp_error_set(err, result,
                        "%s; what is done of that one would be lost: name another file, or take it "
                        "away first",
                        cause.text);
}

static hp_result fill(const hp_scenario *scenario, const hp_spread_options *options,
                      const hp_part *part, const char *earlier, hp_spread_table *table,
                      hp_error *err)
{
    hp_part_basis own = {.options = options};
    hp_error cause = hp_error_none();
    hp_result result = earlier ? hp_part_basis_make(&own, scenario, options, &cause) : HP_OK;
    if (result == HP_OK && earlier)
        result = take_earlier(&own, part, earlier, table, &cause);
    hp_part_basis_free(&own);
    if (result == HP_OK)
        result = hp_spread_fill(&scenario->drive, options, table->of, table, &cause);
    if (result == HP_FAIL_CANCELLED && table->motors > 0)
        return HP_OK;
    if (result != HP_OK && err)
        *err = cause;
    return result;
}

static hp_result write_table(const hp_scenario *scenario, const hp_spread_options *options,
                             const hp_part *part, const hp_spread_table *table, FILE *out,
                             hp_error *err)
{
    size_t size = 0;
    char *text = make_text(scenario, options, part, table, &size);
    hp_result result = text ? write_text(text, size, out, err)
                            : hp_error_set(err, HP_FAIL_MEMORY, "no memory to write a part");
    free(text);
    return result;
}

hp_result hp_part_write(const hp_scenario *scenario, const hp_spread_options *options,
                        const hp_part *part, const char *earlier, FILE *out, int *done,
                        hp_error *err)
{
    hp_spread_table table;
    int begin, motors;
    *done = 0;
    hp_result result = hp_part_check(part, &options->plan, err);
    if (result == HP_OK)
        result = hp_spread_check(&scenario->drive, options, err);
    if (result != HP_OK)
        return result;
    hp_part_motors(part, &options->plan, &begin, &motors);
    result = hp_spread_table_make(&table, &scenario->drive, begin, motors, err);
    if (result != HP_OK)
        return result;
    result = fill(scenario, options, part, earlier, &table, err);
    *done = table.motors;
    if (result == HP_OK)
        result = write_table(scenario, options, part, &table, out, err);
    hp_spread_table_free(&table);
    return result;
}
