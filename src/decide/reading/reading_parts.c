/* What several kinds of entries share: see the header. */
#include "decide/reading/reading_parts.h"

#include "decide/advise/hypothesis.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#include <math.h>
#include <stdio.h>

hp_result hp_check_range(hp_error *err, const char *field, double value, double low, double high)
{
    if (value >= low && value <= high)
        return HP_OK;
    return hp_error_set(err, HP_FAIL_INPUT, "%s is %g, must be %g to %g", field, value, low, high);
}

hp_result hp_check_whole(hp_error *err, const char *field, int value, int low, int high)
{
    if (value >= low && value <= high)
        return HP_OK;
    return hp_error_set(err, HP_FAIL_INPUT, "%s is %d, must be %d to %d", field, value, low, high);
}

hp_tell hp_pairs_unlike(const double figure[HP_PHASE_COUNT], double within)
{
    double low = INFINITY, high = 0.0, middle = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (!isfinite(figure[k]))
            return HP_TELL_UNSAID;
        low = fmin(low, figure[k]);
        high = fmax(high, figure[k]);
        middle += figure[k];
    }
    middle -= low + high;
    if (middle < 0.1 * high) /* an open lead: two pairs of nothing */
        return HP_TELL_UNSAID;
    return low < 0.5 * high && high - low > within ? HP_TELL_YES : HP_TELL_NO;
}

double hp_normal(double x, double deviation)
{
    double z = x / deviation;
    return exp(-0.5 * z * z) / (deviation * sqrt(2.0 * HP_PI));
}

bool hp_pair_open(const hp_hypothesis *h, int pair)
{
    return h->fault.kind == HP_FAULT_LEAD_OPEN && h->fault.which != pair;
}

double hp_code_said(const hp_person *p, int said, int shown)
{
    return said == shown ? 1.0 - p->code_misread : p->code_misread / (HP_CODE_COUNT - 1);
}

bool hp_settle_both(const hp_settling *settling, const char *first, bool has_first,
                    const char *second, bool has_second)
{
    char name[80], text[160];
    if (has_first == has_second)
        return true;
    const char *missing = has_first ? second : first, *there = has_first ? first : second;
    snprintf(text, sizeof text, "is missing, must be there beside %s",
             settling->name(settling, there, name, sizeof name));
    settling->refuse(settling, missing, there, text);
    return false;
}

bool hp_settle_order(const hp_settling *settling, const char *less, double low, const char *more,
                     double high)
{
    char name[80], text[160];
    if (!(low >= high))
        return true;
    snprintf(text, sizeof text, "is %.6g, must be more than %s (%.6g)", high,
             settling->name(settling, less, name, sizeof name), low);
    settling->refuse(settling, more, more, text);
    return false;
}
