/* A plan made by hand in which no two figures are alike, so that one taken for
 * another is seen. It is static: never free it. */
#ifndef FW_PLAN_BY_HAND_H
#define FW_PLAN_BY_HAND_H

#include "test.h"
#include <foldwright/plan.h>

static struct fw_vertex vertices[] = {
    {{600000.1, 5200000.2}, {10.1, 46.1}, {-50.1, -50.2}, FW_VERTEX_INPUT},
    {{600100.3, 5200000.4}, {10.2, 46.2}, {50.3, -50.4}, FW_VERTEX_BOW},
    {{600100.5, 5200100.6}, {10.3, 46.3}, {50.5, 50.6}, FW_VERTEX_CUT},
    {{600000.7, 5200100.8}, {10.4, 46.4}, {-50.7, 50.8}, FW_VERTEX_INPUT},
    {{-0.0, 1e300}, {1e-300, 0.1 + 0.2}, {5e-324, -1e22}, FW_VERTEX_INPUT},
};
static size_t ring_vertices[] = {0, 1, 2, 3, 4, 3, 2};
static size_t ring_start[] = {0, 4, 7};
static size_t one_piece[] = {0, 2}, two_pieces[] = {0, 1, 2};
static size_t corners[] = {3, 2, 1};
static size_t line[] = {1, 2, 4}, other_line[] = {4, 0};
static struct fw_farm_side sides[] = {{FW_HOLDS_UNTOLD, FW_YES},
                                      {FW_HOLDS_SHEEP, FW_UNTOLD},
                                      {FW_HOLDS_LAMBS, FW_NO}};

#define PLACE(n)                                                               \
    {                                                                          \
        true, {n + 0.1, n + 0.2}, {n + 0.3, n + 0.4},                          \
        {                                                                      \
            n + 0.5, n + 0.6                                                   \
        }                                                                      \
    }

static struct fw_plan_field fields[] = {
    {.name = (char *)"Low \"meadow\"",
     .source = (char *)"low.gpkg",
     .crs = (char *)"EPSG:25832",
     .crs_accuracy_m = -1,
     .plane = {{10.5, 46.5}, 1.1, 1.2, 1.3, 1.4, 1.5},
     .vertices = vertices,
     .vertex_count = 5,
     .rings = {ring_vertices, ring_start, 2, one_piece, 1},
     .corners = corners,
     .corner_count = 3,
     .sides = sides,
     .hole_holds = FW_HOLDS_NOTHING,
     .area_ha = 2.01,
     .plane_m2 = 20102,
     .grazed_ha = 1.99,
     .perimeter_m = 400.5,
     .rotation_days = 12.5,
     .usable_kg_ha = 800.25,
     .mass_kg_ha = 2600,
     .residual_kg_ha = 1400,
     .use = 0.75,
     .use_of = FW_USE_ABOVE_RESIDUAL,
     .layout = "blocks-2-33",
     .pattern = "blocks",
     .direction_deg = 33.3,
     .fence_bound_m = 120.25,
     .last_share = 0.875,
     .left_kg = 12.75,
     .first_paddock = 0,
     .paddock_count = 2,
     .first_fence = 0,
     .fence_count = 3,
     .gate = PLACE(3),
     .park = PLACE(33),
     .far_first = true,
     .water = {false, {0, 0}, {0, 0}, {0, 0}}},
    {.name = (char *)"Low \"meadow\"", /* a namesake */
     .vertices = vertices,
     .vertex_count = 5,
     .crs_accuracy_m = 0.5,
     .rings = {ring_vertices, ring_start, 2, two_pieces, 2},
     .first_paddock = 2,
     .paddock_count = 1,
     .first_fence = 3,
     .fence_count = 0},
};

static struct fw_plan_paddock paddocks[] = {
    {.id = "A01",
     .field = 0,
     .block = "A-1",
     .seq = 1,
     .enter = 20577,
     .leave = 20578,
     .stay_days = 1.5,
     .area_ha = 0.161,
     .plane_m2 = 1611.5,
     .perimeter_m = 161.25,
     .usable_kg = 130.5,
     .demand_kg = 130.25,
     .head_per_ha = 559.5,
     .liveweight_kg_ha = 34000.5,
     .elongation = 1.625,
     .pieces = 1,
     .walk_known = true,
     .walk_mean_m = 30.5,
     .walk_max_m = 61.75,
     .water = 1,
     .keep = "heat",
     .rings = {ring_vertices, ring_start, 1, one_piece, 0}},
    {.id = "A02",
     .field = 0,
     .seq = 2,
     .enter = 20578,
     .leave = FW_NO_DAY,
     .water = FW_NONE,
     .rings = {ring_vertices, ring_start, 2, two_pieces, 2}},
    {.id = "B01",
     .field = 1,
     .seq = 3,
     .enter = FW_NO_DAY,
     .leave = FW_NO_DAY,
     .water = 0,
     .rings = {ring_vertices, ring_start, 2, one_piece, 1}},
};

static struct fw_plan_fence fences[] = {
    {.id = "A01-02",
     .field = 0,
     .role = FW_FENCE_MOVED,
     .from = 0,
     .to = 1,
     .set_at = 0,
     .down_at = 2,
     .side = FW_NONE,
     .line = line,
     .line_count = 3,
     .length_m = 80.5,
     .ground_m = 81.25,
     .wire_m = 166.5,
     .strands = 2,
     .posts = 10,
     .reels = 3,
     .up = 20576,
     .down = 20579,
     .bearing_deg = 43.5,
     .a = {true, FW_NONE, 2, true, 49.25, 60},
     .b = {true, 2, FW_NONE, false, 61.5, 75},
     .volts_known = true,
     .open_v = 4321.5,
     .touched_v = 2123.5,
     .far_v = 4567.5},
    {.id = "A-side-2",
     .field = 0,
     .role = FW_FENCE_PERIMETER,
     .from = FW_NONE,
     .to = FW_NONE,
     .set_at = FW_NONE,
     .down_at = FW_NONE,
     .side = 1,
     .line = line,
     .line_count = 2,
     .length_m = 100.5,
     .ground_m = 101.5,
     .wire_m = 505.5,
     .strands = 5,
     .posts = 11,
     .reels = 1,
     .up = FW_NO_DAY,
     .down = FW_NO_DAY,
     .bearing_deg = 133.5,
     .a = {false, FW_NONE, FW_NONE, false, 0, 0},
     .b = {false, FW_NONE, FW_NONE, false, 0, 0}},
    {.id = "A-line-1",
     .field = 0,
     .role = FW_FENCE_STANDING,
     .from = 0,
     .to = 1,
     .set_at = 1,
     .down_at = FW_NONE,
     .side = FW_NONE,
     .line = other_line,
     .line_count = 2,
     .length_m = 120.5,
     .ground_m = 121.5,
     .wire_m = 250.5,
     .strands = 2,
     .posts = 15,
     .reels = 2,
     .up = 20578,
     .down = 20581,
     .bearing_deg = 223.5,
     .a = {true, FW_NONE, 0, false, 12.5, 16},
     .b = {false, FW_NONE, FW_NONE, false, 0, 0}},
};

static struct fw_plan_power_day power_days[] = {
    {20576, 20579, 0, 79.5, 2123.25, 4321.25, 4111.25, 6543.25, 1, false},
    {20579, 20580, FW_NONE, 0, 0, 0, 0, 8999.5, 0, true},
};

static struct fw_plan_post posts[] = {
    {"A01-02/1", 0, 0.25, FW_POST_TIE, PLACE(11)},
    {"A01-02/2", 0, 8.25, FW_POST_GAP, PLACE(12)},
};
static struct fw_plan_water waters[] = {
    {"trough A01", "trough", 0, 20577, 20578, 123.5, PLACE(21)},
    {"water A", "fixed", 0, FW_NO_DAY, FW_NO_DAY, 456.25, PLACE(22)},
};
static struct fw_plan_gate gates[] = {
    {"gate A", 0, "gate", FW_NONE, false, FW_NO_DAY, FW_NONE, FW_NONE, 3.5,
     PLACE(31)},
    {"opening A02", 0, "opening", 0, true, 20578, 0, 1, 5.25, PLACE(32)},
    {"way out A01", 0, "opening", 2, false, 20578, 0, FW_NONE, 4.75, PLACE(33)},
};
static struct fw_plan_finding findings[] = {
    {"finding 1", "power-line-middle", "A01-02, power line", "power line", 0,
     FW_LEVEL_DANGER, true, 3.75, 4.25, "keep away", "somebody's code",
     PLACE(41)},
    {"finding 2",
     "road-near",
     "A-side-1, road",
     "road",
     FW_NONE,
     FW_LEVEL_WARNING,
     false,
     0,
     9.5,
     "signs",
     "another",
     {false, {0, 0}, {0, 0}, {0, 0}}},
};
static struct fw_plan_caution page[] = {
    {"heart", "people", "before you begin", "Nobody with a pacemaker.",
     "a law"},
};
static struct fw_plan_move moves[] = {
    {20577, 0, FW_NONE, 0, 0, 1, FW_NONE, FW_NONE, 0.03125, 5.5, 7.25},
    {20578, 0, 0, 1, 1, FW_NONE, 0, 2, 0.0625, 6.5, 8.25},
    {20579, 1, 1, 2, FW_NONE, FW_NONE, FW_NONE, FW_NONE, 0.125, 7.5, 10.25},
};
static struct fw_material materials[] = {
    {"step-in post", "each", 21, 2.25, "two lines and a spare"},
    {"polywire", "m", 332.5, -1, ""},
};
static struct fw_farm_default defaults[] = {{"post gap", "8 m", "a table"}};
static struct fw_flock_class classes[] = {
    {"dry ewes", 61, 62.5, FW_DRY, 0.026, 0, FW_WOOL, FW_YES},
    {"weaners", 29, 31.25, FW_WEANED_LAMB, 0, 1.125, FW_COAT_UNTOLD, FW_UNTOLD},
};
static struct fw_note notes[] = {
    {FW_LEVEL_NOTE, (char *)"A02", (char *)"a line, \"and\" more \\"},
    {FW_LEVEL_WARNING, (char *)"", (char *)"far \xE2\x82\xAC"},
};

static inline struct fw_plan by_hand(void)
{
    return (struct fw_plan){
        .farm_name = (char *)"Hill",
        .farm_path = NULL,
        .farm_crc32 = 4294967295u,
        .units = FW_US,
        .crs = (char *)"EPSG:25832",
        .classes = classes,
        .class_count = 2,
        .flock = {90, 4718.75, 130.75, 456.5, "a table of litres"},
        .start_day = 20577,
        .end_day = 20580,
        .season = FW_SEASON_DORMANT,
        .field_order = FW_ORDER_NEAREST,
        .back_fence = true,
        .pace_m = 0.8125,
        .tank_l = 0,
        .dry_soil = true,
        .energizer = {1.25, 1.5, true, 3, 1.83, 4.75, 5000, 2500, "rule",
                      "rods", "volts"},
        .energizer_place = PLACE(51),
        .moved = {2, 8.5, 30.5, 0.04, 400.5, 0.55, 0.35},
        .wiring =
            {3.75,  0.0355, 0.0365, 1010.5, 2020.5, 4,     FW_BONDED_EVERY,
             205.5, true,   2.25,   1.125,  41.5,   110.5, 5,
             21.5,  310.5,  9050.5, 505.5,  true,   1.625, 6.5,
             4.25},
        .power = {9060.5, 506.5, 22.5, 6, 7, FW_EARTH_TEST, 290.5},
        .power_days = power_days,
        .power_day_count = 2,
        .concerns = FW_CONCERN_LEGUME | FW_CONCERN_DRY_SOIL,
        .legume = 0.375,
        .currency = "EUR",
        .use_source = (char *)"use",
        .density_source = NULL,
        .intake_source = (char *)"intake",
        .water_source = (char *)"water",
        .fields = fields,
        .field_count = 2,
        .paddocks = paddocks,
        .paddock_count = 3,
        .fences = fences,
        .fence_count = 3,
        .posts = posts,
        .post_count = 2,
        .waters = waters,
        .water_count = 2,
        .gates = gates,
        .gate_count = 3,
        .findings = findings,
        .finding_count = 2,
        .cautions = page,
        .caution_count = 1,
        .moves = moves,
        .move_count = 3,
        .materials = materials,
        .material_count = 2,
        .defaults = defaults,
        .default_count = 1,
        .totals = {3,
                   332.75,
                   44.5,
                   181.5,
                   120.5,
                   {4, 21, 333.25},
                   2,
                   5.75,
                   true,
                   31.5,
                   62.5,
                   -1,
                   1.75,
                   4,
                   false,
                   0,
                   8.625,
                   6},
        .untold = {notes, 1, 1},
        .notes = {notes, 2, 2},
    };
}

#endif
