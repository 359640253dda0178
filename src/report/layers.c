#include "report/styles.h"

#include "plan/words.h"

#include <math.h>
#include <string.h>

#define COUNT_OF(array) (sizeof(array) / sizeof(array)[0])

const char *fw_report__role(enum fw_fence_role role)
{
    return fw_plan__role_words[role];
}

const char *fw_report__why(enum fw_post_why why)
{
    return fw_plan__why_words[why];
}

/* Fills a row from left to right, so that the order of the calls is the order
 * of the columns. */
struct filler {
    struct fw_row *row;
    size_t column;
    bool *failed;
};

static void text(struct filler *to, const char *value)
{
    fw_report__set_text(to->row, to->column++, value, to->failed);
}

static void number(struct filler *to, double value)
{
    fw_report__set_number(to->row, to->column++, value);
}

static void number_if(struct filler *to, bool known, double value)
{
    number(to, known ? value : (double)NAN);
}

static void day(struct filler *to, int value)
{
    number(to, value == FW_NO_DAY ? (double)NAN : value);
}

static const char *paddock_id(const struct fw_plan *plan, size_t i)
{
    return i == FW_NONE ? NULL : plan->paddocks[i].id;
}

/* ---- fields ---- */

static const struct fw_column field_columns[] = {
    {"field", FW_COLUMN_TEXT},          {"area_ha", FW_COLUMN_NUMBER},
    {"grazed_ha", FW_COLUMN_NUMBER},    {"perimeter_m", FW_COLUMN_NUMBER},
    {"paddocks", FW_COLUMN_WHOLE},      {"rotation_days", FW_COLUMN_NUMBER},
    {"usable_kg_ha", FW_COLUMN_NUMBER}, {"left_kg", FW_COLUMN_NUMBER},
    {"source_layer", FW_COLUMN_TEXT},   {"source_fid", FW_COLUMN_WHOLE},
};

/* All fields have the same ones. */
static size_t copied_count(const struct fw_plan *plan)
{
    return plan->field_count ? plan->fields[0].origin.copied_count : 0;
}

static size_t field_count(const struct fw_plan *plan)
{
    return plan->field_count;
}

static void fill_field(const struct fw_report_source *from, size_t i,
                       struct fw_row *row, bool *failed)
{
    const struct fw_plan *plan = from->plan;
    const struct fw_plan_field *field = &plan->fields[i];
    struct filler to = {row, 0, failed};
    text(&to, field->name);
    number(&to, field->area_ha);
    number(&to, field->grazed_ha);
    number(&to, field->perimeter_m);
    number(&to, (double)field->paddock_count);
    number(&to, field->rotation_days);
    number(&to, field->usable_kg_ha);
    number(&to, field->left_kg);
    text(&to, field->origin.layer);
    number_if(&to, field->origin.fid != FW_NO_FID, (double)field->origin.fid);
    for (size_t k = 0; k < copied_count(plan); k++)
        text(&to, k < field->origin.copied_count ? field->origin.copied[k].value
                                                 : NULL);
}

/* ---- paddocks ---- */

static const struct fw_column paddock_columns[] = {
    {"paddock", FW_COLUMN_TEXT},       {"field", FW_COLUMN_TEXT},
    {"block", FW_COLUMN_TEXT},         {"seq", FW_COLUMN_WHOLE},
    {"enter", FW_COLUMN_DATE},         {"leave", FW_COLUMN_DATE},
    {"stay_days", FW_COLUMN_NUMBER},   {"area_ha", FW_COLUMN_NUMBER},
    {"usable_kg", FW_COLUMN_NUMBER},   {"demand_kg", FW_COLUMN_NUMBER},
    {"head_per_ha", FW_COLUMN_NUMBER}, {"liveweight_kg_ha", FW_COLUMN_NUMBER},
    {"perimeter_m", FW_COLUMN_NUMBER}, {"elongation", FW_COLUMN_NUMBER},
    {"pieces", FW_COLUMN_WHOLE},       {"narrow_m", FW_COLUMN_NUMBER},
    {"walk_mean_m", FW_COLUMN_NUMBER}, {"walk_max_m", FW_COLUMN_NUMBER},
    {"water", FW_COLUMN_TEXT},         {"keep", FW_COLUMN_TEXT},
};

static size_t paddock_count(const struct fw_plan *plan)
{
    return plan->paddock_count;
}

static void fill_paddock(const struct fw_report_source *from, size_t i,
                         struct fw_row *row, bool *failed)
{
    const struct fw_plan *plan = from->plan;
    const struct fw_plan_paddock *paddock = &plan->paddocks[i];
    struct filler to = {row, 0, failed};
    text(&to, paddock->id);
    text(&to, plan->fields[paddock->field].name);
    text(&to, paddock->block[0] ? paddock->block : NULL);
    number(&to, paddock->seq);
    day(&to, from->dates.cells[i].from);
    day(&to, from->dates.cells[i].to);
    number(&to, paddock->stay_days);
    number(&to, paddock->area_ha);
    number(&to, paddock->usable_kg);
    number(&to, paddock->demand_kg);
    number(&to, paddock->head_per_ha);
    number(&to, paddock->liveweight_kg_ha);
    number(&to, paddock->perimeter_m);
    number(&to, paddock->elongation);
    number(&to, paddock->pieces);
    number_if(&to, paddock->narrow_m > 0, paddock->narrow_m);
    number_if(&to, paddock->walk_known, paddock->walk_mean_m);
    number_if(&to, paddock->walk_known, paddock->walk_max_m);
    text(&to,
         paddock->water == FW_NONE ? NULL : plan->waters[paddock->water].id);
    text(&to, paddock->keep[0] ? paddock->keep : NULL);
}

/* ---- lanes and aprons ---- */

static const struct fw_column lane_columns[] = {
    {"lane", FW_COLUMN_TEXT},
    {"field", FW_COLUMN_TEXT},
    {"kind_of", FW_COLUMN_TEXT},
    {"area_ha", FW_COLUMN_NUMBER},
};

static size_t lane_count(const struct fw_plan *plan)
{
    return plan->lane_count;
}

static void fill_lane(const struct fw_report_source *from, size_t i,
                      struct fw_row *row, bool *failed)
{
    const struct fw_plan_lane *lane = &from->plan->lanes[i];
    struct filler to = {row, 0, failed};
    text(&to, lane->id);
    text(&to, from->plan->fields[lane->field].name);
    text(&to, lane->apron ? "apron" : "lane");
    number(&to, lane->area_ha);
}

/* ---- fences ---- */

static const struct fw_column fence_columns[] = {
    {"fence", FW_COLUMN_TEXT},       {"field", FW_COLUMN_TEXT},
    {"role", FW_COLUMN_TEXT},        {"length_m", FW_COLUMN_NUMBER},
    {"ground_m", FW_COLUMN_NUMBER},  {"strands", FW_COLUMN_WHOLE},
    {"wire_m", FW_COLUMN_NUMBER},    {"posts", FW_COLUMN_WHOLE},
    {"reels", FW_COLUMN_WHOLE},      {"up", FW_COLUMN_DATE},
    {"down", FW_COLUMN_DATE},        {"open_v", FW_COLUMN_NUMBER},
    {"touched_v", FW_COLUMN_NUMBER}, {"lay_min", FW_COLUMN_NUMBER},
};

static size_t fence_count(const struct fw_plan *plan)
{
    return plan->fence_count;
}

static void fill_fence(const struct fw_report_source *from, size_t i,
                       struct fw_row *row, bool *failed)
{
    const struct fw_plan *plan = from->plan;
    const struct fw_plan_fence *fence = &plan->fences[i];
    const bool built = fence->role != FW_FENCE_PERIMETER;
    struct filler to = {row, 0, failed};
    text(&to, fence->id);
    text(&to, plan->fields[fence->field].name);
    text(&to, fw_report__role(fence->role));
    number(&to, fence->length_m);
    number(&to, fence->ground_m);
    number_if(&to, built, fence->strands);
    number_if(&to, built, fence->wire_m);
    number_if(&to, built, fence->posts);
    number_if(&to, built, fence->reels);
    day(&to, from->dates.lines[i].from);
    day(&to, from->dates.lines[i].to);
    number_if(&to, fence->volts_known, fence->open_v);
    number_if(&to, fence->volts_known, fence->touched_v);
    number_if(&to, fence->lay_min > 0, fence->lay_min);
}

/* ---- posts ---- */

static const struct fw_column post_columns[] = {
    {"post", FW_COLUMN_TEXT},
    {"fence", FW_COLUMN_TEXT},
    {"at_m", FW_COLUMN_NUMBER},
    {"why", FW_COLUMN_TEXT},
};

static size_t post_count(const struct fw_plan *plan)
{
    return plan->post_count;
}

static void fill_post(const struct fw_report_source *from, size_t i,
                      struct fw_row *row, bool *failed)
{
    const struct fw_plan *plan = from->plan;
    const struct fw_plan_post *post = &plan->posts[i];
    struct filler to = {row, 0, failed};
    text(&to, post->id);
    text(&to, plan->fences[post->fence].id);
    number(&to, post->at_m);
    text(&to, fw_report__why(post->why));
}

/* ---- water ---- */

static const struct fw_column water_columns[] = {
    {"water", FW_COLUMN_TEXT},   {"field", FW_COLUMN_TEXT},
    {"kind_of", FW_COLUMN_TEXT}, {"from", FW_COLUMN_DATE},
    {"to", FW_COLUMN_DATE},      {"litres_day", FW_COLUMN_NUMBER},
};

static size_t water_count(const struct fw_plan *plan)
{
    return plan->water_count;
}

static void fill_water(const struct fw_report_source *from, size_t i,
                       struct fw_row *row, bool *failed)
{
    const struct fw_plan *plan = from->plan;
    const struct fw_plan_water *water = &plan->waters[i];
    struct filler to = {row, 0, failed};
    text(&to, water->id);
    text(&to, plan->fields[water->field].name);
    text(&to, water->kind_of);
    day(&to, water->from);
    day(&to, water->to);
    number(&to, water->litres_day);
}

/* ---- gates ---- */

static const struct fw_column gate_columns[] = {
    {"gate", FW_COLUMN_TEXT},      {"field", FW_COLUMN_TEXT},
    {"kind_of", FW_COLUMN_TEXT},   {"on", FW_COLUMN_DATE},
    {"from", FW_COLUMN_TEXT},      {"to", FW_COLUMN_TEXT},
    {"width_m", FW_COLUMN_NUMBER}, {"room_m", FW_COLUMN_NUMBER},
};

static size_t gate_count(const struct fw_plan *plan)
{
    return plan->gate_count;
}

static void fill_gate(const struct fw_report_source *from, size_t i,
                      struct fw_row *row, bool *failed)
{
    const struct fw_plan *plan = from->plan;
    const struct fw_plan_gate *gate = &plan->gates[i];
    struct filler to = {row, 0, failed};
    text(&to, gate->id);
    text(&to, plan->fields[gate->field].name);
    text(&to, gate->kind_of);
    day(&to, gate->on);
    text(&to, paddock_id(plan, gate->from));
    text(&to, paddock_id(plan, gate->to));
    number_if(&to, gate->width_m > 0, gate->width_m);
    number_if(&to, gate->room_m > 0, gate->room_m);
}

/* ---- energizer ---- */

static const struct fw_column energizer_columns[] = {
    {"energizer", FW_COLUMN_TEXT},
    {"joules", FW_COLUMN_NUMBER},
    {"open_v", FW_COLUMN_NUMBER},
    {"earth_rods", FW_COLUMN_WHOLE},
};

static size_t energizer_count(const struct fw_plan *plan)
{
    (void)plan;
    return 1;
}

static void fill_energizer(const struct fw_report_source *from, size_t i,
                           struct fw_row *row, bool *failed)
{
    const struct fw_plan *plan = from->plan;
    (void)i;
    struct filler to = {row, 0, failed};
    text(&to, "energizer");
    number(&to, plan->energizer.joules);
    number(&to, plan->power.open_v);
    number(&to, plan->energizer.rods);
}

/* ---- findings ---- */

static const struct fw_column finding_columns[] = {
    {"finding", FW_COLUMN_TEXT},    {"about", FW_COLUMN_TEXT},
    {"level", FW_COLUMN_TEXT},      {"distance_m", FW_COLUMN_NUMBER},
    {"wanted_m", FW_COLUMN_NUMBER}, {"text", FW_COLUMN_TEXT},
    {"source", FW_COLUMN_TEXT},     {"rule", FW_COLUMN_TEXT},
    {"feature", FW_COLUMN_TEXT},    {"field", FW_COLUMN_TEXT},
    {"fence", FW_COLUMN_TEXT},
};

static size_t finding_count(const struct fw_plan *plan)
{
    return plan->finding_count;
}

static void fill_finding(const struct fw_report_source *from, size_t i,
                         struct fw_row *row, bool *failed)
{
    const struct fw_plan *plan = from->plan;
    const struct fw_plan_finding *finding = &plan->findings[i];
    struct filler to = {row, 0, failed};
    text(&to, finding->id);
    text(&to, finding->about);
    text(&to, fw_level_name(finding->level));
    number_if(&to, finding->measured, finding->distance_m);
    number_if(&to, finding->measured, finding->wanted_m);
    text(&to, finding->text);
    text(&to, finding->source);
    text(&to, finding->rule);
    text(&to, finding->feature);
    text(&to,
         finding->field == FW_NONE ? NULL : plan->fields[finding->field].name);
    text(&to,
         finding->fence == FW_NONE ? NULL : plan->fences[finding->fence].id);
}

/* ---- tables without geometry: stays, standings, cautions ---- */

static const struct fw_column stay_columns[] = {
    {"stay", FW_COLUMN_WHOLE}, {"paddock", FW_COLUMN_TEXT},
    {"field", FW_COLUMN_TEXT}, {"enter", FW_COLUMN_DATE},
    {"leave", FW_COLUMN_DATE}, {"target_kg", FW_COLUMN_NUMBER},
};

static size_t stay_count(const struct fw_plan *plan)
{
    return plan->time.stay_count;
}

static void fill_stay(const struct fw_report_source *from, size_t i,
                      struct fw_row *row, bool *failed)
{
    const struct fw_plan *plan = from->plan;
    const struct fw_plan_paddock *paddock =
        &plan->paddocks[plan->time.stays[i].cell];
    const struct fw_nights nights = fw_time_nights(&plan->time, i);
    struct filler to = {row, 0, failed};
    number(&to, (double)i + 1);
    text(&to, paddock->id);
    text(&to, plan->fields[paddock->field].name);
    day(&to, nights.from);
    day(&to, nights.to);
    number(&to, plan->time.stays[i].target_kg);
}

/* Moves and steps are counted from 1 as the card does; a line that stood before
 * has no first ones. */
static const struct fw_column standing_columns[] = {
    {"fence", FW_COLUMN_TEXT},      {"field", FW_COLUMN_TEXT},
    {"up", FW_COLUMN_DATE},         {"up_move", FW_COLUMN_WHOLE},
    {"up_step", FW_COLUMN_WHOLE},   {"down", FW_COLUMN_DATE},
    {"down_move", FW_COLUMN_WHOLE}, {"down_step", FW_COLUMN_WHOLE},
};

static size_t standing_count(const struct fw_plan *plan)
{
    return plan->time.standing_count;
}

static void when(struct filler *to, const struct fw_time *time,
                 struct fw_time_when at)
{
    const bool known = at.move != FW_NONE;
    day(to, known ? time->moves[at.move].day : FW_NO_DAY);
    number_if(to, known, (double)at.move + 1);
    number_if(to, known,
              known ? (double)(at.step - time->moves[at.move].steps.first + 1)
                    : 0);
}

static void fill_standing(const struct fw_report_source *from, size_t i,
                          struct fw_row *row, bool *failed)
{
    const struct fw_plan *plan = from->plan;
    const struct fw_standing *standing = &plan->time.standings[i];
    const struct fw_plan_fence *fence = &plan->fences[standing->line];
    struct filler to = {row, 0, failed};
    text(&to, fence->id);
    text(&to, plan->fields[fence->field].name);
    when(&to, &plan->time, standing->up);
    when(&to, &plan->time, standing->down);
}

static const struct fw_column caution_columns[] = {
    {"caution", FW_COLUMN_TEXT}, {"for", FW_COLUMN_TEXT},
    {"when", FW_COLUMN_TEXT},    {"text", FW_COLUMN_TEXT},
    {"source", FW_COLUMN_TEXT},  {"tried", FW_COLUMN_TEXT},
};

static size_t caution_count(const struct fw_plan *plan)
{
    return plan->caution_count;
}

static void fill_caution(const struct fw_report_source *from, size_t i,
                         struct fw_row *row, bool *failed)
{
    const struct fw_plan *plan = from->plan;
    const struct fw_plan_caution *caution = &plan->cautions[i];
    struct filler to = {row, 0, failed};
    text(&to, caution->id);
    text(&to, caution->who);
    text(&to, caution->when);
    text(&to, caution->text);
    text(&to, caution->source);
    text(&to, caution->tried);
}

#define LAYER(name, kind, geometry, of)                                        \
    {                                                                          \
        name, kind, geometry, of##_columns, COUNT_OF(of##_columns), "fid",     \
            of##_count, fill_##of                                              \
    }

const struct fw_report_layer_row fw_report__layers[FW_REPORT_LAYERS] = {
    LAYER("fields", "field", FW_FEATURE_POLYGON, field),
    LAYER("paddocks", "paddock", FW_FEATURE_POLYGON, paddock),
    LAYER("lanes", "lane", FW_FEATURE_POLYGON, lane),
    LAYER("fences", "fence", FW_FEATURE_LINE, fence),
    LAYER("posts", "post", FW_FEATURE_POINT, post),
    LAYER("water", "water", FW_FEATURE_POINT, water),
    LAYER("gates", "gate", FW_FEATURE_POINT, gate),
    LAYER("energizer", "energizer", FW_FEATURE_POINT, energizer),
    LAYER("findings", "finding", FW_FEATURE_OTHER, finding),
    LAYER("stays", "stay", FW_FEATURE_NONE, stay),
    LAYER("standings", "standing", FW_FEATURE_NONE, standing),
    LAYER("cautions", "caution", FW_FEATURE_NONE, caution),
    {"layer_styles", "style", FW_FEATURE_NONE, fw_report__style_columns,
     FW_REPORT_STYLE_COLUMNS, "id", fw_report__style_rows,
     fw_report__fill_style},
};
