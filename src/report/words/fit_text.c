/* The fit as text: see hubphase/report/tables.h. */
#include "hubphase/report/case_words.h"
#include "hubphase/report/tables.h"
#include "report/words/drive_words.h"
#include "report/words/fit_words.h"
#include "report/words/parts_text.h"

#include <math.h>
#include <string.h>

#define STATE_COLUMNS   11
#define CAUTION_COLUMNS 12 /* as the cautions before it */

/* Lines are told in these groups, each up to before the next one's first rule. */
typedef struct group {
    hp_fit_rule_id first;
    const char *title;
} group;

static const group groups[] = {
    {HP_FIT_CONTROLLER_VOLTS, "Battery, controller, leads"},
    {HP_FIT_LEVEL, "On the road"},
    {HP_FIT_RIDE_HEAT, "Heat"},
    {HP_FIT_AXLE, "Axle, direction, downhill, law"},
};
#define GROUPS (int)(sizeof groups / sizeof groups[0])

/* Stop and look are to be seen from afar. */
static const char *state_word(hp_fit_state state)
{
    static const char *const word[HP_FIT_STATE_COUNT] = {"ok", "LOOK", "STOP", "not known"};
    return word[state];
}

/* " [2, 5]": places in the list at the end. */
static void add_sources(hp_phrase *p, unsigned set)
{
    const char *before = " [";
    for (int k = 0; k < HP_FIT_SOURCES; k++)
        if (set & 1u << k) {
            hp_phrase_add(p, "%s%d", before, k + 1);
            before = ", ";
        }
    hp_phrase_add(p, "]");
}

static void print_sources(const hp_screen *out)
{
    fputs("Sources\n\n", out->file);
    for (int k = 0; k < HP_FIT_SOURCES; k++) {
        char number[16];
        snprintf(number, sizeof number, "[%d]", k + 1);
        hp_text_fill(out, number, 5, hp_fit_source_text(k));
    }
}

static void print_line(const hp_report_case *subject, const hp_fit *fit, const hp_fit_line *line,
                       const hp_screen *out)
{
    const hp_fit_rule_words *w = hp_fit_words_of(line->rule);
    char text[700], part[600], clean[600];
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "%s%s%s.", w->title, line->figures ? ": " : "",
                  hp_fit_figures_text(line, part, sizeof part));
    hp_text_fill(out, state_word(line->state), STATE_COLUMNS, text);
    hp_fit_advice_text(fit, line, subject->labels, NULL, part, sizeof part);
    if (part[0])
        hp_text_fill(out, "", STATE_COLUMNS, hp_text_clean(part, clean, sizeof clean));
    p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "Rule: %s", w->rule);
    add_sources(&p, w->sources);
    hp_text_fill(out, "", STATE_COLUMNS + 2, text);
}

/* What the road is reckoned with, in one look. */
static void print_vehicle(const hp_vehicle *v, bool guessed, const hp_screen *out)
{
    static const char *const cell[HP_CELL_COUNT] = {"li-ion", "LiFePO4", "lead"};
    char text[400];
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(
        &p,
        "%g kg in all, %.3g m a turn of the wheel, drag area %g m2, rolling %g, hill %g %% "
        "over %g m; battery %d cells %s%s, %.3g V full, %.3g V empty",
        v->road.mass_kg, v->wheel_m, v->road.drag_area_m2, v->road.rolling, 100.0 * v->hill,
        v->hill_m, v->pack.in_series, cell[v->pack.cell],
        guessed ? " (guessed from its volts)" : "", v->pack.full_v, v->pack.empty_v);
    if (!out->page)
        hp_phrase_add(&p, ". What of it is stated and what is taken: --show-parameters");
    hp_text_fill(out, "Vehicle", HP_PARTS_INDENT, text);
}

static void print_summary(const hp_fit *fit, const hp_labels *labels, const hp_screen *out)
{
    char text[400], full[HP_ASKED_WORDS];
    hp_text_fill(out, "Fit", HP_PARTS_INDENT, hp_fit_summary_text(fit, text, sizeof text));
    if (!fit->correct)
        return;
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    if (labels->axes_known)
        hp_phrase_add(&p, "wiring %d", fit->correct);
    else /* its number would tell nobody which lead goes where */
        hp_phrase_add(&p, "a correct wiring, whichever leads it takes");
    hp_phrase_add(&p, ", the simulated motor loaded at the wheel; full throttle unless said "
                      "otherwise");
    if (fit->full < 1.0)
        hp_phrase_add(&p, ", which here is %s: there is no throttle",
                      hp_full_words(fit->full, full, sizeof full));
    hp_phrase_add(&p, ". Figures in brackets: the range left by what is not sure "
                      "(vehicle.unsure_percent, thermal.unsure_percent).");
    hp_text_fill(out, "Simulated", HP_PARTS_INDENT, text);
}

/* ---- slope by slope -------------------------------------------------------------------------- */

static void print_slope(const hp_fit_meeting *m, const hp_screen *out)
{
    char speed[32], battery[32], phase[32], share[32], minutes[32];
    if (!m->meets) {
        fprintf(out->file, "%5.0f   does not climb it\n", 100.0 * m->slope);
        return;
    }
    const hp_fit_point *p = &m->point;
    double efficiency = p->battery_w > 0.0 ? 100.0 * p->wheel_w / p->battery_w : 0.0;
    fprintf(out->file, "%5.0f %6s %8s %6s %7s  %s%s\n", 100.0 * m->slope,
            hp_fit_number(3.6 * m->speed, speed, sizeof speed),
            hp_fit_number(p->battery_a, battery, sizeof battery),
            hp_fit_number(p->phase_rms_a, phase, sizeof phase),
            hp_fit_number(efficiency, share, sizeof share),
            isfinite(m->limit_s) ? hp_fit_number(m->limit_s / 60.0, minutes, sizeof minutes)
                                 : "for ever",
            isfinite(m->limit_s) ? " min" : "");
}

static void print_slopes(const hp_fit *fit, const hp_vehicle *vehicle, const hp_screen *out)
{
    char title[160];
    snprintf(title, sizeof title,
             "Slope by slope, battery half charged; the last column is how long until the winding "
             "has %g C, from cold:",
             vehicle->ratings.winding_most_c);
    hp_text_fill(out, "", 0, title);
    fprintf(out->file, "\n%5s %6s %8s %6s %7s\n%5s %6s %8s %6s %7s\n", "slope", "speed", "battery",
            "phase", "effic.", "%", "km/h", "A", "A rms", "%");
    for (int k = 0; k < HP_FIT_SLOPES; k++) {
        print_slope(&fit->slope[k], out);
        if (!fit->slope[k].meets)
            return; /* nor any steeper one */
    }
}

void hp_fit_print(const hp_report_case *subject, const hp_vehicle *vehicle, const hp_fit *fit,
                  const hp_screen *out)
{
    char caution[600];
    hp_parts_print(subject, out);
    print_vehicle(vehicle, fit->pack_guessed, out);
    fputc('\n', out->file);
    print_summary(fit, subject->labels, out);
    for (int g = 0; g < GROUPS; g++) {
        int end = g + 1 < GROUPS ? (int)groups[g + 1].first : HP_FIT_RULE_COUNT;
        fprintf(out->file, "\n%s\n\n", groups[g].title);
        for (int k = (int)groups[g].first; k < end; k++)
            print_line(subject, fit, &fit->line[k], out);
    }
    if (fit->correct) {
        fputc('\n', out->file);
        print_slopes(fit, vehicle, out);
    }
    fputc('\n', out->file);
    print_sources(out);
    fputc('\n', out->file);
    hp_cautions_print(out);
    hp_text_fill(out, "", CAUTION_COLUMNS,
                 hp_fit_battery_caution(vehicle->pack.cell, caution, sizeof caution));
}
