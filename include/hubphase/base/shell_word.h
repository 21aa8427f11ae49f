/*
 * Words of a command line as a person copies them into a shell.
 *
 * What comes out is printable: a terminal obeys nothing in it, and a POSIX shell reads exactly the
 * bytes that went in.
 */
#ifndef HUBPHASE_BASE_SHELL_WORD_H
#define HUBPHASE_BASE_SHELL_WORD_H

#include "hubphase/base/api.h"

#include <stddef.h>

HP_API_BEGIN

/* Room for any word of `bytes` bytes. */
#define HP_SHELL_WORD_SIZE(bytes) (4 * (bytes) + 24)

/* Writes one word: as it is where no shell would touch it, in single quotes where it would, and
 * through printf where it holds what no terminal should see. Returns out. */
char *hp_shell_word(const char *word, char *out, size_t size);

/* Writes a file's name so that no program takes it for an option: "-x" becomes "./-x". Not quoted
 * yet. Returns out. */
char *hp_shell_file(const char *path, char *out, size_t size);

HP_API_END

#endif
