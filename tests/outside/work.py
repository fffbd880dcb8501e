"""What lies on the table: works and stacks, and how edges, corners, places and rulers are found on them.

Every work remembers, for each slot that went into it, the motion from that slot's frame into its own. An edge is named
by the slot it was born in and its number there; the names travel with the cloth.
"""

import cmath
import math
from dataclasses import dataclass, field

from curves import checked, linked
from hollow import Hollow
from plane import BOW, FOLD, SIDE, STAY, TOLERANCE, Line, Refused, after, go, inches, show, variant


@dataclass
class Work:
    """Pieces lying together in one frame, right side up."""

    patches: list
    frames: dict = field(default_factory=dict)  # slot -> motion from its frame into this one
    seams: dict = field(default_factory=dict)  # (slot, number) -> (slot whose frame holds it, start, end)
    bearers: dict = field(default_factory=dict)  # edge -> keys of the pieces that have, or once had, it
    spent: set = field(default_factory=set)  # edges sewn or trimmed off: not to be named once nothing is left of them
    stops: list = field(default_factory=list)  # (slot whose frame holds it, place) where a seam stopped in a dot
    begun: dict = field(default_factory=dict)  # (slot, number) -> Begun, seams not yet closed

    def cloth(self):
        return self.patches

    def moved(self, motion):
        """The same, its frames carried along."""
        frames = {slot: after(motion, into) for slot, into in self.frames.items()}
        return Work(self.patches, frames, dict(self.seams), self.bearers, self.spent, self.stops, self.begun)

    def closed(self):
        """The work itself, if no seam of it hangs begun."""
        refuse_begun(self)
        return self


@dataclass(frozen=True)
class Begun:
    """A seam sewn in part; its path lies in the frame of the slot it was opened into, what was the lower layer on its left."""

    slot: int
    line: Line
    start: float  # along the line, where the seam begins and where it stopped
    stop: float
    end: str  # which end of the runs it left open: "first" or "last"
    keys: frozenset  # the pieces folded under along it
    loose: frozenset  # what was the upper layer


@dataclass
class Path:
    """A line of stitches on a stack."""

    line: Line
    start: float  # along the line, where both layers have cloth
    end: float
    body: int  # which side of the line is kept: +1 left, -1 right, 0 not yet known
    loses: set | None  # the pieces that lose what lies beyond; None: all
    joined: tuple | None  # the lower and the upper face that become one
    kind: str = "mark"  # "beside", "mark" or "round"
    leg: int = 0  # how often the stack had been turned
    over: tuple = STAY  # how the upper layer lay: from its own frame into the stack's
    stops: tuple = ("raw", "raw")  # how the stitches end: "raw", "dot" or "at"
    names: tuple = (None, None)  # the two dots of an end that is dots
    edges: frozenset = frozenset()  # the edges of its runs
    of_run: frozenset = frozenset()  # the pieces of its runs
    tip: float = 0.0  # how near an end of it a part of a hollow piece goes with it


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
    laid: object = None  # the edges it lies by now, if it lies by edges
    over: tuple = STAY  # how the upper layer lies: from its own frame into the stack's
    layers: tuple = ()  # the lower and the upper work, each in its own frame, until the stack is cut
    leg: int = 0  # how often it was turned
    named: set = field(default_factory=set)  # the edges it was laid by
    stops: list = field(default_factory=list)
    begun: dict = field(default_factory=dict)
    upper_keys: set = field(default_factory=set)  # every piece that is, or was, of the upper layer

    def cloth(self):
        return self.lower + self.upper


@dataclass(frozen=True)
class Segment:
    """One piece's stretch of a named edge, cloth on its left when right side up."""

    start: complex
    end: complex
    patch: object
    names: frozenset = frozenset()

    @property
    def bowed(self):
        return BOW in self.names

    def length(self):
        return abs(self.end - self.start)


def side_of(segment):
    """Which side of its patch's card a segment lies along; None for any other."""
    return next((name[1] for name in segment.names if name[0] == SIDE), None)


def finished_end(segment, start):
    """The card's corner at an end of a segment of a basted patch; None for any other."""
    number, card = side_of(segment), segment.patch.bears and segment.patch.bears.card
    if number is None or not card:
        return None
    return card.side(number)[0 if start else 1]


def run_on(one, other):
    """The two places that count where a segment goes on to the next: where folds run on past each other, the cards' corners."""
    folds = [FOLD in segment.names for segment in (one, other)]
    ends = finished_end(one, start=False), finished_end(other, start=True)
    if None not in ends and (all(folds) or (not any(folds) and meets_fold(one, +1) and meets_fold(other, -1))):
        return ends
    return one.end, other.start


def meets_fold(segment, step):
    """Whether an edge left flat meets a side folded over, at its end (+1) or its start (-1)."""
    card = segment.patch.bears.card
    return (side_of(segment) + step) % len(card.corners) in card.card.folded


def edge_name(ref):
    return (ref["of"], ref["edge"])


def edge_segments(thing, ref, perhaps=False, bowed=False, folded=False):
    """The segments of an edge, in order along it; none, if `perhaps`, when all of it is folded under or cut off."""
    name = edge_name(ref)
    found = [
        Segment(patch.corners[i], patch.corners[(i + 1) % len(patch.corners)], patch, names)
        for patch in thing.cloth()
        for i, names in enumerate(patch.names)
        if name in names
    ]
    if not found and not (perhaps and name in thing.bearers and name not in thing.spent):
        raise Refused(f"edge {name[1]} of slot {name[0]} is not there (any more)")
    if not folded and any(FOLD in segment.names for segment in found):
        raise Refused(f"edge {name[1]} of slot {name[0]} is folded")
    if any(segment.bowed for segment in found):
        if not bowed:
            raise Refused(f"edge {name[1]} of slot {name[0]} is bowed: it has no line")
        return linked(found)
    if len(found) > 1:
        line = segments_line(found)
        found.sort(key=lambda segment: line.along(segment.start) + line.along(segment.end))
    return found


def end_segments(thing, ref, last):
    """The segments of an edge where it meets another at its end: of a bowed one its last straight, or its first."""
    segments = edge_segments(thing, ref, bowed=True)
    if any(segment.bowed for segment in segments):
        return [segments[-1 if last else 0]]
    return segments


def segments_line(segments):
    longest = max(segments, key=Segment.length)
    return Line.through(longest.start, longest.end)


def edge_line(thing, ref):
    return segments_line(edge_segments(thing, ref))


class Run:
    """Edges in order along one side: a straight one, or a curve."""

    def __init__(self, thing, refs, folded=False):
        if not refs:
            raise Refused("a run names no edge")
        self.segments = [
            segment for ref in refs for segment in edge_segments(thing, ref, perhaps=True, bowed=True, folded=folded)
        ]
        if not self.segments:
            raise Refused("nothing is left of the edges a run names")
        self.curved = any(segment.bowed for segment in self.segments)
        if not self.curved:
            self.line = segments_line(self.segments)
        # The piece of an edge that is wholly folded under or cut off is of the run all the same.
        self.pieces = set().union(*(thing.bearers[edge_name(ref)] for ref in refs))
        self.names = {edge_name(ref) for ref in refs}

    def __getattr__(self, name):
        if name == "line":
            raise Refused("a curve has no line")
        raise AttributeError(name)

    def curve(self):
        """The run itself, if it is a curve whose straights go on from one another."""
        if not self.curved:
            raise Refused("a run without a bowed edge is no curve")
        checked(self.segments)
        return self

    def side(self, what):
        """The run itself, flush or a curve."""
        return self.curve() if self.curved else self.flush(what)

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
            end, start = run_on(one, other)
            gap = abs(self.line.along(start) - self.line.along(end))
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
        before, after = end_segments(self.thing, ref["before"], last=True), end_segments(self.thing, ref["after"], last=False)
        return segments_line(before).cross(segments_line(after))

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
        if key in self.thing.begun:
            raise Refused(f"seam {key[1]} of slot {key[0]} is only begun")
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

    def inside(self, ref, by, last=True):
        """The line so far to the inside of an edge's line: on the side where its piece lies."""
        segments = end_segments(self.thing, ref, last)
        line = segments_line(segments)
        piece = max(segments, key=Segment.length).patch
        side = piece.hand if isinstance(piece, Hollow) else math.copysign(1.0, line.left(piece.middle()))
        return line.moved(side * by)

    def a_before_b(self, a, b):
        """Of two edges of which one may be bowed, whether the first leads to the second: its end is the nearer."""
        a, b = edge_segments(self.thing, a, bowed=True), edge_segments(self.thing, b, bowed=True)
        if not any(segment.bowed for segment in a + b):
            return True
        return abs(b[0].start - a[-1].end) <= abs(a[0].start - b[-1].end) + TOLERANCE

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
            a_first = self.a_before_b(body["a"], body["b"])
            a = self.inside(body["a"], inches(body["a_by"]), last=a_first)
            return a.cross(self.inside(body["b"], inches(body["b_by"]), last=not a_first))
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
            return line.moved(math.copysign(at, toward))
        if what == "angle":
            line, through = self.line(body["line"]), self.place(body["through"])
            degrees = {"30": 30, "45": 45, "60": 60, "90": 90}.get(body["angle"])
            if degrees is None:
                raise Refused(f"no ruler shows {body['angle']} degrees")
            like = edge_line(self.thing, body["like"]).way
            ways = [line.way * cmath.exp(1j * math.radians(sign * degrees)) for sign in (1, -1)]
            first, second = (abs((way.conjugate() * like).real) for way in ways)
            return Line(through, ways[0] if first >= second - 1e-6 else ways[1])
        if what == "two-marks":
            return Line.through(self.place(body["from"]), self.place(body["to"]))
        raise Refused(f"a ruler placed by {what!r} is not known")


def stops_of(work):
    """The places in a work's frame where seams stopped in dots."""
    return [go(work.frames[slot], place) for slot, place in work.stops]


def refuse_begun(thing):
    if thing.begun:
        raise Refused(f"the seam begun in slot {min(thing.begun)[0]} is not closed")


def lying_flat(patches, run_keys, begun, but=None):
    """Without the loose layers of begun seams that are folded out of a run's way; `but` names a seam left as it lies."""
    away = set()
    for name, seam in begun.items():
        if name != but and not run_keys & seam.loose:
            away |= seam.loose
    return [patch for patch in patches if patch.key not in away]


def carry_frames(frames, motion):
    return {slot: after(motion, into) for slot, into in frames.items()}


def still(slot):
    return {slot: STAY}
