/* What a plan asks, warns of and finds of itself, held against what the farm
 * told: each thing is said where it is so and nowhere else, on farms at random.
 */
#include "random_plan.h"

enum { farms = 90 };

/* ---- what was said ---- */

/* How many of that level and place have the piece in them. */
static size_t said(const struct fw_notes *notes, enum fw_level level,
                   const char *where, const char *piece)
{
    size_t count = 0;
    for (size_t i = 0; i < notes->count; i++)
        count += notes->items[i].level == level &&
                 strcmp(notes->items[i].where, where) == 0 &&
                 strstr(notes->items[i].text, piece);
    return count;
}

static void is_said(const struct fw_notes *notes, enum fw_level level,
                    const char *where, const char *piece, bool wanted)
{
    const size_t count = said(notes, level, where, piece);
    if (count != wanted)
        fail_msg("%s: \"%s\" is said %zu times; expected %d", where, piece,
                 count, wanted);
}

static const struct fw_plan_finding *found(const struct fw_plan *plan,
                                           const char *rule, size_t field)
{
    for (size_t i = 0; i < plan->finding_count; i++)
        if (!strcmp(plan->findings[i].rule, rule) &&
            plan->findings[i].field == field)
            return &plan->findings[i];
    return NULL;
}

/* ---- the boundary ---- */

/* "the boundary", "side 3", "sides 1, 4" of the sides that hold so; the
 * number of them. */
static size_t name_sides(const struct fw_farm_field *field, enum fw_holds holds,
                         char text[80])
{
    const size_t all = field->shape->corner_count;
    size_t count = 0, length = 0;
    char numbers[64] = "";
    for (size_t i = 0; i < all; i++)
        if (field->sides[i].holds == holds)
            length +=
                (size_t)snprintf(numbers + length, sizeof numbers - length,
                                 "%s%zu", count++ ? ", " : "", i + 1);
    if (count == all)
        strcpy(text, "the boundary");
    else
        snprintf(text, 80, "side%s %s", count > 1 ? "s" : "", numbers);
    return count;
}

static bool is_plural(const char *sides)
{
    return strncmp(sides, "sides", 5) == 0;
}

static void look_at_boundary(const struct fw_farm_field *field,
                             const struct fw_plan *plan, bool lambs)
{
    const char *name = field->shape->name;
    char sides[80], text[160];
    size_t count = name_sides(field, FW_HOLDS_UNTOLD, sides);
    snprintf(text, sizeof text, "%s %s hold sheep? Walk it",
             is_plural(sides) ? "do" : "does", sides);
    is_said(&plan->untold, FW_LEVEL_DANGER, name, text, count > 0);
    is_said(&plan->untold, FW_LEVEL_DANGER, name, "hold sheep?", count > 0);
    count = name_sides(field, FW_HOLDS_NOTHING, sides);
    snprintf(text, sizeof text, "%s hold%s nothing: fence it", sides,
             is_plural(sides) ? "" : "s");
    is_said(&plan->notes, FW_LEVEL_DANGER, name, text, count > 0);
    count = name_sides(field, FW_HOLDS_SHEEP, sides);
    snprintf(text, sizeof text, "%s hold%s grown sheep but not lambs", sides,
             is_plural(sides) ? "" : "s");
    is_said(&plan->notes, FW_LEVEL_DANGER, name, text, count > 0 && lambs);
    bool untold = true;
    for (size_t i = 0; i < field->shape->corner_count; i++)
        untold &= field->sides[i].hot == FW_UNTOLD;
    is_said(&plan->untold, FW_LEVEL_DANGER, name, "is the boundary fence hot?",
            untold);
    const bool hole = field->shape->ring_count > 1;
    is_said(&plan->untold, FW_LEVEL_DANGER, name, "out of the pond",
            hole && field->hole_holds == FW_HOLDS_UNTOLD);
    is_said(&plan->notes, FW_LEVEL_DANGER, name, "out of the pond",
            hole && field->hole_holds == FW_HOLDS_NOTHING);
}

static bool has_lambs(const struct fw_farm *farm)
{
    bool any = false;
    for (size_t i = 0; i < farm->class_count; i++)
        any |= fw_flock_row(farm->classes[i].state)->lambs != FW_LAMBS_NONE;
    return any;
}

static void look_at_questions(const struct fw_farm *farm,
                              const struct fw_plan *plan)
{
    for (size_t i = 0; i < farm->field_count; i++)
        look_at_boundary(&farm->fields[i], plan, has_lambs(farm));
    for (size_t i = 0; i < farm->class_count; i++) {
        const struct fw_flock_class *sheep = &farm->classes[i];
        is_said(&plan->untold, FW_LEVEL_DANGER, sheep->name, "are they trained",
                sheep->trained == FW_UNTOLD);
        is_said(&plan->notes, FW_LEVEL_DANGER, sheep->name,
                "they are not trained", sheep->trained == FW_NO);
    }
    is_said(&plan->untold, FW_LEVEL_DANGER, "", "the nearest road?",
            !((farm->mapped | farm->looked) & 1U << FW_ROLE_ROAD));
}

/* ---- fields ---- */

static void look_at_order(const struct fw_farm *farm,
                          const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_field *field = &plan->fields[index];
    const struct fw_farm_field *from = &farm->fields[index];
    char days[80];
    const bool grows = farm->season == FW_SEASON_GROWTH && !farm->back_fence &&
                       field->rotation_days > 3;
    snprintf(days, sizeof days, "stays open for up to %.0f days",
             field->rotation_days);
    is_said(&plan->notes, FW_LEVEL_WARNING, field->name, days, grows);
    const bool not_far =
        farm->far_first && !field->far_first && field->paddock_count >= 2;
    const bool placed = from->gate.given || from->water.given;
    is_said(&plan->notes, FW_LEVEL_WARNING, field->name,
            "without a gate or a water point no end is the far one",
            not_far && !placed);
    is_said(&plan->notes, FW_LEVEL_WARNING, field->name, "no lane leads from",
            not_far && placed);
    is_said(&plan->notes, FW_LEVEL_WARNING, field->name, "is known to within",
            from->crs_accuracy_m > 1);
}

static void look_at_last(const struct fw_plan *plan,
                         const struct fw_plan_field *field)
{
    if (field->paddock_count == 0)
        return;
    const struct fw_plan_paddock *last =
        &plan->paddocks[field->first_paddock + field->paddock_count - 1];
    char text[160];
    snprintf(text, sizeof text, "of %s feeds them for %.1f of a day only",
             field->name, last->stay_days);
    is_said(&plan->notes, FW_LEVEL_NOTE, last->id, text,
            field->last_share < 0.995 && last->stay_days < 1);
}

static void look_at_runs(const struct fw_farm *farm, const struct fw_plan *plan)
{
    const struct fw_fence_spec *spec = &farm->moved;
    const double wires = spec->out_and_back && spec->strands > 1 ? 2 : 1;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        const double wire_m = wires * fence->ground_m * (1 + spec->slack);
        is_said(&plan->notes, FW_LEVEL_WARNING, fence->id,
                "is longer than two reels of wire reach",
                fence->role != FW_FENCE_PERIMETER && fw_plan_is_set(plan, i) &&
                    wire_m > 2 * spec->reel_m);
    }
}

/* ---- limits of paddocks ---- */

static double least_width_m(const struct fw_farm *farm)
{
    int head = 0;
    bool at_foot = false;
    for (size_t i = 0; i < farm->class_count; i++) {
        head += farm->classes[i].head;
        at_foot |=
            fw_flock_row(farm->classes[i].state)->lambs == FW_LAMBS_AT_FOOT;
    }
    return head > 200 || at_foot ? 20 : head < 30 ? 10 : 15;
}

/* Its area over its length by width is its width squared. */
static double width_m(const struct fw_plan_paddock *paddock)
{
    return sqrt(paddock->plane_m2 / paddock->elongation);
}

static void look_at_shapes(const struct fw_farm *farm,
                           const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_field *field = &plan->fields[index];
    size_t narrow = 0, elongated = 0, near = 0;
    for (size_t i = 0; i + 1 < field->paddock_count; i++) {
        const struct fw_plan_paddock *paddock =
            &plan->paddocks[field->first_paddock + i];
        const double width = width_m(paddock), least = least_width_m(farm);
        narrow += width < least;
        elongated += paddock->elongation > farm->longest_shape;
        near += fabs(width - least) < 0.01 || paddock->pieces > 1 ||
                fabs(paddock->elongation - farm->longest_shape) < 0.01;
    }
    if (near) /* as good as on the limit, or counted by its greatest piece */
        return;
    char least[40];
    snprintf(least, sizeof least, "under %g m wide", least_width_m(farm));
    is_said(&plan->notes, FW_LEVEL_WARNING, field->name, least,
            narrow > 0 && farm->back_fence);
    is_said(&plan->notes, FW_LEVEL_WARNING, field->name,
            "over 4 times as long as wide", elongated > 0 && farm->back_fence);
}

/* ---- findings of the plan itself ---- */

static void look_at_dry(const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_field *field = &plan->fields[index];
    const struct fw_plan_finding *finding = found(plan, "no-water", index);
    size_t dry = 0, first = 0;
    char text[120];
    for (size_t i = field->paddock_count; i-- > 0;)
        if (plan->paddocks[field->first_paddock + i].water == FW_NONE) {
            first = field->first_paddock + i;
            dry++;
        }
    assert_int_equal(finding != NULL, dry > 0);
    if (!dry)
        return;
    snprintf(text, sizeof text, "%zu of %zu paddocks, first %s, have no water",
             dry, field->paddock_count, plan->paddocks[first].id);
    assert_non_null(strstr(finding->text, text));
    assert_int_equal(finding->level, FW_LEVEL_DANGER);
    assert_string_equal(finding->about, field->name);
}

static void look_at_legumes(const struct fw_farm *farm,
                            const struct fw_plan *plan, size_t index)
{
    const double legume = farm->fields[index].sward.legume;
    const bool grazed = plan->fields[index].paddock_count > 0;
    const struct fw_plan_finding *bloat = found(plan, "bloat", index);
    assert_int_equal(bloat != NULL, grazed && legume > 0.5);
    char text[80];
    snprintf(text, sizeof text, "%.0f %% of the sward are legumes",
             100 * legume);
    assert_true(!bloat || strstr(bloat->text, text));
    enum { gestation = 147, around = 42 };
    const struct fw_list stays = fw_plan_stays_of(plan, index);
    const struct fw_plan_finding *clover = found(plan, "red-clover", index);
    if (!grazed || legume == 0 || !farm->lambing.given) {
        assert_null(clover);
        return;
    }
    /* The nights on which they are near tupping, one by one. */
    const int from = fw_time_nights(&plan->time, stays.first).from;
    const int to =
        fw_time_nights(&plan->time, stays.first + stays.count - 1).to;
    int first = FW_NO_DAY, last = FW_NO_DAY;
    for (int night = from; night < to; night++) {
        const bool near = night >= farm->lambing.from - gestation - around &&
                          night <= farm->lambing.to - gestation + around;
        first = near && first == FW_NO_DAY ? night : first;
        last = near ? night : last;
    }
    assert_int_equal(clover != NULL, first != FW_NO_DAY);
    if (!clover)
        return;
    char begins[FW_DATE_TEXT], ends[FW_DATE_TEXT];
    snprintf(text, sizeof text, "from %s to %s ewes",
             fw_date_write(first, begins), fw_date_write(last, ends));
    assert_non_null(strstr(clover->text, text));
}

static void look_at_lambs(const struct fw_farm *farm,
                          const struct fw_plan *plan)
{
    const struct fw_plan_finding *wire = found(plan, "lambs-wire", FW_NONE);
    bool small = false, held = true;
    for (size_t i = 0; i < plan->finding_count && !wire; i++)
        if (!strcmp(plan->findings[i].rule, "lambs-wire"))
            wire = &plan->findings[i];
    for (size_t i = 0; i < farm->class_count; i++)
        small |= farm->classes[i].state == FW_LAMB_AT_FOOT ||
                 farm->classes[i].state == FW_LACTATION_SINGLE ||
                 farm->classes[i].state == FW_LACTATION_TWINS;
    for (size_t i = 0; i < farm->field_count; i++) {
        const struct fw_farm_field *field = &farm->fields[i];
        held &= field->shape->ring_count == 1 ||
                field->hole_holds == FW_HOLDS_LAMBS;
        for (size_t k = 0; k < field->shape->corner_count; k++)
            held &= field->sides[k].holds == FW_HOLDS_LAMBS;
    }
    assert_int_equal(wire != NULL, small && plan->totals.kit.reels > 0 &&
                                       farm->moved.height_bottom_m > 0.25);
    if (!wire)
        return;
    char text[80];
    snprintf(text, sizeof text, "the lowest wire is at %g cm",
             ceil(farm->moved.height_bottom_m * 1000) / 10);
    assert_non_null(strstr(wire->text, text));
    assert_int_equal(wire->level, held ? FW_LEVEL_NOTE : FW_LEVEL_WARNING);
    assert_string_equal(wire->about, "moved fence");
}

/* Lambs are young for three weeks, and their dams go back for those that were
 * left: on moves within a field, over nothing that waits. */
static void look_at_young(const struct fw_farm *farm,
                          const struct fw_plan *plan)
{
    enum { young_days = 21 };
    bool suckled = false;
    for (size_t i = 0; i < farm->class_count; i++)
        suckled |= farm->classes[i].state == FW_LACTATION_SINGLE ||
                   farm->classes[i].state == FW_LACTATION_TWINS;
    const struct fw_lambing *told = &farm->lambing;
    const int from = told->given ? told->from : farm->start_day;
    const int to = (told->given ? told->to : farm->start_day) + young_days;
    for (size_t m = 0; m < plan->time.move_count; m++) {
        const struct fw_move *move = &plan->time.moves[m];
        const size_t in = fw_plan_move_to(plan, m);
        const size_t out = fw_plan_move_from(plan, m);
        bool waits = false;
        for (size_t i = 0; i < move->steps.count; i++)
            waits |= plan->time.steps[move->steps.first + i].over_m > 0;
        if (in == FW_NONE || out == FW_NONE || waits ||
            plan->paddocks[in].field != plan->paddocks[out].field)
            assert_true(move->later == FW_NONE);
        else
            assert_int_equal(move->later != FW_NONE, (told->given || suckled) &&
                                                         move->day >= from &&
                                                         move->day < to);
    }
}

/* ---- what was looked at ---- */

/* The finding of that rule about that thing. */
static const char *list_of(const struct fw_plan *plan, const char *rule,
                           const char *about)
{
    for (size_t i = 0; i < plan->finding_count; i++)
        if (!strcmp(plan->findings[i].rule, rule) &&
            !strcmp(plan->findings[i].about, about))
            return plan->findings[i].text;
    return "";
}

/* As an item of the list: "...: road, path". */
static bool lists(const char *text, const char *word)
{
    const char *colon = strstr(text, ": ");
    const size_t length = strlen(word);
    for (const char *item = colon ? colon + 2 : NULL; item;) {
        const char *end = strstr(item, ", ");
        if (strncmp(item, word, length) == 0 &&
            (item[length] == ',' || item[length] == '\0'))
            return true;
        item = end ? end + 2 : NULL;
    }
    return false;
}

static void look_at_looks(const struct fw_farm *farm,
                          const struct fw_plan *plan)
{
    const char *looked = list_of(plan, "looked", "maps");
    const char *unmapped = list_of(plan, "unchecked", "maps");
    for (enum fw_role role = 0; role < FW_ROLE_COUNT; role++) {
        const bool checked = fw_safety_is_checked(role);
        const char *word = fw_safety_role_word(role);
        const bool seen = farm->looked & 1U << role;
        assert_int_equal(lists(looked, word), checked && seen);
        assert_int_equal(lists(unmapped, word),
                         checked && !seen && !(farm->mapped & 1U << role));
    }
    assert_int_equal(lists(looked, "steep"),
                     (farm->looked & FW_LOOKED_STEEP) != 0);
    assert_int_equal(strstr(unmapped, "cliffs and slopes") != NULL,
                     !(farm->looked & FW_LOOKED_STEEP));
    char day[FW_DATE_TEXT];
    const char *when = farm->looked_day == FW_NO_DAY
                           ? "on a day that is not told"
                           : fw_date_write(farm->looked_day, day);
    assert_true(!looked[0] || strstr(looked, when));
}

static void look_at_cautions(const struct fw_farm *farm,
                             const struct fw_plan *plan)
{
    size_t count, shown = 0;
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    (void)farm;
    for (size_t i = 0; i < count; i++) {
        bool broken = false;
        if (!fw_safety_applies(&cautions[i], plan->concerns))
            continue;
        const struct fw_plan_caution *caution = &plan->cautions[shown++];
        for (size_t k = 0; k < plan->finding_count; k++)
            broken |= plan->findings[k].level != FW_LEVEL_NOTE &&
                      fw_safety_tries(&cautions[i], plan->findings[k].rule);
        assert_string_equal(caution->id, cautions[i].id);
        assert_string_equal(caution->who,
                            cautions[i].people ? "people" : "sheep");
        assert_int_equal(!strcmp(caution->tried, "broken"), broken);
        assert_int_equal(!caution->tried[0], !cautions[i].tried);
    }
    assert_int_equal(plan->caution_count, shown);
}

/* ---- all of it ---- */

static void look_at_plan(const struct fw_farm *farm, const struct fw_plan *plan)
{
    look_at_questions(farm, plan);
    look_at_runs(farm, plan);
    look_at_lambs(farm, plan);
    look_at_young(farm, plan);
    look_at_looks(farm, plan);
    look_at_cautions(farm, plan);
    for (size_t i = 0; i < plan->field_count; i++) {
        look_at_order(farm, plan, i);
        look_at_last(plan, &plan->fields[i]);
        look_at_shapes(farm, plan, i);
        look_at_dry(plan, i);
        look_at_legumes(farm, plan, i);
    }
}

static void draw_words(uint64_t *seed, struct fw_farm *farm)
{
    farm->far_first = chance(seed, 0.3);
    farm->looked = (unsigned)draw_count(seed, 0, (2U << FW_ROLE_COUNT) - 1);
    for (enum fw_role role = 0; role < FW_ROLE_COUNT; role++)
        if (farm->mapped & 1U << role)
            farm->looked &= ~(1U << role);
    farm->looked_day = chance(seed, 0.5) ? farm->start_day - 3 : (int)FW_NO_DAY;
    if (chance(seed, 0.3)) /* the page is for few of them */
        farm->looked = 0;
    if (chance(seed, 0.3))
        farm->fields[0].sward.legume = 0.6;
}

static void each_thing_is_said_where_it_is_so(void **state)
{
    (void)state;
    uint64_t seed = seeded(303);
    size_t made = 0;
    for (size_t i = 0; i < farms; i++) {
        struct fw_farm *farm = draw_farm(&seed);
        draw_words(&seed, farm);
        struct fw_plan *plan = plan_at_random(farm);
        if (plan)
            look_at_plan(farm, plan);
        made += plan != NULL;
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    print_message("# %zu plans\n", made);
    assert_true(made > farms / 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_thing_is_said_where_it_is_so),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
