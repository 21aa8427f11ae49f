/* At the bench: which measurement saves most tries. */
#include "report/lesson/scene.h"

#include "decide/reading/reading_list.h"

#include <math.h>

static const hp_lesson_tries *with(const hp_lesson *l, unsigned readings)
{
    for (int k = 0; k < l->tries_count; k++)
        if (l->tries[k].readings == readings)
            return &l->tries[k];
    return &l->tries[0];
}

/* To one decimal, halves up: 9.25 is told as 9.3. */
static double tenths(double value)
{
    return floor(10.0 * value + 0.5) / 10.0;
}

static double minutes_of(const hp_scene_case *c, const hp_reading *kind)
{
    return c->costs->reading[hp_reading_index(kind)];
}

static void tell(const hp_scene_case *c, hp_scene_words *out)
{
    const hp_lesson *l = c->lesson;
    const unsigned all = HP_LESSON_HAND_TURN | HP_LESSON_PARK | HP_LESSON_PARK_TWO;
    const hp_lesson_tries *blind = with(l, 0), *best = with(l, l->best_reading);
    const hp_lesson_tries *read = with(l, all);
    bool clutch = l->drive.stand.clutch; /* forward the rotor would not come along */
    hp_scene_ask(out, "A hub without papers: nobody knows which lead is which. You may measure one "
                      "thing before the first try. Which one saves the most tries?");
    hp_scene_choose(out, l->best_reading == HP_LESSON_HAND_TURN,
                    clutch ? "Turn the wheel backward by hand, read the codes"
                           : "Turn the wheel by hand, read the codes");
    hp_scene_choose(out, l->best_reading == HP_LESSON_SPIN,
                    clutch ? "Spin the wheel backward, compare the volts of the phase leads"
                           : "Spin the wheel, compare the volts of the phase leads");
    hp_scene_choose(out, l->best_reading == HP_LESSON_PARK,
                    "A small current through one phase lead, read the code");
    hp_scene_choose(out, best->mean >= blind->mean, "None: trying is as quick");
    hp_scene_look(out, "Which bar is the shortest of those with one measurement?");
    hp_scene_look(out, "What does it take to come down to one try?");
    hp_scene_say(out,
                 "Joining at random takes %.1f tries on average. With the best order, and a good "
                 "look at each try, %.1f; at worst %d.",
                 tenths(l->tries_at_random), tenths(blind->mean), blind->most);
    hp_scene_say(
        out,
        "One measurement brings it down to %.1f at best. A hand turn%s and a small current "
        "through two leads in turn: %.1f. The first try is then the correct one.",
        tenths(best->mean), clutch ? ", backward," : "", tenths(read->mean));
    hp_scene_say(
        out,
        "By the clock: %.0f minutes without measuring, %.0f minutes with. Wrong tries under "
        "power, which heat the winding: %.1f on average without, %.1f with.",
        blind->mean * c->costs->trial,
        read->mean * c->costs->trial + minutes_of(c, &hp_reading_hand_turn) +
            2.0 * minutes_of(c, &hp_reading_park),
        blind->mean - 1.0, read->mean - 1.0);
    hp_scene_usual(out, "Measuring takes longer than trying.");
    hp_scene_instead(out,
                     "Each wrong try is made under power: %d of the 36 take more than three times "
                     "what a correct one takes. None of these readings needs the throttle.",
                     l->found_by_current);
}

extern const hp_scene hp_scene_bench;
const hp_scene hp_scene_bench = {"bench", "At the bench", HP_VIEW_TRIES, tell};
