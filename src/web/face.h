/*
 * The face of the library for a page: one call, text in and text out.
 *
 * A request is a JSON object with the member `do`; the answer is one with "ok": true, or with "ok":
 * false, a `summary` and `problems`. All of them: docs/face.md. The face holds one open case; texts
 * of scenario and log come in and go out whole, nothing is read from or written to files.
 */
#ifndef HUBPHASE_SRC_WEB_FACE_H
#define HUBPHASE_SRC_WEB_FACE_H

#include "hubphase/sim/engine.h"

typedef struct hp_web hp_web;

/* `progress` (may be NULL) is told of work that takes long, and may stop it. NULL: no memory. Free
 * with hp_web_free. */
hp_web *hp_web_create(hp_progress progress, void *user);
void hp_web_free(hp_web *web);

/* The answer, in one line; for the caller to free. NULL: no memory, not even to say so. */
char *hp_web_call(hp_web *web, const char *request);

#endif
