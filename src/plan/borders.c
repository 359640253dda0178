/* Who lies beside each piece of a field's lines: the sides of its paddocks'
 * rings, sorted. A ring runs with its paddock to the left. */
#include "base/alloc.h"
#include "base/fail.h"
#include "plan/job.h"

#include <stdlib.h>

struct fw_plan__border {
    size_t from, to, paddock;
};

static int by_ends(const void *left, const void *right)
{
    const struct fw_plan__border *a = left, *b = right;
    if (a->from != b->from)
        return a->from < b->from ? -1 : 1;
    return a->to < b->to ? -1 : a->to > b->to;
}

void fw_plan__borders_release(struct fw_plan_job *job)
{
    fw_free(job->borders);
    job->borders = NULL;
    job->border_count = 0;
}

enum fw_status fw_plan__borders(struct fw_plan_job *job, size_t index,
                                struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    const size_t first = field->first_paddock;
    const size_t end = first + field->paddock_count;
    size_t count = 0;
    for (size_t p = first; p < end; p++)
        count += plan->paddocks[p]
                     .rings.ring_start[plan->paddocks[p].rings.ring_count];
    fw_plan__borders_release(job);
    job->borders = fw_alloc(count, sizeof *job->borders);
    if (!job->borders)
        return fw_fail_memory(err);
    for (size_t p = first; p < end; p++) {
        const struct fw_plan_rings *rings = &plan->paddocks[p].rings;
        for (size_t r = 0; r < rings->ring_count; r++)
            for (size_t i = rings->ring_start[r]; i < rings->ring_start[r + 1];
                 i++) {
                const size_t next = i + 1 < rings->ring_start[r + 1]
                                        ? i + 1
                                        : rings->ring_start[r];
                job->borders[job->border_count++] = (struct fw_plan__border){
                    rings->vertices[i], rings->vertices[next], p};
            }
    }
    qsort(job->borders, job->border_count, sizeof *job->borders, by_ends);
    return FW_OK;
}

size_t fw_plan__left_of(const struct fw_plan_job *job, size_t from, size_t to)
{
    const struct fw_plan__border key = {from, to, 0};
    const struct fw_plan__border *found =
        bsearch(&key, job->borders, job->border_count, sizeof key, by_ends);
    return found ? found->paddock : FW_NONE;
}
