/* What is taken where nobody told anything, key by key; what a plan cannot do
 * without, term by term; and the circuit that a farm's words make. */
#include "forms_maps.h"

#define FIELDS "fields: {source: field.geojson}\n"

/* ---- what was taken ---- */

static bool listed(const struct fw_farm *farm, const char *what)
{
    for (size_t i = 0; i < farm->default_count; i++)
        if (strcmp(farm->defaults[i].what, what) == 0)
            return true;
    return false;
}

static const char base[] =
    "start: 2026-05-04\nflock: {head: 90, weight: 60 kg, state: dry}\n"
    "gate: corner:1\nlambing: {from: 2026-05-10, to: 2026-05-20}\n"
    "forage: {sward: ryegrass-clover, height: 22 cm, leave: 9 cm}\n" FIELDS;

static struct fw_farm *with(const char *key, const char *value)
{
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    put_text("farm.yaml", base);
    const struct fw_farm_setting setting = {key, value, NULL};
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .settings = &setting,
                                            .setting_count = key != NULL};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err))
        fail_msg("%s: %s", key ? key : "", err.text);
    return farm;
}

/* One key is told: of all that was taken, its own row is gone, and no other. */
static void each_key_takes_its_own_row_off_the_list(void **state)
{
    (void)state;
    static const char *const rows[][3] = {
        {"units", "metric", "units"},
        {"stay", "1 day", "stay"},
        {"last", "fit", "last paddock"},
        {"season", "growth", "season"},
        {"back-fence", "yes", "back fence"},
        {"work.order", "leapfrog", "order of work"},
        {"lambing.way", "daily", "moves at lambing"},
        {"park", "corner:1", "vehicle and spare posts"},
        {"pace", "0.8 m", "pace"},
        {"soil", "moist", "soil"},
        {"flock[].intake", "2.6 %", "intake of dry ewe"},
        {"forage.use", "80 %", "use of the grass"},
        {"forage.density", "200 kg/ha/cm", "weight of the grass by height"},
        {"fence.strands", "2", "strands"},
        {"fence.post-gap", "8 m", "post gap"},
        {"fence.slack", "4 %", "slack of the wire"},
        {"fence.reel", "400 m", "wire on a reel"},
        {"fence.reel-use", "one-a-strand", "use of the reels"},
        {"conductor", "poly-6x0.20", "wire of moved fence"},
        {"perimeter-conductor", "steel-2.5", "live wire of the boundary"},
        {"bonded", "live-end", "strands joined"},
        {"leakage", "light", "grass on the lowest wire"},
        {"earth.soil", "loam", "soil at the earth rods"},
        {"earth.ohm", "20 ohm", "soil at the earth rods"},
        {"hauling.trough-moves", "yes", "trough moves with the flock"},
        {"farm", "Ridge", NULL},
        {"fence.top", "55 cm", NULL},
        {"fence.bottom", "35 cm", NULL},
        {"joint", "2 ohm", NULL},
        {"energizer.rule", "km", NULL},
    };
    struct fw_farm *bare = with(NULL, NULL);
    assert_int_equal(bare->default_count, 25);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_farm *farm = with(rows[i][0], rows[i][1]);
        size_t gone = 0;
        for (size_t d = 0; d < bare->default_count; d++) {
            const char *what = bare->defaults[d].what;
            const bool own = rows[i][2] && strcmp(what, rows[i][2]) == 0;
            if (listed(farm, what) == own)
                fail_msg("%s=%s: \"%s\" is %s", rows[i][0], rows[i][1], what,
                         own ? "still there" : "gone");
            gone += own;
        }
        assert_int_equal(gone, rows[i][2] != NULL);
        assert_int_equal(farm->default_count, bare->default_count - gone);
        fw_farm_free(farm);
    }
    fw_farm_free(bare);
    /* With joules there is a rule that was taken. */
    struct fw_farm *farm = with("energizer.joules", "2 J");
    assert_true(listed(farm, "joule rule"));
    assert_int_equal(farm->default_count, 26);
    fw_farm_free(farm);
}

static const char *value_of(const struct fw_farm *farm, const char *what)
{
    for (size_t i = 0; i < farm->default_count; i++)
        if (strcmp(farm->defaults[i].what, what) == 0)
            return farm->defaults[i].value;
    fail_msg("no \"%s\"", what);
    return "";
}

static void what_was_taken_has_the_value_that_holds(void **state)
{
    (void)state;
    struct fw_farm *farm = with(NULL, NULL);
    static const char *const rows[][2] = {
        {"units", "metric"},
        {"stay", "1 day"},
        {"last paddock", "fit"},
        {"season", "growth"},
        {"back fence", "yes"},
        {"order of work", "leapfrog"},
        {"strands", "2"},
        {"post gap", "8 m"},
        {"wire on a reel", "400 m"},
        {"moves at lambing", "daily"},
        {"strands joined", "live-end"},
        {"soil", "moist"},
        {"slack of the wire", "4 %"},
        {"live wire of the boundary", "5 of steel-2.5"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_string_equal(value_of(farm, rows[i][0]), rows[i][1]);
    char text[40];
    snprintf(text, sizeof text, "%g ohm m", farm->wiring.soil_ohm_m);
    assert_string_equal(value_of(farm, "soil at the earth rods"), text);
    assert_true(farm->wiring.soil_ohm_m > 0 && farm->wiring.soil_ohm_m < 400);
    fw_farm_free(farm);
    farm = with("soil", "dry");
    assert_string_equal(value_of(farm, "soil at the earth rods"), "400 ohm m");
    assert_near(farm->wiring.soil_ohm_m, 400, 0);
    fw_farm_free(farm);
    farm = with("season", "dormant");
    assert_string_equal(value_of(farm, "back fence"), "no");
    fw_farm_free(farm);
    farm = with("flock[].weight", "132 lb");
    assert_string_equal(value_of(farm, "units"), "us");
    fw_farm_free(farm);
}

/* ---- what is missing ---- */

struct part {
    const char *told, *what, *write;
};

/* Of three things that a class has and one that the farm has, all mixtures. */
static void a_plan_says_all_that_it_still_needs(void **state)
{
    (void)state;
    static const struct part parts[] = {
        {"head: 9, ", "how many sheep: flock[0].head: 90 (--head 90)", NULL},
        {"weight: 60 kg, ", "how heavy: flock[0].weight: 62 kg (--weight 62kg)",
         NULL},
        {"state: dry, ",
         "what they are doing: flock[0].state: dry (--class dry)", NULL},
        {"2026-05-04", "the first day: start: 2026-05-04 (--start 2026-05-04)",
         NULL},
    };
    for (unsigned told = 0; told < 15; told++) {
        char text[400], want[500] = "a plan still needs ", flock[100] = "";
        struct fw_error err = {0};
        bool any = false;
        for (unsigned i = 0; i < 4; i++) {
            if (told >> i & 1) {
                if (i < 3)
                    strcat(flock, parts[i].told);
                continue;
            }
            strcat(strcat(want, any ? "; " : ""), parts[i].what);
            any = true;
        }
        snprintf(text, sizeof text,
                 "flock: [{%scoat: wool}]\nstart: %s\nforage: {mass: 2600 "
                 "kg/ha, residual: 1400 kg/ha}\n" FIELDS,
                 flock, told >> 3 & 1 ? parts[3].told : "");
        assert_null(farm_of(text, false, &err));
        const char *said = strstr(err.text, want);
        if (!said || strcmp(said, want) != 0)
            fail_msg("\"%s\"; expected \"%s\"", err.text, want);
        fw_farm_free(good_farm(text));
    }
}

/* Who reads pounds is told examples in pounds, by 0.4536 kg, 2.54 cm and 0.8922
 * lb/acre for a kg/ha; and written as they stand they make a plan. */
static void examples_are_in_the_units_that_they_read(void **state)
{
    (void)state;
    static const char *const heads[] = {"units: us\n",
                                        "fence: {top: 21 in, bottom: 12 in}\n"};
    static const struct {
        const char *lacks, *say, *more;
    } rows[] = {
        {"flock: [{head: 9, state: dry}]\nforage: {mass: 2600 kg/ha, residual: "
         "1400 kg/ha}\n",
         "how heavy: flock[0].weight: 137 lb (--weight 137lb)",
         "flock: [{head: 9, state: dry, weight: 137 lb}]\nforage: {mass: 2320 "
         "lb/acre, residual: 1250 lb/acre}\n"},
        {"flock: [{head: 9, state: dry, weight: 140 lb}]\n",
         "and forage.height: 9 in (--height 9in), or forage.mass: 2320 lb/acre "
         "(--mass 2320lb/acre); what must stay: forage.leave: 4 in (--leave "
         "4in), or forage.residual: 1250 lb/acre (--residual 1250lb/acre)",
         "flock: [{head: 9, state: dry, weight: 140 lb}]\nforage: {sward: "
         "ryegrass-clover, height: 9 in, leave: 4 in}\n"},
    };
    for (size_t h = 0; h < 2; h++)
        for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
            char text[500];
            struct fw_error err = {0};
            snprintf(text, sizeof text, "%sstart: 2026-05-04\n%s" FIELDS,
                     heads[h], rows[i].lacks);
            assert_null(farm_of(text, false, &err));
            if (!strstr(err.text, rows[i].say))
                fail_msg("\"%s\"; expected \"%s\"", err.text, rows[i].say);
            snprintf(text, sizeof text, "%sstart: 2026-05-04\n%s" FIELDS,
                     heads[h], rows[i].more);
            struct fw_farm *farm = good_farm(text);
            assert_int_equal(farm->units, FW_US);
            fw_farm_free(farm);
        }
}

static void what_a_second_class_lacks_has_no_option(void **state)
{
    (void)state;
    static const char head[] =
        "start: 2026-05-04\nforage: {mass: 2600 kg/ha, residual: 1400 "
        "kg/ha}\n" FIELDS;
    static const char *const rows[][2] = {
        {"flock: [{head: 9, weight: 60 kg, state: dry}, {head: 1}]\n",
         "a plan still needs how heavy: flock[1].weight: 62 kg; what they are "
         "doing: flock[1].state: dry"},
        {"flock: [{head: 9, weight: 60 kg, intake: 2 %}, {weight: 50 kg, "
         "intake: 2 %}]\n",
         "a plan still needs how many sheep: flock[1].head: 90"},
        {"", "a plan still needs how many sheep: flock[0].head: 90 (--head "
             "90); how heavy: flock[0].weight: 62 kg (--weight 62kg); what "
             "they are doing: flock[0].state: dry (--class dry)"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[400];
        struct fw_error err = {0};
        snprintf(text, sizeof text, "%s%s", rows[i][0], head);
        assert_null(farm_of(text, false, &err));
        const char *said = strstr(err.text, rows[i][1]);
        if (!said || strcmp(said, rows[i][1]) != 0)
            fail_msg("\"%s\"; expected \"%s\"", err.text, rows[i][1]);
    }
}

/* The first field that lacks one thing speaks for all that lack it. */
static void the_grass_of_each_field_is_asked_for_once(void **state)
{
    (void)state;
    const struct drawn two[] = {{"\"name\":\"A\"", BOX(0, 0, 100, 80), 0},
                                {"\"name\":\"B\"", BOX(130, 0, 230, 80), 0}};
    draw_map("two.geojson", two, 2);
    static const char head[] =
        "start: 2026-05-04\nflock: {head: 9, weight: 60 kg, state: dry}\n";
    static const char *const rows[][4] = {
        /* A, B, what is said of what stands, and of what stays */
        {"", "",
         "how much grass stands on A: forage.sward: ryegrass-clover (--sward "
         "ryegrass-clover) and",
         "what must stay on A: forage.leave"},
        {"mass: 2600 kg/ha", "",
         "how much grass stands on B: ", "what must stay on A: "},
        {"mass: 2600 kg/ha, residual: 1000 kg/ha", "",
         "stands on B: ", "must stay on B: "},
        {"mass: 2600 kg/ha, residual: 1000 kg/ha", "height: 9 cm",
         "stands on B: forage.sward: ryegrass-clover (--sward "
         "ryegrass-clover), which turns",
         "must stay on B: "},
        {"leave: 9 cm", "sward: ryegrass-clover, leave: 9 cm",
         "stands on A: ", NULL},
        {"mass: 2600 kg/ha, residual: 1000 kg/ha",
         "sward: ryegrass-clover, leave: 9 cm",
         "stands on B: forage.height: 22 cm (--height 22cm)", NULL},
        {"mass: 2600 kg/ha", "mass: 2600 kg/ha, residual: 1000 kg/ha", NULL,
         "must stay on A: "},
        {"mass: 2600 kg/ha, use: 50 %", "mass: 2600 kg/ha", NULL,
         "must stay on B: "},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[700];
        struct fw_error err = {0};
        snprintf(text, sizeof text,
                 "%sfields: {source: two.geojson, each: [{field: A, forage: "
                 "{%s}}, {field: B, forage: {%s}}]}\n",
                 head, rows[i][0], rows[i][1]);
        assert_null(farm_of(text, false, &err));
        if (rows[i][2])
            assert_says(&err, rows[i][2]);
        if (rows[i][3])
            assert_says(&err, rows[i][3]);
        assert_int_equal(strstr(err.text, "how much grass stands") != NULL,
                         rows[i][2] != NULL);
        assert_int_equal(strstr(err.text, "what must stay") != NULL,
                         rows[i][3] != NULL);
        /* each of them once */
        const char *first = strstr(err.text, "what must stay");
        assert_true(!first || !strstr(first + 1, "what must stay"));
        first = strstr(err.text, "how much grass");
        assert_true(!first || !strstr(first + 1, "how much grass"));
    }
}

/* ---- the circuit ---- */

struct wire {
    const char *key, *value;
    size_t offset;
    double want;
};

#define OF(member) offsetof(struct fw_farm_wiring, member)

/* Each key goes to its own place, and leaves all others as they are. */
static void each_key_of_the_circuit_goes_to_its_place(void **state)
{
    (void)state;
    static const struct wire rows[] = {
        {"conductor", "0.5 ohm/m", OF(moved_ohm_m), 0.5},
        {"perimeter-conductor", "0.06 ohm/m", OF(perimeter_ohm_m), 0.06},
        {"lead.conductor", "0.07 ohm/m", OF(lead_ohm_m), 0.07},
        {"leakage", "900 ohm km", OF(moved_leak_ohm_km), 900},
        {"perimeter-leakage", "800 ohm km", OF(perimeter_leak_ohm_km), 800},
        {"joint", "2 ohm", OF(joint_ohm), 2},
        {"lead.switch", "3 ohm", OF(switch_ohm), 3},
        {"lead.length", "44 m", OF(lead_m), 44},
        {"lead.length", "0 m", OF(lead_m), 0},
        {"earth.soil", "80 ohm m", OF(soil_ohm_m), 80},
        {"earth.soil", "100000 ohm m", OF(soil_ohm_m), 1e5},
        {"earth.ohm", "21 ohm", OF(earth_ohm), 21},
        {"earth.test", "250 V", OF(rod_v), 250},
        {"energizer.pulse", "1.2 s", OF(interval_s), 1.2},
        {"energizer.charge", "5 days", OF(charge_days), 5},
        {"energizer.sun", "3 h", OF(sun_h), 3},
        {"bonded", "every 5 m", OF(bond_gap_m), 5},
        {"bonded", "every 5000 m", OF(bond_gap_m), 5000},
        {"energizer.open", "9 kV", OF(open_v), 9000},
    };
    const struct fw_farm_wiring plain = fw_farm_wiring_default();
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_farm *farm = with(rows[i].key, rows[i].value);
        const struct fw_farm_wiring *wiring = &farm->wiring;
        for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
            double want, got;
            memcpy(&want, (const char *)&plain + rows[k].offset, sizeof want);
            memcpy(&got, (const char *)wiring + rows[k].offset, sizeof got);
            if (rows[k].offset == rows[i].offset)
                want = rows[i].want;
            if (!(fabs(got - want) <= 1e-9 * fabs(want)))
                fail_msg("%s=%s: %g, expected %g of %s", rows[i].key,
                         rows[i].value, got, want, rows[k].key);
        }
        fw_farm_free(farm);
    }
}

static void words_of_the_circuit_are_taken(void **state)
{
    (void)state;
    static const struct {
        const char *key, *value;
        enum fw_bonded bonded;
        bool far, moves;
        enum fw_answer back;
        int rods;
    } rows[] = {
        {NULL, NULL, FW_BONDED_LIVE_END, false, false, FW_UNTOLD, 0},
        {"bonded", "live-end", FW_BONDED_LIVE_END, false, false, FW_UNTOLD, 0},
        {"bonded", "both-ends", FW_BONDED_BOTH_ENDS, false, false, FW_UNTOLD,
         0},
        {"bonded", "every 9 m", FW_BONDED_EVERY, false, false, FW_UNTOLD, 0},
        {"far-end", "hooked", FW_BONDED_LIVE_END, true, false, FW_UNTOLD, 0},
        {"far-end", "loose", FW_BONDED_LIVE_END, false, false, FW_UNTOLD, 0},
        {"energizer.moves", "yes", FW_BONDED_LIVE_END, false, true, FW_UNTOLD,
         0},
        {"energizer.moves", "no", FW_BONDED_LIVE_END, false, false, FW_UNTOLD,
         0},
        {"earth.return", "yes", FW_BONDED_LIVE_END, false, false, FW_YES, 0},
        {"earth.return", "no", FW_BONDED_LIVE_END, false, false, FW_NO, 0},
        {"earth.rods", "7", FW_BONDED_LIVE_END, false, false, FW_UNTOLD, 7},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_farm *farm = with(rows[i].key, rows[i].value);
        const struct fw_farm_wiring *wiring = &farm->wiring;
        assert_int_equal(wiring->bonded, rows[i].bonded);
        assert_int_equal(wiring->far_hooked, rows[i].far);
        assert_int_equal(wiring->moves, rows[i].moves);
        assert_int_equal(wiring->earth_return, rows[i].back);
        assert_int_equal(wiring->rods, rows[i].rods);
        assert_int_equal(wiring->perimeter_strands,
                         farm->perimeter.spec.strands);
        if (rows[i].bonded != FW_BONDED_EVERY)
            assert_near(wiring->bond_gap_m, 0, 0);
        fw_farm_free(farm);
    }
}

static void what_no_circuit_has_is_refused(void **state)
{
    (void)state;
    static const char *const rows[][2] = {
        {"bonded: every 4.9 m", "out of range; expected every 5 m to 5000 m"},
        {"bonded: every 5001 m", "out of range; expected every 5 m to 5000 m"},
        {"bonded: every", "\"every\" is unknown; expected live-end"},
        {"bonded: every tree", "\"tree\" is not a length"},
        {"conductor: 1001 ohm/m", "is 1001 ohm/m; expected over 0 to 1000"},
        {"earth: {soil: 100001 ohm m}", "out of range; expected a word of the "
                                        "soil table, or ohm m, over 0 to"},
        {"earth: {soil: 0 ohm m}", "out of range"},
        {"earth: {return: yes}\nfence: {strands: 1}",
         "farm.yaml:1: earth.return: one strand cannot be hot and earth at"},
        {"fence: {reel-use: out-and-back, strands: 2}\nearth: {return: yes}",
         "farm.yaml:2: earth.return: out and back two strands are one wire"},
        {"energizer: {internal: 9 ohm}",
         "farm.yaml:1: energizer.internal: means something with the volts "
         "without a fence only, such as energizer.open: 9 kV (--open 9kV)"},
        {"energizer: {loaded: 4 kV}", "energizer.loaded: means something"},
        {"energizer: {loaded: 4 kV, internal: 9 ohm}",
         "energizer.internal: says the same thing as energizer.loaded; keep"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_error err = {0};
        char text[300];
        snprintf(text, sizeof text, "%s\n" FIELDS, rows[i][0]);
        assert_null(farm_of(text, true, &err));
        assert_says(&err, rows[i][1]);
    }
    static const char *const taken[] = {
        "conductor: 1000 ohm/m", "fence: {reel-use: out-and-back, strands: 2}",
        "earth: {return: no}\nfence: {reel-use: out-and-back, strands: 2}",
        "earth: {return: yes}\nfence: {strands: 3}"};
    for (size_t i = 0; i < sizeof taken / sizeof taken[0]; i++) {
        char text[300];
        snprintf(text, sizeof text, "%s\n" FIELDS, taken[i]);
        fw_farm_free(good_farm(text));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_key_takes_its_own_row_off_the_list),
        cmocka_unit_test(what_was_taken_has_the_value_that_holds),
        cmocka_unit_test(a_plan_says_all_that_it_still_needs),
        cmocka_unit_test(examples_are_in_the_units_that_they_read),
        cmocka_unit_test(what_a_second_class_lacks_has_no_option),
        cmocka_unit_test(the_grass_of_each_field_is_asked_for_once),
        cmocka_unit_test(each_key_of_the_circuit_goes_to_its_place),
        cmocka_unit_test(words_of_the_circuit_are_taken),
        cmocka_unit_test(what_no_circuit_has_is_refused),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
