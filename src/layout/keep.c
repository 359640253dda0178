/* Which paddocks are kept back to the end: they have what the flock needs in a
 * storm or in heat. One after the other is held back whose going leaves every
 * other paddock reached, and among these the one that costs the fewest ways
 * back, the latest first. The one in which the order begins is never held. */
#include "base/alloc.h"
#include "base/fail.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "layout/order.h"

#include <math.h>
#include <string.h>

/* ---- what touches what ---- */

static bool is_at(const struct fw_layout_mark *mark,
                  const struct fw_point *ring, size_t count)
{
    const struct fw_area area = {mark->points, mark->ring_start,
                                 mark->ring_count};
    return fw_area_is_at(&area, mark->area, ring, count, FW_KEEP_REACH_M);
}

/* has[kind * count + plot]: does the plot touch a mark of that kind? */
static enum fw_status find_marks(const struct fw_layout__search *search,
                                 const struct fw_layout_request *request,
                                 bool *has, struct fw_error *err)
{
    const struct fw_layout *layout = search->layout;
    struct fw_point *points =
        fw_alloc(layout->ring_start[layout->ring_count], sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    for (size_t p = 0; p < layout->paddock_count; p++) {
        const size_t r = layout->piece_ring[layout->paddock_piece[p]];
        const size_t first = layout->ring_start[r];
        const size_t count = layout->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++)
            points[i] = fw_layout__point(layout, search->field,
                                         layout->ring_vertices[first + i]);
        for (size_t k = 0; k < request->keep_count; k++) {
            const struct fw_layout_keep *keep = &request->keep[k];
            bool *here = &has[k * layout->paddock_count + p];
            for (size_t m = 0; !*here && m < keep->mark_count; m++)
                *here = is_at(&keep->marks[m], points, count);
        }
    }
    fw_free(points);
    return FW_OK;
}

/* ---- which are held ---- */

struct keeping {
    struct fw_layout__search *search;
    const struct fw_layout_request *request;
    const struct fw_layout_shares *shares;
    bool *has;
    size_t *order, *best; /* by rank; best: of those tried */
    struct fw_layout__trial trial;
    size_t *barred; /* by plot */
};

/* Stays for which the ones that are held for it last. */
static double stays_of(const struct keeping *keeping, size_t kind)
{
    const size_t count = keeping->search->layout->paddock_count;
    double sum = 0;
    for (size_t rank = 0; rank < count; rank++) {
        if (keeping->search->kept[keeping->order[rank]] != kind + 1)
            continue;
        sum += keeping->shares->even ? keeping->shares->share
               : rank + 1 < count    ? 1
                                     : fmin(1, keeping->shares->last_share);
    }
    return sum;
}

static double missing(const struct keeping *keeping, size_t kind)
{
    const double stays =
        keeping->request->keep[kind].stays - stays_of(keeping, kind);
    return stays > FW_KEEP_MISSED_DAYS + FW_TOLERANCE(1e-9) ? stays : 0;
}

/* Hold back one more for that kind; false: there is none that can be. */
static bool hold_one(struct keeping *keeping, size_t kind)
{
    struct fw_layout__search *search = keeping->search;
    const size_t count = search->layout->paddock_count;
    const size_t first = keeping->order[0];
    struct fw_layout__trial least = {0, FW_INSIDE};
    size_t found = FW_INSIDE;
    for (size_t rank = count; rank-- > 0;) {
        const size_t plot = keeping->order[rank];
        if (!keeping->has[kind * count + plot] || search->kept[plot])
            continue;
        search->kept[plot] = kind + 1;
        const struct fw_layout__trial trial =
            plot == first ? (struct fw_layout__trial){FW_INSIDE, 0}
                          : fw_layout__find_order(search, first, keeping->best);
        search->kept[plot] = 0;
        if (trial.apart > keeping->trial.apart) {
            keeping->barred[plot] = kind + 1;
        } else if (found == FW_INSIDE || trial.turns < least.turns) {
            found = plot;
            least = trial;
        }
        if (found != FW_INSIDE && least.turns <= keeping->trial.turns)
            break;
    }
    if (found == FW_INSIDE)
        return false;
    search->kept[found] = kind + 1;
    keeping->barred[found] = 0;
    keeping->trial = fw_layout__find_order(search, first, keeping->order);
    return true;
}

static double missing_of_all(const struct keeping *keeping)
{
    double sum = 0;
    for (size_t k = 0; k < keeping->request->keep_count; k++)
        sum += missing(keeping, k);
    return sum;
}

/* What was held for one kind may have become more than it takes, since the
 * short last paddock went to another kind. */
static void let_go(struct keeping *keeping)
{
    struct fw_layout__search *search = keeping->search;
    const size_t count = search->layout->paddock_count;
    const size_t first = keeping->order[0];
    const double before = missing_of_all(keeping);
    for (size_t plot = 0; plot < count; plot++) {
        const size_t held = search->kept[plot];
        if (held == 0)
            continue;
        search->kept[plot] = 0;
        memcpy(keeping->best, keeping->order, count * sizeof *keeping->best);
        const struct fw_layout__trial trial =
            fw_layout__find_order(search, first, keeping->order);
        if (trial.apart <= keeping->trial.apart &&
            missing_of_all(keeping) <= before) {
            keeping->trial = trial;
            continue;
        }
        search->kept[plot] = held;
        memcpy(keeping->order, keeping->best, count * sizeof *keeping->order);
    }
}

/* The last paddock is short, and which it is changes with each that is held:
 * so until nothing is missing that can be had. */
static void hold(struct keeping *keeping)
{
    bool more = true;
    while (more) {
        more = false;
        for (size_t k = 0; !more && k < keeping->request->keep_count; k++)
            more = missing(keeping, k) > 0 && hold_one(keeping, k);
    }
    let_go(keeping);
}

static void tell(const struct keeping *keeping, struct fw_layout *layout)
{
    layout->keep_short = 0;
    for (size_t k = 0; k < keeping->request->keep_count; k++)
        layout->keep_short += missing(keeping, k);
    for (size_t rank = 0; rank < layout->paddock_count; rank++) {
        const size_t plot = keeping->order[rank];
        const size_t held = keeping->search->kept[plot];
        const size_t barred = held ? 0 : keeping->barred[plot];
        layout->keep[rank] = held;
        layout->barred[rank] =
            barred && missing(keeping, barred - 1) > 0 ? barred : 0;
    }
}

enum fw_status fw_layout__keep(struct fw_layout__search *search,
                               struct fw_layout *layout,
                               const struct fw_layout_request *request,
                               const struct fw_layout_shares *shares,
                               size_t *order, struct fw_layout__trial *trial,
                               struct fw_error *err)
{
    const size_t count = layout->paddock_count;
    struct keeping keeping = {
        .search = search,
        .request = request,
        .shares = shares,
        .has = fw_alloc(count * request->keep_count, sizeof *keeping.has),
        .order = order,
        .best = fw_alloc(count, sizeof *keeping.best),
        .trial = *trial,
        .barred = fw_alloc(count, sizeof *keeping.barred),
    };
    layout->keep = fw_alloc(count, sizeof *layout->keep);
    layout->barred = fw_alloc(count, sizeof *layout->barred);
    enum fw_status status = keeping.has && keeping.best && keeping.barred &&
                                    layout->keep && layout->barred
                                ? find_marks(search, request, keeping.has, err)
                                : fw_fail_memory(err);
    if (!status) {
        hold(&keeping);
        tell(&keeping, layout);
        *trial = keeping.trial;
    }
    fw_free(keeping.has);
    fw_free(keeping.best);
    fw_free(keeping.barred);
    return status;
}
