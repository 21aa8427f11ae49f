/* Text for HTML: see the header. */
#include "report/paper/html_text.h"

#include "hubphase/base/text.h"
#include "report/picture/strokes.h"

#include <stdarg.h>
#include <string.h>

static void put_character(FILE *out, const char *text, size_t bytes)
{
    char one[5] = {0}, clean[5];
    memcpy(one, text, bytes < sizeof one ? bytes : sizeof one - 1);
    hp_pen_clean(one, clean, sizeof clean);
    switch (clean[0]) {
    case '&': fputs("&amp;", out); break;
    case '<': fputs("&lt;", out); break;
    case '>': fputs("&gt;", out); break;
    case '"': fputs("&quot;", out); break;
    case '\'': fputs("&#39;", out); break;
    default: fputs(clean, out); break;
    }
}

void hp_html_put(FILE *out, const char *text)
{
    while (*text) {
        unsigned c;
        int bytes = hp_text_character(text, &c);
        put_character(out, text, bytes ? (size_t)bytes : 1);
        text += bytes ? bytes : 1;
    }
}

void hp_html_put_lines(FILE *out, const char *text)
{
    while (*text) {
        unsigned c;
        int bytes = hp_text_character(text, &c);
        if (*text == '\n')
            fputs("<br>\n", out);
        else
            put_character(out, text, bytes ? (size_t)bytes : 1);
        text += bytes ? bytes : 1;
    }
}

void hp_html_printf(FILE *out, const char *format, ...)
{
    char text[1024];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    hp_html_put(out, text);
}
