/* One run of one wiring as text: see the header. */
#include "hubphase/report/tables.h"

#include "hubphase/base/text.h"
#include "hubphase/report/case_words.h"
#include "report/data/report_case.h"
#include "report/words/parts_text.h"

#include <math.h>
#include <string.h>

static void print_verdict(const hp_judgement *judgement, const hp_figures *figures,
                          const hp_screen *out)
{
    char text[400], clean[sizeof judgement->reason];
    snprintf(
        text, sizeof text,
        "%s%s%s%s%s (%s). This is one run, from rest at %.1f degrees: "
        "`hubphase survey' tries several start positions.",
        hp_verdict_name(judgement->verdict), judgement->kind == HP_KIND_NONE ? "" : ", ",
        hp_rough_kind_name(judgement->kind), judgement->direction == HP_DIRECTION_NONE ? "" : ", ",
        judgement->direction == HP_DIRECTION_NONE ? "" : hp_direction_name(judgement->direction),
        hp_text_clean(judgement->reason, clean, sizeof clean), figures->start_angle / HP_DEG);
    hp_text_fill(out, "Verdict", HP_PARTS_INDENT, text);
}

static void print_window(const hp_figures *figures, const hp_screen *out)
{
    char text[300];
    if (figures->window_turns > 0)
        snprintf(
            text, sizeof text,
            "%.4g s simulated; the figures below are averages over the last %d electrical turns "
            "(%.3g s)",
            figures->seconds, figures->window_turns, figures->window_s);
    else if (figures->window_swings > 0)
        snprintf(
            text, sizeof text,
            "%.4g s simulated; the figures below are averages over the last %d swings to and fro "
            "(%.3g s)",
            figures->seconds, figures->window_swings, figures->window_s);
    else
        snprintf(text, sizeof text,
                 "%.4g s simulated; the figures below are averages over the last %.3g s",
                 figures->seconds, figures->window_s);
    hp_text_fill(out, "Run", HP_PARTS_INDENT, text);
}

/* Columns of a figure in a table, up to its unit. */
#define FIGURE_COLUMNS 48

static void print_figure(const hp_screen *out, const char *name, double value, const char *format,
                         const char *unit)
{
    char number[40];
    if (isfinite(value))
        snprintf(number, sizeof number, format, value);
    else
        snprintf(number, sizeof number, "no limit");
    /* A mean that rounds to nothing has no sense of rotation. */
    const char *shown =
        number + (number[0] == '-' && strspn(number + 1, "0.") == strlen(number + 1));
    if (FIGURE_COLUMNS + (int)strlen(unit) <= out->columns) {
        fprintf(out->file, "  %-34s %10s %s\n", name, shown, unit);
        return;
    }
    char text[160];
    snprintf(text, sizeof text, "%s: %s %s", name, shown, unit);
    hp_text_fill(out, "", name[0] == ' ' ? 4 : 2, text);
}

static void print_motion(const hp_report_case *subject, const hp_figures *figures,
                         const hp_screen *out)
{
    print_figure(out, "rotor speed, mean", figures->speed / HP_RPM, "%.2f", "rev/min");
    print_figure(out, "  its standard deviation", figures->speed_sd / HP_RPM, "%.2f", "rev/min");
    if (hp_report_case_geared(subject))
        print_figure(out, "wheel speed, mean", figures->wheel_speed / HP_RPM, "%.2f", "rev/min");
    print_figure(out, "net turn since the start", figures->net_turn / HP_DEG, "%.0f",
                 "degrees electrical");
    print_figure(out, "torque, mean", figures->torque_mean, "%.4f", "N m");
    print_figure(out, "  rms about the mean", figures->torque_rms, "%.4f", "N m");
    print_figure(out, "  lowest", figures->torque_min, "%.4f", "N m");
    print_figure(out, "  highest", figures->torque_max, "%.4f", "N m");
    print_figure(out, "torque ripple", hp_figures_ripple(figures), "%.3f", "of the mean (rms)");
}

static void print_electric(const hp_figures *figures, const hp_screen *out)
{
    print_figure(out, "duty, mean", 100.0 * figures->duty, "%.2f", "%");
    print_figure(out, "battery current, mean", figures->battery_current, "%.3f", "A");
    print_figure(out, "phase current, peak", figures->phase_peak, "%.3f", "A");
    print_figure(out, "  rms of the hardest-worked lead", figures->phase_rms, "%.3f", "A");
    print_figure(out, "power from the battery", figures->battery_power, "%.2f", "W");
    print_figure(out, "  taken by friction and load", figures->friction_power, "%.2f", "W");
    print_figure(out, "  heat in winding and switches", figures->copper_power, "%.2f", "W");
    print_figure(out, "  heat in diodes", figures->diode_power, "%.2f", "W");
    print_figure(out, "current excess", hp_figures_excess(figures), "%.2f",
                 "times the power it needs");
    print_figure(out, "idle current", 100.0 * hp_figures_idle(figures), "%.1f",
                 "% of it gives no torque");
}

static void print_remarks(const hp_figures *figures, const hp_screen *out)
{
    if (figures->cut_out)
        hp_text_fill(
            out, "", 0,
            figures->cut_out_voltage
                ? "The controller switched off: the bus voltage fell below its cut-out."
                : "The controller switched off: the Hall code did not change for its stall time.");
    if (figures->limited)
        hp_text_fill(out, "", 0, "A current limiter held the duty below what the throttle asks.");
    if (figures->at_rest)
        hp_text_fill(out, "", 0, "The rotor was at rest when the run ended.");
}

static void print_work(const hp_figures *figures, const hp_screen *out)
{
    char text[300];
    snprintf(text, sizeof text,
             "%ld events, %ld steps, %ld evaluations; the energy balance closes to %.1g",
             figures->events, figures->steps, figures->rhs, figures->balance_error);
    hp_text_fill(out, "Simulation", HP_PARTS_INDENT, text);
}

void hp_spin_print(const hp_report_case *subject, const hp_wiring *wiring,
                   const hp_judgement *judgement, const hp_figures *figures, const hp_screen *out)
{
    fprintf(out->file, "Wiring %d\n", hp_wiring_number(wiring));
    hp_joints_print(subject, wiring, out);
    fputc('\n', out->file);
    print_verdict(judgement, figures, out);
    if (judgement->measured) {
        print_window(figures, out);
        fputc('\n', out->file);
        print_motion(subject, figures, out);
        print_electric(figures, out);
        print_remarks(figures, out);
        fputc('\n', out->file);
        print_work(figures, out);
    }
    fputc('\n', out->file);
    hp_cautions_print(out);
}
