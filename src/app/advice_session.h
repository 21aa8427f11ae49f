/*
 * What every command that advises begins and ends with: a scenario and its bench log become a
 * likelihood table, a belief and a planner.
 */
#ifndef HUBPHASE_SRC_APP_ADVICE_SESSION_H
#define HUBPHASE_SRC_APP_ADVICE_SESSION_H

#include "app/advice_table.h"
#include "app/session.h"
#include "decide/advise/plan.h"
#include "hubphase/record/bench_log.h"
#include "report/words/card.h"

/* What the command line says: FILE, and --log, --jobs, --quiet of hp_advice_argp. */
typedef struct hp_advice_choice {
    const char *file; /* scenario; borrowed from argv */
    const char *log;  /* NULL: beside the scenario; borrowed */
    int jobs;         /* threads of a build; 0: one a processor */
    bool quiet;
} hp_advice_choice;

hp_advice_choice hp_advice_choice_default(void);
/* --log, --jobs, --quiet; input: hp_advice_choice *. The command takes FILE by itself. */
extern const struct argp hp_advice_argp;

/* Holds pointers into itself: never copied, never moved while open. */
typedef struct hp_advice_session {
    hp_session session;  /* scenario, labels */
    hp_bench_log log;    /* owned; as it was read */
    hp_likelihood table; /* owned */
    hp_table_origin origin;
    hp_belief belief;    /* owned; all entries of the log */
    hp_planner *planner; /* owned */
} hp_advice_session;

/* Loads the scenario and its log, gets the table, takes every entry in. Prints every problem;
 * HP_EXIT_FINE, or the status to leave with (nothing is then left to free). A log that is not there
 * is an empty one. */
hp_exit hp_advice_session_open(hp_advice_session *session, const char *command,
                               const hp_advice_choice *choice);
void hp_advice_session_close(hp_advice_session *session);

/* Reads the log again, which has grown or lost its last entry, and begins the belief anew. Problems
 * of the file are printed; on failure the session can only be closed. */
hp_result hp_advice_session_reload(hp_advice_session *session, hp_error *err);

/* What the words of the next step are about; borrowed from the session. */
hp_card_context hp_advice_session_context(const hp_advice_session *session);

#endif
