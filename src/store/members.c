#include "store/members.h"

#include "plan/words.h"

#define COUNT_OF(array) (sizeof(array) / sizeof(array)[0])
#define AT(member) offsetof(struct OWNER, member)
#define ROOM(member) sizeof(((struct OWNER *)0)->member)

#define PLAIN(name, type, member)                                              \
    {                                                                          \
        name, type, AT(member), 0, FW_IO__NOWHERE, NULL, NULL, 0               \
    }
#define NUMBER(name, member) PLAIN(name, FW_IO__NUMBER, member)
#define KNOWN(name, member, flag)                                              \
    {                                                                          \
        name, FW_IO__NUMBER, AT(member), 0, AT(flag), NULL, NULL, 0            \
    }
#define TEXT(name, member)                                                     \
    {                                                                          \
        name, FW_IO__TEXT, AT(member), ROOM(member), FW_IO__NOWHERE, NULL,     \
            NULL, 0                                                            \
    }
#define WORD(name, member, words)                                              \
    {                                                                          \
        name, FW_IO__WORD, AT(member), 0, FW_IO__NOWHERE, NULL, words,         \
            COUNT_OF(words)                                                    \
    }
#define REF(name, member, target)                                              \
    {                                                                          \
        name, FW_IO__REF, AT(member), target, FW_IO__NOWHERE, NULL, NULL, 0    \
    }
#define REFS(name, member, target)                                             \
    {                                                                          \
        name, FW_IO__REFS, AT(member), target, FW_IO__NOWHERE, NULL, NULL, 0   \
    }
#define OBJECT(name, member, kind)                                             \
    {                                                                          \
        name, FW_IO__OBJECT, AT(member), 0, FW_IO__NOWHERE, &(kind), NULL, 0   \
    }
#define LIST(name, type, member, count)                                        \
    {                                                                          \
        name, type, AT(member), AT(count), FW_IO__NOWHERE, NULL, NULL, 0       \
    }
#define ARRAY(name, member, count, capacity, kind)                             \
    {                                                                          \
        name, FW_IO__ARRAY, AT(member), AT(count), AT(capacity), &(kind),      \
            NULL, 0                                                            \
    }
#define FIXED_ARRAY(name, type, member, count, kind)                           \
    {                                                                          \
        name, type, AT(member), AT(count), FW_IO__NOWHERE, &(kind), NULL, 0    \
    }
#define ABSENT(name)                                                           \
    {                                                                          \
        name, FW_IO__NULL, 0, 0, FW_IO__NOWHERE, NULL, NULL, 0                 \
    }
#define KIND(kind, members)                                                    \
    const struct fw_io__kind kind = {sizeof(struct OWNER), members,            \
                                     COUNT_OF(members), 0}
#define ROW(kind, members, left_off)                                           \
    const struct fw_io__kind kind = {sizeof(struct OWNER), members,            \
                                     COUNT_OF(members),                        \
                                     COUNT_OF(members) - (left_off)}

/* ---- words; a NULL is what nobody told ---- */

const char *const fw_io__level_words[3] = {"note", "warning", "danger"};
static const char *const vertex_words[] = {"input", "bow", "cut"};
static const char *const paced_words[] = {NULL, "side", "line", "straight"};
static const char *const state_words[] = {
    "dry",
    "flushing",
    "early-gestation",
    "late-gestation",
    "lactation-single",
    "lactation-twins",
    "late-lactation-single",
    "late-lactation-twins",
    "lamb-at-foot",
    "weaned-lamb",
    "ewe-lamb",
    "ram-lamb",
    "hogget",
    "ram",
};
_Static_assert(COUNT_OF(state_words) == FW_STATE_COUNT,
               "a word for each state");
static const char *const opening_words[] = {"gate", "end-a", "end-b", "joint"};
static const char *const step_words[] = {
    "set",   "hook",  "read",   "carry", "open",      "walk",
    "later", "count", "bridge", "close", "take-down",
};
_Static_assert(COUNT_OF(step_words) == FW_STEP_COUNT_OF,
               "a word for each kind of step");
static const char *const earth_words[] = {"joules", "test", "most"};
static const char *const concern_words[] = {
    "untrained", "legume",      "lambs",      "late-gestation",
    "lactation", "shorn",       "power-line", "road",
    "pond",      "cold",        "heat",       "dry-soil",
    "spring",    "watercourse", "fescue",     "tupping",
};

/* ---- small structs ---- */

/* The plane is the field's: fw_io__places. */
#define OWNER fw_plan_place
static const struct fw_io__member place[] = {
    PLAIN("lon", FW_IO__DEGREES, lonlat.lon_deg),
    PLAIN("lat", FW_IO__DEGREES, lonlat.lat_deg),
    PLAIN("x", FW_IO__FILE_UNITS, file.x),
    PLAIN("y", FW_IO__FILE_UNITS, file.y),
};
ROW(fw_io__place_kind, place, 2);
#undef OWNER

#define OWNER fw_vertex
static const struct fw_io__member vertex[] = {
    NUMBER("lon", lonlat.lon_deg),
    NUMBER("lat", lonlat.lat_deg),
    WORD("kind", kind, vertex_words),
    NUMBER("x", file.x),
    NUMBER("y", file.y),
};
static ROW(vertex_kind, vertex, 2);
#undef OWNER

#define OWNER fw_plan_paced
static const struct fw_io__member paced[] = {
    WORD("by", by, paced_words),
    PLAIN("corner", FW_IO__SIZE, corner),
    PLAIN("towards", FW_IO__SIZE, towards),
    REF("fence", fence, FW_IO__FENCES),
    PLAIN("far_end", FW_IO__BOOL, far_end),
    NUMBER("along_m", along_m),
    PLAIN("paces", FW_IO__INT, paces),
    PLAIN("bearing_deg", FW_IO__NUMBER_TOLD, bearing_deg),
    REF("on_from", on_from, FW_IO__FENCES),
    PLAIN("on_paces", FW_IO__INT_TOLD, on_paces),
};
ROW(fw_io__paced_kind, paced, 0);
#undef OWNER

/* The rest of it follows from where its middle is. */
#define OWNER fw_plane
static const struct fw_io__member plane[] = {
    NUMBER("lon", centre.lon_deg),
    NUMBER("lat", centre.lat_deg),
};
static KIND(plane_kind, plane);
#undef OWNER

#define OWNER fw_farm_side
static const struct fw_io__member side[] = {
    WORD("holds", holds, fw_plan__holds_words),
    WORD("hot", hot, fw_plan__answer_words),
};
static KIND(side_kind, side);
#undef OWNER

#define OWNER fw_kit
static const struct fw_io__member kit[] = {
    PLAIN("reels", FW_IO__INT, reels),
    PLAIN("posts", FW_IO__INT, posts),
    NUMBER("wire_m", wire_m),
};
static KIND(kit_kind, kit);
#undef OWNER

#define OWNER fw_fence_spec
static const struct fw_io__member spec[] = {
    PLAIN("strands", FW_IO__INT, strands),
    NUMBER("post_gap_m", post_gap_m),
    NUMBER("bend_deg", bend_deg),
    NUMBER("slack", slack),
    NUMBER("reel_m", reel_m),
    PLAIN("out_and_back", FW_IO__BOOL, out_and_back),
    NUMBER("height_top_m", height_top_m),
    NUMBER("height_bottom_m", height_bottom_m),
    PLAIN("lay_flat", FW_IO__BOOL, lay_flat),
};
static KIND(spec_kind, spec);
#undef OWNER

#define OWNER fw_flock_class
static const struct fw_io__member class[] = {
    TEXT("class", name),
    PLAIN("head", FW_IO__INT, head),
    NUMBER("weight_kg", weight_kg),
    WORD("state", state, state_words),
    PLAIN("intake_share", FW_IO__NUMBER_SET, intake_share),
    PLAIN("intake_kg_day", FW_IO__NUMBER_SET, intake_kg_day),
    WORD("coat", coat, fw_plan__coat_words),
    WORD("trained", trained, fw_plan__answer_words),
};
static KIND(class_kind, class);
#undef OWNER

#define OWNER fw_flock_sums
static const struct fw_io__member flock[] = {
    PLAIN("head", FW_IO__INT, head),
    NUMBER("liveweight_kg", liveweight_kg),
    NUMBER("demand_kg_day", demand_kg_day),
    NUMBER("water_l_day", water_l_day),
    PLAIN("water_source", FW_IO__SOURCE, water_source),
};
static KIND(flock_kind, flock);
#undef OWNER

#define OWNER fw_energizer
static const struct fw_io__member energizer[] = {
    NUMBER("joules", joules),
    NUMBER("need_j", need_j),
    PLAIN("given", FW_IO__BOOL, given),
    PLAIN("earth_rods", FW_IO__INT, rods),
    NUMBER("rod_m", rod_m),
    NUMBER("rod_metres", rod_metres),
    NUMBER("open_v", open_v),
    NUMBER("touched_v", touched_v),
    PLAIN("rule_source", FW_IO__SOURCE, rule_source),
    PLAIN("rod_source", FW_IO__SOURCE, rod_source),
    PLAIN("volt_source", FW_IO__SOURCE, volt_source),
};
static KIND(energizer_kind, energizer);
#undef OWNER

#define OWNER fw_farm_wiring
static const struct fw_io__member wiring[] = {
    NUMBER("moved_ohm_m", moved_ohm_m),
    NUMBER("perimeter_ohm_m", perimeter_ohm_m),
    NUMBER("lead_ohm_m", lead_ohm_m),
    PLAIN("moved_leak_ohm_km", FW_IO__NUMBER_SET, moved_leak_ohm_km),
    PLAIN("perimeter_leak_ohm_km", FW_IO__NUMBER_SET, perimeter_leak_ohm_km),
    PLAIN("perimeter_strands", FW_IO__INT, perimeter_strands),
    WORD("bonded", bonded, fw_plan__bonded_words),
    PLAIN("bond_gap_m", FW_IO__NUMBER_SET, bond_gap_m),
    PLAIN("far_hooked", FW_IO__BOOL, far_hooked),
    NUMBER("joint_ohm", joint_ohm),
    NUMBER("switch_ohm", switch_ohm),
    PLAIN("lead_m", FW_IO__NUMBER_TOLD, lead_m),
    NUMBER("soil_ohm_m", soil_ohm_m),
    PLAIN("rods", FW_IO__INT, rods),
    PLAIN("earth_ohm", FW_IO__NUMBER_SET, earth_ohm),
    WORD("earth_return", earth_return, fw_plan__answer_words),
    NUMBER("rod_v", rod_v),
    PLAIN("open_v", FW_IO__NUMBER_SET, open_v),
    PLAIN("internal_ohm", FW_IO__NUMBER_SET, internal_ohm),
    PLAIN("moves", FW_IO__BOOL, moves),
    NUMBER("interval_s", interval_s),
    NUMBER("charge_days", charge_days),
    NUMBER("sun_h", sun_h),
};
static KIND(wiring_kind, wiring);
#undef OWNER

#define OWNER fw_plan_power
static const struct fw_io__member power[] = {
    NUMBER("open_v", open_v),
    NUMBER("internal_ohm", internal_ohm),
    NUMBER("earth_ohm", earth_ohm),
    PLAIN("rods_by_joules", FW_IO__INT, rods_by_joules),
    PLAIN("rods_by_test", FW_IO__INT, rods_by_test),
    WORD("decided", decided, earth_words),
    NUMBER("rod_test_v", rod_test_v),
    NUMBER("least_j", least_j),
    PLAIN("earth_return", FW_IO__BOOL, earth_return),
};
static KIND(power_kind, power);
#undef OWNER

#define OWNER fw_plan_prices
static const struct fw_io__member prices[] = {
    PLAIN("earth_rod", FW_IO__NUMBER_TOLD, earth_rod),
    PLAIN("joule", FW_IO__NUMBER_TOLD, joule),
    PLAIN("lead_m", FW_IO__NUMBER_TOLD, lead_m),
    PLAIN("copper_wire_m", FW_IO__NUMBER_TOLD, copper_wire_m),
};
static KIND(prices_kind, prices);
#undef OWNER

#define OWNER fw_plan_power_day
static const struct fw_io__member power_day[] = {
    PLAIN("from", FW_IO__DAY, from),      PLAIN("to", FW_IO__DAY, to),
    REF("fence", fence, FW_IO__FENCES),   NUMBER("at_m", at_m),
    NUMBER("touched_v", touched_v),       NUMBER("open_v", open_v),
    NUMBER("least_open_v", least_open_v), NUMBER("source_v", source_v),
    PLAIN("dead", FW_IO__INT, dead),      PLAIN("enough", FW_IO__BOOL, enough),
    NUMBER("alone_v", alone_v),
};
static ROW(power_day_kind, power_day, 0);
#undef OWNER

#define OWNER fw_plan_reading
static const struct fw_io__member reading[] = {
    PLAIN("step", FW_IO__SIZE, step), REF("fence", fence, FW_IO__FENCES),
    NUMBER("far_v", far_v),           NUMBER("touched_v", touched_v),
    NUMBER("wanted_v", wanted_v),
};
static ROW(reading_kind, reading, 0);
#undef OWNER

/* ---- what stands on the map ---- */

#define OWNER fw_copied
static const struct fw_io__member copied[] = {
    PLAIN("column", FW_IO__STRING, column),
    PLAIN("value", FW_IO__STRING, value),
};
static KIND(copied_kind, copied);
#undef OWNER

#define OWNER fw_plan_field
static const struct fw_io__member field[] = {
    PLAIN("field", FW_IO__STRING, name),
    PLAIN("source", FW_IO__STRING, source),
    PLAIN("source_layer", FW_IO__STRING, origin.layer),
    PLAIN("source_fid", FW_IO__SIZE, origin.fid),
    ARRAY("copied", origin.copied, origin.copied_count, origin.copied_capacity,
          copied_kind),
    PLAIN("crs", FW_IO__STRING, crs),
    PLAIN("crs_accuracy_m", FW_IO__NUMBER_TOLD, crs_accuracy_m),
    NUMBER("area_ha", area_ha),
    NUMBER("grazed_ha", grazed_ha),
    NUMBER("plane_m2", plane_m2),
    NUMBER("perimeter_m", perimeter_m),
    PLAIN("paddocks", FW_IO__SIZE, paddock_count),
    PLAIN("first_paddock", FW_IO__SIZE, first_paddock),
    PLAIN("fences", FW_IO__SIZE, fence_count),
    PLAIN("first_fence", FW_IO__SIZE, first_fence),
    PLAIN("no_plan", FW_IO__STRING, no_plan),
    NUMBER("rotation_days", rotation_days),
    NUMBER("usable_kg_ha", usable_kg_ha),
    NUMBER("mass_kg_ha", mass_kg_ha),
    NUMBER("residual_kg_ha", residual_kg_ha),
    PLAIN("grass_m", FW_IO__NUMBER_SET, grass_m),
    PLAIN("left_m", FW_IO__NUMBER_SET, left_m),
    NUMBER("use", use),
    WORD("use_of", use_of, fw_plan__use_of_words),
    TEXT("layout", layout),
    TEXT("pattern", pattern),
    PLAIN("far_first", FW_IO__BOOL, far_first),
    NUMBER("direction_deg", direction_deg),
    NUMBER("fence_bound_m", fence_bound_m),
    NUMBER("last_share", last_share),
    NUMBER("left_kg", left_kg),
    PLAIN("gate", FW_IO__PLACE, gate),
    PLAIN("water", FW_IO__PLACE, water),
    PLAIN("park", FW_IO__PLACE, park),
    LIST("corners", FW_IO__SIZES, corners, corner_count),
    LIST("corner_numbers", FW_IO__SIZES, corner_numbers, corner_number_count),
    LIST("side_numbers", FW_IO__SIZES, side_numbers, side_number_count),
    FIXED_ARRAY("sides", FW_IO__ARRAY_SAME, sides, corner_count, side_kind),
    WORD("holes_hold", hole_holds, fw_plan__holds_words),
    OBJECT("plane", plane, plane_kind),
    PLAIN("rings", FW_IO__RINGS, rings),
    FIXED_ARRAY("vertices", FW_IO__ARRAY, vertices, vertex_count, vertex_kind),
};
static KIND(field_kind, field);
#undef OWNER

#define OWNER fw_plan_paddock
static const struct fw_io__member paddock[] = {
    TEXT("paddock", id),
    REF("field", field, FW_IO__FIELDS),
    TEXT("block", block),
    PLAIN("seq", FW_IO__INT, seq),
    NUMBER("stay_days", stay_days),
    NUMBER("area_ha", area_ha),
    NUMBER("usable_kg", usable_kg),
    NUMBER("demand_kg", demand_kg),
    NUMBER("head_per_ha", head_per_ha),
    NUMBER("liveweight_kg_ha", liveweight_kg_ha),
    NUMBER("perimeter_m", perimeter_m),
    NUMBER("elongation", elongation),
    PLAIN("pieces", FW_IO__INT, pieces),
    PLAIN("narrow_m", FW_IO__NUMBER_SET, narrow_m),
    KNOWN("walk_mean_m", walk_mean_m, walk_known),
    KNOWN("walk_max_m", walk_max_m, walk_known),
    REF("water", water, FW_IO__WATERS),
    TEXT("keep", keep),
    NUMBER("plane_m2", plane_m2),
    PLAIN("rings", FW_IO__RINGS, rings),
};
static KIND(paddock_kind, paddock);
#undef OWNER

#define OWNER fw_plan_lane
static const struct fw_io__member lane[] = {
    TEXT("lane", id),
    REF("field", field, FW_IO__FIELDS),
    PLAIN("apron", FW_IO__BOOL, apron),
    NUMBER("area_ha", area_ha),
    NUMBER("plane_m2", plane_m2),
    PLAIN("rings", FW_IO__RINGS, rings),
};
static KIND(lane_kind, lane);
#undef OWNER

/* Under its fence, which tells its name and the rest of its place. */
#define OWNER fw_plan_post
static const struct fw_io__member post[] = {
    PLAIN("at_m", FW_IO__METRES, at_m),
    WORD("why", why, fw_plan__why_words),
    PLAIN("lon", FW_IO__DEGREES, place.lonlat.lon_deg),
    PLAIN("lat", FW_IO__DEGREES, place.lonlat.lat_deg),
};
ROW(fw_io__post_kind, post, 0);
#undef OWNER

#define OWNER fw_plan_fence
static const struct fw_io__member fence[] = {
    TEXT("fence", id),
    REF("field", field, FW_IO__FIELDS),
    WORD("role", role, fw_plan__role_words),
    NUMBER("length_m", length_m),
    NUMBER("ground_m", ground_m),
    PLAIN("strands", FW_IO__INT, strands),
    NUMBER("wire_m", wire_m),
    PLAIN("reels", FW_IO__INT, reels),
    KNOWN("open_v", open_v, volts_known),
    KNOWN("touched_v", touched_v, volts_known),
    NUMBER("bearing_deg", bearing_deg),
    REF("from", from, FW_IO__PADDOCKS),
    REF("to", to, FW_IO__PADDOCKS),
    PLAIN("stood", FW_IO__BOOL, stood),
    PLAIN("rank", FW_IO__SIZE, rank),
    PLAIN("lay_min", FW_IO__NUMBER_SET, lay_min),
    PLAIN("pace_share", FW_IO__NUMBER_SET, pace_share),
    PLAIN("side", FW_IO__SIZE, side),
    PLAIN("a", FW_IO__PACED, a),
    PLAIN("b", FW_IO__PACED, b),
    LIST("line", FW_IO__SIZES, line, line_count),
    {"posts", FW_IO__POSTS, AT(posts), 0, FW_IO__NOWHERE, &fw_io__post_kind,
     NULL, 0},
};
static KIND(fence_kind, fence);
#undef OWNER

#define OWNER fw_plan_crossing
static const struct fw_io__member crossing[] = {
    REF("fence", fence, FW_IO__FENCES), TEXT("what", what),
    PLAIN("times", FW_IO__INT, times),  PLAIN("posts", FW_IO__INT, posts),
    NUMBER("minutes", minutes),
};
static KIND(crossing_kind, crossing);
#undef OWNER

#define OWNER fw_plan_water
static const struct fw_io__member water[] = {
    TEXT("water", id),
    TEXT("kind_of", kind_of),
    REF("field", field, FW_IO__FIELDS),
    PLAIN("from", FW_IO__DAY, from),
    PLAIN("to", FW_IO__DAY, to),
    NUMBER("litres_day", litres_day),
    PLAIN("place", FW_IO__PLACE, place),
};
static KIND(water_kind, water);
#undef OWNER

#define OWNER fw_plan_gate
static const struct fw_io__member gate[] = {
    TEXT("gate", id),
    REF("field", field, FW_IO__FIELDS),
    TEXT("kind_of", kind_of),
    REF("fence", fence, FW_IO__FENCES),
    WORD("where", where, opening_words),
    PLAIN("at_m", FW_IO__NUMBER_SET, at_m),
    PLAIN("on", FW_IO__DAY, on),
    REF("from", from, FW_IO__PADDOCKS),
    REF("to", to, FW_IO__PADDOCKS),
    PLAIN("width_m", FW_IO__NUMBER_SET, width_m),
    PLAIN("room_m", FW_IO__NUMBER_SET, room_m),
    PLAIN("tight", FW_IO__BOOL, tight),
    PLAIN("place", FW_IO__PLACE, place),
};
static KIND(gate_kind, gate);
#undef OWNER

#define OWNER fw_plan_finding
static const struct fw_io__member finding[] = {
    TEXT("finding", id),
    TEXT("rule", rule),
    TEXT("about", about),
    TEXT("feature", feature),
    REF("field", field, FW_IO__FIELDS),
    REF("fence", fence, FW_IO__FENCES),
    WORD("level", level, fw_io__level_words),
    KNOWN("distance_m", distance_m, measured),
    NUMBER("wanted_m", wanted_m),
    {"text", FW_IO__SAID, AT(text), ROOM(text), FW_IO__NOWHERE, NULL, NULL, 0},
    PLAIN("place", FW_IO__PLACE, place),
};
static KIND(finding_kind, finding);
#undef OWNER

#define OWNER fw_io__rule
static const struct fw_io__member rule[] = {
    TEXT("rule", rule),
    TEXT("text", text),
    TEXT("source", source),
};
KIND(fw_io__rule_kind, rule);
#undef OWNER

#define OWNER fw_plan_caution
static const struct fw_io__member caution[] = {
    TEXT("caution", id), TEXT("for", who),       TEXT("when", when),
    TEXT("text", text),  TEXT("source", source), TEXT("tried", tried),
};
static KIND(caution_kind, caution);
#undef OWNER

/* ---- what is done and bought ---- */

#define OWNER fw_time_stay
static const struct fw_io__member stay[] = {
    REF("paddock", cell, FW_IO__PADDOCKS),
    PLAIN("enter", FW_IO__DAY, enter),
    PLAIN("leave", FW_IO__DAY, leave),
    NUMBER("target_kg", target_kg),
    PLAIN("left_kg", FW_IO__NUMBER_SOME, left_kg),
};
static ROW(stay_kind, stay, 0);
#undef OWNER

#define OWNER fw_standing
static const struct fw_io__member standing[] = {
    REF("fence", line, FW_IO__FENCES),
    PLAIN("up_move", FW_IO__SIZE, up.move),
    PLAIN("up_step", FW_IO__SIZE, up.step),
    PLAIN("down_move", FW_IO__SIZE, down.move),
    PLAIN("down_step", FW_IO__SIZE, down.step),
};
static ROW(standing_kind, standing, 0);
#undef OWNER

#define OWNER fw_move
static const struct fw_io__member move[] = {
    PLAIN("day", FW_IO__DAY, day),
    REF("field", field, FW_IO__FIELDS),
    PLAIN("stay", FW_IO__SIZE, stay),
    PLAIN("first_step", FW_IO__SIZE, steps.first),
    PLAIN("steps", FW_IO__SIZE, steps.count),
    PLAIN("later", FW_IO__SIZE, later),
    REF("opening", opening, FW_IO__GATES),
    PLAIN("ahead", FW_IO__BOOL, ahead),
    PLAIN("carries", FW_IO__BOOL, carries),
    NUMBER("minutes", minutes),
    NUMBER("passes", passes),
};
static ROW(move_kind, move, 0);
#undef OWNER

#define OWNER fw_step
static const struct fw_io__member step[] = {
    WORD("step", kind, step_words),     REF("field", field, FW_IO__FIELDS),
    REF("gate", opening, FW_IO__GATES), REFS("fences", lines, FW_IO__FENCES),
    REFS("dead", dead, FW_IO__FENCES),  REFS("over", cells, FW_IO__PADDOCKS),
    NUMBER("over_m", over_m),           NUMBER("way_m", way_m),
};
static ROW(step_kind, step, 0);
#undef OWNER

#define OWNER fw_material
static const struct fw_io__member material[] = {
    TEXT("item", item),           TEXT("unit", unit),
    NUMBER("quantity", quantity), PLAIN("price", FW_IO__NUMBER_TOLD, price),
    TEXT("note", note),
};
static KIND(material_kind, material);
#undef OWNER

#define OWNER fw_farm_default
static const struct fw_io__member default_row[] = {
    TEXT("what", what),
    TEXT("value", value),
    TEXT("source", source),
};
static KIND(default_kind, default_row);
#undef OWNER

#define OWNER fw_plan_totals
static const struct fw_io__member totals[] = {
    PLAIN("paddocks", FW_IO__INT, paddocks),
    NUMBER("moved_wire_m", moved_wire_m),
    NUMBER("standing_wire_m", standing_wire_m),
    NUMBER("fence_m", fence_m),
    NUMBER("fence_bound_m", fence_bound_m),
    OBJECT("kit", kit, kit_kind),
    OBJECT("lack", lack, kit_kind),
    PLAIN("ties", FW_IO__INT, ties),
    PLAIN("handles", FW_IO__INT, handles),
    PLAIN("carry_trips_per_move", FW_IO__INT, carry_trips_per_move),
    NUMBER("passes_per_move", passes_per_move),
    NUMBER("minutes_per_move", minutes_per_move),
    KNOWN("walk_mean_m", walk_mean_m, walk_known),
    KNOWN("walk_max_m", walk_max_m, walk_known),
    ABSENT("walk_bound_m"),
    PLAIN("haul_trips", FW_IO__INT_TOLD, haul_trips),
    NUMBER("energizer_j", energizer_j),
    PLAIN("earth_rods", FW_IO__INT, earth_rods),
    KNOWN("cost", cost, cost_known),
};
static KIND(totals_kind, totals);
#undef OWNER

#define OWNER fw_input
static const struct fw_io__member input[] = {
    PLAIN("path", FW_IO__STRING, path),
    KNOWN("size", size, known),
    {"crc32", FW_IO__UNSIGNED, AT(crc32), 0, AT(known), NULL, NULL, 0},
};
static KIND(input_kind, input);
#undef OWNER

#define OWNER fw_plan
static const struct fw_io__member plan[] = {
    /* Who comes first stands first in the file. */
    FIXED_ARRAY("cautions", FW_IO__ARRAY, cautions, caution_count,
                caution_kind),
    PLAIN("farm", FW_IO__STRING, farm_name),
    ARRAY("inputs", inputs.items, inputs.count, inputs.capacity, input_kind),
    WORD("units", units, fw_plan__units_words),
    PLAIN("crs", FW_IO__STRING, crs),
    PLAIN("start", FW_IO__DAY, start_day),
    PLAIN("end", FW_IO__DAY, end_day),
    OBJECT("totals", totals, totals_kind),
    PLAIN("untold", FW_IO__NOTES, untold),
    PLAIN("notes", FW_IO__NOTES, notes),
    OBJECT("flock", flock, flock_kind),
    FIXED_ARRAY("classes", FW_IO__ARRAY, classes, class_count, class_kind),
    WORD("season", season, fw_plan__season_words),
    WORD("field_order", field_order, fw_plan__field_order_words),
    PLAIN("back_fence", FW_IO__BOOL, back_fence),
    PLAIN("pace_m", FW_IO__NUMBER, pace_m),
    PLAIN("tank_l", FW_IO__NUMBER_SET, tank_l),
    PLAIN("dry_soil", FW_IO__BOOL, dry_soil),
    OBJECT("energizer", energizer, energizer_kind),
    PLAIN("energizer_place", FW_IO__PLACE, energizer_place),
    OBJECT("moved", moved, spec_kind),
    OBJECT("wiring", wiring, wiring_kind),
    OBJECT("power", power, power_kind),
    FIXED_ARRAY("power_days", FW_IO__ARRAY, power_days, power_day_count,
                power_day_kind),
    ARRAY("readings", readings, reading_count, reading_capacity, reading_kind),
    OBJECT("prices", prices, prices_kind),
    {"concerns", FW_IO__BITS, AT(concerns), 0, FW_IO__NOWHERE, NULL,
     concern_words, COUNT_OF(concern_words)},
    PLAIN("legume", FW_IO__NUMBER_TOLD, legume),
    TEXT("currency", currency),
    PLAIN("use_source", FW_IO__STRING, use_source),
    PLAIN("density_source", FW_IO__STRING, density_source),
    PLAIN("intake_source", FW_IO__STRING, intake_source),
    PLAIN("water_source", FW_IO__STRING, water_source),
    ARRAY("fields", fields, field_count, field_capacity, field_kind),
    ARRAY("paddocks", paddocks, paddock_count, paddock_capacity, paddock_kind),
    ARRAY("lanes", lanes, lane_count, lane_capacity, lane_kind),
    ARRAY("fences", fences, fence_count, fence_capacity, fence_kind),
    ARRAY("crossings", crossings, crossing_count, crossing_capacity,
          crossing_kind),
    ARRAY("water", waters, water_count, water_capacity, water_kind),
    ARRAY("gates", gates, gate_count, gate_capacity, gate_kind),
    ARRAY("findings", findings, finding_count, finding_capacity, finding_kind),
    ARRAY("stays", time.stays, time.stay_count, time.stay_capacity, stay_kind),
    ARRAY("standings", time.standings, time.standing_count,
          time.standing_capacity, standing_kind),
    ARRAY("moves", time.moves, time.move_count, time.move_capacity, move_kind),
    ARRAY("steps", time.steps, time.step_count, time.step_capacity, step_kind),
    ARRAY("materials", materials, material_count, material_capacity,
          material_kind),
    ARRAY("defaults", defaults, default_count, default_capacity, default_kind),
};
KIND(fw_io__plan_kind, plan);
#undef OWNER

const struct fw_io__columns fw_io__columns[FW_IO__ROW_KINDS] = {
    {"place", &fw_io__place_kind},   {"vertices", &vertex_kind},
    {"paced", &fw_io__paced_kind},   {"posts", &fw_io__post_kind},
    {"power_days", &power_day_kind}, {"readings", &reading_kind},
    {"stays", &stay_kind},           {"standings", &standing_kind},
    {"moves", &move_kind},           {"steps", &step_kind},
};
