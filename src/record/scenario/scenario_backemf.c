/*
 * Size of the back-EMF, by one of four ways. See scenario_settle.h.
 *
 * All four speak of the wheel and of two leads; the model's ke is the amplitude of one phase over
 * the rotor's speed. With w the wheel's speed, g the gear ratio, and the line shape f_U - f_V whose
 * mean over the driven sector, peak and rms are m, p, q:
 *
 *     no-load speed w0 at U volts   U = ke m g w0       (a motor without losses, full duty)
 *     peak between two leads at w   V = ke p g w
 *     rms between two leads at w    V = ke q g w
 *     torque constant               K = ke m g          (battery current at full duty; K w0 = U)
 *
 * For a flat of 120 degrees or more m = p = 2; for a sine m = (3/pi) sqrt 3, p = sqrt 3,
 * q = sqrt(3/2).
 */
#include "model/backemf.h"
#include "record/scenario/scenario_settle.h"

#include <math.h>

/* Points over a turn: multiples of the twelfth that every shape's symmetry asks for. A trapezoid's
 * corners fall between points; the rms then is off by 1e-6. */
#define POINTS 7200

/* No-load speeds of a wheel at the battery's voltage [rev/min]. Chosen wide; beyond them a unit was
 * mistaken. */
#define SPEED_LEAST 1.0
#define SPEED_MOST  10000.0

/* Least mean of the line shape over its sector that a six-step drive can run on; a sine has 1.65.
 */
#define LEAST_MEAN 0.1

hp_line_shape hp_line_shape_of(const hp_backemf *backemf)
{
    hp_backemf_line shape = hp_backemf_line_over(backemf, POINTS);
    hp_line_shape line = {.peak = shape.peak, .rms = shape.rms};
    /* The sector's place is the drive's business: full duty, one volt and ke = 1 make its speed the
     * inverse of the mean. */
    hp_drive drive = hp_drive_default();
    drive.motor.backemf = *backemf;
    drive.motor.ke = 1.0;
    drive.supply.emf_v = 1.0;
    drive.controller.throttle = 1.0;
    drive.controller.speed_cap = 1.0;
    line.mean = 1.0 / hp_drive_ideal_speed(&drive);
    return line;
}

/* The ways in the order in which one is preferred. */
static const hp_key_id ways[] = {HP_KEY_NO_LOAD, HP_KEY_BACKEMF_PEAK, HP_KEY_BACKEMF_RMS,
                                 HP_KEY_TORQUE_CONSTANT};
#define WAYS ((int)(sizeof ways / sizeof ways[0]))

/* ke for one unit of what a way states. */
static double ke_per_unit(const hp_reader *reader, hp_key_id way, const hp_line_shape *line)
{
    const hp_draft *draft = &reader->draft;
    double gear = draft->drive.stand.gear_ratio, krpm = 1000.0 * HP_RPM;
    switch (way) {
    case HP_KEY_BACKEMF_PEAK: return 1.0 / (line->peak * gear * krpm);
    case HP_KEY_BACKEMF_RMS: return 1.0 / (line->rms * gear * krpm);
    default: return 1.0 / (line->mean * gear);
    }
}

/* A no-load speed states its voltage over its speed. */
static double stated(const hp_reader *reader, hp_key_id way)
{
    if (way == HP_KEY_NO_LOAD)
        return reader->draft.no_load_v / (reader->draft.no_load_rpm * HP_RPM);
    return hp_reader_number(reader, way);
}

static void refuse_contradiction(hp_reader *reader, hp_key_id way, hp_key_id first, double unit)
{
    double made = reader->draft.drive.motor.ke / unit, said = stated(reader, way);
    hp_reader_problem(
        reader, way,
        "%s is %.4g, but %s makes it %.4g: the two must agree within %g %%, correct or "
        "leave out one",
        hp_key_of(way)->path, said, hp_key_of(first)->path, made, 100.0 * HP_WAYS_AGREE);
}

/* Says what the other ways would have stated. */
static void derive_others(hp_reader *reader, hp_key_id first, const hp_line_shape *line)
{
    hp_draft *draft = &reader->draft;
    for (int k = 0; k < WAYS; k++) {
        hp_key_id way = ways[k];
        double value = draft->drive.motor.ke / ke_per_unit(reader, way, line);
        if (!hp_reader_lacks(reader, way))
            continue;
        if (way != HP_KEY_NO_LOAD) {
            hp_reader_derive(reader, way, value, "from %s", hp_key_of(first)->path);
            continue;
        }
        if (!hp_reader_sound(reader, HP_KEY_BATTERY_V))
            continue;
        double volts = draft->drive.supply.emf_v;
        hp_reader_derive(reader, HP_KEY_NO_LOAD_RPM, volts / value / HP_RPM,
                         "from %s, a motor without losses", hp_key_of(first)->path);
        hp_reader_derive(reader, HP_KEY_NO_LOAD_V, volts, "supply.battery_v");
    }
}

static void check_speed(hp_reader *reader, hp_key_id first, const hp_line_shape *line)
{
    hp_draft *draft = &reader->draft;
    if (!hp_reader_sound(reader, HP_KEY_BATTERY_V))
        return;
    double speed = draft->drive.supply.emf_v * ke_per_unit(reader, HP_KEY_TORQUE_CONSTANT, line) /
                   draft->drive.motor.ke / HP_RPM;
    if (!(speed >= SPEED_LEAST && speed <= SPEED_MOST))
        hp_reader_problem(
            reader, first,
            "%s makes a no-load speed of %.3g rev/min of the wheel at %.4g V, must be "
            "from %g to %g: check the units",
            hp_key_of(first)->path, speed, draft->drive.supply.emf_v, SPEED_LEAST, SPEED_MOST);
}

/* A speed without its voltage says nothing. */
static bool no_load_is_whole(hp_reader *reader)
{
    if (!hp_reader_has(reader, HP_KEY_NO_LOAD))
        return hp_reader_sound(reader, HP_KEY_NO_LOAD);
    bool speed = hp_reader_require(reader, HP_KEY_NO_LOAD_RPM, "the wheel's speed in rev/min");
    bool volts = hp_reader_require(reader, HP_KEY_NO_LOAD_V, "the voltage that gave this speed");
    return speed && volts;
}

/* The first way given, or HP_KEY_COUNT; false when a way was given wrongly. */
static bool first_way(hp_reader *reader, hp_key_id *first)
{
    bool sound = no_load_is_whole(reader);
    *first = HP_KEY_COUNT;
    for (int k = WAYS - 1; k >= 0; k--) {
        sound = sound && hp_reader_sound(reader, ways[k]);
        if (hp_reader_has(reader, ways[k]))
            *first = ways[k];
    }
    return sound && hp_reader_sound(reader, HP_KEY_MOTOR);
}

/* Whether the keys that the conversion rests on were read. */
static bool can_convert(const hp_reader *reader)
{
    return hp_reader_sound(reader, HP_KEY_GEAR) && hp_reader_sound(reader, HP_KEY_BACKEMF) &&
           hp_reader_sound(reader, HP_KEY_SHAPE) && hp_reader_sound(reader, HP_KEY_FLAT_WIDTH) &&
           hp_reader_sound(reader, HP_KEY_HARMONICS);
}

void hp_settle_backemf(hp_reader *reader)
{
    hp_motor_params *motor = &reader->draft.drive.motor;
    hp_key_id first;
    if (!first_way(reader, &first))
        return;
    if (first == HP_KEY_COUNT) {
        hp_reader_problem(reader, HP_KEY_NO_LOAD,
                          "the motor's back-EMF is missing, must be one of "
                          "motor.no_load_speed_rpm_at_v, motor.backemf_peak_v_per_krpm, "
                          "motor.backemf_rms_v_per_krpm and motor.torque_constant_nm_per_a");
        return;
    }
    if (!can_convert(reader))
        return;
    hp_line_shape line = hp_line_shape_of(&motor->backemf);
    if (!(line.mean >= LEAST_MEAN)) {
        hp_reader_problem(reader, HP_KEY_HARMONICS,
                          "motor.backemf.harmonics makes a shape that turns no motor, must pull in "
                          "one sense while its pair of leads is driven");
        return;
    }
    motor->ke = stated(reader, first) * ke_per_unit(reader, first, &line);
    check_speed(reader, first, &line);
    for (int k = 0; k < WAYS; k++) {
        double unit = ke_per_unit(reader, ways[k], &line);
        if (ways[k] == first || !hp_reader_has(reader, ways[k]))
            continue;
        if (fabs(stated(reader, ways[k]) * unit / motor->ke - 1.0) > HP_WAYS_AGREE)
            refuse_contradiction(reader, ways[k], first, unit);
    }
    derive_others(reader, first, &line);
}
