/* The hidden machine and its person: see the header. */
#include "bench_person.h"

#include <math.h>
#include <string.h>

#define PI 3.14159265358979323846
/* Rest places of one trial; once it ran from two, the others are only watched for whether it
 * starts. */
#define STARTS 6
/* A wheel slower than this, or turned by less, has not turned for anybody [rad/s, rad]. */
#define SEEN_SPEED   0.15
#define TWITCH_SPEED 0.8
#define SEEN_TURN    0.3
/* The least swing of the wheel that a hand on the tyre feels [rad]. */
#define FELT_SWING 0.008
/* Felt torque ripple that is rough, as a share of the torque of 25 A through two leads. Chosen:
 * some 3 N m on the default hub. A right six-step wiring has less than 0.6, a wrong one more than
 * 9; a sine-driven hub lies between, right or wrong: there the hand cannot tell. */
#define ROUGH_SHARE 0.075

static const char letter[] = "UVW";
static const char time_line[] = "  - time: 2026-11-29T10:00:00+00:00\n";

/* ---- chance: splitmix64 ---------------------------------------------------------------------- */

static uint64_t mixed(uint64_t z)
{
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static uint64_t bits(person *p)
{
    return mixed(p->random += 0x9e3779b97f4a7c15u);
}

static double between(person *p, double low, double high)
{
    return low + (high - low) * (double)(bits(p) >> 11) * 0x1p-53;
}

static int below(person *p, int count)
{
    return (int)(bits(p) % (uint64_t)count);
}

static bool chance(person *p, double probability)
{
    return between(p, 0.0, 1.0) < probability;
}

/* Between 1/(1+width) and 1+width times, evenly in the logarithm. */
static double about(person *p, double width)
{
    return exp(between(p, -1.0, 1.0) * log(1.0 + width));
}

static double gauss(person *p)
{
    return sqrt(-2.0 * log(1.0 - between(p, 0.0, 1.0))) * cos(between(p, 0.0, 2.0 * PI));
}

static double metered(person *p, double value, double relative, double zero)
{
    return fmax(0.0, value * (1.0 + relative * gauss(p)) + zero * gauss(p));
}

static void shuffle(person *p, int order[3])
{
    for (int k = 0; k < 3; k++)
        order[k] = k;
    for (int k = 2; k > 0; k--) {
        int j = below(p, k + 1), kept = order[k];
        order[k] = order[j];
        order[j] = kept;
    }
}

/* ---- the hidden machine ---------------------------------------------------------------------- */

/* The usual table, seen through outputs and inputs that are marked otherwise. */
/* One of the inputs may be the other way round, that of a controller made for 60-degree sensors;
 * -1: none. */
static void set_table(world_machine *m, const int input[3], const int output[3], int inverts)
{
    static const struct {
        int code, high, low;
    } row[] = {{4, 1, 2}, {6, 1, 0}, {2, 2, 0}, {3, 2, 1}, {1, 0, 1}, {5, 0, 2}};
    for (int code = 0; code < 8; code++)
        m->high[code] = m->low[code] = -1;
    for (int k = 0; k < 6; k++) {
        int code = 0;
        for (int j = 0; j < 3; j++)
            code |= (row[k].code >> (2 - j) & 1) << (2 - input[j]);
        code ^= inverts >= 0 ? 1 << (2 - inverts) : 0;
        m->high[code] = output[row[k].high];
        m->low[code] = output[row[k].low];
    }
}

/* What is usual for such parts: the widths that the scenario's `spread` takes for granted. */
static world_machine usual_machine(person *p)
{
    bool geared = p->out & OUT_GEARED;
    double friction = about(p, 0.6), viscous = about(p, 0.6);
    world_machine m = {.pole_pairs = geared ? 10 : 23,
                       .resistance =
                           0.1 * about(p, 0.15) * (1.0 + 0.00393 * between(p, -10.0, 10.0)),
                       .inductance = 0.22e-3 * about(p, 0.3),
                       .flat = (120.0 + between(p, -15.0, 15.0)) * PI / 180.0,
                       .rotor_inertia = geared ? 0.0008 * about(p, 0.25) : 0.0,
                       .wheel_inertia = 0.12 * about(p, 0.25),
                       .gear_ratio = geared ? 4.8 : 1.0,
                       .clutch = geared,
                       .cogging = (geared ? 0.02 : 0.1) * about(p, 1.0),
                       .cogging_phase = between(p, 0.0, 2.0 * PI),
                       .cogging_order = 6,
                       .hysteresis = 2.0 * about(p, 0.6) * PI / 180.0,
                       .ramp = 1.0,
                       .filter = 0.01,
                       .limiter = 5.0,
                       .stall_cutout = 1.5,
                       .switch_ohm = 0.004,
                       .diode_drop = 0.8,
                       .pwm_hz = 8000.0,
                       .emf = 37.0 * about(p, 0.08),
                       .emf_ohm = 0.08 * about(p, 0.5),
                       .bus_farad = 1e-3,
                       .lamp_watt = 63.0,
                       .lamp_volt = 36.0};
    /* The label's no-load speed: 215 rev/min of the wheel at 36 V, two phases in series. */
    double limits = about(p, 0.2), together = between(p, -5.0, 5.0);
    m.ke = 36.0 / (215.0 * 2.0 * PI / 60.0 * m.gear_ratio) / 2.0 * about(p, 0.08);
    m.battery_limit = 15.0 * limits;
    m.phase_limit = 40.0 * limits;
    m.rotor = geared ? (world_friction){0.04, 0.04, 0.0002} : (world_friction){0.35, 0.35, 0.005};
    m.wheel = geared ? (world_friction){0.15, 0.15, 0.002} : (world_friction){0};
    double above = 0.43 * about(p, 0.5);
    world_friction *body[] = {&m.rotor, &m.wheel};
    for (int k = 0; k < 2; k++) {
        body[k]->coulomb *= friction * p->friction_factor;
        body[k]->breakaway = body[k]->coulomb * (1.0 + above);
        body[k]->viscous *= viscous * p->friction_factor;
    }
    for (int k = 0; k < 3; k++) {
        m.placement[k] = (together + between(p, -3.0, 3.0)) * PI / 180.0;
        m.stuck[k] = -1;
    }
    return m;
}

static void draw_trouble(person *p)
{
    world_machine *m = &p->machine;
    if (p->out & OUT_SILENT) {
        p->silent = (person_cause)(CAUSE_KEY + below(p, CAUSE_COUNT - CAUSE_KEY));
        m->silent = true;
    }
    if (p->out & OUT_CUTTING) {
        /* A weak pack whose protection trips at a few amperes, or a contact that does not last. */
        if (chance(p, 0.5))
            m->trip_a = between(p, 1.5, 4.0);
        else
            m->cut_after = between(p, 0.4, 1.0);
    }
    if (p->out & OUT_LOOSE)
        *(chance(p, 0.5) ? &p->loose_phase : &p->loose_sensor) = below(p, 3);
}

person person_draw(unsigned out, bool readings, uint64_t seed, int index)
{
    person p = {.out = out,
                .readings = readings,
                /* Mixed, or one case would draw what the next one draws a number later. */
                .random = mixed(mixed(seed) + (uint64_t)index),
                .friction_factor = 1.0,
                .duty_factor = 1.0,
                .loose_phase = -1,
                .loose_sensor = -1,
                .slip = out & OUT_SLIPS ? 0.05 : 0.0};
    bits(&p);
    static const double limits[] = {1.0, 2.0, 4.0};
    static const int same[] = {0, 1, 2};
    int input[3] = {0, 1, 2}, output[3] = {0, 1, 2};
    if (out & OUT_DRAG)
        p.friction_factor = exp(between(&p, log(1.5), log(5.0)));
    if (out & OUT_DUTY)
        p.duty_factor = exp(between(&p, log(0.7), log(1.4)));
    p.fixed_limit_a = limits[below(&p, 3)];
    p.machine = usual_machine(&p);
    shuffle(&p, p.sensor_axis);
    shuffle(&p, p.phase_axis);
    if (out & OUT_TABLE) {
        shuffle(&p, input);
        shuffle(&p, output);
    }
    if (out & OUT_SMOOTH_1) {
        memcpy(p.phase_axis, same, sizeof same);
        memcpy(p.sensor_axis, same, sizeof same);
    }
    set_table(&p.machine, input, output, -1);
    if (out & OUT_IDLE)
        p.machine.idle_a = between(&p, 0.2, 0.8);
    if (out & OUT_ONE_SIDED)
        p.machine.pwm = WORLD_ONE_SIDED;
    p.machine.sine = out & OUT_SINE;
    /* A supply that sags: half of the controllers lose their logic below some 16 V. */
    if (chance(&p, 0.5))
        p.machine.brownout_v = between(&p, 12.0, 20.0);
    p.throttle_rest_v = between(&p, 0.78, 0.92);
    p.throttle_full_v = between(&p, 3.6, 4.25);
    draw_trouble(&p);
    if (out & OUT_SIXTIES) {
        p.machine.inverted = 1 + below(&p, 3);
        if (!(out & OUT_SIXTY_SET)) {
            shuffle(&p, input);
            shuffle(&p, output);
        }
        /* The table that a scenario can name has the middle input the other way round. */
        set_table(&p.machine, input, output,
                  out & OUT_SIXTY_HUB   ? -1
                  : out & OUT_SIXTY_SET ? 1
                                        : below(&p, 3));
    }
    return p;
}

static world_joined joined_of(const person *p, const person_step *step)
{
    world_joined joined;
    for (int k = 0; k < 3; k++) {
        joined.sensor[k] = p->sensor_axis[step->sensor[k]];
        joined.phase[k] = p->phase_axis[step->phase[k]];
    }
    return joined;
}

bool person_wiring_right(const person *p, const person_step *step)
{
    world_joined joined = joined_of(p, step);
    return world_right(&p->machine, &joined);
}

static bool needs_inverter(const person *p)
{
    return p->out & OUT_SIXTY_HUB && p->machine.inverted > 0;
}

bool person_sound(const person *p)
{
    return p->silent == CAUSE_NONE && p->loose_phase < 0 && p->loose_sensor < 0 &&
           p->machine.cut_after <= 0.0 && !needs_inverter(p);
}

bool person_troubled(const person *p)
{
    return !person_sound(p) || p->machine.trip_a > 0.0;
}

bool person_trouble_showed(const person *p)
{
    return p->out & OUT_CUTTING ? p->cut_showed : p->out & (OUT_SILENT | OUT_LOOSE);
}

static int mark_at(const int axis_of_mark[3], int axis)
{
    for (int k = 0; k < 3; k++)
        if (axis_of_mark[k] == axis)
            return k;
    return -1;
}

/* Leads that make contact now and then do so, or not. */
static world_machine as_it_is_now(person *p)
{
    world_machine m = p->machine;
    if (p->loose_phase >= 0)
        m.open[p->loose_phase] = chance(p, 0.5);
    if (p->loose_sensor >= 0 && chance(p, 0.5))
        m.stuck[p->loose_sensor] = 1;
    return m;
}

/* ---- mending --------------------------------------------------------------------------------- */

static bool no_five_volts(const person *p)
{
    return p->silent == CAUSE_KEY || p->silent == CAUSE_FIVE_VOLTS || p->silent == CAUSE_PROTECTION;
}

static void wake(person *p)
{
    p->silent = CAUSE_NONE;
    p->machine.silent = false;
}

bool person_mend_supply(person *p)
{
    bool missing = no_five_volts(p);
    if (missing)
        wake(p);
    return missing;
}

bool person_mend(person *p, const char *fault, int lead, FILE *out)
{
    const char *part = NULL;
    bool with_lead = false;
    if (strcmp(fault, "silent") == 0 && p->silent != CAUSE_NONE) {
        part = "controller";
        wake(p);
    } else if (strcmp(fault, "cutting_out") == 0 &&
               (p->machine.trip_a > 0.0 || p->machine.cut_after > 0.0)) {
        part = "protection";
        p->machine.trip_a = p->machine.cut_after = 0.0;
    } else if (strcmp(fault, "loose_lead") == 0 && (p->loose_phase >= 0 || p->loose_sensor >= 0)) {
        part = "loose_lead";
        p->loose_phase = p->loose_sensor = -1;
    } else if (strcmp(fault, "lead_open") == 0 && p->loose_phase >= 0 &&
               mark_at(p->phase_axis, p->loose_phase) == lead) {
        part = "phase_lead_open";
        with_lead = true;
        p->loose_phase = -1;
    } else if (strcmp(fault, "sensor_high") == 0 && p->loose_sensor >= 0 &&
               mark_at(p->sensor_axis, p->loose_sensor) == lead) {
        part = "sensor_stuck_high";
        with_lead = true;
        p->loose_sensor = -1;
    } else if (strcmp(fault, "inverted") == 0 && needs_inverter(p) &&
               mark_at(p->sensor_axis, p->machine.inverted - 1) == lead) {
        part = "inverted_sensor";
        with_lead = true;
        p->machine.inverted = 0;
        p->seen_count = 0;
    }
    if (!part)
        return false;
    fprintf(out, "%s    mend:\n      part: %s\n", time_line, part);
    if (with_lead)
        fprintf(out, "      lead: %c\n", letter[lead]);
    return true;
}

/* ---- readings -------------------------------------------------------------------------------- */

static void put_code(FILE *out, int code)
{
    fprintf(out, "\"%d%d%d\"", code >> 2 & 1, code >> 1 & 1, code & 1);
}

static int misread(person *p, int code)
{
    return chance(p, p->slip) ? (code + 1 + below(p, 7)) % 8 : code;
}

/* The code in the order of the marked sensor leads. */
static int marked_code(const person *p, const world_machine *m, double angle)
{
    int by_axis = world_code(m, angle), code = 0;
    for (int k = 0; k < 3; k++)
        code = 2 * code + (by_axis >> (2 - p->sensor_axis[k]) & 1);
    return p->silent == CAUSE_CODE ? 7 : no_five_volts(p) ? 0 : code;
}

static void read_pairs(person *p, const char *what, const world_machine *m, FILE *out)
{
    static const char *const pair[] = {"V-W", "W-U", "U-V"};
    bool pins = strcmp(what, "pins") == 0, spin = strcmp(what, "spin") == 0;
    fprintf(out, "    %s:\n      %s: {", what,
            pins   ? "continuity"
            : spin ? "voltage_v"
                   : "resistance_ohm");
    for (int k = 0; k < 3; k++) {
        int a = p->phase_axis[(k + 1) % 3], b = p->phase_axis[(k + 2) % 3];
        bool open = (m->open[a] || m->open[b]) != chance(p, p->slip);
        fprintf(out, "%s%s: ", k ? ", " : "", pair[k]);
        if (pins)
            fputs(open ? "no" : "yes", out);
        else if (spin)
            fprintf(out, "%.2f",
                    open ? 0.0 : metered(p, 2.0 * m->ke * m->gear_ratio * 5.0, 0.02, 0.0));
        else if (open)
            fputs("open", out);
        else
            fprintf(out, "%.2f", metered(p, 2.0 * m->resistance + 0.03, 0.03, 0.02));
    }
    fputs("}\n", out);
    if (pins)
        fputs("      touches_shell: no\n      phase_touches_sensor: no\n", out);
    if (spin)
        fprintf(out, "      wheel_speed_rpm: %.1f\n      meter: peak\n", 5.0 * 30.0 / PI);
}

static void read_hand_turn(person *p, const world_machine *m, FILE *out)
{
    double way = (m->clutch ? -1.0 : 1.0) * (chance(p, p->slip) ? -1.0 : 1.0);
    double angle = between(p, 0.0, 2.0 * PI);
    int last = marked_code(p, m, angle), count = 1;
    fputs("    hand_turn:\n      codes: [", out);
    put_code(out, misread(p, last));
    for (int degree = 0; degree < 420 && count < 7; degree++) {
        angle += way * PI / 180.0;
        int code = marked_code(p, m, angle);
        if (code == last)
            continue;
        last = code;
        count++;
        fputs(", ", out);
        put_code(out, misread(p, code));
    }
    fprintf(out, "]\n      direction: %s\n", m->clutch ? "backward" : "forward");
}

/* Nudged both ways the rotor rests between the two places where friction holds it. */
static void read_park(person *p, const world_machine *m, int lead, FILE *out)
{
    int axis = p->phase_axis[lead];
    double amperes = m->gear_ratio > 1.0 ? 3.0 : 4.0;
    double holds = m->rotor.breakaway + m->wheel.breakaway / m->gear_ratio;
    double friction = asin(fmin(1.0, holds / (1.5 * m->ke * amperes)));
    double rest = axis * 2.0 * PI / 3.0;
    bool none = m->open[axis];
    for (int k = 0; k < 3; k++)
        if (k != axis && m->open[k]) /* by two leads only: between both axes */
            rest += (k == (axis + 1) % 3 ? 1.0 : -1.0) * PI / 6.0;
    rest = none ? between(p, 0.0, 2.0 * PI) : rest + 0.5 * friction * between(p, -1.0, 1.0);
    fprintf(out, "    park:\n      plus_lead: %c\n", letter[lead]);
    if (none)
        fputs("      no_current: yes\n", out);
    else
        fputs("      no_current: no\n      code: ", out);
    if (!none)
        put_code(out, misread(p, marked_code(p, m, rest)));
    fputs("\n", out);
}

static void read_probe(person *p, FILE *out)
{
    bool first = true;
    fputs("    controller_probe:\n      rows: {", out);
    for (int code = 0; code < 8; code++) {
        bool within = code > 0 && code < 7;
        int row = within && chance(p, p->slip) ? 1 + below(p, 6) : code;
        fputs(first ? "" : ", ", out);
        put_code(out, code);
        if (p->machine.silent || p->machine.high[row] < 0)
            fputs(": off", out);
        else
            fprintf(out, ": %c > %c", letter[p->machine.high[row]], letter[p->machine.low[row]]);
        first = false;
    }
    fputs("}\n", out);
}

/* The checklist, stopped at the first that is wrong, which is put right. */
static void read_controls(person *p, FILE *out)
{
    static const char *const word[CAUSE_COUNT] = {"nothing",     "key",       "supply",
                                                  "throttle",    "brake",     "pedal_or_switch",
                                                  "sensor_code", "protection"};
    person_cause found = p->silent;
    if (found == CAUSE_NONE && p->machine.trip_a > 0.0) {
        found = CAUSE_PROTECTION;
        p->machine.trip_a = 0.0; /* charged */
    }
    if (p->silent != CAUSE_NONE)
        wake(p);
    fprintf(out, "    controls:\n      found: %s\n", word[found]);
    if (!(p->out & OUT_METERLESS))
        fprintf(out, "      throttle_rest_v: %.2f\n      throttle_full_v: %.2f\n",
                metered(p, p->throttle_rest_v, 0.005, 0.005),
                metered(p, p->throttle_full_v, 0.005, 0.005));
}

static void read_drag(person *p, FILE *out)
{
    const world_machine *m = &p->machine;
    double from = 60.0, speed = from * PI / 30.0, seconds = 0.0;
    double rotor = m->clutch ? 0.0 : 1.0; /* behind the clutch the wheel runs on alone */
    fputs("    drag:\n", out);
    if (!(p->out & OUT_METERLESS))
        fprintf(out, "      idle_a: %.2f\n", metered(p, m->idle_a, 0.03, 0.01));
    while (speed > 0.0 && seconds < 600.0) {
        double against = m->wheel.coulomb + m->wheel.viscous * speed +
                         rotor * (m->rotor.coulomb + m->rotor.viscous * speed);
        speed -= 1e-3 * against / m->wheel_inertia;
        seconds += 1e-3;
    }
    fprintf(out, "      coast_s: %.1f\n      coast_from_rpm: %.0f\n",
            fmax(0.1, metered(p, seconds, 0.05, 0.2)), from);
    fprintf(out, "      rubs: %s\n      other_load: %s\n", p->friction_factor > 2.0 ? "yes" : "no",
            m->idle_a > 0.1 ? "yes" : "no");
}

/* Most contacts that fail now and then give way under a hand; what is found is mended. */
static void read_contacts(person *p, FILE *out)
{
    const char *loose = p->loose_phase >= 0    ? "phase_lead"
                        : p->loose_sensor >= 0 ? "hall_lead"
                                               : NULL;
    if (loose && !chance(p, 0.9))
        loose = NULL;
    if (loose)
        p->loose_phase = p->loose_sensor = -1;
    fprintf(out, "    contacts:\n      loose: %s\n", loose ? loose : "nothing");
}

/* Every controller of this world needs its Hall sensors. */
static void read_hall_plug(FILE *out)
{
    fprintf(out, "    hall_plug:\n      turns: no\n");
}

bool person_read(person *p, const person_step *step, FILE *out)
{
    world_machine m = as_it_is_now(p);
    const char *what = step->reading;
    bool pairs =
        strcmp(what, "pins") == 0 || strcmp(what, "winding") == 0 || strcmp(what, "spin") == 0;
    fputs(time_line, out);
    if (pairs)
        read_pairs(p, what, &m, out);
    else if (strcmp(what, "sensor_supply") == 0)
        fprintf(out, "    sensor_supply:\n      supply_v: %.1f\n",
                no_five_volts(p) ? 0.0 : metered(p, 5.0, 0.01, 0.01));
    else if (strcmp(what, "hand_turn") == 0)
        read_hand_turn(p, &m, out);
    else if (strcmp(what, "park") == 0)
        read_park(p, &m, step->lead, out);
    else if (strcmp(what, "controller_probe") == 0)
        read_probe(p, out);
    else if (strcmp(what, "controls") == 0)
        read_controls(p, out);
    else if (strcmp(what, "contacts") == 0)
        read_contacts(p, out);
    else if (strcmp(what, "drag") == 0)
        read_drag(p, out);
    else if (strcmp(what, "hall_plug") == 0)
        read_hall_plug(out);
    else
        return false;
    return true;
}

/* ---- trials ---------------------------------------------------------------------------------- */

typedef person_watched watched;

static void watch(const world_machine *m, const world_run *r, bool whole, watched *w)
{
    bool cut_short = r->cut_out && r->seconds < 1.2;
    double way = r->wheel_turn;
    /* A controller that goes off and on makes the wheel twitch; it drifts, but does not turn. */
    double seen = r->brown_outs > 0 ? TWITCH_SPEED : SEEN_SPEED;
    bool wheel = fabs(way) > SEEN_TURN && (cut_short || fabs(r->wheel_speed) > seen);
    bool rotor = (r->brown_outs == 0 && fabs(r->window_turn) > PI) ||
                 (cut_short && fabs(r->net_turn) > 2.0 * PI);
    double swing = r->swing / m->pole_pairs / m->gear_ratio;
    bool turns = wheel || rotor;
    w->forward += wheel && way > 0.0;
    w->backward += wheel && way < 0.0;
    w->hum += !wheel && rotor;
    w->shiver += !turns && !r->at_rest && swing > FELT_SWING;
    w->turning += turns;
    if (!whole)
        return;
    w->felt += turns;
    w->rough += turns && r->felt_rms > ROUGH_SHARE * 2.0 * m->ke * 25.0;
    w->cut_short += cut_short;
    w->cut += (r->cut_out || r->brown_outs > 0) && !m->silent;
    w->phase_rms = fmax(w->phase_rms, r->phase_rms);
    if (cut_short)
        return; /* too brief for any meter, and for a look at the supply */
    double reached = m->feed == WORLD_LAMP ? r->lamp_share : r->limited;
    w->limited += reached > 0.2 || r->brown_outs > 0;
    w->unlimited += reached < 0.05 && r->brown_outs == 0;
    *(turns ? &w->amperes : &w->standing_amperes) += r->meter_a;
    *(turns ? &w->metered : &w->standing) += 1;
    if (wheel) {
        w->speed += fabs(r->wheel_speed);
        w->wheel++;
    }
}

static const char *motion_of(person *p, const watched *w)
{
    const char *word = w->shiver > 0 ? "shiver" : "still";
    if ((w->forward > 0) + (w->backward > 0) + (w->hum > 0) > 1)
        word = "both";
    else if (w->forward > 0)
        word = "forward";
    else if (w->backward > 0)
        word = "backward";
    else if (w->hum > 0)
        word = p->machine.clutch ? "hum" : "still";
    if (!chance(p, p->slip))
        return word;
    return w->forward > 0    ? "backward"
           : w->backward > 0 ? "forward"
           : w->shiver       ? "still"
                             : "shiver";
}

/* Feeds the controller as told, or with what there is. */
static world_feed feed_of(const person *p, const person_step *step, world_machine *m)
{
    m->feed = WORLD_BATTERY;
    if (p->out & OUT_SUPPLY) {
        m->feed = WORLD_BENCH_SUPPLY;
        m->limit_a = p->fixed_limit_a;
    } else if ((p->out & OUT_LAMP) || (step->limited && (p->out & OUT_METERLESS))) {
        m->feed = WORLD_LAMP;
    } else if (step->limited) {
        m->feed = WORLD_BENCH_SUPPLY;
        m->limit_a = step->limit_a > 0.0 ? fmin(step->limit_a, 5.0) : 1.0;
    }
    if (m->feed == WORLD_BENCH_SUPPLY)
        m->emf_ohm = 0.1;
    return m->feed;
}

static void put_feed(const world_machine *m, const watched *w, FILE *out)
{
    if (m->feed == WORLD_BENCH_SUPPLY)
        fprintf(out, "      fed_by: bench_supply\n      supply_limit_a: %.1f\n", m->limit_a);
    else
        fputs("      fed_by: lamp\n", out);
    /* Between glowing and dark, or now so, now so: nothing is said. */
    if (w->limited > 0 && w->unlimited == 0)
        fputs("      limit_reached: yes\n", out);
    else if (w->unlimited > 0 && w->limited == 0)
        fputs("      limit_reached: no\n", out);
}

static watched watch_starts(person *p, const world_machine *m, const world_joined *joined)
{
    watched w = {0};
    bool slow = p->out & (OUT_ONE_SIDED | OUT_DRAG) || m->feed != WORLD_BATTERY;
    bool varies = p->loose_phase >= 0 || p->loose_sensor >= 0;
    for (int k = 0; k < STARTS; k++) {
        world_machine now = *m, contact = as_it_is_now(p);
        memcpy(now.open, contact.open, sizeof now.open);
        memcpy(now.stuck, contact.stuck, sizeof now.stuck);
        bool whole = varies || w.felt < 2;
        double seconds = !whole ? 1.0 : slow ? 4.0 : 2.5;
        double angle = between(p, 0.0, 2.0 * PI);
        world_run r = world_spin(&now, joined, angle, seconds, whole ? 0.25 : 0.4, whole);
        watch(&now, &r, whole, &w);
    }
    return w;
}

/* The same, unless it was seen before and nothing comes and goes. */
static watched look_at(person *p, const person_step *step, const world_machine *m)
{
    world_joined joined = joined_of(p, step);
    person_seen now = {step->number, step->throttle, m->limit_a,   m->feed,
                       m->silent,    m->trip_a,      m->cut_after, {0}};
    for (int k = 0; k < p->seen_count; k++) {
        const person_seen *s = &p->seen[k];
        if (s->number == now.number && s->throttle == now.throttle && s->limit_a == now.limit_a &&
            s->feed == now.feed && s->silent == now.silent && s->trip_a == now.trip_a &&
            s->cut_after == now.cut_after)
            return s->watched;
    }
    now.watched = watch_starts(p, m, &joined);
    if (p->seen_count < PERSON_SEEN_MAX && p->loose_phase < 0 && p->loose_sensor < 0)
        p->seen[p->seen_count++] = now;
    return now.watched;
}

void person_try(person *p, const person_step *step, bool plain, FILE *out)
{
    world_machine m = p->machine;
    double share = fmin(1.0, p->duty_factor * step->throttle / 100.0);
    if (step->throttle > 99.0)
        share = 1.0; /* at full grip nothing is guessed */
    m.duty = share;
    world_feed feed = feed_of(p, step, &m);
    watched w = look_at(p, step, &m);
    p->cut_showed = p->cut_showed || w.cut_short > 0;
    fprintf(out, "%s    trial:\n      wiring: %d\n      throttle_percent: %.3g\n", time_line,
            step->number, step->throttle);
    const char *motion = motion_of(p, &w);
    fprintf(out, "      motion: %s\n", motion);
    bool moves = strcmp(motion, "still") != 0 && strcmp(motion, "shiver") != 0;
    if (w.felt > 0 && moves)
        fprintf(out, "      feel: %s\n",
                (2 * w.rough >= w.felt) != chance(p, p->slip) ? "rough" : "smooth");
    fprintf(out, "      starts: %d\n      starts_tried: %d\n", moves ? w.turning : 0, STARTS);
    bool meters = !(p->out & OUT_METERLESS);
    if (meters && w.metered + w.standing > 0) {
        double amperes = w.metered > 0 ? w.amperes / w.metered : w.standing_amperes / w.standing;
        fprintf(out, "      battery_a: %.2f\n", metered(p, amperes, 0.03, 0.02));
    }
    if (meters && w.wheel > 0 && moves)
        fprintf(out, "      wheel_speed_rpm: %.0f\n",
                metered(p, w.speed / w.wheel * 30.0 / PI, 0.02, 0.5));
    if (!m.silent)
        fprintf(out, "      cut_out: %s\n", w.cut > 0 ? "yes" : "no");
    if (w.phase_rms > 15.0 || w.phase_rms < 4.0)
        fprintf(out, "      warm: %s\n", w.phase_rms > 15.0 ? "yes" : "no");
    if (feed != WORLD_BATTERY && !plain)
        put_feed(&m, &w, out);
    if (step->signal_asked && meters && !plain)
        fprintf(out, "      throttle_signal_v: %.2f\n",
                metered(p, p->throttle_rest_v + share * (p->throttle_full_v - p->throttle_rest_v),
                        0.005, 0.005));
}
