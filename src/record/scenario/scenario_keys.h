/*
 * The keys of a scenario: one table that says for each its unit, range, place in the draft and
 * where its default comes from. Reading, checking, listing and the search for a misspelt key all go
 * by it; docs/scenario.md is its text for people, and a test holds the two together.
 *
 * To add a key: give it an id here, a row in the same place of scenario_keys_machine.c, _bench.c or
 * _vehicle.c, and a line in docs/scenario.md.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_KEYS_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_KEYS_H

#include "decide/advise/plan.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/spread.h"
#include "hubphase/model/drive.h"
#include "hubphase/model/labels.h"
#include "hubphase/model/ride_controls.h"
#include "hubphase/model/vehicle.h"
#include "hubphase/record/scenario.h"
#include "hubphase/sim/engine.h"
#include "record/scenario/scenario_value.h"

#define HP_BENCH_SLIP 0.05 /* of hp_person_default, where it has no reason to differ */

/* Readings that have keys of their own under bench.readings and bench.minutes. Others are allowed
 * and cost what their descriptors say. */
typedef enum hp_reading_slot {
    HP_SLOT_PINS,
    HP_SLOT_SUPPLY,
    HP_SLOT_HAND_TURN,
    HP_SLOT_WINDING,
    HP_SLOT_SPIN,
    HP_SLOT_PARK,
    HP_SLOT_PROBE,
    HP_SLOT_CONTROLS,
    HP_SLOT_DRAG,
    HP_SLOT_CONTACTS,
    HP_SLOT_HALL_PLUG,
    HP_SLOT_COUNT
} hp_reading_slot;

const hp_reading *hp_slot_reading(hp_reading_slot slot);

/* Everything a scenario says, under defaults until it says otherwise: what goes into the drive as
 * it stands, and what a person measures, from which the drive's values are worked out. */
typedef struct hp_draft {
    hp_drive drive;
    hp_labels labels;
    hp_harness harness;
    hp_run_options run;
    int starts;
    hp_spread_plan spread; /* but for its seed */
    int seed;
    hp_prior_params prior; /* bench: but for what stands in the next three */
    hp_person person;
    hp_plan_params plan;
    bool table_known;              /* the table of the controller is to be believed, ... */
    double table_wrong;            /* ... but for this probability */
    double slip;                   /* probability of a slip where the default person has it too */
    bool reads[HP_SLOT_COUNT];     /* the reading can be taken here */
    double minutes[HP_SLOT_COUNT]; /* what it costs */
    int format;
    int magnets;
    int winding;                             /* index of the word */
    double throttle_rest_v, throttle_full_v; /* of its signal lead; 0: not known */
    hp_controls_params controls;
    int throttle_pull;               /* an hp_input_pull */
    int drive_kind;                  /* 0: six steps, 1: sine, 2: unknown */
    int spacing;                     /* 0: 120 degrees, 1: 60 */
    int open_lead;                   /* 0: none, else 1 + hp_phase */
    bool powered;                    /* sensors */
    double resistance_between_leads; /* [ohm] at measured_c */
    double measured_c;               /* [C] */
    double no_load_rpm, no_load_v;   /* wheel */
    double backemf_peak;             /* [V] between leads per 1000 rev/min of the wheel */
    double backemf_rms;
    double torque_constant; /* [N m/A] at the wheel */
    double no_load_a, no_load_a_v;
    double speed_step_percent[HP_SPEED_STEPS_MAX];
    int speed_steps;  /* 0: no list was given */
    int speed_step;   /* from 1 */
    bool table_named; /* the table is one of the named ones */
    int table_name;
    hp_vehicle vehicle;
    double machine_kg, rider_kg, load_kg;
    char tyre[16];              /* as marked; empty: not given */
    int battery_awg, phase_awg; /* gauges of leads, where given */
    hp_learnt learnt;
    double copper_kg, hub_kg; /* where given */
} hp_draft;

/* Every field's default, from the model's own defaults where it has one. */
hp_draft hp_draft_default(void);

typedef enum hp_key_id {
    HP_KEY_FORMAT,
    HP_KEY_NAME,
    HP_KEY_ABOUT,
    HP_KEY_MOTOR,
    HP_KEY_MOTOR_NAME,
    HP_KEY_POLE_PAIRS,
    HP_KEY_MAGNETS,
    HP_KEY_RESISTANCE,
    HP_KEY_MEASURED_C,
    HP_KEY_WINDING_C,
    HP_KEY_INDUCTANCE,
    HP_KEY_WINDING,
    HP_KEY_NO_LOAD,
    HP_KEY_NO_LOAD_RPM,
    HP_KEY_NO_LOAD_V,
    HP_KEY_BACKEMF_PEAK,
    HP_KEY_BACKEMF_RMS,
    HP_KEY_TORQUE_CONSTANT,
    HP_KEY_BACKEMF,
    HP_KEY_SHAPE,
    HP_KEY_FLAT_WIDTH,
    HP_KEY_HARMONICS,
    HP_KEY_COGGING,
    HP_KEY_COGGING_PERIODS,
    HP_KEY_COGGING_PHASE,
    HP_KEY_ROTOR_INERTIA,
    HP_KEY_OPEN_LEAD,
    HP_KEY_SENSORS,
    HP_KEY_SPACING,
    HP_KEY_PLACEMENT,
    HP_KEY_PLACEMENT_U, /* V and W follow */
    HP_KEY_PLACEMENT_V,
    HP_KEY_PLACEMENT_W,
    HP_KEY_HYSTERESIS,
    HP_KEY_FAULTS,
    HP_KEY_FAULT_U,
    HP_KEY_FAULT_V,
    HP_KEY_FAULT_W,
    HP_KEY_POWERED,
    HP_KEY_CONTROLLER,
    HP_KEY_CONTROLLER_NAME,
    HP_KEY_TABLE,
    HP_KEY_THROTTLE,
    HP_KEY_SPEED_STEPS,
    HP_KEY_SPEED_STEP,
    HP_KEY_RAMP,
    HP_KEY_BATTERY_LIMIT,
    HP_KEY_PHASE_LIMIT,
    HP_KEY_FILTER,
    HP_KEY_LIMITER,
    HP_KEY_STALL,
    HP_KEY_UNDERVOLTAGE,
    HP_KEY_PWM,
    HP_KEY_PWM_KHZ,
    HP_KEY_DRIVE,
    HP_KEY_SWITCH,
    HP_KEY_DIODE,
    HP_KEY_SUPPLY,
    HP_KEY_BATTERY_V,
    HP_KEY_BATTERY_OHM,
    HP_KEY_STAND,
    HP_KEY_WHEEL_INERTIA,
    HP_KEY_GEAR,
    HP_KEY_CLUTCH,
    HP_KEY_ROTOR,
    HP_KEY_ROTOR_FRICTION,
    HP_KEY_ROTOR_BREAKAWAY,
    HP_KEY_ROTOR_VISCOUS,
    HP_KEY_WHEEL,
    HP_KEY_WHEEL_FRICTION,
    HP_KEY_WHEEL_BREAKAWAY,
    HP_KEY_WHEEL_VISCOUS,
    HP_KEY_NO_LOAD_CURRENT,
    HP_KEY_NO_LOAD_A,
    HP_KEY_NO_LOAD_A_V,
    HP_KEY_LOAD,
    HP_KEY_SMOOTH,
    HP_KEY_RUN,
    HP_KEY_SECONDS,
    HP_KEY_SETTLE,
    HP_KEY_STARTS,
    HP_KEY_TOLERANCE,
    HP_KEY_SPREAD,
    HP_KEY_SPREAD_MOTORS,
    HP_KEY_SPREAD_SEED,
    HP_KEY_SPREAD_RESISTANCE,
    HP_KEY_SPREAD_INDUCTANCE,
    HP_KEY_SPREAD_BACKEMF,
    HP_KEY_SPREAD_FLAT,
    HP_KEY_SPREAD_FRICTION,
    HP_KEY_SPREAD_BREAKAWAY,
    HP_KEY_SPREAD_VISCOUS,
    HP_KEY_SPREAD_INERTIA,
    HP_KEY_SPREAD_TOGETHER,
    HP_KEY_SPREAD_EACH,
    HP_KEY_SPREAD_HYSTERESIS,
    HP_KEY_SPREAD_COGGING,
    HP_KEY_SPREAD_COGGING_PHASE,
    HP_KEY_SPREAD_BATTERY,
    HP_KEY_SPREAD_BATTERY_OHM,
    HP_KEY_SPREAD_WINDING,
    HP_KEY_SPREAD_LIMITS,
    HP_KEY_SPREAD_REST,
    HP_KEY_LEADS,
    HP_KEY_LEADS_KNOWN,
    HP_KEY_MOTOR_PHASES,
    HP_KEY_MOTOR_PHASE_U,
    HP_KEY_MOTOR_PHASE_V,
    HP_KEY_MOTOR_PHASE_W,
    HP_KEY_MOTOR_SENSORS,
    HP_KEY_MOTOR_SENSOR_U,
    HP_KEY_MOTOR_SENSOR_V,
    HP_KEY_MOTOR_SENSOR_W,
    HP_KEY_OUTPUTS,
    HP_KEY_OUTPUT_U,
    HP_KEY_OUTPUT_V,
    HP_KEY_OUTPUT_W,
    HP_KEY_INPUTS,
    HP_KEY_INPUT_U,
    HP_KEY_INPUT_V,
    HP_KEY_INPUT_W,
    HP_KEY_HARNESS,
    HP_KEY_BENCH,
    HP_KEY_BENCH_60,
    HP_KEY_BENCH_SENSOR,
    HP_KEY_BENCH_OPEN,
    HP_KEY_BENCH_CLUTCH,
    HP_KEY_BENCH_TABLE,
    HP_KEY_BENCH_TABLE_WRONG,
    HP_KEY_BENCH_SLIP,
    HP_KEY_BENCH_POWERED,
    HP_KEY_BENCH_LEARN,
    HP_KEY_BENCH_FIRST_POWER,
    HP_KEY_BENCH_PLACES,
    HP_KEY_BENCH_THROTTLE,
    HP_KEY_BENCH_THROTTLE_REST,
    HP_KEY_BENCH_THROTTLE_FULL,
    HP_KEY_BENCH_SURE,
    HP_KEY_BENCH_SURE_BROKEN,
    HP_KEY_BENCH_TRIALS,
    HP_KEY_BENCH_SUPPLY_LEAST,
    HP_KEY_BENCH_SUPPLY_MOST,
    HP_KEY_BENCH_METERS,
    HP_KEY_BENCH_AMMETER,
    HP_KEY_BENCH_TACHOMETER,
    HP_KEY_BENCH_CURRENT,
    HP_KEY_BENCH_CURRENT_ZERO,
    HP_KEY_BENCH_SPEED,
    HP_KEY_BENCH_VOLT,
    HP_KEY_BENCH_OHM,
    HP_KEY_BENCH_OHM_ZERO,
    HP_KEY_BENCH_READINGS,
    HP_KEY_BENCH_PINS,
    HP_KEY_BENCH_SUPPLY,
    HP_KEY_BENCH_HAND_TURN,
    HP_KEY_BENCH_WINDING,
    HP_KEY_BENCH_SPIN,
    HP_KEY_BENCH_PARK,
    HP_KEY_BENCH_PROBE,
    HP_KEY_BENCH_CONTROLS,
    HP_KEY_BENCH_DRAG,
    HP_KEY_BENCH_CONTACTS,
    HP_KEY_BENCH_HALL_PLUG,
    HP_KEY_BENCH_MINUTES,
    HP_KEY_MINUTES_TRIAL,
    HP_KEY_MINUTES_LOOK,
    HP_KEY_MINUTES_LEAD,
    HP_KEY_MINUTES_PIN,
    HP_KEY_MINUTES_PINS,
    HP_KEY_MINUTES_SUPPLY,
    HP_KEY_MINUTES_HAND_TURN,
    HP_KEY_MINUTES_WINDING,
    HP_KEY_MINUTES_SPIN,
    HP_KEY_MINUTES_PARK,
    HP_KEY_MINUTES_PROBE,
    HP_KEY_MINUTES_CONTROLS,
    HP_KEY_MINUTES_DRAG,
    HP_KEY_MINUTES_CONTACTS,
    HP_KEY_MINUTES_HALL_PLUG,
    HP_KEY_MINUTES_LEARN,
    HP_KEY_MINUTES_ROUGH,
    HP_KEY_MINUTES_STALLED,
    HP_KEY_MINUTES_BIT,
    HP_KEY_LEARNT,
    HP_KEY_LEARNT_LOG,
    HP_KEY_LEARNT_SCENARIO,
    HP_KEY_LEARNT_ENTRIES,
    HP_KEY_LEARNT_PRINT,
    HP_KEY_LEARNT_BEFORE,
    /* What `hubphase controls' reckons with besides. */
    HP_KEY_CONTROLS,
    HP_KEY_KEY,
    HP_KEY_KEY_FITTED,
    HP_KEY_GRIP,
    HP_KEY_GRIP_FITTED,
    HP_KEY_GRIP_SUPPLY, /* from here to STOPS_LOST: of a throttle that is there */
    HP_KEY_GRIP_REST,
    HP_KEY_GRIP_FULL,
    HP_KEY_THROTTLE_STARTS,
    HP_KEY_THROTTLE_ALL,
    HP_KEY_FAULT_LOW,
    HP_KEY_FAULT_HIGH,
    HP_KEY_THROTTLE_PULL,
    HP_KEY_LOST_SUPPLY,
    HP_KEY_LOST_GROUND,
    HP_KEY_LOST_SIGNAL,
    HP_KEY_REFUSES_OPEN,
    HP_KEY_STOPS_LOST,
    HP_KEY_BRAKE,
    HP_KEY_BRAKE_SWITCH,
    HP_KEY_BRAKE_JOINS,
    HP_KEY_BRAKE_EXPECTS,
    HP_KEY_BRAKE_EXPECTS_AT,
    HP_KEY_BRAKE_DELAY,
    HP_KEY_PEDAL,
    HP_KEY_PEDAL_MODE,
    HP_KEY_PEDAL_PULSES, /* from here to PEDAL_OFF: of a sensor that is there */
    HP_KEY_PEDAL_HIGH,
    HP_KEY_PEDAL_FORWARD,
    HP_KEY_PEDAL_ASSIST,
    HP_KEY_PEDAL_START,
    HP_KEY_PEDAL_OFF,
    HP_KEY_SPEED_SWITCH,
    HP_KEY_LOST_STEP,
    /* What `hubphase fit' reckons with besides, from here to the end. */
    HP_KEY_VEHICLE,
    HP_KEY_MACHINE_KG,
    HP_KEY_RIDER_KG,
    HP_KEY_LOAD_KG,
    HP_KEY_TYRE,
    HP_KEY_WHEEL_TURN,
    HP_KEY_DRAG_AREA,
    HP_KEY_ROLLING,
    HP_KEY_AIR_DENSITY,
    HP_KEY_HEAD_WIND,
    HP_KEY_HILL,
    HP_KEY_HILL_M,
    HP_KEY_CRUISE,
    HP_KEY_RIDE,
    HP_KEY_MOUNTED,
    HP_KEY_ROAD_UNSURE,
    HP_KEY_PACK,
    HP_KEY_CELLS,
    HP_KEY_IN_SERIES,
    HP_KEY_PACK_FULL,
    HP_KEY_PACK_EMPTY,
    HP_KEY_PACK_OHM,
    HP_KEY_PACK_AH,
    HP_KEY_PACK_USABLE,
    HP_KEY_PACK_LIMIT,
    HP_KEY_PACK_CHARGE,
    HP_KEY_FUSE,
    HP_KEY_FUSE_FITTED,
    HP_KEY_FUSE_A,
    HP_KEY_FUSE_BREAKING,
    HP_KEY_FUSE_V,
    HP_KEY_CABLE,
    HP_KEY_INSULATION,
    HP_KEY_BATTERY_MM2,
    HP_KEY_BATTERY_AWG,
    HP_KEY_BATTERY_M,
    HP_KEY_BATTERY_AMPACITY,
    HP_KEY_PHASE_MM2,
    HP_KEY_PHASE_AWG,
    HP_KEY_PHASE_M,
    HP_KEY_PHASE_AMPACITY,
    HP_KEY_AXLE,
    HP_KEY_AXLE_MM,
    HP_KEY_FLATS_MM,
    HP_KEY_ENGAGED_MM,
    HP_KEY_DROPOUT,
    HP_KEY_AXLE_MPA,
    HP_KEY_TORQUE_ARM,
    HP_KEY_THERMAL,
    HP_KEY_COPPER_KG,
    HP_KEY_HUB_KG,
    HP_KEY_COPPER_J,
    HP_KEY_HUB_J,
    HP_KEY_COPPER_HUB,
    HP_KEY_HUB_AIR,
    HP_KEY_AIR_C,
    HP_KEY_HEAT_UNSURE,
    HP_KEY_RATINGS,
    HP_KEY_CONTROLLER_V,
    HP_KEY_BATTERY_PLUG,
    HP_KEY_PHASE_PLUG,
    HP_KEY_SENSOR_V,
    HP_KEY_WINDING_MOST,
    HP_KEY_REGENERATES,
    HP_KEY_COUNT
} hp_key_id;

#define HP_KEY_FIT HP_KEY_VEHICLE /* the first of those that only the fit reckons with */

typedef enum hp_key_kind {
    HP_KEY_IS_SECTION, /* holds other keys */
    HP_KEY_IS_NUMBER,
    HP_KEY_IS_WHOLE,
    HP_KEY_IS_FLAG,
    HP_KEY_IS_CHOICE, /* index of a word */
    HP_KEY_IS_LINE,   /* text in char[size] */
    HP_KEY_IS_LABEL,  /* the same, for a lead */
    HP_KEY_IS_SPECIAL /* has a reader of its own */
} hp_key_kind;

typedef struct hp_key {
    const char *path; /* "motor.pole_pairs" */
    hp_key_kind kind;
    hp_limits limits;         /* numbers */
    size_t offset;            /* of the field in hp_draft */
    double factor;            /* field = number as written * factor */
    const char *const *words; /* choices, NULL-ended */
    size_t size;              /* bytes of a text's field */
    const char *why;          /* where the default comes from; NULL: there is none */
} hp_key;

const hp_key *hp_key_of(hp_key_id id);
/* A number or whole number of a draft in the unit of its key, as a file would state it. */
double hp_draft_number(const hp_draft *draft, hp_key_id id);
/* The part of the path after the last dot. */
const char *hp_key_name(hp_key_id id);
/* Whether the key stands directly in the section with this path ("" is the top). */
bool hp_key_is_in(hp_key_id id, const char *section);
/* The key of this name in a section, or HP_KEY_COUNT. */
hp_key_id hp_key_find(const char *section, const char *name);
/* The key with this whole path, or HP_KEY_COUNT. */
hp_key_id hp_key_of_path(const char *path);
/* A key of exactly this name in another section, or HP_KEY_COUNT. */
hp_key_id hp_key_elsewhere(const char *section, const char *name);
/* Whether what is usual of it follows from what else the scenario states: hp_reader_derive takes
 * none but such keys. */
bool hp_key_follows(hp_key_id id);
/* The key in the section that a person most likely meant, or HP_KEY_COUNT when none is near. */
hp_key_id hp_key_nearest(const char *section, const char *name);
/* Insertions, deletions, changes and swaps of neighbours that turn one text into the other (optimal
 * string alignment, Damerau, Comm. ACM 7(3), 1964; from memory); longer texts than 63 bytes count
 * as far apart. */
int hp_key_distance(const char *a, const char *b);

/* Names of the built-in commutation tables in the order of hp_draft.table_name, NULL-ended. */
extern const char *const hp_table_names[];

#endif
