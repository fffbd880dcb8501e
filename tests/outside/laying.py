"""Laying edges on edges, or dots on dots: where the upper work comes to lie, and what is checked of ends and joints."""

from plane import TOLERANCE, Refused, either_way, go, inches, over_line, show, variant
from stitches import Stretch
from work import Eyes, Run, end_segments, lying_flat, segments_line


class Laying:
    """One run of edges laid on another, right sides together."""

    def __init__(self, lower, upper, making, body):
        self.lower, self.upper, self.making = lower, upper, making
        self.a = Run(lower, body["a"]).flush("the lower edge")
        self.b = Run(upper, body["b"]).flush("the upper edge")
        self.body = body
        self.lower_keys, self.upper_keys = self.a.pieces, self.b.pieces
        self.line = self.a.line
        self.names = self.a.names | self.b.names
        # Of the first and the last end: along a's line, where the stitches end in the lower and the upper layer (None: as
        # far as the cloth goes), and the two finished corners.
        self.stops = []
        self.kinds = tuple(variant(body[end])[0] for end in ("first", "last"))
        self.shift = 0.0  # a place at x on b's line comes to lie at `shift - x` along a's
        self.motion = None

    def result(self):
        """Lays the upper work by one end, checks the other and the joints."""
        # The two run against each other. Where the first end is left open, the last one places.
        if self.kinds == ("open", "open"):
            raise Refused("both ends are left open")
        placing = self.kinds[0] == "open"
        at_a, at_b = self.ends(self.body["last" if placing else "first"], first=not placing)
        self.shift = shift = at_a + at_b
        if "open" not in self.kinds:
            at_a, at_b = self.ends(self.body["last"], first=False)
            if abs(shift - at_b - at_a) > TOLERANCE:
                raise Refused(f"the last end is {show(abs(shift - at_b - at_a))} off")
        for meet in self.body.get("meets", []):
            at_a, at_b = self.joint("a", meet["a"]), self.joint("b", meet["b"])
            if abs(shift - at_b - at_a) > TOLERANCE:
                raise Refused(f"joints {meet['a']} and {meet['b']} miss each other by {show(abs(shift - at_b - at_a))}")
        ends = [(self.stop(end, "a"), self.stop(end, "b")) for end in ("first", "last")]
        # By end, then by layer, all along a's line.
        self.stops = [
            tuple((below, None if above is None else shift - above) for below, above in zip(*end)) for end in ends
        ]
        # z on b -> along/left of b's line -> mirrored along onto a's line.
        turn = -self.a.line.way * self.b.line.way
        start = self.a.line.place(shift)
        self.motion = (turn, start - turn * self.b.line.at.conjugate(), True)
        return self.motion

    def dots_of(self, end):
        """The two dots that an end names; None where it names none."""
        what, body = variant(self.body[end])
        return (body["a"], body["b"]) if what == "dots" else None

    def raw_ends(self):
        """Along a's line, the outermost raw ends of the lower run and of the upper."""
        low, high = self.b.ends()
        return self.a.ends(), (self.shift - high, self.shift - low)

    def layer(self, which):
        return (self.lower, self.a) if which == "a" else (self.upper, self.b)

    def patches(self, which):
        """A layer's pieces, without what is folded out of the way."""
        work, run = self.layer(which)
        return lying_flat(work.patches, run.pieces, work.begun)

    def joint(self, which, number):
        _, run = self.layer(which)
        # The upper run goes against the lower: its own first end is laid on the last.
        ends = ("first", "last") if which == "a" else ("last", "first")
        corners = [self.stop(end, which)[1] for end in ends]
        stretch = Stretch(self.patches(which), run.line.moved(self.making.seam), run.pieces, "work")
        joints = stretch.joints(corners, self.making.seam)
        if isinstance(number, bool) or not isinstance(number, int) or not 0 <= number < len(joints):
            raise Refused(f"joint {number} is named, the edge has {len(joints)}")
        return joints[number]

    def stop(self, end, which):
        """Along a run's own line: where the stitches end in its layer, and the finished corner there; None: not known."""
        what, body = variant(self.body[end])
        if what in ("centre", "match", "open"):
            return None, None
        work, run = self.layer(which)
        eyes, seam = Eyes(work, self.making.marks), self.making.seam
        if what == "dots":
            at = run.line.along(eyes.dot(body[which]))
            return at, at
        stitches = run.line.moved(seam)
        before = (end == "first") == (which == "a")  # whether the end edge comes before the run
        stop = stitches.cross(segments_line(end_segments(work, body[which], last=before)))
        return run.line.along(stop), run.line.along(stitches.cross(eyes.inside(body[which], seam, last=before)))

    def dots(self, body):
        places = []
        for work, run, name in ((self.lower, self.a, body["a"]), (self.upper, self.b, body["b"])):
            dot = Eyes(work, self.making.marks).dot(name)
            places.append((run.line.along(dot), run.line.left(dot)))
        (at_a, left_a), (at_b, left_b) = places
        if abs(left_a - left_b) > TOLERANCE:
            raise Refused(f"the dots lie {show(abs(left_a - left_b))} apart across the seam")
        return at_a, at_b

    def ends(self, end, first):
        """Along each run's own line, the two places that an end brings together."""
        what, body = variant(end)
        if what == "centre":
            return self.a.middle(), self.b.middle()
        if what == "match":
            return self.joint("a", body["a"]), self.joint("b", body["b"])
        if what == "dots":
            return self.dots(body)
        if what not in ("even", "notch", "overhang"):
            raise Refused(f"an end {what!r} is not known")
        end_a = segments_line(end_segments(self.lower, body["a"], last=first))
        end_b = segments_line(end_segments(self.upper, body["b"], last=not first))
        corner_a = self.a.line.along(self.a.line.cross(end_a))
        corner_b = self.b.line.along(self.b.line.cross(end_b))
        if what == "even":
            return corner_a, corner_b
        if what == "overhang":
            # Away from the run: at its start against its way, at its end along it.
            return corner_a + (-1 if first else 1) * either_way(body["by"]), corner_b
        notch_a = self.a.line.along(self.a.line.moved(self.making.seam).cross(end_a))
        notch_b = self.b.line.along(self.b.line.moved(self.making.seam).cross(end_b))
        ahead = abs((notch_a + notch_b) - corner_b - corner_a)
        about = inches(body["about"])
        if abs(ahead - about) > self.making.mark / 2 + 1e-9:
            raise Refused(f"one raw corner runs {show(ahead)} ahead of the other, printed {show(about)}")
        self.making.overhangs.add(round(ahead, 6))
        return notch_a, notch_b


class Closing(Laying):
    """Two runs that lie flat in one work on both sides of a seam begun; only the end left open is checked."""

    def __init__(self, work, making, body, name):
        self.begun = work.begun[name]
        other = "first" if self.begun.end == "last" else "last"
        super().__init__(work, work, making, {**body, self.begun.end: body["end"], other: "open"})
        if self.kinds == ("open", "open"):
            raise Refused("the end that a closing checks cannot be open")
        if self.lower_keys & self.begun.loose:
            raise Refused("the lower run has a piece of what was the upper layer")
        if not self.upper_keys <= self.begun.loose:
            raise Refused("the upper run has a piece that was not of the upper layer")
        self.name, self.path = name, self.begun.line.carried(work.frames[self.begun.slot])
        self.mirror = over_line(self.path)
        for run, side in ((self.a, -1), (self.b, 1)):
            if side * (run.line.way.conjugate() * self.path.way).real > 0:
                raise Refused("a run goes along the seam the wrong way")
            for segment in run.segments:
                for place in (segment.start, segment.end):
                    off = side * self.path.left(place)
                    if abs(off - making.seam) > TOLERANCE:
                        raise Refused(f"piece {segment.patch.label} lies {show(off)} beyond the seam, not a seam")

    def result(self):
        """Checks the end and the joints; afterwards `stops` lie along the path."""
        end = self.begun.end
        at_a, at_b = (self.on_path(*both) for both in zip("ab", self.ends(self.body[end], first=end == "first")))
        if abs(at_a - at_b) > TOLERANCE:
            raise Refused(f"the end left open is {show(abs(at_a - at_b))} off")
        for meet in self.body.get("meets", []):
            at_a, at_b = (self.on_path(which, self.joint(which, meet[which])) for which in "ab")
            if abs(at_a - at_b) > TOLERANCE:
                raise Refused(f"joints {meet['a']} and {meet['b']} miss each other by {show(abs(at_a - at_b))}")
        below, above = self.stop(end, "a"), self.stop(end, "b")
        self.stops = [
            tuple(None if along is None else self.on_path(which, along) for which, along in zip("ab", both))
            for both in zip(below, above)
        ]

    def on_path(self, which, along):
        return self.path.along(self.layer(which)[1].line.place(along))

    def stop(self, end, which):
        if end != self.begun.end:  # where the stitches stopped, both layers have their finished corner
            at = self.layer(which)[1].line.along(self.path.place(self.begun.stop))
            return at, at
        return super().stop(end, which)

    def patches(self, which):
        """The pieces of one layer: its own run's, and of neither run those that reach further on its side of the path."""
        own, other = (self.lower_keys, self.upper_keys) if which == "a" else (self.upper_keys, self.lower_keys)
        side = 1 if which == "a" else -1
        flat = lying_flat(self.lower.patches, own, self.lower.begun, but=self.name)
        reach = {}
        for patch in flat:
            lefts = [side * self.path.left(corner) for corner in patch.corners]
            here, there = reach.get(patch.key, (0.0, 0.0))
            reach[patch.key] = max(here, max(lefts)), max(there, -min(lefts))
        return [
            patch
            for patch in flat
            if patch.key in own or (patch.key not in other and reach[patch.key][0] > reach[patch.key][1])
        ]


class TwoDots:
    """Two dots of one layer on two of another: each lies across the other as its dots say, no edges even."""

    kinds = ("dots", "dots")
    names = frozenset()

    def __init__(self, lower, upper, making, body):
        eyes = Eyes(lower, making.marks), Eyes(upper, making.marks)
        pairs = []
        for layer, dots in zip(eyes, (body["a"], body["b"])):
            if not isinstance(dots, list) or len(dots) != 2:
                raise Refused("two dots are named in each layer")
            first, second = (layer.dot(name) for name in dots)
            if abs(second - first) <= 2 * making.seam:
                raise Refused(f"two dots are only {show(abs(second - first))} apart, less than two seams")
            pairs.append((first, second))
        (a, a_end), (b, b_end) = pairs
        turn = (a_end - a) / abs(a_end - a) * ((b_end - b) / abs(b_end - b))
        self.motion = (turn, a - turn * b.conjugate(), True)
        self.dots = (a, a_end)  # of the lower layer, whose frame is the stack's
        off = abs(go(self.motion, b_end) - a_end)
        if off > TOLERANCE:
            raise Refused(f"the second dots lie {show(off)} apart")

    def covered(self, line, layers):
        """From where to where both layers cover a path; it must take in the places nearest to the lower layer's dots."""
        low, high = sorted(line.along(dot) for dot in self.dots)
        found = []
        for stretches in layers:
            here = [s for s in stretches if s[0] <= low + TOLERANCE and high - TOLERANCE <= s[1]]
            if not here:
                raise Refused("a layer does not cover the stitches from dot to dot")
            found.append(here[0])
        return max(start for start, _ in found), min(end for _, end in found)
