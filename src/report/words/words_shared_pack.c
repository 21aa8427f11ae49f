/* Words for a battery pack that several vehicles share: see words.h. */
#include "decide/reading/machine_values.h"
#include "report/words/control_words.h"

#include <stdio.h>

/* Whether nothing but the controller ends its discharge. */
static bool unprotected(const hp_card_context *context)
{
    return context->plan->cell == HP_CELL_LEAD;
}

/* What no cut-off may be below. */
static const char *lowest_words(const hp_card_context *context, char *out, size_t size)
{
    const hp_pack_params *pack = context->commission ? context->commission->given.pack : NULL;
    if (!unprotected(context))
        return "the battery's protection";
    if (!pack)
        return "the volts of the empty lead battery";
    snprintf(out, size, "the empty lead battery's %.3g V", pack->empty_v);
    return out;
}

/* What the full pack has, and where that figure comes from. What a label or a sticker calls a pack
 * is the middle of its charge, and a controller that bears no more than that dies of the full one.
 */
static void how_to_compare_volts(const hp_card_context *context, hp_card *words)
{
    static const char *const cell[HP_CELL_COUNT] = {"lithium-ion", "lithium iron phosphate",
                                                    "lead"};
    const hp_assess_case *given = context->commission ? &context->commission->given : NULL;
    const hp_pack_params *pack = given ? given->pack : NULL;
    char full[64] = "the", cells[80] = "", low[80];
    bool guessed = !pack || given->pack_known == HP_PACK_GUESSED;
    if (!guessed)
        snprintf(full, sizeof full, "the full battery's %.3g V, or the", pack->full_v);
    hp_card_how(words,
                "On each controller's label: its most volts against %s volts on the charger's "
                "label%s, its cut-off against %s.",
                full, guessed ? "" : " where they are more",
                lowest_words(context, low, sizeof low));
    if (pack)
        snprintf(cells, sizeof cells, "%d %s cells at %.3g V each", pack->in_series,
                 cell[pack->cell], hp_cell_volts_of(pack->cell).full);
    if (pack && guessed)
        hp_card_detail(words,
                       "The full battery's volts are not stated. Guessed from its %.3g V it has "
                       "%.3g V: %s, which may be wrong by a cell or in the kind. What it is called "
                       "by is always less than it has when full.",
                       context->drive->supply.emf_v, pack->full_v, cells);
    else if (pack && given->pack_known == HP_PACK_COUNTED)
        hp_card_detail(words,
                       "%.3g V: %s, charged full. What a battery is called by is less: "
                       "never hold a label against that.",
                       pack->full_v, cells);
}

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    char low[80];
    (void)lead;
    HP_CARD_SET(words->title, "Check that a shared battery pack suits every vehicle that takes it");
    HP_CARD_SET(words->reason, "One pack, two vehicles with plus and minus swapped: the second "
                               "controller is gone at the first touch.");
    hp_card_how(words,
                "Battery off: meter on d.c. volts at the battery's plug, red on plus; note which "
                "pin is plus, and that it is the same pin in each vehicle's plug.");
    hp_card_doing(words, HP_DOING_BATTERY);
    hp_card_detail(words,
                   "In the vehicle's half plus is the lead with the fuse; on continuity, all "
                   "dead, it leads to the controller's thick plus.");
    how_to_compare_volts(context, words);
    if (unprotected(context))
        hp_card_detail(words, "A lead battery has no protection of its own: what is emptied below "
                              "that is spoilt, and the controller's cut-off is all that ends it.");
    hp_card_how(words,
                "In each vehicle: a fuse of its own near the battery's plus, no larger than its "
                "leads bear.");
    HP_CARD_SET(words->healthy,
                "The same pin is plus, the same plug, more volts borne than the full "
                "pack has, a cut-off at or above %s, a fuse on each.",
                unprotected(context) ? lowest_words(context, low, sizeof low) : "the battery's");
    HP_CARD_SET(words->note,
                "How many vehicles take it, and of polarity, plug, full volts, cut-off "
                "and fuse whether each is right on all. Not shared: say so.");
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_shared_pack_reading *s = values;
    (void)context;
    hp_phrase_add(p, "battery pack:");
    hp_add_tell(p, "shared", "not shared", s->shared);
    if (s->vehicles > 0)
        hp_add_item(p, "%d vehicles", s->vehicles);
    hp_add_tell(p, "same polarity", "polarity differs", s->same_plus);
    hp_add_tell(p, "same plug", "plugs differ", s->same_plug);
    hp_add_tell(p, "full volts borne", "full volts too high for one", s->same_full);
    hp_add_tell(p, "cut-off fits", "cut-off too low on one", s->same_cut_off);
    hp_add_tell(p, "fuse on each", "a fuse is missing", s->fuses);
}

static const hp_fault_words faults[] = {
    {HP_PACK_PLUS, "plus is another pin on one vehicle",
     "change that vehicle's plug before the battery goes near it"},
    {HP_PACK_FULL, "one controller does not bear the full battery",
     "never put that battery on that vehicle, and mark both"},
    {HP_PACK_GAINSAID,
     "by the scenario this controller does not bear the full battery (ratings.controller_most_v "
     "against pack.full_v), and the log says that each does",
     "do not join them before the labels of charger and controller were read again: correct the "
     "scenario, or log it anew"},
    {HP_PACK_FUSE, "a vehicle has no fuse of its own", "fit a fuse near the battery's plus"},
    {HP_PACK_PLUG, "the plugs differ", "fit the same plug on all, since adapters get swapped"},
    {HP_PACK_CUT_OFF, "one controller drains the battery below its cut-off",
     "set its cut-off higher, or rely on the battery's protection and charge in time"},
};

static void finding(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words)
{
    if (step->code == HP_STEP_NOT_FITTED)
        HP_CARD_SET(words->means, "The battery serves this machine alone.");
    else if (!hp_finding_shared(context, step, "shared pack",
                                "polarity, plug, full volts, cut-off, fuse", words))
        hp_finding_faults(step->code, faults, (int)(sizeof faults / sizeof faults[0]), words);
    if (step->code == HP_PACK_CUT_OFF && unprotected(context))
        HP_CARD_SET(words->otherwise,
                    "Set its cut-off higher, or keep that battery off it: a lead battery has no "
                    "protection of its own, and emptied too far it is spoilt.");
}

static bool shared(const hp_question_case *c, const void *values)
{
    (void)c;
    return ((const hp_shared_pack_reading *)values)->shared != HP_TELL_NO;
}

#define OF_ALL(field_, text_)                                                                      \
    {                                                                                              \
        .field = field_, .text = text_, .fallback = "", .shown = "Enter: not checked",             \
        .wanted = shared                                                                           \
    }

static const hp_question questions[] = {
    {.field = "shared", .text = "Does the battery serve other vehicles, too?", .fallback = "no"},
    OF_ALL("vehicles", "How many vehicles take it?"),
    OF_ALL("same_polarity", "Is plus the same pin on each, measured?"),
    OF_ALL("same_plug", "Has each the same plug, without an adapter?"),
    OF_ALL("full_fits", "Does each controller bear the volts of the full battery?"),
    OF_ALL("cut_off_fits", "Does each controller cut off before the battery is empty?"),
    OF_ALL("fuse_on_each", "Has each a fuse of its own near the battery's plus?"),
    {.text = NULL},
};

const hp_words hp_words_shared_pack = {
    .reading = &hp_reading_shared_pack,
    .menu = "a battery pack that other vehicles take, too",
    .safety = HP_SAFE_HANDS_OFF,
    .card = card,
    .entry = entry,
    .finding = finding,
    .questions = questions,
    .log_words = "--shared=YES-OR-NO --vehicles=N --same-polarity=YES-OR-NO --same-plug=YES-OR-NO "
                 "--full-fits=YES-OR-NO --cut-off-fits=YES-OR-NO --fuse-on-each=YES-OR-NO",
};
