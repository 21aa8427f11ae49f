/* The text of a new scenario from a few stated keys: see scenario_load.h. */
#include "record/log/bench_log_parts.h"
#include "record/scenario/scenario_keys.h"
#include "record/scenario/scenario_load.h"
#include "record/scenario/scenario_number.h"

#include <stdlib.h>
#include <string.h>

/* What is stated for a key; NULL: nothing. */
static const hp_scenario_change *stated(const hp_scenario_change *value, int count,
                                        const char *path)
{
    for (int k = 0; k < count; k++)
        if (strcmp(value[k].key, path) == 0)
            return &value[k];
    return NULL;
}

/* A list's key can be left unstated, too. */
static bool can_state(const hp_key *key, const hp_scenario_change *value)
{
    return key->kind == HP_KEY_IS_SPECIAL ? value->list || !value->text[0]
                                          : key->kind != HP_KEY_IS_SECTION;
}

hp_scenario_change hp_scenario_plain(const hp_scenario_change *value, char room[HP_STATED_ENTRY])
{
    hp_scenario_change plain = *value;
    for (hp_key_id id = 0; id < HP_KEY_COUNT && !value->list; id++) {
        const hp_key *key = hp_key_of(id);
        bool number = key->kind == HP_KEY_IS_NUMBER || key->kind == HP_KEY_IS_WHOLE;
        if (number && strcmp(key->path, value->key) == 0 && strlen(value->text) < HP_STATED_ENTRY)
            plain.text = hp_number_typed(value->text, key->limits.unit, room, HP_STATED_ENTRY);
    }
    return plain;
}

void hp_scenario_put_stated(FILE *out, const hp_scenario_change *value, int indent)
{
    const char *at = value->text;
    char entry[HP_STATED_ENTRY];
    if (!value->list) {
        fputc(' ', out);
        hp_bench_put_typed(out, value->text);
    }
    for (bool more = value->list; more; at++) {
        size_t length = strcspn(at, "\n");
        snprintf(entry, sizeof entry, "%.*s", (int)length, at);
        fprintf(out, "\n%*s- ", indent, "");
        hp_bench_put_typed(out, entry);
        at += length;
        more = *at == '\n';
    }
    fputc('\n', out);
}

/* Writes the heads of the sections of a path that are not open yet; open[size] is the path of those
 * that are. */
static void open_sections(FILE *out, const char *path, char *open, size_t size)
{
    const char *last = strrchr(path, '.');
    size_t depth = 0;
    bool same = true;
    for (const char *at = path; last && at < last; depth++) {
        size_t length = strcspn(at, "."), end = (size_t)(at - path) + length;
        same = same && strncmp(open, path, end) == 0 && (open[end] == '.' || open[end] == '\0');
        if (!same)
            fprintf(out, "%*s%.*s:\n", (int)(2 * depth), "", (int)length, at);
        at += length + 1;
    }
    snprintf(open, size, "%.*s", last ? (int)(last - path) : 0, path);
}

static int depth_of(const char *path)
{
    int depth = 0;
    for (; *path; path++)
        depth += *path == '.';
    return depth;
}

static void put_keys(FILE *out, const hp_scenario_change *value, int count)
{
    char open[sizeof((hp_parameter *)0)->key] = "", typed[HP_STATED_ENTRY];
    fputs("hubphase: 1\n", out);
    for (hp_key_id id = 0; id < HP_KEY_COUNT; id++) {
        const char *path = hp_key_of(id)->path;
        const hp_scenario_change *own = stated(value, count, path);
        if (!own || id == HP_KEY_FORMAT || !can_state(hp_key_of(id), own))
            continue;
        open_sections(out, path, open, sizeof open);
        fprintf(out, "%*s%s:", 2 * depth_of(path), "", hp_key_name(id));
        const hp_scenario_change plain = hp_scenario_plain(own, typed);
        hp_scenario_put_stated(out, &plain, 2 * depth_of(path) + 2);
    }
}

bool hp_scenario_can_state(const hp_scenario_change *value, const hp_problem_ear *ear)
{
    const char *path = value->key;
    for (hp_key_id id = 0; id < HP_KEY_COUNT; id++)
        if (strcmp(hp_key_of(id)->path, path) == 0 && can_state(hp_key_of(id), value))
            return true;
    const hp_source nowhere = {.path = "the scenario", .text = ""};
    hp_problem problem = {.order = 0};
    snprintf(problem.text, sizeof problem.text, "%.80s is no key that can be stated here", path);
    snprintf(problem.key, sizeof problem.key, "%s", path);
    if (ear)
        ear->tell(ear->user, &problem, &nowhere);
    return false;
}

hp_result hp_scenario_compose(const hp_scenario_change *value, int count, char **text,
                              const hp_problem_ear *ear, hp_error *err)
{
    int wrong = 0;
    size_t size = 0;
    char *made = NULL;
    for (int k = 0; k < count; k++)
        wrong += !hp_scenario_can_state(&value[k], ear);
    if (wrong > 0)
        return hp_error_set(err, HP_FAIL_INPUT, "what was stated has %d problem%s", wrong,
                            wrong == 1 ? "" : "s");
    FILE *out = open_memstream(&made, &size);
    if (out)
        put_keys(out, value, count);
    if (!out || fclose(out) != 0) {
        free(made);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a scenario");
    }
    *text = made;
    return HP_OK;
}
