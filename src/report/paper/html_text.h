/*
 * Text for HTML: what comes from a file stays text, whatever stands in it.
 *
 * Every label, name and note goes through one of these calls. Control characters, bytes that are
 * not UTF-8 and characters that XML lacks come out as '?', as they do on a terminal.
 */
#ifndef HUBPHASE_SRC_REPORT_PAPER_HTML_TEXT_H
#define HUBPHASE_SRC_REPORT_PAPER_HTML_TEXT_H

#include <stddef.h>
#include <stdio.h>

/* Writes text as the content of an element or of an attribute in double quotes. */
void hp_html_put(FILE *out, const char *text);
/* The same for text of several lines: each line break becomes <br>. Not for attributes. */
void hp_html_put_lines(FILE *out, const char *text);
/* Formats, cut at 1023 bytes, then writes as hp_html_put: for numbers with words, never for markup.
 */
void hp_html_printf(FILE *out, const char *format, ...) __attribute__((format(printf, 2, 3)));

#endif
