/*
 * A survey filled in by hand for tests of reports: figures are easy to recognise, verdicts follow
 * the theory of an ideal motor, one wiring is undecided.
 */
#ifndef HUBPHASE_TESTS_REPORT_SAMPLE_H
#define HUBPHASE_TESTS_REPORT_SAMPLE_H

#include "hubphase/report/tables.h"
#include "record/scenario/parameters.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SAMPLE_UNDECIDED 4

typedef struct report_sample {
    hp_drive drive;
    hp_labels labels;
    hp_parameters parameters; /* owned */
    hp_survey survey;         /* without runs */
    hp_report_case subject;
} report_sample;

static inline hp_judgement sample_judgement(int number)
{
    hp_wiring wiring = hp_wiring_from_number(number);
    static const int odd[HP_ORDER_COUNT] = {0, 1, 1, 0, 0, 1};
    int s = odd[hp_order_index(wiring.sensor)], p = odd[hp_order_index(wiring.phase)];
    bool same = hp_order_index(wiring.sensor) == hp_order_index(wiring.phase);
    hp_judgement j;
    memset(&j, 0, sizeof j);
    j.verdict = same     ? (s ? HP_VERDICT_REVERSE : HP_VERDICT_CORRECT)
                : s == p ? HP_VERDICT_ROUGH
                         : HP_VERDICT_STALLED;
    bool backward = same ? s : !s;
    j.direction = j.verdict == HP_VERDICT_STALLED ? HP_DIRECTION_NONE
                  : backward                      ? HP_DIRECTION_BACKWARD
                                                  : HP_DIRECTION_FORWARD;
    j.rotor_direction = j.direction;
    j.measured = true;
    j.kind =
        j.verdict == HP_VERDICT_ROUGH ? (number % 2 ? HP_KIND_EARLY : HP_KIND_LATE) : HP_KIND_NONE;
    j.starts_tried = 7;
    j.starts = j.verdict == HP_VERDICT_STALLED ? 0 : j.verdict == HP_VERDICT_ROUGH ? 5 : 7;
    if (j.verdict != HP_VERDICT_STALLED) {
        j.mean.speed = (backward ? -1.0 : 1.0) * (200.0 + number) * HP_RPM;
        j.mean.wheel_speed = j.mean.speed / 5.0;
        j.mean.net_turn = j.mean.speed * 23.0 * 2.0;
    }
    j.mean.battery_current = 0.25 * number;
    j.mean.torque_mean = 0.5;
    j.mean.torque_rms = 0.125;
    j.mean.torque_able = 0.625; /* idle: sqrt(1 - 0.8^2 - 0.2^2) */
    j.mean.phase_peak = 12.5;
    j.mean.phase_rms = 7.25;
    j.ripple = 0.25;
    j.excess = j.verdict == HP_VERDICT_STALLED ? (double)INFINITY : 1.0 + number;
    snprintf(j.reason, sizeof j.reason, "made up, \"number\" %d", number);
    if (number == SAMPLE_UNDECIDED) {
        memset(&j, 0, sizeof j);
        j.starts_tried = 7;
        j.verdict = HP_VERDICT_UNDECIDED;
        snprintf(j.reason, sizeof j.reason, "run from 17.0 deg: step collapse");
    }
    return j;
}

static inline void sample_add(report_sample *sample, const char *key, const char *value,
                              double number, hp_origin origin, int line)
{
    hp_parameter p = {.number = number, .origin = origin, .line = line};
    snprintf(p.key, sizeof p.key, "%s", key);
    snprintf(p.value, sizeof p.value, "%s", value);
    snprintf(p.why, sizeof p.why, "%s", origin == HP_ORIGIN_FILE ? "" : "chosen: for the test");
    if (hp_parameters_add(&sample->parameters, &p) != HP_OK)
        abort();
}

/* Fills `sample` in place, because subject points into it. */
static inline void report_sample_init(report_sample *sample)
{
    static const char *const lead[HP_PHASE_COUNT] = {"yellow", "green", "blue"};
    static const char *const output[HP_PHASE_COUNT] = {"red", "black", "white"};
    memset(sample, 0, sizeof *sample);
    sample->drive = hp_drive_default();
    sample->labels = hp_labels_default();
    snprintf(sample->labels.machine, sizeof sample->labels.machine, "Allotment barrow");
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        snprintf(sample->labels.motor_lead[k], HP_LABEL_SIZE, "%s", lead[k]);
        snprintf(sample->labels.motor_sensor[k], HP_LABEL_SIZE, "%s", lead[k]);
        snprintf(sample->labels.controller_output[k], HP_LABEL_SIZE, "%s", output[k]);
    }
    sample_add(sample, "motor.pole_pairs", "23", 23.0, HP_ORIGIN_FILE, 7);
    sample_add(sample, "motor.backemf", "trapezoidal", NAN, HP_ORIGIN_DEFAULT, 0);
    sample_add(sample, "stand.clutch", "false", NAN, HP_ORIGIN_OPTION, 0);
    sample->survey.starts = 7;
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        sample->survey.judgement[n - 1] = sample_judgement(n);
    sample->subject = (hp_report_case){.file = "barrow.yaml",
                                       .about = NULL,
                                       .drive = &sample->drive,
                                       .labels = &sample->labels,
                                       .parameters = &sample->parameters};
}

static inline void report_sample_free(report_sample *sample)
{
    hp_parameters_free(&sample->parameters);
}

/* What `write` puts on a stream, as text for the caller to free. */
#define SAMPLE_CAPTURE(text, size, stream, statement)                                              \
    do {                                                                                           \
        FILE *stream = open_memstream(&(text), &(size));                                           \
        assert_non_null(stream);                                                                   \
        statement;                                                                                 \
        assert_int_equal(fclose(stream), 0);                                                       \
    } while (0)

/* The same of a statement that prints on the screen of this name. */
#define SAMPLE_SHOWN(text, size, screen, wide, coloured, statement)                                \
    SAMPLE_CAPTURE(text, size, stream_, {                                                          \
        hp_screen screen = hp_screen_plain(stream_);                                               \
        screen.columns = (wide);                                                                   \
        screen.colour = (coloured);                                                                \
        statement;                                                                                 \
    })

#endif
