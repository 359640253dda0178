/* Layouts on unequal ground: every paddock holds its target by the sums of the
 * ground over its own rings, and by GEOS, which cuts every zone and every cell
 * with every paddock. */
#include "unit/ground_help.h"

#include "crs/crs.h"
#include "geo/geo.h"
#include "unit/layout_help.h"
#include <foldwright/layout.h>

enum { most_zones = 6 };

struct tally {
    size_t fields, none, layouts, led_in;
    double worst, worst_geos;
};

static struct fw_point vertex(const struct fw_field *field,
                              const struct fw_layout *layout, size_t v)
{
    return v < layout->vertex_count
               ? field->vertices[v].plane
               : layout->added[v - layout->vertex_count].point;
}

/* A paddock of a field without ponds: one ring. */
static size_t ring_of(const struct fw_field *field,
                      const struct fw_layout *layout, size_t paddock,
                      struct fw_point *out)
{
    const size_t ring = layout->piece_ring[layout->paddock_piece[paddock]];
    const size_t start = layout->ring_start[ring];
    const size_t count = layout->ring_start[ring + 1] - start;
    for (size_t i = 0; i < count; i++)
        out[i] = vertex(field, layout, layout->ring_vertices[start + i]);
    return count;
}

/* Anything that tells what a ring holds. */
struct judge {
    double (*mass)(const struct judge *judge, const struct fw_point *ring,
                   size_t count);
    const struct fw_field *field;
    const struct fw_herbage_zone *zones;
    size_t zone_count;
    const struct fw_grid *grid;
    double base;
};

static double zones_mass(const struct judge *judge, const struct fw_point *ring,
                         size_t count)
{
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSGeometry *left = judge_ring(geos, ring, count);
    double mass = 0, area = 0;
    for (size_t i = judge->zone_count; i > 0; i--) {
        GEOSGeometry *zone = judge_ring(geos, judge->zones[i - 1].points,
                                        judge->zones[i - 1].ring_start[1]);
        GEOSGeometry *less = GEOSDifference_r(geos, left, zone);
        mass += judge->zones[i - 1].kg_m2 * judged_area(geos, left, zone);
        GEOSGeom_destroy_r(geos, left);
        GEOSGeom_destroy_r(geos, zone);
        left = less;
    }
    GEOSArea_r(geos, left, &area);
    GEOSGeom_destroy_r(geos, left);
    GEOS_finish_r(geos);
    return mass + judge->base * area;
}

static double cells_mass(const struct judge *judge, const struct fw_point *ring,
                         size_t count)
{
    return judged_cells(judge->field, judge->grid, "OGC:CRS84", 1, judge->base,
                        ring, count);
}

static void judge_layout(const struct fw_layout_request *request,
                         const struct fw_layout *layout,
                         const struct judge *judge, double all,
                         struct tally *tally)
{
    static struct fw_point ring[4000];
    struct map_check check;
    double holds[400];
    if (!map_is_true(&check, request, layout, all, 1e-9)) {
        /* No order from the gate settles: they are led in. */
        struct fw_layout_request anywhere = *request;
        anywhere.start = NULL;
        if (!map_is_true(&check, &anywhere, layout, all, 1e-9))
            fail_msg("%s: %s", layout->name, check.why);
        tally->led_in++;
    }
    assert_true(layout->paddock_count <= 400);
    for (size_t p = 0; p < layout->paddock_count; p++) {
        const size_t count = ring_of(request->field, layout, p, ring);
        const size_t start[] = {0, count};
        const double target = map_target(request, p);
        assert_true(count <= COUNT(ring));
        holds[p] = fw_herbage_mass_kg(request->ground, ring, start, 1);
        const double by_geos = judge->mass(judge, ring, count);
        const double off = fabs(holds[p] - layout->holds[p]) / target;
        const double off_geos = fabs(by_geos - layout->holds[p]) / target;
        tally->worst = fmax(tally->worst, off);
        tally->worst_geos = fmax(tally->worst_geos, off_geos);
    }
    for (size_t p = 0; p < layout->common_count; p++)
        all -= layout->holds[layout->paddock_count + p];
    map_fits(&check, request->field, layout);
    check.request = request;
    if (!map_targets_are_met(&check, holds, all, 1e-9))
        fail_msg("%s, by its rings: %s", layout->name, check.why);
    map_check_release(&check);
    tally->layouts++;
}

static void lay_out(const struct fw_field *field,
                    const struct fw_herbage *ground, size_t paddocks, bool even,
                    const struct judge *judge, struct tally *tally)
{
    struct fw_point points[most_points];
    for (size_t i = 0; i < field->vertex_count; i++)
        points[i] = field->vertices[i].plane;
    const double all = fw_herbage_mass_kg(ground, points, field->ring_start,
                                          field->ring_count);
    /* every other one half as much again */
    double targets[400];
    for (size_t i = 0; i < COUNT(targets); i++)
        targets[i] = all / (double)paddocks * (i % 2 ? 1.2 : 0.8);
    const struct fw_layout_request request = {
        .field = field,
        .ground = ground,
        .target = targets,
        .target_count = COUNT(targets),
        .last = even ? FW_LAST_EVEN : FW_LAST_SHORT,
        .start = &field->vertices[0].plane};
    struct fw_layout_list list = {0};
    struct fw_error err = {0};
    const enum fw_status status = fw_layout_candidates(&request, &list, &err);
    tally->fields++;
    tally->none += status == FW_EPLAN;
    if (status && status != FW_EPLAN)
        fail_msg("%s", err.text);
    for (size_t i = 0; i < list.count; i++)
        judge_layout(&request, &list.items[i], judge, all, tally);
    fw_layout_list_release(&list);
}

static void tell(const struct tally *tally)
{
    printf("# %zu layouts of %zu fields, %zu without one, %zu led in: worst "
           "against the ground's sum %.1e, GEOS %.1e of a target\n",
           tally->layouts, tally->fields, tally->none, tally->led_in,
           tally->worst, tally->worst_geos);
    assert_true(tally->led_in <= tally->layouts / 40);
}

static void zones_are_shared_out_to_the_kilogram(void **state)
{
    (void)state;
    struct random random = seeded();
    struct tally tally = {0};
    for (size_t i = 0; i < 30; i++) {
        const struct star outer = star(&random, (struct fw_point){0, 0}, 300,
                                       5 + (size_t)draw(&random, 0, 40));
        struct fw_field *field = field_of(outer.points, outer.count);
        struct star stars[most_zones];
        struct fw_herbage_zone zones[most_zones];
        const size_t count = (size_t)draw(&random, 1, most_zones + 1);
        for (size_t z = 0; z < count; z++) {
            const struct fw_point at = {draw(&random, -200, 200),
                                        draw(&random, -200, 200)};
            stars[z] = star(&random, at, draw(&random, 20, 200),
                            3 + (size_t)draw(&random, 0, 20));
            zones[z] =
                (struct fw_herbage_zone){stars[z].points, stars[z].start, 1,
                                         z == 3 ? 0 : draw(&random, 0.01, 0.4)};
        }
        struct fw_herbage *ground = NULL;
        struct fw_error err = {0};
        const double base = draw(&random, 0.02, 0.3);
        if (fw_herbage_zones(field, base, zones, count, &ground, NULL, &err))
            fail_msg("%s", err.text);
        const struct judge judge = {.mass = zones_mass,
                                    .field = field,
                                    .zones = zones,
                                    .zone_count = count,
                                    .base = base};
        lay_out(field, ground, 2 + (size_t)draw(&random, 0, 30), i % 2, &judge,
                &tally);
        fw_herbage_free(ground);
        fw_field_free(field);
    }
    tell(&tally);
    assert_true(tally.layouts > 60 && tally.none < 6);
    assert_true(tally.worst <= 1e-9);
    assert_true(tally.worst_geos <= 1e-9);
}

/* Where nothing grows a line could stand anywhere: it still stands. */
static void bare_half_of_a_field_is_shared_out_too(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{0, 0}, {300, 0}, {300, 200}, {0, 200}};
    const struct fw_point bare[] = {
        {100, -50}, {200, -50}, {200, 250}, {100, 250}};
    const size_t start[] = {0, 4};
    const struct fw_herbage_zone zone = {bare, start, 1, 0};
    struct fw_field *field = field_of(ring, 4);
    struct fw_herbage *ground = NULL;
    struct tally tally = {0};
    assert_int_equal(
        fw_herbage_zones(field, 0.2, &zone, 1, &ground, NULL, NULL), FW_OK);
    const struct judge judge = {.mass = zones_mass,
                                .field = field,
                                .zones = &zone,
                                .zone_count = 1,
                                .base = 0.2};
    for (size_t n = 2; n < 20; n++)
        lay_out(field, ground, n, n % 2, &judge, &tally);
    tell(&tally);
    assert_int_equal(tally.none, 0);
    assert_true(tally.worst_geos <= 1e-9);
    fw_herbage_free(ground);
    fw_field_free(field);
}

/* ---- cells ---- */

/* Cells of some 20 m about 9 degrees east, 51 north, every tenth of them
 * without data. */
static struct fw_grid draw_grid(struct random *random)
{
    struct fw_grid grid = {
        .affine = {8.994, 0.0003, 0.00001, 51.0045, 0.00001, -0.0002},
        .columns = 42,
        .rows = 46};
    grid.values = fw_alloc(grid.columns * grid.rows, sizeof *grid.values);
    assert_non_null(grid.values);
    for (size_t i = 0; i < grid.columns * grid.rows; i++)
        grid.values[i] =
            draw(random, 0, 1) < 0.1 ? (double)NAN : draw(random, 0.02, 0.4);
    return grid;
}

static void cells_are_shared_out_within_a_millionth(void **state)
{
    (void)state;
    struct random random = seeded();
    struct tally tally = {0};
    struct fw_crs *crs = open_crs("OGC:CRS84");
    for (size_t i = 0; i < 6; i++) {
        const struct star outer = star(&random, (struct fw_point){0, 0}, 250,
                                       5 + (size_t)draw(&random, 0, 30));
        struct fw_field *field = field_of(outer.points, outer.count);
        struct fw_grid grid = draw_grid(&random);
        struct fw_raster *raster = NULL;
        struct fw_herbage *ground = NULL;
        struct fw_error err = {0};
        if (fw_raster_new(&grid, crs, &field->plane, &raster, &err) ||
            fw_herbage_cells(field, 0.15, raster, &ground, NULL, &err))
            fail_msg("%s", err.text);
        const struct judge judge = {
            .mass = cells_mass, .field = field, .grid = &grid, .base = 0.15};
        lay_out(field, ground, 5 + (size_t)draw(&random, 0, 12), i % 2, &judge,
                &tally);
        fw_herbage_free(ground);
        fw_grid_release(&grid);
        fw_field_free(field);
    }
    fw_crs_free(crs);
    tell(&tally);
    assert_true(tally.layouts > 10);
    assert_true(tally.worst <= 1e-9);
    assert_true(tally.worst_geos <= 1e-6);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(zones_are_shared_out_to_the_kilogram),
        cmocka_unit_test(bare_half_of_a_field_is_shared_out_too),
        cmocka_unit_test(cells_are_shared_out_within_a_millionth),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
