/*
 * Two kinds of readings and their words, and lists that begin with them: see the header.
 *
 * With HP_NEW_KINDS_UNASKED the advice never asks for them: every other output must then be as
 * without them.
 */
#include "new_kinds.h"

#include "decide/reading/reading_parts.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include <math.h>

#ifdef HP_NEW_KINDS_UNASKED
#define MINUTES(minutes) 0.0
#else
#define MINUTES(minutes) (minutes)
#endif

/* ---- insulation: what would be decide/reading/insulation.c ----------------------------------- */

const hp_danger danger_insulation = {"insulation_low", &reading_insulation};

static const hp_field insulation_fields[] = {
    {.name = "lead_to_shell_mohm",
     .type = HP_FIELD_NUMBER,
     .required = true,
     .figure = true,
     .limits = {.unit = "megohm", .low = 0, .high = 1e5},
     .usual = {.high = 2e4},
     .offset = offsetof(insulation, megohm),
     .factor = 1,
     .argument = "MEGOHMS",
     .help = "Resistance of the leads to the shell"},
    {.name = NULL},
};

static hp_result check_insulation(const void *values, hp_error *err)
{
    return hp_check_range(err, "insulation in megohm", ((const insulation *)values)->megohm, 0.0,
                          1e5);
}

static void typical_insulation(const hp_reading_case *c, void *values)
{
    (void)c;
    ((insulation *)values)->megohm = 50.0;
}

static int insulation_dangers(const hp_reading_case *c, hp_entry *entry)
{
    (void)c;
    entry[0] = hp_entry_make(&reading_insulation, 0);
    return 1;
}

static const hp_danger *const insulation_dangers_told[] = {&danger_insulation, NULL};

static hp_tell insulation_danger(const void *values, const hp_danger *danger,
                                 const hp_plan_params *plan, const hp_person *person)
{
    (void)danger;
    (void)plan;
    (void)person;
    return ((const insulation *)values)->megohm < INSULATION_LEAST ? HP_TELL_YES : HP_TELL_NO;
}

const hp_reading reading_insulation = {
    .name = "insulation",
    .title = "insulation",
    .size = sizeof(insulation),
    .fields = insulation_fields,
    .check = check_insulation,
    .minutes = MINUTES(2.0),
    .first = MINUTES(1.0) > 0.0,
    .rank = 8,
    .typical = typical_insulation,
    .dangers = insulation_dangers,
    .speaks_of = insulation_dangers_told,
    .danger = insulation_danger,
};

/* ---- insulation: what would be report/words/words_insulation.c ------------------------------- */

static void insulation_card(const hp_card_context *context, int lead, hp_card *words)
{
    (void)context;
    (void)lead;
    HP_CARD_SET(words->title, "Measure the insulation between leads and shell");
    HP_CARD_SET(words->reason, "A frame that is live hurts whoever touches it.");
    hp_card_how(words, "Battery away, everything unplugged.");
    hp_card_how(words, "Insulation tester on 250 V, from all leads together to the bare axle.");
    hp_card_caution(words, "The tester's tips bite: hands off while it measures.");
    HP_CARD_SET(words->healthy, "More than %g megohm.", INSULATION_LEAST);
    HP_CARD_SET(words->note, "The megohms.");
}

static void insulation_showing(const hp_card_context *context, const hp_advice *advice,
                               const void *values, hp_showing_words *words)
{
    bool low = ((const insulation *)values)->megohm < INSULATION_LEAST;
    (void)context;
    (void)advice;
    HP_CARD_SET(words->label, "%s than 1 megohm", low ? "less" : "more");
    HP_CARD_SET(words->sentence, "The tester shows %s than 1 megohm.", low ? "less" : "more");
}

static void insulation_entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    (void)context;
    hp_phrase_add(p, "insulation: %.5g megohm", ((const insulation *)values)->megohm);
}

static void insulation_stop(const hp_card_context *context, const hp_danger *danger, hp_card *words)
{
    (void)context;
    (void)danger;
    HP_CARD_SET(words->title, "Stop: the insulation is bad");
    HP_CARD_SET(words->reason, "The frame would be live.");
    hp_card_how(words, "Dry the hub, then look where the leads enter the axle.");
}

static const hp_question insulation_questions[] = {
    {.field = "lead_to_shell_mohm",
     .text = "How many megohms from the leads to the shell?",
     .help = "All leads together."},
    {.text = NULL},
};

static bool says_megohm(const void *values, int unused)
{
    (void)unused;
    return !isnan(((const insulation *)values)->megohm);
}

static void keep_insulation(hp_wiring_sheet *sheet)
{
    const hp_entry *found = hp_sheet_last(&sheet->source, &reading_insulation, says_megohm, 0);
    if (!found)
        return;
    hp_sheet_line *line = hp_sheet_add(&sheet->readings, "Insulation to the shell");
    hp_sheet_set(&sheet->source, line, found, "%.4g megohm",
                 ((const insulation *)hp_entry_said(found))->megohm);
}

static const hp_words words_insulation = {
    .reading = &reading_insulation,
    .menu = "megohms from the leads to the shell",
    .card = insulation_card,
    .showing = insulation_showing,
    .entry = insulation_entry,
    .danger = insulation_stop,
    .questions = insulation_questions,
    .sheet_place = 9,
    .keep = keep_insulation,
};

/* ---- inductance: the least that a kind can be, without words --------------------------------- */

static const hp_field inductance_fields[] = {
    {.name = "inductance_mh",
     .type = HP_FIELD_PAIRS,
     .required = true,
     .figure = true,
     .limits = {.unit = "mH", .low = 0, .high = 1000, .none = true},
     .offset = offsetof(inductance, millihenry),
     .argument = "PAIR=MH",
     .help = "Inductance of a pair of phase leads, or open"},
    {.name = NULL},
};

static void make_inductance(void *values)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        ((inductance *)values)->millihenry[k] = NAN;
}

static double weigh_inductance(const hp_reading_case *c, const void *values)
{
    const inductance *l = values;
    double weight = 1.0, slip = c->person->pair_misread;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (!isnan(l->millihenry[k]))
            weight *= hp_pair_open(c->hypothesis, k) == (isinf(l->millihenry[k]) != 0) ? 1.0 - slip
                                                                                       : slip;
    return weight;
}

static void typical_inductance(const hp_reading_case *c, void *values)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        ((inductance *)values)->millihenry[k] =
            hp_pair_open(c->hypothesis, k) ? (double)INFINITY : 0.3;
}

const hp_reading reading_inductance = {
    .name = "inductance",
    .title = "inductance",
    .size = sizeof(inductance),
    .fields = inductance_fields,
    .make = make_inductance,
    .minutes = MINUTES(0.2),
    .rank = 9,
    .shows_faults = true,
    .typical = typical_inductance,
    .weigh = weigh_inductance,
};

/* ---- the two lists --------------------------------------------------------------------------- */

#define READING(kind) &hp_reading_##kind,
#define WORDS(kind)   &hp_words_##kind,

const hp_reading *const hp_readings[] = {&reading_insulation, &reading_inductance,
                                         HP_READING_KINDS(READING) NULL};

const hp_words *const hp_words_list[] = {&words_insulation, HP_READING_KINDS(WORDS) NULL};
