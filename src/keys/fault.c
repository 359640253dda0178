/* Faults and readings as people write them: "short:A03-04@40m:500ohm",
 * "5.6kV@corner:3". */
#include "keys/fault.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "figures/say.h"
#include <foldwright/quantity.h>

#include <stdlib.h>
#include <string.h>

enum { most_text = FW_EFFORT(200) };

/* What follows the word that a text begins with; NULL: it begins otherwise. */
static const char *after(const char *text, const char *word)
{
    const size_t length = strlen(word);
    return strncmp(text, word, length) == 0 ? text + length : NULL;
}

/* A piece of the text, and what follows its mark; NULL: no mark. */
struct cut {
    char left[most_text];
    const char *right;
};

static struct cut cut_at(const char *text, const char *mark)
{
    struct cut cut = {.right = mark ? mark + 1 : NULL};
    const size_t length = mark ? (size_t)(mark - text) : strlen(text);
    const size_t room = length < most_text ? length : most_text - 1;
    memcpy(cut.left, text, room);
    cut.left[room] = '\0';
    return cut;
}

static enum fw_status find_fence(const struct fw_plan *plan, const char *id,
                                 size_t *out, struct fw_error *err)
{
    const char **ids = fw_alloc(plan->fence_count, sizeof *ids);
    if (!ids)
        return fw_fail_memory(err);
    size_t found = FW_NONE;
    for (size_t i = 0; i < plan->fence_count; i++) {
        ids[i] = plan->fences[i].id;
        if (found == FW_NONE && strcmp(ids[i], id) == 0)
            found = i;
    }
    const char *near = fw_text_nearest(id, ids, plan->fence_count);
    fw_free(ids);
    if (found != FW_NONE) {
        *out = found;
        return FW_OK;
    }
    if (near)
        return fw_fail(err, FW_EINPUT,
                       "the plan has no fence \"%.40s\"; did you mean \"%s\"?",
                       id, near);
    return fw_fail(err, FW_EINPUT,
                   "the plan has no fence \"%.40s\"; its fences are named as "
                   "on the cards, such as \"%s\"",
                   id, plan->fence_count ? plan->fences[0].id : "A01-02");
}

static enum fw_status read_quantity(const char *text, enum fw_kind kind,
                                    const struct fw_plan *plan, double *out,
                                    struct fw_error *err)
{
    struct fw_quantities *quantities;
    enum fw_status status = fw_quantities_new(&quantities, err);
    if (status)
        return status;
    status = fw_quantity_read(quantities, text, kind, plan->units, 1, out, err);
    fw_quantities_free(quantities);
    return status;
}

/* "A03-04@40m" */
static enum fw_status read_place(const struct fw_plan *plan, const char *text,
                                 size_t *fence, double *at_m,
                                 struct fw_error *err)
{
    const struct cut cut = cut_at(text, strrchr(text, '@'));
    if (!cut.right)
        return fw_fail(err, FW_EINPUT,
                       "\"%.60s\" is no place on a fence; expected such as "
                       "A03-04@40m, metres from its end A",
                       text);
    size_t found = FW_NONE;
    double m = 0;
    enum fw_status status = find_fence(plan, cut.left, &found, err);
    if (!status)
        status = read_quantity(cut.right, FW_KIND_LENGTH, plan, &m, err);
    if (status)
        return status;
    const double length_m = plan->fences[found].length_m;
    char length[FW_SAID], told[FW_SAID];
    if (!(m <= length_m + 0.5))
        return fw_fail(
            err, FW_EINPUT, "%s is %s long; %s is beyond its end",
            plan->fences[found].id,
            fw_say_measured(length_m, m, plan->units, FW_DOWN, length),
            fw_say_measured(m, length_m, plan->units, FW_UP, told));
    *fence = found;
    *at_m = m < length_m ? m : length_m;
    return FW_OK;
}

static enum fw_status read_strand(const struct fw_plan *plan, const char *text,
                                  struct fw_plan_fault *out,
                                  struct fw_error *err)
{
    const int strands = plan->fences[out->fence].strands;
    if (!text || strcmp(text, "bottom") == 0)
        out->strand = 0;
    else if (strcmp(text, "top") == 0)
        out->strand = strands > 1 ? strands - 1 : 0;
    else if (strcmp(text, "all") == 0)
        out->strand = -1;
    else
        return fw_fail(err, FW_EINPUT,
                       "\"%.40s\" is no strand; expected bottom, top or all",
                       text);
    return FW_OK;
}

/* What follows "broken:" or "short:". */
static enum fw_status read_rest(const struct fw_plan *plan, const char *text,
                                struct fw_plan_fault *out, struct fw_error *err)
{
    const char *at = strchr(text, '@');
    const struct cut cut = cut_at(text, at ? strchr(at, ':') : NULL);
    enum fw_status status =
        read_place(plan, cut.left, &out->fence, &out->at_m, err);
    if (status)
        return status;
    if (out->kind == FW_FAULT_BROKEN)
        return read_strand(plan, cut.right, out, err);
    out->ohm = FW_CIRCUIT_BODY_OHM;
    return cut.right ? read_quantity(cut.right, FW_KIND_RESISTANCE, plan,
                                     &out->ohm, err)
                     : FW_OK;
}

enum fw_status fw_plan_fault_read(const struct fw_plan *plan, const char *text,
                                  struct fw_plan_fault *out,
                                  struct fw_error *err)
{
    struct fw_plan_fault fault = {.kind = FW_FAULT_RAIN, .fence = FW_NONE};
    const char *rest;
    enum fw_status status = FW_OK;
    if ((rest = after(text, "broken:"))) {
        fault.kind = FW_FAULT_BROKEN;
        status = read_rest(plan, rest, &fault, err);
    } else if ((rest = after(text, "short:"))) {
        fault.kind = FW_FAULT_SHORT;
        status = read_rest(plan, rest, &fault, err);
    } else if (strcmp(text, "rain") != 0) {
        status = fw_fail(err, FW_EINPUT,
                         "\"%.60s\" is no fault; expected broken:FENCE@40m, "
                         "short:FENCE@40m:500ohm or rain",
                         text);
    }
    if (!status)
        *out = fault;
    return status;
}

/* The side that begins at a corner of the field where the flock is. */
static enum fw_status at_corner(const struct fw_plan *plan, int day,
                                const char *text, size_t *fence,
                                struct fw_error *err)
{
    const size_t move = fw_time_move_by(&plan->time, day);
    const size_t home = move == FW_NONE ? 0 : plan->time.moves[move].field;
    const struct fw_plan_field *field = &plan->fields[home];
    const unsigned long corner =
        strspn(text, "0123456789") == strlen(text) && strlen(text) < FW_BOUND(8)
            ? strtoul(text, NULL, 10)
            : 0;
    if (corner < 1 || corner > field->corner_count)
        return fw_fail(err, FW_EINPUT,
                       "there is no corner %.20s; field \"%.80s\" has corners "
                       "1 to %zu, as check shows them",
                       text, field->name, field->corner_count);
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].field == home &&
            plan->fences[i].role == FW_FENCE_PERIMETER &&
            plan->fences[i].side == corner - 1)
            *fence = i;
    return FW_OK;
}

enum fw_status fw_plan_measured_read(const struct fw_plan *plan, int day,
                                     const char *text,
                                     struct fw_plan_measured *out,
                                     struct fw_error *err)
{
    const struct cut cut = cut_at(text, strchr(text, '@'));
    if (!cut.right)
        return fw_fail(err, FW_EINPUT,
                       "\"%.60s\" names no place; expected such as "
                       "5.6kV@A03-04@40m or 5.6kV@corner:3",
                       text);
    struct fw_plan_measured told = {.fence = FW_NONE};
    enum fw_status status =
        read_quantity(cut.left, FW_KIND_VOLTAGE, plan, &told.open_v, err);
    if (status)
        return status;
    const char *corner = after(cut.right, "corner:");
    status = corner ? at_corner(plan, day, corner, &told.fence, err)
                    : read_place(plan, cut.right, &told.fence, &told.at_m, err);
    if (!status && told.fence == FW_NONE)
        status =
            fw_fail(err, FW_EINPUT, "no side begins at \"%.40s\"", cut.right);
    if (!status)
        *out = told;
    return status;
}
