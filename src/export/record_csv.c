/* Planned against real, a row a day: what the plan had, what was said, in the
 * columns of the table of parts, and what comes of it. SI. */
#include "export/cells.h"
#include "export/export.h"
#include "record/record.h"

#include <math.h>

static void head(struct fw_text *text)
{
    fw_text_add(text, "date,field,from,to,missed,looked,planned_stands_kg_ha,"
                      "planned_left_kg_ha,planned_minutes,stood_kg_ha,"
                      "left_kg_ha,size,share,share_low,share_high,late_days,"
                      "set_m,rest_days");
    for (int i = 0; i < FW_LOG_PARTS; i++)
        fw_text_addf(text, ",said_%s",
                     fw_log_part_row((enum fw_log_part)i)->name);
    fw_text_add(text, "\r\n");
}

static void planned(struct fw_text *text, const struct fw_log_day *day)
{
    const bool of = day->paddock != FW_NONE;
    fw_export__number_cell(text, day->offer.stands_kg_ha, of);
    fw_export__number_cell(text, of ? fw_days_left_kg_ha(&day->offer) : 0, of);
    fw_export__number_cell(text, day->planned_min, day->move != FW_NONE);
    fw_export__number_cell(text, day->stood_kg_ha, day->looked);
    fw_export__number_cell(text, day->look.left_kg_ha, day->looked);
    fw_export__number_cell(text, day->size, day->fence != FW_NONE);
    fw_export__number_cell(text, day->guess.share, of);
    fw_export__number_cell(text, day->guess.low, of);
    fw_export__number_cell(text, day->guess.high, of);
}

static void row(struct fw_text *text, const struct fw_log *log,
                const struct fw_log_day *day, int late_days)
{
    const struct fw_plan *plan = log->plan;
    const size_t to = day->to;
    const size_t field = day->paddock != FW_NONE
                             ? plan->paddocks[day->paddock].field
                         : to != FW_NONE ? plan->paddocks[to].field
                                         : FW_NONE;
    char date[FW_DATE_TEXT];
    fw_export__cell(text, fw_date_write(day->day, date));
    fw_export__cell(text, field == FW_NONE ? "" : plan->fields[field].name);
    fw_export__cell(
        text, day->paddock == FW_NONE ? "" : plan->paddocks[day->paddock].id);
    fw_export__cell(text, to == FW_NONE ? "" : plan->paddocks[to].id);
    fw_export__cell(text, day->missed ? "yes" : "no");
    fw_export__cell(text, day->looked ? "yes" : "no");
    planned(text, day);
    fw_text_addf(text, "%d,", late_days);
    fw_export__number_cell(text, day->set_m, day->move != FW_NONE);
    if (day->paddock != FW_NONE)
        fw_text_addf(text, "%d", log->next_day - 1 - day->day);
    for (int i = 0; i < FW_LOG_PARTS; i++) {
        const struct fw_log_value *value =
            day->said ? &day->said->values[i] : NULL;
        fw_text_add(text, ",");
        fw_export__last_cell(text, !value || !value->told ? ""
                                   : value->text[0]       ? value->text
                                                          : "yes");
    }
    fw_text_add(text, "\r\n");
}

enum fw_status fw_report_days_csv(const struct fw_log *log, char **out,
                                  size_t *count, struct fw_error *err)
{
    struct fw_text text = {0};
    int late_days = 0;
    head(&text);
    for (size_t i = 0; i < log->day_count; i++) {
        late_days += log->days[i].missed;
        row(&text, log, &log->days[i], late_days);
    }
    return fw_report_give(&text, out, count, err);
}
