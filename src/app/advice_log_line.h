/*
 * The command line that writes an advised step into the log, with places left for what was seen.
 */
#ifndef HUBPHASE_SRC_APP_ADVICE_LOG_LINE_H
#define HUBPHASE_SRC_APP_ADVICE_LOG_LINE_H

#include "app/advice_session.h"

#define HP_LOG_LINE_SIZE 4096

/* "hubphase log x.yaml park --plus-lead=blue --code=CODE": its words one behind another, each
 * terminated, an empty one at the end; not quoted for a shell. `chosen`: what --log said, or NULL.
 * Empty when the step leaves nothing to write down. Returns out. */
char *hp_advice_log_line(const hp_advice_session *session, const char *chosen,
                         const hp_advice *advice, char *out, size_t size);

#endif
