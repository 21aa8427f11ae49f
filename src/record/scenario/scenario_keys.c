/* The keys of a scenario, found by number, path and name: see the header. Their rows stand in
 * scenario_keys_machine.c, scenario_keys_bench.c and scenario_keys_vehicle.c. */
#include "record/scenario/scenario_key_rows.h"

#include "decide/reading/reading_list.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/survey.h"

#include <string.h>

const char *const hp_table_names[] = {"six_step_120", "six_step_60", NULL};

const hp_reading *hp_slot_reading(hp_reading_slot slot)
{
    static const hp_reading *const reading[HP_SLOT_COUNT] = {
        [HP_SLOT_PINS] = &hp_reading_pins,           [HP_SLOT_SUPPLY] = &hp_reading_supply,
        [HP_SLOT_HAND_TURN] = &hp_reading_hand_turn, [HP_SLOT_WINDING] = &hp_reading_winding,
        [HP_SLOT_SPIN] = &hp_reading_spin,           [HP_SLOT_PARK] = &hp_reading_park,
        [HP_SLOT_PROBE] = &hp_reading_probe,         [HP_SLOT_CONTROLS] = &hp_reading_controls,
        [HP_SLOT_DRAG] = &hp_reading_drag,           [HP_SLOT_CONTACTS] = &hp_reading_contacts,
        [HP_SLOT_HALL_PLUG] = &hp_reading_hall_plug,
    };
    return reading[slot];
}

hp_draft hp_draft_default(void)
{
    hp_draft draft;
    memset(&draft, 0, sizeof draft);
    draft.drive = hp_drive_default();
    draft.labels = hp_labels_default();
    draft.controls = hp_controls_params_default();
    draft.throttle_pull = HP_INPUT_PULL_DOWN;
    draft.run = hp_run_options_default();
    draft.starts = hp_survey_options_default().starts;
    draft.spread = hp_spread_plan_default();
    draft.seed = (int)draft.spread.seed;
    draft.prior = hp_prior_default();
    draft.person = hp_person_default();
    draft.plan = hp_plan_params_default();
    draft.table_known = true;
    draft.table_wrong = 1.0 - draft.prior.table_stated;
    draft.slip = HP_BENCH_SLIP;
    for (int k = 0; k < HP_SLOT_COUNT; k++) {
        const hp_reading *reading = hp_slot_reading((hp_reading_slot)k);
        draft.reads[k] = draft.plan.allowed & hp_allow(reading);
        draft.minutes[k] = reading->minutes;
    }
    draft.powered = !draft.drive.sensors.no_supply;
    draft.spacing = draft.drive.sensors.spacing_60;
    draft.measured_c = 20.0;
    draft.table_named = true;
    draft.speed_step = 1;
    draft.drive_kind = 2;
    draft.vehicle = hp_vehicle_default();
    draft.machine_kg = 25.0;
    draft.rider_kg = draft.vehicle.road.mass_kg - draft.machine_kg;
    return draft;
}

const hp_key *hp_key_of(hp_key_id id)
{
    return id < HP_KEYS_BENCH     ? &hp_keys_machine[id - HP_KEYS_MACHINE]
           : id < HP_KEYS_VEHICLE ? &hp_keys_bench[id - HP_KEYS_BENCH]
                                  : &hp_keys_vehicle[id - HP_KEYS_VEHICLE];
}

double hp_draft_number(const hp_draft *draft, hp_key_id id)
{
    const hp_key *key = hp_key_of(id);
    const void *at = (const char *)draft + key->offset;
    if (key->kind == HP_KEY_IS_NUMBER) {
        double number;
        memcpy(&number, at, sizeof number);
        return number / key->factor;
    }
    int whole;
    memcpy(&whole, at, sizeof whole);
    return whole;
}

const char *hp_key_name(hp_key_id id)
{
    const char *dot = strrchr(hp_key_of(id)->path, '.');
    return dot ? dot + 1 : hp_key_of(id)->path;
}

bool hp_key_follows(hp_key_id id)
{
    static const bool follows[HP_KEY_COUNT] = {
        /* Two ways to state one thing. */
        [HP_KEY_POLE_PAIRS] = true,
        [HP_KEY_MAGNETS] = true,
        [HP_KEY_BACKEMF_PEAK] = true,
        [HP_KEY_BACKEMF_RMS] = true,
        [HP_KEY_TORQUE_CONSTANT] = true,
        [HP_KEY_NO_LOAD_RPM] = true,
        [HP_KEY_NO_LOAD_V] = true,
        [HP_KEY_BATTERY_MM2] = true,
        [HP_KEY_PHASE_MM2] = true,
        /* From the gear, the drag as measured, the friction of the same body. */
        [HP_KEY_WHEEL_FRICTION] = true,
        [HP_KEY_WHEEL_BREAKAWAY] = true,
        [HP_KEY_ROTOR_FRICTION] = true,
        [HP_KEY_ROTOR_BREAKAWAY] = true,
        [HP_KEY_ROTOR_VISCOUS] = true,
        [HP_KEY_COGGING] = true,
        /* From sensors, table and throttle of the run. */
        [HP_KEY_SETTLE] = true,
        [HP_KEY_BENCH_60] = true,
        [HP_KEY_BENCH_TABLE_WRONG] = true,
        [HP_KEY_BENCH_THROTTLE] = true,
        /* From the grip's supply and what its input is pulled to; from the speed steps. */
        [HP_KEY_GRIP_REST] = true,
        [HP_KEY_GRIP_FULL] = true,
        [HP_KEY_THROTTLE_STARTS] = true,
        [HP_KEY_THROTTLE_ALL] = true,
        [HP_KEY_LOST_SUPPLY] = true,
        [HP_KEY_LOST_GROUND] = true,
        [HP_KEY_LOST_SIGNAL] = true,
        [HP_KEY_SPEED_STEP] = true,
        [HP_KEY_LOST_STEP] = true,
        /* From tyre, hill, cells and battery, dropout, winding and hub. */
        [HP_KEY_WHEEL_TURN] = true,
        [HP_KEY_RIDE] = true,
        [HP_KEY_PACK_USABLE] = true,
        [HP_KEY_IN_SERIES] = true,
        [HP_KEY_PACK_FULL] = true,
        [HP_KEY_PACK_EMPTY] = true,
        [HP_KEY_PACK_OHM] = true,
        [HP_KEY_AXLE_MPA] = true,
        [HP_KEY_COPPER_J] = true,
        [HP_KEY_HUB_J] = true,
        [HP_KEY_COPPER_HUB] = true,
        [HP_KEY_HUB_AIR] = true,
    };
    return follows[id];
}

bool hp_key_is_in(hp_key_id id, const char *section)
{
    const char *path = hp_key_of(id)->path, *name = hp_key_name(id);
    size_t length = name == path ? 0 : (size_t)(name - path) - 1;
    return strlen(section) == length && strncmp(path, section, length) == 0;
}

hp_key_id hp_key_find(const char *section, const char *name)
{
    for (hp_key_id id = 0; id < HP_KEY_COUNT; id++)
        if (hp_key_is_in(id, section) && strcmp(hp_key_name(id), name) == 0)
            return id;
    return HP_KEY_COUNT;
}

hp_key_id hp_key_of_path(const char *path)
{
    for (hp_key_id id = 0; id < HP_KEY_COUNT; id++)
        if (strcmp(hp_key_of(id)->path, path) == 0)
            return id;
    return HP_KEY_COUNT;
}
