/* The keys of the farm file against the register of figures. */
#include "farm_help.h"

#include "keys/schema.h"
#include <foldwright/figures.h>
#include <foldwright/quantity.h>

static const struct fw_farm_key *key_of(const struct fw_figure *figure,
                                        const struct fw_farm__reading **reading)
{
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(keys[i].path, figure->name) == 0) {
            *reading = fw_farm__reading(i);
            return &keys[i];
        }
    return NULL;
}

/* A quantity as the key's words have it, in the register's unit: "8 m (common
 * practice, no source)", "a whole number, 1 to 8", "0 to 50 %". */
static bool told(struct fw_quantities *quantities, const char *words,
                 const struct fw_farm__reading *reading, const char *unit,
                 double *out)
{
    char text[64];
    snprintf(text, sizeof text, "%.*s%s", (int)strcspn(words, "(,;"), words,
             unit);
    if (fw_quantity_read(quantities, text, reading->kind, FW_METRIC, 1, out,
                         NULL))
        return false;
    if (reading->scale > 0)
        *out *= reading->scale;
    return true;
}

static void keys_say_what_the_register_says(void **state)
{
    (void)state;
    size_t count, ranges = 0, values = 0;
    const struct fw_figure *rows = fw_figures(&count);
    struct fw_quantities *quantities = NULL;
    assert_int_equal(fw_quantities_new(&quantities, NULL), FW_OK);
    for (size_t i = 0; i < count; i++) {
        const struct fw_farm__reading *reading = NULL;
        const struct fw_farm_key *key = key_of(&rows[i], &reading);
        if (!key || reading->set != fw_farm__set_quantity || rows[i].points)
            continue;
        if (reading->least != rows[i].least || reading->most != rows[i].most)
            fail_msg("%s: the key takes %g to %g, the register has %g to %g",
                     key->path, reading->least, reading->most, rows[i].least,
                     rows[i].most);
        char range[FW_FARM_KEY_WORDS], otherwise[FW_FARM_KEY_WORDS];
        const char *to = strstr(fw_farm_key_range(key, range), " to ");
        double most = 0;
        if (to && told(quantities, to + 4, reading, "", &most)) {
            assert_near(most, rows[i].most, 1e-9 * fabs(rows[i].most));
            ranges++;
        }
        double value = 0;
        assert_non_null(fw_farm_key_otherwise(key, otherwise));
        assert_non_null(strstr(otherwise, rows[i].source));
        if (told(quantities, otherwise, reading, "", &value)) {
            if (fabs(value - rows[i].value) > 1e-9 * fabs(rows[i].value))
                fail_msg("%s: %s otherwise; the register has %g", key->path,
                         otherwise, rows[i].value);
            values++;
        }
    }
    assert_true(ranges >= 20 && values >= 20);
    fw_quantities_free(quantities);
}

/* A key and its figure have one name. */
static void each_key_names_its_figure(void **state)
{
    (void)state;
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    for (size_t i = 0; i < count; i++) {
        const char *figure = fw_farm__reading(i)->figure;
        const struct fw_figure *row = fw_figures_find(keys[i].path);
        if (row && !figure)
            fail_msg("%s does not name its figure", keys[i].path);
        else if (figure)
            assert_string_equal(figure, keys[i].path);
    }
}

/* ---- to tell what holds anyway changes nothing ---- */

static struct fw_farm *farm_with(const char *key, const char *value)
{
    const char *source = "field.geojson";
    const struct fw_farm_setting settings[] = {
        {.key = "start", .value = "2026-05-04"},
        {.key = "lambing.from", .value = "2026-05-10"},
        {.key = "lambing.to", .value = "2026-05-20"},
        {.key = key, .value = value}};
    const struct fw_farm_request request = {.field_sources = &source,
                                            .field_source_count = 1,
                                            .settings = settings,
                                            .setting_count = key ? 4 : 3,
                                            .fields_only = true};
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err))
        fail_msg("%s: %s: %s", key ? key : "nothing", value, err.text);
    return farm;
}

#define SAME(member)                                                           \
    if (fabs((double)a->member - (double)b->member) >                          \
        1e-12 * fabs((double)b->member))                                       \
    return #member
#define SAME_SPEC(spec)                                                        \
    SAME(spec.strands);                                                        \
    SAME(spec.post_gap_m);                                                     \
    SAME(spec.slack);                                                          \
    SAME(spec.reel_m);                                                         \
    SAME(spec.out_and_back);                                                   \
    SAME(spec.height_top_m);                                                   \
    SAME(spec.height_bottom_m)

/* The first member that differs, or NULL. */
static const char *differs(const struct fw_farm *a, const struct fw_farm *b)
{
    SAME_SPEC(moved);
    SAME(moved.lay_flat);
    SAME_SPEC(perimeter.spec);
    SAME(perimeter.tolerance_m);
    SAME(perimeter.brace_deg);
    SAME(rates.walk_m_min);
    SAME(rates.wind_m_min);
    SAME(rates.set_post_s);
    SAME(rates.pull_post_s);
    SAME(rates.end_s);
    SAME(rates.posts_an_armful);
    SAME(stay.days[0]);
    SAME(lambs_creep);
    SAME(last);
    SAME(work_order);
    SAME(lambing.way);
    SAME(dry_soil);
    SAME(water_moves);
    SAME(pace_m);
    SAME(least_face_m);
    SAME(longest_shape);
    SAME(apron_m);
    SAME(wiring.moved_ohm_m);
    SAME(wiring.perimeter_ohm_m);
    SAME(wiring.lead_ohm_m);
    SAME(wiring.bonded);
    SAME(wiring.soil_ohm_m);
    SAME(wiring.rod_v);
    SAME(wiring.interval_s);
    SAME(wiring.charge_days);
    SAME(wiring.sun_h);
    return NULL;
}

/* As a person would write it; false where the register tells it in words that
 * no key takes, or the plan, not the farm, fills it in. */
static bool spelled(const struct fw_figure *row, char text[64])
{
    static const char *const others[] = {
        "season",      "back-fence", "park",          "leakage",
        "least-width", "lane-width", "forage.legume", "forage.use",
    };
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (strcmp(row->name, others[i]) == 0)
            return false;
    const bool share = strcmp(row->unit, "share") == 0;
    if (row->word)
        snprintf(text, 64, "%s", row->word);
    else
        snprintf(text, 64, "%.12g %s", share ? 100 * row->value : row->value,
                 share                             ? "%"
                 : strcmp(row->unit, "m/min") == 0 ? "m"
                                                   : row->unit);
    return true;
}

static void telling_what_holds_anyway_changes_nothing(void **state)
{
    (void)state;
    size_t count, tried = 0;
    const struct fw_figure *rows = fw_figures(&count);
    struct fw_farm *untold = farm_with(NULL, NULL);
    for (size_t i = 0; i < count; i++) {
        const struct fw_farm__reading *reading = NULL;
        char text[64];
        if (!key_of(&rows[i], &reading) || !spelled(&rows[i], text))
            continue;
        struct fw_farm *farm = farm_with(rows[i].name, text);
        const char *member = differs(untold, farm);
        if (member)
            fail_msg("%s: %s is not what holds when it is not told: %s",
                     rows[i].name, text, member);
        fw_farm_free(farm);
        tried++;
    }
    fw_farm_free(untold);
    assert_true(tried >= 30);
}

/* The list names the sources that the register has. */
static void what_was_taken_has_the_register_s_source(void **state)
{
    (void)state;
    static const struct {
        const char *what, *name;
    } pairs[] = {
        {"stay", "stay"},
        {"last paddock", "last"},
        {"pace", "pace"},
        {"strands", "fence.strands"},
        {"post gap", "fence.post-gap"},
        {"slack of the wire", "fence.slack"},
        {"wire on a reel", "fence.reel"},
        {"wire heights", "fence.bottom"},
        {"wire of moved fence", "conductor"},
        {"soil at the earth rods", "earth.soil"},
    };
    struct fw_error err = {0};
    struct fw_farm *farm = farm_of(
        "start: 2026-05-04\nflock: {head: 90, weight: 60 kg, state: dry}\n"
        "forage: {sward: ryegrass-clover, height: 22 cm, leave: 9 cm}\n"
        "fields: {source: field.geojson}\n",
        false, &err);
    if (!farm)
        fail_msg("%s", err.text);
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        const struct fw_figure *row = fw_figures_find(pairs[i].name);
        const struct fw_farm_default *found = NULL;
        for (size_t k = 0; k < farm->default_count; k++)
            if (strcmp(farm->defaults[k].what, pairs[i].what) == 0)
                found = &farm->defaults[k];
        if (!found || !row)
            fail_msg("%s is not listed", pairs[i].what);
        assert_string_equal(found->source, row->source);
    }
    fw_farm_free(farm);
}

/* Three moves a week are stays of two days, mostly: those have another share.
 */
static void the_use_that_is_listed_is_that_of_most_stays(void **state)
{
    (void)state;
    struct fw_error err = {0};
    struct fw_farm *farm = farm_of(
        "start: 2026-05-04\nstay: {mon: 1 day, wed: 1 day, fri: 1 day}\n"
        "flock: {head: 90, weight: 60 kg, state: dry}\n"
        "forage: {sward: ryegrass-clover, height: 22 cm, leave: 9 cm}\n"
        "fields: {source: field.geojson}\n",
        false, &err);
    if (!farm)
        fail_msg("%s", err.text);
    size_t found = 0;
    for (size_t i = 0; i < farm->default_count; i++)
        if (strcmp(farm->defaults[i].what, "use of the grass") == 0) {
            assert_string_equal(farm->defaults[i].value, "75 %");
            found++;
        }
    assert_int_equal(found, 1);
    fw_farm_free(farm);
}

/* Of several fields an answer is listed once for as long as it is the same. */
static void what_fields_share_is_listed_once(void **state)
{
    (void)state;
    static const struct {
        const char *each;
        size_t uses, densities;
    } rows[] = {
        {"", 1, 1},
        {"{field: A, forage: {use: 70 %}}", 1, 1},
        {"{field: A, forage: {density: 200 kg/ha per cm}}", 1, 1},
        {"{field: A, forage: {mass: 2400 kg/ha}}", 1, 1},
        {"{field: A, forage: {use: 70 %}}, {field: B, forage: {use: 60 %}}", 0,
         1},
    };
    put_text(
        "two.geojson",
        COLLECTION(FEATURE("A", POLYGON(FIELD_RING)) "," FEATURE(
            "B", POLYGON("[[9.1,51],[9.101,51],[9.101,51.001],[9.1,51.001],"
                         "[9.1,51]]"))));
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_error err = {0};
        char text[512];
        size_t uses = 0, densities = 0;
        snprintf(text, sizeof text,
                 "start: 2026-05-04\n"
                 "flock: {head: 90, weight: 60 kg, state: dry}\n"
                 "forage: {sward: ryegrass-clover, height: 22 cm, leave: 9 cm}"
                 "\nfields: {source: two.geojson, each: [%s]}\n",
                 rows[i].each);
        struct fw_farm *farm = farm_of(text, false, &err);
        if (!farm)
            fail_msg("%s", err.text);
        for (size_t k = 0; k < farm->default_count; k++) {
            const char *what = farm->defaults[k].what;
            uses += strcmp(what, "use of the grass") == 0;
            densities += strcmp(what, "weight of the grass by height") == 0;
        }
        assert_int_equal(uses, rows[i].uses);
        assert_int_equal(densities, rows[i].densities);
        fw_farm_free(farm);
    }
}

/* The first field that lacks something speaks for the others. */
static void what_all_fields_lack_is_asked_once(void **state)
{
    (void)state;
    static const char *const asked[] = {"how much grass stands on A",
                                        "what must stay on A"};
    struct fw_error err = {0};
    assert_null(farm_of("start: 2026-05-04\n"
                        "flock: {head: 90, weight: 60 kg, state: dry}\n"
                        "fields: {source: two.geojson}\n",
                        false, &err));
    for (size_t i = 0; i < 2; i++)
        assert_says(&err, asked[i]);
    assert_null(strstr(err.text, " on B"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(keys_say_what_the_register_says),
        cmocka_unit_test(each_key_names_its_figure),
        cmocka_unit_test(telling_what_holds_anyway_changes_nothing),
        cmocka_unit_test(what_was_taken_has_the_register_s_source),
        cmocka_unit_test(the_use_that_is_listed_is_that_of_most_stays),
        cmocka_unit_test(what_fields_share_is_listed_once),
        cmocka_unit_test(what_all_fields_lack_is_asked_once),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
