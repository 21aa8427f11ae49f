/* What a run shows: see the header. */
#include "decide/advise/sight.h"

#include <math.h>

hp_sight_params hp_sight_params_of(const hp_drive *drive)
{
    return (hp_sight_params){
        .thresholds = hp_thresholds_default(),
        /* chosen: on a hub of 20 pole pairs less than a degree at the wheel, the least that a hand
         * on the tyre feels. */
        .swing_min = 15.0 * HP_DEG,
        .gear_ratio = drive->stand.gear_ratio,
        .wheel_free = false,
    };
}

static bool is_rough(const hp_figures *f, const hp_thresholds *limits)
{
    return hp_figures_excess(f) > limits->excess_max ||
           f->speed_sd > limits->speed_sd_max * fabs(f->speed);
}

hp_sight hp_sight_of(const hp_figures *f, const hp_sight_params *params)
{
    if (f->status != HP_OK)
        return HP_SIGHT_NONE;
    if (fabs(f->window_turn) < params->thresholds.turn_min)
        return !f->at_rest && f->swing >= params->swing_min ? HP_SIGHT_SHIVER : HP_SIGHT_STILL;
    int rough = is_rough(f, &params->thresholds) ? 1 : 0;
    bool follows = fabs(f->wheel_speed) * params->gear_ratio > 0.5 * fabs(f->speed);
    if (params->wheel_free || !follows)
        return (hp_sight)(HP_SIGHT_HUM_SMOOTH + rough);
    return (hp_sight)((f->window_turn > 0.0 ? HP_SIGHT_FORWARD_SMOOTH : HP_SIGHT_BACKWARD_SMOOTH) +
                      rough);
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
