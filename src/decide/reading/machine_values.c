/* What the looks at hub and pack share: see the header. */
#include "decide/reading/machine_values.h"

hp_finding hp_machine_faults(const hp_machine_fault *fault, int count, bool all, int *code)
{
    hp_finding worst = HP_FINDING_NONE;
    for (int k = 0; k < count; k++) {
        if (!fault[k].found)
            continue;
        *code |= fault[k].code;
        if (fault[k].finding > worst)
            worst = fault[k].finding;
    }
    return worst == HP_FINDING_NONE ? hp_step_end(worst, all, code) : worst;
}
