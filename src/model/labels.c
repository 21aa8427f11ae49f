/* What people call the parts and leads: see the header. */
#include "hubphase/model/labels.h"

#include <string.h>

hp_labels hp_labels_default(void)
{
    hp_labels labels;
    memset(&labels, 0, sizeof labels);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        labels.motor_lead[k][0] = hp_phase_letter(k);
        labels.motor_sensor[k][0] = hp_phase_letter(k);
        labels.controller_output[k][0] = hp_phase_letter(k);
        labels.controller_input[k][0] = hp_phase_letter(k);
    }
    labels.axes_known = true;
    return labels;
}

const char *hp_control_part_name(hp_control_part control)
{
    static const char *const name[HP_CONTROL_PART_COUNT] = {
        NULL, "key", "throttle", "brake", "pedal_sensor", "speed_switch", "display", "learn_lead"};
    return name[control];
}
