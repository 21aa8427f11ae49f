/*
 * A scene of the club evening: one idea, asked first, then looked at.
 *
 * What is said is made from an hp_lesson, so every number is this machine's own, and which choice
 * is right is what the simulation did.
 */
#ifndef HUBPHASE_SRC_REPORT_LESSON_SCENE_H
#define HUBPHASE_SRC_REPORT_LESSON_SCENE_H

#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/lesson.h"
#include "hubphase/model/labels.h"

#include <stdbool.h>

#define HP_SCENE_TEXT    480 /* bytes of one sentence or two */
#define HP_SCENE_CHOICES 4
#define HP_SCENE_LOOKS   3
#define HP_SCENE_LINES   6
#define HP_SCENE_RUNS    2

/* What the wall draws. */
typedef enum hp_scene_view {
    HP_VIEW_HAND,   /* rotor, coils and sensors, turned by hand */
    HP_VIEW_RUN,    /* slow motion of one wiring or two */
    HP_VIEW_PAIR,   /* the same of two that the leader chooses */
    HP_VIEW_GROUPS, /* all 36, sorted */
    HP_VIEW_FAULTS, /* slow motion of the correct wiring with one thing wrong, one after another */
    HP_VIEW_TRIES,  /* how many tries it takes, as bars */
    HP_VIEW_COUNT
} hp_scene_view;

/* A run that is shown. */
typedef struct hp_scene_run {
    int number;   /* wiring 1..36 */
    double start; /* [rad electrical] where the rotor rests: a run that did what its verdict says */
    bool beginning; /* from switching on; else once it runs */
    int fault;      /* hp_lesson_fault_kind, or -1: the mended machine */
    bool backward;  /* the rotor turns backward: how far the arrow is ahead is told in that sense */
    bool unnamed;   /* which it is must not be told before the answer */
    char title[HP_SCENE_TEXT];
} hp_scene_run;

typedef struct hp_scene_choice {
    char text[HP_SCENE_TEXT];
    bool right;
} hp_scene_choice;

/* What a scene tells of one machine. */
typedef struct hp_scene_words {
    char question[HP_SCENE_TEXT];
    hp_scene_choice choice[HP_SCENE_CHOICES];
    int choices;
    char look[HP_SCENE_LOOKS][HP_SCENE_TEXT]; /* what to look at before the answer is told */
    int looks;
    char line[HP_SCENE_LINES][HP_SCENE_TEXT]; /* what it showed */
    int lines;
    char usual[HP_SCENE_TEXT];   /* the usual wrong idea */
    char instead[HP_SCENE_TEXT]; /* what to show then */
    hp_scene_run run[HP_SCENE_RUNS];
    int runs;
    bool held; /* beside the usual idea the arrow is held and the magnet turned by hand */
    char left_out[HP_SCENE_TEXT]; /* why this machine has no such scene; empty: it has */
} hp_scene_words;

/* What scenes are told from; all borrowed. */
typedef struct hp_scene_case {
    const hp_lesson *lesson;
    const hp_labels *labels;
    const hp_costs *costs; /* minutes of tries and readings */
    int pair[2];           /* chosen to stand beside one another; 0: the usual ones */
    int fault;             /* HP_VIEW_FAULTS: which is shown */
} hp_scene_case;

/* One scene: a row of hp_scenes. */
typedef struct hp_scene {
    const char *name;  /* one word */
    const char *title; /* what stands above it */
    hp_scene_view view;
    void (*tell)(const hp_scene_case *c, hp_scene_words *out); /* `out` is zeroed */
} hp_scene;

extern const hp_scene *const hp_scenes[];
extern const int hp_scene_count;

/* The number, from 1, of the first scene that draws this. */
int hp_scene_number(hp_scene_view view);

/* Fills *out. */
void hp_scene_tell(const hp_scene *scene, const hp_scene_case *c, hp_scene_words *out);

const char *hp_scene_view_name(hp_scene_view view);

/* "Wiring 12 runs rough, forward: wheel at 110 rev/min, 4.35 A, 21 times a correct one", without a
 * full stop. Returns out. */
char *hp_scene_outcome(const hp_lesson *lesson, int number, char *out, size_t size);

/* "139 W", "2.4 W", "less than 0.1 W". Returns out. */
char *hp_scene_watts(double watts, char *out, size_t size);

/* "hand turn + current through two leads"; "nothing measured, best order". Returns out. */
char *hp_scene_readings(unsigned readings, char *out, size_t size);

/* ---- for the scenes' own files --------------------------------------------------------------- */

#define HP_SCENE_WORDS __attribute__((format(printf, 2, 3)))

/* Each adds one piece; more than there is room for is a mistake of the scene (asserted). */
void hp_scene_ask(hp_scene_words *out, const char *format, ...) HP_SCENE_WORDS;
void hp_scene_choose(hp_scene_words *out, bool right, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
void hp_scene_look(hp_scene_words *out, const char *format, ...) HP_SCENE_WORDS;
void hp_scene_say(hp_scene_words *out, const char *format, ...) HP_SCENE_WORDS;
void hp_scene_usual(hp_scene_words *out, const char *format, ...) HP_SCENE_WORDS;
void hp_scene_instead(hp_scene_words *out, const char *format, ...) HP_SCENE_WORDS;
void hp_scene_leave_out(hp_scene_words *out, const char *format, ...) HP_SCENE_WORDS;
hp_scene_run *hp_scene_show(const hp_scene_case *c, hp_scene_words *out, int number);

/* Pull round of a pair of leads, high V and low W, on a magnet that stands `lead` [rad] behind
 * their field: of the most that these amperes can give, forward positive. */
double hp_scene_pull_at(const hp_lesson *lesson, double lead);
/* Direction of that field [rad]. */
double hp_scene_held_field(void);
/* The judgement of a wiring of the (mended) machine. */
const hp_judgement *hp_scene_judged(const hp_scene_case *c, int number);
/* Wheel speed [rev/min], whichever way; battery current over that of the correct wiring. */
double hp_scene_rpm(const hp_judgement *judgement);
double hp_scene_times(const hp_scene_case *c, const hp_judgement *judgement);
/* What people see of a wheel. */
typedef enum hp_scene_seen {
    HP_SEEN_FORWARD,  /* turns forward, smoothly */
    HP_SEEN_BACKWARD, /* turns backward, smoothly */
    HP_SEEN_ROUGH_FORWARD,
    HP_SEEN_ROUGH_BACKWARD,
    HP_SEEN_STILL,  /* does not get round; hums, shivers or stands */
    HP_SEEN_NO_WAY, /* it turns, now this way and now that; or nobody can say */
    HP_SEEN_COUNT
} hp_scene_seen;

hp_scene_seen hp_scene_seen_of(const hp_judgement *judgement);
/* Whether the rotor gets round backward: one that stays where it is has no way of its own. */
bool hp_scene_goes_backward(const hp_judgement *judgement);

#endif
