/* Two commissionings held against each other: see the header. */
#include "decide/commission/compare.h"

#include "decide/commission/fit_parts.h"
#include "decide/commission/own.h"
#include "decide/reading/reading_parts.h"
#include "hubphase/decide/assumptions.h"

#include <math.h>
#include <string.h>

/* chosen: the same wheel. What its inertia is off by is then off both times alike, and drag over
 * drag does not feel it. */
#define SAME_INERTIA 0.005

/* Whether both were reckoned with the same inertia, stated or weighed. */
static bool same_inertia(const hp_assess_case *then, const hp_assess_case *now)
{
    const hp_entry *a = hp_fit_coast(then, NULL);
    const hp_entry *b = hp_fit_coast(now, NULL);
    if (!a || !b)
        return false;
    double x = hp_coast_down_inertia(hp_entry_said(a)), y = hp_coast_down_inertia(hp_entry_said(b));
    return (isnan(x) && isnan(y)) || fabs(x / y - 1.0) < SAME_INERTIA;
}

/* What no run is needed for: a run that draws too much must not move it. */
static const hp_own_kind by_itself[] = {HP_OWN_IDLE_A, HP_OWN_DRAG_NM, HP_OWN_COAST_FRICTION_NM,
                                        HP_OWN_WINDING_OHM, HP_OWN_SUPPLY_OHM};

/* Of each the figures of a whole fit, but current and drag of their own readings. */
static void learn_apart(const hp_assess_case *given, bool same, bool same_meters, hp_own *own)
{
    const hp_fit_choice current = {.without = &hp_reading_coast_down, .same_meters = same_meters};
    const hp_fit_choice drag = {.without = &hp_reading_no_load,
                                .same_meters = same_meters,
                                .inertia_sd = same ? SAME_INERTIA : 0.0};
    hp_machine_fit fit;
    hp_own alone;
    hp_own_learn(given, same_meters, own);
    memset(&alone, 0, sizeof alone);
    hp_machine_fit_make(given, &current, &fit);
    hp_machine_fit_learn(&fit, &alone);
    own->figure[HP_OWN_NO_LOAD_A] = alone.figure[HP_OWN_NO_LOAD_A];
    own->figure[HP_OWN_SPEED_PER_V] = alone.figure[HP_OWN_SPEED_PER_V];
    memset(&alone, 0, sizeof alone);
    hp_machine_fit_make(given, &drag, &fit);
    hp_machine_fit_learn(&fit, &alone);
    for (size_t k = 0; k < sizeof by_itself / sizeof by_itself[0]; k++)
        own->figure[by_itself[k]] = alone.figure[by_itself[k]];
}

/* What is compared: no figure that follows from others, none that the battery's charge moves. */
static const hp_own_kind compared[] = {
    HP_OWN_IDLE_A,         HP_OWN_NO_LOAD_A,   HP_OWN_DRAG_NM, HP_OWN_COAST_FRICTION_NM,
    HP_OWN_SPEED_PER_V,    HP_OWN_WINDING_OHM, HP_OWN_INERTIA, HP_OWN_SUPPLY_OHM,
    HP_OWN_COPPER_J_PER_K, HP_OWN_WINDING_S};
#define COMPARED (int)(sizeof compared / sizeof compared[0])

/* 99 of 100 against 90 of 100, of a normal law. */
#define SURELY (2.5758 / 1.6449)

/* Half the band of a difference of two, each with its own. */
static double either(double a, double b)
{
    return hypot(a, b);
}

static void judge(hp_compare_row *row, double difference, double half)
{
    double far = fabs(difference) / fmax(half, 1e-12);
    row->change = far > SURELY ? HP_CHANGE_SURELY : far > 1.0 ? HP_CHANGE_MAYBE : HP_CHANGE_NONE;
    row->sense = row->change == HP_CHANGE_NONE ? 0 : difference > 0.0 ? 1 : -1;
}

/* By the logarithms; of an idle draw, which may be nothing, by the amperes. */
static hp_compare_row row_of(hp_own_kind kind, const hp_own_figure *then, const hp_own_figure *now)
{
    hp_compare_row row = {
        .kind = kind, .then = then, .now = now, .ratio = now->value / then->value};
    if (kind == HP_OWN_IDLE_A) {
        double half = either(0.5 * (then->high - then->low), 0.5 * (now->high - now->low));
        judge(&row, now->value - then->value, half);
        row.ratio = row.low = row.high = NAN;
        return row;
    }
    double half = either(0.5 * log(then->high / then->low), 0.5 * log(now->high / now->low));
    row.low = row.ratio * exp(-half);
    row.high = row.ratio * exp(half);
    judge(&row, log(row.ratio), half);
    return row;
}

/* +1, -1, or 0: no sure change, or not known of both. */
static int sense_of(const hp_compare *c, hp_own_kind kind)
{
    for (int k = 0; k < c->rows; k++)
        if (c->row[k].kind == kind && c->row[k].change == HP_CHANGE_SURELY)
            return c->row[k].sense;
    return 0;
}

static hp_compare_row *find(hp_compare *c, hp_own_kind kind)
{
    for (int k = 0; k < c->rows; k++)
        if (c->row[k].kind == kind)
            return &c->row[k];
    return NULL;
}

/* Drag and current are read apart, by other meters: where each may have changed, and both the same
 * way, chance alone would do that once in four hundred cases. */
static void join_two(hp_compare *c)
{
    hp_compare_row *drag = find(c, HP_OWN_DRAG_NM), *current = find(c, HP_OWN_NO_LOAD_A);
    if (drag && current && drag->sense != 0 && drag->sense == current->sense)
        drag->change = current->change = HP_CHANGE_SURELY;
}

/* chosen: magnets that lose more than a fifth of their field are gone for good at once, and no
 * seal or bearing that runs in gives back more than two thirds of all drag. */
#define FASTER_BY_MAGNETS 1.25
#define DRAG_LEFT         (1.0 / 3.0)

/* Now over then; 1: not known of both. */
static double ratio_of(hp_compare *c, hp_own_kind kind)
{
    const hp_compare_row *row = find(c, kind);
    return row ? row->ratio : 1.0;
}

/* ---- the winding, pair by pair --------------------------------------------------------------- */

/* [ohm] at 20 C; false: not all three were read. */
static bool pairs_of(const hp_assess_case *given, double ohm[HP_PHASE_COUNT], double *most)
{
    const hp_entry *entry = hp_fit_entry(given, &hp_reading_winding, NULL);
    const hp_winding *w = entry ? hp_entry_said(entry) : NULL;
    double per_k = given->drive->motor.copper_per_k;
    for (int k = 0; w && k < HP_PHASE_COUNT; k++) {
        ohm[k] = (w->ohm[k] - w->leads_ohm) / (1.0 + per_k * (w->copper_c - 20.0));
        if (isfinite(ohm[k]))
            *most = fmax(*most, ohm[k]);
    }
    return w && !isnan(ohm[0]) && !isnan(ohm[1]) && !isnan(ohm[2]);
}

/* What the tips add is alike in all three pairs each time, and the meter's scale nearly so: what
 * one pair changed by more than another is the winding's. Two pairs that changed alike, and the
 * third not so, share a lead. */
static void find_pairs(const hp_assess_case *then, const hp_assess_case *now, hp_compare_pairs *p)
{
    double most_then = 0.0, most_now = 0.0, change[HP_PHASE_COUNT];
    if (!pairs_of(then, p->then, &most_then) || !pairs_of(now, p->now, &most_now))
        return;
    double within = hypot(hp_winding_alike_within(then->person, most_then),
                          hp_winding_alike_within(now->person, most_now));
    /* chosen: of an open pair as much as no winding has, so that two of them changed alike. */
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        change[k] = fmin(p->now[k], HP_LEADS_MOST_OHM) - fmin(p->then[k], HP_LEADS_MOST_OHM);
    p->lead = -1;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        double one = change[(k + 1) % 3], other = change[(k + 2) % 3];
        bool alike = fabs(one - other) <= within;
        p->unlike = p->unlike || fabs(one - other) > within;
        /* The third must have stayed: two that stayed share nothing. */
        if (alike && fabs(change[k]) < fmin(fabs(one), fabs(other))) {
            p->lead = k;
            p->sense = one > change[k] ? 1 : -1;
        }
    }
}

static void find_causes(hp_compare *c, bool clutch)
{
    int drag = sense_of(c, HP_OWN_DRAG_NM), current = sense_of(c, HP_OWN_NO_LOAD_A);
    int wheel = sense_of(c, HP_OWN_COAST_FRICTION_NM), ohm = sense_of(c, HP_OWN_WINDING_OHM);
    int speed = sense_of(c, HP_OWN_SPEED_PER_V);
    bool coasted = find(c, HP_OWN_DRAG_NM) != NULL;
    bool rolled = coasted || find(c, HP_OWN_COAST_FRICTION_NM);
    c->cause[HP_CAUSE_WHEEL_DRAGS] = wheel > 0;
    c->cause[HP_CAUSE_DRAG_MORE] = wheel <= 0 && (drag > 0 || (current > 0 && !coasted));
    bool less = drag < 0 || wheel < 0 || (current < 0 && !coasted);
    c->cause[HP_CAUSE_DRAG_GONE] = less && fmin(ratio_of(c, HP_OWN_DRAG_NM),
                                                ratio_of(c, HP_OWN_COAST_FRICTION_NM)) < DRAG_LEFT;
    c->cause[HP_CAUSE_DRAG_LESS] = less && !c->cause[HP_CAUSE_DRAG_GONE];
    c->cause[HP_CAUSE_POWER_LOST] = current > 0 && rolled && drag <= 0 && wheel <= 0;
    c->cause[HP_CAUSE_TURNS] = ohm < 0;
    c->cause[HP_CAUSE_JOINT] = ohm > 0;
    c->cause[HP_CAUSE_GEARS] = clutch && c->cause[HP_CAUSE_POWER_LOST];
    c->cause[HP_CAUSE_OTHER_MOTOR] =
        speed > 0 && ratio_of(c, HP_OWN_SPEED_PER_V) > FASTER_BY_MAGNETS;
    c->cause[HP_CAUSE_MAGNETS] = speed > 0 && !c->cause[HP_CAUSE_OTHER_MOTOR];
    c->cause[HP_CAUSE_SLOWER] = speed < 0;
    c->cause[HP_CAUSE_IDLE_MORE] = sense_of(c, HP_OWN_IDLE_A) > 0;
    c->cause[HP_CAUSE_BATTERY_MORE] = sense_of(c, HP_OWN_SUPPLY_OHM) > 0;
    c->cause[HP_CAUSE_WHEEL] = sense_of(c, HP_OWN_INERTIA) != 0;
    c->cause[HP_CAUSE_LEAD] = c->pairs.unlike && c->pairs.lead >= 0 && c->pairs.sense > 0;
    c->cause[HP_CAUSE_LEAD_TURNS] = c->pairs.unlike && c->pairs.lead >= 0 && c->pairs.sense < 0;
    c->cause[HP_CAUSE_PAIR] = c->pairs.unlike && c->pairs.lead < 0;
    c->cause[HP_CAUSE_WINDING_LOOSE] = sense_of(c, HP_OWN_WINDING_S) > 0;
}

void hp_compare_make(const hp_assess_case *then, const hp_assess_case *now, bool same_meters,
                     hp_compare *c)
{
    memset(c, 0, sizeof *c);
    bool same = same_inertia(then, now);
    c->same_meters = same_meters;
    find_pairs(then, now, &c->pairs);
    learn_apart(then, same, same_meters, &c->then);
    learn_apart(now, same, same_meters, &c->now);
    for (int k = 0; k < COMPARED; k++) {
        const hp_own_figure *a = &c->then.figure[compared[k]], *b = &c->now.figure[compared[k]];
        if (!a->known || !b->known || (compared[k] == HP_OWN_INERTIA && same) ||
            (compared[k] == HP_OWN_WINDING_OHM && c->pairs.unlike))
            continue;
        c->row[c->rows] = row_of(compared[k], a, b);
        c->rows++;
    }
    join_two(c);
    for (int k = 0; k < c->rows; k++) {
        c->changed += c->row[k].change == HP_CHANGE_SURELY;
        c->maybe += c->row[k].change == HP_CHANGE_MAYBE;
    }
    c->changed += c->pairs.unlike;
    find_causes(c, now->drive->stand.clutch);
}

void hp_compare_add_findings(const hp_commission *then, const hp_commission *now, hp_compare *c)
{
    for (int k = 0; k < now->steps; k++) {
        const hp_commission_step *step = &now->step[k];
        const hp_commission_step *before = hp_commission_step_of(then, step->reading);
        hp_finding found = before ? before->finding : HP_FINDING_NONE;
        if (found != step->finding &&
            (hp_finding_wants_mending(found) || hp_finding_wants_mending(step->finding)))
            c->finding[c->findings++] = (hp_compare_finding){step->reading, found, step->finding};
    }
}
