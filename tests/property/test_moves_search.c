/* The way from cell to cell, or to and from the gate, against all ways that
 * there are: each is walked and its price added up by itself. Ground, what was
 * grazed, what stands and what is open are at random. */
#include "random_moves.h"

#include "moves/search.h"

enum { rounds = 2500, most_way = 12 };

struct price {
    double over_m, way_m;
    size_t narrow, openings;
};

struct ways {
    struct fw_land land;
    struct fw_moves__walk walk;
    bool stands[most_lines], grazed[most_cells], open[most_doors];
    size_t field, from, to;
    size_t group[most_cells]; /* no fence parts those of one */
    bool waits[most_cells];
    size_t doors[most_way], count; /* while they are gone through */
    bool been[most_cells];
    struct price best;
    bool found;
};

static double apart_m(struct fw_point a, struct fw_point b)
{
    return sqrt((a.x_m - b.x_m) * (a.x_m - b.x_m) +
                (a.y_m - b.y_m) * (a.y_m - b.y_m));
}

static bool is_shut(const struct ways *ways, size_t door)
{
    return ways->stands[ways->land.doors[door].line] && !ways->open[door];
}

static size_t beyond(const struct ways *ways, size_t door, size_t cell)
{
    const struct fw_door *of = &ways->land.doors[door];
    return of->a == cell ? of->b : of->a;
}

/* Paddocks that are not grazed yet, but for where they go to. */
static bool is_ungrazed(const struct ways *ways, size_t cell)
{
    return cell != ways->to && !ways->grazed[cell] &&
           ways->land.cells[cell].kind == FW_CELL_PADDOCK;
}

/* Groups of cells that no fence parts; where they go to is none of them. */
static void find_groups(struct ways *ways)
{
    for (size_t c = 0; c < ways->land.cell_count; c++)
        ways->group[c] = c;
    for (bool more = true; more;) {
        more = false;
        for (size_t d = 0; d < ways->land.door_count; d++) {
            const struct fw_door *of = &ways->land.doors[d];
            if (is_shut(ways, d) || of->a == ways->to || of->b == ways->to ||
                ways->group[of->a] == ways->group[of->b])
                continue;
            const size_t less = ways->group[of->a] < ways->group[of->b]
                                    ? ways->group[of->a]
                                    : ways->group[of->b];
            ways->group[of->a] = ways->group[of->b] = less;
            more = true;
        }
    }
    for (size_t c = 0; c < ways->land.cell_count; c++) {
        ways->waits[c] = false;
        for (size_t o = 0; o < ways->land.cell_count; o++)
            ways->waits[c] |=
                ways->group[o] == ways->group[c] && is_ungrazed(ways, o);
    }
}

/* At an opening 2.5 m from where it begins, or in its middle; else the nearest
 * place of it, by thirds. */
static struct fw_point place_of(const struct ways *ways, size_t door,
                                struct fw_point from)
{
    const struct fw_door *of = &ways->land.doors[door];
    if (ways->stands[of->line])
        return fw_land_along(
            &ways->land, of->line,
            fmin(of->from_m + 2.5, (of->from_m + of->to_m) / 2));
    double low_m = of->from_m, high_m = of->to_m;
    for (int i = 0; i < 100; i++) {
        const double a = low_m + (high_m - low_m) / 3;
        const double b = high_m - (high_m - low_m) / 3;
        if (apart_m(fw_land_along(&ways->land, of->line, a), from) <
            apart_m(fw_land_along(&ways->land, of->line, b), from))
            high_m = b;
        else
            low_m = a;
    }
    return fw_land_along(&ways->land, of->line, (low_m + high_m) / 2);
}

static struct fw_point middle_of(const struct fw_land *land, size_t cell)
{
    const size_t first = land->ring_start[land->cells[cell].first_ring];
    const size_t end = land->ring_start[land->cells[cell].first_ring + 1];
    struct fw_point sum = {0, 0};
    for (size_t i = first; i < end; i++) {
        sum.x_m += land->ring_points[i].x_m;
        sum.y_m += land->ring_points[i].y_m;
    }
    return (struct fw_point){sum.x_m / (double)(end - first),
                             sum.y_m / (double)(end - first)};
}

static struct price price_of(const struct ways *ways, size_t first,
                             const size_t *doors, size_t count)
{
    const struct fw_land *land = &ways->land;
    const double any_step_m = 1e-3; /* however short, it counts */
    struct price price = {0};
    size_t cell = first;
    struct fw_point at = ways->from == FW_NONE ? land->fields[ways->field].gate
                                               : middle_of(land, first);
    if (ways->from == FW_NONE && first != ways->to && ways->waits[first])
        price.over_m += any_step_m;
    for (size_t i = 0; i < count; i++) {
        const size_t next = beyond(ways, doors[i], cell);
        const struct fw_door *of = &land->doors[doors[i]];
        const struct fw_point to = place_of(ways, doors[i], at);
        price.way_m += apart_m(at, to);
        price.over_m += ways->waits[cell] ? apart_m(at, to) : 0;
        price.over_m += next != ways->to && ways->waits[next] ? any_step_m : 0;
        price.narrow += of->to_m - of->from_m < ways->walk.way_m - 1e-6;
        price.openings += is_shut(ways, doors[i]);
        if (next == ways->to && ways->walk.water_door != FW_NONE &&
            ways->walk.water_door != doors[i])
            price.openings += is_shut(ways, ways->walk.water_door);
        at = to;
        cell = next;
    }
    if (ways->to == FW_NONE) {
        const double last_m = apart_m(at, land->fields[ways->field].gate);
        price.way_m += last_m;
        price.over_m += ways->waits[cell] ? last_m : 0;
    }
    return price;
}

static bool is_less(const struct price *a, const struct price *b)
{
    if (fabs(a->over_m - b->over_m) > 1e-5)
        return a->over_m < b->over_m;
    if (a->narrow != b->narrow)
        return a->narrow < b->narrow;
    if (a->openings != b->openings)
        return a->openings < b->openings;
    return a->way_m < b->way_m - 1e-5;
}

/* All of them that come to no cell twice. */
static void try_all(struct ways *ways, size_t first, size_t cell)
{
    const struct fw_land *land = &ways->land;
    if (ways->to == FW_NONE ? land->cells[cell].at_gate : cell == ways->to) {
        const struct price price =
            price_of(ways, first, ways->doors, ways->count);
        if (!ways->found || is_less(&price, &ways->best))
            ways->best = price;
        ways->found = true;
    }
    if (cell == ways->to || ways->count == most_way)
        return;
    ways->been[cell] = true;
    for (size_t d = 0; d < land->door_count; d++) {
        const struct fw_door *of = &land->doors[d];
        if ((of->a != cell && of->b != cell) ||
            ways->been[beyond(ways, d, cell)])
            continue;
        ways->doors[ways->count++] = d;
        try_all(ways, first, beyond(ways, d, cell));
        ways->count--;
    }
    ways->been[cell] = false;
}

static void find_best(struct ways *ways)
{
    ways->found = false;
    ways->count = 0;
    for (size_t c = 0; c < ways->land.cell_count; c++)
        if (ways->from == FW_NONE ? ways->land.cells[c].at_gate &&
                                        ways->land.cells[c].field == ways->field
                                  : c == ways->from)
            try_all(ways, c, c);
}

/* Each that waits on the way is told, itself or one that no fence parts from
 * it; none is told twice. */
static void look_at_cells(const struct ways *ways,
                          const struct fw_moves__way *way)
{
    bool told[most_cells] = {false};
    for (size_t i = 0; i < way->cell_count; i++) {
        const size_t cell = way->cells[i];
        assert_true(is_ungrazed(ways, cell) && cell != ways->from);
        assert_false(told[cell]);
        told[cell] = true;
    }
    size_t cell = way->first;
    for (size_t i = 0; i <= way->door_count; i++) {
        bool named = !ways->waits[cell] || cell == ways->to;
        if (is_ungrazed(ways, cell))
            named = told[cell] || cell == ways->from;
        for (size_t c = 0; !named && c < ways->land.cell_count; c++)
            named = ways->group[c] == ways->group[cell] &&
                    (told[c] || c == ways->from) && is_ungrazed(ways, c);
        assert_true(named);
        if (i < way->door_count)
            cell = beyond(ways, way->doors[i], cell);
    }
    if (ways->to == FW_NONE)
        assert_true(ways->land.cells[cell].at_gate);
    else
        assert_int_equal(cell, ways->to);
}

static void draw_ways(struct ways *ways)
{
    struct hand fields[2] = {0};
    const size_t count = draw_count(1, 2);
    *ways = (struct ways){.field = draw_count(0, count - 1)};
    for (size_t f = 0; f < count; f++)
        do {
            hand_release(&fields[f]);
            fields[f] = draw_field();
            fields[f].gate_given = true;
        } while (fields[f].cell_count > 9);
    hand_land(fields, count, &ways->land);
    const double stands = draw(0, 1), grazed = draw(0, 1);
    for (size_t l = 0; l < ways->land.line_count; l++)
        ways->stands[l] = toss(stands);
    for (size_t c = 0; c < ways->land.cell_count; c++)
        ways->grazed[c] = toss(grazed);
    for (size_t d = 0; d < ways->land.door_count; d++)
        ways->open[d] = toss(0.2);
    const struct fw_land_field *field = &ways->land.fields[ways->field];
    const size_t cells = fw_land_cell_count(&ways->land, ways->field);
    ways->from = toss(0.2) ? FW_NONE
                           : fw_land_cell(&ways->land, ways->field,
                                          draw_count(0, cells - 1));
    ways->to = field->first_paddock + draw_count(0, field->paddock_count - 1);
    if (ways->from != FW_NONE && toss(0.2))
        ways->to = FW_NONE;
    ways->walk = (struct fw_moves__walk){.land = &ways->land,
                                         .stands = ways->stands,
                                         .grazed = ways->grazed,
                                         .open_door = ways->open,
                                         .way_m = draw(1, 25),
                                         .water_door = FW_NONE};
    if (ways->to != FW_NONE && toss(0.3)) {
        const struct fw_cell *cell = &ways->land.cells[ways->to];
        if (cell->door_count > 0)
            ways->walk.water_door =
                ways->land.doors_of[cell->first_door +
                                    draw_count(0, cell->door_count - 1)];
    }
}

static void ways_are_the_best_of_all(void **state)
{
    (void)state;
    const char *given = getenv("FW_SEED");
    static struct ways ways;
    size_t compared = 0, longer = 0;
    for (uint64_t round = 1; round <= rounds; round++) {
        round_seed = given ? strtoull(given, NULL, 10) : round;
        seed = round_seed * 2654435761u + 7;
        struct fw_moves__search *search = NULL;
        draw_ways(&ways);
        assert_int_equal(fw_moves__search_new(&ways.land, &search, NULL),
                         FW_OK);
        /* One search serves for many. */
        for (int again = 0; again < 3; again++) {
            struct fw_moves__way way;
            if (again == 1)
                ways.from = FW_NONE;
            if (again == 2 && ways.to != FW_NONE) {
                ways.from = ways.to;
                ways.to = FW_NONE;
                ways.walk.water_door = FW_NONE;
            }
            find_groups(&ways);
            assert_int_equal(fw_moves__find_way(search, &ways.walk, ways.field,
                                                ways.from, ways.to, &way, NULL),
                             FW_OK);
            find_best(&ways);
            assert_int_equal(way.cells != NULL, ways.found);
            if (ways.found) {
                const struct price price =
                    price_of(&ways, way.first, way.doors, way.door_count);
                look_at_cells(&ways, &way);
                assert_near(way.over_m, price.over_m, 1e-5);
                assert_near(way.way_m, price.way_m, 1e-5);
                assert_false(is_less(&price, &ways.best));
                /* What does not hang on places is the least there is. */
                if (!(ways.best.over_m > 0)) {
                    assert_near(price.over_m, 0, 0);
                    assert_int_equal(price.narrow, ways.best.narrow);
                    assert_int_equal(price.openings, ways.best.openings);
                }
                compared++;
                longer += is_less(&ways.best, &price);
            }
            fw_moves__way_release(&way);
        }
        fw_moves__search_free(search);
        fw_land_release(&ways.land);
        if (given)
            return;
    }
    /* Where they come to a cell decides how far it is to the next, and only
     * the best way to each is gone on from. */
    print_message("# %zu ways, %zu of them not the best\n", compared, longer);
    assert_true(compared > rounds && longer <= compared / 30);
}

/* ---- the queue of cells ---- */

/* Those that are reached are taken again by their price, and of one price by
 * their number; a price may fall meanwhile. */
static void the_nearest_is_taken_first(void **state)
{
    (void)state;
    enum { cells = 20 };
    struct hand hand = {0};
    for (int k = 0; k < cells; k++)
        hand_box(&hand, FW_CELL_PADDOCK, 10 * k, 0, 10 * (k + 1), 50);
    struct fw_land land;
    struct fw_moves__search *search = NULL;
    hand_land(&hand, 1, &land);
    assert_int_equal(fw_moves__search_new(&land, &search, NULL), FW_OK);
    seed = 99;
    for (int round = 1; round <= 300; round++) {
        double price_m[cells];
        bool in[cells] = {false};
        size_t left = 0;
        search->when = (size_t)round;
        search->to = FW_NONE;
        search->heap_count = 0;
        for (int k = 0; k < 60; k++) {
            const size_t cell = draw_count(0, cells - 1);
            const double m = floor(draw(0, 30));
            if (toss(0.7) && !(in[cell] && price_m[cell] <= m)) {
                fw_moves__reach(
                    search, cell,
                    &(struct fw_moves__reach){.cost = {.way_m = m}});
                left += !in[cell];
                in[cell] = true;
                price_m[cell] = m;
                continue;
            }
            size_t least = FW_NONE;
            for (size_t c = 0; c < cells; c++)
                if (in[c] && (least == FW_NONE || price_m[c] < price_m[least]))
                    least = c;
            assert_int_equal(fw_moves__take_first(search), least);
            if (least == FW_NONE)
                continue;
            left--;
            /* Out of it for good, as in a search. */
            in[least] = false;
            search->reaches[least].when = 0;
        }
        assert_int_equal(search->heap_count, left);
    }
    fw_moves__search_free(search);
    fw_land_release(&land);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(ways_are_the_best_of_all, tell_seed),
        cmocka_unit_test(the_nearest_is_taken_first),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
