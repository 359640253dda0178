/* The ways of having water on small fields of our own and on 100 real ones:
 * what `water` tells of trips and minutes is counted again from moves.csv, and
 * the points that it chooses by minutes never take more than one at the gate or
 * in the middle of the field. */
#include "random_farm.h"
#include "time_farms.h"

#include "haul/placing.h"
#include "make/make.h"
#include <foldwright/report.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double tank_l = 500, road_m = 1200, drive_m_min = 250,
                    fill_l_min = 40, handle_min = 5, shift_min = 5;

/* ---- moves.csv ---- */

enum { most_columns = 48 };

struct stay { /* a row of it */
    int day;
    double litres_day, gate_m;
    bool trough;
};

/* The cells of a line; a quoted one may hold commas. */
static size_t cells_of(char *line, char *cells[most_columns])
{
    size_t count = 0;
    bool quoted = false;
    cells[count++] = line;
    for (char *c = line; *c; c++) {
        quoted ^= *c == '"';
        if (*c == ',' && !quoted) {
            *c = '\0';
            assert_true(count < most_columns);
            cells[count++] = c + 1;
        }
    }
    return count;
}

static size_t column(char *const *names, size_t count, const char *name)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(names[i], name) == 0)
            return i;
    fail_msg("no column %s", name);
    return 0;
}

/* All rows, the last move too, which leads out. */
static size_t read_moves(const struct fw_plan *plan, struct stay *rows)
{
    char *text, *names[most_columns], *cells[most_columns], *rest = NULL;
    size_t length, count = 0;
    struct fw_error err;
    assert_int_equal(fw_report_moves_csv(plan, &text, &length, &err), FW_OK);
    char *line = strtok_r(text, "\r\n", &rest);
    const size_t n = cells_of(line, names);
    const size_t day = column(names, n, "date"),
                 water = column(names, n, "water"),
                 litres = column(names, n, "litres_day"),
                 gate = column(names, n, "gate_m");
    while ((line = strtok_r(NULL, "\r\n", &rest))) {
        assert_int_equal(cells_of(line, cells), n);
        struct stay *row = &rows[count++];
        assert_int_equal(fw_date_read(cells[day], &row->day, &err), FW_OK);
        row->trough = strncmp(cells[water], "trough", 6) == 0;
        row->litres_day = atof(cells[litres]);
        row->gate_m = atof(cells[gate]);
    }
    fw_bytes_free(text);
    return count;
}

/* ---- counted again ---- */

struct counted {
    double minutes, hauled_l;
};

static double hauled_min(const struct stay *rows, size_t s, double gate_m)
{
    const double days = rows[s + 1].day - rows[s].day;
    return days * rows[s].litres_day / tank_l *
           (2 * road_m / drive_m_min + 2 * tank_l / fill_l_min + handle_min +
            2 * gate_m / drive_m_min);
}

/* Each stay at the best of these places, or as the plan has it; with one that
 * is forced wherever that serves. */
static struct counted count(const struct fw_placing *placing,
                            const struct stay *rows, const size_t *places,
                            size_t place_count, bool forced)
{
    struct counted sum = {0};
    for (size_t s = 0; s < placing->stay_count; s++) {
        double least = rows[s].trough
                           ? hauled_min(rows, s, rows[s].gate_m) + shift_min
                           : 0;
        for (size_t i = 0; i < place_count; i++) {
            const struct fw_placing_place *place = &placing->places[places[i]];
            if (isinf(placing->mean_m[s * placing->place_count + places[i]]))
                continue;
            const double min =
                place->is_water ? 0 : hauled_min(rows, s, place->gate_m);
            least = forced && rows[s].trough ? min : fmin(least, min);
        }
        sum.minutes += least;
        if (least > 0)
            sum.hauled_l +=
                rows[s].litres_day * (rows[s + 1].day - rows[s].day);
    }
    return sum;
}

struct tally {
    size_t plans, rows, middles, gates, better;
};

static void look(const struct fw_plan *plan, const char *name,
                 struct tally *tally)
{
    struct fw_placing placing;
    struct fw_hauled_table table;
    struct fw_error err;
    struct stay *rows = calloc(plan->time.move_count, sizeof *rows);
    if (fw_placing_make(plan, &placing, &err) ||
        fw_hauled_make(plan, &placing, FW_PLACING_MINUTES, 3, &table, &err))
        fail_msg("%s: %s", name, err.text);
    assert_int_equal(read_moves(plan, rows), plan->time.move_count);
    assert_int_equal(placing.stay_count + 1, plan->time.move_count);
    const struct counted today = count(&placing, rows, NULL, 0, false);
    double least_of_one = HUGE_VAL;
    for (size_t p = 0; p < placing.place_count; p++) {
        const struct fw_placing_place *place = &placing.places[p];
        if (place->is_water || place->fence != FW_NONE)
            continue;
        const double min = count(&placing, rows, &p, 1, true).minutes;
        least_of_one = fmin(least_of_one, min);
        tally->middles += place->middle;
        tally->gates += !place->middle;
    }
    assert_near(table.rows[0].minutes_day * table.days, today.minutes,
                1e-9 * today.minutes + 1e-9);
    for (size_t i = 0; i < table.count; i++) {
        const struct fw_hauled *row = &table.rows[i];
        if (row->way != FW_HAULED_POINTS)
            continue;
        const struct counted again =
            count(&placing, rows, row->points.places, row->points.count, false);
        const double told =
            (table.rows[0].minutes_day - row->minutes_day) * table.days;
        if (fabs(told - (today.minutes - again.minutes)) >
            1e-9 * today.minutes + 1e-9)
            fail_msg("%s: %zu points save %g min, counted %g", name,
                     row->points.count, told, today.minutes - again.minutes);
        assert_int_equal(row->trips,
                         (int)ceil(again.hauled_l / tank_l * (1 - 1e-9)));
        assert_true(row->trips <= table.rows[0].trips);
        if (again.minutes > least_of_one * (1 + 1e-9) ||
            again.minutes > today.minutes * (1 + 1e-9))
            fail_msg("%s: %zu points take %g min; gate or middle %g, today %g",
                     name, row->points.count, again.minutes, least_of_one,
                     today.minutes);
        tally->rows++;
        tally->better += again.minutes < least_of_one * (1 - 1e-6);
    }
    tally->plans++;
    fw_placing_release(&placing);
    free(rows);
}

static void plan_one(struct fw_field *shape, char *crs, bool back_fence,
                     const char *name, struct tally *tally)
{
    struct farm_room room;
    struct fw_plan *plan = NULL;
    struct fw_error err;
    make_farm(&room, &shape, 1, crs,
              (struct setting){
                  .back_fence = back_fence, .trough = true, .places = APART});
    room.flock.state = FW_LACTATION_TWINS;
    room.farm.tank_l = tank_l;
    room.farm.hauling = (struct fw_farm_hauling){
        .road_m = road_m,
        .drive_m_min = drive_m_min,
        .fill_l_min = fill_l_min,
        .day = {FW_AIR_MILD, 0.8},
    };
    const enum fw_status status = fw_plan_make(&room.farm, &plan, &err);
    if (status && status != FW_EPLAN)
        fail_msg("%s: %s", name, err.text);
    if (!status)
        look(plan, name, tally);
    fw_plan_free(plan);
}

static void plan_all(struct real_fields *fields, const char *map, size_t every,
                     struct tally *tally)
{
    for (size_t i = 0; i < fields->count; i += every) {
        char name[128];
        snprintf(name, sizeof name, "%s, FID %lld", map, fields->fids[i]);
        plan_one(fields->fields[i], fields->crs, i / every % 2, name, tally);
    }
}

static void tell(const struct tally *tally)
{
    print_message("# %zu plans, %zu rows of points, %zu gates, %zu middles; "
                  "better than either in %zu\n",
                  tally->plans, tally->rows, tally->gates, tally->middles,
                  tally->better);
    assert_true(tally->rows > tally->plans && tally->better * 2 > tally->rows);
    assert_true(tally->gates * 2 > tally->plans &&
                tally->middles * 2 > tally->plans);
}

static void own_fields_save_what_is_told(void **state)
{
    (void)state;
    uint64_t seed = 23;
    struct tally tally = {0};
    for (size_t map = 0; map < own_maps; map++) {
        struct real_fields fields = own_fields(map, &seed);
        plan_all(&fields, own_map(map), 6, &tally);
        release_fields(&fields);
    }
    tell(&tally);
}

/* 100 of them, evenly spread. */
static void real_fields_save_what_is_told(void **state)
{
    (void)state;
    const char *data = getenv("FW_TEST_DATA");
    struct tally tally = {0};
    for (size_t map = 0; map < chosen_map_count; map++) {
        struct real_fields fields = read_chosen(data, map);
        thin_out(&fields, 50);
        plan_all(&fields, chosen_maps[map].path, 1, &tally);
        release_fields(&fields);
    }
    tell(&tally);
    assert_true(tally.plans >= 95);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(own_fields_save_what_is_told),
        data_test(real_fields_save_what_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
