/*
 * Hub: what eye, ear and hand find on the hub itself, opened or not, before it goes out in the
 * rain.
 */
#include "decide/reading/machine_values.h"
#include "decide/reading/reading_parts.h"

#include <math.h>

static const char *const prick_words[] = {"none", "sealed", "open", NULL};
static const char *const bearing_words[] = {"free", "rough", "loose", NULL};
static const char *const inside_words[] = {"not_seen", "dry", "rust", "wet", NULL};
static const char *const cover_words[] = {"torqued", "by_hand", "leaky", NULL};
static const char *const cable_words[] = {"good", "chafed", "bare", NULL};
static const char *const clutch_words[] = {"none", "holds", "slips", "seized", NULL};

#define WORDS(name_, words_, member_, help_)                                                       \
    {                                                                                              \
        .name = name_, .type = HP_FIELD_CHOICE, .words = words_, .first = 1,                       \
        .offset = offsetof(hp_hub_reading, member_), .argument = "HOW", .help = help_              \
    }

static const hp_field fields[] = {
    WORDS("pricks", prick_words, pricks,
          "Where a needle went through insulation: none, sealed again, or open"),
    WORDS("bearings", bearing_words, bearings,
          "Bearings by hand and ear: free, rough, or loose at the rim"),
    WORDS("inside", inside_words, inside, "Inside of the hub: not_seen, dry, rust or wet"),
    WORDS("covers", cover_words, covers,
          "Covers: torqued on a whole seal, tightened by_hand, or leaky"),
    {.name = "cover_nm",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "N m", .low = 0, .high = 100, .above = true},
     .usual = {.low = 0.3, .high = 30},
     .offset = offsetof(hp_hub_reading, cover_nm),
     .factor = 1,
     .argument = "NM",
     .help = "Torque of the cover screws"},
    WORDS("cable", cable_words, cable, "Cable where it leaves the axle: good, chafed or bare"),
    WORDS("clutch", clutch_words, clutch,
          "Freewheel or clutch: none, holds, slips, or seized both ways"),
    {.name = NULL},
};

static void make(void *values)
{
    ((hp_hub_reading *)values)->cover_nm = (double)NAN;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_hub_reading *h = values;
    return isnan(h->cover_nm)
               ? HP_OK
               : hp_check_range(err, "torque of the cover screws in N m", h->cover_nm, 1e-3, 100.0);
}

static hp_finding assess(const hp_assess_case *given, const void *values, int *code)
{
    const hp_hub_reading *h = values;
    const hp_machine_fault fault[] = {
        {h->pricks == HP_PRICKS_OPEN, HP_HUB_PRICKS, HP_FINDING_LOOK},
        {h->bearings == HP_BEARINGS_ROUGH, HP_HUB_ROUGH, HP_FINDING_LOOK},
        {h->bearings == HP_BEARINGS_LOOSE, HP_HUB_LOOSE, HP_FINDING_STOP},
        {h->inside == HP_INSIDE_RUST, HP_HUB_RUST, HP_FINDING_LOOK},
        {h->inside == HP_INSIDE_WET, HP_HUB_WET, HP_FINDING_STOP},
        {h->covers == HP_COVERS_BY_HAND, HP_HUB_BY_HAND, HP_FINDING_LOOK},
        {h->covers == HP_COVERS_LEAKY, HP_HUB_LEAKY, HP_FINDING_LOOK},
        {h->cable == HP_CABLE_CHAFED, HP_HUB_CHAFED, HP_FINDING_LOOK},
        {h->cable == HP_CABLE_BARE, HP_HUB_BARE, HP_FINDING_STOP},
        {h->clutch == HP_CLUTCH_SLIPS, HP_HUB_SLIPS, HP_FINDING_STOP},
        {h->clutch == HP_CLUTCH_SEIZED, HP_HUB_SEIZED, HP_FINDING_LOOK},
        {h->clutch == HP_CLUTCH_NONE && given->drive->stand.clutch, HP_HUB_CLUTCHLESS,
         HP_FINDING_LOOK},
    };
    bool all = h->pricks && h->bearings && h->inside && h->covers && h->cable && h->clutch;
    return hp_machine_faults(fault, (int)(sizeof fault / sizeof fault[0]), all, code);
}

const hp_reading hp_reading_hub = {
    .name = "hub",
    .title = "hub",
    .size = sizeof(hp_hub_reading),
    .fields = fields,
    .make = make,
    .check = check,
    .stage = HP_STAGE_HUB,
    .order = 10,
    .effort = 6.0, /* chosen: a look, a turn by hand, an ear on the axle */
    .assess = assess,
};
