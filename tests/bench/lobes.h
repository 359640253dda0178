/* The field that the benchmarks time: a star with lobes, and round ponds. */
#ifndef FW_BENCH_LOBES_H
#define FW_BENCH_LOBES_H

#include "geo/geo.h"

#include <math.h>
#include <stdint.h>

/* How far the edge wavers, as a share of the radius. A rough outline wavers by
 * as much whatever its vertices, so that of a thousand each second one juts in;
 * a smooth one by less the nearer they stand. */
enum outline { SMOOTH, ROUGH };

static inline const char *outline_name(enum outline outline)
{
    return outline == ROUGH ? "rough" : "smooth";
}

static inline double draw(uint64_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    return (double)(*seed >> 11) / 9007199254740992.0;
}

static inline void lobes(struct fw_point *out, struct fw_point centre,
                         double radius_m, size_t count, int way,
                         enum outline outline, uint64_t *seed)
{
    const double most = 0.02;
    const double waver =
        outline == ROUGH ? most : fmin(most, 1.0 / (double)count);
    for (size_t i = 0; i < count; i++) {
        const double angle =
            way * 2 * 3.14159265358979323846 * (double)i / (double)count;
        const double r =
            radius_m * (1 + 0.25 * cos(3 * angle) + 0.1 * cos(5 * angle + 1) +
                        waver * draw(seed));
        out[i] = (struct fw_point){centre.x_m + r * cos(angle),
                                   centre.y_m + r * sin(angle)};
    }
}

#endif
