/* The plan of a sample farm, made once for all tests of a program. */
#ifndef FW_SAMPLE_PLAN_H
#define FW_SAMPLE_PLAN_H

#include "test.h"

#include "make/make.h"
#include "plan/plan.h"
#include <foldwright/told.h>

#ifndef SAMPLE
#define SAMPLE "three-fields"
#endif

static struct fw_farm *farm;
static struct fw_plan *plan;

static int read_sample(void **state)
{
    (void)state;
    char path[4096];
    struct fw_error err;
    struct fw_notes notes = {0};
    snprintf(path, sizeof path, "%s/" SAMPLE "/farm.yaml",
             getenv("FW_SAMPLES"));
    const struct fw_farm_request request = {.farm_path = path};
    if (fw_farm_read(&request, &farm, NULL, &notes, &err) ||
        fw_plan_make(farm, &plan, &err)) {
        print_error("%s\n", err.text);
        return -1;
    }
    fw_notes_release(&notes);
    return 0;
}

static int free_sample(void **state)
{
    (void)state;
    fw_plan_free(plan);
    fw_farm_free(farm);
    return 0;
}

#endif
