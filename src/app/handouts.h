/*
 * The hand-outs of a club evening as files in a folder, each as PDF and as HTML.
 */
#ifndef HUBPHASE_SRC_APP_HANDOUTS_H
#define HUBPHASE_SRC_APP_HANDOUTS_H

#include "app/session.h"
#include "hubphase/report/documents.h"

typedef struct hp_handouts_choice {
    const char *folder; /* is there; borrowed */
    unsigned long long seed;
    int groups; /* 1..HP_HANDOUT_GROUPS */
    int jobs;   /* threads; 0: one a processor */
} hp_handouts_choice;

/* Seed 1, four groups. */
hp_handouts_choice hp_handouts_choice_default(void);

/* Writes them all and tells each file's name unless quiet. `drive` as the evening shows it,
 * `survey` of it. Where no advice can be given for the scenario there is no bench card, and in a
 * build without PLplot there is no PDF: that is said. An input of the command is not overwritten.
 */
hp_result hp_handouts_put(hp_session *session, const hp_handouts_choice *choice,
                          const hp_drive *drive, const hp_survey *survey, hp_error *err);

#endif
