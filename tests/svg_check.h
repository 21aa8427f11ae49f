/*
 * A strict little reader for the SVG of our pictures: is it well-formed XML, and does its text stay
 * on the page and clear of other text?
 */
#ifndef HUBPHASE_TESTS_SVG_CHECK_H
#define HUBPHASE_TESTS_SVG_CHECK_H

#include "report/picture/pen.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* One of the five entities of XML; returns its length or 0. */
static inline size_t svg_entity(const char *at, char *character)
{
    static const struct {
        const char *name;
        char character;
    } entity[] = {{"&amp;", '&'}, {"&lt;", '<'}, {"&gt;", '>'}, {"&quot;", '"'}, {"&apos;", '\''}};
    for (size_t k = 0; k < sizeof entity / sizeof entity[0]; k++) {
        if (strncmp(at, entity[k].name, strlen(entity[k].name)) == 0) {
            *character = entity[k].character;
            return strlen(entity[k].name);
        }
    }
    return 0;
}

/* Reads one tag from its '<'; returns behind its '>', or NULL with the reason in *why. */
static inline const char *svg_tag(const char *at, char name[32], bool *closing, bool *empty,
                                  const char **why)
{
    size_t n = 0;
    at++;
    *closing = *at == '/';
    at += *closing;
    while (strchr(" \n/>", *at) == NULL && n < 31)
        name[n++] = *at++;
    name[n] = '\0';
    *why = "a tag has no name";
    if (n == 0)
        return NULL;
    for (;;) {
        at += strspn(at, " \n");
        *empty = *at == '/';
        at += *empty;
        if (*at == '>')
            return at + 1;
        /* An attribute: name="value". */
        size_t key = strcspn(at, "=<>\" \n");
        *why = "an attribute is not name=\"value\"";
        if (*empty || *closing || key == 0 || at[key] != '=' || at[key + 1] != '"')
            return NULL;
        at += key + 2;
        at += strcspn(at, "\"<");
        if (*at != '"')
            return NULL;
        at++;
    }
}

/* NULL when the text is one well-formed element (after the XML declaration), else what is wrong. */
static inline const char *svg_fault(const char *xml)
{
    static char open[64][32];
    int depth = 0;
    const char *why = "no XML declaration", *at = strstr(xml, "?>");
    if (strncmp(xml, "<?xml", 5) != 0 || !at)
        return why;
    at += 2;
    for (bool seen = false; *at;) {
        char name[32], character;
        bool closing, empty;
        if (*at == '&') {
            size_t length = svg_entity(at, &character);
            if (length == 0)
                return "an unknown entity, or a bare '&'";
            at += length;
        } else if (*at != '<') {
            if (*at == '>' || ((unsigned char)*at < 0x20 && *at != '\n'))
                return "a bare '>' or a control character";
            if (depth == 0 && *at != '\n')
                return "text outside the element";
            at++;
        } else {
            at = svg_tag(at, name, &closing, &empty, &why);
            if (!at)
                return why;
            if (depth == 0 && (seen || closing))
                return "more than one element";
            seen = true;
            if (closing && strcmp(open[--depth], name) != 0)
                return "a tag is closed that was not opened last";
            if (!closing && !empty)
                strcpy(open[depth++], name);
            if (depth == 64)
                return "nested too deep";
        }
    }
    return depth ? "an element is not closed" : NULL;
}

/* A piece of text with the room it takes; y down from the top. */
typedef struct svg_text {
    char text[600];
    double left, right, top, bottom;
} svg_text;

/* Value of an attribute in the tag that begins at `tag`; aborts where it is missing. */
static inline const char *svg_attribute(const char *tag, const char *name)
{
    const char *found = strstr(tag, name);
    if (!found)
        abort();
    return found + strlen(name);
}

/* Whether the tag that begins at `tag` has this in it. */
static inline bool svg_tag_has(const char *tag, const char *what)
{
    const char *found = strstr(tag, what);
    return found && found < strchr(tag, '>');
}

/* All text elements of a picture; returns their number. Widths are estimated as the pictures
 * themselves estimate them, for a wide font. Letters are taken to reach from 0.75 of the size above
 * the base line to 0.2 below it, as those of DejaVu Sans do. */
static inline size_t svg_texts(const char *svg, svg_text *out, size_t room)
{
    size_t count = 0;
    for (const char *at = strstr(svg, "<text"); at && count < room; at = strstr(at + 1, "<text")) {
        svg_text *t = &out[count++];
        double x = strtod(svg_attribute(at, " x=\""), NULL);
        double y = strtod(svg_attribute(at, " y=\""), NULL);
        hp_type type = {.size = strtod(svg_attribute(at, " font-size=\""), NULL),
                        .bold = svg_tag_has(at, " font-weight=\"bold\"")};
        double before = svg_tag_has(at, " text-anchor=\"middle\"") ? 0.5
                        : svg_tag_has(at, " text-anchor=\"end\"")  ? 1.0
                                                                   : 0.0;
        size_t n = 0;
        for (const char *s = strchr(at, '>') + 1; *s != '<' && n < 590;) {
            size_t length = *s == '&' ? svg_entity(s, &t->text[n]) : 0;
            if (!length)
                t->text[n] = *s;
            s += length ? length : 1;
            n++;
        }
        t->text[n] = '\0';
        double width = hp_pen_text_width(type, t->text);
        t->left = x - before * width;
        t->right = t->left + width;
        t->top = y - 0.75 * type.size;
        t->bottom = y + 0.2 * type.size;
    }
    return count;
}

#endif
