/*
 * The page with the library inside: one file of HTML that needs nothing else, for a phone at the
 * bench. Its parts are made by the build from src/web/page.
 */
#ifndef HUBPHASE_SRC_APP_TOOL_PAGE_H
#define HUBPHASE_SRC_APP_TOOL_PAGE_H

#include <stdbool.h>
#include <stdio.h>

/* What the page begins with; all borrowed. */
typedef struct hp_tool_page {
    const char *name;     /* of the scenario's file, without its folder */
    const char *scenario; /* its text; NULL: none, the page begins with a form */
    const char *log;      /* text of the bench log; NULL: there is none yet */
    const char
        *table; /* of likelihoods, where it is not the shipped one; NULL: the page makes it */
} hp_tool_page;

/* Whether this program was built with the library as WebAssembly. */
bool hp_tool_page_possible(void);

/* Writes the page. Whether `out` took it is its to say. */
void hp_tool_page_write(const hp_tool_page *page, FILE *out);

#endif
