/* The drive: d.c. equivalents in closed form, and checks across its parts. */
#include "field_limits.h"

#include "hubphase/model/drive.h"
#include "model/backemf.h"
#include "model/stand.h"

#define ROUNDING 1e-13 /* relative; a few dozen operations */

static void default_is_accepted(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    check_accepted(hp_drive_check(&drive, &refusal));
}

static void duty_is_throttle_under_the_cap(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    drive.controller.throttle = 0.5;
    drive.controller.speed_cap = 0.6;
    check_close(hp_drive_duty(&drive), 0.3, 1e-16, "rounding");
}

/* No-load speed V / ke: 0.12 V s/rad between leads and 48 V give 3819.7 rev/min (read: Scilab
 * Textbook Companion folder 1892, chapter 4; the book itself is unidentified). */
static void ideal_speed_of_the_textbook_example(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    drive.motor.ke = 0.5 * 0.12;
    drive.supply.emf_v = 48.0;
    drive.controller.throttle = 1.0;
    check_close(hp_drive_ideal_speed(&drive) / HP_RPM, 3819.7, 0.05, "printed to one decimal");
}

/* The default hub's label: 215 rev/min at 36 V; the speed goes with duty and voltage. */
static void ideal_speed_goes_with_duty_and_voltage(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    drive.supply.emf_v = 36.0;
    drive.controller.throttle = 1.0;
    check_relative(hp_drive_ideal_speed(&drive) / HP_RPM, 215.0, ROUNDING, "rounding");
    drive.controller.throttle = 0.25;
    drive.supply.emf_v = 72.0;
    check_relative(hp_drive_ideal_speed(&drive) / HP_RPM, 107.5, ROUNDING, "rounding");
    drive.controller.throttle = 0.0;
    check_close(hp_drive_ideal_speed(&drive), 0.0, 0.0, "no throttle, no speed");
}

static double divisor(const hp_backemf *shape)
{
    hp_drive drive = hp_drive_default();
    drive.motor.backemf = *shape;
    return hp_drive_duty(&drive) * drive.supply.emf_v /
           (hp_drive_ideal_speed(&drive) * drive.motor.ke);
}

/* Divisor over ke: 2 for flats of 120 degrees or more, sqrt(3) 3 / pi for a sinusoid (derived), and
 * for a flat of 60 degrees 2 - 30 / 60 * 30 / 60 (two triangles on flanks of 60 degrees). */
static void divisor_is_the_mean_of_the_line_shape(void **state)
{
    (void)state;
    hp_backemf shape = hp_backemf_sinusoidal();
    check_relative(divisor(&shape), sqrt(3.0) * 3.0 / HP_PI, ROUNDING, "rounding");
    for (int flat = 120; flat < 180; flat += 10) {
        shape = hp_backemf_trapezoidal(flat * HP_DEG);
        check_relative(divisor(&shape), 2.0, ROUNDING, "rounding");
    }
    shape = hp_backemf_trapezoidal(60.0 * HP_DEG);
    check_relative(divisor(&shape), 1.75, ROUNDING, "rounding");
}

/* A series counts its angle from wherever it was measured: turned by any angle, or reversed in
 * sign, it is the same motor. For -(sin x + a sin 5x) the line shape about its peak is sqrt(3)
 * (cos y - a cos 5y), whose mean over 30 degrees either side is sqrt(3) (3 / pi) (1 - a / 5)
 * (derived). */
static void ideal_speed_does_not_depend_on_where_a_series_starts(void **state)
{
    (void)state;
    for (int degrees = -180; degrees < 180; degrees += 15) {
        double turn = degrees * HP_DEG;
        hp_backemf shape = hp_backemf_sinusoidal();
        shape.kind = HP_BACKEMF_FOURIER;
        shape.harmonics = 5;
        shape.sine[1] = -cos(turn);
        shape.cosine[1] = sin(turn);
        shape.sine[5] = -0.1 * cos(5.0 * turn);
        shape.cosine[5] = 0.1 * sin(5.0 * turn);
        hp_backemf_normalise(&shape);
        double sum = 0.0;
        enum { POINTS = 20000 };
        for (int k = 0; k < POINTS; k++) {
            double theta = (210.0 + 60.0 * (k + 0.5) / POINTS) * HP_DEG + turn;
            sum += hp_backemf_pair(&shape, HP_U, HP_V, theta) / POINTS;
        }
        check_relative(divisor(&shape), sum, 1e-8, "midpoint rule of 20000 points");
        check_relative(divisor(&shape), shape.scale * sqrt(3.0) * 3.0 / HP_PI * (1.0 - 0.1 / 5.0),
                       1e-12, "rounding");
    }
}

/* Each part's fault comes through with part and field. */
static void a_fault_of_any_part_is_named(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    drive.motor.resistance_ohm = -0.1;
    check_refused(hp_drive_check(&drive, &refusal), "motor.resistance_ohm is -0.1");
    drive = hp_drive_default();
    drive.sensors.hysteresis_rad = -1.0;
    check_refused(hp_drive_check(&drive, &refusal), "sensors.hysteresis_deg");
    drive = hp_drive_default();
    drive.controller.throttle = 2.0;
    check_refused(hp_drive_check(&drive, &refusal), "controller.throttle is 2");
    drive = hp_drive_default();
    drive.supply.emf_v = 0.0;
    check_refused(hp_drive_check(&drive, &refusal), "supply.battery_v is 0");
    drive = hp_drive_default();
    drive.stand.gear_ratio = 0.5;
    check_refused(hp_drive_check(&drive, &refusal), "stand.gear_ratio is 0.5");
}

static void a_clutch_needs_a_rotor_with_inertia(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    drive.stand.clutch = true;
    drive.stand.gear_ratio = 5.0;
    check_refused(hp_drive_check(&drive, &refusal),
                  "motor.rotor_inertia_kg_m2 is 0, must be above");
    drive.motor.rotor_inertia_kg_m2 = 0.001;
    check_accepted(hp_drive_check(&drive, &refusal));
}

static void the_cut_off_lies_below_the_battery(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    drive.controller.undervoltage_v = drive.supply.emf_v;
    check_refused(hp_drive_check(&drive, &refusal), "controller.undervoltage_v is 37");
    drive.controller.undervoltage_v = 0.9 * drive.supply.emf_v;
    check_accepted(hp_drive_check(&drive, &refusal));
}

/* A braked motor as a d.c. one, by the trapezoid of its equations in small steps: the throttle
 * closes evenly within `seconds`, both switches of a leg driven, and the supply takes nothing back.
 * Returns the highest volts at the controller. */
static double braked(const hp_drive *drive, double throttle, double seconds)
{
    const hp_stand_params *stand = &drive->stand;
    hp_drive at = *drive;
    at.controller.throttle = throttle;
    double w = hp_drive_ideal_speed(&at), k = 2.0 * drive->motor.ke;
    double ohm = 2.0 * hp_motor_resistance(&drive->motor), henry = 2.0 * drive->motor.inductance_h;
    double inertia = hp_stand_inertia(stand, drive->motor.rotor_inertia_kg_m2);
    double emf = drive->supply.emf_v, volts = emf, amps = 0.0, most = emf;
    hp_friction friction = hp_stand_friction(stand);
    const double h = 1e-5;
    for (double t = 0.0; t < seconds && w > 0.0; t += h) {
        double duty = hp_drive_duty(&at) * (1.0 - t / seconds);
        double fed = fmax(0.0, (emf - volts) / drive->supply.resistance_ohm);
        amps = (amps + h / henry * (duty * volts - k * w)) / (1.0 + h * ohm / henry);
        volts += h / 1e-3 * (fed - duty * amps);
        w += h / inertia * (k * amps - friction.coulomb_nm - friction.viscous_nm_s_rad * w);
        most = fmax(most, volts);
    }
    return most;
}

/* What a supply can be pumped to is a bound that the worst hand comes near. */
static void a_braked_motor_pumps_its_supply(void **state)
{
    (void)state;
    const double throttle[] = {0.35, 0.2};
    for (int n = 0; n < 2; n++) {
        hp_drive drive = hp_drive_default();
        double bound = hp_drive_pumped_v(&drive, throttle[n]), most = 0.0;
        for (double seconds = 0.05; seconds < 5.0; seconds *= 1.5)
            most = fmax(most, braked(&drive, throttle[n], seconds));
        print_message("%g %%: pumped to %.1f V at most, said %.1f V\n", 100.0 * throttle[n], most,
                      bound);
        check_true(most < bound, "pumped to %g V, said %g", most, bound);
        check_true(most > 0.7 * bound, "pumped to %g V only, said %g", most, bound);
    }
    hp_drive clutched = hp_drive_default();
    clutched.stand.clutch = true;
    clutched.motor.rotor_inertia_kg_m2 = 0.001;
    check_true(hp_drive_pumped_v(&clutched, 0.35) < 1.1 * clutched.supply.emf_v,
               "the wheel runs on behind its clutch");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(default_is_accepted),
        cmocka_unit_test(duty_is_throttle_under_the_cap),
        cmocka_unit_test(ideal_speed_of_the_textbook_example),
        cmocka_unit_test(ideal_speed_goes_with_duty_and_voltage),
        cmocka_unit_test(divisor_is_the_mean_of_the_line_shape),
        cmocka_unit_test(ideal_speed_does_not_depend_on_where_a_series_starts),
        cmocka_unit_test(a_fault_of_any_part_is_named),
        cmocka_unit_test(a_braked_motor_pumps_its_supply),
        cmocka_unit_test(a_clutch_needs_a_rotor_with_inertia),
        cmocka_unit_test(the_cut_off_lies_below_the_battery),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
