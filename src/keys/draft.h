/* What a person has told, before it becomes a farm: each value with the place
 * where it was told, so that a later complaint can name its line or option.
 * Texts belong to the file's document or to the settings, which outlive it. */
#ifndef FW_KEYS_DRAFT_H
#define FW_KEYS_DRAFT_H

#include "farm/farm.h"
#include <foldwright/date.h>

struct fw_farm__at {
    bool given;
    size_t line;       /* in the farm file, from 1; 0: told by an option */
    const char *where; /* the option's name; NULL: told by the file */
};

/* Every one of them starts with its place; see fw_farm__put. */
struct fw_farm__number {
    struct fw_farm__at at;
    double value; /* in the row's unit */
};

struct fw_farm__text {
    struct fw_farm__at at;
    const char *text;
    const char *secret; /* of a source with a password: as it was told; its
                           text may be shown */
};

struct fw_farm__pick {
    struct fw_farm__at at;
    int value; /* of an enum, or 0 and 1 for no and yes */
};

struct fw_farm__density {
    struct fw_farm__at at;
    enum fw_density word;
    double kg_ha_cm; /* measured; 0: the word holds */
};

struct fw_farm__growth { /* a published word or a file, or else the rates */
    struct fw_farm__text text;
    struct fw_growth_rate rates[FW_GROWTH_MOST];
    size_t count;
    bool steady;
};

struct fw_farm__loss { /* a share, or where it was measured */
    struct fw_farm__at at;
    double share;
    const struct fw_stockpile_loss *place; /* NULL: a share was told */
};

struct fw_farm__class {
    struct fw_farm__text name;
    struct fw_farm__number head, weight_kg;
    struct fw_farm__pick state, coat, trained;
    struct fw_farm__number intake; /* the share; negative: kg a day */
};

struct fw_farm__forage {
    struct fw_farm__at at; /* of the whole */
    struct fw_farm__text sward;
    struct fw_farm__density density;
    struct fw_farm__number height_m, leave_m;
    struct fw_farm__number mass_kg_ha, residual_kg_ha;
    struct fw_farm__number use, legume;
    struct fw_farm__pick use_of, condition;
    struct fw_farm__growth growth;
    struct fw_farm__number growth_year_kg_ha, ceiling_kg_ha;
    struct fw_farm__loss winter_loss;
    struct fw_farm__pick growth_shape;
};

struct fw_farm__edge { /* answers for one side */
    struct fw_farm__number side;
    struct fw_farm__pick holds, hot;
};

struct fw_farm__perimeter {
    struct fw_farm__pick holds, hot, ponds;
    struct fw_farm__edge *sides;
    size_t side_count, side_capacity;
};

struct fw_farm__each { /* what one field has of its own */
    struct fw_farm__text field, gate, water, park, front;
    struct fw_farm__number gate_width_m;
    struct fw_farm__pick soft;
    struct fw_farm__forage forage;
    struct fw_farm__perimeter perimeter;
};

struct fw_farm__map {
    struct fw_farm__pick role;
    struct fw_farm__text source, layer, where, crs;
    struct fw_farm__number kv, setback_m, width_m, minutes, posts;
    struct fw_farm__pick sheep_cross;
    struct fw_farm__forage forage; /* of its zones */
};

struct fw_farm__part { /* of the winter's grass */
    struct fw_farm__text name, field, zone, sward;
    struct fw_farm__number share, area_ha;
    struct fw_farm__number grazed, left_m, topped, topped_m, nitrogen;
};

struct fw_farm__winter {
    struct fw_farm__text line;
    struct fw_farm__number base_nitrogen, frost, from, days, break_days;
    struct fw_farm__number latitude_deg;
    struct fw_farm__part *parts;
    size_t part_count, part_capacity;
};

struct fw_farm__raster {
    struct fw_farm__text source, crs;
    struct fw_farm__number band, scale, offset;
};

struct fw_farm__stay {
    struct fw_farm__at at;
    double days[7];
};

struct fw_farm__away {
    struct fw_farm__at at;
    int *days; /* pairs */
    size_t count, capacity;
};

struct fw_farm__looked { /* what a person has looked at */
    struct fw_farm__at at;
    unsigned what; /* as fw_farm.looked */
};

struct fw_farm__cover { /* as a person walked it */
    const char *field;
    double kg_ha;
};

struct fw_farm__covers {
    struct fw_farm__at at;
    struct fw_farm__cover *items;
    size_t count, capacity;
};

struct fw_farm__words { /* names: of fields to take, of columns to copy */
    struct fw_farm__at at;
    struct fw_farm__text *names;
    size_t count, capacity;
};

struct fw_farm__spec { /* of a kind of fence */
    struct fw_farm__number strands, post_gap_m, slack, reel_m, top_m, bottom_m;
    struct fw_farm__pick reel_use, lambs, lay_flat;
};

struct fw_farm__wiring {
    struct fw_farm__number conductor, perimeter_conductor, lead_conductor;
    struct fw_farm__number leakage, perimeter_leakage; /* ohm km */
    struct fw_farm__number bonded; /* metres between bonds; 0: at the live end;
                                      negative: at both ends */
    struct fw_farm__pick far_end, moves, earth_return;
    struct fw_farm__number joint, in_lead, lead_m;
    struct fw_farm__number soil, rods, earth, rod_v;
    struct fw_farm__number open_v, loaded_v, internal;
    struct fw_farm__number interval_s, charge_days, sun_h;
};

struct fw_farm__weather { /* what it asks for */
    struct fw_farm__number wet_more, soft_more;
    struct fw_farm__number wool_c, shorn_c, hair_c, wet_c, cold_more_kg;
    struct fw_farm__number heat_from_c, heat_looks, snow_from_m;
    struct fw_farm__number frozen_from_c, lasts_days;
    struct fw_farm__pick ground[FW_WEATHER_COUNT];
    struct fw_farm__text say[FW_WEATHER_COUNT];
};

struct fw_farm__draft {
    struct fw_farm__text name, layout;
    struct fw_farm__pick units, last, back_fence, soil;
    struct fw_farm__pick prefer, limits, block_lines;
    struct fw_farm__pick first, season, field_order, work_order;
    struct fw_farm__number keep_storm, keep_heat;
    struct fw_farm__number lambing_from, lambing_to;
    struct fw_farm__pick lambing_way;
    struct fw_farm__number start_day, until_day, fence_bearing_deg, pace_m;
    struct fw_farm__number least_width_m, least_face_m, longest_shape;
    struct fw_farm__number lane_width_m, apron_m;
    struct fw_farm__stay stay;
    struct fw_farm__away away;

    struct fw_farm__class *classes;
    size_t class_count, class_capacity;
    struct fw_farm__forage forage;        /* as the file has it */
    struct fw_farm__forage option_forage; /* goes over it */

    struct fw_farm__text source, layer, where, name_column, crs;
    struct fw_farm__words only, copy;
    struct fw_farm__covers covers;
    struct fw_farm__each *each;
    size_t each_count, each_capacity;

    struct fw_farm__text gate, water, park, front, earlier;
    struct fw_farm__perimeter perimeter;

    struct fw_farm__spec fence, perimeter_fence;
    struct fw_farm__number fence_tolerance_m, brace_bend_deg, gates;
    struct fw_farm__number life_years, upkeep, interest;
    struct fw_farm__number owns[FW_WARE_COUNT];
    struct fw_farm__number own_reels, own_posts, own_wire_m;
    struct fw_farm__number walk_m, wind_m, set_s, pull_s, end_s, armful;
    struct fw_farm__number tank_l, trough_l, road_m, drive_m, fill_l_min,
        payload_kg, tank_kg, vehicle_width_m, hose_m, haul_slope, gate_width_m,
        grass_water, trough_days;
    struct fw_farm__pick air;
    struct fw_farm__pick trough_moves;
    struct fw_farm__pick rule;
    struct fw_farm__number joules;
    struct fw_farm__text energizer;
    struct fw_farm__wiring wiring;

    struct fw_farm__text currency;
    struct fw_farm__number post, reel, wire_m, corner_post, line_post,
        perimeter_wire_m, energizer_price, joule_price, lead_price,
        copper_wire_price, pipe_price, trough_price, tank_price, earth_rod,
        insulator, sign, anchor, handle, sleeve, brace_post, brace_rail,
        strainer, gate_price, staple, clamp, cut_out;
    struct fw_farm__number sign_path_m, sign_road_m;
    struct fw_farm__looked looked;
    struct fw_farm__number looked_day;

    struct fw_farm__winter winter;
    struct fw_farm__weather weather;

    struct fw_farm__number setback_m; /* of maps that tell none */
    struct fw_farm__raster forage_map, dem;
    struct fw_farm__map *maps;
    size_t map_count, map_capacity;
};

#endif
