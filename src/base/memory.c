/* Whether memory can be had: see the header. */
#include "base/memory.h"

#include <stdlib.h>

bool hp_memory_is_there(size_t size)
{
    void *volatile block = malloc(size); /* volatile: else a compiler may leave the call out */
    bool there = block != NULL;
    free(block);
    return there;
}
