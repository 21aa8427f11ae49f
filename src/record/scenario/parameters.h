/*
 * The list of parameters, as the reader of scenarios fills it, and what is looked up in it.
 */
#ifndef HUBPHASE_RECORD_SCENARIO_PARAMETERS_H
#define HUBPHASE_RECORD_SCENARIO_PARAMETERS_H

#include "hubphase/record/scenario.h"

hp_result hp_parameters_add(hp_parameters *list, const hp_parameter *parameter);
void hp_parameters_free(hp_parameters *list);

/* Of all that a scenario states, whichever list has it; NULL: no such key. Borrowed. */
const hp_parameter *hp_scenario_parameter(const hp_scenario *scenario, const char *key);
/* In the file, or in place of it: neither a default nor worked out. */
bool hp_parameter_is_stated(const hp_parameter *parameter);
/* Whether the scenario itself states this key. */
bool hp_scenario_states(const hp_scenario *scenario, const char *key);

#endif
