/* Shapes as files have them, and their repair. */
#include "crs/repair.h"
#include "geo_help.h"

#include <stdbool.h>

static void repaired(struct fw_shape *shape, struct fw_notes *notes)
{
    struct fw_error err = {.text = ""};
    if (fw_shape_repair(shape, "hill", notes, &err))
        fail_msg("refused: %s", err.text);
}

static void assert_points(const struct fw_shape *shape, size_t ring,
                          const struct fw_xy *wanted, size_t count)
{
    assert_true(ring < shape->ring_count);
    const size_t start = shape->ring_start[ring];
    assert_int_equal(shape->ring_start[ring + 1] - start, count);
    assert_memory_equal(shape->points + start, wanted, count * sizeof *wanted);
}

static bool noted(const struct fw_notes *notes, const char *word)
{
    for (size_t i = 0; i < notes->count; i++)
        if (strstr(notes->items[i].text, word)) {
            assert_string_equal(notes->items[i].where, "hill");
            return true;
        }
    return false;
}

/* Refused with both words in the message, and left alone. */
static void assert_refused(struct fw_shape *shape, const char *word,
                           const char *other)
{
    const struct fw_shape before = *shape;
    struct fw_error err = {.text = ""};
    assert_int_equal(fw_shape_repair(shape, "hill", NULL, &err), FW_EINPUT);
    if (!strstr(err.text, word) || !strstr(err.text, other))
        fail_msg("\"%s\" does not say \"%s\" and \"%s\"", err.text, word,
                 other);
    assert_memory_equal(shape, &before, sizeof before);
    fw_shape_release(shape);
    assert_null(shape->points);
}

static double shape_area(const struct fw_shape *shape)
{
    double twice = 0;
    for (size_t r = 0; r < shape->ring_count; r++) {
        size_t before = shape->ring_start[r + 1] - 1;
        for (size_t i = shape->ring_start[r]; i < shape->ring_start[r + 1];
             before = i++)
            twice += shape->points[before].x * shape->points[i].y -
                     shape->points[i].x * shape->points[before].y;
    }
    return twice / 2;
}

static const struct fw_xy pasture[] = {
    {500100.1, 5500200.2},         {500300.30000000005, 5500210.7},
    {500310.123456789, 5500400.1}, {500205.7, 5500330.9},
    {500120.9, 5500410.3},         {500180.1, 5500240.1},
    {500180.3, 5500260.1},         {500200.7, 5500255.9}};

static void valid_shape_keeps_every_bit(void **state)
{
    (void)state;
    struct fw_shape shape = shape_of(pasture, 5, 3, 0);
    struct fw_notes notes = {0};
    repaired(&shape, &notes);
    assert_points(&shape, 0, pasture, 5);
    assert_points(&shape, 1, pasture + 5, 3);
    assert_int_equal(notes.count, 0);
    fw_shape_release(&shape);
    fw_notes_release(&notes);
}

static void rings_are_turned_round_and_nothing_else(void **state)
{
    (void)state;
    const struct fw_xy wrong[] = {pasture[4], pasture[3], pasture[2],
                                  pasture[1], pasture[0], pasture[7],
                                  pasture[6], pasture[5]};
    struct fw_shape shape = shape_of(wrong, 5, 3, 0);
    struct fw_notes notes = {0};
    repaired(&shape, &notes);
    assert_points(&shape, 0, pasture, 5);
    assert_points(&shape, 1, pasture + 5, 3);
    assert_int_equal(notes.count, 0); /* shapefiles have them so */
    assert_int_equal(shape.turned_rings, 2);
    assert_int_equal(shape.repeated_points, 0);
    fw_shape_release(&shape);
    fw_notes_release(&notes);
}

static void points_given_twice_and_the_closing_one_are_dropped(void **state)
{
    (void)state;
    const struct fw_xy ring[] = {pasture[0], pasture[1], pasture[1],
                                 pasture[1], pasture[2], pasture[3],
                                 pasture[4], pasture[0]};
    struct fw_shape shape = RING(ring);
    struct fw_notes notes = {0};
    repaired(&shape, &notes);
    assert_points(&shape, 0, pasture, 5);
    assert_int_equal(notes.count, 0);
    assert_int_equal(shape.repeated_points, 2); /* to close a ring is none */
    assert_int_equal(shape.turned_rings, 0);
    fw_shape_release(&shape);
    fw_notes_release(&notes);
}

static void ring_walked_twice_is_folded(void **state)
{
    (void)state;
    struct fw_xy ring[11];
    for (size_t i = 0; i < 11; i++)
        ring[i] = pasture[i % 5];
    struct fw_shape shape = RING(ring);
    struct fw_notes notes = {0};
    repaired(&shape, &notes);
    assert_points(&shape, 0, pasture, 5);
    assert_true(noted(&notes, "folded; rounds: 2"));
    fw_shape_release(&shape);
    fw_notes_release(&notes);
}

static const struct fw_xy yard[] = {{0, 0}, {100, 0}, {100, 100}, {0, 100}};

static void holes_that_are_none_are_dropped(void **state)
{
    (void)state;
    /* One beside the field, one that only touches its corner from outside. */
    const struct fw_xy points[] = {
        yard[0],  yard[1],    yard[2],    yard[3],    {200, 0},  {200, 20},
        {220, 0}, {100, 100}, {100, 120}, {120, 120}, {120, 100}};
    struct fw_shape shape = shape_of(points, 4, 3, 4);
    struct fw_notes notes = {0};
    repaired(&shape, &notes);
    assert_int_equal(shape.ring_count, 1);
    assert_int_equal(shape.point_count, 4);
    assert_points(&shape, 0, yard, 4);
    assert_true(noted(&notes, "hole 1: dropped, it lies outside"));
    assert_true(noted(&notes, "hole 2: dropped, it lies outside"));
    fw_shape_release(&shape);
    fw_notes_release(&notes);

    const struct fw_xy flat[] = {yard[0],  yard[1],  yard[2],  yard[3],
                                 {50, 50}, {60, 60}, {50, 50}, {20, 20},
                                 {20, 30}, {30, 20}};
    shape = shape_of(flat, 4, 3, 3);
    notes = (struct fw_notes){0};
    repaired(&shape, &notes);
    assert_int_equal(shape.ring_count, 2);
    assert_points(&shape, 1, flat + 7, 3);
    assert_true(noted(&notes, "hole 1: dropped, it has no area"));
    fw_shape_release(&shape);
    fw_notes_release(&notes);
}

static void spike_goes(void **state)
{
    (void)state;
    const struct fw_xy ring[] = {{0, 0},    {100, 0},   {100, 50}, {150, 50},
                                 {100, 50}, {100, 100}, {0, 100}};
    struct fw_shape shape = RING(ring);
    struct fw_notes notes = {0};
    repaired(&shape, &notes);
    assert_near(shape_area(&shape), 10000, 0);
    for (size_t i = 0; i < shape.point_count; i++)
        assert_true(shape.points[i].x <= 100);
    assert_true(noted(&notes, "repaired"));
    assert_int_equal(notes.items[0].level, FW_LEVEL_WARNING);
    fw_shape_release(&shape);
    fw_notes_release(&notes);
}

static void small_loop_is_cut_off(void **state)
{
    (void)state;
    const struct fw_xy ring[] = {{0, 0},    {100, 0},  {100, 100}, {48, 100},
                                 {48, 101}, {52, 101}, {52, 99.9}, {0, 99.9}};
    struct fw_shape shape = RING(ring);
    struct fw_notes notes = {0};
    repaired(&shape, &notes);
    /* Without the loop of 4 m2, and 52 m by 0.1 m short of the square. */
    assert_near(shape_area(&shape), 10000 - 5.2, 1e-9);
    assert_true(noted(&notes, "x 5"));
    fw_shape_release(&shape);
    fw_notes_release(&notes);
}

static void
crossing_with_several_readings_is_refused_with_its_place(void **state)
{
    (void)state;
    const struct fw_xy tie[] = {{0, 0}, {100, 100}, {100, 0}, {0, 100}};
    struct fw_shape shape = RING(tie);
    assert_refused(&shape, "x 50, y 50", "several");
    const struct fw_xy odd[] = {{0, 0}, {100, 100}, {100, 0}, {0, 50}};
    shape = RING(odd);
    assert_refused(&shape, "crosses", "several");
    /* Lobes of 20,000 and 10,000 m2, one each way round: the shoelace says
     * 10,000, which is the lesser one and still no answer. */
    const struct fw_xy lobes[] = {{0, 0},   {200, 0},    {200, 100}, {0, 100},
                                  {0, -50}, {-200, -50}, {-200, 0}};
    shape = RING(lobes);
    assert_refused(&shape, "crosses", "several");
}

static void pinch_is_refused_and_a_keyhole_becomes_a_hole(void **state)
{
    (void)state;
    const struct fw_xy pinch[] = {{0, 0},     {50, 50}, {100, 0},
                                  {100, 100}, {50, 50}, {0, 100}};
    struct fw_shape shape = RING(pinch);
    assert_refused(&shape, "x 50, y 50", "several");

    const struct fw_xy keyhole[] = {{0, 0},  {50, 0},  {40, 30},   {60, 30},
                                    {50, 0}, {100, 0}, {100, 100}, {0, 100}};
    shape = RING(keyhole);
    repaired(&shape, NULL);
    assert_int_equal(shape.ring_count, 2);
    assert_near(shape_area(&shape), 10000 - 300, 0);
    fw_shape_release(&shape);
}

static void hopeless_shapes_are_refused(void **state)
{
    (void)state;
    struct fw_shape shape = shape_of(yard, 0, 0, 0);
    assert_refused(&shape, "empty", "");
    const struct fw_xy two[] = {{0, 0}, {1, 1}, {0, 0}, {0, 0}};
    shape = RING(two);
    assert_refused(&shape, "2 different points", "3");
    const struct fw_xy nan[] = {{0, 0}, {1, (double)NAN}, {1, 0}};
    shape = RING(nan);
    assert_refused(&shape, "point 2", "finite");
    const struct fw_xy line[] = {{0, 0}, {10, 10}, {20, 20}};
    shape = RING(line);
    assert_refused(&shape, "x ", "y ");
    shape = RING(yard);
    fw_free(shape.points);
    shape.point_count = FW_MOST_VERTICES + 1;
    shape.points = fw_alloc(shape.point_count, sizeof *shape.points);
    shape.ring_start[1] = shape.point_count;
    assert_refused(&shape, "200001", "200000");
}

/* ---- what no person drew ---- */

static struct fw_xy *scribble(size_t count)
{
    struct fw_xy *points = fw_alloc(count, sizeof *points);
    struct random random = {9};
    assert_non_null(points);
    for (size_t i = 0; i < count; i++) {
        points[i].x = draw(&random, 0, 500);
        points[i].y = draw(&random, 0, 500);
    }
    return points;
}

static double turn_of(struct fw_xy o, struct fw_xy a, struct fw_xy b)
{
    return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

/* Every two sides of the ring. */
static size_t crossings_of(const struct fw_xy *ring, size_t count)
{
    size_t found = 0;
    for (size_t i = 0; i < count; i++)
        for (size_t k = i + 1; k < count; k++) {
            const struct fw_xy a = ring[i], b = ring[(i + 1) % count];
            const struct fw_xy c = ring[k], d = ring[(k + 1) % count];
            found += (turn_of(a, b, c) > 0) != (turn_of(a, b, d) > 0) &&
                     (turn_of(c, d, a) > 0) != (turn_of(c, d, b) > 0) &&
                     k != i + 1 && (k + 1) % count != i;
        }
    return found;
}

static void crossings_are_counted_as_every_two_sides_have_them(void **state)
{
    (void)state;
    static const size_t sizes[] = {3, 4, 5, 17, 64, 65, 300};
    for (size_t s = 0; s < COUNT(sizes); s++) {
        struct fw_xy *points = scribble(sizes[s]);
        const struct fw_repair repair = {.shape =
                                             shape_of(points, sizes[s], 0, 0)};
        const size_t wanted = crossings_of(points, sizes[s]);
        size_t got = 0;
        assert_int_equal(fw_repair_crossings(&repair, SIZE_MAX, &got), FW_OK);
        assert_int_equal(got, wanted);
        if (wanted > 3) {
            assert_int_equal(fw_repair_crossings(&repair, 3, &got), FW_OK);
            assert_int_equal(got, 3);
        }
        struct fw_shape shape = repair.shape;
        fw_shape_release(&shape);
        fw_free(points);
    }
}

/* GEOS would make 90,000 crossings of it first, in 1 GB for 2,000 points. */
static void tangle_is_refused_before_it_is_repaired(void **state)
{
    (void)state;
    struct fw_xy *points = scribble(600);
    assert_true(crossings_of(points, 600) > 20000);
    struct fw_shape shape = shape_of(points, 600, 0, 0);
    assert_refused(&shape, "crosses itself 10000 times or more", "x ");
    fw_free(points);
}

/* A strip wound up: so long and so thin that no flock finds grass on it. What
 * has as much boundary as a square of its area has 1. */
static struct fw_shape wound_up(double wide_m, size_t turns)
{
    const size_t side = 12 * turns + 1;
    struct fw_shape shape = {.point_count = 2 * side, .ring_count = 1};
    shape.points = fw_alloc(shape.point_count, sizeof *shape.points);
    shape.ring_start = fw_alloc(2, sizeof *shape.ring_start);
    shape.ring_start[1] = shape.point_count;
    for (size_t i = 0; i < side; i++)
        for (size_t out = 0; out < 2; out++) {
            const double angle = 2 * PI * (double)i / 12;
            const double radius =
                2 * wide_m * ((double)i / 12 + 2) + (out ? wide_m : 0);
            shape.points[out ? i : shape.point_count - 1 - i] =
                (struct fw_xy){radius * cos(angle), radius * sin(angle)};
        }
    return shape;
}

static void winding_is_refused_where_it_is_too_thin_to_graze(void **state)
{
    (void)state;
    struct fw_shape shape = wound_up(0.01, 2000);
    assert_refused(&shape, "times as long as a square's", "1500");
    shape = wound_up(20, 8);
    struct fw_notes notes = {0};
    repaired(&shape, &notes);
    assert_int_equal(shape.point_count, 194);
    fw_shape_release(&shape);
    fw_notes_release(&notes);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(valid_shape_keeps_every_bit),
        cmocka_unit_test(rings_are_turned_round_and_nothing_else),
        cmocka_unit_test(points_given_twice_and_the_closing_one_are_dropped),
        cmocka_unit_test(ring_walked_twice_is_folded),
        cmocka_unit_test(holes_that_are_none_are_dropped),
        cmocka_unit_test(spike_goes),
        cmocka_unit_test(small_loop_is_cut_off),
        cmocka_unit_test(
            crossing_with_several_readings_is_refused_with_its_place),
        cmocka_unit_test(pinch_is_refused_and_a_keyhole_becomes_a_hole),
        cmocka_unit_test(hopeless_shapes_are_refused),
        cmocka_unit_test(crossings_are_counted_as_every_two_sides_have_them),
        cmocka_unit_test(tangle_is_refused_before_it_is_repaired),
        cmocka_unit_test(winding_is_refused_where_it_is_too_thin_to_graze),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
