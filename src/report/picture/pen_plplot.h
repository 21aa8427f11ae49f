/*
 * The pen's strokes by PLplot, on the page that canvas_plplot.c has opened.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PEN_PLPLOT_H
#define HUBPHASE_SRC_REPORT_PICTURE_PEN_PLPLOT_H

#include "report/picture/strokes.h"

/* PLplot's units an inch: its svg device works at this many, and the cairo one is told to. */
#define HP_PLPLOT_UNITS_PER_INCH 90.0

extern const hp_strokes hp_plplot_strokes;

/* Gives PLplot the colours of the inks. */
void hp_plplot_inks(void);
/* Text as PLplot must be given it: control characters and what is not UTF-8 become '?', its escape
 * character is doubled. Cut at a character's end when it does not fit. Returns out. */
char *hp_plplot_escape(const char *text, char *out, size_t size);

#endif
