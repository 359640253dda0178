/* Where the flock comes in: by the gate, or out of ground that it has grazed
 * already, through a front fence that stands. */
#include "keys/schema.h"
#include "mapped/near.h"
#include "told/split.h"

#include "base/alloc.h"
#include "base/length.h"
#include "base/text.h"
#include "crs/crs.h"
#include "figures/farm.h"
#include "figures/mark.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- gates ---- */

/* The ring that the place is nearest to. */
static size_t nearest_ring(const struct fw_field *field, struct fw_point at,
                           double *away_m)
{
    size_t nearest = 0;
    *away_m = HUGE_VAL;
    for (size_t r = 0; r < field->ring_count; r++) {
        size_t before = field->ring_start[r + 1] - 1;
        for (size_t v = field->ring_start[r]; v < field->ring_start[r + 1];
             before = v++) {
            const double m = fw_segment_distance_m(
                at, field->vertices[before].plane, field->vertices[v].plane);
            if (m < *away_m) {
                *away_m = m;
                nearest = r;
            }
        }
    }
    return nearest;
}

/* A gate stands in the boundary. It may lead to a yard that the field lies
 * around, but never to a pond. */
static enum fw_status check_place(struct fw_farm__reader *reader,
                                  const struct fw_farm_field *field,
                                  struct fw_error *err)
{
    const double most_m = FW_BOUND(25); /* a map or a phone is so far out */
    double away_m;
    if (!field->gate.given)
        return FW_OK;
    const size_t ring =
        nearest_ring(fw_farm__outer(field), field->gate.point, &away_m);
    if (away_m > most_m)
        return fw_notes_add(reader->notes, FW_LEVEL_WARNING, field->shape->name,
                            err,
                            "the gate stands %.0f m inside the field; a gate "
                            "is in the boundary: look at its place",
                            away_m);
    if (ring == 0)
        return FW_OK;
    return fw_notes_add(reader->notes, FW_LEVEL_WARNING, field->shape->name,
                        err,
                        "the gate stands at the edge of a pond or of ground "
                        "cut out of the field, not in its outer boundary: do "
                        "they come in there?");
}

/* A gate that opens onto land which is not grazed lets nobody in. */
static enum fw_status check_gate(struct fw_farm__reader *reader,
                                 const struct fw_farm_field *field,
                                 struct fw_error *err)
{
    static const double step_m = 1;
    const enum fw_status status = check_place(reader, field, err);
    if (status || !field->gate.given || field->grazed == field->shape)
        return status;
    const double before_m =
        fw_farm__distance_m(field->shape, field->gate.point);
    const double now_m = fw_farm__distance_m(field->grazed, field->gate.point);
    if (now_m <= before_m + step_m)
        return FW_OK;
    return fw_fail(err, FW_EPLAN,
                   "%s: the gate lies in a pond, an exclusion or its setback, "
                   "%.0f m from land that is grazed; move the gate or lessen "
                   "the setback",
                   field->shape->name, now_m);
}

/* ---- the line of a front ---- */

/* Where it was told: under a key, or by a feature of a map. */
struct front {
    const struct fw_farm__at *at;
    char key[48];
    char text[160];
    struct fw_point *line;
    size_t count;
    bool named; /* no line of its own: a fence of the plan made before */
};

static enum fw_status fail_front(const struct fw_farm__reader *reader,
                                 const struct front *front,
                                 enum fw_status status, struct fw_error *err)
{
    fw_farm__fail_at(reader, front->at, front->key, err);
    return status;
}

static const char between[] = " to ";

/* "side:2@40m to side:4@35m": each place in turn. */
static enum fw_status read_places(struct fw_farm__reader *reader,
                                  const struct fw_field *field,
                                  const char *text, struct front *front,
                                  struct fw_error *err)
{
    size_t most = 1;
    for (const char *at = text; (at = strstr(at, between)); at++)
        most++;
    if (most < 2)
        return fw_fail(
            err, FW_EINPUT,
            "\"%.80s\" is no line; expected two places or more with "
            "\" to \" between, such as %s, or the name of a fence of "
            "the plan made before, such as A07-08",
            text, fw_farm__example("front"));
    front->line = fw_alloc(most, sizeof *front->line);
    if (!front->line)
        return fw_fail_memory(err);
    while (text) {
        const char *next = strstr(text, between);
        const char *place;
        struct fw_spot spot;
        text += strspn(text, " ");
        size_t length = strlen(text);
        if (next)
            length = next > text ? (size_t)(next - text) : 0;
        while (length > 0 && text[length - 1] == ' ')
            length--;
        enum fw_status status =
            fw_farm__keep(reader, text, length, &place, err);
        if (!status)
            status = fw_farm__check_fence(reader, field, place, err);
        if (!status)
            status = fw_farm__spot(reader, field, place, &spot, err);
        if (status)
            return status;
        front->line[front->count++] = spot.point;
        text = next ? next + sizeof between - 1 : NULL;
    }
    return FW_OK;
}

/* How much of a line on a map lies in the field, in steps of a metre. A line
 * that runs along the neighbour's edge has none of it inside. */
static bool runs_through(const struct fw_field *field,
                         const struct fw_point *line, size_t count)
{
    double inside_m = 0;
    for (size_t i = 0; i + 1 < count; i++) {
        const double x = line[i + 1].x_m - line[i].x_m;
        const double y = line[i + 1].y_m - line[i].y_m;
        const double length_m = fw_length(x, y);
        const size_t steps = 1 + (size_t)fmin(length_m, FW_EFFORT(1e5));
        for (size_t k = 0; k < steps && inside_m < FW_MAP_THROUGH_M; k++) {
            const double t = ((double)k + 0.5) / (double)steps;
            const struct fw_point at = {line[i].x_m + t * x,
                                        line[i].y_m + t * y};
            if (fw_field_contains(field, at, 0))
                inside_m += length_m / (double)steps;
        }
    }
    return inside_m >= FW_MAP_THROUGH_M;
}

static enum fw_status take_feature(struct fw_farm__reader *reader,
                                   const struct fw_farm_field *field,
                                   const struct fw_farm_feature *feature,
                                   struct front *front, struct fw_error *err)
{
    const struct fw_farm__map *map = &reader->draft.maps[feature->map];
    struct fw_point *line =
        fw_farm__in_plane(&field->shape->plane, feature, err);
    if (!line)
        return FW_ENOMEM;
    const size_t count = feature->ring_start[1];
    if (!runs_through(field->grazed, line, count)) {
        fw_free(line);
        return FW_OK;
    }
    if (front->line || front->named) {
        fw_free(line);
        fw_fail(err, FW_EINPUT,
                "%s: there are two fronts on it, this one and %s; expected one",
                field->shape->name, front->text);
        front->at = &map->source.at;
        snprintf(front->key, sizeof front->key, "maps[%zu]", feature->map);
        return fail_front(reader, front, FW_EINPUT, err);
    }
    front->line = line;
    front->count = count;
    front->at = &map->source.at;
    snprintf(front->key, sizeof front->key, "maps[%zu]", feature->map);
    snprintf(front->text, sizeof front->text, "feature %zu of %.120s",
             feature->row, map->source.text);
    return FW_OK;
}

static enum fw_status find_mapped(struct fw_farm__reader *reader,
                                  const struct fw_farm_field *field,
                                  struct front *front, struct fw_error *err)
{
    const struct fw_farm *farm = reader->farm;
    const struct fw_farm__near around = fw_farm__near_field(field->shape);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &farm->features[i];
        if (feature->role != FW_ROLE_FRONT || feature->kind != FW_FEATURE_LINE)
            continue;
        const struct fw_farm__near box = fw_farm__near_feature(feature);
        if (fw_farm__near_meets(&around, &box, 0))
            status = take_feature(reader, field, feature, front, err);
    }
    return status;
}

static bool is_name(const struct fw_farm__reader *reader, const char *text)
{
    return !strstr(text, between) && fw_farm__is_fence(reader, text);
}

static enum fw_status find_front(struct fw_farm__reader *reader, size_t index,
                                 struct front *front, struct fw_error *err)
{
    const struct fw_farm__draft *draft = &reader->draft;
    const struct fw_farm_field *field = &reader->farm->fields[index];
    const size_t each = reader->each_of[index];
    const struct fw_farm__text *told = &draft->front;
    snprintf(front->key, sizeof front->key, "front");
    if (each && draft->each[each - 1].front.at.given) {
        told = &draft->each[each - 1].front;
        snprintf(front->key, sizeof front->key, "fields.each[%zu].front",
                 each - 1);
    }
    /* A fence's name says which of several fields is meant. */
    const bool one_of = told == &draft->front
                            ? reader->farm->field_count > 1
                            : fw_farm__is_of_whole(reader, index);
    const bool other =
        told->at.given && one_of &&
        fw_farm__check_fence(reader, field->shape, told->text, NULL) != FW_OK;
    if (told->at.given && one_of && told != &draft->front &&
        !is_name(reader, told->text)) {
        fw_fail(err, FW_EINPUT,
                "%s is in parts by the condition of its grass; tell the front "
                "for one of them, such as field: %s",
                field->border.whole->name, field->shape->name);
        front->at = &told->at;
        return fail_front(reader, front, FW_EINPUT, err);
    }
    if (told->at.given && !other) {
        front->at = &told->at;
        fw_text_clip(told->text, front->text, sizeof front->text);
        front->named = is_name(reader, told->text);
        const enum fw_status status =
            front->named
                ? FW_OK
                : read_places(reader, field->shape, told->text, front, err);
        if (status)
            return fail_front(reader, front, status, err);
    }
    return find_mapped(reader, field, front, err);
}

/* ---- what lies beyond ---- */

/* Where a field is fenced in blocks the front parts a block, not the field. */
static enum fw_status fail_line(struct fw_error *err)
{
    const struct fw_error said = *err;
    if (!strstr(said.text, "from edge to edge"))
        return FW_EINPUT;
    return fw_fail(err, FW_EINPUT,
                   "%.300s; or, for a fence of a plan made before, its name: "
                   "earlier: out/plan.json and front: A07-08",
                   said.text);
}

static enum fw_status look_beyond(const struct fw_farm_field *field,
                                  const struct front *front, struct fw_crs *crs,
                                  struct fw_beyond *out, struct fw_error *err)
{
    const struct fw_spot *const spots[] = {&field->gate, &field->water};
    static const char *const names[] = {"gate", "water"};
    const char *on_it = NULL;
    for (size_t i = 0; i < 2; i++) {
        if (!spots[i]->given)
            continue;
        const enum fw_status status =
            fw_field_beyond(field->grazed, front->line, front->count,
                            spots[i]->point, crs, out, err);
        if (status == FW_EINPUT)
            return fail_line(err);
        if (status != FW_EUSAGE)
            return status;
        on_it = names[i];
    }
    if (on_it)
        return fw_fail(err, FW_EINPUT,
                       "the %s stands on it, so that nothing tells which side "
                       "of it is grazed; give the %s a place off the line",
                       on_it, on_it);
    return fw_fail(err, FW_EINPUT,
                   "neither gate nor water is told, so that nothing tells "
                   "which side of it is grazed; say gate or water");
}

static enum fw_status tell_beyond(struct fw_farm__reader *reader,
                                  const struct fw_farm_field *field,
                                  struct fw_error *err)
{
    if (field->front.apart_m2 < FW_LEAST_FIELD_M2)
        return FW_OK;
    return fw_notes_add(
        reader->notes, FW_LEVEL_WARNING, field->shape->name, err,
        "%.0f m2 beyond the front do not join the rest and are not planned: "
        "give them a front of their own when the flock comes there",
        field->front.apart_m2);
}

static enum fw_status set_front(struct fw_farm__reader *reader,
                                struct fw_farm_field *field,
                                const struct front *front, struct fw_error *err)
{
    struct fw_crs *crs = NULL;
    struct fw_beyond beyond = {0};
    enum fw_status status = fw_crs_lend(field->crs, &crs, err);
    if (!status)
        status = look_beyond(field, front, crs, &beyond, err);
    fw_crs_give_back(crs);
    if (status) {
        fw_fail_where(err, "%s: ", field->shape->name);
        return fail_front(reader, front, status, err);
    }
    if (field->grazed != field->shape)
        fw_field_free(field->grazed);
    field->grazed = beyond.field;
    field->front = (struct fw_farm_front){
        .given = true,
        .runs = beyond.on_line,
        .behind = beyond.behind,
        .behind_count = beyond.behind_count,
        .behind_m2 = beyond.behind_m2,
        .apart_m2 = beyond.apart_m2,
    };
    fw_text_clip(front->text, field->front.text, sizeof field->front.text);
    return tell_beyond(reader, field, err);
}

static enum fw_status take_front(struct fw_farm__reader *reader,
                                 struct fw_farm_field *field,
                                 const struct front *front,
                                 struct fw_error *err)
{
    if (front->named || front->line) { /* nearer than the border of a part */
        fw_free(field->front.runs);
        field->front = (struct fw_farm_front){0};
    }
    if (front->named) {
        const enum fw_status status =
            fw_farm__named_front(reader, field, front->text, err);
        return status ? fail_front(reader, front, status, err) : FW_OK;
    }
    if (!front->line)
        return FW_OK;
    if (!field->gate.given && !field->water.given &&
        reader->request->fields_only)
        return fw_notes_add(reader->notes, FW_LEVEL_WARNING, field->shape->name,
                            err,
                            "its front says nothing yet: neither gate nor "
                            "water tells which side of it is grazed");
    return set_front(reader, field, front, err);
}

static enum fw_status one_field(struct fw_farm__reader *reader, size_t index,
                                struct fw_error *err)
{
    struct fw_farm_field *field = &reader->farm->fields[index];
    struct front front = {0};
    enum fw_status status = check_gate(reader, field, err);
    if (!status)
        status = find_front(reader, index, &front, err);
    if (!status)
        status = take_front(reader, field, &front, err);
    fw_free(front.line);
    return status;
}

enum fw_status fw_farm__way_in(struct fw_farm__reader *reader,
                               struct fw_error *err)
{
    const struct fw_farm__text *told = &reader->draft.front;
    const size_t count = reader->farm->field_count;
    if (told->at.given && count > 1 && !is_name(reader, told->text)) {
        fw_fail(err, FW_EINPUT,
                "it is the front of one field, and there are %zu; tell it "
                "under fields.each for its field",
                count);
        return fw_farm__fail_at(reader, &told->at, "front", err);
    }
    enum fw_status status = FW_OK;
    bool named = !told->at.given || count < 2;
    for (size_t i = 0; !status && i < count; i++) {
        status = one_field(reader, i, err);
        named |= reader->farm->fields[i].front.named;
    }
    if (status || named)
        return status;
    fw_farm__check_fence(reader, reader->farm->fields[0].shape, told->text,
                         err);
    return fw_farm__fail_at(reader, &told->at, "front", err);
}
