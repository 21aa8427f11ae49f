/* Weighing a reading: see the header. What a sound or broken part shows is geometry and Ohm's law;
 * the person's slips are mixed in. Each kind has its own source. */
#include "decide/reading/weigh.h"

#include "decide/advise/hypothesis.h"
#include "hubphase/decide/assumptions.h"

double hp_weigh_loose(const hp_likelihood *table, const hp_person *person, const hp_entry *entry,
                      const hp_hypothesis *hypothesis, int lead)
{
    hp_hypothesis other = *hypothesis;
    hp_reading_case given = {
        .table = table, .person = person, .hypothesis = &other, .lead = -1, .loose = lead};
    if (entry->reading->looks == HP_LOOKS_MANY)
        return entry->reading->weigh(&given, entry->values);
    given.loose = -1;
    other.fault = (hp_fault){HP_FAULT_NONE, 0};
    double holds = entry->reading->weigh(&given, entry->values);
    other.fault = lead < HP_PHASE_COUNT ? (hp_fault){HP_FAULT_LEAD_OPEN, lead}
                                        : (hp_fault){HP_FAULT_SENSOR_HIGH, lead - HP_PHASE_COUNT};
    double opens = entry->reading->weigh(&given, entry->values);
    return (1.0 - HP_LOOSE_OPEN) * holds + HP_LOOSE_OPEN * opens;
}

/* Any of the six leads. */
static double weigh_any_loose(const hp_likelihood *table, const hp_person *person,
                              const hp_entry *entry, const hp_hypothesis *hypothesis)
{
    double sum = 0.0;
    for (int lead = 0; lead < HP_LOOSE_LEADS; lead++)
        sum += hp_weigh_loose(table, person, entry, hypothesis, lead) / HP_LOOSE_LEADS;
    return sum;
}

bool hp_weighs_loose(const hp_entry *entry, const hp_hypothesis *hypothesis)
{
    return entry->reading->looks != HP_LOOKS_NONE && hypothesis->fault.kind == HP_FAULT_LOOSE;
}

double hp_weigh_reading(const hp_likelihood *table, const hp_person *person, const hp_entry *entry,
                        const hp_hypothesis *hypothesis, int motor, const hp_nuisance *nuisance)
{
    const hp_reading_case given = {.table = table,
                                   .person = person,
                                   .hypothesis = hypothesis,
                                   .motor = motor,
                                   .nuisance = nuisance,
                                   .lead = -1,
                                   .loose = -1};
    if (hp_weighs_loose(entry, hypothesis))
        return weigh_any_loose(table, person, entry, hypothesis);
    return entry->reading->weigh ? entry->reading->weigh(&given, entry->values) : 1.0;
}
