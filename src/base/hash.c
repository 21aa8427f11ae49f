/* The hash: see the header. */
#include "base/hash.h"

#include <string.h>

uint64_t hp_hash_bytes(const char *bytes, size_t size)
{
    uint64_t hash = 0xcbf29ce484222325u;
    for (size_t k = 0; k < size; k++)
        hash = (hash ^ (unsigned char)bytes[k]) * 0x100000001b3u;
    return hash;
}

uint64_t hp_hash(const char *text)
{
    return hp_hash_bytes(text, strlen(text));
}
