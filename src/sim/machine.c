/*
 * The machine between two events.
 *
 * Electrical: di/dt from the circuit (model/circuit). Mechanical, rotor and wheel as one:
 *   J dw/dt = T_e + T_cog - T_friction - T_load / g, g the gear ratio;
 * apart (clutch free), one such equation for each body. Controller: the law in model/controller.
 */
#include "machine.h"

#include <assert.h>
#include <string.h>

/* Boundaries of angle nearer than this are one event [rad]; it is far below any hysteresis. */
#define ANGLE_SLACK 1e-9
/* Past zero by this much a speed has changed sign [rad/s]. */
#define SPEED_SLACK 1e-9
/* Duty past its limit by this much has met it. */
#define DUTY_SLACK 1e-12
/* Torque beyond breakaway by this share, or through the clutch below zero by this much [N m]. */
#define TORQUE_SLACK 1e-9

/* ---- back-EMF ------------------------------------------------------------------------------- */

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

/* Unit shapes of the three phases. */
static void shapes(const hp_machine *m, double theta, double f[HP_PHASE_COUNT])
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
        double s = sin(theta), c = cos(theta), h = 0.86602540378443864676;
        f[HP_U] = -s;
        f[HP_V] = 0.5 * s + h * c;
        f[HP_W] = 0.5 * s - h * c;
    } else {
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            f[k] = hp_backemf_value(backemf, theta - hp_phase_axis(k));
    }
}

/* ---- sensors and commutation ---------------------------------------------------------------- */

static int read_code(const hp_machine *m)
{
    int bit[HP_PHASE_COUNT];
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        int sensor = m->wiring.sensor[j];
        bit[j] = hp_sensor_output(&m->drive->sensors, sensor, m->inside[sensor]);
    }
    return hp_code(bit[HP_U], bit[HP_V], bit[HP_W]);
}

/* Commands of the motor leads for the present code. */
static void set_commands(hp_machine *m)
{
    memset(m->command, 0, sizeof m->command);
    const hp_commutation_row *row = &m->drive->controller.table.row[m->code];
    if (m->cut_out || row->high < 0 || row->low < 0)
        return;
    m->command[m->wiring.phase[row->high]] = 1;
    m->command[m->wiring.phase[row->low]] = -1;
}

/* Share of the bus voltage at a leg that is driven high. */
static double applied_duty(const hp_machine *m, const double *y)
{
    return m->drive->controller.pwm == HP_PWM_AVERAGED ? y[HP_Y_DUTY] : 1.0;
}

/* Legs from commands and PWM, off leads by what conducts. */
static void set_legs(hp_machine *m, double *y)
{
    hp_pwm_kind pwm = m->drive->controller.pwm;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (m->drive->motor.lead_open[k])
            m->leg[k] = HP_LEG_BROKEN;
        else if (m->command[k] < 0)
            m->leg[k] = HP_LEG_LOW;
        else if (m->command[k] == 0)
            m->leg[k] = HP_LEG_FLOAT;
        else if (pwm == HP_PWM_AVERAGED || m->pwm_high)
            m->leg[k] = HP_LEG_HIGH;
        else
            m->leg[k] = pwm == HP_PWM_COMPLEMENTARY ? HP_LEG_LOW : HP_LEG_FLOAT;
    }
    double f[HP_PHASE_COUNT], e[HP_PHASE_COUNT];
    shapes(m, y[HP_Y_THETA], f);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        e[k] = m->ke * y[HP_Y_SPEED] * f[k];
    hp_circuit_settle(&m->circuit, m->leg, &y[HP_Y_CURRENT], e, applied_duty(m, y));
    m->law = hp_circuit_law_of(&m->circuit, m->leg);
}

/* ---- the instant ---------------------------------------------------------------------------- */

static double coulomb(const hp_machine *m, const hp_friction *friction, double sign, double speed)
{
    double smooth = m->drive->stand.smooth_rad_s;
    return friction->coulomb_nm * (smooth > 0.0 ? tanh(speed / smooth) : sign);
}

/* Friction of one slipping body; speeds in its own frame. */
static double friction_torque(const hp_machine *m, const hp_friction *friction, double sign,
                              double speed)
{
    return coulomb(m, friction, sign, speed) + friction->viscous_nm_s_rad * speed;
}

static void mechanics(const hp_machine *m, const double *y, hp_instant *now)
{
    const hp_stand_params *stand = &m->drive->stand;
    double w = y[HP_Y_SPEED], ww = y[HP_Y_WHEEL], g = m->gear;
    now->rotor_slope = now->wheel_slope = now->through = now->friction_power = 0.0;

    if (m->joint) {
        if (m->rotor_motion == HP_MOTION_STICK)
            return;
        double on_rotor = friction_torque(m, &stand->rotor, m->rotor_sign, w);
        double on_wheel = friction_torque(m, &stand->wheel, m->rotor_sign, w / g) + stand->load_nm;
        double net = now->rotor_torque - on_rotor - on_wheel / g;
        now->rotor_slope = net / m->inertia_joint;
        now->wheel_slope = now->rotor_slope / g;
        now->through = (m->inertia_wheel * now->wheel_slope + on_wheel) / g;
        now->friction_power = (on_rotor + on_wheel / g) * w;
        return;
    }
    if (m->rotor_motion == HP_MOTION_SLIP) {
        double loss = friction_torque(m, &stand->rotor, m->rotor_sign, w);
        now->rotor_slope = (now->rotor_torque - loss) / m->inertia_rotor;
        now->friction_power += loss * w;
    }
    if (m->wheel_motion == HP_MOTION_SLIP) {
        double loss = friction_torque(m, &stand->wheel, m->wheel_sign, ww) + stand->load_nm;
        now->wheel_slope = -loss / m->inertia_wheel;
        now->friction_power += loss * ww;
    }
}

/* 1 minus the larger share of its limit that a filtered current takes. */
static double margin(const hp_machine *m, const double *y)
{
    double battery = y[HP_Y_BATTERY_FILTER] * m->battery_share;
    double phase = y[HP_Y_PHASE_FILTER] * m->phase_share;
    return 1.0 - (battery > phase ? battery : phase);
}

static double duty_slope(const hp_machine *m, const double *y)
{
    if (m->duty_mode != HP_DUTY_MOVING)
        return 0.0;
    if (m->battery_share == 0.0 && m->phase_share == 0.0)
        return m->ramp;
    double pull = m->drive->controller.limiter_per_s * margin(m, y);
    return pull < m->ramp ? pull : m->ramp;
}

void hp_machine_instant(const hp_machine *m, const double y[HP_STATE_COUNT], hp_instant *now)
{
    double f[HP_PHASE_COUNT], w = y[HP_Y_SPEED], theta = y[HP_Y_THETA];
    const double *i = &y[HP_Y_CURRENT];
    shapes(m, theta, f);
    now->torque = 0.0;
    now->phase_current = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        now->backemf[k] = m->ke * w * f[k];
        now->torque += m->ke * f[k] * i[k];
        now->phase_current += 0.5 * fabs(i[k]);
    }
    now->rotor_torque = now->torque;
    if (m->drive->motor.cogging_nm > 0.0)
        now->rotor_torque += hp_motor_cogging(&m->drive->motor, theta);
    hp_circuit_apply(&m->law, i, now->backemf, applied_duty(m, y), &now->circuit);
    mechanics(m, y, now);
    now->duty_slope = duty_slope(m, y);
}

void hp_machine_slope(const hp_machine *m, const double y[HP_STATE_COUNT], const hp_instant *now,
                      double slope[HP_STATE_COUNT])
{
    const hp_circuit *c = &now->circuit;
    double w = y[HP_Y_SPEED], tau = m->drive->controller.filter_s;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        slope[HP_Y_CURRENT + k] = c->slope[k];
    slope[HP_Y_SPEED] = now->rotor_slope;
    slope[HP_Y_WHEEL] = now->wheel_slope;
    slope[HP_Y_THETA] = m->pole_pairs * w;
    slope[HP_Y_DUTY] = now->duty_slope;
    slope[HP_Y_BATTERY_FILTER] = (c->battery_current - y[HP_Y_BATTERY_FILTER]) / tau;
    slope[HP_Y_PHASE_FILTER] = (now->phase_current - y[HP_Y_PHASE_FILTER]) / tau;

    slope[HP_Q_CHARGE] = c->battery_current;
    slope[HP_Q_BUS] = c->bus_voltage * c->battery_current;
    slope[HP_Q_TORQUE] = now->torque;
    slope[HP_Q_TORQUE_SQUARE] = now->torque * now->torque;
    slope[HP_Q_SPEED] = w;
    slope[HP_Q_SPEED_SQUARE] = w * w;
    slope[HP_Q_WHEEL] = y[HP_Y_WHEEL];
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        slope[HP_Q_CURRENT_SQUARE + k] = y[HP_Y_CURRENT + k] * y[HP_Y_CURRENT + k];
    slope[HP_Q_FRICTION] = now->friction_power;
    slope[HP_Q_COPPER] = c->copper_power;
    slope[HP_Q_DIODE] = c->diode_power;
    slope[HP_Q_VOLTAGE] = c->bus_voltage;
    slope[HP_Q_DUTY] = y[HP_Y_DUTY];
}

/* ---- guards --------------------------------------------------------------------------------- */

/* Where a guard of sticking stands: a slack beyond the level by which settling decides, so that the
 * torque at the root found is beyond the level without doubt. */
static double breakaway(double level)
{
    return level * (1.0 + TORQUE_SLACK) + TORQUE_SLACK;
}

static void mechanics_guards(const hp_machine *m, const double *y, const hp_instant *now,
                             double *guard)
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

static double duty_guard(const hp_machine *m, const double *y)
{
    bool limits = m->battery_share > 0.0 || m->phase_share > 0.0;
    switch (m->duty_mode) {
    case HP_DUTY_MOVING: {
        double above = m->duty_target - y[HP_Y_DUTY] + DUTY_SLACK;
        double below = y[HP_Y_DUTY] + DUTY_SLACK;
        return above < below ? above : below;
    }
    case HP_DUTY_HELD: return limits && m->duty_target > 0.0 ? margin(m, y) + DUTY_SLACK : 1.0;
    case HP_DUTY_FLOOR: return DUTY_SLACK - margin(m, y);
    case HP_DUTY_OFF: break;
    }
    return 1.0;
}

void hp_machine_guards(const hp_machine *m, const double y[HP_STATE_COUNT], const hp_instant *now,
                       double guard[HP_GUARD_COUNT])
{
    guard[HP_GUARD_FORWARD] = m->bound_forward - y[HP_Y_THETA];
    guard[HP_GUARD_BACKWARD] = y[HP_Y_THETA] - m->bound_backward;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        guard[HP_GUARD_LEAD + k] =
            hp_circuit_guard(&m->circuit, m->leg, &y[HP_Y_CURRENT], &now->circuit, k);
    guard[HP_GUARD_PAIR] = hp_circuit_pair_guard(&m->circuit, m->leg, now->backemf, &now->circuit);
    mechanics_guards(m, y, now, guard);
    guard[HP_GUARD_DUTY] = duty_guard(m, y);
    double floor = m->drive->controller.undervoltage_v;
    guard[HP_GUARD_VOLTAGE] =
        floor > 0.0 && !m->cut_out
            ? m->circuit.emf_v - m->circuit.battery_ohm * y[HP_Y_BATTERY_FILTER] - floor
            : 1.0;
}

/* ---- angle ---------------------------------------------------------------------------------- */

/* Distance to the next corner of the trapezoid, INFINITY when the shape has none. */
static double corner_distance(const hp_machine *m, double theta, int direction)
{
    if (m->corner_count == 0)
        return INFINITY;
    int ahead = direction > 0 ? (m->segment + 1) % m->corner_count : m->segment;
    double d = hp_angle_wrap(direction > 0 ? m->corner[ahead] - theta : theta - m->corner[ahead]);
    return d > HP_TWO_PI - ANGLE_SLACK ? 0.0 : d;
}

static void set_bounds(hp_machine *m, double theta)
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

/* Crosses whatever boundary the rotor has reached; returns whether a corner was among them. */
static bool cross_angle(hp_machine *m, double *y, int direction)
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

/* ---- settling the mechanics ------------------------------------------------------------------ */

static double sign_of(double x)
{
    return x < 0.0 ? -1.0 : 1.0;
}

/* A single body at speed w under torque: rest or slip. Puts a crawling speed to zero. */
static void settle_body(double *w, double torque, double level, hp_motion *motion, double *sign)
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
        mechanics(m, y, &tried);
        m->joint = tried.through >= 0.0;
    }
    if (!m->joint && at_rest) {
        settle_body(&y[HP_Y_SPEED], pull, stand->rotor.breakaway_nm, &m->rotor_motion,
                    &m->rotor_sign);
        settle_body(&y[HP_Y_WHEEL], -stand->load_nm, stand->wheel.breakaway_nm, &m->wheel_motion,
                    &m->wheel_sign);
    }
}

/* Decides for the present state who sticks, who slips and whether the clutch holds. */
static void settle_mechanics(hp_machine *m, double *y)
{
    const hp_stand_params *stand = &m->drive->stand;
    bool sticks = stand->smooth_rad_s == 0.0;
    hp_instant now;
    hp_machine_instant(m, y, &now);

    if (!stand->clutch) {
        m->joint = true;
        m->rotor_motion = HP_MOTION_SLIP;
        m->rotor_sign = sign_of(y[HP_Y_SPEED]);
        if (sticks)
            settle_body(&y[HP_Y_SPEED], now.rotor_torque - stand->load_nm / m->gear,
                        m->friction_joint.breakaway_nm, &m->rotor_motion, &m->rotor_sign);
        y[HP_Y_WHEEL] = y[HP_Y_SPEED] / m->gear;
        return;
    }
    double gap = m->gear * y[HP_Y_WHEEL] - y[HP_Y_SPEED];
    if (gap <= 2.0 * SPEED_SLACK * m->gear) {
        y[HP_Y_SPEED] = m->gear * y[HP_Y_WHEEL];
        settle_contact(m, y, &now);
        return;
    }
    m->joint = false;
    m->rotor_motion = m->wheel_motion = HP_MOTION_SLIP;
    m->rotor_sign = sign_of(y[HP_Y_SPEED]);
    m->wheel_sign = sign_of(y[HP_Y_WHEEL]);
    if (!sticks)
        return;
    settle_body(&y[HP_Y_SPEED], now.rotor_torque, stand->rotor.breakaway_nm, &m->rotor_motion,
                &m->rotor_sign);
    settle_body(&y[HP_Y_WHEEL], -stand->load_nm, stand->wheel.breakaway_nm, &m->wheel_motion,
                &m->wheel_sign);
}

/* ---- events --------------------------------------------------------------------------------- */

static void settle_duty(hp_machine *m, double *y)
{
    if (m->duty_mode == HP_DUTY_OFF)
        return;
    double d = y[HP_Y_DUTY], room = margin(m, y);
    bool limits = m->battery_share > 0.0 || m->phase_share > 0.0;
    if (d >= m->duty_target - 2.0 * DUTY_SLACK &&
        (!limits || room > 0.0 || m->duty_target == 0.0)) {
        y[HP_Y_DUTY] = m->duty_target;
        m->duty_mode = HP_DUTY_HELD;
    } else if (d <= 2.0 * DUTY_SLACK && room < 0.0) {
        y[HP_Y_DUTY] = 0.0;
        m->duty_mode = HP_DUTY_FLOOR;
    } else {
        /* A limiter that has only just begun to pull lets the integrator's own error carry the duty
         * past its bound: back to it, or the guard would stay negative. */
        y[HP_Y_DUTY] = fmin(fmax(d, 0.0), m->duty_target);
        m->duty_mode = HP_DUTY_MOVING;
    }
}

void hp_machine_set_pwm(hp_machine *m, bool high, double y[HP_STATE_COUNT])
{
    m->pwm_high = high;
    set_legs(m, y);
    settle_mechanics(m, y);
}

void hp_machine_cut_out(hp_machine *m, double y[HP_STATE_COUNT])
{
    m->cut_out = true;
    m->duty_mode = HP_DUTY_OFF;
    set_commands(m);
    set_legs(m, y);
    settle_mechanics(m, y);
}

/* Records what happened; counts it. */
typedef struct tally {
    hp_trace *trace;
    double time;
    int count;
    bool failed;
} tally;

static void note(tally *t, hp_event_kind kind, int which)
{
    t->count++;
    if (t->trace && t->trace->keep_events &&
        hp_trace_add_event(t->trace, t->time, kind, which) != HP_OK)
        t->failed = true;
}

static void fire_mechanics(hp_machine *m, double *y, tally *t)
{
    hp_motion rotor = m->rotor_motion, wheel = m->wheel_motion;
    double rotor_sign = m->rotor_sign;
    bool joint = m->joint;
    settle_mechanics(m, y);
    if (joint != m->joint)
        note(t, HP_EVENT_CLUTCH, m->joint);
    /* A smoothed law has no turning point to speak of. */
    bool sticks = m->drive->stand.smooth_rad_s == 0.0;
    if (rotor != m->rotor_motion ||
        (sticks && m->rotor_motion == HP_MOTION_SLIP && rotor_sign != m->rotor_sign))
        note(t, m->rotor_motion == HP_MOTION_STICK ? HP_EVENT_STICK : HP_EVENT_SLIP, 0);
    bool changed = !joint && !m->joint && wheel != m->wheel_motion;
    /* A wheel that comes to rest under a resting rotor is joined to it at once. */
    bool rested =
        !joint && m->joint && wheel == HP_MOTION_SLIP && m->rotor_motion == HP_MOTION_STICK;
    if (changed || rested)
        note(t, rested || m->wheel_motion == HP_MOTION_STICK ? HP_EVENT_STICK : HP_EVENT_SLIP, 1);
}

int hp_machine_fire(hp_machine *m, double time, const int fired[HP_GUARD_COUNT],
                    double y[HP_STATE_COUNT], hp_trace *trace)
{
    tally t = {.trace = trace, .time = time};
    int code = m->code;

    if (fired[HP_GUARD_VOLTAGE]) {
        m->cut_out_voltage = true;
        hp_machine_cut_out(m, y);
        note(&t, HP_EVENT_CUTOUT, 1);
    }
    if (fired[HP_GUARD_DUTY]) {
        if (m->duty_mode == HP_DUTY_HELD)
            m->duty_mode = HP_DUTY_MOVING; /* a limiter takes over */
        else if (m->duty_mode == HP_DUTY_FLOOR)
            m->duty_mode = HP_DUTY_MOVING;
        else
            settle_duty(m, y);
        note(&t, HP_EVENT_DUTY, m->duty_mode);
    }
    if (fired[HP_GUARD_FORWARD] || fired[HP_GUARD_BACKWARD]) {
        if (cross_angle(m, y, fired[HP_GUARD_FORWARD] ? 1 : -1))
            note(&t, HP_EVENT_CORNER, m->segment);
        m->code = read_code(m);
        if (m->code != code) {
            note(&t, HP_EVENT_SENSOR, m->code);
            m->last_edge = time;
            set_commands(m);
        }
    }
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (!fired[HP_GUARD_LEAD + k])
            continue;
        if (m->leg[k] == HP_LEG_UPPER || m->leg[k] == HP_LEG_LOWER)
            y[HP_Y_CURRENT + k] = 0.0;
        note(&t, HP_EVENT_DIODE, k);
    }
    if (fired[HP_GUARD_PAIR])
        note(&t, HP_EVENT_DIODE, HP_PHASE_COUNT);

    set_legs(m, y);
    fire_mechanics(m, y, &t);
    set_bounds(m, y[HP_Y_THETA]);
    return t.failed ? -1 : t.count;
}

/* ---- start ---------------------------------------------------------------------------------- */

static void set_constants(hp_machine *m)
{
    const hp_drive *d = m->drive;
    const hp_controller_params *c = &d->controller;
    m->circuit = hp_circuit_params_of(d);
    m->ke = d->motor.ke;
    m->pole_pairs = d->motor.pole_pairs;
    m->gear = d->stand.gear_ratio;
    m->inertia_rotor = d->motor.rotor_inertia_kg_m2;
    m->inertia_wheel = d->stand.wheel_inertia_kg_m2;
    m->inertia_joint = hp_stand_inertia(&d->stand, m->inertia_rotor);
    m->friction_joint = hp_stand_friction(&d->stand);
    m->duty_target = hp_drive_duty(d);
    m->ramp = c->ramp_per_s > 0.0 ? c->ramp_per_s : INFINITY;
    m->battery_share = c->battery_limit_a > 0.0 ? 1.0 / c->battery_limit_a : 0.0;
    m->phase_share = c->phase_limit_a > 0.0 ? 1.0 / c->phase_limit_a : 0.0;
}

void hp_machine_start(hp_machine *m, const hp_drive *drive, const hp_wiring *wiring,
                      const hp_run_options *options, double y[HP_STATE_COUNT])
{
    memset(m, 0, sizeof *m);
    memset(y, 0, HP_STATE_COUNT * sizeof y[0]);
    m->drive = drive;
    m->wiring = *wiring;
    set_constants(m);

    double theta = hp_angle_wrap(options->start_angle);
    y[HP_Y_THETA] = theta;
    y[HP_Y_SPEED] = options->start_speed;
    y[HP_Y_WHEEL] = options->start_speed / m->gear;
    if (drive->stand.clutch && options->start_speed < 0.0)
        y[HP_Y_WHEEL] = 0.0;
    y[HP_Y_DUTY] = drive->controller.ramp_per_s > 0.0 ? fmin(options->start_duty, m->duty_target)
                                                      : m->duty_target;

    collect_corners(m);
    int segment = m->corner_count - 1;
    for (int c = 0; c < m->corner_count; c++)
        if (m->corner[c] <= theta)
            segment = c;
    set_segment(m, segment);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        m->inside[k] = hp_sensor_inside(&drive->sensors, k, theta);
    m->code = read_code(m);
    m->pwm_high = true;
    set_commands(m);
    settle_duty(m, y);
    set_legs(m, y);
    settle_mechanics(m, y);
    set_bounds(m, theta);
}

double hp_machine_energy(const hp_machine *m, const double y[HP_STATE_COUNT])
{
    const hp_motor_params *motor = &m->drive->motor;
    double energy = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        energy += 0.5 * motor->inductance_h * y[HP_Y_CURRENT + k] * y[HP_Y_CURRENT + k];
    energy += 0.5 * m->inertia_rotor * y[HP_Y_SPEED] * y[HP_Y_SPEED];
    energy += 0.5 * m->inertia_wheel * y[HP_Y_WHEEL] * y[HP_Y_WHEEL];
    /* The potential whose slope over the rotor's angle is minus the cogging torque. */
    if (motor->cogging_nm > 0.0)
        energy += motor->cogging_nm / (motor->cogging_order * m->pole_pairs) *
                  cos(motor->cogging_order * y[HP_Y_THETA] + motor->cogging_phase_rad);
    return energy;
}
