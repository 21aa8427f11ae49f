/* What nobody has looked for before power: see the header. */
#include "report/words/guard_words.h"

#include "decide/reading/reading.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include <ctype.h>
#include <string.h>

static const char *unguarded_of(const hp_unguarded *u)
{
    const hp_words *own = hp_words_of(u->reading);
    return own && own->unguarded ? own->unguarded : NULL;
}

static void add_one(const hp_unguarded *u, const char *between, hp_phrase *p)
{
    hp_phrase_add(p, "%s%s", between, unguarded_of(u));
    if (u->mend)
        hp_phrase_add(p, " since the mend of entry %d", u->mend);
}

bool hp_unguarded_words(const hp_commission *list, bool left_out, hp_phrase *phrase)
{
    bool any = false;
    for (int k = 0; list && k < list->unguarded_count; k++) {
        const hp_unguarded *u = &list->unguarded[k];
        if (u->left_out != left_out || !unguarded_of(u))
            continue;
        add_one(u, any ? ", and " : "", phrase);
        any = true;
    }
    return any;
}

/* The action that joins the motor; where it is joined already, the first. */
static int joining(const hp_card *words)
{
    for (int at = 0; at < words->hows; at++)
        if (words->doing[at] & HP_DOING_JOIN)
            return at;
    return 0;
}

/* What this power could harm; once a wheel has run with it, that has shown what it does. */
static bool concerns(const hp_unguarded *u, const hp_reading *kind)
{
    return (u->reading->guards & kind->powers) && !u->ran && unguarded_of(u);
}

static void say_first(const hp_commission *list, const hp_reading *kind, int at, hp_card *words)
{
    char text[sizeof words->reason];
    const char *between = "";
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    for (int k = 0; k < list->unguarded_count; k++)
        if (concerns(&list->unguarded[k], kind)) {
            add_one(&list->unguarded[k], between, &p);
            between = ", and ";
        }
    hp_phrase_add(&p, ": that comes before action %d.", at + 1);
    text[0] = (char)toupper((unsigned char)text[0]);
    hp_card_reason_first(words, text);
}

void hp_card_say_unguarded(const hp_card_context *context, const hp_reading *kind, hp_card *words)
{
    const hp_commission *list = context->commission;
    int at = joining(words);
    bool any = false;
    for (int k = 0; kind && list && words->hows > 0 && k < list->unguarded_count; k++) {
        const hp_unguarded *u = &list->unguarded[k];
        if (!concerns(u, kind))
            continue;
        const hp_words *own = hp_words_of(u->reading);
        hp_card_caution_at(words, at, own->guard_caution);
        own->guard(context, at, words);
        any = true;
    }
    if (!any)
        return;
    words->safety = HP_SAFE_DEAD; /* a plug is pulled for it, whatever else stays joined */
    say_first(list, kind, at, words);
}
