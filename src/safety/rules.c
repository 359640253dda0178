/* The checks that a map can answer, as data, and those that it cannot. A level
 * says what happens when a row is broken: "danger" may hurt someone, "warning"
 * wants a look, "note" is good to know. */
#include "base/fail.h"
#include "base/text.h"
#include "figures/mark.h"
#include "figures/safety.h"
#include "safety/safety.h"

#include <limits.h>
#include <math.h>
#include <string.h>

#define ANNEX_BB "IEC 60335-2-76 Annex BB.1 as reprinted in makers' handbooks"
#define SA_OTR                                                                 \
    "Office of the Technical Regulator, South Australia, Electric Fence "      \
    "Safety, May 2004"
#define OUR_NUMBER "; distance common practice, no source"
#define OUR_ANGLE "; angle common practice, no source"
#define OUR_LENGTH "; lengths common practice, no source"
#define NO_SOURCE "common practice, no source"
#define OHIO_WORMS                                                             \
    "Ohio State University in Farm and Dairy, summer grazing and parasites"
#define INDUCED                                                                \
    "Annex BB.1; a published model of a 345 kV line and a fence, Modelica "    \
    "Standard Library" OUR_LENGTH
#define ANY_KV ((double)INFINITY)
#define WIRES (FW_DRAWN_LINES | FW_DRAWN_AREAS)

static const struct fw_safety_rule rules[] = {
    /* Rows without an upper voltage are those for one that nobody knows. */
    {.id = "power-line-low",
     .check = FW_CHECK_NEAR,
     .role = FW_ROLE_POWER_LINE,
     .drawn = WIRES,
     .most_kv = 1,
     .wanted_m = 3,
     .level = FW_LEVEL_DANGER,
     .text =
         "a power line up to 1 kV: keep wire and leads {>3 m} away, or cross "
         "under it near a right angle as the utility allows",
     .source = ANNEX_BB},
    {.id = "power-line-middle",
     .check = FW_CHECK_NEAR,
     .role = FW_ROLE_POWER_LINE,
     .drawn = WIRES,
     .least_kv = 1,
     .most_kv = 33,
     .wanted_m = 4,
     .level = FW_LEVEL_DANGER,
     .text =
         "a power line up to 33 kV: keep wire and leads {>4 m} away, or cross "
         "under it near a right angle as the utility allows",
     .source = ANNEX_BB},
    {.id = "power-line-high",
     .check = FW_CHECK_NEAR,
     .role = FW_ROLE_POWER_LINE,
     .drawn = WIRES,
     .least_kv = 33,
     .most_kv = ANY_KV,
     .wanted_m = 8,
     .level = FW_LEVEL_DANGER,
     .text = "a power line over 33 kV or of unknown voltage: keep wire and "
             "leads {>8 m} away, or cross under it near a right angle as the "
             "utility allows",
     .source = ANNEX_BB},
    {.id = "power-line-pole",
     .check = FW_CHECK_NEAR,
     .role = FW_ROLE_POWER_LINE,
     .drawn = FW_DRAWN_POINTS,
     .most_kv = ANY_KV,
     .wanted_m = 2,
     .level = FW_LEVEL_WARNING,
     .text = "a pole, tower or stay of a power line: hang nothing on it and "
             "keep {>2 m} off",
     .source = "a dealer's advice, no year" OUR_NUMBER},
    {.id = "power-line-height-low",
     .check = FW_CHECK_HEIGHT,
     .role = FW_ROLE_POWER_LINE,
     .drawn = WIRES,
     .most_kv = 1,
     .wanted_m = 2,
     .level = FW_LEVEL_NOTE,
     .text = "within {>2 m} beside a power line up to 1 kV no wire or lead "
             "stands over {<3 m} high (older codes: {<2 m})",
     .source = ANNEX_BB "; 2 m high: EFA code of practice"},
    {.id = "power-line-height-high",
     .check = FW_CHECK_HEIGHT,
     .role = FW_ROLE_POWER_LINE,
     .drawn = WIRES,
     .least_kv = 1,
     .most_kv = ANY_KV,
     .wanted_m = 15,
     .level = FW_LEVEL_NOTE,
     .text =
         "within {>15 m} beside a power line over 1 kV no wire or lead "
         "stands over {<3 m} high (older codes: {<2 m}); ask the utility first",
     .source = ANNEX_BB "; 2 m high: EFA code of practice"},
    {.id = "power-line-cross",
     .check = FW_CHECK_CROSS,
     .role = FW_ROLE_POWER_LINE,
     .drawn = WIRES,
     .most_kv = ANY_KV,
     .most_deg = 90,
     .level = FW_LEVEL_NOTE,
     .text = "the fence passes a power line: set it elsewhere if you can; else "
             "under it, near a right angle, no wire over {<3 m} high; ask the "
             "utility, which wants a gate of {>5 m}",
     .source = ANNEX_BB "; gate: utilities' guides"},
    {.id = "power-line-angle",
     .check = FW_CHECK_CROSS,
     .role = FW_ROLE_POWER_LINE,
     .drawn = WIRES,
     .most_kv = ANY_KV,
     .most_deg = 60,
     .level = FW_LEVEL_WARNING,
     .text = "the fence passes a power line aslant, under 60 degrees: set it "
             "elsewhere if you can, else as near to a right angle as can be; "
             "ask the utility",
     .source = ANNEX_BB OUR_ANGLE},
    {.id = "power-line-slant",
     .check = FW_CHECK_CROSS,
     .role = FW_ROLE_POWER_LINE,
     .drawn = WIRES,
     .most_kv = ANY_KV,
     .most_deg = 45,
     .level = FW_LEVEL_DANGER,
     .text = "the fence passes a power line at under 45 degrees, nearly along "
             "it: set it elsewhere, or turn it to cross near a right angle; "
             "ask the utility",
     .source = ANNEX_BB OUR_ANGLE},
    {.id = "power-line-beside-low",
     .check = FW_CHECK_PARALLEL,
     .role = FW_ROLE_POWER_LINE,
     .drawn = WIRES,
     .most_kv = 1,
     .wanted_m = 5,
     .most_deg = 30,
     .least_m = 100,
     .level = FW_LEVEL_WARNING,
     .text = "the fence runs beside a power line up to 1 kV: avoid it, or "
             "disconnect and earth the fence before you work on it",
     .source = ANNEX_BB OUR_LENGTH},
    {.id = "power-line-beside-middle",
     .check = FW_CHECK_PARALLEL,
     .role = FW_ROLE_POWER_LINE,
     .drawn = WIRES,
     .least_kv = 1,
     .most_kv = 33,
     .wanted_m = 15,
     .most_deg = 30,
     .least_m = 100,
     .level = FW_LEVEL_WARNING,
     .text = "the fence runs beside a power line: avoid it, or disconnect and "
             "earth the fence before you work on it",
     .source = ANNEX_BB OUR_LENGTH},
    {.id = "power-line-beside-high",
     .check = FW_CHECK_PARALLEL,
     .role = FW_ROLE_POWER_LINE,
     .drawn = WIRES,
     .least_kv = 33,
     .most_kv = ANY_KV,
     .wanted_m = 50,
     .most_deg = 30,
     .least_m = 100,
     .level = FW_LEVEL_WARNING,
     .text = "the fence runs beside a high power line: avoid it, or disconnect "
             "and earth the fence before you work on it",
     .source = INDUCED},
    {.id = "power-line-far-middle",
     .check = FW_CHECK_PARALLEL,
     .role = FW_ROLE_POWER_LINE,
     .drawn = WIRES,
     .least_kv = 1,
     .most_kv = 33,
     .wanted_m = 15,
     .most_deg = 30,
     .least_m = 1000,
     .level = FW_LEVEL_DANGER,
     .text = "the fence runs far beside a power line: set it elsewhere, or ask "
             "the utility how to earth it",
     .source = ANNEX_BB OUR_LENGTH},
    {.id = "power-line-far-high",
     .check = FW_CHECK_PARALLEL,
     .role = FW_ROLE_POWER_LINE,
     .drawn = WIRES,
     .least_kv = 33,
     .most_kv = ANY_KV,
     .wanted_m = 50,
     .most_deg = 30,
     .least_m = 1000,
     .level = FW_LEVEL_DANGER,
     .text = "the fence runs far beside a high power line: set it elsewhere, "
             "or ask the utility how to earth it",
     .source = INDUCED},
    {.id = "power-line-earth",
     .check = FW_CHECK_EARTH,
     .role = FW_ROLE_POWER_LINE,
     .most_kv = ANY_KV,
     .wanted_m = 10,
     .level = FW_LEVEL_WARNING,
     .text = "a power line is near the energizer: its poles may carry an "
             "earth; set the fence's earth rods {>10 m} or more from it",
     .source = ANNEX_BB},

    {.id = "telecom",
     .check = FW_CHECK_NEAR,
     .role = FW_ROLE_TELECOM,
     .wanted_m = 2,
     .level = FW_LEVEL_WARNING,
     .text = "a telephone or data line: keep wire and leads {>2 m} away, and "
             "nothing on its poles",
     .source = "a British energizer handbook, manuals.online"},
    {.id = "telecom-earth",
     .check = FW_CHECK_EARTH,
     .role = FW_ROLE_TELECOM,
     .wanted_m = 10,
     .level = FW_LEVEL_DANGER,
     .text = "a telephone or data line is near the energizer: set the fence's "
             "earth rods {>10 m} or more from any earth of it",
     .source = ANNEX_BB},

    {.id = "road-cross",
     .check = FW_CHECK_CROSS,
     .role = FW_ROLE_ROAD,
     .most_deg = 90,
     .level = FW_LEVEL_DANGER,
     .text = "the fence meets a road: no live wire over it; a lead goes under "
             "it in conduit once the road authority has agreed",
     .source = "makers' handbooks; no height over roads was found"},
    {.id = "road-on",
     .check = FW_CHECK_NEAR,
     .role = FW_ROLE_ROAD,
     .wanted_m = 1,
     .level = FW_LEVEL_DANGER,
     .text = "the fence lies on a road as the map has it: look where the "
             "road's edge is and keep its whole width free",
     .source = NO_SOURCE},
    {.id = "road-near",
     .check = FW_CHECK_ALONG,
     .role = FW_ROLE_ROAD,
     .wanted_m = 5,
     .sign_interval_m = 90,
     .level = FW_LEVEL_WARNING,
     .text = "a public road runs alongside: hang warning signs at both ends "
             "and often between, or as local law says",
     .source = ANNEX_BB "; 90 m: EFA code of practice" OUR_NUMBER},
    {.id = "road-held",
     .check = FW_CHECK_HELD,
     .role = FW_ROLE_ROAD,
     .wanted_m = 20,
     .level = FW_LEVEL_DANGER,
     .text = "a road",
     .source = NO_SOURCE},
    {.id = "path-cross",
     .check = FW_CHECK_CROSS,
     .role = FW_ROLE_PATH,
     .most_deg = 90,
     .level = FW_LEVEL_DANGER,
     .text = "the fence meets a public path: make a gate or stile that is not "
             "live, signs on both sides, {>1 m} of tube over the wire",
     .source = ANNEX_BB "; Cornwall Council"},
    {.id = "path-width",
     .check = FW_CHECK_NEAR,
     .role = FW_ROLE_PATH,
     .wanted_m = 2,
     .level = FW_LEVEL_WARNING,
     .text = "the fence narrows a path: keep its whole width free for two "
             "people to pass, and the wire {>2 m} off its edge",
     .source = "carmarthenshire.gov.wales; ramblers.zendesk.com" OUR_NUMBER},
    {.id = "path-near",
     .check = FW_CHECK_ALONG,
     .role = FW_ROLE_PATH,
     .wanted_m = 5,
     .sign_interval_m = 50,
     .level = FW_LEVEL_WARNING,
     .text = "a public path runs alongside: hang warning signs at both ends "
             "and often between, or as local law says",
     .source = ANNEX_BB "; 50 m: Cornwall Council" OUR_NUMBER},
    {.id = "track-cross",
     .check = FW_CHECK_CROSS,
     .role = FW_ROLE_TRACK,
     .most_deg = 90,
     .level = FW_LEVEL_NOTE,
     .text = "the fence meets a farm track: hang an insulated gate handle and "
             "a sign, or bury the lead under it",
     .source = NO_SOURCE},
    {.id = "railway-cross",
     .check = FW_CHECK_CROSS,
     .role = FW_ROLE_RAILWAY,
     .most_deg = 90,
     .level = FW_LEVEL_DANGER,
     .text = "the fence meets a railway: no fence and no lead there before "
             "the railway has agreed",
     .source = NO_SOURCE},
    {.id = "railway-held",
     .check = FW_CHECK_HELD,
     .role = FW_ROLE_RAILWAY,
     .wanted_m = 20,
     .level = FW_LEVEL_DANGER,
     .text = "a railway",
     .source = NO_SOURCE},
    {.id = "other-stock-held",
     .check = FW_CHECK_HELD,
     .role = FW_ROLE_OTHER_STOCK,
     .wanted_m = 20,
     .level = FW_LEVEL_DANGER,
     .text = "other people's stock",
     .source = NO_SOURCE},

    {.id = "exclusion-held",
     .check = FW_CHECK_BORDER,
     .role = FW_ROLE_EXCLUSION,
     .level = FW_LEVEL_DANGER,
     .text = "ground not grazed",
     .source = NO_SOURCE},
    {.id = "no-path",
     .check = FW_CHECK_CIRCUIT,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_DANGER,
     .text = "no path to the energizer: end A stands on nothing live; lead a "
             "wire to it, or it holds no sheep",
     .source = NO_SOURCE},

    {.id = "building-earth",
     .check = FW_CHECK_EARTH,
     .role = FW_ROLE_BUILDING,
     .wanted_m = 10,
     .level = FW_LEVEL_DANGER,
     .text = "a building is near the energizer: set the fence's earth rods "
             "{>10 m} or more from any earth of mains or telephone",
     .source = ANNEX_BB "; older Australasian text: 40 m"},
    {.id = "building-gap",
     .check = FW_CHECK_NEAR,
     .role = FW_ROLE_BUILDING,
     .wanted_m = 2,
     .level = FW_LEVEL_WARNING,
     .text = "hot wire close to a building: leave no narrow gap where someone "
             "can be held against it",
     .source = SA_OTR OUR_NUMBER},
    {.id = "building-near",
     .check = FW_CHECK_NEAR,
     .role = FW_ROLE_BUILDING,
     .wanted_m = 20,
     .level = FW_LEVEL_NOTE,
     .text =
         "a building within {>20 m}: tell those who live or play there, and "
         "hang a sign",
     .source = "a British seller's page" OUR_NUMBER},

    {.id = "pond",
     .check = FW_CHECK_NEAR,
     .role = FW_ROLE_POND,
     .wanted_m = 3,
     .level = FW_LEVEL_WARNING,
     .text =
         "water's edge: take more care there, keep live wire {>3 m} back and "
         "out of the water, and away from bathing places",
     .source = SA_OTR OUR_NUMBER},
    {.id = "watercourse",
     .check = FW_CHECK_NEAR,
     .role = FW_ROLE_WATERCOURSE,
     .wanted_m = 3,
     .level = FW_LEVEL_WARNING,
     .text = "a stream or ditch: take more care on its bank, keep live wire "
             "{>3 m} back and out of the water",
     .source = SA_OTR OUR_NUMBER},
    {.id = "watercourse-cross",
     .check = FW_CHECK_CROSS,
     .role = FW_ROLE_WATERCOURSE,
     .most_deg = 90,
     .level = FW_LEVEL_NOTE,
     .text = "the fence crosses a stream or ditch: hang a flood gate there on "
             "a limited lead of its own, low wires clear of the water",
     .source = "a handbook on river crossings, 2020"},
    {.id = "other-electric",
     .check = FW_CHECK_NEAR,
     .role = FW_ROLE_OTHER_ELECTRIC,
     .wanted_m = 2.5,
     .level = FW_LEVEL_DANGER,
     .text = "another electric fence: with an energizer of its own its wires "
             "stay {>2.5 m} away; never join the two",
     .source = ANNEX_BB},
    {.id = "keep-clear",
     .check = FW_CHECK_NEAR,
     .role = FW_ROLE_KEEP_CLEAR,
     .wanted_m = 20,
     .level = FW_LEVEL_WARNING,
     .text = "a place to be kept clear, such as one where people play, camp or "
             "bathe, is nearer than {>20 m}: no live wire there",
     .source = "a British seller's page" OUR_NUMBER},
    {.id = "water-gap",
     .check = FW_CHECK_NEAR,
     .role = FW_ROLE_WATER,
     .wanted_m = 1,
     .level = FW_LEVEL_NOTE,
     .text =
         "hot wire within {>1 m} of a trough: set it over the trough's middle "
         "or farther off, so that no sheep is held between",
     .source = SA_OTR OUR_NUMBER},

    {.id = "steep",
     .check = FW_CHECK_GROUND,
     .role = FW_ROLE_COUNT,
     .wanted_m = 3,
     .level = FW_LEVEL_NOTE,
     .text = "cliffs and slopes over 30 %: no model of the ground was given",
     .source = SA_OTR OUR_NUMBER},
    {.id = "barbed",
     .check = FW_CHECK_PRINTED,
     .role = FW_ROLE_EXISTING_FENCE,
     .wanted_m = 0.15,
     .level = FW_LEVEL_WARNING,
     .text = "{>15 cm} between a hot wire and barbed or razor wire: no map is "
             "drawn so finely",
     .source = ANNEX_BB "; AS/NZS 3014:2003"},
    {.id = "two-energizers",
     .check = FW_CHECK_PRINTED,
     .role = FW_ROLE_COUNT,
     .wanted_m = 2.5,
     .level = FW_LEVEL_DANGER,
     .text = "two fences of one's own with an energizer each: a plan has one "
             "energizer",
     .source = ANNEX_BB},
    {.id = "energizer-kind",
     .check = FW_CHECK_PRINTED,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_DANGER,
     .text = "the standard that the energizer is built to: its plate says it",
     .source = ANNEX_BB},
    {.id = "leads",
     .check = FW_CHECK_PRINTED,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_WARNING,
     .text = "leads in buildings and in the ground: no map has their cable or "
             "how deep it lies",
     .source = ANNEX_BB},
    {.id = "training",
     .check = FW_CHECK_PRINTED,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_WARNING,
     .text = "how long the sheep were trained: the farm file says only whether",
     .source = "NRCS Louisiana, LA-382-1"},
    {.id = "weather",
     .check = FW_CHECK_PRINTED,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_WARNING,
     .text = "storm, heat, cold rain: no plan knows the weather",
     .source = NO_SOURCE},

    /* The plan against its own page of cautions, no map needed. */
    {.id = "worms-left",
     .check = FW_CHECK_PLAN,
     .role = FW_ROLE_COUNT,
     .wanted_m = 0.08,
     .level = FW_LEVEL_WARNING,
     .text =
         "worm larvae sit under {>8 cm}; leave more, or look at eyelids and "
         "dung more often",
     .source = OHIO_WORMS},
    {.id = "worms-days",
     .check = FW_CHECK_PLAN,
     .role = FW_ROLE_COUNT,
     .most_days = 4,
     .level = FW_LEVEL_WARNING,
     .text = "worm larvae can be ready after 4 days; move on before, or look "
             "at eyelids and dung more often",
     .source = OHIO_WORMS},
    {.id = "lambs-wire",
     .check = FW_CHECK_PLAN,
     .role = FW_ROLE_COUNT,
     .wanted_m = 0.25,
     .level = FW_LEVEL_WARNING,
     .text = "young lambs slip under it; set it at {20 to 25 cm}, "
             "with a third strand above",
     .source = "Press, 9 June 1956; schwarzwaelder-bote.de; rest " NO_SOURCE},
    {.id = "no-water",
     .check = FW_CHECK_PLAN,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_DANGER,
     .text = "let a trough move with the flock (trough-moves: yes)",
     .source = NO_SOURCE},
    {.id = "water-first",
     .check = FW_CHECK_PLAN,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_DANGER,
     .text = "the sheep go in before the water; carry it first",
     .source = NO_SOURCE},
    {.id = "haul-fence",
     .check = FW_CHECK_HAUL,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_NOTE,
     .text =
         "each is opened dead and closed behind the tank, as the steps say, "
         "or a hose or buckets carry the rest",
     .source = NO_SOURCE},
    {.id = "haul-hose",
     .check = FW_CHECK_HAUL,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_WARNING,
     .text = "a longer hose, or fences opened dead and closed behind the tank, "
             "as the steps say",
     .source = NO_SOURCE},
    {.id = "haul-gate",
     .check = FW_CHECK_HAUL,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_WARNING,
     .text = "take a narrower vehicle or another gate, or fill from outside "
             "with a hose",
     .source = NO_SOURCE},
    {.id = "haul-soft",
     .check = FW_CHECK_HAUL,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_WARNING,
     .text = "go round it, bring less at once, or stay on firm ground with a "
             "hose; after rain leave the tank outside",
     .source = NO_SOURCE},
    {.id = "haul-slope",
     .check = FW_CHECK_HAUL,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_WARNING,
     .text = "a tank half full surges and turns a vehicle over: find a gentler "
             "way, or stay below with a hose or a pipe; the vehicle's handbook "
             "comes first",
     .source = "Health and Safety Executive (Great Britain), workplace "
               "transport, traffic routes: liquids surge, avoid over 1 in 10"},
    {.id = "trough-shade",
     .check = FW_CHECK_HAUL,
     .role = FW_ROLE_COUNT,
     .wanted_m = 10,
     .level = FW_LEVEL_WARNING,
     .text = "who lies there fouls the water and treads the ground to mud: "
             "water, mineral and shade well apart",
     .source = "Kansas State University, waterers and their sites; the "
               "distance " NO_SOURCE},
    {.id = "haul-load",
     .check = FW_CHECK_HAUL,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_WARNING,
     .text = "better a smaller tank, or baffles: a part load surges",
     .source = NO_SOURCE},
    {.id = "bloat",
     .check = FW_CHECK_PLAN,
     .role = FW_ROLE_COUNT,
     .most_share = 0.5,
     .level = FW_LEVEL_WARNING,
     .text = "sheep bloat on it; turn them in full and on dry leaf, and watch "
             "the first hours",
     .source = "Montana State University, frosted alfalfa"},
    {.id = "red-clover",
     .check = FW_CHECK_PLAN,
     .role = FW_ROLE_COUNT,
     .most_days = 42,
     .level = FW_LEVEL_WARNING,
     .text = "on red clover they may not conceive; graze other ground then",
     .source = "Farm Advisory Service, Scotland, Beware red clover, September "
               "2016"},
    {.id = "path-signs",
     .check = FW_CHECK_PLAN,
     .role = FW_ROLE_COUNT,
     .sign_interval_m = 50,
     .level = FW_LEVEL_WARNING,
     .text = "signs along paths are to hang farther apart than is in use; see "
             "that your law allows it",
     .source = "Cornwall Council"},
    {.id = "road-signs",
     .check = FW_CHECK_PLAN,
     .role = FW_ROLE_COUNT,
     .sign_interval_m = 90,
     .level = FW_LEVEL_WARNING,
     .text = "signs along roads are to hang farther apart than is in use; see "
             "that your law allows it",
     .source = "EFA code of practice"},

    {.id = "unchecked",
     .check = FW_CHECK_PRINTED,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_NOTE,
     .text = "not looked at, for want of a map",
     .source = NO_SOURCE},
    {.id = "looked",
     .check = FW_CHECK_PRINTED,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_NOTE,
     .text = "looked at by a person",
     .source = "the farm's own word"},

    {.id = "fire-risk",
     .check = FW_CHECK_PRINTED,
     .role = FW_ROLE_COUNT,
     .level = FW_LEVEL_WARNING,
     .text = "barns, straw and dry stubble: no map says what burns today",
     .source = "a German maker's handbook, no year; EFA code of practice"},
};

#define LINES FW_DRAWN_LINES
#define AREAS FW_DRAWN_AREAS
#define POINTS FW_DRAWN_POINTS

static const struct {
    const char *word;
    unsigned drawn;
} roles[FW_ROLE_COUNT] = {
    [FW_ROLE_POWER_LINE] = {"power-line", LINES},
    [FW_ROLE_TELECOM] = {"telecom", LINES | POINTS},
    [FW_ROLE_ROAD] = {"road", LINES | AREAS},
    [FW_ROLE_PATH] = {"path", LINES | AREAS},
    [FW_ROLE_BUILDING] = {"building", AREAS},
    [FW_ROLE_POND] = {"pond", AREAS},
    [FW_ROLE_WATERCOURSE] = {"watercourse", LINES | AREAS},
    [FW_ROLE_OTHER_ELECTRIC] = {"other-electric", LINES | AREAS},
    [FW_ROLE_KEEP_CLEAR] = {"keep-clear", POINTS | LINES | AREAS},
    [FW_ROLE_LANE] = {"lane", LINES | AREAS},
    [FW_ROLE_TRACK] = {"track", LINES | AREAS},
    [FW_ROLE_EXISTING_FENCE] = {"existing-fence", LINES},
    [FW_ROLE_WATER] = {"water", POINTS | AREAS},
    [FW_ROLE_SOURCE] = {"source", POINTS | AREAS},
    [FW_ROLE_GATE] = {"gate", POINTS | LINES},
    [FW_ROLE_ENERGIZER] = {"energizer", POINTS},
    [FW_ROLE_RAILWAY] = {"railway", LINES | AREAS},
    [FW_ROLE_OTHER_STOCK] = {"other-stock", AREAS},
    [FW_ROLE_ZONE] = {"zone", AREAS},
    [FW_ROLE_EXCLUSION] = {"exclusion", POINTS | LINES | AREAS},
    [FW_ROLE_SHADE] = {"shade", POINTS | LINES | AREAS},
    [FW_ROLE_SHELTER] = {"shelter", LINES | AREAS},
    [FW_ROLE_SOFT] = {"soft", AREAS},
    [FW_ROLE_HARD_GOING] = {"hard-going", LINES | AREAS},
    [FW_ROLE_FRONT] = {"front", LINES},
};

const struct fw_safety_rule *fw_safety_rules(size_t *count)
{
    *count = sizeof rules / sizeof rules[0];
    return rules;
}

bool fw_safety_covers(const struct fw_safety_rule *rule, enum fw_role role,
                      double kv, enum fw_drawn drawn)
{
    if (rule->role != role || role == FW_ROLE_COUNT)
        return false;
    if (rule->drawn && !(rule->drawn & (unsigned)drawn))
        return false;
    if (role != FW_ROLE_POWER_LINE)
        return true;
    /* 0 stands in many a map where nobody knew. */
    if (!(kv > 0))
        return isinf(rule->most_kv);
    return kv > rule->least_kv && kv <= rule->most_kv;
}

const struct fw_safety_rule *fw_safety_rule_find(const char *id)
{
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++)
        if (strcmp(rules[i].id, id) == 0)
            return &rules[i];
    return NULL;
}

/* What is not grazed is the shepherd's own word, and no map of it is missing.
 */
bool fw_safety_is_checked(enum fw_role role)
{
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++)
        if (rules[i].role == role && role != FW_ROLE_COUNT &&
            rules[i].check != FW_CHECK_PRINTED &&
            rules[i].check != FW_CHECK_BORDER)
            return true;
    return false;
}

double fw_safety_reach_m(void)
{
    double most_m = 0;
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++)
        most_m = fmax(most_m, rules[i].wanted_m);
    return most_m;
}

int fw_safety_sign_count(double along_m, double interval_m)
{
    /* 500.0000001 m at 50 m are eleven signs, not twelve. */
    const double rounding = FW_TOLERANCE(1e-6);
    if (!(along_m > 0) || !(interval_m > 0))
        return 0;
    const double signs = ceil(along_m / interval_m - rounding) + 1;
    return signs < INT_MAX ? (int)signs : INT_MAX;
}

double fw_safety_induced_ma(double kv, double along_m)
{
    const double same_kv = 0.5; /* as it is said */
    return along_m > 0 && fabs(kv - FW_INDUCED_KV) <= same_kv
               ? FW_INDUCED_MA_KM * along_m / 1000
               : 0;
}

const char *fw_safety_role_word(enum fw_role role)
{
    return (unsigned)role < FW_ROLE_COUNT ? roles[role].word : NULL;
}

unsigned fw_safety_role_drawn(enum fw_role role)
{
    return (unsigned)role < FW_ROLE_COUNT ? roles[role].drawn : 0;
}

enum fw_status fw_safety_role_find(const char *word, enum fw_role *out,
                                   struct fw_error *err)
{
    const char *words[FW_ROLE_COUNT];
    for (int i = 0; i < FW_ROLE_COUNT; i++) {
        if (strcmp(word, roles[i].word) == 0) {
            *out = (enum fw_role)i;
            return FW_OK;
        }
        words[i] = roles[i].word;
    }
    const char *near = fw_text_nearest(word, words, FW_ROLE_COUNT);
    return fw_fail(err, FW_EINPUT,
                   "\"%s\" is not a role of a map layer; try %s", word,
                   near ? near : "power-line, road, path, building or pond");
}
