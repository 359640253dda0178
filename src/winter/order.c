/* Which part when: through the wanted days, the poorer parts first and the
 * better ones first, and the other feed that each of the two takes. */
#include "winter/winter.h"

#include "base/alloc.h"
#include "base/fail.h"

#include <math.h>

static bool nothing_stands(const struct fw_winter *winter, int day, size_t part)
{
    const struct fw_farm_stockpile *told = &winter->farm->stockpile;
    struct fw_stockpile_stand stand;
    fw_stockpile_stands(&told->parts[part], &told->winter, day, &stand);
    return !(stand.mass_kg_ha > 0);
}

/* A day on that part; `gone` is the share of what they may take that they have
 * taken. */
static void graze(const struct fw_winter *winter, int day, size_t part,
                  double *gone, struct fw_winter_order *order)
{
    const struct fw_farm_stockpile *told = &winter->farm->stockpile;
    const enum fw_stockpile_class class = fw_winter_class(winter, day);
    struct fw_winter_row row;
    fw_winter__row(winter, &told->winter, &told->parts[part], day, &row);
    const struct fw_stockpile_fed *fed = &row.fed[class];
    *gone += 1 / fed->days_with_feed;
    order->other_kg += winter->flock.head * fed->other_kg;
    order->days_fed++;
    order->days_at_need += fed->other_kg <= 0;
}

/* Nothing is left: other feed is all they get. */
static void feed_all(const struct fw_winter *winter, int day,
                     struct fw_winter_order *order)
{
    struct fw_stockpile_fed fed;
    fw_stockpile_feeds(&winter->flock, fw_winter_class(winter, day), 0,
                       (double)NAN, 0, &fed);
    order->other_kg += winter->flock.head * fed.other_kg;
}

static void walk(const struct fw_winter *winter, struct fw_winter_order *order)
{
    const int from = winter->farm->stockpile.from_day;
    size_t turn = 0;
    double gone = 0;
    for (size_t i = 0; i < winter->part_count; i++)
        order->from_days[i] = FW_NO_DAY;
    for (int day = from; day <= winter->last_day; day++) {
        while (turn < winter->part_count &&
               (gone >= 1 || nothing_stands(winter, day, order->parts[turn]))) {
            turn++;
            gone = 0;
        }
        if (turn == winter->part_count) {
            feed_all(winter, day, order);
            continue;
        }
        if (order->from_days[turn] == FW_NO_DAY)
            order->from_days[turn] = day;
        graze(winter, day, order->parts[turn], &gone, order);
    }
}

static enum fw_status room(struct fw_winter_order *order, size_t count,
                           struct fw_error *err)
{
    order->parts = fw_alloc(count, sizeof *order->parts);
    order->from_days = fw_alloc(count, sizeof *order->from_days);
    return order->parts && order->from_days ? FW_OK : fw_fail_memory(err);
}

/* By digestibility; of two alike the first one told is first. */
static void sort(const struct fw_winter *winter, struct fw_winter_order *order,
                 double way)
{
    for (size_t i = 0; i < winter->part_count; i++) {
        const double digest = winter->parts[i].middle.stand.digest;
        size_t at = i;
        for (; at > 0; at--) {
            const size_t other = order->parts[at - 1];
            if (way * winter->parts[other].middle.stand.digest <= way * digest)
                break;
            order->parts[at] = other;
        }
        order->parts[at] = i;
    }
}

enum fw_status fw_winter__orders(struct fw_winter *winter, struct fw_error *err)
{
    struct fw_winter_order *poor = &winter->poor_first;
    struct fw_winter_order *good = &winter->good_first;
    enum fw_status status = room(poor, winter->part_count, err);
    if (!status)
        status = room(good, winter->part_count, err);
    if (status)
        return status;
    sort(winter, poor, 1);
    sort(winter, good, -1);
    walk(winter, poor);
    walk(winter, good);
    winter->good_is_better =
        good->other_kg < poor->other_kg ||
        (good->other_kg <= poor->other_kg && good->days_fed > poor->days_fed);
    return FW_OK;
}
