/* The trough's place against a search by hand over the places that the header
 * promises, and in ground so narrow that a sum says where it has to be. */
#include "test.h"

#include "water/water.h"

#include <string.h>

enum { across = 15 };

static enum fw_status place_of(const struct fw_point *points,
                               const size_t *start, size_t rings,
                               struct fw_point from,
                               const struct fw_point *opening, double keep_m,
                               struct fw_point *out, struct fw_error *err)
{
    const struct fw_water_wish wish = {
        .from = from, .opening = opening, .keep_m = keep_m};
    return fw_water_place(points, start, rings, &wish, out, err);
}

static double uniform(unsigned long long *seed)
{
    *seed = *seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(*seed >> 11) / 9007199254740992.0;
}

struct field { /* a rectangle, turned and put somewhere */
    struct fw_point ring[4];
    double long_m, short_m, turn;
    struct fw_point at;
};

static struct fw_point put(const struct field *field, double u, double v)
{
    return (struct fw_point){
        field->at.x_m + u * cos(field->turn) - v * sin(field->turn),
        field->at.y_m + u * sin(field->turn) + v * cos(field->turn)};
}

static struct field rectangle(double long_m, double short_m, double turn,
                              struct fw_point at)
{
    struct field field = {{{0, 0}}, long_m, short_m, turn, at};
    field.ring[0] = put(&field, 0, 0);
    field.ring[1] = put(&field, long_m, 0);
    field.ring[2] = put(&field, long_m, short_m);
    field.ring[3] = put(&field, 0, short_m);
    return field;
}

static const size_t four[] = {0, 4};

/* Of the middles of 15 by 15 cells, those that are clear; of these the nearest
 * to the vehicle and all within the band; of these the least mean walk. */
static struct fw_point by_hand(const struct field *field, struct fw_point from,
                               const struct fw_point *opening, double need_m,
                               double band_m)
{
    struct fw_point best = {0, 0};
    double nearest_m = 1e300, least_m = 1e300;
    for (int look = 0; look < 2; look++)
        for (int i = 0; i < across; i++)
            for (int j = 0; j < across; j++) {
                const double u = field->long_m * (i + 0.5) / across;
                const double v = field->short_m * (j + 0.5) / across;
                const struct fw_point p = put(field, u, v);
                double clear_m = fmin(fmin(u, field->long_m - u),
                                      fmin(v, field->short_m - v));
                if (opening)
                    clear_m = fmin(clear_m, hypot(p.x_m - opening->x_m,
                                                  p.y_m - opening->y_m));
                if (clear_m < need_m)
                    continue;
                const double way_m = hypot(p.x_m - from.x_m, p.y_m - from.y_m);
                if (look == 0) {
                    nearest_m = fmin(nearest_m, way_m);
                } else if (way_m <= nearest_m + band_m) {
                    const double mean_m =
                        fw_water_walk(field->ring, four, 1, p).mean_m;
                    if (mean_m < least_m) {
                        least_m = mean_m;
                        best = p;
                    }
                }
            }
    assert_true(least_m < 1e300);
    return best;
}

static void place_is_the_best_of_the_grid(void **state)
{
    (void)state;
    unsigned long long seed = 99;
    for (int round = 0; round < 60; round++) {
        /* From a pen of decimetres to a field; long sides first or not. */
        const double scale = round % 3 == 0 ? 0.003 : 1;
        const double short_m = scale * (60 + 60 * uniform(&seed));
        const double long_m = short_m * (1.2 + uniform(&seed));
        const struct field field = rectangle(
            long_m, short_m,
            round % 2 ? 0.4 * uniform(&seed) - 0.2 : acos(-1.0) / 2,
            (struct fw_point){500 * scale * uniform(&seed), -200 * scale});
        const struct fw_point from =
            put(&field, long_m * 3 * uniform(&seed), -short_m * uniform(&seed));
        const struct fw_point opening = put(&field, long_m / 3, short_m / 5);
        const struct fw_point *in = round % 4 ? NULL : &opening;
        const double keep_m = scale * (3 + 8 * uniform(&seed));
        const struct fw_point wanted =
            by_hand(&field, from, in, keep_m, fmax(keep_m, 1));
        struct fw_point got;
        assert_int_equal(
            place_of(field.ring, four, 1, from, in, keep_m, &got, NULL), FW_OK);
        assert_near(got.x_m, wanted.x_m, 1e-9);
        assert_near(got.y_m, wanted.y_m, 1e-9);
    }
}

/* Nothing is asked of the fence: the nearest metre counts, and no place that
 * was never tried, such as the origin in the field's middle. */
static void place_is_among_those_tried(void **state)
{
    (void)state;
    const struct field field =
        rectangle(150, 90, 0, (struct fw_point){-75, -45});
    const struct fw_point from = {-200, 7};
    const struct fw_point wanted = by_hand(&field, from, NULL, 0, 1);
    struct fw_point got;
    assert_int_equal(place_of(field.ring, four, 1, from, NULL, 0, &got, NULL),
                     FW_OK);
    assert_near(got.x_m, wanted.x_m, 1e-9);
    assert_near(got.y_m, wanted.y_m, 1e-9);
    assert_near(got.x_m, -70, 1e-9);
}

/* Where there is no room for 10 m, nine tenths of the widest: the middle line
 * has 7.5 m, the row beside it 6.5 m. */
static void narrow_paddock_keeps_nearly_the_widest_gap(void **state)
{
    (void)state;
    const struct field field = rectangle(150, 15, 0, (struct fw_point){0, 0});
    const struct fw_point from = {-20, 3};
    struct fw_point got;
    assert_int_equal(place_of(field.ring, four, 1, from, NULL, 10, &got, NULL),
                     FW_OK);
    assert_near(got.y_m, 7.5, 1e-9);
    const struct fw_point wanted = by_hand(&field, from, NULL, 6.75, 10);
    assert_near(got.x_m, wanted.x_m, 1e-9);
    /* Of 15 rows in 15 m the one beside is 87 % as clear, too little. */
    const struct fw_point below = {-20, 0};
    assert_int_equal(place_of(field.ring, four, 1, below, NULL, 10, &got, NULL),
                     FW_OK);
    assert_near(got.y_m, 7.5, 1e-9);
}

/* No place sees the whole of a U: the nearest clear one, here in the arm at
 * the vehicle, on the grid of 90 by 80 m. */
static void nearest_place_is_taken_where_none_sees_all(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{0, 0},   {90, 0},  {90, 80}, {60, 80},
                                    {60, 30}, {30, 30}, {30, 80}, {0, 80}};
    const size_t start[] = {0, 8};
    const struct fw_point from = {16, 100};
    struct fw_point got;
    assert_int_equal(place_of(ring, start, 1, from, NULL, 10, &got, NULL),
                     FW_OK);
    /* Middles at 3 + 6 i and (j + 1/2) 80 / 15: of 15 m the next row under
     * 70 m is the thirteenth. */
    assert_near(got.x_m, 15, 1e-9);
    assert_near(got.y_m, 12.5 * 80 / 15, 1e-9);
}

/* Two arms thinner than the grid is wide: the chord half-way up the longer. */
static void sliver_has_its_trough_in_its_longer_arm(void **state)
{
    (void)state;
    for (int longer = 0; longer < 2; longer++) {
        const double low = longer ? 0 : 20, high = longer ? 180 : 200;
        const struct fw_point ring[] = {
            {low, low}, {100, 100}, {200 - high, high}, {99.9, 100}};
        struct fw_point got;
        assert_int_equal(place_of(ring, four, 1, ring[0], NULL, 10, &got, NULL),
                         FW_OK);
        const double y = longer ? (low + 100) / 2 : (100 + high) / 2;
        assert_near(got.y_m, y, 1e-9);
        /* Half-way up the arm half of the 0.1 m is left. */
        const double outer = longer ? y : 200 - y;
        assert_near(got.x_m, outer - 0.025, 1e-9);
    }
}

/* A frame of ground round a pond, all but one side of it half a metre wide. */
static void frame_has_its_trough_in_its_widest_side(void **state)
{
    (void)state;
    static const struct {
        double left, right, low, high, x_m, y_m;
    } rows[] = {{1.2, 99.5, 0.5, 99.5, 0.6, 50},
                {0.5, 98.8, 0.5, 99.5, 99.4, 50},
                {0.5, 99.5, 1.2, 99.5, 50, 0.6},
                {0.5, 99.5, 0.5, 98.8, 50, 99.4}};
    for (size_t i = 0; i < 4; i++) {
        const double a = rows[i].left, b = rows[i].right;
        const double c = rows[i].low, d = rows[i].high;
        const struct fw_point points[] = {{0, 0},   {100, 0}, {100, 100},
                                          {0, 100}, {a, c},   {b, c},
                                          {b, d},   {a, d}};
        const size_t start[] = {0, 4, 8};
        struct fw_point got;
        assert_int_equal(
            place_of(points, start, 2, points[0], NULL, 10, &got, NULL), FW_OK);
        assert_near(got.x_m, rows[i].x_m, 1e-9);
        assert_near(got.y_m, rows[i].y_m, 1e-9);
    }
}

/* The frame is wider in one corner alone, and there between the grid's places:
 * a square of room_m. Of cells halved once the middle is at 100 / 60 m, of
 * those halved three times at 100 / 240 m, from both sides of the corner. */
static void room_in_a_corner_is_found_between_the_places(void **state)
{
    (void)state;
    static const struct {
        double frame_m, room_m, at_m;
    } rows[] = {{0.5, 3, 100.0 / 60}, {0.3, 1.2, 100.0 / 240}};
    for (size_t i = 0; i < 2; i++)
        for (int corner = 0; corner < 8; corner++) {
            const double f = rows[i].frame_m, room = rows[i].room_m;
            struct fw_point points[] = {
                {0, 0},    {100, 0},     {100, 100},         {0, 100},
                {room, f}, {100 - f, f}, {100 - f, 100 - f}, {f, 100 - f},
                {f, room}, {room, room}};
            struct fw_point wanted = {rows[i].at_m, rows[i].at_m};
            /* Twice as long as wide the room is no square either. */
            const double stretch = corner & 4 ? 2 : 1;
            for (size_t k = 0; k < 10; k++) {
                struct fw_point *p = &points[k];
                p->x_m = stretch * (corner & 1 ? 100 - p->x_m : p->x_m);
                p->y_m = corner & 2 ? 100 - p->y_m : p->y_m;
            }
            wanted.x_m = stretch * (corner & 1 ? 100 - wanted.x_m : wanted.x_m);
            wanted.y_m = corner & 2 ? 100 - wanted.y_m : wanted.y_m;
            const size_t start[] = {0, 4, 10};
            struct fw_point got;
            assert_int_equal(
                place_of(points, start, 2, points[0], NULL, 10, &got, NULL),
                FW_OK);
            assert_near(got.x_m, wanted.x_m, 1e-9);
            assert_near(got.y_m, wanted.y_m, 1e-9);
        }
}

static void ring_may_stand_anywhere_in_its_list(void **state)
{
    (void)state;
    const struct fw_point points[] = {{7, 7},   {8, 8},  {0, 0},  {30, 0},
                                      {30, 40}, {0, 40}, {0, 90}, {-9, 90},
                                      {-9, 50}, {-9, 0}};
    const size_t start[] = {2, 6};
    const struct fw_walk walk =
        fw_water_walk(points, start, 1, (struct fw_point){0, 0});
    assert_true(walk.known);
    assert_near(walk.longest_m, 50, 1e-9);
}

/* No two sides of it have one direction, and it is the same paddock from
 * whichever corner it is told. */
static void trough_is_the_same_from_every_corner(void **state)
{
    (void)state;
    static const struct fw_point corners[] = {
        {0, 0}, {140, 35}, {110, 90}, {15, 60}};
    struct fw_point wanted = {0, 0};
    for (size_t turn = 0; turn < 4; turn++) {
        struct fw_point ring[4], got;
        for (size_t i = 0; i < 4; i++)
            ring[i] = corners[(i + turn) % 4];
        assert_int_equal(place_of(ring, four, 1, (struct fw_point){60, 5}, NULL,
                                  6, &got, NULL),
                         FW_OK);
        if (turn == 0)
            wanted = got;
        assert_near(got.x_m, wanted.x_m, 1e-9);
        assert_near(got.y_m, wanted.y_m, 1e-9);
    }
}

static void refused(const struct fw_point *ring, struct fw_point from,
                    const struct fw_point *opening, double keep_m,
                    const char *says)
{
    struct fw_point out = {7, 7};
    struct fw_error err = {.text = ""};
    assert_true(place_of(ring, four, 1, from, opening, keep_m, &out, &err) !=
                FW_OK);
    if (!strstr(err.text, says))
        fail_msg("%s", err.text);
    assert_near(out.x_m, 7, 0);
}

static void each_number_has_to_be_finite(void **state)
{
    (void)state;
    const double none[] = {(double)NAN, (double)INFINITY};
    const struct fw_point ring[] = {{0, 0}, {60, 0}, {60, 40}, {0, 40}};
    const struct fw_point at = {0, 0};
    for (size_t i = 0; i < 2; i++) {
        const struct fw_point x = {none[i], 1}, y = {1, none[i]};
        const char *says = "a paddock of 4 corners, or a point that is not";
        refused(ring, x, NULL, 10, says);
        refused(ring, y, NULL, 10, says);
        refused(ring, at, &x, 10, says);
        refused(ring, at, &y, 10, says);
        for (size_t k = 0; k < 4; k++) {
            struct fw_point lost[4];
            memcpy(lost, ring, sizeof lost);
            lost[k].x_m = none[i];
            refused(lost, at, NULL, 10, says);
            lost[k] = (struct fw_point){1, none[i]};
            refused(lost, at, NULL, 10, says);
        }
        refused(ring, at, NULL, none[i], "distance of the trough");
    }
    refused(ring, at, NULL, -0.1, "fence is -0.1 m; expected 0 or more");
}

static void trips_end_at_a_million(void **state)
{
    (void)state;
    int trips = -1;
    struct fw_error err = {.text = ""};
    assert_int_equal(fw_water_trips(1e6, 1, &trips, NULL), FW_OK);
    assert_int_equal(trips, 1000000);
    assert_int_equal(fw_water_trips(0, 1, &trips, NULL), FW_OK);
    assert_int_equal(trips, 0);
    assert_int_equal(fw_water_trips(501, 500, &trips, NULL), FW_OK);
    assert_int_equal(trips, 2);
    assert_int_equal(fw_water_trips(1000, 500, &trips, NULL), FW_OK);
    assert_int_equal(trips, 2);
    assert_int_equal(fw_water_trips(0.1, 500, &trips, NULL), FW_OK);
    assert_int_equal(trips, 1);
    /* A part in a thousand million over is rounding, more is another trip. */
    assert_int_equal(fw_water_trips(1 + 0.97e-9, 1, &trips, NULL), FW_OK);
    assert_int_equal(trips, 1);
    assert_int_equal(fw_water_trips(1 + 1.03e-9, 1, &trips, NULL), FW_OK);
    assert_int_equal(trips, 2);
    assert_int_equal(fw_water_trips(0.1, 500, &trips, NULL), FW_OK);
    assert_int_equal(fw_water_trips(1e6 + 1, 1, &trips, &err), FW_EINPUT);
    assert_string_equal(err.text, "1e+06 litres in a tank of 1 litres are over "
                                  "a million trips; expected a larger tank");
    assert_int_equal(fw_water_trips((double)INFINITY, 1, &trips, &err),
                     FW_EINPUT);
    assert_string_equal(err.text, "water is inf litres; expected 0 or more");
    assert_int_equal(fw_water_trips(1, (double)INFINITY, &trips, &err),
                     FW_EINPUT);
    assert_string_equal(err.text,
                        "tank holds inf litres; expected over 0, such as 500");
    assert_int_equal(trips, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(place_is_the_best_of_the_grid),
        cmocka_unit_test(place_is_among_those_tried),
        cmocka_unit_test(narrow_paddock_keeps_nearly_the_widest_gap),
        cmocka_unit_test(nearest_place_is_taken_where_none_sees_all),
        cmocka_unit_test(sliver_has_its_trough_in_its_longer_arm),
        cmocka_unit_test(frame_has_its_trough_in_its_widest_side),
        cmocka_unit_test(room_in_a_corner_is_found_between_the_places),
        cmocka_unit_test(ring_may_stand_anywhere_in_its_list),
        cmocka_unit_test(trough_is_the_same_from_every_corner),
        cmocka_unit_test(each_number_has_to_be_finite),
        cmocka_unit_test(trips_end_at_a_million),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
