/* What walked covers say, by sums on paper. */
#include "fields_by_hand.h"
#include "read_back.h"

#include "figures/say.h"
#include "make/covers.h"
#include "report/report.h"

#include <string.h>

/* 100 ewes that eat 1.5 kg each: 150 kg a day. Covers above 1,500 kg/ha are
 * taken to 80 %. 4 ha at 2,500 are 3,200 kg; 2 ha at 2,000 are 800 kg. */
struct room {
    struct fw_field shapes[2];
    struct fw_farm_field fields[2];
    struct fw_flock_class ewes;
    struct fw_farm farm;
};

static void two_fields(struct room *room, double kg_ha_day)
{
    static const double ha[] = {4, 2}, covers[] = {2500, 2000};
    room->farm = fields_by_hand();
    room->ewes = (struct fw_flock_class){
        .head = 100, .weight_kg = 60, .intake_kg_day = 1.5};
    for (size_t i = 0; i < 2; i++) {
        room->shapes[i] = *room->farm.fields[i].shape;
        room->shapes[i].ellipsoid_m2 = 1e4 * ha[i];
        room->fields[i] = (struct fw_farm_field){
            .shape = &room->shapes[i],
            .sward = {.residual_kg_ha = 1500, .use = 0.8, .legume = -1},
            .cover_kg_ha = covers[i],
            .growth = {.rates = {{.month = 1, .kg_ha_day = kg_ha_day}},
                       .count = 1,
                       .steady = true}};
    }
    room->farm.fields = room->fields;
    room->farm.classes = &room->ewes;
    room->farm.class_count = 1;
    room->farm.start_day = 20600;
    for (size_t i = 0; i < 7; i++)
        room->farm.stay.days[i] = 1;
}

static struct fw_covers look(const struct fw_farm *farm)
{
    struct fw_covers covers;
    struct fw_error err;
    if (fw_covers_look(farm, &covers, &err))
        fail_msg("%s", err.text);
    return covers;
}

static void days_are_what_may_be_taken_over_what_is_eaten(void **state)
{
    (void)state;
    struct room room;
    two_fields(&room, 20);
    struct fw_covers covers = look(&room.farm);
    assert_int_equal(covers.walked, 2);
    assert_near(covers.area_ha, 6, 1e-9);
    assert_near(covers.usable_kg, 4000, 1e-6);
    assert_near(covers.demand_kg_day, 150, 1e-9);
    assert_near(covers.days, 4000 / 150.0, 1e-9);
    assert_near(covers.grown_kg_day, 120, 1e-9);
    /* One under its stop height has nothing, and takes nothing away. */
    room.fields[1].cover_kg_ha = 1200;
    assert_near(look(&room.farm).usable_kg, 3200, 1e-6);
    room.fields[1].cover_kg_ha = 0;
    covers = look(&room.farm);
    assert_int_equal(covers.walked, 1);
    assert_near(covers.area_ha, 4, 1e-9);
    assert_near(covers.grown_kg_day, 80, 1e-9);
    /* What is not grazed is not counted. */
    struct fw_field grazed = room.shapes[0];
    grazed.ellipsoid_m2 = 3e4;
    room.fields[0].grazed = &grazed;
    assert_near(look(&room.farm).usable_kg, 2400, 1e-6);
}

/* On 6 ha 150 kg a day are 25 kg/ha, and 1.5 times as much 37.5. Without the
 * larger field 2 ha are left, which grow 150 kg at 75 kg/ha; without the
 * smaller one 4 ha, at 37.5. */
static void what_to_do_hangs_on_what_grows(void **state)
{
    (void)state;
    static const struct {
        double kg_ha_day;
        enum fw_covers_do what;
        size_t shut;
    } rows[] = {
        {-3, FW_COVERS_SLOW_DOWN, FW_NONE},   {0, FW_COVERS_SLOW_DOWN, FW_NONE},
        {24.9, FW_COVERS_SLOW_DOWN, FW_NONE}, {25.1, FW_COVERS_GO_ON, FW_NONE},
        {37.4, FW_COVERS_GO_ON, FW_NONE},     {37.6, FW_COVERS_SHUT_UP, 1},
        {74.9, FW_COVERS_SHUT_UP, 1},         {75.1, FW_COVERS_SHUT_UP, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct room room;
        two_fields(&room, rows[i].kg_ha_day);
        const struct fw_covers covers = look(&room.farm);
        assert_int_equal(covers.what, rows[i].what);
        assert_true(covers.shut == rows[i].shut);
    }
    /* Of one field only a part can be shut up. */
    struct room room;
    two_fields(&room, 70);
    room.fields[1].cover_kg_ha = 0;
    const struct fw_covers covers = look(&room.farm);
    assert_int_equal(covers.what, FW_COVERS_SHUT_UP);
    assert_true(covers.shut == FW_NONE);
}

static void what_is_not_told_is_not_judged(void **state)
{
    (void)state;
    struct room room;
    struct fw_covers covers;
    struct fw_error err;
    two_fields(&room, 20);
    room.fields[1].growth.count = 0;
    covers = look(&room.farm);
    assert_int_equal(covers.what, FW_COVERS_UNTOLD);
    assert_true(isnan(covers.grown_kg_day) && covers.days > 26);
    room.farm.class_count = 0;
    assert_int_equal(fw_covers_look(&room.farm, &covers, &err), FW_EINPUT);
    room.farm.class_count = 1;
    room.farm.start_day = FW_NO_DAY;
    assert_int_equal(fw_covers_look(&room.farm, &covers, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "start"));
    /* Nobody walked: nothing is asked. */
    room.fields[0].cover_kg_ha = room.fields[1].cover_kg_ha = 0;
    assert_int_equal(look(&room.farm).walked, 0);
}

/* ---- what is said of them ---- */

static void covers_are_said_with_what_to_do(void **state)
{
    (void)state;
    static const double rates[] = {-3, 20, 30, 60, 80};
    for (size_t i = 0; i < 24; i++) {
        struct room room;
        struct fw_text text = {0};
        char words[300], a[FW_SAID], b[FW_SAID];
        two_fields(&room, rates[i % 5]);
        room.farm.units = i % 2 ? FW_US : FW_METRIC;
        if (i / 5 == 1)
            room.fields[1].cover_kg_ha = 0; /* not walked */
        if (i / 5 == 2)
            room.fields[0].cover_kg_ha = 0;
        if (i / 5 == 3)
            room.fields[1].growth.count = 0;
        if (i / 5 == 4)
            room.fields[0].cover_kg_ha = room.fields[1].cover_kg_ha = 0;
        const struct fw_covers covers = look(&room.farm);
        assert_int_equal(fw_report__check_covers(&text, &room.farm, NULL),
                         FW_OK);
        if (covers.walked == 0) {
            assert_true(text.length == 0);
            continue;
        }
        unfold(text.bytes, 9);
        snprintf(words, sizeof words, "%zu of 2 fields walked, %s",
                 covers.walked,
                 fw_say_area(covers.area_ha, room.farm.units, a));
        has_words(text.bytes, words);
        for (size_t f = 0; f < 2; f++) {
            snprintf(words, sizeof words, "; %s was not, and is not counted",
                     room.shapes[f].name);
            assert_int_equal(strstr(text.bytes, words) != NULL,
                             !(room.fields[f].cover_kg_ha > 0));
        }
        snprintf(words, sizeof words,
                 "%.0f days: %s may be taken there, and %s are eaten in a day",
                 floor(covers.days),
                 fw_say_mass(covers.usable_kg, room.farm.units, a),
                 fw_say_mass(covers.demand_kg_day, room.farm.units, b));
        has_words(text.bytes, words);
        snprintf(
            words, sizeof words, "%s grow there in a day on ",
            fw_say_mass(isnan(covers.grown_kg_day) ? 0 : covers.grown_kg_day,
                        room.farm.units, a));
        const bool known = covers.what != FW_COVERS_UNTOLD;
        assert_int_equal(strstr(text.bytes, words) != NULL, known);
        assert_int_equal(
            strstr(text.bytes, "growth is not told of each") != NULL, !known);
        snprintf(
            words, sizeof words, "%s times what is eaten: ",
            fw_say_number(
                known ? covers.grown_kg_day / covers.demand_kg_day : 1, a));
        assert_int_equal(strstr(text.bytes, words) != NULL, known);
        assert_int_equal(strstr(text.bytes, "slow down, or buy feed") != NULL,
                         covers.what == FW_COVERS_SLOW_DOWN);
        assert_int_equal(strstr(text.bytes, "eaten: go on") != NULL,
                         covers.what == FW_COVERS_GO_ON);
        const bool shut = covers.what == FW_COVERS_SHUT_UP;
        assert_int_equal(strstr(text.bytes, "shut a part of a field up") !=
                             NULL,
                         shut && covers.shut == FW_NONE);
        snprintf(words, sizeof words, "shut %s up: the others grow what is",
                 shut && covers.shut != FW_NONE ? room.shapes[covers.shut].name
                                                : "x");
        assert_int_equal(strstr(text.bytes, words) != NULL,
                         shut && covers.shut != FW_NONE);
        fw_text_release(&text);
    }
}

static void covers_for_machines_have_the_figures(void **state)
{
    (void)state;
    static const double rates[] = {-3, 30, 60, 80};
    static const char *const dos[] = {NULL, "go-on", "slow-down", "shut-up"};
    for (size_t i = 0; i < 12; i++) {
        struct room room;
        struct fw_text text = {0};
        two_fields(&room, rates[i % 4]);
        if (i / 4 == 1)
            room.fields[1].growth.count = 0;
        if (i / 4 == 2)
            room.fields[0].cover_kg_ha = room.fields[1].cover_kg_ha = 0;
        const struct fw_covers covers = look(&room.farm);
        fw_text_add(&text, "{\"a\": 0");
        assert_int_equal(fw_report_check_covers_json(&text, &room.farm, NULL),
                         FW_OK);
        fw_text_add(&text, "}");
        struct json_object *root = parsed(text.bytes);
        struct json_object *told = of(root, "covers");
        if (covers.walked == 0) {
            assert_null(told);
        } else {
            is_number(told, "walked", (double)covers.walked);
            is_number(told, "area_ha", covers.area_ha);
            is_number(told, "usable_kg", covers.usable_kg);
            is_number(told, "demand_kg_day", covers.demand_kg_day);
            is_number(told, "ahead_days", covers.days);
            is_number(told, "grown_kg_day", covers.grown_kg_day);
            is_text(told, "do", dos[covers.what]);
            is_text(told, "shut_up",
                    covers.shut == FW_NONE ? NULL
                                           : room.shapes[covers.shut].name);
        }
        json_object_put(root);
        fw_text_release(&text);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(days_are_what_may_be_taken_over_what_is_eaten),
        cmocka_unit_test(what_to_do_hangs_on_what_grows),
        cmocka_unit_test(what_is_not_told_is_not_judged),
        cmocka_unit_test(covers_are_said_with_what_to_do),
        cmocka_unit_test(covers_for_machines_have_the_figures),
    };
    return cmocka_run_group_tests_name("make_covers", tests, NULL, NULL);
}
