/* The hidden bench's own simulator: see the header. */
#include "bench_world.h"

#include <math.h>
#include <string.h>

#define PI   3.14159265358979323846
#define TURN (2.0 * PI)

/* Longest step: a hundredth of the shortest sector at ordinary speeds. */
#define STEP 4e-5
/* A switching moment is found to this [s]. */
#define MOMENT 2e-8
/* Currents below this are none [A]; speeds below this are rest [rad/s]. */
#define NO_CURRENT 1e-7
#define NO_SPEED   1e-9
/* Time constant of what is felt [s]. */
#define FELT_TIME 5e-4

enum {
    X_I = 0, /* three currents into the motor */
    X_W = 3, /* rotor, mechanical */
    X_WHEEL,
    X_ANGLE,
    X_DUTY,
    X_BATTERY_F, /* the controller's two filters */
    X_PHASE_F,
    X_BUS,
    X_HEAT, /* filament temperature over that of the room */
    X_WHEEL_TURN,
    X_CHARGE, /* integrals from here on */
    X_TORQUE,
    X_TORQUE2,
    X_COPPER,
    X_FELT, /* torque as a hand feels it, without what beats faster than some 300 Hz */
    X_FELT1,
    X_FELT2,
    X_COUNT
};

typedef enum leg { LEG_OPEN, LEG_IDLE, LEG_HIGH, LEG_LOW, LEG_TO_PLUS, LEG_TO_MINUS, LEG_SINE } leg;

typedef struct world {
    const world_machine *m;
    const world_joined *joined;
    double x[X_COUNT], t;
    leg leg[3];
    int want[3]; /* what the controller commands: 1 high, -1 low, 0 off */
    bool inside[3], pulse, off, stuck, engaged;
    double sign;    /* of rotor friction */
    double restart; /* after a brown-out [s]; 0: none */
    double pulse_begin, last_edge, sector_begin, sector_time;
    int field, step; /* sine: present sixth; +1, -1 forward or backward, 0: not known */
    double edge[6];  /* when the last six sectors began */
    int steady;      /* sectors in a row in the same direction */
    double share[3]; /* sine: duty of each lead */
} world;

static double wrapped(double a)
{
    return a - TURN * floor((a + PI) / TURN);
}

static double axis_of(int k)
{
    return k * TURN / 3.0;
}

static double shape(const world_machine *m, double x)
{
    if (m->sinusoidal)
        return -sin(x);
    /* Distance from the zero at 0 or pi, up to a quarter turn; flat beyond the flank. */
    double flank = PI / 2.0 - m->flat / 2.0, d = wrapped(x);
    d = (d > PI / 2.0 ? PI - d : d < -PI / 2.0 ? -PI - d : d) / flank;
    return d > 1.0 ? -1.0 : d < -1.0 ? 1.0 : -d;
}

int world_code(const world_machine *m, double angle)
{
    int code = 0;
    for (int k = 0; k < 3; k++) {
        int bit = fabs(wrapped(angle - axis_of(k) - m->placement[k])) < PI / 2.0;
        code = 2 * code + (m->stuck[k] >= 0 ? m->stuck[k] : bit != (m->inverted == k + 1));
    }
    return code;
}

/* The field's direction of a pair of outputs in sixths, 0: 30 degrees. */
static int sixth_of(int high, int low)
{
    double x = cos(axis_of(high)) - cos(axis_of(low)), y = sin(axis_of(high)) - sin(axis_of(low));
    int sixth = (int)lround((atan2(y, x) - PI / 6.0) / (PI / 3.0));
    return (sixth + 6) % 6;
}

static int code_heard(const world *w)
{
    int code = 0;
    for (int j = 0; j < 3; j++) {
        int k = w->joined->sensor[j];
        code = 2 * code +
               (w->m->stuck[k] >= 0 ? w->m->stuck[k] : w->inside[k] != (w->m->inverted == k + 1));
    }
    return code;
}

/* ---- the circuit ----------------------------------------------------------------------------- */

typedef struct circuit {
    double bus, star, emf[3], volts[3], bridge; /* bridge: current drawn from the bus */
    double torque;                              /* electromagnetic, on the rotor */
} circuit;

static bool follows_bus(const world_machine *m)
{
    return m->feed != WORLD_BATTERY;
}

static double lamp_ohm(const world_machine *m, double heat)
{
    /* Tungsten: resistance grows with temperature to the power 1.2; hot 2700 K, cold 293 K. */
    double hot = m->lamp_volt * m->lamp_volt / m->lamp_watt;
    return hot * pow((293.0 + heat) / 2700.0, 1.2);
}

/* What comes out of the supply at this voltage of the bus. */
static double supplied(const world_machine *m, double bus, double heat)
{
    if (m->feed == WORLD_BENCH_SUPPLY)
        return fmin(fmax(0.0, (m->emf - bus) / m->emf_ohm), fmax(0.0, m->limit_a - m->idle_a));
    double difference = m->emf - bus;
    if (difference > 0.0)
        return difference / (m->emf_ohm + lamp_ohm(m, heat));
    return difference < -0.7 ? (difference + 0.7) / m->emf_ohm : 0.0;
}

static circuit solve(const world *w, const double *x)
{
    const world_machine *m = w->m;
    circuit c = {.bridge = 0.0};
    for (int k = 0; k < 3; k++) {
        double share = w->leg[k] == LEG_HIGH      ? (m->pwm == WORLD_AVERAGED ? x[X_DUTY] : 1.0)
                       : w->leg[k] == LEG_SINE    ? w->share[k]
                       : w->leg[k] == LEG_TO_PLUS ? 1.0
                                                  : 0.0;
        c.bridge += share * x[X_I + k];
        double factor = m->ke * shape(m, x[X_ANGLE] - axis_of(k));
        c.emf[k] = factor * x[X_W];
        c.torque += factor * x[X_I + k];
    }
    c.bus = follows_bus(m) ? x[X_BUS] : m->emf - m->emf_ohm * (c.bridge + m->idle_a);
    int joined = 0;
    for (int k = 0; k < 3; k++) {
        double i = x[X_I + k], drop = m->switch_ohm * i;
        switch (w->leg[k]) {
        case LEG_HIGH:
            c.volts[k] = (m->pwm == WORLD_AVERAGED ? x[X_DUTY] * c.bus : c.bus) - drop;
            break;
        case LEG_SINE: c.volts[k] = w->share[k] * c.bus - drop; break;
        case LEG_LOW: c.volts[k] = -drop; break;
        case LEG_TO_PLUS: c.volts[k] = c.bus + m->diode_drop; break;
        case LEG_TO_MINUS: c.volts[k] = -m->diode_drop; break;
        default: continue;
        }
        c.star += c.volts[k] - m->resistance * i - c.emf[k];
        joined++;
    }
    c.star = joined ? c.star / joined : NAN;
    return c;
}

static double torque_of(const world *w, const double *x)
{
    double sum = 0.0;
    for (int k = 0; k < 3; k++)
        sum += shape(w->m, x[X_ANGLE] - axis_of(k)) * x[X_I + k];
    return w->m->ke * sum;
}

static double cogging_of(const world_machine *m, const double *x)
{
    return m->cogging * sin(m->cogging_order * x[X_ANGLE] + m->cogging_phase);
}

/* ---- motion ---------------------------------------------------------------------------------- */

static double wheel_friction(const world_machine *m, double speed)
{
    return speed > NO_SPEED    ? m->wheel.coulomb + m->wheel.viscous * speed
           : speed < -NO_SPEED ? -m->wheel.coulomb + m->wheel.viscous * speed
                               : 0.0;
}

/* Acceleration of the rotor while it moves, and the torque with which it pushes the wheel. */
static double rotor_slope(const world *w, const double *x, double torque, double *push)
{
    const world_machine *m = w->m;
    double g = m->gear_ratio;
    torque += cogging_of(m, x);
    double against = w->sign * m->rotor.coulomb + m->rotor.viscous * x[X_W];
    if (!w->engaged) {
        *push = 0.0;
        return (torque - against) / m->rotor_inertia;
    }
    double wheel = w->sign * m->wheel.coulomb + m->wheel.viscous * x[X_W] / g;
    double slope = (torque - against - wheel / g) / (m->rotor_inertia + m->wheel_inertia / (g * g));
    *push = m->wheel_inertia * slope / g + wheel;
    return slope;
}

/* What the rotor must overcome to start in the direction of this torque. */
static double breakaway_of(const world *w, double torque)
{
    const world_machine *m = w->m;
    bool wheel_too = !m->clutch || (torque > 0.0 && w->x[X_WHEEL] <= NO_SPEED);
    return m->rotor.breakaway + (wheel_too ? m->wheel.breakaway / m->gear_ratio : 0.0);
}

static void settle_motion(world *w)
{
    const world_machine *m = w->m;
    double torque = torque_of(w, w->x) + cogging_of(m, w->x);
    w->x[X_W] = 0.0;
    w->sign = torque > 0.0 ? 1.0 : -1.0;
    w->stuck = fabs(torque) <= breakaway_of(w, torque);
    if (!m->clutch)
        w->engaged = true;
    else
        w->engaged = torque > 0.0 && w->x[X_WHEEL] <= NO_SPEED;
}

/* ---- the controller -------------------------------------------------------------------------- */

static void release(world *w, int k)
{
    double rest = w->x[X_I + k];
    int others = 0;
    w->leg[k] = w->m->open[k] ? LEG_OPEN : LEG_IDLE;
    w->x[X_I + k] = 0.0;
    for (int j = 0; j < 3; j++)
        others += w->leg[j] > LEG_IDLE;
    if (others < 2) {
        memset(w->x + X_I, 0, 3 * sizeof *w->x);
        return;
    }
    for (int j = 0; j < 3; j++)
        if (w->leg[j] > LEG_IDLE)
            w->x[X_I + j] += rest / others;
}

/* How far a lead that carries nothing is inside the rails [V]; negative: a diode begins to. */
static double inside_rails(const world *w, const circuit *c, int k, bool *plus)
{
    double volts = c->star + c->emf[k];
    double above = c->bus + w->m->diode_drop - volts, below = volts + w->m->diode_drop;
    *plus = above < below;
    return fmin(above, below);
}

static void settle_idle(world *w)
{
    for (int k = 0; k < 3; k++) {
        bool plus;
        circuit c = solve(w, w->x);
        if (w->leg[k] != LEG_IDLE || isnan(c.star) || inside_rails(w, &c, k, &plus) >= 0.0)
            continue;
        w->leg[k] = plus ? LEG_TO_PLUS : LEG_TO_MINUS;
    }
    /* All idle: the most opposed pair conducts when its back-EMF exceeds the bus. */
    circuit c = solve(w, w->x);
    if (!isnan(c.star))
        return;
    int most = -1, least = -1;
    for (int k = 0; k < 3; k++) {
        if (w->leg[k] != LEG_IDLE)
            continue;
        most = most < 0 || c.emf[k] > c.emf[most] ? k : most;
        least = least < 0 || c.emf[k] < c.emf[least] ? k : least;
    }
    if (most >= 0 && c.emf[most] - c.emf[least] > c.bus + 2.0 * w->m->diode_drop) {
        w->leg[most] = LEG_TO_PLUS;
        w->leg[least] = LEG_TO_MINUS;
    }
}

/* Puts the commands on the legs; what is off goes on conducting through a diode. */
static void command(world *w)
{
    for (int k = 0; k < 3; k++) {
        bool on = w->want[k] < 0 || (w->want[k] > 0 && w->pulse);
        if (w->m->open[k])
            w->leg[k] = LEG_OPEN;
        else if (on && w->m->sine && !w->off)
            w->leg[k] = LEG_SINE;
        else if (on)
            w->leg[k] = w->want[k] > 0 ? LEG_HIGH : LEG_LOW;
        else if (fabs(w->x[X_I + k]) <= NO_CURRENT)
            release(w, k);
        else
            w->leg[k] = w->x[X_I + k] > 0.0 ? LEG_TO_MINUS : LEG_TO_PLUS;
    }
    settle_idle(w);
}

static void hear(world *w)
{
    const world_machine *m = w->m;
    int code = code_heard(w), high = m->high[code], low = m->low[code];
    bool drives = high >= 0 && !w->off && !m->silent;
    memset(w->want, 0, sizeof w->want);
    if (drives && m->sine) {
        int field = sixth_of(high, low), moved = (field - w->field + 6) % 6;
        int way = moved == 1 ? 1 : moved == 5 ? -1 : 0;
        w->steady = way != 0 && way == w->step ? w->steady + 1 : 0;
        w->step = way;
        /* Over a whole turn of six sectors, since sensors are never quite in their places. */
        w->sector_time = w->steady > 6 ? (w->t - w->edge[5]) / 6.0 : w->t - w->sector_begin;
        memmove(w->edge + 1, w->edge, 5 * sizeof *w->edge);
        w->edge[0] = w->t;
        w->sector_begin = w->t;
        w->field = field;
        for (int k = 0; k < 3; k++)
            w->want[k] = -1; /* all driven */
    } else if (drives) {
        w->want[w->joined->phase[high]] = 1;
        w->want[w->joined->phase[low]] = -1;
    }
    command(w);
}

/* Sine drive: between two edges the field goes on at the pace of the last sector, at most a sixth
 * of a turn; standing or uncertain, it stays in the sector's middle. */
static void set_shares(world *w, double t, double duty)
{
    double ahead = 0.0;
    if (w->step != 0 && w->sector_time < 0.1)
        ahead = w->step * (fmin(1.0, (t - w->sector_begin) / w->sector_time) - 0.5);
    double field = PI / 6.0 + (w->field + ahead) * PI / 3.0;
    for (int j = 0; j < 3; j++)
        w->share[w->joined->phase[j]] =
            0.5 + 0.5 * duty * (2.0 / sqrt(3.0)) * cos(field - axis_of(j));
    for (int k = 0; k < 3; k++)
        w->share[k] = fmin(1.0, fmax(0.0, w->share[k]));
}

/* ---- one step -------------------------------------------------------------------------------- */

static void slope(world *w, double t, const double *x, double *d)
{
    const world_machine *m = w->m;
    if (m->sine)
        set_shares(w, t, x[X_DUTY]);
    circuit c = solve(w, x);
    double magnitude = 0.0, square = 0.0;
    for (int k = 0; k < 3; k++) {
        double i = x[X_I + k];
        d[X_I + k] = w->leg[k] > LEG_IDLE
                         ? (c.volts[k] - c.star - m->resistance * i - c.emf[k]) / m->inductance
                         : 0.0;
        magnitude += fabs(i);
        square += i * i;
    }
    double push, torque = c.torque;
    d[X_W] = w->stuck ? 0.0 : rotor_slope(w, x, torque, &push);
    d[X_ANGLE] = w->stuck ? 0.0 : m->pole_pairs * x[X_W];
    d[X_WHEEL] =
        w->engaged ? d[X_W] / m->gear_ratio : -wheel_friction(m, x[X_WHEEL]) / m->wheel_inertia;
    d[X_WHEEL_TURN] = x[X_WHEEL];
    /* With one-sided edges the battery feels pulses, which the filter evens. */
    double margin = 1.0;
    if (m->battery_limit > 0.0)
        margin = fmin(margin, 1.0 - x[X_BATTERY_F] / m->battery_limit);
    if (m->phase_limit > 0.0)
        margin = fmin(margin, 1.0 - x[X_PHASE_F] / m->phase_limit);
    double rate = fmin(m->ramp, m->limiter * margin);
    bool held = (x[X_DUTY] >= m->duty && rate > 0.0) || (x[X_DUTY] <= 0.0 && rate < 0.0);
    d[X_DUTY] = held || w->off ? 0.0 : rate;
    d[X_BATTERY_F] = (c.bridge - x[X_BATTERY_F]) / m->filter;
    d[X_PHASE_F] = (0.5 * magnitude - x[X_PHASE_F]) / m->filter;
    double in = c.bridge;
    d[X_BUS] = d[X_HEAT] = 0.0;
    if (follows_bus(m)) {
        in = supplied(m, x[X_BUS], x[X_HEAT]);
        d[X_BUS] = (in - c.bridge) / m->bus_farad;
    }
    if (m->feed == WORLD_LAMP) {
        /* Radiates its rated watts at 2700 K; hot within a tenth of a second. */
        double kelvin = 293.0 + x[X_HEAT], lamp_a = fmax(0.0, in);
        double out = m->lamp_watt * (pow(kelvin, 4.0) - pow(293.0, 4.0)) / pow(2700.0, 4.0);
        d[X_HEAT] = (lamp_a * lamp_a * lamp_ohm(m, x[X_HEAT]) - out) / (m->lamp_watt * 4e-5);
    }
    d[X_CHARGE] = in + m->idle_a;
    d[X_TORQUE] = torque;
    d[X_TORQUE2] = torque * torque;
    d[X_COPPER] = square;
    d[X_FELT] = (torque - x[X_FELT]) / FELT_TIME;
    d[X_FELT1] = x[X_FELT];
    d[X_FELT2] = x[X_FELT] * x[X_FELT];
}

static void advance(world *w, double h, double *out)
{
    double d[4][X_COUNT], x[X_COUNT];
    slope(w, w->t, w->x, d[0]);
    for (int k = 0; k < X_COUNT; k++)
        x[k] = w->x[k] + 0.5 * h * d[0][k];
    slope(w, w->t + 0.5 * h, x, d[1]);
    for (int k = 0; k < X_COUNT; k++)
        x[k] = w->x[k] + 0.5 * h * d[1][k];
    slope(w, w->t + 0.5 * h, x, d[2]);
    for (int k = 0; k < X_COUNT; k++)
        x[k] = w->x[k] + h * d[2][k];
    slope(w, w->t + h, x, d[3]);
    for (int k = 0; k < X_COUNT; k++)
        out[k] = w->x[k] + h / 6.0 * (d[0][k] + 2.0 * d[1][k] + 2.0 * d[2][k] + d[3][k]);
}

enum { GUARD_SENSOR = 0, GUARD_LEG = 3, GUARD_MOTION = 6, GUARD_CLUTCH = 7, GUARDS };

/* All are positive, or rounding below nothing, while the mode holds. */
static void guards(const world *w, const double *x, double *g)
{
    const world_machine *m = w->m;
    circuit c = {.star = NAN};
    bool idle = false, plus;
    for (int k = 0; k < 3; k++)
        idle = idle || w->leg[k] == LEG_IDLE;
    if (idle)
        c = solve(w, x);
    for (int k = 0; k < 3; k++) {
        double off = fabs(wrapped(x[X_ANGLE] - axis_of(k) - m->placement[k])) - PI / 2.0;
        g[GUARD_SENSOR + k] = w->inside[k] ? m->hysteresis - off : m->hysteresis + off;
        double *leg = &g[GUARD_LEG + k];
        *leg = 1.0;
        if (w->leg[k] == LEG_TO_PLUS)
            *leg = -x[X_I + k] + NO_CURRENT;
        else if (w->leg[k] == LEG_TO_MINUS)
            *leg = x[X_I + k] + NO_CURRENT;
        else if (w->leg[k] == LEG_IDLE && !isnan(c.star))
            *leg = inside_rails(w, &c, k, &plus) + 1e-9;
    }
    g[GUARD_MOTION] = w->sign * x[X_W];
    if (w->stuck) {
        double torque = torque_of(w, x) + cogging_of(m, x);
        g[GUARD_MOTION] = breakaway_of(w, torque) - fabs(torque);
    }
    g[GUARD_CLUTCH] = 1.0;
    if (m->clutch && !w->engaged)
        g[GUARD_CLUTCH] = x[X_WHEEL] * m->gear_ratio - x[X_W] + NO_SPEED;
    else if (m->clutch && !w->stuck && x[X_WHEEL] > NO_SPEED)
        rotor_slope(w, x, torque_of(w, x), &g[GUARD_CLUTCH]);
}

static int first_bad(const double *g)
{
    for (int k = 0; k < GUARDS; k++)
        if (g[k] < 0.0)
            return k;
    return -1;
}

static void fire(world *w, int which)
{
    if (which < GUARD_LEG) {
        w->inside[which] = !w->inside[which];
        w->last_edge = w->t;
        if (w->m->stuck[which] < 0)
            hear(w);
    } else if (which < GUARD_MOTION) {
        int k = which - GUARD_LEG;
        if (w->leg[k] != LEG_IDLE)
            release(w, k);
        settle_idle(w);
    } else if (which == GUARD_MOTION) {
        if (w->stuck) {
            double torque = torque_of(w, w->x) + cogging_of(w->m, w->x);
            w->stuck = false;
            w->sign = torque > 0.0 ? 1.0 : -1.0;
            w->engaged = !w->m->clutch || (torque > 0.0 && w->x[X_WHEEL] <= NO_SPEED);
        } else {
            settle_motion(w);
        }
    } else if (w->engaged) {
        w->engaged = false;
    } else {
        w->engaged = true;
        w->x[X_WHEEL] = w->x[X_W] / w->m->gear_ratio;
    }
}

/* Goes on by h, or to the first thing that switches before. */
static void step(world *w, double h)
{
    double x[X_COUNT], g[GUARDS];
    advance(w, h, x);
    guards(w, x, g);
    int bad = first_bad(g);
    if (bad >= 0) {
        double good = 0.0, late = h;
        while (late - good > MOMENT) {
            double middle = 0.5 * (good + late);
            advance(w, middle, x);
            guards(w, x, g);
            int found = first_bad(g);
            bad = found >= 0 ? found : bad;
            *(found >= 0 ? &late : &good) = middle;
        }
        h = late;
        advance(w, h, x);
        guards(w, x, g);
        int found = first_bad(g);
        bad = found >= 0 ? found : bad;
    }
    memcpy(w->x, x, sizeof x);
    w->t += h;
    w->x[X_DUTY] = fmin(fmax(w->x[X_DUTY], 0.0), w->m->duty);
    if (!w->engaged && w->x[X_WHEEL] < 0.0)
        w->x[X_WHEEL] = 0.0;
    if (bad >= 0)
        fire(w, bad);
}

/* ---- a run ----------------------------------------------------------------------------------- */

static world begin(const world_machine *m, const world_joined *joined, double angle)
{
    world w = {.m = m, .joined = joined, .pulse = true, .sign = 1.0};
    w.x[X_ANGLE] = angle;
    w.x[X_BUS] = m->emf;
    w.sector_time = 1e9;
    for (int k = 0; k < 3; k++)
        w.inside[k] = fabs(wrapped(angle - axis_of(k) - m->placement[k])) < PI / 2.0;
    int code = code_heard(&w);
    w.field = m->high[code] >= 0 ? sixth_of(m->high[code], m->low[code]) : 0;
    hear(&w);
    settle_motion(&w);
    return w;
}

/* Real edges: the pulse begins anew each period and ends after the duty's share. */
static double next_pulse(world *w)
{
    double period = 1.0 / w->m->pwm_hz, end = w->pulse_begin + w->x[X_DUTY] * period;
    if (w->pulse && w->t >= end - 1e-12 && w->x[X_DUTY] < 1.0) {
        w->pulse = false;
        command(w);
    }
    if (w->t >= w->pulse_begin + period - 1e-12) {
        w->pulse_begin += period;
        w->pulse = w->x[X_DUTY] > 0.0;
        command(w);
        end = w->pulse_begin + w->x[X_DUTY] * period;
    }
    return w->pulse && w->x[X_DUTY] < 1.0 ? end : w->pulse_begin + period;
}

typedef struct mark {
    double t, x[X_COUNT];
} mark;

static mark mark_of(const world *w)
{
    mark m = {.t = w->t};
    memcpy(m.x, w->x, sizeof m.x);
    return m;
}

/* A supply at its limit lets the bus fall: the controller's logic goes out, and comes back with a
 * closed throttle's duty once the bus has recovered. */
static bool brown_out(world *w)
{
    if (!w->off && w->m->brownout_v > 0.0 && w->x[X_BUS] < w->m->brownout_v) {
        w->off = true;
        w->restart = w->t + 0.4;
        w->x[X_DUTY] = 0.0;
        hear(w);
        return true;
    }
    if (w->off && w->restart > 0.0 && w->t > w->restart) {
        w->off = false;
        w->restart = 0.0;
        w->last_edge = w->t;
        hear(w);
    }
    return false;
}

static double rms_of(const mark *from, const mark *until, int first, int second)
{
    double span = until->t - from->t, mean = (until->x[first] - from->x[first]) / span;
    return sqrt(fmax(0.0, (until->x[second] - from->x[second]) / span - mean * mean));
}

/* What the last part showed, over whole electrical turns where there are some. */
static void measure(const world *w, const mark *from, const mark *until, const mark *plain,
                    world_run *run)
{
    double span = until->t - from->t;
    run->window = span;
    run->window_turn = w->x[X_ANGLE] - plain->x[X_ANGLE];
    run->speed = (until->x[X_ANGLE] - from->x[X_ANGLE]) / w->m->pole_pairs / span;
    run->wheel_speed = (until->x[X_WHEEL_TURN] - from->x[X_WHEEL_TURN]) / span;
    run->meter_a = (until->x[X_CHARGE] - from->x[X_CHARGE]) / span;
    run->torque_rms = rms_of(from, until, X_TORQUE, X_TORQUE2);
    run->felt_rms = rms_of(from, until, X_FELT1, X_FELT2);
    run->phase_rms = sqrt((until->x[X_COPPER] - from->x[X_COPPER]) / span / 3.0);
}

/* Two windows one after the other that differ by no more than a meter would show. */
static bool alike(const mark *a, const mark *b, const mark *c)
{
    double first = b->t - a->t, second = c->t - b->t;
    static const int what[] = {X_ANGLE, X_CHARGE, X_WHEEL_TURN};
    for (int k = 0; k < 3; k++) {
        double one = (b->x[what[k]] - a->x[what[k]]) / first;
        double two = (c->x[what[k]] - b->x[what[k]]) / second;
        if (fabs(one - two) > 0.004 * fabs(two) + (what[k] == X_CHARGE ? 0.005 : 0.05))
            return false;
    }
    return true;
}

world_run world_spin(const world_machine *m, const world_joined *joined, double angle,
                     double seconds, double window, bool calm)
{
    world w = begin(m, joined, angle);
    world_run run = {.seconds = seconds};
    mark begin_mark = mark_of(&w), before = begin_mark, plain = begin_mark;
    mark whole = begin_mark, last_whole = begin_mark;
    int turns = 0;
    double next_window = seconds - window, low = angle, high = angle, limited = 0.0;
    bool real = m->pwm == WORLD_ONE_SIDED && !m->sine;
    if (calm)
        next_window = window;
    for (;;) {
        double until = fmin(w.t + STEP, real ? next_pulse(&w) : w.t + STEP);
        double angle_before = w.x[X_ANGLE], t_before = w.t;
        if (until > w.t)
            step(&w, until - w.t);
        if (m->feed == WORLD_BENCH_SUPPLY &&
            supplied(m, w.x[X_BUS], 0.0) >= 0.999 * (m->limit_a - m->idle_a))
            limited += w.t - t_before;
        if (follows_bus(m) && brown_out(&w) && run.brown_outs++ == 0) {
            /* From now on it goes off and on: all of that is one window. */
            plain = mark_of(&w);
            low = high = w.x[X_ANGLE];
            limited = 0.0;
            turns = 0;
            calm = false;
            next_window = seconds;
        }
        run.bus_max = fmax(run.bus_max, w.x[X_BUS]);
        low = fmin(low, w.x[X_ANGLE]);
        high = fmax(high, w.x[X_ANGLE]);
        if (floor(angle_before / TURN) != floor(w.x[X_ANGLE] / TURN)) {
            last_whole = mark_of(&w);
            if (turns++ == 0)
                whole = last_whole;
        }
        if ((m->stall_cutout > 0.0 && w.t - w.last_edge > m->stall_cutout) ||
            (m->cut_after > 0.0 && w.t > m->cut_after) ||
            (m->trip_a > 0.0 && w.x[X_BATTERY_F] > m->trip_a))
            run.cut_out = true;
        bool over = w.t >= seconds || run.cut_out;
        if (!over && w.t < next_window)
            continue;
        mark now = mark_of(&w);
        if (over || (calm && before.t > 0.0 && alike(&before, &plain, &now))) {
            if (now.t - plain.t < 0.1)
                plain = before; /* cut short: what was seen before counts too */
            bool turned = turns > 1 && fabs(last_whole.x[X_ANGLE] - whole.x[X_ANGLE]) > PI;
            mark end = now;
            measure(&w, turned ? &whole : &plain, turned ? &last_whole : &end, &plain, &run);
            run.swing = high - low;
            run.limited = limited / (w.t - plain.t);
            break;
        }
        before = plain;
        plain = now;
        low = high = w.x[X_ANGLE];
        limited = 0.0;
        turns = 0;
        next_window = calm && w.t + 1.5 * window < seconds ? w.t + window : seconds;
    }
    run.seconds = w.t;
    run.net_turn = w.x[X_ANGLE] - angle;
    run.wheel_turn = w.x[X_WHEEL_TURN];
    run.at_rest = w.stuck;
    run.lamp_share = m->feed == WORLD_LAMP
                         ? (pow(293.0 + w.x[X_HEAT], 4.0) - pow(293.0, 4.0)) / pow(2700.0, 4.0)
                         : 0.0;
    return run;
}

bool world_right(const world_machine *m, const world_joined *joined)
{
    for (int degree = 0; degree < 360; degree += 5) {
        double angle = degree * PI / 180.0 + 0.01;
        int code = 0;
        for (int j = 0; j < 3; j++)
            code = 2 * code + ((fabs(wrapped(angle - axis_of(joined->sensor[j]))) < PI / 2.0) !=
                               (m->inverted == joined->sensor[j] + 1));
        if (m->high[code] < 0)
            return false;
        double field =
            PI / 6.0 +
            PI / 3.0 * sixth_of(joined->phase[m->high[code]], joined->phase[m->low[code]]);
        double lead = wrapped(field - angle) * 180.0 / PI;
        if (lead < 59.0 || lead > 121.0)
            return false;
    }
    return true;
}
