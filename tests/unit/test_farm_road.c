/* The road to a field by the tracks of a map: along the equator, where the
 * ellipsoid has the length of a closed form. */
#include "farm_help.h"

#include <math.h>

static const double equator_m = 6378137 * 3.14159265358979323846 / 180;

#define RING                                                                   \
    "[[0.02,-0.0005],[0.021,-0.0005],[0.021,0.0005],[0.02,0.0005],"            \
    "[0.02,-0.0005]]"
#define LINE(places) "{\"type\":\"LineString\",\"coordinates\":[" places "]}"
#define POINT(place) "{\"type\":\"Point\",\"coordinates\":" place "}"
#define FARM                                                                   \
    "fields: {source: road-field.geojson}\n"                                   \
    "gate: 0.02,0\n"
#define TRACKS "{role: track, source: tracks.geojson}"
#define SOURCE "{role: source, source: tap.geojson}"

/* Two tracks one after the other, the second up to there. */
static void put_tracks(double end_deg)
{
    char text[1000];
    snprintf(text, sizeof text,
             COLLECTION(FEATURE("one", LINE("[0,0],[0.012,0]")) "," FEATURE(
                 "two", LINE("[0.012,0],[%.9f,0]"))),
             end_deg);
    put_text("tracks.geojson", text);
    put_text("road-field.geojson", COLLECTION(FEATURE("Low", POLYGON(RING))));
    put_text("tap.geojson", COLLECTION(FEATURE("tap", POINT("[0,0.0001]"))));
}

static struct fw_farm *read_farm(const char *text, struct fw_notes *notes)
{
    struct fw_farm *farm = NULL;
    struct fw_error err;
    put_text("farm.yaml", text);
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .fields_only = true};
    if (fw_farm_read(&request, &farm, NULL, notes, &err))
        fail_msg("%s", err.text);
    return farm;
}

static const char *said(const struct fw_notes *notes)
{
    for (size_t i = 0; i < notes->count; i++)
        if (strstr(notes->items[i].text, "the tracks of the maps"))
            return notes->items[i].text;
    return NULL;
}

/* 0.0001 degrees of latitude at the equator are 11.06 m. */
static void a_road_is_driven_along_the_tracks(void **state)
{
    (void)state;
    static const struct {
        double end_deg;
        const char *says;
    } rows[] = {{0.02, NULL},
                {0.0198, NULL}, /* 22 m */
                {0.0196, "end short of the gate by 45 m"},
                {0.0176, "end short of the gate by 267 m"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_notes notes = {0};
        put_tracks(rows[i].end_deg);
        struct fw_farm *farm =
            read_farm(FARM "hauling: {tank: 600 L}\n"
                           "maps:\n  - " TRACKS "\n  - " SOURCE "\n",
                      &notes);
        assert_near(farm->fields[0].road_m, 11.057 + 0.02 * equator_m, 0.05);
        if (rows[i].says &&
            (!said(&notes) || !strstr(said(&notes), rows[i].says)))
            fail_msg("no \"%s\" in \"%s\"", rows[i].says, said(&notes));
        if (!rows[i].says && said(&notes))
            fail_msg("%s", said(&notes));
        fw_notes_release(&notes);
        fw_farm_free(farm);
    }
}

static void what_is_told_or_not_hauled_asks_no_map(void **state)
{
    (void)state;
    static const char *const rows[] = {
        FARM "hauling: {tank: 600 L, road: 2 km}\n"
             "maps:\n  - " TRACKS "\n  - " SOURCE "\n",
        FARM "maps:\n  - " TRACKS "\n  - " SOURCE "\n",
        FARM "hauling: {tank: 600 L}\nmaps:\n  - " TRACKS "\n",
        FARM "hauling: {tank: 600 L}\nmaps:\n  - " SOURCE "\n",
        /* Water that no track leads to: 111 m off. */
        FARM "water: 0.0205,0.001\nhauling: {tank: 600 L}\nmaps:\n  - " TRACKS
             "\n",
    };
    put_tracks(0.02);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = read_farm(rows[i], NULL);
        if (farm->fields[0].road_m != 0)
            fail_msg("%g m of:\n%s", farm->fields[0].road_m, rows[i]);
        fw_farm_free(farm);
    }
}

/* Without a map of it, it may be the water that is told. */
static void water_at_a_track_is_where_it_is_filled(void **state)
{
    (void)state;
    put_tracks(0.02);
    struct fw_farm *farm =
        read_farm(FARM "water: 0.018,0.0001\nhauling: {tank: 600 L}\n"
                       "maps:\n  - " TRACKS "\n",
                  NULL);
    assert_near(farm->fields[0].road_m, 11.057 + 0.002 * equator_m, 0.01);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_road_is_driven_along_the_tracks),
        cmocka_unit_test(what_is_told_or_not_hauled_asks_no_map),
        cmocka_unit_test(water_at_a_track_is_where_it_is_filled),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
