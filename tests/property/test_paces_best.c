/* Of all ways to tell where a line ends, the plan tells the best: every other
 * one is tried here, one after the other, on fields of our own. */
#include "random_farm.h"
#include "time_farms.h"
#include "unit/test.h"

#include "make/make.h"
#include "plan/plan.h"

#include <geos_c.h>
#include <stdbool.h>
#include <stdlib.h>

static const double slack_m = 1e-6;

static size_t told[4], on, far_ends, unclear,
    shares; /* of each enum fw_paced */

/* ---- fences ---- */

static struct fw_point place(const struct fw_plan *plan, size_t fence,
                             size_t vertex)
{
    return plan->fields[plan->fences[fence].field].vertices[vertex].plane;
}

static double apart_m(struct fw_point a, struct fw_point b)
{
    return hypot(b.x_m - a.x_m, b.y_m - a.y_m);
}

static size_t end_of(const struct fw_plan_fence *fence, bool far)
{
    return fence->line[far ? fence->line_count - 1 : 0];
}

/* Where on the fence that vertex is, from A; negative: nowhere. */
static double on_fence_m(const struct fw_plan *plan, size_t fence,
                         size_t vertex)
{
    const struct fw_plan_fence *of = &plan->fences[fence];
    size_t v = 0;
    double m = 0;
    while (v < of->line_count && of->line[v] != vertex)
        v++;
    if (v == of->line_count)
        return -1;
    for (; v > 0; v--)
        m += apart_m(place(plan, fence, of->line[v]),
                     place(plan, fence, of->line[v - 1]));
    return m;
}

static bool is_inside(const struct fw_plan *plan, size_t fence)
{
    return plan->fences[fence].role != FW_FENCE_PERIMETER;
}

/* Lines are set in their order, fronts before all; one whose last paddock comes
 * before those of the other is down by then. */
static bool stands_for(const struct fw_plan *plan, size_t other, size_t self)
{
    const struct fw_plan_fence *a = &plan->fences[other];
    const struct fw_plan_fence *b = &plan->fences[self];
    if (other == self || !is_inside(plan, other))
        return false;
    if (a->to < b->from)
        return false;
    if (a->stood && !b->stood)
        return true;
    return a->stood == b->stood && other < self;
}

static bool is_come_from(const struct fw_plan *plan, size_t other, size_t self)
{
    const struct fw_plan_fence *a = &plan->fences[other];
    if (a->role == FW_FENCE_LANE || !stands_for(plan, other, self))
        return false;
    return a->stood || a->from < plan->fences[self].from;
}

/* ---- on a line ---- */

/* A word of four letters, the better the later in the alphabet. */
static int worth(const struct fw_plan *plan, size_t host, size_t self,
                 size_t end)
{
    const struct fw_plan_fence *of = &plan->fences[host];
    int sum = 0;
    if (of->stood)
        sum += 1000;
    if (stands_for(plan, host, self))
        sum += 100;
    if (of->role != FW_FENCE_MOVED)
        sum += 10;
    if (end_of(of, false) != end && end_of(of, true) != end)
        sum += 1;
    return sum;
}

static size_t best_host(const struct fw_plan *plan, size_t self, size_t end)
{
    size_t best = FW_NONE;
    int most = -1;
    for (size_t i = 0; i < plan->fence_count; i++) {
        if (i == self || !is_inside(plan, i) || on_fence_m(plan, i, end) < 0 ||
            plan->fences[i].field != plan->fences[self].field)
            continue;
        if (worth(plan, i, self, end) > most) {
            most = worth(plan, i, self, end);
            best = i;
        }
    }
    return best;
}

static void look_at_line(const struct fw_plan *plan, size_t self, size_t end,
                         const struct fw_plan_paced *paced)
{
    const struct fw_plan_fence *host = &plan->fences[paced->fence];
    const struct fw_plan_field *field = &plan->fields[host->field];
    const struct fw_plan_place *start =
        field->park.given ? &field->park : &field->gate;
    assert_int_equal(paced->fence, best_host(plan, self, end));
    const double a_m =
        apart_m(start->plane, place(plan, self, end_of(host, false)));
    const double b_m =
        apart_m(start->plane, place(plan, self, end_of(host, true)));
    if (!start->given)
        assert_false(paced->far_end);
    else if (fabs(a_m - b_m) > slack_m)
        assert_int_equal(paced->far_end, b_m < a_m);
    const double from_a_m = on_fence_m(plan, paced->fence, end);
    assert_near(paced->along_m,
                paced->far_end ? host->length_m - from_a_m : from_a_m, 0.02);
    far_ends += paced->far_end;
}

/* ---- on a side ---- */

/* Round the outer ring from one of its vertices, one way or the other, to the
 * first that is a corner: how far, and which. */
static double to_corner_m(const struct fw_plan_field *field, size_t at, int way,
                          size_t *corner)
{
    const size_t all = field->rings.ring_start[1];
    const size_t *ring = field->rings.vertices;
    double m = 0;
    for (;;) {
        for (size_t c = 0; c < field->corner_count; c++)
            if (field->corners[c] == ring[at]) {
                *corner = c;
                return m;
            }
        const size_t next = (at + all + (size_t)way) % all;
        m += apart_m(field->vertices[ring[at]].plane,
                     field->vertices[ring[next]].plane);
        at = next;
    }
}

static size_t in_ring(const struct fw_plan_field *field, size_t vertex)
{
    for (size_t i = 0; i < field->rings.ring_start[1]; i++)
        if (field->rings.vertices[i] == vertex)
            return i;
    return FW_NONE;
}

static void look_at_side(const struct fw_plan_field *field, size_t end,
                         const struct fw_plan_paced *paced)
{
    size_t a, b;
    const size_t at = in_ring(field, end);
    const double on_m = to_corner_m(field, at, 1, &a);
    const double back_m = to_corner_m(field, at, -1, &b);
    assert_near(paced->along_m, fmin(on_m, back_m), slack_m);
    if (fabs(on_m - back_m) > slack_m)
        assert_int_equal(paced->corner, on_m < back_m ? a : b);
}

/* From the corner that counting starts at, towards the other one; negative: it
 * does not stand on that side. */
static double on_side_m(const struct fw_plan_field *field,
                        const struct fw_plan_paced *paced, size_t vertex)
{
    const size_t all = field->rings.ring_start[1];
    const size_t *ring = field->rings.vertices;
    const bool clockwise =
        (paced->corner + 1) % field->corner_count == paced->towards;
    size_t at = in_ring(field, field->corners[paced->corner]);
    double m = 0;
    while (ring[at] != vertex) {
        if (ring[at] == field->corners[paced->towards] && m > 0)
            return -1;
        const size_t next = clockwise ? (at + all - 1) % all : (at + 1) % all;
        m += apart_m(field->vertices[ring[at]].plane,
                     field->vertices[ring[next]].plane);
        at = next;
    }
    return m;
}

/* ---- on from the last fence ---- */

static void look_on(const struct fw_plan *plan, size_t self, size_t end,
                    const struct fw_plan_paced *paced)
{
    const struct fw_plan_field *field = &plan->fields[plan->fences[self].field];
    double best_m = HUGE_VAL;
    for (size_t i = 0; i < plan->fence_count; i++) {
        if (plan->fences[i].field != plan->fences[self].field ||
            !is_come_from(plan, i, self) || i == paced->fence)
            continue;
        for (int e = 0; e < 2; e++) {
            const size_t there = end_of(&plan->fences[i], e != 0);
            const bool side = paced->by == FW_PACED_SIDE;
            if (side && in_ring(field, there) == FW_NONE)
                continue;
            const double m = side ? on_side_m(field, paced, there)
                                  : on_fence_m(plan, paced->fence, there);
            const double here_m = side ? on_side_m(field, paced, end)
                                       : on_fence_m(plan, paced->fence, end);
            if (m >= 0)
                best_m = fmin(best_m, fabs(m - here_m));
        }
    }
    if (fabs(best_m - paced->along_m) < slack_m)
        return; /* as far as the corner: either will do */
    if (paced->paces == 0 || best_m > paced->along_m) {
        assert_int_equal(paced->on_from, FW_NONE);
        assert_true(paced->on_paces < 0);
        return;
    }
    assert_true(paced->on_from != FW_NONE);
    assert_true(is_come_from(plan, paced->on_from, self));
    const double paces = best_m / plan->pace_m;
    assert_true(fabs(paced->on_paces - paces) <= 0.5 + slack_m);
    on++;
}

/* ---- straight ---- */

static bool is_clear(GEOSContextHandle_t geos, const GEOSGeometry *ground,
                     struct fw_point a, struct fw_point b)
{
    GEOSCoordSequence *ends = GEOSCoordSeq_create_r(geos, 2, 2);
    GEOSCoordSeq_setXY_r(geos, ends, 0, a.x_m, a.y_m);
    GEOSCoordSeq_setXY_r(geos, ends, 1, b.x_m, b.y_m);
    GEOSGeometry *line = GEOSGeom_createLineString_r(geos, ends);
    GEOSGeometry *off = GEOSDifference_r(geos, line, ground);
    double off_m = (double)NAN;
    GEOSLength_r(geos, off, &off_m);
    GEOSGeom_destroy_r(geos, off);
    GEOSGeom_destroy_r(geos, line);
    return off_m < 0.02;
}

static GEOSGeometry *ground_of(GEOSContextHandle_t geos,
                               const struct fw_plan_field *field)
{
    GEOSGeometry *loops[64];
    assert_true(field->rings.ring_count <= 64);
    for (size_t r = 0; r < field->rings.ring_count; r++) {
        const size_t first = field->rings.ring_start[r];
        const size_t count = field->rings.ring_start[r + 1] - first;
        GEOSCoordSequence *points =
            GEOSCoordSeq_create_r(geos, (unsigned)count + 1, 2);
        for (size_t i = 0; i <= count; i++) {
            const struct fw_point p =
                field->vertices[field->rings.vertices[first + i % count]].plane;
            GEOSCoordSeq_setXY_r(geos, points, (unsigned)i, p.x_m, p.y_m);
        }
        loops[r] = GEOSGeom_createLinearRing_r(geos, points);
    }
    return GEOSGeom_createPolygon_r(geos, loops[0], loops + 1,
                                    (unsigned)field->rings.ring_count - 1);
}

struct look {
    GEOSContextHandle_t geos;
    GEOSGeometry *ground;
    double clear_m, any_m; /* the nearest of each */
};

static void look_from(struct look *look, struct fw_point from,
                      struct fw_point to)
{
    const double m = apart_m(from, to);
    look->any_m = fmin(look->any_m, m);
    if (m < look->clear_m && is_clear(look->geos, look->ground, from, to))
        look->clear_m = m;
}

static void look_straight(GEOSContextHandle_t geos, const struct fw_plan *plan,
                          size_t self, size_t end,
                          const struct fw_plan_paced *paced)
{
    const struct fw_plan_field *field = &plan->fields[plan->fences[self].field];
    struct look look = {geos, ground_of(geos, field), HUGE_VAL, HUGE_VAL};
    const struct fw_point to = place(plan, self, end);
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].field == plan->fences[self].field &&
            stands_for(plan, i, self))
            for (int e = 0; e < 2; e++)
                look_from(&look,
                          place(plan, i, end_of(&plan->fences[i], e != 0)), to);
    for (size_t c = 0; c < field->corner_count; c++)
        look_from(&look, field->vertices[field->corners[c]].plane, to);
    assert_near(paced->along_m,
                look.clear_m < HUGE_VAL ? look.clear_m : look.any_m, slack_m);
    if (paced->fence != FW_NONE)
        assert_true(stands_for(plan, paced->fence, self));
    unclear += look.any_m < look.clear_m - slack_m;
    GEOSGeom_destroy_r(geos, look.ground);
}

/* ---- what a pace is worth ---- */

static bool is_edge_of(const struct fw_plan *plan, size_t paddock, size_t a,
                       size_t b)
{
    const struct fw_plan_rings *rings = &plan->paddocks[paddock].rings;
    for (size_t r = 0; r < rings->ring_count; r++)
        for (size_t i = rings->ring_start[r]; i < rings->ring_start[r + 1];
             i++) {
            const size_t next =
                i + 1 < rings->ring_start[r + 1] ? i + 1 : rings->ring_start[r];
            if (rings->vertices[i] == a && rings->vertices[next] == b)
                return true;
        }
    return false;
}

/* Along what the end goes on one pace: the line that it ends on, or of the two
 * pieces of the boundary the one that is not the paddock's behind it. */
static bool goes_along(const struct fw_plan *plan, size_t self, bool far,
                       struct fw_point *out)
{
    const struct fw_plan_fence *fence = &plan->fences[self];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const struct fw_plan_paced *paced = far ? &fence->b : &fence->a;
    const size_t end = end_of(fence, far), all = field->rings.ring_start[1];
    size_t next = FW_NONE;
    if (paced->by == FW_PACED_LINE) {
        const struct fw_plan_fence *host = &plan->fences[paced->fence];
        for (size_t v = 0; v < host->line_count; v++)
            if (host->line[v] == end)
                next = host->line[v + 1 < host->line_count ? v + 1 : v - 1];
    } else if (in_ring(field, end) != FW_NONE) {
        const size_t at = in_ring(field, end);
        const size_t ahead = field->rings.vertices[(at + 1) % all];
        const size_t back = field->rings.vertices[(at + all - 1) % all];
        const bool behind = is_edge_of(plan, fence->from, end, ahead);
        if (behind == is_edge_of(plan, fence->from, back, end))
            return false; /* it touches there on both sides, or on none */
        next = behind ? back : ahead;
    } else {
        return false;
    }
    *out = field->vertices[next].plane;
    return true;
}

static double sine(struct fw_point p, struct fw_point q, struct fw_point u)
{
    const double turn =
        atan2(q.y_m - p.y_m, q.x_m - p.x_m) - atan2(u.y_m, u.x_m);
    return fabs(sin(turn));
}

/* What both ends sweep over as they go on one pace, as a share of a day's
 * feed. */
static void look_at_share(const struct fw_plan *plan, size_t self)
{
    const struct fw_plan_fence *fence = &plan->fences[self];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    struct fw_point a, b;
    if (fence->role != FW_FENCE_MOVED) {
        assert_near(fence->pace_share, 0, 0);
        return;
    }
    if (!goes_along(plan, self, false, &a) || !goes_along(plan, self, true, &b))
        return;
    const struct fw_point p = place(plan, self, end_of(fence, false));
    const struct fw_point q = place(plan, self, end_of(fence, true));
    const struct fw_point along = {q.x_m - p.x_m, q.y_m - p.y_m};
    const double square = (sine(p, a, along) + sine(q, b, along)) / 2;
    const double swept_ha = fence->length_m * plan->pace_m * square / 1e4;
    assert_relative(fence->pace_share,
                    swept_ha * field->usable_kg_ha / plan->flock.demand_kg_day,
                    1e-6);
    shares++;
}

/* ---- all of it ---- */

static void look_at_end(GEOSContextHandle_t geos, const struct fw_plan *plan,
                        size_t self, bool far)
{
    const struct fw_plan_fence *fence = &plan->fences[self];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const struct fw_plan_paced *paced = far ? &fence->b : &fence->a;
    const size_t end = end_of(fence, far);
    const bool edge = in_ring(field, end) != FW_NONE;
    told[paced->by]++;
    assert_int_equal(paced->by == FW_PACED_SIDE, edge);
    if (!edge)
        assert_int_equal(paced->by == FW_PACED_LINE,
                         best_host(plan, self, end) != FW_NONE);
    if (paced->by == FW_PACED_SIDE)
        look_at_side(field, end, paced);
    else if (paced->by == FW_PACED_LINE)
        look_at_line(plan, self, end, paced);
    else
        look_straight(geos, plan, self, end, paced);
    if (paced->by != FW_PACED_STRAIGHT)
        look_on(plan, self, end, paced);
}

static void try_field(GEOSContextHandle_t geos, struct real_fields *own,
                      size_t index, size_t setting)
{
    static const char *const layouts[] = {NULL, "blocks", "lane", "turning"};
    static struct farm_room room;
    struct fw_plan *plan = NULL;
    make_farm(&room, &own->fields[index], 1, own->crs,
              setting_of(setting % setting_count));
    room.farm.layout = (char *)layouts[index % 4];
    if (setting % 3 == 0) /* and the vehicle elsewhere */
        put_spot(own->fields[index], own->fields[index]->corners[1],
                 &room.fields[0].park);
    if (fw_plan_make(&room.farm, &plan, NULL))
        return;
    for (size_t i = 0; i < plan->fence_count; i++)
        if (is_inside(plan, i)) {
            look_at_end(geos, plan, i, false);
            look_at_end(geos, plan, i, true);
            look_at_share(plan, i);
        }
    fw_plan_free(plan);
}

static void no_other_way_is_better(void **state)
{
    (void)state;
    uint64_t seed = seeded(31);
    GEOSContextHandle_t geos = GEOS_init_r();
    for (size_t m = 0; m < own_maps; m++) {
        struct real_fields own = own_fields(m, &seed);
        for (size_t i = 0; i < own.count; i++)
            try_field(geos, &own, i, i + 7 * m);
        release_fields(&own);
    }
    GEOS_finish_r(geos);
    print_message("# %zu on sides, %zu on lines (%zu from B), %zu straight "
                  "(%zu round something nearer), %zu with the last fence\n",
                  told[FW_PACED_SIDE], told[FW_PACED_LINE], far_ends,
                  told[FW_PACED_STRAIGHT], unclear, on);
    assert_true(told[FW_PACED_SIDE] > 500 && told[FW_PACED_LINE] > 200 &&
                told[FW_PACED_STRAIGHT] > 20);
    assert_true(far_ends > 50 && on > 300 && shares > 500);
    assert_int_equal(told[FW_PACED_UNTOLD], 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_other_way_is_better),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
