/*
 * Has a run settled? Watches means over blocks until they stop moving.
 *
 * A block is a stretch of whole electrical turns while the rotor turns, of whole swings to and fro
 * while it shivers, and a stretch of time while it rests. When two blocks in a row agree with the
 * one before them in speed, torque, battery current and duty, the run is calm: what comes after
 * repeats what was. A rotor that shivers must besides come back to the same angle.
 */
#ifndef HUBPHASE_SRC_SIM_CALM_H
#define HUBPHASE_SRC_SIM_CALM_H

#include "sim/machine.h"

#include <stdbool.h>

/* Length of a block: at least this long, and while turning at least so many turns. */
#define HP_CALM_BLOCK_S     0.05
#define HP_CALM_BLOCK_TURNS 3

/* Moments at which blocks of one kind begin and end. */
typedef enum hp_calm_moment {
    HP_CALM_AT_TIME,  /* an even time: blocks of rest */
    HP_CALM_AT_TURN,  /* a whole electrical turn */
    HP_CALM_AT_SWING, /* a reversal of the speed, to forward */
    HP_CALM_AT_SWING_BACK,
    HP_CALM_MOMENT_COUNT
} hp_calm_moment;

enum hp_calm_mean {
    HP_CALM_SPEED,
    HP_CALM_SPEED_SQUARE,
    HP_CALM_TORQUE_SQUARE,
    HP_CALM_CURRENT,
    HP_CALM_DUTY,
    HP_CALM_WHEEL, /* behind a one-way clutch it may coast on, or be pumped up slowly */
    HP_CALM_MEAN_COUNT
};

/* A stretch, and what the one before it showed. */
typedef struct hp_calm_block {
    double time; /* it began here */
    long turns;
    double y[HP_STATE_COUNT];
    bool resting;                    /* ... with the rotor at rest */
    double mean[HP_CALM_MEAN_COUNT]; /* of the block before */
    int agreed;                      /* blocks in a row that agreed; -1: no block yet */
} hp_calm_block;

typedef struct hp_calm {
    double share; /* largest relative change between blocks that still counts as none */
    hp_calm_block block[HP_CALM_MOMENT_COUNT];
} hp_calm;

void hp_calm_start(hp_calm *calm, const hp_machine *machine, double share, const double *y);

/* To be called at every whole turn, at every swing and at even times; true when the run has become
 * calm. */
bool hp_calm_look(hp_calm *calm, const hp_machine *machine, double t, const double *y,
                  hp_calm_moment moment);

#endif
