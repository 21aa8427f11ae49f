/*
 * The one call of the face: see the header. A request goes through the table below; what they share
 * - taking members, telling problems, texts from streams - stands here.
 */
#include "web/face.h"

#include "hubphase/base/text.h"
#include "web/face_parts.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#define PROBLEM_SIZE 1200

static const struct {
    const char *name;
    hp_web_do run;
} requests[] = {
    {"about", hp_web_about},
    {"open", hp_web_open},
    {"table", hp_web_table},

    {"advice", hp_web_advice},
    {"form", hp_web_form},
    {"answer", hp_web_answer_form},
    {"change", hp_web_change},
    {"drop", hp_web_drop},
    {"rename", hp_web_rename},
    {"survey", hp_web_survey},
    {"explain", hp_web_explain},
    {"trace", hp_web_trace},
    {"picture", hp_web_picture},
    {"sheet", hp_web_sheet},
    {"paper", hp_web_paper},
    {"controls", hp_web_controls},
    {"fit", hp_web_fit},
    {"essentials", hp_web_essentials},
    {"compose", hp_web_compose},
    {"amend", hp_web_amend},
    {"sort", hp_web_sort},
    {"commission", hp_web_commission},
    {"lesson", hp_web_lesson},
    {"practise", hp_web_practise},
    {"practise_take", hp_web_practise_take},
    {"practise_drop", hp_web_practise_drop},
    {"practise_hint", hp_web_practise_hint},
    {"practise_end", hp_web_practise_end},
    {"compare", hp_web_compare},
    {"learnt", hp_web_learnt},
    {"spread", hp_web_spread},
};

hp_web *hp_web_create(hp_progress progress, void *user)
{
    hp_web *web = calloc(1, sizeof *web);
    if (web)
        *web = (hp_web){.progress = progress, .user = user};
    return web;
}

void hp_web_free(hp_web *web)
{
    if (!web)
        return;
    hp_web_forget(web);
    hp_web_forget_lesson(web);
    hp_web_case_free(web->c);
    hp_web_practice_free(web->practice);
    free(web);
}

/* ---- the answer ------------------------------------------------------------------------------ */

void hp_web_set(hp_web_answer *a, const char *key, json_t *value)
{
    hp_json_set(&a->json, a->object, key, value);
}

void hp_web_set_text(hp_web_answer *a, const char *key, const char *text)
{
    hp_web_set(a, key, text ? hp_json_text(text) : json_null());
}

static void add_problem(hp_web_answer *a, const char *key, const char *text, json_t *object)
{
    hp_json_set(&a->json, object, "key", key[0] ? hp_json_text(key) : json_null());
    hp_json_set(&a->json, object, "text", hp_json_text(text));
    hp_json_append(&a->json, a->problems, object);
}

hp_result hp_web_problem(hp_web_answer *a, const char *key, const char *format, ...)
{
    char text[PROBLEM_SIZE];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    add_problem(a, key, text, json_object());
    size_t count = json_array_size(a->problems);
    return count > 1 ? hp_error_set(&a->err, HP_FAIL_INPUT, "%zu problems", count)
                     : hp_error_set(&a->err, HP_FAIL_INPUT, "%s", text);
}

static void hear(void *user, const hp_problem *problem, const hp_source *source)
{
    hp_web_answer *a = user;
    hp_web_stream show;
    json_t *object = json_object();
    if (hp_web_stream_begin(&show, &a->err) == HP_OK) {
        const hp_screen unfilled = {.file = show.file};
        hp_problem_print(problem, source, &unfilled);
        if (hp_web_stream_end(&show, &a->err) == HP_OK)
            hp_json_set(&a->json, object, "show", hp_json_text(show.text));
    }
    hp_web_stream_free(&show);
    hp_json_set(&a->json, object, "file", hp_json_text(source->path));
    hp_json_set(&a->json, object, "line", json_integer(problem->place.line));
    hp_json_set(&a->json, object, "column", json_integer(problem->place.column));
    add_problem(a, problem->key, problem->text, object);
}

hp_problem_ear hp_web_ear(hp_web_answer *a)
{
    return (hp_problem_ear){hear, a};
}

hp_result hp_web_stream_begin(hp_web_stream *stream, hp_error *err)
{
    *stream = (hp_web_stream){.text = NULL};
    stream->file = open_memstream(&stream->text, &stream->size);
    return stream->file ? HP_OK : hp_error_set(err, HP_FAIL_MEMORY, "no memory for an answer");
}

hp_result hp_web_stream_end(hp_web_stream *stream, hp_error *err)
{
    bool good = !ferror(stream->file);
    good = fclose(stream->file) == 0 && good;
    stream->file = NULL;
    return good ? HP_OK : hp_error_set(err, HP_FAIL_MEMORY, "no memory for an answer");
}

void hp_web_stream_free(hp_web_stream *stream)
{
    if (stream->file)
        (void)fclose(stream->file);
    free(stream->text);
}

hp_result hp_web_stream_tell(hp_web_stream *stream, const char *key, hp_result written,
                             hp_web_answer *a)
{
    if (written == HP_OK)
        written = hp_web_stream_end(stream, &a->err);
    if (written == HP_OK)
        hp_web_set_text(a, key, stream->text);
    hp_web_stream_free(stream);
    return written;
}

hp_result hp_web_stream_tell_json(hp_web_stream *stream, hp_result written, hp_web_answer *a)
{
    if (written == HP_OK)
        written = hp_web_stream_end(stream, &a->err);
    if (written == HP_OK)
        hp_web_set(a, "json", json_loads(stream->text, 0, NULL));
    hp_web_stream_free(stream);
    return written;
}

/* ---- the request ----------------------------------------------------------------------------- */

/* The member; NULL where it is not there or null. */
static const json_t *member(const hp_web_answer *a, const char *key)
{
    const json_t *value = json_object_get(a->request, key);
    return json_is_null(value) ? NULL : value;
}

bool hp_web_take_text(hp_web_answer *a, const char *key, const char **out)
{
    const json_t *value = member(a, key);
    if (value && !json_is_string(value)) {
        hp_web_problem(a, key, "%s is no text, must be one", key);
        return false;
    }
    if (value)
        *out = json_string_value(value);
    return true;
}

bool hp_web_want_text(hp_web_answer *a, const char *key, const char **out)
{
    *out = NULL;
    if (!hp_web_take_text(a, key, out))
        return false;
    if (!*out)
        hp_web_problem(a, key, "%s is missing, must be a text", key);
    return *out != NULL;
}

bool hp_web_take_number(hp_web_answer *a, const char *key, double low, double high, double *out)
{
    const json_t *value = member(a, key);
    double number = json_number_value(value);
    if (!value)
        return true;
    if (!json_is_number(value) || !(number >= low && number <= high)) {
        hp_web_problem(a, key, "%s must be a number from %g to %g", key, low, high);
        return false;
    }
    *out = number;
    return true;
}

bool hp_web_take_whole(hp_web_answer *a, const char *key, int low, int high, int *out)
{
    double number = *out;
    if (!hp_web_take_number(a, key, low, high, &number))
        return false;
    if (number != floor(number)) {
        hp_web_problem(a, key, "%s must be a whole number from %d to %d", key, low, high);
        return false;
    }
    *out = (int)number;
    return true;
}

bool hp_web_take_flag(hp_web_answer *a, const char *key, bool *out)
{
    const json_t *value = member(a, key);
    if (value && !json_is_boolean(value)) {
        hp_web_problem(a, key, "%s must be true or false", key);
        return false;
    }
    if (value)
        *out = json_is_true(value);
    return true;
}

bool hp_web_want_kind(hp_web_answer *a, const hp_reading **kind)
{
    const char *name;
    if (!hp_web_want_text(a, "kind", &name))
        return false;
    *kind = hp_reading_find(name);
    if (!*kind)
        hp_web_problem(a, "kind", "\"%.80s\" is no kind of entry", name);
    return *kind != NULL;
}

/* Room that the lists among these values take as texts. */
static size_t room_of(const json_t *object)
{
    const char *name;
    json_t *value, *entry;
    size_t k, room = 0;
    json_object_foreach((json_t *)object, name, value) json_array_foreach(value, k, entry) room +=
        json_string_length(entry) + 1;
    return room;
}

/* The entries of an array as lines, at *room, which moves on; NULL: one is no text in one line, or
 * there are none. */
static const char *lines_of(const json_t *array, char **room)
{
    char *begin = *room;
    size_t k;
    json_t *entry;
    json_array_foreach(array, k, entry)
    {
        const char *text = json_string_value(entry);
        if (!text || strpbrk(text, "\r\n") || strlen(text) >= HP_STATED_ENTRY)
            return NULL;
        if (k > 0)
            (*room)[-1] = '\n';
        *room = stpcpy(*room, text) + 1;
    }
    return *room > begin ? begin : NULL;
}

static bool take_values(hp_web_answer *a, const char *key, bool lists, hp_scenario_change **list,
                        int *count)
{
    const json_t *object = member(a, key);
    const char *name;
    json_t *value;
    *list = NULL;
    *count = 0;
    if (object && !json_is_object(object)) {
        hp_web_problem(a, key, "%s must be an object of texts", key);
        return false;
    }
    size_t size = json_object_size(object);
    if (size == 0)
        return true;
    /* The texts of lists stand behind the row of values. */
    *list = calloc(1, size * sizeof **list + room_of(object));
    if (!*list) {
        hp_error_set(&a->err, HP_FAIL_MEMORY, "no memory for what was stated");
        return false;
    }
    char *room = (char *)(*list + size);
    json_object_foreach((json_t *)object, name, value)
    {
        bool several = lists && json_is_array(value);
        const char *text = several ? lines_of(value, &room) : json_string_value(value);
        if (json_is_null(value))
            continue;
        if (!text)
            hp_web_problem(a, name, "%.80s is no text%s, must be one", name,
                           lists ? " and no list of texts" : "");
        else
            (*list)[(*count)++] = (hp_scenario_change){name, text, several};
    }
    if (a->err.code == HP_OK)
        return true;
    free(*list);
    *list = NULL;
    return false;
}

bool hp_web_take_texts(hp_web_answer *a, const char *key, hp_scenario_change **list, int *count)
{
    return take_values(a, key, false, list, count);
}

bool hp_web_take_stated(hp_web_answer *a, const char *key, hp_scenario_change **list, int *count)
{
    return take_values(a, key, true, list, count);
}

bool hp_web_take_columns(hp_web_answer *a, int *columns)
{
    *columns = HP_TEXT_COLUMNS;
    return hp_web_take_whole(a, "columns", HP_TEXT_COLUMNS_LEAST, HP_TEXT_COLUMNS_MOST, columns);
}

bool hp_web_take_shape(hp_web_answer *a, hp_shape *shape)
{
    const char *word = NULL;
    hp_error err = hp_error_none();
    if (!hp_web_take_text(a, "shape", &word))
        return false;
    if (!word || hp_shape_parse(word, shape, &err) == HP_OK)
        return true;
    hp_web_problem(a, "shape", "%s", err.text);
    return false;
}

/* ---- the call -------------------------------------------------------------------------------- */

static hp_result run(hp_web *web, hp_web_answer *a)
{
    const char *name;
    if (!json_is_object(a->request))
        return hp_error_set(&a->err, HP_FAIL_INPUT, "the request is no JSON object");
    if (!hp_web_want_text(a, "do", &name))
        return HP_FAIL_INPUT;
    for (size_t k = 0; k < sizeof requests / sizeof requests[0]; k++)
        if (strcmp(requests[k].name, name) == 0)
            return requests[k].run(web, a);
    return hp_web_problem(a, "do", "\"%.80s\" is no request", name);
}

/* What failed: nothing that was set before stays in the answer. */
static void put_failure(hp_web_answer *a)
{
    json_object_clear(a->object);
    hp_web_set(a, "ok", json_false());
    hp_web_set_text(a, "cause", hp_result_name(a->err.code));
    hp_web_set_text(a, "summary", a->err.text);
    hp_web_set(a, "problems", json_incref(a->problems));
}

char *hp_web_call(hp_web *web, const char *request)
{
    json_t *parsed = json_loads(request, 0, NULL);
    hp_web_answer a = {.request = parsed,
                       .object = json_object(),
                       .problems = json_array(),
                       .err = hp_error_none()};
    hp_web_set(&a, "ok", json_true());
    hp_result result = run(web, &a);
    if (result == HP_OK && a.json.failed)
        hp_error_set(&a.err, HP_FAIL_MEMORY, "no memory for an answer");
    if (result != HP_OK || a.json.failed) {
        a.json.failed = false;
        put_failure(&a);
    }
    char *text = a.json.failed ? NULL : json_dumps(a.object, JSON_COMPACT);
    json_decref(a.object);
    json_decref(a.problems);
    json_decref(parsed);
    return text;
}
