/* The circuit at one instant: see the header. */
#include "model/circuit.h"

#include "hubphase/model/motor.h"

#include <math.h>

static bool conducts(hp_leg leg)
{
    return leg == HP_LEG_HIGH || leg == HP_LEG_LOW || leg == HP_LEG_UPPER || leg == HP_LEG_LOWER;
}

static bool is_off(hp_leg leg)
{
    return leg == HP_LEG_FLOAT || leg == HP_LEG_UPPER || leg == HP_LEG_LOWER;
}

hp_circuit_params hp_circuit_params_of(const hp_drive *drive)
{
    return (hp_circuit_params){
        .emf_v = drive->supply.emf_v,
        .battery_ohm = drive->supply.resistance_ohm,
        .winding_ohm = hp_motor_resistance(&drive->motor),
        .switch_ohm = drive->controller.switch_resistance_ohm,
        .inductance_h = drive->motor.inductance_h,
        .diode_drop_v = drive->controller.diode_drop_v,
    };
}

hp_circuit_law hp_circuit_law_of(const hp_circuit_params *params, const hp_leg leg[HP_PHASE_COUNT])
{
    hp_circuit_law law = {.emf_v = params->emf_v,
                          .battery_ohm = params->battery_ohm,
                          .winding_ohm = params->winding_ohm,
                          .per_henry = 1.0 / params->inductance_h};
    int count = 0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        bool driven = leg[k] == HP_LEG_HIGH || leg[k] == HP_LEG_LOW;
        law.conducts[k] = conducts(leg[k]);
        law.share_duty[k] = leg[k] == HP_LEG_HIGH ? 1.0 : 0.0;
        law.share_whole[k] = leg[k] == HP_LEG_UPPER ? 1.0 : 0.0;
        law.drop_v[k] = leg[k] == HP_LEG_UPPER   ? params->diode_drop_v
                        : leg[k] == HP_LEG_LOWER ? -params->diode_drop_v
                                                 : 0.0;
        law.switch_ohm[k] = driven ? params->switch_ohm : 0.0;
        count += law.conducts[k];
    }
    static const double per_count[] = {(double)NAN, 1.0, 1.0 / 2.0, 1.0 / 3.0};
    law.per_count = per_count[count];
    return law;
}

void hp_circuit_apply(const hp_circuit_law *law, const double current[HP_PHASE_COUNT],
                      const double backemf[HP_PHASE_COUNT], double duty, hp_circuit *circuit)
{
    /* The bus first: its current follows from the phase currents alone. */
    double share[HP_PHASE_COUNT], from_bus = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        share[k] = duty * law->share_duty[k] + law->share_whole[k];
        from_bus += share[k] * current[k];
    }
    double bus = law->emf_v - law->battery_ohm * from_bus;
    circuit->battery_current = from_bus;
    circuit->bus_voltage = bus;

    /* Conducting leads: their terminal, and what is left of it behind winding and back-EMF. */
    double behind[HP_PHASE_COUNT], sum = 0.0, copper = 0.0, diode = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        double i = current[k];
        circuit->terminal[k] = share[k] * bus + law->drop_v[k] - law->switch_ohm[k] * i;
        behind[k] = circuit->terminal[k] - law->winding_ohm * i - backemf[k];
        sum += law->conducts[k] ? behind[k] : 0.0;
        copper += (law->winding_ohm + law->switch_ohm[k]) * i * i;
        diode -= law->drop_v[k] * i;
    }
    circuit->copper_power = copper;
    circuit->diode_power = diode;
    circuit->star = sum * law->per_count;

    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        bool on = law->conducts[k];
        circuit->slope[k] = on ? (behind[k] - circuit->star) * law->per_henry : 0.0;
        circuit->terminal[k] = on ? circuit->terminal[k] : circuit->star + backemf[k];
    }
}

void hp_circuit_rates_of(const hp_circuit_law *law, const hp_circuit *circuit,
                         const double current[HP_PHASE_COUNT],
                         const double current_rate[HP_PHASE_COUNT],
                         const double backemf_rate[HP_PHASE_COUNT], double duty, double duty_rate,
                         hp_circuit_rates *rates)
{
    /* The equations above, differentiated term by term. */
    double share[HP_PHASE_COUNT], share_rate[HP_PHASE_COUNT], bus_rate = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        share[k] = duty * law->share_duty[k] + law->share_whole[k];
        share_rate[k] = duty_rate * law->share_duty[k];
        bus_rate -= law->battery_ohm * (share_rate[k] * current[k] + share[k] * current_rate[k]);
    }
    double sum = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        double behind = share[k] * bus_rate + share_rate[k] * circuit->bus_voltage -
                        (law->switch_ohm[k] + law->winding_ohm) * current_rate[k] - backemf_rate[k];
        sum += law->conducts[k] ? behind : 0.0;
    }
    rates->bus_voltage = bus_rate;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        rates->terminal[k] = sum * law->per_count + backemf_rate[k];
}

void hp_circuit_solve(const hp_circuit_params *params, const hp_leg leg[HP_PHASE_COUNT],
                      const double current[HP_PHASE_COUNT], const double backemf[HP_PHASE_COUNT],
                      double duty, hp_circuit *circuit)
{
    hp_circuit_law law = hp_circuit_law_of(params, leg);
    hp_circuit_apply(&law, current, backemf, duty, circuit);
}

double hp_circuit_guard(const hp_circuit_params *params, const hp_leg leg[HP_PHASE_COUNT],
                        const double current[HP_PHASE_COUNT], const hp_circuit *circuit, int lead)
{
    switch (leg[lead]) {
    case HP_LEG_UPPER: return HP_DIODE_AMP_SLACK - current[lead];
    case HP_LEG_LOWER: return HP_DIODE_AMP_SLACK + current[lead];
    case HP_LEG_FLOAT: {
        if (isnan(circuit->star))
            return 1.0;
        double slack = params->diode_drop_v + HP_DIODE_VOLT_SLACK;
        double below = circuit->bus_voltage + slack - circuit->terminal[lead];
        double above = circuit->terminal[lead] + slack;
        return below < above ? below : above;
    }
    default: return 1.0;
    }
}

double hp_circuit_guard_rate(const hp_leg leg[HP_PHASE_COUNT],
                             const double current_rate[HP_PHASE_COUNT], const hp_circuit *circuit,
                             const hp_circuit_rates *rates, int lead)
{
    switch (leg[lead]) {
    case HP_LEG_UPPER: return -current_rate[lead];
    case HP_LEG_LOWER: return current_rate[lead];
    case HP_LEG_FLOAT:
        if (isnan(circuit->star))
            return 0.0;
        /* The slack either side is the same. */
        return circuit->bus_voltage - circuit->terminal[lead] < circuit->terminal[lead]
                   ? rates->bus_voltage - rates->terminal[lead]
                   : rates->terminal[lead];
    default: return 0.0;
    }
}

double hp_circuit_pair_guard(const hp_circuit_params *params, const hp_leg leg[HP_PHASE_COUNT],
                             const double backemf[HP_PHASE_COUNT], const hp_circuit *circuit)
{
    if (!isnan(circuit->star))
        return 1.0;
    double high = -INFINITY, low = INFINITY;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (leg[k] != HP_LEG_FLOAT)
            continue;
        high = backemf[k] > high ? backemf[k] : high;
        low = backemf[k] < low ? backemf[k] : low;
    }
    if (high < low)
        return 1.0; /* every lead is broken */
    return circuit->bus_voltage + 2.0 * (params->diode_drop_v + HP_DIODE_VOLT_SLACK) - (high - low);
}

double hp_circuit_pair_guard_rate(const hp_leg leg[HP_PHASE_COUNT],
                                  const double backemf[HP_PHASE_COUNT],
                                  const double backemf_rate[HP_PHASE_COUNT],
                                  const hp_circuit *circuit, const hp_circuit_rates *rates)
{
    if (!isnan(circuit->star))
        return 0.0;
    int high = -1, low = -1;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (leg[k] != HP_LEG_FLOAT)
            continue;
        high = high < 0 || backemf[k] > backemf[high] ? k : high;
        low = low < 0 || backemf[k] < backemf[low] ? k : low;
    }
    return high < 0 ? 0.0 : rates->bus_voltage - (backemf_rate[high] - backemf_rate[low]);
}

/* Zeroes the small currents of off leads and makes the rest add up to zero. */
static void clean_currents(const hp_leg leg[HP_PHASE_COUNT], double current[HP_PHASE_COUNT])
{
    int carrying[HP_PHASE_COUNT], count = 0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        bool tiny = fabs(current[k]) < 10.0 * HP_DIODE_AMP_SLACK;
        if (leg[k] == HP_LEG_BROKEN || (is_off(leg[k]) && tiny))
            current[k] = 0.0;
        else
            carrying[count++] = k;
    }
    if (count == 0)
        return;
    double rest = 0.0;
    for (int k = 0; k < count; k++)
        rest += current[carrying[k]];
    for (int k = 0; k < count; k++)
        current[carrying[k]] -= rest / count;
}

/* Whether the legs as assumed agree with what the circuit then does. Floats are asked to keep half
 * the slack, so that at the root of their guard they count as beyond the rail. */
static bool is_consistent(const hp_circuit_params *params, const hp_leg leg[HP_PHASE_COUNT],
                          const double current[HP_PHASE_COUNT],
                          const double backemf[HP_PHASE_COUNT], double duty,
                          const hp_circuit_law *law)
{
    hp_circuit circuit;
    hp_circuit_apply(law, current, backemf, duty, &circuit);
    if (hp_circuit_pair_guard(params, leg, backemf, &circuit) < HP_DIODE_VOLT_SLACK)
        return false;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (leg[k] == HP_LEG_FLOAT &&
            hp_circuit_guard(params, leg, current, &circuit, k) < 0.5 * HP_DIODE_VOLT_SLACK)
            return false;
        if (leg[k] == HP_LEG_UPPER && current[k] == 0.0 && !(circuit.slope[k] < 0.0))
            return false;
        if (leg[k] == HP_LEG_LOWER && current[k] == 0.0 && !(circuit.slope[k] > 0.0))
            return false;
    }
    return true;
}

bool hp_circuit_settle_law(const hp_circuit_params *params, hp_leg leg[HP_PHASE_COUNT],
                           double current[HP_PHASE_COUNT], const double backemf[HP_PHASE_COUNT],
                           double duty, hp_circuit_law *law)
{
    clean_currents(leg, current);
    int idle[HP_PHASE_COUNT], count = 0, combinations = 1;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (!is_off(leg[k]))
            continue;
        if (current[k] != 0.0) {
            leg[k] = current[k] > 0.0 ? HP_LEG_LOWER : HP_LEG_UPPER;
            continue;
        }
        idle[count++] = k;
        combinations *= 3;
    }
    /* At most 27 states, floats first: the circuit with ideal diodes has one that fits, but for
     * ties within the slack. */
    static const hp_leg choice[3] = {HP_LEG_FLOAT, HP_LEG_UPPER, HP_LEG_LOWER};
    for (int c = 0; c < combinations; c++) {
        for (int k = 0, digit = c; k < count; k++, digit /= 3)
            leg[idle[k]] = choice[digit % 3];
        *law = hp_circuit_law_of(params, leg);
        if (count == 0 || is_consistent(params, leg, current, backemf, duty, law))
            return true;
    }
    for (int k = 0; k < count; k++)
        leg[idle[k]] = HP_LEG_FLOAT;
    *law = hp_circuit_law_of(params, leg);
    return false;
}

bool hp_circuit_settle(const hp_circuit_params *params, hp_leg leg[HP_PHASE_COUNT],
                       double current[HP_PHASE_COUNT], const double backemf[HP_PHASE_COUNT],
                       double duty)
{
    hp_circuit_law law;
    return hp_circuit_settle_law(params, leg, current, backemf, duty, &law);
}
