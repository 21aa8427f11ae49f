/* The shipped likelihood table, read once for a test. */
#ifndef HUBPHASE_TESTS_DEFAULT_TABLE_H
#define HUBPHASE_TESTS_DEFAULT_TABLE_H

#include "decide/advise/likelihood.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static inline hp_likelihood default_table(void)
{
    hp_likelihood table;
    hp_error err = hp_error_none();
    hp_drive drive = hp_drive_default();
    hp_likelihood_options options = hp_likelihood_options_default();
    if (hp_likelihood_read(hp_likelihood_default_text, strlen(hp_likelihood_default_text), &drive,
                           &options, &table, &err) != HP_OK) {
        fprintf(stderr,
                "the shipped table is stale, build it afresh (target likelihood_default): %s\n",
                err.text);
        exit(1);
    }
    return table;
}

#endif
