/* A field of 300 by 200 m whose corners are known, what stands around it, and
 * what its plan says of that. */
#ifndef FW_FIELD_AROUND_H
#define FW_FIELD_AROUND_H

#include "test.h"

#include "crs/crs.h"
#include "make/make.h"
#include "plan/plan.h"

#include "base/alloc.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* Equal-area and true to scale at its centre, so that metres are plain. */
static const char *const crs_text =
    "+proj=laea +lat_0=58.3 +lon_0=25.5 +datum=WGS84 +units=m";

/* PROJ's own way back from such a plane is off by up to 1.6 mm. */
static const double off_m = 0.002;

/* ---- the farm ---- */

static inline struct fw_crs *crs_of(void)
{
    struct fw_crs *crs;
    assert_int_equal(fw_crs_new(crs_text, &crs, NULL), FW_OK);
    return crs;
}

static inline struct fw_point plane_of(const struct fw_field *field, double x,
                                       double y)
{
    struct fw_crs *crs = crs_of();
    struct fw_lonlat at;
    assert_int_equal(
        fw_crs_to_lonlat(crs, &(struct fw_xy){x, y}, &at, 1, NULL, NULL),
        FW_OK);
    fw_crs_free(crs);
    return fw_plane_forward(&field->plane, at);
}

static inline void add_field(struct fw_farm *farm, struct fw_crs *crs)
{
    static const double xy[4][2] = {{0, 0}, {300, 0}, {300, 200}, {0, 200}};
    struct fw_shape shape = {
        .points = fw_alloc(4, sizeof *shape.points),
        .point_count = 4,
        .ring_start = fw_alloc(2, sizeof *shape.ring_start),
        .ring_count = 1,
    };
    for (size_t i = 0; i < 4; i++)
        shape.points[i] = (struct fw_xy){xy[i][0], xy[i][1]};
    shape.ring_start[1] = 4;
    struct fw_farm_field *field = &farm->fields[0];
    assert_int_equal(fw_field_new(&shape, "First", crs, &field->shape, NULL),
                     FW_OK);
    fw_shape_release(&shape);
    field->grazed = field->shape;
    field->crs = fw_strdup(crs_text);
    field->source = fw_strdup("outline");
    field->sides = fw_alloc(4, sizeof *field->sides);
    for (size_t i = 0; i < 4; i++)
        field->sides[i] = (struct fw_farm_side){FW_HOLDS_LAMBS, FW_YES};
    field->sward = (struct fw_sward){
        .mass_kg_ha = 2500, .residual_kg_ha = 1500, .use = 0.8, .legume = -1};
}

/* Fences run north and south, so that they cross what runs east and west. */
static inline struct fw_farm *farm_of(void)
{
    struct fw_crs *crs = crs_of();
    struct fw_farm *farm = fw_alloc(1, sizeof *farm);
    farm->world = &fw_crs_world;
    farm->name = fw_strdup("Test farm");
    farm->field_count = 1;
    farm->fields = fw_alloc(1, sizeof *farm->fields);
    add_field(farm, crs);
    fw_crs_free(crs);
    farm->classes = fw_alloc(1, sizeof *farm->classes);
    farm->class_count = 1;
    farm->classes[0] = (struct fw_flock_class){.name = "ewes",
                                               .head = 240,
                                               .weight_kg = 60,
                                               .state = FW_DRY,
                                               .intake_kg_day = 2};
    for (int i = 0; i < 7; i++)
        farm->stay.days[i] = 1;
    assert_int_equal(fw_date_read("2027-05-17", &farm->start_day, NULL), FW_OK);
    farm->back_fence = true;
    farm->direction_given = true;
    farm->direction_deg = 0;
    farm->moved = fw_fence_moved_default();
    farm->perimeter = fw_fence_perimeter_default();
    farm->rates = fw_fence_rates_default();
    farm->pace_m = 0.8;
    farm->water_moves = true;
    farm->prices =
        (struct fw_prices){-1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1,
                           -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, ""};
    return farm;
}

static inline void add_thing(struct fw_farm *farm, enum fw_role role,
                             enum fw_feature_kind kind, double kv,
                             const struct fw_xy *xy, size_t count)
{
    struct fw_crs *crs = crs_of();
    if (!farm->features)
        farm->features = fw_alloc(8, sizeof *farm->features);
    struct fw_farm_feature *feature = &farm->features[farm->feature_count++];
    assert_true(farm->feature_count <= 8);
    *feature = (struct fw_farm_feature){
        .role = role,
        .kind = kind,
        .points = fw_alloc(count, sizeof *feature->points),
        .ring_start = fw_alloc(2, sizeof *feature->ring_start),
        .ring_count = 1,
        .name = fw_strdup("Thing"),
        .kv = kv,
    };
    feature->ring_start[1] = count;
    farm->mapped |= 1U << role;
    assert_int_equal(
        fw_crs_to_lonlat(crs, xy, feature->points, count, NULL, NULL), FW_OK);
    fw_crs_free(crs);
}

#define ADD(farm, role, kind, kv, ...)                                         \
    do {                                                                       \
        const struct fw_xy xy_[] = {__VA_ARGS__};                              \
        add_thing(farm, role, kind, kv, xy_, sizeof xy_ / sizeof xy_[0]);      \
    } while (0)
#define LINE FW_FEATURE_LINE
#define AREA FW_FEATURE_POLYGON

static inline struct fw_plan *plan_of(struct fw_farm *farm)
{
    struct fw_plan *plan = NULL;
    struct fw_error err;
    if (fw_plan_make(farm, &plan, &err))
        fail_msg("%s", err.text);
    fw_farm_free(farm);
    return plan;
}

/* ---- what is asked of a plan ---- */

static inline size_t told(const struct fw_plan *plan, const char *rule)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->finding_count; i++)
        count += strcmp(plan->findings[i].rule, rule) == 0;
    return count;
}

/* Of what stands around, on no map of which nothing is missing. */
static inline size_t told_of_maps(const struct fw_plan *plan)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->finding_count; i++)
        count += plan->findings[i].feature[0] != '\0';
    return count;
}

static inline const struct fw_plan_finding *finding(const struct fw_plan *plan,
                                                    const char *rule)
{
    for (size_t i = 0; i < plan->finding_count; i++)
        if (strcmp(plan->findings[i].rule, rule) == 0)
            return &plan->findings[i];
    for (size_t i = 0; i < plan->finding_count; i++)
        print_message("# %s: %s\n", plan->findings[i].rule,
                      plan->findings[i].text);
    fail_msg("nothing is found of \"%s\"", rule);
    return plan->findings; /* not reached */
}

static inline size_t signs_on(const struct fw_plan *plan,
                              enum fw_fence_role role)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->post_count; i++)
        count += plan->posts[i].why == FW_POST_SIGN &&
                 plan->fences[plan->posts[i].fence].role == role;
    return count;
}

static inline const struct fw_material *material(const struct fw_plan *plan,
                                                 const char *begins)
{
    for (size_t i = 0; i < plan->material_count; i++)
        if (strncmp(plan->materials[i].item, begins, strlen(begins)) == 0)
            return &plan->materials[i];
    return NULL;
}

static inline size_t moved_lines(const struct fw_plan *plan)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->fence_count; i++)
        count += plan->fences[i].role == FW_FENCE_MOVED;
    return count;
}

static inline void nameless(struct fw_farm *farm)
{
    for (size_t i = 0; i < farm->feature_count; i++) {
        fw_free(farm->features[i].name);
        farm->features[i].name = NULL;
    }
}

#endif
