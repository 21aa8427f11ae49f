/*
 * The face of the library asked by a test: a face of its own for each, requests as text or as JSON,
 * answers as JSON.
 */
#ifndef HUBPHASE_TESTS_FACE_CALLS_H
#define HUBPHASE_TESTS_FACE_CALLS_H

#include "check.h"

#include "web/face.h"

#include <jansson.h>
#include <stdlib.h>

static inline int set_up(void **state)
{
    *state = hp_web_create(NULL, NULL);
    return *state ? 0 : -1;
}

static inline int tear_down(void **state)
{
    hp_web_free(*state);
    return 0;
}

static inline const char *text_of(const json_t *object, const char *key)
{
    const char *text = json_string_value(json_object_get(object, key));
    return text ? text : "";
}

/* The answer to a request in text. */
static inline json_t *call(hp_web *web, const char *request)
{
    char *answer = hp_web_call(web, request);
    json_t *parsed = answer ? json_loads(answer, 0, NULL) : NULL;
    check_true(json_is_object(parsed), "%s gave %s", request, answer ? answer : "nothing");
    free(answer);
    return parsed;
}

/* Whether an option stands in the line to log a step: the report of the program, which is shown as
 * it is, has that line. */
static inline bool is_log_line(const char *text, const char *option)
{
    const char *line = option;
    while (line > text && !(line[0] == '\n' && line[1] != ' '))
        line--;
    return strncmp(line, "\nTo log it", 10) == 0;
}

/* The first option of the terminal in a text; NULL: there is none. */
static inline const char *option_in(const char *text)
{
    const char *option = text;
    while ((option = strstr(option, "--")) != NULL) {
        if (option[2] >= 'a' && option[2] <= 'z' && !is_log_line(text, option))
            return option;
        option += 2;
    }
    return NULL;
}

/* Whoever reads an answer has buttons: no sentence of it names a command of the terminal or an
 * option. What is meant for the program or for a file may. */
static inline void check_no_command(const json_t *value)
{
    static const char *const files[] = {"command",  "json", "json_file", "csv_file",
                                        "scenario", "log",  "table",     "html"};
    const char *key, *text = json_string_value(value), *option = text ? option_in(text) : NULL;
    json_t *member;
    size_t at;
    check_true(!text || (!strstr(text, "`hubphase") && !option), "a command, %.40s, in\n%s",
               option ? option : text, text);
    json_array_foreach((json_t *)value, at, member) check_no_command(member);
    json_object_foreach((json_t *)value, key, member)
    {
        bool file = false;
        for (at = 0; at < sizeof files / sizeof files[0]; at++)
            file = file || strcmp(key, files[at]) == 0;
        if (!file)
            check_no_command(member);
    }
}

/* The same, which must go well. */
static inline json_t *good(hp_web *web, const char *request)
{
    json_t *answer = call(web, request);
    char *problems = json_dumps(json_object_get(answer, "problems"), JSON_COMPACT);
    check_true(json_is_true(json_object_get(answer, "ok")), "%s: %s %s", request,
               text_of(answer, "summary"), problems ? problems : "");
    free(problems);
    check_no_command(answer);
    return answer;
}

/* The text of a request, which is taken over. */
static inline char *request_text(json_t *request)
{
    assert_non_null(request);
    char *text = json_dumps(request, JSON_COMPACT);
    json_decref(request);
    return text;
}

/* As call(), and the request is taken over. */
static inline json_t *call_json(hp_web *web, json_t *request)
{
    char *text = request_text(request);
    json_t *answer = call(web, text);
    free(text);
    return answer;
}

/* As good(), and the request is taken over. */
static inline json_t *good_json(hp_web *web, json_t *request)
{
    char *text = request_text(request);
    json_t *answer = good(web, text);
    free(text);
    return answer;
}

#endif
