"""Sewing on foundation paper: pieces spread and laid over printed lines, sewn, opened, and the section cut out."""

from dataclasses import dataclass, field

import shapely

from plane import FOLD, STAY, TOLERANCE, Line, Refused, after, apart, either_way, inches, over_line, show
from rotary import named_along
from sewing import pressed
from stitches import spans
from work import Segment, Work, carry_frames, edge_segments


@dataclass
class Section:
    """One copy of a paper and the cloth sewn to it, as sewn; the piece of area i is that of `keys[i]`."""

    paper: object
    patches: list = field(default_factory=list)
    keys: list = field(default_factory=list)
    frames: dict = field(default_factory=dict)
    seams: dict = field(default_factory=dict)
    bearers: dict = field(default_factory=dict)
    spent: set = field(default_factory=set)

    def next_line(self, number):
        """The next line to be sewn, if that is the one named."""
        following = len(self.keys) - 1
        if isinstance(number, bool) or number != following or not 0 <= following < len(self.paper.lines):
            raise Refused(f"line {number!r} is not the next to be sewn")
        return self.paper.lines[following]

    def in_reach(self, number):
        """From where to where along a line its reach has of it."""
        found = self.paper.reach(number).chord(self.paper.lines[number])
        if found is None:
            raise Refused(f"line {number} does not run through its reach")
        return found[:2]


@dataclass
class OverPaper:
    """A piece, right side down, on a section; where it lies once opened."""

    section: Section
    work: Work
    number: int
    opened: tuple
    name: tuple
    sewn: bool = False


def placed(paper, area, work, along):
    """Where a piece comes to lie, right side up, along its line; it must cover what it must, by a margin."""
    segments = edge_segments(work, along["edge"])
    segment = max(segments, key=Segment.length)
    line = paper.along(area)
    turn = line.way / Line.through(segment.start, segment.end).way
    start = line.place(-either_way(along["beyond"]), -inches(along["past"]))
    motion = (turn, start - turn * segment.start, False)
    margin = inches(along["margin"])
    piece = work.patches[0].carried(motion)
    for start, end, _ in piece.edges():
        edge = Line.through(start, end)
        least = min(edge.left(corner) for corner in paper.wanted(area))
        if least < margin - TOLERANCE:
            only = f"by {show(least)} only, printed {show(margin)}"
            raise Refused(f"piece {piece.label} covers what it must of area {area} {only}")
    return motion


def spread(making, on, piece, along, into):
    section = making.take(on, Section)
    if section.keys:
        raise Refused("the paper is not bare")
    work = making.one_piece(piece)
    motion = placed(section.paper, 0, work, along)
    making.fresh(into)
    making.live[into] = with_piece(section, work, motion, into, (along["edge"]["of"], along["edge"]["edge"]))


def with_piece(section, work, motion, into, name):
    """A section and the piece of its next area, lying right side up."""
    patch = work.patches[0].carried(motion)
    return Section(
        section.paper,
        [*section.patches, patch],
        [*section.keys, patch.key],
        section.frames | carry_frames(work.frames, motion) | {into: STAY},
        dict(section.seams),
        section.bearers | work.bearers,
        section.spent | work.spent | {name},
    )


def pare(making, of, line, past):
    section = making.see(of, Section)
    ruled, by = section.next_line(line), inches(past)
    a_seam(making, by)
    section.patches = [
        rest for rest in (patch.kept(ruled.moved(by), -1) for patch in section.patches) if rest is not None
    ]


def a_seam(making, past):
    if abs(past - making.seam) > 1e-9:
        raise Refused(f"leaves {show(past)} beyond the line, the seam is {show(making.seam)}")


def lay_over(making, a, b, body, into):
    section, work = making.take(a, Section), making.one_piece(b)
    number, along = body["line"], body["along"]
    line, past = section.next_line(number), inches(along["past"])
    a_seam(making, past)
    low, high = section.in_reach(number)
    for patch in section.patches:
        found = patch.chord(line)
        if found and min(found[1], high) - max(found[0], low) > TOLERANCE:
            beyond = max(line.left(corner) for corner in patch.corners)
            if beyond > past + TOLERANCE:
                raise Refused(f"piece {patch.label} lies {show(beyond)} beyond the line: the edges are not level")
    level = line.moved(past - TOLERANCE)
    ends = section.paper.reach(number).chord(level)
    if ends:
        gapless(section.patches, level, *ends[:2], "the allowance behind the line")
    motion = placed(section.paper, number + 1, work, along)
    making.fresh(into)
    making.live[into] = OverPaper(section, work, number, motion, (along["edge"]["of"], along["edge"]["edge"]))


def gapless(patches, line, low, high, what):
    reach = low
    for start, end in spans(patches, line):
        if start <= reach + TOLERANCE:
            reach = max(reach, end)
    if reach < high - TOLERANCE:
        raise Refused(f"{what} has a gap {show(reach - low)} from its start")


def sew_on_paper(making, stack, body, join):
    lying = making.see(stack, OverPaper)
    if lying.sewn:
        raise Refused("is sewn already")
    if join:
        raise Refused("a seam on paper joins no faces")
    section, number = lying.section, lying.number
    paper, line, beyond = section.paper, section.paper.lines[lying.number], inches(body["beyond"])
    from_end, to_end = sorted(line.along(end) for end in paper.ends[number])
    low, high = section.in_reach(number)
    if low < from_end - beyond - TOLERANCE or high > to_end + beyond + TOLERANCE:
        raise Refused(f"stitches {show(beyond)} beyond line {number} do not reach the ends of its seam")
    upper = [patch.carried(after(over_line(line), lying.opened)) for patch in lying.work.patches]
    for patches, what in ((section.patches, "the section"), (upper, "the piece laid over it")):
        gapless(patches, line, low, high, f"the seam, in {what},")
    stretch = line.place(from_end), line.place(to_end)
    for patch in section.patches:
        found = patch.chord(line)
        if found and min(found[1], to_end) - max(found[0], from_end) > TOLERANCE:
            area = paper.areas[section.keys.index(patch.key)]
            off = from_stretch(area, *stretch)
            if off > making.seam + TOLERANCE:
                raise Refused(f"the stitches catch piece {patch.label}, whose area lies {show(off)} off")
    lying.sewn = True
    making.sewn += 1


def from_stretch(corners, start, end):
    """How far an outline lies from a stretch of a line."""
    outline = shapely.Polygon([(c.real, c.imag) for c in corners])
    return outline.distance(shapely.LineString([(start.real, start.imag), (end.real, end.imag)]))


def open_on_paper(making, stack, press, into):
    lying = making.take(stack, OverPaper)
    pressed(press)
    if not lying.sewn:
        raise Refused("is not sewn")
    line = lying.section.paper.lines[lying.number]
    making.fresh(into)
    section = with_piece(lying.section, lying.work, lying.opened, into, lying.name)
    folded = [patch.kept(line, -1, FOLD) for patch in section.patches[:-1]] + [section.patches[-1].kept(line, +1, FOLD)]
    if folded[-1] is None:
        raise Refused("the whole piece is folded under")
    section.patches = [patch for patch in folded if patch is not None]
    section.seams[(into, 0)] = (into, *section.paper.ends[lying.number])
    making.live[into] = section


def levelled(patch, sides, into):
    """The patch, with each raw edge that lay along a side within tolerance already called by that side's name."""
    names = list(patch.names)
    for number, line in enumerate(sides):
        renamed = named_along(patch, line, +1, (into, number))
        for i, name in enumerate(renamed.names):
            if not any(each[0] == into for each in names[i]):
                names[i] = name
    return patch.like(patch.corners, names)


def cut_out(making, of, into):
    section = making.take(of, Section)
    paper = section.paper
    if len(section.keys) != len(paper.areas):
        raise Refused(f"{len(section.keys)} of {len(paper.areas)} areas have their piece")
    making.fresh(into)
    patches, count = section.patches, len(paper.cutting)
    bearers = dict(section.bearers)
    sides = [Line.through(paper.cutting[(number + 1) % count], paper.cutting[number]) for number in range(count)]
    for number, line in enumerate(sides):
        patches = [rest for rest in (patch.kept(line, +1, (into, number)) for patch in patches) if rest is not None]
    # All at once: what one side gave its name, no other takes.
    patches = [levelled(patch, sides, into) for patch in patches]
    for number, line in enumerate(sides):
        name = (into, number)
        level = [
            (line.along(one), line.along(other), patch)
            for patch in patches
            for one, other, names in patch.edges()
            if name in names
        ]
        reach, long = 0.0, abs(paper.cutting[(number + 1) % count] - paper.cutting[number])
        for one, other, _ in sorted(level, key=lambda each: each[:2]):
            if one <= reach + TOLERANCE:
                reach = max(reach, other)
        if reach < long - TOLERANCE:
            raise Refused(f"side {number} of the cutting line has no cloth {show(reach)} from its end")
        bearers[name] = {patch.key for _, _, patch in level} | {section.keys[area] for area in paper.beside(number)}
    shows = {patch.key: patch for patch in patches}
    for number, key in enumerate(section.keys):
        patch = shows.get(key)
        for i, corner in enumerate(paper.outline.corners):
            patch = patch and patch.kept(Line.through(paper.outline.corners[i - 1], corner), +1)
        off = float("inf") if patch is None else apart(patch.corners, paper.areas[number])
        if off > TOLERANCE:
            raise Refused(f"what shows in area {number} differs from it by {show(off)}")
    frames = section.frames | {into: STAY}
    making.live[into] = Work(patches, frames, dict(section.seams), bearers, set(section.spent))
