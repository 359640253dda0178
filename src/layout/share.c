/* How many paddocks the field makes, and how much of it each one gets. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "layout/pattern.h"

#include <math.h>

/* A strip of two paces in the widest field is one of some thousands. */
static const size_t most_paddocks = FW_BOUND(100000);

/* A last paddock that misses its target by less is full: targets that are
 * meant to fill the field add up to it but for rounding. */
static const double rounding = FW_TOLERANCE(1e-9);

/* When the targets end before the field, the last one goes on. */
static double target(const struct fw_layout_request *request, size_t i)
{
    return request
        ->target[i < request->target_count ? i : request->target_count - 1];
}

static const char *unit(const struct fw_layout_request *request)
{
    return request->ground ? "kg" : "m2";
}

static enum fw_status check(const struct fw_layout_request *request,
                            double holds, struct fw_error *err)
{
    if (request->target_count == 0)
        return fw_fail(err, FW_EINPUT,
                       "no paddock has a target; expected at least one");
    for (size_t i = 0; i < request->target_count; i++)
        if (!(request->target[i] > 0) || !isfinite(request->target[i]))
            return fw_fail(err, FW_EINPUT,
                           "paddock %zu is to hold %g %s; expected over 0",
                           i + 1, request->target[i], unit(request));
    if (request->last == FW_LAST_GIVEN && request->lane)
        return fw_fail(err, FW_EINPUT,
                       "just the targets given do not go with a lane given; "
                       "leave one of them out");
    if (request->direction_given && !isfinite(request->direction_deg))
        return fw_fail(err, FW_EINPUT,
                       "the direction is %g degrees; expected a number",
                       request->direction_deg);
    if (!(holds >= request->target[0] / 2))
        return fw_fail(err, FW_EPLAN,
                       "the field has %.0f %s, less than half of one paddock "
                       "of %.0f %s; graze it in one stay of fewer days, or "
                       "with fewer animals",
                       holds, unit(request), request->target[0], unit(request));
    return FW_OK;
}

/* A sum with its rounding error: thousands of targets add up to the field. */
struct sum {
    double high, low;
};

static double add(struct sum *sum, double x)
{
    const double high = sum->high + x;
    const double back = high - sum->high;
    sum->low += (sum->high - (high - back)) + (x - back);
    sum->high = high;
    return sum->high + sum->low;
}

/* The sums of as many targets as lie in the field; *rest is what is left.
 * There is always room for one more. */
static enum fw_status sum_up(const struct fw_layout_request *request,
                             double holds, struct fw_layout_shares *shares,
                             size_t *count, double *rest, struct fw_error *err)
{
    struct sum sum = {0, 0};
    size_t n = 0, capacity = 0;
    double reached = 0;
    for (;;) {
        const bool all =
            request->last == FW_LAST_GIVEN && n == request->target_count;
        const enum fw_status status = fw_array_reserve(
            &shares->behind, &capacity, n + 1, sizeof *shares->behind, err);
        if (status)
            return status;
        if (all)
            break;
        const double wanted = target(request, n);
        const double next = add(&sum, wanted);
        if (next > holds + rounding * wanted) {
            if (request->last != FW_LAST_GIVEN)
                break;
            return fw_fail(err, FW_EPLAN,
                           "the field has %.0f %s, less than the first %zu of "
                           "%zu paddocks are to hold: %.0f %s",
                           holds, unit(request), n + 1, request->target_count,
                           next, unit(request));
        }
        if (n == most_paddocks)
            return fw_fail(err, FW_EINPUT,
                           "paddocks of %g %s in a field of %g %s are more "
                           "than %zu; expected fewer, check the units",
                           wanted, unit(request), holds, unit(request),
                           most_paddocks);
        shares->behind[n++] = reached = next;
    }
    *count = n;
    *rest = fmax(0, holds - reached);
    return FW_OK;
}

static void leave_short(const struct fw_layout_request *request,
                        struct fw_layout_shares *shares, size_t full,
                        double rest)
{
    const double rest_share = rest / target(request, full);
    shares->share = 1;
    shares->full_count = full;
    if (rest_share <= rounding && full > 0) {
        shares->count = full;
        shares->last_share = 1;
    } else if (rest_share < FW_LAST_CRUMB_SHARE && full > 0 &&
               request->last != FW_LAST_GIVEN) {
        shares->count = full;
        shares->last_share = 1 + rest / target(request, full - 1);
    } else {
        shares->count = full + 1;
        shares->last_share = rest_share;
    }
}

static void make_even(const struct fw_layout_request *request, double holds,
                      struct fw_layout_shares *shares, size_t fitting,
                      double rest)
{
    const double last = target(request, fitting);
    const bool one_more = fitting == 0 || rest >= last * FW_LAST_HALF_SHARE;
    shares->count = fitting + one_more;
    if (one_more)
        shares->behind[fitting] =
            (fitting ? shares->behind[fitting - 1] : 0) + last;
    shares->share = holds / shares->behind[shares->count - 1];
    for (size_t i = 0; i < shares->count; i++)
        shares->behind[i] *= shares->share;
    shares->last_share = shares->share;
    shares->full_count = shares->share >= 1 - rounding ? shares->count : 0;
}

/* `rest` is what is left beside so many full ones. A few paddocks cannot take
 * it in without being far too large. */
static bool is_even(const struct fw_layout_request *request, size_t full,
                    double rest, double holds)
{
    if (request->last != FW_LAST_FIT)
        return request->last == FW_LAST_EVEN;
    const double share = rest / target(request, full);
    return full > 0 && share >= FW_LAST_CRUMB_SHARE &&
           share < FW_LAST_HALF_SHARE - rounding &&
           holds <= FW_LAST_EVEN_SHARE * (holds - rest);
}

enum fw_status fw_layout__share(const struct fw_layout_request *request,
                                double holds, struct fw_layout_shares *out,
                                struct fw_error *err)
{
    struct fw_layout_shares shares = {0};
    size_t full = 0;
    double rest = 0;
    enum fw_status status = check(request, holds, err);
    if (!status)
        status = sum_up(request, holds, &shares, &full, &rest, err);
    if (!status) {
        shares.even = is_even(request, full, rest, holds);
        if (shares.even)
            make_even(request, holds, &shares, full, rest);
        else
            leave_short(request, &shares, full, rest);
        shares.behind[shares.count - 1] = holds;
    }
    if (status)
        fw_layout__shares_release(&shares);
    else
        *out = shares;
    return status;
}

void fw_layout__shares_release(struct fw_layout_shares *shares)
{
    fw_free(shares->behind);
    *shares = (struct fw_layout_shares){0};
}
