"""Pieces laid on a ground, made by hand in the file's words: a disc over a leaf, and a hill sewn into the seams."""

from makers import box, cut, even, finish, give, joined, make, n, part, pattern, picture, run, strip, whole_piece
from makers_curved import cut_by, place

SEAM = 0.25


def printed(corners):
    return [place(z) for z in corners]


def template(name, line, cut_line, from_back=False):
    """A template of a piece to be laid on a ground; printed for the back it is the mirror image."""
    flip = (lambda z: complex(-z.real, z.imag)) if from_back else (lambda z: z)
    low = min(flip(z).real for z in cut_line)
    data = {"name": name, "corners": printed([flip(z) - low for z in cut_line])}
    data["applique"] = {"line": printed([flip(z) - low for z in line])}
    if from_back:
        data["applique"]["from_back"] = True
    return data


def around(corners, by):
    """An outline moved out by so much: where the moved lines cross. Convex or not."""
    out, count = [], len(corners)
    for i, corner in enumerate(corners):
        into = (corner - corners[i - 1]) / abs(corner - corners[i - 1])
        onward = (corners[(i + 1) % count] - corner) / abs(corners[(i + 1) % count] - corner)
        turn = (into.conjugate() * onward).imag
        shift = by * (into - onward) / turn if abs(turn) > 1e-9 else -1j * into * by
        out.append(corner + shift)
    return out


def guide(outline, *shapes):
    """Shapes: (line, under, level)."""
    drawn = []
    for line, under, level in shapes:
        stretches = [[{"from": one, "to": other} for one, other in each] for each in (under, level)]
        drawn.append({"line": printed(line), "under": stretches[0], "level": stretches[1]})
    return {"name": "sheet", "outline": printed(outline), "shapes": drawn}


def down(piece, shape, by=SEAM, on=0):
    edge = {"turned": {"by": n(by)}} if by else "raw"
    return {"stitch-down": {"piece": piece, "on": on, "guide": "sheet", "shape": shape, "edge": edge}}


def laid_sheet(on, *sides):
    return {"guide": {"on": on, "guide": "sheet", "sides": list(sides)}}


GROUND = [0j, 6 + 0j, 6 + 6j, 6j]
# A leaf, hollow on its upper side, whose right end goes under a square on point.
LEAF = [1 + 2j, 4 + 2j, 4 + 3.25j, 2.5 + 2.75j, 1 + 3.25j]
DIAMOND = [4 + 0.75j, 5.5 + 2.5j, 4 + 4.25j, 2.75 + 2.5j]


def posy(
    by=SEAM, from_back=False, leaf=None, leaf_cut=None, diamond_cut=None, under=((1, 2),), shapes=None, raw=False, over=DIAMOND
):  # fmt: skip
    """A leaf and a diamond over its end on a plain ground; finishes 6 in."""
    by = 0 if raw else by
    shapes = shapes or [(LEAF, () if raw else under, ()), (over, (), ())]
    leaf = leaf or LEAF
    templates = [
        template("leaf", leaf, leaf_cut or (leaf if raw else around(leaf, by)), from_back),
        template("diamond", over, diamond_cut or (over if raw else around(over, by)), from_back),
    ]
    cloths = {
        "linen": [strip(6.5, cut(6.5, 6.5, whole_piece("G")))],
        "moss": [cut_by(templates[0], "L")],
        "rose": [cut_by(templates[1], "D")],
    }
    sides = [run((0, side)) for side in range(4)]
    steps = [laid_sheet(0, *sides), down(1, 0, by), down(2, 1, by), finish(0, *sides)]
    make_ = make("top", [part(0, "G"), part(1, "L"), part(2, "D")], steps)
    recipe = pattern(cloths, {"G": "linen", "L": "moss", "D": "rose"}, [make_], templates=templates)
    recipe["cutting"]["guides"] = [guide(GROUND, *shapes)]
    drawn = picture(6, 6, ("linen", box(0, 0, 6, 6)))
    laid = picture(6, 6, *[(cloth, [(z.real, z.imag) for z in line]) for cloth, line in (("moss", LEAF), ("rose", over))])
    drawn["laid"] = laid["faces"]
    return recipe, drawn


# A hill along the ground's lower edge, level with its raw edges left, right and below.
HILL = [-0.25 - 0.25j, 4.25 - 0.25j, 4.25 + 1.5j, 2 + 2j, -0.25 + 1.5j]


def hills(level=((4, 2),), by=SEAM, cut_line=None):
    """Two plain squares with a hill each, level at three sides and sewn into the seam between them; finishes 8 by 4."""
    data = template("hill", HILL, cut_line or [*HILL[:2], *(corner + 1j * rise(by) for corner in HILL[2:])])
    cloths = {"sky": [strip(4.5, *[cut(4.5, 4.5, whole_piece("S")) for _ in range(2)])], "hill": [cut_by(data, "H", 2)]}
    sides = [run((0, side)) for side in range(4)]
    square = make(
        "square", [part(0, "S"), part(1, "H")], [laid_sheet(0, *sides), down(1, 0, by)], [give(0, *sides)], times=2
    )
    steps = joined(0, 1, run((0, 1)), run((1, 3)), even((0, 0), (1, 0)), even((0, 2), (1, 2)), 2)
    steps.append(finish(2, run((0, 0), (1, 0)), run((1, 1)), run((1, 2), (0, 2)), run((0, 3))))
    top = make("top", [part(0, unit="square"), part(1, unit="square")], steps)
    recipe = pattern(cloths, {"S": "sky", "H": "hill"}, [square, top], templates=[data])
    recipe["cutting"]["guides"] = [guide([0j, 4 + 0j, 4 + 4j, 4j], (HILL, (), level))]
    shown = [(0, 0), (4, 0), (4, 14 / 9), (2, 2), (0, 14 / 9)]
    drawn = picture(8, 4, *[("sky", box(4 * i, 0, 4, 4)) for i in (0, 1)])
    drawn["laid"] = picture(8, 4, *[("hill", [(x + 4 * i, y) for x, y in shown]) for i in (0, 1)])["faces"]
    return recipe, drawn


def rise(by):
    """How far straight up a line of the hill's slope, a half in two and a quarter, lies `by` off itself."""
    return by * (1 + (0.5 / 2.25) ** 2) ** 0.5
