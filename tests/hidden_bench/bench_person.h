/*
 * The hidden machine as it lies on the bench, and the person who obeys the advice at it.
 *
 * Marked leads are what the person sees; on which axis each one sits is hidden. The person answers
 * truthfully what an ordinary person would see, hear and read; meters err; words slip now and then
 * where a family says so. Answers are entries of the bench log, as written by a pencil.
 */
#ifndef HUBPHASE_TESTS_BENCH_PERSON_H
#define HUBPHASE_TESTS_BENCH_PERSON_H

#include "bench_world.h"

#include <stdint.h>
#include <stdio.h>

/* What lies outside the ensemble that the advice reckons with. */
enum {
    OUT_IDLE = 1 << 0,       /* 0.2 to 0.8 A through the meter besides the motor */
    OUT_DRAG = 1 << 1,       /* friction 1.5 to 5 times what is stated */
    OUT_DUTY = 1 << 2,       /* true duty 0.7 to 1.4 of what the hand believes */
    OUT_ONE_SIDED = 1 << 3,  /* real PWM edges, one side switched */
    OUT_SINE = 1 << 4,       /* a sine-driven controller */
    OUT_SUPPLY = 1 << 5,     /* a bench supply of 1, 2 or 4 A is all the power there is */
    OUT_LAMP = 1 << 6,       /* the pack through a filament lamp, always */
    OUT_TABLE = 1 << 7,      /* the controller has another six-step table than is stated */
    OUT_SILENT = 1 << 8,     /* the controller drives nothing until something is put right */
    OUT_CUTTING = 1 << 9,    /* controller or pack cuts out again and again */
    OUT_LOOSE = 1 << 10,     /* a lead that makes contact now and then */
    OUT_GEARED = 1 << 11,    /* a geared hub behind a one-way clutch (stated) */
    OUT_METERLESS = 1 << 12, /* nobody has a meter (stated) */
    OUT_SMOOTH_1 = 1 << 13,  /* wiring 1 runs smoothly at once; nothing is measured */
    OUT_SLIPS = 1 << 14,     /* one word in twenty is wrong */
    OUT_STATED = 1 << 15,    /* the scenario states the PWM as it is */
    OUT_SIXTY = 1 << 16,     /* hub (stated) and controller (not known) for 60-degree sensors */
    OUT_SIXTY_SET = 1 << 17, /* both, and both are stated */
    OUT_SIXTY_HUB = 1 << 18  /* such a hub (stated), and a controller (not known) for 120 degrees */
};

#define OUT_SIXTIES (OUT_SIXTY | OUT_SIXTY_SET | OUT_SIXTY_HUB)

typedef enum person_cause {
    CAUSE_NONE,
    CAUSE_KEY,
    CAUSE_FIVE_VOLTS,
    CAUSE_THROTTLE,
    CAUSE_BRAKE,
    CAUSE_PEDAL,
    CAUSE_CODE,
    CAUSE_PROTECTION,
    CAUSE_COUNT
} person_cause;

/* What several starts showed. */
typedef struct person_watched {
    int forward, backward, hum, shiver, turning, rough, felt, limited, unlimited, cut, cut_short;
    double amperes, standing_amperes, speed, phase_rms;
    int metered, standing, wheel;
} person_watched;

/* A trial simulated before: the same machine does the same again. */
typedef struct person_seen {
    int number;
    double throttle, limit_a;
    world_feed feed;
    bool silent;
    double trip_a, cut_after;
    person_watched watched;
} person_seen;

#define PERSON_SEEN_MAX 8

typedef struct person {
    unsigned out;
    bool readings;
    uint64_t random;
    world_machine machine;             /* as it stands; supply and duty come with each trial */
    int sensor_axis[3], phase_axis[3]; /* of the marked leads of the motor */
    double friction_factor, duty_factor, fixed_limit_a;
    person_cause silent;
    int loose_phase, loose_sensor; /* axis that makes contact now and then; -1: none */
    double throttle_rest_v, throttle_full_v;
    double slip;
    bool cut_showed; /* what cuts out did so in some trial */
    person_seen seen[PERSON_SEEN_MAX];
    int seen_count;
} person;

/* Draws case `index` of a family. */
person person_draw(unsigned out, bool readings, uint64_t seed, int index);

/* What a step asks for, as far as the person must know it. */
typedef struct person_step {
    char reading[32];
    int lead;                        /* marked phase lead of a park; -1 */
    int number, sensor[3], phase[3]; /* wiring: marked leads at inputs and outputs */
    double throttle;                 /* percent */
    bool limited, signal_asked;
    double limit_a; /* 0: not said */
} person_step;

/* Does the step and writes the entry, two blanks in; false: no such reading is known here.
 * `plain`: without the keys that say what fed a trial. */
bool person_read(person *p, const person_step *step, FILE *out);
void person_try(person *p, const person_step *step, bool plain, FILE *out);

/* The wiring is right and nothing is wrong that would spoil it. */
bool person_wiring_right(const person *p, const person_step *step);
bool person_sound(const person *p);
/* Whether something is wrong that may be found, though the right wiring may run all the same, and
 * whether it has shown in a trial, as far as a lead or a silence shows in any. */
bool person_troubled(const person *p);
bool person_trouble_showed(const person *p);
/* Whether the trouble named in the advice is there: words of the JSON, or "inverted" for a sensor
 * that reads the wrong way round; marked lead or -1. Mends it
 * and writes the entry when it is. */
bool person_mend(person *p, const char *fault, int lead, FILE *out);
/* Puts right what left the sensors without their supply; false: it was sound. */
bool person_mend_supply(person *p);

#endif
