/*
 * What the files of the lesson share.
 */
#ifndef HUBPHASE_SRC_DECIDE_LESSON_LESSON_PARTS_H
#define HUBPHASE_SRC_DECIDE_LESSON_LESSON_PARTS_H

#include "hubphase/decide/lesson.h"

/* Fills place[] and group[], held against lesson->correct: lesson_places.c. */
void hp_lesson_sort(hp_lesson *lesson);

/* Fills tries_at_random, tries[], tries_count and best_reading from the survey: lesson_tries.c.
 * HP_FAIL_MEMORY. */
hp_result hp_lesson_count_tries(hp_lesson *lesson, hp_error *err);

#endif
