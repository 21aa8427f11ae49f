/*
 * What JSON reports share of a step: its card, the command that logs it.
 */
#ifndef HUBPHASE_SRC_REPORT_DATA_CARD_JSON_H
#define HUBPHASE_SRC_REPORT_DATA_CARD_JSON_H

#include "report/data/json_tree.h"
#include "report/words/card.h"

/* Sets title, reason, how-to, details, cautions and the rest of docs/json.md, `advice`. */
void hp_json_set_card(hp_json *json, json_t *object, const hp_card *words);
/* The words of a command, each terminated and an empty one at the end, one text each. */
json_t *hp_json_words(hp_json *json, const char *line);

/* The figures that are known, by name; one step with what it found: docs/json.md, `commission`. */
json_t *hp_json_own(hp_json *json, const hp_own *own);
/* What is to be measured again: docs/json.md, `measure_again`. */
json_t *hp_json_again(hp_json *json, const hp_commission *list);
/* "owed", "untried"; null: nothing of it is open. */
json_t *hp_json_plug(hp_plug plug);
/* The lines of the fit that say stop, by their names; list may be NULL. */
json_t *hp_json_fit_stops(hp_json *json, const hp_commission *list);
json_t *hp_json_commission_step(hp_json *json, const hp_card_context *context,
                                const hp_commission_step *step);

#endif
