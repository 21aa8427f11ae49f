/*
 * Sensors, commutation, bridge and controller modes of the reference: what switches when.
 */
#include "reference_parts.h"
#include "sim/trace.h"

#include <math.h>

void ref_log_event(ref_log *log, double t, hp_event_kind kind, int which)
{
    log->events++;
    if (log->trace == NULL || !log->trace->keep_events || log->status != HP_OK)
        return;
    log->status = hp_trace_add_event(log->trace, t, kind, which);
}

/* Output of a sensor as the controller sees it. */
static int sensor_bit(const hp_sensors_params *sensors, int phase, bool inside)
{
    if (sensors->no_supply)
        return 1;
    if (sensors->spacing_60 && phase == HP_V)
        inside = !inside;
    switch (sensors->fault[phase]) {
    case HP_SENSOR_STUCK_HIGH: return 1;
    case HP_SENSOR_STUCK_LOW: return 0;
    case HP_SENSOR_INVERTED: return !inside;
    default: return inside;
    }
}

static int seen_code(const ref_plant *plant, const ref_mode *mode)
{
    int code = 0;
    for (int input = 0; input < HP_PHASE_COUNT; input++) {
        int sensor = plant->wiring.sensor[input];
        code = 2 * code + sensor_bit(&plant->drive->sensors, sensor, mode->inside[sensor]);
    }
    return code;
}

/* What the controller commands each motor lead. */
static void set_commands(const ref_plant *plant, ref_mode *mode)
{
    const hp_controller_params *controller = &plant->drive->controller;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        mode->command[k] = 0;
    hp_commutation_row row = controller->table.row[mode->code];
    if (mode->cut_out || mode->idle || row.high < 0 || row.low < 0)
        return;
    mode->command[plant->wiring.phase[row.low]] = -1;
    int high = plant->wiring.phase[row.high];
    if (!plant->real_pwm || mode->pwm_on)
        mode->command[high] = 1;
    else if (controller->pwm == HP_PWM_COMPLEMENTARY)
        mode->command[high] = -1;
}

/* Gives every lead the path that its command and current ask for, then lets floating leads
 * conduct whose voltage would leave the rails, the farthest out first. `alone`: nothing else
 * switched here, so that this is an event of its own. */
static void set_paths(const ref_plant *plant, ref_mode *mode, double t, double x[X_COUNT],
                      bool alone, ref_log *log)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (plant->drive->motor.lead_open[k])
            mode->path[k] = PATH_OPEN;
        else if (mode->command[k] != 0)
            mode->path[k] = mode->command[k] > 0 ? PATH_HIGH : PATH_LOW;
        else if (x[k] == 0.0 && (mode->path[k] == PATH_UPPER || mode->path[k] == PATH_LOWER))
            continue; /* begins to conduct this very instant */
        else
            mode->path[k] = x[k] > 0.0 ? PATH_LOWER : x[k] < 0.0 ? PATH_UPPER : PATH_FLOAT;
    }
    for (int round = 0; round < HP_PHASE_COUNT; round++) {
        int lead, pair;
        if (!(ref_float_excess(plant, mode, x, &lead, &pair) > 0.0))
            return;
        ref_view view = ref_look(plant, mode, x);
        bool upper = pair >= 0 || view.terminal[lead] > 0.5 * view.bus;
        mode->path[lead] = upper ? PATH_UPPER : PATH_LOWER;
        if (pair >= 0)
            mode->path[pair] = PATH_LOWER;
        if (alone)
            ref_log_event(log, t, HP_EVENT_DIODE, pair >= 0 ? HP_PHASE_COUNT : lead);
    }
}

static bool diode_ended(const ref_mode *mode, const double x[X_COUNT], int k)
{
    return (mode->path[k] == PATH_UPPER && x[k] > 0.0) ||
           (mode->path[k] == PATH_LOWER && x[k] < 0.0);
}

/* A diode's current has come to zero: the lead floats, and what little it had gone past zero goes
 * to the other leads, so that the sum stays zero. The two diodes of a lone pair end together: one
 * event, of lead HP_PHASE_COUNT. */
static void end_diodes(ref_mode *mode, double t, double x[X_COUNT], ref_log *log)
{
    int ended[HP_PHASE_COUNT], count = 0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (!diode_ended(mode, x, k))
            continue;
        double rest = x[k];
        int others = 0;
        for (int j = 0; j < HP_PHASE_COUNT; j++)
            others += j != k && x[j] != 0.0;
        for (int j = 0; j < HP_PHASE_COUNT; j++)
            if (j != k && x[j] != 0.0)
                x[j] = others == 1 ? 0.0 : x[j] + rest / others;
        x[k] = 0.0;
        mode->path[k] = PATH_FLOAT;
        ended[count++] = k;
    }
    if (count == 0)
        return;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        bool diode = mode->path[k] == PATH_UPPER || mode->path[k] == PATH_LOWER;
        if (diode && x[0] == 0.0 && x[1] == 0.0 && x[2] == 0.0) {
            mode->path[k] = PATH_FLOAT;
            ended[count++] = k;
        }
    }
    ref_log_event(log, t, HP_EVENT_DIODE, count == 1 ? ended[0] : HP_PHASE_COUNT);
}

/* Begins a PWM period: its on time is the duty at this instant. */
static void begin_period(const ref_plant *plant, ref_mode *mode, double duty)
{
    double start = (double)mode->periods * plant->pwm_period;
    mode->periods++;
    mode->pwm_start = (double)mode->periods * plant->pwm_period;
    mode->pwm_on = duty > 0.0;
    mode->pwm_next = mode->pwm_start;
    if (duty > 0.0 && duty < 1.0)
        mode->pwm_next = start + duty * plant->pwm_period;
}

static void switch_pwm(const ref_plant *plant, ref_mode *mode, double t, double duty, ref_log *log)
{
    if (t < mode->pwm_next)
        return;
    bool was_on = mode->pwm_on;
    if (mode->pwm_next < mode->pwm_start) {
        mode->pwm_on = false;
        mode->pwm_next = mode->pwm_start;
    } else {
        begin_period(plant, mode, duty);
    }
    if (mode->pwm_on != was_on)
        ref_log_event(log, t, HP_EVENT_PWM, mode->pwm_on);
}

static bool voltage_low(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT])
{
    double limit = plant->drive->controller.undervoltage_v;
    return !mode->cut_out && limit > 0.0 &&
           plant->emf - plant->battery_ohm * x[X_BATTERY_FILTER] < limit;
}

static double cutout_time(const ref_plant *plant, const ref_mode *mode)
{
    double wait = plant->drive->controller.stall_cutout_s;
    bool watches = wait > 0.0 && plant->target > 0.0 && !mode->cut_out;
    return watches ? mode->last_edge + wait : INFINITY;
}

static bool duty_ended(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT])
{
    if (mode->cut_out || mode->idle)
        return false;
    if (mode->falling)
        return x[X_DUTY] < plant->target;
    switch (mode->duty) {
    case DUTY_AT_TARGET: return plant->target > 0.0 && ref_duty_rate(plant, x) < 0.0;
    case DUTY_AT_ZERO: return ref_duty_rate(plant, x) > 0.0;
    case DUTY_FREE: break;
    }
    return x[X_DUTY] > plant->target || x[X_DUTY] < 0.0;
}

static void switch_duty(const ref_plant *plant, ref_mode *mode, double t, double x[X_COUNT],
                        ref_log *log)
{
    if (!duty_ended(plant, mode, x))
        return;
    if (mode->duty != DUTY_FREE) {
        mode->duty = DUTY_FREE;
    } else if (mode->falling) {
        mode->falling = false;
        x[X_DUTY] = plant->target;
        if (ref_duty_rate(plant, x) >= 0.0)
            mode->duty = DUTY_AT_TARGET;
    } else if (x[X_DUTY] < 0.0) {
        x[X_DUTY] = 0.0;
        mode->duty = DUTY_AT_ZERO;
    } else {
        x[X_DUTY] = plant->target;
        mode->duty = DUTY_AT_TARGET;
    }
    ref_log_event(log, t, HP_EVENT_DUTY, (int)mode->duty);
}

static bool sensors_ended(const ref_plant *plant, const ref_mode *mode, double theta)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (ref_sensor_margin(plant, mode, k, theta) < 0.0)
            return true;
    return false;
}

static void switch_sensors(const ref_plant *plant, ref_mode *mode, double t, double theta,
                           ref_log *log)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (ref_sensor_margin(plant, mode, k, theta) < 0.0)
            mode->inside[k] = !mode->inside[k];
    int code = seen_code(plant, mode);
    if (code == mode->code)
        return;
    mode->code = code;
    mode->last_edge = t;
    ref_log_event(log, t, HP_EVENT_SENSOR, code);
}

double ref_next_time(const ref_plant *plant, const ref_mode *mode)
{
    return fmin(mode->pwm_next, cutout_time(plant, mode));
}

bool ref_mode_ended(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT])
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (diode_ended(mode, x, k))
            return true;
    int lead, pair;
    return sensors_ended(plant, mode, x[X_THETA]) || duty_ended(plant, mode, x) ||
           voltage_low(plant, mode, x) || ref_float_excess(plant, mode, x, &lead, &pair) > 0.0 ||
           ref_motion_ended(plant, mode, x, ref_look(plant, mode, x).shaft);
}

void ref_switch(const ref_plant *plant, ref_mode *mode, double t, double x[X_COUNT], ref_log *log)
{
    long before = log->events;
    switch_sensors(plant, mode, t, x[X_THETA], log);
    switch_pwm(plant, mode, t, x[X_DUTY], log);
    bool low = voltage_low(plant, mode, x);
    if (low || t >= cutout_time(plant, mode)) {
        mode->cut_out = true;
        mode->cut_out_voltage = low;
        mode->pwm_next = INFINITY;
        ref_log_event(log, t, HP_EVENT_CUTOUT, low);
    }
    end_diodes(mode, t, x, log);
    set_commands(plant, mode);
    set_paths(plant, mode, t, x, log->events == before, log);
    switch_duty(plant, mode, t, x, log);
    ref_motion_switch(plant, mode, t, x, ref_look(plant, mode, x).shaft, log);
}

/* Duty at which this speed neither pulls nor brakes: two leads' back-EMF, averaged over the sixth
 * of a turn where that is the most, over the battery's. */
static double duty_of_speed(const ref_plant *plant, double speed)
{
    const hp_backemf *shape = &plant->drive->motor.backemf;
    double most = 0.0;
    for (int turn = 0; turn < 360; turn++) {
        double sum = 0.0;
        for (int k = 0; k < 600; k++) {
            double x = (turn + (k + 0.5) / 10.0) * HP_DEG;
            sum += ref_shape(shape, x) - ref_shape(shape, x - HP_TWO_PI / 3.0);
        }
        most = fmax(most, fabs(sum) / 600.0);
    }
    return fabs(speed) * plant->ke * most / plant->emf;
}

void ref_follow(ref_plant *plant, ref_mode *mode, double t, double x[X_COUNT], double duty,
                ref_log *log)
{
    bool was_idle = mode->idle;
    if (mode->cut_out || (duty == plant->target && was_idle == (duty == 0.0)))
        return;
    plant->target = duty;
    mode->idle = duty == 0.0;
    mode->falling = false;
    if (mode->idle) {
        x[X_DUTY] = 0.0;
        mode->duty = DUTY_AT_ZERO;
        mode->pwm_next = INFINITY;
        mode->pwm_on = false;
    } else {
        if (was_idle) {
            x[X_DUTY] = fmin(duty, duty_of_speed(plant, x[X_SPEED]));
            mode->last_edge = t;
        }
        if (plant->drive->controller.ramp_per_s <= 0.0)
            x[X_DUTY] = duty;
        mode->falling = x[X_DUTY] > duty;
        mode->duty =
            x[X_DUTY] == duty && ref_duty_rate(plant, x) >= 0.0 ? DUTY_AT_TARGET : DUTY_FREE;
        if (plant->real_pwm && was_idle) {
            mode->periods = (long)floor(t / plant->pwm_period) + 1;
            mode->pwm_next = mode->pwm_start = (double)mode->periods * plant->pwm_period;
            mode->pwm_on = false;
        }
    }
    ref_switch(plant, mode, t, x, log);
}

void ref_begin(const ref_plant *plant, const hp_run_options *options, ref_mode *mode,
               double x[X_COUNT])
{
    ref_log silent = {0};
    for (int k = 0; k < X_COUNT; k++)
        x[k] = 0.0;
    x[X_THETA] = options->start_angle;
    x[X_SPEED] = options->start_speed;
    x[X_DUTY] = fmin(options->start_duty, plant->target);
    if (plant->drive->controller.ramp_per_s <= 0.0)
        x[X_DUTY] = plant->target;

    *mode = (ref_mode){.pwm_next = INFINITY};
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        mode->path[k] = PATH_FLOAT;
        /* Without hysteresis: within 90 degrees of the axis. */
        mode->inside[k] = true;
        double margin = ref_sensor_margin(plant, mode, k, x[X_THETA]);
        mode->inside[k] = margin > plant->drive->sensors.hysteresis_rad;
    }
    mode->code = seen_code(plant, mode);
    mode->duty = DUTY_FREE;
    double rate = ref_duty_rate(plant, x);
    if (x[X_DUTY] >= plant->target && rate >= 0.0)
        mode->duty = DUTY_AT_TARGET;
    else if (x[X_DUTY] <= 0.0 && rate <= 0.0)
        mode->duty = DUTY_AT_ZERO;
    if (plant->real_pwm)
        begin_period(plant, mode, x[X_DUTY]);
    set_commands(plant, mode);
    set_paths(plant, mode, 0.0, x, false, &silent);
    ref_motion_begin(plant, mode, x, ref_look(plant, mode, x).shaft);
}
