/* Today's practice and what else could be done, each with its trips, minutes,
 * walk and money. */
#include "base/alloc.h"
#include "base/fail.h"
#include "figures/water.h"
#include "geo/points.h"
#include "haul/haul.h"
#include "haul/placing.h"

#include <math.h>
#include <string.h>

struct hauling {
    const struct fw_plan *plan;
    struct fw_placing *placing;
    struct fw_hauled_table *table;
    struct fw_haul haul;
};

/* Does a stay have water that nobody brings? */
static bool has_own_water(const struct fw_plan *plan, size_t stay)
{
    const struct fw_plan_paddock *paddock =
        &plan->paddocks[plan->time.stays[stay].cell];
    return paddock->water != FW_NONE &&
           strcmp(plan->waters[paddock->water].kind_of, "fixed") == 0;
}

static bool has_trough(const struct fw_plan *plan, size_t stay)
{
    const struct fw_plan_paddock *paddock =
        &plan->paddocks[plan->time.stays[stay].cell];
    return paddock->water != FW_NONE && !has_own_water(plan, stay);
}

/* The first of the stays that drink from a stay's trough, without another in
 * between: for that one it was put there. */
static size_t trough_from(const struct fw_plan *plan, size_t stay)
{
    const struct fw_time *time = &plan->time;
    const size_t water = plan->paddocks[time->stays[stay].cell].water;
    while (stay > 0 &&
           plan->paddocks[time->stays[stay - 1].cell].water == water)
        stay--;
    return stay;
}

/* A trough that serves other stays too has to be put there for those. */
static bool has_own_trough(const struct fw_plan *plan, size_t stay)
{
    return trough_from(plan, stay) == stay &&
           (stay + 1 == plan->time.stay_count ||
            trough_from(plan, stay + 1) == stay + 1);
}

/* ---- minutes ---- */

static double trough_gate_m(const struct fw_plan *plan, size_t stay)
{
    const struct fw_plan_paddock *paddock =
        &plan->paddocks[plan->time.stays[stay].cell];
    const struct fw_plan_field *field = &plan->fields[paddock->field];
    return field->gate.given
               ? fw_point_apart_m(field->gate.plane,
                                  plan->waters[paddock->water].place.plane)
               : 0;
}

/* Of a stay, with its water hauled so far from the gate. Where no tank is told
 * one trip a day is as good as any number to choose by. */
static double haul_min(const struct hauling *counting, size_t stay,
                       double gate_m)
{
    const struct fw_hauled_table *table = counting->table;
    const bool told = !isnan(table->carry_l);
    const double trips_day =
        told ? table->drinks.expected_l / table->carry_l : 1;
    return counting->placing->days[stay] * trips_day *
           ((told ? table->trip_min : 0) +
            2 * gate_m / fw_plan__haul(counting->plan).drive_m_min);
}

/* Of a stay as the plan has it; HUGE_VAL: it has no water. */
static double today_min(const struct hauling *counting, size_t stay)
{
    const struct fw_plan *plan = counting->plan;
    if (has_own_water(plan, stay))
        return 0;
    return has_trough(plan, stay)
               ? haul_min(counting, stay, trough_gate_m(plan, stay)) +
                     (has_own_trough(plan, stay) ? FW_TROUGH_SHIFT_MIN : 0)
               : HUGE_VAL;
}

/* HUGE_VAL: it does not serve that stay. */
static double place_min(const struct hauling *counting, size_t stay,
                        size_t place)
{
    const struct fw_placing *placing = counting->placing;
    const struct fw_placing_place *at = &placing->places[place];
    if (placing->mean_m[stay * placing->place_count + place] == HUGE_VAL)
        return HUGE_VAL;
    return at->is_water ? 0 : haul_min(counting, stay, at->gate_m);
}

static size_t quickest(const struct hauling *counting,
                       const struct fw_points_chosen *chosen, size_t stay)
{
    size_t best = counting->placing->place_count;
    double least_min = today_min(counting, stay);
    for (size_t i = 0; i < chosen->count; i++) {
        const double min = place_min(counting, stay, chosen->places[i]);
        if (min == HUGE_VAL || min > least_min ||
            (min == least_min && best < counting->placing->place_count))
            continue;
        least_min = min;
        best = chosen->places[i];
    }
    return best;
}

static size_t server(const struct hauling *counting,
                     const struct fw_points_chosen *chosen, size_t stay)
{
    const struct fw_points points = {
        .stay_count = counting->placing->stay_count,
        .place_count = counting->placing->place_count,
        .value = counting->placing->mean_m};
    return counting->table->by == FW_PLACING_MINUTES
               ? quickest(counting, chosen, stay)
               : fw_water_points_of(&points, chosen, stay);
}

/* ---- one row ---- */

struct sums {
    double hauled_days, drive_m_days; /* to the point and back, each day */
    double walk_m_days, days;
    bool walk_known;
    size_t trough; /* the first stay that had the last one; FW_NONE: none yet */
};

/* A stay that no chosen point serves: as the plan has it. */
static void count_today(const struct hauling *counting, size_t stay,
                        struct sums *sums, struct fw_hauled *row)
{
    const struct fw_plan *plan = counting->plan;
    const struct fw_plan_paddock *paddock =
        &plan->paddocks[plan->time.stays[stay].cell];
    const double days = counting->placing->days[stay];
    sums->walk_known &= paddock->walk_known;
    sums->walk_m_days += days * paddock->walk_mean_m;
    row->walk_max_m = fmax(row->walk_max_m, paddock->walk_max_m);
    if (!has_trough(plan, stay))
        return;
    const size_t trough = trough_from(plan, stay);
    row->shifts += trough != sums->trough;
    sums->trough = trough;
    sums->hauled_days += days;
    sums->drive_m_days += days * 2 * trough_gate_m(plan, stay);
}

static void count_point(const struct hauling *counting, size_t stay,
                        size_t place, struct sums *sums, struct fw_hauled *row)
{
    const struct fw_placing *placing = counting->placing;
    const size_t at = stay * placing->place_count + place;
    const double days = placing->days[stay];
    row->served++;
    sums->walk_m_days += days * placing->mean_m[at];
    row->walk_max_m = fmax(row->walk_max_m, placing->longest_m[at]);
    if (placing->places[place].is_water)
        return;
    sums->hauled_days += days;
    sums->drive_m_days += days * 2 * placing->places[place].gate_m;
}

static void spend(const struct hauling *counting, const struct sums *sums,
                  const struct fw_haul *haul, struct fw_hauled *row)
{
    const struct fw_hauled_table *table = counting->table;
    struct fw_haul_sums hauled;
    row->trips = -1;
    row->trips_day = row->minutes_day = (double)NAN;
    if (!(haul->tank_l > 0) || fw_water_haul(haul, table->drinks.expected_l,
                                             sums->hauled_days, &hauled, NULL))
        return;
    const double share = sums->days > 0 ? sums->hauled_days / sums->days : 0;
    const double in_field_min =
        sums->hauled_days > 0
            ? sums->drive_m_days / sums->hauled_days / haul->drive_m_min
            : 0;
    row->trips = hauled.trips;
    row->trips_day = hauled.trips_day * share;
    row->minutes_day =
        row->trips_day * (hauled.trip_min + in_field_min) +
        (sums->days > 0 ? FW_TROUGH_SHIFT_MIN * (double)row->shifts / sums->days
                        : 0);
}

static void count_row(const struct hauling *counting,
                      const struct fw_haul *haul, struct fw_hauled *row)
{
    const struct fw_placing *placing = counting->placing;
    struct sums sums = {.walk_known = true, .trough = FW_NONE};
    for (size_t s = 0; s < placing->stay_count; s++) {
        const size_t place = server(counting, &row->points, s);
        sums.days += placing->days[s];
        if (place < placing->place_count)
            count_point(counting, s, place, &sums, row);
        else
            count_today(counting, s, &sums, row);
    }
    row->walk_mean_m = sums.walk_known && sums.days > 0
                           ? sums.walk_m_days / sums.days
                           : (double)NAN;
    if (!sums.walk_known)
        row->walk_max_m = (double)NAN;
    spend(counting, &sums, haul, row);
}

/* ---- money: what is to be bought ---- */

/* A count that is not known makes it so. */
static double price(double of_one, double count)
{
    if (count == 0)
        return 0;
    return of_one > 0 ? count * of_one : (double)NAN;
}

/* Troughs for the points where no water is yet. */
static double troughs(const struct hauling *counting,
                      const struct fw_points_chosen *points)
{
    size_t count = 0;
    for (size_t i = 0; i < points->count; i++)
        count += !counting->placing->places[points->places[i]].is_water;
    return price(counting->plan->hauling.trough_price, (double)count);
}

/* ---- the pipe: from each field's water, else its gate, always on to the
 * nearest point that has none yet; NaN: nobody told either ---- */

static double pipe_m(const struct hauling *counting,
                     const struct fw_points_chosen *points)
{
    const struct fw_placing *placing = counting->placing;
    double near_m[FW_POINTS_MOST] = {0}, sum_m = 0;
    bool done[FW_POINTS_MOST] = {false};
    for (size_t i = 0; i < points->count; i++) {
        const struct fw_placing_place *place =
            &placing->places[points->places[i]];
        const struct fw_plan_field *field =
            &counting->plan->fields[place->field];
        near_m[i] = field->water.given
                        ? fw_point_apart_m(field->water.plane, place->at)
                    : field->gate.given ? place->gate_m
                                        : (double)NAN;
    }
    for (size_t turn = 0; turn < points->count; turn++) {
        size_t next = points->count;
        for (size_t i = 0; i < points->count; i++)
            if (!done[i] && (next == points->count || near_m[i] < near_m[next]))
                next = i;
        done[next] = true;
        sum_m += near_m[next];
        const struct fw_placing_place *here =
            &placing->places[points->places[next]];
        for (size_t i = 0; i < points->count; i++) {
            const struct fw_placing_place *other =
                &placing->places[points->places[i]];
            if (!done[i] && other->field == here->field)
                near_m[i] =
                    fmin(near_m[i], fw_point_apart_m(here->at, other->at));
        }
    }
    return sum_m;
}

/* ---- the rows ---- */

/* What one stay at one place counts in the choice. */
static double *values_by(const struct hauling *counting, enum fw_placing_by by,
                         struct fw_points *points, struct fw_error *err)
{
    const struct fw_placing *placing = counting->placing;
    const size_t count = placing->stay_count * placing->place_count;
    double *values = fw_alloc(count, sizeof *values);
    if (!values) {
        fw_fail_memory(err);
        return NULL;
    }
    for (size_t i = 0; i < count; i++) {
        const size_t stay = i / placing->place_count;
        if (by == FW_PLACING_MINUTES)
            values[i] =
                fmin(place_min(counting, stay, i % placing->place_count),
                     today_min(counting, stay));
        else if (by == FW_PLACING_WORST || placing->mean_m[i] == HUGE_VAL)
            values[i] = placing->longest_m[i];
        else
            values[i] = placing->days[stay] * placing->mean_m[i];
    }
    *points = (struct fw_points){.stay_count = placing->stay_count,
                                 .place_count = placing->place_count,
                                 .value = values,
                                 .worst = by == FW_PLACING_WORST};
    return values;
}

static struct fw_hauled *new_row(struct hauling *counting,
                                 enum fw_hauled_way way)
{
    struct fw_hauled *row = &counting->table->rows[counting->table->count++];
    *row = (struct fw_hauled){.way = way};
    return row;
}

/* The place that serves a stay, or with points that of the least value, is
 * wanted as it is walked. Are all of them? */
static bool are_walked(const struct hauling *counting,
                       const struct fw_points *points,
                       const struct fw_points_chosen *chosen, bool *wanted)
{
    const struct fw_placing *placing = counting->placing;
    bool all = true;
    for (size_t s = 0; s < placing->stay_count; s++) {
        const size_t place = points ? fw_water_points_of(points, chosen, s)
                                    : server(counting, chosen, s);
        const size_t at = s * placing->place_count + place;
        if (place == placing->place_count || placing->walked[at])
            continue;
        wanted[at] = true;
        all = false;
    }
    return all;
}

/* Straight ways are too short, if anything: a choice in which every way is the
 * one that is walked is better than any other, whatever is still straight
 * there. */
static enum fw_status choose(const struct hauling *counting,
                             enum fw_placing_by by, size_t count, bool *wanted,
                             struct fw_points_chosen *chosen,
                             struct fw_error *err)
{
    struct fw_placing *placing = counting->placing;
    for (;;) {
        struct fw_points points;
        double *values = values_by(counting, by, &points, err);
        if (!values)
            return FW_ENOMEM;
        enum fw_status status = fw_water_points(&points, count, chosen, err);
        const bool by_value =
            !status && (by == FW_PLACING_MINUTES ||
                        are_walked(counting, &points, chosen, wanted));
        const bool by_way =
            !status && are_walked(counting, NULL, chosen, wanted);
        fw_free(values);
        if (status || (by_value && by_way))
            return status;
        status = fw_placing_walk(counting->plan, wanted, placing, err);
        if (status)
            return status;
    }
}

static enum fw_status add_points(struct hauling *counting,
                                 enum fw_placing_by by, size_t most,
                                 struct fw_error *err)
{
    size_t last = 0;
    enum fw_status status = FW_OK;
    bool *wanted =
        fw_alloc(counting->placing->stay_count * counting->placing->place_count,
                 sizeof *wanted);
    if (!wanted)
        return fw_fail_memory(err);
    for (size_t count = 1; !status && count <= most; count++) {
        struct fw_points_chosen chosen;
        status = choose(counting, by, count, wanted, &chosen, err);
        if (status || chosen.count <= last)
            break;
        last = chosen.count;
        struct fw_hauled *row = new_row(counting, FW_HAULED_POINTS);
        row->points = chosen;
        count_row(counting, &counting->haul, row);
        row->cost = troughs(counting, &chosen);
        if (row->served == 0) { /* a trough that moves is quicker everywhere */
            counting->table->count--;
            break;
        }
    }
    fw_free(wanted);
    return status;
}

static void add_tank(struct hauling *counting)
{
    struct fw_haul haul = counting->haul;
    if (!(haul.tank_l > 0))
        return;
    haul.tank_l *= 2;
    struct fw_hauled *row = new_row(counting, FW_HAULED_TANK);
    count_row(counting, &haul, row);
    row->cost = price(counting->plan->hauling.tank_price, 1);
}

/* Water that comes by itself: nothing is hauled to these points. */
static void add_pipe(struct hauling *counting)
{
    struct fw_hauled_table *table = counting->table;
    const struct fw_hauled *last = &table->rows[table->count - 1];
    if (last->way != FW_HAULED_POINTS)
        return;
    struct fw_placing piped = *counting->placing;
    for (size_t i = 0; i < last->points.count; i++)
        piped.places[last->points.places[i]].is_water = true;
    struct fw_hauled *row = new_row(counting, FW_HAULED_PIPE);
    row->points = last->points;
    row->pipe_m = pipe_m(counting, &row->points);
    row->cost = troughs(counting, &row->points) +
                price(counting->plan->hauling.pipe_price, row->pipe_m);
    struct fw_placing *was = counting->placing;
    counting->placing = &piped;
    count_row(counting, &counting->haul, row);
    counting->placing = was;
}

static enum fw_status begin(struct hauling *counting, struct fw_error *err)
{
    const struct fw_plan *plan = counting->plan;
    const struct fw_farm_hauling *told = &plan->hauling;
    struct fw_hauled_table *table = counting->table;
    struct fw_haul_sums sums;
    *table = (struct fw_hauled_table){
        .day = fw_drink_day(told->day, plan->season == FW_SEASON_DORMANT),
        .carry_l = (double)NAN,
        .trip_min = (double)NAN,
    };
    enum fw_status status = fw_flock_drinks_sum(
        plan->classes, plan->class_count, &table->day, &table->drinks, err);
    if (status)
        return status;
    for (size_t s = 0; s < counting->placing->stay_count; s++)
        table->days += counting->placing->days[s];
    counting->haul = fw_plan__haul(plan);
    table->road_m = counting->haul.road_m;
    table->by_tracks = table->road_m > 0 && !(told->road_m > 0);
    status = fw_water_frost(&counting->haul, table->drinks.expected_l,
                            &table->frost, err);
    if (status || !(plan->tank_l > 0))
        return status;
    status = fw_water_haul(&counting->haul, table->drinks.expected_l,
                           table->days, &sums, err);
    if (!status) {
        table->carry_l = sums.carry_l;
        table->trip_min = sums.trip_min;
    }
    return status;
}

enum fw_status fw_hauled_make(const struct fw_plan *plan,
                              struct fw_placing *placing, enum fw_placing_by by,
                              size_t most, struct fw_hauled_table *out,
                              struct fw_error *err)
{
    struct hauling counting = {.plan = plan, .placing = placing, .table = out};
    enum fw_status status = begin(&counting, err);
    if (status)
        return status;
    out->by = by;
    count_row(&counting, &counting.haul, new_row(&counting, FW_HAULED_TODAY));
    status = add_points(&counting, by, most, err);
    if (!status) {
        add_pipe(&counting);
        add_tank(&counting);
    }
    return status;
}

size_t fw_hauled_server(const struct fw_plan *plan,
                        const struct fw_placing *placing,
                        const struct fw_hauled_table *table,
                        const struct fw_points_chosen *chosen, size_t stay)
{
    /* Neither is changed by who serves. */
    const struct hauling counting = {
        .plan = plan,
        .placing = (struct fw_placing *)placing,
        .table = (struct fw_hauled_table *)table,
    };
    return server(&counting, chosen, stay);
}
