/*
 * What the looks at the hub and at a shared battery pack note, and what their findings are called.
 */
#ifndef HUBPHASE_SRC_DECIDE_READING_MACHINE_VALUES_H
#define HUBPHASE_SRC_DECIDE_READING_MACHINE_VALUES_H

#include "decide/reading/control_values.h"

typedef enum hp_hub_pricks {
    HP_PRICKS_UNSAID,
    HP_PRICKS_NONE, /* no needle went through insulation */
    HP_PRICKS_SEALED,
    HP_PRICKS_OPEN,
    HP_PRICKS_COUNT
} hp_hub_pricks;

typedef enum hp_hub_bearings {
    HP_BEARINGS_UNSAID,
    HP_BEARINGS_FREE,
    HP_BEARINGS_ROUGH, /* to the ear or the hand */
    HP_BEARINGS_LOOSE, /* play at the rim */
    HP_BEARINGS_COUNT
} hp_hub_bearings;

typedef enum hp_hub_inside {
    HP_INSIDE_UNSAID,
    HP_INSIDE_NOT_SEEN, /* not opened */
    HP_INSIDE_DRY,
    HP_INSIDE_RUST, /* dry now */
    HP_INSIDE_WET,
    HP_INSIDE_COUNT
} hp_hub_inside;

typedef enum hp_hub_covers {
    HP_COVERS_UNSAID,
    HP_COVERS_TORQUED, /* with a torque wrench, in turn, on a sound seal */
    HP_COVERS_BY_HAND, /* by feel */
    HP_COVERS_LEAKY,   /* a seal is torn, a screw is missing */
    HP_COVERS_COUNT
} hp_hub_covers;

typedef enum hp_hub_cable {
    HP_CABLE_UNSAID,
    HP_CABLE_GOOD,
    HP_CABLE_CHAFED, /* the jacket; no copper shows */
    HP_CABLE_BARE,   /* copper shows, or a lead is squeezed */
    HP_CABLE_COUNT
} hp_hub_cable;

typedef enum hp_hub_clutch {
    HP_CLUTCH_UNSAID,
    HP_CLUTCH_NONE,
    HP_CLUTCH_HOLDS, /* free one way, holds the other */
    HP_CLUTCH_SLIPS,
    HP_CLUTCH_SEIZED, /* drags both ways */
    HP_CLUTCH_COUNT
} hp_hub_clutch;

typedef struct hp_hub_reading {
    hp_hub_pricks pricks;
    hp_hub_bearings bearings;
    hp_hub_inside inside;
    hp_hub_covers covers;
    double cover_nm; /* [N m] torque of the cover screws; NAN: not read */
    hp_hub_cable cable;
    hp_hub_clutch clutch; /* freewheel or clutch */
} hp_hub_reading;

/* One pack, several vehicles. */
typedef struct hp_shared_pack_reading {
    hp_tell shared;
    int vehicles;         /* 0: not said */
    hp_tell same_plus;    /* polarity of the plug */
    hp_tell same_plug;    /* its make */
    hp_tell same_full;    /* each bears the full pack */
    hp_tell same_cut_off; /* each cuts off at or above what the pack bears */
    hp_tell fuses;        /* one on each, near the pack's plus */
} hp_shared_pack_reading;

/* Codes: bits, since several may be found at once; HP_STEP_FINE and so on when there is none. */
enum {
    HP_HUB_PRICKS = 1 << 3,
    HP_HUB_ROUGH = 1 << 4,
    HP_HUB_LOOSE = 1 << 5,
    HP_HUB_RUST = 1 << 6,
    HP_HUB_WET = 1 << 7,
    HP_HUB_BY_HAND = 1 << 8,
    HP_HUB_LEAKY = 1 << 9,
    HP_HUB_CHAFED = 1 << 10,
    HP_HUB_BARE = 1 << 11,
    HP_HUB_SLIPS = 1 << 12,
    HP_HUB_SEIZED = 1 << 13,
    HP_HUB_CLUTCHLESS = 1 << 14 /* none was found, and the scenario has one */
};
enum {
    HP_PACK_PLUS = 1 << 3,
    HP_PACK_PLUG = 1 << 4,
    HP_PACK_FULL = 1 << 5,
    HP_PACK_CUT_OFF = 1 << 6,
    HP_PACK_FUSE = 1 << 7,
    HP_PACK_GAINSAID = 1 << 8 /* said to be borne, and stated not to be */
};

/* One of them that an answer brings; the finding of all is that of the worst. */
typedef struct hp_machine_fault {
    bool found;
    int code;
    hp_finding finding;
} hp_machine_fault;

hp_finding hp_machine_faults(const hp_machine_fault *fault, int count, bool all, int *code);

#endif
