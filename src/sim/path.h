/*
 * Does a run go the way of an earlier one?
 *
 * Runs of one machine that differ in their rest angle alone soon do the same: what comes after a
 * state depends on that state and on nothing before it. A path keeps the states of a run at its
 * whole turns and at its swings to and fro; a later run whose states come to lie on a path, some
 * times in a row, would only repeat what is known.
 */
#ifndef HUBPHASE_SRC_SIM_PATH_H
#define HUBPHASE_SRC_SIM_PATH_H

#include "sim/calm.h"

/* Paths of one machine, and states of one path: when there are more, every second is left out. */
#define HP_PATH_COUNT  8
#define HP_PATH_POINTS 512

typedef struct hp_waypoint {
    double y[HP_STATE_DYNAMIC]; /* the angle within one turn */
    int moment, mode;           /* states are compared only where these are the same */
    double time;
} hp_waypoint;

typedef struct hp_path {
    hp_waypoint point[HP_PATH_POINTS];
    int count;
    int stride, skipped; /* every so many states are kept; states since the last kept */
    hp_figures figures;  /* where it led to */
    bool settled;        /* ... whenever it began: it ended because it repeated itself */
} hp_path;

typedef struct hp_paths {
    hp_path path[HP_PATH_COUNT];
    int count;       /* complete ones; behind them grows that of the run going on */
    int near, times; /* the path that the latest state lies on, -1: none; so many in a row did */
    int followed;    /* the path whose way the run goes; -1: none */
} hp_paths;

/* Forgets all paths: another machine. */
void hp_paths_clear(hp_paths *paths);
/* Another run begins. */
void hp_paths_begin(hp_paths *paths);
/* Takes the state at a moment of the run; true once it goes the way of an earlier one. */
bool hp_paths_take(hp_paths *paths, const hp_machine *machine, double t, const double *y,
                   hp_calm_moment moment);
/* The run has ended, settled or not. Its path is kept, unless it failed; where it followed another,
 * that one's figures become its own, but for rest angle, time and work. */
void hp_paths_end(hp_paths *paths, bool settled, hp_figures *figures);

#endif
