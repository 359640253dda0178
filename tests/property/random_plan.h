/* Farms at random for whole plans: flock, days, grass, sides, kit, prices,
 * things around. All of it comes from the seed; the fields are those of
 * plan_help.h. */
#ifndef FW_RANDOM_PLAN_H
#define FW_RANDOM_PLAN_H

#include "unit/plan_help.h"

#include "draw.h"
#include "make/make.h"

static inline bool chance(uint64_t *seed, double share)
{
    return draw(seed, 0, 1) < share;
}

static inline void draw_flock(uint64_t *seed, struct fw_farm *farm)
{
    const size_t count = draw_count(seed, 1, 3);
    fw_free(farm->classes);
    farm->classes = fw_alloc(count, sizeof *farm->classes);
    farm->class_count = count;
    for (size_t i = 0; i < count; i++) {
        const int head = (int)draw_count(seed, 10, 90);
        farm->classes[i] = (struct fw_flock_class){
            .head = head,
            .weight_kg = draw(seed, 45, 80),
            .state = (enum fw_state)draw_count(seed, 0, FW_STATE_COUNT - 1),
            .intake_kg_day = draw(seed, 1.5, 2.5),
            .coat = (enum fw_coat)draw_count(seed, FW_COAT_UNTOLD, FW_SHORN),
            .trained = (enum fw_answer)draw_count(seed, FW_UNTOLD, FW_YES)};
        snprintf(farm->classes[i].name, sizeof farm->classes[i].name,
                 "class %zu", i);
    }
}

static inline void draw_days(uint64_t *seed, struct fw_farm *farm)
{
    char day[32];
    snprintf(day, sizeof day, "2027-%02zu-%02zu", draw_count(seed, 1, 12),
             draw_count(seed, 1, 28));
    assert_int_equal(fw_date_read(day, &farm->start_day, NULL), FW_OK);
    const double usual = (double)draw_count(seed, 1, 3);
    for (int i = 0; i < 7; i++)
        farm->stay.days[i] = usual;
    if (chance(seed, 0.3)) {
        farm->stay.days[5] = 2;
        farm->stay.days[6] = 0;
    }
    farm->stay_told = true;
    farm->season = chance(seed, 0.3) ? FW_SEASON_DORMANT : FW_SEASON_GROWTH;
    farm->back_fence = chance(seed, 0.7);
    farm->back_fence_told = true;
    farm->lambing.given = chance(seed, 0.3);
    farm->lambing.from = farm->start_day + (int)draw_count(seed, 0, 300);
    farm->lambing.to = farm->lambing.from + (int)draw_count(seed, 0, 30);
    farm->last = (enum fw_last)draw_count(seed, FW_LAST_FIT, FW_LAST_EVEN);
}

static inline void draw_work(uint64_t *seed, struct fw_farm *farm)
{
    static const char *const layouts[] = {NULL,   NULL,      "strips", "blocks",
                                          "lane", "turning", "wedges"};
    const char *layout = layouts[draw_count(seed, 0, 6)];
    farm->layout = layout ? fw_strdup(layout) : NULL;
    farm->all_stand = chance(seed, 0.2);
    farm->work_told = chance(seed, 0.6);
    farm->work_order = chance(seed, 0.5) ? FW_WORK_SET_FIRST : FW_WORK_LEAPFROG;
    farm->moved.strands = (int)draw_count(seed, 1, 4);
    farm->moved.post_gap_m = draw(seed, 5, 12);
    farm->moved.slack = draw(seed, 0, 0.1);
    farm->moved.reel_m = draw(seed, 100, 500);
    farm->moved.out_and_back = chance(seed, 0.3);
    farm->moved.height_bottom_m = draw(seed, 0.2, 0.4);
    farm->moved.lay_flat = chance(seed, 0.5);
    farm->rates.posts_an_armful = (int)draw_count(seed, 4, 25);
    farm->pace_m = draw(seed, 0.6, 1);
    farm->kit_given = chance(seed, 0.5);
    if (farm->kit_given)
        farm->kit =
            (struct fw_kit){(int)draw_count(seed, 0, 12),
                            (int)draw_count(seed, 0, 120), draw(seed, 0, 2500)};
    farm->tank_l = chance(seed, 0.5) ? draw(seed, 50, 900) : 0;
    farm->water_moves = chance(seed, 0.8);
    farm->dry_soil = chance(seed, 0.3);
    farm->energizer_j = chance(seed, 0.5) ? draw(seed, 0.5, 6) : 0;
    farm->looked_day = FW_NO_DAY;
    farm->apron_m = 8;
    farm->least_face_m = 0.3;
}

/* None, some, or all of them. */
static inline void draw_prices(uint64_t *seed, struct fw_farm *farm)
{
    double *const all[] = {&farm->prices.post,
                           &farm->prices.reel,
                           &farm->prices.wire_m,
                           &farm->prices.energizer,
                           &farm->prices.earth_rod,
                           &farm->prices.sign,
                           &farm->prices.anchor,
                           &farm->prices.handle,
                           &farm->prices.joule,
                           &farm->prices.lead_m,
                           &farm->prices.perimeter_wire_m,
                           &farm->prices.copper_wire_m};
    const double share = (double)draw_count(seed, 0, 2) / 2;
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        *all[i] = share >= 1 || chance(seed, share * 0.9)
                      ? round(draw(seed, 1, 50))
                      : -1;
    snprintf(farm->prices.currency, sizeof farm->prices.currency, "C%zu",
             draw_count(seed, 0, 9));
}

static inline void draw_spot(uint64_t *seed, const struct fw_field *shape,
                             double share, struct fw_spot *spot)
{
    const size_t vertex =
        shape->corners[draw_count(seed, 0, shape->corner_count - 1)];
    if (!chance(seed, share))
        return;
    *spot = (struct fw_spot){.given = true,
                             .point = shape->vertices[vertex].plane,
                             .lonlat = shape->vertices[vertex].lonlat};
}

static inline void draw_field(uint64_t *seed, struct fw_farm_field *field)
{
    static const char *const swards[] = {"ryegrass-clover", "fescue-nitrogen",
                                         "timothy-legume", "mixed"};
    const double intervals[] = {-1, 0, 0.2, 0.3, 0.45};
    for (size_t i = 0; i < field->shape->corner_count; i++)
        field->sides[i] = (struct fw_farm_side){
            (enum fw_holds)draw_count(seed, FW_HOLDS_UNTOLD, FW_HOLDS_LAMBS),
            (enum fw_answer)draw_count(seed, FW_UNTOLD, FW_YES)};
    if (chance(seed, 0.4)) /* all of them alike */
        for (size_t i = 1; i < field->shape->corner_count; i++)
            field->sides[i] = field->sides[0];
    field->hole_holds =
        (enum fw_holds)draw_count(seed, FW_HOLDS_UNTOLD, FW_HOLDS_LAMBS);
    field->crs_accuracy_m = chance(seed, 0.3) ? draw(seed, 0.1, 3) : -1;
    draw_spot(seed, field->shape, 0.7, &field->gate);
    draw_spot(seed, field->shape, 0.5, &field->water);
    draw_spot(seed, field->shape, 0.2, &field->park);
    field->sward.legume = intervals[draw_count(seed, 0, 4)];
    field->sward.mass_kg_ha = draw(seed, 2300, 2900);
    if (!chance(seed, 0.5))
        return;
    snprintf(field->sward.name, sizeof field->sward.name, "%s",
             swards[draw_count(seed, 0, 3)]);
}

static inline void draw_around(uint64_t *seed, struct fw_farm *farm)
{
    static const enum fw_role roles[] = {
        FW_ROLE_ROAD,        FW_ROLE_PATH,     FW_ROLE_POWER_LINE,
        FW_ROLE_WATERCOURSE, FW_ROLE_BUILDING, FW_ROLE_SHADE};
    const size_t count = draw_count(seed, 0, 2);
    for (size_t i = 0; i < count; i++) {
        const double x = draw(seed, -40, 340);
        const double xy[2][2] = {{x, -20}, {x + draw(seed, -50, 50), 220}};
        add_feature(farm, roles[draw_count(seed, 0, 5)], false, xy, 2);
    }
    if (!chance(seed, 0.3))
        return;
    const double xy[3][2] = {{400, 400}, {410, 400}, {405, 410}};
    add_feature(farm, FW_ROLE_POND, true, xy, 3);
}

static inline struct fw_farm *draw_farm(uint64_t *seed)
{
    static const struct outline *const outlines[] = {&rectangle, &leaning,
                                                     &corner, &pond};
    struct fw_farm *farm =
        farm_of(outlines[draw_count(seed, 0, 3)],
                chance(seed, 0.3) ? outlines[draw_count(seed, 0, 3)] : NULL);
    farm->wiring = fw_farm_wiring_default();
    draw_flock(seed, farm);
    draw_days(seed, farm);
    draw_work(seed, farm);
    draw_prices(seed, farm);
    for (size_t i = 0; i < farm->field_count; i++)
        draw_field(seed, &farm->fields[i]);
    draw_around(seed, farm);
    return farm;
}

/* NULL: it cannot be planned, and says so. */
static inline struct fw_plan *plan_at_random(const struct fw_farm *farm)
{
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    const enum fw_status status = fw_plan_make(farm, &plan, &err);
    if (status && (status != FW_EPLAN || !err.text[0]))
        fail_msg("status %d: %s", (int)status, err.text);
    return plan;
}

#endif
