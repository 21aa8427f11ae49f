/* Mechanical and electrical figures from the readings of a log: see the header. */
#include "decide/commission/fit_machine.h"

#include "decide/advise/full_check.h"
#include "decide/commission/doubt.h"
#include "decide/commission/fit_parts.h"
#include "decide/reading/reading.h"
#include "model/stand.h"

#include <math.h>
#include <string.h>

/* ---- meters -----------------------------------------------------------------------------------
 */

hp_meters hp_meters_of(const hp_person *person)
{
    return (hp_meters){
        .speed_alike = person->speed_relative,
        .speed_each = person->speed_relative / 3.0, /* chosen: most of it is the same each time */
        .ampere_alike = person->current_relative,
        .ampere_each = person->current_relative / 3.0, /* chosen: the same */
        .ampere_zero = person->current_zero_a,
        .ampere_digit = person->current_zero_a / 3.0, /* chosen: the same */
        .volt_alike = 0.01,            /* chosen: a hand meter of 3 1/2 digits on d.c. */
        .volt_each = 0.002,            /* chosen: its last digits */
        .volt_digit = 0.01,            /* chosen: the digit itself on a 20 V range */
        .supply_ampere_alike = 0.02,   /* chosen: the meter of a bench supply */
        .clock_s = 0.1,                /* chosen: a film beside a running clock */
        .kelvin_guessed = 8.0,         /* chosen: a shed in any season */
        .kelvin = 2.0,                 /* chosen: a hub that has stood in the room for hours */
        .inertia = HP_INERTIA_WEIGHED, /* mean radii by a tape */
    };
}

/* ---- the model --------------------------------------------------------------------------------
 */

/* The unknowns as they enter the equations. */
typedef struct machine {
    double k, ohm, friction, viscous, inertia, idle_a, supply_ohm, emf;
    double coast_friction, coast_viscous, coast_from;
    double edges_w;
    double speed, ampere, zero, volt, supply_ampere; /* scales, 1 for a good meter; zero [A] */
    double path_ohm;                                 /* two leads and two switches, at 20 C */
} machine;

static machine machine_of(const hp_machine_fit *f, const double *p)
{
    machine m = {.k = exp(p[HP_UNKNOWN_LN_K]),
                 .ohm = exp(p[HP_UNKNOWN_LN_OHM]),
                 .friction = exp(p[HP_UNKNOWN_LN_FRICTION]),
                 .viscous = exp(p[HP_UNKNOWN_LN_VISCOUS]),
                 .inertia = exp(p[HP_UNKNOWN_LN_INERTIA]),
                 .idle_a = p[HP_UNKNOWN_IDLE_A],
                 .supply_ohm = exp(p[HP_UNKNOWN_LN_SUPPLY_OHM]),
                 .emf = p[HP_UNKNOWN_EMF],
                 .coast_from = exp(p[HP_UNKNOWN_LN_COAST_FROM]),
                 .edges_w = p[HP_UNKNOWN_EDGES_W],
                 .speed = 1.0 + p[HP_UNKNOWN_SPEED_SCALE],
                 .ampere = 1.0 + p[HP_UNKNOWN_AMMETER_SCALE],
                 .zero = p[HP_UNKNOWN_AMMETER_ZERO],
                 .volt = 1.0 + p[HP_UNKNOWN_VOLTMETER_SCALE],
                 .supply_ampere = 1.0 + p[HP_UNKNOWN_SUPPLY_SCALE]};
    m.coast_friction = f->clutch ? exp(p[HP_UNKNOWN_LN_COAST_FRICTION]) : m.friction;
    m.coast_viscous = f->clutch ? exp(p[HP_UNKNOWN_LN_COAST_VISCOUS]) : m.viscous;
    m.path_ohm = m.ohm + f->switch_ohm;
    return m;
}

/* What a meter shows of a battery current, of a speed. */
static double shown_a(const machine *m, double amperes)
{
    return m->ampere * amperes + m->zero;
}

/* Full throttle: k w = d U - Rt (a + b w) / k. */
static double full_speed(const machine *m, double duty, double volts)
{
    double w = (duty * volts - m->path_ohm * m->friction / m->k) /
               (m->k + m->path_ohm * m->viscous / m->k);
    return fmax(0.0, w);
}

static double full_battery_a(const machine *m, double duty, double rad_s)
{
    return duty * (m->friction + m->viscous * rad_s) / m->k + m->idle_a;
}

/* At any duty the battery gives what drag and winding take. */
static double part_battery_a(const machine *m, double volts, double rad_s)
{
    double drag = m->friction + m->viscous * rad_s, i = drag / m->k;
    return (drag * rad_s + m->path_ohm * i * i + m->edges_w) / volts + m->idle_a;
}

static double coast_speed(const machine *m, double t)
{
    double fade = m->coast_viscous / m->inertia, level = m->coast_friction / m->coast_viscous;
    return (m->coast_from + level) * exp(-fade * t) - level;
}

static double coast_stop(const machine *m)
{
    double fade = m->coast_viscous / m->inertia, level = m->coast_friction / m->coast_viscous;
    return log1p(m->coast_from / level) / fade;
}

/* ---- the readings -----------------------------------------------------------------------------
 */

/* Collects residuals. */
typedef struct line {
    double *out;
    int count;
} line;

static void add(line *l, double told, double read, double sd)
{
    if (l->out)
        l->out[l->count] = (told - read) / sd;
    l->count++;
}

/* The battery's ammeter. */
static void add_ampere(const hp_machine_fit *f, const machine *m, line *l, double told, double read,
                       double model)
{
    double each = hypot(f->meter.ampere_each, model) * read;
    add(l, shown_a(m, told), read, hypot(each, f->meter.ampere_digit));
}

/* chosen: what the lines leave out (ripple of the current, iron that warms, edges of the duty),
 * over the value: at full duty, and at part duty. */
#define MODEL_FULL 0.02
#define MODEL_PART 0.05

static void add_no_load(const hp_machine_fit *f, const machine *m, line *l)
{
    const hp_no_load *n = hp_entry_said(f->no_load);
    double volts = n->full.volts / m->volt;
    if (!isnan(n->full.rad_s) && !isnan(volts))
        add(l, m->speed * full_speed(m, f->duty, volts), n->full.rad_s,
            hypot(f->meter.speed_each, 0.005) * n->full.rad_s);
    if (!isnan(n->full.battery_a) && !isnan(volts))
        add_ampere(f, m, l, full_battery_a(m, f->duty, full_speed(m, f->duty, volts)),
                   n->full.battery_a, MODEL_FULL);
    if (!isnan(n->half.battery_a) && !isnan(n->half.rad_s) && !isnan(n->half.volts))
        add_ampere(f, m, l, part_battery_a(m, n->half.volts / m->volt, n->half.rad_s / m->speed),
                   n->half.battery_a, MODEL_PART);
}

static void add_coast(const hp_machine_fit *f, const machine *m, line *l)
{
    const hp_coast_down *c = hp_entry_said(f->coast);
    double slows = (m->coast_friction + 0.5 * m->coast_viscous * m->coast_from) / m->inertia;
    add(l, m->speed * m->coast_from, c->from_rad_s, f->meter.speed_each * c->from_rad_s);
    for (int k = 0; k < HP_COAST_MARKS; k++)
        if (!isnan(c->mark_s[k]) && !isnan(c->mark_rad_s[k]))
            add(l, m->speed * coast_speed(m, c->mark_s[k]), c->mark_rad_s[k],
                hypot(f->meter.speed_each * c->mark_rad_s[k], f->meter.clock_s * slows));
    /* At the very end it sticks or falls into a detent: a little sooner than the law says. */
    if (!isnan(c->stop_s))
        add(l, coast_stop(m), c->stop_s, hypot(1.5 * f->meter.clock_s, 0.02 * c->stop_s));
}

static void add_sag(const hp_machine_fit *f, const machine *m, line *l)
{
    const hp_sag *s = hp_entry_said(f->sag);
    const double amperes[2] = {s->low_a, s->high_a}, volts[2] = {s->low_v, s->high_v};
    for (int k = 0; k < 2; k++) {
        double current = (amperes[k] - m->zero) / m->ampere;
        double sd =
            hypot(hypot(f->meter.volt_each * volts[k], f->meter.volt_digit),
                  m->supply_ohm * hypot(f->meter.ampere_each * amperes[k], f->meter.ampere_digit));
        add(l, m->volt * (m->emf - m->supply_ohm * current), volts[k], sd);
    }
}

static void add_winding(const hp_machine_fit *f, const machine *m, line *l)
{
    const hp_winding *w = hp_entry_said(f->winding);
    const hp_person *person = f->given->person;
    double alpha = f->given->drive->motor.copper_per_k;
    double warm = 1.0 + alpha * (w->copper_c - 20.0), mean = warm * hp_winding_ohm(w, alpha);
    if (mean > 0.0)
        add(l, m->ohm * warm, mean, hypot(person->ohm_relative * mean, person->ohm_zero));
}

static void add_heating(const hp_machine_fit *f, const machine *m, line *l)
{
    const hp_heating *h = hp_entry_said(f->heating);
    double alpha = f->given->drive->motor.copper_per_k;
    double warm = 1.0 + alpha * (hp_heating_from_c(h) - 20.0);
    double kelvin = isnan(h->winding_c) ? f->meter.kelvin_guessed : f->meter.kelvin;
    double read = h->start_v / h->amperes;
    double sd =
        hypot(hypot(f->meter.volt_each, alpha * kelvin) * read, f->meter.volt_digit / h->amperes);
    add(l, m->ohm * warm * m->volt / m->supply_ampere, read, sd);
}

/* chosen: a trial's volts are not read, but stated; and of a trial without its speed the throttle
 * is as the hand sets it. */
#define MODEL_TRIED 0.1
#define MODEL_HAND  0.3

static double tried_speed(const machine *m, const hp_trial *t, double volts)
{
    return isnan(t->wheel_rad_s) ? full_speed(m, t->throttle, volts) : t->wheel_rad_s / m->speed;
}

static void add_tried(const hp_machine_fit *f, const machine *m, const hp_trial *t, line *l)
{
    double volts = f->given->drive->supply.emf_v;
    add_ampere(f, m, l, part_battery_a(m, volts, tried_speed(m, t, volts)), t->battery_a,
               isnan(t->wheel_rad_s) ? MODEL_HAND : MODEL_TRIED);
}

static void residuals(const hp_machine_fit *f, const double *p, line *l)
{
    machine m = machine_of(f, p);
    for (int k = 0; k < f->tried_count; k++)
        add_tried(f, &m, f->tried[k], l);
    if (f->idle)
        add_ampere(f, &m, l, m.idle_a, ((const hp_idle_draw *)hp_entry_said(f->idle))->idle_a, 0.0);
    if (f->drag)
        add_ampere(f, &m, l, m.idle_a, ((const hp_drag *)hp_entry_said(f->drag))->idle_a, 0.0);
    if (f->winding)
        add_winding(f, &m, l);
    if (f->heating)
        add_heating(f, &m, l);
    if (f->no_load)
        add_no_load(f, &m, l);
    if (f->coast)
        add_coast(f, &m, l);
    if (f->sag)
        add_sag(f, &m, l);
}

static void residual(const void *user, const double *p, double *out)
{
    line l = {.out = out};
    residuals(user, p, &l);
}

/* ---- what is known before ---------------------------------------------------------------------
 */

static void expect(hp_least *l, hp_unknown unknown, double value, double sd)
{
    l->prior[unknown] = value;
    l->prior_sd[unknown] = sd;
    l->start[unknown] = value;
}

/* Begins with the drag that the mean slowing says, four fifths of it steady. */
static void start_coast(hp_machine_fit *f, const hp_coast_down *c)
{
    hp_least *l = &f->least;
    double seconds = c->stop_s, lost = c->from_rad_s;
    for (int k = 0; k < HP_COAST_MARKS; k++)
        if (isnan(c->stop_s) && !isnan(c->mark_s[k])) {
            seconds = c->mark_s[k];
            lost = c->from_rad_s - c->mark_rad_s[k];
        }
    double drag = exp(l->prior[HP_UNKNOWN_LN_INERTIA]) * lost / seconds;
    l->start[f->clutch ? HP_UNKNOWN_LN_COAST_FRICTION : HP_UNKNOWN_LN_FRICTION] = log(0.8 * drag);
    l->start[f->clutch ? HP_UNKNOWN_LN_COAST_VISCOUS : HP_UNKNOWN_LN_VISCOUS] =
        log(0.4 * drag / c->from_rad_s);
}

/* The idle draw as it was read; 0: it was not. */
static double idle_read(const hp_machine_fit *f)
{
    if (f->idle)
        return ((const hp_idle_draw *)hp_entry_said(f->idle))->idle_a;
    return f->drag ? ((const hp_drag *)hp_entry_said(f->drag))->idle_a : 0.0;
}

/* Standard deviations are chosen: wide, so that readings decide; of a logarithm 0.7 is a factor of
 * two either way, 1 one of 2.7. */
static void expect_all(hp_machine_fit *f, const hp_fit_choice *choice)
{
    bool trusts = choice->trusts;
    const hp_drive *d = f->given->drive;
    const hp_meters *meter = &f->meter;
    hp_least *l = &f->least;
    double g = f->gear, k = hp_line_volts_per_wheel(d);
    hp_friction all = hp_stand_friction(&d->stand);
    double w = d->supply.emf_v / k;
    double friction = fmax(g * all.coulomb_nm, 1e-3), least = 0.05 * friction / w;
    hp_stand_params usual = d->stand;
    hp_stand_usual_friction(&usual);
    double coast = fmax(d->stand.wheel.coulomb_nm, usual.wheel.coulomb_nm);
    expect(l, HP_UNKNOWN_LN_K, log(k), trusts ? 0.05 : 0.3);
    expect(l, HP_UNKNOWN_LN_OHM, log(2.0 * d->motor.resistance_ohm), trusts ? 0.1 : 0.7);
    expect(l, HP_UNKNOWN_LN_FRICTION, log(friction), trusts ? 0.7 : 1.0);
    expect(l, HP_UNKNOWN_LN_VISCOUS, log(fmax(g * g * all.viscous_nm_s_rad, least)), 1.0);
    expect(l, HP_UNKNOWN_LN_COAST_FRICTION, log(fmax(coast, 1e-3)), 1.0);
    /* Grease, and the air that spokes stir, are a larger share of what drags a free wheel than of a
     * whole machine: chosen, a third of the rest at full speed, a factor of 4.5 either way. Less,
     * or a narrower guess, had all of it taken for steady drag. */
    expect(l, HP_UNKNOWN_LN_COAST_VISCOUS,
           log(fmax(d->stand.wheel.viscous_nm_s_rad, 0.33 * fmax(coast, 1e-3) / w)), 1.5);
    double inertia = f->clutch ? d->stand.wheel_inertia_kg_m2
                               : g * g * hp_stand_inertia(&d->stand, d->motor.rotor_inertia_kg_m2);
    expect(l, HP_UNKNOWN_LN_INERTIA, log(inertia),
           f->given->inertia_stated ? HP_INERTIA_STATED : HP_INERTIA_GUESSED);
    /* A lamp or a dragging converter draws what it draws: as wide as what was read of it. */
    expect(l, HP_UNKNOWN_IDLE_A, 0.05, fmax(0.5, idle_read(f)));
    expect(l, HP_UNKNOWN_LN_SUPPLY_OHM, log(fmax(d->supply.resistance_ohm, 0.01)), 1.0);
    expect(l, HP_UNKNOWN_EMF, d->supply.emf_v, 0.2 * d->supply.emf_v);
    expect(l, HP_UNKNOWN_LN_COAST_FROM, log(w), 3.0);
    expect(l, HP_UNKNOWN_SPEED_SCALE, 0.0, meter->speed_alike);
    expect(l, HP_UNKNOWN_AMMETER_SCALE, 0.0, meter->ampere_alike);
    expect(l, HP_UNKNOWN_AMMETER_ZERO, 0.0, meter->ampere_zero);
    expect(l, HP_UNKNOWN_VOLTMETER_SCALE, 0.0, meter->volt_alike);
    expect(l, HP_UNKNOWN_SUPPLY_SCALE, 0.0, meter->supply_ampere_alike);
    expect(l, HP_UNKNOWN_EDGES_W, 0.2, 0.2);
    static const hp_unknown scales[] = {HP_UNKNOWN_SPEED_SCALE, HP_UNKNOWN_AMMETER_SCALE,
                                        HP_UNKNOWN_VOLTMETER_SCALE, HP_UNKNOWN_SUPPLY_SCALE};
    for (size_t k = 0; choice->same_meters && k < sizeof scales / sizeof scales[0]; k++)
        l->prior_sd[scales[k]] = HP_SAME_SCALE;
    if (!f->coast)
        return;
    const hp_coast_down *c = hp_entry_said(f->coast);
    /* Weighed is what turns with the wheel; a geared rotor turns faster, and is in the scenario. */
    double weighed =
        hp_coast_down_inertia(c) + (f->clutch ? 0.0 : g * g * d->motor.rotor_inertia_kg_m2);
    expect(l, HP_UNKNOWN_LN_COAST_FROM, log(c->from_rad_s), 1.0);
    if (!isnan(weighed))
        expect(l, HP_UNKNOWN_LN_INERTIA, log(weighed), meter->inertia);
    if (choice->inertia_sd > 0.0)
        l->prior_sd[HP_UNKNOWN_LN_INERTIA] = choice->inertia_sd;
    start_coast(f, c);
}

const hp_entry *hp_fit_entry(const hp_assess_case *given, const hp_reading *kind,
                             const hp_reading *without)
{
    const hp_entry *entry = kind == without ? NULL : hp_assess_last(given, kind);
    bool old = entry && entry - given->entry < hp_reopened_at(given->entry, given->entries, kind);
    return entry && !old && !entry->typical && !hp_entry_is_unusual(given, entry) ? entry : NULL;
}

const hp_entry *hp_fit_coast(const hp_assess_case *given, const hp_reading *without)
{
    hp_assess_case until = *given;
    const hp_entry *coast = hp_fit_entry(&until, &hp_reading_coast_down, without);
    while (coast && hp_coast_down_slipped(given, hp_entry_said(coast)) != HP_COAST_FINE) {
        until.entries = (int)(coast - given->entry);
        coast = hp_fit_entry(&until, &hp_reading_coast_down, without);
    }
    return coast;
}

double hp_winding_ohm(const hp_winding *w, double copper_per_k)
{
    double sum = 0.0;
    int pairs = 0;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (isfinite(w->ohm[k])) {
            sum += w->ohm[k] - w->leads_ohm;
            pairs++;
        }
    return pairs ? sum / pairs / (1.0 + copper_per_k * (w->copper_c - 20.0)) : (double)NAN;
}

double hp_line_volts_per_wheel(const hp_drive *drive)
{
    hp_drive full = *drive;
    full.controller.throttle = full.controller.speed_cap = 1.0;
    return full.supply.emf_v / hp_drive_ideal_speed(&full) * full.stand.gear_ratio;
}

static void solve(hp_machine_fit *f)
{
    line count = {.out = NULL};
    residuals(f, f->least.prior, &count);
    f->least.parameters = HP_UNKNOWN_COUNT;
    f->least.residuals = count.count;
    f->least.residual = residual;
    f->least.user = f;
    hp_least_solve(&f->least);
    f->least.user = NULL; /* the fit may be moved */
}

void hp_machine_fit_make(const hp_assess_case *given, const hp_fit_choice *choice,
                         hp_machine_fit *f)
{
    const hp_reading *without = choice->without;
    memset(f, 0, sizeof *f);
    f->given = given;
    f->meter = hp_meters_of(given->person);
    f->winding = hp_fit_entry(given, &hp_reading_winding, without);
    f->no_load = hp_fit_entry(given, &hp_reading_no_load, without);
    f->coast = hp_fit_coast(given, without);
    f->idle = hp_fit_entry(given, &hp_reading_idle_draw, without);
    f->drag = hp_fit_entry(given, &hp_reading_drag, without);
    f->sag = hp_fit_entry(given, &hp_reading_sag, without);
    f->heating = hp_fit_entry(given, &hp_reading_heating, without);
    hp_heating clean;
    if (f->heating && hp_heating_sift(given, hp_entry_said(f->heating), &clean).whole)
        f->heating = NULL;
    if (f->sag && !hp_sag_teaches(given, hp_entry_said(f->sag)))
        f->sag = NULL;
    /* The same current, told twice: the step's own counts. */
    if (f->drag && (f->idle || isnan(((const hp_drag *)hp_entry_said(f->drag))->idle_a)))
        f->drag = NULL;
    f->cap = given->drive->controller.speed_cap;
    f->duty = f->cap * hp_plan_full(given->plan);
    f->switch_ohm = 2.0 * given->drive->controller.switch_resistance_ohm;
    f->gear = given->drive->stand.gear_ratio;
    f->clutch = given->drive->stand.clutch;
    expect_all(f, choice);
    solve(f);
}

/* ---- what follows -----------------------------------------------------------------------------
 */

typedef struct at_volts {
    const hp_machine_fit *fit;
    double volts;
} at_volts;

static double shown_speed(const void *user, const double *p)
{
    const at_volts *at = user;
    machine m = machine_of(at->fit, p);
    return m.speed * full_speed(&m, at->fit->duty, at->volts / m.volt);
}

static double shown_current(const void *user, const double *p)
{
    const at_volts *at = user;
    machine m = machine_of(at->fit, p);
    double w = full_speed(&m, at->fit->duty, at->volts / m.volt);
    return shown_a(&m, full_battery_a(&m, at->fit->duty, w));
}

typedef struct at_part {
    const hp_machine_fit *fit;
    double volts, rad_s; /* as meters show them */
} at_part;

static double shown_part(const void *user, const double *p)
{
    const at_part *at = user;
    machine m = machine_of(at->fit, p);
    return shown_a(&m, part_battery_a(&m, at->volts / m.volt, at->rad_s / m.speed));
}

/* Above 0, so round the logarithm. */
static hp_band band_round(double value, double sd)
{
    double width = HP_BAND_90 * sd / fmax(value, 1e-9);
    return (hp_band){value * exp(-width), value * exp(width)};
}

/* Logarithm of what drag alone draws at full throttle. */
static double shown_drag(const void *user, const double *p)
{
    const at_volts *at = user;
    machine m = machine_of(at->fit, p);
    m.idle_a = 0.0;
    double w = full_speed(&m, at->fit->duty, at->volts / m.volt);
    return log(fmax(1e-9, full_battery_a(&m, at->fit->duty, w)));
}

static double idle_a(const void *user, const double *p)
{
    (void)user;
    return p[HP_UNKNOWN_IDLE_A];
}

/* An idle draw that nobody read is added to the drag's share, and so is what is unsure of it: as a
 * factor on both it would let ten times the current pass. */
static double most_shown(const at_volts *at, double told, double each)
{
    const hp_least *least = &at->fit->least;
    double drag = exp(shown_drag(at, least->parameter));
    double above = drag * expm1(HP_BAND_90 * hp_least_sd(least, shown_drag, at));
    double idle = HP_BAND_90 * hp_least_sd(least, idle_a, NULL);
    return told + hypot(hypot(above, idle), HP_BAND_90 * each);
}

hp_no_load_told hp_machine_no_load(const hp_machine_fit *f, double volts)
{
    const at_volts at = {f, volts};
    const hp_meters *meter = &f->meter;
    hp_no_load_told told = {.battery_a = shown_current(&at, f->least.parameter),
                            .rad_s = shown_speed(&at, f->least.parameter)};
    double each =
        hypot(hypot(meter->ampere_each, MODEL_FULL) * told.battery_a, meter->ampere_digit);
    told.battery_90 =
        band_round(told.battery_a, hypot(hp_least_sd(&f->least, shown_current, &at), each));
    told.battery_90.high = fmin(told.battery_90.high, most_shown(&at, told.battery_a, each));
    told.rad_90 = band_round(told.rad_s, hypot(hp_least_sd(&f->least, shown_speed, &at),
                                               meter->speed_each * told.rad_s));
    return told;
}

hp_part_told hp_machine_part(const hp_machine_fit *f, double volts, double rad_s)
{
    const at_part at = {f, volts, rad_s};
    const hp_meters *meter = &f->meter;
    double told = shown_part(&at, f->least.parameter);
    double each = hypot(hypot(meter->ampere_each, MODEL_PART) * told, meter->ampere_digit);
    return (hp_part_told){told,
                          band_round(told, hypot(hp_least_sd(&f->least, shown_part, &at), each))};
}

/* Gentle runs of what is joined that ran well, since the last mend. One that drew far less than
 * such a machine can is a slip. */
static void find_tried(hp_machine_fit *f)
{
    const hp_assess_case *given = f->given;
    const hp_entry *last = hp_assess_last_trial(given);
    const double volts = given->drive->supply.emf_v;
    machine m = machine_of(f, f->least.parameter);
    for (int k = given->entries - 1; last && k >= 0 && f->tried_count < HP_TRIED_MOST; k--) {
        const hp_entry *entry = &given->entry[k];
        const hp_trial *t = hp_entry_trial(entry);
        if (hp_entry_renews(entry) != HP_RENEWS_NOTHING)
            return;
        if (!t || entry->typical || hp_entry_is_unusual(given, entry) || isnan(t->battery_a) ||
            !hp_trial_runs_well(t) || !hp_trial_is_free(t) ||
            hp_plan_asks_all(given->plan, t, t->throttle) ||
            hp_wiring_number(&t->wiring) != hp_wiring_number(&hp_entry_trial(last)->wiring))
            continue;
        if (HP_SLIP * t->battery_a >=
            shown_a(&m, part_battery_a(&m, volts, tried_speed(&m, t, volts))))
            f->tried[f->tried_count++] = t;
    }
}

void hp_machine_fit_foretell(const hp_assess_case *given, hp_machine_fit *f)
{
    const hp_fit_choice choice = {.without = &hp_reading_no_load, .trusts = true};
    const double volts = given->drive->supply.emf_v;
    hp_machine_fit_make(given, &choice, f);
    hp_machine_fit tried = *f;
    find_tried(&tried);
    if (tried.tried_count == 0)
        return;
    solve(&tried);
    if (hp_machine_no_load(&tried, volts).battery_90.high <
        hp_machine_no_load(f, volts).battery_90.high)
        *f = tried;
}

/* ---- own figures ------------------------------------------------------------------------------
 */

static double speed_per_volt(const void *user, const double *p)
{
    (void)user;
    return -p[HP_UNKNOWN_LN_K] - log(HP_RPM);
}

static double winding_ohm(const void *user, const double *p)
{
    (void)user;
    return p[HP_UNKNOWN_LN_OHM];
}

static double friction_nm(const void *user, const double *p)
{
    (void)user;
    return p[HP_UNKNOWN_LN_FRICTION];
}

static double viscous(const void *user, const double *p)
{
    (void)user;
    return p[HP_UNKNOWN_LN_VISCOUS];
}

/* At half of what the stated volts turn it at. */
static double drag_nm(const void *user, const double *p)
{
    const hp_machine_fit *f = user;
    machine m = machine_of(f, p);
    return log(m.friction + 0.5 * m.viscous * f->given->drive->supply.emf_v / m.k);
}

static double inertia(const void *user, const double *p)
{
    (void)user;
    return p[HP_UNKNOWN_LN_INERTIA];
}

static double supply_ohm(const void *user, const double *p)
{
    (void)user;
    return p[HP_UNKNOWN_LN_SUPPLY_OHM];
}

/* The motor alone, at the stated volts. */
static double no_load_a(const void *user, const double *p)
{
    const hp_machine_fit *f = user;
    machine m = machine_of(f, p);
    m.idle_a = 0.0;
    return log(full_battery_a(&m, f->cap, full_speed(&m, f->cap, f->given->drive->supply.emf_v)));
}

static double no_load_rpm(const void *user, const double *p)
{
    const hp_machine_fit *f = user;
    machine m = machine_of(f, p);
    return log(fmax(1e-6, full_speed(&m, f->cap, f->given->drive->supply.emf_v)) / HP_RPM);
}

static double coast_friction(const void *user, const double *p)
{
    (void)user;
    return p[HP_UNKNOWN_LN_COAST_FRICTION];
}

static int last_number(const hp_entry *a, const hp_entry *b)
{
    int x = a ? a->number : 0, y = b ? b->number : 0;
    return x > y ? x : y;
}

/* chosen: drag is a curve (air by the square), the law a straight line: what that shifts the steady
 * part of a wheel alone by, over the value. A wheel that drags little has most of the curve. */
#define MODEL_COAST 0.12

static void learn_model(const hp_machine_fit *f, hp_own *own, hp_own_kind kind,
                        double (*logarithm)(const void *, const double *), double model, int entry)
{
    double middle = logarithm(f, f->least.parameter);
    double width = HP_BAND_90 * hypot(hp_least_sd(&f->least, logarithm, f), model);
    if (entry > 0)
        own->figure[kind] = (hp_own_figure){.known = true,
                                            .value = exp(middle),
                                            .low = exp(middle - width),
                                            .high = exp(middle + width),
                                            .entry = entry};
}

static void learn(const hp_machine_fit *f, hp_own *own, hp_own_kind kind,
                  double (*logarithm)(const void *, const double *), int entry)
{
    learn_model(f, own, kind, logarithm, 0.0, entry);
}

static void learn_idle(const hp_machine_fit *f, hp_own *own)
{
    int entry = last_number(f->idle, f->drag);
    double middle = f->least.parameter[HP_UNKNOWN_IDLE_A];
    double width = HP_BAND_90 * hp_least_sd(&f->least, idle_a, f);
    if (entry > 0)
        own->figure[HP_OWN_IDLE_A] = (hp_own_figure){.known = true,
                                                     .value = fmax(0.0, middle),
                                                     .low = fmax(0.0, middle - width),
                                                     .high = fmax(0.0, middle + width),
                                                     .entry = entry};
}

/* A run without its current says nothing of drag, one without its speed nothing of volts. */
static const hp_entry *with_current(const hp_entry *no_load)
{
    const hp_no_load *n = no_load ? hp_entry_said(no_load) : NULL;
    return n && !isnan(n->full.battery_a) ? no_load : NULL;
}

void hp_machine_fit_learn(const hp_machine_fit *f, hp_own *own)
{
    const hp_entry *current = with_current(f->no_load), *driven = f->clutch ? NULL : f->coast;
    int drag = last_number(current, driven);
    learn_idle(f, own);
    learn(f, own, HP_OWN_SPEED_PER_V, speed_per_volt, last_number(f->no_load, NULL));
    learn(f, own, HP_OWN_WINDING_OHM, winding_ohm, last_number(f->winding, f->heating));
    learn(f, own, HP_OWN_DRAG_NM, drag_nm, drag);
    learn(f, own, HP_OWN_FRICTION_NM, friction_nm, drag);
    learn(f, own, HP_OWN_VISCOUS, viscous, drag);
    learn_model(f, own, HP_OWN_COAST_FRICTION_NM, coast_friction, MODEL_COAST,
                f->clutch ? last_number(f->coast, NULL) : 0);
    learn(f, own, HP_OWN_INERTIA, inertia, last_number(f->coast, NULL));
    learn(f, own, HP_OWN_SUPPLY_OHM, supply_ohm, last_number(f->sag, NULL));
    learn(f, own, HP_OWN_NO_LOAD_A, no_load_a, drag);
    learn(f, own, HP_OWN_NO_LOAD_RPM, no_load_rpm, last_number(f->no_load, NULL));
}
