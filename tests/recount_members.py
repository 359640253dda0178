"""Do the files of a plan tell the same? Every column of plan.gpkg and every
property of plan.geojson against plan.json: the member of that name, or a sum of
this file's own for the columns that plan.json has not. Nothing but the standard
library, and no table of the program's."""
import json
import os
import sqlite3

STYLES = {"kind", "stroke", "stroke-width", "fill", "fill-opacity",
          "marker-color", "marker-size", "marker-symbol"}


class Plan:
    """plan.json with its rows as objects and its names found."""

    def __init__(self, folder):
        with open(os.path.join(folder, "plan.json"), encoding="utf-8") as file:
            self.all = json.load(file)
        self.columns = self.all["columns"]
        self.fences = labelled(self.all["fences"], "fence")
        self.paddocks = labelled(self.all["paddocks"], "paddock")
        self.stays = self.rows("stays")
        self.moves = self.rows("moves")
        self.standings = self.rows("standings")
        self.rules = {rule["rule"]: rule for rule in self.all["rules"]}

    def rows(self, name):
        return self.named(name, self.all[name])

    def named(self, name, rows):
        return [dict(zip(self.columns[name], row)) for row in rows]

    # ---- what each layer should have, by its column ----

    def layers(self):
        """Lists of objects; a function stands for what has to be summed."""
        lists = {name: self.all[name] for name in
                 ("fields", "lanes", "water", "gates", "findings", "cautions")}
        lists["paddocks"] = self.all["paddocks"]
        lists["fences"] = self.all["fences"]
        lists["energizer"] = [self.all["energizer"]]
        lists["stays"], lists["standings"] = self.stays, self.standings
        lists["posts"] = self.posts()
        sums = {
            "paddocks": self.of_paddock, "lanes": self.of_lane,
            "fences": self.of_fence, "findings": self.of_finding,
            "energizer": self.of_energizer, "stays": self.of_stay,
            "standings": self.of_standing}
        for layer, items in lists.items():
            yield layer, [
                {**item, **(sums[layer](i, item) if layer in sums else {})}
                for i, item in enumerate(items)]

    def posts(self):
        found = []
        for label, fence in self.fences:
            numbers = {False: 0, True: 0}
            for post in self.named("posts", fence["posts"]):
                sign = post["why"] == "sign"
                numbers[sign] += 1
                name = f"{fence['fence']}/{'s' if sign else ''}{numbers[sign]}"
                found.append({**post, "post": name, "fence": label})
        return found

    def of_paddock(self, i, _):
        label = self.paddocks[i][0]
        stays = [stay for stay in self.stays if stay["paddock"] == label]
        return {"enter": min((stay["enter"] for stay in stays), default=None),
                "leave": max((stay["leave"] for stay in stays), default=None)}

    @staticmethod
    def of_lane(_, lane):
        return {"kind_of": "apron" if lane["apron"] else "lane"}

    def day(self, move):
        return None if move is None else self.moves[move]["day"]

    def of_fence(self, i, fence):
        label = self.fences[i][0]
        mine = [row for row in self.standings if row["fence"] == label]
        posts = self.named("posts", fence["posts"])
        built = fence["role"] != "perimeter"
        return {"posts": sum(post["why"] != "sign" for post in posts)
                if built else None,
                "up": self.day(mine[0]["up_move"]) if mine else None,
                "down": self.day(mine[-1]["down_move"]) if mine else None}

    def of_finding(self, _, finding):
        rule = self.rules[finding["rule"]]
        return {"text": rule["text"] + (finding["more"] or ""),
                "source": rule["source"]}

    def of_energizer(self, *_):
        return {"energizer": "energizer", "open_v": self.all["power"]["open_v"]}

    def field_of(self, name, pairs):
        return dict(pairs)[name]["field"]

    def of_stay(self, i, stay):
        """A round begins anew with a paddock that was grazed in it."""
        number, seen = 1, set()
        for before in self.stays[:i + 1]:
            if before["paddock"] in seen:
                number, seen = number + 1, set()
            seen.add(before["paddock"])
        return {"stay_number": i + 1, "round": number,
                "field": self.field_of(stay["paddock"], self.paddocks)}

    def of_standing(self, _, row):
        found = {"field": self.field_of(row["fence"], self.fences)}
        for end in ("up", "down"):
            move, step = row[end + "_move"], row[end + "_step"]
            found[end] = self.day(move)
            found[end + "_move_number"] = None if move is None else move + 1
            found[end + "_step_number"] = (
                None if move is None
                else step - self.moves[move]["first_step"] + 1)
        return found


def labelled(items, key):
    """Names that stand several times have a number from the second on."""
    taken = {item[key] for item in items}
    seen, found = {}, []
    for item in items:
        name = item[key]
        seen[name] = seen.get(name, 0) + 1
        label = name
        while seen[name] > 1 and label in taken:
            label = f"{name} ({seen[name]})"
            seen[name] += label in taken
        taken.add(label)
        found.append((label, item))
    return found


def gpkg_layers(folder):
    base = sqlite3.connect(
        f"file:{os.path.join(folder, 'plan.gpkg')}?mode=ro&immutable=1",
        uri=True)
    base.row_factory = sqlite3.Row
    shapes = dict(base.execute(
        "SELECT table_name, column_name FROM gpkg_geometry_columns"))
    tables = [row[0] for row in base.execute(
        "SELECT table_name FROM gpkg_contents")]
    for table in tables:
        if table == "layer_styles":
            continue
        rows = base.execute(f'SELECT * FROM "{table}" ORDER BY 1').fetchall()
        yield table, [{key: row[key] for key in row.keys()
                       if key not in ("fid", shapes.get(table))}
                      for row in rows]
    base.close()


LAYER_OF = {"field": "fields", "paddock": "paddocks", "lane": "lanes",
            "fence": "fences", "post": "posts", "gate": "gates",
            "finding": "findings"}


def geojson_layers(folder):
    with open(os.path.join(folder, "plan.geojson"), encoding="utf-8") as file:
        said = json.load(file)
    found = {"cautions": said["cautions"]}
    for feature in said["features"]:
        properties = feature["properties"]
        layer = LAYER_OF.get(properties["kind"], properties["kind"])
        found.setdefault(layer, []).append(
            {key: value for key, value in properties.items()
             if key not in STYLES})
    return found.items()


def same(column, said, wanted):
    if column == "at_m":  # ten microns in plan.json
        return abs(said - wanted) <= 1e-5
    return said == wanted


def copied_of(field):
    """A column that has the name of one of ours has another here."""
    return {pair["column"]: pair["value"] for pair in field["copied"]}


def compare(name, layers, wanted):
    for layer, rows in layers:
        items = wanted[layer]
        if len(rows) != len(items):
            yield f"{name}: {layer} has {len(rows)} rows, not {len(items)}"
            continue
        if layer == "posts":  # plan.json has them fence by fence
            items = sorted(items, key=lambda post: post["post"])
            rows = sorted(rows, key=lambda post: post["post"])
        for i, (row, item) in enumerate(zip(rows, items)):
            copied = copied_of(item) if layer == "fields" else {}
            for column, said in row.items():
                if column not in item and column not in copied:
                    yield f"{name}: {layer}.{column} is not in plan.json"
                elif not same(column, said, item.get(column,
                                                     copied.get(column))):
                    yield (f"{name}: {layer}[{i}].{column} is {said!r}, not "
                           f"{item.get(column, copied.get(column))!r}")


def empties(value, path):
    """What there is none of is null, never an empty text."""
    if value == "":
        yield f"{path} is an empty text"
    items = (value.items() if isinstance(value, dict)
             else enumerate(value) if isinstance(value, list) else ())
    for key, item in items:
        yield from empties(item, f"{path}.{key}")


def differences(folder):
    plan = Plan(folder)
    wanted = dict(plan.layers())
    gpkg = dict(gpkg_layers(folder))
    geojson = dict(geojson_layers(folder))
    yield from empties(plan.all, "plan.json")
    yield from empties(gpkg, "plan.gpkg")
    yield from empties(geojson, "plan.geojson")
    yield from compare("plan.gpkg", gpkg.items(), wanted)
    yield from compare("plan.geojson", geojson.items(), wanted)
