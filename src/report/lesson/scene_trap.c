/* The trap: it turns fast and free, and the ammeter tells. */
#include "report/lesson/scene.h"

static void tell_found(const hp_lesson *l, const hp_judgement *trap, hp_scene_words *out)
{
    hp_scene_say(out,
                 "It starts from %d of %d positions, as a correct one does: counting starts does "
                 "not find it. Of the %d wrong wirings that finds %d, the ammeter %d.",
                 trap->starts, trap->starts_tried, l->wrong, l->found_by_starts,
                 l->found_by_current);
}

static void tell(const hp_scene_case *c, hp_scene_words *out)
{
    const hp_lesson *l = c->lesson;
    if (l->trap == 0) {
        hp_scene_leave_out(out,
                           "This machine has no wiring that turns forward from every start "
                           "position, about as fast as a correct one, and is wrong all the same. "
                           "The ammeter finds %d of its %d wrong wirings.",
                           l->found_by_current, l->wrong);
        return;
    }
    const hp_judgement *right = hp_scene_judged(c, l->correct), *trap = hp_scene_judged(c, l->trap);
    char lost[40], kept[40];
    double own = hp_scene_rpm(right), other = hp_scene_rpm(trap);
    /* Which stands on the left is by lot: by their numbers. */
    int side[2] = {l->correct, l->trap};
    if ((l->correct + l->trap) % 2) {
        side[0] = l->trap;
        side[1] = l->correct;
    }
    hp_scene_ask(out,
                 "Two wheels turn forward, free, from every start position: the one on the left at "
                 "%.0f rev/min, the one on the right at %.0f. Which one is joined correctly?",
                 hp_scene_rpm(hp_scene_judged(c, side[0])),
                 hp_scene_rpm(hp_scene_judged(c, side[1])));
    hp_scene_choose(out, side[0] == l->correct, "The one on the left");
    hp_scene_choose(out, side[1] == l->correct, "The one on the right");
    hp_scene_choose(out, false, "Both");
    hp_scene_look(out, "Look at the two arrows. Which one keeps its quarter turn?");
    hp_scene_look(out, "Which meter would you reach for?");
    hp_scene_say(out,
                 "The ammeter: wiring %d, on the %s, takes %.2f A, wiring %d takes %.2f A. That is "
                 "%.0f times as much.",
                 l->correct, side[0] == l->correct ? "left" : "right", right->mean.battery_current,
                 l->trap, trap->mean.battery_current, hp_scene_times(c, trap));
    hp_scene_say(out,
                 "A limit: set the supply to %.2f A, three times the correct current. The correct "
                 "one does not notice: %.0f rev/min. The other hangs at the limit, at %.0f "
                 "rev/min.",
                 l->limit_a, l->limited_correct.wheel_rad_s / HP_RPM,
                 l->limited_trap.wheel_rad_s / HP_RPM);
    hp_scene_say(out, "And the trap is the %s one: %.0f rev/min, the correct one %.0f.",
                 other > own ? "faster" : "slower", other, own);
    tell_found(l, trap, out);
    hp_scene_say(out, "The trap turns %s into heat in its winding, the correct one %s.",
                 hp_scene_watts(trap->mean.copper_power, lost, sizeof lost),
                 hp_scene_watts(right->mean.copper_power, kept, sizeof kept));
    hp_scene_usual(out, "It spins free and fast, so it is correct.");
    hp_scene_instead(out, "Never without an ammeter in the battery lead, and a limit set before "
                          "the first try: on a real hub, what the bench card says. Ride it like "
                          "that, and the hub cooks.");
    for (int k = 0; k < 2; k++)
        hp_scene_show(c, out, side[k])->unnamed = true;
}

extern const hp_scene hp_scene_trap;
const hp_scene hp_scene_trap = {"trap", "The trap", HP_VIEW_RUN, tell};
