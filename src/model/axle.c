/* Axle flats: see the header. */
#include "model/axle.h"

#include <math.h>

/* chosen: yield strengths of the softer metals that dropouts are made of: structural steel 235 MPa;
 * of a cast or welded aluminium 100 MPa (common practice, from memory). Forged ones bear more. */
double hp_dropout_allowed_mpa(hp_dropout material)
{
    static const double allowed[HP_DROPOUT_COUNT] = {235.0, 100.0};
    return allowed[material];
}

/* w^2 t / 6 [mm3], the flats' modulus. */
static double modulus(const hp_axle_params *axle)
{
    double square =
        axle->diameter_mm * axle->diameter_mm - axle->flats_mm * axle->flats_mm; /* w^2 */
    return square * axle->engaged_mm / 6.0;
}

double hp_axle_pressure_mpa(const hp_axle_params *axle, double torque_nm)
{
    return torque_nm * 1e3 / modulus(axle);
}

double hp_axle_torque_at(const hp_axle_params *axle, double pressure_mpa)
{
    return pressure_mpa * modulus(axle) * 1e-3;
}
