/*
 * What a group gets: which wirings it predicts, which cells of its table it fills in. Drawn from
 * the seed and the group alone, so the answers can be drawn again beside it.
 */
#ifndef HUBPHASE_SRC_REPORT_HANDOUT_HANDOUT_DRAW_H
#define HUBPHASE_SRC_REPORT_HANDOUT_HANDOUT_DRAW_H

#include "hubphase/decide/survey.h"

#include <stdbool.h>

#define HP_HANDOUT_WIRINGS 8

/* Eight wirings of the survey but `given`, which the sheet names as correct. One at least of every
 * kind that the machine has - correct, reverse, rough forward, rough backward, stalled - and no
 * kind more than three times where there are others; in an order of their own. */
void hp_handout_draw_wirings(const hp_survey *survey, int given, unsigned long long seed, int group,
                             int number[HP_HANDOUT_WIRINGS]);

/* The kinds above as numbers from 0; -1: an undecided one, which is never drawn. */
int hp_handout_kind(const hp_judgement *judgement);

/* A step of the table has these cells to fill in. */
typedef enum hp_handout_blank {
    HP_BLANK_CODE,
    HP_BLANK_PAIR,
    HP_BLANK_FIELD,
    HP_BLANK_AHEAD,
    HP_BLANK_COUNT
} hp_handout_blank;

#define HP_HANDOUT_STEPS 12

/* Which cells are blank: two of the four in each row, and never both code and pair, from which the
 * rest follows; every column is blank somewhere. */
void hp_handout_draw_blanks(int rows, unsigned long long seed, int group,
                            bool blank[HP_HANDOUT_STEPS][HP_BLANK_COUNT]);

#endif
