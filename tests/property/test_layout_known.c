/* Line that is known to do: for each of the fields of tests/data, each pattern
 * and one of three ways to ask, or all, tests/tables/layout_known.tsv has the
 * least metres of line that a true layout was ever found with, with how few
 * turns of the flock and how few stays short of those kept back. Whoever finds
 * less may write it down (FW_TELL=1 prints the rows as they come out); whoever
 * finds more has lost a way of finding it. */
#include "layout_fields.h"
#include "random_farm.h"
#include "slope.h"

#include "unit/table.h"

enum { askings = 3 };

struct known {
    char map[40], pattern[20];
    long long fid;
    int asking;
    double line_m, keep_short;
    size_t turns;
};

/* What is asked of a field, by its number and the pattern's. */
struct asked {
    struct fw_layout_request request;
    double target;
    struct fw_point start, also, water, mark;
    struct fw_layout_mark marks[1];
    struct fw_layout_keep keep;
    size_t ring[2];
    struct fw_herbage *ground;
    double holds; /* all of the field */
};

static struct fw_point corner_of(const struct fw_field *field, size_t k)
{
    return field->vertices[field->corners[k % field->corner_count]].plane;
}

/* East of the water there is half as much. */
static void grow(struct asked *asked, const struct fw_field *field,
                 size_t paddocks)
{
    const double far_m = 3000;
    const struct fw_point east[] = {
        {asked->water.x_m, asked->water.y_m - far_m},
        {asked->water.x_m + far_m, asked->water.y_m - far_m},
        {asked->water.x_m + far_m, asked->water.y_m + far_m},
        {asked->water.x_m, asked->water.y_m + far_m}};
    const size_t ring_start[] = {0, 4};
    const struct fw_herbage_zone zone = {east, ring_start, 1, 0.1};
    struct fw_point *points = calloc(field->vertex_count, sizeof *points);
    struct fw_error err = {0};
    for (size_t i = 0; i < field->vertex_count; i++)
        points[i] = field->vertices[i].plane;
    if (fw_herbage_zones(field, 0.2, &zone, 1, &asked->ground, NULL, &err))
        fail_msg("%s", err.text);
    asked->holds = fw_herbage_mass_kg(asked->ground, points, field->ring_start,
                                      field->ring_count);
    free(points);
    asked->target = asked->holds / ((double)paddocks - 0.3);
    asked->request.ground = asked->ground;
}

static void ask(struct asked *asked, const struct fw_field *field, size_t i,
                size_t p, int asking)
{
    const size_t paddocks = 3 + (7 * i + 3 * p) % 9;
    *asked = (struct asked){.start = corner_of(field, i),
                            .also = corner_of(field, i + 1),
                            .mark = corner_of(field, i + 2),
                            .ring = {0, 1},
                            .holds = field->area_m2};
    asked->target = field->area_m2 / ((double)paddocks - 0.3);
    for (size_t v = 0; v < field->ring_start[1]; v++) {
        asked->water.x_m +=
            field->vertices[v].plane.x_m / (double)field->ring_start[1];
        asked->water.y_m +=
            field->vertices[v].plane.y_m / (double)field->ring_start[1];
    }
    asked->marks[0] = (struct fw_layout_mark){
        .points = &asked->mark, .ring_start = asked->ring, .ring_count = 1};
    asked->keep = (struct fw_layout_keep){
        .stays = 1.5, .marks = asked->marks, .mark_count = 1};
    asked->request =
        (struct fw_layout_request){.field = field,
                                   .target = &asked->target,
                                   .target_count = 1,
                                   .water = &asked->water,
                                   .last = FW_LAST_EVEN,
                                   .pattern = fw_layout_pattern(p, NULL)};
    if (asking == 0)
        return;
    if (asking == 2) {
        grow(asked, field, paddocks);
        return;
    }
    asked->request.last = FW_LAST_SHORT;
    asked->request.bends = i % 2 == 0;
    if (i % 5 < 2) {
        asked->request.keep = &asked->keep;
        asked->request.keep_count = 1;
        return; /* what is kept may lie at the start */
    }
    asked->request.start = &asked->start;
    asked->request.also = i % 2 ? &asked->also : NULL;
    asked->request.one_way = i % 3 == 0;
    asked->request.far_first = i % 4 == 1;
}

/* False: there is none. */
static bool find(const struct asked *asked, struct known *out)
{
    struct fw_layout_list list = {0};
    struct fw_error err = {0};
    struct map_check check;
    const enum fw_status status =
        fw_layout_candidates(&asked->request, &list, &err);
    if (status && status != FW_EPLAN)
        fail_msg("%s", err.text);
    for (size_t i = 0; i < list.count; i++)
        if (!map_is_true(&check, &asked->request, &list.items[i], asked->holds,
                         1e-9))
            fail_msg("%s: %s", list.items[i].name, check.why);
    out->line_m = out->keep_short = HUGE_VAL;
    out->turns = SIZE_MAX;
    for (size_t i = 0; i < list.count; i++) {
        const struct fw_layout *layout = &list.items[i];
        const size_t turns = layout->turn_count + layout->apart_count;
        out->line_m = fmin(out->line_m, layout->line_m);
        out->keep_short = fmin(out->keep_short, layout->keep_short);
        out->turns = turns < out->turns ? turns : out->turns;
    }
    const bool found = list.count > 0;
    fw_layout_list_release(&list);
    return found;
}

/* ---- the table ---- */

static bool tells(void)
{
    return getenv("FW_TELL") != NULL;
}

/* The rows stand in the order in which they are asked for. */
static void read_row(struct table *table, const struct known *asked,
                     struct known *out)
{
    char name[100];
    *out = *asked;
    if (!table_next(table, 7))
        fail_msg("%s ends before %s %lld, %s", table->name, asked->map,
                 asked->fid, asked->pattern);
    snprintf(name, sizeof name, "%s %s %s %s", table->cells[0], table->cells[1],
             table->cells[2], table->cells[3]);
    char wanted[100];
    snprintf(wanted, sizeof wanted, "%s %lld %s %d", asked->map, asked->fid,
             asked->pattern, asked->asking);
    assert_string_equal(name, wanted);
    const bool none = strcmp(table->cells[4], "none") == 0;
    out->line_m = none ? HUGE_VAL : table_number(table, 4);
    out->turns = none ? SIZE_MAX : (size_t)table_number(table, 5);
    out->keep_short = none ? HUGE_VAL : table_number(table, 6);
}

static void print_row(const struct known *got, bool found)
{
    printf("%s\t%lld\t%s\t%d", got->map, got->fid, got->pattern, got->asking);
    if (found)
        printf("\t%.3f\t%zu\t%.9g\n", got->line_m, got->turns, got->keep_short);
    else
        printf("\tnone\t\t\n");
}

/* A millimetre is what the table rounds to. */
static bool is_worse(const struct known *got, const struct known *known)
{
    return got->line_m > known->line_m * (1 + 1e-9) + 1e-3 ||
           got->turns > known->turns ||
           got->keep_short > known->keep_short + 1e-6;
}

static size_t compare(struct table *table, const struct real_fields *own,
                      size_t map, size_t i, size_t p)
{
    size_t worse = 0;
    uint64_t slope = 1 + i;
    struct fw_raster *heights = slope_about(own->fields[i], &slope);
    for (int asking = 0; asking < askings; asking++) {
        if (map == 0 && (i + p) % 2 != (size_t)asking)
            continue; /* for time's sake */
        struct asked asked;
        struct known known, got = {.fid = own->fids[i], .asking = asking};
        ask(&asked, own->fields[i], i, p, asking);
        asked.request.heights = heights;
        snprintf(got.map, sizeof got.map, "%s", own_map(map));
        snprintf(got.pattern, sizeof got.pattern, "%s", asked.request.pattern);
        const bool found = find(&asked, &got);
        fw_herbage_free(asked.ground);
        if (tells()) {
            print_row(&got, found);
            continue;
        }
        read_row(table, &got, &known);
        if (!is_worse(&got, &known))
            continue;
        worse++;
        print_message("# %s %lld, %s, asking %d: %.3f m, %zu turns, %g short; "
                      "known %.3f, %zu, %g\n",
                      got.map, got.fid, got.pattern, asking, got.line_m,
                      got.turns, got.keep_short, known.line_m, known.turns,
                      known.keep_short);
    }
    fw_raster_free(heights);
    return worse;
}

static void line_is_no_more_than_is_known_to_do(void **state)
{
    (void)state;
    struct table table = {.name = "layout_known.tsv"};
    size_t worse = 0;
    if (!tells())
        table_open(&table, "layout_known.tsv");
    for (size_t m = 0; m < invented_map_count; m++) {
        struct real_fields own = read_invented(m);
        for (size_t i = 0; i < own.count; i++)
            for (size_t p = 0; fw_layout_pattern(p, NULL); p++)
                worse += compare(&table, &own, m, i, p);
        release_fields(&own);
    }
    if (!tells())
        table_close(&table);
    assert_int_equal(worse, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(line_is_no_more_than_is_known_to_do),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
