/* What the readings of the controls share: see the header. */
#include "decide/reading/control_values.h"

#include <math.h>

hp_controls_params hp_assess_controls(const hp_assess_case *given)
{
    return given->controls ? *given->controls : hp_controls_params_default();
}

void hp_step_found(hp_finding *worst, int *code, hp_finding finding, int of)
{
    if (finding <= *worst)
        return;
    *worst = finding;
    *code = of;
}

void hp_step_found_in_plug(const hp_assess_case *given, const hp_plug_volts *plug,
                           hp_pins_of control, hp_finding *worst, int *code)
{
    if (!hp_plug_volts_said(plug))
        return;
    hp_pin_roles roles = hp_plug_volts_roles(plug, control, given->drive->supply.emf_v);
    if (roles.why == HP_ROLES_TOLD)
        return;
    hp_step_found(worst, code, roles.why == HP_ROLES_TOO_HIGH ? HP_FINDING_STOP : HP_FINDING_LOOK,
                  HP_STEP_PINS_AT + (int)roles.why);
}

hp_finding hp_step_end(hp_finding worst, bool all, int *code)
{
    hp_step_found(&worst, code, all ? HP_FINDING_GOOD : HP_FINDING_NOTED,
                  all ? HP_STEP_FINE : HP_STEP_PART);
    return worst;
}

hp_finding hp_step_not_fitted(int *code)
{
    *code = HP_STEP_NOT_FITTED;
    return HP_FINDING_NOTED;
}
