/* Cuts, the order of grazing and what each paddock must hold depend on each
 * other: they are made again until they agree. */
#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "layout/pattern.h"

#include <math.h>
#include <string.h>

/* Cuts with other targets may want another order, and so other targets. */
enum {
    usual_rounds = FW_EFFORT(5),
    most_rounds = FW_EFFORT(10), /* as long as there is no other layout */
    feed_rounds = FW_EFFORT(100)
};

struct settle {
    const struct fw_layout_request *request;
    const struct fw_layout_shares *shares;
    size_t count;
    size_t *order;
    double *behind;  /* by rank, in the ground that is cut */
    double *by_plot; /* the same of the cuts */
    double *wanted;  /* of cuts for the order */
    double *held;    /* by rank: on the ground of its own day */
    double *missed;  /* by rank: by what share it missed what it is to hold */
    double *pull;    /* by rank: how far the next cut goes to mend that */
    double last_share, share;
};

static bool settle_alloc(struct settle *settle)
{
    const size_t count = settle->count;
    settle->order = fw_alloc(count, sizeof *settle->order);
    settle->behind = fw_alloc(count, sizeof *settle->behind);
    settle->by_plot = fw_alloc(count, sizeof *settle->by_plot);
    settle->wanted = fw_alloc(count, sizeof *settle->wanted);
    settle->held = fw_alloc(count, sizeof *settle->held);
    settle->missed = fw_alloc(count, sizeof *settle->missed);
    settle->pull = fw_alloc(count, sizeof *settle->pull);
    return settle->order && settle->behind && settle->by_plot &&
           settle->wanted && settle->held && settle->missed && settle->pull;
}

static void settle_release(struct settle *settle)
{
    fw_free(settle->order);
    fw_free(settle->behind);
    fw_free(settle->by_plot);
    fw_free(settle->wanted);
    fw_free(settle->held);
    fw_free(settle->missed);
    fw_free(settle->pull);
}

/* ---- the order ---- */

/* Targets belong to ranks of the order; plots get those of their ranks. */
static void targets_by_plot(const double *behind, size_t count,
                            const size_t *order, double *by_plot)
{
    for (size_t rank = 0; rank < count; rank++)
        by_plot[order[rank]] = behind[rank] - (rank > 0 ? behind[rank - 1] : 0);
    for (size_t plot = 1; plot < count; plot++)
        by_plot[plot] += by_plot[plot - 1];
    by_plot[count - 1] = behind[count - 1];
}

static bool same_cuts(const double *a, const double *b, size_t count)
{
    const double rounding = FW_TOLERANCE(1e-9);
    for (size_t i = 0; i < count; i++)
        if (fabs(a[i] - b[i]) > rounding * b[count - 1] / (double)count)
            return false;
    return true;
}

/* Do the cuts hold what the order wants? Where that goes round, any order will
 * do in which every paddock holds its own. */
static enum fw_status find_order(struct settle *settle, int round,
                                 struct fw_layout *out, bool *settled,
                                 struct fw_error *err)
{
    enum fw_status status = fw_layout__order(
        out, settle->request, settle->shares, settle->order, err);
    if (status)
        return status;
    targets_by_plot(settle->behind, settle->count, settle->order,
                    settle->wanted);
    *settled = same_cuts(settle->wanted, settle->by_plot, settle->count);
    if (!*settled && round > 0 && settle->request->keep_count == 0)
        status = fw_layout__order_for(out, settle->request, settle->behind,
                                      settle->order, settled, err);
    return status;
}

/* ---- feed that differs from day to day ---- */

/* When the targets end before the field, the last one goes on. */
static const struct fw_layout_day *day_of(const struct settle *settle,
                                          size_t rank)
{
    const size_t count = settle->request->target_count;
    return &settle->request->days[rank < count ? rank : count - 1];
}

/* All but the last hold their own, or each the same share of it. */
static double held_wrongly(struct settle *settle)
{
    const size_t last = settle->count - 1;
    double held = 0, own = 0, worst = 0;
    for (size_t rank = 0; rank <= last; rank++) {
        held += settle->held[rank];
        own += day_of(settle, rank)->kg;
    }
    settle->share = settle->shares->even ? held / own : 1;
    settle->last_share = settle->held[last] / day_of(settle, last)->kg;
    for (size_t rank = 0; rank < last + settle->shares->even; rank++) {
        const double before = settle->missed[rank];
        const double missed =
            settle->held[rank] / (settle->share * day_of(settle, rank)->kg) - 1;
        const double too_far = FW_EFFORT(0.5);
        if (missed * before < 0 && fabs(missed) > too_far * fabs(before))
            settle->pull[rank] *= too_far;
        settle->missed[rank] = missed;
        worst = fmax(worst, fabs(missed));
    }
    return worst;
}

static enum fw_status measure(struct settle *settle,
                              const struct fw_layout *layout,
                              struct fw_error *err)
{
    for (size_t rank = 0; rank < settle->count; rank++) {
        settle->held[rank] = fw_layout__holds_kg(layout, settle->request->field,
                                                 settle->order[rank],
                                                 day_of(settle, rank)->ground);
        if (isnan(settle->held[rank]))
            return fw_fail_memory(err);
    }
    return FW_OK;
}

/* A paddock that held too little gets more of the ground. false: nothing would
 * be left for the last one. */
static bool mend(struct settle *settle)
{
    const size_t last = settle->count - 1;
    const double all = settle->behind[last];
    double before = 0, sum = 0;
    for (size_t rank = 0; rank <= last; rank++) {
        const double wide = settle->behind[rank] - before;
        before = settle->behind[rank];
        sum += rank < last + settle->shares->even
                   ? wide * pow(1 + settle->missed[rank], -settle->pull[rank])
                   : fmax(0, all - sum);
        settle->behind[rank] = sum;
    }
    for (size_t rank = 0; settle->shares->even && rank < last; rank++)
        settle->behind[rank] *= all / sum;
    settle->behind[last] = all;
    return last == 0 || settle->behind[last - 1] < all;
}

static enum fw_status settle_feed(struct settle *settle,
                                  struct fw_layout *layout, bool *settled,
                                  bool *lost, struct fw_error *err)
{
    const double rounding = FW_TOLERANCE(1e-10);
    const enum fw_status status = measure(settle, layout, err);
    if (status)
        return status;
    *settled = held_wrongly(settle) <= rounding;
    if (*settled) {
        for (size_t rank = 0; rank < settle->count; rank++)
            layout->holds[settle->order[rank]] = settle->held[rank];
        return FW_OK;
    }
    *lost = !mend(settle);
    targets_by_plot(settle->behind, settle->count, settle->order,
                    settle->wanted);
    return FW_OK;
}

static void tell_shares(const struct settle *settle, struct fw_layout *out)
{
    out->even = settle->shares->even;
    out->share = settle->share;
    out->last_share = out->even ? settle->share : settle->last_share;
    out->full_count = settle->shares->full_count;
}

/* ---- both ---- */

static enum fw_status settle_rounds(struct settle *settle, int rounds,
                                    const struct fw_design *design,
                                    struct fw_layout *out, bool *whole,
                                    struct fw_error *err)
{
    const bool feed = settle->request->days != NULL;
    enum fw_status status = FW_OK;
    bool settled = false, lost = false;
    int wavered = 0;
    for (int round = 0; !status && !settled && !lost && wavered < rounds &&
                        round < feed_rounds;
         round++) {
        status = fw_layout__cut(settle->request, design, settle->by_plot, out,
                                whole, err);
        if (status || !*whole)
            break;
        status = find_order(settle, wavered, out, &settled, err);
        wavered += !settled;
        if (!status && settled && feed)
            status = settle_feed(settle, out, &settled, &lost, err);
        if (!status && settled)
            status = fw_layout__arrange(out, settle->order, err);
        if (status || !settled)
            fw_layout_release(out);
        memcpy(settle->by_plot, settle->wanted,
               settle->count * sizeof *settle->by_plot);
    }
    *whole = settled;
    return status;
}

static void begin(struct settle *settle)
{
    const size_t size = settle->count * sizeof(double);
    memcpy(settle->behind, settle->shares->behind, size);
    memset(settle->missed, 0, size);
    for (size_t rank = 0; rank < settle->count; rank++)
        settle->pull[rank] = 1;
}

enum fw_status fw_layout__settle(const struct fw_layout_request *request,
                                 const struct fw_layout_shares *shares,
                                 const struct fw_design *design, bool only,
                                 struct fw_layout *out, struct fw_error *err)
{
    struct settle settle = {.request = request,
                            .shares = shares,
                            .count = shares->count,
                            .last_share = shares->last_share,
                            .share = shares->share};
    bool whole = false;
    enum fw_status status = settle_alloc(&settle) ? FW_OK : fw_fail_memory(err);
    if (!status) {
        begin(&settle);
        memcpy(settle.by_plot, shares->behind,
               settle.count * sizeof *settle.by_plot);
        status = settle_rounds(&settle, only ? most_rounds : usual_rounds,
                               design, out, &whole, err);
    }
    if (!status && whole)
        tell_shares(&settle, out);
    settle_release(&settle);
    return status;
}
