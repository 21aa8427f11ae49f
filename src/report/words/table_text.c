/* The tables of a survey: see the header. */
#include "report/words/table_text.h"

#include "hubphase/base/text.h"
#include "report/data/report_case.h"
#include "report/words/parts_text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Columns of the 6 x 6 table where names are short; longer ones widen it as far as it fits. */
#define CELL_COLUMNS 9
#define ROW_NUMBER   4
#define ROW_LABEL    6 /* of a lead's name in a row title: three of them stand there */
#define HEAD_LABEL   8 /* ... and above a column */
/* ... where row titles stand on lines of their own. */
#define NARROW_INDENT 1
#define NARROW_CELL   8

/* 256-colour numbers nearest to the palette of Okabe & Ito (Color Universal Design, 2008): bluish
 * green, blue, orange, vermilion; grey for what is not known. */
static const int verdict_colour[HP_VERDICT_COUNT] = {36, 32, 214, 166, 245};

static const char *cell_word(hp_verdict verdict)
{
    return verdict == HP_VERDICT_UNDECIDED ? "?" : hp_verdict_name(verdict);
}

static void print_word(const char *word, hp_verdict verdict, int columns, const hp_screen *out)
{
    int missing = columns - (int)strlen(word);
    if (out->colour)
        fprintf(out->file, "\033[1;38;5;%dm%s\033[0m", verdict_colour[verdict], word);
    else
        fputs(word, out->file);
    fprintf(out->file, "%*s", missing > 0 ? missing : 0, "");
}

/* The names of the leads in the table, or their letters where a name does not fit whole into
 * `columns`, or two look alike. */
static void table_labels(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], int columns,
                         char out[HP_PHASE_COUNT][HP_LABEL_SIZE])
{
    bool good = true;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        hp_text_clean(label[k], out[k], HP_LABEL_SIZE);
        for (int j = 0; j < k; j++)
            good = good && strcmp(out[j], out[k]) != 0;
        good = good && out[k][0] != '\0' && hp_text_columns(out[k]) <= columns;
    }
    for (int k = 0; !good && k < HP_PHASE_COUNT; k++) {
        out[k][0] = hp_phase_letter(k);
        out[k][1] = '\0';
    }
}

static int widest(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE])
{
    char clean[HP_LABEL_SIZE];
    int columns = 0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        int own = hp_text_columns(hp_text_clean(label[k], clean, sizeof clean));
        columns = own > columns ? own : columns;
    }
    return columns;
}

/* How the 6 x 6 table is laid out. */
typedef struct grid {
    int left;  /* columns of a row title; 0: it stands on a line of its own */
    int label; /* of a name in it */
    int cell;
    char lead[HP_PHASE_COUNT][HP_LABEL_SIZE]; /* as they are named in it */
    char sensor[HP_PHASE_COUNT][HP_LABEL_SIZE];
    char input[HP_PHASE_COUNT][HP_LABEL_SIZE];
} grid;

static int grid_columns(const grid *g)
{
    return g->left + HP_ORDER_COUNT * g->cell - 1;
}

static void grid_set(grid *g, int label, int head)
{
    g->label = label > ROW_LABEL ? label : ROW_LABEL;
    g->left = ROW_NUMBER + HP_PHASE_COUNT * (g->label + 1) + 1;
    g->cell = head + 1 > CELL_COLUMNS ? head + 1 : CELL_COLUMNS;
}

/* Whole names where the screen has room for them, else letters, else titles between the rows. */
static grid grid_make(const hp_labels *labels, int columns)
{
    grid g;
    int row = widest(labels->motor_sensor), input = widest(labels->controller_input);
    int head = widest(labels->motor_lead);
    row = input > row ? input : row;
    grid_set(&g, row, head);
    if (grid_columns(&g) > columns)
        grid_set(&g, ROW_LABEL, head);
    if (grid_columns(&g) > columns)
        grid_set(&g, row, HEAD_LABEL);
    if (grid_columns(&g) > columns)
        grid_set(&g, ROW_LABEL, HEAD_LABEL);
    if (grid_columns(&g) > columns) {
        g.left = 0;
        g.cell = NARROW_CELL;
    }
    table_labels(labels->motor_lead, g.cell - 1, g.lead);
    table_labels(labels->motor_sensor, g.left ? g.label : HP_LABEL_SIZE, g.sensor);
    table_labels(labels->controller_input, g.left ? g.label : HP_LABEL_SIZE, g.input);
    return g;
}

/* Begins a row under or behind its title. */
static void print_title(const grid *g, const char *title, const hp_screen *out)
{
    if (g->left) {
        hp_text_pad(out->file, title, g->left);
        return;
    }
    hp_text_fill(out, "", 0, title);
    hp_text_pad(out->file, "", NARROW_INDENT);
}

/* Three lines above the columns: which motor lead is on each controller output. */
static void print_column_heads(const grid *g, const hp_labels *labels, const hp_screen *out)
{
    fprintf(out->file, "MOTOR PHASE LEADS\n");
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        char name[HP_LABEL_SIZE + 8], title[HP_LABEL_SIZE + 24];
        snprintf(title, sizeof title, "on output %s",
                 hp_lead_name(j, labels->controller_output[j], name, sizeof name));
        if (g->left && hp_text_columns(title) > g->left - 2)
            snprintf(title, sizeof title, "on output %c", hp_phase_letter(j));
        print_title(g, title, out);
        for (int c = 0; c < HP_ORDER_COUNT; c++) {
            int order[HP_PHASE_COUNT];
            hp_order_get(c, order);
            hp_text_pad(out->file, g->lead[order[j]], c + 1 < HP_ORDER_COUNT ? g->cell : 0);
        }
        fputc('\n', out->file);
    }
}

/* Three names in a row title, behind the number of the row's first wiring (0: none). */
static void print_names(const grid *g, int number, char name[HP_PHASE_COUNT][HP_LABEL_SIZE],
                        const int order[HP_PHASE_COUNT], const hp_screen *out)
{
    char title[HP_PHASE_COUNT * (HP_LABEL_SIZE + 2) + 16], first[16] = "";
    if (number)
        snprintf(first, sizeof first, "%2d", number);
    if (!g->left) {
        snprintf(title, sizeof title, "%s%s%s, %s, %s", first, number ? "  " : "at ",
                 name[order[0]], name[order[1]], name[order[2]]);
        print_title(g, title, out);
        return;
    }
    hp_text_pad(out->file, first, ROW_NUMBER);
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        hp_text_pad(out->file, name[order[j]], g->label + 1);
    hp_text_pad(out->file, "", g->left - ROW_NUMBER - HP_PHASE_COUNT * (g->label + 1));
}

/* Above the row titles: which controller input each of the three names stands at; and the second
 * half of the numbers. */
static void print_row_head(grid *g, const hp_screen *out)
{
    static const int order[HP_PHASE_COUNT] = {HP_U, HP_V, HP_W};
    fprintf(out->file, "MOTOR HALL LEADS on inputs\n");
    print_names(g, 0, g->input, order, out);
    for (int c = 0; c < HP_ORDER_COUNT; c++)
        fprintf(out->file, "+%-*d", c + 1 < HP_ORDER_COUNT ? g->cell - 1 : 1, c);
    fputc('\n', out->file);
}

void hp_table_print(const hp_report_case *subject, const hp_report_row row[HP_WIRING_COUNT],
                    const hp_screen *out)
{
    grid g = grid_make(subject->labels, out->columns);
    print_column_heads(&g, subject->labels, out);
    print_row_head(&g, out);
    for (int r = 0; r < HP_ORDER_COUNT; r++) {
        int order[HP_PHASE_COUNT];
        hp_order_get(r, order);
        print_names(&g, 1 + HP_ORDER_COUNT * r, g.sensor, order, out);
        for (int c = 0; c < HP_ORDER_COUNT; c++) {
            hp_verdict verdict = row[HP_ORDER_COUNT * r + c].verdict;
            print_word(cell_word(verdict), verdict, c + 1 < HP_ORDER_COUNT ? g.cell : 0, out);
        }
        fputc('\n', out->file);
    }
    hp_text_fill(out, "", 0,
                 g.left ? "A wiring's number is the number at the left of its row plus the one "
                          "above its column."
                        : "A wiring's number is the number before its row plus the one above its "
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

/* The leads of wirings in columns, as wide as the names. */
typedef struct columns {
    int sensor, phase; /* columns of a name; 0: names and wirings stand in sentences */
} columns;

#define NUMBER_COLUMNS 6 /* before the leads of a wiring */

static columns columns_make(const hp_labels *labels, int most)
{
    int input = widest(labels->controller_input), output = widest(labels->controller_output);
    columns c = {widest(labels->motor_sensor), widest(labels->motor_lead)};
    c.sensor = input > c.sensor ? input : c.sensor;
    c.phase = output > c.phase ? output : c.phase;
    if (NUMBER_COLUMNS + HP_PHASE_COUNT * (c.sensor + c.phase + 2) > most)
        c = (columns){0, 0};
    return c;
}

static void print_three(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE],
                        const int order[HP_PHASE_COUNT], int wide, bool last, const hp_screen *out)
{
    char clean[HP_LABEL_SIZE];
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        hp_text_pad(out->file, hp_text_clean(label[order[j]], clean, sizeof clean),
                    last && j + 1 == HP_PHASE_COUNT ? 0 : wide + 1);
}

static void add_three(hp_phrase *p, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE],
                      const int order[HP_PHASE_COUNT])
{
    char clean[HP_LABEL_SIZE];
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        hp_phrase_add(p, "%s%s", j ? ", " : "",
                      hp_text_clean(label[order[j]], clean, sizeof clean));
}

/* "29  blue yellow green   blue yellow green" */
static void print_wiring(const hp_labels *labels, const hp_report_row *row, columns wide,
                         const hp_screen *out)
{
    char number[16];
    snprintf(number, sizeof number, "%4d", row->number);
    if (wide.sensor) {
        hp_text_pad(out->file, number, NUMBER_COLUMNS);
        print_three(labels->motor_sensor, row->wiring.sensor, wide.sensor, false, out);
        print_three(labels->motor_lead, row->wiring.phase, wide.phase, true, out);
        fputc('\n', out->file);
        return;
    }
    char text[2 * HP_PHASE_COUNT * (HP_LABEL_SIZE + 2) + 8];
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    add_three(&p, labels->motor_sensor, row->wiring.sensor);
    hp_phrase_add(&p, "; ");
    add_three(&p, labels->motor_lead, row->wiring.phase);
    hp_text_fill(out, number, NUMBER_COLUMNS, text);
}

static const int straight[HP_PHASE_COUNT] = {HP_U, HP_V, HP_W};

static void print_wiring_heads(const hp_labels *labels, columns wide, const hp_screen *out)
{
    char text[2 * HP_PHASE_COUNT * (HP_LABEL_SIZE + 2) + 160];
    if (wide.sensor) {
        int sensors = HP_PHASE_COUNT * (wide.sensor + 1);
        hp_text_pad(out->file, "", NUMBER_COLUMNS);
        hp_text_pad(out->file, sensors > 9 ? "at inputs" : "in", sensors);
        fprintf(out->file, "%s\n", sensors > 9 ? "at outputs" : "out");
        hp_text_pad(out->file, " no.", NUMBER_COLUMNS);
        print_three(labels->controller_input, straight, wide.sensor, false, out);
        print_three(labels->controller_output, straight, wide.phase, true, out);
        fputc('\n', out->file);
        return;
    }
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "the Hall leads at inputs ");
    add_three(&p, labels->controller_input, straight);
    hp_phrase_add(&p, "; the phase leads at outputs ");
    add_three(&p, labels->controller_output, straight);
    hp_text_fill(out, " no.", NUMBER_COLUMNS, text);
}

/* ---- the figures ----------------------------------------------------------------------------- */

#define FIGURES_COLUMNS 68 /* of the widest line of figures in columns */

/* The figures of a row, as they are shown: rows that show the same ones stand together. */
typedef struct figures {
    char verdict[32];
    char text[200];
} figures;

static void figures_make(const hp_report_row *row, bool geared, bool table, figures *f)
{
    char ripple[16], excess[16];
    memset(f, 0, sizeof *f);
    snprintf(f->verdict, sizeof f->verdict, "%s%s%s", hp_verdict_name(row->verdict),
             row->kind == HP_KIND_NONE ? "" : " ", hp_rough_kind_name(row->kind));
    ratio_text(row->torque_ripple, ripple);
    ratio_text(row->current_excess, excess);
    hp_phrase p = hp_phrase_begin(f->text, sizeof f->text);
    if (table) {
        hp_phrase_add(&p, " %7.1f ", fabs(row->speed_rpm));
        if (geared)
            hp_phrase_add(&p, "%7.1f ", fabs(row->wheel_speed_rpm));
        hp_phrase_add(&p, "%-8s %7.2f %6s %6s   %d of %d", hp_direction_name(row->direction),
                      row->battery_current_a, ripple, excess, row->starts, row->starts_tried);
        return;
    }
    hp_phrase_add(&p, "rotor %.1f rev/min %s", fabs(row->speed_rpm),
                  hp_direction_name(row->direction));
    if (geared)
        hp_phrase_add(&p, ", wheel %.1f rev/min", fabs(row->wheel_speed_rpm));
    hp_phrase_add(&p, "; battery %.2f A, ripple %s, excess %s, starts %d of %d",
                  row->battery_current_a, ripple, excess, row->starts, row->starts_tried);
}

static void print_figures(const figures *f, const hp_report_row *row, bool table,
                          const hp_screen *out)
{
    print_word(f->verdict, row->verdict, table ? 11 : 0, out);
    if (table)
        fprintf(out->file, "%s\n", f->text);
    else {
        fputc('\n', out->file);
        hp_text_fill(out, "", 2, f->text);
    }
}

static void print_row_heads(bool geared, const hp_screen *out)
{
    const char *wheel = geared ? "  wheel " : "", *wheel_unit = geared ? "rev/min " : "";
    fprintf(out->file, "              rotor %s         battery torque current\n", wheel);
    fprintf(out->file, "verdict     rev/min %sway            A ripple excess   starts\n",
            wheel_unit);
}

/* The wirings that turn, those with the same figures under one line of them. */
static void print_turning(const hp_report_case *subject, const hp_report_row *const *row, int count,
                          const hp_screen *out)
{
    bool geared = hp_report_case_geared(subject), table = out->columns >= FIGURES_COLUMNS;
    columns wide = columns_make(subject->labels, out->columns);
    figures before = {.verdict = ""};
    if (table)
        print_row_heads(geared, out);
    print_wiring_heads(subject->labels, wide, out);
    for (int k = 0; k < count; k++) {
        figures own;
        figures_make(row[k], geared, table, &own);
        if (strcmp(own.verdict, before.verdict) != 0 || strcmp(own.text, before.text) != 0)
            print_figures(&own, row[k], table, out);
        before = own;
        print_wiring(subject->labels, row[k], wide, out);
    }
}

#define STALLED_INDENT 12

/* All that make no net turn, in one sentence, though some do from few start positions. */
static void print_stalled(const hp_report_row *row, int count, const hp_screen *out)
{
    double low = INFINITY, high = -INFINITY;
    char text[160];
    int stalled = 0, partly = 0;
    for (int k = 0; k < count; k++) {
        if (row[k].verdict != HP_VERDICT_STALLED)
            continue;
        stalled++;
        partly += row[k].starts > 0;
        low = fmin(low, row[k].battery_current_a);
        high = fmax(high, row[k].battery_current_a);
    }
    if (stalled == 0)
        return;
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "%d wiring%s make%s no net turn", stalled, stalled == 1 ? "" : "s",
                  stalled == 1 ? "s" : "");
    if (low <= high)
        hp_phrase_add(&p, ", battery %.2f", low);
    if (high - low >= 0.01)
        hp_phrase_add(&p, " to %.2f", high);
    hp_phrase_add(&p, low <= high ? " A" : "");
    if (partly > 0)
        hp_phrase_add(&p, "; %d of them turn%s from a few start positions", partly,
                      partly == 1 ? "s" : "");
    print_word(hp_verdict_name(HP_VERDICT_STALLED), HP_VERDICT_STALLED, STALLED_INDENT, out);
    hp_text_fill_on(out, STALLED_INDENT, STALLED_INDENT, text);
}

static void explain_columns(bool geared, const hp_screen *out)
{
    hp_text_fill(
        out, "", 0,
        "Correct: smooth and forward. Reverse: smooth, but backward. Each line: a wiring, its "
        "motor Hall leads at the controller's inputs and its "
        "motor phase leads at the outputs; above those that behave alike, their figures. Torque "
        "ripple: rms of the torque about its mean, over the mean. Current excess: power "
        "from the battery over the power that moves the machine; near 1 when correct. "
        "Starts: start positions from which it turned.");
    if (geared)
        hp_text_fill(out, "", 0,
                     "Rotor and wheel turn at different speeds here: the hub is geared or has a "
                     "one-way clutch. Where the wheel does not turn, listen for the rotor. Way: of "
                     "the wheel where it turns; a rotor that only shuffles may pump it forward "
                     "through the clutch.");
}

/* Each reason once, with all wirings that share it: "1, 4 and 9 ?". */
static void print_undecided(const hp_report_row *row, int count, const hp_screen *out)
{
    for (int k = 0; k < count; k++) {
        if (row[k].verdict != HP_VERDICT_UNDECIDED)
            continue;
        bool first = true;
        for (int j = 0; j < k; j++)
            first = first && (row[j].verdict != HP_VERDICT_UNDECIDED ||
                              strcmp(row[j].reason, row[k].reason) != 0);
        if (!first)
            continue;
        char text[HP_WIRING_COUNT * 4 + sizeof row[k].reason + 40];
        char clean[sizeof row[k].reason];
        hp_phrase p = hp_phrase_begin(text, sizeof text);
        for (int j = k; j < count; j++)
            if (row[j].verdict == HP_VERDICT_UNDECIDED && strcmp(row[j].reason, row[k].reason) == 0)
                hp_phrase_add(&p, "%s%d", j > k ? ", " : "", row[j].number);
        hp_phrase_add(&p, " undecided: %s", hp_text_clean(row[k].reason, clean, sizeof clean));
        hp_text_fill(out, "", 0, text);
    }
}

/* Wirings with figures to show: those that turn, and those that only lack a verdict. */
static bool has_row(const hp_report_row *row)
{
    return row->verdict < HP_VERDICT_STALLED ||
           (row->verdict == HP_VERDICT_UNDECIDED && row->measured);
}

void hp_rows_print(const hp_report_case *subject, const hp_report_row *row, int count,
                   const hp_screen *out)
{
    bool geared = hp_report_case_geared(subject);
    const hp_report_row *sorted[HP_WIRING_COUNT], *with_figures[HP_WIRING_COUNT];
    int turning = 0, shown = 0;
    for (int k = 0; k < count; k++) {
        sorted[k] = &row[k];
        turning += row[k].verdict < HP_VERDICT_STALLED;
    }
    /* Pointers: NOLINTNEXTLINE(bugprone-sizeof-expression) */
    qsort(sorted, (size_t)count, sizeof sorted[0], compare_rows);
    for (int k = 0; k < count; k++)
        if (has_row(sorted[k]))
            with_figures[shown++] = sorted[k];
    if (shown > 0)
        print_turning(subject, with_figures, shown, out);
    else if (turning == 0)
        fprintf(out->file, "No wiring turns.\n");
    print_stalled(row, count, out);
    if (shown > 0)
        explain_columns(geared, out);
    print_undecided(row, count, out);
}
