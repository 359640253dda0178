/* What `check` says of walked covers. */
#include "report/report.h"

#include "make/covers.h"

#include <math.h>

static void walked(struct fw_text *text, const struct fw_farm *farm,
                   const struct fw_covers *covers)
{
    char area[FW_WORDS];
    struct fw_text words = {0};
    fw_text_addf(&words, "%zu of %zu fields walked, %s", covers->walked,
                 farm->field_count,
                 fw_report_area(covers->area_ha, farm->units, area));
    for (size_t i = 0; i < farm->field_count; i++)
        if (!(farm->fields[i].cover_kg_ha > 0))
            fw_text_addf(&words, "; %s was not, and is not counted",
                         farm->fields[i].shape->name);
    fw_report__line(text, "Covers", &words);
}

static void what_to_do(struct fw_text *words, const struct fw_farm *farm,
                       const struct fw_covers *covers)
{
    if (covers->what == FW_COVERS_SLOW_DOWN)
        fw_text_add(words, "slow down, or buy feed");
    else if (covers->what == FW_COVERS_GO_ON)
        fw_text_add(words, "go on");
    else if (covers->shut == FW_NONE)
        fw_text_add(words, "shut a part of a field up");
    else
        fw_text_addf(words,
                     "shut %s up: the others grow what is eaten without it",
                     farm->fields[covers->shut].shape->name);
}

static void grows(struct fw_text *text, const struct fw_farm *farm,
                  const struct fw_covers *covers)
{
    char mass[FW_WORDS], times[FW_WORDS], day[FW_WORDS];
    struct fw_text words = {0};
    if (covers->what == FW_COVERS_UNTOLD) {
        fw_text_add(&words, "growth is not told of each of them (--growth): "
                            "whether to slow down, nobody can say");
    } else {
        fw_text_addf(&words,
                     "%s grow there in a day on %s, %s times what is eaten: ",
                     fw_report_mass(covers->grown_kg_day, farm->units, mass),
                     fw_report_day(farm->start_day, true, day),
                     fw_report_number(
                         covers->grown_kg_day / covers->demand_kg_day, times));
        what_to_do(&words, farm, covers);
    }
    fw_report__line(text, "Growth", &words);
}

enum fw_status fw_report__check_covers(struct fw_text *text,
                                       const struct fw_farm *farm,
                                       struct fw_error *err)
{
    struct fw_covers covers;
    char usable[FW_WORDS], demand[FW_WORDS];
    struct fw_text words = {0};
    const enum fw_status status = fw_covers_look(farm, &covers, err);
    if (status || covers.walked == 0)
        return status;
    walked(text, farm, &covers);
    fw_text_addf(&words,
                 "%.0f days: %s may be taken there, and %s are eaten in a day",
                 floor(covers.days),
                 fw_report_mass(covers.usable_kg, farm->units, usable),
                 fw_report_mass(covers.demand_kg_day, farm->units, demand));
    fw_report__line(text, "Ahead", &words);
    grows(text, farm, &covers);
    fw_text_add(text, "\n");
    return FW_OK;
}

enum fw_status fw_report_check_covers_json(struct fw_text *text,
                                           const struct fw_farm *farm,
                                           struct fw_error *err)
{
    static const char *const words[] = {"null", "\"go-on\"", "\"slow-down\"",
                                        "\"shut-up\""};
    struct fw_covers covers;
    const enum fw_status status = fw_covers_look(farm, &covers, err);
    if (status)
        return status;
    if (covers.walked == 0) {
        fw_text_add(text, ", \"covers\": null");
        return FW_OK;
    }
    const struct {
        const char *key;
        double value;
    } rows[] = {{"area_ha", covers.area_ha},
                {"usable_kg", covers.usable_kg},
                {"demand_kg_day", covers.demand_kg_day},
                {"ahead_days", covers.days},
                {"grown_kg_day", covers.grown_kg_day}};
    fw_text_addf(text, ",\n\"covers\": {\"walked\": %zu", covers.walked);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        fw_text_addf(text, ", \"%s\": ", rows[i].key);
        if (isnan(rows[i].value))
            fw_text_add(text, "null");
        else
            fw_text_add_number(text, rows[i].value);
    }
    fw_text_addf(text, ", \"do\": %s, \"shut_up\": ", words[covers.what]);
    if (covers.shut == FW_NONE)
        fw_text_add(text, "null");
    else
        fw_text_add_json(text, farm->fields[covers.shut].shape->name);
    fw_text_add(text, "}");
    return FW_OK;
}
