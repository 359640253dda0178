/* Paddocks of some 500 m2 against what a GIS measures of them: the polygons as
 * they are written, each edge straight in the field's own system, cut into
 * many pieces and summed along geodesics. The posts against the lines that are
 * written with them. */
#include "farm_help.h"

#include "crs/crs.h"
#include "make/make.h"
#include "plan/plan.h"

#include <math.h>

enum { pieces = 64 };

/* A field 165 m long, aslant, at 62 degrees: its sides bow by up to 0.9 mm in
 * longitude and latitude. */
static void put_field(void)
{
    put_text("small.geojson",
             COLLECTION(FEATURE("Small",
                                POLYGON("[[25.0000,62.0000],[25.0031,62.00015],"
                                        "[25.0030,62.00060],[25.0001,62.00050],"
                                        "[25.0000,62.0000]]"))));
}

static struct fw_plan *plan_in(const char *crs, struct fw_farm **farm)
{
    char text[1024];
    snprintf(text, sizeof text,
             "start: 2027-05-17\nfields: {source: %s}\ngate: corner:1\n"
             "flock: [{head: 24, weight: 70 kg, class: dry-ewe, intake: "
             "2 kg/day}]\n"
             "forage: {mass: 2600 kg/ha, residual: 1400 kg/ha, use: 80 %%}\n",
             crs);
    struct fw_error err = {0};
    struct fw_plan *plan = NULL;
    *farm = farm_of(text, false, &err);
    if (!*farm || fw_plan_make(*farm, &plan, &err))
        fail_msg("%s", err.text);
    return plan;
}

static double drawn_m2(const struct fw_plan_field *field,
                       const struct fw_plan_rings *rings, struct fw_crs *crs)
{
    double m2 = 0;
    for (size_t r = 0; r < rings->ring_count; r++) {
        struct fw_xy corner[256], xy[256 * pieces];
        struct fw_lonlat at[256 * pieces];
        size_t count = 0;
        for (size_t i = rings->ring_start[r]; i < rings->ring_start[r + 1];
             i++) {
            const struct fw_vertex *v = &field->vertices[rings->vertices[i]];
            if (v->kind != FW_VERTEX_BOW)
                corner[count++] = v->file;
        }
        assert_true(count < 256);
        for (size_t i = 0; i < count; i++)
            for (size_t k = 0; k < pieces; k++) {
                const struct fw_xy a = corner[i], b = corner[(i + 1) % count];
                const double t = (double)k / pieces;
                xy[i * pieces + k] = (struct fw_xy){a.x + t * (b.x - a.x),
                                                    a.y + t * (b.y - a.y)};
            }
        assert_int_equal(
            fw_crs_to_lonlat(crs, xy, at, count * pieces, NULL, NULL), FW_OK);
        m2 += fw_geo_area_m2(at, count * pieces);
    }
    return m2;
}

static void small_paddocks_are_as_large_as_they_are_drawn(void **state)
{
    (void)state;
    struct fw_farm *farm;
    put_field();
    struct fw_plan *plan = plan_in("small.geojson", &farm);
    const struct fw_plan_field *field = &plan->fields[0];
    struct fw_crs *crs;
    assert_int_equal(fw_crs_new(field->crs, &crs, NULL), FW_OK);
    assert_true(plan->paddock_count > 8);
    double sum_ha = 0;
    for (size_t i = 0; i < plan->paddock_count; i++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[i];
        assert_true(paddock->area_ha < 0.06);
        assert_relative(paddock->area_ha * 1e4,
                        drawn_m2(field, &paddock->rings, crs), 1e-6);
        sum_ha += paddock->area_ha;
    }
    assert_relative(sum_ha, field->grazed_ha, 1e-9);
    fw_crs_free(crs);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* ---- posts ---- */

/* In metres near enough: sx and sy of one unit. */
static double off_line_m(const struct fw_xy *line, size_t count,
                         struct fw_xy post, double sx, double sy)
{
    double least_m = HUGE_VAL;
    for (size_t i = 0; i + 1 < count; i++) {
        const double ax = line[i].x * sx, ay = line[i].y * sy;
        const double bx = line[i + 1].x * sx - ax, by = line[i + 1].y * sy - ay;
        const double px = post.x * sx - ax, py = post.y * sy - ay;
        const double square = bx * bx + by * by;
        const double t =
            square > 0 ? fmin(1, fmax(0, (px * bx + py * by) / square)) : 0;
        least_m = fmin(least_m, hypot(px - t * bx, py - t * by));
    }
    return least_m;
}

/* The farthest that any post stands from its fence as it is drawn. */
static double most_off_m(const struct fw_plan *plan, bool degrees, bool lonlat)
{
    const double degree_m = 111000;
    const double sy = degrees || lonlat ? degree_m : 1;
    const double sx = degrees || lonlat ? sy * cos(62 * acos(-1) / 180) : 1;
    double most_m = 0;
    for (size_t i = 0; i < plan->post_count; i++) {
        const struct fw_plan_post *post = &plan->posts[i];
        const struct fw_plan_fence *fence = &plan->fences[post->fence];
        const struct fw_vertex *vertices = plan->fields[fence->field].vertices;
        struct fw_xy line[256];
        assert_true(fence->line_count <= 256);
        for (size_t k = 0; k < fence->line_count; k++) {
            const struct fw_vertex *v = &vertices[fence->line[k]];
            line[k] = lonlat
                          ? (struct fw_xy){v->lonlat.lon_deg, v->lonlat.lat_deg}
                          : v->file;
        }
        const struct fw_xy at = lonlat
                                    ? (struct fw_xy){post->place.lonlat.lon_deg,
                                                     post->place.lonlat.lat_deg}
                                    : post->place.file;
        most_m = fmax(most_m, off_line_m(line, fence->line_count, at, sx, sy));
    }
    return most_m;
}

/* Lines of up to 700 m, aslant: straight on the ground they would lie up to 2
 * cm beside what is drawn straight in longitude and latitude. */
static void posts_stand_on_their_lines_as_drawn(void **state)
{
    (void)state;
    put_text("degrees.geojson",
             COLLECTION(FEATURE("Large",
                                POLYGON("[[25.0000,62.0000],[25.0130,62.0010],"
                                        "[25.0120,62.0070],[25.0005,62.0060],"
                                        "[25.0000,62.0000]]"))));
    put_text("metres.geojson",
             COLLECTION(
                 FEATURE("Large", POLYGON("[[395000,6876000],[395680,6876110],"
                                          "[395620,6876780],[395020,6876670],"
                                          "[395000,6876000]]"))));
    for (int metres = 0; metres < 2; metres++) {
        struct fw_farm *farm;
        struct fw_plan *plan = plan_in(
            metres ? "metres.geojson, crs: 'EPSG:25835'" : "degrees.geojson",
            &farm);
        assert_true(plan->post_count > 50);
        assert_true(most_off_m(plan, !metres, false) < 1e-5);
        assert_true(most_off_m(plan, !metres, true) < 1e-5);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(small_paddocks_are_as_large_as_they_are_drawn),
        cmocka_unit_test(posts_stand_on_their_lines_as_drawn),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
