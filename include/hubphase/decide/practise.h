/*
 * Practice: a hidden machine that plays the bench.
 *
 * A machine is drawn from stated parts, a seed and a level; which lead sits on which axis, what its
 * parts really measure and what is wrong with it stay hidden. Whoever asks it for a reading or a
 * trial gets what a person would see there, as an ordinary entry of the bench log. What is shown
 * hangs on the machine, on the question and on how often it was asked, and on nothing else: two
 * teams on one seed have the same bench, in whatever order they go about it.
 *
 *     hp_practice_look look = {.entry = asked so far, .entries = their number};
 *     hp_entry entry = hp_entry_make(hp_reading_find("hand_turn"), 0);
 *     hp_practice_see(practice, &look, &entry, &err);
 *
 * A hidden trial is simulated on the hidden drive; no likelihood table has a say in it.
 */
#ifndef HUBPHASE_DECIDE_PRACTISE_H
#define HUBPHASE_DECIDE_PRACTISE_H

#include "hubphase/base/result.h"
#include "hubphase/decide/advice.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/model/drive.h"
#include "hubphase/sim/engine.h"

#include <stdint.h>

HP_API_BEGIN

typedef enum hp_practice_level {
    HP_PRACTICE_SOUND,  /* every part is good: which wiring? */
    HP_PRACTICE_FAULT,  /* one part is broken */
    HP_PRACTICE_SLIP,   /* the parts are good, one entry of the log so far is wrong */
    HP_PRACTICE_CLUTCH, /* a hub behind a one-way clutch, which may slip */
    HP_PRACTICE_LEVELS
} hp_practice_level;

/* "sound", "fault", "slip", "clutch"; and back, -1: none is called so. */
const char *hp_practice_level_name(hp_practice_level level);
int hp_practice_level_find(const char *name);

/* What may be wrong with a hidden machine: each is found by a reading or a trial. */
typedef enum hp_practice_fault {
    HP_PRACTICE_HALL_STUCK,    /* a Hall sensor shows one level only */
    HP_PRACTICE_HALL_INVERTED, /* one shows the opposite level: a 60-degree set */
    HP_PRACTICE_PHASE_OPEN,    /* a phase lead is broken */
    HP_PRACTICE_SILENT,        /* something keeps the controller from driving */
    HP_PRACTICE_CUTTING_OUT,   /* the battery's protection cuts out in every run */
    HP_PRACTICE_LOOSE,         /* some lead makes contact now and then */
    HP_PRACTICE_CLUTCH_SLIPS,  /* the rotor turns, the wheel does not */
    HP_PRACTICE_HALL_SUPPLY,   /* the Hall supply pins carry the battery's volts */
    HP_PRACTICE_ON_SHELL,      /* a lead touches the shell */
    HP_PRACTICE_PHASE_ON_HALL, /* a phase lead touches a Hall lead */
    HP_PRACTICE_FAULTS,
    HP_PRACTICE_NO_FAULT = HP_PRACTICE_FAULTS
} hp_practice_fault;

/* "hall_stuck"; and back, -1: none is called so. */
const char *hp_practice_fault_name(hp_practice_fault fault);
int hp_practice_fault_find(const char *name);
/* Of which side one lead is broken: HP_PLUG_PHASE_U, HP_PLUG_SENSOR_U; -1: it is no matter of one
 * lead. */
int hp_practice_fault_side(hp_practice_fault fault);

/* The seeds that a person may give, from 1. */
#define HP_PRACTICE_SEED_MAX 1000000000

typedef struct hp_practice hp_practice;

/* What is stated of the machine; copied. */
typedef struct hp_practice_stated {
    hp_drive drive;        /* its faults do not count */
    hp_prior_params prior; /* its table; -1: nobody knows it */
    hp_person person;      /* what meters are worth */
    hp_plan_params plan;   /* what can be done here */
} hp_practice_stated;

/* Draws a machine. NULL and err on failure: HP_FAIL_INPUT where the level does not suit what is
 * stated, HP_FAIL_MEMORY. Free with hp_practice_free. */
hp_practice *hp_practice_create(const hp_practice_stated *stated, hp_practice_level level,
                                uint64_t seed, hp_error *err);
void hp_practice_free(hp_practice *practice);

hp_practice_level hp_practice_level_of(const hp_practice *practice);
uint64_t hp_practice_seed(const hp_practice *practice);

/* ---- asking ---------------------------------------------------------------------------------- */

/* Whether a kind of entry can be asked for here: it has something to show, and the plan has it. */
bool hp_practice_shows(const hp_practice *practice, const hp_reading *kind);
/* Whether a kind is taken for one phase lead at a time. */
bool hp_reading_is_by_lead(const hp_reading *kind);
/* Whether a kind tries a wiring. */
bool hp_practice_is_trial(const hp_reading *kind);
/* A question: an entry with everything unsaid but what the person chooses. `lead`: of a reading
 * that is taken for each phase lead. */
hp_entry hp_practice_ask(const hp_reading *kind, int lead);

/* How a wiring is fed. */
typedef enum hp_practice_feed {
    HP_PRACTICE_LIMITED, /* gentle throttle, what the plan has to limit the current */
    HP_PRACTICE_BATTERY, /* gentle throttle, the battery through its fuse */
    HP_PRACTICE_FULL,    /* the same at full throttle */
    HP_PRACTICE_FEEDS
} hp_practice_feed;

/* "limited", "battery", "full"; and back, -1: none is called so. */
const char *hp_practice_feed_name(hp_practice_feed feed);
int hp_practice_feed_find(const char *name);
/* Whether something can limit the current here. */
bool hp_practice_has_limit(const hp_practice *practice);
/* Whether a wiring can be fed so here, and whether this may be what is wrong with a machine of
 * these parts, so that a menu shows it. */
bool hp_practice_may_feed(const hp_practice *practice, hp_practice_feed feed);
bool hp_practice_may_fail(const hp_practice *practice, hp_practice_fault fault);
/* The question for a trial. limit_a: what a supply is set to; not above 0: three times what the
 * right wiring of stated parts would draw. */
hp_entry hp_practice_ask_trial(const hp_practice *practice, const hp_wiring *wiring,
                               hp_practice_feed feed, double limit_a);

/* What was asked before, in order; borrowed. */
typedef struct hp_practice_look {
    const hp_entry *entry;
    int entries;
} hp_practice_look;

/* Fills in what a person sees; `question` from hp_practice_ask or hp_practice_ask_trial.
 * HP_FAIL_INPUT where nothing is shown of its kind; what the engine says. */
hp_result hp_practice_see(const hp_practice *practice, const hp_practice_look *before,
                          hp_entry *question, hp_error *err);

/* ---- what a question costs and risks --------------------------------------------------------- */

/* Minutes of a careful person: the plan's costs, with the leads moved since the last trial. */
double hp_practice_minutes(const hp_practice *practice, const hp_practice_look *before,
                           const hp_entry *question);

typedef enum hp_practice_risk_kind {
    HP_RISK_UNCHECKED, /* power on the motor's leads before a check that finds a danger */
    HP_RISK_UNLIMITED, /* first power on a wiring from the battery, which limits nothing */
    HP_RISK_FULL,      /* full throttle on a wiring that nobody saw run well */
    HP_RISK_KINDS
} hp_practice_risk_kind;

/* One risk that a step took. */
typedef struct hp_practice_risk {
    hp_practice_risk_kind kind;
    const hp_reading *check; /* UNCHECKED: what had not been taken */
    bool met;                /* it went wrong, as it would have at a bench */
} hp_practice_risk;

#define HP_PRACTICE_RISKS 8

/* The risks of what was asked and shown, after what was asked before it; returns their number. */
int hp_practice_risks(const hp_practice *practice, const hp_practice_look *before,
                      const hp_entry *shown, hp_practice_risk risk[HP_PRACTICE_RISKS]);

/* ---- the log that a learner is given --------------------------------------------------------- */

/* The entries that stand in the log at the start: none but where a slip is to be found. */
int hp_practice_given(const hp_practice *practice);
const hp_entry *hp_practice_given_entry(const hp_practice *practice, int index);
/* The index of the one that is wrong; -1: none is. */
int hp_practice_slipped(const hp_practice *practice);
/* What that one should have said; NULL: none is wrong. */
const hp_entry *hp_practice_true_entry(const hp_practice *practice);

/* ---- the end --------------------------------------------------------------------------------- */

typedef enum hp_practice_claim {
    HP_CLAIM_WIRING, /* this wiring is right */
    HP_CLAIM_FAULT,  /* this part is broken */
    HP_CLAIM_SLIP,   /* this given entry is wrong */
    HP_CLAIM_NOTHING /* not found */
} hp_practice_claim;

/* What somebody says at the end. */
typedef struct hp_practice_answer {
    hp_practice_claim claim;
    int number;              /* WIRING: 1..36; SLIP: index of the given entry */
    hp_practice_fault fault; /* FAULT */
    int lead;                /* ... of one lead: 0..2 by its mark */
} hp_practice_answer;

typedef enum hp_practice_end {
    HP_END_RIGHT,
    HP_END_MISSED_FAULT, /* the wiring is right, what is broken was missed */
    HP_END_MISSED_SLIP,  /* the wiring is right, the wrong entry was missed */
    HP_END_OTHER_LEAD,   /* the fault is right, but it is another lead */
    HP_END_WRONG
} hp_practice_end;

/* Judges an answer; dropped: the given entry at hp_practice_slipped was taken out. */
hp_practice_end hp_practice_judge(const hp_practice *practice, const hp_practice_look *before,
                                  bool dropped, const hp_practice_answer *answer);

/* The answer that an advice which ends the work amounts to; HP_CLAIM_NOTHING: it goes on, or names
 * nothing. A contradiction names the given entry that slipped: `given[]`, of `givens` entries, says
 * which entry of the log each is, counted from 0; -1: it was taken out. */
hp_practice_answer hp_practice_advised(const hp_practice *practice, const hp_advice *advice,
                                       const int *given, int givens);

/* The truth: hidden until the end. */
typedef struct hp_practice_truth {
    int right[3];            /* wirings that run smoothly forward once nothing is broken */
    hp_practice_fault fault; /* HP_PRACTICE_NO_FAULT: every part is good */
    int lead;                /* of one lead: its mark; else -1 */
    bool high;               /* HALL_STUCK: at 1 */
    hp_found cause;          /* SILENT, CUTTING_OUT: what is the matter */
} hp_practice_truth;

hp_practice_truth hp_practice_tell(const hp_practice *practice);

HP_API_END

#endif
