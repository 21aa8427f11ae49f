/* What changed since an earlier log, as `hubphase compare` says it; and the scenario with what the
 * log told, as `hubphase commission --write` writes it. See face_parts.h. */
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

static hp_result tell(hp_web_answer *a, hp_commission_case *const c[2], bool same_meters,
                      int columns)
{
    hp_web_stream json = {.text = NULL}, text = {.text = NULL};
    hp_result result = hp_web_stream_begin(&json, &a->err);
    if (result == HP_OK)
        result = hp_compare_json_write(c[0], c[1], same_meters, json.file, &a->err);
    result = hp_web_stream_tell_json(&json, result, a);
    if (result == HP_OK)
        result = hp_web_stream_begin(&text, &a->err);
    const hp_screen screen = {.file = text.file, .columns = columns, .page = true};
    if (result == HP_OK)
        result = hp_compare_print(c[0], c[1], same_meters, &screen, &a->err);
    return hp_web_stream_tell(&text, "text", result, a);
}

hp_result hp_web_compare(hp_web *web, hp_web_answer *a)
{
    hp_bench_log then;
    hp_commission_case *c[2] = {NULL, NULL};
    bool same_meters = false;
    int columns;
    memset(&then, 0, sizeof then);
    hp_result result = hp_web_want_open(web, a, false);
    if (result == HP_OK &&
        (!hp_web_take_columns(a, &columns) || !hp_web_take_flag(a, "same_meters", &same_meters)))
        result = HP_FAIL_INPUT;
    if (result == HP_OK)
        result = read_then(web, a, &then);
    const hp_bench_log *const log[2] = {&then, result == HP_OK ? &web->c->entries : NULL};
    for (int k = 0; k < 2 && result == HP_OK; k++) {
        c[k] = hp_commission_case_create(hp_compare_scenario(&web->c->scenario, log[0], log[1]),
                                         log[k], &a->err);
        result = c[k] ? HP_OK : a->err.code;
    }
    if (result == HP_OK)
        result = tell(a, c, same_meters, columns);
    hp_commission_case_free(c[0]);
    hp_commission_case_free(c[1]);
    hp_bench_log_free(&then);
    return result;
}

/* ---- the scenario with the machine's own figures --------------------------------------------- */

/* Steps that found what speaks against taking these figures for the sound machine's. */
static json_t *doubtful(hp_web_answer *a, const hp_commission *list)
{
    json_t *array = json_array();
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        if (!hp_finding_wants_mending(step->finding))
            continue;
        json_t *object = json_object();
        hp_json_set(&a->json, object, "kind", hp_json_text(hp_reading_name(step->reading)));
        hp_json_set(&a->json, object, "title", hp_json_text(hp_reading_title(step->reading)));
        hp_json_set(&a->json, object, "finding", hp_json_text(hp_finding_name(step->finding)));
        hp_json_append(&a->json, array, object);
    }
    return array;
}

hp_result hp_web_learnt(hp_web *web, hp_web_answer *a)
{
    hp_web_stream text = {.text = NULL};
    hp_commission_case *c = NULL;
    int changes = 0;
    hp_result result = hp_web_want_open(web, a, false);
    if (result == HP_OK) {
        c = hp_commission_case_create(&web->c->scenario, &web->c->entries, &a->err);
        result = c ? HP_OK : a->err.code;
    }
    if (result == HP_OK)
        result = hp_web_stream_begin(&text, &a->err);
    if (result == HP_OK)
        result = hp_commission_case_write_text(c, web->c->text, NULL, text.file, &changes, NULL,
                                               &a->err);
    result = hp_web_stream_tell(&text, "scenario", result, a);
    if (result == HP_OK) {
        hp_web_set(a, "changes", json_integer(changes));
        hp_web_set(a, "doubtful", doubtful(a, hp_commission_case_list(c)));
    }
    hp_commission_case_free(c);
    return result;
}
