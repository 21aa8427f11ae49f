/*
 * A person at a hidden machine, asked in lines: a JSON object in, one out. For programs that lead
 * the person through something else than `hubphase next`, as the page does
 * (tests/browser/hidden.mjs).
 *
 *   {"do": "list"}                       {"families": [{"name", "alone", "plain_drive"}]}
 *   {"do": "draw", "family": 1, "case": 0}    {"scenario": text}: a machine, and what is known of
 * it
 *   {"do": "step", "advice": {...}}      {"entry": text}: done, and this is what it showed; or
 *                                        {"entry": null, "ending": word, "powered": trials}
 *   anything else                        {"error": text}
 *
 * `advice` is that of `hubphase next --json`; an entry is written as in a log. Families count
 * from 1.
 */
#include "bench_case.h"

#include <stdlib.h>
#include <string.h>

#define SEED 20261129

static const char *const ending_word[END_COUNT] = {[END_RIGHT] = "right",
                                                   [END_PROBABLY] = "probably",
                                                   [END_FALSE_DONE] = "false_done",
                                                   [END_FALSE_PROBABLY] = "false_probably",
                                                   [END_PART] = "good_part",
                                                   [END_GAVE_UP] = "gave_up",
                                                   [END_GAVE_UP_ON] = "gave_up_on",
                                                   [END_STOPPED] = "stopped",
                                                   [END_NONE] = "none"};

static family families[FAMILIES_MAX];
static int family_count, alone_count;
static person at_bench;
static bool drawn;
static outcome so_far;

static json_t *list(void)
{
    json_t *array = json_array();
    for (int k = 0; k < family_count; k++) {
        bool other = families[k].out & (OUT_GEARED | OUT_STATED);
        json_array_append_new(array, json_pack("{s:s, s:b, s:b}", "name", families[k].name, "alone",
                                               k < alone_count, "plain_drive", !other));
    }
    return json_pack("{s:o}", "families", array);
}

static json_t *wrong(const char *what)
{
    return json_pack("{s:s}", "error", what);
}

static json_t *draw(const json_t *request)
{
    int number = (int)json_integer_value(json_object_get(request, "family"));
    int index = (int)json_integer_value(json_object_get(request, "case"));
    if (number < 1 || number > family_count || index < 0)
        return wrong("no such family or case");
    const family *f = &families[number - 1];
    bool readings = family_reads(f, index);
    char text[2048] = "";
    FILE *file = fmemopen(text, sizeof text, "w");
    bool good = file && scenario_write(file, f->out, readings);
    if (!file || fclose(file) != 0 || !good)
        return wrong("the scenario could not be written");
    at_bench = person_draw(f->out, readings, SEED, index);
    so_far = (outcome){.end = END_NONE};
    drawn = true;
    return json_pack("{s:s}", "scenario", text);
}

static json_t *step(const json_t *request)
{
    if (!drawn || !json_is_object(json_object_get(request, "advice")))
        return wrong("no machine was drawn, or no advice given");
    answer a = answer_read(request);
    char entry[4096] = "";
    FILE *out = fmemopen(entry, sizeof entry, "w");
    bool goes_on = out && answer_do(&at_bench, &a, false, &so_far, out);
    if (!out || fclose(out) != 0)
        return wrong("the entry could not be written");
    if (goes_on)
        return json_pack("{s:s}", "entry", entry);
    return json_pack("{s:n, s:s, s:i}", "entry", "ending", ending_word[answer_judge(&at_bench, &a)],
                     "powered", so_far.powered);
}

static json_t *reply_to(const char *line)
{
    json_t *request = json_loads(line, 0, NULL);
    const char *what = json_string_value(json_object_get(request, "do"));
    json_t *reply = NULL;
    if (what && strcmp(what, "list") == 0)
        reply = list();
    else if (what && strcmp(what, "draw") == 0)
        reply = draw(request);
    else if (what && strcmp(what, "step") == 0)
        reply = step(request);
    else
        reply = wrong("do must be list, draw or step");
    json_decref(request);
    return reply;
}

int main(void)
{
    char *line = NULL;
    size_t size = 0;
    int status = EXIT_SUCCESS;
    family_count = families_list(families, &alone_count);
    while (status == EXIT_SUCCESS && getline(&line, &size, stdin) >= 0) {
        json_t *reply = reply_to(line);
        char *text = reply ? json_dumps(reply, JSON_COMPACT) : NULL;
        if (!text || puts(text) < 0 || fflush(stdout) != 0)
            status = EXIT_FAILURE;
        free(text);
        json_decref(reply);
    }
    free(line);
    return status;
}
