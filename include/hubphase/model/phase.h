/*
 * The three phases and their axes, and small angle helpers.
 *
 * Arrays of three are indexed by hp_phase. Motor leads and motor sensors are called U, V, W by the
 * axis they belong to; controller outputs and inputs are U, V, W by the commutation table.
 */
#ifndef HUBPHASE_MODEL_PHASE_H
#define HUBPHASE_MODEL_PHASE_H

#include "hubphase/base/api.h"

#include <math.h>

HP_API_BEGIN

typedef enum hp_phase { HP_U, HP_V, HP_W, HP_PHASE_COUNT } hp_phase;

#define HP_PI         3.14159265358979323846
#define HP_TWO_PI     (2.0 * HP_PI)
#define HP_DEG        (HP_PI / 180.0)     /* multiply degrees by this for radians */
#define HP_RPM        (HP_PI / 30.0)      /* multiply rev/min by this for rad/s */
#define HP_PHASE_STEP (2.0 * HP_PI / 3.0) /* electrical angle between neighbouring axes */

/* Electrical angle of a phase's axis [rad]: 0, 120, 240 degrees for U, V, W. */
static inline double hp_phase_axis(int phase)
{
    return HP_PHASE_STEP * phase;
}

/* 'U', 'V', 'W'. */
static inline char hp_phase_letter(int phase)
{
    return "UVW"[phase];
}

/* The angle moved into [0, 2 pi); NaN for what is not finite. */
static inline double hp_angle_wrap(double angle)
{
    double a = fmod(angle, HP_TWO_PI);
    if (a < 0.0)
        a += HP_TWO_PI;
    return a >= HP_TWO_PI ? 0.0 : a;
}

/* The angle moved into [-pi, pi). */
static inline double hp_angle_wrap_signed(double angle)
{
    return hp_angle_wrap(angle + HP_PI) - HP_PI;
}

HP_API_END

#endif
