/*
 * The plan tree as the list needs it: steps with their words, each different one once.
 *
 * Many paths lead to the same advice with the same things to follow. Such nodes are one step here,
 * so the tree becomes a graph without circles, and the list small enough to print.
 */
#ifndef HUBPHASE_SRC_REPORT_PAPER_LIST_STEPS_H
#define HUBPHASE_SRC_REPORT_PAPER_LIST_STEPS_H

#include "report/paper/plan_list.h"

#include <jansson.h>
#include <stdbool.h>

typedef struct hp_list_answer {
    int label; /* text */
    int to;    /* step */
} hp_list_answer;

typedef struct hp_list_step {
    hp_advice_kind kind;
    const hp_reading *reading; /* of a READ */
    int trouble;               /* of a REPAIR: what is the likeliest to be wrong */
    int wiring;                /* number of the wiring to be joined, or that is right; 0: none */
    bool joins;                /* the answers say what this wiring did */
    bool cut;                  /* goes on, but not here */
    int words;                 /* title, how-to, cautions and so on: of the pool */
    int title, healthy;        /* texts */
    int reason;                /* text */
    int answers;
    hp_list_answer *answer; /* owned */
    double reached;         /* probability of coming here */
} hp_list_step;

/* Things of which the list holds each once, and names by their place. */
typedef struct hp_list_pool {
    json_t *list; /* owned; array */
    json_t *map;  /* owned; place by what it is */
} hp_list_pool;

typedef struct hp_list_steps {
    hp_list_step *step; /* owned; the first step is 0, then the likelier ones first */
    int count;
    hp_list_pool texts; /* strings; text 0 is empty */
    hp_list_pool words; /* [title, healthy, safe, [how], [[caution]], [[detail]]]: texts */
} hp_list_steps;

/* Free with hp_list_steps_free whatever comes back. HP_FAIL_MEMORY. */
hp_result hp_list_steps_make(const hp_plan_list *list, hp_list_steps *plan, hp_error *err);
void hp_list_steps_free(hp_list_steps *plan);
const char *hp_list_text(const hp_list_steps *plan, int text);
/* What makes a step safe now. */
const char *hp_list_safe(const hp_list_steps *plan, const hp_list_step *step);
/* Text number k of a step's how-to (or of the details or cautions that belong to how-to number
 * `at`, cautions of the whole step behind the last), NULL after the last. */
const char *hp_list_how(const hp_list_steps *plan, const hp_list_step *step, size_t k);
const char *hp_list_caution(const hp_list_steps *plan, const hp_list_step *step, size_t at,
                            size_t k);
const char *hp_list_detail(const hp_list_steps *plan, const hp_list_step *step, size_t at,
                           size_t k);

#endif
