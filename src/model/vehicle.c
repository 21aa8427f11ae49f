/* The machine beyond the stand: see the header. */
#include "hubphase/model/vehicle.h"

#include <math.h>

hp_cell_volts hp_cell_volts_of(hp_cell cell)
{
    /* Li-ion: full 4.2 V (cell datasheets, read); emptied at 3.0 V, above the 2.5 to 2.75 V at
     * which datasheets end: common practice. LiFePO4: full 3.65 V (memory). Lead: a cell charged
     * with 2.4 V, empty at 1.75 V: common practice. */
    static const hp_cell_volts volts[HP_CELL_COUNT] = {
        [HP_CELL_LI_ION] = {4.2, 3.0, 3.7},
        [HP_CELL_LIFEPO4] = {3.65, 2.8, 3.25},
        [HP_CELL_LEAD] = {2.4, 1.75, 2.05},
    };
    return volts[cell];
}

hp_cell_use hp_cell_use_of(hp_cell cell)
{
    /* Common practice: an old lithium pack, not emptied to the last; half of a lead battery, whose
     * capacity holds for twenty hours' draw and which deep discharges wear out (memory). */
    static const hp_cell_use use[HP_CELL_COUNT] = {
        [HP_CELL_LI_ION] = {0.9, true},
        [HP_CELL_LIFEPO4] = {0.9, true},
        [HP_CELL_LEAD] = {0.5, false},
    };
    return use[cell];
}

hp_vehicle hp_vehicle_default(void)
{
    const hp_cell_volts li_ion = hp_cell_volts_of(HP_CELL_LI_ION);
    return (hp_vehicle){
        .road = hp_road_params_default(),
        .wheel_m = 2.051, /* chosen: 47-559 */
        .hill = 0.06,     /* chosen: a hill that one notices */
        .hill_m = 500.0,  /* chosen */
        .cruise_m_s = 20.0 / 3.6,
        .ride = {{2000.0, 0.0}, {500.0, 6.0}, {2000.0, 0.0}}, /* chosen: out, up, on */
        .stretches = 3,
        .ridden = true,
        .unsure = 0.15,
        .pack = {.cell = HP_CELL_LI_ION,
                 .in_series = 10,
                 .full_v = 10.0 * li_ion.full,
                 .empty_v = 10.0 * li_ion.empty,
                 .resistance_ohm = 0.08,
                 .usable = hp_cell_use_of(HP_CELL_LI_ION).usable},
        .fuse = {.fitted = true},
        .battery_lead = {.length_m = 0.5},
        .phase_lead = {.length_m = 0.5},
        .insulation = HP_INSULATION_75,
        .axle = {.dropout = HP_DROPOUT_ALUMINIUM,
                 .allowed_mpa = hp_dropout_allowed_mpa(HP_DROPOUT_ALUMINIUM)},
        .heat = hp_heat_params_default(),
        .heat_unsure = 0.3,
        .ratings = {.winding_most_c = 100.0},
    };
}

static hp_result refuse(hp_error *err, const char *field, double value, const char *expected)
{
    return hp_error_set(err, HP_FAIL_INPUT, "%s is %g, must be %s", field, value, expected);
}

static hp_result check_ride(const hp_vehicle *v, hp_error *err)
{
    if (v->stretches < 1 || v->stretches > HP_RIDE_MAX)
        return refuse(err, "vehicle.ride", v->stretches, "1 to 16 stretches");
    for (int k = 0; k < v->stretches; k++) {
        if (!(v->ride[k].metres > 0.0 && v->ride[k].metres <= 1e6))
            return refuse(err, "vehicle.ride metres", v->ride[k].metres,
                          "above 0 and at most 1000000");
        if (!(fabs(v->ride[k].percent) <= 40.0))
            return refuse(err, "vehicle.ride slope_percent", v->ride[k].percent, "-40 to 40");
    }
    return HP_OK;
}

static hp_result check_pack(const hp_pack_params *pack, hp_error *err)
{
    if (!(pack->full_v > 0.0 && pack->full_v <= 200.0))
        return refuse(err, "pack.full_v", pack->full_v, "above 0 and at most 200");
    if (!(pack->empty_v > 0.0 && pack->empty_v < pack->full_v))
        return refuse(err, "pack.empty_v", pack->empty_v, "above 0 and below pack.full_v");
    if (!(pack->usable > 0.0 && pack->usable <= 1.0))
        return refuse(err, "pack.usable_percent", 100.0 * pack->usable, "above 0 and at most 100");
    if (!(pack->resistance_ohm >= 0.0 && pack->resistance_ohm <= 100.0))
        return refuse(err, "pack.resistance_ohm", pack->resistance_ohm, "0 to 100");
    return HP_OK;
}

static hp_result check_axle(const hp_axle_params *axle, hp_error *err)
{
    if (!(axle->allowed_mpa > 0.0))
        return refuse(err, "axle.allowed_mpa", axle->allowed_mpa, "above 0");
    if (axle->flats_mm > 0.0 && axle->diameter_mm > 0.0 && !(axle->flats_mm < axle->diameter_mm))
        return refuse(err, "axle.flats_mm", axle->flats_mm, "below axle.diameter_mm");
    return HP_OK;
}

hp_result hp_vehicle_check(const hp_vehicle *v, hp_error *err)
{
    hp_result result = hp_road_params_check(&v->road, err);
    if (result == HP_OK && !(v->wheel_m > 0.0 && v->wheel_m <= 10.0))
        result =
            refuse(err, "vehicle.wheel_turn_mm", 1e3 * v->wheel_m, "above 0 and at most 10000");
    if (result == HP_OK && !(v->hill >= 0.0 && v->hill <= 0.4))
        result = refuse(err, "vehicle.hill_percent", 100.0 * v->hill, "0 to 40");
    if (result == HP_OK && !(v->hill_m > 0.0))
        result = refuse(err, "vehicle.hill_m", v->hill_m, "above 0");
    if (result == HP_OK && !(v->cruise_m_s > 0.0))
        result = refuse(err, "vehicle.cruise_km_h", 3.6 * v->cruise_m_s, "above 0");
    if (result == HP_OK)
        result = check_ride(v, err);
    if (result == HP_OK)
        result = check_pack(&v->pack, err);
    if (result == HP_OK)
        result = check_axle(&v->axle, err);
    if (result == HP_OK)
        result = hp_heat_params_check(&v->heat, err);
    return result;
}
