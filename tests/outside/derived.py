"""Measures on shapely's mitred buffer what data/derived_exact_shape_allowances.csv says in closed form.

python derived.py        prints the table with what was measured
"""

import csv
import math
from pathlib import Path

import shapely
from shapely import affinity

TABLE = Path(__file__).parent / "data" / "derived_exact_shape_allowances.csv"
SEAM = 0.25


def rows():
    """The table's rows, without its first line, which says what it is."""
    with TABLE.open(encoding="utf-8", newline="") as file:
        next(file)
        yield from csv.DictReader(file)


def grow(corners, seam=SEAM):
    return shapely.Polygon(corners).buffer(seam, join_style="mitre", mitre_limit=1e4)


def box(shape):
    left, low, right, up = shape.bounds
    return right - left, up - low


def corners(shape):
    return [complex(x, y) for x, y in shape.exterior.coords[:-1]]


def sides(shape):
    places = corners(shape)
    return [abs(places[i] - places[i - 1]) for i in range(len(places))]


def turn(degrees, length=1.0):
    return length * math.cos(math.radians(degrees)), length * math.sin(math.radians(degrees))


def diamond(degrees, side):
    x, y = turn(degrees, side)
    return [(0, 0), (side, 0), (side + x, y), (x, y)]


def hexagon(side):
    return [turn(60 * i, side) for i in range(6)]


def wedge_tip(degrees):
    """The cut tip of a corner at the origin, one of whose edges runs along x."""
    shape = grow([(0, 0), (50, 0), turn(degrees, 50)])
    return min(corners(shape), key=abs)


def octagon_leg(square):
    half = shapely.box(-square / 2, -square / 2, square / 2, square / 2)
    eight = half.intersection(affinity.rotate(half, 45, origin=(0, 0)))
    return (square - min(sides(eight))) / 2


def star(block):
    """Eight diamonds round a middle, as large as the block lets them be: (side, distance between neighbouring tips)."""
    tips, all_round = [], []
    for i in range(8):
        piece = affinity.rotate(shapely.Polygon(diamond(45, 1.0)), 45 * i, origin=(0, 0))
        all_round.append(piece)
        tips.append(max(corners(piece), key=abs))
    scale = block / box(shapely.union_all(all_round))[0]
    return scale, scale * abs(tips[1] - tips[0])


def along_strip(degrees):
    """How far a seam's allowance reaches along the edge of a strip that the seam crosses at an angle."""
    x, y = turn(degrees, 10)
    band = shapely.LineString([(-x, -y), (x, y)]).buffer(SEAM, cap_style="flat")
    return shapely.LineString([(0, 0), (-5, 0)]).intersection(band).length


def flipped_waste(square):
    """The waste of a flipped corner sewn again two seams' widths nearer the corner: the leg up to that second seam."""
    corner = shapely.Polygon([(0, 0), (square, 0), (0, square)])
    diagonal = shapely.LineString([(2 * square, -square), (-square, 2 * square)])
    return box(corner.difference(diagonal.buffer(2 * SEAM, cap_style="flat")))[0]


def pie(radius, seam):
    """The far point and the length of a quarter circle's arc, grown (or with a negative seam shrunk) along its curve."""
    disc = shapely.Point(0, 0).buffer(radius, quad_segs=4000).buffer(seam, quad_segs=4000)
    arc = disc.exterior.intersection(shapely.box(0, 0, 2 * radius, 2 * radius))
    return box(disc)[0] / 2, arc.length


def measured(row):
    """The row's quantity as measured; a pair where the table has two."""
    shape, finished, quantity = row["shape"], row["finished"], row["quantity"]
    if shape == "quarter-square triangle":
        return box(grow([(0, 0), (2, 0), (1, 1)]))[0]
    if shape == "equilateral triangle":
        base = 2 * 3 / math.sqrt(3)
        return box(grow([(0, 0), (base, 0), (base / 2, 3)]))[1]
    if shape.endswith("-degree diamond"):
        piece = grow(diamond(float(shape.split("-")[0]), 2))
        return box(piece)[1] if "strip width" in quantity else max(sides(piece))
    if shape == "regular hexagon":
        return box(grow(hexagon(2)))[1 if "flat to flat" in quantity else 0]
    if shape == "half-rectangle triangle 2:1":
        wide, high = (float(part) for part in finished.split(" x "))
        return box(grow([(0, 0), (wide, 0), (0, high)]))[0 if "short" in quantity else 1]
    if shape == "regular octagon in a square":
        return octagon_leg(8)
    if shape.startswith("eight-pointed star"):
        return star(12)[0 if "diamond side" in quantity else 1]
    if shape == "trapezoid, two 45-degree ends":
        return box(grow([(0, 0), (6, 0), (4, 2), (2, 2)]))[0]
    if shape == "trapezoid, one 45-degree end":
        return box(grow([(0, 0), (6, 0), (4, 2), (0, 2)]))[0]
    if shape.startswith("corner of angle "):
        tip = wedge_tip(float(shape.removeprefix("corner of angle ")))
        return abs(tip) if quantity.startswith("straight-line") else -tip.real
    if shape.startswith("dog-ear at angle "):
        return -wedge_tip(float(shape.removeprefix("dog-ear at angle "))).real - SEAM
    if shape == "seam at angle to the strip":
        return along_strip(float(finished))
    if shape == "sew-and-flip corner":
        return flipped_waste(4)
    if shape.startswith("quarter-circle"):
        convex, concave = pie(3, SEAM), pie(3, -SEAM)
        return convex[0] if "radius" in quantity else (convex[1], concave[1])
    raise LookupError(f"nothing measures {shape}")


def exact(row):
    """The row's closed form, as a number or a pair of them."""
    values = tuple(float(part) for part in row["exact_in"].split("/"))
    return values if len(values) > 1 else values[0]


if __name__ == "__main__":
    for line in rows():
        print(f"{line['shape']}, {line['finished']}, {line['quantity']}: {line['exact_in']} measured {measured(line)}")
