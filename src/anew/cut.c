/* Where the fences of a chain go: each paddock holds its stay's feed, and what
 * is left over at the end is dealt with as in a field: the last one is short,
 * or it is spread over all of them. */
#include "anew/anew.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/layout.h"
#include "figures/mark.h"

#include <math.h>

static const double rounding = FW_TOLERANCE(1e-9);
static const double exact = FW_TOLERANCE(1e-13);
static const size_t most_paddocks = FW_BOUND(5000);

struct cutting {
    struct fw_plan_job *job;
    size_t field;
    struct fw_plan__anew *anew;
    struct fw_plan__grass grass;
    struct fw_herbage *ground; /* on the day at hand; NULL: it is even */
    struct fw_point *points;
    size_t capacity;
};

/* ---- what lies between two lines ---- */

static double holds_kg(const struct cutting *cutting,
                       const struct fw_plan__chain_line *near,
                       const struct fw_plan__chain_line *far)
{
    const size_t count = fw_plan__chain_ground(&cutting->anew->chain, near, far,
                                               cutting->points);
    const size_t starts[2] = {0, count};
    if (count < FW_PARTS(3))
        return 0;
    if (cutting->ground)
        return fw_herbage_mass_kg(cutting->ground, cutting->points, starts, 1);
    return fw_ring_area_m2(cutting->points, count) / 1e4 *
           fw_plan__grass_even_kg_ha(&cutting->grass);
}

static enum fw_status to_day(struct cutting *cutting, int day,
                             struct fw_error *err)
{
    const struct fw_plan_job *job = cutting->job;
    enum fw_status status = fw_plan__grass_pass(&cutting->grass, day, err);
    if (status || !fw_plan__ground(job, cutting->field))
        return status;
    if (cutting->ground && !fw_plan__grass_changes(job, cutting->field))
        return FW_OK;
    fw_herbage_free(cutting->ground);
    cutting->ground = NULL;
    return fw_plan__grass_ground(&cutting->grass, &cutting->ground, err);
}

static enum fw_status begin_grass(struct cutting *cutting, struct fw_error *err)
{
    fw_plan__grass_release(&cutting->grass);
    return fw_plan__grass_of(cutting->job, cutting->field, &cutting->grass,
                             err);
}

/* ---- one cut ---- */

static struct fw_plan__chain_line
line_at(const struct cutting *cutting, const struct fw_plan__chain_line *near,
        double turn)
{
    const struct fw_plan__chain_line line =
        fw_plan__chain_at(&cutting->anew->chain, turn);
    return fw_plan__chain_far(&line, near);
}

/* The line beyond `near` with so much between them: between two whose feed is
 * known the next try is where a straight line between them has it, with the
 * end that does not move at half its weight. */
static struct fw_plan__chain_line
find_line(const struct cutting *cutting, const struct fw_plan__chain_line *near,
          double *turn, double wanted_kg)
{
    double low = *turn, high = (double)cutting->anew->chain.count;
    const struct fw_plan__chain_line end = line_at(cutting, near, high);
    double low_kg = -wanted_kg,
           high_kg = holds_kg(cutting, near, &end) - wanted_kg;
    struct fw_plan__chain_line line = end;
    int side = 0;
    for (int round = 0; round < FW_EFFORT(200) && high - low > exact; round++) {
        double at = high - high_kg * (high - low) / (high_kg - low_kg);
        if (!(at > low) || !(at < high))
            at = (low + high) / 2;
        line = line_at(cutting, near, at);
        const double kg = holds_kg(cutting, near, &line) - wanted_kg;
        *turn = at;
        if (fabs(kg) <= exact * wanted_kg)
            break;
        if (kg > 0) {
            high = at;
            high_kg = kg;
            low_kg /= side == 1 ? 2 : 1;
            side = 1;
        } else {
            low = at;
            low_kg = kg;
            high_kg /= side == -1 ? 2 : 1;
            side = -1;
        }
    }
    return line;
}

/* ---- all of them ---- */

static enum fw_status make_room(struct cutting *cutting, struct fw_error *err)
{
    struct fw_plan__anew *anew = cutting->anew;
    const size_t wanted = anew->count + 2;
    if (anew->count >= most_paddocks)
        return fw_fail(err, FW_EPLAN,
                       "%s: what is left of a block would make over %zu "
                       "paddocks; expected fewer: look at the head count and "
                       "at what was left",
                       cutting->job->plan->fields[cutting->field].name,
                       most_paddocks);
    if (wanted <= cutting->capacity)
        return FW_OK;
    const size_t capacity = 2 * wanted;
    struct fw_plan__chain_line *lines =
        fw_realloc(anew->lines, capacity, sizeof *lines);
    if (!lines)
        return fw_fail_memory(err);
    anew->lines = lines;
    int *days = fw_realloc(anew->days, capacity, sizeof *days);
    if (!days)
        return fw_fail_memory(err);
    anew->days = days;
    cutting->capacity = capacity;
    return FW_OK;
}

/* Cut with that share of what each day wants, at most so many paddocks. *last:
 * what the last one has of what its stay wants. */
static enum fw_status cut_with(struct cutting *cutting, double share,
                               size_t most, double *last, struct fw_error *err)
{
    struct fw_plan_job *job = cutting->job;
    struct fw_plan__anew *anew = cutting->anew;
    const struct fw_plan__chain_line end =
        fw_plan__chain_at(&anew->chain, (double)anew->chain.count);
    enum fw_status status = begin_grass(cutting, err);
    double turn = 0;
    int day = job->day;
    anew->count = 0;
    while (!status) {
        const size_t k = anew->count;
        status = make_room(cutting, err);
        if (!status)
            status = to_day(cutting, day, err);
        if (status)
            break;
        if (k < anew->done) {
            anew->days[anew->count++] = 0;
            continue;
        }
        const struct fw_plan__chain_line near = anew->lines[k];
        const int days = fw_plan__stay_days(job, cutting->field, day, 0);
        const double wanted_kg = job->plan->flock.demand_kg_day * days;
        anew->days[k] = days;
        anew->count = k + 1;
        day += days;
        if (k + 1 < anew->given)
            continue;
        const double left_kg = holds_kg(cutting, &near, &end);
        if (anew->count == most ||
            left_kg <= share * wanted_kg * (1 + rounding)) {
            *last = left_kg / wanted_kg;
            anew->lines[k + 1] = end;
            break;
        }
        anew->lines[k + 1] =
            find_line(cutting, &near, &turn, share * wanted_kg);
    }
    return status;
}

/* How many paddocks there are besides those that are given, and the share of
 * its target that each has; all but the last one where they are not even. */
struct shares {
    size_t count;
    double share;
    bool even;
};

/* By the same rule as a field is shared out. */
static struct shares share_out(enum fw_last last, double stays)
{
    const double full = floor(stays + rounding), rest = fmax(0, stays - full);
    const size_t count = (size_t)full;
    const struct shares shares = {count + 1, 1, false};
    if (last == FW_LAST_EVEN || count == 0) {
        const double nearest = fmax(1, round(stays));
        return (struct shares){(size_t)nearest, stays / nearest, true};
    }
    if (last == FW_LAST_FIT && rest > rounding && rest < FW_LAST_HALF_SHARE &&
        stays / full <= FW_LAST_EVEN_SHARE)
        return (struct shares){count, stays / full, true};
    if (rest < FW_LAST_CRUMB_SHARE)
        return (struct shares){count, 1, false};
    return shares;
}

/* Even shares are found by what the last one has with the one at hand. */
static enum fw_status cut(struct cutting *cutting, struct fw_error *err)
{
    struct fw_plan__anew *anew = cutting->anew;
    const size_t given = anew->given - 1;
    double last = 0;
    enum fw_status status = cut_with(cutting, 1, 0, &last, err);
    if (status)
        return status;
    const double stays = (double)(anew->count - given - 1) + last;
    const struct shares shares = share_out(cutting->job->farm->last, stays);
    const size_t count = given + shares.count;
    double share = shares.share;
    for (int round = 0; round < FW_EFFORT(30); round++) {
        status = cut_with(cutting, share, count, &last, err);
        if (status || !shares.even || fabs(last - share) <= rounding * share)
            break;
        const double whole = (double)(anew->count - given - 1) * share + last;
        share = whole / (double)shares.count;
    }
    return status;
}

enum fw_status fw_plan__anew_cut(struct fw_plan_job *job, size_t field,
                                 struct fw_plan__anew *anew,
                                 struct fw_error *err)
{
    struct cutting cutting = {
        .job = job,
        .field = field,
        .anew = anew,
        .points =
            fw_alloc(fw_plan__chain_most(&anew->chain), sizeof *cutting.points),
    };
    const struct fw_plan__chain_line given[2] = {anew->lines[0],
                                                 anew->lines[1]};
    enum fw_status status = cutting.points ? FW_OK : fw_fail_memory(err);
    cutting.capacity = 2;
    if (!status)
        status = make_room(&cutting, err);
    if (!status) {
        anew->lines[0] = given[0];
        anew->lines[1] = given[1];
        status = cut(&cutting, err);
    }
    fw_plan__grass_release(&cutting.grass);
    fw_herbage_free(cutting.ground);
    fw_free(cutting.points);
    return status;
}

void fw_plan__anew_release(struct fw_plan__anew *anew)
{
    fw_plan__chain_release(&anew->chain);
    fw_free(anew->lines);
    fw_free(anew->days);
    *anew = (struct fw_plan__anew){0};
}
