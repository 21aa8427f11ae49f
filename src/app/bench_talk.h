/*
 * The conversation of `hubphase bench`: one step and one question at a time, each finished entry
 * written into the log at once. What its files share; command_bench.c leads it.
 *
 * A function that gives a bool: false: the work has to end, `status` says how.
 */
#ifndef HUBPHASE_SRC_APP_BENCH_TALK_H
#define HUBPHASE_SRC_APP_BENCH_TALK_H

#include "app/advice_session.h"
#include "app/ask.h"

#include <stdbool.h>

typedef struct hp_talk {
    hp_advice_session *session; /* borrowed */
    hp_ask ask;
    hp_advice advice;
    bool shown; /* the step in hand was printed: nothing has changed since */
    hp_exit status;
} hp_talk;

/* Borrowed, until the log is read again. */
const hp_bench_log *hp_talk_log(const hp_talk *b);
/* A line across: sets a step off from the questions. */
void hp_talk_rule(const hp_talk *b);

/* ---- the log: bench_talk_log.c --------------------------------------------------------------- */

void hp_talk_error(const hp_talk *b, const hp_error *err);
/* Takes in a log that somebody else changed. False: it was not changed, or *on is false and the
 * work ends. */
bool hp_talk_take_in(hp_talk *b, bool *on);
/* Saves a new entry, or with a number a changed one; asks what to do when that fails. */
bool hp_talk_save(hp_talk *b, int number, hp_bench_entry *entry);
/* Takes entry `number` out; the last one, if there is one. */
bool hp_talk_take_out(hp_talk *b, int number);
bool hp_talk_take_back(hp_talk *b);

/* ---- entries: bench_talk_entry.c ------------------------------------------------------------- */

/* Asks for an entry and saves it; `advised`: it is what the step in hand asks for. */
bool hp_talk_take_entry(hp_talk *b, const hp_reading *kind, bool advised);
/* Asks for the kind first. */
bool hp_talk_take_other(hp_talk *b);
const hp_commission *hp_talk_steps(const hp_talk *b);
/* Which step of commissioning; the next one where the person does not say. */
hp_answer hp_talk_ask_step(hp_talk *b, const hp_reading **kind);
void hp_talk_show_step(const hp_talk *b, const hp_reading *kind);
/* Asks for a step's entry and says what it found. */
bool hp_talk_take_step(hp_talk *b, const hp_reading *kind);

/* ---- bench_talk_change.c, bench_talk_steps.c ------------------------------------------------- */

/* Changes any entry, or takes it out. */
bool hp_talk_change(hp_talk *b);
/* Notes that a step cannot be done here. */
bool hp_talk_leave_out(hp_talk *b, const hp_reading *step);
/* One step of commissioning after the other. */
bool hp_talk_commission(hp_talk *b);

#endif
