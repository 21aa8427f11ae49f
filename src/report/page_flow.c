/*
 * The plan as a numbered list for paper: see page_sections.h.
 *
 * Two pages of A4 hold only so much: the likeliest steps are printed, and an answer that leads
 * beyond them says so. Wirings are listed once, in a table, and named by their numbers in the
 * steps.
 */
#include "page_sections.h"

#include "hubphase/report/figure_parts.h"
#include "hubphase/report/html_text.h"
#include "hubphase/report/text.h"

#include <stdbool.h>
#include <string.h>

/* Lines that the list may take. Chosen: two columns of a page hold about 150 lines of the print's
 * letters; two pages, less what stands above the list. */
#define LINES      230
#define COLUMN     58 /* characters of a line in a column, about */
#define TABLE_ROWS 2  /* lines of the list that a row of the table costs, in both columns */

static int lines_of(const char *text)
{
    return 1 + hp_text_columns(text) / COLUMN;
}

/* Lines that a step takes. */
static int step_lines(const hp_page_plan *plan, const hp_page_step *step)
{
    int lines = 1 + lines_of(hp_page_plan_text(plan, step->title));
    for (int k = 0; k < step->answers; k++)
        lines += lines_of(hp_page_plan_text(plan, step->answer[k].label)) + 1;
    return lines + (step->answers == 0 ? 1 : 0);
}

/* How many steps fit, in their order; marks the wirings that they name. */
static int find_room(const hp_page_plan *plan, bool named[HP_WIRING_COUNT + 1])
{
    int used = 0, count = 0;
    memset(named, 0, (HP_WIRING_COUNT + 1) * sizeof named[0]);
    for (; count < plan->count; count++) {
        const hp_page_step *step = &plan->step[count];
        used += step_lines(plan, step);
        if (step->wiring && !named[step->wiring])
            used += TABLE_ROWS;
        if (used > LINES)
            break;
        named[step->wiring] = true;
    }
    return count;
}

static void put_row(const hp_labels *labels, int number, FILE *out)
{
    hp_wiring w = hp_wiring_from_number(number);
    fprintf(out, "<tr><th scope=\"row\">%d</th>", number);
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        fputs("<td>", out);
        hp_html_put(out, hp_figure_label(labels->motor_lead[w.phase[j]], w.phase[j]));
        fputs("</td>", out);
    }
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        fputs("<td>", out);
        hp_html_put(out, hp_figure_label(labels->motor_sensor[w.sensor[j]], w.sensor[j]));
        fputs("</td>", out);
    }
    fputs("</tr>\n", out);
}

static void put_wirings(const hp_labels *labels, const bool named[HP_WIRING_COUNT + 1], FILE *out)
{
    fputs("<table class=\"rows\">\n<caption>Wirings named in the list: motor lead at each of the "
          "controller's leads</caption>\n<thead><tr><th scope=\"col\">Wiring</th>",
          out);
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        fputs("<th scope=\"col\">output ", out);
        hp_html_put(out, hp_figure_label(labels->controller_output[j], j));
        fputs("</th>", out);
    }
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        fputs("<th scope=\"col\">input ", out);
        hp_html_put(out, hp_figure_label(labels->controller_input[j], j));
        fputs("</th>", out);
    }
    fputs("</tr></thead>\n<tbody>\n", out);
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        if (named[n])
            put_row(labels, n, out);
    fputs("</tbody>\n</table>\n", out);
}

static void put_step(const hp_page_plan *plan, int index, int count, FILE *out)
{
    const hp_page_step *step = &plan->step[index];
    fprintf(out, "<li id=\"flow-%d\"><b>%d. ", index + 1, index + 1);
    hp_html_put(out, hp_page_plan_text(plan, step->title));
    fputs("</b>\n<ul>\n", out);
    for (int k = 0; k < step->answers; k++) {
        const hp_page_answer *answer = &step->answer[k];
        fputs("<li>", out);
        hp_html_put(out, hp_page_plan_text(plan, answer->label));
        if (answer->to < count)
            fprintf(out, ": go to <a href=\"#flow-%d\">%d</a></li>\n", answer->to + 1,
                    answer->to + 1);
        else
            fputs(": ask hubphase next</li>\n", out);
    }
    if (step->cut)
        fputs("<li>Then ask hubphase next</li>\n", out);
    fputs("</ul>\n</li>\n", out);
}

void hp_page_put_flow(const hp_bench_page *page, const hp_page_plan *plan, FILE *out)
{
    bool named[HP_WIRING_COUNT + 1];
    int count = find_room(plan, named);
    fputs("<section id=\"flow\" class=\"flow\" aria-labelledby=\"flow-head\">\n"
          "<h2 id=\"flow-head\">The plan as a numbered list</h2>\n"
          "<p>Begin at 1, do what it says, and go on at the number behind what you saw. Write down "
          "every answer. ",
          out);
    if (count < plan->count)
        fprintf(out, "The %d likeliest of %d steps are here. ", count, plan->count);
    fputs("Where the list ends, or nothing fits: write the answers into a log and ask ", out);
    fputs("<code>hubphase next</code>.</p>\n", out);
    put_wirings(page->subject.labels, named, out);
    fputs("<ol>\n", out);
    for (int k = 0; k < count; k++)
        put_step(plan, k, count, out);
    fputs("</ol>\n</section>\n", out);
}
