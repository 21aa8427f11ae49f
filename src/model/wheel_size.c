/* Wheel size: see the header. */
#include "model/wheel_size.h"

#include "hubphase/model/wiring.h"

#include <math.h>
#include <stdio.h>

bool hp_wheel_size_read(const char *text, hp_wheel_size *size)
{
    int width = 0, bead = 0, end = 0;
    if (sscanf(text, " %3d - %3d %n", &width, &bead, &end) != 2 || text[end] != '\0')
        return false;
    if (width < 18 || width > 120 || bead < 90 || bead > 700)
        return false;
    *size = (hp_wheel_size){width, bead};
    return true;
}

double hp_wheel_size_turn(hp_wheel_size size)
{
    return HP_PI * (size.bead_seat_mm + 2 * size.width_mm) * 1e-3;
}
