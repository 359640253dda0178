/* How many paddocks the field makes, and how much of it each one gets. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "layout/pattern.h"

#include <math.h>

/* A strip of two paces in the widest field is one of some thousands. */
static const size_t most_paddocks = 100000;

/* A last paddock that misses its target by less is full: targets that are
 * meant to fill the field add up to it but for rounding. */
static const double rounding = 1e-9;

/* What is left beside full paddocks goes to the last of them when it is less
 * than this share of a paddock. */
static const double crumb = 0.1;

/* When the targets end before the field, the last one goes on. */
static double target_m2(const struct fw_layout_request *request, size_t i)
{
    return request
        ->target_m2[i < request->target_count ? i : request->target_count - 1];
}

static enum fw_status check(const struct fw_layout_request *request,
                            struct fw_error *err)
{
    if (request->target_count == 0)
        return fw_fail(err, FW_EINPUT,
                       "no paddock has a target; expected at least one");
    for (size_t i = 0; i < request->target_count; i++)
        if (!(request->target_m2[i] > 0) || !isfinite(request->target_m2[i]))
            return fw_fail(err, FW_EINPUT,
                           "paddock %zu is to hold %g m2; expected over 0",
                           i + 1, request->target_m2[i]);
    if (request->direction_given && !isfinite(request->direction_deg))
        return fw_fail(err, FW_EINPUT,
                       "the direction is %g degrees; expected a number",
                       request->direction_deg);
    const double area_m2 = request->field->area_m2;
    if (!(area_m2 >= request->target_m2[0] / 2))
        return fw_fail(err, FW_EPLAN,
                       "the field has %.0f m2, less than half of one paddock "
                       "of %.0f m2; graze it in one stay of fewer days, or "
                       "with fewer animals",
                       area_m2, request->target_m2[0]);
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

/* The sums of as many targets as lie in the field; *rest_m2 is what is left.
 * There is always room for one more. */
static enum fw_status sum_up(const struct fw_layout_request *request,
                             struct fw_layout_shares *shares, size_t *count,
                             double *rest_m2, struct fw_error *err)
{
    const double area_m2 = request->field->area_m2;
    struct sum sum = {0, 0};
    size_t n = 0, capacity = 0;
    double reached_m2 = 0;
    for (;;) {
        const enum fw_status status =
            fw_array_reserve(&shares->behind_m2, &capacity, n + 1,
                             sizeof *shares->behind_m2, err);
        if (status)
            return status;
        const double target = target_m2(request, n);
        const double next_m2 = add(&sum, target);
        if (next_m2 > area_m2 + rounding * target)
            break;
        if (n == most_paddocks)
            return fw_fail(err, FW_EINPUT,
                           "paddocks of %g m2 in a field of %g m2 are more "
                           "than %zu; expected fewer, check the units",
                           target, area_m2, most_paddocks);
        shares->behind_m2[n++] = reached_m2 = next_m2;
    }
    *count = n;
    *rest_m2 = fmax(0, area_m2 - reached_m2);
    return FW_OK;
}

static void leave_short(const struct fw_layout_request *request,
                        struct fw_layout_shares *shares, size_t full,
                        double rest_m2)
{
    const double rest_share = rest_m2 / target_m2(request, full);
    shares->share = 1;
    shares->full_count = full;
    if (rest_share <= rounding && full > 0) {
        shares->count = full;
        shares->last_share = 1;
    } else if (rest_share < crumb && full > 0) {
        shares->count = full;
        shares->last_share = 1 + rest_m2 / target_m2(request, full - 1);
    } else {
        shares->count = full + 1;
        shares->last_share = rest_share;
    }
}

static void make_even(const struct fw_layout_request *request,
                      struct fw_layout_shares *shares, size_t fitting,
                      double rest_m2)
{
    const double last_m2 = target_m2(request, fitting);
    const bool one_more = fitting == 0 || rest_m2 >= last_m2 / 2;
    shares->count = fitting + one_more;
    if (one_more)
        shares->behind_m2[fitting] =
            (fitting ? shares->behind_m2[fitting - 1] : 0) + last_m2;
    shares->share =
        request->field->area_m2 / shares->behind_m2[shares->count - 1];
    for (size_t i = 0; i < shares->count; i++)
        shares->behind_m2[i] *= shares->share;
    shares->last_share = shares->share;
    shares->full_count = shares->share >= 1 - rounding ? shares->count : 0;
}

/* From the far end the same targets in the same order, so that the shares are
 * mirrored, and alike when they are a palindrome. */
static enum fw_status look_back(const struct fw_layout_request *request,
                                struct fw_layout_shares *shares,
                                struct fw_error *err)
{
    const double area_m2 = request->field->area_m2;
    const size_t cuts = shares->count - 1;
    shares->ahead_m2 = fw_alloc(cuts, sizeof *shares->ahead_m2);
    if (!shares->ahead_m2)
        return fw_fail_memory(err);
    shares->alike = true;
    for (size_t i = 0; i < cuts; i++) {
        shares->ahead_m2[i] = area_m2 - shares->behind_m2[cuts - 1 - i];
        if (!(fabs(shares->ahead_m2[i] - shares->behind_m2[i]) <=
              rounding * target_m2(request, i)))
            shares->alike = false;
    }
    return FW_OK;
}

enum fw_status fw_layout__share(const struct fw_layout_request *request,
                                struct fw_layout_shares *out,
                                struct fw_error *err)
{
    struct fw_layout_shares shares = {0};
    size_t full = 0;
    double rest_m2 = 0;
    enum fw_status status = check(request, err);
    if (!status)
        status = sum_up(request, &shares, &full, &rest_m2, err);
    if (!status) {
        if (request->last == FW_LAST_EVEN)
            make_even(request, &shares, full, rest_m2);
        else
            leave_short(request, &shares, full, rest_m2);
        status = look_back(request, &shares, err);
    }
    if (status)
        fw_layout__shares_release(&shares);
    else
        *out = shares;
    return status;
}

void fw_layout__shares_release(struct fw_layout_shares *shares)
{
    fw_free(shares->behind_m2);
    fw_free(shares->ahead_m2);
    *shares = (struct fw_layout_shares){0};
}
