/* Turning fences, lanes and wedges on fields of our own and on real ones: every
 * paddock is one piece that GEOS finds valid and holds its target; and what
 * turning fences save where the long sides are not parallel. */
#include "random_farm.h"

#include "crs/crs.h"
#include "geo/geo.h"
#include "io/io.h"
#include <foldwright/layout.h>

#include <geos_c.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static const double pi = 3.14159265358979323846;
enum { paddocks = 30 };

struct tally {
    size_t fields, laid, better;
    double ratio_sum, best, worst;
    double seconds;
};

struct side {
    double length_m, deg;
};

static struct side side_of(const struct fw_field *field, size_t corner)
{
    const size_t next = (corner + 1) % field->corner_count;
    const struct fw_point a = field->vertices[field->corners[corner]].plane;
    const struct fw_point b = field->vertices[field->corners[next]].plane;
    return (struct side){hypot(b.x_m - a.x_m, b.y_m - a.y_m),
                         atan2(b.y_m - a.y_m, b.x_m - a.x_m) * 180 / pi};
}

static double apart_deg(struct side a, struct side b)
{
    return fabs(remainder(a.deg - b.deg, 180));
}

/* The longest side, and the longest other one that runs along with it within
 * 45 degrees: do they differ by more than 10? */
static bool sides_differ(const struct fw_field *field)
{
    struct side first = {0, 0}, second = {0, 0};
    size_t longest = 0;
    for (size_t i = 0; i < field->corner_count; i++) {
        const struct side side = side_of(field, i);
        if (side.length_m > first.length_m) {
            first = side;
            longest = i;
        }
    }
    for (size_t i = 0; i < field->corner_count; i++) {
        const struct side side = side_of(field, i);
        if (i != longest && apart_deg(first, side) < 45 &&
            side.length_m > second.length_m)
            second = side;
    }
    return second.length_m > 0 && apart_deg(first, second) > 10;
}

static double least_m(const struct fw_layout_request *request)
{
    struct fw_layout_list list = {0};
    struct fw_error err;
    double line_m = (double)NAN;
    const enum fw_status status = fw_layout_candidates(request, &list, &err);
    if (status && status != FW_EPLAN)
        fail_msg("%s", err.text);
    for (size_t i = 0; i < list.count; i++) {
        const struct fw_layout *layout = &list.items[i];
        line_m = fmin(line_m, layout->line_m);
        for (size_t p = 0; p < paddocks; p++)
            if (!(fabs(layout->holds[p] / request->target[0] - 1) < 1e-9))
                fail_msg("%s: paddock %zu of %s holds %.17g of its target",
                         request->field->name, p, layout->name,
                         layout->holds[p] / request->target[0]);
        assert_int_equal(layout->broken_count, 0);
    }
    fw_layout_list_release(&list);
    return line_m;
}

static void try_field(const struct fw_field *field, struct tally *tally)
{
    if (field->area_m2 < 8e3 || field->area_m2 > 4e5 || !sides_differ(field))
        return;
    const double target = field->area_m2 / paddocks;
    struct fw_layout_request request = {.field = field,
                                        .target = &target,
                                        .target_count = 1,
                                        .pattern = "strips"};
    const double strips_m = least_m(&request);
    request.pattern = "turning";
    const clock_t start = clock();
    const double turning_m = least_m(&request);
    tally->seconds += (double)(clock() - start) / CLOCKS_PER_SEC;
    tally->fields++;
    if (isnan(strips_m) || isnan(turning_m))
        return;
    const double ratio = turning_m / strips_m;
    tally->laid++;
    tally->better += ratio < 1;
    tally->ratio_sum += ratio;
    tally->best = fmin(tally->best, ratio);
    tally->worst = fmax(tally->worst, ratio);
}

/* ---- all of them ---- */

struct judged {
    size_t fields, laid, layouts;
    double seconds;
};

static struct fw_point point_of(const struct fw_layout *layout,
                                const struct fw_field *field, size_t vertex)
{
    return vertex < layout->vertex_count
               ? field->vertices[vertex].plane
               : layout->added[vertex - layout->vertex_count].point;
}

static GEOSGeometry *ring_of(GEOSContextHandle_t geos,
                             const struct fw_layout *layout,
                             const struct fw_field *field, size_t ring)
{
    const size_t first = layout->ring_start[ring];
    const size_t count = layout->ring_start[ring + 1] - first;
    GEOSCoordSequence *line =
        GEOSCoordSeq_create_r(geos, (unsigned)count + 1, 2);
    for (size_t i = 0; i <= count; i++) {
        const struct fw_point p =
            point_of(layout, field, layout->ring_vertices[first + i % count]);
        GEOSCoordSeq_setXY_r(geos, line, (unsigned)i, p.x_m, p.y_m);
    }
    return GEOSGeom_createLinearRing_r(geos, line);
}

static void judge_piece(GEOSContextHandle_t geos,
                        const struct fw_layout *layout,
                        const struct fw_field *field, size_t piece)
{
    const size_t first = layout->piece_ring[piece];
    const size_t count = layout->piece_ring[piece + 1] - first;
    GEOSGeometry **holes = calloc(count, sizeof *holes);
    GEOSGeometry *outer = ring_of(geos, layout, field, first);
    for (size_t r = 1; r < count; r++)
        holes[r - 1] = ring_of(geos, layout, field, first + r);
    GEOSGeometry *polygon =
        GEOSGeom_createPolygon_r(geos, outer, holes, (unsigned)(count - 1));
    if (GEOSisValid_r(geos, polygon) != 1)
        fail_msg("%s: paddock %zu of %s is not valid", field->name, piece,
                 layout->name);
    double m2;
    GEOSArea_r(geos, polygon, &m2);
    if (!(fabs(m2 - layout->paddock_m2[piece]) < 1e-6))
        fail_msg("%s: paddock %zu of %s has %.9g m2; GEOS %.9g", field->name,
                 piece, layout->name, layout->paddock_m2[piece], m2);
    GEOSGeom_destroy_r(geos, polygon);
    free(holes);
}

static void judge(GEOSContextHandle_t geos, const struct fw_layout *layout,
                  const struct fw_field *field, double target)
{
    double sum_m2 = 0;
    for (size_t i = 0; i < layout->paddock_count + layout->common_count; i++) {
        sum_m2 += layout->paddock_m2[i];
        judge_piece(geos, layout, field, i);
        const double share = layout->even ? layout->share
                             : i + 1 < layout->paddock_count
                                 ? 1
                                 : layout->last_share;
        if (i < layout->paddock_count &&
            !(fabs(layout->holds[i] / target - share) < 1e-9))
            fail_msg("%s: paddock %zu of %s holds %.12g of its target",
                     field->name, i, layout->name, layout->holds[i] / target);
    }
    assert_true(!layout->even || layout->share <= 1.15 + 1e-9);
    if (!(fabs(sum_m2 / field->area_m2 - 1) < 1e-12))
        fail_msg("%s: %s adds up to %.17g m2 of %.17g", field->name,
                 layout->name, sum_m2, field->area_m2);
}

static void try_pattern(GEOSContextHandle_t geos, const struct fw_field *field,
                        const char *pattern, double paddock_count,
                        struct judged *judged)
{
    const double target = field->area_m2 / paddock_count;
    const struct fw_point middle = {0, 0};
    const struct fw_point corner = field->vertices[field->corners[0]].plane;
    const struct fw_layout_request request = {
        .field = field,
        .target = &target,
        .target_count = 1,
        .start = &corner,
        .pattern = pattern,
        .water = judged->fields % 2 ? &middle : &corner};
    struct fw_layout_list list = {0};
    struct fw_error err;
    const clock_t start = clock();
    const enum fw_status status = fw_layout_candidates(&request, &list, &err);
    judged->seconds += (double)(clock() - start) / CLOCKS_PER_SEC;
    judged->fields++;
    if (status && status != FW_EPLAN)
        fail_msg("%s", err.text);
    judged->laid += list.count > 0;
    judged->layouts += list.count;
    for (size_t i = 0; i < list.count; i++)
        judge(geos, &list.items[i], field, target);
    fw_layout_list_release(&list);
}

static const struct {
    const char *name;
    double paddocks;
} patterns[] = {{"turning", 17.6}, {"lane", 17.6}, {"wedges", 7.6}};

enum { pattern_count = sizeof patterns / sizeof *patterns };

struct all {
    struct tally tally;
    struct judged judged[pattern_count];
    GEOSContextHandle_t geos;
};

static void try_map(const char *data, const char *name, const char *layer,
                    struct all *all)
{
    char path[4096];
    struct fw_error err;
    struct fw_map *map;
    struct fw_crs *crs;
    snprintf(path, sizeof path, "%s/%s", data, name);
    const struct fw_map_request request = {.source = path, .layer = layer};
    if (fw_map_read(&request, &map, NULL, &err))
        fail_msg("%s", err.text);
    assert_int_equal(fw_crs_new(map->crs, &crs, &err), FW_OK);
    for (size_t i = 0; i < map->feature_count; i++) {
        struct fw_feature *feature = &map->features[i];
        struct fw_field *field;
        char label[32];
        snprintf(label, sizeof label, "%lld", feature->fid);
        if (feature->kind != FW_FEATURE_POLYGON ||
            fw_shape_repair(&feature->shape, label, NULL, &err) ||
            fw_field_new(&feature->shape, label, crs, &field, &err))
            continue;
        try_field(field, &all->tally);
        for (size_t p = 0; i % 4 == 0 && p < pattern_count; p++)
            try_pattern(all->geos, field, patterns[p].name,
                        patterns[p].paddocks, &all->judged[p]);
        fw_field_free(field);
    }
    fw_crs_free(crs);
    fw_map_free(map);
}

/* As many as that of each kind there are: one map of tests/data after the
 * other, then random ones. */
static void patterns_hold_on_fields_of_our_own(void **state)
{
    (void)state;
    struct all all = {.tally = {.best = 9}, .geos = GEOS_init_r()};
    uint64_t seed = seeded(57);
    for (size_t m = 0; m < own_maps; m++) {
        struct real_fields own = own_fields(m, &seed);
        for (size_t i = 0; i < own.count; i++) {
            try_field(own.fields[i], &all.tally);
            for (size_t p = 0; p < pattern_count; p++)
                try_pattern(all.geos, own.fields[i], patterns[p].name,
                            patterns[p].paddocks, &all.judged[p]);
        }
        release_fields(&own);
    }
    for (size_t p = 0; p < pattern_count; p++) {
        const struct judged *judged = &all.judged[p];
        print_message("# %s: %zu of %zu fields in %zu layouts\n",
                      patterns[p].name, judged->laid, judged->fields,
                      judged->layouts);
        assert_true(judged->laid > judged->fields / 4);
    }
    const double mean = all.tally.ratio_sum / (double)all.tally.laid;
    print_message("# turning: %zu fields, mean %.4f of the parallel strips' "
                  "line, %.3f to %.3f\n",
                  all.tally.laid, mean, all.tally.best, all.tally.worst);
    assert_true(all.tally.laid >= 5 && mean < 1);
    GEOS_finish_r(all.geos);
}

static void patterns_hold_on_real_fields_and_turning_saves_line(void **state)
{
    (void)state;
    const char *data = getenv("FW_TEST_DATA");
    const char *const maps[][2] = {{"parcels/nl_waterland2020.gpkg", NULL},
                                   {"osm/north-bayreuth.gpkg", "land"}};
    for (size_t i = 0; i < 2; i++) {
        struct all all = {.tally = {.best = 9}, .geos = GEOS_init_r()};
        try_map(data, maps[i][0], maps[i][1], &all);
        const struct tally *tally = &all.tally;
        for (size_t p = 0; p < pattern_count; p++)
            printf("# %s: %s: %zu of %zu fields in %zu layouts, %.2f ms each\n",
                   maps[i][0], patterns[p].name, all.judged[p].laid,
                   all.judged[p].fields, all.judged[p].layouts,
                   1e3 * all.judged[p].seconds / (double)all.judged[p].fields);
        assert_true(tally->laid > 20);
        const double mean = tally->ratio_sum / (double)tally->laid;
        printf("# %s: %zu fields, %zu laid out, %zu with less line; mean %.4f "
               "of the parallel strips' line, %.3f to %.3f, %.2f ms each\n",
               maps[i][0], tally->fields, tally->laid, tally->better, mean,
               tally->best, tally->worst,
               1e3 * tally->seconds / (double)tally->fields);
        assert_true(mean < 0.95);
        GEOS_finish_r(all.geos);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(patterns_hold_on_fields_of_our_own),
        data_test(patterns_hold_on_real_fields_and_turning_saves_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
