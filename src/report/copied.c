/* Columns of the fields' map, carried into the files of the plan. */
#include "report/layers.h"

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
static bool is_free(const struct fw_table *table, size_t count,
                    const char *name)
{
    for (size_t i = 0; i < sizeof taken / sizeof taken[0]; i++)
        if (strcasecmp(taken[i], name) == 0)
            return false;
    for (size_t i = 0; i < count; i++)
        if (strcasecmp(table->own_columns[i].name, name) == 0)
            return false;
    return true;
}

/* "area_ha" is ours; the map's is "source_area_ha". */
static char *free_name(const struct fw_table *table, size_t count,
                       const char *wanted)
{
    char name[300];
    snprintf(name, sizeof name, "%.250s", wanted);
    if (!is_free(table, count, name))
        snprintf(name, sizeof name, "source_%.250s", wanted);
    for (size_t n = 2; !is_free(table, count, name); n++)
        snprintf(name, sizeof name, "source_%.250s_%zu", wanted, n);
    return fw_strdup(name);
}

enum fw_status fw_report__add_copied(struct fw_table *table,
                                     const struct fw_plan *plan,
                                     struct fw_error *err)
{
    const struct fw_origin *origin =
        plan->field_count ? &plan->fields[0].origin : NULL;
    if (!origin || origin->copied_count == 0)
        return FW_OK;
    const size_t own = table->column_count;
    const size_t count = own + origin->copied_count;
    const struct fw_column *columns = table->columns;
    table->own_columns = fw_alloc(count, sizeof *table->own_columns);
    if (!table->own_columns)
        return fw_fail_memory(err);
    table->columns = table->own_columns;
    table->column_count = 0;
    for (size_t i = 0; i < count; i++) {
        const struct fw_copied *copied =
            i < own ? NULL : &origin->copied[i - own];
        table->own_columns[i] = (struct fw_column){
            .name = copied ? free_name(table, i,
                                       copied->column ? copied->column : "")
                           : fw_strdup(columns[i].name),
            .type = copied ? FW_COLUMN_TEXT : columns[i].type,
        };
        if (!table->own_columns[i].name)
            return fw_fail_memory(err);
        table->column_count = i + 1;
    }
    return FW_OK;
}
