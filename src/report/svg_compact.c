/*
 * PLplot's SVG made small: see the header.
 *
 * Curves are simplified by the method of Douglas & Peucker (The Canadian Cartographer
 * 10(2):112-122, 1973; from memory): a stretch becomes one straight line when no point of it lies
 * farther from that line than the tolerance; else it is parted at the farthest point.
 */
#include "hubphase/report/svg_compact.h"

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define NAME_SIZE 40 /* of an attribute; longer ones are no attribute of PLplot's */

typedef struct compactor {
    FILE *out;
    double tolerance;
    bool failed; /* memory */
} compactor;

/* ---- curves ---------------------------------------------------------------------------------- */

typedef struct point {
    double x, y;
} point;

/* Distance of p from the line between a and b, or from a where they are one. */
static double distance(point p, point a, point b)
{
    double dx = b.x - a.x, dy = b.y - a.y, length = hypot(dx, dy);
    if (length == 0.0)
        return hypot(p.x - a.x, p.y - a.y);
    double along = ((p.x - a.x) * dx + (p.y - a.y) * dy) / (length * length);
    along = fmin(fmax(along, 0.0), 1.0);
    return hypot(p.x - a.x - along * dx, p.y - a.y - along * dy);
}

/* Marks the points to keep. stack holds the stretches still to look at: never more than points. */
static void simplify(const point *p, size_t count, double tolerance, bool *keep, size_t (*stack)[2])
{
    size_t depth = 0;
    keep[0] = keep[count - 1] = true;
    stack[depth][0] = 0;
    stack[depth++][1] = count - 1;
    while (depth > 0) {
        size_t first = stack[--depth][0], last = stack[depth][1], far = first;
        double most = tolerance;
        for (size_t k = first + 1; k < last; k++) {
            double d = distance(p[k], p[first], p[last]);
            far = d > most ? k : far;
            most = fmax(most, d);
        }
        if (far == first)
            continue;
        keep[far] = true;
        stack[depth][0] = first;
        stack[depth++][1] = far;
        stack[depth][0] = far;
        stack[depth++][1] = last;
    }
}

/* Shortest text of a number with at most this many decimals; never "-0". */
static void put_number(FILE *out, double value, int decimals)
{
    char text[64];
    int length = snprintf(text, sizeof text, "%.*f", decimals, value);
    if (length < 0 || (size_t)length >= sizeof text)
        return;
    if (strchr(text, '.')) {
        while (text[length - 1] == '0')
            text[--length] = '\0';
        if (text[length - 1] == '.')
            text[--length] = '\0';
    }
    fputs(strcmp(text, "-0") == 0 ? "0" : text, out);
}

static size_t read_points(const char *value, point *p)
{
    size_t count = 0;
    for (char *end; *value; value = end) {
        p[count].x = strtod(value, &end);
        if (end == value || *end != ',')
            break;
        value = end + 1;
        p[count].y = strtod(value, &end);
        if (end == value)
            break;
        count++;
    }
    return count;
}

static void put_points(compactor *c, const char *value)
{
    size_t most = 1 + strlen(value) / 4; /* "0,0 " is the shortest */
    point *p = malloc(most * sizeof *p);
    bool *keep = calloc(most, sizeof *keep);
    size_t(*stack)[2] = malloc((most + 1) * sizeof *stack);
    if (p && keep && stack) {
        size_t count = read_points(value, p);
        if (count > 0)
            simplify(p, count, c->tolerance, keep, stack);
        for (size_t k = 0; k < count; k++) {
            if (!keep[k])
                continue;
            fputs(k > 0 ? " " : "", c->out);
            put_number(c->out, p[k].x, 1);
            fputc(',', c->out);
            put_number(c->out, p[k].y, 1);
        }
    } else {
        c->failed = true;
    }
    free(p);
    free(keep);
    free(stack);
}

/* ---- attributes ------------------------------------------------------------------------------ */

/* Attributes that say what holds without them, or that the page's style sheet says. */
static bool is_idle(const char *tag, const char *name, const char *value)
{
    static const char *const always[] = {"dominant-baseline", "xml:space", "xmlns",
                                         "version",           "style",     "font-family"};
    for (size_t k = 0; k < sizeof always / sizeof always[0]; k++)
        if (strcmp(name, always[k]) == 0)
            return true;
    size_t length = strlen(name);
    if (length > 8 && strcmp(name + length - 8, "-opacity") == 0)
        return strtod(value, NULL) == 1.0;
    if (strcmp(name, "font-style") == 0 || strcmp(name, "font-weight") == 0)
        return strcmp(value, "normal") == 0;
    return strcmp(tag, "svg") == 0 && (strcmp(name, "width") == 0 || strcmp(name, "height") == 0);
}

/* A value with its numbers shortened; colours and words as they are. */
static void put_value(FILE *out, const char *value)
{
    bool inside = false; /* of a word or colour */
    while (*value) {
        char *end = NULL;
        bool begins = isdigit((unsigned char)*value) || *value == '-' || *value == '.';
        double number = begins && !inside ? strtod(value, &end) : 0.0;
        if (end && end != value) {
            put_number(out, number, 2);
            value = end;
            continue;
        }
        inside = isalnum((unsigned char)*value) || *value == '#' || *value == '&';
        fputc(*value++, out);
    }
}

static void put_attribute(compactor *c, const char *tag, const char *name, const char *value)
{
    if (is_idle(tag, name, value))
        return;
    fprintf(c->out, " %s=\"", name);
    if (strcmp(name, "points") == 0)
        put_points(c, value);
    else
        put_value(c->out, value);
    fputc('"', c->out);
}

/* ---- tags ------------------------------------------------------------------------------------ */

static size_t word_length(const char *at)
{
    return strcspn(at, " \t\r\n=/>");
}

/* One attribute at `at`; returns where it ends, or NULL when there is none. */
static char *take_attribute(compactor *c, const char *tag, char *at)
{
    char name[NAME_SIZE];
    size_t length = word_length(at);
    if (length == 0 || length >= sizeof name || strncmp(at + length, "=\"", 2) != 0)
        return NULL;
    char *value = at + length + 2, *end = strchr(value, '"');
    if (!end)
        return NULL;
    memcpy(name, at, length);
    name[length] = '\0';
    *end = '\0';
    put_attribute(c, tag, name, value);
    return end + 1;
}

/* A tag from its '<' on; returns where it ends. What is not understood is passed on as it is. */
static char *take_tag(compactor *c, char *at)
{
    char tag[NAME_SIZE] = "";
    size_t length = at[1] == '/' ? 1 + word_length(at + 2) : word_length(at + 1);
    fwrite(at, 1, length + 1, c->out);
    if (length < sizeof tag)
        memcpy(tag, at + 1, length);
    at += length + 1;
    while (*at && *at != '>') {
        size_t blank = strspn(at, " \t\r\n");
        char *end = take_attribute(c, tag, at + blank);
        if (!end) {
            fwrite(at, 1, blank > 0 ? 1 : 0, c->out);
            end = at + blank;
            if (*end && *end != '>')
                fputc(*end++, c->out);
        }
        at = end;
    }
    if (*at)
        fputc(*at++, c->out);
    return at;
}

/* Text between tags; line breaks between two tags go. */
static char *take_text(compactor *c, char *at)
{
    size_t length = strcspn(at, "<"), blank = strspn(at, " \t\r\n");
    if (blank < length)
        fwrite(at, 1, length, c->out);
    return at + length;
}

char *hp_svg_compact(const char *svg, size_t size, double tolerance, size_t *length)
{
    char *copy = malloc(size + 1), *text = NULL;
    FILE *out = copy ? open_memstream(&text, length) : NULL;
    if (!out) {
        free(copy);
        return NULL;
    }
    memcpy(copy, svg, size);
    copy[size] = '\0';
    compactor c = {.out = out, .tolerance = tolerance};
    char *at = strstr(copy, "<svg");
    while (at && *at)
        at = *at == '<' ? take_tag(&c, at) : take_text(&c, at);
    free(copy);
    if (fclose(out) != 0 || c.failed) {
        free(text);
        return NULL;
    }
    return text;
}
