/*
 * Seeded random numbers: the same seed gives the same sequence on every machine.
 *
 * Generator: xoshiro256** seeded by splitmix64 (Blackman & Vigna, ACM Trans. Math. Softw. 47(4),
 * 2021; constants from memory).
 */
#ifndef HUBPHASE_SRC_BASE_RANDOM_H
#define HUBPHASE_SRC_BASE_RANDOM_H

#include <stdint.h>

typedef struct hp_random {
    uint64_t state[4];
} hp_random;

/* A generator for this seed and stream; different streams of one seed are independent. */
hp_random hp_random_init(uint64_t seed, uint64_t stream);

/* The next 64 random bits. */
uint64_t hp_random_bits(hp_random *random);

/* Uniform in [0, 1), 53 bits. */
double hp_random_unit(hp_random *random);

/* Uniform in [low, high). */
double hp_random_between(hp_random *random, double low, double high);

/* Uniform in 0 .. count-1 without bias; count > 0. */
uint32_t hp_random_below(hp_random *random, uint32_t count);

#endif
