/*
 * Golden figures: a few wirings of three unlike drives, so that a change of the physics or of what
 * a figure means cannot go unseen.
 *
 * The table was computed by this engine at a tolerance of 1e-12. The runs below use 1e-9, at which
 * the same figures came out within 2e-5 of it; the tolerance is five times that.
 */
#include "runs.h"

#include "reference_drives.h"

#define GOLDEN 1e-4

enum { NET_TURN, SPEED, TORQUE, TORQUE_RMS, BATTERY, PHASE_RMS, COPPER, DUTY, GOLDEN_COUNT };

typedef struct golden {
    hp_reference_drive drive;
    int wiring; /* 1 smooth, 2 opposed, 4 early, 5 late */
    int window_turns;
    long sensor_edges;
    double figure[GOLDEN_COUNT];
} golden;

/* clang-format off */
static const golden table[] = {
    {HP_DRIVE_DIRECT, 1, 7, 49, {108.606711, 9.21686834, 0.396084707, 0.0461006999, 0.0990425718, 0.203793466, 0.012957717, 0.4}},
    {HP_DRIVE_DIRECT, 2, 0, 14, {-1.46055506, 5.08234399e-09, -0.00179438785, 30.1557913, 5.30355481, 30.550001, 192.739744, 0.179925875}},
    {HP_DRIVE_DIRECT, 4, 10, 71, {-150.769872, -13.3015359, -0.416613678, 20.1850433, 5.48245365, 24.1913611, 180.766196, 0.39994229}},
    {HP_DRIVE_DIRECT, 5, 5, 39, {-88.1924242, -7.31408531, -0.387594187, 13.4408186, 5.42361529, 24.2361927, 182.146658, 0.343474317}},
    {HP_DRIVE_GEARED, 1, 28, 172, {373.073943, 74.7008718, 0.119749291, 0.101329083, 0.188005755, 0.514042139, 0.0665644933, 0.4}},
    {HP_DRIVE_GEARED, 2, 0, 27, {-1.58044819, -0.00135912665, 0.0306419839, 5.3705118, 3.32342445, 30.658427, 156.382383, 0.113559058}},
    {HP_DRIVE_GEARED, 4, 42, 257, {-567.815017, -112.05305, -0.104468031, 3.67550484, 3.60677881, 24.0831455, 144.273785, 0.335991495}},
    {HP_DRIVE_GEARED, 5, 14, 86, {-207.858648, -37.4879477, -0.07511812, 2.04543451, 3.32364349, 23.8526113, 142.223691, 0.223941953}},
    {HP_DRIVE_SINE, 1, 7, 47, {98.2520383, 13.5772126, 0.258625029, 0.251717923, 0.15035725, 0.475334716, 0.0907638563, 0.4}},
    {HP_DRIVE_SINE, 2, 0, 7, {-0.915310279, -0.00310370172, 0.0136162971, 14.1412084, 11.2886341, 28.9097812, 262.15849, 0.399902889}},
    {HP_DRIVE_SINE, 4, 10, 67, {-124.788267, -19.5216013, -0.555364353, 3.55582893, 2.89020858, 11.1310941, 53.2439856, 0.4}},
    {HP_DRIVE_SINE, 5, 7, 44, {-90.9112584, -12.9255075, -0.270721437, 2.42715825, 2.73402148, 11.4428719, 56.5284393, 0.4}},
};
/* clang-format on */

static void figures_are_what_they_were(void **state)
{
    (void)state;
    static const char *const name[GOLDEN_COUNT] = {
        "net turn",        "speed",     "torque",       "torque rms",
        "battery current", "phase rms", "copper power", "duty"};
    hp_engine *engine = make_engine();
    for (size_t k = 0; k < sizeof table / sizeof table[0]; k++) {
        const golden *g = &table[k];
        hp_drive d = hp_reference_drive_make(g->drive);
        hp_run_options o = run_for(0.6, 0.4);
        o.tolerance = 1e-9;
        hp_figures f = run_wiring(engine, &d, g->wiring, &o, NULL);
        const double found[GOLDEN_COUNT] = {
            f.net_turn,        f.speed,     f.torque_mean,  f.torque_rms,
            f.battery_current, f.phase_rms, f.copper_power, f.duty};
        check_int(f.window_turns, g->window_turns);
        check_int(f.sensor_edges, g->sensor_edges);
        /* Means that may be nothing beside what they are the means of. */
        const double about[GOLDEN_COUNT] = {[SPEED] = f.speed_sd, [TORQUE] = f.torque_rms};
        for (int n = 0; n < GOLDEN_COUNT; n++)
            check_true(fabs(found[n] - g->figure[n]) <= GOLDEN * fmax(fabs(g->figure[n]), about[n]),
                       "%s, wiring %d: %s is %.9g, was %.9g", hp_reference_drive_name(g->drive),
                       g->wiring, name[n], found[n], g->figure[n]);
    }
    hp_engine_free(engine);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures_are_what_they_were),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
