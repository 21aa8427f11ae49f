/* Friction of rotor and wheel, clutch. See scenario_settle.h. */
#include "model/drive_rate.h"
#include "record/scenario/scenario_settle.h"

#include <math.h>

/* Keys of one body's friction, and where its values lie. */
typedef struct body {
    hp_key_id friction, breakaway;
    hp_friction *values;
} body;

/* Breakaway stands above friction by the default's factor unless the file says both. */
static void settle_breakaway(hp_reader *reader, const body *b)
{
    const hp_friction usual = hp_stand_params_default().rotor;
    double factor = usual.breakaway_nm / usual.coulomb_nm;
    if (!hp_reader_sound(reader, b->friction) || !hp_reader_sound(reader, b->breakaway))
        return;
    bool has_friction = hp_reader_has(reader, b->friction) || reader->reading[b->friction].derived;
    bool has_breakaway = hp_reader_has(reader, b->breakaway);
    double most = hp_key_of(b->breakaway)->limits.high;
    if (has_friction && !has_breakaway && factor * b->values->coulomb_nm > most)
        hp_reader_problem(
            reader, b->friction,
            "%s is %.6g, must be at most %.6g: the breakaway is %.3g times it, as in the "
            "default, and may be %g; or give %s too",
            hp_key_of(b->friction)->path, b->values->coulomb_nm, most / factor, factor, most,
            hp_key_of(b->breakaway)->path);
    else if (has_friction && !has_breakaway)
        hp_reader_derive(reader, b->breakaway, factor * b->values->coulomb_nm,
                         "%.3g times the friction, as in the default", factor);
    else if (has_breakaway && !has_friction)
        hp_reader_derive(reader, b->friction, b->values->breakaway_nm / factor,
                         "the breakaway over %.3g, as in the default", factor);
    else if (b->values->breakaway_nm < b->values->coulomb_nm)
        hp_reader_problem(reader, b->breakaway, "%s is %.6g, must be at least %s (%.6g)",
                          hp_key_of(b->breakaway)->path, b->values->breakaway_nm,
                          hp_key_of(b->friction)->path, b->values->coulomb_nm);
}

/* Torque that turns the wheel steadily at rotor speed w, on the rotor. stand.load_nm is left out: a
 * no-load figure was taken without it. */
static double torque_of_rest(const hp_stand_params *stand, double w)
{
    double gear = stand->gear_ratio;
    double at_wheel = stand->wheel.coulomb_nm + stand->wheel.viscous_nm_s_rad * w / gear;
    return at_wheel / gear;
}

/* What a no-load current says. At full duty the battery's current is that of two leads in series:
 * the rotor turns at w = (U - I R) / K and friction takes K I, with K the torque constant on the
 * rotor. The ripple of the current about its mean is left out. */
typedef struct no_load {
    double speed;  /* [rad/s] rotor */
    double torque; /* [N m] on the rotor */
} no_load;

static bool no_load_of(hp_reader *reader, no_load *result)
{
    const hp_draft *draft = &reader->draft;
    const hp_motor_params *motor = &draft->drive.motor;
    double constant = motor->ke * hp_line_shape_of(&motor->backemf).mean;
    double drop = draft->no_load_a * 2.0 *
                  (hp_motor_resistance(motor) + draft->drive.controller.switch_resistance_ohm);
    if (!(drop < draft->no_load_a_v)) {
        hp_reader_problem(reader, HP_KEY_NO_LOAD_A,
                          "stand.no_load_current_a_at_v: %.4g A through the winding alone needs "
                          "%.4g V, must be less than the %.4g V stated",
                          draft->no_load_a, drop, draft->no_load_a_v);
        return false;
    }
    result->speed = (draft->no_load_a_v - drop) / constant;
    result->torque = draft->no_load_a * constant;
    return true;
}

/* Gives the rotor what the wheel leaves: all of it steady friction when the file says
 * how much is viscous, else split as the default splits it at its own no-load speed. */
static void derive_friction(hp_reader *reader, const no_load *measured, double left)
{
    const char *how = "from stand.no_load_current_a_at_v";
    hp_friction *rotor = &reader->draft.drive.stand.rotor;
    double steady = left - rotor->viscous_nm_s_rad * measured->speed;
    if (hp_reader_lacks(reader, HP_KEY_ROTOR_VISCOUS)) {
        hp_drive usual = hp_drive_default();
        usual.controller.throttle = 1.0;
        double viscous = usual.stand.rotor.viscous_nm_s_rad * hp_drive_ideal_speed(&usual);
        steady = left * usual.stand.rotor.coulomb_nm / (usual.stand.rotor.coulomb_nm + viscous);
        hp_reader_derive(reader, HP_KEY_ROTOR_VISCOUS, (left - steady) / measured->speed,
                         "%s, split as in the default", how);
    }
    if (steady >= 0.0)
        hp_reader_derive(reader, HP_KEY_ROTOR_FRICTION, steady, "%s", how);
}

static void settle_no_load_current(hp_reader *reader)
{
    const hp_stand_params *stand = &reader->draft.drive.stand;
    no_load measured;
    if (!no_load_of(reader, &measured))
        return;
    double left = measured.torque - torque_of_rest(stand, measured.speed);
    double viscous = hp_reader_has(reader, HP_KEY_ROTOR_VISCOUS)
                         ? stand->rotor.viscous_nm_s_rad * measured.speed
                         : 0.0;
    if (!(left >= viscous)) {
        hp_reader_problem(reader, HP_KEY_NO_LOAD_A,
                          "stand.no_load_current_a_at_v makes a friction of %.3g N m on the rotor, "
                          "must be at least the %.3g N m that the other keys of stand make",
                          measured.torque, measured.torque - left + viscous);
        return;
    }
    if (!hp_reader_has(reader, HP_KEY_ROTOR_FRICTION)) {
        derive_friction(reader, &measured, left);
        return;
    }
    double said = stand->rotor.coulomb_nm + stand->rotor.viscous_nm_s_rad * measured.speed +
                  torque_of_rest(stand, measured.speed);
    if (fabs(measured.torque / said - 1.0) > HP_WAYS_AGREE)
        hp_reader_problem(
            reader, HP_KEY_NO_LOAD_A,
            "stand.no_load_current_a_at_v makes a friction of %.4g N m on the rotor, "
            "but stand.rotor.friction_nm and the keys beside it make it %.4g: the two "
            "must agree within %g %%, correct or leave out one",
            measured.torque, said, 100.0 * HP_WAYS_AGREE);
}

/* Whether everything that a no-load current is worked out from was read. */
static bool can_use_current(const hp_reader *reader)
{
    static const hp_key_id needed[] = {
        HP_KEY_RESISTANCE,      HP_KEY_MEASURED_C,     HP_KEY_WINDING_C,
        HP_KEY_SWITCH,          HP_KEY_GEAR,           HP_KEY_ROTOR_FRICTION,
        HP_KEY_ROTOR_VISCOUS,   HP_KEY_WHEEL_FRICTION, HP_KEY_WHEEL_VISCOUS,
        HP_KEY_NO_LOAD,         HP_KEY_BACKEMF_PEAK,   HP_KEY_BACKEMF_RMS,
        HP_KEY_TORQUE_CONSTANT, HP_KEY_HARMONICS,      HP_KEY_SHAPE,
        HP_KEY_FLAT_WIDTH,      HP_KEY_NO_LOAD_RPM,    HP_KEY_NO_LOAD_V,
        HP_KEY_BACKEMF,         HP_KEY_MOTOR,
    };
    for (size_t k = 0; k < sizeof needed / sizeof needed[0]; k++)
        if (!hp_reader_sound(reader, needed[k]))
            return false;
    return true;
}

/* Defaults are those of a direct-drive hub; behind a gear or a clutch they follow it. */
static void follow_gear(hp_reader *reader)
{
    hp_drive *drive = &reader->draft.drive;
    hp_stand_params usual = drive->stand;
    bool geared = usual.gear_ratio > 1.0;
    if (!hp_reader_sound(reader, HP_KEY_GEAR) || !hp_reader_sound(reader, HP_KEY_CLUTCH) ||
        (!geared && !usual.clutch))
        return;
    hp_stand_usual_friction(&usual);
    if (usual.clutch && hp_reader_lacks(reader, HP_KEY_WHEEL_FRICTION) &&
        hp_reader_lacks(reader, HP_KEY_WHEEL_BREAKAWAY))
        hp_reader_derive(reader, HP_KEY_WHEEL_FRICTION, usual.wheel.coulomb_nm,
                         "chosen: its own bearings and seal, which stop it when it overruns");
    if (hp_reader_lacks(reader, HP_KEY_ROTOR_FRICTION) &&
        hp_reader_lacks(reader, HP_KEY_ROTOR_BREAKAWAY) &&
        hp_reader_lacks(reader, HP_KEY_NO_LOAD_CURRENT))
        hp_reader_derive(reader, HP_KEY_ROTOR_FRICTION, usual.rotor.coulomb_nm,
                         "chosen: that of a direct-drive hub%s%s",
                         usual.clutch ? ", less the wheel's" : "",
                         geared ? ", over the gear ratio" : "");
    if (!geared)
        return;
    if (hp_reader_lacks(reader, HP_KEY_ROTOR_VISCOUS))
        hp_reader_derive(reader, HP_KEY_ROTOR_VISCOUS, usual.rotor.viscous_nm_s_rad,
                         "chosen: that of a direct-drive hub, over the gear ratio's square");
    if (hp_reader_lacks(reader, HP_KEY_COGGING))
        hp_reader_derive(reader, HP_KEY_COGGING, drive->motor.cogging_nm / usual.gear_ratio,
                         "chosen: that of a direct-drive hub, over the gear ratio");
}

static void settle_friction(hp_reader *reader)
{
    hp_stand_params *stand = &reader->draft.drive.stand;
    const body wheel = {HP_KEY_WHEEL_FRICTION, HP_KEY_WHEEL_BREAKAWAY, &stand->wheel};
    const body rotor = {HP_KEY_ROTOR_FRICTION, HP_KEY_ROTOR_BREAKAWAY, &stand->rotor};
    settle_breakaway(reader, &wheel);
    if (hp_reader_has(reader, HP_KEY_NO_LOAD_CURRENT)) {
        bool amperes = hp_reader_require(reader, HP_KEY_NO_LOAD_A, "the battery's current in A");
        bool volts = hp_reader_require(reader, HP_KEY_NO_LOAD_A_V, "the voltage at the controller");
        if (amperes && volts && can_use_current(reader))
            settle_no_load_current(reader);
        else
            return;
    }
    settle_breakaway(reader, &rotor);
}

/* The key that makes a body stop too fast to be followed. */
static void settle_rate(hp_reader *reader)
{
    const hp_drive *drive = &reader->draft.drive;
    hp_key_id key = HP_KEY_SMOOTH;
    if (!(drive->stand.smooth_rad_s > 0.0))
        key = drive->stand.wheel.viscous_nm_s_rad > drive->stand.rotor.viscous_nm_s_rad
                  ? HP_KEY_WHEEL_VISCOUS
                  : HP_KEY_ROTOR_VISCOUS;
    bool light = drive->stand.clutch && !(drive->motor.rotor_inertia_kg_m2 > 0.0);
    if (light || !hp_reader_sound(reader, key) || !hp_reader_sound(reader, HP_KEY_WHEEL_INERTIA) ||
        !hp_reader_sound(reader, HP_KEY_ROTOR_INERTIA) || !hp_reader_sound(reader, HP_KEY_GEAR))
        return;
    double rate = hp_drive_friction_rate(drive);
    if (rate > HP_RATE_MAX)
        hp_reader_problem(reader, key,
                          "with this friction so light a rotor or wheel would stop within %.2g s; "
                          "a simulation needs at least %g s: give a larger %s",
                          1.0 / rate, 1.0 / HP_RATE_MAX,
                          key == HP_KEY_SMOOTH ? "smooth_friction_rad_s, or none" : "inertia");
}

void hp_settle_stand(hp_reader *reader)
{
    const hp_drive *drive = &reader->draft.drive;
    follow_gear(reader);
    settle_friction(reader);
    if (hp_reader_sound(reader, HP_KEY_CLUTCH) && hp_reader_sound(reader, HP_KEY_ROTOR_INERTIA) &&
        drive->stand.clutch && !(drive->motor.rotor_inertia_kg_m2 > 0.0))
        hp_reader_problem(reader, HP_KEY_CLUTCH,
                          "stand.clutch is given, so motor.rotor_inertia_kg_m2 must be above 0: "
                          "behind a clutch the rotor turns by itself");
    settle_rate(reader);
}
