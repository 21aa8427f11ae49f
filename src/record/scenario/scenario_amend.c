/*
 * Keys of a scenario stated otherwise, or no longer, in its own text: see scenario_load.h. Each is
 * looked up in the text as it then is; what is not there yet is added by scenario_rewrite.h.
 */
#include "record/log/bench_log_parts.h"
#include "record/scenario/line_ends.h"
#include "record/scenario/parameters.h"
#include "record/scenario/scenario_keys.h"
#include "record/scenario/scenario_load.h"
#include "record/scenario/scenario_rewrite.h"
#include "record/scenario/scenario_yaml.h"

#include <stdlib.h>
#include <string.h>

/* Where a key and its value stand, in bytes of the text. */
typedef struct span {
    size_t from, to; /* its value, quotes and brackets too */
    size_t key;      /* where the key begins, or the section that holds nothing else */
    bool braces;     /* that stands in braces */
} span;

/* ---- finding --------------------------------------------------------------------------------- */

static bool is_flow(struct fy_node *node)
{
    return hp_yaml_kind_of(node) == HP_YAML_MAPPING && fy_node_get_style(node) == FYNS_FLOW;
}

/* A key by its path, and the outermost section in lines of its own that holds nothing else: empty
 * ones are none of a scenario. */
static bool find_pair(struct fy_node *root, const char *path, hp_yaml_member *found,
                      hp_yaml_member *outer, bool *braces)
{
    struct fy_node *at = root;
    for (;;) {
        void *position = NULL;
        size_t length = strcspn(path, ".");
        bool there = false;
        while (!there && hp_yaml_next(at, (hp_place){0}, &position, found))
            there = found->whole && strlen(found->name) == length &&
                    strncmp(found->name, path, length) == 0;
        if (!there)
            return false;
        if (at == root || is_flow(at) || fy_node_mapping_item_count(at) != 1) {
            *outer = *found;
            *braces = is_flow(at);
        }
        if (path[length] == '\0')
            return true;
        at = found->value;
        path += length + 1;
    }
}

/* Of a text in one piece; false where it is none, or a block. */
static bool span_of_text(struct fy_node *node, size_t *from, size_t *to)
{
    enum fy_node_style style = fy_node_get_style(node);
    struct fy_token *token = fy_node_get_scalar_token(node);
    const struct fy_mark *start = token ? fy_token_start_mark(token) : NULL;
    const struct fy_mark *end = token ? fy_token_end_mark(token) : NULL;
    size_t quote = style == FYNS_SINGLE_QUOTED || style == FYNS_DOUBLE_QUOTED;
    if (!start || !end || (style != FYNS_PLAIN && !quote))
        return false;
    *from = start->input_pos - quote;
    *to = end->input_pos + quote;
    return true;
}

/* Of a list of texts, brackets and all: one in lines of its own begins with its first dash. False
 * where something else stands among them, such as a remark, which would be lost. */
static bool span_of_list(struct fy_node *list, const char *text, size_t *from, size_t *to)
{
    static const char blank[] = " \t\r\n";
    bool flow = fy_node_get_style(list) == FYNS_FLOW;
    void *position = NULL;
    struct fy_node *node;
    size_t first = 0, last = 0, begin, end;
    int count = 0;
    for (; (node = fy_node_sequence_iterate(list, &position)) != NULL; last = end) {
        if (!span_of_text(node, &begin, &end))
            return false;
        first = count++ == 0 ? begin : first;
        if (memchr(text + (last ? last : begin), '#', begin - (last ? last : begin)))
            return false;
    }
    while (count > 0 && first > 0 && strchr(blank, text[first - 1]))
        first--;
    if (count == 0 || first == 0 || text[first - 1] != (flow ? '[' : '-'))
        return false;
    if (flow) {
        last += strspn(text + last, blank);
        last += text[last] == ',';
        last += strspn(text + last, blank);
        if (text[last] != ']')
            return false;
    }
    *from = first - 1;
    *to = last + flow;
    return true;
}

/* HP_FAIL_MEMORY, or HP_OK; *there says whether the key is, *whole whether its span was found. */
static hp_result find_span(const hp_source *source, const char *path, span *s, bool *there,
                           bool *whole, hp_error *err)
{
    hp_problems problems = {.count = 0};
    hp_yaml yaml;
    hp_yaml_member m, outer = {.key = NULL};
    size_t end;
    hp_result result = hp_yaml_load(&yaml, source, &problems, err);
    *there = *whole = false;
    if (result == HP_OK) {
        *there = find_pair(yaml.root, path, &m, &outer, &s->braces);
        hp_yaml_kind kind = *there ? hp_yaml_kind_of(m.value) : HP_YAML_NOTHING;
        *whole = *there && span_of_text(outer.key, &s->key, &end) &&
                 (kind == HP_YAML_TEXT   ? span_of_text(m.value, &s->from, &s->to)
                  : kind == HP_YAML_LIST ? span_of_list(m.value, source->text, &s->from, &s->to)
                                         : false);
    }
    if (result == HP_FAIL_INPUT)
        hp_error_set(err, result, "%s is no scenario that can be changed", source->path);
    hp_yaml_free(&yaml);
    return result;
}

/* ---- writing --------------------------------------------------------------------------------- */

static void put_bytes(FILE *out, const char *text, size_t from, size_t to)
{
    fwrite(text + from, 1, to - from, out);
}

/* A word, or a list in brackets. */
static void put_value(FILE *out, const hp_scenario_change *value)
{
    const char *at = value->text;
    char entry[HP_STATED_ENTRY];
    if (!value->list) {
        hp_bench_put_typed(out, hp_scenario_plain(value, entry).text);
        return;
    }
    for (const char *before = "["; *at; before = ", ") {
        size_t length = strcspn(at, "\n");
        snprintf(entry, sizeof entry, "%.*s", (int)length, at);
        fputs(before, out);
        hp_bench_put_typed(out, entry);
        at += length + (at[length] == '\n');
    }
    fputc(']', out);
}

/* A line of its own becomes a remark, so that nothing that was written is lost; in braces the key
 * goes with its comma. */
static void put_without(FILE *out, const char *text, const span *s)
{
    static const char blank[] = " \t\r\n";
    size_t from = s->key, to = s->to;
    if (!s->braces) {
        put_bytes(out, text, 0, from);
        fputs("# ", out);
        for (size_t at = from; at < to; at++) {
            fputc(text[at], out);
            /* Of CR LF the LF ends the line. */
            if (hp_line_end_at(text + at) == 1)
                fputs("# ", out);
        }
        fputs(text + to, out);
        return;
    }
    size_t behind = to + strspn(text + to, blank), before = from;
    if (text[behind] == ',') {
        to = behind + 1;
        to += strspn(text + to, " \t");
    } else {
        while (before > 0 && strchr(blank, text[before - 1]))
            before--;
        if (before > 0 && text[before - 1] == ',')
            from = before - 1;
    }
    put_bytes(out, text, 0, from);
    fputs(text + to, out);
}

static hp_result add_key(char **text, const char *name, const hp_scenario_change *change,
                         hp_error *err)
{
    char *value = NULL, *longer = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&value, &size);
    if (out)
        put_value(out, change);
    if (!out || fclose(out) != 0) {
        free(value);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a scenario");
    }
    const hp_rewriting add = {.key = change->key, .value = value};
    hp_result result = hp_scenario_rewrite(*text, name, &add, 1, &longer, err);
    free(value);
    if (result != HP_OK)
        return result;
    free(*text);
    *text = longer;
    return HP_OK;
}

static hp_result put_change(char **text, const hp_source *source, const span *s,
                            const hp_scenario_change *change, hp_error *err)
{
    char *changed = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&changed, &size);
    if (out && !change->text[0]) {
        put_without(out, source->text, s);
    } else if (out) {
        put_bytes(out, source->text, 0, s->from);
        put_value(out, change);
        fputs(source->text + s->to, out);
    }
    if (!out || fclose(out) != 0) {
        free(changed);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a scenario");
    }
    free(*text);
    *text = changed;
    return HP_OK;
}

static hp_result amend_one(char **text, const char *name, const hp_scenario_change *change,
                           hp_error *err)
{
    hp_source source;
    span s;
    bool there, whole;
    hp_result result =
        hp_source_copy_as(&source, *text, strlen(*text), name, "scenario", "hubphase: 1", err);
    if (result != HP_OK)
        return result;
    result = find_span(&source, change->key, &s, &there, &whole, err);
    if (result == HP_OK && there && !whole)
        result =
            hp_error_set(err, HP_FAIL_INPUT,
                         "%s cannot be changed where it stands, change it by hand", change->key);
    else if (result == HP_OK && there)
        result = put_change(text, &source, &s, change, err);
    else if (result == HP_OK && change->text[0])
        result = add_key(text, name, change, err);
    hp_source_free(&source);
    return result;
}

/* ---- the check ------------------------------------------------------------------------------- */

static const hp_parameter *stated(const hp_scenario *s, const char *key)
{
    const hp_parameter *found = hp_scenario_parameter(s, key);
    return found && found->origin == HP_ORIGIN_FILE ? found : NULL;
}

/* The new text says what was asked for, as if it had been laid over the old one. */
static hp_result check(const char *text, const char *changed, const char *name,
                       const hp_scenario_change *change, int count, const hp_problem_ear *ear,
                       hp_error *err)
{
    hp_scenario now, other;
    hp_scenario_change *given = calloc((size_t)count + 1, sizeof *given);
    int sets = 0;
    memset(&now, 0, sizeof now);
    memset(&other, 0, sizeof other);
    if (!given)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a scenario");
    for (int k = 0; k < count; k++)
        if (change[k].text[0])
            given[sets++] = change[k];
    hp_result result =
        hp_scenario_read_changed(changed, strlen(changed), name, NULL, 0, &now, ear, err);
    bool same = result == HP_OK;
    /* What is taken out may be what the others depend on: then there is nothing to hold it against.
     */
    bool held = same && hp_scenario_read_changed(text, strlen(text), name, given, sets, &other,
                                                 NULL, NULL) == HP_OK;
    for (int k = 0; same && k < count; k++) {
        const hp_parameter *own = stated(&now, change[k].key);
        const hp_parameter *meant = held ? hp_scenario_parameter(&other, change[k].key) : own;
        same = change[k].text[0]
                   ? own == meant || (own && meant && strcmp(own->value, meant->value) == 0)
                   : !own;
        if (!same)
            result = hp_error_set(err, HP_FAIL_INPUT,
                                  "%s cannot be changed where it stands, change it by hand",
                                  change[k].key);
    }
    hp_scenario_free(&now);
    hp_scenario_free(&other);
    free(given);
    return result;
}

/* The first key after those that stand in the same part of the document. */
static int section_end(int first)
{
    const char *path = hp_key_of((hp_key_id)first)->path;
    size_t length = strcspn(path, ".");
    int end = first + 1;
    while (end < HP_KEY_COUNT && strcspn(hp_key_of((hp_key_id)end)->path, ".") == length &&
           strncmp(hp_key_of((hp_key_id)end)->path, path, length) == 0)
        end++;
    return end;
}

hp_result hp_scenario_amend(const char *text, const char *name, const hp_scenario_change *change,
                            int count, char **changed, const hp_problem_ear *ear, hp_error *err)
{
    int wrong = 0;
    for (int k = 0; k < count; k++)
        wrong += !hp_scenario_can_state(&change[k], ear);
    if (wrong > 0)
        return hp_error_set(err, HP_FAIL_INPUT, "what was stated has %d problem%s", wrong,
                            wrong == 1 ? "" : "s");
    char *copy = strdup(text);
    hp_result result = copy ? HP_OK : hp_error_set(err, HP_FAIL_MEMORY, "no memory for a scenario");
    for (int first = 0, end; result == HP_OK && first < HP_KEY_COUNT; first = end) {
        end = section_end(first);
        /* What is added stands first in its section: from the last, it comes in order. */
        for (int id = end - 1; result == HP_OK && id >= first; id--)
            for (int k = 0; result == HP_OK && k < count; k++)
                if (strcmp(hp_key_of((hp_key_id)id)->path, change[k].key) == 0)
                    result = amend_one(&copy, name, &change[k], err);
    }
    if (result == HP_OK)
        result = check(text, copy, name, change, count, ear, err);
    if (result != HP_OK) {
        free(copy);
        return result;
    }
    *changed = copy;
    return HP_OK;
}
