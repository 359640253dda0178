/* Fences of a plan made before, as a farm file names them: what is the name of
 * one, which one is meant, how far along it, and which can be a front. The
 * field is 100 m by 80 m, with corner 1 in the north-west. */
#include "forms_maps.h"
#include "plan_on_paper.h"

#define PLACE "fields: {source: field.geojson}\nearlier: before.json\n"

static void refuses(const char *text, const char *piece)
{
    struct fw_error err = {0};
    struct fw_farm *farm = farm_of(text, true, &err);
    if (farm || !strstr(err.text, piece))
        fail_msg("\"%s\"; expected \"%s\" of:\n%s", err.text, piece, text);
}

/* ---- names ---- */

static void names_of_fences_are_told_from_other_places(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        bool is_fence;
    } rows[] = {
        {"A01-02", true},      {"A07-08.2", true},    {"AB12-13", true},
        {"Z99-100.10", true},  {"B-line-1", true},    {"A-lane-3", true},
        {"A-side-2", true},    {"A-edge-4", true},    {"A-inner-1", true},
        {"AC-line-12", true},  {"A-line-1.2", true},  {"A01-02@5m", true},
        {"A-line-1@5m", true}, {"A07-08.2@5m", true}, {"a01-02", false},
        {"07-08", false},      {"A01", false},        {"A01-", false},
        {"A01-02x", false},    {"A-line-", false},    {"A01-line-2", false},
        {"A-lines-2", false},  {"A-oak-1", false},    {"Oak-2", false},
        {"A01_02", false},     {"A01-02.x", false},   {"A01-02 x", false},
        {"A-line-1x", false},  {"A-", false},         {"-01", false},
        {"A01-02.1x", false},  {"A1 gate", false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[200], piece[120];
        snprintf(text, sizeof text,
                 "fields: {source: field.geojson}\npark: %s\n", rows[i].name);
        snprintf(piece, sizeof piece,
                 rows[i].is_fence ? "park: %.*s is the name of a fence; say"
                                  : "park: \"%.*s\" is no place",
                 rows[i].is_fence ? (int)strcspn(rows[i].name, "@") : 60,
                 rows[i].name);
        refuses(text, piece);
    }
}

static size_t same_letters(const char *a, const char *b)
{
    size_t n = 0;
    for (; a[n] && a[n] == b[n]; n++)
        ;
    return n;
}

/* Up to four that share the most letters with what was written. */
static void a_name_that_is_none_gets_those_like_it(void **state)
{
    (void)state;
    static const char *const wrong[] = {"A01-99", "A-line-9", "A1-2",
                                        "B01-02", "A-side-9", "A01-0",
                                        "A10-1",  "A-7"};
    struct fw_plan *before = plan_on_paper("strips", 40);
    keep_plan(before, "before.json");
    for (size_t w = 0; w < sizeof wrong / sizeof wrong[0]; w++) {
        char text[200], piece[300];
        size_t most = 0, shown = 0;
        for (size_t i = 0; i < before->fence_count; i++) {
            const size_t n = same_letters(before->fences[i].id, wrong[w]);
            if (n > most)
                most = n;
        }
        int length = snprintf(piece, sizeof piece,
                              "park: before.json has no fence %s; expected "
                              "such as ",
                              wrong[w]);
        for (size_t i = 0; i < before->fence_count && shown < 4; i++)
            if (same_letters(before->fences[i].id, wrong[w]) == most)
                length +=
                    snprintf(piece + length, sizeof piece - (size_t)length,
                             "%s%s", shown++ ? ", " : "", before->fences[i].id);
        snprintf(text, sizeof text, PLACE "park: %s@5m\n", wrong[w]);
        struct fw_error err = {0};
        assert_null(farm_of(text, true, &err));
        assert_non_null(strstr(err.text, piece));
        /* and no more of them */
        assert_string_equal(strstr(err.text, piece) + strlen(piece), "");
    }
    fw_plan_free(before);
}

/* ---- along a fence ---- */

static void a_place_is_on_the_fence(void **state)
{
    (void)state;
    struct fw_plan *before = plan_on_paper("strips", 40);
    keep_plan(before, "before.json");
    const struct fw_plan_fence *fence = fence_of(before, "A01-02");
    const struct fw_vertex *vertices = before->fields[0].vertices;
    const struct fw_lonlat a = vertices[fence->line[0]].lonlat;
    const struct fw_lonlat b = vertices[fence->line[1]].lonlat;
    static const struct {
        double beyond_m;
        bool taken;
    } rows[] = {{-40, true}, {0, true}, {0.4, true}, {0.6, false}, {9, false}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[200], piece[200];
        const double along_m = fence->length_m + rows[i].beyond_m;
        const double share = fmin(1, along_m / fence->length_m);
        snprintf(text, sizeof text, PLACE "park: A01-02@%.6fm\n", along_m);
        snprintf(piece, sizeof piece,
                 "A01-02 is %.1f m long from its end A; %.1f m is beyond its "
                 "end",
                 fence->length_m, along_m);
        if (!rows[i].taken) {
            refuses(text, piece);
            continue;
        }
        struct fw_farm *farm = good_farm(text);
        const struct fw_lonlat at = farm->fields[0].park.lonlat;
        assert_near(at.lon_deg, a.lon_deg + share * (b.lon_deg - a.lon_deg),
                    1e-8);
        assert_near(at.lat_deg, a.lat_deg + share * (b.lat_deg - a.lat_deg),
                    1e-8);
        fw_farm_free(farm);
    }
    char piece[200];
    snprintf(piece, sizeof piece,
             "A01-02 is a whole fence; expected how far along it from its end "
             "A, such as A01-02@%dm",
             (int)(fence->length_m / 2));
    refuses(PLACE "park: A01-02\n", piece);
    refuses(PLACE "park: A01-02@far\n", "\"far\" is not a length");
    fw_plan_free(before);
}

/* 40 m to the east and 30 m to the north, with one corner given twice at the
 * beginning and one in the middle. Lengths on the earth are a tenth more. */
static void a_place_is_found_round_bends(void **state)
{
    (void)state;
    static const struct fw_point bends[] = {
        {-20, 0}, {-20, 0}, {20, 0}, {20, 0}, {20, 30}};
    static const struct {
        double along_m;
        struct fw_point at;
    } rows[] = {{0, {-20, 0}},      {11, {-10, 0}}, {43.9999, {20, 0}},
                {44.0001, {20, 0}}, {55, {20, 10}}, {77, {20, 30}},
                {77.4, {20, 30}}};
    struct fw_plan *before = plan_on_paper("strips", 40);
    bend_fence(before, "A02-03", bends, 5, 77);
    keep_plan(before, "before.json");
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[200];
        snprintf(text, sizeof text, PLACE "park: A02-03@%gm\n",
                 rows[i].along_m);
        struct fw_farm *farm = good_farm(text);
        const struct fw_lonlat want =
            fw_plane_inverse(&before->fields[0].plane, rows[i].at);
        const struct fw_lonlat at = farm->fields[0].park.lonlat;
        assert_near(at.lon_deg, want.lon_deg, 1e-8);
        assert_near(at.lat_deg, want.lat_deg, 1e-8);
        fw_farm_free(farm);
    }
    fw_plan_free(before);
}

/* ---- several fields ---- */

static void a_fence_is_of_one_field(void **state)
{
    (void)state;
    const struct drawn two[] = {
        {"\"name\":\"North\"", BOX(0, 0, 100, 80), 0},
        {"\"name\":\"South\"", BOX(120, 0, 220, 80), 0}};
    draw_map("two.geojson", two, 2);
    struct fw_plan *before = plan_with(
        "fields: {source: two.geojson, each: [{field: North, gate: corner:1, "
        "water: corner:1}, {field: South, gate: corner:1, water: corner:1}]}\n"
        "start: 2027-06-07\n",
        "strips", 40);
    keep_plan(before, "before.json");
    struct fw_farm *farm = good_farm("fields: {source: two.geojson}\n"
                                     "earlier: before.json\n"
                                     "water: B01-02@20m\n");
    assert_false(farm->fields[0].water.given);
    assert_true(farm->fields[1].water.given);
    fw_farm_free(farm);
    farm = good_farm("fields: {source: two.geojson}\nearlier: before.json\n"
                     "water: A01-02@20m\n");
    assert_true(farm->fields[0].water.given);
    assert_false(farm->fields[1].water.given);
    fw_farm_free(farm);
    refuses("fields: {source: two.geojson, each: [{field: North, water: "
            "B01-02@20m}]}\nearlier: before.json\n",
            "fields.each[0].water: B01-02 is a fence of field \"South\"; "
            "expected one of \"North\"");
    refuses("fields: {source: two.geojson, only: [North]}\n"
            "earlier: before.json\nwater: B01-02@20m\n",
            "water: B01-02 is a fence of field \"South\"");
    refuses("fields: {source: two.geojson, each: [{field: North, front: "
            "B01-02}]}\nearlier: before.json\n",
            "B01-02 is a fence of field \"South\"; expected one of \"North\"");
    /* South would be grazed after North. */
    refuses("fields: {source: two.geojson, each: [{field: North}, {field: "
            "South, front: B01-02}]}\nearlier: before.json\n",
            "front: the flock stands at B01-02 in field \"South\", and "
            "\"North\" would be grazed before the rest of it; name \"South\" "
            "first under fields.each, or plan it alone (--only)");
    /* On a fence of none of those that are there. */
    const struct drawn others[] = {
        {"\"name\":\"East\"", BOX(0, 0, 100, 80), 0},
        {"\"name\":\"West\"", BOX(120, 0, 220, 80), 0}};
    draw_map("others.geojson", others, 2);
    refuses("fields: {source: others.geojson}\nearlier: before.json\n"
            "water: B01-02@20m\n",
            "water: B01-02 is a fence of field \"South\"; expected one of "
            "\"East\"");
    fw_plan_free(before);
}

/* ---- which fences can be fronts ---- */

/* Of those that go with the flock and have ground on both sides, the one that
 * stands nearest in the list to what was meant. */
static const char *near_front(const struct fw_plan *plan, size_t meant,
                              size_t first_left)
{
    const char *best = NULL;
    long least = 1000000;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        const long away = labs((long)i - (long)meant);
        if (fence->role != FW_FENCE_MOVED || fence->from + 1 < first_left ||
            fence->from + 1 >= plan->paddock_count)
            continue;
        if (away < least) {
            best = fence->id;
            least = away;
        }
    }
    return best;
}

static void try_front(const struct fw_plan *plan, size_t i, size_t first_left,
                      const char *why)
{
    char text[200], piece[300];
    const bool side = plan->fences[i].role == FW_FENCE_PERIMETER;
    snprintf(text, sizeof text, PLACE "front: %s\n", plan->fences[i].id);
    snprintf(piece, sizeof piece, "front: %s %s; expected such as %s",
             plan->fences[i].id, why,
             near_front(plan, side ? 0 : i, first_left));
    struct fw_error err = {0};
    struct fw_farm *farm = farm_of(text, true, &err);
    if (farm || !strstr(err.text, piece) ||
        strcmp(strstr(err.text, piece), piece) != 0)
        fail_msg("\"%s\"; expected \"%s\"", err.text, piece);
}

static void is_front(const struct fw_plan *plan, size_t i)
{
    char text[200];
    snprintf(text, sizeof text, PLACE "front: %s\n", plan->fences[i].id);
    struct fw_farm *farm = good_farm(text);
    assert_true(farm->fields[0].front.named);
    assert_int_equal(farm->fields[0].front.fence, i);
    assert_string_equal(farm->fields[0].front.text, plan->fences[i].id);
    fw_farm_free(farm);
}

static const char *why_not(const struct fw_plan *plan, size_t i,
                           size_t first_left)
{
    const struct fw_plan_fence *fence = &plan->fences[i];
    return fence->role == FW_FENCE_PERIMETER
               ? "is a side of the boundary and no front, which goes with the "
                 "flock"
           : fence->role != FW_FENCE_MOVED
               ? "stands for many moves and is no front, which goes with the "
                 "flock"
           : fence->from + 1 < first_left
               ? "lies in what was grazed before that plan began"
           : fence->from + 1 >= plan->paddock_count
               ? "has nothing left beyond it to graze"
               : NULL;
}

static void try_all(const struct fw_plan *plan, size_t first_left)
{
    keep_plan(plan, "before.json");
    for (size_t i = 0; i < plan->fence_count; i++) {
        const char *why = why_not(plan, i, first_left);
        if (why)
            try_front(plan, i, first_left, why);
        else
            is_front(plan, i);
    }
}

static void a_front_goes_with_the_flock(void **state)
{
    (void)state;
    static const char *const layouts[] = {"strips", "blocks", "lane"};
    for (size_t l = 0; l < 3; l++) {
        struct fw_plan *before = plan_on_paper(layouts[l], 40);
        size_t moved = 0, lines = 0;
        for (size_t i = 0; i < before->fence_count; i++) {
            moved += before->fences[i].role == FW_FENCE_MOVED;
            lines += before->fences[i].role != FW_FENCE_MOVED &&
                     before->fences[i].role != FW_FENCE_PERIMETER;
        }
        assert_true(moved > 2 && (lines > 0) == (l > 0));
        try_all(before, 0);
        fw_plan_free(before);
    }
}

/* Begun at the third paddock, and with one fence that has only the last before
 * it. */
static void a_front_has_ground_on_both_sides(void **state)
{
    (void)state;
    struct fw_plan *before = plan_on_paper("strips", 40);
    keep_plan(before, "first.json");
    struct fw_plan *rest = plan_with(
        "fields: {source: field.geojson}\nearlier: first.json\n"
        "front: A03-04\nstart: 2027-06-20\ngate: corner:1\nwater: corner:1\n",
        "strips", 40);
    try_all(rest, 3);
    fw_plan_free(rest);
    for (size_t i = 0; i < before->fence_count; i++)
        if (!strcmp(before->fences[i].id, "A04-05"))
            before->fences[i].from = before->paddock_count - 1;
    try_all(before, 0);
    fw_plan_free(before);
}

/* ---- the same ground ---- */

struct ground {
    const char *first, *then; /* corners of the field, in metres */
    const char *off;          /* where it is not the same; "": it is */
    double room_m;            /* more where any corner will do */
};

static void put_ground(const char *rings)
{
    char text[2048];
    size_t length = (size_t)snprintf(text, sizeof text, "[");
    bool open = false;
    for (const char *at = rings; *at;) {
        char *end;
        const double x = strtod(at, &end), y = strtod(end + 1, &end);
        length += (size_t)snprintf(text + length, sizeof text - length,
                                   "%s[%.10f,%.10f]", open ? "," : "", east(x),
                                   north(y));
        open = true;
        at = end + strspn(end, " ");
        if (*at == '/') {
            length +=
                (size_t)snprintf(text + length, sizeof text - length, "],[");
            open = false;
            at += 1 + strspn(at + 1, " ");
        }
    }
    snprintf(text + length, sizeof text - length, "]");
    char map[4096];
    snprintf(map, sizeof map,
             "{\"type\":\"FeatureCollection\",\"features\":[{\"type\":"
             "\"Feature\",\"properties\":{\"name\":\"Long Bottom\"},"
             "\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[%s]}}]}",
             text);
    put_text("field.geojson", map);
}

#define BOXED "0,0 100,0 100,80 0,80 0,0"
#define BUMP(y) "0,0 100,0 100,80 57.5,80 56," y " 54.5,80 0,80 0,0"
#define POND_A "/40,40 46,40 46,46 40,46 40,40"
#define POND_B "/70,20 76,20 76,26 70,26 70,20"
#define POND_C "/70,20 76,20 76,26.2 70,26 70,20"

static const struct ground grounds[] = {
    {BOXED, BOXED, "", 0.1},
    {BOXED, "100,80 100,0 0,0 0,80 100,80", "", 0.1},   /* turned round */
    {BOXED, "0,0 50,0 100,0 100,80 0,80 0,0", "", 0.1}, /* a corner in a side */
    {"0,0 50,0 100,0 100,80 0,80 0,0", BOXED, "", 0.1}, /* one less */
    {BOXED, "0,0 100,0 100.02,80 0,80 0,0", "", 0.1},   /* 2 cm */
    {BOXED, "0,0 100,0 100,80.02 0,80 0,0", "", 0.1},   /* 2 cm */
    {BOXED, "0,0 100,0 100.2,80 0,80 0,0", "100.2,80", 0.1}, /* 20 cm out */
    {BOXED, "0,0 100,0 99.8,80 0,80 0,0", "100,80", 0.1},    /* 20 cm in */
    {BOXED, BUMP("84"), "56,84", 0.1}, /* between two fences' ends */
    {BOXED, BUMP("76"), "56,76", 0.1},
    {BUMP("84"), BOXED, "56,84", 4.5},
    {BUMP("84"), BUMP("84"), "", 0.1},
    {BOXED POND_A, BOXED, "40,40", 8.5},
    {BOXED, BOXED POND_A, "40,40", 8.5},
    {BOXED POND_A, BOXED POND_A, "", 0.1},
    {BOXED POND_A POND_B, BOXED POND_A POND_B, "", 0.1},
    {BOXED POND_A POND_B, BOXED POND_B POND_A, "", 0.1},
    {BOXED POND_A POND_B, BOXED POND_A POND_C, "76,26.2", 0.1},
    {BOXED POND_A POND_C, BOXED POND_A POND_B, "76,26.2", 0.1},
    {BOXED POND_A POND_B, BOXED POND_B, "40,40", 8.5},
};

/* Where it is said to be another; places are told to six digits. */
static void is_off_at(const char *said, const char *where, double room_m)
{
    const char *at = strstr(said, " any more, as at ");
    char *end;
    if (!at)
        fail_msg("\"%s\"; expected another ground at %s", said, where);
    const double lon = strtod(at + strlen(" any more, as at "), &end);
    const double lat = strtod(end + 1, NULL);
    const double x = strtod(where, &end), y = strtod(end + 1, NULL);
    assert_near((lon - east(0)) / (east(1) - east(0)), x, room_m);
    assert_near((lat - north(0)) / (north(1) - north(0)), y, room_m);
}

static void a_named_front_is_on_the_same_ground(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof grounds / sizeof grounds[0]; i++) {
        struct fw_error err = {0};
        put_ground(grounds[i].first);
        struct fw_plan *before = plan_on_paper("strips", 80);
        keep_plan(before, "before.json");
        fw_plan_free(before);
        put_ground(grounds[i].then);
        struct fw_farm *farm = farm_of(PLACE "front: A01-02\n", true, &err);
        if (!*grounds[i].off && !farm)
            fail_msg("%s of row %zu", err.text, i);
        if (*grounds[i].off) {
            assert_null(farm);
            assert_says(&err, "front: the ground of \"Long Bottom\" is not "
                              "that of before.json any more, as at ");
            is_off_at(err.text, grounds[i].off, grounds[i].room_m);
        }
        fw_farm_free(farm);
    }
    put_ground(BOXED);
}

/* A plan that began at a front has an edge where the map has none; all else is
 * as it was, or it is another ground. */
static void only_the_front_itself_may_be_no_edge(void **state)
{
    (void)state;
    static const struct {
        const char *then, *off;
    } rows[] = {{BOXED, ""},
                /* What lies behind it nobody needs any more. */
                {"0,0 100,0 100,80 0,80 0,44 -5,42 0,40 0,0", ""},
                {"0,0 100,0 100,80 95,80 93,79.8 91,80 0,80 0,0", ""},
                {"0,0 100,0 100,78 99,80 0,80 0,0", "100,80"},
                {"0,0 98,0 100,2 100,80 0,80 0,0", "100,0"}};
    put_ground(BOXED);
    struct fw_plan *before = plan_with(
        "fields: {source: field.geojson}\nstart: 2027-06-07\n"
        "front: side:1@30m to 9.0,51.0 to side:3@50m\ngate: corner:1\n"
        "water: corner:1\n",
        "strips", 80);
    keep_plan(before, "before.json");
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_error err = {0};
        put_ground(rows[i].then);
        struct fw_farm *farm =
            farm_of(PLACE "gate: corner:1\nfront: A01-02\n", true, &err);
        if (*rows[i].off)
            is_off_at(err.text, rows[i].off, 0.1);
        else if (!farm)
            fail_msg("%s of row %zu", err.text, i);
        fw_farm_free(farm);
    }
    put_ground(BOXED);
    struct fw_error err = {0};
    assert_null(farm_of(PLACE "gate: corner:1\nfront: A00-01\n", true, &err));
    assert_says(&err, "front: A00-01 is the front that that plan itself began "
                      "from: nothing beyond it was grazed then; expected such "
                      "as A01-02");
    fw_plan_free(before);
}

/* ---- the file ---- */

static size_t inputs_called(const struct fw_farm *farm, const char *path)
{
    size_t count = 0;
    for (size_t i = 0; i < farm->inputs.count; i++)
        count += strstr(farm->inputs.items[i].path, path) != NULL;
    return count;
}

/* By its name or by its folder's. */
static void the_earlier_plan_is_an_input(void **state)
{
    (void)state;
    struct fw_plan *before = plan_on_paper("strips", 80);
    keep_plan(before, "before.json");
    assert_int_equal(mkdir("out", 0777), 0);
    keep_plan(before, "out/plan.json");
    struct fw_farm *farm = good_farm(PLACE);
    assert_int_equal(inputs_called(farm, "before.json"), 1);
    assert_string_equal(farm->earlier_path, "before.json");
    assert_int_equal(farm->earlier->fence_count, before->fence_count);
    fw_farm_free(farm);
    farm = good_farm("fields: {source: field.geojson}\nearlier: out\n");
    assert_int_equal(inputs_called(farm, "out/plan.json"), 1);
    assert_string_equal(farm->earlier_path, "out");
    fw_farm_free(farm);
    farm = good_farm("fields: {source: field.geojson}\n");
    assert_null(farm->earlier);
    fw_farm_free(farm);
    refuses("fields: {source: field.geojson}\nearlier: none.json\n",
            "farm.yaml:2: earlier: none.json: no such file");
    fw_plan_free(before);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_of_fences_are_told_from_other_places),
        cmocka_unit_test(a_name_that_is_none_gets_those_like_it),
        cmocka_unit_test(a_place_is_on_the_fence),
        cmocka_unit_test(a_place_is_found_round_bends),
        cmocka_unit_test(a_fence_is_of_one_field),
        cmocka_unit_test(a_front_goes_with_the_flock),
        cmocka_unit_test(a_front_has_ground_on_both_sides),
        cmocka_unit_test(a_named_front_is_on_the_same_ground),
        cmocka_unit_test(only_the_front_itself_may_be_no_edge),
        cmocka_unit_test(the_earlier_plan_is_an_input),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
