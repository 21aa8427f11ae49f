/* What is drawn, believed, seen and written down: see the header. */
#include "finished_person.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#define PI  3.14159265358979323846
#define RPM (60.0 / (2.0 * PI))

const char *const left_out_names[LEFT_COUNT] = {"nothing",
                                                "half throttle",
                                                "current at full throttle",
                                                "speed at full throttle",
                                                "when it stood",
                                                "a moment",
                                                "idle draw",
                                                "coast-down",
                                                "volts under load",
                                                "heating",
                                                "room temperature",
                                                "volts after heating",
                                                "inertia"};

/* ---- chance --------------------------------------------------------------------------------- */

static uint64_t next(finished_person *p)
{
    uint64_t z = p->random += 0x9e3779b97f4a7c15u; /* splitmix64 */
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

double finished_person_between(finished_person *p, double low, double high)
{
    return low + (high - low) * ((double)(next(p) >> 11) / 9007199254740992.0);
}

#define between finished_person_between

static double by_factor(finished_person *p, double low, double high)
{
    return exp(between(p, log(low), log(high)));
}

static bool chance(finished_person *p, double share)
{
    return between(p, 0.0, 1.0) < share;
}

static double normal(finished_person *p)
{
    double sum = 0.0;
    for (int k = 0; k < 12; k++)
        sum += between(p, 0.0, 1.0);
    return sum - 6.0;
}

/* ---- machines ------------------------------------------------------------------------------- */

static void link_heat(finished_machine *m, int a, int b, double w_per_k)
{
    m->heat_w_per_k[a][b] = m->heat_w_per_k[b][a] = w_per_k;
}

/* Copper 385, iron 450, aluminium 900 J/(kg K); ways of heat drawn. */
static void draw_heat(finished_person *p, finished_machine *m)
{
    double copper = by_factor(p, 0.3, 1.1) * 385.0, core = copper * between(p, 2.5, 5.0);
    double to_core = copper / by_factor(p, 25.0, 90.0); /* W/K of all copper: from its own time */
    m->slot_share = between(p, 0.5, 0.7);
    m->heat_j_per_k[HEAT_SLOTS_2] = copper * m->slot_share * 2.0 / 3.0;
    m->heat_j_per_k[HEAT_SLOTS_1] = copper * m->slot_share / 3.0;
    m->heat_j_per_k[HEAT_ENDS_2] = copper * (1.0 - m->slot_share) * 2.0 / 3.0;
    m->heat_j_per_k[HEAT_ENDS_1] = copper * (1.0 - m->slot_share) / 3.0;
    m->heat_j_per_k[HEAT_CORE] = core;
    m->heat_j_per_k[HEAT_AXLE] = between(p, 250.0, 500.0);
    m->heat_j_per_k[HEAT_SHELL] = between(p, 900.0, 2200.0);
    double ends = between(p, 0.1, 0.3); /* share of the way that starts from the end turns */
    link_heat(m, HEAT_SLOTS_2, HEAT_CORE, to_core * (1.0 - ends) * 2.0 / 3.0);
    link_heat(m, HEAT_SLOTS_1, HEAT_CORE, to_core * (1.0 - ends) / 3.0);
    link_heat(m, HEAT_ENDS_2, HEAT_CORE, to_core * ends * 2.0 / 3.0);
    link_heat(m, HEAT_ENDS_1, HEAT_CORE, to_core * ends / 3.0);
    double along = to_core * between(p, 0.5, 1.5); /* along the wire */
    link_heat(m, HEAT_SLOTS_2, HEAT_ENDS_2, along * 2.0 / 3.0);
    link_heat(m, HEAT_SLOTS_1, HEAT_ENDS_1, along / 3.0);
    link_heat(m, HEAT_SLOTS_2, HEAT_SLOTS_1, to_core * between(p, 0.02, 0.1)); /* side by side */
    link_heat(m, HEAT_CORE, HEAT_AXLE, between(p, 1.0, 4.0));
    link_heat(m, HEAT_CORE, HEAT_SHELL, between(p, 1.0, 3.0));
    m->air_w_per_k[HEAT_SHELL] = between(p, 0.6, 1.2);
    m->air_w_per_k[HEAT_AXLE] = between(p, 0.02, 0.1);
    m->room_c = between(p, 5.0, 28.0);
}

static void draw_drag(finished_person *p, finished_machine *m, double full_rad_s)
{
    /* On the wheel, then brought to the rotor. */
    double g = m->gear_ratio, total = by_factor(p, 0.35, 1.5);
    double share[5] = {between(p, 0.3, 1.0), between(p, 0.05, 0.35), between(p, 0.1, 0.6),
                       between(p, 0.05, 0.3), between(p, 0.02, 0.1)};
    double sum = share[0] + share[1] + share[2] + share[3] + share[4];
    m->rotor_coulomb = total * share[0] / sum / g;
    m->rotor_viscous = total * share[1] / sum / g / (full_rad_s * g);
    m->iron_power = between(p, 0.4, 0.8);
    m->iron = total * share[2] / sum / g / pow(full_rad_s * g, m->iron_power);
    m->wheel_coulomb = total * share[3] / sum;
    m->air = total * share[4] / sum / full_rad_s / full_rad_s;
    m->wheel_viscous = 0.0;
    if (m->clutch) { /* the freewheel's own drag is the wheel's then */
        m->wheel_coulomb = between(p, 0.04, 0.15);
        m->wheel_viscous = m->wheel_coulomb * between(p, 0.2, 0.8) / full_rad_s;
    }
    m->breakaway = total * between(p, 0.1, 0.5);
}

static void draw_machine(finished_person *p, finished_machine *m)
{
    static const double packs[] = {24.0, 36.0, 37.0, 48.0, 52.0};
    double nominal = packs[(int)between(p, 0.0, 4.999)];
    bool geared = chance(p, 0.45);
    m->emf = nominal * between(p, 0.95, 1.13);
    m->pole_pairs = geared ? (int)between(p, 8.0, 11.0) : (int)between(p, 20.0, 28.0);
    m->gear_ratio = geared ? between(p, 4.0, 6.0) : 1.0;
    m->clutch = geared && chance(p, 0.6);
    double full_rad_s = between(p, 160.0, 330.0) / RPM * nominal / m->emf * m->emf / nominal;
    m->ke = m->emf / (full_rad_s * m->gear_ratio) / 1.65;
    double rated = by_factor(p, 180.0, 1000.0);
    m->ohm_20 = 0.5 * between(p, 0.06, 0.16) * m->emf * m->emf / rated;
    m->henry = m->ohm_20 * by_factor(p, 0.8e-3, 3e-3);
    m->flatness = between(p, 0.0, 1.0);
    double together = normal(p) * 3.0;
    for (int k = 0; k < 3; k++)
        m->placement[k] = (together + normal(p) * 2.0) * PI / 180.0;
    m->one_sided = chance(p, 0.4);
    m->half_duty = between(p, 0.4, 0.65);
    m->switch_ohm = between(p, 0.003, 0.01);
    m->diode_v = 0.8;
    m->pwm_hz = 16000.0;
    m->idle_a = by_factor(p, 0.02, 0.15) + (chance(p, 0.4) ? between(p, 0.05, 0.4) : 0.0);
    m->off_a = chance(p, 0.9) ? 0.0 : between(p, 0.0, 0.02);
    m->running_w = between(p, 0.05, 0.4); /* gates and edges */
    m->pack_ohm = by_factor(p, 0.04, 0.2);
    m->lead_ohm = by_factor(p, 0.01, 0.06);
    m->slow_ohm = m->pack_ohm * between(p, 0.1, 0.4);
    m->slow_s = between(p, 10.0, 60.0);
    m->unloaded_per_s = between(p, 0.0, 0.002);
    m->wheel_inertia = by_factor(p, 0.07, 0.28);
    m->rotor_inertia = geared ? by_factor(p, 0.001, 0.003) : 0.0;
    draw_drag(p, m, full_rad_s);
    draw_heat(p, m);
}

static void draw_meters(finished_person *p, person_meters *s)
{
    s->speed = (speed_meter)(int)between(p, 0.0, 2.999);
    s->speed_gain =
        1.0 + (s->speed == SPEED_SPEEDOMETER ? between(p, 0.01, 0.02) * normal(p) : 0.0);
    s->ampere_gain = 1.0 + between(p, 0.01, 0.02) * normal(p);
    s->ampere_zero = 0.03 * normal(p);
    s->volt_gain = 1.0 + between(p, 0.004, 0.01) * normal(p);
    s->volt_counts = chance(p, 0.6) ? 6000 : 2000;
    s->supply_gain = 1.0 + between(p, 0.01, 0.02) * normal(p);
    s->weighed_gain = 1.0 + 0.03 * normal(p);
    s->radius_error_m = 0.004 * normal(p);
    s->room_error = 1.5 * normal(p);
}

void finished_person_run(finished_person *p)
{
    const finished_machine *m = &p->machine;
    p->full = finished_run_on_pack(m, 1.0);
    p->half = finished_run_on_pack(m, m->half_duty);
    p->at_stated = finished_run_at(m, p->stated_volts, 1.0, true);
    p->free_of_loss = finished_run_at(m, p->stated_volts, 1.0, false);
}

finished_person finished_person_draw(uint64_t seed, int index)
{
    finished_person p;
    memset(&p, 0, sizeof p);
    p.random = seed * 1000003u + (uint64_t)index;
    (void)next(&p);
    draw_machine(&p, &p.machine);
    draw_meters(&p, &p.meters);
    p.left = chance(&p, 0.35) ? LEFT_NOTHING : (left_out)(int)between(&p, 1.0, LEFT_COUNT - 0.001);
    const finished_machine *m = &p.machine;
    p.stated_volts = round(m->emf);
    p.stated_rpm =
        round(p.stated_volts / (1.65 * m->ke) / m->gear_ratio * RPM * by_factor(&p, 0.93, 1.07));
    p.stated_lead_ohm = 2.0 * m->ohm_20 * by_factor(&p, 0.85, 1.18);
    p.stated_inertia = m->wheel_inertia * by_factor(&p, 0.9, 1.1);
    p.stated_supply_ohm = (m->pack_ohm + m->lead_ohm) * by_factor(&p, 0.5, 2.0);
    p.stated_mh = 2e3 * m->henry * by_factor(&p, 0.7, 1.4);
    p.weighs = chance(&p, 0.5);
    p.supply_most_a = chance(&p, 0.25) ? 5.0 : chance(&p, 0.67) ? 10.0 : 20.0;
    finished_person_run(&p);
    return p;
}

void finished_person_scenario(const finished_person *p, const char *name, FILE *out)
{
    const finished_machine *m = &p->machine;
    fprintf(out, "hubphase: 1\nname: %s\nmotor:\n  pole_pairs: %d\n", name, m->pole_pairs);
    fprintf(out, "  resistance_between_leads_ohm: %.3f\n", p->stated_lead_ohm);
    fprintf(out, "  inductance_between_leads_mh: %.3f\n", p->stated_mh);
    fprintf(out, "  no_load_speed_rpm_at_v: {speed_rpm: %.0f, volts: %.0f}\n", p->stated_rpm,
            p->stated_volts);
    if (m->gear_ratio > 1.0)
        fprintf(out, "  rotor_inertia_kg_m2: %.4f\n", m->rotor_inertia * 1.1);
    fprintf(out, "supply:\n  battery_v: %.1f\n  resistance_mohm: %.0f\n", p->stated_volts,
            1e3 * p->stated_supply_ohm);
    fprintf(out, "stand:\n");
    if (!p->weighs && p->left != LEFT_INERTIA)
        fprintf(out, "  wheel_inertia_kg_m2: %.3f\n", p->stated_inertia);
    fprintf(out, "  gear_ratio: %.2f\n  clutch: %s\n", m->gear_ratio, m->clutch ? "yes" : "no");
}

/* ---- meters --------------------------------------------------------------------------------- */

static double digits(double value, double step)
{
    return step * round(value / step);
}

static double show_volts(finished_person *p, double volts)
{
    const person_meters *s = &p->meters;
    double v = volts * s->volt_gain * (1.0 + 0.001 * normal(p)), step = 1e-4;
    while (v > step * s->volt_counts)
        step *= 10.0;
    return digits(v, step);
}

static double show_amperes(finished_person *p, double amperes)
{
    const person_meters *s = &p->meters;
    double a = amperes * s->ampere_gain * (1.0 + 0.004 * normal(p)) + s->ampere_zero;
    return fmax(0.0, digits(a, fabs(a) < 20.0 ? 0.01 : 0.1));
}

static double show_rpm(finished_person *p, double rad_s)
{
    const person_meters *s = &p->meters;
    double rpm = rad_s * RPM;
    if (s->speed == SPEED_TACHOMETER)
        return digits(rpm * (1.0 + 0.003 * normal(p)), 0.1);
    if (s->speed == SPEED_SPEEDOMETER) /* km/h to a tenth, brought back by the wheel's size */
        return digits(digits(rpm * s->speed_gain * 0.125, 0.1) / 0.125, 0.1);
    /* Turns counted on a film for twenty seconds, to a quarter turn; one wrong now and then. */
    double turns = digits(rpm / 60.0 * 20.0, 0.25), seconds = 20.0 + 0.1 * normal(p);
    if (chance(p, 0.1))
        turns += chance(p, 0.5) ? 1.0 : -1.0;
    return digits(turns / seconds * 60.0, 0.1);
}

/* From a film: the time of one turn or two. */
static double film_rpm(finished_person *p, double rad_s)
{
    return digits(rad_s * RPM * (1.0 + 0.012 * normal(p)), 1.0);
}

/* ---- the steps ------------------------------------------------------------------------------ */

static void put(char args[PERSON_ARGS], const char *format, ...)
{
    size_t used = strlen(args);
    va_list list;
    va_start(list, format);
    vsnprintf(args + used, PERSON_ARGS - used, format, list);
    va_end(list);
}

static bool read_idle(finished_person *p, char *args)
{
    const finished_machine *m = &p->machine;
    put(args, " --idle-a=%.2f", show_amperes(p, m->idle_a));
    if (chance(p, 0.5))
        put(args, " --off-a=%.2f", fmax(0.0, show_amperes(p, m->off_a)));
    return true;
}

static bool read_no_load(finished_person *p, char *args)
{
    finished_run full = p->full, half = p->half;
    put(args, " --full-v=%.2f", show_volts(p, full.volts));
    if (p->left != LEFT_SPEED)
        put(args, " --full-speed-rpm=%.1f", show_rpm(p, full.wheel_rad_s));
    if (p->left != LEFT_FULL_A)
        put(args, " --full-a=%.2f", show_amperes(p, full.battery_a));
    if (p->left == LEFT_HALF)
        return true;
    put(args, " --half-v=%.2f --half-speed-rpm=%.1f --half-a=%.2f", show_volts(p, half.volts),
        show_rpm(p, half.wheel_rad_s), show_amperes(p, half.battery_a));
    return true;
}

static bool read_coast(finished_person *p, char *args)
{
    const finished_machine *m = &p->machine;
    double from = p->full.wheel_rad_s, stop;
    (void)finished_coast(m, from, 1e9, &stop);
    put(args, " --coast-from-rpm=%.1f", show_rpm(p, from));
    if (p->left != LEFT_STOP)
        put(args, " --coast-s=%.1f", stop + 0.2 * normal(p));
    int marks = p->left == LEFT_MARK ? 1 : (int)between(p, 1.0, 3.999), k = 0;
    for (int n = 1; n <= marks; n++) {
        double at = stop * n / (marks + 1.0), seen = digits(at + 0.05 * normal(p), 0.1);
        double rpm = film_rpm(p, finished_coast(m, from, at, NULL));
        put(args, " --after-%d-s=%.1f --after-%d-rpm=%.0f", k + 1, seen, k + 1, rpm);
        k++;
    }
    if (p->weighs && p->left != LEFT_INERTIA) {
        /* Rim, tyre and tube weighed; the spokes are forgotten. Hub shell with the magnets of a
         * direct drive: a tenth or so of the whole. */
        double ring = m->gear_ratio > 1.0 ? 0.0 : 0.1 * m->wheel_inertia,
               spokes = between(p, 0.0, 0.03);
        double radius = between(p, 0.22, 0.3), rim = m->wheel_inertia * (1.0 - spokes) - ring;
        put(args, " --rim-kg=%.2f --rim-radius-m=%.3f",
            rim / radius / radius * p->meters.weighed_gain, radius + p->meters.radius_error_m);
        if (ring > 0.0 && chance(p, 0.7))
            put(args, " --ring-kg=%.2f --ring-radius-m=%.3f",
                ring / 0.1 / 0.1 * p->meters.weighed_gain, 0.1 + 0.5 * p->meters.radius_error_m);
    }
    return true;
}

static bool read_sag(finished_person *p, char *args)
{
    const finished_machine *m = &p->machine;
    double low = p->full.battery_a, high = between(p, 6.0, 12.0);
    double low_a = show_amperes(p, low), low_v = show_volts(p, finished_pack_v(m, low, 5.0, true));
    double high_s = between(p, 3.0, 8.0);
    put(args, " --low-a=%.2f --low-v=%.2f --high-a=%.2f --high-v=%.2f", low_a, low_v,
        show_amperes(p, high), show_volts(p, finished_pack_v(m, high, high_s, true)));
    if (chance(p, 0.5))
        put(args, " --terminal-v=%.2f", show_volts(p, finished_pack_v(m, high, high_s, false)));
    return true;
}

static bool read_heating(finished_person *p, char *args)
{
    const finished_machine *m = &p->machine;
    const double marks[] = {30.0, 60.0, 120.0}, rests[] = {30.0, 120.0};
    double amperes = p->heating_a > 0.0 ? p->heating_a : 10.0;
    double real = amperes * p->meters.supply_gain, t = between(p, 1.0, 3.0);
    finished_heat h = finished_heat_at_rest(m);
    put(args, " --heating-a=%.1f", amperes);
    if (p->left != LEFT_ROOM)
        put(args, " --winding-c=%.0f", m->room_c + p->meters.room_error);
    finished_heat_on(m, &h, real, t);
    put(args, " --start-v=%.4f", show_volts(p, real * finished_heat_ohm(m, &h)));
    for (int k = 0; k < 3; k++) {
        double at = marks[k] + 0.2 * normal(p);
        finished_heat_on(m, &h, real, at - t);
        t = at;
        put(args, " --heated-%d-s=%.0f --heated-%d-v=%.4f", k + 1, marks[k], k + 1,
            show_volts(p, real * finished_heat_ohm(m, &h)));
    }
    if (p->left == LEFT_RESTED)
        return true;
    double off = 125.0;
    finished_heat_on(m, &h, real, off - t);
    t = 0.0;
    put(args, " --heating-s=%.0f", off);
    for (int k = 0; k < 2; k++) {
        double at = rests[k] + 0.3 * normal(p);
        finished_heat_on(m, &h, 0.0, at - t);
        t = at;
        put(args, " --rested-%d-s=%.0f --rested-%d-v=%.4f", k + 1, rests[k], k + 1,
            show_volts(p, real * finished_heat_ohm(m, &h)));
    }
    return true;
}

bool finished_person_read(finished_person *p, const char *kind, char args[PERSON_ARGS])
{
    args[0] = '\0';
    if (strcmp(kind, "idle_draw") == 0)
        return p->left != LEFT_IDLE && read_idle(p, args);
    if (strcmp(kind, "no_load") == 0)
        return read_no_load(p, args);
    if (strcmp(kind, "coast_down") == 0)
        return p->left != LEFT_COAST && read_coast(p, args);
    if (strcmp(kind, "sag") == 0)
        return p->left != LEFT_SAG && read_sag(p, args);
    if (strcmp(kind, "heating") == 0)
        return p->left != LEFT_HEATING && read_heating(p, args);
    return false;
}

void finished_person_other_day(finished_person *p)
{
    p->meters.ampere_zero = 0.03 * normal(p);
    p->meters.room_error = 1.5 * normal(p);
    p->machine.room_c = between(p, 5.0, 28.0);
}

void finished_person_other_meters(finished_person *p)
{
    draw_meters(p, &p->meters);
}
