/* The drive: see the header. */
#include "hubphase/model/drive.h"

#include "base/elementary.h"
#include "base/sine.h"
#include "model/backemf.h"
#include "model/drive_rate.h"
#include "model/stand.h"

#include <math.h>

hp_drive hp_drive_default(void)
{
    return (hp_drive){
        .motor = hp_motor_params_default(),
        .sensors = hp_sensors_params_default(),
        .controller = hp_controller_params_default(),
        .supply = hp_supply_params_default(),
        .stand = hp_stand_params_default(),
    };
}

double hp_drive_current_rate(const hp_drive *drive)
{
    double ohm = hp_motor_resistance(&drive->motor) + drive->controller.switch_resistance_ohm +
                 0.5 * drive->supply.resistance_ohm;
    return ohm / drive->motor.inductance_h;
}

/* Slope of a friction over speed at rest, where a smoothed one is steepest. */
static double steepness(const hp_friction *friction, double smooth_rad_s)
{
    double smoothed = smooth_rad_s > 0.0 ? friction->coulomb_nm / smooth_rad_s : 0.0;
    return smoothed + friction->viscous_nm_s_rad;
}

double hp_drive_friction_rate(const hp_drive *drive)
{
    const hp_stand_params *stand = &drive->stand;
    double rotor = steepness(&stand->rotor, stand->smooth_rad_s);
    double wheel = steepness(&stand->wheel, stand->smooth_rad_s);
    double inertia = drive->motor.rotor_inertia_kg_m2, g = stand->gear_ratio;
    double joint = (rotor + wheel / (g * g)) / hp_stand_inertia(stand, inertia);
    if (!stand->clutch)
        return joint;
    return fmax(joint, fmax(rotor / inertia, wheel / stand->wheel_inertia_kg_m2));
}

/* What the parts are together must not change faster than a run can follow. */
static hp_result check_rates(const hp_drive *drive, hp_error *err)
{
    double current = hp_drive_current_rate(drive), friction = hp_drive_friction_rate(drive);
    if (!(current <= HP_RATE_MAX))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "motor.inductance_h is %g: with this resistance currents would change "
                            "within %.2g s, must be at least %g s",
                            drive->motor.inductance_h, 1.0 / current, 1.0 / HP_RATE_MAX);
    if (!(friction <= HP_RATE_MAX))
        return hp_error_set(
            err, HP_FAIL_INPUT,
            "stand.%s is %g: friction would stop so light a body within %.2g s, must be at least "
            "%g s",
            drive->stand.smooth_rad_s > 0.0 ? "smooth_friction_rad_s"
                                            : "rotor.viscous_nm_s_per_rad",
            drive->stand.smooth_rad_s > 0.0 ? drive->stand.smooth_rad_s
                                            : drive->stand.rotor.viscous_nm_s_rad,
            1.0 / friction, 1.0 / HP_RATE_MAX);
    return HP_OK;
}

hp_result hp_drive_check(const hp_drive *drive, hp_error *err)
{
    hp_result result = hp_motor_params_check(&drive->motor, err);
    if (result == HP_OK)
        result = hp_sensors_params_check(&drive->sensors, err);
    if (result == HP_OK)
        result = hp_controller_params_check(&drive->controller, err);
    if (result == HP_OK)
        result = hp_supply_params_check(&drive->supply, err);
    if (result == HP_OK)
        result = hp_stand_params_check(&drive->stand, err);
    if (result != HP_OK)
        return result;
    if (drive->stand.clutch && !(drive->motor.rotor_inertia_kg_m2 > 0.0))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "motor.rotor_inertia_kg_m2 is %g, must be above 0 with a clutch: the "
                            "rotor turns by itself",
                            drive->motor.rotor_inertia_kg_m2);
    if (drive->controller.undervoltage_v >= drive->supply.emf_v)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "controller.undervoltage_v is %g, must be below supply.battery_v (%g)",
                            drive->controller.undervoltage_v, drive->supply.emf_v);
    return check_rates(drive, err);
}

bool hp_drive_is_sound(const hp_drive *drive)
{
    bool sound = !drive->sensors.no_supply;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        sound = sound && drive->sensors.fault[k] == HP_SENSOR_SOUND && !drive->motor.lead_open[k];
    return sound;
}

double hp_drive_duty(const hp_drive *drive)
{
    return drive->controller.throttle * drive->controller.speed_cap;
}

double hp_drive_ideal_speed(const hp_drive *drive)
{
    /* Well placed sensors hand over at the zero crossings of the line back-EMF, so that the pair
     * U > V works for 30 degrees either side of the peak of f(x) - f(x - 120 degrees). The peak
     * may be a flat or have two tops: the fundamental says where its middle is. That of f, A cos x
     * + B sin x, peaks at atan2(B, A); that of the difference 30 degrees sooner. */
    const hp_backemf *backemf = &drive->motor.backemf;
    double cosine = 0.0, sine = -1.0;
    if (backemf->kind == HP_BACKEMF_FOURIER) {
        cosine = backemf->cosine[1];
        sine = backemf->sine[1];
    }
    double middle = hp_direction_of(sine, cosine) - 30.0 * HP_DEG;
    double line =
        hp_backemf_pair_mean(backemf, HP_U, HP_V, middle - 30.0 * HP_DEG, middle + 30.0 * HP_DEG);
    return hp_drive_duty(drive) * drive->supply.emf_v / (line * drive->motor.ke);
}

/* Current that parks the rotor within about 15 electrical degrees of its place: the pull of one
 * lead against two is 1.5 ke i sin(angle), and friction and detent must give way to it. Rounded up
 * to half an ampere; chosen: from 1 A, which any supply shows, to 5 A, which warms a winding
 * slowly. */
double hp_drive_park_current(const hp_drive *drive)
{
    double against = drive->stand.rotor.breakaway_nm + drive->motor.cogging_nm +
                     drive->stand.wheel.breakaway_nm / drive->stand.gear_ratio;
    double amperes = against / (1.5 * drive->motor.ke * hp_sine(15.0 * HP_DEG));
    return fmin(fmax(ceil(2.0 * amperes) / 2.0, 1.0), 5.0);
}

/* Volts that drive this current through one lead against two, with something to spare for tips and
 * a warm winding, in whole volts. Chosen: from 3 V, as low as any supply goes, to 30 V, as high as
 * most do. */
double hp_drive_park_volts(const hp_drive *drive)
{
    double path_ohm = 1.5 * hp_motor_resistance(&drive->motor);
    return fmin(fmax(3.0, ceil(1.2 * hp_drive_park_current(drive) * path_ohm)), 30.0);
}

/* A 21 W bulb takes 1.75 A at 12 V; near there it is taken as a resistor, which errs to the small
 * side of the current, since a cooler filament has less resistance. */
int hp_drive_park_bulbs(const hp_drive *drive, double *amperes)
{
    const double volts = 12.0, bulb_ohm = volts * volts / 21.0;
    double path_ohm = 1.5 * hp_motor_resistance(&drive->motor);
    int bulbs = 0;
    do {
        bulbs++;
        *amperes = volts / (bulb_ohm / bulbs + path_ohm);
    } while (*amperes < 0.85 * hp_drive_park_current(drive) && bulbs < 4);
    return bulbs;
}

double hp_drive_stalled_battery_a(const hp_drive *drive, double throttle)
{
    const hp_controller_params *controller = &drive->controller;
    double path_ohm =
        2.0 * (hp_motor_resistance(&drive->motor) + controller->switch_resistance_ohm);
    double low = 0.0, high = throttle * controller->speed_cap, amperes = 0.0;
    /* The largest duty that no limit forbids: both currents rise with it. */
    for (int k = 0; k < 50; k++) {
        double duty = k == 0 ? high : 0.5 * (low + high);
        double phase =
            duty * drive->supply.emf_v / (path_ohm + duty * duty * drive->supply.resistance_ohm);
        bool held =
            (controller->phase_limit_a > 0.0 && phase > controller->phase_limit_a) ||
            (controller->battery_limit_a > 0.0 && duty * phase > controller->battery_limit_a);
        if (held) {
            high = duty;
        } else {
            low = duty;
            amperes = duty * phase;
            if (k == 0)
                break;
        }
    }
    return amperes;
}

/* chosen, no source: of the size found in controllers of some hundred watts. Less of it is pumped
 * higher, with the root. */
#define BUS_FARAD 1e-3

double hp_drive_pumped_v(const hp_drive *drive, double throttle)
{
    hp_drive at = *drive;
    at.controller.throttle = throttle;
    double w = hp_drive_ideal_speed(&at), rotor = drive->motor.rotor_inertia_kg_m2;
    double inertia = drive->stand.clutch ? rotor : hp_stand_inertia(&drive->stand, rotor);
    double emf = drive->supply.emf_v;
    return sqrt(emf * emf + inertia * w * w / BUS_FARAD);
}
