/*
 * Text on a canvas; the declarations stand in pen.h.
 *
 * The reader's font is not known: an SVG is shown in whatever sans-serif the device has. Widths are
 * therefore those of a wide one (DejaVu Sans), so that text that fits here fits elsewhere.
 */
#include "report/picture/pen.h"

#include "hubphase/base/text.h"
#include "report/picture/strokes.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define FIRST_CHARACTER 32
#define TEXT_BYTES      512  /* longest text drawn in one piece */
#define LINE_HEIGHT     1.3  /* of a paragraph, relative to the size */
#define SMALLEST        0.75 /* of the size, before text is cut */
#define LEAST           14.0 /* [units] not below, so that paper can be read (look.h) */
#define ELLIPSIS        "\u2026"
#define ELLIPSIS_BYTES  4
#define OTHER_WIDTH     700 /* [1/1000 of the size] a column of a character beyond ASCII */

/* Advance widths of the printable ASCII characters [1/1000 of the size], DejaVu Sans 2.37: regular,
 * bold. */
static const short advance[2][95] = {
    {318,  401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337,
     636,  636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531,
     1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787,
     603,  787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500,
     500,  613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612,
     635,  635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838},
    {348,  456, 521, 838, 696, 1002, 872, 306,  457, 457, 523, 838, 380, 415,  380, 365,
     696,  696, 696, 696, 696, 696,  696, 696,  696, 696, 400, 400, 838, 838,  838, 580,
     1000, 774, 762, 734, 830, 683,  683, 821,  837, 372, 372, 775, 637, 995,  837, 850,
     733,  850, 770, 720, 682, 812,  774, 1103, 771, 724, 725, 457, 365, 457,  838, 500,
     500,  675, 716, 593, 716, 678,  435, 716,  712, 343, 343, 665, 343, 1042, 712, 687,
     716,  716, 493, 595, 478, 712,  652, 924,  645, 652, 582, 712, 365, 712,  838},
};

/* Bytes of the character that text begins with; cleaned text is whole characters. */
static size_t character_bytes(const char *text)
{
    size_t n = 1;
    while (((unsigned char)text[n] & 0xC0) == 0x80)
        n++;
    return n;
}

char *hp_pen_clean(const char *text, char *out, size_t size)
{
    hp_text_clean(text, out, size);
    char *to = out;
    for (const char *s = out; *s;) {
        size_t bytes = character_bytes(s);
        /* U+FFFE and U+FFFF are UTF-8 but no XML characters. */
        bool foreign = bytes == 3 && memcmp(s, "\xEF\xBF", 2) == 0 && (unsigned char)s[2] >= 0xBE;
        if (foreign)
            *to++ = '?';
        else
            to = (char *)memmove(to, s, bytes) + bytes;
        s += bytes;
    }
    *to = '\0';
    return out;
}

double hp_pen_text_width(hp_type type, const char *text)
{
    double sum = 0.0;
    for (const char *s = text; *s;) {
        unsigned char c = (unsigned char)*s;
        size_t bytes = character_bytes(s);
        char one[5] = {0};
        memcpy(one, s, bytes < sizeof one ? bytes : sizeof one - 1);
        s += bytes;
        if (c >= FIRST_CHARACTER && c < 127)
            sum += advance[type.bold][c - FIRST_CHARACTER];
        else
            sum += OTHER_WIDTH * hp_text_columns(one);
    }
    return sum * type.size / 1000.0;
}

void hp_pen_text(const hp_canvas *canvas, double x, double y, hp_type type, const char *text)
{
    char clean[TEXT_BYTES];
    hp_pen_clean(text, clean, sizeof clean);
    if (canvas && clean[0])
        canvas->strokes->text(canvas, x, y, type, clean);
}

char *hp_pen_cut(hp_type type, double width, const char *text, char *out, size_t size)
{
    char clean[TEXT_BYTES];
    hp_pen_clean(text, clean, sizeof clean);
    snprintf(out, size, "%s", clean);
    for (int columns = hp_text_columns(clean); columns > 1; columns--) {
        if (hp_pen_text_width(type, out) <= width)
            break;
        hp_text_clip(clean, columns - 1, out, size - ELLIPSIS_BYTES);
        strcat(out, ELLIPSIS);
    }
    return out;
}

char *hp_pen_fit(hp_type *type, double width, const char *text, char *out, size_t size)
{
    char clean[TEXT_BYTES];
    hp_pen_clean(text, clean, sizeof clean);
    double wanted = hp_pen_text_width(*type, clean);
    if (wanted > width) {
        /* In whole units, so that few sizes of letters stand side by side. */
        double smaller = floor(type->size * fmax(SMALLEST, width / wanted));
        type->size = fmin(type->size, fmax(smaller, LEAST));
    }
    return hp_pen_cut(*type, width, clean, out, size);
}

void hp_pen_text_fit(const hp_canvas *canvas, double x, double y, double width, hp_type type,
                     const char *text)
{
    char fitted[TEXT_BYTES];
    hp_pen_fit(&type, width, text, fitted, sizeof fitted);
    hp_pen_text(canvas, x, y, type, fitted);
}

void hp_pen_text_cut(const hp_canvas *canvas, double x, double y, double width, hp_type type,
                     const char *text)
{
    char fitted[TEXT_BYTES];
    hp_pen_text(canvas, x, y, type, hp_pen_cut(type, width, text, fitted, sizeof fitted));
}

/* A number is not parted from its unit. */
static bool is_unit(const char *word)
{
    static const char *const unit[] = {"%",  "A",  "V",   "W",    "N",      "ms",
                                       "mm", "cm", "ohm", "kohm", "rev/min"};
    size_t bytes = strcspn(word, " .,;:)");
    for (size_t k = 0; k < sizeof unit / sizeof unit[0]; k++)
        if (strlen(unit[k]) == bytes && memcmp(unit[k], word, bytes) == 0)
            return true;
    return false;
}

/* Bytes up to the next place where a line may end. */
static size_t unbroken_bytes(const char *text)
{
    size_t bytes = strcspn(text, " ");
    bool number = bytes > 0 && text[bytes - 1] >= '0' && text[bytes - 1] <= '9';
    if (number && text[bytes] == ' ' && is_unit(text + bytes + 1))
        bytes += 1 + strcspn(text + bytes + 1, " ");
    return bytes;
}

/* Bytes of the word at the head of text that fit into `width`: all of it, or, of a word
 * longer than a whole line, as many characters as fit, but one at least. */
static size_t word_bytes(const char *text, double width, hp_type type)
{
    size_t bytes = unbroken_bytes(text), fit = 0;
    char part[TEXT_BYTES];
    if (bytes < sizeof part) {
        memcpy(part, text, bytes);
        part[bytes] = '\0';
        if (hp_pen_text_width(type, part) <= width)
            return bytes;
    }
    while (fit < bytes) {
        size_t next = fit + character_bytes(text + fit);
        if (next >= sizeof part)
            break;
        memcpy(part, text, next);
        part[next] = '\0';
        if (fit > 0 && hp_pen_text_width(type, part) > width)
            break;
        fit = next;
    }
    return fit;
}

/* Takes the next line of at most `width` from cleaned text; returns where the rest begins. */
static const char *take_line(const char *text, double width, hp_type type, char line[TEXT_BYTES])
{
    size_t used = 0;
    line[0] = '\0';
    for (text += strspn(text, " "); *text; text += strspn(text, " ")) {
        size_t gap = used ? 1 : 0;
        size_t bytes = word_bytes(text, width, type);
        if (used + gap + bytes >= TEXT_BYTES)
            break;
        memcpy(line + used + gap, text, bytes);
        if (gap)
            line[used] = ' ';
        line[used + gap + bytes] = '\0';
        if (used && hp_pen_text_width(type, line) > width) {
            line[used] = '\0';
            break;
        }
        used += gap + bytes;
        text += bytes;
    }
    return text;
}

double hp_pen_paragraph(const hp_canvas *canvas, double x, double y, double width, hp_type type,
                        const char *text)
{
    char clean[8 * TEXT_BYTES], line[TEXT_BYTES];
    const char *rest = hp_pen_clean(text, clean, sizeof clean);
    double step = LINE_HEIGHT * type.size;
    while (*rest) {
        rest = take_line(rest, width, type, line);
        hp_pen_text(canvas, x, y + 0.5 * step, type, line);
        y += step;
    }
    return y;
}

double hp_pen_paragraph_height(double width, hp_type type, const char *text)
{
    return hp_pen_paragraph(NULL, 0.0, 0.0, width, type, text);
}
