/* How a machine is made to run: see the header. */
#include "report/words/drive_words.h"

#include <stdio.h>

#define PEDALS "turn the pedals forward by hand, the other hand on the battery's switch"

const hp_drive_words *hp_drive_words_of(const hp_plan_params *plan)
{
    static const hp_drive_words throttle = {.at_rest = "throttle at zero",
                                            .gently = "throttle gently",
                                            .up_to_full = "throttle slowly up to full",
                                            .off = "Throttle off",
                                            .again = "try the throttle once more"};
    static const hp_drive_words pedals = {.at_rest = "pedals still",
                                          .gently = PEDALS,
                                          .up_to_full = PEDALS,
                                          .off = "Pedals still",
                                          .again = "turn the pedals once more"};
    return hp_plan_by_pedals(plan) ? &pedals : &throttle;
}

char *hp_full_words(double full, char *out, size_t size)
{
    if (full < 1.0)
        snprintf(out, size, "the %.3g %% that the pedals give", 100.0 * full);
    else
        snprintf(out, size, "full throttle");
    return out;
}
