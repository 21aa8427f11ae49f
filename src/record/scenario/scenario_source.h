/*
 * The bytes of a scenario file, and where in them something stands.
 *
 * A file is refused before it is read when it is a folder or too large, and before it is parsed
 * when its bytes are not clean UTF-8 text.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_SOURCE_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_SOURCE_H

#include "hubphase/base/result.h"

#include <stdbool.h>
#include <stddef.h>

typedef struct hp_source {
    const char *path;   /* as given; borrowed */
    const char *what;   /* what the file must hold, for messages: "scenario"; borrowed */
    const char *begins; /* the line that it begins with: "hubphase: 1"; borrowed */
    char *buffer;       /* owned, terminated */
    const char *text;   /* buffer after a byte order mark, which is skipped; borrowed */
    size_t size;        /* of text, in bytes, without the terminator */
} hp_source;

/* Lines and columns count from 1, columns in characters; line 0 stands for the file as a whole. */
typedef struct hp_place {
    int line;
    int column;
    int width; /* characters to underline; at least 1 */
} hp_place;

/* Reads the whole file. HP_FAIL_IO when it cannot be read, HP_FAIL_INPUT when it is too large. */
hp_result hp_source_read_as(hp_source *source, const char *path, const char *what,
                            const char *begins, hp_error *err);
/* Copies bytes that are in memory already; `path` is what messages call them. */
hp_result hp_source_copy_as(hp_source *source, const char *text, size_t size, const char *path,
                            const char *what, const char *begins, hp_error *err);
void hp_source_free(hp_source *source);

/* Looks for what no scenario may hold: bytes that are not UTF-8, control characters, directives,
 * long runs of blanks. Returns false and says where and what when there is one; `what` has
 * room for `size` bytes. */
bool hp_source_clean(const hp_source *source, hp_place *place, char *what, size_t size);

/* The line with this number, without its break; its length goes into *length. */
const char *hp_source_line(const hp_source *source, int number, size_t *length);

#endif
