/* Numbers of a scenario stated otherwise in its own text: see the header. One change after the
 * other, each on the text as it then is. */
#include "record/scenario/scenario_rewrite.h"

#include "hubphase/base/text.h"
#include "record/scenario/line_ends.h"
#include "record/scenario/scenario_yaml.h"

#include <stdlib.h>
#include <string.h>

#define PATH_SIZE 96
#define INDENT    2 /* of a section that is added */

/* Where a key stands, or how far its path leads; `rest` is its own name where it is there. */
typedef struct spot {
    hp_place value;   /* line 0: the key is not there */
    bool bare;        /* its value is a plain word */
    hp_place key;     /* where the value is a list: that of its key; line 0: it is none */
    int last;         /* ... line of its last item */
    bool items;       /* ... it stands as items, else in brackets */
    hp_place section; /* of the deepest section on the path that is there; line 0: none */
    hp_place member;  /* of its first key; line 0: it has none */
    bool flow;        /* it stands in braces */
    const char *rest; /* what of the path is missing */
    char held[64];    /* the value as a text */
} spot;

/* The member of this name; false: there is none. */
static bool find_member(struct fy_node *mapping, hp_place holder, const char *name, size_t length,
                        hp_yaml_member *found)
{
    void *position = NULL;
    while (hp_yaml_next(mapping, holder, &position, found))
        if (found->whole && strlen(found->name) == length &&
            strncmp(found->name, name, length) == 0)
            return true;
    return false;
}

static bool is_flow(struct fy_node *node)
{
    return hp_yaml_kind_of(node) == HP_YAML_MAPPING && fy_node_get_style(node) == FYNS_FLOW;
}

static void find_list(const hp_yaml_member *member, spot *s)
{
    struct fy_node *item;
    void *position = NULL;
    s->key = member->place;
    s->items = fy_node_get_style(member->value) != FYNS_FLOW;
    while ((item = fy_node_sequence_iterate(member->value, &position)) != NULL)
        s->last = hp_yaml_place(item).line;
}

static void find_spot(struct fy_node *root, const char *path, spot *s)
{
    struct fy_node *at = root;
    hp_yaml_member member;
    memset(s, 0, sizeof *s);
    s->rest = path;
    for (;;) {
        size_t length = strcspn(s->rest, ".");
        void *position = NULL;
        if (hp_yaml_next(at, s->section, &position, &member))
            s->member = member.place;
        if (!find_member(at, s->section, s->rest, length, &member))
            return;
        if (s->rest[length] == '\0') {
            s->value = hp_yaml_place(member.value);
            s->bare = hp_yaml_kind_of(member.value) == HP_YAML_TEXT &&
                      !hp_yaml_is_quoted(member.value) &&
                      hp_yaml_text(member.value, s->held, sizeof s->held);
            if (hp_yaml_kind_of(member.value) == HP_YAML_LIST)
                find_list(&member, s);
            return;
        }
        if (hp_yaml_kind_of(member.value) != HP_YAML_MAPPING &&
            hp_yaml_kind_of(member.value) != HP_YAML_NOTHING)
            return;
        s->section = member.place;
        s->member = (hp_place){0};
        s->flow = is_flow(member.value);
        s->rest += length + 1;
        at = member.value;
    }
}

/* The byte at a place of a text. */
static size_t byte_of(const char *text, hp_place place)
{
    const char *at = text;
    unsigned character;
    for (int line = 1; line < place.line && *at; line++) {
        at += strcspn(at, "\r\n");
        at += hp_line_end_at(at);
    }
    for (int column = 1; column < place.column && *at && hp_line_end_at(at) == 0; column++) {
        int bytes = hp_text_character(at, &character);
        at += bytes > 0 ? bytes : 1;
    }
    return (size_t)(at - text);
}

static size_t line_start(const char *text, size_t byte)
{
    while (byte > 0 && hp_line_end_at(text + byte - 1) == 0)
        byte--;
    return byte;
}

static size_t line_end(const char *text, size_t byte)
{
    byte += strcspn(text + byte, "\r\n");
    return byte + hp_line_end_at(text + byte);
}

/* Bytes up to `from`, then what is written, then those from `to` on. */
static void put_part(FILE *out, const char *text, size_t from, size_t to)
{
    fwrite(text + from, 1, to - from, out);
}

/* Whether a line ends just before this byte. */
static bool begins_line(const char *text, size_t byte)
{
    return byte == 0 || hp_line_end_at(text + byte - 1) > 0;
}

static void put_remark(FILE *out, const char *text, int indent, const char *remark)
{
    if (remark)
        fprintf(out, "%*s# %s%s", indent, "", remark, hp_line_end_of(text));
}

/* Blanks that the line begins with. */
static int indent_of(const char *text, size_t start)
{
    return (int)strspn(text + start, " ");
}

/* The comment behind a value that ends at byte `from`: where its `#` stands, or where the line
 * ends. A `#` begins one only behind a blank, and in no quotes. */
static size_t comment_behind(const char *text, size_t from)
{
    char quote = '\0';
    for (; text[from] && hp_line_end_at(text + from) == 0; from++) {
        if (quote ? text[from] == quote : text[from] == '"' || text[from] == '\'')
            quote = quote ? '\0' : text[from];
        else if (!quote && text[from] == '#' && strchr(" \t", text[from - 1]))
            break;
    }
    return from;
}

/* Bytes of an old value; of one that goes on below its line, also where the text goes on. */
typedef struct old_value {
    size_t from, to;
    size_t rest; /* 0: on the same line */
} old_value;

/* A remark behind a value is about that value: it goes up with it. */
static void put_over(FILE *out, const char *text, const old_value *old, const hp_rewriting *change)
{
    size_t start = line_start(text, old->from), mark = comment_behind(text, old->to);
    size_t end = mark + strcspn(text + mark, "\r\n"), kept = mark;
    while (mark < end && kept > old->to && strchr(" \t", text[kept - 1]))
        kept--;
    put_part(out, text, 0, start);
    fprintf(out, "%*s# %s", indent_of(text, start), "", change->remark);
    if (mark < end)
        fputs("  ", out);
    put_part(out, text, mark, end);
    fputs(hp_line_end_of(text), out);
    put_part(out, text, start, old->from);
    fputs(change->value, out);
    put_part(out, text, old->to, kept);
    if (old->rest > 0)
        put_part(out, text, end, line_end(text, end));
    fputs(text + (old->rest > 0 ? old->rest : end), out);
}

/* "[40, 70]" behind a key that ends at byte `from`; false: it holds more than numbers, or goes over
 * lines. */
static bool find_brackets(const char *text, size_t from, old_value *old)
{
    old->from = from + strspn(text + from, ": \t");
    old->rest = 0;
    if (text[old->from] != '[')
        return false;
    old->to = old->from + 1 + strspn(text + old->from + 1, "0123456789+-.eE, \t");
    return text[old->to++] == ']';
}

/* "- 40" on lines of their own behind a key that ends at byte `from`, up to line `last`; false:
 * something else stands there that would be lost. */
static bool find_items(const char *text, size_t from, int last, old_value *old)
{
    size_t at = line_end(text, from), end = line_end(text, byte_of(text, (hp_place){last, 1, 1}));
    for (; at < end; at = line_end(text, at)) {
        const char *item = text + at + strspn(text + at, " ");
        if (item[0] != '-' ||
            hp_line_end_at(item + 1 + strspn(item + 1, "0123456789+-.eE \t")) == 0)
            return false;
    }
    old->from = old->to = from + 1;
    old->rest = end;
    return text[from] == ':';
}

static bool put_in_place(FILE *out, const char *text, const spot *s, const hp_rewriting *change)
{
    size_t at = byte_of(text, s->value), key = byte_of(text, s->key) + strlen(s->rest);
    old_value old = {at, at + strlen(s->held), 0};
    char list[80];
    if (s->key.line == 0) {
        put_over(out, text, &old, change);
        return true;
    }
    snprintf(list, sizeof list, "%s%s", s->items ? " " : "", change->value);
    bool found = s->items ? find_items(text, key, s->last, &old) : find_brackets(text, key, &old);
    if (found)
        put_over(out, text, &old, &(hp_rewriting){change->key, list, change->remark});
    return found;
}

/* "rotor:\n  friction_nm: 0.4\n" for what of the path is missing. */
static void put_missing(FILE *out, const char *text, int indent, const hp_rewriting *change,
                        const char *rest)
{
    const char *end = hp_line_end_of(text);
    for (size_t length; rest[length = strcspn(rest, ".")] == '.'; rest += length + 1) {
        fprintf(out, "%*s%.*s:%s", indent, "", (int)length, rest, end);
        indent += INDENT;
    }
    put_remark(out, text, indent, change->remark);
    fprintf(out, "%*s%s: %s%s", indent, "", rest, change->value, end);
}

/* Behind the brace: "friction_nm: 0.4, ", or "rotor: {friction_nm: 0.4}, ". */
static bool put_in_braces(FILE *out, const char *text, const spot *s, const hp_rewriting *change)
{
    size_t at = byte_of(text, s->section), start = line_start(text, at);
    const char *brace = strchr(text + at, '{');
    const char *rest = s->rest;
    int depth = 0;
    if (!brace)
        return false;
    size_t behind = (size_t)(brace - text) + 1;
    put_part(out, text, 0, start);
    put_remark(out, text, indent_of(text, start), change->remark);
    put_part(out, text, start, behind);
    for (size_t length; rest[length = strcspn(rest, ".")] == '.'; rest += length + 1, depth++)
        fprintf(out, "%.*s: {", (int)length, rest);
    fprintf(out, "%s: %s", rest, change->value);
    while (depth-- > 0)
        fputc('}', out);
    fputs(s->member.line ? ", " : "", out);
    fputs(text + behind, out);
    return true;
}

static void put_in_section(FILE *out, const char *text, const spot *s, const hp_rewriting *change)
{
    size_t head = byte_of(text, s->section), behind = line_end(text, head);
    int indent = s->member.line ? s->member.column - 1 : s->section.column - 1 + INDENT;
    put_part(out, text, 0, behind);
    if (!begins_line(text, behind))
        fputs(hp_line_end_of(text), out);
    put_missing(out, text, indent, change, s->rest);
    fputs(text + behind, out);
}

static void put_at_end(FILE *out, const char *text, const hp_rewriting *change)
{
    fputs(text, out);
    hp_line_ends_put(out, text, begins_line(text, strlen(text)) ? "\n" : "\n\n");
    put_missing(out, text, 0, change, change->key);
}

static bool put(FILE *out, const char *text, const spot *s, const hp_rewriting *change)
{
    if (s->value.line > 0)
        return put_in_place(out, text, s, change);
    if (s->section.line == 0) {
        put_at_end(out, text, change);
        return true;
    }
    if (s->flow)
        return put_in_braces(out, text, s, change);
    put_in_section(out, text, s, change);
    return true;
}

/* The text as a document; `yaml` and `source` are to be freed in any case. */
static hp_result load_text(const char *text, const char *name, hp_source *source, hp_yaml *yaml,
                           hp_error *err)
{
    hp_problems problems = {.count = 0};
    memset(yaml, 0, sizeof *yaml);
    hp_result result =
        hp_source_copy_as(source, text, strlen(text), name, "scenario", "hubphase: 1", err);
    if (result == HP_OK)
        result = hp_yaml_load(yaml, source, &problems, err);
    if (result == HP_FAIL_INPUT && problems.count > 0)
        hp_error_set(err, result, "%s, line %d: %s", name, problems.item[0].place.line,
                     problems.item[0].text);
    return result;
}

static hp_result rewrite_one(char **text, const char *name, const hp_rewriting *change,
                             hp_error *err)
{
    hp_source source = {.size = 0};
    hp_yaml yaml;
    size_t size = 0;
    char *longer = NULL;
    bool written = false;
    hp_result result = load_text(*text, name, &source, &yaml, err);
    FILE *out = result == HP_OK ? open_memstream(&longer, &size) : NULL;
    if (out) {
        spot s;
        find_spot(yaml.root, change->key, &s);
        written =
            (s.value.line == 0 || s.bare || s.key.line > 0) && put(out, source.text, &s, change);
    }
    if (result == HP_OK && (!out || fclose(out) != 0))
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for a scenario");
    else if (result == HP_OK && !written)
        result = hp_error_set(err, HP_FAIL_INPUT,
                              "%s: %s cannot be changed where it stands, change it by hand to %s",
                              name, change->key, change->value);
    hp_yaml_free(&yaml);
    hp_source_free(&source);
    if (result != HP_OK) {
        free(longer);
        return result;
    }
    free(*text);
    *text = longer;
    return HP_OK;
}

hp_result hp_scenario_rewrite(const char *text, const char *name, const hp_rewriting *change,
                              int changes, char **changed, hp_error *err)
{
    char *copy = strdup(text);
    hp_result result = copy ? HP_OK : hp_error_set(err, HP_FAIL_MEMORY, "no memory for a scenario");
    for (int k = 0; result == HP_OK && k < changes; k++)
        result = rewrite_one(&copy, name, &change[k], err);
    if (result != HP_OK) {
        free(copy);
        return result;
    }
    *changed = copy;
    return HP_OK;
}

/* The last line on which something of a node stands. */
static int last_line(struct fy_node *node, int line)
{
    void *position = NULL;
    hp_yaml_member m;
    struct fy_node *item;
    if (hp_yaml_kind_of(node) == HP_YAML_LIST)
        while ((item = fy_node_sequence_iterate(node, &position)) != NULL)
            line = last_line(item, line);
    while (hp_yaml_next(node, (hp_place){line, 1, 1}, &position, &m))
        line = last_line(m.value, m.place.line > line ? m.place.line : line);
    int own = hp_yaml_place(node).line;
    return own > line ? own : line;
}

/* Bytes of a section with its key; none where it is not there. */
static void find_section(const char *text, struct fy_node *root, const char *key, size_t *from,
                         size_t *to)
{
    hp_yaml_member m;
    *from = *to = 0;
    if (!find_member(root, (hp_place){1, 1, 1}, key, strlen(key), &m))
        return;
    int last = last_line(m.value, m.place.line);
    *from = line_start(text, byte_of(text, m.place));
    *to = line_end(text, byte_of(text, (hp_place){last, 1, 1}));
}

/* Whether the last line before this byte is empty. */
static bool ends_in_gap(const char *text, size_t byte)
{
    if (byte == 0 || !begins_line(text, byte))
        return false;
    bool pair = byte > 1 && hp_line_end_at(text + byte - 2) == 2;
    size_t line = byte - (pair ? 2 : 1);
    return line > 0 && begins_line(text, line);
}

hp_result hp_scenario_put_section(const char *text, const char *name, const char *key,
                                  const char *body, char **changed, hp_error *err)
{
    hp_source source = {.size = 0};
    hp_yaml yaml;
    size_t size = 0, from, to;
    char *longer = NULL;
    hp_result result = load_text(text, name, &source, &yaml, err);
    FILE *out = result == HP_OK ? open_memstream(&longer, &size) : NULL;
    if (out) {
        find_section(text, yaml.root, key, &from, &to);
        put_part(out, text, 0, from);
        fputs(text + to, out);
        size_t end = strlen(text), rest = to < end ? end : from;
        hp_line_ends_put(out, text, begins_line(text, rest) ? "" : "\n");
        hp_line_ends_put(out, text, ends_in_gap(text, rest) ? "" : "\n");
        fprintf(out, "%s:", key);
        hp_line_ends_put(out, text, "\n");
        hp_line_ends_put(out, text, body);
    }
    if (result == HP_OK && (!out || fclose(out) != 0))
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for a scenario");
    hp_yaml_free(&yaml);
    hp_source_free(&source);
    if (result != HP_OK) {
        free(longer);
        return result;
    }
    *changed = longer;
    return HP_OK;
}
