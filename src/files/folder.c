/* All files of a plan as one set, plan.json last: it carries the sizes and sums
 * of the others. */
#include "export/export.h"
#include "picture/picture.h"
#include "report/report.h"

#include "base/fail.h"
#include "base/progress.h"
#include "store/store.h"

#include <stdio.h>
#include <string.h>

struct folder {
    const struct fw_plan *plan; /* as it is told from that folder */
    const struct fw_report_out *how;
    long long epoch_s;
    struct fw_set *set;
    struct fw_plan_file files[16]; /* that are on the disk */
    size_t count;
};

/* The bytes are freed. */
static enum fw_status put(struct folder *folder, const char *name, char *bytes,
                          size_t count, struct fw_error *err)
{
    const enum fw_status status = fw_set_put(folder->set, bytes, count, err);
    struct fw_plan_file *file = &folder->files[folder->count++];
    snprintf(file->name, sizeof file->name, "%s", name);
    file->size = count;
    file->crc32 = fw_file_crc32(bytes, count);
    fw_bytes_free(bytes);
    return status;
}

static enum fw_status gpkg(const struct folder *folder, char **out,
                           size_t *count, struct fw_error *err)
{
    const struct fw_plan *plan = folder->plan;
    struct fw_table tables[FW_REPORT_LAYERS];
    enum fw_status status =
        fw_report_tables(plan, folder->how->crs, tables, err);
    if (status)
        return status;
    status = fw_gpkg_bytes(tables, FW_REPORT_LAYERS,
                           folder->how->crs ? folder->how->crs : plan->crs,
                           folder->epoch_s, out, count, err);
    for (size_t i = 0; i < FW_REPORT_LAYERS; i++)
        fw_table_release(&tables[i]);
    return status;
}

static enum fw_status geojson(const struct folder *folder, char **out,
                              size_t *count, struct fw_error *err)
{
    return fw_report_geojson(folder->plan, out, count, err);
}

static enum fw_status materials(const struct folder *folder, char **out,
                                size_t *count, struct fw_error *err)
{
    return fw_report_materials_csv(folder->plan, out, count, err);
}

static enum fw_status moves(const struct folder *folder, char **out,
                            size_t *count, struct fw_error *err)
{
    return fw_report_moves_csv(folder->plan, out, count, err);
}

static enum fw_status first_gpx(const struct folder *folder, char **out,
                                size_t *count, struct fw_error *err)
{
    return fw_report_gpx(folder->plan, fw_plan_next_move(folder->plan), out,
                         count, err);
}

static enum fw_status ahead(const struct folder *folder, char **out,
                            size_t *count, struct fw_error *err)
{
    return fw_report_ahead_svg(folder->plan, out, count, err);
}

static enum fw_status card(const struct folder *folder, char **out,
                           size_t *count, struct fw_error *err)
{
    return fw_report_card(folder->plan, fw_plan_next_move(folder->plan),
                          folder->epoch_s, out, count, err);
}

static enum fw_status sheet_as(const struct folder *folder, const char *form,
                               char **out, size_t *count, struct fw_error *err)
{
    return fw_report_sheet(folder->plan, form, folder->epoch_s, out, count,
                           err);
}

static enum fw_status sheet(const struct folder *folder, char **out,
                            size_t *count, struct fw_error *err)
{
    return sheet_as(folder, "pdf", out, count, err);
}

static enum fw_status sheet_svg(const struct folder *folder, char **out,
                                size_t *count, struct fw_error *err)
{
    return sheet_as(folder, "svg", out, count, err);
}

static enum fw_status sheet_png(const struct folder *folder, char **out,
                                size_t *count, struct fw_error *err)
{
    return sheet_as(folder, "png", out, count, err);
}

static enum fw_status page(const struct folder *folder, char **out,
                           size_t *count, struct fw_error *err)
{
    return fw_report_map_page(folder->plan, folder->how->tiles, out, count,
                              err);
}

static enum fw_status json(const struct folder *folder, char **out,
                           size_t *count, struct fw_error *err)
{
    return fw_plan_json_write(folder->plan, folder->files, folder->count, out,
                              count, err);
}

/* plan.json is last. */
static const struct {
    const char *name;
    unsigned kind; /* enum fw_report_files, or 0: always */
    enum fw_status (*write)(const struct folder *folder, char **out,
                            size_t *count, struct fw_error *err);
} files[] = {
    {"plan.gpkg", 0, gpkg},
    {"plan.geojson", 0, geojson},
    {"materials.csv", 0, materials},
    {"moves.csv", 0, moves},
    {"fence.gpx", 0, first_gpx},
    {"ahead.svg", 0, ahead},
    {"card.pdf", FW_REPORT_PRINTED, card},
    {"sheet.pdf", FW_REPORT_PRINTED, sheet},
    {"sheet.svg", FW_REPORT_SVG, sheet_svg},
    {"sheet.png", FW_REPORT_PNG, sheet_png},
    {"map.html", FW_REPORT_PAGE, page},
    {"plan.json", 0, json},
};
enum { file_count = sizeof files / sizeof files[0] };

static bool is_wanted(const struct fw_report_out *how, size_t file)
{
    return files[file].kind == 0 || (how->files & files[file].kind);
}

static enum fw_status put_all(struct folder *folder, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; i < file_count && !status; i++) {
        char *bytes = NULL;
        size_t count = 0;
        if (!is_wanted(folder->how, i))
            continue;
        fw_progress_begin(files[i].name);
        status = files[i].write(folder, &bytes, &count, err);
        if (!status)
            status = put(folder, files[i].name, bytes, count, err);
    }
    return status ? status : fw_set_done(folder->set, err);
}

/* The plan as it is told from that folder. */
static enum fw_status write_set(const struct fw_plan *plan, const char *path,
                                struct folder *folder, struct fw_error *err)
{
    struct fw_plan told = *plan;
    told.inputs = (struct fw_inputs){0};
    told.told = (struct fw_told){0};
    enum fw_status status =
        fw_inputs_from(path, "plan.json", &plan->inputs, &told.inputs, err);
    if (!status)
        status = fw_told_from(path, &plan->told, &told.told, err);
    folder->plan = &told;
    if (!status)
        status = put_all(folder, err);
    folder->plan = plan;
    fw_inputs_release(&told.inputs);
    fw_told_release(&told.told);
    return status;
}

enum fw_status fw_report_folder(const struct fw_plan *plan, const char *path,
                                const struct fw_report_out *how,
                                struct fw_error *err)
{
    if (!plan || !path || !how)
        return fw_fail_null(err, "a plan, its folder, or how it is written,");
    const char *names[file_count], *outdated[file_count];
    size_t count = 0, outdated_count = 0;
    for (size_t i = 0; i < file_count; i++)
        if (is_wanted(how, i))
            names[count++] = files[i].name;
        else
            outdated[outdated_count++] = files[i].name;
    struct folder folder = {
        .how = how,
        .epoch_s = how->epoch_s < 0 ? plan->start_day * 86400LL : how->epoch_s,
    };
    const struct fw_set_rules rules = {
        .inputs = &plan->inputs,
        .force = how->force,
        .outdated = outdated,
        .outdated_count = outdated_count,
    };
    enum fw_status status = fw_folder_make(path, err);
    if (!status)
        status = fw_set_begin(path, names, count, &rules, &folder.set, err);
    if (!status)
        status = write_set(plan, path, &folder, err);
    fw_set_free(folder.set);
    return status;
}
