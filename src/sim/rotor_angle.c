/* Rotor angle: see the header. */
#include "sim/rotor_angle.h"

#include "base/sine.h"
#include "model/backemf.h"
#include "model/sensors.h"

#include <math.h>
#include <string.h>

/* Boundaries of angle nearer than this are one event [rad]; it is far below any hysteresis. */
#define ANGLE_SLACK 1e-9
/* Step of the one-sided difference for the slope of a series [rad]. */
#define SLOPE_STEP 1e-7

/* Straight-line coefficients of the trapezoid in the present segment. */
static void set_segment(hp_machine *m, int segment)
{
    m->segment = segment;
    if (m->corner_count == 0)
        return;
    double from = m->corner[segment];
    double to = segment + 1 < m->corner_count ? m->corner[segment + 1] : m->corner[0] + HP_TWO_PI;
    m->shape_origin = from;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        double a = hp_backemf_value(&m->drive->motor.backemf, from - hp_phase_axis(k));
        double b = hp_backemf_value(&m->drive->motor.backemf, to - hp_phase_axis(k));
        m->shape_base[k] = a;
        m->shape_slope[k] = (b - a) / (to - from);
    }
}

/* Collects the corners of all three phases, ascending, equal ones once. */
static void collect_corners(hp_machine *m)
{
    double own[4];
    int count = hp_backemf_corners(&m->drive->motor.backemf, own);
    m->corner_count = 0;
    for (int phase = 0; phase < HP_PHASE_COUNT; phase++) {
        for (int c = 0; c < count; c++) {
            double angle = hp_angle_wrap(own[c] + hp_phase_axis(phase));
            if (HP_TWO_PI - angle < ANGLE_SLACK)
                angle = 0.0;
            int at = 0;
            while (at < m->corner_count && m->corner[at] < angle - ANGLE_SLACK)
                at++;
            if (at < m->corner_count && fabs(m->corner[at] - angle) <= ANGLE_SLACK)
                continue;
            memmove(&m->corner[at + 1], &m->corner[at],
                    (size_t)(m->corner_count - at) * sizeof m->corner[0]);
            m->corner[at] = angle;
            m->corner_count++;
        }
    }
}

void hp_rotor_angle_start(hp_machine *m, double theta)
{
    collect_corners(m);
    int segment = m->corner_count - 1;
    for (int c = 0; c < m->corner_count; c++)
        if (m->corner[c] <= theta)
            segment = c;
    set_segment(m, segment);
}

void hp_rotor_angle_shapes(const hp_machine *m, double theta, double f[HP_PHASE_COUNT])
{
    const hp_backemf *backemf = &m->drive->motor.backemf;
    if (m->corner_count > 0) {
        /* The segment's straight line also serves just past its ends, where a step may probe. */
        double x = theta - m->shape_origin;
        if (x > HP_PI)
            x -= HP_TWO_PI;
        else if (x < -HP_PI)
            x += x < -3.0 * HP_PI ? 2.0 * HP_TWO_PI : HP_TWO_PI;
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            f[k] = m->shape_base[k] + m->shape_slope[k] * x;
    } else if (backemf->kind == HP_BACKEMF_SINUSOIDAL) {
        /* -sin of three angles 120 degrees apart from one sine and cosine. */
        double s = hp_sine(theta), c = hp_cosine(theta), h = 0.86602540378443864676;
        f[HP_U] = -s;
        f[HP_V] = 0.5 * s + h * c;
        f[HP_W] = 0.5 * s - h * c;
    } else {
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            f[k] = hp_backemf_value(backemf, theta - hp_phase_axis(k));
    }
}

void hp_rotor_angle_shape_slopes(const hp_machine *m, double theta, const double f[HP_PHASE_COUNT],
                                 double slope[HP_PHASE_COUNT])
{
    const hp_backemf *backemf = &m->drive->motor.backemf;
    if (m->corner_count > 0) {
        memcpy(slope, m->shape_slope, sizeof m->shape_slope);
    } else if (backemf->kind == HP_BACKEMF_SINUSOIDAL) {
        /* Each stands at a right angle to the other two's difference. */
        const double third = 0.57735026918962576451;
        slope[HP_U] = third * (f[HP_W] - f[HP_V]);
        slope[HP_V] = third * (f[HP_U] - f[HP_W]);
        slope[HP_W] = third * (f[HP_V] - f[HP_U]);
    } else {
        hp_rotor_angle_shapes(m, theta + SLOPE_STEP, slope);
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            slope[k] = (slope[k] - f[k]) / SLOPE_STEP;
    }
}

/* Distance to the next corner of the trapezoid, INFINITY when the shape has none. */
static double corner_distance(const hp_machine *m, double theta, int direction)
{
    if (m->corner_count == 0)
        return INFINITY;
    int ahead = direction > 0 ? (m->segment + 1) % m->corner_count : m->segment;
    double d = hp_angle_wrap(direction > 0 ? m->corner[ahead] - theta : theta - m->corner[ahead]);
    return d > HP_TWO_PI - ANGLE_SLACK ? 0.0 : d;
}

void hp_rotor_angle_bounds(hp_machine *m, double theta)
{
    double distance[2] = {HP_TWO_PI - theta, theta};
    for (int side = 0; side < 2; side++) {
        int direction = side == 0 ? 1 : -1;
        distance[side] = fmin(distance[side], corner_distance(m, theta, direction));
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            distance[side] =
                fmin(distance[side],
                     hp_sensor_distance(&m->drive->sensors, k, m->inside[k], theta, direction));
        /* Never zero: a guard must not restart at its root. */
        distance[side] = fmax(distance[side], ANGLE_SLACK);
    }
    m->bound_forward = theta + distance[0];
    m->bound_backward = theta - distance[1];
}

/* Whether a distance says "here", also when rounding or the slack has carried it just past. */
static bool is_here(double distance)
{
    return distance <= 2.0 * ANGLE_SLACK ||
           (distance >= HP_TWO_PI - 2.0 * ANGLE_SLACK && distance <= HP_TWO_PI);
}

bool hp_rotor_angle_cross(hp_machine *m, double *y, int direction)
{
    double theta = direction > 0 ? m->bound_forward : m->bound_backward;
    bool toggled[HP_PHASE_COUNT], corner;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        toggled[k] =
            is_here(hp_sensor_distance(&m->drive->sensors, k, m->inside[k], theta, direction));
    corner = m->corner_count > 0 && is_here(corner_distance(m, theta, direction));
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        m->inside[k] ^= toggled[k];
    if (corner) {
        int next = m->segment + direction;
        set_segment(m, (next + m->corner_count) % m->corner_count);
    }
    if (direction > 0 && theta >= HP_TWO_PI - ANGLE_SLACK) {
        theta -= HP_TWO_PI;
        m->turns++;
    } else if (direction < 0 && theta <= ANGLE_SLACK) {
        theta += HP_TWO_PI;
        m->turns--;
    }
    y[HP_Y_THETA] = theta;
    return corner;
}
