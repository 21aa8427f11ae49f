/*
 * Coefficients that hold from one event to the next; see reference_fast.h.
 */
#include "reference_fast.h"

#include <string.h>

/* Corners of all three phases in order, and each phase's straight line from one to the next. */
static void find_corners(ref_fast *r)
{
    const hp_backemf *shape = &r->plant.drive->motor.backemf;
    double half = 0.5 * (HP_PI - shape->flat_rad);
    double sorted[CORNERS_MAX];
    int count = 0;
    for (int phase = 0; phase < HP_PHASE_COUNT; phase++)
        for (int k = 0; k < 4; k++) {
            double own = (k / 2) * HP_PI + (k % 2 == 0 ? -half : half);
            double angle = hp_angle_wrap(own + phase * HP_TWO_PI / 3.0);
            int at = count;
            while (at > 0 && sorted[at - 1] > angle) {
                sorted[at] = sorted[at - 1];
                at--;
            }
            sorted[at] = angle;
            count++;
        }
    for (int k = 0; k < count; k++)
        if (r->corners == 0 || sorted[k] - r->corner_angle[r->corners - 1] > 1e-9)
            r->corner_angle[r->corners++] = sorted[k];
    if (r->corner_angle[0] + HP_TWO_PI - r->corner_angle[r->corners - 1] < 1e-9)
        r->corners--;
    r->corner_angle[r->corners] = r->corner_angle[0] + HP_TWO_PI;
    for (int j = 0; j < r->corners; j++) {
        double low = r->corner_angle[j], length = r->corner_angle[j + 1] - low;
        for (int k = 0; k < HP_PHASE_COUNT; k++) {
            double axis = k * HP_TWO_PI / 3.0;
            double begin = ref_shape(shape, low - axis);
            r->base[j][k] = begin;
            r->slope[j][k] = (ref_shape(shape, low + length - axis) - begin) / length;
        }
    }
}

/* Moves the present interval between corners to where the rotor is. */
static void follow_corners(ref_fast *r)
{
    double theta = r->x[X_THETA];
    while (theta > r->turn + r->corner_angle[r->corner + 1])
        if (++r->corner == r->corners) {
            r->corner = 0;
            r->turn += HP_TWO_PI;
        }
    while (theta < r->turn + r->corner_angle[r->corner])
        if (--r->corner < 0) {
            r->corner = r->corners - 1;
            r->turn -= HP_TWO_PI;
        }
    memcpy(r->s.shape_base, r->base[r->corner], sizeof r->s.shape_base);
    memcpy(r->s.shape_slope, r->slope[r->corner], sizeof r->s.shape_slope);
    r->s.corner_low = r->turn + r->corner_angle[r->corner];
}

/* The angles on either side at which a sensor toggles, a corner lies or a turn is to be counted. */
static void bound_angle(ref_fast *r)
{
    ref_segment *s = &r->s;
    double theta = r->x[X_THETA];
    const hp_sensors_params *sensors = &r->plant.drive->sensors;
    double half = 0.5 * HP_PI + sensors->hysteresis_rad;
    s->ahead = INFINITY;
    s->behind = -INFINITY;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        double middle = k * HP_TWO_PI / 3.0 + sensors->placement_rad[k];
        if (!r->mode.inside[k])
            middle += HP_PI;
        middle += HP_TWO_PI * floor((theta - middle) / HP_TWO_PI + 0.5);
        s->ahead = fmin(s->ahead, middle + half);
        s->behind = fmax(s->behind, middle - half);
    }
    if (r->trapezoid) {
        s->ahead = fmin(s->ahead, r->turn + r->corner_angle[r->corner + 1]);
        s->behind = fmax(s->behind, s->corner_low);
    }
    if (r->metering) {
        s->ahead = fmin(s->ahead, r->meter.up.next * HP_TWO_PI);
        s->behind = fmax(s->behind, r->meter.down.next * HP_TWO_PI);
    }
}

static void prepare_circuit(ref_fast *r)
{
    ref_segment *s = &r->s;
    const ref_plant *plant = &r->plant;
    s->conducting = 0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        ref_path path = r->mode.path[k];
        bool high = path == PATH_HIGH, upper = path == PATH_UPPER, lower = path == PATH_LOWER;
        bool on = path != PATH_FLOAT && path != PATH_OPEN;
        s->on[k] = on;
        s->conducting += on;
        s->gain_duty[k] = high && !plant->real_pwm;
        s->gain_one[k] = (high && plant->real_pwm) || upper;
        s->offset[k] = upper ? plant->diode_v : lower ? -plant->diode_v : 0.0;
        s->ohm[k] = plant->resistance + (high || path == PATH_LOW ? plant->switch_ohm : 0.0);
    }
    /* A single lead carries nothing but does fix the star point. */
    s->inverse_n = s->conducting > 0 ? 1.0 / s->conducting : 0.0;
}

static void prepare_motion(ref_fast *r)
{
    ref_segment *s = &r->s;
    const ref_plant *plant = &r->plant;
    const ref_mode *mode = &r->mode;
    double g = plant->ratio;
    s->rotor_constant = mode->rotor_way * plant->rotor.coulomb;
    s->rotor_viscous = plant->rotor.viscous;
    s->rotor_inverse = 0.0;
    s->wheel_inverse = 0.0;
    s->wheel_share = mode->linked ? 1.0 / g : 0.0;
    if (mode->linked) {
        s->rotor_constant += (mode->rotor_way * plant->wheel.coulomb + plant->load) / g;
        s->rotor_viscous += plant->wheel.viscous / (g * g);
    }
    if (!mode->rotor_stuck)
        s->rotor_inverse = 1.0 / (mode->linked ? plant->joint_inertia : plant->rotor_inertia);
    if (!mode->linked && !mode->wheel_stuck)
        s->wheel_inverse = 1.0 / plant->wheel_inertia;
    s->wheel_constant = mode->wheel_way * plant->wheel.coulomb + plant->load;
    s->wheel_viscous = plant->wheel.viscous;
}

/* Makes the segment that begins here and the derivative at its start. */
void ref_fast_begin_segment(ref_fast *r)
{
    if (r->trapezoid)
        follow_corners(r);
    bound_angle(r);
    prepare_circuit(r);
    prepare_motion(r);
    ref_fast_derive(r, r->x, r->d, &r->now);
    r->rhs++;
    ref_fast_choose_kinks(r);
    r->begun = r->t;
    r->old_step = 0.0;
    r->q_known = false;
    ref_fast_aim(r);
}

void ref_fast_prepare(ref_fast *r)
{
    const hp_drive *drive = r->plant.drive;
    const hp_controller_params *c = &drive->controller;
    r->trapezoid = drive->motor.backemf.kind == HP_BACKEMF_TRAPEZOIDAL;
    r->sinusoid = drive->motor.backemf.kind == HP_BACKEMF_SINUSOIDAL;
    r->cogging = drive->motor.cogging_nm > 0.0;
    r->turn = HP_TWO_PI * floor(r->x[X_THETA] / HP_TWO_PI);
    r->ramp = c->ramp_per_s > 0.0 ? c->ramp_per_s : INFINITY;
    r->battery_share = c->battery_limit_a > 0.0 ? 1.0 / c->battery_limit_a : 0.0;
    r->phase_share = c->phase_limit_a > 0.0 ? 1.0 / c->phase_limit_a : 0.0;
    bool limits = r->battery_share > 0.0 || r->phase_share > 0.0;
    r->per_henry = 1.0 / r->plant.inductance;
    r->per_filter = 1.0 / r->plant.filter_s;
    r->limiter = limits ? c->limiter_per_s : INFINITY;
    if (r->trapezoid)
        find_corners(r);
}
