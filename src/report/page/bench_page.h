/*
 * The page for the bench: one HTML file with cautions, the plan as a tree to walk, and the map of
 * the 36 wirings.
 *
 * It needs nothing beside it: no network, no other file. Its Content-Security-Policy forbids
 * everything but its own style sheet and script, named by their hashes. Every text that comes from
 * a file stays text. The same input gives the same bytes. What stands on it: docs/page.md.
 */
#ifndef HUBPHASE_SRC_REPORT_PAGE_BENCH_PAGE_H
#define HUBPHASE_SRC_REPORT_PAGE_BENCH_PAGE_H

#include "decide/advise/plan_tree.h"
#include "hubphase/decide/survey.h"
#include "hubphase/report/tables.h"
#include "report/words/card.h"

/* What stands in an entry's text where the page puts the time of the answer. */
#define HP_BENCH_PAGE_TIME "1970-01-01T00:00:00Z"

/* The log as text: the page copies it out with the answers behind it. Texts are borrowed. */
typedef struct hp_bench_page_log {
    const char *text; /* log so far, head included */
    const char *name; /* file to save it as */
    const char *add;  /* command that adds an entry to it, as typed */
    const char *ask;  /* command that asks what to do next */
    /* Text of one more entry as it stands in a log, its time HP_BENCH_PAGE_TIME: owned by the
     * caller; NULL when memory is short. */
    char *(*entry_text)(void *user, const hp_entry *entry);
    void *user;
} hp_bench_page_log;

/* Pictures of one wiring, made as insets; NULL: none. */
typedef struct hp_bench_page_pictures {
    char *waves;
    char *lead;
} hp_bench_page_pictures;

/* All borrowed. */
typedef struct hp_bench_page {
    hp_report_case subject;
    hp_card_context words;
    const hp_plan_tree *tree;
    const hp_entry *entry; /* of the log, in order */
    int entries;
    hp_bench_page_log log;
    const hp_survey *survey;
    const int *first; /* hp_alike_numbers: wirings with the same number share pictures */
    const hp_bench_page_pictures *pictures; /* [number - 1], of those that are their own first */
} hp_bench_page;

/* HP_FAIL_MEMORY, or HP_FAIL_IO when `out` cannot be written. */
hp_result hp_bench_page_write(const hp_bench_page *page, FILE *out, hp_error *err);
/* Cautions, log and plan as a numbered list, for paper; survey and pictures are not needed. */
hp_result hp_bench_page_write_paper(const hp_bench_page *page, FILE *out, hp_error *err);

#endif
