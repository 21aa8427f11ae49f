/*
 * The plan tree as the page needs it: steps with their words, each different one once.
 *
 * Many paths lead to the same advice with the same things to follow. Such nodes are one step here,
 * so the tree becomes a graph without circles, and the page small enough to print.
 */
#ifndef HUBPHASE_SRC_REPORT_PAGE_PAGE_PLAN_H
#define HUBPHASE_SRC_REPORT_PAGE_PAGE_PLAN_H

#include "report/page/bench_page.h"

#include <jansson.h>
#include <stdbool.h>

typedef struct hp_page_answer {
    int answer; /* label, sentence and text for the log: of the pool */
    int label;  /* text */
    int to;     /* step */
} hp_page_answer;

typedef struct hp_page_step {
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
    hp_page_answer *answer; /* owned */
    double reached;         /* probability of coming here */
} hp_page_step;

/* Things of which the page holds each once, and names by their place. */
typedef struct hp_page_pool {
    json_t *list; /* owned; array */
    json_t *map;  /* owned; place by what it is */
} hp_page_pool;

typedef struct hp_page_plan {
    hp_page_step *step; /* owned; the first step is 0, then the likelier ones first */
    int count;
    hp_page_pool texts;   /* strings; text 0 is empty */
    hp_page_pool words;   /* [title, healthy, note, safe, [how], [[caution]]]: texts */
    hp_page_pool answers; /* [label, sentence, log]: texts */
    double ends;          /* probability of coming to an end of the plan that asks for nothing */
} hp_page_plan;

/* Free with hp_page_plan_free whatever comes back. HP_FAIL_MEMORY. */
hp_result hp_page_plan_make(const hp_bench_page *page, hp_page_plan *plan, hp_error *err);
void hp_page_plan_free(hp_page_plan *plan);
const char *hp_page_plan_text(const hp_page_plan *plan, int text);
/* What makes a step safe now. */
const char *hp_page_plan_safe(const hp_page_plan *plan, const hp_page_step *step);
/* Text number k of a step's how-to (or of the details or cautions that belong to how-to number
 * `at`, cautions of the whole step behind the last), NULL after the last. */
const char *hp_page_plan_how(const hp_page_plan *plan, const hp_page_step *step, size_t k);
const char *hp_page_plan_caution(const hp_page_plan *plan, const hp_page_step *step, size_t at,
                                 size_t k);
const char *hp_page_plan_detail(const hp_page_plan *plan, const hp_page_step *step, size_t at,
                                size_t k);

/* The JSON that the page's script reads: owned by the caller; NULL when memory is short. */
char *hp_page_plan_json(const hp_page_plan *plan, const hp_bench_page *page);

#endif
