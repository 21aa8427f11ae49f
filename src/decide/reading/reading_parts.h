/*
 * What several kinds of entries share: checks of ranges, what a meter scatters, what is read of
 * pairs and codes.
 */
#ifndef HUBPHASE_SRC_DECIDE_READING_READING_PARTS_H
#define HUBPHASE_SRC_DECIDE_READING_READING_PARTS_H

#include "decide/advise/hypothesis.h"
#include "decide/reading/reading.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

/* HP_FAIL_INPUT, naming field, value and limits, when it is outside. */
hp_result hp_check_range(hp_error *err, const char *field, double value, double low, double high);
hp_result hp_check_whole(hp_error *err, const char *field, int value, int low, int high);

/* For `settle`: two fields of which one says nothing without the other; false, a problem told, when
 * just one is there. */
bool hp_settle_both(const hp_settling *settling, const char *first, bool has_first,
                    const char *second, bool has_second);
/* The same for one that must be more than the other, in the unit that people write; NAN: not there,
 * and nothing is wrong. */
bool hp_settle_order(const hp_settling *settling, const char *less, double low, const char *more,
                     double high);

/* The dangers that volts of the Hall sensors' supply may be, and whether they are this one; NAN: it
 * was not read. One question, whichever entry it was read for. */
extern const hp_danger *const hp_sensor_volts_dangers[];
hp_tell hp_sensor_volts_danger(double volts, const hp_danger *danger, const hp_plan_params *plan);

/* [A] chosen: with lamp and display all that is on draws about an ampere at most; a decimal point
 * that slipped makes it ten. */
#define HP_IDLE_USUAL_A 3.0

/* Whether figures of the three pairs of one motor are too unlike for three sound phases: one is
 * below half of the two others, or they of it, and further from them than `within`. Unsaid where
 * one is not read, or an open lead, which leaves two pairs without anything, explains it. */
hp_tell hp_pairs_unlike(const double figure[HP_PHASE_COUNT], double within);

/* [ohm] by how much two pairs of one good winding may differ, of which the higher reads so much. */
double hp_winding_alike_within(const hp_person *person, double ohm);

/* Changes of one Hall sensor in a turn of the wheel, by what a drive states. */
double hp_hand_turn_edges(const hp_drive *drive);
/* Density of a normal law. */
double hp_normal(double x, double deviation);
/* Whether a broken lead makes pair `pair` (named by the lead it leaves out) open. */
bool hp_pair_open(const hp_hypothesis *hypothesis, int pair);
/* The pair that is said to be open although the two others join all three leads; -1: none is. */
int hp_pins_impossible_pair(const hp_pins *pins);
/* Probability that a code is written down as `said` when the sensors show `shown`. */
double hp_code_said(const hp_person *person, int said, int shown);
/* A lead of the motor's plug, HP_PLUG_SENSOR_U and so on, in words: "phase lead yellow", "Hall
 * plus". Returns out. */
char *hp_plug_lead_name(const hp_labels *labels, int lead, char *out, size_t size);

/* The Hall lead that has an inverter by the log; HP_PHASE_COUNT: it does not say which; -1: none
 * has (mend.c). */
int hp_mended_inverter(const hp_entry *entry, int entries);

#endif
