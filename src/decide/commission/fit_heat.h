/*
 * The winding's heat, from the two-minute heating test.
 *
 * A steady current I through two leads in series heats two of the three phases, two thirds of the
 * copper; its volts follow their resistance, U = I R (1 + alpha (T - 20)), and so their
 * temperature. The law is that of model/heat.h, with two thirds of the copper's capacity and three
 * halves of its way to the hub; unknown are capacity and way (of the whole winding), the resistance
 * and the capacity of what it warms in these minutes, the core of the stator.
 */
#ifndef HUBPHASE_SRC_DECIDE_COMMISSION_FIT_HEAT_H
#define HUBPHASE_SRC_DECIDE_COMMISSION_FIT_HEAT_H

#include "decide/commission/fit_least.h"
#include "decide/reading/running.h"
#include "hubphase/decide/commission.h"

typedef enum hp_heat_unknown {
    HP_HEAT_LN_COPPER, /* [J/K] of the whole winding */
    HP_HEAT_LN_WAY,    /* [K/W] from the whole winding to the hub */
    HP_HEAT_LN_OHM,    /* of the two leads at 20 C, as the meters show it */
    HP_HEAT_LN_HUB,    /* [J/K] of what the winding warms meanwhile */
    HP_HEAT_POWER,     /* scale of volts times amperes */
    HP_HEAT_COUNT
} hp_heat_unknown;

/* What of a heating test contradicts its neighbours or the winding, and is left out of all fits. */
typedef struct hp_heating_doubt {
    bool whole; /* the test as a whole: its amperes or first volts, or more than one reading */
    bool start; /* ... since its first volts do not fit those after them */
    int mark;   /* from 1, of the volts under current; 0: none */
    int rest;   /* from 1, of the volts after it; 0: none */
} hp_heating_doubt;

bool hp_heating_doubted(const hp_heating_doubt *doubt);
/* Looks for such readings; *clean: the test without them (of no use where `whole`). */
hp_heating_doubt hp_heating_sift(const hp_assess_case *given, const hp_heating *read,
                                 hp_heating *clean);

typedef struct hp_heat_fit {
    const hp_assess_case *given;  /* borrowed */
    bool same_meters;             /* as of hp_fit_choice */
    const hp_entry *heating;      /* NULL: there is none that tells */
    hp_heating said;              /* its readings but what is doubted */
    bool no_start;                /* its first volts do not count */
    double volt_each, volt_digit; /* standard deviations: over the value, [V] */
    hp_least least;
} hp_heat_fit;

/* [J/K] what the copper of a motor has at least, by the volts that it makes and by its ohms. */
double hp_heat_least_copper(const hp_motor_params *motor);

void hp_heat_fit_make(const hp_assess_case *given, bool same_meters, hp_heat_fit *fit);
/* Temperature of the winding that the last volts before switching off say; NAN: there are none. */
double hp_heating_reached_c(const hp_assess_case *given, const hp_heating *heating);

#endif
