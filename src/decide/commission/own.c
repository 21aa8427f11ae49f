/* The machine's own figures: see the header. */
#include "decide/commission/own.h"

#include "decide/commission/fit_parts.h"
#include "decide/reading/reading.h"
#include "model/stand.h"

#include <math.h>
#include <string.h>

static const struct {
    const char *name, *title, *unit;
} rows[HP_OWN_COUNT] = {
    [HP_OWN_IDLE_A] = {"idle_a", "idle draw", "A"},
    [HP_OWN_SPEED_PER_V] = {"speed_rpm_per_v", "speed per volt", "rev/min/V"},
    [HP_OWN_WINDING_OHM] = {"winding_ohm", "winding, between two leads", "ohm"},
    [HP_OWN_DRAG_NM] = {"drag_nm", "drag at half speed", "N m"},
    [HP_OWN_FRICTION_NM] = {"friction_nm", "steady part of the drag", "N m"},
    [HP_OWN_VISCOUS] = {"viscous_nm_s_per_rad", "part that grows with speed", "N m s/rad"},
    [HP_OWN_COAST_FRICTION_NM] = {"coast_friction_nm", "drag of the wheel alone", "N m"},
    [HP_OWN_INERTIA] = {"inertia_kg_m2", "moment of inertia", "kg m2"},
    [HP_OWN_NO_LOAD_A] = {"no_load_a", "no-load current of the motor", "A"},
    [HP_OWN_NO_LOAD_RPM] = {"no_load_rpm", "no-load speed", "rev/min"},
    [HP_OWN_SUPPLY_OHM] = {"supply_ohm", "battery with its leads", "ohm"},
    [HP_OWN_COPPER_J_PER_K] = {"copper_j_per_k", "heat capacity of the winding", "J/K"},
    [HP_OWN_COPPER_HUB_K_W] = {"copper_to_hub_k_per_w", "winding to hub", "K/W"},
    [HP_OWN_WINDING_S] = {"winding_s", "thermal time of the winding", "s"},
};

const char *hp_own_name(hp_own_kind kind)
{
    return rows[kind].name;
}

const char *hp_own_title(hp_own_kind kind)
{
    return rows[kind].title;
}

const char *hp_own_unit(hp_own_kind kind)
{
    return rows[kind].unit;
}

/* ---- in place of what was stated --------------------------------------------------------------
 */

/* Of the drag the wheel's own bearings keep what is known of them, the rotor has the rest; behind
 * no clutch nobody can tell one from the other. */
static void put_friction(const hp_own *own, hp_stand_params *stand)
{
    const hp_own_figure *all = &own->figure[HP_OWN_FRICTION_NM];
    const hp_own_figure *viscous = &own->figure[HP_OWN_VISCOUS];
    const hp_own_figure *wheel = &own->figure[HP_OWN_COAST_FRICTION_NM];
    hp_friction usual = hp_stand_params_default().rotor;
    double g = stand->gear_ratio, breaks = usual.breakaway_nm / usual.coulomb_nm;
    if (wheel->known)
        stand->wheel =
            (hp_friction){wheel->value, breaks * wheel->value, stand->wheel.viscous_nm_s_rad};
    if (!all->known || !viscous->known)
        return;
    if (!stand->clutch)
        stand->wheel = (hp_friction){.coulomb_nm = 0.0};
    stand->rotor.coulomb_nm = fmax(0.0, all->value - stand->wheel.coulomb_nm) / g;
    stand->rotor.breakaway_nm = breaks * stand->rotor.coulomb_nm;
    stand->rotor.viscous_nm_s_rad =
        fmax(0.0, viscous->value - stand->wheel.viscous_nm_s_rad) / (g * g);
}

static void put_in_place(hp_own *own)
{
    const hp_own_figure *figure = own->figure;
    hp_drive *d = &own->drive;
    if (figure[HP_OWN_SPEED_PER_V].known) {
        double stated = 1.0 / hp_line_volts_per_wheel(d) / HP_RPM;
        d->motor.ke *= stated / figure[HP_OWN_SPEED_PER_V].value;
    }
    if (figure[HP_OWN_WINDING_OHM].known)
        d->motor.resistance_ohm = 0.5 * figure[HP_OWN_WINDING_OHM].value;
    if (figure[HP_OWN_INERTIA].known && d->stand.clutch)
        d->stand.wheel_inertia_kg_m2 = figure[HP_OWN_INERTIA].value;
    else if (figure[HP_OWN_INERTIA].known)
        d->stand.wheel_inertia_kg_m2 = fmax(
            1e-6, figure[HP_OWN_INERTIA].value -
                      d->motor.rotor_inertia_kg_m2 * d->stand.gear_ratio * d->stand.gear_ratio);
    if (figure[HP_OWN_SUPPLY_OHM].known)
        d->supply.resistance_ohm = figure[HP_OWN_SUPPLY_OHM].value;
    put_friction(own, &d->stand);
}

/* A run that draws what only a wrong wiring does, whose figures cannot be, or that was made in
 * another position of the speed switch, tells nothing of the machine; nor does one of its drag that
 * draws what its own coast-down does not explain. It is then left out of what is learnt. */
static bool run_misleads(const hp_assess_case *given)
{
    const hp_entry *run = hp_fit_entry(given, &hp_reading_no_load, NULL);
    int code = HP_NO_LOAD_FINE;
    if (!run)
        return false;
    hp_reading_no_load.assess(given, hp_entry_said(run), &code);
    bool coasted = hp_fit_coast(given, NULL) != NULL;
    return code == HP_NO_LOAD_ROUGH || code == HP_NO_LOAD_SLIP || code == HP_NO_LOAD_HALF ||
           code == HP_NO_LOAD_VOLTS || code == HP_NO_LOAD_SWITCH ||
           (code == HP_NO_LOAD_MORE && coasted);
}

void hp_own_learn(const hp_assess_case *given, bool same_meters, hp_own *own)
{
    const hp_fit_choice all = {.without = run_misleads(given) ? &hp_reading_no_load : NULL,
                               .same_meters = same_meters};
    hp_machine_fit machine;
    hp_heat_fit heat;
    memset(own, 0, sizeof *own);
    own->drive = *given->drive;
    hp_machine_fit_make(given, &all, &machine);
    hp_machine_fit_learn(&machine, own);
    hp_heat_fit_make(given, same_meters, &heat);
    hp_heat_fit_learn(&heat, own);
    put_in_place(own);
}
