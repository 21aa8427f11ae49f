/*
 * How a row of the tables of keys is written: see scenario_keys.h. Limits are those of the model
 * where it has them, in the key's unit; a few are narrower because nothing beyond them has been
 * built.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_KEY_ROWS_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_KEY_ROWS_H

#include "record/scenario/scenario_keys.h"

/* The three tables that make up the keys, each in the order of hp_key_id from its first on. */
#define HP_KEYS_MACHINE HP_KEY_FORMAT
#define HP_KEYS_BENCH   HP_KEY_SPREAD
#define HP_KEYS_VEHICLE HP_KEY_CONTROLS
extern const hp_key hp_keys_machine[HP_KEYS_BENCH - HP_KEYS_MACHINE];
extern const hp_key hp_keys_bench[HP_KEYS_VEHICLE - HP_KEYS_BENCH];
extern const hp_key hp_keys_vehicle[HP_KEY_COUNT - HP_KEYS_VEHICLE];

#define FIELD(field) offsetof(hp_draft, field)
#define SECTION(p)                                                                                 \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_SECTION                                                       \
    }
#define SPECIAL(p, reason)                                                                         \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_SPECIAL, .why = reason                                        \
    }
#define FROM(p, unit_, low_, high_, field, factor_, reason)                                        \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_NUMBER,                                                       \
        .limits = {.unit = unit_, .low = low_, .high = high_}, .offset = FIELD(field),             \
        .factor = factor_, .why = reason                                                           \
    }
#define ABOVE(p, unit_, low_, high_, field, factor_, reason)                                       \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_NUMBER,                                                       \
        .limits = {.unit = unit_, .low = low_, .high = high_, .above = true},                      \
        .offset = FIELD(field), .factor = factor_, .why = reason                                   \
    }
#define LIMIT(p, unit_, high_, field, factor_, reason)                                             \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_NUMBER,                                                       \
        .limits = {.unit = unit_, .low = 0.0, .high = high_, .above = true, .none = true},         \
        .offset = FIELD(field), .factor = factor_, .why = reason                                   \
    }
#define WHOLE(p, low_, high_, field, reason)                                                       \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_WHOLE,                                                        \
        .limits = {.unit = "", .low = low_, .high = high_, .whole = true}, .offset = FIELD(field), \
        .factor = 1.0, .why = reason                                                               \
    }
#define FLAG(p, field, reason)                                                                     \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_FLAG, .offset = FIELD(field), .why = reason                   \
    }
#define CHOICE(p, words_, field, reason)                                                           \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_CHOICE, .words = words_, .offset = FIELD(field),              \
        .why = reason                                                                              \
    }
#define LINE(p, field)                                                                             \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_LINE, .offset = FIELD(field),                                 \
        .size = sizeof(((hp_draft *)0)->field), .why = "chosen: no name"                           \
    }
#define LABEL(p, field)                                                                            \
    {                                                                                              \
        .path = p, .kind = HP_KEY_IS_LABEL, .offset = FIELD(field), .size = HP_LABEL_SIZE,         \
        .why = "chosen: the axis it belongs to"                                                    \
    }

#endif
