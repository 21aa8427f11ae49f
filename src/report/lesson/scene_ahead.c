/* The field runs ahead of the magnet: lead angle and pull through the six steps. */
#include "report/lesson/scene.h"

#include <math.h>

static void tell(const hp_scene_case *c, hp_scene_words *out)
{
    const hp_lesson *l = c->lesson;
    const hp_judgement *right = hp_scene_judged(c, l->correct);
    hp_lesson_pull pull = hp_lesson_pull_of(&l->drive, l->correct);
    double pulls[3] = {hp_scene_pull_at(l, 0.0), hp_scene_pull_at(l, 90.0 * HP_DEG),
                       hp_scene_pull_at(l, 180.0 * HP_DEG)};
    double most = fmax(pulls[0], fmax(pulls[1], pulls[2]));
    hp_scene_ask(out, "The coils make a magnet of their own, the field: the arrow shows where it "
                      "points. It pulls the north of the turning magnet, the rotor, towards "
                      "itself. Where must the arrow stand to pull it round hardest?");
    hp_scene_choose(out, pulls[0] >= most, "Right on the north");
    hp_scene_choose(out, pulls[1] >= most, "A quarter turn ahead of it");
    hp_scene_choose(out, pulls[2] >= most, "Straight opposite");
    hp_scene_look(out, "One step at a time: the arrow jumps, the magnet follows, the arrow jumps.");
    hp_scene_look(out, "How near does the magnet come to the arrow before it jumps again?");
    hp_scene_say(
        out,
        "The arrow stays %.0f to %.0f degrees ahead: about a quarter turn, which is 90. At "
        "each new code it jumps on by a sixth of a turn. The magnet never catches it.",
        pull.lead_least / HP_DEG, pull.lead_most / HP_DEG);
    hp_scene_say(out,
                 "A quarter turn ahead it pulls with %.0f %% of what these amperes can give. Right "
                 "on the north: %.0f %%. Straight opposite: %.0f %%.",
                 100.0 * pulls[1], fabs(100.0 * pulls[0]), fabs(100.0 * pulls[2]));
    if (pull.torque_least >= 0.995)
        hp_scene_say(out, "So each ampere gives all that it can, the whole turn through. Where the "
                          "line of the pull dips, the current has to build up anew.");
    else
        hp_scene_say(out,
                     "So each ampere gives %.0f %% of its most on average, and never less than "
                     "%.0f %%. Where the line of the pull dips, the current has to build up anew.",
                     100.0 * pull.torque_mean, 100.0 * pull.torque_least);
    hp_scene_say(out, "It runs smoothly: the wheel at %.0f rev/min, and %.2f A is all it takes.",
                 hp_scene_rpm(right), right->mean.battery_current);
    hp_scene_usual(out, "Magnet on magnet pulls hardest.");
    hp_scene_instead(
        out, "Push on a crank: at top dead centre nothing turns, a quarter turn later "
             "all your weight does. Here the arrow is held: turn the magnet towards it, and "
             "watch the pull fade.");
    out->held = true;
    hp_scene_show(c, out, l->correct);
}

extern const hp_scene hp_scene_ahead;
const hp_scene hp_scene_ahead = {"ahead", "The arrow runs ahead", HP_VIEW_RUN, tell};
