/* What the tests of geo/ share: numbers at random that are the same ones each
 * time, shapes, coordinate systems. */
#ifndef FW_TEST_GEO_HELP_H
#define FW_TEST_GEO_HELP_H

#include "base/alloc.h"
#include "test.h"

#include "crs/crs.h"
#include "geo/geo.h"
#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846

struct random {
    uint64_t state;
};

static inline double draw(struct random *random, double least, double most)
{
    random->state = random->state * 6364136223846793005U + 1442695040888963407U;
    return least + (most - least) * ((double)(random->state >> 11) * 0x1p-53);
}

static inline struct random seeded(void)
{
    const char *given = getenv("FW_SEED");
    const struct random random = {given ? strtoull(given, NULL, 10) : 20240502};
    printf("# FW_SEED=%llu\n", (unsigned long long)random.state);
    return random;
}

/* Up to three rings, one after the other. */
static inline struct fw_shape shape_of(const struct fw_xy *points, size_t outer,
                                       size_t hole, size_t second_hole)
{
    const size_t counts[] = {outer, hole, second_hole};
    struct fw_shape shape = {.point_count = outer + hole + second_hole};
    shape.points = fw_alloc(shape.point_count, sizeof *shape.points);
    shape.ring_start = fw_alloc(4, sizeof *shape.ring_start);
    assert_non_null(shape.points);
    assert_non_null(shape.ring_start);
    if (shape.point_count > 0)
        memcpy(shape.points, points, shape.point_count * sizeof *points);
    for (size_t r = 0; r < 3 && counts[r] > 0; r++) {
        shape.ring_start[r + 1] = shape.ring_start[r] + counts[r];
        shape.ring_count = r + 1;
    }
    return shape;
}

#define COUNT(array) (sizeof(array) / sizeof *(array))
#define RING(array) shape_of((array), COUNT(array), 0, 0)

static inline struct fw_crs *open_crs(const char *definition)
{
    struct fw_crs *crs = NULL;
    struct fw_error err = {.text = ""};
    if (fw_crs_new(definition, &crs, &err))
        fail_msg("%s: %s", definition, err.text);
    return crs;
}

#endif
