/*
 * The page with the library inside: one file of HTML that needs nothing else, for a phone at the
 * bench. Its parts are made by the build from src/web/page.
 */
#ifndef HUBPHASE_SRC_APP_TOOL_PAGE_H
#define HUBPHASE_SRC_APP_TOOL_PAGE_H

#include "hubphase/base/result.h"

#include <stdbool.h>
#include <stdio.h>

/* What the page begins with; all borrowed. */
typedef struct hp_tool_page {
    const char *name;     /* of the scenario's file, without its folder */
    const char *scenario; /* its text; NULL: none, the page begins with a form */
    const char *log;      /* text of the bench log; NULL: there is none yet */
    const char
        *table; /* of likelihoods, where it is not the shipped one; NULL: the page makes it */
    const char *evening; /* HP_PAGE_WALL: what it shows, as hp_evening_text has it */
} hp_tool_page;

/* Whether this program was built with the library as WebAssembly: where it was not, HP_FAIL_ABSENT
 * and how to get one that was. */
hp_result hp_tool_page_want(hp_error *err);

/* A path without its folder; borrowed from it. */
const char *hp_tool_page_name(const char *path);
/* A whole file as a terminated text, owned by the caller. */
hp_result hp_tool_page_read(const char *path, char **text, hp_error *err);

/* What the library is put into. */
typedef enum hp_page_sort {
    HP_PAGE_BENCH, /* the page for the bench */
    HP_PAGE_WALL /* the wall of a club evening (src/web/wall): of a scenario and its evening, no log
                  */
} hp_page_sort;

/* Writes the page. Whether `out` took it is its to say. */
void hp_tool_page_write(hp_page_sort sort, const hp_tool_page *page, FILE *out);

#endif
