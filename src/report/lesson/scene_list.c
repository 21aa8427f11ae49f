/* The scenes in the order of the evening. */
#include "report/lesson/scene.h"

extern const hp_scene hp_scene_hand, hp_scene_ahead, hp_scene_crossed, hp_scene_shifted,
    hp_scene_all, hp_scene_pair, hp_scene_trap, hp_scene_faults, hp_scene_bench;

const hp_scene *const hp_scenes[] = {
    &hp_scene_hand, &hp_scene_ahead, &hp_scene_crossed, &hp_scene_shifted, &hp_scene_all,
    &hp_scene_pair, &hp_scene_trap,  &hp_scene_faults,  &hp_scene_bench,
};

const int hp_scene_count = (int)(sizeof hp_scenes / sizeof hp_scenes[0]);

int hp_scene_number(hp_scene_view view)
{
    int k = 0;
    while (k < hp_scene_count - 1 && hp_scenes[k]->view != view)
        k++;
    return k + 1;
}
