/*
 * Text: UTF-8 from a file made safe and fitted to the width of a terminal; pieces put together;
 * words for a shell.
 *
 * Labels come from a scenario, so a reader's terminal must not obey what stands in them: control
 * characters are replaced before anything is printed.
 */
#ifndef HUBPHASE_BASE_TEXT_H
#define HUBPHASE_BASE_TEXT_H

#include "hubphase/base/result.h"

#include <stdarg.h>
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
    bool page; /* read on the page, where buttons do what a terminal's commands do: none is named */
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

/* ---- phrases --------------------------------------------------------------------------------- */

/* Text put together piece by piece into a caller's buffer. What does not fit is cut at the end of a
 * character, so that a phrase is always whole UTF-8. */

typedef struct hp_phrase {
    char *out; /* borrowed; always terminated */
    size_t size;
    size_t used; /* bytes so far */
    bool cut;    /* something did not fit */
} hp_phrase;

/* An empty phrase in out[size]; size > 0 (asserted). */
hp_phrase hp_phrase_begin(char *out, size_t size);
/* A phrase that goes on behind the text in out[size]. */
hp_phrase hp_phrase_resume(char *out, size_t size);
void hp_phrase_add(hp_phrase *phrase, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
void hp_phrase_add_list(hp_phrase *phrase, const char *format, va_list args)
    __attribute__((format(printf, 2, 0)));
/* Adds ", " unless the phrase is empty. */
void hp_phrase_comma(hp_phrase *phrase);

/* ---- words for a shell ----------------------------------------------------------------------- */

/* Words of a command line as a person copies them. What comes out is printable, but for line breaks
 * at a word's end, which stand in quotes: a terminal obeys nothing in it, and a POSIX shell reads
 * exactly the bytes that went in. */

/* Room for any word of `bytes` bytes. */
#define HP_SHELL_WORD_SIZE(bytes) (4 * (bytes) + 24)

/* Writes one word: as it is where no shell would touch it, in single quotes where it would, and
 * through printf where it holds what no terminal should see. Returns out. */
char *hp_shell_word(const char *word, char *out, size_t size);

/* Writes a file's name so that no program takes it for an option: "-x" becomes "./-x". Not quoted
 * yet. Returns out. */
char *hp_shell_file(const char *path, char *out, size_t size);

HP_API_END

#endif
