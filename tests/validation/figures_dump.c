/*
 * Runs wirings of a validation case and prints parameters, figures and waveforms as JSON, for the
 * scripts that run the same case elsewhere.
 *
 *   figures_dump CASE [key=value ...]
 *       wirings=1,2,5      which (default: all 36)
 *       seconds=S settle=S angle_deg=A tolerance=T max_step=S
 *       wave=INTERVAL      also samples, every INTERVAL seconds over the whole run
 *   figures_dump scenario FILE
 *       parameters of a scenario, and the winding's resistance at its temperature
 *   figures_dump machine FILE CACHE [key=value ...]
 *       the same runs of a scenario at the throttle of its trials, without the cut-outs, with what
 * the advice says of its first power; tables of likelihoods are kept in the folder CACHE
 *   figures_dump judge     reads {"runs": [{"figures": {...}}, ...]} from standard input and prints
 *                          the verdict on each
 */
#include "figures_json.h"
#include "validation_cases.h"

#include "hubphase/decide/advice.h"
#include "hubphase/decide/verdict.h"
#include "hubphase/record/case.h"
#include "hubphase/record/scenario.h"
#include "hubphase/sim/engine.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct request {
    const char *name; /* of the case */
    hp_drive drive;
    hp_run_options options;
    bool wanted[HP_WIRING_COUNT + 1];
    double wave; /* [s] 0: none */
} request;

static int die(const char *what, const char *which)
{
    fprintf(stderr, "figures_dump: %s %s\n", what, which);
    return 2;
}

static void want_only(request *r, const char *list)
{
    memset(r->wanted, 0, sizeof r->wanted);
    for (const char *at = list; at && *at; at = strchr(at, ',') ? strchr(at, ',') + 1 : NULL) {
        int number = atoi(at);
        if (number >= 1 && number <= HP_WIRING_COUNT)
            r->wanted[number] = true;
    }
}

static bool take_argument(request *r, const char *argument)
{
    const char *equals = strchr(argument, '=');
    if (!equals)
        return false;
    size_t length = (size_t)(equals - argument);
    double value = atof(equals + 1);
    if (strncmp(argument, "wirings", length) == 0)
        want_only(r, equals + 1);
    else if (strncmp(argument, "seconds", length) == 0)
        r->options.seconds = value;
    else if (strncmp(argument, "settle", length) == 0)
        r->options.settle_s = value;
    else if (strncmp(argument, "angle_deg", length) == 0)
        r->options.start_angle = value * HP_DEG;
    else if (strncmp(argument, "tolerance", length) == 0)
        r->options.tolerance = value;
    else if (strncmp(argument, "max_step", length) == 0)
        r->options.max_step_s = value;
    else if (strncmp(argument, "wave", length) == 0)
        r->wave = value;
    else if (strncmp(argument, "battery_ohm", length) == 0)
        r->drive.supply.resistance_ohm = value;
    else
        return false;
    return true;
}

/* Rotor speed where the window of the figures begins and ends: the first and last whole turn in the
 * last part, the ends of swings, at which the rotor is at rest, or the ends of that part. Steps lie
 * so close that a straight line between them does.
 */
static void window_speeds(const hp_trace *steps, const hp_figures *f, double *first, double *last)
{
    *first = *last = 0.0;
    if (steps->count == 0 || f->window_swings > 0)
        return;
    *first = steps->sample[0].speed;
    *last = steps->sample[steps->count - 1].speed;
    bool found = false;
    for (size_t k = 1; f->window_turns > 0 && k < steps->count; k++) {
        const hp_sample *a = &steps->sample[k - 1], *b = &steps->sample[k];
        double turn = floor(fmax(a->theta, b->theta) / HP_TWO_PI) * HP_TWO_PI;
        if (turn <= fmin(a->theta, b->theta))
            continue;
        double share = (turn - a->theta) / (b->theta - a->theta);
        *last = a->speed + share * (b->speed - a->speed);
        *first = found ? *first : *last;
        found = true;
    }
}

static json_t *run_one(hp_engine *engine, const request *r, const hp_drive *drive, int number)
{
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_figures figures;
    hp_error err = hp_error_none();
    double first, last;
    hp_trace steps = hp_trace_init(r->options.settle_s, r->options.seconds, 0.0);
    hp_result result = hp_engine_run(engine, drive, &wiring, &r->options, &steps, &figures, &err);
    window_speeds(&steps, &figures, &first, &last);
    hp_trace_free(&steps);
    json_t *run = json_pack("{s:i, s:[iii], s:[iii], s:o, s:f, s:f}", "wiring", number, "sensor",
                            wiring.sensor[0], wiring.sensor[1], wiring.sensor[2], "phase",
                            wiring.phase[0], wiring.phase[1], wiring.phase[2], "figures",
                            figures_to_json(&figures), "speed_first", first, "speed_last", last);
    if (result == HP_OK && r->wave > 0.0) {
        hp_trace wave = hp_trace_init(0.0, r->options.seconds, r->wave);
        hp_engine_run(engine, drive, &wiring, &r->options, &wave, &figures, NULL);
        json_object_set_new(run, "wave", wave_to_json(&wave));
        hp_trace_free(&wave);
    }
    return run;
}

/* All runs that are wanted; NULL on failure, which is said. */
static json_t *run_all(const request *r)
{
    hp_error err = hp_error_none();
    if (hp_drive_check(&r->drive, &err) != HP_OK ||
        hp_run_options_check(&r->options, &err) != HP_OK) {
        die("bad case:", err.text);
        return NULL;
    }
    hp_engine *engine = hp_engine_create(&err);
    if (!engine) {
        die("no engine:", err.text);
        return NULL;
    }
    json_t *runs = json_array();
    for (int number = 1; number <= HP_WIRING_COUNT; number++)
        if (r->wanted[number])
            json_array_append_new(runs, run_one(engine, r, &r->drive, number));
    hp_engine_free(engine);
    return json_pack("{s:s, s:o, s:o, s:f, s:o}", "case", r->name, "drive",
                     drive_to_json(&r->drive), "options", options_to_json(&r->options),
                     "ideal_speed", hp_drive_ideal_speed(&r->drive), "runs", runs);
}

static int put(json_t *all)
{
    if (!all)
        return 2;
    json_dumpf(all, stdout, JSON_REAL_PRECISION(17) | JSON_COMPACT);
    putchar('\n');
    json_decref(all);
    return 0;
}

/* What the advice says of the first power, of a log in which nothing can be read but by power. */
static json_t *first_power(hp_scenario *scenario, const char *cache, hp_error *err)
{
    hp_case_options options = hp_case_options_default();
    hp_advice advice;
    options.log = "/nowhere/no-log.yaml"; /* one that is not there is an empty one */
    options.cache = cache;
    scenario->bench.plan.allowed = 0;
    hp_case *opened = hp_case_create(scenario, &options, err);
    hp_result result = opened ? hp_case_next(opened, &advice, err) : HP_FAIL_INPUT;
    hp_case_free(opened);
    if (result != HP_OK)
        return NULL;
    const hp_drive *drive = &scenario->drive;
    double own = drive->controller.throttle, trials = scenario->bench.plan.throttle;
    return json_pack("{s:b, s:f, s:f, s:f}", "limited", advice.limited, "limit_a", advice.limit_a,
                     "lamp_w", hp_lamp_watts(drive->supply.emf_v, advice.limit_a), "pumped_v",
                     hp_drive_pumped_v(drive, trials > 0.0 ? trials : own));
}

static bool take_arguments(request *r, int count, char **argument)
{
    for (int k = 0; k < count; k++)
        if (!take_argument(r, argument[k]))
            return die("not understood:", argument[k]) == 0;
    return true;
}

static request request_of(const char *name, const hp_drive *drive, const hp_run_options *options)
{
    request r = {.name = name, .drive = *drive, .options = *options};
    for (int number = 1; number <= HP_WIRING_COUNT; number++)
        r.wanted[number] = true;
    return r;
}

static int run_machine(int argc, char **argv)
{
    hp_scenario scenario;
    hp_error err = hp_error_none();
    if (argc < 4)
        return die("usage: figures_dump machine", "FILE CACHE [key=value ...]");
    if (hp_scenario_load(argv[2], &scenario, stderr, &err) != HP_OK)
        return die("scenario:", err.text);
    hp_run_options options = hp_run_options_default();
    json_t *power = first_power(&scenario, argv[3], &err);
    if (!power)
        return die("no advice:", err.text);
    request r = request_of(scenario.labels.machine, &scenario.drive, &options);
    if (scenario.bench.plan.throttle > 0.0)
        r.drive.controller.throttle = scenario.bench.plan.throttle;
    r.drive.controller.stall_cutout_s = r.drive.controller.undervoltage_v = 0.0;
    json_t *all = take_arguments(&r, argc - 4, &argv[4]) ? run_all(&r) : NULL;
    if (all)
        json_object_set(all, "first_power", power);
    json_decref(power);
    hp_scenario_free(&scenario);
    return put(all);
}

static int show_scenario(const char *path)
{
    hp_scenario scenario;
    hp_error err = hp_error_none();
    if (hp_scenario_load(path, &scenario, stderr, &err) != HP_OK)
        return die("scenario:", err.text);
    json_t *drive = drive_to_json(&scenario.drive);
    json_object_set_new(drive, "warm_resistance_ohm",
                        json_real(hp_motor_resistance(&scenario.drive.motor)));
    json_dumpf(drive, stdout, JSON_REAL_PRECISION(17) | JSON_COMPACT);
    putchar('\n');
    json_decref(drive);
    hp_scenario_free(&scenario);
    return 0;
}

static int judge(void)
{
    json_error_t error;
    json_t *in = json_loadf(stdin, 0, &error);
    if (!in)
        return die("standard input:", error.text);
    hp_thresholds limits = hp_thresholds_default();
    json_t *list = json_object_get(in, "runs"), *one, *out = json_array();
    size_t k;
    json_array_foreach(list, k, one)
    {
        hp_figures figures = figures_from_json(json_object_get(one, "figures"));
        hp_judgement j = hp_verdict_judge(&figures, 1, &limits);
        json_array_append_new(out, json_pack("{s:s, s:s, s:s, s:s}", "verdict",
                                             hp_verdict_name(j.verdict), "direction",
                                             hp_direction_name(j.direction), "kind",
                                             hp_rough_kind_name(j.kind), "reason", j.reason));
    }
    json_dumpf(out, stdout, JSON_COMPACT);
    putchar('\n');
    json_decref(out);
    json_decref(in);
    return 0;
}

int main(int argc, char **argv)
{
    if (argc < 2)
        return die("usage: figures_dump", "CASE [key=value ...] | scenario FILE | judge");
    if (strcmp(argv[1], "scenario") == 0)
        return argc == 3 ? show_scenario(argv[2]) : die("usage: figures_dump", "scenario FILE");
    if (strcmp(argv[1], "judge") == 0)
        return judge();
    if (strcmp(argv[1], "machine") == 0)
        return run_machine(argc, argv);
    validation_case which = validation_case_find(argv[1]);
    if (which == CASE_COUNT)
        return die("no such case:", argv[1]);
    hp_drive drive = validation_case_drive(which);
    hp_run_options options = validation_case_options(which);
    request r = request_of(validation_case_name(which), &drive, &options);
    return take_arguments(&r, argc - 2, &argv[2]) ? put(run_all(&r)) : 2;
}
