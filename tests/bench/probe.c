/*
 * Runs one program's way of simulating a validation case and prints parameters, figures and times
 * as JSON: for the scripts that set outside programs beside it, and for counting instructions.
 *
 *   hubphase_probe CASE WHO [key=value ...]     WHO: engine, floor or brute
 *       setting=X          the engine's tolerance, the longest or the fixed step [s] of the others
 *       wirings=1,2,5      which (default: 1 to 12)
 *       seconds=S settle=S angle_deg=A
 *       repeats=N          default 1; the time is the median
 */
#include "figures_json.h"
#include "reference.h"
#include "validation_cases.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

#define REPEATS_MAX 99

typedef enum who { WHO_ENGINE, WHO_FLOOR, WHO_BRUTE } who;

typedef struct request {
    who who;
    hp_drive drive;
    hp_run_options options;
    double setting;
    int repeats;
    int wirings[HP_WIRING_COUNT];
    int count;
} request;

static int die(const char *what, const char *which)
{
    fprintf(stderr, "hubphase_probe: %s %s\n", what, which);
    exit(2);
}

static bool take_argument(request *r, const char *argument)
{
    const char *equals = strchr(argument, '=');
    if (!equals)
        return false;
    size_t length = (size_t)(equals - argument);
    double value = atof(equals + 1);
    if (strncmp(argument, "setting", length) == 0) {
        r->setting = value;
    } else if (strncmp(argument, "seconds", length) == 0) {
        r->options.seconds = value;
    } else if (strncmp(argument, "settle", length) == 0) {
        r->options.settle_s = value;
    } else if (strncmp(argument, "angle_deg", length) == 0) {
        r->options.start_angle = value * HP_DEG;
    } else if (strncmp(argument, "repeats", length) == 0) {
        r->repeats = (int)fmin(fmax(value, 1.0), REPEATS_MAX);
    } else if (strncmp(argument, "wirings", length) == 0) {
        r->count = 0;
        for (const char *at = equals; at && r->count < HP_WIRING_COUNT; at = strchr(at + 1, ','))
            r->wirings[r->count++] = atoi(at + 1);
    } else {
        return false;
    }
    return true;
}

static hp_figures run_once(hp_engine *engine, const request *r, const hp_wiring *w)
{
    hp_figures f;
    hp_run_options o = r->options;
    hp_error err = hp_error_none();
    hp_result result;
    if (r->who == WHO_ENGINE) {
        o.tolerance = r->setting;
        result = hp_engine_run(engine, &r->drive, w, &o, NULL, &f, &err);
    } else if (r->who == WHO_FLOOR) {
        result = hp_reference_floor(&r->drive, w, &o, r->setting, NULL, &f);
    } else {
        result = hp_reference_brute(&r->drive, w, &o, r->setting, NULL, &f);
    }
    if (result != HP_OK)
        die("the run broke off:", hp_result_name(result));
    return f;
}

static int ascending(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static json_t *probe(hp_engine *engine, const request *r, int number)
{
    hp_wiring w = hp_wiring_from_number(number);
    hp_figures f = {0};
    double ms[REPEATS_MAX];
    for (int k = 0; k < r->repeats; k++) {
        struct timespec begin, end;
        clock_gettime(CLOCK_THREAD_CPUTIME_ID, &begin);
        f = run_once(engine, r, &w);
        clock_gettime(CLOCK_THREAD_CPUTIME_ID, &end);
        ms[k] = 1e3 * (double)(end.tv_sec - begin.tv_sec) +
                1e-6 * (double)(end.tv_nsec - begin.tv_nsec);
    }
    qsort(ms, (size_t)r->repeats, sizeof ms[0], ascending);
    return json_pack("{s:i, s:[iii], s:[iii], s:o, s:f, s:I, s:I, s:I}", "wiring", number, "sensor",
                     w.sensor[0], w.sensor[1], w.sensor[2], "phase", w.phase[0], w.phase[1],
                     w.phase[2], "figures", figures_to_json(&f), "ms", ms[r->repeats / 2], "events",
                     (json_int_t)f.events, "steps", (json_int_t)f.steps, "rhs", (json_int_t)f.rhs);
}

int main(int argc, char **argv)
{
    if (argc < 3)
        die("usage:", "CASE engine|floor|brute [key=value ...]");
    validation_case which = validation_case_find(argv[1]);
    if (which == CASE_COUNT)
        die("no such case:", argv[1]);
    request r = {.drive = validation_case_drive(which),
                 .options = validation_case_options(which),
                 .repeats = 1,
                 .count = 12};
    for (int k = 0; k < r.count; k++)
        r.wirings[k] = k + 1;
    bool floor = strcmp(argv[2], "floor") == 0, brute = strcmp(argv[2], "brute") == 0;
    if (!floor && !brute && strcmp(argv[2], "engine") != 0)
        die("not engine, floor or brute:", argv[2]);
    r.who = floor ? WHO_FLOOR : brute ? WHO_BRUTE : WHO_ENGINE;
    r.setting = floor ? 1e-4 : brute ? 2e-6 : hp_run_options_default().tolerance;
    for (int k = 3; k < argc; k++)
        if (!take_argument(&r, argv[k]))
            die("not understood:", argv[k]);
    hp_error err = hp_error_none();
    hp_engine *engine = hp_engine_create(&err);
    if (!engine)
        die("no engine:", err.text);
    json_t *runs = json_array();
    for (int k = 0; k < r.count; k++) {
        if (r.wirings[k] < 1 || r.wirings[k] > HP_WIRING_COUNT)
            die("wirings are numbered 1 to 36:", "");
        json_array_append_new(runs, probe(engine, &r, r.wirings[k]));
    }
    hp_engine_free(engine);
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    json_t *all = json_pack("{s:o, s:o, s:o, s:f}", "drive", drive_to_json(&r.drive), "options",
                            options_to_json(&r.options), "runs", runs, "peak_mb",
                            (double)usage.ru_maxrss / 1024.0);
    json_dumpf(all, stdout, JSON_REAL_PRECISION(17) | JSON_COMPACT);
    putchar('\n');
    json_decref(all);
    return 0;
}
