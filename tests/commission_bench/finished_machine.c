/* The hidden machine's physics: see the header. */
#include "finished_machine.h"

#include <math.h>
#include <string.h>

#define PI         3.14159265358979323846
#define COPPER_20  0.00393 /* [1/K] at 20 degrees C: IEC 60028 */
#define PHASES     3
#define TURNS      3 /* electrical turns of which the last is measured; L/R is far below one */
#define STEP_S     6e-6
#define EDGE_STEPS 50 /* steps in a period of the PWM */

/* ---- winding and bridge --------------------------------------------------------------------- */

/* Back-EMF of the phase whose axis lies at 0, amplitude of its fundamental 1. */
static double shape(const finished_machine *m, double angle)
{
    /* Fourier series of a trapezoid with flats of 120 degrees: sin(30 n) / n^2, over n = 1. */
    return -(sin(angle) + m->flatness * (2.0 / 9.0 * sin(3.0 * angle) + sin(5.0 * angle) / 25.0 -
                                         sin(7.0 * angle) / 49.0));
}

/* Outputs that are driven at this rotor angle. Each edge of a sensor moves with its placement. */
static void commutate(const finished_machine *m, double angle, int *high, int *low)
{
    static const int sensor[6] = {1, 0, 2, 1, 0, 2}; /* whose edge stands at 30, 90, 150, ... */
    /* from the edge at 30 degrees: V>U, W>U, W>V, U>V, U>W, V>W */
    static const int pair_high[6] = {1, 2, 2, 0, 0, 1}, pair_low[6] = {0, 0, 1, 1, 2, 2};
    int sector = 5;
    double least = 10.0;
    for (int k = 0; k < 6; k++) {
        double since =
            fmod(angle - (PI / 6.0 + k * PI / 3.0 + m->placement[sensor[k]]) + 6.0 * PI, 2.0 * PI);
        if (since < least) {
            least = since;
            sector = k;
        }
    }
    *high = pair_high[sector];
    *low = pair_low[sector];
}

typedef enum leg { LEG_HIGH, LEG_LOW, LEG_OFF } leg;

/* One step of the currents; what the battery gives meanwhile. `v_high`: of a high leg. */
static double step_currents(const finished_machine *m, const leg state[3], const double emf[3],
                            double v_high, double volts, double share, double dt, double i[3])
{
    double v[3], ohm = m->ohm_20 + m->switch_ohm, sum = 0.0, neutral = 0.0, battery = 0.0;
    bool joined[3];
    int count = 0;
    for (int k = 0; k < PHASES; k++) {
        joined[k] = state[k] != LEG_OFF || i[k] != 0.0;
        v[k] = state[k] == LEG_HIGH  ? v_high
               : state[k] == LEG_LOW ? 0.0
               : i[k] > 0.0          ? -m->diode_v
                                     : volts + m->diode_v;
        if (joined[k]) {
            sum += v[k] - emf[k];
            count++;
        }
    }
    if (count > 0)
        neutral = sum / count;
    /* A free lead that would leave the rails is caught by a diode. */
    for (int k = 0; k < PHASES && count > 0; k++) {
        double free_v = neutral + emf[k];
        if (joined[k] || (free_v <= volts + m->diode_v && free_v >= -m->diode_v))
            continue;
        v[k] = free_v > volts ? volts + m->diode_v : -m->diode_v;
        joined[k] = true;
        sum += v[k] - emf[k];
        count++;
        neutral = sum / count;
    }
    double before[3] = {i[0], i[1], i[2]}, rest = 0.0;
    for (int k = 0; k < PHASES; k++) {
        if (!joined[k] || count < 2) {
            i[k] = 0.0;
            continue;
        }
        i[k] += (v[k] - neutral - emf[k] - ohm * i[k]) / m->henry * dt;
        if (state[k] == LEG_OFF && before[k] != 0.0 && before[k] * i[k] <= 0.0) {
            i[k] = 0.0;
            joined[k] = false;
            count--;
        }
        rest += i[k];
    }
    for (int k = 0; k < PHASES && count > 0; k++)
        if (joined[k])
            i[k] -= rest / count;
    if (count < 2)
        i[0] = i[1] = i[2] = 0.0;
    for (int k = 0; k < PHASES; k++) {
        double mean = 0.5 * (before[k] + i[k]);
        if (state[k] == LEG_HIGH)
            battery += share * mean;
        else if (state[k] == LEG_OFF && mean < 0.0)
            battery += mean;
    }
    return battery;
}

finished_currents finished_currents_at(const finished_machine *m, double rotor_rad_s, double volts,
                                       double duty)
{
    const bool edges = m->one_sided && duty < 1.0;
    const double speed = m->pole_pairs * rotor_rad_s, turn_s = 2.0 * PI / speed;
    const double dt_most = edges ? 1.0 / m->pwm_hz / EDGE_STEPS : STEP_S;
    const int steps = (int)ceil(turn_s / dt_most);
    const double dt = turn_s / steps;
    double i[3] = {0.0, 0.0, 0.0};
    finished_currents mean = {0.0, 0.0};
    for (int n = 0; n < TURNS * steps; n++) {
        double angle = fmod((n + 0.5) * 2.0 * PI / steps, 2.0 * PI), emf[3], f[3];
        leg state[3] = {LEG_OFF, LEG_OFF, LEG_OFF};
        int high, low;
        commutate(m, angle, &high, &low);
        state[low] = LEG_LOW;
        state[high] = edges && fmod(n * dt * m->pwm_hz, 1.0) >= duty ? LEG_OFF : LEG_HIGH;
        double before = 0.0, after = 0.0;
        for (int k = 0; k < PHASES; k++) {
            f[k] = shape(m, angle - k * 2.0 * PI / 3.0);
            emf[k] = m->ke * rotor_rad_s * f[k];
            before += m->ke * f[k] * i[k];
        }
        double battery = step_currents(m, state, emf, edges ? volts : duty * volts, volts,
                                       edges ? 1.0 : duty, dt, i);
        for (int k = 0; k < PHASES; k++)
            after += m->ke * f[k] * i[k];
        if (n >= (TURNS - 1) * steps) {
            mean.torque += 0.5 * (before + after) / steps;
            mean.battery_a += battery / steps;
        }
    }
    return mean;
}

/* ---- mechanics ------------------------------------------------------------------------------ */

static double rotor_drag(const finished_machine *m, double rotor_rad_s)
{
    return m->rotor_coulomb + (m->rotor_viscous + m->braking) * rotor_rad_s +
           m->iron * pow(rotor_rad_s, m->iron_power);
}

static double wheel_drag(const finished_machine *m, double wheel_rad_s)
{
    return m->wheel_coulomb + m->wheel_viscous * wheel_rad_s + m->air * wheel_rad_s * wheel_rad_s;
}

double finished_drag(const finished_machine *m, double wheel_rad_s)
{
    return m->gear_ratio * rotor_drag(m, m->gear_ratio * wheel_rad_s) + wheel_drag(m, wheel_rad_s);
}

double finished_coast_drag(const finished_machine *m, double wheel_rad_s)
{
    return m->clutch ? wheel_drag(m, wheel_rad_s) : finished_drag(m, wheel_rad_s);
}

double finished_coast_inertia(const finished_machine *m)
{
    return m->wheel_inertia + (m->clutch ? 0.0 : m->rotor_inertia * m->gear_ratio * m->gear_ratio);
}

/* Torque that is left over at this speed of the wheel. */
static double surplus(const finished_machine *m, double wheel, double volts, double duty,
                      bool dragging, double *battery_a)
{
    finished_currents c = finished_currents_at(m, wheel * m->gear_ratio, volts, duty);
    *battery_a = c.battery_a;
    return c.torque * m->gear_ratio - (dragging ? finished_drag(m, wheel) : 0.0);
}

/* By the Illinois way of false position. */
finished_run finished_run_at(const finished_machine *m, double volts, double duty, bool dragging)
{
    double top = duty * volts / (1.65 * m->ke) / m->gear_ratio, battery_a = 0.0;
    double low = 0.6 * top, high = 1.25 * top;
    double at_low = surplus(m, low, volts, duty, dragging, &battery_a);
    double at_high = surplus(m, high, volts, duty, dragging, &battery_a);
    for (int k = 0; k < 20 && at_high > 0.0; k++) {
        high *= 1.2;
        at_high = surplus(m, high, volts, duty, dragging, &battery_a);
    }
    for (int k = 0; k < 20 && at_low < 0.0; k++) {
        low *= 0.7;
        at_low = surplus(m, low, volts, duty, dragging, &battery_a);
    }
    double mid = low;
    int side = 0;
    for (int k = 0; k < 40 && high - low > 1e-5 * high; k++) {
        mid = (low * at_high - high * at_low) / (at_high - at_low);
        double at = surplus(m, mid, volts, duty, dragging, &battery_a);
        if (fabs(at) < 5e-4)
            break;
        if (at > 0.0) {
            low = mid;
            at_low = at;
            at_high *= side == 1 ? 0.5 : 1.0;
            side = 1;
        } else {
            high = mid;
            at_high = at;
            at_low *= side == -1 ? 0.5 : 1.0;
            side = -1;
        }
    }
    return (finished_run){mid, battery_a + m->idle_a + m->running_w / volts, volts};
}

finished_run finished_run_on_pack(const finished_machine *m, double duty)
{
    finished_run run = finished_run_at(m, m->emf, duty, true);
    for (int k = 0; k < 2; k++) /* a volt or less: it settles at once */
        run = finished_run_at(m, finished_pack_v(m, run.battery_a, 10.0, true), duty, true);
    return run;
}

double finished_coast(const finished_machine *m, double from_rad_s, double seconds, double *stop_s)
{
    const double dt = 0.002, inertia = finished_coast_inertia(m);
    double w = from_rad_s, at = NAN, t = 0.0;
    for (; w > 0.0 && t < 600.0; t += dt) {
        if (isnan(at) && t >= seconds)
            at = w;
        double mid = w - 0.5 * dt * finished_coast_drag(m, w) / inertia;
        /* Near its end a little more holds it: breakaway, as the speed goes to nothing. */
        double end = m->breakaway * exp(-(mid / 0.5) * (mid / 0.5));
        w -= dt * (finished_coast_drag(m, fmax(mid, 0.0)) + end) / inertia;
    }
    if (stop_s)
        *stop_s = t;
    return isnan(at) ? 0.0 : at;
}

/* ---- pack ----------------------------------------------------------------------------------- */

double finished_pack_v(const finished_machine *m, double amperes, double seconds, bool at_leads)
{
    double ohm = m->pack_ohm + m->slow_ohm * (1.0 - exp(-seconds / m->slow_s));
    return m->emf - amperes * (ohm + (at_leads ? m->lead_ohm : 0.0)) -
           m->unloaded_per_s * amperes / 10.0 * seconds;
}

/* ---- heat ----------------------------------------------------------------------------------- */

finished_heat finished_heat_at_rest(const finished_machine *m)
{
    finished_heat h;
    for (int k = 0; k < HEAT_NODES; k++)
        h.celsius[k] = m->room_c;
    return h;
}

static double warm_ohm(const finished_machine *m, double share, double celsius)
{
    return share * m->ohm_20 * (1.0 + COPPER_20 * (celsius - 20.0));
}

double finished_heat_ohm(const finished_machine *m, const finished_heat *h)
{
    return 2.0 * (warm_ohm(m, m->slot_share, h->celsius[HEAT_SLOTS_2]) +
                  warm_ohm(m, 1.0 - m->slot_share, h->celsius[HEAT_ENDS_2]));
}

static void flow(const finished_machine *m, const double t[], const double fed[], double out[])
{
    for (int k = 0; k < HEAT_NODES; k++) {
        double watt = fed[k] + m->air_w_per_k[k] * (m->room_c - t[k]);
        for (int n = 0; n < HEAT_NODES; n++)
            watt += m->heat_w_per_k[k][n] * (t[n] - t[k]);
        out[k] = watt / m->heat_j_per_k[k];
    }
}

void finished_heat_on(const finished_machine *m, finished_heat *h, double amperes, double seconds)
{
    const int steps = (int)ceil(seconds / 0.1) > 0 ? (int)ceil(seconds / 0.1) : 1;
    const double dt = seconds / steps, squared = amperes * amperes;
    for (int s = 0; s < steps; s++) {
        double fed[HEAT_NODES] = {0}, slope[HEAT_NODES], mid[HEAT_NODES];
        fed[HEAT_SLOTS_2] = 2.0 * squared * warm_ohm(m, m->slot_share, h->celsius[HEAT_SLOTS_2]);
        fed[HEAT_ENDS_2] =
            2.0 * squared * warm_ohm(m, 1.0 - m->slot_share, h->celsius[HEAT_ENDS_2]);
        flow(m, h->celsius, fed, slope);
        for (int k = 0; k < HEAT_NODES; k++)
            mid[k] = h->celsius[k] + 0.5 * dt * slope[k];
        flow(m, mid, fed, slope);
        for (int k = 0; k < HEAT_NODES; k++)
            h->celsius[k] += dt * slope[k];
    }
}

double finished_copper_j_per_k(const finished_machine *m)
{
    double sum = 0.0;
    for (int k = HEAT_SLOTS_2; k <= HEAT_ENDS_1; k++)
        sum += m->heat_j_per_k[k];
    return sum;
}

/* All phases alike: slots and end turns are two places. With a watt fed by their shares and the
 * core held, two balances: a (Ts - 0) + c (Ts - Te) = s; b (Te - 0) + c (Te - Ts) = 1 - s. The mean
 * that the resistance shows is weighed by the shares. */
double finished_copper_k_per_w(const finished_machine *m)
{
    double a = m->heat_w_per_k[HEAT_SLOTS_2][HEAT_CORE] + m->heat_w_per_k[HEAT_SLOTS_1][HEAT_CORE];
    double b = m->heat_w_per_k[HEAT_ENDS_2][HEAT_CORE] + m->heat_w_per_k[HEAT_ENDS_1][HEAT_CORE];
    double c =
        m->heat_w_per_k[HEAT_SLOTS_2][HEAT_ENDS_2] + m->heat_w_per_k[HEAT_SLOTS_1][HEAT_ENDS_1];
    double s = m->slot_share, det = (a + c) * (b + c) - c * c;
    double slots = (s * (b + c) + c * (1.0 - s)) / det;
    double ends = ((a + c) * (1.0 - s) + c * s) / det;
    return s * slots + (1.0 - s) * ends;
}
