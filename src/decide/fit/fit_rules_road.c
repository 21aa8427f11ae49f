/* Rules of the road, of heat, axle and mounting. See fit_rules.h. */
#include "decide/fit/fit_rules.h"
#include "decide/fit/loaded_machine.h"
#include "model/axle.h"
#include "model/heat.h"
#include "model/road.h"

#include <math.h>

/* chosen: where less than half of the battery's power reaches the road, the rest is heat. */
#define EFFICIENCY_POOR 0.5
/* chosen: a brisk walk [m/s]; who walks with a faster machine is drawn along. */
#define WALK_MOST (6.0 / 3.6)

/* ---- speed, hill, range ---------------------------------------------------------------------- */

static void add_speed(hp_fit_line *line, hp_fit_what what, const hp_fit_meeting *m)
{
    hp_fit_add_band(line, what, m->speed, m->slow, m->quick);
}

static void add_running(hp_fit_line *line, const hp_fit_point *p)
{
    hp_fit_add(line, HP_FIT_BATTERY_A, p->battery_a);
    hp_fit_add(line, HP_FIT_WHEEL_W, p->wheel_w);
    if (p->battery_w > 0.0)
        hp_fit_add(line, HP_FIT_EFFICIENCY, p->wheel_w / p->battery_w);
}

static void judge_meetings(hp_fit_line *line, const hp_fit_meeting at[HP_FIT_CHARGE_COUNT])
{
    const hp_fit_meeting *full = &at[HP_FIT_CHARGE_FULL], *empty = &at[HP_FIT_CHARGE_EMPTY];
    const hp_fit_point *p = &at[HP_FIT_CHARGE_MIDDLE].point;
    if (full->meets)
        add_speed(line, HP_FIT_SPEED_FULL, full);
    if (empty->meets)
        add_speed(line, HP_FIT_SPEED_EMPTY, empty);
    if (at[HP_FIT_CHARGE_MIDDLE].meets)
        add_running(line, p);
    if (!full->meets)
        hp_fit_find(line, HP_FIT_STOP, HP_ROAD_NOT);
    else if (!empty->meets)
        hp_fit_find(line, HP_FIT_LOOK, HP_ROAD_NOT_EMPTY);
    else if (p->torque_nm > 0.0 && p->wheel_w < EFFICIENCY_POOR * p->battery_w)
        hp_fit_find(line, HP_FIT_LOOK, HP_ROAD_POOR);
}

void hp_fit_level(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    const hp_fit_meeting *full = &fit->level[HP_FIT_CHARGE_FULL];
    if (!given->vehicle->ridden && full->meets && full->speed > WALK_MOST)
        hp_fit_find(line, HP_FIT_LOOK, HP_ROAD_RUNS_AWAY);
    judge_meetings(line, fit->level);
    if (given->drive->controller.speed_cap < 1.0)
        hp_fit_add(line, HP_FIT_STEP_PERCENT, given->drive->controller.speed_cap);
}

void hp_fit_hill(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    (void)given;
    judge_meetings(line, fit->hill);
    hp_fit_add(line, HP_FIT_STEEPEST, fmax(fit->steepest, 0.0));
}

/* Way [m] that this energy [J] lasts, and what it depends on. */
static void add_range(hp_fit_line *line, hp_fit_what what, double energy, double watts,
                      double speed, double unsure)
{
    double way = watts > 0.0 ? energy * speed / watts : INFINITY;
    hp_fit_add_band(line, what, way, way / (1.0 + unsure),
                    unsure < 1.0 ? way / (1.0 - unsure) : INFINITY);
}

void hp_fit_range(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    const hp_vehicle *v = given->vehicle;
    const hp_fit_meeting *m = &fit->level[HP_FIT_CHARGE_MIDDLE];
    double volts = fit->curve[HP_FIT_CHARGE_MIDDLE].emf_v, ride = 0.0;
    double energy = v->pack.capacity_ah * 3600.0 * v->pack.usable * volts;
    if (!m->meets) {
        hp_fit_find(line, HP_FIT_STOP, HP_RANGE_SHORT);
        return;
    }
    for (int k = 0; k < v->stretches; k++)
        ride += v->ride[k].metres;
    /* Of the cells' energy some is lost in their own resistance: volts times amperes leave them. */
    add_range(line, HP_FIT_RANGE_FULL_KM, energy, volts * m->point.battery_a, m->speed, v->unsure);
    if (line->figure[0].low < ride)
        hp_fit_find(line, HP_FIT_LOOK, HP_RANGE_SHORT);
    if (!fit->cruises) {
        hp_fit_find(line, HP_FIT_LOOK, HP_RANGE_NO_CRUISE);
        return;
    }
    double watts = volts * fit->cruise.battery_a;
    hp_fit_add(line, HP_FIT_CRUISE_SPEED, v->cruise_m_s);
    add_range(line, HP_FIT_RANGE_CRUISE_KM, energy, watts, v->cruise_m_s, v->unsure);
    hp_fit_add(line, HP_FIT_WH_PER_KM, watts / v->cruise_m_s);
}

/* ---- heat ------------------------------------------------------------------------------------ */

void hp_fit_ride_heat(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    const hp_fit_course *c = &fit->course;
    double limit = given->vehicle->ratings.winding_most_c;
    hp_fit_add_band(line, HP_FIT_HOTTEST_C, c->hottest_c, c->hottest_low_c, c->hottest_high_c);
    hp_fit_add(line, HP_FIT_LIMIT_C, limit);
    if (c->stuck)
        hp_fit_find(line, HP_FIT_STOP, HP_HEAT_STUCK);
    else if (c->hottest_c > limit)
        hp_fit_find(line, HP_FIT_STOP, HP_HEAT_OVER);
    else if (c->hottest_high_c > limit)
        hp_fit_find(line, HP_FIT_LOOK, HP_HEAT_NEAR);
}

void hp_fit_hill_heat(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    const hp_vehicle *v = given->vehicle;
    const hp_fit_meeting *m = &fit->hill[HP_FIT_CHARGE_MIDDLE];
    if (fit->lasting_slope >= 0.0)
        hp_fit_add(line, HP_FIT_LASTING_SLOPE, fit->lasting_slope);
    if (!m->meets) {
        hp_fit_find(line, HP_FIT_STOP, HP_HEAT_STUCK);
        return;
    }
    double seconds = v->hill_m / m->speed;
    hp_fit_add(line, HP_FIT_HILL_MIN, seconds);
    hp_fit_add_band(line, HP_FIT_LIMIT_MIN, m->limit_s, m->limit_low_s, m->limit_high_s);
    hp_fit_add(line, HP_FIT_LIMIT_C, v->ratings.winding_most_c);
    if (m->limit_s < seconds)
        hp_fit_find(line, HP_FIT_STOP, HP_HEAT_OVER);
    else if (m->limit_low_s < seconds)
        hp_fit_find(line, HP_FIT_LOOK, HP_HEAT_NEAR);
    else if (fit->lasting_slope < 0.0)
        hp_fit_find(line, HP_FIT_LOOK, HP_HEAT_LEVEL);
}

/* chosen: a hand lets go of the throttle within it. */
#define LETS_GO_S 10.0

/* Two of the three phases carry all of it: two thirds of the copper take the heat, over two thirds
 * of the surface. */
static double stall_time(const hp_fit_given *given, const hp_fit *fit, double scale)
{
    const hp_vehicle *v = given->vehicle;
    const hp_motor_params *motor = &given->drive->motor;
    hp_heat_params heat = v->heat;
    double amperes = fit->stalled_phase_a, air = heat.air_c;
    hp_heat_loss loss = {.copper_w = 2.0 * amperes * amperes * motor->resistance_ohm,
                         .copper_per_k = motor->copper_per_k};
    heat.copper_j_per_k *= 2.0 / 3.0;
    heat.copper_hub_k_w *= 1.5;
    if (!(scale > 0.0))
        return INFINITY;
    return hp_heat_time_to(&heat, &loss, hp_heat_cold(&heat),
                           air + (v->ratings.winding_most_c - air) / scale);
}

void hp_fit_stall_heat(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    const hp_vehicle *v = given->vehicle;
    double cutout = given->drive->controller.stall_cutout_s;
    double seconds = stall_time(given, fit, 1.0);
    double soonest = stall_time(given, fit, 1.0 + v->heat_unsure);
    hp_fit_add(line, HP_FIT_PHASE_MOST_A, fit->stalled_phase_a);
    hp_fit_add_band(line, HP_FIT_STALL_S, seconds, soonest,
                    stall_time(given, fit, 1.0 - v->heat_unsure));
    hp_fit_add(line, HP_FIT_LIMIT_C, v->ratings.winding_most_c);
    if (cutout > 0.0)
        hp_fit_add(line, HP_FIT_CUTOUT_S, cutout);
    if (!isfinite(soonest))
        return;
    if (cutout > 0.0 && cutout > soonest)
        hp_fit_find(line, HP_FIT_STOP, HP_STALL_LATE);
    else if (!(cutout > 0.0))
        hp_fit_find(line, soonest < LETS_GO_S ? HP_FIT_STOP : HP_FIT_LOOK,
                    soonest < LETS_GO_S ? HP_STALL_BURNS : HP_STALL_SLOW);
}

/* ---- axle, mounting -------------------------------------------------------------------------- */

/* common practice: nuts work loose long before metal yields; half of what it bears is kept. */
#define PRESSURE_NEAR 0.5
/* Derived: metal that yields from the edge inwards carries at most half as much again, when the
 * whole half of the flat presses evenly. */
#define PRESSURE_GIVES 1.5

void hp_fit_axle(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    const hp_axle_params *axle = &given->vehicle->axle;
    bool measured = axle->diameter_mm > 0.0 && axle->flats_mm > 0.0 && axle->engaged_mm > 0.0;
    hp_fit_add(line, HP_FIT_TORQUE_NM, fit->torque_most_nm);
    if (measured) {
        double pressure = hp_axle_pressure_mpa(axle, fit->torque_most_nm);
        hp_fit_add(line, HP_FIT_PRESSURE_MPA, pressure);
        hp_fit_add(line, HP_FIT_ALLOWED_MPA, axle->allowed_mpa);
        if (!axle->torque_arm && pressure > PRESSURE_GIVES * axle->allowed_mpa)
            hp_fit_find(line, HP_FIT_STOP, HP_AXLE_OVER);
        else if (!axle->torque_arm && pressure > PRESSURE_NEAR * axle->allowed_mpa)
            hp_fit_find(line, HP_FIT_LOOK, HP_AXLE_NEAR);
    }
    if (axle->torque_arm)
        hp_fit_find(line, HP_FIT_OK, HP_AXLE_ARM);
}

void hp_fit_mounting(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    if (given->vehicle->mounted == HP_MOUNTED_AS_MARKED)
        return;
    if (given->drive->stand.clutch)
        hp_fit_find(line, HP_FIT_STOP, HP_MOUNT_CLUTCH);
    else if (!fit->reverse)
        hp_fit_find(line, HP_FIT_STOP, HP_MOUNT_NO_REVERSE);
    else
        hp_fit_find(line, HP_FIT_LOOK, HP_MOUNT_SWAP);
}

/* ---- downhill -------------------------------------------------------------------------------- */

/* A wheel that the hill drives faster than the full pack's voltage gives current back through the
 * diodes, whatever the throttle says: at speed v the pair's peak voltage drives it against the
 * winding and the pack, and brakes. */
static double charge_at(const hp_fit_given *given, double speed)
{
    const hp_drive *drive = given->drive;
    const hp_vehicle *v = given->vehicle;
    double rotor = speed / v->wheel_m * HP_TWO_PI * drive->stand.gear_ratio;
    double pushed =
        hp_fit_constant_peak(drive) * rotor - v->pack.full_v - 2.0 * drive->controller.diode_drop_v;
    double ohm = 2.0 * hp_motor_resistance(&drive->motor) + v->pack.resistance_ohm;
    return fmax(0.0, pushed) / ohm;
}

/* Where road and that brake balance. */
static double rolling_speed(const hp_fit_given *given)
{
    const hp_vehicle *v = given->vehicle;
    double low = 0.0, high = hp_road_coasting_speed(&v->road, -v->hill);
    double gear = given->drive->stand.gear_ratio, k = hp_fit_constant_peak(given->drive);
    for (int n = 0; n < 60; n++) {
        double speed = 0.5 * (low + high);
        double brake = charge_at(given, speed) * k * gear / (v->wheel_m / HP_TWO_PI);
        double force = hp_road_force_at(&v->road, speed, -v->hill).total + brake;
        *(force < 0.0 ? &low : &high) = speed;
    }
    return high;
}

/* Adds what such a current does: `over` where battery or controller take less, else `within`. */
static void judge_charge(const hp_fit_given *given, hp_fit_line *line, double amperes, int over,
                         int within)
{
    const hp_vehicle *v = given->vehicle;
    double raised = v->pack.full_v + amperes * v->pack.resistance_ohm;
    double most_v = v->ratings.controller_most_v, most_a = v->pack.charge_a;
    hp_fit_add(line, HP_FIT_CHARGE_A, amperes);
    if (most_a > 0.0)
        hp_fit_add(line, HP_FIT_CHARGE_MOST_A, most_a);
    hp_fit_add(line, HP_FIT_RAISED_V, raised);
    bool much = (most_v > 0.0 && raised > most_v) || (most_a > 0.0 && amperes > most_a);
    hp_fit_find(line, much ? HP_FIT_STOP : HP_FIT_LOOK, much ? over : within);
}

void hp_fit_downhill(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    const hp_vehicle *v = given->vehicle;
    const hp_drive *drive = given->drive;
    (void)fit;
    if (drive->stand.clutch) {
        hp_fit_find(line, HP_FIT_OK, HP_DOWN_FREE);
        return;
    }
    double rolls = rolling_speed(given),
           turns = v->pack.full_v + 2.0 * drive->controller.diode_drop_v;
    double pushes =
        turns / hp_fit_constant_peak(drive) / drive->stand.gear_ratio * v->wheel_m / HP_TWO_PI;
    hp_fit_add(line, HP_FIT_COASTING, rolls);
    hp_fit_add(line, HP_FIT_PUSHING_SPEED, pushes);
    if (rolls > pushes)
        judge_charge(given, line, charge_at(given, rolls), HP_DOWN_OVER, HP_DOWN_CHARGES);
}

/* A controller that brakes into the battery does so at any lever, on the level and on a stand: no
 * more is known of how much than what its limit lets through. */
void hp_fit_motor_braking(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    if (!given->vehicle->ratings.regenerates)
        return;
    if (given->drive->stand.clutch) {
        hp_fit_find(line, HP_FIT_OK, HP_BRAKING_FREE);
        return;
    }
    judge_charge(given, line, hp_fit_battery_most(given, fit), HP_BRAKING_OVER, HP_BRAKING_FULL);
}

/* ---- law ------------------------------------------------------------------------------------- */

void hp_fit_law(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    double most = 0.0;
    (void)given;
    for (int k = 0; k < HP_FIT_POINTS; k++)
        if (fit->curve[HP_FIT_CHARGE_FULL].point[k].runs)
            most = fmax(most, fit->curve[HP_FIT_CHARGE_FULL].point[k].wheel_w);
    if (fit->level[HP_FIT_CHARGE_FULL].meets)
        add_speed(line, HP_FIT_SPEED_FULL, &fit->level[HP_FIT_CHARGE_FULL]);
    hp_fit_add(line, HP_FIT_WHEEL_W, most);
    hp_fit_find(line, HP_FIT_LOOK, HP_LAW_LOOK);
}
