/* Words for pins: see words.h. */
#include "decide/reading/reading_parts.h"
#include "report/picture/picture_parts.h"
#include "report/picture/picture_plug.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include "hubphase/base/text.h"
#include "hubphase/decide/evidence.h"
#include "model/plug.h"

#include <stdio.h>

/* ---- how it is taken ------------------------------------------------------------------------- */

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    hp_lead_names phases = hp_card_phases(context->labels);
    char a[HP_PAIR_WORDS], b[HP_PAIR_WORDS], c[HP_PAIR_WORDS];
    (void)lead;
    HP_CARD_SET(words->title, "Find out with a beeper which pin goes to which lead");
    HP_CARD_SET(words->reason, "It is safe and quick, and it shows a torn lead, or one that "
                               "touches where it must not, before anything is switched on.");
    hp_card_how(words, "Meter on continuity, the range that beeps: find the one lead that each pin "
                       "of the motor's plugs goes to.");
    hp_card_doing(words, HP_DOING_OHMS);
    hp_card_detail(words, "The wheel must not turn meanwhile. Two pins on one lead, or none, is a "
                          "fault.");
    hp_card_detail(words, "Write down the lead's colour and where the pin sits: key mark at the "
                          "top, look into the face, hour and ring, or row and column. Write which "
                          "half you hold: the other face is its mirror image.");
    hp_card_how(words, "The thick phase leads, pair by pair, %s, %s, %s: every pair must beep.",
                hp_card_pair(&phases, 2, a, sizeof a), hp_card_pair(&phases, 0, b, sizeof b),
                hp_card_pair(&phases, 1, c, sizeof c));
    hp_card_how(words, "Every lead against the axle and the bare metal of the shell: no beep.");
    hp_card_how(words, "Every phase lead against every thin Hall lead: no beep.");
    HP_CARD_SET(words->healthy, "All three phase pairs beep alike. Nothing beeps to the axle or "
                                "the shell, and no phase lead to a Hall lead.");
    HP_CARD_SET(words->note, "The pairs that do not beep, if any; whether some lead beeps to the "
                             "axle or shell; whether a phase lead beeps to a Hall lead.");
}

static void danger(const hp_card_context *context, const hp_danger *danger, hp_card *words)
{
    (void)context;
    if (danger == &hp_danger_shell) {
        HP_CARD_SET(words->title, "Stop: a lead touches the axle or the shell");
        HP_CARD_SET(words->reason, "Under power the frame would be live, and a controller dies of "
                                   "it.");
        hp_card_how(words, "Move the leads where they enter the axle while the meter "
                           "beeps: that is where insulation is cut.");
        hp_card_how(words, "Insulate the spot, or open the hub if the winding itself touches. "
                           "Another hub motor in its place gets a scenario and a log of its own.");
        hp_card_doing(words, HP_DOING_HUB);
    } else {
        HP_CARD_SET(words->title, "Stop: a phase lead touches a Hall lead");
        HP_CARD_SET(words->reason,
                    "Under power the phase's voltage would kill the Hall sensors and the "
                    "controller's inputs.");
        hp_card_how(words, "Look where thick and thin leads pass the axle together, "
                           "and into the plug for a bent pin.");
        hp_card_how(words, "Part and insulate them one by one.");
    }
}

/* ---- how it is told -------------------------------------------------------------------------- */

static void showing(const hp_card_context *context, const hp_advice *advice, const void *values,
                    hp_showing_words *words)
{
    const hp_pins *pins = values;
    (void)advice;
    bool open[HP_PHASE_COUNT];
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        open[k] = pins->open[k] == HP_TELL_YES;
    hp_showing_pairs(context->labels, open, "joined", "no continuity", words);
    if (pins->shell == HP_TELL_YES) {
        HP_CARD_SET(words->label, "a lead touches the axle or the shell");
        HP_CARD_SET(words->sentence, "The meter beeps from some lead to the axle or to the bare "
                                     "metal of the shell.");
    }
    if (pins->crossed == HP_TELL_YES) {
        HP_CARD_SET(words->label, "a phase lead touches a Hall lead");
        HP_CARD_SET(words->sentence, "The meter beeps from a thick phase lead to a thin Hall "
                                     "lead.");
    }
}

static void impossible(const hp_card_context *context, const void *values, hp_phrase *p)
{
    hp_lead_names phases = hp_card_phases(context->labels);
    int pair = hp_pins_impossible_pair(values);
    char name[HP_PAIR_WORDS];
    if (pair < 0)
        return;
    hp_phrase_add(p,
                  "That cannot be: two pairs that beep join all three leads. A tip that did not "
                  "touch does that, or a lead that makes contact only now and then: hold the tips "
                  "still, bend the cable at plug, crimp and axle, and measure %s once more. Where "
                  "the beep goes, mend that lead, and log it as contacts.",
                  hp_card_pair(&phases, pair, name, sizeof name));
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_pins *pins = values;
    hp_showing_words words = {.label = ""};
    showing(context, NULL, values, &words);
    hp_phrase_add(p, "pins: %s", words.label);
    if (hp_pins_impossible_pair(pins) >= 0)
        hp_phrase_add(p, ", which cannot be where the two other pairs beep: measure it again");
    if (pins->shell == HP_TELL_NO && pins->crossed == HP_TELL_NO)
        hp_phrase_add(p, ", no lead touches what it must not");
}

static void add_places(const hp_plug_view *view, hp_plug_half half, hp_phrase *p)
{
    hp_phrase_add(p, half == HP_HALF_MOTOR ? "looking into the motor's half, key mark at the top: "
                                           : "into the controller's half, its mirror image: ");
    char words[HP_PLACE_WORDS];
    for (int k = 0; k < view->pins; k++)
        hp_phrase_add(p, "%s%s %s", k ? ", " : "", view->pin[k].lead,
                      hp_pin_place_words(&view->pin[k].face[half], words));
}

void hp_card_detail_plug(const hp_card_context *context, hp_card *words)
{
    hp_plug_view view;
    if (!context->plug || !hp_plug_view_make(context->plug, context->labels, &view))
        return;
    for (int half = HP_HALF_MOTOR; half < HP_HALF_COUNT; half++) {
        char places[sizeof words->detail[0] - 16];
        hp_phrase p = hp_phrase_begin(places, sizeof places);
        add_places(&view, (hp_plug_half)half, &p);
        hp_card_detail(words, "The plug, %s.", places);
    }
}

/* The places in either half, then the names: "pin 1 phase yellow, pin 2 ..." */
static void details(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_plug_map *plug = &((const hp_pins *)values)->plug;
    char lead[HP_LABEL_SIZE + 16];
    hp_plug_view view;
    bool first = true;
    if (hp_plug_view_make(plug, context->labels, &view)) {
        add_places(&view, HP_HALF_MOTOR, p);
        hp_phrase_add(p, "; ");
        add_places(&view, HP_HALF_CONTROLLER, p);
        hp_phrase_add(p, "; seen on the %s half",
                      plug->half == HP_HALF_MOTOR ? "motor's" : "controller's");
    }
    for (int k = 0; plug->given && k < HP_PLUG_LEAD_COUNT; k++) {
        if (view.pins && hp_pin_place_read(plug->pin[k]).kind != HP_PLACE_NONE)
            continue;
        hp_phrase_add(p, "%spin %s %s",
                      !first      ? ", "
                      : view.pins ? "; "
                                  : "",
                      plug->pin[k], hp_plug_lead_words(context->labels, k, lead, sizeof lead));
        first = false;
    }
}

/* ---- how it is asked and logged -------------------------------------------------------------- */

static bool not_all_joined(const hp_question_case *c, const void *values)
{
    const hp_tell *open = ((const hp_pins *)values)->open;
    (void)c;
    return open[0] != HP_TELL_NO || open[1] != HP_TELL_NO || open[2] != HP_TELL_NO;
}

static bool noted_by_place(const hp_question_case *c, const void *values)
{
    (void)c;
    return hp_plug_has_places(&((const hp_pins *)values)->plug);
}

static bool noted_by_column(const hp_question_case *c, const void *values)
{
    (void)c;
    return hp_plug_columns(&((const hp_pins *)values)->plug) > 0;
}

/* The columns that the pins take. */
static const char *columns_so_far(const hp_question_case *c, const void *values, char *out,
                                  size_t size)
{
    (void)c;
    snprintf(out, size, "%d", hp_plug_columns(&((const hp_pins *)values)->plug));
    return out;
}

static const hp_choice half_choices[] = {{"motor", "motor: the half on the motor's cable"},
                                         {"controller", "controller: the half it fits into"},
                                         {NULL, NULL}};

#define PIN_HELP                                                                                   \
    "Its place, in the same half of the plug for all: hold it with the key mark (groove, rib, "    \
    "arrow) at the top and look into its face. In a round plug the hour and the ring, "            \
    "\"3 o'clock outer\", \"90 degrees inner\" or \"centre\"; in a square one \"row 1 column "     \
    "2\", from the upper left. Or the number or letter that stands beside it."

static const hp_question questions[] = {
    {.field = "continuity",
     .which = HP_QUESTION_ALL,
     .text = "Do all three pairs of phase leads beep?",
     .help =
         "Meter on continuity, everything unplugged. The phase leads are the three thick ones."},
    {.field = "continuity", .which = 0, .text = "Do %s beep?", .wanted = not_all_joined},
    {.field = "continuity", .which = 1, .text = "Do %s beep?", .wanted = not_all_joined},
    {.field = "continuity", .which = 2, .text = "Do %s beep?", .wanted = not_all_joined},
    {.field = "touches_shell",
     .text = "Does any lead beep to the axle or the shell?",
     .help =
         "One tip on bare metal of the axle, the other on each lead in turn. None should beep."},
    {.field = "phase_touches_sensor",
     .text = "Does any phase lead beep to a Hall lead?",
     .help = "Thick leads against thin ones. None should beep."},
    {.text = "Write down now which pin of the plug has which lead? It goes onto the wiring sheet.",
     .help = "Eight short questions: three phase leads, three Hall leads, Hall plus and minus.",
     .fallback = "yes"},
    {.field = "phase_pins",
     .which = HP_PLUG_PHASE_U,
     .text = "Which pin has %s? Its place (\"3 o'clock outer\", \"row 1 column 2\") or its own "
             "number or letter.",
     .help = PIN_HELP},
    {.field = "phase_pins",
     .which = HP_PLUG_PHASE_V,
     .text = "Which pin has %s?",
     .help = PIN_HELP},
    {.field = "phase_pins",
     .which = HP_PLUG_PHASE_W,
     .text = "Which pin has %s?",
     .help = PIN_HELP},
    {.field = "sensor_pins",
     .which = HP_PLUG_SENSOR_U,
     .text = "Which pin has %s?",
     .help = PIN_HELP},
    {.field = "sensor_pins",
     .which = HP_PLUG_SENSOR_V,
     .text = "Which pin has %s?",
     .help = PIN_HELP},
    {.field = "sensor_pins",
     .which = HP_PLUG_SENSOR_W,
     .text = "Which pin has %s?",
     .help = PIN_HELP},
    {.field = "supply_plus_pin",
     .which = HP_PLUG_SUPPLY_PLUS,
     .text = "Which pin has %s?",
     .help = PIN_HELP},
    {.field = "supply_minus_pin",
     .which = HP_PLUG_SUPPLY_MINUS,
     .text = "Which pin has %s?",
     .help = PIN_HELP},
    {.field = "half_seen",
     .text = "Into the face of which half of the plug did you look?",
     .help = "The two faces are mirror images of each other: what is right of the key mark in one "
             "is left of it in the other. The half counts that you held while you noted the pins.",
     .choices = half_choices,
     .wanted = noted_by_place},
    {.field = "plug_columns",
     .text = "How many columns has the plug?",
     .help = "Count places without a lead, too: from one half to the other columns are counted "
             "from the other end.",
     .usual = columns_so_far,
     .wanted = noted_by_column},
    {.text = NULL},
};

/* ---- what the sheet keeps -------------------------------------------------------------------- */

static bool says_continuity(const void *values, int unused)
{
    const hp_pins *p = values;
    (void)unused;
    return p->open[0] || p->open[1] || p->open[2] || p->shell || p->crossed;
}

/* "yes", "no" or "not said" to what a pins entry tells; `open` pairs are told the other way. */
static const char *tell_word(hp_tell tell, bool open)
{
    if (tell == HP_TELL_UNSAID)
        return "not said";
    return (tell == HP_TELL_YES) != open ? "yes" : "no";
}

static void keep(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    const hp_entry *entry = hp_sheet_last(source, &hp_reading_pins, says_continuity, 0);
    hp_sheet_line *line = hp_sheet_add(&sheet->readings, "Continuity, all unplugged");
    if (!entry) {
        hp_sheet_set(source, line, NULL, " ");
        return;
    }
    char pairs[3 * (2 * HP_LABEL_SIZE + 16)], name[2 * HP_LABEL_SIZE + 8];
    const hp_tell *open = entry->pins.open;
    hp_phrase p = hp_phrase_begin(pairs, sizeof pairs);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        int pair = hp_card_pair_order[k];
        hp_phrase_add(&p, "%s%s %s", k ? ", " : "",
                      hp_sheet_pair(source->labels, pair, name, sizeof name),
                      tell_word(open[pair], true));
    }
    bool alike = open[0] == open[1] && open[1] == open[2];
    hp_sheet_set(source, line, entry,
                 "%s%s; a lead to the shell: %s; a phase lead to a Hall lead: %s",
                 alike ? "phase pairs: " : "", alike ? tell_word(open[0], true) : pairs,
                 tell_word(entry->pins.shell, false), tell_word(entry->pins.crossed, false));
}

/* A lamp with its cell tells what touches what, no more: it stays dark above some ohms (common
 * practice). */
static void guard(const hp_card_context *context, int at, hp_card *words)
{
    (void)context;
    words->doing[at] |= HP_DOING_OHMS;
    hp_card_detail_at(words, at,
                      "What touches what: everything unplugged, each phase lead and each Hall lead "
                      "against axle and shell, each phase lead against each Hall lead. Nothing may "
                      "beep: a phase lead on a Hall lead gives the sensors the battery's volts, "
                      "and a lead on the shell puts them on the machine. No meter? A torch lamp "
                      "and one cell in series must stay dark there; between two phase leads it "
                      "lights.");
}

const hp_words hp_words_pins = {
    .reading = &hp_reading_pins,
    .menu = "which lead beeps to which",
    .proof = "Check with the meter: continuity of the leads once more.",
    .unchecked = "The phase leads got power before anybody had checked what touches what. This "
                 "time nothing did.",
    .safety = HP_SAFE_APART,
    .unguarded = "nobody has tried the leads against shell and Hall leads",
    .guard_caution = "Leads not tried against shell and Hall leads: do it before any is joined.",
    .guard = guard,
    .card = card,
    .showing = showing,
    .entry = entry,
    .details = details,
    .impossible = impossible,
    .danger = danger,
    .questions = questions,
    .log_words =
        "--continuity=YES-OR-NO --touches-shell=YES-OR-NO --phase-touches-sensor=YES-OR-NO",
    .sheet_place = 1,
    .keep = keep,
};
