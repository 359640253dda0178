"""Figures from the publications, typed in by hand, and the sums that they ask
for. Nothing here comes from the program under test or its tables; where a
publication was not seen, the figure is from memory, as docs/guide says too."""
import bisect
import math

POUND_KG = 0.45359237
GALLON_L = 3.785411784
ACRE_HA = 0.40468564224
INCH_CM = 2.54
FOOT_M = 0.3048

# ---- what they eat: kg of dry matter a day by kg of live weight ----

# NRC, Nutrient Requirements of Sheep, 6th edition, 1985, table 1; page 45 was
# read, the rest is from memory.
EWE_KG = [50, 60, 70, 80, 90]
INTAKE = {
    "dry": (EWE_KG, [1.0, 1.1, 1.2, 1.3, 1.4]),
    "flushing": (EWE_KG, [1.6, 1.7, 1.8, 1.9, 2.0]),
    "early-gestation": (EWE_KG, [1.2, 1.3, 1.4, 1.5, 1.6]),
    "late-gestation": (EWE_KG, [1.7, 1.8, 1.9, 2.0, 2.1]),
    "lactation-single": (EWE_KG, [2.1, 2.3, 2.5, 2.6, 2.7]),
    "late-lactation-twins": (EWE_KG, [2.1, 2.3, 2.5, 2.6, 2.7]),
    "ewe-lamb": ([30, 40, 50, 60, 70], [1.2, 1.4, 1.5, 1.5, 1.5]),
    "hogget": ([40, 50, 60, 70], [1.4, 1.5, 1.5, 1.5]),
    # AWI and MLA, Making More From Sheep, tool 8.4: 2.9 kg, taken at 70 kg, and
    # the steps of NRC 1985.
    "lactation-twins": (EWE_KG, [2.5, 2.7, 2.9, 3.1, 3.3]),
    # J. agric. Sci. 90 (1978) 139: 1.9 to 2.7 % in weeks 10 and 12.
    "lamb-at-foot": ([20], [20 * (0.019 + 0.027) / 2]),
    # 4 %, AHDB and University of Connecticut; 50 kg NRC 1985, finishing lambs.
    "weaned-lamb": ([20, 40, 50], [0.8, 1.6, 1.6]),
    # 2 %, common practice.
    "ram": ([100], [2.0]),
}


def between(x, xs, ys):
    """Straight lines; beyond the ends the share of x that the end has."""
    if x <= xs[0]:
        return x * ys[0] / xs[0]
    if x >= xs[-1]:
        return x * ys[-1] / xs[-1]
    i = bisect.bisect_right(xs, x)
    t = (x - xs[i - 1]) / (xs[i] - xs[i - 1])
    return (1 - t) * ys[i - 1] + t * ys[i]


def intake_kg(state, weight_kg):
    return between(weight_kg, *INTAKE[state])


# ---- what they drink ----

# South Dakota State University 2022, from NRC 2007, upper end: gallons of ewes
# of 130, 160 and 200 lb. Twins about double.
EWE_LB = [130, 160, 200]
DRY_GAL = [0.82, 0.96, 1.13]
PREGNANT_GAL = [1.63, 1.90, 2.25]
IN_MILK_GAL = [2.02, 2.36, 2.79]
# 10 % of live weight: Meat & Livestock Australia, DPIRD.
YOUNG = ("lamb-at-foot", "weaned-lamb", "ewe-lamb", "hogget")


def water_l(state, weight_kg):
    if state in YOUNG:
        return weight_kg / 10
    gallons = DRY_GAL
    if "gestation" in state or state == "flushing":
        gallons = PREGNANT_GAL
    if "lactation" in state:
        gallons = IN_MILK_GAL
    twins = 2 if "twins" in state else 1
    return twins * GALLON_L * between(weight_kg / POUND_KG, EWE_LB, gallons)


# ---- the grass ----

# Pasture stick of Cornell and NRCS, University of Maine, appendix D: pounds an
# acre and inch where it stands thin, good and thick; Penn State, four steps.
STICK_LB = {
    "bluegrass-clover": [(150, 200), (250, 300), (350, 400)],
    "ryegrass-clover": [(150, 200), (250, 300), (350, 400)],
    "timothy-legume": [(150, 200), (250, 300), (300, 350)],
    "fescue-nitrogen": [(100, 150), (200, 250), (350, 400)],
    "pennsylvania-typical": [None, (300, 300), None],
}
STANDS = ["thin", "good", "thick"]
# Penn State, Agronomy Guide, table 1.8-9: share taken, by days of stay.
USE = [.80, .75, .75, .70, .65, .60, .60]


def density_kg_ha_cm(sward, stands):
    low, high = STICK_LB[sward][STANDS.index(stands)]
    return (low + high) / 2 * POUND_KG / ACRE_HA / INCH_CM


# ---- wires, earth, what feeds it ----

# Ohm a metre: resistivity over the metal's section, bare strands in parallel.
STAINLESS, COPPER, MM2 = 0.72e-6, 0.0173e-6, 1e-6


def strands_ohm_m(*parts):
    """Of (how many, mm thick, ohm m)."""
    return 1 / sum(n * math.pi / 4 * mm * mm * MM2 / rho
                   for n, mm, rho in parts)


WIRE_OHM_M = {
    "poly-3x0.20": strands_ohm_m((3, 0.20, STAINLESS)),
    "poly-6x0.20": strands_ohm_m((6, 0.20, STAINLESS)),
    "poly-copper-3x0.25": strands_ohm_m((3, 0.25, COPPER),
                                        (6, 0.20, STAINLESS)),
    "steel-stranded": 0.200,  # techniquesdelevage.fr
    "steel-2.5": 56 / 1609.344,  # a maker's handbook: 56 ohm a mile
}

# Ohm km of a wire, docs/guide/power.md: rules of thumb turned into ohms.
LEAK = {"clean": 10000, "normal": 5000, "light": 2000, "moderate": 1000,
        "heavy": 500}
CLASSES = list(LEAK)

# Soils, ohm m: saecanet.com; an earthing note after IEEE 142 and BS 7430.
SOIL = {"clay": 40, "loam": 100, "silt-clay": 80, "clay-sand": 200}

# Joules alone: open volts and internal ohm, from memory.
GUESS = {0.25: (8500, 917), 0.5: (9000, 684), 1: (9000, 500), 2: (9500, 364),
         3: (9500, 292), 5: (9800, 221)}
PULSE_S = 1e-4
BODY_OHM = 500
TEST_V = 2000

ROD_M, ROD_THICK_M, ROD_APART_M = 6 * FOOT_M, 0.016, 10 * FOOT_M


def rods_ohm(soil_ohm_m, rods):
    """One rod after IEEE 142 and BS 7430; in a line each adds what its
    neighbours raise the ground about it, on the mean."""
    one = soil_ohm_m / (2 * math.pi * ROD_M) * (
        math.log(8 * ROD_M / ROD_THICK_M) - 1)
    mutual = sum(soil_ohm_m / (2 * math.pi * ROD_APART_M * abs(i - k))
                 for i in range(rods) for k in range(rods) if i != k) / rods
    return (one + mutual) / rods


def hooves_ohm(soil_ohm_m):
    """Four discs on the ground, soil / (4 radius) each (IEEE 80's foot, from
    memory); 70 kg at 14 t/m2 (majatekrogalin.pl); loam's 100 ohm m is in the
    500 ohm of a body (common practice)."""
    radius_m = math.sqrt(70 / 4 / 14000 / math.pi)
    return max(0, soil_ohm_m - 100) / (4 * 4 * radius_m)


def rods_by_joules(joules):
    """3 ft a joule in rods of 6 ft, three at least: Gerrish, NRCS."""
    return max(3, math.ceil(joules * 3 / 6 - 1e-9))


def rods_by_test(soil_ohm_m, open_v, internal_ohm, most_v=300, most=12):
    """The last rod shows no more while the fence is shorted to 2 kV."""
    for rods in range(1, most + 1):
        earth = rods_ohm(soil_ohm_m, rods)
        if (open_v - TEST_V) * earth / (internal_ohm + earth) <= most_v:
            return rods
    return most


def battery_ah(joules, pulse_s, days):
    """Up to the next 5: within 9 %, and all five rows, of makers' handbooks."""
    amps = joules / (0.60 * pulse_s) / 12
    return 5 * math.ceil(amps * 24 * days / 0.59 / 5 - 1e-9)
