/* The drive: see the header. */
#include "hubphase/model/drive.h"

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
    /* Mean of f(x - axis_V) - f(x - axis_W) over the sector of code 100, -30 to 30 degrees, by the
     * midpoint rule: exact for straight lines and within 1e-7 for the rest. */
    const int points = 600;
    double sum = 0.0;
    for (int k = 0; k < points; k++) {
        double x = (-30.0 + 60.0 * (k + 0.5) / points) * HP_DEG;
        sum += hp_backemf_value(&drive->motor.backemf, x - hp_phase_axis(HP_V)) -
               hp_backemf_value(&drive->motor.backemf, x - hp_phase_axis(HP_W));
    }
    double line = sum / points * drive->motor.ke;
    return line > 0.0 ? hp_drive_duty(drive) * drive->supply.emf_v / line : 0.0;
}
