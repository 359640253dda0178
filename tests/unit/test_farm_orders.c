/* What a farm says of the order of grazing and where its work begins. */
#include "farm_help.h"

#include <string.h>

#define FIRST                                                                  \
    "flock: {head: 90, weight: 62 kg, state: dry}\n"                           \
    "forage: {sward: ryegrass-clover, height: 22 cm, leave: 9 cm}\n"           \
    "fields: {source: field.geojson}\n"

static const struct fw_farm_default *find_default(const struct fw_farm *farm,
                                                  const char *what)
{
    for (size_t i = 0; i < farm->default_count; i++)
        if (strcmp(farm->defaults[i].what, what) == 0)
            return &farm->defaults[i];
    return NULL;
}

static struct fw_farm *whole_farm(const char *text)
{
    struct fw_error err = {0};
    struct fw_farm *farm = farm_of(text, false, &err);
    if (!farm)
        fail_msg("%s", err.text);
    return farm;
}

static void refused(const char *text, const char *key, const char *piece)
{
    struct fw_error err = {0};
    assert_null(farm_of(text, false, &err));
    assert_says(&err, key);
    assert_says(&err, piece);
}

/* The field lies north of the equator; a copy of it lies south. */
static void season_follows_the_first_day_and_the_hemisphere(void **state)
{
    (void)state;
    put_text("south.geojson",
             COLLECTION(FEATURE(
                 "Long Bottom",
                 POLYGON("[[8.9992875,-50.9996405],[9.0007125,-50.9996405],"
                         "[9.0007125,-51.0003595],[8.9992875,-51.0003595],"
                         "[8.9992875,-50.9996405]]"))));
    static const struct {
        const char *start;
        bool south, growth;
    } rows[] = {
        {"2026-03-31", false, false}, {"2026-04-01", false, true},
        {"2026-09-30", false, true},  {"2026-10-01", false, false},
        {"2026-03-31", true, true},   {"2026-04-01", true, false},
        {"2026-12-25", true, true},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char text[1024];
        snprintf(text, sizeof text, "start: %s\n%s", rows[i].start, FIRST);
        char *source = strstr(text, "field.geojson");
        if (rows[i].south)
            memcpy(source, "south", 5);
        struct fw_farm *farm = whole_farm(text);
        assert_int_equal(farm->season,
                         rows[i].growth ? FW_SEASON_GROWTH : FW_SEASON_DORMANT);
        assert_int_equal(farm->back_fence, rows[i].growth);
        assert_false(farm->back_fence_told);
        assert_string_equal(find_default(farm, "season")->value,
                            rows[i].growth ? "growth" : "dormant");
        assert_string_equal(find_default(farm, "back fence")->value,
                            rows[i].growth ? "yes" : "no");
        assert_non_null(strstr(find_default(farm, "back fence")->source,
                               "common practice, no source"));
        fw_farm_free(farm);
    }
}

static void what_is_told_goes_over_the_season(void **state)
{
    (void)state;
    struct fw_farm *farm =
        whole_farm("start: 2026-05-04\nseason: dormant\nfirst: far\n" FIRST);
    assert_int_equal(farm->season, FW_SEASON_DORMANT);
    assert_false(farm->back_fence);
    assert_true(farm->far_first);
    assert_null(find_default(farm, "season"));
    assert_non_null(find_default(farm, "back fence"));
    fw_farm_free(farm);
    farm = whole_farm("start: 2026-05-04\nback-fence: no\n" FIRST);
    assert_int_equal(farm->season, FW_SEASON_GROWTH);
    assert_false(farm->back_fence);
    assert_true(farm->back_fence_told);
    assert_false(farm->far_first);
    fw_farm_free(farm);
    refused("start: 2026-05-04\nseason: winter\n" FIRST, "season",
            "expected growth or dormant");
    refused("start: 2026-05-04\nfirst: middle\n" FIRST, "first",
            "expected near or far");
}

static void work_begins_at_the_gate_or_where_it_is_told(void **state)
{
    (void)state;
    struct fw_farm *farm =
        whole_farm("start: 2026-05-04\ngate: corner:1\n" FIRST);
    assert_false(farm->fields[0].park.given);
    assert_string_equal(find_default(farm, "vehicle and spare posts")->value,
                        "at the gate");
    fw_farm_free(farm);
    farm = whole_farm("start: 2026-05-04\ngate: corner:1\n"
                      "park: 9.0025,51.0\n" FIRST);
    /* 0.0025 degrees east of the field's middle, at 51 north: 175.5 m. */
    assert_near(farm->fields[0].park.point.x_m, 175.5, 0.1);
    assert_null(find_default(farm, "vehicle and spare posts"));
    fw_farm_free(farm);
    farm = whole_farm("start: 2026-05-04\n" FIRST);
    assert_null(find_default(farm, "vehicle and spare posts"));
    fw_farm_free(farm);
    refused("start: 2026-05-04\npark: corner:9\n" FIRST, "park",
            "there is no corner 9");
    refused("start: 2026-05-04\npark: 9.2,51.0\n" FIRST, "park",
            "the vehicle is");
}

static void a_field_has_a_place_of_its_own_to_park(void **state)
{
    (void)state;
    struct fw_farm *farm = whole_farm(
        "start: 2026-05-04\npark: 9.0025,51.0\n"
        "flock: {head: 90, weight: 62 kg, state: dry}\n"
        "forage: {sward: ryegrass-clover, height: 22 cm, leave: 9 cm}\n"
        "fields:\n  source: field.geojson\n"
        "  each: [{field: Long Bottom, park: \"side:1@10m\"}]\n");
    assert_string_equal(farm->fields[0].park.text, "side:1@10m");
    fw_farm_free(farm);
}

static void days_to_keep_are_read(void **state)
{
    (void)state;
    struct fw_farm *farm = whole_farm(
        "start: 2026-05-04\nkeep: {storm: 2 days, heat: 1 week}\n" FIRST);
    assert_near(farm->keep_days[FW_KEEP_STORM], 2, 1e-12);
    assert_near(farm->keep_days[FW_KEEP_HEAT], 7, 1e-12);
    fw_farm_free(farm);
    farm = whole_farm("start: 2026-05-04\n" FIRST);
    assert_near(farm->keep_days[FW_KEEP_STORM], 0, 0);
    fw_farm_free(farm);
    refused("start: 2026-05-04\nkeep: {storm: 61 days}\n" FIRST, "keep.storm",
            "expected 1 day to 60 days");
    refused("start: 2026-05-04\nkeep: {frost: 2 days}\n" FIRST, "keep",
            "frost");
}

#define SQUARE(west, east)                                                     \
    POLYGON("[[" west ",50.9996],[" east ",50.9996],[" east ",51.0004],[" west \
            ",51.0004],[" west ",50.9996]]")

/* Four fields from west to east, given as 1, 4, 2, 3; the gates on the south.
 */
static void nearest_goes_round_by_the_gates(void **state)
{
    (void)state;
    put_text(
        "four.geojson",
        COLLECTION(FEATURE("One", SQUARE("9.000", "9.001")) "," FEATURE(
            "Four",
            SQUARE(
                "9.006",
                "9.007")) "," FEATURE("Two",
                                      SQUARE(
                                          "9.002",
                                          "9.003")) "," FEATURE("Three",
                                                                SQUARE(
                                                                    "9.004",
                                                                    "9.005"))));
    static const char rest[] =
        "start: 2026-05-04\n"
        "flock: {head: 90, weight: 62 kg, state: dry}\n"
        "forage: {sward: ryegrass-clover, height: 22 cm, leave: 9 cm}\n"
        "fields:\n  source: four.geojson\n  each:\n"
        "    - {field: One, gate: \"9.0005,50.9996\"}\n"
        "    - {field: Four, gate: \"9.0065,50.9996\",\n"
        "       forage: {mass: 2600 kg/ha, residual: 1400 kg/ha}}\n"
        "    - {field: Two, gate: \"9.0025,50.9996\"}\n";
    static const char *const given[] = {"One", "Four", "Two", "Three"};
    static const char *const nearest[] = {"One", "Two", "Three", "Four"};
    for (int how = 0; how < 3; how++) {
        char text[2048];
        snprintf(text, sizeof text, "%s%s    - {field: Three%s}\n",
                 how > 0 ? "field-order: nearest\n" : "", rest,
                 how == 1 ? "" : ", gate: \"9.0045,50.9996\"");
        if (how == 1) {
            refused(text, "field-order", "field \"Three\" has none");
            continue;
        }
        struct fw_farm *farm = whole_farm(text);
        assert_int_equal(farm->field_order,
                         how ? FW_ORDER_NEAREST : FW_ORDER_GIVEN);
        for (size_t i = 0; i < 4; i++) {
            const char *name = farm->fields[i].shape->name;
            assert_string_equal(name, (how ? nearest : given)[i]);
            /* What belongs to a field went with it. */
            assert_int_equal(farm->fields[i].sward.mass_kg_ha > 0,
                             strcmp(name, "Four") == 0);
        }
        fw_farm_free(farm);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(season_follows_the_first_day_and_the_hemisphere),
        cmocka_unit_test(what_is_told_goes_over_the_season),
        cmocka_unit_test(work_begins_at_the_gate_or_where_it_is_told),
        cmocka_unit_test(a_field_has_a_place_of_its_own_to_park),
        cmocka_unit_test(days_to_keep_are_read),
        cmocka_unit_test(nearest_goes_round_by_the_gates),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
