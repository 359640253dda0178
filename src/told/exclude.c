/* Ponds, exclusions and watercourses with a width, off the fields. A field
 * that comes apart becomes several, so this is done before fields are named
 * and put in order. */
#include "mapped/near.h"
#include "told/split.h"

#include "base/alloc.h"
#include "base/array.h"
#include "crs/crs.h"
#include "figures/farm.h"
#include "figures/mark.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

struct excluding {
    struct fw_farm__reader *reader;
    struct fw_crs *crs; /* of the field at hand */
    const char *crs_text;
    struct fw_farm__near *near;   /* by feature */
    struct fw_farm_field *fields; /* what becomes of them all */
    size_t field_count, field_capacity;
};

/* ---- bars ---- */

/* How far around it nothing is grazed; negative: it takes nothing off. */
static double reach_of(const struct fw_farm_feature *feature)
{
    const double setback_m = fmax(0, feature->setback_m);
    const double width_m = fmax(0, feature->width_m);
    if (feature->role != FW_ROLE_POND && feature->role != FW_ROLE_WATERCOURSE &&
        feature->role != FW_ROLE_EXCLUSION)
        return -1;
    if (feature->kind == FW_FEATURE_POLYGON)
        return setback_m;
    if (feature->kind == FW_FEATURE_LINE && width_m > 0)
        return setback_m + width_m / 2;
    return feature->role == FW_ROLE_EXCLUSION && setback_m > 0 ? setback_m : -1;
}

static enum fw_status check_bar(const struct fw_farm__reader *reader,
                                const struct fw_farm_feature *feature,
                                struct fw_error *err)
{
    if (feature->role != FW_ROLE_EXCLUSION || reach_of(feature) >= 0)
        return FW_OK;
    const bool line = feature->kind == FW_FEATURE_LINE;
    char name[FW_FARM__FEATURE];
    return fw_fail(
        err, FW_EINPUT,
        "%s: %s is a %s; an exclusion is an area, or has a "
        "%s: tell it in a column, or as maps[].%s",
        reader->draft.maps[feature->map].source.text,
        fw_farm__feature(feature->row, feature->fid, feature->name, name),
        line ? "line" : "point", line ? "width" : "setback",
        line ? "width" : "setback");
}

/* What lies near the field, in its plane; points[i] belongs to bars[i]. */
struct bars {
    struct fw_bar *items;
    struct fw_point **points;
    size_t count;
};

static void bars_release(struct bars *bars)
{
    for (size_t i = 0; i < bars->count; i++)
        fw_free(bars->points[i]);
    fw_free(bars->items);
    fw_free(bars->points);
}

static enum fw_status find_bars(const struct excluding *excluding,
                                const struct fw_field *field, struct bars *out,
                                struct fw_error *err)
{
    const struct fw_farm *farm = excluding->reader->farm;
    const struct fw_farm__near around = fw_farm__near_field(field);
    struct bars bars = {
        .items = fw_alloc(farm->feature_count, sizeof *bars.items),
        .points = fw_alloc(farm->feature_count, sizeof *bars.points),
    };
    enum fw_status status =
        bars.items && bars.points ? FW_OK : fw_fail_memory(err);
    for (size_t i = 0; !status && i < farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &farm->features[i];
        const double reach_m = reach_of(feature);
        if (reach_m < 0 ||
            !fw_farm__near_meets(&around, &excluding->near[i], reach_m))
            continue;
        struct fw_point *points =
            fw_farm__in_plane(&field->plane, feature, err);
        if (!points) {
            status = FW_ENOMEM;
            break;
        }
        bars.points[bars.count] = points;
        bars.items[bars.count++] = (struct fw_bar){
            .points = points,
            .ring_start = feature->ring_start,
            .ring_count = feature->ring_count,
            .is_area = feature->kind == FW_FEATURE_POLYGON,
            .setback_m = reach_m,
        };
    }
    if (status)
        bars_release(&bars);
    else
        *out = bars;
    return status;
}

/* ---- fields ---- */

static enum fw_status open_crs(struct excluding *excluding,
                               const struct fw_farm_field *field,
                               struct fw_error *err)
{
    if (excluding->crs_text && strcmp(excluding->crs_text, field->crs) == 0)
        return FW_OK;
    fw_crs_give_back(excluding->crs);
    excluding->crs = NULL;
    excluding->crs_text = NULL;
    const enum fw_status status = fw_crs_lend(field->crs, &excluding->crs, err);
    if (!status)
        excluding->crs_text = field->crs;
    return status;
}

/* The field is moved over; its old place is empty. */
static enum fw_status push(struct excluding *excluding,
                           struct fw_farm_field *field, struct fw_error *err)
{
    const enum fw_status status = fw_array_reserve(
        &excluding->fields, &excluding->field_capacity,
        excluding->field_count + 1, sizeof *excluding->fields, err);
    if (status)
        return status;
    excluding->fields[excluding->field_count++] = *field;
    *field = (struct fw_farm_field){0};
    return FW_OK;
}

enum fw_status fw_farm__piece(const struct fw_farm_field *whole,
                              struct fw_field *piece, const char *name,
                              struct fw_farm_field *out, struct fw_error *err)
{
    *out = (struct fw_farm_field){
        .shape = piece,
        .grazed = piece,
        .crs_accuracy_m = whole->crs_accuracy_m,
        .source = fw_strdup(whole->source),
        .crs = fw_strdup(whole->crs),
        .sides = fw_alloc(piece->corner_count, sizeof *out->sides),
    };
    char *own = name ? fw_strdup(name) : NULL;
    if (out->source && out->crs && out->sides && (own || !name) &&
        !fw_origin_copy(&whole->origin, &out->origin, NULL)) {
        if (own) {
            fw_free(piece->name);
            piece->name = own;
        }
        return FW_OK;
    }
    fw_free(own);
    fw_farm__field_release(out);
    *out = (struct fw_farm_field){0};
    return fw_fail_memory(err);
}

static enum fw_status push_all(struct excluding *excluding,
                               const struct fw_farm_field *whole,
                               struct fw_field **pieces, size_t count,
                               struct fw_error *err)
{
    double left_m2 = 0;
    enum fw_status status = FW_OK;
    for (size_t i = 0; i < count; i++)
        left_m2 += pieces[i]->area_m2;
    for (size_t i = 0; !status && i < count; i++) {
        struct fw_farm_field own = {0};
        struct fw_field *piece = pieces[i];
        char name[192];
        snprintf(name, sizeof name, "%.160s/%zu", whole->shape->name, i + 1);
        pieces[i] = NULL;
        status = fw_farm__piece(whole, piece, i > 0 ? name : NULL, &own, err);
        if (i == 0)
            own.excluded_m2 = fmax(0, whole->shape->area_m2 - left_m2);
        if (!status)
            status = push(excluding, &own, err);
        fw_farm__field_release(&own);
    }
    return status;
}

static enum fw_status tell(const struct excluding *excluding,
                           const struct fw_field *shape, double taken_m2,
                           size_t kept, double lost_m2, struct fw_error *err)
{
    struct fw_notes *notes = excluding->reader->notes;
    const char *name = shape->name;
    const double share = taken_m2 / shape->area_m2;
    enum fw_status status = fw_notes_add(
        notes, share > 0.5 ? FW_LEVEL_WARNING : FW_LEVEL_NOTE, name, err,
        "%.0f m2 of %.0f are not grazed: ponds, exclusions and their setbacks",
        taken_m2, shape->area_m2);
    if (!status && lost_m2 >= 1)
        status = fw_notes_add(notes, FW_LEVEL_NOTE, name, err,
                              "pieces of %.0f m2 in all that they cut off are "
                              "too small to plan",
                              lost_m2);
    if (!status && kept > 1)
        status = fw_notes_add(notes, FW_LEVEL_NOTE, name, err,
                              "they cut it into %zu; each is a field of its "
                              "own: %s, the greatest, and %s/2%s",
                              kept, name, name, kept > 2 ? " and so on" : "");
    return status;
}

/* How many of the pieces, greatest first, are kept. */
static size_t count_kept(struct fw_field *const *pieces, size_t count,
                         double left_m2)
{
    size_t kept = 0;
    while (kept < count &&
           pieces[kept]->area_m2 >= FW_MAP_PIECE_SHARE * left_m2)
        kept++;
    return kept;
}

static enum fw_status nothing_left(struct excluding *excluding,
                                   struct fw_farm_field *field,
                                   struct fw_error *err)
{
    struct fw_farm__reader *reader = excluding->reader;
    fw_fail(err, FW_EPLAN,
            "%s: ponds, exclusions and their setbacks leave nothing of it to "
            "graze; is their map right, or the setback too wide?",
            field->shape->name);
    if (reader->bad_count++ == 0)
        reader->first_bad = *err;
    if (!reader->request->every_field || reader->farm->field_count == 1)
        return FW_EPLAN;
    return fw_notes_add(reader->notes, FW_LEVEL_WARNING, "", err, "%s",
                        err->text);
}

/* Takes the pieces, and the field where it lives on. */
static enum fw_status settle(struct excluding *excluding,
                             struct fw_farm_field *field,
                             struct fw_field **pieces, size_t count,
                             double left_m2, struct fw_error *err)
{
    const double area_m2 = field->shape->area_m2;
    const size_t kept = count_kept(pieces, count, left_m2);
    double kept_m2 = 0;
    if (left_m2 >= (1 - FW_TOLERANCE(1e-9)) * area_m2)
        return push(excluding, field, err); /* nothing was in the way */
    if (kept == 0)
        return nothing_left(excluding, field, err);
    for (size_t i = 0; i < kept; i++)
        kept_m2 += pieces[i]->area_m2;
    enum fw_status status =
        tell(excluding, field->shape, fmax(0, area_m2 - left_m2), kept,
             left_m2 - kept_m2, err);
    if (status)
        return status;
    if (kept > 1)
        return push_all(excluding, field, pieces, kept, err);
    field->grazed = pieces[0];
    field->excluded_m2 = area_m2 - kept_m2;
    pieces[0] = NULL;
    return push(excluding, field, err);
}

static enum fw_status one_field(struct excluding *excluding,
                                struct fw_farm_field *field,
                                struct fw_error *err)
{
    struct bars bars;
    struct fw_field **pieces = NULL;
    size_t count = 0;
    double left_m2 = 0;
    enum fw_status status = find_bars(excluding, field->shape, &bars, err);
    if (status)
        return status;
    if (bars.count == 0) {
        bars_release(&bars);
        return push(excluding, field, err);
    }
    status = open_crs(excluding, field, err);
    if (!status)
        status = fw_field_less(field->shape, bars.items, bars.count,
                               excluding->crs, &pieces, &count, &left_m2, err);
    bars_release(&bars);
    if (status)
        return status == FW_EINPUT
                   ? fw_fail_where(err, "%s: ", field->shape->name)
                   : status;
    status = settle(excluding, field, pieces, count, left_m2, err);
    fw_fields_free(pieces, count);
    return status;
}

static enum fw_status run(struct excluding *excluding, struct fw_error *err)
{
    struct fw_farm *farm = excluding->reader->farm;
    excluding->near = fw_alloc(farm->feature_count, sizeof *excluding->near);
    if (!excluding->near)
        return fw_fail_memory(err);
    enum fw_status status = FW_OK;
    bool any = false;
    for (size_t i = 0; !status && i < farm->feature_count; i++) {
        any = any || reach_of(&farm->features[i]) >= 0;
        excluding->near[i] = fw_farm__near_feature(&farm->features[i]);
        status = check_bar(excluding->reader, &farm->features[i], err);
    }
    if (status || !any)
        return status;
    for (size_t i = 0; !status && i < farm->field_count; i++)
        status = one_field(excluding, &farm->fields[i], err);
    if (!status && excluding->field_count == 0)
        status =
            fw_fail(err, FW_EPLAN, "%s", excluding->reader->first_bad.text);
    if (status)
        return status;
    for (size_t i = 0; i < farm->field_count; i++)
        fw_farm__field_release(&farm->fields[i]);
    fw_free(farm->fields);
    farm->fields = excluding->fields;
    farm->field_count = excluding->field_count;
    farm->field_capacity = excluding->field_capacity;
    excluding->fields = NULL;
    excluding->field_count = 0;
    return FW_OK;
}

enum fw_status fw_farm__exclude(struct fw_farm__reader *reader,
                                struct fw_error *err)
{
    struct excluding excluding = {.reader = reader};
    const enum fw_status status = run(&excluding, err);
    for (size_t i = 0; i < excluding.field_count; i++)
        fw_farm__field_release(&excluding.fields[i]);
    fw_free(excluding.fields);
    fw_free(excluding.near);
    fw_crs_give_back(excluding.crs);
    return status;
}
