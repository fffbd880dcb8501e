"""The plane the second judge works on: places are complex numbers, inches, y up.

Written from docs/recipe.md alone; nothing here is shared with the engine. A motion is (turn, shift, over): a place z goes
to turn * z + shift, or, when the cloth is turned over, to turn * conj(z) + shift.
"""

import cmath
import math
from dataclasses import dataclass

TOLERANCE = 1 / 64 + 1e-7  # 1/64 in, and a breath for the arithmetic
BREATH = 1e-7  # closer than this is the same place to a computer
UNITS = 8128  # lengths in the file are whole numbers of 1/8128 in
FINER = 1000  # on printed matter, whole thousandths of that


FOLD = ("fold",)  # the name of every folded edge: stitched down, no raw edge
SIDE = "card-side"  # a folded edge with its card in is called (SIDE, number of the card's side) too
BOW = ("bow",)  # the name of every straight of a bowed edge's chain
SURE = math.radians(1)  # how far a print's up may be turned from where it is wanted


class Refused(Exception):
    """The recipe is not proved: where, and why in words with figures."""

    def __init__(self, why, where=""):
        super().__init__(why)
        self.why, self.where = why, where


def inches(size):
    """A printed size, in inches, never less than nothing; its derivation is not looked at."""
    length = either_way(size)
    if length < 0:
        raise Refused(f"a length of {show(length)} is less than nothing")
    return length


def either_way(size):
    """A printed size that may be less than nothing, in inches."""
    return units(size) / UNITS


def units(size):
    """A printed size, in whole 1/8128 in."""
    length = size["len"]
    if isinstance(length, bool) or not isinstance(length, int):
        raise Refused(f"a length must be a whole number, not {length!r}")
    return length


def printed(place):
    """A place on printed matter, in whole 1/8 128 000 in."""
    if isinstance(place, bool) or not isinstance(place, int):
        raise Refused(f"a place on a print must be a whole number, not {place!r}")
    return place


def variant(value):
    """A choice in the file is its name alone, or one name with what belongs to it."""
    if isinstance(value, str):
        return value, None
    if isinstance(value, dict) and len(value) == 1:
        return next(iter(value.items()))
    raise Refused(f"cannot read {str(value)[:80]}")


def show(length):
    """A length for a sentence."""
    return f"{length:.4f} in"


# --- motions -----------------------------------------------------------------------------------------------------

STAY = (1 + 0j, 0j, False)


def go(motion, place):
    turn, shift, over = motion
    return turn * (place.conjugate() if over else place) + shift


def after(second, first):
    """The motion that does `first`, then `second`."""
    turn, shift, over = first
    if second[2]:
        return (second[0] * turn.conjugate(), go(second, shift), not over)
    return (second[0] * turn, go(second, shift), over)


def back(motion):
    turn, shift, over = motion
    if over:
        return (turn, -turn * shift.conjugate(), True)
    return (1 / turn, -shift / turn, False)


# --- lines -------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Line:
    """A straight line with a direction; `way` is one inch long."""

    at: complex
    way: complex

    @staticmethod
    def through(start, end):
        if abs(end - start) < 1e-6:
            raise Refused("a line is asked for through two places that are one")
        return Line(start, (end - start) / abs(end - start))

    def left(self, place):
        """How far the place lies to the left."""
        return ((place - self.at) * self.way.conjugate()).imag

    def along(self, place):
        """How far along the place lies."""
        return ((place - self.at) * self.way.conjugate()).real

    def place(self, along, left=0.0):
        return self.at + self.way * complex(along, left)

    def moved(self, left):
        return Line(self.place(0.0, left), self.way)

    def cross(self, other):
        """Where two lines cross."""
        sine = (self.way.conjugate() * other.way).imag
        if abs(sine) < 1e-6:
            raise Refused("two lines that should cross run side by side")
        return other.place(-self.left(other.at) / sine)

    def carried(self, motion):
        start = go(motion, self.at)
        return Line(start, go(motion, self.at + self.way) - start)


def over_line(line):
    """The motion that mirrors across a line."""
    turn = line.way * line.way
    return (turn, line.at - turn * line.at.conjugate(), True)


# --- cloth -------------------------------------------------------------------------------------------------------


class Patch:
    """A convex piece of cloth: corners in the order of its own right side, the names of the edge after each corner."""

    __slots__ = ("key", "label", "cloth", "up", "corners", "names", "face", "bears")

    def __init__(self, key, label, cloth, up, corners, names, face, bears=None):
        self.key, self.label, self.cloth, self.up = key, label, cloth, up
        self.corners, self.names, self.face = corners, names, face
        self.bears = bears  # printed marks and pieces stitched down, if any

    def like(self, corners, names):
        return type(self)(self.key, self.label, self.cloth, self.up, corners, names, self.face, self.bears)

    def owned(self, owner, key, names):
        """The same cloth as a piece of another name, and as a face of the owner's own."""
        bears, face = self.bears and self.bears.owned(owner), (owner, self.face)
        return type(self)(key, self.label, self.cloth, self.up, self.corners, names, face, bears)

    def bearing(self, bears):
        return type(self)(self.key, self.label, self.cloth, self.up, self.corners, self.names, self.face, bears)

    def carried(self, motion):
        turn, shift, over = motion
        if over:
            corners = [turn * corner.conjugate() + shift for corner in self.corners]
            up = turn * self.up.conjugate()
        else:
            corners = [turn * corner + shift for corner in self.corners]
            up = turn * self.up
        bears = self.bears and self.bears.carried(motion)
        return type(self)(self.key, self.label, self.cloth, up, corners, self.names, self.face, bears)

    def middle(self):
        return sum(self.corners) / len(self.corners)

    def edges(self):
        """(start, end, names) of each edge."""
        corners = self.corners
        return [(corners[i], corners[(i + 1) % len(corners)], self.names[i]) for i in range(len(corners))]

    def area(self):
        corners = self.corners
        return abs(sum((corners[i - 1].conjugate() * corners[i]).imag for i in range(len(corners)))) / 2

    def width(self):
        """The narrowest band the piece fits in."""
        return narrowest(self.corners)

    def chord(self, line):
        """(from, to, depth) of the stretch of a line inside the cloth, depth the lesser reach to either side; or None."""
        lefts = [line.left(corner) for corner in self.corners]
        low, high = min(lefts), max(lefts)
        if low > -BREATH or high < BREATH:
            return None
        places = []
        for i, corner in enumerate(self.corners):
            here, there = lefts[i], lefts[(i + 1) % len(lefts)]
            if abs(here) <= BREATH:
                places.append(line.along(corner))
            elif here * there < 0 and abs(there) > BREATH:
                start = line.along(corner)
                stop = line.along(self.corners[(i + 1) % len(lefts)])
                places.append(start + (stop - start) * here / (here - there))
        return (min(places), max(places), min(-low, high)) if places else None

    def stretches(self, line):
        """Every stretch of a line inside the cloth, as chords: one, or none."""
        found = self.chord(line)
        return [found] if found else []

    def parts(self, line, side):
        """Every part of it on one side of a line."""
        part = self.kept(line, side)
        return [] if part is None else [part]

    def kept(self, line, side, name=None):
        """What lies on one side of a line (+1 left, -1 right); None when nothing does. The new edge is called `name`."""
        lefts = [side * line.left(corner) for corner in self.corners]
        if min(lefts) >= -BREATH:
            return self
        if max(lefts) <= BREATH:
            return None
        fresh = frozenset() if name is None else frozenset([name])
        corners, names, count = [], [], len(lefts)
        for i in range(count):
            here, there = lefts[i], lefts[(i + 1) % count]
            start, end = self.corners[i], self.corners[(i + 1) % count]
            if here >= -BREATH:
                corners.append(start)
                # An edge that only touches the line with its start leaves no cloth: from here the cut runs on.
                names.append(self.names[i] if here > BREATH or there >= -BREATH else fresh)
                if here > BREATH and there < -BREATH:
                    corners.append(start + (end - start) * here / (here - there))
                    names.append(fresh)
            elif there > BREATH:
                corners.append(start + (end - start) * here / (here - there))
                names.append(self.names[i])
        return tidy(self.like(corners, names))


def tidy(patch):
    """Without corners that fall on one another; None when no cloth is left."""
    corners, names = [], []
    count = len(patch.corners)
    for i in range(count):
        if abs(patch.corners[(i + 1) % count] - patch.corners[i]) > 1e-6:
            corners.append(patch.corners[i])
            names.append(patch.names[i])
    if len(corners) < 3:
        return None
    tidied = patch.like(corners, names)
    return tidied if tidied.area() > 1e-6 else None


def narrowest(corners):
    """The narrowest band an outline fits in; for a convex one, measured from each of its edges."""
    best = float("inf")
    for i, corner in enumerate(corners):
        if abs(corner - corners[i - 1]) > BREATH:
            line = Line(corners[i - 1], (corner - corners[i - 1]) / abs(corner - corners[i - 1]))
            lefts = [line.left(other) for other in corners]
            best = min(best, max(lefts) - min(lefts))
    return best


def convex(corners):
    """Whether corners go round counter-clockwise and never turn right."""
    count, turned = len(corners), 0.0
    for i in range(count):
        into = corners[i] - corners[i - 1]
        out = corners[(i + 1) % count] - corners[i]
        turn = (into.conjugate() * out).imag
        if turn < -1e-6:
            return False
        turned += turn
    area = sum((corners[i - 1].conjugate() * corners[i]).imag for i in range(count)) / 2
    return turned > 0 and area > 1e-6 and _once_round(corners)


def _once_round(corners):
    total = 0.0
    for i, corner in enumerate(corners):
        into, out = corner - corners[i - 1], corners[(i + 1) % len(corners)] - corner
        if abs(into) > 1e-9 and abs(out) > 1e-9:
            total += cmath.phase(out / into)
    return abs(total - 2 * math.pi) < 1e-3


def off_boundary(place, corners):
    """How far a place lies from a closed outline's boundary."""
    best = float("inf")
    for i, start in enumerate(corners):
        edge = start - corners[i - 1]
        length = abs(edge)
        here = place - corners[i - 1]
        if length < 1e-12:
            best = min(best, abs(here))
            continue
        share = (here * edge.conjugate()).real / (length * length)
        best = min(best, abs(here - edge * min(1.0, max(0.0, share))))
    return best


def apart(one, other):
    """Corner to boundary, both ways: the largest distance."""
    return max(
        max((off_boundary(corner, other) for corner in one), default=float("inf")),
        max((off_boundary(corner, one) for corner in other), default=float("inf")),
    )
