"""Recipes made by hand in which sewn cloth is cut up again, in the file's words."""

from makers import (
    box, corner, cut, edge, even, finish, give, joined, lay, lay_corner, make, n, open_up, part, pattern, picture, run, strip,
    whole_piece,
)  # fmt: skip


def beside(at, of, number, toward):
    return {"beside": {"line": {"edge": edge(of, number)}, "at": n(at), "toward": corner(*toward)}}


def strip_set(long=8.0, first=0.5, width=2.5, lengths=3, inner=2.5, outer=2.5):
    """Two strips sewn along and cut across into lengths, sewn together head to tail; finishes 6 by 4 in."""
    cloths = {
        "red": [strip(inner, cut(long, long, whole_piece("R")))],
        "blue": [strip(outer, cut(long, long, whole_piece("B")))],
    }
    slots = list(range(10, 10 + lengths))
    # The upper strip comes to lie head to tail: its edge 2 is the set's upper side.
    steps = joined(0, 1, run((0, 2)), run((1, 2)), even((0, 1), (1, 3)), even((0, 3), (1, 1)), 2)
    steps.append({"sub-cut": {
        "of": 2, "first": beside(first, 0, 3, ((0, 0), (0, 1))), "toward": corner((0, 0), (0, 1)), "width": n(width),
        "into": slots,
    }})  # fmt: skip
    gives = [give(s, run((0, 0)), run((s, 1)), run((1, 0)), run((s, 0)), seams=[(2, 0)]) for s in slots]
    pair = make("pair", [part(0, "R"), part(1, "B")], steps, gives)
    # Each second pair is turned round: its side 3 (the first cut) comes to the right.
    steps = joined(0, 1, run((0, 1)), run((1, 1)), even((0, 0), (1, 2)), even((0, 2), (1, 0)), 3, meets=[(0, 0)])
    steps += joined(3, 2, run((1, 3)), run((2, 3)), even((1, 2), (2, 0)), even((1, 0), (2, 2)), 4, meets=[(0, 0)])
    steps.append(finish(4, run((0, 0), (1, 2), (2, 0)), run((2, 1)), run((2, 2), (1, 0), (0, 2)), run((0, 3))))
    top = make("top", [part(slot, unit="pair") for slot in (0, 1, 2)], steps)
    recipe = pattern(cloths, {"R": "red", "B": "blue"}, [pair, top])
    faces = [(("red", "blue")[(i + j) % 2], box(2 * i, 2 * j, 2, 2)) for i in range(3) for j in range(2)]
    return recipe, picture(6, 4, *faces)


def diagonal(on, name, corners):
    places = [{"corner": corner(*each)} for each in corners]
    return {"mark": {"on": on, "name": name, "line": {"two-marks": {"from": places[0], "to": places[1]}}}}


def on_mark(name):
    # At nothing beside a mark: the corner it should lie toward is not asked for.
    return {"beside": {"line": {"mark": name}, "at": n(0), "toward": corner((0, 0), (0, 1))}}


def both_sides(stack, name):
    return {"sew": {"stack": stack, "path": {"both-sides": {"mark": name, "by": n(0.25)}}}}


def cut_apart(stack, line, keep, offcut=()):
    kept = [{"corner": corner(*at), "into": into} for at, into in keep]
    return {"cut-apart": {"stack": stack, "line": line, "keep": kept, "offcut": [corner(*at) for at in offcut]}}


RISING = [((0, 3), (0, 0)), ((0, 1), (0, 2))]
FALLING = [((0, 0), (0, 1)), ((0, 2), (0, 3))]


def two_squares(size):
    return {
        "sky": [strip(size, cut(size, size, whole_piece("S")))],
        "sea": [strip(size, cut(size, size, whole_piece("W")))],
    }


def half_square_top(cloths, pair):
    top = make("top", [part(0, unit="pair")], [finish(0, *[run((0, side)) for side in range(4)], up=0)])
    recipe = pattern(cloths, {"S": "sky", "W": "sea"}, [pair, top])
    # Its first two sides, the sky's, come to lie above and on the left.
    return recipe, picture(2, 2, ("sky", [(0, 0), (2, 2), (0, 2)]), ("sea", [(0, 0), (2, 0), (2, 2)]))


def round_pairs(size=2 * (2.5 / 2**0.5 + 0.25), edges=(0, 1, 2, 3), by=0.25, over=None):
    """Two squares sewn all round and cut on both diagonals: four half-square pairs. Finishes 2 in; three are spare.

    Derived: a quarter's height less the seam is 2 1/2 / sqrt 2.
    """
    cloths = two_squares(size)
    if over is not None:
        cloths["sea"] = [strip(over, cut(over, over, whole_piece("W")))]
    steps = [
        diagonal(0, "rising", RISING),
        diagonal(0, "falling", FALLING),
        lay(0, 1, run((0, 0)), run((1, 0)), "centre", "centre", 2),
        {"sew": {"stack": 2, "path": {"round": {"edges": [edge(0, side) for side in edges], "by": n(by)}}}},
        cut_apart(2, on_mark("rising"), [(((0, 0), (0, 1)), 3), (((0, 2), (0, 3)), 4)]),
        cut_apart(3, on_mark("falling"), [(((3, 0), (0, 0)), 5), (((0, 1), (3, 0)), 6)]),
        cut_apart(4, on_mark("falling"), [(((4, 0), (0, 2)), 7), (((0, 3), (4, 0)), 8)]),
    ]
    gives = []
    # Of each quarter the cuts going round, first the sky's two; the sea's are the same cuts on the upper layer.
    for stack, before, after in ((5, 5, 3), (6, 3, 6), (7, 7, 4), (8, 4, 8)):
        work = stack + 10
        steps.append(open_up(stack, work))
        gives.append(give(work, *[run(side) for side in ((before, 0), (after, 0), (after, 1), (before, 1))]))
    pair = make("pair", [part(0, "S"), part(1, "W")], steps, gives, spare=3)
    return half_square_top(cloths, pair)


def eight_pairs(size=2 * (2.5 + 0.25 * 2**0.5), at=None):
    """Two squares sewn on both sides of both diagonals, quartered, and cut on one; of the eight pairs a quarter's two.

    Derived: a pair opens to half the square less s sqrt 2.
    """
    at = size / 2 if at is None else at
    steps = [
        diagonal(0, "rising", RISING),
        diagonal(0, "falling", FALLING),
        lay(0, 1, run((0, 0)), run((1, 0)), "centre", "centre", 2),
        both_sides(2, "rising"),
        both_sides(2, "falling"),
        cut_apart(2, beside(at, 0, 3, ((0, 0), (0, 1))), [(RISING[0], 3)], [RISING[1]]),
        cut_apart(3, beside(at, 0, 0, ((0, 2), (0, 3))), [(RISING[0], 5)], [FALLING[1]]),
        cut_apart(5, on_mark("rising"), [(((0, 0), (3, 0)), 7), (((5, 0), (0, 3)), 8)]),
        open_up(7, 17),
        open_up(8, 18),
    ]
    gives = [
        give(17, *[run(side) for side in ((0, 0), (3, 0), (3, 1), (1, 0))]),
        give(18, *[run(side) for side in ((5, 0), (0, 3), (1, 1), (5, 1))]),
    ]
    pair = make("pair", [part(0, "S"), part(1, "W")], steps, gives, spare=1)
    return half_square_top(two_squares(size), pair)


def four_geese(large=4.5 + 0.5 * 2**0.5, small=2.5 + 0.25 * 2**0.5):
    """Two small squares on one large, overlapping; sewn beside the diagonal, cut, opened; one more on each half.

    Four geese, three of them spare; finishes 4 by 2 in. Derived: the seam on a slope takes s sqrt 2 off each square.
    """
    cloths = {
        "goose": [strip(large, cut(large, large, whole_piece("G")))],
        "sky": [strip(small, *[cut(small, small, whole_piece("S")) for _ in range(4)])],
    }
    steps = [
        diagonal(0, "across", RISING),
        lay_corner(0, 1, corner(*RISING[0]), corner((1, 3), (1, 0)), 10),
        lay_corner(10, 2, corner(*RISING[1]), corner((2, 3), (2, 0)), 11),
        both_sides(11, "across"),
        cut_apart(11, on_mark("across"), [(FALLING[0], 12), (FALLING[1], 13)]),
        open_up(12, 14),
        open_up(13, 15),
    ]
    gives = []
    halves = (  # the half, its third square, the goose's corner, and the two geese: a corner, their sides
        (14, 3, FALLING[0], ((1, 2), (1, 3)), [(0, 0)], [(3, 0)], [(3, 1), (1, 2)], [(1, 3)],
         ((2, 0), (2, 1)), [(0, 1)], [(2, 0)], [(2, 1), (3, 2)], [(3, 3)]),
        (15, 4, FALLING[1], ((2, 2), (2, 3)), [(0, 2)], [(4, 0)], [(4, 1), (2, 2)], [(2, 3)],
         ((1, 0), (1, 1)), [(0, 3)], [(1, 0)], [(1, 1), (4, 2)], [(4, 3)]),
    )  # fmt: skip
    for half, third, at, *geese in halves:
        name, stack = f"third {third}", 10 * third
        steps += [
            diagonal(third, name, [((third, 3), (third, 0)), ((third, 1), (third, 2))]),
            lay_corner(half, third, corner(*at), corner((third, 3), (third, 0)), stack),
            both_sides(stack, name),
            cut_apart(stack, on_mark(name), [(geese[0], stack + 1), (geese[5], stack + 2)]),
            open_up(stack + 1, stack + 3),
            open_up(stack + 2, stack + 4),
        ]
        gives.append(give(stack + 3, *[run(*side) for side in geese[1:5]]))
        gives.append(give(stack + 4, *[run(*side) for side in geese[6:]]))
    geese = make("goose", [part(0, "G")] + [part(i, "S") for i in (1, 2, 3, 4)], steps, gives, spare=3)
    top = make("top", [part(0, unit="goose")], [finish(0, *[run((0, side)) for side in range(4)])])
    recipe = pattern(cloths, {"G": "goose", "S": "sky"}, [geese, top])
    return recipe, picture(
        4, 2, ("goose", [(0, 0), (4, 0), (2, 2)]), ("sky", [(4, 0), (4, 2), (2, 2)]), ("sky", [(0, 0), (2, 2), (0, 2)])
    )
