/*
 * hubphase: which of the 36 ways to join a salvaged brushless hub motor to a controller runs
 * smoothly, simulated; and what to measure or try next where nobody knows which lead is which.
 *
 * This one header is the whole face of the library. tests/example.c goes from a scenario to
 * verdicts and one advice. Read it first, then the headers below in their order.
 *
 * - The library never prints, leaves the program, reads the environment or keeps global state: it
 *   writes to streams and files that it is handed, and says in an hp_error what went wrong.
 * - SI units inside; every field says its unit, its range and whose it is.
 * - A value of most types is set by its _default function and checked by its _check function.
 * - Calls may run on several threads at once, each with objects of its own.
 */
#ifndef HUBPHASE_H
#define HUBPHASE_H

/* What every header begins with; text; the one way to write files. */
#include "hubphase/base/files.h"
#include "hubphase/base/result.h"
#include "hubphase/base/text.h"

/* The parts, and the wiring that joins them. */
#include "hubphase/model/controller.h"
#include "hubphase/model/course.h"
#include "hubphase/model/drive.h"
#include "hubphase/model/labels.h"
#include "hubphase/model/motor.h"
#include "hubphase/model/ride_controls.h"
#include "hubphase/model/vehicle.h"
#include "hubphase/model/wiring.h"

/* One run: its figures, its trace. */
#include "hubphase/sim/engine.h"
#include "hubphase/sim/figures.h"

/* Judging: verdicts, all 36 wirings, motors like this one. */
#include "hubphase/decide/spread.h"
#include "hubphase/decide/survey.h"
#include "hubphase/decide/verdict.h"

/* Trying the controls: what they make the machine do, what can be wrong with them. */
#include "hubphase/decide/what_if.h"

/* Advising: what is assumed, what a person says, what to do next, and once the wiring runs. */
#include "hubphase/decide/advice.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/commission.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/decide/readings.h"

/* Whether parts go together, and what the machine does on the road. */
#include "hubphase/decide/fit.h"

/* A club evening: what it shows of one machine. */
#include "hubphase/decide/lesson.h"

/* Practice: a hidden machine that plays the bench. */
#include "hubphase/decide/practise.h"

/* Scenario, bench log, and the case that they make. */
#include "hubphase/record/bench_log.h"
#include "hubphase/record/case.h"
#include "hubphase/record/practice_case.h"
#include "hubphase/record/scenario.h"
#include "hubphase/record/spread_part.h"

/* Words, tables, pictures, page and sheet. */
#include "hubphase/report/case_words.h"
#include "hubphase/report/documents.h"
#include "hubphase/report/forms.h"
#include "hubphase/report/pictures.h"
#include "hubphase/report/tables.h"

#endif
