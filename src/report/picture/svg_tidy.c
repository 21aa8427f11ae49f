/*
 * PLplot's SVG made readable: see the header.
 *
 * PLplot writes each attribute on a line of its own and each letter of a text as a numeric
 * reference ("&#x72;"). A reader who searches the file for a word, or compares two pictures, is
 * better served by the letters. Nothing is moved: coordinates and styles pass through.
 */
#include "report/picture/svg_tidy.h"

#include <ctype.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void put_escaped(FILE *out, const char *text)
{
    for (; *text; text++) {
        switch (*text) {
        case '&': fputs("&amp;", out); break;
        case '<': fputs("&lt;", out); break;
        case '>': fputs("&gt;", out); break;
        default: fputc(*text, out); break;
        }
    }
}

static void put_utf8(FILE *out, unsigned long c)
{
    char text[5] = {0};
    if (c < 0x80) {
        text[0] = (char)c;
    } else if (c < 0x800) {
        text[0] = (char)(0xC0 | c >> 6);
        text[1] = (char)(0x80 | (c & 0x3F));
    } else if (c < 0x10000) {
        text[0] = (char)(0xE0 | c >> 12);
        text[1] = (char)(0x80 | (c >> 6 & 0x3F));
        text[2] = (char)(0x80 | (c & 0x3F));
    } else {
        text[0] = (char)(0xF0 | c >> 18);
        text[1] = (char)(0x80 | (c >> 12 & 0x3F));
        text[2] = (char)(0x80 | (c >> 6 & 0x3F));
        text[3] = (char)(0x80 | (c & 0x3F));
    }
    put_escaped(out, text);
}

/* A reference at `at`: writes the character and returns where it ends; NULL when it is none. */
static const char *put_reference(FILE *out, const char *at)
{
    char *end;
    if (strncmp(at, "&#x", 3) != 0)
        return NULL;
    unsigned long c = strtoul(at + 3, &end, 16);
    if (*end != ';' || c < 0x20 || c > 0x10FFFF)
        return NULL;
    put_utf8(out, c);
    return end + 1;
}

/* The opening tag of the picture. Its width is that of the reader's screen at most. */
/* Lines end round, as Cairo draws them for PNG and PDF: strokes that are nearly dots need it. */
static void put_head(FILE *out, double width, double height, const char *title)
{
    fprintf(out,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%.0f\" "
            "height=\"%.0f\" viewBox=\"0 0 %.0f %.0f\" role=\"img\" "
            "stroke-linecap=\"round\" stroke-linejoin=\"round\" "
            "style=\"max-width:100%%;height:auto\">\n<title>",
            width, height, width, height);
    put_escaped(out, title);
    fputs("</title>", out);
}

/* White space inside a tag: one blank between attributes, none before the tag's end. */
static const char *put_tag_space(FILE *out, const char *at)
{
    while (isspace((unsigned char)*at))
        at++;
    if (*at != '>' && *at != '/')
        fputc(' ', out);
    return at;
}

/* White space after a tag: a line's end between tags, kept where it opens a text. */
static const char *put_content_space(FILE *out, const char *at)
{
    const char *end = at + strspn(at, " \t\r\n");
    if (*end == '<' || !*end)
        fputc('\n', out);
    else
        fwrite(at, 1, (size_t)(end - at), out);
    return end;
}

static void copy_body(FILE *out, const char *at)
{
    bool in_tag = false, after_tag = true;
    while (*at) {
        const char *next = *at == '&' ? put_reference(out, at) : NULL;
        if (!next && isspace((unsigned char)*at) && (in_tag || after_tag)) {
            at = in_tag ? put_tag_space(out, at) : put_content_space(out, at);
            after_tag = false;
            continue;
        }
        if (!next) {
            fputc(*at, out);
            next = at + 1;
        }
        in_tag = *at == '<' || (in_tag && *at != '>');
        after_tag = *at == '>';
        at = next;
    }
}

char *hp_svg_tidy(const char *svg, size_t size, double width, double height, const char *title,
                  size_t *length)
{
    char *copy = malloc(size + 1), *tidy = NULL;
    FILE *out = copy ? open_memstream(&tidy, length) : NULL;
    if (!out) {
        free(copy);
        return NULL;
    }
    memcpy(copy, svg, size);
    copy[size] = '\0';
    const char *open = strstr(copy, "<svg"), *body = open ? strchr(open, '>') : NULL;
    if (body) {
        fputs("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n", out);
        put_head(out, width, height, title);
        copy_body(out, body + 1);
    } else {
        fputs(copy, out);
    }
    free(copy);
    bool cut = ferror(out) != 0;
    if (fclose(out) != 0 || cut) {
        free(tidy);
        return NULL;
    }
    return tidy;
}
