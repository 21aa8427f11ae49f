/*
 * What is to be measured again, told alike wherever it is told: on the card of the next step, by
 * the list of steps, on the wiring sheet, as JSON.
 */
#include "report/words/again_words.h"
#include "decide/reading/reading.h"
#include "report/words/card_parts.h"

#include <ctype.h>
#include <math.h>

void hp_contrary_words(const hp_entry *contrary, hp_phrase *p)
{
    hp_phrase_add(p,
                  "What entry %d says (%s) does not fit a wheel that runs well: check the figures, "
                  "measure it again, and mend what stays.",
                  contrary->number, hp_reading_title(contrary->reading));
}

/* "40 A, and such parts give 3 A at most". */
static void add_figure(const hp_doubt *doubt, hp_phrase *p)
{
    char value[HP_NUMBER_WORDS], limit[HP_NUMBER_WORDS];
    const char *unit = doubt->field->limits.unit, *blank = unit[0] ? " " : "";
    bool more = doubt->value > doubt->usual.high;
    hp_card_as_read(doubt->value, value, sizeof value);
    hp_card_number(more ? doubt->usual.high : doubt->usual.low, limit, sizeof limit);
    hp_phrase_add(p, "%s%s%s, and such parts give %s%s%s at %s", value, blank, unit, limit, blank,
                  unit, more ? "most" : "least");
}

void hp_doubt_words(const hp_doubt *doubt, hp_phrase *p)
{
    hp_phrase_add(p, "Check the figures of entry %d (%s): ", doubt->entry->number,
                  hp_reading_title(doubt->entry->reading));
    add_figure(doubt, p);
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
    add_figure(doubt, &means);
    hp_phrase_add(&means, ". A slip of the pen, a decimal point, a unit, or a tip on another pin.");
    hp_phrase_add(&otherwise, "Measure it once more, and log it whatever it shows: a figure that "
                              "comes back the same counts.");
    if (own.otherwise[0])
        hp_phrase_add(&otherwise, " Then: %c%s", tolower((unsigned char)own.otherwise[0]),
                      own.otherwise + 1);
}
