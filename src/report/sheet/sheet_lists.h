/*
 * The two lists of a wiring sheet: readings and settings.
 */
#ifndef HUBPHASE_SRC_REPORT_SHEET_SHEET_LISTS_H
#define HUBPHASE_SRC_REPORT_SHEET_SHEET_LISTS_H

#include "report/sheet/wiring_sheet.h"

/* Readings of the healthy parts as found, from the log; what the scenario states stands beside. */
void hp_sheet_fill_readings(hp_wiring_sheet *sheet);
/* Settings that the scenario states or the log read off the controller. */
void hp_sheet_fill_settings(hp_wiring_sheet *sheet);

/* The machine's own figures with their bands, where readings tell some. */
void hp_sheet_fill_figures(hp_wiring_sheet *sheet);
/* What forbids to ride. */
void hp_sheet_fill_stops(hp_wiring_sheet *sheet);
/* Steps of commissioning, where some were done. */
void hp_sheet_fill_steps(hp_wiring_sheet *sheet);

/* What was found broken and mended, with its day and note. */
void hp_sheet_fill_mends(hp_wiring_sheet *sheet);

/* What stands of runs at full throttle, by the advice or by commissioning. */
typedef struct hp_sheet_failed {
    const hp_failed_check *signs; /* borrowed */
    double most_a;                /* it was held against this ... */
    hp_band wheel_rad_s;          /* ... and this */
    int entry;                    /* the newest that failed */
    int wiring;                   /* joined then; 0: the log does not say */
} hp_sheet_failed;

/* False when nothing stands. */
bool hp_sheet_failed_check(const hp_sheet_source *source, hp_sheet_failed *failed);

/* The last trial of this wiring (0: of any) that ran smoothly forward, and not at full throttle as
 * no right wiring does; NULL when there is none. */
const hp_entry *hp_sheet_working_trial(const hp_sheet_source *source, int number);

/* The last trial of this wiring, however it ran; NULL: it was not tried. */
const hp_entry *hp_sheet_last_trial(const hp_sheet_source *source, int number);
/* Whether a trial was at full throttle and ran as no right wiring does. */
bool hp_sheet_trial_failed(const hp_sheet_source *source, const hp_entry *trial);
/* The no-load run that has the log's last word on what is joined, where it was good, and the number
 * of that wiring; 0: the log does not say. NULL: there is no such run. */
const hp_entry *hp_sheet_good_run(const hp_sheet_source *source, int *number);
/* How the advice ends with a wiring: a run that was smooth proves none by itself. */
typedef enum hp_sheet_end {
    HP_SHEET_OPEN,     /* it does not end, or with another one, or it was not reckoned */
    HP_SHEET_PROBABLE, /* this one is probably correct: something is to be checked yet */
    HP_SHEET_CORRECT
} hp_sheet_end;
hp_sheet_end hp_sheet_end_of(const hp_sheet_source *source, int number);
/* Whether the advice ends with this wiring as far as it can be told without a meter. */
bool hp_sheet_is_unmetered(const hp_sheet_source *source, int number);
/* Whether the advice ends with this wiring, and its run at full throttle is still to be made. */
bool hp_sheet_check_is_open(const hp_sheet_source *source, int number);
/* The wiring that was logged last, however it ran; 0: none. */
int hp_sheet_joined(const hp_sheet_source *source);

/* The wiring that the log comes to: of such a run, or of the last smooth forward trial, proved or
 * not; 0: none. */
int hp_sheet_log_wiring(const hp_sheet_source *source);

/* Adds a line; its value and origin are still empty. NULL when the list is full. */
hp_sheet_line *hp_sheet_add(hp_sheet_list *list, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Adds a line for what a title names, which begins with a capital on the sheet. NULL as above. */
hp_sheet_line *hp_sheet_add_titled(hp_sheet_list *list, const char *title);

/* ---- for the words of kinds ------------------------------------------------------------------ */

/* Gives a line a value that an entry found, or none when entry is NULL; line may be NULL. */
void hp_sheet_set(const hp_sheet_source *source, hp_sheet_line *line, const hp_entry *entry,
                  const char *format, ...) __attribute__((format(printf, 4, 5)));
/* What the scenario itself states stands below the log's own reading. */
void hp_sheet_add_stated(hp_wiring_sheet *sheet, const char *key, const char *what,
                         const char *unit, const char *at_key, const char *at_unit);
/* The two leads of pair k, which is named by the lead that it leaves out. Returns out. */
const char *hp_sheet_pair(const hp_labels *labels, int pair, char *out, size_t size);

typedef bool (*hp_sheet_says)(const void *values, int index);

/* The last entry of a kind that says something, typical figures left aside: nobody found them. */
const hp_entry *hp_sheet_last(const hp_sheet_source *source, const hp_reading *reading,
                              hp_sheet_says says, int index);

#endif
