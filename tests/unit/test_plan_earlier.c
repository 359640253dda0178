/* Plans that go on from a fence of a plan made before, by its name. What stands
 * then is told by the steps of that plan, counted here with a list and no more;
 * what comes is that plan's own rest, where nothing has changed. */
#include "farm_help.h"
#include "plan_rest.h"

#include "crs/crs.h"
#include "io/io.h"
#include "make/make.h"
#include "plan/plan.h"
#include "store/store.h"

#include "base/alloc.h"

/* 200 m by 100 m, and an L of 2 ha. */
#define RECTANGLE                                                              \
    "[[9.0,51.0],[9.0028501,51.0],[9.0028501,51.0008988],[9.0,51.0008988],"    \
    "[9.0,51.0]]"
#define ELL                                                                    \
    "[[9.0,51.0],[9.0028501,51.0],[9.0028501,51.0006],[9.0014,51.00065],"      \
    "[9.0013,51.0018],[9.0,51.0018],[9.0,51.0]]"

#define GRASS "forage: {mass: 2600 kg/ha, residual: 1400 kg/ha, use: 0.75}\n"
#define FLOCK(head, state)                                                     \
    "flock: [{head: " head ", weight: 68 kg, state: " state ", trained: "      \
    "yes}]\n"
#define REST                                                                   \
    "perimeter: {holds: lambs, hot: yes}\n"                                    \
    "gate: corner:4\nwater: side:4@20m\n"

static struct fw_plan *plan_from(const struct fw_farm_request *request,
                                 struct fw_error *err)
{
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL;
    if (!fw_farm_read(request, &farm, NULL, NULL, err) &&
        fw_plan_make(farm, &plan, err))
        plan = NULL;
    fw_farm_free(farm);
    return plan;
}

static struct fw_plan *plan_of_text(const char *text, struct fw_error *err)
{
    const struct fw_farm_request request = {.farm_path = "farm.yaml"};
    put_text("farm.yaml", text);
    return plan_from(&request, err);
}

static struct fw_plan *good_plan(const char *text)
{
    struct fw_error err = {0};
    struct fw_plan *plan = plan_of_text(text, &err);
    if (!plan)
        fail_msg("%s\nsaid of:\n%s", err.text, text);
    return plan;
}

/* The farm with more keys at its beginning. */
__attribute__((format(printf, 2, 3))) static const char *
with(const char *farm, const char *format, ...)
{
    static char room[8192];
    va_list args;
    va_start(args, format);
    const int length = vsnprintf(room, sizeof room / 2, format, args);
    va_end(args);
    snprintf(room + length, sizeof room - (size_t)length, "%s", farm);
    return room;
}

static void save(const struct fw_plan *plan, const char *path)
{
    char *bytes;
    size_t count;
    assert_int_equal(fw_plan_json_write(plan, NULL, 0, &bytes, &count, NULL),
                     FW_OK);
    assert_int_equal(fw_file_put(path, bytes, count, NULL), FW_OK);
    fw_bytes_free(bytes);
}

static const char *date(int day)
{
    static char text[FW_DATE_TEXT];
    return fw_date_write(day, text);
}

/* From every fence that goes with the flock. How many there are. */
static size_t go_on_everywhere(const char *farm)
{
    struct fw_plan *before = good_plan(with(farm, "start: 2027-06-07\n"));
    size_t count = 0;
    save(before, "before.json");
    for (size_t i = 0; i < before->fence_count; i++) {
        const struct fw_plan_fence *fence = &before->fences[i];
        if (fence->role != FW_FENCE_MOVED)
            continue;
        const size_t move = fence->from; /* of one field: its stay, its move */
        assert_int_equal(fw_plan_move_to(before, move), fence->from);
        snprintf(what, sizeof what, "%s%s", farm, fence->id);
        struct fw_plan *rest =
            good_plan(with(farm, "start: %s\nearlier: before.json\nfront: %s\n",
                           date(before->time.moves[move + 1].day), fence->id));
        compare_rest(before, move, rest);
        fw_plan_free(rest);
        count++;
    }
    fw_plan_free(before);
    return count;
}

#define FARM(layout, head, state, rest)                                        \
    GRASS FLOCK(head, state) REST                                              \
        "fields: {source: field.geojson}\nlayout: " layout "\n" rest

static void rest_of_a_plan_is_its_own_rest(void **state)
{
    (void)state;
    static const char *const layouts[] = {"strips", "blocks", "lane", "turning",
                                          "wedges"};
    static const char *const habits[] = {
        "work: {order: leapfrog}\nback-fence: yes\n",
        "work: {order: leapfrog}\nback-fence: no\n",
        "work: {order: set-first}\nback-fence: yes\n",
        "work: {order: set-first}\nback-fence: no\n",
        "work: {order: leapfrog}\nback-fence: yes\n"
        "hauling: {trough-moves: no}\n",
        "work: {order: leapfrog}\nback-fence: no\n"
        "hauling: {trough-moves: no}\nblock-lines: all\n",
        "work: {order: leapfrog}\nback-fence: yes\n"
        "stay: {mon-wed: 3 days, thu-sun: 4 days}\n",
    };
    static const char *const rings[] = {RECTANGLE, ELL};
    size_t count = 0;
    for (size_t r = 0; r < 2; r++) {
        char map[1024];
        snprintf(map, sizeof map,
                 COLLECTION(FEATURE("Foreland", POLYGON("%s"))), rings[r]);
        put_text("field.geojson", map);
        for (size_t l = 0; l < sizeof layouts / sizeof *layouts; l++)
            for (size_t h = 0; h < sizeof habits / sizeof *habits; h++) {
                char farm[2048];
                struct fw_error err = {0};
                snprintf(farm, sizeof farm, FARM("%s", "150", "dry", "%s"),
                         layouts[l], habits[h]);
                struct fw_plan *plan =
                    plan_of_text(with(farm, "start: 2027-06-07\n"), &err);
                if (!plan) /* not every pattern fits every field */
                    continue;
                fw_plan_free(plan);
                count += go_on_everywhere(farm);
            }
    }
    assert_true(count > 300);
}

static void young_lambs_are_waited_for_as_before(void **state)
{
    (void)state;
    put_text("field.geojson",
             COLLECTION(FEATURE("Foreland", POLYGON(RECTANGLE))));
    assert_true(go_on_everywhere(FARM(
                    "strips", "60", "lactation-twins",
                    "lambing: {from: 2027-06-05, to: 2027-06-10, way: drift}\n"
                    "back-fence: yes\n")) > 3);
    assert_true(go_on_everywhere(FARM(
                    "blocks", "60", "lactation-twins",
                    "lambing: {from: 2027-06-05, to: 2027-06-10, way: daily}\n"
                    "back-fence: no\n")) > 3);
}

/* ---- plans after plans ---- */

static void one_field(const char *name, const char *ring)
{
    char map[1024];
    snprintf(map, sizeof map, COLLECTION(FEATURE("%s", POLYGON("%s"))), name,
             ring);
    put_text("field.geojson", map);
}

/* A's rest, and the rest of that: both are A's. And to go on from where the
 * second began is to begin it again. */
static void follow(const char *farm)
{
    struct fw_plan *first = good_plan(with(farm, "start: 2027-06-07\n"));
    save(first, "before.json");
    const size_t a = first->fences[0].from; /* whatever that is */
    assert_int_equal(a, 0);
    struct fw_plan *second = good_plan(
        with(farm, "start: 2027-06-08\nearlier: before.json\nfront: A01-02\n"));
    save(second, "second.json");
    struct fw_plan *again = good_plan(
        with(farm, "start: 2027-06-08\nearlier: second.json\nfront: A01-02\n"));
    snprintf(what, sizeof what, "again");
    compare_rest(first, 0, again);
    struct fw_plan *third = NULL;
    for (size_t i = 0; i < second->fence_count && !third; i++) {
        const struct fw_plan_fence *fence = &second->fences[i];
        if (fence->role != FW_FENCE_MOVED || fence->from < 3)
            continue;
        third = good_plan(
            with(farm, "start: %s\nearlier: second.json\nfront: %s\n",
                 date(first->time.moves[fence->from + 1].day), fence->id));
        snprintf(what, sizeof what, "third, %s", fence->id);
        compare_rest(first, fence->from, third);
    }
    assert_non_null(third);
    fw_plan_free(first);
    fw_plan_free(second);
    fw_plan_free(again);
    fw_plan_free(third);
}

static void plans_follow_plans(void **state)
{
    (void)state;
    one_field("Foreland", RECTANGLE);
    follow(FARM("blocks", "150", "dry", ""));
    follow(FARM("lane", "150", "dry", "hauling: {trough-moves: no}\n"));
    follow(FARM("wedges", "150", "dry",
                "hauling: {trough-moves: no}\nback-fence: no\n"));
    follow(FARM("strips", "150", "dry",
                "back-fence: no\nwork: {order: set-first}\n"));
}

/* What a person counts when half of the ground is done. */
static void only_what_is_to_come_is_counted(void **state)
{
    (void)state;
    static const char farm[] = FARM("strips", "150", "dry", "");
    one_field("Foreland", RECTANGLE);
    struct fw_plan *before = good_plan(with(farm, "start: 2027-06-07\n"));
    save(before, "before.json");
    const size_t all = before->paddock_count;
    struct fw_plan *rest = good_plan(
        with(farm, "start: 2027-06-11\nearlier: before.json\nfront: A04-05\n"));
    assert_int_equal(rest->totals.paddocks, all - 4);
    assert_int_equal(fw_plan_grazed_before(rest, 0), 4);
    double ha = 0, days = 0;
    for (size_t i = 0; i < all; i++) {
        assert_int_equal(fw_plan_is_grazed(rest, i), i < 4);
        assert_true(i >= 4 || (rest->paddocks[i].usable_kg == 0 &&
                               rest->paddocks[i].water == FW_NONE));
        ha += i < 4 ? 0 : rest->paddocks[i].area_ha;
        days += i < 4 ? 0 : before->paddocks[i].stay_days;
    }
    assert_near(rest->fields[0].grazed_ha, ha, 1e-9);
    assert_near(rest->fields[0].rotation_days, days, 1e-6);
    /* A05-06 stands ahead; it and A04-05 are not set any more. */
    double set_m = 0;
    for (size_t i = 0; i < before->fence_count; i++)
        if (before->fences[i].role == FW_FENCE_MOVED &&
            before->fences[i].from > 4)
            set_m += before->fences[i].length_m;
    assert_near(rest->totals.fence_m, set_m, 1e-6);
    size_t troughs = 0;
    for (size_t i = 0; i < rest->water_count; i++)
        troughs += !strcmp(rest->waters[i].kind_of, "trough");
    assert_int_equal(troughs, all - 4);
    fw_plan_free(before);
    fw_plan_free(rest);
}

/* Half of the flock eats the same for twice as long; a tenth more of it does
 * with a tenth less for each day. */
static void days_follow_flock_and_grass(void **state)
{
    (void)state;
    static const char last[] = "last: short\n";
    one_field("Foreland", RECTANGLE);
    struct fw_plan *before = good_plan(
        with(FARM("strips", "150", "dry", ""), "%sstart: 2027-06-07\n", last));
    save(before, "before.json");
    static const struct {
        const char *farm;
        int whole;
        double fed;
    } rows[] = {
        {FARM("strips", "150", "dry", ""), 1, 1},
        {FARM("strips", "75", "dry", ""), 2, 2},
        {FARM("strips", "50", "dry", ""), 3, 3},
        {FARM("strips", "165", "dry", ""), 1, 1 / 1.1},
        {FARM("strips", "90", "dry", ""), 2, 5.0 / 3},
        {FARM("strips", "130", "dry", ""), 1, 1},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_plan *rest =
            good_plan(with(rows[i].farm,
                           "%sstart: 2027-07-01\nearlier: before.json\n"
                           "front: A03-04\n",
                           last));
        const struct fw_time_stay *stay = &rest->time.stays[0];
        assert_int_equal(stay->leave - stay->enter, rows[i].whole);
        assert_near(rest->paddocks[3].stay_days, rows[i].fed, 1e-6);
        assert_near(stay->target_kg, rows[i].fed * rest->flock.demand_kg_day,
                    1e-6);
        bool told = false;
        for (size_t k = 0; k < rest->notes.count; k++)
            told |= strstr(rest->notes.items[k].text,
                           "for less than the stay") != NULL;
        assert_int_equal(told, rows[i].fed < rows[i].whole - 0.05);
        fw_plan_free(rest);
    }
    fw_plan_free(before);
}

/* Nobody moves them on a Sunday, whatever the paddock holds. */
static void days_end_when_somebody_is_there(void **state)
{
    (void)state;
    one_field("Foreland", RECTANGLE);
    struct fw_plan *before = good_plan(
        with(FARM("strips", "150", "dry", ""), "start: 2027-06-07\n"));
    save(before, "before.json");
    struct fw_plan *rest = good_plan(
        with(FARM("strips", "150", "dry", ""),
             "stay: {mon-sat: 1 day}\naway: 2027-06-16\nstart: 2027-06-10\n"
             "earlier: before.json\nfront: A03-04\n"));
    assert_true(rest->time.stay_count > 4);
    for (size_t m = 0; m < rest->time.move_count; m++) {
        const int day = rest->time.moves[m].day;
        assert_int_not_equal(fw_date_weekday(day), 6);
        assert_string_not_equal(date(day), "2027-06-16");
    }
    fw_plan_free(before);
    fw_plan_free(rest);
}

/* ---- several fields ---- */

#define SECOND                                                                 \
    "[[9.004,51.0],[9.0068501,51.0],[9.0068501,51.0008988],"                   \
    "[9.004,51.0008988],[9.004,51.0]]"

static void names_stay_when_a_field_comes_first(void **state)
{
    (void)state;
    static const char each[] =
        "fields: {source: two.geojson, only: [%s, %s], each: ["
        "{field: %s, gate: corner:4}, {field: %s, gate: corner:4}]}\n"
        "layout: strips\n" GRASS FLOCK(
            "150", "dry") "perimeter: {holds: lambs, hot: yes}\n";
    char both[1024], one[1024], turned[1024];
    put_text("two.geojson",
             COLLECTION(FEATURE("North", POLYGON(RECTANGLE)) "," FEATURE(
                 "South", POLYGON(SECOND))));
    snprintf(both, sizeof both, each, "North", "South", "North", "South");
    snprintf(one, sizeof one, each, "South", "South", "North", "South");
    snprintf(turned, sizeof turned, each, "North", "South", "South", "North");
    struct fw_plan *before = good_plan(with(both, "start: 2027-06-07\n"));
    save(before, "before.json");
    const size_t north = before->fields[0].paddock_count;
    assert_string_equal(before->paddocks[north].id, "B01");
    const int day = before->time.moves[north + 2].day;
    static const char go_on[] =
        "start: %s\nearlier: before.json\nfront: B02-03\n";

    struct fw_plan *rest = good_plan(with(one, go_on, date(day)));
    snprintf(what, sizeof what, "South alone");
    assert_int_equal(rest->paddock_count, before->fields[1].paddock_count);
    for (size_t m = 0; m < rest->time.move_count; m++)
        same_move(before, north + 2 + m, rest, m);
    fw_plan_free(rest);

    rest = good_plan(with(turned, go_on, date(day)));
    const size_t south = rest->fields[0].paddock_count;
    assert_string_equal(rest->fields[0].name, "South");
    assert_string_equal(rest->paddocks[0].id, "B01");
    assert_string_equal(rest->paddocks[south].id, "A01");
    snprintf(what, sizeof what, "South first");
    for (size_t m = 0; m + 3 < south; m++) /* until they go on to the north */
        same_move(before, north + 2 + m, rest, m);
    for (size_t i = 0; i < rest->fence_count; i++)
        for (size_t k = 0; k < i; k++)
            assert_string_not_equal(rest->fences[i].id, rest->fences[k].id);
    for (size_t i = 0; i < rest->gate_count; i++)
        for (size_t k = 0; k < i; k++)
            assert_string_not_equal(rest->gates[i].id, rest->gates[k].id);
    fw_plan_free(rest);

    struct fw_error err = {0};
    assert_null(plan_of_text(with(both, go_on, date(day)), &err));
    assert_says(&err, "name \"South\" first under fields.each");
    fw_plan_free(before);
}

/* ---- after a front of another kind ---- */

static void front_told_as_places_is_gone_on_from(void **state)
{
    (void)state;
    static const char farm[] = FARM("strips", "150", "dry", "");
    one_field("Foreland", RECTANGLE);
    struct fw_plan *before = good_plan(
        with(farm, "start: 2027-06-07\nfront: side:1@60m to side:3@120m\n"));
    save(before, "before.json");
    assert_string_equal(before->fences[0].id, "A00-01");
    for (size_t i = 0; i < before->fence_count; i++) {
        const struct fw_plan_fence *fence = &before->fences[i];
        if (fence->role != FW_FENCE_MOVED || i == 0)
            continue;
        snprintf(what, sizeof what, "%s", fence->id);
        struct fw_plan *rest = good_plan(
            with(farm, "start: %s\nearlier: before.json\nfront: %s\n",
                 date(before->time.moves[fence->from + 1].day), fence->id));
        compare_rest(before, fence->from, rest);
        fw_plan_free(rest);
    }
    struct fw_error err = {0};
    assert_null(plan_of_text(
        with(farm, "start: 2027-06-08\nearlier: before.json\nfront: A00-01\n"),
        &err));
    assert_says(&err, "A00-01 is the front that that plan itself began from");
    fw_plan_free(before);
}

/* ---- places ---- */

/* Of two points some way apart, the one between them. */
static struct fw_lonlat between(struct fw_lonlat a, struct fw_lonlat b,
                                double share)
{
    return (struct fw_lonlat){a.lon_deg + share * (b.lon_deg - a.lon_deg),
                              a.lat_deg + share * (b.lat_deg - a.lat_deg)};
}

static struct fw_farm *farm_with(const char *farm, const char *place,
                                 struct fw_error *err)
{
    struct fw_farm *out = NULL;
    const struct fw_farm_request request = {.farm_path = "farm.yaml"};
    put_text("farm.yaml",
             with(farm, "start: 2027-06-08\nearlier: before.json\npark: %s\n",
                  place));
    if (fw_farm_read(&request, &out, NULL, NULL, err))
        return NULL;
    return out;
}

static void place_lies_so_far_from_end_a(void **state)
{
    (void)state;
    static const char farm[] = FARM("blocks", "150", "dry", "");
    one_field("Foreland", RECTANGLE);
    struct fw_plan *before = good_plan(with(farm, "start: 2027-06-07\n"));
    save(before, "before.json");
    for (size_t i = 0; i < before->fence_count; i++) {
        const struct fw_plan_fence *fence = &before->fences[i];
        const struct fw_vertex *vertices = before->fields[0].vertices;
        if (fence->line_count != 2) /* a straight one needs no walk */
            continue;
        static const double shares[] = {0, 0.25, 0.5, 1};
        for (size_t k = 0; k < 4; k++) {
            char place[64];
            struct fw_error err = {0};
            snprintf(place, sizeof place, "%s@%.4fm", fence->id,
                     shares[k] * fence->length_m);
            struct fw_farm *got = farm_with(farm, place, &err);
            if (!got)
                fail_msg("%s", err.text);
            const struct fw_lonlat want =
                between(vertices[fence->line[0]].lonlat,
                        vertices[fence->line[1]].lonlat, shares[k]);
            assert_near(fw_geo_distance_m(got->fields[0].park.lonlat, want), 0,
                        0.001);
            const struct fw_lonlat back = fw_plane_inverse(
                &got->fields[0].shape->plane, got->fields[0].park.point);
            assert_near(fw_geo_distance_m(back, want), 0, 0.001);
            fw_farm_free(got);
        }
    }
    fw_plan_free(before);
}

/* A line with a bend, by hand: 40 m and then 30 m at a right angle. */
static void place_is_found_round_a_bend(void **state)
{
    (void)state;
    static const char farm[] = FARM("strips", "150", "dry", "");
    one_field("Foreland", RECTANGLE);
    struct fw_plan *before = good_plan(with(farm, "start: 2027-06-07\n"));
    struct fw_plan_field *field = &before->fields[0];
    struct fw_plan_fence *fence = NULL;
    for (size_t i = 0; !fence && i < before->fence_count; i++)
        if (before->fences[i].role == FW_FENCE_MOVED)
            fence = &before->fences[i];
    assert_true(field->vertex_count >= 3);
    const struct fw_point bend[3] = {{-50, 0}, {-10, 0}, {-10, 30}};
    fence->line = fw_realloc(fence->line, 3, sizeof *fence->line);
    fence->line_count = 3;
    for (size_t i = 0; i < 3; i++) {
        fence->line[i] = i;
        field->vertices[i].plane = bend[i];
        field->vertices[i].lonlat = fw_plane_inverse(&field->plane, bend[i]);
    }
    fence->length_m = 70;
    before->post_count = 0; /* they stand on the line as it was */
    save(before, "before.json");
    static const struct {
        double along_m;
        struct fw_point at;
    } rows[] = {{0, {-50, 0}},   {25, {-25, 0}},  {40, {-10, 0}},
                {55, {-10, 15}}, {70, {-10, 30}}, {70.4, {-10, 30}}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char place[64];
        struct fw_error err = {0};
        snprintf(place, sizeof place, "%s@%gm", fence->id, rows[i].along_m);
        struct fw_farm *got = farm_with(farm, place, &err);
        if (!got)
            fail_msg("%s", err.text);
        assert_near(got->fields[0].park.point.x_m, rows[i].at.x_m, 1e-3);
        assert_near(got->fields[0].park.point.y_m, rows[i].at.y_m, 1e-3);
        fw_farm_free(got);
    }
    fw_plan_free(before);
}

/* ---- what cannot be ---- */

static void bad_names_are_said_in_clear_words(void **state)
{
    (void)state;
    static const char farm[] = FARM("blocks", "150", "dry", "");
    one_field("Foreland", RECTANGLE);
    struct fw_plan *before = good_plan(with(farm, "start: 2027-06-07\n"));
    save(before, "before.json");
    put_text("old.json", "{\"format\": \"foldwright-plan/1\"}");
    put_text("no.json", "{\"format\": \"something\"}");
    static const char *const rows[][2] = {
        {"park: A01-02@5m\n", "A01-02 is the name of a fence; say which plan"},
        {"front: A01-02\n", "A01-02 is the name of a fence; say which plan"},
        {"earlier: none.json\n", "earlier: none.json: no such file"},
        {"earlier: no.json\n", "is not a plan"},
        {"earlier: old.json\n", "plan of the older kind"},
        {"earlier: before.json\npark: A01-99@5m\n",
         "before.json has no fence A01-99; expected such as A01-02"},
        {"earlier: before.json\npark: A-line-7@5m\n",
         "before.json has no fence A-line-7; expected such as A-line-1"},
        {"earlier: before.json\npark: A01-02\n",
         "A01-02 is a whole fence; expected how far along it"},
        {"earlier: before.json\npark: A01-02@4km\n", "is beyond its end"},
        {"earlier: before.json\npark: A01-02@far\n", "\"far\" is not a length"},
        {"earlier: before.json\nfront: A01-02@5m\n",
         "is a place; expected the name of the whole fence"},
        {"earlier: before.json\nfront: A-line-1\n",
         "A-line-1 stands for many moves and is no front"},
        {"earlier: before.json\nfront: A-side-2\n",
         "A-side-2 is a side of the boundary and no front"},
        {"earlier: before.json\nfront: A08-99\n", "no fence A08-99"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_error err = {0};
        assert_null(plan_of_text(
            with(farm, "start: 2027-06-08\n%s", rows[i][0]), &err));
        assert_says(&err, rows[i][1]);
        assert_says(&err, "farm.yaml:");
    }
    fw_plan_free(before);
}

/* The same name with another boundary, and another name. */
static void ground_must_be_the_same(void **state)
{
    (void)state;
    static const char farm[] = FARM("strips", "150", "dry", "");
    static const char go_on[] =
        "start: 2027-06-08\nearlier: before.json\nfront: A01-02\n";
    struct fw_error err = {0};
    one_field("Foreland", RECTANGLE);
    struct fw_plan *before = good_plan(with(farm, "start: 2027-06-07\n"));
    save(before, "before.json");
    one_field("Foreland", ELL);
    assert_null(plan_of_text(with(farm, go_on), &err));
    assert_says(&err, "ground of \"Foreland\" is not that of before.json");
    /* A metre off at one corner. */
    one_field("Foreland", "[[9.0,51.0],[9.0028501,51.0],[9.0028501,51.0008988],"
                          "[9.0,51.0009078],[9.0,51.0]]");
    assert_null(plan_of_text(with(farm, go_on), &err));
    assert_says(&err, "is not that of before.json any more, as at");
    one_field("Hill", RECTANGLE);
    assert_null(plan_of_text(with(farm, go_on), &err));
    assert_says(&err, "A01-02 is a fence of field \"Foreland\"; expected one "
                      "of \"Hill\"");
    /* Another start of the ring, the other way round: the same ground. */
    one_field("Foreland", "[[9.0028501,51.0008988],[9.0028501,51.0],[9.0,51.0],"
                          "[9.0,51.0008988],[9.0028501,51.0008988]]");
    fw_plan_free(good_plan(with(farm, go_on)));
    fw_plan_free(before);
}

static void nothing_is_left_to_choose(void **state)
{
    (void)state;
    static const char farm[] = FARM("strips", "150", "dry", "");
    struct fw_error err = {0};
    struct fw_farm *told = NULL;
    struct fw_plan_scores scores = {0};
    one_field("Foreland", RECTANGLE);
    struct fw_plan *before = good_plan(with(farm, "start: 2027-06-07\n"));
    save(before, "before.json");
    put_text("farm.yaml", with(farm, "start: 2027-06-08\nearlier: before.json\n"
                                     "front: A01-02\n"));
    const struct fw_farm_request request = {.farm_path = "farm.yaml"};
    assert_int_equal(fw_farm_read(&request, &told, NULL, NULL, NULL), FW_OK);
    assert_int_equal(fw_plan_compare(told, &scores, &err), FW_EPLAN);
    assert_says(&err, "there is nothing to choose");
    fw_farm_free(told);
    fw_plan_free(before);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rest_of_a_plan_is_its_own_rest),
        cmocka_unit_test(young_lambs_are_waited_for_as_before),
        cmocka_unit_test(plans_follow_plans),
        cmocka_unit_test(only_what_is_to_come_is_counted),
        cmocka_unit_test(days_follow_flock_and_grass),
        cmocka_unit_test(days_end_when_somebody_is_there),
        cmocka_unit_test(names_stay_when_a_field_comes_first),
        cmocka_unit_test(front_told_as_places_is_gone_on_from),
        cmocka_unit_test(place_lies_so_far_from_end_a),
        cmocka_unit_test(place_is_found_round_a_bend),
        cmocka_unit_test(bad_names_are_said_in_clear_words),
        cmocka_unit_test(ground_must_be_the_same),
        cmocka_unit_test(nothing_is_left_to_choose),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
