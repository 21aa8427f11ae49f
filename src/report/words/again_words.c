/*
 * What is to be measured again, told alike wherever it is told: on the card of the next step, by
 * the list of steps, on the wiring sheet, as JSON.
 */
#include "report/words/again_words.h"
#include "decide/reading/reading.h"
#include "report/words/card_parts.h"

#include <ctype.h>
#include <math.h>

const char hp_unsensed_words[] =
    "This controller runs without Hall sensors: smooth runs prove the order of the phase leads and "
    "the direction, and say nothing of the Hall leads, neither of their order nor whether one is "
    "torn.";

const char hp_plug_out_words[] =
    "Their order is not proved: until it is, leave the Hall plug out, both halves insulated.";

const char hp_plug_owed_words[] =
    "Nobody has pulled the Hall plug yet to see whether the motor still turns: if it does, smooth "
    "runs say nothing of the Hall leads. One second tells; log it, before the first ride.";

const char hp_plug_untried_words[] =
    "Nobody has tried whether this controller also runs with the Hall plug pulled. If it does, "
    "smooth runs say nothing of the Hall leads, and their order is not proved.";

void hp_contrary_words(const hp_entry *contrary, hp_phrase *p)
{
    hp_phrase_add(p,
                  "What entry %d says (%s) does not fit a wheel that runs well: check the figures, "
                  "measure it again, and mend what stays.",
                  contrary->number, hp_reading_title(contrary->reading));
}

void hp_gainsaid_words(const hp_card_context *context, const hp_entry *gainsaid, hp_phrase *p)
{
    const hp_words *own = hp_words_of(gainsaid->reading);
    hp_phrase_add(p, "Entry %d (%s): ", gainsaid->number, hp_reading_title(gainsaid->reading));
    if (own && own->gainsaid)
        own->gainsaid(context, hp_entry_said(gainsaid), p);
    else
        hp_phrase_add(p, "the scenario states it otherwise: measure it again, or correct the "
                         "scenario.");
}

void hp_warning_words(const hp_entry *trial, hp_phrase *p)
{
    bool warm = hp_entry_trial(trial)->warm == HP_TELL_YES;
    if (warm)
        hp_phrase_add(p,
                      "In entry %d something grew warm: battery off, feel hub, leads, plugs and "
                      "controller, find which it was and why, and let it cool before it runs "
                      "again.",
                      trial->number);
    else
        hp_phrase_add(p,
                      "In entry %d it was cut out: battery off, tug each lead and plug, and see "
                      "that the battery is charged before it runs again.",
                      trial->number);
    hp_phrase_add(p, " Only a trial that says %s takes this back, or a mend of a part that %s.",
                  warm ? "nothing grew warm" : "nothing cut out",
                  warm ? "can have grown warm" : "can have cut it out");
}

void hp_learnt_words(int entry, hp_phrase *p)
{
    hp_phrase_add(p,
                  "The controller learnt this order by itself in entry %d: it goes with the leads "
                  "as they are joined, and no other wiring is its equal. Another controller has to "
                  "learn anew.",
                  entry);
}

/* The newest entry whose amperes somebody read, by a meter in the battery's lead: what feeds it
 * behind a limit shows them itself. NULL: nobody did. */
static const hp_entry *metered(const hp_commission *list)
{
    for (int k = list ? list->given.entries - 1 : -1; k >= 0; k--) {
        const hp_entry *entry = &list->given.entry[k];
        const hp_trial *t = hp_entry_trial(entry);
        hp_full_run run = {.battery_a = t ? t->battery_a : (double)NAN};
        if (t && hp_feed_limits(t->feed))
            continue;
        if (entry->reading->full_run)
            entry->reading->full_run(hp_entry_said(entry), &run);
        if (!entry->typical && !isnan(run.battery_a))
            return entry;
    }
    return NULL;
}

void hp_unmetered_words(const hp_commission *list, hp_phrase *p)
{
    const hp_entry *read = metered(list);
    hp_phrase_add(p, "Nobody has read what the motor draws at full throttle, and ");
    if (read)
        hp_phrase_add(p,
                      "the scenario says that no meter is here (bench.meters), though entry %d "
                      "holds amperes: is that meter at hand, say so there. Else borrow",
                      read->number);
    else
        hp_phrase_add(p, "no meter is here to read it. Borrow");
    hp_phrase_add(p, " one for amperes in the battery's plus lead (a power meter, whose watts "
                     "divided by volts are amperes, or a clamp for d.c.), and read that before it "
                     "is ridden.");
}

void hp_held_words(const hp_commission *list, hp_phrase *p)
{
    const hp_held *held = &list->held;
    char volts[HP_NUMBER_WORDS];
    const char *between = "";
    hp_phrase_add(p, "Entry %d found nothing wrong, but its volts say why the wheel does not turn:",
                  held->entry->number);
    if (!isnan(held->battery_v)) {
        hp_phrase_add(p,
                      " only %s V reach the controller's battery leads: a battery that is empty, "
                      "half off or joined the wrong way, or a bad contact",
                      hp_card_as_read(held->battery_v, volts, sizeof volts));
        between = ";";
    }
    if (!isnan(held->key_v)) {
        hp_phrase_add(p, "%s the key lead has %s V, too few to wake it", between,
                      hp_card_as_read(held->key_v, volts, sizeof volts));
        between = ";";
    }
    if (!isnan(held->brake_v)) {
        hp_phrase_add(p,
                      "%s the brake input has %s V with the levers released, and this controller "
                      "takes that for a pulled lever",
                      between, hp_card_as_read(held->brake_v, volts, sizeof volts));
        between = ";";
    }
    if (!isnan(held->rest_v))
        hp_phrase_add(p, "%s the throttle's signal has %s V at rest, and the controller %s",
                      between, hp_card_as_read(held->rest_v, volts, sizeof volts),
                      held->fault ? "takes that for a broken throttle"
                                  : "waits for a grip that is let go");
    hp_phrase_add(p,
                  ". Put that right, and log what it was; if it is as the maker wants it, correct "
                  "the scenario.");
}

void hp_exchanged_words(hp_phrase *p)
{
    hp_phrase_add(p,
                  "Put the label of the new controller into the scenario: until then what stands "
                  "here of the controller, its volts, amperes and settings, is of the one "
                  "before.");
}

void hp_hinders_words(const hp_entry *entry, hp_phrase *p)
{
    const hp_words *own = hp_words_of(entry->reading);
    hp_phrase_add(p, "Entry %d (%s): ", entry->number, hp_reading_title(entry->reading));
    if (own && own->hinders)
        own->hinders(hp_entry_said(entry), p);
    else
        hp_phrase_add(p, "mend what it found before the motor runs again.");
}

void hp_growl_words(int entry, hp_phrase *p)
{
    hp_phrase_add(
        p,
        "The run at full throttle in entry %d felt rough or noisy, though it drew no more "
        "than a correct wiring does: a bearing, a brake or tyre that rubs, or a "
        "controller with a sine drive. Turn the wheel by hand, mend what rubs, and run "
        "it once more before you ride.",
        entry);
}

/* chosen: a card holds so many; of the others their number is told. */
#define FIGURES_TOLD 4

/* "40 A, and such parts give 3 A at most; 0.2 V, and such parts give 1 V at least; and 2 more". */
static void add_figures(const hp_doubt *doubt, hp_phrase *p)
{
    char value[HP_NUMBER_WORDS], limit[HP_NUMBER_WORDS];
    int told = doubt->figures > FIGURES_TOLD ? FIGURES_TOLD : doubt->figures;
    for (int k = 0; k < told; k++) {
        const hp_band usual = doubt->figure[k].usual;
        const char *unit = doubt->figure[k].field->limits.unit, *blank = unit[0] ? " " : "";
        bool more = doubt->figure[k].value > usual.high;
        double bound = more ? usual.high : usual.low;
        bool next = k + 1 < told && doubt->figure[k + 1].field == doubt->figure[k].field &&
                    (doubt->figure[k + 1].value > usual.high) == more;
        hp_phrase_add(p, "%s%s%s", hp_card_as_read(doubt->figure[k].value, value, sizeof value),
                      blank, unit);
        if (next)
            hp_phrase_add(p, ", ");
        else
            hp_phrase_add(p, ", and such parts give %s%s%s at %s%s",
                          hp_card_number(bound, limit, sizeof limit), blank, unit,
                          more ? "most" : "least", k + 1 < told ? "; " : "");
    }
    if (doubt->figures > told)
        hp_phrase_add(p, "; and %d more", doubt->figures - told);
}

void hp_doubt_words(const hp_doubt *doubt, hp_phrase *p)
{
    hp_phrase_add(p, "Check the figures of entry %d (%s): ", doubt->entry->number,
                  hp_reading_title(doubt->entry->reading));
    add_figures(doubt, p);
    hp_phrase_add(p, ". Measure it again.");
}

void hp_doubt_finding(const hp_doubt *doubt, hp_finding_words *words)
{
    const hp_finding_words own = *words;
    hp_phrase means = hp_phrase_begin(words->means, sizeof words->means);
    hp_phrase otherwise = hp_phrase_begin(words->otherwise, sizeof words->otherwise);
    /* What it found beside that stays; that nothing was found does not. */
    hp_phrase_add(&means, "%s%sCheck the figures: ", own.otherwise[0] ? own.means : "",
                  own.otherwise[0] ? " " : "");
    add_figures(doubt, &means);
    hp_phrase_add(&means, ". A slip of the pen, a decimal point, a unit, or a tip on another pin.");
    hp_phrase_add(&otherwise, "Measure it once more, and log it whatever it shows: a figure that "
                              "comes back the same counts.");
    if (own.otherwise[0])
        hp_phrase_add(&otherwise, " Then: %c%s", tolower((unsigned char)own.otherwise[0]),
                      own.otherwise + 1);
}
