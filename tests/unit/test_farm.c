#include "farm_help.h"
#include "table.h"

#include "keys/schema.h"
#include <foldwright/date.h>

#define FIELDS "\nfields: {source: field.geojson}\n"

/* ---- the table of texts and messages ---- */

static void unescape(const char *cell, char *text, size_t room)
{
    size_t length = 0;
    for (; *cell && length + 1 < room; cell++) {
        char c = *cell;
        if (c == '\\' && cell[1] && strchr("ntx\\", cell[1])) {
            c = cell[1] == 'n'    ? '\n'
                : cell[1] == 't'  ? '\t'
                : cell[1] == '\\' ? '\\'
                                  : '\xff';
            cell += cell[1] == 'x' ? 3 : 1;
        }
        text[length++] = c;
    }
    text[length] = '\0';
}

static enum fw_status read_option(char *cell, struct fw_error *err)
{
    char *value = strchr(cell, '=');
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    *value++ = '\0';
    const struct fw_farm_setting setting = {
        .key = cell, .value = value, .where = NULL};
    struct fw_farm_setting named = setting;
    char plain[64];
    snprintf(plain, sizeof plain, "%s", cell);
    char *bracket = strchr(plain, '[');
    if (bracket && strchr(bracket, ']')) /* flock[0].head: flock[].head */
        memmove(bracket + 1, strchr(bracket, ']'),
                strlen(strchr(bracket, ']')) + 1);
    for (size_t i = 0; i < count; i++)
        if (strcmp(keys[i].path, plain) == 0)
            named.where = keys[i].option;
    const char *source = "field.geojson";
    const struct fw_farm_request request = {.field_sources = &source,
                                            .field_source_count = 1,
                                            .settings = &named,
                                            .setting_count = 1,
                                            .fields_only = true};
    struct fw_farm *farm = NULL;
    const enum fw_status status =
        fw_farm_read(&request, &farm, NULL, NULL, err);
    fw_farm_free(farm);
    return status;
}

static enum fw_status read_row(const struct table *table, struct fw_error *err)
{
    const char *mode = table->cells[0];
    if (strcmp(mode, "option") == 0)
        return read_option(table->cells[1], err);
    char text[2048];
    unescape(table->cells[1], text, sizeof text - sizeof FIELDS);
    if (strcmp(mode, "raw") != 0 && !strstr(text, "fields:"))
        strcat(text, FIELDS);
    struct fw_farm *farm = farm_of(text, strncmp(mode, "plan", 4) != 0, err);
    const enum fw_status status = farm ? FW_OK : err->status;
    fw_farm_free(farm);
    return status;
}

static enum fw_status wanted_of(const struct table *table)
{
    const char *mode = table->cells[0];
    if (strstr(mode, "away"))
        return FW_EPLAN;
    if (strstr(mode, "no") || strcmp(mode, "raw") == 0)
        return FW_EINPUT;
    return strcmp(mode, "option") == 0 && table->cells[2][0] ? FW_EINPUT
                                                             : FW_OK;
}

static void each_text_of_the_table_is_taken_or_said_to_be_wrong(void **state)
{
    (void)state;
    struct table table;
    int wrong = 0;
    table_open(&table, "farm.tsv");
    while (table_next(&table, 3)) {
        struct fw_error err = {0};
        const enum fw_status wanted = wanted_of(&table);
        const enum fw_status status = read_row(&table, &err);
        const char *piece = table.cells[2];
        assert_null(strchr(err.text, '\n'));
        if (status == wanted && strstr(err.text, piece))
            continue;
        print_error("farm.tsv:%d: status %d, expected %d\n  said     \"%s\"\n"
                    "  expected \"%s\"\n",
                    table.line, (int)status, (int)wanted, err.text, piece);
        wrong++;
    }
    table_close(&table);
    assert_int_equal(wrong, 0);
}

/* ---- the schema itself ---- */

/* "flock[].weight" and a value: "flock: [{weight: 62 kg}]". */
static void nest(const char *path, const char *value, char *text, size_t room)
{
    char tail[64] = "";
    size_t length = 0, closing = sizeof tail - 1;
    for (; *path && length + 4 < room; path++) {
        if (path[0] == '.') {
            length += (size_t)snprintf(text + length, room - length, ": {");
            tail[--closing] = '}';
        } else if (path[0] == '[') {
            length += (size_t)snprintf(text + length, room - length, ": [{");
            tail[--closing] = ']';
            tail[--closing] = '}';
            path += 2;
        } else {
            text[length++] = path[0];
        }
    }
    snprintf(text + length, room - length, ": %s%s", value, tail + closing);
}

static bool is_value(size_t row)
{
    const enum fw_farm__shape shape = fw_farm__reading(row)->shape;
    return shape != FW_SHAPE_GROUP && shape != FW_SHAPE_LIST;
}

/* Keys that mean nothing alone. */
static bool stands_alone(const char *path)
{
    return strncmp(path, "fields", 6) != 0 && strncmp(path, "maps", 4) != 0 &&
           strncmp(path, "forage-map", 10) != 0 &&
           strncmp(path, "dem", 3) != 0 && strncmp(path, "lambing", 7) != 0 &&
           strncmp(path, "fence.owns", 10) != 0 &&
           strncmp(path, "perimeter.sides", 15) != 0 &&
           strcmp(path, "earlier") != 0 &&
           strcmp(path, "energizer.loaded") != 0 &&
           strcmp(path, "energizer.internal") != 0;
}

static void every_example_of_the_schema_is_taken(void **state)
{
    (void)state;
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    assert_int_equal(count, fw_farm__row_count());
    for (size_t i = 0; i < count; i++) {
        char text[512];
        if (!is_value(i) || !stands_alone(keys[i].path))
            continue;
        nest(keys[i].path, keys[i].example, text, 400);
        strcat(text, FIELDS);
        fw_farm_free(good_farm(text));
    }
}

static void every_key_but_plain_text_refuses_nonsense_by_its_path(void **state)
{
    (void)state;
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    for (size_t i = 0; i < count; i++) {
        char text[512], piece[128];
        struct fw_error err = {0};
        if (!is_value(i) || fw_farm__reading(i)->set == fw_farm__set_text ||
            fw_farm__reading(i)->set == fw_farm__set_only ||
            fw_farm__reading(i)->set == fw_farm__set_copy)
            continue;
        nest(keys[i].path, "nonsense", text, 400);
        if (strncmp(keys[i].path, "fields", 6) != 0)
            strcat(text, FIELDS);
        assert_null(farm_of(text, true, &err));
        assert_says(&err, "farm.yaml:1: ");
        assert_says(&err, "\"nonsense\"");
        snprintf(piece, sizeof piece, "%s: ",
                 strrchr(keys[i].path, '.') ? strrchr(keys[i].path, '.')
                                            : keys[i].path);
        assert_says(&err, piece);
    }
}

static void every_key_has_words_and_no_two_keys_share_an_option(void **state)
{
    (void)state;
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    for (size_t i = 0; i < count; i++) {
        char words[FW_FARM_KEY_WORDS];
        assert_true(keys[i].help[0] && keys[i].example[0]);
        assert_true(strlen(fw_farm_key_range(&keys[i], words)) > 0);
        if (fw_farm_key_otherwise(&keys[i], words)) /* and nothing is cut off */
            assert_in_range(strlen(words), 1, sizeof words - 2);
        assert_true(!keys[i].option || strncmp(keys[i].option, "--", 2) == 0);
        for (size_t j = 0; j < i; j++) {
            assert_string_not_equal(keys[i].path, keys[j].path);
            if (keys[i].option && keys[j].option)
                assert_string_not_equal(keys[i].option, keys[j].option);
        }
    }
}

/* ---- values ---- */

static const char whole[] =
    "\xEF\xBB\xBF# a farm of the tests\r\n"
    "farm: Ridge Farm\r\n"
    "units: us\r\n"
    "start: 2026-05-04\r\n"
    "last: even\r\n"
    "stay: {mon-fri: 1 day, sat: 2 days}\r\n"
    "away: [2026-05-20, 2026-06-01 to 2026-06-03]\r\n"
    "back-fence: no\r\n"
    "season: dormant\r\n"
    "lambing: {from: 2026-06-10, to: 2026-07-02, way: drift}\r\n"
    "first: far\r\n"
    "fence-bearing: 35 deg\r\n"
    "flock:\r\n"
    "  - class: ewes with twins\r\n"
    "    head: 90\r\n"
    "    weight: 145 lb\r\n"
    "    state: lactation-twins\r\n"
    "    intake: 2.6 %\r\n"
    "    coat: wool\r\n"
    "    trained: yes\r\n"
    "  - {head: 3, weight: 96 kg, state: ram, intake: 1.9 kg/day}\r\n"
    "forage: {sward: ryegrass-clover, density: thick, height: 22 cm,\r\n"
    "         leave: 9 cm, use: 75 %, use-of: above-residual, legume: 20 %}\r\n"
    "fields: {source: field.geojson}\r\n"
    "gate: corner:3\r\n"
    "water: side:2@60m\r\n"
    "park: corner:2\r\n"
    "perimeter: {holds: sheep, hot: yes, ponds: nothing,\r\n"
    "            sides: [{side: 2, holds: lambs, hot: no}]}\r\n"
    "soil: dry\r\n"
    "fence: {strands: 3, post-gap: 9 m, slack: 5 %, reel: 500 m,\r\n"
    "        reel-use: out-and-back, top: 60 cm,\r\n"
    "        bottom: 30 cm, owns: {reels: 6, posts: 90, wire: 2400 m}}\r\n"
    "perimeter-fence: {strands: 4, post-gap: 12 m, slack: 2 %}\r\n"
    "work: {order: set-first, walk-a-minute: 70 m, set-post: 9 s, tie-end: 1 "
    "min,\r\n"
    "       wind-a-minute: 50 m, pull-post: 6 s, posts-an-armful: 15}\r\n"
    "pace: 0.85 m\r\n"
    "hauling: {tank: 600 L, trough-moves: no}\r\n"
    "energizer: {rule: km, joules: 2 J, at: corner:1, open: 9 kV}\r\n"
    "conductor: poly-9x0.20\r\n"
    "perimeter-conductor: 0.05 ohm/m\r\n"
    "bonded: every 200 m\r\n"
    "far-end: hooked\r\n"
    "leakage: moderate\r\n"
    "lead: {length: 40 m, switch: 3 ohm}\r\n"
    "earth: {soil: clay, rods: 4, ohm: 15 ohm, test: 200 V}\r\n"
    "prices: {currency: EUR, post: 2.10, wire: 0.05}\r\n";

static void the_whole_file_is_read_into_the_farm(void **state)
{
    (void)state;
    struct fw_error err = {0};
    struct fw_farm *farm = farm_of(whole, false, &err);
    if (!farm)
        fail_msg("%s", err.text);
    assert_string_equal(farm->path, "farm.yaml");
    assert_string_equal(farm->name, "Ridge Farm");
    assert_string_equal(farm->fields_source, "field.geojson");
    assert_int_equal(farm->units, FW_US);
    char day[FW_DATE_TEXT];
    assert_string_equal(fw_date_write(farm->start_day, day), "2026-05-04");
    assert_int_equal(farm->last, FW_LAST_EVEN);
    assert_false(farm->back_fence);
    assert_true(farm->back_fence_told);
    assert_int_equal(farm->season, FW_SEASON_DORMANT);
    assert_true(farm->far_first);
    assert_int_equal(farm->work_order, FW_WORK_SET_FIRST);
    assert_true(farm->work_told);
    assert_true(farm->lambing.given);
    assert_string_equal(fw_date_write(farm->lambing.from, day), "2026-06-10");
    assert_string_equal(fw_date_write(farm->lambing.to, day), "2026-07-02");
    assert_int_equal(farm->lambing.way, FW_LAMBING_DRIFT);
    assert_string_equal(farm->fields[0].park.text, "corner:2");
    assert_true(farm->direction_given);
    assert_near(farm->direction_deg, 35, 1e-12);
    assert_true(farm->dry_soil && farm->soil_told);
    assert_near(farm->pace_m, 0.85, 1e-12);
    assert_near(farm->tank_l, 600, 1e-9);
    assert_false(farm->water_moves);
    assert_int_equal(farm->joule_rule, FW_RULE_KM);
    assert_near(farm->energizer_j, 2, 1e-12);
    assert_true(farm->energizer.given);
    const struct fw_farm_wiring *wiring = &farm->wiring;
    assert_near(wiring->moved_ohm_m, 2.55, 0.01);
    assert_near(wiring->perimeter_ohm_m, 0.05, 1e-12);
    assert_near(wiring->lead_ohm_m, 0.035, 0.0005);
    assert_int_equal(wiring->bonded, FW_BONDED_EVERY);
    assert_near(wiring->bond_gap_m, 200, 1e-9);
    assert_true(wiring->far_hooked && !wiring->moves);
    assert_near(wiring->moved_leak_ohm_km, 1000, 0);
    assert_near(wiring->perimeter_leak_ohm_km, 0, 0);
    assert_near(wiring->lead_m, 40, 1e-9);
    assert_near(wiring->switch_ohm, 3, 1e-9);
    assert_near(wiring->soil_ohm_m, 40, 0);
    assert_int_equal(wiring->rods, 4);
    assert_near(wiring->earth_ohm, 15, 1e-9);
    assert_near(wiring->rod_v, 200, 1e-9);
    assert_near(wiring->open_v, 9000, 1e-9);
    /* 2 J in 100 us into 500 ohm: 3162 V; 500 (9000 / 3162.3 - 1) */
    assert_near(wiring->internal_ohm, 923.02, 0.01);
    fw_farm_free(farm);
}

static void the_flock_is_read_class_by_class(void **state)
{
    (void)state;
    struct fw_farm *farm = good_farm(whole);
    assert_int_equal(farm->class_count, 2);
    const struct fw_flock_class *ewes = &farm->classes[0];
    assert_string_equal(ewes->name, "ewes with twins");
    assert_int_equal(ewes->head, 90);
    assert_near(ewes->weight_kg, 145 * 0.45359237, 1e-9);
    assert_int_equal(ewes->state, FW_LACTATION_TWINS);
    assert_near(ewes->intake_share, 0.026, 1e-15);
    assert_near(ewes->intake_kg_day, 0, 0);
    assert_int_equal(ewes->coat, FW_WOOL);
    assert_int_equal(ewes->trained, FW_YES);
    const struct fw_flock_class *rams = &farm->classes[1];
    assert_string_equal(rams->name, fw_flock_row(FW_RAM)->label);
    assert_near(rams->intake_share, 0, 0);
    assert_near(rams->intake_kg_day, 1.9, 1e-12);
    assert_int_equal(rams->coat, FW_COAT_UNTOLD);
    assert_int_equal(rams->trained, FW_UNTOLD);
    fw_farm_free(farm);
}

static void grass_sides_and_spots_are_read_into_the_field(void **state)
{
    (void)state;
    struct fw_farm *farm = good_farm(whole);
    const struct fw_farm_field *field = &farm->fields[0];
    assert_string_equal(field->sward.name, "ryegrass-clover");
    assert_int_equal(field->sward.density, FW_DENSITY_THICK);
    assert_near(field->sward.height_m, 0.22, 1e-12);
    assert_near(field->sward.leave_m, 0.09, 1e-12);
    assert_near(field->sward.use, 0.75, 1e-12);
    assert_int_equal(field->sward.use_of, FW_USE_ABOVE_RESIDUAL);
    assert_near(field->sward.legume, 0.2, 1e-12);
    assert_near(field->sward.mass_kg_ha, 0, 0);
    for (size_t i = 0; i < 4; i++) {
        assert_int_equal(field->sides[i].holds,
                         i == 1 ? FW_HOLDS_LAMBS : FW_HOLDS_SHEEP);
        assert_int_equal(field->sides[i].hot, i == 1 ? FW_NO : FW_YES);
    }
    assert_int_equal(field->hole_holds, FW_HOLDS_NOTHING);
    struct fw_point corner, along;
    assert_int_equal(fw_field_place(field->shape, 2, 0, &corner, NULL), FW_OK);
    assert_int_equal(fw_field_place(field->shape, 1, 60, &along, NULL), FW_OK);
    assert_true(field->gate.given && field->water.given);
    assert_near(field->gate.point.x_m, corner.x_m, 0);
    assert_near(field->gate.point.y_m, corner.y_m, 0);
    assert_near(field->water.point.x_m, along.x_m, 0);
    assert_near(field->water.point.y_m, along.y_m, 0);
    assert_string_equal(field->water.text, "side:2@60m");
    fw_farm_free(farm);
}

/* The lowest wire follows the smallest of the flock. */
static void wires_hang_for_the_flock(void **state)
{
    (void)state;
    static const struct {
        const char *states, *fence;
        double bottom_m, top_m;
        enum fw_held held;
    } rows[] = {
        {"dry", "", 0.35, 0.55, FW_HELD_GROWN},
        {"hogget", "", 0.35, 0.55, FW_HELD_GROWN},
        {"weaned-lamb", "", 0.30, 0.55, FW_HELD_WEANED},
        {"ram-lamb", "strands: 3", 0.30, 0.69, FW_HELD_WEANED},
        {"lactation-twins", "", 0.23, 0.55, FW_HELD_AT_FOOT},
        {"lamb-at-foot", "strands: 4", 0.23, 0.90, FW_HELD_AT_FOOT},
        {"lactation-twins", "lambs: creep", 0.35, 0.55, FW_HELD_GROWN},
        {"lactation-twins", "bottom: 28 cm", 0.28, 0.55, FW_HELD_AT_FOOT},
        {"lactation-twins", "top: 50 cm", 0.23, 0.50, FW_HELD_AT_FOOT},
        {"dry", "lay-flat: no", 0.35, 0.55, FW_HELD_GROWN},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[512];
        snprintf(text, sizeof text,
                 "flock:\n  - {head: 3, weight: 60 kg, state: ram}\n  - {head: "
                 "9, weight: 40 kg, state: %s}\nfence: {%s}\n" FIELDS,
                 rows[i].states, rows[i].fence);
        struct fw_farm *farm = good_farm(text);
        assert_near(farm->moved.height_bottom_m, rows[i].bottom_m, 1e-12);
        assert_near(farm->moved.height_top_m, rows[i].top_m, 1e-12);
        assert_int_equal(fw_farm_held(farm), rows[i].held);
        assert_int_equal(farm->moved.lay_flat,
                         !strstr(rows[i].fence, "lay-flat: no"));
        assert_int_equal(farm->lambs_creep,
                         strstr(rows[i].fence, "creep") != NULL);
        fw_farm_free(farm);
    }
}

static void fences_work_and_prices_are_read(void **state)
{
    (void)state;
    struct fw_farm *farm = good_farm(whole);
    assert_int_equal(farm->moved.strands, 3);
    assert_near(farm->moved.post_gap_m, 9, 1e-12);
    assert_near(farm->moved.slack, 0.05, 1e-12);
    assert_near(farm->moved.reel_m, 500, 1e-9);
    assert_true(farm->moved.out_and_back);
    assert_false(farm->perimeter.spec.out_and_back);
    assert_near(farm->moved.height_top_m, 0.6, 1e-12);
    assert_near(farm->moved.height_bottom_m, 0.3, 1e-12);
    assert_int_equal(farm->perimeter.spec.strands, 4);
    assert_near(farm->perimeter.spec.post_gap_m, 12, 1e-12);
    assert_near(farm->perimeter.spec.slack, 0.02, 1e-12);
    assert_true(farm->kit_given);
    assert_int_equal(farm->kit.reels, 6);
    assert_int_equal(farm->kit.posts, 90);
    assert_near(farm->kit.wire_m, 2400, 1e-9);
    assert_near(farm->rates.walk_m_min, 70, 1e-9);
    assert_near(farm->rates.wind_m_min, 50, 1e-9);
    assert_near(farm->rates.set_post_s, 9, 1e-9);
    assert_near(farm->rates.pull_post_s, 6, 1e-9);
    assert_near(farm->rates.end_s, 60, 1e-9);
    assert_int_equal(farm->rates.posts_an_armful, 15);
    assert_string_equal(farm->prices.currency, "EUR");
    assert_near(farm->prices.post, 2.1, 0);
    assert_near(farm->prices.wire_m, 0.05, 0);
    assert_true(farm->prices.reel < 0 && farm->prices.insulator < 0);
    fw_farm_free(farm);
}

/* ---- days ---- */

static void stays_follow_the_days_of_the_week(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        double days[7];
    } cases[] = {
        {"2 days", {2, 2, 2, 2, 2, 2, 2}},
        {"1 week", {7, 7, 7, 7, 7, 7, 7}},
        {"{mon-fri: 1 day, sat: 2 days}", {1, 1, 1, 1, 1, 2, 0}},
        {"{mon\xE2\x80\x93wed: 1 day, Thu: 4 days}", {1, 1, 1, 4, 0, 0, 0}},
        {"{fri-mon: 1 day}", {1, 0, 0, 0, 1, 1, 1}},
        {"{tuesday: 3 days, friday: 4 days}", {0, 3, 0, 0, 4, 0, 0}},
        {"\"mon - sat: 1 day\"", {1, 1, 1, 1, 1, 1, 0}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[256];
        snprintf(text, sizeof text, "stay: %s" FIELDS, cases[i].text);
        struct fw_farm *farm = good_farm(text);
        for (int day = 0; day < 7; day++)
            assert_near(farm->stay.days[day], cases[i].days[day], 0);
        fw_farm_free(farm);
    }
}

static void nobody_is_away_longer_than_a_stay(void **state)
{
    (void)state;
    struct fw_error err = {0};
    fw_farm_free(good_farm("away: 2026-05-01 to 2026-06-29" FIELDS));
    assert_null(farm_of("away: 2026-05-01 to 2026-06-30" FIELDS, true, &err));
    assert_says(&err, "2026-05-01 to 2026-06-30");
    assert_says(&err, "61 days; expected at most 60");
}

static unsigned bits(enum fw_role a, enum fw_role b)
{
    return 1U << a | 1U << b;
}

static void what_was_looked_at_is_roles_and_a_day(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        enum fw_role first, second;
        unsigned steep;
        const char *day; /* NULL: not told */
    } rows[] = {
        {"looked: [road, telecom]\nlooked-on: 2027-05-10\n", FW_ROLE_ROAD,
         FW_ROLE_TELECOM, 0, "2027-05-10"},
        {"looked: road, telecom\n", FW_ROLE_ROAD, FW_ROLE_TELECOM, 0, NULL},
        {"looked: [road, steep, ' water ']\n", FW_ROLE_ROAD, FW_ROLE_WATER,
         FW_LOOKED_STEEP, NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char text[256], day[FW_DATE_TEXT];
        snprintf(text, sizeof text, "%sfields: {source: field.geojson}\n",
                 rows[i].text);
        struct fw_farm *farm = good_farm(text);
        assert_int_equal(farm->looked,
                         bits(rows[i].first, rows[i].second) | rows[i].steep);
        assert_int_equal(farm->looked_day == FW_NO_DAY, !rows[i].day);
        if (rows[i].day)
            assert_string_equal(fw_date_write(farm->looked_day, day),
                                rows[i].day);
        fw_farm_free(farm);
    }
    struct fw_farm *farm = good_farm("fields: {source: field.geojson}\n");
    assert_int_equal(farm->looked, 0);
    assert_int_equal(farm->looked_day, FW_NO_DAY);
    fw_farm_free(farm);
}

static void what_nobody_looks_for_is_refused(void **state)
{
    (void)state;
    static const char *const rows[][2] = {
        {"looked: [road, lane]", "\"lane\" is nothing that is looked for"},
        {"looked: exclusion", "\"exclusion\" is nothing that is looked for"},
        {"looked: [raod]", "try road"},
        {"looked: 'road,'", "\"\" is not a role"},
        {"looked: a-word-that-is-longer-than-any-role-of-a-map", "no role"},
        {"looked-on: yesterday", "looked-on"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_error err = {0};
        char text[256];
        snprintf(text, sizeof text, "%s\nfields: {source: field.geojson}\n",
                 rows[i][0]);
        if (farm_of(text, true, &err))
            fail_msg("taken: %s", rows[i][0]);
        assert_says(&err, rows[i][1]);
        assert_says(&err, "farm.yaml:1: looked");
    }
}

/* An option goes over what the file says, and may come as often as needed. */
static void looked_of_an_option_goes_over_the_file(void **state)
{
    (void)state;
    put_text("farm.yaml", "looked: [road, pond]\n"
                          "fields: {source: field.geojson}\n");
    static const struct fw_farm_setting settings[] = {
        {"looked", "telecom,steep", "--looked"},
        {"looked", "path", "--looked"}};
    const struct fw_farm_request request = {
        .farm_path = "farm.yaml",
        .fields_only = true,
        .settings = settings,
        .setting_count = 2,
    };
    struct fw_farm *farm = NULL;
    struct fw_error err;
    if (fw_farm_read(&request, &farm, NULL, NULL, &err))
        fail_msg("%s", err.text);
    assert_int_equal(farm->looked,
                     bits(FW_ROLE_TELECOM, FW_ROLE_PATH) | FW_LOOKED_STEEP);
    fw_farm_free(farm);
}

static void days_away_are_pairs_of_first_and_last(void **state)
{
    (void)state;
    struct fw_farm *farm =
        good_farm("away: [2026-05-20, 2026-06-01 to 2026-06-03, "
                  "2026-07-01 \xE2\x80\x93 2026-07-02]" FIELDS);
    static const char *const wanted[] = {"2026-05-20", "2026-05-20",
                                         "2026-06-01", "2026-06-03",
                                         "2026-07-01", "2026-07-02"};
    assert_int_equal(farm->stay.away_count, 3);
    for (size_t i = 0; i < 6; i++) {
        char day[FW_DATE_TEXT];
        assert_string_equal(fw_date_write(farm->stay.away[i], day), wanted[i]);
    }
    fw_farm_free(farm);
}

/* ---- caps ---- */

static void a_file_nested_too_deep_is_refused_at_once(void **state)
{
    (void)state;
    enum { deep = 100000 };
    char *text = calloc(deep + 8, 1);
    struct fw_error err = {0};
    memcpy(text, "farm: ", 6);
    memset(text + 6, '[', deep);
    assert_null(farm_of(text, true, &err));
    assert_says(&err, "farm.yaml:1: is nested over 32 deep");
    free(text);
}

static void more_values_than_any_farm_has_are_refused(void **state)
{
    (void)state;
    enum { items = 100001 };
    char *text = calloc(2 * items + 16, 1);
    struct fw_error err = {0};
    memcpy(text, "away: [", 7);
    for (size_t i = 0; i < items; i++)
        memcpy(text + 7 + 2 * i, "a,", 2);
    assert_null(farm_of(text, true, &err));
    assert_says(&err, "is the 100,001st value");
    free(text);
}

static void a_file_of_over_four_megabytes_is_refused(void **state)
{
    (void)state;
    enum { bytes = (4 << 20) + 1 };
    char *text = malloc(bytes + 1);
    struct fw_error err = {0};
    memset(text, '#', bytes);
    text[bytes] = '\0';
    assert_null(farm_of(text, true, &err));
    assert_says(&err, "farm.yaml: is over 4194304 bytes");
    free(text);
}

static void aliases_cannot_grow_into_billions(void **state)
{
    (void)state;
    struct fw_error err = {0};
    assert_null(
        farm_of("a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\n", true, &err));
    assert_says(&err, "farm.yaml:1: anchors and aliases");
}

static void a_scalar_with_a_nul_in_it_is_refused(void **state)
{
    (void)state;
    struct fw_error err = {0};
    assert_null(farm_of("farm: \"a\\0b\"" FIELDS, true, &err));
    assert_says(&err, "farm.yaml:1: farm: \"a\" has a line end, a tab or a "
                      "control character");
}

/* In the file and on the command line: the second is a C1 control, the third
 * turns the letters after it round. */
static void what_steers_a_terminal_is_refused(void **state)
{
    (void)state;
    static const char *const names[] = {"a\x1b[31mb",
                                        "a\xC2\x9B"
                                        "31mb",
                                        "a\xE2\x80\xAE"
                                        "b",
                                        "a\tb", "a\nb"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        struct fw_error err = {0};
        struct fw_farm *farm = NULL;
        const struct fw_farm_setting setting = {"farm", names[i], "--farm"};
        const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                                .settings = &setting,
                                                .setting_count = 1,
                                                .fields_only = true};
        put_text("farm.yaml", "fields: {source: field.geojson}\n");
        assert_int_equal(fw_farm_read(&request, &farm, NULL, NULL, &err),
                         FW_EINPUT);
        assert_says(&err, "--farm: \"a ");
        assert_says(&err, "control character");
    }
    struct fw_error err = {0};
    assert_null(farm_of("farm: \"a\\u202eb\"" FIELDS, true, &err));
    assert_says(&err, "farm.yaml:1: farm: \"a   b\"");
}

/* The farm file first, then the maps as they are read, each with its sum. */
static void every_file_that_is_read_is_an_input(void **state)
{
    (void)state;
    static const char text[] = "farm: x\nfields: {source: field.geojson}\n"
                               "maps: [{role: road, source: road.geojson}]\n";
    put_text("road.geojson",
             "{\"type\":\"FeatureCollection\",\"features\":[]}");
    struct fw_farm *farm = good_farm(text);
    static const char *const paths[] = {"farm.yaml", "field.geojson",
                                        "road.geojson"};
    assert_int_equal(farm->inputs.count, 3);
    for (size_t i = 0; i < 3; i++) {
        assert_string_equal(farm->inputs.items[i].path, paths[i]);
        assert_true(farm->inputs.items[i].known);
    }
    assert_int_equal(farm->inputs.items[0].crc32,
                     fw_file_crc32(text, strlen(text)));
    fw_farm_free(farm);
}

static void a_missing_file_is_said(void **state)
{
    (void)state;
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    const struct fw_farm_request request = {.farm_path = "no.yaml"};
    assert_int_equal(fw_farm_read(&request, &farm, NULL, NULL, &err),
                     FW_EINPUT);
    assert_says(&err, "no.yaml: no such file");
    assert_null(farm);
    /* Nobody has to ask for the message. */
    assert_int_equal(fw_farm_read(&request, &farm, NULL, NULL, NULL),
                     FW_EINPUT);
}

/* ---- units ---- */

static void units_are_guessed_from_how_values_are_written(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        enum fw_units units;
    } cases[] = {
        {"flock: {weight: 62 kg}", FW_METRIC},
        {"flock: {weight: 145 lb}", FW_US},
        {"forage: {height: 9 in}", FW_US},
        {"forage: {mass: 2100 lb/acre}", FW_US},
        {"fence: {post-gap: 25 ft}", FW_US},
        {"units: metric\nflock: {weight: 145 lb}", FW_METRIC},
        {"flock: {weight: 62 kg}\nunits: us", FW_US},
        {"farm: ten acres in all", FW_METRIC}, /* no quantity */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[256];
        snprintf(text, sizeof text, "%s" FIELDS, cases[i].text);
        struct fw_farm *farm = good_farm(text);
        assert_int_equal(farm->units, cases[i].units);
        fw_farm_free(farm);
    }
}

static void units_told_below_hold_for_quantities_above(void **state)
{
    (void)state;
    struct fw_error err = {0};
    assert_null(farm_of("flock: {weight: 0.05 ton}" FIELDS, true, &err));
    assert_says(&err, "ton");
    struct fw_farm *farm =
        good_farm("flock: {weight: 0.05 ton}\nunits: us" FIELDS);
    assert_near(farm->classes[0].weight_kg, 0.05 * 907.18474, 1e-9);
    fw_farm_free(farm);
}

/* ---- options ---- */

static struct fw_farm *with_settings(const char *text,
                                     const struct fw_farm_setting *settings,
                                     size_t count)
{
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    put_text("farm.yaml", text);
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .settings = settings,
                                            .setting_count = count,
                                            .fields_only = true};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err))
        fail_msg("%s", err.text);
    return farm;
}

static void options_go_over_what_the_file_says(void **state)
{
    (void)state;
    const struct fw_farm_setting settings[] = {
        {"flock[].head", "40", "--head"},   {"stay", "3 days", "--stay"},
        {"away", "2026-08-01", "--away"},   {"away", "2026-08-05", "--away"},
        {"gate", "corner:1", "--gate"},     {"units", "metric", "--units"},
        {"flock[1].weight", "80 kg", NULL},
    };
    struct fw_farm *farm =
        with_settings(whole, settings, sizeof settings / sizeof settings[0]);
    assert_int_equal(farm->classes[0].head, 40);
    assert_int_equal(farm->classes[1].head, 3);
    assert_near(farm->classes[1].weight_kg, 80, 1e-12);
    assert_near(farm->stay.days[6], 3, 0);
    assert_int_equal(farm->stay.away_count, 2);
    assert_int_equal(farm->units, FW_METRIC);
    assert_string_equal(farm->fields[0].gate.text, "corner:1");
    fw_farm_free(farm);
}

/* A measured mass on the command line stands in place of the file's height. */
static void a_mass_and_a_height_from_two_places_do_not_meet(void **state)
{
    (void)state;
    const struct fw_farm_setting mass = {"forage.mass", "2600 kg/ha", "--mass"};
    struct fw_farm *farm = with_settings(
        "forage: {sward: ryegrass-clover, height: 22 cm, leave: 9 cm}" FIELDS,
        &mass, 1);
    assert_near(farm->fields[0].sward.mass_kg_ha, 2600, 1e-9);
    assert_near(farm->fields[0].sward.height_m, 0, 0);
    assert_near(farm->fields[0].sward.leave_m, 0.09, 1e-12);
    fw_farm_free(farm);

    const struct fw_farm_setting height = {"forage.height", "9 in", "--height"};
    farm = with_settings(
        "forage: {mass: 2600 kg/ha, residual: 1400 kg/ha}" FIELDS, &height, 1);
    assert_near(farm->fields[0].sward.mass_kg_ha, 0, 0);
    assert_near(farm->fields[0].sward.height_m, 0.2286, 1e-12);
    fw_farm_free(farm);
}

static void a_new_class_can_be_added_by_an_option(void **state)
{
    (void)state;
    const struct fw_farm_setting settings[] = {{"flock[+].head", "7", NULL},
                                               {"flock[2].state", "ram", NULL}};
    struct fw_farm *farm = with_settings(whole, settings, 2);
    assert_int_equal(farm->class_count, 3);
    assert_int_equal(farm->classes[2].head, 7);
    assert_int_equal(farm->classes[2].state, FW_RAM);
    fw_farm_free(farm);
}

/* ---- defaults ---- */

static const struct fw_farm_default *find_default(const struct fw_farm *farm,
                                                  const char *what)
{
    for (size_t i = 0; i < farm->default_count; i++)
        if (strcmp(farm->defaults[i].what, what) == 0)
            return &farm->defaults[i];
    return NULL;
}

static void what_was_not_told_is_listed_with_its_source(void **state)
{
    (void)state;
    struct fw_error err = {0};
    struct fw_farm *farm = farm_of(
        "start: 2026-05-04\nflock: {head: 90, weight: 60 kg, state: dry}\n"
        "forage: {sward: ryegrass-clover, height: 22 cm, leave: 9 cm}" FIELDS,
        false, &err);
    if (!farm)
        fail_msg("%s", err.text);
    static const char *const whats[] = {"units",
                                        "stay",
                                        "last paddock",
                                        "back fence",
                                        "pace",
                                        "soil",
                                        "intake of dry ewe",
                                        "use of the grass",
                                        "weight of the grass by height",
                                        "strands",
                                        "post gap",
                                        "slack of the wire",
                                        "wire on a reel",
                                        "wire of moved fence",
                                        "live wire of the boundary",
                                        "strands joined",
                                        "grass on the lowest wire",
                                        "soil at the earth rods"};
    for (size_t i = 0; i < sizeof whats / sizeof whats[0]; i++) {
        const struct fw_farm_default *row = find_default(farm, whats[i]);
        if (!row)
            fail_msg("no default \"%s\"", whats[i]);
        assert_true(row->value[0] && row->source[0]);
    }
    /* Daily moves: 80 % (Penn State Agronomy Guide, table 1.8-9). */
    assert_string_equal(find_default(farm, "use of the grass")->value, "80 %");
    assert_string_equal(find_default(farm, "post gap")->value, "8 m");
    assert_near(farm->pace_m, 0.8, 0);
    assert_true(farm->back_fence);
    fw_farm_free(farm);
}

/* Each class by its name. */
static void what_was_taken_of_a_class_names_it(void **state)
{
    (void)state;
    struct fw_error err = {0};
    struct fw_farm *farm = farm_of(
        "start: 2026-05-04\n"
        "flock:\n"
        "  - {class: hoggs, head: 9, weight: 50 kg, intake: 1.5 kg/day}\n"
        "  - {class: tups, head: 2, weight: 90 kg, state: ram}\n"
        "  - {head: 3, weight: 60 kg, state: dry, intake: 2 %}\n"
        "forage: {mass: 2600 kg/ha, residual: 1400 kg/ha}" FIELDS,
        false, &err);
    if (!farm)
        fail_msg("%s", err.text);
    assert_string_equal(find_default(farm, "state of hoggs")->value, "dry");
    assert_null(find_default(farm, "intake of hoggs"));
    assert_non_null(find_default(farm, "intake of tups"));
    assert_null(find_default(farm, "state of tups"));
    assert_null(find_default(farm, "intake of dry ewe"));
    assert_null(find_default(farm, "weight of the grass by height"));
    fw_farm_free(farm);
}

static void what_was_told_is_no_default(void **state)
{
    (void)state;
    struct fw_error err = {0};
    struct fw_farm *farm = farm_of(whole, false, &err);
    assert_non_null(farm);
    assert_int_equal(farm->default_count, 1);
    assert_string_equal(farm->defaults[0].what,
                        "weight of the grass by height");
    fw_farm_free(farm);
}

static void what_is_dangerous_not_to_know_stays_untold(void **state)
{
    (void)state;
    struct fw_farm *farm = good_farm("flock: {head: 90}" FIELDS);
    assert_int_equal(farm->classes[0].trained, FW_UNTOLD);
    assert_int_equal(farm->classes[0].coat, FW_COAT_UNTOLD);
    assert_int_equal(farm->fields[0].sides[0].holds, FW_HOLDS_UNTOLD);
    assert_int_equal(farm->fields[0].sides[0].hot, FW_UNTOLD);
    assert_int_equal(farm->fields[0].hole_holds, FW_HOLDS_UNTOLD);
    assert_true(farm->fields[0].sward.legume < 0);
    assert_false(farm->fields[0].gate.given || farm->fields[0].water.given);
    assert_int_equal(farm->start_day, FW_NO_DAY);
    fw_farm_free(farm);
}

/* ---- telling a farm file by its content ---- */

static void a_farm_file_is_told_by_its_content(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        bool farm;
    } cases[] = {
        {"farm: x\n", true},
        {"\xEF\xBB\xBF# note\r\n\r\nfields:\r\n  source: a\r\n", true},
        {"---\nflok: 1\nunits: us\n", true},
        {"flock:", true},
        {"{\"farm\": 1}", false},
        {"{\"type\":\"FeatureCollection\",\nfarm: x}", false},
        {"<gpx>\nfarm: x", false},
        {"name: x\nlayer: y\n", false},
        {"farm\n", false},
        {"farm:x\n", false},
        {" farm: x\n", false},
        {"", false},
        {"WKT,name\n\"POLYGON ((0 0,1 0,1 1,0 0))\",farm\n", false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        put_text("what", cases[i].text);
        if (fw_farm_is_farm_file("what") != cases[i].farm)
            fail_msg("taken for the wrong thing: %s", cases[i].text);
    }
    assert_false(fw_farm_is_farm_file("."));
    assert_false(fw_farm_is_farm_file("not-there"));
    assert_int_equal(mkfifo("pipe", 0600), 0);
    alarm(20);
    assert_false(fw_farm_is_farm_file("pipe")); /* and is not waited for */
    alarm(0);
}

/* ---- the guide ---- */

static void row_of(const struct fw_farm_key *key, char row[1024])
{
    char range[FW_FARM_KEY_WORDS], words[FW_FARM_KEY_WORDS];
    const char *tick = key->option ? "`" : "";
    const char *otherwise = fw_farm_key_otherwise(key, words);
    snprintf(row, 1024, "| `%s` | %s%s%s | %s | %s | `%s` | %s |\n", key->path,
             tick, key->option ? key->option : "", tick, key->help,
             fw_farm_key_range(key, range), key->example,
             otherwise ? otherwise : "not told");
}

/* With BLESS the rows that are there are written anew; a new one is put where
 * it belongs by hand, begun with "| `its.path` |". */
static void the_guide_has_the_row_of_every_key(void **state)
{
    (void)state;
    static char page[1 << 20];
    const char *tables = getenv("FW_TABLES");
    char path[4096], *text;
    size_t length, count;
    assert_non_null(tables);
    snprintf(path, sizeof path, "%s/../../docs/guide/farm.md", tables);
    assert_int_equal(fw_file_get(path, 1 << 19, &text, &length, NULL), FW_OK);
    memcpy(page, text, length + 1);
    fw_bytes_free(text);
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    for (size_t i = 0; i < count; i++) {
        char row[1024], start[128];
        row_of(&keys[i], row);
        snprintf(start, sizeof start, "\n| `%s` |", keys[i].path);
        char *old = strstr(page, start);
        const size_t fresh = strlen(row);
        if (!old || (!getenv("BLESS") && strncmp(old + 1, row, fresh) != 0))
            fail_msg("docs/guide/farm.md lacks the row\n%s", row);
        const char *rest = strchr(old + 1, '\n') + 1;
        memmove(old + 1 + fresh, rest, strlen(rest) + 1);
        memcpy(old + 1, row, fresh);
    }
    if (getenv("BLESS"))
        put_text(path, page);
}

/* Nothing in the page's own files is wrong but that their maps are not here. */
static void the_examples_of_the_guide_are_right_to_the_last_key(void **state)
{
    (void)state;
    char path[4096];
    char *page;
    size_t length;
    int found = 0;
    snprintf(path, sizeof path, "%s/../../docs/guide/farm.md",
             getenv("FW_TABLES"));
    assert_int_equal(fw_file_get(path, 1 << 20, &page, &length, NULL), FW_OK);
    for (char *start = page; (start = strstr(start, "```yaml\n")); found++) {
        struct fw_error err = {0};
        start += strlen("```yaml\n");
        char *end = strstr(start, "```");
        assert_non_null(end);
        *end = '\0';
        assert_null(farm_of(start, false, &err));
        assert_says(&err, "fields.geojson: no such file");
        start = end + 1;
    }
    assert_int_equal(found, 2);
    fw_bytes_free(page);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_text_of_the_table_is_taken_or_said_to_be_wrong),
        cmocka_unit_test(every_example_of_the_schema_is_taken),
        cmocka_unit_test(every_key_but_plain_text_refuses_nonsense_by_its_path),
        cmocka_unit_test(every_key_has_words_and_no_two_keys_share_an_option),
        cmocka_unit_test(the_whole_file_is_read_into_the_farm),
        cmocka_unit_test(the_flock_is_read_class_by_class),
        cmocka_unit_test(grass_sides_and_spots_are_read_into_the_field),
        cmocka_unit_test(wires_hang_for_the_flock),
        cmocka_unit_test(fences_work_and_prices_are_read),
        cmocka_unit_test(stays_follow_the_days_of_the_week),
        cmocka_unit_test(nobody_is_away_longer_than_a_stay),
        cmocka_unit_test(what_was_looked_at_is_roles_and_a_day),
        cmocka_unit_test(what_nobody_looks_for_is_refused),
        cmocka_unit_test(looked_of_an_option_goes_over_the_file),
        cmocka_unit_test(days_away_are_pairs_of_first_and_last),
        cmocka_unit_test(a_file_nested_too_deep_is_refused_at_once),
        cmocka_unit_test(more_values_than_any_farm_has_are_refused),
        cmocka_unit_test(a_file_of_over_four_megabytes_is_refused),
        cmocka_unit_test(aliases_cannot_grow_into_billions),
        cmocka_unit_test(a_scalar_with_a_nul_in_it_is_refused),
        cmocka_unit_test(a_missing_file_is_said),
        cmocka_unit_test(what_steers_a_terminal_is_refused),
        cmocka_unit_test(every_file_that_is_read_is_an_input),
        cmocka_unit_test(units_are_guessed_from_how_values_are_written),
        cmocka_unit_test(units_told_below_hold_for_quantities_above),
        cmocka_unit_test(options_go_over_what_the_file_says),
        cmocka_unit_test(a_mass_and_a_height_from_two_places_do_not_meet),
        cmocka_unit_test(a_new_class_can_be_added_by_an_option),
        cmocka_unit_test(what_was_not_told_is_listed_with_its_source),
        cmocka_unit_test(what_was_taken_of_a_class_names_it),
        cmocka_unit_test(what_was_told_is_no_default),
        cmocka_unit_test(what_is_dangerous_not_to_know_stays_untold),
        cmocka_unit_test(a_farm_file_is_told_by_its_content),
        cmocka_unit_test(the_guide_has_the_row_of_every_key),
        cmocka_unit_test(the_examples_of_the_guide_are_right_to_the_last_key),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
