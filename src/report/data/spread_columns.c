/* Figures of a spread in people's units: see the header. */
#include "report/data/spread_columns.h"

#include "decide/judge/ensemble.h"

#include <stdio.h>
#include <string.h>

typedef struct column {
    const char *name;
    const char *words;
    double unit; /* in SI */
} column;

static const column columns[HP_SPREAD_FIGURE_COUNT] = {
    [HP_SPREAD_SPEED] = {"speed_rpm", "rotor speed, rev/min", HP_RPM},
    [HP_SPREAD_WHEEL_SPEED] = {"wheel_speed_rpm", "wheel speed, rev/min", HP_RPM},
    [HP_SPREAD_SPEED_RATIO] = {"speed_ratio", "speed over smooth speed", 1.0},
    [HP_SPREAD_BATTERY_CURRENT] = {"battery_current_a", "battery current, A", 1.0},
    [HP_SPREAD_PHASE_RMS] = {"phase_rms_a", "phase current rms, A", 1.0},
    [HP_SPREAD_PHASE_PEAK] = {"phase_peak_a", "phase current peak, A", 1.0},
    [HP_SPREAD_RIPPLE] = {"torque_ripple", "torque ripple", 1.0},
    [HP_SPREAD_EXCESS] = {"current_excess", "current excess", 1.0},
    [HP_SPREAD_STARTS] = {"starts_percent", "starts, %", 0.01},
    [HP_SPREAD_MARGIN] = {"log_margin", "margin, log ratio", 1.0},
    [HP_SPREAD_IDLE] = {"idle_current_percent", "idle current, %", 0.01},
    [HP_SPREAD_WASTE] = {"waste", "waste", 1.0},
};

const char *hp_spread_column_name(hp_spread_figure figure)
{
    return columns[figure].name;
}

const char *hp_spread_column_words(hp_spread_figure figure)
{
    return columns[figure].words;
}

hp_spread_band hp_spread_column_band(const hp_spread_summary *summary, hp_spread_figure figure)
{
    double unit = columns[figure].unit;
    hp_spread_band band = summary->band[figure];
    /* Adding zero makes a negative zero plain. */
    return (hp_spread_band){band.low / unit + 0.0, band.middle / unit + 0.0,
                            band.high / unit + 0.0};
}

static bool is_angle(int quantity)
{
    return quantity == HP_VARY_FLAT || quantity == HP_VARY_COGGING_PHASE ||
           quantity == HP_SPREAD_REST ||
           (quantity >= HP_VARY_COMMON && quantity <= HP_VARY_SENSOR_W);
}

double hp_spread_width(const hp_spread_plan *plan, int quantity)
{
    double width = quantity == HP_SPREAD_REST ? plan->rest_rad
                                              : hp_vary_width(&plan->variation, (hp_vary)quantity);
    if (is_angle(quantity))
        return width / HP_DEG;
    return quantity == HP_VARY_WINDING ? width : 100.0 * width;
}

const char *hp_spread_width_unit(int quantity)
{
    if (is_angle(quantity))
        return "deg";
    return quantity == HP_VARY_WINDING ? "k" : "percent";
}

char *hp_spread_width_text(const hp_spread_plan *plan, int quantity, char *out, size_t size)
{
    const char *unit = hp_spread_width_unit(quantity);
    const char *sign = strcmp(unit, "percent") == 0 ? "%" : strcmp(unit, "k") == 0 ? "K" : unit;
    snprintf(out, size, "%.4g %s", hp_spread_width(plan, quantity), sign);
    return out;
}

char *hp_spread_outcome_text(const hp_spread_summary *summary, char *out, size_t size)
{
    const char *kind = hp_rough_kind_name(summary->kind);
    if (summary->verdict == HP_VERDICT_ROUGH)
        snprintf(out, size, "%s%s%s, %s", hp_verdict_name(summary->verdict), kind[0] ? " " : "",
                 kind,
                 summary->direction == HP_DIRECTION_BOTH ? "either way"
                                                         : hp_direction_name(summary->direction));
    else
        snprintf(out, size, "%s", hp_verdict_name(summary->verdict));
    return out;
}
