/* A hidden motor, controller and person: see the header. */
#include "hidden.h"
#include "decide/advise/hypothesis.h"
#include "decide/judge/ensemble.h"
#include "entry_kind.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "model/commutation.h"
#include "model/sensors.h"
#include "model/stand.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Meters of a person who reads them rightly: relative error, and that of the zero. */
#define METER_RELATIVE 0.03
#define METER_ZERO_A   0.05
#define METER_ZERO_OHM 0.03

/* Every width times `scatter`; all its fields are widths. */
static hp_variation_params scattered(double scatter)
{
    hp_variation_params widths = hp_variation_default();
    double field[sizeof widths / sizeof(double)];
    _Static_assert(sizeof field == sizeof widths, "a field that is no number");
    memcpy(field, &widths, sizeof widths);
    for (size_t k = 0; k < sizeof field / sizeof field[0]; k++)
        field[k] *= scatter;
    memcpy(&widths, field, sizeof widths);
    /* Any phase is drawn already. */
    widths.cogging_phase_rad = hp_variation_default().cogging_phase_rad;
    return widths;
}

hidden hidden_draw(const hp_drive *nominal, double scatter, uint64_t seed, uint64_t index,
                   int inverted, hp_fault fault, const hidden_person *person, hp_engine *engine)
{
    hp_variation_params widths = scattered(scatter);
    assert(hp_variation_check(&widths, NULL) == HP_OK);
    hidden h = {.random = hp_random_init(seed, index), .person = *person, .engine = engine};
    /* A hypercube of one point is a plain random draw. */
    h.drive = hp_ensemble_draw(nominal, &widths, hp_random_bits(&h.random), 0, 1);
    h.truth = (hp_hypothesis){.relation = (int)(index % HP_RELATION_COUNT),
                              .table = 0,
                              .inverted = inverted,
                              .fault = fault};
    h.run = hp_run_options_default();
    h.run.tolerance = 1e-5;
    h.run.calm_share = 0.002;
    return h;
}

static bool slips(hidden *h)
{
    return hp_random_unit(&h->random) < h->person.slip;
}

/* Near normal: the sum of twelve uniform numbers. */
static double noise(hidden *h)
{
    double sum = -6.0;
    for (int k = 0; k < 12; k++)
        sum += hp_random_unit(&h->random);
    return sum;
}

/* What a meter shows; a slip is a wrong range or a wrong digit, up to a factor of ten either way.
 */
static double metered(hidden *h, double value, double zero)
{
    double read = fmax(0.0, value * (1.0 + METER_RELATIVE * noise(h)) + zero * noise(h));
    return slips(h) ? read * pow(10.0, hp_random_between(&h->random, -1.0, 1.0)) : read;
}

/* ---- trials ---------------------------------------------------------------------------------- */

/* Joins leads as told; now and then two are taken for each other. */
static void join(hidden *h, int number)
{
    if (number == h->written)
        return;
    h->written = h->joined = number;
    if (hp_random_unit(&h->random) < 0.2 * h->person.slip)
        h->joined = 1 + (int)hp_random_below(&h->random, HP_WIRING_COUNT);
}

/* What several starts showed. */
typedef struct watched {
    int count[HP_SIGHT_COUNT];
    double current_turning, current_standing, wheel_speed;
    int turning, standing, wheel;
    bool cut_out;
} watched;

static watched watch(hidden *h, double throttle, int starts)
{
    watched w = {0};
    hp_wiring wiring = hp_wiring_from_number(h->joined);
    hp_behaviour b = hp_behaviour_of(&h->truth, &wiring);
    hp_drive drive = hp_behaviour_drive(&h->drive, &b);
    drive.controller.throttle = throttle;
    hp_sight_params params = hp_sight_params_of();
    params.wheel_free = b.fault.kind == HP_FAULT_CLUTCH;
    for (int k = 0; k < starts; k++) {
        hp_figures f;
        h->run.start_angle = hp_random_between(&h->random, 0.0, HP_TWO_PI);
        hp_engine_run(h->engine, &drive, &b.wiring, &h->run, NULL, &f, NULL);
        hp_sight sight = hp_sight_of(&f, &params);
        if (sight == HP_SIGHT_NONE)
            continue;
        w.count[sight]++;
        w.cut_out = w.cut_out || f.cut_out;
        if (!hp_sight_turns(sight)) {
            w.current_standing += f.battery_current;
            w.standing++;
            continue;
        }
        w.current_turning += f.battery_current;
        w.turning++;
        if (sight < HP_SIGHT_HUM_SMOOTH) {
            w.wheel_speed += fabs(f.wheel_speed);
            w.wheel++;
        }
    }
    return w;
}

static hp_motion moved(const watched *w)
{
    int forward = w->count[HP_SIGHT_FORWARD_SMOOTH] + w->count[HP_SIGHT_FORWARD_ROUGH];
    int backward = w->count[HP_SIGHT_BACKWARD_SMOOTH] + w->count[HP_SIGHT_BACKWARD_ROUGH];
    int hum = w->count[HP_SIGHT_HUM_SMOOTH] + w->count[HP_SIGHT_HUM_ROUGH];
    if ((forward > 0) + (backward > 0) + (hum > 0) > 1)
        return HP_MOVED_BOTH;
    if (forward > 0)
        return HP_MOVED_FORWARD;
    if (backward > 0)
        return HP_MOVED_BACKWARD;
    if (hum > 0)
        return HP_MOVED_HUM;
    return w->count[HP_SIGHT_SHIVER] > 0 ? HP_MOVED_SHIVER : HP_MOVED_STILL;
}

/* A slip of the eye: the other way round, or a shiver taken for rest. */
static hp_motion mistaken(hp_motion motion)
{
    switch (motion) {
    case HP_MOVED_FORWARD: return HP_MOVED_BACKWARD;
    case HP_MOVED_BACKWARD: return HP_MOVED_FORWARD;
    case HP_MOVED_SHIVER: return HP_MOVED_STILL;
    case HP_MOVED_STILL: return HP_MOVED_SHIVER;
    case HP_MOVED_BOTH: return HP_MOVED_FORWARD;
    case HP_MOVED_HUM: return HP_MOVED_STILL;
    default: return motion;
    }
}

static void say_starts(hidden *h, hp_trial *t, int turned)
{
    bool moving = t->motion != HP_MOVED_SHIVER && t->motion != HP_MOVED_STILL;
    t->starts = moving ? turned : 0;
    if (!moving)
        return;
    if (slips(h))
        t->starts = turned + (hp_random_unit(&h->random) < 0.5 ? -1 : 1);
    t->starts = t->starts < 1 ? 1 : t->starts > t->starts_tried ? t->starts_tried : t->starts;
}

static hp_entry do_trial(hidden *h, const hp_advice *advice, const hp_plan_params *params)
{
    hp_entry entry = hp_entry_make(&hp_reading_trial, 0);
    hp_trial *t = &entry.trial;
    join(h, advice->number);
    t->wiring = advice->wiring;
    t->throttle = h->person.throttle > 0.0 ? h->person.throttle : params->throttle;
    t->starts_tried = params->starts;
    watched w = watch(h, t->throttle, t->starts_tried);
    t->motion = moved(&w);
    if (slips(h))
        t->motion = mistaken(t->motion);
    if (w.turning > 0) {
        bool rough = w.count[HP_SIGHT_FORWARD_ROUGH] + w.count[HP_SIGHT_BACKWARD_ROUGH] +
                         w.count[HP_SIGHT_HUM_ROUGH] >
                     0;
        t->feel = rough != slips(h) ? HP_FEEL_ROUGH : HP_FEEL_SMOOTH;
    }
    say_starts(h, t, w.turning);
    double amps = w.turning > 0    ? w.current_turning / w.turning
                  : w.standing > 0 ? w.current_standing / w.standing
                                   : (double)NAN;
    if (h->person.ammeter && !isnan(amps))
        t->battery_a = metered(h, amps, METER_ZERO_A);
    if (h->person.tachometer && w.wheel > 0)
        t->wheel_rad_s = metered(h, w.wheel_speed / w.wheel, 0.0);
    return entry;
}

/* ---- readings -------------------------------------------------------------------------------- */

static int misread(hidden *h, int code)
{
    return slips(h) ? (code + 1 + (int)hp_random_below(&h->random, 7)) % 8 : code;
}

/* The true code at an angle: the specimen's own sensors, displaced as they are. */
static int true_code(const hidden *h, double theta)
{
    int axis[HP_PHASE_COUNT], lead_axis[HP_PHASE_COUNT], bit[HP_PHASE_COUNT];
    hp_relation_axes(h->truth.relation, axis, lead_axis);
    for (int s = 0; s < HP_PHASE_COUNT; s++) {
        bit[s] = hp_sensor_inside(&h->drive.sensors, axis[s], theta) != (h->truth.inverted == s);
        if (h->truth.fault.which == s && h->truth.fault.kind == HP_FAULT_SENSOR_HIGH)
            bit[s] = 1;
        if (h->truth.fault.which == s && h->truth.fault.kind == HP_FAULT_SENSOR_LOW)
            bit[s] = 0;
    }
    return hp_code(bit[0], bit[1], bit[2]);
}

static hp_entry do_hand_turn(hidden *h)
{
    hp_entry entry = hp_entry_make(&hp_reading_hand_turn, 0);
    hp_hand_turn *t = &entry.hand_turn;
    bool clutch = h->drive.stand.clutch;
    t->backward = clutch;
    double way = t->backward != slips(h) ? -1.0 : 1.0;
    double theta = hp_random_between(&h->random, 0.0, HP_TWO_PI);
    int last = true_code(h, theta);
    t->code[t->count++] = misread(h, last);
    if (h->truth.fault.kind == HP_FAULT_CLUTCH || (clutch && way > 0.0))
        return entry;
    /* A little more than one electrical turn, looked at every degree. */
    for (int degree = 0; degree < 420 && t->count < 7; degree++) {
        theta += way * HP_DEG;
        int code = true_code(h, theta);
        if (code == last)
            continue;
        last = code;
        t->code[t->count++] = misread(h, code);
    }
    return entry;
}

/* The parked rotor rests where the field points, off by what friction holds. */
static hp_entry do_park(hidden *h, int lead)
{
    hp_entry entry = hp_entry_make(&hp_reading_park, 0);
    int sensor_axis[HP_PHASE_COUNT], axis[HP_PHASE_COUNT], used = lead;
    hp_relation_axes(h->truth.relation, sensor_axis, axis);
    if (slips(h))
        used = (lead + 1 + (int)hp_random_below(&h->random, 2)) % 3;
    entry.park.lead = lead;
    double rest = hp_phase_axis(axis[used]);
    double friction = asin(fmin(1.0, hp_stand_friction(&h->drive.stand).breakaway_nm /
                                         (1.5 * h->drive.motor.ke * 3.0))); /* with 3 A */
    bool open = h->truth.fault.kind == HP_FAULT_LEAD_OPEN;
    if (open && h->truth.fault.which == used) {
        entry.park.no_current = slips(h) ? HP_TELL_NO : HP_TELL_YES;
        rest = hp_random_between(&h->random, 0.0, HP_TWO_PI);
    } else {
        entry.park.no_current = slips(h) ? HP_TELL_YES : HP_TELL_NO;
        if (open)
            rest = hp_field_angle(axis[used], axis[3 - used - h->truth.fault.which]);
        rest += friction * hp_random_between(&h->random, -1.0, 1.0);
    }
    entry.park.code = misread(h, true_code(h, rest));
    return entry;
}

static hp_entry do_pairs(hidden *h, const hp_reading *kind)
{
    hp_entry entry = hp_entry_make(kind, 0);
    const hp_motor_params *motor = &h->drive.motor;
    if (kind == &hp_reading_spin)
        entry.spin.wheel_rad_s = 5.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        bool open = h->truth.fault.kind == HP_FAULT_LEAD_OPEN && h->truth.fault.which != k;
        if (kind == &hp_reading_pins) {
            entry.pins.open[k] = open != slips(h) ? HP_TELL_YES : HP_TELL_NO;
        } else if (kind == &hp_reading_winding) {
            double ohm = metered(h, 2.0 * motor->resistance_ohm, METER_ZERO_OHM);
            entry.winding.ohm[k] = open != slips(h) ? (double)INFINITY : ohm;
        } else {
            open = open || h->truth.fault.kind == HP_FAULT_CLUTCH;
            entry.spin.kind = HP_VOLT_PEAK;
            double volts = 2.0 * motor->ke * 5.0 * h->drive.stand.gear_ratio;
            entry.spin.volts[k] = open != slips(h) ? 0.0 : metered(h, volts, 0.0);
        }
    }
    if (kind == &hp_reading_pins)
        entry.pins.shell = entry.pins.crossed = HP_TELL_NO;
    return entry;
}

static hp_entry do_probe(hidden *h)
{
    hp_entry entry = hp_entry_make(&hp_reading_probe, 0);
    hp_commutation_table table = hp_table_get(h->truth.table);
    for (int code = 1; code < 7; code++) {
        entry.probe.read[code] = true;
        entry.probe.row[code] =
            table.row[slips(h) ? 1 + (int)hp_random_below(&h->random, 6) : code];
    }
    return entry;
}

hp_entry hidden_do(hidden *h, const hp_advice *advice, const hp_plan_params *params)
{
    if (advice->kind != HP_ADVICE_READ)
        return do_trial(h, advice, params);
    switch (kind_of(advice->reading)) {
    case KIND_HAND_TURN: return do_hand_turn(h);
    case KIND_PARK: return do_park(h, advice->lead);
    case KIND_PROBE: return do_probe(h);
    case KIND_SUPPLY: {
        hp_entry entry = hp_entry_make(&hp_reading_supply, 0);
        entry.supply.volts = 5.0 * (1.0 + 0.02 * noise(h));
        return entry;
    }
    case KIND_CONTACTS: {
        hp_entry entry = hp_entry_make(&hp_reading_contacts, 0);
        entry.contacts.loose = HP_CONTACT_NOTHING;
        return entry;
    }
    default: return do_pairs(h, advice->reading);
    }
}
