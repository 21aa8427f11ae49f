/*
 * Scenario files that are right: what a person measured becomes what the model wants.
 */
#include "scenario_text.h"

#include "record/scenario/scenario_keys.h"
#include "record/scenario/scenario_settle.h"

#include "hubphase/decide/survey.h"

#include <dirent.h>

#define FILE_NAME "test_scenario.yaml"
#define ROUNDING  "a few operations in double precision"

/* The least that a motor section needs, with room for more of its keys and for sections after it.
 */
#define ESSENTIALS                                                                                 \
    "hubphase: 1\n"                                                                                \
    "motor:\n"                                                                                     \
    "  pole_pairs: 23\n"                                                                           \
    "  resistance_between_leads_ohm: 0.21\n"
#define NO_LOAD "  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}\n"

static hp_scenario load(const char *text)
{
    loaded l = scenario_load_text(FILE_NAME, text);
    check_true(l.result == HP_OK, "%s: %s", l.err.text, l.printed);
    assert_string_equal(l.printed, "");
    free(l.printed);
    return l.scenario;
}

static void minimal_scenario_is_the_default_drive_but_for_its_motor(void **state)
{
    (void)state;
    hp_scenario scenario = load(ESSENTIALS NO_LOAD);
    hp_drive usual = hp_drive_default();
    assert_memory_equal(&scenario.drive.sensors, &usual.sensors, sizeof usual.sensors);
    assert_memory_equal(&scenario.drive.controller.table, &usual.controller.table,
                        sizeof usual.controller.table);
    check_close(scenario.drive.controller.throttle, usual.controller.throttle, 0.0, "copied");
    check_close(scenario.drive.controller.stall_cutout_s, usual.controller.stall_cutout_s, 0.0,
                "copied");
    check_close(scenario.drive.supply.emf_v, usual.supply.emf_v, 0.0, "copied");
    check_close(scenario.drive.stand.rotor.coulomb_nm, usual.stand.rotor.coulomb_nm, 0.0, "copied");
    check_close(scenario.drive.stand.rotor.breakaway_nm, usual.stand.rotor.breakaway_nm, 0.0,
                "copied");
    check_close(scenario.drive.motor.inductance_h, usual.motor.inductance_h, 0.0, "copied");
    check_int(scenario.drive.motor.pole_pairs, 23);
    check_relative(scenario.drive.motor.resistance_ohm, 0.105, 1e-14, ROUNDING);
    check_int(scenario.starts, hp_survey_options_default().starts);
    check_close(scenario.run.settle_s, hp_run_options_default().settle_s, 0.0, "copied");
    assert_null(scenario.about);
    assert_string_equal(scenario.labels.motor_lead[HP_V], "V");
    assert_string_equal(scenario.path, FILE_NAME);
    hp_scenario_free(&scenario);
    hp_scenario_free(&scenario);
}

static void resistance_is_halved_and_brought_to_20_degrees(void **state)
{
    (void)state;
    hp_scenario scenario =
        load("hubphase: 1\nmotor:\n  magnets: 46\n  resistance_between_leads_ohm: 0.3\n"
             "  resistance_measured_at_c: 35\n  winding_temperature_c: 80\n"
             "  inductance_between_leads_mh: 0.5\n" NO_LOAD);
    const hp_motor_params *motor = &scenario.drive.motor;
    check_int(motor->pole_pairs, 23);
    /* 0.00393 per kelvin at 20 C: IEC 60028 (read, in an instrument's manual). */
    check_relative(motor->resistance_ohm, 0.15 / (1.0 + 0.00393 * 15.0), 1e-14, ROUNDING);
    check_relative(hp_motor_resistance(motor),
                   0.15 * (1.0 + 0.00393 * 60.0) / (1.0 + 0.00393 * 15.0), 1e-14, ROUNDING);
    check_relative(motor->inductance_h, 0.25e-3, 1e-14, ROUNDING);
    hp_scenario_free(&scenario);
}

/* ke that a motor section with this back-EMF, and stand, gives. */
static double ke_of(const char *backemf, const char *rest)
{
    char text[1024];
    snprintf(text, sizeof text, "%s%s%s", ESSENTIALS, backemf, rest);
    hp_scenario scenario = load(text);
    double ke = scenario.drive.motor.ke;
    hp_scenario_free(&scenario);
    return ke;
}

#define SINE "  backemf: {shape: sinusoidal}\n"
#define LEANING                                                                                    \
    "  backemf: {shape: fourier, harmonics: [{n: 1, sine: -1, cosine: 0.4}, {n: 5, sine: 0.1}]}\n"

/* Peak against rms and line against phase are the usual traps. That K_E is stated as rms between
 * two terminals per 1000 rev/min, R and L from phase to phase: Kollmorgen, Motor Data Legend, 2013
 * (read). Kt = Ke of a lead pair in SI: textbook. Form factors: derived. */
static void four_ways_to_give_the_back_emf(void **state)
{
    (void)state;
    const double krpm = 1000.0 * HP_RPM;
    /* Flat of 120 degrees: between leads a flat of 60 degrees at 2 ke, flanks of 120 degrees
     * through zero: rms 2 sqrt((60 + 120 / 3) / 180). */
    check_relative(ke_of(NO_LOAD, ""), 36.0 / (2.0 * 215.0 * HP_RPM), 1e-12, ROUNDING);
    check_relative(ke_of("  backemf_peak_v_per_krpm: 170\n", ""), 170.0 / (2.0 * krpm), 1e-12,
                   ROUNDING);
    check_relative(ke_of("  backemf_rms_v_per_krpm: 125\n", ""),
                   125.0 / (2.0 * sqrt(100.0 / 180.0) * krpm), 1e-6, "7200 points on the flanks");
    check_relative(ke_of("  torque_constant_nm_per_a: 1.6\n", ""), 0.8, 1e-12, ROUNDING);
    /* Sine: line amplitude sqrt 3, mean over the sector 3/pi of it. */
    check_relative(ke_of(NO_LOAD, SINE), 36.0 / (3.0 / HP_PI * sqrt(3.0) * 215.0 * HP_RPM), 1e-12,
                   ROUNDING);
    check_relative(ke_of("  backemf_peak_v_per_krpm: 170\n", SINE), 170.0 / (sqrt(3.0) * krpm),
                   1e-6, "7200 points on the crest");
    check_relative(ke_of("  backemf_rms_v_per_krpm: 125\n", SINE), 125.0 / (sqrt(1.5) * krpm),
                   1e-12, ROUNDING);
    check_relative(ke_of("  torque_constant_nm_per_a: 1.6\n", SINE),
                   1.6 / (3.0 / HP_PI * sqrt(3.0)), 1e-12, ROUNDING);
}

/* All four speak of the wheel; the model's ke is per speed of the rotor, which turns faster. */
static void gear_divides_the_back_emf_constant(void **state)
{
    (void)state;
    const char *gear = "stand: {gear_ratio: 4.5}\n";
    static const char *const ways[] = {NO_LOAD, "  backemf_peak_v_per_krpm: 170\n",
                                       "  backemf_rms_v_per_krpm: 125\n",
                                       "  torque_constant_nm_per_a: 1.6\n"};
    for (size_t k = 0; k < sizeof ways / sizeof ways[0]; k++)
        check_relative(ke_of(ways[k], gear), ke_of(ways[k], "") / 4.5, 1e-12, ROUNDING);
}

/* A loss-free motor with this ke turns the wheel as fast as the scenario says. */
static void ideal_speed_is_the_no_load_speed(void **state)
{
    (void)state;
    static const char *const shapes[] = {"", SINE, "  backemf: {flat_width_deg: 100}\n", LEANING};
    for (size_t k = 0; k < sizeof shapes / sizeof shapes[0]; k++) {
        char text[1024];
        snprintf(text, sizeof text, "%s%s%s%s", ESSENTIALS, NO_LOAD, shapes[k],
                 "controller: {throttle_percent: 100}\nsupply: {battery_v: 36}\n"
                 "stand: {gear_ratio: 5}\n");
        hp_scenario scenario = load(text);
        check_relative(hp_drive_ideal_speed(&scenario.drive) / 5.0, 215.0 * HP_RPM, 1e-12,
                       ROUNDING);
        hp_scenario_free(&scenario);
    }
}

/* Flat of 20 degrees: from the end of one flat to the other's the line sum stays at 2 - 40/80. */
static void line_shape_of_a_narrow_trapezoid(void **state)
{
    (void)state;
    hp_backemf narrow = hp_backemf_trapezoidal(20.0 * HP_DEG);
    check_close(hp_line_shape_of(&narrow).peak, 1.5, 1e-12, ROUNDING);
    hp_backemf sine = hp_backemf_sinusoidal();
    check_close(hp_line_shape_of(&sine).mean, 3.0 / HP_PI * sqrt(3.0), 1e-12, ROUNDING);
    hp_backemf usual = hp_backemf_trapezoidal(120.0 * HP_DEG);
    check_close(hp_line_shape_of(&usual).mean, 2.0, 1e-12, ROUNDING);
}

static void ways_that_agree_take_the_first(void **state)
{
    (void)state;
    double no_load = ke_of(NO_LOAD, "");
    check_relative(ke_of("  torque_constant_nm_per_a: 1.66\n" NO_LOAD, ""), no_load, 1e-14,
                   ROUNDING);
    check_relative(ke_of(NO_LOAD "  backemf_peak_v_per_krpm: 161\n", ""), no_load, 1e-14, ROUNDING);
}

/* The current that was put in comes back out of the simulation under the same conditions: full
 * throttle, nothing limited, the stated voltage at the controller. */
static void check_no_load_current(const char *shape, const char *stand, double amperes)
{
    char text[1400];
    snprintf(text, sizeof text,
             "%s%s%scontroller: {throttle_percent: 100, ramp_percent_per_s: none,"
             " battery_current_limit_a: none, phase_current_limit_a: none, diode_drop_v: 0}\n"
             "supply: {battery_v: 36, resistance_mohm: 0}\n"
             "stand:\n  wheel_inertia_kg_m2: 0.05\n"
             "  no_load_current_a_at_v: {current_a: %g, volts: 36}\n%s",
             ESSENTIALS, NO_LOAD, shape, amperes, stand);
    hp_scenario scenario = load(text);
    scenario.drive.motor.cogging_nm = 0.0;
    scenario.drive.stand.load_nm = 0.0; /* by name the figure is without it */
    hp_run_options run = hp_run_options_default();
    hp_wiring wiring = hp_wiring_from_number(1);
    hp_error err = hp_error_none();
    hp_figures figures;
    hp_engine *engine = hp_engine_create(&err);
    assert_non_null(engine);
    hp_result result = hp_engine_run(engine, &scenario.drive, &wiring, &run, NULL, &figures, &err);
    check_true(result == HP_OK, "%s", err.text);
    check_relative(figures.battery_current, amperes, 0.03,
                   "the current's ripple loses copper power that the conversion leaves out");
    hp_engine_free(engine);
    hp_scenario_free(&scenario);
}

static void no_load_current_comes_back_out_of_the_simulation(void **state)
{
    (void)state;
    check_no_load_current("", "", 1.1);
    check_no_load_current("", "  rotor: {viscous_nm_s_per_rad: 0.02}\n", 1.1);
    check_no_load_current("", "  wheel: {friction_nm: 0.3}\n", 1.6);
    check_no_load_current("", "  wheel: {friction_nm: 0.3}\n  load_nm: 5\n", 1.6);
    check_no_load_current("", "  load_nm: -0.5\n", 1.1);
    check_no_load_current("", "  gear_ratio: 4.4\n  wheel: {friction_nm: 0.3}\n", 1.1);
    check_no_load_current(SINE, "", 1.4);
}

/* Torque K I, at (U - I R) / K, split in the default's proportion. */
static void no_load_current_makes_friction(void **state)
{
    (void)state;
    hp_scenario scenario =
        load(ESSENTIALS NO_LOAD "stand: {no_load_current_a_at_v: {current_a: 1, volts: 36}}\n");
    const hp_stand_params *stand = &scenario.drive.stand;
    const hp_stand_params usual = hp_stand_params_default();
    double constant = 36.0 / (215.0 * HP_RPM);
    double drop = 0.21 + 2.0 * scenario.drive.controller.switch_resistance_ohm;
    double speed = (36.0 - drop) / constant;
    check_relative(stand->rotor.coulomb_nm + stand->rotor.viscous_nm_s_rad * speed, constant, 1e-12,
                   ROUNDING);
    check_relative(stand->rotor.breakaway_nm / stand->rotor.coulomb_nm,
                   usual.rotor.breakaway_nm / usual.rotor.coulomb_nm, 1e-12, ROUNDING);
    hp_scenario_free(&scenario);
}

static void breakaway_and_friction_follow_each_other(void **state)
{
    (void)state;
    const hp_friction usual = hp_stand_params_default().rotor;
    double factor = usual.breakaway_nm / usual.coulomb_nm;
    hp_scenario scenario =
        load(ESSENTIALS NO_LOAD "stand: {rotor: {friction_nm: 1.4}, wheel: {breakaway_nm: 2}}\n");
    check_relative(scenario.drive.stand.rotor.breakaway_nm, 1.4 * factor, 1e-14, ROUNDING);
    check_relative(scenario.drive.stand.wheel.coulomb_nm, 2.0 / factor, 1e-14, ROUNDING);
    hp_scenario_free(&scenario);
    scenario = load(ESSENTIALS NO_LOAD "stand: {rotor: {friction_nm: 0}}\n");
    check_close(scenario.drive.stand.rotor.breakaway_nm, 0.0, 0.0, "zero times a factor");
    hp_scenario_free(&scenario);
}

#define GEARED "stand: {gear_ratio: 4, clutch: yes%s}\n"

static hp_scenario load_geared(const char *more)
{
    char text[800];
    snprintf(text, sizeof text, ESSENTIALS "  rotor_inertia_kg_m2: 0.001\n" NO_LOAD GEARED, more);
    return load(text);
}

/* A geared hub has not the friction of a direct-drive one, and says where its own comes from. */
static void friction_follows_gear_and_clutch(void **state)
{
    (void)state;
    hp_stand_params usual = hp_stand_params_default();
    usual.gear_ratio = 4.0;
    usual.clutch = true;
    hp_stand_usual_friction(&usual);
    hp_scenario s = load_geared("");
    const hp_stand_params *stand = &s.drive.stand;
    check_relative(stand->rotor.coulomb_nm, usual.rotor.coulomb_nm, 1e-12, ROUNDING);
    check_relative(stand->rotor.breakaway_nm, usual.rotor.breakaway_nm, 1e-12, ROUNDING);
    check_relative(stand->rotor.viscous_nm_s_rad, usual.rotor.viscous_nm_s_rad, 1e-12, ROUNDING);
    check_relative(stand->wheel.coulomb_nm, usual.wheel.coulomb_nm, 1e-12, ROUNDING);
    check_relative(stand->wheel.breakaway_nm, usual.wheel.breakaway_nm, 1e-12, ROUNDING);
    check_relative(s.drive.motor.cogging_nm, hp_motor_params_default().cogging_nm / 4.0, 1e-12,
                   ROUNDING);
    static const char *const key[] = {"stand.rotor.friction_nm", "stand.rotor.viscous_nm_s_per_rad",
                                      "stand.wheel.friction_nm", "motor.cogging_peak_nm"};
    for (size_t k = 0; k < sizeof key / sizeof key[0]; k++) {
        const hp_parameter *p = hp_parameters_find(&s.parameters, key[k]);
        check_true(p && p->origin == HP_ORIGIN_DERIVED, "%s is no derived value", key[k]);
        check_text_contains(p->why, "chosen: ");
    }
    hp_scenario_free(&s);
    s = load_geared(", rotor: {breakaway_nm: 0.3}, wheel: {friction_nm: 0.2}");
    check_relative(s.drive.stand.rotor.breakaway_nm, 0.3, 1e-12, ROUNDING);
    check_relative(s.drive.stand.rotor.coulomb_nm, 0.21, 1e-12, ROUNDING);
    check_relative(s.drive.stand.wheel.coulomb_nm, 0.2, 1e-12, ROUNDING);
    hp_scenario_free(&s);
}

static const char full[] =
    "hubphase: 1\nname: Barrow\nabout: |\n  First line.\n\n  Last line.\n"
    "motor:\n  name: hub\n  pole_pairs: 10\n  magnets: 20\n  resistance_between_leads_ohm: 2e-1\n"
    "  no_load_speed_rpm_at_v: {speed_rpm: 300, volts: 48}\n  winding: delta\n"
    "  backemf: {shape: trapezoidal, flat_width_deg: 110}\n  cogging_peak_nm: 0.02\n"
    "  cogging_periods_per_electrical_turn: 12\n  cogging_phase_deg: 90\n"
    "  rotor_inertia_kg_m2: 0.001\n  open_lead: V\n"
    "sensors:\n  spacing_deg: 60\n  placement_error_deg: {U: -3, W: 4.5}\n  hysteresis_deg: 1\n"
    "  faults: {U: stuck_high, V: stuck_low, W: inverted}\n  powered: no\n"
    "controller:\n  name: box\n  table: six_step_60\n  throttle_percent: 80\n"
    "  speed_steps_percent: [40, 70, 100]\n  speed_step: 2\n  ramp_percent_per_s: none\n"
    "  battery_current_limit_a: none\n  phase_current_limit_a: 30\n  current_filter_ms: 5\n"
    "  limiter_per_s: 20\n  stall_cutout_s: none\n  undervoltage_v: 40\n  pwm: one_sided\n"
    "  pwm_khz: 15.6\n  switch_resistance_mohm: 3\n  diode_drop_v: 0.7\n"
    "supply: {battery_v: 50, resistance_mohm: 100}\n"
    "stand:\n  wheel_inertia_kg_m2: 0.2\n  gear_ratio: 4\n  clutch: on\n"
    "  rotor: {friction_nm: 0.1, breakaway_nm: 0.1, viscous_nm_s_per_rad: 0.001}\n"
    "  wheel: {friction_nm: 0.2, breakaway_nm: 0.3, viscous_nm_s_per_rad: 0.002}\n"
    "  load_nm: -0.5\n  smooth_friction_rad_s: 0.1\n"
    "run: {seconds: 3, settle_seconds: 1, starts: 4, tolerance: 1e-6}\n"
    "spread:\n  motors: 30\n  seed: 77\n  resistance_percent: 1\n  inductance_percent: 2\n"
    "  backemf_percent: 3\n  flat_width_deg: 4\n  friction_percent: 5\n  breakaway_percent: 6\n"
    "  viscous_percent: 7\n  inertia_percent: 8\n  sensors_together_deg: 9\n"
    "  sensor_each_deg: 10\n  hysteresis_percent: 11\n  cogging_percent: 12\n"
    "  cogging_phase_deg: 13\n  battery_percent: 14\n  battery_resistance_percent: 15\n"
    "  winding_temperature_k: 16\n  current_limits_percent: 17\n  rest_angle_deg: 18\n"
    "leads:\n  motor_phases: {U: yellow, V: 'gr\xC3\xBCn', W: light blue}\n"
    "  motor_sensors: {U: 1, V: 2, W: \"3\"}\n  controller_outputs: {U: B, V: C, W: A}\n"
    "  controller_inputs: {U: h1, V: h2, W: h3}\n";

static void check_full_controller(const hp_controller_params *c)
{
    hp_commutation_table table = hp_commutation_table_60();
    assert_memory_equal(&c->table, &table, sizeof table);
    check_close(c->throttle, 0.8, 1e-15, ROUNDING);
    check_close(c->speed_cap, 0.7, 1e-15, ROUNDING);
    check_close(c->ramp_per_s, 0.0, 0.0, "none");
    check_close(c->battery_limit_a, 0.0, 0.0, "none");
    check_close(c->phase_limit_a, 30.0, 0.0, "copied");
    check_close(c->filter_s, 0.005, 1e-15, ROUNDING);
    check_close(c->limiter_per_s, 20.0, 0.0, "copied");
    check_close(c->stall_cutout_s, 0.0, 0.0, "none");
    check_close(c->undervoltage_v, 40.0, 0.0, "copied");
    check_int(c->pwm, HP_PWM_ONE_SIDED);
    check_close(c->pwm_hz, 15600.0, 1e-9, ROUNDING);
    check_close(c->switch_resistance_ohm, 0.003, 1e-15, ROUNDING);
    check_close(c->diode_drop_v, 0.7, 0.0, "copied");
}

static void check_full_motor(const hp_drive *drive)
{
    const hp_motor_params *m = &drive->motor;
    const hp_sensors_params *s = &drive->sensors;
    check_int(m->pole_pairs, 10);
    check_close(m->backemf.flat_rad, 110.0 * HP_DEG, 1e-15, ROUNDING);
    check_close(m->cogging_nm, 0.02, 0.0, "copied");
    check_int(m->cogging_order, 12);
    check_close(m->cogging_phase_rad, 0.5 * HP_PI, 1e-15, ROUNDING);
    check_close(m->rotor_inertia_kg_m2, 0.001, 0.0, "copied");
    check_true(!m->lead_open[HP_U] && m->lead_open[HP_V] && !m->lead_open[HP_W], "wrong lead");
    check_true(s->spacing_60 && s->no_supply, "not taken over");
    check_close(s->placement_rad[HP_U], -3.0 * HP_DEG, 1e-15, ROUNDING);
    check_close(s->placement_rad[HP_V], 0.0, 0.0, "default");
    check_close(s->placement_rad[HP_W], 4.5 * HP_DEG, 1e-15, ROUNDING);
    check_close(s->hysteresis_rad, HP_DEG, 1e-15, ROUNDING);
    check_int(s->fault[HP_U], HP_SENSOR_STUCK_HIGH);
    check_int(s->fault[HP_V], HP_SENSOR_STUCK_LOW);
    check_int(s->fault[HP_W], HP_SENSOR_INVERTED);
}

static void check_full_spread(const hp_spread_plan *plan)
{
    const hp_variation_params *v = &plan->variation;
    check_int(plan->motors, 30);
    check_int((long long)plan->seed, 77);
    check_close(v->resistance_ratio, 0.01, 1e-15, ROUNDING);
    check_close(v->inductance_ratio, 0.02, 1e-15, ROUNDING);
    check_close(v->ke_ratio, 0.03, 1e-15, ROUNDING);
    check_close(v->flat_rad, 4.0 * HP_DEG, 1e-15, ROUNDING);
    check_close(v->friction_ratio, 0.05, 1e-15, ROUNDING);
    check_close(v->breakaway_ratio, 0.06, 1e-15, ROUNDING);
    check_close(v->viscous_ratio, 0.07, 1e-15, ROUNDING);
    check_close(v->inertia_ratio, 0.08, 1e-15, ROUNDING);
    check_close(v->common_rad, 9.0 * HP_DEG, 1e-15, ROUNDING);
    check_close(v->individual_rad, 10.0 * HP_DEG, 1e-15, ROUNDING);
    check_close(v->hysteresis_ratio, 0.11, 1e-15, ROUNDING);
    check_close(v->cogging_ratio, 0.12, 1e-15, ROUNDING);
    check_close(v->cogging_phase_rad, 13.0 * HP_DEG, 1e-15, ROUNDING);
    check_close(v->battery_ratio, 0.14, 1e-15, ROUNDING);
    check_close(v->battery_ohm_ratio, 0.15, 1e-15, ROUNDING);
    check_close(v->winding_k, 16.0, 0.0, "copied");
    check_close(v->limit_ratio, 0.17, 1e-15, ROUNDING);
    check_close(plan->rest_rad, 18.0 * HP_DEG, 1e-15, ROUNDING);
}

static void every_key_reaches_its_place(void **state)
{
    (void)state;
    hp_scenario scenario = load(full);
    const hp_stand_params *stand = &scenario.drive.stand;
    check_full_motor(&scenario.drive);
    check_full_controller(&scenario.drive.controller);
    check_close(scenario.drive.supply.emf_v, 50.0, 0.0, "copied");
    check_close(scenario.drive.supply.resistance_ohm, 0.1, 1e-15, ROUNDING);
    check_close(stand->wheel_inertia_kg_m2, 0.2, 0.0, "copied");
    check_close(stand->gear_ratio, 4.0, 0.0, "copied");
    assert_true(stand->clutch);
    check_close(stand->rotor.breakaway_nm, 0.1, 0.0, "copied");
    check_close(stand->rotor.viscous_nm_s_rad, 0.001, 0.0, "copied");
    check_close(stand->wheel.coulomb_nm, 0.2, 0.0, "copied");
    check_close(stand->wheel.breakaway_nm, 0.3, 0.0, "copied");
    check_close(stand->wheel.viscous_nm_s_rad, 0.002, 0.0, "copied");
    check_close(stand->load_nm, -0.5, 0.0, "copied");
    check_close(stand->smooth_rad_s, 0.1, 0.0, "copied");
    check_close(scenario.run.seconds, 3.0, 0.0, "copied");
    check_close(scenario.run.settle_s, 1.0, 0.0, "copied");
    check_close(scenario.run.tolerance, 1e-6, 0.0, "copied");
    check_int(scenario.starts, 4);
    check_full_spread(&scenario.spread);
    assert_string_equal(scenario.about, "First line.\n\nLast line.");
    assert_string_equal(scenario.labels.machine, "Barrow");
    assert_string_equal(scenario.labels.motor, "hub");
    assert_string_equal(scenario.labels.controller, "box");
    assert_string_equal(scenario.labels.motor_lead[HP_V], "gr\xC3\xBCn");
    assert_string_equal(scenario.labels.motor_lead[HP_W], "light blue");
    assert_string_equal(scenario.labels.motor_sensor[HP_W], "3");
    assert_string_equal(scenario.labels.controller_output[HP_U], "B");
    assert_string_equal(scenario.labels.controller_input[HP_W], "h3");
    hp_scenario_free(&scenario);
}

static void table_row_by_row(void **state)
{
    (void)state;
    /* The usual table, its rows in any order and spelling. */
    hp_scenario scenario = load(
        ESSENTIALS NO_LOAD "controller:\n  table: {111: off, \"100\": V>W, 110: V > U, \"010\": "
                           "\"W>U\", '011': W>V, 001: U>V, 101: U>W}\n");
    hp_commutation_table usual = hp_commutation_table_120();
    assert_memory_equal(&scenario.drive.controller.table, &usual, sizeof usual);
    hp_parameter *entry = hp_parameters_find(&scenario.parameters, "controller.table");
    assert_non_null(entry);
    assert_string_equal(entry->value, "001: U>V, 010: W>U, 011: W>V, 100: V>W, 101: U>W, 110: V>U");
    hp_scenario_free(&scenario);
}

static void byte_order_mark_crlf_and_flow_style_are_yaml(void **state)
{
    (void)state;
    hp_scenario scenario =
        load("\xEF\xBB\xBFhubphase: 1\r\nmotor:\r\n  pole_pairs: 23\r\n"
             "  resistance_between_leads_ohm: 0.21\r\n  torque_constant_nm_per_a: "
             "1.6   # comment\r\n");
    check_int(scenario.drive.motor.pole_pairs, 23);
    hp_scenario_free(&scenario);
    scenario =
        load("---\n{\"hubphase\": 1, \"motor\": {\"magnets\": 46, \"resistance_between_leads_ohm\""
             ": 0.2, \"torque_constant_nm_per_a\": 1.6}}\n...\n");
    check_int(scenario.drive.motor.pole_pairs, 23);
    hp_scenario_free(&scenario);
}

static void check_entry(hp_scenario *scenario, const char *key, const char *value, double number,
                        hp_origin origin, int line, const char *why)
{
    hp_parameter *entry = hp_parameters_find(&scenario->parameters, key);
    check_true(entry != NULL, "%s is not listed", key);
    assert_string_equal(entry->value, value);
    if (isnan(number))
        check_true(isnan(entry->number), "%s is %g", key, entry->number);
    else
        check_relative(entry->number, number, 1e-12, ROUNDING);
    check_int(entry->origin, origin);
    check_int(entry->line, line);
    check_text_contains(entry->why, why);
}

static void parameters_say_where_values_come_from(void **state)
{
    (void)state;
    hp_scenario s = load(ESSENTIALS NO_LOAD "sensors: {spacing_deg: 60}\ncontroller:\n"
                                            "  battery_current_limit_a: none\nrun: {seconds: 4}\n");
    check_entry(&s, "motor.pole_pairs", "23", 23, HP_ORIGIN_FILE, 3, "");
    check_entry(&s, "motor.magnets", "46", 46, HP_ORIGIN_DERIVED, 0, "twice motor.pole_pairs");
    check_entry(&s, "motor.resistance_between_leads_ohm", "0.21", 0.21, HP_ORIGIN_FILE, 4, "");
    check_entry(&s, "motor.no_load_speed_rpm_at_v.speed_rpm", "215", 215, HP_ORIGIN_FILE, 5, "");
    check_entry(&s, "motor.torque_constant_nm_per_a", "1.59895", 36 / (215 * HP_RPM),
                HP_ORIGIN_DERIVED, 0, "from motor.no_load_speed_rpm_at_v");
    check_entry(&s, "motor.winding_temperature_c", "20", 20, HP_ORIGIN_DEFAULT, 0, "chosen");
    check_entry(&s, "sensors.spacing_deg", "60", 60, HP_ORIGIN_FILE, 6, "");
    check_entry(&s, "sensors.powered", "yes", NAN, HP_ORIGIN_DEFAULT, 0, "chosen");
    check_entry(&s, "controller.battery_current_limit_a", "none", NAN, HP_ORIGIN_FILE, 8, "");
    check_entry(&s, "controller.undervoltage_v", "none", NAN, HP_ORIGIN_DEFAULT, 0, "chosen");
    check_entry(&s, "controller.table", "six_step_120", NAN, HP_ORIGIN_DEFAULT, 0,
                "common practice");
    check_entry(&s, "run.settle_seconds", "2.4", 2.4, HP_ORIGIN_DERIVED, 0, "0.6 of run.seconds");
    check_entry(&s, "controller.throttle_percent", "35", 35, HP_ORIGIN_DEFAULT, 0, "chosen");
    check_entry(&s, "run.starts", "7", 7, HP_ORIGIN_DEFAULT, 0, "chosen");
    assert_null(hp_parameters_find(&s.parameters, "controller.speed_step"));
    assert_null(hp_parameters_find(&s.parameters, "motor.name"));
    hp_scenario_free(&s);
}

/* The option's percent and the file's are one number, to the last bit; one that the scenario has
 * already leaves it as it is, also where the default is not what its percent converts to. */
static void an_option_throttle_is_the_files(void **state)
{
    (void)state;
    for (double percent = 0.0; percent <= 100.0; percent += 0.5) {
        char text[400];
        snprintf(text, sizeof text, ESSENTIALS NO_LOAD "controller: {throttle_percent: %g}\n",
                 percent);
        hp_scenario in_file = load(text), by_option = load(ESSENTIALS NO_LOAD);
        hp_scenario both = load(text), usual = load(ESSENTIALS NO_LOAD);
        hp_scenario_take_throttle(&by_option, percent, "--throttle");
        hp_scenario_take_throttle(&both, percent, "--throttle");
        bool is_default = percent == 35.0;
        const hp_scenario *like = is_default ? &usual : &in_file;
        double is = by_option.drive.controller.throttle, want = like->drive.controller.throttle;
        check_true(is == want, "%g %%: %.17g, want %.17g", percent, is, want);
        /* Where it is nothing, trials keep what the scenario came with. */
        const hp_scenario *trials = percent > 0.0 ? like : &usual;
        check_true(by_option.bench.plan.throttle == trials->bench.plan.throttle, "trials at %g %%",
                   percent);
        check_true(both.drive.controller.throttle == in_file.drive.controller.throttle &&
                       both.bench.plan.throttle == in_file.bench.plan.throttle,
                   "%g %%, said twice", percent);
        snprintf(text, sizeof text, "%g", percent);
        check_entry(&by_option, "controller.throttle_percent", text, percent, HP_ORIGIN_OPTION, 0,
                    "set by --throttle");
        hp_scenario_free(&in_file);
        hp_scenario_free(&by_option);
        hp_scenario_free(&both);
        hp_scenario_free(&usual);
    }
    hp_scenario own = load(ESSENTIALS NO_LOAD "bench: {trial_throttle_percent: 20}\n");
    hp_scenario_take_throttle(&own, 60.0, "--throttle");
    check_relative(own.bench.plan.throttle, 0.2, 1e-15, ROUNDING);
    check_relative(own.drive.controller.throttle, 0.6, 1e-15, ROUNDING);
    hp_scenario_free(&own);
}

/* Every value that is listed can be written back and gives the same drive. */
static void every_listed_default_has_a_reason(void **state)
{
    (void)state;
    hp_scenario s = load(ESSENTIALS NO_LOAD);
    for (size_t k = 0; k < s.parameters.count; k++) {
        const hp_parameter *entry = &s.parameters.item[k];
        check_true(entry->value[0] != '\0', "%s has no value", entry->key);
        check_true(entry->origin == HP_ORIGIN_FILE || entry->why[0] != '\0', "%s has no reason",
                   entry->key);
        check_true(strlen(entry->why) < sizeof entry->why - 1, "the reason of %s is cut",
                   entry->key);
    }
    hp_scenario_free(&s);
}

static void every_demo_scenario_loads(void **state)
{
    (void)state;
    DIR *folder = opendir(HP_SCENARIO_DIR);
    struct dirent *item;
    int count = 0;
    check_true(folder != NULL, "%s cannot be opened", HP_SCENARIO_DIR);
    while ((item = readdir(folder)) != NULL) {
        char path[1024];
        if (!strstr(item->d_name, ".yaml") || strstr(item->d_name, ".bench.yaml"))
            continue; /* a bench log stands beside its scenario */
        snprintf(path, sizeof path, "%s/%s", HP_SCENARIO_DIR, item->d_name);
        loaded l = scenario_load_path(path);
        check_true(l.result == HP_OK, "%s", l.printed);
        check_true(l.scenario.about && strlen(l.scenario.about) > 40,
                   "%s does not say what it shows", path);
        loaded_free(&l);
        count++;
    }
    closedir(folder);
    check_true(count >= 7, "only %d scenarios", count);
}

/* The row of a key in docs/scenario.md, which begins "| `path` |"; NULL when there is none. */
static char *row_of(char *page, const char *path)
{
    char start[128];
    snprintf(start, sizeof start, "\n| `%s` |", path);
    char *row = strstr(page, start);
    return row ? row + 1 : NULL;
}

static void check_row(char *page, hp_key_id id, hp_parameters *list)
{
    const hp_key *key = hp_key_of(id);
    char *found = row_of(page, key->path), row[600], part[64];
    check_true(found != NULL, "%s is not in docs/scenario.md", key->path);
    snprintf(row, sizeof row, "%.*s", (int)strcspn(found, "\n"), found);
    if (key->kind == HP_KEY_IS_NUMBER || key->kind == HP_KEY_IS_WHOLE) {
        snprintf(part, sizeof part, "%.12g", key->limits.low);
        check_text_contains(row, part);
        snprintf(part, sizeof part, "%.12g", key->limits.high);
        check_text_contains(row, part);
        check_text_contains(row, key->limits.unit);
        check_true(key->limits.none == (strstr(row, "`none`") != NULL), "`none` in: %s", row);
    }
    for (int k = 0; key->words && key->words[k]; k++)
        check_text_contains(row, key->words[k]);
    const hp_parameter *entry = hp_parameters_find(list, key->path);
    if (entry && entry->origin == HP_ORIGIN_DEFAULT)
        check_text_contains(row, entry->value);
}

/* The page for people and the table of the program say the same of units, ranges and defaults. */
static void documentation_holds_every_key(void **state)
{
    (void)state;
    FILE *file = fopen(HP_SCENARIO_DIR "/../docs/scenario.md", "rb");
    check_true(file != NULL, "no docs/scenario.md");
    static char page[100000];
    size_t size = fread(page, 1, sizeof page - 1, file);
    page[size] = '\0';
    fclose(file);
    hp_scenario s = load(ESSENTIALS NO_LOAD);
    for (hp_key_id id = 0; id < HP_KEY_COUNT; id++)
        if (hp_key_of(id)->kind != HP_KEY_IS_SECTION)
            check_row(page, id,
                      id < HP_KEY_CONTROLS ? &s.parameters
                      : id < HP_KEY_FIT    ? &s.controls_parameters
                                           : &s.fit_parameters);
    hp_scenario_free(&s);
}

static void key_distance(void **state)
{
    (void)state;
    check_int(hp_key_distance("", ""), 0);
    check_int(hp_key_distance("motor", "motor"), 0);
    check_int(hp_key_distance("motor", ""), 5);
    check_int(hp_key_distance("motro", "motor"), 1); /* swapped neighbours */
    check_int(hp_key_distance("moter", "motor"), 1); /* changed */
    check_int(hp_key_distance("moor", "motor"), 1);  /* left out */
    check_int(hp_key_distance("mootor", "motor"), 1);
    check_int(hp_key_distance("kitten", "sitting"), 3); /* the textbook's example */
    check_int(hp_key_nearest("motor", "pole_pair"), HP_KEY_POLE_PAIRS);
    check_int(hp_key_nearest("motor", "resistance_ohm"), HP_KEY_RESISTANCE);
    check_int(hp_key_nearest("motor", "xyz"), HP_KEY_COUNT);
    check_int(hp_key_elsewhere("motor", "battery_v"), HP_KEY_BATTERY_V);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(minimal_scenario_is_the_default_drive_but_for_its_motor),
        cmocka_unit_test(resistance_is_halved_and_brought_to_20_degrees),
        cmocka_unit_test(four_ways_to_give_the_back_emf),
        cmocka_unit_test(gear_divides_the_back_emf_constant),
        cmocka_unit_test(ideal_speed_is_the_no_load_speed),
        cmocka_unit_test(line_shape_of_a_narrow_trapezoid),
        cmocka_unit_test(ways_that_agree_take_the_first),
        cmocka_unit_test(no_load_current_comes_back_out_of_the_simulation),
        cmocka_unit_test(no_load_current_makes_friction),
        cmocka_unit_test(breakaway_and_friction_follow_each_other),
        cmocka_unit_test(friction_follows_gear_and_clutch),
        cmocka_unit_test(every_key_reaches_its_place),
        cmocka_unit_test(table_row_by_row),
        cmocka_unit_test(byte_order_mark_crlf_and_flow_style_are_yaml),
        cmocka_unit_test(parameters_say_where_values_come_from),
        cmocka_unit_test(an_option_throttle_is_the_files),
        cmocka_unit_test(every_listed_default_has_a_reason),
        cmocka_unit_test(every_demo_scenario_loads),
        cmocka_unit_test(documentation_holds_every_key),
        cmocka_unit_test(key_distance),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
