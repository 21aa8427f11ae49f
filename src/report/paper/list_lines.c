/*
 * The plan as a numbered list for paper: see list_lines.h.
 *
 * Two pages of A4 hold only so much. The likeliest steps are printed, as many as fit, and only the
 * answers that lead to another one of them. Ends that say the same are one step here, whatever led
 * to them. Wirings are listed once, in a table, and named by their numbers.
 */
#include "report/paper/list_lines.h"

#include "hubphase/base/text.h"
#include "report/paper/html_text.h"
#include "report/picture/picture_parts.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* Lines of a column that list and sorts of steps may take. Chosen: the two columns of the first
 * page hold about 140 below the heads, those of the second 160. */
#define LINES        300
#define COLUMN       64  /* characters of a line in a column, about */
#define NUMBER       6   /* characters before a title */
#define GO_TO        14  /* ... and behind an answer */
#define AS_AT        17  /* ... and for answers that an earlier step has in full */
#define SORT_COLUMN  92  /* characters in the smaller print of sorts that take a line's room */
#define SORT_REST    38  /* ... that the end of a paragraph leaves free */
#define SORT_HEAD    130 /* ... that a head takes */
#define CELL         18  /* characters of a line in the table of wirings, about */
#define SLIM         8   /* ... and in the same table in half the width */
#define ACROSS       2   /* lines of the columns that a line across both costs */
#define LINES_LEAST  40
#define DETAILS_MOST 100 /* more are told again */

typedef struct flow {
    const hp_list_steps *plan;
    int *same;       /* owned; [step] the step that stands for it on paper */
    double *reached; /* owned; [step] of all that it stands for */
    int *order;      /* owned; steps that stand for themselves, likeliest first */
    int steps;       /* in order */
    int *number;     /* owned; [step] on paper, from 1; 0: not there */
    int *list;       /* owned; steps by their number - 1 */
    int count;       /* printed */
    int row_lines;   /* that a row of the table may need */
    bool named[HP_WIRING_COUNT + 1];
} flow;

/* ---- which steps ----------------------------------------------------------------------------- */

static bool is_end(const hp_list_step *step)
{
    return step->answers == 0;
}

/* How sure it is may differ. */
static bool says_the_same(const hp_list_step *a, const hp_list_step *b)
{
    return is_end(a) && is_end(b) && a->kind == b->kind && a->cut == b->cut &&
           a->title == b->title && a->wiring == b->wiring &&
           (a->kind != HP_ADVICE_REPAIR || a->trouble == b->trouble);
}

/* What stands below the title of an end, NULL where nothing does. */
static const char *end_words(const hp_list_steps *plan, const hp_list_step *step)
{
    if (!is_end(step) || step->cut)
        return NULL;
    return hp_list_text(plan, step->kind == HP_ADVICE_DONE ? step->healthy : step->reason);
}

static void find_same(flow *f)
{
    const hp_list_steps *plan = f->plan;
    for (int n = 0; n < plan->count; n++) {
        int k = 0;
        while (k < n && !(f->same[k] == k && says_the_same(&plan->step[k], &plan->step[n])))
            k++;
        f->same[n] = k;
        f->reached[k] += plan->step[n].reached;
        if (k == n)
            f->order[f->steps++] = n;
    }
    /* Nearly in order already: insertion keeps ties as they are, and the first step first. */
    for (int i = 2; i < f->steps; i++) {
        int step = f->order[i], j = i;
        for (; j > 1 && f->reached[f->order[j - 1]] < f->reached[step]; j--)
            f->order[j] = f->order[j - 1];
        f->order[j] = step;
    }
}

static int target(const flow *f, const hp_list_step *step, int answer)
{
    return f->number[f->same[step->answer[answer].to]];
}

/* The next answer from `k` on that leads to a step on paper. */
static int next_printed(const flow *f, const hp_list_step *step, int k)
{
    while (k < step->answers && target(f, step, k) == 0)
        k++;
    return k;
}

/* Whether two steps have the same answers, which part in the same way; where to may differ. */
static bool part_alike(const flow *f, const hp_list_step *a, const hp_list_step *b)
{
    int i = next_printed(f, a, 0), j = next_printed(f, b, 0);
    for (; i < a->answers && j < b->answers;
         i = next_printed(f, a, i + 1), j = next_printed(f, b, j + 1)) {
        if (a->answer[i].label != b->answer[j].label)
            return false;
        for (int k = 0, m = 0; k < i && m < j;
             k = next_printed(f, a, k + 1), m = next_printed(f, b, m + 1))
            if ((target(f, a, k) == target(f, a, i)) != (target(f, b, m) == target(f, b, j)))
                return false;
    }
    return i == a->answers && j == b->answers;
}

/* The first number with the same answers as this one: itself, where no earlier one has them. */
static int answers_at(const flow *f, int number)
{
    const hp_list_step *step = &f->plan->step[f->list[number - 1]];
    int first = 1;
    if (next_printed(f, step, 0) == step->answers)
        return number;
    while (first < number && !part_alike(f, &f->plan->step[f->list[first - 1]], step))
        first++;
    return first;
}

/* The first number where an end says the same as this one: itself, where no earlier one does. */
static int end_at(const flow *f, int number)
{
    const char *end = end_words(f->plan, &f->plan->step[f->list[number - 1]]);
    int first = 1;
    while (end_words(f->plan, &f->plan->step[f->list[first - 1]]) != end)
        first++;
    return first;
}

/* On paper a step is one paragraph: its title, then what each answer leads to. */
static int step_lines(const flow *f, int number)
{
    const hp_list_step *step = &f->plan->step[f->list[number - 1]];
    int columns = NUMBER + hp_text_columns(hp_list_text(f->plan, step->title));
    bool known = answers_at(f, number) < number;
    for (int k = 0; k < step->answers; k++)
        if (target(f, step, k))
            columns += known
                           ? NUMBER
                           : GO_TO + hp_text_columns(hp_list_text(f->plan, step->answer[k].label));
    const char *end = end_words(f->plan, step);
    columns += known ? AS_AT : 0;
    if (end)
        columns += end_at(f, number) < number ? AS_AT : hp_text_columns(end);
    return 1 + columns / COLUMN;
}

static bool same_sort(const hp_list_step *a, const hp_list_step *b)
{
    return a->kind == b->kind && (a->kind != HP_ADVICE_READ || a->reading == b->reading);
}

/* What an earlier sort of step told already. A text is held once, so it is known by its place. */
typedef struct told {
    const char *text[DETAILS_MOST];
    int count;
} told;

static bool is_new(told *before, const char *text)
{
    for (int k = 0; k < before->count; k++)
        if (before->text[k] == text)
            return false;
    if (before->count < DETAILS_MOST)
        before->text[before->count++] = text;
    return true;
}

/* Room of a text in smaller print, and what its last line leaves free. */
static int fine_print(const char *text)
{
    return text && text[0] ? hp_text_columns(text) + SORT_REST : 0;
}

/* Lines of the list that take as much room as how a sort of step is done. */
static int sort_lines(const hp_list_steps *plan, const hp_list_step *step, told *before)
{
    const char *text;
    int columns = SORT_HEAD + fine_print(hp_list_safe(plan, step));
    for (size_t at = 0; (text = hp_list_how(plan, step, at)); at++) {
        columns += fine_print(text);
        for (size_t k = 0; (text = hp_list_caution(plan, step, at, k)); k++)
            columns += hp_text_columns(text);
        for (size_t k = 0; (text = hp_list_detail(plan, step, at, k)); k++)
            columns += is_new(before, text) ? hp_text_columns(text) + SORT_REST / 2 : 0;
    }
    return 1 + columns / SORT_COLUMN;
}

/* Whether the step at place k of the list on paper is the first of its sort. */
static bool is_first_of_sort(const flow *f, int k)
{
    const hp_list_step *step = f->plan->step;
    for (int j = 0; j < k; j++)
        if (same_sort(&step[f->list[j]], &step[f->list[k]]))
            return false;
    return true;
}

/* ... and how all sorts of steps on paper are. */
static int sorts_lines(const flow *f)
{
    const hp_list_step *step = f->plan->step;
    told before = {.count = 0};
    int lines = 0;
    for (int k = 0; k < f->count; k++)
        if (is_first_of_sort(f, k))
            lines += sort_lines(f->plan, &step[f->list[k]], &before);
    return lines;
}

/* Numbers those of the `most` likeliest steps that can be reached through one another, nearest to
 * the first one first; returns the lines that they take. */
static int number_steps(flow *f, int most)
{
    const hp_list_steps *plan = f->plan;
    int lines = 0;
    memset(f->number, 0, (size_t)plan->count * sizeof *f->number);
    memset(f->named, 0, sizeof f->named);
    for (int k = 0; k < most; k++)
        f->number[f->order[k]] = -1; /* wanted */
    f->list[0] = 0;
    f->number[0] = f->count = 1;
    for (int at = 0; at < f->count; at++) {
        const hp_list_step *step = &plan->step[f->list[at]];
        for (int k = 0; k < step->answers; k++) {
            int to = f->same[step->answer[k].to];
            if (f->number[to] == -1) {
                f->list[f->count++] = to;
                f->number[to] = f->count;
            }
        }
        lines += step->wiring && !f->named[step->wiring] ? f->row_lines : 0;
        f->named[step->wiring] = true;
    }
    for (int k = 0; k < most; k++)
        if (f->number[f->order[k]] == -1)
            f->number[f->order[k]] = 0;
    for (int number = 1; number <= f->count; number++)
        lines += step_lines(f, number);
    return lines + sorts_lines(f);
}

/* Columns of the longest name. */
static int longest_name(const hp_labels *labels)
{
    int longest = 0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        int phase = hp_text_columns(labels->motor_lead[k]);
        int sensor = hp_text_columns(labels->motor_sensor[k]);
        longest = phase > longest ? phase : longest;
        longest = sensor > longest ? sensor : longest;
    }
    return longest;
}

/* Lines of the columns that a row of the table costs: with short names it stands in two columns
 * too. */
static int row_lines(const hp_labels *labels)
{
    int longest = longest_name(labels);
    return longest <= SLIM ? 1 : ACROSS * (1 + longest / CELL);
}

static void flow_free(flow *f)
{
    free(f->same);
    free(f->reached);
    free(f->order);
    free(f->number);
    free(f->list);
}

static bool flow_make(flow *f, const hp_list_steps *plan, const hp_labels *labels, int lines)
{
    size_t count = (size_t)plan->count;
    *f = (flow){.plan = plan, .row_lines = row_lines(labels)};
    f->same = calloc(count, sizeof *f->same);
    f->reached = calloc(count, sizeof *f->reached);
    f->order = calloc(count, sizeof *f->order);
    f->number = calloc(count, sizeof *f->number);
    f->list = calloc(count, sizeof *f->list);
    if (!f->same || !f->reached || !f->order || !f->number || !f->list)
        return false;
    find_same(f);
    int most = f->steps;
    while (number_steps(f, most) > lines && most > 1)
        most--;
    return true;
}

/* ---- the table of wirings -------------------------------------------------------------------- */

static void put_row(const hp_labels *labels, int number, FILE *out)
{
    hp_wiring w = hp_wiring_from_number(number);
    fprintf(out, "<tr><th scope=\"row\">%d</th>", number);
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        fputs("<td>", out);
        hp_html_put(out, hp_picture_label(labels->motor_lead[w.phase[j]], w.phase[j]));
        fputs("</td>", out);
    }
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        fputs("<td>", out);
        hp_html_put(out, hp_picture_label(labels->motor_sensor[w.sensor[j]], w.sensor[j]));
        fputs("</td>", out);
    }
    fputs("</tr>\n", out);
}

static void put_heads(const char *what, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], FILE *out)
{
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        fprintf(out, "<th scope=\"col\">%s ", what);
        hp_html_put(out, hp_picture_label(label[j], j));
        fputs("</th>", out);
    }
}

static void put_wirings(const flow *f, const hp_labels *labels, FILE *out)
{
    bool any = false;
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        any = any || f->named[n];
    if (!any)
        return;
    fprintf(out,
            "<p>Wirings named in the list: the motor lead at each of the controller's leads.</p>\n"
            "<div class=\"wide%s\">\n<table class=\"rows\">\n<thead><tr><th scope=\"col\">"
            "no.</th>",
            longest_name(labels) <= SLIM ? " slim" : "");
    put_heads("output", labels->controller_output, out);
    put_heads("input", labels->controller_input, out);
    fputs("</tr></thead>\n<tbody>\n", out);
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        if (f->named[n])
            put_row(labels, n, out);
    fputs("</tbody>\n</table>\n</div>\n", out);
}

/* ---- the list -------------------------------------------------------------------------------- */

static void put_target(int number, FILE *out)
{
    fprintf(out, "<a href=\"#flow-%d\">%d</a>", number, number);
}

/* Whether an earlier answer leads to the same step. */
static bool is_told(const flow *f, const hp_list_step *step, int answer)
{
    for (int j = 0; j < answer; j++)
        if (target(f, step, j) == target(f, step, answer))
            return true;
    return false;
}

/* Answers that an earlier step has in full: only where they lead to, in its order. */
static void put_targets(const flow *f, const hp_list_step *step, int first, FILE *out)
{
    bool any = false;
    fputs("<li>as at ", out);
    put_target(first, out);
    fputs(": go&#160;to&#160;", out);
    for (int k = 0; k < step->answers; k++) {
        if (target(f, step, k) == 0 || is_told(f, step, k))
            continue;
        fputs(any ? " \xC2\xB7 " : "", out);
        put_target(target(f, step, k), out);
        any = true;
    }
    fputs("</li>\n", out);
}

/* Answers that lead to one step stand on one line. */
static void put_answers(const flow *f, int number, FILE *out)
{
    const hp_list_step *step = &f->plan->step[f->list[number - 1]];
    int first = answers_at(f, number);
    if (first < number)
        put_targets(f, step, first, out);
    for (int k = 0; first == number && k < step->answers; k++) {
        if (target(f, step, k) == 0 || is_told(f, step, k))
            continue;
        fputs("<li>", out);
        for (int j = k; j < step->answers; j++) {
            if (target(f, step, j) != target(f, step, k))
                continue;
            fputs(j > k ? "; or " : "", out);
            hp_html_put(out, hp_list_text(f->plan, step->answer[j].label));
        }
        fputs(": go&#160;to&#160;", out);
        put_target(target(f, step, k), out);
        fputs("</li>\n", out);
    }
}

/* What an end says, in full at its first number only. */
static void put_end(const flow *f, int number, const char *end, FILE *out)
{
    int first = end_at(f, number);
    fputs("<li>", out);
    if (first < number)
        fprintf(out, "as at %d", first);
    else
        hp_html_put(out, end);
    fputs("</li>\n", out);
}

static void put_step(const flow *f, int number, FILE *out)
{
    const hp_list_step *step = &f->plan->step[f->list[number - 1]];
    fprintf(out, "<li id=\"flow-%d\"><b>%d. ", number, number);
    hp_html_put(out, hp_list_text(f->plan, step->title));
    fputs("</b>\n<ul>\n", out);
    put_answers(f, number, out);
    const char *end = end_words(f->plan, step);
    if (end)
        put_end(f, number, end, out);
    if (step->cut)
        fputs("<li>then ask the page, or hubphase next</li>\n", out);
    fputs("</ul>\n</li>\n", out);
}

/* ---- how ------------------------------------------------------------------------------------- */

static void put_cautions(const hp_list_steps *plan, const hp_list_step *step, size_t at,
                         const char *before, const char *after, FILE *out)
{
    const char *text;
    for (size_t k = 0; (text = hp_list_caution(plan, step, at, k)); k++) {
        fputs(before, out);
        hp_html_put(out, text);
        fputs(after, out);
    }
}

static void put_details(const hp_list_steps *plan, const hp_list_step *step, size_t at,
                        told *before, FILE *out)
{
    const char *text;
    bool any = false;
    for (size_t k = 0; (text = hp_list_detail(plan, step, at, k)); k++) {
        if (!is_new(before, text))
            continue;
        fputs(any ? " " : "<br><small>", out);
        hp_html_put(out, text);
        any = true;
    }
    if (any)
        fputs("</small>", out);
}

static void put_sort(const hp_list_steps *plan, const hp_list_step *step, told *before, FILE *out)
{
    const char *text;
    size_t k = 0;
    fputs("<section>\n<h3>", out);
    hp_html_put(out, hp_list_text(plan, step->title));
    fputs("</h3>\n<p class=\"safe\"><strong>Safe now.</strong> ", out);
    hp_html_put(out, hp_list_safe(plan, step));
    fputs("</p>\n<ol class=\"how\">\n", out);
    for (; (text = hp_list_how(plan, step, k)); k++) {
        fputs("<li>", out);
        hp_html_put(out, text);
        put_cautions(plan, step, k, " <em class=\"care\">", "</em>", out);
        put_details(plan, step, k, before, out);
        fputs("</li>\n", out);
    }
    fputs("</ol>\n", out);
    for (size_t j = 0; (text = hp_list_caution(plan, step, k, j)); j++)
        if (is_new(before, text)) {
            fputs("<p class=\"care\">", out);
            hp_html_put(out, text);
            fputs("</p>\n", out);
        }
    fputs("</section>\n", out);
}

/* How-to and cautions of the first step of each sort. */
static void put_sorts(const flow *f, FILE *out)
{
    const hp_list_step *step = f->plan->step;
    told before = {.count = 0};
    fputs("<section class=\"sorts\" aria-labelledby=\"sorts-head\">\n"
          "<h2 id=\"sorts-head\">How each sort of step is done</h2>\n"
          "<p>The leads are those of the first step of its sort; in later ones the names "
          "differ. What helps is told once, where it comes first.</p>\n<div class=\"columns\">\n",
          out);
    for (int k = 0; k < f->count; k++)
        if (is_first_of_sort(f, k))
            put_sort(f->plan, &step[f->list[k]], &before, out);
    fputs("</div>\n</section>\n", out);
}

bool hp_list_lines_put(const hp_plan_list *list, const hp_list_steps *plan, FILE *out)
{
    flow f;
    int lines = LINES - ACROSS * list->entries; /* the log stands above */
    bool fine =
        flow_make(&f, plan, list->subject.labels, lines > LINES_LEAST ? lines : LINES_LEAST);
    if (fine) {
        fputs("<section id=\"flow\" class=\"flow\" aria-labelledby=\"flow-head\">\n"
              "<h2 id=\"flow-head\">The plan as a numbered list</h2>\n"
              "<p>Begin at 1, do what it says, and go on at the number behind what you saw. Write "
              "every answer down. As at 5: the answers of 5, in the same order. What is not "
              "in the list is rare: go back to the page, or write "
              "the answers into a log and ask <code>hubphase next</code>.</p>\n",
              out);
        put_wirings(&f, list->subject.labels, out);
        fputs("<ol class=\"steps\">\n", out);
        for (int number = 1; number <= f.count; number++)
            put_step(&f, number, out);
        fputs("</ol>\n", out);
        put_sorts(&f, out);
        fputs("</section>\n", out);
    }
    flow_free(&f);
    return fine;
}
