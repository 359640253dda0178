/* Where the ends of a fence are set, in paces, against the ground of the
 * sample's plan: every fence, at both ends. */
#include "sample_plan.h"

#include "log/log.h"

#include <math.h>
#include <string.h>

enum { most_points = 400 };

/* What an end stands on, from where counting starts. */
struct host {
    struct fw_point points[most_points];
    size_t count;
};

static double apart_m(struct fw_point a, struct fw_point b)
{
    return hypot(a.x_m - b.x_m, a.y_m - b.y_m);
}

static double length_m(const struct host *host)
{
    double sum = 0;
    for (size_t i = 1; i < host->count; i++)
        sum += apart_m(host->points[i - 1], host->points[i]);
    return sum;
}

static struct fw_point along(const struct host *host, double at_m)
{
    size_t i = 1;
    double piece = 0;
    for (; i < host->count; i++) {
        piece = apart_m(host->points[i - 1], host->points[i]);
        if (at_m <= piece || i + 1 == host->count)
            break;
        at_m -= piece;
    }
    const struct fw_point a = host->points[i - 1], b = host->points[i];
    return (struct fw_point){a.x_m + (b.x_m - a.x_m) * at_m / piece,
                             a.y_m + (b.y_m - a.y_m) * at_m / piece};
}

static double off_m(struct fw_point p, struct fw_point a, struct fw_point b)
{
    const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
    const double t =
        ((p.x_m - a.x_m) * x + (p.y_m - a.y_m) * y) / (x * x + y * y + 1e-300);
    const double in = fmin(fmax(t, 0), 1);
    return apart_m(p, (struct fw_point){a.x_m + in * x, a.y_m + in * y});
}

static bool is_on(const struct host *host, struct fw_point p)
{
    for (size_t i = 1; i < host->count; i++)
        if (off_m(p, host->points[i - 1], host->points[i]) < 1e-3)
            return true;
    return false;
}

static struct fw_point end_of(const struct fw_plan_fence *fence, bool at_a)
{
    return plan->fields[fence->field]
        .vertices[fence->line[at_a ? 0 : fence->line_count - 1]]
        .plane;
}

static void add(struct host *host, const struct fw_plan_field *field,
                size_t vertex)
{
    assert_true(host->count < most_points);
    host->points[host->count++] = field->vertices[vertex].plane;
}

/* A side goes from its corner to the other one, the shorter way round. */
static struct host side_of(const struct fw_plan_field *field, size_t from,
                           size_t to)
{
    struct host ways[2] = {{.count = 0}, {.count = 0}};
    const size_t count = field->rings.ring_start[1];
    for (size_t way = 0; way < 2; way++) {
        size_t i = 0;
        while (field->rings.vertices[i] != from)
            i++;
        add(&ways[way], field, from);
        while (field->rings.vertices[i] != to) {
            i = (i + (way ? count - 1 : 1)) % count;
            add(&ways[way], field, field->rings.vertices[i]);
        }
    }
    return ways[length_m(&ways[0]) > length_m(&ways[1])];
}

static struct host host_of(const struct fw_plan_paced *end,
                           const struct fw_plan_field *field)
{
    if (end->by == FW_PACED_SIDE)
        return side_of(field, field->corners[end->corner],
                       field->corners[end->towards]);
    const struct fw_plan_fence *fence = &plan->fences[end->fence];
    struct host host = {.count = 0};
    for (size_t i = 0; i < fence->line_count; i++)
        add(&host, field,
            fence->line[end->far_end ? fence->line_count - 1 - i : i]);
    return host;
}

static bool bounds(const struct fw_plan_paddock *paddock, struct fw_point p)
{
    const struct fw_plan_field *field = &plan->fields[paddock->field];
    const struct fw_plan_rings *rings = &paddock->rings;
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++)
            if (off_m(p, field->vertices[rings->vertices[first + i]].plane,
                      field->vertices[rings->vertices[first + (i + 1) % count]]
                          .plane) < 1e-3)
                return true;
    }
    return false;
}

/* How far it is from `at` to where a fence behind the paddock ends on the same
 * host; negative: none does. */
static double behind_m(const struct fw_plan_fence *fence,
                       const struct host *host, struct fw_point at)
{
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *other = &plan->fences[i];
        if (other == fence || other->role == FW_FENCE_PERIMETER ||
            other->field != fence->field || other->to != fence->from)
            continue;
        for (int at_a = 0; at_a < 2; at_a++) {
            const struct fw_plan_paced *end = at_a ? &other->a : &other->b;
            if (end->by != FW_PACED_SIDE && end->by != FW_PACED_LINE)
                continue;
            const struct host same = host_of(end, &plan->fields[fence->field]);
            if (fabs(length_m(&same) - length_m(host)) < 1e-6 &&
                is_on(host, same.points[0]) &&
                is_on(host, same.points[same.count - 1]))
                return apart_m(end_of(other, at_a), at);
        }
    }
    return -1;
}

struct counts {
    int on, plain, larger, smaller, turning, lines;
};

static void check_end(size_t index, bool at_a, struct counts *counts)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const struct fw_plan_paced *end = at_a ? &fence->a : &fence->b;
    const struct fw_log_paces got = fw_log_paces(plan, index, at_a);
    if (end->by != FW_PACED_SIDE && end->by != FW_PACED_LINE) {
        assert_int_equal(got.way, 0);
        assert_int_equal(got.paces, end->paces);
        return;
    }
    const struct host host = host_of(end, field);
    const struct fw_point at = end_of(fence, at_a);
    assert_near(apart_m(along(&host, end->along_m), at), 0, 0.01);
    const double on_m = behind_m(fence, &host, at);
    if (on_m >= 0) {
        counts->on++;
        assert_true(got.on);
        assert_int_equal(got.paces, (int)lround(on_m / plan->pace_m));
    } else {
        counts->plain++;
        assert_false(got.on);
        assert_int_equal(got.paces, end->paces);
    }

    /* Its paddock lies on one side of it along the host: beyond the other the
     * fence may go on. */
    const struct fw_plan_paddock *of = &plan->paddocks[fence->from];
    const double all_m = length_m(&host);
    const bool below =
        end->along_m > 1 && bounds(of, along(&host, end->along_m - 1));
    const bool above =
        end->along_m < all_m - 1 && bounds(of, along(&host, end->along_m + 1));
    counts->lines += end->by == FW_PACED_LINE;
    if (below == above) {
        counts->turning++;
        return;
    }
    const double room_m = below ? all_m - end->along_m : end->along_m;
    assert_int_equal(got.room, (int)floor(room_m / plan->pace_m + 1e-9));
    if (got.on) {
        assert_int_equal(got.way, got.paces > 0);
    } else {
        assert_int_equal(got.way, below ? 1 : -1);
    }
    *(below ? &counts->larger : &counts->smaller) += 1;
}

static void ends_are_set_as_the_ground_has_it(void **state)
{
    (void)state;
    struct counts counts = {0};
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].role != FW_FENCE_PERIMETER)
            for (int at_a = 0; at_a < 2; at_a++)
                check_end(i, at_a, &counts);
    print_message("# %d on from a fence, %d not; %d larger, %d smaller, %d "
                  "that turn, %d on lines\n",
                  counts.on, counts.plain, counts.larger, counts.smaller,
                  counts.turning, counts.lines);
    assert_true(counts.on > 15 && counts.plain > 15);
    assert_true(counts.larger > 20 && counts.smaller > 5);
}

/* Short of a pace there is no room, and a length is as many as go into it. */
static void room_is_in_whole_paces(void **state)
{
    (void)state;
    static const double left_m[] = {0, 0.2, 0.31, 0.59, 0.61, 0.91};
    static const int rooms[] = {0, 0, 1, 1, 2, 3};
    const double pace_m = plan->pace_m;
    int tried = 0;
    for (size_t i = 0; i < plan->fence_count; i++) {
        struct fw_plan_paced *end = &plan->fences[i].a;
        const double along_m = end->along_m;
        if (plan->fences[i].role == FW_FENCE_PERIMETER ||
            fw_log_paces(plan, i, true).way >= 0)
            continue;
        plan->pace_m = 0.3;
        for (size_t k = 0; k < sizeof left_m / sizeof *left_m; k++) {
            end->along_m = left_m[k];
            const struct fw_log_paces got = fw_log_paces(plan, i, true);
            if (got.way >= 0)
                continue;
            assert_int_equal(got.room, rooms[k]);
            tried++;
        }
        end->along_m = along_m;
        plan->pace_m = pace_m;
    }
    assert_true(tried > 6);
}

/* Both ends go on alike, one alone twice as far; as far as the nearer end of
 * side or line, and never to the start of it. */
static void set_anew_is_as_far_as_there_is_room(void **state)
{
    (void)state;
    static const double asked[] = {0, 0.4, 1, 2.5, 7, 40, 200, -3, -300};
    int turned = 0, ended = 0, least = 0;
    for (size_t i = 0; i < plan->fence_count; i++) {
        if (plan->fences[i].role == FW_FENCE_PERIMETER)
            continue;
        const struct fw_log_paces ends[2] = {fw_log_paces(plan, i, true),
                                             fw_log_paces(plan, i, false)};
        const int moving = (ends[0].way != 0) + (ends[1].way != 0);
        for (size_t k = 0; k < sizeof asked / sizeof *asked; k++) {
            int out[2];
            const enum fw_log_anew got =
                fw_log_paces_anew(plan, i, asked[k], out);
            if (moving == 0) {
                assert_int_equal(got, FW_LOG_NOBODY_KNOWS);
                continue;
            }
            const int want = (int)ceil(asked[k] * (moving == 1 ? 2 : 1) - 1e-9);
            int go = want;
            for (int e = 0; e < 2; e++)
                if (ends[e].way && ends[e].room < go)
                    go = ends[e].room;
            assert_int_equal(got, go < want ? FW_LOG_LINE_ENDS : FW_LOG_ANEW);
            for (int e = 0; e < 2; e++) {
                const int paces = ends[e].paces + ends[e].way * go;
                assert_int_equal(out[e], ends[e].way && paces < 1 ? 1 : paces);
                least += ends[e].way && paces < 1;
            }
            turned += moving == 1;
            ended += go < want;
        }
    }
    assert_true(turned > 10 && ended > 10 && least > 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ends_are_set_as_the_ground_has_it),
        cmocka_unit_test(room_is_in_whole_paces),
        cmocka_unit_test(set_anew_is_as_far_as_there_is_room),
    };
    return cmocka_run_group_tests(tests, read_sample, free_sample);
}
