/* The wiring sheet as HTML: see the header. */
#include "report/sheet/sheet_html.h"

#include "hubphase/report/case_words.h"
#include "report/embedded.h"
#include "report/paper/html_text.h"
#include "report/picture/lead_colour.h"
#include "report/picture/picture_parts.h"
#include "report/picture/picture_sheet.h"

#include <stdlib.h>

/* No script at all, nothing from anywhere else; styles stand in the page and in the pictures. */
static const char head[] =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
    "style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\">\n"
    "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
    "<meta name=\"referrer\" content=\"no-referrer\">\n";

static void put_pair(FILE *out, const char *name, const char *value)
{
    fprintf(out, "<dt>%s</dt><dd>", name);
    if (value && value[0])
        hp_html_put(out, value);
    else
        fputs("<span class=\"blank\"></span>", out);
    fputs("</dd>\n", out);
}

/* Before anything else, where there is something. */
static void put_stops(const hp_wiring_sheet *sheet, FILE *out)
{
    if (sheet->stops.count == 0)
        return;
    fprintf(out, "<div class=\"stops\">\n<p><strong>%s</strong></p>\n<ul>\n", hp_sheet_stops_title);
    for (int k = 0; k < sheet->stops.count; k++) {
        const hp_sheet_line *line = &sheet->stops.line[k];
        fputs("<li><strong>", out);
        hp_html_put(out, line->what);
        fputs("</strong> (", out);
        hp_html_put(out, line->from);
        fputs("): ", out);
        hp_html_put(out, line->value);
        fputs("</li>\n", out);
    }
    fputs("</ul>\n</div>\n", out);
}

static void put_head(const hp_wiring_sheet *sheet, FILE *out)
{
    const hp_labels *labels = sheet->source.labels;
    fputs(head, out);
    fputs("<title>", out);
    hp_html_put(out, sheet->title);
    fputs("</title>\n", out);
    fprintf(out, "<style>\n%s</style>\n", (const char *)hp_sheet_css);
    fputs("</head>\n<body>\n<main>\n<h1>", out);
    hp_html_put(out, sheet->title);
    fputs("</h1>\n", out);
    put_stops(sheet, out);
    fputs("<dl>\n", out);
    put_pair(out, "Motor", labels->motor);
    put_pair(out, "Controller", labels->controller);
    put_pair(out, "Date", sheet->source.date);
    fprintf(out, "</dl>\n<p class=\"standing%s\">", hp_sheet_is_good(sheet) ? "" : " open");
    hp_html_put(out, sheet->standing);
    fputs("</p>\n<p class=\"cautions\"><strong>Cautions.</strong> ", out);
    hp_html_put(out, hp_cautions_text());
    fputs("</p>\n", out);
}

static hp_result put_panels(const hp_wiring_sheet *sheet, int from, int until, FILE *out,
                            hp_error *err)
{
    hp_result result = HP_OK;
    fputs("<div class=\"panels\">\n", out);
    for (int panel = from; panel < until && result == HP_OK; panel++) {
        char *svg = NULL;
        size_t size = 0;
        result = hp_picture_sheet_svg(sheet, panel, &svg, &size, err);
        if (result == HP_OK)
            fwrite(svg, 1, size, out);
        free(svg);
    }
    fputs("</div>\n", out);
    return result;
}

/* ---- joins ----------------------------------------------------------------------------------- */

static void put_joined(FILE *out, const hp_sheet_wiring *wiring, bool phases,
                       const hp_labels *labels, int lead)
{
    if (!wiring->number) {
        fputs("<td><span class=\"blank\"></span></td>", out);
        return;
    }
    hp_wiring w = hp_wiring_from_number(wiring->number);
    int motor = phases ? w.phase[lead] : w.sensor[lead];
    fputs("<td>", out);
    hp_html_put(out, hp_picture_label(
                         phases ? labels->motor_lead[motor] : labels->motor_sensor[motor], motor));
    fputs("</td>", out);
}

static void put_join_rows(const hp_wiring_sheet *sheet, bool phases, FILE *out)
{
    const hp_labels *labels = sheet->source.labels;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        char name[HP_LABEL_SIZE + 32];
        hp_sheet_lead(phases ? labels->controller_output[k] : labels->controller_input[k],
                      phases ? "output" : "input", k, name, sizeof name);
        fputs("<tr><th scope=\"row\">", out);
        hp_html_put(out, name);
        fputs("</th>", out);
        for (int n = 0; n < HP_SHEET_WIRINGS; n++)
            put_joined(out, &sheet->wiring[n], phases, labels, k);
        fputs("</tr>\n", out);
    }
}

static void put_join_table(const hp_wiring_sheet *sheet, FILE *out)
{
    fputs("<table class=\"joins\">\n<caption>Motor lead at each lead of the "
          "controller</caption>\n<thead><tr>"
          "<th scope=\"col\">controller</th>",
          out);
    for (int n = 0; n < HP_SHEET_WIRINGS; n++) {
        char title[40];
        fprintf(out, "<th scope=\"col\">%s", hp_sheet_wiring_title(sheet, n, title, sizeof title));
        fputs("</th>", out);
    }
    fputs("</tr></thead>\n<tbody>\n", out);
    put_join_rows(sheet, true, out);
    put_join_rows(sheet, false, out);
    fputs("<tr><th scope=\"row\">by the log</th>", out);
    for (int n = 0; n < HP_SHEET_WIRINGS; n++) {
        fputs("<td class=\"from\">", out);
        hp_html_put(out, sheet->wiring[n].number ? sheet->wiring[n].said : "");
        fputs("</td>", out);
    }
    fputs("</tr>\n</tbody>\n</table>\n<p class=\"from\">", out);
    hp_html_put(out, hp_sheet_equals_note(sheet));
    fputs("</p>\n", out);
}

/* Pins with names once more in words: their picture cuts long ones. */
static void put_plug_words(const hp_wiring_sheet *sheet, int k, FILE *out)
{
    char words[2400];
    const hp_sheet_plug *plug = &sheet->source.plug[k];
    if (plug->pins) {
        fputs("<p class=\"from\">", out);
        hp_html_put(out, hp_picture_sheet_words(sheet, HP_SHEET_PLUGS + k, words, sizeof words));
        fputs(".</p>\n", out);
    }
    if (!plug->note)
        return;
    fputs("<p>", out);
    hp_html_printf(out, "%s: ", plug->name);
    hp_html_put_lines(out, plug->note);
    fputs("</p>\n", out);
}

/* ---- lists ----------------------------------------------------------------------------------- */

static void put_list(const hp_sheet_list *list, const char *title, const char *note, FILE *out)
{
    fprintf(out, "<h2>%s</h2>\n<p class=\"from note\">", title);
    hp_html_put(out, note);
    fputs("</p>\n<table class=\"lists\">\n<thead><tr><th scope=\"col\">what</th><th scope=\"col\">"
          "value</th><th scope=\"col\">from</th></tr></thead>\n<tbody>\n",
          out);
    for (int k = 0; k < list->count; k++) {
        const hp_sheet_line *line = &list->line[k];
        fputs("<tr><th scope=\"row\">", out);
        hp_html_put(out, line->what);
        fputs("</th><td>", out);
        if (line->value[0])
            hp_html_put(out, line->value);
        else
            fputs("<span class=\"blank\"></span>", out);
        fputs("</td><td class=\"from\">", out);
        hp_html_put(out, line->from);
        fputs("</td></tr>\n", out);
    }
    fputs("</tbody>\n</table>\n", out);
}

/* The colours that a lead's name says; nothing where it says none. */
static void put_swatch(const char *name, FILE *out)
{
    const char *tint[2] = {NULL, NULL};
    int count = hp_lead_tints(name, tint);
    if (count > 0)
        fprintf(
            out,
            "<span class=\"lead\" style=\"background:linear-gradient(%s 50%%,%s 50%%)\"></span>",
            tint[0], tint[count - 1]);
}

static void put_part(const hp_harness_part *part, FILE *out)
{
    fputs("<div class=\"part\"><strong>", out);
    hp_html_put(out, part->name);
    fputs("</strong>", out);
    if (part->note[0]) {
        fputs(". ", out);
        hp_html_put(out, part->note);
    }
    if (part->leads) {
        fputs("<ul>", out);
        for (int k = 0; k < part->leads; k++) {
            fputs("<li>", out);
            put_swatch(part->lead[k].colour, out);
            hp_html_put(out, part->lead[k].colour);
            fputs(": ", out);
            hp_html_put(out, part->lead[k].function);
            fputs("</li>", out);
        }
        fputs("</ul>", out);
    }
    fputs("</div>\n", out);
}

static void put_harness(const hp_wiring_sheet *sheet, FILE *out)
{
    const hp_harness *harness = sheet->source.harness;
    fputs("<h2>The rest of the harness</h2>\n", out);
    if (harness->parts == 0) {
        fputs("<p class=\"from\">The scenario lists none of it. To fill in by hand:</p>\n<dl>\n",
              out);
        for (const char *const *name = hp_sheet_usual_parts; *name; name++)
            put_pair(out, *name, NULL);
        fputs("</dl>\n", out);
        return;
    }
    fputs("<div class=\"parts\">\n", out);
    for (int k = 0; k < harness->parts; k++)
        put_part(&harness->part[k], out);
    fputs("</div>\n", out);
}

static void put_foot(FILE *out)
{
    fputs("<div class=\"sign\"><div>Date</div><div>Name and signature</div></div>\n"
          "</main>\n</body>\n</html>\n",
          out);
}

hp_result hp_sheet_html_write(const hp_wiring_sheet *sheet, FILE *out, hp_error *err)
{
    put_head(sheet, out);
    fputs("<h2>Which lead goes where</h2>\n", out);
    hp_result result = put_panels(sheet, HP_SHEET_PHASES, HP_SHEET_PLUGS, out, err);
    if (result != HP_OK)
        return result;
    put_join_table(sheet, out);
    if (sheet->source.plugs) {
        fputs("<h2>Plugs</h2>\n", out);
        result = put_panels(sheet, HP_SHEET_PLUGS, hp_picture_sheet_count(sheet), out, err);
        if (result != HP_OK)
            return result;
        for (int k = 0; k < sheet->source.plugs; k++)
            put_plug_words(sheet, k, out);
    }
    put_list(&sheet->readings, "Readings of the good parts, as found", hp_sheet_readings_note, out);
    put_list(&sheet->settings, "Settings", hp_sheet_settings_note, out);
    if (sheet->figures.count > 0)
        put_list(&sheet->figures, "Figures of this machine", hp_sheet_figures_note, out);
    if (sheet->mends.count > 0)
        put_list(&sheet->mends, "Found and mended", hp_sheet_mends_note, out);
    if (sheet->steps.count > 0)
        put_list(&sheet->steps, "Commissioning", hp_sheet_steps_note, out);
    put_harness(sheet, out);
    put_foot(out);
    return ferror(out) ? hp_error_set(err, HP_FAIL_IO, "the sheet could not be written") : HP_OK;
}
