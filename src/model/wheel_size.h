/*
 * Wheel size as ISO 5775 marks it on a tyre: width and diameter of the bead seat in millimetres,
 * such as 47-559.
 */
#ifndef HUBPHASE_SRC_MODEL_WHEEL_SIZE_H
#define HUBPHASE_SRC_MODEL_WHEEL_SIZE_H

#include <stdbool.h>

typedef struct hp_wheel_size {
    int width_mm;     /* 18..120 */
    int bead_seat_mm; /* 90..700 */
} hp_wheel_size;

/* Reads a marking, blanks round it allowed. False for anything else, such as inches, which name
 * several sizes each. */
bool hp_wheel_size_read(const char *text, hp_wheel_size *size);
/* Way of one turn [m]: a tyre as high as it is wide, not pressed flat. */
double hp_wheel_size_turn(hp_wheel_size size);

#endif
