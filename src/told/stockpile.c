/* The winter's grass: its parts with their areas, swards and removals, and the
 * winter that they go through. Nothing is looked at where no part is told. */
#include "keys/schema.h"
#include "mapped/near.h"
#include "told/feed.h"

#include "base/alloc.h"
#include "base/text.h"
#include "crs/crs.h"
#include "figures/mark.h"
#include "figures/stockpile.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

static enum fw_status fail_part(const struct fw_farm__reader *reader,
                                size_t part, const struct fw_farm__at *at,
                                const char *leaf, struct fw_error *err)
{
    const struct fw_farm__part *told = &reader->draft.winter.parts[part];
    char key[96];
    if (told->name.at.given)
        fw_fail_where(err, "%.63s: ", told->name.text);
    snprintf(key, sizeof key, "stockpile.parts[%zu]%s", part, leaf);
    return fw_farm__fail_at(reader, at, key, err);
}

/* ---- where it lies ---- */

static enum fw_status no_such(const char *what, const char *name,
                              const char *const *names, size_t count,
                              struct fw_error *err)
{
    const char *near = count ? fw_text_nearest(name, names, count) : NULL;
    return fw_fail(err, FW_EINPUT, "there is no %s \"%.80s\"%s%s%s", what, name,
                   near ? "; did you mean \"" : "", near ? near : "",
                   near ? "\"?" : "");
}

static enum fw_status find_field(const struct fw_farm *farm, const char *name,
                                 const struct fw_farm_field **out,
                                 struct fw_error *err)
{
    const char **names = fw_alloc(farm->field_count, sizeof *names);
    if (!names)
        return fw_fail_memory(err);
    for (size_t i = 0; i < farm->field_count; i++) {
        names[i] = farm->fields[i].shape->name;
        if (strcmp(names[i], name) == 0)
            *out = &farm->fields[i];
    }
    const enum fw_status status =
        *out ? FW_OK : no_such("field", name, names, farm->field_count, err);
    fw_free(names);
    return status;
}

/* What of it lies on the fields: zones are drawn over their edges. */
static enum fw_status add_zone_ha(const struct fw_farm *farm,
                                  const struct fw_farm_feature *feature,
                                  double *area_ha, struct fw_error *err)
{
    const struct fw_farm__near box = fw_farm__near_feature(feature);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < farm->field_count; i++) {
        const struct fw_field *field = farm->fields[i].grazed;
        const struct fw_farm__near around = fw_farm__near_field(field);
        struct fw_herbage *ground = NULL;
        struct fw_herbage_told cover;
        if (!fw_farm__near_meets(&around, &box, 0))
            continue;
        struct fw_point *points =
            fw_farm__in_plane(&field->plane, feature, err);
        if (!points)
            return FW_ENOMEM;
        const struct fw_herbage_zone zone = {.points = points,
                                             .ring_start = feature->ring_start,
                                             .ring_count = feature->ring_count,
                                             .kg_m2 = 1};
        status = fw_herbage_zones(field, 0, &zone, 1, &ground, &cover, err);
        fw_free(points);
        if (!status)
            *area_ha += cover.told_m2 / 1e4;
        fw_herbage_free(ground);
    }
    return status;
}

static enum fw_status find_zone(const struct fw_farm *farm, const char *name,
                                double *area_ha, struct fw_error *err)
{
    const char **names = fw_alloc(farm->feature_count + 1, sizeof *names);
    size_t count = 0;
    bool found = false;
    enum fw_status status = names ? FW_OK : fw_fail_memory(err);
    for (size_t i = 0; !status && i < farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &farm->features[i];
        if (feature->role != FW_ROLE_ZONE || !feature->name)
            continue;
        names[count++] = feature->name;
        if (strcmp(feature->name, name) != 0)
            continue;
        found = true;
        if (feature->kind == FW_FEATURE_POLYGON)
            status = add_zone_ha(farm, feature, area_ha, err);
    }
    if (!status && !found)
        status = no_such("zone", name, names, count, err);
    if (!status && !(*area_ha > 0))
        status = fw_fail(err, FW_EINPUT,
                         "nothing of zone \"%.80s\" lies on a field", name);
    fw_free(names);
    return status;
}

static enum fw_status set_area(const struct fw_farm__reader *reader,
                               size_t part, const struct fw_farm_field **field,
                               double *area_ha, struct fw_error *err)
{
    const struct fw_farm__part *told = &reader->draft.winter.parts[part];
    enum fw_status status = FW_OK;
    if (told->field.at.given)
        status = find_field(reader->farm, told->field.text, field, err);
    if (status)
        return fail_part(reader, part, &told->field.at, ".field", err);
    if (told->zone.at.given)
        status = find_zone(reader->farm, told->zone.text, area_ha, err);
    if (status)
        return fail_part(reader, part, &told->zone.at, ".zone", err);
    if (*field && *area_ha <= 0)
        *area_ha = (*field)->shape->ellipsoid_m2 / 1e4 *
                   (told->share.at.given ? told->share.value : 1);
    if (told->area_ha.at.given)
        *area_ha = told->area_ha.value;
    return FW_OK;
}

/* ---- what grows there ---- */

static enum fw_status set_grass(const struct fw_farm__reader *reader,
                                size_t part, const struct fw_farm_field *field,
                                struct fw_stockpile_part *out,
                                struct fw_error *err)
{
    const struct fw_farm__part *told = &reader->draft.winter.parts[part];
    struct fw_sward sward = {.density = FW_DENSITY_GOOD};
    fw_farm__sward(reader, field ? (size_t)(field - reader->farm->fields) : 0,
                   NULL, &sward);
    const char *name = told->sward.at.given ? told->sward.text : sward.name;
    const bool same = strcmp(name, sward.name) == 0;
    out->stop_m = sward.leave_m > 0 ? sward.leave_m : FW_STOCK_STOP_M;
    if (!name[0])
        return fw_fail(err, FW_EINPUT,
                       "what grows there? Tell its sward, such as "
                       "fescue-nitrogen");
    const enum fw_status status =
        fw_stockpile_suits(reader->farm->stockpile.winter.line, name, err);
    if (status)
        return status;
    const struct fw_density_row *row = NULL;
    (void)fw_forage_find(name, &row, NULL);
    const int thick = same ? (int)sward.density : (int)FW_DENSITY_GOOD;
    const int good = row->high_kg_ha_cm[thick] > 0 ? thick : FW_DENSITY_GOOD;
    out->density_kg_ha_m =
        100 * (same && sward.density_kg_ha_cm > 0
                   ? sward.density_kg_ha_cm
                   : (row->low_kg_ha_cm[good] + row->high_kg_ha_cm[good]) / 2);
    return FW_OK;
}

static int day_of(const struct fw_farm__number *told)
{
    return told->at.given ? (int)lround(told->value) : FW_NO_DAY;
}

static double metres_of(const struct fw_farm__number *told, double otherwise)
{
    return told->at.given ? told->value : otherwise;
}

static enum fw_status set_part(const struct fw_farm__reader *reader,
                               size_t part, struct fw_error *err)
{
    const struct fw_farm__part *told = &reader->draft.winter.parts[part];
    struct fw_stockpile_part *out = &reader->farm->stockpile.parts[part];
    const struct fw_farm_field *field = NULL;
    double area_ha = 0;
    enum fw_status status = set_area(reader, part, &field, &area_ha, err);
    if (status)
        return status;
    char name[sizeof out->name];
    snprintf(name, sizeof name, "part %zu", part + 1);
    fw_text_clip(told->name.at.given ? told->name.text
                 : field             ? field->shape->name
                                     : name,
                 out->name, sizeof out->name);
    const struct fw_farm__at *at = told->name.at.given     ? &told->name.at
                                   : told->field.at.given  ? &told->field.at
                                   : told->grazed.at.given ? &told->grazed.at
                                                           : &told->area_ha.at;
    out->area_ha = area_ha;
    if (!(area_ha > 0)) {
        fw_fail(err, FW_EINPUT,
                "how large is it? Tell its field, its zone or its area, such "
                "as 1.2 ha");
        return fail_part(reader, part, at, "", err);
    }
    status = set_grass(reader, part, field, out, err);
    if (status)
        return fail_part(reader, part,
                         told->sward.at.given ? &told->sward.at : at,
                         told->sward.at.given ? ".sward" : "", err);
    out->grazed_day = day_of(&told->grazed);
    out->topped_day = day_of(&told->topped);
    out->left_m = metres_of(&told->left_m, out->stop_m);
    out->topped_m = metres_of(&told->topped_m, out->stop_m);
    out->nitrogen_kg_ha = metres_of(&told->nitrogen, 0);
    return FW_OK;
}

/* ---- the winter ---- */

static const int longest_winter_days = FW_BOUND(200);

static enum fw_status no_line(const struct fw_farm__reader *reader,
                              struct fw_error *err)
{
    size_t count;
    char say[FW_FARM_KEY_WORDS];
    const struct fw_stockpile_line *lines = fw_stockpile_lines(&count);
    const double lat_deg = reader->farm->stockpile.winter.lat_deg;
    size_t near = 0;
    for (size_t i = 1; i < count; i++)
        if (fabs(fw_stockpile_lat_deg(&lines[i]) - lat_deg) <
            fabs(fw_stockpile_lat_deg(&lines[near]) - lat_deg))
            near = i;
    return fw_fail(err, FW_EINPUT,
                   "which place's line of yield holds? There are "
                   "north-carolina and virginia for fescue, ontario and "
                   "ireland for mixed grass; the fields lie at %.0f degrees, "
                   "nearest to %s: tell %s",
                   lat_deg, lines[near].word,
                   fw_farm__tell("stockpile.line", 0, say));
}

/* The year is that of the last removal of any part. */
static int frost_day(const struct fw_farm__reader *reader,
                     const struct fw_stockpile_line *line)
{
    const struct fw_farm__winter *told = &reader->draft.winter;
    int last = FW_NO_DAY;
    for (size_t i = 0; i < told->part_count; i++) {
        const int grazed = day_of(&told->parts[i].grazed);
        const int topped = day_of(&told->parts[i].topped);
        last = grazed > last ? grazed : last;
        last = topped > last ? topped : last;
    }
    return last == FW_NO_DAY
               ? FW_NO_DAY
               : fw_stockpile_day(fw_date_year(last), line->frost_of_year);
}

static enum fw_status set_winter(struct fw_farm__reader *reader,
                                 struct fw_error *err)
{
    const struct fw_farm__winter *told = &reader->draft.winter;
    const struct fw_farm__loss *option =
        &reader->draft.option_forage.winter_loss;
    const struct fw_farm__loss *loss =
        option->at.given ? option : &reader->draft.forage.winter_loss;
    struct fw_farm *farm = reader->farm;
    struct fw_farm_stockpile *out = &farm->stockpile;
    struct fw_stockpile_winter *winter = &out->winter;
    winter->lat_deg = metres_of(&told->latitude_deg,
                                farm->fields[0].shape->plane.centre.lat_deg);
    if (!told->line.at.given)
        return no_line(reader, err);
    const enum fw_status status =
        fw_stockpile_find(told->line.text, &winter->line, err);
    if (status)
        return status;
    winter->loss = loss->at.given ? loss->share : FW_STOCK_LOSS;
    winter->base_nitrogen_kg_ha = metres_of(&told->base_nitrogen, -1);
    winter->break_days = metres_of(&told->break_days, FW_STOCK_TAKEN_AT[0]);
    out->loss_told = loss->at.given;
    out->frost_told = told->frost.at.given;
    out->days_told = told->days.at.given;
    winter->frost_day = out->frost_told ? day_of(&told->frost)
                                        : frost_day(reader, winter->line);
    out->from_day =
        told->from.at.given ? day_of(&told->from) : winter->frost_day;
    out->days = (int)lround(metres_of(&told->days, FW_STOCK_WANTED_DAYS));
    if (out->from_day < winter->frost_day ||
        out->from_day > winter->frost_day + longest_winter_days) {
        char from[FW_DATE_TEXT], frost[FW_DATE_TEXT];
        fw_fail(err, FW_EINPUT,
                "%s is not in the winter that begins with the first hard "
                "frost, %s",
                fw_date_write(out->from_day, from),
                fw_date_write(winter->frost_day, frost));
        return fw_farm__fail_at(reader, &told->from.at, "stockpile.from", err);
    }
    return FW_OK;
}

enum fw_status fw_farm__stockpile(struct fw_farm__reader *reader,
                                  struct fw_error *err)
{
    const struct fw_farm__winter *told = &reader->draft.winter;
    struct fw_farm_stockpile *out = &reader->farm->stockpile;
    if (!reader->request->winter || told->part_count == 0)
        return FW_OK;
    out->parts = fw_alloc(told->part_count, sizeof *out->parts);
    if (!out->parts)
        return fw_fail_memory(err);
    out->part_count = told->part_count;
    enum fw_status status = set_winter(reader, err);
    for (size_t i = 0; !status && i < told->part_count; i++) {
        status = set_part(reader, i, err);
        const struct fw_farm__part *part = &told->parts[i];
        if (!status && fw_stockpile_check(&out->parts[i], &out->winter, err))
            status = fail_part(reader, i,
                               part->name.at.given ? &part->name.at
                                                   : &part->grazed.at,
                               "", err);
    }
    return status;
}
