/* What lies on the ground of each field: its height, and its feed where zones
 * or a raster tell it for parts. */
#include "keys/schema.h"
#include "told/feed.h"
#include "told/heights.h"

#include "base/alloc.h"
#include "crs/crs.h"
#include <math.h>
#include <stdio.h>

/* ---- a raster of the farm file ---- */

struct source {
    const struct fw_farm__raster *told;
    const char *key; /* "dem" */
    struct fw_raster_file *file;
    struct fw_crs *crs;
};

static void source_close(struct source *source)
{
    fw_raster_close(source->file);
    fw_crs_give_back(source->crs);
}

static enum fw_status fail_source(const struct fw_farm__reader *reader,
                                  const struct source *source,
                                  struct fw_error *err)
{
    char key[48];
    snprintf(key, sizeof key, "%s.source", source->key);
    return fw_farm__fail_at(reader, &source->told->source.at, key, err);
}

static enum fw_status open_crs(struct source *source, struct fw_error *err)
{
    char key[48], say[FW_FARM_KEY_WORDS];
    const char *crs = fw_raster_crs(source->file);
    if (crs)
        return fw_crs_lend(crs, &source->crs, err);
    snprintf(key, sizeof key, "%s.crs", source->key);
    return fw_fail(err, FW_EINPUT,
                   "%s: names no coordinate system; say which, such as %s",
                   source->told->source.text, fw_farm__tell(key, 0, say));
}

static enum fw_status source_open(struct fw_farm__reader *reader,
                                  struct source *source, struct fw_error *err)
{
    const struct fw_farm__raster *told = source->told;
    const char *path;
    if (!told->source.at.given)
        return FW_OK;
    enum fw_status status = fw_farm__source(reader, &told->source, &path, err);
    if (status)
        return status;
    const struct fw_raster_request request = {
        .source = path,
        .band = told->band.at.given ? (int)lround(told->band.value) : 0,
        .scale = told->scale.at.given ? told->scale.value : 1,
        .offset = told->offset.at.given ? told->offset.value : 0,
        .crs = told->crs.at.given ? told->crs.text : NULL,
        .inputs = &reader->farm->inputs,
    };
    status = fw_raster_open(&request, &source->file, reader->notes, err);
    if (!status)
        status = open_crs(source, err);
    if (status)
        fail_source(reader, source, err);
    return status;
}

/* The part of it under a field. */
static enum fw_status read_part(struct fw_farm__reader *reader,
                                const struct source *source,
                                const struct fw_field *field,
                                struct fw_grid *out, struct fw_error *err)
{
    const size_t count = field->ring_start[1];
    struct fw_lonlat *places = fw_alloc(count, sizeof *places);
    size_t averaged = 1;
    if (!places)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++)
        places[i] = field->vertices[i].lonlat;
    const enum fw_status status = fw_raster_read(
        source->file, source->crs, places, count, out, &averaged, err);
    fw_free(places);
    if (status) {
        fw_fail_where(err, "%s: ", field->name);
        fail_source(reader, source, err);
        return status;
    }
    if (averaged == 1)
        return FW_OK;
    return fw_notes_add(reader->notes, FW_LEVEL_NOTE, field->name, err,
                        "%s: each %zu by %zu of its cells are taken as one, "
                        "their mean",
                        source->told->source.text, averaged, averaged);
}

/* ---- heights ---- */

static enum fw_status check_heights(struct fw_farm__reader *reader,
                                    const struct source *source,
                                    const struct fw_farm_field *field,
                                    struct fw_error *err)
{
    const struct fw_field *shape = field->shape;
    const char *text = source->told->source.text;
    size_t bare = 0;
    for (size_t i = 0; i < shape->vertex_count; i++)
        if (isnan(fw_raster_at_point(field->heights, shape->vertices[i].plane)))
            bare++;
    enum fw_status status = fw_farm__heights(field->heights, shape, err);
    if (!status && bare == shape->vertex_count)
        status = fw_fail(err, FW_EINPUT, "has no data on this field");
    if (status == FW_EINPUT) {
        fw_fail_where(err, "%s: %s: ", shape->name, text);
        fail_source(reader, source, err);
    }
    if (status || bare == 0)
        return status;
    return fw_notes_add(reader->notes, FW_LEVEL_WARNING, shape->name, err,
                        "%s: has no height at %zu of its %zu corners", text,
                        bare, shape->vertex_count);
}

static enum fw_status set_heights(struct fw_farm__reader *reader,
                                  const struct source *source,
                                  struct fw_farm_field *field,
                                  struct fw_error *err)
{
    struct fw_grid grid;
    if (!source->file)
        return FW_OK;
    enum fw_status status = read_part(reader, source, field->shape, &grid, err);
    if (status)
        return status;
    status = fw_raster_new(&grid, source->crs, &field->shape->plane,
                           &field->heights, err);
    fw_grid_release(&grid);
    return status ? status : check_heights(reader, source, field, err);
}

/* ---- feed ---- */

static enum fw_status set_feed(struct fw_farm__reader *reader,
                               const struct source *source, size_t field,
                               struct fw_error *err)
{
    struct fw_grid grid;
    bool zones = false;
    enum fw_status status = fw_farm__feed_zones(reader, field, &zones, err);
    if (status || !source->file)
        return status;
    const struct fw_farm_field *of = &reader->farm->fields[field];
    if (zones) {
        fw_fail(err, FW_EINPUT,
                "%s: its grass is told by zones and by a raster as well; keep "
                "one of them",
                of->shape->name);
        fail_source(reader, source, err);
        return FW_EINPUT;
    }
    status = read_part(reader, source, of->grazed, &grid, err);
    if (status)
        return status;
    status = fw_farm__feed_cells(reader, field, &grid, source->crs, err);
    fw_grid_release(&grid);
    if (status == FW_EINPUT) {
        fw_fail_where(err, "%s: %s: ", of->shape->name,
                      source->told->source.text);
        fail_source(reader, source, err);
    }
    return status;
}

static enum fw_status all_fields(struct fw_farm__reader *reader,
                                 struct source *feed, struct source *heights,
                                 struct fw_error *err)
{
    struct fw_farm *farm = reader->farm;
    enum fw_status status = source_open(reader, feed, err);
    if (!status)
        status = source_open(reader, heights, err);
    for (size_t i = 0; !status && i < farm->field_count; i++) {
        status = set_heights(reader, heights, &farm->fields[i], err);
        if (!status)
            status = set_feed(reader, feed, i, err);
    }
    return status;
}

enum fw_status fw_farm__ground(struct fw_farm__reader *reader,
                               struct fw_error *err)
{
    if (reader->request->winter) /* its parts tell of their own grass */
        return FW_OK;
    struct source feed = {.told = &reader->draft.forage_map,
                          .key = "forage-map"};
    struct source heights = {.told = &reader->draft.dem, .key = "dem"};
    const enum fw_status status = all_fields(reader, &feed, &heights, err);
    source_close(&feed);
    source_close(&heights);
    return status;
}
