/* The bytes of a scenario file: see the header. */
#include "record/scenario/scenario_source.h"

#include "hubphase/base/text.h"
#include "hubphase/record/scenario.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Most blanks, tabs and line breaks in a row. In libfyaml 0.7.12 the time for them after a key in
 * braces grows with the square of their number: 40000 take seven seconds, this many no time. */
#define BLANKS_MAX 200

/* Reads up to `room` bytes; -1 with errno set when that fails. */
static ssize_t read_up_to(int file, char *buffer, size_t room)
{
    size_t used = 0;
    while (used < room) {
        ssize_t got = read(file, buffer + used, room - used);
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return -1;
        if (got == 0)
            break;
        used += (size_t)got;
    }
    return (ssize_t)used;
}

static hp_result too_large(hp_error *err, const hp_source *source)
{
    return hp_error_set(err, HP_FAIL_INPUT, "%s is too large for a %s, must be at most %d bytes",
                        source->path, source->what, HP_SCENARIO_BYTES_MAX);
}

/* A pipe does not tell its size, so one byte more than allowed is asked for. */
static hp_result read_open_file(hp_source *source, int file, hp_error *err)
{
    struct stat status;
    if (fstat(file, &status) != 0)
        return hp_error_set(err, HP_FAIL_IO, "%s cannot be read: %s", source->path,
                            strerror(errno));
    if (S_ISDIR(status.st_mode))
        return hp_error_set(err, HP_FAIL_IO, "%s is a folder, must be a %s file", source->path,
                            source->what);
    if (S_ISREG(status.st_mode) && status.st_size > HP_SCENARIO_BYTES_MAX)
        return too_large(err, source);
    size_t room = HP_SCENARIO_BYTES_MAX + 1;
    source->buffer = malloc(room + 1);
    if (!source->buffer)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to read %s", source->path);
    ssize_t used = read_up_to(file, source->buffer, room);
    if (used < 0)
        return hp_error_set(err, HP_FAIL_IO, "%s cannot be read: %s", source->path,
                            strerror(errno));
    if (used > HP_SCENARIO_BYTES_MAX)
        return too_large(err, source);
    source->buffer[used] = '\0';
    source->text = source->buffer;
    source->size = (size_t)used;
    return HP_OK;
}

static void skip_byte_order_mark(hp_source *source)
{
    if (source->size >= 3 && memcmp(source->text, "\xEF\xBB\xBF", 3) == 0) {
        source->text += 3;
        source->size -= 3;
    }
}

/* An empty source that says what it is. */
static hp_source begin(const char *path, const char *what, const char *begins)
{
    return (hp_source){.path = path, .what = what, .begins = begins};
}

hp_result hp_source_read_as(hp_source *source, const char *path, const char *what,
                            const char *begins, hp_error *err)
{
    *source = begin(path, what, begins);
    int file;
    do /* a pipe waits here for its writer; a signal that ends the work does so by itself */
        file = open(path, O_RDONLY | O_CLOEXEC);
    while (file < 0 && errno == EINTR);
    if (file < 0)
        return hp_error_set(err, HP_FAIL_IO, "%s cannot be opened: %s", path, strerror(errno));
    hp_result result = read_open_file(source, file, err);
    close(file);
    if (result == HP_OK)
        skip_byte_order_mark(source);
    else
        hp_source_free(source);
    return result;
}

hp_result hp_source_copy_as(hp_source *source, const char *text, size_t size, const char *path,
                            const char *what, const char *begins, hp_error *err)
{
    *source = begin(path, what, begins);
    if (size > HP_SCENARIO_BYTES_MAX)
        return too_large(err, source);
    source->buffer = malloc(size + 1);
    if (!source->buffer)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to read %s", path);
    memcpy(source->buffer, text, size);
    source->buffer[size] = '\0';
    source->text = source->buffer;
    source->size = size;
    skip_byte_order_mark(source);
    return HP_OK;
}

void hp_source_free(hp_source *source)
{
    free(source->buffer);
    memset(source, 0, sizeof *source);
}

/* Outside YAML's printable set (YAML 1.2.2, production c-printable): C0 but tab and line breaks,
 * DEL, C1 but NEL. */
static bool is_forbidden(unsigned c)
{
    return (c < 0x20 && c != '\t' && c != '\n' && c != '\r') ||
           (c >= 0x7F && c < 0xA0 && c != 0x85);
}

/* Where a walk through the text has come to. */
typedef struct walk {
    hp_place place;
    int blanks; /* in a row, before this place */
} walk;

/* What is wrong with the character of this value and length; false when nothing is. */
static bool is_wrong(const walk *w, const char *s, int length, unsigned c, char *what, size_t size)
{
    if (length == 0)
        snprintf(what, size,
                 "byte 0x%02X is not UTF-8, must be plain text in UTF-8: save the file so",
                 (unsigned char)s[0]);
    else if (is_forbidden(c))
        snprintf(what, size, "control character U+%04X, must be printable text", c);
    else if (w->place.column == 1 && c == '%')
        snprintf(what, size, "a line that begins with %%, must be a key, a value or a comment");
    else if (w->blanks > BLANKS_MAX)
        snprintf(what, size, "more than %d blanks, tabs and line breaks in a row, must be fewer",
                 BLANKS_MAX);
    else
        return false;
    return true;
}

static void step_over(walk *w, unsigned c, bool line_ends)
{
    bool blank = c == ' ' || c == '\t' || c == '\r' || c == '\n';
    w->blanks = blank ? w->blanks + 1 : 0;
    w->place.column++;
    if (line_ends)
        w->place = (hp_place){w->place.line + 1, 1, 1};
}

bool hp_source_clean(const hp_source *source, hp_place *place, char *what, size_t size)
{
    const char *s = source->text;
    walk w = {.place = {1, 1, 1}};
    bool clean = true;
    if (source->size >= 2 && (memcmp(s, "\xFF\xFE", 2) == 0 || memcmp(s, "\xFE\xFF", 2) == 0)) {
        snprintf(what, size, "the text is UTF-16, must be UTF-8: save the file so");
        clean = false;
    }
    for (size_t at = 0; clean && at < source->size;) {
        unsigned c = 0;
        int length = hp_text_character(s + at, &c);
        clean = !is_wrong(&w, s + at, length, c, what, size);
        if (!clean)
            break;
        at += (size_t)length;
        /* Of CR LF the LF ends the line. */
        bool pair = c == '\r' && at < source->size && s[at] == '\n';
        step_over(&w, c, c == '\n' || (c == '\r' && !pair));
    }
    *place = w.place;
    return clean;
}

const char *hp_source_line(const hp_source *source, int number, size_t *length)
{
    const char *line = source->text, *end = source->text + source->size;
    for (int k = 1; k < number && line < end; k++) {
        line += strcspn(line, "\r\n");
        if (line < end)
            line += line[0] == '\r' && line[1] == '\n' ? 2 : 1;
    }
    *length = strcspn(line, "\r\n");
    return line;
}
