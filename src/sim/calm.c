/* Has a run settled? See the header. */
#include "sim/calm.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Blocks in a row that must agree. */
#define AGREED_MIN 2

/* Rotor and wheel both: behind a clutch a wheel may coast on. */
static bool is_at_rest(const hp_machine *m)
{
    return m->rotor_motion == HP_MOTION_STICK && (m->joint || m->wheel_motion == HP_MOTION_STICK);
}

static void begin_block(hp_calm_block *block, const hp_machine *m, double t, const double *y)
{
    block->time = t;
    block->turns = m->turns;
    block->resting = is_at_rest(m);
    memcpy(block->y, y, sizeof block->y);
}

static void begin_anew(hp_calm_block *block, const hp_machine *m, double t, const double *y)
{
    begin_block(block, m, t, y);
    block->agreed = -1;
}

void hp_calm_start(hp_calm *calm, const hp_machine *m, double share, const double *y)
{
    memset(calm, 0, sizeof *calm);
    calm->share = share;
    for (int k = 0; k < HP_CALM_MOMENT_COUNT; k++)
        begin_anew(&calm->block[k], m, 0.0, y);
}

static void block_means(const hp_calm_block *block, double t, const double *y,
                        double mean[HP_CALM_MEAN_COUNT])
{
    static const int integral[HP_CALM_MEAN_COUNT] = {
        [HP_CALM_SPEED] = HP_Q_SPEED,
        [HP_CALM_SPEED_SQUARE] = HP_Q_SPEED_SQUARE,
        [HP_CALM_TORQUE_SQUARE] = HP_Q_TORQUE_SQUARE,
        [HP_CALM_CURRENT] = HP_Q_CHARGE,
        [HP_CALM_DUTY] = HP_Q_DUTY,
        [HP_CALM_WHEEL] = HP_Q_WHEEL,
    };
    for (int k = 0; k < HP_CALM_MEAN_COUNT; k++)
        mean[k] = (y[integral[k]] - block->y[integral[k]]) / (t - block->time);
}

static bool agree(const double a[HP_CALM_MEAN_COUNT], const double b[HP_CALM_MEAN_COUNT],
                  double share)
{
    for (int k = 0; k < HP_CALM_MEAN_COUNT; k++) {
        /* A mean speed may be nothing beside the speeds that it is the mean of. */
        double size = k == HP_CALM_SPEED ? sqrt(b[HP_CALM_SPEED_SQUARE]) : fabs(b[k]);
        /* A square moves twice as far as its root. */
        bool square = k == HP_CALM_TORQUE_SQUARE || k == HP_CALM_SPEED_SQUARE;
        if (fabs(b[k] - a[k]) > (square ? 2.0 : 1.0) * share * size)
            return false;
    }
    return true;
}

/* Ends a block and begins the next; whether enough of them have agreed. */
static bool end_block(hp_calm_block *block, const hp_machine *m, double t, const double *y,
                      double share)
{
    double mean[HP_CALM_MEAN_COUNT];
    block_means(block, t, y, mean);
    if (!m->drive->stand.clutch)
        mean[HP_CALM_WHEEL] = 0.0; /* it goes as the rotor does */
    block->agreed = block->agreed >= 0 && agree(block->mean, mean, share) ? block->agreed + 1 : 0;
    memcpy(block->mean, mean, sizeof block->mean);
    begin_block(block, m, t, y);
    return block->agreed >= AGREED_MIN;
}

/* Electrical angle turned since the block began. */
static double turned(const hp_calm_block *block, const hp_machine *m, const double *y)
{
    return y[HP_Y_THETA] - block->y[HP_Y_THETA] + HP_TWO_PI * (double)(m->turns - block->turns);
}

static bool look_at_rest(hp_calm_block *block, const hp_machine *m, double t, const double *y,
                         double share)
{
    if (block->resting && is_at_rest(m) && turned(block, m, y) == 0.0)
        return end_block(block, m, t, y, share);
    begin_anew(block, m, t, y);
    return false;
}

static bool look_at_swings(hp_calm_block *block, const hp_machine *m, double t, const double *y,
                           double share)
{
    if (fabs(turned(block, m, y)) <= share)
        return end_block(block, m, t, y, share);
    begin_anew(block, m, t, y);
    return false;
}

bool hp_calm_look(hp_calm *calm, const hp_machine *m, double t, const double *y,
                  hp_calm_moment moment)
{
    hp_calm_block *block = &calm->block[moment];
    if (t - block->time < HP_CALM_BLOCK_S * (1.0 - 1e-9))
        return false;
    switch (moment) {
    case HP_CALM_AT_TIME: return look_at_rest(block, m, t, y, calm->share);
    case HP_CALM_AT_SWING:
    case HP_CALM_AT_SWING_BACK: return look_at_swings(block, m, t, y, calm->share);
    case HP_CALM_AT_TURN:
        return labs(m->turns - block->turns) >= HP_CALM_BLOCK_TURNS &&
               end_block(block, m, t, y, calm->share);
    case HP_CALM_MOMENT_COUNT: break;
    }
    return false;
}
