/* Labels of leads, times of a run. See scenario_settle.h. */
#include "record/scenario/scenario_settle.h"

#include <string.h>
#include <strings.h>

/* Labels that differ in case only would be one label to a person. */
static void settle_side(hp_reader *reader, hp_key_id first, char (*label)[HP_LABEL_SIZE])
{
    for (int k = 1; k < HP_PHASE_COUNT; k++)
        for (int j = 0; j < k; j++) {
            hp_key_id a = first + (hp_key_id)j, b = first + (hp_key_id)k;
            if (!hp_reader_sound(reader, a) || !hp_reader_sound(reader, b) ||
                strcasecmp(label[j], label[k]) != 0)
                continue;
            /* The later one is to blame, unless only the earlier stands in the file. */
            hp_key_id blamed = hp_reader_has(reader, b) ? b : a, other = blamed == b ? a : b;
            hp_reader_problem(reader, blamed, "%s is \"%s\", must differ from %s",
                              hp_key_of(blamed)->path, blamed == b ? label[k] : label[j],
                              hp_key_of(other)->path);
        }
}

void hp_settle_leads(hp_reader *reader)
{
    hp_labels *labels = &reader->draft.labels;
    settle_side(reader, HP_KEY_MOTOR_PHASE_U, labels->motor_lead);
    settle_side(reader, HP_KEY_MOTOR_SENSOR_U, labels->motor_sensor);
    settle_side(reader, HP_KEY_OUTPUT_U, labels->controller_output);
    settle_side(reader, HP_KEY_INPUT_U, labels->controller_input);
}

void hp_settle_run(hp_reader *reader)
{
    hp_run_options *run = &reader->draft.run;
    const hp_run_options usual = hp_run_options_default();
    if (!hp_reader_sound(reader, HP_KEY_SECONDS) || !hp_reader_sound(reader, HP_KEY_SETTLE))
        return;
    if (hp_reader_lacks(reader, HP_KEY_SETTLE) && hp_reader_has(reader, HP_KEY_SECONDS))
        hp_reader_derive(reader, HP_KEY_SETTLE, run->seconds * (usual.settle_s / usual.seconds),
                         "%.3g of run.seconds, as in the default", usual.settle_s / usual.seconds);
    if (!(run->settle_s < run->seconds))
        hp_reader_problem(reader, HP_KEY_SETTLE,
                          "run.settle_seconds is %.6g, must be below run.seconds (%.6g)",
                          run->settle_s, run->seconds);
}
