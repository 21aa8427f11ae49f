/*
 * A throttle that a command line gives in place of the file's.
 *
 * It goes through the row of the scenario's own key, so that 40 % makes the same bytes whichever of
 * the two says it. A number that the scenario has already changes nothing: 35 times 0.01 is not the
 * double nearest to 0.35, which is the default.
 */
#include "record/scenario/scenario_keys.h"

#include <string.h>

static void write_number(hp_parameter *parameter, double number)
{
    snprintf(parameter->value, sizeof parameter->value, "%.10g", number);
    parameter->number = number;
}

/* As numbers are listed, and compared between the parts of a spread. */
static bool is_listed_as(const hp_parameter *parameter, double number)
{
    char listed[sizeof parameter->value], wanted[sizeof parameter->value];
    snprintf(listed, sizeof listed, "%.10g", parameter->number);
    snprintf(wanted, sizeof wanted, "%.10g", number);
    return strcmp(listed, wanted) == 0;
}

/* Trials go with the throttle unless the scenario gives them their own. */
static void lay_trial_throttle(hp_scenario *scenario, double percent)
{
    hp_parameter *trial =
        hp_parameters_find(&scenario->parameters, hp_key_of(HP_KEY_BENCH_THROTTLE)->path);
    if (!trial || trial->origin == HP_ORIGIN_FILE || percent <= 0.0)
        return;
    scenario->bench.plan.throttle = scenario->drive.controller.throttle;
    write_number(trial, percent);
}

void hp_scenario_take_throttle(hp_scenario *scenario, double percent, const char *option)
{
    const hp_key *key = hp_key_of(HP_KEY_THROTTLE);
    const hp_parameter *throttle = hp_parameters_find(&scenario->parameters, key->path);
    if (!throttle || !is_listed_as(throttle, percent)) {
        scenario->drive.controller.throttle = percent * key->factor;
        lay_trial_throttle(scenario, percent);
    }
    hp_parameters_note_option(&scenario->parameters, key->path, percent, option);
}
