/*
 * The figures of a spread in the units that people read, with the names that JSON and CSV share;
 * and what an ensemble varies, in words.
 */
#ifndef HUBPHASE_SRC_REPORT_DATA_SPREAD_COLUMNS_H
#define HUBPHASE_SRC_REPORT_DATA_SPREAD_COLUMNS_H

#include "hubphase/decide/spread.h"

#include <stddef.h>

/* "speed_rpm", "battery_current_a", ... */
const char *hp_spread_column_name(hp_spread_figure figure);
/* "rotor speed, rev/min", ... */
const char *hp_spread_column_words(hp_spread_figure figure);
/* The band in that unit. */
hp_spread_band hp_spread_column_band(const hp_spread_summary *summary, hp_spread_figure figure);

/* Half width of a quantity in the unit of hp_spread_width_unit. */
double hp_spread_width(const hp_spread_plan *plan, int quantity);
/* "percent", "deg" or "k", as scenario keys end. */
const char *hp_spread_width_unit(int quantity);
/* "15 %", "5 deg", "10 K". Returns out. */
char *hp_spread_width_text(const hp_spread_plan *plan, int quantity, char *out, size_t size);

/* What is likeliest, in words: "rough late, forward", "correct". Returns out. */
char *hp_spread_outcome_text(const hp_spread_summary *summary, char *out, size_t size);

#endif
