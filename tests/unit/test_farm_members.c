/* Each key of a farm goes to its own member, as it was told, and changes no
 * other: the table has the member of each, and a value that nothing else is. */
#include "farm_help.h"

#include <foldwright/date.h>

#include <stdlib.h>

enum kind { REAL, WHOLE, TRUTH };

struct member {
    const char *key, *value;
    enum kind kind;
    size_t offset, size; /* in the farm */
    double want;
};

#define MEMBER(member)                                                         \
    offsetof(struct fw_farm, member), sizeof(((struct fw_farm *)NULL)->member)

static const struct member members[] = {
    {"units", "us", WHOLE, MEMBER(units), FW_US},
    {"start", "1970-01-11", WHOLE, MEMBER(start_day), 10},
    {"last", "even", WHOLE, MEMBER(last), FW_LAST_EVEN},
    {"last", "short", WHOLE, MEMBER(last), FW_LAST_SHORT},
    {"field-order", "nearest", WHOLE, MEMBER(field_order), FW_ORDER_NEAREST},
    {"keep.storm", "2 days", REAL, MEMBER(keep_days[FW_KEEP_STORM]), 2},
    {"keep.heat", "3 days", REAL, MEMBER(keep_days[FW_KEEP_HEAT]), 3},
    {"first", "far", TRUTH, MEMBER(far_first), 1},
    {"prefer", "cost", WHOLE, MEMBER(prefer), FW_PREFER_COST},
    {"limits", "off", TRUTH, MEMBER(limits_off), 1},
    {"least-width", "17 m", REAL, MEMBER(least_width_m), 17},
    {"least-face", "1.5 m", REAL, MEMBER(least_face_m), 1.5},
    {"longest-shape", "9", REAL, MEMBER(longest_shape), 9},
    {"lane-width", "5 m", REAL, MEMBER(lane_width_m), 5},
    {"apron", "11 m", REAL, MEMBER(apron_m), 11},
    {"apron", "0 m", REAL, MEMBER(apron_m), -1},
    {"block-lines", "all", TRUTH, MEMBER(all_stand), 1},
    {"work.order", "set-first", WHOLE, MEMBER(work_order), FW_WORK_SET_FIRST},
    {"work.order", "set-first", TRUTH, MEMBER(work_told), 1},
    {"fence-bearing", "35 deg", REAL, MEMBER(direction_deg), 35},
    {"fence-bearing", "35 deg", TRUTH, MEMBER(direction_given), 1},
    {"pace", "0.7 m", REAL, MEMBER(pace_m), 0.7},
    {"weather.wet-more", "12 %", REAL, MEMBER(weather.wet_more), 0.12},
    {"weather.soft-more", "30 %", REAL, MEMBER(weather.soft_more), 0.3},
    {"weather.cold-wool", "-5 C", REAL, MEMBER(weather.wool_c), -5},
    {"weather.cold-shorn", "59 F", REAL, MEMBER(weather.shorn_c), 15},
    {"weather.cold-hair", "2 C", REAL, MEMBER(weather.hair_c), 2},
    {"weather.cold-wet", "12 C", REAL, MEMBER(weather.wet_c), 12},
    {"weather.cold-more", "25 g", REAL, MEMBER(weather.cold_more_kg), 0.025},
    {"weather.heat-from", "86 F", REAL, MEMBER(weather.heat_from_c), 30},
    {"weather.heat-looks", "3", WHOLE, MEMBER(weather.heat_looks), 3},
    {"weather.snow-from", "10 cm", REAL, MEMBER(weather.snow_from_m), 0.1},
    {"weather.frozen-from", "-8 C", REAL, MEMBER(weather.frozen_from_c), -8},
    {"weather.lasts", "5 days", WHOLE, MEMBER(weather.lasts_days), 5},
    {"weather.wet-to", "shelter", WHOLE, MEMBER(weather.ground[FW_WEATHER_WET]),
     FW_GROUND_SHELTER},
    {"weather.cold-to", "firm", WHOLE, MEMBER(weather.ground[FW_WEATHER_COLD]),
     FW_GROUND_FIRM},
    {"weather.heat-to", "any", WHOLE, MEMBER(weather.ground[FW_WEATHER_HEAT]),
     FW_GROUND_ANY},
    {"weather.snow-to", "shade", WHOLE, MEMBER(weather.ground[FW_WEATHER_SNOW]),
     FW_GROUND_SHADE},
    {"hauling.tank", "650 L", REAL, MEMBER(tank_l), 650},
    {"hauling.trough", "410 L", REAL, MEMBER(hauling.trough_l), 410},
    {"hauling.road", "1.2 km", REAL, MEMBER(hauling.road_m), 1200},
    {"hauling.drive-a-minute", "300 m", REAL, MEMBER(hauling.drive_m_min), 300},
    {"hauling.fill", "1 L/s", REAL, MEMBER(hauling.fill_l_min), 60},
    {"hauling.payload", "800 kg", REAL, MEMBER(hauling.payload_kg), 800},
    {"hauling.vehicle-width", "1.7 m", REAL, MEMBER(hauling.vehicle_width_m),
     1.7},
    {"hauling.hose", "45 m", REAL, MEMBER(hauling.hose_m), 45},
    {"hauling.slope", "12 %", REAL, MEMBER(hauling.slope), 0.12},
    {"hauling.air", "warm", WHOLE, MEMBER(hauling.day.air), FW_AIR_WARM},
    {"hauling.grass-water", "70 %", REAL, MEMBER(hauling.day.grass_water), 0.7},
    {"prices.pipe", "1.4", REAL, MEMBER(hauling.pipe_price), 1.4},
    {"prices.trough", "180", REAL, MEMBER(hauling.trough_price), 180},
    {"prices.tank", "650", REAL, MEMBER(hauling.tank_price), 650},
    {"hauling.trough-moves", "no", TRUTH, MEMBER(water_moves), 0},
    {"hauling.trough-days", "4 days", REAL, MEMBER(trough_days), 4},
    {"soil", "dry", TRUTH, MEMBER(dry_soil), 1},
    {"soil", "dry", TRUTH, MEMBER(soil_told), 1},
    {"energizer.rule", "weedy", TRUTH, MEMBER(rule_told), 1},
    {"energizer.joules", "2.5 J", REAL, MEMBER(energizer_j), 2.5},
    {"season", "dormant", WHOLE, MEMBER(season), FW_SEASON_DORMANT},
    {"season", "dormant", TRUTH, MEMBER(back_fence), 0},
    {"back-fence", "no", TRUTH, MEMBER(back_fence), 0},
    {"back-fence", "no", TRUTH, MEMBER(back_fence_told), 1},
    {"stay", "4 days", REAL, MEMBER(stay.days[3]), 4},
    {"stay", "4 days", TRUTH, MEMBER(stay_told), 1},
    {"fence.strands", "3", WHOLE, MEMBER(moved.strands), 3},
    {"fence.post-gap", "7 m", REAL, MEMBER(moved.post_gap_m), 7},
    {"fence.slack", "6 %", REAL, MEMBER(moved.slack), 0.06},
    {"fence.reel", "210 m", REAL, MEMBER(moved.reel_m), 210},
    {"fence.reel-use", "out-and-back", TRUTH, MEMBER(moved.out_and_back), 1},
    {"fence.top", "61 cm", REAL, MEMBER(moved.height_top_m), 0.61},
    {"fence.bottom", "31 cm", REAL, MEMBER(moved.height_bottom_m), 0.31},
    {"fence.lay-flat", "no", TRUTH, MEMBER(moved.lay_flat), 0},
    {"fence.lambs", "creep", TRUTH, MEMBER(lambs_creep), 1},
    {"perimeter-fence.tolerance", "1 m", REAL, MEMBER(perimeter.tolerance_m),
     1},
    {"perimeter-fence.brace-bend", "45 deg", REAL, MEMBER(perimeter.brace_deg),
     45},
    {"perimeter-fence.gates", "3", WHOLE, MEMBER(perimeter.gates), 3},
    {"perimeter-fence.life", "30", REAL, MEMBER(terms.life_years), 30},
    {"perimeter-fence.upkeep", "7 %", REAL, MEMBER(terms.upkeep), 0.07},
    {"prices.interest", "6 %", REAL, MEMBER(terms.interest), 0.06},
    {"prices.gate", "140", REAL, MEMBER(prices.gate), 140},
    {"prices.staple", "0.06", REAL, MEMBER(prices.staple), 0.06},
    {"prices.clamp", "1.2", REAL, MEMBER(prices.clamp), 1.2},
    {"prices.switch", "9", REAL, MEMBER(prices.cut_out), 9},
    {"owns.insulator", "44", REAL, MEMBER(owned.of[FW_WARE_INSULATOR]), 44},
    {"owns.perimeter-wire", "310 m", REAL,
     MEMBER(owned.of[FW_WARE_PERIMETER_WIRE]), 310},
    {"owns.lead", "15 m", REAL, MEMBER(owned.of[FW_WARE_LEAD]), 15},
    {"earth.rods", "5", REAL, MEMBER(owned.of[FW_WARE_EARTH_ROD]), 5},
    {"energizer.joules", "2 J", REAL, MEMBER(owned.of[FW_WARE_ENERGIZER]), 1},
    {"prices.brace-post", "17", REAL, MEMBER(prices.brace_post), 17},
    {"prices.brace-rail", "8", REAL, MEMBER(prices.brace_rail), 8},
    {"prices.strainer", "4", REAL, MEMBER(prices.strainer), 4},
    {"perimeter-fence.strands", "6", WHOLE, MEMBER(perimeter.spec.strands), 6},
    {"perimeter-fence.post-gap", "13 m", REAL,
     MEMBER(perimeter.spec.post_gap_m), 13},
    {"perimeter-fence.slack", "7 %", REAL, MEMBER(perimeter.spec.slack), 0.07},
    {"work.walk-a-minute", "61 m", REAL, MEMBER(rates.walk_m_min), 61},
    {"work.wind-a-minute", "51 m", REAL, MEMBER(rates.wind_m_min), 51},
    {"work.set-post", "9 s", REAL, MEMBER(rates.set_post_s), 9},
    {"work.pull-post", "6 s", REAL, MEMBER(rates.pull_post_s), 6},
    {"work.tie-end", "50 s", REAL, MEMBER(rates.end_s), 50},
    {"work.posts-an-armful", "14", WHOLE, MEMBER(rates.posts_an_armful), 14},
    {"prices.post", "2.1", REAL, MEMBER(prices.post), 2.1},
    {"prices.reel", "38", REAL, MEMBER(prices.reel), 38},
    {"prices.wire", "0.05", REAL, MEMBER(prices.wire_m), 0.05},
    {"prices.corner-post", "24", REAL, MEMBER(prices.corner_post), 24},
    {"prices.line-post", "7.5", REAL, MEMBER(prices.line_post), 7.5},
    {"prices.perimeter-wire", "0.12", REAL, MEMBER(prices.perimeter_wire_m),
     0.12},
    {"prices.energizer", "240", REAL, MEMBER(prices.energizer), 240},
    {"prices.joule", "62", REAL, MEMBER(prices.joule), 62},
    {"prices.lead", "0.8", REAL, MEMBER(prices.lead_m), 0.8},
    {"prices.copper-wire", "0.11", REAL, MEMBER(prices.copper_wire_m), 0.11},
    {"prices.earth-rod", "18", REAL, MEMBER(prices.earth_rod), 18},
    {"prices.insulator", "0.6", REAL, MEMBER(prices.insulator), 0.6},
    {"prices.anchor", "6.5", REAL, MEMBER(prices.anchor), 6.5},
    {"prices.handle", "3.5", REAL, MEMBER(prices.handle), 3.5},
    {"prices.sleeve", "2.5", REAL, MEMBER(prices.sleeve), 2.5},
    {"prices.sign", "4.5", REAL, MEMBER(prices.sign), 4.5},
    {"prices.sign", "0", REAL, MEMBER(prices.sign), 0},
    {"signs.path", "41 m", REAL, MEMBER(sign_path_m), 41},
    {"signs.road", "83 m", REAL, MEMBER(sign_road_m), 83},
};

/* What follows from another key besides its own member. */
static bool follows(const struct member *told, const struct member *other)
{
    static const char *const pairs[][2] = {
        {"fence.lambs", "fence.bottom"}, {"fence.strands", "fence.bottom"},
        {"fence.strands", "fence.top"},  {"start", "season"},
        {"start", "back-fence"},         {"season", "back-fence"},
        {"back-fence", "season"},
    };
    if (strcmp(told->key, other->key) == 0)
        return true;
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++)
        if (!strcmp(told->key, pairs[i][0]) && !strcmp(other->key, pairs[i][1]))
            return true;
    return false;
}

static double value_of(const struct fw_farm *farm, const struct member *member)
{
    const char *at = (const char *)farm + member->offset;
    double real;
    int whole;
    bool truth;
    switch (member->kind) {
    case REAL:
        memcpy(&real, at, sizeof real);
        return real;
    case WHOLE:
        assert_int_equal(member->size, sizeof whole);
        memcpy(&whole, at, sizeof whole);
        return whole;
    default:
        assert_int_equal(member->size, sizeof truth);
        memcpy(&truth, at, sizeof truth);
        return truth;
    }
}

static struct fw_farm *with(const char *key, const char *value)
{
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    put_text("farm.yaml", "fields: {source: field.geojson}\n");
    const struct fw_farm_setting setting = {key, value, NULL};
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .settings = &setting,
                                            .setting_count = key != NULL,
                                            .fields_only = true};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err))
        fail_msg("%s: %s", key ? key : "", err.text);
    return farm;
}

static void each_key_goes_to_its_own_member(void **state)
{
    (void)state;
    enum { count = sizeof members / sizeof members[0] };
    struct fw_farm *bare = with(NULL, NULL);
    for (size_t i = 0; i < count; i++) {
        struct fw_farm *farm = with(members[i].key, members[i].value);
        const double got = value_of(farm, &members[i]);
        if (!(fabs(got - members[i].want) <= 1e-9))
            fail_msg("%s=%s: %g, expected %g", members[i].key, members[i].value,
                     got, members[i].want);
        if (!(fabs(value_of(bare, &members[i]) - members[i].want) > 1e-9))
            fail_msg("%s: %g is what holds anyway", members[i].key,
                     members[i].want);
        for (size_t k = 0; k < count; k++)
            if (!follows(&members[i], &members[k]) &&
                value_of(farm, &members[k]) != value_of(bare, &members[k]))
                fail_msg("%s=%s changes %s", members[i].key, members[i].value,
                         members[k].key);
        fw_farm_free(farm);
    }
    fw_farm_free(bare);
}

/* All three that a farm owns, each in its place, or none of them. */
static void what_a_farm_owns_goes_to_its_places(void **state)
{
    (void)state;
    struct fw_farm *farm = good_farm(
        "fence: {owns: {reels: 6, posts: 90, wire: 2400 m}}\nprices: "
        "{currency: "
        "EUR}\nlayout: strips\nflock: [{class: old, head: 7, weight: 51 kg, "
        "state: ram, coat: shorn, trained: no, intake: 2.5 %}, {intake: 1.5 "
        "kg/day, trained: yes}]\nfields: {source: field.geojson}\n");
    assert_true(farm->kit_given);
    assert_int_equal(farm->kit.reels, 6);
    assert_int_equal(farm->kit.posts, 90);
    assert_near(farm->kit.wire_m, 2400, 1e-9);
    assert_string_equal(farm->prices.currency, "EUR");
    assert_string_equal(farm->layout, "strips");
    assert_string_equal(farm->path, "farm.yaml");
    assert_string_equal(farm->classes[0].name, "old");
    assert_int_equal(farm->classes[0].head, 7);
    assert_near(farm->classes[0].weight_kg, 51, 1e-9);
    assert_int_equal(farm->classes[0].state, FW_RAM);
    assert_int_equal(farm->classes[0].coat, FW_SHORN);
    assert_int_equal(farm->classes[0].trained, FW_NO);
    assert_near(farm->classes[0].intake_share, 0.025, 1e-12);
    assert_near(farm->classes[0].intake_kg_day, 0, 0);
    assert_int_equal(farm->classes[1].head, 0);
    assert_int_equal(farm->classes[1].state, FW_DRY);
    assert_int_equal(farm->classes[1].trained, FW_YES);
    assert_near(farm->classes[1].intake_share, 0, 0);
    assert_near(farm->classes[1].intake_kg_day, 1.5, 1e-9);
    fw_farm_free(farm);
    farm = with(NULL, NULL);
    assert_false(farm->kit_given);
    assert_int_equal(farm->kit.reels + farm->kit.posts, 0);
    assert_near(farm->kit.wire_m, 0, 0);
    assert_true(farm->prices.post < 0 && farm->prices.sign < 0);
    assert_null(farm->layout);
    assert_false(farm->lambing.given);
    assert_int_equal(farm->class_count, 0);
    fw_farm_free(farm);
}

static void lambing_has_both_its_ends(void **state)
{
    (void)state;
    static const enum fw_lambing_way ways[] = {
        FW_LAMBING_DAILY, FW_LAMBING_HOLD, FW_LAMBING_DRIFT};
    static const char *const words[] = {"daily", "hold", "drift"};
    for (int days = 0; days < 3; days++) {
        char text[200], day[FW_DATE_TEXT];
        snprintf(text, sizeof text,
                 "lambing: {from: 2027-04-10, to: 2027-04-%d, way: %s}\n"
                 "fields: {source: field.geojson}\n",
                 10 + days, words[days]);
        struct fw_farm *farm = good_farm(text);
        assert_true(farm->lambing.given);
        assert_string_equal(fw_date_write(farm->lambing.from, day),
                            "2027-04-10");
        assert_int_equal(farm->lambing.to - farm->lambing.from, days);
        assert_int_equal(farm->lambing.way, ways[days]);
        fw_farm_free(farm);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_key_goes_to_its_own_member),
        cmocka_unit_test(what_a_farm_owns_goes_to_its_places),
        cmocka_unit_test(lambing_has_both_its_ends),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
