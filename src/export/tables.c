/* The layers of a plan as tables: what plan.gpkg and plan.geojson write. */
#include "export/styles.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "crs/crs.h"

#include <math.h>
#include <string.h>

/* ---- coordinates in the system that is asked for ---- */

/* A field's vertices there, and which of them are written: bow points only
 * where the file's own system is not. */
struct placed {
    struct fw_xy *xy;
    bool own; /* the system is the field file's own */
};

struct coordinates {
    struct fw_crs *crs;
    struct placed *fields;
    size_t count;
};

static void coordinates_release(struct coordinates *coordinates)
{
    for (size_t i = 0; coordinates->fields && i < coordinates->count; i++)
        fw_free(coordinates->fields[i].xy);
    fw_free(coordinates->fields);
    fw_crs_give_back(coordinates->crs);
}

static enum fw_status is_own(const struct coordinates *coordinates,
                             const char *wanted,
                             const struct fw_plan_field *field, bool *own,
                             struct fw_error *err)
{
    *own = field->crs && strcmp(wanted, field->crs) == 0;
    if (*own || !field->crs || !fw_crs_is_wgs84_lonlat(coordinates->crs))
        return FW_OK;
    struct fw_crs *theirs;
    const enum fw_status status = fw_crs_lend(field->crs, &theirs, err);
    if (status)
        return status;
    *own = fw_crs_is_wgs84_lonlat(theirs);
    fw_crs_give_back(theirs);
    return FW_OK;
}

/* All vertices of a field at once; input and cut vertices keep the numbers
 * that they came with. */
static enum fw_status place_field(const struct coordinates *coordinates,
                                  const struct fw_plan_field *field,
                                  struct placed *out, struct fw_error *err)
{
    const size_t count = field->vertex_count;
    out->xy = fw_alloc(count, sizeof *out->xy);
    struct fw_lonlat *lonlat = fw_alloc(count, sizeof *lonlat);
    enum fw_status status = out->xy && lonlat ? FW_OK : fw_fail_memory(err);
    for (size_t i = 0; !status && i < count; i++) {
        lonlat[i] = field->vertices[i].lonlat;
        out->xy[i] = field->vertices[i].file;
    }
    if (!status && !out->own)
        status =
            fw_crs_from_lonlat(coordinates->crs, lonlat, out->xy, count, err);
    fw_free(lonlat);
    return status;
}

static enum fw_status coordinates_init(struct coordinates *coordinates,
                                       const struct fw_plan *plan,
                                       const char *wanted, struct fw_error *err)
{
    *coordinates = (struct coordinates){.count = plan->field_count};
    coordinates->fields =
        fw_alloc(plan->field_count, sizeof *coordinates->fields);
    if (!coordinates->fields)
        return fw_fail_memory(err);
    enum fw_status status = fw_crs_lend(wanted, &coordinates->crs, err);
    for (size_t i = 0; !status && i < plan->field_count; i++) {
        struct placed *placed = &coordinates->fields[i];
        if (i > 0 && plan->fields[i].crs && plan->fields[i - 1].crs &&
            strcmp(plan->fields[i].crs, plan->fields[i - 1].crs) == 0)
            placed->own = coordinates->fields[i - 1].own;
        else
            status = is_own(coordinates, wanted, &plan->fields[i], &placed->own,
                            err);
        if (!status)
            status = place_field(coordinates, &plan->fields[i], placed, err);
    }
    if (status)
        coordinates_release(coordinates);
    return status;
}

/* ---- rows ---- */

static struct fw_row *new_row(struct fw_table *table, struct fw_error *err)
{
    if (fw_array_reserve(&table->rows, &table->row_capacity,
                         table->row_count + 1, sizeof *table->rows, err))
        return NULL;
    struct fw_row *row = &table->rows[table->row_count];
    row->values = fw_alloc(table->column_count, sizeof *row->values);
    if (!row->values) {
        fw_fail_memory(err);
        return NULL;
    }
    table->row_count++;
    return row;
}

static bool written(const struct placed *placed,
                    const struct fw_plan_field *field, size_t vertex)
{
    return !placed->own || field->vertices[vertex].kind != FW_VERTEX_BOW;
}

static enum fw_status row_polygon(struct fw_row *row,
                                  const struct placed *placed,
                                  const struct fw_plan_field *field,
                                  const struct fw_plan_rings *rings,
                                  struct fw_error *err)
{
    row->kind = FW_FEATURE_POLYGON;
    row->points =
        fw_alloc(rings->ring_start[rings->ring_count], sizeof *row->points);
    row->ring_start = fw_alloc(rings->ring_count + 1, sizeof *row->ring_start);
    row->piece_ring = fw_alloc(rings->piece_count + 1, sizeof *row->piece_ring);
    if (!row->points || !row->ring_start || !row->piece_ring)
        return fw_fail_memory(err);
    for (size_t r = 0; r < rings->ring_count; r++) {
        row->ring_start[r] = row->point_count;
        for (size_t i = rings->ring_start[r]; i < rings->ring_start[r + 1]; i++)
            if (written(placed, field, rings->vertices[i]))
                row->points[row->point_count++] =
                    placed->xy[rings->vertices[i]];
    }
    row->ring_count = rings->ring_count;
    row->ring_start[rings->ring_count] = row->point_count;
    memcpy(row->piece_ring, rings->piece_ring,
           (rings->piece_count + 1) * sizeof *row->piece_ring);
    row->piece_count = rings->piece_count;
    return FW_OK;
}

static enum fw_status row_line(struct fw_row *row, const struct placed *placed,
                               const struct fw_plan_field *field,
                               const struct fw_plan_fence *fence,
                               struct fw_error *err)
{
    row->kind = FW_FEATURE_LINE;
    row->points = fw_alloc(fence->line_count, sizeof *row->points);
    if (!row->points)
        return fw_fail_memory(err);
    for (size_t i = 0; i < fence->line_count; i++)
        if (written(placed, field, fence->line[i]))
            row->points[row->point_count++] = placed->xy[fence->line[i]];
    return FW_OK;
}

static enum fw_status row_point(struct fw_row *row,
                                const struct coordinates *coordinates,
                                size_t field, const struct fw_plan_place *place,
                                struct fw_error *err)
{
    if (!place->given)
        return FW_OK;
    row->kind = FW_FEATURE_POINT;
    row->points = fw_alloc(1, sizeof *row->points);
    if (!row->points)
        return fw_fail_memory(err);
    row->point_count = 1;
    row->points[0] = place->file;
    if (coordinates->fields[field].own)
        return FW_OK;
    return fw_crs_from_lonlat(coordinates->crs, &place->lonlat, row->points, 1,
                              err);
}

/* ---- the layers ---- */

static enum fw_status add_geometry(const struct fw_plan *plan,
                                   const struct coordinates *coordinates,
                                   enum fw_report_layer layer, size_t i,
                                   struct fw_row *row, struct fw_error *err)
{
    size_t field = 0;
    const struct fw_plan_place *place = NULL;
    switch (layer) {
    case FW_LAYER_FIELDS:
        return row_polygon(row, &coordinates->fields[i], &plan->fields[i],
                           &plan->fields[i].rings, err);
    case FW_LAYER_PADDOCKS:
        field = plan->paddocks[i].field;
        return row_polygon(row, &coordinates->fields[field],
                           &plan->fields[field], &plan->paddocks[i].rings, err);
    case FW_LAYER_LANES:
        field = plan->lanes[i].field;
        return row_polygon(row, &coordinates->fields[field],
                           &plan->fields[field], &plan->lanes[i].rings, err);
    case FW_LAYER_FENCES:
        field = plan->fences[i].field;
        return row_line(row, &coordinates->fields[field], &plan->fields[field],
                        &plan->fences[i], err);
    case FW_LAYER_POSTS:
        field = plan->fences[plan->posts[i].fence].field;
        place = &plan->posts[i].place;
        break;
    case FW_LAYER_WATER:
        field = plan->waters[i].field;
        place = &plan->waters[i].place;
        break;
    case FW_LAYER_GATES:
        field = plan->gates[i].field;
        place = &plan->gates[i].place;
        break;
    case FW_LAYER_ENERGIZER:
        place = &plan->energizer_place;
        break;
    case FW_LAYER_FINDINGS:
        field =
            plan->findings[i].field == FW_NONE ? 0 : plan->findings[i].field;
        place = &plan->findings[i].place;
        break;
    case FW_LAYER_STAYS:
    case FW_LAYER_STANDINGS:
    case FW_LAYER_CAUTIONS:
    case FW_LAYER_STYLES:
        return FW_OK;
    }
    return row_point(row, coordinates, field, place, err);
}

/* All fields have the same ones. */
static const struct fw_origin *origin_of(const struct fw_plan *plan,
                                         enum fw_report_layer layer)
{
    return layer == FW_LAYER_FIELDS && plan->field_count
               ? &plan->fields[0].origin
               : NULL;
}

static void fill_copied(struct fw_row *row, size_t column,
                        const struct fw_origin *origin, size_t count,
                        bool *failed)
{
    for (size_t i = 0; i < count && i < origin->copied_count; i++)
        fw_export__set_text(row, column + i, origin->copied[i].value, failed);
}

static void fill_row(const struct fw_io__maps *maps, enum fw_report_layer layer,
                     const char *item, size_t i, struct fw_row *row,
                     bool *failed)
{
    const struct fw_io__kind *kind = fw_export__layers[layer].of;
    size_t column = 0;
    for (size_t k = 0; k < kind->all_count; k++) {
        if (!kind->all[k].on_maps)
            continue;
        const struct fw_io__worth worth =
            fw_io__map_value(maps, &kind->all[k], item, i);
        if (worth.text)
            fw_export__set_text(row, column, worth.text, failed);
        else
            fw_export__set_number(row, column, worth.number);
        column++;
    }
    const struct fw_origin *origin = origin_of(maps->plan, layer);
    if (origin)
        fill_copied(row, column, &maps->plan->fields[i].origin,
                    origin->copied_count, failed);
}

static enum fw_status fill(const struct fw_io__maps *maps,
                           const struct coordinates *coordinates,
                           enum fw_report_layer layer, struct fw_table *table,
                           struct fw_error *err)
{
    const struct fw_report_layer_row *of = &fw_export__layers[layer];
    const char *plan = (const char *)maps->plan;
    const size_t count = of->count ? fw_io__size_at(plan + of->count) : 1;
    const char *items =
        of->count ? fw_io__pointer_at(plan + of->items) : plan + of->items;
    enum fw_status status =
        fw_export__columns(table, of->of, origin_of(maps->plan, layer), err);
    for (size_t i = 0; i < count && !status; i++) {
        struct fw_row *row = new_row(table, err);
        if (!row)
            return FW_ENOMEM;
        bool failed = false;
        fill_row(maps, layer, items + i * of->of->size, i, row, &failed);
        status =
            failed ? fw_fail_memory(err)
                   : add_geometry(maps->plan, coordinates, layer, i, row, err);
    }
    return status;
}

static enum fw_status fill_styles(const struct fw_plan *plan,
                                  struct fw_table *table, struct fw_error *err)
{
    table->id = "id";
    table->columns = fw_export__style_columns;
    table->column_count = FW_REPORT_STYLE_COLUMNS;
    bool failed = false;
    /* The tables without geometry have none. */
    for (size_t i = 0; i < FW_LAYER_STAYS && !failed; i++) {
        struct fw_row *row = new_row(table, err);
        if (!row)
            return FW_ENOMEM;
        fw_export__fill_style(plan, i, row, &failed);
    }
    return failed ? fw_fail_memory(err) : FW_OK;
}

enum fw_status fw_report_tables(const struct fw_plan *plan, const char *crs,
                                struct fw_table tables[FW_REPORT_LAYERS],
                                struct fw_error *err)
{
    struct coordinates coordinates;
    memset(tables, 0, FW_REPORT_LAYERS * sizeof *tables);
    enum fw_status status =
        coordinates_init(&coordinates, plan, crs ? crs : plan->crs, err);
    if (status)
        return status;
    struct fw_io__maps maps;
    status = fw_io__maps_make(&maps, plan, err);
    for (size_t i = 0; !status && i < FW_REPORT_LAYERS; i++) {
        const struct fw_report_layer_row *of = &fw_export__layers[i];
        tables[i] =
            (struct fw_table){.name = of->name,
                              .kind = of->kind,
                              .geometry = of->geometry,
                              .multi = of->geometry == FW_FEATURE_POLYGON};
        status = of->of ? fill(&maps, &coordinates, (enum fw_report_layer)i,
                               &tables[i], err)
                        : fill_styles(plan, &tables[i], err);
    }
    fw_io__maps_release(&maps);
    coordinates_release(&coordinates);
    for (size_t i = 0; status && i < FW_REPORT_LAYERS; i++)
        fw_table_release(&tables[i]);
    return status;
}
