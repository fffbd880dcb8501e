"""Foundation papers: printed sheets to sew on, their sewing lines, and the areas and reaches that follow from them.

Everything here lies as sewn, which is the print's mirror: cloth on the back, right side up, a printed (right, up) at
(-right, up). A line is directed so that the area it adds lies on its left.
"""

from plane import FINER, TOLERANCE, UNITS, Line, Patch, Refused, convex, off_boundary, show
from templates import place


def as_printed(corner):
    right, up = place(corner)
    return complex(right, up) / FINER / UNITS


def sewn(printed):
    return complex(-printed.real, printed.imag)


def shape(corners):
    """A convex outline as bare cloth, to be cut by lines."""
    return Patch(0, "paper", "", 1j, corners, [frozenset()] * len(corners), 0)


class Paper:
    """One printed sheet."""

    def __init__(self, data, seam):
        self.name, self.seam, self.count = data["name"], seam, data["print"]
        self.where = f"paper {self.name}"
        outline = [as_printed(corner) for corner in data["outline"]]
        cutting = [as_printed(corner) for corner in data["cutting"]]
        ends = [(as_printed(line["from"]), as_printed(line["to"])) for line in data.get("lines", [])]
        if len(outline) < 3 or not convex(outline):
            raise Refused("its outline is not convex", self.where)
        if len(cutting) != len(outline) or not convex(cutting):
            raise Refused("its cutting line does not go round the outline, corner for corner", self.where)
        for i, corner in enumerate(outline):
            onward = (i + 1) % len(outline)
            line = Line.through(corner, outline[onward])
            for each in (cutting[i], cutting[onward]):
                if abs(-line.left(each) - seam) > TOLERANCE:
                    raise Refused(f"its cutting line lies {show(-line.left(each))} outside side {i}, not a seam", self.where)
        for number, (start, end) in enumerate(ends):
            if abs(end - start) <= TOLERANCE:
                raise Refused(f"line {number} is no longer than the tolerance", self.where)
        # As sewn; both outlines with the cloth on their left, so against their own order.
        self.corners, self.cutting = [sewn(corner) for corner in outline], [sewn(corner) for corner in cutting]
        self.ends = [(sewn(start), sewn(end)) for start, end in ends]
        self.lines = [Line.through(end, start) for start, end in self.ends]
        self.outline, self.cut = shape(self.corners[::-1]), shape(self.cutting[::-1])
        self.areas = self.parted()

    def parted(self):
        """The areas, from 0 on; the lines must part the outline from edge to edge."""
        areas, left = [], self.outline
        for number in range(len(self.lines) - 1, -1, -1):
            line = self.lines[number]
            for end in self.ends[number]:
                for later, other in enumerate(self.lines[number + 1 :], number + 1):
                    if other.left(end) > TOLERANCE:
                        raise Refused(f"line {number} ends beyond line {later}", self.where)
                if off_boundary(end, left.corners) > TOLERANCE:
                    raise Refused(f"line {number} does not go from edge to edge", self.where)
            areas.insert(0, left.kept(line, +1))
            left = left.kept(line, -1)
            if left is None:
                raise Refused(f"nothing is left beside line {number}", self.where)
        areas.insert(0, left)
        for number, area in enumerate(areas):
            if area is None or area.width() <= TOLERANCE:
                raise Refused(f"area {number} is a sliver", self.where)
        return [area.corners for area in areas]

    def beside(self, number):
        """The areas that lie along a side of the finished outline."""
        count = len(self.corners)
        start, end = self.corners[(number + 1) % count], self.corners[number]
        line, found = Line.through(start, end), []
        for area, corners in enumerate(self.areas):
            for i, corner in enumerate(corners):
                before = corners[i - 1]
                level = max(abs(line.left(before)), abs(line.left(corner))) <= TOLERANCE
                if level and abs(line.along(corner) - line.along(before)) > TOLERANCE:
                    found.append(area)
        return found

    def reach(self, number):
        """Within it cloth is asked for when line `number` is sewn."""
        reach = self.cut
        for line in self.lines[number + 1 :]:
            reach = reach and reach.kept(line.moved(self.seam), -1)
        if reach is None:
            raise Refused(f"line {number} reaches nothing", self.where)
        return reach

    def wanted(self, area):
        """What the piece of an area must cover."""
        if not self.lines:
            return self.cut.corners
        if area == 0:
            wanted = self.reach(0).kept(self.lines[0].moved(self.seam), -1)
        else:
            wanted = self.reach(area - 1).kept(self.lines[area - 1], +1)
        if wanted is None:
            raise Refused(f"nothing is wanted of area {area}", self.where)
        return wanted.corners

    def along(self, area):
        """The line a piece is placed along, its own area on the left, and where that line starts."""
        if not self.lines:
            start, end = self.corners[1], self.corners[0]
            return Line.through(start, end)
        start, end = self.ends[max(area - 1, 0)]
        return Line.through(start, end) if area == 0 else Line.through(end, start)


def read(papers, seam):
    """Every paper by its name."""
    read = {}
    for data in papers:
        paper = Paper(data, seam)
        if paper.name in read:
            raise Refused("is printed under one name twice", paper.where)
        read[paper.name] = paper
    return read
