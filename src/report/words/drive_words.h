/* How a machine is made to run on a stand, and how to stop it: by its throttle, or by its pedals
 * where it has none. */
#ifndef HUBPHASE_SRC_REPORT_WORDS_DRIVE_WORDS_H
#define HUBPHASE_SRC_REPORT_WORDS_DRIVE_WORDS_H

#include "decide/advise/full_check.h"
#include "hubphase/decide/assumptions.h"

typedef struct hp_drive_words {
    const char *at_rest;    /* "throttle at zero" */
    const char *gently;     /* "throttle gently" */
    const char *up_to_full; /* "throttle slowly up to full" */
    const char *off;        /* "Throttle off" */
    const char *again;      /* "try the throttle once more" */
} hp_drive_words;

/* Static storage. */
const hp_drive_words *hp_drive_words_of(const hp_plan_params *plan);

#define HP_ASKED_WORDS 48
/* "full throttle", or of less than 1 "the 60 % that the pedals give". Returns out. */
char *hp_full_words(double full, char *out, size_t size);

#endif
