/* The power lines of one map: which unit its columns have, the voltage of each
 * line, and what was read with doubt. */
#include "mapped/voltage.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include "figures/mark.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

/* A column of values in kilovolts has no other in volts. */
static enum fw_farm__volt_unit unit_of(const struct fw_map *map, size_t column)
{
    const enum fw_farm__volt_unit named =
        fw_farm__volt_unit_of(map->volt_columns[column]);
    bool volts = false, kilovolts = false;
    if (named != FW_FARM__EITHER)
        return named;
    for (size_t i = 0; i < map->feature_count; i++) {
        const char *text = map->features[i].values[map->column_count + column];
        if (text)
            fw_farm__volt_units_in(text, &volts, &kilovolts);
    }
    return volts && !kilovolts ? FW_FARM__VOLTS : FW_FARM__EITHER;
}

enum fw_status fw_farm__power_lines_init(struct fw_farm__power_lines *lines,
                                         const struct fw_map *map,
                                         const struct fw_farm__map *told,
                                         struct fw_notes *notes,
                                         struct fw_error *err)
{
    *lines = (struct fw_farm__power_lines){
        .map = map,
        .told = told,
        .told_kv = told->kv.at.given ? told->kv.value : -1,
        .units = fw_alloc(map->volt_column_count, sizeof *lines->units),
    };
    if (!lines->units)
        return fw_fail_memory(err);
    for (size_t i = 0; i < map->volt_column_count; i++)
        lines->units[i] = unit_of(map, i);
    if (lines->told_kv < 0 || fw_safety_is_nominal_kv(lines->told_kv))
        return FW_OK;
    const double odd_kv = lines->told_kv;
    lines->told_kv = -1;
    return fw_notes_add(notes, FW_LEVEL_WARNING, map->source, err,
                        "maps[].kv: %g kV is no standard voltage of power "
                        "lines: treated as the highest; say the nearest "
                        "higher one, such as 20 kV",
                        odd_kv);
}

void fw_farm__power_lines_release(struct fw_farm__power_lines *lines)
{
    fw_free(lines->units);
    *lines = (struct fw_farm__power_lines){0};
}

/* ---- one line ---- */

static bool is_same(double a_kv, double b_kv)
{
    return fabs(a_kv - b_kv) <= FW_TOLERANCE(1e-9) * b_kv;
}

/* The highest of what its columns say; one of them that is no standard voltage
 * may be the highest. */
static struct fw_farm__voltage highest(const struct fw_farm__power_lines *lines,
                                       const struct fw_feature *feature,
                                       struct fw_text *said)
{
    const struct fw_map *map = lines->map;
    struct fw_farm__voltage all = {0};
    for (size_t i = 0; feature->values && i < map->volt_column_count; i++) {
        const char *text = feature->values[map->column_count + i];
        if (!text)
            continue;
        fw_text_addf(said, "%s%s \"%s\"", said->length ? ", " : "",
                     map->volt_columns[i], text);
        const struct fw_farm__voltage one =
            fw_farm__voltage(text, lines->units[i]);
        const bool odd = all.kv < 0 || one.kv < 0;
        if (one.told && (!all.told || odd || one.kv > all.kv))
            all = one;
        all.kv = odd ? -1 : all.kv;
    }
    return all;
}

static void settle(const struct fw_farm__power_lines *lines,
                   const struct fw_farm__voltage *read,
                   struct fw_farm_feature *out)
{
    const double told_kv = lines->told_kv;
    const bool plain = read->told && read->kv > 0 && !read->either;
    out->kv = read->told ? read->kv : -1;
    out->kv_from = !read->told    ? FW_KV_UNTOLD
                   : read->kv < 0 ? FW_KV_ODD
                   : read->either ? FW_KV_HIGHER
                                  : FW_KV_MAP;
    if (told_kv < 0 || plain)
        return;
    if (read->told && read->either && !is_same(read->kv, told_kv) &&
        !is_same(read->kv / 1000, told_kv))
        return;
    out->kv = told_kv;
    out->kv_from = FW_KV_FARM;
}

static void count_doubt(size_t *count, char *first, size_t size,
                        const char *said)
{
    if ((*count)++ == 0)
        fw_text_clip(said, first, size);
}

enum fw_status fw_farm__power_line(struct fw_farm__power_lines *lines,
                                   const struct fw_feature *feature,
                                   struct fw_farm_feature *out,
                                   struct fw_error *err)
{
    struct fw_text said = {0};
    const struct fw_farm__voltage read = highest(lines, feature, &said);
    const enum fw_status status = fw_text_done(&said, err);
    if (status) {
        fw_text_release(&said);
        return status;
    }
    settle(lines, &read, out);
    out->kv_text = said.bytes; /* NULL where no column says a thing */
    if (out->kind == FW_FEATURE_POINT)
        return FW_OK;
    if (out->kv_from == FW_KV_UNTOLD)
        lines->untold++;
    else if (out->kv_from == FW_KV_ODD)
        count_doubt(&lines->odd, lines->first_odd, sizeof lines->first_odd,
                    out->kv_text);
    else if (out->kv_from == FW_KV_HIGHER)
        count_doubt(&lines->either, lines->first_either,
                    sizeof lines->first_either, out->kv_text);
    return FW_OK;
}

/* ---- what is told of them ---- */

enum fw_status
fw_farm__power_lines_tell(const struct fw_farm__power_lines *lines,
                          struct fw_notes *notes, struct fw_error *err)
{
    const char *source = lines->map->source;
    enum fw_status status = FW_OK;
    if (lines->untold)
        status = fw_notes_add(
            notes, FW_LEVEL_NOTE, source, err,
            "%zu of its power lines near a field %s no voltage: treated as the "
            "highest; say it with maps[].kv if you know it",
            lines->untold, lines->untold == 1 ? "has" : "have");
    if (!status && lines->odd)
        status = fw_notes_add(
            notes, FW_LEVEL_WARNING, source, err,
            "%zu of its power lines near a field %s no standard voltage (the "
            "first: %s): treated as the highest; say it with maps[].kv if you "
            "know it",
            lines->odd, lines->odd == 1 ? "gives" : "give", lines->first_odd);
    if (!status && lines->either)
        status = fw_notes_add(
            notes, FW_LEVEL_WARNING, source, err,
            "%zu of its power lines near a field %s a number that may be volts "
            "or kilovolts (the first: %s): taken as kilovolts; if they are "
            "volts say so with maps[].kv, such as 400 V",
            lines->either, lines->either == 1 ? "gives" : "give",
            lines->first_either);
    return status;
}
