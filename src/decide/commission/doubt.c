/* Figures that no such part gives: see the header. */
#include "decide/commission/doubt.h"

#include "decide/reading/control_values.h"
#include "decide/reading/reading.h"

#include <math.h>

/* chosen: two readings of one thing that lie nearer than this are the same one. */
#define SAME_WITHIN 0.25

#define VALUES_MAX (HP_PINS_MOST * HP_PINS_STATES)

/* The numbers that an entry holds at a field, in the unit in which they are written; returns how
 * many. */
static int values_of(const hp_field *field, const hp_entry *entry, double value[VALUES_MAX])
{
    const void *at = entry->values + field->offset;
    const hp_plug_volts *plug = at;
    int count = 0;
    switch (field->type) {
    case HP_FIELD_NUMBER: value[count++] = *(const double *)at / field->factor; break;
    case HP_FIELD_WHOLE: value[count++] = *(const int *)at ? *(const int *)at : (double)NAN; break;
    case HP_FIELD_PAIRS:
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            if (isfinite(((const double *)at)[k]))
                value[count++] = ((const double *)at)[k];
        break;
    case HP_FIELD_PIN_VOLTS:
        for (int pin = 0; pin < plug->pins; pin++)
            for (int s = 0; s < (field->first ? plug->states[pin] : 1); s++)
                value[count++] = fabs(field->first ? plug->at[s][pin] : plug->off[pin]);
        break;
    default: break;
    }
    return count;
}

static hp_band usual_of(const hp_assess_case *given, const hp_field *field)
{
    const hp_usual *u = &field->usual;
    bool plus = u->brake > 0.0 && hp_brake_takes_battery(given);
    double limit_a = given->drive->controller.battery_limit_a;
    double share = plus ? HP_BATTERY_SHARE : u->battery;
    double high = share > 0.0                ? share * given->drive->supply.emf_v
                  : u->limit * limit_a > 0.0 ? u->limit * limit_a
                  : u->brake > 0.0           ? u->brake
                                             : u->high;
    return (hp_band){u->low, high > 0.0 ? high : (double)INFINITY};
}

static bool is_stated(const hp_usual *usual)
{
    return usual->low > 0.0 || usual->high > 0.0 || usual->battery > 0.0 || usual->limit > 0.0 ||
           usual->brake > 0.0;
}

/* The numbers of an entry's field that are out of what is usual; returns how many. *said: it holds
 * any. */
static int unusual(const hp_assess_case *given, const hp_field *field, const hp_entry *entry,
                   bool *said, double found[VALUES_MAX])
{
    double value[VALUES_MAX];
    int count = is_stated(&field->usual) ? values_of(field, entry, value) : 0, odd = 0;
    const hp_band usual = usual_of(given, field);
    *said = false;
    for (int k = 0; k < count; k++) {
        *said = *said || !isnan(value[k]);
        if (value[k] < usual.low || value[k] > usual.high)
            found[odd++] = value[k];
    }
    return odd;
}

bool hp_entry_is_unusual(const hp_assess_case *given, const hp_entry *entry)
{
    bool said;
    double value[VALUES_MAX];
    for (const hp_field *field = entry->reading->fields; field->name; field++)
        if (unusual(given, field, entry, &said, value) > 0)
            return true;
    return false;
}

/* Whether an entry before `place` read the same. */
static bool read_before(const hp_assess_case *given, int place, const hp_field *field, double found)
{
    for (int k = 0; k < place; k++) {
        const hp_entry *entry = &given->entry[k];
        double other[VALUES_MAX];
        bool said;
        if (entry->reading != given->entry[place].reading || entry->typical)
            continue;
        int count = unusual(given, field, entry, &said, other);
        for (int n = 0; n < count; n++)
            if (fabs(other[n] - found) <= SAME_WITHIN * fmax(other[n], found))
                return true;
    }
    return false;
}

/* Of several entries the newest is asked for again; the others come when that was done. */
static void add_figure(hp_doubt *doubt, const hp_entry *entry, const hp_field *field, double value,
                       hp_band usual)
{
    if (doubt->entry && entry < doubt->entry)
        return;
    if (entry != doubt->entry)
        *doubt = (hp_doubt){.entry = entry};
    for (int k = 0; k < doubt->figures && k < HP_DOUBTS_MOST; k++)
        if (doubt->figure[k].field == field && !(fabs(doubt->figure[k].value - value) > 0.0))
            return;
    int k = doubt->figures++;
    if (k >= HP_DOUBTS_MOST)
        return;
    doubt->figure[k].field = field;
    doubt->figure[k].value = value;
    doubt->figure[k].usual = usual;
}

/* The last entry that holds the field decides; what was read of a part that was exchanged since is
 * none of this machine. */
static void doubt_field(const hp_assess_case *given, const hp_reading *kind, const hp_field *field,
                        hp_doubt *doubt)
{
    int mended = hp_reopened_at(given->entry, given->entries, kind);
    for (int k = given->entries - 1; k > mended; k--) {
        const hp_entry *entry = &given->entry[k];
        bool said = false;
        double found[VALUES_MAX];
        if (entry->reading != kind || entry->typical)
            continue;
        int count = unusual(given, field, entry, &said, found);
        for (int n = 0; n < count; n++)
            if (!read_before(given, k, field, found[n]))
                add_figure(doubt, entry, field, found[n], usual_of(given, field));
        if (said)
            return;
    }
}

bool hp_doubt_find(const hp_assess_case *given, const hp_reading *kind, hp_doubt *doubt)
{
    *doubt = (hp_doubt){.entry = NULL};
    for (const hp_field *field = kind->fields; field->name; field++)
        if (is_stated(&field->usual))
            doubt_field(given, kind, field, doubt);
    return doubt->figures > 0;
}
