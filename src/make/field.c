/* One field: its grass, the layout, and its vertices with those of the cuts. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "choice/keep.h"
#include "choice/limits.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "figures/say.h"
#include "geo/inner.h"
#include "geo/points.h"
#include "make/parts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Two places nearer than this are one: a cut through a corner makes no fence
 * end of its own beside it. */
static const double same_place_m = FW_TOLERANCE(1e-9);

static size_t next_in_ring(const struct fw_field *shape, size_t vertex)
{
    size_t ring = 0;
    while (vertex >= shape->ring_start[ring + 1])
        ring++;
    return vertex + 1 < shape->ring_start[ring + 1] ? vertex + 1
                                                    : shape->ring_start[ring];
}

/* The cut point in all three kinds of coordinate. On the boundary it stands, in
 * the file's, on the straight line between its neighbours, so that a GIS sees
 * it there. */
static struct fw_vertex edge_vertex(const struct fw_field *shape, double turn,
                                    const struct fw_layout_vertex *added)
{
    const struct fw_vertex *a = &shape->vertices[added->edge];
    const struct fw_vertex *b =
        &shape->vertices[next_in_ring(shape, added->edge)];
    struct fw_vertex vertex = {.plane = added->point, .kind = FW_VERTEX_CUT};
    const double b_x = fw_unwrap(b->file.x, a->file.x, turn);
    vertex.file.x = a->file.x + added->t * (b_x - a->file.x);
    if (b_x != b->file.x) /* the side runs over the 180th meridian */
        vertex.file.x = fw_unwrap(vertex.file.x, 0, turn);
    vertex.file.y = a->file.y + added->t * (b->file.y - a->file.y);
    vertex.lonlat = fw_plane_inverse(&shape->plane, added->point);
    return vertex;
}

static enum fw_status inner_vertex(const struct fw_plan_job *job, size_t index,
                                   struct fw_point at, struct fw_vertex *out,
                                   struct fw_error *err)
{
    struct fw_vertex vertex = {.plane = at, .kind = FW_VERTEX_CUT};
    vertex.lonlat = fw_plane_inverse(
        &fw_plan__grazed(&job->farm->fields[index])->plane, at);
    const enum fw_status status = job->farm->world->from_lonlat(
        job->crs[index], &vertex.lonlat, &vertex.file, 1, err);
    if (!status)
        *out = vertex;
    return status;
}

/* Copy the file's vertices and add the layout's. map[i] tells which vertex the
 * layout's index i became. */
static enum fw_status take_vertices(const struct fw_plan_job *job, size_t index,
                                    struct fw_plan_field *field,
                                    const struct fw_layout *layout,
                                    size_t **map_out, struct fw_error *err)
{
    const struct fw_field *shape = fw_plan__grazed(&job->farm->fields[index]);
    const size_t most = shape->vertex_count + layout->added_count;
    size_t *map = fw_alloc(most, sizeof *map);
    *map_out = map;
    field->vertices = fw_alloc(most, sizeof *field->vertices);
    if (!map || !field->vertices)
        return fw_fail_memory(err);
    memcpy(field->vertices, shape->vertices,
           shape->vertex_count * sizeof *shape->vertices);
    field->vertex_count = shape->vertex_count;
    for (size_t i = 0; i < shape->vertex_count; i++)
        map[i] = i;
    for (size_t i = 0; i < layout->added_count; i++) {
        const struct fw_layout_vertex *added = &layout->added[i];
        size_t *to = &map[shape->vertex_count + i];
        *to = field->vertex_count;
        if (added->edge == FW_INSIDE) {
            const enum fw_status status =
                inner_vertex(job, index, added->point,
                             &field->vertices[field->vertex_count], err);
            if (status)
                return status;
            field->vertex_count++;
            continue;
        }
        const size_t a = added->edge, b = next_in_ring(shape, added->edge);
        if (fw_point_apart_m(added->point, shape->vertices[a].plane) <=
            same_place_m)
            *to = a;
        else if (fw_point_apart_m(added->point, shape->vertices[b].plane) <=
                 same_place_m)
            *to = b;
        else
            field->vertices[field->vertex_count++] = edge_vertex(
                shape, job->farm->world->turn(job->crs[index]), added);
    }
    return FW_OK;
}

struct on_edge {
    size_t edge;
    double t;
    size_t vertex;
};

static int by_edge(const void *left, const void *right)
{
    const struct on_edge *a = left, *b = right;
    if (a->edge != b->edge)
        return a->edge < b->edge ? -1 : 1;
    if (a->t < b->t || a->t > b->t)
        return a->t < b->t ? -1 : 1;
    return a->vertex < b->vertex ? -1 : a->vertex > b->vertex;
}

/* The field's own rings with every fence end as a vertex. */
static enum fw_status take_rings(struct fw_plan_field *field,
                                 const struct fw_field *shape,
                                 const struct fw_layout *layout,
                                 const size_t *map, struct fw_error *err)
{
    struct on_edge *ends = fw_alloc(layout->added_count, sizeof *ends);
    struct fw_plan_rings *rings = &field->rings;
    rings->vertices = fw_alloc(field->vertex_count, sizeof *rings->vertices);
    rings->ring_start =
        fw_alloc(shape->ring_count + 1, sizeof *rings->ring_start);
    rings->piece_ring = fw_alloc(2, sizeof *rings->piece_ring);
    if (!ends || !rings->vertices || !rings->ring_start || !rings->piece_ring) {
        fw_free(ends);
        return fw_fail_memory(err);
    }
    size_t end_count = 0;
    for (size_t i = 0; i < layout->added_count; i++)
        if (layout->added[i].edge != FW_INSIDE &&
            map[shape->vertex_count + i] >= shape->vertex_count)
            ends[end_count++] =
                (struct on_edge){layout->added[i].edge, layout->added[i].t,
                                 map[shape->vertex_count + i]};
    qsort(ends, end_count, sizeof *ends, by_edge);
    size_t n = 0, end = 0;
    for (size_t r = 0; r < shape->ring_count; r++) {
        rings->ring_start[r] = n;
        for (size_t v = shape->ring_start[r]; v < shape->ring_start[r + 1];
             v++) {
            rings->vertices[n++] = v;
            while (end < end_count && ends[end].edge == v)
                rings->vertices[n++] = ends[end++].vertex;
        }
    }
    rings->ring_start[shape->ring_count] = n;
    rings->ring_count = shape->ring_count;
    rings->piece_ring[1] = shape->ring_count;
    rings->piece_count = 1;
    fw_free(ends);
    return FW_OK;
}

static void take_side(struct fw_plan_field *field,
                      const struct fw_farm_field *from, size_t side)
{
    size_t number;
    field->sides[side] = fw_plan__side_of(from, side, &number);
    if (field->side_numbers)
        field->side_numbers[side] = number;
}

static size_t corner_at(const struct fw_field *shape, struct fw_point at)
{
    for (size_t i = 0; i < shape->corner_count; i++) {
        const struct fw_point p = shape->vertices[shape->corners[i]].plane;
        if (fw_point_apart_m(p, at) <= same_place_m)
            return i + 1;
    }
    return 0;
}

/* Numbers are those that check shows, of the whole field. */
static enum fw_status take_numbers(struct fw_plan_field *field,
                                   const struct fw_farm_field *from,
                                   struct fw_error *err)
{
    const struct fw_field *grazed = fw_plan__grazed(from);
    const size_t count = grazed->corner_count;
    if (grazed == from->shape)
        return FW_OK;
    field->corner_numbers = fw_alloc(count, sizeof *field->corner_numbers);
    field->side_numbers = fw_alloc(count, sizeof *field->side_numbers);
    if (!field->corner_numbers || !field->side_numbers)
        return fw_fail_memory(err);
    field->corner_number_count = field->side_number_count = count;
    for (size_t i = 0; i < count; i++)
        field->corner_numbers[i] =
            corner_at(from->shape, grazed->vertices[grazed->corners[i]].plane);
    return FW_OK;
}

static enum fw_status take_texts(struct fw_plan_field *field,
                                 const struct fw_farm_field *from,
                                 struct fw_error *err)
{
    const struct fw_field *grazed = fw_plan__grazed(from);
    const size_t corners = grazed->corner_count;
    field->name = fw_strdup(from->shape->name);
    if (from->border.whole)
        field->part_of = fw_strdup(from->border.whole->name);
    field->source = fw_strdup(from->source ? from->source : "");
    field->crs = fw_strdup(from->crs);
    field->corners = fw_alloc(corners, sizeof *field->corners);
    field->sides = fw_alloc(corners, sizeof *field->sides);
    if (!field->name || !field->source || !field->crs || !field->corners ||
        !field->sides || (from->border.whole && !field->part_of))
        return fw_fail_memory(err);
    memcpy(field->corners, grazed->corners, corners * sizeof *field->corners);
    field->corner_count = corners;
    enum fw_status status = fw_origin_copy(&from->origin, &field->origin, err);
    if (!status)
        status = take_numbers(field, from, err);
    for (size_t i = 0; !status && from->sides && i < corners; i++)
        take_side(field, from, i);
    return status;
}

static void take_figures(struct fw_plan_field *field,
                         const struct fw_farm_field *from,
                         const struct fw_usable *usable)
{
    const struct fw_field *shape = from->shape, *grazed = fw_plan__grazed(from);
    field->crs_accuracy_m = from->crs_accuracy_m;
    field->plane = shape->plane;
    field->hole_holds = from->hole_holds;
    field->area_ha = shape->ellipsoid_m2 / 1e4;
    field->plane_m2 = grazed->area_m2;
    field->grazed_ha = grazed->ellipsoid_m2 / 1e4;
    field->perimeter_m = grazed->perimeter_m;
    field->usable_kg_ha = usable->usable_kg_ha;
    field->mass_kg_ha = usable->mass_kg_ha;
    field->residual_kg_ha = usable->residual_kg_ha;
    fw_forage_heights(&from->sward, usable, &field->grass_m, &field->left_m);
    field->use = usable->use;
    field->use_of = usable->use_of;
}

enum fw_status fw_plan__take_spots(struct fw_plan_job *job, size_t index,
                                   struct fw_error *err)
{
    const struct fw_farm_field *from = &job->farm->fields[index];
    struct fw_plan_field *field = &job->plan->fields[index];
    enum fw_status status = FW_OK;
    field->road_m = from->road_m;
    if (from->gate.given)
        status =
            fw_plan__place(job, index, from->gate.point, &field->gate, err);
    if (!status && from->water.given)
        status =
            fw_plan__place(job, index, from->water.point, &field->water, err);
    if (!status && from->park.given)
        status =
            fw_plan__place(job, index, from->park.point, &field->park, err);
    return status;
}

/* What the layout makes of the field. */
static enum fw_status take_layout(struct fw_plan_job *job, size_t index,
                                  const struct fw_layout *layout,
                                  const struct fw_plan_targets *targets,
                                  const size_t *map, struct fw_error *err)
{
    struct fw_plan_field *field = &job->plan->fields[index];
    field->direction_deg = layout->direction_deg;
    field->far_first = layout->far_first;
    snprintf(field->layout, sizeof field->layout, "%s", layout->name);
    snprintf(field->pattern, sizeof field->pattern, "%s", layout->pattern);
    field->last_share = layout->even ? layout->share : layout->last_share;
    enum fw_status status =
        fw_plan__paddocks(job, index, layout, targets, map, err);
    if (!status)
        status = fw_plan__take_shapes(job, index, layout, err);
    if (!status)
        status = fw_plan__keep_notes(job, index, layout, err);
    if (!status)
        status = fw_plan__lines(job, index, layout, map, err);
    if (!status)
        field->fence_bound_m = fw_plan__bound_m(
            fw_plan__grazed(&job->farm->fields[index]), layout);
    return status;
}

const char *fw_plan__reason(const struct fw_error *why, const char *name)
{
    const size_t length = strlen(name);
    return strncmp(why->text, name, length) == 0 &&
                   strncmp(why->text + length, ": ", 2) == 0
               ? why->text + length + 2
               : why->text;
}

/* A field that cannot be planned is told with its reason, and the others are
 * planned. */
static enum fw_status take_none(struct fw_plan *plan, size_t index,
                                const struct fw_error *why,
                                struct fw_error *err)
{
    struct fw_plan_field *field = &plan->fields[index];
    field->first_paddock = plan->paddock_count;
    field->first_fence = plan->fence_count;
    field->grazed_ha = 0;
    field->direction_deg = field->left_kg = (double)NAN;
    field->no_plan = fw_strdup(fw_plan__reason(why, field->name));
    return field->no_plan ? FW_OK : fw_fail_memory(err);
}

static enum fw_status take_field(struct fw_plan_job *job, size_t index,
                                 const struct fw_layout *layout,
                                 const struct fw_plan_targets *targets,
                                 const struct fw_error *why,
                                 struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_farm_field *from = &job->farm->fields[index];
    enum fw_status status =
        fw_array_reserve(&plan->fields, &plan->field_capacity,
                         plan->field_count + 1, sizeof *plan->fields, err);
    if (status)
        return status;
    struct fw_plan_field *field = &plan->fields[plan->field_count++];
    size_t *map = NULL;
    take_figures(field, from, &job->usable[index]);
    status = take_texts(field, from, err);
    if (!status)
        status = take_vertices(job, index, field, layout, &map, err);
    if (!status)
        status = take_rings(field, fw_plan__grazed(from), layout, map, err);
    if (!status)
        status =
            fw_plan__area_ha(job, index, &field->rings, &field->grazed_ha, err);
    if (!status && fw_plan__grazed(from) == from->shape)
        field->area_ha = field->grazed_ha;
    if (!status)
        status = fw_plan__take_spots(job, index, err);
    if (!status)
        status = layout->paddock_count
                     ? take_layout(job, index, layout, targets, map, err)
                     : take_none(plan, index, why, err);
    fw_free(map);
    return status;
}

void fw_plan__chosen_release(struct fw_plan__chosen *chosen)
{
    fw_plan__targets_release(&chosen->targets);
    fw_layout_release(&chosen->layout);
}

/* How many stays the first day's ground was reckoned to last, and how many the
 * layout has. */
static double stays_reckoned(const struct fw_plan_targets *targets,
                             double holds)
{
    size_t k = 0;
    while (k + 1 < targets->count && holds > targets->target[k])
        holds -= targets->target[k++];
    return (double)k + holds / targets->target[k];
}

static double stays_found(const struct fw_layout *layout)
{
    const double count = (double)layout->paddock_count;
    return layout->even ? count * layout->share
                        : count - 1 + layout->last_share;
}

/* By how many stays it has too few paddocks or too many; a short last one is
 * none too many. */
static double misfit(const struct fw_plan_job *job,
                     const struct fw_layout *layout)
{
    const double count = (double)layout->paddock_count;
    const double least = job->farm->last == FW_LAST_FIT ? FW_LAST_HALF_SHARE
                                                        : FW_LAST_CRUMB_SHARE;
    if (layout->even)
        return fabs(layout->share - 1) * count;
    return fmax(0, layout->last_share - 1) +
           fmax(0, least - layout->last_share);
}

static bool is_full(const struct fw_plan_job *job,
                    const struct fw_layout *layout)
{
    return misfit(job, layout) <=
           (layout->even ? FW_LAST_HALF_SHARE : FW_LAST_CRUMB_SHARE);
}

/* Targets for another number of paddocks, by what the layout at hand found, or
 * for half a stay less where there was none. */
static void aim_again(struct fw_plan_targets *targets,
                      const struct fw_layout *layout)
{
    const double reckoned =
        stays_reckoned(targets, targets->holds * (1 - fw_plan__lost(layout)));
    const double found = layout->paddock_count
                             ? stays_found(layout)
                             : fmax(1, reckoned - FW_LAST_HALF_SHARE);
    double sum = 0;
    for (size_t k = 0; k < targets->count; k++)
        sum += targets->target[k];
    /* The list still reaches over the field: beyond it no day is known. */
    const double least = (1 + FW_TOLERANCE(1e-6)) * targets->holds / sum;
    for (size_t k = 0; k < targets->count; k++)
        targets->target[k] *= fmax(least, reckoned / found);
}

static void take(struct fw_plan__chosen *from, struct fw_plan__chosen *to)
{
    fw_layout_release(&to->layout);
    to->layout = from->layout;
    to->score = from->score;
    to->wished = from->wished;
    from->layout = (struct fw_layout){0};
}

/* Rounds of it; `aimed` keeps the targets of the best layout so far. */
static enum fw_status choose_again(struct fw_plan_job *job, size_t index,
                                   struct fw_plan__chosen *out, double *aimed,
                                   enum fw_status status)
{
    struct fw_plan_targets *targets = &out->targets;
    const size_t bytes = targets->count * sizeof *aimed;
    struct fw_plan__chosen next = {0};
    double *tried = fw_alloc(targets->count, sizeof *tried);
    if (!tried)
        return fw_fail_memory(NULL);
    memcpy(aimed, targets->target, bytes);
    aim_again(targets, &out->layout);
    for (int round = 0; round < FW_EFFORT(6); round++) {
        if (status ? status != FW_EPLAN : is_full(job, &out->layout))
            break;
        targets->pattern = status ? NULL : out->layout.pattern;
        memcpy(tried, targets->target, bytes);
        const enum fw_status again = fw_plan__choose(
            job, index, targets, &next.layout, &next.score, &next.wished, NULL);
        aim_again(targets, &next.layout);
        if (!again &&
            (status || misfit(job, &next.layout) < misfit(job, &out->layout))) {
            take(&next, out);
            memcpy(aimed, tried, bytes);
            status = FW_OK;
        }
        fw_layout_release(&next.layout);
    }
    memcpy(targets->target, aimed, bytes);
    targets->pattern = NULL;
    fw_free(tried);
    return status;
}

/* Where feed differs from day to day and from place to place, which place is
 * grazed when decides how many paddocks there are. The best of some answers is
 * taken, of the pattern that was chosen first, and the targets are left as
 * those that led to it. */
static enum fw_status choose(struct fw_plan_job *job, size_t index,
                             struct fw_plan__chosen *out, struct fw_error *err)
{
    struct fw_plan_targets *targets = &out->targets;
    const enum fw_status status = fw_plan__choose(
        job, index, targets, &out->layout, &out->score, &out->wished, err);
    if (!targets->day)
        return status;
    double *aimed = fw_alloc(targets->count, sizeof *aimed);
    if (!aimed)
        return fw_fail_memory(err);
    const enum fw_status settled = choose_again(job, index, out, aimed, status);
    fw_free(aimed);
    return settled == FW_ENOMEM ? fw_fail_memory(err) : settled;
}

/* Targets and layout for stays of so many days; 0: as the farm has them. */
static enum fw_status lay_out(struct fw_plan_job *job, size_t index, int days,
                              struct fw_plan__chosen *out, struct fw_error *err)
{
    fw_plan__chosen_release(out);
    job->every_days[index] = days;
    enum fw_status status = fw_plan__measure_grass(job, index, err);
    if (!status)
        status = fw_plan__targets(job, index, &out->targets, err);
    if (status)
        return status;
    status = choose(job, index, out, err);
    return status == FW_EPLAN
               ? fw_plan__name_away(job, out->targets.days[0], err)
               : status;
}

/* A pace too many is too much of what they have for so many days, or it takes
 * block lines. */
static bool is_too_thin(const struct fw_plan_score *score, int days)
{
    return score->pace_share > FW_PACE_SHARE * days || score->standing_m > 0;
}

/* Without a back fence a break is as deep as the front is long allows: where a
 * pace is too much of a day's feed, they stay two or three days instead of
 * being parted by block lines. Where these are needed all the same, one day
 * will do.
 */
enum fw_status fw_plan__lay_out(struct fw_plan_job *job, size_t index,
                                struct fw_plan__chosen *out,
                                struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    const bool free_stay =
        !farm->stay_told && !farm->back_fence && !farm->layout;
    int days = 1;
    enum fw_status status = lay_out(job, index, 0, out, err);
    while (!status && free_stay && days < FW_OPEN_STAY_DAYS &&
           is_too_thin(&out->score, days))
        status = lay_out(job, index, ++days, out, err);
    if (status == FW_EPLAN && days > 1) /* too little grass for such a stay */
        return lay_out(job, index, days > 2 ? days - 1 : 0, out, err);
    return !status && days > 1 && out->score.standing_m > 0
               ? lay_out(job, index, 0, out, err)
               : status;
}

/* What the farm's own kit costs in work. */
static enum fw_status note_kit(struct fw_plan *plan, size_t index,
                               const struct fw_plan__chosen *chosen,
                               struct fw_error *err)
{
    const double worth_min = 1; /* a day; less is not worth a word */
    const struct fw_plan_score *own = &chosen->score, *more = &chosen->wished;
    char wire[FW_SAID];
    if (own->wished || !(own->minutes - more->minutes > worth_min))
        return FW_OK;
    return fw_notes_add(
        &plan->notes, FW_LEVEL_NOTE, plan->fields[index].name, err,
        "to do with what the farm owns takes %.0f minutes a day more: with %d "
        "reels, %d posts and %s of wire %s would take %.0f instead of %.0f",
        round(own->minutes) - round(more->minutes), more->kit.reels,
        more->kit.posts,
        fw_say_length(ceil(more->kit.wire_m), plan->units, wire), more->layout,
        more->minutes, own->minutes);
}

static enum fw_status note_stay(const struct fw_plan_job *job, size_t index,
                                struct fw_error *err)
{
    const int days = job->every_days[index];
    if (days < 2)
        return FW_OK;
    return fw_notes_add(
        &job->plan->notes, FW_LEVEL_NOTE, job->plan->fields[index].name, err,
        "no stay was told, and a break for one day would take block lines, or "
        "a single pace be over 10 %% of its feed: they stay %d days in each "
        "(stay: 1 day for one)",
        days);
}

enum fw_status fw_plan__field(struct fw_plan_job *job, size_t index,
                              struct fw_error *err)
{
    struct fw_plan__chosen chosen = {0};
    struct fw_error why = {0};
    enum fw_status status = fw_plan__edge_feeds(job, index, err);
    if (!status)
        status = fw_plan__obstacles(job, index, err);
    if (status)
        return status;
    status = fw_plan__lay_out(job, index, &chosen, &why);
    if (status == FW_EPLAN) {
        fw_plan__chosen_release(&chosen);
        chosen.layout.vertex_count =
            fw_plan__grazed(&job->farm->fields[index])->vertex_count;
        status = FW_OK;
    } else if (status && err) {
        *err = why;
    }
    if (!status)
        status =
            take_field(job, index, &chosen.layout, &chosen.targets, &why, err);
    if (!status && chosen.layout.paddock_count)
        status = note_kit(job->plan, index, &chosen, err);
    if (!status && chosen.layout.paddock_count)
        status = note_stay(job, index, err);
    fw_plan__chosen_release(&chosen);
    return status;
}
