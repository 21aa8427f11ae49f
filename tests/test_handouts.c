/*
 * Hand-outs of a club evening: groups differ, the same seed gives the same bytes, the answers match
 * the sheets, the dial's geometry is right, nothing is too small to read.
 *
 * The sheets are looked at from outside: places and words are read from the SVG in the HTML, what
 * they must be is reckoned here from wiring, table and survey.
 */
#include "scenario_text.h"

#include "hubphase/decide/survey.h"
#include "hubphase/report/documents.h"
#include "model/lead.h"
#include "report/handout/handout_draw.h"
#include "report/words/explain.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define GROUPS 4

typedef struct fixture {
    loaded l;
    hp_survey survey;
    hp_handout_source source;
} fixture;

static void load_scenario(fixture *f, const char *name)
{
    char path[1024];
    hp_error err = hp_error_none();
    hp_survey_options options = hp_survey_options_default();
    snprintf(path, sizeof path, "%s/%s.yaml", HP_SCENARIO_DIR, name);
    f->l = scenario_load_path(path);
    check_true(f->l.result == HP_OK, "%s", f->l.printed);
    options.run.seconds = f->l.scenario.run.seconds;
    options.run.settle_s = f->l.scenario.run.settle_s;
    options.starts = 2;
    check_true(hp_survey_run(&f->l.scenario.drive, &options, &f->survey, &err) == HP_OK, "%s",
               err.text);
}

/* Each scenario is surveyed once; what a test changes is its own copy. */
static struct {
    char name[16];
    fixture whole;
} kept[4];

static void open_scenario(fixture *f, const char *name)
{
    int k = 0;
    while (kept[k].name[0] && strcmp(kept[k].name, name) != 0)
        k++;
    if (!kept[k].name[0]) {
        load_scenario(&kept[k].whole, name);
        snprintf(kept[k].name, sizeof kept[k].name, "%s", name);
    }
    *f = kept[k].whole;
    f->source = (hp_handout_source){.subject = hp_report_case_of(&kept[k].whole.l.scenario),
                                    .survey = &f->survey,
                                    .seed = 7,
                                    .groups = GROUPS};
}

static int free_all(void **state)
{
    (void)state;
    for (int k = 0; k < 4 && kept[k].name[0]; k++) {
        hp_survey_free(&kept[k].whole.survey);
        hp_scenario_free(&kept[k].whole.l.scenario);
        free(kept[k].whole.l.printed);
    }
    return 0;
}

/* A hand-out as text, for the caller to free. */
static char *written(const hp_handout_source *source, const char *name, size_t *size)
{
    char *text = NULL, is[HP_HANDOUT_NAME];
    for (int k = 0; k < hp_handout_count(source); k++)
        for (int form = 0; form < HP_HANDOUT_FORM_COUNT; form++) {
            hp_error err = hp_error_none();
            if (strcmp(hp_handout_name(source, k, (hp_handout_form)form, is), name) != 0)
                continue;
            FILE *out = open_memstream(&text, size);
            check_true(hp_handout_write(source, k, (hp_handout_form)form, out, &err) == HP_OK, "%s",
                       err.text);
            fclose(out);
            return text;
        }
    fail_msg("no hand-out %s", name);
    return NULL;
}

/* ---- words of a page ------------------------------------------------------------------------- */

typedef struct word {
    double x, y, size;
    char text[200];
} word;

#define WORDS 1000

/* Every text of the SVG in a file, its middle height reckoned back from the base line. */
static int read_words(const char *html, word *list)
{
    int count = 0;
    for (const char *at = html; (at = strstr(at, "<text x=\"")) && count < WORDS; at++) {
        word *w = &list[count++];
        const char *end = strstr(at, "</text>"), *from = end;
        w->x = strtod(at + 9, NULL);
        w->size = strtod(strstr(at, "font-size=\"") + 11, NULL);
        w->y = strtod(strstr(at, " y=\"") + 4, NULL) - 0.365 * w->size;
        while (from[-1] != '>')
            from--;
        snprintf(w->text, sizeof w->text, "%.*s", (int)(end - from), from);
    }
    return count;
}

static const word *find_word(const word *list, int count, const char *text)
{
    for (int k = 0; k < count; k++)
        if (strcmp(list[k].text, text) == 0)
            return &list[k];
    return NULL;
}

/* ---- draws ----------------------------------------------------------------------------------- */

static void groups_differ_and_a_seed_repeats(void **state)
{
    (void)state;
    fixture f;
    open_scenario(&f, "barrow");
    for (unsigned long long seed = 1; seed <= 40; seed++) {
        int number[GROUPS][HP_HANDOUT_WIRINGS], again[HP_HANDOUT_WIRINGS];
        int given = hp_survey_first_correct(&f.survey);
        for (int g = 0; g < GROUPS; g++) {
            hp_handout_draw_wirings(&f.survey, given, seed, g + 1, number[g]);
            hp_handout_draw_wirings(&f.survey, given, seed, g + 1, again);
            check_true(memcmp(number[g], again, sizeof again) == 0, "seed %llu", seed);
            for (int h = 0; h < g; h++)
                check_true(memcmp(number[g], number[h], sizeof again) != 0, "seed %llu", seed);
            int seen[HP_WIRING_COUNT + 1] = {0}, kind[HP_VERDICT_COUNT] = {0};
            for (int k = 0; k < HP_HANDOUT_WIRINGS; k++) {
                check_true(number[g][k] >= 1 && number[g][k] <= 36 && number[g][k] != given,
                           "wiring %d", number[g][k]);
                check_int(seen[number[g][k]]++, 0);
                kind[f.survey.judgement[number[g][k] - 1].verdict]++;
            }
            /* Mixed: one at least of each, and stalled, half of the 36, not half of the eight. */
            check_true(kind[HP_VERDICT_CORRECT] >= 1 && kind[HP_VERDICT_CORRECT] <= 2 &&
                           kind[HP_VERDICT_REVERSE] >= 1 && kind[HP_VERDICT_ROUGH] >= 2 &&
                           kind[HP_VERDICT_STALLED] >= 1 && kind[HP_VERDICT_STALLED] <= 3,
                       "seed %llu group %d: %d %d %d %d", seed, g + 1, kind[0], kind[1], kind[2],
                       kind[3]);
        }
    }
}

/* Every wiring but the given one is on some sheet, and in no fixed line. */
static void every_wiring_is_drawn_somewhere(void **state)
{
    (void)state;
    fixture f;
    open_scenario(&f, "barrow");
    int at[HP_WIRING_COUNT + 1][HP_HANDOUT_WIRINGS] = {{0}};
    for (unsigned long long seed = 1; seed <= 500; seed++) {
        int number[HP_HANDOUT_WIRINGS];
        hp_handout_draw_wirings(&f.survey, 1, seed, 1, number);
        for (int k = 0; k < HP_HANDOUT_WIRINGS; k++)
            at[number[k]][k]++;
    }
    for (int n = 2; n <= HP_WIRING_COUNT; n++)
        for (int k = 0; k < HP_HANDOUT_WIRINGS; k++)
            check_true(at[n][k] > 0, "wiring %d is never in line %d", n, k + 1);
    check_int(at[1][0], 0);
}

static void a_step_is_never_without_a_way_in(void **state)
{
    (void)state;
    for (unsigned long long seed = 1; seed <= 200; seed++) {
        bool blank[HP_HANDOUT_STEPS][HP_BLANK_COUNT], other[HP_HANDOUT_STEPS][HP_BLANK_COUNT];
        int of[HP_BLANK_COUNT] = {0};
        hp_handout_draw_blanks(6, seed, 1, blank);
        hp_handout_draw_blanks(6, seed, 2, other);
        for (int r = 0; r < 6; r++) {
            check_true(blank[r][HP_BLANK_CODE] != blank[r][HP_BLANK_PAIR], "row %d", r);
            check_true(blank[r][HP_BLANK_FIELD] != blank[r][HP_BLANK_AHEAD], "row %d", r);
            for (int c = 0; c < HP_BLANK_COUNT; c++)
                of[c] += blank[r][c];
        }
        for (int c = 0; c < HP_BLANK_COUNT; c++)
            check_true(of[c] > 0, "seed %llu: column %d is never blank", seed, c);
        if (seed <= 10)
            check_true(memcmp(blank, other, sizeof blank) != 0 || seed > 3, "seed %llu", seed);
    }
}

/* ---- the sheets ------------------------------------------------------------------------------ */

static void the_same_input_gives_the_same_bytes(void **state)
{
    (void)state;
    static const char *const name[] = {"work-sheet-group-2.html", "work-sheet-group-2.pdf",
                                       "six-steps-group-1.html", "answers.pdf"};
    fixture f;
    open_scenario(&f, "barrow");
    for (size_t k = 0; k < sizeof name / sizeof name[0]; k++) {
#ifdef HP_WITHOUT_PLPLOT
        if (strstr(name[k], ".pdf"))
            continue;
#endif
        size_t size, again_size, other_size;
        char *bytes = written(&f.source, name[k], &size);
        char *again = written(&f.source, name[k], &again_size);
        f.source.seed = 8;
        char *other = written(&f.source, name[k], &other_size);
        f.source.seed = 7;
        check_true(size == again_size && memcmp(bytes, again, size) == 0, "%s", name[k]);
        check_true(size != other_size || memcmp(bytes, other, size) != 0, "%s", name[k]);
        free(bytes);
        free(again);
        free(other);
    }
}

/* The wiring's number that stands below the number of line k. */
static int read_number(const word *list, int count, int k)
{
    char number[16];
    int wiring = 0;
    snprintf(number, sizeof number, "%d", k);
    for (int n = 0; n < count; n++)
        if (strcmp(list[n].text, number) == 0 && list[n].size > 20.0)
            for (int m = 0; m < count; m++)
                if (list[m].y > list[n].y && list[m].y < list[n].y + 36.0 &&
                    list[m].x < list[n].x + 10.0)
                    sscanf(list[m].text, "wiring %d", &wiring);
    return wiring;
}

/* The leads in line k of a work sheet, read from its words by their places: six of them. */
static void read_line(const word *list, int count, int k, const char *lead[6])
{
    char number[16];
    snprintf(number, sizeof number, "%d", k);
    const word *line = NULL;
    for (int n = 0; n < count; n++)
        if (strcmp(list[n].text, number) == 0 && list[n].size > 20.0)
            line = &list[n];
    assert_non_null(line);
    double last = line->x;
    for (int j = 0; j < 6; j++) {
        const word *next = NULL;
        for (int n = 0; n < count; n++)
            if (fabs(list[n].y - line->y) < 10.0 && list[n].x > last + 1.0 &&
                (!next || list[n].x < next->x))
                next = &list[n];
        assert_non_null(next);
        lead[j] = next->text;
        last = next->x;
    }
}

static int wiring_of(const hp_labels *labels, const char *lead[6])
{
    hp_wiring w;
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        for (int k = 0; k < HP_PHASE_COUNT; k++) {
            if (strcmp(labels->motor_lead[k], lead[j]) == 0)
                w.phase[j] = k;
            if (strcmp(labels->motor_sensor[k], lead[3 + j]) == 0)
                w.sensor[j] = k;
        }
    return hp_wiring_number(&w);
}

/* A line of the answers says the number, verdict and amperes of the wiring whose leads stand in
 * that line of the group's sheet. */
static void the_answers_match_the_sheets(void **state)
{
    (void)state;
    fixture f;
    open_scenario(&f, "barrow");
    static word sheet[WORDS], key[WORDS];
    size_t size;
    char *answers = written(&f.source, "answers.html", &size);
    int keys = read_words(answers, key), at = 0;
    for (int group = 1; group <= GROUPS; group++) {
        char name[HP_HANDOUT_NAME], head[80];
        snprintf(name, sizeof name, "work-sheet-group-%d.html", group);
        char *html = written(&f.source, name, &size);
        int count = read_words(html, sheet);
        snprintf(head, sizeof head, "group %d of %d, seed 7", group, GROUPS);
        assert_non_null(find_word(sheet, count, head));
        snprintf(head, sizeof head, "Group %d of %d, seed 7: work sheet", group, GROUPS);
        while (at < keys && strcmp(key[at].text, head) != 0)
            at++;
        check_true(at < keys, "no answers of group %d", group);
        for (int k = 1; k <= HP_HANDOUT_WIRINGS; k++) {
            const char *lead[6];
            char begin[80], amperes[40];
            read_line(sheet, count, k, lead);
            int number = wiring_of(f.source.subject.labels, lead);
            const hp_judgement *j = &f.survey.judgement[number - 1];
            check_int(read_number(sheet, count, k), number);
            snprintf(begin, sizeof begin, "%d. Wiring %d: %s", k, number,
                     hp_verdict_name(j->verdict));
            snprintf(amperes, sizeof amperes, "%.2f A", j->mean.battery_current);
            while (at < keys && strncmp(key[at].text, begin, strlen(begin)) != 0)
                at++;
            check_true(at < keys, "group %d: no answer \"%s\"", group, begin);
            check_text_contains(key[at].text, amperes);
        }
        free(html);
    }
    free(answers);
}

/* The answers give the very sentences of explain. */
static void the_answers_explain_in_the_same_words(void **state)
{
    (void)state;
    fixture f;
    open_scenario(&f, "barrow");
    static word key[WORDS];
    size_t size;
    int number[HP_HANDOUT_WIRINGS];
    char *answers = written(&f.source, "answers.html", &size), all[60000] = "";
    int keys = read_words(answers, key);
    for (int k = 0; k < keys; k++) {
        strcat(all, key[k].text);
        strcat(all, " ");
    }
    for (int group = 1; group <= GROUPS; group++) {
        hp_handout_draw_wirings(&f.survey, 1, 7, group, number);
        for (int k = 0; k < HP_HANDOUT_WIRINGS; k++) {
            char text[HP_EXPLAIN_WORDS];
            hp_wiring wiring = hp_wiring_from_number(number[k]);
            check_text_contains(all, hp_explain_sentences(&f.source.subject, &wiring, &f.survey,
                                                          text, sizeof text));
        }
    }
    free(answers);
}

/* ---- the table ------------------------------------------------------------------------------- */

/* What stands in the cells of a group's table is what the engine's own commutation gives; a blank
 * cell is blank. The correct wiring of an ideal machine has its field 120 to 60 degrees ahead. */
static void the_given_cells_are_right(void **state)
{
    (void)state;
    fixture f;
    open_scenario(&f, "barrow");
    static word sheet[WORDS];
    size_t size;
    char *html = written(&f.source, "six-steps-group-3.html", &size);
    int count = read_words(html, sheet);
    bool blank[HP_HANDOUT_STEPS][HP_BLANK_COUNT];
    hp_handout_draw_blanks(6, 7, 3, blank);
    const hp_commutation_table *table = &f.l.scenario.drive.controller.table;
    for (int step = 0; step < 6; step++) {
        double from = 30.0 + 60.0 * step, middle = from + 30.0;
        char range[40], code[8], pair[16], field[16];
        snprintf(range, sizeof range, "%.0f to %.0f", from, fmod(from + 60.0, 360.0));
        const word *row = find_word(sheet, count, range);
        check_true(row != NULL, "no step %s", range);
        int bit[HP_PHASE_COUNT];
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            bit[k] = cos((middle - 120.0 * k) * HP_DEG) > 0.0;
        hp_commutation_row driven = table->row[hp_code(bit[0], bit[1], bit[2])];
        snprintf(code, sizeof code, "%d%d%d", bit[0], bit[1], bit[2]);
        snprintf(pair, sizeof pair, "%c+ %c-", "UVW"[driven.high], "UVW"[driven.low]);
        snprintf(field, sizeof field, "%.0f", fmod(middle + 90.0, 360.0));
        bool has[HP_BLANK_COUNT] = {false};
        for (int k = 0; k < count; k++) {
            if (fabs(sheet[k].y - row->y) > 2.0 || sheet[k].x <= row->x)
                continue;
            has[HP_BLANK_CODE] |= strcmp(sheet[k].text, code) == 0;
            has[HP_BLANK_PAIR] |= strncmp(sheet[k].text, pair, 5) == 0;
            has[HP_BLANK_FIELD] |= strcmp(sheet[k].text, field) == 0;
            has[HP_BLANK_AHEAD] |= strcmp(sheet[k].text, "120, 60") == 0;
        }
        for (int c = 0; c < HP_BLANK_COUNT; c++)
            check_true(has[c] != blank[step][c], "step %d, column %d", step + 1, c);
    }
    free(html);
}

/* ---- the dial -------------------------------------------------------------------------------- */

/* Direction from a centre [deg], counter-clockwise from the right, 0..360. */
static double direction(const word *w, double x, double y)
{
    double at = atan2(y - w->y, w->x - x) / HP_DEG;
    return at < -0.5 ? at + 360.0 : at;
}

static double apart(double a, double b)
{
    return fabs(remainder(a - b, 360.0));
}

/* Which multiples of 10 degrees have a mark that ends on this circle, read from the strokes of the
 * SVG: "M x y l dx dy". */
static int marks_of(const char *html, double x, double y, double radius)
{
    bool at[36] = {false};
    int count = 0;
    for (const char *m = html; (m = strchr(m, 'M')); m++) {
        double from_x, from_y, dx, dy;
        if (sscanf(m, "M%lf %lfl%lf %lf", &from_x, &from_y, &dx, &dy) != 4)
            continue;
        double end = hypot(from_x + dx - x, from_y + dy - y), length = hypot(dx, dy);
        double angle = atan2(y - from_y - dy, from_x + dx - x) / HP_DEG;
        int tens = (int)lround(hp_angle_wrap(angle * HP_DEG) / HP_DEG / 10.0) % 36;
        if (fabs(end - radius) < 0.1 && length < 20.0 && length > 5.0 &&
            fabs(remainder(angle - 10.0 * tens, 360.0)) < 0.05)
            at[tens] = true;
    }
    for (int k = 0; k < 36; k++)
        count += at[k];
    return count;
}

/* Every number stands at its angle, every pair at its field's, every code in the middle of its
 * stretch; and laid on one another the two scales show for each stretch what the sectors say. The
 * pin's places are taken from two numbers that lie opposite. */
static void check_dial(const char *name, double wheel_step)
{
    fixture f;
    open_scenario(&f, name);
    static word w[WORDS];
    size_t size;
    char *html = written(&f.source, "lead-dial.html", &size), text[40];
    int count = read_words(html, w);
    const word *nought = NULL, *half = NULL, *ahead0 = NULL, *ahead180 = NULL;
    for (int k = 0; k < count; k++) {
        if (strcmp(w[k].text, "0") == 0 && (!nought || w[k].y < nought->y))
            nought = &w[k];
        if (strcmp(w[k].text, "180") == 0 && (!half || w[k].y < half->y))
            half = &w[k];
        if (strcmp(w[k].text, "0") == 0 && (!ahead0 || w[k].y > ahead0->y))
            ahead0 = &w[k];
        if (strcmp(w[k].text, "180") == 0 && (!ahead180 || w[k].y > ahead180->y))
            ahead180 = &w[k];
    }
    double x = 0.5 * (nought->x + half->x), y = nought->y;
    double x2 = 0.5 * (ahead0->x + ahead180->x), y2 = ahead0->y;
    check_true(y2 > y + 300.0, "two discs");
    int numbers = 0, negatives = 0;
    for (int k = 0; k < count; k++) {
        char *end;
        double value = strtod(w[k].text, &end);
        if (*end || end == w[k].text)
            continue;
        if (strlen(w[k].text) == 3 && w[k].size > 16.0) /* a code: below */
            continue;
        bool large = hypot(w[k].x - x, w[k].y - y) < 325.0;
        double at = large ? direction(&w[k], x, y) : direction(&w[k], x2, y2);
        check_true(apart(at, value) < 0.5, "%s: %s stands at %g", name, w[k].text, at);
        numbers++;
        negatives += value < 0.0;
    }
    check_int(numbers, 24);
    check_int(marks_of(html, x, y, 320.0), 36);
    check_int(marks_of(html, x2, y2, 170.0), 36);
    check_int(negatives, 5);
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    hp_wiring correct = hp_wiring_from_number(hp_survey_first_correct(&f.survey));
    const hp_drive *drive = &f.l.scenario.drive;
    int sectors = hp_lead_sectors(&drive->controller.table, &drive->sensors, &drive->motor.backemf,
                                  &correct, sector);
    for (int k = 0; k < sectors; k++) {
        const hp_lead_sector *s = &sector[k];
        double middle = 0.5 * (s->from + s->to) / HP_DEG;
        snprintf(text, sizeof text, "%d%d%d", s->code >> 2 & 1, s->code >> 1 & 1, s->code & 1);
        const word *code = find_word(w, count, text);
        check_true(code && apart(direction(code, x, y + 0.0), middle) < 4.0, "%s: code %s", name,
                   text);
        snprintf(text, sizeof text, "%c+ %c-", "UVW"[s->high], "UVW"[s->low]);
        const word *field = NULL; /* the bold one, further out */
        for (int n = 0; n < count; n++)
            if (strcmp(w[n].text, text) == 0 &&
                (!field || hypot(w[n].x - x, w[n].y - y) > hypot(field->x - x, field->y - y)))
                field = &w[n];
        /* Two vectors of unit length from the lead that is minus to the one that is plus. */
        double fx = cos(hp_phase_axis(s->high)) - cos(hp_phase_axis(s->low));
        double fy = sin(hp_phase_axis(s->high)) - sin(hp_phase_axis(s->low));
        check_true(field && apart(direction(field, x, y), atan2(fy, fx) / HP_DEG) < 0.5,
                   "%s: field %s", name, text);
        /* What the small disc shows at that line, the rotor's arrow in the middle of the stretch.
         */
        double shown = remainder(direction(field, x, y) - middle, 360.0);
        check_true(fabs(shown - 0.5 * (s->lead_from + s->lead_to) / HP_DEG) < 0.6, "%s: %g", name,
                   shown);
    }
    snprintf(text, sizeof text, "(%.2f)", wheel_step);
    check_true(find_word(w, count, text) != NULL, "%s: no %s", name, text);
    free(html);
}

static void the_dial_shows_the_angles_that_it_names(void **state)
{
    (void)state;
    check_dial("barrow", 60.0 / 23.0);
    check_dial("trike", 60.0 / (10.0 * 4.4));
}

/* The style of the line whose middle is nearest to a place, as the SVG has it: "" for a plain one.
 */
static void style_near(const char *html, double x, double y, char style[40])
{
    double nearest = 12.0;
    style[0] = '\0';
    for (const char *at = html; (at = strstr(at, "<path fill=\"none\" ")); at++) {
        double from_x, from_y, dx, dy;
        const char *path = strstr(at, " d=\"M"), *dash = strstr(at, "stroke-dasharray=\"");
        if (sscanf(path + 5, "%lf %lfl%lf %lf", &from_x, &from_y, &dx, &dy) != 4 || dy != 0.0)
            continue;
        double away = hypot(from_x + 0.5 * dx - x, from_y - y);
        if (away >= nearest)
            continue;
        nearest = away;
        snprintf(style, 40, "%.*s", dash && dash < path ? (int)strcspn(dash + 18, "\"") : 0,
                 dash && dash < path ? dash + 18 : "");
    }
    check_true(nearest < 12.0, "no line at %g, %g", x, y);
}

/* Printed in grey two colours may be one: a lead is known by its name and by its line's style. On
 * the dial both stand at its coil, on the disc; on the table beside its letter. */
static void leads_are_known_in_grey(void **state)
{
    (void)state;
    fixture f;
    open_scenario(&f, "trike");
    static word w[WORDS];
    size_t size;
    char style[2][HP_PHASE_COUNT][40];
    char *dial = written(&f.source, "lead-dial.html", &size);
    int count = read_words(dial, w);
    const word *coil = find_word(w, count, "coil U"), *opposite = find_word(w, count, "180");
    double x = 0.5 * (opposite->x + find_word(w, count, "0")->x), y = opposite->y;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        const word *name = find_word(w, count, f.source.subject.labels->motor_lead[k]);
        check_true(coil && name, "no %s", f.source.subject.labels->motor_lead[k]);
        check_true(apart(direction(name, x, y), 120.0 * k) < 20.0, "%s stands at %g", name->text,
                   direction(name, x, y));
        style_near(dial, name->x, name->y - 15.0, style[0][k]);
    }
    free(dial);
    char *table = written(&f.source, "six-steps-group-1.html", &size);
    count = read_words(table, w);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        const word *name = find_word(w, count, f.source.subject.labels->motor_lead[k]);
        check_true(name && strcmp(name[-1].text, (char[]){"UVW"[k], '\0'}) == 0 &&
                       fabs(name[-1].y - name->y) < 1.0,
                   "no letter beside %s", f.source.subject.labels->motor_lead[k]);
        style_near(table, name->x - 45.0, name->y, style[1][k]);
    }
    free(table);
    for (int s = 0; s < 2; s++)
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            check_true(strcmp(style[s][k], style[s][(k + 1) % HP_PHASE_COUNT]) != 0,
                       "two leads have one style: %s", style[s][k]);
}

/* ---- to be read ------------------------------------------------------------------------------ */

/* 9 points are 12.7 quarters of a millimetre; nothing stands outside the printed page. */
static void nothing_is_too_small_or_off_the_page(void **state)
{
    (void)state;
    fixture f;
    open_scenario(&f, "barrow");
    static word w[WORDS];
    for (int k = 0; k < hp_handout_count(&f.source); k++) {
        char name[HP_HANDOUT_NAME];
        size_t size;
        char *html =
            written(&f.source, hp_handout_name(&f.source, k, HP_HANDOUT_HTML, name), &size);
        int count = read_words(html, w);
        check_true(count > 20 && count < WORDS, "%s: %d words", name, count);
        for (int n = 0; n < count; n++)
            check_true(w[n].size >= 12.7 && w[n].y > 20.0 && w[n].y < 1168.0 && w[n].x > 20.0 &&
                           w[n].x < 820.0,
                       "%s: \"%s\" of size %g at %g, %g", name, w[n].text, w[n].size, w[n].x,
                       w[n].y);
        /* Names as short as these are never cut. */
        check_true(!strstr(html, "\u2026") && !strstr(html, "..."), "%s: a text is cut", name);
        check_text_contains(html, "default-src 'none'");
        free(html);
    }
}

/* Names of leads that are too long for a column give way to their letters where, cut, they could be
 * taken for one another; what is not known of a machine is said. */
static void long_names_stay_apart(void **state)
{
    (void)state;
    fixture f;
    open_scenario(&f, "barrow");
    static word w[WORDS];
    size_t size;
    hp_labels labels = f.l.scenario.labels;
    snprintf(labels.motor_lead[0], HP_LABEL_SIZE, "the thick yellow one at the left");
    snprintf(labels.motor_lead[1], HP_LABEL_SIZE, "the thick yellow one at the right");
    labels.axes_known = false;
    f.source.subject.labels = &labels;
    char *html = written(&f.source, "work-sheet-group-1.html", &size);
    int count = read_words(html, w), letter[2] = {0};
    for (int k = 0; k < count; k++)
        for (int n = 0; n < 2; n++)
            letter[n] += w[k].x < 290.0 && strcmp(w[k].text, n ? "V" : "U") == 0;
    /* The head's own letters, the correct line, the others. */
    check_int(letter[0], 2 + HP_HANDOUT_WIRINGS);
    check_int(letter[1], 2 + HP_HANDOUT_WIRINGS);
    check_text_contains(html, "nobody has measured yet");
    free(html);
}

static void bad_sources_are_named(void **state)
{
    (void)state;
    fixture f;
    hp_error err = hp_error_none();
    open_scenario(&f, "barrow");
    f.source.groups = 0;
    check_int(hp_handout_source_check(&f.source, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "0 groups, must be 1 to 24");
    f.source.groups = 25;
    err = hp_error_none();
    check_int(hp_handout_source_check(&f.source, &err), HP_FAIL_INPUT);
    f.source.groups = 1;
    for (int n = 0; n < HP_WIRING_COUNT; n++)
        f.survey.judgement[n].verdict = HP_VERDICT_STALLED;
    err = hp_error_none();
    check_int(hp_handout_source_check(&f.source, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "no wiring of this machine is correct");
}

/* ---- the bench card -------------------------------------------------------------------------- */

/* The steps of the advice up to the first try, and no wiring named before anybody has measured. */
static void the_bench_card_goes_up_to_the_first_try(void **state)
{
    (void)state;
    fixture f;
    hp_error err = hp_error_none();
    hp_case_options options = hp_case_options_default();
    open_scenario(&f, "minimal");
    options.log = "/nonexistent/none.bench.yaml";
    f.source.bench = hp_case_create(&f.l.scenario, &options, &err);
    check_true(f.source.bench != NULL, "%s", err.text);
    size_t size;
    char *html = written(&f.source, "bench-card.html", &size);
    check_text_contains(html, ">1. ");
    check_text_contains(html, "Join the wiring that fits, and try it under power");
    check_text_contains(html, "as the advice then says");
    /* It is the last step. */
    const char *last = strstr(html, "Join the wiring that fits");
    last = strstr(last, "Safe first: ");
    check_true(last && !strstr(last + 1, "Safe first: "), "a step comes after the first try");
    /* What steps of one kind share, cautions and all, stands at the first of them. */
    int like = 0, other, count = 0;
    for (const char *at = html; (at = strstr(at, "As step ")) != NULL; at++, count++) {
        check_true(sscanf(at, "As step %d, with all its cautions, but:", &other) == 1 &&
                       (like == 0 || like == other),
                   "%.40s", at);
        like = other;
    }
    check_true(count > 1, "%d steps are like others", count);
    /* Said in full where power comes; before that once, and then by its step. */
    check_text_contains(html, "Safe first: as in step 1; measure it again.");
    check_true(strncmp(last, "Safe first: Battery off", 23) == 0, "%.80s", last);
    /* A step like one before says what is other: that one's cautions hold for it, too. */
    const char *alike = strstr(html, "with all its cautions, but:");
    check_true(alike != NULL, "no step is as one before");
    const char *parked = strstr(html, "Never the machine");
    check_true(parked && parked < alike && !strstr(parked + 1, "Never the machine"),
               "a caution of the step before is told again");
    check_text_contains(html, "Safe first: ");
    check_text_contains(html, "Local rules and licensed");
    check_true(strstr(html, "Join wiring") == NULL, "a wiring is named");
    free(html);
    hp_case_free(f.source.bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(groups_differ_and_a_seed_repeats),
        cmocka_unit_test(every_wiring_is_drawn_somewhere),
        cmocka_unit_test(a_step_is_never_without_a_way_in),
        cmocka_unit_test(the_same_input_gives_the_same_bytes),
        cmocka_unit_test(the_answers_match_the_sheets),
        cmocka_unit_test(the_answers_explain_in_the_same_words),
        cmocka_unit_test(the_given_cells_are_right),
        cmocka_unit_test(the_dial_shows_the_angles_that_it_names),
        cmocka_unit_test(leads_are_known_in_grey),
        cmocka_unit_test(nothing_is_too_small_or_off_the_page),
        cmocka_unit_test(long_names_stay_apart),
        cmocka_unit_test(bad_sources_are_named),
        cmocka_unit_test(the_bench_card_goes_up_to_the_first_try),
    };
    return cmocka_run_group_tests(tests, NULL, free_all);
}
