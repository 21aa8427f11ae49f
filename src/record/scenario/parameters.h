/*
 * The list of parameters, as the reader of scenarios fills it.
 */
#ifndef HUBPHASE_RECORD_SCENARIO_PARAMETERS_H
#define HUBPHASE_RECORD_SCENARIO_PARAMETERS_H

#include "hubphase/record/scenario.h"

hp_result hp_parameters_add(hp_parameters *list, const hp_parameter *parameter);
void hp_parameters_free(hp_parameters *list);

#endif
