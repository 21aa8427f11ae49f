/* The drive: see the header. */
#include "hubphase/model/drive.h"

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
    return HP_OK;
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
    double middle = atan2(sine, cosine) - 30.0 * HP_DEG;
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
    double amperes = against / (1.5 * drive->motor.ke * sin(15.0 * HP_DEG));
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
