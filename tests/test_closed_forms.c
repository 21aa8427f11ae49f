/*
 * The engine against closed forms that stand in print or follow from them: commutation interval,
 * torque of a sinusoidal motor under six-step current, d.c. machine, step response.
 *
 * Each row also goes to docs/validation.md, through tests/validation/record.h.
 */
#include "runs.h"

#include "model/circuit.h"
#include "model/lead.h"
#include "validation/record.h"

/* Where codes change from 110, which drives V over U, to 010, which drives W over U: an upper-side
 * hand-over from V to W. */
#define HAND_OVER (90.0 * HP_DEG)

static const record_source carlson = {
    "Carlson, Lajoie-Mazenc & Fagundes, IEEE Trans. Ind. Appl. 28(3):632-638, 1992; re-derived",
    "memory"};
static const record_source sine_derived = {
    "ideal six-step current, integral of the sine over a sector", "derived"};
static const record_source textbook = {"d.c. machine, textbook", "derived"};

/* Nothing but the drive's own circuit: ideal switches and diodes, ideal battery, edges in place. */
static hp_drive ideal_drive(double volts)
{
    hp_drive d = bare_drive();
    d.motor.pole_pairs = 1;
    d.motor.winding_c = 20.0;
    d.sensors.hysteresis_rad = 0.0;
    d.controller.switch_resistance_ohm = 0.0;
    d.controller.diode_drop_v = 0.0;
    d.supply = (hp_supply_params){.emf_v = volts, .resistance_ohm = 0.0};
    d.stand.rotor = (hp_friction){0.0, 0.0, 0.0};
    return d;
}

/* ---- commutation interval ----------------------------------------------------------------- */

#define U_VOLTS  100.0
#define L_HENRY  1e-3
#define ROTOR_WS 20.0 /* [rad/s] */

/* What one hand-over shows. Between events currents are straight lines, so that straight lines
 * between samples are exact. */
typedef struct hand_over {
    double share;     /* E / U at the hand-over */
    double current;   /* [A] I just before */
    double fall_time; /* [s] until the leaving current is zero */
    double rise_time; /* [s] until the arriving one has reached I; 0: it does not before the fall */
    double swing;     /* change of the third current's magnitude over I, at the earlier of both */
} hand_over;

static double between(double a, double b, double share)
{
    return a + share * (b - a);
}

static hand_over find_hand_over(const hp_trace *trace)
{
    hand_over h = {0};
    double edge = first_event(trace, HP_EVENT_SENSOR, hp_code(0, 1, 0)).time;
    check_true(edge > 0.0, "no hand-over");
    double third = 0.0;
    for (size_t k = 1; k < trace->count && h.fall_time == 0.0; k++) {
        const hp_sample *a = &trace->sample[k - 1], *b = &trace->sample[k];
        if (b->time <= edge) {
            h.current = b->current[HP_V];
            h.share = b->backemf[HP_V] / U_VOLTS;
            continue;
        }
        if (h.rise_time == 0.0 && b->current[HP_W] >= h.current) {
            double share = (h.current - a->current[HP_W]) / (b->current[HP_W] - a->current[HP_W]);
            h.rise_time = between(a->time, b->time, share) - edge;
            third = between(a->current[HP_U], b->current[HP_U], share);
        }
        if (b->current[HP_V] <= 2.0 * HP_DIODE_AMP_SLACK) {
            h.fall_time = b->time - edge;
            if (h.rise_time == 0.0)
                third = b->current[HP_U];
        }
    }
    check_true(h.fall_time > 0.0, "the leaving current does not fall to zero");
    h.swing = fabs(third) / h.current - 1.0;
    return h;
}

/* E = share * U at constant speed; the pair before the hand-over is on for `ahead` seconds. */
static hand_over run_hand_over(double share, double ahead)
{
    hp_engine *engine = make_engine();
    hp_drive d = ideal_drive(U_VOLTS);
    d.motor.resistance_ohm = 1e-9;
    d.motor.inductance_h = L_HENRY;
    d.motor.ke = fmax(share * U_VOLTS / ROTOR_WS, 1e-9);
    /* Flats wide enough to outlast the hand-over, as the closed form has them. */
    d.motor.backemf = hp_backemf_trapezoidal(170.0 * HP_DEG);
    d.stand.wheel_inertia_kg_m2 = 1000.0;
    hp_run_options o = run_for(ahead + 4e-3, HAND_OVER - ROTOR_WS * ahead);
    o.start_speed = ROTOR_WS;
    o.tolerance = 1e-10;
    o.max_step_s = 0.01 * o.seconds;
    hp_trace trace = full_trace(o.seconds, 0.0);
    run_wiring(engine, &d, 1, &o, &trace);
    hand_over h = find_hand_over(&trace);
    hp_trace_free(&trace);
    hp_engine_free(engine);
    return h;
}

/* In units of U = L = I = 1, as the table prints them; each against the closed form at the E / U
 * that the run had, and against the printed row. */
static void commutation_interval(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double share, ahead; /* E / U; seconds of current before */
        double time, swing;  /* printed */
    } row[] = {
        {"E/U 0", 0.0, 0.2e-3, 1.5, 0.5},
        {"E/U 0.1", 0.1, 0.25e-3, 1.6667, 0.3333},
        {"E/U 0.25", 0.25, 0.4e-3, 2.0, 0.0},
        {"E/U 0.4", 0.4, 1e-3, 1.6667, -0.3333},
        /* At exactly a half no current flows before the hand-over. */
        {"E/U 0.5 (run at 0.49995)", 0.49995, 50e-3, 1.5, -0.5},
    };
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        hand_over h = run_hand_over(row[k].share, row[k].ahead);
        double s = h.share, unit = U_VOLTS / (L_HENRY * h.current);
        bool rises_first = h.rise_time > 0.0;
        double time = unit * (rises_first ? h.rise_time : h.fall_time);
        char name[128];
        snprintf(name, sizeof name, "commutation time at %s, closed form", row[k].name);
        check_recorded(name, "L I / U", unit * h.fall_time, 3.0 / (1.0 + 2.0 * s), 2e-5,
                       "a fall is found to the diode's slack of 1e-7 A, and the speed drifts",
                       carlson);
        snprintf(name, sizeof name, "time to the first of both ends at %s, rounded", row[k].name);
        check_recorded(name, "L I / U", time, row[k].time, 2e-4,
                       "four decimals and E/U off by 5e-5", carlson);
        snprintf(name, sizeof name, "swing of the third current at %s, rounded", row[k].name);
        check_recorded(name, "", h.swing, row[k].swing, 2e-4, "four decimals and E/U off by 5e-5",
                       carlson);
        double swing =
            s < 0.25 ? (1.0 - 4.0 * s) / (2.0 * (1.0 - s)) : (1.0 - 4.0 * s) / (1.0 + 2.0 * s);
        check_close(h.swing, swing, 2e-5, "speed drift during the hand-over");
    }
}

/* ---- sinusoidal back-EMF under six-step current ------------------------------------------- */

/* Mean torque over its peak sqrt(3) ke I with the current forced: the back-EMF is a millionth of
 * the supply, and hand-overs take 5e-5 of a radian each. */
static double forced_torque(int wiring, double displacement)
{
    hp_engine *engine = make_engine();
    hp_drive d = ideal_drive(100.0);
    d.motor.backemf = hp_backemf_sinusoidal();
    d.motor.ke = 1e-6;
    d.motor.resistance_ohm = 10.0;
    d.motor.inductance_h = 5e-6;
    d.stand.wheel_inertia_kg_m2 = 1000.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        d.sensors.placement_rad[k] = displacement;
    hp_run_options o = run_for(0.15, 10.0 * HP_DEG);
    o.start_speed = 100.0;
    o.settle_s = 0.001;
    o.tolerance = 1e-6;
    hp_figures f = run_wiring(engine, &d, wiring, &o, NULL);
    hp_engine_free(engine);
    check_true(f.window_turns == 1, "%d turns", f.window_turns);
    return f.torque_mean / (sqrt(3.0) * d.motor.ke * 100.0 / 20.0);
}

static void sinusoidal_motor_under_six_step_current(void **state)
{
    (void)state;
    /* Beyond 30 degrees no sensor is placed, but a wiring 120 degrees out holds its field 60
     * degrees from the best place: displacements of 60 and, with sensors 15 degrees off, 45. */
    static const struct {
        int wiring;
        double placement_deg, displacement_deg, printed;
    } row[] = {
        {1, 0.0, 0.0, 0.95493},   {1, 10.0, 10.0, 0.94042}, {1, -10.0, 10.0, 0.94042},
        {1, 20.0, 20.0, 0.89734}, {1, 30.0, 30.0, 0.82699}, {5, 15.0, 45.0, 0.67524},
        {5, 0.0, 60.0, 0.47746},  {4, 0.0, 60.0, 0.47746},
    };
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        /* Turning forward whatever the wiring would do: the mean's magnitude is compared. */
        double mean = fabs(forced_torque(row[k].wiring, row[k].placement_deg * HP_DEG));
        char name[128];
        snprintf(name, sizeof name,
                 "mean torque over peak, displaced by %g deg (wiring %d, %g deg)",
                 row[k].displacement_deg, row[k].wiring, row[k].placement_deg);
        check_recorded(name, "", mean, 3.0 / HP_PI * cos(row[k].displacement_deg * HP_DEG), 2e-4,
                       "six hand-overs a turn of 5e-5 rad each, and what they leave behind",
                       sine_derived);
        check_close(mean, row[k].printed, 2e-4, "as above");
    }
}

/* Least torque per ampere over its peak, from the sectors' geometry. */
static void sinusoidal_least_torque(void **state)
{
    (void)state;
    static const struct {
        int wiring; /* 5: a field 120 degrees out, 60 late when running backward */
        double placement_deg, displacement_deg, printed;
    } row[] = {{1, 0.0, 0.0, 0.8660}, {1, 10.0, 10.0, 0.766}, {1, 20.0, 20.0, 0.643},
               {1, 30.0, 30.0, 0.5},  {5, 15.0, 45.0, 0.259}, {5, 0.0, 60.0, 0.0}};
    hp_commutation_table table = hp_commutation_table_120();
    hp_backemf sine = hp_backemf_sinusoidal();
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        hp_wiring wiring = hp_wiring_from_number(row[k].wiring);
        hp_sensors_params sensors = hp_sensors_params_default();
        for (int j = 0; j < HP_PHASE_COUNT; j++)
            sensors.placement_rad[j] = row[k].placement_deg * HP_DEG;
        hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
        int count = hp_lead_sectors(&table, &sensors, &sine, &wiring, sector);
        double least = INFINITY, most = -INFINITY;
        /* Turning the way that the wiring drives. */
        double way = sector[0].torque_max + sector[0].torque_min > 0.0 ? 1.0 : -1.0;
        for (int n = 0; n < count; n++) {
            double a = way * sector[n].torque_min, b = way * sector[n].torque_max;
            least = fmin(least, fmin(a, b) * 2.0 / sqrt(3.0));
            most = fmax(most, fmax(a, b) * 2.0 / sqrt(3.0));
        }
        char name[128];
        snprintf(name, sizeof name, "least torque over peak, displaced by %g deg",
                 row[k].displacement_deg);
        check_recorded(name, "", least, row[k].printed, 5e-4, "three decimals", sine_derived);
        if (k == 0)
            check_recorded("peak-to-peak torque over mean", "", (most - least) * HP_PI / 3.0,
                           0.1403, 5e-5, "four decimals", sine_derived);
    }
}

/* ---- d.c. step response ------------------------------------------------------------------- */

/* First sample at or after a time. */
static const hp_sample *sample_at(const hp_trace *trace, double time)
{
    size_t k = 0;
    while (k + 1 < trace->count && trace->sample[k].time < time - 1e-12)
        k++;
    return &trace->sample[k];
}

static void current_steps_up(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = ideal_drive(24.0);
    hold_rotor(&d);
    double tau = d.motor.inductance_h / d.motor.resistance_ohm;
    hp_run_options o = run_for(5.0 * tau, 0.0);
    o.tolerance = 1e-10;
    hp_trace trace = full_trace(o.seconds, tau);
    run_wiring(engine, &d, 1, &o, &trace);
    double end = 24.0 / (2.0 * d.motor.resistance_ohm);
    for (int k = 1; k <= 3; k++) {
        char name[128];
        snprintf(name, sizeof name, "current of a held rotor after %d L/R, over V/R", k);
        check_recorded(name, "", sample_at(&trace, k * tau)->current[HP_V] / end, 1.0 - exp(-k),
                       1e-8, "a hundred steps at 1e-10", textbook);
    }
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

static void speed_steps_up(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = ideal_drive(24.0);
    d.motor.backemf = hp_backemf_trapezoidal(120.0 * HP_DEG);
    d.motor.ke = 0.5;
    d.motor.resistance_ohm = 0.2;
    d.motor.inductance_h = 0.2e-5; /* L/R of 10 us against a time constant of 20 ms */
    double tau = 0.02;
    d.stand.wheel_inertia_kg_m2 =
        tau * 4.0 * d.motor.ke * d.motor.ke / (2.0 * d.motor.resistance_ohm);
    hp_run_options o = run_for(3.5 * tau, 10.0 * HP_DEG);
    o.tolerance = 1e-8;
    hp_trace trace = full_trace(o.seconds, tau);
    run_wiring(engine, &d, 1, &o, &trace);
    for (int k = 1; k <= 3; k++) {
        char name[128];
        snprintf(name, sizeof name, "speed after %d J R/(Kt Ke), over V/Ke", k);
        check_recorded(name, "", sample_at(&trace, k * tau)->speed / 24.0, 1.0 - exp(-k), 1e-3,
                       "L/R is 5e-4 of the time constant, and each hand-over dips", textbook);
    }
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(commutation_interval),
        cmocka_unit_test(sinusoidal_motor_under_six_step_current),
        cmocka_unit_test(sinusoidal_least_torque),
        cmocka_unit_test(current_steps_up),
        cmocka_unit_test(speed_steps_up),
    };
    record_section("closed_forms");
    return cmocka_run_group_tests(tests, NULL, NULL);
}
