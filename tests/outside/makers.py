"""Small recipes made by hand, for the second judge's own tests: each says what a maker would do, in the file's words."""

U = 8128


def n(inches):
    """A printed size."""
    return {"len": round(inches * U)}


def edge(of, number):
    return {"of": of, "edge": number}


def run(*refs):
    return [edge(of, number) for of, number in refs]


def corner(before, after):
    return {"before": edge(*before), "after": edge(*after)}


def strip(height, *cuts, times=1, rest=()):
    return {"height": n(height), "times": times, "runs": [{"times": 1, "cuts": list(cuts)}], "rest": list(rest)}


def cut(lower, upper, gives):
    return {"lower": n(lower), "upper": n(upper), "gives": gives}


def whole_piece(kind, turn="as"):
    return {"piece": {"piece": kind, "turn": turn}}


def halves(kind, rising=True):
    return {"halves": {"rising": rising, "lower": {"piece": kind}, "upper": {"piece": kind}}}


def part(slot, piece=None, unit=None):
    return {"slot": slot, "take": {"piece": piece} if piece else {"unit": unit}}


def even(a, b):
    return {"even": {"a": edge(*a), "b": edge(*b)}}


def notch(a, b, about):
    return {"notch": {"a": edge(*a), "b": edge(*b), "about": n(about)}}


def lay(a, b, run_a, run_b, first, last, into, meets=()):
    how = {"a": run_a, "b": run_b, "first": first, "last": last}
    if meets:
        how["meets"] = [{"a": one, "b": other} for one, other in meets]
    return {"lay": {"a": a, "b": b, "how": {"edges": how}, "into": into}}


def lay_corner(a, b, corner_a, corner_b, into):
    return {"lay": {"a": a, "b": b, "how": {"corner": {"a": corner_a, "b": corner_b}}, "into": into}}


def sew(stack, by=0.25, join=False):
    step = {"sew": {"stack": stack, "path": {"beside": {"by": n(by), "from": "raw", "to": "raw"}}}}
    if join:
        step["sew"]["join"] = True
    return step


def open_up(stack, into):
    return {"open": {"stack": stack, "press": "toward-upper", "into": into}}


def joined(a, b, run_a, run_b, first, last, into, meets=(), join=False):
    """Lay, sew and open; the stack's slot is a hundred more than the work's."""
    return [
        lay(a, b, run_a, run_b, first, last, into + 100, meets),
        sew(into + 100, join=join),
        open_up(into + 100, into),
    ]


def finish(top, *sides, up=2):
    return {"finish": {"top": top, "sides": list(sides), "up": up, "seam": n(0.25)}}


def make(unit, parts, steps, gives=(), times=1, spare=0):
    made = {"unit": unit, "label": unit, "times": times, "parts": parts, "steps": steps, "gives": list(gives)}
    if spare:
        made["spare"] = spare
    return made


def give(slot, *sides, seams=()):
    return {"slot": slot, "sides": list(sides), "seams": [{"of": of, "seam": number} for of, number in seams]}


def pattern(cloths, pieces, makes, prints=None, templates=()):
    """`cloths`: fabric -> strips; `pieces`: kind -> fabric or (fabric, spare)."""
    notes = []
    for kind, what in pieces.items():
        fabric, spare = what if isinstance(what, tuple) else (what, 0)
        notes.append({"piece": kind, "fabric": fabric, "label": kind, "spare": spare})
    lengths = {f: 1 + sum(s["height"]["len"] * s["times"] for s in strips) / U for f, strips in cloths.items()}
    return {
        "format": 1,
        "recipe": {
            "title": "by hand", "author": "", "edition": "", "measure": "inch", "mark": U // 8, "seam": n(0.25),
            "fabrics": [
                {"fabric": f, "label": f, "color": "#808080", "right_side": True, "print": (prints or {}).get(f, "none")}
                for f in cloths
            ],
            "pieces": notes,
            "makes": makes,
        },
        "cutting": {
            "cloths": [{"fabric": f, "usable": n(40), "square_up": n(1), "strips": strips} for f, strips in cloths.items()],
            "templates": list(templates),
        },
        "bought": {
            "cloths": [{"fabric": f, "length": n(lengths[f]), "usable": n(40), "bound": n(0)} for f in cloths]
        },
        "whys": [],
    }  # fmt: skip


def picture(width, height, *faces):
    """Faces: (fabric, corners) or (fabric, corners, up, two_way)."""

    def outline(corners):
        return [{"x": x, "y": y} for x, y in corners]

    drawn = []
    for face in faces:
        up = None
        if len(face) > 2:
            up = {"toward": {"x": face[2][0], "y": face[2][1]}, "two_way": face[3]}
        drawn.append({"outline": outline(face[1]), "fabric": face[0], "up": up, "patch": {}})
    return {"outer": outline([(0, 0), (width, 0), (width, height), (0, height)]), "faces": drawn}


def box(x, y, width, height):
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


# --- whole patterns ----------------------------------------------------------------------------------------------


def four_patch(red=2.5, blue=2.5, red_count=2, red_spare=0, prints=None, turn="as"):
    """Two red and two blue squares; finishes 4 in."""
    cloths = {
        "red": [strip(red, *[cut(red, red, whole_piece("R", turn)) for _ in range(red_count)])],
        "blue": [strip(blue, cut(blue, blue, whole_piece("B")), cut(blue, blue, whole_piece("B")))],
    }
    pair = make(
        "pair",
        [part(0, "R"), part(1, "B")],
        joined(0, 1, run((0, 1)), run((1, 3)), even((0, 0), (1, 0)), even((0, 2), (1, 2)), 2),
        [give(2, run((0, 0), (1, 0)), run((1, 1)), run((1, 2), (0, 2)), run((0, 3)), seams=[(2, 0)])],
        times=2,
    )
    top = make(
        "top",
        [part(0, unit="pair"), part(1, unit="pair")],
        # The upper sides of the two pairs come together, so that red lies on blue.
        joined(0, 1, run((0, 2)), run((1, 2)), even((0, 1), (1, 3)), even((0, 3), (1, 1)), 2, meets=[(0, 0)])
        + [finish(2, run((0, 0)), run((0, 1), (1, 3)), run((1, 0)), run((1, 1), (0, 3)))],
    )
    recipe = pattern(cloths, {"R": ("red", red_spare), "B": "blue"}, [pair, top], prints)
    faces = [(("red", "blue")[i ^ j], box(2 * i, 2 * j, 2, 2)) for i in (0, 1) for j in (0, 1)]
    drawn = picture(4, 4, *faces)
    return recipe, drawn


def half_square(size=2.875, trim=True, shave=174 / U, at=2.5):
    """Half-square pairs from two squares of finished + 7/8, sewn both sides of the diagonal; one is spare."""
    cloths = {
        "sky": [strip(size, cut(size, size, whole_piece("S")))],
        "sea": [strip(size, cut(size, size, whole_piece("W")))],
    }
    steps = [
        {"mark": {"on": 0, "name": "diagonal", "line": {"two-marks": {
            "from": {"corner": corner((0, 3), (0, 0))}, "to": {"corner": corner((0, 1), (0, 2))}}}}},
        lay(0, 1, run((0, 0)), run((1, 0)), even((0, 3), (1, 1)), even((0, 1), (1, 3)), 2),
        {"sew": {"stack": 2, "path": {"both-sides": {"mark": "diagonal", "by": n(0.25)}}}},
        {"cut-apart": {"stack": 2,
                       "line": {"beside": {"line": {"mark": "diagonal"}, "at": n(0), "toward": corner((0, 0), (0, 1))}},
                       "keep": [{"corner": corner((0, 0), (0, 1)), "into": 3},
                                {"corner": corner((0, 2), (0, 3)), "into": 4}],
                       "offcut": []}},
        open_up(3, 5),
        open_up(4, 6),
    ]  # fmt: skip
    gives = []
    opened = ((5, 7, [(0, 0), (0, 1), (1, 3), (1, 0)]), (6, 8, [(0, 2), (0, 3), (1, 1), (1, 2)]))
    for work, trimmed, (low, right, up, left) in opened:
        if trim:
            lines = []
            for base, toward, off in ((low, (up, left), up), (left, (low, right), right)):
                ruler = {"beside": {"line": {"edge": edge(*base)}, "at": n(at), "toward": corner(*toward)}}
                lines.append({"ruler": ruler, "off": run(off), "shave": n(shave)})
            steps.append({"trim": {"of": work, "lines": lines, "into": trimmed}})
            gives.append(give(trimmed, run(low), run((trimmed, 1)), run((trimmed, 0)), run(left)))
        else:
            gives.append(give(work, run(low), run(right), run(up), run(left)))
    pair = make("pair", [part(0, "S"), part(1, "W")], steps, gives, spare=1)
    top = make("top", [part(0, unit="pair")], [finish(0, *[run((0, side)) for side in range(4)])])
    recipe = pattern(cloths, {"S": "sky", "W": "sea"}, [pair, top])
    return recipe, picture(2, 2, ("sky", [(0, 0), (2, 0), (2, 2)]), ("sea", [(0, 0), (2, 2), (0, 2)]))


def goose(height=2.5, width=4.5, square=2.5):
    """Sew-and-flip: a square on each upper corner of a rectangle; finishes 4 by 2."""
    cloths = {
        "goose": [strip(height, cut(width, width, whole_piece("G")))],
        "sky": [strip(square, cut(square, square, whole_piece("S")), cut(square, square, whole_piece("S")))],
    }
    steps = []
    work = 0
    flips = ((1, ((0, 1), (0, 2)), "one", ((0, 3), (0, 0))), (2, ((0, 2), (0, 3)), "two", ((0, 0), (1, 3))))
    for slot, at, name, keep in flips:
        out = 20 + slot
        steps += [
            {"mark": {"on": slot, "name": name, "line": {"two-marks": {
                "from": {"corner": corner((slot, 0), (slot, 1))}, "to": {"corner": corner((slot, 2), (slot, 3))}}}}},
            lay_corner(work, slot, corner(*at), corner((slot, 1), (slot, 2)), 10 + slot),
            {"sew": {"stack": 10 + slot, "path": {"on-mark": name}}},
            {"cut-apart": {"stack": 10 + slot,
                           "line": {"beside": {"line": {"mark": name}, "at": n(0.25), "toward": corner(*at)}},
                           "keep": [{"corner": corner(*keep), "into": 30 + slot}], "offcut": [corner(*at)]}},
            open_up(30 + slot, out),
        ]  # fmt: skip
        work = out
    sides = [run((0, 0)), run((1, 3)), run((1, 0), (2, 3)), run((2, 0))]
    steps += [
        {"check": {"of": work, "what": {"across": [sides[0], sides[2]]}, "is": n(2.5)}},
        {"check": {"of": work, "what": {"across": [sides[3], sides[1]]}, "is": n(4.5)}},
        finish(work, *sides),
    ]
    recipe = pattern(
        cloths, {"G": "goose", "S": "sky"}, [make("top", [part(0, "G"), part(1, "S"), part(2, "S")], steps)]
    )
    return recipe, picture(
        4, 2, ("goose", [(0, 0), (4, 0), (2, 2)]), ("sky", [(4, 0), (4, 2), (2, 2)]), ("sky", [(0, 0), (2, 2), (0, 2)])
    )


def slant_pair(about=0.25, lower=4.75, upper=3.5):
    """Two pieces meeting at a 2:1 slope: cut through two marks, notched at both ends, trimmed; finishes 6 by 2."""
    cloths = {
        "left": [strip(2.5, cut(lower, upper, whole_piece("L")))],
        "right": [strip(2.5, cut(3.75, 2.5, whole_piece("R", "half")))],
    }
    # Derived: the raw lower edge is 4 + 1/4 + s cot + s / sin long; the rest is the shave.
    # s = 1/4, cot = 1/2, sin = 2 / sqrt 5.
    exact = 4 + 0.25 + 0.125 + 0.25 * 5**0.5 / 2
    ends = [((0, 3), ((0, 3), (0, 0)), 4.375), ((1, 1), ((1, 0), (1, 1)), 2.125)]
    steps = joined(0, 1, run((0, 1)), run((1, 3)), notch((0, 0), (1, 0), about), notch((0, 2), (1, 2), about), 2)
    steps.append({"mark": {"on": 2, "name": "plumb", "line": {"angle": {
        "line": {"edge": edge(0, 0)}, "angle": "90", "like": edge(0, 3),
        "through": {"crossing": [{"seam": {"of": 2, "seam": 0}}, {"edge": edge(0, 0)}]}}}}})  # fmt: skip
    lines = []
    for off, toward, at in ends:
        ruler = {"beside": {"line": {"mark": "plumb"}, "at": n(at), "toward": corner(*toward)}}
        lines.append({"ruler": ruler, "off": run(off), "shave": n(4.75 - exact)})
    steps.append({"trim": {"of": 2, "lines": lines, "into": 3}})
    steps.append(finish(3, run((0, 0), (1, 0)), run((3, 1)), run((1, 2), (0, 2)), run((3, 0))))
    recipe = pattern(cloths, {"L": "left", "R": "right"}, [make("top", [part(0, "L"), part(1, "R")], steps)])
    return recipe, picture(
        6, 2, ("left", [(0, 0), (4, 0), (3, 2), (0, 2)]), ("right", [(4, 0), (6, 0), (6, 2), (3, 2)])
    )


def square_in_square(
    square=8**0.5 + 0.5, legs=2 + 0.25 * (2 + 2**0.5), by="centre", overhang=0.25 * 2**0.5, snip=False
):
    """A square on point with four triangles, placed by middles, overhangs or dots; finishes 4 in.

    Derived: the triangles' legs are 2 + s (2 + sqrt 2).
    """
    cloths = {
        "in": [strip(square, cut(square, square, whole_piece("Q")))],
        "out": [strip(legs, cut(legs, legs, halves("T")), cut(legs, legs, halves("T")))],
    }
    steps, work = [], 0

    def dotted(on, name, one, other):
        place = {"from-edges": {"a": edge(*one), "a_by": n(0.25), "b": edge(*other), "b_by": n(0.25)}}
        steps.append({"dot": {"on": on, "name": name, "at": place}})

    if by == "dots":
        for side in range(4):
            dotted(0, f"Q{side}", (0, (side + 3) % 4), (0, side))
    for slot, side in ((1, 0), (2, 2), (3, 1), (4, 3)):
        first = last = "centre"
        before, after = (0, (side + 3) % 4), (0, (side + 1) % 4)
        if by == "overhang" and work in (0, 21):  # after that the square's own end edges are sewn away
            first = {"overhang": {"a": edge(*before), "b": edge(slot, 0), "by": n(overhang)}}
            last = {"overhang": {"a": edge(*after), "b": edge(slot, 1), "by": n(overhang)}}
        if by == "dots":
            dotted(slot, f"T{slot}end", (slot, 2), (slot, 0))
            dotted(slot, f"T{slot}start", (slot, 1), (slot, 2))
            first = {"dots": {"a": f"Q{side}", "b": f"T{slot}end"}}
            last = {"dots": {"a": f"Q{(side + 1) % 4}", "b": f"T{slot}start"}}
        steps += joined(work, slot, run((0, side)), run((slot, 2)), first, last, 20 + slot)
        work = 20 + slot
        if snip and slot == 2:
            steps.append({"snip": {"of": work, "along": [edge(0, 1), edge(0, 3)]}})
    # Triangles in order round: 1, 3, 2, 4. Each one's legs are its edges 0 and 1, going round.
    ring = (1, 3, 2, 4)
    sides = [run((ring[i], 1), (ring[(i + 1) % 4], 0)) for i in range(4)]
    steps.append(finish(work, *sides))
    parts = [part(0, "Q")] + [part(i, "T") for i in (1, 2, 3, 4)]
    recipe = pattern(cloths, {"Q": "in", "T": "out"}, [make("top", parts, steps)])
    return recipe, picture(
        4, 4, ("in", [(2, 0), (4, 2), (2, 4), (0, 2)]),
        ("out", [(0, 0), (2, 0), (0, 2)]), ("out", [(2, 0), (4, 0), (4, 2)]),
        ("out", [(4, 2), (4, 4), (2, 4)]), ("out", [(0, 2), (2, 4), (0, 4)]),
    )  # fmt: skip


def joined_strip(join=True):
    """A strip too long for the cloth: two lengths joined end to end as one patch, sewn to a whole one; finishes 10 by 3."""
    cloths = {
        "band": [strip(1.5, cut(5.5, 5.5, whole_piece("J")), cut(5.5, 5.5, whole_piece("J")))],
        "field": [strip(2.5, cut(10.5, 10.5, whole_piece("F")))],
    }
    steps = joined(0, 1, run((0, 1)), run((1, 3)), even((0, 0), (1, 0)), even((0, 2), (1, 2)), 3, join=join)
    steps += joined(2, 3, run((2, 2)), run((0, 0), (1, 0)), even((2, 1), (1, 1)), even((2, 3), (0, 3)), 4)
    steps.append(finish(4, run((2, 0)), run((2, 1), (1, 1)), run((1, 2), (0, 2)), run((0, 3), (2, 3))))
    recipe = pattern(
        cloths, {"J": "band", "F": "field"}, [make("top", [part(0, "J"), part(1, "J"), part(2, "F")], steps)]
    )
    return recipe, picture(10, 3, ("field", box(0, 0, 10, 2)), ("band", box(0, 2, 10, 1)))


def patchwork(across):
    """Rows of four patches, as many across as down; finishes 4 in times as many."""
    recipe, _ = four_patch()
    pair = recipe["recipe"]["makes"][0]
    pair["times"] = 2 * across * across
    block = recipe["recipe"]["makes"][1]
    block["unit"], block["times"] = "block", across * across
    sides = block["steps"].pop()["finish"]["sides"]
    block["gives"] = [give(2, *sides)]
    for fabric, kind in (("red", "R"), ("blue", "B")):
        cloth = next(c for c in recipe["cutting"]["cloths"] if c["fabric"] == fabric)
        need = 2 * across * across
        cloth["strips"] = [strip(2.5, *[cut(2.5, 2.5, whole_piece(kind)) for _ in range(16)], times=need // 16)]
        bought = next(c for c in recipe["bought"]["cloths"] if c["fabric"] == fabric)
        bought["length"] = n(1 + 2.5 * (need // 16))

    def row_of(unit, name, times):
        steps, work, low, up = [], 0, [(0, 0)], [(0, 2)]
        for slot in range(1, across):
            first, last = even(low[-1], (slot, 0)), even(up[-1], (slot, 2))
            steps += joined(work, slot, run((slot - 1, 1)), run((slot, 3)), first, last, 1000 + slot)
            work = 1000 + slot
            low.append((slot, 0))
            up.append((slot, 2))
        sides = [run(*low), run((across - 1, 1)), run(*reversed(up)), run((0, 3))]
        parts = [part(slot, unit=unit) for slot in range(across)]
        return make(name, parts, steps, [give(work, *sides)] if times else (), times or 1), work, sides

    row, _, _ = row_of("block", "row", across)
    # A row standing on its left side is a block of a row of rows: sides 3, 0, 1, 2 take the parts of 0, 1, 2, 3.
    row["gives"][0]["sides"] = row["gives"][0]["sides"][3:] + row["gives"][0]["sides"][:3]
    top, work, sides = row_of("row", "top", 0)
    top["steps"].append(finish(work, *sides, up=1))
    recipe["recipe"]["makes"] = [pair, block, row, top]
    faces = [
        (("red", "blue")[(i + j) % 2], box(2 * i, 2 * j, 2, 2)) for i in range(2 * across) for j in range(2 * across)
    ]
    return recipe, picture(4 * across, 4 * across, *faces)


def hourglass(square=4 + 0.5 * (1 + 2**0.5), meet=(0, 0)):
    """Four quarters of a square, two and two; finishes 4 in. Derived: the square to quarter is n + 2 s (1 + sqrt 2)."""

    def quarters(kind):
        return [strip(square, cut(square, square, {"quarters": [{"piece": kind}] * 4}))]

    cloths = {"dark": quarters("D"), "light": quarters("P")}
    pair = make(
        "pair",
        [part(0, "D"), part(1, "P")],
        joined(0, 1, run((0, 1)), run((1, 2)), even((0, 0), (1, 0)), even((0, 2), (1, 1)), 2),
        [give(2, run((0, 0)), run((1, 0)), run((1, 1), (0, 2)))],
        times=2,
    )
    top = make(
        "top",
        [part(0, unit="pair"), part(1, unit="pair")],
        joined(0, 1, run((0, 2)), run((1, 2)), even((0, 1), (1, 0)), even((0, 0), (1, 1)), 2, meets=[meet])
        + [finish(2, run((0, 0)), run((0, 1)), run((1, 0)), run((1, 1)))],
    )
    recipe = pattern(cloths, {"D": ("dark", 2), "P": ("light", 2)}, [pair, top])
    middle = (2, 2)
    return recipe, picture(
        4, 4, ("dark", [(0, 0), (4, 0), middle]), ("light", [(4, 0), (4, 4), middle]),
        ("dark", [(4, 4), (0, 4), middle]), ("light", [(0, 4), (0, 0), middle]),
    )  # fmt: skip
