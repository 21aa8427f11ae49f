/*
 * The advice tried against hidden motors, controllers and people.
 *
 *   advice_trials CASES [FAMILY | all] [TABLE_FILE]
 *
 * Runs so many cases of a family (its number, from 1 on), or of all; prints what came of them,
 * holds them to the aims of family.c and writes the table as Markdown when a file is named. An aim
 * that is a share is held to what chance allows over so many cases. Exit status 1 when one is
 * missed.
 */
#include "chance.h"
#include "family.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "default_table.h"

#define SEED  20261125
#define CHUNK 10 /* cases that share a planner */

typedef struct batch {
    family_setup setup;
    int cases;
    hp_belief start; /* before any entry */
    hp_advice first;
    family_case *result; /* [cases] */
} batch;

static hp_planner *planner_of(const family_setup *s)
{
    hp_error err = hp_error_none();
    hp_planner *planner = hp_planner_create(s->table, &s->person, &s->params, &err);
    if (!planner) {
        fprintf(stderr, "%s\n", err.text);
        exit(1);
    }
    return planner;
}

/* Belief and advice of somebody who has no entry yet. */
static void begin(batch *b)
{
    const family_setup *s = &b->setup;
    hp_error err = hp_error_none();
    hp_planner *planner = planner_of(s);
    if (hp_belief_create(s->table, &s->person, &s->prior, &b->start, &err) != HP_OK ||
        hp_plan_next(planner, &b->start, false, &b->first, &err) != HP_OK) {
        fprintf(stderr, "%s\n", err.text);
        exit(1);
    }
    hp_planner_free(planner);
}

static void run_chunk(void *user, hp_engine *engine, int task)
{
    batch *b = user;
    hp_planner *planner = planner_of(&b->setup);
    for (int k = CHUNK * task; k < CHUNK * (task + 1) && k < b->cases; k++) {
        hidden h = family_hidden(&b->setup, SEED, k, engine);
        b->result[k] = family_run(planner, &b->start, &b->first, &h);
    }
    hp_planner_free(planner);
}

/* ---- what came of it ------------------------------------------------------------------------- */

typedef struct summary {
    int cases, end[FAMILY_END_COUNT], named, worst;
    double trials, trials_error, looks, readings, leads; /* means; standard error */
    double certainty; /* mean of those said with "done" or "probably" */
} summary;

static summary sum_up(const batch *b)
{
    summary s = {.cases = b->cases};
    int trials = 0, looks = 0, readings = 0, leads = 0;
    double squares = 0.0, cases = b->cases;
    for (int k = 0; k < b->cases; k++) {
        const family_case *c = &b->result[k];
        s.end[c->end]++;
        s.named += c->named;
        s.worst = c->trials > s.worst ? c->trials : s.worst;
        trials += c->trials;
        squares += (double)(c->trials * c->trials);
        looks += c->looks;
        readings += c->readings;
        leads += c->leads;
        if (c->end == FAMILY_RIGHT || c->end == FAMILY_FALSE_DONE)
            s.certainty += c->certainty;
    }
    int done = s.end[FAMILY_RIGHT] + s.end[FAMILY_FALSE_DONE];
    s.certainty = done > 0 ? s.certainty / done : 0.0;
    s.trials = trials / cases;
    s.trials_error = sqrt(fmax(0.0, squares / cases - s.trials * s.trials) / cases);
    s.looks = looks / cases;
    s.readings = readings / cases;
    s.leads = leads / cases;
    return s;
}

static double percent(int part, int whole)
{
    return 100.0 * part / whole;
}

static void put_row(FILE *out, const family *f, const summary *s)
{
    char named[32] = "";
    if (f->broken || f->inverted)
        snprintf(named, sizeof named, "%.1f %%", percent(s->named, s->cases));
    fprintf(out,
            "| %s | %d | %.2f %% | %.2f %% | %.2f %% | %s | %.2f %% | %.2f %% | %.3f | %d | %.2f | "
            "%.2f | "
            "%.2f |\n",
            f->name, s->cases, percent(s->end[FAMILY_RIGHT], s->cases),
            percent(s->end[FAMILY_FALSE_DONE], s->cases), 100.0 * s->certainty, named,
            percent(s->end[FAMILY_FALSE_PART], s->cases), percent(s->end[FAMILY_GAVE_UP], s->cases),
            s->trials, s->worst, s->looks, s->readings, s->leads);
}

static void put_heading(FILE *out)
{
    fputs(
        "| family | cases | correct wiring | false \"done\" | certainty said | fault named | wrong "
        "part named | gave "
        "up | wirings tried, mean | worst | further looks | readings | leads moved |\n"
        "|---|---|---|---|---|---|---|---|---|---|---|---|---|\n",
        out);
}

/* ---- the aims -------------------------------------------------------------------------------- */

static int held(const family *f, const char *what, double found, double limit, bool good)
{
    if (!good)
        printf("  MISSED by %s: %s %g, aim %g\n", f->name, what, found, limit);
    return good ? 0 : 1;
}

static int check_aims(const family *f, const summary *s)
{
    const family_aim *a = &f->aim;
    int wrong = s->cases - s->end[FAMILY_RIGHT], done = s->end[FAMILY_FALSE_DONE], missed = 0;
    missed +=
        held(f, "cases that do not reach the right wiring", wrong, (1.0 - a->right_min) * s->cases,
             wrong <= most_by_chance(1.0 - a->right_min, s->cases));
    missed += held(f, "cases with a false \"done\"", done, a->false_done_max * s->cases,
                   done <= most_by_chance(a->false_done_max, s->cases));
    if (f->broken || f->inverted)
        missed += held(f, "cases whose fault is not named", s->cases - s->named,
                       (1.0 - a->named_min) * s->cases,
                       s->cases - s->named <= most_by_chance(1.0 - a->named_min, s->cases));
    missed += held(f, "wirings tried in the mean", s->trials, a->trials_max,
                   s->trials <= a->trials_max + 3.0 * s->trials_error);
    if (a->worst_max > 0)
        missed +=
            held(f, "wirings tried at worst", s->worst, a->worst_max, s->worst <= a->worst_max);
    return missed;
}

/* ---- all of it ------------------------------------------------------------------------------- */

static int run_family(const family *f, const hp_likelihood *table, int cases, FILE *out)
{
    batch b = {.setup = family_setup_of(f, table),
               .cases = cases,
               .result = calloc((size_t)cases, sizeof(family_case))};
    hp_error err = hp_error_none();
    if (!b.result) {
        fputs("no memory\n", stderr);
        exit(1);
    }
    begin(&b);
    clock_t start = clock();
    if (hp_pool_run((cases + CHUNK - 1) / CHUNK, 0, run_chunk, &b, NULL, NULL, &err) != HP_OK) {
        fprintf(stderr, "%s\n", err.text);
        exit(1);
    }
    double seconds = (double)(clock() - start) / CLOCKS_PER_SEC;
    summary s = sum_up(&b);
    put_row(stdout, f, &s);
    printf("  %.1f s of processor time, %.0f ms a case\n", seconds, 1e3 * seconds / cases);
    fflush(stdout);
    if (out) {
        put_row(out, f, &s);
        fflush(out);
    }
    free(b.result);
    hp_belief_free(&b.start);
    return check_aims(f, &s);
}

int main(int argc, char **argv)
{
    int cases = argc > 1 ? atoi(argv[1]) : 0, missed = 0;
    int only = argc > 2 ? atoi(argv[2]) : 0;
    FILE *out = argc > 3 ? fopen(argv[3], "w") : NULL;
    if (cases < 1 || only > family_count || (argc > 3 && !out)) {
        fputs("usage: advice_trials CASES [FAMILY | all] [TABLE_FILE]\n", stderr);
        return 2;
    }
    hp_likelihood table = default_table();
    put_heading(stdout);
    if (out)
        put_heading(out);
    for (int k = 0; k < family_count; k++)
        if (only == 0 || only == k + 1)
            missed += run_family(&families[k], &table, cases, out);
    hp_likelihood_free(&table);
    if (out && fclose(out) != 0)
        return 1;
    return missed > 0;
}
