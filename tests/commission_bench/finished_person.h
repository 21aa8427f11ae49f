/*
 * The person who commissions a hidden machine with ordinary meters: what is believed of it, what
 * the meters show, what is written down. Answers are the options of `hubphase log`.
 */
#ifndef HUBPHASE_TESTS_FINISHED_PERSON_H
#define HUBPHASE_TESTS_FINISHED_PERSON_H

#include "finished_machine.h"

#include <stdint.h>
#include <stdio.h>

/* What the person does not read, once. */
typedef enum left_out {
    LEFT_NOTHING,
    LEFT_HALF,    /* the run at half throttle */
    LEFT_FULL_A,  /* its current at full throttle */
    LEFT_SPEED,   /* its speed at full throttle */
    LEFT_STOP,    /* when the coasting wheel stands */
    LEFT_MARK,    /* a moment of the coasting */
    LEFT_IDLE,    /* idle draw */
    LEFT_COAST,   /* the whole coast-down */
    LEFT_SAG,     /* volts under two loads */
    LEFT_HEATING, /* heating */
    LEFT_ROOM,    /* how warm the room was */
    LEFT_RESTED,  /* the volts after the heating */
    LEFT_INERTIA, /* nobody weighed anything, nor stated it */
    LEFT_COUNT
} left_out;

extern const char *const left_out_names[LEFT_COUNT];

typedef enum speed_meter { SPEED_COUNTED, SPEED_SPEEDOMETER, SPEED_TACHOMETER } speed_meter;

/* Errors that stay the same for all that one meter shows, and its digits. */
typedef struct person_meters {
    speed_meter speed;
    double speed_gain;
    double ampere_gain, ampere_zero;
    double volt_gain;
    int volt_counts;    /* 2000 or 6000: digits come from it */
    double supply_gain; /* of the bench supply's own display of its current */
    double weighed_gain, radius_error_m;
    double room_error;
} person_meters;

typedef struct finished_person {
    uint64_t random;
    finished_machine machine;
    finished_run full, half;   /* on the pack */
    finished_run at_stated;    /* full throttle at the stated volts */
    finished_run free_of_loss; /* the same with nothing that drags */
    person_meters meters;
    left_out left;
    /* What the scenario states. */
    double stated_lead_ohm, stated_rpm, stated_volts, stated_inertia, stated_supply_ohm, stated_mh;
    bool weighs;          /* rim and tyre, rather than to state the inertia */
    double supply_most_a; /* that the bench supply gives */
    double heating_a;     /* that is chosen for the heating; 0: ten */
} finished_person;

#define PERSON_ARGS 1200

/* What the commissioning of machine `index` starts from. */
finished_person finished_person_draw(uint64_t seed, int index);
/* Uniform between the two, from the person's own stream. */
double finished_person_between(finished_person *p, double low, double high);
void finished_person_scenario(const finished_person *p, const char *name, FILE *out);
/* After a change of the machine: its runs anew. */
void finished_person_run(finished_person *p);
/* Does a step of that name: options for `hubphase log`; false: it is left out, or not known. */
bool finished_person_read(finished_person *p, const char *kind, char args[PERSON_ARGS]);
/* Of the meters, those that another day gets anew: the zero of the ammeter. */
void finished_person_other_day(finished_person *p);
/* Other meters altogether. */
void finished_person_other_meters(finished_person *p);

#endif
