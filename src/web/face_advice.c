/* The next step: what `hubphase next` says, as text and in parts. See face_parts.h. */
#include "hubphase/base/text.h"
#include "hubphase/report/pictures.h"
#include "record/case/case_parts.h"
#include "report/picture/picture_connect.h"
#include "report/words/case_card.h"
#include "web/face_parts.h"

#include <stdlib.h>

#define LOG_LINE 4096

hp_case_report *hp_web_report(hp_web *web, hp_web_answer *a)
{
    const hp_case_report_options options = {.json = true};
    if (!web->report)
        web->report = hp_case_report_create(web->c->bench, &options, &a->err);
    return web->report;
}

/* The command that logs the step, as `hubphase next NAME` names it. */
static char *log_line(const hp_web *web, const hp_advice *advice, char *out, size_t size)
{
    char file[HP_BENCH_PATH_SIZE];
    hp_shell_file(web->c->name, file, sizeof file);
    const char *const begin[] = {"hubphase", "log", file, NULL};
    return hp_step_log_line(web->c->bench, advice, begin, out, size);
}

static hp_result set_json(hp_web *web, hp_web_answer *a, const char *line)
{
    hp_web_stream out;
    hp_result result = hp_web_stream_begin(&out, &a->err);
    if (result == HP_OK) {
        const hp_screen screen = hp_screen_plain(out.file);
        result = hp_case_report_write(web->report, line, &screen, &a->err);
    }
    return hp_web_stream_tell_json(&out, result, a);
}

static hp_result set_text(const hp_case_report *report, hp_web_answer *a, const char *line,
                          int columns)
{
    hp_web_stream out;
    hp_result result = hp_web_stream_begin(&out, &a->err);
    if (result == HP_OK) {
        const hp_screen screen = {.file = out.file, .columns = columns, .page = true};
        hp_case_report_print(report, line, &screen);
    }
    return hp_web_stream_tell(&out, "text", result, a);
}

/* As `hubphase next --why`. */
static hp_result set_why(hp_web *web, hp_web_answer *a, const char *line, int columns)
{
    const hp_case_report_options options = {.why = true};
    hp_case_report *report = hp_case_report_create(web->c->bench, &options, &a->err);
    hp_result result = report ? set_text(report, a, line, columns) : a->err.code;
    hp_case_report_free(report);
    return result;
}

/* ---- the card -------------------------------------------------------------------------------- */

static json_t *cautions_at(hp_web_answer *a, const hp_card *words, int at)
{
    json_t *array = json_array();
    for (int k = 0; k < words->cautions; k++)
        if (words->caution_at[k] == at)
            hp_json_append(&a->json, array, hp_json_text(words->caution[k]));
    return array;
}

static json_t *details_at(hp_web_answer *a, const hp_card *words, int at)
{
    json_t *array = json_array();
    for (int k = 0; k < words->details; k++)
        if (words->detail_at[k] == at)
            hp_json_append(&a->json, array, hp_json_text(words->detail[k]));
    return array;
}

static json_t *card_object(hp_web_answer *a, const hp_card *words)
{
    json_t *object = json_object(), *how = json_array();
    for (int k = 0; k < words->hows; k++) {
        json_t *action = json_object();
        hp_json_set(&a->json, action, "text", hp_json_text(words->how[k]));
        hp_json_set(&a->json, action, "details", details_at(a, words, k));
        hp_json_set(&a->json, action, "cautions", cautions_at(a, words, k));
        hp_json_append(&a->json, how, action);
    }
    hp_json_set(&a->json, object, "stop", json_boolean(words->stop));
    hp_json_set(&a->json, object, "title", hp_json_text(words->title));
    hp_json_set(&a->json, object, "safe", hp_json_text(words->safe));
    hp_json_set(&a->json, object, "reason", hp_json_text(words->reason));
    hp_json_set(&a->json, object, "how", how);
    hp_json_set(&a->json, object, "cautions", cautions_at(a, words, words->hows));
    hp_json_set(&a->json, object, "healthy", hp_json_text(words->healthy));
    hp_json_set(&a->json, object, "note", hp_json_text(words->note));
    return object;
}

json_t *hp_web_card(hp_web *web, hp_web_answer *a, const hp_advice *advice)
{
    const hp_card_context context = hp_case_card_context(web->c->bench);
    json_t *object = NULL;
    hp_card *words = malloc(sizeof *words);
    if (words) {
        hp_card_make(&context, advice, words);
        object = card_object(a, words);
    }
    free(words);
    return object;
}

/* ---- requests -------------------------------------------------------------------------------- */

/* The questions for what the step shows; null where nothing is to be written down. */
static json_t *form_of(hp_web *web, hp_web_answer *a, const hp_advice *advice)
{
    const hp_reading *stopped = hp_step_stopped(web->c->bench, advice);
    const hp_reading *kind = stopped ? stopped : hp_advice_entry(advice);
    if (!kind || !hp_questions_of(kind))
        return json_null();
    const hp_question_case given = hp_web_given(web, a, kind);
    json_t *object = json_object();
    hp_json_set(&a->json, object, "kind", hp_json_text(hp_reading_name(kind)));
    hp_json_set(&a->json, object, "questions", hp_web_form_make(a, &given, kind, NULL, 0));
    return object;
}

hp_result hp_web_advice(hp_web *web, hp_web_answer *a)
{
    char line[LOG_LINE];
    int columns;
    bool why = false;
    hp_result result = hp_web_want_open(web, a, true);
    if (result == HP_OK && (!hp_web_take_columns(a, &columns) || !hp_web_take_flag(a, "why", &why)))
        result = HP_FAIL_INPUT;
    if (result == HP_OK && !hp_web_report(web, a))
        result = a->err.code;
    if (result != HP_OK)
        return result;
    const hp_advice *advice = hp_case_report_advice(web->report);
    bool found = hp_advice_ends_riding(advice);
    bool ended = found || advice->kind == HP_ADVICE_GIVE_UP;
    log_line(web, advice, line, sizeof line);
    result = set_json(web, a, line);
    if (result == HP_OK)
        result = why ? set_why(web, a, line, columns) : set_text(web->report, a, line, columns);
    hp_web_set(a, "card", hp_web_card(web, a, advice));
    hp_web_set(a, "form", form_of(web, a, advice));
    hp_web_set(a, "connect", json_boolean(hp_connect_kind(advice) != NULL));
    hp_web_set(a, "ended", json_boolean(ended));
    hp_web_set(a, "found", json_boolean(found)); /* a wiring ran well: commissioning follows */
    hp_web_set(a, "mends", json_boolean(advice->kind == HP_ADVICE_REPAIR));
    hp_web_set(a, "check_failed", json_boolean(advice->why == HP_WHY_CHECK_FAILED));
    hp_web_set(a, "wiring", advice->number > 0 ? json_integer(advice->number) : json_null());
    const char *must = hp_card_must(advice);
    bool leaves = hp_advice_can_be_left_out(advice) && !hp_step_stopped(web->c->bench, advice);
    hp_web_set(a, "may_be_left_out", json_boolean(leaves));
    hp_web_set(a, "must", must ? hp_json_text(must) : json_null());
    return result;
}
