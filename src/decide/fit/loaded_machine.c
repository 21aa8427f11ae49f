/* The machine under load: see the header. */
#include "decide/fit/loaded_machine.h"

#include "model/backemf.h"
#include "model/road.h"

#include <math.h>
#include <string.h>

hp_drive hp_fit_ridden(const hp_drive *drive, double emf_v, double throttle)
{
    hp_drive ridden = *drive;
    ridden.supply.emf_v = emf_v;
    ridden.controller.throttle = throttle;
    ridden.controller.ramp_per_s = 0.0;
    ridden.controller.undervoltage_v = 0.0;
    ridden.stand.load_nm = 0.0;
    return ridden;
}

double hp_fit_constant(const hp_drive *drive)
{
    return hp_drive_duty(drive) * drive->supply.emf_v / hp_drive_ideal_speed(drive);
}

double hp_fit_constant_peak(const hp_drive *drive)
{
    double most = 0.0;
    for (int k = 0; k < 720; k++) {
        double theta = k * 0.5 * HP_DEG;
        double pair = hp_backemf_value(&drive->motor.backemf, theta) -
                      hp_backemf_value(&drive->motor.backemf, theta - HP_PHASE_STEP);
        most = fmax(most, fabs(pair));
    }
    return most * drive->motor.ke;
}

static double path_ohm(const hp_drive *drive)
{
    return 2.0 * (hp_motor_resistance(&drive->motor) + drive->controller.switch_resistance_ohm);
}

/* With a duty d the battery gives d I and the winding takes I = d U / (R + d^2 R_battery). */
double hp_fit_stalled_phase(const hp_drive *drive, double throttle)
{
    double battery = hp_drive_stalled_battery_a(drive, throttle);
    double sagged = drive->supply.emf_v - battery * drive->supply.resistance_ohm;
    return battery > 0.0 ? battery / sqrt(battery * path_ohm(drive) / sagged) : 0.0;
}

double hp_fit_dc_speed(const hp_drive *ridden, double torque_nm)
{
    const hp_stand_params *stand = &ridden->stand;
    double g = stand->gear_ratio, k = hp_fit_constant(ridden);
    double steady = (torque_nm + stand->wheel.coulomb_nm) / g + stand->rotor.coulomb_nm;
    double viscous = stand->rotor.viscous_nm_s_rad + stand->wheel.viscous_nm_s_rad / (g * g);
    double duty = hp_drive_duty(ridden);
    double ohm = path_ohm(ridden) + duty * duty * ridden->supply.resistance_ohm;
    /* duty U = k w + ohm (steady + viscous w) / k */
    return (duty * ridden->supply.emf_v - ohm * steady / k) / (k + ohm * viscous / k) / g;
}

/* ---- one run --------------------------------------------------------------------------------- */

/* chosen: the slow limiter settles within it; most runs end far sooner. */
#define RUN_SECONDS 8.0

static hp_fit_point point_of(const hp_drive *ridden, double torque_nm, const hp_figures *f)
{
    const hp_motor_params *motor = &ridden->motor;
    double hot = hp_motor_resistance(motor);
    double winding = f->copper_power * hot / (hot + ridden->controller.switch_resistance_ohm);
    hp_fit_point p = {
        .runs = f->status == HP_OK && f->wheel_speed > 0.0 && f->window_turns > 0 && !f->ran_away &&
                !f->cut_out,
        .torque_nm = torque_nm,
        .wheel_rad_s = f->wheel_speed,
        .battery_a = f->battery_current,
        .battery_w = f->battery_power,
        .wheel_w = torque_nm * f->wheel_speed,
        .phase_rms_a = f->phase_rms,
        .phase_peak_a = f->phase_peak,
        .duty = f->duty,
        .copper_w = winding / (1.0 + motor->copper_per_k * (motor->winding_c - 20.0)),
        .limited = f->duty < 0.98 * f->duty_asked,
    };
    p.hub_w = fmax(0.0, f->friction_power - p.wheel_w);
    return p;
}

hp_fit_point hp_fit_point_run(hp_engine *engine, const hp_drive *ridden, const hp_wiring *wiring,
                              double torque_nm)
{
    hp_drive loaded = *ridden;
    hp_run_options run = hp_run_options_default();
    hp_figures figures;
    loaded.stand.load_nm = torque_nm;
    run.seconds = RUN_SECONDS;
    run.settle_s = 0.6 * RUN_SECONDS;
    run.calm_share = HP_SURVEY_CALM_SHARE;
    run.tolerance = 1e-6;
    run.start_angle = hp_rest_angle(0);
    run.start_speed = 0.7 * fmax(0.0, hp_fit_dc_speed(ridden, torque_nm)) * loaded.stand.gear_ratio;
    memset(&figures, 0, sizeof figures);
    hp_engine_run(engine, &loaded, wiring, &run, NULL, &figures, NULL);
    return point_of(ridden, torque_nm, &figures);
}

/* ---- curves ---------------------------------------------------------------------------------- */

/* Closer together where the road will meet it: at small torques. */
double hp_fit_torque_of(int k, double most_nm)
{
    double x = (double)k / (HP_FIT_POINTS - 1);
    return most_nm * x * sqrt(x);
}

static double mix(double a, double b, double share)
{
    return a + share * (b - a);
}

hp_fit_point hp_fit_between(const hp_fit_curve *curve, double torque_nm)
{
    int k = 1;
    while (k < HP_FIT_POINTS - 1 && curve->point[k].torque_nm < torque_nm)
        k++;
    const hp_fit_point *a = &curve->point[k - 1], *b = &curve->point[k];
    double share = (torque_nm - a->torque_nm) / (b->torque_nm - a->torque_nm);
    hp_fit_point p = share < 0.5 ? *a : *b;
    p.runs = a->runs && b->runs && share <= 1.0;
    p.torque_nm = torque_nm;
    p.wheel_rad_s = mix(a->wheel_rad_s, b->wheel_rad_s, share);
    p.battery_a = mix(a->battery_a, b->battery_a, share);
    p.battery_w = mix(a->battery_w, b->battery_w, share);
    p.wheel_w = torque_nm * p.wheel_rad_s;
    p.phase_rms_a = mix(a->phase_rms_a, b->phase_rms_a, share);
    p.phase_peak_a = mix(a->phase_peak_a, b->phase_peak_a, share);
    p.duty = mix(a->duty, b->duty, share);
    p.copper_w = mix(a->copper_w, b->copper_w, share);
    p.hub_w = mix(a->hub_w, b->hub_w, share);
    return p;
}

/* ---- where curve and road meet --------------------------------------------------------------- */

static double radius_of(const hp_vehicle *vehicle)
{
    return vehicle->wheel_m / HP_TWO_PI;
}

/* What the road asks of a running wheel less what it gives [N m]: falls as the torque rises. */
static double lacking(const hp_fit_point *p, const hp_vehicle *vehicle, double slope, double scale)
{
    double r = radius_of(vehicle), speed = p->runs ? p->wheel_rad_s * r : 0.0;
    return scale * r * hp_road_force_at(&vehicle->road, speed, slope).total - p->torque_nm;
}

/* Below this a machine does not climb: a walker's pace is three times it (chosen) [m/s]. */
#define SLOWEST 0.5

double hp_fit_meeting_torque(const hp_fit_curve *curve, const hp_vehicle *vehicle, double slope,
                             double scale)
{
    double r = radius_of(vehicle);
    double low = curve->point[0].torque_nm, high = low;
    if (lacking(&curve->point[0], vehicle, slope, scale) <= 0.0)
        return 0.0;
    for (int k = 1; k < HP_FIT_POINTS && curve->point[k].runs; k++) {
        high = curve->point[k].torque_nm;
        if (lacking(&curve->point[k], vehicle, slope, scale) <= 0.0)
            break;
        low = high;
    }
    if (!(high > low))
        return (double)NAN;
    for (int k = 0; k < 50; k++) {
        double middle = 0.5 * (low + high);
        hp_fit_point p = hp_fit_between(curve, middle);
        *(lacking(&p, vehicle, slope, scale) > 0.0 ? &low : &high) = middle;
    }
    return hp_fit_between(curve, high).wheel_rad_s * r < SLOWEST ? (double)NAN : high;
}

/* Speed by the curve where the road's force is `scale` times what is thought. */
static double speed_by_curve(const hp_fit_curve *curve, const hp_vehicle *vehicle, double slope,
                             double scale)
{
    double torque = hp_fit_meeting_torque(curve, vehicle, slope, scale);
    return isnan(torque) ? 0.0 : hp_fit_between(curve, torque).wheel_rad_s * radius_of(vehicle);
}

/* Regula falsi in the Illinois manner (Dowell & Jarratt, BIT 11, 1971; from memory): the end that
 * stays counts half. */
typedef struct bracket {
    double low, high, at_low, at_high;
    int side;
} bracket;

static double bracket_next(const bracket *b)
{
    return b->low + (b->high - b->low) * b->at_low / (b->at_low - b->at_high);
}

static void bracket_take(bracket *b, double x, double y)
{
    if (y > 0.0) {
        b->low = x;
        b->at_low = y;
        b->at_high *= b->side > 0 ? 0.5 : 1.0;
        b->side = 1;
    } else {
        b->high = x;
        b->at_high = y;
        b->at_low *= b->side < 0 ? 0.5 : 1.0;
        b->side = -1;
    }
}

/* The curve's points on either side of a torque. */
static bracket bracket_of(const hp_fit_curve *curve, const hp_vehicle *vehicle, double slope,
                          double torque)
{
    int k = 1;
    while (k < HP_FIT_POINTS - 1 && curve->point[k].torque_nm < torque)
        k++;
    const hp_fit_point *a = &curve->point[k - 1], *b = &curve->point[k];
    return (bracket){.low = a->torque_nm,
                     .high = b->torque_nm,
                     .at_low = lacking(a, vehicle, slope, 1.0),
                     .at_high = lacking(b, vehicle, slope, 1.0)};
}

hp_fit_meeting hp_fit_meet(hp_engine *engine, const hp_drive *ridden, const hp_wiring *wiring,
                           const hp_fit_curve *curve, const hp_vehicle *vehicle, double slope)
{
    hp_fit_meeting m = {.slope = slope};
    double torque = hp_fit_meeting_torque(curve, vehicle, slope, 1.0), r = radius_of(vehicle);
    if (isnan(torque))
        return m;
    m.meets = true;
    m.point = curve->point[0];
    if (torque > 0.0) {
        bracket b = bracket_of(curve, vehicle, slope, torque);
        for (int k = 0; k < 8; k++) {
            m.point = hp_fit_point_run(engine, ridden, wiring, torque);
            double y = lacking(&m.point, vehicle, slope, 1.0);
            if (m.point.runs && fabs(y) <= 1e-3 * torque)
                break;
            bracket_take(&b, torque, m.point.runs ? y : -torque);
            torque = bracket_next(&b);
        }
    }
    m.speed = m.point.wheel_rad_s * r;
    double by_curve = speed_by_curve(curve, vehicle, slope, 1.0);
    m.slow = m.speed * speed_by_curve(curve, vehicle, slope, 1.0 + vehicle->unsure) / by_curve;
    m.quick = m.speed * speed_by_curve(curve, vehicle, slope, 1.0 - vehicle->unsure) / by_curve;
    return m;
}

bool hp_fit_cruise(hp_engine *engine, const hp_drive *full, const hp_wiring *wiring,
                   const hp_vehicle *vehicle, double speed, double *throttle, hp_fit_point *point)
{
    double r = radius_of(vehicle);
    double torque = r * hp_road_force_at(&vehicle->road, speed, 0.0).total;
    hp_drive part = *full;
    bracket b = {.low = 0.0, .high = full->controller.throttle, .at_low = speed};
    *point = hp_fit_point_run(engine, full, wiring, torque);
    b.at_high = speed - point->wheel_rad_s * r;
    *throttle = full->controller.throttle;
    if (!point->runs || b.at_high > 0.0)
        return false;
    for (int k = 0; k < 12 && fabs(speed - point->wheel_rad_s * r) > 1e-3 * speed; k++) {
        *throttle = bracket_next(&b);
        part.controller.throttle = *throttle;
        *point = hp_fit_point_run(engine, &part, wiring, torque);
        bracket_take(&b, *throttle, point->runs ? speed - point->wheel_rad_s * r : speed);
    }
    return point->runs && fabs(speed - point->wheel_rad_s * r) <= 0.01 * speed;
}
