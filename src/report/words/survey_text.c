/* A survey as text: its tables (table_text.h), then what they come to in words. */
#include "hubphase/base/text.h"
#include "hubphase/report/case_words.h"
#include "hubphase/report/tables.h"
#include "report/words/parts_text.h"
#include "report/words/table_text.h"

#include <stdio.h>
#include <string.h>

/* The numbers with this verdict, "1, 15 and 22"; empty when there are none. */
static void list_numbers(const hp_report_row row[HP_WIRING_COUNT], hp_verdict verdict, char *out,
                         size_t size)
{
    int total = 0, written = 0;
    hp_phrase p = hp_phrase_begin(out, size);
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        total += row[k].verdict == verdict;
    for (int k = 0; k < HP_WIRING_COUNT; k++) {
        if (row[k].verdict != verdict)
            continue;
        const char *between = written == 0 ? "" : written + 1 == total ? " and " : ", ";
        hp_phrase_add(&p, "%s%d", between, row[k].number);
        written++;
    }
}

/* Wirings that run as if they were smooth but do not start from every rest angle are the mark of a
 * fault, or of sensors spaced for another controller (derived: survey of such scenarios). Where
 * some have no verdict there is nothing to suspect yet: a scenario without friction is no open
 * lead. */
static void print_no_smooth(const hp_report_row row[HP_WIRING_COUNT], const hp_screen *out)
{
    hp_thresholds limits = hp_thresholds_default();
    const hp_report_row *open = NULL; /* the first without a verdict */
    int quiet = 0, turning = 0, undecided = 0;
    char text[800], clean[sizeof row[0].reason];
    for (int k = 0; k < HP_WIRING_COUNT; k++) {
        undecided += row[k].verdict == HP_VERDICT_UNDECIDED;
        if (!open && row[k].verdict == HP_VERDICT_UNDECIDED)
            open = &row[k];
        turning += row[k].starts > 0;
        quiet += row[k].verdict == HP_VERDICT_ROUGH &&
                 row[k].current_excess <= hp_verdict_excess_limit(row[k].idle_current, &limits) &&
                 row[k].starts < row[k].starts_tried;
    }
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "No wiring turns this motor smoothly at this throttle from every start "
                      "position.");
    if (quiet > 0)
        hp_phrase_add(&p, " %d run quietly once they turn, but do not always start.", quiet);
    if (open) {
        hp_phrase_add(&p, " %d %s no verdict, and a correct one may be among them. Wiring %d: %s.",
                      undecided, undecided == 1 ? "has" : "have", open->number,
                      hp_text_clean(open->reason, clean, sizeof clean));
        hp_text_fill(out, "Result", HP_PARTS_INDENT, text);
        return;
    }
    hp_phrase_add(
        &p, "%s",
        turning > 0
            ? " Suspect an open phase lead, a faulty Hall sensor, or Hall sensors spaced otherwise "
              "than the controller expects."
            : " None turns at all. Suspect too little throttle for the friction, too "
              "short a run, Hall sensors without supply, or a controller that cut out.");
    hp_text_fill(out, "Result", HP_PARTS_INDENT, text);
}

/* Names that nobody has put on their axes: by them no wiring can be joined. */
static void print_only_names(const char *numbers, const hp_screen *out)
{
    char text[700];
    snprintf(text, sizeof text,
             "The names of the leads are only names here (leads.known is no): which axis each sits "
             "on is not known, so no wiring can be joined by this table. %s would be correct if "
             "each lead sat where the scenario lists it. %s says how to find out.",
             numbers[0] ? numbers : "None", out->page ? "The bench" : "`hubphase next'");
    hp_text_fill(out, "Result", HP_PARTS_INDENT, text);
}

/* The order in which each controller label meets the same label on the motor; false unless all
 * three do. */
static bool same_names(const char controller[HP_PHASE_COUNT][HP_LABEL_SIZE],
                       const char motor[HP_PHASE_COUNT][HP_LABEL_SIZE], int order[HP_PHASE_COUNT])
{
    bool letters = true;
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        order[j] = -1;
        letters = letters && motor[j][0] == hp_phase_letter(j) && motor[j][1] == '\0';
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            if (strcmp(controller[j], motor[k]) == 0)
                order[j] = k;
    }
    return !letters && hp_order_index(order) >= 0;
}

/* What everybody tries first, where the colours allow it. */
static void print_same_names(const hp_labels *labels, const hp_report_row row[HP_WIRING_COUNT],
                             const hp_screen *out)
{
    hp_wiring wiring;
    char text[200];
    if (!same_names(labels->controller_input, labels->motor_sensor, wiring.sensor) ||
        !same_names(labels->controller_output, labels->motor_lead, wiring.phase))
        return;
    const hp_report_row *r = &row[hp_wiring_number(&wiring) - 1];
    snprintf(text, sizeof text, "Colour to colour is wiring %d: %s%s%s.", r->number,
             hp_verdict_name(r->verdict), r->kind == HP_KIND_NONE ? "" : ", ",
             hp_rough_kind_name(r->kind));
    hp_text_fill(out, "", HP_PARTS_INDENT, text);
}

/* Whether no wiring has a verdict; the words then are of what kept it from one. */
static bool print_no_verdict(const hp_report_row row[HP_WIRING_COUNT], const hp_screen *out)
{
    char text[600], clean[sizeof row[0].reason];
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        if (row[k].verdict != HP_VERDICT_UNDECIDED)
            return false;
    snprintf(text, sizeof text,
             "No verdict on any of the %d wirings. Wiring 1: %s. The cause lies in the scenario, "
             "not in the wiring.",
             HP_WIRING_COUNT, hp_text_clean(row[0].reason, clean, sizeof clean));
    hp_text_fill(out, "Result", HP_PARTS_INDENT, text);
    return true;
}

static void print_result(const hp_report_case *subject, const hp_report_row row[HP_WIRING_COUNT],
                         const hp_screen *out)
{
    char forward[200], backward[200], text[600];
    if (print_no_verdict(row, out))
        return;
    list_numbers(row, HP_VERDICT_CORRECT, forward, sizeof forward);
    list_numbers(row, HP_VERDICT_REVERSE, backward, sizeof backward);
    if (!subject->labels->axes_known && (forward[0] || backward[0])) {
        print_only_names(forward, out);
        return;
    }
    if (!forward[0] && !backward[0]) {
        print_no_smooth(row, out);
        print_same_names(subject->labels, row, out);
        return;
    }
    snprintf(text, sizeof text, "Correct: %s. Reverse: %s.", forward[0] ? forward : "none",
             backward[0] ? backward : "none");
    hp_text_fill(out, "Result", HP_PARTS_INDENT, text);
    print_same_names(subject->labels, row, out);
    for (int k = 0; k < HP_WIRING_COUNT && forward[0]; k++) {
        if (row[k].verdict != HP_VERDICT_CORRECT)
            continue;
        fprintf(out->file, "\nWiring %d\n", row[k].number);
        hp_joints_print(subject, &row[k].wiring, out);
        return;
    }
}

void hp_survey_print(const hp_report_case *subject, const hp_survey *survey, const hp_screen *out)
{
    hp_report_row row[HP_WIRING_COUNT];
    hp_report_rows_make(survey, row);
    hp_parts_print(subject, out);
    fputc('\n', out->file);
    hp_table_print(subject, row, out);
    fputc('\n', out->file);
    hp_rows_print(subject, row, HP_WIRING_COUNT, out);
    fputc('\n', out->file);
    print_result(subject, row, out);
    fputc('\n', out->file);
    hp_cautions_print(out);
}
