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

import papers
import shapely

from cards import Stock
from cuts import Cutter, same_way, whole
from plane import TOLERANCE, UNITS, Refused, apart, inches, narrowest, show, variant
from giving import units_differ
from table import Making


class Picture:
    """The finished top as drawn."""

    def __init__(self, data):
        self.outer = [complex(p["x"], p["y"]) for p in data["outer"]]
        self.faces = [([complex(p["x"], p["y"]) for p in face["outline"]], face) for face in data["faces"]]
        shapes = [shapely.Polygon([(c.real, c.imag) for c in corners]) for corners, _ in self.faces]
        self.areas = [shape.area for shape in shapes]
        self.tree = shapely.STRtree(shapes)


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
        self.compare(*top)

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
        making = Making(make, parts, self.seam, self.mark, self.prints, self.stock)
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

    def compare(self, patches, outline):
        """The finished top against the picture, corner to boundary both ways."""
        picture = self.picture
        low = complex(min(c.real for c in outline), min(c.imag for c in outline))
        want = complex(min(c.real for c in picture.outer), min(c.imag for c in picture.outer))
        move = want - low
        outline = [corner + move for corner in outline]
        off = apart(outline, picture.outer)
        self.largest = max(self.largest, off)
        if off > TOLERANCE:
            raise Refused(f"the finished outline differs from the picture by {show(off)}", "top")
        frame = shapely.Polygon([(c.real, c.imag) for c in outline])
        shapely.prepare(frame)
        made = {}
        for patch in patches:
            made.setdefault(patch.face, []).append(patch)
        found = {}
        for group in made.values():
            first = group[0]
            corners, area = self.face(group, move, frame)
            if corners is None:
                continue
            where = f"top, face of piece {first.label}"
            middle = shapely.Polygon([(c.real, c.imag) for c in corners]).representative_point()
            near = self.best(corners, middle)
            if near is None:
                raise Refused(f"lies at {middle.x:.3f}, {middle.y:.3f} where the picture has no face", where)
            off, index = near
            if index in found:
                raise Refused(f"two faces lie where the picture has one, at {middle.x:.3f}, {middle.y:.3f}", where)
            found[index] = first
            self.largest = max(self.largest, off)
            around = sum(abs(corners[i] - corners[i - 1]) for i in range(len(corners)))
            if off > TOLERANCE or abs(area - picture.areas[index]) > TOLERANCE * around:
                raise Refused(f"differs from the picture by {show(off)} at {middle.x:.3f}, {middle.y:.3f}", where)
            wanted = picture.faces[index][1]
            if wanted["fabric"] != first.cloth:
                raise Refused(
                    f"is {first.cloth}, the picture has {wanted['fabric']}, at {middle.x:.3f}, {middle.y:.3f}", where
                )
            up = wanted.get("up")
            if up is not None:
                toward = complex(up["toward"]["x"], up["toward"]["y"])
                toward /= abs(toward)
                if not all(same_way(patch.up, toward, "two-way" if up["two_way"] else "one-way") for patch in group):
                    raise Refused(f"its print does not point up as wanted, at {middle.x:.3f}, {middle.y:.3f}", where)
        if len(found) != len(picture.faces):
            raise Refused(f"{len(picture.faces) - len(found)} faces of the picture are missing", "top")

    def face(self, group, move, frame):
        """A face's outline within the finished outline, and its area."""
        shapes = [shapely.Polygon([((c + move).real, (c + move).imag) for c in patch.corners]) for patch in group]
        if len(shapes) > 1:
            grown = [shape.buffer(1e-6, join_style="mitre") for shape in shapes]
            shape = shapely.union_all(grown).buffer(-1e-6, join_style="mitre")
        else:
            shape = shapes[0]
        if not frame.contains_properly(shape):
            shape = shape.intersection(frame)
        if shape.geom_type in ("GeometryCollection", "MultiPolygon"):
            parts = [part for part in shape.geoms if part.geom_type == "Polygon" and part.area > 1e-6]
            if len(parts) > 1:
                raise Refused("is in more than one part", f"top, face of piece {group[0].label}")
            shape = parts[0] if parts else shapely.Polygon()
        if shape.is_empty or shape.area < 1e-6 or shape.geom_type != "Polygon":
            return None, 0.0
        corners = [complex(x, y) for x, y in shape.exterior.coords[:-1]]
        if narrowest(corners) <= TOLERANCE:
            return None, 0.0
        return corners, shape.area

    def best(self, corners, middle):
        """(difference, index) of the picture's face that fits best where this one lies."""
        candidates = self.picture.tree.query(middle, predicate="intersects")
        fits = [(apart(corners, self.picture.faces[i][0]), int(i)) for i in candidates]
        return min(fits) if fits else None


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
