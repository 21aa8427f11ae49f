/*
 * Lead of the field over the rotor, sector by sector, from table, sensors and wiring alone:
 * geometry for explanations and pictures. Verdicts do not use it.
 */
#ifndef HUBPHASE_SRC_MODEL_LEAD_H
#define HUBPHASE_SRC_MODEL_LEAD_H

#include "hubphase/model/drive.h"
#include "hubphase/model/wiring.h"

#define HP_LEAD_SECTOR_MAX 12

/* One stretch of rotor angle over which the controller sees one code (rotor turning forward,
 * hysteresis left out). */
typedef struct hp_lead_sector {
    double from;  /* [rad electrical] in [0, 2 pi) */
    double to;    /* > from, at most from + 2 pi */
    int code;     /* as the controller sees it */
    int high;     /* motor lead driven high, -1: off */
    int low;      /* motor lead driven low, -1: off */
    bool open;    /* one of the two is broken: no current flows */
    double field; /* [rad] direction of the field, [0, 2 pi); meaningless when off */
    /* Lead = field - rotor angle, at `from` and at `to`; it falls linearly between, and its value
     * in the middle of the stretch lies in [-pi, pi). */
    double lead_from;
    double lead_to;
    /* Mean over the stretch of the torque per ampere, relative to 2 ke, with the motor's own shape;
     * see hp_lead_sectors; nothing where no current flows. */
    double torque_mean;
    double torque_min;
    double torque_max;
} hp_lead_sector;

/* Fills sector[] in order of angle and returns the number of stretches (1..HP_LEAD_SECTOR_MAX);
 * the stretches cover the turn once. Torque per ampere is
 * (f(theta - axis_high) - f(theta - axis_low)) / 2. */
int hp_lead_sectors(const hp_commutation_table *table, const hp_sensors_params *sensors,
                    const hp_backemf *backemf, const hp_wiring *wiring,
                    hp_lead_sector sector[HP_LEAD_SECTOR_MAX]);

/* The same of a drive, with its broken phase leads. */
int hp_drive_sectors(const hp_drive *drive, const hp_wiring *wiring,
                     hp_lead_sector sector[HP_LEAD_SECTOR_MAX]);

/* Whether a current flows in it, and a field stands. */
bool hp_lead_flows(const hp_lead_sector *sector);

#endif
