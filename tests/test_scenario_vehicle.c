/* Vehicle, pack, fuse, leads, axle, heat, ratings of a scenario: every key reaches its place, what
 * is left out is worked out or said to be unknown, mistakes are told with their place. */
#include "scenario_text.h"

#include "model/conductor.h"

#define FILE_NAME "test_scenario_vehicle.yaml"
#define GOOD                                                                                       \
    "hubphase: 1\n"                                                                                \
    "motor:\n"                                                                                     \
    "  pole_pairs: 23\n"                                                                           \
    "  resistance_between_leads_ohm: 0.21\n"                                                       \
    "  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}\n"

static hp_scenario load(const char *text)
{
    char whole[4096];
    snprintf(whole, sizeof whole, "%s%s", GOOD, text);
    loaded l = scenario_load_text(FILE_NAME, whole);
    check_true(l.result == HP_OK, "%s", l.printed);
    free(l.printed);
    return l.scenario;
}

#define COPIED(field, value) check_relative(s.vehicle.field, value, 1e-14, "copied, or rounding")

static void every_key_reaches_its_place(void **state)
{
    (void)state;
    hp_scenario s = load(
        "vehicle: {machine_kg: 30, rider_kg: 70, load_kg: 15, wheel_turn_mm: 2000, "
        "drag_area_m2: 0.5, rolling_coefficient: 0.01, air_kg_m3: 1.1, head_wind_km_h: 18, "
        "hill_percent: 8, hill_m: 700, cruise_km_h: 18, mounted: other_way, unsure_percent: 20,\n"
        "  ride: [{m: 100, slope_percent: -3}, {slope_percent: 9, m: 250}, 0.5 m at -2.5 %]}\n"
        "pack: {cells: lifepo4, in_series: 12, full_v: 43, empty_v: 34, resistance_mohm: 60, "
        "capacity_ah: 11, usable_percent: 80, current_limit_a: 25, charge_limit_a: 5}\n"
        "fuse: {rated_a: 20, breaking_a: 1000, rated_v: 58}\n"
        "cable: {insulation_c: 90, battery_mm2: 2.5, battery_length_m: 0.8, "
        "battery_ampacity_a: 28, phase_mm2: 1.5, phase_length_m: 1.2, phase_ampacity_a: 24}\n"
        "axle: {diameter_mm: 14, flats_mm: 10, engaged_mm: 13, dropout: steel, allowed_mpa: 200, "
        "torque_arm: yes}\n"
        "thermal: {copper_j_per_k: 250, hub_j_per_k: 1500, copper_to_hub_k_per_w: 0.2, "
        "hub_to_air_k_per_w: 0.7, air_c: 25, unsure_percent: 10}\n"
        "ratings: {controller_most_v: 50, battery_connector_a: 30, phase_connector_a: 45, "
        "sensor_supply_v: 5.1, winding_most_c: 110, regenerates: yes}\n");
    COPIED(road.mass_kg, 115.0);
    COPIED(wheel_m, 2.0);
    COPIED(road.drag_area_m2, 0.5);
    COPIED(road.rolling, 0.01);
    COPIED(road.air_kg_m3, 1.1);
    COPIED(road.head_wind_m_s, 5.0);
    COPIED(hill, 0.08);
    COPIED(hill_m, 700.0);
    COPIED(cruise_m_s, 5.0);
    COPIED(unsure, 0.2);
    check_int(s.vehicle.mounted, HP_MOUNTED_OTHER_WAY);
    check_int(s.vehicle.stretches, 3);
    COPIED(ride[0].metres, 100.0);
    COPIED(ride[0].percent, -3.0);
    COPIED(ride[1].metres, 250.0);
    COPIED(ride[1].percent, 9.0);
    COPIED(ride[2].metres, 0.5);
    COPIED(ride[2].percent, -2.5);
    check_int(s.vehicle.pack.cell, HP_CELL_LIFEPO4);
    check_int(s.vehicle.pack.in_series, 12);
    COPIED(pack.full_v, 43.0);
    COPIED(pack.empty_v, 34.0);
    COPIED(pack.resistance_ohm, 0.06);
    COPIED(pack.capacity_ah, 11.0);
    COPIED(pack.usable, 0.8);
    COPIED(pack.limit_a, 25.0);
    COPIED(pack.charge_a, 5.0);
    COPIED(fuse.rated_a, 20.0);
    COPIED(fuse.breaking_a, 1000.0);
    COPIED(fuse.rated_v, 58.0);
    check_int(s.vehicle.insulation, HP_INSULATION_90);
    COPIED(battery_lead.area_mm2, 2.5);
    COPIED(battery_lead.length_m, 0.8);
    COPIED(battery_lead.ampacity_a, 28.0);
    COPIED(phase_lead.area_mm2, 1.5);
    COPIED(phase_lead.length_m, 1.2);
    COPIED(phase_lead.ampacity_a, 24.0);
    COPIED(axle.diameter_mm, 14.0);
    COPIED(axle.flats_mm, 10.0);
    COPIED(axle.engaged_mm, 13.0);
    check_int(s.vehicle.axle.dropout, HP_DROPOUT_STEEL);
    COPIED(axle.allowed_mpa, 200.0);
    assert_true(s.vehicle.axle.torque_arm);
    COPIED(heat.copper_j_per_k, 250.0);
    COPIED(heat.hub_j_per_k, 1500.0);
    COPIED(heat.copper_hub_k_w, 0.2);
    COPIED(heat.hub_air_k_w, 0.7);
    COPIED(heat.air_c, 25.0);
    COPIED(heat_unsure, 0.1);
    COPIED(ratings.controller_most_v, 50.0);
    COPIED(ratings.battery_connector_a, 30.0);
    COPIED(ratings.phase_connector_a, 45.0);
    COPIED(ratings.sensor_supply_v, 5.1);
    COPIED(ratings.winding_most_c, 110.0);
    assert_true(s.vehicle.ratings.regenerates);
    hp_scenario_free(&s);
}

static void check_listed(hp_scenario *s, const char *key, const char *value, hp_origin origin)
{
    hp_parameter *entry = hp_parameters_find(&s->fit_parameters, key);
    check_true(entry != NULL, "%s is not listed", key);
    assert_string_equal(entry->value, value);
    check_int(entry->origin, origin);
    check_true(entry->why[0] || origin == HP_ORIGIN_FILE, "%s has no reason", key);
    check_true(!hp_parameters_find(&s->parameters, key), "%s is listed twice", key);
}

static void what_is_left_out_is_worked_out(void **state)
{
    (void)state;
    hp_scenario s = load("vehicle: {tyre: 40-622}\nsupply: {battery_v: 49, resistance_mohm: 120}\n"
                         "cable: {battery_awg: 12}\naxle: {dropout: steel}\n"
                         "thermal: {copper_kg: 0.5, hub_kg: 3}\n");
    check_listed(&s, "vehicle.wheel_turn_mm", "2205.4", HP_ORIGIN_DERIVED);
    check_listed(&s, "pack.in_series", "13", HP_ORIGIN_DERIVED);
    check_listed(&s, "pack.full_v", "54.6", HP_ORIGIN_DERIVED);
    check_listed(&s, "pack.empty_v", "39", HP_ORIGIN_DERIVED);
    check_listed(&s, "pack.resistance_mohm", "120", HP_ORIGIN_DERIVED);
    check_listed(&s, "cable.battery_mm2", "3.30877", HP_ORIGIN_DERIVED); /* of the wire table */
    check_listed(&s, "cable.phase_mm2", "none", HP_ORIGIN_DEFAULT);
    check_listed(&s, "axle.allowed_mpa", "235", HP_ORIGIN_DERIVED);
    check_listed(&s, "thermal.copper_j_per_k", "192.5", HP_ORIGIN_DERIVED);
    check_listed(&s, "thermal.hub_j_per_k", "1125", HP_ORIGIN_DERIVED);
    check_listed(&s, "fuse.rated_a", "none", HP_ORIGIN_DEFAULT);
    check_listed(&s, "vehicle.ride", "2000 m at 0 %, 500 m at 6 %, 2000 m at 0 %",
                 HP_ORIGIN_DEFAULT);
    hp_scenario_free(&s);
    s = load("pack: {cells: lead, in_series: 18}\n");
    check_listed(&s, "pack.full_v", "43.2", HP_ORIGIN_DERIVED);
    check_listed(&s, "pack.empty_v", "31.5", HP_ORIGIN_DERIVED);
    check_true(s.vehicle.fuse.fitted, "who has none says so");
    hp_scenario_free(&s);
    s = load("fuse: {fitted: no, rated_a: none}\n");
    check_true(!s.vehicle.fuse.fitted, "said");
    hp_scenario_free(&s);
    s = load("supply: {battery_v: 19.9}\n"
             "pack: {in_series: 10, full_v: 20}\n"); /* guesses stay in range */
    check_true(s.vehicle.pack.empty_v < 20.0, "%g V", s.vehicle.pack.empty_v);
    hp_scenario_free(&s);
}

static void check_refused(const char *text, const char *expected)
{
    char whole[4096];
    snprintf(whole, sizeof whole, "%s%s", GOOD, text);
    loaded l = scenario_load_text(FILE_NAME, whole);
    check_true(l.result == HP_FAIL_INPUT, "accepted:\n%s", text);
    check_text_contains(l.printed, expected);
    check_int((long long)l.scenario.fit_parameters.count, 0);
    loaded_free(&l);
}

static void mistakes_are_told_with_their_place(void **state)
{
    (void)state;
    check_refused("vehicle:\n  tyre: 26 x 1.75\n",
                  FILE_NAME ":7:9: error: vehicle.tyre is \"26 x 1.75\", must be the marking");
    check_refused("vehicle: {tyre: 47-559, wheel_turn_mm: 2300}\n",
                  "6:40: error: vehicle.wheel_turn_mm is 2300, but vehicle.tyre 47-559 makes it "
                  "2051");
    check_refused("vehicle: {ride: 5}\n", "vehicle.ride is 5, must be a list of stretches");
    check_refused("vehicle: {ride: []}\n", "must be a list of stretches");
    check_refused("vehicle: {ride: [5]}\n", "6:18: error: vehicle.ride[1] is 5, must be a");
    static const char *const words[] = {"500 m at 41 %",  "0 m at 6 %",   "500 m at 6",
                                        "500 at 6 %",     "5 m at 6 % x", "m at 6 %",
                                        "5,5 m at 6 %",   "500 m 6 %",    "100001 m at 6 %",
                                        "500 m at -41 %", "500 m at %"};
    for (size_t k = 0; k < sizeof words / sizeof words[0]; k++) {
        char text[120];
        snprintf(text, sizeof text, "vehicle: {ride: [\"%s\"]}\n", words[k]);
        check_refused(text, "must be a stretch such as `500 m at 6 %`");
    }
    check_refused("vehicle: {ride: [{m: 5}]}\n",
                  "vehicle.ride[1].slope_percent is missing, must be the slope");
    check_refused("vehicle: {ride: [{slope_percent: 5}]}\n",
                  "vehicle.ride[1].m is missing, must be the length in metres");
    check_refused(
        "vehicle: {ride: [{m: 5, slope_percent: 0}, {m: 0, slope_percent: 0}]}\n",
        "6:48: error: vehicle.ride[2].m is 0, must be a number above 0 and at most 100000 (m)");
    check_refused("vehicle: {ride: [{m: 5, slope_percent: 41}]}\n",
                  "vehicle.ride[1].slope_percent is 41, must be");
    check_refused("vehicle: {ride: [{m: 5, m: 6, slope_percent: 4}]}\n",
                  "vehicle.ride[1].m is given a second time");
    check_refused("vehicle: {ride: [{km: 5, slope_percent: 4}]}\n",
                  "vehicle.ride[1].km is not known, must be m or slope_percent");
    check_refused("vehicle:\n  ride:\n"
                  "  - {m: 1, slope_percent: 1}\n  - {m: 1, slope_percent: 1}\n"
                  "  - {m: 1, slope_percent: 1}\n  - {m: 1, slope_percent: 1}\n"
                  "  - {m: 1, slope_percent: 1}\n  - {m: 1, slope_percent: 1}\n"
                  "  - {m: 1, slope_percent: 1}\n  - {m: 1, slope_percent: 1}\n"
                  "  - {m: 1, slope_percent: 1}\n  - {m: 1, slope_percent: 1}\n"
                  "  - {m: 1, slope_percent: 1}\n  - {m: 1, slope_percent: 1}\n"
                  "  - {m: 1, slope_percent: 1}\n  - {m: 1, slope_percent: 1}\n"
                  "  - {m: 1, slope_percent: 1}\n  - {m: 1, slope_percent: 1}\n"
                  "  - {m: 1, slope_percent: 1}\n",
                  "24:6: error: vehicle.ride[17] is one too many");
    check_refused("pack: {full_v: 40, empty_v: 41}\n",
                  "6:29: error: pack.empty_v is 41, must be below pack.full_v (40)");
    check_refused("cable: {battery_mm2: 2.5, battery_awg: 16}\n",
                  "cable.battery_mm2 is 2.5, but cable.battery_awg makes it 1.31");
    check_refused("cable: {phase_mm2: 2.5, phase_awg: 10}\n",
                  "cable.phase_mm2 is 2.5, but cable.phase_awg makes it 5.26");
    check_refused("axle: {diameter_mm: 12, flats_mm: 12}\n",
                  "axle.flats_mm is 12, must be below axle.diameter_mm (12)");
    check_refused("thermal: {hub_kg: 0.7}\n",
                  "thermal.hub_kg is 0.7, must be above its copper, 0.8 kg");
    check_refused("fuse: {fitted: no, rated_a: 20}\n",
                  "fuse.rated_a is 20, but fuse.fitted says that there is none");
    check_refused("supply: {battery_v: 49.5}\npack: {cells: lead, in_series: 4}\n",
                  "a lead block of 12 V has 6 cells, so that 4 of them are 24 cells");
    check_refused("supply: {battery_v: 49.5}\npack: {cells: lead, in_series: 13}\n",
                  "a lead block of 12 V has 6 cells\n");
    check_refused("fuse: {rated_a: -1}\n", "fuse.rated_a is -1, must be a number above 0");
    check_refused("cable: {insulation_c: 80}\n", "cable.insulation_c is 80, must be 60, 75 or 90");
    check_refused("vehicle: {rider: 80}\n", "vehicle.rider is not known, did you mean ride?");
}

/* A hub with a gear inside is smaller and lighter; what is stated counts all the same. */
static void a_geared_hub_has_its_own_thermal_figures(void **state)
{
    (void)state;
    hp_scenario s = load("stand: {gear_ratio: 4.43}\n");
    check_listed(&s, "thermal.copper_j_per_k", "134.75", HP_ORIGIN_DERIVED);
    check_listed(&s, "thermal.hub_j_per_k", "1012.5", HP_ORIGIN_DERIVED);
    check_listed(&s, "thermal.copper_to_hub_k_per_w", "0.3", HP_ORIGIN_DERIVED);
    check_listed(&s, "thermal.hub_to_air_k_per_w", "1.2", HP_ORIGIN_DERIVED);
    check_text_contains(hp_parameters_find(&s.fit_parameters, "thermal.hub_j_per_k")->why,
                        "weigh it");
    hp_scenario_free(&s);
    s = load("stand: {gear_ratio: 4.43}\nthermal: {hub_kg: 3.4, copper_to_hub_k_per_w: 0.2}\n");
    check_listed(&s, "thermal.hub_j_per_k", "1372.5", HP_ORIGIN_DERIVED); /* less 0.35 kg */
    check_listed(&s, "thermal.copper_to_hub_k_per_w", "0.2", HP_ORIGIN_FILE);
    hp_scenario_free(&s);
    s = load("stand: {gear_ratio: 1}\n");
    check_listed(&s, "thermal.hub_j_per_k", "2340", HP_ORIGIN_DEFAULT);
    hp_scenario_free(&s);
    check_refused("stand: {gear_ratio: 4.43}\nthermal: {hub_kg: 0.3}\n",
                  "thermal.hub_kg is 0.3, must be above its copper, 0.35 kg");
}

/* Half of a lead battery, unless stated. */
static void a_lead_battery_gives_half(void **state)
{
    (void)state;
    hp_scenario s = load("pack: {cells: lead}\n");
    COPIED(pack.usable, 0.5);
    check_listed(&s, "pack.usable_percent", "50", HP_ORIGIN_DERIVED);
    hp_scenario_free(&s);
    s = load("pack: {cells: lead, usable_percent: 70}\n");
    COPIED(pack.usable, 0.7);
    hp_scenario_free(&s);
    s = load("pack: {cells: lifepo4}\n");
    check_listed(&s, "pack.usable_percent", "90", HP_ORIGIN_DEFAULT);
    hp_scenario_free(&s);
}

static void a_machine_without_a_rider_is_known_as_such(void **state)
{
    (void)state;
    hp_scenario s = load("vehicle: {rider_kg: 0}\n");
    assert_false(s.vehicle.ridden);
    hp_scenario_free(&s);
    s = load("vehicle: {rider_kg: 1}\n");
    assert_true(s.vehicle.ridden);
    hp_scenario_free(&s);
    s = load("");
    assert_true(s.vehicle.ridden);
    hp_scenario_free(&s);
}

/* A battery without load lies between empty and full, give or take a meter's error. */
static void a_battery_beyond_its_cells_is_refused(void **state)
{
    (void)state;
    check_refused("supply: {battery_v: 48}\npack: {in_series: 10}\n",
                  "7:19: error: pack.in_series is 10, so the battery has 30 V empty and 42 V "
                  "full, but supply.battery_v is 48, must lie between them. 12 to 16 cells of "
                  "this kind would go with 48 V");
    check_refused("supply: {battery_v: 48}\npack: {cells: lead, in_series: 42}\n",
                  "pack.in_series is 42, so the battery has 73.5 V empty and 100.8 V full, "
                  "but supply.battery_v is 48, must lie between them. 20 to 27 cells");
    check_refused("supply: {battery_v: 48}\npack: {cells: lead, in_series: 12}\n",
                  "so the battery has 21 V empty and 28.8 V full");
    check_refused("supply: {battery_v: 48}\npack: {full_v: 42}\n",
                  "7:16: error: pack.full_v is 42, so");
    check_refused("supply: {battery_v: 48}\npack: {in_series: 10, full_v: 42}\n",
                  "error: pack.full_v is 42, so");
    check_refused("supply: {battery_v: 36}\npack: {empty_v: 39, in_series: 10}\n",
                  "error: pack.empty_v is 39, so");
    check_refused("supply: {battery_v: 4}\npack: {in_series: 2}\n", "1 cell of this kind");
    static const struct {
        double volts;
        bool good;
    } bound[] = {{42.8, true}, {42.9, false}, {29.5, true}, {29.3, false}};
    for (size_t k = 0; k < sizeof bound / sizeof bound[0]; k++) {
        char text[120];
        snprintf(text, sizeof text, "supply: {battery_v: %g}\npack: {in_series: 10}\n",
                 bound[k].volts);
        if (bound[k].good) {
            hp_scenario s = load(text);
            hp_scenario_free(&s);
        } else
            check_refused(text, "pack.in_series is 10, so");
    }
    /* What is not stated contradicts nothing: volts that are the default's, cells that follow. */
    hp_scenario s = load("pack: {in_series: 20}\n");
    hp_scenario_free(&s);
    s = load("supply: {battery_v: 1}\n");
    hp_scenario_free(&s);
    /* One mistake is told once. */
    loaded l = scenario_load_text(FILE_NAME, GOOD "supply: {battery_v: 48}\n"
                                                  "pack: {full_v: 42, empty_v: 42}\n");
    check_text_contains(l.printed, "must be below pack.full_v");
    check_true(!strstr(l.printed, "supply.battery_v is"), "%s", l.printed);
    loaded_free(&l);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_key_reaches_its_place),
        cmocka_unit_test(what_is_left_out_is_worked_out),
        cmocka_unit_test(mistakes_are_told_with_their_place),
        cmocka_unit_test(a_geared_hub_has_its_own_thermal_figures),
        cmocka_unit_test(a_lead_battery_gives_half),
        cmocka_unit_test(a_machine_without_a_rider_is_known_as_such),
        cmocka_unit_test(a_battery_beyond_its_cells_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
