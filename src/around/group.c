/* Which features of the maps are one power line: maps cut them where a name, a
 * voltage or the number of wires changes. */
#include "around/around.h"
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "base/length.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "figures/units.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct mark { /* a name, or an end of what has none */
    const char *name;
    struct fw_lonlat at;
    size_t feature;
};

static int by_name(const void *left, const void *right)
{
    const struct mark *a = left, *b = right;
    const int order = strcmp(a->name, b->name);
    return order ? order
                 : (a->feature > b->feature) - (a->feature < b->feature);
}

static int by_latitude(const void *left, const void *right)
{
    const struct mark *a = left, *b = right;
    const int order =
        (a->at.lat_deg > b->at.lat_deg) - (a->at.lat_deg < b->at.lat_deg);
    return order ? order
                 : (a->feature > b->feature) - (a->feature < b->feature);
}

static size_t first_of(const size_t *group, size_t i)
{
    while (group[i] != i)
        i = group[i];
    return i;
}

static void join(size_t *group, size_t i, size_t k)
{
    const size_t a = first_of(group, i), b = first_of(group, k);
    group[a > b ? a : b] = a > b ? b : a;
}

static void join_names(size_t *group, struct mark *marks, size_t count)
{
    qsort(marks, count, sizeof *marks, by_name);
    for (size_t i = 1; i < count; i++)
        if (strcmp(marks[i - 1].name, marks[i].name) == 0)
            join(group, marks[i - 1].feature, marks[i].feature);
}

static bool meet(const struct mark *a, const struct mark *b)
{
    const double east =
        (b->at.lon_deg - a->at.lon_deg) * cos(a->at.lat_deg / FW_RADIAN_DEG);
    return fw_length(east, b->at.lat_deg - a->at.lat_deg) * FW_DEGREE_M <=
           FW_FEATURES_MEET_M;
}

/* No voltage is as good as any other that nobody knows. */
static bool same_kv(const struct fw_farm_feature *a,
                    const struct fw_farm_feature *b)
{
    return fabs(fmax(0, a->kv) - fmax(0, b->kv)) < FW_TOLERANCE(1e-9);
}

static void join_ends(size_t *group, struct mark *marks, size_t count,
                      const struct fw_farm *farm)
{
    qsort(marks, count, sizeof *marks, by_latitude);
    for (size_t i = 0; i < count; i++)
        for (size_t k = i + 1;
             k < count &&
             (marks[k].at.lat_deg - marks[i].at.lat_deg) * FW_DEGREE_M <=
                 FW_FEATURES_MEET_M;
             k++)
            if (meet(&marks[i], &marks[k]) &&
                same_kv(&farm->features[marks[i].feature],
                        &farm->features[marks[k].feature]))
                join(group, marks[i].feature, marks[k].feature);
}

static bool is_named(const struct fw_farm_feature *feature)
{
    return feature->name && feature->name[0];
}

static bool is_line(const struct fw_farm_feature *feature)
{
    return feature->role == FW_ROLE_POWER_LINE &&
           feature->kind == FW_FEATURE_LINE;
}

static size_t mark_ends(const struct fw_farm_feature *feature, size_t index,
                        struct mark *out)
{
    size_t count = 0;
    for (size_t r = 0; r < feature->ring_count; r++) {
        const size_t first = feature->ring_start[r];
        const size_t last = feature->ring_start[r + 1] - 1;
        out[count++] = (struct mark){NULL, feature->points[first], index};
        out[count++] = (struct mark){NULL, feature->points[last], index};
    }
    return count;
}

static size_t most_marks(const struct fw_farm *farm)
{
    size_t count = 0;
    for (size_t i = 0; i < farm->feature_count; i++)
        if (is_line(&farm->features[i]))
            count += 1 + 2 * farm->features[i].ring_count;
    return count;
}

enum fw_status fw_plan__group(const struct fw_farm *farm, size_t *group,
                              struct fw_error *err)
{
    const size_t most = most_marks(farm);
    struct mark *names = fw_alloc(most, sizeof *names);
    struct mark *ends = fw_alloc(most, sizeof *ends);
    size_t name_count = 0, end_count = 0;
    const enum fw_status status = names && ends ? FW_OK : fw_fail_memory(err);
    for (size_t i = 0; !status && i < farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &farm->features[i];
        group[i] = i;
        if (!is_line(feature))
            continue;
        if (is_named(feature))
            names[name_count++] =
                (struct mark){feature->name, feature->points[0], i};
        else
            end_count += mark_ends(feature, i, ends + end_count);
    }
    if (!status) {
        join_names(group, names, name_count);
        join_ends(group, ends, end_count, farm);
        /* The first of a group comes before the rest of it. */
        for (size_t i = 0; i < farm->feature_count; i++)
            group[i] = group[group[i]];
    }
    fw_free(names);
    fw_free(ends);
    return status;
}
