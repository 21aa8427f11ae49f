/*
 * Case: one machine on the bench. A scenario, its bench log, and the table of likelihoods that fits
 * them; from these what can still be true, and the one thing to do next.
 *
 *     hp_case_options options = hp_case_options_default();
 *     hp_case *c = hp_case_create(&scenario, &options, &err);
 *     hp_case_next(c, &advice, &err);
 *     ... the person does it, and the log gets an entry ...
 *     hp_case_reload(c, &err);
 *
 * The table of the default drive is part of the library. Any other takes seconds to simulate, so it
 * is kept as a file in a cache folder that the caller names. Its name holds the key of its content,
 * and the key of the shipped table: whenever what is simulated changes, that one is built afresh,
 * and old files go unused. A kept table that is damaged, or that belongs to something else, is
 * never used: it is built afresh and replaced. A cache that cannot be read or written costs time
 * and nothing else.
 */
#ifndef HUBPHASE_RECORD_CASE_H
#define HUBPHASE_RECORD_CASE_H

#include "hubphase/base/result.h"
#include "hubphase/decide/advice.h"
#include "hubphase/decide/commission.h"
#include "hubphase/record/bench_log.h"
#include "hubphase/record/scenario.h"
#include "hubphase/sim/engine.h"

HP_API_BEGIN

typedef struct hp_case hp_case;

/* Where a case's table comes from. */
typedef enum hp_table_origin { HP_TABLE_SHIPPED, HP_TABLE_KEPT, HP_TABLE_BUILT } hp_table_origin;

/* All borrowed until the case is freed, except where it says otherwise. */
typedef struct hp_case_options {
    const char *log;              /* file of the bench log; NULL: beside the scenario; copied */
    const char *log_text;         /* or the log itself, terminated: then no file is read; copied */
    const hp_bench_log *log_read; /* or as it was read already: then no file is read before
                                     hp_case_reload; copied */
    const char *cache;    /* folder for tables, made if need be, with the one that it lies in; NULL:
                             none is kept; copied */
    const char *table;    /* a table from hp_case_table_write, terminated: used where it is the one
                             that is wanted and the shipped one is not; copied */
    bool ready_only;      /* a table that has yet to be built is not: HP_FAIL_CANCELLED */
    int jobs;             /* threads of a build; 0: one a processor */
    hp_progress progress; /* of a build: may stop it; may be NULL */
    void *progress_user;
    /* Called with what somebody who waits would like to know, one line without its break: that a
     * table is being built, why a kept one was not used. May be NULL. */
    void (*remark)(void *user, const char *text);
    void *remark_user;
    FILE *diagnostics; /* gets every problem of the log, as hp_bench_log_load; may be NULL */
    int columns;       /* to which they are filled; 0: they are not */
} hp_case_options;

/* The log beside the scenario, no cache, one thread a processor, nobody listens. */
hp_case_options hp_case_options_default(void);

/* Reads the log, gets the table, takes every entry in. The scenario stays borrowed and must not
 * change. A log that is not there is an empty one. NULL on failure: HP_FAIL_INPUT for a log with
 * problems or a scenario that no advice can be given for, HP_FAIL_IO for a log that cannot be read,
 * HP_FAIL_CANCELLED when progress stopped the build, HP_FAIL_MEMORY. Free with hp_case_free. */
hp_case *hp_case_create(const hp_scenario *scenario, const hp_case_options *options, hp_error *err);
void hp_case_free(hp_case *c);

/* Reads the log's file again, which has grown or lost its last entry, and begins anew. After a
 * failure the case can only be freed, or read again. */
hp_result hp_case_reload(hp_case *c, hp_error *err);
/* The same with a log that is in memory, terminated; copied. */
hp_result hp_case_reload_text(hp_case *c, const char *text, hp_error *err);

/* What the case holds; borrowed from it, the log until it is read again. */
const hp_scenario *hp_case_scenario(const hp_case *c);
const hp_bench_log *hp_case_log(const hp_case *c);
/* What can be done at the bench: as the scenario has it, without what the log leaves out. Borrowed.
 */
const hp_plan_params *hp_case_plan(const hp_case *c);
hp_table_origin hp_case_table(const hp_case *c);

/* The table as text, for whoever keeps it otherwise than in a folder; HP_FAIL_IO when `out` cannot
 * be written. */
hp_result hp_case_table_write(const hp_case *c, FILE *out, hp_error *err);
/* What a scenario's table is called, "4fd0a9c2-93b1c0d2e1f0a7b6": another table has another name.
 * Returns out[HP_TABLE_KEY]; HP_FAIL_MEMORY. */
#define HP_TABLE_KEY 32
hp_result hp_case_table_key(const hp_scenario *scenario, char *out, hp_error *err);

/* The one thing to do next. HP_FAIL_MEMORY. */
hp_result hp_case_next(hp_case *c, hp_advice *advice, hp_error *err);

/* Fills showing[] with what a READ, TRY, LOOK or LEARN advice of this case may show, each as the
 * entry that a person would log, likeliest first, leaving out what is less likely than `least` (a
 * tenth of it where a reading proves a part). Dangers that a check may find come last and are never
 * left out. Returns their number. */
int hp_case_showings(hp_case *c, const hp_advice *advice, double least,
                     hp_showing showing[HP_SHOWING_MAX]);

/* ---- commissioning --------------------------------------------------------------------------- */

/* A scenario and its bench log, and the list of steps that follows from them. Nothing is simulated
 * for it. */
typedef struct hp_commission_case hp_commission_case;

/* What the entries of a log are held against: the scenario, or, where its figures were learnt from
 * this log, what it was before, so that no reading counts twice. Borrowed from the scenario. */
const hp_scenario *hp_commission_scenario(const hp_scenario *scenario, const hp_bench_log *log);

/* The same of two logs that are compared: where the scenario was learnt from either, both are held
 * against what it was before. */
const hp_scenario *hp_compare_scenario(const hp_scenario *scenario, const hp_bench_log *then,
                                       const hp_bench_log *now);

/* Both stay borrowed, the log's entries are copied. NULL and err (HP_FAIL_MEMORY) on failure; free
 * with hp_commission_case_free. */
hp_commission_case *hp_commission_case_create(const hp_scenario *scenario, const hp_bench_log *log,
                                              hp_error *err);
void hp_commission_case_free(hp_commission_case *c);

/* Borrowed. */
const hp_commission *hp_commission_case_list(const hp_commission_case *c);
const hp_scenario *hp_commission_case_scenario(const hp_commission_case *c);
const hp_bench_log *hp_commission_case_log(const hp_commission_case *c);
/* The log entry that leaves a step out, whose note may say why; NULL: the step is not left out. */
const hp_bench_entry *hp_commission_case_left_out(const hp_commission_case *c,
                                                  const hp_reading *step);
/* That of a case, read anew with its log; borrowed from it. */
const hp_commission_case *hp_case_commissioning(const hp_case *c);

/* The scenario's own text with the figures that were learnt in place of those that were stated: all
 * else is kept, each changed key says in a comment above it where it comes from and what it was,
 * and a section learnt_from says it for the program. `log`: how that one is to name the log; NULL:
 * as a file of the same folder. *changes: keys that were set. HP_FAIL_INPUT when nothing is learnt
 * yet, or when a key cannot be changed where it stands (problems go to `diagnostics`, may be NULL);
 * HP_FAIL_IO, HP_FAIL_MEMORY.
 */
hp_result hp_commission_case_write(const hp_commission_case *c, const char *log, FILE *out,
                                   int *changes, FILE *diagnostics, hp_error *err);
/* The same from the scenario's text, where it is in no file. */
hp_result hp_commission_case_write_text(const hp_commission_case *c, const char *text,
                                        const char *log, FILE *out, int *changes, FILE *diagnostics,
                                        hp_error *err);

HP_API_END

#endif
