/*
 * Figures of the reference: integrals over the last part of the run, kept also at every crossing of
 * a whole electrical turn, and where every swing of a shivering rotor ends, so that means can be
 * taken over whole turns or whole swings.
 */
#include "reference_parts.h"

#include <math.h>
#include <string.h>

static double magnetic_energy(const ref_plant *plant, const double x[X_COUNT])
{
    return 0.5 * plant->inductance * (x[0] * x[0] + x[1] * x[1] + x[2] * x[2]);
}

static double kinetic_energy(const ref_plant *plant, const double x[X_COUNT])
{
    return 0.5 * plant->rotor_inertia * x[X_SPEED] * x[X_SPEED] +
           0.5 * plant->wheel_inertia * x[X_WHEEL] * x[X_WHEEL];
}

void ref_meter_aim(ref_meter *meter, double theta)
{
    meter->up.next = floor(theta / HP_TWO_PI) + 1.0;
    meter->down.next = ceil(theta / HP_TWO_PI) - 1.0;
}

void ref_meter_begin(ref_meter *meter, const ref_plant *plant, double t, const double x[X_COUNT])
{
    memset(meter, 0, sizeof *meter);
    meter->speed_origin = x[X_SPEED];
    meter->begin_time = t;
    meter->begin_theta = meter->theta_min = meter->theta_max = x[X_THETA];
    meter->begin_magnetic = magnetic_energy(plant, x);
    meter->begin_kinetic = kinetic_energy(plant, x);
    meter->run = (ref_extremes){INFINITY, -INFINITY, 0.0};
    ref_meter_aim(meter, x[X_THETA]);
}

/* Power that friction and load take from the bodies. */
static double friction_power(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT])
{
    double w = x[X_SPEED], wheel = x[X_WHEEL];
    double load = plant->load * wheel;
    int way = mode->linked ? mode->rotor_way : mode->wheel_way;
    return load + w * ref_friction_torque(plant, &plant->rotor, w, mode->rotor_way) +
           wheel * ref_friction_torque(plant, &plant->wheel, wheel, way);
}

void ref_rates(const ref_plant *plant, const ref_mode *mode, const ref_meter *meter,
               const double x[X_COUNT], const ref_view *view, double q[Q_COUNT])
{
    double from_origin = x[X_SPEED] - meter->speed_origin;
    double copper = 0.0, diode = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        bool on = mode->path[k] == PATH_HIGH || mode->path[k] == PATH_LOW;
        copper += (plant->resistance + (on ? plant->switch_ohm : 0.0)) * x[k] * x[k];
        if (mode->path[k] == PATH_UPPER || mode->path[k] == PATH_LOWER)
            diode += plant->diode_v * fabs(x[k]);
        q[Q_SQUARE_U + k] = x[k] * x[k];
    }
    q[Q_SPEED] = x[X_SPEED];
    q[Q_SPEED_SQUARE] = from_origin * from_origin;
    q[Q_WHEEL] = x[X_WHEEL];
    q[Q_TORQUE] = view->torque;
    q[Q_TORQUE_SQUARE] = view->torque * view->torque;
    q[Q_BATTERY] = view->battery;
    q[Q_BATTERY_POWER] = view->battery * view->bus;
    q[Q_FRICTION] = friction_power(plant, mode, x);
    q[Q_COPPER] = copper;
    q[Q_DIODE] = diode;
    q[Q_BUS] = view->bus;
    q[Q_DUTY] = x[X_DUTY];
    /* Current vector along the axes at 0, 120, 240 degrees, turned into the rotor's frame. */
    double alpha = x[0] - 0.5 * (x[1] + x[2]);
    double beta = 0.5 * sqrt(3.0) * (x[1] - x[2]);
    double c = cos(x[X_THETA]), s = sin(x[X_THETA]);
    q[Q_FIELD_RE] = alpha * c + beta * s;
    q[Q_FIELD_IM] = beta * c - alpha * s;
    q[Q_SHAFT_POWER] = view->torque * x[X_SPEED];
    q[Q_COG_POWER] = (view->shaft - view->torque) * x[X_SPEED];
}

void ref_meter_extremes(ref_meter *meter, const double x[X_COUNT], double torque)
{
    double peak = fmax(fabs(x[0]), fmax(fabs(x[1]), fabs(x[2])));
    meter->run.torque_min = fmin(meter->run.torque_min, torque);
    meter->run.torque_max = fmax(meter->run.torque_max, torque);
    meter->run.peak = fmax(meter->run.peak, peak);
    meter->theta_min = fmin(meter->theta_min, x[X_THETA]);
    meter->theta_max = fmax(meter->theta_max, x[X_THETA]);
}

void ref_meter_cross(ref_meter *meter, ref_turns *turns, double t, const double sum[Q_COUNT])
{
    turns->next += turns == &meter->up ? 1.0 : -1.0;
    if (!turns->begun) {
        turns->begun = true;
        turns->first_time = t;
        memcpy(turns->first, sum, sizeof turns->first);
        return;
    }
    turns->count++;
    turns->last_time = t;
    memcpy(turns->last, sum, sizeof turns->last);
}

void ref_meter_swing(ref_meter *meter, int sense, double t, const double sum[Q_COUNT])
{
    ref_swings *swings = &meter->swings[sense > 0 ? 1 : 0];
    if (swings->seen++ == 0) {
        swings->first_time = t;
        memcpy(swings->first, sum, sizeof swings->first);
    }
    swings->last_time = t;
    memcpy(swings->last, sum, sizeof swings->last);
}

int ref_swing_ended(const ref_plant *plant, const ref_mode *mode, int *way)
{
    if (plant->smooth > 0.0 || mode->rotor_stuck || mode->rotor_way == 0)
        return 0;
    int sense = *way == -mode->rotor_way ? mode->rotor_way : 0;
    *way = mode->rotor_way;
    return sense;
}

/* Swings count where at most two of them, on average, would have fitted after the last. */
static bool shivers(const ref_swings *swings, double t)
{
    double span = swings->last_time - swings->first_time;
    return swings->seen > 1 && (t - swings->last_time) * (swings->seen - 1) <= 2.0 * span;
}

/* Balance of electrical and of mechanical energy over the last part, relative to what passed. */
static double balance(const ref_meter *meter, const ref_plant *plant, const double x[X_COUNT])
{
    const double *sum = meter->sum;
    double electrical = sum[Q_BATTERY_POWER] - sum[Q_COPPER] - sum[Q_DIODE] - sum[Q_SHAFT_POWER] -
                        (magnetic_energy(plant, x) - meter->begin_magnetic);
    double mechanical = sum[Q_SHAFT_POWER] + sum[Q_COG_POWER] - sum[Q_FRICTION] -
                        (kinetic_energy(plant, x) - meter->begin_kinetic);
    double passed = fabs(sum[Q_BATTERY_POWER]) + fabs(sum[Q_SHAFT_POWER]) + sum[Q_COPPER] +
                    fabs(sum[Q_FRICTION]);
    return passed > 0.0 ? fmax(fabs(electrical), fabs(mechanical)) / passed : 0.0;
}

/* Rms over a turn of the three shapes about their mean: ke times it is the torque that three
 * currents of one ampere, rms together, can give at the most. */
static double able_per_ampere(const hp_backemf *backemf)
{
    const int points = 7200;
    double sum = 0.0;
    for (int n = 0; n < points; n++) {
        double f[HP_PHASE_COUNT], mean = 0.0;
        for (int k = 0; k < HP_PHASE_COUNT; k++) {
            f[k] = ref_shape(backemf, (n + 0.5) * HP_TWO_PI / points - k * HP_TWO_PI / 3.0);
            mean += f[k] / HP_PHASE_COUNT;
        }
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            sum += (f[k] - mean) * (f[k] - mean) / points;
    }
    return sqrt(sum);
}

static void set_means(const double mean[Q_COUNT], const ref_meter *meter, const ref_plant *plant,
                      hp_figures *f)
{
    double from_origin = mean[Q_SPEED] - meter->speed_origin;
    f->speed = mean[Q_SPEED];
    f->speed_sd = sqrt(fmax(0.0, mean[Q_SPEED_SQUARE] - from_origin * from_origin));
    f->wheel_speed = mean[Q_WHEEL];
    f->torque_mean = mean[Q_TORQUE];
    f->torque_rms = sqrt(fmax(0.0, mean[Q_TORQUE_SQUARE] - mean[Q_TORQUE] * mean[Q_TORQUE]));
    f->battery_current = mean[Q_BATTERY];
    f->battery_power = mean[Q_BATTERY_POWER];
    f->friction_power = mean[Q_FRICTION];
    f->copper_power = mean[Q_COPPER];
    f->diode_power = mean[Q_DIODE];
    f->phase_rms = sqrt(fmax(mean[Q_SQUARE_U], fmax(mean[Q_SQUARE_V], mean[Q_SQUARE_W])));
    f->torque_able = plant->ke * able_per_ampere(&plant->drive->motor.backemf) *
                     sqrt(mean[Q_SQUARE_U] + mean[Q_SQUARE_V] + mean[Q_SQUARE_W]);
    f->bus_voltage = mean[Q_BUS];
    f->duty = mean[Q_DUTY];
    f->lead_mean = atan2(mean[Q_FIELD_IM], mean[Q_FIELD_RE]);
}

void ref_meter_finish(const ref_meter *meter, const ref_plant *plant, const ref_mode *mode,
                      const hp_run_options *options, double t, const double x[X_COUNT],
                      hp_figures *figures)
{
    hp_figures f = *figures;
    f.start_angle = options->start_angle;
    f.seconds = t;
    f.net_turn = x[X_THETA] - options->start_angle;
    f.cut_out = mode->cut_out;
    f.cut_out_voltage = mode->cut_out_voltage;
    f.at_rest = mode->rotor_stuck;
    *figures = f;
    if (meter == NULL)
        return;
    const ref_turns *turns = meter->up.count >= meter->down.count ? &meter->up : &meter->down;
    const ref_swings *swings = meter->swings, *other = swings + 1;
    if (other->last_time - other->first_time > swings->last_time - swings->first_time)
        swings = other;
    double mean[Q_COUNT];
    bool whole = turns->count > 0, to_and_fro = !whole && shivers(swings, t);
    f.window_s = whole        ? turns->last_time - turns->first_time
                 : to_and_fro ? swings->last_time - swings->first_time
                              : t - meter->begin_time;
    f.window_swings = to_and_fro ? swings->seen - 1 : 0;
    for (int k = 0; k < Q_COUNT; k++)
        mean[k] = (whole        ? turns->last[k] - turns->first[k]
                   : to_and_fro ? swings->last[k] - swings->first[k]
                                : meter->sum[k]) /
                  f.window_s;
    set_means(mean, meter, plant, &f);
    f.torque_min = meter->run.torque_min;
    f.torque_max = meter->run.torque_max;
    f.phase_peak = meter->run.peak;
    f.window_turns = turns->count;
    f.window_turn = x[X_THETA] - meter->begin_theta;
    f.wheel_turn = plant->ratio * plant->pole_pairs * meter->sum[Q_WHEEL];
    f.swing = meter->theta_max - meter->theta_min;
    f.limited = meter->limited;
    f.balance_error = balance(meter, plant, x);
    *figures = f;
}
