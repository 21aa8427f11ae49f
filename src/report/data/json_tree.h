/*
 * Building a JSON tree: what all JSON reports share.
 *
 * The tree is built first and dumped in one go, so that a failed allocation writes nothing. Every
 * setter notes a failure in the builder instead of returning it: the tree is looked at once, at the
 * end.
 */
#ifndef HUBPHASE_SRC_REPORT_DATA_JSON_TREE_H
#define HUBPHASE_SRC_REPORT_DATA_JSON_TREE_H

#include "hubphase/base/result.h"
#include "hubphase/report/tables.h"

#include <jansson.h>
#include <stdbool.h>
#include <stdio.h>

typedef struct hp_json {
    bool failed; /* an allocation failed somewhere */
} hp_json;

/* Both take over `value`; NULL stands for a failed allocation. */
void hp_json_set(hp_json *json, json_t *object, const char *key, json_t *value);
void hp_json_append(hp_json *json, json_t *array, json_t *value);

/* Text as it is; a file name need not be UTF-8, and then its odd bytes become '?'. */
json_t *hp_json_text(const char *value);
/* null where the value is infinite or not a number. */
json_t *hp_json_number(double value);

/* The objects `scenario` and `parameters` of docs/json.md. */
json_t *hp_json_scenario(hp_json *json, const hp_report_case *subject);
json_t *hp_json_parameters(hp_json *json, const hp_parameters *list);
/* Sets `sensors` and `phases`: the labels of a wiring's leads at the controller. */
void hp_json_set_leads(hp_json *json, json_t *object, const hp_labels *labels,
                       const hp_wiring *wiring);
/* Sets `sensor_axes` and `phase_axes`. */
void hp_json_set_axes(hp_json *json, json_t *object, const hp_wiring *wiring);

/* The text in one line; owned by the caller, NULL when there is no memory. */
char *hp_json_compact(const json_t *root);

/* Dumps the tree and a newline, and lets go of it. HP_FAIL_MEMORY, or HP_FAIL_IO when `out` cannot
 * be written. */
hp_result hp_json_finish(const hp_json *json, json_t *root, FILE *out, hp_error *err);

#endif
