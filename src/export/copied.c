/* The columns of a layer: of its members, and, of fields, of their map. */
#include "export/layers.h"

#include "base/alloc.h"
#include "base/fail.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

/* What has a meaning of its own in plan.gpkg or plan.geojson. */
static const char *const taken[] = {
    "fid",          FW_GPKG_GEOMETRY, "kind",         "stroke",
    "stroke-width", "fill",           "fill-opacity",
};

/* Letters count as the same in either case, as they do in a GeoPackage. */
static bool is_free(const struct fw_table *table, const char *name)
{
    for (size_t i = 0; i < sizeof taken / sizeof taken[0]; i++)
        if (strcasecmp(taken[i], name) == 0)
            return false;
    for (size_t i = 0; i < table->column_count; i++)
        if (strcasecmp(table->own_columns[i].name, name) == 0)
            return false;
    return true;
}

/* "area_ha" is ours; the map's is "source_area_ha". */
static char *free_name(const struct fw_table *table, const char *wanted)
{
    char name[300];
    snprintf(name, sizeof name, "%.250s", wanted);
    if (!is_free(table, name))
        snprintf(name, sizeof name, "source_%.250s", wanted);
    for (size_t n = 2; !is_free(table, name); n++)
        snprintf(name, sizeof name, "source_%.250s_%zu", wanted, n);
    return fw_strdup(name);
}

static enum fw_status add(struct fw_table *table, char *name,
                          enum fw_column_type type, struct fw_error *err)
{
    if (!name)
        return fw_fail_memory(err);
    table->own_columns[table->column_count++] =
        (struct fw_column){.name = name, .type = type};
    return FW_OK;
}

enum fw_status fw_export__columns(struct fw_table *table,
                                  const struct fw_io__kind *kind,
                                  const struct fw_origin *origin,
                                  struct fw_error *err)
{
    const size_t copied = origin ? origin->copied_count : 0;
    enum fw_status status = FW_OK;
    table->own_columns =
        fw_alloc(kind->all_count + copied, sizeof *table->own_columns);
    if (!table->own_columns)
        return fw_fail_memory(err);
    table->columns = table->own_columns;
    for (size_t i = 0; i < kind->all_count && !status; i++)
        if (kind->all[i].on_maps)
            status = add(table, fw_strdup(kind->all[i].name),
                         fw_io__column_type(&kind->all[i]), err);
    for (size_t i = 0; i < copied && !status; i++) {
        const char *wanted = origin->copied[i].column;
        status = add(table, free_name(table, wanted ? wanted : ""),
                     FW_COLUMN_TEXT, err);
    }
    return status;
}
