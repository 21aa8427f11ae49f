/* The motor: see the header. */
#include "hubphase/model/motor.h"

#include "base/sine.h"

#include <math.h>
#include <string.h>

hp_motor_params hp_motor_params_default(void)
{
    hp_motor_params motor;
    memset(&motor, 0, sizeof motor);
    /* chosen: a middling direct-drive hub as sold for 36 V: 46 magnets, 0.2 ohm and 0.44 mH between
     * leads, 215 rev/min unloaded. */
    motor.pole_pairs = 23;
    motor.resistance_ohm = 0.10;
    motor.inductance_h = 0.22e-3;
    motor.ke = 36.0 / (2.0 * 215.0 * HP_RPM);
    motor.backemf = hp_backemf_trapezoidal(120.0 * HP_DEG); /* chosen: the textbook trapezoid */
    motor.winding_c = 20.0;                                 /* chosen: a cold workshop */
    motor.copper_per_k = 0.00393;                           /* IEC 60028, annealed copper */
    motor.rotor_inertia_kg_m2 = 0.0; /* chosen: direct drive, all of it counted with the wheel */
    motor.cogging_nm = 0.1;          /* chosen: felt by hand, small against the friction */
    motor.cogging_order = 6;         /* common practice: six a turn */
    return motor;
}

static hp_result range(hp_error *err, const char *field, double value, double low, double high)
{
    if (value >= low && value <= high)
        return HP_OK;
    return hp_error_set(err, HP_FAIL_INPUT, "motor.%s is %g, must be %g to %g", field, value, low,
                        high);
}

static hp_result positive(hp_error *err, const char *field, double value, double high)
{
    if (value > 0.0 && value <= high)
        return HP_OK;
    return hp_error_set(err, HP_FAIL_INPUT, "motor.%s is %g, must be above 0 and at most %g", field,
                        value, high);
}

hp_result hp_motor_params_check(const hp_motor_params *m, hp_error *err)
{
    if (m->pole_pairs < 1 || m->pole_pairs > 100)
        return hp_error_set(err, HP_FAIL_INPUT, "motor.pole_pairs is %d, must be 1 to 100",
                            m->pole_pairs);
    if (m->cogging_order < 1 || m->cogging_order > 1000)
        return hp_error_set(err, HP_FAIL_INPUT, "motor.cogging_order is %d, must be 1 to 1000",
                            m->cogging_order);
    hp_result result = positive(err, "resistance_ohm", m->resistance_ohm, 1000.0);
    if (result == HP_OK)
        result = positive(err, "inductance_h", m->inductance_h, 1.0);
    if (result == HP_OK)
        result = positive(err, "ke", m->ke, 1000.0);
    if (result == HP_OK)
        result = range(err, "winding_c", m->winding_c, -40.0, 200.0);
    if (result == HP_OK)
        result = range(err, "copper_per_k", m->copper_per_k, 0.0, 0.01);
    if (result == HP_OK)
        result = range(err, "rotor_inertia_kg_m2", m->rotor_inertia_kg_m2, 0.0, 100.0);
    if (result == HP_OK)
        result = range(err, "cogging_nm", m->cogging_nm, 0.0, 1000.0);
    if (result == HP_OK)
        result = range(err, "cogging_phase_rad", m->cogging_phase_rad, -1e6, 1e6);
    if (result == HP_OK && !(hp_motor_resistance(m) > 0.0))
        result =
            hp_error_set(err, HP_FAIL_INPUT, "motor resistance at %g C is %g ohm, must be above 0",
                         m->winding_c, hp_motor_resistance(m));
    if (result != HP_OK)
        return result;
    result = hp_backemf_check(&m->backemf, err);
    return result == HP_OK ? HP_OK : hp_error_context(err, result, "motor");
}

double hp_motor_resistance(const hp_motor_params *motor)
{
    return motor->resistance_ohm * (1.0 + motor->copper_per_k * (motor->winding_c - 20.0));
}

double hp_motor_cogging(const hp_motor_params *motor, double theta)
{
    return motor->cogging_nm * hp_sine(motor->cogging_order * theta + motor->cogging_phase_rad);
}
