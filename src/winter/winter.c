#include "winter/winter.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/stockpile.h"

#include <math.h>
#include <string.h>

/* ---- the flock ---- */

static bool is_grown(enum fw_state state)
{
    return state != FW_LAMB_AT_FOOT && state != FW_WEANED_LAMB &&
           state != FW_EWE_LAMB && state != FW_RAM_LAMB;
}

static enum fw_state state_of(enum fw_stockpile_class class)
{
    return class == FW_STOCKPILE_DRY     ? FW_DRY
           : class == FW_STOCKPILE_EARLY ? FW_EARLY_GESTATION
                                         : FW_LATE_GESTATION;
}

/* What the flock does now says nothing of winter: each class is taken through
 * it as dry, early and late in lamb. Its own intake holds for its own state. */
static enum fw_status need_of(const struct fw_flock_class *sheep,
                              enum fw_stockpile_class class, double *out,
                              struct fw_error *err)
{
    struct fw_flock_class then = *sheep;
    struct fw_intake intake;
    then.state = state_of(class);
    if (then.state != sheep->state)
        then.intake_share = then.intake_kg_day = 0;
    const enum fw_status status = fw_flock_intake(&then, &intake, err);
    if (!status)
        *out += sheep->head * intake.kg_day;
    return status;
}

static enum fw_status count_flock(struct fw_winter *winter,
                                  struct fw_error *err)
{
    const struct fw_farm *farm = winter->farm;
    struct fw_stockpile_flock *flock = &winter->flock;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < farm->class_count; i++) {
        const struct fw_flock_class *sheep = &farm->classes[i];
        if (sheep->head < 1 || !(sheep->weight_kg > 0))
            continue;
        if (!is_grown(sheep->state)) {
            winter->left_out += sheep->head;
            continue;
        }
        flock->head += sheep->head;
        flock->weight_kg += sheep->head * sheep->weight_kg;
        for (int k = 0; !status && k < FW_STOCKPILE_CLASS_COUNT; k++)
            status = need_of(sheep, (enum fw_stockpile_class)k,
                             &flock->need_kg[k], err);
    }
    if (status)
        return status;
    if (!(flock->head > 0))
        return fw_fail(err, FW_EINPUT,
                       "how many sheep go through the winter, and how heavy? "
                       "Tell flock: - {head: 90, weight: 62 kg, state: dry} "
                       "(--head 90 --weight 62kg --class dry)");
    flock->weight_kg /= flock->head;
    for (int k = 0; k < FW_STOCKPILE_CLASS_COUNT; k++)
        flock->need_kg[k] /= flock->head;
    return FW_OK;
}

/* ---- parts ---- */

/* The middle of each month, from the first day on, to March. */
static size_t month_days(const struct fw_farm_stockpile *told,
                         int days[FW_WINTER_MONTHS])
{
    enum { march = FW_PARTS(15) };
    const int year = fw_date_year(told->winter.frost_day);
    const int half = FW_PARTS(14);
    size_t count = 0;
    for (int month = fw_date_month(told->winter.frost_day);
         month <= march && count < FW_WINTER_MONTHS; month++) {
        const int first = month > FW_PARTS(12)
                              ? fw_date_first(year + 1, month - FW_PARTS(12))
                              : fw_date_first(year, month);
        const int next =
            fw_date_first(fw_date_year(first), fw_date_month(first) + 1);
        const int day =
            first + half > told->from_day ? first + half : told->from_day;
        if (day < next)
            days[count++] = day;
    }
    return count;
}

static void fill_part(const struct fw_winter *winter, size_t index,
                      const int days[FW_WINTER_MONTHS])
{
    const struct fw_farm_stockpile *told = &winter->farm->stockpile;
    struct fw_winter_part *out = &winter->parts[index];
    out->part = &told->parts[index];
    for (size_t i = 0; i < winter->row_count; i++)
        fw_winter__row(winter, &told->winter, out->part, days[i],
                       &out->rows[i]);
    fw_winter__row(winter, &told->winter, out->part, winter->middle_day,
                   &out->middle);
    out->measured =
        fw_stockpile_measured(told->winter.line, out->middle.stand.closed_day);
    out->left_m = out->part->stop_m + (1 - out->middle.share) *
                                          out->middle.stand.mass_kg_ha /
                                          out->part->density_kg_ha_m;
    out->seen_m = -1;
    fw_winter__topping(winter, out);
}

/* In one break they clear what is freshest, and pick at the rest. */
static void open_break(struct fw_winter *winter)
{
    enum fw_stockpile_condition best = FW_STOCKPILE_RANK;
    double leafy_kg = 0, other_kg = 0;
    for (size_t i = 0; i < winter->part_count; i++)
        if (winter->parts[i].middle.stand.condition < best)
            best = winter->parts[i].middle.stand.condition;
    for (size_t i = 0; i < winter->part_count; i++) {
        struct fw_winter_part *part = &winter->parts[i];
        const double kg = part->middle.stand.mass_kg_ha * part->part->area_ha;
        part->leafy = part->middle.stand.condition == best;
        *(part->leafy ? &leafy_kg : &other_kg) += kg;
    }
    winter->differ = leafy_kg > 0 && other_kg > 0;
    const struct fw_stockpile_open open = fw_stockpile_open(leafy_kg, other_kg);
    for (size_t i = 0; i < winter->part_count; i++) {
        struct fw_winter_part *part = &winter->parts[i];
        part->open_share = !winter->differ ? part->middle.share
                           : part->leafy   ? open.leafy_share
                                           : open.rank_share;
    }
    const double eaten_kg = leafy_kg * open.leafy_share / FW_STOCK_LEAFY;
    winter->cleared_day =
        winter->farm->stockpile.from_day +
        (int)floor(eaten_kg /
                   (winter->flock.head * winter->flock.need_kg[winter->class]));
}

enum fw_status fw_winter_left(struct fw_winter *winter, const char *name,
                              double left_m, struct fw_error *err)
{
    const char *names[FW_EFFORT(32)];
    size_t count = 0;
    for (size_t i = 0; i < winter->part_count; i++) {
        struct fw_winter_part *part = &winter->parts[i];
        if (count < sizeof names / sizeof names[0])
            names[count++] = part->part->name;
        if (strcmp(part->part->name, name) != 0)
            continue;
        const double stood_m =
            part->middle.stand.mass_kg_ha / part->part->density_kg_ha_m;
        if (!(stood_m > 0))
            return fw_fail(err, FW_EINPUT,
                           "nothing stands on %.60s by the forecast, so that "
                           "nothing can be left of it; tell its last removal "
                           "and its nitrogen as they were",
                           name);
        if (!(left_m >= 0 && left_m <= stood_m + part->part->stop_m))
            return fw_fail(err, FW_EINPUT,
                           "%.3g cm were left of %.60s, but only %.3g cm stood "
                           "by the forecast: tell its last removal and its "
                           "nitrogen as they were",
                           100 * left_m, name,
                           100 * (stood_m + part->part->stop_m));
        part->seen_m = left_m;
        part->seen_share = 1 - fmax(left_m - part->part->stop_m, 0) / stood_m;
        return FW_OK;
    }
    const char *near = fw_text_nearest(name, names, count);
    return fw_fail(err, FW_EINPUT, "there is no part \"%.60s\"%s%s%s", name,
                   near ? "; did you mean \"" : "", near ? near : "",
                   near ? "\"?" : "");
}

static enum fw_status fill(struct fw_winter *winter, struct fw_error *err)
{
    const struct fw_farm_stockpile *told = &winter->farm->stockpile;
    int days[FW_WINTER_MONTHS];
    if (told->part_count == 0)
        return fw_fail(err, FW_EINPUT,
                       "no part is kept for winter; tell two or more in the "
                       "farm file under stockpile: parts:, or such as --part "
                       "\"heavy: area=1.2 ha, sward=fescue-nitrogen, "
                       "grazed=2027-06-10, left=9 cm\"");
    enum fw_status status = count_flock(winter, err);
    if (status)
        return status;
    winter->middle_day = told->from_day + told->days / 2;
    winter->last_day = told->from_day + told->days - 1;
    winter->class = fw_winter_class(winter, winter->middle_day);
    winter->parts = fw_alloc(told->part_count, sizeof *winter->parts);
    if (!winter->parts)
        return fw_fail_memory(err);
    winter->part_count = told->part_count;
    winter->row_count = month_days(told, days);
    for (size_t i = 0; i < winter->part_count; i++) {
        fill_part(winter, i, days);
        winter->area_ha += told->parts[i].area_ha;
    }
    open_break(winter);
    status = fw_winter__orders(winter, err);
    if (!status)
        status = fw_winter__closings(winter, err);
    fw_winter__effects(winter);
    return status;
}

enum fw_status fw_winter_make(const struct fw_farm *farm,
                              struct fw_winter **out, struct fw_error *err)
{
    struct fw_winter *winter = fw_alloc(1, sizeof *winter);
    if (!winter)
        return fw_fail_memory(err);
    winter->farm = farm;
    const enum fw_status status = fill(winter, err);
    if (status)
        fw_winter_free(winter);
    else
        *out = winter;
    return status;
}

void fw_winter_free(struct fw_winter *winter)
{
    if (!winter)
        return;
    struct fw_winter_order *orders[] = {&winter->poor_first,
                                        &winter->good_first};
    for (int i = 0; i < 2; i++) {
        fw_free(orders[i]->parts);
        fw_free(orders[i]->from_days);
    }
    fw_free(winter->parts);
    fw_free(winter->closings);
    fw_free(winter);
}
