/*
 * What the canvas and the pen's two files share: the colours as numbers, and PLplot's letter size.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PEN_CORE_H
#define HUBPHASE_SRC_REPORT_PICTURE_PEN_CORE_H

#include "report/picture/pen.h"

/* Red, green, blue of each ink. The eight strong colours are those of Okabe & Ito, Color Universal
 * Design, 2008 (memory), told apart by people with any common form of colour blindness; the tints
 * are the same colours mixed with white; the last two are mixed as they
 * are wanted. */
static const unsigned char ink_rgb[HP_INK_COUNT][3] = {
    [HP_INK_WHITE] = {255, 255, 255},
    [HP_INK_BLACK] = {0, 0, 0},
    [HP_INK_ORANGE] = {230, 159, 0},
    [HP_INK_SKY] = {86, 180, 233},
    [HP_INK_GREEN] = {0, 158, 115},
    [HP_INK_YELLOW] = {240, 228, 66},
    [HP_INK_BLUE] = {0, 114, 178},
    [HP_INK_VERMILION] = {213, 94, 0},
    [HP_INK_PURPLE] = {204, 121, 167},
    [HP_INK_DARK] = {64, 64, 64},
    [HP_INK_GREY] = {110, 110, 110},
    [HP_INK_RULE] = {190, 190, 190},
    [HP_INK_PALE] = {232, 232, 232},
    [HP_INK_PALE_GREEN] = {217, 240, 233},
    [HP_INK_PALE_BLUE] = {214, 232, 243},
    [HP_INK_PALE_ORANGE] = {252, 241, 214},
    [HP_INK_PALE_VERMILION] = {249, 226, 210},
    [HP_INK_LEAD] = {232, 232, 232},
    [HP_INK_STRIPE] = {232, 232, 232},
};

/* Copies text as hp_text_clean does, without the characters that XML lacks. Returns out. */
char *hp_pen_clean(const char *text, char *out, size_t size);
/* Sets PLplot's letters to this size [units]. */
void hp_pen_set_size(double size);

#endif
