"""A recipe made by hand on foundation paper, in the file's words: one section of three pieces."""

from makers import U, cut, edge, finish, make, n, part, pattern, picture, run, strip, whole_piece

SEAM = 0.25
ROOT = (1 + 1 / 16) ** 0.5  # along the slanted line, for each inch up


def place(x, y, low=SEAM):
    """A printed place; the cutting line's box starts at nothing."""
    return {"right": round((x + low) * U * 1000), "up": round((y + low) * U * 1000)}


def sheet(slant=(1.0, 1.75), bar=3.0, seam=SEAM, lines=None, copies=1):
    """A 4 in square: a slanted line from the bar down to the lower edge, then a bar across, whose area is above it."""
    corners = [(0, 0), (4, 0), (4, 4), (0, 4)]
    out = [(-seam, -seam), (4 + seam, -seam), (4 + seam, 4 + seam), (-seam, 4 + seam)]
    if lines is None:
        lines = [((slant[1], bar), (slant[0], 0)), ((0, bar), (4, bar))]
    return {
        "name": "sheet", "print": copies,
        "outline": [place(x, y, seam) for x, y in corners],
        "cutting": [place(x, y, seam) for x, y in out],
        "lines": [{"from": place(*one, seam), "to": place(*other, seam)} for one, other in lines],
    }  # fmt: skip


# What each piece must cover, as printed. Derived from the page: area 0 to a seam past the slanted line and the bar, the
# others to their own line; all to the cutting line.
WANTED = [
    [(-0.25, -0.25), (0.9375 + 0.25 * ROOT, -0.25), (1.8125 + 0.25 * ROOT, 3.25), (-0.25, 3.25)],
    [(0.9375, -0.25), (4.25, -0.25), (4.25, 3.25), (1.8125, 3.25)],
    [(-0.25, 3), (4.25, 3), (4.25, 4.25), (-0.25, 4.25)],
]


def along(area, margin):
    """(past, beyond, length, depth) of a rectangle that covers an area by just so much; all mirrored, as sewn."""
    start, end = [(1.75 + 3j, 1 + 0j), (1 + 0j, 1.75 + 3j), (4 + 3j, 0 + 3j)][area]
    start, end = (complex(-z.real, z.imag) for z in (start, end))
    way = (end - start) / abs(end - start)
    places = [(complex(-x, y) - start) / way for x, y in WANTED[area]]
    low, high = min(z.real for z in places), max(z.real for z in places)
    past = SEAM + (margin if area == 0 else 0)
    return past, margin - low, high - low + 2 * margin, past + max(z.imag for z in places) + margin


def three(margin=0.25, data=None, beyond=0.375, lay=None, pared=True, printed=None, copies=1):
    """Three rectangles on a sheet; `lay`: changes of a piece's place, by area; `printed`: the margin as printed."""
    data = data or sheet(copies=copies)
    cloths, kinds, placing = {}, {}, []
    for area, (kind, cloth) in enumerate((("A", "ash"), ("B", "bay"), ("C", "clay"))):
        past, before, length, depth = along(area, margin)
        cloths[cloth] = [strip(depth, cut(length, length, whole_piece(kind)))]
        kinds[kind] = cloth
        where = {"edge": edge(area + 1, 0), "past": n(past), "beyond": n(before)}
        where["margin"] = n(margin if printed is None else printed)
        placing.append({**where, **(lay or {}).get(area, {})})
    steps = [{"spread": {"on": 0, "piece": 1, "along": placing[0], "into": 10}}]
    for line in (0, 1):
        section = 10 + line
        if pared:
            steps.append({"pare": {"of": section, "line": line, "past": n(SEAM)}})
        over = {"over-paper": {"line": line, "along": placing[line + 1]}}
        steps += [
            {"lay": {"a": section, "b": line + 2, "how": over, "into": 20 + line}},
            {"sew": {"stack": 20 + line, "path": {"on-paper": {"beyond": n(beyond)}}}},
            {"open": {"stack": 20 + line, "press": "toward-upper", "into": 11 + line}},
        ]
    steps.append({"cut-out": {"of": 12, "into": 30}})
    # Going round with the cloth on the left, the sides of a sheet follow in falling order.
    steps.append(finish(30, *[run((30, side)) for side in (3, 2, 1, 0)], up=1))
    parts = [{"slot": 0, "take": {"paper": "sheet"}}, part(1, "A"), part(2, "B"), part(3, "C")]
    recipe = pattern(cloths, kinds, [make("top", parts, steps)])
    recipe["cutting"]["papers"] = [data]
    # The print's mirror.
    return recipe, picture(
        4, 4, ("ash", [(4, 0), (4, 3), (2.25, 3), (3, 0)]), ("bay", [(3, 0), (2.25, 3), (0, 3), (0, 0)]),
        ("clay", [(0, 3), (4, 3), (4, 4), (0, 4)]),
    )  # fmt: skip
