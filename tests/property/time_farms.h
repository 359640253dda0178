/* Farms of real fields for whole plans, and the settings that they are planned
 * in: {growth, dormant} x {gate and water together, apart, none} x {back fence,
 * none}, with stays of a day and a trough that goes with the flock; and those
 * with water once more without a trough, so that the flock has to reach the
 * water each night, and with stays that nobody told. */
#ifndef FW_TIME_FARMS_H
#define FW_TIME_FARMS_H

#include "real_fields.h"

#include "crs/crs.h"
#include "farm/farm.h"
#include "plan/plan.h"
#include <stdbool.h>

enum places { TOGETHER, APART, NO_PLACES, PLACES };

struct setting {
    bool dormant, back_fence, trough;
    enum places places;
};

enum {
    usual_settings = 2 * 2 * PLACES,            /* with a trough */
    setting_count = usual_settings + 2 * 2 * 2, /* and without */
    wanted_paddocks = 30,
    most_fields = 3
};

static inline struct setting setting_of(size_t index)
{
    const bool trough = index < usual_settings;
    const size_t k = trough ? index : index - usual_settings;
    return (struct setting){.dormant = k % 2,
                            .back_fence = k / 2 % 2,
                            .trough = trough,
                            .places = (enum places)(k / 4)};
}

static inline const char *setting_name(size_t index, char room[80])
{
    static const char *const places[PLACES] = {
        "gate and water together", "gate and water apart", "no gate, no water"};
    const struct setting setting = setting_of(index);
    snprintf(room, 80, "%s, %s, %s%s", setting.dormant ? "dormant" : "growth",
             setting.back_fence ? "back fence" : "no back fence",
             places[setting.places], setting.trough ? "" : ", no trough");
    return room;
}

/* What a farm is made of; it borrows the fields. */
struct farm_room {
    struct fw_farm farm;
    struct fw_farm_field fields[most_fields];
    struct fw_flock_class flock;
};

static inline void put_spot(const struct fw_field *shape, size_t vertex,
                            struct fw_spot *spot)
{
    spot->given = true;
    spot->point = shape->vertices[vertex].plane;
    spot->lonlat = shape->vertices[vertex].lonlat;
}

static inline size_t opposite_corner(const struct fw_field *shape)
{
    const struct fw_point from = shape->vertices[shape->corners[0]].plane;
    size_t best = shape->corners[0];
    double most_m = 0;
    for (size_t i = 1; i < shape->corner_count; i++) {
        const struct fw_point at = shape->vertices[shape->corners[i]].plane;
        const double m = hypot(at.x_m - from.x_m, at.y_m - from.y_m);
        if (m > most_m) {
            most_m = m;
            best = shape->corners[i];
        }
    }
    return best;
}

static inline void put_field(struct farm_room *room, struct fw_field *shape,
                             char *crs, enum places places)
{
    static struct fw_farm_side untold[4096];
    struct fw_farm_field *field = &room->fields[room->farm.field_count++];
    assert_true(shape->corner_count <= sizeof untold / sizeof untold[0]);
    *field = (struct fw_farm_field){
        .shape = shape, .crs = crs, .grazed = shape, .sides = untold};
    field->sward = (struct fw_sward){
        .mass_kg_ha = 2500, .residual_kg_ha = 1500, .use = 0.8, .legume = -1};
    if (places == NO_PLACES)
        return;
    put_spot(shape, shape->corners[0], &field->gate);
    put_spot(shape,
             places == TOGETHER ? shape->corners[0] : opposite_corner(shape),
             &field->water);
}

/* As a farm file with nothing but the setting would have it; as many sheep as
 * eat the grass in so many days. */
static inline void make_farm(struct farm_room *room, struct fw_field **shapes,
                             size_t count, char *crs, struct setting setting)
{
    const double usable_kg_ha = 800, intake_kg = 2;
    double area_ha = 0;
    struct fw_error err;
    struct fw_farm *farm = &room->farm;
    *farm = (struct fw_farm){
        .world = &fw_crs_world,
        .name = (char *)"Real fields",
        .fields = room->fields,
        .classes = &room->flock,
        .class_count = 1,
        .last = FW_LAST_FIT,
        .season = setting.dormant ? FW_SEASON_DORMANT : FW_SEASON_GROWTH,
        .back_fence = setting.back_fence,
        .back_fence_told = true,
        .least_face_m = 0.3,
        .longest_shape = 4,
        .apron_m = 8,
        .moved = fw_fence_moved_default(),
        .perimeter = fw_fence_perimeter_default(),
        .rates = fw_fence_rates_default(),
        .wiring = fw_farm_wiring_default(),
        .pace_m = 0.8,
        .water_moves = setting.trough,
        .prices = {-1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1,
                   -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, ""},
    };
    for (int i = 0; i < 7; i++)
        farm->stay.days[i] = 1;
    farm->stay_told = setting.trough; /* or it may take two or three days */
    assert_int_equal(fw_date_read(setting.dormant ? "2027-11-15" : "2027-05-17",
                                  &farm->start_day, &err),
                     FW_OK);
    for (size_t i = 0; i < count; i++) {
        put_field(room, shapes[i], crs, setting.places);
        area_ha += shapes[i]->area_m2 / 1e4;
    }
    room->flock = (struct fw_flock_class){
        .name = "ewes",
        .head = (int)ceil(area_ha * usable_kg_ha / intake_kg / wanted_paddocks),
        .weight_kg = 60,
        .state = FW_DRY,
        .intake_kg_day = intake_kg};
}

#endif
