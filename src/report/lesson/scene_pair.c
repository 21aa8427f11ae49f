/* Any two beside one another, to one scale. */
#include "report/lesson/scene.h"

#include <math.h>

/* From this ratio of currents on people call one the larger. Chosen. */
#define EVEN 1.2

/* The correct one and one of its equals are one joint under two numbers. */
static void tell_equals(const hp_lesson *l, hp_scene_words *out)
{
    int equal = l->correct;
    for (int n = HP_WIRING_COUNT; n >= 1; n--)
        if (n != l->correct && l->place[n - 1].group == l->place[l->correct - 1].group)
            equal = n;
    const hp_judgement *own = &l->survey.judgement[l->correct - 1];
    const hp_judgement *other = &l->survey.judgement[equal - 1];
    hp_scene_instead(out,
                     "Choose wiring %d and wiring %d. Both sides moved on together: %.0f and %.0f "
                     "rev/min, %.2f and %.2f A. Joined alike, under another number.",
                     l->correct, equal, hp_scene_rpm(own), hp_scene_rpm(other),
                     own->mean.battery_current, other->mean.battery_current);
}

static void tell(const hp_scene_case *c, hp_scene_words *out)
{
    const hp_lesson *l = c->lesson;
    int left = c->pair[0] ? c->pair[0] : l->correct, right = c->pair[1] ? c->pair[1] : l->shifted;
    const hp_judgement *a = hp_scene_judged(c, left), *b = hp_scene_judged(c, right);
    double ratio = a->mean.battery_current / b->mean.battery_current;
    bool known = a->measured && b->measured;
    char text[HP_SCENE_TEXT];
    hp_scene_ask(out,
                 "Wiring %d beside wiring %d, drawn to one scale. Which of them takes more from "
                 "the battery?",
                 left, right);
    hp_scene_choose(out, known && ratio >= EVEN, "Wiring %d, on the left", left);
    hp_scene_choose(out, known && ratio <= 1.0 / EVEN, "Wiring %d, on the right", right);
    hp_scene_choose(out, known && ratio < EVEN && ratio > 1.0 / EVEN, "Both about the same");
    hp_scene_look(out, "Which arrow keeps its distance, and which comes too near or too far?");
    hp_scene_look(out, "The curves have one scale: which is the taller?");
    hp_scene_say(out, "%s.", hp_scene_outcome(l, left, text, sizeof text));
    hp_scene_say(out, "%s.", hp_scene_outcome(l, right, text, sizeof text));
    hp_scene_usual(out, "Three correct ones must differ a little.");
    tell_equals(l, out);
    hp_scene_show(c, out, left)->beginning = a->verdict == HP_VERDICT_STALLED;
    hp_scene_show(c, out, right)->beginning = b->verdict == HP_VERDICT_STALLED;
}

extern const hp_scene hp_scene_pair;
const hp_scene hp_scene_pair = {"pair", "Any two, side by side", HP_VIEW_PAIR, tell};
