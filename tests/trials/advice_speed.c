/*
 * How long an answer takes: the shipped likelihood table read from its text, a fresh planner, a log
 * of ten entries and the advice after it, with the default person and prior.
 *
 *   advice_speed [REPEATS [TABLE_FILE]]
 *
 * Processor time, median of the repeats; each starts with nothing kept. The table goes into the
 * file when one is named, for docs/advisor.md.
 */
#include "decide/advise/plan.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "decide/reading/reading_list.h"
#include "default_table.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#define REPEATS_MAX 99

enum { READ_TABLE, MAKE_PLANNER, MAKE_BELIEF, ADD_ENTRIES, NEXT, THOROUGH, STAGES };

static const char *const stage_name[STAGES] = {
    "table read from its text", "planner made", "belief made",
    "ten entries taken in",     "next advice",  "slips looked for too"};

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static hp_entry trial(int number, hp_motion motion, hp_feel feel, double amps, double speed)
{
    hp_entry e = hp_entry_make(&hp_reading_trial, 0);
    e.trial.wiring = hp_wiring_from_number(number);
    e.trial.throttle = 0.35;
    e.trial.motion = motion;
    e.trial.feel = feel;
    e.trial.starts_tried = 6;
    e.trial.starts = motion == HP_MOVED_SHIVER ? 0 : 6;
    e.trial.battery_a = amps;
    e.trial.wheel_rad_s = speed;
    return e;
}

/* Readings and trials that leave doubt, so that the plan has something to weigh. */
static int fill_log(hp_entry entry[10])
{
    static const int code[] = {4, 6, 2, 3, 1, 5, 4}, parked[] = {4, 3, 1};
    int count = 0;
    entry[count] = hp_entry_make(&hp_reading_pins, 0);
    entry[count++].pins.shell = HP_TELL_NO;
    entry[count] = hp_entry_make(&hp_reading_supply, 0);
    entry[count++].supply.volts = 5.0;
    entry[count] = hp_entry_make(&hp_reading_hand_turn, 0);
    entry[count].hand_turn.count = 7;
    memcpy(entry[count++].hand_turn.code, code, sizeof code);
    for (int lead = 0; lead < 3; lead++) {
        entry[count] = hp_entry_make(&hp_reading_park, 0);
        entry[count].park.lead = lead;
        entry[count++].park.code = parked[lead];
    }
    entry[count++] = trial(1, HP_MOVED_SHIVER, HP_FEEL_UNSAID, 5.0, NAN);
    entry[count++] = trial(4, HP_MOVED_BACKWARD, HP_FEEL_ROUGH, 4.0, 9.0);
    entry[count++] = trial(9, HP_MOVED_FORWARD, HP_FEEL_ROUGH, 3.0, 7.0);
    entry[count++] = trial(22, HP_MOVED_SHIVER, HP_FEEL_UNSAID, 6.0, NAN);
    return count;
}

static void must(hp_result result, const hp_error *err)
{
    if (result == HP_OK)
        return;
    fprintf(stderr, "%s\n", err->text);
    exit(1);
}

static void run(double took[STAGES])
{
    hp_entry entry[10];
    int entries = fill_log(entry);
    hp_error err = hp_error_none();
    hp_person person = hp_person_default();
    hp_prior_params prior = hp_prior_default();
    hp_plan_params params = hp_plan_params_default();
    hp_belief belief;
    hp_advice advice;
    double mark[STAGES + 1];
    mark[READ_TABLE] = now();
    hp_likelihood table = default_table();
    mark[MAKE_PLANNER] = now();
    hp_planner *planner = hp_planner_create(&table, &person, &params, &err);
    must(planner ? HP_OK : HP_FAIL_MEMORY, &err);
    mark[MAKE_BELIEF] = now();
    must(hp_belief_create(&table, &person, &prior, &belief, &err), &err);
    mark[ADD_ENTRIES] = now();
    for (int k = 0; k < entries; k++)
        must(hp_belief_add(&belief, &entry[k], &err), &err);
    mark[NEXT] = now();
    must(hp_plan_next(planner, &belief, false, &advice, &err), &err);
    mark[THOROUGH] = now();
    hp_contradiction contradiction;
    must(hp_belief_contradiction(&belief, &contradiction, NULL, &err), &err);
    mark[STAGES] = now();
    for (int k = 0; k < STAGES; k++)
        took[k] = mark[k + 1] - mark[k];
    hp_belief_free(&belief);
    hp_planner_free(planner);
    hp_likelihood_free(&table);
}

static int by_value(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

int main(int argc, char **argv)
{
    int repeats = argc > 1 ? atoi(argv[1]) : 9;
    FILE *out = argc > 2 ? fopen(argv[2], "w") : stdout;
    if (repeats < 1 || repeats > REPEATS_MAX || !out) {
        fprintf(stderr, "usage: advice_speed [1..%d [TABLE_FILE]]\n", REPEATS_MAX);
        return 2;
    }
    double took[STAGES][REPEATS_MAX], one[STAGES], total = 0.0;
    for (int r = 0; r < repeats; r++) {
        run(one);
        for (int k = 0; k < STAGES; k++)
            took[k][r] = one[k];
    }
    fputs("| stage | processor time |\n|---|---|\n", out);
    for (int k = 0; k < STAGES; k++) {
        qsort(took[k], (size_t)repeats, sizeof took[k][0], by_value);
        double median = took[k][repeats / 2];
        total += median;
        fprintf(out, "| %s | %.1f ms |\n", stage_name[k], 1e3 * median);
    }
    fprintf(out, "| all together | %.1f ms |\n", 1e3 * total);
    return fclose(out) != 0;
}
