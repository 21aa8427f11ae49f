/* What may be wrong with a hidden machine, one row each: see the header. */
#include "decide/practise/hidden.h"

#include <string.h>

static const struct {
    const char *name;
    int side;           /* of whose leads one is broken; -1: it is no matter of one lead */
    hp_fault_kind kind; /* as the advice counts it */
    const hp_danger *danger;
    bool clutch; /* only behind a one-way clutch */
} rows[HP_PRACTICE_FAULTS] = {
    [HP_PRACTICE_HALL_STUCK] = {"hall_stuck", HP_PLUG_SENSOR_U, HP_FAULT_SENSOR_LOW, NULL, false},
    [HP_PRACTICE_HALL_INVERTED] = {"hall_inverted", HP_PLUG_SENSOR_U, HP_FAULT_NONE, NULL, false},
    [HP_PRACTICE_PHASE_OPEN] = {"phase_open", HP_PLUG_PHASE_U, HP_FAULT_LEAD_OPEN, NULL, false},
    [HP_PRACTICE_SILENT] = {"silent", -1, HP_FAULT_SILENT, NULL, false},
    [HP_PRACTICE_CUTTING_OUT] = {"cutting_out", -1, HP_FAULT_CUTTING_OUT, NULL, false},
    [HP_PRACTICE_LOOSE] = {"loose", -1, HP_FAULT_LOOSE, NULL, false},
    [HP_PRACTICE_CLUTCH_SLIPS] = {"clutch_slips", -1, HP_FAULT_CLUTCH, NULL, true},
    [HP_PRACTICE_HALL_SUPPLY] = {"hall_supply", -1, HP_FAULT_NONE, &hp_danger_sensor_volts, false},
    [HP_PRACTICE_ON_SHELL] = {"on_shell", -1, HP_FAULT_NONE, &hp_danger_shell, false},
    [HP_PRACTICE_PHASE_ON_HALL] = {"phase_on_hall", -1, HP_FAULT_NONE, &hp_danger_crossed, false},
};

const char *hp_practice_fault_name(hp_practice_fault fault)
{
    return fault < HP_PRACTICE_FAULTS ? rows[fault].name : "none";
}

int hp_practice_fault_find(const char *name)
{
    for (int k = 0; k < HP_PRACTICE_FAULTS; k++)
        if (strcmp(rows[k].name, name) == 0)
            return k;
    return -1;
}

int hp_practice_fault_side(hp_practice_fault fault)
{
    return fault < HP_PRACTICE_FAULTS ? rows[fault].side : -1;
}

hp_fault_kind hp_practice_fault_kind(hp_practice_fault fault, bool high)
{
    if (fault == HP_PRACTICE_HALL_STUCK && high)
        return HP_FAULT_SENSOR_HIGH;
    return fault < HP_PRACTICE_FAULTS ? rows[fault].kind : HP_FAULT_NONE;
}

const hp_danger *hp_practice_fault_danger(hp_practice_fault fault)
{
    return fault < HP_PRACTICE_FAULTS ? rows[fault].danger : NULL;
}

bool hp_practice_fault_needs_clutch(hp_practice_fault fault)
{
    return fault < HP_PRACTICE_FAULTS && rows[fault].clutch;
}
