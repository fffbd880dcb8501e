"""What lies on the table: works and stacks, and how edges, corners, places and rulers are found on them.

Every work remembers, for each slot that went into it, the motion from that slot's frame into its own. An edge is named
by the slot it was born in and its number there; the names travel with the cloth.
"""

import cmath
import math
from dataclasses import dataclass, field

from plane import BREATH, STAY, TOLERANCE, Line, Refused, after, go, inches, show, variant


@dataclass
class Work:
    """Pieces lying together in one frame, right side up."""

    patches: list
    frames: dict = field(default_factory=dict)  # slot -> motion from its frame into this one
    seams: dict = field(default_factory=dict)  # (slot, number) -> (slot whose frame holds it, start, end)
    bearers: dict = field(default_factory=dict)  # edge -> keys of the pieces that have, or once had, it
    spent: set = field(default_factory=set)  # edges sewn or trimmed off: not to be named once nothing is left of them

    def cloth(self):
        return self.patches


@dataclass
class Path:
    """A line of stitches on a stack."""

    line: Line
    start: float  # along the line, where both layers have cloth
    end: float
    body: int  # which side of the line is kept: +1 left, -1 right, 0 not yet known
    loses: set | None  # the pieces that lose what lies beyond; None: all
    joined: tuple | None  # the lower and the upper face that become one


@dataclass
class Stack:
    """A lower work and an upper work turned over on it."""

    lower: list
    upper: list
    frames: dict
    seams: dict
    upper_slots: set
    bearers: dict
    spent: set
    paths: list = field(default_factory=list)
    laid: object = None

    def cloth(self):
        return self.lower + self.upper


@dataclass(frozen=True)
class Segment:
    """One piece's stretch of a named edge, cloth on its left when right side up."""

    start: complex
    end: complex
    patch: object

    def length(self):
        return abs(self.end - self.start)


def edge_name(ref):
    return (ref["of"], ref["edge"])


def edge_segments(thing, ref, perhaps=False):
    """The segments of an edge, in order along it; none, if `perhaps`, when all of it is folded under or cut off."""
    name = edge_name(ref)
    found = [
        Segment(start, end, patch) for patch in thing.cloth() for start, end, names in patch.edges() if name in names
    ]
    if not found and not (perhaps and name in thing.bearers and name not in thing.spent):
        raise Refused(f"edge {name[1]} of slot {name[0]} is not there (any more)")
    if len(found) > 1:
        line = segments_line(found)
        found.sort(key=lambda segment: line.along(segment.start) + line.along(segment.end))
    return found


def segments_line(segments):
    longest = max(segments, key=Segment.length)
    return Line.through(longest.start, longest.end)


def edge_line(thing, ref):
    return segments_line(edge_segments(thing, ref))


class Run:
    """Edges in order along one straight side."""

    def __init__(self, thing, refs):
        if not refs:
            raise Refused("a run names no edge")
        self.segments = [segment for ref in refs for segment in edge_segments(thing, ref, perhaps=True)]
        if not self.segments:
            raise Refused("nothing is left of the edges a run names")
        self.line = segments_line(self.segments)
        # The piece of an edge that is wholly folded under or cut off is of the run all the same.
        self.pieces = set().union(*(thing.bearers[edge_name(ref)] for ref in refs))
        self.names = {edge_name(ref) for ref in refs}

    def flush(self, what):
        """The run itself, if it lies on one line without gaps."""
        for segment in self.segments:
            off = max(abs(self.line.left(segment.start)), abs(self.line.left(segment.end)))
            if off > TOLERANCE:
                raise Refused(
                    f"{what} is not flush: piece {segment.patch.label} is {show(off)} off the line of its edge"
                )
            if self.line.along(segment.end) < self.line.along(segment.start):
                raise Refused(f"{what} turns back on piece {segment.patch.label}")
        for one, other in zip(self.segments, self.segments[1:]):
            gap = abs(self.line.along(other.start) - self.line.along(one.end))
            if gap > TOLERANCE:
                raise Refused(f"{what} is broken: {show(gap)} between pieces {one.patch.label} and {other.patch.label}")
        return self

    def ends(self):
        places = [self.line.along(place) for segment in self.segments for place in (segment.start, segment.end)]
        return min(places), max(places)

    def middle(self):
        low, high = self.ends()
        return (low + high) / 2


# --- lines and places -------------------------------------------------------------------------------------------


class Eyes:
    """Finds what a recipe points at on one thing on the table."""

    def __init__(self, thing, marks):
        self.thing, self.marks = thing, marks

    def corner(self, ref):
        return edge_line(self.thing, ref["before"]).cross(edge_line(self.thing, ref["after"]))

    def mark(self, name, kind):
        if name not in self.marks:
            raise Refused(f"no mark {name!r} was made")
        drawn, slot, shape = self.marks[name]
        if drawn != kind:
            raise Refused(f"mark {name!r} is a {drawn}, not a {kind}")
        if slot not in self.thing.frames:
            raise Refused(f"mark {name!r} is not on this work")
        return shape, self.thing.frames[slot]

    def drawn_line(self, name):
        line, motion = self.mark(name, "line")
        return line.carried(motion)

    def dot(self, name):
        place, motion = self.mark(name, "dot")
        return go(motion, place)

    def seam(self, ref):
        key = (ref["of"], ref["seam"])
        if key not in self.thing.seams:
            raise Refused(f"seam {key[1]} of slot {key[0]} is not on this work")
        slot, start, end = self.thing.seams[key]
        motion = self.thing.frames[slot]
        return go(motion, start), go(motion, end)

    def line(self, ref):
        what, body = variant(ref)
        if what == "edge":
            return edge_line(self.thing, body)
        if what == "seam":
            return Line.through(*self.seam(body))
        if what == "mark":
            return self.drawn_line(body)
        raise Refused(f"a line given by {what!r} is not known")

    def inside(self, ref, by):
        """The line so far to the inside of an edge's line: on the side where its piece lies."""
        segments = edge_segments(self.thing, ref)
        line = segments_line(segments)
        longest = max(segments, key=Segment.length)
        return line.moved(math.copysign(1.0, line.left(longest.patch.middle())) * by)

    def place(self, ref):
        what, body = variant(ref)
        if what == "corner":
            return self.corner(body)
        if what == "crossing":
            return self.line(body[0]).cross(self.line(body[1]))
        if what == "along":
            corner = self.corner(body["from"])
            segments = edge_segments(self.thing, body["edge"])
            line = segments_line(segments)
            ends = [line.along(place) for segment in segments for place in (segment.start, segment.end)]
            here = line.along(corner)
            if abs(line.left(corner)) > TOLERANCE:
                raise Refused("a place is measured along an edge from a corner that is not on it")
            away = 1 if max(ends) - here >= here - min(ends) else -1
            return line.place(here + away * inches(body["by"]))
        if what == "from-edges":
            return self.inside(body["a"], inches(body["a_by"])).cross(self.inside(body["b"], inches(body["b_by"])))
        if what == "dot":
            return self.dot(body)
        raise Refused(f"a place given by {what!r} is not known")

    def ruler(self, ref):
        """Where the ruler's edge lies."""
        what, body = variant(ref)
        if what == "beside":
            line, at = self.line(body["line"]), inches(body["at"])
            if at == 0:
                return line
            toward = line.left(self.corner(body["toward"]))
            if abs(toward) <= TOLERANCE:
                raise Refused("the corner that tells the ruler's side lies on the line itself")
            return line.moved(math.copysign(at, toward) if at > 0 else -math.copysign(at, toward))
        if what == "angle":
            line, through = self.line(body["line"]), self.place(body["through"])
            degrees = {"30": 30, "45": 45, "60": 60, "90": 90}.get(body["angle"])
            if degrees is None:
                raise Refused(f"no ruler shows {body['angle']} degrees")
            like = edge_line(self.thing, body["like"]).way
            ways = [line.way * cmath.exp(1j * math.radians(sign * degrees)) for sign in (1, -1)]
            return Line(through, max(ways, key=lambda way: abs((way.conjugate() * like).real)))
        if what == "two-marks":
            return Line.through(self.place(body["from"]), self.place(body["to"]))
        raise Refused(f"a ruler placed by {what!r} is not known")


# --- the stretch of a stitch line in one layer -------------------------------------------------------------------


class Stretch:
    """The pieces of a layer that a stitch line goes through, in order along it."""

    def __init__(self, patches, line, run_keys, what):
        self.patches, self.line, self.run_keys, self.what = patches, line, run_keys, what
        self.hits = []
        for patch in patches:
            found = patch.chord(line)
            if found and found[1] - found[0] > BREATH:
                self.hits.append((*found, patch))
        self.hits.sort(key=lambda hit: (hit[0] + hit[1], hit[0]))
        self.own = [hit for hit in self.hits if hit[3].key in run_keys]
        if not self.own:
            raise Refused(f"the stitches miss the pieces of the {what}'s edge")

    def corners(self, corners, ends, seam):
        """The finished corners; where none is known (None), a seam inside an end, but not outside the run's own pieces."""
        first, last = corners
        if first is None:
            first = max(ends[0] + seam, min(hit[0] for hit in self.own))
        if last is None:
            last = min(ends[1] - seam, max(hit[1] for hit in self.own))
        return first, last

    def joints(self, corners, seam):
        """Along the line, where one piece of the run ends and the next begins; between the finished corners."""
        first, last = self.corners(corners, self.reach(), seam)
        crossed = [hit for hit in self.own if min(hit[1], last) - max(hit[0], first) > TOLERANCE]
        return [(one[1] + other[0]) / 2 for one, other in zip(crossed, crossed[1:])]

    def reach(self):
        """How far the cloth goes on along the line to both sides of the run without a gap."""
        low, high = min(hit[0] for hit in self.own), max(hit[1] for hit in self.own)
        grown = True
        while grown:
            grown = False
            for start, end, _, _ in self.hits:
                if start < low - BREATH and end >= low - TOLERANCE:
                    low, grown = start, True
                if end > high + BREATH and start <= high + TOLERANCE:
                    high, grown = end, True
        return low, high

    def check(self, ends, corners, seam):
        """What the stitches need of this layer, from end to end and between the finished corners.

        Afterwards the pieces in `keys` lose what lies beyond the stitches, and `faces` lie along them.
        """
        low, high = ends
        first, last = self.corners(corners, ends, seam)
        self.keys, self.faces = set(self.run_keys), set()
        reach = low
        for start, end, depth, patch in sorted(self.hits, key=lambda hit: hit[:2]):
            if patch.key not in self.run_keys:
                if min(end, last) - max(start, first) > TOLERANCE and depth > TOLERANCE:
                    raise Refused(
                        f"the stitches catch piece {patch.label} of the {self.what} by {show(depth)}: it has no edge here"
                    )
                if end > low - 4 * seam and start < high + 4 * seam:
                    self.keys.add(patch.key)
                    beyond = max(low - start, end - high)
                    if beyond > 4 * seam + TOLERANCE and depth > TOLERANCE:
                        raise Refused(f"piece {patch.label} of the {self.what} goes on {show(beyond)} past the seam")
            inside = min(end, high) - max(start, low)
            if inside <= BREATH:
                continue
            if start > reach + TOLERANCE:
                raise Refused(f"{show(start - reach)} of the seam has no cloth under it in the {self.what}")
            reach = max(reach, end)
            if inside > TOLERANCE and depth > TOLERANCE:
                self.faces.add(patch.face)
        if high > reach + TOLERANCE:
            raise Refused(f"the last {show(high - reach)} of the seam have no cloth under them in the {self.what}")
        # Slivers that lie wholly in the allowance of this seam go with it.
        for patch in self.patches:
            if patch.key not in self.keys:
                lefts = [self.line.left(corner) for corner in patch.corners]
                alongs = [self.line.along(corner) for corner in patch.corners]
                if max(lefts) <= BREATH and min(lefts) >= -seam - TOLERANCE:
                    if min(alongs) <= high + seam and max(alongs) >= low - seam:
                        self.keys.add(patch.key)


def spans(patches, line):
    """The stretches of a line that lie on cloth, merged."""
    merged = []
    for start, end in sorted(found[:2] for found in (patch.chord(line) for patch in patches) if found):
        if merged and start <= merged[-1][1] + TOLERANCE:
            merged[-1][1] = max(merged[-1][1], end)
        else:
            merged.append([start, end])
    return merged


def carry_frames(frames, motion):
    return {slot: after(motion, into) for slot, into in frames.items()}


def still(slot):
    return {slot: STAY}
