/* plan.json there and back, and with every member spoiled in turn. */
#include "farm/farm.h"
#include "io/io.h"
#include "make/make.h"
#include "plan_on_earth.h"
#include "plan_text.h"
#include "store/members.h"
#include "store/store.h"
#include <foldwright/told.h>

/* ---- there and back ---- */

static void comes_back_the_same(const struct fw_plan *plan, const char *path)
{
    char *first = write_plan(plan);
    put_text(path, first);
    struct fw_plan *back = read_plan(path);
    char *second = write_plan(back);
    assert_string_equal(first, second);
    fw_bytes_free(first);
    fw_bytes_free(second);
    fw_plan_free(back);
}

static void plan_comes_back_with_the_same_bytes(void **state)
{
    const struct fw_plan plan = by_hand_on_earth();
    comes_back_the_same(&plan, in_scratch(*state, "plan.json"));
}

/* Both ways go by one table, which could take one member for another; here
 * each struct is compared as it lies in memory. */
static void plan_comes_back_equal(void **state)
{
    const struct fw_plan plan = by_hand_on_earth();
    char *bytes = write_plan(&plan);
    put_text(in_scratch(*state, "plan.json"), bytes);
    fw_bytes_free(bytes);
    struct fw_plan *back = read_plan(((struct scratch *)*state)->path);

    for (size_t i = 0; i < 5; i++) {
        const struct fw_vertex *vertex = &back->fields[0].vertices[i];
        assert_true(vertex->file.x == vertices[i].file.x);
        assert_true(vertex->file.y == vertices[i].file.y);
        assert_true(vertex->lonlat.lon_deg == vertices[i].lonlat.lon_deg);
        assert_true(vertex->lonlat.lat_deg == vertices[i].lonlat.lat_deg);
        assert_near(vertex->plane.x_m, vertices[i].plane.x_m, 1e-6);
        assert_near(vertex->plane.y_m, vertices[i].plane.y_m, 1e-6);
        assert_int_equal(vertex->kind, vertices[i].kind);
    }
    const struct fw_plan_paddock *paddock = &back->paddocks[0];
    assert_true(paddock->usable_kg == 130.5 && paddock->demand_kg == 130.25);
    assert_true(paddock->today_kg == 101.5 && paddock->third_kg == 113.75);
    assert_true(paddock->other_kg == 128.25 && paddock->bare_kg == 303.5);
    assert_true(back->fields[0].winter_least_share == 0.225 &&
                back->fields[0].winter_most_share == 0.725);
    assert_string_equal(back->fields[0].winter_place, "a-place");
    assert_int_equal(back->lambing_day, 20701);
    assert_true(paddock->walk_known && paddock->walk_max_m == 61.75);
    assert_true(paddock->walk_fed_m == 31.125);
    assert_true(paddock->climb_to_m == 4.125 && paddock->climb_back_m == 2.875);
    assert_false(back->paddocks[1].walk_known);
    assert_int_equal(paddock->water, 1);
    assert_int_equal(back->paddocks[1].water, FW_NONE);
    assert_int_equal(back->paddocks[2].field, 1); /* the namesake */
    assert_memory_equal(back->fields[1].rings.piece_ring, two_pieces,
                        sizeof two_pieces);
    assert_memory_equal(back->fences[0].line, line, sizeof line);
    assert_memory_equal(&back->fences[0].a, &fences[0].a, sizeof fences[0].a);
    assert_true(back->fences[0].wire_m == 166.5);
    assert_int_equal(back->fences[0].rank, 3);
    assert_true(back->fences[0].pace_share == 0.03125);
    assert_true(back->fences[4].stood && !back->fences[0].stood);
    assert_int_equal(back->fences[3].role, FW_FENCE_LANE);
    assert_int_equal(back->fences[1].side, 1);
    assert_int_equal(back->fences[0].from, 0);
    assert_int_equal(back->fences[0].to, 1);
    assert_int_equal(back->fences[2].role, FW_FENCE_STANDING);
    assert_memory_equal(&back->fences[0].b, &fences[0].b, sizeof fences[0].b);
    assert_string_equal(back->fields[0].layout, "blocks-2-33");
    assert_string_equal(back->fields[0].pattern, "blocks");
    assert_string_equal(paddock->block, "A-1");
    assert_string_equal(back->paddocks[1].block, "");
    assert_int_equal(back->gates[2].fence, 0);
    assert_int_equal(back->gates[2].where, FW_OPENING_A);
    assert_true(back->gates[2].at_m == 2.625 && back->gates[2].width_m == 5.25);
    assert_int_equal(back->gates[3].where, FW_OPENING_JOINT);
    assert_int_equal(back->gates[0].fence, FW_NONE);
    assert_true(back->gates[2].place.file.y == 32.6);
    assert_true(back->lanes[1].apron && !back->lanes[0].apron);
    assert_true(back->lanes[0].area_ha == 0.0125 &&
                back->lanes[0].plane_m2 == 125.25);
    assert_string_equal(back->lanes[1].id, "A-apron-1");
    assert_int_equal(back->lanes[1].rings.piece_count, 2);
    assert_string_equal(back->fields[2].no_plan, "the grass is eaten");
    assert_null(back->fields[0].no_plan);
    assert_string_equal(back->fields[2].part_of, "Long Top");
    assert_null(back->fields[0].part_of);
    assert_memory_equal(back->fields[0].side_numbers, side_numbers,
                        sizeof side_numbers);
    assert_int_equal(back->crossings[0].posts, 4);
    assert_int_equal(back->passages[0].move, 1);
    assert_true(back->passages[0].opened && back->passages[0].at_flock);
    assert_near(back->passages[0].at_m, 77.25, 0);
    assert_near(back->passages[0].rest_m, 19.625, 0);
    assert_true(back->passages[0].place.file.y == 37.6);
    assert_int_equal(back->totals.handles, 13);
    assert_int_equal(back->totals.carry_trips_per_move, 2);
    assert_int_equal(back->posts[1].why, FW_POST_GAP);
    assert_true(back->findings[0].measured && !back->findings[1].measured);
    for (size_t i = 0; i < back->finding_count; i++) {
        assert_string_equal(back->findings[i].text, findings[i].text);
        assert_string_equal(back->findings[i].source, findings[i].source);
    }
    assert_true(back->materials[1].price < 0);
    assert_memory_equal(&back->totals.kit, &plan.totals.kit,
                        sizeof plan.totals.kit);
    assert_true(back->totals.haul_trips < 0 && !back->totals.cost_known);
    assert_int_equal(back->classes[1].state, FW_WEANED_LAMB);
    assert_true(back->classes[0].intake_share == 0.026);
    assert_int_equal(back->concerns, plan.concerns);
    assert_int_equal(back->units, FW_US);
    assert_int_equal(back->fields[0].sides[1].holds, FW_HOLDS_SHEEP);
    assert_string_equal(back->energizer.volt_source, "volts");
    assert_string_equal(back->flock.water_source, "a table of litres");
    assert_string_equal(back->notes.items[1].text, "far \xE2\x82\xAC");
    assert_int_equal(back->inputs.count, 2);
    assert_string_equal(back->inputs.items[0].path, "/nowhere/hill.yaml");
    assert_true(back->inputs.items[0].known);
    assert_true(back->inputs.items[0].size == 1684);
    assert_int_equal(back->inputs.items[0].crc32, 4294967295u);
    assert_false(back->inputs.items[1].known);
    assert_string_equal(back->told.folder, "/nowhere");
    assert_int_equal(back->told.count, 2);
    assert_string_equal(back->told.values[0].key, FW_TOLD_FIELDS);
    assert_string_equal(back->told.values[1].value, "90");
    assert_null(back->density_source);
    fw_plan_free(back);
}

static void check_list(const struct fw_plan *back, struct fw_list got,
                       struct fw_list wanted)
{
    assert_int_equal(got.count, wanted.count);
    for (size_t i = 0; i < wanted.count; i++)
        assert_int_equal(back->time.items[got.first + i],
                         items[wanted.first + i]);
}

static void time_comes_back_equal(void **state)
{
    const struct fw_plan plan = by_hand_on_earth();
    char *bytes = write_plan(&plan);
    put_text(in_scratch(*state, "plan.json"), bytes);
    fw_bytes_free(bytes);
    struct fw_plan *back = read_plan(((struct scratch *)*state)->path);
    const struct fw_time *time = &back->time;
    assert_int_equal(time->stay_count, plan.time.stay_count);
    for (size_t i = 0; i < time->stay_count; i++) {
        assert_int_equal(time->stays[i].cell, stays[i].cell);
        assert_int_equal(time->stays[i].enter, stays[i].enter);
        assert_int_equal(time->stays[i].leave, stays[i].leave);
        assert_true(time->stays[i].target_kg == stays[i].target_kg);
        assert_true(isnan(stays[i].left_kg)
                        ? isnan(time->stays[i].left_kg)
                        : time->stays[i].left_kg == stays[i].left_kg);
    }
    assert_int_equal(time->move_count, plan.time.move_count);
    assert_memory_equal(time->moves, moves, sizeof moves);
    assert_int_equal(time->standing_count, plan.time.standing_count);
    assert_memory_equal(time->standings, standings, sizeof standings);
    assert_int_equal(time->step_count, plan.time.step_count);
    for (size_t i = 0; i < time->step_count; i++) {
        const struct fw_step *step = &time->steps[i];
        assert_int_equal(step->kind, steps[i].kind);
        assert_int_equal(step->field, steps[i].field);
        assert_int_equal(step->opening, steps[i].opening);
        assert_true(step->over_m == steps[i].over_m &&
                    step->way_m == steps[i].way_m);
        check_list(back, step->lines, steps[i].lines);
        check_list(back, step->dead, steps[i].dead);
        check_list(back, step->cells, steps[i].cells);
    }
    assert_int_equal(time->opening_count, plan.gate_count);
    for (size_t i = 0; i < time->opening_count; i++) {
        assert_int_equal(time->openings[i].line, gates[i].fence);
        assert_int_equal(time->openings[i].kind, gates[i].where);
        assert_true(time->openings[i].at_m == gates[i].at_m);
    }
    fw_plan_free(back);
}

/* Each kind of step is among those that come back. */
static void every_kind_of_step_is_in_the_plan(void **state)
{
    (void)state;
    bool has[FW_STEP_COUNT_OF] = {false};
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++)
        has[steps[i].kind] = true;
    for (int kind = 0; kind < FW_STEP_COUNT_OF; kind++)
        assert_true(has[kind]);
}

/* A member that the tables do not know would be lost without a word. Room that
 * no row covers may only be what alignment leaves. */
static void cover(const struct fw_io__kind *kind, char *seen)
{
    for (size_t i = 0; i < kind->count; i++) {
        const struct fw_io__member *member = &kind->members[i];
        memset(seen + member->at, 1, member->size);
        if (member->type == FW_IO__SAID) /* and the rule's source */
            memset(seen + offsetof(struct fw_plan_finding, source), 1,
                   sizeof(((struct fw_plan_finding *)0)->source));
        if (member->count)
            memset(seen + member->count, 1, sizeof(size_t));
        if (member->known)
            memset(seen + member->known, 1,
                   member->type == FW_IO__ARRAY ? sizeof(size_t)
                                                : sizeof(bool));
    }
}

/* Openings are made from the gates, items are what the steps list, and posts
 * stand under their fences. */
static void cover_made(char *seen)
{
    const size_t from = offsetof(struct fw_plan, time.openings);
    memset(seen + from, 1, offsetof(struct fw_plan, materials) - from);
    const size_t first = offsetof(struct fw_plan, posts);
    memset(seen + first, 1, offsetof(struct fw_plan, crossings) - first);
}

/* What follows from lon and lat, from the post's fence, and from the stays
 * before. */
static void cover_placed(const struct fw_io__kind *kind, char *seen)
{
    if (kind->size == sizeof(struct fw_vertex))
        memset(seen + offsetof(struct fw_vertex, plane), 1,
               sizeof(struct fw_point));
    if (kind->size == sizeof(struct fw_plane))
        memset(seen + offsetof(struct fw_plane, qp), 1,
               sizeof(struct fw_plane) - offsetof(struct fw_plane, qp));
    if (kind == &fw_io__stay_kind)
        memset(seen + offsetof(struct fw_time_stay, round), 1,
               sizeof(((struct fw_time_stay *)0)->round));
    if (kind != &fw_io__post_kind)
        return;
    memset(seen, 1, offsetof(struct fw_plan_post, at_m)); /* name and fence */
    memset(seen + offsetof(struct fw_plan_post, place), 1,
           sizeof(struct fw_plan_place));
}

static void check_covered(const struct fw_io__kind *kind, const char *name)
{
    char *seen = calloc(kind->size + 1, 1);
    cover(kind, seen);
    if (kind == &fw_io__plan_kind)
        cover_made(seen);
    cover_placed(kind, seen);
    size_t run = 0;
    for (size_t i = 0; i < kind->size; i++) {
        run = seen[i] ? 0 : run + 1;
        if (run >= 8)
            fail_msg("no row covers byte %zu of %s", i, name);
    }
    free(seen);
    for (size_t i = 0; i < kind->count; i++)
        if (kind->members[i].of)
            check_covered(kind->members[i].of, kind->members[i].name);
}

static void every_member_of_a_plan_has_a_row(void **state)
{
    (void)state;
    check_covered(&fw_io__plan_kind, "plan");
}

static void plan_of_the_sample_farm_comes_back(void **state)
{
    const char *samples = getenv("FW_SAMPLES");
    if (!samples)
        return;
    char path[4096];
    snprintf(path, sizeof path, "%s/three-fields/farm.yaml", samples);
    const struct fw_farm_request request = {.farm_path = path};
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err) ||
        fw_plan_make(farm, &plan, &err))
        fail_msg("%s", err.text);
    comes_back_the_same(plan, in_scratch(*state, "plan.json"));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* ---- spoiled files ---- */

/* Each member of each object once left out, and once a list of lists, which no
 * member is. */
static void spoil_each(struct json_object *root, struct json_object *object,
                       const char *path, int *spoiled)
{
    const struct lh_entry *next;
    for (struct lh_entry *entry = json_object_get_object(object)->head; entry;
         entry = (struct lh_entry *)next) {
        next = entry->next;
        char key[64];
        snprintf(key, sizeof key, "%s", (const char *)lh_entry_k(entry));
        struct json_object *value = (struct json_object *)lh_entry_v(entry);
        json_object_get(value);
        json_object_object_add(object, key,
                               json_tokener_parse("[[[{\"x\":[]}]]]"));
        put_json(path, root);
        refuses(path, key);
        json_object_object_add(object, key, value);
        ++*spoiled;
        if (json_object_is_type(value, json_type_object))
            spoil_each(root, value, path, spoiled);
        else if (json_object_is_type(value, json_type_array) &&
                 json_object_array_length(value) &&
                 json_object_is_type(json_object_array_get_idx(value, 0),
                                     json_type_object))
            spoil_each(root, json_object_array_get_idx(value, 0), path,
                       spoiled);
    }
}

static void member_of_a_wrong_type_is_named(void **state)
{
    struct json_object *root = parse_by_hand();
    int spoiled = 0;
    spoil_each(root, root, in_scratch(*state, "plan.json"), &spoiled);
    assert_true(spoiled > 150);
    json_object_put(root);
}

/* What an older build did not know is not in its files. */
static size_t drop_nulls(struct json_object *from)
{
    size_t dropped = 0;
    for (size_t i = 0; json_object_is_type(from, json_type_array) &&
                       i < json_object_array_length(from);
         i++)
        dropped += drop_nulls(json_object_array_get_idx(from, i));
    if (!json_object_is_type(from, json_type_object))
        return dropped;
    json_object_object_foreach(from, key, value)
    {
        if (value) {
            dropped += drop_nulls(value);
        } else {
            json_object_object_del(from, key);
            dropped++;
        }
    }
    return dropped;
}

static void what_is_null_may_be_missing(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    struct json_object *root = parse_by_hand();
    put_json(path, root);
    struct fw_plan *back = read_plan(path);
    char *wanted = write_plan(back);
    fw_plan_free(back);
    assert_true(drop_nulls(root) > 50);
    put_json(path, root);
    back = read_plan(path);
    char *got = write_plan(back);
    assert_string_equal(got, wanted);
    fw_plan_free(back);
    fw_bytes_free(got);
    fw_bytes_free(wanted);
    json_object_put(root);
}

/* A list may be empty, and one of its numbers null: it is there. */
static void what_is_never_null_may_not_be_missing(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    static const struct {
        const char *list, *member;
    } rows[] = {
        {"paddocks", "area_ha"}, {"paddocks", "field"},
        {"paddocks", "rings"},   {"fields", "corners"},
        {"fields", "sides"},     {"fields", "corner_numbers"},
        {"fields", "plane"},     {"fields", "copied"},
        {"fences", "posts"},     {"fences", "stood"},
        {"fences", "role"},      {"findings", "level"},
        {"water", "litres_day"}, {"gates", "tight"},
        {NULL, "totals"},        {NULL, "stays"},
        {NULL, "concerns"},      {NULL, "start"},
        {NULL, "pace_m"},        {NULL, "units"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char expected[100];
        snprintf(expected, sizeof expected, "plan.json: %s%s%s: is missing",
                 rows[i].list ? rows[i].list : "", rows[i].list ? "[0]." : "",
                 rows[i].member);
        change(path, rows[i].list, rows[i].member, NULL, expected);
    }
}

static void absurd_values_are_refused_by_name(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    static const struct {
        const char *list, *member, *value, *expected;
    } rows[] = {
        {"paddocks", "area_ha", "null", "paddocks[0].area_ha: expected"},
        {"paddocks", "field", "\"Nowhere\"", "no such field"},
        {"paddocks", "field", "null", "paddocks[0].field: expected one"},
        {"paddocks", "rings", "[[[0,1,9]]]", "paddocks[0].rings"},
        {"paddocks", "rings", "[[[0,1]]]", "paddocks[0].rings"},
        {"paddocks", "rings", "[[]]", "paddocks[0].rings"},
        {"paddocks", "rings", "[[[0,1,-1]]]", "paddocks[0].rings"},
        {"paddocks", "seq", "2147483648", "paddocks[0].seq: is 2147483648"},
        {"paddocks", "paddock", "\"a\\u0000b\"", "paddocks[0].paddock"},
        {"paddocks", "water", "\"trough Z9\"", "no such water point"},
        {"paddocks", "paddock", "\"a name of more than thirty-one bytes\"",
         "at most 31"},
        {"fields", "corners", "[0,1]", "has 3 rows; expected 2"},
        {"fields", "paddocks", "4", "fields[0].paddocks"},
        {"fields", "first_fence", "1099511627777", "fields[0].first_fence"},
        {"fields", "first_paddock", "1", "fields[0].first_paddock"},
        {"fields", "paddocks", "1", "fields[1].first_paddock"},
        {"fields", "fences", "9", "fields[0].fences"},
        {"fields", "no_plan", "\"none\"", "fields[0].no_plan"},
        {"fields", "rings", "[]", "fields[0].rings"},
        {"fences", "line", "[1]", "fences[0].line"},
        {"fences", "line", "[1,7]", "fences[0].line"},
        {"fences", "from", "null", "fences[0].from"},
        {"fences", "to", "\"A09\"", "no such paddock"},
        {"fences", "bearing_deg", "-90", "fences[0].bearing_deg"},
        {"fences", "length_m", "1e200", "fences[0].length_m"},
        {"fences", "field", "\"Top\"", "fences[0].field: is not the field"},
        {"fences", "side", "3", "fences[0].side"},
        {"fences", "role", "\"hedge\"", "fences[0].role: is hedge"},
        {"lanes", "field", "null", "lanes[0].field: expected one"},
        {"lanes", "field", "\"Top\"", "lanes[1].field: expected those"},
        {"lanes", "rings", "[[[0,1,9]]]", "lanes[0].rings"},
        {"gates", "fence", "\"A01-02\"", "gates[0].fence"},
        {"gates", "where", "\"joint\"", "gates[0].fence"},
        {"gates", "where", "\"door\"", "gates[0].where: is door"},
        {"moves", "opening", "\"gate Z\"", "no such gate"},
        {"power_days", "from", "null", "power_days[0].from: expected a day"},
        {"power_days", "to", "\"2000-01-01\"", "power_days[0].to"},
        {"power_days", "fence", "\"A99\"", "no such fence"},
        {NULL, "concerns", "[\"dragons\"]", "concerns: is dragons"},
        {NULL, "crs", "null", "crs"},
        {NULL, "farm", "null", "farm: expected a text"},
        {NULL, "start", "null", "start: expected a day"},
        {NULL, "end", "\"2026-05-04\"", "end: expected a day after"},
        {NULL, "pace_m", "0", "pace_m: is 0"},
        {NULL, "format", "\"foldwright-plan/3\"", "is not a plan"},
        {NULL, "format", "\"foldwright-plan/1\"",
         "older kind \"foldwright-plan/1\""},
        {NULL, "files", "[{\"name\":\"../x\",\"size\":1,\"crc32\":1}]",
         "not the name of a file"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        change(path, rows[i].list, rows[i].member, rows[i].value,
               rows[i].expected);
}

/* What is wrong with the time, and where it is said to be. */
static void odd_time_is_refused_by_name(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    static const struct {
        const char *list;
        size_t row;
        const char *member, *value, *expected;
    } rows[] = {
        {"stays", 0, "paddock", "null", "stays[0].paddock: expected one"},
        {"stays", 0, "paddock", "\"Z01\"", "no such paddock"},
        {"stays", 1, "enter", "null", "stays[1].enter: expected a day"},
        {"stays", 1, "enter", "\"2026-13-01\"", "stays[1].enter"},
        {"stays", 0, "leave", "\"2026-05-04\"",
         "stays[0].leave: expected a day after"},
        {"stays", 0, "leave", "\"2026-05-03\"",
         "stays[0].leave: expected a day after"},
        {"stays", 1, "enter", "\"2026-05-04\"",
         "stays[1].enter: begins before the stay before it"},
        {"moves", 0, "day", "\"2026-05-05\"", "moves[0].day"},
        {"moves", 3, "day", "null", "moves[3].day"},
        {"moves", 0, "field", "null", "moves[0].field"},
        {"moves", 0, "field", "\"Top\"", "moves[0].field"},
        {"moves", 0, "stay", "1", "moves[0].stay"},
        {"moves", 3, "stay", "3", "moves[3].stay"},
        {"moves", 1, "first_step", "9", "moves[1].first_step"},
        {"moves", 0, "steps", "27", "moves[0].steps: counts beyond"},
        {"moves", 3, "steps", "null",
         "moves[3].steps: expected a whole number"},
        {"moves", 3, "steps", "3", "moves[3].steps: leaves steps"},
        {"moves", 1, "later", "8", NULL},
        {"moves", 1, "later", "7", "moves[1].later"},
        {"moves", 1, "later", "15", "moves[1].later"},
        {"moves", 2, "ahead", "true", "moves[2].ahead"},
        {"steps", 0, "step", "\"jump\"", "steps[0].step: is jump"},
        {"steps", 0, "field", "null", "steps[0].field: expected one"},
        {"steps", 0, "fences", "[]", "steps[0].fences: expected some"},
        {"steps", 3, "fences", "[\"A01-02\"]", "steps[3].fences"},
        {"steps", 0, "fences", "[\"A-side-2\"]",
         "steps[0].fences: expected none of the boundary"},
        {"steps", 0, "fences", "[null]", "steps[0].fences: expected one"},
        {"steps", 0, "fences", "[\"A99\"]", "no such fence"},
        {"steps", 4, "gate", "null", "steps[4].gate: expected one where"},
        {"steps", 4, "gate", "\"gate Z\"", "no such gate"},
        {"steps", 6, "gate", "\"gate A\"", "steps[6].gate"},
        {"steps", 11, "gate", "\"gate A\"",
         "steps[11].gate: expected an opening in a fence"},
        {"steps", 17, "over", "[]", "steps[17].over"},
        {"steps", 17, "over", "[\"A-lane-1\"]", "no such paddock"},
        {"steps", 23, "step", "\"carry\"", "steps[23].step: is carry"},
        {"standings", 1, "fence", "null", "standings[1].fence"},
        {"standings", 1, "up_move", "4", "standings[1].up_step"},
        {"standings", 1, "up_step", "1", "standings[1].up_step"},
        {"standings", 1, "up_step", "12", "standings[1].up_step"},
        {"standings", 1, "down_move", "4", "standings[1].down_step"},
        {"standings", 1, "down_step", "26", "standings[1].down_step"},
        {"standings", 1, "down_step", "null", "standings[1].down_step"},
        {"standings", 3, "fence", "\"A01-02\"", "standings[3].up_step"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct json_object *root = parse_by_hand();
        put_value(root, rows[i].list, rows[i].row, rows[i].member,
                  json_tokener_parse(rows[i].value));
        put_json(path, root);
        json_object_put(root);
        if (rows[i].expected)
            refuses(path, rows[i].expected);
        else
            fw_plan_free(read_plan(path));
    }
}

static void plan_without_time_is_refused(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    change(path, NULL, "stays", "[]",
           "stays: has 0 entries; expected at least 1");
    change(path, NULL, "moves", "[]", "moves: has 0 rows; expected 4");
}

static void broken_text_is_refused(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    const struct fw_plan plan = by_hand_on_earth();
    char *bytes = write_plan(&plan);
    const size_t length = strlen(bytes);
    for (size_t cut = 0; cut < length - 2; cut += 97) {
        const char kept = bytes[cut];
        bytes[cut] = '\0';
        put_text(path, bytes);
        refuses(path, "is ");
        bytes[cut] = kept;
    }
    fw_bytes_free(bytes);
    put_text(path, "{\"format\": \"foldwright-plan/2\"} and more");
    refuses(path, "is broken at byte");
    put_text(path, "{\"format\": \"foldwright-plan/2\", }");
    refuses(path, "is broken at byte");
    put_text(path, "[1, 2]");
    refuses(path, "is not a plan");
    put_text(path, "{\"format\": \"foldwright-plan/1\"}");
    refuses(path, "older kind");
    char deep[200] = "";
    memset(deep, '[', 100);
    put_text(path, deep);
    refuses(path, "is broken at byte");
    unlink(path);
    refuses(path, "no such file");
}

static void texts_lose_what_steers_a_terminal(void **state)
{
    struct scratch *scratch = *state;
    const char *path = in_scratch(scratch, "plan.json");
    struct json_object *root = parse_by_hand();
    json_object_object_add(root, "farm",
                           json_object_new_string("a\x1b[31mb\xC2\x9B"
                                                  "c\nd\xE2\x80\xAE"
                                                  "e"));
    json_object_object_del(root, "inputs");
    json_object_object_add(root, "inputs", json_object_new_array());
    put_text(path, json_object_to_json_string(root));
    json_object_put(root);
    struct fw_plan *back = NULL;
    struct fw_error err = {0};
    if (fw_plan_json_read(path, &back, NULL, &err))
        fail_msg("%s", err.text);
    assert_string_equal(back->farm_name, "a [31mb  c d   e");
    fw_plan_free(back);
}

static void plan_is_known_by_its_content(void **state)
{
    struct scratch *scratch = *state;
    const char *path = in_scratch(scratch, "plan.json");
    assert_false(fw_plan_json_is(path));
    assert_false(fw_plan_json_is(scratch->path));
    assert_false(fw_plan_json_is(""));
    put_text(path, "{\"type\": \"FeatureCollection\", \"features\": []}");
    assert_false(fw_plan_json_is(path));
    put_text(path, "{\"a\": 1,\n\"format\" :\n\"foldwright-plan/1\"}");
    assert_true(fw_plan_json_is(path));
    const struct fw_plan plan = by_hand_on_earth();
    char *bytes = write_plan(&plan);
    const char *other = in_scratch(scratch, "other.name");
    put_text(path, bytes);
    put_text(other, bytes);
    fw_bytes_free(bytes);
    assert_true(fw_plan_json_is(path));
    assert_true(fw_plan_json_is(other));
    assert_true(fw_plan_json_is(scratch->path));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(plan_comes_back_with_the_same_bytes),
        scratch_test(plan_comes_back_equal),
        scratch_test(time_comes_back_equal),
        cmocka_unit_test(every_kind_of_step_is_in_the_plan),
        cmocka_unit_test(every_member_of_a_plan_has_a_row),
        scratch_test(plan_of_the_sample_farm_comes_back),
        scratch_test(member_of_a_wrong_type_is_named),
        scratch_test(what_is_null_may_be_missing),
        scratch_test(what_is_never_null_may_not_be_missing),
        scratch_test(absurd_values_are_refused_by_name),
        scratch_test(odd_time_is_refused_by_name),
        scratch_test(plan_without_time_is_refused),
        scratch_test(broken_text_is_refused),
        scratch_test(texts_lose_what_steers_a_terminal),
        scratch_test(plan_is_known_by_its_content),
    };
    return cmocka_run_group_tests_name("io_plan", tests, NULL, NULL);
}
