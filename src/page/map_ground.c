/* What lies on the ground of a plan, for the page: fields with their points,
 * paddocks and lanes as rings of those points, fences as lines of them. A day
 * names these by their places in the lists. */
#include "page/map_page.h"

#include "plan/words.h"

#include <math.h>
#include <stdio.h>

/* About a millimetre. */
static const double degree_parts = 1e8;

/* Over the 180th meridian too. */
static long long east(double lon_deg, double from_deg)
{
    const double way_deg = lon_deg - from_deg;
    return llround((way_deg > 180    ? way_deg - 360
                    : way_deg < -180 ? way_deg + 360
                                     : way_deg) *
                   degree_parts);
}

static struct fw_lonlat corner_of(const struct fw_plan_field *field)
{
    const struct fw_lonlat none = {0, 0};
    return field->vertex_count > 0 ? field->vertices[0].lonlat : none;
}

static void add_at(struct fw_text *json, const struct fw_plan_field *field,
                   struct fw_lonlat at)
{
    const struct fw_lonlat from = corner_of(field);
    fw_text_addf(json, "%lld,%lld", east(at.lon_deg, from.lon_deg),
                 llround((at.lat_deg - from.lat_deg) * degree_parts));
}

/* A list of pieces, each a list of rings, each a list of points. */
static void rings(struct fw_text *json, const struct fw_plan_rings *rings)
{
    fw_text_add(json, "[");
    for (size_t p = 0; p < rings->piece_count; p++) {
        fw_text_add(json, p ? ",[" : "[");
        for (size_t r = rings->piece_ring[p]; r < rings->piece_ring[p + 1];
             r++) {
            fw_text_add(json, r > rings->piece_ring[p] ? "," : "");
            fw_map_numbers(json, rings->vertices + rings->ring_start[r],
                           rings->ring_start[r + 1] - rings->ring_start[r]);
        }
        fw_text_add(json, "]");
    }
    fw_text_add(json, "]");
}

/* ---- fields ---- */

static void corners(struct fw_text *json, const struct fw_plan_field *field)
{
    bool first = true;
    fw_text_add(json, ",\"corners\":[");
    for (size_t i = 0; i < field->corner_count; i++) {
        const size_t number = fw_plan_corner_number(field, i);
        if (!number)
            continue;
        fw_text_addf(json, "%s[%zu,%zu]", first ? "" : ",", number,
                     field->corners[i]);
        first = false;
    }
    fw_text_add(json, "]");
}

static void field(struct fw_text *json, const struct fw_plan_field *field)
{
    const struct fw_lonlat from = corner_of(field);
    fw_text_add(json, "{\"name\":");
    fw_text_add_json(json, field->name);
    if (field->no_plan) {
        fw_text_add(json, ",\"no_plan\":");
        fw_text_add_json(json, field->no_plan);
    }
    fw_text_add(json, ",\"from\":[");
    fw_text_add_fixed(json, from.lon_deg, 9);
    fw_text_add(json, ",");
    fw_text_add_fixed(json, from.lat_deg, 9);
    fw_text_add(json, "],\"points\":[");
    for (size_t i = 0; i < field->vertex_count; i++) {
        fw_text_add(json, i ? "," : "");
        add_at(json, field, field->vertices[i].lonlat);
    }
    fw_text_add(json, "]");
    corners(json, field);
    fw_text_add(json, ",\"rings\":");
    rings(json, &field->rings);
    fw_text_add(json, "}");
}

/* ---- paddocks and lanes, fences ---- */

static void begin(struct fw_text *json, const char *id, size_t field,
                  bool first)
{
    fw_text_add(json, first ? "\n{\"id\":" : ",\n{\"id\":");
    fw_text_add_json(json, id);
    if (field != FW_NONE)
        fw_text_addf(json, ",\"field\":%zu", field);
}

static void cells(struct fw_text *json, const struct fw_plan *plan)
{
    fw_text_add(json, ",\"cells\":[");
    for (size_t i = 0; i < plan->paddock_count; i++) {
        begin(json, plan->paddocks[i].id, plan->paddocks[i].field, i == 0);
        fw_text_add(json, ",\"rings\":");
        rings(json, &plan->paddocks[i].rings);
        fw_text_add(json, ",\"figures\":");
        fw_map_paddock_figures(json, plan, i);
        fw_text_add(json, "}");
    }
    for (size_t i = 0; i < plan->lane_count; i++) {
        begin(json, plan->lanes[i].id, plan->lanes[i].field,
              i == 0 && plan->paddock_count == 0);
        fw_text_add(json, ",\"lane\":true,\"rings\":");
        rings(json, &plan->lanes[i].rings);
        fw_text_add(json, ",\"figures\":");
        fw_map_lane_figures(json, plan, i);
        fw_text_add(json, "}");
    }
    fw_text_add(json, "]");
}

static void posts(struct fw_text *json, const struct fw_plan *plan,
                  size_t fence)
{
    const size_t field = plan->fences[fence].field;
    bool first = true;
    for (size_t i = 0; i < plan->post_count; i++)
        if (plan->posts[i].fence == fence) {
            fw_text_add(json, first ? ",\"posts\":[" : ",");
            add_at(json, &plan->fields[field], plan->posts[i].place.lonlat);
            first = false;
        }
    fw_text_add(json, first ? "" : "]");
}

static void fences(struct fw_text *json, const struct fw_plan *plan)
{
    fw_text_add(json, ",\"fences\":[");
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        begin(json, fence->id, fence->field, i == 0);
        fw_text_addf(json, ",\"role\":\"%s\",\"line\":",
                     fw_plan__role_words[fence->role]);
        fw_map_numbers(json, fence->line, fence->line_count);
        posts(json, plan, i);
        fw_text_add(json, ",\"figures\":");
        fw_map_fence_figures(json, plan, i);
        fw_text_add(json, "}");
    }
    fw_text_add(json, "]");
}

/* ---- places ---- */

struct places {
    struct fw_text *json;
    const struct fw_plan *plan;
    size_t count;
};

/* False: it has no place. What has no field is placed by the first one. */
static bool place(struct places *places, const char *kind, const char *id,
                  size_t field, const struct fw_plan_place *at)
{
    struct fw_text *json = places->json;
    if (!at->given)
        return false;
    begin(json, id, field == FW_NONE ? 0 : field, places->count++ == 0);
    fw_text_addf(json, ",\"kind\":\"%s\",\"at\":[", kind);
    add_at(json, &places->plan->fields[field == FW_NONE ? 0 : field],
           at->lonlat);
    fw_text_add(json, "]");
    return true;
}

static void gates(struct places *places)
{
    const struct fw_plan *plan = places->plan;
    for (size_t i = 0; i < plan->gate_count; i++) {
        const struct fw_plan_gate *gate = &plan->gates[i];
        if (!place(places, gate->fence == FW_NONE ? "gate" : "opening",
                   gate->id, gate->field, &gate->place))
            continue;
        fw_text_addf(places->json, ",\"gate\":%zu,\"figures\":", i);
        fw_map_gate_figures(places->json, plan, i);
        fw_text_add(places->json, "}");
    }
}

static void day_range(struct fw_text *json, const struct fw_plan *plan,
                      int from, int to)
{
    if (from != FW_NO_DAY && to != FW_NO_DAY)
        fw_text_addf(json, ",\"days\":[%d,%d]", from - plan->start_day,
                     to - plan->start_day);
}

static void waters(struct places *places)
{
    const struct fw_plan *plan = places->plan;
    for (size_t i = 0; i < plan->water_count; i++) {
        const struct fw_plan_water *water = &plan->waters[i];
        if (!place(places, "water", water->id, water->field, &water->place))
            continue;
        day_range(places->json, plan, water->from, water->to);
        fw_text_add(places->json, ",\"figures\":");
        fw_map_water_figures(places->json, plan, i);
        fw_text_add(places->json, "}");
    }
}

static void dangers(struct places *places)
{
    const struct fw_plan *plan = places->plan;
    for (size_t i = 0; i < plan->finding_count; i++) {
        const struct fw_plan_finding *finding = &plan->findings[i];
        if (finding->level == FW_LEVEL_NOTE ||
            !place(places, "danger", finding->about, finding->field,
                   &finding->place))
            continue;
        fw_text_add(places->json, ",\"figures\":");
        fw_map_finding_figures(places->json, plan, i);
        fw_text_add(places->json, "}");
    }
}

static void other_places(struct places *places)
{
    const struct fw_plan *plan = places->plan;
    if (place(places, "energizer", "energizer", FW_NONE,
              &plan->energizer_place)) {
        fw_text_add(places->json, ",\"figures\":");
        fw_map_energizer_figures(places->json, plan);
        fw_text_add(places->json, "}");
    }
    for (size_t i = 0; i < plan->field_count; i++)
        if (place(places, "park", "vehicle", i, &plan->fields[i].park))
            fw_text_add(places->json, ",\"figures\":[]}");
}

void fw_map_ground(struct fw_text *json, const struct fw_plan *plan)
{
    struct places places = {json, plan, 0};
    fw_map_heads(json);
    fw_text_add(json, ",\n\"fields\":[");
    for (size_t i = 0; i < plan->field_count; i++) {
        fw_text_add(json, i ? ",\n" : "\n");
        field(json, &plan->fields[i]);
    }
    fw_text_add(json, "]");
    cells(json, plan);
    fences(json, plan);
    fw_text_add(json, ",\"places\":[");
    if (plan->field_count > 0) {
        gates(&places);
        waters(&places);
        other_places(&places);
        dangers(&places);
    }
    fw_text_add(json, "]");
}
