/* Which features are one power line, against every pair of them: on maps at
 * random, of named and nameless pieces whose ends do or do not quite meet. */
#include "test.h"

#include "around/around.h"

#include <stdlib.h>
#include <string.h>

enum { maps = 400, most_features = 10, most_points = 6 };

struct map {
    struct fw_farm farm;
    struct fw_farm_feature features[most_features];
    struct fw_lonlat points[most_features][most_points];
    size_t starts[most_features][3];
    char names[most_features][8];
};

static size_t next(uint64_t *seed, size_t most)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return (size_t)(*seed >> 33) % (most + 1);
}

/* Metres east and north of one place, where a degree of latitude is 111.2 km:
 * the sum of a ball of 6,371 km. */
static const double degree_m = 111194.9, lat_deg = 47, lon_deg = 11;

static struct fw_lonlat place(double east_m, double north_m)
{
    const double round = cos(lat_deg / 57.29577951308232);
    return (struct fw_lonlat){lon_deg + east_m / (degree_m * round),
                              lat_deg + north_m / degree_m};
}

static double apart_m(struct fw_lonlat a, struct fw_lonlat b)
{
    const double round = cos(lat_deg / 57.29577951308232);
    return hypot((a.lon_deg - b.lon_deg) * round, a.lat_deg - b.lat_deg) *
           degree_m;
}

/* Near one of a few places, so that some meet. */
static struct fw_lonlat draw_end(uint64_t *seed)
{
    static const double off_m[] = {0, 0.45, 0.9, 1.3};
    return place(40 * (double)next(seed, 2) + off_m[next(seed, 3)],
                 40 * (double)next(seed, 1) + off_m[next(seed, 3)]);
}

static void draw_map(uint64_t *seed, struct map *map)
{
    static const char *const names[] = {"", "West", "East", "Hill"};
    static const double kv[] = {-1, 0, 20, 20, 110};
    memset(map, 0, sizeof *map);
    map->farm.features = map->features;
    map->farm.feature_count = 1 + next(seed, most_features - 1);
    for (size_t i = 0; i < map->farm.feature_count; i++) {
        struct fw_farm_feature *feature = &map->features[i];
        const size_t rings = 1 + (next(seed, 4) == 0);
        strcpy(map->names[i], names[next(seed, 3)]);
        *feature = (struct fw_farm_feature){
            .role = next(seed, 5) ? FW_ROLE_POWER_LINE : FW_ROLE_TELECOM,
            .kind = next(seed, 7) ? FW_FEATURE_LINE : FW_FEATURE_POINT,
            .points = map->points[i],
            .ring_start = map->starts[i],
            .ring_count = rings,
            .name = next(seed, 3) || !map->names[i][0] ? map->names[i] : NULL,
            .kv = kv[next(seed, 4)],
        };
        for (size_t r = 0; r < rings; r++) {
            struct fw_lonlat *points = map->points[i] + 3 * r;
            map->starts[i][r + 1] = 3 * (r + 1);
            points[0] = draw_end(seed);
            points[1] = draw_end(seed); /* a bend is no end */
            points[2] = draw_end(seed);
        }
    }
}

/* ---- every pair ---- */

static bool is_line(const struct fw_farm_feature *feature)
{
    return feature->role == FW_ROLE_POWER_LINE &&
           feature->kind == FW_FEATURE_LINE;
}

static bool is_named(const struct fw_farm_feature *feature)
{
    return feature->name && feature->name[0];
}

/* *close: an end lies as good as a metre from another. */
static bool ends_meet(const struct fw_farm_feature *a,
                      const struct fw_farm_feature *b, bool *close)
{
    bool meet = false;
    for (size_t i = 0; i < 3 * a->ring_count; i++)
        for (size_t k = 0; k < 3 * b->ring_count; k++) {
            const double m = apart_m(a->points[i], b->points[k]);
            if (i % 3 == 1 || k % 3 == 1)
                continue;
            *close |= fabs(m - 1) < 0.02;
            meet |= m <= 1;
        }
    return meet;
}

static bool are_one(const struct fw_farm_feature *a,
                    const struct fw_farm_feature *b, bool *close)
{
    if (!is_line(a) || !is_line(b) || is_named(a) != is_named(b))
        return false;
    if (is_named(a))
        return strcmp(a->name, b->name) == 0;
    const bool unknown = a->kv <= 0 && b->kv <= 0;
    return (unknown || fabs(a->kv - b->kv) < 0.5) && ends_meet(a, b, close);
}

/* The least number is handed on until nothing changes. */
static bool group_by_pairs(const struct map *map, size_t group[most_features])
{
    const size_t count = map->farm.feature_count;
    bool close = false, changed = true;
    for (size_t i = 0; i < count; i++)
        group[i] = i;
    while (changed) {
        changed = false;
        for (size_t i = 0; i < count; i++)
            for (size_t k = 0; k < count; k++)
                if (i != k && group[k] < group[i] &&
                    are_one(&map->features[i], &map->features[k], &close)) {
                    group[i] = group[k];
                    changed = true;
                }
    }
    return !close;
}

static void pieces_of_a_line_are_found_as_by_every_pair(void **state)
{
    (void)state;
    uint64_t seed = 12;
    size_t joined = 0, looked = 0;
    for (size_t m = 0; m < maps; m++) {
        struct map map;
        size_t wanted[most_features], found[most_features];
        struct fw_error err;
        draw_map(&seed, &map);
        if (!group_by_pairs(&map, wanted))
            continue;
        assert_int_equal(fw_plan__group(&map.farm, found, &err), FW_OK);
        for (size_t i = 0; i < map.farm.feature_count; i++) {
            assert_int_equal(found[i], wanted[i]);
            joined += found[i] != i;
        }
        looked++;
    }
    assert_true(looked > maps / 2);
    assert_true(joined > maps / 2);
}

/* A metre is one whichever way it lies: 0.97 m meet, 1.03 m do not. */
static void ends_meet_within_a_metre_on_any_hand(void **state)
{
    (void)state;
    for (int turn = 0; turn < 24; turn++)
        for (int far = 0; far < 2; far++) {
            const double angle = turn * 0.2617993877991494;
            const double m = far ? 1.03 : 0.97;
            struct map map = {
                .farm = {.features = map.features, .feature_count = 2}};
            for (size_t i = 0; i < 2; i++) {
                map.features[i] =
                    (struct fw_farm_feature){.role = FW_ROLE_POWER_LINE,
                                             .kind = FW_FEATURE_LINE,
                                             .points = map.points[i],
                                             .ring_start = map.starts[i],
                                             .ring_count = 1,
                                             .kv = 20};
                map.starts[i][1] = 2;
            }
            map.points[0][0] = place(-50, 30);
            map.points[0][1] = place(0, 0);
            map.points[1][turn % 2] = place(m * cos(angle), m * sin(angle));
            map.points[1][1 - turn % 2] = place(70, -30);
            size_t group[2];
            assert_int_equal(fw_plan__group(&map.farm, group, NULL), FW_OK);
            assert_int_equal(group[0], 0);
            assert_int_equal(group[1], far);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pieces_of_a_line_are_found_as_by_every_pair),
        cmocka_unit_test(ends_meet_within_a_metre_on_any_hand),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
