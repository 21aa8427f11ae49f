/* Motion of rotor and wheel: see the header. */
#include "sim/motion.h"

#include "base/elementary.h"

#include <math.h>

/* Past zero by this much a speed has changed sign [rad/s]. */
#define SPEED_SLACK 1e-9
/* Torque beyond breakaway by this share, or through the clutch below zero by this much [N m]. */
#define TORQUE_SLACK 1e-9
/* Step of a one-sided difference over time [s]: far below any time constant, far above rounding. */
#define RATE_STEP 1e-8

static double coulomb(const hp_machine *m, const hp_friction *friction, double sign, double speed)
{
    double smooth = m->drive->stand.smooth_rad_s;
    return friction->coulomb_nm * (smooth > 0.0 ? hp_hyperbolic_tangent(speed / smooth) : sign);
}

/* Friction of one slipping body; speeds in its own frame. */
static double friction_torque(const hp_machine *m, const hp_friction *friction, double sign,
                              double speed)
{
    return coulomb(m, friction, sign, speed) + friction->viscous_nm_s_rad * speed;
}

void hp_motion_slopes(const hp_machine *m, const double *y, hp_instant *now)
{
    const hp_stand_params *stand = &m->drive->stand;
    double w = y[HP_Y_SPEED], ww = y[HP_Y_WHEEL], per_gear = m->per_gear;
    now->rotor_slope = now->wheel_slope = now->through = now->friction_power = 0.0;

    if (m->joint) {
        if (m->rotor_motion == HP_MOTION_STICK)
            return;
        double on_rotor = friction_torque(m, &stand->rotor, m->rotor_sign, w);
        double on_wheel =
            friction_torque(m, &stand->wheel, m->rotor_sign, w * per_gear) + stand->load_nm;
        double net = now->rotor_torque - on_rotor - on_wheel * per_gear;
        now->rotor_slope = net * m->per_inertia_joint;
        now->wheel_slope = now->rotor_slope * per_gear;
        now->through = (m->inertia_wheel * now->wheel_slope + on_wheel) * per_gear;
        now->friction_power = (on_rotor + on_wheel * per_gear) * w;
        return;
    }
    if (m->rotor_motion == HP_MOTION_SLIP) {
        double loss = friction_torque(m, &stand->rotor, m->rotor_sign, w);
        now->rotor_slope = (now->rotor_torque - loss) * m->per_inertia_rotor;
        now->friction_power += loss * w;
    }
    if (m->wheel_motion == HP_MOTION_SLIP) {
        double loss = friction_torque(m, &stand->wheel, m->wheel_sign, ww) + stand->load_nm;
        now->wheel_slope = -loss * m->per_inertia_wheel;
        now->friction_power += loss * ww;
    }
}

static double sign_of(double x)
{
    return x < 0.0 ? -1.0 : 1.0;
}

/* Where a guard of sticking stands: a slack beyond the level by which settling decides, so that the
 * torque at the root found is beyond the level without doubt. */
static double breakaway(double level)
{
    return level * (1.0 + TORQUE_SLACK) + TORQUE_SLACK;
}

void hp_motion_guards(const hp_machine *m, const double *y, const hp_instant *now, double *guard)
{
    const hp_stand_params *stand = &m->drive->stand;
    double g = m->gear;
    guard[HP_GUARD_ROTOR] = guard[HP_GUARD_WHEEL] = guard[HP_GUARD_CLUTCH] = 1.0;
    bool sticks = stand->smooth_rad_s == 0.0;

    if (m->rotor_motion == HP_MOTION_SLIP) {
        if (sticks)
            guard[HP_GUARD_ROTOR] = m->rotor_sign * y[HP_Y_SPEED] + SPEED_SLACK;
    } else if (m->joint) {
        double pull = now->rotor_torque - stand->load_nm / g;
        guard[HP_GUARD_ROTOR] = breakaway(m->friction_joint.breakaway_nm) - fabs(pull);
        /* Backward a clutch lets the rotor go alone. */
        if (stand->clutch)
            guard[HP_GUARD_ROTOR] = fmin(guard[HP_GUARD_ROTOR],
                                         breakaway(stand->rotor.breakaway_nm) + now->rotor_torque);
    } else {
        guard[HP_GUARD_ROTOR] = breakaway(stand->rotor.breakaway_nm) - fabs(now->rotor_torque);
    }
    if (!m->joint && m->wheel_motion == HP_MOTION_SLIP && sticks)
        guard[HP_GUARD_WHEEL] = m->wheel_sign * y[HP_Y_WHEEL] + SPEED_SLACK;

    if (!stand->clutch)
        return;
    if (!m->joint)
        guard[HP_GUARD_CLUTCH] = g * y[HP_Y_WHEEL] - y[HP_Y_SPEED] + SPEED_SLACK;
    else if (m->rotor_motion == HP_MOTION_SLIP)
        guard[HP_GUARD_CLUTCH] = now->through + TORQUE_SLACK;
}

/* Of the torque handed to the wheel, by a one-sided difference: friction has its own say in it. */
static double through_rate(const hp_machine *m, const double *y, const hp_instant *now,
                           const double *slope, double torque_rate)
{
    const hp_motor_params *motor = &m->drive->motor;
    double ahead[HP_STATE_DYNAMIC];
    hp_instant then = {.rotor_torque = now->rotor_torque + RATE_STEP * torque_rate};
    for (int k = 0; k < HP_STATE_DYNAMIC; k++)
        ahead[k] = y[k] + RATE_STEP * slope[k];
    if (motor->cogging_nm > 0.0)
        then.rotor_torque +=
            hp_motor_cogging(motor, ahead[HP_Y_THETA]) - hp_motor_cogging(motor, y[HP_Y_THETA]);
    hp_motion_slopes(m, ahead, &then);
    return (then.through - now->through) / RATE_STEP;
}

void hp_motion_guard_rates(const hp_machine *m, const double *y, const hp_instant *now,
                           const double *slope, double torque_rate, double *rate)
{
    const hp_stand_params *stand = &m->drive->stand;
    rate[HP_GUARD_ROTOR] = rate[HP_GUARD_WHEEL] = rate[HP_GUARD_CLUTCH] = 0.0;
    bool sticks = stand->smooth_rad_s == 0.0;

    /* Cogging stands still where the rotor does. */
    if (m->rotor_motion == HP_MOTION_SLIP) {
        if (sticks)
            rate[HP_GUARD_ROTOR] = m->rotor_sign * slope[HP_Y_SPEED];
    } else if (m->joint) {
        double pull = now->rotor_torque - stand->load_nm / m->gear;
        rate[HP_GUARD_ROTOR] = -sign_of(pull) * torque_rate;
        double alone = breakaway(stand->rotor.breakaway_nm) + now->rotor_torque;
        if (stand->clutch && alone < breakaway(m->friction_joint.breakaway_nm) - fabs(pull))
            rate[HP_GUARD_ROTOR] = torque_rate;
    } else {
        rate[HP_GUARD_ROTOR] = -sign_of(now->rotor_torque) * torque_rate;
    }
    if (!m->joint && m->wheel_motion == HP_MOTION_SLIP && sticks)
        rate[HP_GUARD_WHEEL] = m->wheel_sign * slope[HP_Y_WHEEL];

    if (!stand->clutch)
        return;
    if (!m->joint)
        rate[HP_GUARD_CLUTCH] = m->gear * slope[HP_Y_WHEEL] - slope[HP_Y_SPEED];
    else if (m->rotor_motion == HP_MOTION_SLIP)
        rate[HP_GUARD_CLUTCH] = through_rate(m, y, now, slope, torque_rate);
}

/* A single body at speed w under torque: rest or slip. Puts a crawling speed to zero. */
static void settle_body(double *w, double torque, double level, hp_body_motion *motion,
                        double *sign)
{
    if (fabs(*w) > 2.0 * SPEED_SLACK) {
        *motion = HP_MOTION_SLIP;
        *sign = sign_of(*w);
        return;
    }
    *w = 0.0;
    bool rests = fabs(torque) <= level;
    *motion = rests ? HP_MOTION_STICK : HP_MOTION_SLIP;
    *sign = sign_of(torque);
}

static void join(hp_machine *m, double *y)
{
    m->joint = true;
    y[HP_Y_WHEEL] = y[HP_Y_SPEED] / m->gear;
}

/* Clutch in contact with both bodies at rest. It hands over a torque lambda >= 0 (at rotor speed,
 * rotor pushing the wheel forward); they stay at rest while some lambda keeps both within their
 * breakaway, |pull - lambda| <= rotor's and |g lambda - load| <= wheel's. Returns the direction in
 * which they would slip as one, 0: none; *rests says whether they stay. */
static double contact_slip(const hp_machine *m, double pull, bool *rests)
{
    const hp_stand_params *stand = &m->drive->stand;
    double rotor = stand->rotor.breakaway_nm, wheel = stand->wheel.breakaway_nm;
    double net = pull - stand->load_nm / m->gear, level = m->friction_joint.breakaway_nm;
    *rests = fabs(net) <= level && pull + rotor >= 0.0 && stand->load_nm + wheel >= 0.0;
    return net > level ? 1.0 : net < -level ? -1.0 : 0.0;
}

/* Clutch in contact: does it hold? Tries rotor and wheel as one body and looks at the torque handed
 * over. */
static void settle_contact(hp_machine *m, double *y, const hp_instant *now)
{
    const hp_stand_params *stand = &m->drive->stand;
    double g = m->gear, pull = now->rotor_torque;
    bool at_rest = stand->smooth_rad_s == 0.0 && fabs(y[HP_Y_SPEED]) <= 2.0 * SPEED_SLACK * g;

    join(m, y);
    m->rotor_motion = m->wheel_motion = HP_MOTION_SLIP;
    m->rotor_sign = m->wheel_sign = sign_of(y[HP_Y_SPEED]);
    if (at_rest) {
        y[HP_Y_SPEED] = y[HP_Y_WHEEL] = 0.0;
        bool rests;
        double slip = contact_slip(m, pull, &rests);
        m->rotor_sign = m->wheel_sign = slip < 0.0 ? -1.0 : 1.0;
        if (rests) {
            m->rotor_motion = HP_MOTION_STICK;
            return;
        }
        m->joint = slip != 0.0;
    }
    if (m->joint) {
        hp_instant tried = *now;
        hp_motion_slopes(m, y, &tried);
        m->joint = tried.through >= 0.0;
    }
    if (!m->joint && at_rest) {
        settle_body(&y[HP_Y_SPEED], pull, stand->rotor.breakaway_nm, &m->rotor_motion,
                    &m->rotor_sign);
        settle_body(&y[HP_Y_WHEEL], -stand->load_nm, stand->wheel.breakaway_nm, &m->wheel_motion,
                    &m->wheel_sign);
    }
}

bool hp_motion_settle_turning(hp_machine *m, double *y)
{
    const hp_stand_params *stand = &m->drive->stand;
    double w = y[HP_Y_SPEED];
    bool turns = stand->smooth_rad_s > 0.0 || fabs(w) > 2.0 * SPEED_SLACK;
    if (stand->clutch || !turns)
        return false;
    m->joint = true;
    m->rotor_motion = HP_MOTION_SLIP;
    m->rotor_sign = sign_of(w);
    y[HP_Y_WHEEL] = w / m->gear;
    return true;
}

void hp_motion_settle(hp_machine *m, double *y, const hp_instant *now)
{
    const hp_stand_params *stand = &m->drive->stand;
    bool sticks = stand->smooth_rad_s == 0.0;

    if (hp_motion_settle_turning(m, y))
        return;
    if (!stand->clutch) {
        m->joint = true;
        settle_body(&y[HP_Y_SPEED], now->rotor_torque - stand->load_nm / m->gear,
                    m->friction_joint.breakaway_nm, &m->rotor_motion, &m->rotor_sign);
        y[HP_Y_WHEEL] = y[HP_Y_SPEED] / m->gear;
        return;
    }
    double gap = m->gear * y[HP_Y_WHEEL] - y[HP_Y_SPEED];
    if (gap <= 2.0 * SPEED_SLACK * m->gear) {
        y[HP_Y_SPEED] = m->gear * y[HP_Y_WHEEL];
        settle_contact(m, y, now);
        return;
    }
    m->joint = false;
    m->rotor_motion = m->wheel_motion = HP_MOTION_SLIP;
    m->rotor_sign = sign_of(y[HP_Y_SPEED]);
    m->wheel_sign = sign_of(y[HP_Y_WHEEL]);
    if (!sticks)
        return;
    settle_body(&y[HP_Y_SPEED], now->rotor_torque, stand->rotor.breakaway_nm, &m->rotor_motion,
                &m->rotor_sign);
    settle_body(&y[HP_Y_WHEEL], -stand->load_nm, stand->wheel.breakaway_nm, &m->wheel_motion,
                &m->wheel_sign);
}
