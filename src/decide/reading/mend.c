/*
 * Mend: something was mended or exchanged; what is measured after it does not show it any more, and
 * what was measured of it before is of the old part.
 */
#include "decide/advise/hypothesis.h"
#include "decide/advise/trouble.h"
#include "decide/reading/mend_parts.h"
#include "decide/reading/reading_parts.h"
#include "hubphase/decide/evidence.h"

#include <stdio.h>

/* Signs of a run that the old part may have given, that drive it, that keep it off, that set how
 * fast it runs.
 */
#define SIGN(sign) (1u << HP_CHECK_##sign)
#define ALL        (SIGN(COUNT) - 1u)
#define STOPS      (SIGN(CUT_OUT) | SIGN(TURNED) | SIGN(STARTS))
#define PACE       (SIGN(FAST) | SIGN(SLOW) | SIGN(TURNED))

/* Last come steps with a lead of the part in them, and the volts that the search for what holds
 * the controller off reads of it. That a run at full throttle goes through the part makes it one to
 * be made again.
 */
#define PARTS(ROW)                                                                                 \
    ROW(sensor_stuck_high, FAULT, SENSOR_HIGH, 0, PARTS, ALL, &hp_reading_pins, &hp_reading_hub)   \
    ROW(sensor_stuck_low, FAULT, SENSOR_LOW, 0, PARTS, ALL, &hp_reading_pins, &hp_reading_hub)     \
    ROW(inverted_sensor, INVERSION, NONE, 0, PARTS, ALL, &hp_reading_pins, &hp_reading_hand_turn)  \
    ROW(phase_lead_open, FAULT, LEAD_OPEN, 0, PARTS, ALL, &hp_reading_pins)                        \
    ROW(clutch, FAULT, CLUTCH, 0, PARTS, ALL, &hp_reading_hub)                                     \
    ROW(controller, FAULT, SILENT, 0, CONTROLLER, ALL, &hp_reading_shared_pack)                    \
    ROW(other_controller, CONTROLLER, NONE, SILENCE, EXCHANGED, ALL, &hp_reading_shared_pack)      \
    ROW(key, KEY, NONE, SILENCE | CUTS, TRIALS, STOPS, &hp_reading_key, &hp_reading_controls)      \
    ROW(throttle, THROTTLE, NONE, SILENCE, TRIALS, PACE, &hp_reading_throttle,                     \
        &hp_reading_controls)                                                                      \
    ROW(brake_left, BRAKE_LEFT, NONE, SILENCE | CUTS, NOTHING, STOPS, &hp_reading_brake,           \
        &hp_reading_controls)                                                                      \
    ROW(brake_right, BRAKE_RIGHT, NONE, SILENCE | CUTS, NOTHING, STOPS, &hp_reading_brake,         \
        &hp_reading_controls)                                                                      \
    ROW(pedal_sensor, PEDAL_SENSOR, NONE, SILENCE, NOTHING, SIGN(TURNED) | SIGN(STARTS),           \
        &hp_reading_pedal_sensor, &hp_reading_controls)                                            \
    ROW(speed_switch, SPEED_SWITCH, NONE, SILENCE, TRIALS, PACE, &hp_reading_speed_switch,         \
        &hp_reading_controls)                                                                      \
    ROW(battery, BATTERY, NONE, SILENCE | CUTS, TRIALS, STOPS | PACE, &hp_reading_sag,             \
        &hp_reading_shared_pack, &hp_reading_controls)                                             \
    ROW(protection, FAULT, CUTTING_OUT, 0, PARTS, STOPS, &hp_reading_sag, &hp_reading_shared_pack, \
        &hp_reading_idle_draw)                                                                     \
    ROW(loose_lead, FAULT, LOOSE, 0, PARTS, ALL, NULL)                                             \
    ROW(unlisted, FAULT, UNLISTED, 0, PARTS, ALL, NULL)

#define SILENCE HP_PROVES(HP_FAULT_SILENT)
#define CUTS    HP_PROVES(HP_FAULT_CUTTING_OUT)

#define PART(word_, what_, fault_, heals_, renews_, cures_, ...)                                   \
    [HP_MEND_##word_] = {.word = #word_,                                                           \
                         .what = HP_MENDED_##what_,                                                \
                         .fault = HP_FAULT_##fault_,                                               \
                         .heals = heals_,                                                          \
                         .renews = HP_RENEWS_##renews_,                                            \
                         .cures = cures_,                                                          \
                         .opens = {__VA_ARGS__}},
#define ONE(word_, ...)               +1
#define WORD(word_, before_, behind_) #word_,
#define TOLD(word_, before_, behind_) before_ #word_ behind_

_Static_assert(0 PARTS(ONE) == HP_MEND_PARTS, "a row for each part");

const hp_mend_part hp_mend_parts[HP_MEND_PARTS + 1] = {PARTS(PART)};
static const char *const part_words[] = {HP_MENDABLE(WORD) NULL};

static const hp_field fields[] = {
    {.name = "part",
     .type = HP_FIELD_PART,
     .required = true,
     .words = part_words,
     .offset = 0,
     .argument = "PART",
     .help = "What was mended or exchanged: " HP_MENDABLE(TOLD)},
    {.name = "lead",
     .type = HP_FIELD_PART_LEAD,
     .offset = 0,
     .argument = "LEAD",
     .help = "The Hall lead or phase lead of the mended part, or that of the inverter"},
    {.name = NULL},
};

const hp_mend_part *hp_mend_part_of(const hp_mend *mend)
{
    for (const hp_mend_part *part = hp_mend_parts; part->word; part++)
        if (part->what == mend->what && part->fault == mend->fault.kind)
            return part;
    return NULL;
}

const hp_mend *hp_entry_mend(const hp_entry *entry)
{
    return entry->reading->advised_as == HP_ADVICE_REPAIR ? &entry->mend : NULL;
}

bool hp_mend_has_lead(const hp_mend *mend)
{
    return mend->fault.kind == HP_FAULT_SENSOR_HIGH || mend->fault.kind == HP_FAULT_SENSOR_LOW ||
           mend->fault.kind == HP_FAULT_LEAD_OPEN;
}

static bool settle(const hp_settling *settling, const void *values)
{
    const hp_mend *mend = values;
    char text[80];
    if (!settling->given || !hp_mend_has_lead(mend) ||
        settling->given[hp_field_find(&hp_reading_mend, "lead") - fields])
        return true;
    snprintf(text, sizeof text, "is missing, must be the mended %s lead",
             mend->fault.kind == HP_FAULT_LEAD_OPEN ? "phase" : "sensor");
    settling->refuse(settling, "lead", "part", text);
    return false;
}

/* An inverter in the lead that reads the wrong way round puts it right, and one in a good hub's
 * turns that lead round. In another lead than the inverted one it leaves two of them, which is no
 * hub that can be told: it stays as it was. Lead -1: not said, so the one that was to have it. */
static void invert(int lead, hp_hypothesis *h)
{
    if (lead < 0 || lead == h->inverted)
        h->inverted = -1;
    else if (h->inverted < 0)
        h->inverted = lead;
}

static bool is_inverter(const hp_entry *entry)
{
    const hp_mend *mend = hp_entry_mend(entry);
    return mend && mend->what == HP_MENDED_INVERSION;
}

int hp_mended_inverter(const hp_entry *entry, int entries)
{
    int lead = -1;
    for (int k = 0; k < entries; k++)
        if (is_inverter(&entry[k]))
            lead = entry[k].mend.inverter > 0 ? entry[k].mend.inverter - 1 : HP_PHASE_COUNT;
    return lead;
}

/* A new sensor was stuck at neither level: faults of one part are mended together. */
static void change(const void *values, hp_hypothesis *h)
{
    const hp_mend *mend = values;
    const hp_mend_part *row = hp_mend_part_of(mend);
    int part = hp_part_of(hp_trouble_index(-1, mend->fault));
    if (mend->fault.kind != HP_FAULT_NONE && hp_part_of(hp_trouble_index(-1, h->fault)) == part)
        h->fault = (hp_fault){HP_FAULT_NONE, 0};
    if (row && (row->heals & HP_PROVES(h->fault.kind)))
        h->fault = (hp_fault){HP_FAULT_NONE, 0};
    if (mend->what == HP_MENDED_INVERSION)
        invert(mend->inverter - 1, h);
}

/* A controller that drove nothing and was mended may be another one. */
static hp_renewal renews(const void *values)
{
    const hp_mend_part *part = hp_mend_part_of(values);
    return part ? part->renews : HP_RENEWS_PARTS;
}

/* A part that was mended may be another one now. */
static bool reopens(const void *values, const hp_reading *step)
{
    const hp_mend_part *part = hp_mend_part_of(values);
    for (int k = 0; part && k < HP_MEND_OPENS && part->opens[k]; k++)
        if (part->opens[k] == step)
            return true;
    return false;
}

/* A part that is not named may be any. */
static bool cures(const void *values, hp_check_sign sign)
{
    const hp_mend_part *part = hp_mend_part_of(values);
    return !part || (part->cures & 1u << sign);
}

const hp_reading hp_reading_mend = {
    .name = "mend",
    .title = "mend",
    .size = sizeof(hp_mend),
    .fields = fields,
    .settle = settle,
    .advised_as = HP_ADVICE_REPAIR,
    .change = change,
    .renews = renews,
    .reopens = reopens,
    .cures = cures,
};
