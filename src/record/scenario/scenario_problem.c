/* Problems found in a file: see the header. */
#include "record/scenario/scenario_problem.h"

#include "hubphase/base/text.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

/* Characters of a source line that are shown at most, and the share of them before the place when
 * the line is longer. */
#define LINE_SHOWN  100
#define LINE_BEFORE 0.6

static void add(hp_problems *problems, hp_place place, const char *key, const char *format,
                va_list args) __attribute__((format(printf, 4, 0)));

static void add(hp_problems *problems, hp_place place, const char *key, const char *format,
                va_list args)
{
    int order = problems->count++;
    if (order >= HP_PROBLEMS_SHOWN)
        return;
    hp_problem *problem = &problems->item[order];
    problem->place = place;
    problem->order = order;
    vsnprintf(problem->text, sizeof problem->text, format, args);
    snprintf(problem->key, sizeof problem->key, "%s", key);
}

void hp_problems_add(hp_problems *problems, hp_place place, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    add(problems, place, "", format, args);
    va_end(args);
}

void hp_problems_add_key(hp_problems *problems, hp_place place, const char *key, const char *format,
                         ...)
{
    va_list args;
    va_start(args, format);
    add(problems, place, key, format, args);
    va_end(args);
}

void hp_problems_amend(hp_problems *problems, const char *key, const char *format, ...)
{
    int kept = problems->count < HP_PROBLEMS_SHOWN ? problems->count : HP_PROBLEMS_SHOWN, k = 0;
    while (k < kept && strcmp(problems->item[k].key, key) != 0)
        k++;
    if (k == kept)
        return;
    char more[240], before[sizeof problems->item[k].text];
    va_list args;
    va_start(args, format);
    vsnprintf(more, sizeof more, format, args);
    va_end(args);
    snprintf(before, sizeof before, "%s", problems->item[k].text);
    hp_phrase p = hp_phrase_begin(problems->item[k].text, sizeof problems->item[k].text);
    hp_phrase_add(&p, "%s%s", before, more);
}

static int by_place(const void *a, const void *b)
{
    const hp_problem *x = a, *y = b;
    if (x->place.line != y->place.line)
        return x->place.line < y->place.line ? -1 : 1;
    if (x->place.column != y->place.column)
        return x->place.column < y->place.column ? -1 : 1;
    return x->order < y->order ? -1 : 1;
}

/* Bytes of the first `characters` characters of a line; a byte that does not continue a character
 * begins one. */
static size_t bytes_of(const char *line, size_t length, int characters)
{
    size_t at = 0;
    while (at < length && characters > 0) {
        at++;
        while (at < length && ((unsigned char)line[at] & 0xC0) == 0x80)
            at++;
        characters--;
    }
    return at;
}

/* Copies a stretch of a line as it may be shown: tabs as blanks, nothing that a terminal obeys. */
static void copy_clean(const char *text, size_t length, char *out, size_t size)
{
    char copy[8 * LINE_SHOWN];
    if (length >= sizeof copy)
        length = sizeof copy - 1;
    for (size_t k = 0; k < length; k++)
        copy[k] = text[k] == '\t' ? ' ' : text[k] == '\0' ? '?' : text[k];
    copy[length] = '\0';
    hp_text_clean(copy, out, size);
}

static void print_line(const hp_source *source, hp_place place, const hp_screen *screen)
{
    FILE *out = screen->file;
    size_t length = 0;
    const char *line = hp_source_line(source, place.line, &length);
    int most = screen->columns > 0 && screen->columns < LINE_SHOWN ? screen->columns : LINE_SHOWN;
    int before = place.column - 1, room = (int)(LINE_BEFORE * most);
    if (before > room && bytes_of(line, length, most) < length) {
        size_t cut = bytes_of(line, length, before - room);
        line += cut;
        length -= cut;
        before = room;
    }
    size_t shown = bytes_of(line, length, most), prefix = bytes_of(line, length, before);
    size_t mark = bytes_of(line, length, before + place.width);
    char text[8 * LINE_SHOWN];
    copy_clean(line, shown, text, sizeof text);
    fprintf(out, "%s\n", text);
    copy_clean(line, prefix, text, sizeof text);
    fprintf(out, "%*s^", hp_text_columns(text), "");
    copy_clean(line + prefix, (mark < shown ? mark : shown) - (prefix < shown ? prefix : shown),
               text, sizeof text);
    for (int k = hp_text_columns(text); k > 1; k--)
        fputc('~', out);
    fputc('\n', out);
}

void hp_problem_print(const hp_problem *problem, const hp_source *source, const hp_screen *out)
{
    char text[sizeof problem->text], path[1024], whole[sizeof text + sizeof path + 64],
        place[48] = "";
    hp_text_clean(problem->text, text, sizeof text);
    hp_text_clean(source->path, path, sizeof path);
    bool placed = problem->place.line > 0;
    if (placed)
        snprintf(place, sizeof place, ":%d:%d", problem->place.line, problem->place.column);
    snprintf(whole, sizeof whole, "%s%s: error: %s", path, place, text);
    if (out->columns > 0)
        hp_text_fill(out, "", 0, whole);
    else
        fprintf(out->file, "%s\n", whole);
    if (placed)
        print_line(source, problem->place, out);
}

/* In the order of the file; returns how many are kept. */
static int sort(hp_problems *problems)
{
    int kept = problems->count < HP_PROBLEMS_SHOWN ? problems->count : HP_PROBLEMS_SHOWN;
    qsort(problems->item, (size_t)kept, sizeof problems->item[0], by_place);
    return kept;
}

void hp_problems_tell(hp_problems *problems, const hp_source *source, const hp_problem_ear *ear)
{
    int kept = sort(problems);
    for (int k = 0; k < kept; k++)
        ear->tell(ear->user, &problems->item[k], source);
}

void hp_problems_print(hp_problems *problems, const hp_source *source, const hp_screen *out)
{
    int shown = sort(problems);
    for (int k = 0; k < shown; k++)
        hp_problem_print(&problems->item[k], source, out);
    if (problems->count > shown)
        fprintf(out->file, "... and %d more\n", problems->count - shown);
}
