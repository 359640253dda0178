/* A plan made by hand in which no two figures are alike, so that one taken for
 * another is seen. Where its places are on the earth follows from where they
 * are in the plane. It is static: never free it. */
#ifndef FW_PLAN_BY_HAND_H
#define FW_PLAN_BY_HAND_H

#include "test.h"
#include <foldwright/geo.h>
#include <foldwright/plan.h>

static struct fw_vertex vertices[] = {
    {{600000.1, 5200000.2}, {0, 0}, {-50.1, -50.2}, FW_VERTEX_INPUT},
    {{600100.3, 5200000.4}, {0, 0}, {50.3, -50.4}, FW_VERTEX_BOW},
    {{600100.5, 5200100.6}, {0, 0}, {50.5, 50.6}, FW_VERTEX_CUT},
    {{600000.7, 5200100.8}, {0, 0}, {-50.7, 50.8}, FW_VERTEX_INPUT},
    {{-0.0, 1e300}, {0, 0}, {5e-324, -9876.5}, FW_VERTEX_INPUT},
};
static size_t ring_vertices[] = {0, 1, 2, 3, 4, 3, 2};
static size_t ring_start[] = {0, 4, 7};
static size_t one_piece[] = {0, 2}, two_pieces[] = {0, 1, 2};
static size_t corners[] = {3, 2, 1};
static size_t corner_numbers[] = {7, 0, 9}, side_numbers[] = {8, 0, 6};
static size_t line[] = {1, 2, 4}, other_line[] = {4, 0}, third_line[] = {0, 3};
static struct fw_farm_side sides[] = {{FW_HOLDS_UNTOLD, FW_YES},
                                      {FW_HOLDS_SHEEP, FW_UNTOLD},
                                      {FW_HOLDS_LAMBS, FW_NO}};

#define PLACE(n)                                                               \
    {                                                                          \
        true, {n + 0.1, n + 0.2}, {0, 0},                                      \
        {                                                                      \
            n + 0.5, n + 0.6                                                   \
        }                                                                      \
    }

static struct fw_plan_field fields[] = {
    {.name = (char *)"Low \"meadow\"",
     .source = (char *)"low.gpkg",
     .crs = (char *)"EPSG:25832",
     .crs_accuracy_m = -1,
     .vertices = vertices,
     .vertex_count = 5,
     .rings = {ring_vertices, ring_start, 2, one_piece, 1},
     .corners = corners,
     .corner_count = 3,
     .corner_numbers = corner_numbers,
     .corner_number_count = 3,
     .side_numbers = side_numbers,
     .side_number_count = 3,
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
     .fence_count = 4,
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
     .first_fence = 4,
     .fence_count = 1},
    {.name = (char *)"Top",
     .vertices = vertices,
     .vertex_count = 5,
     .rings = {ring_vertices, ring_start, 2, one_piece, 1},
     .area_ha = 3.25,
     .first_paddock = 3,
     .paddock_count = 0,
     .first_fence = 5,
     .fence_count = 0,
     .no_plan = (char *)"the grass is eaten"},
};

static struct fw_plan_paddock paddocks[] = {
    {.id = "A01",
     .field = 0,
     .block = "A-1",
     .seq = 1,
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
     .rings = {ring_vertices, ring_start, 1, two_pieces, 1}},
    {.id = "A02",
     .field = 0,
     .seq = 2,
     .water = FW_NONE,
     .rings = {ring_vertices, ring_start, 2, two_pieces, 2}},
    {.id = "B01",
     .field = 1,
     .seq = 3,
     .water = 0,
     .rings = {ring_vertices, ring_start, 2, one_piece, 1}},
};

static struct fw_plan_lane lanes[] = {
    {"A-lane-1",
     0,
     false,
     0.0125,
     125.25,
     {ring_vertices, ring_start, 1, two_pieces, 1}},
    {"A-apron-1",
     0,
     true,
     0.0375,
     375.75,
     {ring_vertices, ring_start, 2, two_pieces, 2}},
};

static struct fw_plan_fence fences[] = {
    {.id = "A01-02",
     .field = 0,
     .role = FW_FENCE_MOVED,
     .from = 0,
     .to = 1,
     .rank = 3,
     .pace_share = 0.03125,
     .side = FW_NONE,
     .line = line,
     .line_count = 3,
     .length_m = 80.5,
     .ground_m = 81.25,
     .wire_m = 166.5,
     .strands = 2,
     .posts = 10,
     .reels = 3,
     .bearing_deg = 43.5,
     .a = {FW_PACED_SIDE, 2, 1, FW_NONE, false, 49.25, 60, -1, 2, 25},
     .b = {FW_PACED_LINE, FW_NONE, FW_NONE, 2, true, 61.5, 75, -1, FW_NONE, -1},
     .volts_known = true,
     .open_v = 4321.5,
     .touched_v = 2123.5},
    {.id = "A-side-2",
     .field = 0,
     .role = FW_FENCE_PERIMETER,
     .from = FW_NONE,
     .to = FW_NONE,
     .rank = 11,
     .side = 1,
     .line = line,
     .line_count = 2,
     .length_m = 100.5,
     .ground_m = 101.5,
     .wire_m = 505.5,
     .strands = 5,
     .posts = 11,
     .reels = 1,
     .bearing_deg = 133.5,
     .a = {FW_PACED_UNTOLD, FW_NONE, FW_NONE, FW_NONE, false, 0, 0, -1, FW_NONE,
           -1},
     .b = {FW_PACED_UNTOLD, FW_NONE, FW_NONE, FW_NONE, false, 0, 0, -1, FW_NONE,
           -1}},
    {.id = "A-line-1",
     .field = 0,
     .role = FW_FENCE_STANDING,
     .from = 0,
     .to = 1,
     .rank = 5,
     .side = FW_NONE,
     .line = other_line,
     .line_count = 2,
     .length_m = 120.5,
     .ground_m = 121.5,
     .wire_m = 250.5,
     .strands = 2,
     .posts = 15,
     .reels = 2,
     .bearing_deg = 223.5,
     .a = {FW_PACED_STRAIGHT, FW_NONE, FW_NONE, 0, true, 12.5, 16, 214.5,
           FW_NONE, -1},
     .b = {FW_PACED_STRAIGHT, 0, FW_NONE, FW_NONE, false, 13.5, 17, 0.5,
           FW_NONE, -1}},
    {.id = "A-side-lane",
     .field = 0,
     .role = FW_FENCE_LANE,
     .from = 1,
     .to = 1,
     .rank = 1,
     .side = FW_NONE,
     .line = third_line,
     .line_count = 2,
     .length_m = 90.5,
     .ground_m = 91.5,
     .wire_m = 190.5,
     .strands = 3,
     .posts = 12,
     .reels = 6,
     .bearing_deg = 313.5,
     .a = {FW_PACED_SIDE, 1, 2, FW_NONE, false, 14.5, 18, -1, FW_NONE, -1},
     .b = {FW_PACED_SIDE, 0, 1, FW_NONE, false, 15.5, 19, -1, FW_NONE, -1}},
    {.id = "B-front",
     .field = 1,
     .role = FW_FENCE_MOVED,
     .from = 2,
     .to = 2,
     .stood = true,
     .rank = 2,
     .side = FW_NONE,
     .line = third_line,
     .line_count = 2,
     .length_m = 70.5,
     .ground_m = 71.5,
     .wire_m = 150.5,
     .strands = 4,
     .posts = 9,
     .reels = 7,
     .bearing_deg = 23.5,
     .a = {FW_PACED_UNTOLD, FW_NONE, FW_NONE, FW_NONE, false, 0, 0, -1, FW_NONE,
           -1},
     .b = {FW_PACED_UNTOLD, FW_NONE, FW_NONE, FW_NONE, false, 0, 0, -1, FW_NONE,
           -1}},
};

static struct fw_plan_crossing crossings[] = {
    {2, "hard going Mill ditch", 2, 4, 3.5},
};

static struct fw_plan_power_day power_days[] = {
    {20576, 20579, 0, 79.5, 2123.25, 4321.25, 4111.25, 6543.25, 1, false,
     1876.25},
    {20579, 20580, FW_NONE, 0, 0, 0, 0, 8999.5, 0, true, 0},
};

static struct fw_plan_reading readings[] = {
    {2, 0, 6123.5, 2345.5, 5221.5},
};

static struct fw_plan_post posts[] = {
    {.id = "A01-02/1", .fence = 0, .at_m = 25.25, .why = FW_POST_TIE},
    {.id = "A01-02/2", .fence = 0, .at_m = 75.75, .why = FW_POST_GAP},
};
static struct fw_plan_water waters[] = {
    {"trough A01", "trough", 0, 20577, 20578, 123.5, PLACE(21)},
    {"water A", "fixed", 0, FW_NO_DAY, FW_NO_DAY, 456.25, PLACE(22)},
};
static struct fw_plan_gate gates[] = {
    {"gate A", 0, "gate", FW_NONE, FW_OPENING_GATE, 0, FW_NO_DAY, FW_NONE,
     FW_NONE, 3.5, 0, false, PLACE(31)},
    {"gate B", 1, "gate", FW_NONE, FW_OPENING_GATE, 0, FW_NO_DAY, FW_NONE,
     FW_NONE, 3.25, 0, false, PLACE(34)},
    {"opening A02", 0, "opening", 0, FW_OPENING_A, 2.625, 20578, 0, 1, 5.25,
     2.5, true, PLACE(32)},
    {"way out A01", 0, "opening", 2, FW_OPENING_JOINT, 77.5, 20581, 1, FW_NONE,
     4.75, 3, false, PLACE(35)},
    {"opening B01", 1, "opening", 4, FW_OPENING_B, 68.5, 20583, 2, 2, 4.25,
     2.75, true, PLACE(36)},
};
static struct fw_plan_finding findings[] = {
    {"finding 1", "power-line-middle", "A01-02, power line", "power line", 0, 2,
     FW_LEVEL_DANGER, true, 3.75, 4.25, "keep away (here 3.7 m)",
     "somebody's code", PLACE(41)},
    {.id = "finding 2",
     .rule = "road-near",
     .about = "A-side-1, road",
     .feature = "road",
     .field = FW_NONE,
     .fence = FW_NONE,
     .level = FW_LEVEL_WARNING,
     .wanted_m = 9.5,
     .text = "signs",
     .source = "another"},
    {.id = "finding 3",
     .rule = "power-line-middle",
     .about = "A-line-1, power line",
     .feature = "power line of 20 kV",
     .field = 1,
     .fence = 2,
     .level = FW_LEVEL_NOTE,
     .measured = true,
     .distance_m = 3.5,
     .wanted_m = 4.5,
     .text = "keep away (here 3.5 m)",
     .source = "somebody's code",
     .place = PLACE(42)},
};
static struct fw_plan_caution page[] = {
    {"heart", "people", "before you begin", "Nobody with a pacemaker.", "a law",
     "kept"},
};

/* Two fields one after the other; each kind of step is in it. */
static struct fw_time_stay stays[] = {
    {0, 20577, 20578, 130.125, (double)NAN},
    {1, 20578, 20580, 260.375, 22.5},
    {2, 20581, 20583, 270.5, (double)NAN},
};
static struct fw_move moves[] = {
    {.day = 20577,
     .stay = 0,
     .field = 0,
     .steps = {0, 8},
     .later = FW_NONE,
     .opening = 0,
     .ahead = true,
     .minutes = 5.5,
     .passes = 7.25},
    {.day = 20578,
     .stay = 1,
     .field = 0,
     .steps = {8, 7},
     .later = 9,
     .opening = 2,
     .carries = true,
     .minutes = 6.5,
     .passes = 8.25},
    {.day = 20581,
     .stay = 2,
     .field = 1,
     .steps = {15, 7},
     .later = FW_NONE,
     .opening = 3,
     .minutes = 7.5,
     .passes = 10.25},
    {.day = 20583,
     .stay = FW_NONE,
     .field = 1,
     .steps = {22, 4},
     .later = FW_NONE,
     .opening = FW_NONE,
     .minutes = 9.5,
     .passes = 11.25},
};
static size_t items[] = {0, 2, 3, 0, 1, 4};
#define ITEMS(first, count)                                                    \
    {                                                                          \
        first, count                                                           \
    }
static struct fw_step steps[] = {
    {.kind = FW_STEP_SET, .opening = FW_NONE, .lines = ITEMS(0, 2)},
    {.kind = FW_STEP_HOOK, .opening = FW_NONE, .lines = ITEMS(0, 2)},
    {.kind = FW_STEP_READ, .opening = FW_NONE, .lines = ITEMS(0, 2)},
    {.kind = FW_STEP_CARRY, .opening = FW_NONE},
    {.kind = FW_STEP_OPEN, .opening = 0},
    {.kind = FW_STEP_WALK, .opening = FW_NONE, .way_m = 16.25},
    {.kind = FW_STEP_COUNT, .opening = FW_NONE},
    {.kind = FW_STEP_CLOSE, .opening = 0},
    {.kind = FW_STEP_OPEN, .opening = 2, .dead = ITEMS(1, 1)},
    {.kind = FW_STEP_LATER, .opening = FW_NONE},
    {.kind = FW_STEP_COUNT, .opening = FW_NONE},
    {.kind = FW_STEP_BRIDGE, .opening = 2},
    {.kind = FW_STEP_SET, .opening = FW_NONE, .lines = ITEMS(2, 1)},
    {.kind = FW_STEP_HOOK, .opening = FW_NONE, .lines = ITEMS(2, 1)},
    {.kind = FW_STEP_READ, .opening = FW_NONE, .lines = ITEMS(2, 1)},
    {.kind = FW_STEP_OPEN, .field = 1, .opening = 1},
    {.kind = FW_STEP_OPEN, .opening = 3},
    {.kind = FW_STEP_WALK,
     .field = 1,
     .opening = FW_NONE,
     .cells = ITEMS(3, 2),
     .over_m = 12.125,
     .way_m = 61.375},
    {.kind = FW_STEP_COUNT, .field = 1, .opening = FW_NONE},
    {.kind = FW_STEP_CLOSE, .opening = 3},
    {.kind = FW_STEP_CLOSE, .field = 1, .opening = 1},
    {.kind = FW_STEP_TAKE_DOWN, .opening = FW_NONE, .lines = ITEMS(0, 2)},
    {.kind = FW_STEP_OPEN, .field = 1, .opening = 4},
    {.kind = FW_STEP_COUNT, .field = 1, .opening = FW_NONE},
    {.kind = FW_STEP_CLOSE, .field = 1, .opening = 4},
    {.kind = FW_STEP_TAKE_DOWN,
     .field = 1,
     .opening = FW_NONE,
     .lines = ITEMS(5, 1)},
};
static struct fw_standing standings[] = {
    {4, {FW_NONE, 0}, {3, 25}}, /* stood before */
    {0, {0, 0}, {2, 21}},
    {2, {0, 0}, {2, 21}},
    {3, {1, 12}, {FW_NONE, 0}}, /* for good */
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

static struct fw_input inputs[] = {
    {(char *)"/nowhere/hill.yaml", 1684, 4294967295u, true},
    {(char *)"PG:dbname=hill password=***", 0, 0, false},
};

static inline void on_earth(struct fw_plan_place *place)
{
    if (place->given)
        place->lonlat = fw_plane_inverse(&fields[0].plane, place->plane);
}

/* A share of the way from one vertex to another, in each kind of coordinate. */
static inline struct fw_plan_place part_way(const struct fw_vertex *a,
                                            const struct fw_vertex *b, double t)
{
    const double left = 1 - t;
    return (struct fw_plan_place){
        true,
        {left * a->plane.x_m + t * b->plane.x_m,
         left * a->plane.y_m + t * b->plane.y_m},
        {left * a->lonlat.lon_deg + t * b->lonlat.lon_deg,
         left * a->lonlat.lat_deg + t * b->lonlat.lat_deg},
        {left * a->file.x + t * b->file.x, left * a->file.y + t * b->file.y}};
}

static inline void put_on_earth(struct fw_lonlat middle)
{
    for (size_t i = 0; i < sizeof fields / sizeof *fields; i++) {
        if (fw_plane_init(&fields[i].plane, middle, NULL))
            fail_msg("no plane");
        on_earth(&fields[i].gate);
        on_earth(&fields[i].park);
    }
    for (size_t i = 0; i < sizeof vertices / sizeof *vertices; i++)
        vertices[i].lonlat =
            fw_plane_inverse(&fields[0].plane, vertices[i].plane);
    for (size_t i = 0; i < sizeof waters / sizeof *waters; i++)
        on_earth(&waters[i].place);
    for (size_t i = 0; i < sizeof gates / sizeof *gates; i++)
        on_earth(&gates[i].place);
    for (size_t i = 0; i < sizeof findings / sizeof *findings; i++)
        on_earth(&findings[i].place);
    posts[0].place = part_way(&vertices[line[0]], &vertices[line[1]], 0.25);
    posts[1].place = part_way(&vertices[line[0]], &vertices[line[1]], 0.75);
}

static inline struct fw_plan by_hand(void)
{
    put_on_earth((struct fw_lonlat){10.5, 46.5});
    struct fw_plan_place energizer = PLACE(51);
    on_earth(&energizer);
    return (struct fw_plan){
        .farm_name = (char *)"Hill",
        .inputs = {inputs, 2, 2},
        .units = FW_US,
        .crs = (char *)"EPSG:25832",
        .classes = classes,
        .class_count = 2,
        .flock = {90, 4718.75, 130.75, 456.5, "a table of litres"},
        .start_day = 20577,
        .end_day = 20583,
        .season = FW_SEASON_DORMANT,
        .field_order = FW_ORDER_NEAREST,
        .back_fence = true,
        .pace_m = 0.8125,
        .tank_l = 0,
        .dry_soil = true,
        .energizer = {1.25, 1.5, true, 3, 1.83, 4.75, 5000, 2500, "rule",
                      "rods", "volts"},
        .energizer_place = energizer,
        .moved = {2, 8.5, 30.5, 0.04, 400.5, true, 0.55, 0.35, true},
        .wiring =
            {3.75,  0.0355, 0.0365, 1010.5, 2020.5, 4,     FW_BONDED_EVERY,
             205.5, true,   2.25,   1.125,  41.5,   110.5, 5,
             21.5,  FW_NO,  310.5,  9050.5, 505.5,  true,  1.625,
             6.5,   4.25},
        .power = {9060.5, 506.5, 22.5, 6, 7, FW_EARTH_TEST, 290.5, 1.25, true},
        .prices = {18.5, 60.5, 0.75, 0.125},
        .power_days = power_days,
        .power_day_count = 2,
        .readings = readings,
        .reading_count = 1,
        .concerns = FW_CONCERN_LEGUME | FW_CONCERN_DRY_SOIL,
        .legume = 0.375,
        .currency = "EUR",
        .use_source = (char *)"use",
        .density_source = NULL,
        .intake_source = (char *)"intake",
        .water_source = (char *)"water",
        .fields = fields,
        .field_count = 3,
        .paddocks = paddocks,
        .paddock_count = 3,
        .lanes = lanes,
        .lane_count = 2,
        .fences = fences,
        .fence_count = 5,
        .posts = posts,
        .post_count = 2,
        .crossings = crossings,
        .crossing_count = 1,
        .waters = waters,
        .water_count = 2,
        .gates = gates,
        .gate_count = 5,
        .findings = findings,
        .finding_count = 3,
        .cautions = page,
        .caution_count = 1,
        .time = {.stays = stays,
                 .stay_count = 3,
                 .standings = standings,
                 .standing_count = 4,
                 .moves = moves,
                 .move_count = 4,
                 .steps = steps,
                 .step_count = 26,
                 .items = items,
                 .item_count = 6},
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
                   {1, 0, 84.5},
                   13,
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
