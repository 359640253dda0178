/* Who lies beside each piece of line, found by the rings' sides: the ground to
 * the left of a piece has it as a side in the same direction. */
#include "base/alloc.h"
#include "base/fail.h"
#include "layout/pattern.h"

#include <stdlib.h>

struct side {
    size_t from, to, owner;
};

static int by_ends(const void *left, const void *right)
{
    const struct side *a = left, *b = right;
    if (a->from != b->from)
        return a->from < b->from ? -1 : 1;
    return a->to < b->to ? -1 : a->to > b->to;
}

static size_t list_sides(const struct fw_layout *layout, struct side *sides)
{
    size_t n = 0;
    for (size_t p = 0; p < layout->paddock_count + layout->common_count; p++)
        for (size_t r = layout->piece_ring[layout->paddock_piece[p]];
             r < layout->piece_ring[layout->paddock_piece[p + 1]]; r++) {
            const size_t first = layout->ring_start[r];
            const size_t end = layout->ring_start[r + 1];
            for (size_t i = first; i < end; i++)
                sides[n++] = (struct side){
                    layout->ring_vertices[i],
                    layout->ring_vertices[i + 1 < end ? i + 1 : first], p};
        }
    return n;
}

static size_t owner(const struct side *sides, size_t count, size_t from,
                    size_t to)
{
    const struct side key = {from, to, 0};
    const struct side *found = bsearch(&key, sides, count, sizeof key, by_ends);
    return found ? found->owner : FW_INSIDE;
}

/* Every side belongs to one ground and has another on its other side, but for
 * those along the field's edge: there are as many as vertices stand on it. */
static bool is_coverage(const struct fw_layout *layout,
                        const struct side *sides, size_t count)
{
    size_t edge = 0, on_edge = layout->vertex_count;
    for (size_t i = 0; i < count; i++) {
        if (i > 0 && by_ends(&sides[i - 1], &sides[i]) == 0)
            return false;
        edge += owner(sides, count, sides[i].to, sides[i].from) == FW_INSIDE;
    }
    for (size_t i = 0; i < layout->added_count; i++)
        on_edge += layout->added[i].edge != FW_INSIDE;
    return edge == on_edge;
}

/* The first and last grazed beside the whole line. */
static void span(const struct fw_layout *layout, struct fw_layout_line *line)
{
    line->from = FW_INSIDE;
    line->to = 0;
    for (size_t i = line->first; i + 1 < line->first + line->count; i++) {
        const size_t beside[2] = {layout->left[i], layout->right[i]};
        for (int k = 0; k < 2; k++) {
            if (beside[k] >= layout->paddock_count)
                continue;
            if (line->from == FW_INSIDE || beside[k] < line->from)
                line->from = beside[k];
            if (beside[k] > line->to)
                line->to = beside[k];
        }
    }
}

/* A line that others end on stands as long as they do: they are tied to it and
 * fed by it. */
static enum fw_status outlast(struct fw_layout *layout, struct fw_error *err)
{
    const size_t vertices = layout->vertex_count + layout->added_count;
    size_t *host = fw_alloc(vertices, sizeof *host); /* from 1; 0: none */
    if (!host)
        return fw_fail_memory(err);
    for (size_t l = 0; l < layout->line_count; l++) {
        struct fw_layout_line *line = &layout->lines[l];
        line->needed_from = line->from;
        line->needed_to = line->to;
        line->holds_ends = false;
        for (size_t i = line->first + 1; i + 1 < line->first + line->count; i++)
            host[layout->line_vertices[i]] = l + 1;
    }
    bool changed = true;
    for (size_t pass = 0; changed && pass < layout->line_count; pass++) {
        changed = false;
        for (size_t l = 0; l < layout->line_count; l++) {
            const struct fw_layout_line *line = &layout->lines[l];
            const size_t ends[2] = {line->first, line->first + line->count - 1};
            for (int e = 0; e < 2; e++) {
                const size_t at = host[layout->line_vertices[ends[e]]];
                struct fw_layout_line *on = &layout->lines[at ? at - 1 : l];
                if (on == line)
                    continue;
                on->holds_ends = true;
                if (line->needed_from < on->needed_from) {
                    on->needed_from = line->needed_from;
                    changed = true;
                }
                if (line->needed_to > on->needed_to) {
                    on->needed_to = line->needed_to;
                    changed = true;
                }
            }
        }
    }
    fw_free(host);
    return FW_OK;
}

enum fw_status fw_layout__beside(struct fw_layout *layout, struct fw_error *err)
{
    struct side *sides =
        fw_alloc(layout->ring_start[layout->ring_count], sizeof *sides);
    if (!sides)
        return fw_fail_memory(err);
    const size_t count = list_sides(layout, sides);
    qsort(sides, count, sizeof *sides, by_ends);
    layout->is_map = is_coverage(layout, sides, count);
    for (size_t l = 0; l < layout->line_count; l++) {
        struct fw_layout_line *line = &layout->lines[l];
        const size_t last = line->first + line->count - 1;
        for (size_t i = line->first; i < last; i++) {
            const size_t a = layout->line_vertices[i];
            const size_t b = layout->line_vertices[i + 1];
            layout->left[i] = owner(sides, count, a, b);
            layout->right[i] = owner(sides, count, b, a);
        }
        layout->left[last] = layout->right[last] = FW_INSIDE;
        span(layout, line);
    }
    fw_free(sides);
    return outlast(layout, err);
}
