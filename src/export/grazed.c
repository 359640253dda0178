/* The ground that is grazed so far as a map layer. */
#include "export/export.h"
#include "export/layers.h"
#include "record/record.h"

#include "base/alloc.h"
#include "base/fail.h"

#include <math.h>
#include <string.h>

static enum fw_status ring_row(const struct fw_plan *plan, size_t paddock,
                               struct fw_row *row, struct fw_error *err)
{
    const struct fw_plan_rings *rings = &plan->paddocks[paddock].rings;
    const struct fw_plan_field *field =
        &plan->fields[plan->paddocks[paddock].field];
    const size_t count = rings->ring_start[rings->ring_count];
    *row = (struct fw_row){
        .kind = FW_FEATURE_POLYGON,
        .points = fw_alloc(count, sizeof *row->points),
        .ring_start = fw_alloc(rings->ring_count + 1, sizeof *row->ring_start),
        .piece_ring = fw_alloc(rings->piece_count + 1, sizeof *row->piece_ring),
        .point_count = count,
        .ring_count = rings->ring_count,
        .piece_count = rings->piece_count,
    };
    if (!row->points || !row->ring_start || !row->piece_ring)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++) {
        const struct fw_lonlat at = field->vertices[rings->vertices[i]].lonlat;
        row->points[i] = (struct fw_xy){at.lon_deg, at.lat_deg};
    }
    memcpy(row->ring_start, rings->ring_start,
           (rings->ring_count + 1) * sizeof *row->ring_start);
    memcpy(row->piece_ring, rings->piece_ring,
           (rings->piece_count + 1) * sizeof *row->piece_ring);
    return fw_export__cut(row, err);
}

static void add_number(struct fw_text *text, const char *key, double value,
                       bool known)
{
    fw_text_addf(text, ", \"%s\": ", key);
    fw_text_add_number(text, known ? value : (double)NAN);
}

static void properties(struct fw_text *text, const struct fw_log *log,
                       const struct fw_log_day *day)
{
    const struct fw_plan_paddock *of = &log->plan->paddocks[day->paddock];
    char date[FW_DATE_TEXT];
    fw_text_add(text, "{\"kind\": \"grazed\", \"paddock\": ");
    fw_text_add_json(text, of->id);
    fw_text_add(text, ", \"field\": ");
    fw_text_add_json(text, log->plan->fields[of->field].name);
    fw_text_addf(text, ", \"enter\": \"%s\"",
                 fw_date_write(day->entered, date));
    fw_text_addf(text, ", \"leave\": \"%s\"", fw_date_write(day->day, date));
    add_number(text, "area_ha", of->area_ha, true);
    add_number(text, "planned_left_kg_ha", fw_days_left_kg_ha(&day->offer),
               true);
    add_number(text, "left_kg_ha", day->look.left_kg_ha, day->looked);
    add_number(text, "stood_kg_ha", day->stood_kg_ha, day->looked);
    fw_text_add(text, "}");
}

enum fw_status fw_report_grazed(const struct fw_log *log, char **out,
                                size_t *count, struct fw_error *err)
{
    struct fw_text text = {0};
    enum fw_status status = FW_OK;
    bool first = true;
    fw_text_add(&text, "{\"type\": \"FeatureCollection\", \"features\": [");
    for (size_t i = 0; !status && i < log->day_count; i++) {
        struct fw_row row;
        if (log->days[i].paddock == FW_NONE)
            continue;
        status = ring_row(log->plan, log->days[i].paddock, &row, err);
        if (!status) {
            fw_text_add(&text, first ? "\n" : ",\n");
            first = false;
            fw_text_add(&text, "{\"type\": \"Feature\", \"properties\": ");
            properties(&text, log, &log->days[i]);
            fw_text_add(&text, ", \"geometry\": ");
            fw_export__geometry(&text, &row);
            fw_text_add(&text, "}");
        }
        fw_free(row.points);
        fw_free(row.ring_start);
        fw_free(row.piece_ring);
    }
    fw_text_add(&text, "\n]}\n");
    if (status) {
        fw_text_release(&text);
        return status;
    }
    return fw_report_give(&text, out, count, err);
}
