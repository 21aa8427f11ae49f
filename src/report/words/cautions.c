/* The cautions: see the header. */
#include "hubphase/report/case_words.h"

#include "hubphase/base/text.h"

const char *hp_cautions_text(void)
{
    return "Battery off and unplugged, capacitors discharged, before any lead is touched. Wheel "
           "lifted, held fast, clear of hands, clothes and cables; torque washers on. First power "
           "from a current-limited supply. A fuse at the battery. Stop if a winding or a lead "
           "grows "
           "hot. Local rules and licensed people come first.";
}

void hp_cautions_print(const hp_screen *out)
{
    hp_text_fill(out, "Cautions", 12, hp_cautions_text());
}
