/*
 * Lead of the field over the rotor: see the header.
 *
 * The code changes only where a sensor toggles, so the turn falls into at most six stretches with
 * one driven pair each; over a stretch the field stands still while the rotor turns under it.
 */
#include "model/lead.h"

#include "model/backemf.h"
#include "model/commutation.h"
#include "model/sensors.h"

#include <math.h>

/* Edges nearer than this are one [rad]. */
#define EDGE_SLACK 1e-9
/* Steps of the grid on which the extremes of torque are sought first. */
#define POINTS 240

static int code_at(const hp_sensors_params *sensors, const hp_wiring *wiring, double theta)
{
    int bit[HP_PHASE_COUNT];
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        int sensor = wiring->sensor[j];
        bit[j] = hp_sensor_output(sensors, sensor, hp_sensor_inside(sensors, sensor, theta));
    }
    return hp_code(bit[HP_U], bit[HP_V], bit[HP_W]);
}

/* The angles in [0, 2 pi) at which a sensor toggles, ascending; returns their number. */
static int edges(const hp_sensors_params *sensors, double edge[2 * HP_PHASE_COUNT])
{
    int count = 0;
    for (int k = 0; k < 2 * HP_PHASE_COUNT; k++) {
        double side = k % 2 ? 0.5 * HP_PI : -0.5 * HP_PI;
        double angle = hp_angle_wrap(hp_phase_axis(k / 2) + sensors->placement_rad[k / 2] + side);
        int at = count;
        while (at > 0 && edge[at - 1] > angle) {
            edge[at] = edge[at - 1];
            at--;
        }
        edge[at] = angle;
        count++;
    }
    int kept = 0;
    for (int k = 0; k < count; k++)
        if (kept == 0 || edge[k] - edge[kept - 1] > EDGE_SLACK)
            edge[kept++] = edge[k];
    if (kept > 1 && edge[0] + HP_TWO_PI - edge[kept - 1] <= EDGE_SLACK)
        kept--;
    return kept;
}

/* Largest of sign * torque per ampere between the grid points either side of `at`, where it has one
 * maximum at most, by golden-section search. */
static double refine(const hp_backemf *backemf, const hp_lead_sector *s, double at, double step,
                     double sign)
{
    const double ratio = 0.61803398874989484820;
    double low = fmax(at - step, s->from), high = fmin(at + step, s->to);
    for (int k = 0; k < 60; k++) {
        double a = high - ratio * (high - low), b = low + ratio * (high - low);
        if (sign * hp_backemf_pair(backemf, s->high, s->low, a) >
            sign * hp_backemf_pair(backemf, s->high, s->low, b))
            high = b;
        else
            low = a;
    }
    return 0.5 * hp_backemf_pair(backemf, s->high, s->low, 0.5 * (low + high));
}

static void fill_torque(const hp_backemf *backemf, hp_lead_sector *s)
{
    s->torque_mean = s->torque_min = s->torque_max = 0.0;
    if (s->high < 0)
        return;
    s->torque_mean = 0.5 * hp_backemf_pair_mean(backemf, s->high, s->low, s->from, s->to);
    double step = (s->to - s->from) / POINTS, at_min = s->from, at_max = s->from;
    s->torque_min = INFINITY;
    s->torque_max = -INFINITY;
    for (int k = 0; k <= POINTS; k++) {
        double theta = s->from + step * k;
        double torque = 0.5 * hp_backemf_pair(backemf, s->high, s->low, theta);
        if (torque < s->torque_min) {
            s->torque_min = torque;
            at_min = theta;
        }
        if (torque > s->torque_max) {
            s->torque_max = torque;
            at_max = theta;
        }
    }
    s->torque_min = fmin(s->torque_min, refine(backemf, s, at_min, step, -1.0));
    s->torque_max = fmax(s->torque_max, refine(backemf, s, at_max, step, 1.0));
}

static void fill_sector(const hp_commutation_table *table, const hp_backemf *backemf,
                        const hp_wiring *wiring, hp_lead_sector *s)
{
    const hp_commutation_row *row = &table->row[s->code];
    bool driven = row->high >= 0 && row->low >= 0;
    s->high = driven ? wiring->phase[row->high] : -1;
    s->low = driven ? wiring->phase[row->low] : -1;
    s->field = driven ? hp_field_angle(s->high, s->low) : 0.0;
    /* Wrapped at the middle of the stretch, so that the lead falls without a jump inside it. */
    double middle = 0.5 * (s->from + s->to), half = 0.5 * (s->to - s->from);
    double lead = driven ? hp_angle_wrap_signed(s->field - middle) : 0.0;
    s->lead_from = lead + half;
    s->lead_to = lead - half;
    fill_torque(backemf, s);
}

int hp_lead_sectors(const hp_commutation_table *table, const hp_sensors_params *sensors,
                    const hp_backemf *backemf, const hp_wiring *wiring,
                    hp_lead_sector sector[HP_LEAD_SECTOR_MAX])
{
    double edge[2 * HP_PHASE_COUNT];
    int edge_count = edges(sensors, edge), count = 0;
    for (int k = 0; k < edge_count; k++) {
        double from = edge[k];
        double to = k + 1 < edge_count ? edge[k + 1] : edge[0] + HP_TWO_PI;
        int code = code_at(sensors, wiring, 0.5 * (from + to));
        /* A stuck sensor's edges do not show: stretches with one code are one stretch. */
        if (count > 0 && sector[count - 1].code == code)
            sector[count - 1].to = to;
        else
            sector[count++] = (hp_lead_sector){.from = from, .to = to, .code = code};
    }
    if (count > 1 && sector[count - 1].code == sector[0].code) {
        sector[count - 1].to = sector[0].to + HP_TWO_PI;
        for (int k = 1; k < count; k++)
            sector[k - 1] = sector[k];
        count--;
    }
    for (int k = 0; k < count; k++)
        fill_sector(table, backemf, wiring, &sector[k]);
    return count;
}

bool hp_lead_flows(const hp_lead_sector *sector)
{
    return sector->high >= 0 && !sector->open;
}

int hp_drive_sectors(const hp_drive *drive, const hp_wiring *wiring,
                     hp_lead_sector sector[HP_LEAD_SECTOR_MAX])
{
    const bool *open = drive->motor.lead_open;
    int count = hp_lead_sectors(&drive->controller.table, &drive->sensors, &drive->motor.backemf,
                                wiring, sector);
    for (int k = 0; k < count; k++) {
        hp_lead_sector *s = &sector[k];
        s->open = s->high >= 0 && (open[s->high] || open[s->low]);
        if (s->open)
            s->torque_mean = s->torque_min = s->torque_max = 0.0;
    }
    return count;
}
