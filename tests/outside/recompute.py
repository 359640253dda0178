#!/usr/bin/env python3
"""Plans of 6 flocks on 6 swards in 5 fences, recomputed from the publications.

    tests/outside/recompute.py PROGRAM [--every N]

The program plans an invented field for each; demand, water, feed, the size of
each paddock, volts, earth rods and battery are worked out again from figures.py
and network.py. Exit 1 when one differs by over half a per cent.
"""
import argparse
import json
import math
import os
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True
import figures  # noqa: E402
from network import Network  # noqa: E402

SHARE = 0.005

# ---- what is planned ----

# (state, head, kg) by class; the weights of two are pounds of the publication.
FLOCKS = {
    "dry ewes": [("dry", 160, 64)],
    "twins": [("lactation-twins", 58, 71), ("ram", 3, 96)],
    "flushed": [("flushing", 130, 130 * figures.POUND_KG)],
    "weaned": [("weaned-lamb", 220, 34), ("ewe-lamb", 60, 44)],
    "week nine": [("late-lactation-twins", 60, 76), ("lamb-at-foot", 110, 19),
                  ("lactation-single", 25, 56)],
    "winter": [("hogget", 90, 46), ("early-gestation", 70, 72),
               ("late-gestation", 20, 83)],
}
AT_FOOT = ("lactation", "lamb-at-foot")
WEANED = ("weaned-lamb", "ewe-lamb")

# stay in days, start, and the grass as the farm file tells it
SWARDS = {
    "ryegrass": (1, "2027-05-03", {"sward": "ryegrass-clover",
                                   "density": "good", "height": "22 cm",
                                   "leave": "9 cm"}),
    "thin bluegrass": (2, "2027-06-14", {"sward": "bluegrass-clover",
                                         "density": "thin", "height": "26 cm",
                                         "leave": "8 cm"}),
    "thick fescue": (3, "2027-04-19", {"sward": "fescue-nitrogen",
                                       "density": "thick", "height": "10 in",
                                       "leave": "4 in"}),
    "measured": (1, "2027-11-08", {"mass": "2900 kg/ha",
                                   "residual": "1400 kg/ha", "use": "70 %"}),
    "short": (1, "2027-09-06", {"sward": "pennsylvania-typical",
                                "height": "15 cm", "leave": "6 cm"}),
    "tall": (2, "2027-07-05", {"density": "55 kg/ha/cm", "height": "52 cm",
                               "use": "55 %", "use-of": "standing"}),
}

FENCES = {
    "steel polywire": {"fence": {"strands": 2}, "conductor": "poly-6x0.20",
                       "energizer": {"joules": "1 J"},
                       "earth": {"soil": "loam"}},
    "copper": {"fence": {"strands": 3}, "conductor": "poly-copper-3x0.25",
               "bonded": "both-ends", "perimeter-leakage": "clean",
               "energizer": {"joules": "3 J", "pulse": "2.5 s",
                             "charge": "14 days"},
               "earth": {"soil": "clay"}},
    "thin polywire": {"fence": {"strands": 2}, "conductor": "poly-3x0.20",
                      "leakage": "moderate",
                      "energizer": {"joules": "0.5 J"},
                      "earth": {"soil": "clay-sand", "return": "no"}},
    "data sheet": {"fence": {"strands": 2}, "conductor": "0.5 ohm/m",
                   "leakage": "1500 ohm.km", "bonded": "every 60 m",
                   "joint": "2 ohm", "perimeter-fence": {"strands": 3},
                   "energizer": {"open": "8 kV", "loaded": "5 kV"},
                   "earth": {"soil": "silt-clay", "ohm": "20 ohm"}},
    "one strand": {"fence": {"strands": 1, "lay-flat": "no"},
                   "conductor": "steel-stranded",
                   "energizer": {"joules": "5 J"},
                   "earth": {"soil": "loam"}},
}

# A field of about 8 ha; a slanted one, so that no length is round.
CORNERS = [(-1.4000, 52.2000), (-1.3955, 52.2004), (-1.3950, 52.2029),
           (-1.3994, 52.2024)]


def farm_of(flock, sward, fence):
    stay, start, forage = SWARDS[sward]
    wiring = dict(FENCES[fence])
    return {
        "units": "metric", "start": start, "stay": f"{stay} days",
        "last": "short", "limits": "off", "layout": "strips",
        "flock": [{"state": state, "head": head, "weight": f"{kg!r} kg",
                   "coat": "wool", "trained": "yes"}
                  for state, head, kg in FLOCKS[flock]],
        "forage": forage,
        "perimeter": {"holds": "lambs", "hot": "yes"},
        "fields": {"source": "field.geojson", "name": "name",
                   "each": [{"field": "Invented", "gate": "corner:1"}]},
        **wiring,
    }


# ---- geometry, by the radii of the ellipsoid at the field ----

def to_metres(vertices):
    semi, flat = 6378137.0, 1 / 298.257223563
    square = flat * (2 - flat)
    lat = math.radians(sum(y for _, y in CORNERS) / len(CORNERS))
    sine = 1 - square * math.sin(lat) ** 2
    east = math.radians(1) * semi / math.sqrt(sine) * math.cos(lat)
    north = math.radians(1) * semi * (1 - square) / sine ** 1.5
    return [((v[0] - CORNERS[0][0]) * east, (v[1] - CORNERS[0][1]) * north)
            for v in vertices]


def ring_m2(at, ring):
    return sum(at[a][0] * at[b][1] - at[b][0] * at[a][1]
               for a, b in zip(ring, ring[1:] + ring[:1])) / 2


# ---- one plan ----

class Plan:
    def __init__(self, program, folder, flock, sward, fence):
        self.name = f"{flock}, {sward}, {fence}"
        self.classes, self.fence = FLOCKS[flock], FENCES[fence]
        self.stay, _, self.forage = SWARDS[sward]
        self.differences = []
        farm = os.path.join(folder, "farm.yaml")
        with open(farm, "w", encoding="utf-8") as file:
            for key, value in farm_of(flock, sward, fence).items():
                file.write(f"{key}: {json.dumps(value)}\n")
        subprocess.run([program, "plan", "--quiet", "--format", "data", farm, "-o", folder],
                       check=True, stdout=subprocess.DEVNULL)
        with open(os.path.join(folder, "plan.json"), encoding="utf-8") as file:
            self.said = json.load(file)
        for name in ("moves", "standings", "stays"):
            columns = self.said["columns"][name]
            self.said[name] = [dict(zip(columns, row))
                               for row in self.said[name]]
        self.power = json.loads(subprocess.run(
            [program, "power", "--json", folder], check=True,
            stdout=subprocess.PIPE).stdout)
        self.at = to_metres(self.said["fields"][0]["vertices"])

    def same(self, what, mine, said):
        if not (said is not None and abs(mine - said) <= SHARE * abs(mine)):
            self.differences.append(f"{self.name}: {what}: recomputed "
                                    f"{mine:.8g}, the plan says {said}")

    def check(self):
        self.check_flock()
        self.check_feed()
        self.check_paddocks()
        self.check_energizer()
        self.check_volts()
        return self.differences

    # ---- demand, water ----

    def check_flock(self):
        self.demand_kg = sum(head * figures.intake_kg(state, kg)
                             for state, head, kg in self.classes)
        self.same("demand", self.demand_kg, self.said["flock"]["demand_kg_day"])
        litres = sum(head * figures.water_l(state, kg)
                     for state, head, kg in self.classes)
        self.same("litres", litres, self.said["flock"]["water_l_day"])

    # ---- feed: what stands, what must stay, what they take of it ----

    def number(self, key):
        value, unit = self.forage[key].split()
        return float(value) * {"in": figures.INCH_CM, "%": 0.01}.get(unit, 1)

    def check_feed(self):
        forage, field = self.forage, self.said["fields"][0]
        density = None
        if "sward" in forage:
            density = figures.density_kg_ha_cm(
                forage["sward"], forage.get("density", "good"))
        elif "density" in forage:
            density = self.number("density")
        mass = self.number("mass") if density is None \
            else density * self.number("height")
        stays = self.number("residual") if "residual" in forage \
            else density * self.number("leave") if "leave" in forage else 0
        use = self.number("use") if "use" in forage \
            else figures.USE[self.stay - 1]
        self.usable_kg_ha = (mass - stays) * use
        self.same("usable feed", self.usable_kg_ha, field["usable_kg_ha"])
        # Heights in metres, before and after, for what leaks.
        self.grass_m = self.left_m = None
        if density is not None:
            self.grass_m = self.number("height") / 100
            self.left_m = (mass - self.usable_kg_ha) / density / 100

    def check_paddocks(self):
        wanted_ha = self.demand_kg * self.stay / self.usable_kg_ha
        paddocks = self.said["paddocks"]
        if len(paddocks) < 3:
            self.differences.append(f"{self.name}: only {len(paddocks)} "
                                    "paddocks")
        for paddock in paddocks[:-1]:  # the last one takes what is left
            self.same(f"{paddock['paddock']}: area", wanted_ha,
                      paddock["area_ha"])
        for paddock in paddocks:
            drawn_ha = sum(ring_m2(self.at, ring) for piece in paddock["rings"]
                           for ring in piece) / 1e4
            self.same(f"{paddock['paddock']}: drawn", drawn_ha,
                      paddock["area_ha"])

    # ---- energizer, rods, battery ----

    def check_energizer(self):
        told, earth = self.fence["energizer"], self.fence["earth"]
        if "joules" in told:
            joules = float(told["joules"].split()[0])
            self.open_v, self.internal = figures.GUESS[joules]
        else:
            self.open_v, loaded_v = (1000 * float(told[key].split()[0])
                                     for key in ("open", "loaded"))
            body = figures.BODY_OHM
            self.internal = body * (self.open_v / loaded_v - 1)
            joules = loaded_v ** 2 / body * figures.PULSE_S
        pulse_s = float(told.get("pulse", "1.5 s").split()[0])
        days = float(told.get("charge", "7 days").split()[0])
        soil = self.soil_ohm_m = figures.SOIL[earth["soil"]]
        rods = max(figures.rods_by_joules(joules),
                   figures.rods_by_test(soil, self.open_v, self.internal))
        self.earth = float(earth["ohm"].split()[0]) if "ohm" in earth \
            else figures.rods_ohm(soil, rods)
        said = self.power
        self.same("joules", joules, said["energizer"]["joules"])
        self.same("open volts", self.open_v, said["energizer"]["open_v"])
        self.same("internal", self.internal, said["energizer"]["internal_ohm"])
        self.same("rods", rods, said["earth"]["rods"])
        self.same("earth", self.earth, said["earth"]["ohm"])
        self.same("battery", figures.battery_ah(joules, pulse_s, days),
                  said["feeding"]["battery_ah"])

    # ---- volts ----

    def bottom_m(self):
        states = [state for state, _, _ in self.classes]
        if any(word in state for state in states for word in AT_FOOT):
            return 0.23
        return 0.30 if any(state in WEANED for state in states) else 0.35

    def leak_of(self, told, strand, grows, grass_m):
        """Siemens a metre of one strand, the bottom one being 0."""
        if told and told[0].isdigit():
            ohm_km = float(told.split()[0])
            better = min((x for x in figures.LEAK.values() if x > ohm_km),
                         default=ohm_km)
        else:
            word = told or self.class_under(grass_m, grows)
            ohm_km = figures.LEAK[word]
            better = figures.LEAK[figures.CLASSES[
                max(0, figures.CLASSES.index(word) - 1)]]
        return 1 / (1000 * (better if strand and grows else ohm_km))

    def class_under(self, grass_m, grows):
        wire_m = self.bottom_m()
        season = "light" if grows else "normal"
        if grass_m is None:
            return season
        if grass_m > wire_m:
            if self.fence["fence"].get("lay-flat") != "no":
                return "light"
            return "heavy" if grass_m > 2 * wire_m else "moderate"
        return "normal" if grass_m <= wire_m / 2 else season

    def live_on(self, day):
        moves = self.said["moves"]
        standing = {s["fence"] for s in self.said["standings"]
                    if moves[s["up_move"]]["day"] <= day and
                    (s["down_move"] is None or
                     moves[s["down_move"]]["day"] > day)}
        return [fence for fence in self.said["fences"]
                if fence["role"] == "perimeter" or fence["fence"] in standing]

    def places_along(self, fence):
        """Metres from A to each of its vertices."""
        at = [self.at[v] for v in fence["line"]]
        metres = [0.0]
        for a, b in zip(at, at[1:]):
            metres.append(metres[-1] + math.dist(a, b))
        self.same(f"{fence['fence']}: length", metres[-1], fence["length_m"])
        return metres

    def strands_of(self, fence, day, grows):
        """Ohm a metre, and siemens a metre by strand."""
        if fence["role"] == "perimeter":
            wires = self.fence.get("perimeter-fence", {}).get("strands", 5)
            told = self.fence.get("perimeter-leakage")
            leaks = [self.leak_of(told, k, grows, None) for k in range(wires)]
            return figures.WIRE_OHM_M["steel-2.5"] / wires, [sum(leaks)]
        conductor = self.fence["conductor"]
        ohm_m = figures.WIRE_OHM_M.get(conductor)
        if ohm_m is None:
            ohm_m = float(conductor.split()[0])
        leave = [stay["leave"] for stay in self.said["stays"]
                 if stay["paddock"] == fence["to"]]
        tall = day < leave[-1]
        return ohm_m, [self.leak_of(self.fence.get("leakage"), k, grows,
                                    self.grass_m if tall else self.left_m)
                       for k in range(self.fence["fence"]["strands"])]

    def network_of(self, day):
        """Lines hang by all their strands on what passes their end A; far ends
        are loose, or bonded."""
        net, live = Network(), self.live_on(day)
        grows = "04" <= day[5:7] <= "09"
        joint = float(self.fence.get("joint", "0").split()[0])
        bonded = self.fence.get("bonded", "live-end")
        every_m = float(bonded.split()[1]) if bonded.startswith("every") else 0
        fed = {fence["line"][0] for fence in live}
        passed = {v for fence in live
                  for v in fence["line"][1:-1] +
                  (fence["line"] if fence["role"] == "perimeter" else [])}
        for fence in live:
            metres = self.places_along(fence)
            ohm_m, leaks = self.strands_of(fence, day, grows)
            side = fence["role"] == "perimeter"
            start = net.node(fence["line"][0])
            if joint and not side:
                hooked = net.node()
                net.ohm(start, hooked, joint)
                start = hooked
            ends, here_m = [start] * len(leaks), 0.0
            stops = [(m, v) for v, m in zip(fence["line"][1:], metres[1:])]
            bonds = [(k * every_m, None) for k in range(1, 10 ** 4)
                     if every_m and k * every_m < metres[-1]
                     ] if not side and len(leaks) > 1 and every_m else []
            for m, vertex in sorted(stops + bonds, key=lambda s: s[0]):
                last = m == metres[-1] and vertex is not None
                if vertex is None:
                    meets = net.node()
                elif side or vertex in fed and (not last or
                                                vertex not in passed):
                    meets = net.node(vertex)
                elif last and bonded != "live-end":
                    meets = net.node()
                elif last:
                    meets = None
                else:
                    continue
                for k, leak in enumerate(leaks):
                    to = net.node() if meets is None else meets
                    net.wire(ends[k], to, m - here_m, ohm_m, leak)
                    ends[k] = to
                here_m = m
        net.ohm(0, net.node(self.gate_vertex()), 0)
        return net

    def gate_vertex(self):
        spot, = to_metres([self.said["fields"][0]["gate"]])
        return min((v for fence in self.said["fences"]
                    if fence["role"] == "perimeter" for v in fence["line"]),
                   key=lambda v: math.dist(self.at[v], spot))

    def check_volts(self):
        rows = self.power["days"]
        for row in rows[::max(1, len(rows) // 4)]:
            net = self.network_of(row["from"])
            volts, touched = net.solve(self.open_v, self.internal + self.earth,
                                       figures.hooves_ohm(self.soil_ohm_m))
            on = f"on {row['from']}: "
            self.same(on + "at the energizer", volts[0], row["source_v"])
            self.same(on + "least on a tester", min(volts),
                      row["least_open_v"])
            self.same(on + "least to a sheep", min(touched), row["touched_v"])


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n", 1)[0])
    parser.add_argument("program")
    parser.add_argument("--every", type=int, default=1,
                        help="take each N-th setting only")
    given = parser.parse_args()
    settings = [(flock, sward, fence) for flock in FLOCKS for sward in SWARDS
                for fence in FENCES][::given.every]
    wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        ring = [*CORNERS, CORNERS[0]]
        with open(os.path.join(folder, "field.geojson"), "w",
                  encoding="utf-8") as file:
            json.dump({"type": "Feature", "properties": {"name": "Invented"},
                       "geometry": {"type": "Polygon",
                                    "coordinates": [ring]}}, file)
        for setting in settings:
            differences = Plan(given.program, folder, *setting).check()
            wrong += bool(differences)
            for text in differences[:8]:
                print(text)
    print(f"{len(settings)} plans recomputed, {wrong} differ")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
