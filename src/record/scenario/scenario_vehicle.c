/*
 * Vehicle, pack, leads, axle, heat: what is worked out where the file leaves it out, and the list
 * of stretches of a ride. See scenario_settle.h.
 *
 *     vehicle:
 *       ride:
 *         - {m: 2000, slope_percent: 0}
 *         - {m: 500, slope_percent: 6}
 *         - 500 m at 6 %
 */
#include "model/conductor.h"
#include "model/heat.h"
#include "model/wheel_size.h"
#include "record/scenario/scenario_number.h"
#include "record/scenario/scenario_settle.h"

#include <math.h>
#include <string.h>
#include <strings.h>

/* ---- the ride -------------------------------------------------------------------------------- */

static const hp_limits metres = {.unit = "m", .low = 0, .high = 1e5, .above = true};
static const hp_limits percent = {.unit = "%", .low = -40, .high = 40};

/* As the list of parameters has it: "500 m at 6 %". */
static bool read_stretch_words(const hp_value *item, hp_stretch *stretch)
{
    char text[80], length[32], slope[32];
    int end = 0;
    bool good = hp_yaml_text(item->node, text, sizeof text) &&
                sscanf(text, "%31[^ m] m at %31[^ %] %% %n", length, slope, &end) == 2 && end > 0 &&
                text[end] == '\0' && hp_number_read(length, &stretch->metres) == HP_NUMBER_FINE &&
                hp_number_read(slope, &stretch->percent) == HP_NUMBER_FINE &&
                hp_number_fits(stretch->metres, &metres) &&
                hp_number_fits(stretch->percent, &percent);
    if (!good)
        hp_value_refuse(item,
                        "a stretch such as `500 m at 6 %`, above 0 and at most 100000 m, -40 to "
                        "40 %, or {m: 500, slope_percent: 6}",
                        "");
    return good;
}

static bool read_stretch(const hp_value *item, hp_stretch *stretch)
{
    static const char *const known[] = {"m", "slope_percent"};
    const hp_limits *limits[] = {&metres, &percent};
    double *place[] = {&stretch->metres, &stretch->percent};
    bool given[2] = {false, false};
    void *position = NULL;
    hp_yaml_member m;
    if (hp_yaml_kind_of(item->node) == HP_YAML_TEXT)
        return read_stretch_words(item, stretch);
    if (hp_yaml_kind_of(item->node) != HP_YAML_MAPPING) {
        hp_value_refuse(item, "a mapping such as {m: 500, slope_percent: 6}", "");
        return false;
    }
    while (hp_yaml_next(item->node, item->key, &position, &m)) {
        char path[HP_YAML_NAME + 64];
        int k = strcmp(m.name, known[0]) == 0 ? 0 : strcmp(m.name, known[1]) == 0 ? 1 : 2;
        snprintf(path, sizeof path, "%s.%s", item->path, m.name);
        hp_value value = {
            .problems = item->problems, .path = path, .node = m.value, .key = m.place};
        if (k == 2 || given[k]) {
            hp_problems_add(item->problems, m.place, "%s %s", path,
                            k == 2 ? "is not known, must be m or slope_percent"
                                   : "is given a second time, must be there once");
            return false;
        }
        if (!hp_value_number(&value, limits[k], place[k]))
            return false;
        given[k] = true;
    }
    for (int k = 0; k < 2; k++)
        if (!given[k]) {
            hp_problems_add(item->problems, hp_value_place(item), "%s.%s is missing, must be %s",
                            item->path, known[k],
                            k ? "the slope in percent, 0 on the level" : "the length in metres");
            return false;
        }
    return true;
}

static void settle_ride(hp_reader *reader)
{
    hp_vehicle *vehicle = &reader->draft.vehicle;
    if (!hp_reader_has(reader, HP_KEY_RIDE))
        return;
    hp_value list = hp_reader_value(reader, HP_KEY_RIDE);
    void *position = NULL;
    struct fy_node *node;
    hp_stretch ride[HP_RIDE_MAX];
    bool good = hp_yaml_kind_of(list.node) == HP_YAML_LIST;
    int count = 0;
    while (good && (node = fy_node_sequence_iterate(list.node, &position)) != NULL) {
        char path[40];
        snprintf(path, sizeof path, "%s[%d]", list.path, count + 1);
        hp_value item = {.problems = list.problems,
                         .path = path,
                         .node = node,
                         .key = list.key,
                         .nowhere = list.nowhere};
        if (count == HP_RIDE_MAX) {
            hp_problems_add(list.problems, hp_value_place(&item),
                            "%s is one too many, a ride must have at most %d stretches", path,
                            HP_RIDE_MAX);
            reader->reading[HP_KEY_RIDE].state = HP_VALUE_BAD;
            return;
        }
        if (!read_stretch(&item, &ride[count++])) {
            reader->reading[HP_KEY_RIDE].state = HP_VALUE_BAD;
            return;
        }
    }
    if (!good || count == 0) {
        hp_value_refuse(&list, "a list of stretches such as {m: 500, slope_percent: 6}", "");
        reader->reading[HP_KEY_RIDE].state = HP_VALUE_BAD;
        return;
    }
    memcpy(vehicle->ride, ride, (size_t)count * sizeof ride[0]);
    vehicle->stretches = count;
}

/* ---- one section each ------------------------------------------------------------------------ */

static void settle_wheel(hp_reader *reader)
{
    hp_draft *draft = &reader->draft;
    hp_wheel_size size;
    draft->vehicle.ridden = draft->rider_kg > 0.0;
    draft->vehicle.road.mass_kg = draft->machine_kg + draft->rider_kg + draft->load_kg;
    if (!hp_reader_has(reader, HP_KEY_TYRE))
        return;
    if (!hp_wheel_size_read(draft->tyre, &size)) {
        hp_reader_problem(reader, HP_KEY_TYRE,
                          "vehicle.tyre is \"%s\", must be the marking on the side wall, width and "
                          "bead seat in millimetres, such as 47-559",
                          draft->tyre);
        return;
    }
    double turn = 1e3 * hp_wheel_size_turn(size), said = 1e3 * draft->vehicle.wheel_m;
    if (hp_reader_lacks(reader, HP_KEY_WHEEL_TURN))
        hp_reader_derive(reader, HP_KEY_WHEEL_TURN, turn,
                         "from vehicle.tyre: pi times bead seat and twice the width");
    else if (hp_reader_has(reader, HP_KEY_WHEEL_TURN) && fabs(said / turn - 1.0) > HP_WAYS_AGREE)
        hp_reader_problem(reader, HP_KEY_WHEEL_TURN,
                          "vehicle.wheel_turn_mm is %.6g, but vehicle.tyre %s makes it %.4g: the "
                          "two must agree within %g %%, correct or leave out one",
                          said, draft->tyre, turn, 100.0 * HP_WAYS_AGREE);
}

/* "25 km/h", as a display shows it; false: it is nothing of the kind. */
static bool read_km_h(const hp_value *value, double *km_h)
{
    char text[64], number[32], unit[8];
    int end = 0;
    return hp_yaml_kind_of(value->node) == HP_YAML_TEXT &&
           hp_yaml_text(value->node, text, sizeof text) &&
           sscanf(text, "%31[0-9.] %7[kmphKMPH/] %n", number, unit, &end) == 2 &&
           text[end] == '\0' && hp_number_read(number, km_h) == HP_NUMBER_FINE &&
           (strcasecmp(unit, "km/h") == 0 || strcasecmp(unit, "kmh") == 0 ||
            strcasecmp(unit, "kph") == 0);
}

/* Speeds of the wheel that were given in km/h: what they are in rev/min. */
static void tell_speeds(hp_reader *reader)
{
    double turn_m = reader->draft.vehicle.wheel_m;
    bool known =
        hp_reader_has(reader, HP_KEY_WHEEL_TURN) || reader->reading[HP_KEY_WHEEL_TURN].derived;
    for (hp_key_id id = 0; id < HP_KEY_COUNT; id++) {
        double speed;
        hp_value value = hp_reader_value(reader, id);
        const char *unit = hp_key_of(id)->limits.unit;
        if (reader->reading[id].state != HP_VALUE_BAD || !unit || strcmp(unit, "rev/min") != 0 ||
            !read_km_h(&value, &speed))
            continue;
        if (known)
            hp_problems_amend(reader->problems, hp_key_of(id)->path,
                              "; %.4g km/h is %.0f rev/min of this wheel, which counts if it was "
                              "read with the wheel lifted",
                              speed, speed / 3.6 / turn_m * 60.0);
        else
            hp_problems_amend(reader->problems, hp_key_of(id)->path,
                              "; 16.67 times the km/h, over the metres that the wheel goes in a "
                              "turn, is rev/min, which counts if it was read with the wheel "
                              "lifted");
    }
}

/* By how much a battery without load may seem to lie beyond full or empty: chosen, a hand meter's
 * error and a charger's together. */
#define METER_OFF 0.02

/* Which of the pack's keys to point at: the one that says this end, else what it follows from. */
static hp_key_id pack_key(const hp_reader *reader, hp_key_id end)
{
    if (hp_reader_has(reader, end) || !hp_reader_has(reader, HP_KEY_IN_SERIES))
        return end;
    return HP_KEY_IN_SERIES;
}

/* Nobody sees the cells of a sealed block, and so blocks are counted. */
#define BLOCK_CELLS 6

static void tell_blocks(hp_reader *reader, hp_key_id key, double least, double most)
{
    const hp_pack_params *pack = &reader->draft.vehicle.pack;
    int cells = BLOCK_CELLS * pack->in_series;
    if (pack->cell != HP_CELL_LEAD)
        return;
    if (cells >= least && cells <= most)
        hp_problems_amend(reader->problems, hp_key_of(key)->path,
                          "; a lead block of 12 V has %d cells, so that %d of them are %d cells",
                          BLOCK_CELLS, pack->in_series, cells);
    else
        hp_problems_amend(reader->problems, hp_key_of(key)->path,
                          "; a lead block of 12 V has %d cells", BLOCK_CELLS);
}

/* A battery without load lies between empty and full: beyond them the count of cells, the kind of
 * cell or the volts are wrong, and whatever is held against the full battery's volts would be. Only
 * stated values are held against each other. */
static void hold_against_battery(hp_reader *reader)
{
    const hp_pack_params *pack = &reader->draft.vehicle.pack;
    const hp_cell_volts cell = hp_cell_volts_of(pack->cell);
    const double volts = reader->draft.drive.supply.emf_v;
    const bool above = volts > (1.0 + METER_OFF) * pack->full_v;
    const bool stated = hp_reader_has(reader, HP_KEY_IN_SERIES) ||
                        hp_reader_has(reader, HP_KEY_PACK_FULL) ||
                        hp_reader_has(reader, HP_KEY_PACK_EMPTY);
    if (!hp_reader_has(reader, HP_KEY_BATTERY_V) || !stated ||
        !hp_reader_sound(reader, HP_KEY_PACK_FULL) || !hp_reader_sound(reader, HP_KEY_PACK_EMPTY) ||
        !(above || volts < (1.0 - METER_OFF) * pack->empty_v))
        return;
    hp_key_id key = pack_key(reader, above ? HP_KEY_PACK_FULL : HP_KEY_PACK_EMPTY);
    double least = fmax(ceil(volts / cell.full), 1.0);
    double most = fmax(floor(volts / cell.empty), least);
    char cells[64];
    if (most > least)
        snprintf(cells, sizeof cells, "%.0f to %.0f cells", least, most);
    else
        snprintf(cells, sizeof cells, "%.0f cell%s", least, least > 1.0 ? "s" : "");
    hp_reader_problem(reader, key,
                      "%s is %.6g, so the battery has %.4g V empty and %.4g V full, but "
                      "supply.battery_v is %.6g, must lie between them. %s of this kind would "
                      "go with %.6g V: count them, and correct whichever is wrong",
                      hp_key_of(key)->path, hp_reader_number(reader, key), pack->empty_v,
                      pack->full_v, volts, cells, volts);
    tell_blocks(reader, key, least, most);
}

/* chosen: below what an empty battery gives by as much as meter and sag take. */
#define NEARLY_EMPTY 0.9

/* A battery that lies within what Hall sensors bear when it is low, and above it when it is full:
 * its own volts at the Hall plug would pass for a supply. */
static void settle_hall_supply(hp_reader *reader)
{
    hp_plan_params *plan = &reader->draft.plan;
    const hp_pack_params *pack = &reader->draft.vehicle.pack;
    double own = NEARLY_EMPTY * pack->empty_v;
    if (hp_reader_sound(reader, HP_KEY_PACK_FULL) && hp_reader_sound(reader, HP_KEY_PACK_EMPTY) &&
        pack->full_v > plan->sensor_v_max && own < plan->sensor_v_max && own > plan->sensor_v_min)
        plan->sensor_own_v = own;
}

static void settle_pack(hp_reader *reader)
{
    hp_pack_params *pack = &reader->draft.vehicle.pack;
    const hp_cell_volts cell = hp_cell_volts_of(pack->cell);
    const hp_supply_params *supply = &reader->draft.drive.supply;
    if (hp_reader_lacks(reader, HP_KEY_PACK_USABLE) && hp_reader_has(reader, HP_KEY_CELLS) &&
        pack->cell == HP_CELL_LEAD)
        hp_reader_derive(reader, HP_KEY_PACK_USABLE, 100.0 * hp_cell_use_of(pack->cell).usable,
                         "common practice (memory): deep discharges wear a lead battery out, and "
                         "at such currents it gives less than its label says");
    if (hp_reader_lacks(reader, HP_KEY_IN_SERIES) && hp_reader_sound(reader, HP_KEY_BATTERY_V))
        hp_reader_derive(reader, HP_KEY_IN_SERIES,
                         fmin(fmax(round(supply->emf_v / cell.middle), 1.0), 100.0),
                         "guessed from supply.battery_v, %g V a cell: count them", cell.middle);
    if (!hp_reader_sound(reader, HP_KEY_IN_SERIES))
        return;
    if (hp_reader_lacks(reader, HP_KEY_PACK_FULL))
        hp_reader_derive(reader, HP_KEY_PACK_FULL, fmin(200.0, pack->in_series * cell.full),
                         "%g V a cell", cell.full);
    if (hp_reader_lacks(reader, HP_KEY_PACK_EMPTY))
        hp_reader_derive(reader, HP_KEY_PACK_EMPTY,
                         fmin(pack->in_series * cell.empty, 0.99 * pack->full_v), "%g V a cell",
                         cell.empty);
    if (hp_reader_lacks(reader, HP_KEY_PACK_OHM) && hp_reader_sound(reader, HP_KEY_BATTERY_OHM))
        hp_reader_derive(reader, HP_KEY_PACK_OHM, 1e3 * supply->resistance_ohm,
                         "as supply.resistance_mohm, which has fuse and leads in it too");
    if (hp_reader_sound(reader, HP_KEY_PACK_FULL) && hp_reader_has(reader, HP_KEY_PACK_EMPTY) &&
        !(pack->empty_v < pack->full_v))
        hp_reader_problem(reader, HP_KEY_PACK_EMPTY,
                          "pack.empty_v is %.6g, must be below pack.full_v (%.6g)", pack->empty_v,
                          pack->full_v);
    else
        hold_against_battery(reader);
    settle_hall_supply(reader);
}

/* Of a fuse that is not there nothing can be printed on it. */
static void settle_fuse(hp_reader *reader)
{
    static const hp_key_id figures[] = {HP_KEY_FUSE_A, HP_KEY_FUSE_BREAKING, HP_KEY_FUSE_V};
    if (reader->draft.vehicle.fuse.fitted)
        return;
    for (size_t k = 0; k < sizeof figures / sizeof figures[0]; k++)
        if (hp_reader_has(reader, figures[k]) && hp_reader_number(reader, figures[k]) > 0.0)
            hp_reader_problem(reader, figures[k],
                              "%s is %.6g, but fuse.fitted says that there is none: correct or "
                              "leave out one",
                              hp_key_of(figures[k])->path, hp_reader_number(reader, figures[k]));
}

/* A gauge, or an area; both must agree. */
static void settle_lead(hp_reader *reader, hp_key_id area, hp_key_id gauge, int awg)
{
    if (!hp_reader_has(reader, gauge))
        return;
    double mm2 = hp_gauge_area_mm2(awg);
    if (hp_reader_lacks(reader, area))
        hp_reader_derive(reader, area, mm2, "from %s (ASTM B258)", hp_key_of(gauge)->path);
    else if (hp_reader_has(reader, area) &&
             fabs(hp_reader_number(reader, area) / mm2 - 1.0) > HP_WAYS_AGREE)
        hp_reader_problem(reader, area,
                          "%s is %.6g, but %s makes it %.3g: the two must agree within %g %%, "
                          "correct or leave out one",
                          hp_key_of(area)->path, hp_reader_number(reader, area),
                          hp_key_of(gauge)->path, mm2, 100.0 * HP_WAYS_AGREE);
}

static void settle_axle(hp_reader *reader)
{
    const hp_axle_params *axle = &reader->draft.vehicle.axle;
    if (hp_reader_lacks(reader, HP_KEY_AXLE_MPA) && hp_reader_has(reader, HP_KEY_DROPOUT))
        hp_reader_derive(reader, HP_KEY_AXLE_MPA, hp_dropout_allowed_mpa(axle->dropout),
                         "common practice (from memory): yield of the material");
    if (hp_reader_has(reader, HP_KEY_FLATS_MM) && hp_reader_has(reader, HP_KEY_AXLE_MM) &&
        axle->flats_mm > 0.0 && axle->diameter_mm > 0.0 && !(axle->flats_mm < axle->diameter_mm))
        hp_reader_problem(reader, HP_KEY_FLATS_MM,
                          "axle.flats_mm is %.6g, must be below axle.diameter_mm (%.6g)",
                          axle->flats_mm, axle->diameter_mm);
}

/* A hub with a gear inside is another hub, where its figures are not stated. */
static hp_heat_params usual_heat(hp_reader *reader)
{
    const hp_heat_params geared = hp_heat_params_behind_gear();
    const double ratio = reader->draft.drive.stand.gear_ratio;
    if (!hp_reader_has(reader, HP_KEY_GEAR) || !(ratio > 1.0))
        return hp_heat_params_default();
    if (hp_reader_lacks(reader, HP_KEY_COPPER_J))
        hp_reader_derive(reader, HP_KEY_COPPER_J, geared.copper_j_per_k,
                         "chosen, behind a gear: 0.35 kg of copper");
    if (hp_reader_lacks(reader, HP_KEY_HUB_J))
        hp_reader_derive(reader, HP_KEY_HUB_J, geared.hub_j_per_k,
                         "chosen, behind a gear: a hub of 2.6 kg; weigh it");
    if (hp_reader_lacks(reader, HP_KEY_COPPER_HUB))
        hp_reader_derive(reader, HP_KEY_COPPER_HUB, geared.copper_hub_k_w,
                         "derived, behind a gear: slot paper from memory (docs/scenario.md); "
                         "measure it by the heating test");
    if (hp_reader_lacks(reader, HP_KEY_HUB_AIR))
        hp_reader_derive(reader, HP_KEY_HUB_AIR, geared.hub_air_k_w,
                         "derived, behind a gear: 12 W/(m2 K) over the shell (docs/scenario.md)");
    return geared;
}

static void settle_heat(hp_reader *reader)
{
    const hp_draft *draft = &reader->draft;
    const hp_heat_params usual = usual_heat(reader);
    double copper_kg = usual.copper_j_per_k / HP_COPPER_J_PER_KG_K;
    if (hp_reader_has(reader, HP_KEY_COPPER_KG)) {
        copper_kg = draft->copper_kg;
        if (hp_reader_lacks(reader, HP_KEY_COPPER_J))
            hp_reader_derive(reader, HP_KEY_COPPER_J, copper_kg * HP_COPPER_J_PER_KG_K,
                             "from thermal.copper_kg, 385 J/(kg K)");
    }
    if (!hp_reader_has(reader, HP_KEY_HUB_KG))
        return;
    if (!(draft->hub_kg > copper_kg))
        hp_reader_problem(reader, HP_KEY_HUB_KG,
                          "thermal.hub_kg is %.6g, must be above its copper, %.3g kg",
                          draft->hub_kg, copper_kg);
    else if (hp_reader_lacks(reader, HP_KEY_HUB_J))
        hp_reader_derive(reader, HP_KEY_HUB_J, (draft->hub_kg - copper_kg) * HP_IRON_J_PER_KG_K,
                         "from thermal.hub_kg less the copper, 450 J/(kg K)");
}

void hp_settle_vehicle(hp_reader *reader)
{
    settle_wheel(reader);
    tell_speeds(reader);
    settle_ride(reader);
    settle_pack(reader);
    settle_fuse(reader);
    settle_lead(reader, HP_KEY_BATTERY_MM2, HP_KEY_BATTERY_AWG, reader->draft.battery_awg);
    settle_lead(reader, HP_KEY_PHASE_MM2, HP_KEY_PHASE_AWG, reader->draft.phase_awg);
    settle_axle(reader);
    settle_heat(reader);
}
