/*
 * The bench's own physics against closed forms, so that what it calls true is so.
 *
 *   check_finished_machine
 */
#include "finished_person.h"

#include <math.h>
#include <stdio.h>

static int failures;

/* `tolerance`: relative. */
static void check(const char *what, double value, double expected, double tolerance)
{
    double off = fabs(value / expected - 1.0);
    if (!(off <= tolerance)) {
        failures++;
        printf("FAILED %s: %.6g, expected %.6g, off by %.2g, tolerance %.2g\n", what, value,
               expected, off, tolerance);
    }
}

static finished_machine plain(void)
{
    finished_person p = finished_person_draw(1, 1);
    finished_machine m = p.machine;
    m.one_sided = false;
    m.placement[0] = m.placement[1] = m.placement[2] = 0.0;
    return m;
}

/* Two leads of a sine motor under six-step: the d.c. machine of its mean EMF, (3/pi) sqrt(3) ke w,
 * where L/R is short against a sixth of a turn; the ripple that is left is worth a few percent. */
static void currents_are_those_of_a_dc_machine(void)
{
    finished_machine m = plain();
    m.flatness = 0.0;
    m.henry = 0.06e-3 * m.ohm_20;
    double ohm = 2.0 * (m.ohm_20 + m.switch_ohm), k = 3.0 / acos(-1.0) * sqrt(3.0) * m.ke;
    double w = 0.3 * m.emf / k, amperes = (m.emf - k * w) / ohm;
    finished_currents c = finished_currents_at(&m, w, m.emf, 1.0);
    check("torque at three tenths of the speed", c.torque, k * amperes, 0.03);
    check("current there", c.battery_a, amperes, 0.03);
    finished_currents d = finished_currents_at(&m, w, m.emf, 0.6);
    check("torque at six tenths of the duty", d.torque, k * (0.6 * m.emf - k * w) / ohm, 0.03);
    check("current there", d.battery_a, 0.6 * (0.6 * m.emf - k * w) / ohm, 0.03);
}

/* What the battery gives and neither shaft nor copper takes is nothing: I from the torque. */
static void power_balances(void)
{
    finished_machine m = plain();
    m.flatness = 1.0;
    m.henry = 0.06e-3 * m.ohm_20; /* flat currents: both leads carry the same all the time */
    m.diode_v = 0.0;
    double ohm = 2.0 * (m.ohm_20 + m.switch_ohm), w = 0.5 * m.emf / (2.0 * m.ke);
    finished_currents c = finished_currents_at(&m, w, m.emf, 1.0);
    double amperes = c.battery_a;
    check("power", m.emf * amperes, c.torque * w + ohm * amperes * amperes, 0.03);
}

static void a_settled_run_has_no_surplus(void)
{
    finished_machine m = plain();
    finished_run run = finished_run_at(&m, m.emf, 1.0, true);
    finished_currents c = finished_currents_at(&m, run.wheel_rad_s * m.gear_ratio, m.emf, 1.0);
    check("torque", c.torque * m.gear_ratio, finished_drag(&m, run.wheel_rad_s), 0.002);
}

/* J dw/dt = -(a + b w): w = (w0 + a/b) exp(-b t / J) - a/b. */
static void coasting_follows_its_closed_form(void)
{
    finished_machine m = plain();
    m.clutch = false;
    m.gear_ratio = 1.0;
    m.iron = m.air = m.breakaway = m.rotor_coulomb = m.wheel_viscous = m.braking = 0.0;
    m.rotor_viscous = 0.02;
    m.wheel_coulomb = 0.4;
    double fade = m.rotor_viscous / finished_coast_inertia(&m), level = 0.4 / 0.02, stop;
    double w = finished_coast(&m, 20.0, 2.0, &stop);
    check("speed after two seconds", w, (20.0 + level) * exp(-2.0 * fade) - level, 0.005);
    check("seconds until it stands", stop, log(1.0 + 20.0 / level) / fade, 0.005);
}

/* Heat that was put in is there; nothing goes to the air meanwhile. */
static void heat_is_kept(void)
{
    finished_machine m = plain();
    double kept = 0.0, ohm = 2.0 * m.ohm_20 * (1.0 + 0.00393 * (m.room_c - 20.0));
    for (int k = 0; k < HEAT_NODES; k++)
        m.air_w_per_k[k] = 0.0;
    finished_heat h = finished_heat_at_rest(&m);
    finished_heat_on(&m, &h, 1.0, 60.0); /* an ampere: the copper stays as it is */
    for (int k = 0; k < HEAT_NODES; k++)
        kept += m.heat_j_per_k[k] * (h.celsius[k] - m.room_c);
    check("heat", kept, 60.0 * ohm, 0.005);
}

/* A core that never warms: two phases of three end at three halves of the whole winding's way. */
static void the_way_is_what_a_held_core_shows(void)
{
    finished_machine m = plain();
    m.heat_j_per_k[HEAT_CORE] = 1e12;
    m.heat_w_per_k[HEAT_SLOTS_1][HEAT_SLOTS_2] = m.heat_w_per_k[HEAT_SLOTS_2][HEAT_SLOTS_1] = 0.0;
    double cold = 2.0 * m.ohm_20 * (1.0 + 0.00393 * (m.room_c - 20.0));
    finished_heat h = finished_heat_at_rest(&m);
    finished_heat_on(&m, &h, 2.0, 3000.0);
    double warm = finished_heat_ohm(&m, &h), rise = (warm - cold) / (0.00393 * 2.0 * m.ohm_20);
    check("warmth for each watt", rise / (4.0 * warm), 1.5 * finished_copper_k_per_w(&m), 0.01);
}

static void a_pack_gives_its_ohms(void)
{
    finished_machine m = plain();
    m.slow_ohm = m.unloaded_per_s = 0.0;
    double fall = finished_pack_v(&m, 0.0, 5.0, true) - finished_pack_v(&m, 8.0, 5.0, true);
    check("fall at eight amperes", fall, 8.0 * (m.pack_ohm + m.lead_ohm), 1e-9);
}

int main(void)
{
    currents_are_those_of_a_dc_machine();
    power_balances();
    a_settled_run_has_no_surplus();
    coasting_follows_its_closed_form();
    heat_is_kept();
    the_way_is_what_a_held_core_shows();
    a_pack_gives_its_ohms();
    if (!failures)
        puts("the bench's physics follow their closed forms");
    return failures ? 1 : 0;
}
