/* Reading a whole plain file that this program once wrote. */
#ifndef HUBPHASE_SRC_BASE_SLURP_H
#define HUBPHASE_SRC_BASE_SLURP_H

#include <stddef.h>

/* Sets *text (owned by the caller, terminated) and *size. Returns 0, or the cause as base/files.h
 * has it: EFBIG above `most` bytes, EINVAL when it is a pipe or a device; *text is then NULL. */
int hp_slurp(const char *path, size_t most, char **text, size_t *size);

#endif
