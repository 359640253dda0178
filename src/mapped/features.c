/* What stands around: the features of the maps by role, in longitude and
 * latitude, those near a field kept. */
#include "base/angle.h"
#include "keys/schema.h"
#include "mapped/outline.h"
#include "mapped/road.h"
#include "mapped/voltage.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/text.h"
#include "crs/crs.h"
#include "figures/farm.h"
#include "figures/mark.h"
#include "figures/units.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct box {
    double west, east, south, north;
};

/* Boxes of the fields by their western edges, so that a feature is compared
 * with few of them. */
struct boxes {
    struct box *items;
    size_t count;
    double widest;
};

static struct box no_box(void)
{
    return (struct box){HUGE_VAL, -HUGE_VAL, HUGE_VAL, -HUGE_VAL};
}

static void box_take(struct box *box, struct fw_lonlat at)
{
    box->west = fmin(box->west, at.lon_deg);
    box->east = fmax(box->east, at.lon_deg);
    box->south = fmin(box->south, at.lat_deg);
    box->north = fmax(box->north, at.lat_deg);
}

static struct box box_of(const struct fw_field *field)
{
    struct box box = no_box();
    for (size_t i = 0; i < field->ring_start[1]; i++)
        box_take(&box, field->vertices[i].lonlat);
    const double lat = FW_MAP_NEAR_M / FW_DEGREE_M;
    const double shrink =
        fmax(FW_TOLERANCE(0.01),
             cos(fmax(fabs(box.south), fabs(box.north)) / FW_RADIAN_DEG));
    box.west -= lat / shrink;
    box.east += lat / shrink;
    box.south -= lat;
    box.north += lat;
    return box;
}

static int by_west(const void *a, const void *b)
{
    const struct box *left = a, *right = b;
    return (left->west > right->west) - (left->west < right->west);
}

static enum fw_status boxes_init(struct boxes *boxes,
                                 const struct fw_farm *farm,
                                 struct fw_error *err)
{
    boxes->count = farm->field_count;
    boxes->widest = 0;
    boxes->items = fw_alloc(boxes->count, sizeof *boxes->items);
    if (!boxes->items)
        return fw_fail_memory(err);
    for (size_t i = 0; i < boxes->count; i++) {
        boxes->items[i] = box_of(farm->fields[i].shape);
        boxes->widest =
            fmax(boxes->widest, boxes->items[i].east - boxes->items[i].west);
    }
    qsort(boxes->items, boxes->count, sizeof *boxes->items, by_west);
    return FW_OK;
}

static bool meets(const struct boxes *boxes, struct box box)
{
    size_t low = 0, high = boxes->count;
    while (low < high) { /* the first box that can reach so far east */
        const size_t middle = low + (high - low) / 2;
        if (boxes->items[middle].west + boxes->widest < box.west)
            low = middle + 1;
        else
            high = middle;
    }
    for (; low < boxes->count && boxes->items[low].west <= box.east; low++) {
        const struct box *field = &boxes->items[low];
        if (field->east >= box.west && field->south <= box.north &&
            field->north >= box.south)
            return true;
    }
    return false;
}

/* A line is near where one of its segments is: a line over many kilometres has
 * a box that covers a county. What has an inside is near as a whole. */
static bool is_near(const struct boxes *boxes, enum fw_feature_kind kind,
                    const struct fw_lonlat *points, size_t count)
{
    struct box all = no_box();
    for (size_t i = 0; i < count; i++)
        box_take(&all, points[i]);
    if (!meets(boxes, all))
        return false;
    if (kind != FW_FEATURE_LINE)
        return true;
    for (size_t i = 1; i < count; i++) {
        struct box one = no_box();
        box_take(&one, points[i - 1]);
        box_take(&one, points[i]);
        if (meets(boxes, one))
            return true;
    }
    return false;
}

/* Features of a map that are drawn as their role does not want. */
enum { odd_kinds = FW_PARTS(3) }; /* points, lines, areas */

struct odd_drawn {
    size_t count;
    char first[64];
};

struct taking {
    struct fw_farm__reader *reader;
    const struct fw_farm__map *told;
    size_t item; /* of the maps */
    const struct fw_map *map;
    struct fw_crs *crs; /* NULL: the points are longitudes and latitudes */
    struct boxes *boxes;
    size_t passed_over;
    struct odd_drawn odd[odd_kinds];
    struct fw_farm__power_lines power_lines;
};

/* Takes the outline over, also when it fails. */
static enum fw_status keep(struct taking *taking,
                           const struct fw_feature *feature,
                           struct fw_farm__outline *outline,
                           struct fw_error *err)
{
    struct fw_farm *farm = taking->reader->farm;
    struct fw_farm_feature kept = {
        .role = (enum fw_role)taking->told->role.value,
        .kind = outline->kind,
        .points = outline->points,
        .ring_start = outline->ring_start,
        .ring_count = outline->ring_count,
        .name = feature->name ? fw_strdup(feature->name) : NULL,
        .kv = -1,
    };
    enum fw_status status = FW_OK;
    if (feature->name && !kept.name)
        status = fw_fail_memory(err);
    if (!status)
        status =
            fw_farm__told(taking->reader, taking->item, feature, &kept, err);
    if (!status && kept.role == FW_ROLE_POWER_LINE)
        status = fw_farm__power_line(&taking->power_lines, feature, &kept, err);
    if (!status)
        status = fw_array_reserve(&farm->features, &farm->feature_capacity,
                                  farm->feature_count + 1, sizeof kept, err);
    if (status) {
        fw_free(kept.name);
        fw_free(kept.kv_text);
        fw_farm__outline_release(outline);
        return status;
    }
    farm->features[farm->feature_count++] = kept;
    *outline = (struct fw_farm__outline){0};
    return FW_OK;
}

/* It is used as it is drawn; a person is told that something else was
 * expected. */
static void note_drawn(struct taking *taking, const struct fw_feature *feature,
                       enum fw_feature_kind kind)
{
    const size_t drawn = kind == FW_FEATURE_POINT  ? 0
                         : kind == FW_FEATURE_LINE ? 1
                                                   : 2;
    const enum fw_role role = (enum fw_role)taking->told->role.value;
    struct odd_drawn *odd = &taking->odd[drawn];
    if (fw_safety_role_drawn(role) & 1U << drawn)
        return;
    if (odd->count++)
        return;
    if (feature->name)
        fw_text_clip(feature->name, odd->first, sizeof odd->first);
    else
        snprintf(odd->first, sizeof odd->first, "number %zu, FID %lld",
                 feature->row, feature->fid);
}

static enum fw_status take(struct taking *taking,
                           const struct fw_feature *feature,
                           struct fw_error *err)
{
    const struct fw_shape *shape = &feature->shape;
    if (feature->kind == FW_FEATURE_NONE || feature->kind == FW_FEATURE_OTHER ||
        shape->point_count == 0) {
        taking->passed_over++;
        return FW_OK;
    }
    struct fw_farm__outline outline;
    enum fw_status status = fw_farm__outline_init(
        &outline, feature, (enum fw_role)taking->told->role.value, taking->crs,
        err);
    if (!status)
        status = fw_farm__road_take(taking->reader,
                                    (enum fw_role)taking->told->role.value,
                                    &outline, err);
    if (!status && is_near(taking->boxes, outline.kind, outline.points,
                           outline.ring_start[outline.ring_count])) {
        note_drawn(taking, feature, outline.kind);
        status =
            fw_farm__outline_straighten(&outline, feature, taking->crs, err);
        return status ? status : keep(taking, feature, &outline, err);
    }
    fw_farm__outline_release(&outline);
    if (status == FW_EINPUT) { /* outside its system, so not near a field */
        taking->passed_over++;
        return FW_OK;
    }
    return status;
}

static void add_wanted(struct fw_text *text, unsigned drawn)
{
    static const char *const words[] = {"points", "lines", "areas"};
    const char *before = "";
    for (unsigned i = 0; i < odd_kinds; i++)
        if (drawn & 1U << i) {
            fw_text_addf(text, "%s%s", before, words[i]);
            before = " or ";
        }
}

static enum fw_status tell_drawn(const struct taking *taking, size_t drawn,
                                 struct fw_error *err)
{
    const struct odd_drawn *odd = &taking->odd[drawn];
    const enum fw_role role = (enum fw_role)taking->told->role.value;
    struct fw_text text = {0};
    fw_text_addf(&text, "layer %s: %zu near a field %s drawn as ",
                 taking->map->layer ? taking->map->layer : "without a name",
                 odd->count, odd->count == 1 ? "is" : "are");
    add_wanted(&text, 1U << drawn);
    fw_text_addf(&text, " (the first: %s); a %s was expected as ", odd->first,
                 fw_safety_role_word(role));
    add_wanted(&text, fw_safety_role_drawn(role));
    fw_text_add(&text, role == FW_ROLE_POWER_LINE && drawn == 0
                           ? ". They are taken as poles: where their wires "
                             "hang is not known"
                           : ". Distances are taken from what is drawn");
    enum fw_status status = fw_text_done(&text, err);
    if (!status)
        status = fw_notes_add(taking->reader->notes, FW_LEVEL_WARNING,
                              taking->map->source, err, "%s", text.bytes);
    fw_text_release(&text);
    return status;
}

static enum fw_status tell_all(const struct taking *taking,
                               struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < odd_kinds; i++)
        if (taking->odd[i].count)
            status = tell_drawn(taking, i, err);
    if (!status)
        status = fw_farm__power_lines_tell(&taking->power_lines,
                                           taking->reader->notes, err);
    if (status || taking->passed_over == 0)
        return status;
    return fw_notes_add(taking->reader->notes, FW_LEVEL_WARNING,
                        taking->map->source, err,
                        "%zu features without a usable geometry are left out",
                        taking->passed_over);
}

/* A map of another country, or in another coordinate system, would pass for one
 * that shows no danger. */
static enum fw_status tell_none(const struct taking *taking,
                                struct fw_error *err)
{
    const size_t count =
        taking->map->feature_count + taking->map->waypoint_count;
    if (count == 0)
        return FW_OK;
    return fw_notes_add(
        taking->reader->notes, FW_LEVEL_NOTE, taking->map->source, err,
        "none of its %zu features lies within %g m of a field, as %s; if one "
        "should, look at the map's coordinate system",
        count, FW_MAP_NEAR_M,
        fw_safety_role_word((enum fw_role)taking->told->role.value));
}

static enum fw_status take_all(struct taking *taking, struct fw_error *err)
{
    const struct fw_map *map = taking->map;
    const size_t before = taking->reader->farm->feature_count;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < map->feature_count; i++)
        status = take(taking, &map->features[i], err);
    fw_crs_give_back(taking->crs);
    taking->crs = NULL; /* waypoints are in longitude and latitude */
    for (size_t i = 0; !status && i < map->waypoint_count; i++)
        status = take(taking, &map->waypoints[i], err);
    if (!status && taking->reader->farm->feature_count == before)
        status = tell_none(taking, err);
    return status ? status : tell_all(taking, err);
}

static enum fw_status fail_map(const struct fw_farm__reader *reader,
                               const struct fw_farm__at *at, size_t item,
                               const char *leaf, struct fw_error *err)
{
    char key[48];
    snprintf(key, sizeof key, "maps[%zu].%s", item, leaf);
    return fw_farm__fail_at(reader, at, key, err);
}

static const char *text_of(const struct fw_farm__text *told)
{
    return told->at.given ? told->text : NULL;
}

static enum fw_status read_map(struct fw_farm__reader *reader, size_t item,
                               struct fw_map **map, struct fw_error *err)
{
    const struct fw_farm__map *told = &reader->draft.maps[item];
    if (!told->source.at.given) {
        fw_fail(err, FW_EINPUT, "is missing; expected a map, such as %s",
                fw_farm__example("maps[].source"));
        return fail_map(reader, &told->role.at, item, "source", err);
    }
    if (!told->role.at.given) {
        fw_fail(err, FW_EINPUT,
                "is missing; expected what the map shows, such as %s",
                fw_farm__example("maps[].role"));
        return fail_map(reader, &told->source.at, item, "role", err);
    }
    const char *path;
    const enum fw_status status =
        fw_farm__source(reader, &told->source, &path, err);
    if (status)
        return status;
    const char *columns[fw_farm__most_columns];
    const struct fw_map_request request = {
        .source = path,
        .layer = text_of(&told->layer),
        .where = text_of(&told->where),
        .crs = text_of(&told->crs),
        .columns = columns,
        .column_count =
            fw_farm__columns((enum fw_role)told->role.value, columns),
        .inputs = &reader->farm->inputs,
        .voltages = told->role.value == FW_ROLE_POWER_LINE,
    };
    return fw_map_read(&request, map, reader->notes, err);
}

static enum fw_status open_crs(struct taking *taking, size_t item,
                               struct fw_error *err)
{
    const struct fw_map *map = taking->map;
    char say[FW_FARM_KEY_WORDS];
    if (map->feature_count == 0)
        return FW_OK;
    if (!map->crs) {
        fw_fail(err, FW_EINPUT,
                "%s: names no coordinate system; say which, such as %s",
                map->source, fw_farm__tell("maps[].crs", item, say));
        return fail_map(taking->reader, &taking->told->source.at, item, "crs",
                        err);
    }
    const enum fw_status status = fw_crs_lend(map->crs, &taking->crs, err);
    if (status)
        fail_map(taking->reader, &taking->told->source.at, item, "crs", err);
    return status;
}

static enum fw_status one_map(struct fw_farm__reader *reader, size_t item,
                              struct boxes *boxes, struct fw_error *err)
{
    const struct fw_farm__map *told = &reader->draft.maps[item];
    struct fw_map *map;
    if (!told->source.at.given && !told->role.at.given)
        return FW_OK; /* an item with nothing in it */
    enum fw_status status = read_map(reader, item, &map, err);
    if (status)
        return status;
    struct taking taking = {
        .reader = reader,
        .told = told,
        .item = item,
        .map = map,
        .boxes = boxes,
    };
    reader->farm->mapped |= 1U << told->role.value;
    status = fw_farm__power_lines_init(&taking.power_lines, map, told,
                                       reader->notes, err);
    if (!status)
        status = open_crs(&taking, item, err);
    if (!status)
        status = take_all(&taking, err);
    fw_farm__power_lines_release(&taking.power_lines);
    fw_map_free(map);
    return status;
}

enum fw_status fw_farm__features(struct fw_farm__reader *reader,
                                 struct fw_error *err)
{
    struct boxes boxes = {0};
    if (reader->draft.map_count == 0)
        return FW_OK;
    enum fw_status status = boxes_init(&boxes, reader->farm, err);
    for (size_t i = 0; !status && i < reader->draft.map_count; i++)
        status = one_map(reader, i, &boxes, err);
    fw_free(boxes.items);
    return status;
}
