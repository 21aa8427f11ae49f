/*
 * A 64-bit hash (FNV-1a; Fowler, Noll & Vo, from memory), to name a text by what it holds and to
 * notice damage. It is no defence against somebody who means harm.
 */
#ifndef HUBPHASE_SRC_BASE_HASH_H
#define HUBPHASE_SRC_BASE_HASH_H

#include <stddef.h>
#include <stdint.h>

uint64_t hp_hash_bytes(const char *bytes, size_t size);
/* Of a terminated text. */
uint64_t hp_hash(const char *text);

#endif
