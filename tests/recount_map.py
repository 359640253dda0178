"""Maps for tests/recount: rows and shapes of a GeoPackage, and distances in its
coordinate system. Nothing but the standard library, so that no sum here leans
on what the program leans on."""
import math
import re
import sqlite3
import struct

WGS84_A = 6378137.0
WGS84_F = 1 / 298.257223563
ENVELOPE_BYTES = (0, 32, 48, 48, 64)


def shape_of(blob):
    """Nested lists of (x, y): a point, a line, rings, or polygons of rings."""
    if blob is None:
        return None
    if blob[:2] != b"GP":
        raise ValueError("no GeoPackage geometry")
    flags = blob[3]
    at = 8 + ENVELOPE_BYTES[flags >> 1 & 7]
    shape, _ = read_wkb(blob, at)
    return shape


def read_wkb(blob, at):
    order = "<" if blob[at] else ">"
    (kind,) = struct.unpack_from(order + "I", blob, at + 1)
    at += 5
    size = 2 + (kind // 1000 in (1, 2)) + 2 * (kind // 1000 == 3)
    kind %= 1000

    def points(count, start):
        flat = struct.unpack_from(f"{order}{count * size}d", blob, start)
        return ([(flat[i], flat[i + 1]) for i in range(0, len(flat), size)],
                start + count * size * 8)

    if kind == 1:
        found, at = points(1, at)
        return found[0], at
    (count,) = struct.unpack_from(order + "I", blob, at)
    at += 4
    if kind == 2:
        return points(count, at)
    parts = []
    for _ in range(count):
        if kind == 3:
            (n,) = struct.unpack_from(order + "I", blob, at)
            part, at = points(n, at + 4)
        else:
            part, at = read_wkb(blob, at)
        parts.append(part)
    return parts, at


class Map:
    """The layers and tables of one GeoPackage."""

    def __init__(self, path):
        self.base = sqlite3.connect(f"file:{path}?mode=ro&immutable=1",
                                    uri=True)
        self.base.row_factory = sqlite3.Row
        shaped = self.base.execute(
            "SELECT table_name, column_name, srs_id "
            "FROM gpkg_geometry_columns").fetchall()
        self.shape_column = {row[0]: row[1] for row in shaped}
        (text,) = self.base.execute(
            "SELECT definition FROM gpkg_spatial_ref_sys WHERE srs_id = ?",
            (shaped[0][2],)).fetchone()
        self.space = Space(text)

    def rows(self, table, where=""):
        """Dictionaries, with the shape as `shape`."""
        found = []
        for row in self.base.execute(f'SELECT * FROM "{table}" {where}'):
            item = dict(row)
            if table in self.shape_column:
                item["shape"] = shape_of(item.pop(self.shape_column[table]))
            found.append(item)
        return found

    def close(self):
        self.base.close()


class Space:
    """Distances and areas: as they are in a projected system, by the
    ellipsoid's two radii where they are in degrees."""

    def __init__(self, text):
        self.projected = text.startswith(("PROJCS", "PROJCRS"))
        units = re.findall(r'UNIT\["[^"]+",\s*([0-9.eE+-]+)', text)
        self.unit_m = float(units[-1]) if self.projected and units else 1.0
        # A projected system draws a metre as up to so much more or less: in UTM
        # it is 0.9996 m at the middle of the zone, on the Dutch grid 0.9999.
        # The two radii are taken at the middle of each distance, which is
        # within a millionth over 5 km.
        self.share = 6e-4 if self.projected else 2e-6
        # A cut's end on the boundary is drawn on the straight line in the
        # file, within 1 mm of where it lies in the plane: at either end.
        self.slack_m = 2e-3

    def radii(self, lat_deg):
        """Metres a degree of longitude and of latitude."""
        e2 = WGS84_F * (2 - WGS84_F)
        lat = math.radians(lat_deg)
        w = math.sqrt(1 - e2 * math.sin(lat) ** 2)
        return (math.radians(WGS84_A / w * math.cos(lat)),
                math.radians(WGS84_A * (1 - e2) / w ** 3))

    def apart_m(self, a, b):
        if self.projected:
            return math.hypot(b[0] - a[0], b[1] - a[1]) * self.unit_m
        x, y = self.radii((a[1] + b[1]) / 2)
        return math.hypot((b[0] - a[0]) * x, (b[1] - a[1]) * y)

    def local(self, points, centre):
        """Metres from a centre, for areas and angles."""
        if self.projected:
            x, y = self.unit_m, self.unit_m
        else:
            x, y = self.radii(centre[1])
        return [((p[0] - centre[0]) * x, (p[1] - centre[1]) * y)
                for p in points]

    def around(self, points, centre):
        """The same with every distance from the centre as it is."""
        if self.projected:
            return self.local(points, centre)
        found = []
        for p in points:
            x, y = self.radii((centre[1] + p[1]) / 2)
            found.append(((p[0] - centre[0]) * x, (p[1] - centre[1]) * y))
        return found

    def length_m(self, line):
        return sum(self.apart_m(a, b) for a, b in zip(line, line[1:]))

    def area_m2(self, polygons, centre):
        return sum(ring_area(self.local(ring, centre))
                   for polygon in polygons for ring in polygon)


def ring_area(ring):
    """Signed: a hole runs the other way round. The ring is closed."""
    return math.fsum(a[0] * b[1] - b[0] * a[1]
                     for a, b in zip(ring, ring[1:])) / 2


def is_seen(rings):
    """Is every place within seen from 0, 0? Not where a side turns away."""
    if len(rings) != 1:
        return False
    turns = [a[0] * b[1] - a[1] * b[0]
             for a, b in zip(rings[0], rings[0][1:] + rings[0][:1])]
    return min(turns) >= 0 or max(turns) <= 0


def mean_distance(rings):
    """Of all points of an area from the origin: the sum over its edges of the
    triangle from the origin to each, with its sign. In the triangle whose edge
    lies h away the integral of the distance is h^3/6 (sec t tan t + asinh tan
    t), taken from one end of the edge to the other."""
    whole, area = [], []
    for ring in rings:
        for (ax, ay), (bx, by) in zip(ring, ring[1:]):
            long = math.hypot(bx - ax, by - ay)
            cross = ax * by - bx * ay
            area.append(cross / 2)
            if long == 0 or abs(cross) < 1e-12 * long:
                continue
            h = cross / long
            ends = []
            for x, y in ((ax, ay), (bx, by)):
                tan = (x * (bx - ax) + y * (by - ay)) / long / abs(h)
                ends.append(tan * math.hypot(1, tan) + math.asinh(tan))
            whole.append(abs(h) ** 3 / 6 * (ends[1] - ends[0]) *
                         math.copysign(1, h))
    return math.fsum(whole) / math.fsum(area)
