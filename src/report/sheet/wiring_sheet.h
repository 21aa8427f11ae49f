/*
 * The wiring sheet's content: what the person who opens this hub in five years wants to know.
 *
 * Everything on it was stated in the scenario or entered in the bench log. What was not has an
 * empty value, which the HTML page and the PDF show as a line to fill in by hand.
 */
#ifndef HUBPHASE_SRC_REPORT_SHEET_WIRING_SHEET_H
#define HUBPHASE_SRC_REPORT_SHEET_WIRING_SHEET_H

#include "decide/advise/equals.h"
#include "hubphase/decide/advice.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/model/drive.h"
#include "hubphase/model/labels.h"
#include "hubphase/record/case.h"
#include "hubphase/record/scenario.h"
#include "report/picture/picture_plug.h"

#define HP_SHEET_PINS 24

/* A plug as the log notes it: pins by their names, of which the shape does not follow, and by their
 * places. */
typedef struct hp_sheet_pin {
    char place[32];                /* what the pin is called: "3", "B2" */
    char lead[HP_LABEL_SIZE + 16]; /* what sits there; empty: nothing noted */
    int row, column;               /* from 0, as drawn */
} hp_sheet_pin;

typedef struct hp_sheet_plug {
    char name[HP_LABEL_SIZE]; /* "motor" */
    hp_sheet_pin pin[HP_SHEET_PINS];
    int pins;
    hp_plug_view view; /* the pins that are noted by their places; `pin` has the others */
    const char *note;  /* what the log remarks on it; NULL: nothing; borrowed */
} hp_sheet_plug;

/* Adds a pin; more than HP_SHEET_PINS are left out. */
void hp_sheet_plug_add(hp_sheet_plug *plug, const char *place, const char *lead);
/* Gives each pin its place by its name, once all are there: letters, and below them
 * numbers, count along rows of three, with an empty pin where one is not named; "B2" is row B,
 * column 2; other names stand in the order in which they were added. */
void hp_sheet_plug_arrange(hp_sheet_plug *plug);

struct hp_card_context;

/* What the sheet is made from; all borrowed. */
typedef struct hp_sheet_source {
    const hp_drive *drive;
    const hp_labels *labels;
    const hp_harness *harness;
    hp_parameters *parameters;
    const char *log;       /* the log's name for people; NULL: there is none */
    const hp_entry *entry; /* of the log, in order */
    int entries;
    const hp_sheet_plug *plug;
    int plugs;
    const hp_person *person;      /* who wrote the log */
    const hp_prior_params *prior; /* how likely the stated table is the true one */
    int wiring;                   /* 1..36 said by hand; 0: the one that the log comes to */
    const hp_advice *advice; /* whether the work has ended, and whether a full-throttle run drew too
                                much; NULL: not reckoned */
    const char *date;        /* NULL: left open */
    const struct hp_card_context *steps; /* where its commissioning stands; NULL: not reckoned */
    const hp_commission_case *work;      /* that stands there; NULL: not reckoned */
} hp_sheet_source;

/* One reading or setting. */
typedef struct hp_sheet_line {
    char what[240];
    char value[900]; /* empty: nobody measured or stated it */
    char from[100];  /* "log entry 3", "scenario line 17"; with an empty value why it is empty */
} hp_sheet_line;

#define HP_SHEET_LINES 30

typedef struct hp_sheet_list {
    hp_sheet_line line[HP_SHEET_LINES];
    int count;
} hp_sheet_list;

#define HP_SHEET_WIRINGS 3

/* A wiring of the sheet: the one that works first, then the two that are its equals, if they are
 * known. */
typedef struct hp_sheet_wiring {
    int number;     /* 1..36; 0: not known */
    bool ran;       /* smoothly forward when it was tried last, or in a no-load run since */
    bool proved;    /* ... and the advice ends with it, sure of it */
    bool probable;  /* ... or ends with it, and says what is to be checked */
    char said[100]; /* what the log says of it */
} hp_sheet_wiring;

typedef struct hp_wiring_sheet {
    hp_sheet_source source;
    char title[200];     /* "Wiring sheet: Allotment barrow" */
    char standing[1800]; /* which wiring works, and how that is known; or that it is not */
    bool contradicted;   /* the log says that a wiring ran well which is no equal of that one */
    hp_sheet_wiring wiring[HP_SHEET_WIRINGS];
    hp_equals equals;    /* the likeliest, known or not; of a wiring that works */
    hp_sheet_list stops; /* what forbids to ride, as far as the log says; it heads the sheet */
    hp_sheet_list readings, settings;
    hp_sheet_list figures; /* that the machine's readings tell; empty: none */
    hp_sheet_list steps;   /* of commissioning; empty: none was done */
    hp_sheet_list mends;   /* what was found broken and mended; empty: nothing was */
} hp_wiring_sheet;

/* Puts the content together; keeps borrowing what the source borrows. */
void hp_wiring_sheet_make(const hp_sheet_source *source, hp_wiring_sheet *sheet);

/* Words that stand on every sheet. */
extern const char *const hp_sheet_usual_parts[]; /* of a harness nobody has listed; NULL-ended */
extern const char hp_sheet_stops_title[];
extern const char hp_sheet_readings_note[];
extern const char hp_sheet_settings_note[];
extern const char hp_sheet_figures_note[];
extern const char hp_sheet_steps_note[];
extern const char hp_sheet_mends_note[];
/* What stands above a wiring: "correct", "probably correct", "not proved", "equal"; with its
 * number. Returns out. */
char *hp_sheet_wiring_title(const hp_wiring_sheet *sheet, int n, char *out, size_t size);
/* Nothing is left open about the wiring that works, and nothing forbids to ride. */
bool hp_sheet_is_good(const hp_wiring_sheet *sheet);
/* What the equals are, or why they are not given. */
const char *hp_sheet_equals_note(const hp_wiring_sheet *sheet);

/* "blue (output U)", or "output U" where the scenario gives the lead no name of its own. `side` is
 * "output" or "input". Returns out. */
char *hp_sheet_lead(const char *label, const char *side, int phase, char *out, size_t size);

#endif
