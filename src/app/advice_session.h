/*
 * What every command that advises begins and ends with: the case of a scenario and its bench log,
 * with the user's cache folder, progress and remarks on the terminal.
 */
#ifndef HUBPHASE_SRC_APP_ADVICE_SESSION_H
#define HUBPHASE_SRC_APP_ADVICE_SESSION_H

#include "app/session.h"
#include "hubphase/record/case.h"
#include "hubphase/record/practice_case.h"

/* What the command line says: FILE, and --log, --jobs, --quiet of hp_advice_argp. */
typedef struct hp_advice_choice {
    const char *file;             /* scenario; borrowed from argv */
    const char *log;              /* NULL: beside the scenario; borrowed */
    const hp_bench_log *log_read; /* or as it was read already; NULL: it is not; borrowed */
    int jobs;                     /* threads of a build; 0: one a processor */
    bool quiet;
} hp_advice_choice;

hp_advice_choice hp_advice_choice_default(void);
/* --log, --jobs, --quiet; input: hp_advice_choice *. The command takes FILE by itself. */
extern const struct argp hp_advice_argp;

/* The case borrows the session's scenario: never copied, never moved while open. */
typedef struct hp_advice_session {
    hp_session session;
    hp_case *bench; /* owned */
} hp_advice_session;

/* The case of a scenario that is loaded, which it borrows; NULL with *err. To be freed. */
hp_case *hp_advice_case_open(const hp_session *session, const hp_advice_choice *choice,
                             hp_error *err);
/* The same of a hidden machine, for practice; no log is read. */
hp_practice_case *hp_advice_practice_open(const hp_session *session, const hp_advice_choice *choice,
                                          hp_practice_level level, uint64_t seed, hp_error *err);
/* Loads the scenario and makes its case. Prints every problem; HP_EXIT_FINE, or the status to leave
 * with (nothing is then left to free). */
hp_exit hp_advice_session_open(hp_advice_session *session, const char *command,
                               const hp_advice_choice *choice);
void hp_advice_session_close(hp_advice_session *session);

#endif
