/* Words for the Hall supply: see words.h. */
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "report/picture/picture_parts.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include <math.h>
#include <stdio.h>

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    const hp_plan_params *plan = context->plan;
    (void)lead;
    HP_CARD_SET(words->title, "Measure the Hall supply before the Hall sensors are joined to it");
    HP_CARD_SET(words->reason, "Some controllers put battery voltage on a pin that looks like the "
                               "Hall supply, and it kills the sensors the moment they are "
                               "plugged in.");
    hp_card_how(words, "Motor unplugged, Hall plug and phase leads: insulate the ends of its phase "
                       "leads, and those of the controller.");
    hp_card_how(words, "Meter on d.c. volts, a range above the battery's voltage (200 V fits all); "
                       "battery on.");
    hp_card_doing(words, HP_DOING_BATTERY);
    hp_card_how(words, "Measure at the controller's Hall plug between plus and minus (often red "
                       "and black).");
    hp_card_doing(words, HP_DOING_LIVE);
    hp_card_how(words, "Measure each Hall pin against minus, too: none may show more than the "
                       "supply pins do.");
    hp_card_detail(words, "If one does, write that voltage down instead.");
    hp_card_how(words, "Battery off and unplugged again.");
    hp_phrase healthy = hp_phrase_begin(words->healthy, sizeof words->healthy);
    hp_phrase_add(&healthy, "Usually 4.5 to 5 V, with some controllers 12 V. From %.3g to %.3g V ",
                  plan->sensor_v_min, hp_plan_sensor_stop_v(plan));
    if (plan->sensor_own_v > 0.0)
        hp_phrase_add(&healthy,
                      "Hall sensors run; more here is the battery's own, and kills them when it is "
                      "full.");
    else
        hp_phrase_add(&healthy, "Hall sensors run; above %.3g V they die.",
                      hp_plan_sensor_stop_v(plan));
    HP_CARD_SET(words->note, "The volts; a minus sign when the tips had to be swapped.");
}

/* chosen: as bright as on three cells at about 5 V, seven times the current at 36 V, and 1.4
 * watts in the resistor at 84 V: it harms neither the supply nor itself (common practice). */
static void guard(const hp_card_context *context, int at, hp_card *words)
{
    words->doing[at] |= HP_DOING_LIVE;
    hp_card_detail_at(words, at,
                      "The Hall supply: Hall plug and phase leads out and insulated, meter on d.c. "
                      "volts, a range above the battery's; battery on with the care of the run "
                      "below. At the controller's Hall plug measure plus and each Hall pin against "
                      "minus, then battery off. More than %.3g V, or a minus sign: do not plug it "
                      "in.",
                      hp_plan_sensor_stop_v(context->plan));
    hp_card_detail_at(words, at,
                      "No meter? A light-emitting diode with 4.7 kilohm, two watts, in series, "
                      "between the same pins: about as bright as on three cells (4.5 V) is good. "
                      "Clearly brighter is too much; dark is nothing, or the wrong way round. Try "
                      "it on the cells once more afterwards. Cannot be told? Do not plug it in.");
}

/* The volts of the entry that shows a danger; NAN: not known here. */
static double volts_of(const hp_card_context *context)
{
    const hp_commission *list = context->commission;
    const hp_entry *last = list ? hp_assess_last(&list->given, &hp_reading_supply) : NULL;
    return last && last->number == list->danger_entry ? last->supply.volts : NAN;
}

/* chosen: so near to the battery's stated volts they are the battery's, full or low. */
#define BATTERY_WITHIN 0.3

/* "It is 48 V the wrong way round, the battery's own volts." */
static void add_read(const hp_card_context *context, double volts, hp_phrase *p)
{
    char number[HP_NUMBER_WORDS];
    double battery = context->drive->supply.emf_v;
    if (isnan(volts))
        return;
    hp_phrase_add(p, " It is %s V%s", hp_card_as_read(fabs(volts), number, sizeof number),
                  volts < 0.0 ? " the wrong way round" : "");
    hp_phrase_add(
        p, "%s.",
        fabs(fabs(volts) - battery) < BATTERY_WITHIN * battery ? ", the battery's own volts" : "");
}

static void danger(const hp_card_context *context, const hp_danger *danger, hp_card *words)
{
    const hp_plan_params *plan = context->plan;
    double volts = volts_of(context);
    if (danger == &hp_danger_sensor_supply) {
        HP_CARD_SET(words->title, "Stop: the Hall supply is too low, or the wrong way round");
        HP_CARD_SET(words->reason,
                    "Below %.3g V the Hall sensors do not run, and the wrong way round they die.",
                    plan->sensor_v_min);
        hp_card_how(words, "Do not plug the sensors in.");
        hp_card_how(words, "Find another pin that carries the supply, for a switch or a key "
                           "lead that must be joined, or feed the sensors from a 5 V supply of "
                           "their own with its minus on the controller's.");
    } else {
        HP_CARD_SET(words->title, "Stop: the Hall supply is too high%s",
                    volts < 0.0 ? ", and the wrong way round" : "");
        hp_phrase reason = hp_phrase_begin(words->reason, sizeof words->reason);
        hp_phrase_add(&reason,
                      "More than %.3g V %s%s. This pin may carry the battery's voltage, for a lamp "
                      "or a display.",
                      hp_plan_sensor_stop_v(plan),
                      plan->sensor_own_v > 0.0
                          ? "there is the battery's own, and destroys the Hall sensors at once or "
                            "when it is full"
                          : "destroys the Hall sensors the moment they are joined",
                      volts < 0.0 ? ", either way round" : "");
        add_read(context, volts, &reason);
        hp_card_how(words, "Do not plug the sensors in.");
        hp_card_how(words, "Find the pins that carry about 5 V; or feed the sensors from a 5 V "
                           "supply of their own with its minus on the controller's.");
    }
}

static void showing(const hp_card_context *context, const hp_advice *advice, const void *values,
                    hp_showing_words *words)
{
    const hp_plan_params *plan = context->plan;
    double volts = ((const hp_supply_reading *)values)->volts;
    (void)advice;
    if (fabs(volts) > hp_plan_sensor_stop_v(plan)) {
        HP_CARD_SET(words->label, "more than %.3g V", hp_plan_sensor_stop_v(plan));
        HP_CARD_SET(words->sentence,
                    "The Hall supply shows more than %.3g V, with or without a minus sign: it "
                    "would destroy the sensors.",
                    hp_plan_sensor_stop_v(plan));
        return;
    }
    if (volts < plan->sensor_v_min) {
        HP_CARD_SET(words->label, "less than %.3g V, or the wrong way round", plan->sensor_v_min);
        HP_CARD_SET(words->sentence,
                    "The Hall supply shows less than %.3g V, nothing, or a minus sign.",
                    plan->sensor_v_min);
        return;
    }
    HP_CARD_SET(words->label, "%.3g to %.3g V", plan->sensor_v_min, hp_plan_sensor_stop_v(plan));
    HP_CARD_SET(words->sentence,
                "The Hall supply is between %.3g and %.3g V, plus where plus should be.",
                plan->sensor_v_min, hp_plan_sensor_stop_v(plan));
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    char number[HP_NUMBER_WORDS];
    (void)context;
    hp_phrase_add(
        p, "Hall supply: %s V",
        hp_card_as_read(((const hp_supply_reading *)values)->volts, number, sizeof number));
}

static const hp_question questions[] = {
    {.field = "supply_v",
     .text = "How many volts, plus to minus, do the controller's Hall supply pins give?",
     .help = "The Hall sensors are not joined yet. Red tip on plus, black on minus; a minus sign "
             "before "
             "the number counts too."},
    {.text = NULL},
};

static bool says_volts(const void *values, int unused)
{
    (void)unused;
    return !isnan(((const hp_supply_reading *)values)->volts);
}

static void keep(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    const hp_entry *supply = hp_sheet_last(source, &hp_reading_supply, says_volts, 0);
    hp_sheet_line *line = hp_sheet_add(&sheet->readings, "Hall supply from the controller");
    hp_sheet_set(source, line, supply, "%.4g V", supply ? supply->supply.volts : 0.0);
}

const hp_words hp_words_supply = {
    .reading = &hp_reading_supply,
    .menu = "volts for the Hall sensors",
    .unchecked = "The Hall sensors were joined to pins that nobody had measured. This time the "
                 "volts there were right.",
    .unguarded = "nobody has measured the Hall supply",
    .guard_caution = "Hall supply not measured: Hall plug stays out until its volts are known.",
    .guard = guard,
    .card = card,
    .showing = showing,
    .entry = entry,
    .danger = danger,
    .questions = questions,
    .sheet_place = 5,
    .keep = keep,
};
