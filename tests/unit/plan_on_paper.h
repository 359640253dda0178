/* Plans of the field of farm_help.h, made, changed by hand, and put into a file
 * for the next reading. */
#ifndef FW_PLAN_ON_PAPER_H
#define FW_PLAN_ON_PAPER_H

#include "farm_help.h"

#include "base/alloc.h"
#include "crs/crs.h"
#include "io/io.h"
#include "make/make.h"
#include "plan/plan.h"
#include "store/store.h"

#include <sys/stat.h>

/* The more sheep, the fewer paddocks. */
static inline struct fw_plan *plan_with(const char *fields, const char *layout,
                                        int head)
{
    char text[1024];
    struct fw_error err = {0};
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL;
    snprintf(text, sizeof text,
             "%slayout: %s\nforage: {mass: 2600 kg/ha, residual: 1400 kg/ha, "
             "use: 0.75}\nflock: [{head: %d, weight: 68 kg, state: dry, "
             "trained: yes}]\nperimeter: {holds: lambs, hot: yes}\n",
             fields, layout, head);
    put_text("farm.yaml", text);
    const struct fw_farm_request request = {.farm_path = "farm.yaml"};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err) ||
        fw_plan_make(farm, &plan, &err))
        fail_msg("%s\nsaid of:\n%s", err.text, text);
    fw_farm_free(farm);
    return plan;
}

static inline struct fw_plan *plan_on_paper(const char *layout, int head)
{
    return plan_with("fields: {source: field.geojson}\nstart: 2027-06-07\n"
                     "gate: corner:1\nwater: corner:1\n",
                     layout, head);
}

static inline void keep_plan(const struct fw_plan *plan, const char *path)
{
    char *bytes;
    size_t count;
    struct fw_error err = {0};
    if (fw_plan_json_write(plan, NULL, 0, &bytes, &count, &err) ||
        fw_file_put(path, bytes, count, &err))
        fail_msg("%s", err.text);
    fw_bytes_free(bytes);
}

static inline struct fw_plan_fence *fence_of(struct fw_plan *plan,
                                             const char *id)
{
    for (size_t i = 0; i < plan->fence_count; i++)
        if (strcmp(plan->fences[i].id, id) == 0)
            return &plan->fences[i];
    fail_msg("no fence %s", id);
    return NULL;
}

/* Another line for one fence, on the field's first vertices, which are moved
 * there. */
static inline void bend_fence(struct fw_plan *plan, const char *id,
                              const struct fw_point *line, size_t count,
                              double length_m)
{
    struct fw_plan_fence *fence = fence_of(plan, id);
    struct fw_plan_field *field = &plan->fields[fence->field];
    assert_true(field->vertex_count >= count);
    fence->line = fw_realloc(fence->line, count, sizeof *fence->line);
    fence->line_count = count;
    fence->length_m = length_m;
    for (size_t i = 0; i < count; i++) {
        fence->line[i] = i;
        field->vertices[i].plane = line[i];
        field->vertices[i].lonlat = fw_plane_inverse(&field->plane, line[i]);
    }
    plan->post_count = 0; /* they stand on the line as it was */
}

#endif
