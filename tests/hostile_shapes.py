"""Fields that no person drew: each is an ordinary map file, and large or
tangled in one way. Deterministic, in metres about 25.5 east, 58.9 north."""
import json
import math
import random

LON, LAT = 25.5, 58.9
EAST_M = 111320 * math.cos(math.radians(LAT))
NORTH_M = 111132.0


def ring(points):
    out = [[round(LON + x / EAST_M, 10), round(LAT + y / NORTH_M, 10)]
           for x, y in points]
    return out + [out[0]]


def feature(rings, **told):
    return {"type": "Feature", "properties": told,
            "geometry": {"type": "Polygon",
                         "coordinates": [ring(r) for r in rings]}}


def circle(radius_m, n, x=0.0, y=0.0, way=1):
    return [(x + radius_m * math.cos(way * 2 * math.pi * i / n),
             y + radius_m * math.sin(way * 2 * math.pi * i / n))
            for i in range(n)]


def scribble(n):
    """A ring through n random places: it crosses itself about n * n / 5
    times."""
    draw = random.Random(9)
    return [feature([[(draw.uniform(0, 500), draw.uniform(0, 500))
                      for _ in range(n)]])]


def bow_ties(n):
    """n bow-ties in a row: few crossings for its vertices."""
    there = [(4.0 * i, 3.0 * (i % 2)) for i in range(n + 1)]
    back = [(4.0 * i, 3.0 - 3.0 * (i % 2)) for i in range(n, -1, -1)]
    return [feature([there + back])]


def wobbly_circle(n):
    """Every second vertex juts in, by a centimetre."""
    return [feature([[((300 - 0.01 * (i % 2)) * math.cos(2 * math.pi * i / n),
                       (300 - 0.01 * (i % 2)) * math.sin(2 * math.pi * i / n))
                      for i in range(n)]])]


def comb(n):
    """A bar of 20 m with n teeth of 100 m, half a metre wide."""
    points = [(0.0, 0.0), (float(n), 0.0)]
    for i in range(n, 0, -1):
        points += [(float(i), 120.0), (i - 0.5, 120.0), (i - 0.5, 20.0),
                   (i - 1.0, 20.0)]
    return [feature([points[:-1] + [(0.0, 20.0)]])]


def spiral(wide_m, gap_m, turns, per_turn):
    """A strip wound up, with a gap between its turns."""
    pitch = wide_m + gap_m
    count = turns * per_turn

    def at(i, more_m):
        angle = 2 * math.pi * i / per_turn
        radius = pitch * i / per_turn + 2 * pitch + more_m
        return radius * math.cos(angle), radius * math.sin(angle)
    outer = [at(i, wide_m) for i in range(count + 1)]
    inner = [at(i, 0) for i in range(count, -1, -1)]
    return [feature([outer + inner])]


def grid(n, size_m):
    side = math.ceil(math.sqrt(n))
    step = size_m / side
    return [((i % side + 0.5) * step, (i // side + 0.5) * step, step)
            for i in range(n)]


def square(size_m):
    return [(0.0, 0.0), (size_m, 0.0), (size_m, size_m), (0.0, size_m)]


def ponds(n):
    """n holes in one field of 100 ha."""
    return [feature([square(1000.0)] +
                    [circle(0.3 * step, 6, x, y, -1)
                     for x, y, step in grid(n, 1000.0)])]


def strewn(n, role):
    """A field of 100 ha, and n features of 12 corners that overlap it."""
    draw = random.Random(5)
    size_m = 1000.0
    reach = 0.3 * size_m / math.sqrt(n)
    return [feature([square(size_m)], name="Strewn", role="field")] + [
        feature([circle(reach * draw.uniform(0.5, 1.5), 12,
                        draw.uniform(0, size_m), draw.uniform(0, size_m))],
                role=role) for _ in range(n)]


def write(path, features):
    with open(path, "w", encoding="utf-8") as out:
        json.dump({"type": "FeatureCollection", "features": features}, out)


def waves(n, deep_m):
    """A field with five lobes whose every second vertex juts in."""
    def at(i):
        angle = 2 * math.pi * i / n
        radius = 300 + 40 * math.cos(5 * angle) - deep_m * (i % 2)
        return radius * math.cos(angle), radius * math.sin(angle)
    return [feature([[at(i) for i in range(n)]])]


FLOCK = ("--head 90 --weight 65kg --class dry-ewe --sward ryegrass-clover "
         "--density good --height 20cm --leave 8cm --start 2027-05-03").split()
FARM = """start: 2027-05-03
flock: {class: dry ewes, head: 90, weight: 65 kg, state: dry}
forage: {sward: ryegrass-clover, density: good, height: 20 cm, leave: 8 cm}
fields: {source: map.geojson, where: "role = 'field'"}
maps:
  - {role: ROLE, source: map.geojson, where: "role = 'ROLE'"}
"""


def alone(shape):
    def make(folder):
        path = folder + "/field.geojson"
        write(path, shape)
        return [path] + FLOCK
    return make


def on_a_farm(shape, role):
    def make(folder):
        write(folder + "/map.geojson", shape)
        path = folder + "/farm.yaml"
        with open(path, "w", encoding="utf-8") as out:
            out.write(FARM.replace("ROLE", role))
        return [path]
    return make


def part(n, small):
    return n // 20 if small else n


def field(make, n, words, *args):
    """A row of SHAPES: a field of n of something, in a file of its own."""
    return (lambda folder, small:
            alone(make(part(n, small), *args))(folder), words)


def farm(n, role, words):
    return (lambda folder, small:
            on_a_farm(strewn(part(n, small), role), role)(folder), words)


def arms(turns, words):
    return (lambda folder, small:
            alone(spiral(0.01, 0.01, part(turns, small), 12))(folder), words)


# Of each how it is made, and words of refusals that will do; none where it must
# get a plan. Strewn ponds leave a field in crumbs.
CROSSES = ["crosses "]
NO_LAYOUT = ["no way was found to cut the field into"]
CUT_OUT = ["ponds and other places cut out"]
THIN = ["times as long as a square's", "expected at least 50 m2"]
SHAPES = {
    "scribble": field(scribble, 2000, CROSSES),
    "scribble-10": field(scribble, 20000, CROSSES),
    "bow-ties": field(bow_ties, 20000, CROSSES),
    "circle-flat": field(wobbly_circle, 32000, []),
    "circle-1m": field(waves, 32000, NO_LAYOUT, 1),
    "circle-20m": field(waves, 32000, NO_LAYOUT, 20),
    "comb": field(comb, 2000, []),
    "cm-arms": arms(2000, THIN),
    "spiral": (lambda folder, small: alone(
        spiral(20, 20, 3 if small else 8, 32 if small else 12))(folder), []),
    "holes": field(ponds, 10000, CUT_OUT),
    "ponds": farm(10000, "pond", CUT_OUT + NO_LAYOUT),
    "exclusions": farm(3000, "exclusion", CUT_OUT),
}
