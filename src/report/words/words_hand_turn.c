/* Words for the hand turn: see words.h. */
#include "decide/reading/reading_parts.h"
#include "report/picture/picture_parts.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include "hubphase/base/text.h"
#include "hubphase/decide/evidence.h"

#include <stdio.h>

/* Turns of the rotor, electrical, in one turn of the wheel. */
static double electrical_turns(const hp_drive *drive)
{
    return 0.5 * hp_hand_turn_edges(drive);
}

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    const hp_drive *drive = context->drive;
    hp_lead_names sensors = hp_card_sensors(context->labels);
    const char *way = drive->stand.clutch ? "backward" : "forward";
    double turns = electrical_turns(drive);
    (void)lead;
    HP_CARD_SET(words->title, "Turn the wheel by hand and read the Hall codes");
    HP_CARD_SET(words->reason,
                "The order of the codes shows how the Hall leads follow one another, "
                "a faulty Hall sensor, and 60-degree sensors, all without power at "
                "the motor.");
    hp_card_how_to_read_code(context, &sensors, words);
    hp_card_how(words,
                "Turn the lifted wheel slowly %s and write the code down each time it changes, in "
                "the order %s, %s, %s, until the row begins again.",
                way, sensors.bare[0], sensors.bare[1], sensors.bare[2]);
    hp_card_doing(words, HP_DOING_TURN);
    hp_card_detail(words,
                   "Seven codes at least. All six pass within %.2g degrees of the wheel, so move "
                   "it by fingertip.%s",
                   360.0 / turns,
                   drive->stand.clutch
                       ? " Backward: forward, the one-way clutch would leave the rotor behind."
                       : "");
    hp_card_how(words, "If you have the patience, count how often one lead changes in one whole "
                       "turn of the wheel.");
    hp_card_detail(words, "The count tells the number of pole pairs.");
    HP_CARD_SET(words->healthy,
                "Six codes in a fixed order, one figure changing at a time. 120-degree sensors "
                "never show 000 or 111; 60-degree ones show both. One lead changes %.0f times in a "
                "turn of the wheel, if the scenario's number of magnets is true.",
                2.0 * turns);
    HP_CARD_SET(words->note,
                "The codes in order, figures in the order %s %s %s; which way you turned; the "
                "count, if you took it.",
                sensors.bare[0], sensors.bare[1], sensors.bare[2]);
}

static void showing(const hp_card_context *context, const hp_advice *advice, const void *values,
                    hp_showing_words *words)
{
    const hp_hand_turn *t = values;
    hp_lead_names sensors = hp_card_sensors(context->labels);
    hp_phrase label = hp_phrase_begin(words->label, sizeof words->label);
    hp_phrase s = hp_phrase_begin(words->sentence, sizeof words->sentence);
    (void)advice;
    if (t->count == 1) {
        char code[4];
        hp_phrase_add(&label, "always %s", hp_code_words(t->code[0], code));
        hp_phrase_add(&s, "The code stays %s however the wheel is turned", code);
    } else {
        hp_card_codes(t, false, &label);
        hp_phrase_add(&s, "The codes follow one another in the order ");
        hp_card_codes(t, false, &s);
        hp_phrase_add(&s, " and over again, wherever you began");
    }
    hp_phrase_add(&s, ". Figures in the order %s, %s, %s.", sensors.bare[0], sensors.bare[1],
                  sensors.bare[2]);
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_hand_turn *t = values;
    (void)context;
    hp_phrase_add(p, "hand turn%s: ", t->backward ? " backward" : "");
    hp_card_codes(t, true, p);
    if (t->edges > 0)
        hp_phrase_add(p, "; %d changes a turn of the wheel", t->edges);
}

/* "20 changes in a wheel turn are 10 pole pairs, and the scenario states 15: count again, or
 * correct the scenario." */
static void gainsaid(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_hand_turn *t = values;
    double gear = context->drive->stand.gear_ratio;
    hp_phrase_add(p, "%d changes in a wheel turn are %.4g pole pairs%s, and the scenario states ",
                  t->edges, 0.5 * t->edges, gear == 1.0 ? "" : " times gear ratio");
    if (gear == 1.0)
        hp_phrase_add(p, "%d", context->drive->motor.pole_pairs);
    else
        hp_phrase_add(p, "%d times %.4g, %.4g", context->drive->motor.pole_pairs, gear,
                      electrical_turns(context->drive));
    hp_phrase_add(p, ": count again, or correct the scenario.");
}

/* At the reading itself. */
static void details(const hp_card_context *context, const void *values, hp_phrase *p)
{
    if (hp_reading_hand_turn.gainsays(context->drive, values) == HP_TELL_YES)
        gainsaid(context, values, p);
}

static const hp_choice ways[] = {
    {"forward", "forward"},
    {"backward", "backward"},
    {NULL, NULL},
};

/* Behind a one-way clutch the wheel takes the rotor along backward only. */
static const char *usual_way(const hp_question_case *c, const void *values, char *out, size_t size)
{
    (void)values;
    (void)out;
    (void)size;
    return c->drive->stand.clutch ? "backward" : "forward";
}

static const hp_question questions[] = {
    {.field = "codes",
     .text = "Which codes did you read, one after the other?",
     .help = "Three digits each, in the order of the Hall leads, with blanks between: 101 100 110. "
             "1 is the high level, 0 the low one."},
    {.field = "direction",
     .text = "Which way did you turn the wheel?",
     .help = "Forward is the way the machine drives.",
     .choices = ways,
     .usual = usual_way},
    {.field = "edges_per_wheel_turn",
     .text = "How often did one sensor change over one whole turn of the wheel?",
     .help = "Each change from 0 to 1 counts, and each from 1 to 0.",
     .fallback = "",
     .shown = "Enter: not counted"},
    {.text = NULL},
};

static void log_options(const hp_card_context *context, const hp_advice *advice, hp_log_line *line)
{
    (void)advice;
    if (context->drive->stand.clutch)
        hp_log_word(line, "--direction=backward");
    hp_log_word(line, "--codes=CODE,CODE,...");
}

static bool says_edges(const void *values, int unused)
{
    (void)unused;
    return ((const hp_hand_turn *)values)->edges > 0;
}

static bool says_codes(const void *values, int unused)
{
    (void)unused;
    return ((const hp_hand_turn *)values)->count > 0;
}

static void keep(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    const hp_labels *labels = source->labels;
    const hp_entry *counted = hp_sheet_last(source, &hp_reading_hand_turn, says_edges, 0);
    const hp_entry *turned = hp_sheet_last(source, &hp_reading_hand_turn, says_codes, 0);
    /* Each sensor changes twice in an electrical turn. */
    hp_sheet_line *line = hp_sheet_add(
        &sheet->readings, "%s",
        source->drive->stand.gear_ratio > 1.0 ? "Pole pairs times gear ratio" : "Pole pairs");
    bool against =
        counted && hp_reading_hand_turn.gainsays(source->drive, counted->values) == HP_TELL_YES;
    hp_sheet_set(source, line, counted, "%.4g (%d changes of one sensor in a wheel turn)%s",
                 counted ? 0.5 * counted->hand_turn.edges : 0.0,
                 counted ? counted->hand_turn.edges : 0,
                 against ? ", not as stated: count again, or correct the scenario" : "");
    char codes[6 * HP_TURN_CODES];
    hp_phrase p = hp_phrase_begin(codes, sizeof codes);
    for (int k = 0; turned && k < turned->hand_turn.count && k < HP_TURN_CODES; k++) {
        int code = turned->hand_turn.code[k];
        hp_phrase_add(&p, "%s%d%d%d", k ? " " : "", code >> 2 & 1, code >> 1 & 1, code & 1);
    }
    line = hp_sheet_add(&sheet->readings, "Hall codes in order (%s, %s, %s)",
                        hp_picture_label(labels->motor_sensor[HP_U], HP_U),
                        hp_picture_label(labels->motor_sensor[HP_V], HP_V),
                        hp_picture_label(labels->motor_sensor[HP_W], HP_W));
    hp_sheet_set(source, line, turned, "%s (wheel turned %s)", codes,
                 turned && turned->hand_turn.backward ? "backward" : "forward");
    hp_sheet_add_stated(sheet, "motor.pole_pairs", "Pole pairs of the rotor, stated", "", NULL, "");
    hp_sheet_add_stated(sheet, "motor.magnets", "Magnets of the rotor, stated", "", NULL, "");
    hp_sheet_add_stated(sheet, "stand.gear_ratio", "Gear ratio, stated", "", NULL, "");
}

const hp_words hp_words_hand_turn = {
    .reading = &hp_reading_hand_turn,
    .menu = "codes while the wheel is turned by hand",
    .proof = "Check with the meter: turn the wheel by hand with the Hall sensors powered and read "
             "every code; a stuck sensor never changes.",
    .safety = HP_SAFE_APART,
    .card = card,
    .showing = showing,
    .entry = entry,
    .details = details,
    .gainsaid = gainsaid,
    .questions = questions,
    .log = log_options,
    .sheet_place = 4,
    .keep = keep,
};
