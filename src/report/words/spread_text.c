/* A spread as text: see the header. */
#include "hubphase/report/tables.h"

#include "hubphase/base/text.h"
#include "hubphase/report/case_words.h"
#include "report/data/report_case.h"
#include "report/data/spread_columns.h"
#include "report/words/parts_text.h"
#include "report/words/table_text.h"

#include <math.h>
#include <string.h>

/* Columns of the tables. */
#define LEADS_COLUMNS 11
#define SHARE_COLUMNS 8
#define KIND_COLUMNS  6
#define SPEED_COLUMNS 8
#define BAND_COLUMNS  7
#define WORDS_COLUMNS 22
#define NUMBER_SIZE   32
#define DRIVERS_SHOWN 2 /* further ones stand in the JSON */

/* A paragraph under construction; what does not fit is cut. */
typedef struct paragraph {
    char text[1600];
    size_t used;
} paragraph;

static void add(paragraph *p, const char *text)
{
    size_t room = sizeof p->text - p->used, length = strlen(text);
    if (length >= room)
        length = room - 1;
    memcpy(p->text + p->used, text, length);
    p->used += length;
    p->text[p->used] = '\0';
}

static void print_ensemble(const hp_spread *spread, const hp_screen *out)
{
    char text[200];
    paragraph varied = {.used = 0};
    snprintf(text, sizeof text,
             "%d motor%s like the one described, seed %llu; each wiring of each from %d start "
             "position%s of the rotor",
             spread->plan.motors, spread->plan.motors == 1 ? "" : "s",
             (unsigned long long)spread->plan.seed, spread->starts, spread->starts == 1 ? "" : "s");
    hp_text_fill(out, "Ensemble", HP_PARTS_INDENT, text);
    if (spread->motors < spread->plan.motors) {
        snprintf(text, sizeof text, "after the first %d of them; all below is about these",
                 spread->motors);
        hp_text_fill(out, "Stopped", HP_PARTS_INDENT, text);
    }
    for (int q = 0; q < HP_SPREAD_QUANTITIES; q++) {
        if (!spread->varies[q])
            continue;
        add(&varied, varied.used ? "; " : "");
        add(&varied, hp_spread_quantity_words(q));
        add(&varied, " ");
        add(&varied, hp_spread_width_text(&spread->plan, q, text, sizeof text));
    }
    hp_text_fill(out, "Varied by", HP_PARTS_INDENT, varied.used ? varied.text : "nothing");
}

/* ---- a line for each wiring ------------------------------------------------------------------ */

static void print_leads(int number, const hp_screen *out)
{
    hp_wiring wiring = hp_wiring_from_number(number);
    const int *s = wiring.sensor, *p = wiring.phase;
    fprintf(out->file, "%3d %c%c%c %c%c%c", number, hp_phase_letter(s[0]), hp_phase_letter(s[1]),
            hp_phase_letter(s[2]), hp_phase_letter(p[0]), hp_phase_letter(p[1]),
            hp_phase_letter(p[2]));
}

/* Per cent; "-" for none at all, so that the rest stands out. */
static void print_share(double share, int columns, const hp_screen *out)
{
    if (share == 0.0)
        fprintf(out->file, "%*s", columns, "-");
    else if (share > 0.0 && share < 0.005)
        fprintf(out->file, "%*s", columns, "<0.5");
    else
        fprintf(out->file, "%*.*f", columns, share > 0.995 && share < 1.0 ? 1 : 0,
                fmin(100.0 * share, share < 1.0 ? 99.9 : 100.0));
}

static void print_nearest(const hp_spread_nearest *nearest, const hp_screen *out)
{
    double factor = exp(nearest->margin.log_ratio);
    if (nearest->margin.threshold == HP_THRESHOLD_NONE)
        fprintf(out->file, "  none\n");
    else if (factor >= 999.5)
        fprintf(out->file, "  >1000 %s\n", hp_threshold_name(nearest->margin.threshold));
    else
        fprintf(out->file, "  %.*f %s\n",
                factor < 9.995   ? 2
                : factor < 99.95 ? 1
                                 : 0,
                factor, hp_threshold_name(nearest->margin.threshold));
}

/* "12 %", of shares that are none: nothing. */
static void add_share(hp_phrase *p, const char *what, double share)
{
    if (share > 0.0)
        hp_phrase_add(p, "%s%s %s%.0f %%", p->used ? ", " : "", what, share < 0.005 ? "<" : "",
                      100.0 * fmax(share, 0.01));
}

/* One wiring as a sentence, where the table does not fit. */
static void tell_shares(const hp_spread_summary *s, const hp_screen *out)
{
    char text[400], title[16];
    double factor = exp(s->nearest.margin.log_ratio);
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    for (int v = 0; v < HP_VERDICT_COUNT; v++)
        add_share(&p, v == HP_VERDICT_UNDECIDED ? "undecided" : hp_verdict_name((hp_verdict)v),
                  s->share[v]);
    add_share(&p, "early", s->share_kind[HP_KIND_EARLY]);
    add_share(&p, "late", s->share_kind[HP_KIND_LATE]);
    if (s->nearest.margin.threshold != HP_THRESHOLD_NONE)
        hp_phrase_add(&p, "; nearest %s%.*f %s", factor >= 999.5 ? ">" : "", factor < 9.995 ? 2 : 0,
                      fmin(factor, 1000.0), hp_threshold_name(s->nearest.margin.threshold));
    snprintf(title, sizeof title, "%3d", s->number[0]);
    hp_text_fill(out, title, 4, text);
}

static void print_shares_table(const hp_spread *spread, const hp_screen *out)
{
    fprintf(out->file, "%-*s%-*snearest\n", LEADS_COLUMNS + 2, "",
            5 * SHARE_COLUMNS + 2 * KIND_COLUMNS, "share of the motors, %");
    fprintf(out->file, "%-*s%*s%*s%*s%*s%*s%*s%*s  threshold\n", LEADS_COLUMNS, "no. S   P",
            SHARE_COLUMNS, "correct", SHARE_COLUMNS, "reverse", SHARE_COLUMNS, "rough",
            SHARE_COLUMNS, "stalled", SHARE_COLUMNS, "undecided", KIND_COLUMNS, "early",
            KIND_COLUMNS, "late");
    for (int g = 0; g < spread->groups; g++) {
        for (int k = 0; k < spread->group[g].wirings; k++) {
            const hp_spread_summary *s = &spread->wiring[spread->group[g].number[k] - 1];
            print_leads(s->number[0], out);
            for (int v = 0; v < HP_VERDICT_COUNT; v++)
                print_share(s->share[v], SHARE_COLUMNS, out);
            print_share(s->share_kind[HP_KIND_EARLY], KIND_COLUMNS, out);
            print_share(s->share_kind[HP_KIND_LATE], KIND_COLUMNS, out);
            print_nearest(&s->nearest, out);
        }
    }
}

/* Columns of the widest lines. */
#define TABLE_COLUMNS 79

static void print_shares(const hp_spread *spread, const hp_screen *out)
{
    bool fits = out->columns >= TABLE_COLUMNS;
    if (fits)
        print_shares_table(spread, out);
    else
        fprintf(out->file, "Share of the motors, wiring by wiring\n");
    for (int g = 0; !fits && g < spread->groups; g++)
        for (int k = 0; k < spread->group[g].wirings; k++)
            tell_shares(&spread->wiring[spread->group[g].number[k] - 1], out);
    hp_text_fill(
        out, "", 0,
        "S and P: the motor's Hall leads and phase leads at the controller's U, V, W. Early "
        "and late are the parts of rough whose speed tells how the field stands. Nearest "
        "threshold: the factor by which a figure of the motor that comes nearest would "
        "have to move for another verdict, and which one: turn (does it turn at all), "
        "excess (of current), steadiness (of speed), comparison (with "
        "a wiring that turns the same way). Near the limit a motor either "
        "runs up or does not start, so verdicts can differ though no figure is near its "
        "limit.");
}

/* ---- bands ----------------------------------------------------------------------------------- */

static char *number_text(double value, char out[NUMBER_SIZE])
{
    double size = fabs(value);
    if (isnan(value))
        snprintf(out, NUMBER_SIZE, "?");
    else if (size >= 99999.5)
        snprintf(out, NUMBER_SIZE, "%s", value > 0.0 ? ">99999" : "<-99999");
    else
        snprintf(out, NUMBER_SIZE, "%.*f",
                 size < 9.995    ? 2
                 : size < 999.95 ? 1
                                 : 0,
                 size < 0.005 ? 0.0 : value);
    return out;
}

static void print_number(double value, int columns, const hp_screen *out)
{
    char text[NUMBER_SIZE];
    fprintf(out->file, "%*s", columns, number_text(value, text));
}

/* "77.4, 78.0, 79.1" */
static void add_band(hp_phrase *p, hp_spread_band band)
{
    char low[NUMBER_SIZE], middle[NUMBER_SIZE], high[NUMBER_SIZE];
    hp_phrase_add(p, "%s, %s, %s", number_text(band.low, low), number_text(band.middle, middle),
                  number_text(band.high, high));
}

static void print_band(hp_spread_band band, int columns, const hp_screen *out)
{
    print_number(band.low, columns, out);
    print_number(band.middle, columns, out);
    print_number(band.high, columns, out);
}

static bool turns(const hp_spread_summary *s)
{
    return s->share[HP_VERDICT_CORRECT] + s->share[HP_VERDICT_REVERSE] +
               s->share[HP_VERDICT_ROUGH] >
           0.0;
}

/* One wiring as a sentence, where the table does not fit. */
static void tell_bands(const hp_spread_summary *s, const hp_screen *out)
{
    char text[400], title[16];
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "rotor ");
    add_band(&p, hp_spread_column_band(s, HP_SPREAD_SPEED));
    hp_phrase_add(&p, " rev/min; battery ");
    add_band(&p, hp_spread_column_band(s, HP_SPREAD_BATTERY_CURRENT));
    hp_phrase_add(&p, " A; current excess ");
    add_band(&p, hp_spread_column_band(s, HP_SPREAD_EXCESS));
    snprintf(title, sizeof title, "%3d", s->number[0]);
    hp_text_fill(out, title, 4, text);
}

static void print_bands_heads(const hp_screen *out)
{
    if (out->columns < TABLE_COLUMNS) {
        hp_text_fill(out, "", 0, "At 5, 50 and 95 % of the motors");
        return;
    }
    fprintf(out->file, "%-*s%*s%*s%*s\n", LEADS_COLUMNS, "", 3 * SPEED_COLUMNS,
            "rotor speed, rev/min", 3 * BAND_COLUMNS, "battery current, A", 3 * BAND_COLUMNS,
            "current excess");
    fprintf(out->file, "%-*s", LEADS_COLUMNS, "no. S   P");
    for (int k = 0; k < 3; k++) {
        int columns = k == 0 ? SPEED_COLUMNS : BAND_COLUMNS;
        fprintf(out->file, "%*s%*s%*s", columns, "5 %", columns, "50 %", columns, "95 %");
    }
    fputc('\n', out->file);
}

static void print_bands(const hp_spread *spread, const hp_screen *out)
{
    print_bands_heads(out);
    for (int g = 0; g < spread->groups; g++) {
        for (int k = 0; k < spread->group[g].wirings; k++) {
            const hp_spread_summary *s = &spread->wiring[spread->group[g].number[k] - 1];
            if (!turns(s))
                continue;
            if (out->columns < TABLE_COLUMNS) {
                tell_bands(s, out);
                continue;
            }
            print_leads(s->number[0], out);
            print_band(hp_spread_column_band(s, HP_SPREAD_SPEED), SPEED_COLUMNS, out);
            print_band(hp_spread_column_band(s, HP_SPREAD_BATTERY_CURRENT), BAND_COLUMNS, out);
            print_band(hp_spread_column_band(s, HP_SPREAD_EXCESS), BAND_COLUMNS, out);
            fputc('\n', out->file);
        }
    }
    hp_text_fill(out, "", 0,
                 "5, 50 and 95 % of the motors lie at or below these values. Wirings that turn "
                 "with none of the motors are left out here.");
}

/* ---- groups ---------------------------------------------------------------------------------- */

/* Fills text beside what already stands on the line. */
static void print_beside(int column, const char *text, const hp_screen *out)
{
    char blanks[HP_TEXT_COLUMNS_MOST + 1];
    int first = out->columns - column, length = (int)strlen(text);
    /* The break that comes next to the end of the first line, after a comma. */
    int cut = length;
    if (length > first)
        for (cut = first; cut > 0 && !(text[cut] == ' ' && text[cut - 1] == ','); cut--)
            ;
    fprintf(out->file, "  %.*s\n", cut > 0 ? cut : length, text);
    if (cut <= 0 || cut == length)
        return;
    snprintf(blanks, sizeof blanks, "%*s", column, "");
    hp_text_fill(out, blanks, column, text + cut + 1);
}

/* "+friction 0.83, -back-EMF constant 0.41" */
static void drivers_text(const hp_spread_driver driver[HP_SPREAD_DRIVERS], paragraph *p)
{
    char text[120];
    for (int k = 0; k < DRIVERS_SHOWN && driver[k].quantity >= 0; k++) {
        double c = driver[k].rank_correlation;
        snprintf(text, sizeof text, "%s%s%s %.2f", k ? ", " : "", c > 0.0 ? "+" : "-",
                 hp_spread_quantity_words(driver[k].quantity), fabs(c));
        add(p, text);
    }
}

static void print_group_title(const hp_spread_summary *s, const hp_screen *out)
{
    char outcome[60], title[80];
    paragraph numbers = {.used = 0};
    for (int k = 0; k < s->wirings; k++) {
        char number[16];
        snprintf(number, sizeof number, "%s%d", k ? ", " : "", s->number[k]);
        add(&numbers, number);
    }
    snprintf(title, sizeof title, "%s: wiring%s ",
             hp_spread_outcome_text(s, outcome, sizeof outcome), s->wirings > 1 ? "s" : "");
    hp_text_fill(out, title, (int)strlen(title), numbers.text);
}

/* A figure and what drives it as a sentence. */
static void tell_figure(const hp_spread_summary *s, hp_spread_figure figure, const char *drivers,
                        const hp_screen *out)
{
    char text[600];
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "%s: ", hp_spread_column_words(figure));
    add_band(&p, hp_spread_column_band(s, figure));
    hp_phrase_add(&p, "%s%s", drivers[0] ? "; " : "", drivers);
    hp_text_fill(out, "  ", 4, text);
}

static void print_group(const hp_spread_summary *s, bool geared, const hp_screen *out)
{
    static const hp_spread_figure figures[] = {
        HP_SPREAD_SPEED,  HP_SPREAD_WHEEL_SPEED, HP_SPREAD_BATTERY_CURRENT, HP_SPREAD_PHASE_RMS,
        HP_SPREAD_RIPPLE, HP_SPREAD_EXCESS,      HP_SPREAD_STARTS};
    print_group_title(s, out);
    for (size_t k = 0; k < sizeof figures / sizeof figures[0]; k++) {
        if (figures[k] == HP_SPREAD_WHEEL_SPEED && !geared)
            continue;
        paragraph drivers = {.used = 0};
        drivers_text(s->driver[figures[k]], &drivers);
        if (out->columns < TABLE_COLUMNS) {
            tell_figure(s, figures[k], drivers.text, out);
            continue;
        }
        fprintf(out->file, "  %-*s", WORDS_COLUMNS, hp_spread_column_words(figures[k]));
        print_band(hp_spread_column_band(s, figures[k]), SPEED_COLUMNS, out);
        if (drivers.used)
            print_beside(WORDS_COLUMNS + 3 * SPEED_COLUMNS + 4, drivers.text, out);
        else
            fputc('\n', out->file);
    }
}

static void print_groups(const hp_report_case *subject, const hp_spread *spread,
                         const hp_screen *out)
{
    bool geared = hp_report_case_geared(subject);
    for (int g = 0; g < spread->groups; g++) {
        if (spread->group[g].verdict == HP_VERDICT_UNDECIDED)
            continue;
        print_group(&spread->group[g], geared, out);
        fputc('\n', out->file);
    }
    hp_text_fill(out, "", 0,
                 "Above, wirings with the same likeliest outcome are taken together: 5, 50 and 95 "
                 "% of their motors lie at or below the three numbers; then what drives the "
                 "figure, strongest first: + it rises with this, - it falls, and the rank "
                 "correlation (1: this alone orders the motors). A speed backward is negative.");
    if (spread->motors <= HP_SPREAD_NOISE * HP_SPREAD_NOISE + 1.0)
        hp_text_fill(out, "", 0, "With so few motors no driver can stand out from chance.");
}

/* ---- all ------------------------------------------------------------------------------------- */

void hp_spread_print(const hp_report_case *subject, const hp_spread *spread, const hp_screen *out)
{
    hp_report_row row[HP_WIRING_COUNT];
    memset(row, 0, sizeof row);
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        row[k].verdict = spread->wiring[k].verdict;
    hp_parts_print(subject, out);
    print_ensemble(spread, out);
    fprintf(out->file, "\nThe likeliest verdict of each wiring\n\n");
    hp_table_print(subject, row, out);
    fputc('\n', out->file);
    print_shares(spread, out);
    fputc('\n', out->file);
    print_bands(spread, out);
    fputc('\n', out->file);
    print_groups(subject, spread, out);
    fputc('\n', out->file);
    hp_cautions_print(out);
}
