/* Has a run settled? See the header. */
#include "sim/calm.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Blocks in a row that must agree. */
#define AGREED_MIN 2

static void begin_block(hp_calm *calm, const hp_machine *m, double t, const double *y)
{
    calm->time = t;
    calm->turns = m->turns;
    calm->theta = y[HP_Y_THETA];
    calm->resting = m->rotor_motion == HP_MOTION_STICK;
    memcpy(calm->y, y, sizeof calm->y);
}

void hp_calm_start(hp_calm *calm, const hp_machine *m, double share, const double *y)
{
    memset(calm, 0, sizeof *calm);
    calm->share = share;
    calm->agreed = -1;
    begin_block(calm, m, 0.0, y);
}

static void block_means(const hp_calm *calm, double t, const double *y,
                        double mean[HP_CALM_MEAN_COUNT])
{
    static const int integral[HP_CALM_MEAN_COUNT] = {
        [HP_CALM_SPEED] = HP_Q_SPEED,
        [HP_CALM_TORQUE_SQUARE] = HP_Q_TORQUE_SQUARE,
        [HP_CALM_CURRENT] = HP_Q_CHARGE,
        [HP_CALM_DUTY] = HP_Q_DUTY,
    };
    for (int k = 0; k < HP_CALM_MEAN_COUNT; k++)
        mean[k] = (y[integral[k]] - calm->y[integral[k]]) / (t - calm->time);
}

static bool agrees(const hp_calm *calm, const double mean[HP_CALM_MEAN_COUNT])
{
    for (int k = 0; k < HP_CALM_MEAN_COUNT; k++) {
        /* A square moves twice as far as its root. */
        double share = k == HP_CALM_TORQUE_SQUARE ? 2.0 * calm->share : calm->share;
        if (fabs(mean[k] - calm->mean[k]) > share * fabs(mean[k]))
            return false;
    }
    return true;
}

bool hp_calm_look(hp_calm *calm, const hp_machine *m, double t, const double *y, bool at_turn)
{
    if (t - calm->time < HP_CALM_BLOCK_S * (1.0 - 1e-9))
        return false;
    bool rested = calm->resting && m->rotor_motion == HP_MOTION_STICK && m->turns == calm->turns &&
                  y[HP_Y_THETA] == calm->theta;
    bool turned = at_turn && labs(m->turns - calm->turns) >= HP_CALM_BLOCK_TURNS;
    if (!rested && !turned) {
        /* A body that has just come to rest begins a block of rest; a turning one waits. */
        if (m->rotor_motion == HP_MOTION_STICK) {
            begin_block(calm, m, t, y);
            calm->agreed = -1;
        }
        return false;
    }
    double mean[HP_CALM_MEAN_COUNT];
    block_means(calm, t, y, mean);
    calm->agreed = calm->agreed >= 0 && agrees(calm, mean) ? calm->agreed + 1 : 0;
    memcpy(calm->mean, mean, sizeof calm->mean);
    begin_block(calm, m, t, y);
    return calm->agreed >= AGREED_MIN;
}
