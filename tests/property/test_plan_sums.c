/* What a plan sums up, counted again: by going through its steps, its rows and
 * what the farm told, on farms at random. */
#include "random_plan.h"

#include "flock/drinks.h"
#include "water/water.h"

enum { farms = 90 };

/* ---- what stands ---- */

struct tally {
    double moved_wire_m, standing_wire_m, line_m;
    int most_posts; /* of one step */
};

static struct tally tally_of(const struct fw_plan *plan)
{
    struct tally tally = {0};
    bool *set = calloc(plan->fence_count + 1, sizeof *set);
    for (size_t i = 0; i < plan->time.step_count; i++) {
        const struct fw_step *step = &plan->time.steps[i];
        int posts = 0;
        for (size_t k = 0; step->kind == FW_STEP_SET && k < step->lines.count;
             k++) {
            const size_t fence = plan->time.items[step->lines.first + k];
            posts += plan->fences[fence].posts;
            set[fence] = true;
        }
        tally.most_posts = posts > tally.most_posts ? posts : tally.most_posts;
    }
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        assert_int_equal(fw_plan_is_set(plan, i), set[i]);
        if (!set[i])
            continue;
        assert_true(fence->role != FW_FENCE_PERIMETER);
        tally.line_m += fence->length_m;
        *(fence->role == FW_FENCE_MOVED ? &tally.moved_wire_m
                                        : &tally.standing_wire_m) +=
            fence->wire_m;
    }
    free(set);
    return tally;
}

static void look_at_fence(const struct fw_farm *farm,
                          const struct fw_plan *plan)
{
    const struct fw_plan_totals *totals = &plan->totals;
    const struct tally tally = tally_of(plan);
    const int armful = farm->rates.posts_an_armful;
    double bound_m = 0;
    for (size_t i = 0; i < plan->field_count; i++)
        bound_m += plan->fields[i].fence_bound_m;
    assert_near(totals->fence_bound_m, bound_m, 1e-9);
    assert_near(totals->fence_m, tally.line_m, 1e-9);
    assert_near(totals->moved_wire_m, tally.moved_wire_m, 1e-9);
    assert_near(totals->standing_wire_m, tally.standing_wire_m, 1e-9);
    assert_int_equal(totals->carry_trips_per_move,
                     (int)ceil(tally.most_posts / (double)armful));
    assert_int_equal(totals->paddocks, plan->time.stay_count);
}

static void look_at_kit(const struct fw_farm *farm, const struct fw_plan *plan)
{
    const struct fw_kit *kit = &plan->totals.kit, *lack = &plan->totals.lack;
    const struct fw_kit *own = &farm->kit;
    if (!farm->kit_given) {
        assert_int_equal(lack->reels + lack->posts, 0);
        assert_near(lack->wire_m, 0, 0);
        return;
    }
    assert_int_equal(lack->reels, fmax(0, kit->reels - own->reels));
    assert_int_equal(lack->posts, fmax(0, kit->posts - own->posts));
    assert_near(lack->wire_m, fmax(0, kit->wire_m - own->wire_m), 1e-9);
}

/* ---- water ---- */

static void look_at_water(const struct fw_farm *farm,
                          const struct fw_plan *plan)
{
    double area_ha = 0, sum = 0, most_m = 0, days = 0, fed = 0;
    bool known = true;
    for (size_t i = 0; i < plan->paddock_count; i++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[i];
        known &= paddock->walk_known;
        area_ha += paddock->area_ha;
        sum += paddock->area_ha * paddock->walk_mean_m;
        days += paddock->stay_days;
        fed += paddock->stay_days * paddock->walk_fed_m;
        most_m = fmax(most_m, paddock->walk_max_m);
        assert_true(paddock->walk_known || paddock->walk_max_m == 0);
    }
    assert_int_equal(plan->totals.walk_known, known);
    assert_near(plan->totals.walk_mean_m, known ? sum / area_ha : 0, 1e-9);
    assert_near(plan->totals.walk_fed_m, known ? fed / days : 0, 1e-9);
    assert_near(plan->totals.walk_max_m, known ? most_m : 0, 1e-9);
    const struct fw_drink_day day =
        fw_drink_day(farm->hauling.day, farm->season == FW_SEASON_DORMANT);
    double litres = 0, expected_l = 0, hot_l = 0;
    for (size_t i = 0; i < farm->class_count; i++) {
        const struct fw_flock_class *of = &farm->classes[i];
        struct fw_drinks drinks;
        assert_int_equal(fw_flock_drinks(of, &day, &drinks, NULL), FW_OK);
        litres += of->head * fw_flock_water_l_day(of, NULL);
        expected_l += of->head * drinks.expected_l;
        hot_l += of->head * drinks.hot_l;
    }
    assert_relative(plan->flock.water_l_day, litres, 1e-9);
    bool hauled = false;
    for (size_t i = 0; i < plan->water_count; i++) {
        assert_near(plan->waters[i].litres_day, expected_l, 1e-6);
        assert_near(plan->waters[i].hot_l_day, hot_l, 1e-6);
        assert_true(plan->waters[i].on_hand_l >= hot_l - 1e-6);
        hauled |= strcmp(plan->waters[i].kind_of, "trough") == 0;
    }
    /* This farm tells neither trough nor payload, which carry less. */
    assert_true(farm->hauling.trough_l == 0 && farm->hauling.payload_kg == 0);
    assert_int_equal(plan->totals.haul_trips,
                     !(farm->tank_l > 0) ? -1
                     : hauled            ? (int)ceil(expected_l / farm->tank_l)
                                         : 0);
    assert_int_equal(plan->totals.haul_trips_hot,
                     !(farm->tank_l > 0) ? -1
                     : hauled            ? (int)ceil(hot_l / farm->tank_l)
                                         : 0);
}

/* ---- the list to buy ---- */

static const struct fw_material *row_of(const struct fw_plan *plan,
                                        const char *begins)
{
    const struct fw_material *found = NULL;
    for (size_t i = 0; i < plan->material_count; i++)
        if (!strncmp(plan->materials[i].item, begins, strlen(begins))) {
            assert_null(found);
            found = &plan->materials[i];
        }
    return found;
}

static void look_at_row(const struct fw_plan *plan, const char *begins,
                        double quantity, double price, const char *unit)
{
    const struct fw_material *row = row_of(plan, begins);
    assert_int_equal(row != NULL, quantity > 0);
    if (!row)
        return;
    assert_near(row->quantity, quantity, 1e-6);
    assert_near(row->price, price, 0);
    assert_string_equal(row->unit, unit);
}

static int most_signs(const struct fw_plan *plan)
{
    int signs = 0;
    for (size_t i = 0; i < plan->post_count; i++)
        signs += plan->posts[i].why == FW_POST_SIGN;
    return signs;
}

static double hot_m(const struct fw_plan *plan)
{
    double sum_m = 0;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role == FW_FENCE_PERIMETER && fence->side != FW_NONE &&
            plan->fields[fence->field].sides[fence->side].hot != FW_NO)
            sum_m += fence->length_m;
    }
    return sum_m;
}

/* One post or handle in twenty to spare; polywire by the roll of 400 m, wire
 * of a boundary by that of 4,000 ft. */
static double bought(const struct fw_material *row)
{
    const double roll_m = strcmp(row->item, "polywire") == 0 ? 400 : 1219.2;
    if (strcmp(row->unit, "m") == 0)
        return roll_m * ceil(row->quantity / roll_m - 1e-9);
    const bool spare = strcmp(row->item, "step-in post") == 0 ||
                       strcmp(row->item, "insulated gate handle") == 0;
    return row->quantity + (spare ? floor((row->quantity + 19) / 20) : 0);
}

static void look_at_list(const struct fw_farm *farm, const struct fw_plan *plan)
{
    const struct fw_prices *prices = &farm->prices;
    const struct fw_plan_totals *totals = &plan->totals;
    double cost = 0;
    bool known = true;
    for (size_t i = 0; i < plan->material_count; i++) {
        known &= plan->materials[i].price >= 0;
        cost += bought(&plan->materials[i]) * plan->materials[i].price;
        assert_true(plan->materials[i].item[0] && plan->materials[i].unit[0]);
    }
    assert_int_equal(totals->cost_known, known);
    assert_near(totals->cost, known ? cost : 0, 1e-6);
    look_at_row(plan, "energizer, ", 1, prices->energizer, "each");
    look_at_row(plan, "earth rod, ", plan->energizer.rods, prices->earth_rod,
                "each");
    look_at_row(plan, "anchor ", totals->ties, prices->anchor, "each");
    look_at_row(plan, "insulated gate handle", totals->handles, prices->handle,
                "each");
    const struct fw_material *signs = row_of(plan, "warning sign");
    assert_int_equal(signs != NULL, most_signs(plan) > 0);
    if (signs) {
        assert_true(signs->quantity <= most_signs(plan));
        assert_near(signs->price, prices->sign, 0);
    }
    const bool beside =
        plan->power.earth_return && plan->wiring.perimeter_strands <= 1;
    look_at_row(plan, "earth wire beside", beside ? hot_m(plan) : 0,
                prices->perimeter_wire_m, "m");
    look_at_row(plan, "step-in post", totals->kit.posts, prices->post, "each");
    assert_near(totals->energizer_j, plan->energizer.joules, 0);
    assert_int_equal(totals->earth_rods, plan->energizer.rods);
    if (farm->energizer_j > 0)
        assert_near(plan->energizer.joules, farm->energizer_j, 1e-12);
}

/* ---- what the page of cautions goes by ---- */

static bool any_class(const struct fw_farm *farm, unsigned states)
{
    for (size_t i = 0; i < farm->class_count; i++)
        if (states & 1U << farm->classes[i].state)
            return true;
    return false;
}

static unsigned by_flock(const struct fw_farm *farm)
{
    unsigned concerns = 0;
    for (size_t i = 0; i < farm->class_count; i++) {
        const struct fw_flock_class *sheep = &farm->classes[i];
        concerns |= sheep->trained == FW_YES ? 0 : FW_CONCERN_UNTRAINED;
        concerns |= sheep->coat == FW_SHORN ? FW_CONCERN_SHORN : 0;
        concerns |= fw_flock_row(sheep->state)->lambs ? FW_CONCERN_LAMBS : 0;
    }
    if (any_class(farm, 1U << FW_LATE_GESTATION))
        concerns |= FW_CONCERN_LATE_GESTATION;
    if (any_class(farm, 1U << FW_LACTATION_SINGLE | 1U << FW_LACTATION_TWINS |
                            1U << FW_LATE_LACTATION_SINGLE |
                            1U << FW_LATE_LACTATION_TWINS))
        concerns |= FW_CONCERN_LACTATION;
    return concerns;
}

/* Five months before a lamb its dam was put to the ram, six weeks either way:
 * a ewe goes with lamb for 147 days (a textbook's mean). */
static unsigned by_tupping(const struct fw_farm *farm,
                           const struct fw_plan *plan)
{
    enum { gestation = 147, around = 42 };
    if (farm->lambing.given)
        return plan->start_day <= farm->lambing.to - gestation + around &&
                       plan->end_day > farm->lambing.from - gestation - around
                   ? FW_CONCERN_TUPPING
                   : 0;
    return any_class(farm, 1U << FW_DRY | 1U << FW_FLUSHING |
                               1U << FW_EARLY_GESTATION |
                               1U << FW_LATE_LACTATION_SINGLE |
                               1U << FW_LATE_LACTATION_TWINS |
                               1U << FW_EWE_LAMB | 1U << FW_RAM_LAMB |
                               1U << FW_HOGGET)
               ? FW_CONCERN_TUPPING
               : 0;
}

/* All of the fields lie north of the equator. */
static unsigned by_days(const struct fw_plan *plan)
{
    unsigned concerns = 0;
    for (int day = plan->start_day; day < plan->end_day; day++) {
        char text[FW_DATE_TEXT];
        const int month = atoi(fw_date_write(day, text) + 5);
        concerns |=
            month >= 4 && month <= 9 ? FW_CONCERN_HEAT : FW_CONCERN_COLD;
        concerns |= month >= 3 && month <= 5 ? FW_CONCERN_SPRING : 0;
    }
    return concerns;
}

static unsigned by_ground(const struct fw_farm *farm)
{
    unsigned concerns = farm->dry_soil ? FW_CONCERN_DRY_SOIL : 0;
    double legume = -1;
    for (size_t i = 0; i < farm->field_count; i++) {
        const struct fw_farm_field *field = &farm->fields[i];
        const char *sward = field->sward.name;
        legume = fmax(legume, field->sward.legume);
        if (field->shape->ring_count > 1)
            concerns |= FW_CONCERN_POND;
        if (strcmp(sward, "ryegrass-clover") && strcmp(sward, "timothy-legume"))
            concerns |= FW_CONCERN_FESCUE;
    }
    concerns |= legume < 0 || legume >= 0.3 ? FW_CONCERN_LEGUME : 0;
    for (size_t i = 0; i < farm->feature_count; i++)
        switch (farm->features[i].role) {
        case FW_ROLE_POWER_LINE:
            concerns |= FW_CONCERN_POWER_LINE;
            break;
        case FW_ROLE_ROAD:
        case FW_ROLE_PATH:
            concerns |= FW_CONCERN_ROAD;
            break;
        case FW_ROLE_POND:
            concerns |= FW_CONCERN_POND;
            break;
        case FW_ROLE_WATERCOURSE:
            concerns |= FW_CONCERN_WATERCOURSE;
            break;
        default:
            break;
        }
    return concerns;
}

static void look_at_concerns(const struct fw_farm *farm,
                             const struct fw_plan *plan)
{
    const unsigned wanted = by_flock(farm) | by_tupping(farm, plan) |
                            by_days(plan) | by_ground(farm);
    if (plan->concerns != wanted)
        fail_msg("concerns %#x; expected %#x", plan->concerns, wanted);
}

/* ---- what was settled ---- */

static const char *default_of(const struct fw_plan *plan, const char *what)
{
    for (size_t i = 0; i < plan->default_count; i++)
        if (strcmp(plan->defaults[i].what, what) == 0)
            return plan->defaults[i].value;
    return "";
}

/* Fenced ahead or not, and how many days they stay in a paddock that is full,
 * as the moves and stays have it. */
static void look_at_settled(const struct fw_farm *farm,
                            const struct fw_plan *plan)
{
    bool ahead = false, many = false;
    int least = 0, most = 0;
    for (size_t m = 0; m < plan->time.move_count; m++)
        ahead |= plan->time.moves[m].ahead;
    for (size_t f = 0; f < plan->field_count; f++) {
        const struct fw_list stays = fw_plan_stays_of(plan, f);
        many |= stays.count > 2;
        if (stays.count == 0)
            continue;
        int days = 0;
        for (size_t i = stays.first; i < stays.first + stays.count; i++) {
            const struct fw_time_stay *stay = &plan->time.stays[i];
            days = stay->leave - stay->enter > days ? stay->leave - stay->enter
                                                    : days;
        }
        if (!farm->stay_told) {
            bool noted = false;
            for (size_t i = 0; i < plan->notes.count; i++)
                noted |=
                    !strcmp(plan->notes.items[i].where, plan->fields[f].name) &&
                    strstr(plan->notes.items[i].text, "no stay was told");
            assert_int_equal(noted, days > 1);
        }
        least = least == 0 || days < least ? days : least;
        most = days > most ? days : most;
    }
    if (many && farm->work_order == FW_WORK_LEAPFROG)
        assert_string_equal(default_of(plan, "order of work"),
                            ahead ? "leapfrog" : "set-first");
    if (farm->stay_told)
        return;
    char text[40];
    if (least == most)
        snprintf(text, sizeof text, "%d day%s", most, most > 1 ? "s" : "");
    else
        snprintf(text, sizeof text, "%d to %d days, by field", least, most);
    assert_string_equal(default_of(plan, "stay"), text);
}

static void list_defaults(uint64_t *seed, struct fw_farm *farm)
{
    farm->defaults = fw_alloc(2, sizeof *farm->defaults);
    farm->default_count = 2;
    farm->defaults[0] = (struct fw_farm_default){"stay", "1 day", "a table"};
    farm->defaults[1] =
        (struct fw_farm_default){"order of work", "leapfrog", "a table"};
    if (chance(seed, 0.4)) {
        farm->stay_told = farm->back_fence = false;
        fw_free(farm->layout);
        farm->layout = NULL;
        for (int i = 0; i < 7; i++)
            farm->stay.days[i] = 1;
    }
}

/* ---- the list of a bare field ---- */

static double listed(const struct fw_material *rows, size_t count,
                     const char *item)
{
    double quantity = 0;
    for (size_t i = 0; i < count; i++)
        quantity += strcmp(rows[i].item, item) == 0 ? rows[i].quantity : 0;
    return quantity;
}

static double listed_ware(const struct fw_material *rows, size_t count,
                          enum fw_ware ware)
{
    double quantity = 0;
    for (size_t i = 0; i < count; i++)
        quantity += rows[i].ware == ware ? rows[i].quantity : 0;
    return quantity;
}

/* Ring by ring, each by itself; what is the same is one row. */
static void look_at_perimeter(const struct fw_farm *farm)
{
    enum { most = 64 };
    struct fw_material rows[most], ring_rows[most];
    double sums[most] = {0}, line_m = 0, around_m = 0;
    size_t count = 0, ring_count;
    assert_int_equal(
        fw_plan_perimeter_list(farm, rows, most, &count, &line_m, NULL), FW_OK);
    for (size_t f = 0; f < farm->field_count; f++) {
        const struct fw_field *shape = farm->fields[f].shape;
        for (size_t r = 0; r < shape->ring_count; r++) {
            struct fw_point ring[most_points];
            const size_t first = shape->ring_start[r];
            const size_t points = shape->ring_start[r + 1] - first;
            for (size_t i = 0; i < points; i++)
                ring[i] = shape->vertices[first + i].plane;
            for (size_t i = 0; i < points; i++) {
                const struct fw_point to = ring[(i + 1) % points];
                around_m += hypot(to.x_m - ring[i].x_m, to.y_m - ring[i].y_m);
            }
            struct fw_fence_perimeter fence = farm->perimeter;
            fence.gates = r > 0 ? 0 : fence.gates; /* none into a pond */
            if (farm->sign_path_m > 0)
                fence.sign_m = farm->sign_path_m;
            if (farm->sign_road_m > 0 &&
                !(fence.sign_m < farm->sign_road_m && farm->sign_path_m > 0))
                fence.sign_m = farm->sign_road_m;
            assert_int_equal(fw_fence_perimeter_list(ring, points, &fence,
                                                     &farm->prices, ring_rows,
                                                     most, &ring_count, NULL),
                             FW_OK);
            for (size_t i = 0; i < count; i++)
                sums[i] += listed(ring_rows, ring_count, rows[i].item);
        }
    }
    assert_relative(line_m, around_m, 1e-9);
    const double rods = listed_ware(rows, count, FW_WARE_EARTH_ROD);
    assert_true(rods >= 1);
    for (size_t i = 0; i < count; i++) {
        /* What feeds it comes once for all of them: rods 10 ft apart. */
        const double lead_m =
            farm->wiring.lead_m >= 0 ? farm->wiring.lead_m : 20;
        sums[i] +=
            rows[i].ware == FW_WARE_ENERGIZER   ? 1
            : rows[i].ware == FW_WARE_SWITCH    ? 1
            : rows[i].ware == FW_WARE_EARTH_ROD ? rods
            : rows[i].ware == FW_WARE_CLAMP     ? farm->perimeter.spec.strands
            : rows[i].ware == FW_WARE_LEAD ? lead_m + 10 + (rods - 1) * 3.048
                                           : 0;
        assert_relative(rows[i].quantity, sums[i], 1e-9);
        for (size_t k = 0; k < i; k++)
            assert_string_not_equal(rows[i].item, rows[k].item);
    }
    assert_true(count >= 4);
    struct fw_error err;
    assert_int_equal(
        fw_plan_perimeter_list(farm, rows, 1, &count, &line_m, &err),
        FW_EFAULT);
}

/* ---- all of it ---- */

static void sums_are_those_of_the_steps_and_rows(void **state)
{
    (void)state;
    uint64_t seed = seeded(301);
    size_t made = 0;
    for (size_t i = 0; i < farms; i++) {
        struct fw_farm *farm = draw_farm(&seed);
        list_defaults(&seed, farm);
        look_at_perimeter(farm);
        struct fw_plan *plan = plan_at_random(farm);
        if (plan) {
            look_at_settled(farm, plan);
            look_at_fence(farm, plan);
            look_at_kit(farm, plan);
            look_at_water(farm, plan);
            look_at_list(farm, plan);
            look_at_concerns(farm, plan);
            made++;
        }
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    print_message("# %zu plans\n", made);
    assert_true(made > farms / 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sums_are_those_of_the_steps_and_rows),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
