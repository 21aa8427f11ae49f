/* All 36: which run, and why just these. */
#include "report/lesson/scene.h"

#include "hubphase/base/text.h"

/* What the simulation made of one kind, the commonest first: "18 stalled" or "12 rough". */
static char *outcomes(const hp_lesson *l, hp_lesson_kind kind, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    for (int v = 0; v < HP_VERDICT_COUNT; v++) {
        int count = 0;
        for (int n = 0; n < HP_WIRING_COUNT; n++)
            count += l->place[n].kind == kind && (int)l->survey.judgement[n].verdict == v;
        if (count == 0)
            continue;
        hp_phrase_comma(&p);
        hp_phrase_add(&p, "%d %s", count, hp_verdict_name((hp_verdict)v));
    }
    return out;
}

static int count_kind(const hp_lesson *l, hp_lesson_kind kind)
{
    int count = 0;
    for (int n = 0; n < HP_WIRING_COUNT; n++)
        count += l->place[n].kind == kind;
    return count;
}

static int count_verdict(const hp_lesson *l, hp_verdict verdict)
{
    int count = 0;
    for (int n = 0; n < HP_WIRING_COUNT; n++)
        count += l->survey.judgement[n].verdict == verdict;
    return count;
}

/* The other wirings of a group, "15 and 29". */
static char *equals_of(const hp_lesson *l, int number, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        if (n != number && l->place[n - 1].group == l->place[number - 1].group)
            hp_phrase_add(&p, "%s%d", p.used > 0 ? " and " : "", n);
    return out;
}

static void tell(const hp_scene_case *c, hp_scene_words *out)
{
    const hp_lesson *l = c->lesson;
    int correct = count_verdict(l, HP_VERDICT_CORRECT);
    int smooth = correct + count_verdict(l, HP_VERDICT_REVERSE);
    static const int offered[] = {1, 6, 12, 18};
    char text[HP_SCENE_TEXT];
    hp_scene_ask(out, "Three Hall leads can be joined in 6 ways, three phase leads in 6 ways: 6 "
                      "times 6 is 36. How many of them run smoothly, forward or backward?");
    for (int k = 0; k < 4; k++)
        hp_scene_choose(out, offered[k] == smooth, "%d of them", offered[k]);
    hp_scene_look(out,
                  "Sort them. Hall leads are one side, phase leads the other. Cross two leads, "
                  "and that side is turned round. First heap: one side turned round, the "
                  "other not. Count them.");
    hp_scene_look(out, "Of the rest: one side a place further than the other. Count them too. What "
                       "is left?");
    hp_scene_say(
        out, "One side turned round: %d. The arrow goes against the magnet. Simulated: %s.",
        count_kind(l, HP_LESSON_CROSSED), outcomes(l, HP_LESSON_CROSSED, text, sizeof text));
    hp_scene_say(out,
                 "A place off: %d. That puts the arrow a third of a turn off. "
                 "Simulated: %s.",
                 count_kind(l, HP_LESSON_SHIFTED),
                 outcomes(l, HP_LESSON_SHIFTED, text, sizeof text));
    hp_scene_say(
        out, "Neither: %d. The arrow keeps its quarter turn, ahead or behind. Simulated: %s.",
        count_kind(l, HP_LESSON_MATCHED), outcomes(l, HP_LESSON_MATCHED, text, sizeof text));
    hp_scene_say(out,
                 "Why three of each? Move Hall leads and phase leads on together, and nothing has "
                 "changed. So wiring %d has two equals: %s.",
                 l->correct, equals_of(l, l->correct, text, sizeof text));
    hp_scene_say(out, "There are %d groups of three: try one of each, and you have tried them all.",
                 HP_LESSON_GROUPS);
    hp_scene_usual(out, "One wiring is the correct one.");
    hp_scene_instead(
        out,
        "There are %d. Scene %d can show wiring %d beside %s: the same speed, the same "
        "amperes.",
        correct, hp_scene_number(HP_VIEW_PAIR), l->correct,
        equals_of(l, l->correct, text, sizeof text));
}

extern const hp_scene hp_scene_all;
const hp_scene hp_scene_all = {"all", "All 36", HP_VIEW_GROUPS, tell};
