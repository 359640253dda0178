/* What a farm file cannot tell from a map, what matters most first, and how to
 * find it out at the gate without a tool that a shepherd has not. */
#include "start/start.h"

static const struct fw_start_ask asks[] = {
    {"perimeter.holds", "sheep", NULL,
     "Walk all of the boundary once. Is there a place where a hungry sheep "
     "would get through, under or over? Then it holds nothing until that is "
     "mended. Lambs find gaps that ewes do not: say lambs only where you would "
     "trust it with them."},
    {"perimeter.hot", "yes", NULL,
     "Touch it with a tester, as far from the energizer as you can get. No "
     "reading, no energizer, or no wire on it: no."},
    {"flock[].head", "90", NULL, "Count them through a gate."},
    {"flock[].weight", "62 kg", "140 lb",
     "Weigh a few that look like the rest; a good guess will do, since they "
     "eat by what they weigh."},
    {"flock[].state", "dry", NULL,
     "Dry, bred, or with lambs at foot, when they eat about twice as much: "
     "dry, early-gestation, late-gestation, lactation-single, "
     "lactation-twins, weaned-lamb and others. Classes that differ get a line "
     "each."},
    {"flock[].trained", "yes", NULL,
     "Yes only if all of them have met live fence and keep away from it. Sheep "
     "that do not know it walk through."},
    {"forage.sward", "mixed", NULL,
     "What most of it is: ryegrass-clover, bluegrass-clover, "
     "orchardgrass-legume, timothy-legume, fescue-nitrogen, or mixed."},
    {"forage.density", "good", NULL,
     "Part the grass with your hands in ten places. Bare soil wherever you "
     "look: thin. None to be found: thick. Else good."},
    {"forage.height", "22 cm", "9 in",
     "Walk across the field and hold a ruler, or a boot that you have marked, "
     "into the grass at thirty places that you did not choose, and take the "
     "middle. Do not stretch the leaves."},
    {"forage.leave", "9 cm", "4 in",
     "Your own rule, on the same boot; more in a dry year."},
    {"start", "2026-05-04", NULL,
     "Leave a day or two before it for the fence and for training."},
    {"gate", "corner:1", NULL,
     "Find it on the drawing above: corner:1, or side:1@40m, which is 40 m on "
     "from corner 1 towards the next."},
    {"water", "corner:1", NULL,
     "A trough that stays, or where the tank is filled; named as the gate is. "
     "Leave it out where there is none."},
    {"looked", "[road, power-line, steep]", NULL,
     "Stand at the gate, then in the farthest corner, and look round: a road "
     "that they could reach, wires overhead, ground too steep to keep posts "
     "in. Name only what you have looked at; until then the plan asks."},
    {"stay", "1 day", NULL,
     "Who can move them, and how often? Once a day on most farms; two or three "
     "days where nobody has time."},
    {"pace", "0.85 m", "33 in",
     "Walk {side}, which is {length} long, and count your steps: the length "
     "by the count is your pace. The card counts in it."},
    {"fence.owns.reels", "6", NULL, "Count what hangs in the shed."},
    {"fence.owns.posts", "90", NULL, "Count them, too."},
    {"fence.owns.wire", "2400 m", "7800 ft",
     "On the reels, by their labels. Tell all three, or none of them."},
    {"hauling.tank", "600 L", "150 gal",
     "By its plate; leave it out where no water is brought."},
    {"energizer.joules", "2 J", NULL,
     "On its plate or in its booklet: joules of output, not stored ones."},
    {"lambing.from", "2027-04-10", NULL, "When the first lamb is due."},
    {"lambing.to", "2027-05-05", NULL, "When the last one is."},
    {"prices.currency", "EUR", "USD", "For the list to buy."},
    {"prices.post", "2.10", NULL,
     "And so on, reel, wire, energizer: without all of them the list has no "
     "sum."},
};

const struct fw_start_ask *fw_start_asks(size_t *count)
{
    *count = sizeof asks / sizeof *asks;
    return asks;
}
