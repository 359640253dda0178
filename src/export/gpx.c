/* fence.gpx: the lines of one move as tracks and their posts as waypoints, for
 * a phone. GPX 1.1. */
#include "base/fail.h"
#include "export/export.h"

static void escaped(struct fw_text *text, const char *words)
{
    for (const char *c = words; *c; c++) {
        switch (*c) {
        case '<':
            fw_text_add(text, "&lt;");
            break;
        case '>':
            fw_text_add(text, "&gt;");
            break;
        case '&':
            fw_text_add(text, "&amp;");
            break;
        default:
            fw_text_add_bytes(text, c, 1);
        }
    }
}

static void point(struct fw_text *text, const char *tag, struct fw_lonlat at)
{
    fw_text_addf(text, "<%s lat=\"", tag);
    fw_text_add_fixed(text, at.lat_deg, 8);
    fw_text_add(text, "\" lon=\"");
    fw_text_add_fixed(text, at.lon_deg, 8);
    fw_text_add(text, "\">");
}

static void waypoint(struct fw_text *text, struct fw_lonlat at,
                     const char *name)
{
    fw_text_add(text, "  ");
    point(text, "wpt", at);
    fw_text_add(text, "<name>");
    escaped(text, name);
    fw_text_add(text, "</name></wpt>\n");
}

static void posts(struct fw_text *text, const struct fw_plan *plan,
                  size_t fence)
{
    for (size_t i = 0; i < plan->post_count; i++)
        if (plan->posts[i].fence == fence)
            waypoint(text, plan->posts[i].place.lonlat, plan->posts[i].id);
}

static void track(struct fw_text *text, const struct fw_plan *plan,
                  size_t index)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    fw_text_add(text, "  <trk><name>");
    escaped(text, fence->id);
    fw_text_add(text, "</name><trkseg>");
    for (size_t i = 0; i < fence->line_count; i++) {
        point(text, "trkpt", field->vertices[fence->line[i]].lonlat);
        fw_text_add(text, "</trkpt>");
    }
    fw_text_add(text, "</trkseg></trk>\n");
}

/* All that are set in the course of the move. */
static void lines(struct fw_text *text, const struct fw_plan *plan,
                  const struct fw_move *move,
                  void (*write)(struct fw_text *, const struct fw_plan *,
                                size_t))
{
    for (size_t i = 0; i < move->steps.count; i++) {
        const struct fw_step *step = &plan->time.steps[move->steps.first + i];
        for (size_t k = 0; step->kind == FW_STEP_SET && k < step->lines.count;
             k++)
            write(text, plan, plan->time.items[step->lines.first + k]);
    }
}

enum fw_status fw_report_gpx(const struct fw_plan *plan, size_t index,
                             char **out, size_t *count, struct fw_error *err)
{
    if (!plan || !out || !count)
        return fw_fail_null(err, "a plan, or where its bytes go,");
    const struct fw_move *move = &plan->time.moves[index];
    struct fw_text text = {0};
    char day[FW_DATE_TEXT];
    fw_text_add(&text, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                       "<gpx version=\"1.1\" creator=\"foldwright\" "
                       "xmlns=\"http://www.topografix.com/GPX/1/1\">\n");
    fw_text_addf(&text, "  <metadata><name>");
    escaped(&text, plan->farm_name);
    fw_text_addf(&text, ", %s</name><desc>", fw_date_write(move->day, day));
    escaped(&text, fw_report_first_words);
    fw_text_add(&text, "</desc></metadata>\n");
    lines(&text, plan, move, posts);
    if (move->opening != FW_NONE && plan->gates[move->opening].place.given)
        waypoint(&text, plan->gates[move->opening].place.lonlat,
                 plan->gates[move->opening].id);
    lines(&text, plan, move, track);
    fw_text_add(&text, "</gpx>\n");
    return fw_report_give(&text, out, count, err);
}
