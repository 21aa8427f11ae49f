/*
 * What the machine is beyond the stand: road, wheel, pack, fuse, leads, axle, heat. Parameters
 * only; what follows from them stands in model/road.h, model/conductor.h, model/axle.h and
 * model/heat.h.
 *
 * Where 0 stands for "not known", nothing is assumed in its place: what needs it says so.
 */
#ifndef HUBPHASE_MODEL_VEHICLE_H
#define HUBPHASE_MODEL_VEHICLE_H

#include "hubphase/base/result.h"

#include <stdbool.h>

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
/* The same of a hub with a gear inside, which is smaller and lighter. */
hp_heat_params hp_heat_params_behind_gear(void);
/* HP_FAIL_INPUT naming the field and the limit it breaks, else HP_OK. */
hp_result hp_heat_params_check(const hp_heat_params *heat, hp_error *err);

/* ---- road: what the wheel must push against -------------------------------------------------- */

typedef struct hp_road_params {
    double mass_kg;       /* machine, rider and load; > 0, <= 5000 */
    double drag_area_m2;  /* drag coefficient times frontal area, spokes included; 0..10 */
    double rolling;       /* coefficient of rolling resistance; 0..1 */
    double air_kg_m3;     /* density of the air; 0.3..2 */
    double head_wind_m_s; /* against the machine; -40..40 */
} hp_road_params;

/* A middling bicycle with an upright rider on a good road; chosen: reasons in the source. */
hp_road_params hp_road_params_default(void);
hp_result hp_road_params_check(const hp_road_params *road, hp_error *err);

#define HP_RIDE_MAX 16 /* stretches of a ride */

typedef struct hp_stretch {
    double metres;  /* > 0, <= 1e6 */
    double percent; /* slope, rise over way on the level; -40..40 */
} hp_stretch;

/* ---- pack, fuse, leads, axle ----------------------------------------------------------------- */

typedef enum hp_cell { HP_CELL_LI_ION, HP_CELL_LIFEPO4, HP_CELL_LEAD, HP_CELL_COUNT } hp_cell;

/* Volts of one cell: charged full, empty under a gentle load, and in the middle of its charge. */
typedef struct hp_cell_volts {
    double full, empty, middle;
} hp_cell_volts;

hp_cell_volts hp_cell_volts_of(hp_cell cell);

/* How a battery of such cells is used. */
typedef struct hp_cell_use {
    double usable;     /* share of the capacity that a ride may take, where it is not stated */
    bool switches_off; /* it has a protection of its own that ends the ride */
} hp_cell_use;

hp_cell_use hp_cell_use_of(hp_cell cell);

typedef struct hp_pack_params {
    hp_cell cell;
    int in_series;         /* cells; 1..100 */
    double full_v;         /* [V] of the whole pack */
    double empty_v;        /* [V] at which its protection or the rider stops; < full_v */
    double resistance_ohm; /* pack alone, with its connectors; 0..100 */
    double capacity_ah;    /* 0: not known */
    double usable;         /* share of the capacity that a ride may take; > 0, <= 1 */
    double limit_a;        /* what its protection allows for long; 0: not known */
    double charge_a;       /* what it may be charged with; 0: not known */
} hp_pack_params;

typedef struct hp_fuse_params {
    bool fitted;       /* no: the battery's plus has none, and the rest says nothing */
    double rated_a;    /* 0: not known */
    double breaking_a; /* d.c. current that it can break; 0: not known */
    double rated_v;    /* d.c.; 0: not known */
} hp_fuse_params;

/* Two leads that carry a current there and back, or one of the three phase leads. */
typedef struct hp_lead_params {
    double area_mm2;   /* copper; 0: not known */
    double length_m;   /* one way; > 0, <= 100 */
    double ampacity_a; /* what it may carry for long; 0: from its area */
} hp_lead_params;

typedef enum hp_insulation {
    HP_INSULATION_60,
    HP_INSULATION_75,
    HP_INSULATION_90,
    HP_INSULATION_COUNT
} hp_insulation;

typedef enum hp_dropout { HP_DROPOUT_STEEL, HP_DROPOUT_ALUMINIUM, HP_DROPOUT_COUNT } hp_dropout;

typedef struct hp_axle_params {
    double diameter_mm; /* over the threads; 0: not known */
    double flats_mm;    /* across the flats; 0: not known; < diameter */
    double engaged_mm;  /* of flat in both dropouts together; 0: not known */
    hp_dropout dropout; /* material */
    double allowed_mpa; /* pressure that it bears; > 0 */
    bool torque_arm;
} hp_axle_params;

/* Pressure [MPa] that is asked of this material: reasons in the source. */
double hp_dropout_allowed_mpa(hp_dropout material);

/* What labels and data sheets allow; 0: not known. */
typedef struct hp_ratings {
    double controller_most_v;   /* highest voltage of the controller */
    double battery_connector_a; /* plug of the battery leads */
    double phase_connector_a;   /* plug of the phase leads */
    double sensor_supply_v;     /* measured at the Hall plug */
    double winding_most_c;      /* hottest that the winding may be */
    bool regenerates;           /* the controller brakes into the battery */
} hp_ratings;

typedef enum hp_mounted { HP_MOUNTED_AS_MARKED, HP_MOUNTED_OTHER_WAY, HP_MOUNTED_COUNT } hp_mounted;

/* ---- the whole ------------------------------------------------------------------------------- */

typedef struct hp_vehicle {
    hp_road_params road;
    double wheel_m;    /* way of one turn of the wheel; > 0, <= 10 */
    double hill;       /* slope of the hill that is asked for, rise over way; 0..0.4 */
    double hill_m;     /* its length along the road; > 0 */
    double cruise_m_s; /* speed for the range at part throttle; > 0 */
    hp_stretch ride[HP_RIDE_MAX];
    int stretches; /* 1.. */
    bool ridden;   /* by somebody; false: drawn, or walked with */
    hp_mounted mounted;
    double unsure; /* share by which road figures may be off; 0..1 */
    hp_pack_params pack;
    hp_fuse_params fuse;
    hp_lead_params battery_lead, phase_lead;
    hp_insulation insulation;
    hp_axle_params axle;
    hp_heat_params heat;
    double heat_unsure; /* the same for the thermal ones; 0..1 */
    hp_ratings ratings;
} hp_vehicle;

hp_vehicle hp_vehicle_default(void);
/* HP_FAIL_INPUT naming the field and the limit it breaks, else HP_OK. */
hp_result hp_vehicle_check(const hp_vehicle *vehicle, hp_error *err);

HP_API_END

#endif
