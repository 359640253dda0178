/* A farm from its file and its options: draft, farm, fields, what stands
 * around, what belongs to each field, what is missing, what was taken. */
#include "base/fail.h"
#include "keys/walk.h"

#include "base/alloc.h"
#include "crs/crs.h"
#include "figures/mark.h"
#include <foldwright/told.h>
#include <string.h>

enum { most_bytes = FW_BOUND(4) << 20 };

static enum fw_status read_file(struct fw_farm__reader *reader,
                                struct fw_error *err)
{
    const char *path = reader->request->farm_path;
    char *bytes;
    size_t count;
    if (!path)
        return FW_OK;
    enum fw_status status = fw_file_get(path, most_bytes, &bytes, &count, err);
    if (status)
        return status;
    status = fw_inputs_add(&reader->farm->inputs, path, err);
    if (!status)
        status = fw_farm__load(reader, bytes, count, err);
    fw_bytes_free(bytes); /* the document has copies of its own */
    return status ? status : fw_farm__walk(reader, err);
}

/* ---- what was told beside it, to tell it again ---- */

static enum fw_status keep_value(struct fw_told *told, const char *key,
                                 const char *value, struct fw_error *err)
{
    char *shown = fw_source_shown(value);
    const enum fw_status status =
        shown ? fw_told_add(told, key, shown, err) : fw_fail_memory(err);
    fw_bytes_free(shown);
    return status;
}

static enum fw_status keep_told(struct fw_farm__reader *reader,
                                struct fw_error *err)
{
    const struct fw_farm_request *request = reader->request;
    struct fw_told *told = &reader->farm->told;
    enum fw_status status = FW_OK;
    if (request->folder && !(told->folder = fw_strdup(request->folder)))
        return fw_fail_memory(err);
    for (size_t i = 0; !status && i < request->field_source_count; i++)
        status =
            keep_value(told, FW_TOLD_FIELDS, request->field_sources[i], err);
    for (size_t i = 0; !status && i < request->setting_count; i++)
        status = keep_value(told, request->settings[i].key,
                            request->settings[i].value, err);
    return status;
}

/* The units that an option tells hold for the file's quantities too. */
static void settle_units(struct fw_farm__reader *reader)
{
    const struct fw_farm_request *request = reader->request;
    for (size_t i = 0; i < request->setting_count; i++)
        if (strcmp(request->settings[i].key, "units") == 0)
            fw_farm__use_units(reader, request->settings[i].value);
}

static enum fw_status read_parts(struct fw_farm__reader *reader,
                                 struct fw_error *err)
{
    enum fw_status (*const parts[])(struct fw_farm__reader *,
                                    struct fw_error *) = {
        read_file,          fw_farm__settings,
        fw_farm__hide,      fw_farm__build,
        fw_farm__fields,    fw_farm__features,
        fw_farm__exclude,   fw_farm__conditions,
        fw_farm__arrange,   fw_farm__earlier,
        fw_farm__own,       fw_farm__tour,
        fw_farm__borders,   fw_farm__road,
        fw_farm__way_in,    fw_farm__front_first,
        fw_farm__season,    fw_farm__ground,
        fw_farm__stockpile, fw_farm__weather,
        fw_farm__needs,     fw_farm__defaults,
        keep_told,
    };
    settle_units(reader);
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        const enum fw_status status = parts[i](reader, err);
        if (status)
            return status;
    }
    return FW_OK;
}

struct fw_farm__reader *
fw_farm__reader_new(const struct fw_farm_request *request,
                    struct fw_notes *notes)
{
    struct fw_farm__reader *reader = fw_alloc(1, sizeof *reader);
    struct fw_farm *farm = fw_alloc(1, sizeof *farm);
    if (!reader || !farm) {
        fw_free(reader);
        fw_free(farm);
        return NULL;
    }
    reader->request = request;
    reader->notes = notes;
    reader->farm = farm;
    farm->world = &fw_crs_world;
    return reader;
}

void fw_farm__reader_free(struct fw_farm__reader *reader)
{
    fw_farm_free(reader->farm);
    for (size_t i = 0; i < reader->owned_count; i++)
        fw_free(reader->owned[i]);
    for (size_t i = 0; i < reader->waypoint_count; i++)
        fw_free(reader->waypoints[i].name);
    fw_free(reader->owned);
    fw_free(reader->waypoints);
    fw_free(reader->each_of);
    fw_farm__road_release(&reader->road);
    fw_farm__draft_release(&reader->draft);
    if (reader->has_document)
        yaml_document_delete(&reader->document);
    fw_quantities_free(reader->quantities);
    fw_free(reader);
}

enum fw_status fw_farm_read(const struct fw_farm_request *request,
                            struct fw_farm **out, size_t *bad_count,
                            struct fw_notes *notes, struct fw_error *err)
{
    if (!request || !out)
        return fw_fail_null(err, "a request, or where the farm goes,");
    /* What went wrong is put together from parts, so there is always room. */
    struct fw_error own;
    if (!err)
        err = &own;
    struct fw_farm__reader *reader = fw_farm__reader_new(request, notes);
    if (!reader)
        return fw_fail_memory(err);
    const enum fw_status status = read_parts(reader, err);
    if (!status) {
        *out = reader->farm;
        reader->farm = NULL;
    }
    if (bad_count)
        *bad_count = reader->bad_count;
    fw_farm__reader_free(reader);
    return status;
}
