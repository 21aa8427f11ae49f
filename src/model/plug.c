/* Where a pin sits in its plug: see the header. */
#include "model/plug.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#define HOUR_DEG   30
#define WORDS_MAX  6
#define WORD_SIZE  16
#define NUMBER_MAX 4 /* digits */

/* ---- words ----------------------------------------------------------------------------------- */

/* A text in words: numbers, and what stands between them, in small letters. */
typedef struct words {
    int count;
    char word[WORDS_MAX][WORD_SIZE];
} words;

static bool is_between(char c)
{
    return c == ' ' || c == ',' || c == '\t';
}

/* "3h" and "r1" are two words each; "1:30" and "1.5" are one. False: too many, or too long ones. */
static bool split(const char *text, words *w)
{
    w->count = 0;
    while (*text) {
        if (is_between(*text)) {
            text++;
            continue;
        }
        bool number = isdigit((unsigned char)*text) != 0;
        size_t length = 0;
        while (text[length] && !is_between(text[length]) &&
               (number ? isdigit((unsigned char)text[length]) || strchr(":.", text[length])
                       : !isdigit((unsigned char)text[length])))
            length++;
        if (w->count == WORDS_MAX || length >= WORD_SIZE)
            return false;
        char *word = w->word[w->count++];
        for (size_t k = 0; k < length; k++)
            word[k] = (char)tolower((unsigned char)text[k]);
        word[length] = '\0';
        text += length;
    }
    return true;
}

static bool is_one_of(const char *word, const char *const *list)
{
    for (; *list; list++)
        if (strcmp(word, *list) == 0)
            return true;
    return false;
}

/* A whole number; -1. */
static int whole(const char *word)
{
    size_t length = strlen(word);
    bool digits = length > 0 && length < NUMBER_MAX && strspn(word, "0123456789") == length;
    return digits ? atoi(word) : -1;
}

/* "3", "1:30", "1.5", "12" as an angle; -1. */
static int hour_angle(const char *word)
{
    char hours[WORD_SIZE];
    size_t length = strcspn(word, ":.");
    const char *rest = word + length + (word[length] != '\0');
    memcpy(hours, word, length);
    hours[length] = '\0';
    int hour = whole(hours), minutes = 0;
    if (hour < 0 || hour > 12)
        return -1;
    if (word[length] == ':') {
        minutes = strlen(rest) == 2 ? whole(rest) : -1;
    } else if (word[length] == '.') {
        minutes = strcmp(rest, "5") == 0 ? 30 : strcmp(rest, "0") == 0 ? 0 : -1;
    }
    if (minutes < 0 || minutes > 59 || minutes % 2 != 0)
        return -1; /* two minutes of the hour hand are a degree */
    return (hour % 12) * HOUR_DEG + minutes / 2;
}

/* ---- reading --------------------------------------------------------------------------------- */

static const hp_pin_place none = {.kind = HP_PLACE_NONE};

static bool ring_word(const char *word, hp_ring *ring)
{
    static const char *const outer[] = {"outer", "outside", NULL};
    static const char *const inner[] = {"inner", "inside", NULL};
    if (is_one_of(word, outer))
        *ring = HP_RING_OUTER;
    else if (is_one_of(word, inner))
        *ring = HP_RING_INNER;
    else
        return false;
    return true;
}

/* NUMBER UNIT [RING [ring]] */
static hp_pin_place read_round(const words *w)
{
    static const char *const hours[] = {
        "o'clock", "oclock", "h", "hour", "hours", "o\342\200\231clock", NULL};
    static const char *const degrees[] = {"degrees", "degree", "deg", "\302\260", NULL};
    hp_pin_place place = {.kind = HP_PLACE_ROUND, .ring = HP_RING_OUTER, .angle_deg = -1};
    int at = 2;
    if (w->count < 2)
        return none;
    if (is_one_of(w->word[1], hours))
        place.angle_deg = hour_angle(w->word[0]);
    else if (is_one_of(w->word[1], degrees))
        place.angle_deg = whole(w->word[0]);
    if (place.angle_deg < 0 || place.angle_deg > 360)
        return none;
    place.angle_deg %= 360;
    if (at < w->count && ring_word(w->word[at], &place.ring)) {
        at++;
        if (at < w->count && strcmp(w->word[at], "ring") == 0)
            at++;
    }
    return at == w->count ? place : none;
}

/* row NUMBER column NUMBER */
static hp_pin_place read_grid(const words *w)
{
    static const char *const row[] = {"row", "r", NULL};
    static const char *const column[] = {"column", "col", "c", NULL};
    if (w->count != 4 || !is_one_of(w->word[0], row) || !is_one_of(w->word[2], column))
        return none;
    hp_pin_place place = {
        .kind = HP_PLACE_GRID, .row = whole(w->word[1]), .column = whole(w->word[3])};
    bool good = place.row >= 1 && place.row <= HP_PLUG_ROWS_MAX && place.column >= 1 &&
                place.column <= HP_PLUG_COLUMNS_MAX;
    return good ? place : none;
}

hp_pin_place hp_pin_place_read(const char *text)
{
    static const char *const centre[] = {"centre", "center", "middle", NULL};
    words w;
    if (!split(text, &w) || w.count == 0)
        return none;
    if (w.count == 1 && is_one_of(w.word[0], centre))
        return (hp_pin_place){.kind = HP_PLACE_ROUND, .ring = HP_RING_CENTRE};
    hp_pin_place place = read_round(&w);
    return place.kind == HP_PLACE_NONE ? read_grid(&w) : place;
}

bool hp_pin_place_is_broken(const char *text)
{
    static const char *const meant[] = {"o'clock",  "oclock", "o\342\200\231clock",
                                        "degrees",  "degree", "deg",
                                        "\302\260", "row",    "column",
                                        "outer",    "inner",  NULL};
    words w;
    bool any = false;
    split(text, &w); /* as far as it goes */
    for (int k = 0; k < w.count; k++)
        any = any || is_one_of(w.word[k], meant);
    return any && hp_pin_place_read(text).kind == HP_PLACE_NONE;
}

/* ---- words of a place ------------------------------------------------------------------------ */

static void round_words(const hp_pin_place *place, char out[HP_PLACE_WORDS])
{
    const char *ring = place->ring == HP_RING_INNER ? "inner" : "outer";
    int hour = place->angle_deg / HOUR_DEG, rest = place->angle_deg % HOUR_DEG;
    hour = hour == 0 ? 12 : hour;
    if (place->ring == HP_RING_CENTRE)
        snprintf(out, HP_PLACE_WORDS, "centre");
    else if (rest == 0)
        snprintf(out, HP_PLACE_WORDS, "%d o'clock %s", hour, ring);
    else if (rest == HOUR_DEG / 2)
        snprintf(out, HP_PLACE_WORDS, "%d:30 o'clock %s", hour, ring);
    else
        snprintf(out, HP_PLACE_WORDS, "%d degrees %s", place->angle_deg, ring);
}

char *hp_pin_place_words(const hp_pin_place *place, char out[HP_PLACE_WORDS])
{
    out[0] = '\0';
    if (place->kind == HP_PLACE_ROUND)
        round_words(place, out);
    else if (place->kind == HP_PLACE_GRID)
        snprintf(out, HP_PLACE_WORDS, "row %d column %d", place->row, place->column);
    return out;
}

bool hp_pin_place_same(const hp_pin_place *a, const hp_pin_place *b)
{
    if (a->kind != b->kind)
        return false;
    if (a->kind == HP_PLACE_ROUND)
        return a->ring == b->ring && a->angle_deg == b->angle_deg;
    return a->row == b->row && a->column == b->column;
}

/* ---- the other half -------------------------------------------------------------------------- */

hp_pin_place hp_pin_place_mirror(const hp_pin_place *place, int columns)
{
    hp_pin_place other = *place;
    if (place->kind == HP_PLACE_ROUND)
        other.angle_deg = (360 - place->angle_deg) % 360;
    else if (place->kind == HP_PLACE_GRID)
        other.column = columns + 1 - place->column;
    return other;
}
