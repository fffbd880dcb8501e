"""The sewing: one making of a unit, step by step, as docs/recipe.md says what each step means."""

from cuts import same_way
from plane import FOLD, STAY, TOLERANCE, Line, Patch, Refused, after, apart, back, go, inches, over_line, show, variant
from work import Eyes, Path, Run, Stack, Stretch, Work, carry_frames, edge_segments, segments_line, spans, still


class Unit:
    """A finished unit as later makings know it: patches whose edges are named by the numbers of its sides."""

    def __init__(self, patches, corners, seams, bearers):
        self.patches, self.corners, self.seams = patches, corners, seams
        self.bearers = bearers  # side -> numbers of the pieces of its run


class Making:
    """One making: the parts on the table, then its steps."""

    def __init__(self, make, parts, seam, mark, prints):
        self.seam, self.mark, self.prints = seam, mark, prints
        self.live, self.marks, self.slots = {}, {}, set()
        self.top = None
        self.sewn = 0
        self.overhangs = set()  # as measured on the table at notches, inches
        self.number = 0
        for part, take in parts:
            slot = self.fresh(part["slot"])
            self.live[slot] = self.lay_out(slot, take)

    # --- slots ---

    def fresh(self, slot):
        if isinstance(slot, bool) or not isinstance(slot, int):
            raise Refused(f"a slot is a number, not {slot!r}")
        if slot in self.slots:
            raise Refused(f"slot {slot} is used twice")
        self.slots.add(slot)
        return slot

    def lay_out(self, slot, take):
        """A part from the pool, its edges renamed as this making calls them."""
        patches = take.patches if isinstance(take, Unit) else [take]
        renamed = []
        for number, patch in enumerate(patches):
            names = [frozenset(FOLD if side == FOLD else (slot, side) for side in edge) for edge in patch.names]
            renamed.append(
                Patch((slot, number), patch.label, patch.cloth, patch.up, patch.corners, names, (slot, patch.face))
            )
        if not isinstance(take, Unit):
            bearers = {name: {(slot, 0)} for edge in renamed[0].names for name in edge}
            return Work(renamed, still(slot), {}, bearers)
        seams = {(slot, number): (slot, start, end) for number, (start, end) in enumerate(take.seams)}
        bearers = {(slot, side): {(slot, number) for number in numbers} for side, numbers in take.bearers.items()}
        return Work(renamed, still(slot), seams, bearers)

    def take(self, slot, kind):
        """A work or stack that will be used up."""
        thing = self.see(slot, kind)
        del self.live[slot]
        return thing

    def see(self, slot, kind):
        thing = self.live.get(slot)
        if thing is None:
            raise Refused(f"slot {slot} is not on the table")
        if not isinstance(thing, kind):
            raise Refused(f"slot {slot} is {'an unopened stack' if isinstance(thing, Stack) else 'no stack'}")
        return thing

    def lying(self, slot):
        """What lies on the table under this very slot, opened or not."""
        return self.see(slot, (Work, Stack))

    # --- steps ---

    def do(self, steps):
        for number, step in enumerate(steps):
            what, body = variant(step)
            self.number = number
            action = self.ACTIONS.get(what)
            if action is None:
                raise Refused(f"step {what!r} is not rehearsed here", f"step {number + 1}")
            try:
                action(self, **body)
            except Refused as refused:
                refused.where = f"step {number + 1} ({what})" + (f", {refused.where}" if refused.where else "")
                raise
            except (KeyError, TypeError, AttributeError, IndexError, ValueError, ArithmeticError) as broken:
                raise Refused(
                    f"cannot be read: {type(broken).__name__}: {broken}", f"step {number + 1} ({what})"
                ) from broken

    def draw(self, on, name, kind, find):
        if name in self.marks:
            raise Refused(f"two marks are called {name!r}")
        holder = self.lying(on)
        shape, home = find(Eyes(holder, self.marks)), back(holder.frames[on])
        self.marks[name] = (kind, on, shape.carried(home) if kind == "line" else go(home, shape))

    def step_mark(self, on, name, line):
        self.draw(on, name, "line", lambda eyes: eyes.ruler(line))

    def step_dot(self, on, name, at):
        self.draw(on, name, "dot", lambda eyes: eyes.place(at))

    def step_lay(self, a, b, how, into):
        lower, upper = self.take(a, Work), self.take(b, Work)
        what, body = variant(how)
        if what == "edges":
            motion, laid = Laying(lower, upper, self, body).result()
        elif what == "corner":
            motion, laid = self.lay_corner(lower, upper, body["a"], body["b"]), None
        else:
            raise Refused(f"laying {what!r} is not rehearsed here")
        frames = dict(lower.frames) | carry_frames(upper.frames, motion)
        frames[self.fresh(into)] = STAY
        turned = [patch.carried(motion) for patch in upper.patches]
        self.live[into] = Stack(
            lower.patches,
            turned,
            frames,
            lower.seams | upper.seams,
            set(upper.frames),
            lower.bearers | upper.bearers,
            lower.spent | upper.spent,
            [],
            laid,
        )

    def lay_corner(self, lower, upper, a, b):
        below, above = Eyes(lower, self.marks), Eyes(upper, self.marks)
        corner_a, corner_b = below.corner(a), above.corner(b)
        before_a = Run(lower, [a["before"]]).flush("the lower edge before the corner")
        after_a = Run(lower, [a["after"]]).flush("the lower edge after the corner")
        before_b = Run(upper, [b["before"]]).flush("the upper edge before the corner")
        after_b = Run(upper, [b["after"]]).flush("the upper edge after the corner")
        turn = -before_a.line.way * after_b.line.way  # turned over: after_b's way lies against before_a's
        motion = (turn, corner_a - turn * corner_b.conjugate(), True)
        reach_a = max(abs(corner_a - segment.end) for segment in after_a.segments)
        reach_b = max(abs(corner_b - segment.start) for segment in before_b.segments)
        far = go(motion, corner_b - before_b.line.way * min(reach_a, reach_b))
        if abs(far - (corner_a + after_a.line.way * min(reach_a, reach_b))) > TOLERANCE:
            raise Refused(f"the second edges of the two corners run {show(abs(after_a.line.left(far)))} apart")
        return motion

    def step_sew(self, stack, path, join=False):
        work = self.see(stack, Stack)
        what, body = variant(path)
        if what == "beside":
            paths = [self.sew_beside(work, inches(body["by"]), body["from"], body["to"], join)]
        elif what == "on-mark":
            paths = [self.sew_on(work, Eyes(work, self.marks).drawn_line(body), join)]
        elif what == "both-sides":
            line, by = Eyes(work, self.marks).drawn_line(body["mark"]), inches(body["by"])
            paths = [self.sew_on(work, line.moved(side * by), join) for side in (1, -1)]
        else:
            raise Refused(f"a seam {what!r} is not rehearsed here")
        work.paths.extend(paths)
        self.sewn += len(paths)

    def sew_beside(self, stack, by, start, stop, join):
        if start != "raw" or stop != "raw":
            raise Refused("a seam that stops before the raw edge is not rehearsed here")
        if stack.laid is None:
            raise Refused("no edges were laid together to sew beside")
        if abs(by - self.seam) > 1e-9:
            raise Refused(f"sews {show(by)} inside the edges, the seam is {show(self.seam)}")
        line = stack.laid.line.moved(by)
        below = Stretch(stack.lower, line, stack.laid.lower_keys, "lower layer")
        above = Stretch(stack.upper, line, stack.laid.upper_keys, "upper layer")
        (low_a, high_a), (low_b, high_b) = below.reach(), above.reach()
        (lows, first), (highs, last) = stack.laid.stops
        low = max(low_a if lows[0] is None else lows[0], low_b if lows[1] is None else lows[1])
        high = min(high_a if highs[0] is None else highs[0], high_b if highs[1] is None else highs[1])
        if high - low <= TOLERANCE:
            raise Refused("the layers do not lie over one another")
        below.check((low, high), (first[0], last[0]), by)
        above.check((low, high), (first[1], last[1]), by)
        joined = self.joined(below.faces, above.faces, stack) if join else None
        return Path(line, low, high, +1, below.keys | above.keys, joined)

    def sew_on(self, stack, line, join):
        below, above = spans(stack.lower, line), spans(stack.upper, line)
        if not below or not above:
            raise Refused("the stitches miss a layer")
        length = [sum(end - start for start, end in layer) for layer in (below, above)]
        shorter, longer = (below, above) if length[0] <= length[1] else (above, below)
        for start, end in shorter:
            if not any(low - TOLERANCE <= start and end <= high + TOLERANCE for low, high in longer):
                raise Refused("the stitches leave one layer where the other goes on, at both ends or in the middle")
        joined = self.joined(on_line(stack.lower, line), on_line(stack.upper, line), stack) if join else None
        return Path(line, shorter[0][0], shorter[-1][1], 0, None, joined)

    def joined(self, below, above, stack):
        """The lower and the upper face that a join makes one."""
        if len(below) != 1 or len(above) != 1:
            raise Refused("a join must have one face on each side")
        cloths = {patch.cloth for patch in stack.cloth() if patch.face in below | above}
        if len(cloths) != 1:
            raise Refused("a join is of two cloths")
        return (*below, *above)

    def step_cut_apart(self, stack, line, keep, offcut):
        work = self.take(stack, Stack)
        eyes = Eyes(work, self.marks)
        cut = eyes.ruler(line)
        sides = {}
        for kept in keep:
            side = self.side_of(cut, eyes.corner(kept["corner"]))
            if side in sides:
                raise Refused("one side of the cut is named twice")
            sides[side] = kept["into"]
        for corner in offcut:
            side = self.side_of(cut, eyes.corner(corner))
            if sides.get(side, None) is not None:
                raise Refused("a side of the cut is both kept and thrown away")
            sides[side] = None
        if len(sides) != 2:
            raise Refused("nothing is said of one side of the cut")
        for side, into in sides.items():
            if into is None:
                continue
            paths = []
            for path in work.paths:
                off = [cut.left(path.line.place(along)) * side for along in (path.start, path.end)]
                if min(off) > -TOLERANCE and max(off) > TOLERANCE:
                    if max(abs(each - self.seam) for each in off) > TOLERANCE:
                        raise Refused(f"the stitches lie {show(min(off))} to {show(max(off))} from the cut")
                    away = 1 if path.line.left(cut.place(cut.along(path.line.place(path.start)))) < 0 else -1
                    paths.append(Path(path.line, path.start, path.end, away, path.loses, path.joined))
                elif max(off) > TOLERANCE:
                    raise Refused("the cut goes through the stitches")
            if len(paths) != 1:
                raise Refused(f"a side that is kept has {len(paths)} lines of stitches")
            halves = [
                [half for half in (patch.kept(cut, side) for patch in layer) if half]
                for layer in (work.lower, work.upper)
            ]
            if not all(halves):
                raise Refused("a side that is kept has cloth in one layer only")
            frames = dict(work.frames)
            frames[self.fresh(into)] = STAY
            upper_slots = set(work.upper_slots)
            self.live[into] = Stack(*halves, frames, dict(work.seams), upper_slots, work.bearers, work.spent, paths)

    def side_of(self, line, place):
        if abs(line.left(place)) <= TOLERANCE:
            raise Refused("the corner that names a side of the cut lies on the cut")
        return 1 if line.left(place) > 0 else -1

    def step_open(self, stack, press, into):
        work = self.take(stack, Stack)
        if press not in ("toward-lower", "toward-upper", "open"):
            raise Refused(f"cannot press {press!r}")
        if len(work.paths) != 1:
            raise Refused(f"a stack is opened on one line of stitches; this one has {len(work.paths)}")
        path = work.paths[0]
        if path.body == 0:
            raise Refused("nothing tells which side of the stitches is folded under")
        mirror = over_line(path.line)

        def fold(patches):
            kept = []
            for patch in patches:
                rest = patch.kept(path.line, path.body, FOLD) if path.loses is None or patch.key in path.loses else patch
                if rest is not None:
                    kept.append(rest)
            if not kept:
                raise Refused("a whole layer is folded under")
            return kept

        below = fold(work.lower)
        above = [patch.carried(mirror) for patch in fold(work.upper)]
        if path.joined is not None:
            for patch in above:
                if patch.face == path.joined[1]:
                    patch.face = path.joined[0]
        frames = {
            slot: after(mirror, motion) if slot in work.upper_slots else motion for slot, motion in work.frames.items()
        }
        frames[self.fresh(into)] = STAY
        spent = work.spent | (work.laid.names if work.laid is not None else set())
        seams = dict(work.seams)
        seams[(into, 0)] = (into, path.line.place(path.start), path.line.place(path.end))
        self.live[into] = Work(below + above, frames, seams, work.bearers, spent)

    def step_snip(self, of, along):
        work = self.see(of, Work)
        for ref in along:
            line = segments_line(edge_segments(work, ref))
            snipped = (patch if lies_along(patch, line) else patch.kept(line, +1) for patch in work.patches)
            work.patches = [rest for rest in snipped if rest]

    def step_trim(self, of, lines, into):
        work = self.take(of, Work)
        self.fresh(into)
        for number, line in enumerate(lines):
            try:
                self.trim_line(work, line, (into, number))
            except Refused as refused:
                refused.where = f"line {number + 1}"
                raise
        work.frames[into] = STAY
        self.live[into] = work

    def trim_line(self, work, trim, name):
        line = Eyes(work, self.marks).ruler(trim["ruler"])
        off, shave = Run(work, trim["off"]), inches(trim["shave"])
        lies = line.left(off.line.place(off.middle()))
        if abs(lies) <= TOLERANCE:
            areas = [(patch.area(), patch.middle()) for patch in work.patches]
            lies = -line.left(sum(area * middle for area, middle in areas) / sum(area for area, _ in areas))
        side = -1 if lies > 0 else 1  # the side that is kept
        for segment in off.segments:
            for place in (segment.start, segment.end):
                taken = -side * line.left(place)
                if abs(taken - shave) > TOLERANCE:
                    raise Refused(f"takes {show(taken)} off piece {segment.patch.label}, printed {show(shave)}")
        patches = [rest for rest in (patch.kept(line, side, name) for patch in work.patches) if rest]
        if not patches:
            raise Refused("nothing is left")
        named = [named_along(patch, line, side, name) for patch in patches]
        stretches = sorted(
            sorted((line.along(start), line.along(end)))
            for patch in named
            for start, end, names in patch.edges()
            if name in names
        )
        reach = stretches[0][1] if stretches else 0.0
        for start, end in stretches:
            if start > reach + TOLERANCE:
                raise Refused(f"leaves a gap of {show(start - reach)} along its line")
            reach = max(reach, end)
        work.patches = named
        bearers = {patch.key for patch in named for names in patch.names if name in names}
        work.bearers = work.bearers | {name: bearers}
        work.spent = work.spent | off.names

    def step_check(self, of, what, **rest):
        # `is` is a word of the language this is written in.
        wanted = inches(rest.pop("is"))
        if rest:
            raise Refused(f"cannot read {sorted(rest)}")
        work = self.lying(of)
        measured, body = variant(what)
        if measured == "across":
            one, other = (Run(work, edges).flush(f"run {number + 1}") for number, edges in enumerate(body))
            found = [abs(one.line.left(place)) for segment in other.segments for place in (segment.start, segment.end)]
        elif measured == "between":
            eyes = Eyes(work, self.marks)
            found = [abs(eyes.place(body[0]) - eyes.place(body[1]))]
        else:
            raise Refused(f"measuring {measured!r} is not known")
        worst = max(found, key=lambda each: abs(each - wanted))
        if abs(worst - wanted) > TOLERANCE:
            raise Refused(f"measures {show(worst)}, printed {show(wanted)}")

    def step_finish(self, top, sides, up, seam):
        work = self.take(top, Work)
        if self.top is not None:
            raise Refused("the top is finished twice")
        runs, _ = round_sides(work, sides)
        if isinstance(up, bool) or not isinstance(up, int) or not 0 <= up < len(runs):
            raise Refused("no such upper side")
        lines = [run.line.moved(inches(seam)) for run in runs]
        outline = [lines[i - 1].cross(lines[i]) for i in range(len(lines))]
        turn = -1 / lines[up].way  # going round with the cloth on the left, the upper side runs to the left
        self.top = ([patch.carried((turn, 0j, False)) for patch in work.patches], [turn * corner for corner in outline])

    ACTIONS = {
        "mark": step_mark, "dot": step_dot, "lay": step_lay, "sew": step_sew, "cut-apart": step_cut_apart,
        "open": step_open, "snip": step_snip, "trim": step_trim, "check": step_check, "finish": step_finish,
    }  # fmt: skip

    # --- gives ---

    def give(self, give):
        """A unit for the pool."""
        work = self.take(give["slot"], Work)
        runs, corners = round_sides(work, give["sides"])
        numbers = {}
        for number, run in enumerate(runs):
            for segment in run.segments:
                numbers.setdefault((segment.patch.key, segment.start), set()).add(number)
        patches = []
        for patch in work.patches:
            names = [
                frozenset(numbers.get((patch.key, corner), ())) | (edge & {FOLD})
                for corner, edge in zip(patch.corners, patch.names)
            ]
            patches.append(Patch(patch.key, patch.label, patch.cloth, patch.up, patch.corners, names, patch.face))
        eyes = Eyes(work, self.marks)
        seams = [eyes.seam(ref) for ref in give.get("seams", [])]
        bearers = {
            side: [number for number, patch in enumerate(patches) if patch.key in run.pieces]
            for side, run in enumerate(runs)
        }
        return Unit(patches, corners, seams, bearers)


class Laying:
    """One edge laid on another, right sides together."""

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

    def result(self):
        # Along a's line, a place at x on b's line comes to lie at `shift - x`: the two run against each other.
        at_a, at_b = self.ends(self.body["first"], first=True)
        shift = at_a + at_b
        at_a, at_b = self.ends(self.body["last"], first=False)
        if abs(shift - at_b - at_a) > TOLERANCE:
            raise Refused(f"the last end is {show(abs(shift - at_b - at_a))} off")
        for meet in self.body.get("meets", []):
            at_a, at_b = self.joint("a", meet["a"]), self.joint("b", meet["b"])
            if abs(shift - at_b - at_a) > TOLERANCE:
                raise Refused(f"joints {meet['a']} and {meet['b']} miss each other by {show(abs(shift - at_b - at_a))}")
        ends = [(self.stop(self.body[end], "a"), self.stop(self.body[end], "b")) for end in ("first", "last")]
        # By end, then by layer, all along a's line.
        self.stops = [
            tuple((below, None if above is None else shift - above) for below, above in zip(*end)) for end in ends
        ]
        # z on b -> along/left of b's line -> mirrored along onto a's line.
        turn = -self.a.line.way * self.b.line.way
        start = self.a.line.place(shift)
        return (turn, start - turn * self.b.line.at.conjugate(), True), self

    def layer(self, which):
        return (self.lower, self.a) if which == "a" else (self.upper, self.b)

    def joint(self, which, number):
        work, run = self.layer(which)
        # The upper run goes against the lower: its own first end is laid on the last.
        ends = ("first", "last") if which == "a" else ("last", "first")
        corners = [self.stop(self.body[end], which)[1] for end in ends]
        stretch = Stretch(work.patches, run.line.moved(self.making.seam), run.pieces, "work")
        joints = stretch.joints(corners, self.making.seam)
        if isinstance(number, bool) or not isinstance(number, int) or not 0 <= number < len(joints):
            raise Refused(f"joint {number} is named, the edge has {len(joints)}")
        return joints[number]

    def stop(self, end, which):
        """Along a run's own line: where the stitches end in its layer, and the finished corner there; None: not known."""
        what, body = variant(end)
        if what in ("centre", "match"):
            return None, None
        work, run = self.layer(which)
        eyes, seam = Eyes(work, self.making.marks), self.making.seam
        if what == "dots":
            at = run.line.along(eyes.dot(body[which]))
            return at, at
        stitches = run.line.moved(seam)
        stop = stitches.cross(segments_line(edge_segments(work, body[which])))
        return run.line.along(stop), run.line.along(stitches.cross(eyes.inside(body[which], seam)))

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
        end_a = segments_line(edge_segments(self.lower, body["a"]))
        end_b = segments_line(edge_segments(self.upper, body["b"]))
        corner_a = self.a.line.along(self.a.line.cross(end_a))
        corner_b = self.b.line.along(self.b.line.cross(end_b))
        if what == "even":
            return corner_a, corner_b
        if what == "overhang":
            # Away from the run: at its start against its way, at its end along it.
            return corner_a + (-1 if first else 1) * inches(body["by"]), corner_b
        notch_a = self.a.line.along(self.a.line.moved(self.making.seam).cross(end_a))
        notch_b = self.b.line.along(self.b.line.moved(self.making.seam).cross(end_b))
        ahead = abs((notch_a + notch_b) - corner_b - corner_a)
        about = inches(body["about"])
        if abs(ahead - about) > self.making.mark / 2 + 1e-9:
            raise Refused(f"one raw corner runs {show(ahead)} ahead of the other, printed {show(about)}")
        self.making.overhangs.add(round(ahead, 6))
        return notch_a, notch_b


def on_line(patches, line):
    """The faces a line goes through."""
    chords = [(patch.face, patch.chord(line)) for patch in patches]
    return {face for face, found in chords if found and found[1] - found[0] > TOLERANCE}


def named_along(patch, line, side, name):
    """The patch, with each raw edge that lies along a trim's line called by the trim's name and no other."""
    names = list(patch.names)
    for i, (start, end, old) in enumerate(patch.edges()):
        level = max(abs(line.left(start)), abs(line.left(end))) <= TOLERANCE
        ahead = (
            side * ((end - start) * line.way.conjugate()).real
        )  # with the cloth on the left, as the trimmed work has it
        if level and ahead > 0.9 * abs(end - start) and FOLD not in old:
            names[i] = frozenset([name])
    return patch.like(patch.corners, names)


def lies_along(patch, line):
    """Whether the patch has an edge along a line."""
    return any(
        max(abs(line.left(start)), abs(line.left(end))) <= TOLERANCE < abs(end - start)
        for start, end, _ in patch.edges()
    )


def goes_on(work, line, start, end):
    """Whether nameless raw edges lie along a line, without a gap, from one place along it to the next."""
    stretches = []
    for patch in work.patches:
        for one, other, names in patch.edges():
            if not names and max(abs(line.left(one)), abs(line.left(other))) <= TOLERANCE:
                stretches.append((line.along(one), line.along(other)))
    for low, high in sorted(stretches):
        if low <= start + TOLERANCE and high > start:
            start = high
    return start >= end - TOLERANCE


def round_sides(work, sides):
    """The sides of a work, which must go once round it; and the corners between them."""
    if len(sides) < 3:
        raise Refused("a work has at least three sides")
    runs = [Run(work, refs).flush(f"side {number}") for number, refs in enumerate(sides)]
    corners = []
    for number, run in enumerate(runs):
        last = runs[number - 1].line
        before, here = runs[number - 1].segments[-1].end, run.segments[0].start
        if abs(before - here) > TOLERANCE:
            # Snipped dog ears of neighbouring pieces may go on to where the two sides' lines cross.
            corner = last.cross(run.line)
            if not (
                goes_on(work, last, last.along(before), last.along(corner))
                and goes_on(work, run.line, run.line.along(corner), run.line.along(here))
            ):
                raise Refused(f"side {number} begins {show(abs(before - here))} from where the side before it ends")
            here = corner
        corners.append(here)
    area = sum((corners[i - 1].conjugate() * corners[i]).imag for i in range(len(corners))) / 2
    length = sum(abs(corners[i] - corners[i - 1]) for i in range(len(corners)))
    cloth = sum(patch.area() for patch in work.patches)
    if abs(area - cloth) > TOLERANCE * length:
        raise Refused(f"the sides go round {area:.4f} square inches, the work has {cloth:.4f}")
    return runs, corners


def units_differ(one, other, prints):
    """Why two units are not alike, edge for edge and face for face, turning allowed; None when they are."""
    sizes = [(len(unit.corners), len(unit.patches), len(unit.seams)) for unit in (one, other)]
    if sizes[0] != sizes[1]:
        return "they have not the same sides, pieces or seams"
    far = max(range(len(one.corners)), key=lambda i: abs(one.corners[i] - one.corners[0]))
    turn = (other.corners[far] - other.corners[0]) / (one.corners[far] - one.corners[0])
    turn /= abs(turn)
    motion = (turn, other.corners[0] - turn * one.corners[0], False)
    for here, there in zip(one.corners, other.corners):
        if abs(go(motion, here) - there) > TOLERANCE:
            return f"a corner differs by {show(abs(go(motion, here) - there))}"
    for ends, others in zip(one.seams, other.seams):
        line = Line.through(*others)
        if max(abs(line.left(go(motion, end))) for end in ends) > TOLERANCE:
            return "a seam lies differently"
    left = list(other.patches)
    for patch in one.patches:
        moved = patch.carried(motion)
        sides = set().union(*patch.names)
        for candidate in left:
            if candidate.cloth == patch.cloth and set().union(*candidate.names) == sides:
                near = (
                    abs(candidate.middle() - moved.middle()) < 0.1
                    and apart(moved.corners, candidate.corners) <= TOLERANCE
                )
                if near and same_way(moved.up, candidate.up, prints.get(patch.cloth, "none")):
                    left.remove(candidate)
                    break
        else:
            return f"piece {patch.label} has no like"
    return None
