/*
 * Rotor, wheel, sticking friction and one-way clutch of the reference.
 *
 * Linked bodies turn as one, wheel speed = rotor speed / g, and with a clutch only while the torque
 * that it carries, T_c = J_w dw_w/dt + friction_w + load, is not negative. Separate bodies follow
 * their own equations until the rotor catches up with the wheel, which is without shock.
 *
 * A body at rest sticks while friction up to breakaway can hold it. For rotor and wheel at rest
 * together the clutch can push the wheel but not pull it, so the rotor's torque T may lie between
 * -B_r + max(0, load - B_w)/g and B_r + (load + B_w)/g.
 */
#include "reference_parts.h"

#include <math.h>

enum { BODY_ROTOR, BODY_WHEEL };

static int sign_of(double v)
{
    return (v > 0.0) - (v < 0.0);
}

double ref_friction_torque(const ref_plant *plant, const ref_friction *friction, double speed,
                           int way)
{
    double coulomb = plant->smooth > 0.0 ? friction->coulomb * tanh(speed / plant->smooth)
                                         : friction->coulomb * way;
    return coulomb + friction->viscous * speed;
}

/* Acceleration of rotor and wheel as one, moving or about to move in the sense `way`. */
static double joint_acceleration(const ref_plant *plant, double speed, int way, double shaft)
{
    double g = plant->ratio;
    double rotor = ref_friction_torque(plant, &plant->rotor, speed, way);
    double wheel = ref_friction_torque(plant, &plant->wheel, speed / g, way);
    return (shaft - rotor - (wheel + plant->load) / g) / plant->joint_inertia;
}

static double joint_clutch_torque(const ref_plant *plant, double speed, int way, double shaft)
{
    double g = plant->ratio;
    return plant->wheel_inertia * joint_acceleration(plant, speed, way, shaft) / g +
           ref_friction_torque(plant, &plant->wheel, speed / g, way) + plant->load;
}

double ref_clutch_torque(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT],
                         double shaft)
{
    return joint_clutch_torque(plant, x[X_SPEED], mode->rotor_way, shaft);
}

void ref_accelerate(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT],
                    double shaft, double d[X_COUNT])
{
    d[X_SPEED] = d[X_WHEEL] = 0.0;
    if (mode->linked) {
        if (!mode->rotor_stuck)
            d[X_SPEED] = joint_acceleration(plant, x[X_SPEED], mode->rotor_way, shaft);
        d[X_WHEEL] = d[X_SPEED] / plant->ratio;
        return;
    }
    if (!mode->rotor_stuck)
        d[X_SPEED] =
            (shaft - ref_friction_torque(plant, &plant->rotor, x[X_SPEED], mode->rotor_way)) /
            plant->rotor_inertia;
    if (!mode->wheel_stuck)
        d[X_WHEEL] = (-plant->load -
                      ref_friction_torque(plant, &plant->wheel, x[X_WHEEL], mode->wheel_way)) /
                     plant->wheel_inertia;
}

void ref_hold_range(const ref_plant *plant, bool linked, double *low, double *high)
{
    double g = plant->ratio;
    if (!linked) {
        *low = -plant->rotor.breakaway;
        *high = plant->rotor.breakaway;
    } else if (plant->clutch) {
        *low = -plant->rotor.breakaway + fmax(0.0, plant->load - plant->wheel.breakaway) / g;
        *high = plant->rotor.breakaway + (plant->load + plant->wheel.breakaway) / g;
    } else {
        double hold = plant->rotor.breakaway + plant->wheel.breakaway / g;
        *low = plant->load / g - hold;
        *high = plant->load / g + hold;
    }
}

/* Torque by which the rotor's torque leaves the range in which joint bodies stick, with its sign;
 * 0: it holds. */
static double joint_surplus(const ref_plant *plant, double shaft)
{
    double low, high;
    ref_hold_range(plant, true, &low, &high);
    if (shaft > high)
        return shaft - high;
    return shaft < low ? shaft - low : 0.0;
}

static double surplus(double torque, double breakaway)
{
    return fabs(torque) > breakaway ? torque : 0.0;
}

/* A load that pushes the wheel forward harder than its friction holds takes it away from the
 * rotor. */
static bool wheel_runs_away(const ref_plant *plant)
{
    return plant->clutch && plant->load + plant->wheel.breakaway < 0.0;
}

/* Lets go of the clutch; each body then moves or sticks on its own. */
static void part(const ref_plant *plant, ref_mode *mode, const double x[X_COUNT], double shaft)
{
    mode->linked = false;
    bool sticks = plant->smooth <= 0.0;
    double rotor = surplus(shaft, plant->rotor.breakaway);
    double wheel = surplus(-plant->load, plant->wheel.breakaway);
    mode->rotor_stuck = sticks && x[X_SPEED] == 0.0 && rotor == 0.0;
    mode->wheel_stuck = sticks && x[X_WHEEL] == 0.0 && wheel == 0.0;
    mode->rotor_way = x[X_SPEED] != 0.0 ? sign_of(x[X_SPEED]) : sign_of(rotor);
    mode->wheel_way = x[X_WHEEL] != 0.0 ? sign_of(x[X_WHEEL]) : sign_of(wheel);
}

/* Rotor and wheel at the same speed with the clutch in: sticking, moving as one, or parted. */
static void join(const ref_plant *plant, ref_mode *mode, double x[X_COUNT], double shaft)
{
    mode->linked = true;
    mode->rotor_stuck = mode->wheel_stuck = false;
    x[X_WHEEL] = x[X_SPEED] / plant->ratio;
    if (plant->smooth > 0.0) {
        mode->rotor_way = 0;
    } else if (x[X_SPEED] != 0.0) {
        mode->rotor_way = sign_of(x[X_SPEED]);
    } else {
        double push = joint_surplus(plant, shaft);
        mode->rotor_way = sign_of(push);
        mode->rotor_stuck = push == 0.0 && !wheel_runs_away(plant);
        if (mode->rotor_stuck)
            return;
    }
    if (plant->clutch && ref_clutch_torque(plant, mode, x, shaft) < 0.0)
        part(plant, mode, x, shaft);
}

void ref_motion_begin(const ref_plant *plant, ref_mode *mode, double x[X_COUNT], double shaft)
{
    x[X_WHEEL] = x[X_SPEED] / plant->ratio;
    /* A rotor turned backward does not take a wheel at rest with it. */
    if (plant->clutch && x[X_SPEED] < 0.0) {
        x[X_WHEEL] = 0.0;
        part(plant, mode, x, shaft);
    } else {
        join(plant, mode, x, shaft);
    }
}

/* A moving body has stopped or turned round. */
static bool has_turned(const ref_plant *plant, bool stuck, int way, double speed)
{
    return plant->smooth <= 0.0 && !stuck && way * speed < 0.0;
}

bool ref_motion_ended(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT],
                      double shaft)
{
    if (has_turned(plant, mode->rotor_stuck, mode->rotor_way, x[X_SPEED]))
        return true;
    if (mode->linked) {
        if (mode->rotor_stuck)
            return joint_surplus(plant, shaft) != 0.0;
        return plant->clutch && ref_clutch_torque(plant, mode, x, shaft) < 0.0;
    }
    if (mode->rotor_stuck && surplus(shaft, plant->rotor.breakaway) != 0.0)
        return true;
    if (x[X_SPEED] > plant->ratio * x[X_WHEEL])
        return true;
    return has_turned(plant, mode->wheel_stuck, mode->wheel_way, x[X_WHEEL]);
}

/* A linked pair: it may stop, turn round, break away, or come apart. */
static void switch_linked(const ref_plant *plant, ref_mode *mode, double t, double x[X_COUNT],
                          double shaft, ref_log *log)
{
    bool turned = has_turned(plant, mode->rotor_stuck, mode->rotor_way, x[X_SPEED]);
    bool was_stuck = mode->rotor_stuck;
    if (turned)
        x[X_SPEED] = 0.0;
    join(plant, mode, x, shaft);
    if (turned)
        ref_log_event(log, t, mode->rotor_stuck ? HP_EVENT_STICK : HP_EVENT_SLIP, BODY_ROTOR);
    else if (was_stuck && !mode->rotor_stuck)
        ref_log_event(log, t, HP_EVENT_SLIP, BODY_ROTOR);
    if (!mode->linked)
        ref_log_event(log, t, HP_EVENT_CLUTCH, 0);
}

/* Separate bodies: either may stop, turn round or break away, and the rotor may catch up. */
static void switch_parted(const ref_plant *plant, ref_mode *mode, double t, double x[X_COUNT],
                          double shaft, ref_log *log)
{
    bool rotor_turned = has_turned(plant, mode->rotor_stuck, mode->rotor_way, x[X_SPEED]);
    bool wheel_turned = has_turned(plant, mode->wheel_stuck, mode->wheel_way, x[X_WHEEL]);
    bool rotor_stuck = mode->rotor_stuck, wheel_stuck = mode->wheel_stuck;
    bool caught_up = x[X_SPEED] > plant->ratio * x[X_WHEEL];
    if (rotor_turned)
        x[X_SPEED] = 0.0;
    if (wheel_turned)
        x[X_WHEEL] = 0.0;
    if (caught_up)
        x[X_SPEED] = plant->ratio * x[X_WHEEL];
    /* A wheel that comes to rest under a rotor at rest meets it there. */
    bool meets = wheel_turned && x[X_SPEED] == 0.0;
    if (caught_up || meets)
        join(plant, mode, x, shaft);
    else
        part(plant, mode, x, shaft);
    if (rotor_turned)
        ref_log_event(log, t, mode->rotor_stuck ? HP_EVENT_STICK : HP_EVENT_SLIP, BODY_ROTOR);
    else if (rotor_stuck && !mode->rotor_stuck)
        ref_log_event(log, t, HP_EVENT_SLIP, BODY_ROTOR);
    if (wheel_turned)
        ref_log_event(log, t,
                      mode->wheel_stuck || mode->rotor_stuck ? HP_EVENT_STICK : HP_EVENT_SLIP,
                      BODY_WHEEL);
    else if (wheel_stuck && !mode->wheel_stuck && !mode->linked)
        ref_log_event(log, t, HP_EVENT_SLIP, BODY_WHEEL);
    if (mode->linked)
        ref_log_event(log, t, HP_EVENT_CLUTCH, 1);
}

void ref_motion_switch(const ref_plant *plant, ref_mode *mode, double t, double x[X_COUNT],
                       double shaft, ref_log *log)
{
    if (!ref_motion_ended(plant, mode, x, shaft))
        return;
    if (mode->linked)
        switch_linked(plant, mode, t, x, shaft, log);
    else
        switch_parted(plant, mode, t, x, shaft, log);
}
