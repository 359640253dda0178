/* The winter's grass of farms that are told as a file. */
#ifndef FW_WINTER_TOLD_H
#define FW_WINTER_TOLD_H

#include "forms_maps.h"
#include "winter/winter.h"

static inline struct fw_farm *told_farm(const char *text, struct fw_error *err)
{
    struct fw_farm *farm = NULL;
    put_text("farm.yaml", text);
    const struct fw_farm_request request = {
        .farm_path = "farm.yaml", .fields_only = true, .winter = true};
    (void)fw_farm_read(&request, &farm, NULL, NULL, err);
    return farm;
}

static inline struct fw_winter *winter_of(const char *text)
{
    struct fw_error err = {0};
    struct fw_winter *winter = NULL;
    struct fw_farm *farm = told_farm(text, &err);
    if (!farm || fw_winter_make(farm, &winter, &err))
        fail_msg("%s\nsaid of:\n%s", err.text, text);
    return winter;
}

static inline void winter_free(struct fw_winter *winter)
{
    struct fw_farm *farm = (struct fw_farm *)(uintptr_t)winter->farm;
    fw_winter_free(winter);
    fw_farm_free(farm);
}

static inline int day_of(const char *date)
{
    int day = 0;
    assert_int_equal(fw_date_read(date, &day, NULL), FW_OK);
    return day;
}

#endif
