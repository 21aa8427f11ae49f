/* The keys of a scenario: see the header. */
#include "record/scenario/scenario_keys.h"

#include "decide/reading/reading_list.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/survey.h"

#include <string.h>

static const char *const winding_words[] = {"star", "delta", NULL};
static const char *const shape_words[] = {"sinusoidal", "trapezoidal", "fourier", NULL};
static const char *const lead_words[] = {"none", "U", "V", "W", NULL};
static const char *const spacing_words[] = {"120", "60", NULL};
static const char *const fault_words[] = {"sound", "stuck_high", "stuck_low", "inverted", NULL};
static const char *const pwm_words[] = {"averaged", "complementary", "one_sided", NULL};
static const char *const drive_words[] = {"six_step", "sine", "unknown", NULL};
static const char *const first_power_words[] = {"any", "bench_supply", "lamp", "none", NULL};
static const char *const cell_words[] = {"li_ion", "lifepo4", "lead", NULL};
static const char *const insulation_words[] = {"60", "75", "90", NULL};
static const char *const dropout_words[] = {"steel", "aluminium", NULL};
static const char *const mounted_words[] = {"as_marked", "other_way", NULL};
static const char *const pull_words[] = {"down", "up", NULL};
static const char *const switch_words[] = {"normally_open", "normally_closed", "none", NULL};
static const char *const expects_words[] = {"normally_open", "normally_closed", NULL};
static const char *const level_words[] = {"ground", "volts", NULL};
static const char *const pedal_words[] = {"none", "gates", "drives", NULL};
static const char *const sense_words[] = {"mostly_high", "mostly_low", "any", NULL};
const char *const hp_table_names[] = {"six_step_120", "six_step_60", NULL};

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
_Static_assert(HP_FIRST_POWER_ANY == 0 && HP_FIRST_POWER_BENCH_SUPPLY == 1 &&
                   HP_FIRST_POWER_LAMP == 2 && HP_FIRST_POWER_NONE == 3 &&
                   HP_FIRST_POWER_COUNT == 4 && sizeof(hp_first_power) == sizeof(int),
               "first_power_words");
_Static_assert(HP_INPUT_PULL_DOWN == 0 && HP_INPUT_PULL_UP == 1 && HP_INPUT_PULL_COUNT == 2,
               "pull_words");
_Static_assert(HP_SWITCH_NORMALLY_OPEN == 0 && HP_SWITCH_NORMALLY_CLOSED == 1 &&
                   HP_SWITCH_NONE == 2 && HP_SWITCH_COUNT == 3 &&
                   sizeof(hp_brake_switch) == sizeof(int),
               "switch_words");
_Static_assert(HP_LEVEL_GROUND == 0 && HP_LEVEL_VOLTS == 1 && HP_LEVEL_COUNT == 2 &&
                   sizeof(hp_level) == sizeof(int),
               "level_words");
_Static_assert(HP_PEDAL_NONE == 0 && HP_PEDAL_GATES == 1 && HP_PEDAL_DRIVES == 2 &&
                   HP_PEDAL_MODE_COUNT == 3 && sizeof(hp_pedal_mode) == sizeof(int),
               "pedal_words");
_Static_assert(HP_PEDAL_MOSTLY_HIGH == 0 && HP_PEDAL_MOSTLY_LOW == 1 && HP_PEDAL_ANY == 2 &&
                   HP_PEDAL_SENSE_COUNT == 3 && sizeof(hp_pedal_sense) == sizeof(int),
               "sense_words");
_Static_assert(sizeof(hp_backemf_kind) == sizeof(int) && sizeof(hp_sensor_fault) == sizeof(int) &&
                   sizeof(hp_pwm_kind) == sizeof(int),
               "choices");

_Static_assert(HP_CELL_LI_ION == 0 && HP_CELL_LIFEPO4 == 1 && HP_CELL_LEAD == 2 &&
                   HP_CELL_COUNT == 3 && sizeof(hp_cell) == sizeof(int),
               "cell_words");
_Static_assert(HP_INSULATION_60 == 0 && HP_INSULATION_75 == 1 && HP_INSULATION_90 == 2 &&
                   HP_INSULATION_COUNT == 3 && sizeof(hp_insulation) == sizeof(int),
               "insulation_words");
_Static_assert(HP_DROPOUT_STEEL == 0 && HP_DROPOUT_ALUMINIUM == 1 && HP_DROPOUT_COUNT == 2 &&
                   sizeof(hp_dropout) == sizeof(int),
               "dropout_words");
_Static_assert(HP_MOUNTED_AS_MARKED == 0 && HP_MOUNTED_OTHER_WAY == 1 && HP_MOUNTED_COUNT == 2 &&
                   sizeof(hp_mounted) == sizeof(int),
               "mounted_words");

/* Rows. Limits are those of the model where it has them, in the key's unit; a few are narrower
 * because nothing beyond them has been built. */
#define FIELD(field) offsetof(hp_draft, field)
#define SECTION(p)                                                                                 \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_SECTION                                                       \
    }
#define SPECIAL(p, reason)                                                                         \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_SPECIAL, .why = reason                                        \
    }
#define FROM(p, unit_, low_, high_, field, factor_, reason)                                        \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_NUMBER,                                                       \
        .limits = {.unit = unit_, .low = low_, .high = high_}, .offset = FIELD(field),             \
        .factor = factor_, .why = reason                                                           \
    }
#define ABOVE(p, unit_, low_, high_, field, factor_, reason)                                       \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_NUMBER,                                                       \
        .limits = {.unit = unit_, .low = low_, .high = high_, .above = true},                      \
        .offset = FIELD(field), .factor = factor_, .why = reason                                   \
    }
#define LIMIT(p, unit_, high_, field, factor_, reason)                                             \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_NUMBER,                                                       \
        .limits = {.unit = unit_, .low = 0.0, .high = high_, .above = true, .none = true},         \
        .offset = FIELD(field), .factor = factor_, .why = reason                                   \
    }
#define WHOLE(p, low_, high_, field, reason)                                                       \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_WHOLE,                                                        \
        .limits = {.unit = "", .low = low_, .high = high_, .whole = true}, .offset = FIELD(field), \
        .factor = 1.0, .why = reason                                                               \
    }
#define FLAG(p, field, reason)                                                                     \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_FLAG, .offset = FIELD(field), .why = reason                   \
    }
#define CHOICE(p, words_, field, reason)                                                           \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_CHOICE, .words = words_, .offset = FIELD(field),              \
        .why = reason                                                                              \
    }
#define LINE(p, field)                                                                             \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_LINE, .offset = FIELD(field),                                 \
        .size = sizeof(((hp_draft *)0)->field), .why = "chosen: no name"                           \
    }
#define LABEL(p, field)                                                                            \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_LABEL, .offset = FIELD(field), .size = HP_LABEL_SIZE,         \
        .why = "chosen: the axis it belongs to"                                                    \
    }

/* Half widths of an ensemble. A percentage is a factor: 25 % lies between 1 / 1.25 and 1.25. */
#define FACTOR(p, high_, field, reason)                                                            \
    FROM("spread." p, "%", 0, high_, spread.variation.field, 0.01, reason)
#define ANGLE(p, high_, field, reason)                                                             \
    FROM("spread." p, "electrical degrees", 0, high_, spread.field, HP_DEG, reason)

/* The bench: chances of troubles, what can be read, what everything costs. */
#define CHANCE(p, high_, field, reason) FROM("bench." p, "%", 0, high_, field, 0.01, reason)
#define READING(p, kind, reason)        FLAG("bench.readings." p, reads[kind], reason)
#define ERROR(p, high_, field, reason)                                                             \
    ABOVE("bench.meters." p, "%", 0, high_, person.field, 0.01, reason)
#define MINUTES(p, field, reason)                                                                  \
    ABOVE("bench.minutes." p, "min", 0, 10000, plan.costs.field, 1, reason)
#define READING_MINUTES(p, slot, reason)                                                           \
    ABOVE("bench.minutes." p, "min", 0, 10000, minutes[slot], 1, reason)
#define READABLE "chosen: nothing prevents it"

#define SOUND_AND_PLACED "chosen: placed as drawn"
#define FRICTION_OF_HUB  "chosen: bearings, seals and iron loss of a direct-drive hub"
#define FRICTION_OF_ONE  "chosen: counted with the rotor"

static const hp_key keys[HP_KEY_COUNT] = {
    [HP_KEY_FORMAT] = WHOLE("hubphase", 1, 1, format, NULL),
    [HP_KEY_NAME] = LINE("name", labels.machine),
    [HP_KEY_ABOUT] = SPECIAL("about", NULL),

    [HP_KEY_MOTOR] = SECTION("motor"),
    [HP_KEY_MOTOR_NAME] = LINE("motor.name", labels.motor),
    [HP_KEY_POLE_PAIRS] = WHOLE("motor.pole_pairs", 1, 100, drive.motor.pole_pairs, NULL),
    [HP_KEY_MAGNETS] = WHOLE("motor.magnets", 2, 200, magnets, NULL),
    [HP_KEY_RESISTANCE] = ABOVE("motor.resistance_between_leads_ohm", "ohm", 0, 1000,
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

    [HP_KEY_SPREAD] = SECTION("spread"),
    [HP_KEY_SPREAD_MOTORS] = WHOLE("spread.motors", 1, HP_SPREAD_MOTORS_MAX, spread.motors,
                                   "chosen: a share is then good to some 5 in 100"),
    [HP_KEY_SPREAD_SEED] = WHOLE("spread.seed", 0, HP_SPREAD_SEED_MAX, seed, "chosen: any will do"),
    [HP_KEY_SPREAD_RESISTANCE] = FACTOR("resistance_percent", 1000, resistance_ratio,
                                        "chosen: winding and its leads, a meter on two points"),
    [HP_KEY_SPREAD_INDUCTANCE] = FACTOR("inductance_percent", 1000, inductance_ratio,
                                        "chosen: rarely on a label, falls with the current"),
    [HP_KEY_SPREAD_BACKEMF] =
        FACTOR("backemf_percent", 1000, ke_ratio, "chosen: magnets and labels of a kind"),
    [HP_KEY_SPREAD_FLAT] = ANGLE("flat_width_deg", 180, variation.flat_rad,
                                 "chosen: between a rounder and a squarer wave"),
    [HP_KEY_SPREAD_FRICTION] = FACTOR("friction_percent", 1000, friction_ratio,
                                      "chosen: seals, grease and iron loss differ most"),
    [HP_KEY_SPREAD_BREAKAWAY] =
        FACTOR("breakaway_percent", 1000, breakaway_ratio, "chosen: nearly as much as friction"),
    [HP_KEY_SPREAD_VISCOUS] =
        FACTOR("viscous_percent", 1000, viscous_ratio, "chosen: as the friction"),
    [HP_KEY_SPREAD_INERTIA] =
        FACTOR("inertia_percent", 1000, inertia_ratio, "chosen: other rims and tyres"),
    [HP_KEY_SPREAD_TOGETHER] = ANGLE("sensors_together_deg", 30, variation.common_rad,
                                     "chosen: a carrier glued a little off"),
    [HP_KEY_SPREAD_EACH] = ANGLE("sensor_each_deg", 30, variation.individual_rad,
                                 "chosen: play of a sensor in its slot"),
    [HP_KEY_SPREAD_HYSTERESIS] =
        FACTOR("hysteresis_percent", 1000, hysteresis_ratio, "chosen: sensor types and air gaps"),
    [HP_KEY_SPREAD_COGGING] =
        FACTOR("cogging_percent", 1000, cogging_ratio, "chosen: half to double"),
    [HP_KEY_SPREAD_COGGING_PHASE] =
        FROM("spread.cogging_phase_deg", "degrees", 0, 180, spread.variation.cogging_phase_rad,
             HP_DEG, "chosen: any; nobody measures it"),
    [HP_KEY_SPREAD_BATTERY] =
        FACTOR("battery_percent", 100, battery_ratio, "chosen: much of the way from full to empty"),
    [HP_KEY_SPREAD_BATTERY_OHM] =
        FACTOR("battery_resistance_percent", 1000, battery_ohm_ratio, "chosen: age and cold"),
    [HP_KEY_SPREAD_WINDING] =
        FROM("spread.winding_temperature_k", "K", 0, 60, spread.variation.winding_k, 1,
             "chosen: workshops, and a motor that has just run"),
    [HP_KEY_SPREAD_LIMITS] =
        FACTOR("current_limits_percent", 1000, limit_ratio, "chosen: shunts of cheap controllers"),
    [HP_KEY_SPREAD_REST] = ANGLE("rest_angle_deg", 180, rest_rad, "chosen: any"),

    [HP_KEY_LEADS] = SECTION("leads"),
    [HP_KEY_LEADS_KNOWN] =
        FLAG("leads.known", labels.axes_known, "chosen: who names an axis knows it"),
    [HP_KEY_MOTOR_PHASES] = SECTION("leads.motor_phases"),
    [HP_KEY_MOTOR_PHASE_U] = LABEL("leads.motor_phases.U", labels.motor_lead[HP_U]),
    [HP_KEY_MOTOR_PHASE_V] = LABEL("leads.motor_phases.V", labels.motor_lead[HP_V]),
    [HP_KEY_MOTOR_PHASE_W] = LABEL("leads.motor_phases.W", labels.motor_lead[HP_W]),
    [HP_KEY_MOTOR_SENSORS] = SECTION("leads.motor_sensors"),
    [HP_KEY_MOTOR_SENSOR_U] = LABEL("leads.motor_sensors.U", labels.motor_sensor[HP_U]),
    [HP_KEY_MOTOR_SENSOR_V] = LABEL("leads.motor_sensors.V", labels.motor_sensor[HP_V]),
    [HP_KEY_MOTOR_SENSOR_W] = LABEL("leads.motor_sensors.W", labels.motor_sensor[HP_W]),
    [HP_KEY_OUTPUTS] = SECTION("leads.controller_outputs"),
    [HP_KEY_OUTPUT_U] = LABEL("leads.controller_outputs.U", labels.controller_output[HP_U]),
    [HP_KEY_OUTPUT_V] = LABEL("leads.controller_outputs.V", labels.controller_output[HP_V]),
    [HP_KEY_OUTPUT_W] = LABEL("leads.controller_outputs.W", labels.controller_output[HP_W]),
    [HP_KEY_INPUTS] = SECTION("leads.controller_inputs"),
    [HP_KEY_INPUT_U] = LABEL("leads.controller_inputs.U", labels.controller_input[HP_U]),
    [HP_KEY_INPUT_V] = LABEL("leads.controller_inputs.V", labels.controller_input[HP_V]),
    [HP_KEY_INPUT_W] = LABEL("leads.controller_inputs.W", labels.controller_input[HP_W]),

    [HP_KEY_HARNESS] = SPECIAL("harness", NULL),

    [HP_KEY_BENCH] = SECTION("bench"),
    [HP_KEY_BENCH_60] = CHANCE("sixty_degree_percent", 99, prior.inverted,
                               "chosen: 60-degree motors are old and uncommon"),
    [HP_KEY_BENCH_SENSOR] = CHANCE("dead_sensor_percent", 50, prior.sensor_fault,
                                   "chosen: the part that dies first in a salvaged hub"),
    [HP_KEY_BENCH_OPEN] =
        CHANCE("open_lead_percent", 25, prior.lead_open, "chosen: torn at the axle"),
    [HP_KEY_BENCH_CLUTCH] =
        CHANCE("slipping_clutch_percent", 20, prior.clutch, "chosen: worn, when there is one"),
    [HP_KEY_BENCH_TABLE] =
        FLAG("bench.table_known", table_known, "chosen: controller.table is what a sheet says"),
    [HP_KEY_BENCH_TABLE_WRONG] = CHANCE("table_wrong_percent", 50, table_wrong,
                                        "chosen: a sheet or a sticker is rarely wrong"),
    [HP_KEY_BENCH_SLIP] = ABOVE("bench.slip_percent", "%", 0, 25, slip, 0.01,
                                "chosen: one word or figure in twenty is wrong"),
    [HP_KEY_BENCH_POWERED] = FLAG("bench.powered_trials", plan.powered, READABLE),
    [HP_KEY_BENCH_LEARN] =
        FLAG("bench.learn_lead", plan.learns, "chosen: few controllers have one"),
    [HP_KEY_BENCH_FIRST_POWER] = CHOICE("bench.first_power", first_power_words, plan.first_power,
                                        "chosen: a bench supply, or a lamp where there is none"),
    [HP_KEY_BENCH_PLACES] =
        WHOLE("bench.rest_angles", 1, 10, plan.starts,
              "chosen: a case dead from two angles in five passes one time in 20"),
    [HP_KEY_BENCH_THROTTLE] = ABOVE("bench.trial_throttle_percent", "%", 0, 100, plan.throttle,
                                    0.01, "as controller.throttle_percent"),
    [HP_KEY_BENCH_THROTTLE_REST] =
        LIMIT("bench.throttle_rest_v", "V", 60, throttle_rest_v, 1, "chosen: not measured yet"),
    [HP_KEY_BENCH_THROTTLE_FULL] =
        LIMIT("bench.throttle_full_v", "V", 60, throttle_full_v, 1, "chosen: not measured yet"),
    [HP_KEY_BENCH_SURE] = FROM("bench.sure_percent", "%", 50, 99.999, plan.sure, 0.01,
                               "chosen: one false end in four hundred"),
    [HP_KEY_BENCH_SURE_BROKEN] =
        FROM("bench.sure_broken_percent", "%", 50, 99.999, plan.sure_broken, 0.01,
             "chosen: a part is checked by a reading before it is replaced"),
    [HP_KEY_BENCH_TRIALS] = WHOLE("bench.trials_most", 1, 1000, plan.trials_max,
                                  "chosen: twice the worst of any sharp plan"),
    [HP_KEY_BENCH_SUPPLY_LEAST] = FROM("bench.sensor_supply_least_v", "V", 0, 60, plan.sensor_v_min,
                                       1, "datasheet of a latching Hall sensor: from 3.8 V"),
    [HP_KEY_BENCH_SUPPLY_MOST] = ABOVE("bench.sensor_supply_most_v", "V", 0, 60, plan.sensor_v_max,
                                       1, "datasheet of a latching Hall sensor: up to 24 V"),
    [HP_KEY_BENCH_METERS] = SECTION("bench.meters"),
    [HP_KEY_BENCH_AMMETER] = FLAG("bench.meters.ammeter", plan.ammeter,
                                  "chosen: a power meter in the battery lead is cheap"),
    [HP_KEY_BENCH_TACHOMETER] = FLAG("bench.meters.tachometer", plan.tachometer,
                                     "chosen: a bicycle computer or counted turns will do"),
    [HP_KEY_BENCH_CURRENT] = ERROR("current_error_percent", 100, current_relative,
                                   "chosen: a cheap power meter in the battery lead"),
    [HP_KEY_BENCH_CURRENT_ZERO] = ABOVE("bench.meters.current_zero_a", "A", 0, 10,
                                        person.current_zero_a, 1, "chosen: its last figures"),
    [HP_KEY_BENCH_SPEED] = ERROR("speed_error_percent", 100, speed_relative,
                                 "chosen: counted spokes, or a cheap tachometer"),
    [HP_KEY_BENCH_VOLT] = ERROR("volt_error_percent", 100, volt_relative,
                                "chosen: a hand meter on a wave that is no sine"),
    [HP_KEY_BENCH_OHM] =
        ERROR("ohm_error_percent", 100, ohm_relative, "chosen: tenths of an ohm on a hand meter"),
    [HP_KEY_BENCH_OHM_ZERO] = ABOVE("bench.meters.ohm_zero_ohm", "ohm", 0, 10, person.ohm_zero, 1,
                                    "chosen: test leads and contacts"),
    [HP_KEY_BENCH_READINGS] = SECTION("bench.readings"),
    [HP_KEY_BENCH_PINS] = READING("pins", HP_SLOT_PINS, READABLE),
    [HP_KEY_BENCH_SUPPLY] = READING("sensor_supply", HP_SLOT_SUPPLY, READABLE),
    [HP_KEY_BENCH_HAND_TURN] = READING("hand_turn", HP_SLOT_HAND_TURN, READABLE),
    [HP_KEY_BENCH_WINDING] = READING("winding", HP_SLOT_WINDING, READABLE),
    [HP_KEY_BENCH_SPIN] = READING("spin", HP_SLOT_SPIN, READABLE),
    [HP_KEY_BENCH_PARK] = READING("park", HP_SLOT_PARK, READABLE),
    [HP_KEY_BENCH_PROBE] = READING("controller_probe", HP_SLOT_PROBE, READABLE),
    [HP_KEY_BENCH_CONTROLS] = READING("controls", HP_SLOT_CONTROLS, READABLE),
    [HP_KEY_BENCH_DRAG] = READING("drag", HP_SLOT_DRAG, READABLE),
    [HP_KEY_BENCH_CONTACTS] = READING("contacts", HP_SLOT_CONTACTS, READABLE),
    [HP_KEY_BENCH_MINUTES] = SECTION("bench.minutes"),
    [HP_KEY_MINUTES_TRIAL] =
        MINUTES("trial", trial,
                "chosen: lift, connect, switch on from several start positions, switch off"),
    [HP_KEY_MINUTES_LOOK] = MINUTES("look_again", look, "chosen: switch on once more"),
    [HP_KEY_MINUTES_LEAD] =
        MINUTES("phase_lead", phase_lead, "chosen: a bolt or a bullet connector"),
    [HP_KEY_MINUTES_PIN] =
        MINUTES("sensor_pin", sensor_pin, "chosen: a pin pushed out of a small plug with a pick"),
    [HP_KEY_MINUTES_PINS] =
        READING_MINUTES("pins", HP_SLOT_PINS, "chosen: nine leads, a meter that beeps"),
    [HP_KEY_MINUTES_SUPPLY] =
        READING_MINUTES("sensor_supply", HP_SLOT_SUPPLY, "chosen: two points"),
    [HP_KEY_MINUTES_HAND_TURN] = READING_MINUTES(
        "hand_turn", HP_SLOT_HAND_TURN, "chosen: a clip for the supply, six codes to write down"),
    [HP_KEY_MINUTES_WINDING] = READING_MINUTES("winding", HP_SLOT_WINDING, "chosen: three pairs"),
    [HP_KEY_MINUTES_SPIN] =
        READING_MINUTES("spin", HP_SLOT_SPIN, "chosen: two people, or a drill on the wheel"),
    [HP_KEY_MINUTES_PARK] =
        READING_MINUTES("park", HP_SLOT_PARK, "chosen: a current-limited supply and three clips"),
    [HP_KEY_MINUTES_PROBE] =
        READING_MINUTES("controller_probe", HP_SLOT_PROBE,
                        "chosen: six codes, three voltages each, controller live"),
    [HP_KEY_MINUTES_CONTROLS] =
        READING_MINUTES("controls", HP_SLOT_CONTROLS, "chosen: seven points, the controller live"),
    [HP_KEY_MINUTES_DRAG] =
        READING_MINUTES("drag", HP_SLOT_DRAG, "chosen: a look at the meter, a turn by hand"),
    [HP_KEY_MINUTES_CONTACTS] =
        READING_MINUTES("contacts", HP_SLOT_CONTACTS, "chosen: nine leads, a tug each"),
    [HP_KEY_MINUTES_LEARN] = MINUTES("learn_lead", learn, "chosen: join a lead, wait, part it"),
    [HP_KEY_MINUTES_ROUGH] = MINUTES("risk_rough", risk_rough,
                                     "chosen: several times the battery current of a smooth run"),
    [HP_KEY_MINUTES_STALLED] = MINUTES(
        "risk_stalled", risk_stalled, "chosen: full phase current in a winding that does not turn"),
    [HP_KEY_MINUTES_BIT] =
        MINUTES("bit_of_doubt", bit, "chosen: about one reading for one bit of doubt"),

    [HP_KEY_LEARNT] = SECTION("learnt_from"),
    [HP_KEY_LEARNT_LOG] = LINE("learnt_from.log", learnt.log),
    [HP_KEY_LEARNT_SCENARIO] = LINE("learnt_from.scenario", learnt.scenario),
    [HP_KEY_LEARNT_ENTRIES] = WHOLE("learnt_from.entries", 1, 10000, learnt.entries, NULL),
    [HP_KEY_LEARNT_PRINT] = LINE("learnt_from.print", learnt.print),
    [HP_KEY_LEARNT_BEFORE] = SPECIAL("learnt_from.before", NULL),

    [HP_KEY_CONTROLS] = SECTION("controls"),
    [HP_KEY_GRIP] = SECTION("controls.throttle"),
    [HP_KEY_GRIP_SUPPLY] =
        ABOVE("controls.throttle.supply_v", "V", 0, 60, controls.throttle.supply_v, 1,
              "common practice: a Hall grip on 5 V"),
    [HP_KEY_GRIP_REST] = FROM("controls.throttle.rest_v", "V", 0, 60, controls.throttle.rest_v, 1,
                              "common practice: a Hall grip at rest"),
    [HP_KEY_GRIP_FULL] = FROM("controls.throttle.full_v", "V", 0, 60, controls.throttle.full_v, 1,
                              "common practice: a Hall grip fully open"),
    [HP_KEY_THROTTLE_STARTS] =
        FROM("controls.throttle.starts_v", "V", 0, 60, controls.throttle.starts_v, 1,
             "chosen: a dead band as wide as grips differ"),
    [HP_KEY_THROTTLE_ALL] =
        FROM("controls.throttle.all_v", "V", 0, 60, controls.throttle.saturates_v, 1,
             "chosen: a dead band as wide as grips differ"),
    [HP_KEY_FAULT_LOW] =
        LIMIT("controls.throttle.fault_below_v", "V", 60, controls.throttle.fault_low_v, 1,
              "chosen: no label says whether it looks, so the worse is taken"),
    [HP_KEY_FAULT_HIGH] =
        LIMIT("controls.throttle.fault_above_v", "V", 60, controls.throttle.fault_high_v, 1,
              "chosen: no label says whether it looks, so the worse is taken"),
    [HP_KEY_THROTTLE_PULL] = CHOICE("controls.throttle.input_pulled", pull_words, throttle_pull,
                                    "common practice: a resistor to ground"),
    [HP_KEY_LOST_SUPPLY] = FROM("controls.throttle.without_supply_v", "V", 0, 60,
                                controls.throttle.lost_supply_v, 1, NULL),
    [HP_KEY_LOST_GROUND] = FROM("controls.throttle.without_ground_v", "V", 0, 60,
                                controls.throttle.lost_ground_v, 1, NULL),
    [HP_KEY_LOST_SIGNAL] = FROM("controls.throttle.without_signal_v", "V", 0, 60,
                                controls.throttle.lost_signal_v, 1, NULL),
    [HP_KEY_REFUSES_OPEN] =
        FLAG("controls.throttle.refuses_open_grip", controls.throttle.refuses_open,
             "common practice: no start with the grip open"),
    [HP_KEY_BRAKE] = SECTION("controls.brake"),
    [HP_KEY_BRAKE_SWITCH] = CHOICE("controls.brake.switch", switch_words, controls.brake.fitted,
                                   "common practice: closed by the lever"),
    [HP_KEY_BRAKE_JOINS] = CHOICE("controls.brake.joins", level_words, controls.brake.joins,
                                  "common practice: two leads, one of them ground"),
    [HP_KEY_BRAKE_EXPECTS] = CHOICE("controls.brake.expects", expects_words, controls.brake.expects,
                                    "common practice: closed by the lever"),
    [HP_KEY_BRAKE_EXPECTS_AT] =
        CHOICE("controls.brake.expects_at", level_words, controls.brake.expects_at,
               "common practice: two leads, one of them ground"),
    [HP_KEY_BRAKE_DELAY] = FROM("controls.brake.delay_ms", "ms", 0, 1000, controls.brake.delay_s,
                                1e-3, "chosen: a contact that bounces is waited for"),
    [HP_KEY_PEDAL] = SECTION("controls.pedal"),
    [HP_KEY_PEDAL_MODE] =
        CHOICE("controls.pedal.mode", pedal_words, controls.pedal.mode, "chosen: no pedal sensor"),
    [HP_KEY_PEDAL_PULSES] =
        WHOLE("controls.pedal.pulses_per_turn", 1, 100, controls.pedal.pulses_per_turn,
              "common practice: twelve magnets"),
    [HP_KEY_PEDAL_HIGH] = FROM("controls.pedal.high_percent", "%", 1, 99, controls.pedal.high_share,
                               0.01, "chosen: a sensor that tells the sense is not even"),
    [HP_KEY_PEDAL_FORWARD] = CHOICE("controls.pedal.forward", sense_words, controls.pedal.forward,
                                    "chosen: the sense of the sensor above"),
    [HP_KEY_PEDAL_ASSIST] = FROM("controls.pedal.assist_percent", "%", 0, 100,
                                 controls.pedal.assist, 0.01, "chosen: more than half"),
    [HP_KEY_PEDAL_START] = WHOLE("controls.pedal.start_pulses", 1, 100, controls.pedal.start_pulses,
                                 "chosen: a quarter of a turn"),
    [HP_KEY_PEDAL_OFF] = FROM("controls.pedal.off_ms", "ms", 1, 10000, controls.pedal.off_s, 1e-3,
                              "chosen: slow pedalling still counts"),
    [HP_KEY_SPEED_SWITCH] = SECTION("controls.speed_switch"),
    [HP_KEY_LOST_STEP] = WHOLE("controls.speed_switch.without_lead", 1, HP_SPEED_STEPS_MAX,
                               controls.speed.lost, "chosen: the last step, the worse is taken"),

    [HP_KEY_VEHICLE] = SECTION("vehicle"),
    [HP_KEY_MACHINE_KG] = FROM("vehicle.machine_kg", "kg", 1, 4000, machine_kg, 1,
                               "chosen: a bicycle with hub and battery"),
    [HP_KEY_RIDER_KG] =
        FROM("vehicle.rider_kg", "kg", 0, 500, rider_kg, 1, "chosen: a clothed adult"),
    [HP_KEY_LOAD_KG] = FROM("vehicle.load_kg", "kg", 0, 500, load_kg, 1, "chosen: nothing"),
    [HP_KEY_TYRE] = LINE("vehicle.tyre", tyre),
    [HP_KEY_WHEEL_TURN] = ABOVE("vehicle.wheel_turn_mm", "mm", 0, 10000, vehicle.wheel_m, 1e-3,
                                "chosen: tyre 47-559"),
    [HP_KEY_DRAG_AREA] = FROM("vehicle.drag_area_m2", "m2", 0, 10, vehicle.road.drag_area_m2, 1,
                              "common practice: an upright rider, 0.5 to 0.7"),
    [HP_KEY_ROLLING] = FROM("vehicle.rolling_coefficient", "", 0, 1, vehicle.road.rolling, 1,
                            "common practice: street tyres 0.005 to 0.010; grass ten times that"),
    [HP_KEY_AIR_DENSITY] = FROM("vehicle.air_kg_m3", "kg/m3", 0.3, 2, vehicle.road.air_kg_m3, 1,
                                "dry air, 20 C, sea level (textbook)"),
    [HP_KEY_HEAD_WIND] = FROM("vehicle.head_wind_km_h", "km/h", -100, 100,
                              vehicle.road.head_wind_m_s, (1.0 / 3.6), "chosen: a calm day"),
    [HP_KEY_HILL] = FROM("vehicle.hill_percent", "%", 0, 40, vehicle.hill, 0.01,
                         "chosen: a hill that one notices"),
    [HP_KEY_HILL_M] = ABOVE("vehicle.hill_m", "m", 0, 100000, vehicle.hill_m, 1, "chosen"),
    [HP_KEY_CRUISE] = ABOVE("vehicle.cruise_km_h", "km/h", 0, 200, vehicle.cruise_m_s, (1.0 / 3.6),
                            "chosen: an easy speed"),
    [HP_KEY_RIDE] = SPECIAL("vehicle.ride", "chosen: out, up and on"),
    [HP_KEY_MOUNTED] = CHOICE("vehicle.mounted", mounted_words, vehicle.mounted,
                              "chosen: the lead leaves on the side it was made for"),
    [HP_KEY_ROAD_UNSURE] =
        FROM("vehicle.unsure_percent", "%", 0, 100, vehicle.unsure, 0.01,
             "chosen: drag and rolling are guesses until a coast-down says more"),
    [HP_KEY_PACK] = SECTION("pack"),
    [HP_KEY_CELLS] = CHOICE("pack.cells", cell_words, vehicle.pack.cell,
                            "common practice: most packs of small machines"),
    [HP_KEY_IN_SERIES] = WHOLE("pack.in_series", 1, 100, vehicle.pack.in_series, NULL),
    [HP_KEY_PACK_FULL] = ABOVE("pack.full_v", "V", 0, 200, vehicle.pack.full_v, 1, NULL),
    [HP_KEY_PACK_EMPTY] = ABOVE("pack.empty_v", "V", 0, 200, vehicle.pack.empty_v, 1, NULL),
    [HP_KEY_PACK_OHM] =
        FROM("pack.resistance_mohm", "mohm", 0, 100000, vehicle.pack.resistance_ohm, 1e-3, NULL),
    [HP_KEY_PACK_AH] =
        LIMIT("pack.capacity_ah", "Ah", 1000, vehicle.pack.capacity_ah, 1, "not stated"),
    [HP_KEY_PACK_USABLE] = ABOVE("pack.usable_percent", "%", 0, 100, vehicle.pack.usable, 0.01,
                                 "common practice: an old pack, not emptied to the last"),
    [HP_KEY_PACK_LIMIT] =
        LIMIT("pack.current_limit_a", "A", 10000, vehicle.pack.limit_a, 1, "not stated"),
    [HP_KEY_PACK_CHARGE] =
        LIMIT("pack.charge_limit_a", "A", 10000, vehicle.pack.charge_a, 1, "not stated"),
    [HP_KEY_FUSE] = SECTION("fuse"),
    [HP_KEY_FUSE_A] = LIMIT("fuse.rated_a", "A", 10000, vehicle.fuse.rated_a, 1, "not stated"),
    [HP_KEY_FUSE_BREAKING] =
        LIMIT("fuse.breaking_a", "A", 1000000, vehicle.fuse.breaking_a, 1, "not stated"),
    [HP_KEY_FUSE_V] = LIMIT("fuse.rated_v", "V", 2000, vehicle.fuse.rated_v, 1, "not stated"),
    [HP_KEY_CABLE] = SECTION("cable"),
    [HP_KEY_INSULATION] = CHOICE("cable.insulation_c", insulation_words, vehicle.insulation,
                                 "chosen: middling; silicone bears more"),
    [HP_KEY_BATTERY_MM2] =
        LIMIT("cable.battery_mm2", "mm2", 1000, vehicle.battery_lead.area_mm2, 1, "not stated"),
    [HP_KEY_BATTERY_AWG] = WHOLE("cable.battery_awg", -3, 40, battery_awg, NULL),
    [HP_KEY_BATTERY_M] =
        ABOVE("cable.battery_length_m", "m", 0, 100, vehicle.battery_lead.length_m, 1, "chosen"),
    [HP_KEY_BATTERY_AMPACITY] = LIMIT("cable.battery_ampacity_a", "A", 10000,
                                      vehicle.battery_lead.ampacity_a, 1, "from the area"),
    [HP_KEY_PHASE_MM2] =
        LIMIT("cable.phase_mm2", "mm2", 1000, vehicle.phase_lead.area_mm2, 1, "not stated"),
    [HP_KEY_PHASE_AWG] = WHOLE("cable.phase_awg", -3, 40, phase_awg, NULL),
    [HP_KEY_PHASE_M] =
        ABOVE("cable.phase_length_m", "m", 0, 100, vehicle.phase_lead.length_m, 1, "chosen"),
    [HP_KEY_PHASE_AMPACITY] = LIMIT("cable.phase_ampacity_a", "A", 10000,
                                    vehicle.phase_lead.ampacity_a, 1, "from the area"),
    [HP_KEY_AXLE] = SECTION("axle"),
    [HP_KEY_AXLE_MM] =
        LIMIT("axle.diameter_mm", "mm", 100, vehicle.axle.diameter_mm, 1, "not stated"),
    [HP_KEY_FLATS_MM] = LIMIT("axle.flats_mm", "mm", 100, vehicle.axle.flats_mm, 1, "not stated"),
    [HP_KEY_ENGAGED_MM] =
        LIMIT("axle.engaged_mm", "mm", 200, vehicle.axle.engaged_mm, 1, "not stated"),
    [HP_KEY_DROPOUT] =
        CHOICE("axle.dropout", dropout_words, vehicle.axle.dropout, "chosen: the softer one"),
    [HP_KEY_AXLE_MPA] = ABOVE("axle.allowed_mpa", "MPa", 0, 2000, vehicle.axle.allowed_mpa, 1,
                              "common practice (from memory): yield of a cast or welded aluminium"),
    [HP_KEY_TORQUE_ARM] = FLAG("axle.torque_arm", vehicle.axle.torque_arm, "chosen: none fitted"),
    [HP_KEY_THERMAL] = SECTION("thermal"),
    [HP_KEY_COPPER_KG] = ABOVE("thermal.copper_kg", "kg", 0, 1000, copper_kg, 1, NULL),
    [HP_KEY_HUB_KG] = ABOVE("thermal.hub_kg", "kg", 0, 1000, hub_kg, 1, NULL),
    [HP_KEY_COPPER_J] = ABOVE("thermal.copper_j_per_k", "J/K", 0, 1000000,
                              vehicle.heat.copper_j_per_k, 1, "chosen: 0.8 kg of copper"),
    [HP_KEY_HUB_J] = ABOVE("thermal.hub_j_per_k", "J/K", 0, 1000000, vehicle.heat.hub_j_per_k, 1,
                           "chosen: a hub of 6 kg"),
    [HP_KEY_COPPER_HUB] =
        ABOVE("thermal.copper_to_hub_k_per_w", "K/W", 0, 1000, vehicle.heat.copper_hub_k_w, 1,
              "derived, slot paper from memory (docs/scenario.md); measure it by the heating test"),
    [HP_KEY_HUB_AIR] = ABOVE("thermal.hub_to_air_k_per_w", "K/W", 0, 1000, vehicle.heat.hub_air_k_w,
                             1, "derived: 12 W/(m2 K) over the shell (docs/scenario.md)"),
    [HP_KEY_AIR_C] =
        FROM("thermal.air_c", "C", -40, 60, vehicle.heat.air_c, 1, "chosen: a mild day"),
    [HP_KEY_HEAT_UNSURE] = FROM("thermal.unsure_percent", "%", 0, 100, vehicle.heat_unsure, 0.01,
                                "chosen: nobody has measured this hub"),
    [HP_KEY_RATINGS] = SECTION("ratings"),
    [HP_KEY_CONTROLLER_V] = LIMIT("ratings.controller_most_v", "V", 200,
                                  vehicle.ratings.controller_most_v, 1, "not stated"),
    [HP_KEY_BATTERY_PLUG] = LIMIT("ratings.battery_connector_a", "A", 10000,
                                  vehicle.ratings.battery_connector_a, 1, "not stated"),
    [HP_KEY_PHASE_PLUG] = LIMIT("ratings.phase_connector_a", "A", 10000,
                                vehicle.ratings.phase_connector_a, 1, "not stated"),
    [HP_KEY_SENSOR_V] = LIMIT("ratings.sensor_supply_v", "V", 200, vehicle.ratings.sensor_supply_v,
                              1, "not stated"),
    [HP_KEY_WINDING_MOST] =
        FROM("ratings.winding_most_c", "C", 40, 200, vehicle.ratings.winding_most_c, 1,
             "chosen: glue and Hall sensors age above it"),
    [HP_KEY_REGENERATES] = FLAG("ratings.regenerates", vehicle.ratings.regenerates,
                                "chosen: few small controllers do"),
};

const hp_reading *hp_slot_reading(hp_reading_slot slot)
{
    static const hp_reading *const reading[HP_SLOT_COUNT] = {
        [HP_SLOT_PINS] = &hp_reading_pins,           [HP_SLOT_SUPPLY] = &hp_reading_supply,
        [HP_SLOT_HAND_TURN] = &hp_reading_hand_turn, [HP_SLOT_WINDING] = &hp_reading_winding,
        [HP_SLOT_SPIN] = &hp_reading_spin,           [HP_SLOT_PARK] = &hp_reading_park,
        [HP_SLOT_PROBE] = &hp_reading_probe,         [HP_SLOT_CONTROLS] = &hp_reading_controls,
        [HP_SLOT_DRAG] = &hp_reading_drag,           [HP_SLOT_CONTACTS] = &hp_reading_contacts,
    };
    return reading[slot];
}

hp_draft hp_draft_default(void)
{
    hp_draft draft;
    memset(&draft, 0, sizeof draft);
    draft.drive = hp_drive_default();
    draft.labels = hp_labels_default();
    draft.controls = hp_controls_params_default();
    draft.throttle_pull = HP_INPUT_PULL_DOWN;
    draft.run = hp_run_options_default();
    draft.starts = hp_survey_options_default().starts;
    draft.spread = hp_spread_plan_default();
    draft.seed = (int)draft.spread.seed;
    draft.prior = hp_prior_default();
    draft.person = hp_person_default();
    draft.plan = hp_plan_params_default();
    draft.table_known = true;
    draft.table_wrong = 1.0 - draft.prior.table_stated;
    draft.slip = HP_BENCH_SLIP;
    for (int k = 0; k < HP_SLOT_COUNT; k++) {
        const hp_reading *reading = hp_slot_reading((hp_reading_slot)k);
        draft.reads[k] = draft.plan.allowed & hp_allow(reading);
        draft.minutes[k] = reading->minutes;
    }
    draft.powered = !draft.drive.sensors.no_supply;
    draft.spacing = draft.drive.sensors.spacing_60;
    draft.measured_c = 20.0;
    draft.table_named = true;
    draft.speed_step = 1;
    draft.drive_kind = 2;
    draft.vehicle = hp_vehicle_default();
    draft.machine_kg = 25.0;
    draft.rider_kg = draft.vehicle.road.mass_kg - draft.machine_kg;
    return draft;
}

const hp_key *hp_key_of(hp_key_id id)
{
    return &keys[id];
}

const char *hp_key_name(hp_key_id id)
{
    const char *dot = strrchr(keys[id].path, '.');
    return dot ? dot + 1 : keys[id].path;
}

bool hp_key_is_in(hp_key_id id, const char *section)
{
    const char *path = keys[id].path, *name = hp_key_name(id);
    size_t length = name == path ? 0 : (size_t)(name - path) - 1;
    return strlen(section) == length && strncmp(path, section, length) == 0;
}

hp_key_id hp_key_find(const char *section, const char *name)
{
    for (hp_key_id id = 0; id < HP_KEY_COUNT; id++)
        if (hp_key_is_in(id, section) && strcmp(hp_key_name(id), name) == 0)
            return id;
    return HP_KEY_COUNT;
}

hp_key_id hp_key_of_path(const char *path)
{
    for (hp_key_id id = 0; id < HP_KEY_COUNT; id++)
        if (strcmp(keys[id].path, path) == 0)
            return id;
    return HP_KEY_COUNT;
}
