/*
 * The text of a scenario with some numbers stated otherwise, and all else as it was: comments,
 * order, blanks, byte for byte. Lines that are added end as the text's first one does.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_REWRITE_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_REWRITE_H

#include "hubphase/base/result.h"

/* A key's whole path, its new value, and what stands in a comment of its own above its line (NULL
 * for a key that is not there yet: nothing does); all borrowed. */
typedef struct hp_rewriting {
    const char *key;
    const char *value;
    const char *remark;
} hp_rewriting;

/* *changed, for the caller to free, set on HP_OK only. A key that is there gets the new value in
 * its place, and what was remarked behind the old one goes behind `remark`; one that is not is
 * added to its section, and that where it is missing at the end of the text. HP_FAIL_INPUT when the
 * text is no YAML, or a value that is there is neither a bare word nor a list of bare numbers;
 * HP_FAIL_MEMORY. What comes out is not checked as a scenario. */
hp_result hp_scenario_rewrite(const char *text, const char *name, const hp_rewriting *change,
                              int changes, char **changed, hp_error *err);

/* Adds a section at the end of the text: `key` and, in the lines below, `body`, indented and ended;
 * one of this name that is there already goes. Results as above. */
hp_result hp_scenario_put_section(const char *text, const char *name, const char *key,
                                  const char *body, char **changed, hp_error *err);

#endif
