/* What belongs to one field: its grass, its gate and water, its sides. The
 * farm's holds, and the field's own goes over it key by key. */
#include "told/split.h"

#include "base/alloc.h"
#include "base/text.h"
#include "crs/crs.h"
#include "figures/mark.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

/* How far from its field a place may be. */
static const double farthest_gate_m = FW_BOUND(25);
static const double farthest_water_m = FW_BOUND(2000);

/* ---- grass ---- */

#define OVER(member)                                                           \
    do {                                                                       \
        if (over->member.at.given)                                             \
            base->member = over->member;                                       \
    } while (0)

/* A measured mass goes in place of a height, and the other way round, so that
 * two ways of saying one thing do not meet from two places. */
static void drop_other_ways(struct fw_farm__forage *base,
                            const struct fw_farm__forage *over)
{
    if (over->mass_kg_ha.at.given)
        base->height_m.at.given = false;
    if (over->height_m.at.given)
        base->mass_kg_ha.at.given = false;
    if (over->residual_kg_ha.at.given)
        base->leave_m.at.given = false;
    if (over->leave_m.at.given)
        base->residual_kg_ha.at.given = false;
    if (over->sward.at.given && base->density.kg_ha_cm > 0)
        base->density.at.given = false;
    if (over->condition.at.given)
        base->use.at.given = false;
    if (over->use.at.given)
        base->condition.at.given = false;
}

static void lay_growth_over(struct fw_farm__forage *base,
                            const struct fw_farm__forage *over)
{
    if (over->growth.text.at.given)
        base->growth = over->growth;
    OVER(growth_year_kg_ha);
    OVER(growth_shape);
    OVER(winter_loss);
    OVER(ceiling_kg_ha);
}

static void lay_over(struct fw_farm__forage *base,
                     const struct fw_farm__forage *over)
{
    drop_other_ways(base, over);
    OVER(sward);
    OVER(density);
    OVER(height_m);
    OVER(leave_m);
    OVER(mass_kg_ha);
    OVER(residual_kg_ha);
    OVER(use);
    OVER(legume);
    OVER(use_of);
    OVER(condition);
    lay_growth_over(base, over);
    if (over->at.given)
        base->at = over->at;
}

static double number_or(const struct fw_farm__number *told, double otherwise)
{
    return told->at.given ? told->value : otherwise;
}

static void make_sward(const struct fw_farm__forage *told, struct fw_sward *out)
{
    const bool dense = told->density.at.given;
    *out = (struct fw_sward){
        .density = dense ? told->density.word : FW_DENSITY_GOOD,
        .density_kg_ha_cm = dense ? told->density.kg_ha_cm : 0,
        .height_m = number_or(&told->height_m, 0),
        .leave_m = number_or(&told->leave_m, 0),
        .mass_kg_ha = number_or(&told->mass_kg_ha, 0),
        .residual_kg_ha = number_or(&told->residual_kg_ha, 0),
        .use = number_or(&told->use, 0),
        .use_of = told->use_of.at.given ? (enum fw_use_of)told->use_of.value
                                        : FW_USE_UNTOLD,
        .condition = told->condition.at.given
                         ? (enum fw_condition)told->condition.value
                         : FW_CONDITION_UNTOLD,
        .legume = number_or(&told->legume, -1),
    };
    if (told->sward.at.given)
        fw_text_clip(told->sward.text, out->name, sizeof out->name);
}

/* Some ways of telling the grass exclude each other; better said here, with
 * the line, than by the plan without it. */
static enum fw_status check_sward(struct fw_farm__reader *reader,
                                  const struct fw_farm__forage *told,
                                  const struct fw_sward *sward,
                                  struct fw_error *err)
{
    struct fw_usable usable;
    const bool mass = sward->mass_kg_ha > 0;
    const bool height =
        sward->height_m > 0 && (sward->name[0] || sward->density_kg_ha_cm > 0);
    const bool rest =
        sward->leave_m > 0 || sward->residual_kg_ha > 0 || sward->use > 0;
    if (!told->at.given || reader->request->fields_only || !rest ||
        (!mass && !height)) /* what is missing, defaults.c says */
        return FW_OK;
    const double stay_days = reader->farm->stay.days[0];
    const enum fw_status status =
        fw_forage_usable(sward, stay_days > 0 ? stay_days : 1, &usable, err);
    if (!status)
        return FW_OK;
    fw_farm__fail_at(reader, &told->at, "forage", err);
    return status;
}

/* Of fields with such keys of their own, from 1; 0: with none. */
static struct fw_farm__forage forage_told(const struct fw_farm__reader *reader,
                                          size_t each)
{
    const struct fw_farm__draft *draft = &reader->draft;
    struct fw_farm__forage told = draft->forage;
    lay_over(&told, &draft->option_forage);
    if (each)
        lay_over(&told, &draft->each[each - 1].forage);
    return told;
}

enum fw_condition fw_farm__condition(const struct fw_farm__reader *reader,
                                     size_t each)
{
    const struct fw_farm__forage told = forage_told(reader, each);
    return told.condition.at.given ? (enum fw_condition)told.condition.value
                                   : FW_CONDITION_UNTOLD;
}

static struct fw_farm__forage forage_of(const struct fw_farm__reader *reader,
                                        size_t field)
{
    const enum fw_condition condition =
        reader->farm->fields[field].border.condition;
    struct fw_farm__forage told = forage_told(reader, reader->each_of[field]);
    if (condition) { /* of a part, as its zones tell */
        told.use.at.given = false;
        told.condition.at.given = true;
        told.condition.value = (int)condition;
    }
    return told;
}

void fw_farm__sward(const struct fw_farm__reader *reader, size_t field,
                    const struct fw_farm__forage *over, struct fw_sward *out)
{
    struct fw_farm__forage told = forage_of(reader, field);
    if (over)
        lay_over(&told, over);
    make_sward(&told, out);
}

enum fw_status fw_farm__growth(struct fw_farm__reader *reader, size_t field,
                               const struct fw_farm__forage *over,
                               struct fw_growth *out, char text[FW_GROWTH_TEXT],
                               struct fw_error *err)
{
    struct fw_farm__forage told = forage_of(reader, field);
    if (over)
        lay_over(&told, over);
    return fw_farm__make_growth(reader, field, &told, out, text, err);
}

/* Which goes with the grass that a field tells. */
static bool tells_growth(const struct fw_farm__forage *told)
{
    return told->growth.text.at.given || told->growth_year_kg_ha.at.given ||
           told->growth_shape.at.given || told->winter_loss.at.given ||
           told->ceiling_kg_ha.at.given;
}

static enum fw_status set_sward(struct fw_farm__reader *reader, size_t field,
                                const struct fw_farm__each *own,
                                struct fw_error *err)
{
    const struct fw_farm__draft *draft = &reader->draft;
    const struct fw_farm__forage told = forage_of(reader, field);
    struct fw_farm_field *out = &reader->farm->fields[field];
    make_sward(&told, &out->sward);
    if (own && own->forage.at.given && draft->option_forage.at.given &&
        !tells_growth(&draft->option_forage)) {
        const enum fw_status status = fw_notes_add(
            reader->notes, FW_LEVEL_NOTE, out->shape->name, err,
            "%s does not change the grass that fields.each tells for this "
            "field",
            draft->option_forage.at.where);
        if (status)
            return status;
    }
    out->loss = fw_farm__loss_range(&told.winter_loss);
    const enum fw_status status = check_sward(reader, &told, &out->sward, err);
    return status ? status
                  : fw_farm__make_growth(reader, field, &told, &out->growth,
                                         out->growth_text, err);
}

/* ---- places ---- */

struct spot_kind {
    const char *name;
    const char *key;
    double reach_m;
    size_t offset; /* in the field */
};

static const struct spot_kind gate_kind = {
    "gate", "gate", farthest_gate_m, offsetof(struct fw_farm_field, gate)};
static const struct spot_kind water_kind = {
    "water", "water", farthest_water_m, offsetof(struct fw_farm_field, water)};
static const struct spot_kind park_kind = {
    "vehicle", "park", farthest_water_m, offsetof(struct fw_farm_field, park)};

static struct fw_spot *spot_of(struct fw_farm_field *field,
                               const struct spot_kind *kind)
{
    return (struct fw_spot *)((char *)field + kind->offset);
}

static enum fw_status spot_key_fail(struct fw_farm__reader *reader,
                                    const struct fw_farm__text *told,
                                    const struct spot_kind *kind, size_t each,
                                    enum fw_status status, struct fw_error *err)
{
    char key[64];
    if (each)
        snprintf(key, sizeof key, "fields.each[%zu].%s", each - 1, kind->key);
    else
        snprintf(key, sizeof key, "%s", kind->key);
    fw_farm__fail_at(reader, &told->at, key, err);
    return status;
}

/* Does the pair fit when it is read latitude first? */
static bool is_swapped(const struct fw_field *field, const struct fw_spot *spot)
{
    const struct fw_lonlat turned = {spot->lonlat.lat_deg,
                                     spot->lonlat.lon_deg};
    return fabs(turned.lat_deg) <= 90 && strchr(spot->text, ',') &&
           fw_farm__distance_m(field,
                               fw_plane_forward(&field->plane, turned)) <=
               farthest_water_m;
}

static enum fw_status too_far(const struct fw_field *field,
                              const struct fw_spot *spot, const char *name,
                              double reach_m, double away_m, bool one_field,
                              struct fw_error *err)
{
    const double shown_m =
        away_m < FW_BOUND(20000)
            ? away_m
            : fw_geo_distance_m(field->plane.centre, spot->lonlat);
    return fw_fail(err, FW_EPLAN,
                   "the %s is %.0f m from %s \"%.80s\"; expected at most %.0f "
                   "m%s",
                   name, shown_m, one_field ? "field" : "the nearest field,",
                   field->name, reach_m,
                   is_swapped(field, spot)
                       ? "; write longitude first, then latitude"
                       : "");
}

bool fw_farm__is_of_whole(const struct fw_farm__reader *reader, size_t field)
{
    const struct fw_farm_field *part = &reader->farm->fields[field];
    const size_t each = reader->each_of[field];
    return part->border.whole && each &&
           strcmp(reader->draft.each[each - 1].field.text, part->shape->name) !=
               0;
}

/* One of that field's own, where it is on a fence. */
static enum fw_status spot_in(struct fw_farm__reader *reader,
                              const struct fw_field *field, const char *text,
                              struct fw_spot *out, struct fw_error *err)
{
    const enum fw_status status =
        fw_farm__check_fence(reader, field, text, err);
    return status ? status : fw_farm__spot(reader, field, text, out, err);
}

/* A place told for the whole farm goes to every field in its reach. */
static enum fw_status spread(struct fw_farm__reader *reader,
                             const struct fw_farm__text *told,
                             const struct spot_kind *kind, struct fw_error *err)
{
    struct fw_farm *farm = reader->farm;
    const bool one = fw_farm__is_one(farm);
    size_t reached = 0, nearest = 0;
    double nearest_m = HUGE_VAL;
    struct fw_spot spot = {0};
    if (!told->at.given)
        return FW_OK;
    if (!one && fw_farm__spot_is_of_field(told->text)) {
        fw_fail(err, FW_EINPUT,
                "\"%.40s\" is on one field, and there are %zu; tell it under "
                "fields.each for each field, or give lon,lat",
                told->text, farm->field_count);
        return spot_key_fail(reader, told, kind, 0, FW_EINPUT, err);
    }
    for (size_t i = 0; i < farm->field_count; i++) {
        const struct fw_field *field = fw_farm__outer(&farm->fields[i]);
        if (!one && fw_farm__check_fence(reader, field, told->text, NULL))
            continue;
        const enum fw_status status =
            spot_in(reader, field, told->text, &spot, err);
        if (status)
            return spot_key_fail(reader, told, kind, 0, status, err);
        const double away_m = fw_farm__distance_m(field, spot.point);
        if (!(away_m >= nearest_m)) {
            nearest = i;
            nearest_m = away_m;
        }
        if (!(away_m <= kind->reach_m))
            continue;
        *spot_of(&farm->fields[i], kind) = spot;
        reached++;
    }
    if (reached)
        return FW_OK;
    if (nearest_m == HUGE_VAL) /* on a fence of none of them */
        return spot_key_fail(reader, told, kind, 0,
                             spot_in(reader, fw_farm__outer(&farm->fields[0]),
                                     told->text, &spot, err),
                             err);
    too_far(fw_farm__outer(&farm->fields[nearest]), &spot, kind->name,
            kind->reach_m, nearest_m, one, err);
    return spot_key_fail(reader, told, kind, 0, FW_EPLAN, err);
}

static enum fw_status own_spot(struct fw_farm__reader *reader, size_t field,
                               const struct fw_farm__text *told,
                               const struct spot_kind *kind,
                               struct fw_error *err)
{
    struct fw_farm_field *out = &reader->farm->fields[field];
    const struct fw_field *shape =
        fw_farm__is_of_whole(reader, field) ? fw_farm__outer(out) : out->shape;
    struct fw_spot spot;
    if (!told->at.given)
        return FW_OK;
    enum fw_status status = spot_in(reader, shape, told->text, &spot, err);
    if (!status) {
        shape = fw_farm__outer(out);
        const double away_m = fw_farm__distance_m(shape, spot.point);
        if (!(away_m <= kind->reach_m))
            status = too_far(shape, &spot, kind->name, kind->reach_m, away_m,
                             true, err);
    }
    if (status)
        return spot_key_fail(reader, told, kind, reader->each_of[field], status,
                             err);
    *spot_of(out, kind) = spot;
    return FW_OK;
}

/* ---- sides ---- */

static enum fw_answer answer(const struct fw_farm__pick *told)
{
    return told->value ? FW_YES : FW_NO;
}

static enum fw_status set_edge(struct fw_farm__reader *reader,
                               struct fw_farm_field *field,
                               const struct fw_farm__edge *edge,
                               struct fw_error *err)
{
    const struct fw_farm__at *at = edge->side.at.given    ? &edge->side.at
                                   : edge->holds.at.given ? &edge->holds.at
                                                          : &edge->hot.at;
    if (!at->given)
        return FW_OK; /* an item with nothing in it */
    if (!edge->side.at.given) {
        fw_fail(err, FW_EINPUT,
                "the side's number is missing; expected such as side: 2");
        return fw_farm__fail_at(reader, at, "perimeter.sides", err);
    }
    const size_t side = (size_t)lround(edge->side.value);
    if (side < 1 || side > field->shape->corner_count) {
        fw_fail(err, FW_EINPUT,
                "there is no side %zu; field \"%.80s\" has sides 1 to %zu, as "
                "check shows them",
                side, field->shape->name, field->shape->corner_count);
        return fw_farm__fail_at(reader, at, "perimeter.sides", err);
    }
    struct fw_farm_side *out = &field->sides[side - 1];
    if (edge->holds.at.given)
        out->holds = (enum fw_holds)edge->holds.value;
    if (edge->hot.at.given)
        out->hot = answer(&edge->hot);
    return FW_OK;
}

static enum fw_status set_sides(struct fw_farm__reader *reader,
                                struct fw_farm_field *field,
                                const struct fw_farm__perimeter *told,
                                struct fw_error *err)
{
    for (size_t i = 0; i < field->shape->corner_count; i++) {
        if (told->holds.at.given)
            field->sides[i].holds = (enum fw_holds)told->holds.value;
        if (told->hot.at.given)
            field->sides[i].hot = answer(&told->hot);
    }
    if (told->ponds.at.given)
        field->hole_holds = (enum fw_holds)told->ponds.value;
    for (size_t i = 0; i < told->side_count; i++) {
        const enum fw_status status =
            set_edge(reader, field, &told->sides[i], err);
        if (status)
            return status;
    }
    return FW_OK;
}

/* The numbers of sides mean something on one field only. */
static enum fw_status check_sides(struct fw_farm__reader *reader,
                                  struct fw_error *err)
{
    const struct fw_farm__perimeter *told = &reader->draft.perimeter;
    for (size_t i = 0; i < told->side_count; i++) {
        const struct fw_farm__at *at = &told->sides[i].side.at;
        if (!at->given || fw_farm__is_one(reader->farm))
            continue;
        fw_fail(err, FW_EINPUT,
                "sides are numbered field by field, and there are %zu fields; "
                "tell them under fields.each",
                reader->farm->field_count);
        return fw_farm__fail_at(reader, at, "perimeter.sides", err);
    }
    return FW_OK;
}

/* A whole field's sides, and of a part what each of its own is of them. */
static enum fw_status set_outer_sides(struct fw_farm__reader *reader,
                                      size_t field, struct fw_error *err)
{
    const struct fw_farm__draft *draft = &reader->draft;
    struct fw_farm_field *part = &reader->farm->fields[field];
    struct fw_field *whole = (struct fw_field *)part->border.whole;
    struct fw_farm_field outer = {
        .shape = whole,
        .sides = fw_alloc(whole->corner_count, sizeof *outer.sides)};
    enum fw_status status =
        outer.sides ? set_sides(reader, &outer, &draft->perimeter, err)
                    : fw_fail_memory(err);
    if (!status && fw_farm__is_of_whole(reader, field))
        status =
            set_sides(reader, &outer,
                      &draft->each[reader->each_of[field] - 1].perimeter, err);
    if (!status) {
        part->hole_holds = outer.hole_holds;
        fw_farm__part_sides(part, outer.sides);
    }
    fw_free(outer.sides);
    return status;
}

/* ---- all of it ---- */

static enum fw_status set_all_sides(struct fw_farm__reader *reader,
                                    size_t field,
                                    const struct fw_farm__each *own,
                                    struct fw_error *err)
{
    struct fw_farm_field *out = &reader->farm->fields[field];
    const enum fw_status status =
        out->border.whole
            ? set_outer_sides(reader, field, err)
            : set_sides(reader, out, &reader->draft.perimeter, err);
    if (status || !own || fw_farm__is_of_whole(reader, field))
        return status;
    return set_sides(reader, out, &own->perimeter, err);
}

static enum fw_status set_field(struct fw_farm__reader *reader, size_t field,
                                struct fw_error *err)
{
    const struct fw_farm__draft *draft = &reader->draft;
    const size_t each = reader->each_of[field];
    const struct fw_farm__each *own = each ? &draft->each[each - 1] : NULL;
    struct fw_farm_field *out = &reader->farm->fields[field];
    enum fw_status status = set_sward(reader, field, own, err);
    if (!status)
        status = set_all_sides(reader, field, own, err);
    out->gate_width_m = number_or(&draft->gate_width_m, 0);
    if (status || !own)
        return status;
    out->gate_width_m = number_or(&own->gate_width_m, out->gate_width_m);
    out->soft = own->soft.at.given && own->soft.value != 0;
    status = own_spot(reader, field, &own->gate, &gate_kind, err);
    if (!status)
        status = own_spot(reader, field, &own->water, &water_kind, err);
    if (!status)
        status = own_spot(reader, field, &own->park, &park_kind, err);
    return status;
}

enum fw_status fw_farm__own(struct fw_farm__reader *reader,
                            struct fw_error *err)
{
    enum fw_status status = check_sides(reader, err);
    if (!status)
        status = spread(reader, &reader->draft.gate, &gate_kind, err);
    if (!status)
        status = spread(reader, &reader->draft.water, &water_kind, err);
    if (!status)
        status = spread(reader, &reader->draft.park, &park_kind, err);
    for (size_t i = 0; !status && i < reader->farm->field_count; i++)
        status = set_field(reader, i, err);
    return status ? status : fw_farm__energizer(reader, err);
}
