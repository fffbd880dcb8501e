"""The rotary cutter on the table: cutting sewn stacks apart, snipping dog ears, trimming, and sub-cutting."""

from dataclasses import replace

from folding import INNER
from pinned import Pinned
from plane import BREATH, FOLD, STAY, TOLERANCE, Refused, inches, show
from stitches import spans, whole_pieces
from work import Eyes, Run, Stack, Work, edge_segments, refuse_begun, segments_line


def cut_apart(making, stack, line, keep, offcut):
    work = making.take(stack, Stack)
    refuse_begun(work)
    if work.leg:
        raise Refused("a stack that was turned is not cut apart")
    if isinstance(work.laid, Pinned):
        raise Refused("a stack laid curve on curve is not cut apart")
    if any("at" in path.stops for path in work.paths):
        raise Refused("a stack whose seam is begun only is not cut apart")
    eyes = Eyes(work, making.marks)
    cut = eyes.ruler(line)
    sides = {}
    for kept in keep:
        side = side_of(cut, eyes.corner(kept["corner"]))
        if side in sides:
            raise Refused("one side of the cut is named twice")
        sides[side] = kept["into"]
    for corner in offcut:
        side = side_of(cut, eyes.corner(corner))
        if sides.get(side, None) is not None:
            raise Refused("a side of the cut is both kept and thrown away")
        sides[side] = None
    if len(sides) != 2:
        raise Refused("nothing is said of one side of the cut")
    for side, into in sides.items():
        if into is None:
            continue
        paths = [left for left in (left_of(path, cut, side, making.seam) for path in work.paths) if left]
        if not paths:
            raise Refused("a side that is kept has no stitches")
        # The cut's raw edges: 0 of the lower layer, 1 of the upper.
        names = (into, 0), (into, 1)
        halves = [
            [half for half in (patch.kept(cut, side, name) for patch in layer) if half]
            for layer, name in ((work.lower, names[0]), (work.upper, names[1]))
        ]
        # A piece cut in two is two faces, should both halves come together again in one unit.
        halves = [[on_its_own(patch, into) for patch in half] for half in halves]
        if not all(halves):
            raise Refused("a side that is kept has cloth in one layer only")
        bearers = dict(work.bearers)
        for half, name in zip(halves, names):
            bearers[name] = {patch.key for patch in half for edge in patch.names if name in edge}
        frames = dict(work.frames)
        frames[making.fresh(into)] = STAY
        making.live[into] = Stack(
            *halves, frames, dict(work.seams), set(work.upper_slots), bearers, work.spent, paths,
            over=work.over, stops=list(work.stops), upper_keys=work.upper_keys,
        )  # fmt: skip


def on_its_own(patch, into):
    """The same cloth as a face of its own, on one side of a cut."""
    return patch.owned(into, patch.key, patch.names)


def left_of(path, cut, side, seam):
    """What a cut leaves of a path on one side; None when nothing holds there."""
    start, end, stops = path.start, path.end, list(path.stops)
    off = [side * cut.left(path.line.place(along)) for along in (start, end)]
    if max(map(abs, off)) <= TOLERANCE:
        raise Refused("the cut runs along the stitches")
    if max(off) <= TOLERANCE:
        return None
    if min(off) < -TOLERANCE:
        crossing = start + (end - start) * off[0] / (off[0] - off[1])
        at = 0 if off[0] < 0 else 1
        start, end = (crossing, end) if at == 0 else (start, crossing)
        stops[at] = "raw"
        if end - start <= 2 * seam + TOLERANCE:
            return None  # it comes loose
    path = replace(path, start=start, end=end, stops=tuple(stops))
    if max(abs(each - seam) for each in off) > TOLERANCE:
        return path
    # Beside the cut it lies with its body away from it, and every piece may lose cloth to it.
    away = 1 if path.line.left(cut.place(cut.along(path.line.place(start)))) < 0 else -1
    return replace(path, body=away, loses=None)


def side_of(line, place):
    if abs(line.left(place)) <= TOLERANCE:
        raise Refused("the corner that names a side of the cut lies on the cut")
    return 1 if line.left(place) > 0 else -1


def snip(making, of, along):
    work = making.see(of, Work)
    for ref in along:
        segments = edge_segments(work, ref, bowed=True)
        if any(segment.bowed for segment in segments):
            # A bowed edge along its first straight, where it begins, and along its last, where it ends.
            first, last = segments[0], segments[-1]
            for segment, end in ((first, first.start), (last, last.end)):
                snip_along(making, work, segments_line([segment]), [end])
        else:
            snip_along(making, work, segments_line(segments), [at for each in segments for at in (each.start, each.end)])


def snip_along(making, work, line, ends):
    """Off with what lies beyond a line near one of these ends."""
    snipped = []
    for parts in whole_pieces(work.patches):
        inside = max(line.left(corner) for part in parts for corner in part.corners) > TOLERANCE
        if not inside or any(lies_along(part, line) for part in parts):
            snipped += parts
            continue
        ears = [ear for part in parts for ear in part.parts(line, -1)]
        corners = [corner for ear in ears for corner in ear.corners]
        # Further off it is other cloth, round a hollow.
        near = any(max(abs(corner - end) for corner in corners) <= 8 * making.seam + TOLERANCE for end in ends if corners)
        snipped += [rest for rest in (part.kept(line, +1) for part in parts) if rest] if near else parts
    work.patches = snipped


def sub_cut(making, of, first, toward, width, into):
    """A work cut right across into lengths, each of all its pieces."""
    work = making.take(of, Work).closed()
    eyes = Eyes(work, making.marks)
    line, by = eyes.ruler(first), inches(width)
    side = side_of(line, eyes.corner(toward))
    if by <= TOLERANCE or not into:
        raise Refused("no lengths are cut")
    lines = [line.moved(side * by * number) for number in range(len(into) + 1)]
    for number, cut in enumerate(lines):
        # A line may lie on the cloth's end, within tolerance: looked at a little inside the length it bounds.
        looked = cut.moved(2 * TOLERANCE * side * (-1 if number else 1))
        if len(spans(work.patches, looked)) != 1:
            raise Refused(f"line {number + 1} does not run through cloth without a gap")
        for parts in whole_pieces(work.patches):
            lefts = [cut.left(corner) for part in parts for corner in part.corners]
            short = max(min(lefts), -max(lefts))
            if short > TOLERANCE:
                raise Refused(f"piece {parts[0].label} ends {show(short)} from line {number + 1}")
    whole = by * len(into)
    for patch in work.patches:
        for corner in corners_of(patch):
            past = side * line.left(corner)
            if TOLERANCE < past < whole - TOLERANCE:
                raise Refused(f"piece {patch.label} ends {show(past)} past the first line, within a length")
    for slot, near, far in zip(into, lines, lines[1:]):
        making.live[slot] = length_of(work, making.fresh(slot), ((near, side, 0), (far, -side, 1)))


def corners_of(patch):
    """The corners at which an outline turns, not those in the middle of a straight edge."""
    corners, count = patch.corners, len(patch.corners)
    for i, corner in enumerate(corners):
        chord = corners[(i + 1) % count] - corners[i - 1]
        if abs(chord) < BREATH or abs(((corner - corners[i - 1]) * chord.conjugate()).imag) > BREATH * abs(chord):
            yield corner


def length_of(work, slot, cuts):
    """What lies between two cuts: pieces of their own, that are found by the old names and the two new ones."""
    patches = work.patches
    for line, side, number in cuts:
        name = (slot, number)
        kept = (patch.kept(line, side, name) for patch in patches)
        patches = [named_along(patch, line, side, name) for patch in kept if patch]
    own = [patch.owned(slot, (slot, patch.key), patch.names) for patch in patches]
    if not own:
        raise Refused("a length has no cloth")
    bearers = {name: {(slot, key) for key in keys} for name, keys in work.bearers.items()}
    for number in (0, 1):
        bearers[(slot, number)] = {patch.key for patch in own for names in patch.names if (slot, number) in names}
    return Work(own, work.frames | {slot: STAY}, dict(work.seams), bearers, set(work.spent), list(work.stops))


def trim(making, of, lines, into):
    work = making.take(of, Work)
    making.fresh(into)
    for number, line in enumerate(lines):
        try:
            trim_line(making, work, line, (into, number))
        except Refused as refused:
            refused.where = f"line {number + 1}"
            raise
    work.frames[into] = STAY
    making.live[into] = work


def trim_line(making, work, trim, name):
    line = Eyes(work, making.marks).ruler(trim["ruler"])
    off, shave = Run(work, trim["off"]), inches(trim["shave"])
    told = [(segment.patch.key, segment.start, segment.end) for segment in off.segments]
    if len(set(told)) < len(told):
        raise Refused("is told twice what comes off of one edge")
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


def named_along(patch, line, side, name):
    """The patch, with each raw edge that lies along a trim's line called by the trim's name and no other."""
    names = list(patch.names)
    for i, (start, end, old) in enumerate(patch.edges()):
        level = max(abs(line.left(start)), abs(line.left(end))) <= TOLERANCE
        ahead = (
            side * ((end - start) * line.way.conjugate()).real
        )  # with the cloth on the left, as the trimmed work has it
        if level and ahead > 0.9 * abs(end - start) and FOLD not in old and INNER not in old:
            names[i] = frozenset([name])
    return patch.like(patch.corners, names)


def lies_along(patch, line):
    """Whether the patch has an edge along a line."""
    return any(
        max(abs(line.left(start)), abs(line.left(end))) <= TOLERANCE < abs(end - start)
        for start, end, names in patch.edges()
        if INNER not in names
    )


