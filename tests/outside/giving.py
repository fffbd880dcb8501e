"""What a making gives: units, the sides that go round them, and whether several are alike."""

from cuts import same_way
from grounds import complete
from plane import BOW, FOLD, SIDE, TOLERANCE, Line, Refused, apart, go, show
from work import Eyes, Run, Work, finished_end, stops_of


class Unit:
    """A finished unit as later makings know it: patches whose edges are named by the numbers of its sides."""

    def __init__(self, patches, corners, seams, bearers, stops=(), sides=(), seam=0.0):
        self.patches, self.corners, self.seams = patches, corners, seams
        self.bearers = bearers  # side -> numbers of the pieces of its run
        self.stops = stops  # where seams stopped in dots
        self.sides = sides  # of each side its line, and the ends of its segments along it
        self.seam = seam

    def hollow(self):
        """Whether a corner is hollow by more than the tolerance, or a side is a curve."""
        if any(line is None for line, _ in self.sides):
            return True
        return any(line.left(corner) < -TOLERANCE for line, _ in self.sides for corner in self.corners)

    def face(self, patch):
        """What of a patch lies within all sides' lines moved in by the seam, in how many parts; none when that is no face."""
        parts = [patch]
        for line, _ in self.sides:
            inside = line.moved(self.seam)
            parts = [part for whole in parts for part in whole.parts(inside, +1)]
        return [part for part in parts if part.width() > TOLERANCE]


def give_unit(making, give, alone=True):
    """A unit for the pool."""
    work = making.take(give["slot"], Work).closed()
    if alone is False and any(patch.bears and patch.bears.card for patch in work.patches):
        raise Refused("a unit with cards in it is given alone")
    complete(making, work)
    runs, corners = round_sides(work, give["sides"], making.seam, folded=True)
    numbers = {}
    for number, run in enumerate(runs):
        for segment in run.segments:
            numbers.setdefault((segment.patch.key, segment.start), set()).add(number)
    patches = []
    for patch in work.patches:
        names = [
            frozenset(numbers.get((patch.key, corner), ())) | {name for name in edge if kept_name(name)}
            for corner, edge in zip(patch.corners, patch.names)
        ]
        patches.append(patch.like(patch.corners, names))
    eyes = Eyes(work, making.marks)
    seams = [eyes.seam(ref) for ref in give.get("seams", [])]
    bearers = {
        side: [number for number, patch in enumerate(patches) if patch.key in run.pieces]
        for side, run in enumerate(runs)
    }
    ends = [(None if run.curved else run.line, [(segment.start, segment.end) for segment in run.segments]) for run in runs]
    return Unit(patches, corners, seams, bearers, stops_of(work), ends, making.seam)


def kept_name(name):
    """Whether a name on an edge says what it is, not which."""
    return name in (FOLD, BOW) or name[0] == SIDE


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


def round_sides(work, sides, seam, folded=False):
    """The sides of a work, which must go once round it; and the corners between them."""
    if len(sides) < 3:
        raise Refused("a work has at least three sides")
    runs = [Run(work, refs, folded).side(f"side {number}") for number, refs in enumerate(sides)]
    for number, run in enumerate(runs):
        if len({FOLD in segment.names for segment in run.segments}) > 1:
            raise Refused(f"side {number} is of folded edges and of raw ones")
    corners, outline = [], []
    for number, run in enumerate(runs):
        before, here = runs[number - 1].segments[-1].end, run.segments[0].start
        outline += [before, here]
        if abs(before - here) > TOLERANCE:
            finished = folds_meet(runs[number - 1].segments[-1], run.segments[0])
            if finished is not None:
                corners.append(finished)
                continue
            if not blunt(runs[number - 1].segments[-1], run.segments[0], seam):
                last, own = end_line(runs[number - 1], -1), end_line(run, 0)
                corner = last.cross(own)
                if not runs[number - 1].curved and not run.curved and stops_in_hollow(work, last, own, seam):
                    corners.append(corner)
                    continue
                # Snipped dog ears of neighbouring pieces may go on to where the two sides' lines cross.
                if not (
                    goes_on(work, last, last.along(before), last.along(corner))
                    and goes_on(work, own, own.along(corner), own.along(here))
                ):
                    raise Refused(f"side {number} begins {show(abs(before - here))} from where the side before it ends")
                here = corner
                outline[-2:] = [corner]
        corners.append(here)
        if run.curved:
            outline += [segment.end for segment in run.segments[:-1]]
    area = sum((outline[i - 1].conjugate() * outline[i]).imag for i in range(len(outline))) / 2
    length = sum(abs(corners[i] - corners[i - 1]) for i in range(len(corners)))
    cloth = sum(patch.area() for patch in work.patches)
    # Folds run on past each other in the allowance.
    basted = any(patch.bears and patch.bears.card for patch in work.patches)
    if abs(area - cloth) > (TOLERANCE + seam if basted else TOLERANCE) * length:
        raise Refused(f"the sides go round {area:.4f} square inches, the work has {cloth:.4f}")
    return runs, corners


def end_line(run, at):
    """The line of a side; of a curve, of its last straight or its first."""
    return Line.through(run.segments[at].start, run.segments[at].end) if run.curved else run.line


def blunt(last, first, seam):
    """Whether, at a bowed edge, one raw edge of a piece leads on from the end of a side to the next: a point cut blunt."""
    before, here = last.end, first.start
    if not (last.bowed or first.bowed) or abs(here - before) > 4 * seam + TOLERANCE:
        return False
    for patch in (last.patch, first.patch):
        for start, end, names in patch.edges():
            if FOLD not in names and abs(end - start) > TOLERANCE:
                line = Line.through(start, end)
                if max(abs(line.left(before)), abs(line.left(here))) > TOLERANCE:
                    continue
                low, high = line.along(before), line.along(here)
                if -TOLERANCE <= low < high <= abs(end - start) + TOLERANCE:
                    return True
    return False


def folds_meet(before, after):
    """Where two sides meet of which one is folded: the finished ends of both; None where they do not agree."""
    if FOLD not in before.names and FOLD not in after.names:
        return None
    one, other = finished_end(before, start=False), finished_end(after, start=True)
    return one if one is not None and other is not None and abs(one - other) <= TOLERANCE else None


def stops_in_hollow(work, before, after, seam):
    """Whether two sides meet in a hollow corner at whose finished place a seam stopped: there the cloth hangs free."""
    if (before.way.conjugate() * after.way).imag >= -1e-6:
        return False
    place = before.moved(seam).cross(after.moved(seam))
    return any(abs(stop - place) <= TOLERANCE for stop in stops_of(work))


def units_differ(one, other, prints):
    """Why two units are not alike, edge for edge and face for face, turning allowed; None when they are."""
    sizes = [(len(unit.corners), len(unit.patches), len(unit.seams)) for unit in (one, other)]
    if sizes[0] != sizes[1]:
        return "they have not the same sides, pieces or seams"
    # By the longest side, straight from where it begins to where it ends.
    lengths = [abs(segments[-1][1] - segments[0][0]) for _, segments in one.sides]
    side = next(i for i, length in enumerate(lengths) if length >= max(lengths) - TOLERANCE)
    (_, segments), (_, others) = one.sides[side], other.sides[side]
    turn = Line.through(others[0][0], others[-1][1]).way / Line.through(segments[0][0], segments[-1][1]).way
    motion = (turn, others[0][0] - turn * segments[0][0], False)
    for ends, others in zip(one.seams, other.seams):
        line = Line.through(*others)
        if max(abs(line.left(go(motion, end))) for end in ends) > TOLERANCE:
            return "a seam lies differently"
    moved = [go(motion, stop) for stop in one.stops]
    for stops, others in ((moved, other.stops), (other.stops, moved)):
        if any(all(abs(stop - each) > TOLERANCE for each in others) for stop in stops):
            return "a seam stops elsewhere"
    # Within the allowance pieces may share it differently, unless a corner is hollow.
    hollow = one.hollow() or other.hollow()
    about = TOLERANCE if hollow else 2 * one.seam + TOLERANCE
    for number, ((_, segments), (_, others)) in enumerate(zip(one.sides, other.sides)):
        if len(segments) != len(others):
            return f"side {number} has not as many edges"
        places = [abs(go(motion, a) - b) for here, there in zip(segments, others) for a, b in zip(here, there)]
        if max(places[0], places[-1]) > TOLERANCE or max(places) > about:
            return f"the edges of side {number} lie {show(max(places))} differently"
    left = list(other.patches)
    for patch in one.patches:
        moved, face = patch.carried(motion), one.face(patch)
        for candidate in left:
            if (candidate.label, candidate.cloth) != (patch.label, patch.cloth):
                continue
            if abs(box_middle(candidate) - box_middle(moved)) > 2 * about:
                continue
            if apart(moved.corners, candidate.corners) > about:
                continue
            if not hollow and not faces_alike([part.carried(motion) for part in face], other.face(candidate)):
                continue
            if not layers_alike(moved, candidate, prints):
                continue
            if same_way(moved.up, candidate.up, prints.get(patch.cloth, "none")):
                left.remove(candidate)
                break
        else:
            return f"piece {patch.label} has no like"
    return None


def layers_alike(one, other, prints):
    """Whether two pieces carry as many pieces stitched down, in the same order, of the same kinds and outlines."""
    ones, others = ([] if patch.bears is None else patch.bears.layers for patch in (one, other))
    return len(ones) == len(others) and all(
        (a.label, a.cloth) == (b.label, b.cloth)
        and apart(a.corners, b.corners) <= TOLERANCE
        and same_way(a.up, b.up, prints.get(a.cloth, "none"))
        for a, b in zip(ones, others)
    )


def faces_alike(ones, others):
    """Whether the parts of two faces agree, each with one."""
    left = list(others)
    for one in ones:
        like = next((other for other in left if apart(one.corners, other.corners) <= TOLERANCE), None)
        if like is None:
            return False
        left.remove(like)
    return not left


def box_middle(patch):
    """The middle of a patch's bounds: near for patches that are near, however many corners they have."""
    wide, high = [corner.real for corner in patch.corners], [corner.imag for corner in patch.corners]
    return complex(min(wide) + max(wide), min(high) + max(high)) / 2
