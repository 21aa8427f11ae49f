/* The controller: see the header. */
#include "hubphase/model/controller.h"

#include <math.h>
#include <stddef.h>

hp_controller_params hp_controller_params_default(void)
{
    return (hp_controller_params){
        .table = hp_commutation_table_120(),
        .throttle = 0.35,        /* chosen: gentle, yet fast enough to tell early from late */
        .speed_cap = 1.0,        /* chosen: fastest step */
        .ramp_per_s = 1.0,       /* chosen: full throttle after a second */
        .battery_limit_a = 15.0, /* chosen: a common label on small controllers */
        .phase_limit_a = 40.0,   /* chosen: between two and three times the battery limit */
        .filter_s = 0.01,        /* chosen: a smoothing of ten milliseconds */
        .limiter_per_s = 5.0,    /* chosen: slow against the filter, so that limiting is steady */
        .stall_cutout_s = 1.5,   /* chosen: common controllers give up after one to three seconds */
        .undervoltage_v = 0.0,   /* chosen: a bench supply has no cells to protect */
        .pwm = HP_PWM_AVERAGED,  /* chosen: the quick way; real edges are for close-ups */
        .pwm_hz = 16000.0,       /* chosen: just above hearing */
        .switch_resistance_ohm = 0.004, /* chosen: two small MOSFETs' worth, warm */
        .diode_drop_v = 0.8,            /* chosen: a MOSFET's body diode */
    };
}

static hp_result range(hp_error *err, const char *field, double value, double low, double high)
{
    if (value >= low && value <= high)
        return HP_OK;
    return hp_error_set(err, HP_FAIL_INPUT, "controller.%s is %g, must be %g to %g", field, value,
                        low, high);
}

hp_result hp_controller_params_check(const hp_controller_params *c, hp_error *err)
{
    if (!(c->speed_cap > 0.0 && c->speed_cap <= 1.0))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "controller.speed_cap is %g, must be above 0 and at most 1",
                            c->speed_cap);
    if ((int)c->pwm < 0 || c->pwm >= HP_PWM_KIND_COUNT)
        return hp_error_set(err, HP_FAIL_INPUT, "controller.pwm is %d, not a known kind",
                            (int)c->pwm);
    const struct {
        const char *field;
        double value, low, high;
    } limit[] = {
        {"throttle", c->throttle, 0.0, 1.0},
        {"ramp_per_s", c->ramp_per_s, 0.0, 1e6},
        {"battery_limit_a", c->battery_limit_a, 0.0, 1e4},
        {"phase_limit_a", c->phase_limit_a, 0.0, 1e4},
        {"filter_s", c->filter_s, 1e-5, 10.0},
        {"limiter_per_s", c->limiter_per_s, 1e-3, 1e4},
        {"stall_cutout_s", c->stall_cutout_s, 0.0, 3600.0},
        {"undervoltage_v", c->undervoltage_v, 0.0, 200.0},
        {"pwm_hz", c->pwm_hz, 100.0, 1e6},
        {"switch_resistance_ohm", c->switch_resistance_ohm, 0.0, 100.0},
        {"diode_drop_v", c->diode_drop_v, 0.0, 5.0},
    };
    for (size_t k = 0; k < sizeof limit / sizeof limit[0]; k++) {
        hp_result result = range(err, limit[k].field, limit[k].value, limit[k].low, limit[k].high);
        if (result != HP_OK)
            return result;
    }
    hp_result result = hp_commutation_table_check(&c->table, err);
    return result == HP_OK ? HP_OK : hp_error_context(err, result, "controller.table");
}
