/* JSON of a spread: see the header. */
#include "hubphase/report/tables.h"

#include "report/data/spread_columns.h"

#include "report/data/json_tree.h"

#include <math.h>

static json_t *ensemble_object(hp_json *b, const hp_spread *spread)
{
    json_t *object = json_object(), *varied = json_object();
    hp_json_set(b, object, "motors", json_integer(spread->motors));
    hp_json_set(b, object, "motors_wanted", json_integer(spread->plan.motors));
    hp_json_set(b, object, "starts", json_integer(spread->starts));
    hp_json_set(b, object, "seed", json_integer((json_int_t)spread->plan.seed));
    for (int q = 0; q < HP_SPREAD_QUANTITIES; q++) {
        if (!spread->varies[q])
            continue;
        json_t *entry = json_object();
        hp_json_set(b, entry, "half_width", hp_json_number(hp_spread_width(&spread->plan, q)));
        hp_json_set(b, entry, "unit", hp_json_text(hp_spread_width_unit(q)));
        hp_json_set(b, varied, hp_spread_quantity_name(q), entry);
    }
    hp_json_set(b, object, "varied", varied);
    return object;
}

static json_t *outcome_shares(hp_json *b, const hp_spread_summary *s)
{
    json_t *object = json_object();
    for (int k = 0; k < HP_VERDICT_COUNT; k++)
        hp_json_set(b, object, hp_verdict_name((hp_verdict)k), hp_json_number(s->share[k]));
    return object;
}

static json_t *direction_shares(hp_json *b, const hp_spread_summary *s)
{
    json_t *object = json_object();
    for (int k = 0; k < HP_DIRECTION_COUNT; k++)
        hp_json_set(b, object, hp_direction_name((hp_direction)k),
                    hp_json_number(s->share_direction[k]));
    return object;
}

static json_t *kind_shares(hp_json *b, const hp_spread_summary *s)
{
    json_t *object = json_object();
    hp_json_set(b, object, "early", hp_json_number(s->share_kind[HP_KIND_EARLY]));
    hp_json_set(b, object, "late", hp_json_number(s->share_kind[HP_KIND_LATE]));
    return object;
}

static json_t *figures_object(hp_json *b, const hp_spread_summary *s)
{
    json_t *object = json_object();
    for (int f = 0; f < HP_SPREAD_FIGURE_COUNT; f++) {
        hp_spread_band band = hp_spread_column_band(s, (hp_spread_figure)f);
        json_t *entry = json_object(), *drivers = json_array();
        hp_json_set(b, entry, "p5", hp_json_number(band.low));
        hp_json_set(b, entry, "p50", hp_json_number(band.middle));
        hp_json_set(b, entry, "p95", hp_json_number(band.high));
        for (int k = 0; k < HP_SPREAD_DRIVERS && s->driver[f][k].quantity >= 0; k++) {
            json_t *driver = json_object();
            hp_json_set(b, driver, "quantity",
                        hp_json_text(hp_spread_quantity_name(s->driver[f][k].quantity)));
            hp_json_set(b, driver, "rank_correlation",
                        hp_json_number(s->driver[f][k].rank_correlation));
            hp_json_append(b, drivers, driver);
        }
        hp_json_set(b, entry, "drivers", drivers);
        hp_json_set(b, object, hp_spread_column_name((hp_spread_figure)f), entry);
    }
    return object;
}

static json_t *nearest_object(hp_json *b, const hp_spread_nearest *nearest)
{
    if (nearest->margin.threshold == HP_THRESHOLD_NONE)
        return json_null();
    json_t *object = json_object();
    hp_json_set(b, object, "threshold", hp_json_text(hp_threshold_name(nearest->margin.threshold)));
    hp_json_set(b, object, "log_ratio", hp_json_number(nearest->margin.log_ratio));
    hp_json_set(b, object, "wiring", json_integer(nearest->number));
    hp_json_set(b, object, "motor", json_integer(nearest->motor));
    return object;
}

static void set_summary(hp_json *b, json_t *object, const hp_spread_summary *s)
{
    hp_json_set(b, object, "verdict", hp_json_text(hp_verdict_name(s->verdict)));
    hp_json_set(b, object, "direction", hp_json_text(hp_direction_name(s->direction)));
    hp_json_set(b, object, "kind",
                s->kind == HP_KIND_NONE ? json_null() : hp_json_text(hp_rough_kind_name(s->kind)));
    hp_json_set(b, object, "shares", outcome_shares(b, s));
    hp_json_set(b, object, "direction_shares", direction_shares(b, s));
    hp_json_set(b, object, "kind_shares", kind_shares(b, s));
    hp_json_set(b, object, "figures", figures_object(b, s));
    hp_json_set(b, object, "nearest_threshold", nearest_object(b, &s->nearest));
    hp_json_set(b, object, "nearest_kind_threshold", nearest_object(b, &s->nearest_kind));
}

static json_t *wiring_object(hp_json *b, const hp_labels *labels, const hp_spread_summary *s)
{
    hp_wiring wiring = hp_wiring_from_number(s->number[0]);
    json_t *object = json_object();
    hp_json_set(b, object, "number", json_integer(s->number[0]));
    hp_json_set_leads(b, object, labels, &wiring);
    hp_json_set_axes(b, object, &wiring);
    set_summary(b, object, s);
    return object;
}

static json_t *group_object(hp_json *b, const hp_spread_summary *s)
{
    json_t *object = json_object(), *numbers = json_array();
    for (int k = 0; k < s->wirings; k++)
        hp_json_append(b, numbers, json_integer(s->number[k]));
    hp_json_set(b, object, "numbers", numbers);
    set_summary(b, object, s);
    return object;
}

hp_result hp_spread_json_write(const hp_report_case *subject, const hp_spread *spread, FILE *out,
                               hp_error *err)
{
    hp_json b = {.failed = false};
    json_t *root = json_object(), *wirings = json_array(), *groups = json_array();
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        hp_json_append(&b, wirings, wiring_object(&b, subject->labels, &spread->wiring[k]));
    for (int k = 0; k < spread->groups; k++)
        hp_json_append(&b, groups, group_object(&b, &spread->group[k]));
    hp_json_set(&b, root, "scenario", hp_json_scenario(&b, subject));
    hp_json_set(&b, root, "parameters", hp_json_parameters(&b, subject->parameters));
    hp_json_set(&b, root, "ensemble", ensemble_object(&b, spread));
    hp_json_set(&b, root, "wirings", wirings);
    hp_json_set(&b, root, "groups", groups);
    return hp_json_finish(&b, root, out, err);
}
