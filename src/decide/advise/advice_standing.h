/*
 * Where things stand after a log: which wirings can still be right, what may be broken, how each
 * entry moved it; sorted, so that text, JSON, page and sheet say the same.
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_ADVICE_STANDING_H
#define HUBPHASE_SRC_DECIDE_ADVISE_ADVICE_STANDING_H

#include "decide/advise/belief.h"
#include "decide/advise/hypothesis.h"

/* Twenty-four of three wirings that are right together; one alone where hub and controller are made
 * for 60 degrees. */
#define HP_STANDING_SETS (24 + HP_WIRING_COUNT)

typedef struct hp_standing_set {
    int number[3];      /* ascending: they behave alike, any of them will do; or one, 0, 0 */
    double probability; /* that these are right once every trouble is mended; the sets add up to one
                         */
} hp_standing_set;

typedef struct hp_standing_trouble {
    int trouble; /* decide/advise/trouble.h */
    double probability;
} hp_standing_trouble;

typedef struct hp_standing {
    int sets;
    hp_standing_set set[HP_STANDING_SETS]; /* likeliest first */
    double sound;                          /* nothing is broken */
    int troubles;
    hp_standing_trouble trouble[HP_TROUBLE_COUNT]; /* likeliest first, the sound case left out */
    int stated_table;                              /* -1: none was stated */
    double table;                                  /* probability of the stated table */
} hp_standing;

/* `stated`: index of the table that the scenario states, -1: none. HP_FAIL_MEMORY. */
hp_result hp_standing_fill(const hp_belief *belief, int stated, hp_standing *standing,
                           hp_error *err);

/* An entry speaks for a trouble when it multiplies its odds against good parts by the square root
 * of ten at least: less is "not worth more than a bare mention" (H. Jeffreys, Theory of
 * Probability, 1961, appendix B; R. E. Kass and A. E. Raftery, "Bayes factors", J. Am. Stat. Assoc.
 * 90, 1995: both from memory). Against good parts, and not against all else: whatever an entry
 * rules out besides, of which trouble and good parts say the same leaves that factor at one. */
#define HP_WORTH_A_MENTION 3.1623

/* What one entry moved, whatever else is so: a trouble's probability adds up over all wirings, that
 * of three wirings over all troubles. So no reading is credited with what it says nothing of: one
 * that rules out half of the wirings doubles each that is left, with a broken lead as without. */
typedef struct hp_standing_move {
    int trouble; /* likeliest of those that it spoke for; HP_TROUBLE_SOUND: none */
    double trouble_from, trouble_to;
    double sound_from, sound_to;
    int set[HP_STANDING_SETS][3]; /* the wirings whose probability rose most: `alike` of them rose
                                     alike, in the order of their numbers */
    int alike;
    double set_from, set_to; /* of each of them */
    double set_bits;         /* yes-or-no questions about the wirings that it answered: relative
                                entropy of after to before */
} hp_standing_move;

/* Every hypothesis with its probability before the log and after each entry. */
typedef struct hp_standing_course {
    int count;     /* hypotheses that ever reach `least` */
    int steps;     /* entries + 1 */
    int *index;    /* owned; [count] in the belief, likeliest at the end first */
    double *after; /* owned; [count * steps] */
    double *doubt; /* owned; [steps] bits: entropy of all hypotheses */
    int *raised;   /* owned; [steps] index in the belief of the one whose probability an entry
                      raised most; [0] is not used */
    int *equals;   /* owned; [steps] how many it raised alike, that one among them */
    double *from;  /* owned; [steps] its probability before that entry ... */
    double *to;    /* owned; [steps] ... and after */
    hp_standing_move *move; /* owned; [steps]; [0] is not used */
} hp_standing_course;

/* HP_FAIL_MEMORY. Free with hp_standing_course_free. */
hp_result hp_standing_course_make(const hp_belief *belief, double least, hp_standing_course *course,
                                  hp_error *err);
void hp_standing_course_free(hp_standing_course *course);

#endif
