/*
 * The kinds of entries, and the dangers, that tests deal with one by one: numbers for what the
 * library names by pointers.
 */
#ifndef HUBPHASE_TESTS_ENTRY_KIND_H
#define HUBPHASE_TESTS_ENTRY_KIND_H

#include "decide/reading/reading.h"

typedef enum kind {
    KIND_PINS,
    KIND_SUPPLY,
    KIND_HAND_TURN,
    KIND_WINDING,
    KIND_SPIN,
    KIND_PARK,
    KIND_PROBE,
    KIND_TRIAL,
    KIND_LEARN,
    KIND_MEND,
    KIND_CONTROLS,
    KIND_DRAG,
    KIND_CONTACTS,
    KIND_COUNT
} kind;

static inline const hp_reading *kind_reading(int which)
{
    static const hp_reading *const reading[KIND_COUNT] = {
        &hp_reading_pins,    &hp_reading_supply, &hp_reading_hand_turn, &hp_reading_winding,
        &hp_reading_spin,    &hp_reading_park,   &hp_reading_probe,     &hp_reading_trial,
        &hp_reading_learn,   &hp_reading_mend,   &hp_reading_controls,  &hp_reading_drag,
        &hp_reading_contacts};
    return reading[which];
}

static inline kind kind_of(const hp_reading *reading)
{
    int which = 0;
    while (which < KIND_COUNT && kind_reading(which) != reading)
        which++;
    return (kind)which;
}

typedef enum danger {
    DANGER_NONE,
    DANGER_SENSOR_VOLTS,
    DANGER_SENSOR_SUPPLY,
    DANGER_SHELL,
    DANGER_CROSSED,
    DANGER_WINDING,
    DANGER_BACKEMF,
    DANGER_RUNAWAY,
    DANGER_COUNT
} danger;

static inline const hp_danger *danger_at(int which)
{
    static const hp_danger *const danger[DANGER_COUNT] = {NULL,
                                                          &hp_danger_sensor_volts,
                                                          &hp_danger_sensor_supply,
                                                          &hp_danger_shell,
                                                          &hp_danger_crossed,
                                                          &hp_danger_winding,
                                                          &hp_danger_backemf,
                                                          &hp_danger_runaway};
    return danger[which];
}

static inline danger danger_of(const hp_danger *found)
{
    int which = 0;
    while (which < DANGER_COUNT && danger_at(which) != found)
        which++;
    return (danger)which;
}

#endif
