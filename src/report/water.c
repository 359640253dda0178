#include "report/water.h"

#include "figures/flock.h"
#include "figures/water.h"
#include "flock/drinks.h"
#include "haul/haul.h"
#include "report/report.h"
#include "water/haul.h"
#include "water/water.h"

#include <math.h>
#include <stdio.h>

const char *fw_report_hauled_name(const struct fw_hauled *row,
                                  char text[FW_WORDS])
{
    switch (row->way) {
    case FW_HAULED_TODAY:
        return "today, as planned";
    case FW_HAULED_TANK:
        return "tank twice as large";
    case FW_HAULED_PIPE:
        return "pipe to these";
    default:
        fw_text_format(text, FW_WORDS, "%zu point%s", row->points.count,
                       row->points.count == 1 ? "" : "s");
        return text;
    }
}

/* ---- what they drink ---- */

static void drinks_row(struct fw_text *text, const char *name, int head,
                       const struct fw_drinks *drinks, enum fw_units units)
{
    char expected[FW_WORDS], hot[FW_WORDS], on_hand[FW_WORDS], head_words[24];
    snprintf(head_words, sizeof head_words, "%d", head);
    fw_text_addf(text, "%-26.25s%6s%12s%12s%12s\n", name, head_words,
                 fw_report_volume(drinks->expected_l, units, expected),
                 fw_report_volume(drinks->hot_l, units, hot),
                 fw_report_volume(drinks->on_hand_l, units, on_hand));
}

/* The heads of a class together. */
static struct fw_drinks of_class(const struct fw_plan *plan, size_t i,
                                 const struct fw_drink_day *day)
{
    struct fw_drinks drinks = {0};
    fw_flock_drinks_sum(&plan->classes[i], 1, day, &drinks, NULL);
    return drinks;
}

static void say_drinks(struct fw_text *text, const struct fw_plan *plan,
                       const struct fw_hauled_table *table)
{
    struct fw_text words = {0};
    char more[FW_WORDS], air[FW_WORDS];
    const struct fw_drinks *all = &table->drinks;
    fw_text_addf(text, "%-26s%6s%12s%12s%12s\n", "a day", "head", "expected",
                 "hot day", "on hand");
    if (plan->class_count > 1)
        for (size_t i = 0; i < plan->class_count; i++) {
            const struct fw_drinks drinks = of_class(plan, i, &table->day);
            drinks_row(text, plan->classes[i].name, plan->classes[i].head,
                       &drinks, plan->units);
        }
    drinks_row(text, "the flock", plan->flock.head, all, plan->units);
    fw_text_add(text, "\n");
    fw_text_addf(&words,
                 "Expected is their need on a day of %s less what grass of "
                 "%.0f %% water carries; ",
                 fw_say_words(fw_flock_air(table->day.air), plan->units, air,
                              sizeof air),
                 100 * table->day.grass_water);
    fw_text_add(&words,
                "a hot day is extreme heat on drier grass, and what to have on "
                "hand counts no grass. ");
    if (all->expected_l < 1)
        fw_text_add(&words, "Wet grass covers these sheep whole, so that they "
                            "may hardly come; the stock of water stands by "
                            "for the day when they do. ");
    fw_text_addf(&words,
                 "Where salt or mineral is put out they drink about %s more; "
                 "put it out after the haul, and never where water can run "
                 "out.",
                 fw_report_volume(all->mineral_l, plan->units, more));
    fw_report__fold_text(text, 0, &words);
}

/* ---- the trough ---- */

static void say_trough(struct fw_text *text, const struct fw_plan *plan,
                       const struct fw_drinks *all)
{
    char peak[FW_WORDS], refill[FW_WORDS], hours[FW_WORDS], size[FW_WORDS];
    fw_text_add(text, "\n");
    for (int rule = 0; rule < FW_TROUGH_RULES; rule++) {
        struct fw_trough trough;
        struct fw_text words = {0};
        fw_water_trough((enum fw_trough_rule)rule, all->hot_l, plan->flock.head,
                        plan->hauling.trough_l, &trough);
        fw_text_addf(&words,
                     "By %s: in the hour when most come they drink %s on a hot "
                     "day, and %s keep up with them",
                     fw_water_trough_rule((enum fw_trough_rule)rule),
                     fw_report_volume(trough.peak_l_h, plan->units, peak),
                     fw_say_flow(trough.refill_l_min, plan->units, refill));
        if (!isnan(trough.empty_h))
            fw_text_addf(
                &words, "; a trough of %s is empty after %s h",
                fw_report_volume(plan->hauling.trough_l, plan->units, size),
                fw_report_number(trough.empty_h, hours));
        fw_text_add(&words, ".");
        fw_report__fold_text(text, 0, &words);
    }
    struct fw_text words = {0};
    fw_text_addf(
        &words,
        "Print differs so, for dry sheep fivefold; take the one that "
        "your sheep keep to. Stored for a source that may fail: %s (two hot "
        "days).",
        fw_report_volume(fw_water_stored_l(all->hot_l, 0), plan->units, peak));
    fw_report__fold_text(text, 0, &words);
}

/* ---- the ways side by side ---- */

static const char *plain(double value, char text[FW_WORDS])
{
    return isnan(value) ? "?" : fw_report_number(value, text);
}

static const char *metres(double value, enum fw_units units,
                          char text[FW_WORDS])
{
    return isnan(value) ? "?" : fw_report_length(value, units, text);
}

static void add_row(struct fw_text *text, const struct fw_plan *plan,
                    const struct fw_hauled *row)
{
    char name[FW_WORDS], trips[FW_WORDS], minutes[FW_WORDS], mean[FW_WORDS],
        longest[FW_WORDS], cost[FW_WORDS], all[24] = "?";
    if (row->trips >= 0)
        snprintf(all, sizeof all, "%d", row->trips);
    fw_text_addf(
        text, "%-20s%7zu%7zu%7s%7s%8s%8s%8s%8s\n",
        fw_report_hauled_name(row, name), row->served, row->shifts, all,
        plain(row->trips_day, trips), plain(row->minutes_day, minutes),
        metres(row->walk_mean_m, plan->units, mean),
        metres(row->walk_max_m, plan->units, longest), plain(row->cost, cost));
}

static void say_frost(struct fw_text *words, const struct fw_plan *plan,
                      const struct fw_hauled_table *table)
{
    const struct fw_frost *frost = &table->frost;
    char each[FW_WORDS], minutes[FW_WORDS];
    if (isnan(table->carry_l))
        return;
    fw_text_addf(words,
                 " On a day of frost bring it in %d hauls of %s, %s minutes of "
                 "road and filling; drain the hose after each and break the "
                 "ice each time.",
                 frost->hauls,
                 fw_report_volume(frost->each_l, plan->units, each),
                 fw_report_number(frost->minutes, minutes));
}

static void say_table(struct fw_text *text, const struct fw_plan *plan,
                      const struct fw_hauled_table *table)
{
    struct fw_text words = {0};
    char carry[FW_WORDS], trip[FW_WORDS], road[FW_WORDS];
    fw_text_addf(text, "\n%-20s%7s%7s%7s%7s%8s%8s%8s%8s\n", "", "stays",
                 "trough", "trips", "a day", "minutes", "walk", "longest",
                 "cost");
    fw_text_addf(text, "%-20s%7s%7s%7s%7s%8s%8s%8s%8s\n", "", "served",
                 "shifts", "in all", "", "a day", "mean", "walk", "to buy");
    for (size_t i = 0; i < table->count; i++)
        add_row(text, plan, &table->rows[i]);
    fw_text_add(text, "\n");
    if (isnan(table->carry_l))
        fw_text_add(&words, "Trips are counted when the tank is told "
                            "(hauling.tank, --tank 600L).");
    else
        fw_text_addf(&words,
                     "A trip brings %s and takes %s minutes, %s of road each "
                     "way%s; trips follow the expected day.",
                     fw_report_volume(table->carry_l, plan->units, carry),
                     fw_report_number(table->trip_min, trip),
                     fw_report_length(table->road_m, plan->units, road),
                     table->by_tracks ? " by the tracks of the maps" : "");
    say_frost(&words, plan, table);
    if (plan->hauling.trough_l > 0 && table->carry_l >= plan->hauling.trough_l)
        fw_text_add(&words, " The trough is what limits a trip: a larger tank "
                            "saves nothing, a larger trough does.");
    for (size_t i = 0; i < table->count; i++)
        if (table->rows[i].way == FW_HAULED_PIPE &&
            !isnan(table->rows[i].pipe_m))
            fw_text_addf(
                &words,
                " The pipe to the points is %s, straight from the "
                "water or the gate and between them.",
                fw_report_length(table->rows[i].pipe_m, plan->units, carry));
    fw_report__fold_text(text, 0, &words);
}

/* ---- where the points are ---- */

static void say_stays(struct fw_text *words, const struct fw_plan *plan,
                      const struct fw_placing *placing,
                      const struct fw_hauled_table *table,
                      const struct fw_points_chosen *chosen, size_t place)
{
    enum { named = 4 };
    size_t count = 0;
    for (size_t s = 0; s < placing->stay_count; s++) {
        if (fw_hauled_server(plan, placing, table, chosen, s) != place)
            continue;
        if (count < named)
            fw_text_addf(words, "%s%s", count ? ", " : "",
                         plan->paddocks[plan->time.stays[s].cell].id);
        count++;
    }
    if (count > named)
        fw_text_addf(words, " and %zu more stays", count - named);
}

static void say_point(struct fw_text *text, const struct fw_plan *plan,
                      const struct fw_placing *placing,
                      const struct fw_hauled_table *table,
                      const struct fw_points_chosen *chosen, size_t index)
{
    const struct fw_placing_place *place =
        &placing->places[chosen->places[index]];
    struct fw_text words = {0};
    char gate[FW_WORDS];
    fw_text_addf(&words, "%zu. ", index + 1);
    if (place->fence != FW_NONE)
        fw_text_addf(&words, "at end %s of %s", place->end_b ? "B" : "A",
                     plan->fences[place->fence].id);
    else
        fw_text_add(&words, place->is_water ? "the water that there is"
                            : place->middle ? "in the middle of the field"
                                            : "at the gate or the water told");
    if (plan->field_count > 1)
        fw_text_addf(&words, " in %s", plan->fields[place->field].name);
    if (place->gate_m > 0)
        fw_text_addf(&words, ", %s from the gate",
                     fw_report_length(place->gate_m, plan->units, gate));
    fw_text_add(&words, ": serves ");
    say_stays(&words, plan, placing, table, chosen, chosen->places[index]);
    fw_text_add(&words, ".");
    fw_report__fold_text(text, 3, &words);
}

static void say_points(struct fw_text *text, const struct fw_plan *plan,
                       const struct fw_placing *placing,
                       const struct fw_hauled_table *table)
{
    const struct fw_hauled *best = NULL;
    for (size_t i = 0; i < table->count; i++)
        if (table->rows[i].way == FW_HAULED_POINTS)
            best = &table->rows[i];
    if (!best) {
        fw_report_fold(text, 0,
                       "No junction of fences, gate or water of this plan is "
                       "at ground that the flock has on a day.");
        return;
    }
    struct fw_text words = {0};
    fw_text_addf(&words, "Where the %zu stand%s, of %zu places tried%s:",
                 best->points.count, best->points.count == 1 ? "s" : "",
                 placing->place_count,
                 best->points.exact ? ", none better" : "");
    fw_text_add(text, "\n");
    fw_report__fold_text(text, 0, &words);
    for (size_t i = 0; i < best->points.count; i++)
        say_point(text, plan, placing, table, &best->points, i);
    if (best->served < placing->stay_count && table->by == FW_PLACING_MINUTES) {
        fw_text_addf(&words, "In %zu of %zu stays the trough moves as planned.",
                     placing->stay_count - best->served, placing->stay_count);
        fw_report__fold_text(text, 0, &words);
    } else if (best->served < placing->stay_count) {
        fw_text_addf(&words,
                     "%zu of %zu stays are served by none of them: there the "
                     "trough moves as planned. All stays that any of the "
                     "places serves are %zu.",
                     placing->stay_count - best->served, placing->stay_count,
                     best->points.servable);
        fw_report__fold_text(text, 0, &words);
    }
    fw_report_fold(text, 0,
                   "A trough under a line serves both sides of it, and at a "
                   "junction all that meet there: sleeve the wires over it "
                   "for 2 m or raise them to 90 cm (common practice), keep "
                   "any other trough out of reach of a hot wire, and never "
                   "put one in a hollow or an opening.");
}

static void say_far(struct fw_text *text, const struct fw_hauled_table *table)
{
    struct fw_text words = {0};
    const char *far = table->count > 0
                          ? fw_water_distance_word(table->rows[0].walk_max_m)
                          : NULL;
    if (!far)
        return;
    fw_text_addf(&words, "Today's longest walk is %s.", far);
    fw_report__fold_text(text, 0, &words);
}

enum fw_status fw_report_water(const struct fw_plan *plan,
                               const struct fw_placing *placing,
                               const struct fw_hauled_table *table, char **out,
                               struct fw_error *err)
{
    struct fw_text text = {0};
    fw_report_first(&text);
    say_drinks(&text, plan, table);
    say_trough(&text, plan, &table->drinks);
    say_table(&text, plan, table);
    say_far(&text, table);
    say_points(&text, plan, placing, table);
    fw_report_fold(&text, 0,
                   "Look at the water twice a day in heat, whatever this sum "
                   "says.");
    return fw_report_give(&text, out, NULL, err);
}
