/* Trouble: see the header. */
#include "decide/advise/trouble.h"

#include "decide/advise/hypothesis.h"
#include "hubphase/decide/evidence.h"

#include <assert.h>
#include <stddef.h>

int hp_trouble_index(int misfit, hp_fault fault)
{
    bool stuck = fault.kind == HP_FAULT_SENSOR_HIGH || fault.kind == HP_FAULT_SENSOR_LOW;
    if (stuck && fault.which == misfit)
        misfit = -1;
    return (misfit + 1) * HP_FAULT_COUNT + hp_fault_index(fault);
}

int hp_trouble_of(const hp_hypothesis *h)
{
    return hp_trouble_index(hp_hypothesis_misfit(h), h->fault);
}

void hp_trouble_get(int trouble, int *misfit, hp_fault *fault)
{
    assert(trouble >= 0 && trouble < HP_TROUBLE_COUNT);
    *misfit = trouble / HP_FAULT_COUNT - 1;
    *fault = hp_fault_from_index(trouble % HP_FAULT_COUNT);
}

int hp_part_of(int trouble)
{
    int misfit;
    hp_fault fault;
    hp_trouble_get(trouble, &misfit, &fault);
    int part = HP_PARTS_EACH * (misfit + 1);
    switch (fault.kind) {
    case HP_FAULT_SENSOR_HIGH:
    case HP_FAULT_SENSOR_LOW: return part + 1 + fault.which;
    case HP_FAULT_LEAD_OPEN: return part + 4 + fault.which;
    case HP_FAULT_CLUTCH: return part + 7;
    case HP_FAULT_SILENT: return part + 8;
    case HP_FAULT_CUTTING_OUT: return part + 9;
    case HP_FAULT_LOOSE: return part + 10;
    case HP_FAULT_UNLISTED: return part + 11;
    case HP_FAULT_NONE:
    case HP_FAULT_KIND_COUNT: break;
    }
    return part;
}

double hp_part_likeliest(const double part[HP_PART_COUNT], int *which)
{
    double best = -1.0;
    for (int k = 1; k < HP_PART_COUNT; k++) {
        int fault = k % HP_PARTS_EACH, misfit = k / HP_PARTS_EACH;
        double sum = 0.0;
        if (fault > 0 && misfit > 0)
            continue;
        for (int other = 0; other < (fault > 0 ? HP_MISFITS : HP_PARTS_EACH); other++)
            sum += part[fault > 0 ? HP_PARTS_EACH * other + fault : HP_PARTS_EACH * misfit + other];
        if (sum > best) {
            best = sum;
            if (which)
                *which = k;
        }
    }
    return best;
}
