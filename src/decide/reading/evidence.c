/* Evidence: see the header. */
#include "hubphase/decide/evidence.h"

#include <math.h>
#include <string.h>

hp_entry hp_entry_make(hp_entry_kind kind, int number)
{
    hp_entry entry;
    memset(&entry, 0, sizeof entry);
    entry.kind = kind;
    entry.number = number;
    switch (kind) {
    case HP_ENTRY_WINDING:
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            entry.winding.ohm[k] = NAN;
        entry.winding.copper_c = 20.0;
        break;
    case HP_ENTRY_SPIN:
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            entry.spin.volts[k] = NAN;
        break;
    case HP_ENTRY_PARK: entry.park.code = -1; break;
    case HP_ENTRY_PROBE:
        for (int k = 0; k < HP_CODE_COUNT; k++)
            entry.probe.row[k] = (hp_commutation_row){-1, -1};
        break;
    case HP_ENTRY_TRIAL:
        entry.trial.wiring = hp_wiring_from_number(1);
        entry.trial.battery_a = entry.trial.wheel_rad_s = NAN;
        break;
    default: break;
    }
    return entry;
}

const char *hp_entry_name(hp_entry_kind kind)
{
    static const char *const name[HP_ENTRY_KIND_COUNT] = {
        "pins", "sensor supply",    "hand turn", "winding", "spin",
        "park", "controller probe", "trial",     "learn",   "mend"};
    return (int)kind >= 0 && kind < HP_ENTRY_KIND_COUNT ? name[kind] : "unknown entry";
}

/* ---- checks ---------------------------------------------------------------------------------- */

static hp_result range(hp_error *err, const char *field, double value, double low, double high)
{
    if (value >= low && value <= high)
        return HP_OK;
    return hp_error_set(err, HP_FAIL_INPUT, "%s is %g, must be %g to %g", field, value, low, high);
}

static hp_result whole(hp_error *err, const char *field, int value, int low, int high)
{
    if (value >= low && value <= high)
        return HP_OK;
    return hp_error_set(err, HP_FAIL_INPUT, "%s is %d, must be %d to %d", field, value, low, high);
}

static hp_result check_hand_turn(const hp_hand_turn *t, hp_error *err)
{
    hp_result result = whole(err, "number of codes", t->count, 1, HP_TURN_CODES);
    for (int k = 0; result == HP_OK && k < t->count; k++)
        result = whole(err, "code", t->code[k], 0, 7);
    return result == HP_OK ? whole(err, "edges", t->edges, 0, 100000) : result;
}

static hp_result check_winding(const hp_winding *w, hp_error *err)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (!isnan(w->ohm[k]) && !(w->ohm[k] >= 0.0))
            return hp_error_set(err, HP_FAIL_INPUT, "resistance is %g ohm, must be at least 0",
                                w->ohm[k]);
    hp_result result = range(err, "resistance of the test leads in ohm", w->leads_ohm, 0.0, 100.0);
    for (int k = 0; result == HP_OK && k < HP_PHASE_COUNT; k++)
        if (w->ohm[k] < w->leads_ohm)
            return hp_error_set(
                err, HP_FAIL_INPUT,
                "resistance is %g ohm with the test leads, must be at least their own "
                "%g ohm",
                w->ohm[k], w->leads_ohm);
    return result == HP_OK ? range(err, "winding temperature in C", w->copper_c, -40.0, 200.0)
                           : result;
}

static hp_result check_spin(const hp_spin *s, hp_error *err)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (!isnan(s->volts[k]) && !(s->volts[k] >= 0.0 && s->volts[k] <= 1000.0))
            return hp_error_set(err, HP_FAIL_INPUT, "%g V between leads, must be 0 to 1000",
                                s->volts[k]);
    hp_result result = whole(err, "kind of meter", (int)s->kind, 0, HP_VOLT_KIND_COUNT - 1);
    if (result == HP_OK && !(s->wheel_rad_s > 0.0 && s->wheel_rad_s <= 1000.0))
        result = hp_error_set(err, HP_FAIL_INPUT,
                              "wheel speed is %g rad/s, must be above 0 and at most 1000",
                              s->wheel_rad_s);
    return result;
}

static hp_result check_probe(const hp_probe *p, hp_error *err)
{
    for (int k = 0; k < HP_CODE_COUNT; k++) {
        const hp_commutation_row *row = &p->row[k];
        bool off = row->high == -1 && row->low == -1;
        bool pair = row->high >= 0 && row->high < HP_PHASE_COUNT && row->low >= 0 &&
                    row->low < HP_PHASE_COUNT && row->high != row->low;
        if (p->read[k] && !off && !pair)
            return hp_error_set(err, HP_FAIL_INPUT,
                                "code %d drives outputs %d and %d, must be two of 0 to 2 that "
                                "differ, or none",
                                k, row->high, row->low);
    }
    return HP_OK;
}

static hp_result check_trial(const hp_trial *t, hp_error *err)
{
    if (hp_wiring_number(&t->wiring) == 0)
        return hp_error_set(err, HP_FAIL_INPUT, "a wiring must join each lead once");
    hp_result result = range(err, "throttle", t->throttle, 0.0, 1.0);
    if (result == HP_OK)
        result = whole(err, "motion", (int)t->motion, 0, HP_MOVED_COUNT - 1);
    if (result == HP_OK)
        result = whole(err, "feel", (int)t->feel, 0, HP_FEEL_COUNT - 1);
    if (result == HP_OK)
        result = whole(err, "starts tried", t->starts_tried, 0, HP_STARTS_MAX);
    if (result == HP_OK && t->starts_tried > 0)
        result = whole(err, "starts", t->starts, 0, t->starts_tried);
    if (result == HP_OK && !isnan(t->battery_a))
        result = range(err, "battery current in A", t->battery_a, 0.0, 1000.0);
    if (result == HP_OK && !isnan(t->wheel_rad_s))
        result = range(err, "wheel speed in rad/s", t->wheel_rad_s, 0.0, 1000.0);
    if (result != HP_OK || t->motion == HP_MOVED_UNSAID)
        return result;
    bool turned = t->motion != HP_MOVED_STILL && t->motion != HP_MOVED_SHIVER;
    if (!turned && t->wheel_rad_s > 0.0)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "it did not turn, yet the wheel has a speed, must be 0 or left out");
    if (turned && t->motion != HP_MOVED_HUM && t->wheel_rad_s <= 0.0)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "it turned, yet the wheel's speed is 0, must be above 0 or left out");
    if (t->starts_tried == 0)
        return HP_OK;
    if (turned && t->starts == 0)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "it turned, yet started from none of %d rest angles", t->starts_tried);
    if (!turned && t->starts > 0)
        return hp_error_set(err, HP_FAIL_INPUT, "it did not turn, yet started from %d rest angles",
                            t->starts);
    return HP_OK;
}

hp_result hp_entry_check(const hp_entry *entry, hp_error *err)
{
    hp_result result = HP_OK;
    switch (entry->kind) {
    case HP_ENTRY_SUPPLY:
        result = range(err, "sensor supply in V", entry->supply.volts, -200.0, 200.0);
        break;
    case HP_ENTRY_HAND_TURN: result = check_hand_turn(&entry->hand_turn, err); break;
    case HP_ENTRY_WINDING: result = check_winding(&entry->winding, err); break;
    case HP_ENTRY_SPIN: result = check_spin(&entry->spin, err); break;
    case HP_ENTRY_PARK:
        result = whole(err, "lead", entry->park.lead, 0, HP_PHASE_COUNT - 1);
        if (result == HP_OK)
            result = whole(err, "code", entry->park.code, -1, 7);
        break;
    case HP_ENTRY_PROBE: result = check_probe(&entry->probe, err); break;
    case HP_ENTRY_TRIAL: result = check_trial(&entry->trial, err); break;
    case HP_ENTRY_PINS:
    case HP_ENTRY_LEARN:
    case HP_ENTRY_MEND: break;
    case HP_ENTRY_KIND_COUNT:
        result = hp_error_set(err, HP_FAIL_INPUT, "kind of entry is unknown");
        break;
    }
    return result == HP_OK ? HP_OK
                           : hp_error_context(err, result, "entry %d (%s)", entry->number,
                                              hp_entry_name(entry->kind));
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
