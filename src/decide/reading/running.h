/*
 * What the runs of commissioning note: values of their kinds of entries, SI units. NAN: not read.
 */
#ifndef HUBPHASE_SRC_DECIDE_READING_RUNNING_H
#define HUBPHASE_SRC_DECIDE_READING_RUNNING_H

#include "hubphase/decide/commission.h"

/* Whether a trial ran as a right wiring does, as far as it was felt and its starts were counted. */
static inline bool hp_trial_runs_well(const hp_trial *t)
{
    return t->motion == HP_MOVED_FORWARD && t->feel == HP_FEEL_SMOOTH &&
           t->cut_out != HP_TELL_YES && t->limit_reached != HP_TELL_YES && !hp_trial_warns(t) &&
           t->starts >= t->starts_tried;
}

/* Nearer to ten times than to once: a decimal point that slipped, or another unit. */
#define HP_SLIP 3.1623

/* All switched on, throttle closed, wheel at rest. */
typedef struct hp_idle_draw {
    double idle_a;   /* battery current */
    double off_a;    /* the same with the key off */
    hp_tell load_on; /* lamp and display were switched on meanwhile */
} hp_idle_draw;

/* A steady run with the wheel lifted. */
typedef struct hp_steady {
    double rad_s;     /* of the wheel */
    double battery_a; /* with the idle draw in it */
    double volts;     /* at the controller's battery leads */
} hp_steady;

/* Which way the wheel turned. */
typedef enum hp_turning { HP_TURNING_UNSAID, HP_TURNING_FORWARD, HP_TURNING_BACKWARD } hp_turning;

typedef struct hp_no_load {
    int turning;    /* hp_turning */
    hp_steady full; /* at full throttle, highest speed step */
    hp_steady half; /* at about half of it; how much exactly is not asked */
} hp_no_load;

#define HP_COAST_MARKS 3

/* The wheel runs on with nothing driving it. */
typedef struct hp_coast_down {
    double from_rad_s;                 /* of the wheel, when the clock starts */
    double mark_s[HP_COAST_MARKS];     /* since then, rising */
    double mark_rad_s[HP_COAST_MARKS]; /* speed at that moment, falling */
    double stop_s;                     /* until it stands */
    double rim_kg, rim_m;              /* rim, tyre and tube; mean radius */
    double ring_kg, ring_m;            /* shell and ring of magnets, where they turn with it */
} hp_coast_down;

/* Volts at the controller's battery leads at two steady currents, a few seconds each. */
typedef struct hp_sag {
    double low_a, low_v;
    double high_a, high_v;
    double pack_v; /* at the battery's own terminals at the high current */
} hp_sag;

/* Not where a figure of it cannot be, nor where its two loads are too alike. */
bool hp_sag_teaches(const hp_assess_case *given, const hp_sag *sag);

/* [V] What the battery leads lose at this current, as they are stated; 0: nobody stated them. */
double hp_sag_leads_v(const hp_assess_case *given, double amperes);

#define HP_HEATING_MARKS 3
#define HP_HEATING_RESTS 2

/* A steady direct current through two phase leads in series, wheel at rest. */
typedef struct hp_heating {
    double amperes;
    double winding_c;                /* before; all of the hub as warm; NAN: 20 is taken */
    double start_v;                  /* across the two leads as soon as the current flows */
    double mark_s[HP_HEATING_MARKS]; /* since then, rising ... */
    double mark_v[HP_HEATING_MARKS]; /* ... and the volts then */
    double off_s;                    /* when the current was switched off */
    double rest_s[HP_HEATING_RESTS]; /* since it was switched off, rising ... */
    double rest_v[HP_HEATING_RESTS]; /* ... volts at the same current, put on again for a moment */
} hp_heating;

double hp_heating_from_c(const hp_heating *heating);

/* A step that cannot be done here: of commissioning, or one that a plan can do without. */
typedef struct hp_left_out {
    int step; /* from 1, among the names that its field knows */
} hp_left_out;

/* The kind of that step; NULL: there is none of its name. */
const hp_reading *hp_left_out_step(const hp_left_out *left_out);
/* The number of a step; 0: it is none. */
int hp_left_out_number(const hp_reading *step);
/* The step that an entry says cannot be done here; NULL: it says it of none. */
const hp_reading *hp_entry_leaves_out(const hp_entry *entry);
/* Whether a log leaves this step out, and has no entry of the step itself since. */
bool hp_left_out_by(const hp_entry *entry, int count, const hp_reading *step);

/* Moment of inertia [kg m2] that is made of weighed parts; NAN: none was weighed. */
double hp_coast_down_inertia(const hp_coast_down *coast);
/* Drag [N m] on the wheel, mean over the coast-down: what its slowing says, and what the scenario
 * states for these speeds. */
typedef struct hp_coast_drag {
    double read, stated;
} hp_coast_drag;
hp_coast_drag hp_coast_down_drag(const hp_assess_case *given, const hp_coast_down *coast);
/* In which part of the time that is expected a wheel in order may stand: a half, in less where
 * nobody said what it weighs. */
double hp_coast_down_within(const hp_assess_case *given, const hp_coast_down *coast);
/* An earlier coast-down of this log that took HP_COAST_THIRD times as long; NULL: there is none. */
const hp_entry *hp_coast_down_longer(const hp_assess_case *given);
#define HP_COAST_THIRD 3.0
/* HP_COAST_FREE, HP_COAST_HELD or HP_COAST_BENT: its figures cannot be, and nothing is learnt from
 * it, nor is another step held against it; else HP_COAST_FINE. */
int hp_coast_down_slipped(const hp_assess_case *given, const hp_coast_down *coast);
/* chosen: standard deviation of the logarithm of a moment of inertia that was weighed, that the
 * scenario states, that nobody said. */
#define HP_INERTIA_WEIGHED 0.1
#define HP_INERTIA_STATED  0.15
#define HP_INERTIA_GUESSED 0.5

/* Codes of findings. */
enum { HP_IDLE_FINE, HP_IDLE_LOAD, HP_IDLE_MUCH, HP_IDLE_OFF, HP_IDLE_ZERO, HP_IDLE_METER };
enum {
    HP_NO_LOAD_FINE,  /* as it ought to be */
    HP_NO_LOAD_MORE,  /* more current than drag and idle draw explain */
    HP_NO_LOAD_ROUGH, /* as much as only a wrong wiring or a broken part draws */
    HP_NO_LOAD_FAST,  /* faster than its volts should turn it */
    HP_NO_LOAD_SLOW,
    HP_NO_LOAD_SWITCH,   /* as slow as another position of the speed switch makes it */
    HP_NO_LOAD_BACKWARD, /* the wiring is a reverse one */
    HP_NO_LOAD_SLIP,     /* a figure that is nearer to ten times or a tenth of what can be */
    HP_NO_LOAD_VOLTS,    /* no controller runs, or no such battery is, at these volts */
    HP_NO_LOAD_HALF      /* full throttle is as it ought to be, half throttle cannot be */
};
enum {
    HP_COAST_FINE,
    HP_COAST_DRAGS,
    HP_COAST_FREE,  /* less drag than such a wheel has: a figure that slipped, most likely */
    HP_COAST_HELD,  /* more than any wheel that runs has: the same, or a brake hard on */
    HP_COAST_BENT,  /* its own moments contradict one another */
    HP_COAST_SOONER /* it stood in a third of the time of an earlier one of this log */
};
enum {
    HP_SAG_FINE,
    HP_SAG_MORE,
    HP_SAG_MUCH,
    HP_SAG_CONTACT, /* leads, plugs or fuse turn so much into heat that they burn */
    HP_SAG_SLIP,    /* a figure that no battery of this sort gives, or more lost than it has */
    HP_SAG_ALIKE    /* two loads so alike that the meter cannot tell what is lost between them */
};
enum {
    HP_HEATING_FINE,
    HP_HEATING_HOT,
    HP_HEATING_LESS,
    HP_HEATING_MORE,
    HP_HEATING_SMALL,
    HP_HEATING_MISREAD, /* volts that fall under current, or a winding that would be smoke */
    HP_HEATING_NO_TIME  /* resistance told, nothing of the heat */
};

#endif
