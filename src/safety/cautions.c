/* The page of cautions, as data: people first, then the sheep, each half in
 * the order in which it is wanted, and first of all what kills. A row is one or
 * two short sentences of our own, and the same in a few words; its source is
 * where the fact is published. A row with a figure names the rules that try it
 * on a plan. Columns: id, people, when, concerns, seasons, brief, text, source,
 * tried. */
#include "safety/safety.h"

#include <string.h>

#define ANNEX_BB "IEC 60335-2-76 Annex BB.1 as reprinted in makers' handbooks"
#define SA_OTR                                                                 \
    "Office of the Technical Regulator, South Australia, Electric Fence "      \
    "Safety, May 2004"
#define EFA "EFA code of practice, efa.fences.org"
#define PRACTICE "common practice, no source"

#define ALWAYS FW_CONCERN_ALWAYS, 0

static const struct fw_caution cautions[] = {
    {"first", true, FW_WHEN_FIRST, ALWAYS,
     "local codes, the maker's instructions, the utility and a licensed "
     "electrician come first",
     "Local codes, the maker's instructions, the utility and a licensed "
     "electrician come first, before every line of this page.",
     PRACTICE, NULL},
    {"caught", true, FW_WHEN_FIRST, ALWAYS,
     "minutes of shocks kill who is held by head or neck",
     "What kills is minutes of shocks: someone held by head or neck, caught in "
     "wire, or out cold on it. Leave no narrow gap between a hot wire and a "
     "trough, wall or other fence.",
     SA_OTR, "building-gap water-gap"},
    {"head-neck", true, FW_WHEN_FIRST, ALWAYS,
     "head, neck and trunk away from live wire",
     "Keep head, neck and trunk away from live wire, and never bend down "
     "beside one. Tell every helper and visitor.",
     ANNEX_BB, NULL},
    {"heart", true, FW_WHEN_FIRST, ALWAYS,
     "no pacemaker or heart disease near a live fence",
     "Nobody with a pacemaker or a heart disease works at a live fence or "
     "touches it. Ask before you let someone help.",
     SA_OTR, NULL},

    {"off-to-work", true, FW_WHEN_BEFORE, ALWAYS,
     "switch off and test before you touch a wire",
     "Switch off before you work on the fence, see that nobody switches on, "
     "and put a tester to the wire before your hand.",
     PRACTICE, NULL},
    {"energizer", true, FW_WHEN_BEFORE, ALWAYS,
     "only an energizer built to the standard, nothing home-made",
     "Use only an energizer built to IEC 60335-2-76, UL 69 or your country's "
     "rule. Nothing home-made, nothing straight from the mains.",
     "California Food and Agricultural Code 17150-17153", "energizer-kind"},
    {"one-energizer", true, FW_WHEN_BEFORE, ALWAYS, "one fence, one energizer",
     "One fence, one energizer: never two of them, nor two outputs of one, on "
     "the same wires.",
     ANNEX_BB, NULL},
    {"barbed", true, FW_WHEN_BEFORE, ALWAYS,
     "barbed wire is never live, and earthed at intervals",
     "Barbed or razor wire is never electrified, and is earthed at intervals "
     "along its length. A smooth hot wire beside it stands off {>15 cm} or "
     "more.",
     ANNEX_BB "; AS/NZS 3014:2003", "barbed"},
    {"energizer-place", true, FW_WHEN_BEFORE, ALWAYS,
     "no energizer in a barn or hay store",
     "No energizer in a barn, hay store or other place that burns easily. A "
     "lead passes a lightning gap with an earth of its own before it goes in.",
     "a German maker's handbook, no year", NULL},
    {"earth", true, FW_WHEN_BEFORE, ALWAYS,
     "earth rods {>10 m} from any earth of house, mains or telephone",
     "Set the energizer's earth rods {>10 m} or more from any earth of "
     "the house, the mains or the telephone. Water pipes are no fence earth.",
     ANNEX_BB "; older Australasian text: 40 m",
     "building-earth telecom-earth power-line-earth"},
    {"power-line-work", true, FW_WHEN_BEFORE, FW_CONCERN_POWER_LINE, 0,
     "beside a power line disconnect and earth the fence before work",
     "Beside a power line a fence can take up a charge with its energizer off "
     "or "
     "unhooked. Disconnect it, then earth it, before you work on it; ask the "
     "utility.",
     "Great River Energy, Electricity safety: fences", NULL},

    {"power-line", true, FW_WHEN_BUILDING, ALWAYS,
     "{>3, 4 or 8 m} from power lines by their voltage, nothing on poles",
     "Keep wire and leads from overhead lines: {>3 m} up to 1 kV, {>4 m} up to "
     "33 "
     "kV, {>8 m} above that or when nobody knows. Nothing on "
     "their poles.",
     ANNEX_BB,
     "power-line-low power-line-middle power-line-high power-line-pole"},
    {"power-line-cross", true, FW_WHEN_BUILDING, FW_CONCERN_POWER_LINE, 0,
     "avoid crossing a power line; else under, at a right angle, under {<3 m}",
     "Avoid crossing a power line. Where it must be, pass under it, near a "
     "right angle, no wire over {<3 m} high, and never over it. Avoid "
     "long runs alongside.",
     ANNEX_BB,
     "power-line-cross power-line-angle power-line-slant "
     "power-line-height-low power-line-height-high"},
    {"two-fences", true, FW_WHEN_BUILDING, ALWAYS,
     "{>2.5 m} between two live fences",
     "Keep {>2.5 m} between the wires of two fences with an energizer "
     "each. Close that gap only with what does not conduct.",
     ANNEX_BB, "other-electric two-energizers"},
    {"road-path", true, FW_WHEN_BUILDING, FW_CONCERN_ROAD, 0,
     "warning signs along roads and paths",
     "Along a public road or path hang yellow warning signs at the ends and "
     "often between: {<50 m} on paths, {<90 m} on roads are in use. Ask what "
     "your "
     "law wants.",
     ANNEX_BB "; Cornwall Council; EFA",
     "path-near road-near path-signs road-signs"},
    {"path-cross", true, FW_WHEN_BUILDING, FW_CONCERN_ROAD, 0,
     "a gate or stile that is not live where a path crosses",
     "Where a public path crosses, make a gate or stile that is not live, with "
     "signs on both sides and {>1 m} of tube over the wire.",
     ANNEX_BB "; Cornwall Council", "path-cross"},
    {"road-cross", true, FW_WHEN_BUILDING, FW_CONCERN_ROAD, 0,
     "no live wire over a road",
     "No live wire over a public road. A lead goes under it, in conduit, after "
     "the road authority has agreed.",
     PRACTICE, "road-cross"},
    {"water-edge", true, FW_WHEN_BUILDING,
     FW_CONCERN_POND | FW_CONCERN_WATERCOURSE, 0,
     "live wire out of ponds and streams",
     "Take more care beside ponds and streams: wet ground and wet skin make "
     "the shock worse. Keep live wire out of the water.",
     SA_OTR, "pond watercourse"},
    {"steep", true, FW_WHEN_BUILDING, ALWAYS,
     "not where who starts back from a shock falls",
     "On steep ground and above drops set the line where someone who starts "
     "back from a shock does not fall.",
     SA_OTR, "steep"},
    {"lead-building", true, FW_WHEN_BUILDING, ALWAYS,
     "leads in buildings in 20 kV cable",
     "Inside buildings run leads in cable made for 20 kV, apart from all metal "
     "that is earthed. House cable is not made for it.",
     ANNEX_BB "; 20 kV: a dealer's advice", "leads"},
    {"lead-ground", true, FW_WHEN_BUILDING, ALWAYS,
     "leads underground in conduit, {>25 cm} deep, never with mains or phone",
     "Underground run leads in conduit or 20 kV cable, {>25 cm} deep "
     "under gates and wheels, {>15 cm} under feet, never in one pipe with "
     "mains, phone or data.",
     ANNEX_BB "; depths and 20 kV: dealers' and makers' advice", "leads"},

    {"climb", true, FW_WHEN_DAILY, ALWAYS, "never climb through",
     "Never climb over, through or under a live fence of several wires. Use "
     "the gate, or switch it off.",
     ANNEX_BB, NULL},
    {"test", true, FW_WHEN_DAILY, ALWAYS,
     "read the voltage at the far end every day",
     "Every day read the voltage at the far end with a fence tester and walk "
     "the line: grass on the wire, fallen posts, broken strands.",
     PRACTICE, NULL},
    {"battery", true, FW_WHEN_DAILY, ALWAYS,
     "battery off the energizer while it charges",
     "Take the battery off the energizer before a mains charger goes on it.",
     "AS/NZS 3014:2003, 4.4", NULL},

    {"thunder", true, FW_WHEN_WEATHER, ALWAYS,
     "away from the fence in a thunderstorm",
     "Stay away from the fence from the first thunder to 30 minutes after the "
     "last. Disconnect it before the storm, never during it.",
     "University of Vermont, lightning and farm work; rest " PRACTICE,
     "weather"},
    {"fire", true, FW_WHEN_WEATHER, ALWAYS,
     "power down or off on days of high fire danger",
     "A spark in dry grass starts fires. On days of high fire danger turn the "
     "power down or off, with other fence round the sheep.",
     EFA "; Country Fire Authority, Victoria, On the Land, 2019", "fire-risk"},

    {"children", true, FW_WHEN_VISITORS, ALWAYS,
     "small children and bare feet away",
     "Keep small children and bare feet away from the fence and tell older "
     "children what it does. No live wire where people play, camp or bathe.",
     "a British seller's page on electric fence, no year", "keep-clear"},
    {"visitors", true, FW_WHEN_VISITORS, ALWAYS,
     "show every visitor the fence and the switch",
     "Show every helper and visitor where the fence runs and where it is "
     "switched off. Who is hurt is taken off the wire with the power off.",
     PRACTICE, NULL},

    {"train", false, FW_WHEN_BEFORE, FW_CONCERN_UNTRAINED, 0,
     "train them to the wire first",
     "Sheep that do not know the wire run through it. Train them in a pen "
     "beside a live fence, 12 h at least; most have learnt in 48 h.",
     "NRCS Louisiana, LA-382-1", "training"},
    {"train-wool", false, FW_WHEN_BEFORE, FW_CONCERN_UNTRAINED, 0,
     "train them fresh from the shears or wet",
     "Wool insulates. Train them fresh from the shears, or wet a full fleece "
     "first.",
     "Taranaki Daily News, 30 September 1940; Raising sheep, p. 127", NULL},
    {"new-sheep", false, FW_WHEN_BEFORE, FW_CONCERN_UNTRAINED, 0,
     "newly bought sheep first behind a fence that holds",
     "Newly bought sheep do not know this wire, place or flock, and one that "
     "runs takes the others: first some days behind a fence that holds.",
     PRACTICE, NULL},
    {"netting", false, FW_WHEN_BEFORE, ALWAYS,
     "no live netting for horned sheep, nor left unwatched with lambs",
     "No live netting for horned sheep, and none left unwatched with young "
     "lambs: one caught by horn or neck is shocked and throttled until it "
     "dies. Use plain strands.",
     "Code of recommendations, sheep, England, 50 and 51 (horned; mesh by "
     "lambs); rest " PRACTICE,
     NULL},
    {"copper", false, FW_WHEN_BEFORE, ALWAYS, "no copper: sheep mineral only",
     "Copper poisons sheep: mineral and feed made for sheep only, none made "
     "for cattle, horses, pigs or poultry, and no grass with their manure.",
     "Colorado State University Extension, copper poisoning in small "
     "ruminants",
     NULL},
    {"bloat", false, FW_WHEN_BEFORE, FW_CONCERN_LEGUME, 0,
     "full and on dry leaf onto clover or alfalfa",
     "Where clover or alfalfa is over 50 % of the sward sheep can bloat and "
     "die within hours. Turn them in full and on dry leaf, never wet or "
     "frosted; watch the first hours.",
     "Montana State University, frosted alfalfa (50 %); rest " PRACTICE,
     "bloat"},
    {"bloat-empty", false, FW_WHEN_BEFORE, FW_CONCERN_LEGUME, 0,
     "never hungry onto clover",
     "Never shrink a paddock or let them run empty before such a sward: hungry "
     "sheep gorge on it. Give hay first when they have.",
     "Purdue University, Preventing pasture bloat in sheep, 1997; "
     "rest " PRACTICE,
     NULL},
    {"bloat-frost", false, FW_WHEN_BEFORE, FW_CONCERN_LEGUME, FW_CONCERN_COLD,
     "no frosted clover",
     "Frosted clover or alfalfa bloats worst. Wait until the frost is off and "
     "the leaf is dry, some days after a killing one, and keep them full till "
     "then.",
     "Montana State University, frosted alfalfa; rest " PRACTICE, NULL},
    {"magnesium", false, FW_WHEN_BEFORE,
     FW_CONCERN_LACTATION | FW_CONCERN_LATE_GESTATION, FW_CONCERN_SPRING,
     "magnesium for ewes on lush spring grass",
     "Ewes in milk on lush spring grass or small grains can go down for want "
     "of magnesium. Offer it in the mineral before and through the flush.",
     "NC Cooperative Extension, Warren County, March 2015; Teagasc, March 2025",
     NULL},
    {"fescue", false, FW_WHEN_BEFORE, FW_CONCERN_FESCUE, 0,
     "tall fescue with its fungus: off seed heads and summer growth",
     "Most old tall fescue has a fungus in it: sheep overheat, eat less, milk "
     "and breed badly. Keep them off its seed heads and summer growth, or "
     "dilute it; saved for winter, last.",
     "Ontario, Fescue toxicosis in sheep; Ohio AGF-023; Oregon State Univ., "
     "tall fescue monograph",
     NULL},
    {"red-clover", false, FW_WHEN_BEFORE, FW_CONCERN_TUPPING, FW_CONCERN_LEGUME,
     "no red clover for ewes near tupping",
     "Red clover can keep ewes from conceiving: off it from 6 weeks before "
     "tupping to 6 weeks after. White clover is the lesser risk.",
     "Farm Advisory Service, Scotland, Beware red clover, September 2016",
     "red-clover"},

    {"water-first", false, FW_WHEN_DAILY, ALWAYS, "water before sheep",
     "Water first: the trough stands full in the next paddock before the first "
     "sheep goes in.",
     PRACTICE, "water-first no-water"},
    {"enclose", false, FW_WHEN_DAILY, ALWAYS,
     "the next fence is hot before the front one opens",
     "The next fence is up and hot before the one in front of the sheep is "
     "touched.",
     PRACTICE, NULL},
    {"count", false, FW_WHEN_DAILY, ALWAYS, "count them at every move",
     "Count them through at every move. One that is missing may hang in the "
     "wire or lie on its back.",
     PRACTICE, NULL},
    {"lambs-left", false, FW_WHEN_DAILY, FW_CONCERN_LAMBS, 0,
     "no lamb left behind",
     "Lambs sleep through a move. Walk the old paddock to its far end before "
     "it is closed, and count ewes and lambs.",
     PRACTICE, NULL},
    {"lambs-wire", false, FW_WHEN_DAILY, FW_CONCERN_LAMBS, 0,
     "lambs slip under: lowest strand at {20 to 25 cm}",
     "Young lambs slip under the wire: lowest strand at {20 to 25 cm}, "
     "raised in long grass and lowered after it. Two strands may not hold "
     "them.",
     "Press, 9 June 1956; schwarzwaelder-bote.de; rest " PRACTICE,
     "lambs-wire"},
    {"late-gestation", false, FW_WHEN_DAILY, FW_CONCERN_LATE_GESTATION, 0,
     "heavy ewes slowly",
     "Move heavy ewes slowly, through a wide opening, without a dog pressing. "
     "Do not cut their feed in the last weeks.",
     PRACTICE, NULL},
    {"water", false, FW_WHEN_DAILY, ALWAYS, "look at the water on every visit",
     "Look at the water on every visit, twice a day in heat. A trough tipped "
     "over at noon is an empty flock by night.",
     PRACTICE, NULL},
    {"worms", false, FW_WHEN_DAILY, ALWAYS,
     "leave {8 to 10 cm} and move within 4 days, for the worms",
     "Worm larvae sit in the lowest {8 to 10 cm}. Leave that much, "
     "move on within 4 days, rest long, and look at eyelids and dung.",
     "Ohio State University in Farm and Dairy; rest " PRACTICE,
     "worms-left worms-days"},

    {"heat", false, FW_WHEN_WEATHER, FW_CONCERN_HEAT, 0,
     "shade from {<28 C}, moves in the cool",
     "From about {<28 C} give shade and move in the cool of the day. Over "
     "70 breaths a minute is the first sign of trouble.",
     "vff.org.au (breaths); rest " PRACTICE, "weather"},
    {"shorn", false, FW_WHEN_WEATHER, FW_CONCERN_SHORN, 0,
     "shelter and full feed after shearing",
     "Sheep off the shears die of cold wind and rain, most in the first 3 "
     "days, some to 2 weeks. Shelter and full feed, and read the forecast "
     "before each move.",
     "a veterinarian in the Border Mail, 1 July 2023; rest " PRACTICE,
     "weather"},
    {"cold", false, FW_WHEN_WEATHER, FW_CONCERN_COLD, 0,
     "open water twice a day in frost",
     "In frost open the water twice a day; ewes in milk cannot live on snow. "
     "Snow and ice on the wire, and frozen ground, take the bite away.",
     "South Dakota State Univ., Sheep water, 2022 (snow); rest " PRACTICE,
     NULL},
    {"dry-soil", false, FW_WHEN_WEATHER, FW_CONCERN_DRY_SOIL, 0,
     "dry ground takes the bite away: more earth",
     "Dry or stony ground carries little current: sheep feel less than the "
     "tester says. Earth where it is damp, add rods, or use an earth-return "
     "wire.",
     "NRCS Oregon 382E, power polywire, 2003", NULL},
};

const char *fw_safety_when_word(enum fw_when when)
{
    static const char *const words[FW_WHEN_COUNT] = {
        [FW_WHEN_FIRST] = "first of all",
        [FW_WHEN_BEFORE] = "before you begin",
        [FW_WHEN_BUILDING] = "while you build",
        [FW_WHEN_DAILY] = "every day",
        [FW_WHEN_WEATHER] = "by the weather",
        [FW_WHEN_VISITORS] = "visitors and children",
    };
    return (unsigned)when < FW_WHEN_COUNT ? words[when] : NULL;
}

const struct fw_caution *fw_safety_cautions(size_t *count)
{
    *count = sizeof cautions / sizeof cautions[0];
    return cautions;
}

bool fw_safety_applies(const struct fw_caution *caution, unsigned concerns)
{
    if (caution->concerns != FW_CONCERN_ALWAYS &&
        (caution->concerns & concerns) == 0)
        return false;
    return caution->seasons == 0 || (caution->seasons & concerns) != 0;
}

bool fw_safety_tries(const struct fw_caution *caution, const char *rule)
{
    const size_t length = strlen(rule);
    const char *at = caution->tried;
    while (at && *at) {
        const size_t here = strcspn(at, " ");
        if (here == length && strncmp(at, rule, length) == 0)
            return true;
        at += here + strspn(at + here, " ");
    }
    return false;
}
