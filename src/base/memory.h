/*
 * Whether memory can be had now. To be asked before a library is called that does not bear being
 * refused: some follow the null pointer, some end the program. What such a library can need at most
 * is measured, and said where it is asked for.
 */
#ifndef HUBPHASE_SRC_BASE_MEMORY_H
#define HUBPHASE_SRC_BASE_MEMORY_H

#include <stdbool.h>
#include <stddef.h>

/* Whether a block of this size can be had; it is given back. */
bool hp_memory_is_there(size_t size);

#endif
