/*
 * The scenario written back with the machine's own figures: which keys they go to, in the unit that
 * each is stated in, and the check that the new text says just what was learnt. What the log read
 * off controls and supplies comes with them, row by row: carry_over.h.
 */
#include "hubphase/record/case.h"

#include "decide/commission/fit_parts.h"
#include "model/heat.h"
#include "record/case/carry_over.h"
#include "record/scenario/scenario_rewrite.h"
#include "record/scenario/scenario_source.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define CHANGES_MAX (24 + HP_CARRIED_MOST)

typedef struct writing {
    const hp_commission_case *subject;
    hp_parameters parameters; /* borrowed */
    hp_rewriting change[CHANGES_MAX];
    char value[CHANGES_MAX][40];
    char remark[CHANGES_MAX][200];
    int count;
    hp_carried carried[HP_CARRIED_MOST];
    int carries;
} writing;

static const hp_own *own_of(const writing *w)
{
    return &hp_commission_case_list(w->subject)->own;
}

/* Of all that a scenario states; NULL: no such key. */
static const hp_parameter *parameter_of(const hp_scenario *scenario, const char *key)
{
    hp_parameters list[] = {scenario->parameters, scenario->controls_parameters,
                            scenario->fit_parameters}; /* borrowed: looked up only */
    const hp_parameter *found = NULL;
    for (size_t k = 0; !found && k < sizeof list / sizeof list[0]; k++)
        found = hp_parameters_find(&list[k], key);
    return found;
}

static const hp_parameter *stated(writing *w, const char *key)
{
    const hp_parameter *p = hp_parameters_find(&w->parameters, key);
    return p && p->origin == HP_ORIGIN_FILE ? p : NULL;
}

static const char *log_name(const writing *w)
{
    const char *path = hp_commission_case_log(w->subject)->path, *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* A key gets a number; `from`: the figure that it comes from, NULL: it goes with the one before. */
static void set(writing *w, const char *key, double number, const hp_own_figure *from)
{
    const hp_parameter *before = hp_parameters_find(&w->parameters, key);
    int n = w->count;
    if (n == CHANGES_MAX)
        return;
    snprintf(w->value[n], sizeof w->value[n], "%.5g", number);
    hp_phrase p = hp_phrase_begin(w->remark[n], sizeof w->remark[n]);
    hp_phrase_add(&p, "commissioning");
    if (from)
        hp_phrase_add(&p, ", %s up to entry %d", log_name(w), from->entry);
    if (before)
        hp_phrase_add(&p, "; before: %s%s", before->value,
                      before->origin == HP_ORIGIN_FILE ? "" : ", not stated");
    w->change[n] = (hp_rewriting){key, w->value[n], w->remark[n]};
    w->count++;
}

/* Speed per volt in whichever of the four ways the scenario states it; all that are there. */
static void set_backemf(writing *w)
{
    static const struct {
        const char *key;
        bool speed; /* else volts or torque per speed */
    } ways[] = {{"motor.no_load_speed_rpm_at_v.speed_rpm", true},
                {"motor.backemf_peak_v_per_krpm", false},
                {"motor.backemf_rms_v_per_krpm", false},
                {"motor.torque_constant_nm_per_a", false}};
    const hp_own_figure *figure = &own_of(w)->figure[HP_OWN_SPEED_PER_V];
    double before =
        1.0 / hp_line_volts_per_wheel(hp_commission_case_list(w->subject)->given.drive) / HP_RPM;
    double ratio = figure->value / before;
    for (size_t k = 0; figure->known && k < sizeof ways / sizeof ways[0]; k++) {
        const hp_parameter *p = stated(w, ways[k].key);
        if (p)
            set(w, ways[k].key, ways[k].speed ? p->number * ratio : p->number / ratio, figure);
    }
}

static void set_winding(writing *w)
{
    const hp_own_figure *figure = &own_of(w)->figure[HP_OWN_WINDING_OHM];
    if (!figure->known)
        return;
    set(w, "motor.resistance_between_leads_ohm", figure->value, figure);
    if (stated(w, "motor.resistance_measured_at_c"))
        set(w, "motor.resistance_measured_at_c", 20.0, NULL);
}

/* Battery current of the motor alone at these volts, as the reader of scenarios reckons it. */
static double no_load_a(const hp_drive *d, double volts)
{
    double g = d->stand.gear_ratio, k = hp_line_volts_per_wheel(d);
    double path = 2.0 * (hp_motor_resistance(&d->motor) + d->controller.switch_resistance_ohm);
    double steady = g * d->stand.rotor.coulomb_nm + d->stand.wheel.coulomb_nm;
    double grows = g * g * d->stand.rotor.viscous_nm_s_rad + d->stand.wheel.viscous_nm_s_rad;
    double w = (volts - path * steady / k) / (k + path * grows / k);
    return (steady + grows * w) / k;
}

static void set_friction(writing *w)
{
    const hp_drive *own = &own_of(w)->drive;
    const hp_own_figure *all = &own_of(w)->figure[HP_OWN_FRICTION_NM];
    const hp_own_figure *wheel = &own_of(w)->figure[HP_OWN_COAST_FRICTION_NM];
    const hp_parameter *volts = stated(w, "stand.no_load_current_a_at_v.volts");
    if (wheel->known) {
        set(w, "stand.wheel.friction_nm", own->stand.wheel.coulomb_nm, wheel);
        set(w, "stand.wheel.breakaway_nm", own->stand.wheel.breakaway_nm, NULL);
    }
    if (!all->known)
        return;
    if (!wheel->known &&
        (stated(w, "stand.wheel.friction_nm") || stated(w, "stand.wheel.breakaway_nm"))) {
        set(w, "stand.wheel.friction_nm", own->stand.wheel.coulomb_nm, all);
        set(w, "stand.wheel.breakaway_nm", own->stand.wheel.breakaway_nm, NULL);
    }
    if (!wheel->known && stated(w, "stand.wheel.viscous_nm_s_per_rad"))
        set(w, "stand.wheel.viscous_nm_s_per_rad", own->stand.wheel.viscous_nm_s_rad, all);
    set(w, "stand.rotor.friction_nm", own->stand.rotor.coulomb_nm, all);
    set(w, "stand.rotor.breakaway_nm", own->stand.rotor.breakaway_nm, NULL);
    set(w, "stand.rotor.viscous_nm_s_per_rad", own->stand.rotor.viscous_nm_s_rad, all);
    if (volts)
        set(w, "stand.no_load_current_a_at_v.current_a", no_load_a(own, volts->number), all);
}

static void set_heat(writing *w)
{
    const hp_own_figure *copper = &own_of(w)->figure[HP_OWN_COPPER_J_PER_K];
    const hp_own_figure *way = &own_of(w)->figure[HP_OWN_COPPER_HUB_K_W];
    if (copper->known && stated(w, "thermal.copper_kg"))
        set(w, "thermal.copper_kg", copper->value / HP_COPPER_J_PER_KG_K, copper);
    else if (copper->known)
        set(w, "thermal.copper_j_per_k", copper->value, copper);
    if (way->known)
        set(w, "thermal.copper_to_hub_k_per_w", way->value, way);
}

/* ---- what was read off controls and supplies ---------------------------------------------------
 */

static bool near(double a, double b)
{
    return fabs(a - b) <= 1e-3 * fmax(fabs(a), fabs(b)) + 1e-9;
}

static bool says_carried(const hp_parameter *p, const hp_carried *c)
{
    if (!p)
        return false;
    if (c->word || c->list[0])
        return strcmp(p->value, c->word ? c->word : c->list) == 0;
    return near(p->number, c->number);
}

static void set_carried(writing *w, const hp_carried *c)
{
    const hp_parameter *before = parameter_of(hp_commission_case_scenario(w->subject), c->key);
    int n = w->count;
    bool from_file = before && before->origin == HP_ORIGIN_FILE;
    if (n == CHANGES_MAX || (from_file && says_carried(before, c)))
        return;
    if (c->word || c->list[0])
        snprintf(w->value[n], sizeof w->value[n], "%s", c->word ? c->word : c->list);
    else
        snprintf(w->value[n], sizeof w->value[n], "%.5g", c->number);
    hp_phrase p = hp_phrase_begin(w->remark[n], sizeof w->remark[n]);
    hp_phrase_add(&p, "commissioning, %s entry %d", log_name(w), c->entry);
    if (c->why)
        hp_phrase_add(&p, ", %s", c->why);
    if (before)
        hp_phrase_add(&p, "; before: %s%s", before->value, from_file ? "" : ", not stated");
    w->change[n] = (hp_rewriting){c->key, w->value[n], w->remark[n]};
    w->count++;
}

static void set_all(writing *w)
{
    const hp_own *own = own_of(w);
    const hp_own_figure *inertia = &own->figure[HP_OWN_INERTIA];
    const hp_own_figure *supply = &own->figure[HP_OWN_SUPPLY_OHM];
    set_backemf(w);
    set_winding(w);
    set_friction(w);
    if (inertia->known)
        set(w, "stand.wheel_inertia_kg_m2", own->drive.stand.wheel_inertia_kg_m2, inertia);
    if (supply->known)
        set(w, "supply.resistance_mohm", 1000.0 * supply->value, supply);
    set_heat(w);
    w->carries = hp_carry_over(hp_commission_case_list(w->subject), w->carried);
    /* A key that is added stands first in its section: from the last, they come in order. */
    for (int k = w->carries - 1; k >= 0; k--)
        set_carried(w, &w->carried[k]);
}

/* ---- the check --------------------------------------------------------------------------------
 */

/* Whether a scenario says what was learnt: figures are written to five digits. */
static bool says(const hp_drive *told, const hp_drive *own)
{
    return near(told->motor.ke, own->motor.ke) &&
           near(told->motor.resistance_ohm, own->motor.resistance_ohm) &&
           near(told->stand.rotor.coulomb_nm, own->stand.rotor.coulomb_nm) &&
           near(told->stand.rotor.viscous_nm_s_rad, own->stand.rotor.viscous_nm_s_rad) &&
           near(told->stand.wheel.coulomb_nm, own->stand.wheel.coulomb_nm) &&
           near(told->stand.wheel_inertia_kg_m2, own->stand.wheel_inertia_kg_m2) &&
           near(told->supply.resistance_ohm, own->supply.resistance_ohm);
}

static hp_result check_text(const writing *w, const char *text, FILE *diagnostics, hp_error *err)
{
    const char *path = hp_commission_case_scenario(w->subject)->path;
    hp_scenario scenario;
    hp_result result = hp_scenario_read(text, strlen(text), path, &scenario, diagnostics, err);
    bool same = result == HP_OK && says(&scenario.drive, &own_of(w)->drive);
    for (int k = 0; same && k < w->carries; k++)
        same = says_carried(parameter_of(&scenario, w->carried[k].key), &w->carried[k]);
    if (result == HP_OK && !same)
        result = hp_error_set(err, HP_FAIL_INPUT,
                              "%s: the figures do not fit its other keys; change it by hand", path);
    hp_scenario_free(&scenario);
    return result;
}

hp_result hp_commission_case_write(const hp_commission_case *c, FILE *out, int *changes,
                                   FILE *diagnostics, hp_error *err)
{
    const char *path = hp_commission_case_scenario(c)->path;
    writing w = {.subject = c, .parameters = hp_commission_case_scenario(c)->parameters};
    hp_source source;
    char *text = NULL;
    set_all(&w);
    *changes = w.count;
    if (w.count == 0)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "no step in the log has told a figure of this machine yet, so there is "
                            "nothing to write back");
    hp_result result = hp_source_read_as(&source, path, "scenario", "hubphase: 1", err);
    if (result != HP_OK)
        return result;
    result = hp_scenario_rewrite(source.text, path, w.change, w.count, &text, err);
    if (result == HP_OK)
        result = check_text(&w, text, diagnostics, err);
    if (result == HP_OK && fputs(text, out) < 0)
        result = hp_error_set(err, HP_FAIL_IO, "the scenario could not be written");
    free(text);
    hp_source_free(&source);
    return result;
}
