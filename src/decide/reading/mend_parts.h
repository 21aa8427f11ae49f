/*
 * The parts that can be mended or exchanged, a row each: what it is called in a log, what it is to
 * the advice, and what of the log is then of the old part.
 */
#ifndef HUBPHASE_SRC_DECIDE_READING_MEND_PARTS_H
#define HUBPHASE_SRC_DECIDE_READING_MEND_PARTS_H

#include "decide/reading/reading.h"

/* Every one of them, in the order in which people are asked, with what stands before and behind it
 * where they are told in a row. What lists them is made from this: their rows (mend.c), their words
 * (report/words/words_mend.c), the help of the option. */
#define HP_MENDABLE(PART)                                                                          \
    PART(sensor_stuck_high, "", "")                                                                \
    PART(sensor_stuck_low, ", ", "")                                                               \
    PART(inverted_sensor, ", ", "")                                                                \
    PART(phase_lead_open, ", ", "")                                                                \
    PART(clutch, ", ", "")                                                                         \
    PART(controller, ", ", " (it drove nothing)")                                                  \
    PART(other_controller, ", ", " (of another kind)")                                             \
    PART(key, ", ", "")                                                                            \
    PART(throttle, ", ", "")                                                                       \
    PART(brake_left, ", ", "")                                                                     \
    PART(brake_right, ", ", "")                                                                    \
    PART(pedal_sensor, ", ", "")                                                                   \
    PART(speed_switch, ", ", "")                                                                   \
    PART(battery, ", ", "")                                                                        \
    PART(protection, ", ", " (it cut out)")                                                        \
    PART(loose_lead, ", ", "")                                                                     \
    PART(unlisted, " or ", "")

#define HP_MEND_NAMED(word, before, behind) HP_MEND_##word,
enum { HP_MENDABLE(HP_MEND_NAMED) HP_MEND_PARTS };
#undef HP_MEND_NAMED

#define HP_MEND_OPENS 4

typedef struct hp_mend_part {
    const char *word; /* "throttle" */
    hp_mended what;
    hp_fault_kind fault; /* of HP_MENDED_FAULT: which; else NONE */
    unsigned heals;      /* HP_PROVES of faults of which the old part may have been the cause */
    hp_renewal renews;
    unsigned cures; /* 1 << hp_check_sign of signs of a run that the old part may have given */
    /* Steps and readings that are open again: their answer was the old part's. NULL-ended where
     * there are fewer. */
    const hp_reading *opens[HP_MEND_OPENS];
} hp_mend_part;

/* By their places in HP_MENDABLE; ended by a row without a word. */
extern const hp_mend_part hp_mend_parts[HP_MEND_PARTS + 1];
/* What an entry says was mended; NULL: it is no mend. */
const hp_mend *hp_entry_mend(const hp_entry *entry);
/* The row of a mend; NULL: it says of no part yet. */
const hp_mend_part *hp_mend_part_of(const hp_mend *mend);

#endif
