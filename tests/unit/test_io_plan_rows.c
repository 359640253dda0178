/* What plan.json tells once: rows of values under their columns, places of
 * which the rest follows, the words of rules. */
#include "base/alloc.h"
#include "farm/farm.h"
#include "keys/keys.h"
#include "make/make.h"
#include "plan_text.h"
#include "store/members.h"
#include <foldwright/told.h>

#include <math.h>

/* Two findings by one rule, which say this. */
static void two_findings(struct fw_plan *plan, struct fw_plan_finding two[2],
                         const char *first, const char *second)
{
    two[0] = two[1] = findings[0];
    snprintf(two[0].text, sizeof two[0].text, "%s", first);
    snprintf(two[1].text, sizeof two[1].text, "%s", second);
    snprintf(two[1].id, sizeof two[1].id, "finding 2");
    plan->findings = two;
    plan->finding_count = 2;
}

/* ---- there and back ---- */

static void is_place(const struct fw_plan_place *got,
                     const struct fw_plan_place *wanted, double metres_of_x,
                     const char *what)
{
    const double degree_m = 111700; /* of latitude, at a pole the longest */
    const double most_m = 1e-5;
    assert_int_equal(got->given, wanted->given);
    const double off_m[] = {
        got->plane.x_m - wanted->plane.x_m,
        got->plane.y_m - wanted->plane.y_m,
        degree_m * (got->lonlat.lat_deg - wanted->lonlat.lat_deg),
        degree_m * (got->lonlat.lon_deg - wanted->lonlat.lon_deg) *
            cos(wanted->lonlat.lat_deg * acos(-1) / 180),
        metres_of_x * (got->file.x - wanted->file.x) *
            (metres_of_x > 1 ? cos(wanted->lonlat.lat_deg * acos(-1) / 180)
                             : 1),
        metres_of_x * (got->file.y - wanted->file.y)};
    for (size_t i = 0; i < sizeof off_m / sizeof *off_m; i++)
        if (!(fabs(off_m[i]) <= most_m))
            fail_msg("%s is %g m off in coordinate %zu", what, off_m[i], i);
}

/* x, y and the plane are not in the file where they follow from lon and lat:
 * each within 1e-5 m of where it was. */
static void places_come_back(const struct fw_plan *plan, const char *path,
                             double metres_of_x)
{
    char *bytes = write_plan(plan);
    put_text(path, bytes);
    fw_bytes_free(bytes);
    struct fw_plan *back = read_plan(path);
    assert_int_equal(back->post_count, plan->post_count);
    for (size_t i = 0; i < plan->post_count; i++) {
        const struct fw_plan_post *post = &plan->posts[i];
        is_place(&back->posts[i].place, &post->place, metres_of_x, post->id);
        assert_string_equal(back->posts[i].id, post->id);
        assert_int_equal(back->posts[i].fence, post->fence);
        assert_int_equal(back->posts[i].why, post->why);
        assert_near(back->posts[i].at_m, post->at_m, 1e-5);
    }
    for (size_t i = 0; i < plan->gate_count; i++)
        is_place(&back->gates[i].place, &plan->gates[i].place, metres_of_x,
                 plan->gates[i].id);
    for (size_t i = 0; i < plan->water_count; i++)
        is_place(&back->waters[i].place, &plan->waters[i].place, metres_of_x,
                 plan->waters[i].id);
    for (size_t i = 0; i < plan->finding_count; i++)
        is_place(&back->findings[i].place, &plan->findings[i].place,
                 metres_of_x, plan->findings[i].id);
    for (size_t f = 0; f < plan->field_count; f++) {
        const struct fw_plan_field *field = &plan->fields[f];
        is_place(&back->fields[f].gate, &field->gate, metres_of_x, "gate");
        is_place(&back->fields[f].water, &field->water, metres_of_x, "water");
        is_place(&back->fields[f].park, &field->park, metres_of_x, "park");
        for (size_t i = 0; i < field->vertex_count; i++) {
            const struct fw_vertex *got = &back->fields[f].vertices[i];
            assert_near(got->plane.x_m, field->vertices[i].plane.x_m, 1e-6);
            assert_near(got->plane.y_m, field->vertices[i].plane.y_m, 1e-6);
            assert_memory_equal(&got->file, &field->vertices[i].file,
                                sizeof got->file);
            assert_memory_equal(&got->lonlat, &field->vertices[i].lonlat,
                                sizeof got->lonlat);
        }
    }
    is_place(&back->energizer_place, &plan->energizer_place, metres_of_x,
             "energizer");
    fw_plan_free(back);
}

static void places_by_hand_come_back_within_1e5_m(void **state)
{
    const struct fw_plan plan = by_hand_on_earth();
    const double in_metres = 1;
    vertices[4].file = (struct fw_xy){600050, 5190000};
    places_come_back(&plan, in_scratch(*state, "plan.json"), in_metres);
}

/* A fence passes 180 degrees: of its posts one stands on either side. */
static void places_beside_180_degrees_come_back(void **state)
{
    struct fw_plan plan = by_hand_on_earth();
    const double degree_m = 111700;
    line[0] = 0;
    line[1] = 1;
    put_on_earth((struct fw_lonlat){180, -16.8});
    on_earth(&plan.energizer_place);
    for (size_t i = 0; i < plan.field_count; i++)
        plan.fields[i].crs = (char *)"OGC:CRS84";
    for (size_t i = 0; i < plan.fields[0].vertex_count; i++)
        vertices[i].file = (struct fw_xy){vertices[i].lonlat.lon_deg,
                                          vertices[i].lonlat.lat_deg};
    assert_true(vertices[0].lonlat.lon_deg > 179 &&
                vertices[1].lonlat.lon_deg < -179);
    struct fw_vertex beyond = vertices[1]; /* as if the count went on */
    beyond.lonlat.lon_deg += 360;
    beyond.file.x += 360;
    for (size_t i = 0; i < 2; i++) {
        struct fw_plan_place *place = &posts[i].place;
        *place = part_way(&vertices[0], &beyond, i ? 0.75 : 0.25);
        if (i == 1) {
            place->lonlat.lon_deg -= 360;
            place->file.x -= 360;
        }
    }
    places_come_back(&plan, in_scratch(*state, "plan.json"), degree_m);
}

/* In degrees. */
static void places_of_the_sample_farm_come_back_within_1e5_m(void **state)
{
    char path[4096];
    snprintf(path, sizeof path, "%s/three-fields/farm.yaml",
             getenv("FW_SAMPLES"));
    const struct fw_farm_request request = {.farm_path = path};
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err) ||
        fw_plan_make(farm, &plan, &err))
        fail_msg("%s", err.text);
    const double degree_m = 111700;
    places_come_back(plan, in_scratch(*state, "plan.json"), degree_m);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static size_t count_of(const char *text, const char *what)
{
    size_t count = 0;
    for (; (text = strstr(text, what)); text++)
        count++;
    return count;
}

/* Two findings of one rule have "keep away" in common, and
 * their source. */
static void rules_and_columns_stand_once(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand_on_earth();
    struct fw_plan_finding two[2];
    two_findings(&plan, two, "keep away (here 3.7 m)",
                 "keep away (here 3.5 m)");
    char *bytes = write_plan(&plan);
    assert_int_equal(count_of(bytes, "keep away"), 1);
    assert_int_equal(count_of(bytes, "somebody's code"), 1);
    assert_int_equal(count_of(bytes, "\" (here 3.7 m)\""), 1);
    assert_int_equal(count_of(bytes, "\" (here 3.5 m)\""), 1);
    assert_int_equal(count_of(bytes, "\"why\""), 1);
    assert_int_equal(count_of(bytes, "\"at_m\""),
                     /* posts, days, gates, passages */
                     2 + plan.gate_count + plan.passage_count);
    assert_int_equal(count_of(bytes, "A01-02/"), 0);
    fw_bytes_free(bytes);
}

static void words_in_common_are_whole_ones(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand_on_earth();
    struct fw_plan_finding two[2];
    static const struct {
        const char *first, *second, *common;
    } rows[] = {
        {"keep off", "keep off", "keep off"},
        {"keep off", "keep off the road", "keep off"},
        {"keep off", "keep of", "keep"},
        {"keep off", "keeper", ""},
        {"keep off", "keep  off", "keep"},
        {"keep a off", "keep on", "keep"},
        {"keep a b", "keep ax", "keep"},
        {"off", "on", ""},
        {"", "off", ""},
        {"ask (at 51 degrees)", "ask (at 48 degrees)", "ask"},
        {"ask (at 51) now", "ask (at 51) then", "ask (at 51)"},
        {"ask (at 51 degrees)", "ask (at 51 degrees)", "ask (at 51 degrees)"},
        {"(at 51)", "(at 48)", "(at"},
        {"ask f(x) now", "ask f(x) then", "ask f(x)"},
        {"ask f(x a)", "ask f(x b)", "ask f(x"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_io__rule *rules;
        size_t count;
        two_findings(&plan, two, rows[i].first, rows[i].second);
        assert_int_equal(fw_io__rules_make(&plan, &rules, &count, NULL), FW_OK);
        assert_int_equal(count, 1);
        assert_string_equal(rules[0].text, rows[i].common);
        fw_free(rules);
    }
}

static void rule_with_two_sources_is_not_written(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand_on_earth();
    struct fw_plan_finding two[2];
    two_findings(&plan, two, "a", "b");
    snprintf(two[1].source, sizeof two[1].source, "somebody else's");
    char *bytes;
    size_t count;
    struct fw_error err = {0};
    assert_int_equal(fw_plan_json_write(&plan, NULL, 0, &bytes, &count, &err),
                     FW_EINPUT);
    assert_non_null(strstr(err.text, "finding 2: its rule "
                                     "\"power-line-middle\" has another"));
}

/* Signs stand behind the posts of all fences, and are of the boundary too. */
static void signs_stand_under_their_fence(void **state)
{
    struct fw_plan plan = by_hand_on_earth();
    const char *path = in_scratch(*state, "plan.json");
    struct fw_plan_post all[5] = {posts[0], posts[1], posts[0], posts[1],
                                  posts[0]};
    static const char *const ids[] = {"A01-02/1", "A01-02/2", "A01-02/s1",
                                      "A-side-2/s1", "A-side-2/s2"};
    for (size_t i = 2; i < 5; i++) {
        snprintf(all[i].id, sizeof all[i].id, "%s", ids[i]);
        all[i].why = FW_POST_SIGN;
        all[i].fence = i > 2;
        on_earth(&all[i].place); /* on the wire: straight in the plane */
    }
    plan.posts = all;
    plan.post_count = 5;
    char *bytes = write_plan(&plan);
    put_text(path, bytes);
    fw_bytes_free(bytes);
    struct fw_plan *back = read_plan(path);
    assert_int_equal(back->post_count, 5);
    for (size_t i = 0; i < 5; i++) {
        assert_string_equal(back->posts[i].id, ids[i]);
        assert_int_equal(back->posts[i].fence, all[i].fence);
        const struct fw_plan_place *got = &back->posts[i].place;
        assert_near(got->plane.x_m, all[i].place.plane.x_m, 1e-5);
        assert_near(got->plane.y_m, all[i].place.plane.y_m, 1e-5);
        /* On the line as it is drawn, which bows by less than that. */
        assert_near(got->file.x, all[i].place.file.x, 1e-3);
        assert_near(got->file.y, all[i].place.file.y, 1e-3);
    }
    assert_int_equal(back->fences[0].posts, 2);
    assert_int_equal(back->fences[1].posts, 0);
    fw_plan_free(back);
    /* In whatever order they come. */
    const struct fw_plan_post last = all[4];
    memmove(all + 1, all, 4 * sizeof *all);
    all[0] = last;
    bytes = write_plan(&plan);
    put_text(path, bytes);
    fw_bytes_free(bytes);
    back = read_plan(path);
    for (size_t i = 0; i < 5; i++)
        assert_string_equal(back->posts[i].id, ids[i]);
    fw_plan_free(back);
}

/* ---- files of older builds ---- */

/* The place of a column; its name goes if it is to. */
static size_t find_column(struct json_object *root, const char *list,
                          const char *member, bool drop)
{
    struct json_object *names =
        json_object_object_get(json_object_object_get(root, "columns"), list);
    for (size_t i = 0; i < json_object_array_length(names); i++) {
        if (strcmp(json_object_get_string(json_object_array_get_idx(names, i)),
                   member) != 0)
            continue;
        if (drop)
            json_object_array_del_idx(names, i, 1);
        return i;
    }
    fail_msg("%s has no column %s", list, member);
    return 0;
}

/* Without its values and its name, or with nulls. */
static void empty_column(struct json_object *root, const char *list,
                         const char *member, bool drop)
{
    struct json_object *rows = json_object_object_get(root, list);
    const size_t at = find_column(root, list, member, drop);
    assert_true(json_object_array_length(rows) > 0);
    for (size_t i = 0; i < json_object_array_length(rows); i++) {
        struct json_object *row = json_object_array_get_idx(rows, i);
        if (drop)
            json_object_array_del_idx(row, at, 1);
        else
            json_object_array_put_idx(row, at, NULL);
    }
}

static char *read_without(const char *path, bool drop)
{
    struct json_object *root = parse_by_hand();
    empty_column(root, "power_days", "alone_v", drop);
    empty_column(root, "power_days", "at_m", drop);
    empty_column(root, "stays", "left_kg", drop);
    empty_column(root, "steps", "over_m", drop);
    put_json(path, root);
    json_object_put(root);
    struct fw_plan *back = read_plan(path);
    char *bytes = write_plan(back);
    fw_plan_free(back);
    return bytes;
}

static void column_of_what_may_be_null_may_be_missing(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    char *wanted = read_without(path, false);
    char *got = read_without(path, true);
    assert_string_equal(got, wanted);
    fw_bytes_free(got);
    fw_bytes_free(wanted);
}

static void row_has_the_columns_of_its_file(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    struct json_object *root = parse_by_hand();
    find_column(root, "readings", "wanted_v", true);
    put_json(path, root);
    json_object_put(root);
    refuses(path, "readings[0]: has 5 values; expected 4: step, fence, far_v, "
                  "touched_v");
    root = parse_by_hand();
    empty_column(root, "readings", "far_v", true); /* is never null */
    put_json(path, root);
    json_object_put(root);
    refuses(path, "columns.readings: expected step, fence, far_v");
}

/* ---- spoiled files ---- */

/* Each value of a first row once a list of lists, which none is. */
static void each_value_of_a_wrong_type_is_named(void **state)
{
    static const char *const lists[] = {"power_days", "readings", "stays",
                                        "standings",  "moves",    "steps"};
    const char *path = in_scratch(*state, "plan.json");
    struct json_object *root = parse_by_hand();
    struct json_object *columns = json_object_object_get(root, "columns");
    int spoiled = 0;
    for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
        struct json_object *row = json_object_array_get_idx(
            json_object_object_get(root, lists[i]), 0);
        struct json_object *names = json_object_object_get(columns, lists[i]);
        for (size_t k = 0; k < json_object_array_length(names); k++) {
            char expected[100];
            snprintf(
                expected, sizeof expected, "%s[0].%s: ", lists[i],
                json_object_get_string(json_object_array_get_idx(names, k)));
            struct json_object *value =
                json_object_get(json_object_array_get_idx(row, k));
            json_object_array_put_idx(row, k,
                                      json_tokener_parse("[[[{\"x\":[]}]]]"));
            put_json(path, root);
            refuses(path, expected);
            json_object_array_put_idx(row, k, value);
            spoiled++;
        }
    }
    assert_int_equal(spoiled, 11 + 5 + 5 + 5 + 11 + 8);
    json_object_put(root);
}

static void odd_rows_are_refused_by_name(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    static const struct {
        const char *list, *member, *value, *expected;
    } rows[] = {
        {"fields", "vertices", "[[1,2]]",
         "fields[0].vertices[0]: has 2 values; expected 5: lon, lat, kind, x, "
         "y, or all but the last two"},
        {"fields", "vertices", "[[1,2,\"cut\",3]]",
         "fields[0].vertices[0]: has 4 values; expected 5"},
        {"fields", "vertices", "[{}]",
         "fields[0].vertices[0]: expected a row of lon, lat, kind, x, y"},
        {"fields", "vertices", "[[1,\"n\",\"cut\"]]",
         "fields[0].vertices[0].lat: expected a number"},
        {"fields", "vertices", "[[1,2,\"hedge\"]]",
         "fields[0].vertices[0].kind: is hedge"},
        {"fields", "plane", "{\"lon\":10,\"lat\":91}",
         "fields[0].plane: centre of the local plane is 10, 91"},
        {"fields", "gate", "[10.5,46.5,1]",
         "fields[0].gate: has 3 values; expected 4: lon, lat, x, y"},
        {"fields", "gate", "[10.5,-46.5]", "fields[0].gate: is over 1000 km"},
        {"fields", "water", "[190,46.5]", "fields[0].water: is over 1000 km"},
        {"fields", "park", "[10.5,1e9]", "fields[0].park: is over 1000 km"},
        {"water", "place", "[30,46.5]", "water[0].place: is over 1000 km"},
        {"gates", "place", "[30,46.5]", "gates[0].place: is over 1000 km"},
        {"findings", "place", "[30,46.5]",
         "findings[0].place: is over 1000 km"},
        {NULL, "energizer_place", "[30,46.5]",
         "energizer_place: is over 1000 km"},
        {"fences", "a", "[\"side\"]",
         "fences[0].a: has 1 values; expected 10: by, corner"},
        {"fences", "posts", "null", "fences[0].posts: expected a list"},
        {"fences", "posts", "[{}]",
         "fences[0].posts[0] (post A01-02/1): expected a row of at_m, why, "
         "lon, lat"},
        {"fences", "posts", "[[1,\"gap\",10.5,46.5,0]]",
         "fences[0].posts[0] (post A01-02/1): has 5 values; expected 4: at_m, "
         "why, lon, lat"},
        {"fences", "posts", "[[1,\"gap\",10.5]]",
         "fences[0].posts[0] (post A01-02/1): has 3 values"},
        {"fences", "posts", "[[1,\"gap\",null,46.5]]",
         "fences[0].posts[0] (post A01-02/1).lon: expected a number"},
        {"fences", "posts", "[[\"1\",\"gap\",10.5,46.5]]",
         "fences[0].posts[0] (post A01-02/1).at_m: expected a number"},
        {"fences", "posts", "[[1,\"prop\",10.5,46.5]]",
         "fences[0].posts[0] (post A01-02/1).why: is prop"},
        {"fences", "posts", "[[1,\"gap\",10.5,46.5]]",
         "fences[0].posts[0]: post A01-02/1 is not on its line"},
        {"moves", "day", "7", "moves[0].day: expected a text"},
        {"steps", "fences", "\"A01-02\"", "steps[0].fences: expected a list"},
        {NULL, "steps", "[[\"count\"]]",
         "steps[0]: has 1 values; expected 8: step, field, gate, fences, dead, "
         "over, over_m, way_m"},
        {NULL, "stays", "[{}]", "stays[0]: expected a row of paddock, enter"},
        {NULL, "columns", "[]", "columns: expected an object"},
        {NULL, "columns", "{}", "columns.place: expected lon, lat, x, y"},
        {NULL, "rules", "null", "rules: expected a list"},
        {NULL, "rules", "[]",
         "findings[0].more: its rule \"power-line-middle\" is not among the "
         "rules"},
        {NULL, "rules",
         "[{\"rule\":\"a\",\"text\":\"b\",\"source\":\"c\"},"
         "{\"rule\":\"a\",\"text\":\"b\",\"source\":\"c\"}]",
         "rules[1].rule: has the name of one before it"},
        {"rules", "source", "7", "rules[0].source: expected a text"},
        {"findings", "more", "7", "findings[0].more: expected a text"},
        {"findings", "rule", "\"moon\"", "rule \"moon\" is not among"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        change(path, rows[i].list, rows[i].member, rows[i].value,
               rows[i].expected);
}

/* Off the line that it stands on, in metres; that line runs north. */
static void put_post_aside(const char *path, double east_m)
{
    line[0] = 1;
    line[1] = 2;
    const struct fw_plan plan = by_hand_on_earth();
    const struct fw_point on = posts[0].place.plane;
    const struct fw_lonlat aside = fw_plane_inverse(
        &plan.fields[0].plane, (struct fw_point){on.x_m + east_m, on.y_m});
    char row[100];
    snprintf(row, sizeof row, "[[25.25,\"gap\",%.10f,%.10f]]", aside.lon_deg,
             aside.lat_deg);
    struct json_object *root = parse_by_hand();
    put_value(root, "fences", 0, "posts", json_tokener_parse(row));
    put_json(path, root);
    json_object_put(root);
}

static void a_post_may_be_11_mm_beside_its_line(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    for (int side = -1; side <= 1; side += 2) {
        put_post_aside(path, side * 0.0105);
        fw_plan_free(read_plan(path));
        put_post_aside(path, side * 0.0117);
        refuses(path, "post A01-02/1 is not on its line");
    }
}

/* 10 bytes of the rule and 374 of its own are one too many. */
static void text_too_long_with_its_rule_is_refused(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    char text[377];
    snprintf(text, sizeof text, "\"%0374d\"", 0);
    struct json_object *root = parse_by_hand();
    put_value(root, "rules", 0, "text", json_object_new_string("0123456789"));
    put_value(root, "findings", 0, "more", json_tokener_parse(text));
    put_json(path, root);
    refuses(path, "findings[0].more: is 384 bytes long with the words of its "
                  "rule; expected at most 383");
    text[374] = '"';
    text[375] = '\0';
    put_value(root, "findings", 0, "more", json_tokener_parse(text));
    put_json(path, root);
    json_object_put(root);
    struct fw_plan *back = read_plan(path);
    assert_int_equal(strlen(back->findings[0].text), 383);
    fw_plan_free(back);
}

/* Each list of names once without one of them, and once in another order. */
static void other_columns_are_refused_by_name(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    for (size_t k = 0; k < FW_IO__ROW_KINDS; k++) {
        const char *name = fw_io__columns[k].name;
        char expected[100];
        snprintf(expected, sizeof expected, "columns.%s: expected ", name);
        struct json_object *root = parse_by_hand();
        struct json_object *names = json_object_object_get(
            json_object_object_get(root, "columns"), name);
        const size_t count = json_object_array_length(names);
        struct json_object *last =
            json_object_get(json_object_array_get_idx(names, count - 1));
        json_object_array_put_idx(names, count - 1,
                                  json_object_new_string("more"));
        put_json(path, root);
        refuses(path, expected);
        json_object_array_put_idx(
            names, count - 1,
            json_object_get(json_object_array_get_idx(names, 0)));
        json_object_array_put_idx(names, 0, last);
        put_json(path, root);
        refuses(path, expected);
        json_object_put(root);
    }
}

/* As it was before there were rows: with the same name of its format. */
static void plan_without_columns_is_refused_with_what_to_do(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    struct json_object *root = parse_by_hand();
    json_object_object_del(root, "columns");
    put_json(path, root);
    json_object_put(root);
    refuses(path, "is a plan of before its rows were numbers under `columns`; "
                  "let the farm be planned again");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(places_by_hand_come_back_within_1e5_m),
        scratch_test(places_beside_180_degrees_come_back),
        scratch_test(places_of_the_sample_farm_come_back_within_1e5_m),
        cmocka_unit_test(rules_and_columns_stand_once),
        cmocka_unit_test(words_in_common_are_whole_ones),
        cmocka_unit_test(rule_with_two_sources_is_not_written),
        scratch_test(signs_stand_under_their_fence),
        scratch_test(column_of_what_may_be_null_may_be_missing),
        scratch_test(row_has_the_columns_of_its_file),
        scratch_test(each_value_of_a_wrong_type_is_named),
        scratch_test(odd_rows_are_refused_by_name),
        scratch_test(a_post_may_be_11_mm_beside_its_line),
        scratch_test(text_too_long_with_its_rule_is_refused),
        scratch_test(other_columns_are_refused_by_name),
        scratch_test(plan_without_columns_is_refused_with_what_to_do),
    };
    return cmocka_run_group_tests_name("io_plan_rows", tests, NULL, NULL);
}
