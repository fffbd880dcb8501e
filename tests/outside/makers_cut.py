"""Recipes made by hand in which sewn cloth is cut up again, in the file's words."""

from makers import box, corner, cut, edge, even, finish, give, joined, make, n, part, pattern, picture, run, strip, whole_piece


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
