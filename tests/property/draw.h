/* Numbers at random: the same ones each time, unless FW_SEED says otherwise. */
#ifndef FW_DRAW_H
#define FW_DRAW_H

#include "unit/test.h"

static inline uint64_t seeded(uint64_t usual)
{
    const char *given = getenv("FW_SEED");
    const uint64_t seed = given ? strtoull(given, NULL, 10) : usual;
    print_message("# FW_SEED=%llu\n", (unsigned long long)seed);
    return seed * 2654435761u + 1;
}

static inline double draw(uint64_t *seed, double least, double most)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return least +
           (most - least) * ((double)((*seed * 2685821657736338717u) >> 11) /
                             9007199254740992.0);
}

static inline size_t draw_count(uint64_t *seed, size_t least, size_t most)
{
    return least + (size_t)(draw(seed, 0, 1) * (double)(most - least + 1));
}

#endif
