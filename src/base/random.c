/* Seeded random numbers: see the header. */
#include "base/random.h"

#include <assert.h>

static uint64_t splitmix(uint64_t *x)
{
    uint64_t z = (*x += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static uint64_t rotate_left(uint64_t x, int k)
{
    return (x << k) | (x >> (64 - k));
}

hp_random hp_random_init(uint64_t seed, uint64_t stream)
{
    /* Both numbers go through the mixer, so that seeds 1, 2, 3 share nothing visible. */
    uint64_t mix = seed;
    uint64_t key = splitmix(&mix) ^ (stream * 0xd1342543de82ef95u);
    hp_random random;
    for (int k = 0; k < 4; k++)
        random.state[k] = splitmix(&key);
    return random;
}

uint64_t hp_random_bits(hp_random *random)
{
    uint64_t *s = random->state;
    uint64_t result = rotate_left(s[1] * 5, 7) * 9;
    uint64_t t = s[1] << 17;
    s[2] ^= s[0];
    s[3] ^= s[1];
    s[1] ^= s[2];
    s[0] ^= s[3];
    s[2] ^= t;
    s[3] = rotate_left(s[3], 45);
    return result;
}

double hp_random_unit(hp_random *random)
{
    return (double)(hp_random_bits(random) >> 11) * 0x1.0p-53;
}

double hp_random_between(hp_random *random, double low, double high)
{
    return low + (high - low) * hp_random_unit(random);
}

uint32_t hp_random_below(hp_random *random, uint32_t count)
{
    assert(count > 0);
    /* Rejection: draws from the incomplete last block would favour small numbers. */
    uint64_t limit = UINT64_MAX - UINT64_MAX % count;
    uint64_t bits;
    do
        bits = hp_random_bits(random);
    while (bits >= limit);
    return (uint32_t)(bits % count);
}
