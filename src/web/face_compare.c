/* What changed since an earlier log, as `hubphase compare` says it. See face_parts.h. */
#include "record/log/bench_log_parts.h"
#include "web/face_parts.h"

#include <string.h>

#define USUAL_NAME "the earlier log" /* of a file that has none */

static hp_result read_then(hp_web *web, hp_web_answer *a, hp_bench_log *log)
{
    const char *text, *name = NULL;
    const hp_problem_ear ear = hp_web_ear(a);
    bool good = hp_web_want_text(a, "then", &text);
    if (!hp_web_take_text(a, "then_name", &name) || !good)
        return HP_FAIL_INPUT;
    return hp_bench_log_read_heard(text, strlen(text), name && name[0] ? name : USUAL_NAME,
                                   &web->c->scenario, log, &ear, &a->err);
}

static hp_result tell(hp_web_answer *a, hp_commission_case *const c[2], int columns)
{
    hp_web_stream json = {.text = NULL}, text = {.text = NULL};
    hp_result result = hp_web_stream_begin(&json, &a->err);
    if (result == HP_OK)
        result = hp_compare_json_write(c[0], c[1], json.file, &a->err);
    if (result == HP_OK)
        result = hp_web_stream_end(&json, &a->err);
    if (result == HP_OK)
        hp_web_set(a, "json", json_loads(json.text, 0, NULL));
    hp_web_stream_free(&json);
    if (result == HP_OK)
        result = hp_web_stream_begin(&text, &a->err);
    const hp_screen screen = {.file = text.file, .columns = columns};
    if (result == HP_OK)
        result = hp_compare_print(c[0], c[1], &screen, &a->err);
    return hp_web_stream_tell(&text, "text", result, a);
}

hp_result hp_web_compare(hp_web *web, hp_web_answer *a)
{
    hp_bench_log then;
    hp_commission_case *c[2] = {NULL, NULL};
    int columns;
    memset(&then, 0, sizeof then);
    hp_result result = hp_web_want_open(web, a, false);
    if (result == HP_OK && !hp_web_take_columns(a, &columns))
        result = HP_FAIL_INPUT;
    if (result == HP_OK)
        result = read_then(web, a, &then);
    const hp_bench_log *const log[2] = {&then, result == HP_OK ? &web->c->entries : NULL};
    for (int k = 0; k < 2 && result == HP_OK; k++) {
        c[k] = hp_commission_case_create(&web->c->scenario, log[k], &a->err);
        result = c[k] ? HP_OK : a->err.code;
    }
    if (result == HP_OK)
        result = tell(a, c, columns);
    hp_commission_case_free(c[0]);
    hp_commission_case_free(c[1]);
    hp_bench_log_free(&then);
    return result;
}
