/* A survey as text: see the header. */
#include "report/words/table_text.h"

#include "hubphase/base/phrase.h"
#include "hubphase/base/text.h"
#include "hubphase/report/cautions.h"
#include "report/words/parts_text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LEFT_COLUMNS 26 /* row titles of the 6 x 6 table */
#define CELL_COLUMNS 9
#define ROW_NUMBER   4
#define ROW_LABEL    6 /* columns of a lead's name in a row title: three of them fit */
#define HEAD_LABEL   8 /* ... and above a column */

/* 256-colour numbers nearest to the palette of Okabe & Ito (Color Universal Design, 2008): bluish
 * green, blue, orange, vermilion; grey for what is not known. */
static const int verdict_colour[HP_VERDICT_COUNT] = {36, 32, 214, 166, 245};

static const char *cell_word(hp_verdict verdict)
{
    return verdict == HP_VERDICT_UNDECIDED ? "?" : hp_verdict_name(verdict);
}

static void print_word(const char *word, hp_verdict verdict, int columns, bool colour, FILE *out)
{
    int missing = columns - (int)strlen(word);
    if (colour)
        fprintf(out, "\033[1;38;5;%dm%s\033[0m", verdict_colour[verdict], word);
    else
        fputs(word, out);
    fprintf(out, "%*s", missing > 0 ? missing : 0, "");
}

/* The name a lead has in the table: its label cut to `columns`, or its letter where the cut labels
 * could be taken for one another. */
static char *table_label(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], int lead, int columns,
                         char out[HP_LABEL_SIZE])
{
    char cut[HP_PHASE_COUNT][HP_LABEL_SIZE];
    bool distinct = true;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        char clean[HP_LABEL_SIZE];
        hp_text_clip(hp_text_clean(label[k], clean, sizeof clean), columns, cut[k], sizeof cut[k]);
        for (int j = 0; j < k; j++)
            distinct = distinct && strcmp(cut[j], cut[k]) != 0;
        distinct = distinct && cut[k][0] != '\0';
    }
    if (distinct)
        return strcpy(out, cut[lead]);
    out[0] = hp_phase_letter(lead);
    out[1] = '\0';
    return out;
}

/* Three lines above the columns: which motor lead is on each controller output. */
static void print_column_heads(const hp_labels *labels, FILE *out)
{
    fprintf(out, "MOTOR PHASE LEADS\n");
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        char name[HP_LABEL_SIZE + 8], title[HP_LABEL_SIZE + 24], clipped[HP_LABEL_SIZE + 24];
        snprintf(title, sizeof title, "on output %s",
                 hp_lead_name(j, labels->controller_output[j], name, sizeof name));
        hp_text_pad(out, hp_text_clip(title, LEFT_COLUMNS - 2, clipped, sizeof clipped),
                    LEFT_COLUMNS);
        for (int c = 0; c < HP_ORDER_COUNT; c++) {
            int order[HP_PHASE_COUNT];
            char label[HP_LABEL_SIZE];
            hp_order_get(c, order);
            hp_text_pad(out, table_label(labels->motor_lead, order[j], HEAD_LABEL, label),
                        c + 1 < HP_ORDER_COUNT ? CELL_COLUMNS : 0);
        }
        fputc('\n', out);
    }
}

/* Above the row titles: which controller input each of the three names stands at; and the second
 * half of the numbers. */
static void print_row_head(const hp_labels *labels, FILE *out)
{
    fprintf(out, "MOTOR SENSOR LEADS on inputs\n");
    hp_text_pad(out, "", ROW_NUMBER);
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        char label[HP_LABEL_SIZE];
        hp_text_pad(out, table_label(labels->controller_input, j, ROW_LABEL, label), ROW_LABEL + 1);
    }
    hp_text_pad(out, "", LEFT_COLUMNS - ROW_NUMBER - HP_PHASE_COUNT * (ROW_LABEL + 1));
    for (int c = 0; c < HP_ORDER_COUNT; c++)
        fprintf(out, "+%-*d", c + 1 < HP_ORDER_COUNT ? CELL_COLUMNS - 1 : 1, c);
    fputc('\n', out);
}

static void print_row_title(const hp_labels *labels, int r, FILE *out)
{
    int order[HP_PHASE_COUNT];
    hp_order_get(r, order);
    fprintf(out, "%2d%*s", 1 + HP_ORDER_COUNT * r, ROW_NUMBER - 2, "");
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        char label[HP_LABEL_SIZE];
        hp_text_pad(out, table_label(labels->motor_sensor, order[j], ROW_LABEL, label),
                    ROW_LABEL + 1);
    }
    hp_text_pad(out, "", LEFT_COLUMNS - ROW_NUMBER - HP_PHASE_COUNT * (ROW_LABEL + 1));
}

void hp_table_print(const hp_report_case *subject, const hp_report_row row[HP_WIRING_COUNT],
                    bool colour, FILE *out)
{
    print_column_heads(subject->labels, out);
    print_row_head(subject->labels, out);
    for (int r = 0; r < HP_ORDER_COUNT; r++) {
        print_row_title(subject->labels, r, out);
        for (int c = 0; c < HP_ORDER_COUNT; c++) {
            hp_verdict verdict = row[HP_ORDER_COUNT * r + c].verdict;
            print_word(cell_word(verdict), verdict, c + 1 < HP_ORDER_COUNT ? CELL_COLUMNS : 0,
                       colour, out);
        }
        fputc('\n', out);
    }
    hp_text_fill(out, "", 0,
                 "A wiring's number is the number at the left of its row plus the one above its "
                 "column.");
}

/* Smooth before rough, forward before backward, early before late before neither; then by number.
 */
static int row_rank(const hp_report_row *row)
{
    static const int kind_rank[HP_KIND_COUNT] = {2, 0, 1};
    return (int)row->verdict * 100 + (int)row->direction * 10 + kind_rank[row->kind];
}

static int compare_rows(const void *a, const void *b)
{
    const hp_report_row *left = *(const hp_report_row *const *)a;
    const hp_report_row *right = *(const hp_report_row *const *)b;
    int difference = row_rank(left) - row_rank(right);
    return difference ? difference : left->number - right->number;
}

/* A ratio in six columns; ones beyond 1000 say only that they are huge. */
static char *ratio_text(double value, char out[16])
{
    if (!isfinite(value) || value >= 999.5)
        strcpy(out, ">1000");
    else
        snprintf(out, 16, value < 9.995 ? "%.2f" : value < 99.95 ? "%.1f" : "%.0f", value);
    return out;
}

static void print_row(const hp_report_row *row, bool geared, bool colour, FILE *out)
{
    char ripple[16], excess[16], verdict[32], starts[32];
    const int *s = row->wiring.sensor, *p = row->wiring.phase;
    snprintf(verdict, sizeof verdict, "%s%s%s", hp_verdict_name(row->verdict),
             row->kind == HP_KIND_NONE ? "" : " ", hp_rough_kind_name(row->kind));
    fprintf(out, "%3d %c%c%c %c%c%c ", row->number, hp_phase_letter(s[0]), hp_phase_letter(s[1]),
            hp_phase_letter(s[2]), hp_phase_letter(p[0]), hp_phase_letter(p[1]),
            hp_phase_letter(p[2]));
    print_word(verdict, row->verdict, 11, colour, out);
    fprintf(out, " %7.1f ", fabs(row->speed_rpm));
    if (geared)
        fprintf(out, "%7.1f ", fabs(row->wheel_speed_rpm));
    snprintf(starts, sizeof starts, "%d of %d", row->starts, row->starts_tried);
    fprintf(out, "%-8s %7.2f %6s %6s %8s\n", hp_direction_name(row->direction),
            row->battery_current_a, ratio_text(row->torque_ripple, ripple),
            ratio_text(row->current_excess, excess), starts);
}

static void print_row_heads(bool geared, FILE *out)
{
    const char *wheel = geared ? "  wheel " : "", *wheel_unit = geared ? "rev/min " : "";
    fprintf(out, "    leads at              rotor %s         battery torque current\n", wheel);
    fprintf(out, "no. S   P   verdict     rev/min %sway            A ripple excess   starts\n",
            wheel_unit);
}

static void explain_columns(bool geared, FILE *out)
{
    hp_text_fill(out, "", 0,
                 "S and P: the motor's sensor and phase leads at the controller's U, V, W. Torque "
                 "ripple: rms of the torque about its mean, over the mean. Current excess: power "
                 "from the battery over the power that friction takes; near 1 is right. Starts: "
                 "rest angles from which it turned.");
    if (geared)
        hp_text_fill(out, "", 0,
                     "Rotor and wheel turn at different speeds here: the hub is geared or has a "
                     "one-way clutch. Where the wheel stands still, listen for the rotor.");
}

static void print_undecided(const hp_report_row *const *row, int count, FILE *out)
{
    for (int k = 0; k < count; k++) {
        char title[32], clean[sizeof row[k]->reason];
        if (row[k]->verdict != HP_VERDICT_UNDECIDED)
            continue;
        snprintf(title, sizeof title, "%3d ?", row[k]->number);
        hp_text_fill(out, title, 8, hp_text_clean(row[k]->reason, clean, sizeof clean));
    }
}

void hp_rows_print(const hp_report_case *subject, const hp_report_row *row, int count, bool colour,
                   FILE *out)
{
    bool geared = hp_report_case_geared(subject);
    const hp_report_row *sorted[HP_WIRING_COUNT];
    int turning = 0;
    for (int k = 0; k < count; k++) {
        sorted[k] = &row[k];
        turning += row[k].verdict < HP_VERDICT_STALLED;
    }
    qsort(sorted, (size_t)count, sizeof sorted[0], compare_rows);
    if (turning == 0)
        fprintf(out, "No wiring turns.\n");
    else
        print_row_heads(geared, out);
    for (int k = 0; k < turning; k++)
        print_row(sorted[k], geared, colour, out);
    if (turning > 0)
        explain_columns(geared, out);
    print_undecided(sorted, count, out);
}

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
 * fault, or of sensors spaced for another controller (derived: survey of such scenarios). */
static void print_no_smooth(const hp_report_row row[HP_WIRING_COUNT], FILE *out)
{
    double limit = hp_thresholds_default().excess_max;
    int quiet = 0, turning = 0;
    char text[600];
    for (int k = 0; k < HP_WIRING_COUNT; k++) {
        turning += row[k].starts > 0;
        quiet += row[k].verdict == HP_VERDICT_ROUGH && row[k].current_excess <= limit &&
                 row[k].starts < row[k].starts_tried;
    }
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "No wiring turns this motor smoothly at this throttle from every rest "
                      "angle.");
    if (quiet > 0)
        hp_phrase_add(&p, " %d run quietly once they turn, but do not always start.", quiet);
    hp_phrase_add(&p, "%s",
                  turning > 0
                      ? " Suspect an open phase lead, a dead sensor, or sensors spaced otherwise "
                        "than the controller expects."
                      : " None turns at all. Suspect too little throttle for the friction, too "
                        "short a run, sensors without supply, or a controller that cut out.");
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
                             FILE *out)
{
    hp_wiring wiring;
    char text[200];
    if (!same_names(labels->controller_input, labels->motor_sensor, wiring.sensor) ||
        !same_names(labels->controller_output, labels->motor_lead, wiring.phase))
        return;
    const hp_report_row *r = &row[hp_wiring_number(&wiring) - 1];
    snprintf(text, sizeof text, "Each lead joined to its namesake is wiring %d: %s%s%s.", r->number,
             hp_verdict_name(r->verdict), r->kind == HP_KIND_NONE ? "" : ", ",
             hp_rough_kind_name(r->kind));
    hp_text_fill(out, "", HP_PARTS_INDENT, text);
}

static void print_result(const hp_report_case *subject, const hp_report_row row[HP_WIRING_COUNT],
                         FILE *out)
{
    char forward[200], backward[200], text[600];
    list_numbers(row, HP_VERDICT_CORRECT, forward, sizeof forward);
    list_numbers(row, HP_VERDICT_REVERSE, backward, sizeof backward);
    if (!forward[0] && !backward[0]) {
        print_no_smooth(row, out);
        print_same_names(subject->labels, row, out);
        return;
    }
    snprintf(text, sizeof text, "Smooth forward: %s. Smooth in reverse: %s.",
             forward[0] ? forward : "none", backward[0] ? backward : "none");
    hp_text_fill(out, "Result", HP_PARTS_INDENT, text);
    print_same_names(subject->labels, row, out);
    for (int k = 0; k < HP_WIRING_COUNT && forward[0]; k++) {
        if (row[k].verdict != HP_VERDICT_CORRECT)
            continue;
        fprintf(out, "\nWiring %d joins\n", row[k].number);
        hp_joints_print(subject, &row[k].wiring, out);
        return;
    }
}

void hp_survey_print(const hp_report_case *subject, const hp_survey *survey, bool colour, FILE *out)
{
    hp_report_row row[HP_WIRING_COUNT];
    hp_report_rows_make(survey, row);
    hp_parts_print(subject, out);
    fputc('\n', out);
    hp_table_print(subject, row, colour, out);
    fputc('\n', out);
    hp_rows_print(subject, row, HP_WIRING_COUNT, colour, out);
    fputc('\n', out);
    print_result(subject, row, out);
    fputc('\n', out);
    hp_cautions_print(out);
}
