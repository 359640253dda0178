/* What one field has of its own: grass over the farm's and over an option's,
 * places in its reach and what is said of those that are not, sides. */
#include "forms_maps.h"

#include "crs/crs.h"

#define FIELDS "fields: {source: field.geojson}\n"

static struct fw_farm *noting(const char *text, const char *option,
                              const char *value, struct fw_notes *notes,
                              struct fw_error *err)
{
    struct fw_farm *farm = NULL;
    put_text("farm.yaml", text);
    const struct fw_farm_setting setting = {option, value, "--option"};
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .settings = &setting,
                                            .setting_count = option != NULL,
                                            .fields_only = true};
    *err = (struct fw_error){.text = ""};
    (void)fw_farm_read(&request, &farm, NULL, notes, err);
    return farm;
}

static void refuses(const char *text, const char *piece)
{
    struct fw_error err = {0};
    struct fw_farm *farm = farm_of(text, true, &err);
    if (farm || !strstr(err.text, piece))
        fail_msg("\"%s\"; expected \"%s\" of:\n%s", err.text, piece, text);
}

/* ---- grass ---- */

/* The file, an option over it, the field's own over both: each line is what
 * stays of the first two when the third has something to say. */
static void three_say_what_grass_there_is(void **state)
{
    (void)state;
    static const struct {
        const char *option, *value, *own;
        double mass, height_cm, residual, leave_cm;
        bool noted;
    } rows[] = {
        {NULL, NULL, "", 0, 22, 0, 9, false},
        {"forage.mass", "2600 kg/ha", "", 2600, 0, 0, 9, false},
        {"forage.mass", "2600 kg/ha", "height: 15 cm", 0, 15, 0, 9, true},
        {"forage.mass", "2600 kg/ha", "mass: 2000 kg/ha", 2000, 0, 0, 9, true},
        {"forage.mass", "2600 kg/ha", "leave: 5 cm", 2600, 0, 0, 5, true},
        {"forage.height", "15 cm", "mass: 2000 kg/ha", 2000, 0, 0, 9, true},
        {"forage.residual", "1300 kg/ha", "", 0, 22, 1300, 0, false},
        {"forage.residual", "1300 kg/ha", "leave: 5 cm", 0, 22, 0, 5, true},
        {"forage.leave", "7 cm", "residual: 1200 kg/ha", 0, 22, 1200, 0, true},
        {"forage.leave", "7 cm", "height: 19 cm", 0, 19, 0, 7, true},
        {NULL, NULL, "height: 19 cm", 0, 19, 0, 9, false},
        {"gate", "corner:1", "height: 19 cm", 0, 19, 0, 9, false},
        /* How it grows holds whatever grass a field tells. */
        {"forage.growth", "40 kg/ha/day", "height: 19 cm", 0, 19, 0, 9, false},
        {"forage.growth-shape", "flat", "height: 19 cm", 0, 19, 0, 9, false},
        {"forage.winter-loss", "20 %", "height: 19 cm", 0, 19, 0, 9, false},
        {"forage.ceiling", "5000 kg/ha", "height: 19 cm", 0, 19, 0, 9, false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[400];
        struct fw_notes notes = {0};
        struct fw_error err;
        bool noted = false;
        snprintf(text, sizeof text,
                 "forage: {sward: ryegrass-clover, height: 22 cm, leave: 9 "
                 "cm}\nfields: {source: field.geojson, each: [{field: Long "
                 "Bottom, forage: {%s}}]}\n",
                 rows[i].own);
        struct fw_farm *farm =
            noting(text, rows[i].option, rows[i].value, &notes, &err);
        if (!farm)
            fail_msg("%s", err.text);
        const struct fw_sward *sward = &farm->fields[0].sward;
        assert_near(sward->mass_kg_ha, rows[i].mass, 1e-9);
        assert_near(100 * sward->height_m, rows[i].height_cm, 1e-9);
        assert_near(sward->residual_kg_ha, rows[i].residual, 1e-9);
        assert_near(100 * sward->leave_m, rows[i].leave_cm, 1e-9);
        for (size_t n = 0; n < notes.count; n++)
            noted |= strstr(notes.items[n].text,
                            "--option does not change the grass that "
                            "fields.each tells for this field") != NULL;
        assert_int_equal(noted, rows[i].noted);
        fw_notes_release(&notes);
        fw_farm_free(farm);
    }
}

/* What winter takes lies between the least and the most in print, those of the
 * place that was told, or is the share that was. */
static void winter_loss_is_a_range_a_place_or_a_share(void **state)
{
    (void)state;
    static const struct {
        const char *told;
        double least, most;
        const char *place;
    } rows[] = {{"", 0, 0.75, ""},
                {", winter-loss: 20 %", 0.2, 0.2, ""},
                {", winter-loss: missouri", 0.32, 0.75, "missouri"},
                {", winter-loss: wisconsin", 0.5, 0.5, "wisconsin"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char text[400];
        snprintf(text, sizeof text,
                 "forage: {sward: ryegrass-clover, height: 22 cm, leave: 9 "
                 "cm%s}\nfields: {source: field.geojson}\n",
                 rows[i].told);
        struct fw_farm *farm = good_farm(text);
        assert_near(farm->fields[0].loss.least, rows[i].least, 0);
        assert_near(farm->fields[0].loss.most, rows[i].most, 0);
        assert_string_equal(farm->fields[0].loss.place, rows[i].place);
        fw_farm_free(farm);
    }
}

/* What leaves nothing to eat is said by the line of the grass; what is only
 * half told is asked for. */
static void grass_that_leaves_nothing_is_said_with_its_line(void **state)
{
    (void)state;
    static const char head[] =
        "start: 2026-05-04\nflock: [{head: 9, weight: 60 kg, state: dry}]\n";
    static const struct {
        const char *grass, *piece; /* "": it is taken */
    } rows[] = {
        {"mass: 1400 kg/ha, residual: 1600 kg/ha", "farm.yaml:3: forage: "},
        {"mass: 1600 kg/ha, residual: 1400 kg/ha", ""},
        {"sward: ryegrass-clover, height: 9 cm, leave: 12 cm",
         "farm.yaml:3: forage: "},
        {"density: 200 kg/ha/cm, height: 9 cm, leave: 12 cm",
         "farm.yaml:3: forage: "},
        {"sward: ryegrass-clover, height: 22 cm, leave: 8 cm", ""},
        {"height: 9 cm, leave: 12 cm", "a plan still needs"},
        {"density: thin, height: 9 cm, leave: 12 cm", "a plan still needs"},
        {"mass: 1600 kg/ha", "a plan still needs what must stay"},
        {"mass: 1600 kg/ha, use: 50 %", ""},
        {"residual: 1400 kg/ha", "a plan still needs"},
        {"leave: 9 cm, sward: ryegrass-clover", "a plan still needs"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[400];
        struct fw_error err = {0};
        snprintf(text, sizeof text, "%sforage: {%s}\n" FIELDS, head,
                 rows[i].grass);
        struct fw_farm *farm = farm_of(text, false, &err);
        if (*rows[i].piece ? farm || !strstr(err.text, rows[i].piece) : !farm)
            fail_msg("\"%s\"; expected \"%s\" of %s", err.text, rows[i].piece,
                     rows[i].grass);
        fw_farm_free(farm);
        /* A look at the fields asks for none of it. */
        fw_farm_free(good_farm(text));
    }
}

/* ---- places ---- */

static const char *place(const char *key, double x, double y, bool swapped)
{
    static char text[200];
    snprintf(text, sizeof text, FIELDS "%s: \"%.9f,%.9f\"\n", key,
             swapped ? north(y) : east(x), swapped ? east(x) : north(y));
    return text;
}

/* Far off it is the way from the field's middle on the earth, near by from its
 * edge. */
static void how_far_off_a_place_is(void **state)
{
    (void)state;
    static const struct {
        double beyond_m, said_m;
    } rows[] = {{30, 30},       {2100, 2100},   {19000, 19000},
                {19900, 19900}, {20100, 20150}, {40000, 40050}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_error err = {0};
        assert_null(farm_of(place("gate", 100 + rows[i].beyond_m, 40, false),
                            true, &err));
        const char *said = strstr(err.text, "the gate is ");
        assert_non_null(said);
        /* A metre east is one to a few in ten thousand. */
        assert_near(strtod(said + strlen("the gate is "), NULL), rows[i].said_m,
                    1 + 5e-4 * rows[i].said_m);
        assert_says(&err, " m from field \"Long Bottom\"; expected at most 25");
        assert_null(strstr(err.text, "write longitude first"));
    }
}

/* Only where it would be in reach of water, the other way round. */
static void a_pair_the_other_way_round_is_said_to_be(void **state)
{
    (void)state;
    static const struct {
        double beyond_m;
        bool said;
    } rows[] = {{-50, true}, {0, true}, {1980, true}, {2030, false}};
    static const char *const keys[] = {"gate", "water", "park"};
    for (size_t k = 0; k < 3; k++)
        for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
            struct fw_error err = {0};
            assert_null(farm_of(
                place(keys[k], 100 + rows[i].beyond_m, 40, true), true, &err));
            assert_int_equal(
                strstr(err.text, "; write longitude first, then latitude") !=
                    NULL,
                rows[i].said);
        }
    struct fw_error err = {0};
    assert_null(farm_of(FIELDS "gate: \"120,9\"\n", true, &err));
    assert_null(strstr(err.text, "write longitude first"));
    assert_says(&err, "expected at most 25 m");
}

static void a_farms_place_goes_to_the_fields_in_its_reach(void **state)
{
    (void)state;
    const struct drawn three[] = {
        {"\"name\":\"A\"", BOX(0, 0, 100, 80), 0},
        {"\"name\":\"B\"", BOX(130, 0, 230, 80), 0},
        {"\"name\":\"C\"", BOX(2260, 0, 2360, 80), 0}};
    draw_map("three.geojson", three, 3);
    static const struct {
        const char *key;
        double x;
        const char *given; /* of A, B and C, a letter each */
        const char *piece;
    } rows[] = {
        {"gate", 115, "AB", ""},
        {"gate", 100, "A", ""},
        {"gate", 240, "B", ""},
        {"gate", 106, "AB", ""},
        {"gate", 104, "A", ""},
        {"gate", 260, "", "the gate is 30 m from the nearest field, \"B\""},
        {"gate", -40, "", "the gate is 40 m from the nearest field, \"A\""},
        {"gate", 2220, "", "the gate is 40 m from the nearest field, \"C\""},
        {"gate", 1245, "", "m from the nearest field, \""},
        {"water", 115, "AB", ""},
        {"water", 1245, "ABC", ""},
        {"water", 2220, "BC", ""},
        {"water", -1500, "AB", ""},
        {"water", 4500, "",
         " m from the nearest field, "
         "\"C\"; expected at most 2000 m"},
        {"park", 4500, "", "the vehicle is 2141 m from the nearest field"},
        {"park", 2300, "C", ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[200];
        struct fw_error err = {0};
        snprintf(text, sizeof text,
                 "fields: {source: three.geojson}\n%s: \"%.9f,%.9f\"\n",
                 rows[i].key, east(rows[i].x), north(40));
        struct fw_farm *farm = farm_of(text, true, &err);
        if (*rows[i].piece) {
            assert_null(farm);
            assert_int_equal(err.status, FW_EPLAN);
            assert_says(&err, rows[i].piece);
            continue;
        }
        if (!farm)
            fail_msg("%s", err.text);
        for (size_t f = 0; f < 3; f++) {
            const struct fw_farm_field *field = &farm->fields[f];
            const struct fw_spot *spot = *rows[i].key == 'g'   ? &field->gate
                                         : *rows[i].key == 'w' ? &field->water
                                                               : &field->park;
            if (spot->given != (strchr(rows[i].given, 'A' + (int)f) != NULL))
                fail_msg("row %zu, field %zu", i, f);
            if (spot->given)
                assert_near(spot->lonlat.lon_deg, east(rows[i].x), 1e-8);
        }
        fw_farm_free(farm);
    }
    refuses("fields: {source: three.geojson}\nwater: side:1\n",
            "water: \"side:1\" is on one field, and there are 3; tell it under "
            "fields.each for each field, or give lon,lat");
    refuses("fields: {source: three.geojson}\npark: corner:1\n",
            "park: \"corner:1\" is on one field, and there are 3");
}

/* ---- sides ---- */

static void sides_are_told_one_by_one_or_all(void **state)
{
    (void)state;
    static const struct {
        const char *told;
        enum fw_holds holds[4];
        enum fw_answer hot[4];
    } rows[] = {
        {"hot: no", {0, 0, 0, 0}, {FW_NO, FW_NO, FW_NO, FW_NO}},
        {"holds: sheep",
         {FW_HOLDS_SHEEP, FW_HOLDS_SHEEP, FW_HOLDS_SHEEP, FW_HOLDS_SHEEP},
         {0, 0, 0, 0}},
        {"sides: [{side: 1, hot: yes}, {}, {side: 4, holds: lambs}]",
         {0, 0, 0, FW_HOLDS_LAMBS},
         {FW_YES, 0, 0, 0}},
        {"hot: yes, sides: [{side: 2, holds: nothing, hot: no}]",
         {0, FW_HOLDS_NOTHING, 0, 0},
         {FW_YES, FW_NO, FW_YES, FW_YES}},
        {"sides: [{side: 3, hot: yes}, {side: 3, hot: no}, {side: 3}]",
         {0, 0, 0, 0},
         {0, 0, FW_NO, 0}},
    };
    for (int own = 0; own < 2; own++)
        for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
            char text[300];
            snprintf(text, sizeof text,
                     own ? "fields: {source: field.geojson, each: [{field: "
                           "Long Bottom, perimeter: {%s}}]}\n"
                         : FIELDS "perimeter: {%s}\n",
                     rows[i].told);
            struct fw_farm *farm = good_farm(text);
            for (size_t s = 0; s < 4; s++) {
                const struct fw_farm_side *side = &farm->fields[0].sides[s];
                assert_int_equal(side->holds, rows[i].holds[s]);
                assert_int_equal(side->hot, rows[i].hot[s]);
            }
            fw_farm_free(farm);
        }
}

static void sides_that_are_not_there_are_refused(void **state)
{
    (void)state;
    const struct drawn two[] = {{"\"name\":\"A\"", BOX(0, 0, 100, 80), 0},
                                {"\"name\":\"B\"", BOX(130, 0, 230, 80), 0}};
    draw_map("two.geojson", two, 2);
    refuses(FIELDS "perimeter: {sides: [{side: 4}, {side: 5, hot: no}]}\n",
            "farm.yaml:2: perimeter.sides: there is no side 5; field \"Long "
            "Bottom\" has sides 1 to 4, as check shows them");
    refuses(FIELDS "perimeter: {sides: [{hot: no}]}\n",
            "farm.yaml:2: perimeter.sides: the side's number is missing");
    refuses(FIELDS "perimeter:\n  sides:\n    - side: 1\n    - holds: lambs\n",
            "farm.yaml:5: perimeter.sides: the side's number is missing");
    refuses("fields: {source: two.geojson}\nperimeter: {sides: [{hot: no}]}\n",
            "perimeter.sides: the side's number is missing");
    refuses("fields: {source: two.geojson}\n"
            "perimeter: {sides: [{}, {side: 1}]}\n",
            "perimeter.sides: sides are numbered field by field, and there are "
            "2 fields; tell them under fields.each");
    fw_farm_free(good_farm("fields: {source: two.geojson, each: [{field: B, "
                           "perimeter: {sides: [{side: 1, hot: no}]}}]}\n"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(three_say_what_grass_there_is),
        cmocka_unit_test(winter_loss_is_a_range_a_place_or_a_share),
        cmocka_unit_test(grass_that_leaves_nothing_is_said_with_its_line),
        cmocka_unit_test(how_far_off_a_place_is),
        cmocka_unit_test(a_pair_the_other_way_round_is_said_to_be),
        cmocka_unit_test(a_farms_place_goes_to_the_fields_in_its_reach),
        cmocka_unit_test(sides_are_told_one_by_one_or_all),
        cmocka_unit_test(sides_that_are_not_there_are_refused),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
