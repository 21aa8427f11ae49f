/*
 * PLplot's SVG made small: see the header.
 *
 * Curves are simplified by the method of Douglas & Peucker (The Canadian Cartographer
 * 10(2):112-122, 1973; from memory): a stretch becomes one straight line when no point of it lies
 * farther from that line than the tolerance; else it is parted at the farthest point.
 */
#include "report/picture/svg_compact.h"

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define NAME_SIZE 40 /* of an attribute; longer ones are no attribute of PLplot's */
#define TENTHS    10 /* points stand on a grid of tenths of a unit */

typedef struct point {
    double x, y;
    bool begins; /* no line leads here */
} point;

/* Curves that follow one another and look alike become one path. */
typedef struct path {
    char *attributes; /* owned; NULL: no curve is waiting */
    point *p;         /* owned */
    size_t count, capacity;
} path;

typedef struct compactor {
    FILE *out;
    double tolerance;
    path path;
    bool failed; /* memory */
} compactor;

/* ---- curves ---------------------------------------------------------------------------------- */

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

/* Adds a curve's points to the waiting path; a curve that begins where the last one ended goes on
 * with it. */
static bool add_points(path *path, const char *value)
{
    size_t most = path->count + 1 + strlen(value) / 4; /* "0,0 " is the shortest */
    if (most > path->capacity) {
        point *p = realloc(path->p, 2 * most * sizeof *p);
        if (!p)
            return false;
        path->p = p;
        path->capacity = 2 * most;
    }
    bool first = true;
    for (char *end; *value; value = end) {
        point p = {.x = strtod(value, &end), .begins = first};
        if (end == value || *end != ',')
            break;
        value = end + 1;
        p.y = strtod(value, &end);
        if (end == value)
            break;
        const point *last = path->count > 0 ? &path->p[path->count - 1] : NULL;
        if (!first || !last || last->x != p.x || last->y != p.y)
            path->p[path->count++] = p;
        first = false;
    }
    return true;
}

/* One curve, as absolute beginning and steps between the points of the grid. */
static void put_curve(FILE *out, const point *p, const bool *keep, size_t count)
{
    long x = lround(TENTHS * p[0].x), y = lround(TENTHS * p[0].y);
    fputc('M', out);
    put_number(out, (double)x / TENTHS, 1);
    fputc(' ', out);
    put_number(out, (double)y / TENTHS, 1);
    for (size_t k = 1, kept = 0; k < count; k++) {
        if (!keep[k])
            continue;
        long to_x = lround(TENTHS * p[k].x), to_y = lround(TENTHS * p[k].y);
        fputc(kept++ == 0 ? 'l' : ' ', out);
        put_number(out, (double)(to_x - x) / TENTHS, 1);
        fputc(' ', out);
        put_number(out, (double)(to_y - y) / TENTHS, 1);
        x = to_x;
        y = to_y;
    }
}

/* Writes the waiting path. */
static void put_path(compactor *c)
{
    path *path = &c->path;
    bool *keep = calloc(path->count + 1, sizeof *keep);
    size_t(*stack)[2] = malloc((path->count + 1) * sizeof *stack);
    if (!keep || !stack)
        c->failed = true;
    else if (path->attributes)
        fprintf(c->out, "<path%s d=\"", path->attributes);
    for (size_t from = 0, end; keep && stack && from < path->count; from = end) {
        for (end = from + 1; end < path->count && !path->p[end].begins;)
            end++;
        simplify(&path->p[from], end - from, c->tolerance, &keep[from], stack);
        put_curve(c->out, &path->p[from], &keep[from], end - from);
    }
    if (keep && stack && path->attributes)
        fputs("\"/>", c->out);
    free(keep);
    free(stack);
    free(path->attributes);
    path->attributes = NULL;
    path->count = 0;
}

/* ---- attributes ------------------------------------------------------------------------------ */

/* Attributes that say what holds without them, or that the page's style sheet says. */
static bool is_idle(const char *tag, const char *name, const char *value)
{
    static const char *const always[] = {"dominant-baseline", "xml:space", "xmlns",
                                         "version",           "style",     "font-family"};
    static const char *const usual[][2] = {
        {"font-style", "normal"}, {"font-weight", "normal"}, {"text-anchor", "start"},
        {"fill", "#000000"},      {"fill-rule", "nonzero"},  {"stroke-width", "1.000000e+00"},
        {"stroke", "none"}};
    for (size_t k = 0; k < sizeof always / sizeof always[0]; k++)
        if (strcmp(name, always[k]) == 0)
            return true;
    for (size_t k = 0; k < sizeof usual / sizeof usual[0]; k++)
        if (strcmp(name, usual[k][0]) == 0 && strcmp(value, usual[k][1]) == 0)
            return true;
    size_t length = strlen(name);
    if (length > 8 && strcmp(name + length - 8, "-opacity") == 0)
        return strtod(value, NULL) == 1.0;
    if (strcmp(name, "x") == 0 || strcmp(name, "y") == 0)
        return strtod(value, NULL) == 0.0;
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

static void put_attribute(FILE *out, const char *tag, const char *name, const char *value)
{
    if (is_idle(tag, name, value))
        return;
    fprintf(out, " %s=\"", name);
    put_value(out, value);
    fputc('"', out);
}

/* ---- tags ------------------------------------------------------------------------------------ */

static size_t word_length(const char *at)
{
    return strcspn(at, " \t\r\n=/>");
}

/* One attribute at `at`, name and value ended in place; returns what follows it, or NULL when there
 * is none. */
static char *next_attribute(char *at, char **name, char **value)
{
    size_t length = word_length(at);
    if (length == 0 || length >= NAME_SIZE || strncmp(at + length, "=\"", 2) != 0)
        return NULL;
    char *end = strchr(at + length + 2, '"');
    if (!end)
        return NULL;
    *name = at;
    *value = at + length + 2;
    at[length] = '\0';
    *end = '\0';
    return end + 1;
}

/* A curve from its attributes on; it waits for others that look alike. An area waits alone: two
 * that overlap could cancel each other. Returns where the tag ends. */
static char *take_curve(compactor *c, char *at)
{
    char *attributes = NULL, *points = NULL, *name, *value;
    size_t size = 0;
    bool area = true;
    FILE *out = open_memstream(&attributes, &size);
    if (!out) {
        c->failed = true;
        return at + strlen(at);
    }
    for (char *end;; at = end) {
        at += strspn(at, " \t\r\n");
        end = next_attribute(at, &name, &value);
        if (!end)
            break;
        area = area && !(strcmp(name, "fill") == 0 && strcmp(value, "none") == 0);
        if (strcmp(name, "points") == 0)
            points = value;
        else
            put_attribute(out, "polyline", name, value);
    }
    c->failed = ferror(out) || c->failed;
    if (fclose(out) != 0)
        c->failed = true;
    path *path = &c->path;
    if (path->attributes && attributes && !area && strcmp(path->attributes, attributes) == 0) {
        free(attributes);
    } else {
        put_path(c);
        path->attributes = attributes;
    }
    if (points && !add_points(path, points))
        c->failed = true;
    at += strcspn(at, ">");
    return *at ? at + 1 : at;
}

/* A tag from its '<' on; returns where it ends. What is not understood is passed on as it is. */
static char *take_tag(compactor *c, char *at)
{
    char tag[NAME_SIZE] = "", *name, *value;
    size_t length = at[1] == '/' ? 1 + word_length(at + 2) : word_length(at + 1);
    if (length < sizeof tag)
        memcpy(tag, at + 1, length);
    if (strcmp(tag, "polyline") == 0)
        return take_curve(c, at + length + 1);
    put_path(c);
    fwrite(at, 1, length + 1, c->out);
    at += length + 1;
    while (*at && *at != '>') {
        size_t blank = strspn(at, " \t\r\n");
        char *end = next_attribute(at + blank, &name, &value);
        if (end) {
            put_attribute(c->out, tag, name, value);
        } else {
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
        put_path(c);
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
    put_path(&c);
    free(c.path.p);
    free(copy);
    c.failed = ferror(out) || c.failed;
    if (fclose(out) != 0 || c.failed) {
        free(text);
        return NULL;
    }
    return text;
}
