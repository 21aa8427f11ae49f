/* All three phase leads a place on: half the pull, the wrong way. */
#include "report/lesson/scene.h"

#include <math.h>

/* Where the field stands, seen in the direction in which it pulls [degrees]. */
static void tell_lead(const hp_lesson_pull *pull, hp_scene_words *out)
{
    bool forward = pull->torque_mean >= 0.0;
    /* Rounded, and never "-0". */
    double near = round((forward ? pull->lead_least : -pull->lead_most) / HP_DEG) + 0.0;
    double far = round((forward ? pull->lead_most : -pull->lead_least) / HP_DEG) + 0.0;
    hp_scene_say(out,
                 "It pulls %s, and seen that way the arrow stands %.0f to %.0f degrees ahead. A "
                 "quarter turn would be 90: it is %s.",
                 forward ? "forward" : "backward", near, far,
                 near + far > 180.0 ? "too early" : "too late");
}

static void tell(const hp_scene_case *c, hp_scene_words *out)
{
    const hp_lesson *l = c->lesson;
    const hp_judgement *j = hp_scene_judged(c, l->shifted);
    const hp_judgement *right = hp_scene_judged(c, l->correct);
    hp_lesson_pull pull = hp_lesson_pull_of(&l->drive, l->shifted);
    hp_lesson_pull best = hp_lesson_pull_of(&l->drive, l->correct);
    hp_scene_seen seen = hp_scene_seen_of(j);
    bool forward = pull.torque_mean >= 0.0;
    char lost[40], own[40];
    /* Behind a one-way clutch the rotor turns and the wheel does not. */
    bool humming = j->verdict == HP_VERDICT_ROUGH && j->direction != HP_DIRECTION_FORWARD &&
                   l->drive.stand.clutch;
    hp_scene_ask(out,
                 "Back to wiring %d. Now move all three phase leads on by one place, each to where "
                 "the next one was. No two are crossed. What will the %s do?",
                 l->correct, l->drive.stand.clutch ? "rotor in the hub" : "wheel");
    hp_scene_choose(out, seen == HP_SEEN_FORWARD, "Run as before");
    hp_scene_choose(out, seen == HP_SEEN_ROUGH_FORWARD, "Turn forward, but roughly");
    hp_scene_choose(out, seen == HP_SEEN_ROUGH_BACKWARD, "Turn backward, roughly");
    hp_scene_choose(out, seen == HP_SEEN_STILL, "Not get round at all");
    hp_scene_look(out, "Stop it anywhere. How far is the arrow from the magnet?");
    hp_scene_look(out, "Watch the pull: does it stay on one side of its line?");
    tell_lead(&pull, out);
    hp_scene_say(out,
                 "In the correct wiring each ampere gave %.0f %% of the most. Now it gives %.0f %% "
                 "on average, %s, and once a step %.0f %%.",
                 100.0 * best.torque_mean, fabs(100.0 * pull.torque_mean),
                 forward ? "forward" : "backward",
                 fabs(100.0 * (forward ? pull.torque_least : pull.torque_most)));
    /* Swings wider than its mean: it changes sides. */
    if (j->verdict == HP_VERDICT_ROUGH && j->mean.torque_rms > fabs(j->mean.torque_mean))
        hp_scene_say(out,
                     "Besides, the currents come late, so part of each step pulls the wrong "
                     "way. That is why it %s.",
                     humming ? "hums" : "growls");
    if (humming)
        hp_scene_say(out, "The one-way clutch lets go, so the wheel stays where it is and the hub "
                          "hums.");
    if (j->verdict == HP_VERDICT_ROUGH)
        hp_scene_say(out,
                     "It takes %.2f A where the correct one takes %.2f A: %.0f times as much. %s "
                     "of that only heats the winding; in the correct one %s.",
                     j->mean.battery_current, right->mean.battery_current, hp_scene_times(c, j),
                     hp_scene_watts(j->mean.copper_power, lost, sizeof lost),
                     hp_scene_watts(right->mean.copper_power, own, sizeof own));
    else
        hp_scene_say(out, "From %d of %d start positions it gets round. It takes %.2f A.",
                     j->starts, j->starts_tried, j->mean.battery_current);
    /* Where the wheel stands nobody says that it turns. */
    if (humming)
        hp_scene_usual(out, "It hums, so it is nearly correct: it only wants more throttle.");
    else
        hp_scene_usual(out, "If it turns, it is nearly correct.");
    hp_scene_instead(out,
                     "Read the ammeter aloud: %.2f A, and in the correct wiring %.2f A. The "
                     "difference is heat inside a closed hub.",
                     j->mean.battery_current, right->mean.battery_current);
    hp_scene_show(c, out, l->shifted)->beginning = j->verdict == HP_VERDICT_STALLED;
}

extern const hp_scene hp_scene_shifted;
const hp_scene hp_scene_shifted = {"shifted", "One place off", HP_VIEW_RUN, tell};
