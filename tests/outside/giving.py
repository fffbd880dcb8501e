"""What a making gives: units, the sides that go round them, and whether several are alike."""

from cuts import same_way
from plane import FOLD, TOLERANCE, Line, Patch, Refused, apart, go, show
from sewing import stops_of
from work import Eyes, Run, Work


class Unit:
    """A finished unit as later makings know it: patches whose edges are named by the numbers of its sides."""

    def __init__(self, patches, corners, seams, bearers, stops=()):
        self.patches, self.corners, self.seams = patches, corners, seams
        self.bearers = bearers  # side -> numbers of the pieces of its run
        self.stops = stops  # where seams stopped in dots


def give_unit(making, give):
    """A unit for the pool."""
    work = making.take(give["slot"], Work).closed()
    runs, corners = round_sides(work, give["sides"], making.seam)
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
    eyes = Eyes(work, making.marks)
    seams = [eyes.seam(ref) for ref in give.get("seams", [])]
    bearers = {
        side: [number for number, patch in enumerate(patches) if patch.key in run.pieces]
        for side, run in enumerate(runs)
    }
    return Unit(patches, corners, seams, bearers, stops_of(work))


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


def round_sides(work, sides, seam):
    """The sides of a work, which must go once round it; and the corners between them."""
    if len(sides) < 3:
        raise Refused("a work has at least three sides")
    runs = [Run(work, refs).flush(f"side {number}") for number, refs in enumerate(sides)]
    corners, outline = [], []
    for number, run in enumerate(runs):
        last = runs[number - 1].line
        before, here = runs[number - 1].segments[-1].end, run.segments[0].start
        outline += [before, here]
        if abs(before - here) > TOLERANCE:
            corner = last.cross(run.line)
            if stops_in_hollow(work, last, run.line, seam):
                corners.append(corner)
                continue
            # Snipped dog ears of neighbouring pieces may go on to where the two sides' lines cross.
            if not (
                goes_on(work, last, last.along(before), last.along(corner))
                and goes_on(work, run.line, run.line.along(corner), run.line.along(here))
            ):
                raise Refused(f"side {number} begins {show(abs(before - here))} from where the side before it ends")
            here = corner
            outline[-2:] = [corner]
        corners.append(here)
    area = sum((outline[i - 1].conjugate() * outline[i]).imag for i in range(len(outline))) / 2
    length = sum(abs(corners[i] - corners[i - 1]) for i in range(len(corners)))
    cloth = sum(patch.area() for patch in work.patches)
    if abs(area - cloth) > TOLERANCE * length:
        raise Refused(f"the sides go round {area:.4f} square inches, the work has {cloth:.4f}")
    return runs, corners


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
    moved = [go(motion, stop) for stop in one.stops]
    for stops, others in ((moved, other.stops), (other.stops, moved)):
        if any(all(abs(stop - each) > TOLERANCE for each in others) for stop in stops):
            return "a seam stops elsewhere"
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
