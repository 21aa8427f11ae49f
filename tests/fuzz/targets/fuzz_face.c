/*
 * Requests to the face of the library, one a line, as the page makes them. The answer to each is
 * JSON with "ok", whatever was asked. What would simulate for long is stopped at once.
 */
#include "fuzz.h"

#include "web/face.h"

#include <jansson.h>

#define REQUESTS 12

static int stop(void *user, int done, int total)
{
    (void)user, (void)done, (void)total;
    return 1;
}

static void ask(hp_web *web, const char *request)
{
    char *answer = hp_web_call(web, request);
    json_t *parsed = answer ? json_loads(answer, 0, NULL) : NULL;
    promise(parsed && json_is_object(parsed) && json_is_boolean(json_object_get(parsed, "ok")));
    promise(!strchr(answer, '\n'));
    json_decref(parsed);
    free(answer);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size), *at = text;
    hp_web *web = hp_web_create(stop, NULL);
    promise(web != NULL);
    for (int k = 0; at && k < REQUESTS; k++) {
        char *end = strchr(at, '\n');
        if (end)
            *end++ = '\0';
        ask(web, at);
        at = end;
    }
    hp_web_free(web);
    free(text);
    return 0;
}
