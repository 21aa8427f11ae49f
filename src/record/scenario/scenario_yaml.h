/*
 * YAML through libfyaml: from the bytes of a scenario to a document that is safe to walk.
 *
 * Two passes. The first only listens to the parser's events and refuses what would make the second
 * dangerous or has no place in a scenario: deep nesting, anchors and aliases (a few lines of them
 * can unfold to gigabytes), tags, a second document. The second builds the document. Duplicate keys
 * are let through, so that the reader can name them along with everything else.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_YAML_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_YAML_H

#include "record/scenario/scenario_problem.h"
#include "record/scenario/scenario_source.h"

#include <libfyaml.h>

typedef struct hp_yaml {
    struct fy_diag *diag;         /* owned; collects what libfyaml finds */
    char said[160];               /* what it would have printed first */
    struct fy_document *document; /* owned */
    struct fy_node *root;         /* borrowed from document; may be NULL or nothing */
} hp_yaml;

/* HP_OK and a root; HP_FAIL_INPUT with problems added; or HP_FAIL_MEMORY, HP_FAIL_LIBRARY with err
 * set. Free in any case. */
hp_result hp_yaml_load(hp_yaml *yaml, const hp_source *source, hp_problems *problems,
                       hp_error *err);
void hp_yaml_free(hp_yaml *yaml);

typedef enum hp_yaml_kind {
    HP_YAML_NOTHING, /* `key:` with nothing after it */
    HP_YAML_TEXT,    /* any scalar: what it means is the reader's business */
    HP_YAML_LIST,
    HP_YAML_MAPPING
} hp_yaml_kind;

hp_yaml_kind hp_yaml_kind_of(struct fy_node *node);
/* Whether a text stands in quotes or is a block. */
bool hp_yaml_is_quoted(struct fy_node *node);
/* Copies a text, terminated, into out[size]; false when it was cut or holds a zero byte. */
bool hp_yaml_text(struct fy_node *node, char *out, size_t size);
/* Where a text, or the first text of a collection, stands; line 0 for what has no place. */
hp_place hp_yaml_place(struct fy_node *node);

#define HP_YAML_NAME 256

/* One `name: value` of a mapping. */
typedef struct hp_yaml_member {
    struct fy_node *key, *value; /* borrowed */
    hp_place place;              /* of the key, or of the mapping's holder where it has none */
    char name[HP_YAML_NAME];     /* the key as a text, cut where it is longer; empty: it is none */
    bool whole;                  /* the name is a text, and not cut */
} hp_yaml_member;

/* The next member; false at the end, and at once when the node is no mapping. *position is NULL at
 * the start; `holder` is where the mapping's own key stands. */
bool hp_yaml_next(struct fy_node *mapping, hp_place holder, void **position, hp_yaml_member *m);

#endif
