/* The schema's table. schema.c includes it twice, with ROW defined once to
 * take the words and once to take how the value is read. No guard for that
 * reason. Columns: path, option, example, range, help, what holds when it is
 * not told (NULL: nothing does), reading. */
/* clang-format off */

ROW("farm", NULL, "Example Farm", "any text",
    "the farm's name, for the heads of pages", "the file's name",
    OF_FARM(name), TEXT)
ROW("units", "--units", "metric", "metric or us",
    "what people read: hectares and kilograms, or acres and pounds",
    "us where a value was written in pounds, acres, feet or inches, else metric",
    OF_FARM(units), CHOICE(fw_plan__units_words))
ROW("start", "--start", "2026-05-04", "a date, year-month-day",
    "the day on which the flock enters the first paddock", NULL,
    OF_FARM(start_day), .set = fw_farm__set_day)
ROW("last", "--last", "fit", "fit, short or even",
    "the last paddock: short takes what is left, even shares it over all, fit "
    "is even where the short one would feed them for under half a stay and "
    "each then gets at most 115 % of its own",
    "fit (common practice, no source)",
    OF_FARM(last), CHOICE(last_words))
ROW("stay", "--stay", "1 day", "whole days, 1 to 60, or days of the week",
    "days in a paddock, the same always or by the day of the week",
    "1 day (common practice, no source)",
    .shape = FW_SHAPE_PATTERN, OF_FARM(stay), .set = fw_farm__set_stay)
ROW("away", "--away", "2026-06-01 to 2026-06-03",
    "dates, or ranges of dates",
    "days on which nobody moves the flock", "none",
    .shape = FW_SHAPE_VALUES, OF_FARM(away), .set = fw_farm__set_away)
ROW("lambing", NULL, "{from: 2027-04-10, to: 2027-05-05, way: daily}",
    "keys below it",
    "when the ewes lamb, and what the moves do meanwhile",
    NULL,
    .shape = FW_SHAPE_GROUP)
ROW("lambing.from", "--lambing-from", "2027-04-10",
    "a date, year-month-day",
    "the first day of lambing",
    NULL,
    OF_FARM(lambing_from), .set = fw_farm__set_day)
ROW("lambing.to", "--lambing-to", "2027-05-05",
    "a date, year-month-day",
    "the last day of lambing",
    NULL,
    OF_FARM(lambing_to), .set = fw_farm__set_day)
ROW("lambing.way", "--lambing-way", "daily",
    "hold, drift or daily",
    "hold: nobody moves the flock between the dates; drift: ewes with new "
    "lambs stay behind for a stay and the opening stays open; daily: moved "
    "each day, in two visits while lambs are under 3 weeks old",
    "daily (common practice, no source)",
    OF_FARM(lambing_way), CHOICE(lambing_way_words))
ROW("back-fence", "--back-fence", "yes", "yes or no",
    "whether a fence behind the flock keeps it off grazed ground",
    "yes in growth, no when dormant (common practice, no source)",
    OF_FARM(back_fence), ANSWER)
ROW("season", "--season", "growth", "growth or dormant",
    "whether the grass grows; when dormant the order goes from the water "
    "outwards",
    "growth from April to September north of the equator, from October to "
    "March south of it (common practice, no source)",
    OF_FARM(season), CHOICE(fw_plan__season_words))
ROW("first", "--first", "near", "near or far",
    "which end is grazed first: the one at the gate, or the far one where a "
    "lane leads there",
    "near",
    OF_FARM(first), CHOICE(first_words))
ROW("field-order", "--field-order", "given", "given or nearest",
    "in which order the fields are grazed: as given, or by the shortest round "
    "from gate to gate that begins at the first one",
    "given",
    OF_FARM(field_order), CHOICE(fw_plan__field_order_words))
ROW("keep", NULL, "{storm: 2 days, heat: 3 days}", "keys below it",
    "paddocks that are kept back and grazed last", NULL,
    .shape = FW_SHAPE_GROUP)
ROW("keep.storm", "--keep-storm", "2 days", "1 to 60 days",
    "days for which each field keeps paddocks with shelter, for storms",
    "none are kept",
    OF_FARM(keep_storm), QUANTITY(FW_KIND_DURATION, 1, 60))
ROW("keep.heat", "--keep-heat", "3 days", "1 to 60 days",
    "days for which each field keeps paddocks with shade, for heat",
    "none are kept",
    OF_FARM(keep_heat), QUANTITY(FW_KIND_DURATION, 1, 60))
ROW("fence-bearing", "--fence-bearing", "35 deg", "0 to 360 deg",
    "the compass bearing along which the moved fences run",
    "the direction with the least moved wire",
    OF_FARM(fence_bearing_deg), QUANTITY(FW_KIND_ANGLE, 0, 360))
ROW("layout", "--layout", "blocks", "a pattern, or a name that compare prints",
    "how the fields are cut up",
    "the best by what is preferred",
    OF_FARM(layout), TEXT)
ROW("prefer", "--prefer", "work", "work, fence, kit, cost or walk",
    "what the layout is chosen by: minutes a grazing day, metres of fence, "
    "wire and posts to own, money, or the way to water",
    "work",
    OF_FARM(prefer), CHOICE(prefer_words))
ROW("limits", "--limits", "on", "on or off",
    "whether paddocks that a person or a flock cannot use count against a "
    "layout",
    "on",
    OF_FARM(limits), CHOICE(limits_words))
ROW("least-width", "--least-width", "15 m", "1 m to 200 m",
    "the least width of a paddock between its fences",
    "15 m, 20 m over 200 head or with lambs, else 10 m under 30 head (common "
    "practice, no source)",
    OF_FARM(least_width_m), FIGURED(FW_KIND_LENGTH, LEAST_WIDTH_M))
ROW("least-face", "--least-face", "0.3 m", "5 cm to 5 m",
    "without a back fence: the least front face of a paddock for each head, in "
    "place of its width and shape",
    "0.3 m (common practice, no source)",
    OF_FARM(least_face_m), FIGURED(FW_KIND_LENGTH, LEAST_FACE_M))
ROW("longest-shape", "--longest-shape", "4", "1 to 100",
    "how many times as long as wide a paddock may be",
    "4 (common practice, no source)",
    OF_FARM(longest_shape), FIGURED(FW_KIND_COUNT, LONGEST_SHAPE))
ROW("lane-width", "--lane-width", "6 m", "2 m to 50 m",
    "how wide a lane is that the layout lays",
    "6 m (common practice, no source)",
    OF_FARM(lane_width_m), FIGURED(FW_KIND_LENGTH, LANE_WIDTH_M))
ROW("apron", "--apron", "8 m", "0 m to 50 m",
    "the radius of the bare ground about a water point that wedges meet at",
    "8 m (common practice, no source)",
    OF_FARM(apron_m), FIGURED(FW_KIND_LENGTH, APRON_M))
ROW("block-lines", "--block-lines", "needed", "needed or all",
    "whether a block line stands while a block beside it is grazed, or all "
    "stand all the time",
    "needed",
    OF_FARM(block_lines), CHOICE(block_lines_words))

ROW("flock", NULL, "- {head: 90, weight: 62 kg, state: dry}", "a list",
    "the classes of sheep that graze together", NULL,
    .shape = FW_SHAPE_LIST, .owner = FW_OWNER_CLASS)
ROW("flock[].class", NULL, "ewes with twins", "any text",
    "a name for the class, for people only", "the state's own name",
    OF_CLASS(name), TEXT)
ROW("flock[].head", "--head", "90", "a whole number, 1 to 100000",
    "how many sheep; lambs not weaned count with their dam", NULL,
    OF_CLASS(head), QUANTITY(FW_KIND_COUNT, 1, 100000))
ROW("flock[].weight", "--weight", "62 kg", "1 kg to 200 kg",
    "live weight of one of them", NULL,
    OF_CLASS(weight_kg), QUANTITY(FW_KIND_MASS, 1, 200))
ROW("flock[].state", "--class", "lactation-twins",
    "a state of the intake table",
    "what the sheep are doing, which sets what they eat and drink",
    "dry, when the intake is told; else it is asked for",
    OF_CLASS(state), .set = fw_farm__set_state)
ROW("flock[].intake", "--intake", "2.6 %",
    "over 0 to 10 % of live weight, or over 0 to 15 kg/day",
    "dry matter a head and day: a share of live weight or a weight a day",
    "the intake table, by state and weight",
    OF_CLASS(intake), .set = fw_farm__set_intake)
ROW("flock[].coat", "--coat", "wool", "hair, wool or shorn",
    "the coat: wool keeps the pulse off the skin", NULL,
    OF_CLASS(coat), CHOICE(fw_plan__coat_words))
ROW("flock[].trained", "--trained", "yes", "yes or no",
    "whether they know electric fence", NULL,
    OF_CLASS(trained), ANSWER)

ROW("forage", NULL, "sward: ryegrass-clover", "keys below it",
    "the grass of the whole farm; a field may have its own", NULL,
    .shape = FW_SHAPE_GROUP, .owner = FW_OWNER_FORAGE)
ROW("forage.sward", "--sward", "ryegrass-clover",
    "a word of the density table",
    "what grows there; gives weight to height", NULL,
    OF_FORAGE(sward), .set = fw_farm__set_sward)
ROW("forage.density", "--density", "good",
    "thin, good or thick, or kilograms a hectare and centimetre",
    "how thick it stands, or a measured weight by height", "good",
    OF_FORAGE(density), .set = fw_farm__set_density)
ROW("forage.height", "--height", "22 cm", "1 cm to 200 cm",
    "how high it stands now", NULL,
    OF_FORAGE(height_m), QUANTITY(FW_KIND_LENGTH, 0.01, 2))
ROW("forage.leave", "--leave", "9 cm", "0 to 100 cm",
    "how high it must stand when the flock has left", NULL,
    OF_FORAGE(leave_m), QUANTITY(FW_KIND_LENGTH, 0, 1))
ROW("forage.mass", "--mass", "2600 kg/ha", "50 kg/ha to 30000 kg/ha",
    "dry matter on hand, measured; in place of sward and height", NULL,
    OF_FORAGE(mass_kg_ha), QUANTITY(FW_KIND_MASS_PER_AREA, 50, 30000))
ROW("forage.residual", "--residual", "1400 kg/ha", "0 to 30000 kg/ha",
    "dry matter that must stay; in place of leave", NULL,
    OF_FORAGE(residual_kg_ha), QUANTITY(FW_KIND_MASS_PER_AREA, 0, 30000))
ROW("forage.use", "--use", "75 %", "1 % to 100 %",
    "the share that the flock eats of what it is offered",
    "a published share for stays of that length",
    OF_FORAGE(use), QUANTITY(FW_KIND_SHARE, 0.01, 1))
ROW("forage.use-of", "--use-of", "above-residual",
    "above-residual or standing",
    "what use is a share of: what stands above the residual, or all of it",
    "above-residual when a residual is told, else standing",
    OF_FORAGE(use_of), CHOICE(fw_plan__use_of_words))
ROW("forage.legume", "--legume", "20 %", "0 to 100 %",
    "the share of clover or other legume, for the caution of bloat", NULL,
    OF_FORAGE(legume), FIGURED(FW_KIND_SHARE, LEGUME_SHARE))

ROW("forage-map", NULL, "{source: mass.tif}", "keys below it",
    "dry matter that differs over the fields, in place of one mass", NULL,
    .shape = FW_SHAPE_GROUP)
ROW("forage-map.source", "--forage", "mass.tif",
    "a raster file, or a GDAL source",
    "a raster of dry matter in kg/ha, or of what scale makes kg/ha of",
    NULL,
    OF_FARM(forage_map.source), TEXT)
ROW("forage-map.band", "--forage-band", "1", "a whole number, from 1",
    "which band of the forage raster", "the only one",
    OF_FARM(forage_map.band), QUANTITY(FW_KIND_COUNT, 1, 10000))
ROW("forage-map.scale", "--forage-scale", "5200", "a plain number",
    "what one of the forage raster's numbers is in kg/ha", "1",
    OF_FARM(forage_map.scale), NUMBER)
ROW("forage-map.offset", "--forage-offset", "-600", "a plain number",
    "what is added to the scaled number, in kg/ha", "0",
    OF_FARM(forage_map.offset), NUMBER)
ROW("forage-map.crs", "--forage-crs", "EPSG:2157", "a coordinate system",
    "the forage raster's coordinate system, when the file names none", "the file's own",
    OF_FARM(forage_map.crs), TEXT)
ROW("dem", NULL, "{source: heights.tif}", "keys below it",
    "how the ground rises and falls", NULL,
    .shape = FW_SHAPE_GROUP)
ROW("dem.source", "--dem", "heights.tif", "a raster file, or a GDAL source",
    "a raster of the ground's height in metres", NULL,
    OF_FARM(dem.source), TEXT)
ROW("dem.band", "--dem-band", "1", "a whole number, from 1",
    "which band of the heights' raster", "the only one",
    OF_FARM(dem.band), QUANTITY(FW_KIND_COUNT, 1, 10000))
ROW("dem.crs", "--dem-crs", "EPSG:2157", "a coordinate system",
    "the heights' coordinate system, when the file names none", "the file's own",
    OF_FARM(dem.crs), TEXT)

ROW("fields", NULL, "source: fields.geojson", "keys below it",
    "where the fields are", NULL,
    .shape = FW_SHAPE_GROUP)
ROW("fields.source", NULL, "fields.geojson", "a map file, or a GDAL source",
    "the map with the fields, beside the farm file", NULL,
    OF_FARM(source), TEXT)
ROW("fields.layer", "--layer", "fields", "a layer of the map",
    "which layer holds the fields", "the only layer with polygons",
    OF_FARM(layer), TEXT)
ROW("fields.where", "--where", "grazed = 1", "an OGR SQL condition",
    "which of the layer's features to take", "all of them",
    OF_FARM(where), TEXT)
ROW("fields.name", "--field", "title", "a column of the map",
    "which column holds the fields' names", "name, if there is one",
    OF_FARM(name_column), TEXT)
ROW("fields.crs", "--crs", "EPSG:2157", "a coordinate system",
    "the map's coordinate system, when the file names none or a wrong one",
    "the file's own",
    OF_FARM(crs), TEXT)
ROW("fields.only", "--only", "Long Bottom", "names of fields",
    "take only these fields", "all of them",
    .shape = FW_SHAPE_VALUES, OF_FARM(only), .set = fw_farm__set_only)
ROW("fields.copy", "--copy", "parcel_id", "columns of the map",
    "which columns to carry into the fields of the plan's files", "none",
    .shape = FW_SHAPE_VALUES, OF_FARM(copy), .set = fw_farm__set_copy)
ROW("fields.each", NULL, "- {field: Long Bottom, gate: corner:3}", "a list",
    "what a field has of its own; the list is the order of grazing",
    "the order of the map",
    .shape = FW_SHAPE_LIST, .owner = FW_OWNER_EACH)
ROW("fields.each[].field", NULL, "Long Bottom", "a field's name",
    "which field", NULL,
    OF_EACH(field), TEXT)
ROW("fields.each[].gate", NULL, "corner:3", PLACE,
    "where its gate is", NULL,
    OF_EACH(gate), TEXT)
ROW("fields.each[].water", NULL, "side:2@60m", PLACE,
    "where its water is", NULL,
    OF_EACH(water), TEXT)
ROW("fields.each[].park", NULL, "side:1@10m", PLACE,
    "where vehicle and spare posts stand", "the farm's, else its gate",
    OF_EACH(park), TEXT)
ROW("fields.each[].front", NULL, "side:2@40m to side:4@35m", ALONG,
    "its front fence that stands already", NULL,
    OF_EACH(front), TEXT)
ROW("fields.each[].forage", NULL, "{mass: 2400 kg/ha, residual: 1300 kg/ha}",
    "the keys of forage",
    "its own grass; what is not told here is the farm's", "the farm's",
    .shape = FW_SHAPE_GROUP, .owner = FW_OWNER_EACH, .like = "forage")
ROW("fields.each[].perimeter", NULL, "{holds: lambs, hot: yes}",
    "the keys of perimeter",
    "its own boundary; what is not told here is the farm's", "the farm's",
    .shape = FW_SHAPE_GROUP, .owner = FW_OWNER_EACH, .like = "perimeter")

ROW("gate", "--gate", "corner:3", PLACE,
    "where the gate is, for a farm with one field", NULL,
    OF_FARM(gate), TEXT)
ROW("water", "--water", "corner:4", PLACE,
    "where the water is, or where the tank is filled", NULL,
    OF_FARM(water), TEXT)
ROW("park", "--park", "side:1@10m", PLACE,
    "where vehicle and spare posts stand: each move begins and ends there",
    "the gate",
    OF_FARM(park), TEXT)
ROW("front", "--front", "side:2@40m to side:4@35m", ALONG,
    "the front fence that stands already, from edge to edge: what lies on the "
    "gate's side of it is grazed; or its name in the plan made before, which then "
    "goes on", NULL,
    OF_FARM(front), TEXT)
ROW("earlier", "--earlier", "out/plan.json", "a plan.json, or its folder",
    "the plan made before: its fences are places, A07-08@65m, and its ground is "
    "that of a front that is told by its name", NULL,
    OF_FARM(earlier), TEXT)

ROW("perimeter", NULL, "{holds: sheep, hot: yes}", "keys below it",
    "the boundary fence: what it holds and where it is live", NULL,
    .shape = FW_SHAPE_GROUP, .owner = FW_OWNER_PERIMETER)
ROW("perimeter.holds", "--holds", "sheep", "sheep, lambs or nothing",
    "what the boundary holds: grown sheep, lambs too, or nothing", NULL,
    OF_PERIMETER(holds), CHOICE(fw_plan__holds_words))
ROW("perimeter.hot", "--hot", "yes", "yes or no",
    "whether the boundary is live, so that a moved fence is fed from it", NULL,
    OF_PERIMETER(hot), ANSWER)
ROW("perimeter.ponds", "--ponds", "nothing", "sheep, lambs or nothing",
    "what the edges of ponds and other holes hold", NULL,
    OF_PERIMETER(ponds), CHOICE(fw_plan__holds_words))
ROW("perimeter.sides", NULL, "- {side: 2, holds: nothing, hot: no}", "a list",
    "sides that differ from the rest", NULL,
    .shape = FW_SHAPE_LIST, .owner = FW_OWNER_EDGE)
ROW("perimeter.sides[].side", NULL, "2", "a whole number, from 1",
    "the side: from its corner to the next number, as check shows", NULL,
    OF_EDGE(side), QUANTITY(FW_KIND_COUNT, 1, FW_MOST_VERTICES))
ROW("perimeter.sides[].holds", NULL, "nothing", "sheep, lambs or nothing",
    "what this side holds", "the answer for all sides",
    OF_EDGE(holds), CHOICE(fw_plan__holds_words))
ROW("perimeter.sides[].hot", NULL, "no", "yes or no",
    "whether this side is live", "the answer for all sides",
    OF_EDGE(hot), ANSWER)

ROW("soil", "--soil", "moist", "moist or dry",
    "the ground in the grazing season: dry soil earths badly",
    "moist (common practice, no source)",
    OF_FARM(soil), CHOICE(soil_words))

ROW("fence", NULL, "{strands: 2, post-gap: 8 m}", "keys below it",
    "the fence that moves with the flock", NULL,
    .shape = FW_SHAPE_GROUP)
ROW("fence.strands", "--strands", "2", "a whole number, 1 to 8",
    "live wires, one above the other", "2",
    OF_FARM(fence.strands), FIGURED(FW_KIND_COUNT, FENCE_STRANDS))
ROW("fence.post-gap", "--post-gap", "8 m", "1 m to 50 m",
    "the widest gap between posts", "8 m",
    OF_FARM(fence.post_gap_m), FIGURED(FW_KIND_LENGTH, FENCE_POST_GAP_M))
ROW("fence.slack", "--slack", "4 %", "0 to 50 %",
    "wire beyond the length of the line, for sag and knots", "4 %",
    OF_FARM(fence.slack), FIGURED(FW_KIND_SHARE, FENCE_SLACK))
ROW("fence.reel", "--reel", "400 m", "10 m to 2000 m",
    "wire on one reel", "400 m",
    OF_FARM(fence.reel_m), FIGURED(FW_KIND_LENGTH, FENCE_REEL_M))
ROW("fence.reel-use", "--reel-use", "one-a-strand",
    "one-a-strand or out-and-back",
    "one-a-strand: every strand on reels of its own; out-and-back: two strands "
    "are one wire on one reel, which turns at the far end",
    "one-a-strand (common practice, no source)",
    OF_FARM(fence.reel_use), CHOICE(reel_use_words))
ROW("fence.top", "--top", "55 cm", "20 cm to 150 cm",
    "height of the highest live wire",
    "55 cm, 69 cm of three strands, 90 cm of more",
    OF_FARM(fence.top_m), FIGURED(FW_KIND_LENGTH, FENCE_TOP_M))
ROW("fence.bottom", "--bottom", "35 cm", "5 cm to 100 cm",
    "height of the lowest live wire",
    "35 cm, 30 cm with weaned lambs, 23 cm with lambs at foot",
    OF_FARM(fence.bottom_m), FIGURED(FW_KIND_LENGTH, FENCE_BOTTOM_M))
ROW("fence.lambs", "--lambs", "hold", "hold or creep",
    "hold: the lowest wire hangs so low that lambs stay in; creep: they may go "
    "under it, where the boundary holds them",
    "hold (common practice, no source)",
    OF_FARM(fence.lambs), CHOICE(lambs_words))
ROW("fence.lay-flat", "--lay-flat", "yes", "yes or no",
    "whether grass taller than the lowest wire is laid flat along a line before "
    "it is set",
    "yes (common practice, no source)",
    OF_FARM(fence.lay_flat), ANSWER)
ROW("fence.owns", NULL, "{reels: 6, posts: 90, wire: 2400 m}",
    "reels, posts and wire",
    "what the farm has already, all three", "nothing is taken off the list",
    .shape = FW_SHAPE_GROUP)
ROW("fence.owns.reels", NULL, "6", "a whole number, 0 to 10000",
    "reels that the farm has", NULL,
    OF_FARM(own_reels), QUANTITY(FW_KIND_COUNT, 0, 10000))
ROW("fence.owns.posts", NULL, "90", "a whole number, 0 to 100000",
    "step-in posts that the farm has", NULL,
    OF_FARM(own_posts), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("fence.owns.wire", NULL, "2400 m", "0 to 1000 km",
    "polywire that the farm has", NULL,
    OF_FARM(own_wire_m), QUANTITY(FW_KIND_LENGTH, 0, 1e6))

ROW("perimeter-fence", NULL, "{strands: 5, post-gap: 15 m}", "keys below it",
    "a permanent electric fence, for the list of a bare field", NULL,
    .shape = FW_SHAPE_GROUP)
ROW("perimeter-fence.strands", "--perimeter-strands", "5",
    "a whole number, 1 to 8", "its live wires", "5",
    OF_FARM(perimeter_fence.strands), FIGURED(FW_KIND_COUNT, PERIMETER_STRANDS))
ROW("perimeter-fence.post-gap", "--perimeter-post-gap", "15 m", "1 m to 50 m",
    "the widest gap between its line posts", "15 m",
    OF_FARM(perimeter_fence.post_gap_m),
    FIGURED(FW_KIND_LENGTH, PERIMETER_POST_GAP_M))
ROW("perimeter-fence.slack", "--perimeter-slack", "4 %", "0 to 50 %",
    "its wire beyond the length of the line", "4 %",
    OF_FARM(perimeter_fence.slack), FIGURED(FW_KIND_SHARE, PERIMETER_SLACK))

ROW("work", NULL, "{order: leapfrog, walk-a-minute: 75 m}", "keys below it",
    "in which order a move is done, and how fast, by your own watch", NULL,
    .shape = FW_SHAPE_GROUP)
ROW("work.order", "--work", "leapfrog", "leapfrog or set-first",
    "leapfrog: the next paddock stands fenced ahead overnight, and when they "
    "are in, the old line is wound and set beyond; set-first: the new front is "
    "set, then they are let in",
    "leapfrog (common practice, no source)",
    OF_FARM(work_order), CHOICE(work_order_words))
ROW("work.walk-a-minute", NULL, "75 m", "10 m to 200 m",
    "how far you walk in a minute",
    "75 m (common practice, no source)",
    OF_FARM(walk_m), FIGURED(FW_KIND_LENGTH, WORK_WALK_M_MIN))
ROW("work.wind-a-minute", NULL, "60 m", "5 m to 300 m",
    "how much wire you wind up in a minute",
    "60 m (common practice, no source)",
    OF_FARM(wind_m), FIGURED(FW_KIND_LENGTH, WORK_WIND_M_MIN))
ROW("work.set-post", NULL, "8 s", "1 s to 600 s",
    "setting one post", "8 s (common practice, no source)",
    OF_FARM(set_s), SECONDS(WORK_SET_POST_S))
ROW("work.pull-post", NULL, "5 s", "1 s to 600 s",
    "pulling one post", "5 s (common practice, no source)",
    OF_FARM(pull_s), SECONDS(WORK_PULL_POST_S))
ROW("work.tie-end", NULL, "45 s", "1 s to 3600 s",
    "tying or clipping one end of a wire",
    "45 s (common practice, no source)",
    OF_FARM(end_s), SECONDS(WORK_END_S))
ROW("work.posts-an-armful", NULL, "20", "a whole number, 1 to 200",
    "posts that you carry at once",
    "20 (common practice, no source)",
    OF_FARM(armful), FIGURED(FW_KIND_COUNT, WORK_ARMFUL))
ROW("pace", "--pace", "0.85 m", "30 cm to 150 cm",
    "your own pace: the card says where to stand in paces",
    "0.80 m (common practice, no source)",
    OF_FARM(pace_m), FIGURED(FW_KIND_LENGTH, PACE_M))

ROW("hauling", NULL, "{tank: 600 L, trough-moves: yes}", "keys below it",
    "water that is brought to the flock", NULL,
    .shape = FW_SHAPE_GROUP)
ROW("hauling.tank", "--tank", "600 L", "10 L to 50000 L",
    "what the tank holds", NULL,
    OF_FARM(tank_l), QUANTITY(FW_KIND_VOLUME, 10, 50000))
ROW("hauling.trough-moves", "--trough-moves", "yes", "yes or no",
    "whether a trough goes with the flock",
    "yes",
    OF_FARM(trough_moves), ANSWER)

ROW("energizer", NULL, "{rule: mile, joules: 2 J}", "keys below it",
    "what drives the fence", NULL,
    .shape = FW_SHAPE_GROUP)
ROW("energizer.rule", "--energizer-rule", "mile",
    "a rule of the joule table: mile, km or weedy",
    "the rule that it must at least meet",
    "none: the volts size it",
    OF_FARM(rule), .set = fw_farm__set_rule)
ROW("energizer.joules", "--joules", "2 J", "0.01 J to 100 J",
    "the output joules of the one you have",
    "the least common size with enough volts on every day",
    OF_FARM(joules), QUANTITY(FW_KIND_ENERGY, 0.01, 100))
ROW("energizer.at", "--energizer", "corner:3", PLACE,
    "where it stands", "on the hot boundary, nearest to the gate",
    OF_FARM(energizer), TEXT)
ROW("energizer.moves", "--energizer-moves", "no", "yes or no",
    "whether the energizer goes with the flock, on a battery, with its own rod", "no",
    OF_FARM(wiring.moves), ANSWER)
ROW("energizer.open", "--open", "9 kV", "2.1 kV to 15 kV",
    "the energizer's volts without a fence, from the data sheet", "guessed from its joules",
    OF_FARM(wiring.open_v), QUANTITY(FW_KIND_VOLTAGE, 2100, 15000))
ROW("energizer.loaded", "--loaded", "4.5 kV", "0.1 kV to 15 kV",
    "the energizer's volts at 500 ohm, from the data sheet", NULL,
    OF_FARM(wiring.loaded_v), QUANTITY(FW_KIND_VOLTAGE, 100, 15000))
ROW("energizer.internal", "--internal", "500 ohm", "1 ohm to 10000 ohm",
    "what the energizer itself resists; in place of loaded", NULL,
    OF_FARM(wiring.internal), QUANTITY(FW_KIND_RESISTANCE, 1, 10000))
ROW("energizer.pulse", "--pulse", "1.5 s", "1 s to 10 s",
    "from one pulse to the next", "1.5 s (a maker's handbook)",
    OF_FARM(wiring.interval_s), SECONDS(PULSE_INTERVAL_S))
ROW("energizer.charge", "--charge", "7 days", "1 day to 366 days",
    "days between two charges of the energizer's battery",
    "7 days (common practice, no source)",
    OF_FARM(wiring.charge_days), FIGURED(FW_KIND_DURATION, CHARGE_DAYS))
ROW("energizer.sun", "--sun", "4 h", "0.5 h to 16 h",
    "hours of full sun a day on a solar panel", "4 h (a farm catalogue)",
    OF_FARM(wiring.sun_h), .set = fw_farm__set_quantity,
    .kind = FW_KIND_DURATION, .least = FW_SUN_H_LEAST,
    .most = FW_SUN_H_MOST, .scale = 24)

ROW("conductor", "--conductor", "poly-6x0.20",
    "a word of the wire table, or ohm/m",
    "the wire of the moved fence", "poly-6x0.20 (common practice, no source)",
    OF_FARM(wiring.conductor), .set = fw_farm__set_conductor)
ROW("perimeter-conductor", "--perimeter-conductor", "steel-2.5",
    "a word of the wire table, or ohm/m",
    "the live wire of the boundary", "steel-2.5 (common practice, no source)",
    OF_FARM(wiring.perimeter_conductor), .set = fw_farm__set_conductor)
ROW("bonded", "--bonded", "live-end",
    "live-end, both-ends, or such as every 200 m",
    "where the strands of a moved line are joined", "live-end",
    OF_FARM(wiring.bonded), .set = fw_farm__set_bonded,
    .least = 5, .most = 5000)
ROW("far-end", "--far-end", "loose", "loose or hooked",
    "whether the far end of a moved line hangs on an insulated handle or is "
    "hooked on too", "loose",
    OF_FARM(wiring.far_end), CHOICE(far_end_words))
ROW("leakage", "--leakage", "light",
    "clean, normal, light, moderate or heavy, or ohm km",
    "the grass on the bottom strand of the moved fence",
    "by the height of the grass under it; of unknown height light while it "
    "grows, else normal",
    OF_FARM(wiring.leakage), .set = fw_farm__set_leakage)
ROW("perimeter-leakage", "--perimeter-leakage", "normal",
    "clean, normal, light, moderate or heavy, or ohm km",
    "the grass on the bottom live wire of the boundary",
    "light while grass grows, else normal",
    OF_FARM(wiring.perimeter_leakage), .set = fw_farm__set_leakage)
ROW("joint", "--joint", "2 ohm", "0 to 10000 ohm",
    "what each hook resists where a line is hooked on", "0",
    OF_FARM(wiring.joint), QUANTITY(FW_KIND_RESISTANCE, 0, 10000))
ROW("lead", NULL, "{conductor: steel-2.5, length: 40 m}", "keys below it",
    "the insulated wire from the energizer to the fence", NULL,
    .shape = FW_SHAPE_GROUP)
ROW("lead.conductor", "--lead-conductor", "steel-2.5",
    "a word of the wire table, or ohm/m",
    "the wire of the lead", "steel-2.5 (common practice, no source)",
    OF_FARM(wiring.lead_conductor), .set = fw_farm__set_conductor)
ROW("lead.length", "--lead-length", "40 m", "0 to 5 km",
    "how long the lead is", "the straight way",
    OF_FARM(wiring.lead_m), QUANTITY(FW_KIND_LENGTH, 0, 5000))
ROW("lead.switch", "--lead-switch", "1 ohm", "0 to 10000 ohm",
    "what the switches and joints in the lead resist", "0",
    OF_FARM(wiring.in_lead), QUANTITY(FW_KIND_RESISTANCE, 0, 10000))
ROW("earth", NULL, "{soil: loam, rods: 3}", "keys below it",
    "the earth of the energizer", NULL,
    .shape = FW_SHAPE_GROUP)
ROW("earth.soil", "--earth-soil", "loam",
    "a word of the soil table, or ohm m",
    "the soil that the earth rods stand in",
    "loam; 400 ohm m where the soil is dry (common practice, no source)",
    OF_FARM(wiring.soil), .set = fw_farm__set_soil)
ROW("earth.rods", "--earth-rods", "3", "a whole number, 1 to 100",
    "earth rods that are driven", "as many as are asked for",
    OF_FARM(wiring.rods), QUANTITY(FW_KIND_COUNT, 1, 100))
ROW("earth.ohm", "--earth", "20 ohm", "0.01 ohm to 10000 ohm",
    "what the earth rods resist together, measured", "reckoned from soil and rods",
    OF_FARM(wiring.earth), QUANTITY(FW_KIND_RESISTANCE, 0.01, 10000))
ROW("earth.return", "--earth-return", "yes", "yes or no",
    "whether a strand of each line is the return of the current, joined to the "
    "earth rods",
    "yes where the ground is so dry, sandy or frozen that a sheep gets too "
    "little through it, and more of a strand",
    OF_FARM(wiring.earth_return), ANSWER)
ROW("earth.test", "--earth-test", "300 V", "100 V to 1000 V",
    "what the last rod may read in the test of the earth",
    "300 V (a dealer's page)",
    OF_FARM(wiring.rod_v), QUANTITY(FW_KIND_VOLTAGE, 100, 1000))

ROW("prices", NULL, "{currency: EUR, post: 2.10}", "keys below it",
    "what things cost, each in the farm's money", NULL,
    .shape = FW_SHAPE_GROUP)
ROW("prices.currency", "--currency", "EUR", "up to 7 letters",
    "the money that prices are in", NULL,
    OF_FARM(currency), .set = fw_farm__set_text, .most = 7)
ROW("prices.post", "--price-post", "2.10", MONEY_RANGE,
    "one step-in post", NULL,
    OF_FARM(post), MONEY)
ROW("prices.reel", "--price-reel", "38", MONEY_RANGE,
    "one geared reel", NULL,
    OF_FARM(reel), MONEY)
ROW("prices.wire", "--price-wire", "0.05", MONEY_RANGE,
    "one metre of polywire", NULL,
    OF_FARM(wire_m), MONEY)
ROW("prices.corner-post", "--price-corner-post", "24", MONEY_RANGE,
    "one corner post of a permanent fence", NULL,
    OF_FARM(corner_post), MONEY)
ROW("prices.line-post", "--price-line-post", "7", MONEY_RANGE,
    "one line post of a permanent fence", NULL,
    OF_FARM(line_post), MONEY)
ROW("prices.perimeter-wire", "--price-perimeter-wire", "0.12", MONEY_RANGE,
    "one metre of wire of a permanent fence", NULL,
    OF_FARM(perimeter_wire_m), MONEY)
ROW("prices.energizer", "--price-energizer", "240", MONEY_RANGE,
    "the energizer", NULL,
    OF_FARM(energizer_price), MONEY)
ROW("prices.joule", "--price-joule", "60", MONEY_RANGE,
    "what an energizer costs more for each joule of output", NULL,
    OF_FARM(joule_price), MONEY)
ROW("prices.lead", "--price-lead", "0.8", MONEY_RANGE,
    "one metre of insulated lead", NULL,
    OF_FARM(lead_price), MONEY)
ROW("prices.copper-wire", "--price-copper-wire", "0.11", MONEY_RANGE,
    "one metre of polywire with copper in it", NULL,
    OF_FARM(copper_wire_price), MONEY)
ROW("prices.earth-rod", "--price-earth-rod", "18", MONEY_RANGE,
    "one earth rod", NULL,
    OF_FARM(earth_rod), MONEY)
ROW("prices.insulator", "--price-insulator", "0.6", MONEY_RANGE,
    "one insulator", NULL,
    OF_FARM(insulator), MONEY)
ROW("prices.anchor", "--price-anchor", "6", MONEY_RANGE,
    "one driven anchor for a line's end", NULL,
    OF_FARM(anchor), MONEY)
ROW("prices.handle", "--price-handle", "3", MONEY_RANGE,
    "one insulated gate handle", NULL,
    OF_FARM(handle), MONEY)

ROW("prices.sign", "--price-sign", "4", MONEY_RANGE,
    "one warning sign", NULL,
    OF_FARM(sign), MONEY)

ROW("signs", NULL, "{path: 50 m, road: 90 m}", "keys below it",
    "how far apart warning signs hang on a live fence, as local law says", NULL,
    .shape = FW_SHAPE_GROUP)
ROW("signs.path", "--path-signs", "50 m", "5 m to 300 m",
    "along public paths", "50 m (Cornwall Council)",
    OF_FARM(sign_path_m), QUANTITY(FW_KIND_LENGTH, 5, 300))
ROW("signs.road", "--road-signs", "90 m", "5 m to 300 m",
    "along public roads", "90 m (EFA code of practice)",
    OF_FARM(sign_road_m), QUANTITY(FW_KIND_LENGTH, 5, 300))

ROW("looked", "--looked", "road,telecom",
    "roles of map layers that have checks, and steep",
    "what a person has looked at around the fields, of which no map is given",
    "nothing: the plan says what was not looked at",
    .shape = FW_SHAPE_VALUES, OF_FARM(looked), .set = fw_farm__set_looked)
ROW("looked-on", "--looked-on", "2027-05-10", "a date, year-month-day",
    "the day on which a person looked at it",
    "the plan says that the day is not told",
    OF_FARM(looked_day), .set = fw_farm__set_day)

ROW("setback", "--setback", "3 m", "0 to 150 m",
    "how far the flock stays from ponds and exclusions that tell nothing else",
    "0 m",
    OF_FARM(setback_m), QUANTITY(FW_KIND_LENGTH, 0, 150))
ROW("maps", "--map", "- {role: power-line, source: power.geojson}", "a list",
    "maps of what stands around, by role; as an option ROLE[:LAYER]=SOURCE",
    "distances to such things are not checked",
    .shape = FW_SHAPE_LIST, .owner = FW_OWNER_MAP)
ROW("maps[].role", NULL, "power-line",
    "power-line, road, pond, zone, exclusion and others",
    "what its features are", NULL,
    OF_MAP(role), .set = fw_farm__set_role)
ROW("maps[].source", NULL, "power.geojson", "a map file, or a GDAL source",
    "the map, beside the farm file", NULL,
    OF_MAP(source), TEXT)
ROW("maps[].layer", NULL, "lines", "a layer of the map",
    "which layer", "the only one",
    OF_MAP(layer), TEXT)
ROW("maps[].where", NULL, "power = 'line'", "an OGR SQL condition",
    "which of its features", "all of them",
    OF_MAP(where), TEXT)
ROW("maps[].crs", NULL, "EPSG:2157", "a coordinate system",
    "its coordinate system, when the file names none", "the file's own",
    OF_MAP(crs), TEXT)
ROW("maps[].kv", NULL, "20 kV", "0.1 kV to 1200 kV",
    "the voltage of its power lines, where the map does not say", NULL,
    OF_MAP(kv), .set = fw_farm__set_quantity, .kind = FW_KIND_VOLTAGE,
    .least = 0.1, .most = 1200, .scale = 1e-3)
ROW("maps[].setback", NULL, "3 m", "0 to 150 m",
    "how far the flock stays from its ponds or exclusions, where a column "
    "setback does not say", "the setback for all",
    OF_MAP(setback_m), QUANTITY(FW_KIND_LENGTH, 0, 150))
ROW("maps[].width", NULL, "2 m", "0 to 150 m",
    "how wide its lines are, where a column width does not say", NULL,
    OF_MAP(width_m), QUANTITY(FW_KIND_LENGTH, 0, 150))
ROW("maps[].minutes", NULL, "4 min", "0 to 600 min",
    "hard going: time that a moved line costs to cross it, where a column "
    "minutes does not say", NULL,
    OF_MAP(minutes), QUANTITY(FW_KIND_DURATION, 0, 600), .scale = 1440)
ROW("maps[].posts", NULL, "2", "a whole number, 0 to 1000",
    "hard going: posts that a line needs more to cross it, where a column "
    "posts does not say", NULL,
    OF_MAP(posts), QUANTITY(FW_KIND_COUNT, 0, 1000))
ROW("maps[].sheep-cross", NULL, "no", "yes or no",
    "hard going: whether sheep cross it, where a column sheep_cross does not "
    "say", NULL,
    OF_MAP(sheep_cross), ANSWER)
ROW("maps[].forage", NULL, "{mass: 800 kg/ha}", "the keys of forage",
    "the grass of its zones, where their columns do not say",
    "the field's",
    .shape = FW_SHAPE_GROUP, .owner = FW_OWNER_MAP, .like = "forage")
