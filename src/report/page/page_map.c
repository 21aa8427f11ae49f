/*
 * The map of the 36 wirings on the page: see page_sections.h.
 *
 * Each square is a link to the details of its wiring; they are hidden until they are the page's
 * target, so the map works without a script. Wirings that make the same machine share pictures.
 */
#include "report/page/page_sections.h"

#include "hubphase/base/text.h"
#include "report/data/report_case.h"
#include "report/page/html_text.h"
#include "report/picture/picture_parts.h"
#include "report/words/explain.h"

#include <math.h>
#include <string.h>

static const char *const symbol[HP_VERDICT_COUNT] = {
    [HP_VERDICT_CORRECT] = "\u2713", [HP_VERDICT_REVERSE] = "\u21ba", [HP_VERDICT_ROUGH] = "\u2248",
    [HP_VERDICT_STALLED] = "\u2715", [HP_VERDICT_UNDECIDED] = "?",
};

static const char *const meaning[HP_VERDICT_COUNT] = {
    [HP_VERDICT_CORRECT] = "runs smoothly forward",
    [HP_VERDICT_REVERSE] = "runs smoothly, but backward",
    [HP_VERDICT_ROUGH] = "turns, but not smoothly",
    [HP_VERDICT_STALLED] = "does not turn",
    [HP_VERDICT_UNDECIDED] = "the simulation could not tell",
};

/* "forward", "late, backward": what a verdict leaves open; empty for the smooth ones. */
static void put_manner(const hp_judgement *j, FILE *out)
{
    if (j->verdict != HP_VERDICT_ROUGH)
        return;
    if (j->kind != HP_KIND_NONE)
        fprintf(out, ", %s", hp_rough_kind_name(j->kind));
    if (j->direction == HP_DIRECTION_BOTH)
        fputs(", both ways", out);
    else if (j->direction != HP_DIRECTION_NONE)
        fprintf(out, ", %s", hp_direction_name(j->direction));
}

static const char *name_of(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], int lead)
{
    return hp_picture_label(label[lead], lead);
}

/* Three names in an order, with this between them. */
static void put_three(FILE *out, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE],
                      const int order[HP_PHASE_COUNT], const char *between)
{
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        fputs(j > 0 ? between : "", out);
        hp_html_put(out, name_of(label, order[j]));
    }
}

static const int plain[HP_PHASE_COUNT] = {HP_U, HP_V, HP_W};

/* ---- the squares ----------------------------------------------------------------------------- */

static void put_heads(const hp_labels *labels, FILE *out)
{
    fputs("<p>Each square is one of the 36 ways to join the leads, as simulated on the lifted "
          "wheel. Touch it for its figures and pictures. Across: the phase leads at controller "
          "outputs ",
          out);
    put_three(out, labels->controller_output, plain, ", ");
    fputs(". Down: the Hall leads at controller inputs ", out);
    put_three(out, labels->controller_input, plain, ", ");
    fputs(".</p>\n<p>The map believes the scenario about which lead is which. The plan above does "
          "not: it finds that out.</p>\n<ul class=\"key\">\n",
          out);
    for (int v = 0; v < HP_VERDICT_COUNT; v++)
        fprintf(out, "<li><span class=\"badge %s\">%s %s</span> %s</li>\n",
                hp_verdict_name((hp_verdict)v), symbol[v], hp_verdict_name((hp_verdict)v),
                meaning[v]);
    fputs("</ul>\n<div class=\"map\">\n", out);
    for (int c = 0; c < HP_ORDER_COUNT; c++) {
        int order[HP_PHASE_COUNT];
        hp_order_get(c, order);
        fputs("<div class=\"heads\" aria-hidden=\"true\">", out);
        put_three(out, labels->motor_lead, order, "<br>");
        fputs("</div>\n", out);
    }
}

static void put_row_head(const hp_labels *labels, int row, FILE *out)
{
    int order[HP_PHASE_COUNT];
    hp_order_get(row, order);
    fputs("<div class=\"row\">Hall leads ", out);
    put_three(out, labels->motor_sensor, order, ", ");
    fputs("</div>\n", out);
}

static void put_cell(const hp_bench_page *page, int number, FILE *out)
{
    const hp_judgement *j = &page->survey->judgement[number - 1];
    const char *verdict = hp_verdict_name(j->verdict);
    hp_wiring w = hp_wiring_from_number(number);
    fprintf(out, "<a class=\"cell %s\" href=\"#wiring-%d\" aria-label=\"Wiring %d: %s", verdict,
            number, number, verdict);
    put_manner(j, out);
    fputs(". Phase leads ", out);
    put_three(out, page->subject.labels->motor_lead, w.phase, ", ");
    fputs("\"><b>", out);
    fprintf(out, "%d %s</b><span>%s</span></a>\n", number, symbol[j->verdict], verdict);
}

/* ---- what opens ------------------------------------------------------------------------------ */

static void put_figure(FILE *out, const char *name, double value, const char *unit)
{
    char text[40];
    fprintf(out, "<tr><th scope=\"row\">%s</th><td>", name);
    if (isfinite(value))
        fprintf(out, "%s%s%s%s", value < 0.0 ? "\u2212" : "",
                hp_picture_short(fabs(value), text, sizeof text), unit[0] ? " " : "", unit);
    else
        fputs(isnan(value) ? "not known" : "no limit", out);
    fputs("</td></tr>\n", out);
}

static void put_figures(const hp_bench_page *page, const hp_report_row *row, FILE *out)
{
    fputs("<table class=\"figures\">\n<tbody>\n", out);
    fprintf(out, "<tr><th scope=\"row\">Starts from rest</th><td>%d of %d</td></tr>\n", row->starts,
            row->starts_tried);
    put_figure(out, "Rotor speed", row->speed_rpm, "rev/min");
    if (hp_report_case_geared(&page->subject))
        put_figure(out, "Wheel speed", row->wheel_speed_rpm, "rev/min");
    put_figure(out, "Battery current", row->battery_current_a, "A");
    put_figure(out, "Power taken, over what it needs", row->current_excess, "times");
    put_figure(out, "Phase current, rms", row->phase_rms_a, "A");
    put_figure(out, "Phase current, peak", row->phase_peak_a, "A");
    put_figure(out, "Torque ripple over mean torque", row->torque_ripple, "");
    fputs("</tbody>\n</table>\n", out);
}

static void put_joints(const hp_labels *labels, const hp_wiring *w, FILE *out)
{
    fputs("<ul>\n", out);
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        fputs("<li>Phase lead ", out);
        hp_html_put(out, name_of(labels->motor_lead, w->phase[j]));
        fputs(" to controller output ", out);
        hp_html_put(out, name_of(labels->controller_output, j));
        fputs("</li>\n", out);
    }
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        fputs("<li>Hall lead ", out);
        hp_html_put(out, name_of(labels->motor_sensor, w->sensor[j]));
        fputs(" to controller input ", out);
        hp_html_put(out, name_of(labels->controller_input, j));
        fputs("</li>\n", out);
    }
    fputs("</ul>\n", out);
}

static void put_detail(const hp_bench_page *page, int number, FILE *out)
{
    char why[700];
    const hp_judgement *j = &page->survey->judgement[number - 1];
    hp_report_row row = hp_report_row_make(number, j);
    fprintf(out,
            "<section class=\"detail\" id=\"wiring-%d\">\n<h3 tabindex=\"-1\">Wiring %d: "
            "<span class=\"badge %s\">%s %s</span>",
            number, number, hp_verdict_name(j->verdict), symbol[j->verdict],
            hp_verdict_name(j->verdict));
    put_manner(j, out);
    fputs("</h3>\n", out);
    put_joints(page->subject.labels, &row.wiring, out);
    fputs("<h4>Why</h4>\n<p>", out);
    hp_html_put(out, hp_explain_sentences(&page->subject, &row.wiring, j, why, sizeof why));
    fputs("</p>\n<p>In the simulation: ", out);
    hp_html_put(out, row.reason);
    fputs(".</p>\n", out);
    put_figures(page, &row, out);
    fputs("<p><a class=\"button\" href=\"#map\">Back to the map</a></p>\n</section>\n", out);
}

static void put_picture(FILE *out, const char *svg, const char *caption)
{
    if (svg)
        fprintf(out, "<figure>%s<figcaption>%s</figcaption></figure>\n", svg, caption);
}

static bool undecided(const hp_bench_page *page, int number)
{
    return page->survey->judgement[number - 1].verdict == HP_VERDICT_UNDECIDED;
}

static void put_alike(const hp_bench_page *page, int number, FILE *out)
{
    fprintf(out, "<p>The pictures were drawn for wiring %d and hold for", number);
    const char *before = "";
    for (int n = number + 1; n <= HP_WIRING_COUNT; n++)
        if (page->first[n - 1] == number) {
            fprintf(out, "%s %d", before, n);
            before = " and";
        }
    fputs(" too, which make the same machine: the same motor leads are driven in the same order, "
          "only the names of the controller's leads and the codes at its inputs differ.</p>\n",
          out);
}

/* The wirings whose pictures are those of `number`, and then the pictures. */
static void put_machine(const hp_bench_page *page, int number, FILE *out)
{
    const hp_bench_page_pictures *pictures = &page->pictures[number - 1];
    int alike = 0;
    fputs("<div class=\"machine\">\n", out);
    for (int n = number; n <= HP_WIRING_COUNT; n++)
        if (page->first[n - 1] == number) {
            put_detail(page, n, out);
            alike++;
        }
    fputs("<div class=\"pictures\">\n", out);
    if (alike > 1)
        put_alike(page, number, out);
    if (!pictures->waves && !undecided(page, number))
        fprintf(
            out,
            "<p>For its waveforms: <code>hubphase spin --wiring %d --plots FOLDER</code> with the "
            "scenario.</p>\n",
            number);
    put_picture(out, pictures->waves, "What one run shows at its end.");
    put_picture(out, pictures->lead,
                "Where the field stands, seen from the rotor: geometry alone, no simulation.");
    fputs("</div>\n</div>\n", out);
}

void hp_page_put_map(const hp_bench_page *page, FILE *out)
{
    const hp_labels *labels = page->subject.labels;
    fputs("<section id=\"map\" class=\"sheet\" aria-labelledby=\"map-head\">\n"
          "<h2 id=\"map-head\">Map of the 36 wirings</h2>\n",
          out);
    put_heads(labels, out);
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        if (hp_wiring_column(n) == 0)
            put_row_head(labels, hp_wiring_row(n), out);
        put_cell(page, n, out);
    }
    fputs("</div>\n", out);
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        if (page->first[n - 1] == n)
            put_machine(page, n, out);
    fputs("</section>\n", out);
}
