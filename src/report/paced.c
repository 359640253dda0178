/* How a person finds the end of a line, in words. */
#include "report/report.h"

/* "1 pace", "41 paces" */
static void say_paces(struct fw_text *line, int paces)
{
    fw_text_addf(line, "%d pace%s", paces, paces == 1 ? "" : "s");
}

size_t fw_report_side(const struct fw_plan_field *field,
                      const struct fw_plan_paced *end)
{
    if (end->by != FW_PACED_SIDE)
        return 0;
    const bool first = (end->corner + 1) % field->corner_count == end->towards;
    return fw_plan_side_number(field, first ? end->corner : end->towards);
}

size_t fw_report_towards(const struct fw_plan_field *field,
                         const struct fw_plan_paced *end)
{
    return end->by == FW_PACED_SIDE ? fw_plan_corner_number(field, end->towards)
                                    : 0;
}

/* Where the side's other corner went with ground that was taken off, the side
 * itself still has its number. */
static void along_side(struct fw_text *line, const struct fw_plan_field *field,
                       const struct fw_plan_paced *end)
{
    const size_t corner = fw_plan_corner_number(field, end->corner);
    const size_t towards = fw_report_towards(field, end);
    if (end->paces == 0) {
        fw_text_addf(line, "at corner %zu", corner);
        return;
    }
    say_paces(line, end->paces);
    if (towards)
        fw_text_addf(line, " from corner %zu towards corner %zu", corner,
                     towards);
    else
        fw_text_addf(line, " from corner %zu along side %zu", corner,
                     fw_report_side(field, end));
}

/* "on side 2 (A)", "at corner 3 (B)"; its letter alone where its own place
 * takes as many words again. */
static void say_host_end(struct fw_text *line, const struct fw_plan *plan,
                         const struct fw_plan_fence *host, bool far)
{
    const struct fw_plan_field *field = &plan->fields[host->field];
    const struct fw_plan_paced *at = far ? &host->b : &host->a;
    const char *letter = far ? "B" : "A";
    if (at->by == FW_PACED_SIDE && at->paces == 0)
        fw_text_addf(line, " at corner %zu (%s)",
                     fw_plan_corner_number(field, at->corner), letter);
    else if (fw_report_side(field, at))
        fw_text_addf(line, " on side %zu (%s)", fw_report_side(field, at),
                     letter);
    else if (at->by == FW_PACED_LINE)
        fw_text_addf(line, " on %s (%s)", plan->fences[at->fence].id, letter);
    else
        fw_text_addf(line, " %s", letter);
}

static void along_line(struct fw_text *line, const struct fw_plan *plan,
                       const struct fw_plan_paced *end)
{
    const struct fw_plan_fence *host = &plan->fences[end->fence];
    if (end->paces == 0) {
        fw_text_addf(line, "at the end of %s", host->id);
    } else {
        say_paces(line, end->paces);
        fw_text_addf(line, " along %s from its end", host->id);
    }
    say_host_end(line, plan, host, end->far_end);
}

static void straight(struct fw_text *line, const struct fw_plan *plan,
                     const struct fw_plan_field *field,
                     const struct fw_plan_paced *end)
{
    if (end->paces == 0) {
        fw_text_add(line, "at ");
    } else {
        say_paces(line, end->paces);
        fw_text_add(line, " from ");
    }
    if (end->fence != FW_NONE)
        fw_text_addf(line, "end %s of %s", end->far_end ? "B" : "A",
                     plan->fences[end->fence].id);
    else
        fw_text_addf(line, "corner %zu",
                     fw_plan_corner_number(field, end->corner));
    if (end->paces > 0)
        fw_text_addf(line, ", bearing %.0f (%s)", end->bearing_deg,
                     fw_report_compass(end->bearing_deg));
}

static void say_on(struct fw_text *line, const struct fw_plan *plan,
                   const struct fw_plan_paced *end)
{
    const char *last = plan->fences[end->on_from].id;
    fw_text_add(line, ", ");
    if (end->on_paces == 0) {
        fw_text_addf(line, "where %s ends", last);
        return;
    }
    say_paces(line, end->on_paces);
    fw_text_addf(line, " on from %s", last);
}

void fw_report_say_end(struct fw_text *line, const struct fw_plan *plan,
                       const struct fw_plan_field *field, const char *name,
                       const struct fw_plan_paced *end)
{
    fw_text_addf(line, "%s ", name);
    switch (end->by) {
    case FW_PACED_UNTOLD:
        fw_text_add(line, "see fence.gpx");
        return;
    case FW_PACED_SIDE:
        along_side(line, field, end);
        break;
    case FW_PACED_LINE:
        along_line(line, plan, end);
        break;
    case FW_PACED_STRAIGHT:
        straight(line, plan, field, end);
        return;
    }
    if (end->on_from != FW_NONE)
        say_on(line, plan, end);
}
