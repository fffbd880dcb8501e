"""Printed templates: the outline a piece is cut by, its bowed edges, its dots, and the line of a piece laid on a ground."""

from plane import BOW, Refused, printed


def place(corner):
    """A printed place, in whole 1/8 128 000 in."""
    return printed(corner["right"]), printed(corner["up"])


class Template:
    """One template: `outline` is (place, names of the edge that begins or goes on there)."""

    def __init__(self, data):
        self.name = data["name"]
        corners = [place(corner) for corner in data["corners"]]
        bows = {}
        for bow in data.get("bows", []):
            edge, through = bow["edge"], [place(each) for each in bow["through"]]
            if isinstance(edge, bool) or not isinstance(edge, int) or not 0 <= edge < len(corners):
                raise Refused(f"has no edge {edge!r} to bow", f"template {self.name}")
            if edge in bows or not through:
                raise Refused(f"edge {edge} is bowed twice, or through nothing", f"template {self.name}")
            bows[edge] = through
        self.outline = []
        for edge, corner in enumerate(corners):
            names = frozenset([edge, BOW]) if edge in bows else frozenset([edge])
            self.outline += [(each, names) for each in (corner, *bows.get(edge, []))]
        self.bowed = bool(bows)
        self.marks = [place(mark) for mark in data.get("marks", [])]
        self.line, self.from_back = None, False
        applique = data.get("applique")
        if applique is not None:
            self.line, self.from_back = [place(each) for each in applique["line"]], applique.get("from_back", False)
            if len(self.line) < 3 or len(self.outline) < 3:
                raise Refused("its line and its cut outline have three corners at least", f"template {self.name}")
            if not isinstance(self.from_back, bool):
                raise Refused("is laid on the back or not", f"template {self.name}")
        rights, ups = ([each[0][axis] for each in self.outline] for axis in (0, 1))
        self.low, self.high = (min(rights), min(ups)), (max(rights), max(ups))

    def box(self):
        return self.high[0] - self.low[0], self.high[1] - self.low[1]

    def on_cloth(self, where):
        """A printed place as it lies on the cloth, right side up, from the box's lower left corner."""
        right = self.high[0] - where[0] if self.from_back else where[0] - self.low[0]
        return right, where[1] - self.low[1]
