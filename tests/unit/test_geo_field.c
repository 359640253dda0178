/* Fields: corners, edges, sizes, places. */
#include "geo/inner.h"
#include "geo_help.h"

#include <geodesic.h>
#include <stdbool.h>

static struct fw_field *field_in(struct fw_crs *crs, struct fw_shape shape)
{
    struct fw_error err = {.text = ""};
    struct fw_field *field = NULL;
    if (!fw_shape_repair(&shape, "hill", NULL, &err))
        fw_field_new(&shape, "hill", crs, &field, &err);
    fw_shape_release(&shape);
    if (!field) {
        fail_msg("refused: %s", err.text);
        abort(); /* not reached, but only a reader of cmocka knows */
    }
    return field;
}

static struct fw_field *field_of(const char *definition, struct fw_shape shape)
{
    struct fw_crs *crs = open_crs(definition);
    struct fw_field *field = field_in(crs, shape);
    fw_crs_free(crs);
    return field;
}

/* The ring from any start, either way, has these corners in this order. */
static void assert_corners(const char *definition, const struct fw_xy *ring,
                           size_t count, const struct fw_xy *wanted,
                           size_t wanted_count)
{
    struct fw_crs *crs = open_crs(definition);
    struct fw_xy *turned = fw_alloc(count, sizeof *turned);
    for (size_t start = 0; start < 2 * count; start++) {
        for (size_t i = 0; i < count; i++)
            turned[i] = start < count ? ring[(start + i) % count]
                                      : ring[(2 * start - i) % count];
        struct fw_field *field = field_in(crs, shape_of(turned, count, 0, 0));
        assert_int_equal(field->corner_count, wanted_count);
        for (size_t i = 0; i < wanted_count; i++) {
            const struct fw_vertex *at = &field->vertices[field->corners[i]];
            assert_int_equal(at->kind, FW_VERTEX_INPUT);
            assert_memory_equal(&at->file, &wanted[i], sizeof at->file);
        }
        fw_field_free(field);
    }
    fw_free(turned);
    fw_crs_free(crs);
}

static void corners_run_clockwise_from_the_northernmost(void **state)
{
    (void)state;
    const struct fw_xy box[] = {{500000, 5500000},
                                {500300, 5500000},
                                {500300, 5500200},
                                {500000, 5500200}};
    const struct fw_xy box_corners[] = {box[3], box[2], box[1], box[0]};
    assert_corners("EPSG:25832", box, 4, box_corners, 4);

    const struct fw_xy triangle[] = {
        {500000, 5500000}, {500300, 5500020}, {500100, 5500200}};
    const struct fw_xy triangle_corners[] = {triangle[2], triangle[1],
                                             triangle[0]};
    assert_corners("EPSG:25832", triangle, 3, triangle_corners, 3);

    const struct fw_xy l[] = {{500000, 5500000}, {500200, 5500000},
                              {500200, 5500050}, {500050, 5500050},
                              {500050, 5500200}, {500000, 5500200}};
    const struct fw_xy l_corners[] = {l[5], l[4], l[3], l[2], l[1], l[0]};
    assert_corners("EPSG:25832", l, 6, l_corners, 6);

    const struct fw_xy degrees[] = {
        {9, 52}, {9.004, 52}, {9.004, 52.002}, {9, 52.002}};
    const struct fw_xy degree_corners[] = {degrees[3], degrees[2], degrees[1],
                                           degrees[0]};
    assert_corners("EPSG:4326", degrees, 4, degree_corners, 4);
}

static void small_bends_are_no_corners(void **state)
{
    (void)state;
    const struct fw_xy ring[] = {{500000, 5500000},   {500100, 5500000.3},
                                 {500200, 5499999.8}, {500300, 5500000},
                                 {500300.2, 5500100}, {500300, 5500200},
                                 {500150, 5500201},   {500000, 5500200}};
    const struct fw_xy wanted[] = {ring[7], ring[5], ring[3], ring[0]};
    assert_corners("EPSG:25832", ring, 8, wanted, 4);
}

static void narrow_strip_keeps_four_corners(void **state)
{
    (void)state;
    const struct fw_xy strip[] = {{500000, 5500000},
                                  {501000, 5500000},
                                  {501000, 5500008},
                                  {500500, 5500008.2},
                                  {500000, 5500008}};
    const struct fw_xy wanted[] = {strip[4], strip[2], strip[1], strip[0]};
    assert_corners("EPSG:25832", strip, 5, wanted, 4);
}

static void corners_of_a_comb_come_soon(void **state)
{
    (void)state;
    enum { teeth = 20000, points = 2 * teeth + 2 };
    struct fw_xy *ring = fw_alloc(points, sizeof *ring);
    for (int i = 0; i < 2 * teeth; i++)
        ring[i] = (struct fw_xy){500000 + 0.1 * i, 5500000 + (i % 2 ? 100 : 0)};
    ring[points - 2] = (struct fw_xy){500000 + 0.2 * teeth, 5500200};
    ring[points - 1] = (struct fw_xy){500000, 5500200};
    struct fw_field *field =
        field_of("EPSG:25832", shape_of(ring, points, 0, 0));
    assert_true(field->corner_count > teeth);
    fw_field_free(field);
    fw_free(ring);
}

/* Authalic function on the unit ellipsoid, straight from its definition. */
static double authalic_q(double lat_deg)
{
    const double f = 1 / 298.257223563;
    const double e2 = f * (2 - f), e = sqrt(e2);
    const double s = sin(lat_deg * PI / 180);
    return (1 - e2) * (s / (1 - e2 * s * s) + atanh(e * s) / e);
}

/* Between two meridians and two parallels the area is known in closed form.
 * What remains is the millimetre that the parallels may bow. */
static void box_of_degrees_has_the_area_of_its_zone(void **state)
{
    (void)state;
    const double lats[] = {0, 20, -35, 52, 65, -80, 88};
    const double a = 6378137;
    for (size_t i = 0; i < COUNT(lats); i++) {
        const double low = lats[i], high = lats[i] + 0.03;
        const double wide = 0.04 / cos(low * PI / 180);
        const struct fw_xy box[] = {
            {9, low}, {9 + wide, low}, {9 + wide, high}, {9, high}};
        struct fw_field *field = field_of("EPSG:4326", RING(box));
        const double zone =
            a * a / 2 * wide * PI / 180 * (authalic_q(high) - authalic_q(low));
        assert_near(field->area_m2, zone, 0.001 * 2 * 5000);
        assert_relative(field->ellipsoid_m2, field->area_m2, 1e-7);
        fw_field_free(field);
    }
}

/* Distance of a point from the outer ring, bow vertices included. */
static double from_boundary(const struct fw_field *field, struct fw_point p)
{
    double least = HUGE_VAL;
    size_t before = field->ring_start[1] - 1;
    for (size_t i = 0; i < field->ring_start[1]; before = i++)
        least =
            fmin(least, fw_segment_distance_m(p, field->vertices[before].plane,
                                              field->vertices[i].plane));
    return least;
}

static void edge_straight_in_its_file_bows_under_a_millimetre(void **state)
{
    (void)state;
    const char *const systems[] = {"EPSG:4326", "EPSG:3857", "EPSG:25832",
                                   "EPSG:28992", "EPSG:4326"};
    const struct fw_xy starts[] = {{5, 60},
                                   {600000, 6900000},
                                   {830000, 5700000},
                                   {120000, 480000},
                                   {12, -0.03}};
    const double sizes[] = {0.06, 9000, 7000, 7000, 0.06};
    for (size_t s = 0; s < COUNT(systems); s++) {
        const struct fw_xy o = starts[s];
        const double d = sizes[s];
        const struct fw_xy ring[] = {{o.x, o.y},
                                     {o.x + d, o.y + d / 30},
                                     {o.x + d, o.y + d},
                                     {o.x + d / 2, o.y + d / 3}};
        struct fw_crs *crs = open_crs(systems[s]);
        struct fw_field *field = field_in(crs, RING(ring));
        for (size_t i = 0; i < 4; i++)
            for (int k = 0; k <= 200; k++) {
                const double t = k / 200.0;
                const struct fw_xy a = ring[i], b = ring[(i + 1) % 4];
                const struct fw_xy at = {a.x + t * (b.x - a.x),
                                         a.y + t * (b.y - a.y)};
                struct fw_lonlat place;
                assert_int_equal(
                    fw_crs_to_lonlat(crs, &at, &place, 1, NULL, NULL), FW_OK);
                assert_near(from_boundary(
                                field, fw_plane_forward(&field->plane, place)),
                            0, 0.001);
            }
        fw_field_free(field);
        fw_crs_free(crs);
    }
}

static size_t count_kind(const struct fw_field *field, enum fw_vertex_kind kind)
{
    size_t count = 0;
    for (size_t i = 0; i < field->vertex_count; i++)
        count += field->vertices[i].kind == kind;
    return count;
}

static bool same(struct fw_xy a, struct fw_xy b)
{
    return a.x == b.x && a.y == b.y;
}

static void neighbours_share_the_bows_of_their_edge(void **state)
{
    (void)state;
    const struct fw_xy a = {9, 60}, b = {9.03, 60.001};
    const struct fw_xy south[] = {a, {9.02, 59.99}, b};
    const struct fw_xy north[] = {a, b, {9.01, 60.01}};
    struct fw_field *fields[] = {field_of("EPSG:4326", RING(south)),
                                 field_of("EPSG:4326", RING(north))};
    assert_true(count_kind(fields[0], FW_VERTEX_BOW) > 10);
    size_t shared = 0;
    for (size_t i = 0; i < fields[0]->vertex_count; i++)
        for (size_t k = 0; k < fields[1]->vertex_count; k++)
            shared +=
                same(fields[0]->vertices[i].file, fields[1]->vertices[k].file);
    size_t on_edge = 0;
    for (size_t i = 0; i < fields[0]->vertex_count; i++) {
        const struct fw_xy at = fields[0]->vertices[i].file;
        on_edge += fabs(at.y - a.y - (at.x - a.x) / 30) < 1e-9;
    }
    assert_int_equal(shared, on_edge);
    fw_field_free(fields[0]);
    fw_field_free(fields[1]);
}

/* Bow vertices keep their order along the ring: from one corner of the box to
 * the next, each is farther than the one before. */
static void bows_stand_in_the_order_of_the_ring(void **state)
{
    (void)state;
    const struct fw_xy box[] = {{9, 60}, {9.05, 60}, {9.05, 60.02}, {9, 60.02}};
    struct fw_field *field = field_of("EPSG:4326", RING(box));
    assert_int_equal(count_kind(field, FW_VERTEX_INPUT), 4);
    double length_m = 0;
    for (size_t i = 0; i < field->vertex_count; i++) {
        const size_t to = (i + 1) % field->vertex_count;
        length_m += fw_geo_distance_m(field->vertices[i].lonlat,
                                      field->vertices[to].lonlat);
    }
    /* Parallels of 60 and 60.02 degrees, and twice the meridian between. */
    const double f = 1 / 298.257223563;
    double around_m = 0;
    for (int i = 0; i < 2; i++) {
        const double lat = (60 + 0.02 * i) * PI / 180;
        const double s = sin(lat);
        around_m += 6378137 * cos(lat) / sqrt(1 - f * (2 - f) * s * s) * 0.05 *
                    PI / 180;
    }
    around_m += 2 * fw_geo_distance_m((struct fw_lonlat){9, 60},
                                      (struct fw_lonlat){9, 60.02});
    assert_near(length_m, around_m, 1e-3);
    assert_near(field->perimeter_m, length_m, 1e-6);
    fw_field_free(field);
}

/* Twelve-sided fields to 5 km across: the plane against PROJ's geodesic
 * polygons. */
static void areas_agree_with_geodesic_polygons(void **state)
{
    (void)state;
    struct random random = seeded();
    struct geod_geodesic ellipsoid;
    geod_init(&ellipsoid, 6378137, 1 / 298.257223563);
    struct fw_crs *crs = open_crs("EPSG:4326");
    for (int i = 0; i < 81; i++) {
        const double lat = i, reach = draw(&random, 0.0005, 0.0225);
        const double lon = draw(&random, -179, 179);
        struct fw_xy ring[12];
        for (int k = 0; k < 12; k++) {
            const double r = reach * draw(&random, 0.5, 1);
            ring[k] =
                (struct fw_xy){lon + r * cos(k * PI / 6) / cos(lat * PI / 180),
                               lat + r * sin(k * PI / 6)};
        }
        struct fw_field *field = field_in(crs, RING(ring));
        double *lats = fw_alloc(2 * field->vertex_count, sizeof *lats);
        double *lons = lats + field->vertex_count;
        for (size_t k = 0; k < field->vertex_count; k++) {
            lats[k] = field->vertices[k].lonlat.lat_deg;
            lons[k] = field->vertices[k].lonlat.lon_deg;
        }
        double area, around;
        geod_polygonarea(&ellipsoid, lats, lons, (int)field->vertex_count,
                         &area, &around);
        assert_relative(field->area_m2, area, 1e-6);
        assert_relative(field->ellipsoid_m2, area, 1e-9);
        assert_relative(field->perimeter_m, around, 1e-12);
        fw_free(lats);
        fw_field_free(field);
    }
    fw_crs_free(crs);
}

/* ---- the ends of the map ---- */

/* The same field on both sides of the 180th meridian and far from it. */
static void field_across_the_antimeridian_is_like_any_other(void **state)
{
    (void)state;
    const struct fw_xy across[] = {{179.98, -17},
                                   {-179.99, -17.001},
                                   {-179.985, -16.98},
                                   {179.99, -16.99}};
    const struct fw_xy inland[] = {
        {9.98, -17}, {10.01, -17.001}, {10.015, -16.98}, {9.99, -16.99}};
    const struct fw_xy back[] = {across[3], across[2], across[1], across[0]};
    struct fw_field *fields[] = {field_of("EPSG:4326", RING(across)),
                                 field_of("EPSG:4326", RING(back)),
                                 field_of("EPSG:4326", RING(inland)),
                                 field_of("EPSG:4258", RING(across))};
    for (int i = 0; i < 4; i++) {
        assert_near(fields[i]->area_m2, fields[2]->area_m2, 1e-4);
        assert_near(fields[i]->ellipsoid_m2, fields[2]->ellipsoid_m2, 1e-4);
        assert_int_equal(fields[i]->vertex_count, fields[2]->vertex_count);
        assert_int_equal(fields[i]->corner_count, 4);
        for (size_t k = 0; k < fields[i]->vertex_count; k++)
            assert_true(fabs(fields[i]->vertices[k].file.x) <= 180);
    }
    for (int i = 0; i < 4; i++) {
        const struct fw_xy first =
            fields[i]->vertices[fields[i]->corners[0]].file;
        assert_true(first.x == (i == 2 ? 10.015 : -179.985));
    }
    for (int i = 0; i < 4; i++)
        fw_field_free(fields[i]);
}

static void field_about_the_pole_has_its_area(void **state)
{
    (void)state;
    const char *const systems[] = {"EPSG:3995", "EPSG:3031"};
    for (int i = 0; i < 2; i++) {
        const struct fw_xy box[] = {
            {-900, -1000}, {3100, -1000}, {3100, 2000}, {-900, 2000}};
        struct fw_field *field = field_of(systems[i], RING(box));
        assert_near(fabs(field->plane.centre.lat_deg), 90, 0.05);
        assert_relative(field->area_m2, field->ellipsoid_m2, 1e-7);
        /* Both grids are to scale at 71 degrees: 0.9728 and less at the pole,
         * so that the ground is a little larger than the map. */
        assert_true(field->area_m2 > 12e6 && field->area_m2 < 13e6);
        assert_int_equal(field->corner_count, 4);
        fw_field_free(field);
    }
}

/* ---- sizes ---- */

static void holes_are_taken_off(void **state)
{
    (void)state;
    const struct fw_xy points[] = {{500000, 5500000}, {500100, 5500000},
                                   {500100, 5500100}, {500000, 5500100},
                                   {500020, 5500020}, {500020, 5500040},
                                   {500040, 5500040}, {500040, 5500020}};
    struct fw_field *field = field_of("EPSG:32632", shape_of(points, 4, 4, 0));
    const double scale = 1 / (0.9996 * 0.9996); /* at the central meridian */
    assert_int_equal(field->ring_count, 2);
    assert_relative(field->area_m2, (10000 - 400) * scale, 1e-7);
    assert_relative(field->ellipsoid_m2, (10000 - 400) * scale, 1e-7);
    assert_relative(field->perimeter_m, 400 / 0.9996, 1e-7);
    assert_relative(field->holes_m, 80 / 0.9996, 1e-7);
    assert_string_equal(field->name, "hill");

    const struct fw_point ring[] = {
        field->vertices[0].plane, field->vertices[1].plane,
        field->vertices[2].plane, field->vertices[3].plane};
    assert_true(fw_ring_area_m2(ring, 4) > 0); /* anticlockwise on the ground */

    assert_true(fw_field_contains(field, (struct fw_point){40, 40}, 0));
    const struct fw_point pond = {-20, -20};
    assert_false(fw_field_contains(field, pond, 0));
    assert_false(fw_field_contains(field, pond, 5));
    assert_true(fw_field_contains(field, pond, 11));
    const struct fw_point road = {53, 0};
    assert_false(fw_field_contains(field, road, 2.5));
    assert_true(fw_field_contains(field, road, 3.5));
    fw_field_free(field);
}

static void assert_no_field(const char *definition, struct fw_shape shape,
                            const char *word)
{
    struct fw_crs *crs = open_crs(definition);
    struct fw_field *field = NULL;
    struct fw_error err = {.text = ""};
    assert_int_equal(fw_field_new(&shape, "hill", crs, &field, &err),
                     FW_EINPUT);
    if (!strstr(err.text, word))
        fail_msg("\"%s\" does not say \"%s\"", err.text, word);
    assert_null(field);
    fw_shape_release(&shape);
    fw_crs_free(crs);
}

static void fields_of_no_sensible_size_are_refused(void **state)
{
    (void)state;
    const struct fw_xy bed[] = {
        {500000, 5500000}, {500007, 5500000}, {500007, 5500007}};
    assert_no_field("EPSG:25832", RING(bed), "at least 50");
    const struct fw_xy shire[] = {
        {500000, 5500000}, {513000, 5500000}, {513000, 5500100}};
    assert_no_field("EPSG:25832", RING(shire), "at most 12000");
    const struct fw_xy world[] = {{-170, -80}, {170, -80}, {0, 80}};
    assert_no_field("EPSG:4326", RING(world), "at most 12000");
    const struct fw_xy metres[] = {
        {412000, 5712000}, {412100, 5712000}, {412100, 5712100}};
    assert_no_field("EPSG:4326", RING(metres), "outside its CRS");
}

/* ---- places ---- */

static void place_on_a_side_is_measured_clockwise(void **state)
{
    (void)state;
    const struct fw_xy box[] = {{500000, 5500000},
                                {500300, 5500000},
                                {500300, 5500200},
                                {500150, 5500200.1},
                                {500000, 5500200}};
    struct fw_field *field = field_of("EPSG:32632", RING(box));
    assert_int_equal(field->corner_count, 4);
    assert_near(fw_field_side_m(field, 0), 300 / 0.9996, 1e-3);
    assert_near(fw_field_side_m(field, 1), 200 / 0.9996, 1e-3);

    struct fw_point place;
    assert_int_equal(fw_field_place(field, 0, 0, &place, NULL), FW_OK);
    const struct fw_vertex *first = &field->vertices[field->corners[0]];
    assert_true(place.x_m == first->plane.x_m && place.y_m == first->plane.y_m);
    /* Past the bend in the middle, towards the north-east corner. */
    assert_int_equal(fw_field_place(field, 0, 200, &place, NULL), FW_OK);
    assert_near(place.x_m, 50 - (150 / 0.9996 - 150), 0.01);
    assert_near(place.y_m, 100, 0.2);
    const double side_m = fw_field_side_m(field, 3);
    assert_int_equal(fw_field_place(field, 3, side_m, &place, NULL), FW_OK);
    assert_near(place.x_m, first->plane.x_m, 1e-9);
    assert_near(place.y_m, first->plane.y_m, 1e-9);

    struct fw_error err;
    assert_int_equal(fw_field_place(field, 1, 250, &place, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "side 2 is 200.08 m long"));
    assert_int_equal(fw_field_place(field, 4, 0, &place, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "corner 5"));
    assert_int_equal(fw_field_place(field, 0, -1, &place, &err), FW_EINPUT);
    assert_int_equal(fw_field_place(field, 0, (double)NAN, &place, &err),
                     FW_EINPUT);
    fw_field_free(field);
}

/* ---- from rings alone ---- */

/* A rectangle with a square pond, both rings given the wrong way round. */
static void rings_make_a_field_without_the_earth(void **state)
{
    (void)state;
    static const struct fw_point points[] = {
        {0, 0},   {0, 100}, {200, 100}, {200, 0}, /* clockwise */
        {50, 40}, {60, 40}, {60, 50},   {50, 50}, /* anticlockwise */
    };
    static const size_t start[] = {0, 4, 8};
    struct fw_field *field = NULL;
    struct fw_error err;
    assert_int_equal(fw_field_from_rings(points, start, 2, "ley", &field, &err),
                     FW_OK);
    assert_string_equal(field->name, "ley");
    assert_near(field->area_m2, 200.0 * 100 - 10 * 10, 1e-9);
    assert_near(field->ellipsoid_m2, field->area_m2, 0);
    assert_near(field->perimeter_m, 600, 1e-9);
    assert_near(field->holes_m, 40, 1e-9);
    assert_int_equal(field->corner_count, 4);
    assert_true(fw_field_contains(field, (struct fw_point){10, 10}, 0));
    assert_false(fw_field_contains(field, (struct fw_point){55, 45}, 0));
    assert_near(fw_field_side_m(field, 0) + fw_field_side_m(field, 1), 300,
                1e-9);
    fw_field_free(field);
}

static void what_is_no_ring_is_refused(void **state)
{
    (void)state;
    struct fw_point points[] = {{0, 0}, {100, 0}, {100, 100}};
    size_t start[] = {0, 3};
    struct fw_field *field = NULL;
    struct fw_error err;
    assert_int_equal(fw_field_from_rings(points, start, 0, NULL, &field, &err),
                     FW_EINPUT);
    start[1] = 2;
    assert_int_equal(fw_field_from_rings(points, start, 1, NULL, &field, &err),
                     FW_EINPUT);
    assert_non_null(strstr(err.text, "has 2 points"));
    start[1] = 3;
    points[1].x_m = (double)NAN;
    assert_int_equal(fw_field_from_rings(points, start, 1, NULL, &field, &err),
                     FW_EINPUT);
    assert_non_null(strstr(err.text, "point 2"));
    points[1].x_m = FW_WIDEST_FIELD_M * 1.001;
    assert_int_equal(fw_field_from_rings(points, start, 1, NULL, &field, &err),
                     FW_EINPUT);
    points[1].x_m = 0.5;
    assert_int_equal(fw_field_from_rings(points, start, 1, NULL, &field, &err),
                     FW_EINPUT); /* 25 m2 */
    assert_null(field);
}

/* On each side from end to end, and off it by no more than a millimetre: those
 * of a box run north, east, south and west. */
static void a_place_is_on_its_side(void **state)
{
    (void)state;
    const struct fw_xy box[] = {{500000, 5500000},
                                {500300, 5500000},
                                {500300, 5500200},
                                {500000, 5500200}};
    struct fw_field *field = field_of("EPSG:32631", shape_of(box, 4, 0, 0));
    assert_int_equal(field->corner_count, 4);
    for (size_t k = 0; k < 4; k++) {
        const struct fw_point a = field->vertices[field->corners[k]].plane;
        const struct fw_point b =
            field->vertices[field->corners[(k + 1) % 4]].plane;
        const double m = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
        const struct fw_point along = {(b.x_m - a.x_m) / m,
                                       (b.y_m - a.y_m) / m};
        for (double t = 0.05; t < 1; t += 0.1)
            for (int off = -2; off <= 2; off++) {
                const double off_m = 0.0009 * off;
                const struct fw_point at = {
                    a.x_m + t * m * along.x_m - off_m * along.y_m,
                    a.y_m + t * m * along.y_m + off_m * along.x_m};
                assert_int_equal(fw_field_side_at(field, at),
                                 abs(off) < 2 ? k + 1 : 0);
            }
    }
    fw_field_free(field);
}

/* By the foot of the perpendicular where that lies on the way, else by its
 * nearer end; over a net of places, against a search in small steps. */
static void the_nearest_place_on_a_way_is_found(void **state)
{
    (void)state;
    const struct fw_point from = {1, 2}, to = {5, 3.5};
    for (double x = -3; x < 9; x += 0.7)
        for (double y = -2; y < 8; y += 0.7) {
            const struct fw_point at = {x, y};
            double away_m, best = 0, best_m = HUGE_VAL;
            const double t = fw_geo__nearest_on(from, to, at, &away_m);
            for (int k = 0; k <= 4000; k++) {
                const double share = k / 4000.0;
                const double m =
                    hypot(x - from.x_m - share * (to.x_m - from.x_m),
                          y - from.y_m - share * (to.y_m - from.y_m));
                best = m < best_m ? share : best;
                best_m = fmin(best_m, m);
            }
            assert_near(t, best, 2.6e-4);
            assert_near(away_m, best_m, 1e-3);
            assert_true(away_m <= best_m + 1e-12);
        }
    /* A way without length is its one place. */
    double away_m;
    assert_near(fw_geo__nearest_on(from, from, to, &away_m), 0, 0);
    assert_near(away_m, hypot(4, 1.5), 1e-15);
}

/* Over the 180th meridian the shorter way, and its middle to the last digit. */
static void a_place_between_lies_on_the_shorter_way(void **state)
{
    (void)state;
    static const double rows[][3] = {/* from, to, the middle or one turn on */
                                     {179.5, -179.75, 179.875},
                                     {-179.5, 179.25, -180.125},
                                     {10, 10.5, 10.25}};
    for (size_t i = 0; i < 3; i++) {
        const struct fw_vertex a = {.lonlat = {rows[i][0], 50},
                                    .file = {rows[i][0], 50}};
        const struct fw_vertex b = {.lonlat = {rows[i][1], 51},
                                    .file = {rows[i][1], 51}};
        const struct fw_vertex middle = fw_geo__between(&a, &b, 0.5, 360);
        double off = fmod(middle.lonlat.lon_deg - rows[i][2] + 720, 360);
        assert_near(fmin(off, 360 - off), 0, 1e-9);
        assert_near(middle.lonlat.lat_deg, 50.5, 1e-9);
        off = fmod(middle.file.x - rows[i][2] + 720, 360);
        assert_near(fmin(off, 360 - off), 0, 1e-9);
        const struct fw_vertex end = fw_geo__between(&a, &b, 1, 360);
        assert_true(end.lonlat.lon_deg == rows[i][1] && end.file.y == 51);
    }
}

static void nothing_is_no_field(void **state)
{
    (void)state;
    const struct fw_xy box[] = {{500000, 5500000},
                                {500300, 5500000},
                                {500300, 5500200},
                                {500000, 5500200}};
    struct fw_field *field = field_of("EPSG:32631", shape_of(box, 4, 0, 0));
    struct fw_point place;
    struct fw_error err;
    assert_int_equal(fw_field_place(NULL, 0, 1, &place, &err), FW_EUSAGE);
    assert_int_equal(fw_field_place(field, 0, 1, NULL, &err), FW_EUSAGE);
    assert_int_equal(fw_field_place(field, 0, 1, &place, &err), FW_OK);
    assert_int_equal(fw_field_place(field, 4, 1, &place, &err), FW_EINPUT);
    fw_field_free(field);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(corners_run_clockwise_from_the_northernmost),
        cmocka_unit_test(a_place_is_on_its_side),
        cmocka_unit_test(the_nearest_place_on_a_way_is_found),
        cmocka_unit_test(a_place_between_lies_on_the_shorter_way),
        cmocka_unit_test(nothing_is_no_field),
        cmocka_unit_test(small_bends_are_no_corners),
        cmocka_unit_test(narrow_strip_keeps_four_corners),
        cmocka_unit_test(corners_of_a_comb_come_soon),
        cmocka_unit_test(box_of_degrees_has_the_area_of_its_zone),
        cmocka_unit_test(edge_straight_in_its_file_bows_under_a_millimetre),
        cmocka_unit_test(neighbours_share_the_bows_of_their_edge),
        cmocka_unit_test(bows_stand_in_the_order_of_the_ring),
        cmocka_unit_test(areas_agree_with_geodesic_polygons),
        cmocka_unit_test(field_across_the_antimeridian_is_like_any_other),
        cmocka_unit_test(field_about_the_pole_has_its_area),
        cmocka_unit_test(holes_are_taken_off),
        cmocka_unit_test(fields_of_no_sensible_size_are_refused),
        cmocka_unit_test(place_on_a_side_is_measured_clockwise),
        cmocka_unit_test(rings_make_a_field_without_the_earth),
        cmocka_unit_test(what_is_no_ring_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
