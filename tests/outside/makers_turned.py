"""Recipes made by hand with seams that stop, turn or are begun and closed, in the file's words."""

from makers import cut, edge, even, finish, give, make, n, open_up, part, pattern, picture, box, run, strip, whole_piece


def sewn(stack, start="raw", stop="raw"):
    return {"sew": {"stack": stack, "path": {"beside": {"by": n(0.25), "from": start, "to": stop}}}}


def laid(a, b, run_a, run_b, first, last, into):
    how = {"a": run_a, "b": run_b, "first": first, "last": last}
    return {"lay": {"a": a, "b": b, "how": {"edges": how}, "into": into}}


def dot(on, name, one, other):
    place = {"from-edges": {"a": edge(*one), "a_by": n(0.25), "b": edge(*other), "b_by": n(0.25)}}
    return {"dot": {"on": on, "name": name, "at": place}}


def dots(a, b):
    return {"dots": {"a": a, "b": b}}


def windmill(left=True, at=1.25, blade=4.5, width=2.5, middle=2.5):
    """A square with four blades round it, the first sewn in part and closed last; finishes 6 in. Either hand."""
    cloths = {
        "mid": [strip(middle, cut(middle, middle, whole_piece("M")))],
        "sail": [strip(width, *[cut(blade, blade, whole_piece("B")) for _ in range(4)])],
    }
    # Each blade's edge 2 lies along the middle, its edge 0 outside. Parts: 0 the middle, 1 the blade below it.
    if left:
        # The blades follow one another round: right, above, left.
        steps = [laid(0, 1, run((0, 0)), run((1, 2)), "open", even((0, 1), (1, 1)), 10), sewn(10, {"at": n(at)})]
        steps.append(open_up(10, 20))
        for i in (2, 3, 4):
            first, last = even((i - 1, 0), (i, 3)), even((0, i % 4), (i, 1))
            steps += [laid(18 + i, i, run((i - 1, 1), (0, i - 1)), run((i, 2)), first, last, 8 + i + 1)]
            steps += [sewn(9 + i), open_up(9 + i, 19 + i)]
        lower, end = run((4, 1), (0, 0)), even((4, 0), (1, 3))
        sides = [run((i, 0), (i % 4 + 1, 3)) for i in (1, 2, 3, 4)]
        faces = [(0, 0, 4, 2), (4, 0, 2, 4), (2, 4, 4, 2), (0, 2, 2, 4)]
    else:
        # Left, above, right.
        steps = [laid(0, 1, run((0, 0)), run((1, 2)), even((0, 3), (1, 3)), "open", 10), sewn(10, "raw", {"at": n(at)})]
        steps.append(open_up(10, 20))
        for i in (2, 3, 4):
            first, last = even((0, 4 - i), (i, 3)), even((i - 1, 0), (i, 1))
            steps += [laid(18 + i, i, run((0, 5 - i), (i - 1, 3)), run((i, 2)), first, last, 8 + i + 1)]
            steps += [sewn(9 + i), open_up(9 + i, 19 + i)]
        lower, end = run((0, 0), (4, 3)), even((4, 0), (1, 1))
        sides = [run((2, 1), (1, 0)), run((1, 1), (4, 0)), run((4, 1), (3, 0)), run((3, 1), (2, 0))]
        faces = [(2, 0, 4, 2), (0, 0, 2, 4), (0, 4, 4, 2), (4, 2, 2, 4)]
    steps.append({"close": {
        "work": 23, "seam": {"of": 20, "seam": 0}, "a": lower, "b": run((1, 2)), "end": end, "press": "toward-upper",
        "into": 30,
    }})  # fmt: skip
    steps.append(finish(30, *sides))
    parts = [part(0, "M")] + [part(i, "B") for i in (1, 2, 3, 4)]
    recipe = pattern(cloths, {"M": "mid", "B": "sail"}, [make("top", parts, steps)])
    return recipe, picture(6, 6, ("mid", box(2, 2, 2, 2)), *[("sail", box(*face)) for face in faces])


def attic(long=6 + 0.25 + 0.25 * (1 + 2**0.5), pane=4.5, stop="dot", back=False):
    """A pane set into two mitred sides, sewn in two legs; finishes 6 in.

    Derived: a mitred side reaches s (1 + sqrt 2) past its finished outer corner; its inner edge is its width shorter.
    """
    cloths = {
        "shade": [strip(2.5, cut(0, 2.5, "waste"), cut(long, long - 2.5, whole_piece("S")))],
        "light": [strip(2.5, cut(long, long - 2.5, whole_piece("L")))],
        "pane": [strip(pane, cut(pane, pane, whole_piece("P")))],
    }
    sides = [(0, 0), (0, 1), (0, 2), (1, 2), (1, 3), (1, 0)]
    frame = make(
        "frame",
        [part(0, "S"), part(1, "L")],
        [
            dot(0, "shade's", (0, 2), (0, 3)),
            dot(1, "light's", (1, 1), (1, 2)),
            laid(0, 1, run((0, 3)), run((1, 1)), dots("shade's", "light's"), even((0, 0), (1, 0)), 2),
            sewn(2, stop),
            open_up(2, 3),
        ],
        [give(3, *[run(side) for side in sides], seams=[(3, 0)])],
    )
    legs = [  # the pane on the shade's inner edge and on the light's; the dots at the first end of one, the last of the other
        (run((0, 0)), run((1, 2)), dots("pane's", "corner"), even((0, 1), (1, 1)), ("dot", "raw")),
        (run((0, 3)), run((1, 3)), even((0, 2), (1, 4)), dots("pane's", "corner"), ("raw", "dot")),
    ]
    if back:
        legs.reverse()
    (a, b, first, last, ends), (next_a, next_b, next_first, next_last, next_ends) = legs
    steps = [
        dot(0, "pane's", (0, 3), (0, 0)),
        dot(1, "corner", (1, 2), (1, 3)),
        laid(0, 1, a, b, first, last, 2),
        sewn(2, *ends),
        {"pivot": {"stack": 2, "a": next_a, "b": next_b, "first": next_first, "last": next_last}},
        sewn(2, *next_ends),
        open_up(2, 3),
        {"check": {"of": 3, "is": n(2.25 * 2**0.5), "what": {"between": [
            {"crossing": [{"seam": {"of": 3, "seam": 0}}, {"seam": {"of": 3, "seam": 1}}]},
            {"corner": {"before": edge(1, 5), "after": edge(1, 0)}}]}}},
        finish(3, run((1, 0)), run((1, 1), (0, 1)), run((0, 2), (1, 4)), run((1, 5))),
    ]  # fmt: skip
    top = make("top", [part(0, "P"), part(1, unit="frame")], steps)
    recipe = pattern(cloths, {"S": "shade", "L": "light", "P": "pane"}, [frame, top])
    return recipe, picture(
        6, 6, ("pane", box(2, 2, 4, 4)), ("shade", [(0, 0), (6, 0), (6, 2), (2, 2)]), ("light", [(0, 0), (2, 2), (2, 6), (0, 6)])
    )
