"""The second judge: replays a recipe on a plane table and holds the result against the picture of the top.

Written from docs/recipe.md alone. One JSON line for each recipe; the exit code is 0 when all
are proved, 1 when one is not, 2 when the picture cannot be read.

    python replay.py recipe.json picture.json [--mutants DIR]
    python replay.py --many LIST.txt picture.json
"""

import argparse
import json
import sys
from pathlib import Path as File

import grounds
import papers
import shapely

from cards import Stock
from cuts import Cutter, whole
from faces import Comparison, Picture
from plane import UNITS, Refused, inches, variant
from giving import units_differ
from table import Making


class Replay:
    """One pattern, from the cloth to the top."""

    def __init__(self, pattern, picture):
        self.pattern, self.picture = pattern, picture
        self.seams = 0
        self.largest = 0.0
        self.overhangs = set()
        self.pool = {}  # ("piece" | "unit", name) -> [thing, count]

    def run(self):
        if self.pattern.get("format") != 1:
            raise Refused(f"format {self.pattern.get('format')!r} is not known", "file")
        self.recipe = self.pattern["recipe"]
        self.seam, self.mark = inches(self.recipe["seam"]), self.recipe["mark"] / UNITS
        if self.seam <= 0 or self.mark <= 0:
            raise Refused("the seam and the ruler's mark must be more than nothing", "file")
        cutter = Cutter(self.pattern)
        self.prints = cutter.prints
        cut = {kind: count for kind, (_, count) in cutter.kinds.items()}
        for kind, (patch, count) in cutter.kinds.items():
            self.pool[("piece", kind)] = [patch, count]
        sheets = papers.read(self.pattern["cutting"].get("papers", []), self.seam)
        for name, paper in sheets.items():
            self.pool[("paper", name)] = [paper, whole(paper.count)]
        self.guides = grounds.read(self.pattern["cutting"].get("guides", []))
        self.stock = Stock(self.pattern["cutting"].get("cards", []))
        top, spare_units = None, {}
        for make in self.recipe["makes"]:
            name = make["unit"]
            try:
                if name in spare_units:
                    raise Refused("has a making already")
                if top is not None:
                    raise Refused("is made after the top is finished")
                top = self.make(make)
            except Refused as refused:
                refused.where = f"unit {name}" + (f", {refused.where}" if refused.where else "")
                raise
            spare_units[name] = whole(make.get("spare", 0))
        if top is None:
            raise Refused("nothing is finished", "top")
        self.count(cutter, cut, spare_units)
        self.stock.check()
        compared = Comparison(self.picture)
        try:
            compared.compare(*top)
        finally:
            self.largest = compared.largest

    def make(self, make):
        times = whole(make["times"])
        if times == 0:
            raise Refused("is made no times")
        parts = []
        for part in make["parts"]:
            key = variant(part["take"])
            if key not in self.pool:
                raise Refused(f"takes {key[0]} {key[1]}, of which there is none")
            self.pool[key][1] -= times
            if self.pool[key][1] < 0:
                raise Refused(f"takes {-self.pool[key][1]} more of {key[0]} {key[1]} than there are")
            parts.append((part, self.pool[key][0]))
        making = Making(make, parts, self.seam, self.mark, self.prints, self.stock, self.guides)
        making.do(make["steps"])
        self.seams += making.sewn * times
        self.stock.made(making.moves, times)
        self.overhangs |= making.overhangs
        for give in make["gives"]:
            unit = making.give(give, len(make["gives"]) == 1)
            key = ("unit", make["unit"])
            if key in self.pool:
                differ = units_differ(self.pool[key][0], unit, self.prints)
                if differ:
                    raise Refused(f"not all of these units are alike: {differ}")
                self.pool[key][1] += times
            else:
                self.pool[key] = [unit, times]
        if making.live:
            raise Refused(f"slot {min(making.live)} is left lying on the table")
        if making.top is not None and times != 1:
            raise Refused(f"the top is finished {times} times")
        return making.top

    def count(self, cutter, cut, spare_units):
        for kind, note in cutter.notes.items():
            if kind not in cut and note["spare"] > 0:
                raise Refused(f"{note['spare']} are called spare, none is cut", f"piece {kind}")
        for (what, name), (_, left) in self.pool.items():
            spare = whole(cutter.notes[name]["spare"]) if what == "piece" else 0
            if what == "unit":
                spare = spare_units.get(name, 0)
            if left != spare:
                raise Refused(f"{left} left over, {spare} called spare", f"{what} {name}")
        for name, spare in spare_units.items():
            if spare and ("unit", name) not in self.pool:
                raise Refused("is called spare, but none is made", f"unit {name}")


def judge(file, picture):
    """One recipe file; whatever is wrong with it, an answer."""
    replay = None
    verdict = {"file": str(file), "proved": False, "where": "", "why": ""}
    try:
        replay = Replay(json.loads(File(file).read_text(encoding="utf-8")), picture)
        replay.run()
        verdict["proved"] = True
    except Refused as refused:
        verdict["where"], verdict["why"] = refused.where, refused.why
    except (
        OSError,
        ValueError,
        KeyError,
        TypeError,
        AttributeError,
        IndexError,
        ArithmeticError,
        RecursionError,
    ) as broken:
        verdict["where"], verdict["why"] = "file", f"cannot be read: {type(broken).__name__}: {broken}"
    except shapely.errors.ShapelyError as broken:
        verdict["where"], verdict["why"] = "top", f"cannot be compared: {broken}"
    verdict["seams"] = replay.seams if replay else 0
    verdict["overhangs"] = sorted(replay.overhangs) if replay else []
    verdict["largest_difference"] = round(replay.largest, 9) if replay else 0.0
    return verdict


def main(arguments):
    parser = argparse.ArgumentParser(description="Replay recipes and hold them against the picture of the top.")
    parser.add_argument("recipe", help="recipe.json, or with --many a list of such files, one a line")
    parser.add_argument("picture", help="picture.json")
    parser.add_argument("--many", action="store_true", help="the first file is a list")
    parser.add_argument("--mutants", metavar="DIR", help="replay every .json file in DIR as well")
    chosen = parser.parse_args(arguments)
    try:
        picture = Picture(json.loads(File(chosen.picture).read_text(encoding="utf-8")))
    except (OSError, ValueError, KeyError, TypeError) as broken:
        print(f"the picture cannot be read: {type(broken).__name__}: {broken}", file=sys.stderr)
        return 2
    files = [chosen.recipe]
    if chosen.many:
        files = [line.strip() for line in File(chosen.recipe).read_text(encoding="utf-8").splitlines() if line.strip()]
    if chosen.mutants:
        files += sorted(str(file) for file in File(chosen.mutants).glob("*.json"))
    proved = True
    for file in files:
        verdict = judge(file, picture)
        proved = proved and verdict["proved"]
        print(json.dumps(verdict), flush=True)
    return 0 if proved else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
