/* Rules of pack, controller, fuse, plugs and leads. See fit_rules.h. */
#include "decide/fit/fit_rules.h"
#include "model/conductor.h"

#include <math.h>

#define COPPER_PER_K 0.00393 /* IEC 60028, as in the motor's default */

/* common practice: a tenth of a controller's voltage kept free for what a braking motor adds, a
 * fifth of a plug's current for heat and age, three hundredths of the voltage lost in leads. */
#define VOLTS_NEAR 0.95
#define PLUG_NEAR  0.8
#define DROP_MOST  0.03
/* chosen: a cut-off above this share of the way from empty to full leaves much of the pack unused.
 */
#define CUT_OFF_HIGH 0.35

void hp_fit_controller_volts(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    double full = given->vehicle->pack.full_v, most = given->vehicle->ratings.controller_most_v;
    (void)fit;
    hp_fit_add(line, HP_FIT_FULL_V, full);
    hp_fit_add(line, HP_FIT_MOST_V, most);
    if (given->pack_guessed)
        hp_fit_find(line, HP_FIT_LOOK, HP_VOLTS_GUESSED);
    if (full > most)
        hp_fit_find(line, HP_FIT_STOP, HP_VOLTS_ABOVE);
    else if (full > VOLTS_NEAR * most)
        hp_fit_find(line, HP_FIT_LOOK, HP_VOLTS_NEAR);
}

void hp_fit_cut_off(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    const hp_pack_params *pack = &given->vehicle->pack;
    double cut = given->drive->controller.undervoltage_v;
    const bool protected = hp_cell_use_of(pack->cell).switches_off;
    double high = pack->empty_v + CUT_OFF_HIGH * (pack->full_v - pack->empty_v);
    (void)fit;
    hp_fit_add(line, HP_FIT_EMPTY_V, pack->empty_v);
    hp_fit_add(line, HP_FIT_FULL_V, pack->full_v);
    if (!(cut > 0.0)) {
        hp_fit_find(line, HP_FIT_LOOK, protected ? HP_CUT_OFF_NONE : HP_CUT_OFF_NONE_BARE);
        return;
    }
    hp_fit_add(line, HP_FIT_CUT_OFF_V, cut);
    if (given->pack_guessed)
        hp_fit_find(line, HP_FIT_LOOK, HP_CUT_OFF_GUESSED);
    if (cut < pack->empty_v)
        hp_fit_find(line, HP_FIT_LOOK, protected ? HP_CUT_OFF_LOW : HP_CUT_OFF_LOW_BARE);
    else if (cut >= pack->full_v)
        hp_fit_find(line, HP_FIT_STOP, HP_CUT_OFF_HIGH);
    else if (cut > high)
        hp_fit_find(line, HP_FIT_LOOK, HP_CUT_OFF_HIGH);
}

void hp_fit_sensor_supply(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    double volts = given->vehicle->ratings.sensor_supply_v;
    (void)fit;
    hp_fit_add(line, HP_FIT_SUPPLY_V, volts);
    hp_fit_add(line, HP_FIT_LEAST_V, given->sensor_least_v);
    hp_fit_add(line, HP_FIT_HIGHEST_V, given->sensor_most_v);
    if (volts > given->sensor_most_v)
        hp_fit_find(line, HP_FIT_STOP, HP_SENSORS_ABOVE);
    else if (volts < given->sensor_least_v)
        hp_fit_find(line, HP_FIT_LOOK, HP_SENSORS_BELOW);
}

void hp_fit_pack_current(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    double amperes = hp_fit_battery_most(given, fit), most = given->vehicle->pack.limit_a;
    hp_fit_add(line, HP_FIT_BATTERY_A, amperes);
    hp_fit_add(line, HP_FIT_PACK_A, most);
    if (amperes > most)
        hp_fit_find(line, HP_FIT_STOP, HP_PACK_WEAK);
    else if (!(given->drive->controller.battery_limit_a > 0.0))
        hp_fit_find(line, HP_FIT_LOOK, HP_PACK_UNLIMITED);
}

static double ampacity_of(const hp_vehicle *v, const hp_lead_params *lead)
{
    return lead->ampacity_a > 0.0
               ? lead->ampacity_a
               : hp_conductor_ampacity(lead->area_mm2, v->insulation, v->heat.air_c);
}

void hp_fit_fuse_rating(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    const hp_vehicle *v = given->vehicle;
    bool leads_known = v->battery_lead.area_mm2 > 0.0;
    double amperes = hp_fit_battery_most(given, fit);
    double lead = leads_known ? ampacity_of(v, &v->battery_lead) : INFINITY;
    hp_fit_add(line, HP_FIT_BATTERY_A, amperes);
    if (!v->fuse.fitted) {
        hp_fit_find(line, HP_FIT_STOP, HP_FUSE_NONE);
        return;
    }
    hp_fit_add(line, HP_FIT_FUSE_A, v->fuse.rated_a);
    if (leads_known)
        hp_fit_add(line, HP_FIT_AMPACITY_A, lead);
    if (v->fuse.rated_a > lead)
        hp_fit_find(line, HP_FIT_STOP, HP_FUSE_TOO_LARGE);
    else if (v->fuse.rated_a < amperes)
        hp_fit_find(line, HP_FIT_LOOK, HP_FUSE_TOO_SMALL);
    else if (v->fuse.rated_a <= amperes)
        hp_fit_find(line, HP_FIT_LOOK, HP_FUSE_JUST);
}

void hp_fit_fuse_breaking(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    const hp_vehicle *v = given->vehicle;
    double ohm = v->pack.resistance_ohm, shorted = ohm > 0.0 ? v->pack.full_v / ohm : INFINITY;
    (void)fit;
    hp_fit_add(line, HP_FIT_SHORT_A, shorted);
    if (!v->fuse.fitted) {
        hp_fit_find(line, HP_FIT_STOP, HP_BREAKING_NONE);
        return;
    }
    hp_fit_add(line, HP_FIT_BREAKING_A, v->fuse.breaking_a);
    hp_fit_add(line, HP_FIT_FULL_V, v->pack.full_v);
    hp_fit_add(line, HP_FIT_FUSE_V, v->fuse.rated_v);
    if (given->pack_guessed)
        hp_fit_find(line, HP_FIT_LOOK, HP_BREAKING_GUESSED);
    if (v->fuse.rated_v < v->pack.full_v)
        hp_fit_find(line, HP_FIT_STOP, HP_BREAKING_VOLTS);
    if (!(ohm > 0.0))
        hp_fit_find(line, HP_FIT_LOOK, HP_BREAKING_UNSURE);
    else if (shorted > v->fuse.breaking_a)
        hp_fit_find(line, HP_FIT_STOP, HP_BREAKING_WEAK);
}

static void judge_plug(hp_fit_line *line, double amperes, double plug)
{
    hp_fit_add(line, HP_FIT_PLUG_A, plug);
    if (amperes > plug)
        hp_fit_find(line, HP_FIT_STOP, HP_PLUG_OVER);
    else if (amperes > PLUG_NEAR * plug)
        hp_fit_find(line, HP_FIT_LOOK, HP_PLUG_NEAR);
}

void hp_fit_battery_connector(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    double amperes = hp_fit_battery_most(given, fit);
    hp_fit_add(line, HP_FIT_BATTERY_A, amperes);
    judge_plug(line, amperes, given->vehicle->ratings.battery_connector_a);
}

/* Ohms of one lead as warm as this current makes it. */
static double warm_ohm(const hp_vehicle *v, const hp_lead_params *lead, double warming)
{
    double ohm = lead->length_m * hp_conductor_ohm_per_m(lead->area_mm2);
    return hp_conductor_hot(ohm, COPPER_PER_K, v->heat.air_c + warming);
}

static double warming_of(const hp_vehicle *v, const hp_lead_params *lead, double amperes)
{
    return hp_conductor_warming(amperes, ampacity_of(v, lead), v->insulation, v->heat.air_c);
}

void hp_fit_battery_leads(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    const hp_vehicle *v = given->vehicle;
    const hp_lead_params *lead = &v->battery_lead;
    double amperes = hp_fit_battery_most(given, fit), most = ampacity_of(v, lead);
    double warming = warming_of(v, lead, amperes);
    double drop = 2.0 * amperes * warm_ohm(v, lead, warming);
    double share = drop / fit->curve[HP_FIT_CHARGE_MIDDLE].emf_v;
    hp_fit_add(line, HP_FIT_BATTERY_A, amperes);
    hp_fit_add(line, HP_FIT_AMPACITY_A, most);
    hp_fit_add(line, HP_FIT_WARMING_K, warming);
    hp_fit_add(line, HP_FIT_DROP_V, drop);
    hp_fit_add(line, HP_FIT_DROP_PERCENT, share);
    hp_fit_add(line, HP_FIT_LOSS_W, drop * amperes);
    if (amperes > most)
        hp_fit_find(line, HP_FIT_STOP, HP_LEADS_OVER);
    else if (share > DROP_MOST)
        hp_fit_find(line, HP_FIT_LOOK, HP_LEADS_DROP);
}

void hp_fit_phase_current(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    const hp_fit_meeting *m = hp_fit_hardest(fit);
    hp_fit_add(line, HP_FIT_BATTERY_A, m->point.battery_a);
    hp_fit_add(line, HP_FIT_DUTY_PERCENT, m->point.duty);
    if (m->point.duty > 0.0)
        hp_fit_add(line, HP_FIT_OVER_DUTY_A, m->point.battery_a / m->point.duty);
    hp_fit_add(line, HP_FIT_PHASE_A, m->point.phase_rms_a);
    hp_fit_add(line, HP_FIT_PHASE_MOST_A, fit->stalled_phase_a);
    if (!(given->drive->controller.phase_limit_a > 0.0))
        hp_fit_find(line, HP_FIT_LOOK, HP_PHASE_UNLIMITED);
}

void hp_fit_phase_connector(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    double amperes = hp_fit_hardest(fit)->point.phase_rms_a;
    hp_fit_add(line, HP_FIT_PHASE_A, amperes);
    judge_plug(line, amperes, given->vehicle->ratings.phase_connector_a);
}

void hp_fit_phase_leads(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line)
{
    const hp_vehicle *v = given->vehicle;
    const hp_lead_params *lead = &v->phase_lead;
    double amperes = hp_fit_hardest(fit)->point.phase_rms_a, most = ampacity_of(v, lead);
    double warming = warming_of(v, lead, amperes);
    hp_fit_add(line, HP_FIT_PHASE_A, amperes);
    hp_fit_add(line, HP_FIT_PHASE_MOST_A, fit->stalled_phase_a);
    hp_fit_add(line, HP_FIT_AMPACITY_A, most);
    hp_fit_add(line, HP_FIT_WARMING_K, warming);
    hp_fit_add(line, HP_FIT_LOSS_W, 3.0 * amperes * amperes * warm_ohm(v, lead, warming));
    if (amperes > most)
        hp_fit_find(line, HP_FIT_STOP, HP_LEADS_OVER);
    else if (fit->stalled_phase_a > most)
        hp_fit_find(line, HP_FIT_LOOK, HP_LEADS_BRIEF);
}
