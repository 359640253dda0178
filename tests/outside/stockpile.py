#!/usr/bin/env python3
"""The winter's grass of farms at random, worked out again from the publications.

    tests/outside/stockpile.py PROGRAM [--farms N]

Mass, digestibility, protein, share taken, days and other feed of each part and
month that `stockpile --json` prints. Exit 1 when one differs by over a
millionth.
"""
import argparse
import datetime
import json
import os
import random
import subprocess
import sys

NEAR = 1e-6
POUND_ACRE = 0.45359237 / 0.40468564224
# Sward: kilograms a hectare and metre above the stop height, by the stick.
DENSITY = {"fescue-nitrogen": 225 * POUND_ACRE / 2.54 * 100,
           "mixed": 275 * POUND_ACRE / 2.54 * 100}

# Days of a common year with their values.
LINES = {
    "north-carolina": {"sward": "fescue-nitrogen", "frost": (11, 15),
                       "cut": (11, 15), "protein": [(152, .121), (244, .121)],
                       "mass": [(152, 4755), (244, 4755 - 195 * 92 / 7)]},
    "virginia": {"sward": "fescue-nitrogen", "frost": (11, 5), "cut": (12, 15),
                 "protein": [(152, .094), (244, .113)],
                 "mass": [(152, 3920), (244, 840)]},
    "ontario": {"sward": "mixed", "frost": (10, 15), "cut": (10, 15),
                "protein": [(196, .103), (227, .147)],
                "mass": [(196, 4500), (227, 2600)],
                "digest": [(196, .585), (227, .634)]},
    "ireland": {"sward": "mixed", "frost": (12, 9), "cut": None,
                "mass": [(268, 1602), (343, 402)],
                "digest": [(268, .825), (343, .852)]},
}
OCTOBER = [(152, .590), (182, .590), (244, .717)]
MARCH = [(152, .539), (182, .539), (244, .623)]
# Nutrients and protein in the dry matter that a class needs.
CLASSES = {"dry": (.66 / 1.2, .25 / 2.6), "early_gestation": (.77 / 1.4, .29 / 3.1),
           "late_gestation_by_weight": (2.7 / 4, .42 / 4),
           "late_gestation_by_fibre": (2.7 / 4, .42 / 4)}
NEED = {60: (1.1, 1.3, 1.8), 70: (1.2, 1.4, 1.9), 80: (1.3, 1.5, 2.0)}


def on(points, at, held):
    if held:
        at = min(max(at, points[0][0]), points[-1][0])
    for (x0, y0), (x1, y1) in zip(points, points[1:]):
        if at <= x1 or (x1, y1) == points[-1]:
            return y0 + (y1 - y0) * (at - x0) / (x1 - x0)


def of_year(day):
    return day.replace(year=2027).timetuple().tm_yday


def stands(line, part, winter, day):
    """Mass, digestibility, protein, share taken."""
    row = LINES[line]
    cuts = part["topped"] and part["topped_to"] < part["left"]
    closed = part["topped"] if cuts else part["grazed"]
    old = max((part["topped_to"] if cuts else part["left"]) - .08, 0)
    old *= DENSITY[row["sward"]]
    more = part["nitrogen"]
    grown = max(on(row["mass"], of_year(closed), False), 0)
    grown = min(max(grown + more * (20 if more < 0 else 5), 0), 6000)
    every = min(grown + old, 6000)
    if row["cut"]:
        frost = datetime.date(2027, *row["frost"])
        since = max(datetime.date(2027, *row["cut"]), frost)
        lost = max((day - since).days, 0) / 120
        every_now = every * (1 - winter["loss"]) ** lost
    else:
        every_now = every
    t = max((day - datetime.date(2027, 10, 15)).days / 151, 0)

    def digest_at(at):
        if "digest" not in row:
            first, last = on(OCTOBER, at, True), on(MARCH, at, True)
            return first + (last - first) * t
        return on(row["digest"], at, True) + (
            (.655 - .734) * t if line == "ontario" else 0)
    share_old = 1 - min(grown, every) / every if every else 0
    digest = (1 - share_old) * max(digest_at(of_year(closed)), .393)
    digest += share_old * .393
    protein = None
    if "protein" in row:
        protein = on(row["protein"], of_year(closed), True)
        protein += (.107 - .116) * t if line == "ontario" else 0
    dead = min(max((.714 - digest) / (.714 - .393), 0), 1)
    days = winter["break"]
    share = .35 if not days else on([(3, .7), (14, .5)], days, True)
    share *= on([(.17, .6), (.44, .27)], dead, True) / .6
    return every_now, digest, protein, share


def fed(name, head, weight, need, digest, protein, taken):
    nutrients, proteins = CLASSES[name]
    fibre = on([(.655, .667), (.734, .594)], digest, True)
    limit = weight * (.015 if name.endswith("weight") else .012 / fibre)
    grass = min(max(need, need * nutrients / digest), limit)
    other = max(need * nutrients - grass * digest, 0) / .8
    if protein is not None:
        other = max(other, (need * proteins - grass * protein) / .16)
    if other < 1e-3:
        return 0, min(taken / need, taken * digest / need / nutrients) / head
    return other, 0


def draw(seed):
    pick = random.Random(seed)
    line = pick.choice(list(LINES))
    frost = datetime.date(2027, *LINES[line]["frost"])
    winter = {"loss": pick.choice([0, .25, .32, .5, .75]),
              "break": pick.choice([0, 1, 3, 7, 14])}
    parts = []
    for _ in range(pick.randint(1, 4)):
        grazed = frost - datetime.timedelta(pick.randint(8, 180))
        topped = pick.random() < .5 and grazed + datetime.timedelta(pick.randint(0, 5))
        parts.append({"area": pick.randint(1, 90) / 10, "grazed": grazed,
                      "left": pick.randint(8, 30) / 100, "topped": topped,
                      "topped_to": pick.randint(8, 15) / 100,
                      "nitrogen": pick.choice([0, 0, 40, -30, 112])})
    return line, winter, parts, pick.randint(5, 400), pick.choice(list(NEED))


def command(program, line, winter, parts, head, weight, fields):
    words = [program, "stockpile", "--json", "--quiet", fields, "--line", line,
             "--head", str(head), "--weight", f"{weight} kg", "--class", "dry",
             "--leave", "8 cm", "--winter-loss", f"{winter['loss']}",
             "--break", f"{winter['break']} days" if winter["break"] else "free"]
    for i, part in enumerate(parts):
        said = (f"{i}: area={part['area']} ha, sward={LINES[line]['sward']}, "
                f"grazed={part['grazed']}, left={part['left']} m, "
                f"nitrogen={part['nitrogen']} kg/ha")
        if part["topped"]:
            said += f", topped={part['topped']}, topped-to={part['topped_to']} m"
        words += ["--part", said]
    return words


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("program")
    parser.add_argument("fields")
    parser.add_argument("--farms", type=int,
                        default=60 if os.environ.get("FW_THOROUGH") else 20)
    told = parser.parse_args()
    compared = bad = 0
    for seed in range(told.farms):
        line, winter, parts, head, weight = draw(seed)
        said = json.loads(subprocess.run(
            command(told.program, line, winter, parts, head, weight,
                    told.fields), check=True, capture_output=True).stdout)
        for part, shown in zip(parts, said["parts"], strict=True):
            for month in shown["months"]:
                day = datetime.date.fromisoformat(month["on"])
                mass, digest, protein, share = stands(line, part, winter, day)
                pairs = [(month["mass_kg_ha"], mass), (month["digestible"], digest),
                         (month["protein"], protein), (month["share_taken"], share)]
                for name in CLASSES:
                    need = NEED[weight][min(list(CLASSES).index(name), 2)]
                    other, days = fed(name, head, weight, need, digest, protein,
                                      mass * share * part["area"])
                    pairs += [(month[name]["other_feed_kg"], other),
                              (month[name]["days_at_need"], days)]
                for got, wanted in pairs:
                    compared += 1
                    if got is None or wanted is None:
                        near = got is wanted
                    else:
                        near = abs(got - wanted) <= NEAR * max(1, abs(wanted))
                    if not near:
                        bad += 1
                        print(f"farm {seed}, {shown['part']}, {day}: {got}; "
                              f"expected {wanted}")
    print(f"{compared} figures of {told.farms} farms, {bad} differ")
    sys.exit(bad > 0 or compared == 0)


main()
