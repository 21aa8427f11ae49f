/* What a run shows: see the header. */
#include "decide/advise/sight.h"

#include "hubphase/model/wiring.h"

#include <math.h>

hp_sight_params hp_sight_params_of(void)
{
    return (hp_sight_params){
        .thresholds = hp_thresholds_default(),
        /* chosen: on a hub of 20 pole pairs less than a degree at the wheel, the least that a hand
         * on the tyre feels. */
        .swing_min = 15.0 * HP_DEG,
        .wheel_free = false,
    };
}

static bool is_rough(const hp_figures *f, const hp_thresholds *limits)
{
    return hp_figures_waste(f) > limits->waste_max ||
           f->speed_sd > limits->speed_sd_max * fabs(f->speed);
}

static hp_sight with_feel(hp_sight smooth, bool rough)
{
    return (hp_sight)(smooth + (rough ? 1 : 0));
}

/* What is seen is the wheel. A rotor that turns by itself is heard; one that only shuffles behind a
 * one-way clutch may pump the wheel forward. */
hp_sight hp_sight_of(const hp_figures *f, const hp_sight_params *params)
{
    if (f->status != HP_OK)
        return HP_SIGHT_NONE;
    double least = hp_verdict_turn_least(f, &params->thresholds);
    bool rotor = fabs(f->window_turn) >= least;
    bool wheel = fabs(f->wheel_turn) >= least && !params->wheel_free;
    bool rough = is_rough(f, &params->thresholds);
    if (wheel) {
        bool together = rotor && (f->window_turn > 0.0) == (f->wheel_turn > 0.0);
        return with_feel(f->wheel_turn > 0.0 ? HP_SIGHT_FORWARD_SMOOTH : HP_SIGHT_BACKWARD_SMOOTH,
                         rough || !together);
    }
    if (rotor)
        return with_feel(HP_SIGHT_HUM_SMOOTH, rough);
    return !f->at_rest && f->swing >= params->swing_min ? HP_SIGHT_SHIVER : HP_SIGHT_STILL;
}

bool hp_sight_turns(hp_sight sight)
{
    return sight < HP_SIGHT_SHIVER;
}

bool hp_sight_smooth(hp_sight sight)
{
    return sight == HP_SIGHT_FORWARD_SMOOTH || sight == HP_SIGHT_BACKWARD_SMOOTH ||
           sight == HP_SIGHT_HUM_SMOOTH;
}
