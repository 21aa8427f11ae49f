/* Keys of who works on the machine: what is uncertain, names of leads, the bench, what was learnt.
 * See scenario_key_rows.h. */
#include "record/scenario/scenario_key_rows.h"

static const char *const first_power_words[] = {"any", "bench_supply", "lamp", "none", NULL};

/* Words stand in the order of the model's enums, and a choice is written through an int. */
_Static_assert(HP_FIRST_POWER_ANY == 0 && HP_FIRST_POWER_BENCH_SUPPLY == 1 &&
                   HP_FIRST_POWER_LAMP == 2 && HP_FIRST_POWER_NONE == 3 &&
                   HP_FIRST_POWER_COUNT == 4 && sizeof(hp_first_power) == sizeof(int),
               "first_power_words");

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

const hp_key hp_keys_bench[HP_KEYS_VEHICLE - HP_KEYS_BENCH] = {
    [HP_KEY_SPREAD - HP_KEYS_BENCH] = SECTION("spread"), // NOLINT(misc-redundant-expression)
    [HP_KEY_SPREAD_MOTORS - HP_KEYS_BENCH] =
        WHOLE("spread.motors", 1, HP_SPREAD_MOTORS_MAX, spread.motors,
              "chosen: a share is then good to some 5 in 100"),
    [HP_KEY_SPREAD_SEED - HP_KEYS_BENCH] =
        WHOLE("spread.seed", 0, HP_SPREAD_SEED_MAX, seed, "chosen: any will do"),
    [HP_KEY_SPREAD_RESISTANCE - HP_KEYS_BENCH] =
        FACTOR("resistance_percent", 1000, resistance_ratio,
               "chosen: winding and its leads, a meter on two points"),
    [HP_KEY_SPREAD_INDUCTANCE - HP_KEYS_BENCH] =
        FACTOR("inductance_percent", 1000, inductance_ratio,
               "chosen: rarely on a label, falls with the current"),
    [HP_KEY_SPREAD_BACKEMF - HP_KEYS_BENCH] =
        FACTOR("backemf_percent", 1000, ke_ratio, "chosen: magnets and labels of a kind"),
    [HP_KEY_SPREAD_FLAT - HP_KEYS_BENCH] = ANGLE("flat_width_deg", 180, variation.flat_rad,
                                                 "chosen: between a rounder and a squarer wave"),
    [HP_KEY_SPREAD_FRICTION - HP_KEYS_BENCH] =
        FACTOR("friction_percent", 1000, friction_ratio,
               "chosen: seals, grease and iron loss differ most"),
    [HP_KEY_SPREAD_BREAKAWAY - HP_KEYS_BENCH] =
        FACTOR("breakaway_percent", 1000, breakaway_ratio, "chosen: nearly as much as friction"),
    [HP_KEY_SPREAD_VISCOUS - HP_KEYS_BENCH] =
        FACTOR("viscous_percent", 1000, viscous_ratio, "chosen: as the friction"),
    [HP_KEY_SPREAD_INERTIA - HP_KEYS_BENCH] =
        FACTOR("inertia_percent", 1000, inertia_ratio, "chosen: other rims and tyres"),
    [HP_KEY_SPREAD_TOGETHER - HP_KEYS_BENCH] = ANGLE(
        "sensors_together_deg", 30, variation.common_rad, "chosen: a carrier glued a little off"),
    [HP_KEY_SPREAD_EACH - HP_KEYS_BENCH] = ANGLE("sensor_each_deg", 30, variation.individual_rad,
                                                 "chosen: play of a sensor in its slot"),
    [HP_KEY_SPREAD_HYSTERESIS - HP_KEYS_BENCH] =
        FACTOR("hysteresis_percent", 1000, hysteresis_ratio, "chosen: sensor types and air gaps"),
    [HP_KEY_SPREAD_COGGING - HP_KEYS_BENCH] =
        FACTOR("cogging_percent", 1000, cogging_ratio, "chosen: half to double"),
    [HP_KEY_SPREAD_COGGING_PHASE - HP_KEYS_BENCH] =
        FROM("spread.cogging_phase_deg", "degrees", 0, 180, spread.variation.cogging_phase_rad,
             HP_DEG, "chosen: any; nobody measures it"),
    [HP_KEY_SPREAD_BATTERY - HP_KEYS_BENCH] =
        FACTOR("battery_percent", 100, battery_ratio, "chosen: much of the way from full to empty"),
    [HP_KEY_SPREAD_BATTERY_OHM - HP_KEYS_BENCH] =
        FACTOR("battery_resistance_percent", 1000, battery_ohm_ratio, "chosen: age and cold"),
    [HP_KEY_SPREAD_WINDING - HP_KEYS_BENCH] =
        FROM("spread.winding_temperature_k", "K", 0, 60, spread.variation.winding_k, 1,
             "chosen: workshops, and a motor that has just run"),
    [HP_KEY_SPREAD_LIMITS - HP_KEYS_BENCH] =
        FACTOR("current_limits_percent", 1000, limit_ratio, "chosen: shunts of cheap controllers"),
    [HP_KEY_SPREAD_REST - HP_KEYS_BENCH] = ANGLE("rest_angle_deg", 180, rest_rad, "chosen: any"),

    [HP_KEY_LEADS - HP_KEYS_BENCH] = SECTION("leads"),
    [HP_KEY_LEADS_KNOWN - HP_KEYS_BENCH] =
        FLAG("leads.known", labels.axes_known, "chosen: who names an axis knows it"),
    [HP_KEY_MOTOR_PHASES - HP_KEYS_BENCH] = SECTION("leads.motor_phases"),
    [HP_KEY_MOTOR_PHASE_U - HP_KEYS_BENCH] = LABEL("leads.motor_phases.U", labels.motor_lead[HP_U]),
    [HP_KEY_MOTOR_PHASE_V - HP_KEYS_BENCH] = LABEL("leads.motor_phases.V", labels.motor_lead[HP_V]),
    [HP_KEY_MOTOR_PHASE_W - HP_KEYS_BENCH] = LABEL("leads.motor_phases.W", labels.motor_lead[HP_W]),
    [HP_KEY_MOTOR_SENSORS - HP_KEYS_BENCH] = SECTION("leads.motor_sensors"),
    [HP_KEY_MOTOR_SENSOR_U - HP_KEYS_BENCH] =
        LABEL("leads.motor_sensors.U", labels.motor_sensor[HP_U]),
    [HP_KEY_MOTOR_SENSOR_V - HP_KEYS_BENCH] =
        LABEL("leads.motor_sensors.V", labels.motor_sensor[HP_V]),
    [HP_KEY_MOTOR_SENSOR_W - HP_KEYS_BENCH] =
        LABEL("leads.motor_sensors.W", labels.motor_sensor[HP_W]),
    [HP_KEY_OUTPUTS - HP_KEYS_BENCH] = SECTION("leads.controller_outputs"),
    [HP_KEY_OUTPUT_U - HP_KEYS_BENCH] =
        LABEL("leads.controller_outputs.U", labels.controller_output[HP_U]),
    [HP_KEY_OUTPUT_V - HP_KEYS_BENCH] =
        LABEL("leads.controller_outputs.V", labels.controller_output[HP_V]),
    [HP_KEY_OUTPUT_W - HP_KEYS_BENCH] =
        LABEL("leads.controller_outputs.W", labels.controller_output[HP_W]),
    [HP_KEY_INPUTS - HP_KEYS_BENCH] = SECTION("leads.controller_inputs"),
    [HP_KEY_INPUT_U - HP_KEYS_BENCH] =
        LABEL("leads.controller_inputs.U", labels.controller_input[HP_U]),
    [HP_KEY_INPUT_V - HP_KEYS_BENCH] =
        LABEL("leads.controller_inputs.V", labels.controller_input[HP_V]),
    [HP_KEY_INPUT_W - HP_KEYS_BENCH] =
        LABEL("leads.controller_inputs.W", labels.controller_input[HP_W]),

    [HP_KEY_HARNESS - HP_KEYS_BENCH] = SPECIAL("harness", NULL),

    [HP_KEY_BENCH - HP_KEYS_BENCH] = SECTION("bench"),
    [HP_KEY_BENCH_60 - HP_KEYS_BENCH] = CHANCE("sixty_degree_percent", 99, prior.inverted,
                                               "chosen: hubs with 60-degree sensors are old and "
                                               "uncommon"),
    [HP_KEY_BENCH_SENSOR - HP_KEYS_BENCH] =
        CHANCE("dead_sensor_percent", 50, prior.sensor_fault,
               "chosen: the part that dies first in a salvaged hub"),
    [HP_KEY_BENCH_OPEN - HP_KEYS_BENCH] =
        CHANCE("open_lead_percent", 25, prior.lead_open, "chosen: torn at the axle"),
    [HP_KEY_BENCH_CLUTCH - HP_KEYS_BENCH] =
        CHANCE("slipping_clutch_percent", 20, prior.clutch, "chosen: worn, when there is one"),
    [HP_KEY_BENCH_TABLE - HP_KEYS_BENCH] =
        FLAG("bench.table_known", table_known, "chosen: controller.table is what a sheet says"),
    [HP_KEY_BENCH_TABLE_WRONG - HP_KEYS_BENCH] = CHANCE(
        "table_wrong_percent", 50, table_wrong, "chosen: a sheet or a sticker is rarely wrong"),
    [HP_KEY_BENCH_SLIP - HP_KEYS_BENCH] = ABOVE("bench.slip_percent", "%", 0, 25, slip, 0.01,
                                                "chosen: one word or figure in twenty is wrong"),
    [HP_KEY_BENCH_POWERED - HP_KEYS_BENCH] = FLAG("bench.powered_trials", plan.powered, READABLE),
    [HP_KEY_BENCH_LEARN - HP_KEYS_BENCH] =
        FLAG("bench.learn_lead", plan.learns, "chosen: few controllers have one"),
    [HP_KEY_BENCH_FIRST_POWER - HP_KEYS_BENCH] =
        CHOICE("bench.first_power", first_power_words, plan.first_power,
               "chosen: a bench supply, or a lamp where there is none"),
    [HP_KEY_BENCH_PLACES - HP_KEYS_BENCH] =
        WHOLE("bench.rest_angles", 1, 10, plan.starts,
              "chosen: a case dead from two angles in five passes one time in 20"),
    [HP_KEY_BENCH_THROTTLE - HP_KEYS_BENCH] =
        ABOVE("bench.trial_throttle_percent", "%", 0, 100, plan.throttle, 0.01,
              "as controller.throttle_percent"),
    [HP_KEY_BENCH_THROTTLE_REST - HP_KEYS_BENCH] =
        LIMIT("bench.throttle_rest_v", "V", 60, throttle_rest_v, 1, "chosen: not measured yet"),
    [HP_KEY_BENCH_THROTTLE_FULL - HP_KEYS_BENCH] =
        LIMIT("bench.throttle_full_v", "V", 60, throttle_full_v, 1, "chosen: not measured yet"),
    [HP_KEY_BENCH_SURE - HP_KEYS_BENCH] = FROM("bench.sure_percent", "%", 50, 99.999, plan.sure,
                                               0.01, "chosen: one false end in four hundred"),
    [HP_KEY_BENCH_SURE_BROKEN - HP_KEYS_BENCH] =
        FROM("bench.sure_broken_percent", "%", 50, 99.999, plan.sure_broken, 0.01,
             "chosen: a part is checked by a reading before it is replaced"),
    [HP_KEY_BENCH_TRIALS - HP_KEYS_BENCH] = WHOLE("bench.trials_most", 1, 1000, plan.trials_max,
                                                  "chosen: twice the worst of any sharp plan"),
    [HP_KEY_BENCH_SUPPLY_LEAST - HP_KEYS_BENCH] =
        FROM("bench.sensor_supply_least_v", "V", 0, 60, plan.sensor_v_min, 1,
             "datasheet of a latching Hall sensor: from 3.8 V"),
    [HP_KEY_BENCH_SUPPLY_MOST - HP_KEYS_BENCH] =
        ABOVE("bench.sensor_supply_most_v", "V", 0, 60, plan.sensor_v_max, 1,
              "datasheet of a latching Hall sensor: up to 24 V"),
    [HP_KEY_BENCH_METERS - HP_KEYS_BENCH] = SECTION("bench.meters"),
    [HP_KEY_BENCH_AMMETER - HP_KEYS_BENCH] = FLAG(
        "bench.meters.ammeter", plan.ammeter, "chosen: a power meter in the battery lead is cheap"),
    [HP_KEY_BENCH_TACHOMETER - HP_KEYS_BENCH] =
        FLAG("bench.meters.tachometer", plan.tachometer,
             "chosen: a bicycle computer or counted turns will do"),
    [HP_KEY_BENCH_CURRENT - HP_KEYS_BENCH] =
        ERROR("current_error_percent", 100, current_relative,
              "chosen: a cheap power meter in the battery lead"),
    [HP_KEY_BENCH_CURRENT_ZERO - HP_KEYS_BENCH] =
        ABOVE("bench.meters.current_zero_a", "A", 0, 10, person.current_zero_a, 1,
              "chosen: its last figures"),
    [HP_KEY_BENCH_SPEED - HP_KEYS_BENCH] = ERROR("speed_error_percent", 100, speed_relative,
                                                 "chosen: counted spokes, or a cheap tachometer"),
    [HP_KEY_BENCH_VOLT - HP_KEYS_BENCH] = ERROR("volt_error_percent", 100, volt_relative,
                                                "chosen: a hand meter on a wave that is no sine"),
    [HP_KEY_BENCH_OHM - HP_KEYS_BENCH] =
        ERROR("ohm_error_percent", 100, ohm_relative, "chosen: tenths of an ohm on a hand meter"),
    [HP_KEY_BENCH_OHM_ZERO - HP_KEYS_BENCH] =
        ABOVE("bench.meters.ohm_zero_ohm", "ohm", 0, 10, person.ohm_zero, 1,
              "chosen: test leads and contacts"),
    [HP_KEY_BENCH_READINGS - HP_KEYS_BENCH] = SECTION("bench.readings"),
    [HP_KEY_BENCH_PINS - HP_KEYS_BENCH] = READING("pins", HP_SLOT_PINS, READABLE),
    [HP_KEY_BENCH_SUPPLY - HP_KEYS_BENCH] = READING("sensor_supply", HP_SLOT_SUPPLY, READABLE),
    [HP_KEY_BENCH_HAND_TURN - HP_KEYS_BENCH] = READING("hand_turn", HP_SLOT_HAND_TURN, READABLE),
    [HP_KEY_BENCH_WINDING - HP_KEYS_BENCH] = READING("winding", HP_SLOT_WINDING, READABLE),
    [HP_KEY_BENCH_SPIN - HP_KEYS_BENCH] = READING("spin", HP_SLOT_SPIN, READABLE),
    [HP_KEY_BENCH_PARK - HP_KEYS_BENCH] = READING("park", HP_SLOT_PARK, READABLE),
    [HP_KEY_BENCH_PROBE - HP_KEYS_BENCH] = READING("controller_probe", HP_SLOT_PROBE, READABLE),
    [HP_KEY_BENCH_CONTROLS - HP_KEYS_BENCH] = READING("controls", HP_SLOT_CONTROLS, READABLE),
    [HP_KEY_BENCH_DRAG - HP_KEYS_BENCH] = READING("drag", HP_SLOT_DRAG, READABLE),
    [HP_KEY_BENCH_CONTACTS - HP_KEYS_BENCH] = READING("contacts", HP_SLOT_CONTACTS, READABLE),
    [HP_KEY_BENCH_HALL_PLUG - HP_KEYS_BENCH] = READING("hall_plug", HP_SLOT_HALL_PLUG, READABLE),
    [HP_KEY_BENCH_MINUTES - HP_KEYS_BENCH] = SECTION("bench.minutes"),
    [HP_KEY_MINUTES_TRIAL - HP_KEYS_BENCH] =
        MINUTES("trial", trial,
                "chosen: lift, connect, switch on from several start positions, switch off"),
    [HP_KEY_MINUTES_LOOK - HP_KEYS_BENCH] =
        MINUTES("look_again", look, "chosen: switch on once more"),
    [HP_KEY_MINUTES_LEAD - HP_KEYS_BENCH] =
        MINUTES("phase_lead", phase_lead, "chosen: a bolt or a bullet connector"),
    [HP_KEY_MINUTES_PIN - HP_KEYS_BENCH] =
        MINUTES("sensor_pin", sensor_pin, "chosen: a pin pushed out of a small plug with a pick"),
    [HP_KEY_MINUTES_PINS - HP_KEYS_BENCH] =
        READING_MINUTES("pins", HP_SLOT_PINS, "chosen: nine leads, a meter that beeps"),
    [HP_KEY_MINUTES_SUPPLY - HP_KEYS_BENCH] =
        READING_MINUTES("sensor_supply", HP_SLOT_SUPPLY, "chosen: two points"),
    [HP_KEY_MINUTES_HAND_TURN - HP_KEYS_BENCH] = READING_MINUTES(
        "hand_turn", HP_SLOT_HAND_TURN, "chosen: a clip for the supply, six codes to write down"),
    [HP_KEY_MINUTES_WINDING - HP_KEYS_BENCH] =
        READING_MINUTES("winding", HP_SLOT_WINDING, "chosen: three pairs"),
    [HP_KEY_MINUTES_SPIN - HP_KEYS_BENCH] =
        READING_MINUTES("spin", HP_SLOT_SPIN, "chosen: two people, or a drill on the wheel"),
    [HP_KEY_MINUTES_PARK - HP_KEYS_BENCH] =
        READING_MINUTES("park", HP_SLOT_PARK, "chosen: a current-limited supply and three clips"),
    [HP_KEY_MINUTES_PROBE - HP_KEYS_BENCH] =
        READING_MINUTES("controller_probe", HP_SLOT_PROBE,
                        "chosen: six codes, three voltages each, controller live"),
    [HP_KEY_MINUTES_CONTROLS - HP_KEYS_BENCH] =
        READING_MINUTES("controls", HP_SLOT_CONTROLS, "chosen: seven points, the controller live"),
    [HP_KEY_MINUTES_DRAG - HP_KEYS_BENCH] =
        READING_MINUTES("drag", HP_SLOT_DRAG, "chosen: a look at the meter, a turn by hand"),
    [HP_KEY_MINUTES_CONTACTS - HP_KEYS_BENCH] =
        READING_MINUTES("contacts", HP_SLOT_CONTACTS, "chosen: nine leads, a tug each"),
    [HP_KEY_MINUTES_HALL_PLUG - HP_KEYS_BENCH] =
        READING_MINUTES("hall_plug", HP_SLOT_HALL_PLUG,
                        "chosen: battery off, capacitors empty, a plug, the run once more"),
    [HP_KEY_MINUTES_LEARN - HP_KEYS_BENCH] =
        MINUTES("learn_lead", learn, "chosen: join a lead, wait, part it"),
    [HP_KEY_MINUTES_ROUGH - HP_KEYS_BENCH] = MINUTES(
        "risk_rough", risk_rough, "chosen: several times the battery current of a smooth run"),
    [HP_KEY_MINUTES_STALLED - HP_KEYS_BENCH] = MINUTES(
        "risk_stalled", risk_stalled, "chosen: full phase current in a winding that does not turn"),
    [HP_KEY_MINUTES_BIT - HP_KEYS_BENCH] =
        MINUTES("bit_of_doubt", bit, "chosen: about one reading for one bit of doubt"),

    [HP_KEY_LEARNT - HP_KEYS_BENCH] = SECTION("learnt_from"),
    [HP_KEY_LEARNT_LOG - HP_KEYS_BENCH] = LINE("learnt_from.log", learnt.log),
    [HP_KEY_LEARNT_SCENARIO - HP_KEYS_BENCH] = LINE("learnt_from.scenario", learnt.scenario),
    [HP_KEY_LEARNT_ENTRIES - HP_KEYS_BENCH] =
        WHOLE("learnt_from.entries", 1, 10000, learnt.entries, NULL),
    [HP_KEY_LEARNT_PRINT - HP_KEYS_BENCH] = LINE("learnt_from.print", learnt.print),
    [HP_KEY_LEARNT_BEFORE - HP_KEYS_BENCH] = SPECIAL("learnt_from.before", NULL),
};
