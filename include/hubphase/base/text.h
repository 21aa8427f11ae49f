/*
 * Text in columns: UTF-8 from a file made safe and fitted to the width of a terminal.
 *
 * Labels come from a scenario, so a reader's terminal must not obey what stands in them: control
 * characters are replaced before anything is printed.
 */
#ifndef HUBPHASE_BASE_TEXT_H
#define HUBPHASE_BASE_TEXT_H

#include "hubphase/base/api.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

HP_API_BEGIN

#define HP_TEXT_COLUMNS 79 /* last column used; the 80th stays free, some terminals wrap there */
/* Narrowest and widest last column that text is laid out for: on a narrower terminal lines wrap, on
 * a wider one they would be long to read. */
#define HP_TEXT_COLUMNS_LEAST 49
#define HP_TEXT_COLUMNS_MOST  119

/* What text for people is shown on. */
typedef struct hp_screen {
    FILE *file;  /* borrowed */
    int columns; /* last column used; HP_TEXT_COLUMNS_LEAST..HP_TEXT_COLUMNS_MOST */
    bool colour; /* colours and bold titles by escape sequences */
} hp_screen;

/* Of HP_TEXT_COLUMNS, without colour. */
hp_screen hp_screen_plain(FILE *file);

/* Reads one character of a terminated text; returns its length in bytes, or 0 where the bytes are
 * not UTF-8 (RFC 3629: shortest form, no surrogates, up to 10FFFF). */
int hp_text_character(const char *text, unsigned *character);

/* C0, DEL, C1, line and paragraph separator, and the marks that turn the direction of writing: each
 * could forge a line on a terminal. */
bool hp_text_is_control(unsigned character);

/* Copies text into out[size] with every control character, and every byte that is not UTF-8,
 * replaced by '?'. Cut at a character's end when it does not fit. Returns out. */
char *hp_text_clean(const char *text, char *out, size_t size);

/* Columns that cleaned UTF-8 text takes on a terminal: combining marks take none, East Asian wide
 * characters two. */
int hp_text_columns(const char *text);

/* Copies as many whole characters as fit into `columns`. Returns out. */
char *hp_text_clip(const char *text, int columns, char *out, size_t size);

/* Writes text and blanks up to `columns`; longer text is written whole. */
void hp_text_pad(FILE *out, const char *text, int columns);

/* Writes `title` padded to `indent` columns, then the text filled to the screen's columns with the
 * lines after the first indented; ends the last line. A word longer than the line stays whole, and
 * a figure keeps its "%". */
void hp_text_fill(const hp_screen *out, const char *title, int indent, const char *text);
/* The same behind what stands on the line already, up to `column`. */
void hp_text_fill_on(const hp_screen *out, int column, int indent, const char *text);

HP_API_END

#endif
