/*
 * Hypotheses: see the header.
 *
 * Algebra. A relation is a pair (a, b): sensor lead s sits on axis a(s), phase lead l on axis b(l);
 * (r a, r b) is the same relation for an even r. A table is a pair (c, d): marked input j is the
 * textbook's input c(j), marked output j its output d(j), again up to a common even factor. With a
 * wiring (h, p), textbook input c(j) hears the sensor on axis a(h(j)), and output d(j) feeds the
 * lead on axis b(p(j)). Each class is represented by the member whose first order is either UVW or
 * UWV.
 */
#include "decide/advise/hypothesis.h"

#include "decide/reading/reading.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Indices in the sequence of model/wiring: 0 UVW, 1 UWV, 2 VUW, 3 VWU, 4 WUV, 5 WVU. */
enum { ORDER_UVW = 0, ORDER_UWV = 1 };

bool hp_order_is_even(const int order[HP_PHASE_COUNT])
{
    return (order[1] - order[0] + 3) % 3 == 1;
}

/* Adds `turn` to every member of an order: a common rotation of the axes. */
static void rotate(int order[HP_PHASE_COUNT], int turn)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        order[k] = (order[k] + turn) % 3;
}

/* ---- classes of pairs of orders -------------------------------------------------------------- */

static void pair_get(int index, int first[HP_PHASE_COUNT], int second[HP_PHASE_COUNT])
{
    assert(index >= 0 && index < HP_RELATION_COUNT);
    hp_order_get(index / HP_ORDER_COUNT ? ORDER_UWV : ORDER_UVW, first);
    hp_order_get(index % HP_ORDER_COUNT, second);
}

static int pair_index(const int first[HP_PHASE_COUNT], const int second[HP_PHASE_COUNT])
{
    assert(hp_order_index(first) >= 0 && hp_order_index(second) >= 0);
    int turned[HP_PHASE_COUNT];
    memcpy(turned, second, sizeof turned);
    /* The representative's first order begins with U. */
    rotate(turned, 3 - first[0]);
    return (hp_order_is_even(first) ? 0 : HP_ORDER_COUNT) + hp_order_index(turned);
}

void hp_relation_axes(int relation, int sensor_axis[HP_PHASE_COUNT], int lead_axis[HP_PHASE_COUNT])
{
    pair_get(relation, sensor_axis, lead_axis);
}

int hp_relation_index(const int sensor_axis[HP_PHASE_COUNT], const int lead_axis[HP_PHASE_COUNT])
{
    return pair_index(sensor_axis, lead_axis);
}

/* ---- tables ---------------------------------------------------------------------------------- */

void hp_table_places(int table, int input_place[HP_PHASE_COUNT], int output_place[HP_PHASE_COUNT])
{
    pair_get(table % HP_TABLES_120, input_place, output_place);
}

int hp_table_inverts(int table)
{
    return table / HP_TABLES_120 - 1;
}

hp_commutation_table hp_table_get(int table)
{
    int input[HP_PHASE_COUNT], output[HP_PHASE_COUNT], marked[HP_PHASE_COUNT];
    hp_table_places(table, input, output);
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        marked[output[j]] = j;
    hp_commutation_table textbook = hp_commutation_table_120();
    hp_commutation_table result = hp_commutation_table_empty();
    int inverts = hp_table_inverts(table);
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        int bit[HP_PHASE_COUNT];
        for (int j = 0; j < HP_PHASE_COUNT; j++)
            bit[input[j]] = (code >> (2 - j) & 1) ^ (j == inverts);
        const hp_commutation_row *row = &textbook.row[hp_code(bit[0], bit[1], bit[2])];
        if (row->high >= 0)
            result.row[code] =
                (hp_commutation_row){.high = marked[row->high], .low = marked[row->low]};
    }
    return result;
}

static bool same_rows(const hp_commutation_table *a, const hp_commutation_table *b)
{
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        bool driven_a = a->row[code].high >= 0 && a->row[code].low >= 0;
        bool driven_b = b->row[code].high >= 0 && b->row[code].low >= 0;
        if (driven_a != driven_b)
            return false;
        if (driven_a &&
            (a->row[code].high != b->row[code].high || a->row[code].low != b->row[code].low))
            return false;
    }
    return true;
}

int hp_table_index(const hp_commutation_table *table)
{
    for (int k = 0; k < HP_TABLE_COUNT; k++) {
        hp_commutation_table candidate = hp_table_get(k);
        if (same_rows(&candidate, table))
            return k;
    }
    return -1;
}

/* ---- wirings --------------------------------------------------------------------------------- */

hp_wiring hp_wiring_effective(int relation, int table, const hp_wiring *wiring)
{
    int a[HP_PHASE_COUNT], b[HP_PHASE_COUNT], c[HP_PHASE_COUNT], d[HP_PHASE_COUNT];
    hp_relation_axes(relation, a, b);
    hp_table_places(table, c, d);
    hp_wiring effective;
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        effective.sensor[c[j]] = a[wiring->sensor[j]];
        effective.phase[d[j]] = b[wiring->phase[j]];
    }
    return effective;
}

bool hp_wiring_is_right(int relation, int table, const hp_wiring *wiring)
{
    hp_wiring e = hp_wiring_effective(relation, table, wiring);
    return hp_order_is_even(e.sensor) && memcmp(e.sensor, e.phase, sizeof e.sensor) == 0;
}

void hp_right_wirings(int relation, int table, int number[3])
{
    int a[HP_PHASE_COUNT], b[HP_PHASE_COUNT], c[HP_PHASE_COUNT], d[HP_PHASE_COUNT];
    int sensor_on[HP_PHASE_COUNT], lead_on[HP_PHASE_COUNT]; /* [axis] */
    hp_relation_axes(relation, a, b);
    hp_table_places(table, c, d);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        sensor_on[a[k]] = k;
        lead_on[b[k]] = k;
    }
    /* The effective order is one of the three even ones, on both sides. */
    for (int turn = 0; turn < 3; turn++) {
        hp_wiring wiring;
        for (int j = 0; j < HP_PHASE_COUNT; j++) {
            wiring.sensor[j] = sensor_on[(c[j] + turn) % HP_PHASE_COUNT];
            wiring.phase[j] = lead_on[(d[j] + turn) % HP_PHASE_COUNT];
        }
        int found = hp_wiring_number(&wiring), at = turn;
        for (; at > 0 && number[at - 1] > found; at--)
            number[at] = number[at - 1];
        number[at] = found;
    }
}

int hp_hypothesis_misfit(const hp_hypothesis *h)
{
    int inverts = hp_table_inverts(h->table);
    return (h->inverted < 0) == (inverts < 0) ? -1
           : h->inverted >= 0                 ? h->inverted
                                              : HP_MISFIT_INPUT + inverts;
}

int hp_hypothesis_rights(const hp_hypothesis *h, int number[3])
{
    int inverts = hp_table_inverts(h->table);
    hp_right_wirings(h->relation, h->table, number);
    if (h->inverted < 0 || inverts < 0)
        return 3;
    /* The three differ in the lead at each input: one has the inverted one at the inverting. */
    for (int k = 0; k < 3; k++)
        if (hp_wiring_from_number(number[k]).sensor[inverts] == h->inverted)
            number[0] = number[k];
    number[1] = number[2] = 0;
    return 1;
}

/* ---- faults and prior ------------------------------------------------------------------------ */

int hp_fault_index(hp_fault fault)
{
    switch (fault.kind) {
    case HP_FAULT_SENSOR_HIGH: return 1 + fault.which;
    case HP_FAULT_SENSOR_LOW: return 4 + fault.which;
    case HP_FAULT_LEAD_OPEN: return 7 + fault.which;
    case HP_FAULT_CLUTCH: return 10;
    case HP_FAULT_SILENT: return 11;
    case HP_FAULT_CUTTING_OUT: return 12;
    case HP_FAULT_LOOSE: return 13;
    case HP_FAULT_UNLISTED: return 14;
    case HP_FAULT_NONE:
    case HP_FAULT_KIND_COUNT: break;
    }
    return 0;
}

hp_fault hp_fault_from_index(int index)
{
    assert(index >= 0 && index < HP_FAULT_COUNT);
    if (index == 0)
        return (hp_fault){HP_FAULT_NONE, 0};
    if (index >= 10)
        return (hp_fault){(hp_fault_kind)(HP_FAULT_CLUTCH + index - 10), 0};
    const hp_fault_kind kind[] = {HP_FAULT_SENSOR_HIGH, HP_FAULT_SENSOR_LOW, HP_FAULT_LEAD_OPEN};
    return (hp_fault){kind[(index - 1) / 3], (index - 1) % 3};
}

hp_prior_params hp_prior_default(void)
{
    return (hp_prior_params){
        .table_stated = 0.98, /* chosen: a sheet or a sticker is rarely wrong */
        .table = 0,           /* the textbook's */
        .inverted = 0.06,     /* chosen: 60-degree motors are old and uncommon */
        .matched = 0.03,      /* chosen: a sheet that says 120 degrees is rarely wrong */
        .odd_table = 0.01,    /* chosen: controllers for 60 degrees alone are rarer than hubs */
        .sensor_fault = 0.08, /* chosen: the part that dies first in a salvaged hub */
        .lead_open = 0.03,    /* chosen: torn at the axle */
        .clutch = 0.03,       /* chosen: worn, when there is one */
        .has_clutch = false,  /* direct drive */
        .silent = 0.05, /* chosen: key, brake, throttle not at rest: the commonest first event */
        .cutting_out = 0.015, /* chosen: an old battery, an eager protection */
        .loose = 0.015,       /* chosen: clips and bullet connectors */
        .unlisted = 0.01,     /* chosen: what nobody has thought of */
        .nuisance =
            {
                .duty_sd = 0.25,      /* chosen: a grip has no scale */
                .hand_sd = 0.05,      /* chosen: the same grip, held again */
                .one_sided = 0.3,     /* chosen: seen in cheap controllers as often as not */
                .sine = 0.15,         /* chosen: the quiet ones; a label rarely says so */
                .idle_most_a = 1.0,   /* chosen: a lamp, a display, a regulator */
                .friction_most = 4.0, /* chosen: a dragging brake, a stiff seal */
                .throttle_rest_v = NAN,
                .throttle_full_v = NAN,
            },
        .floor = 1e-5, /* chosen: two troubles of the motor at once, or one beside another table */
    };
}

hp_prior_params hp_prior_plain(void)
{
    hp_prior_params prior = hp_prior_default();
    prior.matched = prior.odd_table = 0.0;
    prior.silent = prior.cutting_out = prior.loose = prior.unlisted = 0.0;
    prior.nuisance =
        (hp_nuisance_params){.friction_most = 1.0, .throttle_rest_v = NAN, .throttle_full_v = NAN};
    return prior;
}

/* What is reckoned alone goes with sound parts: two troubles at once are left out. */
static double reckoned_prior(const hp_prior_params *prior, const hp_hypothesis *h)
{
    if (hp_hypothesis_misfit(h) >= 0)
        return 0.0;
    switch (h->fault.kind) {
    case HP_FAULT_SILENT: return prior->silent;
    case HP_FAULT_CUTTING_OUT: return prior->cutting_out;
    case HP_FAULT_LOOSE: return prior->loose;
    default: return prior->unlisted;
    }
}

hp_prior_params hp_prior_heeding(const hp_prior_params *prior, const hp_entry *entry, int entries)
{
    hp_prior_params heeding = *prior;
    for (int k = 0; k < entries; k++)
        if (hp_entry_renews(&entry[k]) >= HP_RENEWS_EXCHANGED) {
            heeding.table = -1;
            heeding.matched = HP_MATCHED_UNSTATED;
        }
    return heeding;
}

#define TABLES_60 (HP_TABLE_COUNT - HP_TABLES_120)

/* Nothing is said of the table. */
static double any_table(double sixty, bool is_sixty)
{
    return is_sixty ? sixty / TABLES_60 : (1.0 - sixty) / HP_TABLES_120;
}

/* A table for 60 degrees is said to be there: where that is wrong, it is another of the hub's kind.
 */
static double beside_stated_60(const hp_prior_params *prior, int table, bool hub_is_sixty)
{
    bool is_sixty = hp_table_inverts(table) >= 0;
    double others = 1.0 - prior->table_stated;
    if (table == prior->table)
        return prior->table_stated;
    if (is_sixty != hub_is_sixty)
        return 0.0;
    return others / (is_sixty ? TABLES_60 - 1 : HP_TABLES_120);
}

/* One for 120 degrees is, though the controller is made for 60 this often: then the outputs are as
 * said, and one of the inputs is the other way round. */
static double beside_stated_120(const hp_prior_params *prior, int table, double sixty)
{
    double others = 1.0 - prior->table_stated;
    bool like_stated = table % HP_TABLES_120 == prior->table;
    if (hp_table_inverts(table) < 0)
        return (1.0 - sixty) * (like_stated ? prior->table_stated : others / (HP_TABLES_120 - 1));
    return sixty * (like_stated ? prior->table_stated / 3.0 : others / (TABLES_60 - 3));
}

/* Probability that the controller is made for 60 degrees, given the hub's sensors: an old set comes
 * as one. */
static double sixty_share(const hp_prior_params *prior, bool hub_is_sixty)
{
    if (prior->table >= HP_TABLES_120)
        return hub_is_sixty ? 1.0 : prior->table_stated;
    return hub_is_sixty        ? prior->matched
           : prior->table >= 0 ? prior->odd_table * (1.0 - prior->table_stated)
                               : prior->odd_table;
}

/* Probability of the controller's table, given the hub's sensors. */
static double table_prior(const hp_prior_params *prior, const hp_hypothesis *h)
{
    bool hub_is_sixty = h->inverted >= 0;
    double sixty = sixty_share(prior, hub_is_sixty);
    if (prior->table >= HP_TABLES_120)
        return beside_stated_60(prior, h->table, hub_is_sixty);
    return prior->table >= 0 ? beside_stated_120(prior, h->table, sixty)
                             : any_table(sixty, hp_table_inverts(h->table) >= 0);
}

/* Probability that hub and controller fit: what is reckoned is shared out among those. */
static double fit_prior(const hp_prior_params *prior)
{
    return (1.0 - prior->inverted) * (1.0 - sixty_share(prior, false)) +
           prior->inverted * sixty_share(prior, true);
}

double hp_prior_of(const hp_prior_params *prior, const hp_hypothesis *h)
{
    double table = table_prior(prior, h);
    double inverted = h->inverted < 0 ? 1.0 - prior->inverted : prior->inverted / 3.0;
    if (!hp_fault_is_simulated(h->fault))
        inverted /= fit_prior(prior);
    double clutch = prior->has_clutch ? prior->clutch : 0.0;
    double fault = 0.0;
    switch (h->fault.kind) {
    case HP_FAULT_NONE:
        fault = 1.0 - prior->sensor_fault - prior->lead_open - clutch - prior->silent -
                prior->cutting_out - prior->loose - prior->unlisted;
        break;
    case HP_FAULT_SENSOR_HIGH:
    case HP_FAULT_SENSOR_LOW: fault = prior->sensor_fault / 6.0; break;
    case HP_FAULT_LEAD_OPEN: fault = prior->lead_open / 3.0; break;
    case HP_FAULT_CLUTCH: fault = clutch; break;
    case HP_FAULT_SILENT:
    case HP_FAULT_CUTTING_OUT:
    case HP_FAULT_LOOSE:
    case HP_FAULT_UNLISTED: fault = reckoned_prior(prior, h); break;
    case HP_FAULT_KIND_COUNT: break;
    }
    double p = table * inverted * fault / HP_RELATION_COUNT;
    return p >= prior->floor ? p : 0.0;
}

/* ---- what sensors show ----------------------------------------------------------------------- */

int hp_marked_code(const hp_hypothesis *h, double theta)
{
    int axis[HP_PHASE_COUNT], lead_axis[HP_PHASE_COUNT], bit[HP_PHASE_COUNT];
    hp_relation_axes(h->relation, axis, lead_axis);
    for (int s = 0; s < HP_PHASE_COUNT; s++) {
        bit[s] = fabs(hp_angle_wrap_signed(theta - hp_phase_axis(axis[s]))) < 0.5 * HP_PI;
        if (h->inverted == s)
            bit[s] = !bit[s];
        if (h->fault.which == s && h->fault.kind == HP_FAULT_SENSOR_HIGH)
            bit[s] = 1;
        if (h->fault.which == s && h->fault.kind == HP_FAULT_SENSOR_LOW)
            bit[s] = 0;
    }
    return hp_code(bit[0], bit[1], bit[2]);
}

int hp_marked_ring(const hp_hypothesis *h, int code[HP_SECTOR_COUNT])
{
    int count = 0;
    if (h->fault.kind == HP_FAULT_CLUTCH) {
        code[0] = hp_marked_code(h, 0.0);
        return 1;
    }
    for (int k = 0; k < HP_SECTOR_COUNT; k++) {
        int next = hp_marked_code(h, k * 60.0 * HP_DEG);
        if (count == 0 || next != code[count - 1])
            code[count++] = next;
    }
    if (count > 1 && code[0] == code[count - 1])
        count--;
    return count;
}
