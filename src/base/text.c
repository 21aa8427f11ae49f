/* Text in columns: see the header. */
#include "hubphase/base/text.h"

#include <stdbool.h>
#include <string.h>

int hp_text_character(const char *text, unsigned *character)
{
    const unsigned char *s = (const unsigned char *)text;
    if (s[0] < 0x80) {
        *character = s[0];
        return 1;
    }
    int length = s[0] >= 0xF0 ? 4 : s[0] >= 0xE0 ? 3 : 2;
    static const unsigned smallest[] = {0, 0, 0x80, 0x800, 0x10000};
    if (s[0] < 0xC2 || s[0] > 0xF4)
        return 0;
    unsigned value = s[0] & (0xFFU >> (length + 1));
    for (int k = 1; k < length; k++) {
        if ((s[k] & 0xC0) != 0x80)
            return 0;
        value = value << 6 | (s[k] & 0x3FU);
    }
    if (value < smallest[length] || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF))
        return 0;
    *character = value;
    return length;
}

bool hp_text_is_control(unsigned c)
{
    bool code = c < 0x20 || (c >= 0x7F && c < 0xA0);
    bool line = c == 0x2028 || c == 0x2029;
    /* Unicode's property Bidi_Control (UAX 9, table 2; from memory). */
    bool turns = c == 0x061C || c == 0x200E || c == 0x200F || (c >= 0x202A && c <= 0x202E) ||
                 (c >= 0x2066 && c <= 0x2069);
    return code || line || turns;
}

/* A rough width by Unicode block: enough for labels, without the reader's locale. */
static int character_columns(unsigned c)
{
    if ((c >= 0x300 && c <= 0x36F) || (c >= 0x200B && c <= 0x200F) || (c >= 0xFE00 && c <= 0xFE0F))
        return 0;
    bool wide = (c >= 0x1100 && c <= 0x115F) || (c >= 0x2E80 && c <= 0xA4CF) ||
                (c >= 0xAC00 && c <= 0xD7A3) || (c >= 0xF900 && c <= 0xFAFF) ||
                (c >= 0xFE30 && c <= 0xFE6F) || (c >= 0xFF00 && c <= 0xFF60) ||
                (c >= 0x1F300 && c <= 0x1FAFF) || (c >= 0x20000 && c <= 0x3FFFD);
    return wide ? 2 : 1;
}

char *hp_text_clean(const char *text, char *out, size_t size)
{
    size_t used = 0;
    while (*text) {
        unsigned c = 0;
        int length = hp_text_character(text, &c);
        bool bad = length == 0 || hp_text_is_control(c);
        size_t need = bad ? 1 : (size_t)length;
        if (used + need >= size)
            break;
        if (bad)
            out[used] = '?';
        else
            memcpy(out + used, text, need);
        used += need;
        text += length ? length : 1;
    }
    out[used] = '\0';
    return out;
}

/* Columns of the first `bytes` of a text, which end at a character's end. */
static int columns_of(const char *text, size_t bytes)
{
    int columns = 0;
    for (const char *end = text + bytes; text < end;) {
        unsigned c = 0;
        int length = hp_text_character(text, &c);
        columns += length ? character_columns(c) : 1;
        text += length ? length : 1;
    }
    return columns;
}

int hp_text_columns(const char *text)
{
    return columns_of(text, strlen(text));
}

char *hp_text_clip(const char *text, int columns, char *out, size_t size)
{
    size_t used = 0;
    while (*text) {
        unsigned c = 0;
        int length = hp_text_character(text, &c);
        int width = length ? character_columns(c) : 1;
        size_t bytes = length ? (size_t)length : 1;
        if (width > columns || used + bytes >= size)
            break;
        memcpy(out + used, text, bytes);
        columns -= width;
        used += bytes;
        text += bytes;
    }
    out[used] = '\0';
    return out;
}

void hp_text_pad(FILE *out, const char *text, int columns)
{
    int missing = columns - hp_text_columns(text);
    fprintf(out, "%s%*s", text, missing > 0 ? missing : 0, "");
}

hp_screen hp_screen_plain(FILE *file)
{
    return (hp_screen){.file = file, .columns = HP_TEXT_COLUMNS, .colour = false};
}

void hp_text_fill(const hp_screen *out, const char *title, int indent, const char *text)
{
    hp_text_pad(out->file, title, indent);
    hp_text_fill_on(out, indent, indent, text);
}

void hp_text_fill_on(const hp_screen *out, int column, int indent, const char *text)
{
    bool first = true;
    while (*text) {
        size_t bytes = strcspn(text, " ");
        if (bytes && text[bytes] == ' ' && text[bytes + 1] == '%')
            bytes += 1 + strcspn(text + bytes + 1, " "); /* a figure keeps its per cent */
        int width = columns_of(text, bytes);
        if (bytes && !first && column + 1 + width > out->columns) {
            fprintf(out->file, "\n%*s", indent, "");
            column = indent;
            first = true;
        }
        if (bytes) {
            fprintf(out->file, "%s%.*s", first ? "" : " ", (int)bytes, text);
            column += width + (first ? 0 : 1);
            first = false;
        }
        text += bytes;
        text += *text == ' ';
    }
    fputc('\n', out->file);
}
