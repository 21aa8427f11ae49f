/*
 * What the machine is beyond the stand: how it takes up heat. Parameters only.
 */
#ifndef HUBPHASE_MODEL_VEHICLE_H
#define HUBPHASE_MODEL_VEHICLE_H

#include "hubphase/base/result.h"

HP_API_BEGIN

/* ---- heat: two nodes, copper and hub, and the air -------------------------------------------- */

/* The winding gives its heat to the hub (iron, axle, shell), the hub to the air. */
typedef struct hp_heat_params {
    double copper_j_per_k; /* heat capacity of the winding; > 0, <= 1e6 */
    double hub_j_per_k;    /* of all the rest of the hub; > 0, <= 1e6 */
    double copper_hub_k_w; /* [K/W] from copper to hub; > 0, <= 1000 */
    double hub_air_k_w;    /* [K/W] from hub to air; > 0, <= 1000 */
    double air_c;          /* [C]; -40..60 */
} hp_heat_params;

/* A middling direct-drive hub of six kilograms in moving air; chosen: reasons in the source. */
hp_heat_params hp_heat_params_default(void);
/* HP_FAIL_INPUT naming the field and the limit it breaks, else HP_OK. */
hp_result hp_heat_params_check(const hp_heat_params *heat, hp_error *err);

HP_API_END

#endif
