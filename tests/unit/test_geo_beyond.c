/* Fields beyond a line. */
#include "ground_help.h"

/* The field finds a centre of its own, up to a millimetre beside the one that
 * these places are about. */
static const double shift_m2 = 0.1;

/* 200 m by 100 m. */
static const struct fw_point oblong[] = {
    {-100, -50}, {100, -50}, {100, 50}, {-100, 50}};

/* Two arms going north from a bar. */
static const struct fw_point fork[] = {{-100, -50}, {100, -50}, {100, 50},
                                       {60, 50},    {60, -10},  {-60, -10},
                                       {-60, 50},   {-100, 50}};

struct parted {
    struct fw_field *whole;
    struct fw_crs *crs;
    struct fw_beyond beyond;
};

static struct parted part(struct fw_field *whole, const struct fw_point *line,
                          size_t count, struct fw_point from)
{
    struct parted parted = {.whole = whole, .crs = open_crs("OGC:CRS84")};
    struct fw_error err = {0};
    if (fw_field_beyond(whole, line, count, from, parted.crs, &parted.beyond,
                        &err))
        fail_msg("%s", err.text);
    return parted;
}

static void release(struct parted *parted)
{
    fw_beyond_release(&parted->beyond);
    fw_field_free(parted->whole);
    fw_crs_free(parted->crs);
}

static double line_m(const struct fw_beyond *beyond)
{
    const struct fw_field *field = beyond->field;
    double sum = 0;
    for (size_t r = 0; r < field->ring_count; r++)
        for (size_t i = field->ring_start[r]; i < field->ring_start[r + 1];
             i++) {
            const size_t next =
                i + 1 < field->ring_start[r + 1] ? i + 1 : field->ring_start[r];
            const struct fw_point a = field->vertices[i].plane;
            const struct fw_point b = field->vertices[next].plane;
            if (beyond->on_line[i])
                sum += hypot(b.x_m - a.x_m, b.y_m - a.y_m);
        }
    return sum;
}

static void a_straight_line_leaves_the_other_side(void **state)
{
    (void)state;
    const struct fw_point line[] = {{20, -50}, {30, 50}};
    struct parted west =
        part(field_of(oblong, 4), line, 2, (struct fw_point){-100, 10});
    assert_near(west.beyond.field->area_m2, 75 * 100, shift_m2);
    assert_near(west.beyond.behind_m2, 125 * 100, shift_m2);
    assert_near(west.beyond.apart_m2, 0, 0);
    assert_near(line_m(&west.beyond), hypot(10, 100), 1e-3);
    assert_int_equal(west.beyond.field->corner_count, 4);
    assert_string_equal(west.beyond.field->name, "Long Bottom");
    release(&west);

    struct parted east = part(field_of(oblong, 4), line, 2,
                              (struct fw_point){110, 0}); /* outside */
    assert_near(east.beyond.field->area_m2, 125 * 100, shift_m2);
    release(&east);
}

static void corners_that_are_left_keep_their_coordinates(void **state)
{
    (void)state;
    const struct fw_point line[] = {{20, -50}, {30, 50}};
    struct parted parted =
        part(field_of(oblong, 4), line, 2, (struct fw_point){-100, 10});
    const struct fw_field *left = parted.beyond.field;
    size_t same = 0;
    for (size_t i = 0; i < left->vertex_count; i++)
        for (size_t k = 0; k < parted.whole->vertex_count; k++) {
            const struct fw_vertex *a = &left->vertices[i];
            const struct fw_vertex *b = &parted.whole->vertices[k];
            same += a->kind == b->kind && a->file.x == b->file.x &&
                    a->file.y == b->file.y && a->plane.x_m == b->plane.x_m &&
                    a->plane.y_m == b->plane.y_m;
        }
    assert_true(same >= 2);
    release(&parted);
}

static void a_line_from_a_corner_may_bend(void **state)
{
    (void)state;
    struct fw_field *whole = field_of(oblong, 4);
    struct fw_point line[] = {{-100, -50}, {0, 0}, {20, 50}};
    size_t corner = 0;
    while (hypot(whole->vertices[corner].plane.x_m + 100,
                 whole->vertices[corner].plane.y_m + 50) > 1)
        corner++;
    line[0] = whole->vertices[corner].plane;
    struct parted parted = part(whole, line, 3, (struct fw_point){-90, 40});
    /* The quadrilateral on the gate's side. */
    const struct fw_point behind[] = {
        {-100, -50}, {0, 0}, {20, 50}, {-100, 50}};
    assert_near(parted.beyond.behind_m2, fw_ring_area_m2(behind, 4), shift_m2);
    assert_near(parted.beyond.field->area_m2 + parted.beyond.behind_m2,
                parted.whole->area_m2, 1e-8);
    assert_near(line_m(&parted.beyond), hypot(100, 50) + hypot(20, 50), 1e-3);
    release(&parted);
}

/* Seen from one arm, the other arm lies on the same side of the line: it is
 * crossed twice on the way. */
static void a_line_may_leave_the_field_and_come_in_again(void **state)
{
    (void)state;
    const struct fw_point line[] = {{-120, 20}, {120, 20}};
    struct parted arm =
        part(field_of(fork, 8), line, 2, (struct fw_point){-80, 45});
    assert_near(arm.beyond.behind_m2, 2 * 40 * 30, shift_m2);
    assert_near(arm.beyond.field->area_m2, 200 * 40 + 2 * 40 * 30, shift_m2);
    assert_near(line_m(&arm.beyond), 2 * 40, 1e-3);
    release(&arm);

    struct parted bar =
        part(field_of(fork, 8), line, 2, (struct fw_point){0, -50});
    assert_near(bar.beyond.field->area_m2, 40 * 30, shift_m2);
    assert_near(bar.beyond.apart_m2, 40 * 30, shift_m2);
    assert_near(line_m(&bar.beyond), 40, 1e-3);
    release(&bar);
}

/* A straight line against half planes. */
static void straight_lines_agree_with_half_planes(void **state)
{
    (void)state;
    struct random random = seeded();
    for (int n = 0; n < 60; n++) {
        const struct star shape =
            star(&random, (struct fw_point){0, 0}, 150, 5 + (size_t)n % 20);
        const double turn = draw(&random, 0, PI), x = cos(turn), y = sin(turn);
        const double off = draw(&random, -40, 40);
        const struct fw_point line[] = {
            {-y * off - 400 * x, x * off - 400 * y},
            {-y * off + 400 * x, x * off + 400 * y}};
        const struct fw_point half[] = {
            line[0],
            line[1],
            {line[1].x_m - 900 * y, line[1].y_m + 900 * x},
            {line[0].x_m - 900 * y, line[0].y_m + 900 * x}};
        struct fw_field *whole = field_of(shape.points, shape.count);
        struct fw_point *ring = calloc(whole->vertex_count, sizeof *ring);
        for (size_t i = 0; i < whole->vertex_count; i++)
            ring[i] = whole->vertices[i].plane;
        GEOSContextHandle_t geos = GEOS_init_r();
        GEOSGeometry *one = judge_ring(geos, ring, whole->vertex_count);
        GEOSGeometry *other = judge_ring(geos, half, 4);
        const double beyond_m2 = judged_area(geos, one, other);
        struct parted parted =
            part(whole, line, 2,
                 (struct fw_point){400 * y - y * off, -400 * x + x * off});
        assert_near(parted.beyond.field->area_m2 + parted.beyond.apart_m2,
                    beyond_m2, 1e-7);
        assert_near(parted.beyond.behind_m2 + beyond_m2, whole->area_m2, 1e-7);
        GEOSGeom_destroy_r(geos, one);
        GEOSGeom_destroy_r(geos, other);
        GEOS_finish_r(geos);
        free(ring);
        release(&parted);
    }
}

static void an_end_a_few_metres_short_is_taken_on_to_the_edge(void **state)
{
    (void)state;
    const struct fw_point line[] = {{20, -47}, {30, 46}};
    struct parted parted =
        part(field_of(oblong, 4), line, 2, (struct fw_point){-100, 10});
    const struct fw_point beyond[] = {{20, -50}, {100, -50}, {100, 50},
                                      {30, 50},  {30, 46},   {20, -47}};
    assert_near(parted.beyond.field->area_m2, fw_ring_area_m2(beyond, 6),
                shift_m2);
    assert_near(line_m(&parted.beyond), 3 + hypot(10, 93) + 4, 1e-3);
    release(&parted);
}

static void refuses(const struct fw_point *line, size_t count,
                    struct fw_point from, enum fw_status status,
                    const char *piece)
{
    struct fw_field *whole = field_of(oblong, 4);
    struct fw_crs *crs = open_crs("OGC:CRS84");
    struct fw_beyond beyond = {.apart_m2 = 7};
    struct fw_error err = {0};
    assert_int_equal(
        fw_field_beyond(whole, line, count, from, crs, &beyond, &err), status);
    if (!strstr(err.text, piece))
        fail_msg("\"%s\" says nothing of \"%s\"", err.text, piece);
    assert_near(beyond.apart_m2, 7, 0);
    assert_null(beyond.field);
    fw_field_free(whole);
    fw_crs_free(crs);
}

static void what_parts_nothing_is_refused(void **state)
{
    (void)state;
    const struct fw_point gate = {-100, 10};
    const struct fw_point inside[] = {{20, -50}, {30, 20}};
    refuses(inside, 2, gate, FW_EINPUT, "its last end lies 30 m from the edge");
    const struct fw_point one[] = {{20, -50}, {20, -50}};
    refuses(one, 2, gate, FW_EINPUT, "has no length");
    const struct fw_point along[] = {{-90, -50}, {90, -50}};
    refuses(along, 2, gate, FW_EINPUT, "does not part the field");
    const struct fw_point beside[] = {{-90, -70}, {90, -70}};
    refuses(beside, 2, gate, FW_EINPUT, "does not part the field");
    const struct fw_point last[] = {{99.9, -50}, {99.9, 50}};
    refuses(last, 2, gate, FW_EINPUT, "leaves 10 m2 beyond it");
}

static void a_place_on_the_line_tells_no_side(void **state)
{
    (void)state;
    const struct fw_point line[] = {{20, -50}, {30, 50}};
    refuses(line, 2, (struct fw_point){20, -60}, FW_EUSAGE, "tells no side");
    refuses(line, 2, (struct fw_point){25.1, 0}, FW_EUSAGE, "tells no side");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_straight_line_leaves_the_other_side),
        cmocka_unit_test(corners_that_are_left_keep_their_coordinates),
        cmocka_unit_test(a_line_from_a_corner_may_bend),
        cmocka_unit_test(a_line_may_leave_the_field_and_come_in_again),
        cmocka_unit_test(straight_lines_agree_with_half_planes),
        cmocka_unit_test(an_end_a_few_metres_short_is_taken_on_to_the_edge),
        cmocka_unit_test(what_parts_nothing_is_refused),
        cmocka_unit_test(a_place_on_the_line_tells_no_side),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
