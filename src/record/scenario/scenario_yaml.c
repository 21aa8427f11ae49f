/* YAML through libfyaml: see the header. */
#include "record/scenario/scenario_yaml.h"

#include "base/memory.h"
#include "hubphase/record/scenario.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

/* Most keys, values, lists and mappings together. Chosen: a scenario that gives every key has about
 * two hundred. */
#define NODES_MAX 10000

/* Some versions of libfyaml (0.7.12, tried by failing each allocation in turn) follow the null
 * pointer of an allocation that failed. So what it can take at most is asked for before it is
 * called: measured 210 bytes for a byte of the worst file found, one long list in brackets. */
#define MEMORY_BASE     (1 << 20)
#define MEMORY_PER_BYTE 280

/* Keeps the first thing that libfyaml would print by itself: it has a few errors, such as a wrong
 * indentation indicator, that it does not collect. */
static void keep_said(struct fy_diag *diag, void *user, const char *text, size_t length)
{
    (void)diag;
    hp_yaml *yaml = user;
    if (yaml->said[0] == '\0')
        snprintf(yaml->said, sizeof yaml->said, "%.*s", (int)(length < 256 ? length : 256), text);
}

static hp_place place_of_mark(const struct fy_mark *mark, int width)
{
    if (!mark)
        return (hp_place){0, 0, 1};
    return (hp_place){mark->line + 1, mark->column + 1, width};
}

/* Hands over what libfyaml collected, else what it would have printed ("[ERR]: text"). */
static hp_result take_errors(const hp_yaml *yaml, hp_problems *problems, hp_error *err)
{
    void *position = NULL;
    const struct fy_diag_error *error;
    int before = problems->count;
    /* Of memory that ran out libfyaml says only which of its functions failed. */
    if (errno == ENOMEM)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for libfyaml");
    while ((error = fy_diag_errors_iterate(yaml->diag, &position)) != NULL)
        if (error->type == FYET_ERROR)
            hp_problems_add(problems, (hp_place){error->line, error->column, 1},
                            "not proper YAML: %s", error->msg);
    if (problems->count > before)
        return HP_FAIL_INPUT;
    const char *said = strncmp(yaml->said, "[ERR]: ", 7) == 0 ? yaml->said + 7 : yaml->said;
    if (said[0] == '\0')
        return hp_error_set(err, HP_FAIL_LIBRARY, "libfyaml gave up and gave no reason");
    hp_problems_add(problems, (hp_place){0, 0, 1}, "not proper YAML: %.*s",
                    (int)strcspn(said, "\r\n"), said);
    return HP_FAIL_INPUT;
}

/* What the first pass keeps in mind. */
typedef struct scan {
    const hp_source *source;
    hp_problems *problems;
    int depth;
    int nodes;
    int documents;
    bool finished; /* the stream's end was seen */
} scan;

static void refuse(scan *s, struct fy_event *event, const char *what)
{
    hp_problems_add(s->problems, place_of_mark(fy_event_start_mark(event), 1), "%s", what);
}

static void refuse_depth(scan *s, struct fy_event *event)
{
    char what[120];
    snprintf(what, sizeof what, "nested deeper than %d, must be flatter: a %s needs 5",
             HP_SCENARIO_DEPTH_MAX, s->source->what);
    refuse(s, event, what);
}

static void refuse_nodes(scan *s, struct fy_event *event)
{
    char what[120];
    snprintf(what, sizeof what, "more than %d keys and values up to here, must be fewer",
             NODES_MAX);
    refuse(s, event, what);
}

static void refuse_document(scan *s, struct fy_event *event)
{
    char what[120];
    snprintf(what, sizeof what, "a second document begins, a file must hold one %s",
             s->source->what);
    refuse(s, event, what);
}

/* Returns false when there is no point in listening on. */
static bool listen(scan *s, struct fy_event *event)
{
    int before = s->problems->count;
    if (fy_event_get_anchor_token(event))
        refuse(s, event,
               "an anchor or alias (& or *), must be written out where it is wanted; a "
               "text that begins so needs quotes");
    else if (fy_event_get_tag_token(event))
        refuse(s, event, "a tag (!), must be left out; a text that begins so needs quotes");
    switch (event->type) {
    case FYET_SCALAR: s->nodes++; break;
    case FYET_MAPPING_START:
    case FYET_SEQUENCE_START:
        s->nodes++;
        if (++s->depth > HP_SCENARIO_DEPTH_MAX)
            refuse_depth(s, event);
        break;
    case FYET_MAPPING_END:
    case FYET_SEQUENCE_END: s->depth--; break;
    case FYET_ALIAS:
        if (s->problems->count == before)
            refuse(s, event,
                   "an alias (*), must be written out; a text that begins so needs quotes");
        break;
    case FYET_DOCUMENT_START:
        if (++s->documents > 1)
            refuse_document(s, event);
        break;
    case FYET_STREAM_END: s->finished = true; return false;
    default: break;
    }
    if (s->nodes > NODES_MAX)
        refuse_nodes(s, event);
    return s->problems->count == before;
}

static hp_result scan_events(const hp_yaml *yaml, const struct fy_parse_cfg *config,
                             const hp_source *source, hp_problems *problems, hp_error *err)
{
    scan s = {.source = source, .problems = problems};
    struct fy_parser *parser = fy_parser_create(config);
    if (!parser)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for libfyaml");
    hp_result result = HP_OK;
    if (fy_parser_set_string(parser, source->text, source->size) != 0)
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for libfyaml");
    struct fy_event *event = NULL;
    while (result == HP_OK && (event = fy_parser_parse(parser)) != NULL) {
        bool on = listen(&s, event);
        fy_parser_event_free(parser, event);
        if (!on)
            break;
    }
    if (result == HP_OK && s.finished && s.documents == 0)
        hp_problems_add(problems, (hp_place){0, 0, 1},
                        "the file holds nothing, must begin with `%s`", source->begins);
    if (result == HP_OK && problems->count > 0)
        result = HP_FAIL_INPUT;
    else if (result == HP_OK && (!s.finished || fy_parser_get_stream_error(parser)))
        result = take_errors(yaml, problems, err);
    fy_parser_destroy(parser);
    return result;
}

/* The next pair of a mapping; NULL at the end, and at once when the node is no mapping. */
static struct fy_node_pair *next_pair(struct fy_node *mapping, void **position)
{
    if (!mapping || !fy_node_is_mapping(mapping))
        return NULL;
    return fy_node_mapping_iterate(mapping, position);
}

/* Has libfyaml make the text of every node now. It keeps them; made later, one for which there is
 * no memory would look like a value that the file leaves empty. How deep it goes is bounded by the
 * first pass. */
static bool make_texts(struct fy_node *node)
{
    void *position = NULL;
    size_t length;
    struct fy_node_pair *pair;
    struct fy_node *item;
    while ((pair = next_pair(node, &position)) != NULL)
        if (!make_texts(fy_node_pair_key(pair)) || !make_texts(fy_node_pair_value(pair)))
            return false;
    if (node && fy_node_is_mapping(node))
        return true;
    if (node && fy_node_is_sequence(node)) {
        while ((item = fy_node_sequence_iterate(node, &position)) != NULL)
            if (!make_texts(item))
                return false;
        return true;
    }
    errno = 0;
    if (node)
        fy_node_get_scalar(node, &length); /* "" where there is no memory */
    return errno != ENOMEM;
}

static hp_result build_document(hp_yaml *yaml, const struct fy_parse_cfg *config,
                                const hp_source *source, hp_problems *problems, hp_error *err)
{
    yaml->document = fy_document_build_from_string(config, source->text, source->size);
    if (!yaml->document)
        return take_errors(yaml, problems, err);
    yaml->root = fy_document_root(yaml->document);
    return make_texts(yaml->root) ? HP_OK
                                  : hp_error_set(err, HP_FAIL_MEMORY, "no memory for libfyaml");
}

hp_result hp_yaml_load(hp_yaml *yaml, const hp_source *source, hp_problems *problems, hp_error *err)
{
    memset(yaml, 0, sizeof *yaml);
    if (!hp_memory_is_there(MEMORY_BASE + MEMORY_PER_BYTE * source->size))
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for libfyaml");
    struct fy_diag_cfg diag_config;
    fy_diag_cfg_default(&diag_config);
    diag_config.fp = NULL;
    diag_config.output_fn = keep_said;
    diag_config.user = yaml;
    diag_config.colorize = false;
    yaml->diag = fy_diag_create(&diag_config);
    if (!yaml->diag)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for libfyaml");
    fy_diag_set_collect_errors(yaml->diag, true);
    struct fy_parse_cfg config = {.flags = FYPCF_QUIET | FYPCF_ALLOW_DUPLICATE_KEYS,
                                  .diag = yaml->diag};
    errno = 0; /* take_errors looks at it */
    hp_result result = scan_events(yaml, &config, source, problems, err);
    return result == HP_OK ? build_document(yaml, &config, source, problems, err) : result;
}

void hp_yaml_free(hp_yaml *yaml)
{
    fy_document_destroy(yaml->document);
    fy_diag_destroy(yaml->diag);
    memset(yaml, 0, sizeof *yaml);
}

hp_yaml_kind hp_yaml_kind_of(struct fy_node *node)
{
    if (!node || fy_node_is_null(node))
        return HP_YAML_NOTHING;
    if (fy_node_is_mapping(node))
        return HP_YAML_MAPPING;
    return fy_node_is_sequence(node) ? HP_YAML_LIST : HP_YAML_TEXT;
}

bool hp_yaml_is_quoted(struct fy_node *node)
{
    return fy_node_get_style(node) != FYNS_PLAIN;
}

bool hp_yaml_text(struct fy_node *node, char *out, size_t size)
{
    size_t length = 0;
    const char *text = fy_node_get_scalar(node, &length);
    if (!text)
        length = 0;
    size_t kept = length < size ? length : size - 1;
    /* Not in the middle of a character. */
    while (kept < length && kept > 0 && ((unsigned char)text[kept] & 0xC0) == 0x80)
        kept--;
    if (kept > 0)
        memcpy(out, text, kept);
    out[kept] = '\0';
    return kept == length && strlen(out) == length;
}

/* A collection stands where its first text stands; the first pass has bounded how deep that is. */
static struct fy_node *first_text(struct fy_node *node)
{
    void *position = NULL;
    if (node && fy_node_is_sequence(node))
        return first_text(fy_node_sequence_iterate(node, &position));
    if (node && fy_node_is_mapping(node)) {
        struct fy_node_pair *pair = next_pair(node, &position);
        return first_text(pair ? fy_node_pair_key(pair) : NULL);
    }
    return node;
}

/* Nothing has a place in some versions of libfyaml (0.8) and none in others: here it has none. A
 * quoted text's token begins after the quote; people look at the quote. */
hp_place hp_yaml_place(struct fy_node *node)
{
    struct fy_node *text = first_text(node);
    bool nothing = hp_yaml_kind_of(text) == HP_YAML_NOTHING;
    struct fy_token *token = nothing ? NULL : fy_node_get_scalar_token(text);
    const struct fy_mark *start = token ? fy_token_start_mark(token) : NULL;
    const struct fy_mark *end = token ? fy_token_end_mark(token) : NULL;
    if (!start)
        return (hp_place){0, 0, 1};
    int width = end && end->line == start->line ? end->column - start->column : 1;
    hp_place place = place_of_mark(start, width > 0 ? width : 1);
    enum fy_node_style style = fy_node_get_style(text);
    if ((style == FYNS_SINGLE_QUOTED || style == FYNS_DOUBLE_QUOTED) && place.column > 1) {
        place.column--;
        place.width += end && end->line == start->line ? 2 : 1;
    }
    return place;
}

bool hp_yaml_next(struct fy_node *mapping, hp_place holder, void **position, hp_yaml_member *m)
{
    struct fy_node_pair *pair = next_pair(mapping, position);
    if (!pair)
        return false;
    m->key = fy_node_pair_key(pair);
    m->value = fy_node_pair_value(pair);
    m->place = hp_yaml_place(m->key);
    if (m->place.line == 0)
        m->place = holder;
    m->name[0] = '\0';
    m->whole =
        hp_yaml_kind_of(m->key) == HP_YAML_TEXT && hp_yaml_text(m->key, m->name, sizeof m->name);
    return true;
}
