"""Recipes made by hand in which two pieces are laid dot on dot, crosswise, in the file's words."""

from makers import cut, edge, finish, give, make, n, open_up, part, pattern, picture, run, strip, whole_piece
from makers_cut import cut_apart, on_mark


def in_by(of, one, other, across, up):
    """A place so far inside two edges."""
    return {"from-edges": {"a": edge(of, one), "a_by": n(across), "b": edge(of, other), "b_by": n(up)}}


def laid_dots(a, b, on_a, on_b, into):
    return {"lay": {"a": a, "b": b, "how": {"two-dots": {"a": list(on_a), "b": list(on_b)}}, "into": into}}


def half_rectangles(wide=4.8, high=3.9, out=2.5, by=0.25, past=0.0):
    """Two rectangles across one another, cut apart on the long diagonal; each half-rectangle pair finishes 4 by 3.

    Derived: w + 2 s (1 + h / d) by h + 2 s (1 + w / d), d = 5 the finished diagonal; the cut runs through the middle, as the
    finished diagonal does. The dots lie `out` from the middle.
    """
    cloths = {
        "moss": [strip(high, cut(wide, wide, whole_piece("M")))],
        "rust": [strip(high, cut(wide, wide, whole_piece("R")))],
    }
    x, y = wide / 2 - 0.8 * out, high / 2 - 0.6 * out
    steps = []
    for slot, name in ((0, "m"), (1, "r")):
        off = past if slot else 0.0
        steps.append({"dot": {"on": slot, "name": name + "1", "at": in_by(slot, 3, 0, x, y)}})
        steps.append({"dot": {"on": slot, "name": name + "2", "at": in_by(slot, 1, 2, x - off, y)}})
    steps += [
        {"mark": {"on": 0, "name": "long", "line": {"two-marks": {"from": {"dot": "m1"}, "to": {"dot": "m2"}}}}},
        laid_dots(0, 1, ("m1", "m2"), ("r1", "r2"), 2),
        {"sew": {"stack": 2, "path": {"both-sides": {"mark": "long", "by": n(by)}}}},
        cut_apart(2, on_mark("long"), [(((0, 0), (0, 1)), 3), (((0, 2), (0, 3)), 4)]),
        open_up(3, 5),
        open_up(4, 6),
        {"snip": {"of": 5, "along": [edge(0, 1), edge(1, 3)]}},
        {"snip": {"of": 6, "along": [edge(1, 1), edge(0, 3)]}},
    ]
    gives = [
        give(5, run((0, 0)), run((0, 1)), run((1, 2)), run((1, 3))),
        give(6, run((0, 2)), run((0, 3)), run((1, 0)), run((1, 1))),
    ]
    pair = make("pair", [part(0, "M"), part(1, "R")], steps, gives, spare=1)
    top = make("top", [part(0, unit="pair")], [finish(0, *[run((0, side)) for side in range(4)])])
    recipe = pattern(cloths, {"M": "moss", "R": "rust"}, [pair, top])
    return recipe, picture(4, 3, ("moss", [(0, 0), (4, 0), (4, 3)]), ("rust", [(0, 0), (4, 3), (0, 3)]))
