/* The advice of a case in words: see the header. */
#include "hubphase/report/case_words.h"

#include "decide/advise/advice_standing.h"
#include "hubphase/base/text.h"
#include "record/case/case_parts.h"
#include "report/words/advice_report.h"
#include "report/words/card_parts.h"
#include "report/words/case_card.h"
#include "report/words/words.h"

#include <stdlib.h>

/* chosen: what shows less often is no choice worth a button. */
#define LEAST_SHOWING 0.002
/* chosen: hypotheses that never came to this are not worth a line. */
#define LEAST_TEXT 0.01
#define LEAST_JSON 1e-4

hp_card_context hp_case_card_context(const hp_case *c)
{
    return (hp_card_context){.drive = &c->scenario->drive,
                             .labels = &c->scenario->labels,
                             .plan = hp_planner_params(c->planner),
                             .present = hp_card_present(&c->belief),
                             .plug = hp_bench_log_plug(&c->log),
                             .commission = hp_commission_case_list(c->commissioning)};
}

/* ---- a step ---------------------------------------------------------------------------------- */

void hp_step_print(const hp_case *c, const hp_advice *advice, const hp_screen *out)
{
    hp_card_context context = hp_case_card_context(c);
    hp_card words;
    char text[400];
    hp_card_make(&context, advice, &words);
    hp_card_print(&words, out);
    hp_card_print_details(&words, out);
    hp_contradiction_words(&c->belief, &advice->contradiction, text, sizeof text);
    if (text[0])
        hp_text_fill(out, "Look again", HP_CARD_INDENT, text);
}

void hp_hint_words(const hp_case *c, const hp_advice *advice, char title[HP_HINT_WORDS],
                   char reason[HP_HINT_WORDS], char again[HP_HINT_WORDS])
{
    hp_card_context context = hp_case_card_context(c);
    hp_card words;
    hp_card_make(&context, advice, &words);
    snprintf(title, HP_HINT_WORDS, "%s", words.title);
    snprintf(reason, HP_HINT_WORDS, "%s", words.reason);
    hp_contradiction_words(&c->belief, &advice->contradiction, again, HP_HINT_WORDS);
}

void hp_hint_print(const hp_case *c, const hp_advice *advice, const hp_screen *out)
{
    char title[HP_HINT_WORDS], reason[HP_HINT_WORDS], again[HP_HINT_WORDS];
    hp_hint_words(c, advice, title, reason, again);
    hp_text_fill(out, "Hint", HP_CARD_INDENT, title);
    hp_text_fill(out, "Why", HP_CARD_INDENT, reason);
    if (again[0])
        hp_text_fill(out, "Look again", HP_CARD_INDENT, again);
}

void hp_how_to_print(const hp_case *c, const hp_reading *kind, const hp_screen *out)
{
    hp_card_context context = hp_case_card_context(c);
    const hp_advice advice = {.kind = HP_ADVICE_READ, .reading = kind, .lead = -1};
    const hp_words *own = hp_words_of(kind);
    hp_card words;
    if (!own || !own->card) {
        hp_text_fill(out, "Safe now", HP_CARD_INDENT, hp_safe_text(HP_SAFE_DEAD, NULL));
        hp_cautions_print(out);
        return;
    }
    hp_card_make(&context, &advice, &words);
    words.chosen = true;
    hp_card_print(&words, out);
    hp_card_print_details(&words, out);
}

const hp_reading *hp_step_stopped(const hp_case *c, const hp_advice *advice)
{
    const hp_card_context context = hp_case_card_context(c);
    const hp_commission *list = context.commission;
    return hp_card_is_stopped(&context, advice) ? list->step[list->next].reading : NULL;
}

char *hp_step_log_line(const hp_case *c, const hp_advice *advice, const char *const *begin,
                       char *out, size_t size)
{
    hp_card_context context = hp_case_card_context(c);
    hp_log_line line = {.out = out, .size = size};
    /* The final check is a trial, too, until it was made. */
    bool ends = advice->checked || !hp_advice_entry(advice);
    out[0] = '\0';
    if (ends || hp_card_is_stopped(&context, advice))
        return out;
    for (; *begin; begin++)
        hp_log_word(&line, "%s", *begin);
    hp_log_options(&context, advice, hp_advice_entry(advice), &line);
    return out;
}

/* ---- a report -------------------------------------------------------------------------------- */

struct hp_case_report {
    const hp_case *subject; /* borrowed */
    hp_case_report_options options;
    hp_advice advice;
    hp_standing standing;
    hp_standing_course course; /* owned; only with `why` */
    hp_showing showing[HP_SHOWING_MAX];
    int showings;
    double *slip; /* owned; [entries] */
};

static hp_result reckon(hp_case_report *r, hp_case *c, hp_error *err)
{
    const hp_case_report_options *options = &r->options;
    hp_result result = hp_case_advise(c, false, &r->advice, err);
    if (result == HP_OK)
        result = hp_standing_fill(&c->belief, c->scenario->bench.prior.table, &r->standing, err);
    if (result != HP_OK)
        return result;
    r->slip = calloc((size_t)c->belief.entries + 1, sizeof *r->slip);
    if (!r->slip)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a report");
    /* Here and not by the plan: the slips are wanted too, and are found only once. */
    result = hp_belief_contradiction(&c->belief, &r->advice.contradiction, r->slip, err);
    if (result == HP_OK && options->why)
        result = hp_standing_course_make(&c->belief, options->json ? LEAST_JSON : LEAST_TEXT,
                                         &r->course, err);
    if (result == HP_OK && options->json)
        r->showings = hp_case_showings(c, &r->advice, LEAST_SHOWING, r->showing);
    return result;
}

hp_case_report *hp_case_report_create(hp_case *c, const hp_case_report_options *options,
                                      hp_error *err)
{
    hp_case_report *r = calloc(1, sizeof *r);
    if (!r) {
        hp_error_set(err, HP_FAIL_MEMORY, "no memory for a report");
        return NULL;
    }
    r->subject = c;
    r->options = *options;
    if (reckon(r, c, err) != HP_OK) {
        hp_case_report_free(r);
        return NULL;
    }
    return r;
}

void hp_case_report_free(hp_case_report *r)
{
    if (!r)
        return;
    hp_standing_course_free(&r->course);
    free(r->slip);
    free(r);
}

const hp_advice *hp_case_report_advice(const hp_case_report *r)
{
    return &r->advice;
}

/* What the writers need, all borrowed; `subject` and `context` are filled in. */
static hp_advice_report report_of(const hp_case_report *r, const char *log_line,
                                  hp_report_case *subject, hp_card_context *context)
{
    const hp_case *c = r->subject;
    *subject = hp_report_case_of(c->scenario);
    *context = hp_case_card_context(c);
    return (hp_advice_report){.subject = subject,
                              .context = context,
                              .belief = &c->belief,
                              .advice = &r->advice,
                              .standing = &r->standing,
                              .log_file = c->log.path,
                              .log_line = log_line ? log_line : "",
                              .slip = r->slip,
                              .showing = r->showing,
                              .showings = r->showings,
                              .course = r->options.why ? &r->course : NULL};
}

hp_result hp_case_report_write(const hp_case_report *r, const char *log_line, const hp_screen *out,
                               hp_error *err)
{
    hp_report_case subject;
    hp_card_context context;
    hp_advice_report report = report_of(r, log_line, &subject, &context);
    if (r->options.json)
        return hp_advice_json_write(&report, out->file, err);
    hp_advice_print(&report, out);
    return HP_OK;
}

void hp_case_report_print(const hp_case_report *r, const char *log_line, const hp_screen *out)
{
    hp_report_case subject;
    hp_card_context context;
    hp_advice_report report = report_of(r, log_line, &subject, &context);
    hp_advice_print(&report, out);
}

char *hp_case_report_meant(const hp_case_report *r, int number, char *out, size_t size)
{
    hp_report_case subject;
    hp_card_context context;
    hp_advice_report report = report_of(r, NULL, &subject, &context);
    return hp_advice_meant(&report, number, out, size);
}

char *hp_case_report_counted(const hp_case_report *r, int number, char *out, size_t size)
{
    hp_report_case subject;
    hp_card_context context;
    hp_advice_report report = report_of(r, NULL, &subject, &context);
    return hp_advice_counted(&report, number, out, size);
}
