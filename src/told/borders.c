/* Parts of one field: what their sides hold, in which order they are grazed,
 * and how the flock comes from one into the next. The part at the gate is
 * first; each of the others follows one that it lies beside, and its border
 * with those before it is a front: a fence that stands from the first day on,
 * in which an opening is made when they come. */
#include "told/split.h"

#include "base/alloc.h"
#include "figures/mark.h"
#include <string.h>

bool fw_farm__is_part_of(const struct fw_farm_field *field, const char *name)
{
    return strcmp(field->shape->name, name) == 0 ||
           (field->border.whole &&
            strcmp(field->border.whole->name, name) == 0);
}

const struct fw_field *fw_farm__outer(const struct fw_farm_field *field)
{
    return field->border.whole ? field->border.whole : field->shape;
}

bool fw_farm__is_one(const struct fw_farm *farm)
{
    for (size_t i = 1; i < farm->field_count; i++)
        if (!farm->fields[i].border.whole ||
            farm->fields[i].border.whole != farm->fields[0].border.whole)
            return false;
    return true;
}

/* ---- sides ---- */

/* A side runs clockwise, against the ring; where a border goes on straight from
 * the boundary, the side is what the boundary is. */
static struct fw_farm_side side_of(const struct fw_farm_field *part,
                                   const struct fw_farm_side *sides,
                                   size_t side)
{
    const struct fw_field *shape = part->shape;
    const size_t count = shape->ring_start[1];
    const size_t end = shape->corners[(side + 1) % shape->corner_count];
    size_t at = shape->corners[side];
    do {
        const size_t before = at > 0 ? at - 1 : count - 1;
        if (part->border.beyond[before] == 0) {
            const struct fw_point a = shape->vertices[at].plane;
            const struct fw_point b = shape->vertices[before].plane;
            const struct fw_point middle = {(a.x_m + b.x_m) / 2,
                                            (a.y_m + b.y_m) / 2};
            const size_t number = fw_field_side_at(part->border.whole, middle);
            return number ? sides[number - 1]
                          : (struct fw_farm_side){part->hole_holds, FW_UNTOLD};
        }
        at = before;
    } while (at != end);
    return (struct fw_farm_side){FW_HOLDS_LAMBS, FW_YES};
}

void fw_farm__part_sides(struct fw_farm_field *part,
                         const struct fw_farm_side *sides)
{
    for (size_t i = 0; i < part->shape->corner_count; i++)
        part->sides[i] = side_of(part, sides, i);
}

/* ---- order ---- */

/* Does the place, told for the whole field, lie at this part of it? */
static bool has_place(const struct fw_farm_field *part,
                      const struct fw_spot *spot)
{
    static const double step_m = FW_TOLERANCE(1);
    return spot->given &&
           fw_farm__distance_m(part->shape, spot->point) <=
               fw_farm__distance_m(part->border.whole, spot->point) + step_m;
}

static bool is_at_gate(const struct fw_farm_field *part)
{
    return has_place(part, part->gate.given ? &part->gate : &part->water);
}

struct order {
    struct fw_farm_field *fields;
    size_t count;
    size_t *order; /* of all fields */
    size_t order_count;
    bool *taken;  /* of all fields: it is in the order */
    bool *before; /* of a whole field's parts by number: grazed before, or not
                     among the fields */
};

static bool follows(const struct order *order, const struct fw_farm_field *part)
{
    for (size_t v = 0; v < part->shape->vertex_count; v++)
        if (part->border.beyond[v] && order->before[part->border.beyond[v]])
            return true;
    return false;
}

/* The next part of a whole field: at the gate, or beside what is grazed. */
static size_t next_part(const struct order *order, const struct fw_field *whole,
                        bool first)
{
    size_t next = FW_NONE, any = FW_NONE;
    for (size_t i = order->count; i-- > 0;) {
        const struct fw_farm_field *part = &order->fields[i];
        if (order->taken[i] || part->border.whole != whole)
            continue;
        any = i;
        if (first ? is_at_gate(part) : follows(order, part))
            next = i;
    }
    return next == FW_NONE ? any : next;
}

/* Where they come into it out of another part, or over ground that is not
 * planned here. */
static enum fw_status set_front(const struct order *order,
                                struct fw_farm_field *part, bool first,
                                struct fw_error *err)
{
    const size_t count = part->shape->vertex_count;
    if (!follows(order, part) || (first && is_at_gate(part)))
        return FW_OK;
    bool *runs = fw_alloc(count, sizeof *runs);
    if (!runs)
        return fw_fail_memory(err);
    for (size_t v = 0; v < count; v++)
        runs[v] =
            part->border.beyond[v] && order->before[part->border.beyond[v]];
    part->front = (struct fw_farm_front){.given = true, .runs = runs};
    return FW_OK;
}

static size_t most_number(const struct fw_farm_field *part)
{
    size_t most = part->border.number;
    for (size_t v = 0; v < part->shape->vertex_count; v++)
        if (part->border.beyond[v] > most)
            most = part->border.beyond[v];
    return most;
}

static enum fw_status order_parts(struct order *order,
                                  const struct fw_field *whole,
                                  struct fw_error *err)
{
    size_t most = 0;
    for (size_t i = 0; i < order->count; i++) {
        const struct fw_farm_field *part = &order->fields[i];
        if (part->border.whole == whole && most_number(part) > most)
            most = most_number(part);
    }
    order->before = fw_alloc(most + 1, sizeof *order->before);
    if (!order->before)
        return fw_fail_memory(err);
    for (size_t i = 0; i <= most; i++)
        order->before[i] = true;
    for (size_t i = 0; i < order->count; i++)
        if (order->fields[i].border.whole == whole)
            order->before[order->fields[i].border.number] = false;
    enum fw_status status = FW_OK;
    bool first = true;
    for (size_t at; !status && (at = next_part(order, whole, first)) != FW_NONE;
         first = false) {
        struct fw_farm_field *part = &order->fields[at];
        status = set_front(order, part, first, err);
        order->before[part->border.number] = true;
        order->taken[at] = true;
        order->order[order->order_count++] = at;
    }
    fw_free(order->before);
    return status;
}

static enum fw_status order_all(struct order *order, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < order->count; i++) {
        if (order->taken[i])
            continue;
        if (order->fields[i].border.whole) {
            status = order_parts(order, order->fields[i].border.whole, err);
            continue;
        }
        order->taken[i] = true;
        order->order[order->order_count++] = i;
    }
    return status;
}

enum fw_status fw_farm__borders(struct fw_farm__reader *reader,
                                struct fw_error *err)
{
    struct fw_farm *farm = reader->farm;
    if (farm->whole_count == 0)
        return FW_OK;
    struct order order = {
        .fields = farm->fields,
        .count = farm->field_count,
        .order = fw_alloc(farm->field_count, sizeof *order.order),
        .taken = fw_alloc(farm->field_count, sizeof *order.taken),
    };
    enum fw_status status = order.order && order.taken ? order_all(&order, err)
                                                       : fw_fail_memory(err);
    if (!status)
        status = fw_farm__reorder(reader, order.order, err);
    fw_free(order.order);
    fw_free(order.taken);
    return status;
}
