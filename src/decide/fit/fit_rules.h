/*
 * The rules of the fit: one row each, what it needs and how it reckons.
 *
 * A rule whose needs are not stated is not reckoned: its line is unknown and says what is missing.
 */
#ifndef HUBPHASE_SRC_DECIDE_FIT_FIT_RULES_H
#define HUBPHASE_SRC_DECIDE_FIT_FIT_RULES_H

#include "hubphase/decide/fit.h"

/* Findings of the rules that have more than one way to go wrong; 0 is as it should be. Words:
 * report/words/fit_words.c. */
enum { HP_VOLTS_ABOVE = 1, HP_VOLTS_NEAR, HP_VOLTS_GUESSED };
enum {
    HP_CUT_OFF_NONE = 1,
    HP_CUT_OFF_LOW,
    HP_CUT_OFF_HIGH,
    HP_CUT_OFF_NONE_BARE, /* ... and the battery has no protection of its own either */
    HP_CUT_OFF_LOW_BARE,
    HP_CUT_OFF_GUESSED
};
enum { HP_SENSORS_ABOVE = 1, HP_SENSORS_BELOW };
enum { HP_PACK_WEAK = 1, HP_PACK_UNLIMITED };
enum { HP_FUSE_TOO_LARGE = 1, HP_FUSE_TOO_SMALL, HP_FUSE_JUST, HP_FUSE_NONE };
enum {
    HP_BREAKING_WEAK = 1,
    HP_BREAKING_VOLTS,
    HP_BREAKING_UNSURE,
    HP_BREAKING_GUESSED,
    HP_BREAKING_NONE
};
enum { HP_PLUG_OVER = 1, HP_PLUG_NEAR };
enum { HP_LEADS_OVER = 1, HP_LEADS_DROP, HP_LEADS_BRIEF };
enum { HP_PHASE_UNLIMITED = 1 };
enum { HP_ROAD_NOT = 1, HP_ROAD_NOT_EMPTY, HP_ROAD_POOR, HP_ROAD_RUNS_AWAY };
enum { HP_RANGE_NO_CRUISE = 1, HP_RANGE_SHORT };
enum { HP_HEAT_OVER = 1, HP_HEAT_NEAR, HP_HEAT_STUCK, HP_HEAT_LEVEL };
enum { HP_STALL_BURNS = 1, HP_STALL_SLOW, HP_STALL_LATE };
enum { HP_AXLE_ARM = 1, HP_AXLE_OVER, HP_AXLE_NEAR };
enum { HP_MOUNT_CLUTCH = 1, HP_MOUNT_NO_REVERSE, HP_MOUNT_SWAP };
enum { HP_DOWN_FREE = 1, HP_DOWN_CHARGES, HP_DOWN_OVER };
enum { HP_BRAKING_FREE = 1, HP_BRAKING_FULL, HP_BRAKING_OVER };
enum { HP_LAW_LOOK = 1 };

typedef struct hp_fit_rule {
    unsigned needs; /* set of HP_FIT_LACKS_... */
    void (*reckon)(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
    /* Whether one thing that is stated settles the line, whatever else is lacking; NULL: never. */
    bool (*settled)(const hp_fit_given *given);
    bool road; /* joining the battery does not meet it: a ride does, or a brake lever */
} hp_fit_rule;

/* The row of a rule. */
const hp_fit_rule *hp_fit_rule_of(hp_fit_rule_id id);
/* Fills every line of the fit. */
void hp_fit_rules_apply(const hp_fit_given *given, hp_fit *fit);

/* ---- what the rules share -------------------------------------------------------------------- */

void hp_fit_add(hp_fit_line *line, hp_fit_what what, double value);
void hp_fit_add_band(hp_fit_line *line, hp_fit_what what, double value, double low, double high);
/* Takes a finding unless one as grave was taken before. */
void hp_fit_find(hp_fit_line *line, hp_fit_state state, int code);
/* Battery current [A] that may flow for long: the controller's limit, or where it has none the most
 * that was simulated. */
double hp_fit_battery_most(const hp_fit_given *given, const hp_fit *fit);
/* The running that the phase leads are judged by: the hill, or what is nearest to it. */
const hp_fit_meeting *hp_fit_hardest(const hp_fit *fit);

/* ---- the rules ------------------------------------------------------------------------------- */

void hp_fit_controller_volts(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_cut_off(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_sensor_supply(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_pack_current(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_fuse_rating(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_fuse_breaking(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_battery_connector(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_battery_leads(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_phase_current(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_phase_connector(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_phase_leads(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_level(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_hill(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_range(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_ride_heat(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_hill_heat(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_stall_heat(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_axle(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_mounting(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_downhill(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_motor_braking(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);
void hp_fit_law(const hp_fit_given *given, const hp_fit *fit, hp_fit_line *line);

#endif
