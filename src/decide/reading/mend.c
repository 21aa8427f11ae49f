/*
 * Mend: something was mended; what is measured after it does not show it any more.
 */
#include "decide/advise/hypothesis.h"
#include "decide/advise/trouble.h"
#include "decide/reading/reading_parts.h"
#include "hubphase/decide/evidence.h"

#include <stdio.h>

static const char *const part_words[] = {
    "sensor_stuck_high", "sensor_stuck_low", "phase_lead_open", "clutch",          "controller",
    "protection",        "loose_lead",       "unlisted",        "inverted_sensor", NULL};

static const hp_field fields[] = {
    {.name = "part",
     .type = HP_FIELD_PART,
     .required = true,
     .words = part_words,
     .offset = 0,
     .argument = "PART",
     .help = "What was mended: sensor_stuck_high, sensor_stuck_low, phase_lead_open, clutch, "
             "controller (it drove nothing), protection (it cut out), loose_lead, unlisted or "
             "inverted_sensor"},
    {.name = "lead",
     .type = HP_FIELD_PART_LEAD,
     .offset = 0,
     .argument = "LEAD",
     .help = "The Hall lead or phase lead of the mended part"},
    {.name = NULL},
};

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

/* A new sensor was stuck at neither level: faults of one part are mended together. */
static void change(const void *values, hp_hypothesis *h)
{
    const hp_mend *mend = values;
    int part = hp_part_of(hp_trouble_index(-1, mend->fault));
    if (mend->fault.kind != HP_FAULT_NONE && hp_part_of(hp_trouble_index(-1, h->fault)) == part)
        h->fault = (hp_fault){HP_FAULT_NONE, 0};
    if (mend->inversion)
        h->inverted = -1;
}

/* An inverter, or a changed table: then what was metered of the table is no longer so, either. A
 * controller that drove nothing and was mended may be another one. */
static hp_renewal renews(const void *values)
{
    const hp_mend *mend = values;
    return mend->fault.kind == HP_FAULT_SILENT ? HP_RENEWS_CONTROLLER
           : mend->inversion                   ? HP_RENEWS_TABLE
                                               : HP_RENEWS_PARTS;
}

/* What else than the controller's answers is open again: a part that was mended may be another one
 * now. */
static const struct {
    hp_fault_kind part;
    const hp_reading *step;
} answers[] = {
    {HP_FAULT_SILENT, &hp_reading_shared_pack},      /* the most volts that it bears */
    {HP_FAULT_CUTTING_OUT, &hp_reading_shared_pack}, /* the battery, with its protection */
    {HP_FAULT_CUTTING_OUT, &hp_reading_sag},         {HP_FAULT_CUTTING_OUT, &hp_reading_idle_draw},
    {HP_FAULT_SENSOR_HIGH, &hp_reading_pins}, /* a new sensor, or its lead: what touches what */
    {HP_FAULT_SENSOR_HIGH, &hp_reading_hub},  /* ... and the hub was opened for it */
    {HP_FAULT_SENSOR_LOW, &hp_reading_pins},         {HP_FAULT_SENSOR_LOW, &hp_reading_hub},
    {HP_FAULT_LEAD_OPEN, &hp_reading_pins},          {HP_FAULT_CLUTCH, &hp_reading_hub},
};

static bool reopens(const void *values, const hp_reading *step)
{
    const hp_mend *mend = values;
    for (size_t k = 0; k < sizeof answers / sizeof answers[0]; k++)
        if (!mend->inversion && answers[k].part == mend->fault.kind && answers[k].step == step)
            return true;
    return false;
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
};
