/*
 * The three phases and their axes, and a wiring: who is joined to whom between motor and
 * controller.
 *
 * Arrays of three are indexed by hp_phase. Motor leads and motor sensors are called U, V, W by the
 * axis they belong to; controller outputs and inputs are U, V, W by the commutation table.
 */
#ifndef HUBPHASE_MODEL_WIRING_H
#define HUBPHASE_MODEL_WIRING_H

#include "hubphase/base/result.h"

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

/* ---- wirings --------------------------------------------------------------------------------- */

/* Controller sensor input j listens to motor sensor sensor[j]; controller output j feeds motor lead
 * phase[j]. Both are permutations of U, V, W in this one direction, controller to motor.
 *
 * Numbers: 1..36 = 1 + 6 * (sensor order) + (phase order), orders in the sequence
 * 0 UVW, 1 UWV, 2 VUW, 3 VWU, 4 WUV, 5 WVU. Wiring 1 joins like to like. */

#define HP_ORDER_COUNT  6
#define HP_WIRING_COUNT 36

typedef struct hp_wiring {
    int sensor[HP_PHASE_COUNT]; /* [controller input] = motor sensor */
    int phase[HP_PHASE_COUNT];  /* [controller output] = motor lead */
} hp_wiring;

/* The order with this index 0..5, as the sequence above. */
void hp_order_get(int index, int order[HP_PHASE_COUNT]);
/* Index of a permutation, or -1 when it is not one. */
int hp_order_index(const int order[HP_PHASE_COUNT]);

/* Wiring of a number 1..36 (asserted). */
hp_wiring hp_wiring_from_number(int number);
/* Number of a wiring, or 0 when either part is not a permutation. */
int hp_wiring_number(const hp_wiring *wiring);
/* Row (sensor order) and column (phase order) 0..5 of a number in the 6 x 6 table. */
static inline int hp_wiring_row(int number)
{
    return (number - 1) / HP_ORDER_COUNT;
}
static inline int hp_wiring_column(int number)
{
    return (number - 1) % HP_ORDER_COUNT;
}

HP_API_END

#endif
