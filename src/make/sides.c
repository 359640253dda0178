/* The sides of a field: which side of the whole one an edge of the grazed
 * ground is, what it holds, and what it feeds. */
#include "base/alloc.h"
#include "base/fail.h"
#include "choice/job.h"
#include "figures/mark.h"
#include "make/parts.h"

#include <math.h>

size_t fw_plan_corner_number(const struct fw_plan_field *field, size_t corner)
{
    return field->corner_number_count ? field->corner_numbers[corner]
                                      : corner + 1;
}

size_t fw_plan_side_number(const struct fw_plan_field *field, size_t side)
{
    return field->side_number_count ? field->side_numbers[side] : side + 1;
}

/* A side runs clockwise, against the ring. */
static size_t before(size_t vertex, size_t count)
{
    return vertex > 0 ? vertex - 1 : count - 1;
}

/* A side's first piece that is no front; its first one when all of it is. */
static size_t piece_of(const struct fw_farm_field *from, size_t side,
                       bool *front)
{
    const struct fw_field *grazed = fw_plan__grazed(from);
    const size_t count = grazed->ring_start[1];
    const size_t end = grazed->corners[(side + 1) % grazed->corner_count];
    size_t at = grazed->corners[side];
    *front = from->front.given;
    if (!*front)
        return at;
    do {
        const size_t next = before(at, count);
        if (!from->front.runs[next]) {
            *front = false;
            return at;
        }
        at = next;
    } while (at != end);
    return grazed->corners[side];
}

/* Ground that is taken off leaves edges that are no side of the field: nobody
 * has said what stands there but for the edges of ponds. A front is live and
 * holds what a moved line holds. */
struct fw_farm_side fw_plan__side_of(const struct fw_farm_field *from,
                                     size_t side, size_t *number)
{
    const struct fw_field *grazed = fw_plan__grazed(from);
    const size_t count = grazed->ring_start[1];
    bool front;
    const size_t a = piece_of(from, side, &front);
    const struct fw_point p = grazed->vertices[a].plane;
    const struct fw_point q = grazed->vertices[before(a, count)].plane;
    const struct fw_point middle = {(p.x_m + q.x_m) / 2, (p.y_m + q.y_m) / 2};
    *number = front                   ? 0
              : grazed == from->shape ? side + 1
                                      : fw_field_side_at(from->shape, middle);
    if (front)
        return (struct fw_farm_side){FW_HOLDS_LAMBS, FW_YES};
    return *number ? from->sides[*number - 1]
                   : (struct fw_farm_side){from->hole_holds, FW_UNTOLD};
}

/* A front is live; the edge of a pond feeds nothing. */
enum fw_status fw_plan__edge_feeds(struct fw_plan_job *job, size_t index,
                                   struct fw_error *err)
{
    const struct fw_farm_field *from = &job->farm->fields[index];
    const struct fw_field *grazed = fw_plan__grazed(from);
    const size_t count = grazed->ring_start[1];
    enum fw_feeds *feeds = fw_alloc(grazed->vertex_count, sizeof *feeds);
    fw_free(job->edge_feeds[index]);
    job->edge_feeds[index] = feeds;
    if (!feeds)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++)
        feeds[i] = FW_FEEDS_PERHAPS;
    for (size_t side = 0; from->sides && side < grazed->corner_count; side++) {
        size_t number;
        const enum fw_answer hot = fw_plan__side_of(from, side, &number).hot;
        const size_t end = grazed->corners[(side + 1) % grazed->corner_count];
        size_t v = grazed->corners[side];
        do { /* clockwise, against the ring */
            v = before(v, count);
            feeds[v] = hot == FW_YES  ? FW_FEEDS_SURELY
                       : hot == FW_NO ? FW_FEEDS_NOTHING
                                      : FW_FEEDS_PERHAPS;
        } while (v != end);
    }
    for (size_t v = 0; from->front.given && v < grazed->vertex_count; v++)
        if (from->front.runs[v])
            feeds[v] = FW_FEEDS_SURELY;
    return FW_OK;
}
