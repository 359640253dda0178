/* What is said of ways of having water: page, rows and picture read back,
 * against the table that they are of, on the sample's plan. */
#include "read_back.h"
#include "sample_plan.h"
#include "svg_tags.h"

#include "figures/say.h"
#include "haul/placing.h"
#include "report/report.h"
#include "report/water.h"
#include "water/haul.h"
#include "water/pipe.h"
#include "water/water.h"

#include <math.h>
#include <string.h>

struct told {
    struct fw_placing placing;
    struct fw_hauled_table table;
};

/* Six ways of telling of it: without a tank, with one, with a trough that is
 * less, prices, one point, five of them; wet grass and dry. */
enum { tellings = 6 };

static struct told told_of(int i)
{
    struct told told;
    struct fw_error err = {0};
    struct fw_farm_hauling *hauling = &plan->hauling;
    plan->tank_l = i == 0 ? 0 : 600;
    hauling->trough_l = i == 2 || i == 4 ? 400 : 0;
    hauling->road_m = i == 2 ? 1500 : 0;
    hauling->day = (struct fw_drink_day){i == 3 ? FW_AIR_COOL : FW_AIR_UNTOLD,
                                         i == 3   ? 0.85
                                         : i == 5 ? 0.4
                                                  : -1};
    hauling->pipe_price = i == 2 ? 1.4 : 0;
    hauling->trough_price = i == 2 ? 180 : 0;
    plan->units = i == 4 ? FW_US : FW_METRIC;
    if (fw_placing_make(plan, &told.placing, &err) ||
        fw_hauled_make(plan, &told.placing, FW_PLACING_MEAN,
                       i == 1   ? 1
                       : i == 5 ? 5
                                : 3,
                       &told.table, &err))
        fail_msg("%s", err.text);
    /* Walks are not known of this plan; of some they are, and a pipe's way is
     * not; a flock that drinks hardly anything has a store that is as little.
     */
    for (size_t k = 0; k < told.table.count && i >= 3; k++) {
        struct fw_hauled *row = &told.table.rows[k];
        row->walk_mean_m = 40.0 + 17 * (double)k;
        row->walk_max_m = 410.0 - 31 * (double)k;
        row->pipe_m = i == 3 ? (double)NAN : row->pipe_m;
    }
    if (i == 5)
        told.table.drinks.hot_l = 20;
    return told;
}

static const char *name_of(const struct fw_hauled *row, char text[40])
{
    snprintf(text, 40, "%zu point%s", row->points.count,
             row->points.count == 1 ? "" : "s");
    return row->way == FW_HAULED_TODAY  ? "today, as planned"
           : row->way == FW_HAULED_TANK ? "tank twice as large"
           : row->way == FW_HAULED_PIPE ? "pipe to these"
                                        : text;
}

/* ---- the page ---- */

static void drinks_are_read_back(const char *text, const struct told *told)
{
    char words[200], a[FW_SAID], b[FW_SAID], c[FW_SAID];
    for (size_t i = 0; i <= plan->class_count; i++) {
        const bool all = i == plan->class_count;
        struct fw_drinks drinks = told->table.drinks;
        if (!all)
            assert_int_equal(fw_flock_drinks_sum(&plan->classes[i], 1,
                                                 &told->table.day, &drinks,
                                                 NULL),
                             FW_OK);
        snprintf(words, sizeof words, "\n%-26.25s%6d%12s%12s%12s\n",
                 all ? "the flock" : plan->classes[i].name,
                 all ? plan->flock.head : plan->classes[i].head,
                 fw_say_volume(drinks.expected_l, plan->units, a),
                 fw_say_volume(drinks.hot_l, plan->units, b),
                 fw_say_volume(drinks.on_hand_l, plan->units, c));
        has_words(text, words);
    }
}

static void sentences_are_read_back(const char *text, const struct told *told)
{
    const struct fw_hauled_table *table = &told->table;
    const struct fw_drinks *drinks = &table->drinks;
    char words[300], a[FW_SAID], b[FW_SAID], c[FW_SAID];
    snprintf(words, sizeof words, "less what grass of %.0f %% water carries;",
             100 * table->day.grass_water);
    has_words(text, words);
    assert_int_equal(strstr(text, "Wet grass covers these sheep whole") != NULL,
                     drinks->expected_l < 1);
    snprintf(words, sizeof words, "they drink about %s more;",
             fw_say_volume(drinks->mineral_l, plan->units, a));
    has_words(text, words);
    for (int rule = 0; rule < FW_TROUGH_RULES; rule++) {
        struct fw_trough trough;
        fw_water_trough((enum fw_trough_rule)rule, drinks->hot_l,
                        plan->flock.head, plan->hauling.trough_l, &trough);
        snprintf(words, sizeof words,
                 "they drink %s on a hot day, and %s keep up with them%s",
                 fw_say_volume(trough.peak_l_h, plan->units, a),
                 fw_say_flow(trough.refill_l_min, plan->units, b),
                 plan->hauling.trough_l > 0 ? "; a trough of" : ".");
        has_words(text, words);
        if (plan->hauling.trough_l > 0) {
            snprintf(words, sizeof words, "a trough of %s is empty after %s h.",
                     fw_say_volume(plan->hauling.trough_l, plan->units, a),
                     fw_say_number(trough.empty_h, b));
            has_words(text, words);
        }
    }
    snprintf(words, sizeof words, "that may fail: %s (two hot days).",
             fw_say_volume(2 * drinks->hot_l, plan->units, a));
    has_words(text, words);
    if (plan->tank_l > 0) {
        snprintf(words, sizeof words,
                 "A trip brings %s and takes %s minutes, %s of road each way;",
                 fw_say_volume(table->carry_l, plan->units, a),
                 fw_say_number(table->trip_min, b),
                 fw_say_length(fmax(0, plan->hauling.road_m), plan->units, c));
        has_words(text, words);
    } else {
        has_words(text, "Trips are counted when the tank is told");
        has_not(text, "A trip brings");
    }
    assert_int_equal(strstr(text, "The trough is what limits a trip") != NULL,
                     plan->hauling.trough_l > 0 &&
                         plan->hauling.trough_l <= plan->tank_l);
}

static void rows_are_read_back(const char *text, const struct told *told)
{
    for (size_t i = 0; i < told->table.count; i++) {
        const struct fw_hauled *row = &told->table.rows[i];
        char words[400], name[40], trips[20] = "?";
        char of[5][FW_SAID];
        const double values[5] = {row->trips_day, row->minutes_day,
                                  row->walk_mean_m, row->walk_max_m, row->cost};
        for (int k = 0; k < 5; k++)
            if (isnan(values[k]))
                strcpy(of[k], "?");
            else if (k == 2 || k == 3)
                fw_say_length(values[k], plan->units, of[k]);
            else
                fw_say_number(values[k], of[k]);
        if (row->trips >= 0)
            snprintf(trips, sizeof trips, "%d", row->trips);
        snprintf(words, sizeof words, "\n%-20s%7zu%7zu%7s%7s%8s%8s%8s%8s\n",
                 name_of(row, name), row->served, row->shifts, trips, of[0],
                 of[1], of[2], of[3], of[4]);
        has_words(text, words);
        assert_int_equal(isnan(row->trips_day), !(plan->tank_l > 0));
        if (row->way == FW_HAULED_PIPE && isnan(row->pipe_m))
            has_not(text, "The pipe to the points");
        if (row->way != FW_HAULED_PIPE || isnan(row->pipe_m))
            continue;
        snprintf(words, sizeof words, "The pipe to the points is %s, straight",
                 fw_say_length(row->pipe_m, plan->units, of[0]));
        char *flat = strdup(text);
        unfold(flat, 0);
        has_words(flat, words);
        free(flat);
    }
}

/* Each stay is named at the place that is nearest of the chosen ones: four by
 * name, the rest by their number. */
static void points_are_read_back(const char *text, const struct told *told)
{
    const struct fw_placing *placing = &told->placing;
    const struct fw_hauled *best = NULL;
    for (size_t i = 0; i < told->table.count; i++)
        if (told->table.rows[i].way == FW_HAULED_POINTS)
            best = &told->table.rows[i];
    assert_non_null(best);
    char words[400], gate[FW_SAID];
    snprintf(words, sizeof words,
             "Where the %zu stand%s, of %zu places tried%s:",
             best->points.count, best->points.count == 1 ? "s" : "",
             placing->place_count, best->points.exact ? ", none better" : "");
    has_words(text, words);
    for (size_t k = 0; k < best->points.count; k++) {
        const struct fw_placing_place *place =
            &placing->places[best->points.places[k]];
        size_t count = 0;
        char stays[200] = "";
        for (size_t s = 0; s < placing->stay_count; s++) {
            size_t nearest = FW_NONE;
            double least_m = HUGE_VAL;
            for (size_t other = 0; other < best->points.count; other++) {
                const double m = placing->mean_m[s * placing->place_count +
                                                 best->points.places[other]];
                if (m < least_m) {
                    least_m = m;
                    nearest = other;
                }
            }
            if (nearest != k)
                continue;
            if (count++ < 4) {
                strcat(stays, count > 1 ? ", " : "");
                strcat(stays, plan->paddocks[plan->time.stays[s].cell].id);
            }
        }
        if (count > 4)
            snprintf(stays + strlen(stays), 60, " and %zu more stays",
                     count - 4);
        snprintf(words, sizeof words,
                 "%zu. at end %s of %s in %s, %s from the gate: serves %s.",
                 k + 1, place->end_b ? "B" : "A", plan->fences[place->fence].id,
                 plan->fields[place->field].name,
                 fw_say_length(place->gate_m, plan->units, gate), stays);
        assert_true(place->fence != FW_NONE && place->gate_m > 0);
        has_words(text, words);
    }
    snprintf(words, sizeof words,
             "%zu of %zu stays are served by none of them: there the trough "
             "moves as planned. All stays that any of the places serves are "
             "%zu.",
             placing->stay_count - best->served, placing->stay_count,
             best->points.servable);
    assert_true(best->served < placing->stay_count);
    has_words(text, words);
}

static void the_page_has_what_the_table_has(void **state)
{
    (void)state;
    for (int i = 0; i < tellings; i++) {
        struct told told = told_of(i);
        char *text = NULL;
        assert_int_equal(
            fw_report_water(plan, &told.placing, &told.table, &text, NULL),
            FW_OK);
        is_set_as_a_page(text, 80);
        has_words(text, "head    expected     hot day     on hand\n");
        has_words(
            text,
            "stays trough  trips  a day minutes    walk longest    cost\n");
        has_words(
            text,
            "served shifts in all          a day    mean    walk  to buy\n");
        drinks_are_read_back(text, &told);
        rows_are_read_back(text, &told);
        const char *far = fw_water_distance_word(told.table.rows[0].walk_max_m);
        assert_int_equal(strstr(text, "Today's longest walk is") != NULL,
                         far != NULL);
        unfold(text, 0);
        has_words(text, "Local codes, the maker's instructions");
        has_words(text, "a hot day is extreme heat on drier grass, and what to "
                        "have on hand counts no grass.");
        has_words(text, "Print differs so, for dry sheep fivefold; take the "
                        "one that your sheep keep to.");
        has_words(text, "A trough under a line serves both sides of it, and at "
                        "a junction all that meet there:");
        has_words(text, "Look at the water twice a day in heat, whatever this "
                        "sum says.");
        sentences_are_read_back(text, &told);
        points_are_read_back(text, &told);
        fw_bytes_free(text);
        fw_placing_release(&told.placing);
    }
}

/* Without a place at ground that the flock has, that is said. */
static void no_place_is_said(void **state)
{
    (void)state;
    struct told told = told_of(1);
    char *text = NULL;
    for (size_t count = 0; count < 2; count++) {
        told.table.count = count;
        told.table.rows[0].walk_max_m = count ? (double)NAN : 9000;
        assert_int_equal(
            fw_report_water(plan, &told.placing, &told.table, &text, NULL),
            FW_OK);
        unfold(text, 0);
        has_words(text, "No junction of fences, gate or water of this plan is "
                        "at ground that the flock has on a day.");
        has_not(text, "places tried");
        has_not(text, "Today's longest walk");
        fw_bytes_free(text);
    }
    fw_placing_release(&told.placing);
}

/* ---- for machines ---- */

static void rows_for_machines_have_the_figures(void **state)
{
    (void)state;
    for (int i = 0; i < tellings; i++) {
        struct told told = told_of(i);
        const struct fw_hauled_table *table = &told.table;
        const struct fw_drinks *all = &table->drinks;
        char *text = NULL;
        assert_int_equal(
            fw_report_water_json(plan, &told.placing, table, &text, NULL),
            FW_OK);
        struct json_object *root = parsed(text);
        struct json_object *drinks = of(root, "drinks");
        is_number(drinks, "need_l", all->need_l);
        is_number(drinks, "expected_l", all->expected_l);
        is_number(drinks, "hot_l", all->hot_l);
        is_number(drinks, "on_hand_l", all->on_hand_l);
        is_number(drinks, "mineral_l", all->mineral_l);
        for (size_t rule = 0; rule < FW_TROUGH_RULES; rule++) {
            struct fw_trough trough;
            struct json_object *of_rule = at(of(root, "troughs"), rule);
            fw_water_trough((enum fw_trough_rule)rule, all->hot_l,
                            plan->flock.head, plan->hauling.trough_l, &trough);
            is_text(of_rule, "rule",
                    fw_water_trough_rule((enum fw_trough_rule)rule));
            is_number(of_rule, "peak_l_h", trough.peak_l_h);
            is_number(of_rule, "refill_l_min", trough.refill_l_min);
            is_number(of_rule, "empty_h", trough.empty_h);
        }
        is_number(root, "stays", (double)told.placing.stay_count);
        is_number(root, "places", (double)told.placing.place_count);
        is_number(root, "days", table->days);
        is_number(root, "carry_l", table->carry_l);
        is_number(root, "trip_min", table->trip_min);
        is_number(of(root, "road"), "way_m", i == 2 ? 1500 : (double)NAN);
        if (i == 2)
            is_text(of(root, "road"), "by", "told");
        else
            assert_null(of(of(root, "road"), "by"));
        is_number(of(root, "frost"), "hauls", table->frost.hauls);
        is_number(of(root, "frost"), "each_l", table->frost.each_l);
        is_number(of(root, "frost"), "minutes", table->frost.minutes);
        assert_int_equal(json_object_array_length(of(root, "rows")),
                         table->count);
        for (size_t k = 0; k < table->count; k++) {
            const struct fw_hauled *row = &table->rows[k];
            struct json_object *of_row = at(of(root, "rows"), k);
            char name[40];
            is_text(of_row, "way", name_of(row, name));
            is_number(of_row, "served", (double)row->served);
            is_number(of_row, "shifts", (double)row->shifts);
            is_number(of_row, "trips",
                      row->trips < 0 ? (double)NAN : row->trips);
            is_number(of_row, "trips_day", row->trips_day);
            is_number(of_row, "minutes_day", row->minutes_day);
            is_number(of_row, "walk_mean_m", row->walk_mean_m);
            is_number(of_row, "walk_max_m", row->walk_max_m);
            is_number(of_row, "pipe_m", row->pipe_m);
            is_number(of_row, "cost", row->cost);
            is_flag(of_row, "exact",
                    row->points.count == 0 || row->points.exact);
            is_number(of_row, "value", row->points.value);
            is_number(of_row, "bound", row->points.bound);
            struct json_object *points = of(of_row, "points");
            assert_int_equal(json_object_array_length(points),
                             row->points.count);
            for (size_t p = 0; p < row->points.count; p++) {
                const struct fw_placing_place *place =
                    &told.placing.places[row->points.places[p]];
                const bool on = place->fence != FW_NONE;
                struct json_object *point = at(points, p);
                is_text(point, "field", plan->fields[place->field].name);
                is_text(point, "fence",
                        on ? plan->fences[place->fence].id : NULL);
                is_text(point, "end", !on ? NULL : place->end_b ? "B" : "A");
                is_number(point, "x_m", place->at.x_m);
                is_number(point, "y_m", place->at.y_m);
                is_number(point, "gate_m", place->gate_m);
            }
        }
        json_object_put(root);
        fw_bytes_free(text);
        fw_placing_release(&told.placing);
    }
}

/* ---- the picture ---- */

/* Five panels, a bar a way in each, as long as its share of the panel's
 * greatest; the first one grey; what is not known has words and no bar. */
static void bars_are_as_long_as_their_share(void **state)
{
    (void)state;
    for (int i = 0; i < tellings; i++) {
        struct told told = told_of(i);
        const struct fw_hauled_table *table = &told.table;
        char *svg = NULL;
        size_t bars = 0;
        assert_int_equal(fw_report_water_svg(plan, table, &svg, NULL), FW_OK);
        const char *at_bar = svg, *last = svg;
        char size[80];
        snprintf(size, sizeof size, "viewBox=\"0 0 %d %d\"", 190 + 5 * 190,
                 76 + 34 * (int)table->count + 24);
        has_words(svg, size);
        has_words(svg, "Ways of having water, today's first");
        static const char *const heads[] = {"trips in all", "minutes a day",
                                            "mean walk", "longest walk",
                                            "to buy"};
        for (int k = 0; k < 5; k++) {
            snprintf(size, sizeof size, "<text x=\"%.1f\" y=\"62.0\"",
                     190 + 190.0 * k);
            const char *head = strchr(after(svg, size), '>') + 1;
            assert_memory_equal(head, heads[k], strlen(heads[k]));
        }
        for (size_t row = 0; row < table->count; row++) {
            char name[40];
            snprintf(size, sizeof size, "<text x=\"24.0\" y=\"%.1f\"",
                     91 + 34.0 * (double)row);
            const char *words = strchr(after(svg, size), '>') + 1;
            const char *wanted = name_of(&table->rows[row], name);
            assert_memory_equal(words, wanted, strlen(wanted));
        }
        for (size_t row = 0; row < table->count; row++)
            for (size_t panel = 0; panel < 5; panel++) {
                double values[20], most = 0;
                for (size_t k = 0; k < table->count; k++) {
                    const struct fw_hauled *of = &table->rows[k];
                    const double all[5] = {of->trips < 0 ? (double)NAN
                                                         : of->trips,
                                           of->minutes_day, of->walk_mean_m,
                                           of->walk_max_m, of->cost};
                    values[k] = all[panel];
                    most = fmax(most, values[k]);
                }
                if (isnan(values[row]))
                    continue;
                bars++;
                char place[60];
                snprintf(place, sizeof place, "<rect x=\"%.1f\" y=\"%.1f\" ",
                         190 + 190.0 * (double)panel, 76 + 34.0 * (double)row);
                at_bar = after(svg, place);
                assert_near(number(at_bar, "width"),
                            most > 0 ? 150 * values[row] / most : 0, 0.06);
                assert_true(
                    has(at_bar, "fill", row == 0 ? "#8a8a8a" : "#4a7fb5"));
                char words[FW_SAID];
                assert_near(number(at_bar, "height"), 20, 0);
                last = strstr(at_bar, "<text");
                assert_near(number(last, "x"), 194 + 190.0 * (double)panel, 0);
                assert_near(number(last, "y"), 91 + 34.0 * (double)row, 0);
                if (panel == 2 || panel == 3)
                    fw_say_length(values[row], plan->units, words);
                else
                    fw_say_number(values[row], words);
                last = strchr(last, '>') + 1;
                assert_memory_equal(last, words, strlen(words));
            }
        assert_int_equal(times(svg, "not known"), 5 * table->count - bars);
        assert_int_equal(times(svg, "<rect"), bars + times(svg, "<rect width"));
        fw_bytes_free(svg);
        fw_placing_release(&told.placing);
    }
}

/* ---- one pipe ---- */

static struct fw_pipe pipe_of(int i)
{
    static const double heads[] = {(double)NAN, 12, 3, 1, 40, 2.05};
    static const double flows[] = {19, 30, 60};
    return (struct fw_pipe){.length_m = i % 2 ? 300 : 900,
                            .bore_m = i % 4 < 2 ? 0.0266446 : 0.032,
                            .flow_l_min = flows[i % 3],
                            .c = 140,
                            .head_m = heads[i % 6],
                            .valve_m = fw_water_head_m(20)};
}

static const char *bore_words(double m, enum fw_units units, char text[80])
{
    char number[FW_SAID];
    snprintf(text, 80, "%s %s",
             fw_say_number(units == FW_US ? m / 0.0254 : m * 1000, number),
             units == FW_US ? "in" : "mm");
    return text;
}

static const char *bar_words(double head_m, enum fw_units units,
                             char text[FW_SAID])
{
    return fw_say_pressure(fw_water_kpa(head_m), units, text);
}

static void size_is_read_back(const char *text, struct fw_pipe pipe,
                              const char *name, enum fw_units units)
{
    struct fw_pipe_run run;
    char words[300], end[120] = "", a[80], b[FW_SAID], c[FW_SAID], d[FW_SAID];
    assert_int_equal(fw_water_pipe(&pipe, &run, NULL), FW_OK);
    if (!isnan(run.left_m))
        snprintf(end, sizeof end, "%-12s%-14s",
                 run.left_m > 0 ? bar_words(run.left_m, units, b) : "none",
                 fw_say_flow(run.most_l_min, units, c));
    char loss[FW_SAID];
    snprintf(words, sizeof words, "\n%-10s%-10s%-11s%-11s%s%s\n", name,
             bore_words(pipe.bore_m, units, a),
             bar_words(run.head_loss_m, units, loss),
             fw_say_speed(run.velocity_m_s, units, d), end,
             !run.slow                    ? "too fast"
             : isnan(run.left_m)          ? "slow enough"
             : run.left_m >= pipe.valve_m ? "enough"
                                          : "too little");
    has_words(text, words);
}

static void pipe_is_read_back(const char *text, const struct fw_pipe *pipe,
                              enum fw_units units)
{
    struct fw_pipe_run run;
    char words[400], a[80], b[FW_SAID], c[FW_SAID], d[FW_SAID], e[FW_SAID];
    assert_int_equal(fw_water_pipe(pipe, &run, NULL), FW_OK);
    snprintf(words, sizeof words,
             "%s of pipe, %s inside, C %g: at %s it loses %s of head (%s) and "
             "runs at ",
             fw_say_length(pipe->length_m, units, b),
             bore_words(pipe->bore_m, units, a), pipe->c,
             fw_say_flow(pipe->flow_l_min, units, c),
             fw_say_length(run.head_loss_m, units, d),
             bar_words(run.head_loss_m, units, e));
    has_words(text, words);
    assert_int_equal(strstr(text, "That is faster than") != NULL, !run.slow);
    const bool known = !isnan(pipe->head_m);
    snprintf(words, sizeof words,
             "the source stands %s higher than the "
             "trough, or has %s there.",
             fw_say_length(run.head_loss_m + pipe->valve_m, units, b),
             bar_words(run.head_loss_m + pipe->valve_m, units, c));
    assert_int_equal(strstr(text, words) != NULL, !known);
    snprintf(words, sizeof words,
             "The valve wants %s and has %s. At most it "
             "brings %s.",
             bar_words(pipe->valve_m, units, b),
             bar_words(known ? run.left_m : 0, units, c),
             fw_say_flow(known ? run.most_l_min : 0, units, d));
    assert_int_equal(strstr(text, words) != NULL,
                     known && run.left_m >= pipe->valve_m);
    assert_int_equal(strstr(text, "It cannot bring that:") != NULL,
                     known && run.left_m < pipe->valve_m &&
                         pipe->head_m > pipe->valve_m);
    snprintf(words, sizeof words, "While the valve is shut the pipe bears %s.",
             bar_words(known ? pipe->head_m : 0, units, b));
    assert_int_equal(strstr(text, words) != NULL, known && pipe->head_m > 0);
}

static void which_is_enough_is_read_back(const char *text,
                                         const struct fw_pipe *pipe,
                                         enum fw_units units)
{
    const bool known = !isnan(pipe->head_m);
    const size_t count = fw_water_pipe_sizes();
    char words[300], a[80], b[FW_SAID], c[FW_SAID];
    size_t least = count;
    struct fw_pipe_run runs[20];
    for (size_t i = count; i-- > 0;) {
        struct fw_pipe other = *pipe;
        other.bore_m = fw_water_pipe_size(i).bore_m;
        assert_int_equal(fw_water_pipe(&other, &runs[i], NULL), FW_OK);
        if (runs[i].enough)
            least = i;
    }
    const bool low = known && pipe->head_m <= pipe->valve_m;
    snprintf(words, sizeof words,
             "It takes a source %s higher, or a pump with %s more.",
             fw_say_length(low ? pipe->valve_m - pipe->head_m +
                                     runs[count - 1].head_loss_m
                               : 1,
                           units, b),
             bar_words(low ? pipe->valve_m - pipe->head_m +
                                 runs[count - 1].head_loss_m
                           : 1,
                       units, c));
    assert_int_equal(strstr(text, words) != NULL, low);
    assert_int_equal(strstr(text, "None of these pipes is enough") != NULL,
                     !low && least == count);
    if (low || least == count)
        return;
    const struct fw_pipe_size size = fw_water_pipe_size(least);
    snprintf(words, sizeof words, "%s %s pipe, %s inside.",
             known ? "Enough is" : "No faster than it should run is", size.name,
             bore_words(size.bore_m, units, a));
    has_words(text, words);
    assert_int_equal(strstr(text,
                            "Which is enough hangs on how much higher "
                            "the source stands, or its pressure:") != NULL,
                     !known);
    if (least + 1 == count) {
        has_not(text, "The next one up");
        return;
    }
    snprintf(words, sizeof words, "The next one up, %s, loses %s less%s",
             fw_water_pipe_size(least + 1).name,
             bar_words(runs[least].head_loss_m - runs[least + 1].head_loss_m,
                       units, b),
             known ? " and brings up to " : ".");
    has_words(text, words);
    if (known)
        has_words(text, fw_say_flow(runs[least + 1].most_l_min, units, c));
}

static void a_pipe_is_said_with_each_bore_that_is_sold(void **state)
{
    (void)state;
    int low = 0, none = 0, enough = 0;
    for (int i = 0; i < 36; i++) {
        struct fw_pipe pipe = pipe_of(i);
        const enum fw_units units = i < 18 ? FW_METRIC : FW_US;
        char *text = NULL;
        pipe.length_m *= i % 5 == 4 ? 10 : 1;
        assert_int_equal(fw_report_water_pipe(&pipe, units, &text, NULL),
                         FW_OK);
        bool sold = false;
        is_set_as_a_page(text, 78);
        has_words(text, isnan(pipe.head_m)
                            ? "\npipe      inside    loss       speed\n"
                            : "\npipe      inside    loss       speed      at "
                              "valve    at most\n");
        for (size_t k = 0; k < fw_water_pipe_sizes(); k++) {
            struct fw_pipe other = pipe;
            other.bore_m = fw_water_pipe_size(k).bore_m;
            sold |= fabs(other.bore_m - pipe.bore_m) < 1e-6;
            size_is_read_back(text, other, fw_water_pipe_size(k).name, units);
        }
        assert_int_equal(strstr(text, "this one") != NULL, !sold);
        if (!sold)
            size_is_read_back(text, pipe, "this one", units);
        assert_int_equal(strstr(text, "at valve    at most") != NULL,
                         !isnan(pipe.head_m));
        unfold(text, 0);
        has_words(text, "Local codes, the maker's instructions");
        has_words(text, "This checked a sum for a straight new pipe, not the "
                        "pipe:");
        pipe_is_read_back(text, &pipe, units);
        which_is_enough_is_read_back(text, &pipe, units);
        low += strstr(text, "No pipe fills this trough") != NULL;
        none += strstr(text, "None of these pipes") != NULL;
        enough += strstr(text, "Enough is") != NULL;
        fw_bytes_free(text);
    }
    assert_true(low > 2 && none > 2 && enough > 2);
}

static void a_pipe_for_machines_has_the_figures(void **state)
{
    (void)state;
    for (int i = 0; i < 18; i++) {
        const struct fw_pipe pipe = pipe_of(i);
        char *text = NULL;
        assert_int_equal(fw_report_water_pipe_json(&pipe, &text, NULL), FW_OK);
        struct json_object *root = parsed(text);
        is_number(root, "length_m", pipe.length_m);
        is_number(root, "flow_l_min", pipe.flow_l_min);
        is_number(root, "c", pipe.c);
        is_number(root, "head_m", pipe.head_m);
        is_number(root, "valve_wants_kpa", fw_water_kpa(pipe.valve_m));
        for (size_t k = 0; k <= fw_water_pipe_sizes(); k++) {
            const bool own = k == fw_water_pipe_sizes();
            struct json_object *row = own ? root : at(of(root, "sizes"), k);
            struct fw_pipe other = pipe;
            struct fw_pipe_run run;
            if (!own) {
                other.bore_m = fw_water_pipe_size(k).bore_m;
                is_text(row, "name", fw_water_pipe_size(k).name);
            }
            assert_int_equal(fw_water_pipe(&other, &run, NULL), FW_OK);
            is_number(row, "bore_m", other.bore_m);
            is_number(row, "head_loss_m", run.head_loss_m);
            is_number(row, "velocity_m_s", run.velocity_m_s);
            is_number(row, "valve_has_kpa", fw_water_kpa(run.left_m));
            is_number(row, "most_l_min", run.most_l_min);
            if (isnan(run.left_m) && run.slow)
                assert_null(of(row, "enough"));
            else
                is_flag(row, "enough", run.enough);
        }
        assert_int_equal(json_object_array_length(of(root, "sizes")),
                         fw_water_pipe_sizes());
        json_object_put(root);
        fw_bytes_free(text);
    }
    struct fw_pipe bad = pipe_of(0);
    char *text = NULL;
    bad.length_m = -1;
    assert_int_equal(fw_report_water_pipe_json(&bad, &text, NULL), FW_EINPUT);
    assert_int_equal(fw_report_water_pipe(&bad, FW_METRIC, &text, NULL),
                     FW_EINPUT);
    assert_null(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_page_has_what_the_table_has),
        cmocka_unit_test(no_place_is_said),
        cmocka_unit_test(rows_for_machines_have_the_figures),
        cmocka_unit_test(bars_are_as_long_as_their_share),
        cmocka_unit_test(a_pipe_is_said_with_each_bore_that_is_sold),
        cmocka_unit_test(a_pipe_for_machines_has_the_figures),
    };
    return cmocka_run_group_tests(tests, read_sample, free_sample);
}
