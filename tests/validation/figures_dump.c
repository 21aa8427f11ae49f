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
 *   figures_dump judge     reads {"runs": [{"figures": {...}}, ...]} from standard input and prints
 *                          the verdict on each
 */
#include "figures_json.h"
#include "validation_cases.h"

#include "hubphase/decide/verdict.h"
#include "hubphase/record/scenario.h"
#include "hubphase/sim/engine.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct request {
    validation_case which;
    hp_run_options options;
    bool wanted[HP_WIRING_COUNT + 1];
    double wave;        /* [s] 0: none */
    double battery_ohm; /* in place of the case's; NAN: the case's */
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
        r->battery_ohm = value;
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

static int run_all(const request *r)
{
    hp_drive drive = validation_case_drive(r->which);
    if (!isnan(r->battery_ohm))
        drive.supply.resistance_ohm = r->battery_ohm;
    hp_error err = hp_error_none();
    if (hp_drive_check(&drive, &err) != HP_OK || hp_run_options_check(&r->options, &err) != HP_OK)
        return die("bad case:", err.text);
    hp_engine *engine = hp_engine_create(&err);
    if (!engine)
        return die("no engine:", err.text);
    json_t *runs = json_array();
    for (int number = 1; number <= HP_WIRING_COUNT; number++)
        if (r->wanted[number])
            json_array_append_new(runs, run_one(engine, r, &drive, number));
    hp_engine_free(engine);
    json_t *all = json_pack("{s:s, s:o, s:o, s:f, s:o}", "case", validation_case_name(r->which),
                            "drive", drive_to_json(&drive), "options", options_to_json(&r->options),
                            "ideal_speed", hp_drive_ideal_speed(&drive), "runs", runs);
    json_dumpf(all, stdout, JSON_REAL_PRECISION(17) | JSON_COMPACT);
    putchar('\n');
    json_decref(all);
    return 0;
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
    request r = {.which = validation_case_find(argv[1]), .battery_ohm = (double)NAN};
    if (r.which == CASE_COUNT)
        return die("no such case:", argv[1]);
    r.options = validation_case_options(r.which);
    for (int number = 1; number <= HP_WIRING_COUNT; number++)
        r.wanted[number] = true;
    for (int k = 2; k < argc; k++)
        if (!take_argument(&r, argv[k]))
            return die("not understood:", argv[k]);
    return run_all(&r);
}
