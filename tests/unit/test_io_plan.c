/* plan.json there and back, and with every member spoiled in turn. */
#include "io/plan_members.h"
#include "plan_by_hand.h"
#include "scratch.h"
#include <foldwright/farm.h>
#include <foldwright/io.h>

#include <json-c/json.h>

/* ---- there and back ---- */

static char *write_plan(const struct fw_plan *plan)
{
    char *bytes = NULL;
    size_t count = 0;
    struct fw_error err = {0};
    if (fw_plan_json_write(plan, NULL, 0, &bytes, &count, &err))
        fail_msg("%s", err.text);
    assert_int_equal(strlen(bytes), count);
    return bytes;
}

static struct fw_plan *read_plan(const char *path)
{
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    if (fw_plan_json_read(path, &plan, NULL, &err))
        fail_msg("%s", err.text);
    return plan;
}

static void comes_back_the_same(const struct fw_plan *plan, const char *path)
{
    char *first = write_plan(plan);
    put_text(path, first);
    struct fw_plan *back = read_plan(path);
    char *second = write_plan(back);
    assert_string_equal(first, second);
    fw_file_free(first);
    fw_file_free(second);
    fw_plan_free(back);
}

static void plan_comes_back_with_the_same_bytes(void **state)
{
    const struct fw_plan plan = by_hand();
    comes_back_the_same(&plan, in_scratch(*state, "plan.json"));
    const struct fw_plan empty = {.crs = (char *)"EPSG:25832"};
    comes_back_the_same(&empty, in_scratch(*state, "plan.json"));
}

/* Both ways go by one table, which could take one member for another; here
 * each struct is compared as it lies in memory. */
static void plan_comes_back_equal(void **state)
{
    const struct fw_plan plan = by_hand();
    char *bytes = write_plan(&plan);
    put_text(in_scratch(*state, "plan.json"), bytes);
    fw_file_free(bytes);
    struct fw_plan *back = read_plan(((struct scratch *)*state)->path);

    for (size_t i = 0; i < 5; i++) {
        assert_true(back->fields[0].vertices[i].file.x == vertices[i].file.x);
        assert_true(back->fields[0].vertices[i].plane.y_m ==
                    vertices[i].plane.y_m);
        assert_true(back->fields[0].vertices[i].lonlat.lat_deg ==
                    vertices[i].lonlat.lat_deg);
        assert_int_equal(back->fields[0].vertices[i].kind, vertices[i].kind);
    }
    const struct fw_plan_paddock *paddock = &back->paddocks[0];
    assert_true(paddock->usable_kg == 130.5 && paddock->demand_kg == 130.25);
    assert_true(paddock->walk_known && paddock->walk_max_m == 61.75);
    assert_false(back->paddocks[1].walk_known);
    assert_int_equal(paddock->water, 1);
    assert_int_equal(back->paddocks[1].water, FW_NONE);
    assert_int_equal(back->paddocks[1].leave, FW_NO_DAY);
    assert_int_equal(back->paddocks[2].field, 1); /* the namesake */
    assert_memory_equal(back->fields[1].rings.piece_ring, two_pieces,
                        sizeof two_pieces);
    assert_memory_equal(back->fences[0].line, line, sizeof line);
    assert_memory_equal(&back->fences[0].a, &fences[0].a, sizeof fences[0].a);
    assert_true(back->fences[0].wire_m == 166.5);
    assert_int_equal(back->fences[0].up, 20576);
    assert_int_equal(back->fences[1].side, 1);
    assert_int_equal(back->fences[0].from, 0);
    assert_int_equal(back->fences[0].to, 1);
    assert_int_equal(back->fences[0].set_at, 0);
    assert_int_equal(back->fences[0].down_at, 2);
    assert_int_equal(back->fences[2].down_at, FW_NONE);
    assert_int_equal(back->fences[2].role, FW_FENCE_STANDING);
    assert_memory_equal(&back->fences[0].b, &fences[0].b, sizeof fences[0].b);
    assert_string_equal(back->fields[0].layout, "blocks-2-33");
    assert_string_equal(back->fields[0].pattern, "blocks");
    assert_string_equal(paddock->block, "A-1");
    assert_string_equal(back->paddocks[1].block, "");
    assert_int_equal(back->gates[1].fence, 0);
    assert_true(back->gates[1].far_end && !back->gates[2].far_end);
    assert_int_equal(back->gates[0].fence, FW_NONE);
    assert_memory_equal(back->moves, moves, sizeof moves);
    assert_true(back->gates[1].place.lonlat.lat_deg == 32.4);
    assert_true(back->gates[1].place.plane.x_m == 32.1);
    assert_true(back->gates[1].place.file.y == 32.6);
    assert_int_equal(back->posts[1].why, FW_POST_GAP);
    assert_true(back->findings[0].measured && !back->findings[1].measured);
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
    assert_null(back->farm_path);
    assert_null(back->density_source);
    fw_plan_free(back);
}

/* A member that the tables do not know would be lost without a word. Room that
 * no row covers may only be what alignment leaves. */
static void cover(const struct fw_io__kind *kind, char *seen)
{
    for (size_t i = 0; i < kind->count; i++) {
        const struct fw_io__member *member = &kind->members[i];
        size_t size = sizeof(double);
        if (member->type == FW_IO__TEXT)
            size = member->size;
        else if (member->type == FW_IO__OBJECT)
            size = member->of->size;
        else if (member->type == FW_IO__PLACE)
            size = sizeof(struct fw_plan_place);
        else if (member->type == FW_IO__PACED)
            size = sizeof(struct fw_plan_paced);
        else if (member->type == FW_IO__RINGS)
            size = sizeof(struct fw_plan_rings);
        else if (member->type == FW_IO__NOTES)
            size = sizeof(struct fw_notes);
        else if (member->type == FW_IO__INT || member->type == FW_IO__WORD ||
                 member->type == FW_IO__DAY || member->type == FW_IO__BITS ||
                 member->type == FW_IO__UNSIGNED ||
                 member->type == FW_IO__INT_TOLD)
            size = sizeof(int);
        else if (member->type == FW_IO__BOOL)
            size = sizeof(bool);
        else if (member->type == FW_IO__NULL)
            continue;
        memset(seen + member->at, 1, size);
        if (member->type == FW_IO__ARRAY || member->type == FW_IO__SIZES ||
            member->type == FW_IO__VERTICES)
            memset(seen + member->size, 1, sizeof(size_t));
        if (member->known != FW_IO__NOWHERE)
            memset(seen + member->known, 1,
                   member->type == FW_IO__ARRAY ? sizeof(size_t)
                                                : sizeof(bool));
    }
}

static void check_covered(const struct fw_io__kind *kind, const char *name)
{
    char *seen = calloc(kind->size + 1, 1);
    cover(kind, seen);
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

static void refuses(const char *path, const char *expected)
{
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    if (fw_plan_json_read(path, &plan, NULL, &err) == FW_OK)
        fail_msg("a plan with a bad %s was read", expected);
    assert_int_equal(err.status, FW_EINPUT);
    assert_null(plan);
    if (!strstr(err.text, expected) || !strstr(err.text, "plan.json: "))
        fail_msg("\"%s\" does not tell of \"%s\"", err.text, expected);
}

static struct json_object *parse_by_hand(void)
{
    const struct fw_plan plan = by_hand();
    char *bytes = write_plan(&plan);
    struct json_object *root = json_tokener_parse(bytes);
    assert_non_null(root);
    fw_file_free(bytes);
    return root;
}

static void put_json(const char *path, struct json_object *root)
{
    put_text(path, json_object_to_json_string(root));
}

/* Each member of each object once left out, and once a list of lists, which no
 * member is. What always is null may be anything. */
static void spoil_each(struct json_object *root, struct json_object *object,
                       const char *path, int *spoiled)
{
    static const char *const promised[] = {"passes_per_move", "walk_bound_m"};
    const struct lh_entry *next;
    for (struct lh_entry *entry = json_object_get_object(object)->head; entry;
         entry = (struct lh_entry *)next) {
        next = entry->next;
        char key[64];
        snprintf(key, sizeof key, "%s", (const char *)lh_entry_k(entry));
        struct json_object *value = (struct json_object *)lh_entry_v(entry);
        bool any = false;
        for (size_t i = 0; i < 2; i++)
            any |= !value && !strcmp(key, promised[i]);
        if (any)
            continue;
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

static void change(const char *path, const char *list, const char *member,
                   const char *value, const char *expected)
{
    struct json_object *root = parse_by_hand();
    struct json_object *object = root;
    if (list)
        object =
            json_object_array_get_idx(json_object_object_get(root, list), 0);
    if (value)
        json_object_object_add(object, member, json_tokener_parse(value));
    else
        json_object_object_del(object, member);
    put_json(path, root);
    json_object_put(root);
    refuses(path, expected);
}

static void absurd_values_are_refused_by_name(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    static const struct {
        const char *list, *member, *value, *expected;
    } rows[] = {
        {"paddocks", "area_ha", NULL, "paddocks[0].area_ha: is missing"},
        {"paddocks", "area_ha", "null", "paddocks[0].area_ha: expected"},
        {"paddocks", "field", "\"Nowhere\"", "no such field"},
        {"paddocks", "field", "null", "paddocks[0].field: expected one"},
        {"paddocks", "rings", "[[[0,1,9]]]", "paddocks[0].rings"},
        {"paddocks", "rings", "[[[0,1]]]", "paddocks[0].rings"},
        {"paddocks", "rings", "[[]]", "paddocks[0].rings"},
        {"paddocks", "rings", "[[[0,1,-1]]]", "paddocks[0].rings"},
        {"paddocks", "seq", "2147483648", "paddocks[0].seq: is 2147483648"},
        {"paddocks", "enter", "\"2026-13-01\"", "paddocks[0].enter"},
        {"paddocks", "paddock", "\"a\\u0000b\"", "paddocks[0].paddock"},
        {"paddocks", "water", "\"trough Z9\"", "no such water point"},
        {"paddocks", "paddock", "\"a name of more than thirty-one bytes\"",
         "at most 31"},
        {"fields", "corners", "[0,1]", "has 3 rows; expected 2"},
        {"fields", "paddocks", "4", "fields[0].paddocks"},
        {"fields", "first_fence", "1099511627777", "fields[0].first_fence"},
        {"fields", "vertices", "[[1,2,3,4,5,6]]", "fields[0].vertices"},
        {"fences", "line", "[1]", "fences[0].line"},
        {"fences", "line", "[1,7]", "fences[0].line"},
        {"fences", "from", "null", "fences[0].from"},
        {"fences", "to", "\"A09\"", "no such paddock"},
        {"fences", "set_at", "3", "fences[0].set_at"},
        {"fences", "down_at", "3", "fences[0].down_at"},
        {"fences", "side", "3", "fences[0].side"},
        {"fences", "role", "\"hedge\"", "fences[0].role: is hedge"},
        {"moves", "front", "\"A05-06\"", "no such fence"},
        {"moves", "way_back", "\"gate A\"", "moves[0].way_back"},
        {"moves", "to", "null", "moves[0].to"},
        {"moves", "opening", "\"gate Z\"", "no such gate"},
        {"posts", "fence", "null", "posts[0].fence"},
        {"power_days", "from", "null", "power_days[0].from: expected one"},
        {"power_days", "fence", "\"A99\"", "no such fence"},
        {NULL, "concerns", "[\"dragons\"]", "concerns: is dragons"},
        {NULL, "crs", "null", "crs"},
        {NULL, "format", "\"foldwright-plan/2\"", "is not a plan"},
        {NULL, "files", "[{\"name\":\"../x\",\"size\":1,\"crc32\":1}]",
         "not the name of a file"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        change(path, rows[i].list, rows[i].member, rows[i].value,
               rows[i].expected);
}

static void broken_text_is_refused(void **state)
{
    const char *path = in_scratch(*state, "plan.json");
    const struct fw_plan plan = by_hand();
    char *bytes = write_plan(&plan);
    const size_t length = strlen(bytes);
    for (size_t cut = 0; cut < length - 2; cut += 97) {
        const char kept = bytes[cut];
        bytes[cut] = '\0';
        put_text(path, bytes);
        refuses(path, "is ");
        bytes[cut] = kept;
    }
    fw_file_free(bytes);
    put_text(path, "{\"format\": \"foldwright-plan/1\"} and more");
    refuses(path, "is broken at byte");
    put_text(path, "{\"format\": \"foldwright-plan/1\", }");
    refuses(path, "is broken at byte");
    put_text(path, "[1, 2]");
    refuses(path, "is not a plan");
    char deep[200] = "";
    memset(deep, '[', 100);
    put_text(path, deep);
    refuses(path, "is broken at byte");
    unlink(path);
    refuses(path, "no such file");
}

/* ---- files of the same plan ---- */

static void missing_and_changed_files_are_noted(void **state)
{
    struct scratch *scratch = *state;
    const struct fw_plan plan = by_hand();
    struct fw_plan_file files[] = {{"same.csv", 3, 0},
                                   {"other.csv", 3, 0},
                                   {"gone.csv", 3, 0},
                                   {"longer.csv", 3, 0}};
    for (size_t i = 0; i < 4; i++)
        files[i].crc32 = fw_file_crc32("abc", 3);
    put_text(in_scratch(scratch, "same.csv"), "abc");
    put_text(in_scratch(scratch, "other.csv"), "abd");
    put_text(in_scratch(scratch, "longer.csv"), "abcd");
    char *bytes = NULL;
    size_t count = 0;
    assert_int_equal(fw_plan_json_write(&plan, files, 4, &bytes, &count, NULL),
                     FW_OK);
    put_text(in_scratch(scratch, "plan.json"), bytes);
    fw_file_free(bytes);
    struct fw_notes found = {0};
    struct fw_plan *back = NULL;
    assert_int_equal(fw_plan_json_read(scratch->path, &back, &found, NULL),
                     FW_OK);
    assert_int_equal(found.count, 3);
    assert_non_null(strstr(found.items[0].where, "other.csv"));
    assert_non_null(strstr(found.items[0].text, "is not the one"));
    assert_non_null(strstr(found.items[1].where, "gone.csv"));
    assert_non_null(strstr(found.items[1].text, "is missing"));
    assert_non_null(strstr(found.items[2].where, "longer.csv"));
    fw_notes_release(&found);
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
    const struct fw_plan plan = by_hand();
    char *bytes = write_plan(&plan);
    const char *other = in_scratch(scratch, "other.name");
    put_text(path, bytes);
    put_text(other, bytes);
    fw_file_free(bytes);
    assert_true(fw_plan_json_is(path));
    assert_true(fw_plan_json_is(other));
    assert_true(fw_plan_json_is(scratch->path));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(plan_comes_back_with_the_same_bytes),
        scratch_test(plan_comes_back_equal),
        cmocka_unit_test(every_member_of_a_plan_has_a_row),
        scratch_test(plan_of_the_sample_farm_comes_back),
        scratch_test(member_of_a_wrong_type_is_named),
        scratch_test(absurd_values_are_refused_by_name),
        scratch_test(broken_text_is_refused),
        scratch_test(missing_and_changed_files_are_noted),
        scratch_test(plan_is_known_by_its_content),
    };
    return cmocka_run_group_tests_name("io_plan", tests, NULL, NULL);
}
