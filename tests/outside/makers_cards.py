"""Mosaics over card made by hand, in the file's words: squares whipped edge to edge, some of their sides left flat."""

from makers import U, cut, edge, finish, give, make, n, part, pattern, picture, run, strip, whole_piece


def card(name, corners, uses, most, flat=()):
    """A card by its corners, complex inches."""
    places = [{"right": round(z.real * U * 1000), "up": round(z.imag * U * 1000)} for z in corners]
    return {"name": name, "corners": places, "flat": list(flat), "uses": uses, "cut": most}


def basted(piece, name, into, side=0, along=0, flat=(), inside=(), least=0.1875, most=0.375):
    step = {"piece": piece, "card": name, "side": side, "along": edge(piece, along), "into": into}
    step |= {"least": n(least), "most": n(most)}
    step["flat"] = [edge(piece, number) for number in flat]
    step["inside"] = [{"side": of, "edge": edge(piece, number), "by": n(by)} for of, number, by in inside]
    return {"baste": step}


def whipped(a, b, pairs, into):
    return {"whip": {"a": a, "b": b, "edges": [{"a": run(*one), "b": run(*other)} for one, other in pairs], "into": into}}


def out(of, **counts):
    return {"take-out": {"of": of, "cards": [{"card": name, "count": count} for name, count in counts.items()]}}


SQUARE = [0j, 2 + 0j, 2 + 2j, 2j]


def four_squares(size=2.5, unit=False, uses=4, needed=4, laid=True, **how):
    """Four 2 in squares of one card with two flat sides, the lower and the left; finishes 4 in. Turned, each lies in a corner.

    The card's flat sides lie a seam inside the piece's lower and left edges; over the others the rest is folded.
    """
    cloths = {"teal": [strip(size, *[cut(size, size, whole_piece("T")) for _ in range(2)])],
              "plum": [strip(size, *[cut(size, size, whole_piece("P")) for _ in range(2)])]}  # fmt: skip
    inside = [(0, 0, 0.25), (3, 3, 0.25)] if laid else []
    corner_card = card("corner", SQUARE, uses, needed, flat=(0, 3))
    how = {"flat": (0, 3), "inside": inside, **how}
    # Slots: 1 lower left, 2 lower right, 3 upper right, 4 upper left; each a quarter turn on from the last.
    if unit:
        steps = [basted(1, "corner", 11, **how), basted(2, "corner", 12, **how)]
        steps.append(whipped(11, 12, [(((11, 1),), ((12, 2),))], 21))
        sides = [run((11, 0), (12, 3)), run((12, 0)), run((12, 1), (11, 2)), run((11, 3))]
        pair = make("pair", [part(1, "T"), part(2, "P")], steps, [give(21, *sides, seams=[(21, 0)])], times=2)
        steps = [whipped(0, 1, [(((0, 2),), ((1, 2),))], 2), out(2, corner=4)]
        steps.append(finish(2, run((0, 0)), run((0, 1), (1, 3)), run((1, 0)), run((1, 1), (0, 3))))
        makes = [pair, make("top", [part(0, unit="pair"), part(1, unit="pair")], steps)]
    else:
        steps = [basted(slot, "corner", 10 + slot, **how) for slot in (1, 2, 3, 4)]
        steps += [
            whipped(11, 12, [(((11, 1),), ((12, 2),))], 21),
            whipped(13, 14, [(((13, 1),), ((14, 2),))], 22),
            whipped(21, 22, [(((12, 1), (11, 2)), ((14, 1), (13, 2)))], 23),
            out(23, corner=4),
            finish(23, run((11, 0), (12, 3)), run((12, 0), (13, 3)), run((13, 0), (14, 3)), run((14, 0), (11, 3))),
        ]
        kinds = ("T", "P", "T", "P")
        makes = [make("top", [part(slot, kind) for slot, kind in zip((1, 2, 3, 4), kinds)], steps)]
    recipe = pattern(cloths, {"T": "teal", "P": "plum"}, makes)
    recipe["cutting"]["cards"] = [corner_card]
    faces = []
    for number, name in enumerate(("teal", "plum", "teal", "plum")):
        places = [(z - 2 - 2j) * 1j**number + 2 + 2j for z in SQUARE]
        faces.append((name, [(round(z.real, 9), round(z.imag, 9)) for z in places]))
    return recipe, picture(4, 4, *faces)
