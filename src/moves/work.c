/* The moves that are made already, where a season is told from its beginning:
 * what they set and took down is as it was, whatever the moves that follow
 * would have liked to find. From the first move on that is not made, each line
 * stands as it is needed. */
#include "moves/inner.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"

/* One line as it stands when the last of them is made. */
struct standing {
    bool stands;
    size_t up, need; /* since when; FW_NONE: before the first */
    bool met;        /* a span of what comes was looked at */
};

struct joining {
    const struct fw_time_start *start;
    const struct fw_moves__spans *wanted;
    bool ahead; /* fenced ahead, as a habit */
    struct standing *now;
    struct fw_moves__spans out;
};

static enum fw_status add(struct joining *joining,
                          const struct fw_moves__span *span,
                          struct fw_error *err)
{
    struct fw_moves__spans *out = &joining->out;
    const enum fw_status status = fw_array_reserve(
        &out->items, &out->capacity, out->count + 1, sizeof *out->items, err);
    if (!status)
        out->items[out->count++] = *span;
    return status;
}

static enum fw_status end_at(struct joining *joining, size_t line, size_t move,
                             struct fw_error *err)
{
    struct standing *now = &joining->now[line];
    now->stands = false;
    return add(joining,
               &(struct fw_moves__span){line, now->up, move, now->need}, err);
}

static enum fw_status as_worked(struct joining *joining, struct fw_error *err)
{
    const struct fw_time_start *start = joining->start;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < start->work_count; i++) {
        const struct fw_time_work *work = &start->works[i];
        struct standing *now = &joining->now[work->line];
        if (work->down && now->stands)
            status = end_at(joining, work->line, work->move, err);
        else if (!work->down && !now->stands)
            *now = (struct standing){.stands = true,
                                     .up = work->move,
                                     .need = work->move + work->ahead};
    }
    return status;
}

/* A line that stands stays for what wants it soon, else comes down first. */
static enum fw_status from_now_on(struct joining *joining,
                                  const struct fw_moves__span *wanted,
                                  struct fw_error *err)
{
    const size_t made = joining->start->made;
    struct standing *now = &joining->now[wanted->line];
    struct fw_moves__span span = *wanted;
    enum fw_status status = FW_OK;
    if (span.down < made)
        return FW_OK;
    if (span.up == FW_NONE || span.up < made)
        span.up = made;
    if (span.need < span.up)
        span.need = span.up;
    if (now->stands && !now->met) {
        if (span.need <= made + joining->ahead + fw_moves__short_gap) {
            span.up = now->up;
            span.need = now->need;
        } else {
            status = end_at(joining, span.line, made, err);
        }
    }
    now->met = true;
    return status ? status : add(joining, &span, err);
}

static enum fw_status join(struct joining *joining, const struct fw_land *land,
                           struct fw_error *err)
{
    const struct fw_moves__spans *wanted = joining->wanted;
    enum fw_status status = FW_OK;
    for (size_t l = 0; l < land->line_count; l++)
        joining->now[l] = (struct standing){
            .stands = fw_moves__stood(joining->start, l), .up = FW_NONE};
    status = as_worked(joining, err);
    for (size_t i = 0; !status && i < wanted->count; i++)
        status = from_now_on(joining, &wanted->items[i], err);
    for (size_t l = 0; !status && l < land->line_count; l++)
        if (joining->now[l].stands && !joining->now[l].met)
            status = end_at(joining, l, joining->start->made, err);
    return status;
}

enum fw_status fw_moves__as_made(const struct fw_land *land,
                                 const struct fw_habits *habits,
                                 const struct fw_time_start *start,
                                 struct fw_moves__spans *spans,
                                 struct fw_error *err)
{
    if (!start || start->made == 0)
        return FW_OK;
    struct joining joining = {
        .start = start,
        .wanted = spans,
        .ahead = !habits->set_first,
        .now = fw_alloc(land->line_count, sizeof *joining.now),
    };
    const enum fw_status status =
        joining.now ? join(&joining, land, err) : fw_fail_memory(err);
    fw_free(joining.now);
    if (status) {
        fw_free(joining.out.items);
        return status;
    }
    fw_free(spans->items);
    *spans = joining.out;
    return FW_OK;
}

bool fw_moves__order_made(const struct fw_time_start *start, size_t move,
                          bool down, size_t *lines, size_t count)
{
    size_t n = 0;
    if (!start || move >= start->made)
        return false;
    for (size_t i = 0; n < count && i < start->work_count; i++) {
        const struct fw_time_work *work = &start->works[i];
        if (work->move != move || work->down != down)
            continue;
        for (size_t k = n; k < count; k++)
            if (lines[k] == work->line) {
                lines[k] = lines[n];
                lines[n++] = work->line;
                break;
            }
    }
    return true;
}
