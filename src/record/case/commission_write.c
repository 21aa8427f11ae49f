/*
 * The scenario written back with the machine's own figures: which keys they go to, in the unit that
 * each is stated in, and the check that the new text says just what was learnt. What the log read
 * off controls and supplies comes with them, row by row: carry_over.h.
 */
#include "hubphase/record/case.h"

#include "decide/commission/fit_parts.h"
#include "model/heat.h"
#include "record/case/carry_over.h"
#include "record/log/bench_log_parts.h"
#include "record/scenario/parameters.h"
#include "record/scenario/scenario_learnt.h"
#include "record/scenario/scenario_rewrite.h"
#include "record/scenario/scenario_source.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define CHANGES_MAX (24 + HP_CARRIED_MOST)

typedef struct writing {
    const hp_commission_case *subject;
    hp_rewriting change[CHANGES_MAX];
    char value[CHANGES_MAX][40];
    char remark[CHANGES_MAX][200];
    int count;
    hp_carried carried[HP_CARRIED_MOST];
    int carries;
    bool told; /* the log told some figure */
} writing;

static const hp_own *own_of(const writing *w)
{
    return &hp_commission_case_list(w->subject)->own;
}

static const hp_parameter *stated(const writing *w, const char *key)
{
    const hp_parameter *p = hp_scenario_parameter(hp_commission_case_scenario(w->subject), key);
    return p && p->origin == HP_ORIGIN_FILE ? p : NULL;
}

static const char *log_name(const writing *w)
{
    const char *path = hp_commission_case_log(w->subject)->path, *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

static bool near(double a, double b)
{
    return fabs(a - b) <= 1e-3 * fmax(fabs(a), fabs(b)) + 1e-9;
}

/* A key gets a number, unless it says so already; `from`: the figure that it comes from, NULL: it
 * goes with the one before. */
static void set(writing *w, const char *key, double number, const hp_own_figure *from)
{
    const hp_parameter *before =
        hp_scenario_parameter(hp_commission_case_scenario(w->subject), key);
    int n = w->count;
    w->told = true;
    if (n == CHANGES_MAX ||
        (before && before->origin == HP_ORIGIN_FILE && near(before->number, number)))
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
        1.0 / hp_line_volts_per_wheel(&hp_commission_case_scenario(w->subject)->drive) / HP_RPM;
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
    const hp_parameter *before =
        hp_scenario_parameter(hp_commission_case_scenario(w->subject), c->key);
    int n = w->count;
    w->told = true;
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
static bool says(const hp_scenario *scenario, const hp_own *own)
{
    const hp_drive *told = &scenario->drive;
    const hp_heat_params *heat = &scenario->vehicle.heat;
    const hp_drive *of = &own->drive;
    const hp_own_figure *figure = own->figure;
    bool all = figure[HP_OWN_FRICTION_NM].known;
    bool wheel = all || figure[HP_OWN_COAST_FRICTION_NM].known;
    const struct {
        bool known;
        double told, own;
    } pair[] = {
        {figure[HP_OWN_SPEED_PER_V].known, told->motor.ke, of->motor.ke},
        {figure[HP_OWN_WINDING_OHM].known, told->motor.resistance_ohm, of->motor.resistance_ohm},
        {all, told->stand.rotor.coulomb_nm, of->stand.rotor.coulomb_nm},
        {all, told->stand.rotor.viscous_nm_s_rad, of->stand.rotor.viscous_nm_s_rad},
        {wheel, told->stand.wheel.coulomb_nm, of->stand.wheel.coulomb_nm},
        {figure[HP_OWN_INERTIA].known, told->stand.wheel_inertia_kg_m2,
         of->stand.wheel_inertia_kg_m2},
        {figure[HP_OWN_SUPPLY_OHM].known, told->supply.resistance_ohm, of->supply.resistance_ohm},
        {figure[HP_OWN_COPPER_J_PER_K].known, heat->copper_j_per_k,
         figure[HP_OWN_COPPER_J_PER_K].value},
        {figure[HP_OWN_COPPER_HUB_K_W].known, heat->copper_hub_k_w,
         figure[HP_OWN_COPPER_HUB_K_W].value},
    };
    bool same = true;
    for (size_t k = 0; k < sizeof pair / sizeof pair[0]; k++)
        same = same && (!pair[k].known || near(pair[k].told, pair[k].own));
    return same;
}

/* Reads the new text; *scenario is to be freed in any case. */
static hp_result check_text(const writing *w, const char *text, hp_scenario *scenario,
                            FILE *diagnostics, hp_error *err)
{
    const char *path = hp_commission_case_scenario(w->subject)->path;
    hp_result result = hp_scenario_read(text, strlen(text), path, scenario, diagnostics, err);
    bool same = result == HP_OK && says(scenario, own_of(w));
    for (int k = 0; same && k < w->carries; k++)
        same = says_carried(hp_scenario_parameter(scenario, w->carried[k].key), &w->carried[k]);
    if (result == HP_OK && !same)
        result = hp_error_set(err, HP_FAIL_INPUT,
                              "%s: the figures do not fit its other keys; change it by hand", path);
    return result;
}

/* ---- what it was learnt from ------------------------------------------------------------------
 */

/* Every key that the new scenario states otherwise than the one that the log is held against. */
static void put_before(const hp_scenario *base, const hp_scenario *now, FILE *out)
{
    const hp_parameters *list[] = {&now->parameters, &now->controls_parameters,
                                   &now->fit_parameters};
    for (size_t l = 0; l < sizeof list / sizeof list[0]; l++)
        for (size_t k = 0; k < list[l]->count; k++) {
            const hp_parameter *p = &list[l]->item[k],
                               *before = hp_scenario_parameter(base, p->key);
            bool stated = before && hp_parameter_is_stated(before);
            if (p->origin == HP_ORIGIN_FILE && !(stated && strcmp(before->value, p->value) == 0))
                fprintf(out, "    %s: %s\n", p->key, stated ? before->value : HP_LEARNT_NOT_STATED);
        }
}

/* The section learnt_from, so that the machine's log is found and no reading counts twice. */
static hp_result add_source(const writing *w, const char *log, const hp_scenario *now, char **text,
                            hp_error *err)
{
    const hp_scenario *scenario = hp_commission_case_scenario(w->subject);
    const hp_bench_log *of = hp_commission_case_log(w->subject);
    char name[HP_BENCH_NAME_SIZE], print[HP_BENCH_PRINT], *body = NULL, *whole = NULL;
    size_t size = 0;
    hp_result result = hp_bench_log_print_of(of, of->count, &scenario->labels, print, err);
    FILE *out = result == HP_OK ? open_memstream(&body, &size) : NULL;
    if (out) {
        fputs("  # Held against what stood here before; so no reading of that log counts twice.\n"
              "  log: ",
              out);
        hp_bench_put_scalar(out, log, false);
        fputs("\n  scenario: ", out);
        hp_bench_put_scalar(out, hp_bench_log_scenario_name(scenario, name, sizeof name), false);
        fprintf(out, "\n  entries: %d\n  print: \"%s\"\n  before:\n", of->count, print);
        put_before(hp_commission_scenario(scenario, of), now, out);
    }
    if (result == HP_OK && (!out || fclose(out) != 0))
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for a scenario");
    if (result == HP_OK)
        result = hp_scenario_put_section(*text, scenario->path, "learnt_from", body, &whole, err);
    free(body);
    if (result != HP_OK)
        return result;
    free(*text);
    *text = whole;
    return HP_OK;
}

/* ---- the whole --------------------------------------------------------------------------------
 */

/* The new text, read back before and after what it was learnt from is added. */
static hp_result make_text(const writing *w, const char *log, char **text, FILE *diagnostics,
                           hp_error *err)
{
    hp_scenario now, whole;
    memset(&whole, 0, sizeof whole);
    hp_result result = check_text(w, *text, &now, diagnostics, err);
    if (result == HP_OK)
        result = add_source(w, log ? log : log_name(w), &now, text, err);
    if (result == HP_OK)
        result = check_text(w, *text, &whole, diagnostics, err);
    hp_scenario_free(&now);
    hp_scenario_free(&whole);
    return result;
}

hp_result hp_commission_case_write_text(const hp_commission_case *c, const char *text,
                                        const char *log, FILE *out, int *changes, FILE *diagnostics,
                                        hp_error *err)
{
    const char *path = hp_commission_case_scenario(c)->path;
    writing w = {.subject = c};
    char *changed = NULL;
    set_all(&w);
    *changes = w.count;
    if (w.count == 0)
        return hp_error_set(err, HP_FAIL_INPUT, "%s, so there is nothing to write back",
                            w.told ? "the scenario says already what the log has told"
                                   : "no step in the log has told a figure of this machine yet");
    hp_result result = hp_scenario_rewrite(text, path, w.change, w.count, &changed, err);
    if (result == HP_OK)
        result = make_text(&w, log, &changed, diagnostics, err);
    if (result == HP_OK && fputs(changed, out) < 0)
        result = hp_error_set(err, HP_FAIL_IO, "the scenario could not be written");
    free(changed);
    return result;
}

hp_result hp_commission_case_write(const hp_commission_case *c, const char *log, FILE *out,
                                   int *changes, FILE *diagnostics, hp_error *err)
{
    const char *path = hp_commission_case_scenario(c)->path;
    hp_source source;
    hp_result result = hp_source_read_as(&source, path, "scenario", "hubphase: 1", err);
    if (result != HP_OK)
        return result;
    result = hp_commission_case_write_text(c, source.text, log, out, changes, diagnostics, err);
    hp_source_free(&source);
    return result;
}
