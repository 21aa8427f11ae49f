/* The work after the wiring: what `hubphase commission` says, as text and in parts. See
 * face_parts.h. */
#include "hubphase/base/text.h"
#include "web/face_parts.h"

#include <string.h>

#define LOG_LINE 4096

/* The step that is asked for by name; NULL: none is. */
static hp_result find_step(const hp_commission *list, hp_web_answer *a, const hp_reading **asked)
{
    const char *name = NULL;
    *asked = NULL;
    if (!hp_web_take_text(a, "step", &name))
        return HP_FAIL_INPUT;
    if (!name)
        return HP_OK;
    *asked = hp_reading_find(name);
    return *asked && hp_commission_step_of(list, *asked)
               ? HP_OK
               : hp_web_problem(a, "step", "\"%.80s\" is no step of commissioning", name);
}

static char *log_line(const hp_web *web, const hp_reading *kind, char *out, size_t size)
{
    char file[HP_BENCH_PATH_SIZE];
    hp_shell_file(web->c->name, file, sizeof file);
    const char *const begin[] = {"hubphase", "log", file, NULL};
    return hp_commission_log_line(hp_case_commissioning(web->c->bench), kind, begin, out, size);
}

static hp_result set_json(hp_web *web, hp_web_answer *a, const hp_reading *kind, const char *line)
{
    hp_web_stream out;
    hp_result result = hp_web_stream_begin(&out, &a->err);
    if (result == HP_OK)
        result = hp_commission_json_write(hp_case_commissioning(web->c->bench), kind, line,
                                          out.file, &a->err);
    return hp_web_stream_tell_json(&out, result, a);
}

static hp_result set_text(hp_web *web, hp_web_answer *a, const hp_reading *asked, const char *line,
                          int columns)
{
    hp_web_stream out;
    hp_result result = hp_web_stream_begin(&out, &a->err);
    if (result == HP_OK) {
        const hp_screen screen = {.file = out.file, .columns = columns, .page = true};
        hp_commission_print(hp_case_commissioning(web->c->bench), asked, line, &screen);
    }
    return hp_web_stream_tell(&out, "text", result, a);
}

hp_result hp_web_commission(hp_web *web, hp_web_answer *a)
{
    char line[LOG_LINE] = "";
    const hp_reading *asked = NULL;
    int columns;
    hp_result result = hp_web_want_open(web, a, true);
    if (result == HP_OK && !hp_web_take_columns(a, &columns))
        result = HP_FAIL_INPUT;
    if (result != HP_OK)
        return result;
    const hp_commission *list = hp_commission_case_list(hp_case_commissioning(web->c->bench));
    result = find_step(list, a, &asked);
    if (result != HP_OK)
        return result;
    const hp_reading *next = list->next >= 0 ? list->step[list->next].reading : NULL;
    const hp_reading *kind = asked ? asked : next;
    const hp_advice advice = {.kind = HP_ADVICE_READ, .reading = kind, .lead = -1};
    if (kind)
        log_line(web, kind, line, sizeof line);
    result = set_json(web, a, asked, kind ? line : NULL);
    if (result == HP_OK)
        result = set_text(web, a, asked, kind ? line : NULL, columns);
    hp_web_set(a, "card", kind ? hp_web_card(web, a, &advice) : json_null());
    return result;
}
