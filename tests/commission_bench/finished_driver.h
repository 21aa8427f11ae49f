/*
 * The program as a user drives it: a scenario file, `hubphase log`, `hubphase commission --json`.
 */
#ifndef HUBPHASE_TESTS_FINISHED_DRIVER_H
#define HUBPHASE_TESTS_FINISHED_DRIVER_H

#include "finished_person.h"

#include <jansson.h>

typedef struct driver {
    const char *program, *folder;
    char name[64];                 /* of the machine at hand; its files are called so */
    bool tells;                    /* entries are printed */
    bool asks_each;                /* after each entry, not only at the end */
    int crashes, refused, unnamed; /* ends of the program; ends of a list without a named reason */
} driver;

/* Ends the bench itself: it cannot do its work. */
void driver_fail(const char *what, const char *detail);
/* Writes the scenario, and takes away the log of an earlier run. */
void driver_begin(driver *d, const finished_person *p, const char *name);
/* Runs `hubphase ARGUMENTS`; its JSON, or NULL when it failed. For the caller to release. */
json_t *driver_ask(driver *d, const char *arguments);
/* Does every step of commissioning that is open and that this person does, in the list's order. The
 * list at the end; NULL when the program failed. */
json_t *driver_commission(driver *d, finished_person *p);
/* "" when there is none. */
const char *driver_text(const json_t *object, const char *key);

#endif
