/* Keys of what `hubphase controls' and `hubphase fit' reckon with besides: controls, vehicle, pack,
 * leads, axle, heat. See scenario_key_rows.h. */
#include "record/scenario/scenario_key_rows.h"

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

/* Words stand in the order of the model's enums, and a choice is written through an int. */
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

const hp_key hp_keys_vehicle[HP_KEY_COUNT - HP_KEYS_VEHICLE] = {
    [HP_KEY_CONTROLS - HP_KEYS_VEHICLE] = SECTION("controls"), // NOLINT(misc-redundant-expression)
    [HP_KEY_KEY - HP_KEYS_VEHICLE] = SECTION("controls.key"),
    [HP_KEY_KEY_FITTED - HP_KEYS_VEHICLE] =
        FLAG("controls.key.fitted", controls.key, "common practice: a key switch"),
    [HP_KEY_GRIP - HP_KEYS_VEHICLE] = SECTION("controls.throttle"),
    [HP_KEY_GRIP_FITTED - HP_KEYS_VEHICLE] =
        FLAG("controls.throttle.fitted", controls.throttle.fitted, "common practice: a throttle"),
    [HP_KEY_GRIP_SUPPLY - HP_KEYS_VEHICLE] =
        ABOVE("controls.throttle.supply_v", "V", 0, 60, controls.throttle.supply_v, 1,
              "common practice: a Hall grip on 5 V"),
    [HP_KEY_GRIP_REST - HP_KEYS_VEHICLE] =
        FROM("controls.throttle.rest_v", "V", 0, 60, controls.throttle.rest_v, 1,
             "common practice: a Hall grip at rest"),
    [HP_KEY_GRIP_FULL - HP_KEYS_VEHICLE] =
        FROM("controls.throttle.full_v", "V", 0, 60, controls.throttle.full_v, 1,
             "common practice: a Hall grip fully open"),
    [HP_KEY_THROTTLE_STARTS - HP_KEYS_VEHICLE] =
        FROM("controls.throttle.starts_v", "V", 0, 60, controls.throttle.starts_v, 1,
             "chosen: a dead band as wide as grips differ"),
    [HP_KEY_THROTTLE_ALL - HP_KEYS_VEHICLE] =
        FROM("controls.throttle.all_v", "V", 0, 60, controls.throttle.saturates_v, 1,
             "chosen: a dead band as wide as grips differ"),
    [HP_KEY_FAULT_LOW - HP_KEYS_VEHICLE] =
        LIMIT("controls.throttle.fault_below_v", "V", 60, controls.throttle.fault_low_v, 1,
              "chosen: no label says whether it looks, so the worse is taken"),
    [HP_KEY_FAULT_HIGH - HP_KEYS_VEHICLE] =
        LIMIT("controls.throttle.fault_above_v", "V", 60, controls.throttle.fault_high_v, 1,
              "chosen: no label says whether it looks, so the worse is taken"),
    [HP_KEY_THROTTLE_PULL - HP_KEYS_VEHICLE] =
        CHOICE("controls.throttle.input_pulled", pull_words, throttle_pull,
               "common practice: a resistor to ground"),
    [HP_KEY_LOST_SUPPLY - HP_KEYS_VEHICLE] = FROM("controls.throttle.without_supply_v", "V", 0, 60,
                                                  controls.throttle.lost_supply_v, 1, NULL),
    [HP_KEY_LOST_GROUND - HP_KEYS_VEHICLE] = FROM("controls.throttle.without_ground_v", "V", 0, 60,
                                                  controls.throttle.lost_ground_v, 1, NULL),
    [HP_KEY_LOST_SIGNAL - HP_KEYS_VEHICLE] = FROM("controls.throttle.without_signal_v", "V", 0, 60,
                                                  controls.throttle.lost_signal_v, 1, NULL),
    [HP_KEY_REFUSES_OPEN - HP_KEYS_VEHICLE] =
        FLAG("controls.throttle.refuses_open_grip", controls.throttle.refuses_open,
             "common practice: no start with the grip open"),
    [HP_KEY_STOPS_LOST - HP_KEYS_VEHICLE] =
        FLAG("controls.throttle.stops_without_lead", controls.throttle.stops_lost,
             "chosen: nobody has tried it, so the volts decide"),
    [HP_KEY_BRAKE - HP_KEYS_VEHICLE] = SECTION("controls.brake"),
    [HP_KEY_BRAKE_SWITCH - HP_KEYS_VEHICLE] =
        CHOICE("controls.brake.switch", switch_words, controls.brake.fitted,
               "common practice: closed by the lever"),
    [HP_KEY_BRAKE_JOINS - HP_KEYS_VEHICLE] =
        CHOICE("controls.brake.joins", level_words, controls.brake.joins,
               "common practice: two leads, one of them ground"),
    [HP_KEY_BRAKE_EXPECTS - HP_KEYS_VEHICLE] =
        CHOICE("controls.brake.expects", expects_words, controls.brake.expects,
               "common practice: closed by the lever"),
    [HP_KEY_BRAKE_EXPECTS_AT - HP_KEYS_VEHICLE] =
        CHOICE("controls.brake.expects_at", level_words, controls.brake.expects_at,
               "common practice: two leads, one of them ground"),
    [HP_KEY_BRAKE_DELAY - HP_KEYS_VEHICLE] =
        FROM("controls.brake.delay_ms", "ms", 0, 1000, controls.brake.delay_s, 1e-3,
             "chosen: a contact that bounces is waited for"),
    [HP_KEY_PEDAL - HP_KEYS_VEHICLE] = SECTION("controls.pedal"),
    [HP_KEY_PEDAL_MODE - HP_KEYS_VEHICLE] =
        CHOICE("controls.pedal.mode", pedal_words, controls.pedal.mode, "chosen: no pedal sensor"),
    [HP_KEY_PEDAL_PULSES - HP_KEYS_VEHICLE] =
        WHOLE("controls.pedal.pulses_per_turn", 1, 100, controls.pedal.pulses_per_turn,
              "common practice: twelve magnets"),
    [HP_KEY_PEDAL_HIGH - HP_KEYS_VEHICLE] =
        FROM("controls.pedal.high_percent", "%", 1, 99, controls.pedal.high_share, 0.01,
             "chosen: a sensor that tells the sense is not even"),
    [HP_KEY_PEDAL_FORWARD - HP_KEYS_VEHICLE] =
        CHOICE("controls.pedal.forward", sense_words, controls.pedal.forward,
               "chosen: the sense of the sensor above"),
    [HP_KEY_PEDAL_ASSIST - HP_KEYS_VEHICLE] =
        FROM("controls.pedal.assist_percent", "%", 0, 100, controls.pedal.assist, 0.01,
             "chosen: more than half"),
    [HP_KEY_PEDAL_START - HP_KEYS_VEHICLE] =
        WHOLE("controls.pedal.start_pulses", 1, 100, controls.pedal.start_pulses,
              "chosen: a quarter of a turn"),
    [HP_KEY_PEDAL_OFF - HP_KEYS_VEHICLE] =
        FROM("controls.pedal.off_ms", "ms", 1, 10000, controls.pedal.off_s, 1e-3,
             "chosen: slow pedalling still counts"),
    [HP_KEY_SPEED_SWITCH - HP_KEYS_VEHICLE] = SECTION("controls.speed_switch"),
    [HP_KEY_LOST_STEP - HP_KEYS_VEHICLE] =
        WHOLE("controls.speed_switch.without_lead", 1, HP_SPEED_STEPS_MAX, controls.speed.lost,
              "chosen: the last step, the worse is taken"),

    [HP_KEY_VEHICLE - HP_KEYS_VEHICLE] = SECTION("vehicle"),
    [HP_KEY_MACHINE_KG - HP_KEYS_VEHICLE] = FROM("vehicle.machine_kg", "kg", 1, 4000, machine_kg, 1,
                                                 "chosen: a bicycle with hub and battery"),
    [HP_KEY_RIDER_KG - HP_KEYS_VEHICLE] =
        FROM("vehicle.rider_kg", "kg", 0, 500, rider_kg, 1, "chosen: a clothed adult"),
    [HP_KEY_LOAD_KG - HP_KEYS_VEHICLE] =
        FROM("vehicle.load_kg", "kg", 0, 500, load_kg, 1, "chosen: nothing"),
    [HP_KEY_TYRE - HP_KEYS_VEHICLE] = LINE("vehicle.tyre", tyre),
    [HP_KEY_WHEEL_TURN - HP_KEYS_VEHICLE] = ABOVE("vehicle.wheel_turn_mm", "mm", 0, 10000,
                                                  vehicle.wheel_m, 1e-3, "chosen: tyre 47-559"),
    [HP_KEY_DRAG_AREA - HP_KEYS_VEHICLE] =
        FROM("vehicle.drag_area_m2", "m2", 0, 10, vehicle.road.drag_area_m2, 1,
             "common practice: an upright rider, 0.5 to 0.7"),
    [HP_KEY_ROLLING - HP_KEYS_VEHICLE] =
        FROM("vehicle.rolling_coefficient", "", 0, 1, vehicle.road.rolling, 1,
             "common practice: street tyres 0.005 to 0.010; grass ten times that"),
    [HP_KEY_AIR_DENSITY - HP_KEYS_VEHICLE] =
        FROM("vehicle.air_kg_m3", "kg/m3", 0.3, 2, vehicle.road.air_kg_m3, 1,
             "dry air, 20 C, sea level (textbook)"),
    [HP_KEY_HEAD_WIND - HP_KEYS_VEHICLE] =
        FROM("vehicle.head_wind_km_h", "km/h", -100, 100, vehicle.road.head_wind_m_s, (1.0 / 3.6),
             "chosen: a calm day"),
    [HP_KEY_HILL - HP_KEYS_VEHICLE] = FROM("vehicle.hill_percent", "%", 0, 40, vehicle.hill, 0.01,
                                           "chosen: a hill that one notices"),
    [HP_KEY_HILL_M - HP_KEYS_VEHICLE] =
        ABOVE("vehicle.hill_m", "m", 0, 100000, vehicle.hill_m, 1, "chosen"),
    [HP_KEY_CRUISE - HP_KEYS_VEHICLE] =
        ABOVE("vehicle.cruise_km_h", "km/h", 0, 200, vehicle.cruise_m_s, (1.0 / 3.6),
              "chosen: an easy speed"),
    [HP_KEY_RIDE - HP_KEYS_VEHICLE] = SPECIAL("vehicle.ride", "chosen: out, up and on"),
    [HP_KEY_MOUNTED - HP_KEYS_VEHICLE] =
        CHOICE("vehicle.mounted", mounted_words, vehicle.mounted,
               "chosen: the lead leaves on the side it was made for"),
    [HP_KEY_ROAD_UNSURE - HP_KEYS_VEHICLE] =
        FROM("vehicle.unsure_percent", "%", 0, 100, vehicle.unsure, 0.01,
             "chosen: drag and rolling are guesses until a coast-down says more"),
    [HP_KEY_PACK - HP_KEYS_VEHICLE] = SECTION("pack"),
    [HP_KEY_CELLS - HP_KEYS_VEHICLE] = CHOICE("pack.cells", cell_words, vehicle.pack.cell,
                                              "common practice: most packs of small machines"),
    [HP_KEY_IN_SERIES - HP_KEYS_VEHICLE] =
        WHOLE("pack.in_series", 1, 100, vehicle.pack.in_series, NULL),
    [HP_KEY_PACK_FULL - HP_KEYS_VEHICLE] =
        ABOVE("pack.full_v", "V", 0, 200, vehicle.pack.full_v, 1, NULL),
    [HP_KEY_PACK_EMPTY - HP_KEYS_VEHICLE] =
        ABOVE("pack.empty_v", "V", 0, 200, vehicle.pack.empty_v, 1, NULL),
    [HP_KEY_PACK_OHM - HP_KEYS_VEHICLE] =
        FROM("pack.resistance_mohm", "mohm", 0, 100000, vehicle.pack.resistance_ohm, 1e-3, NULL),
    [HP_KEY_PACK_AH - HP_KEYS_VEHICLE] =
        LIMIT("pack.capacity_ah", "Ah", 1000, vehicle.pack.capacity_ah, 1, "not stated"),
    [HP_KEY_PACK_USABLE - HP_KEYS_VEHICLE] =
        ABOVE("pack.usable_percent", "%", 0, 100, vehicle.pack.usable, 0.01,
              "common practice: an old pack, not emptied to the last"),
    [HP_KEY_PACK_LIMIT - HP_KEYS_VEHICLE] =
        LIMIT("pack.current_limit_a", "A", 10000, vehicle.pack.limit_a, 1, "not stated"),
    [HP_KEY_PACK_CHARGE - HP_KEYS_VEHICLE] =
        LIMIT("pack.charge_limit_a", "A", 10000, vehicle.pack.charge_a, 1, "not stated"),
    [HP_KEY_FUSE - HP_KEYS_VEHICLE] = SECTION("fuse"),
    [HP_KEY_FUSE_FITTED - HP_KEYS_VEHICLE] =
        FLAG("fuse.fitted", vehicle.fuse.fitted, "chosen: who has none says so"),
    [HP_KEY_FUSE_A - HP_KEYS_VEHICLE] =
        LIMIT("fuse.rated_a", "A", 10000, vehicle.fuse.rated_a, 1, "not stated"),
    [HP_KEY_FUSE_BREAKING - HP_KEYS_VEHICLE] =
        LIMIT("fuse.breaking_a", "A", 1000000, vehicle.fuse.breaking_a, 1, "not stated"),
    [HP_KEY_FUSE_V - HP_KEYS_VEHICLE] =
        LIMIT("fuse.rated_v", "V", 2000, vehicle.fuse.rated_v, 1, "not stated"),
    [HP_KEY_CABLE - HP_KEYS_VEHICLE] = SECTION("cable"),
    [HP_KEY_INSULATION - HP_KEYS_VEHICLE] =
        CHOICE("cable.insulation_c", insulation_words, vehicle.insulation,
               "chosen: middling; silicone bears more"),
    [HP_KEY_BATTERY_MM2 - HP_KEYS_VEHICLE] =
        LIMIT("cable.battery_mm2", "mm2", 1000, vehicle.battery_lead.area_mm2, 1, "not stated"),
    [HP_KEY_BATTERY_AWG - HP_KEYS_VEHICLE] = WHOLE("cable.battery_awg", -3, 40, battery_awg, NULL),
    [HP_KEY_BATTERY_M - HP_KEYS_VEHICLE] =
        ABOVE("cable.battery_length_m", "m", 0, 100, vehicle.battery_lead.length_m, 1, "chosen"),
    [HP_KEY_BATTERY_AMPACITY - HP_KEYS_VEHICLE] =
        LIMIT("cable.battery_ampacity_a", "A", 10000, vehicle.battery_lead.ampacity_a, 1,
              "from the area"),
    [HP_KEY_PHASE_MM2 - HP_KEYS_VEHICLE] =
        LIMIT("cable.phase_mm2", "mm2", 1000, vehicle.phase_lead.area_mm2, 1, "not stated"),
    [HP_KEY_PHASE_AWG - HP_KEYS_VEHICLE] = WHOLE("cable.phase_awg", -3, 40, phase_awg, NULL),
    [HP_KEY_PHASE_M - HP_KEYS_VEHICLE] =
        ABOVE("cable.phase_length_m", "m", 0, 100, vehicle.phase_lead.length_m, 1, "chosen"),
    [HP_KEY_PHASE_AMPACITY - HP_KEYS_VEHICLE] = LIMIT(
        "cable.phase_ampacity_a", "A", 10000, vehicle.phase_lead.ampacity_a, 1, "from the area"),
    [HP_KEY_AXLE - HP_KEYS_VEHICLE] = SECTION("axle"),
    [HP_KEY_AXLE_MM - HP_KEYS_VEHICLE] =
        LIMIT("axle.diameter_mm", "mm", 100, vehicle.axle.diameter_mm, 1, "not stated"),
    [HP_KEY_FLATS_MM - HP_KEYS_VEHICLE] =
        LIMIT("axle.flats_mm", "mm", 100, vehicle.axle.flats_mm, 1, "not stated"),
    [HP_KEY_ENGAGED_MM - HP_KEYS_VEHICLE] =
        LIMIT("axle.engaged_mm", "mm", 200, vehicle.axle.engaged_mm, 1, "not stated"),
    [HP_KEY_DROPOUT - HP_KEYS_VEHICLE] =
        CHOICE("axle.dropout", dropout_words, vehicle.axle.dropout, "chosen: the softer one"),
    [HP_KEY_AXLE_MPA - HP_KEYS_VEHICLE] =
        ABOVE("axle.allowed_mpa", "MPa", 0, 2000, vehicle.axle.allowed_mpa, 1,
              "common practice (from memory): yield of a cast or welded aluminium"),
    [HP_KEY_TORQUE_ARM - HP_KEYS_VEHICLE] =
        FLAG("axle.torque_arm", vehicle.axle.torque_arm, "chosen: none fitted"),
    [HP_KEY_THERMAL - HP_KEYS_VEHICLE] = SECTION("thermal"),
    [HP_KEY_COPPER_KG - HP_KEYS_VEHICLE] =
        ABOVE("thermal.copper_kg", "kg", 0, 1000, copper_kg, 1, NULL),
    [HP_KEY_HUB_KG - HP_KEYS_VEHICLE] = ABOVE("thermal.hub_kg", "kg", 0, 1000, hub_kg, 1, NULL),
    [HP_KEY_COPPER_J - HP_KEYS_VEHICLE] =
        ABOVE("thermal.copper_j_per_k", "J/K", 0, 1000000, vehicle.heat.copper_j_per_k, 1,
              "chosen: 0.8 kg of copper"),
    [HP_KEY_HUB_J - HP_KEYS_VEHICLE] = ABOVE("thermal.hub_j_per_k", "J/K", 0, 1000000,
                                             vehicle.heat.hub_j_per_k, 1, "chosen: a hub of 6 kg"),
    [HP_KEY_COPPER_HUB - HP_KEYS_VEHICLE] =
        ABOVE("thermal.copper_to_hub_k_per_w", "K/W", 0, 1000, vehicle.heat.copper_hub_k_w, 1,
              "derived, slot paper from memory (docs/scenario.md); measure it by the heating test"),
    [HP_KEY_HUB_AIR - HP_KEYS_VEHICLE] =
        ABOVE("thermal.hub_to_air_k_per_w", "K/W", 0, 1000, vehicle.heat.hub_air_k_w, 1,
              "derived: 12 W/(m2 K) over the shell (docs/scenario.md)"),
    [HP_KEY_AIR_C - HP_KEYS_VEHICLE] =
        FROM("thermal.air_c", "C", -40, 60, vehicle.heat.air_c, 1, "chosen: a mild day"),
    [HP_KEY_HEAT_UNSURE - HP_KEYS_VEHICLE] =
        FROM("thermal.unsure_percent", "%", 0, 100, vehicle.heat_unsure, 0.01,
             "chosen: nobody has measured this hub"),
    [HP_KEY_RATINGS - HP_KEYS_VEHICLE] = SECTION("ratings"),
    [HP_KEY_CONTROLLER_V - HP_KEYS_VEHICLE] = LIMIT(
        "ratings.controller_most_v", "V", 200, vehicle.ratings.controller_most_v, 1, "not stated"),
    [HP_KEY_BATTERY_PLUG - HP_KEYS_VEHICLE] =
        LIMIT("ratings.battery_connector_a", "A", 10000, vehicle.ratings.battery_connector_a, 1,
              "not stated"),
    [HP_KEY_PHASE_PLUG - HP_KEYS_VEHICLE] =
        LIMIT("ratings.phase_connector_a", "A", 10000, vehicle.ratings.phase_connector_a, 1,
              "not stated"),
    [HP_KEY_SENSOR_V - HP_KEYS_VEHICLE] = LIMIT("ratings.sensor_supply_v", "V", 200,
                                                vehicle.ratings.sensor_supply_v, 1, "not stated"),
    [HP_KEY_WINDING_MOST - HP_KEYS_VEHICLE] =
        FROM("ratings.winding_most_c", "C", 40, 200, vehicle.ratings.winding_most_c, 1,
             "chosen: glue and Hall sensors age above it"),
    [HP_KEY_REGENERATES - HP_KEYS_VEHICLE] = FLAG(
        "ratings.regenerates", vehicle.ratings.regenerates, "chosen: few small controllers do"),
};
