/* A lead in its colour: see the header. */
#include "report/picture/lead_colour.h"

#include "report/picture/lead_tint.h"

#include <ctype.h>
#include <string.h>

#define EDGE   9.0 /* [units] widths */
#define CORE   6.0
#define STRIPE 2.4
#define NONE   "#e8e8e8" /* a name without a colour */

int hp_lead_tints(const char *name, const char *tint[2])
{
    int count = 0;
    while (*name && count < 2) {
        char word[32];
        size_t length = 0;
        while (isalpha((unsigned char)name[length]))
            length++;
        if (length > 0 && length < sizeof word) {
            memcpy(word, name, length);
            word[length] = '\0';
            const char *found = hp_lead_tint(word);
            if (found)
                tint[count++] = found;
        }
        name += length ? length : 1;
    }
    return count;
}

void hp_lead_line(const hp_canvas *canvas, double x0, double y0, double x1, double y1,
                  const char *name)
{
    const char *tint[2] = {NONE, NONE};
    int count = hp_lead_tints(name, tint);
    hp_pen_mix(HP_INK_LEAD, tint[0]);
    hp_pen_line(canvas, x0, y0, x1, y1, HP_INK_BLACK, EDGE);
    hp_pen_line(canvas, x0, y0, x1, y1, HP_INK_LEAD, CORE);
    if (count < 2)
        return;
    hp_pen_mix(HP_INK_STRIPE, tint[1]);
    hp_pen_line(canvas, x0, y0, x1, y1, HP_INK_STRIPE, STRIPE);
}
