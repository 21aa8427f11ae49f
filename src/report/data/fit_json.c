/* The fit as JSON: see hubphase/report/tables.h; fields: docs/json.md. */
#include "hubphase/report/tables.h"
#include "report/data/json_tree.h"
#include "report/words/fit_words.h"

#include <math.h>

static json_t *figure_object(hp_json *b, const hp_fit_figure *f)
{
    const hp_fit_figure_words *w = hp_fit_figure_words_of(f->what);
    json_t *object = json_object();
    hp_json_set(b, object, "value", hp_json_number(w->factor * f->value));
    hp_json_set(b, object, "low", hp_json_number(w->factor * f->low));
    hp_json_set(b, object, "high", hp_json_number(w->factor * f->high));
    return object;
}

static json_t *missing_array(hp_json *b, unsigned missing)
{
    json_t *array = json_array();
    for (int k = 0; k < HP_FIT_LACKS_BITS; k++)
        if (missing & 1u << k) {
            const char *key = hp_fit_lack_key(k);
            hp_json_append(b, array, hp_json_text(key ? key : "correct wiring"));
        }
    return array;
}

static json_t *sources_array(hp_json *b, unsigned set)
{
    json_t *array = json_array();
    for (int k = 0; k < HP_FIT_SOURCES; k++)
        if (set & 1u << k)
            hp_json_append(b, array, hp_json_text(hp_fit_source_text(k)));
    return array;
}

static json_t *line_object(hp_json *b, const hp_fit *fit, const hp_labels *labels,
                           const hp_fit_line *line)
{
    const hp_fit_rule_words *w = hp_fit_words_of(line->rule);
    json_t *object = json_object(), *figures = json_object();
    char advice[600];
    for (int k = 0; k < line->figures; k++)
        hp_json_set(b, figures, hp_fit_figure_words_of(line->figure[k].what)->name,
                    figure_object(b, &line->figure[k]));
    hp_fit_advice_text(fit, line, labels, NULL, advice, sizeof advice);
    hp_json_set(b, object, "rule", hp_json_text(w->name));
    hp_json_set(b, object, "state", hp_json_text(hp_fit_state_name(line->state)));
    hp_json_set(b, object, "title", hp_json_text(w->title));
    hp_json_set(b, object, "figures", figures);
    hp_json_set(b, object, "missing", missing_array(b, line->missing));
    hp_json_set(b, object, "advice", advice[0] ? hp_json_text(advice) : json_null());
    hp_json_set(b, object, "reason", hp_json_text(w->rule));
    hp_json_set(b, object, "sources", sources_array(b, w->sources));
    return object;
}

static json_t *point_object(hp_json *b, const hp_fit_point *p)
{
    json_t *object = json_object();
    hp_json_set(b, object, "torque_nm", hp_json_number(p->torque_nm));
    hp_json_set(b, object, "wheel_rpm", hp_json_number(p->wheel_rad_s / HP_RPM));
    hp_json_set(b, object, "battery_a", hp_json_number(p->battery_a));
    hp_json_set(b, object, "battery_w", hp_json_number(p->battery_w));
    hp_json_set(b, object, "wheel_w", hp_json_number(p->wheel_w));
    hp_json_set(b, object, "phase_rms_a", hp_json_number(p->phase_rms_a));
    hp_json_set(b, object, "duty_percent", hp_json_number(100.0 * p->duty));
    hp_json_set(b, object, "limited", json_boolean(p->limited));
    return object;
}

static json_t *curve_object(hp_json *b, const hp_fit_curve *curve)
{
    json_t *object = json_object(), *points = json_array();
    for (int k = 0; k < HP_FIT_POINTS; k++) {
        json_t *point = point_object(b, &curve->point[k]);
        hp_json_set(b, point, "runs", json_boolean(curve->point[k].runs));
        hp_json_set(b, point, "dc_line_rpm", hp_json_number(curve->dc_rad_s[k] / HP_RPM));
        hp_json_append(b, points, point);
    }
    hp_json_set(b, object, "battery_v", hp_json_number(curve->emf_v));
    hp_json_set(b, object, "points", points);
    return object;
}

static json_t *meeting_object(hp_json *b, const hp_fit_meeting *m)
{
    json_t *object = json_object();
    hp_json_set(b, object, "slope_percent", hp_json_number(100.0 * m->slope));
    hp_json_set(b, object, "climbs", json_boolean(m->meets));
    if (!m->meets)
        return object;
    hp_json_set(b, object, "speed_km_h", hp_json_number(3.6 * m->speed));
    hp_json_set(b, object, "speed_low_km_h", hp_json_number(3.6 * m->slow));
    hp_json_set(b, object, "speed_high_km_h", hp_json_number(3.6 * m->quick));
    hp_json_set(b, object, "limit_min", hp_json_number(m->limit_s / 60.0));
    hp_json_set(b, object, "limit_low_min", hp_json_number(m->limit_low_s / 60.0));
    hp_json_set(b, object, "limit_high_min", hp_json_number(m->limit_high_s / 60.0));
    hp_json_set(b, object, "running", point_object(b, &m->point));
    return object;
}

static json_t *course_array(hp_json *b, const hp_fit_course *c)
{
    json_t *array = json_array();
    for (int k = 0; k < c->count; k++) {
        json_t *object = json_object();
        hp_json_set(b, object, "m", hp_json_number(c->metres[k]));
        hp_json_set(b, object, "slope_percent", hp_json_number(c->percent[k]));
        hp_json_set(b, object, "winding_c", hp_json_number(c->copper_c[k]));
        hp_json_set(b, object, "winding_low_c", hp_json_number(c->low_c[k]));
        hp_json_set(b, object, "winding_high_c", hp_json_number(c->high_c[k]));
        hp_json_set(b, object, "hub_c", hp_json_number(c->hub_c[k]));
        hp_json_append(b, array, object);
    }
    return array;
}

static json_t *wiring_or_null(int number)
{
    return number ? json_integer(number) : json_null();
}

static void set_road(hp_json *b, json_t *root, const hp_fit *fit)
{
    static const char *const charge[HP_FIT_CHARGE_COUNT] = {"full", "middle", "empty"};
    json_t *curves = json_object(), *level = json_object(), *hill = json_object();
    json_t *slopes = json_array();
    for (int k = 0; k < HP_FIT_CHARGE_COUNT; k++) {
        hp_json_set(b, curves, charge[k], curve_object(b, &fit->curve[k]));
        hp_json_set(b, level, charge[k], meeting_object(b, &fit->level[k]));
        hp_json_set(b, hill, charge[k], meeting_object(b, &fit->hill[k]));
    }
    for (int k = 0; k < HP_FIT_SLOPES; k++)
        hp_json_append(b, slopes, meeting_object(b, &fit->slope[k]));
    hp_json_set(b, root, "curves", curves);
    hp_json_set(b, root, "level", level);
    hp_json_set(b, root, "hill", hill);
    hp_json_set(b, root, "slopes", slopes);
    hp_json_set(b, root, "ride", course_array(b, &fit->course));
}

hp_result hp_fit_json_write(const hp_report_case *subject, const hp_parameters *vehicle,
                            const hp_fit *fit, FILE *out, hp_error *err)
{
    hp_json b = {.failed = false};
    json_t *root = json_object(), *lines = json_array();
    for (int k = 0; k < HP_FIT_RULE_COUNT; k++)
        hp_json_append(&b, lines, line_object(&b, fit, subject->labels, &fit->line[k]));
    hp_json_set(&b, root, "scenario", hp_json_scenario(&b, subject));
    hp_json_set(&b, root, "parameters", hp_json_parameters(&b, subject->parameters));
    hp_json_set(&b, root, "fit_parameters", hp_json_parameters(&b, vehicle));
    hp_json_set(&b, root, "worst", hp_json_text(hp_fit_state_name(hp_fit_worst(fit))));
    hp_json_set(&b, root, "correct", wiring_or_null(fit->correct));
    hp_json_set(&b, root, "reverse", wiring_or_null(fit->reverse));
    hp_json_set(&b, root, "full_throttle_percent", hp_json_number(100.0 * fit->full));
    hp_json_set(&b, root, "lines", lines);
    if (fit->correct)
        set_road(&b, root, fit);
    return hp_json_finish(&b, root, out, err);
}
