/* What a feature of a map says of itself in its columns, and what the farm
 * file says of all features of that map where they say nothing. */
#include "keys/reader.h"

#include "figures/mark.h"

#include <stdio.h>
#include <string.h>

enum kind { QUANTITY, ANSWER, CONDITION };

struct column {
    const char *name;
    unsigned roles; /* 1 << role for each that has it */
    size_t offset;  /* in the feature */
    enum kind kind;
    enum fw_kind quantity;
    double scale; /* from the quantity's unit to the feature's */
    double most;
    const char *range;
};

#define ROLE(role) (1U << FW_ROLE_##role)
#define OF(member) offsetof(struct fw_farm_feature, member)
#define KG_HA                                                                  \
    QUANTITY, FW_KIND_MASS_PER_AREA, 1, FW_BOUND(30000), "0 to 30000 kg/ha"
#define HEIGHT QUANTITY, FW_KIND_LENGTH, 1, FW_BOUND(3), "0 to 3 m"
#define SHARE QUANTITY, FW_KIND_SHARE, 1, 1, "a share from 0 to 1, or 75 %"
#define REACH QUANTITY, FW_KIND_LENGTH, 1, FW_BOUND(150), "0 to 150 m"
#define BARS (ROLE(EXCLUSION) | ROLE(POND) | ROLE(WATERCOURSE))

/* A plain number is in the unit at the end of the name, or as the farm's. */
static const struct column columns[] = {
    {"mass", ROLE(ZONE), OF(zone.mass_kg_ha), KG_HA},
    {"mass_kg_ha", ROLE(ZONE), OF(zone.mass_kg_ha), KG_HA},
    {"residual", ROLE(ZONE), OF(zone.residual_kg_ha), KG_HA},
    {"residual_kg_ha", ROLE(ZONE), OF(zone.residual_kg_ha), KG_HA},
    {"height", ROLE(ZONE), OF(zone.height_m), HEIGHT},
    {"leave", ROLE(ZONE), OF(zone.leave_m), HEIGHT},
    {"use", ROLE(ZONE), OF(zone.use), SHARE},
    {"quality", ROLE(ZONE), OF(zone.quality), SHARE},
    {"condition", ROLE(ZONE), OF(zone.condition), CONDITION, FW_KIND_COUNT, 1,
     FW_CONDITION_RANK, "fresh, aged or rank"},
    {"setback", BARS, OF(setback_m), REACH},
    {"setback_m", BARS, OF(setback_m), REACH},
    {"width", BARS, OF(width_m), REACH},
    {"width_m", BARS, OF(width_m), REACH},
    {"minutes", ROLE(HARD_GOING), OF(minutes), QUANTITY, FW_KIND_DURATION,
     24 * 60, FW_BOUND(600), "0 to 600 min"},
    {"posts", ROLE(HARD_GOING), OF(posts), QUANTITY, FW_KIND_COUNT, 1,
     FW_BOUND(1000), "0 to 1000"},
    {"sheep_cross", ROLE(HARD_GOING), OF(sheep_cross), ANSWER, FW_KIND_COUNT, 1,
     1, "yes or no"},
};
enum { column_count = sizeof columns / sizeof columns[0] };

static bool has(enum fw_role role, size_t column)
{
    return (columns[column].roles & 1U << role) != 0;
}

size_t fw_farm__columns(enum fw_role role,
                        const char *names[fw_farm__most_columns])
{
    size_t count = 0;
    for (size_t i = 0; i < column_count; i++)
        if (has(role, i))
            names[count++] = columns[i].name;
    return count;
}

/* ---- one value ---- */

static enum fw_status read_answer(const char *text, double *out,
                                  struct fw_error *err)
{
    static const char *const yes[] = {"yes", "true", "1"};
    static const char *const no[] = {"no", "false", "0"};
    for (size_t i = 0; i < sizeof yes / sizeof *yes; i++)
        if (strcmp(text, yes[i]) == 0 || strcmp(text, no[i]) == 0) {
            *out = strcmp(text, yes[i]) == 0;
            return FW_OK;
        }
    return fw_fail(err, FW_EINPUT, "\"%.40s\" is no answer; expected yes or no",
                   text);
}

static enum fw_status read_condition(const char *text, double *out,
                                     struct fw_error *err)
{
    for (int i = FW_CONDITION_FRESH; i < FW_CONDITION_COUNT; i++)
        if (strcmp(text, fw_forage_condition_words[i]) == 0) {
            *out = i;
            return FW_OK;
        }
    return fw_fail(err, FW_EINPUT,
                   "\"%.40s\" is no condition; expected fresh, aged or rank",
                   text);
}

/* A map's units do not say what the farm's people read. */
static enum fw_status read_quantity(struct fw_farm__reader *reader,
                                    const struct column *column,
                                    const char *text, double *out,
                                    struct fw_error *err)
{
    const bool us_words = reader->us_words;
    const enum fw_status status =
        fw_farm__quantity(reader, text, column->quantity, out, err);
    reader->us_words = us_words;
    *out *= column->scale;
    return status;
}

static enum fw_status read_value(struct fw_farm__reader *reader,
                                 const struct column *column, const char *text,
                                 double *out, struct fw_error *err)
{
    double value = 0;
    enum fw_status status = FW_OK;
    if (column->kind == ANSWER)
        status = read_answer(text, &value, err);
    else if (column->kind == CONDITION)
        status = read_condition(text, &value, err);
    else if (!fw_farm__plain_number(text, &value))
        status = read_quantity(reader, column, text, &value, err);
    if (!status &&
        !(value >= 0 && value <= column->most * (1 + FW_TOLERANCE(1e-9))))
        status =
            fw_fail(err, FW_EINPUT, "\"%.40s\" is out of range; expected %s",
                    text, column->range);
    if (!status)
        *out = value;
    return status;
}

static double *value_of(struct fw_farm_feature *feature, size_t column)
{
    return (double *)(void *)((char *)feature + columns[column].offset);
}

static enum fw_status read_columns(struct fw_farm__reader *reader,
                                   const struct fw_feature *feature,
                                   struct fw_farm_feature *out,
                                   struct fw_error *err)
{
    size_t value = 0;
    for (size_t i = 0; i < column_count; i++) {
        if (!has(out->role, i))
            continue;
        const char *text = feature->values ? feature->values[value] : NULL;
        value++;
        if (!text)
            continue;
        const enum fw_status status =
            read_value(reader, &columns[i], text, value_of(out, i), err);
        if (status) {
            char name[FW_FARM__FEATURE];
            fw_fail_where(
                err, "%s: %s: %s: ", reader->draft.maps[out->map].source.text,
                fw_farm__feature(feature->row, feature->fid, feature->name,
                                 name),
                columns[i].name);
            return status;
        }
    }
    return FW_OK;
}

/* ---- what the farm file says of all ---- */

static void fall_back(double *value, const struct fw_farm__number *told)
{
    if (*value < 0 && told->at.given)
        *value = told->value;
}

/* A zone's mass and height exclude each other, wherever each was told. */
static void fall_back_zone(struct fw_farm_zone *zone,
                           const struct fw_farm__forage *told)
{
    if (zone->height_m < 0)
        fall_back(&zone->mass_kg_ha, &told->mass_kg_ha);
    if (zone->mass_kg_ha < 0)
        fall_back(&zone->height_m, &told->height_m);
    if (zone->leave_m < 0)
        fall_back(&zone->residual_kg_ha, &told->residual_kg_ha);
    if (zone->residual_kg_ha < 0)
        fall_back(&zone->leave_m, &told->leave_m);
    fall_back(&zone->use, &told->use);
    if (zone->condition < 0 && told->condition.at.given)
        zone->condition = told->condition.value;
}

enum fw_status fw_farm__told(struct fw_farm__reader *reader, size_t map,
                             const struct fw_feature *feature,
                             struct fw_farm_feature *out, struct fw_error *err)
{
    const struct fw_farm__map *told = &reader->draft.maps[map];
    const bool bar = (BARS & 1U << out->role) != 0;
    out->map = map;
    out->row = feature->row;
    out->fid = feature->fid;
    out->setback_m = out->width_m = -1;
    out->minutes = out->posts = out->sheep_cross = -1;
    out->zone = (struct fw_farm_zone){-1, -1, -1, -1, -1, -1, -1};
    const enum fw_status status = read_columns(reader, feature, out, err);
    if (status)
        return status;
    fall_back(&out->setback_m, &told->setback_m);
    if (bar)
        fall_back(&out->setback_m, &reader->draft.setback_m);
    fall_back(&out->width_m, &told->width_m);
    fall_back(&out->minutes, &told->minutes);
    fall_back(&out->posts, &told->posts);
    if (out->sheep_cross < 0 && told->sheep_cross.at.given)
        out->sheep_cross = told->sheep_cross.value;
    fall_back_zone(&out->zone, &told->forage);
    return FW_OK;
}
