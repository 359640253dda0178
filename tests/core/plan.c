/* Farms from standard input, laid out and planned with nothing but the core: no
 * maps, no earth, no files. A line of input is a ring, "x y x y ...", in
 * metres, of the next field; "field PADDOCKS" ends it, and its candidates are
 * told with their figures. A line "road x y x y ...", or another role of maps,
 * is drawn around the fields; "plan" makes their plan and tells it. */
#include "core.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "make/make.h"
#include "plan/plan.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { most_points = 4096, most_rings = 64, most_fields = 16 };

static struct fw_point points[most_points];
static size_t ring_start[most_rings + 1], ring_count;
static struct fw_farm *farm;

static size_t read_points(const char *line, struct fw_point *out)
{
    char *end;
    size_t count = 0;
    for (;;) {
        out[count].x_m = strtod(line, &end);
        if (end == line)
            return count;
        out[count++].y_m = strtod(end, &end);
        line = end;
    }
}

/* ---- the farm ---- */

static void begin_farm(void)
{
    farm = fw_alloc(1, sizeof *farm);
    farm->world = &flat_world;
    farm->name = fw_strdup("Core");
    farm->fields = fw_alloc(most_fields, sizeof *farm->fields);
    farm->features = fw_alloc(most_fields, sizeof *farm->features);
    farm->classes = fw_alloc(2, sizeof *farm->classes);
    farm->class_count = 2;
    farm->classes[0] = (struct fw_flock_class){.name = "ewes",
                                               .head = 58,
                                               .weight_kg = 71,
                                               .state = FW_LACTATION_TWINS,
                                               .trained = FW_YES};
    farm->classes[1] = (struct fw_flock_class){
        .name = "rams", .head = 3, .weight_kg = 96, .state = FW_RAM};
    for (int i = 0; i < 7; i++)
        farm->stay.days[i] = i < 5 ? 1 : i == 5 ? 2 : 0;
    fw_date_read("2027-05-17", &farm->start_day, NULL);
    farm->looked_day = FW_NO_DAY;
    farm->back_fence = true;
    farm->longest_shape = 4;
    farm->apron_m = 10;
    farm->moved = fw_fence_moved_default();
    farm->perimeter = fw_fence_perimeter_default();
    farm->rates = fw_fence_rates_default();
    farm->pace_m = 0.82;
    farm->tank_l = 600;
    farm->water_moves = true;
    farm->prices = (struct fw_prices){.post = 2.3,
                                      .reel = 41,
                                      .wire_m = 0.06,
                                      .energizer = 260,
                                      .earth_rod = 19,
                                      .joule = -1};
}

/* The gate is at the first corner, and every second field has water. */
static enum fw_status add_field(struct fw_field *shape, struct fw_error *err)
{
    if (farm->field_count == most_fields)
        return fw_fail(err, FW_EUSAGE, "too many fields");
    struct fw_farm_field *field = &farm->fields[farm->field_count];
    field->shape = field->grazed = shape;
    field->crs = fw_strdup("flat");
    field->source = fw_strdup("rings");
    field->sides = fw_alloc(shape->corner_count, sizeof *field->sides);
    for (size_t i = 0; i < shape->corner_count; i++)
        field->sides[i] = (struct fw_farm_side){FW_HOLDS_LAMBS, FW_YES};
    field->sward = (struct fw_sward){
        .mass_kg_ha = 2350, .residual_kg_ha = 1300, .legume = 0.15};
    field->gate.given = true;
    field->gate.point = shape->vertices[shape->corners[0]].plane;
    field->water.given = farm->field_count++ % 2 != 0;
    return field->water.given ? fw_field_place(shape, shape->corner_count - 1,
                                               1, &field->water.point, err)
                              : FW_OK;
}

static enum fw_status add_feature(enum fw_role role, const char *line,
                                  struct fw_error *err)
{
    if (farm->feature_count == most_fields)
        return fw_fail(err, FW_EUSAGE, "too many features");
    const size_t count = read_points(line, points + ring_start[ring_count]);
    struct fw_farm_feature *feature = &farm->features[farm->feature_count++];
    *feature = (struct fw_farm_feature){
        .role = role,
        .kind = FW_FEATURE_LINE,
        .points = fw_alloc(count, sizeof *feature->points),
        .ring_start = fw_alloc(2, sizeof *feature->ring_start),
        .ring_count = 1,
        .name = fw_strdup(fw_safety_role_word(role)),
        .kv = role == FW_ROLE_POWER_LINE ? 20 : -1,
        .width_m = -1,
        .setback_m = -1,
    };
    feature->ring_start[1] = count;
    for (size_t i = 0; i < count; i++)
        feature->points[i] = flat_place(points[ring_start[ring_count] + i]);
    farm->mapped |= 1U << role;
    return FW_OK;
}

/* ---- what is told ---- */

static void tell_layout(const struct fw_layout *layout)
{
    printf("%s %s: %zu paddocks, %zu lines, broken %zu, apart %zu, turns %zu\n",
           layout->pattern, layout->name, layout->paddock_count,
           layout->line_count, layout->broken_count, layout->apart_count,
           layout->turn_count);
    printf("  %.17g %.17g %.17g\n", layout->line_m, layout->gate_m,
           layout->last_share);
    for (size_t i = 0; i < layout->paddock_count; i++)
        printf("  %zu %.17g\n",
               layout->piece_ring[layout->paddock_piece[i] + 1] -
                   layout->piece_ring[layout->paddock_piece[i]],
               layout->paddock_m2[i]);
    for (size_t i = 0; i < layout->added_count; i++)
        printf("  %.17g %.17g\n", layout->added[i].point.x_m,
               layout->added[i].point.y_m);
}

static enum fw_status lay_out(const struct fw_field *field, double paddocks,
                              struct fw_error *err)
{
    struct fw_layout_list list = {0};
    const double target_m2 = field->area_m2 / paddocks;
    const struct fw_layout_request request = {
        .field = field,
        .target = &target_m2,
        .target_count = 1,
        .start = &field->vertices[field->corners[0]].plane,
        .directions = 36,
    };
    const enum fw_status status = fw_layout_candidates(&request, &list, err);
    for (size_t i = 0; i < list.count; i++)
        tell_layout(&list.items[i]);
    fw_layout_list_release(&list);
    return status;
}

static enum fw_status end_field(double paddocks, struct fw_error *err)
{
    char name[16];
    struct fw_field *field;
    snprintf(name, sizeof name, "Field %zu", farm->field_count + 1);
    enum fw_status status =
        fw_field_from_rings(points, ring_start, ring_count, name, &field, err);
    printf("field of %zu rings in %g\n", ring_count, paddocks);
    ring_count = 0;
    if (status)
        return status;
    status = add_field(field, err);
    return status ? status : lay_out(field, paddocks, err);
}

static enum fw_status end_farm(struct fw_error *err)
{
    struct fw_plan *plan = NULL;
    enum fw_status status = fw_plan_make(farm, &plan, err);
    if (plan)
        tell_plan(plan);
    fw_plan_free(plan);
    fw_farm_free(farm);
    begin_farm();
    return status;
}

static enum fw_status take(char *line, struct fw_error *err)
{
    enum fw_role role;
    char *space = strchr(line, ' ');
    if (strcmp(line, "plan\n") == 0)
        return end_farm(err);
    if (strncmp(line, "field ", 6) == 0)
        return end_field(strtod(space, NULL), err);
    if (*line >= 'a' && *line <= 'z' && space) {
        *space = '\0';
        const enum fw_status status = fw_safety_role_find(line, &role, err);
        return status ? status : add_feature(role, space + 1, err);
    }
    ring_start[ring_count + 1] =
        ring_start[ring_count] +
        read_points(line, points + ring_start[ring_count]);
    ring_count++;
    return FW_OK;
}

int main(void)
{
    static char line[65536];
    begin_farm();
    while (fgets(line, sizeof line, stdin)) {
        struct fw_error err = {.text = ""};
        if (take(line, &err))
            printf("refused: %s\n", err.text);
    }
    fw_farm_free(farm);
    return 0;
}
