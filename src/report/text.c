/* The report that a shepherd reads in a minute: first what is dangerous, then
 * today, then the plan, and last what was taken for granted. */
#include "report/report.h"

#include "base/fail.h"
#include "crs/crs.h"
#include "plan/words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void title(struct fw_text *text, const struct fw_plan *plan, bool colour)
{
    char from[FW_WORDS], to[FW_WORDS];
    struct fw_text words = {0};
    fw_text_addf(&words, "%s: %zu paddock%s, %s to %s", plan->farm_name,
                 fw_plan_first_stays(plan),
                 fw_plan_first_stays(plan) == 1 ? "" : "s",
                 fw_report_day(plan->start_day, false, from),
                 fw_report_day(plan->end_day, true, to));
    fw_report__heading_text(text, colour, &words);
    const struct fw_plan ahead = fw_plan_ahead(plan);
    fw_report__ungrown(text, &ahead);
    fw_text_add(text, "\n");
}

static void today(struct fw_text *text, const struct fw_plan *plan, bool colour)
{
    struct fw_text words = {0};
    const size_t next = fw_plan_next_move(plan);
    fw_text_add(&words, next > 0 ? "NEXT MOVE, " : "FIRST MOVE, ");
    fw_report_move_title(&words, plan, next);
    fw_report__heading_text(text, colour, &words);
    fw_report__steps(text, plan, next, true);
    fw_text_add(text, "\n");
}

/* A field that has no plan is told before all else. */
static void unplanned(struct fw_text *text, const struct fw_plan *plan)
{
    bool any = false;
    for (size_t i = 0; i < plan->field_count; i++) {
        const struct fw_plan_field *field = &plan->fields[i];
        if (field->no_plan)
            fw_report__no_plan(text, field->name, field->no_plan);
        any |= field->no_plan != NULL;
    }
    if (any)
        fw_text_add(text, "\n");
}

static void flock(struct fw_text *text, const struct fw_plan *plan, bool all)
{
    char demand[FW_WORDS], each[FW_WORDS];
    const struct fw_flock_sums *sums = &plan->flock;
    struct fw_text words = {0};
    for (size_t i = 0; i < plan->class_count; i++) {
        const struct fw_flock_class *sheep = &plan->classes[i];
        char weight[FW_WORDS];
        fw_text_addf(&words, "%s%d %s", i ? ", " : "", sheep->head,
                     sheep->name);
        if (all)
            fw_text_addf(&words, " of %s",
                         fw_report_mass(sheep->weight_kg, plan->units, weight));
    }
    fw_text_addf(&words, " eat %s dry matter a day",
                 fw_report_mass(sums->demand_kg_day, plan->units, demand));
    const bool given =
        plan->intake_source && strcmp(plan->intake_source, "given") == 0;
    if (all)
        fw_text_addf(
            &words, ", %s a head (%s)",
            fw_report_mass(sums->demand_kg_day / sums->head, plan->units, each),
            given ? "as given" : "by the table");
    fw_text_add(&words, ".");
    fw_report__line(text, "Flock", &words);
}

static void grass(struct fw_text *text, const struct fw_plan *plan,
                  const struct fw_plan_field *field)
{
    char mass[FW_WORDS], residual[FW_WORDS], usable[FW_WORDS];
    struct fw_text words = {0};
    fw_text_addf(
        &words, "%s: %s stands", field->name,
        fw_report__mass_per_area(field->mass_kg_ha, plan->units, mass));
    if (field->residual_kg_ha > 0)
        fw_text_addf(&words, ", %s stays",
                     fw_report__mass_per_area(field->residual_kg_ha,
                                              plan->units, residual));
    fw_text_addf(
        &words, "; they may take %.0f %% of %s = %s.", 100 * field->use,
        field->use_of == FW_USE_STANDING ? "all that stands"
                                         : "what stands above that",
        fw_report__mass_per_area(field->usable_kg_ha, plan->units, usable));
    fw_report__line(text, "Grass", &words);
}

/* A field with the same grass as the one before it says it by that one. */
static bool same_grass(const struct fw_plan_field *a,
                       const struct fw_plan_field *b)
{
    return a->mass_kg_ha == b->mass_kg_ha &&
           a->residual_kg_ha == b->residual_kg_ha &&
           a->usable_kg_ha == b->usable_kg_ha;
}

/* The round from gate to gate and back to the first. */
static void order(struct fw_text *text, const struct fw_plan *plan)
{
    if (plan->field_order != FW_ORDER_NEAREST || plan->field_count < 2)
        return;
    struct fw_text words = {0};
    fw_text_addf(&words, "%s", plan->fields[0].name);
    for (size_t i = 1; i <= plan->field_count; i++) {
        char way[FW_WORDS];
        const struct fw_plan_field *from = &plan->fields[i - 1];
        const struct fw_plan_field *to = &plan->fields[i % plan->field_count];
        fw_report_length(fw_geo_distance_m(from->gate.lonlat, to->gate.lonlat),
                         plan->units, way);
        if (i < plan->field_count)
            fw_text_addf(&words, ", %s on to %s", way, to->name);
        else
            fw_text_addf(&words,
                         ", %s back: the shortest round, straight from "
                         "gate to gate.",
                         way);
    }
    fw_report__line(text, "Order", &words);
}

/* "kept for storms: A07 (shelter)". */
static void kept(struct fw_text *text, const struct fw_plan *plan)
{
    static const char *const words[FW_PLAN__KEEPS][2] = {{"storms", "shelter"},
                                                         {"heat", "shade"}};
    struct fw_text list = {0};
    for (size_t k = 0; k < FW_PLAN__KEEPS; k++) {
        bool any = false;
        for (size_t i = 0; i < plan->paddock_count; i++) {
            if (strcmp(plan->paddocks[i].keep, fw_plan__keep_words[k]) != 0)
                continue;
            if (!any)
                fw_text_addf(&list, "%sfor %s: ", list.bytes ? "; " : "",
                             words[k][0]);
            fw_text_addf(&list, "%s%s", any ? ", " : "", plan->paddocks[i].id);
            any = true;
        }
        if (any)
            fw_text_addf(&list, " (%s)", words[k][1]);
    }
    if (!list.bytes)
        return;
    fw_text_add(&list, "; grazed last.");
    fw_report__line(text, "Kept", &list);
}

/* ". For that the farm lacks 2 reels, 84 m of wire" */
static void say_lack(struct fw_text *words, const struct fw_plan *plan)
{
    const struct fw_kit *lack = &plan->totals.lack;
    char wire[FW_WORDS];
    struct fw_text list = {0};
    if (lack->reels > 0)
        fw_text_addf(&list, "%d reel%s", lack->reels,
                     lack->reels == 1 ? "" : "s");
    if (lack->posts > 0)
        fw_text_addf(&list, "%s%d posts", list.bytes ? ", " : "", lack->posts);
    if (lack->wire_m > 0)
        fw_text_addf(&list, "%s%s of wire", list.bytes ? ", " : "",
                     fw_report_length(lack->wire_m, plan->units, wire));
    if (list.bytes)
        fw_text_addf(words,
                     ". For that the farm lacks %s (compare tells what others "
                     "take)",
                     list.bytes);
    fw_text_release(&list);
}

static void kit_in_short(struct fw_text *words, const struct fw_plan *plan)
{
    char wire[FW_WORDS], minutes[FW_WORDS];
    const struct fw_plan_totals *totals = &plan->totals;
    fw_text_addf(words,
                 "%d reels, %d posts, %s of wire at most; about %s minutes a "
                 "move",
                 totals->kit.reels, totals->kit.posts,
                 fw_report_length(totals->kit.wire_m, plan->units, wire),
                 fw_report_number(ceil(totals->minutes_per_move), minutes));
}

static void kit_whole(struct fw_text *words, const struct fw_plan *plan)
{
    char wire[FW_WORDS], minutes[FW_WORDS], moved[FW_WORDS];
    const struct fw_plan_totals *totals = &plan->totals;
    fw_text_addf(words,
                 "%d reels, %d posts and %s of wire stand at most (%d strands)"
                 "; about %s minutes and %d armful%s of posts a move; %s of "
                 "wire moved in all",
                 totals->kit.reels, totals->kit.posts,
                 fw_report_length(totals->kit.wire_m, plan->units, wire),
                 plan->moved.strands,
                 fw_report_number(ceil(totals->minutes_per_move), minutes),
                 totals->carry_trips_per_move,
                 totals->carry_trips_per_move == 1 ? "" : "s",
                 fw_report_length(totals->moved_wire_m, plan->units, moved));
    if (totals->standing_wire_m > 0)
        fw_text_addf(
            words, ", and %s in lines that stand for several moves",
            fw_report_length(totals->standing_wire_m, plan->units, moved));
}

static void kit(struct fw_text *text, const struct fw_plan *plan, bool all)
{
    struct fw_text words = {0};
    if (plan->totals.kit.reels == 0) {
        fw_text_add(&words, "none to move: each field is one paddock.");
        fw_report__line(text, "Fence", &words);
        return;
    }
    if (all)
        kit_whole(&words, plan);
    else
        kit_in_short(&words, plan);
    say_lack(&words, plan);
    fw_text_add(&words, ".");
    fw_report__line(text, "Fence", &words);
}

/* "596 L a day, in heat 1444 L" */
static void drinks(struct fw_text *words, const struct fw_plan *plan)
{
    char expected[FW_WORDS], hot[FW_WORDS];
    const struct fw_plan_totals *totals = &plan->totals;
    fw_text_addf(
        words, "%s a day, in heat %s",
        totals->litres_day < 1
            ? "hardly any"
            : fw_report_volume(totals->litres_day, plan->units, expected),
        fw_report_volume(totals->hot_l_day, plan->units, hot));
}

/* Paddocks whose water is brought to a trough, which may serve several. */
static size_t hauled_to(const struct fw_plan *plan)
{
    size_t hauled = 0;
    for (size_t i = 0; i < fw_plan_first_stays(plan); i++) {
        const size_t of = plan->paddocks[plan->time.stays[i].cell].water;
        hauled +=
            of != FW_NONE && strcmp(plan->waters[of].kind_of, "trough") == 0;
    }
    return hauled;
}

static void water(struct fw_text *text, const struct fw_plan *plan, bool all)
{
    const struct fw_plan_totals *totals = &plan->totals;
    struct fw_text words = {0};
    char on_hand[FW_WORDS];
    const size_t hauled = hauled_to(plan);
    drinks(&words, plan);
    if (hauled && totals->haul_trips >= 0)
        fw_text_addf(&words, ": %d trip%s or %d, to", totals->haul_trips,
                     totals->haul_trips == 1 ? "" : "s",
                     totals->haul_trips_hot);
    else if (hauled)
        fw_text_add(&words, "; hauled to");
    if (hauled)
        fw_text_addf(&words, " %zu of %zu paddocks", hauled,
                     fw_plan_first_stays(plan));
    if (all) {
        fw_text_addf(&words, "; have %s by",
                     fw_report_volume(totals->on_hand_l, plan->units, on_hand));
        fw_report__walk(&words, plan);
    }
    fw_text_add(&words, ".");
    fw_report__line(text, "Water", &words);
}

static void power(struct fw_text *text, const struct fw_plan *plan, bool all)
{
    char joules[FW_WORDS], open[FW_WORDS], touched[FW_WORDS];
    const struct fw_energizer *energizer = &plan->energizer;
    struct fw_text words = {0};
    fw_text_addf(&words, "energizer of %s J",
                 fw_report_number(energizer->joules, joules));
    if (all)
        fw_text_addf(&words, " (%s)",
                     energizer->given
                         ? "the farm's own"
                         : fw_report__source(energizer->rule_source));
    fw_text_addf(
        &words,
        "; %d earth rod%s; a tester should read %s kV or more at every far "
        "end, and a sheep should feel %s kV.",
        energizer->rods, energizer->rods == 1 ? "" : "s",
        fw_report_number(energizer->open_v / 1000, open),
        fw_report_number(energizer->touched_v / 1000, touched));
    const size_t worst = fw_plan_worst_day(plan);
    if (worst != FW_NONE) {
        const struct fw_plan_power_day *day = &plan->power_days[worst];
        char date[FW_WORDS], at[FW_WORDS];
        fw_text_addf(&words,
                     " The least by the sum is %.1f kV, on %s, %s along %s.",
                     fw_report_down_kv(day->touched_v),
                     fw_report_day(day->from, false, date),
                     fw_report_length(day->at_m, plan->units, at),
                     plan->fences[day->fence].id);
        if (plan->power.earth_return)
            fw_text_addf(&words,
                         " That is between two wires, one of which is an "
                         "earth; of a hot one alone it is %.1f kV.",
                         fw_report_down_kv(day->alone_v));
    }
    fw_report__line(text, "Power", &words);
}

static void cost(struct fw_text *text, const struct fw_plan *plan)
{
    if (!plan->totals.cost_known)
        return;
    struct fw_text words = {0};
    fw_text_addf(&words, "%.0f %s for the kit, the energizer and its earth.",
                 plan->totals.cost, plan->currency);
    fw_report__line(text, "Cost", &words);
}

enum fw_status fw_report_text(const struct fw_plan *plan, unsigned how,
                              char **out, struct fw_error *err)
{
    if (!plan || !out)
        return fw_fail_null(err, "a plan, or where its text goes,");
    struct fw_text text = {0};
    const bool colour = how & FW_REPORT_COLOUR, all = how & FW_REPORT_ALL;
    fw_report_first(&text);
    title(&text, plan, colour);
    unplanned(&text, plan);
    fw_report_dangers(&text, plan, FW_NONE, colour);
    today(&text, plan, colour);
    flock(&text, plan, all);
    for (size_t i = 0; i < plan->field_count; i++) {
        if (plan->fields[i].no_plan)
            continue;
        if (all && (i == 0 || plan->fields[i - 1].no_plan ||
                    !same_grass(&plan->fields[i - 1], &plan->fields[i])))
            grass(&text, plan, &plan->fields[i]);
        fw_report__field(&text, plan, &plan->fields[i], all);
    }
    fw_report__grown(&text, plan);
    fw_report__rounds(&text, plan);
    order(&text, plan);
    kept(&text, plan);
    kit(&text, plan, all);
    water(&text, plan, all);
    power(&text, plan, all);
    cost(&text, plan);
    fw_report__rest(&text, plan, all);
    return fw_report_give(&text, out, NULL, err);
}
