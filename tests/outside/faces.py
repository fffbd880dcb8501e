"""The finished top held against its picture: every face, and every piece laid on them."""

import shapely

from cuts import same_way
from plane import TOLERANCE, Refused, apart, narrowest, show

# Faces joined of several meet to this; a piece laid on is whole, though what is cut by a template comes out within its printed grid
# (1/8128 in), so that the pieces that carry it leave cracks between them: what of those is less than twice this wide is closed.
JOINED, LAID = 1e-6, 5e-4

MANY = 1600  # corners times corners: from here on distances are left to the library


class Drawn:
    """Faces as drawn: what is pieced, or what is laid on it."""

    def __init__(self, faces):
        self.faces = [([complex(p["x"], p["y"]) for p in face["outline"]], face) for face in faces]
        shapes = [polygon(corners) for corners, _ in self.faces]
        self.areas = [shape.area for shape in shapes]
        self.tree = shapely.STRtree(shapes)


class Picture:
    """The finished top as drawn."""

    def __init__(self, data):
        self.outer = [complex(p["x"], p["y"]) for p in data["outer"]]
        self.pieced, self.laid = Drawn(data["faces"]), Drawn(data.get("laid", []))


def polygon(corners):
    return shapely.Polygon([(c.real, c.imag) for c in corners])


def differ(one, other):
    """Corner to boundary, both ways: the largest distance."""
    if len(one) * len(other) < MANY:
        return apart(one, other)
    off = 0.0
    for corners, outline in ((one, other), (other, one)):
        ring = polygon(outline).exterior
        off = max(off, float(shapely.distance(shapely.points([(c.real, c.imag) for c in corners]), ring).max()))
    return off


class Comparison:
    """Of one top with the picture; `largest` is the largest difference seen."""

    def __init__(self, picture):
        self.picture = picture
        self.largest = 0.0

    def compare(self, patches, outline):
        """The finished top against the picture, corner to boundary both ways."""
        picture = self.picture
        low = complex(min(c.real for c in outline), min(c.imag for c in outline))
        want = complex(min(c.real for c in picture.outer), min(c.imag for c in picture.outer))
        self.move = want - low
        outline = [corner + self.move for corner in outline]
        off = differ(outline, picture.outer)
        self.largest = max(self.largest, off)
        if off > TOLERANCE:
            raise Refused(f"the finished outline differs from the picture by {show(off)}", "top")
        self.frame = polygon(outline)
        shapely.prepare(self.frame)
        made = {}
        for patch in patches:
            made.setdefault(patch.face, []).append(patch)
        groups = [[(patch, polygon(self.moved(patch.corners))) for patch in group] for group in made.values()]
        self.all_found(groups, picture.pieced, JOINED)
        self.laid(patches)

    def moved(self, corners):
        return [corner + self.move for corner in corners]

    def all_found(self, groups, drawn, crack):
        """Every face agrees with one of the drawn, each with another, none is missing; which, by the number of its group."""
        found = {}
        for number, group in enumerate(groups):
            first = group[0][0]
            corners, area = self.face(first.label, [shape for _, shape in group], crack)
            if corners is None:
                continue
            where = f"top, face of piece {first.label}"
            middle = polygon(corners).representative_point()
            near = self.best(corners, middle, drawn, first.cloth, found)
            if near is None:
                raise Refused(f"lies at {middle.x:.3f}, {middle.y:.3f} where the picture has no face", where)
            off, index = near
            if index in found:
                raise Refused(f"two faces lie where the picture has one, at {middle.x:.3f}, {middle.y:.3f}", where)
            found[index] = number
            self.largest = max(self.largest, off)
            around = sum(abs(corners[i] - corners[i - 1]) for i in range(len(corners)))
            if off > TOLERANCE or abs(area - drawn.areas[index]) > TOLERANCE * around:
                raise Refused(f"differs from the picture by {show(off)} at {middle.x:.3f}, {middle.y:.3f}", where)
            wanted = drawn.faces[index][1]
            if wanted["fabric"] != first.cloth:
                raise Refused(
                    f"is {first.cloth}, the picture has {wanted['fabric']}, at {middle.x:.3f}, {middle.y:.3f}", where
                )
            up = wanted.get("up")
            if up is not None:
                toward = complex(up["toward"]["x"], up["toward"]["y"])
                toward /= abs(toward)
                if not all(same_way(each.up, toward, "two-way" if up["two_way"] else "one-way") for each, _ in group):
                    raise Refused(f"its print does not point up as wanted, at {middle.x:.3f}, {middle.y:.3f}", where)
        if len(found) != len(drawn.faces):
            raise Refused(f"{len(drawn.faces) - len(found)} faces of the picture are missing", "top")
        return {number: index for index, number in found.items()}

    def face(self, label, shapes, crack):
        """A face's outline within the finished outline, and its area."""
        if len(shapes) > 1:
            grown = [shape.buffer(crack, join_style="mitre") for shape in shapes]
            shape = shapely.union_all(grown).buffer(-crack, join_style="mitre")
        else:
            shape = shapes[0]
        if not self.frame.contains_properly(shape):
            shape = shape.intersection(self.frame)
        if shape.geom_type in ("GeometryCollection", "MultiPolygon"):
            parts = [part for part in shape.geoms if part.geom_type == "Polygon" and part.area > 1e-6]
            if len(parts) > 1:
                raise Refused("is in more than one part", f"top, face of piece {label}")
            shape = parts[0] if parts else shapely.Polygon()
        if shape.is_empty or shape.area < 1e-6 or shape.geom_type != "Polygon":
            return None, 0.0
        if any(polygon_area(hole) > 1e-6 for hole in shape.interiors):
            raise Refused("has a hole", f"top, face of piece {label}")
        corners = [complex(x, y) for x, y in shape.exterior.coords[:-1]]
        if narrowest(corners) <= TOLERANCE:
            return None, 0.0
        return corners, shape.area

    def best(self, corners, middle, drawn, cloth, found):
        """(difference, index) of the drawn face that fits best where this one lies; of several alike one of its own cloth."""
        candidates = drawn.tree.query(middle, predicate="intersects")
        fits = sorted((differ(corners, drawn.faces[i][0]), int(i)) for i in candidates)
        for off, index in fits if len(fits) > 1 else ():
            if off <= TOLERANCE and index not in found and drawn.faces[index][1]["fabric"] == cloth:
                return off, index
        return fits[0] if fits else None

    # --- what is laid on ------------------------------------------------------------------------------------------

    def laid(self, patches):
        """Every piece laid on, by what shows of it on what is left of its carriers; the one above is the later drawn."""
        groups, orders = {}, []
        for patch in patches:
            layers = patch.bears.layers if patch.bears else ()
            carrier = polygon(self.moved(patch.corners)) if layers else None
            order = []
            for layer in layers:
                outline = polygon(self.moved(layer.corners))
                shows = outline if carrier.contains(outline) else outline.intersection(carrier)
                groups.setdefault(layer.face, []).extend((layer, part) for part in polygons(shows))
                order.append(layer.face)
            orders.append(order)
        groups = {face: group for face, group in groups.items() if group}
        numbers = {face: number for number, face in enumerate(groups)}
        places = self.all_found(list(groups.values()), self.picture.laid, LAID)
        wholes = {face: shapely.union_all([part for _, part in group]) for face, group in groups.items()}
        for order in orders:
            seen = [face for face in order if numbers.get(face) in places]
            for above, upper in enumerate(seen):
                for lower in seen[:above]:
                    over, under = wholes[upper], wholes[lower]
                    if over.intersection(under).area <= TOLERANCE * min(over.length, under.length) / 2:
                        continue
                    if places[numbers[upper]] < places[numbers[lower]]:
                        raise Refused("two pieces laid on one another lie the other way about in the picture", "top")


def polygons(shape):
    """The polygons of what two shapes share."""
    parts = shape.geoms if hasattr(shape, "geoms") else [shape]
    return [part for part in parts if part.geom_type == "Polygon" and not part.is_empty]


def polygon_area(ring):
    return shapely.Polygon(ring).area
