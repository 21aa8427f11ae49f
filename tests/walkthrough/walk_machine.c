/*
 * The seed library's tricycle as it truly is, for docs/walkthrough.md: what a person with hand
 * meters reads at it. Prints NAME=VALUE lines that tests/walkthrough/walkthrough.sh puts into its
 * commands.
 *
 * Nothing of hubphase is included. The wheel runs in the hidden bench's own simulator
 * (tests/hidden_bench/bench_world.c); coasting and warming are stepped here. The machine is not
 * what scenarios/seedtrike.yaml states: its labels and guesses are off, as labels and guesses are.
 * Meters are off by fixed amounts, and show the digits that such meters have.
 *
 *   walk_machine WIRING    such as "white, brown, grey / blue, green, yellow": the wiring that is
 * tried
 */
#include "../hidden_bench/bench_world.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define PI      3.14159265358979323846
#define RPM     (60.0 / (2.0 * PI))
#define ALPHA   0.00393 /* of copper, about 20 C */
#define PACK    0.062   /* [ohm] of the battery alone; the rest is fuse, plugs and leads */
#define IDLE_A  0.055
#define ROOM_C  16.0
#define RIM_KG  1.35 /* rim, tyre, tube at this radius [m] */
#define RIM_M   0.190
#define RING_KG 2.4 /* shell and magnets */
#define RING_M  0.098

/* Which axis each lead sits on, in the order of the scenario's names: what the bench must find out.
 */
static const char *const sensor_name[] = {"white", "grey", "brown"};
static const char *const phase_name[] = {"yellow", "green", "blue"};
static const int sensor_axis[] = {1, 0, 2}, phase_axis[] = {2, 0, 1};

/* ---- the machine -------------------------------------------------------------------------------
 */

static world_machine machine_at(double duty)
{
    static const struct {
        int code, high, low;
    } row[] = {{4, 1, 2}, {6, 1, 0}, {2, 2, 0}, {3, 2, 1}, {1, 0, 1}, {5, 0, 2}};
    world_machine m = {.pole_pairs = 20,
                       .resistance = 0.131 * (1.0 + ALPHA * (ROOM_C - 20.0)),
                       .inductance = 0.24e-3,
                       .ke = 0.742,
                       .flat = 112.0 * PI / 180.0,
                       .wheel_inertia = RIM_KG * RIM_M * RIM_M * 1.04 + RING_KG * RING_M * RING_M,
                       .gear_ratio = 1.0,
                       .rotor = {0.24, 0.33, 0.0055},
                       .cogging = 0.08,
                       .cogging_phase = 1.1,
                       .cogging_order = 6,
                       .placement = {0.03, -0.02, 0.04},
                       .hysteresis = 1.8 * PI / 180.0,
                       .stuck = {-1, -1, -1},
                       .duty = duty,
                       .ramp = 1.0,
                       .battery_limit = 13.6,
                       .phase_limit = 34.0,
                       .filter = 0.01,
                       .limiter = 5.0,
                       .stall_cutout = 1.5,
                       .switch_ohm = 0.004,
                       .diode_drop = 0.8,
                       .pwm_hz = 16000.0,
                       .pwm = WORLD_AVERAGED,
                       .emf = 39.4,
                       .emf_ohm = PACK + 0.031,
                       .idle_a = IDLE_A};
    for (int code = 0; code < 8; code++)
        m.high[code] = m.low[code] = -1;
    for (int k = 0; k < 6; k++) {
        m.high[row[k].code] = row[k].high;
        m.low[row[k].code] = row[k].low;
    }
    return m;
}

/* ---- meters ------------------------------------------------------------------------------------
 */

static double speed_read(double rad_s)
{
    return rad_s * RPM * 1.012;
}

static double ampere_read(double ampere)
{
    return fmax(0.0, 1.015 * ampere + 0.01);
}

static double volt_read(double volt)
{
    return 0.996 * volt;
}

/* BEFORE and NAME together are the name. */
static void print(const char *before, const char *name, double value, int digits)
{
    printf("%s%s=%.*f\n", before, name, digits, value);
}

/* ---- still: plug, winding, Hall sensors --------------------------------------------------------
 */

/* Digits in the order of the scenario's names. */
static void print_code(const char *before, int code)
{
    printf("%s", before);
    for (int k = 0; k < 3; k++)
        putchar('0' + (code >> (2 - sensor_axis[k]) & 1));
}

static void read_still(const world_machine *m)
{
    print("", "hall_v", volt_read(4.96), 2);
    double pair = 2.0 * m->resistance + 0.03; /* with the meter's own leads, on a milliohm range */
    print("", "yellow_green_ohm", pair, 2);
    print("", "green_blue_ohm", pair * 1.012, 2);
    print("", "blue_yellow_ohm", pair * 0.99, 2);
    print("", "test_leads_ohm", 0.03, 2);
    print("", "room_c", ROOM_C, 0);
    printf("codes=");
    for (int k = 0; k <= 6; k++)
        print_code(k ? "," : "", world_code(m, (25.0 + 60.0 * k) * PI / 180.0));
    printf("\nedges=%d\n", 2 * m->pole_pairs);
    /* One lead at plus, two at minus: the rotor turns until that axis holds it, all but for its
     * friction. */
    for (int k = 0; k < 3; k++) {
        printf("park_%s", phase_name[k]);
        print_code("=", world_code(m, (120.0 * phase_axis[k] + 6.0) * PI / 180.0));
        printf("\n");
    }
}

/* ---- running -----------------------------------------------------------------------------------
 */

static int lead_of(const char *const name[3], const char **text)
{
    *text += strspn(*text, ", /");
    for (int k = 0; k < 3; k++)
        if (strncmp(*text, name[k], strlen(name[k])) == 0) {
            *text += strlen(name[k]);
            return k;
        }
    return -1;
}

static bool joined_of(const char *text, world_joined *joined)
{
    for (int j = 0; j < 6; j++) {
        int lead = lead_of(j < 3 ? sensor_name : phase_name, &text);
        if (lead < 0)
            return false;
        if (j < 3)
            joined->sensor[j] = sensor_axis[lead];
        else
            joined->phase[j - 3] = phase_axis[lead];
    }
    return *text == '\0';
}

typedef struct steady {
    double rad_s, ampere, volt;
} steady;

static steady run(const world_machine *m, const world_joined *joined, double angle)
{
    world_run r = world_spin(m, joined, angle, 40.0, 1.0, true);
    return (steady){r.wheel_speed, r.meter_a, m->emf - m->emf_ohm * r.meter_a};
}

static void print_steady(const char *before, const char *throttle, const steady *s)
{
    printf("%s%s_rpm=%.0f\n", before, throttle, speed_read(s->rad_s));
    printf("%s%s_a=%.2f\n", before, throttle, ampere_read(s->ampere));
    printf("%s%s_v=%.2f\n", before, throttle, volt_read(s->volt));
}

/* From the bench supply, as the advice has it; whether it starts from each of six places. */
static void read_trial(const world_joined *joined)
{
    world_machine m = machine_at(0.35);
    m.feed = WORLD_BENCH_SUPPLY;
    m.emf = 37.0;
    m.emf_ohm = 0.02;
    m.limit_a = 1.7;
    m.bus_farad = 1e-3;
    int starts = 0;
    steady s = {0};
    for (int k = 0; k < 6; k++) {
        s = run(&m, joined, k * PI / 3.0 + 0.2);
        starts += s.rad_s > 1.0;
    }
    print_steady("trial", "", &s);
    printf("trial_starts=%d\n", starts);
    print("", "battery_v", volt_read(machine_at(0.0).emf - machine_at(0.0).emf_ohm * IDLE_A), 1);
}

/* The time at which the undriven wheel falls to a speed, by Runge and Kutta. */
static double slowed(const world_machine *m, double w)
{
    return w > 0.0 ? -(m->rotor.coulomb + m->rotor.viscous * w) / m->wheel_inertia : 0.0;
}

static double speed_after(const world_machine *m, double w, double seconds, double *stopped)
{
    const double dt = 1e-3;
    double t = 0.0;
    for (; t < seconds && w > 0.0; t += dt) {
        double a = slowed(m, w), b = slowed(m, w + 0.5 * dt * a);
        double c = slowed(m, w + 0.5 * dt * b), d = slowed(m, w + dt * c);
        w += dt * (a + 2.0 * b + 2.0 * c + d) / 6.0;
    }
    if (stopped)
        *stopped = t;
    return fmax(0.0, w);
}

static void read_coast(const char *name, const world_machine *m, double rad_s)
{
    double stopped;
    print(name, "_from_rpm", speed_read(rad_s), 0);
    for (int k = 1; k <= 2; k++) {
        print(name, k == 1 ? "_after_1_rpm" : "_after_2_rpm",
              speed_read(speed_after(m, rad_s, 1.0 * k, NULL)), 0);
    }
    speed_after(m, rad_s, 100.0, &stopped);
    print(name, "_coast_s", stopped, 1);
}

/* ---- warming: two phases in series, the third and the hub --------------------------------------
 */

typedef struct warmth {
    double two, third, hub;
} warmth;

static double ohm_of(const warmth *x)
{
    return 2.0 * 0.131 * (1.0 + ALPHA * (x->two - 20.0));
}

static void warm(warmth *x, double ampere, double seconds)
{
    /* 250 J/K of copper, 0.17 K/W to a stator core of 900 J/K, 0.7 K/W on to shell and air. */
    const double dt = 0.01, copper = 250.0, way = 0.17;
    for (double t = 0.0; t < seconds - 0.5 * dt; t += dt) {
        double two = (x->two - x->hub) / (1.5 * way), third = (x->third - x->hub) / (3.0 * way);
        double power = ampere * ampere * ohm_of(x);
        x->two += dt * (power - two) / (copper * 2.0 / 3.0);
        x->third -= dt * third / (copper / 3.0);
        x->hub += dt * (two + third - (x->hub - ROOM_C) / 0.7) / 900.0;
    }
}

static void read_heating(const char *name)
{
    static const int moment[] = {30, 60, 120};
    static const char *const heated[] = {"_heat_30_v", "_heat_60_v", "_heat_120_v"};
    static const char *const rested[] = {"_rest_30_v", "_rest_60_v", "_rest_120_v"};
    const double ampere = 15.0;
    warmth x = {ROOM_C, ROOM_C, ROOM_C};
    double t = 1.5;
    warm(&x, ampere, t);
    print(name, "_heat_start_v", volt_read(ampere * ohm_of(&x)), 3);
    for (int k = 0; k < 3; k++) {
        warm(&x, ampere, moment[k] - t);
        t = moment[k];
        print(name, heated[k], volt_read(ampere * ohm_of(&x)), 3);
    }
    t = 0.0;
    for (int k = 0; k < 3; k += 2) {
        warm(&x, 0.0, moment[k] - t);
        t = moment[k];
        print(name, rested[k], volt_read(ampere * ohm_of(&x)), 3);
    }
}

/* ---- the steps of commissioning ----------------------------------------------------------------
 */

/* What is read once the wheel runs, in one season. */
static void read_season(const char *name, double drag, const world_joined *joined)
{
    world_machine full = machine_at(1.0), half = machine_at(0.5);
    full.rotor.coulomb *= drag;
    half.rotor = full.rotor;
    steady at_full = run(&full, joined, 0.2), at_half = run(&half, joined, 0.2);
    print(name, "_idle_a", ampere_read(IDLE_A), 2);
    print_steady(name, "_full", &at_full);
    print_steady(name, "_half", &at_half);
    read_coast(name, &full, at_full.rad_s);
    read_heating(name);
}

static void read_sag(const world_machine *m)
{
    const double low = 0.45, high = 8.2;
    print("", "sag_low_a", ampere_read(low), 2);
    print("", "sag_low_v", volt_read(m->emf - m->emf_ohm * low), 2);
    print("", "sag_high_a", ampere_read(high), 2);
    print("", "sag_high_v", volt_read(m->emf - m->emf_ohm * high), 2);
    print("", "sag_terminal_v", volt_read(m->emf - PACK * high), 2);
}

int main(int argc, char **argv)
{
    world_joined joined;
    world_machine m = machine_at(1.0);
    if (argc != 2 || !joined_of(argv[1], &joined)) {
        fprintf(stderr, "walk_machine: one wiring is expected, Hall leads / phase leads\n");
        return 2;
    }
    if (!world_right(&m, &joined)) {
        fprintf(stderr, "walk_machine: %s is not a correct wiring of this machine\n", argv[1]);
        return 1;
    }
    read_still(&m);
    read_trial(&joined);
    read_season("then", 1.0, &joined);
    read_sag(&m);
    read_season("now", 2.1, &joined); /* a bearing that a wet winter dried out */
    print("", "rim_kg", RIM_KG, 2);
    print("", "rim_m", RIM_M, 2);
    print("", "ring_kg", RING_KG, 1);
    print("", "ring_m", RING_M, 2);
    return 0;
}
