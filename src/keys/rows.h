/* The schema's table. schema.c includes it twice, with ROW defined once to
 * take the words and once to take how the value is read. No guard for that
 * reason. Columns: path, option, example, help, reading. What may stand there
 * and what holds otherwise say.c works out from the reading; OTHERWISE tells it
 * where that is neither a figure nor the first of a pick's words. */
/* clang-format off */

ROW("farm", NULL, "Example Farm", "the farm's name, for the heads of pages",
    OF_FARM(name), TEXT("any text"), OTHERWISE("the file's name"))
ROW("units", "--units", "metric",
    "what people read: hectares and kilograms, or acres and pounds",
    OF_FARM(units), CHOICE(fw_plan__units_words),
    OTHERWISE("us where a value was written in pounds, acres, feet or inches, "
    "else metric"))
ROW("start", "--start", "2026-05-04",
    "the day on which the flock enters the first paddock",
    OF_FARM(start_day), DAY)
ROW("until", "--until", "2026-09-30",
    "graze the paddocks again, round after round, until that day",
    OF_FARM(until_day), DAY, OTHERWISE("each is grazed once"))
ROW("last", "--last", "fit",
    "the last paddock: short takes what is left, even shares it over all, fit "
    "is even where the short one would feed them for under half a stay and "
    "each then gets at most 115 % of its own",
    OF_FARM(last), CHOICE(last_words), OF_REGISTER(LAST))
ROW("stay", "--stay", "1 day",
    "days in a paddock, the same always or by the day of the week",
    .shape = FW_SHAPE_PATTERN, OF_FARM(stay), .set = fw_farm__set_stay,
    .kind = FW_KIND_DURATION, RANGE_OF(STAY_DAYS),
    .or_else = ", or by days of the week")
ROW("away", "--away", "2026-06-01 to 2026-06-03",
    "days on which nobody moves the flock",
    .shape = FW_SHAPE_VALUES, OF_FARM(away),
    BY(away, "dates, or ranges of dates"), OTHERWISE("none"))
ROW("lambing", NULL, "{from: 2027-04-10, to: 2027-05-05, way: daily}",
    "when the ewes lamb, and what the moves do meanwhile", GROUP)
ROW("lambing.from", "--lambing-from", "2027-04-10", "the first day of lambing",
    OF_FARM(lambing_from), DAY)
ROW("lambing.to", "--lambing-to", "2027-05-05", "the last day of lambing",
    OF_FARM(lambing_to), DAY)
ROW("lambing.way", "--lambing-way", "daily",
    "hold: nobody moves the flock between the dates; drift: ewes with new "
    "lambs stay behind for a stay and the opening stays open; daily: moved "
    "each day, in two visits while lambs are under 3 weeks old",
    OF_FARM(lambing_way), CHOICE(lambing_way_words), OF_REGISTER(LAMBING_WAY))
ROW("back-fence", "--back-fence", "yes",
    "whether a fence behind the flock keeps it off grazed ground",
    OF_FARM(back_fence), ANSWER, OF_REGISTER(BACK_FENCE))
ROW("season", "--season", "growth",
    "whether the grass grows; when dormant the order goes from the water "
    "outwards",
    OF_FARM(season), CHOICE(fw_plan__season_words), OF_REGISTER(SEASON))
ROW("first", "--first", "near",
    "which end is grazed first: the one at the gate, or the far one where a "
    "lane leads there", OF_FARM(first), CHOICE(first_words))
ROW("field-order", "--field-order", "given",
    "in which order the fields are grazed: as given, or by the shortest round "
    "from gate to gate that begins at the first one",
    OF_FARM(field_order), CHOICE(fw_plan__field_order_words))
ROW("keep", NULL, "{storm: 2 days, heat: 3 days}",
    "paddocks that are kept back and grazed last", GROUP)
ROW("keep.storm", "--keep-storm", "2 days",
    "days for which each field keeps paddocks with shelter, for storms",
    OF_FARM(keep_storm), QUANTITY(FW_KIND_DURATION, 1, 60),
    OTHERWISE("none are kept"))
ROW("keep.heat", "--keep-heat", "3 days",
    "days for which each field keeps paddocks with shade, for heat",
    OF_FARM(keep_heat), QUANTITY(FW_KIND_DURATION, 1, 60),
    OTHERWISE("none are kept"))
ROW("fence-bearing", "--fence-bearing", "35 deg",
    "the compass bearing along which the moved fences run",
    OF_FARM(fence_bearing_deg), QUANTITY(FW_KIND_ANGLE, 0, 360),
    OTHERWISE("the direction with the least moved wire"))
ROW("layout", "--layout", "blocks", "how the fields are cut up",
    OF_FARM(layout), TEXT("a pattern, or a name that compare prints"),
    OTHERWISE("the best by what is preferred"))
ROW("prefer", "--prefer", "work",
    "what the layout is chosen by: minutes a grazing day, metres of fence, "
    "wire and posts to own, money, or the way to water",
    OF_FARM(prefer), CHOICE(prefer_words))
ROW("limits", "--limits", "on",
    "whether paddocks that a person or a flock cannot use count against a "
    "layout", OF_FARM(limits), CHOICE(limits_words))
ROW("least-width", "--least-width", "15 m",
    "the least width of a paddock between its fences",
    OF_FARM(least_width_m), FIGURED(FW_KIND_LENGTH, LEAST_WIDTH_M),
    ALSO(", more over the head count of a crowd or with lambs, else less for "
    "few sheep"))
ROW("least-face", "--least-face", "0.3 m",
    "without a back fence: the least front face of a paddock for each head, in "
    "place of its width and shape",
    OF_FARM(least_face_m), FIGURED(FW_KIND_LENGTH, LEAST_FACE_M))
ROW("longest-shape", "--longest-shape", "4",
    "how many times as long as wide a paddock may be",
    OF_FARM(longest_shape), FIGURED(FW_KIND_COUNT, LONGEST_SHAPE))
ROW("lane-width", "--lane-width", "6 m",
    "how wide a lane is that the layout lays",
    OF_FARM(lane_width_m), FIGURED(FW_KIND_LENGTH, LANE_WIDTH_M))
ROW("apron", "--apron", "8 m",
    "the radius of the bare ground about a water point that wedges meet at",
    OF_FARM(apron_m), FIGURED(FW_KIND_LENGTH, APRON_M))
ROW("block-lines", "--block-lines", "needed",
    "whether a block line stands while a block beside it is grazed, or all "
    "stand all the time", OF_FARM(block_lines), CHOICE(block_lines_words))

ROW("flock", NULL, "- {head: 90, weight: 62 kg, state: dry}",
    "the classes of sheep that graze together", LIST, .owner = FW_OWNER_CLASS)
ROW("flock[].class", NULL, "ewes with twins",
    "a name for the class, for people only",
    OF_CLASS(name), TEXT("any text"), OTHERWISE("the state's own name"))
ROW("flock[].head", "--head", "90",
    "how many sheep; lambs not weaned count with their dam",
    OF_CLASS(head), QUANTITY(FW_KIND_COUNT, 1, 100000))
ROW("flock[].weight", "--weight", "62 kg", "live weight of one of them",
    OF_CLASS(weight_kg), QUANTITY(FW_KIND_MASS, 1, 200))
ROW("flock[].state", "--class", "dry",
    "what the sheep are doing, which sets what they eat and drink",
    OF_CLASS(state), BY(state, "a state of the intake table"),
    OTHERWISE("dry, when the intake is told; else it is asked for"))
ROW("flock[].intake", "--intake", "2.6 %",
    "dry matter a head and day: a share of live weight or a weight a day",
    OF_CLASS(intake),
    BY(intake, "over 0 to 10 % of live weight, or over 0 to 15 kg/day"),
    OTHERWISE("the intake table, by state and weight"))
ROW("flock[].coat", "--coat", "wool",
    "the coat: wool keeps the pulse off the skin",
    OF_CLASS(coat), CHOICE(fw_plan__coat_words))
ROW("flock[].trained", "--trained", "yes", "whether they know electric fence",
    OF_CLASS(trained), ANSWER)

ROW("forage", NULL, "sward: ryegrass-clover",
    "the grass of the whole farm; a field may have its own",
    GROUP, .owner = FW_OWNER_FORAGE)
ROW("forage.sward", "--sward", "ryegrass-clover",
    "what grows there; gives weight to height",
    OF_FORAGE(sward), BY(sward, "a word of the density table"))
ROW("forage.density", "--density", "good",
    "how thick it stands, or a measured weight by height",
    OF_FORAGE(density),
    BY(density, "thin, good or thick, or kilograms a hectare and centimetre"),
    OTHERWISE("good"))
ROW("forage.height", "--height", "22 cm", "how high it stands now",
    OF_FORAGE(height_m), QUANTITY(FW_KIND_LENGTH, 0.01, 2))
ROW("forage.leave", "--leave", "9 cm",
    "how high it must stand when the flock has left",
    OF_FORAGE(leave_m), QUANTITY(FW_KIND_LENGTH, 0, 1))
ROW("forage.mass", "--mass", "2600 kg/ha",
    "dry matter on hand, measured; in place of sward and height",
    OF_FORAGE(mass_kg_ha), QUANTITY(FW_KIND_MASS_PER_AREA, 50, 30000))
ROW("forage.residual", "--residual", "1400 kg/ha",
    "dry matter that must stay; in place of leave",
    OF_FORAGE(residual_kg_ha), QUANTITY(FW_KIND_MASS_PER_AREA, 0, 30000))
ROW("forage.use", "--use", "75 %",
    "the share that the flock eats of what it is offered",
    OF_FORAGE(use), QUANTITY(FW_KIND_SHARE, 0.01, 1), OF_REGISTER(FORAGE_USE))
ROW("forage.use-of", "--use-of", "above-residual",
    "what use is a share of: what stands above the residual, or all of it",
    OF_FORAGE(use_of), CHOICE(fw_plan__use_of_words),
    OTHERWISE("above-residual when a residual is told, else standing"))
ROW("forage.condition", "--condition", "rank",
    "of grass kept for winter: fresh, aged or rank, by how long ago it was "
    "last taken down; says the share that they take, where use is not told",
    OF_FORAGE(condition), CHOICE(fw_forage_condition_words))
ROW("forage.legume", "--legume", "20 %",
    "the share of clover or other legume, for the caution of bloat",
    OF_FORAGE(legume), FIGURED(FW_KIND_SHARE, LEGUME_SHARE))

ROW("forage.growth", "--growth", "40 kg/ha/day",
    "how fast it grows while it waits: always, by month or week, by a published "
    "table or by a file of rates",
    .shape = FW_SHAPE_PATTERN, OF_FORAGE(growth),
    BY(growth, "a rate, keys such as may: 69 kg/ha/day, a table's word such as "
    "northern-ireland, or a .csv file"),
    OTHERWISE("none: the plan counts what stands on its first day, and says for "
    "how long that will do"))
ROW("forage.growth-year", "--growth-year", "6000 kg/ha",
    "what grows in a year, for a table of shares of it",
    OF_FORAGE(growth_year_kg_ha), QUANTITY(FW_KIND_MASS_PER_AREA, 100, 30000),
    OTHERWISE("the middle of what the table's place has"))
ROW("forage.growth-shape", "--growth-shape", "logistic",
    "how growth goes with what stands: fastest half way to the ceiling, always "
    "the same, or as measured where the flock never left",
    OF_FORAGE(growth_shape), CHOICE(growth_shape_words))
ROW("forage.winter-loss", "--winter-loss", "25 %",
    "the share of standing grass that goes over a winter, November to March, or "
    "where it was measured",
    OF_FORAGE(winter_loss), .set = fw_farm__set_loss, .kind = FW_KIND_SHARE,
    RANGE_OF(STOCK_LOSS),
    .range = "0 to 75 %, or oregon (25 %), missouri (32 to 75 %), wisconsin (50 %), "
    "tennessee (none)",
    ALSO(" for stockpile; a plan counts none"))
ROW("forage.ceiling", "--ceiling", "6000 kg/ha",
    "what the sward can carry: there growth ends",
    OF_FORAGE(ceiling_kg_ha), FIGURED(FW_KIND_MASS_PER_AREA, GROWTH_CEILING_KG_HA))

ROW("covers", "--covers", "Long Bottom = 2400 kg/ha",
    "what stands in each field as you walked it, for check: how many days are "
    "ahead, and whether to slow down, shut a field up or buy feed",
    .shape = FW_SHAPE_PATTERN, OF_FARM(covers), .set = fw_farm__set_covers,
    .kind = FW_KIND_MASS_PER_AREA, .least = 50, .most = 30000,
    .range = "fields' names, each with dry matter, 50 to 30000 kg/ha",
    OTHERWISE("none: check says nothing of it"))

ROW("forage-map", NULL, "{source: mass.tif}",
    "dry matter that differs over the fields, in place of one mass", GROUP)
ROW("forage-map.source", "--forage", "mass.tif",
    "a raster of dry matter in kg/ha, or of what scale makes kg/ha of",
    OF_FARM(forage_map.source), TEXT("a raster file, or a GDAL source"))
ROW("forage-map.band", "--forage-band", "1", "which band of the forage raster",
    OF_FARM(forage_map.band), QUANTITY(FW_KIND_COUNT, 1, 10000),
    OTHERWISE("the only one"))
ROW("forage-map.scale", "--forage-scale", "5200",
    "what one of the forage raster's numbers is in kg/ha",
    OF_FARM(forage_map.scale), NUMBER, OTHERWISE("1"))
ROW("forage-map.offset", "--forage-offset", "-600",
    "what is added to the scaled number, in kg/ha",
    OF_FARM(forage_map.offset), NUMBER, OTHERWISE("0"))
ROW("forage-map.crs", "--forage-crs", "EPSG:2157",
    "the forage raster's coordinate system, when the file names none",
    OF_FARM(forage_map.crs), TEXT("a coordinate system"),
    OTHERWISE("the file's own"))
ROW("dem", NULL, "{source: heights.tif}", "how the ground rises and falls",
    GROUP)
ROW("dem.source", "--dem", "heights.tif",
    "a raster of the ground's height in metres",
    OF_FARM(dem.source), TEXT("a raster file, or a GDAL source"))
ROW("dem.band", "--dem-band", "1", "which band of the heights' raster",
    OF_FARM(dem.band), QUANTITY(FW_KIND_COUNT, 1, 10000),
    OTHERWISE("the only one"))
ROW("dem.crs", "--dem-crs", "EPSG:2157",
    "the heights' coordinate system, when the file names none",
    OF_FARM(dem.crs), TEXT("a coordinate system"), OTHERWISE("the file's own"))

ROW("fields", NULL, "source: fields.geojson", "where the fields are", GROUP)
ROW("fields.source", NULL, "fields.geojson",
    "the map with the fields, beside the farm file",
    OF_FARM(source), TEXT("a map file, or a GDAL source"))
ROW("fields.layer", "--layer", "fields", "which layer holds the fields",
    OF_FARM(layer), TEXT("a layer of the map"),
    OTHERWISE("the only layer with polygons"))
ROW("fields.where", "--where", "grazed = 1",
    "which of the layer's features to take",
    OF_FARM(where), TEXT("an OGR SQL condition"), OTHERWISE("all of them"))
ROW("fields.name", "--field", "title", "which column holds the fields' names",
    OF_FARM(name_column), TEXT("a column of the map"),
    OTHERWISE("name, if there is one"))
ROW("fields.crs", "--crs", "EPSG:2157",
    "the map's coordinate system, when the file names none or a wrong one",
    OF_FARM(crs), TEXT("a coordinate system"), OTHERWISE("the file's own"))
ROW("fields.only", "--only", "Long Bottom", "take only these fields",
    .shape = FW_SHAPE_VALUES, OF_FARM(only), BY(only, "names of fields"),
    OTHERWISE("all of them"))
ROW("fields.copy", "--copy", "parcel_id",
    "which columns to carry into the fields of the plan's files",
    .shape = FW_SHAPE_VALUES, OF_FARM(copy), BY(copy, "columns of the map"),
    OTHERWISE("none"))
ROW("fields.each", NULL, "- {field: Long Bottom, gate: corner:3}",
    "what a field has of its own; the list is the order of grazing",
    LIST, .owner = FW_OWNER_EACH, OTHERWISE("the order of the map"))
ROW("fields.each[].field", NULL, "Long Bottom", "which field",
    OF_EACH(field), TEXT("a field's name"))
ROW("fields.each[].gate", NULL, "corner:3", "where its gate is",
    OF_EACH(gate), TEXT(PLACE))
ROW("fields.each[].water", NULL, "side:2@60m", "where its water is",
    OF_EACH(water), TEXT(PLACE))
ROW("fields.each[].park", NULL, "side:1@10m",
    "where vehicle and spare posts stand",
    OF_EACH(park), TEXT(PLACE), OTHERWISE("the farm's, else its gate"))
ROW("fields.each[].gate-width", NULL, "3.5 m",
    "how wide its gate opens",
    OF_EACH(gate_width_m), QUANTITY(FW_KIND_LENGTH, 0.5, 20),
    OTHERWISE("the farm's"))
ROW("fields.each[].soft", NULL, "yes",
    "whether a loaded vehicle sinks in there",
    OF_EACH(soft), ANSWER, OTHERWISE("as a map of soft ground has it"))
ROW("fields.each[].front", NULL, "side:2@40m to side:4@35m",
    "its front fence that stands already", OF_EACH(front), TEXT(ALONG))
ROW("fields.each[].forage", NULL, "{mass: 2400 kg/ha, residual: 1300 kg/ha}",
    "its own grass; what is not told here is the farm's",
    LIKE("forage"), .owner = FW_OWNER_EACH, OTHERWISE("the farm's"))
ROW("fields.each[].perimeter", NULL, "{holds: lambs, hot: yes}",
    "its own boundary; what is not told here is the farm's",
    LIKE("perimeter"), .owner = FW_OWNER_EACH, OTHERWISE("the farm's"))

ROW("gate", "--gate", "corner:3",
    "where the gate is, for a farm with one field", OF_FARM(gate), TEXT(PLACE))
ROW("gate-width", "--gate-width", "3.5 m",
    "how wide the gates of all fields open, the narrowest of them",
    OF_FARM(gate_width_m), QUANTITY(FW_KIND_LENGTH, 0.5, 20))
ROW("water", "--water", "corner:4",
    "where the water is, or where the tank is filled",
    OF_FARM(water), TEXT(PLACE))
ROW("park", "--park", "side:1@10m",
    "where vehicle and spare posts stand: each move begins and ends there",
    OF_FARM(park), TEXT(PLACE), OF_REGISTER(PARK))
ROW("front", "--front", "side:2@40m to side:4@35m",
    "the front fence that stands already, from edge to edge: what lies on the "
    "gate's side of it is grazed; or its name in the plan made before, which "
    "then goes on", OF_FARM(front), TEXT(ALONG))
ROW("earlier", "--earlier", "out/plan.json",
    "the plan made before: its fences are places, A07-08@65m, and its ground "
    "is that of a front that is told by its name",
    OF_FARM(earlier), TEXT("a plan.json, or its folder"))

ROW("perimeter", NULL, "{holds: sheep, hot: yes}",
    "the boundary fence: what it holds and where it is live",
    GROUP, .owner = FW_OWNER_PERIMETER)
ROW("perimeter.holds", "--holds", "sheep",
    "what the boundary holds: grown sheep, lambs too, or nothing",
    OF_PERIMETER(holds), CHOICE(fw_plan__holds_words))
ROW("perimeter.hot", "--hot", "yes",
    "whether the boundary is live, so that a moved fence is fed from it",
    OF_PERIMETER(hot), ANSWER)
ROW("perimeter.ponds", "--ponds", "nothing",
    "what the edges of ponds and other holes hold",
    OF_PERIMETER(ponds), CHOICE(fw_plan__holds_words))
ROW("perimeter.sides", NULL, "- {side: 2, holds: nothing, hot: no}",
    "sides that differ from the rest", LIST, .owner = FW_OWNER_EDGE)
ROW("perimeter.sides[].side", NULL, "2",
    "the side: from its corner to the next number, as check shows",
    OF_EDGE(side), QUANTITY(FW_KIND_COUNT, 1, FW_MOST_VERTICES))
ROW("perimeter.sides[].holds", NULL, "nothing", "what this side holds",
    OF_EDGE(holds), CHOICE(fw_plan__holds_words),
    OTHERWISE("the answer for all sides"))
ROW("perimeter.sides[].hot", NULL, "no", "whether this side is live",
    OF_EDGE(hot), ANSWER, OTHERWISE("the answer for all sides"))

ROW("soil", "--soil", "moist",
    "the ground in the grazing season: dry soil earths badly",
    OF_FARM(soil), CHOICE(soil_words), OF_REGISTER(SOIL))

ROW("fence", NULL, "{strands: 2, post-gap: 8 m}",
    "the fence that moves with the flock", GROUP)
ROW("fence.strands", "--strands", "2", "live wires, one above the other",
    OF_FARM(fence.strands), FIGURED(FW_KIND_COUNT, FENCE_STRANDS))
ROW("fence.post-gap", "--post-gap", "8 m", "the widest gap between posts",
    OF_FARM(fence.post_gap_m), FIGURED(FW_KIND_LENGTH, FENCE_POST_GAP_M))
ROW("fence.slack", "--slack", "4 %",
    "wire beyond the length of the line, for sag and knots",
    OF_FARM(fence.slack), FIGURED(FW_KIND_SHARE, FENCE_SLACK))
ROW("fence.reel", "--reel", "400 m", "wire on one reel",
    OF_FARM(fence.reel_m), FIGURED(FW_KIND_LENGTH, FENCE_REEL_M))
ROW("fence.reel-use", "--reel-use", "one-a-strand",
    "one-a-strand: every strand on reels of its own; out-and-back: two strands "
    "are one wire on one reel, which turns at the far end",
    OF_FARM(fence.reel_use), CHOICE(reel_use_words), OF_REGISTER(REEL_USE))
ROW("fence.top", "--top", "55 cm", "height of the highest live wire",
    OF_FARM(fence.top_m), FIGURED(FW_KIND_LENGTH, FENCE_TOP_M),
    ALSO(", higher of three strands or more"))
ROW("fence.bottom", "--bottom", "35 cm", "height of the lowest live wire",
    OF_FARM(fence.bottom_m), FIGURED(FW_KIND_LENGTH, FENCE_BOTTOM_M),
    ALSO(", lower with lambs"))
ROW("fence.lambs", "--lambs", "hold",
    "hold: the lowest wire hangs so low that lambs stay in; creep: they may go "
    "under it, where the boundary holds them",
    OF_FARM(fence.lambs), CHOICE(lambs_words), OF_REGISTER(LAMBS))
ROW("fence.lay-flat", "--lay-flat", "yes",
    "whether grass taller than the lowest wire is laid flat along a line "
    "before it is set", OF_FARM(fence.lay_flat), ANSWER, OF_REGISTER(LAY_FLAT))
ROW("fence.owns", NULL, "{reels: 6, posts: 90, wire: 2400 m}",
    "what the farm has already, all three",
    GROUP, OTHERWISE("nothing is taken off the list"))
ROW("fence.owns.reels", NULL, "6", "reels that the farm has",
    OF_FARM(own_reels), QUANTITY(FW_KIND_COUNT, 0, 10000))
ROW("fence.owns.posts", NULL, "90", "step-in posts that the farm has",
    OF_FARM(own_posts), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("fence.owns.wire", NULL, "2400 m", "polywire that the farm has",
    OF_FARM(own_wire_m), QUANTITY(FW_KIND_LENGTH, 0, 1e6))

ROW("perimeter-fence", NULL, "{strands: 5, post-gap: 15 m}",
    "a permanent electric fence, for the list of a bare field", GROUP)
ROW("perimeter-fence.strands", "--perimeter-strands", "5",
    "live wires of the permanent fence",
    OF_FARM(perimeter_fence.strands), FIGURED(FW_KIND_COUNT, PERIMETER_STRANDS))
ROW("perimeter-fence.post-gap", "--perimeter-post-gap", "15 m",
    "the widest gap between line posts of the permanent fence",
    OF_FARM(perimeter_fence.post_gap_m),
    FIGURED(FW_KIND_LENGTH, PERIMETER_POST_GAP_M))
ROW("perimeter-fence.slack", "--perimeter-slack", "4 %",
    "wire of the permanent fence beyond the length of the line",
    OF_FARM(perimeter_fence.slack), FIGURED(FW_KIND_SHARE, PERIMETER_SLACK))
ROW("perimeter-fence.tolerance", "--fence-tolerance", "2 m",
    "how far a new permanent fence may leave the line of the map, to be "
    "straight where that was walked",
    OF_FARM(fence_tolerance_m), FIGURED(FW_KIND_LENGTH, PERIMETER_TOLERANCE_M))
ROW("perimeter-fence.brace-bend", "--brace-bend", "60 deg",
    "a permanent fence is braced both ways where it turns more than this; up "
    "to there it has a bend post",
    OF_FARM(brace_bend_deg), FIGURED(FW_KIND_ANGLE, PERIMETER_BRACE_DEG))
ROW("perimeter-fence.gates", "--gates", "1",
    "gates in the new fence of each field",
    OF_FARM(gates), FIGURED(FW_KIND_COUNT, PERIMETER_GATES))
ROW("perimeter-fence.life", "--fence-life", "25",
    "years that a permanent fence lasts",
    OF_FARM(life_years), FIGURED(FW_KIND_COUNT, PERIMETER_LIFE_YEARS))
ROW("perimeter-fence.upkeep", "--upkeep", "5 %",
    "what its upkeep takes a year, of what it cost",
    OF_FARM(upkeep), FIGURED(FW_KIND_SHARE, PERIMETER_UPKEEP))

ROW("work", NULL, "{order: leapfrog, walk-a-minute: 75 m}",
    "in which order a move is done, and how fast, by your own watch", GROUP)
ROW("work.order", "--work", "leapfrog",
    "leapfrog: the next paddock stands fenced ahead overnight, and when they "
    "are in, the old line is wound and set beyond; set-first: the new front is "
    "set, then they are let in",
    OF_FARM(work_order), CHOICE(work_order_words), OF_REGISTER(WORK_ORDER))
ROW("work.walk-a-minute", NULL, "75 m", "how far you walk in a minute",
    OF_FARM(walk_m), FIGURED(FW_KIND_LENGTH, WORK_WALK_M_MIN))
ROW("work.wind-a-minute", NULL, "60 m", "how much wire you wind up in a minute",
    OF_FARM(wind_m), FIGURED(FW_KIND_LENGTH, WORK_WIND_M_MIN))
ROW("work.set-post", NULL, "8 s", "setting one post",
    OF_FARM(set_s), SECONDS(WORK_SET_POST_S))
ROW("work.pull-post", NULL, "5 s", "pulling one post",
    OF_FARM(pull_s), SECONDS(WORK_PULL_POST_S))
ROW("work.tie-end", NULL, "45 s", "tying or clipping one end of a wire",
    OF_FARM(end_s), SECONDS(WORK_END_S))
ROW("work.posts-an-armful", NULL, "20", "posts that you carry at once",
    OF_FARM(armful), FIGURED(FW_KIND_COUNT, WORK_ARMFUL))
ROW("pace", "--pace", "0.85 m",
    "your own pace: the card says where to stand in paces",
    OF_FARM(pace_m), FIGURED(FW_KIND_LENGTH, PACE_M))

ROW("weather", NULL, "{wet-more: 10 %, heat-from: 28 C}",
    "what today's weather asks for, when move is told of it", GROUP)
ROW("weather.wet-more", NULL, "10 %",
    "how much more ground they get while it rains",
    OF_FARM(weather.wet_more), FIGURED(FW_KIND_SHARE, WEATHER_WET_MORE))
ROW("weather.soft-more", NULL, "25 %",
    "the same on ground that a map shows as soft",
    OF_FARM(weather.soft_more), FIGURED(FW_KIND_SHARE, WEATHER_SOFT_MORE))
ROW("weather.wet-to", NULL, "firm",
    "the ground they are to be on in the rain",
    OF_FARM(weather.ground[FW_WEATHER_WET]), CHOICE(fw_plan__ground_words),
    OF_REGISTER(WEATHER_WET_TO))
ROW("weather.wet-say", NULL, "look at the ford",
    "your own words for such a day, on its card",
    OF_FARM(weather.say[FW_WEATHER_WET]), BY(text, "any text"),
    .most = FW_WEATHER_WORDS - 1, OTHERWISE("nothing"))
ROW("weather.cold-wool", NULL, "-2 C",
    "below which sheep in fleece need more to eat",
    OF_FARM(weather.wool_c), FIGURED(FW_KIND_TEMPERATURE, WEATHER_COLD_WOOL_C))
ROW("weather.cold-shorn", NULL, "10 C", "below which shorn ones do",
    OF_FARM(weather.shorn_c),
    FIGURED(FW_KIND_TEMPERATURE, WEATHER_COLD_SHORN_C))
ROW("weather.cold-hair", NULL, "0 C",
    "below which those do that have hair, or a coat that nobody told",
    OF_FARM(weather.hair_c), FIGURED(FW_KIND_TEMPERATURE, WEATHER_COLD_HAIR_C))
ROW("weather.cold-wet", NULL, "14 C",
    "below which wet ones do, but for those in fleece",
    OF_FARM(weather.wet_c), FIGURED(FW_KIND_TEMPERATURE, WEATHER_COLD_WET_C))
ROW("weather.cold-more", NULL, "34 g",
    "dry matter more for each of them and for each degree C below, a day",
    OF_FARM(weather.cold_more_kg), FIGURED(FW_KIND_MASS, WEATHER_COLD_MORE_KG))
ROW("weather.cold-to", NULL, "shelter",
    "the ground they are to be on in the cold",
    OF_FARM(weather.ground[FW_WEATHER_COLD]), CHOICE(fw_plan__ground_words),
    OF_REGISTER(WEATHER_COLD_TO))
ROW("weather.cold-say", NULL, "look at the ford",
    "your own words for such a day, on its card",
    OF_FARM(weather.say[FW_WEATHER_COLD]), BY(text, "any text"),
    .most = FW_WEATHER_WORDS - 1, OTHERWISE("nothing"))
ROW("weather.heat-from", NULL, "28 C",
    "how hot it is when they want shade",
    OF_FARM(weather.heat_from_c),
    FIGURED(FW_KIND_TEMPERATURE, WEATHER_HEAT_FROM_C))
ROW("weather.heat-looks", NULL, "2",
    "how often the water is looked at on a hot day",
    OF_FARM(weather.heat_looks), FIGURED(FW_KIND_COUNT, WEATHER_HEAT_LOOKS))
ROW("weather.heat-to", NULL, "shade",
    "the ground they are to be on in heat",
    OF_FARM(weather.ground[FW_WEATHER_HEAT]), CHOICE(fw_plan__ground_words),
    OF_REGISTER(WEATHER_HEAT_TO))
ROW("weather.heat-say", NULL, "look at the ford",
    "your own words for such a day, on its card",
    OF_FARM(weather.say[FW_WEATHER_HEAT]), BY(text, "any text"),
    .most = FW_WEATHER_WORDS - 1, OTHERWISE("nothing"))
ROW("weather.snow-from", NULL, "15 cm",
    "how deep snow lies when they want hay",
    OF_FARM(weather.snow_from_m),
    FIGURED(FW_KIND_LENGTH, WEATHER_SNOW_FROM_M))
ROW("weather.snow-to", NULL, "shelter",
    "the ground they are to be on in snow",
    OF_FARM(weather.ground[FW_WEATHER_SNOW]), CHOICE(fw_plan__ground_words),
    OF_REGISTER(WEATHER_SNOW_TO))
ROW("weather.snow-say", NULL, "look at the ford",
    "your own words for such a day, on its card",
    OF_FARM(weather.say[FW_WEATHER_SNOW]), BY(text, "any text"),
    .most = FW_WEATHER_WORDS - 1, OTHERWISE("nothing"))
ROW("weather.frozen-from", NULL, "-5 C",
    "how cold it is when posts go into the ground no more",
    OF_FARM(weather.frozen_from_c),
    FIGURED(FW_KIND_TEMPERATURE, WEATHER_FROZEN_C))
ROW("weather.lasts", NULL, "3 days",
    "how long such weather lasts, when nobody says it",
    OF_FARM(weather.lasts_days),
    FIGURED(FW_KIND_DURATION, WEATHER_LASTS_DAYS))

ROW("hauling", NULL, "{tank: 600 L, trough-moves: yes}",
    "water that is brought to the flock", GROUP)
ROW("hauling.tank", "--tank", "600 L", "what the tank holds",
    OF_FARM(tank_l), QUANTITY(FW_KIND_VOLUME, 10, 50000))
ROW("hauling.trough", "--trough", "400 L", "what one trough holds",
    OF_FARM(trough_l), QUANTITY(FW_KIND_VOLUME, 10, 50000))
ROW("hauling.road", "--road", "1500 m",
    "the road from where the tank is filled to the gate, one way",
    OF_FARM(road_m), QUANTITY(FW_KIND_LENGTH, 1, 100000),
    OTHERWISE("by the tracks of the maps, else it is filled at the gate"))
ROW("hauling.drive-a-minute", NULL, "250 m",
    "how far the tank is driven in a minute",
    OF_FARM(drive_m), FIGURED(FW_KIND_LENGTH, HAUL_DRIVE_M_MIN))
ROW("hauling.fill", "--fill", "40 L/min",
    "how fast the tank is filled, and emptied again",
    OF_FARM(fill_l_min), FIGURED(FW_KIND_FLOW, HAUL_FILL_L_MIN))
ROW("hauling.payload", "--payload", "750 kg",
    "what the vehicle may carry: beside the empty tank, or with it where "
    "tank-weight is told",
    OF_FARM(payload_kg), QUANTITY(FW_KIND_MASS, 10, 50000),
    OTHERWISE("all that the tank holds"))
ROW("hauling.tank-weight", "--tank-weight", "80 kg",
    "what the empty tank weighs with pump and hose",
    OF_FARM(tank_kg), QUANTITY(FW_KIND_MASS, 1, 20000),
    OTHERWISE("payload counts beside the tank"))
ROW("hauling.vehicle-width", "--vehicle-width", "1.6 m",
    "how wide the vehicle with its tank is, at its widest",
    OF_FARM(vehicle_width_m), QUANTITY(FW_KIND_LENGTH, 0.5, 5),
    OTHERWISE("gates are not tried"))
ROW("hauling.hose", "--hose", "40 m",
    "how far a hose reaches from the tank to the trough",
    OF_FARM(hose_m), QUANTITY(FW_KIND_LENGTH, 1, 500),
    OTHERWISE("the tank comes up to the trough"))
ROW("hauling.slope", "--haul-slope", "10 %",
    "the steepest ground that the loaded tank is driven over",
    OF_FARM(haul_slope), FIGURED(FW_KIND_SHARE, HAUL_SLOPE))
ROW("hauling.air", "--air", "warm",
    "the air on a day as expected: cool under 15 C, mild, warm over 20 C",
    OF_FARM(air), CHOICE(fw_plan__air_words), OTHERWISE("mild"))
ROW("hauling.grass-water", "--grass-water", "80 %",
    "how much of the fresh weight of the grass is water",
    OF_FARM(grass_water), FIGURED(FW_KIND_SHARE, GRASS_WATER),
    ALSO(", 50 % when dormant"))
ROW("hauling.trough-moves", "--trough-moves", "yes",
    "whether a trough goes with the flock",
    OF_FARM(trough_moves), ANSWER, OF_REGISTER(TROUGH_MOVES))
ROW("hauling.trough-days", "--trough-days", "2 days",
    "how many days a trough that moves may stand in one place: on ground that "
    "they keep, else under the line to the next paddock, whose wires are "
    "raised or sleeved there; 4 in growth and 2 when wet are usual",
    OF_FARM(trough_days), QUANTITY(FW_KIND_DURATION, 1, 14),
    OTHERWISE("it goes on with each stay; when dormant it stands as long as they "
              "keep that ground and it is not too far"))

ROW("energizer", NULL, "{rule: mile, joules: 2 J}", "what drives the fence",
    GROUP)
ROW("energizer.rule", "--energizer-rule", "mile",
    "the rule that the energizer must at least meet",
    OF_FARM(rule), BY(rule, "a rule of the joule table: mile, km or weedy"),
    OTHERWISE("none: the volts size it"))
ROW("energizer.joules", "--joules", "2 J",
    "the output joules of the one you have",
    OF_FARM(joules), QUANTITY(FW_KIND_ENERGY, 0.01, 100),
    OTHERWISE("the least common size with enough volts on every day"))
ROW("energizer.at", "--energizer", "corner:3", "where the energizer stands",
    OF_FARM(energizer), TEXT(PLACE),
    OTHERWISE("on the hot boundary, nearest to the gate"))
ROW("energizer.moves", "--energizer-moves", "no",
    "whether the energizer goes with the flock, on a battery, with its own rod",
    OF_FARM(wiring.moves), ANSWER, OTHERWISE("no"))
ROW("energizer.open", "--open", "9 kV",
    "the energizer's volts without a fence, from the data sheet",
    OF_FARM(wiring.open_v), QUANTITY(FW_KIND_VOLTAGE, 2100, 15000),
    OTHERWISE("guessed from its joules"))
ROW("energizer.loaded", "--loaded", "4.5 kV",
    "the energizer's volts at 500 ohm, from the data sheet",
    OF_FARM(wiring.loaded_v), QUANTITY(FW_KIND_VOLTAGE, 100, 15000))
ROW("energizer.internal", "--internal", "500 ohm",
    "what the energizer itself resists; in place of loaded",
    OF_FARM(wiring.internal), QUANTITY(FW_KIND_RESISTANCE, 1, 10000))
ROW("energizer.pulse", "--pulse", "1.5 s",
    "from one pulse of the energizer to the next",
    OF_FARM(wiring.interval_s), SECONDS(PULSE_INTERVAL_S))
ROW("energizer.charge", "--charge", "7 days",
    "days between two charges of the energizer's battery",
    OF_FARM(wiring.charge_days), FIGURED(FW_KIND_DURATION, CHARGE_DAYS))
ROW("energizer.sun", "--sun", "4 h", "hours of full sun a day on a solar panel",
    OF_FARM(wiring.sun_h), HOURS(SUN_H))

ROW("conductor", "--conductor", "poly-6x0.20", "the wire of the moved fence",
    OF_FARM(wiring.conductor),
    BY(conductor, "a word of the wire table, or ohm/m"), OF_REGISTER(CONDUCTOR))
ROW("perimeter-conductor", "--perimeter-conductor", "steel-2.5",
    "the live wire of the boundary",
    OF_FARM(wiring.perimeter_conductor),
    BY(conductor, "a word of the wire table, or ohm/m"),
    OF_REGISTER(PERIMETER_CONDUCTOR))
ROW("bonded", "--bonded", "live-end",
    "where the strands of a moved line are joined",
    OF_FARM(wiring.bonded), .least = 5, .most = 5000,
    BY(bonded, "live-end, both-ends, or such as every 200 m"),
    OF_REGISTER(BONDED))
ROW("far-end", "--far-end", "loose",
    "whether the far end of a moved line hangs on an insulated handle or is "
    "hooked on too", OF_FARM(wiring.far_end), CHOICE(far_end_words))
ROW("leakage", "--leakage", "light",
    "the grass on the bottom strand of the moved fence",
    OF_FARM(wiring.leakage),
    BY(leakage, "clean, normal, light, moderate or heavy, or ohm km"),
    OF_REGISTER(LEAKAGE))
ROW("perimeter-leakage", "--perimeter-leakage", "normal",
    "the grass on the bottom live wire of the boundary",
    OF_FARM(wiring.perimeter_leakage),
    BY(leakage, "clean, normal, light, moderate or heavy, or ohm km"),
    OTHERWISE("light while grass grows, else normal"))
ROW("joint", "--joint", "2 ohm",
    "what each hook resists where a line is hooked on",
    OF_FARM(wiring.joint), QUANTITY(FW_KIND_RESISTANCE, 0, 10000),
    OTHERWISE("0"))
ROW("lead", NULL, "{conductor: steel-2.5, length: 40 m}",
    "the insulated wire from the energizer to the fence", GROUP)
ROW("lead.conductor", "--lead-conductor", "steel-2.5", "the wire of the lead",
    OF_FARM(wiring.lead_conductor),
    BY(conductor, "a word of the wire table, or ohm/m"),
    OF_REGISTER(LEAD_CONDUCTOR))
ROW("lead.length", "--lead-length", "40 m", "how long the lead is",
    OF_FARM(wiring.lead_m), QUANTITY(FW_KIND_LENGTH, 0, 5000),
    OTHERWISE("the straight way"))
ROW("lead.switch", "--lead-switch", "1 ohm",
    "what the switches and joints in the lead resist",
    OF_FARM(wiring.in_lead), QUANTITY(FW_KIND_RESISTANCE, 0, 10000),
    OTHERWISE("0"))
ROW("earth", NULL, "{soil: loam, rods: 3}", "the earth of the energizer", GROUP)
ROW("earth.soil", "--earth-soil", "loam",
    "the soil that the earth rods stand in",
    OF_FARM(wiring.soil), BY(soil, "a word of the soil table, or ohm m"),
    OF_REGISTER(EARTH_SOIL),
    ALSO(", or what dry ground resists where the soil is told to be dry"))
ROW("earth.rods", "--earth-rods", "3", "earth rods that are driven",
    OF_FARM(wiring.rods), QUANTITY(FW_KIND_COUNT, 1, 100),
    OTHERWISE("as many as are asked for"))
ROW("earth.ohm", "--earth", "20 ohm",
    "what the earth rods resist together, measured",
    OF_FARM(wiring.earth), QUANTITY(FW_KIND_RESISTANCE, 0.01, 10000),
    OTHERWISE("reckoned from soil and rods"))
ROW("earth.return", "--earth-return", "yes",
    "whether a strand of each line is the return of the current, joined to the "
    "earth rods",
    OF_FARM(wiring.earth_return), ANSWER,
    OTHERWISE("yes where the ground is so dry, sandy or frozen that a sheep "
    "gets too little through it, and more of a strand"))
ROW("earth.test", "--earth-test", "300 V",
    "what the last rod may read in the test of the earth",
    OF_FARM(wiring.rod_v), FIGURED(FW_KIND_VOLTAGE, ROD_USUAL_V))

ROW("prices", NULL, "{currency: EUR, post: 2.10}",
    "what things cost, each in the farm's money", GROUP)
ROW("prices.currency", "--currency", "EUR", "the money that prices are in",
    OF_FARM(currency), .most = 7, BY(text, "up to 7 letters"))
ROW("prices.post", "--price-post", "2.10", "one step-in post",
    OF_FARM(post), MONEY)
ROW("prices.reel", "--price-reel", "38", "one geared reel",
    OF_FARM(reel), MONEY)
ROW("prices.wire", "--price-wire", "0.05", "one metre of polywire",
    OF_FARM(wire_m), MONEY)
ROW("prices.corner-post", "--price-corner-post", "24",
    "one corner post of a permanent fence", OF_FARM(corner_post), MONEY)
ROW("prices.brace-post", "--price-brace-post", "18",
    "the post of one brace of a permanent fence", OF_FARM(brace_post), MONEY)
ROW("prices.brace-rail", "--price-brace-rail", "9",
    "the rail of one brace of a permanent fence", OF_FARM(brace_rail), MONEY)
ROW("prices.strainer", "--price-strainer", "3.5",
    "one wire strainer of a permanent fence", OF_FARM(strainer), MONEY)
ROW("prices.line-post", "--price-line-post", "7",
    "one line post of a permanent fence", OF_FARM(line_post), MONEY)
ROW("prices.perimeter-wire", "--price-perimeter-wire", "0.12",
    "one metre of wire of a permanent fence", OF_FARM(perimeter_wire_m), MONEY)
ROW("prices.energizer", "--price-energizer", "240", "the energizer",
    OF_FARM(energizer_price), MONEY)
ROW("prices.joule", "--price-joule", "60",
    "what an energizer costs more for each joule of output",
    OF_FARM(joule_price), MONEY)
ROW("prices.lead", "--price-lead", "0.8", "one metre of insulated lead",
    OF_FARM(lead_price), MONEY)
ROW("prices.copper-wire", "--price-copper-wire", "0.11",
    "one metre of polywire with copper in it",
    OF_FARM(copper_wire_price), MONEY)
ROW("prices.pipe", "--price-pipe", "1.4", "one metre of water pipe",
    OF_FARM(pipe_price), MONEY)
ROW("prices.trough", "--price-trough", "180", "one trough",
    OF_FARM(trough_price), MONEY)
ROW("prices.tank", "--price-tank", "650", "a hauling tank twice as large",
    OF_FARM(tank_price), MONEY)
ROW("prices.earth-rod", "--price-earth-rod", "18", "one earth rod",
    OF_FARM(earth_rod), MONEY)
ROW("prices.insulator", "--price-insulator", "0.6", "one insulator",
    OF_FARM(insulator), MONEY)
ROW("prices.anchor", "--price-anchor", "6",
    "one driven anchor for a line's end", OF_FARM(anchor), MONEY)
ROW("prices.handle", "--price-handle", "3", "one insulated gate handle",
    OF_FARM(handle), MONEY)
ROW("prices.sleeve", "--price-sleeve", "2",
    "one insulating sleeve for a wire over a trough",
    OF_FARM(sleeve), MONEY)
ROW("prices.sign", "--price-sign", "4", "one warning sign",
    OF_FARM(sign), MONEY)
ROW("prices.gate", "--price-gate", "140", "one gate with hinges and latch",
    OF_FARM(gate_price), MONEY)
ROW("prices.staple", "--price-staple", "0.06", "one fencing staple",
    OF_FARM(staple), MONEY)
ROW("prices.clamp", "--price-clamp", "1.2", "one joint clamp",
    OF_FARM(clamp), MONEY)
ROW("prices.switch", "--price-switch", "9", "one cut-out switch",
    OF_FARM(cut_out), MONEY)
ROW("prices.interest", "--interest", "8 %",
    "interest a year, in what a fence costs a year",
    OF_FARM(interest), FIGURED(FW_KIND_SHARE, PRICES_INTEREST))

ROW("owns", NULL, "{line-post: 30, insulator: 60}",
    "what the farm has already of other things, for the list of what is "
    "missing", GROUP)
ROW("owns.corner-post", NULL, "4", "corner, gate and bend posts of a permanent fence that the farm has",
    OF_FARM(owns[FW_WARE_CORNER_POST]), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("owns.line-post", NULL, "30", "line posts of a permanent fence that the farm has",
    OF_FARM(owns[FW_WARE_LINE_POST]), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("owns.brace-post", NULL, "2", "posts of braces that the farm has",
    OF_FARM(owns[FW_WARE_BRACE_POST]), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("owns.brace-rail", NULL, "2", "rails of braces that the farm has",
    OF_FARM(owns[FW_WARE_BRACE_RAIL]), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("owns.strainer", NULL, "10", "wire strainers that the farm has",
    OF_FARM(owns[FW_WARE_STRAINER]), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("owns.perimeter-wire", NULL, "1200 m", "wire of a permanent fence that the farm has",
    OF_FARM(owns[FW_WARE_PERIMETER_WIRE]), QUANTITY(FW_KIND_LENGTH, 0, 1e6))
ROW("owns.gate", NULL, "1", "gates with hinges and latch that the farm has",
    OF_FARM(owns[FW_WARE_GATE]), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("owns.insulator", NULL, "60", "insulators that the farm has",
    OF_FARM(owns[FW_WARE_INSULATOR]), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("owns.staple", NULL, "150", "fencing staples that the farm has",
    OF_FARM(owns[FW_WARE_STAPLE]), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("owns.clamp", NULL, "10", "joint clamps that the farm has",
    OF_FARM(owns[FW_WARE_CLAMP]), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("owns.switch", NULL, "1", "cut-out switches that the farm has",
    OF_FARM(owns[FW_WARE_SWITCH]), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("owns.lead", NULL, "25 m", "insulated cable that the farm has",
    OF_FARM(owns[FW_WARE_LEAD]), QUANTITY(FW_KIND_LENGTH, 0, 1e6))
ROW("owns.anchor", NULL, "6", "driven anchors for ends of lines that the farm has",
    OF_FARM(owns[FW_WARE_ANCHOR]), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("owns.handle", NULL, "4", "insulated gate handles that the farm has",
    OF_FARM(owns[FW_WARE_HANDLE]), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("owns.sleeve", NULL, "4", "insulating sleeves for wires over a trough that the farm has",
    OF_FARM(owns[FW_WARE_SLEEVE]), QUANTITY(FW_KIND_COUNT, 0, 100000))
ROW("owns.sign", NULL, "3", "warning signs that the farm has",
    OF_FARM(owns[FW_WARE_SIGN]), QUANTITY(FW_KIND_COUNT, 0, 100000))

ROW("signs", NULL, "{path: 50 m, road: 90 m}",
    "how far apart warning signs hang on a live fence, as local law says",
    GROUP)
ROW("signs.path", "--path-signs", "50 m",
    "how far apart warning signs hang along public paths",
    OF_FARM(sign_path_m), QUANTITY(FW_KIND_LENGTH, 5, 300),
    OTHERWISE("as the rule path-signs has it, docs/guide/safety.md"))
ROW("signs.road", "--road-signs", "90 m",
    "how far apart warning signs hang along public roads",
    OF_FARM(sign_road_m), QUANTITY(FW_KIND_LENGTH, 5, 300),
    OTHERWISE("as the rule road-signs has it, docs/guide/safety.md"))

ROW("looked", "--looked", "road,telecom",
    "what a person has looked at around the fields, of which no map is given",
    .shape = FW_SHAPE_VALUES, OF_FARM(looked),
    BY(looked, "roles of map layers that have checks, and steep"),
    OTHERWISE("nothing: the plan says what was not looked at"))
ROW("looked-on", "--looked-on", "2027-05-10",
    "the day on which a person looked at it",
    OF_FARM(looked_day), DAY,
    OTHERWISE("the plan says that the day is not told"))

ROW("stockpile", NULL, "{line: virginia, frost: 2027-11-05}",
    "the winter's grass, for the command stockpile", GROUP)
ROW("stockpile.line", "--line", "virginia",
    "the place whose published line of mass by the last removal holds",
    OF_FARM(winter.line),
    BY(line, "north-carolina, virginia, ontario or ireland"),
    OTHERWISE("it is asked for"))
ROW("stockpile.base-nitrogen", "--base-nitrogen", "60 kg/ha",
    "the nitrogen that the line had, where you know it",
    OF_FARM(winter.base_nitrogen), QUANTITY(FW_KIND_MASS_PER_AREA, 0, 500),
    OTHERWISE("unknown: the sources do not tell"))
ROW("stockpile.latitude", "--latitude", "38 deg",
    "how far north the fields lie, beside how far north the line was measured",
    OF_FARM(winter.latitude_deg), QUANTITY(FW_KIND_ANGLE, -90, 90),
    OTHERWISE("that of the first field"))
ROW("stockpile.frost", "--frost", "2027-11-05",
    "the first hard frost, which ends growth",
    OF_FARM(winter.frost), DAY, OTHERWISE("by the line's place"))
ROW("stockpile.from", "--winter-from", "2027-12-01",
    "the day from which the winter's grass is grazed",
    OF_FARM(winter.from), DAY, OTHERWISE("the first hard frost"))
ROW("stockpile.days", "--winter-days", "90 days",
    "for how many days it is wanted",
    OF_FARM(winter.days), FIGURED(FW_KIND_DURATION, STOCK_WANTED_DAYS))
ROW("stockpile.break", "--break", "3 days",
    "days of feed in one break of it, or free where they have all of it",
    OF_FARM(winter.break_days),
    BY(break, "free, or half a day to 14 days"), OTHERWISE("3 days"))
ROW("stockpile.parts", "--part",
    "- {part: heavy, area: 1.2 ha, grazed: 2027-06-10}",
    "the parts that are kept for winter; as an option NAME: KEY=VALUE, "
    "KEY=VALUE", LIST, .owner = FW_OWNER_PART, OTHERWISE("none are kept"))
ROW("stockpile.parts[].part", NULL, "heavy", "what the part is called",
    OF_PART(name), .most = 63, BY(text, "any text"),
    OTHERWISE("the field's name, or its number"))
ROW("stockpile.parts[].field", NULL, "Long Bottom",
    "the field that it is, or lies in",
    OF_PART(field), TEXT("a field of the map"))
ROW("stockpile.parts[].zone", NULL, "north half",
    "the zone of a map that it is",
    OF_PART(zone), TEXT("the name of a zone"))
ROW("stockpile.parts[].share", NULL, "50 %", "how much of the field it is",
    OF_PART(share), QUANTITY(FW_KIND_SHARE, 0.01, 1), OTHERWISE("all of it"))
ROW("stockpile.parts[].area", NULL, "1.2 ha",
    "how large it is, where no field or zone tells",
    OF_PART(area_ha), QUANTITY(FW_KIND_AREA, 0.01, 1000))
ROW("stockpile.parts[].sward", NULL, "fescue-nitrogen", "what grows there",
    OF_PART(sward), BY(sward, "a word of the density table"),
    OTHERWISE("the sward of its field"))
ROW("stockpile.parts[].grazed", NULL, "2027-08-14",
    "the day on which they last left it",
    OF_PART(grazed), DAY, OTHERWISE("it was only topped"))
ROW("stockpile.parts[].left", NULL, "9 cm",
    "how high the grass stood when they left",
    OF_PART(left_m), QUANTITY(FW_KIND_LENGTH, 0.01, 2),
    OTHERWISE("the stop height"))
ROW("stockpile.parts[].topped", NULL, "2027-08-15",
    "the day on which it was topped",
    OF_PART(topped), DAY, OTHERWISE("never"))
ROW("stockpile.parts[].topped-to", NULL, "8 cm", "how high it was cut",
    OF_PART(topped_m), QUANTITY(FW_KIND_LENGTH, 0.01, 2),
    OTHERWISE("the stop height"))
ROW("stockpile.parts[].nitrogen", NULL, "40 kg/ha",
    "nitrogen more, or with a minus less, than the line had",
    OF_PART(nitrogen), BY(nitrogen, "none, or kilograms a hectare"),
    OTHERWISE("none"))

ROW("setback", "--setback", "3 m",
    "how far the flock stays from ponds and exclusions that tell nothing else",
    OF_FARM(setback_m), QUANTITY(FW_KIND_LENGTH, 0, 150), OTHERWISE("0 m"))
ROW("maps", "--map", "- {role: power-line, source: power.geojson}",
    "maps of what stands around, by role; as an option ROLE[:LAYER]=SOURCE",
    LIST, .owner = FW_OWNER_MAP,
    OTHERWISE("distances to such things are not checked"))
ROW("maps[].role", NULL, "power-line", "what its features are",
    OF_MAP(role),
    BY(role, "power-line, road, pond, zone, exclusion and others"))
ROW("maps[].source", NULL, "power.geojson", "the map, beside the farm file",
    OF_MAP(source), TEXT("a map file, or a GDAL source"))
ROW("maps[].layer", NULL, "lines", "which layer",
    OF_MAP(layer), TEXT("a layer of the map"), OTHERWISE("the only one"))
ROW("maps[].where", NULL, "power = 'line'", "which of its features",
    OF_MAP(where), TEXT("an OGR SQL condition"), OTHERWISE("all of them"))
ROW("maps[].crs", NULL, "EPSG:2157",
    "its coordinate system, when the file names none",
    OF_MAP(crs), TEXT("a coordinate system"), OTHERWISE("the file's own"))
ROW("maps[].kv", NULL, "20 kV",
    "the voltage of its power lines, where the map does not say",
    OF_MAP(kv), .set = fw_farm__set_quantity, .kind = FW_KIND_VOLTAGE,
    .least = 0.1, .most = 1200, .scale = 1e-3)
ROW("maps[].setback", NULL, "3 m",
    "how far the flock stays from its ponds or exclusions, where a column "
    "setback does not say",
    OF_MAP(setback_m), QUANTITY(FW_KIND_LENGTH, 0, 150),
    OTHERWISE("the setback for all"))
ROW("maps[].width", NULL, "2 m",
    "how wide its lines are, where a column width does not say",
    OF_MAP(width_m), QUANTITY(FW_KIND_LENGTH, 0, 150))
ROW("maps[].minutes", NULL, "4 min",
    "hard going: time that a moved line costs to cross it, where a column "
    "minutes does not say",
    OF_MAP(minutes), QUANTITY(FW_KIND_DURATION, 0, 600), .scale = 1440)
ROW("maps[].posts", NULL, "2",
    "hard going: posts that a line needs more to cross it, where a column "
    "posts does not say", OF_MAP(posts), QUANTITY(FW_KIND_COUNT, 0, 1000))
ROW("maps[].sheep-cross", NULL, "no",
    "hard going: whether sheep cross it, where a column sheep_cross does not "
    "say", OF_MAP(sheep_cross), ANSWER)
ROW("maps[].forage", NULL, "{mass: 800 kg/ha}",
    "the grass of its zones, where their columns do not say",
    LIKE("forage"), .owner = FW_OWNER_MAP, OTHERWISE("the field's"))
