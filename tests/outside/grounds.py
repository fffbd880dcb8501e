"""Pieces laid on a ground: printed sheets that show where, stitching down, and what a carrier bears."""

from dataclasses import dataclass, field

import shapely

from borne import Borne, Layer
from cards import without_cards
from hollow import once_round
from papers import as_printed
from plane import TOLERANCE, Line, Refused, after, back, convex, go, inches, off_boundary, show, variant
from work import Run, Work


def polygon(corners):
    return shapely.Polygon([(c.real, c.imag) for c in corners])


# A ground's smallest corner carries what lies on it: left out, what shows there would have a notch.
DUST = 1e-9


def half_round(corners):
    """The tolerance times half an outline's length round: an area no larger is a sliver."""
    return TOLERANCE * sum(abs(corners[i] - corners[i - 1]) for i in range(len(corners))) / 2


def edges_of(corners):
    return [(corners[i], corners[(i + 1) % len(corners)]) for i in range(len(corners))]


def within(place, corners):
    """How far inside an outline a place lies; less than nothing outside."""
    off = off_boundary(place, corners)
    return off if polygon(corners).contains(shapely.Point(place.real, place.imag)) else -off


class Stretch:
    """From one corner of an outline on round to another, both among them."""

    def __init__(self, data, count):
        ends = data["from"], data["to"]
        if any(isinstance(end, bool) or not isinstance(end, int) or not 0 <= end < count for end in ends):
            raise Refused(f"a stretch of corners {ends[0]!r} to {ends[1]!r} is not there")
        if ends[0] == ends[1]:
            raise Refused(f"a stretch begins and ends at corner {ends[0]}: nothing, or all round")
        self.edges = [(ends[0] + step) % count for step in range((ends[1] - ends[0]) % count)]
        self.corners = [*self.edges, ends[1]]


class Shape:
    """One shape of a sheet."""

    def __init__(self, data):
        self.line = [as_printed(corner) for corner in data["line"]]
        if len(self.line) < 3 or not once_round(self.line):
            raise Refused("a shape's line does not go once round with the cloth on its left")
        self.under = [Stretch(each, len(self.line)) for each in data.get("under", [])]
        self.level = [Stretch(each, len(self.line)) for each in data.get("level", [])]
        self.level_corners = {corner for stretch in self.level for corner in stretch.corners}
        self.level_edges = {edge for stretch in self.level for edge in stretch.edges}


class Guide:
    """A printed sheet."""

    def __init__(self, data):
        self.name = data["name"]
        try:
            self.outline = [as_printed(corner) for corner in data["outline"]]
            if len(self.outline) < 3 or not convex(self.outline):
                raise Refused("its outline is not convex")
            self.shapes = [Shape(each) for each in data["shapes"]]
        except Refused as refused:
            refused.where = f"guide {self.name}"
            raise


def read(guides):
    found = {}
    for data in guides:
        guide = Guide(data)
        if guide.name in found:
            raise Refused("two sheets have one name", f"guide {guide.name}")
        found[guide.name] = guide
    return found


@dataclass
class Sheet:
    """A sheet as it lies on a work, in the frame of the slot it was laid on; what is stitched down by it so far."""

    guide: Guide
    slot: int
    motion: tuple
    sides: list  # the lines of the runs round the ground, in the sheet's own frame
    pieces: list = field(default_factory=list)  # of each shape stitched down (line, cut outline, how much is turned), there too


def lay_guide(making, on, guide, sides):
    work = without_cards(making.see(on, Work))
    printed = making.guides.get(guide)
    if printed is None:
        raise Refused(f"no sheet {guide}")
    if guide in making.sheets:
        raise Refused(f"sheet {guide} is laid twice")
    if len(sides) != len(printed.outline):
        raise Refused(f"the sheet has {len(printed.outline)} sides, {len(sides)} are named")
    lines = [Run(work, refs).flush(f"side {number}").line for number, refs in enumerate(sides)]
    inner = [line.moved(making.seam) for line in lines]
    places = [inner[i - 1].cross(inner[i]) for i in range(len(inner))]
    start, end = printed.outline[:2]
    turn = Line.through(*places[:2]).way / Line.through(start, end).way
    motion = (turn, (places[0] + places[1]) / 2 - turn * (start + end) / 2, False)
    for number, (corner, place) in enumerate(zip(printed.outline, places)):
        off = abs(go(motion, corner) - place)
        if off > TOLERANCE:
            raise Refused(f"corner {number} of the sheet lies {show(off)} off")
    home = back(motion)
    lines = [line.carried(home) for line in lines]
    making.sheets[guide] = Sheet(printed, on, after(back(work.frames[on]), motion), lines)


def stitch_down(making, piece, on, guide, shape, edge):
    work = without_cards(making.see(on, Work))
    sheet = making.sheets.get(guide)
    if sheet is None or sheet.slot not in work.frames:
        raise Refused(f"sheet {guide} does not lie on this work")
    if isinstance(shape, bool) or shape != len(sheet.pieces) or shape >= len(sheet.guide.shapes):
        raise Refused(f"shape {shape!r} is not the next of the sheet")
    wanted = sheet.guide.shapes[shape]
    laid = making.one_piece(piece).patches[0]
    line = laid.bears.line if laid.bears else None
    if line is None:
        raise Refused(f"piece {laid.label} has no line to be laid by")
    motion = placing(line, wanted.line)
    line, cut = [go(motion, corner) for corner in line], [go(motion, corner) for corner in laid.corners]
    on_ground(making, sheet, wanted, line)
    turned = edge_of(line, cut, wanted, edge)
    # From here in the work's frame.
    home = after(work.frames[sheet.slot], sheet.motion)
    carried = after(home, motion)
    outline = [go(home, corner) for corner in line]
    shared = [polygon(patch.corners).intersection(polygon(outline)) for patch in work.patches]
    if abs(sum(part.area for part in shared) - polygon(outline).area) > half_round(outline):
        raise Refused(f"piece {laid.label} does not lie on cloth of the ground all over")
    layer = Layer(laid.label, laid.cloth, carried[0] * laid.up, tuple(outline), laid.face)
    work.patches = [
        patch.bearing((patch.bears or Borne()).under(layer)) if part.area > DUST else patch
        for patch, part in zip(work.patches, shared)
    ]
    sheet.pieces.append((line, cut, turned))


def placing(line, wanted):
    """The motion that lays a piece's line on a shape's."""
    if len(line) != len(wanted):
        raise Refused(f"the piece's line has {len(line)} corners, the shape's {len(wanted)}")
    reach = [abs(corner - wanted[0]) for corner in wanted]
    far = next(i for i, each in enumerate(reach) if each >= max(reach) - 1e-9)
    turn = Line.through(wanted[0], wanted[far]).way / Line.through(line[0], line[far]).way
    motion = (turn, wanted[0] - turn * line[0], False)
    for number, (corner, place) in enumerate(zip(line, wanted)):
        off = abs(go(motion, corner) - place)
        if off > TOLERANCE:
            raise Refused(f"corner {number} of the piece's line lies {show(off)} off")
    return motion


def on_ground(making, sheet, shape, line):
    """A piece's line lies a seam inside the ground's sides, or level with one where the sheet says that it is sewn in."""
    looked = [corner for number, corner in enumerate(line) if number not in shape.level_corners]
    for number, (start, end) in enumerate(edges_of(line)):
        if not {number, (number + 1) % len(line)} & shape.level_corners:
            looked.append((start + end) / 2)
    for place in looked:
        short = min(side.left(place) for side in sheet.sides)
        if short < making.seam - TOLERANCE:
            raise Refused(f"the shape lies {show(short)} inside the ground's edge, not a seam")
    for number in sorted(shape.level_corners):
        if all(abs(side.left(line[number])) > TOLERANCE for side in sheet.sides):
            raise Refused(f"corner {number} of the shape is not level with the ground's edge")
    for number in sorted(shape.level_edges):
        ends = edges_of(line)[number]
        if all(max(abs(side.left(end)) for end in ends) > TOLERANCE for side in sheet.sides):
            raise Refused(f"edge {number} of the shape is not level with one side of the ground")


def edge_of(line, cut, shape, edge):
    """What becomes of the piece's edge: how much is turned under, or None."""
    what, body = variant(edge)
    if what == "raw":
        if shape.under:
            raise Refused("a raw edge has no stretch left unturned under another")
        off = max([off_boundary(corner, line) for corner in cut] + [off_boundary(corner, cut) for corner in line])
        if off > TOLERANCE:
            raise Refused(f"the cut edge lies {show(off)} off the line, and is to be left raw")
        return None
    if what != "turned":
        raise Refused(f"an edge {what!r} is not known")
    by = inches(body["by"])
    if by <= TOLERANCE:
        raise Refused(f"only {show(by)} are turned under")
    levels = [Line.through(*edges_of(line)[number]) for number in sorted(shape.level_edges)]
    level_cut = {
        number
        for number, ends in enumerate(edges_of(cut))
        if any(max(abs(level.left(end)) for end in ends) <= TOLERANCE for level in levels)
    }
    count = len(cut)
    left_out = level_cut | {(number + 1) % count for number in level_cut}
    corners = [off_boundary(corner, line) for number, corner in enumerate(cut) if number not in left_out]
    middles = [
        off_boundary((start + end) / 2, line) for number, (start, end) in enumerate(edges_of(cut)) if number not in level_cut
    ]
    least = min(corners + middles, default=by)
    if abs(least - by) > TOLERANCE:
        raise Refused(f"the cut edge lies {show(least)} from the line at the least, {show(by)} are turned under")
    if max(middles, default=0.0) > 2 * by + TOLERANCE:
        raise Refused(f"the cut edge lies {show(max(middles))} from the line, more than twice {show(by)}")
    for number, corner in enumerate(line):
        if number in shape.level_corners:
            if off_boundary(corner, cut) > TOLERANCE:
                raise Refused(f"corner {number} of the line is level, but not on the cut edge")
        elif within(corner, cut) <= 0:
            raise Refused(f"corner {number} of the line lies outside the cut edge")
    return by


# --- when the work is given or finished ----------------------------------------------------------------------------


def complete(making, work):
    """Every shape of every sheet on a work has its piece, and what is left unturned is covered."""
    for name, sheet in making.sheets.items():
        if sheet.slot not in work.frames:
            continue
        if len(sheet.pieces) != len(sheet.guide.shapes):
            raise Refused(f"{len(sheet.pieces)} of the {len(sheet.guide.shapes)} shapes of sheet {name} are stitched down")
        for number, shape in enumerate(sheet.guide.shapes):
            for stretch in shape.under:
                if not any(covers(sheet, number, stretch, later) for later in range(number + 1, len(sheet.pieces))):
                    raise Refused(f"a stretch of shape {number} of sheet {name} is left unturned and lies under no other shape")
    return work


def covers(sheet, number, stretch, later):
    """Whether a shape stitched down later covers what an earlier one has left unturned."""
    line, cut, by = sheet.pieces[number]
    over = sheet.pieces[later][0]
    edges = edges_of(line)
    places = [line[corner] for corner in stretch.corners] + [sum(edges[edge]) / 2 for edge in stretch.edges]
    if any(within(place, over) < by - TOLERANCE or within(place, over) <= 0 for place in places):
        return False
    for corner in cut:
        offs = [off_boundary(corner, list(ends)) for ends in edges]
        nearest = next(i for i, off in enumerate(offs) if off <= min(offs) + 1e-9)
        if nearest in stretch.edges and within(corner, over) <= 0:
            return False
    return True
