/* Two phase leads crossed: the field turns against the magnet. */
#include "report/lesson/scene.h"

#include <math.h>

/* The two phase leads that changed places, as the motor names them. */
static void changed(const hp_scene_case *c, const char *name[2])
{
    hp_wiring right = hp_wiring_from_number(c->lesson->correct);
    hp_wiring crossed = hp_wiring_from_number(c->lesson->crossed);
    int found = 0;
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        if (right.phase[j] != crossed.phase[j] && found < 2)
            name[found++] = c->labels->motor_lead[right.phase[j]];
}

/* The same two places exchanged among the Hall leads as well. */
static int both_crossed(const hp_lesson *l)
{
    hp_wiring right = hp_wiring_from_number(l->correct);
    hp_wiring both = hp_wiring_from_number(l->crossed);
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            if (both.phase[j] == right.phase[k])
                both.sensor[j] = right.sensor[k];
    return hp_wiring_number(&both);
}

static void tell_outcome(const hp_scene_case *c, hp_scene_words *out)
{
    const hp_judgement *j = hp_scene_judged(c, c->lesson->crossed);
    double heat = j->mean.copper_power + j->mean.diode_power;
    if (j->verdict == HP_VERDICT_STALLED)
        hp_scene_say(out,
                     "It got round from %d of %d start positions. It takes %.2f A from the "
                     "battery, and %.0f A flow in the winding: %.0f W of heat in a motor that does "
                     "not turn.",
                     j->starts, j->starts_tried, j->mean.battery_current, j->mean.phase_rms,
                     j->mean.battery_power);
    else if (c->lesson->drive.stand.clutch && j->direction != j->rotor_direction)
        hp_scene_say(out,
                     "Here the rotor shuffles to and fro, and the one-way clutch turns that into a "
                     "slow, rough %.0f rev/min of the wheel, for %.2f A and %.0f W of heat.",
                     hp_scene_rpm(j), j->mean.battery_current, heat);
    else
        hp_scene_say(out,
                     "This machine gets round with it all the same, from %d of %d start "
                     "positions, but it takes %.2f A for it: %.0f W of heat.",
                     j->starts, j->starts_tried, j->mean.battery_current, heat);
}

static void tell(const hp_scene_case *c, hp_scene_words *out)
{
    const hp_lesson *l = c->lesson;
    const hp_judgement *j = hp_scene_judged(c, l->crossed);
    hp_lesson_pull pull = hp_lesson_pull_of(&l->drive, l->crossed);
    hp_scene_seen seen = hp_scene_seen_of(j);
    const char *lead[2] = {"", ""};
    int both = both_crossed(l);
    changed(c, lead);
    hp_scene_ask(
        out,
        "Joined correctly, as so far, is wiring %d. Now cross two of the thick phase leads, "
        "%s and %s. The thin Hall leads stay. What will the wheel do?",
        l->correct, lead[0], lead[1]);
    hp_scene_choose(out, seen == HP_SEEN_BACKWARD, "Run backward, smoothly");
    hp_scene_choose(out, seen == HP_SEEN_STILL, "Hum or shiver, and not get round");
    hp_scene_choose(out,
                    seen == HP_SEEN_ROUGH_FORWARD || seen == HP_SEEN_ROUGH_BACKWARD ||
                        seen == HP_SEEN_NO_WAY,
                    "Turn, but roughly");
    hp_scene_choose(out, seen == HP_SEEN_FORWARD, "Run as before");
    hp_scene_look(out, "The magnet moves a little forward. Which way does the arrow jump?");
    hp_scene_look(out, "Watch the pull: does it stay on one side of the line?");
    hp_scene_say(out,
                 "The codes still come in the same order. But with two leads crossed the arrow "
                 "goes round the other way, against the magnet.");
    hp_scene_say(out,
                 "So the pull changes sides as the magnet moves: at most %.0f %% forward, then "
                 "%.0f %% backward. Over a turn %.0f %% is left.",
                 100.0 * pull.torque_most, -100.0 * pull.torque_least,
                 fabs(100.0 * pull.torque_mean));
    tell_outcome(c, out);
    if (hp_scene_judged(c, both)->verdict == HP_VERDICT_REVERSE)
        hp_scene_say(
            out,
            "Cross the two Hall leads as well, and both mistakes cancel: wiring %d runs "
            "smoothly, backward%s.",
            both, c->lesson->drive.stand.clutch ? " in the hub, and the wheel does not turn" : "");
    hp_scene_usual(out, "Cross two leads and a three-phase motor runs backward.");
    hp_scene_instead(out,
                     "True on the mains, where nothing asks where the rotor is. Here the Hall "
                     "sensors still call the old order. Scene %d can show wiring %d beside %d.",
                     hp_scene_number(HP_VIEW_PAIR), l->crossed, both);
    hp_scene_show(c, out, l->crossed)->beginning = j->verdict == HP_VERDICT_STALLED;
}

extern const hp_scene hp_scene_crossed;
const hp_scene hp_scene_crossed = {"crossed", "Two phase leads crossed", HP_VIEW_RUN, tell};
