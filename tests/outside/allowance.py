"""Cut outlines against the picture, by shapely alone.

    python allowance.py recipe.json picture.json

The cutting plan is done; then every finished face of the picture, grown by the seam with mitred corners (shapely's
buffer), must fit within some kind of piece of its cloth, turned but never turned over, to 1/64 in. A piece with a bowed
edge must hold all that is within a seam of the face (its points may be cut blunt); one that is basted over a card, or
sewn to paper, what lies straight out from every side by the least that is folded over, or by a seam. A piece that is
sewn on a drawn line (sewn and flipped, or cut apart after) or joined to another need only have the face's area. What is
laid on a ground must have a piece that holds it as it shows. All faces together must fill the outer outline. One JSON
line for each kind of face and one for the areas; the exit code is 0 when all hold.
"""

import argparse
import json
import math
import sys
from pathlib import Path as File

import shapely
from shapely import affinity

from cuts import Cutter
from plane import BOW, TOLERANCE, Line, Patch, Refused, inches, variant

FAR = 1e4  # a mitre limit that cuts no corner off


def grown(corners, seam, join="mitre"):
    """An outline with its seam allowance, corners mitred."""
    shape = shapely.Polygon([(c.real, c.imag) for c in corners]).buffer(seam, join_style=join, mitre_limit=FAR)
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


def fits_bowed(face, piece, seam, slack=TOLERANCE):
    """Whether all that lies within a seam of a face lies on a piece with a bowed edge, some straight of it along that edge."""
    room = polygon(piece.corners).buffer(slack)
    near = polygon(face).buffer(seam)
    for start, end, names in piece.edges():
        if BOW not in names:
            continue
        way, middle = (end - start) / abs(end - start), (start + end) / 2
        for i, corner in enumerate(face):
            edge = corner - face[i - 1]
            turn = way / (edge / abs(edge))
            shift = middle + 1j * way * seam - turn * (corner + face[i - 1]) / 2
            matrix = [turn.real, -turn.imag, turn.imag, turn.real, shift.real, shift.imag]
            if room.covers(affinity.affine_transform(near, matrix)):
                return True
    return False


def lies_within(face, piece):
    """Whether a face lies on a piece to be laid on a ground, some edge of it on one of its line."""
    room = polygon(piece.bears.line).buffer(TOLERANCE)
    ring = piece.bears.line
    for j, there in enumerate(ring):
        way = there - ring[j - 1]
        for i, corner in enumerate(face):
            edge = corner - face[i - 1]
            turn = way / abs(way) / (edge / abs(edge))
            # An edge that is cut off at one end shares the other.
            for shift in (there - turn * corner, ring[j - 1] - turn * face[i - 1]):
                matrix = [turn.real, -turn.imag, turn.imag, turn.real, shift.real, shift.imag]
                if room.covers(affinity.affine_transform(polygon(face), matrix)):
                    return True
    return False


def polygon(corners):
    return shapely.Polygon([(c.real, c.imag) for c in corners])


def basted_over(recipe):
    """Of every kind of piece that is basted, the least that is folded over."""
    least = {}
    for make in recipe["makes"]:
        kinds = {part["slot"]: variant(part["take"])[1] for part in make["parts"]}
        for step in make["steps"]:
            what, body = variant(step)
            if what == "baste":
                kind, by = kinds[body["piece"]], inches(body["least"])
                least[kind] = min(by, least.get(kind, by))
    return least


def on_paper(recipe):
    """The kinds of piece that are sewn to foundation paper."""
    kinds = set()
    for make in recipe["makes"]:
        taken = [variant(part["take"]) for part in make["parts"]]
        if any(what == "paper" for what, _ in taken):
            kinds |= {name for what, name in taken if what == "piece"}
    return kinds


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
    least, papered = basted_over(pattern["recipe"]), on_paper(pattern["recipe"])

    def holds(corners, kind, patch):
        if patch.bears and patch.bears.line:
            return False
        if any(BOW in names for names in patch.names):
            return fits_bowed(corners, patch, seam)
        if kind in papered:  # a section's corners, where its cutting line turns, need no mitred tips
            return fits(grown(corners, seam, "bevel"), patch.corners)
        if kind in least:  # straight out from every side; nothing is asked for beyond a sharp corner
            return fits(grown(corners, min(seam, least[kind]), "bevel"), patch.corners)
        return fits(grown(corners, seam), patch.corners)

    groups = {}
    filled = {}
    for face in picture["faces"]:
        corners = [complex(p["x"], p["y"]) for p in face["outline"]]
        groups.setdefault((face["fabric"], alike(corners)), [corners, 0])[1] += 1
        filled[face["fabric"]] = filled.get(face["fabric"], 0.0) + area(corners)
    for (fabric, _), (corners, count) in groups.items():
        need = area(corners)
        own = {kind: (patch, number) for kind, (patch, number) in cutter.kinds.items() if patch.cloth == fabric}
        whole = [kind for kind, (patch, _) in own.items() if patch.area() >= need and holds(corners, kind, patch)]
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
    for face in picture.get("laid", []):
        corners = [complex(p["x"], p["y"]) for p in face["outline"]]
        kinds = [
            kind
            for kind, (patch, _) in cutter.kinds.items()
            if patch.cloth == face["fabric"] and patch.bears and patch.bears.line and lies_within(corners, patch)
        ]
        way = "laid" if kinds else "none"
        yield {
            "fabric": face["fabric"],
            "faces": 1,
            "area": round(area(corners), 4),
            "way": way,
            "pieces": kinds,
            "holds": bool(kinds),
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
