/* Fields of which a zone has grass of another condition: they come in parts
 * that are laid out for themselves. Half planes and strips at random over
 * invented fields and real ones; areas against the whole field, feed against
 * area by density, and every move gone through step by step. */
#include "random_farm.h"
#include "time_farms.h"
#include "time_watch.h"
#include "unit/scratch.h"

#include <foldwright/told.h>

enum { zones_of_each = 2, real_of_each = 12, most_text = 300000 };

struct counts {
    size_t even, farms, parted, parts, plans, refused, borders, unplanned;
    double worst;
};

static struct scratch scratch;
static char text[most_text];

static int set_up(void **state)
{
    (void)state;
    scratch_make(&scratch);
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    scratch_remove(scratch.path);
    return 0;
}

/* ---- maps ---- */

static size_t add_ring(size_t length, const struct fw_lonlat *ring,
                       size_t count)
{
    for (size_t i = 0; i <= count; i++)
        length += (size_t)snprintf(
            text + length, most_text - length, "%s[%.12f,%.12f]", i ? "," : "[",
            ring[i % count].lon_deg, ring[i % count].lat_deg);
    return length + (size_t)snprintf(text + length, most_text - length, "]");
}

static const char head[] =
    "{\"type\":\"FeatureCollection\",\"features\":[{\"type\":\"Feature\","
    "\"properties\":{%s},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[";

static void put_field_map(const struct fw_field *field)
{
    size_t length =
        (size_t)snprintf(text, most_text, head, "\"name\":\"Home\"");
    for (size_t r = 0; r < field->ring_count; r++) {
        struct fw_lonlat ring[4096];
        const size_t first = field->ring_start[r];
        const size_t count = field->ring_start[r + 1] - first;
        assert_true(count < 4096);
        for (size_t i = 0; i < count; i++)
            ring[i] = field->vertices[first + i].lonlat;
        length += (size_t)snprintf(text + length, most_text - length, "%s",
                                   r ? "," : "");
        length = add_ring(length, ring, count);
    }
    snprintf(text + length, most_text - length, "]}}]}");
    put_text(in_scratch(&scratch, "field.geojson"), text);
}

/* A strip through the middle, so wide that it is half a plane now and then. */
static void put_zone_map(const struct fw_field *field, uint64_t *seed)
{
    const double turn = draw(seed, 0, acos(-1)), far_m = 12000;
    const double from_m = draw(seed, -40, 40);
    const double to_m = draw(seed, 0, 1) < 0.5 ? far_m : from_m + 60;
    const double xy[4][2] = {
        {from_m, -far_m}, {to_m, -far_m}, {to_m, far_m}, {from_m, far_m}};
    struct fw_lonlat ring[4];
    char told[80];
    for (size_t i = 0; i < 4; i++)
        ring[i] = fw_plane_inverse(
            &field->plane,
            (struct fw_point){xy[i][0] * cos(turn) - xy[i][1] * sin(turn),
                              xy[i][0] * sin(turn) + xy[i][1] * cos(turn)});
    snprintf(told, sizeof told, "\"condition\":\"%s\",\"mass\":%.0f",
             draw(seed, 0, 1) < 0.5 ? "rank" : "aged", draw(seed, 2500, 5000));
    size_t length = (size_t)snprintf(text, most_text, head, told);
    length = add_ring(length, ring, 4);
    snprintf(text + length, most_text - length, "]}}]}");
    put_text(in_scratch(&scratch, "zone.geojson"), text);
}

static struct fw_farm *read_farm(const struct fw_field *field, bool dormant)
{
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    snprintf(text, most_text,
             "fields: {source: field.geojson}\n"
             "maps: [{role: zone, source: zone.geojson}]\n"
             "gate: corner:1\n"
             "perimeter: {holds: sheep, hot: yes}\n"
             "forage: {mass: 2600 kg/ha, residual: 1200 kg/ha, condition: "
             "fresh}\n"
             "flock: [{head: %d, weight: 60 kg, intake: 2 kg/day}]\n"
             "stay: 1 day\nseason: %s\nback-fence: %s\nstart: %s\n",
             1 + (int)(field->area_m2 / 1e4 * 25),
             dormant ? "dormant" : "growth", dormant ? "no" : "yes",
             dormant ? "2027-12-06" : "2027-05-10");
    put_text(in_scratch(&scratch, "farm.yaml"), text);
    const struct fw_farm_request request = {
        .farm_path = in_scratch(&scratch, "farm.yaml")};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err)) {
        assert_int_equal(err.status, FW_EPLAN);
        return NULL;
    }
    return farm;
}

/* ---- what must hold ---- */

static void areas_add_up(const struct fw_farm *farm, struct counts *counts)
{
    double sum_m2 = 0;
    for (size_t i = 0; i < farm->field_count; i++) {
        assert_ptr_equal(farm->fields[i].border.whole, farm->wholes[0]);
        sum_m2 += farm->fields[i].shape->area_m2;
    }
    const double off = fabs(sum_m2 / farm->wholes[0]->area_m2 - 1);
    counts->worst = fmax(counts->worst, off);
    assert_true(off <= 1e-12);
}

/* Every edge on a border belongs to one other part, which has it the other way
 * round; and of each pair one, not both, has it as its front. */
static void borders_match(const struct fw_farm *farm)
{
    for (size_t i = 0; i < farm->field_count; i++) {
        const struct fw_farm_field *part = &farm->fields[i];
        assert_true((i > 0) == part->front.given);
        for (size_t v = 0; v < part->shape->vertex_count; v++) {
            const size_t beyond = part->border.beyond[v];
            if (beyond == 0)
                continue;
            assert_true(beyond != part->border.number);
            size_t before = 0;
            for (size_t k = 0; k < i; k++)
                before += farm->fields[k].border.number == beyond;
            if (part->front.given)
                assert_int_equal(part->front.runs[v], before);
        }
    }
}

static void feed_balances(const struct fw_plan *plan,
                          const struct fw_farm *farm, size_t *even)
{
    for (size_t f = 0; f < plan->field_count; f++) {
        const struct fw_plan_field *field = &plan->fields[f];
        double m2 = 0, kg = 0, lost_m2 = 0;
        if (field->paddock_count == 0)
            continue;
        for (size_t i = 0; i < plan->lane_count; i++)
            lost_m2 += plan->lanes[i].field == f ? plan->lanes[i].plane_m2 : 0;
        for (size_t p = 0; p < field->paddock_count; p++) {
            m2 += plan->paddocks[field->first_paddock + p].plane_m2;
            kg += plan->paddocks[field->first_paddock + p].usable_kg;
        }
        assert_relative(m2 + lost_m2, farm->fields[f].shape->area_m2, 1e-9);
        const struct fw_farm_field *from = &farm->fields[f];
        if (plan->season != FW_SEASON_DORMANT)
            continue;
        /* Of grass that goes with it, being too narrow to be fenced, too. */
        double least = field->usable_kg_ha, most = least;
        for (size_t k = 0; k < from->part_count; k++) {
            least = fmin(least, from->parts[k].usable.usable_kg_ha);
            most = fmax(most, from->parts[k].usable.usable_kg_ha);
        }
        assert_true(kg >= m2 / 1e4 * least * (1 - 1e-6));
        assert_true(kg <= m2 / 1e4 * most * (1 + 1e-6));
        *even += most <= least;
    }
}

/* A border stands from before the first move, at least until they are in. */
static void borders_stand(const struct fw_plan *plan, struct counts *counts)
{
    const struct fw_time *time = &plan->time;
    for (size_t i = 0; i < plan->fence_count; i++) {
        if (!fw_plan_is_border(plan, i))
            continue;
        counts->borders++;
        bool found = false;
        for (size_t s = 0; s < time->standing_count; s++) {
            const struct fw_standing *standing = &time->standings[s];
            if (standing->line != i || standing->up.move != FW_NONE)
                continue;
            found = true;
            for (size_t m = 0;
                 standing->down.move != FW_NONE && m < time->move_count; m++)
                if (time->moves[m].field == plan->fences[i].field) {
                    assert_true(standing->down.move >= m);
                    break;
                }
        }
        assert_true(found);
    }
}

/* From part to part they go through no gate. */
static void no_gate_between(const struct fw_plan *plan)
{
    const struct fw_time *time = &plan->time;
    for (size_t m = 1; m + 1 < time->move_count; m++) {
        const struct fw_list steps = time->moves[m].steps;
        for (size_t s = steps.first; s < steps.first + steps.count; s++)
            if (time->steps[s].opening != FW_NONE)
                assert_true(time->openings[time->steps[s].opening].line !=
                            FW_NONE);
    }
}

static void try_zone(const struct fw_field *field, const char *name,
                     uint64_t *seed, struct counts *counts, struct tally *tally)
{
    const bool dormant = draw(seed, 0, 1) < 0.5;
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    put_zone_map(field, seed);
    struct fw_farm *farm = read_farm(field, dormant);
    counts->farms++;
    if (!farm || farm->whole_count == 0) {
        fw_farm_free(farm);
        return;
    }
    counts->parted++;
    counts->parts += farm->field_count;
    areas_add_up(farm, counts);
    borders_match(farm);
    if (fw_plan_make(farm, &plan, &err)) {
        assert_int_equal(err.status, FW_EPLAN);
        counts->refused++;
        fw_farm_free(farm);
        return;
    }
    counts->plans++;
    for (size_t f = 0; f < plan->field_count; f++) {
        assert_string_equal(plan->fields[f].part_of, "Home");
        counts->unplanned += plan->fields[f].no_plan != NULL;
    }
    feed_balances(plan, farm, &counts->even);
    borders_stand(plan, counts);
    no_gate_between(plan);
    struct watch watch = {.plan = plan,
                          .where = name,
                          .setting = {.dormant = dormant,
                                      .back_fence = !dormant,
                                      .trough = true,
                                      .places = TOGETHER},
                          .tally = tally};
    go_through(&watch);
    fw_land_release(&watch.land);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void try_fields(const struct real_fields *fields, const char *map,
                       uint64_t *seed, struct counts *counts)
{
    struct tally tally = {0};
    for (size_t i = 0; i < fields->count; i++) {
        char name[300];
        snprintf(name, sizeof name, "%s, %lld", map, fields->fids[i]);
        put_field_map(fields->fields[i]);
        for (size_t k = 0; k < zones_of_each; k++)
            try_zone(fields->fields[i], name, seed, counts, &tally);
    }
    for (int k = 0; k < FAULTS; k++)
        assert_int_equal(tally.faults[k], 0);
}

static void tell(const struct counts *counts)
{
    print_message("# %zu farms, %zu in %zu parts; %zu plans, %zu refused, %zu "
                  "parts without a plan; %zu borders; areas off by %.1e\n",
                  counts->farms, counts->parted, counts->parts, counts->plans,
                  counts->refused, counts->unplanned, counts->borders,
                  counts->worst);
}

static void invented_fields_in_parts(void **state)
{
    (void)state;
    uint64_t seed = seeded(12);
    struct counts counts = {0};
    for (size_t m = 0; m < invented_map_count; m++) {
        struct real_fields fields = read_invented(m);
        try_fields(&fields, invented_maps[m], &seed, &counts);
        release_fields(&fields);
    }
    tell(&counts);
    assert_true(counts.parted > 20 && counts.plans > 15);
    assert_true(counts.borders >= counts.plans);
}

static void real_fields_in_parts(void **state)
{
    (void)state;
    uint64_t seed = seeded(12);
    struct counts counts = {0};
    for (size_t m = 0; m < chosen_map_count; m++) {
        struct real_fields fields = read_chosen(getenv("FW_TEST_DATA"), m);
        if (!getenv("FW_TEST_EVERY"))
            thin_out(&fields, real_of_each);
        try_fields(&fields, chosen_maps[m].path, &seed, &counts);
        release_fields(&fields);
    }
    tell(&counts);
    assert_true(counts.parted > 20 && counts.plans > 15);
    assert_true(counts.borders >= counts.plans);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(invented_fields_in_parts),
        data_test(real_fields_in_parts),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
