/* What runs over the 180th meridian comes apart there: RFC 7946, 3.1.9. */
#include "geo_help.h"

#include <geos_c.h>

static GEOSGeometry *polygon(GEOSContextHandle_t geos,
                             const struct fw_areas *areas, size_t piece)
{
    GEOSGeometry *rings[8];
    size_t count = 0;
    for (size_t r = areas->piece_ring[piece]; r < areas->piece_ring[piece + 1];
         r++) {
        const size_t first = areas->ring_start[r];
        const size_t size = areas->ring_start[r + 1] - first;
        GEOSCoordSequence *line =
            GEOSCoordSeq_create_r(geos, (unsigned)size + 1, 2);
        for (size_t i = 0; i <= size; i++)
            GEOSCoordSeq_setXY_r(geos, line, (unsigned)i,
                                 areas->points[first + i % size].x,
                                 areas->points[first + i % size].y);
        rings[count++] = GEOSGeom_createLinearRing_r(geos, line);
    }
    return GEOSGeom_createPolygon_r(geos, rings[0], rings + 1,
                                    (unsigned)count - 1);
}

/* Of valid pieces within -180 and 180, outer rings anticlockwise; in square
 * degrees. */
static double area_of(const struct fw_areas *areas)
{
    double sum = 0;
    GEOSContextHandle_t geos = GEOS_init_r();
    for (size_t i = 0; i < areas->piece_count; i++) {
        double area = 0;
        char ccw = 0;
        GEOSGeometry *piece = polygon(geos, areas, i);
        assert_int_equal(GEOSisValid_r(geos, piece), 1);
        GEOSCoordSeq_isCCW_r(
            geos,
            GEOSGeom_getCoordSeq_r(geos, GEOSGetExteriorRing_r(geos, piece)),
            &ccw);
        assert_int_equal(ccw, 1);
        GEOSArea_r(geos, piece, &area);
        GEOSGeom_destroy_r(geos, piece);
        sum += area;
    }
    GEOS_finish_r(geos);
    for (size_t i = 0; i < areas->ring_start[areas->ring_count]; i++)
        assert_true(fabs(areas->points[i].x) <= 180);
    return sum;
}

static struct fw_areas cut(const struct fw_xy *points, const size_t *start,
                           size_t rings)
{
    size_t pieces[] = {0, rings};
    const struct fw_areas from = {(struct fw_xy *)points, (size_t *)start,
                                  rings, pieces, 1};
    struct fw_areas areas;
    assert_int_equal(fw_geo_cut_areas(&from, &areas, NULL), FW_OK);
    return areas;
}

static void a_square_over_the_meridian_becomes_two(void **state)
{
    (void)state;
    const size_t start[] = {0, 4};
    const struct fw_xy rows[][4] = {
        {{179.9, -17}, {-179.8, -17}, {-179.8, -16.9}, {179.9, -16.9}},
        {{179.9, -17}, {180.2, -17}, {180.2, -16.9}, {179.9, -16.9}},
        {{-179.8, -16.9}, {-180.1, -16.9}, {-180.1, -17}, {-179.8, -17}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct fw_areas areas = cut(rows[i], start, 1);
        assert_int_equal(areas.piece_count, 2);
        assert_near(area_of(&areas), 0.03, 1e-12);
        fw_areas_release(&areas);
    }
}

static void what_lies_on_one_side_stays_one_piece(void **state)
{
    (void)state;
    const size_t start[] = {0, 4};
    const struct fw_xy rows[][4] = {
        {{9, 51}, {9.1, 51}, {9.1, 51.1}, {9, 51.1}},
        {{179.9, 51}, {180, 51}, {180, 51.1}, {179.9, 51.1}},
        {{180, 51}, {180.1, 51}, {180.1, 51.1}, {180, 51.1}},
        {{180, 51}, {-179.9, 51}, {-179.9, 51.1}, {180, 51.1}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct fw_areas areas = cut(rows[i], start, 1);
        assert_int_equal(areas.piece_count, 1);
        assert_int_equal(areas.ring_count, 1);
        assert_near(area_of(&areas), 0.01, 1e-12);
        fw_areas_release(&areas);
    }
}

/* A comb of three teeth that reach over it, and a pond in its back. */
static void a_comb_with_a_pond_comes_apart_into_its_teeth(void **state)
{
    (void)state;
    const struct fw_xy points[] = {
        {179, 0},   {-179, 0},  {-179, 1},  {179.9, 1}, {179.9, 2}, {-179, 2},
        {-179, 3},  {179.9, 3}, {179.9, 4}, {-179, 4},  {-179, 5},  {179, 5},
        {179.2, 2}, {179.2, 3}, {179.4, 3}, {179.4, 2}};
    const size_t start[] = {0, 12, 16};
    struct fw_areas areas = cut(points, start, 2);
    assert_int_equal(areas.piece_count, 4);
    assert_int_equal(areas.ring_count, 5);
    assert_near(area_of(&areas), 0.9 * 5 + 3 * 1.1 - 0.2, 1e-12);
    fw_areas_release(&areas);
}

static void a_pond_on_the_meridian_is_cut_as_well(void **state)
{
    (void)state;
    const struct fw_xy points[] = {{179, 0},      {-179, 0},    {-179, 1},
                                   {179, 1},      {179.5, 0.2}, {179.5, 0.8},
                                   {-179.5, 0.8}, {-179.5, 0.2}};
    const size_t start[] = {0, 4, 8};
    struct fw_areas areas = cut(points, start, 2);
    assert_int_equal(areas.piece_count, 2);
    assert_near(area_of(&areas), 2 - 0.6, 1e-12);
    fw_areas_release(&areas);
}

static void random_areas_keep_their_area(void **state)
{
    (void)state;
    struct random random = {7};
    for (int round = 0; round < 200; round++) {
        struct fw_xy points[20];
        const size_t start[] = {0, 20};
        double twice = 0;
        double x[20], y[20];
        const double middle = draw(&random, 179.95, 180.05);
        for (int i = 0; i < 20; i++) {
            const double away = draw(&random, 0.02, 0.1);
            x[i] = middle + away * cos(2 * PI * i / 20);
            y[i] = 65 + away * sin(2 * PI * i / 20);
            points[i] = (struct fw_xy){x[i] > 180 ? x[i] - 360 : x[i], y[i]};
        }
        for (int i = 0; i < 20; i++) {
            const int k = (i + 1) % 20;
            twice += (x[i] - 180) * (y[k] - 65) - (x[k] - 180) * (y[i] - 65);
        }
        struct fw_areas areas = cut(points, start, 1);
        assert_near(area_of(&areas), twice / 2, 1e-12);
        fw_areas_release(&areas);
    }
}

static void a_line_is_cut_where_it_crosses(void **state)
{
    (void)state;
    const struct fw_xy points[] = {
        {179.9, 10}, {-179.9, 12}, {-179.8, 12}, {179.8, 16}};
    struct fw_areas lines;
    assert_int_equal(fw_geo_cut_line(points, 4, &lines, NULL), FW_OK);
    const struct fw_xy wanted[] = {{179.9, 10},  {180, 11},    {-180, 11},
                                   {-179.9, 12}, {-179.8, 12}, {-180, 14},
                                   {180, 14},    {179.8, 16}};
    const size_t start[] = {0, 2, 6, 8};
    assert_int_equal(lines.ring_count, 3);
    for (size_t r = 0; r <= 3; r++)
        assert_int_equal(lines.ring_start[r], start[r]);
    for (size_t i = 0; i < 8; i++) {
        assert_near(lines.points[i].x, wanted[i].x, 1e-9);
        assert_near(lines.points[i].y, wanted[i].y, 1e-9);
    }
    fw_areas_release(&lines);
}

static void a_line_that_touches_the_meridian_has_no_empty_part(void **state)
{
    (void)state;
    static const struct {
        struct fw_xy points[3];
        size_t parts;
    } rows[] = {
        {{{180, 1}, {-179.9, 1}, {-179.8, 1}}, 1},
        {{{-180, 1}, {179.9, 1}, {179.8, 1}}, 1},
        {{{179.9, 1}, {-180, 1}, {179.8, 2}}, 1},
        {{{179.9, 1}, {180, 1}, {-179.9, 1}}, 2},
        {{{179.9, 1}, {179.8, 1}, {-180, 1}}, 1},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct fw_areas lines;
        assert_int_equal(fw_geo_cut_line(rows[i].points, 3, &lines, NULL),
                         FW_OK);
        assert_int_equal(lines.ring_count, rows[i].parts);
        for (size_t r = 0; r < lines.ring_count; r++) {
            const size_t first = lines.ring_start[r];
            assert_true(lines.ring_start[r + 1] - first >= 2);
            for (size_t k = first + 1; k < lines.ring_start[r + 1]; k++)
                assert_true(fabs(lines.points[k].x - lines.points[k - 1].x) <
                            1);
        }
        fw_areas_release(&lines);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_square_over_the_meridian_becomes_two),
        cmocka_unit_test(what_lies_on_one_side_stays_one_piece),
        cmocka_unit_test(a_comb_with_a_pond_comes_apart_into_its_teeth),
        cmocka_unit_test(a_pond_on_the_meridian_is_cut_as_well),
        cmocka_unit_test(random_areas_keep_their_area),
        cmocka_unit_test(a_line_is_cut_where_it_crosses),
        cmocka_unit_test(a_line_that_touches_the_meridian_has_no_empty_part),
    };
    return cmocka_run_group_tests_name("geo_meridian", tests, NULL, NULL);
}
