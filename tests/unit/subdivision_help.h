/* A subdivision with a field on it, and the map that comes of it. */
#ifndef FW_SUBDIVISION_HELP_H
#define FW_SUBDIVISION_HELP_H

#include "layout_help.h"

#include "layout/pattern.h"

static inline void begin(struct fw_subdivision *subdivision,
                         struct fw_region *whole, const struct plot *plot,
                         const struct fw_herbage *ground)
{
    double holds = 0;
    assert_int_equal(
        fw_subdivision_init(subdivision, &plot->field, ground, NULL), FW_OK);
    assert_int_equal(fw_subdivision_whole(subdivision, whole, NULL), FW_OK);
    assert_int_equal(fw_subdivision_holds(subdivision, whole, &holds, NULL),
                     FW_OK);
    if (!ground)
        assert_relative(holds, plot->field.area_m2, 1e-14);
}

static inline double holds(const struct fw_subdivision *subdivision,
                           const struct fw_region *region)
{
    double out = 0;
    assert_int_equal(fw_subdivision_holds(subdivision, region, &out, NULL),
                     FW_OK);
    return out;
}

/* The map of these regions; every one of it is released, and the subdivision.
 */
static inline struct fw_layout finish(struct fw_subdivision *subdivision,
                                      struct fw_region *regions, size_t count,
                                      size_t common_count)
{
    struct fw_layout out = {0};
    struct map_check check;
    const struct fw_field *field = subdivision->field;
    struct fw_plots plots = {.subdivision = *subdivision,
                             .count = count,
                             .regions = regions,
                             .common_count = common_count};
    assert_true(common_count <= FW_MOST_COMMON);
    for (size_t i = 0; i < common_count; i++)
        plots.common[i] = regions[count + i];
    assert_int_equal(fw_layout__finish(&plots, &out, NULL), FW_OK);
    for (size_t i = 0; i < count + common_count; i++) {
        assert_relative(out.holds[i], holds(subdivision, &regions[i]), 1e-9);
        fw_region_release(&regions[i]);
    }
    fw_subdivision_release(subdivision);
    if (!map_fits(&check, field, &out))
        fail_msg("%s", check.why);
    map_check_release(&check);
    return out;
}

#endif
