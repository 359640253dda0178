/* What map.html tells of the ground and of each thing on it, of a plan made by
 * hand: each row and each place as it is by that plan, by hand too. */
#include "plan_in_hand.h"
#include "read_back.h"

#include "base/text.h"
#include "page/map_page.h"

#include <stdlib.h>

static struct json_object *json_of(struct fw_text *text)
{
    assert_false(text->failed);
    struct json_object *root = parsed(text->bytes);
    fw_text_release(text);
    return root;
}

/* ---- figures ---- */

/* The rows of one thing, their labels beside them: "size: 2 ha\n". */
static char *rows_of(struct fw_text *figures)
{
    static char said[2000];
    struct fw_text heads = {0};
    fw_text_add(&heads, "{");
    fw_map_heads(&heads);
    fw_text_add(&heads, "}");
    struct json_object *labels = json_of(&heads), *rows = json_of(figures);
    size_t length = 0;
    said[0] = 0;
    for (size_t i = 0; i < json_object_array_length(rows); i++) {
        struct json_object *row = at(rows, i);
        assert_int_equal(json_object_array_length(row), 2);
        length += (size_t)snprintf(
            said + length, sizeof said - length, "%s: %s\n",
            json_object_get_string(at(of(labels, "heads"),
                                      (size_t)json_object_get_int(at(row, 0)))),
            json_object_get_string(at(row, 1)));
    }
    json_object_put(labels);
    json_object_put(rows);
    return said;
}

typedef void telling(struct fw_text *json, const struct fw_plan *plan,
                     size_t index);

static void tells(telling *tell, const struct hand *hand, size_t index,
                  const char *wanted)
{
    struct fw_text figures = {0};
    tell(&figures, &hand->plan, index);
    assert_string_equal(rows_of(&figures), wanted);
}

/* 20577 is Monday, 4 May 2026. */
static void a_paddock_is_told_of_row_by_row(void **state)
{
    (void)state;
    struct hand hand[1];
    take_in_hand(hand);
    hand->paddocks[0].narrow_m = 12.25;
    hand->paddocks[0].usable_kg = 131.5;
    tells(fw_map_paddock_figures, hand, 0,
          "size: 0.16 ha\n"
          "flock there: Mon 4 May to Tue 5 May 2026\n"
          "feeds them: 1.5 days\n"
          "they may take: 132 kg\n"
          "they need: 130 kg\n"
          "water: water A\n"
          "walk to water: 31 m on average, 62 m at most; climbs 4 m there and "
          "3 m "
          "back\n"
          "too narrow at: 12 m\n"
          "kept back for: heat\n"
          "field: Low \"meadow\"\n");
    hand->plan.units = FW_US; /* 0.161 x 2.471, / 0.4536, / 0.3048 */
    tells(fw_map_paddock_figures, hand, 0,
          "size: 0.4 acres\n"
          "flock there: Mon 4 May to Tue 5 May 2026\n"
          "feeds them: 1.5 days\n"
          "they may take: 290 lb\n"
          "they need: 287 lb\n"
          "water: water A\n"
          "walk to water: 102 ft on average, 203 ft at most; climbs 14 ft "
          "there and "
          "9 ft back\n"
          "too narrow at: 40 ft\n"
          "kept back for: heat\n"
          "field: Low \"meadow\"\n");
}

/* One that has neither, one of two stays, one that was grazed before; a plan of
 * one field has no need of its name. */
static void what_a_paddock_has_not_is_not_told(void **state)
{
    (void)state;
    struct hand hand[1];
    take_in_hand(hand);
    hand->paddocks[1].stay_days = 1;
    hand->paddocks[1].area_ha = 2;
    hand->paddocks[1].usable_kg = 80;
    hand->paddocks[1].demand_kg = 81;
    hand->plan.field_count = 1;
    hand->stays[2] = (struct fw_time_stay){1, 20585, 20586, 1, (double)NAN, 1};
    tells(fw_map_paddock_figures, hand, 1,
          "size: 2 ha\n"
          "flock there: Tue 5 May to Thu 7 May 2026; Tue 12 May to Wed 13 May "
          "2026\n"
          "feeds them: 1 day\n"
          "they may take: 80 kg\n"
          "they need: 81 kg\n");
    hand->plan.field_count = 2;
    hand->paddocks[1].field = FW_NONE;
    hand->paddocks[1].walk_known = true;
    hand->paddocks[1].walk_fed_m = 4.75;
    hand->paddocks[1].walk_max_m = 9.75;
    hand->plan.time.stay_count = 2;
    tells(fw_map_paddock_figures, hand, 1,
          "size: 2 ha\n"
          "flock there: Tue 5 May to Thu 7 May 2026\n"
          "feeds them: 1 day\n"
          "they may take: 80 kg\n"
          "they need: 81 kg\n"
          "walk to water: 4.8 m on average, 9.8 m at most\n");
    /* The first paddock of the field has no stay: it was grazed before. */
    hand->stays[0].cell = 1;
    hand->plan.time.stay_count = 1;
    hand->paddocks[0].water = FW_NONE;
    hand->paddocks[0].walk_known = false;
    hand->paddocks[0].keep[0] = 0;
    hand->paddocks[0].usable_kg = 80;
    tells(fw_map_paddock_figures, hand, 0,
          "size: 0.16 ha\n"
          "flock there: grazed before\n"
          "feeds them: 1.5 days\n"
          "they may take: 80 kg\n"
          "they need: 130 kg\n"
          "field: Low \"meadow\"\n");
}

static void a_lane_says_what_it_is_for(void **state)
{
    (void)state;
    struct hand hand[1];
    take_in_hand(hand);
    tells(fw_map_lane_figures, hand, 0,
          "what it is: a way for stock, not grazed\n"
          "size: 0.01 ha\n"
          "field: Low \"meadow\"\n");
    tells(fw_map_lane_figures, hand, 1,
          "what it is: ground about the water, not grazed\n"
          "size: 0.04 ha\n"
          "field: Low \"meadow\"\n");
}

/* Volts are never said higher than they are. Paces are those of the plan. */
static void a_line_is_told_of_row_by_row(void **state)
{
    (void)state;
    struct hand hand[1];
    take_in_hand(hand);
    hand->fences[0].open_v = 4399;
    hand->fences[0].touched_v = 2199;
    struct fw_text figures = {0};
    fw_map_fence_figures(&figures, &hand->plan, 0);
    const char *said = rows_of(&figures);
    static const char begins[] = "what it is: a moved fence\n"
                                 "stands: from Mon 4 May to Fri 8 May 2026\n"
                                 "wire: 167 m\n"
                                 "posts: 10\n"
                                 "reels: 3\n"
                                 "end A: ";
    assert_memory_equal(said, begins, strlen(begins));
    const char *end_b = strstr(said, "\nend B: ");
    assert_non_null(end_b);
    has_words(said, "60 paces");
    assert_true(strstr(said, "60 paces") < end_b);
    has_words(end_b, "75 paces");
    has_words(end_b, "\nlength: 81 m\n"
                     "tester, least: 4.3 kV\n"
                     "a sheep gets, least: 2.1 kV\n"
                     "field: Low \"meadow\"\n");
    hand->fences[0].open_v = 0;
    fw_map_fence_figures(&figures, &hand->plan, 0);
    has_words(rows_of(&figures), "\nlength: 81 m\n"
                                 "tester, least: nothing feeds it\n"
                                 "field: Low \"meadow\"\n");
    /* Ends that nobody can pace are not told. */
    tells(fw_map_fence_figures, hand, 4,
          "what it is: a moved fence\n"
          "stands: from before to Sun 10 May 2026\n"
          "wire: 151 m\n"
          "posts: 9\n"
          "reels: 7\n"
          "length: 71 m\n"
          "field: Low \"meadow\"\n");
    hand->fences[4].wire_m = 0;
    hand->fences[4].role = FW_FENCE_LANE;
    tells(fw_map_fence_figures, hand, 4,
          "what it is: a lane's fence\n"
          "stands: from before to Sun 10 May 2026\n"
          "posts: 9\n"
          "reels: 7\n"
          "length: 71 m\n"
          "field: Low \"meadow\"\n");
    hand->fences[4].wire_m = 0.5;
    hand->fences[4].role = FW_FENCE_STANDING;
    tells(fw_map_fence_figures, hand, 4,
          "what it is: a block line\n"
          "stands: from before to Sun 10 May 2026\n"
          "wire: 0.5 m\n"
          "posts: 9\n"
          "reels: 7\n"
          "length: 71 m\n"
          "field: Low \"meadow\"\n");
}

/* Set for good; set twice, never taken down the second time. */
static void a_line_says_when_it_stands(void **state)
{
    (void)state;
    struct hand hand[1];
    struct fw_standing twice[] = {{0, {0, 0}, {1, 9}},
                                  {2, {0, 0}, {2, 21}},
                                  {0, {2, 16}, {FW_NONE, FW_NONE}}};
    struct fw_text figures = {0};
    take_in_hand(hand);
    fw_map_fence_figures(&figures, &hand->plan, 3);
    has_words(rows_of(&figures), "\nstands: from Tue 5 May 2026 on\n");
    hand->plan.time.standings = twice;
    hand->plan.time.standing_count = 3;
    fw_map_fence_figures(&figures, &hand->plan, 0);
    has_words(rows_of(&figures), "\nstands: from Mon 4 May to Tue 5 May 2026; "
                                 "from Fri 8 May 2026 on\n");
    /* One that never stands has no such row. */
    fw_map_fence_figures(&figures, &hand->plan, 3);
    has_not(rows_of(&figures), "stands:");
}

static void a_side_says_what_it_holds(void **state)
{
    (void)state;
    static const char *const holds[] = {
        [FW_HOLDS_UNTOLD] = "nobody said whether it holds sheep",
        [FW_HOLDS_NOTHING] = "nothing",
        [FW_HOLDS_SHEEP] = "grown sheep, not lambs",
        [FW_HOLDS_LAMBS] = "sheep and lambs"};
    static const char *const hot[] = {
        [FW_UNTOLD] = "nobody said", [FW_NO] = "no", [FW_YES] = "yes"};
    struct hand hand[1];
    take_in_hand(hand);
    for (int h = 0; h < 4; h++)
        for (int y = 0; y < 3; y++)
            for (size_t s = 0; s < 2; s++) { /* numbers 8, and none */
                char wanted[300];
                hand->fences[1].side = s;
                hand->sides[s] =
                    (struct fw_farm_side){(enum fw_holds)h, (enum fw_answer)y};
                snprintf(wanted, sizeof wanted,
                         "what it is: a side of the boundary%s\nholds: "
                         "%s\nlive: %s\nlength: 101 m\nfield: Low "
                         "\"meadow\"\n",
                         s ? "" : ", side 8", holds[h], hot[y]);
                tells(fw_map_fence_figures, hand, 1, wanted);
            }
    hand->fences[1].side = FW_NONE;
    tells(fw_map_fence_figures, hand, 1,
          "what it is: the edge of ground that is cut out\n"
          "length: 101 m\n"
          "field: Low \"meadow\"\n");
}

static void a_gate_says_where_it_leads(void **state)
{
    (void)state;
    struct hand hand[1];
    take_in_hand(hand);
    tells(fw_map_gate_figures, hand, 0,
          "what it is: a gate\n"
          "width: 3.5 m\n"
          "field: Low \"meadow\"\n");
    hand->gates[0].width_m = 0;
    tells(fw_map_gate_figures, hand, 0,
          "what it is: a gate\n"
          "field: Low \"meadow\"\n");
    tells(fw_map_gate_figures, hand, 2,
          "what it is: an opening at end A\n"
          "width: 5.3 m\n"
          "first used: Tue 5 May 2026\n"
          "leads: from A01 into A02\n"
          "what: it is tight: a few at a time\n"
          "field: Low \"meadow\"\n");
    tells(fw_map_gate_figures, hand, 3,
          "what it is: an opening at handles\n"
          "width: 4.8 m\n"
          "first used: Fri 8 May 2026\n"
          "leads: from A02\n"
          "field: Low \"meadow\"\n");
    hand->gates[4].from = FW_NONE;
    hand->gates[4].width_m = 0.75;
    tells(fw_map_gate_figures, hand, 4,
          "what it is: an opening at end B\n"
          "width: 0.8 m\n"
          "first used: Sun 10 May 2026\n"
          "leads: into B01\n"
          "what: it is tight: a few at a time\n"
          "field: Low \"meadow\"\n");
}

static void water_says_on_which_days(void **state)
{
    (void)state;
    struct hand hand[1];
    take_in_hand(hand);
    tells(fw_map_water_figures, hand, 0,
          "what it is: trough\n"
          "days: Mon 4 May to Tue 5 May 2026\n"
          "a day: 124 L\n"
          "on a hot day: 235 L\n"
          "field: Low \"meadow\"\n");
    tells(fw_map_water_figures, hand, 1,
          "what it is: fixed\n"
          "a day: 456 L\n"
          "on a hot day: 568 L\n"
          "field: Low \"meadow\"\n");
    hand->waters[0].to = hand->waters[0].from; /* on none */
    tells(fw_map_water_figures, hand, 0,
          "what it is: trough\n"
          "a day: 124 L\n"
          "on a hot day: 235 L\n"
          "field: Low \"meadow\"\n");
}

static void the_energizer_has_its_joules_and_rods(void **state)
{
    (void)state;
    struct hand hand[1];
    struct fw_text figures = {0};
    take_in_hand(hand);
    fw_map_energizer_figures(&figures, &hand->plan);
    assert_string_equal(rows_of(&figures), "what it is: the energizer\n"
                                           "stored energy: 1.75 J\n"
                                           "earth rods: 4\n");
    hand->plan.totals.energizer_j = 0;
    fw_map_energizer_figures(&figures, &hand->plan);
    assert_string_equal(rows_of(&figures), "what it is: the energizer\n"
                                           "earth rods: 4\n");
    hand->plan.totals.energizer_j = 0.5;
    fw_map_energizer_figures(&figures, &hand->plan);
    has_words(rows_of(&figures), "stored energy: 0.5 J\n");
}

static void a_finding_says_how_bad_and_how_far(void **state)
{
    (void)state;
    struct hand hand[1];
    take_in_hand(hand);
    hand->findings[0].distance_m = 7.25;
    tells(fw_map_finding_figures, hand, 0,
          "how bad: danger\n"
          "what: keep away\n"
          "distance: 7.3 m\n"
          "source: somebody's code\n");
    hand->findings[1].source[0] = 0;
    tells(fw_map_finding_figures, hand, 1,
          "how bad: warning\n"
          "what: signs\n");
    hand->findings[1].level = FW_LEVEL_NOTE;
    tells(fw_map_finding_figures, hand, 1,
          "how bad: note\n"
          "what: signs\n");
}

/* ---- ground ---- */

static struct json_object *ground_of(const struct fw_plan *plan)
{
    struct fw_text json = {0};
    fw_text_add(&json, "{");
    fw_map_ground(&json, plan);
    fw_text_add(&json, "}");
    return json_of(&json);
}

static void is_list(struct json_object *from, const char *key,
                    const char *wanted)
{
    assert_string_equal(
        json_object_to_json_string_ext(of(from, key), JSON_C_TO_STRING_PLAIN),
        wanted);
}

static bool lacks(struct json_object *from, const char *key)
{
    return !json_object_object_get_ex(from, key, NULL);
}

/* The plan by hand on thousandths of a degree, but for its last vertex. */
struct ground {
    struct hand hand;
    struct fw_vertex vertices[5];
};

static void take_ground(struct ground *ground, double first_deg,
                        double last_deg)
{
    take_in_hand(&ground->hand);
    memcpy(ground->vertices, vertices, sizeof vertices);
    for (size_t i = 0; i < 5; i++)
        ground->vertices[i].lonlat =
            (struct fw_lonlat){i < 4 ? first_deg + 1e-3 * (double)i : last_deg,
                               46 - 1e-3 * (double)(i * i)};
    for (size_t f = 0; f < 3; f++)
        ground->hand.fields[f].vertices = ground->vertices;
}

static void fields_have_their_points_on_from_the_first(void **state)
{
    (void)state;
    static const struct {
        double first_deg, last_deg;
        const char *points; /* 1e8 a degree */
    } rows[] = {
        {179.9955, -179.9955,
         "[0,0,100000,-100000,200000,-400000,300000,-900000,900000,-1600000]"},
        {-179.9985, 179.9985,
         "[0,0,100000,-100000,200000,-400000,300000,-900000,-300000,-1600000]"},
        {10, 10.5,
         "[0,0,100000,-100000,200000,-400000,300000,-900000,50000000,"
         "-1600000]"},
        {10, -169.5, /* half way round, less and more */
         "[0,0,100000,-100000,200000,-400000,300000,-900000,-17950000000,"
         "-1600000]"},
        {-10, 169.5,
         "[0,0,100000,-100000,200000,-400000,300000,-900000,17950000000,"
         "-1600000]"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct ground ground;
        take_ground(&ground, rows[i].first_deg, rows[i].last_deg);
        struct json_object *json = ground_of(&ground.hand.plan);
        struct json_object *list = of(json, "fields");
        assert_int_equal(json_object_array_length(list), 3);
        struct json_object *field = at(list, 0);
        assert_near(json_object_get_double(at(of(field, "from"), 0)),
                    rows[i].first_deg, 1e-12);
        assert_near(json_object_get_double(at(of(field, "from"), 1)), 46, 0);
        is_list(field, "points", rows[i].points);
        json_object_put(json);
    }
}

/* Corners by the numbers that people call them by, and the vertex of each. */
static void fields_have_their_corners_and_rings(void **state)
{
    (void)state;
    struct ground ground;
    take_ground(&ground, 10, 10.5);
    ground.hand.fields[1].vertex_count = 0; /* one that has no points at all */
    ground.hand.fields[1].rings.piece_count = 0;
    struct json_object *json = ground_of(&ground.hand.plan);
    struct json_object *list = of(json, "fields");
    is_text(at(list, 0), "name", "Low \"meadow\"");
    is_list(at(list, 0), "corners", "[[7,3],[9,1]]");
    is_list(at(list, 0), "rings", "[[[0,1,2,3],[4,3,2]]]");
    assert_true(lacks(at(list, 0), "no_plan"));
    is_list(at(list, 1), "corners", "[]");
    is_list(at(list, 1), "points", "[]");
    is_list(at(list, 1), "rings", "[]");
    is_list(at(list, 1), "from", "[0,0]");
    is_text(at(list, 2), "name", "Top");
    is_text(at(list, 2), "no_plan", "the grass is eaten");
    json_object_put(json);
}

static void paddocks_come_first_and_lanes_after_them(void **state)
{
    (void)state;
    struct ground ground;
    take_ground(&ground, 10, 10.5);
    struct json_object *json = ground_of(&ground.hand.plan);
    struct json_object *cells = of(json, "cells");
    static const struct {
        const char *id, *rings;
        int field;
        bool lane;
    } rows[] = {
        {"A01", "[[[0,1,2,3]]]", 0, false},
        {"A02", "[[[0,1,2,3]],[[4,3,2]]]", 0, false},
        {"B01", "[[[0,1,2,3],[4,3,2]]]", 1, false},
        {"A-lane-1", "[[[0,1,2,3]]]", 0, true},
        {"A-apron-1", "[[[0,1,2,3]],[[4,3,2]]]", 0, true},
    };
    assert_int_equal(json_object_array_length(cells), 5);
    for (size_t i = 0; i < 5; i++) {
        is_text(at(cells, i), "id", rows[i].id);
        is_number(at(cells, i), "field", rows[i].field);
        is_list(at(cells, i), "rings", rows[i].rings);
        assert_true(lacks(at(cells, i), "lane") != rows[i].lane);
        assert_true(json_object_array_length(of(at(cells, i), "figures")) > 1);
    }
    json_object_put(json);
    /* And where there are no paddocks. */
    ground.hand.plan.paddock_count = 0;
    ground.hand.plan.gate_count = 0;
    json = ground_of(&ground.hand.plan);
    cells = of(json, "cells");
    assert_int_equal(json_object_array_length(cells), 2);
    is_text(at(cells, 0), "id", "A-lane-1");
    json_object_put(json);
}

static void fences_have_their_line_and_posts(void **state)
{
    (void)state;
    struct ground ground;
    take_ground(&ground, 10, 10.5);
    for (size_t i = 0; i < 2; i++)
        ground.hand.posts[i].place.lonlat =
            (struct fw_lonlat){10.001 + 1e-3 * (double)i, 45.75};
    struct json_object *json = ground_of(&ground.hand.plan);
    struct json_object *list = of(json, "fences");
    static const struct {
        const char *id, *role, *line;
        int field;
    } rows[] = {
        {"A01-02", "moved", "[1,2,4]", 0},
        {"A-side-2", "perimeter", "[1,2]", 0},
        {"A-line-1", "standing", "[4,0]", 0},
        {"A-side-lane", "lane", "[0,3]", 0},
        {"B-front", "moved", "[0,3]", 1},
    };
    assert_int_equal(json_object_array_length(list), 5);
    for (size_t i = 0; i < 5; i++) {
        is_text(at(list, i), "id", rows[i].id);
        is_text(at(list, i), "role", rows[i].role);
        is_number(at(list, i), "field", rows[i].field);
        is_list(at(list, i), "line", rows[i].line);
        assert_true(lacks(at(list, i), "posts") == (i > 0));
    }
    is_list(at(list, 0), "posts", "[100000,-25000000,200000,-25000000]");
    json_object_put(json);
}

/* Gates and openings, water, energizer and vehicle, dangers and no notes; what
 * has no place is left out. */
static void places_are_those_that_there_are(void **state)
{
    (void)state;
    struct ground ground;
    take_ground(&ground, 10, 10.5);
    struct hand *hand = &ground.hand;
    hand->gates[1].place.given = false;
    hand->findings[1].place = hand->findings[0].place;
    hand->findings[1].level = FW_LEVEL_NOTE;
    hand->gates[0].place.lonlat = (struct fw_lonlat){10.25, 46.125};
    hand->plan.energizer_place.lonlat = (struct fw_lonlat){9.75, 46.5};
    struct json_object *json = ground_of(&hand->plan);
    struct json_object *places = of(json, "places");
    static const struct {
        const char *kind, *id;
        int gate;
        bool days;
    } rows[] = {
        {"gate", "gate A", 0, false},
        {"opening", "opening A02", 2, false},
        {"opening", "way out A01", 3, false},
        {"opening", "opening B01", 4, false},
        {"water", "trough A01", -1, true},
        {"water", "water A", -1, false},
        {"energizer", "energizer", -1, false},
        {"park", "vehicle", -1, false},
        {"danger", "A01-02, power line", -1, false},
    };
    const size_t count = sizeof rows / sizeof *rows;
    assert_int_equal(json_object_array_length(places), count);
    for (size_t i = 0; i < count; i++) {
        is_text(at(places, i), "kind", rows[i].kind);
        is_text(at(places, i), "id", rows[i].id);
        is_number(at(places, i), "field", i == 3 ? 1 : 0);
        assert_true(lacks(at(places, i), "gate") == (rows[i].gate < 0));
        if (rows[i].gate >= 0)
            is_number(at(places, i), "gate", rows[i].gate);
        assert_true(lacks(at(places, i), "days") != rows[i].days);
        assert_true((json_object_array_length(of(at(places, i), "figures")) >
                     0) == (i != 7));
    }
    is_list(at(places, 0), "at", "[25000000,12500000]");
    is_list(at(places, 6), "at", "[-25000000,50000000]");
    is_list(at(places, 4), "days", "[0,1]");
    json_object_put(json);
    hand->waters[0].to = FW_NO_DAY; /* half a range is none */
    json = ground_of(&hand->plan);
    assert_true(lacks(at(of(json, "places"), 4), "days"));
    json_object_put(json);
    hand->plan.field_count = 0; /* nothing to place them by */
    json = ground_of(&hand->plan);
    assert_int_equal(json_object_array_length(of(json, "places")), 0);
    json_object_put(json);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_paddock_is_told_of_row_by_row),
        cmocka_unit_test(what_a_paddock_has_not_is_not_told),
        cmocka_unit_test(a_lane_says_what_it_is_for),
        cmocka_unit_test(a_line_is_told_of_row_by_row),
        cmocka_unit_test(a_line_says_when_it_stands),
        cmocka_unit_test(a_side_says_what_it_holds),
        cmocka_unit_test(a_gate_says_where_it_leads),
        cmocka_unit_test(water_says_on_which_days),
        cmocka_unit_test(the_energizer_has_its_joules_and_rods),
        cmocka_unit_test(a_finding_says_how_bad_and_how_far),
        cmocka_unit_test(fields_have_their_points_on_from_the_first),
        cmocka_unit_test(fields_have_their_corners_and_rings),
        cmocka_unit_test(paddocks_come_first_and_lanes_after_them),
        cmocka_unit_test(fences_have_their_line_and_posts),
        cmocka_unit_test(places_are_those_that_there_are),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
