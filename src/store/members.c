#include "store/maps.h"

#include "base/fail.h"
#include "plan/words.h"

#define COUNT_OF(array) (sizeof(array) / sizeof(array)[0])
#define AT(member) offsetof(struct OWNER, member)
#define ROOM(member) sizeof(((struct OWNER *)0)->member)

/* A value of plan.json alone, or of plan.json and the maps. */
#define MEMBER(named, kind, null, maps, member, sentence)                      \
    .name = named, .type = FW_IO__##kind, .untold = FW_IO__##null,             \
    .on_maps = maps, .at = AT(member), .size = ROOM(member), .says = sentence
#define JSON_AS(name, type, null, member, says)                                \
    {                                                                          \
        MEMBER(name, type, null, false, member, says)                          \
    }
#define BOTH_AS(name, type, null, member, says)                                \
    {                                                                          \
        MEMBER(name, type, null, true, member, says)                           \
    }
#define JSON(type, null, member, says)                                         \
    JSON_AS(#member, type, null, member, says)
#define BOTH(type, null, member, says)                                         \
    BOTH_AS(#member, type, null, member, says)

/* Null where the bool at `flag` does not hold. */
#define FLAGGED(type, maps, member, flag, says)                                \
    {                                                                          \
        MEMBER(#member, type, IF_UNKNOWN, maps, member, says),                 \
            .known = AT(flag)                                                  \
    }
#define TOLD_IF(test, member, says)                                            \
    {                                                                          \
        MEMBER(#member, NUMBER, IF_ELSE, false, member, says), .told = (test)  \
    }
#define WITHIN(low, high, maps, member, says)                                  \
    {                                                                          \
        MEMBER(#member, NUMBER, TOLD, maps, member, says), .least = (low),     \
                                                           .most = (high)      \
    }
/* One of those texts. */
#define ONE_OF(maps, member, list, says)                                       \
    {                                                                          \
        MEMBER(#member, TEXT, IF_EMPTY, maps, member, says),                   \
            .words = (list), .word_count = COUNT_OF(list)                      \
    }
/* One of those words; null is the word that is NULL. */
#define WORD_AS(name, maps, member, list, says)                                \
    {                                                                          \
        MEMBER(name, WORD, TOLD, maps, member, says),                          \
            .words = (list), .word_count = COUNT_OF(list)                      \
    }
#define WORD(maps, member, list, says)                                         \
    WORD_AS(#member, maps, member, list, says)
#define REF_AS(name, null, maps, member, whose, says)                          \
    {                                                                          \
        MEMBER(name, REF, null, maps, member, says), .target = FW_IO__##whose  \
    }
#define REF(null, maps, member, whose, says)                                   \
    REF_AS(#member, null, maps, member, whose, says)
#define REFS(name, member, whose, says)                                        \
    {                                                                          \
        MEMBER(name, REFS, TOLD, false, member, says),                         \
            .target = FW_IO__##whose                                           \
    }
#define OBJECT(member, kind, says)                                             \
    {                                                                          \
        MEMBER(#member, OBJECT, TOLD, false, member, says), .of = &(kind)      \
    }
#define SIZES(null, fewest, member, counted, says)                             \
    {                                                                          \
        MEMBER(#member, SIZES, null, false, member, says),                     \
            .count = AT(counted), .least = (fewest)                            \
    }
#define FIXED_ARRAY(list, member, counted, kind, says)                         \
    {                                                                          \
        MEMBER(#member, list, TOLD, false, member, says),                      \
            .count = AT(counted), .of = &(kind)                                \
    }
#define ARRAY(name, member, counted, capacity, kind, says)                     \
    {                                                                          \
        MEMBER(name, ARRAY, TOLD, false, member, says),                        \
            .count = AT(counted), .known = AT(capacity), .of = &(kind)         \
    }
/* Of maps alone: columns.c works it out. */
#define MAPS(named, kind, by, sentence)                                        \
    {                                                                          \
        .name = named, .type = FW_IO__##kind, .untold = FW_IO__IF_NAN,         \
        .on_maps = true, .work = by, .says = sentence                          \
    }

/* The rows that plan.json has, without those of maps alone before and after. */
#define MIXED(kind, rows, before, after)                                       \
    const struct fw_io__kind kind = {.size = sizeof(struct OWNER),             \
                                     .members = (rows) + (before),             \
                                     .count =                                  \
                                         COUNT_OF(rows) - (before) - (after),  \
                                     .all = rows,                              \
                                     .all_count = COUNT_OF(rows)}
#define KIND(kind, rows) MIXED(kind, rows, 0, 0)
#define MIXED_ROW(kind, rows, before, after, left_off)                         \
    const struct fw_io__kind kind = {                                          \
        .size = sizeof(struct OWNER),                                          \
        .members = (rows) + (before),                                          \
        .count = COUNT_OF(rows) - (before) - (after),                          \
        .least = COUNT_OF(rows) - (before) - (after) - (left_off),             \
        .all = rows,                                                           \
        .all_count = COUNT_OF(rows)}
#define ROW(kind, rows, left_off) MIXED_ROW(kind, rows, 0, 0, left_off)

/* ---- words that no farm tells; a NULL is what nobody told ---- */

#define WORDS(name, last, ...)                                                 \
    static const char *const name[] = {__VA_ARGS__};                           \
    _Static_assert(COUNT_OF(name) == (last) + 1, "a word for each " #name)

WORDS(vertex_words, FW_VERTEX_CUT, "input", "bow", "cut");
WORDS(paced_words, FW_PACED_STRAIGHT, NULL, "side", "line", "straight");
WORDS(opening_words, FW_OPENING_JOINT, "gate", "end-a", "end-b", "joint");
WORDS(earth_words, FW_EARTH_MOST, "joules", "test", "most");
static const char *const concern_words[] = {
    "untrained", "legume",      "lambs",      "late-gestation",
    "lactation", "shorn",       "power-line", "road",
    "pond",      "cold",        "heat",       "dry-soil",
    "spring",    "watercourse", "fescue",     "tupping",
};
_Static_assert(1 << (COUNT_OF(concern_words) - 1) == FW_CONCERN_TUPPING,
               "a word for each concern");

/* ---- small structs ---- */

/* The plane is the field's: fw_io__places. */
#define OWNER fw_plan_place
static const struct fw_io__member place[] = {
    JSON_AS("lon", DEGREES, TOLD, lonlat.lon_deg, "Degrees east, WGS 84."),
    JSON_AS("lat", DEGREES, TOLD, lonlat.lat_deg, "Degrees north, WGS 84."),
    JSON_AS("x", FILE_UNITS, TOLD, file.x,
            "In the system of its field's map; left off where it is lon."),
    JSON_AS("y", FILE_UNITS, TOLD, file.y,
            "In the system of its field's map; left off where it is lat."),
};
ROW(fw_io__place_kind, place, 2);
#undef OWNER

#define OWNER fw_vertex
static const struct fw_io__member vertex[] = {
    JSON_AS("lon", NUMBER, TOLD, lonlat.lon_deg, "Degrees east, WGS 84."),
    JSON_AS("lat", NUMBER, TOLD, lonlat.lat_deg, "Degrees north, WGS 84."),
    WORD(false, kind, vertex_words,
         "input: of the map. bow: keeps an edge of the map straight in its "
         "own system. cut: made by a cut."),
    JSON_AS("x", NUMBER, TOLD, file.x,
            "In the system of the field's map; left off where it is lon."),
    JSON_AS("y", NUMBER, TOLD, file.y,
            "In the system of the field's map; left off where it is lat."),
};
static ROW(vertex_kind, vertex, 2);
#undef OWNER

#define OWNER fw_plan_paced
static const struct fw_io__member paced[] = {
    WORD(false, by, paced_words,
         "side: along a side of the boundary. line: along the line that it "
         "ends on. straight: over the ground."),
    JSON(SIZE, IF_NONE, corner, "Where counting starts, from 0."),
    JSON(SIZE, IF_NONE, towards, "The side's other corner."),
    REF(IF_NONE, false, fence, FENCES,
        "The line that it ends on, or whose end counting starts from."),
    JSON(BOOL, TOLD, far_end, "Counted from that fence's end B, not A."),
    JSON(NUMBER, TOLD, along_m, "From where counting starts."),
    JSON(INT, TOLD, paces, "The same in paces."),
    JSON(NUMBER, IF_NEGATIVE, bearing_deg, "Straight: from there to this end."),
    REF(IF_NONE, false, on_from, FENCES,
        "A fence set before that ends on the same side or line, and nearer."),
    JSON(INT, IF_NEGATIVE, on_paces, "From that fence's end."),
};
ROW(fw_io__paced_kind, paced, 0);
#undef OWNER

/* The rest of it follows from where its middle is. */
#define OWNER fw_plane
static const struct fw_io__member plane[] = {
    JSON_AS("lon", NUMBER, TOLD, centre.lon_deg, "Degrees east, WGS 84."),
    JSON_AS("lat", NUMBER, TOLD, centre.lat_deg, "Degrees north, WGS 84."),
};
static KIND(plane_kind, plane);
#undef OWNER

#define OWNER fw_farm_side
static const struct fw_io__member side[] = {
    WORD(false, holds, fw_plan__holds_words,
         "What cannot get through; null: nobody told."),
    WORD(false, hot, fw_plan__answer_words, "Is it live? Null: nobody told."),
};
static KIND(side_kind, side);
#undef OWNER

#define OWNER fw_kit
static const struct fw_io__member kit[] = {
    JSON(INT, TOLD, reels, "How many."),
    JSON(INT, TOLD, posts, "How many."),
    JSON(NUMBER, TOLD, wire_m, "Of all strands."),
};
static KIND(kit_kind, kit);
#undef OWNER

#define OWNER fw_fence_spec
static const struct fw_io__member spec[] = {
    JSON(INT, TOLD, strands, "Of each line."),
    JSON(NUMBER, TOLD, post_gap_m, "The widest from post to post."),
    JSON(NUMBER, TOLD, bend_deg, "A sharper turn has a post."),
    JSON(NUMBER, TOLD, slack, "Wire beyond the line, as a share of it."),
    JSON(NUMBER, TOLD, reel_m, "Wire that a reel holds."),
    JSON(BOOL, TOLD, out_and_back,
         "Each two strands are one wire, which turns at the far end."),
    JSON(NUMBER, TOLD, height_top_m, "Of the highest live wire."),
    JSON(NUMBER, TOLD, height_bottom_m, "Of the lowest live wire."),
    JSON(BOOL, TOLD, lay_flat,
         "Grass taller than the lowest wire is laid flat before a line is "
         "set."),
};
static KIND(spec_kind, spec);
#undef OWNER

#define OWNER fw_flock_class
static const struct fw_io__member class[] = {
    JSON_AS("class", TEXT, TOLD, name, "As the farm calls it."),
    JSON(INT, TOLD, head, "How many."),
    JSON(NUMBER, TOLD, weight_kg, "Of one."),
    WORD(false, state, fw_flock_state_words, "What they eat goes by it."),
    JSON(NUMBER, IF_ZERO, intake_share,
         "Of live weight a day; null: by the table."),
    JSON(NUMBER, IF_ZERO, intake_kg_day,
         "A head; null: by the share or the table."),
    WORD(false, coat, fw_plan__coat_words,
         "How well it insulates; null: nobody told."),
    WORD(false, trained, fw_plan__answer_words,
         "To electric fence; null: nobody told."),
};
static KIND(class_kind, class);
#undef OWNER

#define OWNER fw_flock_sums
static const struct fw_io__member flock[] = {
    JSON(INT, TOLD, head, "All classes."),
    JSON(NUMBER, TOLD, liveweight_kg, "All classes."),
    JSON(NUMBER, TOLD, demand_kg_day, "Dry matter that they eat."),
    JSON(NUMBER, TOLD, water_l_day, "To have on hand."),
    JSON(SOURCE, IF_ZERO, water_source, "Of these litres."),
};
static KIND(flock_kind, flock);
#undef OWNER

#define OWNER fw_energizer
static const struct fw_io__member energizer[] = {
    MAPS("energizer", TEXT, fw_io__work_energizer, "Always \"energizer\"."),
    MAPS("open_v", NUMBER, fw_io__work_open_v,
         "On a tester at it alone: open_v of power in plan.json."),
    BOTH(NUMBER, TOLD, joules,
         "Stored: the farm's own, or the next common size."),
    JSON(NUMBER, TOLD, need_j, "By the rule."),
    JSON(BOOL, TOLD, given, "The farm has told its joules."),
    BOTH_AS("earth_rods", INT, TOLD, rods, "To drive, rod_m each."),
    JSON(NUMBER, TOLD, rod_m, "The length of one."),
    JSON_AS("rods_m", NUMBER, TOLD, rod_metres,
            "Of rod that the rule asks for."),
    JSON_AS("wanted_open_v", NUMBER, TOLD, open_v,
            "On a tester, for this coat and soil."),
    JSON_AS("wanted_touched_v", NUMBER, TOLD, touched_v,
            "That a sheep is to feel."),
    JSON(SOURCE, IF_ZERO, rule_source, "Of the joules."),
    JSON(SOURCE, IF_ZERO, rod_source, "Of the rods."),
    JSON(SOURCE, IF_ZERO, volt_source, "Of the volts."),
};
MIXED(fw_io__energizer_kind, energizer, 2, 0);
#undef OWNER

#define OWNER fw_farm_wiring
static const struct fw_io__member wiring[] = {
    JSON(NUMBER, TOLD, moved_ohm_m, "A moved line's wire, for each metre."),
    JSON(NUMBER, TOLD, perimeter_ohm_m, "One wire of the boundary's."),
    JSON(NUMBER, TOLD, lead_ohm_m, "The lead's wire."),
    JSON(NUMBER, IF_ZERO, moved_leak_ohm_km,
         "Of the bottom strand to the ground; null: by the season."),
    JSON(NUMBER, IF_ZERO, perimeter_leak_ohm_km,
         "The same of the boundary; null: by the season."),
    JSON(INT, TOLD, perimeter_strands, "Live wires of the boundary."),
    WORD(false, bonded, fw_plan__bonded_words,
         "Where the strands of a moved line are joined."),
    JSON(NUMBER, IF_ZERO, bond_gap_m, "From joint to joint, with every."),
    JSON(BOOL, TOLD, far_hooked, "Far ends of moved lines are hooked on too."),
    JSON(NUMBER, TOLD, joint_ohm, "Where a line is hooked on."),
    JSON(NUMBER, TOLD, switch_ohm, "Of what is in the lead."),
    JSON(NUMBER, IF_NEGATIVE, lead_m,
         "From the energizer to the fence; null: the straight way."),
    JSON(NUMBER, TOLD, soil_ohm_m, "Of the ground about the rods."),
    JSON(INT, IF_ZERO, rods, "Driven; null: as many as are asked for."),
    JSON(NUMBER, IF_ZERO, earth_ohm, "Measured; null: from soil and rods."),
    WORD(false, earth_return, fw_plan__answer_words,
         "Is a strand to be the return? Null: as the sum has it."),
    JSON(NUMBER, TOLD, rod_v, "That the last rod may read in the test."),
    JSON(NUMBER, IF_ZERO, open_v, "Of the energizer's data sheet."),
    JSON(NUMBER, IF_ZERO, internal_ohm, "Of the energizer, with open_v."),
    JSON(BOOL, TOLD, moves, "The energizer goes with the flock."),
    JSON(NUMBER, TOLD, interval_s, "Between pulses."),
    JSON(NUMBER, TOLD, charge_days, "Between charges of its battery."),
    JSON(NUMBER, TOLD, sun_h, "Of full sun a day."),
};
static KIND(wiring_kind, wiring);
#undef OWNER

#define OWNER fw_plan_power
static const struct fw_io__member power[] = {
    JSON(NUMBER, TOLD, open_v, "Of the energizer alone."),
    JSON(NUMBER, TOLD, internal_ohm, "Of the energizer."),
    JSON(NUMBER, TOLD, earth_ohm, "Of all its rods."),
    JSON(INT, TOLD, rods_by_joules, "Rods that its joules ask for."),
    JSON(INT, IF_ZERO, rods_by_test,
         "With which the test is passed; null: with no number."),
    WORD(false, decided, earth_words, "What their number comes from."),
    JSON(NUMBER, TOLD, rod_test_v, "On the last rod, fence shorted."),
    JSON(NUMBER, IF_ZERO, least_j,
         "By the joule rule that the farm told; null: it told none."),
    JSON(BOOL, TOLD, earth_return,
         "A strand of each line is the return; volts are between it and a hot "
         "one."),
};
static KIND(power_kind, power);
#undef OWNER

#define OWNER fw_plan_prices
static const struct fw_io__member prices[] = {
    JSON(NUMBER, IF_NEGATIVE, earth_rod, "Of one rod."),
    JSON(NUMBER, IF_NEGATIVE, joule, "More for each joule of an energizer."),
    JSON_AS("lead_per_m", NUMBER, IF_NEGATIVE, lead_m, "Of the lead's wire."),
    JSON_AS("copper_wire_per_m", NUMBER, IF_NEGATIVE, copper_wire_m,
            "Of copper wire."),
};
static KIND(prices_kind, prices);
#undef OWNER

#define OWNER fw_plan_power_day
static bool is_live(const void *day)
{
    return ((const struct OWNER *)day)->fence != FW_NONE;
}

static const struct fw_io__member power_day[] = {
    JSON(DAY, TOLD, from, "The first of them."),
    JSON(DAY, TOLD, to, "The day after the last."),
    REF(IF_NONE, false, fence, FENCES,
        "Where a sheep feels least; null: nothing is live."),
    TOLD_IF(is_live, at_m, "Along that fence from its end A."),
    TOLD_IF(is_live, touched_v, "What a sheep feels there."),
    TOLD_IF(is_live, open_v, "On a tester there."),
    TOLD_IF(is_live, least_open_v, "On a tester anywhere."),
    JSON(NUMBER, TOLD, source_v, "On a tester at the energizer."),
    JSON(INT, TOLD, dead, "Lines without a path to the energizer."),
    JSON(BOOL, TOLD, enough, "All that is live has what is wanted."),
    TOLD_IF(is_live, alone_v, "Least while one hot wire alone is touched."),
};
static ROW(power_day_kind, power_day, 0);
#undef OWNER

#define OWNER fw_plan_reading
static const struct fw_io__member reading[] = {
    JSON(SIZE, TOLD, step, "In steps, from 0."),
    REF(TOLD, false, fence, FENCES, "That is read."),
    JSON(NUMBER, TOLD, far_v, "By the plan; 0: it is dead."),
    JSON(NUMBER, TOLD, touched_v, "Least along it while a sheep touches it."),
    JSON(NUMBER, IF_ZERO, wanted_v,
         "A reading under it is a fault; over far_v: the plan itself is too "
         "little; null: it is dead."),
};
static ROW(reading_kind, reading, 0);
#undef OWNER

/* ---- what stands on the map ---- */

#define OWNER fw_copied
static const struct fw_io__member copied[] = {
    JSON(STRING, TOLD, column, "Of the field's map."),
    JSON(STRING, IF_ZERO, value, "What it has there."),
};
static KIND(copied_kind, copied);
#undef OWNER

#define OWNER fw_plan_field
static const struct fw_io__member field[] = {
    BOTH_AS("field", STRING, TOLD, name, "Its name."),
    BOTH(STRING, IF_ZERO, part_of,
         "The field that it is a part of, for the condition of its grass; "
         "null: it is whole."),
    BOTH(NUMBER, TOLD, area_ha, "Of all of it, on the ellipsoid."),
    BOTH(NUMBER, IF_ZERO, grazed_ha,
         "Less what is taken off and what lanes and aprons take; null: it has "
         "no plan."),
    JSON(NUMBER, TOLD, plane_m2, "Of what is cut, in its plane."),
    BOTH(NUMBER, TOLD, perimeter_m, "Of what is cut, its outer ring."),
    BOTH_AS("paddocks", SIZE, TOLD, paddock_count,
            "How many of the plan's lie in it."),
    JSON(SIZE, TOLD, first_paddock,
         "From 0; those of the fields follow each other."),
    JSON_AS("fences", SIZE, TOLD, fence_count,
            "How many of the plan's are its own."),
    JSON(SIZE, TOLD, first_fence,
         "From 0; those of the fields follow each other."),
    JSON(STRING, IF_ZERO, no_plan, "Why it has no paddocks."),
    BOTH(NUMBER, IF_ZERO, rotation_days,
         "That it feeds them; null: it has no plan."),
    BOTH(NUMBER, TOLD, usable_kg_ha, "Dry matter that they may take."),
    JSON(NUMBER, TOLD, mass_kg_ha, "Dry matter that stands."),
    JSON(NUMBER, IF_ZERO, residual_kg_ha,
         "Dry matter that is to stay; null: nobody told."),
    JSON(NUMBER, IF_ZERO, grass_m, "How high it stands; null: nobody told."),
    JSON(NUMBER, IF_ZERO, left_m, "How high when they have left."),
    JSON(NUMBER, TOLD, use, "The share that they take, 0 to 1."),
    WORD(false, use_of, fw_plan__use_of_words, "What that is a share of."),
    JSON(TEXT, IF_EMPTY, growth_told,
         "How its growth was told, where it is no one rate."),
    JSON(NUMBER, IF_NAN, growth_kg_ha,
         "What grows on the first day; null: nobody told."),
    JSON(NUMBER, IF_ZERO, winter_loss_share,
         "The share of standing grass that goes over a winter."),
    JSON(NUMBER, IF_NAN, winter_least_share, "The least that it may be."),
    JSON(NUMBER, IF_NAN, winter_most_share, "The most that it may be."),
    JSON(TEXT, IF_EMPTY, winter_place, "Where that was measured."),
    JSON(NUMBER, IF_ZERO, still_days,
         "That it would feed them if nothing grew or went."),
    JSON(INT, IF_ZERO, good_days,
         "Nobody told its growth: for so many days the plan is within 20 % at "
         "ordinary growth."),
    JSON(TEXT, IF_EMPTY, layout,
         "How it is cut up, by the name that compare prints; null: it has no "
         "plan."),
    JSON(TEXT, IF_EMPTY, pattern, "The kind of that."),
    JSON(BOOL, TOLD, far_first,
         "The far end is grazed first: a lane leads there."),
    JSON(NUMBER, IF_NAN, direction_deg,
         "In which the flock moves, or moves from block to block: from east, "
         "over north; null: it has no plan."),
    JSON(NUMBER, TOLD, fence_bound_m,
         "No layout of as many paddocks has less line."),
    JSON(NUMBER, IF_ZERO, last_share,
         "Of its target that the last paddock holds; null: it has no plan."),
    BOTH(NUMBER, IF_NAN, left_kg,
         "Feed beyond what they eat in the last stay, below 0 what is missing; "
         "null: it has no plan."),
    JSON(STRING, IF_EMPTY, source, "The file that it came from."),
    BOTH_AS("source_layer", STRING, IF_ZERO, origin.layer, "Of its map."),
    BOTH_AS("source_fid", SIZE, IF_NONE, origin.fid,
            "The number of its feature there."),
    ARRAY("copied", origin.copied, origin.copied_count, origin.copied_capacity,
          copied_kind, "What columns of its map say, those asked for."),
    JSON(STRING, IF_ZERO, crs, "The coordinate system of its map."),
    JSON(NUMBER, IF_NEGATIVE, crs_accuracy_m,
         "Of the shift from there to WGS 84."),
    JSON(PLACE, TOLD, gate, "Of the field."),
    JSON(PLACE, TOLD, water, "Of the field."),
    JSON(PLACE, TOLD, park,
         "Where vehicle and spare posts stand, if not at the gate."),
    JSON(NUMBER, IF_ZERO, road_m,
         "Along the tracks of the maps, from where the tank is filled to the "
         "gate; null: not known, or haul_road_m holds."),
    SIZES(TOLD, 0, corners, corner_count, "Vertices, clockwise."),
    SIZES(IF_ZERO, 0, corner_numbers, corner_number_count,
          "What people call each corner, null nothing; empty: 1 and on."),
    SIZES(IF_ZERO, 0, side_numbers, side_number_count,
          "The same of the side from each corner to the next."),
    FIXED_ARRAY(ARRAY_SAME, sides, corner_count, side_kind,
                "From each corner to the next."),
    WORD_AS("holes_hold", false, hole_holds, fw_plan__holds_words,
            "What cannot get through the edges of its holes."),
    OBJECT(plane, plane_kind,
           "The middle of its local plane, Lambert's azimuthal equal-area on "
           "the WGS 84 ellipsoid; where a vertex or a place is in it follows "
           "from lon and lat."),
    JSON(RINGS, TOLD, rings, "Its boundary and its holes."),
    FIXED_ARRAY(ARRAY, vertices, vertex_count, vertex_kind,
                "All that its rings and lines are drawn with."),
};
MIXED(fw_io__field_kind, field, 0, 0);
#undef OWNER

#define OWNER fw_plan_paddock
static const struct fw_io__member paddock[] = {
    BOTH_AS("paddock", TEXT, TOLD, id, "Its name."),
    REF(TOLD, true, field, FIELDS, "That it lies in."),
    BOTH(TEXT, IF_EMPTY, block, "Of the field; null: it has no blocks."),
    BOTH(INT, TOLD, seq, "1 is grazed first."),
    BOTH(NUMBER, TOLD, stay_days, "That it feeds them."),
    BOTH(NUMBER, TOLD, area_ha, "On the ellipsoid."),
    BOTH(NUMBER, TOLD, usable_kg, "Dry matter that they may take."),
    BOTH(NUMBER, TOLD, demand_kg, "Dry matter that they eat in the stay."),
    BOTH(NUMBER, TOLD, today_kg,
         "Dry matter that they could take on the plan's first day."),
    BOTH(NUMBER, TOLD, third_kg,
         "Dry matter that they may take if growth falls to a third."),
    JSON(NUMBER, IF_NAN, other_kg,
         "Dry matter that they may take by another shape of growth."),
    JSON(NUMBER, IF_NAN, bare_kg,
         "Dry matter that they could take on the first day if nothing had to "
         "stay."),
    BOTH(NUMBER, TOLD, head_per_ha, "All sheep over its area."),
    BOTH(NUMBER, TOLD, liveweight_kg_ha, "All sheep over its area."),
    BOTH(NUMBER, TOLD, perimeter_m, "On the ellipsoid."),
    BOTH(NUMBER, TOLD, elongation, "Length over width, 1 or more."),
    BOTH(INT, TOLD, pieces, "That do not join: 1 as a rule."),
    BOTH(NUMBER, IF_ZERO, narrow_m,
         "Its narrowest place, where that is too narrow for this flock."),
    FLAGGED(NUMBER, true, walk_mean_m, walk_known,
            "The shortest way to its water over what the flock has then, mean "
            "over its area; null: `walk_untold` says why."),
    FLAGGED(NUMBER, true, walk_fed_m, walk_known,
            "The mean of that way over the feed that they find there; the same "
            "where feed lies evenly."),
    FLAGGED(NUMBER, true, walk_max_m, walk_known, "The longest such walk."),
    BOTH(NUMBER, IF_NAN, climb_to_m,
         "Upwards on the walk to the water, from the corner from which there "
         "and back are the most; null: no heights are known."),
    BOTH(NUMBER, IF_NAN, climb_back_m, "Upwards on the way back to there."),
    WORD(true, walk_untold, fw_plan__untold_words,
         "Why no walk is told, and what would help; null: it is told."),
    REF(IF_NONE, true, water, WATERS, "The water point that it uses."),
    ONE_OF(true, keep, fw_plan__keep_words,
           "What it is kept back for and grazed last."),
    BOTH(NUMBER, IF_NAN, soft_share,
         "Of it, on wet ground, 0 to 1; null: no map shows any."),
    WORD(true, shade, fw_plan__answer_words,
         "Is there shade? Null: no map shows any."),
    WORD(true, shelter, fw_plan__answer_words,
         "Is there shelter? Null: no map shows any."),
    JSON(NUMBER, TOLD, plane_m2, "In the field's plane."),
    JSON(RINGS, TOLD, rings, "Its ground."),
    MAPS("enter", DAY, fw_io__work_enter,
         "The first day in it; null: it is not grazed."),
    MAPS("leave", DAY, fw_io__work_leave, "The day on which they last leave."),
};
MIXED(fw_io__paddock_kind, paddock, 0, 2);
#undef OWNER

#define OWNER fw_plan_lane
static const struct fw_io__member lane[] = {
    BOTH_AS("lane", TEXT, TOLD, id, "Its name."),
    REF(TOLD, true, field, FIELDS, "That it lies in."),
    JSON(BOOL, TOLD, apron, "About a water point; else a way for stock."),
    BOTH(NUMBER, TOLD, area_ha, "On the ellipsoid."),
    JSON(NUMBER, TOLD, plane_m2, "In the field's plane."),
    JSON(RINGS, TOLD, rings, "Its ground."),
    MAPS("kind_of", TEXT, fw_io__work_ground,
         "apron: about a water point. lane: a way for stock."),
};
MIXED(fw_io__lane_kind, lane, 0, 1);
#undef OWNER

/* Under its fence, which tells its name and the rest of its place. */
#define OWNER fw_plan_post
static const struct fw_io__member post[] = {
    MAPS("post", TEXT, fw_io__work_post,
         "Its name: that of its fence and its number there."),
    MAPS("fence", TEXT, fw_io__work_post_fence, "That it stands in."),
    BOTH(METRES, TOLD, at_m, "Along its fence from A."),
    WORD(true, why, fw_plan__why_words, "What it is for."),
    JSON_AS("lon", DEGREES, TOLD, place.lonlat.lon_deg,
            "Degrees east, WGS 84."),
    JSON_AS("lat", DEGREES, TOLD, place.lonlat.lat_deg,
            "Degrees north, WGS 84."),
};
MIXED_ROW(fw_io__post_kind, post, 2, 0, 0);
#undef OWNER

#define OWNER fw_plan_fence
static const struct fw_io__member fence[] = {
    BOTH_AS("fence", TEXT, TOLD, id, "Its name."),
    REF(TOLD, true, field, FIELDS, "That it stands in."),
    WORD(true, role, fw_plan__role_words,
         "perimeter: a side of the boundary, or the edge of a hole. standing: "
         "parts two blocks. lane: beside a lane or an apron. moved: with the "
         "flock."),
    WITHIN(0, FW_IO__MOST_M, true, length_m, "In plan, on the ellipsoid."),
    BOTH(NUMBER, TOLD, ground_m, "Along the slope."),
    BOTH(INT, IF_ZERO, strands, "Null: a perimeter, which nobody builds."),
    BOTH(NUMBER, IF_ZERO, wire_m,
         "All strands, with slack; null: a perimeter."),
    BOTH(INT, IF_ZERO, reels, "That it is wound on; null: a perimeter."),
    FLAGGED(NUMBER, true, open_v, volts_known,
            "Least on a tester along it over the days it stands; null: it "
            "should not be live."),
    FLAGGED(NUMBER, true, touched_v, volts_known,
            "Least that a sheep feels along it over these days; null: it "
            "should not be live."),
    WITHIN(0, 360, false, bearing_deg, "From A to B."),
    REF(IF_NONE, false, from, PADDOCKS,
        "The first grazed of the paddocks beside it; null: a perimeter."),
    REF(IF_NONE, false, to, PADDOCKS,
        "The last grazed of the paddocks beside it; null: a perimeter."),
    JSON(BOOL, TOLD, stood,
         "It stands before the plan begins, as a front does."),
    JSON(SIZE, TOLD, rank,
         "In the field's order of grazing, from 0: of the first paddock for "
         "which it, or what is tied to it, is needed."),
    BOTH(NUMBER, IF_ZERO, lay_min,
         "To lay the grass flat along it before it is set; null: it stands no "
         "taller than the lowest wire."),
    JSON(NUMBER, IF_ZERO, pace_share,
         "Moved: of a day's feed, for one pace on along both sides."),
    JSON(SIZE, IF_NONE, side,
         "A perimeter's side of the field, from 0; null: another fence, or the "
         "edge of a hole."),
    JSON(PACED, TOLD, a, "Where its end A stands, which is fed."),
    JSON(PACED, TOLD, b, "Where its end B stands."),
    SIZES(TOLD, 2, line, line_count, "Vertices of its field from A."),
    {MEMBER("posts", POSTS, TOLD, false, posts,
            "From A, then its signs: the third post of A01-02 is called "
            "A01-02/3, its first sign A01-02/s1."),
     .of = &fw_io__post_kind},
    MAPS("posts", INT, fw_io__work_posts,
         "How many, without signs; null: a perimeter."),
    MAPS("up", DAY, fw_io__work_up,
         "First set; null: it stood before, or never does."),
    MAPS("down", DAY, fw_io__work_down, "Last taken down; null: never."),
};
MIXED(fw_io__fence_kind, fence, 0, 3);
#undef OWNER

#define OWNER fw_plan_crossing
static const struct fw_io__member crossing[] = {
    REF(IF_NONE, false, fence, FENCES, "That crosses it."),
    JSON(TEXT, TOLD, what, "Its kind and its name."),
    JSON(INT, TOLD, times, "How often."),
    JSON(INT, TOLD, posts, "Of the fence's, in all."),
    JSON(NUMBER, TOLD, minutes, "To set it, in all."),
};
static KIND(crossing_kind, crossing);
#undef OWNER

#define OWNER fw_plan_passage
static const struct fw_io__member passage[] = {
    JSON(SIZE, TOLD, move, "That brings the trough: in moves, from 0."),
    REF(TOLD, false, fence, FENCES, "That stands across the way of the tank."),
    JSON(BOOL, TOLD, opened,
         "For the tank; else it stops before the first of these, and a hose "
         "goes on."),
    JSON(NUMBER, TOLD, at_m, "Where: along the fence from its end A."),
    JSON(BOOL, TOLD, at_flock, "The flock is on one side of it."),
    JSON(NUMBER, TOLD, rest_m,
         "Straight to the trough, from where the tank comes nearest to it with "
         "this one shut."),
    JSON(PLACE, TOLD, place, "Where it is opened."),
};
static KIND(passage_kind, passage);
#undef OWNER

#define OWNER fw_plan_water
static const struct fw_io__member water[] = {
    BOTH_AS("water", TEXT, TOLD, id, "Its name."),
    BOTH(TEXT, TOLD, kind_of,
         "trough: moves with the flock. fixed: the field's own. source: where "
         "the tank is filled."),
    REF(TOLD, true, field, FIELDS, "That it stands in."),
    BOTH(DAY, IF_NONE, from, "The first day; null: it is always there."),
    BOTH(DAY, IF_NONE, to, "The day after the last."),
    BOTH(NUMBER, TOLD, litres_day, "That are drunk there, as expected."),
    JSON(PLACE, TOLD, place, "Where it stands."),
    BOTH(NUMBER, TOLD, hot_l_day, "That are drunk there in heat."),
    BOTH(NUMBER, TOLD, on_hand_l,
         "To have by, which no grass is counted against."),
    REF(IF_NONE, true, opening, GATES,
        "A trough is paced straight from there; null: nobody told a way in, or "
        "it does not move."),
    BOTH(INT, IF_NEGATIVE, paces, "So many; null: there is no such opening."),
    BOTH(NUMBER, IF_NEGATIVE, bearing_deg,
         "From there, clockwise from north; null likewise."),
    REF(IF_NONE, true, fence, FENCES,
        "That it stands under, half on either side, its wires raised or "
        "sleeved; null: under none."),
};
MIXED(fw_io__water_kind, water, 0, 0);
#undef OWNER

#define OWNER fw_plan_gate
static const struct fw_io__member gate[] = {
    BOTH_AS("gate", TEXT, TOLD, id, "Its name."),
    REF(TOLD, true, field, FIELDS, "That it belongs to."),
    BOTH(TEXT, TOLD, kind_of,
         "gate: the field's own. opening: where a fence is opened."),
    REF(IF_NONE, false, fence, FENCES,
        "That is opened; null: the field's own gate."),
    WORD(false, where, opening_words,
         "At an end of the fence, or at a handle that was put in when it was "
         "set."),
    JSON(NUMBER, IF_ZERO, at_m,
         "Along the fence from A, its middle; null: the field's own gate."),
    BOTH(DAY, IF_NONE, on,
         "Of its first use; null: a gate, or it is open before the first "
         "move."),
    REF(IF_NONE, true, from, PADDOCKS, "That they come from, then."),
    REF(IF_NONE, true, to, PADDOCKS, "That they go to, then."),
    BOTH(NUMBER, IF_ZERO, width_m, "Null: nobody told."),
    BOTH(NUMBER, IF_ZERO, room_m,
         "Free on its shallower side, as far as was looked; null: a gate, or "
         "nothing is free."),
    JSON(BOOL, TOLD, tight,
         "Too narrow for this flock, or too little room beside it."),
    JSON(PLACE, TOLD, place, "The middle of it."),
};
MIXED(fw_io__gate_kind, gate, 0, 0);
#undef OWNER

#define OWNER fw_plan_finding
static const struct fw_io__member finding[] = {
    BOTH_AS("finding", TEXT, TOLD, id, "Its name."),
    BOTH(TEXT, TOLD, rule, "One of rules: its words come first."),
    BOTH(TEXT, TOLD, about, "Fence and feature."),
    BOTH(TEXT, IF_EMPTY, feature, "Role, voltage and name of what is there."),
    REF(IF_NONE, true, field, FIELDS, "That it concerns; null: all."),
    REF(IF_NONE, true, fence, FENCES, "That it concerns; null: none."),
    WORD(true, level, fw_level_words,
         "danger: may hurt someone or let the flock out. warning: look at it. "
         "note: good to know."),
    FLAGGED(NUMBER, true, distance_m, measured,
            "That there is; null: none was measured."),
    FLAGGED(NUMBER, true, wanted_m, measured,
            "That there should be; null: none was measured."),
    {MEMBER("more", SAID, IF_EMPTY, false, text,
            "What it says after the words of its rule; null: nothing.")},
    JSON(PLACE, TOLD, place, "Where it was found; null: no one place."),
    MAPS("text", TEXT, fw_io__work_text, "All that it says."),
    MAPS("source", TEXT, fw_io__work_source, "Of its rule."),
};
MIXED(fw_io__finding_kind, finding, 0, 2);
#undef OWNER

#define OWNER fw_io__rule
static const struct fw_io__member rule[] = {
    JSON(TEXT, TOLD, rule, "Its name."),
    JSON(TEXT, TOLD, text, "The words with which all findings by it begin."),
    JSON(TEXT, TOLD, source, "Where it comes from."),
};
KIND(fw_io__rule_kind, rule);
#undef OWNER

#define OWNER fw_plan_caution
static const struct fw_io__member caution[] = {
    BOTH_AS("caution", TEXT, TOLD, id, "Its name."),
    BOTH_AS("for", TEXT, TOLD, who, "people or sheep."),
    BOTH(TEXT, TOLD, when, "When it is wanted."),
    BOTH(TEXT, TOLD, text, "What to do."),
    BOTH(TEXT, TOLD, source, "Where it comes from."),
    ONE_OF(true, tried, fw_plan__tried_words,
           "What came of trying it on this plan. looked: by a person. no: it "
           "could not be. Null: it has no figure."),
};
MIXED(fw_io__caution_kind, caution, 0, 0);
#undef OWNER

/* ---- what is done and bought ---- */

#define OWNER fw_time_stay
static const struct fw_io__member stay[] = {
    MAPS("stay_number", INT, fw_io__work_number, "1 is the first."),
    REF_AS("paddock", TOLD, true, cell, PADDOCKS, "Where they are."),
    BOTH(DAY, TOLD, enter, "The first day."),
    BOTH(DAY, TOLD, leave, "The day of the next move."),
    BOTH(NUMBER, TOLD, target_kg, "Dry matter that it is to give them."),
    JSON(NUMBER, IF_NAN, left_kg, "What was left; null: nobody told."),
    MAPS("field", TEXT, fw_io__work_stay_field, "That the paddock lies in."),
    MAPS("round", INT, fw_io__work_stay_round,
         "1 is the first; the next begins where they come to a paddock again."),
};
MIXED_ROW(fw_io__stay_kind, stay, 1, 2, 0);
#undef OWNER

#define OWNER fw_standing
static const struct fw_io__member standing[] = {
    REF_AS("fence", TOLD, true, line, FENCES, "That stands."),
    JSON_AS("up_move", SIZE, IF_NONE, up.move,
            "The move in whose course it is set, from 0; null: it stood "
            "before."),
    JSON_AS("up_step", SIZE, IF_NONE, up.step,
            "The step that does, of all steps, from 0."),
    JSON_AS("down_move", SIZE, IF_NONE, down.move,
            "The move in whose course it is taken down, from 0; null: never."),
    JSON_AS("down_step", SIZE, IF_NONE, down.step,
            "The step that does, of all steps, from 0."),
    MAPS("field", TEXT, fw_io__work_standing_field, "That the fence is in."),
    MAPS("up", DAY, fw_io__work_up_day, "Set; null: it stood before."),
    MAPS("up_move_number", INT, fw_io__work_up_move,
         "The move in whose course it is set, 1 is the first."),
    MAPS("up_step_number", INT, fw_io__work_up_step,
         "The step of that move, as its card counts them from 1."),
    MAPS("down", DAY, fw_io__work_down_day, "Taken down; null: never."),
    MAPS("down_move_number", INT, fw_io__work_down_move,
         "The move in whose course it is taken down, 1 is the first."),
    MAPS("down_step_number", INT, fw_io__work_down_step,
         "The step of that move, as its card counts them from 1."),
};
MIXED_ROW(fw_io__standing_kind, standing, 0, 7, 0);
#undef OWNER

#define OWNER fw_move
static const struct fw_io__member move[] = {
    JSON(DAY, TOLD, day,
         "On which its stay begins; of the last, on which the last stay ends."),
    REF(TOLD, false, field, FIELDS,
        "That is entered; of the last move, that is left."),
    JSON(SIZE, IF_NONE, stay,
         "That it leads into, from 0; null: out of the last field."),
    JSON_AS("first_step", SIZE, TOLD, steps.first,
            "Of its steps, from 0; those of the moves follow each other."),
    JSON_AS("steps", SIZE, TOLD, steps.count, "How many it has."),
    JSON(SIZE, IF_NONE, later,
         "The step with which a second visit begins; null: there is none."),
    REF(IF_NONE, false, opening, GATES,
        "The gate or opening through which they come into the stay."),
    JSON(BOOL, TOLD, ahead, "A paddock is fenced ahead when it is over."),
    JSON(BOOL, TOLD, carries, "Water goes with them."),
    JSON(NUMBER, TOLD, minutes,
         "At the fence, and the way there and back from the vehicle."),
    JSON(NUMBER, TOLD, passes,
         "Times along a line on foot: laying, winding, fetching posts."),
};
ROW(fw_io__move_kind, move, 0);
#undef OWNER

#define OWNER fw_step
static bool is_walk(const void *step)
{
    return ((const struct OWNER *)step)->kind == FW_STEP_WALK;
}

static const struct fw_io__member step[] = {
    WORD_AS("step", false, kind, fw_plan__step_words,
            "set: put the fences up, dead. hook: hook their ends A on, so that "
            "they are hot. read: read the tester at their ends B. carry: water "
            "and mineral. open: a gate, or a fence, dead first. walk: walk "
            "with the flock. later: walk out what they left, at a second "
            "visit. count: count them through. bridge: leave it open, with a "
            "lead across. close: shut it, and the fence is hot again. "
            "take-down: take the fences down."),
    REF(TOLD, false, field, FIELDS, "Where it is done."),
    REF_AS("gate", IF_NONE, false, opening, GATES,
           "Of open, bridge and close: what is opened or closed."),
    REFS("fences", lines, FENCES,
         "Of set, hook, read and take-down: in the order of the work."),
    REFS("dead", dead, FENCES,
         "Of open: other fences beside the flock that are dead meanwhile."),
    REFS("over", cells, PADDOCKS,
         "Of walk: ungrazed paddocks that they cross."),
    TOLD_IF(is_walk, over_m, "Of walk: over ungrazed ground."),
    TOLD_IF(is_walk, way_m, "Of walk: in all."),
};
static ROW(step_kind, step, 0);
#undef OWNER

#define OWNER fw_material
static const struct fw_io__member material[] = {
    JSON(TEXT, TOLD, item, "What it is."),
    WORD(false, ware, fw_ware_words, "Under which its price is told."),
    JSON(TEXT, TOLD, unit, "What is counted: each, m, roll."),
    JSON(NUMBER, TOLD, quantity, "How many of these are needed."),
    JSON(NUMBER, TOLD, spare, "Beyond that, for what breaks and is lost."),
    JSON(NUMBER, TOLD, owned, "Of both, that the farm has."),
    JSON(NUMBER, TOLD, pack, "Sold in rolls or packs of so many; 0: singly."),
    JSON(NUMBER, IF_NEGATIVE, price, "Of one of these; null: nobody told."),
    JSON(TEXT, IF_EMPTY, note, "How it was counted."),
};
KIND(fw_io__material_kind, material);
#undef OWNER

#define OWNER fw_farm_default
static const struct fw_io__member default_row[] = {
    JSON(TEXT, TOLD, what, "What was not told."),
    JSON(TEXT, TOLD, value, "What was taken for it."),
    JSON(TEXT, TOLD, source, "Where that comes from."),
};
static KIND(default_kind, default_row);
#undef OWNER

#define OWNER fw_note
static const struct fw_io__member note[] = {
    WORD(false, level, fw_level_words, "note, warning or danger."),
    JSON(STRING, IF_EMPTY, where,
         "File, line or feature; null: the whole plan."),
    JSON(STRING, TOLD, text, "One line."),
};
static KIND(note_kind, note);
#undef OWNER

#define OWNER fw_plan_totals
static const struct fw_io__member totals[] = {
    JSON(INT, TOLD, paddocks, "Of all fields."),
    JSON(NUMBER, TOLD, moved_wire_m, "Of all moved lines."),
    JSON(NUMBER, TOLD, standing_wire_m, "Of all lines that stand."),
    JSON(NUMBER, TOLD, fence_m, "All lines inside the fields."),
    JSON(NUMBER, TOLD, fence_bound_m,
         "No layouts of as many paddocks have less."),
    OBJECT(kit, kit_kind, "The most that stands at once."),
    {MEMBER("lack", OBJECT, IF_UNKNOWN, false, lack,
            "Of the kit, what the farm does not own; null: nobody told what it "
            "owns."),
     .of = &kit_kind, .known = AT(lack_known)},
    JSON(INT, TOLD, ties,
         "The most ends of lines that stand at once and that no other line "
         "holds: an anchor or a post of the perimeter for each."),
    JSON(INT, TOLD, handles,
         "In mid-line, to open it there: the most that are there at once."),
    JSON(INT, TOLD, carry_trips_per_move,
         "Armfuls of posts, the most of any move."),
    JSON(NUMBER, TOLD, passes_per_move,
         "Times along a line on foot, on average."),
    JSON(NUMBER, TOLD, minutes_per_move, "On average."),
    FLAGGED(NUMBER, false, walk_mean_m, walk_known,
            "To the water, over all paddocks; null: of one it is not known."),
    FLAGGED(NUMBER, false, walk_fed_m, walk_known,
            "The mean over the feed of each paddock and the days that it feeds "
            "them; `walk_mean_m` is that over the ground."),
    FLAGGED(NUMBER, false, walk_max_m, walk_known, "The longest such walk."),
    FLAGGED(NUMBER, false, walk_bound_m, walk_known,
            "No plan with so many places of water has a shorter mean: 0.3761 "
            "times the root of the ground over the places."),
    JSON(NUMBER, TOLD, litres_day, "That they drink, as expected."),
    JSON(NUMBER, TOLD, hot_l_day, "That they drink in heat."),
    JSON(NUMBER, TOLD, on_hand_l,
         "To have by, which no grass is counted against."),
    JSON(INT, IF_NEGATIVE, haul_trips,
         "With the tank, on a day as expected when all is hauled, 0 where "
         "nothing is; null: no tank is told."),
    JSON(INT, IF_NEGATIVE, haul_trips_hot, "The same in heat."),
    JSON(NUMBER, TOLD, energizer_j, "Joules stored."),
    JSON(INT, TOLD, earth_rods, "To drive."),
    FLAGGED(NUMBER, false, cost, cost_known,
            "Of materials; null: one has no price."),
};
static KIND(totals_kind, totals);
#undef OWNER

#define OWNER fw_input
static const struct fw_io__member input[] = {
    JSON(STRING, TOLD, path,
         "As from this file's folder; a database or an address as it was told, "
         "without its password."),
    FLAGGED(NUMBER, false, size, known,
            "In bytes; null where a change cannot be known, as of a database."),
    FLAGGED(UNSIGNED, false, crc32, known,
            "CRC-32 as in zlib; of a file over 64 MiB that of its first and "
            "its last MiB."),
};
static KIND(input_kind, input);
#undef OWNER

#define OWNER fw_told_value
static const struct fw_io__member told_value[] = {
    JSON(STRING, TOLD, key,
         "Of a farm file; for a map of fields without one, "
         "fields.source."),
    JSON(STRING, TOLD, value, "As it was told, without a password."),
};
static KIND(told_value_kind, told_value);
#undef OWNER

#define OWNER fw_plan_file
static const struct fw_io__member file[] = {
    JSON(TEXT, TOLD, name, "In this file's folder."),
    JSON(SIZE, TOLD, size, "In bytes."),
    JSON(UNSIGNED, TOLD, crc32, "CRC-32 as in zlib."),
};
KIND(fw_io__file_kind, file);
#undef OWNER

#define OWNER fw_weather_table
static const struct fw_io__member weather[] = {
    JSON_AS("wet_more_share", NUMBER, TOLD, wet_more,
            "More ground in the rain."),
    JSON_AS("soft_more_share", NUMBER, TOLD, soft_more,
            "The same where it is soft."),
    JSON_AS("wool_c", NUMBER, TOLD, wool_c,
            "Degrees Celsius below which sheep in fleece need more."),
    JSON_AS("shorn_c", NUMBER, TOLD, shorn_c, "The same of shorn ones."),
    JSON_AS("hair_c", NUMBER, TOLD, hair_c,
            "The same of those in hair, or in a coat that nobody told."),
    JSON_AS("wet_c", NUMBER, TOLD, wet_c,
            "The same of wet ones that have no fleece."),
    JSON(NUMBER, TOLD, cold_more_kg,
         "Dry matter more a head and day, for each degree below."),
    JSON(NUMBER, TOLD, heat_from_c, "From there on they want shade."),
    JSON(INT, TOLD, heat_looks, "At the water, on a hot day."),
    JSON(NUMBER, TOLD, snow_from_m, "From that depth on they want hay."),
    JSON(NUMBER, TOLD, frozen_from_c, "At that cold no post can be set."),
    JSON(INT, TOLD, lasts_days, "Days of such weather, when nobody says it."),
    WORD_AS("wet_ground", false, ground[FW_WEATHER_WET], fw_plan__ground_words,
            "That they are to be on in the rain."),
    JSON_AS("wet_say", TEXT, IF_EMPTY, say[FW_WEATHER_WET],
            "Of such a day, in the shepherd's own words."),
    WORD_AS("cold_ground", false, ground[FW_WEATHER_COLD],
            fw_plan__ground_words, "That they are to be on in the cold."),
    JSON_AS("cold_say", TEXT, IF_EMPTY, say[FW_WEATHER_COLD],
            "Of such a day, in the shepherd's own words."),
    WORD_AS("heat_ground", false, ground[FW_WEATHER_HEAT],
            fw_plan__ground_words, "That they are to be on in heat."),
    JSON_AS("heat_say", TEXT, IF_EMPTY, say[FW_WEATHER_HEAT],
            "Of such a day, in the shepherd's own words."),
    WORD_AS("snow_ground", false, ground[FW_WEATHER_SNOW],
            fw_plan__ground_words, "That they are to be on in snow."),
    JSON_AS("snow_say", TEXT, IF_EMPTY, say[FW_WEATHER_SNOW],
            "Of such a day, in the shepherd's own words."),
};
static KIND(weather_kind, weather);
#undef OWNER

#define OWNER fw_plan
static const struct fw_io__member plan[] = {
    /* Who comes first stands first in the file. */
    FIXED_ARRAY(ARRAY, cautions, caution_count, fw_io__caution_kind,
                "The page of cautions for this plan."),
    JSON_AS("farm", STRING, TOLD, farm_name, "Its name."),
    ARRAY("inputs", inputs.items, inputs.count, inputs.capacity, input_kind,
          "What the plan was made from, the farm file first, to tell a plan "
          "that is older."),
    ARRAY("told", told.values, told.count, told.capacity, told_value_kind,
          "On the command line, to go on from this plan."),
    JSON_AS("told_in", STRING, IF_ZERO, told.folder,
            "The folder that its paths count from, as from this file's; null: "
            "nothing was told."),
    WORD(false, units, fw_plan__units_words,
         "What people read; this file is in SI units whatever it says."),
    JSON(STRING, TOLD, crs,
         "Coordinate system of plan.gpkg: WKT, or a name such as EPSG:25832."),
    JSON_AS("start", DAY, TOLD, start_day, "The first of the first stay."),
    JSON_AS("end", DAY, TOLD, end_day, "The day after the last stay."),
    JSON_AS("ahead", DAY, IF_NONE, ahead_day,
            "What is before it is over, and stands as it was by the farm's "
            "log; null: nothing is over."),
    JSON_AS("lambing", DAY, IF_NONE, lambing_day, "The first day of lambing."),
    OBJECT(totals, totals_kind, "Sums of the whole plan."),
    ARRAY("untold", untold.items, untold.count, untold.capacity, note_kind,
          "What nobody has said and is dangerous not to know."),
    ARRAY("notes", notes.items, notes.count, notes.capacity, note_kind,
          "What else to know."),
    OBJECT(flock, flock_kind, "All classes together."),
    FIXED_ARRAY(ARRAY, classes, class_count, class_kind,
                "The sheep, class by class."),
    WORD(false, season, fw_plan__season_words, "Does the grass grow?"),
    WORD(false, field_order, fw_plan__field_order_words,
         "As given, or by the shortest round from gate to gate."),
    JSON(BOOL, TOLD, back_fence, "Grazed ground is shut off behind them."),
    {MEMBER("pace_m", NUMBER, TOLD, false, pace_m, "One pace."),
     .most = FW_IO__MOST_M, .over = true},
    JSON(NUMBER, IF_ZERO, tank_l, "The hauling tank; null: none is told."),
    JSON_AS("trough_l", NUMBER, IF_ZERO, hauling.trough_l, "One trough."),
    JSON_AS("haul_road_m", NUMBER, IF_ZERO, hauling.road_m,
            "From where the tank is filled to the gate, one way."),
    JSON_AS("drive_m_min", NUMBER, IF_ZERO, hauling.drive_m_min,
            "How far the tank is driven in a minute."),
    JSON_AS("fill_l_min", NUMBER, IF_ZERO, hauling.fill_l_min,
            "How fast it is filled and emptied."),
    JSON_AS(
        "payload_kg", NUMBER, IF_ZERO, hauling.payload_kg,
        "What the vehicle may carry: beside the empty tank, or with it where "
        "tank_kg is told."),
    JSON_AS("tank_kg", NUMBER, IF_ZERO, hauling.tank_kg, "The empty tank."),
    JSON_AS("vehicle_width_m", NUMBER, IF_ZERO, hauling.vehicle_width_m,
            "The vehicle with its tank."),
    JSON_AS("hose_m", NUMBER, IF_ZERO, hauling.hose_m,
            "From the tank to the trough."),
    JSON_AS("haul_slope_share", NUMBER, IF_ZERO, hauling.slope,
            "The steepest ground that the loaded tank is driven over."),
    JSON_AS("pipe_price", NUMBER, IF_ZERO, hauling.pipe_price,
            "Of a metre of water pipe."),
    JSON_AS("trough_price", NUMBER, IF_ZERO, hauling.trough_price,
            "Of one trough."),
    JSON_AS("tank_price", NUMBER, IF_ZERO, hauling.tank_price,
            "Of a hauling tank twice as large."),
    WORD_AS("air", false, hauling.day.air, fw_plan__air_words,
            "On a day as expected; null: nobody told."),
    JSON_AS("grass_water", NUMBER, IF_NEGATIVE, hauling.day.grass_water,
            "Share of the grass's fresh weight that is water; null: nobody "
            "told."),
    JSON(BOOL, TOLD, dry_soil, "The soil is dry while they graze."),
    OBJECT(weather, weather_kind, "What today's weather asks for."),
    OBJECT(energizer, fw_io__energizer_kind,
           "What is to be bought and driven."),
    JSON(PLACE, TOLD, energizer_place, "Where it stands; null: nobody told."),
    OBJECT(moved, spec_kind, "What the moved fences are made of."),
    OBJECT(wiring, wiring_kind,
           "What the current meets, as the farm tells it: wires, grass, "
           "joints, earth."),
    OBJECT(power, power_kind,
           "The energizer and its earth as the circuit has them."),
    FIXED_ARRAY(ARRAY, power_days, power_day_count, power_day_kind,
                "Days on which the same fences stand, and what the circuit has "
                "then."),
    ARRAY("readings", readings, reading_count, reading_capacity, reading_kind,
          "What a tester shows at the far end of each line that is set, at the "
          "step where it is read."),
    OBJECT(prices, prices_kind,
           "Of what would help where the volts are short, in the farm's "
           "currency; null: nobody told."),
    {MEMBER("concerns", BITS, TOLD, false, concerns,
            "What is true of this plan, so that its page of cautions holds "
            "what concerns it."),
     .words = concern_words, .word_count = COUNT_OF(concern_words)},
    JSON(NUMBER, IF_NEGATIVE, legume,
         "Share of legumes in the sward, 0 to 1; null: nobody told."),
    JSON(TEXT, IF_EMPTY, currency, "Of prices and costs."),
    JSON(STRING, IF_ZERO, use_source, "Of the share that they take."),
    JSON(STRING, IF_ZERO, density_source,
         "Of grass weighed by its height; null: it was weighed."),
    JSON(STRING, IF_ZERO, intake_source, "Of what they eat."),
    JSON(STRING, IF_ZERO, water_source, "Of what they drink."),
    ARRAY("fields", fields, field_count, field_capacity, fw_io__field_kind,
          "In the order of the farm."),
    ARRAY("paddocks", paddocks, paddock_count, paddock_capacity,
          fw_io__paddock_kind,
          "Field after field. When they are grazed, the stays tell: those of a "
          "field that have none were grazed before the plan begins."),
    ARRAY("lanes", lanes, lane_count, lane_capacity, fw_io__lane_kind,
          "Ground that is walked and not grazed: ways for stock, and aprons "
          "about a water point."),
    ARRAY("fences", fences, fence_count, fence_capacity, fw_io__fence_kind,
          "Every line of fence; the first end is fed."),
    ARRAY("crossings", crossings, crossing_count, crossing_capacity,
          crossing_kind, "Hard going that fences cross."),
    ARRAY("passages", passages, passage_count, passage_capacity, passage_kind,
          "Fences that the loaded tank has to pass, move by move."),
    ARRAY("water", waters, water_count, water_capacity, fw_io__water_kind,
          "Water points."),
    ARRAY("gates", gates, gate_count, gate_capacity, fw_io__gate_kind,
          "Gates, and where fences are opened."),
    ARRAY("findings", findings, finding_count, finding_capacity,
          fw_io__finding_kind,
          "What the maps show against published distances, and what the plan "
          "does not keep of its cautions."),
    {MEMBER("stays", ARRAY, TOLD, false, time.stays,
            "Where the flock is when, one after the other."),
     .count = AT(time.stay_count), .known = AT(time.stay_capacity),
     .of = &fw_io__stay_kind, .least = 1},
    ARRAY("standings", time.standings, time.standing_count,
          time.standing_capacity, fw_io__standing_kind,
          "Each time over which a fence stands."),
    ARRAY("moves", time.moves, time.move_count, time.move_capacity,
          fw_io__move_kind,
          "A move into each stay, and one out of the last, which clears its "
          "field."),
    ARRAY("steps", time.steps, time.step_count, time.step_capacity, step_kind,
          "What is done, in its order, move after move."),
    ARRAY("materials", materials, material_count, material_capacity,
          fw_io__material_kind, "What to buy or to own."),
    ARRAY("defaults", defaults, default_count, default_capacity, default_kind,
          "What was not told, and what was taken for it."),
};
KIND(fw_io__plan_kind, plan);
#undef OWNER

const struct fw_io__columns fw_io__columns[FW_IO__ROW_KINDS] = {
    {"place", &fw_io__place_kind},   {"vertices", &vertex_kind},
    {"paced", &fw_io__paced_kind},   {"posts", &fw_io__post_kind},
    {"power_days", &power_day_kind}, {"readings", &reading_kind},
    {"stays", &fw_io__stay_kind},    {"standings", &fw_io__standing_kind},
    {"moves", &fw_io__move_kind},    {"steps", &step_kind},
};
