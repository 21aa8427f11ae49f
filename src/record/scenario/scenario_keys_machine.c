/* Keys of the machine as it stands on the bench: motor, sensors, controller, supply, stand, run.
 * See scenario_key_rows.h. */
#include "record/scenario/scenario_key_rows.h"

static const char *const winding_words[] = {"star", "delta", NULL};
static const char *const shape_words[] = {"sinusoidal", "trapezoidal", "fourier", NULL};
static const char *const lead_words[] = {"none", "U", "V", "W", NULL};
static const char *const spacing_words[] = {"120", "60", NULL};
static const char *const fault_words[] = {"sound", "stuck_high", "stuck_low", "inverted", NULL};
static const char *const pwm_words[] = {"averaged", "complementary", "one_sided", NULL};
static const char *const drive_words[] = {"six_step", "sine", "unknown", NULL};

/* Words stand in the order of the model's enums, and a choice is written through an int. */
_Static_assert(HP_BACKEMF_SINUSOIDAL == 0 && HP_BACKEMF_TRAPEZOIDAL == 1 &&
                   HP_BACKEMF_FOURIER == 2 && HP_BACKEMF_KIND_COUNT == 3,
               "shape_words");
_Static_assert(HP_SENSOR_SOUND == 0 && HP_SENSOR_STUCK_HIGH == 1 && HP_SENSOR_STUCK_LOW == 2 &&
                   HP_SENSOR_INVERTED == 3 && HP_SENSOR_FAULT_COUNT == 4,
               "fault_words");
_Static_assert(HP_PWM_AVERAGED == 0 && HP_PWM_COMPLEMENTARY == 1 && HP_PWM_ONE_SIDED == 2 &&
                   HP_PWM_KIND_COUNT == 3,
               "pwm_words");
_Static_assert(sizeof(hp_backemf_kind) == sizeof(int) && sizeof(hp_sensor_fault) == sizeof(int) &&
                   sizeof(hp_pwm_kind) == sizeof(int),
               "choices");

#define SOUND_AND_PLACED "chosen: placed as drawn"
#define FRICTION_OF_HUB  "chosen: bearings, seals and iron loss of a direct-drive hub"
#define FRICTION_OF_ONE  "chosen: counted with the rotor"

const hp_key hp_keys_machine[HP_KEYS_BENCH - HP_KEYS_MACHINE] = {
    [HP_KEY_FORMAT] = WHOLE("hubphase", 1, 1, format, NULL),
    [HP_KEY_NAME] = LINE("name", labels.machine),
    [HP_KEY_ABOUT] = SPECIAL("about", NULL),

    [HP_KEY_MOTOR] = SECTION("motor"),
    [HP_KEY_MOTOR_NAME] = LINE("motor.name", labels.motor),
    [HP_KEY_POLE_PAIRS] = WHOLE("motor.pole_pairs", 1, 100, drive.motor.pole_pairs, NULL),
    [HP_KEY_MAGNETS] = WHOLE("motor.magnets", 2, 200, magnets, NULL),
    [HP_KEY_RESISTANCE] = ABOVE("motor.resistance_between_leads_ohm", "ohm", 0, HP_LEADS_MOST_OHM,
                                resistance_between_leads, 1, NULL),
    [HP_KEY_MEASURED_C] = FROM("motor.resistance_measured_at_c", "C", -40, 200, measured_c, 1,
                               "chosen: a room at 20 C"),
    [HP_KEY_WINDING_C] = FROM("motor.winding_temperature_c", "C", -40, 200, drive.motor.winding_c,
                              1, "chosen: a cold workshop"),
    [HP_KEY_INDUCTANCE] =
        ABOVE("motor.inductance_between_leads_mh", "mH", 0, 1000, drive.motor.inductance_h, 0.5e-3,
              "chosen: typical of a hub; measure it: it decides how far early and late differ"),
    [HP_KEY_WINDING] = CHOICE("motor.winding", winding_words, winding,
                              "chosen: alike for both, all is measured between leads"),
    [HP_KEY_NO_LOAD] = SECTION("motor.no_load_speed_rpm_at_v"),
    [HP_KEY_NO_LOAD_RPM] =
        ABOVE("motor.no_load_speed_rpm_at_v.speed_rpm", "rev/min", 0, 20000, no_load_rpm, 1, NULL),
    [HP_KEY_NO_LOAD_V] =
        ABOVE("motor.no_load_speed_rpm_at_v.volts", "V", 0, 200, no_load_v, 1, NULL),
    [HP_KEY_BACKEMF_PEAK] =
        ABOVE("motor.backemf_peak_v_per_krpm", "V", 0, 20000, backemf_peak, 1, NULL),
    [HP_KEY_BACKEMF_RMS] =
        ABOVE("motor.backemf_rms_v_per_krpm", "V", 0, 20000, backemf_rms, 1, NULL),
    [HP_KEY_TORQUE_CONSTANT] =
        ABOVE("motor.torque_constant_nm_per_a", "N m/A", 0, 1000, torque_constant, 1, NULL),
    [HP_KEY_BACKEMF] = SECTION("motor.backemf"),
    [HP_KEY_SHAPE] = CHOICE("motor.backemf.shape", shape_words, drive.motor.backemf.kind,
                            "chosen: the textbook trapezoid"),
    [HP_KEY_FLAT_WIDTH] = {.path = "motor.backemf.flat_width_deg",
                           .kind = HP_KEY_IS_NUMBER,
                           .limits = {.unit = "electrical degrees", .low = 1, .high = 179},
                           .offset = FIELD(drive.motor.backemf.flat_rad),
                           .factor = HP_DEG,
                           .why = "chosen: the textbook trapezoid"},
    [HP_KEY_HARMONICS] = SPECIAL("motor.backemf.harmonics", NULL),
    [HP_KEY_COGGING] = FROM("motor.cogging_peak_nm", "N m", 0, 1000, drive.motor.cogging_nm, 1,
                            "chosen: felt by hand, small against the friction"),
    [HP_KEY_COGGING_PERIODS] =
        WHOLE("motor.cogging_periods_per_electrical_turn", 1, 1000, drive.motor.cogging_order,
              "common practice: six an electrical turn"),
    [HP_KEY_COGGING_PHASE] = FROM("motor.cogging_phase_deg", "degrees", -360, 360,
                                  drive.motor.cogging_phase_rad, HP_DEG, "chosen: none"),
    [HP_KEY_ROTOR_INERTIA] =
        FROM("motor.rotor_inertia_kg_m2", "kg m2", 0, 100, drive.motor.rotor_inertia_kg_m2, 1,
             "chosen: direct drive, all of it counted with the wheel"),
    [HP_KEY_OPEN_LEAD] = CHOICE("motor.open_lead", lead_words, open_lead, "chosen: a good motor"),

    [HP_KEY_SENSORS] = SECTION("sensors"),
    [HP_KEY_SPACING] = CHOICE("sensors.spacing_deg", spacing_words, spacing,
                              "common practice: most hubs have 120-degree Hall sensors"),
    [HP_KEY_PLACEMENT] = SECTION("sensors.placement_error_deg"),
    [HP_KEY_PLACEMENT_U] = FROM("sensors.placement_error_deg.U", "electrical degrees", -30, 30,
                                drive.sensors.placement_rad[HP_U], HP_DEG, SOUND_AND_PLACED),
    [HP_KEY_PLACEMENT_V] = FROM("sensors.placement_error_deg.V", "electrical degrees", -30, 30,
                                drive.sensors.placement_rad[HP_V], HP_DEG, SOUND_AND_PLACED),
    [HP_KEY_PLACEMENT_W] = FROM("sensors.placement_error_deg.W", "electrical degrees", -30, 30,
                                drive.sensors.placement_rad[HP_W], HP_DEG, SOUND_AND_PLACED),
    [HP_KEY_HYSTERESIS] =
        FROM("sensors.hysteresis_deg", "electrical degrees", 0.01, 20, drive.sensors.hysteresis_rad,
             HP_DEG, "chosen: the order of a latching switch's hysteresis"),
    [HP_KEY_FAULTS] = SECTION("sensors.faults"),
    [HP_KEY_FAULT_U] =
        CHOICE("sensors.faults.U", fault_words, drive.sensors.fault[HP_U], "chosen: a good sensor"),
    [HP_KEY_FAULT_V] =
        CHOICE("sensors.faults.V", fault_words, drive.sensors.fault[HP_V], "chosen: a good sensor"),
    [HP_KEY_FAULT_W] =
        CHOICE("sensors.faults.W", fault_words, drive.sensors.fault[HP_W], "chosen: a good sensor"),
    [HP_KEY_POWERED] =
        FLAG("sensors.powered", powered, "chosen: the Hall sensors have their supply"),

    [HP_KEY_CONTROLLER] = SECTION("controller"),
    [HP_KEY_CONTROLLER_NAME] = LINE("controller.name", labels.controller),
    [HP_KEY_TABLE] =
        SPECIAL("controller.table", "common practice: six steps for 120-degree sensors"),
    [HP_KEY_THROTTLE] = FROM("controller.throttle_percent", "%", 0, 100, drive.controller.throttle,
                             0.01, "chosen: gentle, yet fast enough to tell early from late"),
    [HP_KEY_SPEED_STEPS] = SPECIAL("controller.speed_steps_percent", "chosen: one step, all of it"),
    [HP_KEY_SPEED_STEP] = WHOLE("controller.speed_step", 1, HP_SPEED_STEPS_MAX, speed_step,
                                "chosen: the last step of the list"),
    [HP_KEY_RAMP] = LIMIT("controller.ramp_percent_per_s", "%/s", 1e8, drive.controller.ramp_per_s,
                          0.01, "chosen: full throttle after a second"),
    [HP_KEY_BATTERY_LIMIT] =
        LIMIT("controller.battery_current_limit_a", "A", 1e4, drive.controller.battery_limit_a, 1,
              "chosen: a common label on small controllers"),
    [HP_KEY_PHASE_LIMIT] =
        LIMIT("controller.phase_current_limit_a", "A", 1e4, drive.controller.phase_limit_a, 1,
              "chosen: between two and three times the battery's limit"),
    [HP_KEY_FILTER] =
        FROM("controller.current_filter_ms", "ms", 0.01, 10000, drive.controller.filter_s, 1e-3,
             "chosen: a smoothing of ten milliseconds"),
    [HP_KEY_LIMITER] =
        FROM("controller.limiter_per_s", "1/s", 1e-3, 1e4, drive.controller.limiter_per_s, 1,
             "chosen: slow against the filter, so that limiting is steady"),
    [HP_KEY_STALL] = LIMIT("controller.stall_cutout_s", "s", 3600, drive.controller.stall_cutout_s,
                           1, "chosen: common controllers give up after one to three seconds"),
    [HP_KEY_UNDERVOLTAGE] =
        LIMIT("controller.undervoltage_v", "V", 200, drive.controller.undervoltage_v, 1,
              "chosen: a bench supply has no cells to protect"),
    [HP_KEY_PWM] = CHOICE("controller.pwm", pwm_words, drive.controller.pwm,
                          "chosen: the quick way; real edges are for close-ups"),
    [HP_KEY_PWM_KHZ] = FROM("controller.pwm_khz", "kHz", 0.1, 1000, drive.controller.pwm_hz, 1e3,
                            "chosen: just above hearing"),
    [HP_KEY_DRIVE] = CHOICE("controller.drive", drive_words, drive_kind,
                            "chosen: a label rarely says so; the quiet ones drive by a sine"),
    [HP_KEY_SWITCH] = FROM("controller.switch_resistance_mohm", "mohm", 0, 1e5,
                           drive.controller.switch_resistance_ohm, 1e-3,
                           "chosen: two small MOSFETs' worth, warm"),
    [HP_KEY_DIODE] = FROM("controller.diode_drop_v", "V", 0, 5, drive.controller.diode_drop_v, 1,
                          "chosen: a MOSFET's body diode"),

    [HP_KEY_SUPPLY] = SECTION("supply"),
    [HP_KEY_BATTERY_V] = ABOVE("supply.battery_v", "V", 0, 200, drive.supply.emf_v, 1,
                               "chosen: a 36 V battery somewhat above half charge"),
    [HP_KEY_BATTERY_OHM] =
        FROM("supply.resistance_mohm", "mohm", 0, 1e5, drive.supply.resistance_ohm, 1e-3,
             "chosen: battery, fuse and leads"),

    [HP_KEY_STAND] = SECTION("stand"),
    [HP_KEY_WHEEL_INERTIA] =
        FROM("stand.wheel_inertia_kg_m2", "kg m2", 1e-6, 1000, drive.stand.wheel_inertia_kg_m2, 1,
             "chosen: a 26-inch rim with tyre, about 1.2 kg at 0.31 m"),
    [HP_KEY_GEAR] =
        FROM("stand.gear_ratio", "", 1, 100, drive.stand.gear_ratio, 1, "chosen: direct drive"),
    [HP_KEY_CLUTCH] = FLAG("stand.clutch", drive.stand.clutch, "chosen: direct drive has none"),
    [HP_KEY_ROTOR] = SECTION("stand.rotor"),
    [HP_KEY_ROTOR_FRICTION] = FROM("stand.rotor.friction_nm", "N m", 0, 1000,
                                   drive.stand.rotor.coulomb_nm, 1, FRICTION_OF_HUB),
    [HP_KEY_ROTOR_BREAKAWAY] = FROM("stand.rotor.breakaway_nm", "N m", 0, 1000,
                                    drive.stand.rotor.breakaway_nm, 1, FRICTION_OF_HUB),
    [HP_KEY_ROTOR_VISCOUS] = FROM("stand.rotor.viscous_nm_s_per_rad", "N m s/rad", 0, 100,
                                  drive.stand.rotor.viscous_nm_s_rad, 1, FRICTION_OF_HUB),
    [HP_KEY_WHEEL] = SECTION("stand.wheel"),
    [HP_KEY_WHEEL_FRICTION] = FROM("stand.wheel.friction_nm", "N m", 0, 1000,
                                   drive.stand.wheel.coulomb_nm, 1, FRICTION_OF_ONE),
    [HP_KEY_WHEEL_BREAKAWAY] = FROM("stand.wheel.breakaway_nm", "N m", 0, 1000,
                                    drive.stand.wheel.breakaway_nm, 1, FRICTION_OF_ONE),
    [HP_KEY_WHEEL_VISCOUS] = FROM("stand.wheel.viscous_nm_s_per_rad", "N m s/rad", 0, 100,
                                  drive.stand.wheel.viscous_nm_s_rad, 1, FRICTION_OF_ONE),
    [HP_KEY_NO_LOAD_CURRENT] = SECTION("stand.no_load_current_a_at_v"),
    [HP_KEY_NO_LOAD_A] =
        ABOVE("stand.no_load_current_a_at_v.current_a", "A", 0, 1000, no_load_a, 1, NULL),
    [HP_KEY_NO_LOAD_A_V] =
        ABOVE("stand.no_load_current_a_at_v.volts", "V", 0, 200, no_load_a_v, 1, NULL),
    [HP_KEY_LOAD] = FROM("stand.load_nm", "N m", -1000, 1000, drive.stand.load_nm, 1,
                         "chosen: nothing rubs on a lifted wheel"),
    [HP_KEY_SMOOTH] = LIMIT("stand.smooth_friction_rad_s", "rad/s", 1000, drive.stand.smooth_rad_s,
                            1, "chosen: friction that truly sticks"),

    [HP_KEY_RUN] = SECTION("run"),
    [HP_KEY_SECONDS] =
        FROM("run.seconds", "s", 0.01, 3600, run.seconds, 1, "chosen: enough to come up to speed"),
    [HP_KEY_SETTLE] = FROM("run.settle_seconds", "s", 0, 3600, run.settle_s, 1,
                           "chosen: the last two fifths are measured"),
    [HP_KEY_STARTS] = WHOLE("run.starts", 1, HP_SURVEY_STARTS_MAX, starts,
                            "chosen: spread over the turn, they show a faulty Hall sensor or lead"),
    [HP_KEY_TOLERANCE] = FROM("run.tolerance", "", 1e-12, 1e-2, run.tolerance, 1,
                              "chosen: far below any instrument's error"),
};
