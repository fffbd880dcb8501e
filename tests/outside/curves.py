"""Runs with a bowed edge: the chain of straights a curve is stitched along, the marks on it, what is folded under along it."""

from bisect import bisect_right
from itertools import pairwise

import cmath
import math

from hollow import Hollow, once
from plane import BREATH, FOLD, TOLERANCE, Line, Refused, show

TURN = math.radians(10) + 1e-6  # how far a curve may turn from one straight to the next
SAME_DOT = 1 / 16  # inches: marks nearer than this are one dot


class Curve:
    """A curved run of one work, its pieces right side up: where it is stitched."""

    def __init__(self, run, seam):
        self.run, self.seam = run, seam
        self.lines = [Line.through(segment.start, segment.end) for segment in run.segments]
        ends = [
            (segment.start + 1j * seam * line.way, segment.end + 1j * seam * line.way)
            for segment, line in zip(run.segments, self.lines)
        ]
        self.corners = [ends[0][0]]
        for (before, after), (_, here), (there, _) in zip(pairwise(self.lines), ends, ends[1:]):
            middle = (here + there) / 2
            try:
                corner = before.moved(seam).cross(after.moved(seam))
            except Refused:
                corner = middle
            self.corners.append(corner if abs(corner - middle) <= TOLERANCE else middle)
        self.corners.append(ends[-1][1])
        for line, (start, end) in zip(self.lines, pairwise(self.corners)):
            if ((end - start) * line.way.conjugate()).real < -TOLERANCE:
                raise Refused("the curve is too tight for the seam: its stitches would run back")
        self.alongs = [0.0]
        for start, end in pairwise(self.corners):
            self.alongs.append(self.alongs[-1] + abs(end - start))

    def straights(self, further):
        """(along at its start, start, end) of every straight of the chain, gone on with at both ends."""
        first, last = self.lines[0].way, self.lines[-1].way
        places = [self.corners[0] - first * further, *self.corners, self.corners[-1] + last * further]
        return list(zip([-further, *self.alongs], places, places[1:]))

    def nearest(self, place, further):
        """(distance, along) of the place of the chain nearest to another place."""
        best = (float("inf"), 0.0)
        for along, start, end in self.straights(further):
            length = abs(end - start)
            if length < 1e-12:
                continue
            share = min(length, max(0.0, ((place - start) * (end - start).conjugate()).real / length))
            best = min(best, (abs(place - start - (end - start) / length * share), along + share))
        return best

    def way(self, along, onward):
        """The direction of the chain at a place; where it has a corner there, of what comes after or before it."""
        reach = along + (1e-6 if onward else -1e-6)
        number = min(max(bisect_right(self.alongs, reach) - 1, 0), len(self.lines) - 1)
        if reach < 0 or reach > self.alongs[-1]:
            return self.lines[number].way
        start, end = self.corners[number], self.corners[number + 1]
        return (end - start) / abs(end - start)

    def place(self, along):
        if along <= 0:
            return self.corners[0] + self.lines[0].way * along
        if along >= self.alongs[-1]:
            return self.corners[-1] + self.lines[-1].way * (along - self.alongs[-1])
        number = bisect_right(self.alongs, along) - 1
        start, end = self.corners[number], self.corners[number + 1]
        return start + (end - start) / abs(end - start) * (along - self.alongs[number])

    def between(self, low, high):
        """(along, place) of the corners of the chain between two places, with these two."""
        inner = [(along, corner) for along, corner in zip(self.alongs, self.corners) if low < along < high]
        return [(low, self.place(low)), *inner, (high, self.place(high))]

    def marks(self, patches):
        """Along the chain, the printed marks of its pieces, in order; marks that are one dot once."""
        found = []
        for patch in patches:
            if patch.key in self.run.pieces and patch.bears:
                for mark in patch.bears.marks:
                    distance, along = self.nearest(mark, 4 * self.seam)
                    if distance <= TOLERANCE:
                        found.append(along)
        found.sort()
        return [along for i, along in enumerate(found) if i == 0 or along - found[i - 1] >= SAME_DOT]

    def taken_in(self, patch, low, high):
        """The stretches of the chain, between two places along it, that lie on a patch."""
        found = []
        for (along, start), (_, end) in pairwise(self.between(low, high)):
            length = abs(end - start)
            if length <= 1e-6:
                continue
            for one, other, _ in patch.stretches(Line.through(start, end)):
                if min(other, length) - max(one, 0.0) > BREATH:
                    found.append((along + max(one, 0.0), along + min(other, length)))
        return found

    # --- folding under --------------------------------------------------------------------------------------------

    def folded(self, patch):
        """A piece of the run without what lies between its raw edges of the run and the chain."""
        while True:
            count = len(patch.corners)
            raw = [bool(names & self.run.names) for names in patch.names]
            starts = [i for i in range(count) if raw[i] and not raw[i - 1]]
            if not starts:
                if all(raw):
                    raise Refused(f"piece {patch.label} is all allowance")
                return patch
            first = last = starts[0]
            while raw[(last + 1) % count]:
                last = (last + 1) % count
            patch = self.off(patch, first, last)
            if patch is None:
                return None

    def off(self, patch, first, last):
        """Without what lies between the chain and the raw edges numbered from first to last."""
        count = len(patch.corners)
        around = [(last + 1 + step) % count for step in range((first - last - 1) % count)]
        leaves = self.first_met(patch, around, onward=True)
        enters = self.first_met(patch, around[::-1], onward=False)
        if leaves is None or enters is None:
            raise Refused(f"the stitches do not run out of piece {patch.label} beside its edge")
        (out_at, out_share, out_place, out_along), (in_at, in_share, in_place, in_along) = leaves, enters
        here, there = around.index(out_at), around.index(in_at)
        if (here, out_share) >= (there, in_share) or in_along >= out_along:
            raise Refused(f"nothing is left of piece {patch.label} beyond its curve")
        rest = around[here + 1 : there + 1]
        chain = [place for along, place in self.between(in_along, out_along)[1:-1]]
        corners = [out_place, *(patch.corners[i] for i in rest), in_place, *chain]
        names = [patch.names[out_at], *(patch.names[i] for i in rest)] + [frozenset([FOLD])] * (len(chain) + 1)
        whole = Hollow(patch.key, patch.label, patch.cloth, patch.up, corners, names, patch.face, patch.bears)
        return once(whole)

    def first_met(self, patch, edges, onward):
        """(edge, share of it, place, along the chain) where a way along the outline first meets the chain."""
        count = len(patch.corners)
        for i in edges:
            start, end = patch.corners[i], patch.corners[(i + 1) % count]
            met = []
            for along, one, other in self.straights(12 * self.seam):
                share = crossed(start, end, one, other)
                if share is not None:
                    place = start + (end - start) * share
                    met.append((share, place, along + abs(place - one)))
            if met:
                return (i, *(min(met, key=lambda each: each[0]) if onward else max(met, key=lambda each: each[0])))
        return None


def crossed(start, end, one, other):
    """The share of a straight at which another crosses it; None where it does not."""
    way, across = end - start, other - one
    turn = (way.conjugate() * across).imag
    if abs(turn) < 1e-14:
        return None
    share = ((one - start).conjugate() * across).imag / turn
    over = ((one - start).conjugate() * way).imag / turn
    return share if -1e-9 <= share <= 1 + 1e-9 and -1e-9 <= over <= 1 + 1e-9 else None


def checked(segments):
    """The segments of a curve in order, each going on from the one before and turning little from it."""
    for one, other in pairwise(segments):
        gap = abs(other.start - one.end)
        if gap > TOLERANCE:
            raise Refused(f"the curve is broken: {show(gap)} between pieces {one.patch.label} and {other.patch.label}")
        turn = abs(cmath.phase((other.end - other.start) / (one.end - one.start)))
        if turn > TURN:
            raise Refused(f"the curve turns by {math.degrees(turn):.1f} degrees at a corner, at most 10 are one edge")
    return segments


def linked(segments):
    """The straights of one curved edge in the order in which each goes on from another."""
    left = list(segments)
    # It begins where no other ends.
    def first_of(some):
        return max(some, key=lambda s: min((abs(s.start - other.end) for other in some if other is not s), default=0.0))

    order = [first_of(left)]
    left.remove(order[0])
    while left:
        onward = min(left, key=lambda segment: abs(segment.start - order[-1].end))
        left.remove(onward)
        order.append(onward)
    return order


