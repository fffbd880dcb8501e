"""Recipes made by hand with bowed edges, in the file's words: a half circle of quarter pies set into squares."""

import cmath
import math

from makers import even, finish, give, joined, make, n, open_up, part, pattern, picture, run, strip, cut, U
from makers_turned import sewn

SEAM = 0.25


def place(z):
    return {"right": round(z.real * U * 1000), "up": round(z.imag * U * 1000)}


def template(name, corners, bows=None, marks=(), **rest):
    """Corners as complex inches; bows: edge -> places."""
    data = {"name": name, "corners": [place(z) for z in corners], "marks": [place(z) for z in marks]}
    data["bows"] = [{"edge": number, "through": [place(z) for z in through]} for number, through in (bows or {}).items()]
    return {**data, **rest}


def box_of(data):
    places = data["corners"] + [each for bow in data.get("bows", []) for each in bow["through"]]
    rights, ups = [p["right"] for p in places], [p["up"] for p in places]
    return [math.ceil((max(all_) - min(all_)) / 1000) / U for all_ in (rights, ups)]


def cut_by(data, kind, count=1):
    """A strip from which pieces are cut round a template."""
    wide, high = box_of(data)
    gives = {"template": {"piece": {"piece": kind}, "template": data["name"]}}
    return strip(high, *[cut(wide, wide, gives) for _ in range(count)])


def ray(radius, degrees):
    return cmath.rect(radius, math.radians(degrees))


def end_of(number, radius, steps, angle, off, line, way):
    """Where a straight of the arc, moved out by `off`, crosses another line."""
    step = angle / steps
    one, other = (ray(radius + off / math.cos(math.radians(step / 2)), step * (number + i)) for i in (0, 1))
    along = other - one
    share = ((line - one).conjugate() * way).imag / (along.conjugate() * way).imag
    return one + along * share


def arc(radius, steps, angle, off):
    """The inner places of an arc moved out by `off`; derived: so that its straights lie `off` from the finished ones."""
    step = angle / steps
    return [ray(radius + off / math.cos(math.radians(step / 2)), step * i) for i in range(1, steps)]


def pie(radius=3.0, steps=12, angle=90.0, marks=(0, 45, 90), name="pie"):
    """A sector, allowance included. Edges: 0 the lower, 1 the arc, 2 back to the middle."""
    slant = ray(1, angle)
    last = slant * 1j * SEAM  # a place on the upper side's raw line
    apex = -1j * SEAM + ((last + 1j * SEAM).conjugate() * slant).imag / slant.imag
    first_end = end_of(0, radius, steps, angle, SEAM, -1j * SEAM, 1 + 0j)
    last_end = end_of(steps - 1, radius, steps, angle, SEAM, last, slant)
    return template(name, [apex, first_end, last_end], {1: arc(radius, steps, angle, SEAM)}, [ray(radius, m) for m in marks])


def hollow(radius=3.0, side=4.0, steps=12, marks=(90, 45, 0)):
    """A square less a quarter circle at its lower left. Edges: 0 lower, 1 right, 2 upper, 3 left, 4 the hollow."""
    first = end_of(0, radius, steps, 90.0, -SEAM, -1j * SEAM, 1 + 0j)
    last = end_of(steps - 1, radius, steps, 90.0, -SEAM, complex(-SEAM), 1j)
    far = side + SEAM
    corners = [first, complex(far, -SEAM), complex(far, far), complex(-SEAM, far), last]
    through = arc(radius, steps, 90.0, -SEAM)[::-1]
    return template("hollow", corners, {4: through}, [ray(radius, m) for m in marks])


def pinned(a, b, run_a, run_b, pins, into):
    how = {"a": run_a, "b": run_b, "pins": [{"a": one, "b": other} for one, other in pins]}
    return {"lay": {"a": a, "b": b, "how": {"curve": how}, "into": into}}


def half_circle(pie_data=None, hollow_data=None, pins=((0, 2), (1, 1), (2, 0)), fan=False, radius=3.0, steps=12, over=False):
    """Two squares with a quarter circle each; finishes 8 by 4. As a fan each quarter is of two wedges.

    `over`: the hollow piece is pinned on the pie, else the pie on it.
    """
    if fan:
        pie_data = pie_data or pie(steps=steps // 2, angle=45.0, marks=(0, 45))
    pie_data, hollow_data = pie_data or pie(steps=steps), hollow_data or hollow(steps=steps)
    cloths = {"sun": [cut_by(pie_data, "P", 4 if fan else 2)], "sky": [cut_by(hollow_data, "H", 2)]}
    makes = []
    if fan:
        steps_ = joined(0, 1, run((0, 2)), run((1, 0)), "centre", even((0, 0), (1, 2)), 2)
        sides = [run((0, 0)), run((0, 1), (1, 1)), run((1, 2))]
        makes.append(make("fan", [part(0, "P"), part(1, "P")], steps_, [give(2, *sides)], times=2))
    if over:
        lay = pinned(1, 0, run((1, 1)), run((0, 4)), [(b, a) for a, b in reversed(pins)], 100)
    else:
        lay = pinned(0, 1, run((0, 4)), run((1, 1)), pins, 100)
    square = make(
        "square",
        [part(0, "H"), part(1, unit="fan") if fan else part(1, "P")],
        [lay, sewn(100), open_up(100, 3)],
        [give(3, run((1, 0), (0, 0)), run((0, 1)), run((0, 2)), run((0, 3), (1, 2)))],
        times=2,
    )
    # The second stands on its right side, to the left of the first.
    steps_ = joined(0, 1, run((0, 3)), run((1, 0)), even((0, 2), (1, 1)), even((0, 0), (1, 3)), 2, meets=[(0, 0)])
    steps_.append(finish(2, run((1, 3), (0, 0)), run((0, 1)), run((0, 2), (1, 1)), run((1, 2))))
    top = make("top", [part(0, unit="square"), part(1, unit="square")], steps_)
    recipe = pattern(cloths, {"P": "sun", "H": "sky"}, [*makes, square, top], templates=[pie_data, hollow_data])
    chain = [ray(radius, 90 / steps * i) for i in range(steps + 1)]
    faces = []
    for quarter in (1, 1j):
        hole = [z * quarter + 4 for z in [4 + 0j, 4 + 4j, 4j, *chain[::-1]]]
        cake = [z * quarter + 4 for z in [0j, *chain]]
        if fan:
            middle = chain[steps // 2] * quarter + 4
            cakes = [[4 + 0j, *cake[1 : steps // 2 + 2]], [4 + 0j, middle, *cake[steps // 2 + 2 :]]]
        else:
            cakes = [cake]
        faces.append(("sky", [(z.real, z.imag) for z in hole]))
        faces += [("sun", [(z.real, z.imag) for z in each]) for each in cakes]
    return recipe, picture(8, 4, *faces)
