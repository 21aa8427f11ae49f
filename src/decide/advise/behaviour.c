/*
 * Behaviour: see the header.
 *
 * A case's orbit is walked: three turns of the motor's axes, times three of the table's, times two
 * with the mirror. The mirror exchanges axes V and W of motor sensors and leads alike: then
 * e_X(theta, w) of the image equals that of the motor at -theta, -w, so that the same voltages give
 * the same currents and the opposite motion. The smallest raw number of an orbit stands for all.
 */
#include "decide/advise/behaviour.h"

#include "decide/advise/hypothesis.h"
#include "hubphase/decide/evidence.h"

#include <assert.h>
#include <string.h>

int hp_behaviour_raw(const hp_behaviour *b)
{
    int number = hp_wiring_number(&b->wiring);
    assert(number > 0);
    return ((number - 1) * 4 + b->inverted + 1) * HP_FAULT_COUNT + hp_fault_index(b->fault);
}

hp_behaviour hp_behaviour_from_raw(int raw)
{
    assert(raw >= 0 && raw < HP_BEHAVIOUR_RAW);
    return (hp_behaviour){
        .wiring = hp_wiring_from_number(1 + raw / (4 * HP_FAULT_COUNT)),
        .inverted = raw / HP_FAULT_COUNT % 4 - 1,
        .fault = hp_fault_from_index(raw % HP_FAULT_COUNT),
    };
}

static bool has_axis(hp_fault fault)
{
    return fault.kind == HP_FAULT_SENSOR_HIGH || fault.kind == HP_FAULT_SENSOR_LOW ||
           fault.kind == HP_FAULT_LEAD_OPEN;
}

/* Relabels the motor's axes. */
static hp_behaviour on_axes(const hp_behaviour *b, const int axis[HP_PHASE_COUNT])
{
    hp_behaviour image = *b;
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        image.wiring.sensor[j] = axis[b->wiring.sensor[j]];
        image.wiring.phase[j] = axis[b->wiring.phase[j]];
    }
    if (b->inverted >= 0)
        image.inverted = axis[b->inverted];
    if (has_axis(b->fault))
        image.fault.which = axis[b->fault.which];
    return image;
}

/* Turns the textbook table's inputs and outputs together, under which it is unchanged. */
static hp_behaviour on_table(const hp_behaviour *b, int turn)
{
    hp_behaviour image = *b;
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        image.wiring.sensor[(j + turn) % 3] = b->wiring.sensor[j];
        image.wiring.phase[(j + turn) % 3] = b->wiring.phase[j];
    }
    return image;
}

static bool is_stuck(hp_fault fault, int lead)
{
    bool stuck = fault.kind == HP_FAULT_SENSOR_HIGH || fault.kind == HP_FAULT_SENSOR_LOW;
    return stuck && fault.which == lead;
}

/* A sensor that is stuck gives the same whether it was inverted or not. */
static void drop_hidden_inversion(hp_behaviour *b)
{
    if (is_stuck(b->fault, b->inverted))
        b->inverted = -1;
}

/* Smallest raw number of the orbit. */
static int representative(const hp_behaviour *b, bool mirror, bool *mirrored)
{
    int best = HP_BEHAVIOUR_RAW;
    for (int image = 0; image < (mirror ? 2 : 1); image++) {
        for (int turn = 0; turn < 3; turn++) {
            int axis[HP_PHASE_COUNT];
            for (int k = 0; k < HP_PHASE_COUNT; k++)
                axis[k] = ((image ? 3 - k : k) + turn) % 3;
            hp_behaviour moved = on_axes(b, axis);
            for (int t = 0; t < 3; t++) {
                hp_behaviour turned = on_table(&moved, t);
                int raw = hp_behaviour_raw(&turned);
                if (raw < best) {
                    best = raw;
                    *mirrored = image == 1;
                }
            }
        }
    }
    return best;
}

hp_behaviour_map hp_behaviour_map_of(const hp_drive *drive)
{
    hp_behaviour_map map;
    memset(&map, 0, sizeof map);
    map.clutch = drive->stand.clutch;
    map.mirror = !drive->stand.clutch && drive->stand.load_nm == 0.0;
    for (int raw = 0; raw < HP_BEHAVIOUR_RAW; raw++) {
        hp_behaviour b = hp_behaviour_from_raw(raw);
        map.index[raw] = -1;
        if (b.fault.kind == HP_FAULT_CLUTCH && !map.clutch)
            continue;
        if (!hp_fault_is_simulated(b.fault))
            continue;
        drop_hidden_inversion(&b);
        bool mirrored = false;
        int best = representative(&b, map.mirror, &mirrored);
        /* Orbits are met at their smallest member first. */
        if (best == raw) {
            map.raw[map.count] = (short)raw;
            map.index[raw] = (short)map.count++;
        } else {
            map.index[raw] = map.index[best];
            map.mirrored[raw] = mirrored;
        }
    }
    return map;
}

static void turn_over(hp_fault *fault)
{
    fault->kind = fault->kind == HP_FAULT_SENSOR_HIGH ? HP_FAULT_SENSOR_LOW : HP_FAULT_SENSOR_HIGH;
}

/* All three levels opposite, what a sensor is stuck at among them: the table half a turn on, which
 * is the textbook's with two inputs exchanged and the same two outputs. */
static void complement(hp_wiring *wiring)
{
    int sensor = wiring->sensor[HP_U], phase = wiring->phase[HP_U];
    wiring->sensor[HP_U] = wiring->sensor[HP_V];
    wiring->phase[HP_U] = wiring->phase[HP_V];
    wiring->sensor[HP_V] = sensor;
    wiring->phase[HP_V] = phase;
}

/* The lead at an inverting input is heard the other way round. With a lead that the hub inverts
 * that makes none, where it is the same; else two, which are the third and all three. Marks of
 * leads, not axes yet. */
static void heard_inverted(int lead, hp_behaviour *b)
{
    drop_hidden_inversion(b);
    if (is_stuck(b->fault, lead)) {
        turn_over(&b->fault);
    } else if (b->inverted == lead) {
        b->inverted = -1;
    } else if (b->inverted < 0) {
        b->inverted = lead;
    } else {
        b->inverted = HP_PHASE_COUNT - lead - b->inverted;
        complement(&b->wiring);
        if (is_stuck(b->fault, b->fault.which))
            turn_over(&b->fault);
    }
}

hp_behaviour hp_behaviour_of(const hp_hypothesis *h, const hp_wiring *wiring)
{
    int sensor_axis[HP_PHASE_COUNT], lead_axis[HP_PHASE_COUNT];
    int inverts = hp_table_inverts(h->table);
    hp_relation_axes(h->relation, sensor_axis, lead_axis);
    hp_behaviour b = {
        .wiring = hp_wiring_effective(h->relation, h->table, wiring),
        .inverted = h->inverted,
        .fault = h->fault,
    };
    if (inverts >= 0)
        heard_inverted(wiring->sensor[inverts], &b);
    if (b.inverted >= 0)
        b.inverted = sensor_axis[b.inverted];
    /* The motor itself is sound; what the fault does to a run is reckoned. */
    if (!hp_fault_is_simulated(h->fault))
        b.fault = (hp_fault){HP_FAULT_NONE, 0};
    if (h->fault.kind == HP_FAULT_LEAD_OPEN)
        b.fault.which = lead_axis[h->fault.which];
    else if (has_axis(h->fault))
        b.fault.which = sensor_axis[h->fault.which];
    drop_hidden_inversion(&b);
    return b;
}

hp_behaviour hp_behaviour_unsensed(const hp_hypothesis *h, const hp_wiring *wiring)
{
    hp_behaviour b = hp_behaviour_of(h, wiring);
    b.wiring = hp_wiring_effective(h->relation, h->table, wiring);
    memcpy(b.wiring.sensor, b.wiring.phase, sizeof b.wiring.sensor);
    b.inverted = -1;
    if (has_axis(b.fault) && b.fault.kind != HP_FAULT_LEAD_OPEN)
        b.fault = (hp_fault){HP_FAULT_NONE, 0};
    return b;
}

/* The rotor by itself, as behind a clutch that does not hold. */
static void free_rotor(hp_drive *drive)
{
    drive->stand.clutch = false;
    drive->stand.gear_ratio = 1.0;
    drive->stand.wheel_inertia_kg_m2 = 1e-6 * drive->motor.rotor_inertia_kg_m2;
    drive->stand.wheel = (hp_friction){0};
    drive->stand.load_nm = 0.0;
}

hp_drive hp_behaviour_drive(const hp_drive *drive, const hp_behaviour *b)
{
    hp_drive d = *drive;
    d.controller.table = hp_commutation_table_120();
    d.sensors.spacing_60 = false;
    d.sensors.no_supply = false;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        d.sensors.fault[k] = HP_SENSOR_SOUND;
        d.motor.lead_open[k] = false;
    }
    if (b->inverted >= 0)
        d.sensors.fault[b->inverted] = HP_SENSOR_INVERTED;
    switch (b->fault.kind) {
    case HP_FAULT_SENSOR_HIGH: d.sensors.fault[b->fault.which] = HP_SENSOR_STUCK_HIGH; break;
    case HP_FAULT_SENSOR_LOW: d.sensors.fault[b->fault.which] = HP_SENSOR_STUCK_LOW; break;
    case HP_FAULT_LEAD_OPEN: d.motor.lead_open[b->fault.which] = true; break;
    case HP_FAULT_CLUTCH: free_rotor(&d); break;
    case HP_FAULT_NONE:
    case HP_FAULT_SILENT:
    case HP_FAULT_CUTTING_OUT:
    case HP_FAULT_LOOSE:
    case HP_FAULT_UNLISTED:
    case HP_FAULT_KIND_COUNT: break;
    }
    return d;
}
