/* The machine's own figures: see the header. */
#include "decide/commission/own.h"

#include "decide/reading/reading.h"
#include "decide/reading/running.h"

#include <math.h>
#include <string.h>

static const struct {
    const char *name, *title, *unit;
} rows[HP_OWN_COUNT] = {
    [HP_OWN_IDLE_A] = {"idle_a", "idle draw", "A"},
};

const char *hp_own_name(hp_own_kind kind)
{
    return rows[kind].name;
}

const char *hp_own_title(hp_own_kind kind)
{
    return rows[kind].title;
}

const char *hp_own_unit(hp_own_kind kind)
{
    return rows[kind].unit;
}

/* Standard deviations from the middle to either end of a band that holds 90 of 100. */
#define BAND_90 1.6449

static void learn_idle(const hp_assess_case *given, hp_own_figure *figure)
{
    const hp_entry *entry = hp_assess_last(given, &hp_reading_idle_draw);
    if (!entry || entry->typical)
        return;
    double amperes = ((const hp_idle_draw *)hp_entry_said(entry))->idle_a;
    double sd = hypot(given->person->current_relative * amperes, given->person->current_zero_a);
    *figure = (hp_own_figure){.known = true,
                              .value = amperes,
                              .low = fmax(0.0, amperes - BAND_90 * sd),
                              .high = amperes + BAND_90 * sd,
                              .entry = entry->number};
}

void hp_own_learn(const hp_assess_case *given, hp_own *own)
{
    memset(own, 0, sizeof *own);
    own->drive = *given->drive;
    learn_idle(given, &own->figure[HP_OWN_IDLE_A]);
}
