/*
 * Step words: what to say about one step of the advice, in the names of the scenario's leads.
 *
 * Title, what makes it safe now, reason, at most five actions with their cautions, details of them,
 * what a good part gives and what to write down, for every kind of advice; a short label and a
 * sentence for everything that a step may show; a line for an entry of the log; a name for every
 * trouble. Plain text without line breaks, control characters in the labels replaced
 * (hubphase/base/text.h): a terminal, JSON, a page and a question can all use it.
 *
 * A how-to says what the hands do (hp_card_doing); the cautions follow from that (hazard.h).
 * How-tos and cautions are common practice. Local rules and licensed people come first.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_CARD_H
#define HUBPHASE_SRC_REPORT_WORDS_CARD_H

#include "decide/advise/plan.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/commission.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/model/drive.h"
#include "hubphase/model/labels.h"
#include "hubphase/report/case_words.h"
#include "report/words/hazard.h"

#include <stdbool.h>
#include <stddef.h>

#define HP_CARD_HOWS     5 /* chosen: as many as a person keeps in mind while the hands work */
#define HP_CARD_DETAILS  28
#define HP_CARD_CAUTIONS 24

/* What the words are about; all borrowed. */
typedef struct hp_card_context {
    const hp_drive *drive;
    const hp_labels *labels;
    const hp_plan_params *plan; /* hp_planner_params(): its throttle is filled in */
    int present;                /* number of the wiring that is joined, hp_card_present; 0: none */
    const hp_plug_map *plug;    /* what sits where in the motor's plug; NULL: not known */
    const hp_commission *commission; /* where its commissioning stands; NULL: not reckoned */
} hp_card_context;

typedef struct hp_card {
    bool stop;         /* not a next step: nothing is to be done until this is mended, or at all */
    bool chosen;       /* by the person and not advised: told, but not as the next step */
    char title[240];   /* "Park the rotor on the blue phase lead" */
    hp_safe safety;    /* the zero is the strictest: who says nothing else gets it */
    char safe[1400];   /* what makes it safe now; it is told first. Made from `safety` */
    char reason[2400]; /* one or two sentences, behind what forbids to ride; never empty */
    int hows;
    char how[HP_CARD_HOWS][1100]; /* actions in order, to be numbered; at least one */
    unsigned doing[HP_CARD_HOWS]; /* hp_doing bits: what the hands do there */
    int details;                  /* what helps with an action and may be folded, in its order */
    char detail[HP_CARD_DETAILS][1000];
    int detail_at[HP_CARD_DETAILS]; /* the how that it belongs to */
    int cautions;                   /* in the order of the hows; at least one */
    char caution[HP_CARD_CAUTIONS][400];
    int caution_at[HP_CARD_CAUTIONS];       /* the how that it belongs to; hows: the whole card */
    hp_hazard caution_of[HP_CARD_CAUTIONS]; /* HP_HAZARD_COUNT: of this card alone */
    char healthy[600]; /* what sound parts give; empty where there is nothing to expect */
    char note[400];    /* what to write down; empty where there is nothing */
} hp_card;

typedef struct hp_showing_words {
    char label[160];    /* for a button or a list: "forward, smooth, small current" */
    char sentence[800]; /* the same for somebody who is not sure what is meant */
} hp_showing_words;

/* The wiring joined last by a log; 0: none. */
int hp_card_present(const hp_belief *belief);

void hp_card_make(const hp_card_context *context, const hp_advice *advice, hp_card *words);

/* What makes an advised step safe before a hand goes near the leads. */
hp_safe hp_card_safety(const hp_advice *advice);
/* Why an advised step comes before all else, for somebody who cannot do it; NULL: it can be left
 * out, or the work ends with it. */
const char *hp_card_must(const hp_advice *advice);

/* One thing that an advised step may show (hp_plan_showings). */
void hp_showing_words_make(const hp_card_context *context, const hp_advice *advice,
                           const hp_entry *entry, hp_showing_words *words);

/* An entry of the log in one line without its number: "park on blue: code 110". Returns out. */
#define HP_ENTRY_WORDS 640
char *hp_entry_words(const hp_card_context *context, const hp_entry *entry, char *out, size_t size);

/* What is wrong: "the green sensor is stuck at 1"; "nothing is broken" for
 * HP_TROUBLE_SOUND. Returns out. */
#define HP_TROUBLE_WORDS 320
/* The Hall lead that an inverter goes into where parts are to be mended that do not fit; at an
 * input that hears every lead the wrong way round it is the one that the advised wiring joins to
 * it. -1: all fit. */
int hp_misfit_lead(const hp_advice *advice, int misfit);
char *hp_trouble_words(const hp_labels *labels, int trouble, char *out, size_t size);

/* Who joins whom: "yellow to output blue, ..." and "red to input U, ...". Joints that differ from
 * those of wiring `present` (0: none) end in " (moves)". Return out. */
#define HP_JOINT_WORDS 480
char *hp_phase_joint_words(const hp_labels *labels, const hp_wiring *wiring, int present, char *out,
                           size_t size);
char *hp_sensor_joint_words(const hp_labels *labels, const hp_wiring *wiring, int present,
                            char *out, size_t size);

#endif
