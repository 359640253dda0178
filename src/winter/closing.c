/* All parts closed on one day, day by day. */
#include "winter/winter.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/stockpile.h"

#include <string.h>

/* Another line that was measured on the same sward. */
static const struct fw_stockpile_line *
other_line(const struct fw_stockpile_line *line)
{
    size_t count;
    const struct fw_stockpile_line *lines = fw_stockpile_lines(&count);
    for (size_t i = 0; i < count; i++)
        if (&lines[i] != line &&
            strcmp(lines[i].swards[0], line->swards[0]) == 0)
            return &lines[i];
    return NULL;
}

static void by_other_line(const struct fw_winter *winter,
                          const struct fw_stockpile_part *part,
                          struct fw_winter_closing *out)
{
    struct fw_stockpile_winter through = winter->farm->stockpile.winter;
    struct fw_stockpile_stand stand;
    if (!winter->other_line)
        return;
    through.line = winter->other_line;
    fw_stockpile_stands(part, &through, winter->middle_day, &stand);
    out->other_kg_ha = stand.mass_kg_ha;
    out->other_measured = fw_stockpile_measured(through.line, out->day);
}

enum fw_status fw_winter__closings(struct fw_winter *winter,
                                   struct fw_error *err)
{
    const struct fw_farm_stockpile *told = &winter->farm->stockpile;
    const int frost = told->winter.frost_day;
    const int first =
        fw_stockpile_day(fw_date_year(frost), FW_STOCK_FIRST_CLOSING);
    if (frost <= first)
        return FW_OK;
    winter->closings =
        fw_alloc((size_t)(frost - first), sizeof *winter->closings);
    if (!winter->closings)
        return fw_fail_memory(err);
    struct fw_stockpile_part all = *winter->parts[0].part;
    all.area_ha = winter->area_ha;
    all.topped_day = FW_NO_DAY;
    all.left_m = all.stop_m;
    all.nitrogen_kg_ha = 0;
    for (size_t i = 0; i < winter->part_count; i++)
        all.nitrogen_kg_ha += winter->parts[i].part->nitrogen_kg_ha *
                              winter->parts[i].part->area_ha / all.area_ha;
    winter->other_line = other_line(told->winter.line);
    for (int day = first; day < frost; day++) {
        struct fw_winter_closing *out =
            &winter->closings[winter->closing_count++];
        all.grazed_day = out->day = day;
        out->measured = fw_stockpile_measured(told->winter.line, day);
        fw_winter__row(winter, &told->winter, &all, winter->middle_day,
                       &out->row);
        by_other_line(winter, &all, out);
    }
    return FW_OK;
}

bool fw_winter_window(const struct fw_winter *winter,
                      enum fw_stockpile_class class, size_t *first,
                      size_t *last)
{
    size_t longest = 0, run = 0;
    for (size_t i = 0; i < winter->closing_count; i++) {
        const double days = winter->closings[i].row.fed[class].days_at_need;
        run = days >= winter->farm->stockpile.days ? run + 1 : 0;
        if (run > longest) {
            longest = run;
            *first = i + 1 - run;
            *last = i;
        }
    }
    return longest > 0;
}
