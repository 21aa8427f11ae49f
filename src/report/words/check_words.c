/* What stands of the runs at full throttle, in words: see card_parts.h. */
#include "decide/advise/full_check.h"
#include "report/words/card_parts.h"

#include <math.h>

static void add_sign(const hp_failed_check *failed, hp_check_sign sign, double most_a,
                     hp_band speed, hp_phrase *p)
{
    char read[HP_NUMBER_WORDS], limit[HP_NUMBER_WORDS];
    int entry = failed->entry[sign];
    switch (sign) {
    case HP_CHECK_CURRENT:
        hp_phrase_add(p,
                      "drew %s A in entry %d, which is above the %s A that a correct wiring draws "
                      "at most",
                      hp_card_as_read(failed->battery_a, read, sizeof read), entry,
                      hp_card_number(most_a, limit, sizeof limit));
        return;
    case HP_CHECK_FAST:
        hp_phrase_add(p,
                      "turned at %s rev/min in entry %d, far above the %s that it should at most",
                      hp_card_rpm_as_read(failed->wheel_rad_s, read, sizeof read), entry,
                      hp_card_rpm(speed.high, limit, sizeof limit));
        return;
    case HP_CHECK_SLOW:
        hp_phrase_add(p,
                      "turned at %s rev/min in entry %d, far below the %s that it should at least",
                      hp_card_rpm_as_read(failed->wheel_rad_s, read, sizeof read), entry,
                      hp_card_rpm(speed.low, limit, sizeof limit));
        return;
    case HP_CHECK_ROUGH: hp_phrase_add(p, "felt rough in entry %d", entry); return;
    case HP_CHECK_WARM: hp_phrase_add(p, "grew warm in entry %d", entry); return;
    case HP_CHECK_CUT_OUT: hp_phrase_add(p, "cut out in entry %d", entry); return;
    case HP_CHECK_TURNED:
        hp_phrase_add(p, "%s in entry %d",
                      failed->backward ? "ran backward" : "did not simply turn forward", entry);
        return;
    case HP_CHECK_STARTS:
        hp_phrase_add(p, "started from %d of %d start positions only in entry %d", failed->starts,
                      failed->starts_tried, entry);
        return;
    case HP_CHECK_COUNT: return;
    }
}

char *hp_failed_check_words(const hp_failed_check *failed, double most_a, hp_band speed, char *out,
                            size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    bool first = true;
    for (int s = 0; s < HP_CHECK_COUNT; s++) {
        if (failed->entry[s] == 0)
            continue;
        hp_phrase_add(&p, "%s", first ? "" : "; it ");
        add_sign(failed, (hp_check_sign)s, most_a, speed, &p);
        first = false;
    }
    return out;
}

const char *hp_failed_cause_words(const hp_failed_check *failed)
{
    bool fast = failed->entry[HP_CHECK_FAST] > 0, other = false;
    if (hp_failed_only(failed, HP_CHECK_STARTS))
        return HP_STARTS_CAUSE;
    for (int s = 0; s < HP_CHECK_COUNT; s++)
        other = other || (failed->entry[s] > 0 && s != HP_CHECK_FAST &&
                          (s != HP_CHECK_TURNED || !failed->backward));
    if (fast)
        return other ? "A lead on the wrong place does that, or a faulty part (shorted turns, a "
                       "Hall sensor): nothing that drags makes a wheel faster."
                     : "Nothing that drags makes a wheel faster: more volts, " HP_FAST_CAUSES
                       ", as in a wrong wiring.";
    if (other)
        return "A lead on the wrong place does that, a faulty part (shorted turns, a Hall sensor), "
               "or something that drags (a brake, a bearing).";
    return "Nothing that drags turns a wheel backward: two leads are changed over, or the "
           "controller's reverse lead is joined.";
}
