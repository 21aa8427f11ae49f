/*
 * Winding, bridge, battery and controller law of the reference; equations in reference_parts.h.
 */
#include "reference_parts.h"

#include <math.h>

static ref_friction friction_of(const hp_friction *friction)
{
    ref_friction f = {friction->coulomb_nm, friction->breakaway_nm, friction->viscous_nm_s_rad};
    return f;
}

ref_plant ref_plant_make(const hp_drive *drive, const hp_wiring *wiring)
{
    const hp_motor_params *motor = &drive->motor;
    const hp_controller_params *controller = &drive->controller;
    const hp_stand_params *stand = &drive->stand;
    double g = stand->gear_ratio;
    ref_plant plant = {
        .drive = drive,
        .wiring = *wiring,
        .resistance =
            motor->resistance_ohm * (1.0 + motor->copper_per_k * (motor->winding_c - 20.0)),
        .inductance = motor->inductance_h,
        .ke = motor->ke,
        .pole_pairs = motor->pole_pairs,
        .switch_ohm = controller->switch_resistance_ohm,
        .diode_v = controller->diode_drop_v,
        .emf = drive->supply.emf_v,
        .battery_ohm = drive->supply.resistance_ohm,
        .filter_s = controller->filter_s,
        .target = controller->throttle * controller->speed_cap,
        .ratio = g,
        .load = stand->load_nm,
        .smooth = stand->smooth_rad_s,
        .clutch = stand->clutch,
        .rotor_inertia = motor->rotor_inertia_kg_m2,
        .wheel_inertia = stand->wheel_inertia_kg_m2,
        /* Referred to rotor speed: a speed coefficient at the wheel counts 1/g^2. */
        .joint_inertia = motor->rotor_inertia_kg_m2 + stand->wheel_inertia_kg_m2 / (g * g),
        .rotor = friction_of(&stand->rotor),
        .wheel = friction_of(&stand->wheel),
        .real_pwm = controller->pwm != HP_PWM_AVERAGED,
        .pwm_period = 1.0 / controller->pwm_hz,
    };
    return plant;
}

/* x moved into [-pi, pi). */
static double wrap(double x)
{
    return x - HP_TWO_PI * floor((x + HP_PI) / HP_TWO_PI);
}

double ref_shape(const hp_backemf *shape, double x)
{
    if (shape->kind == HP_BACKEMF_SINUSOIDAL)
        return -sin(x);
    if (shape->kind == HP_BACKEMF_FOURIER) {
        double sum = 0.0;
        for (int n = 1; n <= shape->harmonics; n++)
            sum += shape->cosine[n] * cos(n * x) + shape->sine[n] * sin(n * x);
        return shape->scale * sum;
    }
    /* The trapezoid is a clipped triangle: distance from the nearest zero crossing (0 falling,
     * pi rising) over the half width of a flank. */
    double y = wrap(x);
    double to_zero = y < 0.0 ? fmin(-y, y + HP_PI) : fmin(y, HP_PI - y);
    double flank = 0.5 * (HP_PI - shape->flat_rad);
    double size = fmin(1.0, to_zero / flank);
    return y < 0.0 ? size : -size;
}

/* Share of the bus voltage at which a lead sits. */
static double bus_share(const ref_plant *plant, ref_path path, double duty)
{
    if (path == PATH_HIGH)
        return plant->real_pwm ? 1.0 : duty;
    return path == PATH_UPPER ? 1.0 : 0.0;
}

/* Terminal voltage of a lead that has a conducting path. */
static double path_voltage(const ref_plant *plant, ref_path path, double duty, double bus,
                           double current)
{
    switch (path) {
    case PATH_HIGH: return bus_share(plant, path, duty) * bus - plant->switch_ohm * current;
    case PATH_LOW: return -plant->switch_ohm * current;
    case PATH_UPPER: return bus + plant->diode_v;
    case PATH_LOWER: return -plant->diode_v;
    case PATH_FLOAT:
    case PATH_OPEN: break;
    }
    return NAN;
}

static bool conducts(ref_path path)
{
    return path != PATH_FLOAT && path != PATH_OPEN;
}

ref_view ref_look(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT])
{
    const hp_motor_params *motor = &plant->drive->motor;
    ref_view view = {.star = NAN};
    double shape_current = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        view.shape[k] = ref_shape(&motor->backemf, x[X_THETA] - k * HP_TWO_PI / 3.0);
        view.backemf[k] = plant->ke * x[X_SPEED] * view.shape[k];
        shape_current += view.shape[k] * x[k];
        view.battery += bus_share(plant, mode->path[k], x[X_DUTY]) * x[k];
    }
    view.torque = plant->ke * shape_current;
    view.shaft = view.torque + motor->cogging_nm * sin(motor->cogging_order * x[X_THETA] +
                                                       motor->cogging_phase_rad);
    view.bus = plant->emf - plant->battery_ohm * view.battery;

    double sum = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        view.terminal[k] = path_voltage(plant, mode->path[k], x[X_DUTY], view.bus, x[k]);
        if (!conducts(mode->path[k]))
            continue;
        sum += view.terminal[k] - plant->resistance * x[k] - view.backemf[k];
        view.conducting++;
    }
    if (view.conducting > 0)
        view.star = sum / view.conducting;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (!conducts(mode->path[k]))
            view.terminal[k] = view.star + view.backemf[k];
    return view;
}

double ref_limiter_rate(const ref_plant *plant, const double x[X_COUNT])
{
    const hp_controller_params *controller = &plant->drive->controller;
    if (controller->battery_limit_a <= 0.0 && controller->phase_limit_a <= 0.0)
        return INFINITY;
    double ratio = 0.0;
    if (controller->battery_limit_a > 0.0)
        ratio = fmax(ratio, x[X_BATTERY_FILTER] / controller->battery_limit_a);
    if (controller->phase_limit_a > 0.0)
        ratio = fmax(ratio, x[X_PHASE_FILTER] / controller->phase_limit_a);
    return controller->limiter_per_s * (1.0 - ratio);
}

double ref_duty_rate(const ref_plant *plant, const double x[X_COUNT])
{
    double ramp = plant->drive->controller.ramp_per_s;
    return fmin(ramp > 0.0 ? ramp : INFINITY, ref_limiter_rate(plant, x));
}

void ref_derivative(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT],
                    double d[X_COUNT])
{
    ref_view view = ref_look(plant, mode, x);
    double magnitudes = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        d[k] = 0.0;
        if (view.conducting >= 2 && conducts(mode->path[k]))
            d[k] = (view.terminal[k] - plant->resistance * x[k] - view.backemf[k] - view.star) /
                   plant->inductance;
        magnitudes += fabs(x[k]);
    }
    d[X_THETA] = plant->pole_pairs * x[X_SPEED];
    d[X_DUTY] = 0.0;
    if (ref_duty_moves(mode))
        d[X_DUTY] = mode->falling
                        ? fmin(-plant->drive->controller.ramp_per_s, ref_limiter_rate(plant, x))
                        : ref_duty_rate(plant, x);
    d[X_BATTERY_FILTER] = (view.battery - x[X_BATTERY_FILTER]) / plant->filter_s;
    d[X_PHASE_FILTER] = (0.5 * magnitudes - x[X_PHASE_FILTER]) / plant->filter_s;
    ref_accelerate(plant, mode, x, view.shaft, d);
}

double ref_sensor_margin(const ref_plant *plant, const ref_mode *mode, int phase, double theta)
{
    const hp_sensors_params *sensors = &plant->drive->sensors;
    /* A flag holds within 90 degrees plus hysteresis of the middle of its own half turn, so the
     * same rule serves both values of the flag. */
    double middle = phase * HP_TWO_PI / 3.0 + sensors->placement_rad[phase];
    if (!mode->inside[phase])
        middle += HP_PI;
    return 0.5 * HP_PI + sensors->hysteresis_rad - fabs(wrap(theta - middle));
}

/* With no lead fixed the star point is free: two leads conduct, one through each rail's diode, once
 * their line back-EMF exceeds the bus and both drops. */
static double pair_excess(const ref_plant *plant, const ref_mode *mode, const ref_view *view,
                          int *upper, int *lower)
{
    *upper = *lower = -1;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (mode->path[k] != PATH_FLOAT)
            continue;
        if (*upper < 0 || view->backemf[k] > view->backemf[*upper])
            *upper = k;
        if (*lower < 0 || view->backemf[k] < view->backemf[*lower])
            *lower = k;
    }
    if (*upper < 0 || *upper == *lower)
        return -INFINITY;
    return view->backemf[*upper] - view->backemf[*lower] - view->bus - 2.0 * plant->diode_v;
}

double ref_float_excess(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT],
                        int *lead, int *pair)
{
    ref_view view = ref_look(plant, mode, x);
    *lead = *pair = -1;
    if (view.conducting == 0)
        return pair_excess(plant, mode, &view, lead, pair);
    double excess = -INFINITY;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (mode->path[k] != PATH_FLOAT)
            continue;
        double above = view.terminal[k] - (view.bus + plant->diode_v);
        double below = -plant->diode_v - view.terminal[k];
        if (fmax(above, below) > excess) {
            excess = fmax(above, below);
            *lead = k;
        }
    }
    return excess;
}
