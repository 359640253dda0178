/* All files of a plan, each put in place whole, plan.json last: it carries the
 * sizes and sums of the others, so that a set left by a crash is noticed. */
#include "report/report.h"

#include "base/fail.h"

#include <stdio.h>
#include <string.h>

struct folder {
    const char *path;
    struct fw_plan_file files[8];
    size_t count;
};

static enum fw_status put(struct folder *folder, const char *name, char *bytes,
                          size_t count, bool listed, struct fw_error *err)
{
    struct fw_text path = {0};
    fw_text_addf(&path, "%s/%s", folder->path, name);
    enum fw_status status = fw_text_done(&path, err);
    if (!status)
        status = fw_file_put(path.bytes, bytes, count, err);
    if (!status && listed) {
        struct fw_plan_file *file = &folder->files[folder->count++];
        snprintf(file->name, sizeof file->name, "%s", name);
        file->size = count;
        file->crc32 = fw_file_crc32(bytes, count);
    }
    fw_text_release(&path);
    fw_file_free(bytes);
    return status;
}

static enum fw_status put_gpkg(const struct fw_plan *plan,
                               struct folder *folder, const char *crs,
                               long long epoch_s, struct fw_error *err)
{
    struct fw_table tables[FW_REPORT_LAYERS];
    enum fw_status status = fw_report_tables(plan, crs, tables, err);
    if (status)
        return status;
    char *bytes = NULL;
    size_t count = 0;
    status = fw_gpkg_bytes(tables, FW_REPORT_LAYERS, crs ? crs : plan->crs,
                           epoch_s, &bytes, &count, err);
    for (size_t i = 0; i < FW_REPORT_LAYERS; i++)
        fw_table_release(&tables[i]);
    return status ? status : put(folder, "plan.gpkg", bytes, count, true, err);
}

static enum fw_status first_gpx(const struct fw_plan *plan, char **out,
                                size_t *count, struct fw_error *err)
{
    return fw_report_gpx(plan, 0, out, count, err);
}

static enum fw_status put_texts(const struct fw_plan *plan,
                                struct folder *folder, struct fw_error *err)
{
    static const struct {
        const char *name;
        enum fw_status (*write)(const struct fw_plan *plan, char **out,
                                size_t *count, struct fw_error *err);
    } texts[] = {
        {"plan.geojson", fw_report_geojson},
        {"materials.csv", fw_report_materials_csv},
        {"moves.csv", fw_report_moves_csv},
        {"fence.gpx", first_gpx},
    };
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < sizeof texts / sizeof texts[0]; i++) {
        char *bytes = NULL;
        size_t count = 0;
        status = texts[i].write(plan, &bytes, &count, err);
        if (!status)
            status = put(folder, texts[i].name, bytes, count, true, err);
    }
    return status;
}

enum fw_status fw_report_folder(const struct fw_plan *plan, const char *path,
                                const char *crs, long long epoch_s,
                                struct fw_error *err)
{
    struct folder folder = {.path = path};
    if (epoch_s < 0)
        epoch_s = plan->start_day * 86400LL;
    enum fw_status status = fw_folder_make(path, err);
    if (!status)
        status = put_gpkg(plan, &folder, crs, epoch_s, err);
    if (!status)
        status = put_texts(plan, &folder, err);
    if (status)
        return status;
    char *bytes = NULL;
    size_t count = 0;
    status = fw_plan_json_write(plan, folder.files, folder.count, &bytes,
                                &count, err);
    return status ? status
                  : put(&folder, "plan.json", bytes, count, false, err);
}
