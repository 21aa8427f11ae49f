/*
 * Commissioning: from joined leads to the first ride, step by step.
 *
 * Each step is a kind of entry of the bench log that names a stage. A step's state comes from the
 * last entry of its kind; which step is next, from the order of the list; why it ends, from all of
 * them. The machine's own figures are learnt from the same entries.
 */
#ifndef HUBPHASE_DECIDE_COMMISSION_H
#define HUBPHASE_DECIDE_COMMISSION_H

#include "hubphase/base/result.h"
#include "hubphase/decide/advice.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/decide/fit.h"
#include "hubphase/model/drive.h"
#include "hubphase/model/labels.h"
#include "hubphase/model/ride_controls.h"
#include "hubphase/model/vehicle.h"

#include <stdbool.h>

HP_API_BEGIN

/* To what part of the work a kind of entry belongs. */
typedef enum hp_stage {
    HP_STAGE_WIRING,   /* finding the wiring: it is no step of commissioning */
    HP_STAGE_HUB,      /* the hub itself, opened or not */
    HP_STAGE_CONTROLS, /* throttle, brakes, pedal sensor, ..., pin by pin */
    HP_STAGE_STAND,    /* runs with the wheel lifted */
    HP_STAGE_ROAD,     /* before and at the first ride */
    HP_STAGE_COUNT
} hp_stage;

hp_stage hp_reading_stage(const hp_reading *reading);

/* What an entry says of the parts at hand. */
typedef enum hp_finding {
    HP_FINDING_NONE,  /* there is no entry yet */
    HP_FINDING_NOTED, /* it is noted, and nothing follows from it alone */
    HP_FINDING_GOOD,
    HP_FINDING_LOOK,     /* mend, or measure again; the other steps may go on */
    HP_FINDING_STOP,     /* do not go on before this is mended */
    HP_FINDING_UNTESTED, /* of controls only: something else holds the drive off */
    HP_FINDING_COUNT
} hp_finding;

/* ---- the machine's own figures ----------------------------------------------------------------
 */

typedef enum hp_own_kind {
    HP_OWN_IDLE_A,            /* [A] battery, all switched on, wheel at rest */
    HP_OWN_SPEED_PER_V,       /* [rev/min/V] of the wheel, loss-free, at full duty */
    HP_OWN_WINDING_OHM,       /* [ohm] between two phase leads at 20 C */
    HP_OWN_DRAG_NM,           /* [N m] on the wheel at half of its full speed, lifted */
    HP_OWN_FRICTION_NM,       /* [N m] the part of it that is the same at all speeds */
    HP_OWN_VISCOUS,           /* [N m s/rad] the part that grows with the wheel's speed */
    HP_OWN_COAST_FRICTION_NM, /* [N m] of the wheel alone, behind a one-way clutch */
    HP_OWN_INERTIA,           /* [kg m2] of all that coasts, about the axle */
    HP_OWN_NO_LOAD_A,      /* [A] the motor alone at full throttle, lifted, at the stated volts */
    HP_OWN_NO_LOAD_RPM,    /* [rev/min] then */
    HP_OWN_SUPPLY_OHM,     /* [ohm] battery with its leads, up to the controller */
    HP_OWN_COPPER_J_PER_K, /* [J/K] heat capacity of the whole winding */
    HP_OWN_COPPER_HUB_K_W, /* [K/W] from the winding to the hub */
    HP_OWN_WINDING_S,      /* [s] product of the two: the winding's own time */
    HP_OWN_COUNT
} hp_own_kind;

/* A figure that was learnt. */
typedef struct hp_own_figure {
    bool known;
    double value; /* in the unit above */
    double low;   /* the true one is from here ... */
    double high;  /* ... to here in 90 of 100 cases */
    int entry;    /* number of the last log entry that it comes from */
} hp_own_figure;

typedef struct hp_own {
    hp_own_figure figure[HP_OWN_COUNT];
    hp_drive drive; /* the scenario's, with what was learnt in place of what was stated */
} hp_own;

/* "idle_a": for files and JSON; "idle draw"; "A". Static storage. */
const char *hp_own_name(hp_own_kind kind);
const char *hp_own_title(hp_own_kind kind);
const char *hp_own_unit(hp_own_kind kind);

/* ---- the list of steps ------------------------------------------------------------------------
 */

/* Where a battery pack's full volts come from. */
typedef enum hp_pack_known {
    HP_PACK_GUESSED, /* the scenario's battery volts alone say how many cells it may have */
    HP_PACK_COUNTED, /* the scenario says how many cells are in a row */
    HP_PACK_STATED   /* it states the full volts themselves */
} hp_pack_known;

/* What a step is assessed against; all borrowed. */
typedef struct hp_assess_case {
    const hp_drive *drive; /* as the scenario states it */
    const hp_labels *labels;
    const hp_harness *harness; /* what else hangs on the controller; parts 0: nothing said */
    const hp_plan_params *plan;
    const hp_person *person;
    const hp_prior_params *prior; /* how likely the stated table is the true one; NULL: not said */
    const hp_entry *entry;        /* of the log, in order */
    int entries;
    bool inertia_stated;                /* the scenario says the wheel's inertia itself */
    const hp_controls_params *controls; /* of the scenario; NULL: the usual ones */
    bool controls_stated;               /* it says something of them itself */
    const hp_pack_params *pack;         /* of the scenario; NULL: not known */
    hp_pack_known pack_known;
    const hp_fit *fit; /* what goes together by what is stated; NULL: not reckoned */
    const hp_own *own; /* learnt from them; NULL while that is being done */
} hp_assess_case;

#define HP_DOUBTS_MOST 8

/* Figures of a kind that no such part gives, good or faulty, and that were read but once. */
typedef struct hp_doubt {
    const hp_entry *entry; /* of the log; NULL: there is none */
    int figures;           /* how many of it; those above HP_DOUBTS_MOST are only counted */
    struct {
        const hp_field *field;
        double value;  /* in the unit of the field's limits; of volts their magnitude */
        hp_band usual; /* what such parts give */
    } figure[HP_DOUBTS_MOST];
} hp_doubt;

/* Volts that keep the controller off, in an entry that says that nothing was wrong. */
typedef struct hp_held {
    const hp_entry *entry; /* of the log; NULL: there is none */
    double brake_v;   /* at its brake input, which it takes for a pulled lever; NAN: it is not */
    double rest_v;    /* of a throttle that it never sees let go, or takes for broken; NAN */
    double battery_v; /* at its battery leads, too few to wake it; NAN */
    double key_v;     /* at its logic or key lead, the same; NAN */
    bool fault;       /* it takes it for broken */
} hp_held;

typedef struct hp_commission_step {
    const hp_reading *reading;
    hp_stage stage;
    bool concerns; /* this machine has what the step is about */
    bool possible; /* it can be done now: it waits neither for a wheel that runs nor for the run at
                      full throttle that proves its wiring */
    bool lacks;    /* it says that what would stop the drive in need is not there */
    bool part;     /* nothing wrong was found, but not all of it was measured or tried */
    bool left_out; /* the log says that it cannot be done here, and has no entry of it since */
    hp_finding finding;
    int code;              /* of the finding: the kind's own number for its words */
    hp_doubt doubt;        /* a figure of it that is to be read again; then it is a look at least */
    const hp_entry *entry; /* `said`; NULL: the log has none of its kind */
    hp_entry said;    /* the last of its kind, over what earlier ones found and it leaves unsaid */
    int other;        /* number of its last entry, where that was a run of another wiring than the
                         one joined since, or of before a mend, or of before that wiring ran no
                         more: the step is open again; 0: none */
    int other_wiring; /* that wiring; 0: another reason */
    int other_failed; /* number of the trial that ran no more; 0: a part was mended since, or
                         another wiring joined */
    int joined;       /* the one joined since */
    bool may_be_old;  /* its entry is older than `unnamed', and may be of what was mended then */
} hp_commission_step;

/* A reading that finds what power would harm, and that the log has not of the parts as they are. */
typedef struct hp_unguarded {
    const hp_reading *reading;
    int other;     /* number of its last entry, of before a mend; 0: there is none */
    int mend;      /* number of the entry that says so; 0: none */
    bool left_out; /* the log says that it cannot be taken here */
    bool ran;      /* a wheel ran well since, all joined: what would have died at once has not */
} hp_unguarded;

#define HP_UNGUARDED_MOST 4

/* Why the list is where it is. */
typedef enum hp_commission_why {
    HP_COMMISSION_GOES_ON, /* `next` can be done */
    HP_COMMISSION_STOPPED, /* `next` found what must be mended first */
    HP_COMMISSION_DANGER,  /* a reading that is no step shows a danger: see `danger` */
    HP_COMMISSION_CHECK,   /* a run at full throttle ran as no right wiring does: see `failed` */
    HP_COMMISSION_WIRING, /* no wiring runs, and all that is left, if any is, needs one that does */
    HP_COMMISSION_FIT,    /* every step is done, and the parts do not go together: see `fit_stop` */
    HP_COMMISSION_LOOK,   /* every step is done; what some found wants mending */
    HP_COMMISSION_PART,   /* every step has an entry, but of some not all was measured or tried, or
                             what power would harm nobody has looked for: see `unguarded`; or nobody
                             has pulled the Hall plug: see `plug' */
    HP_COMMISSION_READY,  /* every step is done, and nothing was found */
    HP_COMMISSION_LACKING, /* ... but something that would stop the drive in need is not there */
    HP_COMMISSION_LEFT,    /* nothing was found, but some steps were left out */
    HP_COMMISSION_WHY_COUNT
} hp_commission_why;

#define HP_COMMISSION_STEPS HP_READINGS_MAX

typedef struct hp_commission {
    hp_assess_case given; /* `own` is the one below; so a list is never copied */
    hp_own own;
    bool wired; /* the log has a wiring that runs smoothly forward, and no run at full throttle says
                   otherwise */
    const hp_entry
        *ran; /* of the log: no trial, but the no-load run that says so; NULL: none does */
    const hp_entry *bears_out; /* of the log: the no-load run that was as the newest trial, which
                                  ran well, would have it; NULL: none, or an ill one stands */
    bool proved;               /* `wired', and a run at full throttle says so, or the no-load run */
    bool unmetered;            /* `wired' and not `proved', and no meter is here that could */
    bool unsensed;             /* the log says that the controller runs without Hall sensors */
    const hp_entry *plug_pulled; /* ... in this entry, of the log, and no reading at the hub says
                                    where the Hall leads belong; NULL: it does not, or one does */
    hp_plug plug;            /* `proved', and of the Hall leads by runs alone: whether that is to
                                be tried yet */
    int against;             /* number of an entry by which another wiring, no equal of what is
                                joined, ran well, too: one of the two is wrong; 0: none */
    bool way_unsaid;         /* such a run is there, but not which way the wheel turned */
    const hp_danger *danger; /* that the latest reading of a kind shows; NULL: none */
    int danger_entry;        /* its number */
    hp_failed_check failed;  /* what stands of the runs at full throttle ... */
    hp_band full_current_a, full_wheel_rad_s; /* ... held against these ... */
    double full_most_a;                       /* ... and this: no right wiring draws more there */
    int odd_entry;   /* number of the newest trial at full throttle, where it lies outside of these
                        without failing, and no later run was good; 0: none */
    int growl_entry; /* ... or where it felt rough or noisy though it drew no more than a right
                        wiring; 0: it did not */
    const hp_entry *contrary; /* the newest reading since the last run that does not fit a wheel
                                 that runs well; NULL: none */
    const hp_entry *hinders;  /* the newest reading since the last run of what is to be put right
                                 before the motor runs again; NULL: none */
    bool contrary_again;      /* an earlier one of its kind since then said so, too */
    hp_held held;             /* why it stands still, since it last turned */
    const hp_entry *gainsaid; /* the newest that says other than the scenario states of the same
                                 thing; NULL: none */
    hp_doubt doubt;           /* the newest figure that is to be read again */
    const hp_entry *doubted; /* the last no-load run of what is joined, where its figures are not as
                                expected and no trial came after it; NULL: it is none */
    bool trial_failed;       /* the trial that `bears_out' bears out failed at full throttle */
    hp_commission_step step[HP_COMMISSION_STEPS];
    int steps;
    hp_unguarded unguarded[HP_UNGUARDED_MOST]; /* in the order of the kinds */
    int unguarded_count;
    /* Both borrowed of `given`; NULL: none. */
    const hp_entry *unnamed;   /* the newest mend that does not say of which part */
    const hp_entry *battery;   /* ... of the battery, while nothing was measured of it since */
    const hp_entry *exchanged; /* ... by which another controller came, of which the scenario may
                                  still say what was of the one before */
    hp_fit_rule_id fit_stop[HP_FIT_RULE_COUNT]; /* lines of the fit that say stop */
    int fit_stops;
    int fit_stops_power; /* how many of them joining the battery meets: they stand first; the others
                            a ride does */
    int next;            /* index of the step to do; -1: none, see `why` */
    hp_commission_why why;
    /* A no-load run that has the log's last word and was good, of the wiring of the trial before
     * it; NULL: none. */
    const hp_entry *ran_joined;
} hp_commission;

/* The list for a log's entries; `given->own` is not looked at. What is given stays borrowed. */
void hp_commission_make(const hp_assess_case *given, hp_commission *list);
/* The step of a kind; NULL when it is none. Borrowed. */
const hp_commission_step *hp_commission_step_of(const hp_commission *list,
                                                const hp_reading *reading);
/* Whether the figure in doubt is to be read again: not of a step that found a stop, which says
 * itself what comes before. list may be NULL. */
bool hp_commission_asks_again(const hp_commission *list);

/* How many steps concern this machine, and how many of them have an entry. */
int hp_commission_count(const hp_commission *list, int *done);
/* How many of them somebody left out. */
int hp_commission_left_out(const hp_commission *list);
/* "hub": for JSON; static storage. */
const char *hp_stage_name(hp_stage stage);
const char *hp_finding_name(hp_finding finding);
/* Whether it wants mending or measuring again: LOOK and STOP. */
bool hp_finding_wants_mending(hp_finding finding);
const char *hp_commission_why_name(hp_commission_why why);

/* The last entry of a kind; NULL: there is none. */
const hp_entry *hp_assess_last(const hp_assess_case *given, const hp_reading *reading);
/* The newest trial of a wiring; with the throttle closed none was tried. NULL: there is none. */
const hp_entry *hp_assess_last_trial(const hp_assess_case *given);
/* The newest trial of the wiring joined last that warns (hp_trial_warns), unless a later one says
 * otherwise of that very sign, or what may have given it was mended; NULL: none. `runs`: how many
 * did so, one after the other. */
const hp_entry *hp_assess_warned(const hp_assess_case *given, int *runs);

HP_API_END

#endif
