/* Where an end stands that is on no side with a name and on no line: at the
 * edge of a pond, or of ground that is cut out. */
#include "make/paces.h"

#include "base/whole.h"
#include "figures/mark.h"

bool fw_plan__stands_before(const struct fw_plan *plan, size_t other,
                            size_t self)
{
    const struct fw_plan_fence *fence = &plan->fences[other];
    const bool front = fence->stood;
    if (other == self || fence->role == FW_FENCE_PERIMETER ||
        fence->to < plan->fences[self].from)
        return false;
    return front == plan->fences[self].stood ? other < self : front;
}

struct search {
    const struct fw_plan *plan;
    const struct fw_plan_field *field;
    size_t to;
    size_t best; /* vertex, or FW_NONE */
    bool clear;
    struct fw_plan_paced *out;
};

/* Positive: c lies to the left of the way from a to b. */
static double turn(struct fw_point a, struct fw_point b, struct fw_point c)
{
    return (b.x_m - a.x_m) * (c.y_m - a.y_m) -
           (b.y_m - a.y_m) * (c.x_m - a.x_m);
}

static bool do_cross(struct fw_point a, struct fw_point b, struct fw_point c,
                     struct fw_point d)
{
    return (turn(a, b, c) > 0) != (turn(a, b, d) > 0) &&
           (turn(c, d, a) > 0) != (turn(c, d, b) > 0);
}

static const double at_edge_m = FW_TOLERANCE(0.01);

/* What the rings have to say of a way that is paced. */
struct pacing {
    struct fw_point from, to, middle;
    struct fw_point least, most; /* a box around the way, a bit wider */
    bool inside, along, blocked;
};

static void look_at(struct pacing *look, struct fw_point a, struct fw_point b,
                    bool ends_there)
{
    if ((a.y_m > look->middle.y_m) != (b.y_m > look->middle.y_m) &&
        look->middle.x_m < a.x_m + (b.x_m - a.x_m) *
                                       (look->middle.y_m - a.y_m) /
                                       (b.y_m - a.y_m))
        look->inside = !look->inside;
    if ((a.x_m < look->least.x_m && b.x_m < look->least.x_m) ||
        (a.x_m > look->most.x_m && b.x_m > look->most.x_m) ||
        (a.y_m < look->least.y_m && b.y_m < look->least.y_m) ||
        (a.y_m > look->most.y_m && b.y_m > look->most.y_m))
        return; /* nearly all of them */
    look->along |= fw_segment_distance_m(look->middle, a, b) <= at_edge_m;
    look->blocked |= !ends_there && do_cross(look->from, look->to, a, b);
}

/* The ground between is the field's: no pond, no way out and in again. */
static bool is_clear(const struct fw_plan_field *field, size_t from, size_t to)
{
    const struct fw_point p = fw_plan__at(field, from);
    const struct fw_point q = fw_plan__at(field, to);
    struct pacing look = {
        .from = p,
        .to = q,
        .middle = {(p.x_m + q.x_m) / 2, (p.y_m + q.y_m) / 2},
        .least = {fmin(p.x_m, q.x_m) - at_edge_m,
                  fmin(p.y_m, q.y_m) - at_edge_m},
        .most = {fmax(p.x_m, q.x_m) + at_edge_m,
                 fmax(p.y_m, q.y_m) + at_edge_m},
    };
    for (size_t r = 0; r < field->rings.ring_count; r++) {
        const size_t first = field->rings.ring_start[r];
        const size_t count = field->rings.ring_start[r + 1] - first;
        for (size_t i = 0; !look.blocked && i < count; i++) {
            const size_t a = field->rings.vertices[first + i];
            const size_t b = field->rings.vertices[first + (i + 1) % count];
            look_at(&look, fw_plan__at(field, a), fw_plan__at(field, b),
                    a == from || a == to || b == from || b == to);
        }
    }
    return (look.inside || look.along) && !look.blocked;
}

/* Is it better than what was found before? The look round comes last: it costs
 * most. */
static bool consider(struct search *search, size_t from)
{
    const double m = fw_plan__apart_m(search->field, from, search->to);
    const bool first = search->best == FW_NONE;
    const bool nearer = first || m < search->out->along_m;
    if (!nearer && search->clear)
        return false;
    const bool clear =
        from == search->to || is_clear(search->field, from, search->to);
    if (!first && (clear == search->clear ? !nearer : !clear))
        return false;
    search->best = from;
    search->clear = clear;
    search->out->along_m = m;
    return true;
}

static void try_fences(struct search *search, size_t self)
{
    const size_t first = search->field->first_fence;
    for (size_t i = first; i < first + search->field->fence_count; i++)
        for (int far = 0; far < 2; far++)
            if (fw_plan__stands_before(search->plan, i, self) &&
                consider(search,
                         fw_plan__end_of(&search->plan->fences[i], far != 0))) {
                search->out->fence = i;
                search->out->far_end = far != 0;
            }
}

static void try_corners(struct search *search)
{
    for (size_t i = 0; i < search->field->corner_count; i++)
        if (fw_plan_corner_number(search->field, i) &&
            consider(search, search->field->corners[i])) {
            search->out->corner = i;
            search->out->fence = FW_NONE;
            search->out->far_end = false;
        }
}

void fw_plan__pace_straight(const struct fw_plan_job *job, size_t self,
                            size_t vertex, struct fw_plan_paced *out)
{
    const struct fw_plan *plan = job->plan;
    struct search search = {
        .plan = plan,
        .field = &plan->fields[plan->fences[self].field],
        .to = vertex,
        .best = FW_NONE,
        .out = out,
    };
    try_fences(&search, self);
    try_corners(&search);
    if (search.best == FW_NONE)
        return;
    out->by = FW_PACED_STRAIGHT;
    out->paces = fw_whole(out->along_m / plan->pace_m);
    out->bearing_deg = job->farm->world->bearing_deg(
        search.field->vertices[search.best].lonlat,
        search.field->vertices[vertex].lonlat);
}
