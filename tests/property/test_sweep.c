/* The sweep on random fields, with GEOS as the slow judge: every paddock is
 * valid, covers what the field and its strip have in common, and falls into as
 * many parts. FW_SEED chooses other fields, FW_FIELDS how many. */
#include "unit/test.h"

#include "geo/geo.h"

#include <geos_c.h>
#include <stdbool.h>
#include <stdlib.h>

enum { most_vertices = 400, most_ponds = 4, most_paddocks = 60 };

static const double pi = 3.14159265358979323846;

struct map {
    struct fw_point points[most_vertices];
    size_t ring_start[most_ponds + 2];
    size_t ring_count;
    double deg;
    size_t paddocks;
};

/* xorshift64*, so that the fields are the same everywhere. */
static double draw(uint64_t *seed)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return (double)((*seed * 2685821657736338717u) >> 11) / 9007199254740992.0;
}

static size_t draw_count(uint64_t *seed, size_t least, size_t most)
{
    return least + (size_t)(draw(seed) * (double)(most - least + 1));
}

/* A ring about a centre; its corners lie on a grid of 10 m in one field out of
 * four, so that many abscissae are the same. */
static void add_star(struct map *map, uint64_t *seed, struct fw_point centre,
                     double radius_m, double jitter, size_t count, bool hole,
                     double grid_m)
{
    const size_t start = map->ring_start[map->ring_count];
    const double phase = 2 * pi * draw(seed), lobes = 2 + floor(4 * draw(seed));
    for (size_t i = 0; i < count; i++) {
        const double angle = 2 * pi * (double)i / (double)count;
        const double r = radius_m * (1 + 0.3 * cos(lobes * angle + phase)) *
                         (1 - jitter * draw(seed));
        struct fw_point p = {centre.x_m + r * cos(angle),
                             centre.y_m + r * sin(angle)};
        if (grid_m > 0) {
            p.x_m = rint(p.x_m / grid_m) * grid_m;
            p.y_m = rint(p.y_m / grid_m) * grid_m;
        }
        map->points[start + (hole ? count - 1 - i : i)] = p;
    }
    map->ring_start[++map->ring_count] = start + count;
}

static void draw_map(struct map *map, uint64_t *seed)
{
    static const double special[] = {0, 45, 90, 180, 270};
    const double grid_m = draw(seed) < 0.25 ? 10 : 0;
    *map = (struct map){.paddocks = draw_count(seed, 1, most_paddocks)};
    map->deg =
        draw(seed) < 0.3 ? special[draw_count(seed, 0, 4)] : 360 * draw(seed);
    add_star(map, seed, (struct fw_point){0, 0}, 100 + 400 * draw(seed),
             0.5 * draw(seed), draw_count(seed, 5, 250), false, grid_m);
    const size_t ponds = draw_count(seed, 0, most_ponds);
    for (size_t i = 0; i < ponds; i++) {
        const double angle = 2 * pi * ((double)i + 0.3 * draw(seed)) / 4;
        const double r = 40 + 40 * draw(seed);
        add_star(map, seed, (struct fw_point){r * cos(angle), r * sin(angle)},
                 4 + 20 * draw(seed), 0.3, draw_count(seed, 3, 20), true,
                 grid_m);
    }
}

/* ---- GEOS ---- */

static GEOSGeometry *geos_ring(GEOSContextHandle_t geos,
                               const struct fw_point *points, size_t count)
{
    GEOSCoordSequence *line =
        GEOSCoordSeq_create_r(geos, (unsigned)count + 1, 2);
    for (size_t i = 0; i <= count; i++)
        GEOSCoordSeq_setXY_r(geos, line, (unsigned)i, points[i % count].x_m,
                             points[i % count].y_m);
    return GEOSGeom_createLinearRing_r(geos, line);
}

static GEOSGeometry *geos_field(GEOSContextHandle_t geos, const struct map *map)
{
    GEOSGeometry *rings[most_ponds + 1];
    for (size_t r = 0; r < map->ring_count; r++)
        rings[r] = geos_ring(geos, map->points + map->ring_start[r],
                             map->ring_start[r + 1] - map->ring_start[r]);
    return GEOSGeom_createPolygon_r(geos, rings[0], rings + 1,
                                    (unsigned)map->ring_count - 1);
}

static GEOSGeometry *geos_piece(GEOSContextHandle_t geos,
                                const struct fw_sweep *sweep,
                                const struct fw_partition *out, size_t piece)
{
    static struct fw_point points[2 * most_vertices + 8 * most_paddocks];
    GEOSGeometry *rings[most_ponds + most_vertices];
    unsigned count = 0;
    for (size_t r = out->piece_ring[piece]; r < out->piece_ring[piece + 1];
         r++) {
        const size_t start = out->ring_start[r];
        const size_t n = out->ring_start[r + 1] - start;
        for (size_t i = 0; i < n; i++)
            points[i] =
                fw_sweep_point(sweep, out, out->ring_vertices[start + i]);
        rings[count++] = geos_ring(geos, points, n);
    }
    return GEOSGeom_createPolygon_r(geos, rings[0], rings + 1, count - 1);
}

static GEOSGeometry *geos_paddock(GEOSContextHandle_t geos,
                                  const struct fw_sweep *sweep,
                                  const struct fw_partition *out, size_t k)
{
    GEOSGeometry *pieces[most_vertices];
    unsigned count = 0;
    for (size_t p = out->paddock_piece[k]; p < out->paddock_piece[k + 1]; p++)
        pieces[count++] = geos_piece(geos, sweep, out, p);
    return GEOSGeom_createCollection_r(geos, GEOS_MULTIPOLYGON, pieces, count);
}

/* What lies between two positions of the line, far out to both sides. */
static GEOSGeometry *geos_strip(GEOSContextHandle_t geos, double deg,
                                double from_m, double to_m)
{
    const double c = cos(deg * pi / 180), s = sin(deg * pi / 180);
    const double u[] = {from_m, to_m, to_m, from_m};
    const double v[] = {-2000, -2000, 2000, 2000};
    struct fw_point corner[4];
    for (size_t i = 0; i < 4; i++)
        corner[i] = (struct fw_point){u[i] * c - v[i] * s, u[i] * s + v[i] * c};
    return GEOSGeom_createPolygon_r(geos, geos_ring(geos, corner, 4), NULL, 0);
}

/* Parts with an area to speak of: rounding in the judge leaves crumbs. */
static int count_parts(GEOSContextHandle_t geos, const GEOSGeometry *geometry)
{
    int parts = 0;
    const int n = GEOSGetNumGeometries_r(geos, geometry);
    for (int i = 0; i < n; i++) {
        double m2 = 0;
        GEOSArea_r(geos, GEOSGetGeometryN_r(geos, geometry, i), &m2);
        parts += m2 > 1e-8;
    }
    return parts;
}

static double geos_area(GEOSContextHandle_t geos, const GEOSGeometry *geometry)
{
    double m2 = -1;
    assert_int_equal(GEOSArea_r(geos, geometry, &m2), 1);
    return m2;
}

static void judge(GEOSContextHandle_t geos, const GEOSGeometry *field,
                  const struct fw_sweep *sweep, const struct fw_partition *out,
                  const struct map *map, size_t k, const double *position,
                  size_t number)
{
    GEOSGeometry *ours = geos_paddock(geos, sweep, out, k);
    GEOSGeometry *strip =
        geos_strip(geos, map->deg, k ? position[k - 1] : -2000,
                   k + 1 < map->paddocks ? position[k] : 2000);
    GEOSGeometry *theirs = GEOSIntersection_r(geos, field, strip);
    /* On a grid: without one, GEOS 3.11 can find two polygons that agree to
     * the last digits to have nothing in common. */
    const double grid_m = 1e-6;
    GEOSGeometry *apart = GEOSSymDifferencePrec_r(geos, ours, theirs, grid_m);
    double around_m = 0;
    GEOSLength_r(geos, ours, &around_m);
    if (GEOSisValid_r(geos, ours) != 1)
        fail_msg("field %zu, paddock %zu: %s", number, k,
                 GEOSisValidReason_r(geos, ours));
    const double m2 = geos_area(geos, theirs);
    if (!(fabs(out->paddock_m2[k] - m2) <= 1e-9 * m2))
        fail_msg("field %zu, paddock %zu: %.12g m2, by GEOS %.12g", number, k,
                 out->paddock_m2[k], m2);
    if (!(geos_area(geos, apart) <= grid_m * around_m))
        fail_msg("field %zu, paddock %zu: %g m2 of %g lie elsewhere", number, k,
                 geos_area(geos, apart), m2);
    if (count_parts(geos, ours) != count_parts(geos, theirs))
        fail_msg("field %zu, paddock %zu: %d parts, by GEOS %d", number, k,
                 count_parts(geos, ours), count_parts(geos, theirs));
    GEOSGeom_destroy_r(geos, apart);
    GEOSGeom_destroy_r(geos, theirs);
    GEOSGeom_destroy_r(geos, strip);
    GEOSGeom_destroy_r(geos, ours);
}

/* Both neighbours of a fence have its ends, so that nothing gapes. */
static void fences_join_their_neighbours(const struct fw_partition *out)
{
    static unsigned char met[most_vertices * (most_paddocks + 2)];
    for (size_t k = 0; k < out->cut_count; k++)
        for (size_t side = 0; side < 2; side++) {
            const size_t first = out->piece_ring[out->paddock_piece[k + side]];
            const size_t end =
                out->piece_ring[out->paddock_piece[k + side + 1]];
            for (size_t i = 2 * out->cut_start[k];
                 i < 2 * out->cut_start[k + 1]; i++)
                met[out->segments[i]] = 0;
            for (size_t i = out->ring_start[first]; i < out->ring_start[end];
                 i++)
                met[out->ring_vertices[i]] = 1;
            for (size_t i = 2 * out->cut_start[k];
                 i < 2 * out->cut_start[k + 1]; i++)
                assert_int_equal(met[out->segments[i]], 1);
        }
}

static bool try_map(GEOSContextHandle_t geos, const struct map *map,
                    size_t number)
{
    GEOSGeometry *field = geos_field(geos, map);
    const bool valid = GEOSisValid_r(geos, field) == 1;
    if (valid) {
        double position[most_paddocks], length[most_paddocks];
        double behind[most_paddocks];
        struct fw_sweep *sweep;
        struct fw_partition out = {0};
        assert_int_equal(fw_sweep_new(map->points, map->ring_start,
                                      map->ring_count, &sweep, NULL),
                         FW_OK);
        fw_sweep_turn(sweep, map->deg);
        const double area = geos_area(geos, field);
        const size_t n = map->paddocks;
        assert_relative(fw_sweep_area_m2(sweep), area, 1e-12);
        for (size_t k = 0; k + 1 < n; k++)
            behind[k] = area * (double)(k + 1) / (double)n;
        fw_sweep_cut(sweep, behind, n - 1, position, length);
        assert_int_equal(fw_sweep_build(sweep, position, n - 1, &out, NULL),
                         FW_OK);
        double sum = 0;
        for (size_t k = 0; k < n; k++) {
            assert_relative(out.paddock_m2[k], area / (double)n, 1e-9);
            sum += out.paddock_m2[k];
            judge(geos, field, sweep, &out, map, k, position, number);
        }
        assert_relative(sum, area, 1e-12);
        fences_join_their_neighbours(&out);
        fw_partition_release(&out);
        fw_sweep_free(sweep);
    }
    GEOSGeom_destroy_r(geos, field);
    return valid;
}

static void random_fields_agree_with_geos(void **state)
{
    (void)state;
    const char *given = getenv("FW_SEED"), *wanted = getenv("FW_FIELDS");
    uint64_t seed = given ? strtoull(given, NULL, 10) : 20260504;
    const size_t usual = getenv("FW_THOROUGH") ? 1000 : 250;
    const size_t fields = wanted ? strtoul(wanted, NULL, 10) : usual;
    printf("# FW_SEED=%llu\n", (unsigned long long)seed);
    seed = seed * 2654435761u + 1;
    GEOSContextHandle_t geos = GEOS_init_r();
    size_t valid = 0, tried = 0;
    while (valid < fields && tried < 20 * fields) {
        struct map map;
        draw_map(&map, &seed);
        valid += try_map(geos, &map, tried);
        tried++;
    }
    printf("# %zu fields of %zu drawn\n", valid, tried);
    assert_int_equal(valid, fields);
    GEOS_finish_r(geos);
}

/* Rings that cross and touch themselves and each other on a coarse grid: there
 * is no right answer, but there is one, with every index in range and every
 * ring closed by at least three vertices. */
static void any_rings_come_to_an_end(void **state)
{
    (void)state;
    uint64_t seed = 77;
    struct fw_partition out = {0};
    for (size_t i = 0; i < 3000; i++) {
        struct map map = {0};
        const size_t rings = draw_count(&seed, 1, most_ponds + 1);
        for (size_t r = 0; r < rings; r++) {
            const size_t start = map.ring_start[r];
            const size_t n = draw_count(&seed, 3, 40);
            const double size = floor(2 + 8 * draw(&seed));
            for (size_t v = start; v < start + n; v++)
                map.points[v] = (struct fw_point){floor(size * draw(&seed)),
                                                  floor(size * draw(&seed))};
            map.ring_start[++map.ring_count] = start + n;
        }
        struct fw_sweep *sweep;
        assert_int_equal(fw_sweep_new(map.points, map.ring_start,
                                      map.ring_count, &sweep, NULL),
                         FW_OK);
        fw_sweep_turn(sweep, 45 * floor(8 * draw(&seed)));
        double position[12], behind[12], length[12];
        for (size_t k = 0; k < 12; k++) {
            position[k] = -8 + 2 * (double)k;
            behind[k] = fw_sweep_area_m2(sweep) * (double)(k + 1) / 13;
        }
        for (int by_area = 0; by_area < 2; by_area++) {
            if (by_area)
                fw_sweep_cut(sweep, behind, 12, position, length);
            assert_int_equal(fw_sweep_build(sweep, position, 12, &out, NULL),
                             FW_OK);
            assert_int_equal(out.paddock_count, 13);
            assert_int_equal(out.paddock_piece[13], out.piece_count);
            assert_int_equal(out.piece_ring[out.piece_count], out.ring_count);
            for (size_t r = 0; r < out.ring_count; r++)
                assert_true(out.ring_start[r + 1] >= out.ring_start[r] + 3);
            for (size_t v = 0; v < out.ring_vertex_count; v++)
                assert_true(out.ring_vertices[v] <
                            out.vertex_count + out.added_count);
        }
        fw_sweep_free(sweep);
    }
    fw_partition_release(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(random_fields_agree_with_geos),
        cmocka_unit_test(any_rings_come_to_an_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
