/*
 * A kind of entry of the bench log: a reading, a trial, or something that was done.
 *
 * One descriptor a kind says all that is to be known of it without words: what it is called, what
 * it notes, what it costs, what it can show, how it weighs, what it proves. `hp_readings` lists
 * them; whoever has to do with all kinds walks that list and asks none for its name. The words for
 * people stand in report/words, one descriptor a kind there too (report/words/words.h).
 *
 * A kind of your own: one source file here, one in report/words, a row in reading_list.h.
 */
#ifndef HUBPHASE_SRC_DECIDE_READING_READING_H
#define HUBPHASE_SRC_DECIDE_READING_READING_H

#include "decide/advise/hypothesis.h"
#include "decide/advise/likelihood.h"
#include "decide/advise/nuisance.h"
#include "decide/reading/reading_list.h"
#include "hubphase/decide/advice.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/commission.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/decide/readings.h"
#include "hubphase/model/labels.h"

#include <stddef.h>

/* ---- what values say together --------------------------------------------------------------- */

/* For `settle`. */
typedef struct hp_settling hp_settling;
struct hp_settling {
    const hp_labels *labels;
    const bool *given; /* [field] the file has it; NULL: not known, whatever the values say */
    /* Notes that a field is wrong: text comes behind its name ("is missing, ..."). It points to
     * field `beside` where the file has that one, else to the entry (beside NULL: always). */
    void (*refuse)(const hp_settling *settling, const char *field, const char *beside,
                   const char *text);
    /* What another field is called where the entry comes from: "--starts". Returns out. */
    char *(*name)(const hp_settling *settling, const char *field, char *out, size_t size);
};

/* ---- what the advice knows of it ------------------------------------------------------------- */

/* What an entry is weighed for, or what it would typically show. */
typedef struct hp_reading_case {
    const hp_likelihood *table;
    const hp_person *person;
    const hp_plan_params *plan; /* NULL when weighing */
    const hp_hypothesis *hypothesis;
    int motor;                   /* of the ensemble */
    const hp_nuisance *nuisance; /* what the bench adds to it; NULL: nothing */
    int lead;                    /* of a reading that is taken for each phase lead; else -1 */
    int loose;                   /* of the hypothesis that some lead makes contact only now and then
                                    it is this one: a phase lead 0..2, a Hall lead 3..5; -1: not
                                    asked */
} hp_reading_case;

/* How a reading meets a lead that makes contact only now and then. */
typedef enum hp_looks {
    HP_LOOKS_NONE, /* it weighs that hypothesis as it does others */
    HP_LOOKS_ONE,  /* it is one look: the lead is open in it, or is not */
    HP_LOOKS_MANY  /* each of its looks for itself: it heeds hp_reading_case.loose */
} hp_looks;

#define HP_LOOSE_LEADS 6
/* chosen: such a lead is open in one look of three: it lies as it lies, and a hand is at it. */
#define HP_LOOSE_OPEN (1.0 / 3.0)

#define HP_DANGERS_MAX 4 /* that one reading may find */

/* What of the motor gets power while an entry is taken, as a set; and what a check keeps safe. */
typedef enum hp_power {
    HP_POWER_LEADS = 1, /* phase leads carry current */
    HP_POWER_HALL = 2   /* Hall sensors hang on the controller's own supply */
} hp_power;

typedef struct hp_seen hp_seen; /* decide/practise/hidden.h */

/* Reasons that the log may give to ask for a reading, as a set. */
typedef enum hp_demand {
    HP_DEMAND_CUT_OUTS = 1, /* run after run is cut out */
    HP_DEMAND_UNSTEADY = 2, /* two looks at the same thing differ, or no listed part explains it */
    HP_DEMAND_SILENCE = 4,  /* nothing moves, and hardly any current flows */
    HP_DEMAND_FIGURES = 8,  /* a wiring runs well, its figures are far from what they should be */
    HP_DEMAND_END = 16,     /* nothing is left but to end without a right wiring */
    HP_DEMAND_RUNS = 32     /* a wiring is called correct, and of its Hall leads by runs alone */
} hp_demand;

/* What an entry leaves behind of those before it; each includes the ones above. */
typedef enum hp_renewal {
    HP_RENEWS_NOTHING,
    HP_RENEWS_TRIALS,     /* a trial would now go otherwise */
    HP_RENEWS_PARTS,      /* ... and readings told of other parts */
    HP_RENEWS_TABLE,      /* ... and of another table of the controller */
    HP_RENEWS_CONTROLLER, /* ... and of what the controller answers: it was mended or exchanged */
    HP_RENEWS_EXCHANGED   /* ... and what was tried was with another one, whatever is said of it */
} hp_renewal;

/* What the controller has to do with what an entry shows: once it was mended or exchanged, that
 * says nothing any more. */
typedef enum hp_controller_share {
    HP_CONTROLLER_NOTHING,
    HP_CONTROLLER_ANSWERS, /* it answers to a part of the machine; that there is none stays so */
    HP_CONTROLLER_OWNS     /* the part is its own */
} hp_controller_share;

/* A run at full throttle, wheel lifted, that a kind other than a trial notes: of whatever wiring is
 * joined. NAN, UNSAID: not noted. */
typedef struct hp_full_run {
    hp_motion motion;
    double battery_a;
    double wheel_rad_s;
    double volts; /* at the controller meanwhile */
} hp_full_run;

/* How the figures of a run at full throttle lie to what the right wiring shows there: within it,
 * or as only a wrong wiring or a faulty part has them. UNSAID: not read, or between the two. */
typedef enum hp_draw { HP_DRAW_UNSAID, HP_DRAW_FINE, HP_DRAW_TOO_MUCH } hp_draw;
typedef enum hp_pace { HP_PACE_UNSAID, HP_PACE_FINE, HP_PACE_FAST, HP_PACE_SLOW } hp_pace;

struct hp_reading {
    const char *name;       /* for files, `log`, the menu of `bench` and JSON: "hand_turn" */
    const char *title;      /* the same in a sentence: "hand turn" */
    size_t size;            /* of its values, at most HP_ENTRY_VALUES */
    const hp_field *fields; /* ended by a row without a name */

    /* Sets what is not zero where nothing is said yet; NULL: nothing. */
    void (*make)(void *values);
    /* HP_FAIL_INPUT when a value is out of range or contradicts another; NULL: all are right. */
    hp_result (*check)(const void *values, hp_error *err);
    /* What no single value can tell, in the names of the fields; false when something was refused.
     * NULL: nothing. */
    bool (*settle)(const hp_settling *settling, const void *values);

    hp_advice_kind advised_as; /* READ: a reading, if it can be advised at all; else the one kind
                                  that this advice leads to: TRY, LEARN, REPAIR */
    double minutes;    /* what it costs unless the scenario says otherwise; 0: it is no reading
                          that can be advised */
    bool first;        /* advised before all else, once: quick, and it keeps the next steps safe */
    int rank;          /* of readings that are worth the same the lower one is advised */
    unsigned demand;   /* it is asked for when the log gives one of these reasons, never for its
                          own sake; 0: it is weighed against the others */
    bool settles;      /* without slips it tells right wirings apart: part of the exact plan */
    unsigned proves;   /* HP_PROVES of faults that it shows by itself */
    bool shows_faults; /* broken parts show in it: what rarely shows is told, too */
    hp_controller_share of_controller; /* NOTHING: what it shows outlives the controller */
    hp_looks looks;
    bool by_table;    /* the controller's table alone decides what it shows, while it drives
                         anything; else all but the table */
    bool needs_motor; /* its weight depends on the motor; of the hypothesis then on the fault
                         alone */
    bool needs_bench; /* ... and on what the bench adds to the motor */
    /* Lead that an entry was taken for; NULL: it is taken once for all leads. */
    int (*lead)(const void *values);
    /* What it typically shows; of a reading without `weigh` the hypothesis is not looked at. */
    void (*typical)(const hp_reading_case *given, void *values);
    double seldom; /* of a reading without `weigh': how often its question of yes or no is
                      answered otherwise than it typically is; 0: such a one is not foreseen */
    /* Fills entry[HP_DANGERS_MAX] with what it may show that is a danger; returns their number.
     * NULL: none. */
    int (*dangers)(const hp_reading_case *given, hp_entry *entry);
    /* The dangers that its entries speak of, NULL-ended; NULL: of none. */
    const hp_danger *const *speaks_of;
    /* What an entry says of one of them: yes, it is there; no, it was looked for; unsaid: whoever
     * read of it before is not answered. */
    hp_tell (*danger)(const void *values, const hp_danger *danger, const hp_plan_params *plan,
                      const hp_person *person);
    /* Likelihood of an entry, up to a factor; NULL: it tells nothing of what may be true. (A trial
     * is weighed against the simulated ensemble as a whole: hp_weigh_trial.) */
    double (*weigh)(const hp_reading_case *given, const void *values);
    /* What a hypothesis becomes by it; NULL: what it was. */
    void (*change)(const void *values, hp_hypothesis *hypothesis);
    /* Whether it says what cannot be, so that it is taken once more; NULL: never. */
    bool (*cannot_be)(const void *values);
    /* What of the entries before it no longer stands; NULL: what was tried before it, where it
     * changed a hypothesis. */
    hp_renewal (*renews)(const void *values);
    /* Whether what a step or a reading found before it is open again: its answer is that of a part,
     * other than the controller, that was mended. NULL: of none. */
    bool (*reopens)(const void *values, const hp_reading *step);
    /* Whether what gave a sign in a run before it may be the part that it mended: the sign of then
     * says nothing of the parts as they are. NULL: any sign, where it changed a hypothesis. */
    bool (*cures)(const void *values, hp_check_sign sign);
    /* Whether it says that the wheel now runs as it should, whatever is joined; NULL: it never
     * does. */
    bool (*ends_right)(const void *values);
    /* Whether it says what cannot be of a wheel that runs well, or what drags on one; NULL: never.
     */
    bool (*contradicts)(const hp_assess_case *given, const void *values);
    /* Whether what it found is to be put right before the motor gets power again, whatever is
     * looked for; NULL: never. */
    bool (*hinders)(const hp_assess_case *given, const void *values);
    bool outlasts_runs; /* ... and a smooth run since answers it only where the controller does not
                           run without what it says it of */
    /* Whether its volts keep the controller off though it says that nothing does; NULL: never. */
    bool (*holds_off)(const hp_assess_case *given, const void *values, hp_held *held);
    /* Whether it says other than the scenario states of the same thing, so that one of the two is
     * wrong; unsaid: nothing of it. NULL: never. */
    hp_tell (*gainsays)(const hp_drive *drive, const void *values);
    /* Whether it says that the controller runs without Hall sensors; NULL: it never says. */
    hp_tell (*runs_unsensed)(const void *values);
    /* Whether it saw the controller drive, where that is no run; NULL: it does not look. */
    hp_tell (*drives)(const void *values);
    /* Whether it tells in which order the Hall leads change, in a known sense; NULL: never. */
    bool (*orders_hall)(const void *values);
    /* The run at full throttle that it notes; NULL: it notes none. */
    void (*full_run)(const void *values, hp_full_run *run);
    /* How its figures lie to what its own volts, the drag and the idle draw make of them; with
     * `full_run' always. */
    void (*judge_run)(const hp_assess_case *given, const void *values, hp_draw *draw,
                      hp_pace *pace);
    /* Volts of the throttle's signal lead that it read; false: it did not. NULL: it never does. */
    bool (*throttle_volts)(const void *values, double *rest_v, double *full_v);

    /* ---- at a hidden machine, for practice (hubphase/decide/practise.h) ---- */
    unsigned powers; /* hp_power of what gets power in it */
    unsigned guards; /* hp_power before which it is to be taken: it finds what power would harm */
    /* Fills in what a person sees; what was chosen (lead, wiring, throttle, feed) stands in
     * already. NULL: nothing is shown of this kind. */
    hp_result (*see)(hp_seen *seen, void *values, hp_error *err);
    /* Makes what was seen wrong, as people slip; NULL: it is never the slip that practice hides. */
    void (*slip)(hp_seen *seen, void *values);

    /* ---- of a step of commissioning (hubphase/decide/commission.h); all zero for other kinds ----
     * Such a kind has no `minutes`: it is never advised while the wiring is looked for. */
    hp_stage stage;
    int order;               /* within its stage */
    double effort;           /* [min] what it costs */
    bool needs_run;          /* the motor runs in it: it waits until a wiring does */
    hp_control_part control; /* the control that it is about */
    /* Whether an entry says that what would stop the drive in need is not there; NULL: none does.
     */
    bool (*lacks)(const void *values);
    /* Takes out of the values of earlier entries what cannot be any more by what a later one says
     * of the same thing in another field; NULL: nothing. */
    void (*gives_way)(void *values, const void *later);
    /* Whether this machine has what it is about; NULL: every machine. One that has an entry
     * concerns it anyway. */
    bool (*concerns)(const hp_assess_case *given);
    /* What an entry says of these parts; *code, 0 before, is the kind's own number for its words.
     * NULL: it is only noted. */
    hp_finding (*assess)(const hp_assess_case *given, const void *values, int *code);
    /* The step that an entry says cannot be done here; NULL: entries of this kind say none. */
    const hp_reading *(*leaves_out)(const void *values);
};

#define HP_PROVES(fault) (1u << (fault))

/* The first kind to which this advice leads: TRY, LEARN, REPAIR; NULL: there is none. */
const hp_reading *hp_reading_advised_as(hp_advice_kind advice);
/* What an entry leaves behind of those before it. */
hp_renewal hp_entry_renews(const hp_entry *entry);
/* Whether it mended or exchanged the controller. */
bool hp_entry_changes_controller(const hp_entry *entry);
/* What an entry says of whether the controller runs without Hall sensors. */
hp_tell hp_entry_runs_unsensed(const hp_entry *entry);
/* What a log says, last, of whether the controller that is there now runs without Hall sensors. */
hp_tell hp_log_runs_unsensed(const hp_entry *entry, int count);
/* ... and of whether the controller of then made the run of entry `place` without them. */
hp_tell hp_run_unsensed(const hp_entry *entry, int count, int place);
/* Whether readings at the hub say where the Hall leads belong, whatever runs: the rotor was parked
 * on two of the phase leads at least, or on one and the codes of a turn by hand were read, of the
 * parts as they are. */
bool hp_log_places_hall(const hp_entry *entry, int count);
/* Whether a reading that helps to say so can still be taken here: the plan allows it, and the log
 * does not leave it out. */
bool hp_hall_can_be_placed(const hp_entry *entry, int count, const hp_plan_params *plan);
/* The place of the entry by which the controller learnt what is joined by itself: it is right as it
 * is, whatever its number and the table of before. *number: of which every trial since was; 0: none
 * was logged. -1: it learnt nothing, or that stands no more: a trial since was of another wiring
 * than the one before it, the level of a Hall lead was turned round, the controller is another, the
 * newest run was none that a right wiring makes, or it runs without Hall sensors: what it learnt of
 * them then is nothing. */
int hp_learnt_at(const hp_entry *entry, int count, int *number);
/* Whether an entry mended what may have given a sign in the runs before it. */
bool hp_entry_cures(const hp_entry *entry, hp_check_sign sign);
/* The place of the newest trial of the wiring joined last that warns (hp_trial_warns) and is not
 * taken back: by a later one of that wiring that says otherwise of that very sign, by a mend of
 * what may have given it, or, of a cut-out, by a no-load run that went on forward. What says
 * nothing of it takes nothing back. -1: none stands. `runs`: how many warned in a row. */
int hp_warned_at(const hp_entry *entry, int count, int *runs);
/* The place of the last entry that opens a step or a reading again; -1: none does. */
int hp_reopened_at(const hp_entry *entry, int count, const hp_reading *step);
/* Whether entries from..count-1 of a log say of each danger that a reading is taken for whether it
 * is there. */
bool hp_dangers_told(const hp_entry *entry, int from, int count, const hp_reading *reading,
                     const hp_plan_params *plan, const hp_person *person);
/* The first of the dangers that an entry shows; NULL: it shows none. */
const hp_danger *hp_entry_danger(const hp_entry *entry, const hp_plan_params *plan,
                                 const hp_person *person);
/* The first of those that entry `place` of a log shows and that no later entry speaks of; NULL:
 * none of them stands. */
const hp_danger *hp_danger_standing(const hp_entry *entry, int entries, int place,
                                    const hp_plan_params *plan, const hp_person *person);
/* The volts at rest of the throttle's signal lead as they were read before entry `place`, unless
 * the throttle was mended since; else as the plan has them, 0: not known. */
double hp_rest_v_at(const hp_plan_params *plan, const hp_entry *entry, int place);
/* Whether an entry no longer stands once a later one is there. */
bool hp_entry_outdated(const hp_entry *entry, const hp_entry *later);

#endif
