/*
 * Work that may end the process that does it, done in a process of its own.
 *
 * What PLplot draws with (Cairo, Pango, FreeType, Fontconfig, GLib) follows null pointers, or ends
 * the program, where memory runs out inside it; docs/reliability.md counts how often. Done here
 * that is an error like any other, with nothing half written. The other process hands over bytes
 * and no more: files are written by the program itself.
 */
#ifndef HUBPHASE_SRC_APP_APART_H
#define HUBPHASE_SRC_APP_APART_H

#include "hubphase/base/result.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* Work in pieces, one after the other; the first failure ends it. */
typedef struct hp_apart {
    int count;
    bool safe; /* it ends no process: it is done in this one */
    void *user;
    /* Writes piece k (0..count - 1) to a stream in memory. What it changes elsewhere is lost. */
    hp_result (*make)(void *user, int k, FILE *out, hp_error *err);
    /* Takes that piece, in the program itself, before the next is waited for. */
    hp_result (*take)(void *user, int k, const char *bytes, size_t size, hp_error *err);
} hp_apart;

/* Does the work. No other thread may be alive. HP_FAIL_LIBRARY when the process ended early,
 * HP_FAIL_CANCELLED after Ctrl-C, HP_FAIL_MEMORY; else what make or take said. Where the system
 * gives no further process, it is done in this one. */
hp_result hp_apart_run(const hp_apart *work, hp_error *err);

#endif
