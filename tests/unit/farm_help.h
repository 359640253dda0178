/* Farms for the tests: a scratch folder with one field, and a file beside it.
 */
#ifndef FW_FARM_HELP_H
#define FW_FARM_HELP_H

#include "farm/farm.h"
#include "scratch.h"
#include <foldwright/told.h>

/* 100 m by 80 m, centred at 9 degrees east, 51 north. */
#define FIELD_RING                                                             \
    "[[8.9992875,50.9996405],[9.0007125,50.9996405],[9.0007125,51.0003595],"   \
    "[8.9992875,51.0003595],[8.9992875,50.9996405]]"
#define FEATURE(name, geometry)                                                \
    "{\"type\":\"Feature\",\"properties\":{\"name\":\"" name                   \
    "\"},\"geometry\":" geometry "}"
#define POLYGON(ring) "{\"type\":\"Polygon\",\"coordinates\":[" ring "]}"
#define COLLECTION(features)                                                   \
    "{\"type\":\"FeatureCollection\",\"features\":[" features "]}"

static struct scratch farm_scratch;
static char farm_home[4096];

static inline int farm_set_up(void **state)
{
    (void)state;
    scratch_make(&farm_scratch);
    if (!getcwd(farm_home, sizeof farm_home) || chdir(farm_scratch.path))
        return -1;
    put_text("field.geojson",
             COLLECTION(FEATURE("Long Bottom", POLYGON(FIELD_RING))));
    return 0;
}

static inline int farm_tear_down(void **state)
{
    (void)state;
    if (chdir(farm_home))
        return -1;
    scratch_remove(farm_scratch.path);
    return 0;
}

/* Read text as farm.yaml; the farm, or NULL with what was said in *err. */
static inline struct fw_farm *farm_of(const char *text, bool fields_only,
                                      struct fw_error *err)
{
    struct fw_farm *farm = NULL;
    put_text("farm.yaml", text);
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .fields_only = fields_only};
    const enum fw_status status =
        fw_farm_read(&request, &farm, NULL, NULL, err);
    assert_true(!status == (farm != NULL));
    return farm;
}

/* The same where nothing may go wrong. */
static inline struct fw_farm *good_farm(const char *text)
{
    struct fw_error err = {0};
    struct fw_farm *farm = farm_of(text, true, &err);
    if (!farm)
        fail_msg("%s\nsaid of:\n%s", err.text, text);
    return farm;
}

static inline void assert_says(const struct fw_error *err, const char *piece)
{
    if (!strstr(err->text, piece))
        fail_msg("\"%s\" says nothing of \"%s\"", err->text, piece);
    if (strchr(err->text, '\n'))
        fail_msg("\"%s\" is more than one line", err->text);
}

#endif
