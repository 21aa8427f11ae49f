/*
 * A hand-out: what it is called, how many pages it has, what draws them.
 */
#ifndef HUBPHASE_SRC_REPORT_HANDOUT_HANDOUT_H
#define HUBPHASE_SRC_REPORT_HANDOUT_HANDOUT_H

#include "hubphase/report/documents.h"
#include "report/handout/handout_bench_path.h"
#include "report/picture/canvas.h"

#include <stdbool.h>

/* One file being made. */
typedef struct hp_handout_job {
    const hp_handout_source *source;
    int group; /* from 1; 0: the file is for all groups */
    const struct hp_handout *handout;
    const hp_bench_path *path; /* of a hand-out that wants the bench; else NULL */
    int pages, page;           /* being drawn, from 0; an HTML page is one canvas each */
} hp_handout_job;

typedef struct hp_handout {
    const char *name;  /* of the file, "work-sheet" */
    const char *title; /* at the head of each page */
    bool by_group;     /* a file for each group */
    bool bench;        /* is made of the bench's next steps: left out where there is no case */
    /* One of the two, all but the foot: the one page; or what runs over as many as it takes, of
     * which it draws job->page (canvas NULL: none) and returns their number. */
    void (*paint)(const hp_canvas *canvas, const hp_handout_job *job);
    int (*flow)(const hp_canvas *canvas, const hp_handout_job *job);
} hp_handout;

extern const hp_handout hp_handout_worksheet, hp_handout_steps, hp_handout_dial, hp_handout_bench,
    hp_handout_answers;

#endif
