/* Paddocks that have what is kept back for later, against the distance that
 * GEOS finds: with more wanted than there is, each of them is told. */
#include "figures/layout.h"
#include "random_plot.h"

enum { kind_points = 24 };

struct drawn_mark {
    struct fw_point points[kind_points];
    size_t ring_start[3];
    struct fw_layout_mark mark;
};

/* A point, a line, an area, or an area with a clearing. */
static void draw_mark(struct drawn_mark *out, uint64_t *seed)
{
    const struct fw_point at = {draw(seed, -260, 260), draw(seed, -260, 260)};
    const size_t kind = draw_count(seed, 0, 3);
    const double wide_m = kind < 3 ? draw(seed, 2, 90) : draw(seed, 60, 300);
    size_t n = 0;
    *out = (struct drawn_mark){.ring_start = {0}};
    const size_t corners = kind == 0 ? 1 : draw_count(seed, 3, 7);
    for (size_t i = 0; i < corners; i++) {
        const double way = 2 * PI * (double)i / (double)corners;
        out->points[n++] = (struct fw_point){at.x_m + wide_m * cos(way),
                                             at.y_m + wide_m * sin(way)};
    }
    out->ring_start[1] = n;
    for (size_t i = 0; kind == 3 && i < corners; i++) {
        const struct fw_point p = out->points[corners - 1 - i];
        out->points[n++] = (struct fw_point){at.x_m + (p.x_m - at.x_m) * 0.8,
                                             at.y_m + (p.y_m - at.y_m) * 0.8};
    }
    out->ring_start[2] = n;
    out->mark = (struct fw_layout_mark){.points = out->points,
                                        .ring_start = out->ring_start,
                                        .ring_count = kind == 3 ? 2 : 1,
                                        .area = kind >= 2};
}

static GEOSGeometry *geos_mark(GEOSContextHandle_t geos,
                               const struct drawn_mark *drawn)
{
    const size_t count = drawn->ring_start[1];
    if (drawn->mark.area)
        return geos_polygon(geos, drawn->points, drawn->ring_start,
                            drawn->mark.ring_count);
    GEOSCoordSequence *line = GEOSCoordSeq_create_r(geos, (unsigned)count, 2);
    for (size_t i = 0; i < count; i++)
        GEOSCoordSeq_setXY_r(geos, line, (unsigned)i, drawn->points[i].x_m,
                             drawn->points[i].y_m);
    return count == 1 ? GEOSGeom_createPoint_r(geos, line)
                      : GEOSGeom_createLineString_r(geos, line);
}

static void assert_told(GEOSContextHandle_t geos, const struct fw_field *field,
                        const struct fw_layout *layout,
                        const GEOSGeometry *mark, size_t tally[2])
{
    for (size_t p = 0; p < layout->paddock_count; p++) {
        GEOSGeometry *ground = geos_ground(geos, field, layout, p);
        double m = HUGE_VAL;
        assert_int_equal(GEOSDistance_r(geos, ground, mark, &m), 1);
        GEOSGeom_destroy_r(geos, ground);
        if (fabs(m - FW_KEEP_REACH_M) < 1e-6)
            continue;
        const bool told = layout->keep[p] == 1 || layout->barred[p] == 1;
        if (told != (m < FW_KEEP_REACH_M))
            fail_msg("%s: paddock %zu is %g m off and %s", layout->name, p, m,
                     told ? "told" : "not told");
        tally[told]++;
    }
}

static void paddocks_with_a_mark_are_told(void **state)
{
    (void)state;
    uint64_t seed = seeded(2381);
    size_t tally[2] = {0, 0};
    GEOSContextHandle_t geos = GEOS_init_r();
    for (int i = 0; i < 150; i++) {
        struct plot plot = {.ring_start = {0}};
        struct drawn_mark drawn;
        struct fw_layout_list list = {0};
        struct fw_error err = {0};
        add_star(&plot, &seed, (struct fw_point){0, 0}, 250,
                 draw_count(&seed, 4, 16), false);
        draw_mark(&drawn, &seed);
        const double target =
            plot.field.area_m2 / (double)draw_count(&seed, 4, 9);
        const struct fw_layout_keep keep = {
            .stays = 1000, .marks = &drawn.mark, .mark_count = 1};
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .last = FW_LAST_EVEN,
                                                  .directions = 6,
                                                  .keep = &keep,
                                                  .keep_count = 1,
                                                  .pattern = "strips"};
        const enum fw_status status =
            fw_layout_candidates(&request, &list, &err);
        if (status && status != FW_EPLAN)
            fail_msg("%s", err.text);
        GEOSGeometry *mark = geos_mark(geos, &drawn);
        for (size_t k = 0; k < list.count; k++)
            assert_told(geos, &plot.field, &list.items[k], mark, tally);
        GEOSGeom_destroy_r(geos, mark);
        fw_layout_list_release(&list);
    }
    GEOS_finish_r(geos);
    printf("# %zu told, %zu not\n", tally[1], tally[0]);
    assert_true(tally[0] > 100 && tally[1] > 100);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(paddocks_with_a_mark_are_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
