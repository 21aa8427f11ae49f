/* How the lines of a text end: see the header. */
#include "record/scenario/line_ends.h"

#include <stdlib.h>
#include <string.h>

size_t hp_line_end_at(const char *at)
{
    if (at[0] == '\r')
        return at[1] == '\n' ? 2 : 1;
    return at[0] == '\n';
}

const char *hp_line_end_of(const char *text)
{
    const char *end = text + strcspn(text, "\r\n");
    if (end[0] != '\r')
        return "\n";
    return end[1] == '\n' ? "\r\n" : "\r";
}

void hp_line_ends_put(FILE *out, const char *text, const char *lines)
{
    const char *end = hp_line_end_of(text);
    for (; *lines; lines++)
        if (*lines == '\n')
            fputs(end, out);
        else
            fputc(*lines, out);
}

bool hp_lines_begin(hp_lines *lines)
{
    *lines = (hp_lines){.file = NULL};
    lines->file = open_memstream(&lines->bytes, &lines->size);
    return lines->file != NULL;
}

bool hp_lines_finish(hp_lines *lines, FILE *out, const char *text)
{
    bool good = !ferror(lines->file);
    good = fclose(lines->file) == 0 && good;
    if (good)
        hp_line_ends_put(out, text, lines->bytes);
    free(lines->bytes);
    return good;
}
