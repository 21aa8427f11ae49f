/* Weighing a reading: see the header. What a sound or broken part shows is geometry and Ohm's law;
 * the person's slips are mixed in. Each kind has its own source. */
#include "decide/reading/weigh.h"

#include "decide/advise/hypothesis.h"
#include "hubphase/decide/assumptions.h"

double hp_weigh_reading(const hp_likelihood *table, const hp_person *person, const hp_entry *entry,
                        const hp_hypothesis *hypothesis, int motor, const hp_nuisance *nuisance)
{
    const hp_reading_case given = {.table = table,
                                   .person = person,
                                   .hypothesis = hypothesis,
                                   .motor = motor,
                                   .nuisance = nuisance,
                                   .lead = -1};
    return entry->reading->weigh ? entry->reading->weigh(&given, entry->values) : 1.0;
}
