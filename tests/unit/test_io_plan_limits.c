/* Both sides of each limit that a plan.json is held to: what is just allowed is
 * read, what is beyond is refused by the name of its member. */
#include "io/io.h"
#include "plan_on_earth.h"
#include "scratch.h"
#include "store/store.h"

#include <json-c/json.h>
#include <json-c/json_pointer.h>

struct change {
    const char *at, *value; /* a JSON pointer; NULL: the member goes */
    const char *expected;   /* NULL: it is read */
};

static struct json_object *parse_by_hand(void)
{
    const struct fw_plan plan = by_hand_on_earth();
    char *bytes = NULL;
    size_t count = 0;
    assert_int_equal(fw_plan_json_write(&plan, NULL, 0, &bytes, &count, NULL),
                     FW_OK);
    struct json_object *root = json_tokener_parse(bytes);
    assert_non_null(root);
    fw_bytes_free(bytes);
    return root;
}

/* The place of a value in a row, by the name of its column or by its number. */
static size_t column(struct json_object *root, const char *path,
                     const char *name)
{
    const char *last = strrchr(path, '/');
    const char *list = !strcmp(last, "/a") || !strcmp(last, "/b") ? "/paced"
                       : strstr(path, "/vertices/")               ? "/vertices"
                                                                  : path;
    struct json_object *names = NULL;
    char at[80];
    snprintf(at, sizeof at, "/columns/%.*s", (int)strcspn(list + 1, "/"),
             list + 1);
    if (!json_pointer_get(root, at, &names))
        for (size_t i = 0; i < json_object_array_length(names); i++)
            if (!strcmp(
                    json_object_get_string(json_object_array_get_idx(names, i)),
                    name))
                return i;
    return strtoul(name, NULL, 10);
}

static void put(struct json_object *root, const struct change *change)
{
    char path[200];
    snprintf(path, sizeof path, "%s", change->at);
    char *name = strrchr(path, '/') + 1;
    struct json_object *object = root;
    name[-1] = '\0';
    if (*path)
        assert_int_equal(json_pointer_get(root, path, &object), 0);
    struct json_object *value =
        change->value ? json_tokener_parse(change->value) : NULL;
    if (json_object_is_type(object, json_type_array))
        json_object_array_put_idx(object, column(root, path, name), value);
    else if (change->value)
        json_object_object_add(object, name, value);
    else
        json_object_object_del(object, name);
}

/* The plan by hand with one member, or two, put otherwise. */
static struct fw_plan *read_with(const struct scratch *scratch,
                                 const struct change *first,
                                 const struct change *second,
                                 struct fw_error *err)
{
    struct fw_plan *plan = NULL;
    struct json_object *root = parse_by_hand();
    put(root, first);
    if (second)
        put(root, second);
    put_text(in_scratch(scratch, "plan.json"),
             json_object_to_json_string(root));
    json_object_put(root);
    const enum fw_status status =
        fw_plan_json_read(in_scratch(scratch, "plan.json"), &plan, NULL, err);
    assert_int_equal(status, plan ? FW_OK : FW_EINPUT);
    return plan;
}

static void try_each(const struct scratch *scratch, const struct change *rows,
                     size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct fw_error err = {.text = "read"};
        struct fw_plan *plan = read_with(scratch, &rows[i], NULL, &err);
        const char *wanted = rows[i].expected ? rows[i].expected : "read";
        if (!strstr(err.text, wanted) || !plan != !!rows[i].expected)
            fail_msg("%s as %s: \"%s\", not \"%s\"", rows[i].at,
                     rows[i].value ? rows[i].value : "nothing", err.text,
                     wanted);
        fw_plan_free(plan);
    }
}
#define TRY_EACH(rows) try_each(*state, rows, sizeof rows / sizeof *rows)

/* ---- fields and what they count ---- */

static void fields_hold_to_their_own_lists(void **state)
{
    static const char near[] = "fields[0].vertices: one is over 1000 km";
    static const struct change rows[] = {
        {"/fields/2/field", "null", "fields[2].field: expected a text"},
        {"/fields/0/corners", "[0,1,4]", NULL},
        {"/fields/0/corners", "[0,1,5]", "fields[0].corners"},
        {"/fields/0/corners", "[0,1,null]", "fields[0].corners"},
        {"/fields/0/corner_numbers", "[]", NULL},
        {"/fields/0/corner_numbers", "[1,2,3]", NULL},
        {"/fields/0/corner_numbers", "[1,2]", "fields[0].corner_numbers"},
        {"/fields/0/corner_numbers", "[1,2,3,4]", "fields[0].corner_numbers"},
        {"/fields/0/side_numbers", "[]", NULL},
        {"/fields/0/side_numbers", "[1]", "fields[0].side_numbers"},
        /* 9 degrees of latitude and 13 of longitude are 1000 km there. */
        {"/fields/0/vertices/3", "[10.5,55.45,\"cut\"]", NULL},
        {"/fields/0/vertices/3", "[10.5,55.6,\"cut\"]", near},
        {"/fields/0/vertices/3", "[10.5,37.55,\"cut\"]", NULL},
        {"/fields/0/vertices/3", "[10.5,37.4,\"cut\"]", near},
        {"/fields/0/vertices/3", "[23.2,46.5,\"cut\"]", NULL},
        {"/fields/0/vertices/3", "[23.8,46.5,\"cut\"]", near},
        {"/fields/0/vertices/3", "[-2.2,46.5,\"cut\"]", NULL},
        {"/fields/0/vertices/3", "[-2.8,46.5,\"cut\"]", near},
        {"/fields/0/vertices/0", "[10.5,90,\"cut\"]", near},
        {"/fields/0/vertices/3", "[10.5,1e300,\"cut\"]", near},
        {"/fields/0/first_paddock", "1", "fields[0].first_paddock"},
        {"/fields/0/paddocks", "1", "fields[1].first_paddock"},
        {"/fields/0/paddocks", "3", "fields[1].first_paddock"},
        {"/fields/1/paddocks", "2", "fields[1].paddocks: counts beyond"},
        {"/fields/1/first_paddock", "1", "fields[1].first_paddock"},
        {"/fields/1/first_paddock", "3", "fields[1].first_paddock"},
        {"/fields/2/first_paddock", "2", "fields[2].first_paddock"},
        {"/fields/0/fences", "3", "fields[1].first_fence"},
        {"/fields/1/fences", "2", "fields[1].fences: counts beyond"},
        {"/fields/1/first_fence", "5", "fields[1].first_fence"},
        {"/fields/1/fences", "0", "fields[2].first_fence"},
        {"/fields/2/no_plan", "null", "fields[2].no_plan"},
        {"/fields/0/no_plan", "\"none\"", "fields[0].no_plan"},
        {"/fields/0/rings", "[[[0,1,2]]]", NULL},
        {"/fields/0/rings", "[[[0,1,4]]]", NULL},
        {"/fields/0/rings", "[[[0,1,5]]]", "fields[0].rings"},
        {"/fields/0/rings", "[[[0,1,2],[1,2]]]", "fields[0].rings"},
        {"/fields/0/rings", "[[[0,1,2]],[]]", "fields[0].rings"},
        {"/fields/0/rings", "[[],[[0,1,2]]]", "fields[0].rings"},
        {"/fields/0/rings", "{}", "fields[0].rings: expected a list of pie"},
        {"/fields/0/rings", "[{}]", "pieces that are lists of rings"},
        {"/fields/0/rings", "[[{}]]", "rings that are lists of vertices"},
        {"/fields/0/rings", "[[[0,1,null]]]",
         "fields[0].rings: expected a whole number"},
        {"/fields/0/rings", "[[[0,1,2.5]]]", "a whole number"},
        {"/fields/0/vertices", "{}", "fields[0].vertices: expected a list"},
        {"/fields/0/corners", "{}", "fields[0].corners: expected a list"},
        {"/fields/0/vertices/1", "{}", "vertices[1]: expected a row of lon"},
        {"/fields/0/vertices/1", "[1,2,\"input\",4,5,6]",
         "vertices[1]: has 6 values; expected 5"},
        {"/fields/0/vertices/1", "[1,2,\"bend\"]",
         "vertices[1].kind: is bend; expected a word"},
        {"/fields/0/vertices/1/lon", "\"1\"",
         "vertices[1].lon: expected a number"},
        {"/fields/0/vertices/1/y", "\"1\"", "vertices[1].y: expected a number"},
    };
    TRY_EACH(rows);
}

/* The last field has what is left, and all of it. */
static void nothing_is_left_without_a_field(void **state)
{
    static const struct {
        struct change first, second;
    } rows[] = {
        {{"/fields/1/paddocks", "0", "fields[2].paddocks: leaves some"},
         {"/fields/2/first_paddock", "2", NULL}},
        {{"/fields/1/fences", "0", "fields[2].fences: leaves some"},
         {"/fields/2/first_fence", "4", NULL}},
    };
    for (size_t i = 0; i < 2; i++) {
        struct fw_error err = {.text = ""};
        const struct change reason = {"/fields/1/no_plan", "\"none\"", NULL};
        struct change both[2] = {rows[i].first, rows[i].second};
        struct json_object *root = parse_by_hand();
        put(root, &both[0]);
        put(root, &both[1]);
        if (i == 0)
            put(root, &reason);
        const char *path = in_scratch(*state, "plan.json");
        put_text(path, json_object_to_json_string(root));
        json_object_put(root);
        struct fw_plan *plan = NULL;
        assert_int_equal(fw_plan_json_read(path, &plan, NULL, &err), FW_EINPUT);
        if (!strstr(err.text, rows[i].first.expected))
            fail_msg("%s", err.text);
    }
}

/* ---- paddocks, lanes, fences, gates and the rest ---- */

static void members_of_a_field_are_within_its_count(void **state)
{
    static const char a[] = "fences[0].a", b[] = "fences[0].b";
    static const struct change rows[] = {
        {"/paddocks/0/field", "\"Low \\\"meadow\\\" (2)\"",
         "paddocks[0].field: is not the field"},
        {"/paddocks/2/field", "\"Low \\\"meadow\\\"\"",
         "paddocks[2].field: is not the field"},
        {"/paddocks/0/rings", "[[[4,1,2]]]", NULL},
        {"/lanes/1/field", "\"Top\"", NULL},
        {"/lanes/1/rings", "[]", "lanes[1].rings"},
        {"/fences/0/field", "null", "fences[0].field: expected one"},
        {"/fences/0/field", "\"Low \\\"meadow\\\" (2)\"",
         "fences[0].field: is not the field"},
        {"/fences/4/field", "\"Low \\\"meadow\\\"\"",
         "fences[4].field: is not the field"},
        {"/fences/2/line", "[1,4]", NULL},
        {"/fences/0/line", "[]", "fences[0].line"},
        {"/fences/0/from", "null", "fences[0].from"},
        {"/fences/0/to", "null", "fences[0].from"},
        {"/fences/1/from", "\"A01\"", NULL},
        {"/fences/1/side", "2", NULL},
        {"/fences/1/side", "3", "fences[1].side"},
        {"/fences/0/length_m", "0", NULL},
        {"/fences/0/length_m", "-0.5", "fences[0].length_m"},
        {"/fences/0/length_m", "1e6", NULL},
        {"/fences/0/length_m", "1000000.5", "fences[0].length_m"},
        {"/fences/0/bearing_deg", "0", NULL},
        {"/fences/0/bearing_deg", "360", NULL},
        {"/fences/0/bearing_deg", "360.5", "fences[0].bearing_deg"},
        {"/fences/0/bearing_deg", "-0.5", "fences[0].bearing_deg"},
        {"/fences/0/a/corner", "0", NULL},
        {"/fences/0/a/corner", "3", a},
        {"/fences/0/a/corner", "null", a},
        {"/fences/0/a/towards", "3", a},
        {"/fences/0/a/towards", "null", a},
        {"/fences/0/a/by", "\"line\"", a},
        {"/fences/0/a/by", "\"straight\"", a},
        {"/fences/0/a/by", "null", NULL},
        {"/fences/0/b/fence", "null", b},
        {"/fences/0/b/by", "\"side\"", b},
        {"/fences/2/a/fence", "null", "fences[2].a"},
        {"/fences/2/a/bearing_deg", "null", "fences[2].a"},
        {"/fences/2/a/bearing_deg", "0", NULL},
        {"/fences/2/b/corner", "2", NULL},
        {"/fences/2/b/corner", "3", "fences[2].b"},
        {"/fences/2/b/bearing_deg", "null", "fences[2].b"},
        {"/gates/0/field", "null", "gates[0].field: expected one"},
        {"/gates/2/field", "\"Top\"", "gates[2].fence: expected a line"},
        {"/gates/2/fence", "\"A-side-2\"", "gates[2].fence: expected a line"},
        {"/gates/2/fence", "\"A-line-1\"", NULL},
        {"/gates/2/where", "\"gate\"", "gates[2].fence: expected one, but"},
        {"/water/1/field", "null", "water[1].field: expected one"},
        {"/power_days/0/from", "null", "power_days[0].from"},
        {"/power_days/0/to", "null", "power_days[0].to: expected a day"},
        {"/power_days/0/to", "\"2026-05-03\"", "power_days[0].to"},
        {"/power_days/0/to", "\"2026-05-04\"", NULL},
        {"/readings/0/fence", "null", "readings[0].fence: expected one"},
        {"/readings/0/step", "25", NULL},
        {"/readings/0/step", "26", "readings[0].step"},
        {"/readings/0/step", "null", "readings[0].step"},
        {"/end", "\"2026-05-05\"", NULL},
        {"/end", "\"2026-05-04\"", "end: expected a day after"},
        {"/end", "null", "end: expected a day"},
        {"/pace_m", "0.001", NULL},
        {"/pace_m", "-1", "pace_m: is -1"},
    };
    TRY_EACH(rows);
}

static void time_holds_to_its_order(void **state)
{
    static const struct change rows[] = {
        {"/stays/0/leave", "null", "stays[0].leave"},
        {"/stays/1/enter", "\"2026-05-05\"", NULL},
        {"/stays/2/leave", "\"2026-05-09\"", "moves[3].day"},
        {"/moves/0/later", "7", NULL},
        {"/moves/0/later", "8", "moves[0].later"},
        {"/moves/0/later", "0", NULL},
        {"/moves/1/ahead", "true", NULL},
        {"/moves/3/ahead", "true", "moves[3].ahead"},
        {"/moves/2/steps", "6", "moves[3].first_step"},
        {"/moves/0/first_step", "1", "moves[0].first_step"},
        {"/steps/5/over_m", "1", "steps[5].over: expected what they walk"},
        {"/steps/4/over_m", "1", NULL},
        {"/steps/21/fences", "[]", "steps[21].fences: expected some"},
        {"/steps/1/fences", "[]", "steps[1].fences: expected some"},
        {"/steps/2/fences", "[]", "steps[2].fences: expected some"},
        {"/steps/5/fences", "[\"A01-02\"]", "steps[5].fences"},
        {"/steps/5/gate", "\"gate A\"", "steps[5].gate"},
        {"/steps/7/gate", "null", "steps[7].gate"},
        {"/steps/11/gate", "null", "steps[11].gate"},
        {"/steps/0/fences", "[\"A01-02\",\"A-line-1\",\"A-side-2\"]",
         "steps[0].fences: expected none of the boundary"},
        {"/standings/1/down_step", "20", "standings[1].down_step"},
        {"/standings/1/down_step", "22", "standings[1].down_step"},
        {"/standings/1/down_move", "1", "standings[1].down_step"},
        {"/standings/2/up_step", "7", "standings[2].up_step"},
        {"/standings/2/up_step", "8", "standings[2].up_step"},
        {"/standings/2/up_move", "3", "standings[2].up_step"},
        {"/standings/0/down_move", "4", "standings[0].down_step"},
    };
    TRY_EACH(rows);
}

/* ---- figures, words and lists ---- */

static void figures_keep_to_their_kind(void **state)
{
    static const struct change rows[] = {
        {"/paddocks/0/area_ha", "12", NULL},
        {"/paddocks/0/keep", "\"heat\"", NULL},
        {"/paddocks/0/keep", "\"rain\"", "keep: is rain; expected a word"},
        {"/cautions/0/tried", "\"never\"", "tried: is never; expected"},
        {"/totals/lack", "null", NULL},
        {"/totals/lack", "0", "lack: expected an object"},
        {"/steps/4/way_m", "null", NULL},
        {"/paddocks/0/area_ha", "1e999", "area_ha: expected a number under"},
        {"/paddocks/0/area_ha", "-1e999", "area_ha: expected a number under"},
        {"/paddocks/0/area_ha", "\"1\"", "area_ha: expected a number"},
        {"/paddocks/0/seq", "-2147483648", NULL},
        {"/paddocks/0/seq", "2147483647", NULL},
        {"/paddocks/0/seq", "-2147483649", "seq: is -2147483649; expected"},
        {"/paddocks/0/seq", "2147483648", "seq: is 2147483648; expected"},
        {"/paddocks/0/seq", "1.5", "seq: expected a whole number"},
        {"/fields/0/first_fence", "1099511627776",
         "fields[0].first_fence: expected those"},
        {"/fields/0/first_fence", "1099511627777",
         "first_fence: is 1099511627777; expected 0 to 1099511627776"},
        {"/fields/0/first_fence", "-1", "first_fence: is -1; expected 0"},
        {"/inputs/0/crc32", "4294967295", NULL},
        {"/inputs/0/crc32", "4294967296", "crc32: is 4294967296"},
        {"/inputs/0/crc32", "-1", "crc32: is -1"},
        {"/back_fence", "1", "back_fence: expected true or false"},
        {"/back_fence", "null", "back_fence: expected true or false"},
        {"/start", "\"2026-5-4\"", "start: \"2026-5-4\" is not a date"},
        {"/start", "7", "start: expected a text"},
        {"/concerns", "{}", "concerns: expected a list of words"},
        {"/concerns", "[1]", "concerns: expected a text"},
        {"/concerns", "[]", NULL},
        {"/season", "null", "season: is null; expected a word like"},
        {"/season", "7", "season: expected a text"},
        {"/use_source", "7", "use_source: expected a text"},
        {"/use_source", "null", NULL},
        {"/notes", "{}", "notes: expected a list"},
        {"/notes/0", "7", "notes[0]: expected an object"},
        {"/notes/0/level", "\"loud\"", "notes[0].level: is loud"},
        {"/notes/0/where", "7", "notes[0].where: expected a text"},
        {"/notes/0/text", "7", "notes[0].text: expected a text"},
        {"/notes/1/text", "7", "notes[1].text: expected a text"},
        {"/steps/0/fences", "{}", "steps[0].fences: expected a list of names"},
        {"/steps", "{}", "steps: expected a list"},
        {"/steps/3", "7", "steps[3]: expected a row of step"},
        {"/fields/0/corners", "[1,2.5]", "corners: expected a whole number"},
        {"/fields/0/corners", "[1,null,2]", "corners: expected a whole number"},
        {"/fields/0/sides", "[]", "sides: has 0 rows; expected 3"},
        {"/lanes/0/lane", "\"1234567890123456789012345678901\"", NULL},
        {"/lanes/0/lane", "\"12345678901234567890123456789012\"",
         "lane: is 32 bytes long; expected at most 31"},
        {"/inputs/0/path", "null", "inputs[0].path: expected a text"},
        {"/files", NULL, "files: expected a list"},
    };
    TRY_EACH(rows);
}

/* ---- the files that a plan lists ---- */

static void listed_files_keep_to_their_bounds(void **state)
{
#define ONE(name, size, crc)                                                   \
    "[{\"name\":" name ",\"size\":" size ",\"crc32\":" crc "}]"
    static const char absurd[] = "files: a has an absurd size";
    static const char each[] = "files: expected name, size and crc32";
    static const struct change rows[] = {
        {"/files", "{}", "files: expected a list of up to 64"},
        {"/files", "[7]", "files: expected a list of objects"},
        {"/files", "[{\"size\":1,\"crc32\":1}]", each},
        {"/files", "[{\"name\":\"a\",\"crc32\":1}]", each},
        {"/files", "[{\"name\":\"a\",\"size\":1}]", each},
        {"/files", ONE("7", "1", "1"), each},
        {"/files", ONE("\"a\"", "1.5", "1"), each},
        {"/files", ONE("\"a\"", "1", "\"1\""), each},
        {"/files", ONE("\"\"", "1", "1"), "is not the name of a file"},
        {"/files", ONE("\"a/b\"", "1", "1"), "is not the name of a file"},
        {"/files", ONE("\"a\"", "0", "0"), NULL},
        {"/files", ONE("\"a\"", "-1", "0"), absurd},
        {"/files", ONE("\"a\"", "1073741824", "0"), NULL},
        {"/files", ONE("\"a\"", "1073741825", "0"), absurd},
        {"/files", ONE("\"a\"", "0", "4294967295"), NULL},
        {"/files", ONE("\"a\"", "0", "4294967296"), absurd},
        {"/files", ONE("\"a\"", "0", "-1"), absurd},
    };
#undef ONE
    TRY_EACH(rows);
    for (size_t extra = 0; extra < 2; extra++) {
        char list[8192] = "[", name[260] = "", one[400];
        struct fw_error err = {.text = "read"};
        /* 64 names are listed at most, of 255 bytes at most. */
        for (size_t i = 0; i < 64 + extra; i++)
            strcat(strcat(list, i ? "," : ""),
                   "{\"name\":\"a\",\"size\":1,\"crc32\":1}");
        const struct change files = {"/files", strcat(list, "]"), NULL};
        struct fw_plan *plan = read_with(*state, &files, NULL, &err);
        assert_int_equal(!plan, extra);
        fw_plan_free(plan);
        memset(name, 'n', 255 + extra);
        snprintf(one, sizeof one, "[{\"name\":\"%s\",\"size\":1,\"crc32\":1}]",
                 name);
        const struct change file = {"/files", one, NULL};
        plan = read_with(*state, &file, NULL, &err);
        assert_int_equal(!plan, extra);
        fw_plan_free(plan);
    }
}

/* ---- what else a reader makes of it ---- */

/* Names of a plan are told apart; a number that is a name already is passed
 * over. */
static void namesakes_get_the_next_free_number(void **state)
{
    struct fw_plan plan = by_hand_on_earth();
    struct fw_plan_paddock paddocks_of[3];
    memcpy(paddocks_of, plan.paddocks, sizeof paddocks_of);
    static const char *const ids[] = {"P", "P (2)", "P"};
    for (size_t i = 0; i < 3; i++)
        snprintf(paddocks_of[i].id, sizeof paddocks_of[i].id, "%s", ids[i]);
    plan.paddocks = paddocks_of;
    char *bytes = NULL;
    size_t count = 0;
    assert_int_equal(fw_plan_json_write(&plan, NULL, 0, &bytes, &count, NULL),
                     FW_OK);
    struct json_object *root = json_tokener_parse(bytes);
    put_text(in_scratch(*state, "plan.json"), bytes);
    fw_bytes_free(bytes);
    static const char *const wanted[] = {"P", "P (2)", "P (3)"};
    for (size_t i = 0; i < 3; i++) {
        struct json_object *stay =
            json_object_array_get_idx(json_object_object_get(root, "stays"), i);
        assert_string_equal(
            json_object_get_string(json_object_array_get_idx(stay, 0)),
            wanted[i]);
    }
    json_object_put(root);
    struct fw_plan *back = NULL;
    struct fw_error err = {.text = ""};
    if (fw_plan_json_read(in_scratch(*state, "plan.json"), &back, NULL, &err))
        fail_msg("%s", err.text);
    for (size_t i = 0; i < 3; i++)
        assert_int_equal(back->time.stays[i].cell, i);
    fw_plan_free(back);
}

static void openings_are_made_of_the_gates(void **state)
{
    struct fw_error err = {.text = ""};
    const struct change none = {"/tank_l", "null", NULL};
    const struct change always = {"/gates/3/on", "null", NULL};
    struct fw_plan *plan = read_with(*state, &none, &always, &err);
    if (!plan)
        fail_msg("%s", err.text);
    assert_int_equal(plan->time.opening_count, plan->gate_count);
    for (size_t i = 0; i < plan->gate_count; i++) {
        const struct fw_opening *opening = &plan->time.openings[i];
        const struct fw_plan_gate *gate = &plan->gates[i];
        assert_int_equal(opening->kind, gate->where);
        assert_int_equal(opening->field, gate->field);
        assert_int_equal(opening->line, gate->fence);
        assert_int_equal(opening->from, gate->from);
        assert_int_equal(opening->to, gate->to);
        assert_int_equal(opening->door, FW_NONE);
        assert_int_equal(opening->move, FW_NONE);
        /* In a fence, and open from the first day. */
        assert_int_equal(opening->open, i == 3);
        if (gate->fence != FW_NONE)
            assert_near(opening->at_m, gate->at_m, 0);
        assert_near(opening->width_m, gate->width_m, 0);
        assert_near(opening->place.x_m, gate->place.plane.x_m, 0);
        assert_near(opening->place.y_m, gate->place.plane.y_m, 0);
    }
    fw_plan_free(plan);
}

/* Asked of every input, by what it begins with. */
static void plan_is_known_by_its_first_member(void **state)
{
    static const struct {
        const char *text;
        bool is;
    } rows[] = {
        {"{\"format\":\"foldwright-plan/2\"}", true},
        {" \t\r\n{ \"format\" \t:\r\n \"foldwright-plan/17\"}", true},
        {"{\"a\": \"format\", \"format\": \"foldwright-plan/2\"}", true},
        {"{\"format\": \"x\", \"b\": {\"format\": \"foldwright-plan/2\"}}",
         true},
        {"[\"format\": \"foldwright-plan/2\"]", false},
        {"x{\"format\": \"foldwright-plan/2\"}", false},
        {"{\"format\" \"foldwright-plan/2\"}", false},
        {"{\"format\": \"foldwright\"}", false},
        {"{\"formats\": \"foldwright-plan/2\"}", false},
        {"", false},
    };
    const char *path = in_scratch(*state, "plan.json");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        put_text(path, rows[i].text);
        if (fw_plan_json_is(path) != rows[i].is)
            fail_msg("%s", rows[i].text);
    }
    /* All that is looked for stands in the first 65,536 bytes. */
    static const char key[] = "\"format\": \"foldwright-plan/";
    static char long_one[65536 + sizeof key];
    for (size_t over = 0; over < 2; over++) {
        memset(long_one, ' ', sizeof long_one - 1);
        *long_one = '{';
        strcpy(long_one + 65536 - (sizeof key - 1) + over, key);
        put_text(path, long_one);
        assert_int_equal(fw_plan_json_is(path), !over);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(fields_hold_to_their_own_lists),
        scratch_test(nothing_is_left_without_a_field),
        scratch_test(members_of_a_field_are_within_its_count),
        scratch_test(time_holds_to_its_order),
        scratch_test(figures_keep_to_their_kind),
        scratch_test(listed_files_keep_to_their_bounds),
        scratch_test(namesakes_get_the_next_free_number),
        scratch_test(openings_are_made_of_the_gates),
        scratch_test(plan_is_known_by_its_first_member),
    };
    return cmocka_run_group_tests_name("io_plan_limits", tests, NULL, NULL);
}
