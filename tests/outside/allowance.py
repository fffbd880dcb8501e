"""Cut outlines against the picture, by shapely alone.

    python allowance.py recipe.json picture.json

The cutting plan is done; then every finished face of the picture, grown by the seam with mitred corners (shapely's
buffer), must fit within some kind of piece of its cloth, turned but never turned over, to 1/64 in. A piece that is sewn
on a drawn line (sewn and flipped, or cut apart after) or joined to another need only have the face's area. All faces
together must fill the outer outline. One JSON line for each kind of face and one for the areas; the exit code is 0 when
all hold.
"""

import argparse
import json
import math
import sys
from pathlib import Path as File

import shapely

from cuts import Cutter
from plane import TOLERANCE, Line, Patch, Refused, inches, variant

FAR = 1e4  # a mitre limit that cuts no corner off


def grown(corners, seam):
    """An outline with its seam allowance, corners mitred."""
    shape = shapely.Polygon([(c.real, c.imag) for c in corners]).buffer(seam, join_style="mitre", mitre_limit=FAR)
    shape = shapely.orient_polygons(shape)  # counter-clockwise, like every outline here
    return [complex(x, y) for x, y in shape.exterior.coords[:-1]]


def fits(inner, outer, slack=TOLERANCE):
    """Whether an outline can be turned and moved to lie within a convex one (both counter-clockwise), give or take `slack`.

    If it fits at all it fits with an edge of one along an edge of the other, so only those turns are tried. With the turn
    settled, each edge of the outer outline leaves a half-plane of places to move to.
    """
    ways_in, ways_out = directions(inner), directions(outer)
    for turn in {nearly(out / way) for out in ways_out for way in ways_in}:
        turned = [turn * corner for corner in inner]
        anywhere = [FAR * corner for corner in (-1 - 1j, 1 - 1j, 1 + 1j, -1 + 1j)]
        room = Patch(0, "", "", 1j, anywhere, [frozenset()] * 4, 0)
        for i, start in enumerate(outer):
            end = outer[(i + 1) % len(outer)]
            line = Line.through(start, end)
            lowest = min(((corner * line.way.conjugate()).imag for corner in turned))
            base = (start * line.way.conjugate()).imag
            # Moved by t, the lowest corner must lie no more than `slack` to the right of the edge.
            room = room.kept(Line(1j * line.way * (base - lowest - slack), line.way), +1)
            if room is None:
                break
        else:
            return True
    return False


def directions(corners):
    edges = [corners[i] - corners[i - 1] for i in range(len(corners))]
    return [edge / abs(edge) for edge in edges if abs(edge) > 1e-9]


def nearly(turn):
    return complex(round(turn.real, 12), round(turn.imag, 12))


def loose_kinds(recipe):
    """Kinds of piece that a seam on a drawn line changes, and kinds that are joined to make one face."""
    within, flipped, joined = {}, set(), set()
    for make in recipe["makes"]:
        kinds = set()
        for part in make["parts"]:
            what, name = variant(part["take"])
            kinds |= {name} if what == "piece" else within.get(name, set())
        within[make["unit"]] = within.get(make["unit"], set()) | kinds
        for step in make["steps"]:
            what, body = variant(step)
            if what == "sew":
                if variant(body["path"])[0] in ("on-mark", "both-sides"):
                    flipped |= kinds
                if body.get("join"):
                    joined |= kinds
    return flipped, joined


def area(corners):
    return abs(sum((corners[i - 1].conjugate() * corners[i]).imag for i in range(len(corners)))) / 2


def alike(corners):
    """The same for outlines that differ by turning: sides and turnings, from the least onward."""
    steps = []
    for i in range(len(corners)):
        into, out = corners[i] - corners[i - 1], corners[(i + 1) % len(corners)] - corners[i]
        steps.append((round(abs(into), 4), round((into.conjugate() * out).imag, 4)))
    return min(tuple(steps[i:] + steps[:i]) for i in range(len(steps)))


def judge(pattern, picture):
    """One line for each kind of face, and one for the areas."""
    cutter = Cutter(pattern)
    seam = inches(pattern["recipe"]["seam"])
    flipped, joined = loose_kinds(pattern["recipe"])
    groups = {}
    filled = {}
    for face in picture["faces"]:
        corners = [complex(p["x"], p["y"]) for p in face["outline"]]
        groups.setdefault((face["fabric"], alike(corners)), [corners, 0])[1] += 1
        filled[face["fabric"]] = filled.get(face["fabric"], 0.0) + area(corners)
    for (fabric, _), (corners, count) in groups.items():
        wanted, need = grown(corners, seam), area(corners)
        own = {kind: (patch, number) for kind, (patch, number) in cutter.kinds.items() if patch.cloth == fabric}
        whole = [kind for kind, (patch, _) in own.items() if patch.area() >= need and fits(wanted, patch.corners)]
        by_area = [kind for kind, (patch, _) in own.items() if kind in flipped and patch.area() >= need - 1e-6]
        together = sum(patch.area() * number for kind, (patch, number) in own.items() if kind in joined)
        way = "whole" if whole else "by area" if by_area else "joined" if together >= need * count else "none"
        kinds = whole or by_area
        yield {
            "fabric": fabric,
            "faces": count,
            "area": round(need, 4),
            "way": way,
            "pieces": kinds,
            "holds": way != "none",
        }
    outer = area([complex(p["x"], p["y"]) for p in picture["outer"]])
    short = []
    for fabric, needed in filled.items():
        cut = sum(patch.area() * number for patch, number in cutter.kinds.values() if patch.cloth == fabric)
        if cut < needed:
            short.append(fabric)
    total = sum(filled.values())
    holds = math.isclose(total, outer, rel_tol=1e-6) and not short
    yield {
        "outline": round(outer, 4),
        "faces": {f: round(a, 4) for f, a in filled.items()},
        "short": short,
        "holds": holds,
    }


def main(arguments):
    parser = argparse.ArgumentParser(description="Hold cut outlines against the picture of the top.")
    parser.add_argument("recipe")
    parser.add_argument("picture")
    chosen = parser.parse_args(arguments)
    pattern, picture = (json.loads(File(file).read_text(encoding="utf-8")) for file in (chosen.recipe, chosen.picture))
    good = True
    try:
        for line in judge(pattern, picture):
            good = good and line["holds"]
            print(json.dumps(line))
    except Refused as refused:
        good = False
        print(json.dumps({"where": refused.where, "why": refused.why, "holds": False}))
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
